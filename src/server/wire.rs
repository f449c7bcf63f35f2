//! Messages on a stream of bytes: a header with their length, then JSON.
//!
//! What cannot be understood is handed on as such, so that it can be answered: one faulty message must not end the
//! session.

use std::io::{self, BufRead, Read, Write};

use lsp_server::Message;
use serde_json::{Value, json};

use super::worker::Report;

/// No recipe comes near; who sends more has lost count.
const MOST_BYTES: usize = 64 << 20;
/// A longer line is no header.
const LONGEST_HEADER: u64 = 4096;

/// What came in.
pub(super) enum Incoming {
    /// A message.
    Message(Message),
    /// JSON that is no message; the id is `null` where none can be made out.
    NoMessage(Value),
    /// A body that is no JSON.
    NoJson,
    /// The worker has looked at a recipe.
    Report(Box<Report>),
    /// Nothing will come any more.
    Closed,
}

/// Reads the next message; `None` at the end of the stream.
///
/// # Errors
/// Those of the stream, and a header without which the next message cannot be found.
pub(super) fn read(input: &mut impl BufRead) -> io::Result<Option<Incoming>> {
    let Some(length) = header(input)? else { return Ok(None) };
    let mut body = vec![0; length];
    input.read_exact(&mut body)?;
    let Ok(value) = serde_json::from_slice::<Value>(&body) else { return Ok(Some(Incoming::NoJson)) };
    let id = value.get("id").cloned().unwrap_or(Value::Null);
    Ok(Some(serde_json::from_value(value).map_or(Incoming::NoMessage(id), Incoming::Message)))
}

/// The length that the header lines tell.
fn header(input: &mut impl BufRead) -> io::Result<Option<usize>> {
    let mut length = None;
    let mut line = Vec::new();
    loop {
        line.clear();
        if input.take(LONGEST_HEADER).read_until(b'\n', &mut line)? == 0 {
            return Ok(None);
        }
        let text = String::from_utf8_lossy(&line);
        let text = text.trim_ascii_end();
        if text.is_empty() {
            break;
        }
        if let Some((name, value)) = text.split_once(':')
            && name.trim().eq_ignore_ascii_case("content-length")
        {
            length = value.trim().parse::<usize>().ok();
        }
    }
    match length {
        Some(length) if length <= MOST_BYTES => Ok(Some(length)),
        Some(_) | None => Err(io::Error::new(io::ErrorKind::InvalidData, "a message without a sensible length")),
    }
}

/// Writes one message.
///
/// # Errors
/// Those of the stream.
pub(super) fn write(output: &mut impl Write, message: &Message) -> io::Result<()> {
    message.write(output)
}

/// Answers what is no message.
///
/// # Errors
/// Those of the stream.
pub(super) fn write_error(output: &mut impl Write, id: &Value, code: i32, message: &str) -> io::Result<()> {
    let body = json!({ "jsonrpc": "2.0", "id": id, "error": { "code": code, "message": message } }).to_string();
    write!(output, "Content-Length: {}\r\n\r\n{body}", body.len())?;
    output.flush()
}

#[cfg(test)]
mod tests {
    use super::{Incoming, read};

    fn read_all(bytes: &[u8]) -> (Vec<Incoming>, bool) {
        let mut input = bytes;
        let mut all = Vec::new();
        loop {
            match read(&mut input) {
                Ok(Some(incoming)) => all.push(incoming),
                Ok(None) => return (all, true),
                Err(_) => return (all, false),
            }
        }
    }

    #[test]
    fn what_is_no_message_does_not_end_the_stream() {
        let (all, is_whole) = read_all(
            b"Content-Length: 2\r\n\r\n{{content-length:4\r\nX: y\r\n\r\ntrueContent-Length: 14\r\n\r\n{\"method\":\"a\"}",
        );
        assert!(is_whole);
        assert!(matches!(all[..], [Incoming::NoJson, Incoming::NoMessage(_), Incoming::Message(_)]), "{}", all.len());
    }

    #[test]
    fn a_senseless_length_is_the_end() {
        assert!(!read_all(b"Content-Length: 99999999999999999999\r\n\r\n{}").1);
        assert!(!read_all(b"Content-Length: 9999999999\r\n\r\n{}").1);
        assert!(!read_all(b"\r\n\r\n{}").1);
        assert!(!read_all(b"Content-Length: 9\r\n\r\n{}").1);
    }
}
