//! Joints of a ring that would open at one end when the air changes; glued shut, they are strained.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::geometry::season::{Opening, gap_in_each_joint, moved_miter, opening};
use crate::geometry::{BuiltLayer, LayerShape, RingSet};
use crate::quantity::{Angle, Length, at_most, show_length, trig};

use super::air::Air;
use super::stuff::range;

pub(super) const CHECK: Check = Check { code: &catalog::MOVEMENT_MITERS_OPEN, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(air) = Air::of(design.recipe) else { return };
    let (limit, along) = (limits::JOINT_OPENS.get(), air.along());
    for (_, said, built) in design.layers() {
        let Some((miter, width)) = joints(design, built) else { continue };
        let Some(woods) = range(design.recipe, said) else { continue };
        let across = air.strain(woods.greatest.movement);
        let then = moved_miter(miter, across, along);
        let gap = gap_in_each_joint(width * (1.0 + across.value()), miter, then);
        let Some(end) = opening(miter, then).filter(|_| gap > limit) else { continue };
        let (end, season) = match end {
            Opening::Outside => ("on the outside", "damp"),
            Opening::Inside => ("on the inside", "dry"),
        };
        let units = design.recipe.units;
        let message = format!(
            "when {season}, each joint of {} ({}) would open {} {end} if it were free, {}; held shut by glue, more than \
             {} is a lasting strain",
            built.id,
            woods.greatest.name,
            design.show_fine(gap),
            air.words(),
            design.show_fine(limit)
        );
        let share = limit / gap;
        let narrower = show_length(at_most(width * share, units), units);
        let help = format!(
            "use {} segments or more, or keep the wood there no more than {narrower} wide instead of {}",
            enough_segments(miter, share),
            design.show(width)
        );
        found.push(Finding::new(CHECK.code, said.head, message).help(help).rank(gap.mm()));
    }
}

/// The greatest miter of a ring with closed joints and how long they are, level.
fn joints(design: Design<'_>, built: &BuiltLayer) -> Option<(Angle, Length)> {
    let LayerShape::Ring(ring) = &built.shape else { return None };
    if ring.gap.is_some() {
        return None;
    }
    let plug = match ring.set {
        RingSet::Round => None,
        RingSet::ToMiddle { plug } => plug,
        RingSet::Upright(_) => return None,
    };
    let wall = design.level_wall(built)?;
    // A plug takes the points of the wedges.
    let width = wall - plug.map_or(Length::ZERO, |plug| plug.diameter.value / 2.0);
    Some((ring.widest()?.sweep / 2.0, width))
}

/// The gap goes with the sine of the miter: so many equal segments make it `share` of what it is.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "far below the greatest count")]
fn enough_segments(miter: Angle, share: f64) -> u32 {
    let least = trig::asin(miter.sin() * share).to_degrees();
    (180.0 / least.max(f64::MIN_POSITIVE)).ceil().min(1e6) as u32
}

#[cfg(test)]
mod tests {
    use super::enough_segments;
    use crate::finding::limits;
    use crate::geometry::ring::miter;
    use crate::geometry::season::{gap_in_each_joint, moved_miter};
    use crate::quantity::{Count, Length, Ratio};

    /// The gap of a maple ring after four points of moisture.
    fn gap(segments: u32, width: f64) -> f64 {
        let (across, along) = (Ratio::of(0.003_53 * 4.0), Ratio::of(0.000_05 * 4.0));
        let cut = miter(Count(segments));
        let then = moved_miter(cut, across, along);
        gap_in_each_joint(Length::from_mm(width * 1.014_12), cut, then).mm()
    }

    #[test]
    fn usual_rings_stay_under_the_limit() {
        // By hand: 2 × 30 × sin 15° × (0.01412 − 0.0002) = 0.216 mm.
        assert!((gap(12, 30.0) - 0.216).abs() < 0.001, "{}", gap(12, 30.0));
        assert!(gap(12, 30.0) < limits::JOINT_OPENS.get().mm());
        assert!(gap(8, 25.0) < limits::JOINT_OPENS.get().mm());
    }

    #[test]
    fn as_many_segments_as_told_are_enough_and_one_fewer_are_not() {
        for (segments, width) in [(6, 40.0), (8, 60.0), (12, 90.0)] {
            let limit = limits::JOINT_OPENS.get().mm();
            let told = enough_segments(miter(Count(segments)), limit / gap(segments, width));
            assert!(gap(told, width) <= limit * 1.002, "{told}: {}", gap(told, width));
            assert!(gap(told - 1, width) > limit * 0.998, "{told}: {}", gap(told - 1, width));
        }
    }
}
