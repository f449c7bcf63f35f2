//! The vessel sawn through along its axis, with its measures.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Point, Rect};

use crate::geometry::Vessel;
use crate::output::picture::{Anchor, Label, Mark, Picture};
use crate::output::sheet::Sheet;
use crate::quantity::{Length, show_fine};
use crate::resolve::{JointKind, PartKind, Seat};
use crate::view;
use crate::view::bands::{Band, bands, shown};

use super::dress::{Dress, GRAY, INK, LINER, THIN, WHITE, dresses};
use super::elevation::Pieces;
use super::lettering;
use super::marks::{
    MARGIN, Page, Place, TYPE, WIDE, area, bold, dashed, dimension, dot, filled, group, label, line, outline, plain,
    stroke,
};

/// Where the words to the left end and those to the right begin.
const COLUMN: f64 = 166.0;
/// Between words and vessel, on the right with two lines of dimensions.
const BESIDE: (f64, f64) = (18.0, 52.0);
/// Height of the vessel.
const TALL: f64 = 460.0;
/// Of the words beside it.
const SMALL: f64 = 10.0;
const LINE: f64 = 13.0;
/// Between two labels.
const AIR: f64 = 4.0;
/// From one dimension to the next.
const STEP: f64 = 20.0;
/// Diameters that differ less are told once, millimeters.
const ALIKE: f64 = 0.3;

/// Words with a line to what they are about.
struct Callout {
    to: Point,
    lines: Vec<String>,
}

/// The drawing with dimensions: the whole section of what is tall, of what is wide its right half.
pub(in crate::output) fn section(sheet: &Sheet<'_>) -> Picture {
    let vessel = sheet.design.vessel;
    let cut = view::section::section(sheet.recipe, vessel);
    let dresses = dresses(sheet);
    let inserts =
        cut.inserts.iter().flat_map(|insert| [Some(&insert.body), insert.shows.as_ref().map(|(path, _)| path)]);
    let bounds = inserts.flatten().map(kurbo::Shape::bounding_box);
    let turned = Rect::new(-vessel.outside.max_radius().mm(), 0.0, vessel.outside.max_radius().mm(), top_of(vessel));
    let all = bounds.fold(turned, |all, bounds| all.union(bounds));

    let wide = WIDE - 2.0 * (MARGIN + COLUMN) - BESIDE.0 - BESIDE.1;
    let whole = (wide / all.width().max(1.0)).min(TALL / all.height().max(1.0));
    let half = ((wide - 8.0) / all.x1.max(1.0)).min(TALL / all.height().max(1.0));
    let is_half = whole < 0.6 * half;
    let (scale, from) = if is_half { (half, 0.0) } else { (whole, all.x0) };

    let what = if is_half { "the right half, sawn through along the axis" } else { "sawn through along the axis" };
    let about = format!(
        "The finished vessel {what}, with heights, diameters, wall and floor; {} tall, {} across.",
        sheet.pair(vessel.height.value),
        sheet.pair(vessel.max_diameter.value),
    );
    let lead = if is_half {
        "The right half, sawn through along the axis at 0°. All measures are finished ones."
    } else {
        "Sawn through along the axis: 0° on the right, 180° on the left. All measures are finished ones."
    };
    let mut page = Page::new(sheet, "section", about, lead);
    let above = diameters_above(vessel);
    let top = page.top + 12.0 + STEP * f64::from(u32::try_from(above.len()).unwrap_or(0));
    let left = MARGIN + COLUMN + BESIDE.0 + (wide - (all.x1 - from) * scale) / 2.0;
    let place = Place { origin: (left - from * scale, top + all.y1 * scale), scale };
    let drawing = Drawing { sheet, vessel, place, is_half, dresses: &dresses };

    let used = drawing.cuts(&mut page, &cut);
    drawing.axis(&mut page, &all);
    let right = place.at(all.x1, 0.0).x;
    let base = drawing.diameters(&mut page, &above, top);
    let lowest = drawing.labels(&mut page, &cut, right, (top, place.at(0.0, all.y0).y));
    let bottom = page.legend(&dresses, &used, &liners(&cut), base.max(lowest) + 14.0);
    page.end(bottom)
}

