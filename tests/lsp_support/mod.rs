//! A small editor: it starts the server, speaks to it over its pipes, and remembers what was published.

#![allow(clippy::unwrap_used, clippy::disallowed_methods, dead_code)]
#![allow(clippy::needless_pass_by_value, reason = "params are written where they are sent")]
#![allow(clippy::cast_possible_truncation, reason = "the texts of tests are short")]

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// Longer than any answer takes on a machine with much else to do.
const PATIENCE: Duration = Duration::from_mins(1);

pub struct Editor {
    child: Child,
    to: Option<ChildStdin>,
    from: Receiver<Value>,
    n_asked: i64,
    /// What was published last of each file.
    pub published: BTreeMap<String, Value>,
    /// What the server asked of the editor.
    pub asked: Vec<Value>,
    folder: tempfile::TempDir,
}

/// A place in a text with a `$0`, and the text without it.
pub fn marked(text: &str) -> (String, Value) {
    let at = text.find("$0").expect("a mark");
    let plain = text.replacen("$0", "", 1);
    let place = position(&plain, at);
    (plain, place)
}

/// In UTF-16 units.
pub fn position(text: &str, at: usize) -> Value {
    let before = &text[..at];
    let line = before.matches('\n').count();
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    json!({ "line": line, "character": before[start..].encode_utf16().count() })
}

/// The byte at a position in UTF-16 units.
pub fn offset(text: &str, place: &Value) -> usize {
    let line = place["line"].as_u64().unwrap() as usize;
    let start = text.split_inclusive('\n').take(line).map(str::len).sum::<usize>();
    let mut left = place["character"].as_u64().unwrap() as usize;
    let mut at = start;
    for c in text[start..].chars() {
        if left == 0 {
            break;
        }
        left = left.saturating_sub(c.len_utf16());
        at += c.len_utf8();
    }
    at
}

/// The text with the edits of one file made.
pub fn applied(text: &str, edits: &Value) -> String {
    let mut edits: Vec<(usize, usize, &str)> = edits
        .as_array()
        .unwrap()
        .iter()
        .map(|edit| {
            let range = &edit["range"];
            (offset(text, &range["start"]), offset(text, &range["end"]), edit["newText"].as_str().unwrap())
        })
        .collect();
    edits.sort_unstable();
    let mut text = text.to_owned();
    for (start, end, new) in edits.into_iter().rev() {
        text.replace_range(start..end, new);
    }
    text
}

impl Editor {
    /// Starts the server for a folder that has these files, and introduces itself.
    pub fn new(files: &[(&str, &str)]) -> Self {
        Self::with(files, json!({}), true)
    }

    /// With capabilities of its own; `in_folder` whether the folder is a workspace.
    pub fn with(files: &[(&str, &str)], capabilities: Value, in_folder: bool) -> Self {
        let mut editor = Self::started(files);
        let folder = in_folder.then(|| vec![json!({ "uri": editor.uri(""), "name": "bench" })]);
        let answer = editor.ask(
            "initialize",
            json!({ "processId": null, "rootUri": null, "capabilities": capabilities, "workspaceFolders": folder }),
        );
        assert!(answer["capabilities"].is_object(), "{answer}");
        editor.notify("initialized", json!({}));
        editor
    }

