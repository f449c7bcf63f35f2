//! A picture at true scale, cut up into sheets that overlap.

/// Room at the foot of such a page for the check ruler, in points.
pub(super) const RULER: f64 = 66.0;
/// How far neighbors overlap, in points: a little over 10 mm.
pub(super) const OVERLAP: f64 = 30.0;

/// One sheet, in points of the whole picture.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tile {
    /// From above, from 0.
    pub row: usize,
    /// From the left, from 0.
    pub column: usize,
    /// Its upper left corner.
    pub from: (f64, f64),
    /// Lines in the middle of the overlaps, to cut along.
    pub seams: Vec<((f64, f64), (f64, f64))>,
    /// Places that are on this sheet and on its neighbor.
    pub marks: Vec<(f64, f64)>,
}

/// The sheets for a picture of this size, row by row; one when it fits.
pub(super) fn of(size: (f64, f64), room: (f64, f64)) -> Vec<Tile> {
    let (columns, rows) = (starts(size.0, room.0), starts(size.1, room.1));
    let seams = |starts: &[f64]| starts.iter().skip(1).map(|start| start + OVERLAP / 2.0).collect::<Vec<_>>();
    let (across, down) = (seams(&columns), seams(&rows));
    let mut tiles = Vec::new();
    for (row, top) in rows.iter().enumerate() {
        for (column, left) in columns.iter().enumerate() {
            let (right, foot) = (left + room.0, top + room.1);
            let xs: Vec<f64> = across.iter().copied().filter(|x| (*left..=right).contains(x)).collect();
            let ys: Vec<f64> = down.iter().copied().filter(|y| (*top..=foot).contains(y)).collect();
            let mut lines = Vec::new();
            let mut marks = Vec::new();
            for x in &xs {
                lines.push(((*x, *top), (*x, foot)));
                marks.extend([0.2, 0.8].map(|part| (*x, top + room.1 * part)));
            }
            for y in &ys {
                lines.push(((*left, *y), (right, *y)));
                marks.extend([0.2, 0.8].map(|part| (left + room.0 * part, *y)));
            }
            tiles.push(Tile { row, column, from: (*left, *top), seams: lines, marks });
        }
    }
    tiles
}

/// Where the sheets begin along one side.
fn starts(long: f64, room: f64) -> Vec<f64> {
    let step = (room - OVERLAP).max(1.0);
    let mut starts = vec![0.0];
    // A hair over is rounding.
    while starts.last().is_some_and(|last| last + room + 1e-6 < long) && starts.len() < 64 {
        starts.extend(starts.last().map(|last| last + step));
    }
    starts
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{OVERLAP, of};

    proptest! {
        #[test]
        fn every_place_is_on_a_sheet_and_every_mark_on_two(wide in 1.0_f64..3000.0, tall in 1.0_f64..3000.0, x in 0.0_f64..1.0, y in 0.0_f64..1.0) {
            let room = (500.0, 650.0);
            let tiles = of((wide, tall), room);
            let holds = |at: (f64, f64), tile: &super::Tile| {
                let (dx, dy) = (at.0 - tile.from.0, at.1 - tile.from.1);
                dx >= -1e-6 && dx <= room.0 + 1e-6 && dy >= -1e-6 && dy <= room.1 + 1e-6
            };
            prop_assert!(tiles.iter().any(|tile| holds((x * wide, y * tall), tile)));
            for tile in &tiles {
                for mark in &tile.marks {
                    let twins = tiles.iter().filter(|other| other.marks.iter().any(|twin| (twin.0 - mark.0).abs() < 1e-6 && (twin.1 - mark.1).abs() < 1e-6));
                    prop_assert!(twins.count() == 2);
                }
            }
        }
    }

    #[test]
    fn what_fits_is_one_sheet_and_neighbors_overlap() {
        assert_eq!(of((500.0, 650.0), (500.0, 650.0)).len(), 1);
        let two = of((501.0, 650.0), (500.0, 650.0));
        assert!((two[1].from.0 - (500.0 - OVERLAP)).abs() < 1e-9 && two.len() == 2);
    }
}
