//! How much room words take, and labels that keep out of each other's way.

/// Width of a text in any ordinary sans-serif type, rather too much than too little.
pub(in crate::output) fn width(text: &str, size: f64, is_bold: bool) -> f64 {
    let ems: f64 = text.chars().map(ems).sum();
    ems * size * if is_bold { 1.13 } else { 1.0 }
}

/// Widths of `DejaVu Sans`, the widest of those in common use, rounded up.
fn ems(sign: char) -> f64 {
    match sign {
        'i' | 'j' | 'l' | '\'' | '|' => 0.29,
        ' ' | '.' | ',' | ':' | ';' | '!' | '·' => 0.34,
        'f' | 't' | 'r' | 'I' | 'J' | '-' | '(' | ')' | '/' | '[' | ']' => 0.42,
        '"' => 0.47,
        'm' | 'W' | '—' | '…' | '%' => 1.0,
        'M' | 'w' | '+' | '=' | '×' | '≥' | 'Ø' => 0.88,
        'A'..='Z' => 0.77,
        ' '..='~' | '°' | '–' => 0.65,
        _ => 1.0,
    }
}

/// Not wider than `most`; what is cut off is told by `…`.
pub(in crate::output) fn fitted(text: &str, size: f64, is_bold: bool, most: f64) -> String {
    if width(text, size, is_bold) <= most {
        return text.to_owned();
    }
    let mut kept: String = text.to_owned();
    while kept.pop().is_some() {
        let short = format!("{}…", kept.trim_end());
        if width(&short, size, is_bold) <= most {
            return short;
        }
    }
    String::new()
}

/// Words in lines no wider than `most`; what stands in parentheses stays together.
pub(in crate::output) fn lines(text: &str, size: f64, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut is_inside = false;
    let words = text.split(|sign| {
        is_inside = sign == '(' || is_inside && sign != ')';
        sign == ' ' && !is_inside
    });
    for word in words {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), size, false) <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Tops of labels under each other, in the order given, each as near to where it wants to be as the others let it: of all
/// such places those with the least sum of squared ways. They stay within `from` and `to` when there is room.
pub(in crate::output) fn spread(labels: &[(f64, f64)], from: f64, to: f64) -> Vec<f64> {
    // With the heights above taken off, places that must not fall become numbers that must not fall: where they do,
    // neighbors are pooled at their mean.
    let mut above = 0.0;
    let mut pools: Vec<(f64, f64)> = Vec::new();
    let mut starts = Vec::with_capacity(labels.len());
    for (wanted, tall) in labels {
        starts.push(above);
        pools.push((wanted - above, 1.0));
        above += tall;
        while let [.., (before, many), (mean, count)] = pools.as_slice()
            && before > mean
        {
            let merged = ((before * many + mean * count) / (many + count), many + count);
            pools.truncate(pools.len() - 2);
            pools.push(merged);
        }
    }
    let last = (to - above).max(from);
    let placed = pools.iter().flat_map(|(mean, count)| {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of labels")]
        let count = *count as usize;
        std::iter::repeat_n(mean.clamp(from, last), count)
    });
    placed.zip(starts).map(|(place, start)| place + start).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_stay_where_there_is_room_and_part_where_there_is_none() {
        let tall = 10.0;
        let at = |wanted: &[f64]| spread(&wanted.iter().map(|y| (*y, tall)).collect::<Vec<_>>(), 0.0, 100.0);
        assert_eq!(at(&[5.0, 30.0, 60.0]), [5.0, 30.0, 60.0]);
        assert_eq!(at(&[50.0, 50.0]), [45.0, 55.0]);
        assert_eq!(at(&[96.0, 97.0]), [80.0, 90.0], "held at the lower end");
        assert_eq!(at(&[-20.0, 2.0]), [0.0, 10.0], "held at the upper end");
        assert!(at(&[]).is_empty());
        let many = at(&[0.0; 12]);
        assert!(many.windows(2).all(|pair| pair[1] - pair[0] >= tall - 1e-9), "{many:?}");
    }

    #[test]
    fn what_is_too_wide_is_cut_or_broken() {
        assert_eq!(fitted("ring-1", 10.0, false, 100.0), "ring-1");
        let short = fitted("a very long name of a ring", 10.0, false, 60.0);
        assert!(short.ends_with('…') && width(&short, 10.0, false) <= 60.0, "{short}");
        assert_eq!(lines("one two three", 10.0, 45.0), ["one two", "three"]);
        assert_eq!(lines("wide 70 mm (2 3/4)", 10.0, 95.0), ["wide 70 mm", "(2 3/4)"]);
    }
}
