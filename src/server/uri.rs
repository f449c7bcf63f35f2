//! Names of files as editors write them, `file:///home/ann/bud%20vase.vessel`, to paths and back.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use crate::source::Platform;

/// The path that a URI means; of another scheme, such as of a text that was never saved, a name of its own.
pub(super) fn path(uri: &str) -> PathBuf {
    PathBuf::from(path_on(Platform::HERE, uri))
}

fn path_on(platform: Platform, uri: &str) -> String {
    let Some(rest) = uri.strip_prefix("file://") else { return uri.to_owned() };
    // Behind the slashes may stand the name of a machine.
    let (machine, path) = rest.split_at(rest.find('/').unwrap_or(0));
    let path = decoded(path);
    match platform {
        Platform::Windows if path.as_bytes().get(2) == Some(&b':') => path.trim_start_matches('/').to_owned(),
        Platform::Windows if !machine.is_empty() && machine != "localhost" => format!("//{machine}{path}"),
        Platform::Windows | Platform::Unix => path,
    }
}

/// The URI of a path.
pub(super) fn of(path: &Path) -> String {
    of_on(Platform::HERE, &path.to_string_lossy())
}

fn of_on(platform: Platform, path: &str) -> String {
    if !platform.is_absolute(path) {
        return path.to_owned();
    }
    let text = platform.slashed(path);
    // A share has the name of its machine where a drive has nothing.
    let mut uri = match (platform, text.starts_with("//")) {
        (Platform::Windows, true) => "file:",
        _ if text.starts_with('/') => "file://",
        _ => "file:///",
    }
    .to_owned();
    for byte in text.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'-' | b'.' | b'_' | b'~' => uri.push(char::from(byte)),
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
    use super::{of_on, path_on};
    use crate::source::Platform::{Unix, Windows};

    #[test]
    fn paths_and_uris_lead_to_each_other() {
        for (written, uri) in [
            ("/a/bud vase.vessel", "file:///a/bud%20vase.vessel"),
            ("/ä/#1%.vessel", "file:///%C3%A4/%231%25.vessel"),
            ("untitled:Untitled-1", "untitled:Untitled-1"),
        ] {
            assert_eq!(path_on(Unix, uri), written);
            assert_eq!(of_on(Unix, written), uri);
        }
        assert_eq!(path_on(Unix, "file://machine/a%2"), "/a%2");
        assert_eq!(path_on(Unix, "file:///c%3A/a.vessel"), "/c:/a.vessel", "no drive, a folder");
        assert_eq!(of_on(Unix, r"/a\b"), "file:///a%5Cb", "a letter like any other");
    }

    #[test]
    fn drives_and_shares_have_uris_too() {
        for (written, uri) in [
            ("c:/a/bud vase.vessel", "file:///c%3A/a/bud%20vase.vessel"),
            ("//shop/share/a.vessel", "file://shop/share/a.vessel"),
            ("untitled:Untitled-1", "untitled:Untitled-1"),
        ] {
            assert_eq!(path_on(Windows, uri), written);
            assert_eq!(of_on(Windows, written), uri);
        }
        assert_eq!(path_on(Windows, "file://localhost/c:/a"), "c:/a");
        for (written, uri) in [
            (r"C:\a\b.vessel", "file:///C%3A/a/b.vessel"),
            (r"\\?\C:\a\b.vessel", "file:///C%3A/a/b.vessel"),
            (r"\\?\UNC\shop\share\b.vessel", "file://shop/share/b.vessel"),
            (r"a\b.vessel", r"a\b.vessel"),
        ] {
            assert_eq!(of_on(Windows, written), uri);
        }
    }
}
