//! Stock thicker than the blade stands over the table.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::{Angle, Length, show_angle};
use crate::source::Span;

pub(super) const CHECK: Check = Check { code: &catalog::SAW_TOO_THICK, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let list = &design.plan.cut_list;
    for strip in &list.strips {
        found.extend(
            super::first_served(design, strip).and_then(|at| tell(design, at, strip.thickness.value, Angle::ZERO)),
        );
    }
    for staves in &list.staves {
        let head = staves.serves.first().and_then(|serving| super::head(design, serving.layer));
        found.extend(head.and_then(|at| tell(design, at, staves.thickness.value, staves.tilt.value)));
    }
}

/// A tilted blade stands over the table by less: its reach times the cosine of the tilt.
fn tell(design: Design<'_>, head: Span, thickness: Length, tilt: Angle) -> Option<Finding> {
    let reach = limits::CUT_DEPTH.get() * tilt.cos().max(0.0);
    if thickness <= reach {
        return None;
    }
    let tilted = if tilt == Angle::ZERO { String::new() } else { format!(" at {}", show_angle(tilt)) };
    let message = format!(
        "stock {} thick is sawn for it; a 10 in blade{tilted} cuts {}",
        design.show(thickness),
        design.show(reach)
    );
    let finding = Finding::new(CHECK.code, head, message)
        .help("make two thinner layers of it, or saw it at a bandsaw and plane the cut ends")
        .rank((thickness - reach).mm());
    Some(finding)
}
