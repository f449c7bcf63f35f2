//! How the pieces of a ring are sawn: the one question that plain, uneven, spaced and open rings answer
//! differently. Everything else about them is the same.

use crate::quantity::{Angle, Count, Length};
use crate::resolve::{Gap, Ring};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::{open, ring, shares, spacer, wedge};

/// Sweeps that differ by less are one kind of piece; no saw tells them apart.
const SAME_SWEEP_DEG: f64 = 1e-9;

static SWEEP_OF_SHARE: Formula = Formula {
    gives: "share of the circle",
    words: "360° × the segment's share / the shares of all segments together",
    inputs: &["the segment's share", "all shares together"],
};

/// What stands between the pieces.
#[derive(Debug, Clone, Copy)]
pub(super) enum Cutting {
    /// Nothing; all alike.
    Plain,
    /// Nothing; of unlike shares.
    Uneven,
    /// Strips so thick.
    Spaced(Known<Length>),
    /// Air.
    Open,
}

/// One kind of piece.
#[derive(Debug, Clone, Copy)]
pub(super) struct Kind {
    /// What it spans.
    pub(super) sweep: Known<Angle>,
    /// Half of it, which its ends are off square by.
    pub(super) miter: Known<Angle>,
}

/// A ring divided into its pieces.
pub(super) struct Division {
    pub(super) cutting: Cutting,
    /// Never empty.
    pub(super) kinds: Vec<Kind>,
    /// Which kind each segment is of; empty when there is only one.
    pub(super) kind_of: Vec<usize>,
    pub(super) gap: Option<Known<Angle>>,
    pub(super) segments: Known<Count>,
}

impl Division {
    /// Divides the circle as the recipe says.
    pub(super) fn of(said: &Ring, ledger: &mut Ledger) -> Self {
        let segments = said.segments;
        if let Some(gap) = said.gap {
            return Self::open(segments, gap, ledger);
        }
        let spaced = said.spacer.map(|spacer| Cutting::Spaced(spacer.thick));
        let total: f64 = said.pattern.shares.iter().map(|share| share.value()).sum();
        if total <= 0.0 {
            let miter = ledger.work(&ring::MITER, (segments,), |(n,)| ring::miter(n));
            let kind = Kind { sweep: miter.map(|miter| miter * 2.0), miter };
            let cutting = spaced.unwrap_or(Cutting::Plain);
            return Self { cutting, kinds: vec![kind], kind_of: Vec::new(), gap: None, segments };
        }
        let mut division = Self {
            cutting: spaced.unwrap_or(Cutting::Uneven),
            kinds: Vec::new(),
            kind_of: Vec::new(),
            gap: None,
            segments,
        };
        division.share_out(said, ledger);
        division
    }

    fn open(segments: Known<Count>, gap: Known<Gap>, ledger: &mut Ledger) -> Self {
        let gap = match gap.value {
            Gap::Angle(angle) => gap.map(|_| angle),
            Gap::Share(share) => ledger
                .work(&open::GAP_OF_SHARE, (gap.map(|_| share), segments), |(share, n)| open::gap_of_share(share, n)),
        };
        let sweep = ledger.work(&open::SWEEP, (segments, gap), |(n, gap)| open::sweep(n, gap));
        let miter = ledger.work(&open::MITER, (sweep,), |(sweep,)| open::miter(sweep));
        let kinds = vec![Kind { sweep, miter }];
        Self { cutting: Cutting::Open, kinds, kind_of: Vec::new(), gap: Some(gap), segments }
    }

    fn share_out(&mut self, said: &Ring, ledger: &mut Ledger) {
        let written = Origin::Written(said.pattern.span);
        let shares = || said.pattern.shares.iter().copied().cycle().take(self.segments.value.0 as usize);
        let all = Known::new(shares().fold(crate::quantity::Ratio::default(), |sum, share| sum + share), written);
        let mut kind_of_share = Vec::with_capacity(said.pattern.shares.len());
        for share in &said.pattern.shares {
            let sweep = 360.0 * share.value() / all.value.value().max(f64::MIN_POSITIVE);
            let same = |kind: &Kind| (kind.sweep.value.degrees() - sweep).abs() <= SAME_SWEEP_DEG;
            let at = self.kinds.iter().position(same).unwrap_or_else(|| {
                let sweep =
                    ledger.work(&SWEEP_OF_SHARE, (Known::new(*share, written), all), |_| Angle::from_degrees(sweep));
                let miter = ledger.work(&shares::END_CUT, (sweep,), |(sweep,)| shares::end_cut(sweep));
                self.kinds.push(Kind { sweep, miter });
                self.kinds.len() - 1
            });
            kind_of_share.push(at);
        }
        // Shares may be written out and yet all be the same.
        if self.kinds.len() > 1 {
            self.kind_of = kind_of_share.into_iter().cycle().take(self.segments.value.0 as usize).collect();
        }
    }

    /// Of each segment.
    pub(super) fn kind(&self, segment: usize) -> Kind {
        self.kinds[self.kind_of.get(segment).copied().unwrap_or(0)]
    }

    /// Of each segment, in their order.
    pub(super) fn segments(&self) -> impl Iterator<Item = Kind> {
        (0..self.segments.value.0 as usize).map(|segment| self.kind(segment))
    }

    /// Its half sweep decides how wide the strip must be.
    pub(super) fn widest(&self) -> Kind {
        self.kinds.iter().fold(self.kinds[0], |a, b| if b.sweep.value > a.sweep.value { *b } else { a })
    }

    /// Beside it two spacers meet first.
    pub(super) fn narrowest(&self) -> Kind {
        self.kinds.iter().fold(self.kinds[0], |a, b| if b.sweep.value < a.sweep.value { *b } else { a })
    }
}

