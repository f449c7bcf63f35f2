//! What a tool reaches of an inside through the openings that it is hollowed by.
//!
//! Seen in the section through the axis, the shaft is a strip whose one edge begins at the point that is cut. It may
//! lean across the axis, but over all the way to the opening it must stay within the wall on both sides. A bent tool
//! cuts beside its shaft.

use crate::checks::Design;
use crate::geometry::Profile;
use crate::quantity::{Length, trig};
use crate::resolve::PartKind;

/// The inside is looked at in so many even steps, and wherever it turns or steps.
const STEPS: u32 = 48;
/// Places of the shaft that are tried, from straight under the cut to as far beside it as the tool is bent.
const BESIDE: u32 = 5;
/// Halvings that close in on the radius that is reached.
const HALVINGS: u32 = 24;
/// Of no length that any tool knows.
const HAIR: Length = Length::from_mm(1e-6);

/// The inside of a part with the openings that it is hollowed through.
#[derive(Debug, Clone)]
pub(super) struct Hollow {
    pub(super) part: PartKind,
    /// Rising.
    pub(super) stations: Vec<Station>,
    /// Its own end first, then the face that two halves are glued together by.
    pub(super) openings: Vec<Length>,
    /// The layer under that face.
    pub(super) halves_at: Option<usize>,
}

/// The inside at one height; two radii where it steps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Station {
    pub(super) height: Length,
    pub(super) least: Length,
    pub(super) greatest: Length,
}

/// What hollows.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tool {
    /// Across its shaft.
    pub(super) shaft: Length,
    /// How far beside its shaft it cuts.
    pub(super) bent: Length,
    /// The most of an opening that a shaft takes up: a thinner one is taken for a narrow mouth.
    pub(super) share: f64,
}

/// Every hollow part, body before lid.
pub(super) fn hollows(design: Design<'_>) -> Vec<Hollow> {
    let vessel = design.vessel;
    let hollow = |part: &crate::geometry::TurnedPart| {
        let (bottom, top) = (part.inside.bottom(), part.inside.top());
        if part.inside.is_empty() || top - bottom <= HAIR {
            return None;
        }
        let own = if part.part == PartKind::Body { top } else { bottom };
        // A parted stack is one piece of work until it is sawn apart.
        let joints = design.plan.mounting.iter().filter_map(|mount| mount.last_joint).map(|joint| {
            let z = match &vessel.parting {
                Some(parting) if joint.z > parting.cut.value => joint.z - parting.lost.value,
                Some(_) | None => joint.z,
            };
            (joint.under, z)
        });
        let half = joints.into_iter().find(|(_, z)| *z > bottom + HAIR && *z < top - HAIR);
        Some(Hollow {
            part: part.part,
            stations: stations(&part.inside),
            openings: [Some(own), half.map(|(_, z)| z)].into_iter().flatten().collect(),
            halves_at: half.map(|(under, _)| under),
        })
    };
    vessel.bodies.iter().filter_map(hollow).collect()
}

/// Where an inside is looked at.
pub(super) fn stations(inside: &Profile) -> Vec<Station> {
    let (bottom, top) = (inside.bottom(), inside.top());
    let step = (top - bottom) / f64::from(STEPS);
    let even: Vec<Length> = (0..=STEPS).map(|at| bottom + step * f64::from(at)).collect();
    let mut heights = even.clone();
    heights.extend(inside.corners());
    for pair in even.windows(2) {
        let extremes = inside.extremes(pair[0], pair[1]);
        heights.extend([extremes.least.height, extremes.greatest.height]);
    }
    heights.sort_by(|a, b| a.mm().total_cmp(&b.mm()));
    heights.dedup_by(|a, b| (*a - *b).abs() <= HAIR);
    let station = |height: Length| {
        // Beyond its ends an inside has no wall.
        let under = if height <= bottom + HAIR { inside.above(height) } else { inside.below(height) };
        let over = if height >= top - HAIR { inside.below(height) } else { inside.above(height) };
        Station { height, least: under.min(over), greatest: under.max(over) }
    };
    heights.into_iter().map(station).collect()
}

impl Hollow {
    /// The greatest radius that a tool cuts at a height, through whichever opening lets it in best; no more than the
    /// inside has there.
    pub(super) fn reach(&self, at: Station, tool: Tool) -> Length {
        let through = |opening: &Length| {
            let way: Vec<Station> = self.way(at.height, *opening).collect();
            reach(at, &way, tool)
        };
        self.openings.iter().map(through).fold(Length::ZERO, Length::max)
    }

    /// How far a height lies from the nearest opening.
    pub(super) fn depth(&self, height: Length) -> Length {
        let apart = self.openings.iter().map(|opening| (*opening - height).abs());
        apart.reduce(Length::min).unwrap_or(Length::ZERO)
    }

    /// The stations on the way from a height to an opening, the opening among them.
    fn way(&self, from: Length, opening: Length) -> impl Iterator<Item = Station> {
        let (low, high) = (from.min(opening), from.max(opening));
        self.stations.iter().copied().filter(move |station| {
            let is_between = station.height >= low - HAIR && station.height <= high + HAIR;
            is_between && (station.height - from).abs() > HAIR
        })
    }
}

/// The greatest radius that is cut at a height over the way out.
fn reach(at: Station, way: &[Station], tool: Tool) -> Length {
    let Some(narrowest) = way.iter().map(|station| station.least).reduce(Length::min) else { return at.greatest };
    // What the way shows is drilled or cut straight in.
    if at.greatest <= narrowest + HAIR {
        return at.greatest;
    }
    let tool = Tool { shaft: tool.shaft.min(narrowest * (2.0 * tool.share)), ..tool };
    if is_reached(at.greatest, at.height, way, tool) {
        return at.greatest;
    }
    let (mut good, mut bad) = (narrowest.min(at.greatest), at.greatest);
    for _ in 0..HALVINGS {
        let middle = (good + bad) / 2.0;
        if is_reached(middle, at.height, way, tool) { good = middle } else { bad = middle }
    }
    good
}

