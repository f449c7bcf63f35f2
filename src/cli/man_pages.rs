//! `man-pages`: the help of the program and of each command as pages for `man`.

use std::io;
use std::path::Path;

use clap::Command;
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, roman};

use crate::output::Document;

use super::args::Output;
use super::build::told;
use super::folder::Writing;
use super::{Failure, Outcome, help, version};

const NAME: &str = "ringwright";

/// Writes them into `folder`.
pub(super) fn run(folder: &Path, force: bool, output: Output) -> Result<Outcome, Failure> {
    told(&Writing::prepare(folder, pages(), force)?.write()?, output);
    Ok(Outcome::Clean)
}

/// One for the whole, then one for each command.
fn pages() -> Vec<Document> {
    let mut command = help::command().disable_help_subcommand(true);
    command.build();
    let mut pages = vec![page(&command, NAME)];
    pages.extend(command.get_subcommands().map(|sub| page(sub, &format!("{NAME}-{}", sub.get_name()))));
    pages
}

fn page(command: &Command, name: &str) -> Document {
    let mut bytes = Vec::new();
    // Memory takes all that is written to it.
    let _ = write(command, name, &mut bytes);
    Document { name: format!("{name}.1").into(), bytes }
}

fn write(command: &Command, name: &str, page: &mut Vec<u8>) -> io::Result<()> {
    let is_whole = name == NAME;
    let man = Man::new(command.clone().display_name(name));
    // By hand, as a day that is not known would be left out and the next word taken for it.
    let source = concat!("ringwright ", env!("CARGO_PKG_VERSION"));
    let title = format!(".TH \"{}\" \"1\" \"{}\" \"{source}\" \"ringwright\"\n", name.to_uppercase(), version::DATE);
    page.extend(title.into_bytes());
    man.render_name_section(page)?;
    man.render_synopsis_section(page)?;
    man.render_description_section(page)?;
    if is_whole {
        sections(&format!("The first minute:\n{}", help::FIRST_MINUTE)).to_writer(page)?;
        man.render_subcommands_section(page)?;
    }
    let mut options = Vec::new();
    man.render_options_section(&mut options)?;
    // A blank line parts as well, without a break before and after it.
    page.extend(String::from_utf8_lossy(&options).replace("\n.br\n\n.br\n", "\n\n").into_bytes());
    let after = command.get_after_long_help().or_else(|| command.get_after_help());
    sections(&after.map(ToString::to_string).unwrap_or_default()).to_writer(page)?;
    see_also(is_whole).to_writer(page)
}

/// What stands below the help of a command: a line that ends with a colon heads a section, lines that are set off keep their
/// columns.
fn sections(text: &str) -> Roff {
    let mut roff = Roff::new();
    let mut is_set_off = false;
    let mut is_new = true;
    for line in text.lines() {
        if line.starts_with("  ") != is_set_off && !line.is_empty() {
            is_set_off = !is_set_off;
            roff.control(if is_set_off { "nf" } else { "fi" }, []);
        }
        if let Some(codes) = line.strip_prefix("Exit codes: ") {
            roff.control("SH", ["EXIT STATUS"]);
            roff.text([roman(codes)]);
        } else if let Some(heading) = line.strip_suffix(':').filter(|_| !is_set_off) {
            let heading = if heading == "Exit codes" { "EXIT STATUS".to_owned() } else { heading.to_uppercase() };
            roff.control("SH", [heading.as_str()]);
        } else if line.is_empty() {
            is_new = true;
            continue;
        } else {
            if is_new && !is_set_off {
                roff.control("PP", []);
            }
            roff.text([roman(line)]);
        }
        is_new = false;
    }
    if is_set_off {
        roff.control("fi", []);
    }
    roff
}

fn see_also(is_whole: bool) -> Roff {
    let mut roff = Roff::new();
    roff.control("SH", ["SEE ALSO"]);
    if !is_whole {
        roff.text([bold(NAME), roman("(1)")]);
        roff.control("PP", []);
    }
    roff.text([roman("The manual of the language, which "), bold("ringwright manual"), roman(" prints.")]);
    roff
}

#[cfg(test)]
mod tests {
    use super::{pages, sections};

    #[test]
    fn the_whole_and_each_command_have_a_page() {
        let pages = pages();
        let names: Vec<&str> = pages.iter().map(|page| &*page.name).collect();
        assert_eq!(names[0], "ringwright.1");
        assert!(names.contains(&"ringwright-build.1") && names.contains(&"ringwright-man-pages.1"), "{names:?}");
        for page in &pages {
            let text = str::from_utf8(&page.bytes).unwrap();
            for section in [".SH NAME", ".SH SYNOPSIS", ".SH DESCRIPTION", "EXIT STATUS", "SEE ALSO"] {
                assert!(text.contains(section), "{} has no {section}", page.name);
            }
        }
    }

    #[test]
    fn columns_stay_and_words_flow() {
        let text = sections("Examples:\n  a    b\n  c    d\n\nWords\nflow.\n\nExit codes: 0 done").to_roff();
        let lines: Vec<&str> = text.lines().collect();
        let expected = [
            ".SH EXAMPLES",
            ".nf",
            "  a    b",
            "  c    d",
            ".fi",
            ".PP",
            "Words",
            "flow.",
            ".SH \"EXIT STATUS\"",
            "0 done",
        ];
        assert_eq!(lines, expected);
    }
}
