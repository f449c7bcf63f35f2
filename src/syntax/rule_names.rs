//! What the grammar would have taken, in the turner's words. No rule's own name gets out.

use super::grammar::Rule;

/// `a number, a word or a text`: what `rules` stand for, sorted and without
/// repetitions; empty when none of them is worth a word.
pub(super) fn phrase(rules: &[Rule], closer: Option<char>) -> String {
    let mut names: Vec<String> = rules.iter().filter_map(|rule| name(*rule)).map(str::to_owned).collect();
    names.extend(closer.map(|closer| format!("`{closer}`")));
    names.sort_unstable();
    names.dedup();
    match names.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [head @ .., last] => format!("{} or {last}", head.join(", ")),
    }
}

/// A rule with its article; `None` for those that begin with one of the others or say nothing.
fn name(rule: Rule) -> Option<&'static str> {
    match rule {
        Rule::EOI => Some("the end of the line"),
        Rule::word => Some("a word"),
        Rule::text => Some("a text in quotes"),
        Rule::quantity => Some("a number"),
        Rule::list => Some("a list"),
        Rule::parens | Rule::group => Some("`(`"),
        Rule::comparator => Some("a comparison"),
        Rule::dots => Some("`..`"),
        Rule::operator => Some("an operator"),
        Rule::assign => Some("`=`"),
        Rule::times => Some("`*`"),
        Rule::open => Some("`{`"),
        Rule::close => Some("`}`"),
        Rule::argument => Some("a value"),
        Rule::minus
        | Rule::key
        | Rule::member
        | Rule::arguments
        | Rule::file
        | Rule::statement
        | Rule::block
        | Rule::stride
        | Rule::step
        | Rule::whole_line
        | Rule::readable
        | Rule::stop
        | Rule::gap
        | Rule::h
        | Rule::comment
        | Rule::bom
        | Rule::line
        | Rule::binding
        | Rule::command
        | Rule::let_head
        | Rule::sign
        | Rule::blank
        | Rule::space
        | Rule::alnum
        | Rule::part
        | Rule::elements
        | Rule::end
        | Rule::word_tail
        | Rule::plain
        | Rule::number
        | Rule::vulgar
        | Rule::unit
        | Rule::tight_mark
        | Rule::mark
        | Rule::measure
        | Rule::element
        | Rule::inside
        | Rule::sum
        | Rule::signed
        | Rule::operand => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{Rule, phrase};

    #[test]
    fn names_each_thing_once_and_in_order() {
        let rules = [Rule::word, Rule::quantity, Rule::parens, Rule::word, Rule::comment, Rule::group];
        assert_eq!(phrase(&rules, Some(']')), "`(`, `]`, a number or a word");
        assert_eq!(phrase(&[Rule::minus], None), "");
    }
}
