//! Texts brought to a width: wrapped, or cut.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// Wraps at blanks; a word longer than the width is broken.
#[must_use]
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = Vec::new();
    let mut line = String::with_capacity(text.len().min(width * 2));
    let mut used = 0;
    // Blanks inside are kept as they are, so that small tables of words stay aligned.
    for word in pieces(text) {
        if used > 0 && used + word.trim_end().width() > width {
            line.truncate(line.trim_end().len());
            lines.push(std::mem::take(&mut line));
            used = 0;
        }
        for character in word.chars() {
            let wide = character.width().unwrap_or(0);
            if used + wide > width && character != ' ' {
                lines.push(std::mem::take(&mut line));
                used = 0;
            }
            line.push(character);
            used += wide;
        }
    }
    line.truncate(line.trim_end().len());
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// A text in the pieces that may stand on lines of their own, each with the blank behind it. A letter stays with the number before
/// it: `048° T`.
fn pieces(text: &str) -> impl Iterator<Item = &str> {
    let mut rest = text;
    std::iter::from_fn(move || {
        let breaks = |(at, _): &(usize, &str)| {
            let (before, after) = rest.split_at(*at);
            let mut next = after.trim_start_matches(' ').chars();
            let letter = next.next().is_some_and(|letter| "TGMEW".contains(letter));
            let alone = next.next().is_none_or(|behind| !behind.is_alphanumeric());
            !(letter && alone && before.ends_with(['°', '′']))
        };
        let end = rest.match_indices(' ').find(breaks).map_or(rest.len(), |(at, _)| at + 1);
        let (piece, behind) = rest.split_at(end);
        rest = behind;
        (!piece.is_empty()).then_some(piece)
    })
}

/// The start of a text that fits a width; an ellipsis tells that there is more.
#[must_use]
pub fn cut(text: &str, width: usize) -> String {
    if text.width() <= width {
        return text.to_owned();
    }
    let mut out = String::new();
    for character in text.chars() {
        if out.width() + character.width().unwrap_or(0) + 1 > width {
            break;
        }
        out.push(character);
    }
    out.push('…');
    out
}

/// The end of a text that fits a width.
pub fn cut_left(text: &str, width: usize) -> &str {
    let mut start = 0;
    while text[start..].width() > width {
        start += text[start..].chars().next().map_or(1, char::len_utf8);
    }
    &text[start..]
}
/// What stands before what is right: another word where a side is told, which may be the right one as well.
#[must_use]
pub fn right_word(texts: &[&str]) -> &'static str {
    let tells_side =
        |text: &&str| text.split(|sign: char| !sign.is_alphabetic()).any(|word| matches!(word, "left" | "right"));
    if texts.iter().any(tells_side) { "answer  " } else { "right   " }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beside_a_side_what_is_right_is_called_the_answer() {
        assert_eq!(right_word(&["048", "065"]), "right   ");
        for side in ["right 15 m", "left 7.5 m", "165, to the left"] {
            assert_eq!(right_word(&["15", side]), "answer  ", "right left 7.5 m: which of the two?");
        }
        assert_eq!(right_word(&["a bright tower"]), "right   ");
    }
}
