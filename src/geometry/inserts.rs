//! Each insert's hole, what fits it, what is left of the wood under it, and its blank.

use crate::finding::{Finding, limits};
use crate::quantity::{Area, Diameter, Length};
use crate::resolve::{Blank, Insert, InsertForm, PartKind, Recipe, Seat};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::insert::{self, SideHole};
use super::{BuiltInsert, Profile, Vessel, insert_checks, insert_findings as findings};

/// A bit this near to a hole makes it.
pub(super) const SAME_BIT: Length = limits::FINEST_SETTING.get();
/// A bit farther than this from the tenon that is asked for makes another tenon.
const NEAR_BIT: Length = limits::NEAR_BIT.get();
/// Play of a plug in its hole, on the diameter.
const PLUG_CLEARANCE: Length = Length::from_mm(0.2);
/// Least and usual room round a liner, on the radius.
pub(super) const LEAST_GAP: Length = limits::LINER_GAP.get();
const USUAL_GAP: Length = Length::from_mm(1.5);
/// Least width of the shoulder round a tenon.
pub(super) const LEAST_SHOULDER: Length = limits::LEAST_SHOULDER.get();
/// Round a wide plug wood moves more than glue allows.
const WIDE_ROUND: Length = limits::WIDE_PLUG.get();

static PLUG_FOR: Formula =
    Formula { gives: "plug", words: "hole − play of the plug", inputs: &["hole", "play of the plug"] };
static LINER_HOLE: Formula =
    Formula { gives: "hole for the liner", words: "liner + 2 × room round it", inputs: &["liner", "room round it"] };
static THICKNESS: Formula = Formula {
    gives: "thickness under the hole",
    words: "from the hole's rim to the nearest point of the far surface, over the hole's whole width",
    inputs: &["hole", "wall"],
};
static STANDS_IN: Formula = Formula {
    gives: "room for the liner",
    words: "2 × the least radius of the body's inside, from the floor to the mouth that it has to pass",
    inputs: &["floor", "wall"],
};
static CAVITY_DEPTH: Formula =
    Formula { gives: "depth of the cavity", words: "rim − floor", inputs: &["rim", "floor"] };
static ROUND_FACE: Formula =
    Formula { gives: "glued face under the round", words: "π/4 × diameter²", inputs: &["diameter"] };
static ROUND_STOCK: Formula =
    Formula { gives: "thickness of the blank", words: "thickness + facing", inputs: &["thickness", "facing"] };
static SEEN: Formula = Formula {
    gives: "left for what is seen",
    words: "length of the blank − tenon − chucking stub − parting − 2 × facing",
    inputs: &["length of the blank", "length of the tenon", "chucking stub", "parting", "facing"],
};

/// Every insert of a recipe that has a place to sit.
pub(super) fn inserts(
    recipe: &Recipe,
    vessel: &Vessel,
    ledger: &mut Ledger,
    found: &mut Vec<Finding>,
) -> Vec<BuiltInsert> {
    if recipe.is_partial {
        return Vec::new();
    }
    let mut fitting = Fitting { recipe, vessel, ledger, found };
    let mut built: Vec<BuiltInsert> = Vec::new();
    for (said, insert) in recipe.fittings.inserts.iter().enumerate() {
        built.extend(fitting.insert(said, insert));
    }
    insert_checks::overlaps(recipe, vessel, &built, found);
    built
}

/// The hole as it is made, and what goes into it.
struct Hole {
    across: Known<Diameter>,
    depth: Known<Length>,
    /// Of what goes in.
    diameter: Known<Diameter>,
    length: Known<Length>,
}

/// What a hole finds.
pub(super) struct Found {
    pub(super) rim: Length,
    pub(super) thickness: Length,
    pub(super) rim_drop: Length,
}

struct Fitting<'a> {
    recipe: &'a Recipe,
    vessel: &'a Vessel,
    ledger: &'a mut Ledger,
    found: &'a mut Vec<Finding>,
}

