//! The words of the trade: what each means in one plain line, and the other names people know it by.
//!
//! What lives here: the list, by [`TOPICS`]; the words that a skill brings ([`first_in`]); finding a word as somebody may type
//! it ([`look_up`]). What does not: the sentences of problems, and the program's own words (drill, check, mix-up).

mod bearings;
mod compass;
mod first;
mod map;
mod norths;
#[cfg(test)]
mod tests;

pub use first::first_in;

use crate::textfile::{nearest_few, shown};
use std::fmt;

/// How many near names are told for one that is not known.
const NEAR: usize = 3;

/// What stands for a source where there is none.
const COMMON_PRACTICE: &str = "common practice, no source";

/// A word of the trade, as it stands on the screens.
#[derive(Debug, PartialEq, Eq)]
pub struct Word {
    /// The word.
    pub word: &'static str,
    /// The other names people know it by.
    pub others: &'static [&'static str],
    /// Other forms of it in sentences: found like the word, but not told as names.
    forms: &'static [&'static str],
    /// What in a sentence shows that it is meant, without its name.
    marks: &'static [&'static str],
    /// What it is, in one line for somebody of twelve. No capital, no full stop.
    pub line: &'static str,
    /// Where the definition or its numbers are written down; none: common practice.
    pub source: Option<&'static str>,
    /// A sketch in plain letters, at most five lines; empty where none helps.
    pub sketch: &'static [&'static str],
}

impl Word {
    const fn new(word: &'static str, line: &'static str) -> Word {
        Word { word, others: &[], forms: &[], marks: &[], line, source: None, sketch: &[] }
    }

    const fn also(self, others: &'static [&'static str]) -> Word {
        Word { others, ..self }
    }

    const fn forms(self, forms: &'static [&'static str]) -> Word {
        Word { forms, ..self }
    }

    const fn marks(self, marks: &'static [&'static str]) -> Word {
        Word { marks, ..self }
    }

    const fn source(self, source: &'static str) -> Word {
        Word { source: Some(source), ..self }
    }

    const fn sketch(self, sketch: &'static [&'static str]) -> Word {
        Word { sketch, ..self }
    }

    /// The word, its other names and its forms.
    fn names(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.word).chain(self.others.iter().copied()).chain(self.forms.iter().copied())
    }

    /// As a line of a text: `Index line: the mark where the number of the dial is read.`
    #[must_use]
    pub fn sentence(&self) -> String {
        let mut letters = self.word.chars();
        let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
        format!("{first}{}: {}.", letters.as_str(), self.line)
    }

    /// `Also called: bezel, housing.`; none where it has no other name.
    #[must_use]
    pub fn also_called(&self) -> Option<String> {
        (!self.others.is_empty()).then(|| format!("Also called: {}.", self.others.join(", ")))
    }

    /// `Source: TC 3-25.26, para 6-14.`
    #[must_use]
    pub fn source_sentence(&self) -> String {
        format!("Source: {}.", self.source.unwrap_or(COMMON_PRACTICE))
    }

    /// The ids of the skills in which it first matters.
    pub fn skills(&'static self) -> impl Iterator<Item = &'static str> {
        first::FIRST.iter().filter(|(_, brings)| brings.contains(&self.word)).map(|(skill, _)| *skill)
    }

    /// Whether it stands in a text of the program, as a word of its own or as its plural. A letter, like M, counts behind an
    /// angle only. Its other names do not count: the program does not use them, and a gate may be a gate.
    #[must_use]
    pub fn stands_in(&self, text: &str) -> bool {
        if self.marks.iter().any(|mark| has(text, mark)) {
            return true;
        }
        let lower = text.to_lowercase();
        std::iter::once(&self.word).chain(self.forms).any(|name| match name.len() {
            1 => ["° ", "′ ", "°", "′"].iter().any(|sign| has(text, &format!("{sign}{name}"))),
            // TN, MN, GN: small letters are something else.
            2 => has(text, name),
            _ => has(&lower, &name.to_lowercase()),
        })
    }
}

/// Whether a name stands in a text with no letter or digit beside it, but for the ending of a plural.
fn has(text: &str, name: &str) -> bool {
    text.match_indices(name).any(|(at, _)| {
        let behind = &text[at + name.len()..];
        let behind = behind.strip_prefix('s').unwrap_or(behind);
        let sign = !name.starts_with(char::is_alphanumeric);
        let free = |side: Option<char>| side.is_none_or(|letter| !letter.is_alphanumeric());
        (sign || free(text[..at].chars().next_back())) && free(behind.chars().next())
    })
}

/// Words that belong together.
#[derive(Debug)]
pub struct Topic {
    /// The heading.
    pub title: &'static str,
    /// The words, what is needed first first.
    pub words: &'static [Word],
}

/// The whole list.
pub static TOPICS: [Topic; 4] = [
    Topic { title: "The norths", words: norths::WORDS },
    Topic { title: "The compass", words: compass::WORDS },
    Topic { title: "Bearings", words: bearings::WORDS },
    Topic { title: "The map and the ground", words: map::WORDS },
];

/// All words, topic by topic.
pub fn all() -> impl Iterator<Item = &'static Word> {
    TOPICS.iter().flat_map(|topic| topic.words)
}

/// The words that stand in a text, those needed first first.
#[must_use]
pub fn standing_in(text: &str) -> Vec<&'static Word> {
    all().filter(|word| word.stands_in(text)).collect()
}

/// A word that is not in the list.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct UnknownWord {
    /// As it was typed, made fit to be shown.
    typed: String,
    /// Names in the list that are near to it.
    near: Vec<&'static str>,
}

impl fmt::Display for UnknownWord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} is not in the word list", self.typed)?;
        match self.near.split_last() {
            None => f.write_str("."),
            Some((last, [])) => write!(f, "; did you mean {last}?"),
            Some((last, before)) => write!(f, "; did you mean {} or {last}?", before.join(", ")),
        }
    }
}

/// The word of this name or other name. Capitals, hyphens, blanks and the ending of a plural do not count.
///
/// # Errors
/// [`UnknownWord`], with the nearest names.
pub fn look_up(typed: &str) -> Result<&'static Word, UnknownWord> {
    let wanted = key(typed);
    let found = all().find(|word| word.names().any(|name| key(name) == wanted));
    found.filter(|_| !wanted.is_empty()).ok_or_else(|| {
        let names = all().flat_map(|word| std::iter::once(word.word).chain(word.others.iter().copied()));
        UnknownWord { typed: shown(typed), near: nearest_few(typed, names, NEAR) }
    })
}

/// What of a name counts when it is looked up.
fn key(name: &str) -> String {
    let mut key: String =
        name.chars().take(120).filter(|sign| sign.is_alphanumeric()).flat_map(char::to_lowercase).collect();
    // A plural; a word as short as "ms" is none.
    if key.len() > 3 && key.ends_with('s') {
        key.pop();
    }
    key
}
