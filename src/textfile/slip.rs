//! What can be wrong in any file of TOML, in words for somebody who never heard of TOML.

use super::{FileKey, Shape};

/// A slip that can happen in any file. `Display` is one line; [`Slip::help`] says what to do.
///
/// Texts taken from the file are cut to a readable length and hold no control characters.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Slip<K: FileKey> {
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
    CurlyQuotes(Option<K>),
    /// A text whose last quotation mark is missing.
    #[error("the closing quotation mark is missing")]
    Unclosed,
    /// A backslash in a text.
    #[error("a backslash cannot stand in a text like this")]
    Backslash,
    /// Something behind the end of a value or of a line in brackets.
    #[error("something stands behind {0}")]
    Behind(String),
    /// A list without its end.
    #[error("the closing bracket ] is missing")]
    Bracket,
    /// A list that lacks a comma or holds what cannot be read.
    #[error("this list cannot be read")]
    List(Option<K>),
    /// A key without a value.
    #[error("there is nothing behind the =")]
    NoValue(Option<K>),
    /// A key with a colon.
    #[error("a colon stands where = is wanted")]
    Colon(Option<K>),
    /// A line that is no `key = value`.
    #[error("this line has no =")]
    NoEquals,
    /// A remark in the manner of other languages.
    #[error("a remark begins with #")]
    Remark,
    /// A key or a table twice.
    #[error("`{0}` is written twice")]
    Twice(String),
    /// A line that cannot be read, for whatever other reason.
    #[error("this line cannot be read")]
    Unreadable,
    /// Single brackets round a table that comes several times.
    #[error("a {} needs double brackets", table.word())]
    SingleBrackets {
        /// The key of such tables.
        table: K,
        /// The first key below one.
        first: K,
    },
    /// A key that there is not.
    #[error("there is no key `{key}`")]
    UnknownKey {
        /// What was written.
        key: String,
        /// The keys that may stand there.
        may_stand: &'static [K],
        /// The nearest key that may stand there.
        nearest: Option<K>,
    },
    /// A key in the wrong place.
    #[error("`{}` stands in the wrong place", .0.word())]
    Misplaced(K),
    /// A value of another kind.
    #[error("`{}` wants {}", key.word(), key.wants())]
    WrongType {
        /// The key.
        key: K,
        /// What was found.
        found: &'static str,
    },
    /// Nothing between the quotation marks.
    #[error("`{}` is empty", .0.word())]
    Blank(K),
    /// Too long to show.
    #[error("`{}` is too long: at most {most} letters", key.word())]
    TooLong {
        /// The key.
        key: K,
        /// The most letters it may have.
        most: usize,
    },
    /// A line break or another sign that cannot be shown.
    #[error("`{}` holds a line break or another sign that cannot be shown", .0.word())]
    Control(K),
    /// More faults than are listed.
    #[error("there are more faults than these")]
    More,
}

impl<K: FileKey> Slip<K> {
    /// The key that was meant by one that cannot stand where it stands.
    pub(super) fn meant(&self) -> Option<K> {
        match self {
            Slip::UnknownKey { nearest, .. } => *nearest,
            Slip::Misplaced(key) => Some(*key),
            _ => None,
        }
    }

    /// What stands under the marked place; empty when the first line says it all.
    #[must_use]
    pub fn label(&self) -> String {
        match self {
            Slip::Unquoted { .. } => "no quotation marks".into(),
            Slip::CurlyQuotes(_) => "a word processor made these".into(),
            Slip::Backslash => "this one".into(),
            Slip::Behind(_) => "this".into(),
            Slip::Colon(_) | Slip::NoEquals => "in this line".into(),
            Slip::Remark => "meant as a remark?".into(),
            Slip::Unclosed => "the text begins here and does not end".into(),
            Slip::Bracket => "the list begins here and does not end".into(),
            Slip::List(_) => "a comma between two entries may be missing".into(),
            Slip::NoValue(_) => "a value is wanted here".into(),
            Slip::Twice(_) => "the second time".into(),
            Slip::SingleBrackets { table, .. } => format!("[[{}]] is wanted", table.word()),
            Slip::UnknownKey { .. } => "not a key that can stand here".into(),
            Slip::Misplaced(key) => format!("belongs {}", key.place()),
            Slip::WrongType { found, .. } => format!("this is {found}"),
            Slip::Blank(_) => "nothing in it".into(),
            Slip::TooLong { .. } => "too long".into(),
            Slip::Control(_) | Slip::Unreadable | Slip::More => String::new(),
        }
    }

    /// What to do about it, one or two short sentences.
    #[must_use]
    pub fn help(&self) -> String {
        let like_this = |key: &Option<K>| key.unwrap_or(K::USUAL).example();
        match self {
            Slip::Unquoted { key, value } => format!("write {key} = \"{value}\""),
            Slip::CurlyQuotes(Some(key)) => {
                format!("write straight ones, and save as plain text: {}", key.example())
            }
            Slip::CurlyQuotes(None) => "write straight ones, and save as plain text".into(),
            Slip::Backslash => "leave the \\ out".into(),
            Slip::Behind(_) => "give it a line of its own, or put # before it if it is a remark".into(),
            Slip::Colon(key) => format!("write = instead of the colon, like this: {}", like_this(key)),
            Slip::NoEquals => {
                let example = K::USUAL.example();
                format!("write key = value, like this: {example}\nif it is a remark, put # before it")
            }
            Slip::Remark => "put # before it".into(),
            Slip::Unclosed => "end the text with \" on the same line".into(),
            Slip::Bracket => "end the list with ]".into(),
            Slip::NoValue(key) | Slip::List(key) => format!("write it like this: {}", like_this(key)),
            Slip::Twice(_) => "keep one of the two".into(),
            Slip::Unreadable => {
                format!("most lines of such a file look like this: {}\n# begins a remark", K::USUAL.example())
            }
            Slip::UnknownKey { nearest: Some(key), .. } => match K::REPEATED {
                Some((table, first)) if table == *key => format!(
                    "did you mean [[{}]]? It stands on a line of its own, with `{} = ...` on the next",
                    table.word(),
                    first.word()
                ),
                _ => format!("did you mean `{}`?", key.word()),
            },
            Slip::UnknownKey { may_stand, nearest: None, .. } => {
                let words: Vec<&str> = may_stand.iter().map(|key| key.word()).collect();
                format!("the keys are {}", words.join(", "))
            }
            Slip::Misplaced(key) => format!("move this line {}", key.moved()),
            Slip::SingleBrackets { table, first } => brackets(*table, *first),
            Slip::WrongType { key, .. } => match K::REPEATED {
                Some((table, first)) if table == *key && key.shape() == Shape::Tables => brackets(table, first),
                _ => format!("write it like this: {}", key.example()),
            },
            Slip::Blank(key) => format!("write something between the quotation marks: {}", key.example()),
            Slip::TooLong { .. } => "make it shorter".into(),
            Slip::Control(_) => "keep it on one line, in plain letters".into(),
            Slip::More => "mend these first, then try again".into(),
        }
    }
}

fn brackets<K: FileKey>(table: K, first: K) -> String {
    format!("write [[{}]] on a line of its own, and below it: {}", table.word(), first.example())
}
