//! What is agreed on at the start: how columns are counted, what the editor can show, what the server can do.

use std::path::PathBuf;

use gen_lsp_types as lsp;

use crate::source::Columns;

use super::outlined::legend;
use super::uri;

/// What the editor said of itself.
#[derive(Debug, Clone)]
#[allow(clippy::struct_excessive_bools, reason = "each is a capability of its own")]
pub(super) struct Client {
    pub(super) columns: Columns,
    /// The folders it works in.
    pub(super) folders: Vec<PathBuf>,
    /// Whether a diagnostic may point to further places.
    pub(super) has_related: bool,
    /// Whether it tells of changed files when asked to.
    pub(super) can_watch: bool,
}

impl Client {
    pub(super) fn new(params: &lsp::InitializeParams) -> Self {
        let capabilities = &params.capabilities;
        let offered = capabilities.general.as_ref().and_then(|general| general.position_encodings.as_ref());
        let offers = |kind: &lsp::PositionEncodingKind| offered.is_some_and(|offered| offered.contains(kind));
        let columns = if offers(&lsp::PositionEncodingKind::UTF8) { Columns::Bytes } else { Columns::Utf16 };
        let text = capabilities.text_document.as_ref();
        let published = text.and_then(|text| text.publish_diagnostics.as_ref());
        let has_related = published.and_then(|it| it.diagnostics_capabilities.related_information);
        let watching = capabilities.workspace.as_ref().and_then(|it| it.did_change_watched_files.as_ref());
        let can_watch = watching.and_then(|it| it.dynamic_registration);
        Self {
            columns,
            folders: folders(params),
            has_related: has_related.unwrap_or(false),
            can_watch: can_watch.unwrap_or(false),
        }
    }
}

/// The folders of the workspace; of an editor that knows only one, its root.
#[allow(deprecated, reason = "older editors say nothing else")]
fn folders(params: &lsp::InitializeParams) -> Vec<PathBuf> {
    match &params.workspace_folders_initialize_params.workspace_folders {
        Some(lsp::WorkspaceFolders::WorkspaceFolderList(folders)) => {
            folders.iter().map(|folder| uri::path(&folder.uri.0)).collect()
        }
        Some(lsp::WorkspaceFolders::Null) | None => {
            params.root_uri.iter().filter(|root| !root.0.is_empty()).map(|root| uri::path(&root.0)).collect()
        }
    }
}

/// What the server can do.
pub(super) fn capabilities(client: &Client) -> lsp::ServerCapabilities {
    let encoding = match client.columns {
        Columns::Bytes => lsp::PositionEncodingKind::UTF8,
        Columns::Utf16 => lsp::PositionEncodingKind::UTF16,
        Columns::Characters => lsp::PositionEncodingKind::UTF32,
    };
    lsp::ServerCapabilities {
        position_encoding: Some(encoding),
        text_document_sync: Some(lsp::TextDocumentSync::Options(lsp::TextDocumentSyncOptions {
            open_close: Some(true),
            change: Some(lsp::TextDocumentSyncKind::Incremental),
            save: Some(lsp::Save::Bool(true)),
            ..lsp::TextDocumentSyncOptions::default()
        })),
        workspace: Some(lsp::WorkspaceOptions {
            workspace_folders: Some(lsp::WorkspaceFoldersServerCapabilities {
                supported: Some(true),
                change_notifications: Some(lsp::ChangeNotifications::Bool(true)),
            }),
            ..lsp::WorkspaceOptions::default()
        }),
        completion_provider: Some(lsp::CompletionOptions {
            trigger_characters: Some([" ", "[", "(", "=", "/"].map(str::to_owned).to_vec()),
            ..lsp::CompletionOptions::default()
        }),
        hover_provider: Some(lsp::HoverProvider::Bool(true)),
        signature_help_provider: Some(lsp::SignatureHelpOptions {
            trigger_characters: Some(vec![" ".to_owned()]),
            ..lsp::SignatureHelpOptions::default()
        }),
        definition_provider: Some(lsp::DefinitionProvider::Bool(true)),
        references_provider: Some(lsp::ReferencesProvider::Bool(true)),
        document_highlight_provider: Some(lsp::DocumentHighlightProvider::Bool(true)),
        document_symbol_provider: Some(lsp::DocumentSymbolProvider::Bool(true)),
        code_action_provider: Some(lsp::CodeActionProvider::CodeActionOptions(lsp::CodeActionOptions {
            code_action_kinds: Some(vec![lsp::CodeActionKind::QuickFix, lsp::CodeActionKind::SourceFixAll]),
            ..lsp::CodeActionOptions::default()
        })),
        rename_provider: Some(lsp::RenameProvider::RenameOptions(lsp::RenameOptions {
            prepare_provider: Some(true),
            ..lsp::RenameOptions::default()
        })),
        document_formatting_provider: Some(lsp::DocumentFormattingProvider::Bool(true)),
        document_range_formatting_provider: Some(lsp::DocumentRangeFormattingProvider::Bool(true)),
        folding_range_provider: Some(lsp::FoldingRangeProvider::Bool(true)),
        color_provider: Some(lsp::ColorProvider::Bool(true)),
        inlay_hint_provider: Some(lsp::InlayHintProvider::Bool(true)),
        semantic_tokens_provider: Some(lsp::SemanticTokensProvider::SemanticTokensOptions(
            lsp::SemanticTokensOptions {
                legend: legend(),
                range: Some(lsp::SemanticTokensOptionsRange::Bool(true)),
                full: Some(lsp::Full::Bool(true)),
                ..lsp::SemanticTokensOptions::default()
            },
        )),
        ..lsp::ServerCapabilities::default()
    }
}