fn liners(cut: &view::section::Section) -> Vec<(crate::output::picture::Fill, &'static str)> {
    if cut.inserts.iter().any(|insert| insert.wood.is_none()) { vec![(plain(LINER), "liner")] } else { Vec::new() }
}

fn top_of(vessel: &Vessel) -> f64 {
    vessel.bodies.iter().map(|part| part.outside.top().mm()).fold(vessel.height.value.mm(), f64::max)
}

/// Of rim and mouth: what is told, from the lowest line up.
fn diameters_above(vessel: &Vessel) -> Vec<(String, Length, Length)> {
    let height = vessel.outside.top();
    let mut all = Vec::new();
    let rim = vessel.outside.below(height);
    let is_closed = vessel.cavity_top.value < height - Length::from_mm(ALIKE);
    if !is_closed && !vessel.inside.is_empty() {
        all.push(("mouth".to_owned(), vessel.inside.below(vessel.inside.top()), height));
    }
    if rim.mm() > ALIKE {
        all.push((if is_closed { "top" } else { "rim" }.to_owned(), rim, height));
    }
    all
}

struct Drawing<'a> {
    sheet: &'a Sheet<'a>,
    vessel: &'a Vessel,
    place: Place,
    is_half: bool,
    dresses: &'a [Dress],
}

