//! Recipe to vessel: the curves first, then layer after layer from the bench upward, then totals.

use crate::finding::{Finding, WithFindings};
use crate::quantity::{Angle, Area, Count, Length, Volume};
use crate::resolve::{Layer, LayerKind, OutsideKind, PartKind, Recipe, Ring};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::joints::{self, Joints};
use super::vessel::{BuiltLayer, Contact, LayerShape, RingShape, Vessel};
use super::{Profile, ProfilePoint, findings, inside_of, ring};

/// Sums of thicknesses may miss a height by this much and still meet it.
const MEETS: Length = Length::from_mm(1e-6);
/// A stack that misses the rim by less than this meets it: nobody sands finer.
const STACK_MEETS: Length = Length::from_mm(0.05);
/// Joints nearer than this over each other are one line.
const LINED_UP: Length = Length::from_mm(1.0);

static CAVITY_TOP: Formula =
    Formula { gives: "top of the cavity", words: "height − top", inputs: &["height", "thickness of the top"] };
static UPPER_FACE: Formula =
    Formula { gives: "upper face of the layer", words: "lower face + thickness", inputs: &["lower face", "thickness"] };
static ROUGH: Formula = Formula {
    gives: "thickness before flattening",
    words: "thickness + 2 × loss to sanding, one for each face",
    inputs: &["thickness", "sanding loss of a face"],
};
static OUTER: Formula = Formula {
    gives: "outside radius",
    words: "the greatest radius of the outside between the layer's faces",
    inputs: &["lower face", "upper face"],
};
static INNER: Formula = Formula {
    gives: "inside radius",
    words: "the least radius of the inside between the layer's faces; the inside lies one wall from the outside, square to it",
    inputs: &["lower face", "upper face", "wall"],
};
static SOLID: Formula = Formula {
    gives: "inside radius",
    words: "0: the layer reaches into the floor or the top, or is a disc, whose blank is solid",
    inputs: &["lower face", "upper face"],
};
static BLANK_OUTER: Formula = Formula {
    gives: "outside radius of the blank",
    words: "outside radius + turning allowance",
    inputs: &["outside radius", "turning allowance"],
};
static BLANK_INNER: Formula = Formula {
    gives: "inside radius of the blank",
    words: "inside radius − turning allowance, not under 0",
    inputs: &["inside radius", "turning allowance"],
};
static DIAMETER: Formula = Formula { gives: "diameter", words: "2 × radius", inputs: &["radius"] };
static FINISHED: Formula = Formula {
    gives: "wood left after turning",
    words: "π ∫ (outside² − inside²) dz over the layer's height",
    inputs: &["lower face", "upper face", "wall"],
};
static CAPACITY: Formula = Formula {
    gives: "capacity",
    words: "π ∫ inside² dz from the floor to the rim, or to the top of a lidded vessel",
    inputs: &["floor", "top of the cavity", "wall"],
};
static FINISH_AREA: Formula = Formula {
    gives: "surface to finish",
    words: "2π ∫ radius ds outside and inside, and the foot, the floor, the rim or both sides of the top",
    inputs: &["height", "floor", "top of the cavity", "wall"],
};
static NO_JOINT: Formula =
    Formula { gives: "glued joints of the layer", words: "a disc is one piece", inputs: &["rough thickness"] };

/// The geometry of a recipe; `None` when its shape has no inside at all.
#[must_use]
pub fn build(recipe: &Recipe, ledger: &mut Ledger) -> WithFindings<Option<Vessel>> {
    let mut findings = Vec::new();
    let Some(shape) = Shape::of(recipe, ledger, &mut findings) else {
        return WithFindings { value: None, findings };
    };
    let layers = Stacking { recipe, shape: &shape, ledger, findings: &mut findings, below: None }.layers();
    let contacts = contacts(recipe, &layers, &mut findings);
    stack_height(recipe, &shape, &layers, &mut findings);
    let vessel = totals(shape, layers, contacts, recipe.wall, ledger);
    WithFindings { value: Some(vessel), findings }
}

/// The curves and the heights that decide.
struct Shape {
    outside: Profile,
    inside: Profile,
    height: Known<Length>,
    cavity_bottom: Known<Length>,
    cavity_top: Known<Length>,
    has_lid: bool,
}

