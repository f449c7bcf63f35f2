//! What can be said on the command line.

use std::ops::RangeInclusive;
use std::path::PathBuf;

use clap::builder::PossibleValue;
use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum, ValueHint};
use clap_complete::Shell;

use crate::finding::render::Format;
use crate::mend::Wanted;
use crate::output::Paper;
use crate::quantity::Date;

use super::levels::Weights;
use super::offered::{Offered, codes_and_families};
use super::terminal::Stream;
use super::{help, version};

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
  ringwright build recipes -o out              every recipe below the folder recipes, on all cores;
                                               what has not changed since is not built again
  ringwright build crock.vessel -o crock --start 2027-03-01
                                               the glue schedule by date, and as a calendar file
  ringwright build crock.vessel --effort 20    look longer for a cheaper, shorter plan

Every document is written whole or not at all, and nothing is written when a recipe is denied; of a
folder each recipe is built or denied by itself.
A file that no build wrote, or that was edited or protected since, is never overwritten without --force.

Exit codes: 0 built (there may be warnings), 1 errors or what --deny names, 2 could not run";

const PREVIEW_EXAMPLES: &str = "\
Examples:
  ringwright preview crock.vessel              opens the browser; Ctrl-C ends it
  ringwright preview crock.vessel --no-open    prints the address alone
  ringwright preview crock.vessel --port 0     at any free port

Only this machine can read the page. When the text cannot be built, the page keeps the last sheet
that could be and shows the findings beside their lines.

Exit codes: 2 could not run, for example as another program has the port; else it runs until it is stopped";

const DIFF_EXAMPLES: &str = "\
Examples:
  ringwright diff old.vessel new.vessel
  ringwright diff --git HEAD crock.vessel          what is not committed yet
  ringwright diff --git v1 crock.vessel --format json

Layers are matched by what the recipe says of them, so that one more at the foot is one more layer and
not another vessel. For `git diff` and `git log -p --ext-diff` to tell it, once in each clone:

  git config diff.vessel.command 'ringwright diff'
  echo '*.vessel diff=vessel' >> .gitattributes

Or, for line-by-line differences of the figures also in `git log -p` and `git show`:

  git config diff.vessel.textconv 'ringwright diff --textconv'

Exit codes: 0 compared, 1 a version has errors (with --exit-code also: they differ), 2 could not run";

const WHY_EXAMPLES: &str = "\
Examples:
  ringwright why crock.vessel                      all figures that have a name
  ringwright why crock.vessel cut.A                all figures of a cut, a line each
  ringwright why crock.vessel cut.A.long-edge      one figure, down to what was written, set or read from a table
  ringwright why crock.vessel ring-3.strip         a name may be short where it is plain
  ringwright why crock.vessel vessel.mass --format json

Exit codes: 0 told, 1 the recipe has errors, 2 nothing is called that, or could not run";

const FMT_EXAMPLES: &str = "\
Examples:
  ringwright fmt                           all recipes below this folder
  ringwright fmt crock.vessel workshop.vessel
  ringwright fmt --check recipes           which of them are laid out otherwise; nothing is written
  ringwright fmt --diff crock.vessel       what would change, as a patch; nothing is written
  ringwright fmt - < crock.vessel          to standard output

There is one layout and nothing to set. Only white space changes: every word, number and comment stays
as it is, in its order. A line that cannot be read keeps its bytes and is told; the rest is formatted.
A file is written whole or not at all, and one that is laid out already is not written.

Exit codes: 0 done, 1 a line cannot be read, 2 could not run;
with --check and --diff 1 also says that something would change";

const MAN_PAGES_EXAMPLES: &str = "\
Examples:
  ringwright man-pages -o ~/.local/share/man/man1

Every page is written whole or not at all, and what was not written so is never overwritten without --force.

Exit codes: 0 written, 2 could not write";

const COMPLETIONS_EXAMPLES: &str = "\
Examples:
  ringwright completions bash > ~/.local/share/bash-completion/completions/ringwright
  ringwright completions zsh > ~/.zfunc/_ringwright        with `fpath+=~/.zfunc` before `compinit` in ~/.zshrc
  ringwright completions fish > ~/.config/fish/completions/ringwright.fish
  ringwright completions elvish >> ~/.config/elvish/rc.elv
  ringwright completions powershell >> $PROFILE

Exit codes: 0 printed, 2 could not print";

/// Where help lists the options that all commands have: behind a command's own.
const EVERYWHERE: &str = "Options of every command";