impl Fitting<'_> {
    fn insert(&mut self, said: usize, insert: &Insert) -> Option<BuiltInsert> {
        let (recipe, vessel) = (self.recipe, self.vessel);
        let Some((outside, inside)) = turned(vessel, insert.seat.part()) else {
            self.found.push(findings::no_seat(recipe, vessel, insert));
            return None;
        };
        if matches!(insert.seat, Seat::LidInside | Seat::BodyInside) && inside.is_empty() {
            self.found.push(findings::no_seat(recipe, vessel, insert));
            return None;
        }
        self.check_round(insert);
        let stands = matches!((insert.seat, insert.form), (Seat::BodyInside, InsertForm::Liner { .. }));
        if stands && insert.hole_depth.is_none() {
            return Some(self.standing_liner(said, insert, &inside));
        }
        let hole = self.hole(insert);
        let at = seat(insert.seat, &outside, &inside, hole.across.value);
        if insert_checks::is_too_wide(insert.seat, &outside, &inside, hole.across.value) {
            self.found.push(findings::too_wide(recipe, insert, hole.across.value));
            return None;
        }
        if stands {
            // Into a bore in the floor it goes through the cavity above.
            let passage = Diameter::new(inside.extremes(at.rim, inside.top()).least.radius * 2.0);
            self.check_room(insert, passage);
        }
        let thickness = self.ledger.work(&THICKNESS, (hole.across, recipe.wall), |_| at.thickness);
        let left = self.ledger.work(&insert::LEFT_UNDER, (thickness, hole.depth), |(t, d)| insert::left_under(t, d));
        let facing = insert_checks::facing(vessel, insert.seat, hole.across.value.radius());
        let (blank, seen) = self.blank(insert, &hole);
        let built = BuiltInsert {
            said,
            hole_diameter: hole.across.map(Diameter::across),
            hole_depth: hole.depth,
            is_drilled: self.bit(hole.across.value).is_some(),
            diameter: hole.diameter.map(Diameter::across),
            length: hole.length,
            left,
            glue_area: self.glue_area(insert, &hole),
            blank,
            rim: at.rim,
            rim_drop: at.rim_drop,
            seen,
            facing,
        };
        insert_checks::depth(recipe, insert, &built, thickness.value, self.found);
        // A hole that goes through has nothing else to mind.
        if built.left.value > Length::ZERO {
            insert_checks::glue_lines(recipe, vessel, insert, &built, self.found);
        }
        Some(built)
    }

    /// The bit of the shop that makes a hole.
    fn bit(&self, hole: Diameter) -> Option<Known<Diameter>> {
        self.recipe.shop.bits.iter().copied().find(|bit| (bit.value - hole).abs() < SAME_BIT)
    }

    fn hole(&mut self, insert: &Insert) -> Hole {
        let wanted = insert.form.diameter().map(Diameter::new);
        let clearance = Known::new(insert::GLUE_CLEARANCE, Origin::Default(&insert::GLUE_CLEARANCE_REASON));
        let given = insert.hole_diameter.map(|across| across.map(Diameter::new));
        let (across, diameter) = match insert.form {
            InsertForm::Tenon { .. } => {
                let across = given.unwrap_or_else(|| self.bit_for(insert, wanted, clearance));
                let tenon = self
                    .ledger
                    .work(&insert::TENON_FOR, (across, clearance), |(hole, play)| insert::tenon_for(hole, play));
                (across, tenon)
            }
            InsertForm::Plug { .. } | InsertForm::Medallion { .. } => {
                let play = Known::new(PLUG_CLEARANCE, Origin::Default(&"a plug fits with 0.2 mm: common practice"));
                let across = given.unwrap_or(wanted);
                let plug = self.ledger.work(&PLUG_FOR, (across, play), |(hole, play)| hole - play);
                (across, plug)
            }
            InsertForm::Liner { .. } => (given.unwrap_or_else(|| self.liner_hole(wanted)), wanted),
        };
        let length = insert.form.length().unwrap_or_else(|| {
            self.ledger.work(&insert::TENON_LENGTH, (diameter,), |(tenon,)| insert::tenon_length(tenon))
        });
        let depth = insert.hole_depth.unwrap_or_else(|| match insert.form {
            InsertForm::Tenon { .. } => {
                let relief = Known::new(insert::HOLE_RELIEF, Origin::Default(&insert::HOLE_RELIEF_REASON));
                self.ledger
                    .work(&insert::HOLE_DEPTH, (length, relief), |(long, relief)| insert::hole_depth(long, relief))
            }
            InsertForm::Plug { .. } | InsertForm::Medallion { .. } | InsertForm::Liner { .. } => length,
        });
        let hole = Hole { across, depth, diameter, length };
        self.check_given(insert, &hole, wanted.value);
        hole
    }

    fn bit_for(&mut self, insert: &Insert, wanted: Known<Diameter>, clearance: Known<Length>) -> Known<Diameter> {
        let owned: Vec<Diameter> = self.recipe.shop.bits.iter().map(|bit| bit.value).collect();
        let bit = self.ledger.work(&insert::BIT_FOR, (wanted, clearance), |(tenon, play)| {
            insert::bit_for(tenon, play, &owned).unwrap_or(tenon)
        });
        if (bit.value - wanted.value).abs() > NEAR_BIT {
            let tenon = insert::tenon_for(bit.value, clearance.value);
            let origin = self.recipe.shop.bits.first().map(|bit| bit.origin);
            self.found.push(findings::no_bit(self.recipe, insert, bit.value, tenon, origin));
        }
        bit
    }

    /// A bit that leaves 1 to 2 mm all round, or a hole turned with 1.5 mm.
    fn liner_hole(&mut self, liner: Known<Diameter>) -> Known<Diameter> {
        let gap = Known::new(USUAL_GAP, Origin::Default(&"1 to 2 mm all round: wood shrinks on to a liner"));
        let hole = self.ledger.work(&LINER_HOLE, (liner, gap), |(liner, gap)| liner + gap * 2.0);
        let room = |bit: &Known<Diameter>| (bit.value - liner.value) / 2.0;
        let fits = |bit: &&Known<Diameter>| room(bit) >= LEAST_GAP && room(bit) <= LEAST_GAP * 2.0;
        self.recipe.shop.bits.iter().find(fits).copied().unwrap_or(hole)
    }

    /// A hole that the recipe gives must take what goes in.
    fn check_given(&mut self, insert: &Insert, hole: &Hole, wanted: Diameter) {
        let is_liner = matches!(insert.form, InsertForm::Liner { .. });
        if is_liner {
            self.check_room(insert, hole.across.value);
        } else if insert.hole_diameter.is_some() && hole.across.value < wanted - NEAR_BIT {
            self.found.push(findings::hole_narrow(self.recipe, insert, hole.across.value));
        }
        let is_tenon = matches!(insert.form, InsertForm::Tenon { .. });
        if is_tenon && hole.depth.value < hole.length.value {
            self.found.push(findings::hole_shallow(self.recipe, insert, hole.depth, hole.length.value));
        }
    }

    /// Solid rounds beyond some width crack or break their glue.
    fn check_round(&mut self, insert: &Insert) {
        let is_round = matches!(insert.form, InsertForm::Plug { .. } | InsertForm::Medallion { .. });
        if is_round && insert.form.diameter().value > WIDE_ROUND {
            self.found.push(findings::wide_round(self.recipe, insert, WIDE_ROUND));
        }
    }

    /// Room enough all round a liner.
    fn check_room(&mut self, insert: &Insert, room: Diameter) {
        if room.across() < insert.form.diameter().value + LEAST_GAP * 2.0 {
            self.found.push(findings::liner_tight(self.recipe, insert, room, insert.head));
        }
    }

    /// A liner that stands on the floor of the cavity: no hole is drilled for it.
    fn standing_liner(&mut self, said: usize, insert: &Insert, inside: &Profile) -> BuiltInsert {
        let (floor, diameter) = (self.vessel.cavity_bottom, insert.form.diameter());
        let tall = insert.form.length().unwrap_or(diameter);
        let room = self.ledger.work(&STANDS_IN, (floor, self.recipe.wall), |(floor, _)| {
            inside.extremes(floor, inside.top()).least.radius * 2.0
        });
        let depth = self.ledger.work(&CAVITY_DEPTH, (self.vessel.cavity_top, floor), |_| inside.top() - floor.value);
        self.check_room(insert, Diameter::new(room.value));
        BuiltInsert {
            said,
            hole_diameter: room,
            hole_depth: depth,
            is_drilled: false,
            diameter,
            length: tall,
            left: floor,
            glue_area: no_glue(),
            blank: None,
            rim: floor.value,
            rim_drop: Length::ZERO,
            seen: None,
            facing: None,
        }
    }

    fn glue_area(&mut self, insert: &Insert, hole: &Hole) -> Known<Area> {
        match insert.form {
            InsertForm::Tenon { .. } => {
                let faces = (hole.diameter, hole.length);
                self.ledger.work(&insert::GLUE_AREA, faces, |(tenon, long)| insert::glue_area(tenon, long))
            }
            InsertForm::Plug { .. } | InsertForm::Medallion { .. } => {
                let face = |across: Length| across.by(across) * std::f64::consts::FRAC_PI_4;
                self.ledger.work(&ROUND_FACE, (hole.diameter,), |(across,)| face(across.across()))
            }
            InsertForm::Liner { .. } => no_glue(),
        }
    }

    /// Width, thickness and length of the blank, and what a given one leaves for what is seen.
    fn blank(&mut self, insert: &Insert, hole: &Hole) -> (Option<[Known<Length>; 3]>, Option<Known<Length>>) {
        let known = |length: Length| Known::new(length, Origin::Default(&insert::BLANK_REASON));
        let (allowance, facing) = (known(insert::BLANK_ALLOWANCE), known(insert::FACING));
        let side = |fitting: &mut Self, across: Known<Diameter>| {
            let blank = (across, allowance);
            fitting.ledger.work(&insert::BLANK_SIDE, blank, |(across, more)| insert::blank_side(across, more))
        };
        match insert.form {
            InsertForm::Liner { .. } => (None, None),
            InsertForm::Plug { .. } | InsertForm::Medallion { .. } => {
                let side = side(self, hole.diameter);
                let stock = (hole.length, facing);
                let thick = self.ledger.work(&ROUND_STOCK, stock, |(thick, facing)| thick + facing);
                if let Some(blank) = insert.blank {
                    self.check_blank(insert, blank, side.value, side.value);
                    return (Some([blank.square, thick, blank.long]), None);
                }
                (Some([side, thick, side]), None)
            }
            InsertForm::Tenon { .. } => {
                let (stub, parting) = (known(insert::CHUCKING_STUB), known(insert::PARTING));
                let widest = match insert.shows {
                    Some(shows) if shows.diameter.value > hole.diameter.value.across() => {
                        shows.diameter.map(Diameter::new)
                    }
                    Some(_) | None => hole.diameter,
                };
                self.check_shoulder(insert, hole);
                let square = side(self, widest);
                let tall = insert.shows.map(|shows| shows.tall);
                let shown = tall.unwrap_or(Known::new(Length::ZERO, Origin::Default(&"what is seen is not told")));
                let needs = (shown, hole.length, stub, parting, facing);
                let long = self.ledger.work(&insert::BLANK_LENGTH, needs, |(shown, tenon, stub, parting, facing)| {
                    insert::blank_length(shown, tenon, stub, parting, facing)
                });
                let Some(blank) = insert.blank else {
                    return (tall.map(|_| [square, square, long]), None);
                };
                self.check_blank(insert, blank, square.value, long.value);
                let takes = (blank.long, hole.length, stub, parting, facing);
                let seen = self.ledger.work(&SEEN, takes, |(long, tenon, stub, parting, facing)| {
                    long - tenon - stub - parting - facing * 2.0
                });
                (Some([blank.square, blank.square, blank.long]), Some(seen))
            }
        }
    }

    /// What is seen must cover the rim of its hole.
    fn check_shoulder(&mut self, insert: &Insert, hole: &Hole) {
        let Some(shows) = insert.shows else { return };
        let shoulder = (shows.diameter.value - hole.across.value.across()) / 2.0;
        if shoulder < LEAST_SHOULDER {
            self.found.push(findings::no_shoulder(self.recipe, insert, shows.diameter, hole.across.value));
        }
    }

    fn check_blank(&mut self, insert: &Insert, blank: Blank, square: Length, long: Length) {
        if blank.square.value < square - SAME_BIT {
            self.found.push(findings::blank_narrow(self.recipe, insert, blank.square, square));
        }
        if blank.long.value < long - SAME_BIT {
            self.found.push(findings::blank_short(self.recipe, insert, blank.long, long));
        }
    }
}

