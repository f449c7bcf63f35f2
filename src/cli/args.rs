//! What can be said on the command line.

use std::ops::RangeInclusive;
use std::path::PathBuf;

use clap::builder::PossibleValue;
use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};

use crate::finding::render::Format;
use crate::mend::Wanted;
use crate::quantity::Date;

use super::levels::Weights;
use super::terminal::Stream;

const EXAMPLES: &str = "\
Examples:
  ringwright new bowl                      a commented starter recipe, bowl.vessel
  ringwright check bowl.vessel             what is wrong with it, and what to do
  ringwright build bowl.vessel -o bowl     the papers for the shop, in the folder bowl
  ringwright explain ring/does-not-cover   more about one kind of finding

Exit codes:
  0  nothing stands against it (there may be warnings and notes)
  1  findings deny it
  2  it could not run: no such file, cannot write, wrong usage";

const CHECK_EXAMPLES: &str = "\
Examples:
  ringwright check crock.vessel
  ringwright check recipes --deny warnings
  ringwright check crock.vessel --deny ring --level wall/thin=off
  ringwright check --format short recipes | sort
  ringwright check - < crock.vessel
  ringwright check recipes --format sarif > findings.sarif
  ringwright check recipes --baseline known.json
  ringwright check --diff crock.vessel     what --fix would change, as a patch; nothing is written
  ringwright check --fix crock.vessel      mend what has one right answer, and tell the rest

--fix never touches a comment, never makes a readable file unreadable, and keeps a fix only when it
leaves every recipe of the command line better or as it was. Only files that PATH names are written,
also of those that a recipe uses; each whole or not at all.

Findings go to standard error; with `--format short`, `json` or `sarif` they are the product
and go to standard output.

Exit codes: 0 clean or warnings only, 1 errors or what --deny names, 2 could not run;
with --fix they tell of what is left; with --diff 0 is nothing to change and 1 is a patch";

const BUILD_EXAMPLES: &str = "\
Examples:
  ringwright build crock.vessel                the summary only, nothing is written
  ringwright build crock.vessel -o crock       and all documents into the folder crock
  ringwright build a.vessel b.vessel -o out    into out/a and out/b
  ringwright build crock.vessel -o crock --start 2027-03-01
                                               the glue schedule by date, and as a calendar file
  ringwright build crock.vessel --effort 20    look longer for a cheaper, shorter plan

Every document is written whole or not at all, and nothing is written when a recipe is denied.
A file that no build wrote, or that was edited since, is never overwritten without --force.

Exit codes: 0 built (there may be warnings), 1 errors or what --deny names, 2 could not run";

/// A compiler for segmented woodturning: from a recipe to cut list, glue schedule and turning notes
///
/// A recipe is a text file, `*.vessel`. It says the outside shape, the wall and the layers of glued
/// rings from the bench up; ringwright computes every cut and checks that the vessel can be made.
#[derive(Debug, Parser)]
#[command(name = "ringwright", version, after_help = EXAMPLES)]
pub(super) struct Args {
    #[command(flatten)]
    pub(super) output: Output,
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Say what is wrong with recipes, and what to do about it
    #[command(after_help = CHECK_EXAMPLES)]
    Check {
        /// Recipes, or folders whose `*.vessel` files are checked; `-` reads standard input
        #[arg(required = true, value_name = "PATH")]
        paths: Vec<PathBuf>,
        #[command(flatten)]
        weights: Weights,
        #[command(flatten)]
        mending: Mending,
        #[command(flatten)]
        tolerance: Tolerance,
    },
    /// Compute what the shop needs: a summary, and with -o all documents
    #[command(after_help = BUILD_EXAMPLES)]
    Build {
        /// Recipes; `-` reads standard input
        #[arg(required = true, value_name = "RECIPE")]
        recipes: Vec<PathBuf>,
        /// The folder to write the documents to
        #[arg(short = 'o', long = "out", value_name = "DIR")]
        folder: Option<PathBuf>,
        /// Overwrite files that no build wrote, or that were edited since
        #[arg(long, requires = "folder")]
        force: bool,
        #[command(flatten)]
        planning: Planning,
        #[command(flatten)]
        weights: Weights,
    },
    /// Tell more about a kind of finding
    ///
    /// Without a code: all of them, family by family, a line each.
    #[command(after_help = "Exit codes: 0 explained, 2 there is no such code")]
    Explain {
        /// As it stands in the brackets of a finding: `ring/does-not-cover`; or a family: `ring`
        code: Option<String>,
        /// For scripts: code, severity and one line for every code, and nothing else
        #[arg(long, conflicts_with = "code")]
        list: bool,
    },
    /// Print the JSON Schema of design.json
    #[command(after_help = "Exit codes: 0 printed, 2 could not print")]
    Schema,
    /// Write a commented starter recipe, NAME.vessel
    ///
    /// A file that is there already is left alone.
    #[command(after_help = "Exit codes: 0 written, 2 could not write")]
    New {
        /// What the vessel is called; may have folders before it
        name: PathBuf,
    },
    /// Serve an editor: findings as you type, help, completion, renaming
    ///
    /// Speaks the Language Server Protocol on standard input and output; editors start it, people need not.
    /// grammar/editors.md tells how to set up yours.
    #[command(after_help = "Exit codes: 0 the editor took its leave, 1 it went without a word")]
    Lsp,
}

