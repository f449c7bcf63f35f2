//! The whole way from a file to a plan, phase after phase.

use crate::checks;
use crate::finding::policy::{Accepted, Levels, Policy};
use crate::finding::{Finding, Severity, sort_and_dedupe};
use crate::geometry::{self, Vessel};
use crate::plan::{self, Asked, Plan};
use crate::resolve::{self, Recipe};
use crate::source::{FileId, World};
use crate::syntax::Trees;
use crate::workings::Ledger;

/// About as many figures as a ring and its glue-ups come to; only saves moving them about.
const FIGURES_OF_A_LAYER: usize = 24;

/// The byte order mark, which some editors put at the start of a file.
const MARK: char = '\u{feff}';
const MARK_BYTES: u32 = 3;

/// What compiling one file gave: as much as the input allowed, and all findings.
#[derive(Debug)]
pub struct Compiled {
    /// The file that was compiled.
    pub root: FileId,
    /// Whether it has no vessel but only what other files use.
    pub is_library: bool,
    /// Ordered by place, without repetitions.
    pub findings: Vec<Finding>,
    /// What the recipe accepts, ordered as the findings.
    pub accepted: Vec<Accepted>,
    /// The resolved recipe.
    pub recipe: Option<Recipe>,
    /// Its geometry.
    pub vessel: Option<Vessel>,
    /// Its plan.
    pub plan: Option<Plan>,
    /// How every figure was computed.
    pub ledger: Ledger,
}

/// A design that may be built: no finding stands in its way. Only this leads to a document.
#[derive(Debug, Clone, Copy)]
pub struct Complete<'a> {
    /// The resolved recipe.
    pub recipe: &'a Recipe,
    /// Its geometry.
    pub vessel: &'a Vessel,
    /// Its plan.
    pub plan: &'a Plan,
    /// How every figure was computed.
    pub ledger: &'a Ledger,
    /// Warnings and notes.
    pub findings: &'a [Finding],
    /// What the recipe accepts.
    pub accepted: &'a [Accepted],
}

/// What is asked of a compilation from outside the recipe.
#[derive(Debug, Clone, Default)]
pub struct Options<'a> {
    /// What they say of the weight of findings wins over what the recipe says.
    pub levels: Levels,
    /// What they ask of the plan.
    pub asked: Asked<'a>,
}

impl From<Levels> for Options<'_> {
    fn from(levels: Levels) -> Self {
        Self { levels, ..Self::default() }
    }
}

/// Compiles the file `root` of `world`.
#[must_use]
pub fn compile(world: &dyn World, root: FileId) -> Compiled {
    compile_with(world, root, &Options::default())
}

/// Goes as far as the geometry, which takes a fraction of the time: no plan is made and nothing is looked for in one.
/// Its findings are among those of [`compile`], but for what an `accept` or a `severity` of the whole changes.
#[must_use]
pub fn glance(world: &dyn World, root: FileId) -> Compiled {
    glance_after(world, root, &Trees::default())
}

/// The same, where `trees` are those of its files as they were before: what has not changed is not read again.
#[must_use]
pub fn glance_after(world: &dyn World, root: FileId, trees: &Trees) -> Compiled {
    go(world, root, trees, &Options::default(), Depth::Geometry)
}

/// Compiles the file `root` of `world` as `options` say.
#[must_use]
pub fn compile_with(world: &dyn World, root: FileId, options: &Options<'_>) -> Compiled {
    go(world, root, &Trees::default(), options, Depth::Plan)
}

/// How far the way is gone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Depth {
    Geometry,
    Plan,
}

fn go(world: &dyn World, root: FileId, trees: &Trees, options: &Options<'_>, depth: Depth) -> Compiled {
    let mut ledger = Ledger::new();
    let resolved = resolve::resolve_with(world, root, trees);
    let mut findings = resolved.findings;
    ledger.reserve(resolved.recipe.as_ref().map_or(0, |recipe| recipe.layers().count() * FIGURES_OF_A_LAYER));
    let vessel = resolved.recipe.as_ref().and_then(|recipe| {
        let built = geometry::build(recipe, &mut ledger);
        findings.extend(built.findings);
        built.value
    });
    let is_planned = |_: &(&Recipe, &Vessel)| depth == Depth::Plan;
    let plan = resolved.recipe.as_ref().zip(vessel.as_ref()).filter(is_planned).map(|(recipe, vessel)| {
        let planned = plan::plan(recipe, vessel, options.asked, &mut ledger);
        findings.extend(planned.findings);
        planned.value
    });
    if let (Some(recipe), Some(vessel), Some(plan)) = (&resolved.recipe, &vessel, &plan) {
        findings.extend(checks::check(recipe, vessel, plan));
    }
    behind_the_mark(&mut findings, world);
    let policy = Policy { levels: options.levels.clone().or(resolved.policy.levels), ..resolved.policy };
    let (findings, accepted) = weighed(&policy, findings, plan.is_some());
    Compiled {
        root,
        is_library: resolved.is_library,
        findings,
        accepted,
        recipe: resolved.recipe,
        vessel,
        plan,
        ledger,
    }
}

/// What is told and what is accepted. Whether an `accept` is idle is known only once nothing keeps a phase from finding all.
fn weighed(policy: &Policy, findings: Vec<Finding>, is_planned: bool) -> (Vec<Finding>, Vec<Accepted>) {
    let applied = policy.apply(findings);
    let mut told = applied.told;
    if is_planned && !has_errors(&told) {
        told.extend(policy.unused(&applied.idle));
    }
    sort_and_dedupe(&mut told);
    (told, applied.accepted)
}

fn has_errors(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity() == Severity::Error)
}

/// An edit at the start of a file goes behind its byte order mark, which is none of the text.
fn behind_the_mark(findings: &mut [Finding], world: &dyn World) {
    for edit in findings.iter_mut().filter_map(|finding| finding.fix.as_mut()).flat_map(|fix| &mut fix.edits) {
        if edit.span.start < MARK_BYTES && world.file(edit.span.file).text.starts_with(MARK) {
            edit.span.start = MARK_BYTES;
            edit.span.end = edit.span.end.max(MARK_BYTES);
        }
    }
}

impl Compiled {
    /// The design, when nothing in it is an error.
    #[must_use]
    pub fn complete(&self) -> Option<Complete<'_>> {
        if self.has_errors() {
            return None;
        }
        Some(Complete {
            recipe: self.recipe.as_ref()?,
            vessel: self.vessel.as_ref()?,
            plan: self.plan.as_ref()?,
            ledger: &self.ledger,
            findings: &self.findings,
            accepted: &self.accepted,
        })
    }

    /// Whether a finding denies the design.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        has_errors(&self.findings)
    }
}
