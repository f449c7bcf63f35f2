//! The shop sheet as one HTML file: everything in it, nothing fetched, also with the model in space.
//!
//! The page works without its script: all words, tables and figures are there. The script adds what a paper cannot do:
//! boxes that stay ticked, the view in space, dark and light.

mod blocks;
mod live;
#[cfg(test)]
mod tests;
mod write;

use std::fmt::Write as _;

use sha2::{Digest, Sha256};

use super::picture::Picture;
use super::shop_sheet::ShopSheet;

pub use live::{Live, live_page};

use write::{base64, escaped};

const STYLE: &str = include_str!("sheet.css");
const SCRIPT: &str = concat!(include_str!("sheet.js"), include_str!("view.js"), include_str!("live.js"));

/// What a page is made of.
#[derive(Clone, Copy)]
pub(super) struct Contents<'a> {
    /// What it says.
    pub sheet: &'a ShopSheet,
    /// The model as binary glTF, one named node a piece; without it the page has no view in space.
    pub model: Option<&'a [u8]>,
    /// Draws a picture as an SVG element whose names begin with the given word.
    pub figure: &'a dyn Fn(&Picture, &str) -> String,
}

/// The part of a page that is made of a design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawn {
    title: String,
    /// Links to the chapters.
    contents: String,
    /// The element `main`.
    main: String,
}

impl Drawn {
    pub(super) fn new(contents: &Contents<'_>) -> Self {
        let sheet = contents.sheet;
        let mut links = String::new();
        for chapter in &sheet.chapters {
            let _ = write!(links, "<li><a href=\"#{}\">{}</a></li>", escaped(chapter.name), escaped(&chapter.heading));
        }
        let inner = blocks::chapters(contents);
        let model = contents.model.map_or_else(String::new, |model| {
            // Letters, digits, plus, slash and equals sign alone: nothing that could end the element.
            format!("<script type=\"text/plain\" id=\"model\">{}</script>\n", base64(model))
        });
        let mut main = format!(
            "<main id=\"sheet\" tabindex=\"-1\" data-key=\"{}\" data-drawn=\"{}\">\n",
            key(sheet),
            short_hash([inner.as_str(), &model])
        );
        let _ = writeln!(main, "<h1>{}</h1>", escaped(&sheet.title));
        if !sheet.subtitle.is_empty() {
            let _ = writeln!(main, "<p class=\"subtitle\">{}</p>", escaped(&sheet.subtitle));
        }
        main.push_str(&inner);
        main.push_str(&model);
        main.push_str("</main>\n");
        Self { title: sheet.title.clone(), contents: links, main }
    }
}

/// The whole page of a design.
pub(super) fn page(contents: &Contents<'_>) -> String {
    document(&Drawn::new(contents), None)
}

/// What a preview adds to a page.
struct Beside {
    version: u64,
    banner: String,
    panel: String,
}

fn document(drawn: &Drawn, beside: Option<&Beside>) -> String {
    let style = hash_of(STYLE);
    let script = hash_of(SCRIPT);
    let connect = if beside.is_some() { " connect-src 'self';" } else { "" };
    let version = beside.map_or_else(String::new, |beside| format!(" data-version=\"{}\"", beside.version));
    let title = if drawn.title.is_empty() { "Shop sheet".to_owned() } else { escaped(&drawn.title) };
    let mut page = format!(
        "<!DOCTYPE html>\n<html lang=\"en\"{version}>\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src '{script}'; \
         style-src '{style}'; img-src data:;{connect} base-uri 'none'; form-action 'none'\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n\
         <meta name=\"referrer\" content=\"no-referrer\">\n\
         <link rel=\"icon\" href=\"data:,\">\n\
         <title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n\
         <a class=\"skip\" href=\"#sheet\">To the sheet</a>\n"
    );
    let _ = writeln!(
        page,
        "<header class=\"top\"><nav aria-label=\"Chapters\"><ul>{}</ul></nav>\
         <div class=\"tools\"><button type=\"button\" id=\"reset\" hidden>Clear ticks</button>\
         <button type=\"button\" id=\"theme\" hidden>Dark or light</button></div></header>",
        drawn.contents
    );
    if let Some(beside) = beside {
        let _ = write!(page, "<div id=\"banner\" role=\"status\">{}</div>\n<div class=\"beside\">\n", beside.banner);
        page.push_str(&beside.panel);
    }
    page.push_str(&drawn.main);
    if beside.is_some() {
        page.push_str("</div>\n");
    }
    let _ = write!(page, "<script>{SCRIPT}</script>\n</body>\n</html>\n");
    page
}

/// What the ticks of a sheet are kept under: another when anything changes that could be ticked.
fn key(sheet: &ShopSheet) -> String {
    use super::shop_sheet::Block;
    let mut words: Vec<&str> = vec![&sheet.title];
    for block in sheet.chapters.iter().flat_map(|chapter| &chapter.blocks) {
        if let Block::Table(table) = block {
            words.push(table.name);
            for row in &table.rows {
                words.push(&row.name);
                words.extend(row.cells.iter().map(String::as_str));
            }
        }
    }
    short_hash(words)
}

/// 16 hexadecimal digits.
fn short_hash<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let mut hasher = Sha256::new();
    for word in words {
        // With its length, so that no two lists of words run together to the same bytes.
        hasher.update((word.len() as u64).to_le_bytes());
        hasher.update(word);
    }
    hasher.finalize().iter().take(8).fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// A source of the content security policy: this very text and no other.
fn hash_of(text: &str) -> String {
    format!("sha256-{}", base64(&Sha256::digest(text)))
}
