//! Every form of the language, as written and as read.

use super::{SAMPLE, leaves, messages, read, show, tree};
use crate::quantity::UNITS;
use crate::syntax::{ItemKind, Node};

#[test]
fn the_sample_is_read_whole() {
    let expected = r#"units in
use "workshop.vessel"
let rim = 4+1/2:in
let foot = ((((-paren((rim - 0+1/2))) * 2) / max(rim, 3:in)) >= 0)
shop {
  kerf 0+1/8 sanding 0.4:mm safe-piece 20:mm
wood pale {
  like hard-maple
vessel "Kitchen \"new\" crock" {
  lives <35:%rh to 60:%rh>
  outside smooth {
    at 0 diameter 3+1/2:in
    at 1+1/2 diameter 4+3/8:in
    at <(rim - 0+1/2)> diameter 0+1/2:ft
    at 5+3/8 diameter 1+1/4
  wall 0+5/16
  floor 0.5:cm
  every ring {
    segments 12 thick 0+3/4 stagger half
  body {
    disc walnut thick 0+1/2
    ring [maple*2 walnut] stagger 22.5:deg
    ring mirror [(maple walnut)*2 cherry] segments 24
    repeat 2 as i {
      ring maple {
        strip <(1 + i)>
      ring walnut
  lid {
    ring maple stagger 0+1/4
    disc walnut
  expect capacity <>= 600:ml>
  expect mass <<= <900:g>>
  expect pieces <== limit>
"#;
    assert_eq!(tree(SAMPLE), expected);
    let read = read(SAMPLE);
    let comments: Vec<&str> = read.value.comments.iter().map(|span| read.value.text(*span)).collect();
    assert_eq!(
        comments,
        [
            "# A crock for dry beans: hard maple with a walnut band.",
            "# where the lid sits",
            "# the band",
            "# and its edge",
            "# the end",
        ]
    );
}

#[test]
fn keys_stand_several_on_a_line() {
    let expected = "chart waves {\n  m = maple w = bog-oak # no blanks are needed\n  rows {\n    m w m w\n";
    let expected = expected.replace(" # no blanks are needed", "");
    for text in [
        "chart waves { m = maple  w=bog-oak # no blanks are needed\n rows { m w m w } }",
        "chart waves {\n m= maple w =bog-oak\r\n rows {\r\n m w m w\r\n }\r\n}\r\n",
    ] {
        assert_eq!(tree(text), expected, "{text}");
    }
    // The rows may follow on the line, and then belong to its statement.
    assert_eq!(tree("c { m = maple rows { m } }"), "c {\n  m = maple rows {\n    m\n");
    let with_arithmetic = read("c { m = maple + 1 }");
    assert_eq!(messages(&with_arithmetic.findings), ["`m` takes what follows without `=`"]);
}

#[test]
fn line_ends_tabs_and_the_mark_at_the_start_change_nothing() {
    let expected = tree(SAMPLE);
    assert_eq!(tree(&SAMPLE.replace('\n', "\r\n")), expected);
    assert_eq!(tree(&SAMPLE.replace("  ", "\t")), expected);
    assert_eq!(tree(&format!("\u{FEFF}{SAMPLE}")), expected);
    assert_eq!(tree(SAMPLE.trim_end()), expected);
    let crlf = read("wall 1 # thin\r\nfloor 2\r\n");
    assert_eq!(crlf.value.text(crlf.value.comments[0]), "# thin");
}

#[test]
fn nothing_is_a_tree_too() {
    for text in ["", " ", "\n", "\r\n\r\n", "\u{FEFF}", "\t\n  # only this", "#"] {
        assert_eq!(tree(text), "", "{text:?}");
    }
}

#[test]
fn numbers_as_turners_write_them() {
    let forms = [
        ("12", "12"),
        ("0.75", "0.75"),
        (".5", "0.5"),
        ("3/4", "0+3/4"),
        ("1 1/2", "1+1/2"),
        ("1\t1/2", "1+1/2"),
        ("1-1/2", "1+1/2"),
        ("½", "0+1/2"),
        ("1½", "1+1/2"),
        ("1 ½", "1+1/2"),
        ("1-½", "1+1/2"),
        ("⅞\"", "0+7/8:in"),
        ("-1/4", "-0+1/4"),
        ("-.5", "-0.5"),
        ("-½", "-0+1/2"),
        ("0 1/2", "0+1/2"),
        ("3/4\"", "0+3/4:in"),
        ("1 1/2 in", "1+1/2:in"),
        ("1 1/2\"", "1+1/2:in"),
        ("22.5°", "22.5:deg"),
        ("20 °C", "20:degC"),
        ("35%rh", "35:%rh"),
        ("35 %rh", "35:%rh"),
        ("20%", "20:%"),
        ("12 instar", "12 instar"),
        ("1 mango", "1 mango"),
        ("12 in-stock", "12 in-stock"),
        ("5 m", "5:m"),
        ("2'", "2:ft"),
        ("3/4\" x \"label\"", "0+3/4:in x \"label\""),
        ("3 \"label\"", "3 \"label\""),
        ("0 diameter 3 1/2", "0 diameter 3+1/2"),
        ("12 3", "12 3"),
        ("1 -1/2", "1 -0+1/2"),
    ];
    for (written, read) in forms {
        assert_eq!(tree(&format!("at {written}")), format!("at {read}\n"), "{written}");
        assert_eq!(tree(&format!("a {{ at {written} }}")), format!("a {{\n  at {read}\n"), "{written}");
    }
}

#[test]
fn every_spelling_of_every_unit_is_read() {
    for unit in UNITS {
        for spelling in unit.spellings {
            // Apart from its number, a quote begins a text and an apostrophe nothing.
            let gaps: &[&str] = if matches!(*spelling, "\"" | "'") { &[""] } else { &["", " ", " \t "] };
            for gap in gaps {
                let read = read(&format!("at 3/4{gap}{spelling}\n"));
                assert_eq!(messages(&read.findings), [""; 0], "{gap}{spelling}");
                let [Node::Statement(statement)] = read.value.nodes.as_slice() else { panic!("{spelling}") };
                let [item] = statement.arguments() else { panic!("{spelling}: {}", show(&read.value)) };
                let ItemKind::Quantity(literal) = item.kind else { panic!("{spelling}") };
                assert_eq!(literal.unit, Some(unit), "{spelling}");
            }
        }
    }
}

#[test]
fn the_grammar_knows_no_unit_that_is_none() {
    let grammar = include_str!("../../../grammar/vessel.pest");
    let mut n_spellings = 0;
    for rule in ["tight_mark = _{", "\nmark = _{", "\nmeasure = _{"] {
        let (_, body) = grammar.split_once(rule).unwrap();
        let (body, _) = body
            .split_once("\n}")
            .filter(|(body, _)| body.starts_with('\n'))
            .unwrap_or_else(|| body.split_once(" }").unwrap());
        let body = body.replace("\\\"", "inch mark");
        for spelling in body.split('"').skip(1).step_by(2) {
            let spelling = if spelling == "inch mark" { "\"" } else { spelling };
            assert!(UNITS.iter().any(|unit| unit.spellings.contains(&spelling)), "{spelling}");
            n_spellings += 1;
        }
    }
    assert_eq!(n_spellings, UNITS.iter().map(|unit| unit.spellings.len()).sum::<usize>());
}

#[test]
fn ranges_and_comparisons() {
    let forms = [
        ("lives 35%rh .. 60%rh", "lives <35:%rh to 60:%rh>"),
        ("at 3..4", "at <3 to 4>"),
        ("at 3...5", "at <3 to 0.5>"),
        ("at .5...75", "at <0.5 to 0.75>"),
        ("at (a) .. (b + 1)", "at <<a> to <(b + 1)>>"),
        ("at low .. high name x", "at <low to high> name x"),
        ("expect mass >= 3 kg", "expect mass <>= 3:kg>"),
        ("expect mass<3kg", "expect mass << 3:kg>"),
        ("expect mass == (a * 2)", "expect mass <== <(a * 2)>>"),
        ("expect mass > limit", "expect mass <> limit>"),
    ];
    for (written, read) in forms {
        assert_eq!(tree(written), format!("{read}\n"));
    }
}

#[test]
fn lists_and_groups() {
    let forms = [
        ("ring []", "ring []"),
        ("ring[maple]", "ring [maple]"),
        ("ring [ maple*3 walnut ]", "ring [maple*3 walnut]"),
        ("ring [maple * 3\twalnut *2]", "ring [maple*3 walnut*2]"),
        ("ring [((a b)*2 c)*3 d]", "ring [((a b)*2 c)*3 d]"),
        ("ring [maple 70%  walnut 30%]", "ring [maple 70:% walnut 30:%]"),
        ("ring [\"a\"*2 1/2*3]", "ring [\"a\"*2 0+1/2*3]"),
        ("ring [maple # one\n# two\n\n walnut\r\n] thick 1", "ring [maple walnut] thick 1"),
        ("ring [a*99999999999999999999]", "ring [a*4294967295]"),
    ];
    for (written, read) in forms {
        assert_eq!(tree(written), format!("{read}\n"));
    }
}

#[test]
fn arithmetic_binds_as_at_school() {
    let forms = [
        ("1 + 2 * 3", "(1 + (2 * 3))"),
        ("1 * 2 + 3", "((1 * 2) + 3)"),
        ("1 - 2 - 3", "((1 - 2) - 3)"),
        ("8 / 4 / 2", "((8 / 4) / 2)"),
        ("a + 1 >= b * 2", "((a + 1) >= (b * 2))"),
        ("-a * b", "((-a) * b)"),
        ("a - -b", "(a - (-b))"),
        ("- - 1", "(-(-1))"),
        ("-1/4 + a", "(-0+1/4 + a)"),
        ("3 -1/2", "(3 - 0+1/2)"),
        ("3 - 1/2", "(3 - 0+1/2)"),
        ("3-1/2", "3+1/2"),
        ("3/4/5", "(0+3/4 / 5)"),
        ("rim-1", "rim-1"),
        ("rim - 1", "(rim - 1)"),
        ("rim+1", "(rim + 1)"),
        ("min(a, b + 1, max(c))", "min(a, (b + 1), max(c))"),
        ("min()", "min()"),
        ("(a + b) * c", "(paren((a + b)) * c)"),
        ("((a))", "paren(paren(a))"),
        ("3 in + 2 mm", "(3:in + 2:mm)"),
        ("min(1,5)", "min(1, 5)"),
        ("a == b", "(a == b)"),
    ];
    for (written, read) in forms {
        assert_eq!(tree(&format!("let x = {written}")), format!("let x = {read}\n"), "{written}");
        assert_eq!(tree(&format!("at ({written})")), format!("at <{read}>\n"), "{written}");
        let spread = written.replace(' ', "\n  # and\n").replace("(\n", "(");
        if !written.contains("in") && !written.contains('-') {
            assert_eq!(tree(&format!("at (\n{spread}\n)")), format!("at <{read}>\n"), "{spread}");
        }
    }
}

#[test]
fn names_may_begin_like_let() {
    assert_eq!(tree("letter 3\nlet-go 4\nlet let-go = 5"), "letter 3\nlet-go 4\nlet let-go = 5\n");
    assert_eq!(tree("let x =3"), "let x = 3\n");
}

#[test]
fn texts_resolve_their_escapes() {
    assert_eq!(tree(r#"name "a \"b\" \\ c""#), "name \"a \\\"b\\\" \\\\ c\"\n");
    assert_eq!(tree("name \"# {no} [comment] – ½ × \t”\""), "name \"# {no} [comment] – ½ × \\t”\"\n");
    assert_eq!(tree("name \"\""), "name \"\"\n");
}

#[test]
fn blocks_stand_on_one_line_or_several() {
    assert_eq!(tree("a{b{c 1}d 2}e 3"), "a {\n  b {\n    c 1\n  d 2\ne 3\n");
    assert_eq!(tree("a 1 { segments 12  thick 3/4 }"), "a 1 {\n  segments 12 thick 0+3/4\n");
    assert_eq!(tree("a { } b {\n}\nc {# all\n}"), "a {\nb {\nc {\n");
}

#[test]
fn leaves_are_where_they_are_written() {
    let text = "ring [maple*2] (a + 1) { at ½ }";
    let read = read(text);
    let leaves: Vec<&str> = leaves(&read.value).iter().map(|span| read.value.text(*span)).collect();
    assert_eq!(leaves, ["ring", "maple", "*2", "a", "+", "1", "{", "at", "½", "}"]);
    let [Node::Statement(ring)] = read.value.nodes.as_slice() else { panic!() };
    let items: Vec<&str> = ring.items.iter().map(|item| read.value.text(item.span)).collect();
    assert_eq!(items, ["ring", "[maple*2]", "(a + 1)"]);
    assert_eq!(read.value.text(ring.span), text);
    assert_eq!(read.value.text(ring.block.as_ref().unwrap().span), "{ at ½ }");
}

#[test]
fn the_code_of_a_finding_is_one_item_and_divisions_stay_in_their_places() {
    let text = "accept ring/joints-line-up because \"so\"\nlet half = rim/base\nwall (rim/base)\nring maple accept a/b # c/d\n";
    let read = read(text);
    assert_eq!(messages(&read.findings), [""; 0]);
    let codes = read.value.nodes.iter().flat_map(|node| match node {
        Node::Statement(statement) => statement.items.iter(),
        Node::Broken(_) => [].iter(),
    });
    let codes = codes.filter(|item| matches!(item.kind, ItemKind::Code));
    assert_eq!(codes.map(|item| read.value.text(item.span)).collect::<Vec<_>>(), ["ring/joints-line-up", "a/b"]);
}
