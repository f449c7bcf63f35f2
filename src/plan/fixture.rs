//! Vessels written by hand, for the tests of plan and output: a straight-sided bowl that widens
//! upward, in inches or millimeters, with or without a lid. Their geometry is worked out here by the
//! closed forms of a cone, so that these tests stand on no other phase.

use crate::geometry::{
    BuiltLayer, Contact, LayerShape, Profile, RingSet, RingShape, SegmentCut, Slice, StuffShare, Vessel,
};
use crate::quantity::{Angle, Area, Count, Diameter, Length, System, Volume, trig};
use crate::resolve::{
    Fittings, Layer, LayerKind, LayerLine, Outside, OutsideKind, OutsidePoint, Part, PartKind, Pattern, Recipe,
    RecipeGlue, RecipeWood, Ring, Set, Shop, Stagger, Stock,
};
use crate::source::{FileId, MapWorld, Span, Spanned};
use crate::tables::{Glue, Wood, glues, woods};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::turning::{self, Station};

/// A recipe with its geometry, and the text that its places lie in.
pub(crate) struct Fixture {
    pub world: MapWorld,
    pub recipe: Recipe,
    pub vessel: Vessel,
    pub ledger: Ledger,
}

/// What a layer is to be.
#[derive(Clone, Copy)]
pub(crate) enum Make {
    /// Segments, motif (indexes into maple, walnut, cherry), strip width in the fixture's unit.
    Ring(u32, &'static [usize], Option<f64>),
    /// A round of this wood.
    Disc(usize),
}

const INCH_TEXT: &str = "units in
shop { kerf 1/8  glue pva-d2 }
vessel \"Harvest bowl\" {
  outside { at 0 diameter 4   at 3 diameter 6 }
  wall 3/8
  floor 1/2
  every ring { segments 12  thick 5/8 }
  body {
    disc walnut thick 1/2
    ring maple
    ring [maple*2 walnut]
    ring walnut strip 1 1/4
    ring [maple walnut] segments 8 name crown
  }
  expect capacity >= 10 floz
}
";

/// The bowl in inches: a disc, three rings of 12 (one with a strip given) and one of 8.
pub(crate) fn bowl() -> Fixture {
    let layers = [
        (PartKind::Body, Make::Disc(1), 0.5),
        (PartKind::Body, Make::Ring(12, &[0], None), 0.625),
        (PartKind::Body, Make::Ring(12, &[0, 0, 1], None), 0.625),
        (PartKind::Body, Make::Ring(12, &[1], Some(1.25)), 0.625),
        (PartKind::Body, Make::Ring(8, &[0, 1], None), 0.625),
    ];
    build(System::Inch, "Harvest bowl", [4.0, 6.0, 0.375, 0.5, 0.125, 0.125, 6.0], &layers)
}

/// The same kind of vessel in millimeters, with a lid; five-sided in one place.
pub(crate) fn jar() -> Fixture {
    let layers = [
        (PartKind::Body, Make::Disc(1), 12.0),
        (PartKind::Body, Make::Ring(12, &[0], None), 18.0),
        (PartKind::Body, Make::Ring(24, &[0, 2], None), 18.0),
        (PartKind::Lid, Make::Ring(5, &[0], None), 16.0),
        (PartKind::Lid, Make::Disc(1), 12.0),
    ];
    build(System::Millimeter, "Jar", [80.0, 100.0, 9.0, 12.0, 3.0, 3.2, 150.0], &layers)
}

/// Any stack of layers, in millimeters.
pub(crate) fn stack(layers: &[(PartKind, Make, f64)]) -> Fixture {
    build(System::Millimeter, "Stack", [80.0, 100.0, 9.0, 12.0, 3.0, 3.2, 150.0], layers)
}

fn span_of(needle: &str) -> Span {
    let start = INCH_TEXT.find(needle).unwrap_or(0);
    let offset = |at: usize| u32::try_from(at).unwrap_or(0);
    Span::new(FileId(0), offset(start), offset(start + needle.len()))
}

fn written<T>(value: T, needle: &str) -> Known<T> {
    Known::new(value, Origin::Written(span_of(needle)))
}

fn usual<T>(value: T) -> Known<T> {
    Known::new(value, Origin::Default(&"the language's default"))
}

fn wood(key: &str) -> &'static Wood {
    woods().iter().find(|wood| wood.key == key).unwrap_or(&woods()[0])
}

