//! What is told of the word under the pointer.

use std::fmt::Write as _;

use crate::finding::Finding;
use crate::finding::policy::Codes;
use crate::geometry::Vessel;
use crate::resolve::Recipe;
use crate::source::{FileId, Span};
use crate::tables::{find_finish, find_glue, short_names};
use crate::vocabulary::HeadId;

use super::names::Project;
use super::reading::{Kind, Mark, Role};
use super::{numbers, words};

/// What is known of a recipe beside its text.
#[derive(Clone, Copy)]
pub struct Known<'a> {
    /// As far as it could be resolved.
    pub recipe: Option<&'a Recipe>,
    /// As far as it could be built.
    pub vessel: Option<&'a Vessel>,
    /// What there is to say of it.
    pub findings: &'a [Finding],
}

/// What is told of a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// The place.
    pub span: Span,
    /// In Markdown.
    pub text: String,
    /// Whether it is about the vessel as a whole.
    pub is_of_whole: bool,
}

/// The explanation of what stands at `offset`.
#[must_use]
pub fn at(project: &Project<'_>, file: FileId, offset: u32, known: Known<'_>) -> Option<Told> {
    let reading = project.reading(file);
    let mark = reading.mark_at(offset);
    let told = mark.and_then(|mark| of_mark(project, file, mark, known));
    let findings = known.findings.iter().map(|finding| finding.code_at(file, offset));
    let mut codes: Vec<_> = findings.flatten().collect();
    codes.dedup();
    let span = mark.filter(|_| told.is_some()).map(|mark| mark.span);
    let place = known.findings.iter().map(|finding| finding.place.span);
    let span = span.or_else(|| place.into_iter().find(|span| holds(*span, file, offset)))?;
    let mut text = told.unwrap_or_default();
    for code in codes {
        let rule = if text.is_empty() { "" } else { "\n\n---\n\n" };
        let _ = write!(text, "{rule}{}", words::page(code));
    }
    let is_of_whole = mark.is_some_and(|mark| matches!(mark.role, Role::Head(head) if head.id == HeadId::Vessel));
    Some(Told { span, text, is_of_whole })
}

fn of_mark(project: &Project<'_>, file: FileId, mark: &Mark, known: Known<'_>) -> Option<String> {
    let reading = project.reading(file);
    let word = reading.tree.text(mark.span);
    match mark.role {
        Role::Head(head) => {
            let mut text = words::head(head);
            let numbers = known.recipe.zip(known.vessel);
            if let Some(numbers) = numbers.and_then(|(recipe, vessel)| numbers::of_layers(recipe, vessel, mark.span)) {
                let _ = write!(text, "\n\n---\n\n{numbers}");
            }
            Some(text)
        }
        Role::Clause(_, clause) => Some(words::clause(clause)),
        Role::Choice(param) => Some(words::choice(param, word)),
        Role::Definition(_) | Role::Use(..) => of_name(project, file, mark, word),
        Role::Glue => find_glue(word).map(words::glue),
        Role::Finish => find_finish(word).map(words::finish),
        Role::Code => Codes::find(word).map(words::codes),
        Role::Pattern | Role::Function | Role::Number | Role::Text | Role::Path => None,
    }
}

/// A name of the recipe with the line that gives it, or a wood of the table.
fn of_name(project: &Project<'_>, file: FileId, mark: &Mark, word: &str) -> Option<String> {
    if let Some(found) = project.definition_at(file, mark.span.start) {
        let definition = found.definition()?;
        let line = found.reading.tree.text(definition.whole);
        let mut text = format!("```vessel\n{line}\n```");
        if definition.span.file != file {
            let _ = write!(text, "\nin `{}`", found.reading.tree.source.name);
        }
        return Some(text);
    }
    if !matches!(mark.role, Role::Use(Kind::Wood, _)) {
        return None;
    }
    if let Some(wood) = words::known_wood(word) {
        let mut text = words::wood(wood);
        if wood.key != word {
            let _ = write!(text, "\n\n`{word}` means `{}`.", wood.key);
        }
        return Some(text);
    }
    let short = short_names().iter().find(|short| short.name == word)?;
    let candidates: Vec<String> = short.candidates().map(|key| format!("`{key}`")).collect();
    Some(format!("`{word}` may mean {}: say which", candidates.join(", ")))
}

fn holds(span: Span, file: FileId, offset: u32) -> bool {
    span.file == file && span.start <= offset && offset <= span.end
}

trait CodeAt {
    fn code_at(&self, file: FileId, offset: u32) -> Option<&'static crate::finding::Code>;
}

impl CodeAt for Finding {
    /// Its code, when it stands there.
    fn code_at(&self, file: FileId, offset: u32) -> Option<&'static crate::finding::Code> {
        holds(self.place.span, file, offset).then_some(self.code)
    }
}
