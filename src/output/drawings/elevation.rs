//! The vessel as it stands before you.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::Point;

use crate::output::picture::{Anchor, Label, Mark, Picture};
use crate::output::sheet::{Sheet, counted};
use crate::view;
use crate::view::solid::PieceOf;

use super::dress::{DEEP, Dress, GRAY, INK, LINER, THIN, dresses};
use super::lettering;
use super::marks::{
    Page, Place, ROW, TYPE, WIDE, area, bold, dashed, dimension, group, label, line, outline, plain, stroke,
};

/// The group that holds the vessel itself.
pub(super) const VESSEL: &str = "vessel";

/// Room for the vessel.
const ROOM: (f64, f64) = (480.0, 520.0);

/// Every piece of the outside in its wood, as seen from the front.
pub(in crate::output) fn elevation(sheet: &Sheet<'_>) -> Picture {
    let vessel = sheet.design.vessel;
    let seen = view::elevation::elevation(sheet.recipe, vessel);
    let dresses = dresses(sheet);
    let size = format!("{} tall, {} across", sheet.pair(vessel.height.value), sheet.pair(vessel.max_diameter.value));
    let about = format!(
        "The finished vessel seen from the front, {size}, of {}; every piece in its wood, joints where they are.",
        counted(vessel.layers.len(), "layer", "layers"),
    );
    let mut page = Page::new(sheet, "from outside", about, &format!("{size}. Seen from the front: 270° faces you."));
    let (low, high) = seen.reach;
    let widest = seen.inserts.iter().map(|set| kurbo::Shape::bounding_box(&set.outline).x1).fold(seen.radius, f64::max);
    let scale = |wide: f64| (wide / (2.0 * widest.max(1.0))).min(ROOM.1 / (high - low).max(1.0));
    // Of what is flat the height's figures stand level, and want room beside it.
    let is_flat =
        lettering::width(&sheet.pair(vessel.height.value), TYPE, false) > vessel.height.value.mm() * scale(ROOM.0);
    let scale = scale(if is_flat { ROOM.0 - 90.0 } else { ROOM.0 });
    let top = page.top + 8.0;
    let place = Place { origin: (WIDE / 2.0, top + high * scale), scale };

    let mut marks = Vec::new();
    let back = seen.open.iter().map(|gaps| area(place.path(gaps), plain(DEEP), stroke(DEEP, THIN)));
    marks.extend(back);
    let mut layers: BTreeMap<usize, Pieces> = BTreeMap::new();
    let mut used = BTreeSet::new();
    for facet in &seen.facets {
        let Some(dress) = dresses.get(facet.wood) else { continue };
        used.insert(facet.wood);
        let shape = area(place.path(&facet.outline), dress.fill, dress.stroke());
        layers.entry(facet.layer).or_default().add(facet.is, dress, shape);
    }
    for (layer, pieces) in layers {
        let id = sheet.layers().get(layer).map_or("", |layer| layer.id.as_str());
        marks.push(group(id, sheet.layer(layer), pieces.marks(sheet)));
    }
    if let Some((z, radius)) = seen.parting {
        marks.push(outline(line(place.at(-radius, z), place.at(radius, z)), stroke(INK, super::dress::BOLD)));
    }
    marks.push(outline(place.path(&seen.outline), bold()));
    for set in &seen.inserts {
        let (fill, ink) = match set.wood.and_then(|wood| dresses.get(wood).map(|dress| (wood, dress))) {
            Some((wood, dress)) => {
                used.insert(wood);
                (dress.fill, INK)
            }
            None => (plain(LINER), INK),
        };
        let edge = if set.is_room { dashed(ink, THIN, &[5.0, 3.0]) } else { bold() };
        let name = sheet.insert(set.insert);
        marks.push(group(&format!("insert.{name}"), name, vec![area(place.path(&set.outline), fill, edge)]));
    }
    page.marks.push(group(VESSEL, "the vessel", marks));

    let right = place.at(widest, 0.0).x;
    let mut beside = Vec::new();
    if let Some((z, radius)) = seen.parting {
        let (from, to) = (place.at(radius, z), Point::new(right + 22.0, place.at(0.0, z).y));
        beside.push(outline(line(from + (3.0, 0.0), to), stroke(GRAY, THIN)));
        beside.push(Mark::Text(label((to.x + 4.0, to.y + 4.0), "opens")));
    }
    page.marks.push(group("notes", "notes", beside));

    let bottom = measures(sheet, &mut page, place, &seen, is_flat);
    let more = if seen.open.is_empty() { Vec::new() } else { vec![(plain(DEEP), "open")] };
    let bottom = page.legend(&dresses, &used, &more, bottom + 14.0);
    page.end(bottom)
}