/// What is asked of the plan.
#[derive(Debug, Clone, Copy, ClapArgs)]
pub(super) struct Planning {
    /// The day on which gluing begins; also writes glue-schedule.ics, for a calendar
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub(super) start: Option<Date>,
    /// How long the best plan is looked for, 1 to 100: N times as many steps as usual
    ///
    /// 1 is enough for nearly all recipes. The same effort gives the same plan on every machine: it counts steps of the
    /// search, not seconds.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=100))]
    pub(super) effort: u32,
}

/// Calendars write years with four digits, and the work must end before they run out.
const YEARS: RangeInclusive<i32> = 1970..=9000;

/// A day as `--start` takes it.
fn day(text: &str) -> Result<Date, String> {
    let date = Date::parse(text).filter(|date| YEARS.contains(&date.parts().0));
    date.ok_or_else(|| "not a day; write year, month and day, for example 2027-03-01".to_owned())
}

/// Whether what is found shall be mended.
#[derive(Debug, Clone, Copy, ClapArgs)]
pub(super) struct Mending {
    /// Mend what has one right answer; `--fix=safe` only what leaves the design as it is
    #[arg(long, value_name = "WHICH", num_args = 0..=1, require_equals = true, default_missing_value = "all")]
    #[arg(hide_possible_values = true, conflicts_with_all = ["diff", "baseline", "write_baseline", "max_findings"])]
    fix: Option<Which>,
    /// Show what `--fix` would change, as a patch on standard output, and write nothing
    #[arg(long, value_name = "WHICH", num_args = 0..=1, require_equals = true, default_missing_value = "all")]
    #[arg(hide_possible_values = true, conflicts_with_all = ["baseline", "write_baseline", "max_findings"])]
    diff: Option<Which>,
}

/// Which fixes are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Which {
    All,
    Safe,
}

/// What is to be done with the fixes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Asked {
    /// Write them into the files.
    Write(Wanted),
    /// Show them as a patch.
    Show(Wanted),
}

impl Mending {
    /// What is asked for; none for a plain check.
    pub(super) fn asked(self) -> Option<Asked> {
        let wanted = |which| match which {
            Which::All => Wanted::All,
            Which::Safe => Wanted::Safe,
        };
        let show = self.diff.map(|which| Asked::Show(wanted(which)));
        self.fix.map(|which| Asked::Write(wanted(which))).or(show)
    }
}

/// What `check` puts up with.
#[derive(Debug, ClapArgs)]
pub(super) struct Tolerance {
    /// Tell and count only what is not in FILE, a baseline that --write-baseline wrote
    #[arg(long, value_name = "FILE")]
    pub(super) baseline: Option<PathBuf>,
    /// Write all that is found to FILE, and tell none of it; with --baseline, keep what of it still occurs
    #[arg(long, value_name = "FILE")]
    pub(super) write_baseline: Option<PathBuf>,
    /// Deny when more than N findings are told, notes too
    #[arg(long, value_name = "N")]
    pub(super) max_findings: Option<usize>,
}

/// How the user wants to read what is written.
#[derive(Debug, Clone, Copy, ClapArgs)]
pub(super) struct Output {
    /// How findings are written
    #[arg(long, global = true, value_name = "FORMAT", default_value = "human", hide_default_value = true)]
    pub(super) format: Format,
    /// When to use color; `NO_COLOR` is obeyed
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto", hide_default_value = true)]
    pub(super) color: Color,
}

/// When to use color.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Color {
    /// On a terminal, unless `NO_COLOR` is set (default)
    Auto,
    /// In any case
    Always,
    /// In no case
    Never,
}

impl Output {
    /// Whether to write colors on `stream`.
    pub(super) fn has_color_on(self, stream: Stream) -> bool {
        match self.color {
            Color::Always => true,
            Color::Never => false,
            Color::Auto => stream.wants_color(),
        }
    }

    /// Whether a person reads along, who is told what was done.
    pub(super) fn is_for_people(self) -> bool {
        match self.format {
            Format::Human | Format::Narrated => true,
            Format::Short | Format::Json | Format::Sarif => false,
        }
    }
}

/// By hand, as the renderers know nothing of command lines.
impl ValueEnum for Format {
    fn value_variants<'a>() -> &'a [Self] {
        &[Self::Human, Self::Narrated, Self::Short, Self::Json, Self::Sarif]
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(match self {
            Self::Human => PossibleValue::new("human").help("With the lines they are about (default)"),
            Self::Narrated => PossibleValue::new("narrated").help("In sentences, for screen readers"),
            Self::Short => PossibleValue::new("short").help("A line each: file:line:col: severity[code]: message"),
            Self::Json => PossibleValue::new("json").help("One array of objects"),
            Self::Sarif => PossibleValue::new("sarif").help("A SARIF 2.1.0 log, for CI systems and editors"),
        })
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::{Args, day};

    #[test]
    fn the_command_line_is_consistent() {
        Args::command().debug_assert();
    }

    #[test]
    fn a_day_is_written_in_full() {
        assert_eq!(day("2027-03-01").map(|date| date.to_string()).as_deref(), Ok("2027-03-01"));
        for wrong in ["2027-02-29", "1.3.2027", "0027-03-01", "9999-12-31", "tomorrow", ""] {
            assert!(day(wrong).is_err_and(|why| why.contains("2027-03-01")), "{wrong}");
        }
    }
}
