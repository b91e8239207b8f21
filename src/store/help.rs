//! How much help was on the screen when an answer was given.

use super::attempt::broken;
use rusqlite::Row;
use rusqlite::types::{ToSql, ToSqlOutput};

/// Degrees of help, from none on. What stood beside an answer counts by the most of it: a greater one is never better
/// evidence than a smaller.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Help {
    /// The problem alone.
    Bare,
    /// A worked example of another problem before it, or what to do instead of the last mistake.
    Example,
    /// The problem's own steps with blanks to fill in.
    Blanks,
    /// A hint that was asked for.
    Hint,
    /// The decision was on the screen: which way, which rule.
    Decision,
    /// The answer was on the screen.
    Answer,
}

impl Help {
    const ALL: [Help; 6] = [Help::Bare, Help::Example, Help::Blanks, Help::Hint, Help::Decision, Help::Answer];

    /// Whether an answer with this help says something about the skill; otherwise it is recorded and explained, and
    /// weighs nothing.
    #[must_use]
    pub fn is_evidence(self) -> bool {
        self < Help::Hint
    }

    /// What is in the columns `help` and `hinted`; where the first is empty (before version 3) the second tells a hint from none.
    pub(super) fn read(row: &Row<'_>, help: usize, hinted: usize) -> rusqlite::Result<Help> {
        match row.get::<_, Option<u8>>(help)? {
            Some(degree) => {
                Help::ALL.get(usize::from(degree)).copied().ok_or_else(|| broken(help, "no degree of help"))
            }
            None if row.get(hinted)? => Ok(Help::Hint),
            None => Ok(Help::Bare),
        }
    }
}

impl ToSql for Help {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok((*self as i64).into())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_degree_is_its_place() {
        for (place, help) in Help::ALL.into_iter().enumerate() {
            assert_eq!(help as usize, place);
        }
    }

    #[test]
    fn from_a_hint_on_an_answer_is_no_evidence() {
        assert_eq!(Help::ALL.map(Help::is_evidence), [true, true, true, false, false, false]);
    }
}