/// Whether some place and lean of the shaft lets the tool cut at that radius.
fn is_reached(radius: Length, height: Length, way: &[Station], tool: Tool) -> bool {
    let beside = |step: u32| tool.bent * (f64::from(step) / f64::from(BESIDE));
    (0..=BESIDE).any(|step| passes(radius - beside(step), height, way, tool.shaft))
}

/// Whether a shaft passes whose outer edge begins at `edge`. The more it leans outward the better for the far side, so
/// the lean that just clears the near side decides; upright is enough where nothing is in its way.
fn passes(edge: Length, height: Length, way: &[Station], shaft: Length) -> bool {
    let up = |station: &Station| (station.height - height).abs().mm();
    let lean = way.iter().map(|station| (station.least - edge).mm() / up(station)).fold(0.0, f64::min);
    let level = shaft.mm() * trig::sqrt(1.0 + lean * lean);
    way.iter().all(|station| edge.mm() + lean * up(station) - level >= -station.least.mm() - HAIR.mm())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Hollow, Station, Tool, stations};
    use crate::geometry::{Profile, ProfilePoint};
    use crate::quantity::Length;
    use crate::resolve::PartKind;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    const TOOL: Tool = Tool { shaft: Length::from_mm(10.0), bent: Length::from_mm(25.0), share: 0.5 };

    fn hollow(at: &[(f64, f64)], is_smooth: bool) -> Hollow {
        let points: Vec<_> = at.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect();
        let inside = if is_smooth { Profile::smooth(&points) } else { Profile::straight(&points) };
        let openings = vec![inside.top()];
        Hollow { part: PartKind::Body, stations: stations(&inside), openings, halves_at: None }
    }

    fn widest(hollow: &Hollow) -> Station {
        hollow.stations.iter().copied().max_by(|a, b| a.greatest.mm().total_cmp(&b.greatest.mm())).unwrap()
    }

    #[test]
    fn a_neck_hides_what_no_bend_reaches() {
        // A drum of radius 90 under a neck of radius 10 and 60 long: the shaft stands nearly upright in the neck. Its
        // edge clears the lower end of the neck on the one side, x = 10, and the upper end on the other, with half
        // the neck across, 10: lean m from 10 + 60 m − 10 √(1 + m²) = −10, so 6 m + 2 = √(1 + m²):
        // 35 m² + 24 m + 3 = 0, m = (−24 + √156) / 70 = −0.164429. At 20 under the neck that is
        // 10 + 20 · 0.164429 = 13.289, and 25 beside it 38.289.
        let bottle = hollow(&[(0.0, 90.0), (40.0, 90.0), (40.0, 10.0), (100.0, 10.0)], false);
        let at = Station { height: mm(20.0), least: mm(90.0), greatest: mm(90.0) };
        assert!((bottle.reach(at, TOOL).mm() - 38.288_6).abs() < 1e-3, "{}", bottle.reach(at, TOOL).mm());
        // From a second opening below all of it is reached.
        let halves = Hollow { openings: vec![mm(100.0), mm(0.0)], ..bottle };
        assert!((halves.reach(at, TOOL).mm() - 90.0).abs() < 1e-9);
        assert!((halves.depth(mm(30.0)).mm() - 30.0).abs() < 1e-12);
    }

    #[test]
    fn what_the_mouth_shows_is_reached() {
        for open in [hollow(&[(5.0, 20.0), (90.0, 60.0)], false), hollow(&[(5.0, 3.0), (90.0, 3.0)], true)] {
            assert!(open.stations.iter().all(|station| open.reach(*station, TOOL) >= station.greatest));
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        /// Every lean of a shaft laid through the section, against a wall looked at much more finely.
        #[test]
        fn leans_by_brute_force(radii in proptest::collection::vec(6.0..70.0_f64, 3..7), tall in 12.0..40.0_f64) {
            let points: Vec<_> = (0..).zip(&radii).map(|(at, r)| (tall * f64::from(at), *r)).collect();
            let inside = Profile::straight(
                &points.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect::<Vec<_>>(),
            );
            let own = hollow(&points, false);
            let at = widest(&own);
            let top = inside.top().mm();
            let way: Vec<(f64, f64)> = (1..=600)
                .map(|step| at.height.mm() + (top - at.height.mm()) * f64::from(step) / 600.0)
                .map(|z| (z - at.height.mm(), inside.below(mm(z)).mm()))
                .collect();
            prop_assume!(top - at.height.mm() > 1.0);
            let narrowest = way.iter().map(|(_, r)| *r).fold(f64::INFINITY, f64::min);
            let shaft = TOOL.shaft.mm().min(narrowest);
            let lies_within = |edge: f64, lean: f64, slack: f64| {
                let level = shaft * (1.0 + lean * lean).sqrt();
                way.iter().all(|(up, r)| {
                    let x = edge + lean * up;
                    x <= r + slack && x - level >= -r - slack
                })
            };
            let brute = |radius: f64, slack: f64| {
                radius <= narrowest
                    || (0..=5).any(|step| {
                        (0..=3000).any(|lean| lies_within(radius - 5.0 * f64::from(step), -f64::from(lean) * 2e-3, slack))
                    })
            };
            let reach = own.reach(at, TOOL).mm();
            prop_assert!(brute(reach - 0.5, 0.3), "{reach} is not reached");
            if reach < at.greatest.mm() - 1.5 {
                prop_assert!(!brute(reach + 1.0, 0.0), "more than {reach} is reached");
            }
        }
    }
}
