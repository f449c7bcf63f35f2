//! `explain`: the page of a code, the codes of a family, or all codes.

use std::fmt::Write;

use crate::finding::catalog::{self, CODES, Code};
use crate::finding::policy::families;

use super::{Failure, Outcome, terminal};

/// Prints the page of `code`, or a line for every code when there is none or when it is a family;
/// with `list`, those lines alone.
pub(super) fn run(code: Option<&str>, list: bool) -> Result<Outcome, Failure> {
    let text = match code {
        None if list => self::list(),
        None => overview(|_| true),
        Some(family) if families().any(|known| known == family) => overview(|own| own == family),
        Some(asked) => page(catalog::find(asked).ok_or_else(|| unknown(asked))?),
    };
    terminal::print(text.as_bytes())?;
    Ok(Outcome::Clean)
}

fn page(code: &Code) -> String {
    // An example may hold a control character: it is shown, not sent to the terminal.
    let page: String = code.page.chars().map(|c| if c.is_control() && c != '\n' { '␁' } else { c }).collect();
    format!("{} ({}): {}\n\n{page}{}", code.name, code.severity.word(), code.summary, limits(code))
}

/// The figures it compares with, and who says so.
fn limits(code: &Code) -> String {
    let mut text = String::new();
    for (at, limit) in code.limits.iter().enumerate() {
        text.push_str(if at == 0 { "\n## Limits\n" } else { "" });
        let _ = writeln!(text, "- {}: {} ({}).", limit.what(), limit.figure(), limit.source());
    }
    text
}

/// `code  severity  one line` for every code, in the order of the catalog.
fn list() -> String {
    let width = width();
    CODES.iter().fold(String::new(), |mut text, code| {
        let _ = writeln!(text, "{:width$}  {:7}  {}", code.name, code.severity.word(), code.summary);
        text
    })
}

/// Letters of the longest code.
fn width() -> usize {
    CODES.iter().map(|code| code.name.len()).max().unwrap_or(0)
}

/// A heading for each family that is wanted, a line for each of its codes.
fn overview(is_wanted: impl Fn(&str) -> bool) -> String {
    let width = width();
    let mut text = String::new();
    let mut family = "";
    for code in CODES {
        let own = code.family();
        if !is_wanted(own) {
            continue;
        }
        if own != family {
            let space = if family.is_empty() { "" } else { "\n" };
            let _ = writeln!(text, "{space}{own}");
            family = own;
        }
        let _ = writeln!(text, "  {:width$}  {:7}  {}", code.name, code.severity.word(), code.summary);
    }
    text.push_str("\n`ringwright explain CODE` tells more about one of them.\n");
    text
}

/// With known codes like the one asked for.
pub(super) fn unknown(asked: &str) -> Failure {
    Failure::UnknownCode { code: asked.to_owned(), near: catalog::near(asked) }
}

#[cfg(test)]
mod tests {
    use super::{list, overview, unknown};
    use crate::cli::Failure;
    use crate::finding::catalog::CODES;

    fn near(asked: &str) -> Vec<&'static str> {
        let failure = unknown(asked);
        let Failure::UnknownCode { near, .. } = failure else { panic!("{failure:?}") };
        near
    }

    #[test]
    fn the_overview_has_every_code_and_every_family_once() {
        let text = overview(|_| true);
        for code in CODES {
            assert_eq!(text.matches(&format!("  {} ", code.name)).count(), 1, "{}", code.name);
        }
        assert_eq!(text.lines().filter(|line| *line == "ring").count(), 1);
    }

    #[test]
    fn the_list_has_every_code_in_columns_and_nothing_else() {
        let text = list();
        assert_eq!(text.lines().count(), CODES.len());
        let column = text.find("error").unwrap();
        for (line, code) in text.lines().zip(CODES) {
            let (name, rest) = line.split_at(column);
            assert_eq!(name.trim_end(), code.name);
            assert_eq!(rest, format!("{:7}  {}", code.severity.word(), code.summary));
        }
    }

    #[test]
    fn a_family_has_its_own_codes_alone() {
        let text = overview(|family| family == "stave");
        assert!(text.starts_with("stave\n  stave/"), "{text}");
        assert!(!text.contains("ring/"), "{text}");
    }

    #[test]
    fn a_slip_finds_its_code() {
        assert_eq!(near("ring/does-not-covr")[0], "ring/does-not-cover");
        assert_eq!(near("does-not-cover"), ["ring/does-not-cover"]);
        assert_eq!(near("seam/does-not-clos"), ["pattern/does-not-close", "ring/does-not-cover"]);
        assert_eq!(near("rign"), ["ring"], "a family");
        assert!(near("zzz").is_empty());
    }
}
