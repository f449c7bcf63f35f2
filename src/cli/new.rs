//! `ringwright new`

use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::screen::Screen;
use super::{Outcome, write};

/// The recipe to start from; `{name}` is the vessel's name.
const STARTER: &str = include_str!("starter.vessel");

pub(super) fn new(name: &Path, screen: &Screen) -> Result<Outcome, Failure> {
    let stem = write::stem(name);
    let title = title(&stem.to_string_lossy()).ok_or_else(|| Failure::BadName(name.into()))?;
    let path: PathBuf = name.with_extension("vessel");
    write::write_new(&path, STARTER.replace("{name}", &title).as_bytes())?;
    let shown = path.display();
    let text = format!("wrote {shown}\n\nnext\n  ringwright check {shown}\n  ringwright build {shown} -o out\n");
    screen.print(text.as_bytes())?;
    Ok(Outcome::Clean)
}

/// `salad-bowl` is called "Salad bowl"; `None` for what no text in a recipe can hold.
fn title(stem: &str) -> Option<String> {
    let words = stem.replace(['-', '_'], " ");
    let mut letters = words.trim().chars();
    let first = letters.next()?;
    let title: String = first.to_uppercase().chain(letters).collect();
    let is_plain = title.chars().all(|c| c.is_alphanumeric() || " .,'()+".contains(c));
    is_plain.then_some(title)
}

#[cfg(test)]
mod tests {
    use super::{STARTER, title};

    #[test]
    fn a_name_becomes_a_title() {
        assert_eq!(title("salad-bowl").as_deref(), Some("Salad bowl"));
        assert_eq!(title("élan_2").as_deref(), Some("Élan 2"));
        assert_eq!(title(""), None);
        assert_eq!(title("a\"b"), None);
    }

    #[test]
    fn the_starter_names_its_vessel_once() {
        assert_eq!(STARTER.matches("{name}").count(), 1);
    }
}
