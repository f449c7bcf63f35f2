//! Chapters and what is in them, as elements.

use std::fmt::Write as _;

use super::super::picture::Picture;
use super::super::shop_sheet::{Block, Chapter, Row, Table};
use super::Contents;
use super::write::{escaped, id, words};

/// The controls of the view in space. They appear when the script finds that it can draw.
const VIEW: &str = r#"<section id="view" class="view" aria-labelledby="view-heading">
<h2 id="view-heading">In space</h2>
<p id="view-flat">The view in space needs a browser with WebGL and scripts. The elevation shows the same vessel from the front.</p>
<div id="view-box" hidden>
<canvas id="view-canvas" tabindex="0" role="img" aria-label="The vessel in space. Arrow keys turn it, plus and minus zoom, 0 sets it back." aria-describedby="view-hint"></canvas>
<div class="controls">
<label class="slider"><span>Pull apart</span><input type="range" id="view-explode" min="0" max="100" value="0"></label>
<button type="button" id="view-section" aria-pressed="false">Section</button>
<button type="button" id="view-lid" aria-pressed="false" hidden>Hide the lid</button>
<button type="button" id="view-home">Set back</button>
<label class="choice"><span>Layer</span> <select id="view-layer"><option value="">none</option></select></label>
</div>
<p id="view-hint" class="hint">Drag to turn, pinch to zoom (with a mouse: click it, then the wheel), tap a piece to find its row.</p>
<div id="view-told" class="told" role="status" aria-live="polite"></div>
</div>
</section>
"#;

/// All chapters of a sheet, with the view in space behind the heading of the first.
pub(super) fn chapters(contents: &Contents<'_>) -> String {
    let mut writer =
        Writer { contents, html: String::new(), figures: 0, tables: 0, has_view: contents.model.is_some() };
    for chapter in &contents.sheet.chapters {
        writer.chapter(chapter);
    }
    if writer.has_view {
        writer.html.push_str(VIEW);
    }
    writer.html
}

struct Writer<'a> {
    contents: &'a Contents<'a>,
    html: String,
    figures: usize,
    tables: usize,
    /// Whether the view is still to be placed.
    has_view: bool,
}

