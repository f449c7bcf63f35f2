//! A complete design, poured into the types of its JSON. Names and copies; nothing is computed.

use crate::compile::Complete;
use crate::finding;
use crate::geometry::{self, BuiltLayer, LayerShape, LidJoint, RingSet, RingShape};
use crate::output::sheet::{letter, strip};
use crate::plan;
use crate::resolve::{PartKind, RecipeWood};
use crate::tables;

use super::budget;
use super::cutting::{self, CuttingPlan};
use super::fittings;
use super::kinds;
use super::origin::{Sources, named, traces};
use super::schedule;
use super::{
    Accepted, Cut, CutRow, Design, Finding, Finish, Generator, JamChuck, Joint, JointThread, Layer, Part, Parting,
    RecipeFile, SCHEMA_VERSION, Segment, SegmentKind, Serving, Setup, Slice, SpeedRange, Station, Strip, Totals,
    Traces, Turning, Wood,
};

/// The whole design.
pub(super) fn design<'a>(complete: &Complete<'a>, sources: &'a Sources) -> Design<'a> {
    let Complete { recipe, plan, .. } = *complete;
    Design {
        schema_version: SCHEMA_VERSION,
        generator: Generator { name: env!("CARGO_PKG_NAME"), version: env!("CARGO_PKG_VERSION") },
        recipe: RecipeFile {
            name: &recipe.name.value,
            file: sources.name(recipe.file),
            units: recipe.units.word(),
            holds: recipe.holds.map(|holds| holds.value.word()),
            finish: recipe.finish.map(|finish| finish_of(finish.value)),
        },
        totals: totals(complete),
        woods: plan.totals.woods.iter().map(|total| wood(complete, total)).collect(),
        parts: parts(complete),
        joints: complete.vessel.joint.iter().map(joint).collect(),
        inserts: fittings::inserts(complete),
        mounting: fittings::mounting(complete),
        turning: turning(complete),
        cut_list: cut_list(complete),
        boards: kinds::boards(complete),
        cones: kinds::cones(complete),
        cutting_plan: cutting_plan(complete),
        error_budget: budget::budgets(complete),
        glue_schedule: schedule::schedule(complete),
        findings: complete.findings.iter().map(|finding| told(finding, sources)).collect(),
        accepted: complete.accepted.iter().map(|one| accepted(one, sources)).collect(),
        workings: sources.workings(complete.ledger),
    }
}

fn finish_of(row: &tables::Finish) -> Finish<'_> {
    Finish {
        key: &row.key,
        name: &row.name,
        food_contact: &row.food_contact,
        recoat_h: row.recoat_h,
        cure_days: row.cure_days,
        self_heating_rags: row.has_self_heating_rags(),
    }
}

fn totals(complete: &Complete<'_>) -> Totals {
    let (vessel, totals) = (complete.vessel, &complete.plan.totals);
    Totals {
        height_mm: vessel.height.value.mm(),
        max_diameter_mm: vessel.max_diameter.value.mm(),
        capacity_ml: vessel.capacity.value.ml(),
        mass_g: totals.mass.value.grams(),
        pieces: totals.pieces,
        glue_area_mm2: totals.glue_area.value.mm2(),
        finish_area_mm2: vessel.finish_area.value.mm2(),
        board_feet: totals.lumber.value.board_feet(),
        finished_cm3: totals.finished.value.cm3(),
        blank_cm3: totals.blank.value.cm3(),
        lumber_cm3: totals.lumber.value.cm3(),
        cost: totals.cost.map(|cost| cost.0),
        workings: traces([
            named("height", &vessel.height),
            named("max_diameter", &vessel.max_diameter),
            named("capacity", &vessel.capacity),
            named("mass", &totals.mass),
            named("glue_area", &totals.glue_area),
            named("finish_area", &vessel.finish_area),
            named("finished", &totals.finished),
            named("blank", &totals.blank),
            named("lumber", &totals.lumber),
        ]),
    }
}

fn wood<'a>(complete: &Complete<'a>, total: &plan::WoodTotal) -> Wood<'a> {
    let row = complete.recipe.woods.get(total.wood).and_then(RecipeWood::wood);
    Wood {
        wood: wood_name(complete, total.wood),
        key: row.map_or("", |row| &row.key),
        latin_name: row.map_or("", |row| &row.latin_name),
        color_srgb: row.map_or("", |row| &row.color_srgb),
        pieces: total.pieces,
        finished_cm3: total.finished.value.cm3(),
        blank_cm3: total.blank.value.cm3(),
        mass_g: total.mass.value.grams(),
        board_feet: total.lumber.value.board_feet(),
        lumber_cm3: total.lumber.value.cm3(),
        workings: traces([
            named("finished", &total.finished),
            named("blank", &total.blank),
            named("mass", &total.mass),
            named("lumber", &total.lumber),
        ]),
    }
}

