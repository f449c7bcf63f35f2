//! Names of files as editors write them, `file:///home/ann/bud%20vase.vessel`, to paths and back.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

/// The path that a URI means; of another scheme, such as of a text that was never saved, a name of its own.
pub(super) fn path(uri: &str) -> PathBuf {
    let Some(rest) = uri.strip_prefix("file://") else { return PathBuf::from(uri) };
    // Behind the slashes may stand the name of a machine.
    let path = decoded(rest.find('/').and_then(|at| rest.get(at..)).unwrap_or(rest));
    let has_drive = path.as_bytes().get(2) == Some(&b':');
    PathBuf::from(if has_drive { path.trim_start_matches('/') } else { &path })
}

/// The URI of a path.
pub(super) fn of(path: &Path) -> String {
    let text = path.to_string_lossy();
    if path.is_relative() {
        return text.into_owned();
    }
    let mut uri = "file://".to_owned();
    if !text.starts_with('/') {
        uri.push('/');
    }
    for byte in text.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'-' | b'.' | b'_' | b'~' => uri.push(char::from(byte)),
            b'\\' if cfg!(windows) => uri.push('/'),
            _ => {
                let _ = write!(uri, "%{byte:02X}");
            }
        }
    }
    uri
}

fn decoded(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let Some((first, behind)) = rest.split_first() {
        let hex = if *first == b'%' { behind.get(..2) } else { None };
        let hex = hex.and_then(|hex| std::str::from_utf8(hex).ok()).and_then(|hex| u8::from_str_radix(hex, 16).ok());
        if let Some(byte) = hex {
            bytes.push(byte);
            rest = behind.get(2..).unwrap_or(&[]);
        } else {
            bytes.push(*first);
            rest = behind;
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::{of, path};

    #[test]
    fn paths_and_uris_lead_to_each_other() {
        for (written, uri) in [
            ("/a/bud vase.vessel", "file:///a/bud%20vase.vessel"),
            ("/ä/#1%.vessel", "file:///%C3%A4/%231%25.vessel"),
            ("untitled:Untitled-1", "untitled:Untitled-1"),
        ] {
            assert_eq!(path(uri), Path::new(written));
            assert_eq!(of(Path::new(written)), uri);
        }
        assert_eq!(path("file:///c%3A/a.vessel"), Path::new("c:/a.vessel"));
        assert_eq!(path("file://machine/a%2"), Path::new("/a%2"));
    }
}
