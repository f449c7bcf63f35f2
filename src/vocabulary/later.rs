//! Words of the language's plan that this version does not understand yet: named, never guessed at.

/// One such word.
#[derive(Debug, PartialEq, Eq)]
pub struct Later {
    /// As written.
    pub word: &'static str,
    /// What it will say.
    pub meaning: &'static str,
    /// What can be done today instead, as a sentence; empty when there is nothing.
    pub instead: &'static str,
}

const fn later(word: &'static str, meaning: &'static str, instead: &'static str) -> Later {
    Later { word, meaning, instead }
}

/// Nothing is planned there.
pub(super) static NONE: &[Later] = &[];

/// At file level.
pub(super) static FILE: &[Later] = &[
    later("chart", "a motif drawn row by row", "write one `ring [ … ]` for each row"),
    later("board", "a laminated board", ""),
];

/// In a vessel.
pub(super) static VESSEL: &[Later] = &[
    later("holds", "what the vessel is for", ""),
    later("accept", "that a finding is known and accepted", ""),
    later("chart", "a motif drawn row by row", "write one `ring [ … ]` for each row"),
    later("board", "a laminated board", ""),
];

/// Among layers.
pub(super) static LAYERS: &[Later] = &[
    later("wedges", "a round of segments that meet in the middle", "use `disc`"),
    later("staves", "upright staves", ""),
    later("cone", "rings sawn at an angle from one flat board", ""),
    later("sheet", "a thin contrasting layer", "use `disc` or a thin `ring`"),
    later("rings", "one ring for each row of a chart", "write one `ring [ … ]` for each row"),
    later("fill", "as many rings as a height takes", "use `repeat N { … }`"),
];

/// Behind a layer's head or as part of its pattern.
pub static CLAUSES: &[Later] = &[
    later("spacer", "strips between the segments", ""),
    later("gap", "open segments", ""),
    later("share", "unequal segments", "repeat a wood with `*`, as in `[maple*2 walnut]`"),
    later("scatter", "a repeatable random ring", "write the woods out in a list"),
    later("apart", "like neighbors kept from touching", ""),
    later("seed", "the number that repeats a random ring", ""),
    later("turn", "rows turned into a spiral", "use `stagger`"),
];
