//! The preview from outside: who may read it, and what a save does.

#![cfg(unix)]
#![allow(clippy::unwrap_used, clippy::print_stderr, clippy::disallowed_methods)]

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, ChildStdout, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use crate::cli_support::Bench;

/// Far more than a save takes even on a machine that has much else to do.
const PATIENCE: Duration = Duration::from_secs(20);

struct Preview {
    child: Child,
    port: u16,
    _out: BufReader<ChildStdout>,
}

impl Preview {
    fn of(bench: &Bench, recipe: &str) -> Self {
        let mut command = bench.command(&["preview", recipe, "--port", "0", "--no-open"]);
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let mut line = String::new();
        out.read_line(&mut line).unwrap();
        let port = line.trim().strip_prefix("http://127.0.0.1:").and_then(|rest| rest.strip_suffix('/'));
        let port = port.unwrap_or_else(|| panic!("no address: {line:?}")).parse().unwrap();
        Self { child, port, _out: out }
    }

    /// The whole answer to a request with these lines of head.
    fn ask(&self, head: &str) -> String {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        stream.write_all(head.as_bytes()).unwrap();
        let mut answer = Vec::new();
        // One that is refused may be told so with a reset.
        let _ = stream.read_to_end(&mut answer);
        String::from_utf8_lossy(&answer).into_owned()
    }

    fn get(&self, path: &str) -> String {
        self.ask(&format!("GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n\r\n", self.port))
    }

    /// Until the page is as wanted.
    #[track_caller]
    fn until(&self, what: &str, is_so: impl Fn(&str) -> bool) -> String {
        let start = Instant::now();
        loop {
            let page = self.get("/");
            if is_so(&page) {
                return page;
            }
            assert!(start.elapsed() < PATIENCE, "{what}: {}", &page[page.find("<body").unwrap_or(0)..]);
            thread::sleep(Duration::from_millis(20));
        }
    }

    fn events(&self) -> Events {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        write!(stream, "GET /events HTTP/1.1\r\nHost: localhost:{}\r\n\r\n", self.port).unwrap();
        Events(BufReader::new(stream))
    }
}

