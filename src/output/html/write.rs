//! Text and bytes as they may stand in a page.

use std::fmt::Write as _;

/// Text that is text wherever it stands, between tags or in quotes.
pub(super) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\n' => safe.push_str("&#10;"),
            '\t' => safe.push('\t'),
            // Not allowed in HTML at all.
            sign if sign.is_control() => safe.push('\u{fffd}'),
            // Signs that turn the direction of what follows could make a line say something else.
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => safe.push('\u{fffd}'),
            sign => safe.push(sign),
        }
    }
    safe
}

/// Text between tags in which no figure is torn apart at a line's end: `6 13/64"` read as 6 and 13/64 would be another.
pub(super) fn words(text: &str) -> String {
    let safe = escaped(text);
    let mut held = String::with_capacity(safe.len());
    for (at, sign) in safe.char_indices() {
        let (before, after) = (&safe[..at], &safe[at + sign.len_utf8()..]);
        let is_inside = sign == ' ' && before.ends_with(|sign: char| sign.is_ascii_digit()) && goes_on(after);
        held.push(if is_inside { '\u{a0}' } else { sign });
    }
    held
}

/// Whether a figure goes on with a fraction or its unit.
fn goes_on(after: &str) -> bool {
    let rest = after.trim_start_matches(|sign: char| sign.is_ascii_digit());
    (rest.len() < after.len() && rest.starts_with('/'))
        || ["mm", "ml", "l", "g", "kg", "lb", "in", "°C", "°F", "min", "h"]
            .iter()
            .any(|unit| after.strip_prefix(unit).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric)))
}

/// A name as it may stand in an id or a link: letters and digits of ASCII stay, all else becomes `_` and its number.
pub(super) fn id(name: &str) -> String {
    let mut id = String::with_capacity(name.len());
    for sign in name.chars() {
        if sign.is_ascii_alphanumeric() || sign == '-' || sign == '.' {
            id.push(sign);
        } else {
            let _ = write!(id, "_{:x}_", u32::from(sign));
        }
    }
    id
}

/// Bytes as text of 64 signs (RFC 4648, with padding).
pub(super) fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let all = three.iter().chain([&0, &0]).take(3).fold(0_u32, |all, byte| all << 8 | u32::from(*byte));
        for at in 0..4 {
            if at <= three.len() {
                text.push(char::from(SIGNS[(all >> (18 - 6 * at) & 63) as usize]));
            } else {
                text.push('=');
            }
        }
    }
    text
}
