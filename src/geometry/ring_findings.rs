//! What the geometry has to say of rings that are not plain, worded: one constructor a finding.

use crate::finding::{Finding, catalog};
use crate::quantity::{Angle, Count, Length, System, at_most, show_length};
use crate::resolve::{Layer, Plug, Ring, Spacer};
use crate::workings::{Known, Origin};

use super::findings::{set_here, show_at_least};
use super::open::{Arcs, Bearing};
use super::vessel::RingShape;

fn degrees(angle: Angle) -> String {
    let shown = format!("{:.2}", angle.degrees());
    format!("{}°", shown.trim_end_matches('0').trim_end_matches('.'))
}

/// A segment that spans half of the circle or more.
pub(super) fn share_too_wide(ring: &Ring, widest: Angle) -> Finding {
    let message =
        format!("a share makes one segment span {} of the circle; it must be less than 180°", degrees(widest));
    let finding = Finding::new(&catalog::PATTERN_SHARE_TOO_WIDE, ring.pattern.span, message);
    set_here(finding, ring.segments.origin, "the count")
        .help("make its share smaller, the others larger, or use more segments")
}

/// Gaps in a ring of unequal shares.
pub(super) fn uneven_gaps(layer: &Layer, ring: &Ring) -> Finding {
    let place = ring.gap.and_then(|gap| gap.origin.span()).unwrap_or(layer.head);
    Finding::new(&catalog::RING_UNEVEN_GAPS, place, "open joints in a ring whose segments are of unlike shares")
        .also(ring.pattern.span, "the shares are here")
        .help("take away the gaps or the shares: open segments bear on each other only where they are alike")
}

/// Spacers that run into each other, in numbers.
pub(super) struct SpacerCase {
    /// Where they meet.
    pub(super) least: Length,
    /// Where the segments' inner flats lie.
    pub(super) flat: Length,
    /// Inside radius of the blank.
    pub(super) inner: Length,
    pub(super) units: System,
}

/// Spacers so thick, or a hole so small, that they meet.
pub(super) fn spacers_collide(layer: &Layer, spacer: &Spacer, case: &SpacerCase) -> Finding {
    let show = |length| show_length(length, case.units);
    let message = format!(
        "spacers of {} meet {} from the axis, and the ring goes in to {}",
        show(spacer.thick.value),
        show(case.least),
        show(case.flat)
    );
    // As far out as they meet now, thinner ones would meet in proportion farther in.
    let thick = spacer.thick.value * (case.inner / case.least).clamp(0.0, 1.0);
    let help = if case.inner > Length::ZERO {
        format!("make them {} or thinner, or use fewer segments", show(at_most(thick, case.units)))
    } else {
        "take them away: what closes in the middle has no room for them".to_owned()
    };
    let place = if spacer.thick.origin.span().is_some() { spacer.span } else { layer.head };
    Finding::new(&catalog::RING_SPACERS_COLLIDE, place, message).help(help)
}

/// How an open ring's segments bear on the next layer.
pub(super) struct BearingCase {
    pub(super) own: Arcs,
    /// Of the other layer, when it is open too.
    pub(super) other: Option<Arcs>,
    pub(super) bearing: Bearing,
    /// Whether the other layer is the one above.
    pub(super) is_above: bool,
}

impl BearingCase {
    fn on(&self) -> &'static str {
        if self.is_above { "over" } else { "under" }
    }

    fn where_told(&self) -> &'static str {
        if self.is_above { "the layer above" } else { "the layer below" }
    }

    fn way_out(&self) -> String {
        let other = self.other.map_or(self.own.count, |other| other.count);
        if other == self.own.count {
            let most = Angle::from_degrees(180.0 / f64::from(self.own.count.0.max(1)));
            format!("make the gaps much narrower than {}, and stagger the ring by half a segment", degrees(most))
        } else {
            format!("make the gaps narrower, or use {} segments in both rings", other.0)
        }
    }
}

/// Open segments with nothing under or over them.
pub(super) fn unsupported(layer: &Layer, other: &Layer, case: &BearingCase) -> Finding {
    let (none, all) = (case.bearing.untouched.0, case.own.count.0);
    let which = if none == all { format!("none of the {all}") } else { format!("{none} of the {all}") };
    let verb = if none == all { "has anything" } else { "have nothing" };
    let message = format!("{which} segments, each spanning {}, {verb} {} them", degrees(case.own.sweep), case.on());
    Finding::new(&catalog::RING_UNSUPPORTED, layer.head, message)
        .also(other.head, case.where_told())
        .help(case.way_out())
        .rank(f64::from(none))
}

