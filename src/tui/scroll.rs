//! How far a text is scrolled.

use std::cell::Cell;

/// A line of a text that is longer than its place: the first one shown. Keys move it; each view brings it back to where
/// there is text, so that a key too many needs no key back.
#[derive(Clone, Debug, Default)]
pub struct Scroll(Cell<usize>);

impl Scroll {
    /// Moves it by so many lines, down positive.
    pub fn by(&self, lines: i32) {
        self.0.set(self.0.get().saturating_add_signed(lines as isize));
    }

    /// Brings a line into sight, in a place so high.
    pub fn reveal(&self, line: usize, height: u16) {
        let last = (line + 1).saturating_sub(usize::from(height));
        self.0.set(self.0.get().clamp(last, line.max(last)));
    }

    /// The first line shown, of so many in a place so high; it stays there.
    pub fn first_of(&self, lines: usize, height: usize) -> usize {
        let first = self.0.get().min(lines.saturating_sub(height));
        self.0.set(first);
        first
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_brought_into_sight_by_no_more_than_is_needed() {
        let scroll = Scroll::default();
        for (line, first) in [(5, 0), (9, 0), (10, 1), (30, 21), (25, 21), (4, 4), (0, 0)] {
            scroll.reveal(line, 10);
            assert_eq!(scroll.first_of(40, 10), first, "line {line}");
        }
    }

    #[test]
    fn a_key_too_many_needs_no_key_back() {
        let scroll = Scroll::default();
        scroll.by(200);
        assert_eq!(scroll.first_of(40, 20), 20);
        scroll.by(-1);
        assert_eq!(scroll.first_of(40, 20), 19);
        scroll.by(-100);
        assert_eq!(scroll.first_of(40, 20), 0);
        assert_eq!(Scroll::default().first_of(3, 20), 0);
    }
}
