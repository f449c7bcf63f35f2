//! How each wood looks: its color, lines over it that tell it from others in gray, and its first letters.

use crate::output::picture::{Color, Fill, Hatch, Stroke};
use crate::output::sheet::Sheet;

/// For words and outlines.
pub(in crate::output) const INK: Color = Color(26, 26, 26);
/// For words that stand back and lines of dimensions.
pub(in crate::output) const GRAY: Color = Color(85, 85, 85);
/// The paper.
pub(in crate::output) const WHITE: Color = Color(255, 255, 255);
/// What lies behind an open joint or in a hole.
pub(in crate::output) const DEEP: Color = Color(58, 52, 47);
/// Of glass or metal.
pub(in crate::output) const LINER: Color = Color(214, 224, 230);

/// An outline, in points of the drawing: 0.4 mm on paper.
pub(in crate::output) const BOLD: f64 = 1.5;
/// Any other line: 0.2 mm on paper.
pub(in crate::output) const THIN: f64 = 0.8;

/// Least contrast of lines over a wood. WCAG asks 3 of what has to be told apart; a hatch tells by its way as well.
const LINES: f64 = 1.75;
/// Of the lines between pieces.
const JOINTS: f64 = 2.4;

/// How a wood looks.
#[derive(Debug, Clone)]
pub(in crate::output) struct Dress {
    pub fill: Fill,
    /// Of the lines round its pieces.
    pub line: Color,
    /// Of signs on it: the one of ink and paper that stands out more.
    pub sign: Color,
    /// Its first letters, so that no one takes it for the letter of a cut.
    pub short: String,
    pub name: String,
}

impl Dress {
    pub(in crate::output) fn stroke(&self) -> Stroke {
        Stroke { color: self.line, width: THIN, dash: Vec::new() }
    }
}

/// The look of every wood of a recipe, by its index there. The lightest one has no lines.
pub(in crate::output) fn dresses(sheet: &Sheet<'_>) -> Vec<Dress> {
    let colors: Vec<Color> = (0..sheet.recipe.woods.len()).map(|at| color(sheet, at)).collect();
    let mut by_light: Vec<usize> = (0..colors.len()).collect();
    by_light.sort_by(|a, b| luminance(colors[*b]).total_cmp(&luminance(colors[*a])).then(a.cmp(b)));
    let shorts = shorts(&(0..colors.len()).map(|at| sheet.wood(at)).collect::<Vec<_>>());
    let rank = |at: usize| by_light.iter().position(|other| *other == at).unwrap_or(0);
    let dress = |(at, color): (usize, &Color)| Dress {
        fill: Fill { color: *color, hatch: hatch(rank(at), *color) },
        line: apart_from(*color, JOINTS),
        sign: if contrast(INK, *color) >= contrast(WHITE, *color) { INK } else { WHITE },
        short: shorts.get(at).cloned().unwrap_or_default(),
        name: sheet.wood(at).to_owned(),
    };
    colors.iter().enumerate().map(dress).collect()
}

/// The shortest beginnings of names, of two letters or more, that tell them apart: `Ma`, `Wa`, `Wal`.
fn shorts(names: &[&str]) -> Vec<String> {
    let letters = |name: &str| name.to_lowercase().chars().filter(|sign| sign.is_alphanumeric()).collect::<Vec<char>>();
    let all: Vec<Vec<char>> = names.iter().map(|name| letters(name)).collect();
    let mut shorts: Vec<String> = Vec::new();
    for (at, own) in all.iter().enumerate() {
        let shares = |long: usize| {
            let begins = |other: &Vec<char>| other.iter().take(long).eq(own.iter().take(long));
            all.iter().enumerate().any(|(other_at, other)| other_at != at && begins(other))
        };
        let long = (2..own.len()).find(|long| !shares(*long)).unwrap_or(own.len());
        let mut short: String = own.iter().take(long).collect();
        if let Some(first) = short.chars().next() {
            short = first.to_uppercase().chain(short.chars().skip(1)).collect();
        }
        if shorts.contains(&short) {
            short = format!("{short}{}", at + 1);
        }
        shorts.push(short);
    }
    shorts
}

/// From the table; of a laminated board that of its lowest ply.
fn color(sheet: &Sheet<'_>, at: usize) -> Color {
    const UNKNOWN: Color = Color(200, 180, 150);
    let Some(used) = sheet.recipe.woods.get(at) else { return UNKNOWN };
    let lowest = used.board().and_then(|board| board.plies.first()).and_then(|ply| sheet.recipe.woods.get(ply.wood));
    let wood = used.wood().or_else(|| lowest.and_then(crate::resolve::RecipeWood::wood));
    wood.and_then(|wood| read(&wood.color_srgb)).unwrap_or(UNKNOWN)
}

