//! The name of a file as it stands in what leaves the machine: forward slashes, relative, no folder of the user's.

/// What the text of standard input is called where other programs read the name.
const STDIN: &str = "stdin";

/// `name` as shown, made fit to be kept or sent. An absolute name is told as seen from the folder `here`
/// (absolute; empty when unknown), or by its last step alone when nothing is shared with that folder.
#[must_use]
pub fn portable_name(name: &str, here: &str) -> String {
    if name == "<stdin>" {
        return STDIN.to_owned();
    }
    let (name, here) = (slashed(name), slashed(here));
    if !is_absolute(&name) {
        return steps(&name).collect::<Vec<_>>().join("/");
    }
    let to: Vec<&str> = steps(&name).collect();
    let from: Vec<&str> = steps(&here).collect();
    let shared = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
    if shared == 0 {
        return to.last().copied().unwrap_or("").to_owned();
    }
    let up = std::iter::repeat_n("..", from.len() - shared);
    up.chain(to[shared..].iter().copied()).collect::<Vec<_>>().join("/")
}

/// The folder that an absolute name lies in; nothing for a relative one, which needs none.
#[must_use]
pub fn folder_of(name: &str) -> String {
    let name = slashed(name);
    if !is_absolute(&name) {
        return String::new();
    }
    name.rsplit_once('/').map_or_else(String::new, |(folder, _)| folder.to_owned())
}

/// With forward slashes. Elsewhere than on Windows a backslash is a character like any other.
fn slashed(name: &str) -> String {
    if cfg!(windows) { name.replace('\\', "/") } else { name.to_owned() }
}

fn is_absolute(name: &str) -> bool {
    name.starts_with('/') || (cfg!(windows) && name.get(1..2) == Some(":"))
}

fn steps(name: &str) -> impl Iterator<Item = &str> {
    name.split('/').filter(|step| !step.is_empty() && *step != ".")
}

#[cfg(test)]
mod tests {
    use super::{folder_of, portable_name};

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
            assert_eq!(portable_name(name, here), told, "{name} in {here}");
        }
        assert_eq!(folder_of("/a/b/c.vessel"), "/a/b");
        assert_eq!(folder_of("b/c.vessel"), "");
    }
}
