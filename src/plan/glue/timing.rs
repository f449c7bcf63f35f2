//! Glue-ups to hours: which clamps fit each, when the hands begin, what holds the work up, how much glue it takes.

use crate::plan::Asked;
use crate::quantity::{Area, Count, Date, Diameter, Duration, Mass, WEEK, Weekday};
use crate::resolve::{Recipe, Shop};
use crate::search::scheduling::{self, Calendar, Job, Problem};
use crate::workings::{Formula, Known, Ledger};

use super::{ClampKind, Clamps, GlueNeed, GlueSchedule, GlueStep, GlueWork, RingGlue, WorkDays};

static AREA_OF_A_GLUE: Formula =
    Formula { gives: "area of all joints of one glue", words: "added up over the glue-ups", inputs: &["a glue-up"] };

static MASS_OF_A_GLUE: Formula =
    Formula { gives: "glue needed in all", words: "added up over the glue-ups", inputs: &["a glue-up"] };

/// What holds a glue-up together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Held {
    /// Rubbed on piece by piece: nothing.
    ByItself,
    /// A round: a band.
    Round,
    /// Flat faces and edges: cauls.
    Flat,
}

fn held(work: GlueWork) -> Held {
    match work {
        GlueWork::Spacers { .. } | GlueWork::SetOpen { .. } => Held::ByItself,
        GlueWork::Run { .. } | GlueWork::Half { .. } | GlueWork::Close | GlueWork::WholeRing { .. } => Held::Round,
        GlueWork::Board { .. } | GlueWork::Panel { .. } | GlueWork::Plug | GlueWork::Stack { .. } => Held::Flat,
    }
}

/// The shop's bands that go round such a thing, as indexes into them.
pub fn bands_round(shop: &Shop, round: Diameter) -> impl Iterator<Item = usize> {
    let goes = move |band: &crate::resolve::Band| {
        band.from.value.across() <= round.across() && round.across() <= band.to.value.across()
    };
    shop.bands.iter().enumerate().filter(move |(_, band)| goes(band)).map(|(at, _)| at)
}

/// The clamps that fit a glue-up; empty when it needs none.
fn fits(step: &GlueStep, shop: &Shop) -> Vec<ClampKind> {
    let bands = step.round.into_iter().flat_map(|round| bands_round(shop, round.value));
    match held(step.work) {
        Held::ByItself => Vec::new(),
        Held::Flat if shop.cauls.is_some() => vec![ClampKind::Cauls],
        Held::Flat => vec![ClampKind::Clamps],
        Held::Round => {
            let bands: Vec<ClampKind> = bands.map(ClampKind::Band).collect();
            if bands.is_empty() { vec![ClampKind::Clamps] } else { bands }
        }
    }
}

/// Bands and cauls as the shop has them; other clamps where something needs them.
fn clamps(shop: &Shop, fitting: &[Vec<ClampKind>]) -> Vec<Clamps> {
    let band = |(at, band): (usize, &crate::resolve::Band)| Clamps { kind: ClampKind::Band(at), count: band.count };
    let mut all: Vec<Clamps> = shop.bands.iter().enumerate().map(band).collect();
    all.extend(shop.cauls.map(|count| Clamps { kind: ClampKind::Cauls, count }));
    if fitting.iter().flatten().any(|kind| *kind == ClampKind::Clamps) {
        all.push(Clamps { kind: ClampKind::Clamps, count: shop.clamps });
    }
    all
}

/// Gives every step its clamp and its start.
pub(super) fn timed(
    mut steps: Vec<GlueStep>,
    rings: Vec<RingGlue>,
    recipe: &Recipe,
    asked: Asked<'_>,
    ledger: &mut Ledger,
) -> GlueSchedule {
    let shop = &recipe.shop;
    let fitting: Vec<Vec<ClampKind>> = steps.iter().map(|step| fits(step, shop)).collect();
    let clamps = clamps(shop, &fitting);
    let days = WorkDays {
        opens: shop.hours.value.from,
        closes: shop.hours.value.to,
        days_off: shop.days_off.clone(),
        start: asked.start,
    };
    let problem = problem(&steps, &fitting, &clamps, calendar(&days));
    let solved = scheduling::solve(&problem, &asked.effort);
    for (at, (step, fitting)) in steps.iter_mut().zip(&fitting).enumerate() {
        step.start = Duration::from_seconds(solved.starts.get(at).copied().unwrap_or_default());
        step.takes = solved.takes.get(at).copied().filter(|_| !fitting.is_empty());
    }
    let mut order: Vec<usize> = (0..steps.len()).collect();
    order.sort_by_key(|at| (steps[*at].start.seconds(), *at));
    let since_begin = |time: u64| Duration::from_seconds(time.saturating_sub(solved.begin));
    GlueSchedule {
        order,
        calendar: days,
        clamps,
        begin: Duration::from_seconds(solved.begin),
        end: Duration::from_seconds(solved.end),
        makespan: since_begin(solved.end),
        critical_path: since_begin(solved.critical_end),
        critical: longest_chain(&problem),
        bound: since_begin(solved.bound),
        is_optimal: solved.end <= solved.bound,
        glue_needed: glue_needed(&steps, recipe, ledger),
        rings,
        steps,
    }
}

