//! One editor's session: its texts, what is known of them, and the order of the work.
//!
//! Messages come first. When there are none, texts that have changed are looked at in haste and their findings are
//! published; when the typing pauses, the recipes that they belong to are looked at as `check` does.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use gen_lsp_types as lsp;
use lsp_server::{ErrorCode, Message, Notification, Request, RequestId, Response};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::compile::{Compiled, compile};
use crate::source::FileId;

use super::diagnose::{Places, Told};
use super::document::Text;
use super::inbox::{Inbox, Next};
use super::setup::{Client, capabilities};
use super::wire::{self, Incoming};
use super::{Buffers, Disk, Ended, Placed, uri};

/// The typing pauses when nothing came for so long.
const PAUSE: Duration = Duration::from_millis(120);

/// A text that the editor holds open.
pub(super) struct Document {
    /// As the editor names it.
    pub(super) uri: String,
    pub(super) version: i32,
    pub(super) text: Text,
    /// What the last look at it gave, of this text.
    pub(super) seen: Option<Seen>,
}

/// A recipe that was looked at.
pub(super) struct Seen {
    pub(super) world: Box<dyn Placed>,
    pub(super) root: FileId,
    pub(super) compiled: Compiled,
}

/// What a recipe told, and of which files it is made.
#[derive(Default)]
struct Root {
    files: Vec<PathBuf>,
    told: Told,
}

pub(super) struct Session<'d, W> {
    pub(super) disk: &'d dyn Disk,
    output: W,
    pub(super) client: Option<Client>,
    has_shut_down: bool,
    /// By path without links.
    pub(super) documents: BTreeMap<PathBuf, Document>,
    pub(super) uris: BTreeMap<PathBuf, String>,
    pub(super) buffers: Buffers,
    /// Every recipe that was looked at: the open ones and those of the workspace.
    roots: BTreeMap<PathBuf, Root>,
    /// What the editor shows of each file.
    published: BTreeMap<PathBuf, Vec<lsp::Diagnostic>>,
    /// Open texts that were changed and not looked at since.
    changed: BTreeSet<PathBuf>,
    /// Recipes that are to be looked at when there is time.
    pending: BTreeSet<PathBuf>,
    is_typing: bool,
    n_asked: i32,
}

/// Why a request has no answer.
pub(super) struct Refused {
    pub(super) code: ErrorCode,
    pub(super) why: String,
}

impl<'d, W: Write> Session<'d, W> {
    pub(super) fn new(disk: &'d dyn Disk, output: W) -> Self {
        Self {
            disk,
            output,
            client: None,
            has_shut_down: false,
            documents: BTreeMap::new(),
            uris: BTreeMap::new(),
            buffers: Buffers::default(),
            roots: BTreeMap::new(),
            published: BTreeMap::new(),
            changed: BTreeSet::new(),
            pending: BTreeSet::new(),
            is_typing: false,
            n_asked: 0,
        }
    }

    /// Works until the editor leaves.
    pub(super) fn run(mut self, inbox: &mut Inbox) -> Ended {
        loop {
            for id in inbox.canceled() {
                self.refuse(id, ErrorCode::RequestCanceled, "canceled");
            }
            if inbox.is_empty() && self.works(inbox) {
                continue;
            }
            match inbox.next(self.patience()) {
                Next::Incoming(incoming) => {
                    if self.takes_leave(&incoming) {
                        return if self.has_shut_down { Ended::Cleanly } else { Ended::BrokenOff };
                    }
                    self.take(incoming);
                }
                Next::Quiet => self.is_typing = false,
                Next::Closed => return Ended::BrokenOff,
            }
        }
    }

    /// How long to wait for a message before there is other work to do.
    fn patience(&self) -> Option<Duration> {
        (!self.pending.is_empty() && self.is_typing).then_some(PAUSE)
    }

    /// Does a piece of the work that no message waits for; false when there is none to do now.
    fn works(&mut self, inbox: &mut Inbox) -> bool {
        if let Some(path) = self.changed.pop_first() {
            self.guarded(|session| session.look_in_haste(&path));
            return true;
        }
        if self.is_typing {
            return false;
        }
        // What is open comes before what is not.
        let next = self.pending.iter().find(|path| self.documents.contains_key(*path)).or(self.pending.first());
        let Some(path) = next.cloned() else { return false };
        self.pending.remove(&path);
        if inbox.is_empty() {
            self.guarded(|session| session.look(&path));
        }
        true
    }

