//! A page under construction: Markdown, in which every table stands as it is, for those who lay the page out anew.

use std::fmt;

use super::table::Table;

/// Words and tables from top to bottom.
#[derive(Debug, Clone, Default)]
pub(super) struct Page {
    pieces: Vec<Piece>,
}

/// A stretch of a page.
#[derive(Debug, Clone)]
pub(super) enum Piece {
    /// Headings, paragraphs and lists as Markdown.
    Words(String),
    /// Rows and columns.
    Table(Table),
}

impl Page {
    /// Begins with a heading.
    pub(super) fn titled(title: &str) -> Self {
        Self { pieces: vec![Piece::Words(format!("# {title}\n\n"))] }
    }

    pub(super) fn push_str(&mut self, words: &str) {
        match self.pieces.last_mut() {
            Some(Piece::Words(before)) => before.push_str(words),
            Some(Piece::Table(_)) | None => self.pieces.push(Piece::Words(words.to_owned())),
        }
    }

    pub(super) fn push(&mut self, sign: char) {
        self.push_str(sign.encode_utf8(&mut [0; 4]));
    }

    pub(super) fn table(&mut self, table: Table) {
        self.pieces.push(Piece::Table(table));
    }

    pub(super) fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// Markdown that reads well unrendered.
    pub(super) fn markdown(&self) -> String {
        let piece = |piece: &Piece| match piece {
            Piece::Words(words) => words.clone(),
            Piece::Table(table) => table.markdown(),
        };
        self.pieces.iter().map(piece).collect()
    }
}

impl fmt::Write for Page {
    fn write_str(&mut self, words: &str) -> fmt::Result {
        self.push_str(words);
        Ok(())
    }
}
