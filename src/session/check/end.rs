//! The end of a check, or of a part of it: how each skill stands, and every wrong answer explained.

use crate::learner::readiness::{Next, Try, TryEnd};
use crate::maptable::Moves;
use crate::problem::{Level, SkillMeta, judge, realise};
use crate::session::{DAY_GIVEN_RESULT, GROUND_TOO, NO_PERMISSION, Told};
use crate::skills;
use crate::store::NewAttempt;
use jiff::ToSpan;
use jiff::civil::Date;

/// The end of a sitting of a check.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckEnd {
    /// The standard's name on screens.
    pub title: String,
    /// Skill by skill.
    pub lines: Vec<SkillEnd>,
    /// How often the check was left in the middle and gone on with.
    pub came_back: u32,
    /// In how many skills problems are left today.
    pub left: usize,
    /// What is to be said of answers that were annulled, in sentences.
    pub annulled: Vec<String>,
}

/// How one skill stands at the end.
#[derive(Clone, Debug, PartialEq)]
pub struct SkillEnd {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// Its level.
    pub level: Level,
    /// What follows.
    pub next: Next,
    /// The tries that ended. Of one that is under way nothing is told but since when.
    pub tries: Vec<Try>,
    /// The day on which the try under way began, if one is.
    pub under_way_since: Option<Date>,
    pub(super) wait_days: u16,
    pub(super) valid_days: u16,
    /// The wrong answers of the last try, if it ended.
    pub missed: Vec<Missed>,
    /// The codes of all problems of the last try, if it ended.
    pub codes: Vec<String>,
}

/// An answer of the record, explained.
#[derive(Clone, Debug, PartialEq)]
pub struct Missed {
    /// The problem's code.
    pub code: String,
    /// What was asked.
    pub prompt: String,
    /// The verdict in words.
    pub told: Told,
}

impl CheckEnd {
    /// What else has to be said of how the check went, in sentences; the same on every screen.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        let mut remarks: Vec<String> = came_back_words(self.came_back).into_iter().collect();
        remarks.extend(self.annulled.iter().cloned());
        if self.lines.iter().any(|line| line.tries.iter().any(|one| one.day_given)) {
            remarks.push(DAY_GIVEN_RESULT.to_owned());
        }
        if self.lines.iter().any(|line| matches!(line.next, Next::Ready(_))) {
            remarks.push(GROUND_TOO.to_owned());
        }
        remarks.push(NO_PERMISSION.to_owned());
        remarks
    }
}

/// How often a check was left and gone on with, as a sentence; none where it never was.
#[must_use]
pub fn came_back_words(came_back: u32) -> Option<String> {
    match came_back {
        0 => None,
        1 => Some("Left in the middle and gone on with: once.".to_owned()),
        2 => Some("Left in the middle and gone on with: twice.".to_owned()),
        times => Some(format!("Left in the middle and gone on with: {times} times.")),
    }
}

impl Missed {
    /// Judges an answer again from what the store has of it; none when this program cannot make its problem any more.
    #[must_use]
    pub fn of(attempt: &NewAttempt) -> Option<Missed> {
        let problem = realise(&skills::read_code(&attempt.code).ok()?).ok()?;
        let told = match (problem.table(), &attempt.moves) {
            (Some(table), Some(moves)) => {
                let moves: Moves = moves.parse().ok()?;
                let verdict = table.judge(&problem, &moves.0);
                Told::of_table(&problem, &table, &verdict)
            }
            _ => {
                let texts: Vec<String> = serde_json::from_str(&attempt.given).ok()?;
                let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
                Told::new(&problem, &judge(&problem, &texts).ok()?)
            }
        };
        Some(Missed { code: attempt.code.clone(), prompt: problem.prompt().to_owned(), told })
    }
}

impl SkillEnd {
    /// How it stands, in words for the learner.
    #[must_use]
    pub fn words(&self) -> String {
        let day = |from: Date, days: u16| from.checked_add(i64::from(days).days()).unwrap_or(Date::MAX);
        match self.next {
            Next::Ready(since) => format!("ready at the laptop until {}", day(since, self.valid_days)),
            Next::NotYet(since) => format!("not yet; next try from {}", day(since, self.wait_days)),
            Next::AnotherDay(_) => "second try another day".to_owned(),
            Next::Ask(_) => match self.under_way_since {
                Some(since) => format!("under way since {since}"),
                None if self.tries.is_empty() => "not begun".to_owned(),
                None => "second try to be begun".to_owned(),
            },
        }
    }

    /// `9 right of 10`, of the last try that ended; nothing before.
    #[must_use]
    pub fn count(&self) -> String {
        let Some(last) = self.tries.last().filter(|_| self.under_way_since.is_none()) else { return String::new() };
        let tries = if self.tries.len() > 1 { ", second try" } else { "" };
        format!("{} right of {}{tries}", last.right, last.asked)
    }

    /// Why a try ended early, if a mix-up ended it.
    #[must_use]
    pub fn critical(&self) -> Option<String> {
        let last = self.tries.last().filter(|_| self.under_way_since.is_none())?;
        let TryEnd::Critical(id) = last.end.as_ref()? else { return None };
        let said = self.skill.mixup(id).map_or(id.as_str(), |mixup| mixup.said);
        Some(format!("Twice you {said}. On the ground that leads away from the goal, so it ends a try."))
    }
}
