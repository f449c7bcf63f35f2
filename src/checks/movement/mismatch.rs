//! Two layers glued face on face of which one moves across its grain all over the face and the other does not.

use crate::checks::Design;
use crate::checks::faces::{Face, GlueLine, Side};
use crate::finding::{Code, Finding, limits};
use crate::geometry::season::{disc_growth, hole_growth, mismatch, outside_growth};
use crate::quantity::{Diameter, Length, Ratio, at_most, show_length};

use super::air::Air;
use super::stuff::{Grain, Moves, Range, grain, range};

/// A glue face that is strained.
#[derive(Debug, Clone, Copy)]
struct Strained<'a> {
    /// What moves.
    moving: Side<'a>,
    /// What holds it.
    held_by: Side<'a>,
    wood: Moves<'a>,
    /// Where they are glued.
    across: Length,
    /// How far the one would move beyond the other there.
    by: Length,
}

/// What holds a moving layer.
#[derive(Debug, Clone, Copy)]
struct Held<'a> {
    grain: Grain,
    face: Face,
    woods: Option<Range<'a>>,
}

/// Finds every glue face at which a layer of that grain is strained beyond the limit.
pub(super) fn find(design: Design<'_>, moving: Grain, code: &'static Code, found: &mut Vec<Finding>) {
    let Some(air) = Air::of(design.recipe) else { return };
    let limit = limits::GLUED_MISMATCH.get();
    for pair in through_veneer(design.glue_lines()) {
        let strained = sides(pair).into_iter().filter_map(|(own, other)| strain(design, air, moving, own, other));
        for strained in strained.filter(|strained| strained.by > limit) {
            found.push(tell(design, air, moving, code, &strained));
        }
    }
}

/// What is glued to each other, lower and upper. Veneer between two layers follows both and parts neither.
fn through_veneer<'a>(lines: impl Iterator<Item = GlueLine<'a>>) -> impl Iterator<Item = (Side<'a>, Side<'a>)> {
    let is_veneer = |side: &Side<'_>| grain(side.built).is_none();
    let mut under_veneer: Option<Side<'a>> = None;
    lines.filter_map(move |line| {
        let before = under_veneer.take();
        let under = if is_veneer(&line.under) { before? } else { line.under };
        if is_veneer(&line.over) {
            under_veneer = Some(under);
            return None;
        }
        Some((under, line.over))
    })
}

fn sides<'a>((under, over): (Side<'a>, Side<'a>)) -> [(Side<'a>, Side<'a>); 2] {
    [(under, over), (over, under)]
}

fn strain<'a>(design: Design<'a>, air: Air, moving: Grain, own: Side<'a>, other: Side<'a>) -> Option<Strained<'a>> {
    let (lies, holds) = (grain(own.built)?, grain(other.built)?);
    let is_held = match moving {
        Grain::Solid => holds == Grain::Round,
        Grain::Upright => holds != Grain::Upright,
        Grain::Round => false,
    };
    if lies != moving || !is_held {
        return None;
    }
    let face = own.face.shared(other.face);
    if face.width() <= Length::ZERO {
        return None;
    }
    let wood = range(design.recipe, own.said)?.greatest;
    let held = Held { grain: holds, face: other.face, woods: range(design.recipe, other.said) };
    let (across, by) = greatest(face, air.strain(wood.movement), held, air);
    Some(Strained { moving: own, held_by: other, wood, across, by })
}

/// Of the outer and the inner edge of a glued face, the one that is strained more: across it, and by how much.
fn greatest(face: Face, swelling: Ratio, held: Held<'_>, air: Air) -> (Length, Length) {
    let along = air.along();
    let at = |radius: Length, growth: Length| {
        let across = Diameter::new(radius * 2.0);
        (across.across(), mismatch(disc_growth(across, swelling), growth).abs())
    };
    let mut edges = Vec::with_capacity(4);
    match held.woods.filter(|_| held.grain == Grain::Round) {
        Some(woods) => {
            for wood in [woods.least, woods.greatest] {
                let (outer, inner, through) = (held.face.outer, held.face.inner, air.strain(wood.movement));
                edges.push(at(face.outer, outside_growth(outer, inner, through, along)));
                if face.inner > Length::ZERO {
                    edges.push(at(face.inner, hole_growth(outer, inner, through, along)));
                }
            }
        }
        // One board keeps its size along its grain; so does, near enough, a ring of a wood that nobody has measured.
        None => edges.push(at(face.outer, face.outer * (2.0 * along.value()))),
    }
    edges.into_iter().fold((Length::ZERO, Length::ZERO), |worst, edge| if edge.1 > worst.1 { edge } else { worst })
}