impl Shape {
    fn of(recipe: &Recipe, ledger: &mut Ledger, findings: &mut Vec<Finding>) -> Option<Self> {
        let points: Vec<ProfilePoint> = recipe
            .outside
            .points
            .iter()
            .map(|point| ProfilePoint { height: point.height.value, radius: point.diameter.value.radius() })
            .collect();
        let outside = match recipe.outside.kind {
            OutsideKind::Straight => Profile::straight(&points),
            OutsideKind::Smooth => Profile::smooth(&points),
        };
        let height = recipe.outside.points.last()?.height;
        let cavity_bottom = recipe.floor;
        let cavity_top = match recipe.top {
            Some(top) => ledger.work(&CAVITY_TOP, (height, top), |(height, top)| height - top),
            None => height,
        };
        if cavity_top.value <= cavity_bottom.value {
            findings.push(findings::no_cavity_height(recipe, height.value));
            return None;
        }
        let inside = inside_of(&outside, recipe.wall.value, cavity_bottom.value, cavity_top.value);
        let narrowest = inside.extremes(cavity_bottom.value, cavity_top.value).least;
        if narrowest.radius <= MEETS {
            let across = outside.radius(narrowest.height) * 2.0;
            findings.push(findings::wall_closes(recipe, narrowest.height, across));
            return None;
        }
        for (thickness, word) in [(recipe.wall, "wall"), (recipe.floor, "floor")] {
            if thickness.value < recipe.shop.least_wall.value {
                findings.extend(findings::thin(recipe, thickness, word));
            }
        }
        Some(Self { outside, inside, height, cavity_bottom, cavity_top, has_lid: recipe.top.is_some() })
    }

    /// Whether a layer takes part in the floor or the top.
    fn is_solid(&self, z0: Length, z1: Length) -> bool {
        z0 < self.cavity_bottom.value - MEETS || self.has_lid && z1 > self.cavity_top.value + MEETS
    }

    fn outer(&self, z0: Length, z1: Length) -> Length {
        self.outside.extremes(z0, z1).greatest.radius
    }

    fn inner(&self, z0: Length, z1: Length) -> ProfilePoint {
        self.inside.extremes(z0.max(self.cavity_bottom.value), z1.min(self.cavity_top.value)).least
    }

    /// Wood between two heights: the outside's solid less the cavity.
    fn wood(&self, z0: Length, z1: Length) -> Volume {
        let top = z1.min(self.height.value);
        let hollow = self.hollow(z0, z1);
        Volume::from_mm3((self.outside.volume(z0.min(top), top) - hollow).mm3().max(0.0))
    }

    fn hollow(&self, z0: Length, z1: Length) -> Volume {
        let (z0, z1) = (z0.max(self.cavity_bottom.value), z1.min(self.cavity_top.value));
        if z1 > z0 { self.inside.volume(z0, z1) } else { Volume::default() }
    }
}

/// The ring that the next one is turned against.
#[derive(Clone, Copy)]
struct Below {
    joints: Joints,
    /// Whether it lies directly under the layer at hand.
    touches: bool,
    head: crate::source::Span,
    outer: Length,
}

struct Stacking<'a> {
    recipe: &'a Recipe,
    shape: &'a Shape,
    ledger: &'a mut Ledger,
    findings: &'a mut Vec<Finding>,
    below: Option<Below>,
}

