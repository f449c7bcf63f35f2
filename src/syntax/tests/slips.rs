//! Slips, their words and what survives them.

use std::sync::Arc;

use super::{mended, messages, read, show};
use crate::finding::{Finding, WithFindings};
use crate::source::{FileId, SourceFile};
use crate::syntax::arithmetic::MOST_OPERATORS;
use crate::syntax::{Node, Tree, parse};

/// A line, the code of its one finding, the message, and the line when its fix has been made.
type Slip = (&'static str, &'static str, &'static str, Option<&'static str>);

#[rustfmt::skip]
const LINES: &[Slip] = &[
    ("wall 1,500", "syntax/decimal-comma", "`1,500` has a comma where a decimal point belongs", None),
    ("wall 0,5 in", "syntax/decimal-comma", "`0,5` has a comma where a decimal point belongs", Some("wall 0.5 in")),
    ("at 0, diameter 3", "syntax/unreadable", "arguments have no commas between them", Some("at 0 diameter 3")),
    ("ring [maple,walnut, cherry]", "syntax/unreadable", "a list has no commas", Some("ring [maple walnut cherry]")),
    ("ring [(a,b)*2]", "syntax/unreadable", "a list has no commas", Some("ring [(a b)*2]")),
    ("ring [maple×3]", "syntax/look-alike", "`×` is a multiplication sign (U+00D7), not `*`", Some("ring [maple*3]")),
    ("wall 1−1/2", "syntax/look-alike", "`−` is a minus sign (U+2212), not `-`", Some("wall 1-1/2")),
    ("wall\u{a0}1/4", "syntax/look-alike", "a no-break space (U+00A0) stands where a plain space belongs", Some("wall 1/4")),
    ("wall 1/4\u{3000}", "syntax/look-alike", "a typographic space (U+3000) stands where a plain space belongs", Some("wall 1/4 ")),
    ("let a = 3 × 4", "syntax/look-alike", "`×` is a multiplication sign (U+00D7), not `*`", Some("let a = 3 * 4")),
    ("use \"shop.vessel", "syntax/unclosed-text", "the text that begins here has no closing quote", Some("use \"shop.vessel\"")),
    ("ring \0\0\0maple", "syntax/control-character", "3 characters that no editor shows stand here, the first is U+0000", Some("ring maple")),
    ("name \"a\0b\"", "syntax/control-character", "a character that no editor shows (U+0000) stands here", Some("name \"ab\"")),
    ("name \"a\u{202e}b\"", "syntax/control-character", "a character that no editor shows (U+202E) stands here", Some("name \"ab\"")),
    ("let rim 3/4", "syntax/unreadable", "`let rim` lacks its `=`", Some("let rim = 3/4")),
    ("let rim: 3/4", "syntax/unreadable", "`let rim` lacks its `=`", Some("let rim = 3/4")),
    ("let rim := 3/4", "syntax/unreadable", "`let rim` lacks its `=`", Some("let rim = 3/4")),
    ("let rim", "syntax/unreadable", "`let rim` has no value", None),
    ("let rim =", "syntax/unreadable", "`let rim` has no value", None),
    ("let = 3", "syntax/unreadable", "`=` stands where a word belongs", None),
    ("let 3 = 4", "syntax/unreadable", "`3` stands where a word belongs", None),
    ("let rim = 3 4", "syntax/unreadable", "`4` stands where an operator or the end of the line belongs", None),
    ("let rim = 3 +", "syntax/unreadable", "the line ends where `(`, a number or a word belongs", None),
    ("let rim = + 3", "syntax/unreadable", "`+` stands where `(`, a number or a word belongs", None),
    ("let rim = 1,5", "syntax/decimal-comma", "`1,5` has a comma where a decimal point belongs", Some("let rim = 1.5")),
    ("let rim = (3 + 4", "syntax/unreadable", "`(` is not closed", Some("let rim = (3 + 4)")),
    ("thick = 3/4", "syntax/unreadable", "a value is given to `thick` without `let`", Some("let thick = 3/4")),
    ("ring maple thick=3/4", "syntax/unreadable", "`thick` takes what follows without `=`", Some("ring maple thick 3/4")),
    ("thick: 3/4", "syntax/unreadable", "`thick` takes what follows without `:`", Some("thick 3/4")),
    ("wall 1/4; floor 1/4", "syntax/unreadable", "`;` does not exist here", Some("wall 1/4\nfloor 1/4")),
    ("wall 1/4;", "syntax/unreadable", "`;` does not exist here", Some("wall 1/4")),
    ("wall 1/4 // note", "syntax/unreadable", "`//` begins no comment here", Some("wall 1/4 # note")),
    ("/* x */", "syntax/unreadable", "`/*` begins no comment here", None),
    ("wall 3 /* x */", "syntax/unreadable", "`/*` begins no comment here", None),
    ("let a = 3 // note", "syntax/unreadable", "`//` begins no comment here", Some("let a = 3 # note")),
    ("let a = 3 /* n", "syntax/unreadable", "`/*` begins no comment here", None),
    ("ring Maple", "syntax/unreadable", "`Maple` has capital letters; words are lower-case", Some("ring maple")),
    ("ring hardMaple", "syntax/unreadable", "`hardMaple` has capital letters; words are lower-case", Some("ring hard-maple")),
    ("ring HARD_MAPLE", "syntax/unreadable", "`HARD_MAPLE` has capital letters; words are lower-case", Some("ring hard-maple")),
    ("ring maple-", "syntax/unreadable", "`maple-` has a hyphen that joins nothing", Some("ring maple")),
    ("ring a--b", "syntax/unreadable", "`a--b` has a hyphen that joins nothing", Some("ring a-b")),
    ("ring érable", "syntax/unreadable", "`érable` has letters beyond a to z, of which words are made", None),
    ("12 maple", "syntax/unreadable", "a statement begins with a word, not with `12`", None),
    ("ring 12x", "syntax/unreadable", "`x` in `12x` is not a unit", None),
    ("thick 3mmm", "syntax/unreadable", "`mmm` in `3mmm` is not a unit", Some("thick 3mm")),
    ("thick 3 1/2mmm", "syntax/unreadable", "`mmm` in `1/2mmm` is not a unit", Some("thick 3 1/2mm")),
    ("lives 20degc", "syntax/unreadable", "`degc` in `20degc` is not a unit", Some("lives 20degC")),
    ("thick 3IN", "syntax/unreadable", "`IN` in `3IN` is not a unit", Some("thick 3in")),
    ("thick 3µm", "syntax/unreadable", "`µm` in `3µm` is not a unit", None),
    ("thick 12hrs", "syntax/unreadable", "`hrs` in `12hrs` is not a unit", Some("thick 12h")),
    ("thick 2'6\"", "syntax/unreadable", "`2'6\"` runs two numbers together", None),
    ("thick 3in-1/8in", "syntax/unreadable", "`3in-1/8in` runs a subtraction together", None),
    ("thick 1.2.3", "syntax/unreadable", "`1.2.3` is not a number", None),
    ("thick 12.", "syntax/unreadable", "`12.` is not a number", None),
    ("at 5%rhx", "syntax/unreadable", "`%rhx` in `5%rhx` is not a unit", Some("at 5%rh")),
    ("name 'Crock'", "syntax/unreadable", "a text stands in double quotes, not in `'`", Some("name \"Crock\"")),
    ("name `Crock`", "syntax/unreadable", "a text stands in double quotes, not in backticks", Some("name \"Crock\"")),
    ("thick 3/4 \"", "syntax/unreadable", "an inch mark stands apart from its number", Some("thick 3/4\"")),
    ("thick 2 '", "syntax/unreadable", "a foot mark stands apart from its number", Some("thick 2'")),
    ("use\"file\"", "syntax/unreadable", "a space belongs between `use` and its text", Some("use \"file\"")),
    ("ring [maple walnut", "syntax/unreadable", "`[` is not closed", Some("ring [maple walnut]")),
    ("ring maple]", "syntax/unreadable", "this `]` closes nothing", Some("ring maple")),
    ("ring [maple (walnut]", "syntax/unreadable", "`(` is not closed", Some("ring [maple (walnut)]")),
    ("ring [maple [walnut]]", "syntax/unreadable", "a list stands within a list", None),
    ("at rim + 1", "syntax/unreadable", "`+` stands outside of parentheses", None),
    ("at 3/4 * 2", "syntax/unreadable", "`*` stands outside of parentheses", None),
    ("at rim - 1/2", "syntax/unreadable", "`-` stands outside of parentheses", None),
    ("expect mass => 3", "syntax/unreadable", "`=>` is no comparison", Some("expect mass >= 3")),
    ("expect mass ≥ 3", "syntax/unreadable", "`≥` is no comparison", Some("expect mass >= 3")),
    ("expect mass >=", "syntax/unreadable", "the line ends where `(`, a number or a word belongs", None),
    ("expect mass >= >= 3", "syntax/unreadable", "`>` stands where `(`, a number or a word belongs", None),
    ("at 1 .. 2 .. 3", "syntax/unreadable", "`..` does not stand between two quantities", None),
    ("at 1 ..", "syntax/unreadable", "the line ends where `(`, a number or a word belongs", None),
    ("at (1 + )", "syntax/unreadable", "`)` stands where `(`, a number or a word belongs", None),
    ("at ()", "syntax/unreadable", "`)` stands where `(`, a number or a word belongs", None),
    ("at (a b)", "syntax/unreadable", "`b` stands where `)` or an operator belongs", None),
    ("at min(a, b)", "syntax/unreadable", "`min` is called outside of parentheses", None),
    ("at (min(a b))", "syntax/unreadable", "`b` stands where `)` or an operator belongs", None),
    ("at (min(a,))", "syntax/unreadable", "`)` stands where a value belongs", None),
    ("ring [maple*]", "syntax/unreadable", "`*` wants a whole number behind it", None),
    ("ring [maple*x]", "syntax/unreadable", "`*` wants a whole number behind it", None),
    ("ring [*3]", "syntax/unreadable", "`*3` stands where `(`, `]`, a number, a text in quotes or a word belongs", None),
    ("wall @", "syntax/unreadable", "`@` cannot stand here", None),
    ("wall 1/4 )", "syntax/unreadable", "this `)` closes nothing", Some("wall 1/4 ")),
    ("wall 1/0", "quantity/not-a-number", "`1/0` divides by zero", None),
    ("wall 9999999999/3", "quantity/out-of-range", "`9999999999/3` has more digits than any vessel needs", None),
    ("wall 1e5", "syntax/unreadable", "`e5` in `1e5` is not a unit", None),
    ("name “a”", "syntax/look-alike", "`“` is a typographic quote (U+201C), not `\"`", Some("name \"a\"")),
    ("&&", "syntax/unreadable", "a statement begins with a word, not with `&&`", None),
    ("at ((((1", "syntax/unreadable", "`(` is not closed", Some("at ((((1))))")),
    ("at 1 = 2", "syntax/unreadable", "`=` cannot stand here", None),
    ("name \"a\" \"b", "syntax/unclosed-text", "the text that begins here has no closing quote", Some("name \"a\" \"b\"")),
    ("wall 3/4/5", "syntax/unreadable", "`/` stands outside of parentheses", None),
    ("wall 3/4.5", "syntax/unreadable", "`3/4.5` is not a number", None),
    ("thick -", "syntax/unreadable", "`-` stands outside of parentheses", None),
    ("thick - 3", "syntax/unreadable", "`-` stands outside of parentheses", None),
    ("wall \u{feff}3", "syntax/control-character", "a character that no editor shows (U+FEFF) stands here", Some("wall 3")),
    ("wall 1\rfloor 2", "syntax/control-character", "a character that no editor shows (U+000D) stands here", Some("wall 1\nfloor 2")),
    ("at min(1,5)", "syntax/unreadable", "`min` is called outside of parentheses", None),
    ("at (1, 2)", "syntax/unreadable", "`,` stands where `)` or an operator belongs", None),
    ("thick:3/4", "syntax/unreadable", "`thick` takes what follows without `:`", Some("thick 3/4")),
    ("ring maple*3", "syntax/unreadable", "`*` stands outside of parentheses", None),
    ("wall 3..4x", "syntax/unreadable", "`x` in `4x` is not a unit", None),
    ("at (min(1,5) + )", "syntax/unreadable", "`)` stands where `(`, a number or a word belongs", None),
    ("a [b", "syntax/unreadable", "`[` is not closed", Some("a [b]")),
    ("name \"a\rb\"", "syntax/control-character", "a character that no editor shows (U+000D) stands here", Some("name \"ab\"")),
    ("let a == 3", "syntax/unreadable", "`let a` lacks its `=`", Some("let a = 3")),
    ("wall a [b] .. 3", "syntax/unreadable", "`..` does not stand between two quantities", None),
    ("wall .. 3", "syntax/unreadable", "`..` does not stand between two quantities", None),
    ("wall a\"b\"", "syntax/unreadable", "a space belongs between `a` and its text", Some("wall a \"b\"")),
    ("ring mapleX", "syntax/unreadable", "`mapleX` has capital letters; words are lower-case", Some("ring maple-x")),
    ("thick ½½", "syntax/unreadable", "`½½` is not a number", None),
    ("at (12x)", "syntax/unreadable", "`x` in `12x` is not a unit", None),
    ("ring [maple12x 3x]", "syntax/unreadable", "`x` in `3x` is not a unit", None),
    ("at a-½", "syntax/unreadable", "`-` stands outside of parentheses", None),
];

