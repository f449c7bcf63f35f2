//! The help of the whole program: the first minute, then the commands by what they are for.

use std::fmt::Write as _;

use clap::builder::Styles;
use clap::{Command, CommandFactory};

use super::args::Args;

/// What to type first, in this order; a test does.
pub(super) const FIRST_MINUTE: &str =
    "  ringwright new bowl                      write a commented starter recipe, bowl.vessel
  ringwright check bowl.vessel             what is wrong with it, and what to do
  ringwright build bowl.vessel -o bowl     the papers for the shop, into the folder bowl
  ringwright preview bowl.vessel           the shop sheet in the browser, drawn anew at each save";

/// What stands below `-h`.
pub(super) const MORE: &str = "\
`ringwright --help` tells more, also of exit codes and the environment.
`ringwright build --help` tells all that a command can do.
`ringwright manual` prints the manual of the language.";

/// What stands below `--help`.
pub(super) const AFTER: &str = "\
More to try:
  ringwright fmt                           lay out all recipes below this folder
  ringwright explain ring/does-not-cover   more about one kind of finding
  ringwright diff --git HEAD bowl.vessel   what your changes to it mean in the shop
  ringwright why bowl.vessel cut.A         where the figures of a cut come from
  ringwright build --help                  all that a command can do
  ringwright manual                        the manual of the language, every word of it

Exit codes:
  0  nothing stands against it (there may be warnings and notes)
  1  findings deny it
  2  it could not run: no such file, cannot write, wrong usage

Environment:
  NO_COLOR        when not empty: no color, unless --color asks for it
  CLICOLOR_FORCE  when neither empty nor 0: color without a terminal too; NO_COLOR is stronger
  TERM            when it is `dumb`: no color and no progress bar
  COLORTERM       when it is `truecolor` or `24bit`: the vessel's portrait in all colors
  CI              when neither empty nor `false`: no progress bar";

/// The commands by what they are for.
const GROUPS: [(&str, &[&str]); 3] = [
    ("Write a recipe", &["new", "check", "fmt", "explain", "manual"]),
    ("Take it to the shop", &["build", "preview", "why", "diff"]),
    ("For editors, shells and other programs", &["lsp", "schema", "completions", "man-pages", "help"]),
];

/// The command line, with the help of the whole in place.
pub(super) fn command() -> Command {
    let command = Args::command();
    let template = template(&command);
    command.help_template(template)
}

/// clap lists commands in one piece: these are several, with the first minute before them.
fn template(command: &Command) -> String {
    let styles = Styles::styled();
    let (header, literal) = (styles.get_header(), styles.get_literal());
    let mut text = "{about-with-newline}\n{usage-heading} {usage}\n\n".to_owned();
    let _ = writeln!(text, "{header}The first minute:{header:#}\n{FIRST_MINUTE}");
    let mut built = command.clone();
    built.build();
    let width = GROUPS.iter().flat_map(|(_, names)| *names).map(|name| name.len()).max().unwrap_or(0);
    for (group, names) in GROUPS {
        let _ = writeln!(text, "\n{header}{group}:{header:#}");
        for name in names {
            let about = built.find_subcommand(name).and_then(Command::get_about).map(ToString::to_string);
            let _ = writeln!(text, "  {literal}{name:width$}{literal:#}  {}", about.unwrap_or_default());
        }
    }
    let _ = writeln!(text, "\n{header}Options:{header:#}");
    text + "{options}{after-help}"
}

#[cfg(test)]
mod tests {
    use super::{GROUPS, command};

    #[test]
    fn every_command_stands_in_one_group() {
        let mut built = command();
        built.build();
        let mut commands: Vec<&str> = built.get_subcommands().map(clap::Command::get_name).collect();
        let mut grouped: Vec<&str> = GROUPS.iter().flat_map(|(_, names)| *names).copied().collect();
        commands.sort_unstable();
        grouped.sort_unstable();
        assert_eq!(commands, grouped);
    }

    #[test]
    fn every_line_fits_a_terminal() {
        let text = command().render_long_help().to_string();
        let long: Vec<&str> = text.lines().filter(|line| line.chars().count() > 100).collect();
        assert_eq!(long, [""; 0]);
    }
}
