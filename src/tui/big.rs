//! Letters three rows high, to be read from two metres away.
//!
//! A row of a terminal on a laptop is some five millimetres; letters should be a two-hundredth of the distance (common
//! practice, no source), so three rows. Drawn in half blocks, which every font has.

/// Rows of one line of large letters, the gap under it included.
pub const ROWS: usize = 3;
/// Rows of pixels of a letter.
const HIGH: usize = 5;

/// A letter: how many pixels wide, and its rows from the top, the highest bit of the width on the left.
type Glyph = (u8, [u8; HIGH]);

/// Our own letters, drawn for this.
const fn glyph(letter: char) -> Glyph {
    match letter {
        ' ' => (2, [0; HIGH]),
        'A' => (3, [2, 5, 7, 5, 5]),
        'B' => (3, [6, 5, 6, 5, 6]),
        'C' => (3, [3, 4, 4, 4, 3]),
        'D' => (3, [6, 5, 5, 5, 6]),
        'E' => (3, [7, 4, 6, 4, 7]),
        'F' => (3, [7, 4, 6, 4, 4]),
        'G' => (4, [7, 8, 11, 9, 7]),
        'H' => (3, [5, 5, 7, 5, 5]),
        'I' => (1, [1, 1, 1, 1, 1]),
        'J' => (3, [1, 1, 1, 5, 2]),
        'K' => (3, [5, 5, 6, 5, 5]),
        'L' => (3, [4, 4, 4, 4, 7]),
        'M' => (5, [17, 27, 21, 17, 17]),
        'N' => (4, [9, 13, 11, 9, 9]),
        'O' => (4, [6, 9, 9, 9, 6]),
        'P' => (3, [6, 5, 6, 4, 4]),
        'Q' => (4, [6, 9, 9, 11, 7]),
        'R' => (3, [6, 5, 6, 5, 5]),
        'S' => (3, [3, 4, 2, 1, 6]),
        'T' => (3, [7, 2, 2, 2, 2]),
        'U' => (3, [5, 5, 5, 5, 7]),
        'V' => (3, [5, 5, 5, 5, 2]),
        'W' => (5, [17, 17, 21, 27, 17]),
        'X' => (3, [5, 5, 2, 5, 5]),
        'Y' => (3, [5, 5, 2, 2, 2]),
        'Z' => (3, [7, 1, 2, 4, 7]),
        '0' => (3, [7, 5, 5, 5, 7]),
        '1' => (3, [2, 6, 2, 2, 7]),
        '2' => (3, [7, 1, 7, 4, 7]),
        '3' => (3, [7, 1, 3, 1, 7]),
        '4' => (3, [5, 5, 7, 1, 1]),
        '5' => (3, [7, 4, 7, 1, 7]),
        '6' => (3, [7, 4, 7, 5, 7]),
        '7' => (3, [7, 1, 1, 2, 2]),
        '8' => (3, [7, 5, 7, 5, 7]),
        '9' => (3, [7, 5, 7, 1, 7]),
        '.' => (1, [0, 0, 0, 0, 1]),
        ',' => (2, [0, 0, 0, 1, 2]),
        ':' => (1, [0, 1, 0, 1, 0]),
        ';' => (2, [0, 1, 0, 1, 2]),
        '?' => (3, [7, 1, 2, 0, 2]),
        '!' => (1, [1, 1, 1, 0, 1]),
        '-' | '–' | '−' => (3, [0, 0, 7, 0, 0]),
        '+' => (3, [0, 2, 7, 2, 0]),
        '=' => (3, [0, 7, 0, 7, 0]),
        '°' => (3, [7, 5, 7, 0, 0]),
        '\'' | '′' | '’' => (1, [1, 1, 0, 0, 0]),
        '"' | '″' | '“' | '”' => (3, [5, 5, 0, 0, 0]),
        '/' => (3, [1, 1, 2, 4, 4]),
        '(' => (2, [1, 2, 2, 2, 1]),
        ')' => (2, [2, 1, 1, 1, 2]),
        // A letter without a shape must not read as a zero.
        _ => (3, [7, 7, 7, 7, 7]),
    }
}

fn upper(text: &str) -> Vec<char> {
    text.chars().flat_map(char::to_uppercase).collect()
}

/// Cells that a text takes on one line.
fn wide(text: &[char]) -> usize {
    text.iter().map(|letter| usize::from(glyph(*letter).0) + 1).sum()
}

/// A text in large letters, wrapped at words: rows of cells, [`ROWS`] for each line. A word too long for a line is cut.
#[must_use]
pub fn big(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<Vec<char>> = vec![Vec::new()];
    for word in text.split_whitespace().map(upper) {
        let Some(line) = lines.last_mut() else { break };
        let gap = if line.is_empty() { 0 } else { usize::from(glyph(' ').0) + 1 };
        if !line.is_empty() && wide(line) + gap + wide(&word) > width {
            lines.push(word);
        } else {
            if !line.is_empty() {
                line.push(' ');
            }
            line.extend(word);
        }
    }
    lines.iter().flat_map(|line| rows(line, width)).collect()
}

/// Whether each word of a text fits on a line.
#[must_use]
pub fn fits(text: &str, width: usize) -> bool {
    text.split_whitespace().all(|word| wide(&upper(word)) <= width)
}

/// Rows of a text at a width, without drawing it.
#[must_use]
pub fn rows_of(text: &str, width: usize) -> usize {
    big(text, width).len()
}

fn rows(line: &[char], width: usize) -> Vec<String> {
    (0..ROWS)
        .map(|row| {
            let mut out = String::new();
            for letter in line {
                let (across, pixels) = glyph(*letter);
                for column in (0..across).rev() {
                    let lit = |at: usize| pixels.get(at).is_some_and(|bits| bits >> column & 1 == 1);
                    out.push(match (lit(2 * row), lit(2 * row + 1)) {
                        (true, true) => '█',
                        (true, false) => '▀',
                        (false, true) => '▄',
                        (false, false) => ' ',
                    });
                }
                out.push(' ');
            }
            out.chars().take(width).collect()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_stand_three_rows_high_and_wrap_at_words() {
        let drawn = big("TO 7", 80);
        assert_eq!(drawn, ["▀█▀ ▄▀▀▄    ▀▀█ ", " █  █  █     ▄▀ ", " ▀   ▀▀      ▀  "]);
        let two = big("WHICH BEARING LEADS YOU BACK?", 40);
        assert!(two.len() >= 2 * ROWS && two.len().is_multiple_of(ROWS));
        assert!(two.iter().all(|row| row.chars().count() <= 40));
    }

    #[test]
    fn every_sign_of_a_prompt_has_a_letter_of_its_own() {
        let unknown = glyph('\u{1F9ED}');
        for letter in ('A'..='Z').chain('1'..='9').chain(" .,:;?!-–−+=°'′\"/()".chars()) {
            assert_ne!(glyph(letter), unknown, "{letter}");
        }
        let mut seen = std::collections::HashSet::new();
        for letter in ('A'..='Z').chain('0'..='9') {
            assert!(seen.insert(glyph(letter)), "{letter} looks like another");
        }
    }
}
