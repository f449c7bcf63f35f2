//! The plan of layers that are no plain rings, against sums made another way and layouts.
#![allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]

use std::collections::BTreeMap;
use std::f64::consts::PI;

use super::sample::{STRIPE, TWO_TONE, all, beaker, board_bowl, cachepot, crock, lantern};
use crate::finding::Finding;
use crate::geometry::{LayerShape, RingShape};
use crate::plan::fixture::Fixture;
use crate::plan::{Caution, GlueWork, PlaceKind, Plan, Preparation, RoundKind, plan, round_the_ring};
use crate::quantity::{Angle, Length};

fn planned(fixture: &mut Fixture) -> (Plan, Vec<Finding>) {
    let done = plan(&fixture.recipe, &fixture.vessel, crate::plan::Asked::default(), &mut fixture.ledger);
    (done.value, done.findings)
}

#[track_caller]
fn near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() <= 1e-9 * wanted.abs().max(1.0), "{got}, not {wanted}");
}

fn ring(fixture: &Fixture, layer: usize) -> &RingShape {
    match &fixture.vessel.layers[layer].shape {
        LayerShape::Ring(ring) => ring,
        LayerShape::Disc { .. } | LayerShape::Slant(_) => panic!("no ring"),
    }
}

/// Pieces by plain wood, counted one by one.
fn counted(fixture: &Fixture) -> BTreeMap<usize, u32> {
    let mut counts = BTreeMap::new();
    let mut add = |wood: usize| match fixture.recipe.woods[wood].board() {
        Some(board) => board.plies.iter().for_each(|ply| *counts.entry(ply.wood).or_insert(0) += 1),
        None => *counts.entry(wood).or_insert(0) += 1,
    };
    for layer in &fixture.vessel.layers {
        match &layer.shape {
            LayerShape::Ring(ring) => {
                ring.woods.iter().for_each(|wood| add(*wood));
                ring.spacer.iter().for_each(|spacer| ring.woods.iter().for_each(|_| add(spacer.wood)));
                if let crate::geometry::RingSet::ToMiddle { plug: Some(plug) } = ring.set {
                    add(plug.wood);
                }
            }
            LayerShape::Disc { wood, .. } => add(*wood),
            LayerShape::Slant(slant) => add(slant.wood),
        }
    }
    counts
}

#[test]
fn every_piece_and_all_wood_is_counted_once() {
    for mut fixture in all() {
        let totals = planned(&mut fixture).0.totals;
        let pieces: BTreeMap<usize, u32> = totals.woods.iter().map(|wood| (wood.wood, wood.pieces)).collect();
        assert_eq!(pieces, counted(&fixture));
        assert_eq!(totals.pieces, pieces.values().sum::<u32>());
        let layers = || fixture.vessel.layers.iter();
        near(totals.finished.value.cm3(), layers().map(|layer| layer.finished_volume.value.cm3()).sum());
        near(totals.blank.value.cm3(), layers().map(|layer| layer.blank_volume.value.cm3()).sum());
        let mass = totals.woods.iter().map(|wood| {
            // Every wood of the totals is a plain one.
            let row = fixture.recipe.woods[wood.wood].wood().unwrap();
            wood.finished.value.cm3() * row.specific_gravity_12pct * 1.12
        });
        near(totals.mass.value.grams(), mass.sum());
        assert!(totals.lumber.value > totals.blank.value);
        assert!(totals.woods.iter().all(|wood| wood.lumber.value > wood.blank.value), "{:?}", totals.woods);
    }
}

