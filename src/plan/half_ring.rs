//! What flattening the ends of two half rings costs when every cut is a little off.
//!
//! With every end cut wrong by δ the ring misses 360° by 2Nδ; each half is off by half of that. Its
//! ends are flattened together, and the half's own center then lies beside the joint: the ring is
//! squashed (δ < 0) or stretched (δ > 0) by several times what was sanded away.

use crate::geometry::{RingSet, RingShape};
use crate::quantity::{Angle, Count, Length};
use crate::workings::{Formula, Known, Ledger};

/// With every cut off by the shop's error, the worse of too steep and too shallow.
#[derive(Debug, Clone, Copy)]
pub struct HalfRingCost {
    /// Sanded from the proud edge of each end.
    pub sanded: Known<Length>,
    /// Lost of the largest diameter that can be turned.
    pub diameter_lost: Known<Length>,
}

static SANDED: Formula = Formula {
    gives: "sanded from the ends of half rings",
    words: "(outer corner radius − inner corner radius) × sin(segments × error / 2)",
    inputs: &["segments", "long edge", "strip width", "error of each cut"],
};

static DIAMETER_LOST: Formula = Formula {
    gives: "diameter lost to flattened half rings",
    words: "2 × (long edge / (2 tan(miter)) − the least distance of a flat from the center after the halves have moved)",
    inputs: &["segments", "long edge", "strip width", "error of each cut"],
};

/// Of a flat ring with an even count of segments, all alike and joint to joint, every cut off by `error`. Of
/// other rings nobody has worked it out: `None`; nor of an error that is half the miter.
pub(super) fn cost(
    segments: Known<Count>,
    ring: &RingShape,
    error: Known<Angle>,
    ledger: &mut Ledger,
) -> Option<HalfRingCost> {
    let is_flat = matches!(ring.set, RingSet::Round | RingSet::ToMiddle { .. });
    let is_plain = ring.cut_of.is_empty() && ring.spacer.is_none() && ring.gap.is_none();
    if segments.value.0 < 4 || !segments.value.0.is_multiple_of(2) || !is_flat || !is_plain {
        return None;
    }
    if error.value.degrees() * f64::from(segments.value.0) > 90.0 {
        return None;
    }
    let (steep, shallow) = (error, error.map(|error| -error));
    let mut worse = |formula, of: fn(Sawn) -> Length| {
        let at = |error| (segments, ring.cuts[0].long_edge, ring.strip_width, error);
        let bare =
            |error: Angle| Sawn::new((segments.value, ring.cuts[0].long_edge.value, ring.strip_width.value, error));
        let error = if of(bare(shallow.value)) > of(bare(steep.value)) { shallow } else { steep };
        ledger.work(formula, at(error), |values| of(Sawn::new(values)))
    };
    Some(HalfRingCost { sanded: worse(&SANDED, Sawn::sanded), diameter_lost: worse(&DIAMETER_LOST, Sawn::lost) })
}

/// A ring whose every end cut is off by `error`, its long edge right because the stop gives it.
#[derive(Debug, Clone, Copy)]
struct Sawn {
    segments: f64,
    error: Angle,
    miter: Angle,
    apothem: Length,
    outer_corner: Length,
    inner_corner: Length,
    wanted: Length,
}

impl Sawn {
    fn new((segments, long, width, error): (Count, Length, Length, Angle)) -> Self {
        let segments = f64::from(segments.0);
        let right = Angle::from_degrees(180.0) / segments;
        let miter = right + error;
        let apothem = long / (2.0 * miter.tan());
        Self {
            segments,
            error,
            miter,
            apothem,
            outer_corner: apothem / miter.cos(),
            inner_corner: (apothem - width) / miter.cos(),
            wanted: long / (2.0 * right.tan()),
        }
    }

    /// Sine of the angle by which each end of a half is off.
    fn end(self) -> f64 {
        (self.error * (self.segments / 2.0)).sin().abs()
    }

    fn sanded(self) -> Length {
        (self.outer_corner - self.inner_corner) * self.end()
    }

    /// How far a half's own center lies from the joint after sanding; toward the half it is negative.
    fn shift(self) -> Length {
        let is_shallow = self.error < Angle::ZERO;
        if is_shallow { self.outer_corner * self.end() } else { -(self.inner_corner * self.end()) }
    }

    /// The circle that still fits when the halves have been moved together by what was sanded.
    fn largest_circle(self) -> Length {
        let shift = self.shift();
        // The flats nearest to the joint and nearest to the half's middle; the extremes lie there.
        let half = self.segments / 2.0;
        let outermost = Angle::from_degrees(90.0) - self.miter * (half - 1.0);
        let middle = if half % 2.0 == 0.0 { Angle::from_degrees(90.0) - self.miter } else { Angle::from_degrees(90.0) };
        let at = |direction: Angle| self.apothem - shift * direction.sin();
        at(outermost).min(at(middle))
    }

    fn lost(self) -> Length {
        ((self.wanted - self.largest_circle()) * 2.0).max(Length::ZERO)
    }
}

#[cfg(test)]
mod tests {
    use super::Sawn;
    use crate::quantity::{Angle, Count, Length};

    #[test]
    fn half_rings_of_the_errors_table() {
        // Computed for this project and checked there by laying the polygons out: segments, long edge, strip
        // width, error; apothem got, sanded away, largest circle.
        for (n, long, width, error, apothem, sanded, circle) in [
            (12, 53.5898, 22.7259, 0.1, 99.3064, 0.246_492, 99.5144),
            (12, 53.5898, 22.7259, -0.1, 100.703, 0.246_261, 99.6482),
            (24, 1.05322, 0.529_943, 0.05, 3.9732, 0.005_597_98, 3.97761),
            (24, 1.05322, 0.529_943, -0.05, 4.02715, 0.005_596_69, 3.98498),
            (16, 23.8695, 10.9607, -0.1, 60.5521, 0.155_98, 59.7067),
        ] {
            let sawn = Sawn::new((Count(n), Length::from_mm(long), Length::from_mm(width), Angle::from_degrees(error)));
            for (got, printed) in
                [(sawn.apothem.mm(), apothem), (sawn.sanded().mm(), sanded), (sawn.largest_circle().mm(), circle)]
            {
                assert!((got - printed).abs() <= 1e-5 * printed, "{n} {error}: {got} is not {printed}");
            }
        }
    }

    /// The same table: where light shows at both ends of a half together, and how far its center moves.
    #[test]
    fn openings_and_shifts_of_the_errors_table() {
        for (n, long, width, error, opening, shift) in [
            (12, 53.5898, 22.7259, 0.1, 0.492_984, -0.830_613),
            (12, 53.5898, 22.7259, -0.1, 0.492_523, 1.09123),
            (24, 1.05322, 0.529_943, 0.05, 0.011_196, -0.036_372_4),
        ] {
            let sawn = Sawn::new((Count(n), Length::from_mm(long), Length::from_mm(width), Angle::from_degrees(error)));
            for (got, printed) in [(sawn.sanded().mm() * 2.0, opening), (sawn.shift().mm(), shift)] {
                assert!((got - printed).abs() <= 1e-5 * printed.abs(), "{n} {error}: {got} is not {printed}");
            }
        }
    }

    #[test]
    fn right_cuts_cost_nothing() {
        let sawn = Sawn::new((Count(12), Length::from_mm(53.6), Length::from_mm(22.7), Angle::ZERO));
        assert!(sawn.lost().mm().abs() < 1e-9 && sawn.sanded().mm() == 0.0);
    }
}
