//! One line a finding, as compilers have it: `file:line:col: severity[code]: message`.

use std::io::{self, Write};

use codespan_reporting::term::{Config, DisplayStyle};

use crate::finding::Finding;

use super::database::diagnostic;
use super::human::emit;
use super::sheet::Sheets;

/// Writes all findings.
pub(super) fn write(findings: &[Finding], sheets: &Sheets, color: bool, out: &mut dyn Write) -> io::Result<()> {
    let config = Config { display_style: DisplayStyle::Short, ..Config::default() };
    findings.iter().try_for_each(|finding| emit(&config, sheets, &diagnostic(finding, sheets), color, out))
}