#[test]
fn plies_share_a_layer_by_the_height_between_their_faces() {
    // The beaker is a cylinder: wood goes by height. 90 mm outside, 78 inside.
    let mut fixture = beaker();
    let totals = planned(&mut fixture).0.totals;
    let of_height = |mm: f64| PI * (90.0_f64.powi(2) - 78.0_f64.powi(2)) * mm / 1000.0;
    // A spacer is a strip whose ends are round, and half of it comes off each of its neighbors.
    let strip = |radius: f64| {
        let half: f64 = 0.75;
        half * (radius * radius - half * half).sqrt() + radius * radius * (half / radius).asin()
    };
    let spacers = 12.0 * (strip(90.0) - strip(78.0)) * 20.0 / 1000.0;
    let of = |wood: usize| totals.woods.iter().find(|total| total.wood == wood).unwrap().finished.value.cm3();
    near(of(2), spacers);
    // 20.8 of plies lose 0.4 from each face: 5.6 of walnut, 8.8 of maple, 5.6 of walnut; or 7.6 and 12.4.
    let disc = PI * 90.0_f64.powi(2) * 8.0 / 1000.0;
    let unlike = of_height(20.0) / 3.0 - spacers / 2.0;
    near(of(1), disc + unlike + of_height(11.2) / 2.0 + of_height(20.0) / 4.0 + of_height(7.6) + of_height(11.2));
    let unlike = of_height(20.0) * 2.0 / 3.0 - spacers / 2.0;
    let halves = of_height(8.8) / 2.0 + of_height(20.0) / 2.0;
    near(of(0), unlike + halves + of_height(20.0) * 3.0 / 4.0 + of_height(12.4) + of_height(8.8));
}

#[test]
fn lumber_is_what_the_rows_take() {
    for mut fixture in all() {
        let plan = planned(&mut fixture).0;
        let list = &plan.cut_list;
        let is_plain = |wood: usize| fixture.recipe.woods[wood].wood().is_some();
        let mut sum = 0.0;
        for strip in list.strips.iter().filter(|strip| is_plain(strip.wood)) {
            sum += strip.width.value.mm() * strip.thickness.value.mm() * strip.length.value.mm();
        }
        for row in list.staves.iter().filter(|row| is_plain(row.wood)) {
            let one = row.wide.value.mm() + 2.4 / row.tilt.value.cos();
            sum += f64::from(row.count) * one * row.length.value.mm() * row.thickness.value.mm();
        }
        for row in list.discs.iter().filter(|row| is_plain(row.wood)) {
            let square = row.diameter.value.mm().powi(2) * row.thickness.value.mm();
            row.layers.iter().for_each(|_| sum += square);
        }
        for row in &list.spacers {
            let one = (row.length.value.mm() + 2.4) * row.height.value.mm() * row.thickness.value.mm();
            sum += f64::from(row.count) * one;
        }
        for row in &list.cones {
            sum += row.diameter.value.mm().powi(2) * row.thickness.value.mm();
        }
        for board in &list.boards {
            let strips = board.strips.iter().map(|at| list.strips[*at].width.value.mm() + 2.4).sum::<f64>();
            near(board.width.value.mm(), strips);
            sum += strips * board.length.value.mm() * board.thickness.value.mm();
        }
        near(plan.totals.lumber.value.cm3() * 1000.0, sum);
    }
}

#[test]
fn unlike_segments_come_from_one_strip_in_one_row_a_size() {
    let mut fixture = beaker();
    let cuts = planned(&mut fixture).0.cut_list;
    let of_layer: Vec<(usize, u32, f64)> = cuts.of_layer[3]
        .iter()
        .map(|cut| (cut.wood, cut.count.value.0, ring(&fixture, 3).cuts[cut.cut].miter.value.degrees()))
        .collect();
    // 3:1 three times: 90° and 30°.
    assert_eq!(of_layer.len(), 2);
    assert_eq!((of_layer[0].0, of_layer[0].1, of_layer[1].0, of_layer[1].1), (0, 3, 1, 3));
    near(of_layer[0].2, 45.0);
    near(of_layer[1].2, 15.0);
    for setup in &cuts.setups {
        for row in &cuts.rows[setup.rows.clone()] {
            near(row.miter.value.degrees(), setup.miter.value.degrees());
        }
        assert!(setup.closes.is_none_or(|count| (setup.miter.value.degrees() * f64::from(count) - 180.0).abs() < 1e-6));
    }
    assert!(cuts.setups.windows(2).all(|pair| pair[0].miter.value > pair[1].miter.value));
    // 15° serve the plain rings of twelve too, whose layout is told by the same setting.
    let fifteen = cuts.setups.iter().find(|setup| (setup.miter.value.degrees() - 15.0).abs() < 1e-6).unwrap();
    assert_eq!(fifteen.segments, [6, 12]);
    for row in &cuts.rows {
        assert_eq!(row.count, row.serves.iter().map(|serving| serving.count).sum::<u32>());
    }
    let all: u32 = cuts.rows.iter().map(|row| row.count).sum();
    assert_eq!(all, 12 + 12 + 6 + 12 + 24);
}

