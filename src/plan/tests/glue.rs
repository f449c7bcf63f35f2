//! The glue schedule: what is glued against the totals, and when against what hands, clamps and hours allow.

use std::collections::BTreeSet;

use super::sample::{all, beaker, board_bowl, cachepot};
use crate::plan::cutting::{LaneKind, Panel};
use crate::plan::fixture::{Fixture, bowl, jar};
use crate::plan::glue::{self, GluedFaces, ToGlue};
use crate::plan::{Asked, ClampKind, GlueSchedule, GlueStep, GlueWork, budget, cut_list, plan, planned_layers};
use crate::quantity::{Area, Count, Date, Diameter, Duration, Hours, Length, Weekday};
use crate::resolve::Band;
use crate::source::{FileId, Span};
use crate::tables::find_glue;
use crate::workings::{Known, Origin};

const DAY: u64 = 86_400;

fn written<T>(value: T) -> Known<T> {
    Known::new(value, Origin::Shop(Span::new(FileId(0), 0, 4)))
}

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn band(from: f64, to: f64, count: u32) -> Band {
    let across = |size| written(Diameter::new(mm(size)));
    Band { from: across(from), to: across(to), count: written(Count(count)), span: Span::new(FileId(0), 0, 4) }
}

fn glued(fixture: &mut Fixture, start: Option<&str>) -> GlueSchedule {
    let asked = Asked { start: start.and_then(Date::parse), ..Asked::default() };
    plan(&fixture.recipe, &fixture.vessel, asked, &mut fixture.ledger).value.glue
}

fn with_panels(fixture: &mut Fixture, panels: &[Panel]) -> GlueSchedule {
    let (recipe, vessel, ledger) = (&fixture.recipe, &fixture.vessel, &mut fixture.ledger);
    let layers = planned_layers(recipe, vessel);
    let budgets = budget::budgets(recipe, &layers, ledger);
    let cuts = cut_list::cut_list(recipe, vessel, &layers, &budgets, ledger);
    let faces = GluedFaces::of(vessel, &cuts, ledger);
    let to_glue = ToGlue { recipe, vessel, layers: &layers, budgets: &budgets, cuts: &cuts, panels, faces: &faces };
    glue::schedule(to_glue, Asked::default(), ledger)
}

#[track_caller]
fn close(got: f64, wanted: f64) {
    assert!((got - wanted).abs() <= 1e-9 * wanted.abs().max(1.0), "{got}, not {wanted}");
}

fn area_of<'a>(steps: impl Iterator<Item = &'a GlueStep>) -> f64 {
    steps.map(|step| step.area.value).sum::<Area>().mm2()
}

#[test]
fn all_steps_together_glue_what_the_totals_tell() {
    for mut fixture in all().into_iter().chain([bowl(), jar()]) {
        let plan = plan(&fixture.recipe, &fixture.vessel, Asked::default(), &mut fixture.ledger).value;
        let inserts: Area = fixture.vessel.inserts.iter().map(|insert| insert.glue_area.value).sum();
        // The totals are of the vessel itself: how its blanks are glued up edge to edge is the boards' doing.
        let of_vessel = |step: &&GlueStep| !matches!(step.work, GlueWork::Panel { .. });
        let glued = area_of(plan.glue.steps.iter().filter(of_vessel));
        close(glued, (plan.totals.glue_area.value - inserts).mm2());
        for (at, layer) in fixture.vessel.layers.iter().enumerate() {
            let within = |step: &&GlueStep| {
                let is_face = matches!(
                    step.work,
                    GlueWork::Stack { .. } | GlueWork::SetOpen { .. } | GlueWork::Board { .. } | GlueWork::Panel { .. }
                );
                step.layer == at && !is_face
            };
            close(area_of(plan.glue.steps.iter().filter(within)), layer.joint_area.value.mm2());
        }
        // Grams by the spread rate, and none is lost on the way to the sum.
        for need in &plan.glue.glue_needed {
            let rate = fixture.recipe.glues[need.glue].glue.spread_g_per_m2;
            close(need.mass.value.grams(), need.area.value.mm2() / 1e6 * rate);
        }
        close(plan.glue.glue_needed.iter().map(|need| need.area.value.mm2()).sum(), area_of(plan.glue.steps.iter()));
    }
}