impl Writer<'_> {
    fn chapter(&mut self, chapter: &Chapter) {
        let name = escaped(chapter.name);
        let _ = writeln!(
            self.html,
            "<section class=\"chapter\" id=\"{name}\" aria-labelledby=\"{name}-heading\">\n\
             <h2 id=\"{name}-heading\">{}</h2>",
            escaped(&chapter.heading)
        );
        for block in &chapter.blocks {
            self.block(block, &chapter.heading);
        }
        self.html.push_str("</section>\n");
        if std::mem::take(&mut self.has_view) {
            self.html.push_str(VIEW);
        }
    }

    fn block(&mut self, block: &Block, about: &str) {
        match block {
            Block::Heading(text) => {
                let _ = writeln!(self.html, "<h3>{}</h3>", escaped(text));
            }
            Block::Text(text) => {
                let _ = writeln!(self.html, "<p>{}</p>", words(text));
            }
            Block::List(items) => self.list(items),
            Block::Cautions(items) => {
                self.html.push_str("<div class=\"cautions\" role=\"note\">\n<h3>Caution</h3>\n");
                self.list(items);
                self.html.push_str("</div>\n");
            }
            Block::Table(table) => self.table(table, about),
            Block::Figure(picture, caption) => self.figure(picture, caption, None),
            Block::Template(picture, caption, notes) => self.figure(picture, caption, Some(notes)),
        }
    }

    fn list(&mut self, items: &[String]) {
        self.html.push_str("<ul>\n");
        for item in items {
            let _ = writeln!(self.html, "<li>{}</li>", words(item));
        }
        self.html.push_str("</ul>\n");
    }

    /// Of a template also what is to be known of it.
    fn figure(&mut self, picture: &Picture, caption: &str, notes: Option<&[String]>) {
        self.figures += 1;
        let drawn = (self.contents.figure)(picture, &format!("figure-{}-", self.figures));
        // A prolog has no place inside a page.
        let drawn = drawn.find("<svg").map_or("", |at| &drawn[at..]);
        let (wide, tall) = picture.size;
        let class = match (notes.is_some(), wide > 1.3 * tall) {
            (true, _) => "template",
            (false, true) => "wide",
            (false, false) => "upright",
        };
        let _ = write!(
            self.html,
            "<figure class=\"{class}\" id=\"figure-{}\">\n<div class=\"paper\" tabindex=\"0\" role=\"group\" \
             aria-label=\"{}\">{}</div>\n<figcaption>{}",
            self.figures,
            escaped(&picture.title),
            drawn.trim_end(),
            escaped(caption)
        );
        if let Some(notes) = notes {
            for note in notes {
                let _ = write!(self.html, "<br>{}", words(note));
            }
            self.html.push_str("<br><span class=\"hint\">Not to scale here: cut by the one on shop-sheet.pdf.</span>");
        }
        self.html.push_str("</figcaption>\n</figure>\n");
    }

    /// The roles are written out, as a table that becomes cards on a phone loses its own.
    fn table(&mut self, table: &Table, about: &str) {
        let name = escaped(table.name);
        self.tables += 1;
        let _ = write!(
            self.html,
            "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"{}\">\n\
             <table role=\"table\" id=\"table-{}\" data-table=\"{name}\"{}>\n<thead role=\"rowgroup\"><tr role=\"row\">",
            escaped(about),
            self.tables,
            match (table.has_boxes, table.columns.len()) {
                (true, _) => " class=\"ticks\"",
                // What and how much: narrow enough for a phone as it is.
                (false, ..=2) => " class=\"pairs\"",
                (false, _) => "",
            }
        );
        if table.has_boxes {
            self.html.push_str("<th role=\"columnheader\" scope=\"col\" class=\"box\">Done</th>");
        }
        for column in &table.columns {
            let _ = write!(
                self.html,
                "<th role=\"columnheader\" scope=\"col\"{}>{}</th>",
                if column.is_number { " class=\"number\"" } else { "" },
                escaped(&column.heading)
            );
        }
        let shows = self.contents.model.is_some() && table.rows.iter().any(|row| !row.layers.is_empty());
        if shows {
            self.html.push_str("<th role=\"columnheader\" scope=\"col\" class=\"show\">In space</th>");
        }
        self.html.push_str("</tr></thead>\n<tbody role=\"rowgroup\">\n");
        for row in &table.rows {
            self.row(table, row, shows);
        }
        self.html.push_str("</tbody>\n</table>\n</div>\n");
    }

    fn row(&mut self, table: &Table, row: &Row, shows: bool) {
        let (here, name) = (id(&format!("{}.{}", table.name, row.name)), escaped(&row.name));
        let _ = write!(self.html, "<tr role=\"row\" id=\"{here}\" data-row=\"{name}\"");
        if !row.layers.is_empty() {
            let _ = write!(self.html, " tabindex=\"-1\" data-layers=\"{}\"", escaped(&row.layers.join("\n")));
        }
        self.html.push('>');
        let first = row.cells.first().map_or("", String::as_str);
        if table.has_boxes {
            let _ = write!(
                self.html,
                "<td role=\"cell\" class=\"box\"><label><input type=\"checkbox\" data-tick=\"{}/{name}\">\
                 <span class=\"unseen\">Done: {}</span></label></td>",
                escaped(table.name),
                escaped(if first.is_empty() { &row.name } else { first })
            );
        }
        for (at, column) in table.columns.iter().enumerate() {
            let cell = row.cells.get(at).map_or("", String::as_str);
            let class = match (column.is_number, cell.is_empty()) {
                (true, true) => " class=\"number empty\"",
                (true, false) => " class=\"number\"",
                (false, true) => " class=\"empty\"",
                (false, false) => "",
            };
            let _ = write!(
                self.html,
                "<td role=\"cell\"{class} data-label=\"{}\">{}</td>",
                escaped(&column.heading),
                words(cell)
            );
        }
        if shows {
            self.html.push_str("<td role=\"cell\" class=\"show\">");
            if !row.layers.is_empty() {
                let _ = write!(
                    self.html,
                    "<button type=\"button\" class=\"shows\">Show<span class=\"unseen\"> {}</span></button>",
                    escaped(first)
                );
            }
            self.html.push_str("</td>");
        }
        self.html.push_str("</tr>\n");
    }
}
