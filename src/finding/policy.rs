//! What a recipe, the files it uses and the command line say of findings: how much they weigh, which are accepted.
//!
//! One rule stands over all of it: a code that is an error of its own says that the piece cannot be made or
//! that the text is wrong. No level lowers it and nothing accepts it.

use std::collections::BTreeMap;

use crate::source::Span;

use super::catalog::{CODES, Code, find};
use super::reach::Reaching;
use super::{Finding, Fix, Severity, catalog, sort_and_dedupe};

/// What a finding is to weigh.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// It is not told at all.
    Off,
    /// As much as this.
    As(Severity),
}

impl Level {
    /// As written, the heaviest first.
    pub const WORDS: &'static [&'static str] = &["error", "warning", "note", "off"];

    /// The level that is written so.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Some(match word {
            "error" => Self::As(Severity::Error),
            "warning" => Self::As(Severity::Warning),
            "note" => Self::As(Severity::Note),
            "off" => Self::Off,
            _ => return None,
        })
    }
}

/// One code, or all codes of a family.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Codes {
    /// `ring/joints-line-up`
    One(&'static Code),
    /// `ring`
    Family(&'static str),
}

impl Codes {
    /// What is written so: a code or a family.
    #[must_use]
    pub fn find(name: &str) -> Option<Self> {
        let family = || families().find(|family| *family == name).map(Self::Family);
        find(name).map(Self::One).or_else(family)
    }

    /// As written.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::One(code) => code.name,
            Self::Family(family) => family,
        }
    }

    /// Whether `code` is meant.
    #[must_use]
    pub fn has(self, code: &Code) -> bool {
        match self {
            Self::One(one) => one == code,
            Self::Family(family) => code.family() == family,
        }
    }

    /// Whether any of them may be accepted and lowered: one that is no error of its own.
    #[must_use]
    pub fn may_yield(self) -> bool {
        CODES.iter().any(|code| self.has(code) && may_yield(code))
    }
}

/// The families of all codes, in their order, some more than once.
pub fn families() -> impl Iterator<Item = &'static str> {
    CODES.iter().map(|code| code.family())
}

/// Whether findings of the code may be lowered, turned off and accepted.
fn may_yield(code: &Code) -> bool {
    code.severity != Severity::Error
}

/// How much findings are to weigh, by the name of their code.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Levels(BTreeMap<&'static str, (Level, Nearness)>);

/// Within one place a code that is named wins over its family.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Nearness {
    Family,
    Code,
}

/// Why a level cannot be set: nothing of it may be lowered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotLowered;

impl Levels {
    /// Sets `codes` to `level`. A family's codes that cannot be lowered stay as they are.
    ///
    /// # Errors
    /// [`NotLowered`] when all that is named would have to be lowered, and may not be.
    pub fn set(&mut self, codes: Codes, level: Level) -> Result<(), NotLowered> {
        if level < Level::As(Severity::Error) && !codes.may_yield() {
            return Err(NotLowered);
        }
        let nearness = if matches!(codes, Codes::One(_)) { Nearness::Code } else { Nearness::Family };
        for code in CODES.iter().filter(|code| codes.has(code) && may_yield(code)) {
            let known = self.0.get(code.name).map(|(_, known)| *known);
            if known.is_none_or(|known| known <= nearness) {
                self.0.insert(code.name, (level, nearness));
            }
        }
        Ok(())
    }

    /// These levels, and those of `other` for codes of which these say nothing.
    #[must_use]
    pub fn or(mut self, other: Self) -> Self {
        for (code, level) in other.0 {
            self.0.entry(code).or_insert(level);
        }
        self
    }

    /// The level of a code, if one is set.
    #[must_use]
    pub fn of(&self, code: &Code) -> Option<Level> {
        self.0.get(code.name).map(|(level, _)| *level)
    }
}

/// A line that says that findings are known and wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Accept {
    /// Which.
    pub codes: Codes,
    /// Why, in the words of the recipe.
    pub reason: String,
    /// Within which statement; `None` for the whole design.
    pub within: Option<Span>,
    /// The words themselves, from `accept` to the reason.
    pub span: Span,
    /// What has to go to take it out.
    pub removal: Span,
}