fn tell(design: Design<'_>, air: Air, moving: Grain, code: &'static Code, case: &Strained<'_>) -> Finding {
    let limit = limits::GLUED_MISMATCH.get();
    let (own, other) = (&case.moving, &case.held_by);
    let (what, instead) = match moving {
        Grain::Upright => ("staves", "set rings of segments in their place"),
        Grain::Solid | Grain::Round => ("solid wood", "make it of `wedges`"),
    };
    let message = format!(
        "the {what} of {} ({}) would move {} on {} across where it is glued to {}, {}; {} is the most that is glued \
         without further thought",
        own.built.id,
        case.wood.name,
        design.show_fine(case.by),
        design.show(case.across),
        other.built.id,
        air.words(),
        design.show_fine(limit)
    );
    let share = limit / case.by;
    let widest = show_length(at_most(case.across * share, design.recipe.units), design.recipe.units);
    let help = format!(
        "{instead}, glue no more than {widest} across there, or let it live where the wood's moisture changes by \
         {:.1} points or less instead of {:.1}",
        (air.points() * share * 10.0).floor() / 10.0,
        air.points()
    );
    let finding = Finding::new(code, own.said.head, message).help(help).rank(case.by.mm());
    if other.said.head == own.said.head { finding } else { finding.also(other.said.head, "what it is glued to") }
}

#[cfg(test)]
mod tests {
    use super::{Held, greatest};
    use crate::checks::faces::Face;
    use crate::checks::movement::air::Air;
    use crate::checks::movement::stuff::{Grain, Moves, Range};
    use crate::quantity::{Length, Movement};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn only(movement: f64) -> Range<'static> {
        let wood = Moves { name: "test", movement: Movement::per_percent(movement) };
        Range { least: wood, greatest: wood }
    }

    /// Rows of a reference table (closed forms checked by solving the ring's differential equation), as in `season`:
    /// disc across, ring's outside radius, coefficients, points; mismatch at the hole by the rule that is told there.
    #[test]
    fn a_disc_in_a_ring_as_tabled() {
        for (disc, outer, c_disc, c_ring, points, wanted) in [
            (150.0, 90.0, 0.003_53, 0.0025, 4.0, 2.235),
            (100.0, 60.0, 0.0025, 0.0019, -6.0, 1.581),
            (8.0, 5.0, 0.0025, 0.0025, 4.0, 0.0882),
        ] {
            let air = Air::test(8.0, 8.0 + points);
            let ring = Face { outer: mm(outer), inner: mm(disc / 2.0) };
            let held = Held { grain: Grain::Round, face: ring, woods: Some(only(c_ring)) };
            // Nothing but a hair at the hole is glued, so that the outer edge is the hole's edge too.
            let glued = Face { outer: ring.inner, inner: ring.inner };
            let (across, by) = greatest(glued, air.strain(Movement::per_percent(c_disc)), held, air);
            assert!((across.mm() - disc).abs() < 1e-9);
            assert!((by.mm() / wanted - 1.0).abs() < 1e-3, "{}, not {wanted}", by.mm());
        }
    }

    #[test]
    fn staves_on_one_board_move_by_their_whole_swelling() {
        // 232 mm, C 0.00245, 8 to 11 %: 1.7 mm (Wood Handbook, FPL-GTR-190, chapter 13); the board keeps its length
        // but for 232 × 0.00005 × 3 = 0.03 mm.
        let air = Air::test(8.0, 11.0);
        let face = Face { outer: mm(116.0), inner: mm(100.0) };
        let held = Held { grain: Grain::Solid, face, woods: Some(only(0.003)) };
        let (_, by) = greatest(face, air.strain(Movement::per_percent(0.002_45)), held, air);
        assert!((by.mm() - (1.7052 - 0.0348)).abs() < 1e-9, "{}", by.mm());
    }
}
