//! A picture as marks on a page: what becomes SVG, a place on a PDF page, a figure of the HTML sheet.
//!
//! All measures are in units of the picture, x to the right and y downward. Pictures at true scale have units of a millimeter.

use kurbo::BezPath;

/// Marks on a white page.
#[derive(Debug, Clone)]
pub(super) struct Picture {
    /// What it is, in a few words; SVG's title.
    pub title: String,
    /// What is to be seen, for those who do not see it; SVG's description.
    pub about: String,
    /// Width and height.
    pub size: (f64, f64),
    /// Millimeters that one unit is long on paper, for what must be true to scale; else it may be scaled to fit.
    pub unit_mm: Option<f64>,
    /// From the back to the front.
    pub marks: Vec<Mark>,
}

/// Something on the page.
#[derive(Debug, Clone)]
pub(super) enum Mark {
    /// An area, a line, or both.
    Shape(Shape),
    /// Words.
    Text(Label),
    /// Marks that belong together.
    Group(Group),
}

/// A path that is filled, drawn along, or both.
#[derive(Debug, Clone)]
pub(super) struct Shape {
    /// The path; holes go the other way round.
    pub path: BezPath,
    /// What is inside it.
    pub fill: Option<Fill>,
    /// What runs along it.
    pub stroke: Option<Stroke>,
}

/// Marks that belong together.
#[derive(Debug, Clone, Default)]
pub(super) struct Group {
    /// A stable name, unique in its picture: `body.ring-3.segment-4`.
    pub name: Option<String>,
    /// What it is, told where the pointer rests on it.
    pub title: Option<String>,
    /// From the back to the front.
    pub marks: Vec<Mark>,
}

/// Words on one line.
#[derive(Debug, Clone)]
pub(super) struct Label {
    /// Where its base line begins, has its middle, or ends.
    pub at: (f64, f64),
    /// What it says.
    pub text: String,
    /// Height of the type.
    pub size: f64,
    /// Which place of it stands at `at`.
    pub anchor: Anchor,
    /// Whether it stands out.
    pub is_bold: bool,
    /// Degrees clockwise about `at`.
    pub turned: f64,
    /// Of the letters.
    pub color: Color,
    /// Whether it has a white ground, so that it can be read over lines.
    pub has_ground: bool,
}

/// Which place of a text stands where it is put.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// Red, green, blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct Color(pub u8, pub u8, pub u8);

/// What fills an area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fill {
    /// Its ground.
    pub color: Color,
    /// Lines over it that tell it from another of the same gray.
    pub hatch: Option<Hatch>,
}

/// Straight lines at equal distances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hatch {
    /// Degrees counterclockwise from level.
    pub angle: f64,
    /// From line to line.
    pub apart: f64,
    /// Of a line.
    pub width: f64,
    /// Of the lines.
    pub color: Color,
    /// Whether a second set crosses them.
    pub is_crossed: bool,
}

/// What runs along a path.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stroke {
    /// Of the line.
    pub color: Color,
    /// Of the line.
    pub width: f64,
    /// Lengths of dash and gap in turn; empty for a whole line.
    pub dash: Vec<f64>,
}
