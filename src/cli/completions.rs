//! `completions`: what a shell needs to complete a command line.

use std::fmt::Write as _;

use clap::Command;
use clap_complete::Shell;

use super::{Failure, Outcome, help, terminal};

/// Behind bash's own: where no option was begun, one would stand in the way of the names of files.
const BASH_FILES_FIRST: &str = r#"
_ringwright_without_options() {
    _ringwright "$@"
    [[ "$2" == -* ]] && return 0
    local word kept=()
    for word in "${COMPREPLY[@]}"; do
        [[ "$word" == -* ]] || kept+=("$word")
    done
    COMPREPLY=("${kept[@]}")
}
complete -F _ringwright_without_options -o bashdefault -o default ringwright
"#;

/// Prints the script for `shell`.
pub(super) fn run(shell: Shell) -> Result<Outcome, Failure> {
    terminal::print(script(shell).as_bytes())?;
    Ok(Outcome::Clean)
}

fn script(shell: Shell) -> String {
    let mut command = help::command();
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut command, "ringwright", &mut bytes);
    let mut script = String::from_utf8_lossy(&bytes).into_owned();
    match shell {
        Shell::Bash => script.push_str(BASH_FILES_FIRST),
        Shell::Fish => script.push_str(&words_for_fish(&command)),
        Shell::Elvish | Shell::PowerShell | Shell::Zsh | _ => {}
    }
    script
}

/// Words that are no options, which clap leaves out for fish.
fn words_for_fish(command: &Command) -> String {
    let mut text = String::new();
    for sub in command.get_subcommands() {
        for word in sub.get_positionals() {
            let values = word.get_value_parser().possible_values();
            let names: Vec<String> = values.into_iter().flatten().map(|value| value.get_name().to_owned()).collect();
            if !names.is_empty() {
                let (name, names) = (sub.get_name(), names.join(" "));
                let condition = format!("__fish_ringwright_using_subcommand {name}");
                let _ = writeln!(text, "complete -c ringwright -n \"{condition}\" -f -a \"{names}\"");
            }
        }
    }
    text
}
