//! Inserts on the three pages: blanks at the saw, holes at the lathe, and what is glued in last.

use std::fmt::Write as _;

use crate::geometry::BuiltInsert;
use crate::quantity::{Length, show_angle, show_fine};
use crate::resolve::{Insert, InsertForm, Seat};

use super::page::Page;
use super::sheet::{Sheet, letter};
use super::table::Table;

/// Every insert as said and as built.
fn all<'a>(sheet: &Sheet<'a>) -> impl Iterator<Item = (&'a Insert, &'a BuiltInsert)> {
    let (inserts, said) = (&sheet.design.vessel.inserts, &sheet.recipe.fittings.inserts);
    inserts.iter().filter_map(|built| Some((said.get(built.said)?, built)))
}

/// Whether nothing is drilled for it: a liner that stands in the cavity.
fn stands_free(said: &Insert) -> bool {
    matches!((said.seat, said.form), (Seat::BodyInside, InsertForm::Liner { .. })) && said.hole_depth.is_none()
}

/// The section of the cut list.
pub(super) fn blanks(page: &mut Page, sheet: &Sheet<'_>) {
    let blanks = &sheet.plan.insert_blanks;
    if blanks.is_empty() {
        return;
    }
    page.push_str("## Inserts\n\n");
    let before = sheet.plan.cut_list.letters().inserts;
    let mut table =
        Table::new("cut-list", &["cut", "insert", "wood", ">width", ">thickness", ">length, along the grain", "grain"]);
    for (at, blank) in blanks.iter().enumerate() {
        let name = [
            format!("**{}**", letter(before + at)),
            sheet.insert(blank.insert).to_owned(),
            sheet.wood(blank.wood).to_owned(),
        ];
        let side = |at: usize| blank.size.map_or("not said".to_owned(), |sides| sheet.pair(sides[at].value));
        let grain = if blank.is_face_grain { "face grain is seen" } else { "along the axis" };
        table.row(name.into_iter().chain([side(0), side(1), side(2), grain.to_owned()]));
    }
    page.table(table);
    let [round, chuck, parted, faced] = [3.0, 20.0, 3.0, 2.0].map(|mm| sheet.about(mm));
    let _ = write!(
        page,
        "\n- A stick has {round} to turn it round, {chuck} for the chuck, {parted} to part it off and {faced} to face each end.\n\
         - Each counts as a piece and as lumber. What it weighs when it is turned, its blank cannot tell: the mass is without it.\n",
    );
    if blanks.iter().any(|blank| blank.size.is_none()) {
        page.push_str(
            "- Not said: with `shows diameter … tall …` or `blank square … long …` in the insert it is known.\n",
        );
    }
    page.push('\n');
}

/// The section of the turning sheet.
pub(super) fn holes(page: &mut Page, sheet: &Sheet<'_>) {
    if all(sheet).next().is_none() {
        return;
    }
    page.push_str("## Inserts\n\n");
    let mut table = Table::new(
        "inserts",
        &["insert", "into", ">hole ⌀", "made", ">deep", "what goes in", ">its ⌀", ">goes in", ">stays under it"],
    );
    for (said, built) in all(sheet) {
        table.row([
            said.name.value.clone(),
            seat(sheet, said, built),
            format!("**{}**", sheet.both(built.hole_diameter.value)),
            made(said, built).to_owned(),
            format!("**{}**", sheet.both(built.hole_depth.value)),
            said.form.word().to_owned(),
            format!("**{}**", sheet.both(built.diameter.value)),
            sheet.pair(built.length.value),
            sheet.pair(built.left.value),
        ]);
    }
    page.table(table);
    page.push('\n');
    for line in advice(sheet) {
        let _ = writeln!(page, "- {line}");
    }
    page.push('\n');
}

fn made(said: &Insert, built: &BuiltInsert) -> &'static str {
    if stands_free(said) {
        "the cavity itself"
    } else if built.is_drilled {
        "with a bit"
    } else {
        "turned"
    }
}

fn seat(sheet: &Sheet<'_>, said: &Insert, built: &BuiltInsert) -> String {
    match (said.seat, built.facing) {
        (Seat::BodySide { at, .. }, Some(facing)) => {
            format!("body side, at {}, facing {}", sheet.pair(at.value), show_angle(facing))
        }
        (seat, _) => seat.words().to_owned(),
    }
}

