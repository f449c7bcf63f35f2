//! The name of a file as it stands in what leaves the machine: forward slashes, relative, no folder of the user's.

use crate::source::Platform;

/// What the text of standard input is called where other programs read the name.
const STDIN: &str = "stdin";

/// `name` as shown, made fit to be kept or sent. An absolute name is told as seen from the folder `here`
/// (absolute; empty when unknown), or by its last step alone when nothing is shared with that folder.
#[must_use]
pub fn portable_name(name: &str, here: &str) -> String {
    portable_name_on(Platform::HERE, name, here)
}

fn portable_name_on(platform: Platform, name: &str, here: &str) -> String {
    if name == "<stdin>" {
        return STDIN.to_owned();
    }
    let (name, here) = (platform.slashed(name), platform.slashed(here));
    if !platform.is_absolute(&name) {
        return steps(&name).collect::<Vec<_>>().join("/");
    }
    let to: Vec<&str> = steps(&name).collect();
    let from: Vec<&str> = steps(&here).collect();
    let shared = from.iter().zip(&to).take_while(|(a, b)| platform.is_same_step(a, b)).count();
    if shared == 0 {
        return to.last().copied().unwrap_or("").to_owned();
    }
    let up = std::iter::repeat_n("..", from.len() - shared);
    up.chain(to[shared..].iter().copied()).collect::<Vec<_>>().join("/")
}

/// The folder that an absolute name lies in; nothing for a relative one, which needs none.
#[must_use]
pub fn folder_of(name: &str) -> String {
    folder_of_on(Platform::HERE, name)
}

fn folder_of_on(platform: Platform, name: &str) -> String {
    let name = platform.slashed(name);
    if !platform.is_absolute(&name) {
        return String::new();
    }
    name.rsplit_once('/').map_or_else(String::new, |(folder, _)| folder.to_owned())
}

fn steps(name: &str) -> impl Iterator<Item = &str> {
    name.split('/').filter(|step| !step.is_empty() && *step != ".")
}

#[cfg(test)]
mod tests {
    use super::{folder_of_on, portable_name_on};
    use crate::source::Platform::{Unix, Windows};

    #[test]
    fn no_name_tells_where_on_a_machine_it_is() {
        for (name, here, told) in [
            ("a.vessel", "/home/me", "a.vessel"),
            ("./a/./b.vessel", "", "a/b.vessel"),
            ("../b.vessel", "/home/me", "../b.vessel"),
            ("/home/me/a/b.vessel", "/home/me", "a/b.vessel"),
            ("/home/b.vessel", "/home/me", "../b.vessel"),
            ("/srv/shop/b.vessel", "/home/me", "b.vessel"),
            ("/srv/shop/b.vessel", "", "b.vessel"),
            ("<stdin>", "/home/me", "stdin"),
        ] {
            assert_eq!(portable_name_on(Unix, name, here), told, "{name} in {here}");
        }
        assert_eq!(folder_of_on(Unix, "/a/b/c.vessel"), "/a/b");
        assert_eq!(folder_of_on(Unix, "b/c.vessel"), "");
    }

    #[test]
    fn a_name_from_windows_reads_like_any_other() {
        for (name, here, told) in [
            (r"shop\a.vessel", r"C:\me", "shop/a.vessel"),
            (r".\a.vessel", "", "a.vessel"),
            (r"C:\me\a\b.vessel", r"c:\Me", "a/b.vessel"),
            (r"\\?\C:\me\b.vessel", r"C:\me\a", "../b.vessel"),
            (r"D:\b.vessel", r"C:\me", "b.vessel"),
            (r"\\shop\share\b.vessel", r"\\shop\share\me", "../b.vessel"),
            (r"\\shop\share\b.vessel", r"C:\me", "b.vessel"),
        ] {
            assert_eq!(portable_name_on(Windows, name, here), told, "{name} in {here}");
        }
        assert_eq!(portable_name_on(Unix, r"a\b.vessel", ""), r"a\b.vessel", "a letter like any other");
        assert_eq!(folder_of_on(Windows, r"C:\a\c.vessel"), "C:/a");
        assert_eq!(folder_of_on(Windows, r"a\c.vessel"), "");
    }
}
