//! How wide the columns of a table are, and how tall its rows.

use super::super::shop_sheet::{Column, Row, Table};
use super::font::{Faces, shown};
use super::words::{pieces, wrapped};

/// Between a cell's words and its column's edge, in points.
pub(super) const PAD: f64 = 3.5;
/// From line to line, in parts of the type's size.
pub(super) const LEADING: f64 = 1.25;
/// Of the column of boxes to tick.
pub(super) const BOX: f64 = 18.0;

/// One cell as lines of type.
pub(super) struct Cell {
    /// From top to bottom; each with its size.
    pub lines: Vec<(String, f64)>,
    /// Whether it stands out.
    pub is_bold: bool,
}

impl Cell {
    fn tall(&self) -> f64 {
        self.lines.iter().map(|(_, size)| size * LEADING).sum()
    }
}

/// One row of cells.
pub(super) struct Laid {
    /// From left to right.
    pub cells: Vec<Cell>,
    /// With the room over and under the words.
    pub tall: f64,
}

/// A table with all its measures.
pub(super) struct Grid {
    /// Of the columns, from left to right.
    pub widths: Vec<f64>,
    /// Their headings.
    pub head: Laid,
    /// Top to bottom.
    pub rows: Vec<Laid>,
}

/// Which cells are set how: what is read from a meter is large.
struct Style<'a> {
    table: &'a Table,
    base: f64,
}

impl Style<'_> {
    /// The size of its headings.
    fn head(&self) -> f64 {
        (self.base * 0.85).min(8.5)
    }

    fn is_bold(&self, column: usize) -> bool {
        let heading = self.table.columns.get(column).map_or("", |column| column.heading.as_str());
        column == 0 || self.is_large(column) || ["stop at long edge", "fence", "outside ⌀", "out"].contains(&heading)
    }

    fn is_large(&self, column: usize) -> bool {
        let heading = self.table.columns.get(column).map_or("", |column| column.heading.as_str());
        self.table.name == "settings" && ["fence or stop", "miter", "tilt"].contains(&heading)
    }

    /// The words of a cell in pieces of one size: of a large one what stands in brackets is small again.
    fn parts<'t>(&self, column: usize, text: &'t str) -> Vec<(&'t str, f64)> {
        if !self.is_large(column) {
            return vec![(text, self.base)];
        }
        // Only a figure is worth the room.
        let large = |text: &str| if text.chars().count() > 11 { self.base * 1.3 } else { self.base * 2.0 };
        match text.split_once(" (") {
            Some((figure, _)) => vec![(figure, large(figure)), (&text[figure.len() + 1..], self.base)],
            None => vec![(text, large(text))],
        }
    }
}

/// Lays a table out in a width. Type gets smaller before words are broken.
pub(super) fn grid(table: &Table, faces: &Faces, wide: f64) -> Grid {
    let wide = if table.has_boxes { wide - BOX } else { wide };
    let sizes: &[f64] = if table.name == "settings" { &[10.0, 9.0, 8.0] } else { &[9.0, 8.5, 8.0, 7.5, 7.0, 6.5] };
    let mut base = sizes.first().copied().unwrap_or(9.0);
    let mut least = Vec::new();
    for size in sizes {
        base = *size;
        least = measured(&Style { table, base }, faces);
        if least.iter().sum::<f64>() <= wide {
            break;
        }
    }
    let style = Style { table, base };
    let widths = shared(&least, &lengths(&style, faces), wide);
    let head_cells = table.columns.iter().zip(&widths).map(|(column, width)| Cell {
        lines: lines(&column.heading, faces, true, style.head(), width - 2.0 * PAD),
        is_bold: true,
    });
    let head = laid(head_cells.collect());
    let rows = table.rows.iter().map(|row| row_of(row, &style, faces, &widths)).collect();
    Grid { widths, head, rows }
}

fn row_of(row: &Row, style: &Style<'_>, faces: &Faces, widths: &[f64]) -> Laid {
    let cell = |(at, width): (usize, &f64)| {
        let text = shown(row.cells.get(at).map_or("", String::as_str), faces);
        let is_bold = style.is_bold(at);
        let parts = style.parts(at, &text).into_iter().enumerate();
        let lines =
            parts.flat_map(|(part, (text, size))| lines(text, faces, is_bold && part == 0, size, width - 2.0 * PAD));
        Cell { lines: lines.collect(), is_bold }
    };
    laid(widths.iter().enumerate().map(cell).collect())
}

