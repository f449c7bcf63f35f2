//! What an editor shows of a whole text: its outline, folds, colors of words and woods, numbers behind lines.

use std::ops::Range;

use gen_lsp_types as lsp;

use crate::lookup::symbols::{Symbol, SymbolKind};
use crate::lookup::tokens::TokenKind;
use crate::lookup::{colors as woods, folding, numbers, symbols as outline, tokens as words};
use crate::source::{LineIndex, Span};

use super::asked::Known;
use super::document::{Text, to_u32};

pub(super) fn symbols(known: &Known<'_>) -> Vec<lsp::DocumentSymbol> {
    let symbols = outline::of(&known.project.root());
    symbols.into_iter().map(|symbol| document_symbol(symbol, &known.document.text)).collect()
}

fn document_symbol(symbol: Symbol, text: &Text) -> lsp::DocumentSymbol {
    let kind = match symbol.kind {
        SymbolKind::Vessel => lsp::SymbolKind::Class,
        SymbolKind::Group => lsp::SymbolKind::Namespace,
        SymbolKind::Layer => lsp::SymbolKind::Object,
        SymbolKind::Value => lsp::SymbolKind::Variable,
        SymbolKind::Named => lsp::SymbolKind::Struct,
        SymbolKind::Setting => lsp::SymbolKind::Property,
    };
    let children: Vec<_> = symbol.children.into_iter().map(|child| document_symbol(child, text)).collect();
    let (range, own) = (text.range(symbol.span.to(symbol.name_span)), text.range(symbol.name_span));
    lsp::DocumentSymbol::new(
        symbol.name,
        None,
        kind,
        None,
        None,
        range,
        own,
        (!children.is_empty()).then_some(children),
    )
}

pub(super) fn folds(known: &Known<'_>) -> Vec<lsp::FoldingRange> {
    let reading = known.project.root();
    let folds = folding::of(&reading.tree, &LineIndex::of_editors(&known.document.text.whole));
    let range = |fold: folding::Fold| lsp::FoldingRange {
        start_line: to_u32(fold.first),
        end_line: to_u32(fold.last),
        kind: Some(if fold.is_comment { lsp::FoldingRangeKind::Comment } else { lsp::FoldingRangeKind::Region }),
        ..lsp::FoldingRange::default()
    };
    folds.into_iter().map(range).collect()
}

/// The kinds of token, in the order in which their numbers count.
const KINDS: [(TokenKind, &str); 11] = [
    (TokenKind::Keyword, "keyword"),
    (TokenKind::Property, "property"),
    (TokenKind::Choice, "enumMember"),
    (TokenKind::Wood, "type"),
    (TokenKind::Value, "variable"),
    (TokenKind::Name, "class"),
    (TokenKind::Constant, "macro"),
    (TokenKind::Function, "function"),
    (TokenKind::Number, "number"),
    (TokenKind::Text, "string"),
    (TokenKind::Comment, "comment"),
];

pub(super) fn legend() -> lsp::SemanticTokensLegend {
    lsp::SemanticTokensLegend {
        token_types: KINDS.iter().map(|(_, name)| (*name).to_owned()).collect(),
        token_modifiers: vec!["definition".to_owned()],
    }
}

pub(super) fn tokens(known: &Known<'_>, range: Option<&Range<usize>>) -> lsp::SemanticTokens {
    let text = &known.document.text;
    let is_wanted =
        |span: Span| range.is_none_or(|range| span.range().start < range.end && range.start < span.range().end);
    let mut last = lsp::Position { line: 0, character: 0 };
    let mut data = Vec::new();
    for token in words::of(&known.project.root()).into_iter().filter(|token| is_wanted(token.span)) {
        let (at, length) = (text.position(token.span.start), text.width(token.span));
        if length == 0 {
            continue;
        }
        let is_same_line = at.line == last.line;
        data.push(lsp::SemanticToken {
            delta_line: at.line - last.line,
            delta_start: if is_same_line { at.character - last.character } else { at.character },
            length,
            token_type: to_u32(KINDS.iter().position(|(kind, _)| *kind == token.kind).unwrap_or(0)),
            token_modifiers_bitset: u32::from(token.is_definition),
        });
        last = at;
    }
    lsp::SemanticTokens { result_id: None, data }
}

pub(super) fn hints(known: &Known<'_>, range: Range<usize>) -> Vec<lsp::InlayHint> {
    let (Some(recipe), Some(vessel)) = (&known.seen.compiled.recipe, &known.seen.compiled.vessel) else {
        return Vec::new();
    };
    let is_wanted =
        |at: Span| at.file == known.seen.root && range.start <= at.range().end && at.range().end <= range.end;
    let hints = numbers::hints(recipe, vessel).into_iter().filter(|hint| is_wanted(hint.at));
    let hint = |hint: numbers::Hint| lsp::InlayHint {
        position: known.document.text.position(hint.at.end),
        label: lsp::Label::String(hint.text),
        kind: None,
        text_edits: None,
        tooltip: None,
        padding_left: Some(true),
        padding_right: None,
        data: None,
    };
    hints.map(hint).collect()
}

pub(super) fn colors(known: &Known<'_>) -> Vec<lsp::ColorInformation> {
    let share = |part: u8| f32::from(part) / 255.0;
    let color = |(span, [red, green, blue]): (Span, woods::Color)| lsp::ColorInformation {
        range: known.document.text.range(span),
        color: lsp::Color { red: share(red), green: share(green), blue: share(blue), alpha: 1.0 },
    };
    woods::of(&known.project, known.seen.root).into_iter().map(color).collect()
}

/// A wood's color is shown, not chosen: it is called by the name that stands there.
pub(super) fn color_names(known: &Known<'_>, range: Range<usize>) -> Vec<lsp::ColorPresentation> {
    let name = known.document.text.whole.get(range).unwrap_or("").to_owned();
    vec![lsp::ColorPresentation { label: name, text_edit: None, additional_text_edits: None }]
}
