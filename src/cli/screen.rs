//! Where things are printed and how: product to standard output, all else to standard error.

use std::io::{self, IsTerminal, Write};

use miette::{GraphicalReportHandler, GraphicalTheme, NarratableReportHandler};

use crate::finding::Finding;
use crate::finding::render::{self, FindingJson, Format};
use crate::source::World;

use super::args::{ColorArg, FormatArg};
use super::failure::Failure;

pub(super) struct Screen {
    pub(super) format: Format,
    color: ColorArg,
}

impl Screen {
    pub(super) fn new(format: FormatArg, color: ColorArg) -> Self {
        Self { format: format.into(), color }
    }

    /// Standard output, locked and buffered.
    #[allow(clippy::unused_self, reason = "all printing goes through the screen")]
    pub(super) fn out(&self) -> impl Write {
        io::BufWriter::new(io::stdout().lock())
    }

    fn colors(&self, is_terminal: bool) -> bool {
        match self.color {
            ColorArg::Always => true,
            ColorArg::Never => false,
            ColorArg::Auto => is_terminal && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty()),
        }
    }

    /// Shows findings on standard error, or on standard output where they are what was asked for.
    pub(super) fn findings(&self, findings: &[Finding], world: &dyn World, are_product: bool) -> Result<(), Failure> {
        let mut text = Vec::new();
        let is_terminal = if are_product { io::stdout().is_terminal() } else { io::stderr().is_terminal() };
        render::render(self.format, findings, world, self.colors(is_terminal), &mut text).map_err(Failure::Print)?;
        if are_product { self.print(&text) } else { Self::say(&text) }
    }

    /// Shows the findings of several recipes as one array.
    pub(super) fn json(&self, rows: &[FindingJson]) -> Result<(), Failure> {
        let mut text = Vec::new();
        render::write_json(rows, &mut text).map_err(Failure::Print)?;
        self.print(&text)
    }

    /// To standard output.
    pub(super) fn print(&self, text: &[u8]) -> Result<(), Failure> {
        let mut out = self.out();
        out.write_all(text).and_then(|()| out.flush()).map_err(Failure::Print)
    }

    /// To standard error.
    pub(super) fn say(text: &[u8]) -> Result<(), Failure> {
        io::stderr().lock().write_all(text).map_err(Failure::Print)
    }

    /// Tells why the program could not run.
    pub(super) fn failure(&self, failure: &Failure) {
        let mut text = String::new();
        let told = match self.format {
            Format::Json => {
                text = failure.json();
                Ok(())
            }
            Format::Narrated => NarratableReportHandler::new().render_report(&mut text, failure),
            Format::Human | Format::Short => {
                let theme = if self.colors(io::stderr().is_terminal()) {
                    GraphicalTheme::unicode()
                } else {
                    GraphicalTheme::unicode_nocolor()
                };
                GraphicalReportHandler::new_themed(theme).with_width(100).render_report(&mut text, failure)
            }
        };
        if told.is_err() {
            text = format!("error: {failure}\n");
        }
        let _ = Self::say(text.as_bytes());
    }
}
