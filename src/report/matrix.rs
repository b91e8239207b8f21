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
    "ready: at the laptop; + seen to do it on the ground; - seen, and not yet. Nothing: not checked.";

/// The table, in as many blocks as its skills need side by side; below it what the marks stand for. `name` shows somebody.
pub(super) fn matrix_lines(report: &Report, name: &impl Fn(&str) -> String) -> Vec<String> {
    let mut lines = Vec::new();
    let many = (PAGE - NAME) / SKILL;
    let skills = &report.standard.skills;
    for first in (0..skills.len()).step_by(many) {
        let block = first..skills.len().min(first + many);
        let marks = skills[block.clone()].iter().map(|one| one.skill.mark.to_owned());
        lines.push(row("", marks));
        for member in &report.members {
            let cells = member.cells.get(block.clone()).unwrap_or_default().iter();
            lines.push(row(&name(&member.learner.name), cells.map(short)));
        }
        let ready = block.map(|at| {
            let is_ready = |cell: &Cell| matches!(cell.readiness, Readiness::Ready { .. });
            let ready = report.members.iter().filter(|member| member.cells.get(at).is_some_and(is_ready)).count();
            format!("{ready} of {}", report.members.len())
        });
        lines.push(row("ready", ready));
        lines.push(String::new());
    }
    let of_one =
        |one: &crate::drill::StandardSkill| format!("{} {}, level {}", one.skill.mark, one.skill.title, one.level);
    lines.push(format!("{}.", skills.iter().map(of_one).collect::<Vec<_>>().join("; ")));
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