fn lines(text: &str, faces: &Faces, is_bold: bool, size: f64, wide: f64) -> Vec<(String, f64)> {
    wrapped(&shown(text, faces), faces.of(is_bold), size, wide).into_iter().map(|line| (line, size)).collect()
}

fn laid(cells: Vec<Cell>) -> Laid {
    let tall = cells.iter().map(Cell::tall).fold(0.0, f64::max) + 2.0 * PAD;
    Laid { cells, tall }
}

/// How wide each column is at the least: its longest word.
fn measured(style: &Style<'_>, faces: &Faces) -> Vec<f64> {
    let longest = |text: &str, is_bold: bool, size: f64| {
        pieces(text).iter().map(|word| faces.of(is_bold).width(word, size)).fold(0.0, f64::max)
    };
    let column = |(at, column): (usize, &Column)| {
        let head = longest(&shown(&column.heading, faces), true, style.head());
        let cells = style.table.rows.iter().filter_map(|row| row.cells.get(at));
        let widest = cells.map(|cell| {
            let cell = shown(cell, faces);
            let parts = style.parts(at, &cell);
            parts.iter().map(|(text, size)| longest(text, style.is_bold(at), *size)).fold(0.0, f64::max)
        });
        widest.fold(head, f64::max) + 2.0 * PAD + 0.01
    };
    style.table.columns.iter().enumerate().map(column).collect()
}

/// How wide each cell would be on one line, the head's first.
fn lengths(style: &Style<'_>, faces: &Faces) -> Vec<Vec<f64>> {
    let room = 2.0 * PAD + 0.01;
    let heads = style.table.columns.iter();
    let head = heads.map(|column| faces.of(true).width(&shown(&column.heading, faces), style.head()) + room).collect();
    let row = |row: &Row| {
        let cell = |(at, cell): (usize, &String)| {
            let cell = shown(cell, faces);
            let parts = style.parts(at, &cell);
            let wide = |(text, size): &(&str, f64)| faces.of(style.is_bold(at)).width(text, *size);
            parts.iter().map(wide).fold(0.0, f64::max) + room
        };
        row.cells.iter().enumerate().map(cell).collect()
    };
    [head].into_iter().chain(style.table.rows.iter().map(row)).collect()
}

/// All get their least. What is left goes, a little at a time, to the column that makes the most rows tall.
fn shared(least: &[f64], cells: &[Vec<f64>], wide: f64) -> Vec<f64> {
    const STEP: f64 = 3.0;
    let needed: f64 = least.iter().sum();
    if needed > wide {
        return least.iter().map(|width| width * wide / needed).collect();
    }
    let mut widths = least.to_vec();
    let mut free = wide - needed;
    while free > 0.0 {
        let mut scores = vec![0_u32; widths.len()];
        for row in cells {
            let lines: Vec<f64> = row.iter().zip(&widths).map(|(cell, width)| (cell / width).ceil()).collect();
            let most = lines.iter().copied().fold(1.0, f64::max);
            for (score, line) in scores.iter_mut().zip(&lines).filter(|(_, line)| most > 1.0 && **line >= most) {
                *score += if *line > 2.0 { 2 } else { 1 };
            }
        }
        let best = scores.iter().enumerate().max_by_key(|(_, score)| **score);
        let Some((at, _)) = best.filter(|(_, score)| **score > 0) else { break };
        if let Some(width) = widths.get_mut(at) {
            *width += STEP.min(free);
        }
        free -= STEP;
    }
    widths
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::super::shop_sheet::{Column, Row, Table};
    use super::super::font::Faces;
    use super::{PAD, grid};

    proptest! {
        #[test]
        fn no_words_leave_their_column(cells in prop::collection::vec(prop::collection::vec("[a-z0-9 ()]{0,40}", 5), 1..12), wide in 150.0_f64..520.0) {
            let columns = (0..5).map(|at| Column { heading: format!("head {at}"), is_number: at % 2 == 0 }).collect();
            let rows = cells.into_iter().enumerate().map(|(at, cells)| Row { name: at.to_string(), cells, layers: Vec::new() }).collect();
            let table = Table { name: "test", columns, rows, has_boxes: false };
            let faces = Faces::new();
            let grid = grid(&table, &faces, wide);
            prop_assert!(grid.widths.iter().sum::<f64>() <= wide + 1e-6);
            for row in grid.rows.iter().chain([&grid.head]) {
                for (cell, width) in row.cells.iter().zip(&grid.widths) {
                    for (line, size) in &cell.lines {
                        prop_assert!(line.chars().count() < 2 || faces.of(cell.is_bold).width(line, *size) <= width - 2.0 * PAD + 1e-6);
                    }
                }
            }
        }
    }
}