    /// An editor's server outlives what should not happen.
    fn guarded(&mut self, work: impl FnOnce(&mut Self)) -> bool {
        catch_unwind(AssertUnwindSafe(|| work(self))).is_ok()
    }

    fn takes_leave(&self, incoming: &Incoming) -> bool {
        matches!(incoming, Incoming::Message(Message::Notification(notification)) if notification.method == "exit")
    }

    fn take(&mut self, incoming: Incoming) {
        match incoming {
            Incoming::NoJson => self.write_error(&Value::Null, ErrorCode::ParseError, "this is no JSON"),
            Incoming::NoMessage(id) => self.write_error(&id, ErrorCode::InvalidRequest, "this is no message"),
            // What the editor was asked is answered with nothing that matters.
            Incoming::Message(Message::Response(_)) => {}
            Incoming::Message(Message::Notification(notification)) => {
                self.guarded(|session| session.notified(notification));
            }
            Incoming::Message(Message::Request(request)) => {
                let id = request.id.clone();
                if !self.guarded(|session| session.asked(request)) {
                    self.refuse(id, ErrorCode::InternalError, "this should not have happened");
                }
            }
        }
    }

    fn asked(&mut self, request: Request) {
        let Request { id, method, params } = request;
        let answer = match (method.as_str(), &self.client) {
            ("initialize", None) => self.initialize(params),
            (_, None) => Err(Refused::new(ErrorCode::ServerNotInitialized, "nothing comes before `initialize`")),
            (_, Some(_)) if self.has_shut_down => {
                Err(Refused::new(ErrorCode::InvalidRequest, "nothing but `exit` comes after `shutdown`"))
            }
            ("initialize", Some(_)) => Err(Refused::new(ErrorCode::InvalidRequest, "this was agreed on before")),
            ("shutdown", Some(_)) => {
                self.has_shut_down = true;
                Ok(Value::Null)
            }
            (_, Some(_)) => Err(Refused::new(ErrorCode::MethodNotFound, format!("`{method}` is not known here"))),
        };
        match answer {
            Ok(value) => self.send(&Message::Response(Response { id, response_result: Ok(value) })),
            Err(refused) => self.refuse(id, refused.code, &refused.why),
        }
    }

    fn initialize(&mut self, params: Value) -> Result<Value, Refused> {
        let params: lsp::InitializeParams = read(params)?;
        let client = Client::new(&params);
        let result = lsp::InitializeResult {
            capabilities: capabilities(&client),
            server_info: Some(lsp::ServerInfo {
                name: "ringwright".to_owned(),
                version: Some(env!("CARGO_PKG_VERSION").to_owned()),
            }),
        };
        self.client = Some(client);
        written(&result)
    }

    fn notified(&mut self, notification: Notification) {
        if self.client.is_none() || self.has_shut_down {
            return;
        }
        let Notification { method, params } = notification;
        match method.as_str() {
            "initialized" => self.begin(),
            "textDocument/didOpen" => with(params, |params| self.opened(params)),
            "textDocument/didChange" => with(params, |params| self.edited(params)),
            "textDocument/didClose" => with(params, |params| self.closed(&params)),
            "textDocument/didSave" => self.is_typing = false,
            "workspace/didChangeWatchedFiles" => with(params, |params| self.files_changed(&params)),
            "workspace/didChangeWorkspaceFolders" => with(params, |params| self.folders_changed(params)),
            // What is not known may be passed over.
            _ => {}
        }
    }

    /// Looks for the recipes of the workspace, and asks to be told when one changes.
    fn begin(&mut self) {
        let Some(client) = &self.client else { return };
        let (folders, can_watch) = (client.folders.clone(), client.can_watch);
        for folder in folders {
            self.find_recipes(&folder);
        }
        if can_watch {
            let pattern = lsp::GlobPattern::Pattern("**/*.vessel".into());
            let watcher = lsp::FileSystemWatcher { glob_pattern: pattern, kind: None };
            let options = lsp::DidChangeWatchedFilesRegistrationOptions { watchers: vec![watcher] };
            let registration = lsp::Registration {
                id: "recipes".to_owned(),
                method: "workspace/didChangeWatchedFiles".to_owned(),
                register_options: serde_json::to_value(options).ok(),
            };
            self.ask("client/registerCapability", &lsp::RegistrationParams { registrations: vec![registration] });
        }
    }

