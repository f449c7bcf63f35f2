//! What all documents share: the names of things, and measures as they are printed.

use std::fmt::Write as _;

use crate::compile::Complete;
use crate::geometry::BuiltLayer;
use crate::plan::cutting::LaneKind;
use crate::plan::{DiscRow, GlueStep, GlueWork, Plan, Serving, ripped};
use crate::quantity::{
    Area, Duration, Length, Mass, System, Unit, Volume, show_both, show_inches, show_length, show_millimeters,
};
use crate::resolve::Recipe;
use crate::tables::Glue;

/// A design with the words for its parts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sheet<'a> {
    pub design: &'a Complete<'a>,
    pub recipe: &'a Recipe,
    pub plan: &'a Plan,
    has_lid: bool,
}

impl<'a> Sheet<'a> {
    pub(super) fn new(design: &'a Complete<'a>) -> Self {
        Self { design, recipe: design.recipe, plan: design.plan, has_lid: design.recipe.parts.len() > 1 }
    }

    pub(super) fn layers(&self) -> &'a [BuiltLayer] {
        &self.design.vessel.layers
    }

    /// `ring-3`; with its part where there are two: `lid.ring-3`.
    pub(super) fn layer(&self, at: usize) -> &'a str {
        let id = self.layers().get(at).map_or("", |layer| layer.id.as_str());
        if self.has_lid { id } else { id.strip_prefix("body.").unwrap_or(id) }
    }

    /// The name that the recipe uses.
    pub(super) fn wood(&self, at: usize) -> &'a str {
        self.recipe.woods.get(at).map_or("", |used| used.name.as_str())
    }

    pub(super) fn glue(&self, at: usize) -> Option<&'static Glue> {
        self.recipe.glues.get(at).map(|used| used.glue)
    }

    /// The vessel's name where it stands in a line of Markdown: nothing in it can start markup.
    pub(super) fn title(&self) -> String {
        let mut title = String::new();
        let name = self.name();
        let mut signs = name.chars().peekable();
        while let Some(sign) = signs.next() {
            // `R&D` is text, `&lt;` would be read as another sign.
            let is_entity =
                sign == '&' && signs.peek().is_some_and(|next| next.is_ascii_alphanumeric() || *next == '#');
            if is_entity || "\\`*_{}[]<>#|".contains(sign) {
                title.push('\\');
            }
            title.push(sign);
        }
        title
    }

    /// The vessel's name without signs that steer a terminal or break a line.
    pub(super) fn name(&self) -> String {
        let name = self.recipe.name.value.trim();
        if name.is_empty() {
            return "(unnamed)".to_owned();
        }
        name.chars().map(|sign| if sign.is_control() { ' ' } else { sign }).collect()
    }

    /// A width as it is told to the one who rips: rounded up.
    pub(super) fn ripped(&self, width: Length) -> Length {
        ripped(width, self.recipe.units)
    }

    /// That width in both systems, in neither less than is wanted: `27/32" (0.844 in, 21.5 mm)`, `21.4 mm (27/32")`.
    pub(super) fn ripped_both(&self, width: Length) -> String {
        let own = self.ripped(width);
        match self.recipe.units {
            System::Inch => {
                let beside = show_millimeters(ripped(own, System::Millimeter));
                format!("{} ({:.3} in, {beside})", show_inches(own), own.inches())
            }
            System::Millimeter => self.ripped_pair(width),
        }
    }

    /// The same without the decimals in between.
    pub(super) fn ripped_pair(&self, width: Length) -> String {
        let own = self.ripped(width);
        match self.recipe.units {
            System::Inch => format!("{} ({})", show_inches(own), show_millimeters(ripped(own, System::Millimeter))),
            System::Millimeter => format!("{} ({})", show_millimeters(own), show_inches(ripped(own, System::Inch))),
        }
    }

    /// The name of a built insert.
    pub(super) fn insert(&self, at: usize) -> &'a str {
        let built = self.design.vessel.inserts.get(at);
        let said = built.and_then(|built| self.recipe.fittings.inserts.get(built.said));
        said.map_or("", |said| said.name.value.as_str())
    }

    /// All figures: `1 39/64" (1.609 in, 40.9 mm)` or `40.9 mm (1 39/64")`.
    pub(super) fn both(&self, length: Length) -> String {
        show_both(length, self.recipe.units)
    }

    /// Without the decimals in between: `1 39/64" (40.9 mm)`.
    pub(super) fn pair(&self, length: Length) -> String {
        match self.recipe.units {
            System::Inch => format!("{} ({})", show_length(length, System::Inch), show_millimeters(length)),
            System::Millimeter => format!("{} ({})", show_millimeters(length), show_inches(length)),
        }
    }

    pub(super) fn own(&self, length: Length) -> String {
        show_length(length, self.recipe.units)
    }

    /// So many millimeters as one says them, nothing to measure: `20 mm`, `13/16"`.
    pub(super) fn about(&self, mm: f64) -> String {
        match self.recipe.units {
            System::Inch => {
                let sixteenths = (Length::from_mm(mm).inches() * 16.0).round();
                show_inches(System::Inch.length(sixteenths / 16.0))
            }
            System::Millimeter => format!("{mm} mm"),
        }
    }

    /// An area in the recipe's own system alone: it is spread on, or held, not measured.
    pub(super) fn area(&self, area: Area) -> String {
        let (unit, value) = match self.recipe.units {
            System::Inch => ("in²", area.mm2() / (factor("in") * factor("in"))),
            System::Millimeter => ("cm²", area.mm2() / 100.0),
        };
        if value < 10.0 { format!("{value:.1} {unit}") } else { format!("{value:.0} {unit}") }
    }

    pub(super) fn volume(&self, volume: Volume) -> String {
        let metric =
            if volume.liters() < 1.0 { format!("{:.0} ml", volume.ml()) } else { format!("{:.2} l", volume.liters()) };
        match self.recipe.units {
            System::Inch => format!("{:.1} fl oz ({metric})", volume.mm3() / factor("floz")),
            System::Millimeter => format!("{metric} ({:.1} fl oz)", volume.mm3() / factor("floz")),
        }
    }

    pub(super) fn mass(&self, mass: Mass) -> String {
        let metric = if mass.grams() < 1000.0 {
            format!("{:.0} g", mass.grams())
        } else {
            format!("{:.2} kg", mass.grams() / factor("kg"))
        };
        match self.recipe.units {
            System::Inch => format!("{:.2} lb ({metric})", mass.grams() / factor("lb")),
            System::Millimeter => format!("{metric} ({:.2} lb)", mass.grams() / factor("lb")),
        }
    }

    /// Degrees Celsius in the recipe's own scale first.
    pub(super) fn temperature(&self, celsius: f64) -> String {
        let fahrenheit = Unit::find("degF").map_or(celsius, |unit| (celsius - unit.offset) / unit.factor);
        match self.recipe.units {
            System::Inch => format!("{fahrenheit:.0} °F ({celsius:.0} °C)"),
            System::Millimeter => format!("{celsius:.0} °C ({fahrenheit:.0} °F)"),
        }
    }

    /// The rings that pieces are for: `ring-2 (12), ring-3 (8)`; after eight the rest is only counted.
    pub(super) fn served(&self, serves: &[Serving]) -> String {
        listed(serves.iter().map(|serving| format!("{} ({})", self.layer(serving.layer), serving.count)))
    }

    pub(super) fn disc_layers(&self, row: &DiscRow) -> String {
        listed(row.layers.iter().map(|layer| self.layer(*layer).to_owned()))
    }

    /// A stable name for a glue-up: `body.ring-3.half-1`.
    pub(super) fn step(&self, step: &GlueStep) -> String {
        let id = self.layers().get(step.layer).map_or("", |layer| layer.id.as_str());
        match step.work {
            GlueWork::Run { first, segments, .. } => format!("{id}.segments-{}-{}", first + 1, first + segments),
            GlueWork::Half { half, .. } => format!("{id}.half-{half}"),
            GlueWork::Board { wood, .. } => format!("board.{}", self.wood(wood)),
            GlueWork::Panel { is: LaneKind::Ply { board, ply }, .. } => {
                let wood = self.plan.cut_list.boards.get(board).map_or("", |row| self.wood(row.wood));
                format!("board.{wood}.ply-{}.panel", ply + 1)
            }
            GlueWork::Panel { .. } => format!("{id}.panel"),
            GlueWork::Spacers { first, segments, .. } => format!("{id}.spacers-{}-{}", first + 1, first + segments),
            GlueWork::Plug => format!("{id}.plug"),
            GlueWork::SetOpen { .. } => format!("{id}.set"),
            GlueWork::Close => format!("{id}.close"),
            GlueWork::WholeRing { .. } => format!("{id}.whole"),
            GlueWork::Stack { .. } => format!("{id}.stack"),
        }
    }

    /// A glue-up in a few words of running text: `ring-3 half 1`.
    pub(super) fn step_in_words(&self, step: &GlueStep) -> String {
        let layer = self.layer(step.layer);
        match step.work {
            GlueWork::Run { first, segments, .. } => format!("{layer} segments {}–{}", first + 1, first + segments),
            GlueWork::Half { half, .. } => format!("{layer} half {half}"),
            GlueWork::Board { wood, .. } => format!("board {}", self.wood(wood)),
            GlueWork::Panel { is: LaneKind::Ply { ply, .. }, .. } => format!("the panel of ply {}", ply + 1),
            GlueWork::Panel { .. } => format!("the panel of {layer}"),
            GlueWork::Spacers { .. } => format!("the spacers of {layer}"),
            GlueWork::Plug => format!("the plug of {layer}"),
            GlueWork::SetOpen { .. } => format!("setting {layer}"),
            GlueWork::Close => format!("closing {layer}"),
            GlueWork::WholeRing { .. } => format!("all of {layer}"),
            GlueWork::Stack { onto } => format!("{layer} onto {}", self.layer(onto)),
        }
    }
}

