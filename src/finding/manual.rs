//! The reference manual's table of limits, printed from the catalog so that they cannot fall behind it.

use std::fmt::Write as _;

use super::catalog::{CODES, Code};
use super::limits::Told;

/// The table, as Markdown, with a final line end.
#[must_use]
pub fn limits() -> String {
    let mut text = "| what | figure | source | decides |\n|---|---|---|---|\n".to_owned();
    for (limit, codes) in all_limits() {
        let codes: Vec<String> = codes.iter().map(|code| format!("`{}`", code.name)).collect();
        let (what, figure, source) = (cell(limit.what()), cell(&limit.figure()), cell(limit.source()));
        let _ = writeln!(text, "| {what} | {figure} | {source} | {} |", codes.join(", "));
    }
    text
}

/// Every limit, in the order of the codes that compare with it, each with those codes.
fn all_limits() -> Vec<(&'static dyn Told, Vec<&'static Code>)> {
    let mut all: Vec<(&'static dyn Told, Vec<&'static Code>)> = Vec::new();
    for code in CODES.iter().copied() {
        for limit in code.limits.iter().copied() {
            // What a limit is of tells it from all others.
            match all.iter_mut().find(|(known, _)| known.what() == limit.what()) {
                Some((_, codes)) => codes.push(code),
                None => all.push((limit, vec![code])),
            }
        }
    }
    all
}

/// A bar would end the cell of a table.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

#[cfg(test)]
mod tests {
    use super::{all_limits, limits};

    #[test]
    fn every_limit_has_its_row() {
        let text = limits();
        for (limit, codes) in all_limits() {
            assert_eq!(text.matches(&format!("| {} | ", limit.what())).count(), 1, "{}", limit.what());
            // Two limits of one name would be told as one.
            for code in codes {
                let own = code.limits.iter().find(|own| own.what() == limit.what());
                assert!(own.is_some_and(|own| own.figure() == limit.figure()), "{}", limit.what());
            }
        }
    }
}
