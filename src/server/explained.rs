//! Hover, completion and signature help.

use std::fmt::Write as _;

use gen_lsp_types as lsp;

use crate::lookup::completion::{Proposal, ProposalKind, proposals};
use crate::lookup::{hover, signature as signatures};
use crate::output::Reasons;
use crate::source::Span;

use super::asked::Known;
use super::document::to_u32;

pub(super) fn hover(known: &Known<'_>, offset: u32) -> Option<lsp::Hover> {
    let seen = known.seen;
    let beside = hover::Known {
        recipe: seen.compiled.recipe.as_ref(),
        vessel: seen.compiled.vessel.as_ref(),
        findings: &seen.compiled.findings,
    };
    let hover::Told { span, mut text, is_of_whole } = hover::at(&known.project, seen.root, offset, beside)?;
    for reason in reasons(known, span, is_of_whole) {
        let _ = write!(text, "\n\n---\n\n```text\n{reason}```");
    }
    Some(lsp::Hover {
        contents: lsp::Contents::MarkupContent(markdown(text)),
        range: Some(known.document.text.range(span)),
    })
}

/// Where the figures come from that are written there, once the plan is made: the trees that `why` prints.
fn reasons(known: &Known<'_>, span: Span, is_of_whole: bool) -> Vec<String> {
    let Some(design) = known.seen.compiled.complete() else { return Vec::new() };
    let reasons = Reasons::of(&design, &*known.seen.world);
    let names = if is_of_whole { reasons.of_whole() } else { reasons.written_at(span) };
    names.iter().filter_map(|name| reasons.tell(name).ok()).collect()
}

pub(super) fn completion(known: &Known<'_>, offset: u32) -> Vec<lsp::CompletionItem> {
    let (word, all) = proposals(&known.project, known.seen.root, offset);
    let text = &known.document.text;
    let range = lsp::Range { start: text.position(to_u32(word.start)), end: text.position(to_u32(word.end)) };
    all.into_iter().map(|proposal| item(proposal, range)).collect()
}

fn item(proposal: Proposal, range: lsp::Range) -> lsp::CompletionItem {
    let (kind, color) = match proposal.kind {
        ProposalKind::Head => (lsp::CompletionItemKind::Keyword, None),
        ProposalKind::Clause => (lsp::CompletionItemKind::Property, None),
        ProposalKind::Choice => (lsp::CompletionItemKind::EnumMember, None),
        // Editors show a swatch where the detail is a color and nothing else.
        ProposalKind::Wood(Some(color)) => (lsp::CompletionItemKind::Color, Some(color)),
        ProposalKind::Wood(None) | ProposalKind::Name => (lsp::CompletionItemKind::Struct, None),
        ProposalKind::Value => (lsp::CompletionItemKind::Variable, None),
        ProposalKind::Material | ProposalKind::Code => (lsp::CompletionItemKind::Constant, None),
        ProposalKind::Function => (lsp::CompletionItemKind::Function, None),
        ProposalKind::Size => (lsp::CompletionItemKind::Unit, None),
    };
    let beside = lsp::CompletionItemLabelDetails { detail: None, description: Some(proposal.detail.clone()) };
    lsp::CompletionItem {
        label_details: color.is_some().then_some(beside),
        kind: Some(kind),
        detail: Some(color.map_or(proposal.detail, ToOwned::to_owned)),
        documentation: (!proposal.help.is_empty()).then(|| lsp::Documentation::MarkupContent(markdown(proposal.help))),
        sort_text: Some(format!("{}{}", proposal.order, proposal.word)),
        text_edit: Some(lsp::CompletionItemTextEdit::TextEdit(lsp::TextEdit {
            range,
            new_text: proposal.word.clone(),
        })),
        label: proposal.word,
        ..lsp::CompletionItem::default()
    }
}

pub(super) fn signature(known: &Known<'_>, offset: u32) -> Option<lsp::SignatureHelp> {
    let signature = signatures::at(&known.document.text.whole, offset)?;
    // Positions in a label are counted in UTF-16 units, whatever else was agreed on.
    let units = |end: usize| to_u32(signature.label.get(..end).unwrap_or("").encode_utf16().count());
    let parameters = signature.arguments.iter().map(|argument| lsp::ParameterInformation {
        label: lsp::ParameterInformationLabel::Tuple((units(argument.start), units(argument.end))),
        documentation: None,
    });
    let parameters = parameters.collect();
    let active = signature.active.map(|active| lsp::ActiveParameter::Int(to_u32(active)));
    Some(lsp::SignatureHelp {
        signatures: vec![lsp::SignatureInformation {
            label: signature.label,
            documentation: Some(lsp::Documentation::MarkupContent(markdown(signature.help))),
            parameters: Some(parameters),
            active_parameter: active,
        }],
        active_signature: Some(0),
        active_parameter: active,
    })
}

fn markdown(value: String) -> lsp::MarkupContent {
    lsp::MarkupContent { kind: lsp::MarkupKind::Markdown, value }
}
