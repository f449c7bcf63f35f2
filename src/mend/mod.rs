//! Making the fixes that findings carry: texts in, mended texts out. Pure; writing them is the
//! command line's job.
//!
//! A round compiles, takes the fixes of all findings whose edits do not collide, makes them, and
//! compiles again. They are kept only when no recipe became worse, one became better, and every
//! finding that was to be mended is gone. Where that fails, the halves are tried, down to single
//! fixes. Rounds go on until one keeps nothing. So
//! - no text that could be read becomes unreadable, as errors of syntax weigh most;
//! - comments stay as they are: an edit that touches one is never made;
//! - it ends: what is kept lowers a count that cannot fall for ever;
//! - a second run changes nothing: it would try what the last round has tried in vain.

mod edits;
mod measure;
mod overlay;

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use std::sync::Arc;

use crate::compile::{Compiled, compile_with};
use crate::finding::policy::Levels;
use crate::finding::{Code, Edit, Finding, Fix, Grade};
use crate::source::{FileId, Span, World};

use edits::{Change, Place, applied, carried, carried_change, collide, fit, keeps_comments};
use measure::Measure;
use overlay::Texts;

pub use overlay::Overlay;

/// Most compilations of one run beyond the first: no recipe of a person comes near.
const MOST_TRIALS: usize = 4000;

/// Most slips of one line that are mended one behind the other, when only the last makes it readable.
const MOST_SLIPS: usize = 8;

/// A file that may be changed. The same file has the same key in every recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileKey(pub usize);

/// One recipe to mend.
#[derive(Clone, Copy)]
pub struct Recipe<'w> {
    /// Where it and what it uses is found.
    pub world: &'w dyn World,
    /// Its file.
    pub root: FileId,
    /// How much its findings weigh beside what it says itself.
    pub levels: &'w Levels,
    /// What a file is known by; none for a file that must stay as it is.
    pub key: &'w dyn Fn(FileId) -> Option<FileKey>,
}

/// Which fixes are wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// Those too that change the design.
    All,
    /// Only those that say the same thing rightly.
    Safe,
}

/// What came of it.
pub struct Mended<'w> {
    /// Each recipe as it is now, in the order given: its world with the mended texts, and what it compiles to.
    pub recipes: Vec<(Rc<Overlay<'w>>, Rc<Compiled>)>,
    /// The files that changed.
    pub files: BTreeMap<FileKey, MendedFile>,
    /// The fixes that were made, in the order they were made.
    pub done: Vec<Done>,
}

/// A file that changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MendedFile {
    /// Its text as it was.
    pub before: Arc<str>,
    /// Its text now.
    pub after: Arc<str>,
}

/// A fix that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Done {
    /// What it did: "write `walnut`".
    pub title: String,
    /// Whether it changes the design.
    pub grade: Grade,
    /// Of the finding that it mends.
    pub code: &'static Code,
    /// Where it was made.
    pub file: FileKey,
}

/// Makes every fix that makes `recipes` better.
#[must_use]
pub fn mend<'w>(recipes: &[Recipe<'w>], wanted: Wanted) -> Mended<'w> {
    let start = State::of(recipes);
    let mut bench = Bench { state: start.clone(), wanted, trials: 0, done: Vec::new() };
    while bench.round() {}
    bench.mended(&start)
}

/// How many fixes of the findings are left since they lie in files that must stay as they are, by
/// the name of the file.
#[must_use]
pub fn left_elsewhere(overlay: &Overlay<'_>, compiled: &Compiled, wanted: Wanted) -> BTreeMap<String, usize> {
    let mut left = BTreeMap::new();
    for fix in compiled.findings.iter().filter_map(|finding| finding.fix.as_ref()).filter(|fix| wanted.has(fix)) {
        if let Some(edit) = fix.edits.iter().find(|edit| overlay.key(edit.span.file).is_none()) {
            *left.entry(overlay.file(edit.span.file).name.clone()).or_insert(0) += 1;
        }
    }
    left
}

