//! The belief about one learner and one skill.

use super::constants as c;
use super::filter::{Chances, Seen, bit};
use super::shown;
use super::stored::Stored;
use crate::numbers::whole;
use crate::problem::{Level, SkillMeta};
use jiff::{ToSpan, civil::Date};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::collections::VecDeque;

/// What is remembered of one mix-up, beside its chance.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct MixupRecord {
    pub id: Cow<'static, str>,
    /// Its probability after the last answer, before the learning step: where suspecting and naming are read.
    pub reading: f64,
    /// The highest reading so far, for what is carried over to other skills.
    pub peak: f64,
    /// When it was named, until it is cleared.
    pub named: Option<Date>,
}

/// One answer kept for words such as "4 of the last 9".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Logged {
    pub day: Date,
    pub seen: Seen,
    pub exposed: u64,
}

/// A count out of a number of items, such as "4 of the last 9".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tally {
    /// How often it happened.
    pub times: usize,
    /// Among how many of the last answers it could have.
    pub of: usize,
}

impl std::fmt::Display for Tally {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} of the last {}", self.times, self.of)
    }
}

/// Where a learner stands with a skill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// No problem of it yet.
    NotMet,
    /// On the way.
    Learning,
    /// Known, and met recently enough.
    Sure,
    /// Known when last met, and its half-life has passed since.
    WorthRepeating {
        /// Days since it was last met, at least 1.
        after_days: u32,
    },
}

impl State {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            State::NotMet => "not met",
            State::Learning => "learning",
            State::Sure => "sure",
            State::WorthRepeating { .. } => "worth repeating",
        }
    }
}

/// How much of the worked example comes with a problem.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fading {
    /// A full worked example first.
    Example,
    /// An example with two blanks to fill.
    Blanks,
    /// The problem, and a hint after an error.
    HintAfterError,
    /// The problem alone.
    Bare,
}

/// What is believed of one learner and one skill: a fold over the answers. Reading it back from serde gives the same
/// belief to the last bit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(into = "Stored", try_from = "Stored")]
pub struct SkillBelief {
    pub(super) skill: Cow<'static, str>,
    pub(super) chances: Chances,
    /// As many as `chances.mixups`, in the same order.
    pub(super) mixups: Vec<MixupRecord>,
    pub(super) half_life: f64,
    pub(super) first_day: Option<Date>,
    pub(super) last_day: Option<Date>,
    /// The last day with an answer that was explained, so with practice and not with a check alone.
    pub(super) practised: Option<Date>,
    pub(super) count: u32,
    /// Answers on `last_day`.
    pub(super) on_last_day: u32,
    pub(super) level: Level,
    /// Right answers in a row that count towards a harder level.
    pub(super) right_run: u8,
    /// Wrong answers in a row that count towards an easier level.
    pub(super) wrong_run: u8,
    /// Oldest first, at most [`c::LOG_LENGTH`].
    pub(super) log: VecDeque<Logged>,
}

/// What changed in one belief, mix-ups by their place in the list.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Read {
    pub suspected: Option<usize>,
    pub named: Option<usize>,
    pub cleared: Option<usize>,
}

impl SkillBelief {
    /// Before the first answer. `weights` gives each mix-up's weight in the prior, by what is carried over.
    pub(super) fn unmet(meta: &'static SkillMeta, known: f64, weights: &[f64], level: Level) -> SkillBelief {
        let mixups: Vec<_> = meta
            .mixups
            .iter()
            .map(|mixup| MixupRecord { id: Cow::Borrowed(mixup.id.as_str()), reading: 0.0, peak: 0.0, named: None })
            .collect();
        SkillBelief {
            skill: Cow::Borrowed(meta.id),
            chances: Chances::prior(known, weights),
            mixups,
            half_life: c::HALF_LIFE_FIRST,
            first_day: None,
            last_day: None,
            practised: None,
            count: 0,
            on_last_day: 0,
            level,
            right_run: 0,
            wrong_run: 0,
            log: VecDeque::new(),
        }
    }

    /// The skill's id.
    #[must_use]
    pub fn id(&self) -> &str {
        &self.skill
    }

    /// How likely the skill is known, 0 to 1, as of the last answer.
    #[must_use]
    pub fn known(&self) -> f64 {
        self.chances.known
    }

    /// How likely it was known once and is rusty, 0 to 1, as of the last answer.
    #[must_use]
    pub fn rusty(&self) -> f64 {
        self.chances.rusty
    }

    /// How likely the learner does not have it yet, 0 to 1.
    #[must_use]
    pub fn not_yet(&self) -> f64 {
        self.chances.not_yet
    }

    /// How likely the learner works by this mix-up now, 0 to 1; 0 for an id the skill does not have.
    #[must_use]
    pub fn mixup(&self, id: &str) -> f64 {
        self.place(id).map_or(0.0, |k| self.chances.mixups[k])
    }

