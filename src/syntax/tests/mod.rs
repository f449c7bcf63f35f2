//! Texts to trees: the forms of the language, the slips, and what holds for any text at all.

mod forms;
mod properties;
mod slips;

use std::fmt::Write as _;
use std::sync::Arc;

use super::{BinaryOperator, Block, Element, Expression, ExpressionKind, Item, ItemKind, Literal, Node, Tree, parse};
use crate::finding::{Finding, WithFindings};
use crate::quantity::Number;
use crate::source::{FileId, SourceFile, Span};

/// A recipe with every form of the language in forty lines.
const SAMPLE: &str = include_str!("sample.vessel");

fn read(text: &str) -> WithFindings<Tree> {
    let source = SourceFile { id: FileId(7), name: "test.vessel".to_owned(), text: text.to_owned() };
    let read = parse(&Arc::new(source));
    check_places(&read.value);
    check_findings(&read.value, &read.findings);
    read
}

/// The tree of a text without fault, one statement a line.
#[track_caller]
fn tree(text: &str) -> String {
    let read = read(text);
    assert_eq!(messages(&read.findings), [""; 0], "{text}");
    show(&read.value)
}

fn messages(findings: &[Finding]) -> Vec<&str> {
    findings.iter().map(|finding| finding.message.as_str()).collect()
}

/// Every leaf's place, in the order of the tree: words, texts, numbers, signs, broken stretches, braces.
fn leaves(tree: &Tree) -> Vec<Span> {
    let mut leaves = Vec::new();
    nodes_leaves(&tree.nodes, &mut leaves);
    leaves
}

fn nodes_leaves(nodes: &[Node], leaves: &mut Vec<Span>) {
    for node in nodes {
        match node {
            Node::Broken(broken) => leaves.push(broken.span),
            Node::Statement(statement) => {
                let start = leaves.len();
                statement.items.iter().for_each(|item| item_leaves(item, leaves));
                if let Some(block) = &statement.block {
                    block_leaves(block, leaves);
                }
                assert_inside(statement.span, &leaves[start..]);
            }
        }
    }
}

fn block_leaves(block: &Block, leaves: &mut Vec<Span>) {
    let start = leaves.len();
    let (before, inside) = block.nodes.split_at(usize::from(block.broken_head().is_some()));
    nodes_leaves(before, leaves);
    leaves.push(block.open);
    nodes_leaves(inside, leaves);
    leaves.extend(block.close);
    assert_inside(block.span, &leaves[start..]);
}

fn item_leaves(item: &Item, leaves: &mut Vec<Span>) {
    let start = leaves.len();
    match &item.kind {
        ItemKind::Word | ItemKind::Code | ItemKind::Text(_) | ItemKind::Quantity(_) => leaves.push(item.span),
        ItemKind::List(elements) | ItemKind::Group(elements) => {
            for Element { item, times } in elements {
                item_leaves(item, leaves);
                leaves.extend(times.map(|times| times.span));
            }
        }
        ItemKind::Range(from, to) => {
            item_leaves(from, leaves);
            item_leaves(to, leaves);
        }
        ItemKind::Comparison(_, item) => item_leaves(item, leaves),
        ItemKind::Expression(expression) | ItemKind::Assign(expression) => expression_leaves(expression, leaves),
    }
    assert_inside(item.span, &leaves[start..]);
}

fn expression_leaves(expression: &Expression, leaves: &mut Vec<Span>) {
    let start = leaves.len();
    match &expression.kind {
        ExpressionKind::Quantity(_) | ExpressionKind::Name => leaves.push(expression.span),
        ExpressionKind::Negate(inner) | ExpressionKind::Parenthesized(inner) => expression_leaves(inner, leaves),
        ExpressionKind::Binary(_, sign, left, right) | ExpressionKind::Compare(_, sign, left, right) => {
            expression_leaves(left, leaves);
            leaves.push(*sign);
            expression_leaves(right, leaves);
        }
        ExpressionKind::Call(name, arguments) => {
            leaves.push(*name);
            for argument in arguments {
                expression_leaves(argument, leaves);
            }
        }
    }
    assert_inside(expression.span, &leaves[start..]);
}

#[track_caller]
fn assert_inside(span: Span, leaves: &[Span]) {
    for leaf in leaves {
        assert!(span.start <= leaf.start && leaf.end <= span.end, "{leaf:?} lies outside of {span:?}");
    }
}

/// Leaves and comments are in order and on character boundaries; between them are only blanks and punctuation.
#[track_caller]
fn check_places(tree: &Tree) {
    let text = tree.source.text.as_str();
    let mut places = leaves(tree);
    assert!(places.is_sorted_by_key(|span| span.start), "{text:?}: leaves out of order: {places:?}");
    assert!(tree.comments.is_sorted(), "{text:?}: comments out of order");
    places.extend(&tree.comments);
    places.sort_by_key(|span| (span.start, span.end));
    let mut end = 0;
    for span in &places {
        assert_eq!(span.file, tree.source.id);
        let between = text.get(end..span.start as usize);
        let between = between.unwrap_or_else(|| panic!("{text:?}: {span:?} overlaps or cuts a character"));
        assert_punctuation(between, text);
        assert!(text.get(span.range()).is_some(), "{text:?}: {span:?}");
        end = span.end as usize;
    }
    assert_punctuation(&text[end..], text);
    for comment in &tree.comments {
        assert!(tree.text(*comment).starts_with('#') && !tree.text(*comment).contains('\n'), "{text:?}");
    }
}

