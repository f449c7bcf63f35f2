//! The shop sheet as PDF: laid out in points from the upper left corner, then drawn. No clock, no chance: same sheet, same
//! bytes.

mod columns;
mod flow;
mod font;
mod paint;
mod tiles;
mod words;

use krilla::Document;
use krilla::destination::XyzDestination;
use krilla::geom::Point;
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;

use super::shop_sheet::ShopSheet;
use crate::quantity::{Length, System};

/// The paper that a sheet is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 mm × 297 mm.
    A4,
    /// 8 1/2 in × 11 in.
    Letter,
}

impl Paper {
    /// What is usual where people measure so.
    #[must_use]
    pub fn of(units: System) -> Self {
        match units {
            System::Inch => Self::Letter,
            System::Millimeter => Self::A4,
        }
    }

    /// Width and height in points.
    fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (point(210.0), point(297.0)),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// Points (72 to the inch) of so many millimeters.
fn point(mm: f64) -> f64 {
    Length::from_mm(mm).inches() * 72.0
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "PDF numbers are single: a page has fewer points than that resolves"
)]
fn single(value: f64) -> f32 {
    value as f32
}

/// The whole sheet; empty only if a font could not be embedded.
pub(super) fn pages(sheet: &ShopSheet, paper: Paper) -> Vec<u8> {
    let faces = font::Faces::new();
    let laid = flow::laid(sheet, paper, &faces);
    let mut document = Document::new();
    let (wide, tall) = paper.size();
    for page in &laid.pages {
        let Some(settings) = PageSettings::from_wh(single(wide), single(tall)) else { continue };
        let mut onto = document.start_page_with(settings);
        let mut surface = onto.surface();
        paint::page(&mut surface, page, &faces);
        surface.finish();
        onto.finish();
    }
    let mut outline = Outline::new();
    for (heading, page) in laid.chapters {
        outline.push_child(OutlineNode::new(heading, XyzDestination::new(page, Point::from_xy(0.0, 0.0))));
    }
    document.set_outline(outline);
    let title = font::shown(&sheet.title, &faces);
    let metadata = Metadata::new()
        .title(format!("{title}: shop sheet"))
        .description(sheet.subtitle.clone())
        .creator(concat!("ringwright ", env!("CARGO_PKG_VERSION")).to_owned())
        .language("en-US".to_owned());
    document.set_metadata(metadata);
    // What krilla could refuse (a broken font, too long a string) stands in no recipe's power.
    document.finish().unwrap_or_default()
}
