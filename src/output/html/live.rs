//! The page of a preview: the sheet as last drawn, and beside it the recipe's lines with what is said of them.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::sync::Arc;

use crate::finding::{Finding, Label, Severity};
use crate::source::{FileId, LineIndex, SourceFile};

use super::write::escaped;
use super::{Beside, Drawn, document};

/// Most lines of one file that are shown; no recipe written by hand comes near.
const LINES_SHOWN: usize = 4000;

/// A recipe as it stands now.
#[derive(Debug, Clone, Copy)]
pub struct Live<'a> {
    /// Rises with each change.
    pub version: u64,
    /// What the recipe is called.
    pub name: &'a str,
    /// The recipe first, then the files that it uses.
    pub files: &'a [Arc<SourceFile>],
    /// What is said of them.
    pub findings: &'a [Finding],
    /// Why there is no picture of this text, if there is none; a sentence.
    pub trouble: Option<&'a str>,
}

/// The whole page: the sheet as last `drawn`, if ever, with a banner when it is not of this text.
#[must_use]
pub fn live_page(drawn: Option<&Drawn>, live: &Live<'_>) -> String {
    let nothing = Drawn {
        title: live.name.to_owned(),
        contents: String::new(),
        main: format!(
            "<main id=\"sheet\" tabindex=\"-1\" data-drawn=\"\">\n<h1>{}</h1>\n\
             <p class=\"subtitle\">Nothing is drawn yet.</p>\n</main>\n",
            escaped(live.name)
        ),
    };
    let mut banner = String::new();
    if let Some(trouble) = live.trouble {
        let _ = write!(banner, "<p class=\"older\"><strong>{}</strong>", escaped(trouble));
        if drawn.is_some() {
            banner.push_str(" The sheet is of an earlier text.");
        }
        banner.push_str("</p>");
    }
    let beside = Beside { version: live.version, banner, panel: panel(live) };
    document(drawn.unwrap_or(&nothing), Some(&beside))
}

fn panel(live: &Live<'_>) -> String {
    let mut html = String::from("<aside id=\"recipe\" aria-labelledby=\"recipe-heading\">\n");
    let _ = writeln!(
        html,
        "<h2 id=\"recipe-heading\">{}</h2>\n<p class=\"state\" id=\"state\" role=\"status\">drawn anew at each save</p>",
        escaped(live.name)
    );
    // Of a text that could not be read nothing was looked for.
    if !live.files.is_empty() {
        let _ = writeln!(html, "<p class=\"tally\">{}</p>", tally(live.findings));
    }
    let lines: BTreeMap<FileId, LineIndex> =
        live.files.iter().map(|file| (file.id, LineIndex::new(&file.text))).collect();
    // Where each finding stands: file and line from 0.
    let mut beside: BTreeMap<(FileId, usize), Vec<&Finding>> = BTreeMap::new();
    for finding in live.findings {
        let span = finding.place.span;
        let line = lines.get(&span.file).map_or(0, |index| index.line(span.start));
        beside.entry((span.file, line)).or_default().push(finding);
    }
    if !live.findings.is_empty() {
        html.push_str("<ol class=\"findings\">\n");
        for ((file, line), findings) in &beside {
            for finding in findings {
                let _ = writeln!(
                    html,
                    "<li class=\"{}\"><a href=\"#line-{}-{}\">{}{}</a> {}</li>",
                    finding.severity().word(),
                    file.0,
                    line + 1,
                    named(live, *file),
                    line + 1,
                    escaped(&finding.message)
                );
            }
        }
        html.push_str("</ol>\n");
    }
    for file in live.files {
        text(&mut html, live, file, &lines, &beside);
    }
    html.push_str("</aside>\n");
    html
}

/// `shop.vessel:` where the finding is not in the recipe itself.
fn named(live: &Live<'_>, file: FileId) -> String {
    if live.files.first().is_some_and(|root| root.id == file) {
        return "line ".to_owned();
    }
    live.files
        .iter()
        .find(|other| other.id == file)
        .map_or_else(String::new, |file| format!("{}:", escaped(&file.name)))
}

fn tally(findings: &[Finding]) -> String {
    let count = |severity: Severity| findings.iter().filter(|finding| finding.severity() == severity).count();
    let told: Vec<String> = [(Severity::Error, "error"), (Severity::Warning, "warning"), (Severity::Note, "note")]
        .into_iter()
        .map(|(severity, word)| (count(severity), word))
        .filter(|(number, _)| *number > 0)
        .map(|(number, word)| format!("{number} {word}{}", if number == 1 { "" } else { "s" }))
        .collect();
    if told.is_empty() { "No findings".to_owned() } else { told.join(", ") }
}

fn text(
    html: &mut String,
    live: &Live<'_>,
    file: &SourceFile,
    lines: &BTreeMap<FileId, LineIndex>,
    beside: &BTreeMap<(FileId, usize), Vec<&Finding>>,
) {
    let _ = writeln!(
        html,
        "<h3>{}</h3>\n<div class=\"source\" tabindex=\"0\" role=\"region\" aria-label=\"Text of {0}\"><ol>",
        escaped(&file.name)
    );
    let all = file.text.trim_start_matches('\u{feff}').lines();
    for (at, line) in all.enumerate().take(LINES_SHOWN) {
        let said = beside.get(&(file.id, at)).map_or(&[][..], Vec::as_slice);
        let worst = said.iter().map(|finding| finding.severity()).max();
        let class = worst.map_or_else(String::new, |worst| format!(" class=\"{}\"", worst.word()));
        let _ = write!(html, "<li id=\"line-{}-{}\"{class}><code>{}</code>", file.id.0, at + 1, escaped(line));
        for finding in said {
            told(html, live, finding, lines);
        }
        html.push_str("</li>\n");
    }
    html.push_str("</ol></div>\n");
    if file.text.lines().count() > LINES_SHOWN {
        let _ = writeln!(html, "<p class=\"hint\">Only the first {LINES_SHOWN} lines are shown.</p>");
    }
}

/// One finding below its line.
fn told(html: &mut String, live: &Live<'_>, finding: &Finding, lines: &BTreeMap<FileId, LineIndex>) {
    let word = finding.severity().word();
    let _ = write!(
        html,
        "<div class=\"finding {word}\"><p><strong>{word}</strong> <span class=\"code\">{}</span><br>{}</p>",
        escaped(finding.code.name),
        escaped(&finding.message)
    );
    if !finding.place.message.is_empty() {
        let _ = write!(html, "<p>Here: {}</p>", escaped(&finding.place.message));
    }
    for Label { span, message } in &finding.related {
        let line = lines.get(&span.file).map_or(0, |index| index.line(span.start)) + 1;
        let place = format!("<a href=\"#line-{}-{line}\">{}{line}</a>", span.file.0, named(live, span.file));
        let _ = write!(html, "<p>{place}: {}</p>", escaped(message));
    }
    if let Some(help) = &finding.help {
        let _ = write!(html, "<p class=\"help\">{}</p>", escaped(help));
    }
    if let Some(fix) = &finding.fix {
        let _ = write!(html, "<p class=\"help\">It can be mended: {}</p>", escaped(&fix.title));
    }
    html.push_str("</div>");
}