impl Accept {
    /// Whether it holds in less of the text; what is said of one statement is nearer than what is said of those around it.
    /// How long they are written does not count, so that white space decides nothing.
    fn is_nearer(&self, other: &Self) -> bool {
        match (self.within, other.within) {
            (Some(own), Some(others)) => others.contains(own) && own != others,
            (own, None) => own.is_some(),
            (None, Some(_)) => false,
        }
    }
}

/// What holds for the findings of one design.
#[derive(Debug, Clone, Default)]
pub struct Policy {
    /// How much they weigh.
    pub levels: Levels,
    /// What is accepted, in the order of the recipe.
    pub accepts: Vec<Accept>,
}

/// A finding that is known and wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Accepted {
    /// What would be told.
    pub finding: Finding,
    /// Why it is not.
    pub reason: String,
}

/// Findings with the policy applied.
#[derive(Debug, Clone, Default)]
pub struct Applied {
    /// What is told, in the order it came.
    pub told: Vec<Finding>,
    /// What is not, in the order of the places and without repetitions.
    pub accepted: Vec<Accepted>,
    /// Of the policy's accepts, those that silenced nothing.
    pub idle: Vec<usize>,
}

impl Policy {
    /// Sorts out what is accepted, and weighs the rest. A level that turns a finding off does not make an accept of
    /// it idle.
    #[must_use]
    pub fn apply(&self, findings: Vec<Finding>) -> Applied {
        let mut told = Vec::with_capacity(findings.len());
        let mut silenced: Vec<Vec<Finding>> = vec![Vec::new(); self.accepts.len()];
        let reaching = Reaching::of(&self.accepts);
        let mut is_idle = vec![true; self.accepts.len()];
        for finding in findings {
            let around = if may_yield(finding.code) { reaching.around(&finding) } else { Vec::new() };
            for at in &around {
                is_idle[*at] = false;
            }
            // Of two statements side by side the first that is told wins, of two accepts of one statement the first written.
            let nearest = around.into_iter().reduce(|best, at| {
                let (accept, known) = (&self.accepts[at], &self.accepts[best]);
                let is_earlier = accept.within == known.within && at < best;
                if accept.is_nearer(known) || is_earlier { at } else { best }
            });
            match nearest.and_then(|at| silenced.get_mut(at)) {
                Some(silenced) => silenced.push(finding),
                None => told.extend(self.weighed(finding)),
            }
        }
        let mut accepted = Vec::new();
        for (accept, mut findings) in self.accepts.iter().zip(silenced) {
            sort_and_dedupe(&mut findings);
            accepted.extend(findings.into_iter().map(|finding| Accepted { finding, reason: accept.reason.clone() }));
        }
        accepted.sort_by_key(|accepted| (accepted.finding.place.span, accepted.finding.code.name));
        let idle = (0..self.accepts.len()).filter(|at| is_idle[reaching.first(*at)]).collect();
        Applied { told, accepted, idle }
    }

    /// The finding with the weight that is set for it; nothing when it is turned off.
    fn weighed(&self, mut finding: Finding) -> Option<Finding> {
        if !may_yield(finding.code) {
            return Some(finding);
        }
        match self.levels.of(finding.code) {
            Some(Level::Off) => return None,
            Some(Level::As(severity)) => finding.severity = severity,
            None => {}
        }
        Some(finding)
    }

    /// That these accepts silenced nothing; weighed as all else, so that it can be turned off too.
    #[must_use]
    pub fn unused(&self, idle: &[usize]) -> Vec<Finding> {
        let accepts = idle.iter().filter_map(|at| self.accepts.get(*at));
        accepts.filter_map(|accept| self.weighed(unused(accept))).collect()
    }
}

fn unused(accept: &Accept) -> Finding {
    let name = accept.codes.name();
    let is_family = matches!(accept.codes, Codes::Family(_));
    let what = if is_family { format!("no finding of `{name}`") } else { format!("no `{name}`") };
    let place = if accept.within.is_some() { "here" } else { "in this design" };
    Finding::new(&catalog::ACCEPT_UNUSED, accept.span, format!("there is {what} {place} that could be accepted"))
        .help("remove it, so that a finding that comes back later is told")
        .fix(Fix::safe("remove it", accept.removal, ""))
}

