//! Each layer's height, radii, segments and wood, from the bench upward.

use std::collections::HashMap;

use crate::finding::Finding;
use crate::quantity::{Angle, Area, Length, Volume};
use crate::resolve::{Layer, LayerKind, PartKind, Recipe, Ring, Set};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::joints::Spread;
use super::parts::Parts;
use super::profile::{Extremes, ProfilePoint};
use super::ring;
use super::sawn::Made;
use super::shape::Shape;
use super::slanted::Fit;
use super::stuff::{self, Glued};
use super::vessel::{BuiltLayer, Cone, LayerShape, Slice};

/// A face this near to the floor's height lies on it: what summing thicknesses may lose.
pub(super) const SAME_HEIGHT: Length = Length::from_mm(1e-6);

static UPPER_FACE: Formula =
    Formula { gives: "upper face", words: "lower face + thickness", inputs: &["lower face", "thickness"] };
static ROUGH_THICKNESS: Formula = Formula {
    gives: "rough thickness",
    words: "finished thickness + 2 × what flattening takes off a face",
    inputs: &["finished thickness", "sanding"],
};
static OUTER_RADIUS: Formula = Formula {
    gives: "greatest outside radius of the layer",
    words: "the greatest radius of the outside curve from the lower to the upper face, between them included",
    inputs: &["lower face", "upper face"],
};
static INNER_RADIUS: Formula = Formula {
    gives: "least inside radius of the layer",
    words: "the least radius of the inside curve (as the recipe writes it, or the outside moved in by the wall square to \
            itself) from the lower to the upper face, between them included",
    inputs: &["lower face", "upper face", "wall"],
};
static SOLID_OVER_FLOOR: Formula = Formula {
    gives: "least inside radius of the layer",
    words: "0: the lower face lies under the top of the floor, so the layer is solid",
    inputs: &["lower face", "floor"],
};
static SOLID_UNDER_TOP: Formula = Formula {
    gives: "least inside radius of the layer",
    words: "0: the upper face lies over the end of the cavity, so the layer is solid",
    inputs: &["upper face", "upper end of the cavity"],
};
static BLANK_OUTER: Formula = Formula {
    gives: "outside radius of the blank",
    words: "greatest outside radius + turning allowance",
    inputs: &["greatest outside radius", "allowance"],
};
static BLANK_INNER: Formula = Formula {
    gives: "inside radius of the blank",
    words: "least inside radius − turning allowance, but not under 0",
    inputs: &["least inside radius", "allowance"],
};
static BLANK_DIAMETER: Formula = Formula {
    gives: "diameter of the round to saw",
    words: "2 × outside radius of the blank",
    inputs: &["outside radius of the blank"],
};
static FINISHED_VOLUME: Formula = Formula {
    gives: "wood left after turning",
    words: "π ∫ outside radius² dz − π ∫ inside radius² dz from the lower to the upper face; inside counts between floor \
            and upper end of the cavity",
    inputs: &["lower face", "upper face", "floor", "upper end of the cavity", "wall"],
};
static FINISHED_OPEN: Formula = Formula {
    gives: "wood left after turning",
    words: "wood of a closed ring × (360° − segments × gap) / 360°",
    inputs: &["wood of a closed ring", "gap between segments", "segments"],
};

/// Why a layer must be solid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Solid {
    /// It reaches into the floor.
    Floor,
    /// It reaches into the top.
    Top,
}

/// Where a layer lies and how far the finished vessel reaches in it.
pub(super) struct Place {
    pub(super) z0: Known<Length>,
    pub(super) z1: Known<Length>,
    pub(super) solid: Option<Solid>,
    pub(super) inner: Known<Length>,
    /// Where the inside is nearest to the axis.
    pub(super) inner_at: ProfilePoint,
    pub(super) blank_outer: Known<Length>,
    pub(super) blank_inner: Known<Length>,
    pub(super) rough: Known<Length>,
    /// Whose stack it lies in.
    pub(super) part: PartKind,
    /// What of it becomes body and lid.
    pub(super) slices: Vec<Slice>,
}