/// `#rrggbb`
fn read(text: &str) -> Option<Color> {
    let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6 && digits.is_ascii())?;
    let part = |from: usize| u8::from_str_radix(&digits[from..from + 2], 16).ok();
    Some(Color(part(0)?, part(2)?, part(4)?))
}

/// The lines of the wood that is the so-many-th from the lightest.
fn hatch(rank: usize, ground: Color) -> Option<Hatch> {
    // Angle, distance, crossed; further woods begin again, closer together.
    const WAYS: [(f64, f64, bool); 6] = [
        (45.0, 6.0, false),
        (135.0, 6.0, false),
        (45.0, 8.0, true),
        (90.0, 5.0, false),
        (0.0, 8.0, true),
        (20.0, 5.0, false),
    ];
    let at = rank.checked_sub(1)?;
    let (angle, apart, is_crossed) = WAYS[at % WAYS.len()];
    let apart = if at < WAYS.len() { apart } else { apart * 0.6 };
    Some(Hatch { angle, apart, width: THIN, color: apart_from(ground, LINES), is_crossed })
}

/// The color itself, made darker (or lighter, where it is dark already) until it stands out by so much.
fn apart_from(color: Color, least: f64) -> Color {
    let toward = |end: f64, share: f64| {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 255")]
        let mixed = |part: u8| (f64::from(part) + (end - f64::from(part)) * share).round() as u8;
        Color(mixed(color.0), mixed(color.1), mixed(color.2))
    };
    let steps = (1..=20).map(|step| f64::from(step) / 20.0);
    let darker = steps.clone().map(|share| toward(0.0, share)).find(|other| contrast(*other, color) >= least);
    darker
        .or_else(|| steps.map(|share| toward(255.0, share)).find(|other| contrast(*other, color) >= least))
        .unwrap_or(WHITE)
}

/// Relative luminance as WCAG 2.2 defines it.
fn luminance(Color(red, green, blue): Color) -> f64 {
    let part = |value: u8| {
        let share = f64::from(value) / 255.0;
        if share <= 0.040_45 { share / 12.92 } else { crate::quantity::trig::pow((share + 0.055) / 1.055, 2.4) }
    };
    0.2126 * part(red) + 0.7152 * part(green) + 0.0722 * part(blue)
}

/// Contrast ratio as WCAG 2.2 defines it, from 1 to 21.
fn contrast(a: Color, b: Color) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::woods;

    #[test]
    fn contrast_is_as_wcag_computes_it() {
        // W3C, Understanding SC 1.4.3: #767676 on white is just over 4.5:1; black on white is 21:1.
        assert!((contrast(Color(0, 0, 0), WHITE) - 21.0).abs() < 1e-9);
        assert!((contrast(Color(0x76, 0x76, 0x76), WHITE) - 4.54).abs() < 0.005);
        assert!(contrast(Color(0x77, 0x77, 0x77), WHITE) < 4.5);
    }

    #[test]
    fn woods_are_told_by_their_first_letters() {
        let of = |names: &[&str]| shorts(names);
        assert_eq!(of(&["maple", "walnut", "white-oak"]), ["Ma", "Wa", "Wh"]);
        assert_eq!(of(&["white-ash", "white-oak", "o"]), ["Whitea", "Whiteo", "O"]);
        assert_eq!(of(&["dark", "darker", "Dark"]), ["Dark", "Darke", "Dark3"]);
    }

    #[test]
    fn words_can_be_read() {
        // WCAG 2.2 AA, SC 1.4.3: 4.5:1.
        for color in [INK, GRAY] {
            assert!(contrast(color, WHITE) >= 4.5);
        }
    }

    #[test]
    fn lines_stand_out_on_every_wood_of_the_table() {
        for wood in woods() {
            let color = read(&wood.color_srgb).unwrap();
            assert!(contrast(color, apart_from(color, JOINTS)) >= JOINTS, "{}", wood.key);
            assert!(contrast(color, hatch(1, color).unwrap().color) >= LINES, "{}", wood.key);
        }
    }

    #[test]
    fn no_two_of_a_dozen_woods_have_the_same_lines() {
        let ground = Color(200, 170, 120);
        let all: Vec<Option<Hatch>> = (0..13).map(|rank| hatch(rank, ground)).collect();
        for (at, one) in all.iter().enumerate() {
            assert!(!all[..at].contains(one), "{at}");
        }
    }
}
