//! The pages of the documents, read back as blocks: what the bench is told stands in one place alone.

use super::{Block, Column, Row, Table};

/// What stands under one heading of a page.
#[derive(Debug)]
pub(super) struct Section {
    /// Empty for what comes before the first.
    pub heading: String,
    /// Of its lines.
    pub blocks: Vec<Block>,
}

/// The sections of a page as the documents write it; its title is left out.
pub(super) fn sections(page: &str) -> Vec<Section> {
    let mut sections = vec![Section { heading: String::new(), blocks: Vec::new() }];
    let mut lines: Vec<&str> = Vec::new();
    for line in page.lines().skip(1).chain(["## "]) {
        let Some(heading) = line.strip_prefix("## ") else {
            lines.push(line);
            continue;
        };
        if let Some(section) = sections.last_mut() {
            section.blocks = blocks(&lines);
        }
        lines.clear();
        sections.push(Section { heading: plain(heading), blocks: Vec::new() });
    }
    sections.retain(|section| !section.blocks.is_empty());
    sections
}

/// The blocks of lines: tables, lists, and paragraphs between empty lines.
fn blocks(lines: &[&str]) -> Vec<Block> {
    let mut blocks = Vec::new();
    for part in lines.split(|line| line.trim().is_empty()).filter(|part| !part.is_empty()) {
        let mut rest = part;
        while let Some(first) = rest.first() {
            let kind = kind(first);
            let fits = |line: &&&str| match kind {
                // A line that is set in goes on with the item before it.
                Kind::Item => self::kind(line) == Kind::Item || line.starts_with("   "),
                Kind::Row | Kind::Words => self::kind(line) == kind,
            };
            let (here, later) = rest.split_at(1 + rest.iter().skip(1).take_while(fits).count());
            rest = later;
            match kind {
                Kind::Row => blocks.push(Block::Table(table(here))),
                Kind::Item => add_items(&mut blocks, here),
                Kind::Words => blocks.push(Block::Text(plain(&here.join(" ")))),
            }
        }
    }
    blocks
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Row,
    Item,
    Words,
}

fn kind(line: &str) -> Kind {
    if line.starts_with('|') {
        Kind::Row
    } else if line.starts_with("- ") || numbered(line) {
        Kind::Item
    } else {
        Kind::Words
    }
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

fn table(lines: &[&str]) -> Table {
    let cells = |line: &str| -> Vec<String> {
        let inner = line.trim().trim_start_matches('|');
        inner.strip_suffix('|').unwrap_or(inner).split('|').map(|cell| plain(cell.trim())).collect()
    };
    let sides = lines.get(1).map_or(Vec::new(), |line| cells(line));
    let columns = lines.first().map_or(Vec::new(), |line| cells(line)).into_iter().enumerate();
    let columns = columns
        .map(|(at, heading)| Column { heading, is_number: sides.get(at).is_some_and(|side| side.ends_with(':')) });
    let rows = lines.iter().skip(2).enumerate();
    let rows = rows.map(|(at, line)| Row { name: (at + 1).to_string(), cells: cells(line), layers: Vec::new() });
    Table { name: "", columns: columns.collect(), rows: rows.collect(), has_boxes: false }
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
    use super::{plain, sections};

    #[test]
    fn a_page_becomes_blocks() {
        let page = "# Title\n\nTwo\nlines.\n\n## Cuts\n\n1. Set **it**.\n2. Test.\n   Again.\n\n| cut   | >n |\n|-------|---:|\n| **A** |  3 |\n\n- one\n\n- two\n";
        let all = sections(page);
        assert_eq!(all.len(), 2);
        assert!(matches!(&all[0].blocks[..], [Block::Text(text)] if text == "Two lines."));
        let [Block::List(steps), Block::Table(table), Block::List(items)] = &all[1].blocks[..] else {
            panic!("{:?}", all[1]);
        };
        assert_eq!(steps, &["1. Set it.", "2. Test. Again."]);
        assert_eq!(items, &["one", "two"]);
        assert_eq!((table.rows[0].cells[0].as_str(), table.columns[1].is_number), ("A", true));
    }

    #[test]
    fn escaped_signs_stand_for_themselves() {
        assert_eq!(plain("a \\*b\\* **c** `d`"), "a *b* c d");
    }
}
