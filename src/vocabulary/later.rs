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
pub(super) static FILE: &[Later] = NONE;

/// In a vessel.
pub(super) static VESSEL: &[Later] = &[later("accept", "that a finding is known and accepted", "")];

/// Among layers.
pub(super) static LAYERS: &[Later] = NONE;

/// Behind a layer's head or as part of its pattern.
pub static CLAUSES: &[Later] = NONE;
