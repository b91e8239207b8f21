//! What a leader says of a check afterwards: answers annulled, waits shortened; what that does to the plan's error, in words.

use super::record::later;
use super::{KnownCheck, Record};
use crate::learner::readiness::{Next, ReadinessPlan, Try};
use crate::problem::Level;
use crate::store::{Annulment, AttemptId, CheckAnswer, StoredCheck};
use jiff::civil::Date;
use std::collections::HashSet;

/// An answer of a check that was annulled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Annulled {
    /// Its place among all answers of the check, from 0.
    pub(super) answer: usize,
    /// How many answers had been given when it was said.
    pub(super) before: usize,
    /// The learner's day on which it was said.
    pub day: Date,
    /// The leader's reason.
    pub reason: String,
}

impl Annulled {
    /// Whether it is the answer at this place.
    pub(super) const fn is_of(&self, answer: usize) -> bool {
        self.answer == answer
    }
}

/// What happened in a check, one thing after the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Happened {
    /// The answer at this place was given.
    Answered(usize),
    /// It was annulled.
    Annulled(usize),
}

/// All answers of a check in their order, and which of them were annulled.
#[must_use]
pub fn with_annulled<T>(
    counted: Vec<(AttemptId, T)>,
    annulled: Vec<(AttemptId, T, Annulment)>,
) -> (Vec<T>, Vec<Annulled>) {
    let mut all: Vec<(AttemptId, T, Option<Annulment>)> =
        counted.into_iter().map(|(id, one)| (id, one, None)).collect();
    all.extend(annulled.into_iter().map(|(id, one, said)| (id, one, Some(said))));
    all.sort_by_key(|(id, ..)| *id);
    let said = all.iter().enumerate().filter_map(|(answer, (_, _, said))| {
        let said = said.as_ref()?;
        let before = all.iter().filter(|(id, ..)| !said.came_before(*id)).count();
        Some(Annulled { answer, before, day: said.day, reason: said.reason.clone() })
    });
    let said = said.collect();
    (all.into_iter().map(|(_, one, _)| one).collect(), said)
}

/// All answers of a stored check, and which of them were annulled.
pub(super) fn all_answers(stored: &StoredCheck) -> (Vec<CheckAnswer>, Vec<Annulled>) {
    let counted = stored.answers.iter().map(|answer| (answer.id, answer.clone())).collect();
    let annulled = stored.annulled.iter().map(|(answer, said)| (answer.id, answer.clone(), said.clone())).collect();
    with_annulled(counted, annulled)
}

/// What happened, in order. Where the check was open in two windows the first answer to a problem counts, and where that was
/// annulled, none does.
pub(super) fn in_order<'a>(codes: impl Iterator<Item = &'a str>, annulled: &[Annulled]) -> Vec<Happened> {
    let mut known = HashSet::new();
    let mut said: Vec<&Annulled> = annulled.iter().collect();
    said.sort_by_key(|one| one.before);
    let mut said = said.into_iter().peekable();
    let mut happened = Vec::new();
    for (at, code) in codes.enumerate() {
        happened.extend(
            std::iter::from_fn(|| said.next_if(|one| one.before <= at)).map(|one| Happened::Annulled(one.answer)),
        );
        if known.insert(code) {
            happened.push(Happened::Answered(at));
        }
    }
    happened.extend(said.map(|one| Happened::Annulled(one.answer)));
    happened
}

/// A waiting time that was shortened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WaitChange {
    /// The day of *not yet*.
    pub since: Date,
    /// The first day of a new check by the leader's word.
    pub from: Date,
    /// The first day by the standard.
    pub regular: Date,
    /// The leader's reason.
    pub reason: String,
}

/// What a leader said of what decides about somebody in one skill, and what becomes of the plan's error.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Changes {
    /// The day and the reason of each answer that was annulled.
    pub annulled: Vec<(Date, String)>,
    /// Waits that were shortened before the check that decides, or behind it.
    pub waits: Vec<WaitChange>,
    /// The chance that somebody who is not ready is found ready after all that, at most; none where nothing was changed.
    pub alpha: Option<f64>,
    /// The chances of the plan: of a right answer of somebody who is not ready, and that they are found ready.
    plan: (f64, f64),
}

impl Changes {
    /// All of it in sentences: no capital, no full stop.
    #[must_use]
    pub fn words(&self) -> Vec<String> {
        let mut words: Vec<String> = self.annulled.iter().map(|(day, reason)| annulled_words(*day, reason)).collect();
        words.extend(self.waits.iter().map(|wait| {
            let WaitChange { since, from, regular, reason } = wait;
            format!("{reason}, so the wait after {since} ends on {from}, not on {regular}, by the leader's word")
        }));
        if let Some(alpha) = self.alpha {
            let what = match (self.annulled.is_empty(), self.waits.is_empty()) {
                (false, true) => "this check",
                (true, _) => "two checks so close together",
                (false, false) => "these checks",
            };
            words.push(format!("the plan's error no longer holds for {what}: {}", luck(self.plan, alpha)));
        }
        words
    }
}

/// `the key was hit by accident, so an answer was annulled on 2026-11-25`.
fn annulled_words(day: Date, reason: &str) -> String {
    format!("{reason}, so an answer was annulled on {day}, by the leader's word")
}

/// `of those who answer 60 in 100 right, up to 14.7 in 100 are found ready by luck, not 5.0`.
fn luck((p0, regular): (f64, f64), alpha: f64) -> String {
    format!(
        "of those who answer {:.0} in 100 right, up to {:.1} in 100 are found ready by luck, not {:.1}",
        p0 * 100.0,
        alpha * 100.0,
        regular * 100.0
    )
}

