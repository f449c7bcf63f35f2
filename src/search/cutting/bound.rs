//! What no plan can do better.

use microlp::{ComparisonOp, OptimizationDirection, Problem as Program, Variable};

use super::wanted::{Wanted, face, least_face, pitch, safe};
use super::{Class, Problem, Stock};

/// Faces that boards must have: of boards so thick and wide at least, so much.
#[derive(Debug)]
pub(super) struct Faces {
    wanted: Vec<(i64, i64, i128)>,
}

impl Faces {
    pub fn of(problem: &Problem, wanted: &Wanted) -> Self {
        let longest = problem.stock.iter().map(|stock| safe(stock.long)).max().unwrap_or(0);
        let faces: Vec<i128> = problem
            .classes
            .iter()
            .zip(&wanted.left)
            .map(|(class, left)| least_face(problem, class, left, longest))
            .collect();
        let mut sizes: Vec<(i64, i64)> = Vec::new();
        let asked = || problem.classes.iter().zip(&faces).filter(|(_, face)| **face > 0).map(|(class, _)| class);
        // Every pair of a thickness and a width; of very many classes the thicknesses alone.
        if asked().count() <= 24 {
            sizes.extend(asked().flat_map(|thick| asked().map(move |wide| (safe(thick.thick), safe(wide.wide)))));
        }
        sizes.extend(asked().map(|class| (safe(class.thick), 0)));
        sizes.sort_unstable();
        sizes.dedup();
        let of_size = |(thick, wide): (i64, i64)| {
            let classes = problem.classes.iter().zip(&faces);
            let of_them = classes.filter(|(class, _)| safe(class.thick) >= thick && safe(class.wide) >= wide);
            (thick, wide, of_them.map(|(_, face)| *face).sum())
        };
        Self { wanted: sizes.into_iter().map(of_size).collect() }
    }

    /// Whether so many boards of each kind have less than is wanted.
    pub fn refute(&self, problem: &Problem, boards: &[(usize, u32)]) -> bool {
        self.wanted.iter().any(|(thick, wide, wanted)| {
            let fitting = boards.iter().filter_map(|(kind, count)| Some((problem.stock.get(*kind)?, *count)));
            let there: i128 = fitting
                .filter(|(stock, _)| safe(stock.thick) >= *thick && safe(stock.wide) >= *wide)
                .map(|(stock, count)| face(problem, stock) * i128::from(count))
                .sum();
            there < *wanted
        })
    }

    /// Fewest boards that have as much face as is wanted: the largest first.
    pub fn least_boards(&self, problem: &Problem) -> u32 {
        let least = |(thick, wide, wanted): &(i64, i64, i128)| {
            let fits = |stock: &&Stock| safe(stock.thick) >= *thick && safe(stock.wide) >= *wide;
            let mut faces: Vec<(i128, u32)> = problem
                .stock
                .iter()
                .filter(fits)
                .map(|stock| (face(problem, stock), stock.count.unwrap_or(u32::MAX)))
                .collect();
            faces.sort_unstable_by(|a, b| b.cmp(a));
            let (mut left, mut boards) = (*wanted, 0_u32);
            for (face, count) in faces {
                if left <= 0 || face <= 0 {
                    break;
                }
                let full = u32::try_from((left + face - 1) / face).unwrap_or(u32::MAX).min(count);
                boards = boards.saturating_add(full);
                left -= face * i128::from(full);
            }
            boards
        };
        self.wanted.iter().map(least).max().unwrap_or(0)
    }
}

/// Steps in which the length of a board is looked at.
const ALONG: i64 = 40;
/// Steps in which its width is.
const ACROSS: i64 = 64;
/// Rounds of columns.
const ROUNDS: usize = 40;
/// It ends when the bound has not risen by a thousandth in so many rounds.
const PATIENCE: usize = 6;
/// More pieces than this are bounded by their faces alone.
const MOST_ROWS: usize = 60;

