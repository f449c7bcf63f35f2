//! `explain`: the page of a code, or all codes.

use std::fmt::Write;

use crate::finding::catalog::{self, CODES, Code};

use super::{Failure, Outcome, terminal};

/// Prints the page of `code`, or a line for every code when there is none.
pub(super) fn run(code: Option<&str>) -> Result<Outcome, Failure> {
    let text = match code {
        None => overview(),
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

/// A heading for each family, a line for each code.
fn overview() -> String {
    let width = CODES.iter().map(|code| code.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    let mut family = "";
    for code in CODES {
        let own = code.family();
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
    use super::{overview, unknown};
    use crate::cli::Failure;
    use crate::finding::catalog::CODES;

    fn near(asked: &str) -> Vec<&'static str> {
        let failure = unknown(asked);
        let Failure::UnknownCode { near, .. } = failure else { panic!("{failure:?}") };
        near
    }

    #[test]
    fn the_overview_has_every_code_and_every_family_once() {
        let text = overview();
        for code in CODES {
            assert_eq!(text.matches(&format!("  {} ", code.name)).count(), 1, "{}", code.name);
        }
        assert_eq!(text.lines().filter(|line| *line == "ring").count(), 1);
    }

    #[test]
    fn a_slip_finds_its_code() {
        assert_eq!(near("ring/does-not-covr")[0], "ring/does-not-cover");
        assert_eq!(near("does-not-cover"), ["ring/does-not-cover"]);
        assert_eq!(near("seam/does-not-clos"), ["pattern/does-not-close", "ring/does-not-cover"]);
        assert_eq!(near("wood"), ["wood/unknown", "wood/ambiguous"]);
        assert!(near("zzz").is_empty());
    }
}
