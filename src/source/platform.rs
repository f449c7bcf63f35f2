/// A kind of system, as far as names of files go. What depends on it is told which one, so that all of it is tested anywhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Platform {
    /// Linux, macOS and the like: `/` alone parts a path, any other character may stand in a name.
    Unix,
    /// Drives, shares, and two signs that part a path; upper and lower case are one.
    Windows,
}

impl Platform {
    /// The one that the program runs on.
    pub const HERE: Self = if cfg!(windows) { Self::Windows } else { Self::Unix };

    /// The path with `/` alone between its steps, and without the sign by which Windows marks a path as final.
    #[must_use]
    pub fn slashed(self, path: &str) -> String {
        if self == Self::Unix {
            return path.to_owned();
        }
        let path = path.replace('\\', "/");
        let Some(rest) = path.strip_prefix("//?/") else { return path };
        rest.strip_prefix("UNC/").map_or_else(|| rest.to_owned(), |share| format!("//{share}"))
    }

    /// Whether a path begins at a root.
    #[must_use]
    pub fn is_absolute(self, path: &str) -> bool {
        match self {
            Self::Unix => path.starts_with('/'),
            Self::Windows => path.starts_with(['/', '\\']) || path.get(1..2) == Some(":"),
        }
    }

    /// Whether `character` parts the steps of a path.
    #[must_use]
    pub fn parts_steps(self, character: char) -> bool {
        character == '/' || (self == Self::Windows && character == '\\')
    }

    /// Whether two steps of a path are one.
    #[must_use]
    pub fn is_same_step(self, one: &str, other: &str) -> bool {
        one == other || (self == Self::Windows && one.to_lowercase() == other.to_lowercase())
    }
}

#[cfg(test)]
mod tests {
    use super::Platform::{Unix, Windows};

    #[test]
    fn a_backslash_parts_steps_on_windows_alone() {
        for (path, windows) in [
            ("a/b", "a/b"),
            (r"a\b", "a/b"),
            (r"C:\a b\c", "C:/a b/c"),
            (r"\\?\C:\a", "C:/a"),
            (r"\\?\UNC\shop\share\a", "//shop/share/a"),
            (r"\\shop\share\a", "//shop/share/a"),
        ] {
            assert_eq!((Unix.slashed(path).as_str(), Windows.slashed(path).as_str()), (path, windows));
        }
        assert!(Windows.parts_steps('\\') && !Unix.parts_steps('\\') && Unix.parts_steps('/'));
    }

    #[test]
    fn drives_and_shares_are_roots_on_windows_alone() {
        for (path, unix, windows) in [
            ("/a", true, true),
            (r"\a", false, true),
            (r"C:\a", false, true),
            ("c:/a", false, true),
            (r"\\shop\share", false, true),
            ("a/b", false, false),
            (r"a\b", false, false),
            ("", false, false),
            ("ä:", false, false),
        ] {
            assert_eq!((Unix.is_absolute(path), Windows.is_absolute(path)), (unix, windows), "{path}");
        }
        assert!(Windows.is_same_step("C:", "c:") && !Unix.is_same_step("Shop", "shop"));
    }
}
