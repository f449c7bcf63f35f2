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

/// The sheets of one picture, row by row.
pub(super) struct Tiling {
    /// One when it fits.
    pub tiles: Vec<Tile>,
    /// What each sheet shows: no more than there is room for, and of all the same.
    pub shown: (f64, f64),
}

/// How many sheets a picture of this size takes.
pub(super) fn sheets(size: (f64, f64), room: (f64, f64)) -> f64 {
    along(size.0, room.0) * along(size.1, room.1)
}

/// As few sheets as a picture of this size takes, the picture shared out evenly among them.
pub(super) fn of(size: (f64, f64), room: (f64, f64)) -> Tiling {
    let ((columns, wide), (rows, tall)) = (starts(size.0, room.0), starts(size.1, room.1));
    let shown = (wide, tall);
    let seams = |starts: &[f64]| starts.iter().skip(1).map(|start| start + OVERLAP / 2.0).collect::<Vec<_>>();
    let (across, down) = (seams(&columns), seams(&rows));
    let mut tiles = Vec::new();
    for (row, top) in rows.iter().enumerate() {
        for (column, left) in columns.iter().enumerate() {
            let (right, foot) = (left + wide, top + tall);
            let xs: Vec<f64> = across.iter().copied().filter(|x| (*left..=right).contains(x)).collect();
            let ys: Vec<f64> = down.iter().copied().filter(|y| (*top..=foot).contains(y)).collect();
            let mut lines = Vec::new();
            let mut marks = Vec::new();
            for x in &xs {
                lines.push(((*x, *top), (*x, foot)));
                marks.extend([0.2, 0.8].map(|part| (*x, top + tall * part)));
            }
            for y in &ys {
                lines.push(((*left, *y), (right, *y)));
                marks.extend([0.2, 0.8].map(|part| (left + wide * part, *y)));
            }
            tiles.push(Tile { row, column, from: (*left, *top), seams: lines, marks });
        }
    }
    Tiling { tiles, shown }
}

/// How many sheets one side takes.
fn along(long: f64, room: f64) -> f64 {
    // A hair over is rounding.
    const HAIR: f64 = 1e-6;
    if long <= room + HAIR { 1.0 } else { ((long - OVERLAP - HAIR) / (room - OVERLAP)).ceil() }
}

/// Where the sheets begin along one side, and how much of it each shows.
fn starts(long: f64, room: f64) -> (Vec<f64>, f64) {
    let sheets = along(long, room);
    if sheets <= 1.0 {
        return (vec![0.0], room);
    }
    let shown = (long + (sheets - 1.0) * OVERLAP) / sheets;
    let starts = (0_u32..).map(f64::from).take_while(|at| *at < sheets).map(|at| at * (shown - OVERLAP));
    (starts.collect(), shown)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::of;

    proptest! {
        #[test]
        fn every_place_is_on_a_sheet_and_every_mark_on_two(wide in 1.0_f64..3000.0, tall in 1.0_f64..3000.0, x in 0.0_f64..1.0, y in 0.0_f64..1.0) {
            let room = (500.0, 650.0);
            let super::Tiling { tiles, shown } = of((wide, tall), room);
            prop_assert!((super::sheets((wide, tall), room) - tiles.iter().map(|_| 1.0).sum::<f64>()).abs() < 0.5);
            prop_assert!(shown.0 <= room.0 + 1e-6 && shown.1 <= room.1 + 1e-6);
            let holds = |at: (f64, f64), tile: &super::Tile| {
                let (dx, dy) = (at.0 - tile.from.0, at.1 - tile.from.1);
                dx >= -1e-6 && dx <= shown.0 + 1e-6 && dy >= -1e-6 && dy <= shown.1 + 1e-6
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
        assert_eq!(of((500.0, 650.0), (500.0, 650.0)).tiles.len(), 1);
        let two = of((510.0, 650.0), (500.0, 650.0));
        assert_eq!(two.tiles.iter().map(|tile| tile.from).collect::<Vec<_>>(), [(0.0, 0.0), (240.0, 0.0)]);
        assert_eq!(two.shown, (270.0, 650.0), "half of the picture and of the overlap");
    }
}
