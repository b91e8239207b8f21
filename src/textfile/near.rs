//! What somebody may have meant.

use crate::numbers;

/// From this rank on a word is only a part of what was written, or the other way round.
const PART: usize = 1000;

/// The known word nearest to the one written, if one is near enough to be worth a suggestion. Capitals, and which sign
/// stands between two words, do not count.
pub fn nearest<'a>(written: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    ranked(written, known).min_by_key(|(rank, _)| *rank).map(|(_, word)| word)
}

/// The known words near to the one written, the nearest first, so many at most. Where a slip of the finger explains it, only those
/// that are as near, or one sign further; otherwise those of which it is a part.
pub fn nearest_few<'a>(written: &str, known: impl Iterator<Item = &'a str>, most: usize) -> Vec<&'a str> {
    let mut near: Vec<(usize, &str)> = ranked(written, known).collect();
    numbers::arrange_by_key(&mut near, |(rank, _)| *rank);
    if let Some((best, _)) = near.first().copied().filter(|(rank, _)| *rank < PART) {
        near.retain(|(rank, _)| *rank <= best + 1);
    }
    near.into_iter().take(most).map(|(_, word)| word).collect()
}

/// The known words near enough to be worth a suggestion, each with its rank, 0 for the same word.
fn ranked<'a>(written: &str, known: impl Iterator<Item = &'a str>) -> impl Iterator<Item = (usize, &'a str)> {
    let written = kebab(written);
    known.filter_map(move |word| {
        let plain = kebab(word);
        if written.is_empty() || plain.is_empty() {
            return None;
        }
        let steps = strsim::osa_distance(&written, &plain);
        let allowed = written.len().max(plain.len()).div_ceil(3);
        // A part of a name ("bearing", "W") is worth a suggestion too, but less than a slip of the finger. A letter is part of
        // too many.
        let within = |part: &str, whole: &str| part.len() >= 3 && whole.contains(part);
        let part = within(&written, &plain) || within(&plain, &written) || plain.starts_with(&written);
        let rank = if steps <= allowed { steps } else { PART + steps };
        (steps <= allowed || part).then_some((rank, word))
    })
}

/// In small letters, with hyphens between words and no other signs: `Back bearing!` is `back-bearing`.
#[must_use]
pub fn kebab(written: &str) -> String {
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

#[cfg(test)]
mod tests {
    use super::*;

    const KNOWN: [&str; 6] = ["back-bearing", "set-dial", "read-dial", "turns", "height_m", "gm_angle"];

    fn near(written: &str) -> Option<&'static str> {
        nearest(written, KNOWN.into_iter())
    }

    #[test]
    fn a_slip_of_the_finger_finds_its_word() {
        assert_eq!(near("bakc-bearing"), Some("back-bearing"));
        assert_eq!(near("turn"), Some("turns"));
        assert_eq!(near("Set Dial"), Some("set-dial"));
        assert_eq!(near("back_bearings"), Some("back-bearing"));
        assert_eq!(near("heigth_m"), Some("height_m"));
        assert_eq!(near("gm-angle"), Some("gm_angle"));
    }

    #[test]
    fn part_of_a_name_is_enough() {
        assert_eq!(near("bearing"), Some("back-bearing"));
        assert_eq!(near("T"), Some("turns"));
    }

    #[test]
    fn nothing_is_suggested_for_what_is_far_from_everything() {
        for far in ["cooking", "", "!!!", "x", "speed_of_the_river"] {
            assert_eq!(near(far), None, "{far}");
        }
        assert_eq!(
            nearest("anna", ["Зоя"].into_iter()),
            None,
            "a name without a letter that we compare is near to nothing"
        );
    }

    #[test]
    fn two_neighbours_swapped_are_one_slip() {
        assert_eq!(nearest("gird", ["grid"].into_iter()), Some("grid"), "two changed letters of four were too many");
        assert_eq!(nearest("xyid", ["grid"].into_iter()), Some("grid"));
        assert_eq!(nearest("xyzd", ["grid"].into_iter()), None);
    }

    #[test]
    fn several_near_words_come_nearest_first_and_no_more_than_are_wanted() {
        let known = ["grid", "true bearing", "bearing", "M", "bearings off", "back bearing"];
        assert_eq!(nearest_few("baering", known.into_iter(), 2), ["bearing"]);
        assert_eq!(nearest_few("bearing", known.into_iter(), 2), ["bearing"], "no need for parts");
        assert_eq!(nearest_few("back", known.into_iter(), 2), ["back bearing"]);
        assert!(nearest_few("", known.into_iter(), 2).is_empty());
        assert!(nearest_few("swimming", known.into_iter(), 2).is_empty(), "one letter is no part of a word");
    }

    #[test]
    fn any_title_becomes_a_name() {
        assert_eq!(kebab("  Back bearing! "), "back-bearing");
        assert_eq!(kebab("Été №1"), "t-1");
        assert_eq!(kebab("——"), "");
    }
}