#[track_caller]
fn only(findings: &[Finding], text: &str) -> Finding {
    match findings {
        [finding] => finding.clone(),
        others => panic!("{text:?}: {:?}", messages(others)),
    }
}

#[test]
fn each_slip_has_one_finding_in_words_of_its_own() {
    for (text, code, message, fixed) in LINES {
        let read = read(text);
        let finding = only(&read.findings, text);
        assert_eq!((finding.code.name, finding.message.as_str()), (*code, *message), "{text:?}");
        assert_eq!(show(&read.value).lines().count(), 1, "{text:?}");
        assert!(show(&read.value).starts_with("broken <"), "{text:?}");
        let after = finding.fix.as_ref().map(|_| mended(text, &finding));
        assert_eq!(after.as_deref(), *fixed, "{text:?}");
        if let Some(after) = after {
            assert_eq!(messages(&super::read(&after).findings), [""; 0], "{after:?}");
        }
    }
}

#[test]
fn the_neighbors_of_a_slip_survive() {
    for (text, _, message, _) in LINES {
        let around = format!("units in\n{text}\nfloor 1/4 # thin\n");
        let read = read(&around);
        assert_eq!(only(&read.findings, &around).message, *message, "{text:?}");
        let shown = show(&read.value);
        assert!(shown.starts_with("units in\nbroken <"), "{shown}");
        assert!(shown.ends_with("\nfloor 0+1/4\n"), "{shown}");
        assert_eq!(read.value.comments.len(), 1);
    }
}

