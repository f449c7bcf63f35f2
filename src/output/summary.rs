//! What the terminal shows of a build: one screen.

use std::fmt::Write as _;

use crate::compile::Complete;
use crate::plan::GlueWork;
use crate::quantity::{Money, show_angle};

use super::cut_list::wood_totals;
use super::cutting_plan::money;
use super::hours::Days;
use super::sheet::{Sheet, counted, letter, strip};
use super::table::Table;
use super::turning::rpm;

/// Rows of the cut list that fit a screen.
const SHOWN: usize = 14;

/// A design on one screen: size, woods, cut list, what to do first. Plain text with a final line end.
#[must_use]
pub fn summary(design: &Complete<'_>) -> String {
    told(design, false)
}

/// The same of a design whose documents are being written: nobody is told to write them.
#[must_use]
pub fn summary_beside_documents(design: &Complete<'_>) -> String {
    told(design, true)
}

fn told(design: &Complete<'_>, has_documents: bool) -> String {
    let sheet = Sheet::new(design);
    let (vessel, plan) = (design.vessel, design.plan);
    let mut text = format!("{}\n\n", sheet.name());
    for (what, value) in [
        ("height", sheet.both(vessel.height.value)),
        ("diameter", sheet.both(vessel.max_diameter.value)),
        ("holds", sheet.volume(vessel.capacity.value)),
        ("weighs", sheet.mass(plan.totals.mass.value)),
        ("boards", boards(&sheet)),
        ("glue", glue(&sheet)),
        ("lathe", lathe(&sheet)),
        ("known", accepted(design)),
    ] {
        if !value.is_empty() {
            let _ = writeln!(text, "  {what:<9} {value}");
        }
    }
    text.push('\n');
    text.push_str(&wood_totals(&sheet).plain("  "));
    text.push('\n');
    text.push_str(&cuts(&sheet));
    text.push_str(&next(&sheet, has_documents));
    text
}

/// How many boards, what is to be paid, and how near to the best that is.
fn boards(sheet: &Sheet<'_>) -> String {
    let plan = &sheet.plan.cutting;
    let boards: usize = plan.piles.iter().map(|pile| pile.boards.len()).sum();
    if boards == 0 && plan.piles.iter().all(|pile| pile.lack.is_none()) {
        return String::new();
    }
    let mut text = counted(boards, "board", "boards");
    if plan.piles.iter().any(|pile| pile.lack.is_some()) {
        text.push_str(", and not enough wood: see cutting-plan.md");
        return text;
    }
    let least: u32 = plan.piles.iter().map(|pile| pile.bound.boards).sum();
    let _ = write!(text, "; no plan can use fewer than {least}");
    match plan.to_pay() {
        Some(Money(amount)) if amount <= 0.0 => text.push_str("; all at hand"),
        Some(amount) => {
            let _ = write!(text, "; to pay {}", money(sheet, amount));
        }
        None => text.push_str("; sizes to buy in cutting-plan.md"),
    }
    text
}

fn glue(sheet: &Sheet<'_>) -> String {
    let schedule = &sheet.plan.glue;
    if schedule.steps.is_empty() {
        return String::new();
    }
    let ups = counted(schedule.steps.len(), "glue-up", "glue-ups");
    let days = Days(&schedule.calendar);
    let best = if schedule.is_optimal { ", no order ends sooner" } else { "" };
    format!("{ups}, {} to {}{best}", days.moment(schedule.begin), days.moment(schedule.end))
}

fn lathe(sheet: &Sheet<'_>) -> String {
    let speeds = sheet.plan.turning.speeds.iter();
    let slowest = speeds.min_by(|a, b| a.low.value.rpm().total_cmp(&b.low.value.rpm()));
    slowest.map_or(String::new(), |speed| {
        format!(
            "{} across the corners: rough at {} rpm or slower",
            sheet.pair(speed.largest_blank.value),
            rpm(speed.low.value.rpm())
        )
    })
}

