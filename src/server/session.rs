//! One editor's session: its texts, what is known of them, and the order of the work.
//!
//! Messages come first. When there are none, texts that have changed are looked at as far as the geometry and their
//! findings are published, beside those of their plans as far as the edits left them in place. When the typing pauses,
//! the worker looks at all recipes that the texts belong to as `check` does.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::Sender;
use std::time::Duration;

use gen_lsp_types as lsp;
use lsp_server::{ErrorCode, Message, Notification, Request, RequestId, Response};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::syntax::Trees;

use super::diagnose::{Told, carried};
use super::document::Text;
use super::inbox::{Inbox, Next};
use super::setup::{Client, capabilities};
use super::wire::{self, Incoming};
use super::worker::{Haste, Job, Looked, Report, Seen, look};
use super::{Buffers, Disk, Ended, uri};

/// The typing pauses when nothing came for so long.
const PAUSE: Duration = Duration::from_millis(120);

/// Most findings of a plan that are kept in place while it is typed; a slip in an `every` may give thousands.
const MOST_CARRIED: usize = 200;

/// A text that the editor holds open.
pub(super) struct Document {
    /// As the editor names it.
    pub(super) uri: String,
    pub(super) version: i32,
    pub(super) text: Text,
    /// What the last look at it gave, of this text.
    pub(super) seen: Option<Seen>,
    /// Of it and of what it uses, as they were when it was last typed in.
    trees: Trees,
}

/// What a recipe told, and of which files it is made.
#[derive(Default)]
struct Root {
    files: Vec<PathBuf>,
    early: Told,
    /// Of its plan, when that was last looked at.
    late: Told,
}

pub(super) struct Session<'d, W> {
    pub(super) disk: &'d dyn Disk,
    output: W,
    pub(super) client: Option<Arc<Client>>,
    has_shut_down: bool,
    /// By path without links.
    pub(super) documents: BTreeMap<PathBuf, Document>,
    pub(super) uris: Arc<BTreeMap<PathBuf, String>>,
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
    /// What is known no longer; freeing it can wait until the findings are published.
    spent: Vec<Seen>,
    jobs: Sender<Job>,
    /// The recipe that the worker looks at.
    at_work: Option<PathBuf>,
    /// Counts the edits.
    revision: u64,
    n_asked: i32,
}

/// Why a request has no answer.
pub(super) struct Refused {
    pub(super) code: ErrorCode,
    pub(super) why: String,
}

impl<'d, W: Write> Session<'d, W> {
    pub(super) fn new(disk: &'d dyn Disk, output: W, jobs: Sender<Job>) -> Self {
        Self {
            disk,
            output,
            client: None,
            has_shut_down: false,
            documents: BTreeMap::new(),
            uris: Arc::default(),
            buffers: Buffers::default(),
            roots: BTreeMap::new(),
            published: BTreeMap::new(),
            changed: BTreeSet::new(),
            pending: BTreeSet::new(),
            is_typing: false,
            spent: Vec::new(),
            jobs,
            at_work: None,
            revision: 0,
            n_asked: 0,
        }
    }

