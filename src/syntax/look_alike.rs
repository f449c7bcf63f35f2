//! Characters that come in with a copied text: some look like a sign of the language, some like nothing.

/// What a look-alike should have been.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct StandIn {
    /// The sign of the language.
    pub plain: char,
    /// What the character is called.
    pub name: &'static str,
}

/// The sign that `character` is taken for, if it is a look-alike.
pub(super) fn stand_in(character: char) -> Option<StandIn> {
    let (plain, name) = match character {
        '“' | '”' | '„' | '‟' | '«' | '»' | '＂' => ('"', "a typographic quote"),
        'ʺ' | '˝' => ('"', "a modifier letter"),
        '‘' | '’' | '‚' | 'ʹ' | '´' | '＇' => ('\'', "a typographic apostrophe"),
        '×' | '✕' | '✖' | '∗' | '·' | '⋅' | '＊' => ('*', "a multiplication sign"),
        '÷' | '∕' | '⁄' | '／' => ('/', "a division sign"),
        '−' | '﹣' | '－' => ('-', "a minus sign"),
        '‐' | '‑' | '‒' | '–' | '—' | '―' => ('-', "a dash"),
        'º' | '˚' | '∘' => ('°', "a small ring"),
        '\u{A0}' | '\u{202F}' | '\u{2007}' => (' ', "a no-break space"),
        '\u{1680}' | '\u{2000}'..='\u{2006}' | '\u{2008}'..='\u{200A}' | '\u{205F}' | '\u{3000}' => {
            (' ', "a typographic space")
        }
        '，' | '、' => (',', "a wide comma"),
        '＃' => ('#', "a wide sign"),
        '！'..='～' => (char::from_u32(u32::from(character) - 0xFEE0)?, "a wide sign"),
        _ => return None,
    };
    Some(StandIn { plain, name })
}

/// Whether `character` is a quote that begins a text in some language's typography.
pub(super) fn is_curly_quote(character: char) -> bool {
    stand_in(character).is_some_and(|stand_in| stand_in.plain == '"')
}

/// Whether `character` is one that no editor shows; blanks and line feeds are not.
pub(super) fn is_hidden(character: char) -> bool {
    let is_control = character.is_control() && !matches!(character, '\t' | '\n');
    is_control
        || is_turning(character)
        || matches!(character, '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{2060}'..='\u{2064}' | '\u{FEFF}')
}

/// Whether `character` is not even allowed in a text: a control character, or one that turns the
/// direction of writing, so that a line would read otherwise than it is.
pub(super) fn is_forbidden_in_text(character: char) -> bool {
    (character.is_control() && character != '\t') || is_turning(character)
}

fn is_turning(character: char) -> bool {
    matches!(character, '\u{2028}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::{is_forbidden_in_text, is_hidden, stand_in};

    #[test]
    fn no_sign_of_the_language_is_a_look_alike() {
        for character in (' '..='~').chain(['½', '⅞', '°', '″', '′', '\t', '\n']) {
            assert_eq!(stand_in(character), None, "{character:?}");
            assert!(!is_hidden(character), "{character:?}");
        }
    }

    #[test]
    fn wide_signs_stand_for_their_narrow_ones() {
        assert_eq!(stand_in('＝').map(|stand_in| stand_in.plain), Some('='));
        assert_eq!(stand_in('（').map(|stand_in| stand_in.plain), Some('('));
    }

    #[test]
    fn joiners_of_scripts_and_emoji_may_stand_in_a_text() {
        assert!(is_hidden('\u{200D}') && !is_forbidden_in_text('\u{200D}'));
        assert!(is_forbidden_in_text('\0') && is_forbidden_in_text('\u{202E}'));
    }
}
