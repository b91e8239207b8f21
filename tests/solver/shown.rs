//! What a reader sees in the text: every quantity of the prompt, with the words before and after it.

use std::fmt;

/// A quantity as printed.
#[derive(Clone, Copy)]
pub enum Shown {
    /// `065° M`: degrees and the letter of the north.
    Bearing(f64, char),
    /// `1540 mils G`.
    Mils(f64, char),
    /// `13°30′ W`: degrees, east positive; nothing at all (`0°`) is a [`Shown::Size`].
    East(f64),
    /// `16′ W`: minutes, east positive.
    Change(f64),
    /// `40° clockwise`, `a quarter turn counterclockwise`: degrees, clockwise positive.
    Turn(f64),
    /// `six points clockwise`: points, clockwise positive.
    Points(f64),
    /// `13°`, `4°30′`: degrees, no letter.
    Size(f64),
    /// `1:25 000`, by its second number.
    Scale(f64),
    /// `2029`, `095`.
    Number(f64),
}

impl Shown {
    fn parts(self) -> (u8, f64, char) {
        match self {
            Shown::Bearing(number, north) => (0, number, north),
            Shown::Mils(number, north) => (1, number, north),
            Shown::East(0.0) => (6, 0.0, ' '),
            Shown::East(number) => (2, number, ' '),
            Shown::Change(number) => (3, number, ' '),
            Shown::Turn(number) => (4, number, ' '),
            Shown::Points(number) => (5, number, ' '),
            Shown::Size(number) => (6, number, ' '),
            Shown::Number(number) => (7, number, ' '),
            Shown::Scale(number) => (8, number, ' '),
        }
    }
}

impl PartialEq for Shown {
    fn eq(&self, other: &Shown) -> bool {
        let ((kind, number, letter), (other_kind, other_number, other_letter)) = (self.parts(), other.parts());
        kind == other_kind && letter == other_letter && (number - other_number).abs() < 1e-9
    }
}

impl fmt::Debug for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (kind, number, letter) = self.parts();
        let kind =
            ["bearing", "mils", "east", "change", "turn", "points", "size", "number", "scale"][usize::from(kind)];
        write!(f, "{kind} {number}{letter}")
    }
}

/// A quantity with the text since the one before it and up to the next, in lower case.
pub struct Token {
    pub shown: Shown,
    pub before: String,
    pub after: String,
}

const COUNTS: [&str; 9] = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
const FRACTIONS: [(&str, f64); 4] = [
    ("three quarters of a turn ", 270.0),
    ("an eighth of a turn ", 45.0),
    ("a quarter turn ", 90.0),
    ("half a turn ", 180.0),
];

/// All quantities of a text, in reading order.
pub fn tokens(text: &str) -> Vec<Token> {
    let mut found: Vec<(Shown, usize, usize)> = Vec::new();
    let mut at = 0;
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        let starts_word = !text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '-');
        match starts_word.then(|| quantity(rest)).flatten() {
            Some((shown, length)) => {
                found.push((shown, at, at + length));
                at += length;
            }
            None => at += rest.chars().next().map_or(1, char::len_utf8),
        }
    }
    let end_before = |index: usize| index.checked_sub(1).map_or(0, |before| found[before].2);
    found
        .iter()
        .enumerate()
        .map(|(index, (shown, start, end))| Token {
            shown: *shown,
            before: text[end_before(index)..*start].to_lowercase(),
            after: text[*end..found.get(index + 1).map_or(text.len(), |next| next.1)].to_lowercase(),
        })
        .collect()
}