/// The least that boards for all that is wanted cost, at `cost` for each kind: a linear program over all ways to cut a
/// board, of which only those are written out that cut its value down (the dual is solved, a row for each way). A
/// board's sections and lanes are reckoned in steps, rounded so that a board gives rather more than it can; so what
/// comes out is a bound all the same. `None` where nothing can be said.
pub(super) fn program(problem: &Problem, wanted: &Wanted, cost: &[f64], enough: f64) -> Option<f64> {
    let rows: Vec<(usize, usize)> = wanted
        .left
        .iter()
        .enumerate()
        .flat_map(|(class, left)| {
            left.iter().enumerate().filter(|(_, left)| **left > 0).map(move |(piece, _)| (class, piece))
        })
        .collect();
    if rows.is_empty() || rows.len() > MOST_ROWS {
        return None;
    }
    let kinds: Vec<usize> = (0..problem.stock.len()).filter(|kind| is_worth_a_look(problem, cost, *kind)).collect();
    let mut dual = Program::new(OptimizationDirection::Maximize);
    let demand = |(class, piece): &(usize, usize)| f64::from(wanted.left[*class][*piece]);
    // Values are kept within what one piece of the dearest board could be worth, so that the first round is bounded.
    let dearest = kinds.iter().map(|kind| cost[*kind]).fold(0.0, f64::max).max(1.0);
    let values: Vec<Variable> = rows.iter().map(|row| dual.add_var(demand(row), (0.0, dearest * 1e3))).collect();
    let limits: Vec<Option<Variable>> = kinds
        .iter()
        .map(|kind| problem.stock[*kind].count.map(|count| dual.add_var(-f64::from(count), (0.0, f64::INFINITY))))
        .collect();
    let mut solution = dual.solve().ok()?.into_solution().ok()?;
    let (mut best, mut risen): (Option<f64>, (usize, f64)) = (None, (0, 0.0));
    for round in 0..ROUNDS {
        let worth: Vec<f64> = values.iter().map(|value| solution.var_value(*value).max(0.0)).collect();
        let limit: Vec<f64> =
            limits.iter().map(|limit| limit.map_or(0.0, |limit| solution.var_value(limit).max(0.0))).collect();
        // By how much the values must shrink for no way of cutting to be worth more than its board.
        let (mut shrink, mut is_bounded, mut columns) = (1.0_f64, true, Vec::new());
        for (at, kind) in kinds.iter().enumerate() {
            let (value, column) = priced(problem, wanted, &problem.stock[*kind], &rows, &worth);
            let allowed = cost[*kind] + limit[at];
            if value > allowed * (1.0 + 1e-9) + 1e-9 * dearest {
                columns.push((at, column, cost[*kind]));
            }
            if value > allowed {
                if allowed > 0.0 {
                    shrink = shrink.max(value / allowed);
                } else {
                    is_bounded &= value <= 1e-9 * dearest;
                }
            }
        }
        if is_bounded {
            let gained: f64 = rows.iter().zip(&worth).map(|(row, worth)| demand(row) * worth).sum();
            let lost: f64 = kinds
                .iter()
                .zip(&limit)
                .map(|(kind, limit)| problem.stock[*kind].count.map_or(0.0, |count| f64::from(count) * limit))
                .sum();
            // The program's own rounding is far smaller than this.
            let bound = (gained / shrink - lost) * (1.0 - 1e-7) - 1e-7 * dearest;
            best = Some(best.map_or(bound, |before: f64| before.max(bound)));
        }
        if best.is_some_and(|best| best > risen.1 * 1.001) {
            risen = (round, best.unwrap_or(0.0));
        }
        let is_stuck = risen.1 > 0.0 && round - risen.0 >= PATIENCE;
        if is_stuck || columns.is_empty() || best.is_some_and(|best| best >= enough) {
            break;
        }
        for (at, column, cost) in columns {
            let mut row: Vec<(Variable, f64)> = column
                .iter()
                .zip(&values)
                .filter(|(count, _)| **count > 0.0)
                .map(|(count, value)| (*value, *count))
                .collect();
            row.extend(limits[at].map(|limit| (limit, -1.0)));
            solution = solution.add_constraint(&row, ComparisonOp::Le, cost).ok()?.into_solution().ok()?;
        }
    }
    best
}

/// Not what another kind is at no more cost and in any number: as thick, as wide, as long, with no more to avoid.
fn is_worth_a_look(problem: &Problem, cost: &[f64], kind: usize) -> bool {
    let this = &problem.stock[kind];
    let is_better = |(other, that): (usize, &Stock)| {
        other != kind
            && that.count.is_none()
            && that.avoid.is_empty()
            && that.thick >= this.thick
            && that.wide >= this.wide
            && that.long >= this.long
            && (cost[other] < cost[kind] || cost[other] <= cost[kind] && other < kind)
    };
    this.count != Some(0) && !problem.stock.iter().enumerate().any(is_better)
}

/// What lanes of a class are worth in a section, with how many pieces of each.
struct Lanes {
    class: usize,
    /// Steps across.
    width: usize,
    /// The first lane's worth, the second's on top of it, and so on; never rising.
    gains: Vec<f64>,
}

