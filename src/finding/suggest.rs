//! "Did you mean": the nearest known words.

/// The known words nearest to `word`, all equally near: within a third of its length (at least one
/// letter), nothing for words under three letters.
#[must_use]
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let length = word.chars().count();
    if !(3..=64).contains(&length) {
        return Vec::new();
    }
    let bound = (length / 3).max(1);
    let mut near: Vec<(usize, &str)> = known
        .into_iter()
        .filter(|candidate| candidate.chars().count().abs_diff(length) <= bound)
        .map(|candidate| (distance(word, candidate), candidate))
        .filter(|(distance, _)| *distance <= bound)
        .collect();
    near.sort_unstable();
    near.dedup();
    // A letter less or more decides: a second best would only be noise beside the best.
    let best = near.first().map_or(0, |(distance, _)| *distance);
    near.retain(|(distance, _)| *distance == best);
    near.into_iter().map(|(_, candidate)| candidate).take(3).collect()
}

/// `` `a`, `b` or `c` ``; empty for none.
#[must_use]
pub fn or_list(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => format!("`{one}`"),
        [head @ .., last] => {
            let head: Vec<String> = head.iter().map(|word| format!("`{word}`")).collect();
            format!("{} or `{last}`", head.join(", "))
        }
    }
}

/// Edits between two words: insert, delete, replace, or swap of neighbors (Damerau's restricted form).
fn distance(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut before_last: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i; b.len() + 1];
        for j in 1..=b.len() {
            let replace = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            row[j] = replace.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                row[j] = row[j].min(before_last[j - 2] + 1);
            }
        }
        before_last = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::{nearest, or_list};

    #[test]
    fn finds_slips_of_the_fingers_and_leaves_short_words_alone() {
        assert_eq!(nearest("walnutt", ["black-walnut", "walnut", "maple"]), ["walnut"]);
        assert_eq!(nearest("rign", ["ring", "disc"]), ["ring"]);
        assert!(nearest("at", ["it", "ab"]).is_empty());
        assert!(nearest("ring", ["staves", "wedges"]).is_empty());
    }

    #[test]
    fn lists_in_a_sentence() {
        assert_eq!(or_list(&["a", "b", "c"]), "`a`, `b` or `c`");
        assert_eq!(or_list(&[]), "");
    }
}