impl Stacking<'_> {
    fn layers(mut self) -> Vec<BuiltLayer> {
        let mut z = Known::new(Length::ZERO, Origin::Default("the stack begins on the bench"));
        let recipe = self.recipe;
        let mut layers = Vec::new();
        for (part, index, layer) in recipe.layers() {
            let built = self.layer(part, index, layer, z);
            z = built.z1;
            layers.push(built);
        }
        layers
    }

    fn layer(&mut self, part: PartKind, index: usize, layer: &Layer, z0: Known<Length>) -> BuiltLayer {
        let (shape, shop, wall) = (self.shape, &self.recipe.shop, self.recipe.wall);
        let z1 = self.ledger.work(&UPPER_FACE, (z0, layer.thick), |(z0, thick)| z0 + thick);
        let rough = self.ledger.work(&ROUGH, (layer.thick, shop.sanding), |(thick, loss)| thick + loss * 2.0);
        let outer = self.ledger.work(&OUTER, (z0, z1), |(z0, z1)| shape.outer(z0, z1));
        let is_solid = shape.is_solid(z0.value, z1.value);
        let inner = if is_solid {
            self.ledger.work(&SOLID, (z0, z1), |_| Length::ZERO)
        } else {
            self.ledger.work(&INNER, (z0, z1, wall), |(z0, z1, _)| shape.inner(z0, z1).radius)
        };
        let blank_outer = self.ledger.work(&BLANK_OUTER, (outer, layer.allow), |(radius, allow)| radius + allow);
        let blank_inner = match &layer.kind {
            LayerKind::Ring(_) if !is_solid => {
                self.ledger
                    .work(&BLANK_INNER, (inner, layer.allow), |(radius, allow)| (radius - allow).max(Length::ZERO))
            }
            LayerKind::Ring(_) | LayerKind::Disc { .. } => self.ledger.work(&SOLID, (z0, z1), |_| Length::ZERO),
        };
        let finished = self.ledger.work(&FINISHED, (z0, z1, wall), |(z0, z1, _)| shape.wood(z0, z1));
        let blank = Blank { outer: blank_outer, inner: blank_inner, rough };
        let (rotation, sawn) = match &layer.kind {
            LayerKind::Ring(ring) => {
                if is_solid {
                    let solid = if z0.value < shape.cavity_bottom.value - MEETS {
                        ("floor", shape.cavity_bottom.value)
                    } else {
                        ("top", shape.cavity_top.value)
                    };
                    self.findings.push(findings::must_be_solid(self.recipe, layer, ring, (z0.value, z1.value), solid));
                }
                let rotation = self.rotation(ring, layer, outer.value);
                (rotation, self.ring(ring, layer, &blank, (outer.value, inner.value), (z0.value, z1.value), is_solid))
            }
            LayerKind::Disc { wood, .. } => {
                if let Some(below) = &mut self.below {
                    below.touches = false;
                }
                (Angle::ZERO, self.disc(*wood, &blank))
            }
        };
        BuiltLayer {
            id: id(part, index, layer),
            part,
            index,
            z0,
            z1,
            rough_thickness: rough,
            outer_radius: outer,
            inner_radius: inner,
            blank_outer_radius: blank_outer,
            blank_inner_radius: blank_inner,
            rotation,
            finished_volume: finished,
            blank_volume: sawn.volume,
            joint_area: sawn.joints,
            shape: sawn.shape,
        }
    }

    fn disc(&mut self, wood: usize, blank: &Blank) -> Sawn {
        let (radius, rough) = (blank.outer, blank.rough);
        let diameter = self.ledger.work(&DIAMETER, (radius,), |(radius,)| radius * 2.0);
        Sawn {
            volume: self.ledger.work(&ring::DISC_BLANK_VOLUME, (radius, rough), |(r, h)| ring::disc_volume(r, h)),
            joints: self.ledger.work(&NO_JOINT, (rough,), |_| Area::default()),
            shape: LayerShape::Disc { wood, blank_diameter: diameter },
        }
    }

    /// How the ring is turned, with what is to be said of its joints over those below.
    fn rotation(&mut self, ring: &Ring, layer: &Layer, outer: Length) -> Angle {
        let own = Count(ring.segments.value.0.max(1));
        let turned = |below: Below| {
            (below.joints.first + joints::turn(ring.stagger.value, below.joints.count, own)).normalized()
        };
        let first = self.below.map_or(Angle::ZERO, turned);
        let joints = Joints { count: own, first };
        if let Some(below) = self.below.filter(|below| below.touches) {
            let radius = outer.min(below.outer);
            let line_up = joints::line_up(below.joints, joints, joints::angle_of_arc(radius, LINED_UP));
            if line_up.near.0 > 0 {
                let distance = joints::arc(radius, line_up.nearest);
                self.findings.push(findings::joints_line_up(self.recipe, layer, ring, below.head, line_up, distance));
            }
        }
        self.below = Some(Below { joints, touches: true, head: layer.head, outer });
        first
    }

    fn ring(
        &mut self,
        ring: &Ring,
        layer: &Layer,
        blank: &Blank,
        finished: (Length, Length),
        faces: (Length, Length),
        is_solid: bool,
    ) -> Sawn {
        let segments = ring.segments;
        if !segments.value.0.is_multiple_of(u32::try_from(ring.pattern.motif.len()).unwrap_or(u32::MAX)) {
            self.findings.push(findings::does_not_close(self.recipe, ring));
        }
        let miter = self.ledger.work(&ring::MITER, (segments,), |(n,)| ring::miter(n));
        let (outer, inner, rough) = (blank.outer, blank.inner, blank.rough);
        let needed =
            self.ledger.work(&ring::NEEDED_WIDTH, (outer, inner, miter), |(o, i, m)| ring::needed_width(o, i, m));
        let long = self.ledger.work(&ring::LONG_EDGE, (outer, miter), |(outer, miter)| ring::long_edge(outer, miter));
        let strip = ring.strip.unwrap_or(needed);
        let short = match ring.strip {
            Some(strip) => {
                self.ledger.work(&ring::SHORT_EDGE_OF_STRIP, (long, strip, miter), |(long, strip, miter)| {
                    ring::short_edge_of_strip(long, strip, miter).max(Length::ZERO)
                })
            }
            None => {
                self.ledger.work(&ring::SHORT_EDGE, (inner, miter), |(inner, miter)| ring::short_edge(inner, miter))
            }
        };
        let corner = self.ledger.work(&ring::CORNER_RADIUS, (outer, miter), |(o, m)| ring::corner_radius(o, m));
        if let Some(given) = ring.strip.filter(|_| !is_solid) {
            self.strip(layer, given, needed.value, (outer.value, miter.value), finished, faces);
        }
        let (n, w) = (segments, strip);
        Sawn {
            volume: self.ledger.work(
                &ring::RING_BLANK_VOLUME,
                (n, outer, w, miter, rough),
                |(n, outer, strip, miter, thick)| ring::blank_volume(n, outer, strip, miter, thick),
            ),
            joints: self.ledger.work(&ring::JOINT_AREA, (n, w, miter, rough), |(n, strip, miter, thick)| {
                ring::joint_area(n, strip, miter, thick)
            }),
            shape: LayerShape::Ring(RingShape {
                miter,
                strip_width: strip,
                needed_width: needed,
                long_edge: long,
                short_edge: short,
                corner_radius: corner,
                woods: ring.pattern.motif.iter().copied().cycle().take(segments.value.0 as usize).collect(),
            }),
        }
    }

    /// A strip that is there already: does it cover the wall, and the allowance too?
    fn strip(
        &mut self,
        layer: &Layer,
        given: Known<Length>,
        needed: Length,
        (outer, miter): (Length, Angle),
        finished: (Length, Length),
        faces: (Length, Length),
    ) {
        if given.value > outer + MEETS {
            self.findings.push(findings::strip_past_center(self.recipe, layer, given, outer));
            return;
        }
        let corner = ring::hole_corner(outer, given.value, miter);
        let strip = findings::Strip { given, needed, corner, inner: finished.1 };
        if corner > finished.1 + MEETS {
            let where_least = self.shape.inner(faces.0, faces.1).height;
            self.findings.push(findings::does_not_cover(self.recipe, layer, &strip, where_least));
        } else if corner > (finished.1 - layer.allow.value).max(Length::ZERO) + MEETS {
            self.findings.push(findings::allowance_short(self.recipe, layer, &strip));
        }
    }
}