impl Cutting {
    /// The least strip that covers `inner` to `outer`, level.
    pub(super) fn needed_width(
        self,
        ledger: &mut Ledger,
        outer: Known<Length>,
        inner: Option<Known<Length>>,
        widest: Kind,
    ) -> Known<Length> {
        let Some(inner) = inner else {
            return ledger.work(&wedge::NEEDED_WIDTH, (outer,), |(outer,)| wedge::needed_width(outer));
        };
        match self {
            Self::Plain => ledger.work(&ring::NEEDED_WIDTH, (outer, inner, widest.miter), |(outer, inner, m)| {
                ring::needed_width(outer, inner, m)
            }),
            Self::Uneven => {
                ledger.work(&shares::NEEDED_WIDTH, (outer, inner, widest.sweep), |(outer, inner, sweep)| {
                    shares::needed_width(outer, inner, sweep)
                })
            }
            Self::Open => ledger.work(&open::NEEDED_WIDTH, (outer, inner, widest.sweep), |(outer, inner, sweep)| {
                open::needed_width(outer, inner, sweep)
            }),
            Self::Spaced(thick) => {
                ledger.work(&spacer::NEEDED_WIDTH, (outer, inner, thick, widest.miter), |(outer, inner, thick, m)| {
                    spacer::needed_width(outer, inner, thick, m)
                })
            }
        }
    }

    pub(super) fn long_edge(self, ledger: &mut Ledger, outer: Known<Length>, kind: Kind) -> Known<Length> {
        match self {
            Self::Plain => ledger.work(&ring::LONG_EDGE, (outer, kind.miter), |(outer, m)| ring::long_edge(outer, m)),
            Self::Uneven => {
                ledger.work(&shares::LONG_EDGE, (outer, kind.sweep), |(outer, sweep)| shares::long_edge(outer, sweep))
            }
            Self::Open => {
                ledger.work(&open::LONG_EDGE, (outer, kind.sweep), |(outer, sweep)| open::long_edge(outer, sweep))
            }
            Self::Spaced(thick) => ledger.work(&spacer::LONG_EDGE, (outer, thick, kind.miter), |(outer, thick, m)| {
                spacer::long_edge(outer, thick, m)
            }),
        }
    }

    /// Of a piece that reaches from `outer` through all of `strip`, which is as wide as needed for
    /// `inner` unless it was there already.
    pub(super) fn short_edge(
        self,
        ledger: &mut Ledger,
        (outer, inner): (Known<Length>, Option<Known<Length>>),
        (strip, is_given): (Known<Length>, bool),
        long: Known<Length>,
        kind: Kind,
    ) -> Known<Length> {
        match (self, inner) {
            (Self::Spaced(thick), _) => {
                ledger.work(&spacer::SHORT_EDGE, (outer, strip, thick, kind.miter), |(outer, strip, thick, m)| {
                    spacer::short_edge(outer, strip, thick, m)
                })
            }
            (Self::Plain | Self::Open, None) => {
                Known::new(Length::ZERO, Origin::Default(&"wedges end in a point, in the middle"))
            }
            (Self::Uneven, _) => {
                ledger.work(&shares::SHORT_EDGE, (outer, strip, kind.sweep), |(outer, strip, sweep)| {
                    shares::short_edge(outer, strip, sweep)
                })
            }
            (Self::Plain | Self::Open, Some(_)) if is_given => {
                ledger.work(&ring::SHORT_EDGE_OF_STRIP, (long, strip, kind.miter), |(long, strip, m)| {
                    ring::short_edge_of_strip(long, strip, m)
                })
            }
            (Self::Plain, Some(inner)) => {
                ledger.work(&ring::SHORT_EDGE, (inner, kind.miter), |(inner, m)| ring::short_edge(inner, m))
            }
            (Self::Open, Some(inner)) => {
                ledger.work(&open::SHORT_EDGE, (inner, kind.sweep), |(inner, sweep)| open::short_edge(inner, sweep))
            }
        }
    }

    pub(super) fn corner_radius(self, ledger: &mut Ledger, outer: Known<Length>, widest: Kind) -> Known<Length> {
        match self {
            Self::Plain | Self::Open => {
                ledger.work(&ring::CORNER_RADIUS, (outer, widest.miter), |(outer, m)| ring::corner_radius(outer, m))
            }
            Self::Uneven => ledger.work(&shares::CORNER_RADIUS, (outer, widest.sweep), |(outer, sweep)| {
                shares::corner_radius(outer, sweep)
            }),
            Self::Spaced(thick) => {
                ledger.work(&spacer::CORNER_RADIUS, (outer, thick, widest.miter), |(outer, thick, m)| {
                    spacer::corner_radius(outer, thick, m)
                })
            }
        }
    }

    /// How far the hole of a blank reaches that is `strip` wide, level.
    pub(super) fn hole_corner(self, outer: Length, strip: Length, widest: Kind) -> Length {
        let miter = widest.miter.value;
        match self {
            Self::Plain | Self::Open | Self::Uneven => ring::hole_corner(outer, strip, miter),
            Self::Spaced(_) if strip >= outer => Length::ZERO,
            Self::Spaced(thick) => spacer::hole_corner(outer, strip, thick.value, miter),
        }
    }

    /// How wide a piece is, from joint to joint, where it lies `flat` from the axis.
    pub(super) fn width_at(self, flat: Length, kind: Kind) -> Length {
        match self {
            Self::Plain | Self::Open | Self::Uneven => ring::long_edge(flat, kind.miter.value),
            Self::Spaced(thick) => spacer::long_edge(flat, thick.value, kind.miter.value),
        }
    }
}