/// Every layer of a recipe, and the cones that some are sawn from.
pub(super) fn layers(
    recipe: &Recipe,
    shape: &Shape,
    parts: &Parts,
    ledger: &mut Ledger,
    found: &mut Vec<Finding>,
) -> (Vec<BuiltLayer>, Vec<Cone>) {
    let said: Vec<_> = recipe.layers().collect();
    let mut build = Build { recipe, shape, parts, ledger, found, cones: Vec::new(), fit: None };
    let mut ids = Ids::default();
    let mut z0 = Known::new(Length::ZERO, Origin::Default(&"the first layer lies on the bench"));
    let mut below: Option<Spread> = None;
    let mut layers = Vec::with_capacity(said.len());
    for (at, (part, index, layer)) in said.iter().copied().enumerate() {
        let id = ids.next(part, index, layer);
        if part == PartKind::Lid && index == 1 {
            z0 = parts.lid_begins.unwrap_or(z0);
        }
        if let LayerKind::Slant(slant) = &layer.kind {
            build.begin_cone(&said[at..], at, slant, z0);
        }
        let built = build.layer(id, part, index, layer, z0, below.as_ref());
        z0 = built.z1;
        if let (LayerShape::Ring(ring), LayerKind::Ring(said)) = (&built.shape, &layer.kind) {
            below = Some(Spread::of(ring, said.pattern.motif.len(), built.rotation));
        }
        layers.push(built);
    }
    (layers, build.cones)
}

/// Gives every layer a name of its own.
#[derive(Default)]
struct Ids(HashMap<String, u32>);

impl Ids {
    fn next(&mut self, part: PartKind, index: usize, layer: &Layer) -> String {
        let kind = match layer.kind {
            LayerKind::Ring(_) => "ring",
            LayerKind::Disc { is_sheet: false, .. } => "disc",
            LayerKind::Disc { is_sheet: true, .. } => "sheet",
            LayerKind::Slant(_) => "cone",
        };
        let mut id = match &layer.name {
            Some(name) => format!("{}.{}", part.word(), name.value),
            None => format!("{}.{kind}-{index}", part.word()),
        };
        // A `repeat` may give one name to many layers.
        while let Some(uses) = self.0.get_mut(&id) {
            *uses += 1;
            id = format!("{id}-{uses}");
        }
        self.0.insert(id.clone(), 1);
        id
    }
}

/// What building a layer needs at hand.
pub(super) struct Build<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) shape: &'a Shape,
    pub(super) parts: &'a Parts,
    pub(super) ledger: &'a mut Ledger,
    pub(super) found: &'a mut Vec<Finding>,
    /// Of the layers so far.
    pub(super) cones: Vec<Cone>,
    /// How the last of them follows the shape.
    pub(super) fit: Option<Fit>,
}