#[test]
fn half_a_ring_of_twelve_has_five_joints_of_its_strip() {
    let mut fixture = cachepot();
    let glue = glued(&mut fixture, None);
    let layer = &fixture.vessel.layers[2];
    let crate::geometry::LayerShape::Ring(ring) = &layer.shape else { panic!("a ring") };
    let half = glue.steps.iter().find(|step| step.layer == 2 && matches!(step.work, GlueWork::Half { .. })).unwrap();
    // A mitered end is strip / cos 15° long: 1 / cos 15° = 1.035276 (a table of secants).
    let face = ring.strip_width.value.mm() * 1.035_276_18 * layer.rough_thickness.value.mm();
    assert!((half.area.value.mm2() - 5.0 * face).abs() < 1e-6 * face);
    // PVA at 150 g/m²; 5 joints of 25 s; the corners lie 1 / cos 15° farther out than the flats.
    close(half.mass.value.grams(), half.area.value.mm2() * 150e-6);
    close(half.spread.value.minutes(), 125.0 / 60.0);
    let round = half.round.unwrap().value.across().mm();
    assert!((round - 2.0 * layer.blank_outer_radius.value.mm() * 1.035_276_18).abs() < 1e-4, "{round}");
}

#[test]
fn joints_of_unlike_segments_are_weighed_by_their_length() {
    let mut fixture = beaker();
    let glue = glued(&mut fixture, None);
    // Three wide and three narrow segments, wide beside narrow: all six joints are alike, two halves of two joints.
    let of_layer: Vec<&GlueStep> = glue.steps.iter().filter(|step| step.layer == 3).collect();
    let halves: Vec<f64> = of_layer
        .iter()
        .filter(|step| matches!(step.work, GlueWork::Half { .. }))
        .map(|step| step.area.value.mm2())
        .collect();
    assert_eq!(halves.len(), 2);
    close(halves[0], fixture.vessel.layers[3].joint_area.value.mm2() / 3.0);
    close(halves[1], halves[0]);
}

/// All that must hold of any schedule.
#[track_caller]
fn keeps_its_promises(glue: &GlueSchedule, fixture: &Fixture, start: Option<&str>) {
    let (opens, closes) = (glue.calendar.opens.seconds(), glue.calendar.closes.seconds());
    let first = start.and_then(Date::parse).map_or(0, |date| date.weekday().number() as u64);
    for (at, step) in glue.steps.iter().enumerate() {
        let (from, to) = (step.start.seconds(), step.clamped().seconds());
        for before in &step.after {
            assert!(*before < at && glue.steps[*before].ready() <= step.start, "step {at} waits for {before}");
        }
        assert!(to - from == (step.hands.value + step.spread.value).seconds() && to > from);
        // Within one day's hours, and not on a day off.
        assert!(from % DAY >= opens && to % DAY <= closes && from / DAY == to / DAY, "step {at}: {from} to {to}");
        let weekday = ((first + from / DAY) % 7) as usize;
        assert!(fixture.recipe.shop.days_off.iter().all(|off| off.number() != weekday), "step {at} on a day off");
        // One pair of hands.
        for other in &glue.steps[at + 1..] {
            assert!(other.clamped() <= step.start || step.clamped() <= other.start);
        }
        // No more of a kind of clamp than there are, when one more is taken.
        if let Some(kind) = step.takes {
            let held = glue
                .steps
                .iter()
                .filter(|other| other.takes == Some(kind) && other.start <= step.start && step.start < other.ready());
            assert!(held.count() <= glue.clamps[kind].count.value.0 as usize);
        }
        assert!(step.takes.is_none() == matches!(step.work, GlueWork::Spacers { .. } | GlueWork::SetOpen { .. }));
        assert!(step.ready() <= glue.end && glue.begin <= step.start);
    }
    assert!(glue.steps.iter().any(|step| step.ready() == glue.end));
    assert!(glue.critical_path <= glue.bound && glue.bound <= glue.makespan);
    assert_eq!(glue.is_optimal, glue.bound.seconds() == glue.makespan.seconds());
    // The chain is one, and none of it could be done sooner.
    assert!(glue.critical.windows(2).all(|pair| glue.steps[pair[1]].after.contains(&pair[0])));
    assert!(glue.critical.first().is_none_or(|first| glue.steps[*first].after.is_empty()));
}