fn advice(sheet: &Sheet<'_>) -> Vec<String> {
    let has = |is: fn(&Insert) -> bool| all(sheet).any(|(said, _)| is(said));
    let fine = |mm| show_fine(Length::from_mm(mm), sheet.recipe.units);
    let mut lines = Vec::new();
    if all(sheet).any(|(said, _)| !stands_free(said)) {
        lines.push(
            "The hole first, while its part still runs true on the lathe; then what goes in, turned to fit the hole. \
             Mark the depth on the bit, its point not counted."
                .to_owned(),
        );
    }
    if has(|said| matches!(said.form, InsertForm::Tenon { .. })) {
        lines.push(format!(
            "Tenons are {} under their hole for glue. Undercut the shoulder by a degree, {} wide or more, so that its rim closes.",
            fine(0.15),
            sheet.about(2.0),
        ));
    }
    if has(|said| matches!(said.form, InsertForm::Plug { .. } | InsertForm::Medallion { .. })) {
        lines.push(format!("A plug goes in with {} on its diameter; face it flush when the glue has set.", fine(0.2)));
    }
    for (said, built) in all(sheet) {
        lines.extend(own_lines(sheet, said, built));
    }
    lines
}

/// What is to be said of one insert.
fn own_lines(sheet: &Sheet<'_>, said: &Insert, built: &BuiltInsert) -> Vec<String> {
    let name = &said.name.value;
    let mut lines = Vec::new();
    let is_side = matches!(said.seat, Seat::BodySide { .. });
    if is_side {
        lines.push(format!(
            "**{name}**: lock the spindle there and drill level, toward the axis, with a guide. At the lowest point of its \
             rim the hole is {} shallower.",
            sheet.pair(built.rim_drop)
        ));
    } else if !stands_free(said) {
        let top = match said.seat {
            Seat::LidTop => sheet.design.vessel.height.value - built.rim,
            Seat::BodyBase => built.rim,
            Seat::LidInside | Seat::BodyInside | Seat::BodySide { .. } => Length::ZERO,
        };
        if top > Length::from_mm(0.05) {
            lines.push(format!(
                "**{name}**: where the hole's rim comes out the surface is {} from the end of the vessel; depths count from the rim.",
                sheet.pair(top)
            ));
        }
    }
    let held = match said.seat {
        Seat::LidTop => Some("the lid parted off and held by its joint, its top outward"),
        Seat::BodyBase => Some("the body reversed, its base outward"),
        Seat::LidInside | Seat::BodyInside if !stands_free(said) => Some("its part still on the waste block"),
        Seat::LidInside | Seat::BodyInside | Seat::BodySide { .. } => None,
    };
    lines.extend(held.map(|held| format!("**{name}**: its hole with {held}.")));
    if let Some(seen) = built.seen {
        lines.push(format!("**{name}**: its blank leaves {} for what is seen.", sheet.pair(seen.value)));
    }
    if matches!(said.form, InsertForm::Liner { .. }) {
        let gap = (built.hole_diameter.value - built.diameter.value) / 2.0;
        lines.push(format!(
            "**{name}**: {} of room all round. Never glue it all round: loose, or on two dots of silicone at its foot. \
             The capacity above is of the wood without it.",
            sheet.pair(gap)
        ));
        if stands_free(said) {
            let out = built.length.value - built.hole_depth.value;
            let where_to = if out > Length::ZERO {
                format!("It stands out of the rim by {}.", sheet.pair(out))
            } else {
                format!("Its rim lies {} under the rim of the body.", sheet.pair(-out))
            };
            lines.push(format!("**{name}**: stands on the floor. {where_to}"));
        }
    }
    lines
}

/// The section of the glue schedule: these come when the lathe has done its work.
pub(super) fn after_turning(page: &mut Page, sheet: &Sheet<'_>) {
    let glued: Vec<_> = all(sheet).filter(|(said, _)| !matches!(said.form, InsertForm::Liner { .. })).collect();
    if glued.is_empty() {
        return;
    }
    page.push_str("## After turning\n\n");
    for (at, (said, built)) in glued.iter().enumerate() {
        let glue = said.glue.and_then(|glue| sheet.glue(glue.value));
        let (key, clamp) = glue.map_or(("", 0.0), |glue| (glue.key.as_str(), glue.clamp_min));
        let what = if matches!(said.form, InsertForm::Tenon { .. }) { "its tenon" } else { "its face" };
        let _ = writeln!(
            page,
            "{}. **{}** into {}, with `{key}` on {what} ({}), {clamp} min in clamps: after that part is turned and before its finish.",
            at + 1,
            said.name.value,
            said.seat.words(),
            sheet.area(built.glue_area.value),
        );
    }
    page.push_str(
        "\n- Saw or scratch a groove along every tenon and to the rim of every plug: air and glue must get out, or they push it off.\n\
         - Glue in the hole, little of it; press it home and turn it once. Keep finish off both faces.\n\n",
    );
}