    fn find_recipes(&mut self, folder: &Path) {
        let found = self.disk.recipes(folder);
        self.pending.extend(found.iter().map(|path| self.disk.without_links(path)));
    }

    fn opened(&mut self, params: lsp::DidOpenTextDocumentParams) {
        let Some(client) = &self.client else { return };
        let item = params.text_document;
        let path = self.disk.without_links(&uri::path(&item.uri.0));
        let text = Text::new(item.text, client.columns);
        self.uris.insert(path.clone(), item.uri.0.clone());
        Arc::make_mut(&mut self.buffers).insert(path.clone(), Arc::clone(&text.text));
        self.documents.insert(path.clone(), Document { uri: item.uri.0, version: item.version, text, seen: None });
        self.is_typing = false;
        self.touched(&path);
    }

    fn edited(&mut self, params: lsp::DidChangeTextDocumentParams) {
        let path = self.disk.without_links(&uri::path(&params.text_document.text_document_identifier.uri.0));
        let Some(document) = self.documents.get_mut(&path) else { return };
        document.version = params.text_document.version;
        for change in params.content_changes {
            document.text = document.text.edited(change);
        }
        document.seen = None;
        let text = Arc::clone(&document.text.text);
        Arc::make_mut(&mut self.buffers).insert(path.clone(), text);
        self.is_typing = true;
        self.changed.insert(path.clone());
        self.touched(&path);
    }

    fn closed(&mut self, params: &lsp::DidCloseTextDocumentParams) {
        let path = self.disk.without_links(&uri::path(&params.text_document.uri.0));
        self.documents.remove(&path);
        self.uris.remove(&path);
        self.changed.remove(&path);
        Arc::make_mut(&mut self.buffers).remove(&path);
        if !self.is_in_workspace(&path) {
            self.roots.remove(&path);
        }
        self.touched(&path);
        self.publish(false);
    }

    fn files_changed(&mut self, params: &lsp::DidChangeWatchedFilesParams) {
        for change in &params.changes {
            let path = self.disk.without_links(&uri::path(&change.uri.0));
            self.touched(&path);
        }
    }

    fn folders_changed(&mut self, params: lsp::DidChangeWorkspaceFoldersParams) {
        let Some(client) = &mut self.client else { return };
        for folder in params.event.removed {
            let path = uri::path(&folder.uri.0);
            client.folders.retain(|known| *known != path);
        }
        let added: Vec<PathBuf> = params.event.added.iter().map(|folder| uri::path(&folder.uri.0)).collect();
        client.folders.extend(added.iter().cloned());
        let gone: Vec<PathBuf> = self.roots.keys().filter(|path| !self.is_wanted(path)).cloned().collect();
        for path in gone {
            self.roots.remove(&path);
        }
        for folder in added {
            self.find_recipes(&folder);
        }
        self.publish(false);
    }

    /// A text is another one now: every recipe that is made of it is to be looked at.
    fn touched(&mut self, path: &Path) {
        let users = self.roots.iter().filter(|(_, root)| root.files.iter().any(|file| file == path));
        self.pending.extend(users.map(|(user, _)| user.clone()));
        // A recipe that missed the file has it now, or the other way round.
        let lost = self.roots.iter().filter(|(_, root)| root.misses_a_file());
        self.pending.extend(lost.map(|(user, _)| user.clone()));
        if self.is_wanted(path) {
            self.pending.insert(path.to_owned());
        }
    }

    fn is_wanted(&self, path: &Path) -> bool {
        self.documents.contains_key(path) || self.is_in_workspace(path)
    }

    fn is_in_workspace(&self, path: &Path) -> bool {
        let folders = self.client.iter().flat_map(|client| &client.folders);
        folders.into_iter().any(|folder| path.starts_with(self.disk.without_links(folder)))
            && path.extension().is_some_and(|extension| extension == "vessel")
    }

    /// Looks at an open text right behind an edit.
    fn look_in_haste(&mut self, path: &Path) {
        self.pending.remove(path);
        self.look(path);
    }

    /// Looks at a recipe from scratch and publishes what it tells.
    fn look(&mut self, path: &Path) {
        let is_open = self.documents.contains_key(path);
        let (Some(client), Some((world, root))) = (&self.client, self.disk.open(path, &self.buffers)) else {
            self.roots.remove(path);
            self.publish(false);
            return;
        };
        let compiled = compile(&*world, root);
        let mut places = Places::new(&*world, client, &self.uris);
        let told = places.told(&compiled.findings);
        let files = files(&*world, root, path);
        self.roots.insert(path.to_owned(), Root { files, told });
        if let Some(document) = self.documents.get_mut(path) {
            document.seen = Some(Seen { world, root, compiled });
        }
        self.publish_all(is_open.then_some(path));
    }