/// The sizes of a blank.
struct Blank {
    outer: Known<Length>,
    inner: Known<Length>,
    rough: Known<Length>,
}

/// What is sawn and glued for a layer.
struct Sawn {
    volume: Known<Volume>,
    joints: Known<Area>,
    shape: LayerShape,
}

/// `body.ring-3`, or `body.band` when the recipe names it.
fn id(part: PartKind, index: usize, layer: &Layer) -> String {
    let kind = match layer.kind {
        LayerKind::Ring(_) => "ring",
        LayerKind::Disc { .. } => "disc",
    };
    match &layer.name {
        Some(name) => format!("{}.{}", part.word(), name.value),
        None => format!("{}.{kind}-{index}", part.word()),
    }
}

/// Where the blank's wood begins: at the hole's corners, at 0 in a solid.
fn hole(layer: &BuiltLayer) -> Length {
    match &layer.shape {
        LayerShape::Ring(ring) => {
            ring::hole_corner(layer.blank_outer_radius.value, ring.strip_width.value, ring.miter.value)
        }
        LayerShape::Disc { .. } => Length::ZERO,
    }
}

fn contacts(recipe: &Recipe, layers: &[BuiltLayer], findings: &mut Vec<Finding>) -> Vec<Contact> {
    let said: Vec<&Layer> = recipe.layers().map(|(_, _, layer)| layer).collect();
    let pairs = layers.windows(2).zip(said.windows(2));
    pairs
        .map(|(built, said)| {
            let (below, above) = (&built[0], &built[1]);
            let outer = below.blank_outer_radius.value.min(above.blank_outer_radius.value);
            let inner = hole(below).max(hole(above));
            let is_opening = below.part != above.part;
            let width = outer - inner;
            if !is_opening && width <= Length::ZERO {
                findings.push(findings::apart(recipe, (below, said[0].head), (above, said[1].head), -width));
            } else if !is_opening && width < recipe.shop.least_glue.value {
                findings.push(findings::narrow_overlap(recipe, said[0].head, said[1].head, (outer, inner)));
            }
            Contact {
                z: above.z0.value,
                outer_radius: outer,
                inner_radius: inner,
                area: ring::annulus(outer, inner),
                is_opening,
            }
        })
        .collect()
}

