//! What the search found, told as cuts in boards as they lie there.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use crate::quantity::Length;
use crate::resolve::Recipe;
use crate::search::Effort;
use crate::search::cutting::{Board, Lane, Problem, Section, Solved, Um, solve};

use super::asked::Asked;
use super::demand::Wanted;
use super::stock::Source;
use super::whole::{length, money, volume, wanted};
use super::{
    BoardCut, BoardLane, BoardSection, Bound, Fence, Lack, LaneKind, Offcut, Panel, Pile, SawnBoard, SquareStop, Supply,
};
use crate::plan::CutList;
use crate::plan::strips::ripped;

/// What is worth keeping.
#[derive(Debug, Clone, Copy)]
pub(super) struct Keep {
    /// Along the grain: a piece can still be sawn off it while its tail is held.
    pub long: Length,
    /// Across: the narrowest strip.
    pub wide: Length,
}

impl Keep {
    pub(super) fn of(recipe: &Recipe, list: &CutList) -> Self {
        let shop = &recipe.shop;
        let widths = list.strips.iter().map(|strip| ripped(strip.width.value, recipe.units));
        let narrowest = widths.min_by(|a, b| a.mm().total_cmp(&b.mm()));
        Self { long: shop.hold.value + shop.safe_piece.value, wide: narrowest.unwrap_or(shop.narrow_rip.value) }
    }
}

/// Plans a pile and tells it.
pub(super) fn pile(asked: &Asked, keep: Keep, effort: &Effort<'_>) -> Pile {
    let problem = asked.problem();
    let solved = solve(&problem, effort);
    told(asked, &problem, &solved, keep, effort)
}

fn told(asked: &Asked, problem: &Problem, solved: &Solved, keep: Keep, effort: &Effort<'_>) -> Pile {
    let teller = Teller { asked, kerf: length(problem.kerf), keep };
    let is_priced = asked.sources.iter().any(|source| matches!(source.supply, Supply::ForSale(_)));
    let priced = |thousandths: u64| is_priced.then(|| money(thousandths));
    let lack = (!solved.lacks.is_empty())
        .then(|| Lack { pieces: teller.left_over(solved), buy: asked.purchase(problem, solved, effort) });
    Pile {
        woods: asked.woods.clone(),
        boards: solved.boards.iter().filter_map(|board| teller.board(board)).collect(),
        lack,
        cost: priced(solved.cost.money),
        bound: Bound {
            boards: solved.least_boards,
            cost: priced(solved.bound.money),
            wood: volume(solved.bound.wood),
            is_reached: solved.is_optimal,
        },
    }
}

struct Teller<'a> {
    asked: &'a Asked,
    kerf: Length,
    keep: Keep,
}

impl Teller<'_> {
    fn board(&self, board: &Board) -> Option<SawnBoard> {
        let source = self.asked.sources.get(board.stock)?;
        let sections: Vec<BoardSection> = board.sections.iter().map(|section| self.section(source, section)).collect();
        let offcuts = self.offcuts(source, &sections);
        Some(SawnBoard {
            supply: source.supply,
            thick: source.thick,
            wide: source.wide,
            long: source.long,
            planed: source.planed,
            jointing: source.jointing,
            end_trim: source.start,
            avoid: source.avoid.clone(),
            price: source.price,
            sections,
            offcuts,
        })
    }

    fn section(&self, source: &Source, section: &Section) -> BoardSection {
        let mut across = source.jointing;
        let mut lanes = Vec::with_capacity(section.lanes.len());
        for lane in &section.lanes {
            let Some(wanted) = self.asked.wanted.get(lane.class) else { continue };
            let width = length(wanted.class.wide);
            let cuts = cuts(source, wanted, lane);
            lanes.push(BoardLane { is: wanted.lane, from: across, width, cuts });
            across = across + width + self.kerf;
        }
        BoardSection { from: source.start + length(section.from), to: source.start + length(section.to), lanes }
    }

    /// What is left of the board behind its last section, of each section beside its lanes, and of each lane behind
    /// its last cut; the largest first.
    fn offcuts(&self, source: &Source, sections: &[BoardSection]) -> Vec<Offcut> {
        let (near, far) = (source.jointing, source.wide - source.jointing);
        let mut all = Vec::new();
        if let Some(last) = sections.last() {
            all.push(Offcut { along: (last.to + self.kerf, source.long - source.end), across: (near, far) });
        }
        for section in sections {
            let beside = section.lanes.last().map_or(near, |lane| lane.from + lane.width + self.kerf);
            all.push(Offcut { along: (section.from, section.to), across: (beside, far) });
            for lane in &section.lanes {
                let behind = lane.cuts.last().map_or(section.from, |cut| cut.to);
                all.push(Offcut { along: (behind, section.to), across: (lane.from, lane.from + lane.width) });
            }
        }
        // A hair below, which sums may lose, is as good.
        let reaches = |length: Length, least: Length| length.mm() >= least.mm() - 1e-6;
        all.retain(|offcut| reaches(long(offcut), self.keep.long) && reaches(wide(offcut), self.keep.wide));
        let area = |offcut: &Offcut| wide(offcut).by(long(offcut)).mm2();
        // A stable sort: of two alike that one comes first which lies nearer to the board's end.
        all.sort_by(|a, b| area(b).total_cmp(&area(a)));
        all
    }

    fn left_over(&self, solved: &Solved) -> Vec<(LaneKind, usize, u32)> {
        let mut left: BTreeMap<(LaneKind, usize), u32> = BTreeMap::new();
        for (class, piece, count) in &solved.lacks {
            let Some(wanted) = self.asked.wanted.get(*class) else { continue };
            let row = wanted.rows.get(*piece).copied().unwrap_or(0);
            let of_row = left.entry((wanted.lane, row)).or_default();
            *of_row = of_row.saturating_add(*count);
        }
        left.into_iter().map(|((lane, row), count)| (lane, row, count)).collect()
    }
}