#[cfg(test)]
mod tests {
    use super::{Accept, Codes, Level, Levels, NotLowered, Policy};
    use crate::finding::{Finding, Severity, catalog};
    use crate::source::{FileId, Span};

    const WARNING: Level = Level::As(Severity::Warning);
    const NOTE: Level = Level::As(Severity::Note);
    const ERROR: Level = Level::As(Severity::Error);

    fn codes(name: &str) -> Codes {
        Codes::find(name).unwrap()
    }

    fn span(start: u32, end: u32) -> Span {
        Span::new(FileId(0), start, end)
    }

    fn thin(start: u32) -> Finding {
        Finding::new(&catalog::WALL_THIN, span(start, start + 1), format!("wall at {start}"))
    }

    fn accept(name: &str, within: Option<Span>) -> Accept {
        let place = within.unwrap_or(span(0, 1));
        Accept { codes: codes(name), reason: format!("{within:?}"), within, span: place, removal: place }
    }

    fn levels(settings: &[(&str, Level)]) -> Levels {
        let mut levels = Levels::default();
        for (name, level) in settings {
            levels.set(codes(name), *level).unwrap();
        }
        levels
    }

    #[test]
    fn a_code_wins_over_its_family_wherever_it_is_said() {
        for settings in [[("wall", Level::Off), ("wall/thin", NOTE)], [("wall/thin", NOTE), ("wall", Level::Off)]] {
            assert_eq!(levels(&settings).of(&catalog::WALL_THIN), Some(NOTE));
        }
        let ring = levels(&[("ring", ERROR)]);
        assert_eq!(ring.of(&catalog::RING_POINTS_MEET), Some(ERROR));
        assert_eq!(ring.of(&catalog::WALL_THIN), None);
    }

    #[test]
    fn what_is_nearer_wins_over_what_is_more_exact() {
        let near = levels(&[("wall", NOTE)]).or(levels(&[("wall/thin", ERROR), ("stack/too-tall", ERROR)]));
        assert_eq!(near.of(&catalog::WALL_THIN), Some(NOTE));
        assert_eq!(near.of(&catalog::STACK_TOO_TALL), Some(ERROR));
    }

    #[test]
    fn an_error_of_its_own_is_never_lowered() {
        let mut levels = Levels::default();
        for level in [WARNING, NOTE, Level::Off] {
            assert_eq!(levels.set(codes("ring/does-not-cover"), level), Err(NotLowered));
            assert_eq!(levels.set(codes("syntax"), level), Err(NotLowered), "all of the family are errors");
            assert_eq!(levels.set(codes("ring"), level), Ok(()), "some of the family are none");
        }
        assert_eq!(levels.set(codes("ring/does-not-cover"), ERROR), Ok(()));
        let policy = Policy { levels, accepts: vec![accept("ring", None)] };
        let error = Finding::new(&catalog::RING_DOES_NOT_COVER, span(3, 4), "too small");
        let applied = policy.apply(vec![error.clone()]);
        assert_eq!((applied.told, applied.accepted.len(), applied.idle), (vec![error], 0, vec![0]));
    }

    #[test]
    fn what_is_off_is_not_told_and_what_is_raised_weighs_more() {
        let policy = |level| Policy { levels: levels(&[("wall/thin", level)]), accepts: Vec::new() };
        assert!(policy(Level::Off).apply(vec![thin(5)]).told.is_empty());
        assert_eq!(policy(ERROR).apply(vec![thin(5)]).told[0].severity(), Severity::Error);
        assert_eq!(policy(NOTE).apply(vec![thin(5)]).told[0].severity(), Severity::Note);
    }