fn glue(key: &str) -> &'static Glue {
    glues().iter().find(|glue| glue.key == key).unwrap_or(&glues()[0])
}

static OUTER: Formula = Formula {
    gives: "outside radius",
    words: "greatest over the layer's height",
    inputs: &["lower diameter", "upper diameter"],
};

/// Foot diameter, mouth diameter, wall, floor, allowance, kerf and hold in `units`.
fn build(units: System, name: &str, sizes: [f64; 7], layers: &[(PartKind, Make, f64)]) -> Fixture {
    let [foot, mouth, wall, floor, allow, kerf, hold] = sizes.map(|size| units.length(size));
    let (world, _) = MapWorld::of("bowl.vessel", INCH_TEXT);
    let mut ledger = Ledger::new();
    let height = layers.iter().fold(Length::ZERO, |sum, (.., thick)| sum + units.length(*thick));
    let outside = |z: Length| foot / 2.0 + (mouth - foot) / 2.0 * (z / height);
    let slope = (mouth - foot) / 2.0 / height;
    // Square to the surface, the wall measures wall / cos(slope) level.
    let level_wall = wall * trig::hypot(1.0, slope);
    let inside = |z: Length| outside(z) - level_wall;
    let has_lid = layers.iter().any(|(part, ..)| *part == PartKind::Lid);
    let (bottom, top) = (floor, if has_lid { height - floor } else { height });

    let sanding = Length::from_mm(0.4);
    let mut said: Vec<(PartKind, Layer)> = Vec::new();
    let mut built: Vec<BuiltLayer> = Vec::new();
    let mut z0 = Length::ZERO;
    for (part, make, thick) in layers {
        let thick = units.length(*thick);
        let z1 = z0 + thick;
        let index = said.iter().filter(|(other, _)| other == part).count() + 1;
        let ends = (usual(outside(z0) * 2.0), usual(outside(z1) * 2.0));
        let outer = ledger.work(&OUTER, ends, |(low, high)| low.max(high) / 2.0);
        let is_solid = matches!(make, Make::Disc(_));
        let inner = if is_solid { Length::ZERO } else { inside(z0).min(inside(z1)) };
        let blank_outer = outer.value + allow;
        let blank_inner = if is_solid { Length::ZERO } else { inner - allow };
        let (kind, shape) = shape(*make, blank_outer, blank_inner, units);
        let joints = match &shape {
            LayerShape::Ring(ring) => {
                let face = ring.strip_width.value / ring.cuts[0].miter.value.cos();
                #[allow(clippy::cast_precision_loss, reason = "few segments")]
                let count = ring.woods.len() as f64;
                face.by(thick) * count
            }
            LayerShape::Disc { .. } | LayerShape::Slant(_) => Area::default(),
        };
        let volume = frustum(outside(z0), outside(z1), thick).mm3()
            - if is_solid { 0.0 } else { frustum(inside(z0), inside(z1), thick).mm3() };
        let blank = blank_volume(&shape, blank_outer).over(thick + sanding * 2.0);
        built.push(BuiltLayer {
            id: format!("{}.{}-{index}", part.word(), if is_solid { "disc" } else { "ring" }),
            part: *part,
            index,
            slices: vec![Slice { part: *part, from: z0, to: z1, raise: Length::ZERO }],
            z0: usual(z0),
            z1: usual(z1),
            rough_thickness: usual(thick + sanding * 2.0),
            outer_radius: outer,
            inner_radius: usual(inner),
            blank_outer_radius: usual(blank_outer),
            blank_inner_radius: usual(blank_inner),
            rotation: Angle::from_degrees(if index.is_multiple_of(2) { 15.0 } else { 0.0 }),
            finished_volume: usual(Volume::from_mm3(volume)),
            blank_volume: usual(blank),
            joint_area: usual(joints),
            shares: shares(&shape, usual(Volume::from_mm3(volume)), usual(blank)),
            shape,
        });
        let layer = Layer {
            kind,
            thick: written(thick, "thick 5/8"),
            allow: usual(allow),
            glue: written(0, "glue pva-d2"),
            name: None,
            span: span_of("ring maple"),
            head: span_of("ring"),
            line: LayerLine { tail: span_of("ring maple").after(), count: None },
        };
        said.push((*part, layer));
        z0 = z1;
    }
    let contacts = built.windows(2).map(|pair| contact(&pair[0], &pair[1])).collect();
    let part = |kind: PartKind| {
        let layers: Vec<Layer> =
            said.iter().filter(|(part, _)| *part == kind).map(|(_, layer)| layer.clone()).collect();
        (!layers.is_empty()).then(|| Part { kind, span: span_of("body"), layers })
    };
    let point = |at: Length, across: Length, needle: &str| OutsidePoint {
        height: written(at, needle),
        diameter: written(Diameter::new(across), needle),
        kind: OutsideKind::Straight,
        round: None,
        span: span_of(needle),
    };
    let recipe = Recipe {
        file: FileId(0),
        units,
        name: Spanned::new(name.to_owned(), span_of("\"Harvest bowl\"")),
        outside: Outside {
            kind: OutsideKind::Straight,
            points: vec![point(Length::ZERO, foot, "at 0 diameter 4"), point(height, mouth, "at 3 diameter 6")],
            path: None,
            details: Vec::new(),
            foot: None,
            span: span_of("outside"),
        },
        wall: written(wall, "wall 3/8"),
        wall_rim: None,
        inside: None,
        floor: written(floor, "floor 1/2"),
        top: has_lid.then(|| usual(floor)),
        parts: [PartKind::Body, PartKind::Lid].into_iter().filter_map(part).collect(),
        shop: Shop {
            kerf: Known::new(kerf, Origin::Shop(span_of("kerf 1/8"))),
            sanding: usual(sanding),
            allowance: usual(allow),
            safe_piece: usual(Length::from_mm(20.0)),
            hold: usual(hold),
            least_glue: usual(Length::from_mm(6.0)),
            least_wall: usual(Length::from_mm(3.0)),
            clamps: usual(Count(2)),
            bits: [6.0, 10.0, 12.0].map(|across| usual(Diameter::new(Length::from_mm(across)))).to_vec(),
            faceplates: [75.0, 100.0].map(|across| usual(Diameter::new(Length::from_mm(across)))).to_vec(),
            screws: usual(Length::from_mm(20.0)),
            ..Shop::usual(System::Millimeter)
        },
        woods: ["hard-maple", "black-walnut", "black-cherry"]
            .into_iter()
            .zip(["maple", "walnut", "cherry"])
            .map(|(key, name)| RecipeWood { name: name.to_owned(), stock: Stock::Wood(wood(key)), span: span_of(name) })
            .collect(),
        glues: vec![RecipeGlue { glue: glue("pva-d2") }],
        fittings: Fittings::default(),
        holds: None,
        finish: None,
        expects: Vec::new(),
        is_partial: false,
    };
    let cavity = frustum(inside(bottom), inside(top), top - bottom);
    let vessel = Vessel {
        outside: profile(),
        inside: profile(),
        cavity_bottom: written(bottom, "floor 1/2"),
        cavity_top: usual(top),
        bodies: Vec::new(),
        layers: built,
        contacts,
        cones: Vec::new(),
        parting: None,
        joint: None,
        inserts: Vec::new(),
        height: usual(height),
        max_diameter: usual(foot.max(mouth)),
        capacity: usual(cavity),
        finish_area: usual(Area::from_mm2(65_000.0)),
    };
    Fixture { world, recipe, vessel, ledger }
}

