//! Words of the language, woods, glues, finishes and codes, told in Markdown.

use std::fmt::Write as _;

use crate::finding::catalog::Code;
use crate::finding::policy::Codes;
use crate::tables::{Finish, Glue, Wood, find_wood, short_names};
use crate::vocabulary::manual::{clause_usage, usage};
use crate::vocabulary::{Clause, Head, Param, Without};

/// A statement.
pub(super) fn head(head: &Head) -> String {
    format!("```vessel\n{}\n```\n{}", usage(head), sentence(head.help))
}

/// A clause, with what happens without it.
pub(super) fn clause(clause: &Clause) -> String {
    let mut text = format!("```vessel\n{}\n```\n{}", clause_usage(clause), sentence(clause.help));
    match clause.without {
        Without::Required(why) => {
            let _ = write!(text, "\n\nRequired: {why}.");
        }
        Without::Default(value) => {
            let _ = write!(text, "\n\nWithout it: {value}.");
        }
        Without::Absent => {}
    }
    text
}

/// One of the words that an argument may be.
pub(super) fn choice(param: &Param, word: &str) -> String {
    let others: Vec<String> = param.shape.choices().iter().map(|other| format!("`{other}`")).collect();
    if others.len() < 2 { format!("`{word}`") } else { format!("`{word}`: one of {}", others.join(", ")) }
}

/// A wood of the table.
pub(super) fn wood(wood: &Wood) -> String {
    let mut text = format!("**{}**, *{}*\n", wood.common_name, wood.latin_name);
    let _ = write!(text, "\n- specific gravity {} at 12 % moisture", wood.specific_gravity_12pct);
    if let (Some(radial), Some(tangential)) = (wood.c_radial, wood.c_tangential) {
        let _ = write!(
            text,
            "\n- moves {:.2} % across the rings and {:.2} % along them for 1 % of moisture",
            radial * 100.0,
            tangential * 100.0
        );
    }
    if let Some(janka) = wood.janka_n {
        let _ = write!(text, "\n- Janka hardness {janka} N");
    }
    let _ = write!(text, "\n- pores: {}", wood.pore_type);
    if wood.dust_hazard != "none" {
        let _ = write!(text, "\n- dust: {}", wood.dust_hazard);
    }
    let _ = write!(text, "\n- food: {}, {}", wood.food_contact, wood.food_reason);
    if !wood.gluing.is_empty() {
        let _ = write!(text, "\n- {}: wipe before gluing with a glue on a water base", wood.gluing);
    }
    if !wood.notes.is_empty() {
        let _ = write!(text, "\n\n{}", sentence(&wood.notes));
    }
    text
}

/// The wood that a name of the table or of everyday use surely means.
pub(super) fn known_wood(name: &str) -> Option<&'static Wood> {
    find_wood(name).or_else(|| {
        let short = short_names().iter().find(|short| short.name == name)?;
        let mut candidates = short.candidates();
        let first = candidates.next()?;
        if candidates.next().is_some() { None } else { find_wood(first) }
    })
}

/// A glue of the table.
pub(super) fn glue(glue: &Glue) -> String {
    let mut text = format!(
        "**{}** ({})\n\n- open {} min, in clamps {} min, full strength after {} h\n- not below {} °C\n- food safe when cured: {}",
        glue.name,
        glue.class,
        glue.open_assembly_min,
        glue.clamp_min,
        glue.full_cure_h,
        glue.min_use_temp_c,
        glue.food_safe_when_cured,
    );
    if !glue.notes.is_empty() {
        let _ = write!(text, "\n\n{}", sentence(&glue.notes));
    }
    text
}

/// A finish of the table.
pub(super) fn finish(finish: &Finish) -> String {
    let mut text = format!("**{}**\n\n- food: {}", finish.name, finish.food_contact);
    if !finish.allergen.is_empty() {
        let _ = write!(text, "\n- allergen: {}", finish.allergen);
    }
    if finish.cure_days > 0.0 {
        let _ = write!(text, "\n- hardens in {} days", finish.cure_days);
    }
    if finish.has_self_heating_rags() {
        text.push_str("\n- rags with it heat themselves and can burn");
    }
    if !finish.notes.is_empty() {
        let _ = write!(text, "\n\n{}", sentence(&finish.notes));
    }
    text
}

/// A code or a family of codes.
pub(super) fn codes(codes: Codes) -> String {
    match codes {
        Codes::One(code) => page(code),
        Codes::Family(family) => {
            let mut text = format!("all findings of the family `{family}`:\n");
            for code in crate::finding::catalog::CODES.iter().filter(|code| code.family() == family) {
                let _ = write!(text, "\n- `{}`: {}", code.name, code.summary);
            }
            text
        }
    }
}

/// What `explain` tells of a code.
pub(super) fn page(code: &Code) -> String {
    format!("**{}** ({}): {}\n\n{}", code.name, code.severity.word(), code.summary, code.page)
}

/// With a capital and a full stop.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let mut sentence: String = letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect();
    if !sentence.ends_with(['.', '!', '?']) {
        sentence.push('.');
    }
    sentence
}
