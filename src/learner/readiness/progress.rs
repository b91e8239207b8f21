//! How far somebody is in the check of one skill: a fold over the answers, in their order.

use super::{CRITICAL_TIMES, Decision, Rules};
use jiff::civil::Date;

/// One answer of a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Answered<'a> {
    /// The learner's day on which it was given.
    pub day: Date,
    /// Whether that day was given by hand, and not the clock's.
    pub day_given: bool,
    /// Whether it was right.
    pub right: bool,
    /// Its mix-up, if that is one that must not happen twice.
    pub critical: Option<&'a str>,
}

/// How a try ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TryEnd {
    /// The bound for *ready* was reached.
    Ready,
    /// Too many wrong.
    Stopped,
    /// The same critical mix-up once too often; its id.
    Critical(String),
}

/// One try.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Try {
    /// How many problems were answered.
    pub asked: u8,
    /// How many of them right.
    pub right: u8,
    /// The latest day on which one was answered: a clock that was set back does not count.
    pub day: Date,
    /// The day on which the first was answered.
    pub began: Date,
    /// Whether any of these days was given by hand, and not the clock's.
    pub day_given: bool,
    /// How it ended, if it has.
    pub end: Option<TryEnd>,
    /// Critical mix-ups so far.
    critical: Vec<String>,
}

/// What follows in the check of one skill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Next {
    /// A problem of this try, counted from 1.
    Ask(u8),
    /// The next try, on a day after this one.
    AnotherDay(Date),
    /// Nothing: ready since this day.
    Ready(Date),
    /// Nothing: not yet, since this day.
    NotYet(Date),
}

/// The tries of one skill in one check.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    tries: Vec<Try>,
}

impl Progress {
    /// Folds answers in their order.
    pub fn fold<'a>(rules: &Rules, answers: impl IntoIterator<Item = Answered<'a>>) -> Progress {
        let mut progress = Progress::default();
        for answered in answers {
            progress.answer(rules, answered);
        }
        progress
    }

    /// Takes in one more answer: it belongs to the try that is under way, or begins the next. One that was given where nothing
    /// could be asked, as by a second program that does not know of the end, changes nothing.
    pub fn answer(&mut self, rules: &Rules, answered: Answered<'_>) {
        if !matches!(self.next(rules, answered.day), Next::Ask(_)) {
            return;
        }
        if self.tries.last().is_none_or(|last| last.end.is_some()) {
            let day = answered.day;
            let none = Try { asked: 0, right: 0, day, began: day, day_given: false, end: None, critical: Vec::new() };
            self.tries.push(none);
        }
        let Some(current) = self.tries.last_mut() else { return };
        current.asked = current.asked.saturating_add(1);
        current.right += u8::from(answered.right);
        current.day = current.day.max(answered.day);
        current.day_given |= answered.day_given;
        let twice = answered.critical.is_some_and(|id| {
            current.critical.push(id.to_owned());
            current.critical.iter().filter(|before| *before == id).count() >= CRITICAL_TIMES
        });
        current.end = match rules.plan.bounds().decide(current.asked, current.right) {
            _ if twice => answered.critical.map(|id| TryEnd::Critical(id.to_owned())),
            Decision::Ready => Some(TryEnd::Ready),
            Decision::Stop => Some(TryEnd::Stopped),
            Decision::GoOn => None,
        };
    }

    /// The tries so far.
    #[must_use]
    pub fn tries(&self) -> &[Try] {
        &self.tries
    }

    /// How many problems were answered, over all tries.
    #[must_use]
    pub fn asked(&self) -> u32 {
        self.tries.iter().map(|one| u32::from(one.asked)).sum()
    }

    /// What follows on a day.
    #[must_use]
    pub fn next(&self, rules: &Rules, today: Date) -> Next {
        let number = u8::try_from(self.tries.len()).unwrap_or(u8::MAX);
        let Some(last) = self.tries.last() else { return Next::Ask(1) };
        // The days of all tries: a second try on an earlier day than the first is a clock that was set back.
        let day = self.tries.iter().map(|one| one.day).max().unwrap_or(last.day);
        match &last.end {
            None => Next::Ask(number),
            Some(TryEnd::Ready) => Next::Ready(day),
            Some(_) if number >= rules.plan.tries() => Next::NotYet(day),
            Some(_) if today <= day => Next::AnotherDay(day),
            Some(_) => Next::Ask(number + 1),
        }
    }

    /// Whether nothing more will be asked in this check.
    #[must_use]
    pub fn is_over(&self, rules: &Rules) -> bool {
        matches!(self.next(rules, Date::MAX), Next::Ready(_) | Next::NotYet(_))
    }
}