pub(super) fn wood_name<'a>(complete: &Complete<'a>, at: usize) -> &'a str {
    complete.recipe.woods.get(at).map_or("", |used| &used.name)
}

pub(super) fn layer_id<'a>(complete: &Complete<'a>, at: usize) -> &'a str {
    complete.vessel.layers.get(at).map_or("", |layer| &layer.id)
}

fn parts<'a>(complete: &Complete<'a>) -> Vec<Part<'a>> {
    let layers = || complete.vessel.layers.iter().enumerate();
    [PartKind::Body, PartKind::Lid]
        .into_iter()
        .filter(|part| layers().any(|(_, layer)| layer.part == *part))
        .map(|part| Part {
            name: part.word(),
            layers: layers()
                .filter(|(_, built)| built.part == part)
                .map(|(at, built)| layer(complete, at, built))
                .collect(),
        })
        .collect()
}

fn layer<'a>(complete: &Complete<'a>, at: usize, built: &'a BuiltLayer) -> Layer<'a> {
    let (ring, diameter) = match &built.shape {
        LayerShape::Ring(ring) => (Some(ring), None),
        LayerShape::Disc { blank_diameter, .. } => (None, Some(blank_diameter.value.mm())),
        LayerShape::Slant(_) => (None, None),
    };
    let of_layer = complete.plan.cut_list.of_layer.get(at);
    let cuts = of_layer.into_iter().flatten().filter_map(|taken| cut(complete, built, ring?, taken)).collect();
    Layer {
        id: &built.id,
        kind: built.shape.word(),
        part: built.part.word(),
        index: built.index,
        slices: if complete.vessel.parting.is_some() { built.slices.iter().map(slice).collect() } else { Vec::new() },
        z0_mm: built.z0.value.mm(),
        z1_mm: built.z1.value.mm(),
        thickness_mm: (built.z1.value - built.z0.value).mm(),
        rough_thickness_mm: built.rough_thickness.value.mm(),
        outer_radius_mm: built.outer_radius.value.mm(),
        inner_radius_mm: built.inner_radius.value.mm(),
        blank_outer_radius_mm: built.blank_outer_radius.value.mm(),
        blank_inner_radius_mm: built.blank_inner_radius.value.mm(),
        corner_radius_mm: ring.map(|ring| ring.corner_radius.value.mm()),
        blank_diameter_mm: diameter,
        rotation_deg: built.rotation.degrees(),
        strip_width_mm: ring.map(|ring| ring.strip_width.value.mm()),
        needed_strip_width_mm: ring.map(|ring| ring.needed_width.value.mm()),
        finished_cm3: built.finished_volume.value.cm3(),
        blank_cm3: built.blank_volume.value.cm3(),
        cuts,
        segments: segments(complete, built),
        workings: layer_traces(built, ring),
    }
}

fn slice(of_layer: &geometry::Slice) -> Slice {
    Slice {
        part: of_layer.part.word(),
        from_mm: of_layer.from.mm(),
        to_mm: of_layer.to.mm(),
        raise_mm: of_layer.raise.mm(),
    }
}

fn layer_traces(built: &BuiltLayer, ring: Option<&RingShape>) -> Traces {
    let mut all = traces([
        named("z0", &built.z0),
        named("z1", &built.z1),
        named("rough_thickness", &built.rough_thickness),
        named("outer_radius", &built.outer_radius),
        named("inner_radius", &built.inner_radius),
        named("blank_outer_radius", &built.blank_outer_radius),
        named("blank_inner_radius", &built.blank_inner_radius),
        named("finished", &built.finished_volume),
        named("blank", &built.blank_volume),
        named("joint_area", &built.joint_area),
    ]);
    if let Some(ring) = ring {
        all.extend(traces([
            named("miter", &ring.cuts[0].miter),
            named("strip_width", &ring.strip_width),
            named("needed_strip_width", &ring.needed_width),
            named("long_edge", &ring.cuts[0].long_edge),
            named("short_edge", &ring.cuts[0].short_edge),
            named("corner_radius", &ring.corner_radius),
        ]));
    }
    all
}