/// The quantity that this text begins with, and its length in bytes.
fn quantity(text: &str) -> Option<(Shown, usize)> {
    for (words, degrees) in FRACTIONS {
        if let Some((sign, length)) = text.strip_prefix(words).and_then(way) {
            return Some((Shown::Turn(sign * degrees), words.len() + length));
        }
    }
    for (count, words) in (1..).zip(COUNTS) {
        let rest =
            text.strip_prefix(words).and_then(|rest| rest.strip_prefix(" points ").or(rest.strip_prefix(" point ")));
        if let Some((sign, length)) = rest.and_then(way) {
            return Some((Shown::Points(sign * f64::from(count)), text.len() - rest?.len() + length));
        }
    }
    if let Some(thousands) = text.strip_prefix("1:").filter(|rest| rest.get(2..6) == Some(" 000")) {
        return Some((Shown::Scale(1000.0 * thousands[..2].parse::<f64>().ok()?), "1:25 000".len()));
    }
    let (number, mut length) = number(text)?;
    let rest = &text[length..];
    if let Some(rest) = rest.strip_prefix('°') {
        length += '°'.len_utf8();
        let (minutes, minutes_length) = match self::number(rest) {
            Some((minutes, digits)) if rest[digits..].starts_with('′') => (minutes, digits + '′'.len_utf8()),
            _ => (0.0, 0),
        };
        length += minutes_length;
        let degrees = number + minutes / 60.0;
        let rest = &rest[minutes_length..];
        return Some(match (letter(rest), rest.strip_prefix(' ').and_then(way)) {
            (Some('E'), _) => (Shown::East(degrees), length + 2),
            (Some('W'), _) => (Shown::East(-degrees), length + 2),
            (Some(north), _) => (Shown::Bearing(degrees, north), length + 2),
            (None, Some((sign, way_length))) => (Shown::Turn(sign * degrees), length + 1 + way_length),
            (None, None) => (Shown::Size(degrees), length),
        });
    }
    if let Some(rest) = rest.strip_prefix('′') {
        let sign = match letter(rest)? {
            'E' => 1.0,
            'W' => -1.0,
            _ => return None,
        };
        return Some((Shown::Change(sign * number), length + '′'.len_utf8() + 2));
    }
    if let Some(north) = rest.strip_prefix(" mils").and_then(letter) {
        return Some((Shown::Mils(number, north), length + " mils".len() + 2));
    }
    Some((Shown::Number(number), length))
}

fn number(text: &str) -> Option<(f64, usize)> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let mut length = digits(text);
    if let Some(decimals) = text[length..].strip_prefix('.').map(digits).filter(|decimals| *decimals > 0) {
        length += 1 + decimals;
    }
    Some((text[..length].parse().ok()?, length))
}

/// ` M`, ` T`, ` G`, ` E` or ` W`, standing alone.
fn letter(text: &str) -> Option<char> {
    let mut chars = text.strip_prefix(' ')?.chars();
    let letter = chars.next().filter(|letter| "MTGEW".contains(*letter))?;
    chars.next().is_none_or(|next| !next.is_alphanumeric()).then_some(letter)
}

fn way(text: &str) -> Option<(f64, usize)> {
    let ways = [("counterclockwise", -1.0), ("clockwise", 1.0)];
    ways.into_iter().find_map(|(word, sign)| text.starts_with(word).then_some((sign, word.len())))
}

/// A quantity that must stand in the text, with a word that must stand before it (or, after a `>`, behind it).
pub struct Must(pub Shown, pub &'static str);

/// The text shows these quantities and no others.
pub fn check(code: &str, text: &str, must: &[Must]) {
    let tokens = tokens(text);
    let mut used = vec![false; tokens.len()];
    for Must(shown, cue) in must {
        let fits = |token: &Token| match cue.strip_prefix('>') {
            Some(cue) => token.after.contains(cue),
            None => token.before.contains(cue),
        };
        let place = tokens.iter().zip(&used).position(|(token, used)| !used && token.shown == *shown && fits(token));
        let place = place.unwrap_or_else(|| panic!("{code}: a reader does not see {shown:?} near {cue:?} in: {text}"));
        used[place] = true;
    }
    if let Some((token, _)) = tokens.iter().zip(&used).find(|(_, used)| !**used) {
        panic!("{code}: no fact tells of {:?} in: {text}", token.shown);
    }
}

#[test]
fn quantities_are_read_as_they_are_printed() {
    let read = |text: &str| tokens(text).into_iter().map(|token| token.shown).collect::<Vec<_>>();
    assert_eq!(read("says 048° T"), [Shown::Bearing(48.0, 'T')]);
    assert_eq!(read("on 3360 mils G."), [Shown::Mils(3360.0, 'G')]);
    assert_eq!(read("of 13°30′ W, 16′ E a year"), [Shown::East(-13.5), Shown::Change(16.0)]);
    assert_eq!(read("is 0°. Now 2029?"), [Shown::East(0.0), Shown::Number(2029.0)]);
    assert_eq!(read("turn 40° counterclockwise, half a turn clockwise"), [Shown::Turn(-40.0), Shown::Turn(180.0)]);
    assert_eq!(read("a map of 1:25 000, 13.6 mm"), [Shown::Scale(25_000.0), Shown::Number(13.6)]);
    assert_eq!(read("six points clockwise; three Ways"), [Shown::Points(6.0)]);
    assert_eq!(read("2°30′ between the star and MN, 5°"), [Shown::Size(2.5), Shown::Size(5.0)]);
}
