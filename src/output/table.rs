//! Rows of cells to a table that aligns even where nobody renders it.

/// To which side a column's cells are pushed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A table under construction.
#[derive(Debug, Clone)]
pub(super) struct Table {
    /// What kind of table it is, in a stable word: `cut-list`, `settings`.
    pub name: &'static str,
    pub heads: Vec<(&'static str, Side)>,
    pub rows: Vec<Row>,
}

/// One row.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// One for each column; a missing one is empty.
    pub cells: Vec<String>,
    /// The layers that its pieces are for.
    pub layers: Vec<usize>,
}

impl Table {
    /// A table of that kind with these columns; a head that starts with `>` is a column of numbers.
    pub(super) fn new(name: &'static str, heads: &[&'static str]) -> Self {
        let heads = heads
            .iter()
            .map(|head| head.strip_prefix('>').map_or((*head, Side::Left), |head| (head, Side::Right)))
            .collect();
        Self { name, heads, rows: Vec::new() }
    }

    /// Adds a row; a missing cell is empty.
    pub(super) fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.row_for(Vec::new(), cells);
    }

    /// Adds a row about pieces of these layers.
    pub(super) fn row_for(&mut self, layers: Vec<usize>, cells: impl IntoIterator<Item = String>) {
        self.rows.push(Row { cells: cells.into_iter().collect(), layers });
    }

    /// Whether it has no rows.
    pub(super) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// As Markdown, with a line end after each row.
    pub(super) fn markdown(&self) -> String {
        let widths = self.widths();
        let mut text = self.line(&widths, "| ", " | ", " |", |at| self.heads[at].0);
        text.push('|');
        for (width, (_, side)) in widths.iter().zip(&self.heads) {
            text.push_str(&"-".repeat(width + 1));
            text.push_str(match side {
                Side::Left => "-|",
                Side::Right => ":|",
            });
        }
        text.push('\n');
        for row in &self.rows {
            text.push_str(&self.line(&widths, "| ", " | ", " |", |at| row.cells.get(at).map_or("", String::as_str)));
        }
        text
    }

    /// As plain text behind `indent`, with a line end after each row.
    pub(super) fn plain(&self, indent: &str) -> String {
        let widths = self.widths();
        let mut text = self.line(&widths, indent, "  ", "", |at| self.heads[at].0);
        for row in &self.rows {
            text.push_str(&self.line(&widths, indent, "  ", "", |at| row.cells.get(at).map_or("", String::as_str)));
        }
        text
    }

    fn widths(&self) -> Vec<usize> {
        let cell = |row: &Row, at: usize| row.cells.get(at).map_or(0, |cell| cell.chars().count());
        let widest = |at: usize| self.rows.iter().map(|row| cell(row, at)).max().unwrap_or(0);
        self.heads.iter().enumerate().map(|(at, (head, _))| widest(at).max(head.chars().count()).max(2)).collect()
    }

    fn line<'a>(
        &'a self,
        widths: &[usize],
        before: &str,
        between: &str,
        after: &str,
        cell: impl Fn(usize) -> &'a str,
    ) -> String {
        let mut line = before.to_owned();
        for (at, (width, (_, side))) in widths.iter().zip(&self.heads).enumerate() {
            if at > 0 {
                line.push_str(between);
            }
            let text = cell(at);
            let pad = " ".repeat(width.saturating_sub(text.chars().count()));
            match side {
                Side::Left => line.extend([text, &pad]),
                Side::Right => line.extend([&pad, text]),
            }
        }
        line.push_str(after);
        line.truncate(line.trim_end().len());
        line.push('\n');
        line
    }
}

#[cfg(test)]
mod tests {
    use super::Table;

    #[test]
    fn columns_align_behind_signs_of_several_bytes() {
        let mut table = Table::new("woods", &["wood", ">long edge"]);
        table.row(["maple".to_owned(), "⌀ 1 ½″".to_owned()]);
        table.row(["black walnut".to_owned()]);
        assert_eq!(
            table.markdown(),
            "| wood         | long edge |\n\
             |--------------|----------:|\n\
             | maple        |    ⌀ 1 ½″ |\n\
             | black walnut |           |\n"
        );
        assert_eq!(table.plain("  "), "  wood          long edge\n  maple            ⌀ 1 ½″\n  black walnut\n");
        assert!(!table.is_empty());
    }
}