impl Drawing<'_> {
    /// Where what lies on the axis comes to lie on the page, as far as it is drawn.
    fn path(&self, path: &kurbo::BezPath) -> kurbo::BezPath {
        if self.is_half { self.place.path(&view::section::right_half(path)) } else { self.place.path(path) }
    }

    /// The wood, its contours, what is let in; the woods that are seen.
    fn cuts(&self, page: &mut Page, cut: &view::section::Section) -> BTreeSet<usize> {
        let (place, mut used) = (self.place, BTreeSet::new());
        let mut layers: BTreeMap<usize, Pieces> = BTreeMap::new();
        for face in cut.cuts.iter().filter(|face| face.is_right || !self.is_half) {
            let Some(dress) = self.dresses.get(face.wood) else { continue };
            used.insert(face.wood);
            let pieces = layers.entry(face.layer).or_default();
            pieces.add(face.is, dress, filled(place.path(&face.outline), dress.fill));
            let edge = view::section::without_axis(&face.outline);
            pieces.add(face.is, dress, outline(place.path(&edge), dress.stroke()));
        }
        let mut marks = Vec::new();
        // The rim behind the saw.
        if let Some((z, radius)) = rim(self.vessel) {
            let near = if self.is_half { 0.0 } else { -radius };
            marks.push(outline(line(place.at(near, z), place.at(radius, z)), stroke(GRAY, THIN)));
        }
        for (layer, pieces) in layers {
            let id = self.sheet.layers().get(layer).map_or("", |layer| layer.id.as_str());
            marks.push(group(id, self.sheet.layer(layer), pieces.marks(self.sheet)));
        }
        let contours = cut.contours.iter().filter(|contour| contour.is_right || !self.is_half);
        marks.extend(
            contours.map(|contour| outline(place.path(&view::section::without_axis(&contour.outline)), bold())),
        );
        for insert in &cut.inserts {
            let dress = insert.wood.and_then(|wood| self.dresses.get(wood));
            used.extend(insert.wood);
            let fill = dress.map_or(plain(LINER), |dress| dress.fill);
            let mut parts: Vec<Mark> =
                insert.hole.iter().map(|hole| area(self.path(hole), plain(WHITE), stroke(INK, THIN))).collect();
            if let Some((shows, is_room)) = &insert.shows {
                let edge = if *is_room { dashed(INK, THIN, &[5.0, 3.0]) } else { bold() };
                parts.push(area(self.path(shows), fill, edge));
            }
            let edge = if insert.wood.is_none() { dashed(INK, THIN, &[5.0, 3.0]) } else { bold() };
            parts.push(area(self.path(&insert.body), fill, edge));
            let name = self.sheet.insert(insert.insert);
            marks.push(group(&format!("insert.{name}"), name, parts));
        }
        page.marks.push(group("section", "the section", marks));
        used
    }

    fn axis(&self, page: &mut Page, all: &Rect) {
        let (from, to) = (self.place.at(0.0, all.y1) - (0.0, 8.0), self.place.at(0.0, all.y0) + (0.0, 8.0));
        page.marks.push(outline(line(from, to), dashed(GRAY, THIN, &[12.0, 3.0, 2.0, 3.0])));
    }

    /// Rim and mouth above, foot and widest below; where they end.
    fn diameters(&self, page: &mut Page, above: &[(String, Length, Length)], top: f64) -> f64 {
        let outside = &self.vessel.outside;
        let mut marks = Vec::new();
        let mut y = top - 12.0;
        for (name, radius, z) in above {
            self.diameter(&mut marks, name, *radius, *z, y);
            y -= STEP;
        }
        let (bottom, widest) = (outside.bottom(), outside.extremes(outside.bottom(), outside.top()).greatest);
        let mut below = vec![("foot", outside.above(bottom), bottom)];
        let is_told = |radius: Length| {
            let told = above.iter().map(|(_, radius, _)| *radius).chain([outside.above(bottom)]);
            told.into_iter().any(|other| (other - radius).mm().abs() * 2.0 < ALIKE)
        };
        if !is_told(widest.radius) {
            below.push(("widest", widest.radius, widest.height));
        }
        let lowest = self.lowest();
        let mut y = lowest + 14.0;
        for (name, radius, z) in below {
            self.diameter(&mut marks, name, radius, z, y);
            y += STEP;
        }
        page.marks.push(group("diameters", "diameters", marks));
        y - STEP + 6.0
    }

    fn lowest(&self) -> f64 {
        let inserts =
            self.vessel.inserts.iter().filter_map(|insert| view::section::stands_out(self.sheet.recipe, insert));
        let low = inserts.map(|(path, _)| kurbo::Shape::bounding_box(&path).y0).fold(0.0, f64::min);
        self.place.at(0.0, low).y
    }

    fn diameter(&self, marks: &mut Vec<Mark>, name: &str, radius: Length, z: Length, y: f64) {
        let at = self.place.at(radius.mm(), z.mm());
        let (axis, right) = (self.place.origin.0, at.x);
        let left = if self.is_half { axis - 10.0 } else { 2.0 * axis - right };
        marks.extend(dimension(Point::new(left, y), Point::new(right, y), self.is_half));
        let ends = if self.is_half { vec![right] } else { vec![left, right] };
        for x in ends {
            let (near, far) = if y > at.y { (at.y + 3.0, y + 4.0) } else { (at.y - 3.0, y - 4.0) };
            marks.push(outline(line(Point::new(x, near), Point::new(x, far)), dashed(GRAY, THIN, &[2.0, 2.0])));
        }
        let text = format!("{name} Ø {}", self.sheet.pair(radius * 2.0));
        // What does not fit on the line stands before it.
        let needs = lettering::width(&text, TYPE, false) + 26.0;
        let (anchor, x) = if needs <= right - left {
            (Anchor::Middle, f64::midpoint(left, right))
        } else {
            (Anchor::End, left - 5.0)
        };
        let label = Label { anchor, has_ground: anchor == Anchor::Middle, ..label((x, y + 3.8), &text) };
        marks.push(Mark::Text(label));
    }

    /// What stands beside the vessel, left and right; where it ends.
    fn labels(&self, page: &mut Page, cut: &view::section::Section, right: f64, (top, bottom): (f64, f64)) -> f64 {
        let place = self.place;
        let (chain, total) = (right + 14.0, right + 28.0);
        let shown = shown(&bands(self.vessel));
        let mut marks = Vec::new();
        let mut heights: Vec<f64> = shown.iter().flat_map(|band| [band.from.mm(), band.to.mm()]).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        for z in &heights {
            let y = place.at(0.0, *z).y;
            marks.push(outline(line(Point::new(chain - 4.0, y), Point::new(chain + 4.0, y)), stroke(INK, THIN)));
        }
        if let (Some(low), Some(high)) = (heights.first(), heights.last()) {
            let (low, high) = (place.at(0.0, *low).y, place.at(0.0, *high).y);
            marks.push(outline(line(Point::new(chain, low), Point::new(chain, high)), stroke(GRAY, THIN)));
        }
        let (low, high) = (place.at(0.0, 0.0).y, place.at(0.0, self.vessel.height.value.mm()).y);
        marks.extend(dimension(Point::new(total, low), Point::new(total, high), false));
        for (z, y) in [(0.0, low), (self.vessel.height.value.mm(), high)] {
            let radius = self.vessel.outside.above(Length::from_mm(z)).mm();
            let from = place.at(radius, z) + (4.0, 0.0);
            marks.push(outline(line(from, Point::new(total + 4.0, y)), stroke(GRAY, THIN)));
        }
        let stands_out = cut.inserts.iter().any(|insert| insert.shows.is_some() && insert.is_outside);
        let what = if stands_out { "height without inserts" } else { "height over all" };
        let mut beside = vec![Callout {
            to: Point::new(total, high),
            lines: vec![what.to_owned(), self.sheet.pair(self.vessel.height.value)],
        }];
        beside.extend(self.layers(&shown, chain));
        let x = WIDE - MARGIN - COLUMN;
        let one = callouts(&mut marks, beside, (x, false), (top - 20.0, bottom));
        let two = callouts(&mut marks, self.parts(cut), (MARGIN + COLUMN, true), (top - 2.0, bottom));
        page.marks.push(group("measures", "measures", marks));
        one.max(two)
    }

    /// Each layer at the middle of the tallest stretch that shows of it, from the top down.
    fn layers(&self, shown: &[Band<'_>], chain: f64) -> Vec<Callout> {
        let mut callouts = Vec::new();
        for (at, layer) in self.sheet.layers().iter().enumerate() {
            let mine = shown.iter().filter(|band| band.layer == at);
            let tallest = mine.max_by(|a, b| (a.to - a.from).mm().total_cmp(&(b.to - b.from).mm()));
            let Some(band) = tallest else { continue };
            let z = (band.from + band.to) / 2.0;
            let name = lettering::fitted(self.sheet.layer(at), SMALL, false, COLUMN - 6.0);
            let text = format!("{name}: {}", self.sheet.pair(layer.z1.value - layer.z0.value));
            let lines = lettering::lines(&text, SMALL, COLUMN);
            callouts.push(Callout { to: Point::new(chain, self.place.at(0.0, z.mm()).y), lines });
        }
        callouts
    }

    /// Wall, floor, joint, inserts.
    fn parts(&self, cut: &view::section::Section) -> Vec<Callout> {
        let (sheet, vessel, place) = (self.sheet, self.vessel, self.place);
        let side = if self.is_half { 1.0 } else { -1.0 };
        let mut callouts = Vec::new();
        let mut say = |(x, z): (f64, f64), lines: Vec<String>| {
            let lines = lines.iter().flat_map(|text| lettering::lines(text, SMALL, COLUMN)).collect();
            callouts.push(Callout { to: place.at(x, z), lines });
        };
        let middle_of_wall = |z: Length| {
            let (outer, inner) = (vessel.outside.above(z), vessel.inside.above(z));
            (side * f64::midpoint(outer.mm(), inner.mm()), z.mm())
        };
        let (floor, ceiling) = (vessel.cavity_bottom.value, vessel.cavity_top.value);
        let recipe = sheet.recipe;
        if !vessel.inside.is_empty() {
            let at = |share: f64| floor + (ceiling - floor) * share;
            let least = if recipe.inside.is_some() { "wall at least" } else { "wall" };
            match recipe.wall_rim {
                Some(rim) => {
                    say(middle_of_wall(at(0.9)), vec![format!("wall at the rim {}", sheet.pair(rim.value))]);
                    say(middle_of_wall(at(0.1)), vec![format!("wall at the base {}", sheet.pair(recipe.wall.value))]);
                }
                None => say(middle_of_wall(at(0.42)), vec![format!("{least} {}", sheet.pair(recipe.wall.value))]),
            }
        }
        let reach = vessel.outside.above(floor / 2.0).mm();
        say((side * reach * 0.35, floor.mm() / 2.0), vec![format!("floor {}", sheet.pair(floor))]);
        if let Some(top) = recipe.top {
            let height = vessel.height.value;
            let z = height - top.value / 2.0;
            say((side * vessel.outside.above(z).mm() * 0.6, z.mm()), vec![format!("top {}", sheet.pair(top.value))]);
        }
        if let Some(joint) = &vessel.joint {
            let z = Length::from_mm(f64::midpoint(joint.shoulder.value.mm(), joint.end.value.mm()));
            let radius = joint.tenon.value.mm().min(joint.mortise.value.mm()) / 2.0;
            let on = match joint.on {
                PartKind::Body => "body",
                PartKind::Lid => "lid",
            };
            let (one, two) = match joint.kind {
                JointKind::Thread => ("thread", "mortise"),
                JointKind::Tenon | JointKind::Inset | JointKind::Over => ("tenon", "mortise"),
            };
            let mut lines = vec![
                format!("joint: {} on {on}", joint.kind.word()),
                format!("{one} Ø {}", sheet.pair(joint.tenon.value)),
                format!("{two} Ø {}", sheet.pair(joint.mortise.value)),
                format!("goes in {}", sheet.pair(joint.long.value)),
            ];
            match joint.thread {
                Some(thread) => lines.push(format!("pitch {}", show_fine(thread.pitch.value, recipe.units))),
                None => lines.push(format!("play {} on the diameter", show_fine(joint.clearance.value, recipe.units))),
            }
            say((side * radius, z.mm()), lines);
        }
        for let_in in &cut.inserts {
            let Some(insert) = vessel.inserts.get(let_in.insert) else { continue };
            let bounds = kurbo::Shape::bounding_box(&let_in.body);
            let mut lines = vec![format!("{}:", sheet.insert(let_in.insert))];
            if let_in.hole.is_some() {
                lines.push(format!("hole Ø {}", sheet.pair(insert.hole_diameter.value)));
                lines.push(format!("deep {}", sheet.pair(insert.hole_depth.value)));
            } else {
                lines.push("stands loose,".to_owned());
                lines.push(format!("Ø {}", sheet.pair(insert.diameter.value)));
            }
            let x = if self.is_half { bounds.x1 } else { bounds.x0 };
            say((x, bounds.center().y), lines);
        }
        for insert in &vessel.inserts {
            let said = recipe.fittings.inserts.get(insert.said);
            let Some(said) = said.filter(|said| matches!(said.seat, Seat::BodySide { .. })) else { continue };
            let facing = insert.facing.map_or(0.0, |facing| facing.normalized().degrees());
            let z = insert.rim;
            let x = side * vessel.outside.above(z).mm();
            say(
                (x, z.mm()),
                vec![
                    format!("{}: in the wall at {facing:.0}°,", said.name.value),
                    format!("{} up, hole Ø {}", sheet.own(z), sheet.own(insert.hole_diameter.value)),
                ],
            );
        }
        callouts
    }
}