/// What annulling one more answer does to the plan's error, before it is done: in this check, and if it were done in each try.
#[must_use]
pub fn annulling_words(plan: &ReadinessPlan, tries: &[u8]) -> String {
    let mut with_this = tries.to_vec();
    if let Some(last) = with_this.last_mut() {
        *last = last.saturating_add(1);
    }
    let now = luck((plan.p0(), plan.alpha()), plan.alpha_with_annulled(&with_this));
    let each = vec![1; usize::from(plan.tries())];
    let in_each = match plan.tries() {
        0 | 1 => String::new(),
        tries => {
            let alpha = plan.alpha_with_annulled(&each) * 100.0;
            format!(" With one such answer in each of the {tries} tries it would be {alpha:.1}.")
        }
    };
    format!("The plan's error no longer holds for this check: {now}.{in_each}")
}

/// What a shorter wait does to the plan's error, before it is shortened.
#[must_use]
pub fn shortening_words(plan: &ReadinessPlan) -> String {
    let both = 1.0 - (1.0 - plan.alpha()).powi(2);
    format!(
        "The plan's error no longer holds for two checks so close together: {}.",
        luck((plan.p0(), plan.alpha()), both)
    )
}

/// What learners are told of answers of a check that were annulled.
#[must_use]
pub fn told_annulled(plan: &ReadinessPlan, tries: &[Vec<u8>], annulled: &[Annulled]) -> Vec<String> {
    let mut words: Vec<String> =
        annulled.iter().map(|one| super::super::sentence(&annulled_words(one.day, &one.reason))).collect();
    let worst = tries.iter().map(|tries| plan.alpha_with_annulled(tries)).fold(plan.alpha(), f64::max);
    if !words.is_empty() {
        let luck = luck((plan.p0(), plan.alpha()), worst);
        words.push(format!("The plan's error no longer holds for this check: {luck}."));
    }
    words
}

/// How many answers were annulled, try by try.
pub(super) fn counts(tries: &[Try]) -> Vec<u8> {
    tries.iter().map(|one| one.annulled).collect()
}

/// An answer that may still be annulled: nobody has been told what it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenAnswer {
    /// The answer.
    pub attempt: AttemptId,
    /// The skill's id.
    pub skill: String,
    /// How many answers were annulled before it, try by try.
    pub tries: Vec<u8>,
}

impl KnownCheck {
    /// The answers of the tries that are under way, in their order.
    #[must_use]
    pub fn open_answers(&self, stored: &StoredCheck) -> Vec<OpenAnswer> {
        let (answers, annulled) = all_answers(stored);
        let folded = self.fold(&answers, &annulled, |_| true);
        let mut open = Vec::new();
        for (progress, places) in &folded {
            let Some(last) = progress.tries().last().filter(|last| last.end.is_none()) else { continue };
            let ours = last.answers().filter_map(|number| answers.get(*places.get(number)?));
            open.extend(ours.map(|answer| OpenAnswer {
                attempt: answer.id,
                skill: answer.skill.clone(),
                tries: counts(progress.tries()),
            }));
        }
        open.sort_by_key(|answer| answer.attempt);
        open
    }

    /// The chance that somebody who is not ready is found ready in a skill, with what was annulled; none where it is not asked.
    fn alpha(&self, skill: &str, level: Level) -> Option<f64> {
        let (_, progress) = self.of_skill(skill, level)?;
        Some(self.terms.rules.plan.alpha_with_annulled(&counts(progress.tries())))
    }
}

impl Record {
    /// What a leader said of the checks that decide in a skill.
    #[must_use]
    pub fn changes(&self, skill: &str, level: Level) -> Changes {
        let Some(basis) = self.skill(skill, level, Date::MAX).basis.map(|(check, _)| check) else {
            return Changes::default();
        };
        let plan = &basis.terms.rules.plan;
        let annulled: Vec<(Date, String)> =
            basis.annulled.iter().filter(|(of, _)| of == skill).map(|(_, one)| (one.day, one.reason.clone())).collect();
        let begun: Vec<&KnownCheck> = self.begun(skill, level).collect();
        let (mut waits, mut pass) = (Vec::new(), 1.0 - basis.alpha(skill, level).unwrap_or_else(|| plan.alpha()));
        for (at, check) in begun.iter().enumerate() {
            let rules = &check.terms.rules;
            let Some((_, progress)) = check.of_skill(skill, level) else { continue };
            let Next::NotYet(since) = progress.next(rules, Date::MAX) else { continue };
            let (from, regular) = (progress.again_from(rules, since), later(since, rules.wait_days));
            // A wait that was shortened and sat out all the same changes nothing.
            let used = begun.get(at + 1).is_none_or(|next| next.began < regular);
            let said = check.short_waits.iter().filter(|wait| wait.skill.as_deref().is_none_or(|of| of == skill));
            let Some(said) = said.min_by_key(|wait| wait.from).filter(|_| from < regular && used) else { continue };
            waits.push(WaitChange { since, from, regular, reason: said.reason.clone() });
            // The last one is followed by a check that is not begun yet.
            pass *= 1.0 - if check.id == basis.id { plan.alpha() } else { check.alpha(skill, level).unwrap_or(0.0) };
        }
        let alpha = (!annulled.is_empty() || !waits.is_empty()).then_some(1.0 - pass);
        Changes { annulled, waits, alpha, plan: (plan.p0(), plan.alpha()) }
    }

    /// The chances of a wrong *ready* in a skill, over all checks in which it was begun.
    #[must_use]
    pub fn wrong_ready_at_most(&self, skill: &str, level: Level) -> f64 {
        self.begun(skill, level).filter_map(|check| check.alpha(skill, level)).sum()
    }
}