#[test]
fn a_slip_in_a_block_of_one_line_leaves_the_block_whole() {
    // Comments of other languages go to the end of the line, and so do texts.
    let within = |text: &str| !text.contains("//") && !text.contains("thick = ");
    for (text, ..) in LINES.iter().filter(|(text, ..)| within(text)) {
        let around = format!("ring maple {{ {text} }}\nfloor 1/4");
        let read = read(&around);
        only(&read.findings, &around);
        let shown = show(&read.value);
        assert!(shown.starts_with("ring maple {\n  broken <"), "{shown}");
        assert!(shown.ends_with(">\nfloor 0+1/4\n"), "{shown}");
    }
}

/// Checks the tree, the one message and the text that the fix makes.
#[track_caller]
fn check(text: &str, message: &str, tree: &str, fixed: Option<&str>) {
    let read = read(text);
    let finding = only(&read.findings, text);
    assert_eq!(finding.message, message);
    assert_eq!(show(&read.value), tree);
    assert_eq!(finding.fix.as_ref().map(|_| mended(text, &finding)).as_deref(), fixed);
}

#[test]
fn a_broken_head_still_opens_its_block() {
    check(
        "vessel “Crock – x” {\n wall 1/4\n}\nb 1",
        "`“` is a typographic quote (U+201C), not `\"`",
        "vessel {\n  broken <“Crock – x”>\n  wall 0+1/4\nb 1\n",
        Some("vessel \"Crock – x\" {\n wall 1/4\n}\nb 1"),
    );
    check(
        "vessel \"Crock {\n wall 1\n}",
        "the text that begins here has no closing quote",
        "vessel {\n  broken <\"Crock>\n  wall 1\n",
        Some("vessel \"Crock\" {\n wall 1\n}"),
    );
    check(
        "outside smooth, fine {\n at 1\n}",
        "arguments have no commas between them",
        "outside smooth {\n  broken <, fine>\n  at 1\n",
        Some("outside smooth fine {\n at 1\n}"),
    );
    check(
        "ring [a # one\n b] (3 + 1/0) { at 1 }",
        "`1/0` divides by zero",
        "ring [a b] {\n  broken <(3 + 1/0)>\n  at 1\n",
        None,
    );
    check(
        "Vessel \"Crock\" {\n wall 1\n}",
        "`Vessel` has capital letters; words are lower-case",
        "Vessel {\n  broken <\"Crock\">\n  wall 1\n",
        Some("vessel \"Crock\" {\n wall 1\n}"),
    );
    check("12 {\n a 1\n}", "a statement begins with a word, not with `12`", "12 {\n  broken <>\n  a 1\n", None);
}