/// The most that a board can be worth, and what it gives then.
fn priced(
    problem: &Problem,
    wanted: &Wanted,
    stock: &Stock,
    rows: &[(usize, usize)],
    worth: &[f64],
) -> (f64, Vec<f64>) {
    let kerf = safe(problem.kerf);
    let (long, wide) = (safe(stock.long) + kerf, safe(stock.wide) + kerf);
    let shortest = shortest(problem, wanted) + kerf;
    let step = (long / ALONG).clamp(1, shortest.max(1));
    if long / step > 8 * ALONG {
        // Sections as short as that would ask for too many steps: the whole board as one piece of wood instead.
        return melted(problem, wanted, stock, rows, worth);
    }
    let steps = usize::try_from(long / step).unwrap_or(0);
    let across = usize::try_from(ACROSS).unwrap_or(64);
    let mut sections: Vec<(f64, Vec<(usize, usize)>)> = vec![(0.0, Vec::new())];
    for at in 1..=steps {
        let reach = (i64::try_from(at).unwrap_or(0) + 1) * step - 1 - kerf;
        let length = reach.min(safe(stock.long));
        let lanes: Vec<Lanes> = problem
            .classes
            .iter()
            .enumerate()
            .filter(|(_, class)| class.thick <= stock.thick && class.wide <= stock.wide)
            .filter(|(_, class)| class.is_block || length >= safe(problem.least_section))
            .filter_map(|(at, class)| {
                // Rounded down: a lane takes rather less.
                let width = usize::try_from((safe(class.wide) + kerf) * ACROSS / wide.max(1)).unwrap_or(1).max(1);
                let most = usize::try_from(wide / (safe(class.wide) + kerf).max(1)).unwrap_or(1).max(1).min(across);
                let gains = gains(problem, class, &wanted.left[at], length, most, &worths(rows, worth, at));
                (gains.first().is_some_and(|gain| *gain > 0.0)).then_some(Lanes { class: at, width, gains })
            })
            .collect();
        sections.push(side_by_side(&lanes, across));
    }
    // The best sections one behind the other.
    let mut best: Vec<(f64, usize)> = vec![(0.0, 0)];
    for room in 1..=steps {
        let mut here = (best[room - 1].0, 0);
        for at in 1..=room {
            let value = sections[at].0 + best[room - at].0;
            if value > here.0 {
                here = (value, at);
            }
        }
        best.push(here);
    }
    let mut column = vec![0.0; rows.len()];
    let mut room = steps;
    while room > 0 {
        let at = best[room].1;
        if at == 0 {
            room -= 1;
            continue;
        }
        let reach = (i64::try_from(at).unwrap_or(0) + 1) * step - 1 - kerf;
        for (class, lanes) in &sections[at].1 {
            let left = &wanted.left[*class];
            let counts = counts(
                problem,
                &problem.classes[*class],
                left,
                reach.min(safe(stock.long)),
                *lanes,
                &worths(rows, worth, *class),
            );
            for (piece, count) in counts.iter().enumerate() {
                if let Some(row) = rows.iter().position(|row| *row == (*class, piece)) {
                    column[row] += count;
                }
            }
        }
        room -= at;
    }
    (best[steps].0, column)
}

/// Of the pieces of a class; nothing for those of which none is wanted.
fn worths(rows: &[(usize, usize)], worth: &[f64], class: usize) -> Vec<(usize, f64)> {
    rows.iter().zip(worth).filter(|((of, _), _)| *of == class).map(|((_, piece), worth)| (*piece, *worth)).collect()
}

fn shortest(problem: &Problem, wanted: &Wanted) -> i64 {
    let asked = problem.classes.iter().enumerate().filter(|(at, _)| !wanted.is_done_with(*at));
    let of_class = |(at, class): (usize, &Class)| {
        let pieces = (0..class.pieces.len()).filter(|piece| wanted.left[at][*piece] > 0);
        let piece = pieces.map(|piece| pitch(class, piece) - safe(problem.kerf)).min().unwrap_or(1);
        if class.is_block { piece } else { piece.max(safe(problem.least_section)) }
    };
    asked.map(of_class).min().unwrap_or(1).max(1)
}

