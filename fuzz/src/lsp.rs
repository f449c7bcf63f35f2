//! An editor that loses its mind: messages decoded from the bytes, through the real server in this process.
//!
//! What stands before the first zero byte is the recipe that is opened, the rest is what the editor does. Every request
//! has one answer, none is an internal error, no thread panics (the server catches panics, so they are counted by a
//! hook), and at rest every file shows what a compilation from scratch finds.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Read, Write};
use std::panic;
use std::sync::Once;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

use ringwright::server::serve;
use ringwright::source::{Columns, LineIndex};
use serde_json::{Value, json};

use super::script::Script;

mod memory;
mod rest;

use memory::Memory;

/// Longer than any answer takes on a machine with much else to do.
const PATIENCE: Duration = Duration::from_mins(1);

/// As much as the command line gives it.
const STACK: usize = 8 << 20;

/// By the names that the editor has for its texts.
const URIS: [&str; 4] =
    ["file:///bench/a.vessel", "file:///bench/b.vessel", "file:///bench/b%C3%BC.vessel", "untitled:new"];

const REQUESTS: [&str; 19] = [
    "textDocument/hover",
    "textDocument/completion",
    "textDocument/signatureHelp",
    "textDocument/definition",
    "textDocument/references",
    "textDocument/documentHighlight",
    "textDocument/prepareRename",
    "textDocument/rename",
    "textDocument/documentSymbol",
    "textDocument/foldingRange",
    "textDocument/semanticTokens/full",
    "textDocument/semanticTokens/range",
    "textDocument/inlayHint",
    "textDocument/documentColor",
    "textDocument/colorPresentation",
    "textDocument/codeAction",
    "textDocument/formatting",
    "textDocument/rangeFormatting",
    "workspace/nothing",
];

const NOTIFICATIONS: [&str; 8] = [
    "textDocument/didOpen",
    "textDocument/didChange",
    "textDocument/didClose",
    "textDocument/didSave",
    "workspace/didChangeWatchedFiles",
    "workspace/didChangeWorkspaceFolders",
    "$/cancelRequest",
    "$/nothing",
];

/// Params of the wrong kind for any of them.
const WRONG: [&str; 7] = [
    "null",
    "[]",
    "7",
    "{}",
    r#"{"textDocument":{"uri":5}}"#,
    r#"{"textDocument":{"uri":""},"position":{"line":-1,"character":1e99},"range":null}"#,
    r#"{"changes":[{"uri":"%","type":9}],"event":{"added":[{}],"removed":null},"id":{}}"#,
];

/// Bodies and headers that are no message.
const JUNK: [&[u8]; 8] = [
    b"Content-Length: 0\r\n\r\n",
    b"Content-Length: 1\r\n\r\n{",
    b"content-length:4\nX: y\r\n\r\nnull",
    b"Content-Length: 2\r\nContent-Length: 3\r\n\r\n[1]",
    b"Content-Length: 3\r\n\r\n\xFF\xFE\x00",
    b"Content-Length: 22\r\n\r\n{\"id\":{},\"method\":[7]}",
    b"Content-Length: 20\r\n\r\n{\"id\":9,\"result\":{}}",
    b"Content-Length: 25\r\n\r\n{\"jsonrpc\":\"1.0\",\"id\":\"\"}",
];

static PANICS: AtomicUsize = AtomicUsize::new(0);

/// Counts the panics of all threads, also those that are caught.
fn notice_panics() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            PANICS.fetch_add(1, Ordering::SeqCst);
            before(info);
        }));
    });
}

/// Plays the script.
pub fn target(bytes: &[u8]) {
    notice_panics();
    let panics = PANICS.load(Ordering::SeqCst);
    let end = bytes.iter().position(|byte| *byte == 0).unwrap_or(bytes.len());
    let text = String::from_utf8_lossy(&bytes[..end]).into_owned();
    let mut script = Script::new(bytes.get(end + 1..).unwrap_or(&[]));
    thread::scope(|scope| {
        let (to, input) = channel();
        let (output, from) = channel();
        let serving = move || serve(&Memory, Stream { chunks: input, rest: Vec::new() }, Sink(output));
        let server = thread::Builder::new().stack_size(STACK).spawn_scoped(scope, serving).expect("a thread");
        let mut editor = Editor::new(to, from);
        if editor.play(&mut script, text) {
            editor.rest();
        }
        drop(editor.to);
        assert!(server.join().is_ok(), "the server is gone");
    });
    assert_eq!(PANICS.load(Ordering::SeqCst), panics, "something panicked, and the server caught it");
}