#[test]
fn a_board_of_unlike_faces_is_not_turned_over() {
    let mut fixture = beaker();
    let cuts = planned(&mut fixture).0.cut_list;
    let of = |wood: usize| cuts.boards.iter().find(|board| board.wood == wood).unwrap();
    assert!(of(STRIPE).may_be_turned_over && !of(TWO_TONE).may_be_turned_over);
    near(of(STRIPE).thickness.value.mm(), 20.8);
    let strip = &cuts.strips[of(TWO_TONE).strips[0]];
    let miter = Angle::from_degrees(15.0);
    let long = ring(&fixture, 4).cuts[0].long_edge.value.mm();
    near(strip.net.value.mm(), 12.0 * (long + 2.4 / miter.cos()));
    near(strip.length.value.mm(), strip.net.value.mm() + 2.4 / miter.cos() + fixture.recipe.shop.hold.value.mm());
    assert!(cuts.strips.iter().all(|strip| strip.may_be_turned_over || strip.wood == TWO_TONE));
}

#[test]
fn cone_rings_lie_on_their_board_with_a_kerf_between() {
    let mut fixture = board_bowl();
    let cuts = planned(&mut fixture).0.cut_list;
    let cone = &cuts.cones[0];
    let level_kerf = 2.4 / cone.angle.value.cos();
    near(cone.rings[0].outer.value.mm() + level_kerf, cone.diameter.value.mm() / 2.0);
    for pair in cone.rings.windows(2) {
        near(pair[0].inner.value.mm() - level_kerf, pair[1].outer.value.mm());
    }
    // Widening upward, the outermost is the topmost; flattening takes 0.4 mm off its wide face.
    assert_eq!(cone.rings.iter().map(|ring| ring.layer).collect::<Vec<_>>(), [5, 4, 3, 2, 1]);
    let sanded = 0.4 * cone.angle.value.tan();
    for ring in &cone.rings {
        let LayerShape::Slant(slant) = &fixture.vessel.layers[ring.layer].shape else { panic!("a cone's ring") };
        assert!((ring.outer.value.mm() - sanded - slant.outer_at_z1.value.mm()).abs() < 1e-6);
        near((ring.outer.value - ring.inner.value).mm(), slant.width.value.mm());
    }
}

#[test]
fn rounds_are_discs_sheets_and_plugs() {
    let kinds = |mut fixture: Fixture| -> Vec<(RoundKind, usize, Vec<usize>)> {
        let list = planned(&mut fixture).0.cut_list;
        list.discs.iter().map(|row| (row.kind, row.wood, row.layers.clone())).collect()
    };
    assert_eq!(kinds(crock()), [(RoundKind::Disc, 1, vec![0]), (RoundKind::Sheet, 1, vec![1])]);
    assert_eq!(kinds(cachepot()), [(RoundKind::Plug, 1, vec![0])]);
}

#[test]
fn staves_are_ripped_and_no_strip_is_cut_for_them() {
    let mut fixture = crock();
    let cuts = planned(&mut fixture).0.cut_list;
    assert!(cuts.rows.is_empty() && cuts.strips.is_empty() && cuts.setups.is_empty());
    assert_eq!(cuts.staves.iter().map(|row| (row.wood, row.count)).collect::<Vec<_>>(), [(0, 8), (1, 8)]);
    near(cuts.staves[0].tilt.value.degrees(), 11.25);
    near(cuts.staves[0].taper.value.degrees(), 0.0);
    let leaning = planned(&mut cachepot()).0.cut_list.staves.remove(0);
    assert!(leaning.wide.value > leaning.narrow.value && leaning.taper.value > Angle::ZERO);
}