/// The edits of a fix as they suit their files: with a file's line ends, behind its byte order mark, without what a
/// removal would leave. None when one would touch a comment or changes nothing.
#[must_use]
pub fn fitted(fix: &Fix, world: &dyn World) -> Option<Vec<Edit>> {
    let fitted = fix.edits.iter().map(|edit| {
        let span = edit.span;
        let change = fit(FileKey(span.file.0 as usize), &world.file(span.file).text, span.range(), &edit.text)?;
        let [start, end] = [change.start, change.end].map(|at| u32::try_from(at).unwrap_or(u32::MAX));
        Some(Edit { span: Span::new(span.file, start, end), text: change.text })
    });
    fitted.collect()
}

impl Wanted {
    fn has(self, fix: &Fix) -> bool {
        self == Self::All || fix.grade == Grade::Safe
    }
}

/// A fix that could be made, in terms of files rather than of one recipe's world.
#[derive(Debug, Clone)]
struct Candidate {
    done: Done,
    changes: Vec<Change>,
    place: Place,
    wording: String,
}

/// All recipes with certain texts.
#[derive(Clone)]
struct State<'w> {
    texts: Texts,
    jobs: Vec<Rc<Job<'w>>>,
}

/// One recipe, compiled.
struct Job<'w> {
    recipe: Recipe<'w>,
    overlay: Rc<Overlay<'w>>,
    compiled: Rc<Compiled>,
    measure: Measure,
}

impl<'w> Job<'w> {
    fn of(recipe: Recipe<'w>, texts: &Texts) -> Rc<Self> {
        let overlay = Rc::new(Overlay::new(recipe, texts.clone()));
        let compiled = Rc::new(compile_with(&*overlay, recipe.root, &recipe.levels.clone().into()));
        let measure = Measure::of(&compiled.findings);
        Rc::new(Self { recipe, overlay, compiled, measure })
    }

    /// The fix of a finding, when all of it can be made.
    fn candidate(&self, finding: &Finding, fix: &Fix) -> Option<Candidate> {
        let mut changes: Vec<Change> = Vec::with_capacity(fix.edits.len());
        for edit in &fix.edits {
            let file = self.overlay.key(edit.span.file)?;
            let change = fit(file, &self.overlay.file(edit.span.file).text, edit.span.range(), &edit.text)?;
            if changes.iter().any(|other| collide(other, &change)) {
                return None;
            }
            changes.push(change);
        }
        changes.sort();
        let file = changes.first()?.file;
        let done = Done { title: fix.title.clone(), grade: fix.grade, code: finding.code, file };
        let place = self.place(finding);
        Some(Candidate { done, changes, place, wording: wording(finding) })
    }

    fn place(&self, finding: &Finding) -> Place {
        let span = finding.place.span;
        Place { file: self.overlay.key(span.file), range: span.range() }
    }

    /// Whether a finding of that kind still stands at `place`.
    fn still_has(&self, code: &Code, place: &Place, wording: &str) -> bool {
        self.compiled.findings.iter().any(|finding| {
            *finding.code == *code && self.place(finding).meets(place) && self::wording(finding) == wording
        })
    }
}

impl Place {
    fn meets(&self, other: &Self) -> bool {
        self.file == other.file
            && (self.range.start == other.range.start
                || self.range.start < other.range.end && other.range.start < self.range.end)
    }
}

/// What a finding says, but for its numbers.
fn wording(finding: &Finding) -> String {
    finding.message.chars().filter(|c| c.is_alphabetic() || *c == '`').collect()
}