/// Not measured in these tests: see [`Fixture::radii`].
fn profile() -> Profile {
    Profile::default()
}

impl Fixture {
    /// The stations of the cone, measured on the closed form.
    pub(crate) fn stations(&self) -> Vec<Station> {
        let both = |radius| turning::Sides { below: radius, above: radius };
        turning::stations(&self.recipe, &self.vessel, None, |z| both(self.radii(z).0), |z| both(self.radii(z).1))
    }

    /// Outside and inside of the cone at a height.
    pub(crate) fn radii(&self, z: Length) -> (Length, Length) {
        let points = &self.recipe.outside.points;
        let (foot, mouth) = (points[0].diameter.value.radius(), points[1].diameter.value.radius());
        let slope = (mouth - foot) / self.vessel.height.value;
        let outside = foot + z * slope;
        (outside, outside - self.recipe.wall.value * trig::hypot(1.0, slope))
    }
}

fn shape(make: Make, blank_outer: Length, blank_inner: Length, units: System) -> (LayerKind, LayerShape) {
    match make {
        Make::Disc(wood) => {
            let kind = LayerKind::Disc { wood, wood_span: span_of("walnut"), is_sheet: false };
            (kind, LayerShape::Disc { wood, blank_diameter: usual(blank_outer * 2.0), is_sheet: false })
        }
        Make::Ring(segments, motif, strip) => {
            let miter = Angle::from_degrees(180.0 / f64::from(segments));
            let needed = blank_outer - blank_inner * miter.cos();
            let width = strip.map_or(needed, |strip| units.length(strip));
            let long = blank_outer * (2.0 * miter.tan());
            let ring = RingShape {
                set: RingSet::Round,
                cuts: vec![SegmentCut {
                    sweep: miter * 2.0,
                    miter: usual(miter),
                    bevel: usual(Angle::ZERO),
                    long_edge: usual(long),
                    short_edge: usual(long - width * (2.0 * miter.tan())),
                }],
                cut_of: Vec::new(),
                strip_width: usual(width),
                needed_width: usual(needed),
                corner_radius: usual(blank_outer / miter.cos()),
                hole_radius: ((blank_outer - width) / miter.cos()).max(Length::ZERO),
                spacer: None,
                gap: None,
                woods: motif.iter().copied().cycle().take(segments as usize).collect(),
            };
            let said = Ring {
                segments: Known::new(Count(segments), Origin::Every(span_of("segments 12"))),
                pattern: Pattern {
                    motif: motif.to_vec(),
                    shares: Vec::new(),
                    is_scattered: false,
                    span: span_of("[maple*2 walnut]"),
                },
                stagger: usual(Stagger::Half),
                strip: strip.map(|strip| written(units.length(strip), "strip 1 1/4")),
                set: Set::Round,
                spacer: None,
                gap: None,
                matched: None,
            };
            (LayerKind::Ring(said), LayerShape::Ring(ring))
        }
    }
}