#[test]
fn a_brace_on_its_own_line_belongs_to_the_statement_above() {
    let tree = "vessel \"x\" {\n  wall 1\nb 2\n";
    let message = "`{` stands on a line of its own";
    let fixed = Some("vessel \"x\" {\n wall 1\n}\nb 2");
    check("vessel \"x\"\n{\n wall 1\n}\nb 2", message, tree, fixed);
    check("vessel \"x\"\r\n\r\n  {\n wall 1\n}\nb 2", message, tree, fixed);
    let fixed = Some("vessel \"x\" { # c\n\n wall 1\n}\nb 2");
    check("vessel \"x\" # c\n{\n wall 1\n}\nb 2", message, tree, fixed);
}

#[test]
fn a_brace_without_any_head_is_looked_through() {
    let message = "`{` has no head before it";
    check("{ wall 1 }\nb 2", message, "broken <{>\nwall 1\nb 2\n", None);
    check("a { b 1 } { c 1 } d 1", message, "a {\n  b 1\nbroken <{>\nc 1\nd 1\n", None);
    check("a { { c 1 } }", message, "a {\n  broken <{>\n  c 1\n", None);
}

#[test]
fn stray_braces() {
    let message = "this `}` closes nothing";
    check("a 1 }\nb 2", message, "a 1\nbroken <}>\nb 2\n", Some("a 1 \nb 2"));
    check("a { b 1 } } c 2", message, "a {\n  b 1\nbroken <}>\nc 2\n", Some("a { b 1 }  c 2"));
    assert_eq!(read("}}} }").findings.len(), 4);
}