    /// The mix-up's probability after the last answer, before the explanation; 0 before the first answer and for an
    /// id the skill does not have.
    #[must_use]
    pub fn reading(&self, id: &str) -> f64 {
        self.place(id).map_or(0.0, |k| self.mixups[k].reading)
    }

    /// The highest reading of this mix-up so far.
    #[must_use]
    pub fn peak(&self, id: &str) -> f64 {
        self.place(id).map_or(0.0, |k| self.mixups[k].peak)
    }

    /// Half-life of the skill, days, 3 to 120.
    #[cfg(test)]
    #[must_use]
    pub fn half_life_days(&self) -> f64 {
        self.half_life
    }

    /// The first day it was met.
    #[must_use]
    pub fn first_day(&self) -> Option<Date> {
        self.first_day
    }

    /// The day it was last met.
    #[must_use]
    pub fn last_day(&self) -> Option<Date> {
        self.last_day
    }

    /// How many problems of it were answered, with and without a hint.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.count
    }

    /// How many problems of it were answered on this day.
    #[must_use]
    pub fn count_on(&self, day: Date) -> u32 {
        if self.last_day == Some(day) { self.on_last_day } else { 0 }
    }

    /// The level to practise at.
    #[must_use]
    pub fn level(&self) -> Level {
        self.level
    }

    /// Right answers among the last ones kept (at most twelve, without those after a hint).
    #[must_use]
    pub fn right_lately(&self) -> Tally {
        Tally { times: self.log.iter().filter(|logged| logged.seen == Seen::Right).count(), of: self.log.len() }
    }

    /// Right answers among the last ones kept, at most so many.
    pub(super) fn right_of_last(&self, most: usize) -> usize {
        self.log.iter().rev().take(most).filter(|logged| logged.seen == Seen::Right).count()
    }

    /// Whether so many right answers came before so many wrong ones among those kept, none while neither has come; and how many
    /// answers it took, at most `2 × times − 1`.
    pub(super) fn first_to(&self, times: usize) -> (Option<bool>, u32) {
        let mut counts = [0, 0];
        let mut asked = 0;
        let first = self.log.iter().map(|logged| logged.seen == Seen::Right).find(|&right| {
            asked += 1;
            counts[usize::from(right)] += 1;
            counts[usize::from(right)] == times
        });
        (first, asked)
    }

    /// How often this mix-up's answer was given, among the last items that exposed it (of at most twelve).
    #[must_use]
    pub fn mixup_lately(&self, id: &str) -> Tally {
        let Some(k) = self.place(id) else { return Tally { times: 0, of: 0 } };
        let exposing = self.log.iter().filter(|logged| bit(logged.exposed, k));
        Tally { times: exposing.clone().filter(|logged| logged.seen == Seen::Mixup(k)).count(), of: exposing.count() }
    }

    /// Days since it was last met: 0 if never, and when the day lies before (a clock set back).
    #[must_use]
    pub fn days_since(&self, day: Date) -> u32 {
        let hours = self.last_day.map_or(0, |last| day.duration_since(last).as_hours());
        u32::try_from(hours / 24).unwrap_or(0)
    }

    /// The part of what was known that is predicted to be recalled on this day, 0 to 1.
    #[must_use]
    pub fn recall(&self, day: Date) -> f64 {
        (-f64::from(self.days_since(day)) / self.half_life).exp2()
    }

    /// Where the learner stands on this day.
    #[must_use]
    pub fn state(&self, day: Date) -> State {
        if self.count == 0 {
            return State::NotMet;
        }
        if !self.is_sure() {
            return State::Learning;
        }
        match self.due() {
            Some(due) if day >= due => State::WorthRepeating { after_days: self.days_since(day) },
            _ => State::Sure,
        }
    }

    /// When to return: after one half-life when sure, on the next day otherwise; `None` when not met.
    #[must_use]
    pub fn due(&self) -> Option<Date> {
        let days: i64 = if self.is_sure() { whole(self.half_life.ceil()) } else { 1 };
        self.last_day.map(|last| last.saturating_add(days.days()))
    }

    /// How much of the worked example to show. By the belief as of the last answer, not by what may be forgotten
    /// since: the first problem of a day has to be a real try, or it says nothing about recall.
    #[must_use]
    pub fn fading(&self) -> Fading {
        match self.chances.known {
            known if known < c::EXAMPLE_BELOW => Fading::Example,
            known if known < c::BLANKS_BELOW => Fading::Blanks,
            known if known < c::HINT_BELOW => Fading::HintAfterError,
            _ => Fading::Bare,
        }
    }

    /// How much the skill carries as a prerequisite, 0 to 1.
    pub(super) fn strength(&self) -> f64 {
        self.chances.known + c::RUSTY_CARRIES * self.chances.rusty
    }

    /// How many steps towards *sure* were made, 0 to 7: one for each right answer, three back for a wrong one, among the
    /// answers kept. From 4 on the skill is sure, if no mix-up stands.
    #[must_use]
    pub fn steps(&self) -> u8 {
        shown::steps(&self.log)
    }

    /// Whether a mix-up, by its place, came twice and was not worked off since.
    pub(super) fn stands(&self, mixup: usize) -> bool {
        shown::stands(&self.log, mixup)
    }

    /// Whether it is sure, were it asked on the day it was last met.
    pub(super) fn is_sure(&self) -> bool {
        self.steps() >= c::STEPS_SURE && !(0..self.mixups.len()).any(|mixup| self.stands(mixup))
    }

    /// How many of the last answers, up to now, were wrong in a row.
    pub(super) fn wrong_lately(&self) -> usize {
        self.log.iter().rev().take_while(|logged| logged.seen != Seen::Right).count()
    }

    /// Whether it was practised on this day.
    pub(super) fn practised_on(&self, day: Date) -> bool {
        self.practised == Some(day)
    }

    /// The place of a mix-up in the list.
    pub(super) fn place(&self, id: &str) -> Option<usize> {
        self.mixups.iter().position(|mixup| mixup.id == id)
    }

    /// Folds one answer in.
    pub(super) fn take(
        &mut self,
        day: Date,
        level: Level,
        seen: Seen,
        exposed: u64,
        hinted: bool,
        explained: bool,
    ) -> Read {
        let new_day = self.last_day.is_some_and(|last| day > last);
        let recall = self.recall(day);
        if new_day {
            self.chances.forget(recall);
        }
        let mut read = Read::default();
        if !hinted {
            self.chances.weigh(&c::RATES, exposed, seen);
            self.remember(Logged { day, seen, exposed });
            read = self.read(day, explained);
            if new_day {
                self.stretch(recall, seen == Seen::Right);
            }
        }
        if explained {
            self.chances.learn(&c::RATES);
        }
        if !hinted {
            self.grade(level, seen == Seen::Right);
        }
        self.on_last_day = self.count_on(day).saturating_add(1);
        self.count = self.count.saturating_add(1);
        self.first_day = Some(self.first_day.map_or(day, |first| first.min(day)));
        // Also when the day lies before: a clock that once ran a year ahead must not stop time for a year.
        self.last_day = Some(day);
        if explained {
            self.practised = Some(day);
        }
        read
    }

    /// Reads each mix-up after the answer and before the learning step. A check, which tells nothing,
    /// ends no weak spot: its end is said with the next answer in practice.
    fn read(&mut self, day: Date, explained: bool) -> Read {
        let mut read = Read::default();
        let log = &self.log;
        for (k, (mixup, &chance)) in self.mixups.iter_mut().zip(&self.chances.mixups).enumerate() {
            let before = std::mem::replace(&mut mixup.reading, chance);
            mixup.peak = mixup.peak.max(chance);
            if mixup.named.is_some() {
                if explained && (chance < c::CLEARED_BELOW || !shown::stands(log, k)) {
                    mixup.named = None;
                    read.cleared = Some(k);
                }
            } else if chance >= c::NAMED_FROM && shown::stands(log, k) {
                mixup.named = Some(day);
                read.named = Some(k);
            } else if chance >= c::SUSPECTED_FROM && before < c::SUSPECTED_FROM {
                read.suspected = Some(k);
            }
        }
        read
    }

    /// Half-life: the first problem of a day tells how well the skill lasted; the steps made (after the answer) say how surely
    /// a right answer was no luck, and a wrong one only a slip. Steps and not P(known), since from the half-life follows
    /// what is shown; the product keeps the order, as [`shown`] needs it.
    fn stretch(&mut self, recall: f64, right: bool) {
        let made = (f64::from(self.steps()) / f64::from(c::STEPS_SURE)).min(1.0);
        let by = if right {
            1.0 + c::HALF_LIFE_GROWS * (1.0 - recall) * made
        } else {
            1.0 - c::HALF_LIFE_SHRINKS * (1.0 - made)
        };
        self.half_life = (self.half_life * by).clamp(c::HALF_LIFE_LEAST, c::HALF_LIFE_MOST);
    }

    /// Harder and easier. An answer at another level (a drill may fix it) counts only if it says something about this
    /// one: right at a harder level, wrong at an easier one.
    fn grade(&mut self, level: Level, right: bool) {
        if right && level >= self.level {
            self.right_run = self.right_run.saturating_add(1);
            self.wrong_run = 0;
        } else if !right && level <= self.level {
            self.wrong_run = self.wrong_run.saturating_add(1);
            self.right_run = 0;
        }
        if self.wrong_run >= c::EASIER_AFTER {
            self.set_level(self.level.easier());
        } else if self.right_run >= c::HARDER_AFTER && self.chances.known >= c::HARDER_FROM {
            self.set_level(self.level.harder());
        }
    }

    fn set_level(&mut self, level: Level) {
        self.level = level;
        (self.right_run, self.wrong_run) = (0, 0);
    }

    fn remember(&mut self, logged: Logged) {
        if self.log.len() >= c::LOG_LENGTH {
            self.log.pop_front();
        }
        self.log.push_back(logged);
    }
}
