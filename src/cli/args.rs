//! What may be written behind the program's name.

#![allow(clippy::doc_markdown, reason = "these comments are the help as it is printed")]

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

use crate::finding::render::Format;

/// Compiles recipes for segmented turned vessels into cut lists, glue schedules and turning notes
#[derive(Debug, Parser)]
#[command(name = "ringwright", version, about, long_about = None, after_help = AFTER, max_term_width = 100)]
pub(super) struct Args {
    #[command(subcommand)]
    pub(super) command: Command,

    /// How findings are shown
    #[arg(long, value_enum, default_value = "human", global = true)]
    pub(super) format: FormatArg,

    /// When to use color; `auto` does on a terminal unless NO_COLOR is set
    #[arg(long, value_enum, default_value = "auto", global = true)]
    pub(super) color: ColorArg,
}

const AFTER: &str = "\
Exit codes:
  0  nothing denies the design (warnings and notes may stand)
  1  a finding denies it; nothing was written
  2  the program could not run: unknown arguments, a file that cannot be read or written

Examples:
  ringwright new salad-bowl                      a commented recipe to start from
  ringwright check recipes                       every *.vessel below a folder
  ringwright build salad-bowl.vessel             the summary, on the terminal
  ringwright build salad-bowl.vessel -o out      all documents, into a folder
  ringwright explain ring/does-not-cover         what a finding is about
  ringwright check - < salad-bowl.vessel         a recipe from standard input";

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Checks recipes and says what is wrong with them
    Check {
        /// Recipes, folders that hold recipes, or - for standard input
        #[arg(required = true, value_name = "PATH")]
        paths: Vec<PathBuf>,

        /// Lets warnings deny a design too
        #[arg(long)]
        deny_warnings: bool,
    },
    /// Compiles recipes; with -o, writes their documents
    Build {
        /// Recipes, or - for standard input
        #[arg(required = true, value_name = "RECIPE")]
        recipes: Vec<PathBuf>,

        /// Folder for the documents; several recipes get a folder each in it
        #[arg(short, long, value_name = "DIR")]
        out: Option<PathBuf>,

        /// Overwrites files that a build did not write or that were edited since
        #[arg(long, requires = "out")]
        force: bool,
    },
    /// Prints the page of a finding's code; without a code, lists all codes
    Explain {
        /// For example ring/does-not-cover
        #[arg(value_name = "CODE")]
        code: Option<String>,
    },
    /// Prints the JSON Schema of design.json
    Schema,
    /// Writes NAME.vessel, a commented recipe to start from
    New {
        /// Name of the recipe, with or without .vessel; may be a path
        #[arg(value_name = "NAME")]
        name: PathBuf,
    },
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum FormatArg {
    /// With the lines they stand on
    Human,
    /// In sentences, for screen readers
    Narrated,
    /// One line each: file:line:col: severity[code]: message
    Short,
    /// One JSON array
    Json,
}

impl From<FormatArg> for Format {
    fn from(format: FormatArg) -> Self {
        match format {
            FormatArg::Human => Self::Human,
            FormatArg::Narrated => Self::Narrated,
            FormatArg::Short => Self::Short,
            FormatArg::Json => Self::Json,
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum ColorArg {
    /// On a terminal, unless NO_COLOR is set
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}
