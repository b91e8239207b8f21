//! The report's table: one line a member, skill by skill, as plain text that can be printed and read aloud.

use super::{Cell, Report};
use crate::session::Readiness;
use crate::store::SeenOutcome;
use unicode_width::UnicodeWidthStr;

/// Columns of the page, of a name, of a skill.
const PAGE: usize = 80;
const NAME: usize = 16;
const SKILL: usize = 10;

/// What the marks of the table stand for.
pub const MARKS: &str =
    "ready: at the laptop; 2nd try: one more decides; + seen outdoors; - not yet; ? no word. Empty: not checked.";

/// A part of the table: some skills side by side, all members one below the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// The marks of its skills.
    pub heads: Vec<String>,
    /// Who, and how they stand in each skill.
    pub rows: Vec<(String, Vec<String>)>,
    /// How many are ready in each skill.
    pub ready: Vec<String>,
}

/// The table in as many blocks as it has with so many skills side by side, at least 1. `name` shows somebody.
#[must_use]
pub fn blocks(report: &Report, name: &dyn Fn(&str) -> String, many: usize) -> Vec<Block> {
    let (skills, many) = (&report.standard.skills, many.max(1));
    let firsts = (0..skills.len()).step_by(many);
    firsts
        .map(|first| {
            let block = first..skills.len().min(first + many);
            let row = |member: &super::Member| {
                let cells = member.cells.get(block.clone()).unwrap_or_default();
                (name(&member.learner.name), cells.iter().map(short).collect())
            };
            let ready = |at: usize| format!("{} of {}", report.ready_in(at), report.members.len());
            Block {
                heads: skills[block.clone()].iter().map(|one| one.skill.mark.to_owned()).collect(),
                rows: report.members.iter().map(row).collect(),
                ready: block.map(ready).collect(),
            }
        })
        .collect()
}

/// What the marks of its skills stand for.
#[must_use]
pub fn skills_words(report: &Report) -> String {
    let of_one =
        |one: &crate::drill::StandardSkill| format!("{} {}, level {}", one.skill.mark, one.skill.title, one.level);
    format!("{}.", report.standard.skills.iter().map(of_one).collect::<Vec<_>>().join("; "))
}

/// The table as lines; below it what the marks stand for.
pub(super) fn matrix_lines(report: &Report, name: &dyn Fn(&str) -> String) -> Vec<String> {
    let mut lines = Vec::new();
    for block in blocks(report, name, (PAGE - NAME) / SKILL) {
        lines.push(row("", block.heads.into_iter()));
        lines.extend(block.rows.into_iter().map(|(name, cells)| row(&name, cells.into_iter())));
        lines.push(row("ready", block.ready.into_iter()));
        lines.push(String::new());
    }
    lines.push(skills_words(report));
    lines.push(MARKS.to_owned());
    lines
}

/// A name and its columns; blanks at the end are left out.
fn row(name: &str, columns: impl Iterator<Item = String>) -> String {
    let mut line = fitted(name, NAME);
    for column in columns {
        line.push_str(&fitted(&column, SKILL));
    }
    line.trim_end().to_owned()
}

/// A text in so many columns, cut where it is longer, with a blank behind.
fn fitted(text: &str, columns: usize) -> String {
    let mut fitted = String::new();
    for letter in text.chars() {
        let mut longer = fitted.clone();
        longer.push(letter);
        if longer.width() >= columns {
            break;
        }
        fitted = longer;
    }
    let blanks = columns.saturating_sub(fitted.width());
    fitted.extend(std::iter::repeat_n(' ', blanks));
    fitted
}

/// How somebody stands in a skill, in a word, and what was seen.
#[must_use]
pub fn short(cell: &Cell) -> String {
    let word = match cell.readiness {
        Readiness::Ready { .. } => "ready",
        Readiness::SecondTry { .. } => "2nd try",
        Readiness::NotYet { .. } => "not yet",
        Readiness::NotChecked => "",
        Readiness::CheckAgain { .. } => "again",
        Readiness::UnderWay { .. } => "begun",
    };
    let seen = match cell.seen_outcome() {
        Some(SeenOutcome::Yes) => "+",
        Some(SeenOutcome::No) => "-",
        Some(SeenOutcome::NotSaid) => "?",
        None => "",
    };
    format!("{word}{seen}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_is_never_longer_than_its_place() {
        for text in ["", "Ana", "a name of thirty letters and more", "山田花子さくらこ山田花子さくらこ"]
        {
            let column = fitted(text, 16);
            assert_eq!(column.width(), 16, "{text}");
            assert!(column.ends_with(' '), "{text}");
        }
    }
}
