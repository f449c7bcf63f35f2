//! Code actions: the fixes that findings carry, and all safe ones at once.

use std::collections::{BTreeMap, HashMap};
use std::path::PathBuf;

use gen_lsp_types as lsp;

use crate::finding::policy::Levels;
use crate::finding::{Edit, Finding, Grade};
use crate::mend::{FileKey, Recipe, Wanted, fitted, mend};
use crate::source::FileId;

use super::asked::Known;
use super::diagnose::Places;
use super::setup::Client;

pub(super) fn actions(
    known: &Known<'_>,
    params: &lsp::CodeActionParams,
    client: &Client,
    uris: &BTreeMap<PathBuf, String>,
) -> Vec<lsp::CodeAction> {
    let wants = |kind: &lsp::CodeActionKind| params.context.only.as_ref().is_none_or(|only| only.contains(kind));
    let mut places = Places::new(&*known.seen.world, client, uris);
    let mut actions = Vec::new();
    if wants(&lsp::CodeActionKind::QuickFix) {
        let range = known.document.text.bytes(params.range);
        let touches = |finding: &&Finding| {
            let span = finding.place.span;
            span.file == known.seen.root && span.range().start <= range.end && range.start <= span.range().end
        };
        let findings = known.seen.compiled.findings.iter().filter(touches);
        actions.extend(findings.filter_map(|finding| quick_fix(known, finding, &mut places)));
    }
    // It takes many trials, so it is made only when it is asked for by its name.
    let is_named = |only: &Vec<lsp::CodeActionKind>| {
        only.iter().any(|kind| matches!(kind, lsp::CodeActionKind::SourceFixAll | lsp::CodeActionKind::Source))
    };
    if params.context.only.as_ref().is_some_and(is_named) {
        actions.extend(fix_all(known));
    }
    actions
}

fn quick_fix(known: &Known<'_>, finding: &Finding, places: &mut Places<'_>) -> Option<lsp::CodeAction> {
    let fix = finding.fix.as_ref()?;
    let edits = fitted(fix, &*known.seen.world)?;
    let (_, diagnostic) = places.diagnostic(finding);
    Some(lsp::CodeAction {
        title: fix.title.clone(),
        kind: Some(lsp::CodeActionKind::QuickFix),
        diagnostics: Some(vec![diagnostic]),
        is_preferred: Some(fix.grade == Grade::Safe),
        edit: Some(workspace_edit(&edits, places)),
        ..lsp::CodeAction::default()
    })
}

/// Every fix that leaves the design as it is, in this text alone.
fn fix_all(known: &Known<'_>) -> Option<lsp::CodeAction> {
    let levels = Levels::default();
    let own = |file: FileId| (file == known.seen.root).then_some(FileKey(0));
    let recipe = Recipe { world: &*known.seen.world, root: known.seen.root, levels: &levels, key: &own };
    let mended = mend(&[recipe], Wanted::Safe);
    let file = mended.files.get(&FileKey(0))?;
    let text = &known.document.text;
    let end = text.position(u32::try_from(text.whole.len()).unwrap_or(u32::MAX));
    let range = lsp::Range { start: lsp::Position { line: 0, character: 0 }, end };
    let edit = lsp::TextEdit { range, new_text: file.after.to_string() };
    let changes = HashMap::from([(lsp::Uri(known.document.uri.clone()), vec![edit])]);
    Some(lsp::CodeAction {
        title: format!("mend what leaves the design as it is ({})", mended.done.len()),
        kind: Some(lsp::CodeActionKind::SourceFixAll),
        edit: Some(lsp::WorkspaceEdit { changes: Some(changes), ..lsp::WorkspaceEdit::default() }),
        ..lsp::CodeAction::default()
    })
}

/// Edits by file, as the editor makes them.
pub(super) fn workspace_edit(edits: &[Edit], places: &mut Places<'_>) -> lsp::WorkspaceEdit {
    let mut changes: HashMap<lsp::Uri, Vec<lsp::TextEdit>> = HashMap::new();
    for edit in edits {
        let lsp::Location { uri, range } = places.location(edit.span);
        changes.entry(uri).or_default().push(lsp::TextEdit { range, new_text: edit.text.clone() });
    }
    lsp::WorkspaceEdit { changes: Some(changes), ..lsp::WorkspaceEdit::default() }
}
