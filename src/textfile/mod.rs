//! Files of TOML that people write by hand (settings, drills, standards): read with all faults at once, each with its
//! place, what was perhaps meant and what to write instead.
//!
//! What lives here: reading a file as text, [`Notes`] of what is wrong, the [`Slip`]s that any such file can have, how they
//! are shown, and the search for the [`nearest`] word. What does not: which keys a file has and what they mean, which each
//! reader says by a [`FileKey`] and a [`Kind`] of its own.

mod faults;
mod file;
mod near;
mod notes;
mod shown;
mod slip;
mod syntax;
#[cfg(test)]
mod tests;

pub use faults::{Fault, Faults, Kind, read_table};
pub use file::{FileError, MOST_BYTES, Origin, read_file, reason_words, without_mark};
pub use near::{kebab, nearest, nearest_few};
pub use notes::{Notes, Value, whole};
pub use shown::{is_invisible, shown, shown_path, shown_sentence, unshowable};
pub use slip::Slip;

use std::fmt::Debug;

/// The longest name of somebody, in characters: in the records and in files, so that whoever is in the one can be in the other.
pub const LONGEST_NAME: usize = 40;

/// A key of a file.
pub trait FileKey: Copy + Debug + Eq + 'static {
    /// All keys of all files of this sort.
    const ALL: &'static [Self];
    /// One that everybody needs, to show what a line looks like.
    const USUAL: Self;
    /// The key of tables in double brackets and the first key that belongs below one, where there are such tables.
    const REPEATED: Option<(Self, Self)>;

    /// As it is written.
    fn word(self) -> &'static str;
    /// What may stand behind it, in words.
    fn wants(self) -> &'static str;
    /// What may stand behind it, as far as a line that cannot be read needs it.
    fn shape(self) -> Shape;
    /// A line that is right.
    fn example(self) -> &'static str;
    /// Where it stands in a file, behind "belongs".
    fn place(self) -> &'static str;
    /// Where a line is to be moved that stands elsewhere, behind "move this line".
    fn moved(self) -> &'static str;

    /// The key with this word among some.
    #[must_use]
    fn find(word: &str, among: &[Self]) -> Option<Self> {
        among.iter().copied().find(|key| key.word() == word)
    }

    /// The key whose word is nearest to a written one.
    #[must_use]
    fn nearest(word: &str, among: &[Self]) -> Option<Self> {
        nearest(word, among.iter().map(|key| key.word())).and_then(|near| Self::find(near, among))
    }
}

/// What may stand behind a key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A text in quotation marks.
    Text,
    /// A bare number, perhaps with a point.
    Number,
    /// A day.
    Day,
    /// A list in brackets.
    List,
    /// Tables of their own.
    Tables,
}
