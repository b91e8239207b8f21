//! What can be wrong at one place of the file, in words.

use super::ValueError;
use super::key::{Key, Table};
use crate::textfile::{FileKey, Kind, Slip};

/// What is wrong at one place of the file. `Display` is one line.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FaultKind {
    /// What can be wrong in any file.
    #[error(transparent)]
    Slip(#[from] Slip<Key>),
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
}

impl Kind for FaultKind {
    type Key = Key;

    fn slip(&self) -> Option<&Slip<Key>> {
        if let FaultKind::Slip(slip) = self { Some(slip) } else { None }
    }

    fn label(&self) -> String {
        match self {
            FaultKind::Slip(slip) => slip.label(),
            FaultKind::NotATable(table) => format!("[{}] is wanted", table.word()),
            FaultKind::UnknownTable { .. } => "no such table".into(),
            FaultKind::YearAndDate => "the second of the two".into(),
            FaultKind::Value { .. } => String::new(),
        }
    }

    fn help(&self) -> String {
        match self {
            FaultKind::Slip(slip) => slip.help(),
            FaultKind::YearAndDate => "keep one of the two".into(),
            FaultKind::NotATable(table) => {
                format!("write [{}] on a line of its own, and its keys on the lines below", table.word())
            }
            FaultKind::UnknownTable { nearest: Some(table), .. } => format!("did you mean [{table}]?"),
            FaultKind::UnknownTable { nearest: None, .. } => "the tables are [home], [map] and [screen]".into(),
            FaultKind::Value { key, .. } => format!("write it like this: {}", key.example()),
        }
    }
}
