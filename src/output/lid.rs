//! The lid's joint and the parting, as the turning sheet tells them.

use std::fmt::Write as _;

use crate::geometry::{LidJoint, ThreadShape};
use crate::quantity::{Length, show_millimeters};
use crate::resolve::{Fit, JointKind, PartKind};

use super::page::Page;
use super::sheet::Sheet;
use super::table::Table;

/// Writes what there is to say of parting and joint.
pub(super) fn section(page: &mut Page, sheet: &Sheet<'_>) {
    parting(page, sheet);
    let Some(joint) = &sheet.design.vessel.joint else { return };
    page.push_str("## The lid's joint\n\n");
    opening(page, sheet, joint);
    let mut table = Table::new("joint", &["what", "on", ">diameter", ">along the axis", ">wall left"]);
    let (tenon, mortise) = names(joint);
    table.row([
        mortise.to_owned(),
        other(joint).word().to_owned(),
        sheet.both(joint.mortise.value),
        format!("{} deep", sheet.both(joint.mortise_depth.value)),
        sheet.pair(joint.mortise_wall.value),
    ]);
    table.row([
        tenon.to_owned(),
        joint.on.word().to_owned(),
        sheet.both(joint.tenon.value),
        format!("{} long", sheet.both(joint.long.value)),
        if joint.kind == JointKind::Inset { String::new() } else { sheet.pair(joint.tenon_wall.value) },
    ]);
    if joint.bore.value > Length::ZERO {
        let what = if joint.kind == JointKind::Inset { "opening under the ledge" } else { "bore of it" };
        table.row([what.to_owned(), bored(joint).word().to_owned(), sheet.both(joint.bore.value)]);
    }
    page.table(table);
    page.push('\n');
    if let Some(thread) = &joint.thread {
        threads(page, sheet, joint, thread);
    }
    seasons(page, sheet, joint);
    order(page, sheet, joint);
    jam(page, sheet, joint);
}

fn parting(page: &mut Page, sheet: &Sheet<'_>) {
    let Some(parting) = &sheet.design.vessel.parting else { return };
    page.push_str("## Parting\n\n");
    let _ = writeln!(
        page,
        "One stack, **{}** high. Part it at **{}** above the foot, kerf **{}** upward from there.",
        sheet.both(parting.stack.value),
        sheet.both(parting.cut.value),
        sheet.pair(parting.kerf.value),
    );
    let meet = if parting.under == parting.over {
        format!("`{}` goes on over it, that much of it lost", sheet.layer(parting.under))
    } else {
        format!("`{}` meets `{}`", sheet.layer(parting.under), sheet.layer(parting.over))
    };
    let _ = writeln!(
        page,
        "On the closed vessel the line shows at {}; between what shows of body and lid {} of the stack are lost: {meet}.\n",
        sheet.pair(parting.line.value),
        sheet.pair(parting.lost.value),
    );
    page.push_str(
        "Mark both sides of the line before you part, so that the grain comes together again. Stop before the cut goes through \
         and saw the rest by hand, with the lathe off.\n\n",
    );
}

fn opening(page: &mut Page, sheet: &Sheet<'_>, joint: &LidJoint) {
    let fit = match joint.fit {
        Fit::Jam => "jam fit".to_owned(),
        Fit::Slip => "slip fit".to_owned(),
        Fit::Loose => "loose fit".to_owned(),
        Fit::Clearance(_) => "a fit of your own".to_owned(),
    };
    let what = match joint.kind {
        JointKind::Tenon => format!("A tenon on the {}", joint.on.word()),
        JointKind::Inset => "The lid drops inside the rim, on to a ledge".to_owned(),
        JointKind::Over => "The lid's skirt goes over the reduced rim".to_owned(),
        JointKind::Thread => format!("A chased thread, the outer one on the {}", joint.on.word()),
    };
    let line = if joint.kind == JointKind::Inset { "the rim is" } else { "the line shows" };
    let _ = writeln!(
        page,
        "{what}; {line} at **{}** above the foot. {}: **{}** on the diameter. {} {} wide.\n",
        sheet.both(joint.shoulder.value),
        capital(&fit),
        fine(sheet, joint.clearance.value),
        if joint.kind == JointKind::Inset { "The ledge is" } else { "The shoulder is" },
        sheet.pair(joint.shoulder_width.value),
    );
}

fn threads(page: &mut Page, sheet: &Sheet<'_>, joint: &LidJoint, thread: &ThreadShape) {
    let per_inch = format!("{:.2}", 1.0 / thread.pitch.value.inches());
    let per_inch = per_inch.trim_end_matches('0').trim_end_matches('.');
    let starts = if thread.starts == 1 { "one start".to_owned() } else { format!("{} starts", thread.starts) };
    let _ = writeln!(
        page,
        "Thread: pitch **{}**, {per_inch} threads an inch, {starts}, {} of it in mesh. Turn the tenon to **{}** and cut **{}** deep, to \
         a root of {}. Turn the mortise to **{}** and cut **{}** deep, to {}.\n",
        fine(sheet, thread.pitch.value),
        sheet.pair(thread.engagement.value),
        sheet.both(joint.tenon.value),
        fine(sheet, thread.depth.value),
        sheet.both(thread.root.value),
        sheet.both(joint.mortise.value),
        fine(sheet, thread.depth_inside.value),
        sheet.both(thread.major.value),
    );
}