/// What the editor knows and has been told.
struct Editor {
    to: Sender<Vec<u8>>,
    from: Receiver<Vec<u8>>,
    unread: Vec<u8>,
    columns: Columns,
    has_related: bool,
    has_folder: bool,
    /// The texts that are open.
    texts: BTreeMap<&'static str, String>,
    version: i32,
    n_asked: i64,
    unanswered: BTreeSet<i64>,
    published: BTreeMap<String, Vec<Value>>,
}

impl Editor {
    fn new(to: Sender<Vec<u8>>, from: Receiver<Vec<u8>>) -> Self {
        Self {
            to,
            from,
            unread: Vec::new(),
            columns: Columns::Utf16,
            has_related: false,
            has_folder: false,
            texts: BTreeMap::new(),
            version: 0,
            n_asked: 0,
            unanswered: BTreeSet::new(),
            published: BTreeMap::new(),
        }
    }

    /// Says all that the script says; whether the server is still to be asked.
    fn play(&mut self, script: &mut Script<'_>, text: String) -> bool {
        self.introduce(script.byte());
        self.open(URIS[0], text);
        while !script.is_over() {
            match script.below(16) {
                0..=5 => self.change(script),
                6..=9 => self.ask(script),
                10 => {
                    let (uri, text) = (script.one_of(&URIS), script.text());
                    let text = if script.byte() > 127 { memory::WORKSHOP.to_owned() + &text } else { text };
                    self.open(uri, text);
                }
                11 => {
                    let uri = script.one_of(&URIS);
                    self.texts.remove(uri);
                    self.notify("textDocument/didClose", &json!({ "textDocument": { "uri": uri } }));
                }
                12 => self.say_wrong(script),
                13 => {
                    let _ = self.to.send(script.one_of(&JUNK).to_vec());
                }
                14 => self.tell_of_files(script),
                15 if script.byte() > 200 => return self.break_off(script),
                _ => self.notify("textDocument/didSave", &json!({ "textDocument": { "uri": URIS[0] } })),
            }
        }
        true
    }

    fn introduce(&mut self, flags: u8) {
        if flags & 1 == 1 {
            self.columns = Columns::Bytes;
        }
        (self.has_related, self.has_folder) = (flags & 2 == 2, flags & 4 == 4);
        if flags & 8 == 8 {
            self.request("textDocument/hover", &json!({}));
        }
        let encodings = if self.columns == Columns::Bytes { json!(["utf-8", "utf-16"]) } else { json!(["utf-16"]) };
        let folders = self.has_folder.then(|| json!([{ "uri": "file:///bench", "name": "bench" }]));
        self.request(
            "initialize",
            &json!({
                "processId": null,
                "rootUri": null,
                "workspaceFolders": folders,
                "capabilities": {
                    "general": { "positionEncodings": encodings },
                    "textDocument": { "publishDiagnostics": { "relatedInformation": self.has_related } },
                    "workspace": { "didChangeWatchedFiles": { "dynamicRegistration": flags & 16 == 16 } },
                },
            }),
        );
        self.notify("initialized", &json!({}));
    }

    fn open(&mut self, uri: &'static str, text: String) {
        self.version += 1;
        let item = json!({ "uri": uri, "languageId": "vessel", "version": self.version, "text": text });
        self.texts.insert(uri, text);
        self.notify("textDocument/didOpen", &json!({ "textDocument": item }));
    }