fn no_glue() -> Known<Area> {
    Known::new(Area::default(), Origin::Default(&"a liner is never glued all round"))
}

/// Outside and inside of a part as it leaves the lathe; `None` when the vessel has no such part.
pub(super) fn turned(vessel: &Vessel, part: PartKind) -> Option<(Profile, Profile)> {
    if let Some(body) = vessel.bodies.iter().find(|body| body.part == part) {
        return Some((body.outside.clone(), body.inside.clone()));
    }
    let mut layers = vessel.layers.iter().filter(|layer| layer.part == part);
    let first = layers.next()?;
    let bottom = first.z0.value;
    let top = layers.next_back().map_or(first.z1.value, |last| last.z1.value).min(vessel.height.value);
    let cut = |profile: &Profile| profile.between(bottom.max(profile.bottom()), top.min(profile.top()));
    Some((cut(&vessel.outside), cut(&vessel.inside)))
}

fn seat(seat: Seat, outside: &Profile, inside: &Profile, hole: Diameter) -> Found {
    let on_axis = |seat: insert::Seat| Found { rim: seat.rim, thickness: seat.thickness, rim_drop: Length::ZERO };
    match seat {
        Seat::LidTop => on_axis(insert::into_lid_top(outside, inside, hole)),
        Seat::LidInside => on_axis(insert::into_lid_inside(outside, inside, hole)),
        Seat::BodyBase => on_axis(insert::into_base(outside, inside, hole)),
        Seat::BodyInside => on_axis(insert::into_body_inside(outside, inside, hole)),
        Seat::BodySide { at, .. } => {
            let SideHole { thickness, rim_drop, .. } = insert::into_side(outside, inside, at.value, hole);
            Found { rim: at.value, thickness, rim_drop }
        }
    }
}