fn cut<'a>(complete: &Complete<'a>, built: &BuiltLayer, ring: &RingShape, taken: &plan::LayerCut) -> Option<Cut<'a>> {
    let size = ring.cuts.get(taken.cut)?;
    let thickness = match ring.set {
        RingSet::Round | RingSet::ToMiddle { .. } => built.rough_thickness,
        RingSet::Upright(_) => ring.strip_width,
    };
    let length = match ring.set {
        RingSet::Round | RingSet::ToMiddle { .. } => None,
        RingSet::Upright(stave) => Some(stave.length.value.mm()),
    };
    Some(Cut {
        wood: wood_name(complete, taken.wood),
        count: taken.count.value.0,
        miter_deg: size.miter.value.degrees(),
        bevel_deg: size.bevel.value.degrees(),
        long_edge_mm: size.long_edge.value.mm(),
        short_edge_mm: size.short_edge.value.mm(),
        thickness_mm: thickness.value.mm(),
        strip_length_mm: taken.net.value.mm(),
        length_mm: length,
    })
}

fn segments<'a>(complete: &Complete<'a>, built: &BuiltLayer) -> Vec<Segment<'a>> {
    let segment = |place: &plan::Place| {
        let (kind, wood) = match place.kind {
            plan::PlaceKind::Wood { wood } => (SegmentKind::Wood, Some(wood)),
            plan::PlaceKind::Spacer { wood } => (SegmentKind::Spacer, Some(wood)),
            plan::PlaceKind::Gap => (SegmentKind::Gap, None),
        };
        Segment {
            index: place.index + 1,
            wood: wood.map_or("", |wood| wood_name(complete, wood)),
            start_deg: place.start.degrees(),
            sweep_deg: place.sweep.degrees(),
            kind,
        }
    };
    plan::round_the_ring(built).iter().map(segment).collect()
}

fn joint(built: &LidJoint) -> Joint<'static> {
    let thread = built.thread.map(|thread| JointThread {
        pitch_mm: thread.pitch.value.mm(),
        starts: thread.starts,
        turns: thread.turns.value.value(),
        major_diameter_mm: thread.major.value.mm(),
        root_diameter_mm: thread.root.value.mm(),
        tenon_depth_mm: thread.depth.value.mm(),
        mortise_depth_mm: thread.depth_inside.value.mm(),
        engagement_mm: thread.engagement.value.mm(),
    });
    let chuck = |chuck: &geometry::JamChuck| JamChuck {
        part: chuck.part.word(),
        kind: if chuck.is_inside { "spigot" } else { "recess" },
        diameter_mm: chuck.diameter.value.mm(),
        reach_mm: chuck.reach.value.mm(),
    };
    let mut workings = traces([
        named("shoulder", &built.shoulder),
        named("tenon", &built.tenon),
        named("mortise", &built.mortise),
        named("mortise_depth", &built.mortise_depth),
        named("clearance", &built.clearance),
        named("mortise_wall", &built.mortise_wall),
        named("tenon_wall", &built.tenon_wall),
        named("shoulder_width", &built.shoulder_width),
    ]);
    if let Some(seasons) = &built.seasons {
        workings.extend(traces([
            named("clearance_driest", &seasons.clearance[0]),
            named("clearance_dampest", &seasons.clearance[1]),
        ]));
    }
    Joint {
        kind: built.kind.word(),
        between: [PartKind::Body, PartKind::Lid].map(PartKind::word),
        shoulder_z_mm: built.shoulder.value.mm(),
        tenon_diameter_mm: built.tenon.value.mm(),
        mortise_diameter_mm: built.mortise.value.mm(),
        length_mm: built.long.value.mm(),
        clearance_mm: built.clearance.value.mm(),
        walls_mm: [built.mortise_wall.value.mm(), built.tenon_wall.value.mm()],
        tenon_on: built.on.word(),
        mortise_depth_mm: built.mortise_depth.value.mm(),
        bore_diameter_mm: built.bore.value.mm(),
        shoulder_width_mm: built.shoulder_width.value.mm(),
        clearance_then_mm: built.seasons.map(|seasons| seasons.clearance.map(|then| then.value.mm())),
        thread,
        jam_chucks: built.jam.iter().map(chuck).collect(),
        workings,
    }
}

