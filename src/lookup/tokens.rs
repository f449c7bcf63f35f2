//! What color a word deserves: by what it means, not by how it looks.

use crate::source::Span;

use super::reading::{Kind, Reading, Role};

/// What a token is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TokenKind {
    /// The head of a statement.
    Keyword,
    /// A clause.
    Property,
    /// A word that the language has for an argument.
    Choice,
    /// A wood.
    Wood,
    /// A named value.
    Value,
    /// A chart, a layer, a key, an insert.
    Name,
    /// A glue, a finish, a code.
    Constant,
    /// A function.
    Function,
    /// A number with its unit.
    Number,
    /// A text.
    Text,
    /// A comment.
    Comment,
}

/// One word with its color.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Token {
    /// Where.
    pub span: Span,
    /// What it is.
    pub kind: TokenKind,
    /// Whether the name is given here.
    pub is_definition: bool,
}

/// All tokens of a file, in order.
#[must_use]
pub fn of(reading: &Reading) -> Vec<Token> {
    let marks = reading.marks.iter().map(|mark| {
        let is_definition = matches!(mark.role, Role::Definition(_));
        Token { span: mark.span, kind: kind_of(reading, mark.role), is_definition }
    });
    let comments = reading.tree.comments.iter();
    let comments = comments.map(|span| Token { span: *span, kind: TokenKind::Comment, is_definition: false });
    let mut tokens: Vec<Token> = marks.chain(comments).collect();
    tokens.sort_by_key(|token| token.span);
    tokens
}

fn kind_of(reading: &Reading, role: Role) -> TokenKind {
    let of_name = |kind: Kind| match kind {
        Kind::Value => TokenKind::Value,
        Kind::Wood => TokenKind::Wood,
        Kind::Chart | Kind::Layer | Kind::Key | Kind::Insert => TokenKind::Name,
    };
    match role {
        Role::Head(_) => TokenKind::Keyword,
        Role::Clause(..) => TokenKind::Property,
        Role::Choice(_) | Role::Pattern => TokenKind::Choice,
        Role::Definition(index) => reading.definitions.get(index).map_or(TokenKind::Name, |it| of_name(it.kind)),
        Role::Use(kind, _) => of_name(kind),
        Role::Glue | Role::Finish | Role::Code => TokenKind::Constant,
        Role::Function => TokenKind::Function,
        Role::Number => TokenKind::Number,
        Role::Text | Role::Path => TokenKind::Text,
    }
}