#[track_caller]
fn assert_punctuation(between: &str, text: &str) {
    let strange = between.trim_start_matches('\u{FEFF}').chars().find(|found| !" \t\r\n()[]{},.=<>-".contains(*found));
    assert_eq!(strange, None, "{text:?}: {between:?} is lost");
}

/// Places and edits of findings lie in the text, and edits do not overlap.
#[track_caller]
fn check_findings(tree: &Tree, findings: &[Finding]) {
    let text = tree.source.text.as_str();
    for finding in findings {
        let edits = finding.fix.iter().flat_map(|fix| &fix.edits);
        let related = finding.related.iter().map(|label| label.span);
        for span in edits.map(|edit| edit.span).chain(related).chain([finding.place.span]) {
            assert!(text.get(span.range()).is_some(), "{text:?}: {finding:?}");
        }
        let _ = mended(text, finding);
        let first = finding.message.trim_start_matches('`').chars().next();
        assert!(first.is_some() && !finding.message.ends_with('.'), "{finding:?}");
        assert!(!finding.message.contains('\n') && finding.message.chars().count() < 160, "{finding:?}");
    }
}

/// The text with the finding's fix made.
#[track_caller]
fn mended(text: &str, finding: &Finding) -> String {
    let mut mended = String::new();
    let mut end = 0;
    for edit in finding.fix.iter().flat_map(|fix| &fix.edits) {
        mended += text.get(end..edit.span.start as usize).expect("edits are in order");
        mended += &edit.text;
        end = edit.span.end as usize;
    }
    mended + &text[end..]
}

/// One statement a line, blocks indented, each kind in a notation of its own.
fn show(tree: &Tree) -> String {
    let mut shown = String::new();
    show_nodes(tree, &tree.nodes, 0, &mut shown);
    shown
}

fn show_nodes(tree: &Tree, nodes: &[Node], depth: usize, shown: &mut String) {
    for node in nodes {
        let margin = "  ".repeat(depth);
        match node {
            Node::Broken(broken) => writeln!(shown, "{margin}broken <{}>", tree.text(broken.span)).unwrap(),
            Node::Statement(statement) => {
                let items: Vec<String> = statement.items.iter().map(|item| show_item(tree, item)).collect();
                let brace = match &statement.block {
                    None => "",
                    Some(Block { close: None, .. }) => " {…",
                    Some(_) => " {",
                };
                writeln!(shown, "{margin}{}{brace}", items.join(" ")).unwrap();
                if let Some(block) = &statement.block {
                    show_nodes(tree, &block.nodes, depth + 1, shown);
                }
            }
        }
    }
}

fn show_item(tree: &Tree, item: &Item) -> String {
    match &item.kind {
        ItemKind::Word | ItemKind::Code => tree.text(item.span).to_owned(),
        ItemKind::Text(value) => format!("{value:?}"),
        ItemKind::Quantity(literal) => show_literal(*literal),
        ItemKind::List(elements) => format!("[{}]", show_elements(tree, elements)),
        ItemKind::Group(elements) => format!("({})", show_elements(tree, elements)),
        ItemKind::Range(from, to) => format!("<{} to {}>", show_item(tree, from), show_item(tree, to)),
        ItemKind::Comparison(sign, item) => format!("<{} {}>", sign.sign(), show_item(tree, item)),
        ItemKind::Expression(expression) => format!("<{}>", show_expression(tree, expression)),
        ItemKind::Assign(expression) => format!("= {}", show_expression(tree, expression)),
    }
}

fn show_elements(tree: &Tree, elements: &[Element]) -> String {
    let show = |element: &Element| {
        let times = element.times.map_or(String::new(), |times| format!("*{}", times.count));
        show_item(tree, &element.item) + &times
    };
    elements.iter().map(show).collect::<Vec<_>>().join(" ")
}

/// `whole+numerator/denominator:unit`, the unit in its canonical spelling.
fn show_literal(literal: Literal) -> String {
    let number = match literal.number {
        Number::Decimal(value) => value.to_string(),
        Number::Mixed { whole, numerator, denominator, negative } => {
            format!("{}{whole}+{numerator}/{denominator}", if negative { "-" } else { "" })
        }
    };
    literal.unit.map_or(number.clone(), |unit| format!("{number}:{}", unit.spellings[0]))
}

/// Every operator with its operands in parentheses, those of the text as `paren(…)`.
fn show_expression(tree: &Tree, expression: &Expression) -> String {
    match &expression.kind {
        ExpressionKind::Quantity(literal) => show_literal(*literal),
        ExpressionKind::Name => tree.text(expression.span).to_owned(),
        ExpressionKind::Negate(inner) => format!("(-{})", show_expression(tree, inner)),
        ExpressionKind::Binary(operator, sign, left, right) => {
            let written = match operator {
                BinaryOperator::Add => "+",
                BinaryOperator::Subtract => "-",
                BinaryOperator::Multiply => "*",
                BinaryOperator::Divide => "/",
            };
            assert_eq!(tree.text(*sign), written);
            format!("({} {written} {})", show_expression(tree, left), show_expression(tree, right))
        }
        ExpressionKind::Compare(comparator, sign, left, right) => {
            assert_eq!(tree.text(*sign), comparator.sign());
            format!("({} {} {})", show_expression(tree, left), comparator.sign(), show_expression(tree, right))
        }
        ExpressionKind::Call(name, arguments) => {
            let arguments: Vec<String> = arguments.iter().map(|argument| show_expression(tree, argument)).collect();
            format!("{}({})", tree.text(*name), arguments.join(", "))
        }
        ExpressionKind::Parenthesized(inner) => format!("paren({})", show_expression(tree, inner)),
    }
}