    #[test]
    fn an_accept_reaches_as_far_as_its_statement_and_the_nearest_one_tells_why() {
        let (outer, inner) = (span(10, 50), span(20, 30));
        let accepts = vec![accept("wall", Some(outer)), accept("wall/thin", Some(inner)), accept("stack", None)];
        let policy = Policy { levels: Levels::default(), accepts };
        let other = Finding::new(&catalog::STACK_TOO_TALL, span(90, 91), "tall");
        let applied = policy.apply(vec![thin(25), thin(40), thin(60), other, thin(61).also(inner, "here")]);
        assert_eq!(applied.told.iter().map(|told| told.place.span.start).collect::<Vec<_>>(), [60]);
        let accepted: Vec<_> =
            applied.accepted.iter().map(|one| (one.finding.place.span.start, one.reason.as_str())).collect();
        let (out, inn) = (format!("{:?}", Some(outer)), format!("{:?}", Some(inner)));
        assert_eq!(accepted, [(25, inn.as_str()), (40, &out), (61, &inn), (90, "None")]);
        assert_eq!(applied.idle, [0; 0]);
    }

    #[test]
    fn accepts_are_found_as_if_each_were_asked() {
        // Statements within each other and side by side, some accepted twice, and findings at every place.
        let places = [(0, 40), (0, 12), (2, 6), (6, 9), (12, 40), (12, 14), (14, 39), (20, 21), (21, 30)];
        let names = ["wall", "wall/thin", "stack"];
        let mut accepts: Vec<_> = (0..places.len() * 2)
            .map(|at| (places[at * 5 % places.len()], names[at % names.len()]))
            .map(|((start, end), name)| accept(name, Some(span(start, end))))
            .collect();
        accepts.push(accept("stack/too-tall", None));
        let policy = Policy { levels: Levels::default(), accepts };
        for (start, end) in (0..40).flat_map(|start| [0, 1, 5].map(|long| (start, start + long))) {
            let finding = Finding::new(&catalog::WALL_THIN, span(start, end), "thin").also(span(21, 22), "here");
            let reaches = |accept: &Accept, place| accept.within.is_none_or(|within| within.contains(place));
            let silences = |accept: &&Accept| {
                let is_there = reaches(accept, span(start, end)) || reaches(accept, span(21, 22));
                accept.codes.has(finding.code) && is_there
            };
            let all: Vec<&Accept> = policy.accepts.iter().filter(silences).collect();
            let nearest = all.iter().filter(|accept| !all.iter().any(|other| other.is_nearer(accept)));
            let nearest = nearest.min_by_key(|accept| !reaches(accept, span(start, end)));
            let applied = policy.apply(vec![finding.clone()]);
            let reasons: Vec<&str> = applied.accepted.iter().map(|one| one.reason.as_str()).collect();
            assert_eq!(reasons, nearest.iter().map(|accept| accept.reason.as_str()).collect::<Vec<_>>(), "{start}");
            let idle: Vec<usize> = (0..policy.accepts.len()).filter(|at| !silences(&&policy.accepts[*at])).collect();
            assert_eq!(applied.idle, idle, "{start}..{end}");
        }
    }

    #[test]
    fn of_two_lines_the_one_that_is_told_accepts_however_long_it_is() {
        let (first, second) = (span(10, 50), span(50, 60));
        let accepts = vec![accept("wall", Some(second)), accept("wall", Some(first))];
        let policy = Policy { levels: Levels::default(), accepts };
        let applied = policy.apply(vec![thin(20).also(second, "here")]);
        assert_eq!(applied.accepted[0].reason, format!("{:?}", Some(first)));
    }

    #[test]
    fn an_accept_of_what_is_off_is_not_idle() {
        let policy = Policy { levels: levels(&[("wall/thin", Level::Off)]), accepts: vec![accept("wall/thin", None)] };
        let applied = policy.apply(vec![thin(5)]);
        assert_eq!((applied.told.len(), applied.accepted.len(), applied.idle.len()), (0, 1, 0));
        assert_eq!(policy.unused(&policy.apply(Vec::new()).idle).len(), 1);
    }

    #[test]
    fn a_raised_finding_can_be_accepted() {
        let policy = Policy { levels: levels(&[("wall", ERROR)]), accepts: vec![accept("wall/thin", None)] };
        assert!(policy.apply(vec![thin(5)]).told.is_empty());
    }
}
