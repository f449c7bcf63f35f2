//! Which request is answered by whom.

use std::io::Write;
use std::path::PathBuf;

use gen_lsp_types as lsp;
use lsp_server::ErrorCode;
use serde::Deserialize;
use serde_json::Value;

use crate::lookup::names::Project;

use super::session::{Document, Refused, Session, read, written};
use super::worker::{Haste, Seen};
use super::{explained, layout, mending, outlined, uri};

/// A text with what is known of it.
pub(super) struct Known<'a> {
    pub(super) document: &'a Document,
    pub(super) seen: &'a Seen,
    pub(super) project: Project<'a>,
}

/// A request about a whole text.
#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct OfText {
    text_document: lsp::TextDocumentIdentifier,
}

/// A request about a stretch of a text.
#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct OfRange {
    text_document: lsp::TextDocumentIdentifier,
    range: lsp::Range,
}

impl<W: Write> Session<'_, W> {
    /// Answers a request of an editor that has introduced itself.
    pub(super) fn answer(&mut self, method: &str, params: Value) -> Result<Value, Refused> {
        match method {
            "textDocument/hover" => self.at_place(params, explained::hover),
            "textDocument/completion" => self.at_place(params, explained::completion),
            "textDocument/signatureHelp" => self.at_place(params, explained::signature),
            "textDocument/definition" => self.definition(params),
            "textDocument/references" => self.references(params),
            "textDocument/documentHighlight" => self.highlights(params),
            "textDocument/prepareRename" => self.prepare_rename(params),
            "textDocument/rename" => self.rename(params),
            "textDocument/documentSymbol" => self.of_text(params, outlined::symbols),
            "textDocument/foldingRange" => self.of_text(params, outlined::folds),
            "textDocument/semanticTokens/full" => self.of_text(params, |known| outlined::tokens(known, None)),
            "textDocument/semanticTokens/range" => {
                self.of_range(params, |known, range| outlined::tokens(known, Some(&range)))
            }
            "textDocument/inlayHint" => self.of_range(params, outlined::hints),
            "textDocument/documentColor" => self.of_text(params, outlined::colors),
            "textDocument/colorPresentation" => self.of_range(params, outlined::color_names),
            "textDocument/codeAction" => self.code_actions(params),
            "textDocument/formatting" => self.of_text(params, layout::of_text),
            "textDocument/rangeFormatting" => self.of_range(params, layout::of_range),
            _ => Err(Refused::new(ErrorCode::MethodNotFound, format!("`{method}` is not known here"))),
        }
    }

    /// The path of a text that is open, looked at as it is now.
    pub(super) fn open_path(&mut self, id: &lsp::TextDocumentIdentifier, haste: Haste) -> Result<PathBuf, Refused> {
        let path = self.disk.without_links(&uri::path(&id.uri.0));
        let Some(document) = self.documents.get(&path) else {
            return Err(Refused::new(ErrorCode::InvalidParams, format!("`{}` is not open", id.uri.0)));
        };
        let is_enough = |seen: &Seen| seen.is_whole || haste == Haste::Typing;
        if !document.seen.as_ref().is_some_and(is_enough) {
            let looked = self.look(&path, haste);
            if let (Some(looked), Some(document)) = (looked, self.documents.get_mut(&path)) {
                document.seen = Some(looked.seen);
            }
        }
        Ok(path)
    }

    pub(super) fn known(&self, path: &PathBuf) -> Result<Known<'_>, Refused> {
        let document = self.documents.get(path);
        let seen = document.and_then(|document| document.seen.as_ref());
        match (document, seen) {
            (Some(document), Some(seen)) => {
                Ok(Known { document, seen, project: Project::new(&*seen.world, seen.root) })
            }
            _ => Err(Refused::new(ErrorCode::RequestFailed, "this text cannot be read")),
        }
    }

    fn at_place<T: serde::Serialize>(
        &mut self,
        params: Value,
        answer: impl FnOnce(&Known<'_>, u32) -> T,
    ) -> Result<Value, Refused> {
        let params: lsp::TextDocumentPositionParams = read(params)?;
        let path = self.open_path(&params.text_document, Haste::Typing)?;
        let known = self.known(&path)?;
        written(&answer(&known, known.document.text.offset(params.position)))
    }

    fn of_text<T: serde::Serialize>(
        &mut self,
        params: Value,
        answer: impl FnOnce(&Known<'_>) -> T,
    ) -> Result<Value, Refused> {
        let params: OfText = read(params)?;
        let path = self.open_path(&params.text_document, Haste::Typing)?;
        written(&answer(&self.known(&path)?))
    }

    fn of_range<T: serde::Serialize>(
        &mut self,
        params: Value,
        answer: impl FnOnce(&Known<'_>, std::ops::Range<usize>) -> T,
    ) -> Result<Value, Refused> {
        let params: OfRange = read(params)?;
        let path = self.open_path(&params.text_document, Haste::Typing)?;
        let known = self.known(&path)?;
        let range = known.document.text.bytes(params.range);
        written(&answer(&known, range))
    }

    fn code_actions(&mut self, params: Value) -> Result<Value, Refused> {
        let params: lsp::CodeActionParams = read(params)?;
        // What is mended must be what is wrong now, plans and all.
        let path = self.open_path(&params.text_document, Haste::None)?;
        let Some(client) = &self.client else { return Ok(Value::Null) };
        written(&mending::actions(&self.known(&path)?, &params, client, &self.uris))
    }
}
