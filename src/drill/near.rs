//! What somebody may have meant.

/// The known word nearest to the one written, if one is near enough to be worth a suggestion.
pub fn nearest<'a>(written: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let written = kebab(written);
    if written.is_empty() {
        return None;
    }
    known
        .filter_map(|word| {
            let steps = distance(&written, word);
            let allowed = written.chars().count().max(word.chars().count()).div_ceil(3);
            // A part of a name ("bearing", "W") is worth a suggestion too, but less than a slip of the finger.
            let inside = written.len() >= 3 && (word.contains(&written) || written.contains(word));
            let part = inside || word.starts_with(&written);
            let rank = if steps <= allowed { steps } else { 100 + steps };
            (steps <= allowed || part).then_some((rank, word))
        })
        .min_by_key(|(rank, _)| *rank)
        .map(|(_, word)| word)
}

/// In small letters, with hyphens between words and no other signs: `Back bearing!` is `back-bearing`.
pub(super) fn kebab(written: &str) -> String {
    let mut out = String::with_capacity(written.len());
    for letter in written.chars().take(120) {
        if letter.is_ascii_alphanumeric() {
            out.push(letter.to_ascii_lowercase());
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    out.truncate(out.trim_end_matches('-').len());
    out
}

/// How many letters must be put in, taken out, changed or swapped with their neighbour.
fn distance(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut before_last = vec![0; b.len() + 1];
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i; b.len() + 1];
        for j in 1..=b.len() {
            let changed = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            row[j] = changed.min(last[j] + 1).min(row[j - 1] + 1);
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
    use super::*;

    const KNOWN: [&str; 4] = ["back-bearing", "set-dial", "read-dial", "turns"];

    fn near(written: &str) -> Option<&'static str> {
        nearest(written, KNOWN.into_iter())
    }

    #[test]
    fn a_slip_of_the_finger_finds_its_word() {
        assert_eq!(near("bakc-bearing"), Some("back-bearing"));
        assert_eq!(near("turn"), Some("turns"));
        assert_eq!(near("Set Dial"), Some("set-dial"));
        assert_eq!(near("back_bearings"), Some("back-bearing"));
    }

    #[test]
    fn part_of_a_name_is_enough() {
        assert_eq!(near("bearing"), Some("back-bearing"));
        assert_eq!(near("T"), Some("turns"));
    }

    #[test]
    fn nothing_is_suggested_for_what_is_far_from_everything() {
        assert_eq!(near("cooking"), None);
        assert_eq!(near(""), None);
        assert_eq!(near("!!!"), None);
    }

    #[test]
    fn the_distance_counts_a_swap_of_neighbours_once() {
        assert_eq!(distance("ab", "ba"), 1);
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("kitten", "sitting"), 3);
    }

    #[test]
    fn any_title_becomes_a_name() {
        assert_eq!(kebab("  Back bearing! "), "back-bearing");
        assert_eq!(kebab("Été №1"), "t-1");
        assert_eq!(kebab("——"), "");
    }
}
