//! A line to type into.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// More than any answer or name, in bytes; longer pastes are cut, and say so by being too long to be read.
const LONGEST: usize = 80;

/// A single line of text with a cursor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Input {
    text: String,
    /// Byte place of the cursor, always on a character border.
    cursor: usize,
    /// How many bytes it takes.
    longest: usize,
}

impl Default for Input {
    fn default() -> Input {
        Input::of_at_most(LONGEST)
    }
}

impl Input {
    /// An empty line for so many bytes.
    #[must_use]
    pub const fn of_at_most(longest: usize) -> Input {
        Input { text: String::new(), cursor: 0, longest }
    }

    /// Whether it has hardly any room left.
    #[must_use]
    pub const fn is_full(&self) -> bool {
        self.text.len() + 4 > self.longest
    }

    /// What was typed.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether nothing was typed.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// Replaces the text and puts the cursor behind it.
    pub fn set(&mut self, text: &str) {
        self.clear();
        self.paste(text);
    }

    /// Empties the line.
    pub fn clear(&mut self) {
        self.text.clear();
        self.cursor = 0;
    }

    /// Types one character; control characters are left out.
    pub fn insert(&mut self, character: char) {
        if character.is_control()
            || character.width().is_none()
            || self.text.len() + character.len_utf8() > self.longest
        {
            return;
        }
        self.text.insert(self.cursor, character);
        self.cursor += character.len_utf8();
    }

    /// Types many characters.
    pub fn paste(&mut self, text: &str) {
        for character in text.chars().take(self.longest + 1) {
            self.insert(character);
        }
    }

    /// Takes away the character before the cursor.
    pub fn backspace(&mut self) {
        if let Some(before) = self.text[..self.cursor].chars().next_back() {
            self.cursor -= before.len_utf8();
            self.text.remove(self.cursor);
        }
    }

    /// Takes away the character under the cursor.
    pub fn delete(&mut self) {
        if self.cursor < self.text.len() {
            self.text.remove(self.cursor);
        }
    }

    /// One character left.
    pub fn left(&mut self) {
        if let Some(before) = self.text[..self.cursor].chars().next_back() {
            self.cursor -= before.len_utf8();
        }
    }

    /// One character right.
    pub fn right(&mut self) {
        if let Some(under) = self.text[self.cursor..].chars().next() {
            self.cursor += under.len_utf8();
        }
    }

    /// To the start of the line.
    pub const fn home(&mut self) {
        self.cursor = 0;
    }

    /// To the end of the line.
    pub const fn end(&mut self) {
        self.cursor = self.text.len();
    }

    /// The cursor's column in cells, from the start of the text.
    #[must_use]
    pub fn column(&self) -> u16 {
        u16::try_from(self.text[..self.cursor].width()).unwrap_or(u16::MAX)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn typing_goes_in_at_the_cursor() {
        let mut input = Input::default();
        input.paste("06");
        input.left();
        input.insert('4');
        assert_eq!((input.text(), input.column()), ("046", 2));
        input.delete();
        input.backspace();
        assert_eq!(input.text(), "0");
    }

    #[test]
    fn escape_sequences_leave_no_control_characters() {
        let mut input = Input::default();
        input.paste("A\u{1b}[31mn\na\u{7}");
        assert_eq!(input.text(), "A[31mna");
    }

    proptest! {
        #[test]
        fn no_sequence_of_keys_breaks_the_line(keys in proptest::collection::vec(0u8..8, 0..200), text in "\\PC{0,8}") {
            let mut input = Input::default();
            for key in keys {
                match key {
                    0 => input.paste(&text),
                    1 => input.backspace(),
                    2 => input.delete(),
                    3 => input.left(),
                    4 => input.right(),
                    5 => input.home(),
                    6 => input.end(),
                    _ => input.insert('°'),
                }
                prop_assert!(input.text().len() <= LONGEST);
                prop_assert!(usize::from(input.column()) <= input.text().width());
            }
        }
    }
}