#[test]
fn unclosed_blocks_are_told_in_one_go() {
    check(
        "body {\n ring maple",
        "the block of `body` is not closed",
        "body {…\n  ring maple\n",
        Some("body {\n ring maple\n}\n"),
    );
    check(
        "vessel \"x\" {\n body {\n ring maple { thick 1\n",
        "the block of `vessel` is not closed, nor 2 within it",
        "vessel \"x\" {…\n  body {…\n    ring maple {…\n      thick 1\n",
        Some("vessel \"x\" {\n body {\n ring maple { thick 1\n}\n}\n}\n"),
    );
    let text = "vessel \"x\" {\n  body {\n    ring maple\n  lid {\n    ring maple\n  }\n}\n# end\n";
    let finding = only(&read(text).findings, text);
    assert_eq!(finding.code.name, "syntax/unclosed-block");
    assert_eq!(&text[finding.place.span.range()], "{");
    let related: Vec<(&str, u32)> =
        finding.related.iter().map(|label| (label.message.as_str(), label.span.start)).collect();
    let end = u32::try_from(text.len()).unwrap();
    let askew = u32::try_from(text.rfind('}').unwrap()).unwrap();
    assert_eq!(
        related,
        [("the file ends here", end), ("this closes the block of `body`, but is not in line with it", askew)]
    );
}

#[test]
fn a_slip_in_a_list_of_several_lines_breaks_all_of_it_and_no_more() {
    check(
        "ring [maple,\n walnut # dark\n] thick 1\nwall 1",
        "a list has no commas",
        "broken <ring [maple,\n walnut # dark\n] thick 1>\nwall 1\n",
        Some("ring [maple\n walnut # dark\n] thick 1\nwall 1"),
    );
    check(
        "body {\n ring [maple walnut\n ring [maple]\n}\nwall 1",
        "`[` is not closed",
        "body {\n  broken <ring [maple walnut>\n  ring [maple]\nwall 1\n",
        Some("body {\n ring [maple walnut]\n ring [maple]\n}\nwall 1"),
    );
}

