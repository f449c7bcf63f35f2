//! Any bytes as the text of a recipe: places lie where they should, nothing of the text is lost.

use std::sync::Arc;

use ringwright::source::{FileId, MapWorld, SourceFile, Span};
use ringwright::syntax::{Block, Node, Tree, comments, parse, removal};

use super::findings;

/// Reads the bytes.
pub fn target(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes).into_owned();
    let (world, root) = MapWorld::of("test.vessel", &text);
    let file = Arc::new(SourceFile { id: root, name: "test.vessel".to_owned(), text });
    let read = parse(&file);
    findings::check(&read.findings, &world);
    check(&read.value);
    let scanned = comments(&file.text);
    if read.findings.is_empty() {
        let known: Vec<_> = read.value.comments.iter().map(|span| span.range()).collect();
        assert_eq!(known, scanned, "comments of a text that can be read");
    }
    for node in read.value.nodes.iter().take(8) {
        let range = span_of(node).range();
        let taken = removal(&file.text, range.clone());
        assert!(file.text.get(taken.clone()).is_some(), "{taken:?} is taken out for {range:?}");
    }
}

fn span_of(node: &Node) -> Span {
    match node {
        Node::Statement(statement) => statement.span,
        Node::Broken(broken) => broken.span,
    }
}

fn check(tree: &Tree) {
    let whole = Span::new(FileId(0), 0, u32::try_from(tree.source.text.len()).expect("a text that can be held"));
    nodes(tree, &tree.nodes, whole);
    let mut end = 0;
    for comment in &tree.comments {
        assert!(comment.start >= end && tree.text(*comment).starts_with('#'), "the comment at {comment:?}");
        end = comment.end;
    }
}

/// Nodes stand in their order within what is around them.
fn nodes(tree: &Tree, nodes: &[Node], around: Span) {
    let mut end = around.start;
    for node in nodes {
        let span = span_of(node);
        assert!(around.contains(span) && span.start >= end, "{span:?} in {around:?} behind {end}");
        assert!(tree.source.text.get(span.range()).is_some(), "{span:?} splits a character");
        end = span.end;
        let Node::Statement(statement) = node else { continue };
        let mut end = span.start;
        for item in &statement.items {
            assert!(span.contains(item.span) && item.span.start >= end, "{:?} in {span:?}", item.span);
            end = item.span.end;
        }
        if let Some(block) = &statement.block {
            self::block(tree, block, span);
        }
    }
}

fn block(tree: &Tree, block: &Block, around: Span) {
    assert!(around.contains(block.span) && block.span.contains(block.open), "{:?} in {around:?}", block.span);
    assert_eq!(tree.text(block.open), "{");
    if let Some(close) = block.close {
        assert!(block.span.contains(close) && tree.text(close) == "}", "{close:?}");
    }
    // A head that cannot be read stands before its brace and is the block's first node.
    nodes(tree, &block.nodes, block.span);
}
