//! What can be wrong at one place of the file, in words.

use super::ValueError;
use super::key::{Key, Table};
use std::ops::Range;

/// One fault and its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// What is wrong.
    pub kind: FaultKind,
    /// Where in the text, in bytes.
    pub span: Range<usize>,
}

/// What is wrong at one place of the file. `Display` is one line; [`FaultKind::help`] says what to do.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FaultKind {
    /// Not TOML; what the reader of TOML says.
    #[error("this line cannot be read: {0}")]
    Syntax(String),
    /// A text without quotation marks.
    #[error("this text needs quotation marks around it")]
    Unquoted {
        /// The key.
        key: String,
        /// The text.
        value: String,
    },
    /// A text in the quotation marks of a word processor.
    #[error("these quotation marks are not the straight ones")]
    CurlyQuotes,
    /// A text whose last quotation mark is missing.
    #[error("the closing quotation mark is missing")]
    Unclosed,
    /// A key or a table that its place has already.
    #[error("this is written twice")]
    Twice,
    /// A table written like a value.
    #[error("`{}` is a table, not a value", .0.word())]
    NotATable(Table),
    /// A table that there is not.
    #[error("there is no table [{found}]")]
    UnknownTable {
        /// What was written.
        found: String,
        /// What was perhaps meant.
        nearest: Option<&'static str>,
    },
    /// A key that there is not.
    #[error("there is no key `{found}` in [{}]", table.word())]
    UnknownKey {
        /// The table it stands in.
        table: Table,
        /// What was written.
        found: String,
        /// What was perhaps meant.
        nearest: Option<&'static str>,
    },
    /// A key in another table than its own, or in none.
    #[error("`{}` stands in the wrong place", .0.word())]
    Misplaced(Key),
    /// A value of another kind.
    #[error("`{}` wants {}", key.word(), key.wants())]
    WrongType {
        /// The key.
        key: Key,
        /// What was found.
        found: &'static str,
    },
    /// A value of the right kind that cannot be used.
    #[error("`{}`: {error}", key.word())]
    Value {
        /// The key.
        key: Key,
        /// Why not.
        error: ValueError,
    },
    /// Both a year and a day.
    #[error("`year` and `date` say the same thing twice")]
    YearAndDate,
    /// More faults than are listed.
    #[error("there are {0} more faults")]
    More(usize),
}

impl FaultKind {
    /// What stands under the marked place; empty when the first line says it all.
    pub(super) fn label(&self) -> String {
        match self {
            FaultKind::Unquoted { .. } => "no quotation marks".to_owned(),
            FaultKind::CurlyQuotes => "a word processor made these".to_owned(),
            FaultKind::Unclosed => "the text begins here and does not end".to_owned(),
            FaultKind::Twice => "the second time".to_owned(),
            FaultKind::NotATable(table) => format!("[{}] is wanted", table.word()),
            FaultKind::UnknownTable { .. } => "no such table".to_owned(),
            FaultKind::UnknownKey { table, .. } => format!("not a key of [{}]", table.word()),
            FaultKind::Misplaced(key) => format!("belongs below [{}]", key.table().word()),
            FaultKind::WrongType { found, .. } => format!("this is {found}"),
            FaultKind::YearAndDate => "the second of the two".to_owned(),
            FaultKind::Syntax(_) | FaultKind::Value { .. } | FaultKind::More(_) => String::new(),
        }
    }

    /// What to do about it, one or two short sentences.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            FaultKind::Syntax(_) => format!("lines look like this: {}; # begins a remark", Key::Place.example()),
            FaultKind::Unquoted { key, value } => format!("write {key} = \"{value}\""),
            FaultKind::CurlyQuotes => {
                format!("write straight ones, and save as plain text: {}", Key::Name.example())
            }
            FaultKind::Unclosed => "end the text with a quotation mark on the same line".to_owned(),
            FaultKind::Twice | FaultKind::YearAndDate => "keep one of the two".to_owned(),
            FaultKind::NotATable(table) => {
                format!("write [{}] on a line of its own, and its keys on the lines below", table.word())
            }
            FaultKind::UnknownTable { nearest: Some(table), .. } => format!("did you mean [{table}]?"),
            FaultKind::UnknownTable { nearest: None, .. } => "the tables are [home], [map] and [screen]".to_owned(),
            FaultKind::UnknownKey { nearest: Some(key), .. } => format!("did you mean `{key}`?"),
            FaultKind::UnknownKey { table, nearest: None, .. } => {
                format!("its keys are {}", table.keys().map(Key::word).collect::<Vec<_>>().join(", "))
            }
            FaultKind::Misplaced(key) => format!("move the line below [{}]", key.table().word()),
            FaultKind::WrongType { key, .. } | FaultKind::Value { key, .. } => {
                format!("a line that is right: {}", key.example())
            }
            FaultKind::More(_) => "mend these first, then try again".to_owned(),
        }
    }
}