impl<'w> State<'w> {
    fn of(recipes: &[Recipe<'w>]) -> Self {
        let texts = Texts::new();
        let jobs = recipes.iter().map(|recipe| Job::of(*recipe, &texts)).collect();
        Self { texts, jobs }
    }

    /// All fixes that could be made, each once, in the order of their places.
    fn candidates(&self, wanted: Wanted) -> Vec<Candidate> {
        let mut seen = BTreeSet::new();
        let mut found = Vec::new();
        for job in &self.jobs {
            for finding in &job.compiled.findings {
                let fix = finding.fix.as_ref().filter(|fix| wanted.has(fix));
                if let Some(candidate) = fix.and_then(|fix| job.candidate(finding, fix))
                    && seen.insert(candidate.changes.clone())
                {
                    found.push(candidate);
                }
            }
        }
        found.sort_by(|a, b| a.changes.cmp(&b.changes));
        found
    }

    /// The text of a file, from whichever recipe has it.
    fn text(&self, file: FileKey) -> Option<Arc<str>> {
        let known = self.texts.get(&file).map(Arc::clone);
        known.or_else(|| self.jobs.iter().find_map(|job| job.overlay.text(file)))
    }

    /// With these fixes made; none when a comment would be lost or a finding that was to be mended is
    /// still there.
    fn with(&self, candidates: &[Candidate]) -> Option<Self> {
        let changes: Vec<Change> = candidates.iter().flat_map(|candidate| candidate.changes.iter().cloned()).collect();
        let files: BTreeSet<FileKey> = changes.iter().map(|change| change.file).collect();
        let mut texts = self.texts.clone();
        for file in &files {
            let before = self.text(*file)?;
            let after = applied(*file, &before, &changes);
            if !keeps_comments(&before, &after) {
                return None;
            }
            texts.insert(*file, Arc::from(after));
        }
        let is_touched = |job: &Job<'_>| files.iter().any(|file| job.overlay.has(*file));
        let anew = |job: &Rc<Job<'w>>| if is_touched(job) { Job::of(job.recipe, &texts) } else { Rc::clone(job) };
        let jobs: Vec<Rc<Job<'w>>> = self.jobs.iter().map(anew).collect();
        let is_gone = |candidate: &Candidate| {
            let place = carried(&candidate.place, &changes);
            !jobs.iter().any(|job| job.still_has(candidate.done.code, &place, &candidate.wording))
        };
        candidates.iter().all(is_gone).then_some(Self { texts, jobs })
    }

    /// Less: one recipe is better and none worse. None: some are better and some worse.
    fn compared(&self, before: &Self) -> Option<Ordering> {
        let mut sum = Ordering::Equal;
        for (now, before) in self.jobs.iter().zip(&before.jobs) {
            let one = now.measure.cmp(&before.measure);
            if sum == Ordering::Equal {
                sum = one;
            } else if one != Ordering::Equal && one != sum {
                return None;
            }
        }
        Some(sum)
    }
}

/// Mending under way.
struct Bench<'w> {
    state: State<'w>,
    wanted: Wanted,
    trials: usize,
    done: Vec<Done>,
}

impl<'w> Bench<'w> {
    /// Tries all fixes there are; whether any was kept.
    fn round(&mut self) -> bool {
        let mut chosen: Vec<Candidate> = Vec::new();
        for candidate in self.state.candidates(self.wanted) {
            let collides =
                |other: &Candidate| other.changes.iter().any(|a| candidate.changes.iter().any(|b| collide(a, b)));
            // They are ordered by place, but one may reach over several.
            if !chosen.iter().rev().take(64).any(collides) && (chosen.len() < 64 || !chosen.iter().any(collides)) {
                chosen.push(candidate);
            }
        }
        !self.kept(chosen).is_empty()
    }

