//! From chapters to pages: what stands where.

use super::super::picture::{Color, Picture};
use super::super::shop_sheet::{Block, Chapter, ShopSheet, Table};
use super::columns::{BOX, Grid, LEADING, Laid, PAD, grid};
use super::font::{Faces, shown};
use super::words::wrapped;
use super::{Paper, point, tiles};

/// Room at the sides, in points.
pub(super) const SIDE: f64 = 40.0;
/// Over the first line of a page; its header stands in it.
pub(super) const TOP: f64 = 54.0;
/// Under the last line of a page; its footer stands in it.
pub(super) const BOTTOM: f64 = 46.0;

const BLACK: Color = Color(0, 0, 0);
const GRAY: Color = Color(90, 90, 90);
const RULE: Color = Color(170, 170, 170);
const SHADE: Color = Color(236, 236, 236);
const TEXT: f64 = 9.5;

/// One thing on a page.
#[derive(Debug)]
pub(super) enum Op<'a> {
    /// Words that begin at a place on their base line.
    Text { at: (f64, f64), text: String, size: f64, is_bold: bool, color: Color },
    /// An area, a frame, or both: corner, size.
    Rectangle { at: (f64, f64), size: (f64, f64), fill: Option<Color>, line: Option<f64> },
    /// From place to place, so wide.
    Line { from: (f64, f64), to: (f64, f64), width: f64, color: Color, is_dashed: bool },
    /// A picture from its upper left corner, so many points to its unit, seen through a window; of the words in it
    /// all, or those that lie within the window.
    Picture { picture: &'a Picture, at: (f64, f64), scale: f64, window: [f64; 4], whole_words: bool },
}

/// All pages, and on which page each chapter begins.
pub(super) struct Pages<'a> {
    pub pages: Vec<Vec<Op<'a>>>,
    pub chapters: Vec<(String, usize)>,
}

/// Lays a sheet out.
pub(super) fn laid<'a>(sheet: &'a ShopSheet, paper: Paper, faces: &Faces) -> Pages<'a> {
    let mut flow = Flow { faces, size: paper.size(), pages: Vec::new(), y: 0.0, has_ruler: false };
    let mut chapters = Vec::new();
    let mut headings = Vec::new();
    for chapter in sheet.chapters.iter().filter(|chapter| !chapter.blocks.is_empty()) {
        chapters.push((shown(&chapter.heading, faces), flow.pages.len()));
        flow.chapter(sheet, chapter);
        headings.resize(flow.pages.len(), shown(&chapter.heading, faces));
    }
    flow.margins(sheet, &headings);
    Pages { pages: flow.pages, chapters }
}

struct Flow<'a, 'f> {
    faces: &'f Faces,
    size: (f64, f64),
    pages: Vec<Vec<Op<'a>>>,
    y: f64,
    /// Whether this page has what tells its scale.
    has_ruler: bool,
}

