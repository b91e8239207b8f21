//! Text for people: aligned rows, wrapped sentences, and the sentences that several commands end with.

/// Where the columns of the text begin.
pub(super) const VALUE_COLUMN: usize = 22;
const NOTE_COLUMN: usize = 36;

/// What can be done where the ground is invented.
pub(super) const OWN_GROUND: &str =
    "Set your own ground with `needlewise home set --at PLACE`, or ask for another place with `--at PLACE`.";
/// Said below numbers that somebody may take outdoors.
pub(super) const MAP_WINS: &str = "A practice aid, not for navigation: the map in your hand wins. Where the north information printed on it differs, use that.";

/// A text of aligned rows and wrapped paragraphs.
#[derive(Default)]
pub(super) struct Page(pub String);

impl Page {
    /// A line as it is.
    pub fn line(&mut self, text: &str) {
        self.0.push_str(text);
        self.0.push('\n');
    }

    /// A name, its value and a note, in columns; longer texts push the next one on.
    pub fn row(&mut self, name: &str, value: &str, note: &str) {
        let mut line = name.to_owned();
        for (column, text) in [(VALUE_COLUMN, value), (NOTE_COLUMN, note)] {
            if text.is_empty() {
                continue;
            }
            let blanks = column.saturating_sub(line.chars().count()).max(2);
            line.extend(std::iter::repeat_n(' ', blanks));
            line.push_str(text);
        }
        self.line(&line);
    }

    /// Sentences, wrapped at 80 letters.
    pub fn paragraph(&mut self, text: &str) {
        self.hanging("", 0, text);
    }

    /// Sentences behind a name, wrapped at 80 letters and set in to a column, before which the name ends.
    pub fn hanging(&mut self, name: &str, column: usize, text: &str) {
        let blanks = |count: usize| std::iter::repeat_n(' ', count);
        self.0.push_str(name);
        self.0.extend(blanks(column.saturating_sub(name.chars().count())));
        let mut width = column;
        for word in text.split_whitespace() {
            let length = word.chars().count();
            if width > column && width + 1 + length > 80 {
                self.0.push('\n');
                self.0.extend(blanks(column));
                width = column;
            } else if width > column {
                self.0.push(' ');
                width += 1;
            }
            self.0.push_str(word);
            width += length;
        }
        self.0.push('\n');
    }
}