#[test]
fn every_layer_is_glued_to_the_next_and_every_joint_once() {
    for mut fixture in all() {
        let glue = planned(&mut fixture).0.glue;
        for (at, layer) in fixture.vessel.layers.iter().enumerate() {
            let steps: Vec<_> = glue.steps.iter().filter(|step| step.layer == at).collect();
            let set =
                steps.iter().filter(|step| matches!(step.work, GlueWork::Stack { .. } | GlueWork::SetOpen { .. }));
            assert_eq!(set.count(), usize::from(at > 0), "{}", layer.id);
            let joints: u32 = steps
                .iter()
                .filter(|step| {
                    !matches!(
                        step.work,
                        GlueWork::Stack { .. }
                            | GlueWork::SetOpen { .. }
                            | GlueWork::Board { .. }
                            | GlueWork::Panel { .. }
                            | GlueWork::Plug
                    )
                })
                .map(|step| step.joints.value.0)
                .sum();
            let wanted = match &layer.shape {
                LayerShape::Ring(ring) if ring.gap.is_some() => 0,
                LayerShape::Ring(ring) => ring.woods.len() * if ring.spacer.is_some() { 2 } else { 1 },
                LayerShape::Disc { .. } | LayerShape::Slant(_) => 0,
            };
            assert_eq!(joints as usize, wanted, "{}", layer.id);
        }
        assert_eq!(glue.order.len(), glue.steps.len());
        for (at, step) in glue.steps.iter().enumerate() {
            for before in &step.after {
                assert!(*before < at && glue.steps[*before].ready() <= step.start);
            }
            let held = glue
                .steps
                .iter()
                .filter(|other| other.takes.is_some() && other.start <= step.start && step.start < other.ready());
            assert!(held.count() <= fixture.recipe.shop.clamps.value.0 as usize);
        }
        // All but the last are waited for.
        let waited = |at: &usize| glue.steps.iter().any(|step| step.after.contains(at));
        assert_eq!((0..glue.steps.len()).filter(|at| !waited(at)).count(), 1);
    }
}

#[test]
fn the_beakers_rings_are_glued_each_in_its_way() {
    let mut fixture = beaker();
    let glue = planned(&mut fixture).0.glue;
    let boards: Vec<_> = glue.steps.iter().filter(|step| matches!(step.work, GlueWork::Board { .. })).collect();
    assert_eq!(boards.iter().map(|step| (step.layer, step.joints.value.0)).collect::<Vec<_>>(), [(2, 4), (4, 2)]);
    // Its strips wait for their board.
    let first = |layer: usize| {
        glue.steps.iter().find(|step| step.layer == layer && !matches!(step.work, GlueWork::Board { .. }))
    };
    assert_eq!(first(2).unwrap().after, [0]);
    assert_eq!(first(4).unwrap().after, [1]);
    let close = |layer: usize| {
        glue.steps.iter().find(|step| step.layer == layer && step.work == GlueWork::Close).map(|step| step.prepare)
    };
    // 2:1 six times has joints opposite, 3:1 three times has none.
    assert_eq!(close(1), Some(Preparation::FlattenHalfEnds));
    assert_eq!(close(3), Some(Preparation::DryFit));
    let rings: Vec<_> = glue.rings.iter().map(|ring| (ring.has_flat_halves, ring.half_ring_cost.is_some())).collect();
    assert_eq!(rings, [(true, false), (true, true), (false, false), (true, true), (true, true)]);
    // Sheets are not flattened.
    let glue = planned(&mut crock()).0.glue;
    let stacks = glue.steps.iter().filter(|step| matches!(step.work, GlueWork::Stack { .. }));
    assert_eq!(
        stacks.map(|step| step.prepare).collect::<Vec<_>>(),
        [Preparation::FlattenBelow, Preparation::FlattenAbove]
    );
}