    /// One or two edits in one message.
    fn change(&mut self, script: &mut Script<'_>) {
        let uri = script.one_of(&URIS[..2]);
        let mut changes = Vec::new();
        for _ in 0..=script.below(2) {
            let text = self.texts.get(uri).cloned().unwrap_or_default();
            let new = if script.byte() > 100 { script.text() } else { stretch(&text, script) };
            if script.byte() > 250 {
                changes.push(json!({ "text": new }));
                self.texts.entry(uri).and_modify(|text| *text = new);
                continue;
            }
            let range = range(&text, script);
            let at = |end: &str| {
                let [line, column] = ["line", "character"].map(|key| range[end][key].as_u64().unwrap_or(0));
                let [line, column] = [line, column].map(|count| usize::try_from(count).unwrap_or(usize::MAX));
                LineIndex::of_editors(&text).offset(&text, line, column, self.columns) as usize
            };
            let (start, end) = (at("start").min(at("end")), at("start").max(at("end")));
            changes.push(json!({ "range": range, "text": new }));
            self.texts.entry(uri).and_modify(|text| text.replace_range(start..end, &new));
        }
        self.version += 1;
        self.notify(
            "textDocument/didChange",
            &json!({ "textDocument": { "uri": uri, "version": self.version }, "contentChanges": changes }),
        );
    }

    fn ask(&mut self, script: &mut Script<'_>) {
        let (method, uri) = (script.one_of(&REQUESTS), script.one_of(&URIS));
        let text = self.texts.get(uri).cloned().unwrap_or_default();
        let range = range(&text, script);
        let name = if method == "textDocument/rename" { script.text() } else { String::new() };
        let params = json!({
            "textDocument": { "uri": uri },
            "position": range["start"],
            "range": range,
            "newName": name,
            "context": { "includeDeclaration": true, "diagnostics": [] },
            "color": { "red": 0.5, "green": 0.25, "blue": 0.125, "alpha": 1 },
            "options": { "tabSize": 2, "insertSpaces": true },
        });
        let id = self.request(method, &params);
        if script.byte() > 220 {
            self.notify("$/cancelRequest", &json!({ "id": id }));
        }
    }

    /// Something known with what it does not take.
    fn say_wrong(&mut self, script: &mut Script<'_>) {
        let params: Value = serde_json::from_str(script.one_of(&WRONG)).unwrap_or_default();
        if script.byte() > 127 {
            let method = script.one_of(&REQUESTS);
            self.request(method, &params);
        } else {
            self.notify(script.one_of(&NOTIFICATIONS), &params);
        }
    }

    fn tell_of_files(&mut self, script: &mut Script<'_>) {
        let uri =
            script.one_of(&[URIS[0], URIS[1], "file:///bench/workshop.vessel", "file:///bench/lost.vessel", "%", ""]);
        self.notify("workspace/didChangeWatchedFiles", &json!({ "changes": [{ "uri": uri, "type": 2 }] }));
        if script.byte() > 127 {
            let folder = json!([{ "uri": "file:///bench", "name": "bench" }]);
            let (added, removed) = if self.has_folder { (json!([]), folder) } else { (folder, json!([])) };
            self.has_folder = !self.has_folder;
            let event = json!({ "added": added, "removed": removed });
            self.notify("workspace/didChangeWorkspaceFolders", &json!({ "event": event }));
        }
    }

    /// An end that no editor should make.
    fn break_off(&mut self, script: &mut Script<'_>) -> bool {
        match script.below(3) {
            0 => {
                self.request("shutdown", &Value::Null);
                self.request("textDocument/hover", &json!({}));
                self.notify("exit", &Value::Null);
            }
            1 => {
                let _ = self.to.send(b"Content-Length: 99999999999999999999\r\n\r\n{}".to_vec());
            }
            _ => {
                let _ = self.to.send(script.text().into_bytes());
            }
        }
        false
    }