    /// Starts the server and says nothing yet.
    pub fn started(files: &[(&str, &str)]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in files {
            std::fs::write(folder.path().join(name), text).unwrap();
        }
        let mut child = Command::new(env!("CARGO_BIN_EXE_ringwright"))
            .arg("lsp")
            .current_dir(folder.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let to = child.stdin.take();
        let mut stream = BufReader::new(child.stdout.take().unwrap());
        let (sender, from) = channel();
        thread::spawn(move || {
            while let Some(message) = read(&mut stream) {
                if sender.send(message).is_err() {
                    return;
                }
            }
        });
        Self { child, to, from, n_asked: 0, published: BTreeMap::new(), asked: Vec::new(), folder }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().canonicalize().unwrap().join(name)
    }

    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    pub fn id(&self) -> u32 {
        self.child.id()
    }

    pub fn uri(&self, name: &str) -> String {
        format!("file://{}", self.path(name).display())
    }

    pub fn send(&mut self, message: &Value) {
        let body = message.to_string();
        self.send_raw(format!("Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes());
    }

    pub fn send_raw(&mut self, bytes: &[u8]) {
        let to = self.to.as_mut().unwrap();
        to.write_all(bytes).unwrap();
        to.flush().unwrap();
    }

    pub fn notify(&mut self, method: &str, params: Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    pub fn send_request(&mut self, method: &str, params: Value) -> i64 {
        self.n_asked += 1;
        self.send(&json!({ "jsonrpc": "2.0", "id": self.n_asked, "method": method, "params": params }));
        self.n_asked
    }

    /// The result of a request; one that is refused fails the test.
    #[track_caller]
    pub fn ask(&mut self, method: &str, params: Value) -> Value {
        let answer = self.try_ask(method, params);
        assert!(answer.get("error").is_none(), "{method}: {answer}");
        answer["result"].clone()
    }

    /// The whole answer.
    pub fn try_ask(&mut self, method: &str, params: Value) -> Value {
        let id = self.send_request(method, params);
        self.answer(&json!(id))
    }

    /// Waits for the answer to a request.
    #[track_caller]
    pub fn answer(&mut self, id: &Value) -> Value {
        loop {
            let message = self.next();
            if message.get("method").is_none() && message["id"] == *id {
                return message;
            }
        }
    }

    /// The next message, remembered when it publishes.
    #[track_caller]
    pub fn next(&mut self) -> Value {
        self.next_within(PATIENCE).expect("the server says nothing")
    }

    pub fn next_within(&mut self, patience: Duration) -> Option<Value> {
        let message = match self.from.recv_timeout(patience) {
            Ok(message) => message,
            Err(RecvTimeoutError::Timeout) => return None,
            Err(RecvTimeoutError::Disconnected) => panic!("the server is gone"),
        };
        if message["method"] == "textDocument/publishDiagnostics" {
            let uri = message["params"]["uri"].as_str().unwrap().to_owned();
            self.published.insert(uri, message["params"]["diagnostics"].clone());
        } else if message.get("method").is_some() && message.get("id").is_some() {
            self.asked.push(message.clone());
        }
        Some(message)
    }

    pub fn open(&mut self, name: &str, text: &str) {
        let uri = self.uri(name);
        let item = json!({ "uri": uri, "languageId": "vessel", "version": 1, "text": text });
        self.notify("textDocument/didOpen", json!({ "textDocument": item }));
    }

    /// One edit, as a range in the editor's own columns with the text that comes there.
    pub fn edit(&mut self, name: &str, version: i64, changes: Value) {
        let uri = self.uri(name);
        self.notify(
            "textDocument/didChange",
            json!({ "textDocument": { "uri": uri, "version": version }, "contentChanges": changes }),
        );
    }

    pub fn write(&mut self, name: &str, version: i64, text: &str) {
        self.edit(name, version, json!([{ "text": text }]));
    }

    /// Asks of a place in a file.
    #[track_caller]
    pub fn at(&mut self, method: &str, name: &str, place: &Value) -> Value {
        let uri = self.uri(name);
        self.ask(method, json!({ "textDocument": { "uri": uri }, "position": place }))
    }

    /// Asks of a file.
    #[track_caller]
    pub fn of(&mut self, method: &str, name: &str) -> Value {
        let uri = self.uri(name);
        self.ask(method, json!({ "textDocument": { "uri": uri } }))
    }

    /// What stands published of a file: code, start and end of each.
    pub fn findings(&self, name: &str) -> Vec<(String, Value, Value)> {
        let known = self.published.get(&self.uri(name)).and_then(Value::as_array);
        let mut findings: Vec<_> = known
            .into_iter()
            .flatten()
            .map(|it| {
                (it["code"].as_str().unwrap().to_owned(), it["range"]["start"].clone(), it["range"]["end"].clone())
            })
            .collect();
        findings.sort_by_key(Key::to_string_key);
        findings
    }

    pub fn codes(&self, name: &str) -> Vec<String> {
        self.findings(name).into_iter().map(|(code, ..)| code).collect()
    }

    /// Waits until it is so.
    #[track_caller]
    pub fn wait(&mut self, what: &str, is_so: impl Fn(&Self) -> bool) {
        let end = Instant::now() + PATIENCE;
        while !is_so(self) {
            let left = end.saturating_duration_since(Instant::now());
            assert!(self.next_within(left).is_some(), "{what}: {:?}", self.published);
        }
    }

    /// What `check` says of a file that holds `text` now: code, start and end.
    pub fn checked(&self, name: &str, text: &str) -> Vec<(String, Value, Value)> {
        let scratch = self.path(".checked");
        std::fs::create_dir_all(&scratch).unwrap();
        for entry in std::fs::read_dir(self.folder.path()).unwrap() {
            let path = entry.unwrap().path();
            if path.is_file() {
                std::fs::copy(&path, scratch.join(path.file_name().unwrap())).unwrap();
            }
        }
        std::fs::write(scratch.join(name), text).unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_ringwright"))
            .args(["check", "--format", "json", name])
            .current_dir(&scratch)
            .output()
            .unwrap();
        let all: Value = serde_json::from_slice(&output.stdout).unwrap();
        let mut findings: Vec<_> = all
            .as_array()
            .unwrap()
            .iter()
            .filter(|it| it["spans"][0]["file"] == name)
            .map(|it| {
                let [start, end] = ["start", "end"].map(|key| it["spans"][0][key].as_u64().unwrap() as usize);
                (it["code"].as_str().unwrap().to_owned(), position(text, start), position(text, end))
            })
            .collect();
        std::fs::remove_dir_all(&scratch).unwrap();
        findings.sort_by_key(Key::to_string_key);
        findings
    }

    /// Takes its leave and hands back the exit code.
    pub fn leave(mut self) -> Option<i32> {
        self.ask("shutdown", Value::Null);
        self.notify("exit", Value::Null);
        self.to = None;
        self.child.wait().unwrap().code()
    }

    /// Goes without a word.
    pub fn vanish(mut self) -> Option<i32> {
        self.to = None;
        self.child.wait().unwrap().code()
    }
}

impl Drop for Editor {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

trait Key {
    fn to_string_key(&self) -> String;
}

impl Key for (String, Value, Value) {
    fn to_string_key(&self) -> String {
        format!("{} {} {}", self.1, self.2, self.0)
    }
}

fn read(stream: &mut impl BufRead) -> Option<Value> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        if stream.read_line(&mut line).ok()? == 0 {
            return None;
        }
        let line = line.trim();
        if line.is_empty() {
            break;
        }
        if let Some(number) = line.strip_prefix("Content-Length: ") {
            length = number.parse().ok()?;
        }
    }
    let mut body = vec![0; length];
    stream.read_exact(&mut body).ok()?;
    serde_json::from_slice(&body).ok()
}