#[test]
fn an_open_row_is_set_piece_by_piece_and_dries() {
    let (plan, findings) = planned(&mut lantern());
    // What a gap takes of a segment makes it short, and that is told.
    assert!(findings.iter().all(|finding| finding.code.name == "saw/short-segment"), "{findings:?}");
    assert_eq!(findings.len(), 4);
    let rows: Vec<_> = plan.glue.steps.iter().filter(|step| matches!(step.work, GlueWork::SetOpen { .. })).collect();
    assert_eq!(rows.len(), 4);
    assert!(rows.iter().all(|step| step.joints.value.0 == 1 && step.clamp.value.minutes() >= 120.0 && step.fits()));
    // No ring closes, so no error adds up.
    let open = plan.cut_list.setups.iter().find(|setup| setup.closing.is_none()).unwrap();
    near(open.miter.value.degrees(), 180.0 / 16.0 * 0.75);
    assert_eq!(open.closes, None);
}

#[test]
fn places_fill_the_circle() {
    for fixture in all() {
        for layer in &fixture.vessel.layers {
            let places = round_the_ring(layer);
            near(places.iter().map(|place| place.sweep.degrees()).sum(), 360.0);
            for pair in places.windows(2) {
                let gap = pair[1].start.degrees() - (pair[0].start + pair[0].sweep).normalized().degrees();
                assert!(gap.abs() < 1e-9 || (gap.abs() - 360.0).abs() < 1e-9, "{}: {gap}", layer.id);
            }
        }
    }
    let spaced = round_the_ring(&beaker().vessel.layers[1]);
    assert_eq!(spaced.len(), 24);
    assert_eq!(spaced[0].kind, PlaceKind::Spacer { wood: 2 });
    let open = round_the_ring(&lantern().vessel.layers[3]);
    assert_eq!(open.iter().filter(|place| place.kind == PlaceKind::Gap).count(), 16);
}

#[test]
fn the_lathe_goes_by_the_widest_corner_and_cautions_name_the_kinds() {
    let turning = planned(&mut lantern()).0.turning;
    assert!(turning.cautions.contains(&Caution::OpenSegments));
    let turning = planned(&mut crock()).0.turning;
    assert!(turning.cautions.contains(&Caution::Staves) && turning.cautions.contains(&Caution::Sheet { layer: 1 }));
    // Veneer is no wide disc.
    let wide = |caution: &&Caution| matches!(caution, Caution::WideDisc { .. });
    assert_eq!(turning.cautions.iter().filter(wide).collect::<Vec<_>>(), [&Caution::WideDisc { layer: 0 }]);
    let fixture = cachepot();
    let corner = ring(&fixture, 1).corner_radius.value.max(ring(&fixture, 2).corner_radius.value);
    let turning = planned(&mut cachepot()).0.turning;
    near(turning.speeds[0].largest_blank.value.mm(), corner.mm() * 2.0);
    let bowl = board_bowl();
    let LayerShape::Slant(top) = &bowl.vessel.layers[5].shape else { panic!("a cone's ring") };
    let widest = planned(&mut board_bowl()).0.turning.speeds[0].largest_blank.value;
    near(widest.mm(), top.outer_at_z1.value.mm() * 2.0);
}

#[test]
fn the_smallest_share_is_what_must_be_long_enough_to_saw() {
    let mut fixture = beaker();
    fixture.recipe.shop.safe_piece.value = Length::from_mm(40.0);
    let findings = planned(&mut fixture).1;
    let short: Vec<&str> = findings
        .iter()
        .filter(|finding| finding.code.name == "saw/short-segment")
        .map(|finding| finding.message.as_str())
        .collect();
    // 93 mm: 2 R tan 10° less the spacer's 1.5 / cos 10°; 24 segments have 2 R tan 7.5°.
    assert_eq!(short.len(), 2);
    assert!(short[0].starts_with("the smallest of 12 segments are 31.3 mm long at the outside"), "{short:?}");
    assert!(short[1].starts_with("24 segments are 24.5 mm long at the outside"), "{short:?}");
}
