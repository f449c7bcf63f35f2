//! The pattern of the outside laid flat: round the vessel as a strip, each piece over the angles that it spans.

use crate::geometry::Vessel;
use crate::resolve::Recipe;

use super::bands::{bands, shown};
use super::pieces::{pieces, woods};
use super::solid::PieceOf;

/// All that shows of the outside. Angles counterclockwise seen from above, so that they grow to the right seen from
/// outside.
#[derive(Debug, Clone, Default)]
pub struct Unrolled {
    /// The pieces, layer by layer; one that lies over 0° is there twice.
    pub cells: Vec<Cell>,
    /// What shows of each layer: index, lower and upper height in millimeters.
    pub rows: Vec<(usize, f64, f64)>,
    /// Greatest radius, millimeters.
    pub radius: f64,
}

/// One piece, or as much of it as lies within the strip.
#[derive(Debug, Clone, Copy)]
pub struct Cell {
    /// Index into the vessel's layers.
    pub layer: usize,
    /// Which piece.
    pub is: PieceOf,
    /// Index into the recipe's woods; never a laminated board but one of its plies.
    pub wood: usize,
    /// From and to, degrees within 0 and 360.
    pub angles: (f64, f64),
    /// From and to, millimeters above the bench.
    pub heights: (f64, f64),
}

/// Lays the outside flat. Where a strip stands on a joint, each row takes its width at the middle of what shows.
#[must_use]
pub fn unrolled(recipe: &Recipe, vessel: &Vessel) -> Unrolled {
    let mut flat = Unrolled { radius: vessel.outside.max_radius().mm(), ..Unrolled::default() };
    for band in shown(&bands(vessel)) {
        let Some(layer) = vessel.layers.get(band.layer) else { continue };
        flat.rows.push((band.layer, band.from.mm(), band.to.mm()));
        let radius = band.part.outside.above((band.from + band.to) / 2.0).mm();
        for piece in pieces(band.layer, layer) {
            if matches!(piece.is, PieceOf::Plug { .. }) {
                continue;
            }
            let (from, to) = piece.sides.map_or((0.0, 360.0), |(start, end)| (start.at(radius), end.at(radius)));
            for (wood, low, high) in woods(recipe, layer, &band, piece.wood) {
                let cell =
                    |angles| Cell { layer: band.layer, is: piece.is, wood, angles, heights: (low.mm(), high.mm()) };
                flat.cells.extend(within(from, to).into_iter().map(cell));
            }
        }
    }
    flat
}

/// An arc as its parts within one turn.
fn within(from: f64, to: f64) -> Vec<(f64, f64)> {
    if to - from >= 360.0 {
        return vec![(0.0, 360.0)];
    }
    let start = from.rem_euclid(360.0);
    let end = start + (to - from);
    let parts = if end <= 360.0 { vec![(start, end)] } else { vec![(0.0, end - 360.0), (start, 360.0)] };
    parts.into_iter().filter(|(from, to)| to - from > 1e-9).collect()
}

#[cfg(test)]
mod tests {
    use super::within;

    #[test]
    fn an_arc_over_the_edge_is_in_two_parts_and_as_long() {
        assert_eq!(within(350.0, 380.0), [(0.0, 20.0), (350.0, 360.0)]);
        assert_eq!(within(-10.0, 20.0), [(0.0, 20.0), (350.0, 360.0)]);
        assert_eq!(within(330.0, 360.0), [(330.0, 360.0)]);
        assert_eq!(within(720.0, 750.0), [(0.0, 30.0)]);
        assert_eq!(within(15.0, 375.0), [(0.0, 360.0)]);
    }
}
