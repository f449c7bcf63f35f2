//! Words to lines that fit a width.

use super::font::Face;

/// Breaks between words, and within a word only where it is wider than a line. Never empty.
pub(super) fn wrapped(text: &str, face: &Face, size: f64, wide: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in pieces(text) {
        let joined = if line.is_empty() { word.clone() } else { format!("{line} {word}") };
        if face.width(&joined, size) <= wide {
            line = joined;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for sign in word.chars() {
            line.push(sign);
            if face.width(&line, size) > wide && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::replace(&mut line, sign.to_string()));
            }
        }
    }
    lines.push(line);
    lines
}

/// What stays together: words; a figure with its unit, and what stands in brackets behind it.
pub(super) fn pieces(text: &str) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let is_begun = |piece: &String| {
            let opened = piece.rfind('(').is_some_and(|open| !piece[open..].contains(')'));
            let is_figure = |text: &str| text.ends_with(|sign: char| sign.is_ascii_digit());
            let short = piece.chars().count() + word.chars().count() < 16;
            short && (opened && piece.starts_with('(') || is_figure(piece) && is_unit(word))
        };
        match pieces.last_mut() {
            Some(last) if is_begun(last) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => pieces.push(word.to_owned()),
        }
    }
    pieces
}

fn is_unit(word: &str) -> bool {
    let bare = word.trim_end_matches([',', '.', ';', ':', ')']);
    ["mm", "cm", "in", "g", "kg", "lb", "min", "h", "s", "rpm", "×", "%", "ml", "l"].contains(&bare)
        || bare.ends_with('"')
}

#[cfg(test)]
mod tests {
    use super::super::font::Faces;
    use super::{pieces, wrapped};

    #[test]
    fn figures_keep_their_units() {
        assert_eq!(pieces("27.3 mm (1 5/64\") A"), ["27.3 mm", "(1 5/64\")", "A"]);
    }

    #[test]
    fn no_line_is_too_wide_and_no_word_is_lost() {
        let faces = Faces::new();
        let text = "A rather long line with Donaudampfschifffahrtsgesellschaft in it, twice 27.3 mm (1 5/64\").";
        for wide in [12.0, 30.0, 80.0, 300.0] {
            let lines = wrapped(text, faces.of(false), 9.0, wide);
            assert!(lines.iter().all(|line| faces.of(false).width(line, 9.0) <= wide), "{wide}: {lines:?}");
            let letters = |text: &str| text.chars().filter(|sign| *sign != ' ').collect::<String>();
            assert_eq!(letters(&lines.concat()), letters(text));
        }
    }
}
