//! What a file is made of, for its outline: statements within statements.

use crate::source::Span;
use crate::vocabulary::{BlockKind, HeadId};

use super::reading::{Line, Reading};

/// One entry of the outline.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Symbol {
    /// `ring [maple*2 walnut]`
    pub name: String,
    /// What it is of.
    pub kind: SymbolKind,
    /// The statement.
    pub span: Span,
    /// Its head and what it is called.
    pub name_span: Span,
    /// What its braces hold.
    pub children: Vec<Symbol>,
}

/// What an entry is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SymbolKind {
    /// The vessel.
    Vessel,
    /// Something with braces: a body, a shop, an insert.
    Group,
    /// A layer.
    Layer,
    /// A named value.
    Value,
    /// A wood, a board, a chart.
    Named,
    /// A setting.
    Setting,
}

/// The outline of a file.
#[must_use]
pub fn of(reading: &Reading) -> Vec<Symbol> {
    children(reading, &mut reading.lines.iter().peekable(), 0)
}

fn children<'l>(
    reading: &Reading,
    lines: &mut std::iter::Peekable<impl Iterator<Item = &'l Line>>,
    depth: usize,
) -> Vec<Symbol> {
    let mut symbols = Vec::new();
    while let Some(line) = lines.next_if(|line| line.depth >= depth) {
        let children = children(reading, lines, line.depth + 1);
        let name_span = line.arguments.map_or(line.head_span, |arguments| line.head_span.to(arguments));
        // An entry stands on one line.
        let name = reading.tree.text(name_span).split_whitespace().collect::<Vec<_>>().join(" ");
        symbols.push(Symbol { name, kind: kind_of(line), span: line.span, name_span, children });
    }
    symbols
}

fn kind_of(line: &Line) -> SymbolKind {
    #[allow(clippy::wildcard_enum_match_arm, reason = "all others are told apart by their braces")]
    match line.head.id {
        HeadId::Vessel => SymbolKind::Vessel,
        HeadId::Let => SymbolKind::Value,
        HeadId::Chart | HeadId::Board => SymbolKind::Named,
        HeadId::Wood if line.depth == 0 => SymbolKind::Named,
        HeadId::Ring
        | HeadId::Disc
        | HeadId::Wedges
        | HeadId::Staves
        | HeadId::Sheet
        | HeadId::Cone
        | HeadId::Rings => SymbolKind::Layer,
        _ if matches!(line.head.block, BlockKind::None | BlockKind::Clauses) => SymbolKind::Setting,
        _ => SymbolKind::Group,
    }
}
