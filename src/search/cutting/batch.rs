//! Very much at once: batch after batch, so that time grows with what is wanted and not with its square.

use crate::search::Effort;

use super::bound::Faces;
use super::wanted::Wanted;
use super::{Class, Problem, Solved, solve_whole};

/// So many kinds of pieces are planned in one go. More come to hundreds of boards, of which it costs a few to begin each
/// batch with a board of its own.
const KINDS: usize = 512;

/// A part of a problem, with the places of its classes and pieces in the whole.
struct Batch {
    classes: Vec<Class>,
    places: Vec<(usize, Vec<usize>)>,
}

pub(super) fn solve(problem: &Problem, effort: &Effort<'_>) -> Solved {
    if problem.classes.iter().map(|class| class.pieces.len()).sum::<usize>() <= KINDS {
        return solve_whole(problem, effort);
    }
    let mut stock = problem.stock.clone();
    // Nothing is proved of the whole but what its face tells.
    let mut all =
        Solved { least_boards: Faces::of(problem, &Wanted::all(problem)).least_boards(problem), ..Solved::default() };
    for Batch { classes, places } in batches(&problem.classes) {
        let part = Problem { stock: stock.clone(), classes, ..*problem };
        let mut solved = solve_whole(&part, effort);
        for board in &mut solved.boards {
            if let Some(count) = &mut stock[board.stock].count {
                *count = count.saturating_sub(1);
            }
            for lane in board.sections.iter_mut().flat_map(|section| &mut section.lanes) {
                let (class, pieces) = &places[lane.class];
                lane.class = *class;
                lane.runs.iter_mut().for_each(|run| run.piece = pieces[run.piece]);
            }
        }
        all.boards.append(&mut solved.boards);
        let lacks =
            solved.lacks.iter().map(|(class, piece, count)| (places[*class].0, places[*class].1[*piece], *count));
        all.lacks.extend(lacks);
        all.cost.money += solved.cost.money;
        all.cost.wood += solved.cost.wood;
        all.steps += solved.steps;
    }
    all.boards.sort_by_key(|board| board.stock);
    all.lacks.sort_unstable();
    all
}

/// Classes in their order, parted where a batch is full; what belongs together stays so.
fn batches(classes: &[Class]) -> Vec<Batch> {
    let mut batches = Vec::new();
    let mut open = Batch { classes: Vec::new(), places: Vec::new() };
    let mut kinds = 0;
    for (at, class) in classes.iter().enumerate() {
        let mut order: Vec<usize> = (0..class.pieces.len()).collect();
        // Stable: those of no group keep their order, before the groups.
        order.sort_by_key(|piece| class.pieces[*piece].together);
        let is_one = |a: &usize, b: &usize| {
            class.pieces[*a].together.is_some() && class.pieces[*a].together == class.pieces[*b].together
        };
        for group in order.chunk_by(is_one) {
            if kinds > 0 && kinds + group.len() > KINDS {
                batches.push(std::mem::replace(&mut open, Batch { classes: Vec::new(), places: Vec::new() }));
                kinds = 0;
            }
            if open.places.last().is_none_or(|(class, _)| *class != at) {
                open.classes.push(Class { pieces: Vec::new(), ..*class });
                open.places.push((at, Vec::new()));
            }
            if let (Some(class_of), Some((_, places))) = (open.classes.last_mut(), open.places.last_mut()) {
                class_of.pieces.extend(group.iter().map(|piece| class.pieces[*piece]));
                places.extend(group);
            }
            kinds += group.len();
        }
    }
    batches.extend(Some(open).filter(|open| !open.classes.is_empty()));
    batches
}