/// Marks of pieces, those of one piece together though it may show twice.
#[derive(Default)]
pub(super) struct Pieces(Vec<(PieceOf, String, Vec<Mark>)>);

impl Pieces {
    pub(super) fn add(&mut self, is: PieceOf, dress: &Dress, mark: Mark) {
        match self.0.iter_mut().find(|(known, ..)| *known == is) {
            Some((.., marks)) => marks.push(mark),
            None => self.0.push((is, dress.name.clone(), vec![mark])),
        }
    }

    pub(super) fn marks(self, sheet: &Sheet<'_>) -> Vec<Mark> {
        self.0.into_iter().map(|(is, wood, marks)| named(sheet, is, &wood, marks)).collect()
    }
}

/// A piece with its name.
fn named(sheet: &Sheet<'_>, is: PieceOf, wood: &str, marks: Vec<Mark>) -> Mark {
    let id = |layer: usize| sheet.layers().get(layer).map_or("", |layer| layer.id.as_str());
    let (name, what) = match is {
        PieceOf::Segment { layer, segment } => (
            format!("{}.segment-{}", id(layer), segment + 1),
            format!("{} segment {}", sheet.layer(layer), segment + 1),
        ),
        PieceOf::Spacer { layer, segment } => {
            (format!("{}.spacer-{}", id(layer), segment + 1), format!("{} spacer {}", sheet.layer(layer), segment + 1))
        }
        PieceOf::Plug { layer } => (format!("{}.plug", id(layer)), format!("{} plug", sheet.layer(layer))),
        PieceOf::Whole { layer } => (format!("{}.whole", id(layer)), sheet.layer(layer).to_owned()),
        PieceOf::Insert { insert } => (format!("insert.{}", sheet.insert(insert)), sheet.insert(insert).to_owned()),
    };
    group(&name, &format!("{what}: {wood}"), marks)
}

/// Height and greatest diameter; where they end below.
fn measures(sheet: &Sheet<'_>, page: &mut Page, place: Place, seen: &view::elevation::Elevation, is_flat: bool) -> f64 {
    let vessel = sheet.design.vessel;
    let mut marks = Vec::new();
    let (left, right) = (place.at(-seen.radius, 0.0).x, place.at(seen.radius, 0.0).x);
    let foot = place.at(0.0, seen.reach.0).y;
    let y = foot + 16.0;
    marks.extend(dimension(Point::new(left, y), Point::new(right, y), false));
    for x in [left, right] {
        marks.push(outline(line(Point::new(x, foot + 4.0), Point::new(x, y + 5.0)), stroke(GRAY, THIN)));
    }
    let text = format!("Ø {}", sheet.pair(vessel.max_diameter.value));
    let base = y + ROW + 1.0;
    marks.push(Mark::Text(Label { anchor: Anchor::Middle, ..label((WIDE / 2.0, base), &text) }));

    let x = left.min(WIDE / 2.0 - lettering::width(&text, TYPE, false) / 2.0) - 16.0;
    let (low, high) = (place.at(0.0, 0.0).y, place.at(0.0, vessel.height.value.mm()).y);
    marks.extend(dimension(Point::new(x, low), Point::new(x, high), false));
    for y in [low, high] {
        marks.push(outline(line(Point::new(x - 5.0, y), Point::new(x + 10.0, y)), stroke(GRAY, THIN)));
    }
    let middle = f64::midpoint(low, high);
    let text = sheet.pair(vessel.height.value);
    marks.push(Mark::Text(if is_flat {
        Label { anchor: Anchor::End, ..label((x - 8.0, middle + 4.0), &text) }
    } else {
        Label { anchor: Anchor::Middle, turned: -90.0, ..label((x - 6.0, middle), &text) }
    }));
    page.marks.push(group("measures", "measures", marks));
    base + 4.0
}
