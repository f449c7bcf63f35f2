//! What the command line says of the weight of findings: which deny, and how much each weighs.

use clap::Args as ClapArgs;

use crate::finding::policy::{Codes, Level, Levels, families};
use crate::finding::{Finding, Severity, nearest, or_list};

use super::offered::{Offered, codes_and_families};
use super::{Failure, explain};

/// `--deny` and `--level`.
#[derive(Debug, Clone, Default, ClapArgs)]
pub(super) struct Weights {
    /// Let these findings deny too: a code, a family of codes, `warnings` or `notes`
    #[arg(long, value_name = "WHAT", value_parser = Offered(what_denies), hide_possible_values = true)]
    deny: Vec<String>,
    /// How much findings weigh: a code or a family, and error, warning, note or off; wins over the recipe
    #[arg(long, value_name = "CODE=LEVEL")]
    level: Vec<String>,
}

impl Weights {
    /// The levels that the command line sets.
    ///
    /// # Errors
    /// [`Failure::NoLevel`], [`Failure::UnknownCode`], [`Failure::NotLowered`].
    pub(super) fn levels(&self) -> Result<Levels, Failure> {
        let mut levels = Levels::default();
        for given in &self.level {
            let no_level = || Failure::NoLevel { given: given.clone() };
            let (name, word) = given.split_once('=').ok_or_else(no_level)?;
            let codes = Codes::find(name).ok_or_else(|| unknown(name, &[]))?;
            let level = Level::find(word).ok_or_else(no_level)?;
            let lowered = levels.set(codes, level);
            lowered.map_err(|_| Failure::NotLowered { code: name.to_owned() })?;
        }
        Ok(levels)
    }

    /// What denies beside errors.
    ///
    /// # Errors
    /// [`Failure::UnknownCode`].
    pub(super) fn denial(&self) -> Result<Denial, Failure> {
        let denied = self.deny.iter().map(|given| match given.as_str() {
            "warnings" => Ok(Denied::All(Severity::Warning)),
            "notes" => Ok(Denied::All(Severity::Note)),
            name => Codes::find(name).map(Denied::Of).ok_or_else(|| unknown(name, &["warnings", "notes"])),
        });
        Ok(Denial(denied.collect::<Result<_, _>>()?))
    }
}

/// What `--deny` takes.
fn what_denies() -> Vec<&'static str> {
    ["warnings", "notes"].into_iter().chain(codes_and_families()).collect()
}

/// What denies a recipe beside errors.
#[derive(Debug, Clone, Default)]
pub(super) struct Denial(Vec<Denied>);

#[derive(Debug, Clone, Copy)]
enum Denied {
    /// All that weigh so much.
    All(Severity),
    /// All of these codes, whatever they weigh.
    Of(Codes),
}

impl Denial {
    /// Whether one of `findings` denies.
    pub(super) fn denies_any(&self, findings: &[Finding]) -> bool {
        findings.iter().any(|finding| self.denies(finding))
    }

    fn denies(&self, finding: &Finding) -> bool {
        finding.severity() == Severity::Error
            || self.0.iter().any(|denied| match denied {
                Denied::All(severity) => finding.severity() == *severity,
                Denied::Of(codes) => codes.has(finding.code),
            })
    }

    /// Why nothing is built although there is no error: "denied: wall/thin"; nothing when none of these `findings` is the
    /// reason.
    pub(super) fn why<'a>(&self, findings: impl Iterator<Item = &'a Finding>) -> Option<String> {
        let denied = findings.filter(|finding| finding.severity() != Severity::Error && self.denies(finding));
        let mut names: Vec<&str> = denied.map(|finding| finding.code.name).collect();
        names.sort_unstable();
        names.dedup();
        (!names.is_empty()).then(|| format!("denied by `--deny`: {}", or_list(&names).replace(" or ", " and ")))
    }
}

/// With what was probably meant; `words` may stand in the place of a code too.
fn unknown(name: &str, words: &[&'static str]) -> Failure {
    let near = nearest(name, words.iter().copied().chain(families()));
    if near.is_empty() { explain::unknown(name) } else { Failure::UnknownCode { code: name.to_owned(), near } }
}

#[cfg(test)]
mod tests {
    use super::Weights;
    use crate::cli::Failure;
    use crate::finding::policy::Level;
    use crate::finding::{Finding, catalog};
    use crate::source::{FileId, Span};

    fn weights(deny: &[&str], level: &[&str]) -> Weights {
        let owned = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
        Weights { deny: owned(deny), level: owned(level) }
    }

    #[test]
    fn a_denial_is_of_a_weight_a_family_or_a_code() {
        let finding = |code| Finding::new(code, Span::new(FileId(0), 0, 0), "");
        let (thin, points) = (finding(&catalog::WALL_THIN), finding(&catalog::RING_POINTS_MEET));
        let denied = |deny: &[&str]| {
            let denial = weights(deny, &[]).denial().unwrap();
            [&thin, &points].map(|finding| denial.denies(finding))
        };
        assert_eq!(denied(&[]), [false, false]);
        assert_eq!(denied(&["warnings"]), [true, false]);
        assert_eq!(denied(&["notes"]), [false, true]);
        assert_eq!(denied(&["ring"]), [false, true]);
        assert_eq!(denied(&["wall/thin", "notes"]), [true, true]);
        let denial = weights(&["warnings"], &[]).denial().unwrap();
        assert_eq!(denial.why([&thin, &points].into_iter()).as_deref(), Some("denied by `--deny`: `wall/thin`"));
        assert_eq!(denial.why([&points].into_iter()), None);
        assert!(denial.denies_any(&[finding(&catalog::RING_DOES_NOT_COVER)]), "an error always does");
    }

    #[test]
    fn slips_are_told_with_what_was_meant() {
        let near = |failure: Failure| {
            let Failure::UnknownCode { near, .. } = failure else { panic!("{failure:?}") };
            near
        };
        assert_eq!(near(weights(&["warning"], &[]).denial().unwrap_err()), ["warnings"]);
        assert_eq!(near(weights(&["wall/thinn"], &[]).denial().unwrap_err()), ["wall/thin"]);
        assert_eq!(near(weights(&[], &["rign=off"]).levels().unwrap_err()), ["ring"]);
        for given in ["ring", "ring=loud", "ring="] {
            assert!(matches!(weights(&[], &[given]).levels(), Err(Failure::NoLevel { .. })), "{given}");
        }
        let lowered = weights(&[], &["ring/does-not-cover=off"]).levels();
        assert!(matches!(lowered, Err(Failure::NotLowered { .. })));
        let levels = weights(&[], &["ring=error", "wall/thin=off"]).levels().unwrap();
        assert_eq!(levels.of(&catalog::WALL_THIN), Some(Level::Off));
    }
}
