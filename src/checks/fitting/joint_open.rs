//! Lid joints that are turned in a ring with gaps.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::quantity::show_angle;
use crate::resolve::PartKind;

use super::{gap, lies_within};

pub(super) const CHECK: Check = Check { code: &catalog::JOINT_OPEN_RING, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(joint) = &design.vessel.joint else { return };
    let (low, high) = (joint.shoulder.value.min(joint.end.value), joint.shoulder.value.max(joint.end.value));
    for (_, said, built) in design.layers() {
        let Some(gap) = gap(built) else { continue };
        let Some(part) = [PartKind::Body, PartKind::Lid].into_iter().find(|part| lies_within(built, *part, low, high))
        else {
            continue;
        };
        let what = if part == joint.on { "tenon" } else { "mortise" };
        let message = format!(
            "the {what} from {} to {} is turned in {}, whose joints stand open by {}",
            design.show(low),
            design.show(high),
            built.id,
            show_angle(gap)
        );
        found.push(
            Finding::new(CHECK.code, said.head, message)
                .also_maybe(design.recipe.fittings.joint.map(|joint| joint.head), "the joint is set here")
                .help(format!(
                    "take `gap` away from this ring, or move the joint into a closed one at least {} thick",
                    design.show(high - low)
                ))
                .rank(gap.degrees()),
        );
    }
}
