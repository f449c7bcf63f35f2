//! Names of files that every system can hold. A recipe goes with its folder to other machines, and what is a name here may
//! be a device there.

use unicode_normalization::UnicodeNormalization as _;

use crate::finding::render::one_line;
use crate::source::Platform;

/// What Windows keeps for devices, whatever stands behind a dot.
const DEVICES: [&str; 6] = ["con", "prn", "aux", "nul", "conin$", "conout$"];
/// And these, with a digit behind.
const PORTS: [&str; 2] = ["com", "lpt"];

/// Why not every system can hold a file of this name; none where all can.
pub(super) fn trouble(name: &str) -> Option<&'static str> {
    let stem = name.split('.').next().unwrap_or("").trim_end().to_lowercase();
    let is_port = PORTS.iter().any(|port| {
        let digit = stem.strip_prefix(port).unwrap_or("");
        matches!(digit, "¹" | "²" | "³") || (digit.len() == 1 && ("1"..="9").contains(&digit))
    });
    if is_port || DEVICES.contains(&stem.as_str()) {
        Some("Windows keeps this name for a device")
    } else if name.ends_with(['.', ' ']) {
        Some("Windows drops a dot or a blank at the end of a name")
    } else if name.contains(|letter: char| letter.is_control() || r#"<>:"/\|?*"#.contains(letter)) {
        Some(r#"Windows allows none of `<>:"/\|?*` in a name"#)
    } else if one_line(name) != name {
        Some("a character in it cannot be seen, or turns the writing round")
    } else {
        None
    }
}

/// The path as an argument that a shell takes for one and the program for a path.
pub(super) fn argument(platform: Platform, path: &str) -> String {
    let path = if path.starts_with('-') { format!("./{path}") } else { path.to_owned() };
    let is_plain = |letter: char| letter.is_alphanumeric() || "-_./:+@,".contains(letter);
    match path {
        path if path.chars().all(is_plain) => path,
        path if platform == Platform::Windows => format!("\"{path}\""),
        path => format!("'{}'", path.replace('\'', r"'\''")),
    }
}

/// The name as a disk knows it that tells no upper from lower case, drops dots and blanks at the end, and takes a letter
/// with its accent for one, however it is written: those of Windows and macOS do, each some of it.
pub(super) fn folded(name: &str) -> String {
    name.trim_end_matches(['.', ' ']).nfd().collect::<String>().to_lowercase().nfc().collect()
}

#[cfg(test)]
mod tests {
    use super::{argument, folded, trouble};
    use crate::source::Platform;

    #[test]
    fn what_some_system_cannot_hold_is_told() {
        for (name, word) in [
            ("con.vessel", "device"),
            ("Aux.v1.vessel", "device"),
            ("NUL", "device"),
            ("com7.vessel", "device"),
            ("lpt².vessel", "device"),
            ("prn .vessel", "device"),
            ("bowl.", "dot"),
            ("bowl ", "blank"),
            ("a:b.vessel", "none of"),
            ("what?.vessel", "none of"),
            (r"a\b.vessel", "none of"),
            ("a\tb.vessel", "none of"),
            ("a\u{202e}b.vessel", "cannot be seen"),
        ] {
            assert!(trouble(name).is_some_and(|why| why.contains(word)), "{name}: {:?}", trouble(name));
        }
        for name in
            ["bowl.vessel", "console.vessel", "com.vessel", "com0.vessel", "com12.vessel", "a.con", "½ jar – Ä.vessel"]
        {
            assert_eq!(trouble(name), None, "{name}");
        }
    }

    #[test]
    fn a_path_is_quoted_where_a_shell_would_part_it() {
        for (path, quoted) in [
            ("shop/rye-crock.vessel", "shop/rye-crock.vessel"),
            ("-x.vessel", "./-x.vessel"),
            ("my bowl.vessel", "'my bowl.vessel'"),
            ("a'b", r"'a'\''b'"),
            ("$HOME", "'$HOME'"),
        ] {
            assert_eq!(argument(Platform::Unix, path), quoted);
        }
        assert_eq!(argument(Platform::Windows, r"C:\my bowl.vessel"), r#""C:\my bowl.vessel""#);
    }

    #[test]
    fn some_disks_take_two_names_for_one() {
        assert_eq!(folded("Bowl"), folded("bowl"));
        assert_eq!(folded("ÄPFEL"), folded("äpfel"));
        assert_eq!(folded("bowl. ."), folded("bowl"));
        // Composed and decomposed, as macOS used to write all names.
        assert_eq!(folded("sch\u{fc}ssel"), folded("schu\u{308}ssel"));
        assert_eq!(folded("A\u{30a}NGSTRO\u{308}M"), folded("\u{e5}ngstr\u{f6}m"));
        assert_ne!(folded("schussel"), folded("sch\u{fc}ssel"));
        assert_ne!(folded("bowl"), folded("bowls"));
    }
}
