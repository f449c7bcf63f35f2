//! `ringwright explain`

use std::fmt::Write as _;

use crate::finding::catalog::{CODES, find};
use crate::finding::nearest;

use super::Outcome;
use super::failure::Failure;
use super::screen::Screen;

pub(super) fn explain(code: Option<&str>, screen: &Screen) -> Result<Outcome, Failure> {
    let text = match code {
        None => list(),
        Some(name) => {
            let near = || nearest(name, CODES.iter().map(|code| code.name));
            let code = find(name).ok_or_else(|| Failure::UnknownCode(name.to_owned(), near()))?;
            // An example may hold a control character; it is shown, not sent to the terminal.
            let page: String = code.page.chars().map(|c| if c == '\u{1}' { '␁' } else { c }).collect();
            format!("{} ({}): {}\n\n{page}", code.name, code.severity.word(), code.summary)
        }
    };
    screen.print(text.as_bytes())?;
    Ok(Outcome::Clean)
}

fn list() -> String {
    let width = CODES.iter().map(|code| code.name.len()).max().unwrap_or(0);
    let (mut text, mut last) = (String::new(), "");
    for code in CODES {
        let family = code.name.split('/').next().unwrap_or("");
        if !last.is_empty() && family != last {
            text.push('\n');
        }
        last = family;
        let _ = writeln!(text, "{:width$}  {:7}  {}", code.name, code.severity.word(), code.summary);
    }
    text
}