fn factor(spelling: &str) -> f64 {
    Unit::find(spelling).map_or(1.0, |unit| unit.factor)
}

/// The layers that a lane's pieces are for.
pub(super) fn layers_of(sheet: &Sheet<'_>, lane: LaneKind) -> Vec<usize> {
    let list = &sheet.plan.cut_list;
    let of_strip = |strip: usize| list.rows.iter().filter(move |row| row.strip == strip);
    match lane {
        LaneKind::Strip(at) => of_strip(at).flat_map(|row| served(&row.serves)).collect(),
        LaneKind::Staves(at) => list.staves.get(at).map_or(Vec::new(), |row| served(&row.serves)),
        LaneKind::Round(at) => list.discs.get(at).map_or(Vec::new(), |row| row.layers.clone()),
        LaneKind::Cone(at) => {
            list.cones.get(at).map_or(Vec::new(), |row| row.rings.iter().map(|ring| ring.layer).collect())
        }
        // An insert stands in no layer's place.
        LaneKind::Insert(_) => Vec::new(),
        LaneKind::Ply { board, .. } => {
            let Some(board) = list.boards.get(board) else { return Vec::new() };
            let parts = board.strips.iter().map(|at| LaneKind::Strip(*at));
            let parts = parts.chain(board.staves.iter().map(|at| LaneKind::Staves(*at)));
            let parts = parts.chain(board.discs.iter().map(|at| LaneKind::Round(*at)));
            parts.flat_map(|part| layers_of(sheet, part)).collect()
        }
    }
}