/// That there are findings which are not told, and of what.
fn accepted(design: &Complete<'_>) -> String {
    if design.accepted.is_empty() {
        return String::new();
    }
    let mut codes: Vec<&str> = design.accepted.iter().map(|accepted| accepted.finding.code.name).collect();
    codes.sort_unstable();
    codes.dedup();
    format!("{} accepted: {}", counted(design.accepted.len(), "finding", "findings"), codes.join(", "))
}

fn cuts(sheet: &Sheet<'_>) -> String {
    let list = &sheet.plan.cut_list;
    let mut table = Table::new(
        "cuts",
        &["cut", ">pieces", "wood", ">miter", ">long edge", ">short edge", ">strip", "", ">strip used"],
    );
    for (at, row) in list.rows.iter().enumerate().take(SHOWN) {
        table.row([
            letter(at),
            row.count.to_string(),
            sheet.wood(row.wood).to_owned(),
            show_angle(row.miter.value),
            sheet.own(row.long_edge.value),
            sheet.own(row.short_edge.value),
            format!("{} × {}", sheet.own(sheet.ripped(row.strip_width.value)), sheet.own(row.rough_thickness.value)),
            strip(row.strip),
            sheet.own(row.net.value),
        ]);
    }
    let others = super::cut_kinds::summary_rows(sheet);
    let hidden = (list.rows.len() + others.len()).saturating_sub(SHOWN);
    for cells in others.into_iter().take(SHOWN.saturating_sub(list.rows.len())) {
        table.row(cells);
    }
    let mut text = if table.is_empty() { String::new() } else { table.plain("  ") };
    if hidden > 0 {
        let _ = writeln!(text, "  … and {} in the cut list", counted(hidden, "more row", "more rows"));
    }
    text.push('\n');
    text
}

fn next(sheet: &Sheet<'_>, has_documents: bool) -> String {
    let list = &sheet.plan.cut_list;
    let mut steps = Vec::new();
    if let Some(setup) = list.setups.first() {
        let strips = counted(list.strips.len(), "kind of strip", "kinds of strip");
        steps.push(format!(
            "rip and plane {strips}; set the miter to {}; cut a test {}",
            show_angle(setup.miter.value),
            match setup.closes {
                Some(pieces) if pieces % 2 == 0 => "half ring",
                Some(_) => "ring",
                None => "pair",
            }
        ));
    }
    if let (None, Some(stave)) = (list.setups.first(), list.staves.first()) {
        let tilt = show_angle(stave.tilt.value);
        steps.push(format!("rip the staves with the blade tilted {tilt}; stand a test round of scrap"));
    }
    let in_order = || sheet.plan.glue.order.iter().filter_map(|at| sheet.plan.glue.steps.get(*at));
    // What is sawn from a glued blank waits for it, whenever the rest begins.
    let blank = in_order().find_map(|step| match step.work {
        GlueWork::Board { wood, .. } => {
            Some(format!("glue up board {} before anything is ripped from it", sheet.wood(wood)))
        }
        GlueWork::Panel { .. } => Some(format!("glue up {} edge to edge", sheet.step_in_words(step))),
        GlueWork::Spacers { .. }
        | GlueWork::Run { .. }
        | GlueWork::Half { .. }
        | GlueWork::Close
        | GlueWork::WholeRing { .. }
        | GlueWork::Plug
        | GlueWork::SetOpen { .. }
        | GlueWork::Stack { .. } => None,
    });
    match (blank, in_order().next()) {
        (Some(blank), _) => steps.insert(0, blank),
        (None, Some(step)) => steps.push(format!("dry-fit, then glue {} first", sheet.layer(step.layer))),
        (None, None) => {}
    }
    if !has_documents {
        steps.push("build with -o FOLDER for the sheets of saw, bench and lathe".to_owned());
    }
    if steps.is_empty() {
        return String::new();
    }
    let mut text = "  next\n".to_owned();
    for (number, step) in steps.iter().enumerate() {
        let _ = writeln!(text, "  {}. {step}", number + 1);
    }
    text
}