/// Open segments that bear on too little at an end.
pub(super) fn thin_bearing(layer: &Layer, other: &Layer, case: &BearingCase, least: f64) -> Finding {
    let sweep = case.own.sweep.degrees();
    let bears = case.bearing.clockwise.degrees().min(case.bearing.counterclockwise.degrees());
    let message = format!(
        "a segment spans {} and bears at one end on {} {} it, {:.0} % of its length; {:.0} % is wanted",
        degrees(case.own.sweep),
        degrees(Angle::from_degrees(bears)),
        case.on(),
        100.0 * bears / sweep,
        100.0 * least
    );
    Finding::new(&catalog::RING_THIN_BEARING, layer.head, message)
        .also(other.head, case.where_told())
        .help(case.way_out())
        .rank(sweep - bears)
}

/// Wedges whose points meet in the middle.
pub(super) fn points_meet(layer: &Layer, wedges: Count) -> Finding {
    let message = format!("{} wedges end in points that meet in the middle, with no plug over them", wedges.0);
    Finding::new(&catalog::RING_POINTS_MEET, layer.head, message)
        .help("points never saw quite clean; a plug over them is usual: `plug WOOD DIAMETER`")
}

/// A plug as wide as the disc it is let into.
pub(super) fn plug_too_wide(layer: &Layer, plug: &Plug, across: Length, units: System) -> Finding {
    let show = |length| show_length(length, units);
    let message =
        format!("a plug of {} leaves nothing of wedges that are {} across", show(plug.diameter.value), show(across));
    Finding::new(&catalog::RING_PLUG_TOO_WIDE, plug.span, message)
        .also(layer.head, "the wedges")
        .help("make the plug smaller, or use a `disc` for the whole layer")
}

/// Wedges sawn from a strip that does not reach the middle.
pub(super) fn wedges_too_short(
    layer: &Layer,
    strip: Known<Length>,
    sawn: &RingShape,
    outer: Length,
    units: System,
) -> Finding {
    let show = |length| show_length(length, units);
    let message = format!(
        "a strip of {} does not reach the middle: the hole's corners lie {} from the axis",
        show(strip.value),
        show(sawn.hole_radius)
    );
    let place = match strip.origin {
        Origin::Written(span) => span,
        Origin::Every(_)
        | Origin::Shop(_)
        | Origin::Made(_)
        | Origin::Default(_)
        | Origin::Table(_)
        | Origin::Figure(_) => layer.head,
    };
    Finding::new(&catalog::RING_DOES_NOT_COVER, place, message).help(format!(
        "use a strip of {} or more, or a plug wider than {}",
        show_at_least(outer, units),
        show(sawn.hole_radius * 2.0)
    ))
}

/// Staves that lie rather than stand.
pub(super) fn leans_too_far(layer: &Layer, lean: Angle, most: Angle) -> Finding {
    let message = format!("these staves lean by {}, more than {}", degrees(lean), degrees(most));
    Finding::new(&catalog::STAVE_LEANS_TOO_FAR, layer.head, message)
        .help("use flat `ring`s here, or divide the height among staves that follow the shape in steps")
}

/// A cone against the shape, in numbers.
pub(super) struct ConeCase {
    /// Level width of its rings.
    pub(super) width: Length,
    /// What wall and allowance take of it.
    pub(super) needed: Length,
    /// Outside radius at the narrow end.
    pub(super) narrowest: Length,
    pub(super) thick: Length,
    /// Outward for upward, without its sign.
    pub(super) slope: f64,
    /// Of the saw, measured level.
    pub(super) kerf: Length,
    pub(super) units: System,
}

/// Rings of a cone that are too narrow for the wall.
pub(super) fn cone_too_thin(layer: &Layer, case: &ConeCase) -> Finding {
    let show = |length| show_length(length, case.units);
    let message = format!(
        "rings sawn at a slant from a board of {} are {} wide, and the wall here needs {} with its turning allowance",
        show(case.thick),
        show(case.width.max(Length::ZERO)),
        show(case.needed)
    );
    let thick = (case.needed + case.kerf) / case.slope.max(f64::MIN_POSITIVE);
    let help = if case.slope > 0.05 {
        format!("use a board of {} or more, or a stack of `ring`s", show_at_least(thick, case.units))
    } else {
        "the wall stands too upright for a cone: use a stack of `ring`s or `staves`".to_owned()
    };
    let finding = Finding::new(&catalog::CONE_TOO_THIN, layer.head, message);
    set_here(finding, layer.thick.origin, "the board's thickness").help(help)
}

/// Rings of a cone that would reach past the axis.
pub(super) fn cone_past_center(layer: &Layer, case: &ConeCase) -> Finding {
    let show = |length| show_length(length, case.units);
    let message = format!(
        "rings sawn at a slant from a board of {} are {} wide, and the smallest is only {} in radius",
        show(case.thick),
        show(case.width),
        show(case.narrowest)
    );
    let thick = (case.narrowest + case.kerf) / case.slope.max(f64::MIN_POSITIVE);
    Finding::new(&catalog::CONE_PAST_CENTER, layer.head, message).help(format!(
        "use a board thinner than {}; the wall needs {}",
        show(thick),
        show(case.needed)
    ))
}