impl Build<'_> {
    fn layer(
        &mut self,
        id: String,
        part: PartKind,
        index: usize,
        layer: &Layer,
        z0: Known<Length>,
        below: Option<&Spread>,
    ) -> BuiltLayer {
        let (place, outer) = self.place(layer, part, z0);
        let made = match &layer.kind {
            LayerKind::Ring(ring) => self.ring(layer, ring, &place, below),
            LayerKind::Slant(ring) => self.slant(layer, ring, &place),
            LayerKind::Disc { wood, is_sheet, .. } => self.disc(*wood, *is_sheet, &place),
        };
        let finished_volume = self.finished(&place, &made.shape);
        let shares = stuff::shares(&made, finished_volume, &place, self.parts.stack(part), self.ledger);
        let (blank_outer_radius, blank_inner_radius) = made.radii.unwrap_or((place.blank_outer, place.blank_inner));
        BuiltLayer {
            id,
            part,
            index,
            slices: place.slices,
            z0,
            z1: place.z1,
            rough_thickness: place.rough,
            outer_radius: outer,
            inner_radius: place.inner,
            blank_outer_radius,
            blank_inner_radius,
            rotation: made.rotation,
            finished_volume,
            blank_volume: made.blank_volume,
            joint_area: made.joint_area,
            shares,
            shape: made.shape,
        }
    }

    fn disc(&mut self, wood: usize, is_sheet: bool, place: &Place) -> Made {
        let blank = (place.blank_outer, place.rough);
        let blank_volume = self.ledger.work(&ring::DISC_BLANK_VOLUME, blank, |(r, t)| ring::disc_volume(r, t));
        let blank_diameter = self.ledger.work(&BLANK_DIAMETER, (place.blank_outer,), |(radius,)| radius * 2.0);
        Made {
            shape: LayerShape::Disc { wood, blank_diameter, is_sheet },
            rotation: Angle::ZERO,
            blank_volume,
            joint_area: Known::new(Area::default(), Origin::Default(&"a disc has no joints")),
            glued: Glued::whole(blank_volume),
            radii: None,
        }
    }

    /// Of an open ring, only what its segments fill.
    fn finished(&mut self, place: &Place, shape: &LayerShape) -> Known<Volume> {
        let (cavity_bottom, cavity_top) = (self.shape.cavity_bottom, self.shape.cavity_top);
        let turned = self.turned_volume(&place.slices);
        let whole = self.ledger.work(
            &FINISHED_VOLUME,
            (place.z0, place.z1, cavity_bottom, cavity_top, self.shape.wall),
            |_| turned,
        );
        match shape {
            LayerShape::Ring(ring) => match ring.gap {
                Some(gap) => self.ledger.work(&FINISHED_OPEN, (whole, gap, ring.count()), |(whole, gap, n)| {
                    whole * (1.0 - gap.degrees() * f64::from(n.0) / 360.0).max(0.0)
                }),
                None => whole,
            },
            LayerShape::Disc { .. } | LayerShape::Slant(_) => whole,
        }
    }

    /// The layer's place, with the greatest outside radius over it.
    fn place(&mut self, layer: &Layer, part: PartKind, z0: Known<Length>) -> (Place, Known<Length>) {
        let Self { recipe, shape, parts, ledger, .. } = self;
        let z1 = ledger.work(&UPPER_FACE, (z0, layer.thick), |(z0, thick)| z0 + thick);
        let rough = match layer.kind {
            LayerKind::Disc { is_sheet: true, .. } => layer.thick,
            LayerKind::Ring(_) | LayerKind::Slant(_) | LayerKind::Disc { .. } => {
                let flattened = (layer.thick, recipe.shop.sanding);
                ledger.work(&ROUGH_THICKNESS, flattened, |(thick, loss)| thick + loss * 2.0)
            }
        };
        let slices = parts.slices(part, z0.value, z1.value);
        let seen: Vec<Seen> = slices.iter().filter_map(|slice| Seen::of(slice, shape, parts)).collect();
        let solid = seen.iter().find_map(|seen| seen.solid);
        // What falls wholly into a parting cut has nothing to cover.
        let outermost = seen.iter().map(|seen| seen.outside.greatest.radius).fold(Length::ZERO, Length::max);
        let outer = ledger.work(&OUTER_RADIUS, (z0, z1), |_| outermost);
        let nearest = seen.iter().map(|seen| seen.inside.least).min_by(|a, b| a.radius.mm().total_cmp(&b.radius.mm()));
        let inner_at = nearest.unwrap_or(ProfilePoint { height: z0.value, radius: Length::ZERO });
        let inner = match solid {
            Some(Solid::Floor) => ledger.work(&SOLID_OVER_FLOOR, (z0, shape.cavity_bottom), |_| Length::ZERO),
            Some(Solid::Top) => ledger.work(&SOLID_UNDER_TOP, (z1, shape.cavity_top), |_| Length::ZERO),
            None => ledger.work(&INNER_RADIUS, (z0, z1, shape.wall), |_| inner_at.radius),
        };
        let blank_outer = ledger.work(&BLANK_OUTER, (outer, layer.allow), |(radius, allow)| radius + allow);
        let blank_inner = match layer.kind {
            LayerKind::Ring(Ring { set: Set::ToMiddle { .. }, .. }) => {
                Known::new(Length::ZERO, Origin::Default(&"wedges meet in the middle"))
            }
            LayerKind::Ring(_) | LayerKind::Slant(_) => {
                ledger.work(&BLANK_INNER, (inner, layer.allow), |(radius, allow)| (radius - allow).max(Length::ZERO))
            }
            LayerKind::Disc { .. } => Known::new(Length::ZERO, Origin::Default(&"a disc has no hole")),
        };
        (Place { z0, z1, solid, inner, inner_at, blank_outer, blank_inner, rough, part, slices }, outer)
    }

    /// Wood that stays of a layer.
    fn turned_volume(&self, slices: &[Slice]) -> Volume {
        let of_slice = |slice: &Slice| {
            let part = self.parts.part(slice.part)?;
            let (from, to) = (slice.from - slice.raise, slice.to - slice.raise);
            Some(part.outside.volume(from, to) - part.inside.volume(from, to))
        };
        slices.iter().filter_map(of_slice).sum()
    }
}

/// A slice of a layer on the closed vessel.
struct Seen {
    outside: Extremes,
    inside: Extremes,
    solid: Option<Solid>,
}

impl Seen {
    fn of(slice: &Slice, shape: &Shape, parts: &Parts) -> Option<Self> {
        let part = parts.part(slice.part)?;
        let (from, to) = (slice.from - slice.raise, slice.to - slice.raise);
        let top = part.inside.top().max(shape.cavity_top.value);
        let solid = if from < shape.cavity_bottom.value - SAME_HEIGHT {
            Some(Solid::Floor)
        } else if shape.is_closed && to > top + SAME_HEIGHT {
            Some(Solid::Top)
        } else {
            None
        };
        Some(Self { outside: part.outside.extremes(from, to), inside: part.inside.extremes(from, to), solid })
    }
}