/// A compiler for segmented woodturning: from a recipe to cut list, glue schedule and turning notes
///
/// A recipe is a text file, `*.vessel`. It says the outside shape, the wall and the layers of glued
/// rings from the bench up; ringwright computes every cut and checks that the vessel can be made.
#[derive(Debug, Parser)]
#[command(name = "ringwright", version = version::SHORT, long_version = version::LONG)]
#[command(after_help = help::MORE, after_long_help = help::AFTER)]
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
        #[arg(required = true, value_name = "PATH", value_hint = ValueHint::AnyPath)]
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
        /// Recipes, or with -o folders whose recipes are built each by itself; `-` reads standard input
        #[arg(required = true, value_name = "RECIPE", value_hint = ValueHint::AnyPath)]
        recipes: Vec<PathBuf>,
        /// The folder to write the documents to
        #[arg(short = 'o', long = "out", value_name = "DIR", value_hint = ValueHint::DirPath)]
        folder: Option<PathBuf>,
        /// Overwrite files that no build wrote, or that were edited or protected since
        #[arg(long, requires = "folder")]
        force: bool,
        /// The paper of shop-sheet.pdf; usual is Letter for a recipe in inches, A4 for one in millimeters
        #[arg(long, value_name = "SIZE", requires = "folder")]
        paper: Option<Paper>,
        #[command(flatten)]
        planning: Planning,
        #[command(flatten)]
        weights: Weights,
    },
    /// Show the shop sheet in the browser, drawn anew at each save
    #[command(after_help = PREVIEW_EXAMPLES)]
    Preview {
        /// The recipe to look at
        #[arg(value_name = "RECIPE", value_hint = ValueHint::FilePath)]
        recipe: PathBuf,
        /// Where the browser finds it; 0 takes any free port. Without it 4780, or any free one when that is taken
        #[arg(long, value_name = "N")]
        port: Option<u16>,
        /// Do not open the browser, print the address alone
        #[arg(long)]
        no_open: bool,
        #[command(flatten)]
        planning: Planning,
    },
    /// Lay out recipes in the one way
    #[command(after_help = FMT_EXAMPLES)]
    Fmt {
        /// Recipes, or folders whose `*.vessel` files are formatted; `-` is standard input to standard output
        #[arg(default_value = ".", value_name = "PATH", hide_default_value = true, value_hint = ValueHint::AnyPath)]
        paths: Vec<PathBuf>,
        /// Name the files that would change, and write nothing
        #[arg(long, conflicts_with = "diff")]
        check: bool,
        /// Show what would change, as a patch on standard output, and write nothing
        #[arg(long)]
        diff: bool,
    },
    /// Tell more about a kind of finding
    ///
    /// Without a code: all of them, family by family, a line each.
    #[command(after_help = "Exit codes: 0 explained, 2 there is no such code")]
    Explain {
        /// As it stands in the brackets of a finding: `ring/does-not-cover`; or a family: `ring`
        #[arg(value_parser = Offered(codes_and_families), hide_possible_values = true)]
        code: Option<String>,
        /// For scripts: code, severity and one line for every code, and nothing else
        #[arg(long, conflicts_with = "code")]
        list: bool,
    },
    /// Say where a figure comes from: formula, inputs, and theirs
    #[command(after_help = WHY_EXAMPLES)]
    Why {
        /// The recipe; `-` reads standard input
        #[arg(value_name = "RECIPE", value_hint = ValueHint::FilePath)]
        recipe: PathBuf,
        /// A figure, `body.ring-3.strip-width`, or what has figures, `body.ring-3`; without it all names
        #[arg(value_name = "SUBJECT")]
        subject: Option<String>,
    },
    /// Say what two versions of a recipe differ in for the maker
    #[command(after_help = DIFF_EXAMPLES)]
    Diff {
        /// The version before and the one after; with --git one recipe; or the seven words that git hands on
        #[arg(required = true, value_name = "RECIPE", value_hint = ValueHint::FilePath)]
        paths: Vec<PathBuf>,
        /// Compare with the recipe, and what it uses, as they were at this revision
        #[arg(long, value_name = "REVISION")]
        git: Option<String>,
        /// Exit with 1 where anything is different
        #[arg(long)]
        exit_code: bool,
        /// Print one version as lines of text, for git's `textconv`
        #[arg(long, conflicts_with_all = ["git", "exit_code"])]
        textconv: bool,
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
        #[arg(value_hint = ValueHint::FilePath)]
        name: PathBuf,
    },
    /// Serve an editor: findings as you type, help, completion, renaming
    ///
    /// Speaks the Language Server Protocol on standard input and output; editors start it, people need not.
    /// grammar/editors.md tells how to set up yours.
    #[command(after_help = "Exit codes: 0 the editor took its leave, 1 it went without a word")]
    Lsp,
    /// Print the manual of the language, as Markdown
    #[command(after_help = "Exit codes: 0 printed, 2 could not print")]
    Manual,
    /// Write the manual pages of the commands, for `man`
    ///
    /// One for the whole, `ringwright.1`, and one for each command, such as `ringwright-build.1`.
    #[command(after_help = MAN_PAGES_EXAMPLES)]
    ManPages {
        /// The folder to write them to
        #[arg(short = 'o', long = "out", value_name = "DIR", value_hint = ValueHint::DirPath, required = true)]
        folder: PathBuf,
        /// Overwrite files that were not written so, or that were edited since
        #[arg(long)]
        force: bool,
    },
    /// Print what a shell needs to complete commands, options and codes
    #[command(after_help = COMPLETIONS_EXAMPLES)]
    Completions {
        /// Whose they are
        shell: Shell,
    },
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
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) baseline: Option<PathBuf>,
    /// Write all that is found to FILE, and tell none of it; with --baseline, keep what of it still occurs
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
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
    #[arg(help_heading = EVERYWHERE)]
    pub(super) format: Format,
    /// When to use color; `NO_COLOR` is obeyed
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto", hide_default_value = true)]
    #[arg(help_heading = EVERYWHERE)]
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

/// By hand, as the documents know nothing of command lines.
impl ValueEnum for Paper {
    fn value_variants<'a>() -> &'a [Self] {
        &[Self::A4, Self::Letter]
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(match self {
            Self::A4 => PossibleValue::new("a4").help("210 mm by 297 mm"),
            Self::Letter => PossibleValue::new("letter").help("8 1/2 in by 11 in"),
        })
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