    fn notify(&mut self, method: &str, params: &Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    fn request(&mut self, method: &str, params: &Value) -> i64 {
        self.n_asked += 1;
        self.unanswered.insert(self.n_asked);
        self.send(&json!({ "jsonrpc": "2.0", "id": self.n_asked, "method": method, "params": params }));
        self.n_asked
    }

    fn send(&mut self, message: &Value) {
        let body = message.to_string();
        let _ = self.to.send(format!("Content-Length: {}\r\n\r\n{body}", body.len()).into_bytes());
    }

    /// Waits until the server has answered all and shows what is there to be found.
    fn rest(&mut self) {
        self.notify("textDocument/didSave", &json!({ "textDocument": { "uri": URIS[0] } }));
        self.request("ringwright/rest", &Value::Null);
        let wanted = rest::wanted(&self.texts, self.columns, self.has_related, self.has_folder);
        let end = Instant::now() + PATIENCE;
        loop {
            let left = end.saturating_duration_since(Instant::now());
            while let Some(message) = message(&mut self.unread) {
                self.hear(&message);
            }
            if self.unanswered.is_empty() && self.published == wanted {
                return;
            }
            let Ok(chunk) = self.from.recv_timeout(left) else {
                panic!("{:?} have no answer; shown:\n{:#?}\nfound:\n{wanted:#?}", self.unanswered, self.published);
            };
            self.unread.extend(chunk);
        }
    }

    fn hear(&mut self, message: &Value) {
        if message["method"] == "textDocument/publishDiagnostics" {
            let params = &message["params"];
            let uri = params["uri"].as_str().expect("a name").to_owned();
            let mut told = params["diagnostics"].as_array().expect("a list").clone();
            told.sort_by_key(Value::to_string);
            if told.is_empty() {
                self.published.remove(&uri);
            } else {
                self.published.insert(uri, told);
            }
        } else if message["method"].is_null() {
            assert_ne!(message["error"]["code"], -32603, "an internal error: {message}");
            if let Some(id) = message["id"].as_i64() {
                assert!(self.unanswered.remove(&id), "{id} has a second answer: {message}");
            }
        }
    }
}

/// The first whole message of what has come.
fn message(unread: &mut Vec<u8>) -> Option<Value> {
    let head = unread.windows(4).position(|bytes| bytes == b"\r\n\r\n")?;
    let text = std::str::from_utf8(&unread[..head]).expect("a header");
    let length: usize = text.strip_prefix("Content-Length: ").and_then(|length| length.parse().ok()).expect("a length");
    let (start, end) = (head + 4, head + 4 + length);
    let value = serde_json::from_slice(unread.get(start..end)?).expect("JSON");
    unread.drain(..end);
    Some(value)
}

/// Places in or near a text; some are nowhere, some ranges end before they begin.
fn range(text: &str, script: &mut Script<'_>) -> Value {
    let lines = text.lines().count();
    let mut place = || {
        let line = script.below(lines + 2);
        let width = text.lines().nth(line).map_or(0, str::len);
        let column = script.below(width + 3);
        match script.byte() {
            255 => json!({ "line": u32::MAX, "character": u32::MAX }),
            254 => json!({ "line": line, "character": u32::MAX }),
            253 => json!({ "line": u32::MAX, "character": column }),
            _ => json!({ "line": line, "character": column }),
        }
    };
    let start = place();
    let end = if script.byte() > 100 { start.clone() } else { place_behind(&start, script) };
    json!({ "start": start, "end": end })
}

/// Mostly a little further on.
fn place_behind(start: &Value, script: &mut Script<'_>) -> Value {
    let [line, column] = ["line", "character"].map(|key| start[key].as_u64().unwrap_or(0));
    let further = |from: u64, by: usize| (from + by as u64).min(u64::from(u32::MAX));
    match script.byte() {
        0..=200 => json!({ "line": line, "character": further(column, script.below(9)) }),
        201..=240 => json!({ "line": further(line, script.below(3)), "character": script.below(9) }),
        _ => json!({ "line": line / 2, "character": column / 2 }),
    }
}

/// Something that stands elsewhere in the text.
fn stretch(text: &str, script: &mut Script<'_>) -> String {
    let characters: Vec<char> = text.chars().collect();
    let from = script.below(characters.len() + 1);
    characters.iter().skip(from).take(script.below(40)).collect()
}

/// What the editor says, as the server reads it.
struct Stream {
    chunks: Receiver<Vec<u8>>,
    rest: Vec<u8>,
}

impl Read for Stream {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        while self.rest.is_empty() {
            match self.chunks.recv() {
                Ok(chunk) => self.rest = chunk,
                Err(_) => return Ok(0),
            }
        }
        let length = into.len().min(self.rest.len());
        into[..length].copy_from_slice(&self.rest[..length]);
        self.rest.drain(..length);
        Ok(length)
    }
}

/// What the server says, on its way to the editor.
struct Sink(Sender<Vec<u8>>);

impl Write for Sink {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        // An editor that has gone hears nothing.
        let _ = self.0.send(bytes.to_vec());
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
