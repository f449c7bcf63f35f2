//! What stands on the shop sheet, in the order of the work. The words are those of the other documents.

use super::super::picture::Picture;
use super::super::sheet::{Sheet, counted};
use super::super::{cut_list, cutting_plan, drawings, glue_schedule, safety, turning};
use super::reading::{Section, plain, sections};
use super::{Block, Chapter, Column, Row, ShopSheet, Table, templates};

/// The shop sheet of a design.
pub(in crate::output) fn content(sheet: &Sheet<'_>) -> ShopSheet {
    let pages = [cut_list::page(sheet), cutting_plan::page(sheet), glue_schedule::page(sheet), turning::page(sheet)];
    let mut pages = sections(sheet, &pages).into_iter();
    let mut next = || pages.next().unwrap_or_default();
    let (mut cuts, mut plan, mut glue, mut turn) = (next(), next(), next(), next());
    for page in [&mut cuts, &mut plan, &mut glue, &mut turn] {
        // Cautions have a chapter of their own, and so have the settings.
        page.retain(|section| !["At the saw", "With glue on the hands", "Mind"].contains(&section.heading.as_str()));
        for section in page.iter_mut() {
            section.blocks.retain(|block| !matches!(block, Block::Text(text) if text.starts_with(DEFER_BEGINS)));
        }
    }
    let settings: Vec<Section> = plan.extract_if(.., |section| section.heading == SETTINGS).collect();
    let boards = drawings::each_board(sheet).into_iter().map(uncaptioned);
    let days = drawings::each_day(sheet).into_iter().map(uncaptioned);
    let chapters = vec![
        Chapter { name: "cover", heading: "Overview".to_owned(), blocks: cover(sheet) },
        chapter("cut-list", "Cut list", cuts),
        chapter("settings", SETTINGS, settings),
        with(chapter("cutting-plan", "Cutting plan", plan), boards),
        with(chapter("glue-schedule", "Glue schedule", glue), days),
        Chapter {
            name: "section",
            heading: "Section".to_owned(),
            blocks: vec![uncaptioned(drawings::section(sheet)), uncaptioned(drawings::unrolled(sheet))],
        },
        chapter("turning", "Turning", turn),
        Chapter { name: "templates", heading: "Ring templates".to_owned(), blocks: templates::templates(sheet) },
        Chapter { name: "cautions", heading: "Mind".to_owned(), blocks: cautions(sheet) },
    ];
    let chapters = chapters.into_iter().filter(|chapter| !chapter.blocks.is_empty()).collect();
    let layers = counted(sheet.layers().len(), "layer", "layers");
    let pieces = counted(sheet.plan.totals.pieces as usize, "piece", "pieces");
    ShopSheet { title: sheet.name(), subtitle: format!("Shop sheet: {layers}, {pieces}"), chapters }
}

/// A picture that says itself what it is.
fn uncaptioned(picture: Picture) -> Block {
    Block::Figure(picture, String::new())
}

const SETTINGS: &str = "Settings of the saw, in order";
const DEFER_BEGINS: &str = "These are reminders";

fn with(mut chapter: Chapter, blocks: impl IntoIterator<Item = Block>) -> Chapter {
    chapter.blocks.extend(blocks);
    chapter
}

/// The sections of a page under one another.
fn chapter(name: &'static str, heading: &str, sections: Vec<Section>) -> Chapter {
    let mut blocks = Vec::new();
    for section in sections {
        if !section.heading.is_empty() && section.heading != heading {
            blocks.push(Block::Heading(section.heading));
        }
        blocks.extend(section.blocks);
    }
    Chapter { name, heading: heading.to_owned(), blocks }
}

fn cover(sheet: &Sheet<'_>) -> Vec<Block> {
    let (vessel, plan) = (sheet.design.vessel, sheet.plan);
    let glue = plan.glue.glue_needed.iter().filter_map(|need| {
        let glue = sheet.glue(need.glue)?;
        Some(format!("{} of {}", sheet.mass(need.mass.value), glue.name))
    });
    let woods: Vec<String> =
        plan.totals.woods.iter().map(|wood| format!("{} ({})", sheet.wood(wood.wood), wood.pieces)).collect();
    let boards: usize = plan.cutting.piles.iter().map(|pile| pile.boards.len()).sum();
    let lacks = plan.cutting.piles.iter().any(|pile| pile.lack.is_some());
    let paid = plan
        .cutting
        .to_pay()
        .map_or(String::new(), |amount| format!(", {} to pay", cutting_plan::money(sheet, amount)));
    let rows = [
        ("height", sheet.both(vessel.height.value)),
        ("diameter", sheet.both(vessel.max_diameter.value)),
        ("holds", sheet.volume(vessel.capacity.value)),
        ("weighs", sheet.mass(plan.totals.mass.value)),
        ("pieces", plan.totals.pieces.to_string()),
        ("woods (pieces)", woods.join(", ")),
        (
            "boards",
            format!("{}{}{paid}", counted(boards, "board", "boards"), if lacks { ", not enough wood" } else { "" }),
        ),
        ("glue", glue.collect::<Vec<_>>().join(", ")),
        ("glue-ups", plan.glue.steps.len().to_string()),
    ];
    let rows = rows.into_iter().filter(|(_, value)| !value.is_empty()).map(|(what, value)| Row {
        name: what.to_owned(),
        cells: vec![what.to_owned(), value],
        layers: Vec::new(),
    });
    let column = |heading: &str| Column { heading: heading.to_owned(), is_number: false };
    let totals = Table {
        name: "overview",
        columns: vec![column("what"), column("of the finished vessel")],
        rows: rows.collect(),
        has_boxes: false,
    };
    let mut blocks = vec![Block::Table(totals)];
    let findings: Vec<String> = sheet
        .design
        .findings
        .iter()
        .map(|finding| format!("{}: {} [{}]", finding.severity.word(), plain(&finding.message), finding.code.name))
        .collect();
    let accepted =
        sheet.design.accepted.iter().map(|one| {
            format!("accepted: {} ({}) [{}]", plain(&one.finding.message), one.reason, one.finding.code.name)
        });
    let told: Vec<String> = findings.into_iter().chain(accepted).collect();
    if !told.is_empty() {
        blocks.push(Block::Heading("What was found".to_owned()));
        blocks.push(Block::List(told));
    }
    blocks.push(uncaptioned(drawings::elevation(sheet)));
    blocks
}

fn cautions(sheet: &Sheet<'_>) -> Vec<Block> {
    let lines = |lines: &[&str]| lines.iter().map(|line| plain(line)).collect::<Vec<_>>();
    let lathe = sheet.plan.turning.cautions.iter().map(|caution| plain(&sheet.caution(*caution))).collect();
    vec![
        Block::Text(safety::DEFER.to_owned()),
        Block::Heading("At the saw".to_owned()),
        Block::Cautions(lines(&safety::SAW)),
        Block::Heading("With glue on the hands".to_owned()),
        Block::Cautions(lines(&safety::GLUE)),
        Block::Heading("At the lathe".to_owned()),
        Block::Cautions(lathe),
    ]
}
