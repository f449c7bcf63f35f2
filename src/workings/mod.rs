//! Where every figure comes from, recorded by the computation itself so that it cannot disagree.
//!
//! A [`Known`] value carries its [`Origin`]: written in the recipe, set by an `every`, set in the
//! shop, a stated default, a table row with its source, or a figure computed from others. A
//! computed one is made by [`Ledger::work`], which calls the formula on the very inputs it records.

use std::ops::Range;

use crate::quantity::{Dimension, Measure};
use crate::source::Span;

/// A figure in the ledger.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FigureId(u32);

impl FigureId {
    /// Its place in the ledger, from 0.
    #[must_use]
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// A row of a table with the source it was read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TableRow {
    /// The table's name: "woods", "glues".
    pub table: &'static str,
    /// The row's key.
    pub row: &'static str,
    /// The source of the value, as the table cites it.
    pub source: &'static str,
}

/// Where a value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Written in the recipe at that place.
    Written(Span),
    /// Set by the nearest `every` before it.
    Every(Span),
    /// Set in a `shop` block.
    Shop(Span),
    /// Nobody said: the language's stated default, with the reason in words; behind a thin pointer,
    /// so that an origin is 16 bytes.
    Default(&'static &'static str),
    /// Measured on the work, in a `made` block.
    Made(Span),
    /// From a table; by reference, so that an origin stays small: there are tens for every layer.
    Table(&'static TableRow),
    /// Computed.
    Figure(FigureId),
}

impl Origin {
    /// The place in a text, when it has one.
    #[must_use]
    pub fn span(self) -> Option<Span> {
        match self {
            Self::Written(span) | Self::Every(span) | Self::Shop(span) | Self::Made(span) => Some(span),
            Self::Default(_) | Self::Table(_) | Self::Figure(_) => None,
        }
    }
}

/// A value and where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub origin: Origin,
}

impl<T> Known<T> {
    /// `value`, coming from `origin`.
    pub const fn new(value: T, origin: Origin) -> Self {
        Self { value, origin }
    }

    /// The same origin with another value.
    pub fn map<U>(self, with: impl FnOnce(T) -> U) -> Known<U> {
        Known { value: with(self.value), origin: self.origin }
    }
}

/// A formula of the trade, in words. The function it goes with is called by [`Ledger::work`].
#[derive(Debug, PartialEq, Eq)]
pub struct Formula {
    /// What it gives: "strip width".
    pub gives: &'static str,
    /// How, in words a turner can check with a calculator.
    pub words: &'static str,
    /// The names of its inputs, in order; a sum over any number of parts has one name for all.
    pub inputs: &'static [&'static str],
}

/// One recorded input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Input {
    /// In the base unit of its dimension.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
    /// Where it came from.
    pub origin: Origin,
}

/// One computed figure.
#[derive(Debug, Clone)]
pub struct Figure {
    /// By which formula.
    pub formula: &'static Formula,
    /// What came out, in the base unit of its dimension.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
    inputs: Range<u32>,
}

/// All computed figures of one compilation, in the order in which they were computed.
#[derive(Debug, Clone, Default)]
pub struct Ledger {
    figures: Vec<Figure>,
    inputs: Vec<Input>,
}

impl Ledger {
    /// An empty ledger.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Makes room for so many more figures.
    pub fn reserve(&mut self, figures: usize) {
        self.figures.reserve(figures);
        self.inputs.reserve(figures.saturating_mul(3));
    }

    /// Computes `formula` by calling `compute` on the values of `inputs`, and records it.
    pub fn work<I: Inputs, T: Measure>(
        &mut self,
        formula: &'static Formula,
        inputs: I,
        compute: impl FnOnce(I::Values) -> T,
    ) -> Known<T> {
        let first = to_u32(self.inputs.len());
        inputs.record(&mut self.inputs);
        let last = to_u32(self.inputs.len());
        debug_assert_eq!(to_u32(formula.inputs.len()), last - first, "{}: inputs and names", formula.gives);
        let value = compute(inputs.values());
        let id = FigureId(to_u32(self.figures.len()));
        self.figures.push(Figure { formula, value: value.base(), dimension: T::DIMENSION, inputs: first..last });
        Known::new(value, Origin::Figure(id))
    }

    /// Adds up `parts` under `formula`, which has one name for them all, and records the sum.
    pub fn total<T: Measure + std::iter::Sum>(&mut self, formula: &'static Formula, parts: &[Known<T>]) -> Known<T> {
        let first = to_u32(self.inputs.len());
        let recorded =
            |part: &Known<T>| Input { value: part.value.base(), dimension: T::DIMENSION, origin: part.origin };
        self.inputs.extend(parts.iter().map(recorded));
        let last = to_u32(self.inputs.len());
        let value: T = parts.iter().map(|part| part.value).sum();
        let id = FigureId(to_u32(self.figures.len()));
        self.figures.push(Figure { formula, value: value.base(), dimension: T::DIMENSION, inputs: first..last });
        Known::new(value, Origin::Figure(id))
    }

