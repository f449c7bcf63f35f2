//! The vessel on a terminal that shows colors: two points in each cell, one over the other.

use std::io::Write as _;

use termcolor::{Ansi, Color, ColorSpec, WriteColor as _};

use crate::output::Rgb;

/// No more rows, so that the summary stays in sight.
pub(super) const ROWS: usize = 20;
/// No more columns.
pub(super) const COLUMNS: usize = 60;

/// From the edge, as the summary has it.
const INDENT: &[u8] = b"  ";

/// Rows of cells, upper and lower half each, as text with color codes: of 24 bits where the terminal says that it knows
/// them, else the nearest of 256.
pub(super) fn text(rows: &[Vec<(Option<Rgb>, Option<Rgb>)>], has_all_colors: bool) -> Vec<u8> {
    let shade = |(red, green, blue): Rgb| {
        if has_all_colors { Color::Rgb(red, green, blue) } else { Color::Ansi256(nearest((red, green, blue))) }
    };
    let mut out = Ansi::new(Vec::new());
    for row in rows {
        // Writing to memory does not fail.
        let _ = out.write_all(INDENT);
        let mut last = ColorSpec::new();
        for (upper, lower) in row {
            let (sign, front, back) = match (upper, lower) {
                (Some(upper), lower) => ("▀", Some(shade(*upper)), lower.map(shade)),
                (None, Some(lower)) => ("▄", Some(shade(*lower)), None),
                (None, None) => (" ", None, None),
            };
            let mut spec = ColorSpec::new();
            spec.set_fg(front).set_bg(back);
            if spec != last {
                let _ = out.set_color(&spec);
                last = spec;
            }
            let _ = out.write_all(sign.as_bytes());
        }
        let _ = out.reset();
        let _ = out.write_all(b"\n");
    }
    let _ = out.write_all(b"\n");
    out.into_inner()
}

/// Of the cube of 6 × 6 × 6 colors that xterm numbers from 16 on.
fn nearest((red, green, blue): Rgb) -> u8 {
    const STEPS: [u8; 6] = [0, 95, 135, 175, 215, 255];
    let step = |part: u8| {
        let near = STEPS.iter().zip(0_u8..).min_by_key(|(step, _)| step.abs_diff(part));
        near.map_or(0, |(_, at)| at)
    };
    16 + 36 * step(red) + 6 * step(green) + step(blue)
}

#[cfg(test)]
mod tests {
    use super::{nearest, text};

    #[test]
    fn two_points_are_a_cell() {
        let (red, blue) = (Some((255, 0, 0)), Some((0, 0, 255)));
        let said = String::from_utf8(text(&[vec![(None, None), (red, blue), (None, red)]], true)).unwrap();
        assert!(said.contains("38;2;255;0;0m") && said.contains("48;2;0;0;255m"), "{said:?}");
        assert!(said.contains('▀') && said.contains('▄') && said.ends_with("\u{1b}[0m\n\n"), "{said:?}");
        let said = String::from_utf8(text(&[vec![(red, None)]], false)).unwrap();
        assert!(said.contains("38;5;196m") && !said.contains("38;2"), "{said:?}");
    }

    #[test]
    fn colors_are_the_nearest_of_the_cube() {
        assert_eq!([(0, 0, 0), (255, 255, 255), (255, 0, 0), (95, 135, 175)].map(nearest), [16, 231, 196, 67]);
        assert_eq!(nearest((232, 211, 174)), 16 + 36 * 4 + 6 * 4 + 3);
    }
}