/// Whether the stack ends where the shape does.
fn stack_height(recipe: &Recipe, shape: &Shape, layers: &[BuiltLayer], findings: &mut Vec<Finding>) {
    let (Some(top), false) = (layers.last(), recipe.is_partial) else { return };
    let height = shape.height;
    let said = recipe.layers().map(|(_, _, layer)| layer);
    let mut beyond = said.zip(layers).filter(|(_, built)| built.z0.value > height.value - STACK_MEETS);
    let over = top.z1.value - height.value;
    if let Some((layer, built)) = beyond.next() {
        findings.push(findings::layer_beyond_shape(recipe, layer.head, built.z0.value, height));
    } else if over > STACK_MEETS {
        let last = recipe.layers().last().map_or(recipe.outside.span, |(_, _, layer)| layer.head);
        findings.push(findings::stack_too_tall(recipe, last, over, top.z1.value, height));
    } else if -over > STACK_MEETS {
        let (part, thick) = recipe.layers().last().map_or((recipe.outside.span, Length::ZERO), |(kind, _, layer)| {
            let part = recipe.parts.iter().find(|part| part.kind == kind);
            (part.map_or(recipe.outside.span, |part| part.span), layer.thick.value)
        });
        findings.push(findings::stack_too_short(recipe, part, -over, top.z1.value, height, thick));
    }
}

fn totals(
    shape: Shape,
    layers: Vec<BuiltLayer>,
    contacts: Vec<Contact>,
    wall: Known<Length>,
    ledger: &mut Ledger,
) -> Vessel {
    let Shape { outside, inside, height, cavity_bottom, cavity_top, has_lid } = shape;
    let widest = Known::new(outside.max_radius(), height.origin);
    let max_diameter = ledger.work(&DIAMETER, (widest,), |(radius,)| radius * 2.0);
    let capacity =
        ledger.work(&CAPACITY, (cavity_bottom, cavity_top, wall), |(bottom, top, _)| inside.volume(bottom, top));
    let inputs = (height, cavity_bottom, cavity_top, wall);
    let finish_area = ledger.work(&FINISH_AREA, inputs, |(height, bottom, top, _)| {
        let round = |radius: Length| ring::annulus(radius, Length::ZERO);
        let foot = round(outside.above(Length::ZERO));
        let floor = round(inside.above(bottom));
        // An open vessel has a rim; a closed one a top with two sides.
        let upper = if has_lid {
            round(outside.below(height)) + round(inside.below(top))
        } else {
            ring::annulus(outside.below(height), inside.below(top))
        };
        outside.lateral_area(Length::ZERO, height) + inside.lateral_area(bottom, top) + foot + floor + upper
    });
    Vessel { outside, inside, cavity_bottom, cavity_top, layers, contacts, height, max_diameter, capacity, finish_area }
}
