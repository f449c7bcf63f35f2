//! A server for one page and its events, of as little HTTP/1.1 as a browser needs: a request, an answer, the end.

use std::io::{self, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

use super::board::Board;
use super::request::{Refused, SIZE_LIMIT, Wanted, wanted};

/// So many tabs may look at once.
const MOST_CONNECTIONS: usize = 64;

/// A browser sends its request at once; who takes longer is none.
const TIME_TO_ASK: Duration = Duration::from_secs(5);
const TIME_TO_TAKE: Duration = Duration::from_secs(10);

/// How often a line is sent to find out who has gone.
const SIGN_OF_LIFE: Duration = Duration::from_secs(10);

/// Answers until the program ends.
pub(super) fn serve(listener: &TcpListener, port: u16, board: &Arc<Board>) {
    let open = Arc::new(AtomicUsize::new(0));
    for stream in listener.incoming() {
        let Ok(mut stream) = stream else {
            // Too many files are open, or the like: it may pass.
            thread::sleep(Duration::from_millis(20));
            continue;
        };
        let place = Place::taken(&open);
        if open.load(Ordering::SeqCst) > MOST_CONNECTIONS {
            let _ = stream.set_write_timeout(Some(Duration::from_millis(100)));
            let _ = refuse(&mut stream, Refused(503, "too many look at this preview at once"));
            continue;
        }
        let board = Arc::clone(board);
        let spawned = thread::Builder::new().spawn(move || {
            // Who has gone has seen enough.
            let _ = answer(&mut stream, port, &board);
            drop(place);
        });
        drop(spawned);
    }
}

/// Counted as long as it is there.
struct Place(Arc<AtomicUsize>);

impl Place {
    fn taken(open: &Arc<AtomicUsize>) -> Self {
        open.fetch_add(1, Ordering::SeqCst);
        Self(Arc::clone(open))
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::SeqCst);
    }
}

fn answer(stream: &mut TcpStream, port: u16, board: &Board) -> io::Result<()> {
    stream.set_nodelay(true)?;
    stream.set_read_timeout(Some(TIME_TO_ASK))?;
    stream.set_write_timeout(Some(TIME_TO_TAKE))?;
    let asked = head(stream)?.and_then(|head| wanted(&head, port));
    match asked {
        Ok(Wanted::Page) => {
            let page = board.page();
            give(stream, "200 OK", "text/html; charset=utf-8", page.as_bytes())
        }
        Ok(Wanted::Events { since }) => events(stream, board, since),
        Err(refused) => refuse(stream, refused),
    }
}

/// The head of a request, up to its empty line. As many reads as bytes at the most, so that slow drops end too.
fn head(stream: &mut TcpStream) -> io::Result<Result<Vec<u8>, Refused>> {
    const MOST_READS: usize = 64;
    let mut head = Vec::new();
    let mut part = [0; 4096];
    for _ in 0..MOST_READS {
        let read = stream.read(&mut part)?;
        head.extend_from_slice(&part[..read]);
        if let Some(end) = head.windows(4).position(|four| four == b"\r\n\r\n") {
            head.truncate(end + 4);
            return Ok(Ok(head));
        }
        if read == 0 {
            return Ok(Err(Refused(400, "this is not HTTP")));
        }
        if head.len() > SIZE_LIMIT {
            return Ok(Err(Refused(431, "the request is too long")));
        }
    }
    Ok(Err(Refused(408, "the request comes too slowly")))
}

/// Tells of each new version until the browser goes.
fn events(stream: &mut TcpStream, board: &Board, since: Option<u64>) -> io::Result<()> {
    let head = format!("HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\n{}\r\nretry: 1000\n\n", common());
    stream.write_all(head.as_bytes())?;
    let mut known = since;
    loop {
        match board.another_than(known, SIGN_OF_LIFE) {
            Some(version) => {
                known = Some(version);
                stream.write_all(format!("id: {version}\nevent: drawn\ndata: {version}\n\n").as_bytes())?;
            }
            None => stream.write_all(b":\n\n")?,
        }
    }
}

fn refuse(stream: &mut TcpStream, Refused(status, reason): Refused) -> io::Result<()> {
    let words = match status {
        403 => "403 Forbidden",
        404 => "404 Not Found",
        405 => "405 Method Not Allowed\r\nAllow: GET",
        408 => "408 Request Timeout",
        431 => "431 Request Header Fields Too Large",
        503 => "503 Service Unavailable",
        _ => "400 Bad Request",
    };
    give(stream, words, "text/plain; charset=utf-8", format!("{reason}\n").as_bytes())
}

fn give(stream: &mut TcpStream, status: &str, kind: &str, body: &[u8]) -> io::Result<()> {
    let head =
        format!("HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\n{}\r\n", body.len(), common());
    stream.write_all(head.as_bytes())?;
    stream.write_all(body)?;
    stream.flush()
}

/// Kept by nobody, framed by nobody, read by no other page.
fn common() -> &'static str {
    "Connection: close\r\nCache-Control: no-store\r\nX-Content-Type-Options: nosniff\r\nX-Frame-Options: DENY\r\n\
     Cross-Origin-Resource-Policy: same-origin\r\nReferrer-Policy: no-referrer\r\n\
     Content-Security-Policy: frame-ancestors 'none'\r\n"
}