    fn publish(&mut self, _is_new: bool) {
        self.publish_all(None);
    }

    /// Publishes what is new of any file, and what is known of `own` even if it is not.
    fn publish_all(&mut self, own: Option<&Path>) {
        let mut now: BTreeMap<PathBuf, Vec<lsp::Diagnostic>> = BTreeMap::new();
        for told in self.roots.values().map(|root| &root.told) {
            for (path, diagnostics) in told {
                let all = now.entry(path.clone()).or_default();
                for diagnostic in diagnostics {
                    if !all.contains(diagnostic) {
                        all.push(diagnostic.clone());
                    }
                }
            }
        }
        let gone: Vec<PathBuf> = self.published.keys().filter(|path| !now.contains_key(*path)).cloned().collect();
        for path in gone.into_iter().chain(own.map(Path::to_owned)) {
            now.entry(path).or_default();
        }
        for (path, diagnostics) in now {
            if self.published.get(&path) == Some(&diagnostics) && own != Some(&path) {
                continue;
            }
            self.tell_of(&path, &diagnostics);
            if diagnostics.is_empty() {
                self.published.remove(&path);
            } else {
                self.published.insert(path, diagnostics);
            }
        }
    }

    fn tell_of(&mut self, path: &Path, diagnostics: &[lsp::Diagnostic]) {
        let document = self.documents.get(path);
        let params = lsp::PublishDiagnosticsParams {
            uri: lsp::Uri(document.map_or_else(|| uri::of(path), |document| document.uri.clone())),
            version: document.map(|document| document.version),
            diagnostics: diagnostics.to_vec(),
        };
        self.notify("textDocument/publishDiagnostics", &params);
    }

    fn notify(&mut self, method: &str, params: &impl Serialize) {
        if let Ok(params) = serde_json::to_value(params) {
            self.send(&Message::Notification(Notification { method: method.to_owned(), params }));
        }
    }

    fn ask(&mut self, method: &str, params: &impl Serialize) {
        self.n_asked += 1;
        if let Ok(params) = serde_json::to_value(params) {
            let id = RequestId::from(self.n_asked);
            self.send(&Message::Request(Request { id, method: method.to_owned(), params }));
        }
    }

    fn refuse(&mut self, id: RequestId, code: ErrorCode, why: &str) {
        self.send(&Message::Response(Response::new_err(id, code as i32, why.to_owned())));
    }

    /// An editor that is gone hears nothing; the end of its messages ends the session.
    fn send(&mut self, message: &Message) {
        let _ = wire::write(&mut self.output, message);
    }

    fn write_error(&mut self, id: &Value, code: ErrorCode, why: &str) {
        let _ = wire::write_error(&mut self.output, id, code as i32, why);
    }
}

impl Root {
    fn misses_a_file(&self) -> bool {
        let missing = lsp::Code::String("use/not-found".to_owned());
        self.told.values().flatten().any(|diagnostic| diagnostic.code.as_ref() == Some(&missing))
    }
}

impl Refused {
    pub(super) fn new(code: ErrorCode, why: impl Into<String>) -> Self {
        Self { code, why: why.into() }
    }
}

/// The places of all files of a world.
fn files(world: &dyn Placed, root: FileId, path: &Path) -> Vec<PathBuf> {
    let used = (root.0 + 1..).map_while(|id| world.place(FileId(id)));
    std::iter::once(path.to_owned()).chain(used).collect()
}

/// The parameters of a request.
pub(super) fn read<T: DeserializeOwned>(params: Value) -> Result<T, Refused> {
    serde_json::from_value(params).map_err(|error| Refused::new(ErrorCode::InvalidParams, error.to_string()))
}

/// An answer as JSON.
pub(super) fn written(answer: &impl Serialize) -> Result<Value, Refused> {
    serde_json::to_value(answer).map_err(|error| Refused::new(ErrorCode::InternalError, error.to_string()))
}

/// A notification has no answer: one that cannot be read is passed over.
fn with<T: DeserializeOwned>(params: Value, take: impl FnOnce(T)) {
    if let Ok(params) = serde_json::from_value(params) {
        take(params);
    }
}
