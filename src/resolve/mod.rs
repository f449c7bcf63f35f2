//! Syntax tree to resolved recipe: names bound, `use` followed, every value with a dimension, a
//! place and an origin. Knows no geometry.

mod bench;
mod board;
mod chart;
mod edition;
mod expression;
mod file;
mod fill;
mod findings;
mod fitting_findings;
mod fittings;
mod insert;
mod joint;
mod joint_findings;
mod layer;
mod layer_findings;
mod layers;
mod made;
mod mount;
mod outside;
mod outside_findings;
mod pattern;
mod policy;
mod policy_findings;
mod read;
mod recipe;
mod scatter;
mod scope;
mod settings;
mod shop;
mod split;
mod stock;
mod units;
mod value;
mod vessel;
mod wood;

use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::rc::Rc;

use crate::finding::policy::{Accept, Levels, Policy};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::{Count, Length};
use crate::source::{FileId, Span, World};
use crate::syntax::Trees;
use crate::tables::Glue;
use crate::workings::Known;

pub(crate) use expression::FUNCTIONS;
pub use fittings::{
    Blank, Fit, Fittings, Insert, InsertForm, Joint, JointKind, Lives, MadeDiameter, Mount, Parted, SaidHole, Seat,
    Shown, Thread,
};
pub use recipe::{
    Band, Detail, DetailKind, Expectation, Foot, ForSale, Gap, LaminatedBoard, Layer, LayerKind, LayerLine, Outside,
    OutsideKind, OutsidePath, OutsidePoint, Part, PartKind, Pattern, Plug, Ply, Price, PricePer, Recipe, RecipeGlue,
    RecipeWood, Ring, Set, Shop, SlantRing, Spacer, SpeedLimits, Stagger, Stock, StockBoard, Subject, Use,
};
pub(crate) use split::{Call, split, split_lines};

/// Most woods that a motif may name, counts and groups written out.
pub const MOTIF_LIMIT: usize = limits::LONGEST_MOTIF.get().0 as usize;
/// Fewest and most segments of a ring.
pub const SEGMENTS: std::ops::RangeInclusive<u32> = limits::FEWEST_SEGMENTS.get().0..=limits::MOST_SEGMENTS.get().0;
/// Most turns of all `repeat` and `fill` of a recipe together, and most layers that its charts and cones add.
pub const TURN_LIMIT: u32 = limits::MOST_TURNS.get().0;
/// Most segments of all rings.
const SEGMENT_LIMIT: u32 = limits::MOST_SEGMENTS_OF_ALL.get().0;

/// What resolving a file gave.
#[derive(Debug)]
pub struct Resolved {
    /// The recipe; `None` when something it cannot do without is missing or wrong.
    pub recipe: Option<Recipe>,
    /// Whether the file has no vessel but only what other files use; such a file is complete.
    pub is_library: bool,
    /// All that is to be said.
    pub findings: Vec<Finding>,
    /// How much of it, and of what the later phases find, weighs what; what is accepted of it.
    pub policy: Policy,
}

/// Resolves the file `root` and all it uses.
#[must_use]
pub fn resolve(world: &dyn World, root: FileId) -> Resolved {
    resolve_with(world, root, &Trees::default())
}

/// The same, where `trees` are those of these files as they were before.
#[must_use]
pub fn resolve_with(world: &dyn World, root: FileId, trees: &Trees) -> Resolved {
    let mut resolver = Resolver::new(world, trees);
    let file = resolver.file(root, &mut Vec::new());
    resolver.shop_glue = file.shop.glue();
    // What is told to have too much of something would keep the next phases busy for nothing.
    let recipe = resolver.recipe(&file).filter(|_| resolver.turns <= TURN_LIMIT && resolver.segments <= SEGMENT_LIMIT);
    let is_library = file.vessel.is_none() && file.has_exports;
    if file.vessel.is_none() && !file.has_exports && !file.has_broken {
        resolver.say(findings::vessel_missing(&world.file(root), file.is_empty));
    }
    let levels = std::mem::take(&mut resolver.vessel_levels).or(file.levels.clone());
    let policy = Policy { levels, accepts: std::mem::take(&mut resolver.accepts) };
    Resolved { recipe, is_library, findings: resolver.findings, policy }
}