impl<'a> Flow<'a, '_> {
    fn wide(&self) -> f64 {
        self.size.0 - 2.0 * SIDE
    }

    fn end(&self) -> f64 {
        self.size.1 - BOTTOM
    }

    fn page(&mut self) {
        self.pages.push(Vec::new());
        self.y = TOP;
        self.has_ruler = false;
    }

    fn put(&mut self, op: Op<'a>) {
        if let Some(page) = self.pages.last_mut() {
            page.push(op);
        }
    }

    /// A new page unless so much fits on this one.
    fn need(&mut self, tall: f64) {
        if self.y + tall > self.end() && self.y > TOP {
            self.page();
        }
    }

    fn chapter(&mut self, sheet: &ShopSheet, chapter: &'a Chapter) {
        if chapter.name == "templates" {
            // Templates begin their pages themselves.
            self.y = self.end();
            for block in &chapter.blocks {
                self.block(block);
            }
            return;
        }
        self.page();
        if chapter.name == "cover" {
            self.lines(&sheet.title, 26.0, true, 0.0);
            self.lines(&sheet.subtitle, 12.0, false, 0.0);
            self.y += 8.0;
        } else {
            self.lines(&chapter.heading, 18.0, true, 0.0);
            self.y += 4.0;
        }
        for (at, block) in chapter.blocks.iter().enumerate() {
            // A heading stays with what it is over.
            if let Block::Heading(_) = block {
                let next = match chapter.blocks.get(at + 1) {
                    Some(Block::Table(_)) => 90.0,
                    _ => 48.0,
                };
                self.need(next);
            }
            self.block(block);
        }
    }

    fn block(&mut self, block: &'a Block) {
        match block {
            Block::Heading(text) => {
                self.y += if self.y > TOP { 8.0 } else { 0.0 };
                self.lines(text, 12.5, true, 0.0);
                self.y += 2.0;
            }
            Block::Text(text) => {
                self.lines(text, TEXT, false, 0.0);
                self.y += 5.0;
            }
            Block::List(items) => {
                for item in items {
                    self.item(item);
                }
                self.y += 4.0;
            }
            Block::Cautions(items) => self.cautions(items),
            Block::Table(table) => self.table(table),
            Block::Figure(picture, caption) => self.figure(picture, caption),
            Block::Template(picture, caption, notes) => self.template(picture, caption, notes),
        }
    }

    fn lines(&mut self, text: &str, size: f64, is_bold: bool, indent: f64) {
        let text = shown(text, self.faces);
        for line in wrapped(&text, self.faces.of(is_bold), size, self.wide() - indent) {
            self.need(size * LEADING);
            self.y += size * LEADING;
            let at = (SIDE + indent, self.y - size * 0.28);
            self.put(Op::Text { at, text: line, size, is_bold, color: BLACK });
        }
    }

    /// With a dot before it, or the number that it brings along.
    fn item(&mut self, item: &str) {
        let number = item.split_once(". ").filter(|(number, _)| number.bytes().all(|sign| sign.is_ascii_digit()));
        let (sign, text) = number.map_or(("•".to_owned(), item), |(number, text)| (format!("{number}."), text));
        self.need(TEXT * LEADING);
        let at = (SIDE + 2.0, self.y + TEXT * (LEADING - 0.28));
        self.put(Op::Text { at, text: sign, size: TEXT, is_bold: number.is_some(), color: BLACK });
        self.lines(text, TEXT, false, 18.0);
        self.y += 2.0;
    }

    /// In a frame that is never cut: items that do not fit begin another frame.
    fn cautions(&mut self, items: &[String]) {
        let size = 9.5;
        let (indent, wide) = (26.0, self.wide() - 38.0);
        let items: Vec<Vec<String>> =
            items.iter().map(|item| wrapped(&shown(item, self.faces), self.faces.of(false), size, wide)).collect();
        let tall = |lines: &Vec<String>| count(lines.len()) * size * LEADING + 4.0;
        let mut rest = items.as_slice();
        while !rest.is_empty() {
            self.need(rest.first().map_or(0.0, tall) + 16.0);
            let mut room = self.end() - self.y - 16.0;
            let fits = rest.iter().take_while(|item| {
                room -= tall(item);
                room >= 0.0
            });
            let fitting = fits.count().max(1);
            let (here, later) = rest.split_at(fitting);
            rest = later;
            let height = here.iter().map(tall).sum::<f64>() + 12.0;
            let (at, size_of) = ((SIDE, self.y), (self.wide(), height));
            self.put(Op::Rectangle { at, size: size_of, fill: None, line: Some(1.4) });
            self.put(Op::Rectangle { at, size: (6.0, height), fill: Some(BLACK), line: None });
            self.y += 7.0;
            for item in here {
                let at = (SIDE + 14.0, self.y + size * (LEADING - 0.28));
                self.put(Op::Text { at, text: "•".to_owned(), size, is_bold: true, color: BLACK });
                for line in item {
                    self.y += size * LEADING;
                    let at = (SIDE + indent, self.y - size * 0.28);
                    self.put(Op::Text { at, text: line.clone(), size, is_bold: false, color: BLACK });
                }
                self.y += 4.0;
            }
            self.y += 13.0;
        }
    }

    fn table(&mut self, table: &'a Table) {
        let grid = grid(table, self.faces, self.wide());
        let first = grid.rows.first().map_or(0.0, |row| row.tall);
        self.need(grid.head.tall + first);
        self.row(table, &grid, &grid.head, None);
        for (at, row) in grid.rows.iter().enumerate() {
            if self.y + row.tall > self.end() {
                self.page();
                self.row(table, &grid, &grid.head, None);
            }
            self.row(table, &grid, row, Some(at));
        }
        self.y += 8.0;
    }

    /// The head, or one row.
    fn row(&mut self, table: &Table, grid: &Grid, row: &Laid, number: Option<usize>) {
        let top = self.y;
        let lead = if table.has_boxes { BOX } else { 0.0 };
        let wide = grid.widths.iter().sum::<f64>() + lead;
        if number.is_none_or(|at| at % 2 == 1) {
            let shade = if number.is_none() { Color(216, 216, 216) } else { Color(244, 244, 244) };
            self.put(Op::Rectangle { at: (SIDE, top), size: (wide, row.tall), fill: Some(shade), line: None });
        }
        if table.has_boxes && number.is_some() {
            // Beside the first line, which has the name.
            let first =
                row.cells.iter().filter_map(|cell| cell.lines.first()).map(|(_, size)| *size).fold(0.0, f64::max);
            let at = (SIDE + 4.0, top + PAD + (first * LEADING - 10.0) / 2.0);
            self.put(Op::Rectangle { at, size: (10.0, 10.0), fill: Some(Color(255, 255, 255)), line: Some(0.9) });
        }
        let mut left = SIDE + lead;
        for ((cell, width), column) in row.cells.iter().zip(&grid.widths).zip(&table.columns) {
            let mut y = top + PAD;
            for (line, size) in &cell.lines {
                y += size * LEADING;
                let free = width - 2.0 * PAD - self.faces.of(cell.is_bold).width(line, *size);
                let x = left + PAD + if column.is_number { free } else { 0.0 };
                let at = (x, y - size * 0.28);
                let text = line.clone();
                self.put(Op::Text { at, text, size: *size, is_bold: cell.is_bold, color: BLACK });
            }
            left += width;
        }
        self.y = top + row.tall;
        let (from, to) = ((SIDE, self.y), (SIDE + wide, self.y));
        let (width, color) = if number.is_none() { (1.0, BLACK) } else { (0.4, RULE) };
        self.put(Op::Line { from, to, width, color, is_dashed: false });
    }

    fn figure(&mut self, picture: &'a Picture, caption: &str) {
        let (wide, tall) = (picture.size.0.max(1.0), picture.size.1.max(1.0));
        let whole = self.end() - TOP - 24.0;
        let across = self.wide();
        let fit = |room: f64| (across / wide).min(room / tall);
        let here = fit(self.end() - self.y - 24.0);
        // A little smaller on this page is better than a page of its own; on the cover also much smaller.
        let least = if self.pages.len() == 1 { 0.45 } else { 0.85 };
        let scale = if self.y <= TOP || here >= fit(whole) * least {
            here
        } else {
            self.page();
            fit(self.end() - self.y - 24.0)
        };
        let scale = scale.min(picture.unit_mm.map_or(f64::MAX, point));
        let at = (SIDE + (self.wide() - wide * scale) / 2.0, self.y);
        let window = [at.0, at.1, wide * scale, tall * scale];
        self.put(Op::Picture { picture, at, scale, window, whole_words: false });
        self.y += tall * scale + 4.0;
        if !caption.is_empty() {
            self.lines(caption, 8.5, false, 0.0);
        }
        self.y += 8.0;
    }

    /// At true scale, on as many pages as that takes. Small ones share a page, and its rulers; what takes more sheets than
    /// anybody glues together is only told.
    fn template(&mut self, picture: &'a Picture, caption: &str, notes: &[String]) {
        const MOST_SHEETS: f64 = 40.0;
        /// Of the name over a template, and of a line of its notes.
        const HEAD: f64 = 20.0;
        const NOTE: f64 = 9.5;
        let unit = point(picture.unit_mm.unwrap_or(1.0));
        let (wide, tall) = (picture.size.0 * unit, picture.size.1 * unit);
        let foot = self.end() - tiles::RULER;
        let mut words: Vec<String> = notes
            .iter()
            .flat_map(|note| wrapped(&shown(note, self.faces), self.faces.of(false), NOTE, self.wide()))
            .collect();
        let room = foot - TOP;
        let mut head = HEAD + NOTE * LEADING * count(words.len());
        let is_long = head > room / 3.0;
        if is_long {
            head = HEAD;
        }
        let sheets = tiles::sheets((wide, tall), (self.wide(), room - head));
        let is_large = sheets > MOST_SHEETS;
        if is_large {
            self.need(head);
            self.lines(caption, 11.0, true, 0.0);
            for line in &words {
                // There is no picture that they could be the signs of.
                let line = line.trim_start_matches("dashed: ").trim_start_matches("dotted: ");
                self.lines(line, NOTE, false, 0.0);
            }
            let told = format!(
                "Not drawn: at true scale it takes {sheets} sheets of paper, and up to {MOST_SHEETS} are printed. Strike its \
                 circles on a board with a beam compass."
            );
            self.lines(&told, NOTE, false, 0.0);
            self.y += 10.0;
            return;
        }
        if is_long {
            self.page();
            self.lines(caption, 11.0, true, 0.0);
            for line in words.drain(..) {
                self.lines(&line, NOTE, false, 0.0);
            }
        }
        let tiles::Tiling { tiles, shown } = tiles::of((wide, tall), (self.wide(), room - head));
        let is_tiled = tiles.len() > 1;
        for (number, tile) in tiles.iter().enumerate() {
            if is_tiled || !self.has_ruler || self.y + head + tall > foot {
                self.page();
                self.ruler(is_tiled);
            }
            let of = if is_tiled {
                format!(": sheet {} of {} (row {}, column {})", number + 1, tiles.len(), tile.row + 1, tile.column + 1)
            } else {
                String::new()
            };
            let top = self.y + head;
            self.lines(&format!("{caption}{of}"), 11.0, true, 0.0);
            for line in &words {
                self.lines(line, NOTE, false, 0.0);
            }
            let (wide, tall) = if is_tiled { shown } else { (wide, tall) };
            let left = SIDE + (self.wide() - wide) / 2.0;
            let at = (left - tile.from.0, top - tile.from.1);
            self.put(Op::Picture { picture, at, scale: unit, window: [left, top, wide, tall], whole_words: is_tiled });
            let on = |place: (f64, f64)| (place.0 + at.0, place.1 + at.1);
            for (from, to) in &tile.seams {
                self.put(Op::Line { from: on(*from), to: on(*to), width: 0.4, color: GRAY, is_dashed: true });
            }
            for mark in &tile.marks {
                let (x, y) = on(*mark);
                for (from, to) in [((x - 6.0, y), (x + 6.0, y)), ((x, y - 6.0), (x, y + 6.0))] {
                    self.put(Op::Line { from, to, width: 0.6, color: BLACK, is_dashed: false });
                }
                let at = (x - 3.0, y - 3.0);
                self.put(Op::Rectangle { at, size: (6.0, 6.0), fill: None, line: Some(0.4) });
            }
            self.y = if is_tiled { self.end() } else { top + tall + 10.0 };
        }
    }

    /// What tells whether the printer kept the scale: 100 mm over 4 in.
    fn ruler(&mut self, is_tiled: bool) {
        self.has_ruler = true;
        let top = self.end() - tiles::RULER + 8.0;
        let words = if is_tiled {
            "Print at 100 % (actual size). Measure both rulers before you trust the template. Lay the crosses of \
             neighbors over one another and cut along a dashed line."
        } else {
            "Print at 100 % (actual size). Measure both rulers before you trust the template."
        };
        for (line, y) in wrapped(words, self.faces.of(false), 7.5, self.wide()).into_iter().zip([top - 2.0, top + 8.0])
        {
            self.put(Op::Text { at: (SIDE, y), text: line, size: 7.5, is_bold: false, color: BLACK });
        }
        for (y, step, steps, every, unit) in
            [(top + 30.0, point(1.0), 100_u32, 10_u32, "100 mm"), (top + 52.0, 72.0 / 8.0, 32, 8, "4 in")]
        {
            let long = step * f64::from(steps);
            let line = |from, to, width| Op::Line { from, to, width, color: BLACK, is_dashed: false };
            self.put(line((SIDE, y), (SIDE + long, y), 0.5));
            for tick in 0..=steps {
                let x = SIDE + step * f64::from(tick);
                let tall = match tick {
                    tick if tick == 0 || tick == steps => 13.0,
                    tick if tick % every == 0 => 9.0,
                    tick if tick % every == every / 2 => 6.0,
                    _ => 3.5,
                };
                self.put(line((x, y), (x, y - tall), if tall > 12.0 { 0.6 } else { 0.3 }));
            }
            let at = (SIDE + long + 6.0, y);
            self.put(Op::Text { at, text: unit.to_owned(), size: 9.0, is_bold: true, color: BLACK });
        }
    }

    /// Name and chapter over each page, page and count under it.
    fn margins(&mut self, sheet: &ShopSheet, headings: &[String]) {
        let faces = self.faces;
        let (wide, tall) = self.size;
        let all = self.pages.len();
        let mut name = shown(&sheet.title, faces);
        while faces.of(true).width(&name, 8.5) > self.wide() * 0.6 {
            name = shortened(&name, name.chars().count() - 1);
        }
        for (at, page) in self.pages.iter_mut().enumerate() {
            let heading = headings.get(at).map_or("", String::as_str);
            let words = [
                (SIDE, 34.0, name.clone(), true),
                (wide - SIDE - faces.of(false).width(heading, 8.5), 34.0, heading.to_owned(), false),
            ];
            for (x, y, text, is_bold) in words {
                page.push(Op::Text { at: (x, y), text, size: 8.5, is_bold, color: GRAY });
            }
            let number = format!("page {} of {all}", at + 1);
            let x = wide - SIDE - faces.of(false).width(&number, 8.5);
            page.push(Op::Text { at: (x, tall - 28.0), text: number, size: 8.5, is_bold: false, color: GRAY });
            let (from, to) = ((SIDE, 40.0), (wide - SIDE, 40.0));
            page.push(Op::Line { from, to, width: 0.5, color: SHADE, is_dashed: false });
        }
    }
}

fn count(number: usize) -> f64 {
    u32::try_from(number).map_or(0.0, f64::from)
}

/// Not longer than so many signs; what is cut off is told by `…`.
fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}