/// Where the cavity is open above: height and radius of its edge.
fn rim(vessel: &Vessel) -> Option<(f64, f64)> {
    let top = vessel.outside.top();
    let is_open = !vessel.inside.is_empty() && vessel.cavity_top.value >= top - Length::from_mm(ALIKE);
    is_open.then(|| (top.mm(), vessel.inside.below(vessel.inside.top()).mm()))
}

/// Words in a column at `x`, ending there or beginning there, from the top down, each with its line; where they end.
fn callouts(marks: &mut Vec<Mark>, mut all: Vec<Callout>, (x, is_left): (f64, bool), (top, bottom): (f64, f64)) -> f64 {
    all.sort_by(|a, b| a.to.y.total_cmp(&b.to.y));
    let tall = |callout: &Callout| LINE * f64::from(u32::try_from(callout.lines.len()).unwrap_or(1)) + AIR;
    let wanted: Vec<(f64, f64)> = all.iter().map(|one| (one.to.y - f64::midpoint(LINE, AIR), tall(one))).collect();
    let tops = lettering::spread(&wanted, top, bottom.max(top));
    let mut end = top;
    for (callout, at) in all.iter().zip(tops) {
        let mut base = at + AIR / 2.0 + LINE - 3.2;
        let middle = at + f64::midpoint(LINE, AIR);
        let anchor = if is_left { Anchor::End } else { Anchor::Start };
        for text in &callout.lines {
            marks.push(Mark::Text(Label { size: SMALL, anchor, ..label((x, base), text) }));
            base += LINE;
        }
        // A short level run, then straight to it.
        let (near, bend) = if is_left { (x + 3.0, x + 14.0) } else { (x - 3.0, x - 12.0) };
        let mut way = line(Point::new(near, middle), Point::new(bend, middle));
        way.line_to(callout.to);
        marks.push(outline(way, stroke(GRAY, THIN)));
        if is_left {
            marks.push(dot(callout.to));
        }
        end = end.max(at + tall(callout));
    }
    end
}