/// Pieces of one row that follow each other are one line, whichever ring they are for.
fn cuts(source: &Source, wanted: &Wanted, lane: &Lane) -> Vec<BoardCut> {
    let mut cuts: Vec<BoardCut> = Vec::with_capacity(lane.runs.len());
    let mut end_before = None;
    for run in &lane.runs {
        let (Some(piece), Some(row)) = (wanted.class.pieces.get(run.piece), wanted.rows.get(run.piece)) else {
            continue;
        };
        let end = run.from.0 + piece.pitch.0 * i64::from(run.count);
        let to = source.start + length(Um(end));
        match cuts.last_mut() {
            Some(last) if last.row == *row && end_before == Some(run.from.0) => {
                last.count += run.count;
                last.to = to;
            }
            Some(_) | None => {
                let from = source.start + length(run.from);
                cuts.push(BoardCut { row: *row, count: run.count, from, to });
            }
        }
        end_before = Some(end);
    }
    cuts
}

fn long(offcut: &Offcut) -> Length {
    offcut.along.1 - offcut.along.0
}

fn wide(offcut: &Offcut) -> Length {
    offcut.across.1 - offcut.across.0
}

/// The panel that a blank is glued up to, if it is.
pub(super) fn panel(wanted: &Wanted) -> Option<Panel> {
    let block = wanted.block.filter(|block| block.parts > 1)?;
    Some(Panel {
        is: wanted.lane,
        count: block.count,
        parts: block.parts,
        part_width: block.part_width,
        length: block.long,
    })
}

/// The settings of the fence, the widest first; lanes of one width are one setting, whatever they are for.
pub(super) fn fences(piles: &[Pile], short_rip: Length) -> Vec<Fence> {
    let sections = piles.iter().flat_map(|pile| &pile.boards).flat_map(|board| &board.sections);
    let mut fences: BTreeMap<(bool, Reverse<Um>), Fence> = BTreeMap::new();
    for (section, lane) in sections.flat_map(|section| section.lanes.iter().map(move |lane| (section, lane))) {
        let is_short = wanted(section.to - section.from) < wanted(short_rip);
        let fence = fences.entry((is_short, Reverse(wanted(lane.width)))).or_insert_with(|| Fence {
            width: lane.width,
            is_short,
            lanes: Vec::new(),
            rips: 0,
        });
        fence.rips += 1;
        if !fence.lanes.contains(&lane.is) {
            fence.lanes.push(lane.is);
        }
    }
    let mut fences: Vec<Fence> = fences.into_values().collect();
    for fence in &mut fences {
        fence.lanes.sort_unstable();
    }
    fences
}

/// The settings of the stop for what is no strip, the longest first: blocks, plies and staves, sawn square.
pub(super) fn stops(piles: &[Pile], kerf: Length) -> Vec<SquareStop> {
    let sections = piles.iter().flat_map(|pile| &pile.boards).flat_map(|board| &board.sections);
    let lanes = sections.flat_map(|section| section.lanes.iter().map(move |lane| (section, lane)));
    let lanes = lanes.filter(|(_, lane)| !matches!(lane.is, LaneKind::Strip(_)));
    let mut stops: BTreeMap<Reverse<Um>, SquareStop> = BTreeMap::new();
    for (section, lane, cut) in lanes.flat_map(|(section, lane)| lane.cuts.iter().map(move |cut| (section, lane, cut)))
    {
        let length = (cut.to - cut.from) / f64::from(cut.count.max(1)) - kerf;
        // A piece alone in its section is cut off with it.
        if cut.count == 1 && wanted(section.to - section.from) <= wanted(length) {
            continue;
        }
        let stop =
            stops.entry(Reverse(wanted(length))).or_insert_with(|| SquareStop { length, lanes: Vec::new(), pieces: 0 });
        stop.pieces += cut.count;
        if !stop.lanes.contains(&lane.is) {
            stop.lanes.push(lane.is);
        }
    }
    let mut stops: Vec<SquareStop> = stops.into_values().collect();
    for stop in &mut stops {
        stop.lanes.sort_unstable();
    }
    stops
}
