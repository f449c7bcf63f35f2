//! What all drawings share: a page with title and description, numbers with few digits, clean text.

use svg::Document;
use svg::node::element::{Description, Line, Rectangle, Text, Title};

/// What ink is not black.
pub(super) const GRAY: &str = "#555";

/// An empty white page, measured in points of the drawing.
pub(super) fn page(wide: f64, tall: f64, title: &str, about: &str) -> Document {
    Document::new()
        .set("viewBox", format!("0 0 {} {}", number(wide), number(tall)))
        .set("width", number(wide))
        .set("height", number(tall))
        .set("font-family", "sans-serif")
        .set("role", "img")
        .add(Title::new(clean(title)))
        .add(Description::new().add(svg::node::Text::new(clean(about))))
        .add(rectangle((0.0, 0.0), (wide, tall)).set("fill", "#fff"))
}

/// All of a drawing as it goes into a file, with a final line end.
pub(super) fn bytes(drawing: &Document) -> Vec<u8> {
    format!("{drawing}\n").into_bytes()
}

/// Of two decimals those that say something: `12.5`, `3`; never `-0`.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

/// Words at a place on their base line.
pub(super) fn words((x, y): (f64, f64), size: f64, text: &str) -> Text {
    Text::new(clean(text)).set("x", number(x)).set("y", number(y)).set("font-size", number(size))
}

/// A rectangle from its upper left corner.
pub(super) fn rectangle((x, y): (f64, f64), (wide, tall): (f64, f64)) -> Rectangle {
    Rectangle::new().set("x", number(x)).set("y", number(y)).set("width", number(wide)).set("height", number(tall))
}

/// A line from place to place.
pub(super) fn line(from: (f64, f64), to: (f64, f64)) -> Line {
    Line::new().set("x1", number(from.0)).set("y1", number(from.1)).set("x2", number(to.0)).set("y2", number(to.1))
}

/// Text without the signs that no XML can hold; those of markup are escaped where it is written.
pub(super) fn clean(text: &str) -> String {
    text.chars()
        .map(|sign| if sign.is_control() || matches!(sign, '\u{fffe}' | '\u{ffff}') { ' ' } else { sign })
        .collect()
}

/// Not longer than so many signs; what is cut off is told by `…`.
pub(super) fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::{bytes, clean, number, page, shortened, words};

    #[test]
    fn numbers_have_few_digits() {
        assert_eq!([12.5, 3.0, -0.001, 0.0, 100.0, 1.0 / 3.0].map(number), ["12.5", "3", "0", "0", "100", "0.33"]);
    }

    #[test]
    fn no_text_is_markup() {
        let drawing = page(10.0, 20.0, "a < b", "c & d").add(words((1.0, 2.0), 12.0, "<e>\u{1}\u{ffff}"));
        let text = String::from_utf8(bytes(&drawing)).unwrap();
        for escaped in ["a &lt; b", "c &amp; d", "&lt;e&gt;  "] {
            assert!(text.contains(escaped), "{escaped} in {text}");
        }
        assert!(text.ends_with("</svg>\n"));
    }

    #[test]
    fn long_text_is_cut_between_signs() {
        assert_eq!((shortened("Schüssel", 8).as_str(), shortened("Schüssel", 5).as_str()), ("Schüssel", "Schü…"));
        assert_eq!(clean("a\nb"), "a b");
    }
}