/// The layers that a row of the cut list serves.
pub(super) fn served(serves: &[Serving]) -> Vec<usize> {
    serves.iter().map(|serving| serving.layer).collect()
}

/// Joined by commas; after eight the rest is only counted.
pub(super) fn listed(items: impl ExactSizeIterator<Item = String>) -> String {
    const SHOWN: usize = 8;
    let more = items.len().saturating_sub(SHOWN);
    let mut text = items.take(SHOWN).collect::<Vec<_>>().join(", ");
    if more > 0 {
        let _ = write!(text, " and {more} more");
    }
    text
}

/// The letter chalked on a bag of pieces: A … Z, AA, AB …
pub(super) fn letter(row: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = row;
    loop {
        letters.push(char::from(b'A' + u8::try_from(rest % 26).unwrap_or(0)));
        rest /= 26;
        if rest == 0 {
            break;
        }
        rest -= 1;
    }
    letters.iter().rev().collect()
}

/// The number of a strip: S1, S2 …
pub(super) fn strip(at: usize) -> String {
    format!("S{}", at + 1)
}

/// Hours and minutes: `1:05`.
pub(super) fn clock(time: Duration) -> String {
    let minutes = time.minutes().round();
    let hours = (minutes / 60.0).floor();
    format!("{hours:.0}:{:02.0}", minutes - hours * 60.0)
}

/// A short stretch: `45 s`, `2 min 5 s`, `30 min`.
pub(super) fn stretch(time: Duration) -> String {
    let seconds = (time.minutes() * 60.0).round();
    let minutes = (seconds / 60.0).floor();
    let rest = seconds - minutes * 60.0;
    match (minutes > 0.0, rest > 0.0) {
        (false, _) => format!("{rest:.0} s"),
        (true, false) => format!("{minutes:.0} min"),
        (true, true) => format!("{minutes:.0} min {rest:.0} s"),
    }
}

/// `1 piece`, `12 pieces`.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::{clock, letter, listed, stretch};
    use crate::quantity::Duration;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!([0, 25, 26, 51, 52, 701, 702].map(letter), ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }

    #[test]
    fn times_are_read_at_a_glance() {
        let minutes = Duration::from_minutes;
        assert_eq!([0.0, 65.0, 119.6, 1500.0].map(|m| clock(minutes(m))), ["0:00", "1:05", "2:00", "25:00"]);
        assert_eq!([0.5, 5.0, 25.0 / 12.0].map(|m| stretch(minutes(m))), ["30 s", "5 min", "2 min 5 s"]);
    }

    #[test]
    fn a_long_list_is_cut_short() {
        let many: Vec<String> = (1..=11).map(|at| at.to_string()).collect();
        assert_eq!(listed(many.into_iter()), "1, 2, 3, 4, 5, 6, 7, 8 and 3 more");
    }
}