impl Drop for Preview {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

struct Events(BufReader<TcpStream>);

impl Events {
    /// The version of the next event.
    fn next(&mut self) -> u64 {
        loop {
            let mut line = String::new();
            assert!(self.0.read_line(&mut line).unwrap() > 0, "the stream ended");
            if let Some(version) = line.strip_prefix("data: ") {
                return version.trim().parse().unwrap();
            }
        }
    }
}

fn bench() -> Bench {
    let bench = Bench::new();
    bench.run(&["new", "bowl"]).says(0, &[]);
    bench
}

fn is_clean(page: &str) -> bool {
    page.contains("No findings") && !page.contains("class=\"older\"")
}

#[test]
fn the_page_shows_the_sheet_and_the_recipe_beside_it() {
    let bench = bench();
    let preview = Preview::of(&bench, "bowl.vessel");
    let page = preview.get("/");
    assert!(page.starts_with("HTTP/1.1 200 OK\r\n"), "{}", &page[..200.min(page.len())]);
    for words in
        ["Cache-Control: no-store", "X-Frame-Options: DENY", "connect-src 'self'", "id=\"cut-list\"", "id=\"line-0-1\""]
    {
        assert!(page.contains(words), "{words}");
    }
    assert!(is_clean(&page));
    assert!(preview.get("/design.json").starts_with("HTTP/1.1 404 "));
    assert!(preview.get("/../bowl.vessel").starts_with("HTTP/1.1 404 "));
}

#[test]
fn a_save_is_told_at_once() {
    let bench = bench();
    let preview = Preview::of(&bench, "bowl.vessel");
    let mut events = preview.events();
    let mut known = events.next();
    let text = bench.text("bowl.vessel");
    let mut times = Vec::new();
    for turn in 0..10 {
        thread::sleep(Duration::from_millis(60));
        let start = Instant::now();
        bench.file("bowl.vessel", format!("{text}# {turn}\n"));
        let version = events.next();
        times.push(start.elapsed());
        assert!(version > known);
        known = version;
        assert!(preview.get("/").contains(&format!("# {turn}</code>")));
    }
    times.sort();
    eprintln!("measured: from save to event {:?}, at most {:?}", times[times.len() / 2], times[times.len() - 1]);
    assert!(times[times.len() / 2] < PATIENCE);
}

#[test]
fn a_broken_text_keeps_the_last_sheet_and_shows_what_is_wrong() {
    let bench = bench();
    let preview = Preview::of(&bench, "bowl.vessel");
    let text = bench.text("bowl.vessel");
    bench.file("bowl.vessel", text.replace("disc walnut ", "disc walnutt "));
    let page = preview.until("the finding", |page| page.contains("walnutt"));
    assert!(page.contains("The recipe has errors.") && page.contains("The sheet is of an earlier text."), "no banner");
    assert!(page.contains("id=\"cut-list\""), "the last sheet is gone");
    let line = 1 + text.lines().position(|line| line.contains("disc walnut ")).unwrap();
    assert!(page.contains(&format!("<li id=\"line-0-{line}\" class=\"error\">")), "not beside line {line}");
    assert!(page.contains("<span class=\"code\">wood/unknown</span>"));
    bench.file("bowl.vessel", &text);
    preview.until("mended", is_clean);
}

#[test]
fn a_recipe_that_is_broken_from_the_start_is_shown_without_a_sheet() {
    let bench = bench();
    bench.file("bowl.vessel", "vessel \"<b>\" {\n");
    let preview = Preview::of(&bench, "bowl.vessel");
    let page = preview.get("/");
    assert!(page.contains("Nothing is drawn yet.") && page.contains("vessel &quot;&lt;b&gt;&quot; {"));
    assert!(!page.contains("earlier text"));
}

#[test]
fn all_ways_of_saving_are_seen() {
    let bench = bench();
    let preview = Preview::of(&bench, "bowl.vessel");
    let text = bench.text("bowl.vessel");
    let with = |words: &str| format!("{text}# {words}\n");
    let seen = |words: &str| preview.until(words, |page| page.contains(&format!("# {words}</code>")));
    // Written beside it and put in its place.
    bench.file(".bowl.vessel.swp", with("renamed"));
    fs::rename(bench.path(".bowl.vessel.swp"), bench.path("bowl.vessel")).unwrap();
    seen("renamed");
    // The old one put aside as a backup, a new one written.
    fs::rename(bench.path("bowl.vessel"), bench.path("bowl.vessel~")).unwrap();
    bench.file("bowl.vessel", with("backed up"));
    seen("backed up");
    // Gone, and there again.
    fs::remove_file(bench.path("bowl.vessel")).unwrap();
    let page = preview.until("gone", |page| page.contains("The recipe cannot be read"));
    assert!(page.contains("id=\"cut-list\"") && page.contains("The sheet is of an earlier text."));
    bench.file("bowl.vessel", with("again"));
    assert!(is_clean(&seen("again")));
    // With its whole folder.
    bench.file("deep/other.vessel", with("in a folder"));
    let preview = Preview::of(&bench, "deep/other.vessel");
    fs::remove_dir_all(bench.path("deep")).unwrap();
    preview.until("folder gone", |page| page.contains("The recipe cannot be read"));
    bench.file("deep/other.vessel", with("new folder"));
    preview.until("new folder", |page| page.contains("# new folder</code>"));
    bench.file("deep/other.vessel", with("watched again"));
    preview.until("watched again", |page| page.contains("# watched again</code>"));
}

#[test]
fn files_that_are_used_are_watched_too_even_before_they_are_there() {
    let bench = bench();
    fs::create_dir(bench.path(".git")).unwrap();
    let text = bench.text("bowl.vessel");
    bench.file("bowl.vessel", text.replacen("units in ", "use \"shop/workshop.vessel\"\nunits in ", 1));
    let preview = Preview::of(&bench, "bowl.vessel");
    assert!(preview.get("/").contains("use/not-found"));
    bench.file("shop/workshop.vessel", "units in\nshop { kerf 1/8 }\n");
    let page = preview.until("the file that was missed", is_clean);
    assert!(page.contains("shop { kerf 1/8 }"), "its text is shown");
    bench.file("shop/workshop.vessel", "units in\nshop { kerff 1/8 }\n");
    let page = preview.until("a slip in the used file", |page| page.contains("kerff"));
    assert!(page.contains("<li id=\"line-1-2\" class=\"error\">"), "beside its line in the other file");
}

#[test]
fn nobody_else_can_read_it() {
    let bench = bench();
    let preview = Preview::of(&bench, "bowl.vessel");
    let here = format!("Host: 127.0.0.1:{}", preview.port);
    for (head, status) in [
        ("GET / HTTP/1.1\r\nHost: evil.example".to_owned(), 403),
        ("GET / HTTP/1.1\r\nX: y".to_owned(), 403),
        (format!("GET / HTTP/1.1\r\n{here}\r\nOrigin: http://evil.example"), 403),
        (format!("GET /events HTTP/1.1\r\n{here}\r\nSec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: no-cors"), 403),
        (format!("POST / HTTP/1.1\r\n{here}\r\nContent-Length: 0"), 405),
        (format!("OPTIONS / HTTP/1.1\r\n{here}"), 405),
        (format!("GET / HTTP/1.1\r\n{here}\r\nX: {}", "y".repeat(40_000)), 431),
        ("hello".to_owned(), 400),
    ] {
        let answer = preview.ask(&format!("{head}\r\n\r\n"));
        let is_so = answer.starts_with(&format!("HTTP/1.1 {status} "));
        // A system may drop what is unread together with the answer.
        assert!(is_so || (status == 431 && answer.is_empty()), "{}: {answer}", &head[..40.min(head.len())]);
        assert!(!answer.contains("Access-Control") && !answer.contains("<html"), "{answer}");
    }
    assert!(preview.get("/").starts_with("HTTP/1.1 200 "), "and it still answers");
}

#[test]
fn a_port_that_is_taken_is_told_with_the_way_out() {
    let bench = bench();
    let taken = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let ran = bench.run(&["preview", "bowl.vessel", "--no-open", "--port", &port]);
    ran.says(2, &["preview/port-in-use", &format!("port {port}"), "--port 0"]);
}

#[test]
fn what_cannot_be_previewed_is_told_before_anything_is_served() {
    let bench = bench();
    bench.run(&["preview", "bowll.vessel", "--no-open"]).says(2, &["file/not-found", "bowll.vessel"]);
    bench.run(&["preview", "-", "--no-open"]).says(2, &["preview/standard-input"]);
    bench.run(&["preview", ".", "--no-open"]).says(2, &["file/is-a-folder"]);
}