fn calendar(days: &WorkDays) -> Calendar {
    Calendar {
        opens: days.opens.seconds(),
        closes: days.closes.seconds(),
        days_off: WEEK.map(|day| days.days_off.contains(&day)),
        first_day: days.start.map_or(Weekday::Monday, Date::weekday).number(),
    }
}

/// Kinds of clamps are numbered as in `clamps`.
fn problem(steps: &[GlueStep], fitting: &[Vec<ClampKind>], clamps: &[Clamps], calendar: Calendar) -> Problem {
    let number = |kind: &ClampKind| clamps.iter().position(|clamp| clamp.kind == *kind);
    let jobs = steps.iter().zip(fitting).map(|(step, fitting)| Job {
        hands: step.busy(),
        clamp: step.clamp.value.seconds(),
        fits: fitting.iter().filter_map(number).collect(),
        after: step.after.clone(),
    });
    let counts = clamps.iter().map(|clamp| clamp.count.value.max(Count(1)).0);
    Problem { jobs: jobs.collect(), clamps: counts.collect(), calendar }
}

/// The first moment from `from` on at which hands can be busy so long without a break. What takes longer than a day's
/// hours begins when they do.
fn earliest(calendar: &Calendar, from: u64, busy: u64) -> u64 {
    const DAY: u64 = 86_400;
    let length = calendar.closes.saturating_sub(calendar.opens).min(busy);
    let is_off = |day: u64| calendar.days_off[((calendar.first_day as u64 + day) % 7) as usize];
    let mut day = from / DAY;
    loop {
        let begin = from.max(day * DAY + calendar.opens);
        if !is_off(day) && begin + length <= day * DAY + calendar.closes {
            return begin;
        }
        day += 1;
    }
}

/// The chain of jobs that ends last when hands and clamps are always free, in the hours of work.
fn longest_chain(problem: &Problem) -> Vec<usize> {
    let mut ends: Vec<u64> = Vec::with_capacity(problem.jobs.len());
    let mut before: Vec<Option<usize>> = Vec::with_capacity(problem.jobs.len());
    for job in &problem.jobs {
        let last = job.after.iter().copied().max_by_key(|at| (ends.get(*at).copied(), std::cmp::Reverse(*at)));
        let from = last.and_then(|at| ends.get(at).copied()).unwrap_or_default();
        ends.push(earliest(&problem.calendar, from, job.hands) + job.hands + job.clamp);
        before.push(last);
    }
    let end = (0..ends.len()).max_by_key(|at| (ends[*at], std::cmp::Reverse(*at)));
    let mut chain: Vec<usize> = std::iter::successors(end, |at| before[*at]).collect();
    chain.reverse();
    chain
}

fn glue_needed(steps: &[GlueStep], recipe: &Recipe, ledger: &mut Ledger) -> Vec<GlueNeed> {
    let mut needed = Vec::new();
    for glue in 0..recipe.glues.len() {
        let with_it = || steps.iter().filter(|step| step.glue == glue);
        if with_it().next().is_none() {
            continue;
        }
        let areas: Vec<Known<Area>> = with_it().map(|step| step.area).collect();
        let masses: Vec<Known<Mass>> = with_it().map(|step| step.mass).collect();
        needed.push(GlueNeed {
            glue,
            area: ledger.total(&AREA_OF_A_GLUE, &areas),
            mass: ledger.total(&MASS_OF_A_GLUE, &masses),
        });
    }
    needed
}