    /// Works until the editor leaves.
    pub(super) fn run(mut self, inbox: &mut Inbox) -> Ended {
        loop {
            for id in inbox.canceled() {
                self.refuse(id, ErrorCode::RequestCanceled, "canceled");
            }
            if inbox.is_empty() && self.works() {
                continue;
            }
            match inbox.next(self.patience()) {
                Next::Incoming(incoming) => {
                    if takes_leave(&incoming) {
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
        self.is_typing.then_some(PAUSE)
    }

    /// Does a piece of the work that no message waits for; false when there is none to do now.
    fn works(&mut self) -> bool {
        if let Some(path) = self.changed.pop_first() {
            self.guarded(|session| session.look_in_haste(&path));
            return true;
        }
        self.spent.clear();
        if self.is_typing || self.at_work.is_some() {
            return false;
        }
        // What is open comes before what is not.
        let next = self.pending.iter().find(|path| self.documents.contains_key(*path)).or(self.pending.first());
        let (Some(path), Some(client)) = (next.cloned(), &self.client) else { return false };
        self.pending.remove(&path);
        let job = Job {
            path: path.clone(),
            buffers: Arc::clone(&self.buffers),
            client: Arc::clone(client),
            uris: Arc::clone(&self.uris),
            revision: self.revision,
        };
        self.at_work = self.jobs.send(job).is_ok().then_some(path);
        true
    }

    /// An editor's server outlives what should not happen.
    fn guarded(&mut self, work: impl FnOnce(&mut Self)) -> bool {
        catch_unwind(AssertUnwindSafe(|| work(self))).is_ok()
    }

    fn take(&mut self, incoming: Incoming) {
        match incoming {
            Incoming::Report(report) => self.reported(*report),
            Incoming::NoJson => self.write_error(&Value::Null, ErrorCode::ParseError, "this is no JSON"),
            Incoming::NoMessage(id) => self.write_error(&id, ErrorCode::InvalidRequest, "this is no message"),
            // What the editor was asked is answered with nothing that matters.
            Incoming::Message(Message::Response(_)) | Incoming::Closed => {}
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
            (method, Some(_)) => self.answer(method, params),
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
        self.client = Some(Arc::new(client));
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
        Arc::make_mut(&mut self.uris).insert(path.clone(), item.uri.0.clone());
        self.hold(&path, Some(Arc::clone(&text.whole)));
        self.documents.insert(
            path.clone(),
            Document { uri: item.uri.0, version: item.version, text, seen: None, trees: Trees::default() },
        );
        self.is_typing = false;
        self.changed.insert(path.clone());
        self.touched(&path);
    }

    /// What the editor holds of a file now.
    fn hold(&mut self, path: &Path, text: Option<Arc<str>>) {
        let buffers = Arc::make_mut(&mut self.buffers);
        match text {
            Some(text) => buffers.insert(path.to_owned(), text),
            None => buffers.remove(path),
        };
        self.revision += 1;
    }

    fn edited(&mut self, params: lsp::DidChangeTextDocumentParams) {
        let path = self.disk.without_links(&uri::path(&params.text_document.text_document_identifier.uri.0));
        let (Some(document), Some(client)) = (self.documents.get_mut(&path), &self.client) else { return };
        document.version = params.text_document.version;
        self.spent.extend(document.seen.take());
        for change in params.content_changes {
            for root in self.roots.values_mut() {
                root.carry(&path, &change, client);
            }
            document.text = document.text.edited(change);
        }
        let text = Arc::clone(&document.text.whole);
        self.hold(&path, Some(text));
        self.is_typing = true;
        self.changed.insert(path.clone());
        self.touched(&path);
    }

    fn closed(&mut self, params: &lsp::DidCloseTextDocumentParams) {
        let path = self.disk.without_links(&uri::path(&params.text_document.uri.0));
        self.documents.remove(&path);
        Arc::make_mut(&mut self.uris).remove(&path);
        self.changed.remove(&path);
        self.hold(&path, None);
        self.touched(&path);
        if !self.is_in_workspace(&path) {
            self.forget(|root| root == path);
        }
    }

    fn files_changed(&mut self, params: &lsp::DidChangeWatchedFilesParams) {
        for change in &params.changes {
            let path = self.disk.without_links(&uri::path(&change.uri.0));
            self.revision += 1;
            self.touched(&path);
        }
    }

    fn folders_changed(&mut self, params: lsp::DidChangeWorkspaceFoldersParams) {
        let Some(client) = self.client.as_mut().map(Arc::make_mut) else { return };
        for folder in params.event.removed {
            let path = uri::path(&folder.uri.0);
            client.folders.retain(|known| *known != path);
        }
        let added: Vec<PathBuf> = params.event.added.iter().map(|folder| uri::path(&folder.uri.0)).collect();
        client.folders.extend(added.iter().cloned());
        let gone: BTreeSet<PathBuf> = self.roots.keys().filter(|path| !self.is_wanted(path)).cloned().collect();
        self.forget(|root| gone.contains(root));
        for folder in added {
            self.find_recipes(&folder);
        }
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

    /// The recipes that are made of a file among others.
    pub(super) fn recipes_with(&self, path: &Path) -> BTreeSet<PathBuf> {
        let users = self.roots.iter().filter(|(_, root)| root.files.iter().any(|file| file == path));
        users.map(|(user, _)| user.clone()).chain(self.pending.iter().cloned()).chain(self.at_work.clone()).collect()
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
        let Some(looked) = self.look(path, Haste::Typing) else { return };
        let Looked { seen, files, early, .. } = looked;
        let root = self.roots.entry(path.to_owned()).or_default();
        let mut touched: BTreeSet<PathBuf> = root.told_of().collect();
        // No plan is made of what has no shape; and where there is too much to say, it can wait for the pause.
        if seen.compiled.vessel.is_none() || root.late.values().map(Vec::len).sum::<usize>() > MOST_CARRIED {
            root.late.clear();
        }
        (root.files, root.early) = (files, early);
        touched.extend(root.early.keys().cloned());
        if let Some(document) = self.documents.get_mut(path) {
            self.spent.extend(document.seen.replace(seen));
        }
        self.publish(touched, Some(path));
    }

    pub(super) fn look(&self, path: &Path, haste: Haste) -> Option<Looked> {
        let none = Trees::default();
        let trees = self.documents.get(path).map_or(&none, |document| &document.trees);
        look(self.disk, path, &self.buffers, self.client.as_ref()?, &self.uris, haste, trees)
    }

    /// What the worker found. When a text has changed since, it is looked at once more.
    fn reported(&mut self, report: Report) {
        self.at_work = None;
        let Report { path, revision, looked } = report;
        if !self.is_wanted(&path) {
            return;
        }
        if revision != self.revision {
            self.pending.insert(path);
            return;
        }
        let before = self.roots.remove(&path);
        if let Some(Looked { seen, files, early, late }) = looked {
            if let Some(document) = self.documents.get_mut(&path) {
                self.spent.extend(document.seen.replace(seen));
            }
            self.roots.insert(path.clone(), Root { files, early, late });
        }
        let now = self.roots.get(&path);
        let touched = before.iter().chain(now).flat_map(Root::told_of).collect();
        self.publish(touched, None);
    }

    /// Lets go of what recipes told that are not looked at any more.
    fn forget(&mut self, is_gone: impl Fn(&Path) -> bool) {
        let mut touched = BTreeSet::new();
        self.roots.retain(|path, root| {
            let is_gone = is_gone(path);
            if is_gone {
                touched.extend(root.told_of());
            }
            !is_gone
        });
        self.publish(touched, None);
    }

    /// Publishes what is new of these files, and what is known of `own` even if it is not.
    fn publish(&mut self, mut touched: BTreeSet<PathBuf>, own: Option<&Path>) {
        touched.extend(own.map(Path::to_owned));
        for path in touched {
            let mut now: Vec<lsp::Diagnostic> = Vec::new();
            for root in self.roots.values() {
                // Only another recipe can have said the same.
                let of_others = now.len();
                let told = [&root.early, &root.late].into_iter().filter_map(|told| told.get(&path)).flatten();
                for diagnostic in told {
                    if !now.get(..of_others).is_some_and(|others| others.contains(diagnostic)) {
                        now.push(diagnostic.clone());
                    }
                }
            }
            let is_own = own == Some(&path);
            if is_own || self.published.get(&path).map_or(!now.is_empty(), |before| *before != now) {
                self.tell_of(&path, &now);
            }
            if now.is_empty() {
                self.published.remove(&path);
            } else {
                self.published.insert(path, now);
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
    /// The files of which it tells something.
    fn told_of(&self) -> impl Iterator<Item = PathBuf> {
        self.early.keys().chain(self.late.keys()).cloned()
    }

    fn misses_a_file(&self) -> bool {
        let missing = lsp::Code::String("use/not-found".to_owned());
        self.early.values().flatten().any(|diagnostic| diagnostic.code.as_ref() == Some(&missing))
    }

    /// Keeps what is known of a file in its place over an edit; what the edit touches is forgotten.
    fn carry(&mut self, path: &Path, change: &lsp::TextDocumentContentChangeEvent, client: &Client) {
        for told in [&mut self.early, &mut self.late] {
            let Some(diagnostics) = told.get_mut(path) else { continue };
            *diagnostics = match change {
                lsp::TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part) => {
                    let all = std::mem::take(diagnostics).into_iter();
                    all.filter_map(|diagnostic| carried(diagnostic, part.range, &part.text, client)).collect()
                }
                lsp::TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(_) => Vec::new(),
            };
        }
    }
}

impl Refused {
    pub(super) fn new(code: ErrorCode, why: impl Into<String>) -> Self {
        Self { code, why: why.into() }
    }
}

fn takes_leave(incoming: &Incoming) -> bool {
    matches!(incoming, Incoming::Message(Message::Notification(notification)) if notification.method == "exit")
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