    /// Makes what of these makes things better; the changes that were kept.
    fn kept(&mut self, mut candidates: Vec<Candidate>) -> Vec<Change> {
        if candidates.is_empty() || self.trials >= MOST_TRIALS {
            return Vec::new();
        }
        self.trials += 1;
        if let Some(trial) = self.state.with(&candidates) {
            let verdict = trial.compared(&self.state);
            if verdict == Some(Ordering::Less) {
                self.state = trial;
                self.done.extend(candidates.iter().map(|candidate| candidate.done.clone()));
                return candidates.into_iter().flat_map(|candidate| candidate.changes).collect();
            }
            if let ([only], Some(Ordering::Equal)) = (candidates.as_slice(), verdict) {
                return self.slips(only, trial);
            }
        }
        if candidates.len() == 1 {
            return Vec::new();
        }
        let mut later = candidates.split_off(candidates.len() / 2);
        let mut kept = self.kept(candidates);
        for candidate in &mut later {
            candidate.place = carried(&candidate.place, &kept);
            for change in &mut candidate.changes {
                *change = carried_change(change, &kept);
            }
        }
        let more = self.kept(later);
        // Later ones lie behind the earlier ones or in other places; each list tells its own round's places.
        kept = kept.iter().map(|change| carried_change(change, &more)).collect();
        kept.extend(more);
        kept
    }

    /// A line may hold several slips of which one at a time is told: goes on with the line's next one
    /// until the line is better than it was at first. The changes are those of the first fix, if kept.
    fn slips(&mut self, first: &Candidate, mut trial: State<'w>) -> Vec<Change> {
        let mut done = vec![first.done.clone()];
        let mut at = first.clone();
        for _ in 1..MOST_SLIPS {
            let next = trial.candidates(self.wanted).into_iter().find(|next| trial.same_line(&at, next));
            let Some(next) = next else { return Vec::new() };
            self.trials += 1;
            let Some(now) = trial.with(std::slice::from_ref(&next)) else { return Vec::new() };
            done.push(next.done.clone());
            match now.compared(&self.state) {
                Some(Ordering::Less) => {
                    let changes = difference(&self.state, &now);
                    self.state = now;
                    self.done.extend(done);
                    return changes;
                }
                Some(Ordering::Equal) => (trial, at) = (now, next),
                Some(Ordering::Greater) | None => return Vec::new(),
            }
        }
        Vec::new()
    }

    fn mended(self, start: &State<'w>) -> Mended<'w> {
        let files = self.state.texts.iter().filter_map(|(file, after)| {
            let before = start.text(*file)?;
            (before != *after).then(|| (*file, MendedFile { before, after: Arc::clone(after) }))
        });
        let files = files.collect();
        let recipes = self.state.jobs.iter().map(|job| (Rc::clone(&job.overlay), Rc::clone(&job.compiled))).collect();
        Mended { recipes, files, done: self.done }
    }
}

impl State<'_> {
    /// Whether the finding of `next` lies on the line that `last` has just changed.
    fn same_line(&self, last: &Candidate, next: &Candidate) -> bool {
        let (Some(old), Some(new)) = (last.changes.first(), next.changes.first()) else { return false };
        if old.file != new.file || next.place.file != Some(new.file) {
            return false;
        }
        let Some(text) = self.text(new.file) else { return false };
        let (from, to) = (old.start.min(next.place.range.start), old.start.max(next.place.range.start));
        text.get(from..to).is_some_and(|between| !between.contains('\n'))
    }
}

/// One change of each file, from the first byte to the last that differs.
fn difference(before: &State<'_>, after: &State<'_>) -> Vec<Change> {
    let mut changes = Vec::new();
    for (file, new) in &after.texts {
        let Some(old) = before.text(*file) else { continue };
        let start = old.bytes().zip(new.bytes()).take_while(|(a, b)| a == b).count();
        let most = old.len().min(new.len()) - start;
        let same = old.bytes().rev().zip(new.bytes().rev()).take(most).take_while(|(a, b)| a == b).count();
        if start < old.len() - same || start < new.len() - same {
            let text = String::from_utf8_lossy(&new.as_bytes()[start..new.len() - same]).into_owned();
            changes.push(Change { file: *file, start, end: old.len() - same, text });
        }
    }
    changes
}

#[cfg(test)]
mod tests;