/// What all steps of resolving share.
struct Resolver<'w> {
    world: &'w dyn World,
    trees: &'w Trees,
    findings: Vec<Finding>,
    said: HashSet<(&'static str, Span, String)>,
    /// Files whose missing `units` have been told, or whose `units` may stand in a broken line.
    units_told: HashSet<FileId>,
    /// Files with a block that is not closed: what stands in it is taken for something else, so
    /// strange and missing words say nothing.
    unclosed: HashSet<FileId>,
    files: BTreeMap<FileId, Rc<file::File>>,
    woods: Vec<RecipeWood>,
    glues: Vec<RecipeGlue>,
    turns: u32,
    /// Of all rings.
    segments: u32,
    /// The names of `woods` that the recipe defines itself.
    own_names: HashSet<String>,
    /// How many cones there are.
    cones: usize,
    /// How tall the body is, once it is read to its end.
    body_height: Option<Length>,
    /// The glue of boards and layers that name none.
    shop_glue: Option<Known<&'static Glue>>,
    /// What the vessel says of the weight of findings.
    vessel_levels: Levels,
    accepts: Vec<Accept>,
    /// The places of `accepts`.
    accepted: BTreeSet<Span>,
}

impl<'w> Resolver<'w> {
    fn new(world: &'w dyn World, trees: &'w Trees) -> Self {
        Self {
            world,
            trees,
            findings: Vec::new(),
            said: HashSet::new(),
            units_told: HashSet::new(),
            unclosed: HashSet::new(),
            files: BTreeMap::new(),
            woods: Vec::new(),
            glues: Vec::new(),
            turns: 0,
            segments: 0,
            own_names: HashSet::new(),
            cones: 0,
            body_height: None,
            shop_glue: None,
            vessel_levels: Levels::default(),
            accepts: Vec::new(),
            accepted: BTreeSet::new(),
        }
    }

    /// Says it, unless a turn of a `repeat` has said it already; missing units once a file.
    fn say(&mut self, finding: Finding) {
        if finding.code == &catalog::UNITS_MISSING && !self.units_told.insert(finding.place.span.file) {
            return;
        }
        let is_of_words = finding.code == &catalog::WORD_UNKNOWN || finding.code == &catalog::WORD_MISSING;
        if is_of_words && self.unclosed.contains(&finding.place.span.file) {
            return;
        }
        if self.said.insert((finding.code.name, finding.place.span, finding.message.clone())) {
            self.findings.push(finding);
        }
    }

    /// The value, or its finding said.
    fn told<T>(&mut self, result: Result<T, Finding>) -> Option<T> {
        match result {
            Ok(value) => Some(value),
            Err(finding) => {
                self.say(finding);
                None
            }
        }
    }

    fn say_all(&mut self, findings: Vec<Finding>) {
        for finding in findings {
            self.say(finding);
        }
    }

    /// Counts one turn of a repeat; `false` when there have been too many.
    fn turn(&mut self, span: Span) -> bool {
        let has_one = self.has_turns(1.0);
        if has_one {
            self.turns += 1;
        } else {
            self.out_of_turns(span);
        }
        has_one
    }

    /// Whether so many more turns can be made.
    fn has_turns(&self, count: f64) -> bool {
        f64::from(self.turns) + count <= f64::from(TURN_LIMIT)
    }

    /// There are too many turns, and there will be none.
    fn out_of_turns(&mut self, span: Span) {
        self.turns = TURN_LIMIT + 1;
        self.say(findings::repeat_too_many(span, TURN_LIMIT));
    }

    /// Counts the segments of one ring; `false` when all rings together have too many.
    fn has_room(&mut self, segments: Known<Count>, span: Span) -> bool {
        self.segments = self.segments.saturating_add(segments.value.0);
        if self.segments > SEGMENT_LIMIT {
            self.say(findings::too_many_segments_of_all(segments.origin.span().unwrap_or(span), SEGMENT_LIMIT));
        }
        self.segments <= SEGMENT_LIMIT
    }

    fn glue_index(&mut self, glue: Known<&'static Glue>) -> Known<usize> {
        glue.map(|glue| {
            let known = self.glues.iter().position(|other| std::ptr::eq(other.glue, glue));
            known.unwrap_or_else(|| {
                self.glues.push(RecipeGlue { glue });
                self.glues.len() - 1
            })
        })
    }
}

#[cfg(test)]
mod tests;
