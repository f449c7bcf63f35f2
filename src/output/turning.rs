//! The lathe's page: diameters to turn, depths, speeds, cautions.

use std::fmt::Write as _;

use crate::plan::{Mark, Station};
use crate::quantity::Length;
use crate::resolve::PartKind;

use super::page::Page;
use super::sheet::{Sheet, listed};
use super::table::Table;
use super::{inserts, lid, mounting, safety};

/// The page, from top to bottom.
pub(super) fn page(sheet: &Sheet<'_>) -> Page {
    let vessel = sheet.design.vessel;
    let turning = &sheet.plan.turning;
    let mut page = Page::titled(&format!("{}: turning", sheet.title()));
    let _ = writeln!(
        page,
        "Finished: **{}** high, **{}** across, holds **{}**, **{}**.\n",
        sheet.both(vessel.height.value),
        sheet.both(vessel.max_diameter.value),
        sheet.volume(vessel.capacity.value),
        sheet.mass(sheet.plan.totals.mass.value),
    );
    speeds(&mut page, sheet);
    depths(&mut page, sheet);
    lid::section(&mut page, sheet);
    mounting::section(&mut page, sheet);
    page.push_str("## Stations for the calipers\n\n");
    for (number, stations) in turning.stations.chunk_by(|a, b| a.part == b.part).enumerate() {
        if let Some(part) = stations.first().and_then(|station| station.part) {
            let _ = writeln!(page, "{}{}:\n", if number > 0 { "\n" } else { "" }, heading(part));
        }
        let mut table = Table::new("stations", &[">above the foot", ">outside ⌀", ">inside ⌀", "where"]);
        for station in stations {
            table.row(station_cells(sheet, station));
        }
        page.table(table);
    }
    page.push('\n');
    inserts::holes(&mut page, sheet);
    page.push_str("## Mind\n\n");
    for caution in &turning.cautions {
        let _ = writeln!(page, "- {}", sheet.caution(*caution));
    }
    let _ = write!(page, "\n{}\n", safety::DEFER);
    page
}

fn heading(part: PartKind) -> &'static str {
    match part {
        PartKind::Body => "Body",
        PartKind::Lid => "Lid, heights as it lies on the closed vessel",
    }
}

fn speeds(page: &mut Page, sheet: &Sheet<'_>) {
    if sheet.plan.turning.speeds.is_empty() {
        return;
    }
    page.push_str("## Speed\n\n");
    let mut table = Table::new("speeds", &["part", ">across the corners", ">rough at or under", ">trued, at most"]);
    for speed in &sheet.plan.turning.speeds {
        table.row([
            speed.part.word().to_owned(),
            sheet.pair(speed.largest_blank.value),
            format!("**{} rpm**", rpm(speed.rough.value.rpm())),
            format!("{} rpm", rpm(speed.trued.value.rpm())),
        ]);
    }
    page.table(table);
    page.push_str("\nDiameter in inches times turns a minute between 6,000 and 9,000. Thin walls slower still.\n\n");
    for speed in &sheet.plan.turning.speeds {
        if speed.rough.value != speed.low.value || speed.trued.value != speed.high.value {
            let _ = writeln!(
                page,
                "The lathe does not turn the {} as the rule asks, from {} to {} rpm: the table says what it has.\n",
                speed.part.word(),
                rpm(speed.low.value.rpm()),
                rpm(speed.high.value.rpm()),
            );
        }
    }
}

/// Down to ten turns, so that rounding never makes it faster.
pub(super) fn rpm(turns: f64) -> String {
    let turns = if turns >= 20.0 { (turns / 10.0 + 1e-9).floor() * 10.0 } else { turns.floor() };
    format!("{turns:.0}")
}

fn depths(page: &mut Page, sheet: &Sheet<'_>) {
    let turning = &sheet.plan.turning;
    if turning.drill_depth.is_none() && turning.lid_depth.is_none() {
        return;
    }
    page.push_str("## Depth\n\n");
    if let Some(depth) = turning.drill_depth {
        let _ = writeln!(
            page,
            "- Body: **{}** from the rim to the floor; **{}** of wood stays under it.",
            sheet.both(depth.value),
            sheet.both(sheet.design.vessel.cavity_bottom.value),
        );
        page.push_str("- Mark it on the drill. Stop short by the drill's point and a last cut.\n");
    }
    if let Some(depth) = turning.lid_depth {
        let _ = writeln!(page, "- Lid: **{}** from where it meets the body.", sheet.both(depth.value));
        if sheet.design.vessel.joint.is_none() {
            page.push_str(
            "- Body and lid meet flat here: no tenon and no recess is planned. Leave the wood for them before you cut.\n",
        );
        }
    }
    page.push('\n');
}

fn station_cells(sheet: &Sheet<'_>, station: &Station) -> [String; 4] {
    // Calipers are set by decimals: a tenon and its mortise are one fraction.
    let across = |radius: Length| sheet.both(radius * 2.0);
    [
        sheet.pair(station.z),
        across(station.outer_radius),
        if station.inner_radius > Length::ZERO { across(station.inner_radius) } else { "solid".to_owned() },
        listed(station.marks.iter().map(|mark| words(sheet, *mark))),
    ]
}

fn words(sheet: &Sheet<'_>, mark: Mark) -> String {
    match mark {
        Mark::LowerFace(layer) => format!("under {}", sheet.layer(layer)),
        Mark::Middle(layer) => format!("middle of {}", sheet.layer(layer)),
        Mark::Rim(PartKind::Body) => "rim of the body".to_owned(),
        Mark::Rim(PartKind::Lid) => "top of the lid".to_owned(),
        Mark::Point => "point of the recipe".to_owned(),
        Mark::Corner => "corner of the outside".to_owned(),
        Mark::Shoulder => "shoulder".to_owned(),
        Mark::TenonEnd => "end of the tenon".to_owned(),
        Mark::MortiseMouth => "mouth of the recess".to_owned(),
        Mark::MortiseEnd => "bottom of the recess".to_owned(),
        Mark::UnderStep => "just under a step; the next line is its upper side".to_owned(),
        Mark::CavityBottom => "floor".to_owned(),
        Mark::CavityTop => "top of the cavity".to_owned(),
    }
}