/// How many of each piece so many lanes of one length give at the most, those worth most for their length first; the
/// last in part.
fn counts(
    problem: &Problem,
    class: &Class,
    left: &[u32],
    length: i64,
    lanes: usize,
    worths: &[(usize, f64)],
) -> Vec<f64> {
    let kerf = safe(problem.kerf);
    let mut counts = vec![0.0; left.len()];
    let lanes_here = i64::try_from(lanes).unwrap_or(0);
    let fits = |piece: usize| {
        let (own, first) = (pitch(class, piece), safe(class.pieces[piece].first));
        let shared = ((length - safe(class.tail) - first) / own).max(0);
        let alone = i64::from(first + own - kerf <= length);
        shared.max(alone)
    };
    if let [(piece, _)] = worths {
        counts[*piece] = as_float((fits(*piece) * lanes_here).min(i64::from(left[*piece])));
        return counts;
    }
    let first = worths.iter().map(|(piece, _)| safe(class.pieces[*piece].first)).min().unwrap_or(0);
    let alone = worths.iter().filter(|(piece, _)| fits(*piece) > 0).map(|(piece, _)| pitch(class, *piece)).max();
    let room = (length - safe(class.tail) - first).max(alone.unwrap_or(0)).max(0);
    let mut free = as_float(room * lanes_here);
    let mut order: Vec<&(usize, f64)> = worths.iter().filter(|(piece, _)| fits(*piece) > 0).collect();
    let dense = |(piece, worth): &&(usize, f64)| worth / as_float(pitch(class, *piece));
    order.sort_by(|a, b| dense(b).total_cmp(&dense(a)).then(a.0.cmp(&b.0)));
    for (piece, _) in order {
        let own = as_float(pitch(class, *piece));
        let most = as_float((fits(*piece) * lanes_here).min(i64::from(left[*piece])));
        let count = most.min(free / own);
        counts[*piece] = count;
        free -= count * own;
    }
    counts
}

fn gains(
    problem: &Problem,
    class: &Class,
    left: &[u32],
    length: i64,
    most: usize,
    worths: &[(usize, f64)],
) -> Vec<f64> {
    let value = |lanes: usize| -> f64 {
        let counts = counts(problem, class, left, length, lanes, worths);
        worths.iter().map(|(piece, worth)| counts[*piece] * worth).sum()
    };
    let (mut gains, mut before): (Vec<f64>, f64) = (Vec::new(), 0.0);
    for lanes in 1..=most {
        let now = value(lanes);
        if now <= before {
            break;
        }
        // Rounding alone can make a gain rise.
        gains.push((now - before).min(gains.last().copied().unwrap_or(f64::INFINITY)));
        before = now;
    }
    gains
}

/// The best lanes for a width of so many steps: worth, and how many of each class.
fn side_by_side(lanes: &[Lanes], across: usize) -> (f64, Vec<(usize, usize)>) {
    let items: Vec<(usize, usize, f64)> =
        lanes.iter().enumerate().flat_map(|(at, of)| of.gains.iter().map(move |gain| (at, of.width, *gain))).collect();
    let mut best = vec![0.0_f64; across + 1];
    let mut is_taken = vec![false; items.len() * (across + 1)];
    for (at, (_, width, gain)) in items.iter().enumerate() {
        for room in (*width..=across).rev() {
            let value = best[room - width] + gain;
            if value > best[room] {
                best[room] = value;
                is_taken[at * (across + 1) + room] = true;
            }
        }
    }
    let (mut room, mut taken) = (across, vec![0; lanes.len()]);
    for (at, (of, width, _)) in items.iter().enumerate().rev() {
        if is_taken[at * (across + 1) + room] {
            taken[*of] += 1;
            room -= width;
        }
    }
    let of_class = lanes.iter().zip(taken).filter(|(_, count)| *count > 0).map(|(of, count)| (of.class, count));
    (best[across], of_class.collect())
}

/// A board as if its wood could be poured: by faces alone.
fn melted(
    problem: &Problem,
    wanted: &Wanted,
    stock: &Stock,
    rows: &[(usize, usize)],
    worth: &[f64],
) -> (f64, Vec<f64>) {
    let kerf = safe(problem.kerf);
    let own = |(class, piece): (usize, usize)| {
        let class = &problem.classes[class];
        // A piece alone in its section brings its kerf along the board, not its own.
        as_float((safe(class.wide) + kerf) * pitch(class, piece).max(1))
    };
    let mut order: Vec<usize> = (0..rows.len())
        .filter(|row| {
            let class = &problem.classes[rows[*row].0];
            class.thick <= stock.thick && class.wide <= stock.wide
        })
        .collect();
    order.sort_by(|a, b| (worth[*b] / own(rows[*b])).total_cmp(&(worth[*a] / own(rows[*a]))).then(a.cmp(b)));
    #[allow(clippy::cast_precision_loss, reason = "a bound with a margin")]
    let mut free = face(problem, stock) as f64;
    let (mut value, mut column) = (0.0, vec![0.0; rows.len()]);
    for row in order {
        let (class, piece) = rows[row];
        let count = f64::from(wanted.left[class][piece]).min(free / own(rows[row]));
        column[row] = count;
        value += count * worth[row];
        free -= count * own(rows[row]);
    }
    (value, column)
}

#[allow(clippy::cast_precision_loss, reason = "lengths of boards are far below 2^53")]
fn as_float(length: i64) -> f64 {
    length as f64
}
