//! Recipes for the tests of this phase, in millimeters, as resolving would make them.

use crate::quantity::{Count, Diameter, Length, System};
use crate::resolve::{
    Fittings, Layer, LayerKind, LayerLine, Outside, OutsideKind, OutsidePoint, Part, PartKind, Pattern, Recipe,
    RecipeGlue, RecipeWood, Ring, Set, Shop, Stagger, Stock,
};
use crate::source::{FileId, Span, Spanned};
use crate::tables::{find_glue, find_wood};
use crate::workings::{Known, Origin};

pub(super) fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

pub(super) fn span(start: u32) -> Span {
    Span::new(FileId(0), start, start + 4)
}

pub(super) fn written<T>(value: T, at: u32) -> Known<T> {
    Known::new(value, Origin::Written(span(at)))
}

fn default<T>(value: T) -> Known<T> {
    Known::new(value, Origin::Default(&"for the test"))
}

pub(super) const WALL_AT: u32 = 10;

/// A ring of maple; change what a test is about.
pub(super) fn ring(segments: u32, thick: f64) -> Layer {
    let ring = Ring {
        segments: written(Count(segments), 500),
        pattern: Pattern { motif: vec![0], shares: Vec::new(), is_scattered: false, span: span(510) },
        stagger: default(Stagger::Half),
        strip: None,
        set: Set::Round,
        spacer: None,
        gap: None,
        matched: None,
    };
    layer(LayerKind::Ring(ring), thick)
}

pub(super) fn disc(thick: f64) -> Layer {
    layer(LayerKind::Disc { wood: 1, wood_span: span(520), is_sheet: false }, thick)
}

pub(super) fn layer(kind: LayerKind, thick: f64) -> Layer {
    Layer {
        kind,
        thick: written(mm(thick), 530),
        allow: default(mm(3.0)),
        glue: default(0),
        name: None,
        span: span(540),
        head: span(540),
        line: LayerLine { tail: span(540).after(), count: None },
    }
}

pub(super) fn with_ring(mut layer: Layer, change: impl FnOnce(&mut Ring)) -> Layer {
    if let LayerKind::Ring(ring) = &mut layer.kind {
        change(ring);
    }
    layer
}

/// An open vessel with floor as thick as the wall.
pub(super) fn open(kind: OutsideKind, points: &[(f64, f64)], wall: f64, layers: Vec<Layer>) -> Recipe {
    let point = |(at, (height, diameter)): (u32, &(f64, f64))| OutsidePoint {
        height: written(mm(*height), 100 + 10 * at),
        diameter: written(Diameter::new(mm(*diameter)), 105 + 10 * at),
        kind,
        round: None,
        span: span(100 + 10 * at),
    };
    let wood = |name: &str, key: &str| RecipeWood {
        name: name.to_owned(),
        stock: Stock::Wood(find_wood(key).unwrap()),
        span: span(600),
    };
    let mut recipe = Recipe {
        file: FileId(0),
        units: System::Millimeter,
        name: Spanned::new("Test".to_owned(), span(0)),
        outside: Outside {
            kind,
            points: (0..).zip(points).map(point).collect(),
            path: None,
            details: Vec::new(),
            foot: None,
            span: span(5),
        },
        wall: written(mm(wall), WALL_AT),
        wall_rim: None,
        inside: None,
        floor: default(mm(wall)),
        top: None,
        parts: vec![Part { kind: PartKind::Body, span: span(30), layers }],
        shop: Shop {
            kerf: default(mm(3.175)),
            sanding: default(mm(0.4)),
            allowance: default(mm(3.0)),
            safe_piece: default(mm(20.0)),
            hold: default(mm(150.0)),
            least_glue: default(mm(6.0)),
            least_wall: default(mm(3.0)),
            clamps: default(Count(2)),
            bits: [6.0, 10.0, 12.0].map(|across| default(Diameter::new(Length::from_mm(across)))).to_vec(),
            faceplates: [75.0, 100.0].map(|across| default(Diameter::new(Length::from_mm(across)))).to_vec(),
            screws: default(mm(20.0)),
            ..Shop::usual(System::Millimeter)
        },
        woods: vec![wood("maple", "hard-maple"), wood("walnut", "black-walnut")],
        glues: vec![RecipeGlue { glue: find_glue("pva-d2").unwrap() }],
        fittings: Fittings::default(),
        holds: None,
        finish: None,
        expects: Vec::new(),
        is_partial: false,
    };
    // Each layer is a statement of its own.
    renumber(&mut recipe);
    recipe
}

/// The same with a top as thick as the floor, and these layers for a lid.
pub(super) fn lidded(mut recipe: Recipe, lid: Vec<Layer>) -> Recipe {
    recipe.top = Some(recipe.floor);
    recipe.parts.push(Part { kind: PartKind::Lid, span: span(40), layers: lid });
    renumber(&mut recipe);
    recipe
}

fn renumber(recipe: &mut Recipe) {
    let layers = recipe.parts.iter_mut().flat_map(|part| &mut part.layers);
    for (at, layer) in (0..).zip(layers) {
        layer.span = span(1000 + 20 * at);
        layer.head = layer.span;
    }
}
