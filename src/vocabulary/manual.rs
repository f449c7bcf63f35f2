//! The reference manual's tables, printed from the vocabulary so that they cannot fall behind it.

use std::fmt::Write as _;

use crate::quantity::UNITS;
use crate::tables::{finishes, glues, short_names, woods};

use super::{BlockKind, CONTEXTS, Clause, Context, Head, Param, Without};

/// All tables, as Markdown, with a final line end.
#[must_use]
pub fn tables() -> String {
    let mut text = String::new();
    for context in CONTEXTS {
        heads(&mut text, context);
    }
    units(&mut text);
    names(&mut text);
    text
}

fn heads(text: &mut String, context: &Context) {
    let _ = write!(text, "### Words {}\n\n| statement | says |\n|---|---|\n", context.place);
    for head in context.heads {
        let _ = writeln!(text, "| `{}` | {} |", cell(&usage(head)), head.help);
    }
    text.push('\n');
    for head in context.heads {
        if let BlockKind::Lines(line) = head.block {
            let _ = write!(text, "Behind the wood on each line of `{}`, in any order:\n\n", head.word);
            clauses(text, line);
        }
        if !head.clauses.is_empty() {
            let _ = write!(text, "Behind `{}`, on the line or in braces, in any order:\n\n", head.word);
            clauses(text, head);
        }
    }
}

fn clauses(text: &mut String, head: &Head) {
    text.push_str("| clause | says | without it |\n|---|---|---|\n");
    for clause in head.clauses {
        let _ = writeln!(text, "| `{}` | {} | {} |", cell(&clause_usage(clause)), clause.help, without(clause.without));
    }
    text.push('\n');
}

/// How a statement is written: `ring [N] PATTERN …`.
#[must_use]
pub fn usage(head: &Head) -> String {
    let mut usage = head.word.to_owned();
    for param in head.params {
        let name = param_usage(param);
        let _ = if param.is_optional { write!(usage, " [{name}]") } else { write!(usage, " {name}") };
    }
    // What nearly every statement can be said of need not be shown of each.
    if head.clauses.iter().any(|clause| !clause.may_repeat()) {
        usage.push_str(" …");
    }
    let braces = head.block.usage();
    if !braces.is_empty() {
        usage.push(' ');
        usage.push_str(braces);
    }
    usage
}

/// How a clause is written: `stagger half|none|SHARE|ANGLE`.
#[must_use]
pub fn clause_usage(clause: &Clause) -> String {
    let mut usage = clause.word.to_owned();
    for param in clause.params {
        let _ = write!(usage, " {}", param_usage(param));
    }
    usage
}

/// A bar would end the cell of a table.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

/// How an argument is written: `half|none|SHARE|ANGLE`.
#[must_use]
pub fn param_usage(param: &Param) -> String {
    match param.shape {
        super::Shape::Choice(words) => words.join("|"),
        super::Shape::Taper => "LENGTH [at base .. LENGTH at rim]".to_owned(),
        super::Shape::Stagger => "half|none|SHARE|ANGLE".to_owned(),
        super::Shape::Fit => "jam|slip|loose|LENGTH".to_owned(),
        super::Shape::Gap => "SHARE|ANGLE".to_owned(),
        super::Shape::Length(_)
        | super::Shape::Lengths
        | super::Shape::Angle
        | super::Shape::Count
        | super::Shape::Name
        | super::Shape::Text
        | super::Shape::Wood
        | super::Shape::Glue
        | super::Shape::Pattern
        | super::Shape::Pitch
        | super::Shape::Number
        | super::Shape::HumidityRange
        | super::Shape::SpeedRange
        | super::Shape::Span
        | super::Shape::HourRange
        | super::Shape::Days
        | super::Shape::Temperature
        | super::Shape::Moisture
        | super::Shape::Finish
        | super::Shape::Layer
        | super::Shape::Chart
        | super::Shape::Comparison
        | super::Shape::Assignment
        | super::Shape::Place
        | super::Shape::Code => param.name.to_owned(),
    }
}

fn without(without: Without) -> String {
    match without {
        Without::Required(why) => format!("an error: {why}"),
        Without::Default(value) => value.to_owned(),
        Without::Absent => "—".to_owned(),
    }
}

fn units(text: &mut String) {
    text.push_str("### Units\n\n| written | is |\n|---|---|\n");
    for unit in UNITS {
        let spellings: Vec<String> = unit.spellings.iter().map(|spelling| format!("`{spelling}`")).collect();
        let _ = writeln!(text, "| {} | {} |", spellings.join(", "), unit.dimension.words());
    }
    text.push('\n');
}

fn names(text: &mut String) {
    text.push_str("### Woods\n\n| name | wood |\n|---|---|\n");
    for wood in woods() {
        let _ = writeln!(text, "| `{}` | {}, *{}* |", wood.key, wood.common_name, wood.latin_name);
    }
    text.push_str("\nEveryday names:\n\n| name | means |\n|---|---|\n");
    for name in short_names() {
        let candidates: Vec<String> = name.candidates().map(|key| format!("`{key}`")).collect();
        let which = if candidates.len() == 1 { "" } else { "one of these; say which: " };
        let _ = writeln!(text, "| `{}` | {which}{} |", name.name, candidates.join(", "));
    }
    text.push_str("\n### Finishes\n\n| name | finish | food |\n|---|---|---|\n");
    for finish in finishes() {
        let _ = writeln!(text, "| `{}` | {} | {} |", finish.key, finish.name, finish.food_contact);
    }
    text.push_str("\n### Glues\n\n| name | glue | open time | in clamps |\n|---|---|---|---|\n");
    for glue in glues() {
        let _ = writeln!(
            text,
            "| `{}` | {} | {} min | {} min |",
            glue.key, glue.name, glue.open_assembly_min, glue.clamp_min
        );
    }
}
