//! How the work is held: the section of the turning sheet.

use std::fmt::Write as _;

use crate::plan::PartMount;
use crate::resolve::PartKind;

use super::page::Page;
use super::sheet::Sheet;
use super::table::Table;

/// The section as Markdown.
pub(super) fn section(page: &mut Page, sheet: &Sheet<'_>) {
    let mounts = &sheet.plan.mounting;
    if mounts.is_empty() {
        return;
    }
    page.push_str("## Mounting\n\n");
    let mut table = Table::new(
        "mounting",
        &[
            "part",
            "glued to the block",
            ">waste block ⌀",
            ">thick",
            ">glue face",
            ">faceplate ⌀",
            ">screws",
            ">screws at most",
        ],
    );
    for mount in mounts {
        table.row(cells(sheet, mount));
    }
    page.table(table);
    page.push('\n');
    for line in lines(sheet) {
        let _ = writeln!(page, "- {line}");
    }
    page.push('\n');
    for (at, line) in order(sheet).iter().enumerate() {
        let _ = writeln!(page, "{}. {line}", at + 1);
    }
    page.push('\n');
}

fn cells(sheet: &Sheet<'_>, mount: &PartMount) -> [String; 8] {
    let none = || "—".to_owned();
    [
        mount.part.word().to_owned(),
        sheet.layer(mount.layer).to_owned(),
        format!("**{}**", sheet.pair(mount.block.value.across())),
        sheet.pair(mount.thickness.value),
        sheet.area(mount.glue_area.value),
        mount.plate.map_or_else(none, |plate| sheet.pair(plate.diameter.value.across())),
        mount.plate.map_or_else(none, |plate| sheet.pair(plate.screws.value)),
        mount.plate.map_or_else(none, |plate| sheet.pair(plate.longest.value)),
    ]
}

fn lines(sheet: &Sheet<'_>) -> Vec<String> {
    let mounts = &sheet.plan.mounting;
    let about = |mm| sheet.about(mm);
    let mut woods: Vec<&str> = mounts.iter().filter_map(|mount| mount.wood.map(|wood| sheet.wood(wood))).collect();
    woods.dedup();
    let wood = if woods.is_empty() { "sound, dry side-grain wood".to_owned() } else { woods.join(" and ") };
    let mut lines = vec![
        format!(
            "Waste block: {wood}, its grain across the axis, at least {} thick: end grain does not hold. Face it flat on \
             the lathe, then glue the first layer on its middle.",
            about(20.0)
        ),
        "Glue it with what the vessel is glued with and part it off, or with heavy kraft paper between, glue on both of its \
         sides, and split it off with a thin chisel in the paper. Paper holds less: tailstock up."
            .to_owned(),
    ];
    if mounts.iter().any(|mount| mount.plate.is_some()) {
        lines.push(format!(
            "The screws end {} and more from where the parting tool goes in. Longer ones than the table's last column do not.",
            about(5.0)
        ));
    }
    for mount in mounts.iter().filter(|mount| mount.plate.is_none()) {
        lines.push(format!(
            "{}: no faceplate of the shop stays within the block by {} all round; hold the block in the chuck.",
            mount.part.word(),
            about(5.0)
        ));
    }
    if let Some(mount) = mounts.first() {
        lines.push(format!(
            "In a chuck instead: a tenon on the block, {} across and {} long, its shoulder flat against the jaws (jaws of \
             50 mm hold {} to {}).",
            sheet.pair(mount.chuck_tenon.value.across()),
            sheet.pair(mount.chuck_tenon_length.value),
            about(40.0),
            about(62.0)
        ));
    }
    lines.push(
        "A glued-up blank is as strong as its worst joint: full cure, no gap, the speed of its corners. Wrap a large one \
         with strapping tape until it runs true; thin cyanoacrylate closes a hair crack; with a wider one it does not go on the lathe. What the \
         makers of chuck and faceplate say comes first."
            .to_owned(),
    );
    lines
}

/// What is done in which order, so that every joint is made while its parts still run true.
fn order(sheet: &Sheet<'_>) -> Vec<String> {
    let mounts = &sheet.plan.mounting;
    let lid = mounts.iter().find(|mount| mount.part == PartKind::Lid);
    let mut order = Vec::new();
    let Some(body) = mounts.iter().find(|mount| mount.part == PartKind::Body) else { return order };
    order.push(format!(
        "Body first: from {} on its block upward, each face trued before the next layer; on the lathe only once its glue is at \
         full strength.",
        sheet.layer(body.layer)
    ));
    if let Some(lid) = lid {
        order.push(format!(
            "Lid upside down on a block of its own: {} on the block, then layer by layer toward the body.",
            sheet.layer(lid.layer)
        ));
        order.push(
            "Turn and hollow both on their blocks. Fit lid and body to each other there, before either is parted off."
                .to_owned(),
        );
    } else {
        order.push("Turn and hollow it on its block; the foot last.".to_owned());
    }
    for mount in mounts {
        if let Some(last) = mount.last_joint {
            order.push(format!(
                "If the {} is built in two halves: the last joint goes over {}, at height {}, where it is widest{}, with both \
                 halves on their faceplates between the centers.",
                mount.part.word(),
                sheet.layer(last.under),
                sheet.pair(last.z),
                if lid.is_some() { " and away from the lid's joint" } else { "" },
            ));
        }
    }
    if lid.is_some() {
        order.push(
            "Part the lid off, hold it by its joint in a jam chuck, and finish its top; then the body, for its foot."
                .to_owned(),
        );
    } else {
        order.push("Part it off, hold it by its rim in a jam chuck, and finish its foot.".to_owned());
    }
    order
}