fn turning(complete: &Complete<'_>) -> Turning {
    let turning = &complete.plan.turning;
    Turning {
        stations: turning
            .stations
            .iter()
            .map(|station| Station {
                part: station.part.map(PartKind::word),
                z_mm: station.z.mm(),
                outer_radius_mm: station.outer_radius.mm(),
                inner_radius_mm: station.inner_radius.mm(),
            })
            .collect(),
        drill_depth_mm: turning.drill_depth.map(|depth| depth.value.mm()),
        parting: complete.vessel.parting.map(|parting| Parting {
            line_z_mm: parting.line.value.mm(),
            cut_z_mm: parting.cut.value.mm(),
            kerf_mm: parting.kerf.value.mm(),
            lost_mm: parting.lost.value.mm(),
            stack_mm: parting.stack.value.mm(),
        }),
        lid_depth_mm: turning.lid_depth.map(|depth| depth.value.mm()),
        speeds: turning
            .speeds
            .iter()
            .map(|speed| SpeedRange {
                part: speed.part.word(),
                largest_blank_mm: speed.largest_blank.value.mm(),
                low_rpm: speed.low.value.rpm(),
                high_rpm: speed.high.value.rpm(),
                rough_rpm: speed.rough.value.rpm(),
                trued_rpm: speed.trued.value.rpm(),
                workings: traces([
                    named("largest_blank", &speed.largest_blank),
                    named("low", &speed.low),
                    named("high", &speed.high),
                    named("rough", &speed.rough),
                    named("trued", &speed.trued),
                ]),
            })
            .collect(),
    }
}

fn cut_list<'a>(complete: &Complete<'a>) -> Vec<CutRow<'a>> {
    let list = &complete.plan.cut_list;
    let serving = |layer: usize, count: u32| Serving { id: layer_id(complete, layer), count };
    let segments = list.rows.iter().enumerate().map(|(at, row)| CutRow::Segments {
        label: letter(at),
        wood: wood_name(complete, row.wood),
        count: row.count,
        setup: row.setup + 1,
        miter_deg: row.miter.value.degrees(),
        bevel_deg: row.bevel.value.degrees(),
        long_edge_mm: row.long_edge.value.mm(),
        short_edge_mm: row.short_edge.value.mm(),
        strip_width_mm: row.strip_width.value.mm(),
        thickness_mm: row.rough_thickness.value.mm(),
        strip_length_mm: row.net.value.mm(),
        strip: strip(row.strip),
        layers: row.serves.iter().map(|served| serving(served.layer, served.count)).collect(),
        workings: traces([
            named("miter", &row.miter),
            named("long_edge", &row.long_edge),
            named("short_edge", &row.short_edge),
            named("strip_width", &row.strip_width),
            named("thickness", &row.rough_thickness),
            named("strip_length", &row.net),
        ]),
    });
    segments.chain(kinds::cut_rows(complete)).collect()
}

fn cutting_plan<'a>(complete: &Complete<'a>) -> CuttingPlan<'a> {
    let list = &complete.plan.cut_list;
    let strips = list.strips.iter().enumerate().map(|(at, stock)| Strip {
        label: strip(at),
        wood: wood_name(complete, stock.wood),
        width_mm: stock.width.value.mm(),
        is_given: stock.is_given,
        may_be_turned_over: stock.may_be_turned_over,
        thickness_mm: stock.thickness.value.mm(),
        length_mm: stock.length.value.mm(),
        pieces_mm: stock.net.value.mm(),
        first_cuts_mm: stock.first_cuts.value.mm(),
        hold_mm: stock.hold.value.mm(),
        board_feet: stock.volume.value.board_feet(),
        cuts: stock.rows.iter().map(|row| letter(*row)).collect(),
        workings: traces([
            named("width", &stock.width),
            named("thickness", &stock.thickness),
            named("length", &stock.length),
            named("pieces", &stock.net),
            named("first_cuts", &stock.first_cuts),
            named("volume", &stock.volume),
        ]),
    });
    let setups = list.setups.iter().enumerate().map(|(at, setup)| Setup {
        number: at + 1,
        segments: setup.closes,
        miter_deg: setup.miter.value.degrees(),
        bevel_deg: setup.bevel.value.degrees(),
        opening_deg: setup.closing.map(|closing| closing.opening.value.degrees()),
        gap_mm: setup.closing.map(|closing| closing.gap.value.mm()),
        cuts: setup.rows.clone().map(letter).collect(),
    });
    cutting::cutting_plan(complete, strips.collect(), setups.collect())
}

fn accepted<'a>(accepted: &'a finding::policy::Accepted, sources: &'a Sources) -> Accepted<'a> {
    let told = told(&accepted.finding, sources);
    Accepted { code: told.code, reason: &accepted.reason, message: told.message, spans: told.spans }
}

fn told<'a>(finding: &'a finding::Finding, sources: &'a Sources) -> Finding<'a> {
    let labels = std::iter::once(&finding.place).chain(&finding.related);
    Finding {
        code: finding.code.name,
        severity: finding.severity().word(),
        message: &finding.message,
        help: finding.help.as_deref(),
        spans: labels.map(|label| sources.place(label.span, &label.message)).collect(),
    }
}
