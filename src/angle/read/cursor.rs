//! A cursor over a short, already screened text.

use super::ReadErrorKind;

/// Blanks that people type or paste between a number and its unit: space, no-break spaces, thin space.
pub(crate) const BLANKS: [char; 4] = [' ', '\u{a0}', '\u{2009}', '\u{202f}'];
const DEGREE_SIGNS: [char; 3] = ['°', 'º', '˚'];
const MINUTE_SIGNS: [char; 4] = ['′', '\'', '’', 'ʹ'];
const MINUS_SIGNS: [char; 3] = ['-', '−', '–'];

/// The longest text that is looked at, in characters.
const LONGEST: usize = 64;

/// A plain decimal number without its sign.
pub(super) struct Number {
    pub(super) value: f64,
    /// No decimal point was typed.
    pub(super) whole: bool,
}

#[derive(Clone, Copy)]
pub(super) struct Cursor<'a> {
    rest: &'a str,
}

impl<'a> Cursor<'a> {
    /// Looks at length and characters, trims blanks. A megabyte is refused without a walk over it.
    pub(super) fn screened(text: &'a str) -> Result<Self, ReadErrorKind> {
        if text.len() > 4 * LONGEST || text.chars().count() > LONGEST {
            return Err(ReadErrorKind::TooLong);
        }
        if text.chars().any(char::is_control) {
            return Err(ReadErrorKind::ControlCharacter);
        }
        for c in text.chars().filter(|c| !c.is_ascii()) {
            if c.is_numeric() {
                return Err(ReadErrorKind::OddDigit);
            }
            if ![&BLANKS[..], &DEGREE_SIGNS, &MINUTE_SIGNS, &MINUS_SIGNS].iter().any(|set| set.contains(&c)) {
                return Err(ReadErrorKind::OddCharacter);
            }
        }
        let rest = text.trim_matches(BLANKS);
        if rest.is_empty() { Err(ReadErrorKind::Empty) } else { Ok(Cursor { rest }) }
    }

    pub(super) fn rest(&self) -> &'a str {
        self.rest
    }

    pub(super) fn is_done(&self) -> bool {
        self.rest.is_empty()
    }

    pub(super) fn skip_blanks(&mut self) {
        self.rest = self.rest.trim_start_matches(BLANKS);
    }

    /// The ASCII letters that stand next, up to the first other character; may be empty.
    pub(super) fn peek_word(&self) -> &'a str {
        let end = self.rest.bytes().position(|byte| !byte.is_ascii_alphabetic()).unwrap_or(self.rest.len());
        &self.rest[..end]
    }

    /// Takes the next word when `meaning` knows it.
    pub(super) fn take_word<T>(&mut self, meaning: impl FnOnce(&str) -> Option<T>) -> Option<T> {
        let word = self.peek_word();
        if word.is_empty() {
            return None;
        }
        let found = meaning(word)?;
        self.rest = &self.rest[word.len()..];
        Some(found)
    }

    fn take_char(&mut self, set: &[char]) -> bool {
        match self.rest.strip_prefix(set) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    /// −1 or 1 when a sign was typed.
    pub(super) fn take_sign(&mut self) -> Option<i32> {
        if self.take_char(&MINUS_SIGNS) {
            Some(-1)
        } else if self.take_char(&['+']) {
            Some(1)
        } else {
            None
        }
    }

    pub(super) fn take_degree_mark(&mut self) -> bool {
        self.take_char(&DEGREE_SIGNS)
            || self.take_word(|word| one_of(word, &["deg", "degs", "degree", "degrees"])).is_some()
    }

    pub(super) fn take_minute_mark(&mut self) -> bool {
        self.take_char(&MINUTE_SIGNS)
            || self.take_word(|word| one_of(word, &["min", "mins", "minute", "minutes"])).is_some()
    }

    pub(super) fn take_mils_mark(&mut self) -> bool {
        self.take_word(|word| one_of(word, &["mil", "mils"])).is_some()
    }

    /// A number without sign, if one stands next: `59`, `059`, `59.5`, `59,5`, `.5`, `59.`
    pub(super) fn take_number(&mut self) -> Result<Option<Number>, ReadErrorKind> {
        let (whole_digits, after_whole) = split_digits(self.rest);
        let separator = after_whole.chars().next().filter(|c| matches!(c, '.' | ','));
        let (fraction, mut after) = match separator {
            Some(separator) => split_digits(&after_whole[separator.len_utf8()..]),
            None => ("", after_whole),
        };
        if whole_digits.is_empty() && fraction.is_empty() {
            return Ok(None);
        }
        // A comma with nothing behind it belongs to a sentence, not to the number.
        if separator == Some(',') && fraction.is_empty() {
            after = after_whole;
        } else if separator.is_some() && after.starts_with(['.', ',']) {
            return Err(ReadErrorKind::TwoPoints);
        }
        if separator == Some(',')
            && fraction.len() == 3
            && (1..=3).contains(&whole_digits.len())
            && !whole_digits.starts_with('0')
        {
            return Err(ReadErrorKind::ThousandsComma);
        }
        if let Some(exponent) = after.strip_prefix(['e', 'E'])
            && exponent.strip_prefix(['+', '-']).unwrap_or(exponent).starts_with(|c: char| c.is_ascii_digit())
        {
            return Err(ReadErrorKind::PowerOfTen);
        }
        self.rest = after;
        Ok(Some(Number { value: value_of(whole_digits, fraction), whole: fraction.is_empty() }))
    }
}

fn one_of(word: &str, words: &[&str]) -> Option<()> {
    words.iter().any(|known| word.eq_ignore_ascii_case(known)).then_some(())
}

fn split_digits(text: &str) -> (&str, &str) {
    text.split_at(text.bytes().position(|byte| !byte.is_ascii_digit()).unwrap_or(text.len()))
}

/// The standard library's exact reading, on a copy with a point in it.
fn value_of(whole: &str, fraction: &str) -> f64 {
    let mut text = String::with_capacity(whole.len() + fraction.len() + 2);
    text.push('0');
    text.push_str(whole);
    text.push('.');
    text.push_str(fraction);
    // At most 64 digits: always a finite number.
    text.parse().unwrap_or(0.0)
}
