//! Vessels of layers that are no plain rings, for the tests of plan and output: recipes written by hand
//! in millimeters, their geometry built as it is for any recipe.

use crate::geometry::build;
use crate::plan::fixture::{Fixture, Make, stack};
use crate::quantity::{Count, Diameter, Length, Ratio};
use crate::resolve::{
    Gap, LaminatedBoard, Layer, LayerKind, LayerLine, PartKind, Pattern, Plug, Ply, RecipeWood, Ring, Set, SlantRing,
    Spacer, Stagger, Stock,
};
use crate::source::{FileId, Span};
use crate::workings::{Known, Ledger, Origin};

/// Index of walnut, maple, walnut, face on face: alike from both sides.
pub(crate) const STRIPE: usize = 3;
/// Index of walnut on maple: unlike.
pub(crate) const TWO_TONE: usize = 4;

fn span() -> Span {
    Span::new(FileId(0), 0, 8)
}

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn written<T>(value: T) -> Known<T> {
    Known::new(value, Origin::Written(span()))
}

fn layer(kind: LayerKind, thick: f64) -> Layer {
    Layer {
        kind,
        thick: written(mm(thick)),
        allow: written(mm(3.0)),
        glue: written(0),
        name: None,
        span: span(),
        head: span(),
        line: LayerLine { tail: span().after(), count: None },
    }
}

fn disc(thick: f64, is_sheet: bool) -> Layer {
    layer(LayerKind::Disc { wood: 1, wood_span: span(), is_sheet }, thick)
}

fn ring(segments: u32, motif: &[usize], thick: f64, change: impl FnOnce(&mut Ring)) -> Layer {
    let pattern = Pattern { motif: motif.to_vec(), shares: Vec::new(), is_scattered: false, span: span() };
    let mut ring = Ring {
        segments: written(Count(segments)),
        set: Set::Round,
        pattern,
        stagger: written(Stagger::Half),
        strip: None,
        spacer: None,
        gap: None,
        matched: None,
    };
    change(&mut ring);
    layer(LayerKind::Ring(ring), thick)
}

fn shares(shares: &'static [f64]) -> impl FnOnce(&mut Ring) {
    |ring| ring.pattern.shares = shares.iter().copied().map(Ratio::of).collect()
}

fn spacer(thick: f64) -> Spacer {
    Spacer { wood: 2, thick: written(mm(thick)), span: span() }
}

/// Heights and diameters of the outside, wall, floor, and the layers.
fn vessel(points: &[(f64, f64)], wall: f64, floor: f64, layers: Vec<Layer>) -> Fixture {
    let mut fixture = stack(&[(PartKind::Body, Make::Disc(1), 10.0)]);
    let recipe = &mut fixture.recipe;
    let point = recipe.outside.points[0];
    recipe.outside.points = points
        .iter()
        .map(|(at, across)| {
            let mut point = point;
            (point.height, point.diameter) = (written(mm(*at)), written(Diameter::new(mm(*across))));
            point
        })
        .collect();
    recipe.parts[0].layers = layers;
    (recipe.wall.value, recipe.floor.value) = (mm(wall), mm(floor));
    recipe.shop.kerf.value = mm(2.4);
    for (name, plies) in [("stripe", &[(1, 6.0), (0, 8.8), (1, 6.0)][..]), ("two-tone", &[(1, 8.0), (0, 12.8)])] {
        let plies = plies.iter().map(|(wood, thick)| Ply { wood: *wood, thick: written(mm(*thick)) }).collect();
        let board = LaminatedBoard { plies, glue: written(0), span: span() };
        recipe.woods.push(RecipeWood { name: name.to_owned(), stock: Stock::Board(board), span: span() });
    }
    fixture.ledger = Ledger::new();
    fixture.vessel = build(&fixture.recipe, &mut fixture.ledger).value.expect("a vessel");
    fixture
}

/// A floor of wedges with a plug, leaning staves, a ring.
pub(crate) fn cachepot() -> Fixture {
    let plug = Some(Plug { wood: 1, diameter: written(mm(30.0)), span: span() });
    let layers = vec![
        ring(12, &[0, 1], 12.0, |ring| ring.set = Set::ToMiddle { plug }),
        ring(12, &[0], 120.0, |ring| ring.set = Set::Upright),
        ring(12, &[1], 18.0, |_| ()),
    ];
    vessel(&[(0.0, 130.0), (150.0, 190.0)], 9.0, 12.0, layers)
}

/// Open rings between closed ones.
pub(crate) fn lantern() -> Fixture {
    let open = || ring(16, &[0, 1], 12.0, |ring| ring.gap = Some(written(Gap::Share(Ratio::of(0.25)))));
    let mut layers = vec![disc(12.0, false), ring(16, &[0], 12.0, |_| ())];
    layers.extend((0..4).map(|_| open()));
    layers.push(ring(16, &[1], 18.0, |_| ()));
    vessel(&[(0.0, 110.0), (45.0, 122.0), (90.0, 110.0)], 9.0, 12.0, layers)
}

/// Upright staves over a line of veneer.
pub(crate) fn crock() -> Fixture {
    let layers =
        vec![disc(9.5, false), disc(1.5, true), ring(16, &[0, 0, 1, 1], 154.0, |ring| ring.set = Set::Upright)];
    vessel(&[(0.0, 127.0), (165.0, 127.0)], 8.0, 9.5, layers)
}

/// Five rings sawn from one board.
pub(crate) fn board_bowl() -> Fixture {
    let cone = (0..5).map(|at| {
        let said = SlantRing { wood: 1, wood_span: span(), cone: 0, ring: at, of: written(Count(5)) };
        layer(LayerKind::Slant(said), 19.05)
    });
    let mut layers = vec![disc(12.7, false)];
    layers.extend(cone);
    for layer in &mut layers {
        layer.allow.value = mm(1.5);
    }
    vessel(&[(0.0, 139.7), (12.7, 139.7), (107.95, 317.5)], 7.9375, 12.7, layers)
}

/// Unlike shares with joints opposite and without, spacers, laminated boards of both kinds.
pub(crate) fn beaker() -> Fixture {
    let layers = vec![
        disc(8.0, false),
        ring(12, &[0, 1], 20.0, |ring| {
            shares(&[2.0, 1.0])(ring);
            ring.spacer = Some(spacer(1.5));
        }),
        ring(12, &[STRIPE, 0], 20.0, |_| ()),
        ring(6, &[0, 1], 20.0, shares(&[3.0, 1.0])),
        ring(12, &[TWO_TONE], 20.0, |_| ()),
        ring(24, &[STRIPE], 20.0, |_| ()),
    ];
    vessel(&[(0.0, 180.0), (108.0, 180.0)], 12.0, 8.0, layers)
}

/// All of them.
pub(crate) fn all() -> [Fixture; 5] {
    [cachepot(), lantern(), crock(), board_bowl(), beaker()]
}
