//! The pages of the documents as blocks: what the bench is told stands in one place alone.

use std::collections::BTreeMap;

use super::super::page::{Page, Piece};
use super::super::sheet::Sheet;
use super::super::table::{self, Side};
use super::{Block, Column, Row, Table};

/// What stands under one heading of a page.
#[derive(Debug)]
pub(super) struct Section {
    /// Empty for what comes before the first.
    pub heading: String,
    /// Of its lines.
    pub blocks: Vec<Block>,
}

/// The sections of pages as the documents have them; their titles are left out.
pub(super) fn sections(sheet: &Sheet<'_>, pages: &[Page]) -> Vec<Vec<Section>> {
    let mut names = Names::default();
    pages.iter().map(|page| of_page(sheet, page, &mut names)).collect()
}

fn of_page(sheet: &Sheet<'_>, page: &Page, names: &mut Names) -> Vec<Section> {
    let mut sections = vec![Section { heading: String::new(), blocks: Vec::new() }];
    for piece in page.pieces() {
        match piece {
            Piece::Words(words) => add_words(&mut sections, words),
            Piece::Table(table) => {
                if let Some(section) = sections.last_mut() {
                    section.blocks.push(Block::Table(names.table(sheet, table)));
                }
            }
        }
    }
    sections.retain(|section| !section.blocks.is_empty());
    sections
}

fn add_words(sections: &mut Vec<Section>, words: &str) {
    let mut lines: Vec<&str> = Vec::new();
    let end = |sections: &mut Vec<Section>, lines: &mut Vec<&str>| {
        if let Some(section) = sections.last_mut() {
            add_blocks(&mut section.blocks, lines);
        }
        lines.clear();
    };
    for line in words.lines() {
        if let Some(heading) = line.strip_prefix("## ") {
            end(sections, &mut lines);
            sections.push(Section { heading: plain(heading), blocks: Vec::new() });
        } else if !line.starts_with("# ") {
            lines.push(line);
        }
    }
    end(sections, &mut lines);
}

/// The names of rows that are taken: each is once among all tables of its kind.
#[derive(Default)]
struct Names(BTreeMap<(&'static str, String), usize>);

impl Names {
    fn table(&mut self, sheet: &Sheet<'_>, table: &table::Table) -> Table {
        let columns = table
            .heads
            .iter()
            .map(|(heading, side)| Column { heading: heading.trim().to_owned(), is_number: *side == Side::Right });
        let mut rows = Vec::new();
        for (at, row) in table.rows.iter().enumerate() {
            let cells: Vec<String> = row.cells.iter().map(|cell| plain(cell)).collect();
            let first = cells.first().filter(|first| !first.is_empty());
            let name = self.free(table.name, first.map_or_else(|| (at + 1).to_string(), String::clone));
            let ids = row.layers.iter().filter_map(|layer| Some((*layer, sheet.layers().get(*layer)?.id.clone())));
            let layers: BTreeMap<usize, String> = ids.collect();
            rows.push(Row { name, cells, layers: layers.into_values().collect() });
        }
        let has_boxes = TICKED.contains(&table.name);
        Table { name: table.name, columns: columns.collect(), rows, has_boxes }
    }

    fn free(&mut self, table: &'static str, name: String) -> String {
        let count = self.0.entry((table, name.clone())).or_insert(0);
        *count += 1;
        if *count == 1 { name } else { format!("{name}-{count}") }
    }
}

/// The tables whose rows are work to be done.
const TICKED: [&str; 6] = ["glue-schedule", "cut-list", "strips", "boards", "settings", "to-buy"];

/// Adds the blocks of lines: lists, and paragraphs between empty lines.
fn add_blocks(blocks: &mut Vec<Block>, lines: &[&str]) {
    for part in lines.split(|line| line.trim().is_empty()).filter(|part| !part.is_empty()) {
        let mut rest = part;
        while let Some(first) = rest.first() {
            let kind = kind(first);
            let fits = |line: &&&str| match kind {
                // A line that is set in goes on with the item before it.
                Kind::Item => self::kind(line) == Kind::Item || line.starts_with("   "),
                Kind::Words => self::kind(line) == kind,
            };
            let (here, later) = rest.split_at(1 + rest.iter().skip(1).take_while(fits).count());
            rest = later;
            match kind {
                Kind::Item => add_items(blocks, here),
                Kind::Words => blocks.push(Block::Text(plain(&here.join(" ")))),
            }
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Item,
    Words,
}

fn kind(line: &str) -> Kind {
    if line.starts_with("- ") || numbered(line) { Kind::Item } else { Kind::Words }
}

fn numbered(line: &str) -> bool {
    let number = line.split_once(". ").map_or("", |(number, _)| number);
    !number.is_empty() && number.bytes().all(|sign| sign.is_ascii_digit())
}

fn add_items(blocks: &mut Vec<Block>, lines: &[&str]) {
    let mut items: Vec<String> = Vec::new();
    for line in lines {
        match items.last_mut() {
            Some(last) if kind(line) != Kind::Item => {
                last.push(' ');
                last.push_str(&plain(line));
            }
            _ => items.push(plain(line.strip_prefix("- ").unwrap_or(line))),
        }
    }
    match blocks.last_mut() {
        Some(Block::List(before)) => before.extend(items),
        _ => blocks.push(Block::List(items)),
    }
}

/// Without the signs of markup; what was escaped stands for itself.
pub(super) fn plain(text: &str) -> String {
    let mut plain = String::new();
    let mut signs = text.trim().chars().peekable();
    while let Some(sign) = signs.next() {
        match sign {
            '\\' if signs.peek().is_some_and(char::is_ascii_punctuation) => plain.extend(signs.next()),
            '`' => {}
            '*' if signs.peek() == Some(&'*') => {
                signs.next();
            }
            sign => plain.push(sign),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::super::Block;
    use super::{Names, Section, add_words, plain};

    #[test]
    fn words_become_blocks() {
        let mut all = vec![Section { heading: String::new(), blocks: Vec::new() }];
        add_words(
            &mut all,
            "# Title\n\nTwo\nlines.\n\n## Cuts\n\n1. Set **it**.\n2. Test.\n   Again.\n\nThen:\n\n- one\n\n- two\n",
        );
        assert_eq!(all.len(), 2);
        assert!(matches!(&all[0].blocks[..], [Block::Text(text)] if text == "Two lines."));
        let [Block::List(steps), Block::Text(then), Block::List(items)] = &all[1].blocks[..] else {
            panic!("{:?}", all[1]);
        };
        assert_eq!(steps, &["1. Set it.", "2. Test. Again."]);
        assert_eq!((then.as_str(), items), ("Then:", &vec!["one".to_owned(), "two".to_owned()]));
    }

    #[test]
    fn no_two_rows_of_a_kind_of_table_have_one_name() {
        let mut names = Names::default();
        let mut free = |table, name: &str| names.free(table, name.to_owned());
        assert_eq!([free("boards", "S1"), free("boards", "S1"), free("strips", "S1")], ["S1", "S1-2", "S1"]);
    }

    #[test]
    fn escaped_signs_stand_for_themselves() {
        assert_eq!(plain("a \\*b\\* **c** `d`"), "a *b* c d");
    }
}