#[test]
fn every_schedule_can_be_followed() {
    for start in [None, Some("2027-03-05")] {
        for mut fixture in all().into_iter().chain([bowl(), jar()]) {
            let plain = glued(&mut fixture, start);
            keeps_its_promises(&plain, &fixture, start);
            fixture.recipe.shop.days_off = vec![Weekday::Wednesday, Weekday::Saturday, Weekday::Sunday];
            fixture.recipe.shop.bands = vec![band(60.0, 130.0, 1), band(100.0, 400.0, 2)];
            fixture.recipe.shop.cauls = Some(written(Count(1)));
            fixture.recipe.shop.hours.value =
                Hours { from: Duration::from_minutes(570.0), to: Duration::from_minutes(720.0) };
            fixture.recipe.glues[0].glue = find_glue("hide-liquid").unwrap();
            let tight = glued(&mut fixture, start);
            keeps_its_promises(&tight, &fixture, start);
            assert!(tight.makespan > plain.makespan);
        }
    }
}

#[test]
fn hide_glue_stays_in_clamps_overnight() {
    let mut fixture = bowl();
    fixture.recipe.glues[0].glue = find_glue("hide-liquid").unwrap();
    let glue = glued(&mut fixture, None);
    // Twelve hours in clamps, nine at work: what waits for another waits for the next day.
    for step in &glue.steps {
        for before in &step.after {
            assert!(glue.steps[*before].start.seconds() / DAY < step.start.seconds() / DAY);
        }
    }
    // A half, its closing, and four layers on one another: six days at the least, so the last is out on the sixth night.
    let chain = glue.critical.len() as u64;
    assert_eq!(chain, 6);
    assert!(glue.end.seconds() / DAY >= chain - 1);
}

#[test]
fn bands_hold_rings_and_cauls_hold_faces() {
    let mut fixture = bowl();
    fixture.recipe.shop.bands = vec![band(50.0, 400.0, 1)];
    fixture.recipe.shop.cauls = Some(written(Count(3)));
    let glue = glued(&mut fixture, None);
    keeps_its_promises(&glue, &fixture, None);
    let kinds: Vec<ClampKind> = glue.clamps.iter().map(|clamps| clamps.kind).collect();
    assert_eq!(kinds, [ClampKind::Band(0), ClampKind::Cauls]);
    for step in &glue.steps {
        let wanted = if step.round.is_some() { ClampKind::Band(0) } else { ClampKind::Cauls };
        assert_eq!(glue.clamps[step.takes.unwrap()].kind, wanted);
    }
    // With the one band, no two rings' glue-ups are in clamps at once; with as many as one likes, some are.
    let together = |glue: &GlueSchedule| {
        let rings: Vec<&GlueStep> = glue.steps.iter().filter(|step| step.round.is_some()).collect();
        rings
            .iter()
            .filter(|one| rings.iter().any(|other| other.start < one.start && one.start < other.ready()))
            .count()
    };
    assert_eq!(together(&glue), 0);
    fixture.recipe.shop.bands[0].count.value = Count(9);
    let many = glued(&mut fixture, None);
    assert!(together(&many) > 0 && many.makespan < glue.makespan);
    // A half stands in its band with the other half dry in it as its form: never are both glued at once. Clamps let them.
    let halves_at_once = |glue: &GlueSchedule| {
        let is_half = |step: &&GlueStep| matches!(step.work, GlueWork::Half { .. });
        let halves: Vec<&GlueStep> = glue.steps.iter().filter(is_half).collect();
        halves.iter().any(|one| {
            let is_other = |other: &&&GlueStep| other.layer == one.layer && other.work != one.work;
            halves.iter().filter(is_other).any(|other| other.start <= one.start && one.start < other.ready())
        })
    };
    assert!(!halves_at_once(&many) && halves_at_once(&glued(&mut bowl(), None)));
    // Too short for the widest ring: that one is held by other clamps, the rest by bands.
    let widest = glue.steps.iter().filter_map(|step| step.round).map(|round| round.value.across().mm());
    let widest = widest.fold(0.0, f64::max);
    fixture.recipe.shop.bands[0].to.value = Diameter::new(mm(widest - 1.0));
    let short = glued(&mut fixture, None);
    for step in short.steps.iter().filter(|step| step.round.is_some()) {
        let is_wide = step.round.unwrap().value.across().mm() > widest - 1.0;
        let kind = short.clamps[step.takes.unwrap()].kind;
        assert_eq!(kind, if is_wide { ClampKind::Clamps } else { ClampKind::Band(0) });
    }
}

