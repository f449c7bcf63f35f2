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

/// At file level.
pub(super) static FILE: &[Later] =
    &[later("made", "what was measured on the work", "write the measured thickness behind `thick`")];

/// In a vessel.
pub(super) static VESSEL: &[Later] = &[
    later("joint", "how lid and body fit", "leave wood for the joint and fit it at the lathe"),
    later("insert", "a knob, finial, foot or plug", ""),
    later("inside", "an inside curve of its own", "`wall` gives the inside as an offset of the outside"),
    later("holds", "what the vessel is for", ""),
    later("lives", "the humidity it lives in", ""),
    later("parted", "one stack parted into body and lid", "write two stacks, `body` and `lid`"),
    later("accept", "that a finding is known and accepted", ""),
    later("made", "what was measured on the work", "write the measured thickness behind `thick`"),
    later("mount", "how the work is held", ""),
];

/// In an outside.
pub(super) static OUTSIDE: &[Later] = &[
    later("bead", "a rounded molding", "write its points with `at`"),
    later("cove", "a hollow molding", "write its points with `at`"),
    later("foot", "a foot under the base", "write its points with `at`"),
];

/// Among layers.
pub(super) static LAYERS: &[Later] = &[];

/// Behind a layer's head or as part of its pattern.
pub static CLAUSES: &[Later] = &[
    later("round", "a fillet at a point", "write its points with `at`"),
    later("straight", "a single straight span", ""),
    later("smooth", "a single smooth span", ""),
];
