//! The end of a check, or of a part of it: how each skill stands, and every wrong answer explained.

use crate::learner::readiness::{Next, Try, TryEnd};
use crate::maptable::Moves;
use crate::problem::{Level, SkillMeta, judge, realise};
use crate::session::Told;
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
    /// In how many skills problems are left today.
    pub left: usize,
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
    /// The tries so far.
    pub tries: Vec<Try>,
    pub(super) wait_days: u16,
    pub(super) valid_days: u16,
    /// The wrong answers of the last try, if it ended.
    pub missed: Vec<Missed>,
}

/// A wrong answer, explained.
#[derive(Clone, Debug, PartialEq)]
pub struct Missed {
    /// The problem's code.
    pub code: String,
    /// What was asked.
    pub prompt: String,
    /// The verdict in words.
    pub told: Told,
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
            Next::Ready(since) => format!("ready; good until {}", day(since, self.valid_days)),
            Next::NotYet(since) => format!("not yet; next try from {}", day(since, self.wait_days)),
            Next::AnotherDay(_) => "second try another day".to_owned(),
            Next::Ask(_) if self.tries.is_empty() => "not begun".to_owned(),
            Next::Ask(_) => "under way: it goes on where it stopped".to_owned(),
        }
    }

    /// `9 right of 10`, of the last try that ended; nothing before.
    #[must_use]
    pub fn count(&self) -> String {
        let Some(last) = self.tries.iter().rev().find(|one| one.end.is_some()) else { return String::new() };
        let tries = if self.tries.len() > 1 { ", second try" } else { "" };
        format!("{} right of {}{tries}", last.right, last.asked)
    }

    /// Why a try ended early, if a mix-up ended it.
    #[must_use]
    pub fn critical(&self) -> Option<String> {
        let TryEnd::Critical(id) = self.tries.last()?.end.as_ref()? else { return None };
        let said = self.skill.mixup(id).map_or(id.as_str(), |mixup| mixup.said);
        Some(format!("Twice you {said}. On the ground that leads away from the goal, so it ends a try."))
    }
}