fn seasons(page: &mut Page, sheet: &Sheet<'_>, joint: &LidJoint) {
    let Some(lives) = &sheet.recipe.fittings.lives else { return };
    let Some(seasons) = &joint.seasons else {
        page.push_str("Seasons: no source tells how the woods at the joint move, so nothing is said of them.\n\n");
        return;
    };
    let then = |at: usize| {
        let clearance = seasons.clearance[at].value;
        if clearance < Length::ZERO {
            format!("it sticks by {}", fine(sheet, -clearance))
        } else {
            format!("{} are left", fine(sheet, clearance))
        }
    };
    let _ = writeln!(
        page,
        "Seasons: fitted with the wood at {:.1} % moisture, the middle of the air it lives in. In the driest weeks ({:.0} % humidity, wood \
         at {:.1} %) {}; in the dampest ({:.0} %, {:.1} %) {}. Rooms at 20 °C.\n",
        seasons.fitted.value.percent(),
        lives.dry.value.percent(),
        seasons.moisture[0].value.percent(),
        then(0),
        lives.damp.value.percent(),
        seasons.moisture[1].value.percent(),
        then(1),
    );
}

fn order(page: &mut Page, sheet: &Sheet<'_>, joint: &LidJoint) {
    let (tenon, mortise) = names(joint);
    let mut steps = vec![
        "Rough both parts and let them stand about two weeks where the vessel will live.".to_owned(),
        format!(
            "Turn the {mortise} first: **{}** across, sides parallel to the axis, **{}** deep. It is the harder one to measure.",
            sheet.both(joint.mortise.value),
            sheet.both(joint.mortise_depth.value),
        ),
    ];
    if joint.thread.is_none() {
        steps.push(format!(
            "Turn the {tenon} about {} too wide with a slight taper. Stop the lathe, press the {mortise} on, turn by hand: the rubbed \
             line shows its size. Creep up to it, down to **{}**.",
            sheet.own(Length::from_mm(0.5)),
            sheet.both(joint.tenon.value),
        ));
        steps.push(format!(
            "Leave the mating sides unsanded: sanding is never round. Break the edges, {} on the tenon's end.",
            sheet.own(Length::from_mm(0.5)),
        ));
        steps.push(
            "Shape the outside with both parts together while the fit still grips; ease it to its clearance last."
                .to_owned(),
        );
    } else {
        steps.push(format!(
            "Turn the {tenon} to its diameter, with a groove at its shoulder for the chaser to run out.",
        ));
        steps.push(
            "Chase both at a slow, even speed; wax them lightly. Try the lid by hand, with the lathe stopped."
                .to_owned(),
        );
    }
    steps.push("If the measured size differs, write it into `made` and build again.".to_owned());
    for (number, step) in steps.iter().enumerate() {
        let _ = writeln!(page, "{}. {step}", number + 1);
    }
    page.push('\n');
}

fn jam(page: &mut Page, sheet: &Sheet<'_>, joint: &LidJoint) {
    if joint.jam.is_empty() {
        return;
    }
    page.push_str("To reverse the parts, jam chucks of waste wood:\n\n");
    for chuck in &joint.jam {
        let what = if chuck.is_inside { "a spigot" } else { "a recess" };
        let _ = writeln!(
            page,
            "- {}: {what} **{}** across, {} {}; the shoulder bears, not the end.",
            capital(chuck.part.word()),
            sheet.both(chuck.diameter.value),
            sheet.pair(chuck.reach.value),
            if chuck.is_inside { "long" } else { "deep" },
        );
    }
    page.push_str(
        "\nA jam chuck holds by friction alone: tailstock up as long as it can be, light cuts, slower than before. A part that \
         loosens comes off; stand aside.\n\n",
    );
}

/// What is turned on the one part and into the other.
fn names(joint: &LidJoint) -> (&'static str, &'static str) {
    match joint.kind {
        JointKind::Tenon | JointKind::Thread => ("tenon", "recess"),
        JointKind::Inset => ("lid", "recess"),
        JointKind::Over => ("rim", "skirt"),
    }
}

fn other(joint: &LidJoint) -> PartKind {
    match joint.on {
        PartKind::Body => PartKind::Lid,
        PartKind::Lid => PartKind::Body,
    }
}

fn bored(joint: &LidJoint) -> PartKind {
    if joint.kind == JointKind::Inset { PartKind::Body } else { joint.on }
}

/// A play or a thread's depth: in thousandths of an inch and hundredths of a millimeter.
fn fine(sheet: &Sheet<'_>, length: Length) -> String {
    match sheet.recipe.units {
        crate::quantity::System::Inch => format!("{:.3} in ({})", length.inches(), show_millimeters(length)),
        crate::quantity::System::Millimeter => format!("{} ({:.3} in)", show_millimeters(length), length.inches()),
    }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