#[test]
fn days_off_are_kept_free() {
    let mut fixture = bowl();
    fixture.recipe.glues[0].glue = find_glue("hide-liquid").unwrap();
    fixture.recipe.shop.days_off = vec![Weekday::Saturday, Weekday::Sunday];
    // 5 March 2027 is a Friday.
    let glue = glued(&mut fixture, Some("2027-03-05"));
    keeps_its_promises(&glue, &fixture, Some("2027-03-05"));
    let days: BTreeSet<u64> = glue.steps.iter().map(|step| step.start.seconds() / DAY).collect();
    assert!(days.contains(&0) && days.contains(&3) && !days.contains(&1) && !days.contains(&2), "{days:?}");
    // Asked to begin on a day off, it begins on the next day of work.
    let glue = glued(&mut fixture, Some("2027-03-06"));
    assert_eq!(glue.begin.seconds(), 2 * DAY + 9 * 3600);
    assert_eq!(glue.calendar.start, Date::parse("2027-03-06"));
}

#[test]
fn rubbed_on_pieces_keep_the_hands_busy_one_by_one() {
    let mut fixture = super::sample::lantern();
    let glue = glued(&mut fixture, None);
    let row = glue.steps.iter().find(|step| matches!(step.work, GlueWork::SetOpen { .. })).unwrap();
    // Sixteen segments of 25 s, each wet for its own 25 s only, and two hours to dry.
    close(row.spread.value.minutes(), 16.0 * 25.0 / 60.0);
    close(row.open_left().minutes(), 5.0 - 25.0 / 60.0);
    assert!(row.fits() && row.takes.is_none());
    assert_eq!(row.ready().seconds() - row.clamped().seconds(), 7200);
}

#[test]
fn panels_are_glued_before_what_is_sawn_from_them() {
    let panel = |is, parts| Panel { is, count: 1, parts, part_width: mm(90.0), length: mm(300.0) };
    // A disc's blank of two boards, a cone's of three.
    let mut fixture = board_bowl();
    let glue = with_panels(&mut fixture, &[panel(LaneKind::Round(0), 2), panel(LaneKind::Cone(0), 3)]);
    keeps_its_promises(&glue, &fixture, None);
    let at = |parts: u32| {
        let is = |step: &GlueStep| matches!(step.work, GlueWork::Panel { parts: of, .. } if of == parts);
        glue.steps.iter().position(is).unwrap()
    };
    let (disc, cone) = (&glue.steps[at(2)], &glue.steps[at(3)]);
    assert_eq!((disc.layer, disc.joints.value.0, cone.layer, cone.joints.value.0), (0, 2, 1, 4));
    close(cone.area.value.mm2(), 2.0 * 300.0 * fixture.vessel.cones[0].board_thickness.value.mm());
    close(cone.hands.value.minutes(), 9.0);
    // Only one for the cone; every one of its rings waits for it, the disc's neighbor for both.
    let stacks: Vec<&GlueStep> = glue.steps.iter().filter(|step| matches!(step.work, GlueWork::Stack { .. })).collect();
    assert_eq!(stacks.len(), 5);
    assert!(stacks.iter().all(|step| step.after.contains(&at(3))));
    assert!(stacks[0].after.contains(&at(2)));
    assert_eq!(glue.steps.len(), 7);
    // A ply goes before its board.
    let mut fixture = beaker();
    let glue = with_panels(&mut fixture, &[panel(LaneKind::Ply { board: 0, ply: 1 }, 2)]);
    keeps_its_promises(&glue, &fixture, None);
    assert!(matches!(glue.steps[0].work, GlueWork::Panel { .. }));
    assert!(matches!(glue.steps[1].work, GlueWork::Board { .. }));
    assert_eq!(glue.steps[1].after, [0]);
}
