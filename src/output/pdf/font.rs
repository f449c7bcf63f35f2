//! The two faces of the shop sheet: which signs they have, how wide those are.

use krilla::text::{Font, GlyphId, KrillaGlyph};

const REGULAR: &[u8] = include_bytes!("fonts/ringwright-sans.ttf");
const BOLD: &[u8] = include_bytes!("fonts/ringwright-sans-bold.ttf");

/// What stands for a sign that the face lacks.
const LACKING: char = '□';

/// One face with its measures.
pub(super) struct Face {
    /// As krilla embeds it.
    pub font: Option<Font>,
    data: &'static [u8],
    units: f64,
    metrics: usize,
    widths: usize,
    map: usize,
}

/// Regular and bold.
pub(super) struct Faces {
    regular: Face,
    bold: Face,
}

impl Faces {
    pub(super) fn new() -> Self {
        Self { regular: Face::new(REGULAR), bold: Face::new(BOLD) }
    }

    pub(super) fn of(&self, is_bold: bool) -> &Face {
        if is_bold { &self.bold } else { &self.regular }
    }
}

impl Face {
    fn new(data: &'static [u8]) -> Self {
        let table = |name: [u8; 4]| table(data, name).unwrap_or(data.len());
        let (head, hhea, cmap) = (table(*b"head"), table(*b"hhea"), table(*b"cmap"));
        Self {
            font: Font::new(data.into(), 0),
            data,
            units: f64::from(short(data, head + 18)).max(1.0),
            metrics: short(data, hhea + 34).into(),
            widths: table(*b"hmtx"),
            map: segments(data, cmap).unwrap_or(data.len()),
        }
    }

    /// The glyph of a sign; none when the face lacks it.
    fn glyph(&self, sign: char) -> Option<u16> {
        let code = u16::try_from(u32::from(sign)).ok()?;
        let at = |offset: usize| short(self.data, self.map + offset);
        let twice = usize::from(at(6));
        let (mut low, mut high) = (0, twice / 2);
        while low < high {
            let middle = usize::midpoint(low, high);
            if at(14 + 2 * middle) < code { low = middle + 1 } else { high = middle }
        }
        let (end, start) = (14 + 2 * low, 16 + twice + 2 * low);
        if 2 * low >= twice || at(start) > code || at(end) < code {
            return None;
        }
        let (delta, reach) = (at(start + twice), usize::from(at(start + 2 * twice)));
        let glyph = if reach == 0 {
            code.wrapping_add(delta)
        } else {
            match at(start + 2 * twice + reach + 2 * usize::from(code - at(start))) {
                0 => 0,
                glyph => glyph.wrapping_add(delta),
            }
        };
        (glyph != 0).then_some(glyph)
    }

    /// Whether the face has the sign.
    pub(super) fn has(&self, sign: char) -> bool {
        self.glyph(sign).is_some()
    }

    /// Of a glyph, in parts of the type's size.
    fn advance(&self, glyph: u16) -> f64 {
        let at = usize::from(glyph).min(self.metrics.saturating_sub(1));
        f64::from(short(self.data, self.widths + 4 * at)) / self.units
    }

    /// How wide a text is at this size.
    pub(super) fn width(&self, text: &str, size: f64) -> f64 {
        text.chars().map(|sign| self.advance(self.glyph(sign).unwrap_or(0))).sum::<f64>() * size
    }

    /// The glyphs of a text, one for each sign.
    pub(super) fn glyphs(&self, text: &str) -> Vec<KrillaGlyph> {
        let glyph = |(at, sign): (usize, char)| {
            let glyph = self.glyph(sign).unwrap_or(0);
            let wide = super::single(self.advance(glyph));
            KrillaGlyph::new(GlyphId::new(glyph.into()), wide, 0.0, 0.0, 0.0, at..at + sign.len_utf8(), None)
        };
        text.char_indices().map(glyph).collect()
    }
}

/// The text with a box for every sign that the faces lack, and a space for those that steer.
pub(super) fn shown(text: &str, faces: &Faces) -> String {
    let one = |sign: char| match sign {
        sign if sign.is_control() => ' ',
        sign if faces.of(false).has(sign) && faces.of(true).has(sign) => sign,
        _ => LACKING,
    };
    text.chars().map(one).collect()
}

/// Two bytes; 0 behind the end.
fn short(data: &[u8], at: usize) -> u16 {
    let byte = |at: usize| data.get(at).copied().unwrap_or(0);
    u16::from_be_bytes([byte(at), byte(at + 1)])
}

fn long(data: &[u8], at: usize) -> usize {
    usize::from(short(data, at)) << 16 | usize::from(short(data, at + 2))
}

/// Where a table of the font file begins.
fn table(data: &[u8], name: [u8; 4]) -> Option<usize> {
    let records = (0..usize::from(short(data, 4))).map(|at| 12 + 16 * at);
    let mut named = records.filter(|at| data.get(*at..at + 4) == Some(name.as_slice()));
    named.next().map(|at| long(data, at + 8))
}

/// The map from signs to glyphs by stretches of codes (format 4).
fn segments(data: &[u8], map: usize) -> Option<usize> {
    let places = (0..usize::from(short(data, map + 2))).map(|at| map + long(data, map + 4 + 8 * at + 4));
    let mut fitting = places.filter(|at| short(data, *at) == 4);
    fitting.next()
}

#[cfg(test)]
mod tests {
    use super::{Faces, shown};

    #[test]
    fn every_sign_that_the_documents_use_is_in_both_faces() {
        let faces = Faces::new();
        let signs = "ABCxyzäöüßéèêåøÆœŁš0123456789°×½¼¾⅛⅜⅝⅞″′\"'−–—…≤≥⌀☐µ±·•²³€£$%&()[]{}<>/\\|@#*+=~^_`,.;:!?";
        for sign in signs.chars() {
            assert!(faces.of(false).has(sign) && faces.of(true).has(sign), "{sign}");
        }
    }

    #[test]
    fn widths_are_those_of_the_file() {
        // DejaVu Sans' own metrics: of 2048 units M is 1767 wide, i 569; bold M 2038.
        let faces = Faces::new();
        assert!((faces.of(false).width("Mi", 2048.0) - (1767.0 + 569.0)).abs() < 1e-6);
        assert!((faces.of(true).width("M", 2048.0) - 2038.0).abs() < 1e-6);
    }

    #[test]
    fn what_the_faces_lack_is_shown_as_a_box() {
        let faces = Faces::new();
        assert_eq!(shown("Schüssel 椀\u{7}🥣", &faces), "Schüssel □ □");
    }
}