#[test]
fn words_that_depend_on_the_block() {
    check(
        "v { thick = 3/4 }",
        "`thick` takes what follows without `=`",
        "v {\n  broken <thick = 3/4>\n",
        Some("v { thick 3/4 }"),
    );
    check(
        "a {\n  b 1; c 2;;\n}",
        "`;` does not exist here",
        "a {\n  broken <b 1; c 2;;>\n",
        Some("a {\n  b 1\n  c 2\n}"),
    );
    check(
        "// a { b } \"\nc 1",
        "`//` begins no comment here",
        "broken <// a { b } \">\nc 1\n",
        Some("# a { b } \"\nc 1"),
    );
}

#[test]
fn what_cannot_be_seen_is_found_wherever_it_matters() {
    let message = "a character that no editor shows (U+000D) stands here";
    check("wall 1\rfloor 2", message, "broken <wall 1\rfloor 2>\n", Some("wall 1\nfloor 2"));
    let message = "3 characters that no editor shows stand here, the first is U+0000";
    check("a 1\n\0\0\0\nb 2", message, "a 1\nbroken <\0\0\0>\nb 2\n", Some("a 1\n\nb 2"));
    assert_eq!(read("# \0\u{202E} in a comment\na 1").findings, []);
    assert_eq!(read("name \"👩\u{200D}🔧\"").findings, []);
}

#[test]
fn nesting_is_refused_before_it_hurts() {
    for bracket in ["{", "a {\n", "(", "[", "a (", "a [(", "let x = -(", "ring [a ("] {
        let text = bracket.repeat(100_000);
        let read = read(&text);
        let finding = only(&read.findings, "");
        assert_eq!(finding.code.name, "syntax/too-deep");
        assert_eq!(finding.message, "more than 128 brackets stand open here");
        assert_eq!(read.value.nodes.len(), 1);
    }
    let nested = |open: &str, close: &str, n: usize| format!("{}1{}", open.repeat(n), close.repeat(n));
    for text in [
        format!("at {}", nested("(", ")", 128)),
        format!("ring [{}]", nested("(", ")", 127)),
        format!("let x = {}", nested("min(", ")", 128)),
        nested("a {", "}", 128).replace('1', " b 1 "),
    ] {
        assert_eq!(messages(&read(&text).findings), [""; 0], "{text}");
    }
}

#[test]
fn an_expression_has_only_so_many_operators() {
    let many = 20_000;
    for text in [
        format!("let x = {}1", "- ".repeat(many)),
        format!("let x = 1{}", "+1".repeat(many)),
        format!("at (1{})", " - 1".repeat(many)),
        format!("at (min(1{}))", ", 1+1".repeat(many)),
    ] {
        let around = format!("a 1\n{text}\nb 2");
        let read = read(&around);
        let finding = only(&read.findings, "");
        assert_eq!(finding.code.name, "syntax/too-deep");
        assert_eq!(finding.message, "more than 256 operators in one expression");
        assert_eq!(read.value.nodes.len(), 3);
    }
    let most = format!("let x = 1{}", " + 1".repeat(MOST_OPERATORS));
    assert_eq!(read(&most).findings, []);
}

#[test]
fn a_wreck_of_a_file_is_read_to_its_end() {
    let lines = [
        "x = (1 + (2 * 3)) thick: 3\n",
        "ring [maple, walnut] ;\n",
        "ring maple {\n thick 3mmm } } \"\n",
        "“a” × 3/4 \" {\n }\n",
        "let x 3\n{\n}\n",
        "'a' `b` // c\n\0",
    ];
    for line in lines {
        let read = quickly(format!("{}last 1", line.repeat(20_000)));
        assert!(read.findings.len() >= 20_000, "{line:?}: {}", read.findings.len());
        let last = read.value.nodes.last().map(|node| match node {
            Node::Statement(statement) => read.value.text(statement.span),
            Node::Broken(broken) => read.value.text(broken.span),
        });
        assert!(last.is_some_and(|last| last.ends_with("last 1")), "{line:?}");
    }
    // One line of tens of thousands of bytes.
    for piece in ["a, } ", "a; } ", "a\" } ", "a ( } ", "x { ", "- "] {
        let text = piece.repeat(if piece == "x { " { 100 } else { 10_000 });
        assert!(!quickly(text).findings.is_empty());
    }
}

/// Reads a text without the checks that take as long as the text times its findings.
fn quickly(text: String) -> WithFindings<Tree> {
    parse(&Arc::new(SourceFile { id: FileId(0), name: String::new(), text }))
}