    /// The figure with that id.
    #[must_use]
    pub fn figure(&self, id: FigureId) -> Option<&Figure> {
        self.figures.get(id.0 as usize)
    }

    /// Every figure with its id, in the order in which they were computed.
    pub fn figures(&self) -> impl Iterator<Item = (FigureId, &Figure)> {
        self.figures.iter().enumerate().map(|(at, figure)| (FigureId(to_u32(at)), figure))
    }

    /// What a figure was made of: name, value and origin of each input.
    pub fn inputs_of(&self, id: FigureId) -> impl Iterator<Item = (&'static str, &Input)> {
        let figure = self.figure(id);
        let range = figure.map_or(0..0, |figure| figure.inputs.start as usize..figure.inputs.end as usize);
        let names = figure.map_or(&[][..], |figure| figure.formula.inputs);
        let last = names.last().copied().unwrap_or_default();
        names.iter().copied().chain(std::iter::repeat(last)).zip(&self.inputs[range])
    }

    /// How many figures stand in it.
    #[must_use]
    pub fn len(&self) -> usize {
        self.figures.len()
    }

    /// Whether nothing was computed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.figures.is_empty()
    }
}

fn to_u32(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// A tuple of known values that a formula takes.
pub trait Inputs: Copy {
    /// The bare values, as the formula's function wants them.
    type Values;

    /// The values without their origins.
    fn values(self) -> Self::Values;

    /// Appends each with its origin.
    fn record(self, to: &mut Vec<Input>);
}

macro_rules! inputs {
    ($($name:ident $index:tt),+) => {
        impl<$($name: Measure),+> Inputs for ($(Known<$name>,)+) {
            type Values = ($($name,)+);

            fn values(self) -> Self::Values {
                ($(self.$index.value,)+)
            }

            fn record(self, to: &mut Vec<Input>) {
                $(to.push(Input {
                    value: self.$index.value.base(),
                    dimension: $name::DIMENSION,
                    origin: self.$index.origin,
                });)+
            }
        }
    };
}

inputs!(A 0);
inputs!(A 0, B 1);
inputs!(A 0, B 1, C 2);
inputs!(A 0, B 1, C 2, D 3);
inputs!(A 0, B 1, C 2, D 3, E 4);
inputs!(A 0, B 1, C 2, D 3, E 4, F 5);

#[cfg(test)]
mod tests {
    use super::{Formula, Known, Ledger, Origin};
    use crate::quantity::Length;

    static SUM: Formula = Formula { gives: "sum", words: "a + b", inputs: &["a", "b"] };

    #[test]
    fn a_figure_remembers_what_it_was_made_of() {
        let mut ledger = Ledger::new();
        let given = |mm| Known::new(Length::from_mm(mm), Origin::Default(&"for the test"));
        let first = ledger.work(&SUM, (given(1.0), given(2.0)), |(a, b)| a + b);
        let second = ledger.work(&SUM, (first, given(4.0)), |(a, b)| a + b);
        assert!((second.value.mm() - 7.0).abs() < 1e-12);
        let Origin::Figure(id) = second.origin else { panic!("computed") };
        let inputs: Vec<_> = ledger.inputs_of(id).map(|(name, input)| (name, input.value, input.origin)).collect();
        assert_eq!(inputs[0], ("a", 3.0, first.origin));
        assert_eq!(inputs[1], ("b", 4.0, Origin::Default(&"for the test")));
    }

    #[test]
    fn a_total_names_every_part_alike() {
        static ALL: Formula = Formula { gives: "all", words: "added up", inputs: &["part"] };
        let mut ledger = Ledger::new();
        let parts = [1.0, 2.0, 4.0].map(|mm| Known::new(Length::from_mm(mm), Origin::Default(&"for the test")));
        let total = ledger.total(&ALL, &parts);
        let Origin::Figure(id) = total.origin else { panic!("computed") };
        assert!((total.value.mm() - 7.0).abs() < 1e-12);
        let inputs: Vec<_> = ledger.inputs_of(id).map(|(name, input)| (name, input.value)).collect();
        assert_eq!(inputs, [("part", 1.0), ("part", 2.0), ("part", 4.0)]);
        assert_eq!(ledger.figures().map(|(id, _)| id.index()).collect::<Vec<_>>(), [0]);
    }
}