/// Of segments that are all alike, or of one piece.
fn shares(shape: &LayerShape, finished: Known<Volume>, blank: Known<Volume>) -> Vec<StuffShare> {
    let woods = match shape {
        LayerShape::Ring(ring) => ring.woods.clone(),
        LayerShape::Disc { wood, .. } => vec![*wood],
        LayerShape::Slant(ring) => vec![ring.wood],
    };
    let mut kinds: Vec<usize> = Vec::new();
    for wood in &woods {
        if !kinds.contains(wood) {
            kinds.push(*wood);
        }
    }
    let share = |wood: usize| {
        let pieces = woods.iter().filter(|other| **other == wood).count();
        #[allow(clippy::cast_precision_loss, reason = "few segments")]
        let part = |volume: Known<Volume>| volume.map(|volume| volume * (pieces as f64 / woods.len() as f64));
        let (finished, blank) = if kinds.len() == 1 { (finished, blank) } else { (part(finished), part(blank)) };
        StuffShare { wood, pieces: Count(u32::try_from(pieces).unwrap_or(0)), finished, blank }
    };
    kinds.iter().map(|wood| share(*wood)).collect()
}

fn frustum(low: Length, high: Length, height: Length) -> Volume {
    let (a, b) = (low.mm(), high.mm());
    Volume::from_mm3(std::f64::consts::PI * height.mm() / 3.0 * (a * a + a * b + b * b))
}

/// Area of the glued blank: a polygon with a polygonal hole, or a round.
fn blank_volume(shape: &LayerShape, outer: Length) -> Area {
    match shape {
        LayerShape::Ring(ring) => {
            #[allow(clippy::cast_precision_loss, reason = "few segments")]
            let count = ring.woods.len() as f64;
            ring.strip_width.value.by((ring.cuts[0].long_edge.value + ring.cuts[0].short_edge.value) / 2.0) * count
        }
        LayerShape::Disc { .. } | LayerShape::Slant(_) => outer.by(outer) * std::f64::consts::PI,
    }
}

fn contact(low: &BuiltLayer, high: &BuiltLayer) -> Contact {
    let outer = low.blank_outer_radius.value.min(high.blank_outer_radius.value);
    let inner = low.blank_inner_radius.value.max(high.blank_inner_radius.value);
    Contact {
        z: low.z1.value,
        outer_radius: outer,
        inner_radius: inner,
        area: Area::from_mm2(std::f64::consts::PI * (outer.by(outer).mm2() - inner.by(inner).mm2())),
        is_opening: low.part != high.part,
    }
}
