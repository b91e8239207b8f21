//! How somebody stands: what all their checks by one standard say together.

use super::annulled::{Annulled, Happened, all_answers, in_order};
use super::{Terms, TermsSkill};
use crate::drill::Standard;
use crate::learner::readiness::{Answered, Next, Progress, ReadinessPlan, Rules, Try};
use crate::problem::Level;
use crate::skills;
use crate::store::{AttemptId, CheckAnswer, CheckId, SessionId, ShortWait, StoredCheck};
use jiff::ToSpan;
use jiff::civil::Date;
use std::collections::HashSet;

/// How somebody stands in one skill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Readiness {
    /// Never checked: says nothing about what somebody can do.
    NotChecked,
    /// In the middle of a try. That is all that is told of it before its end.
    UnderWay {
        /// The day on which the try began.
        since: Date,
    },
    /// The first try ended without; the second may be made after this day.
    SecondTry {
        /// The day of the first try.
        after: Date,
    },
    /// Ready, at the laptop. On the ground is another matter, and a leader's.
    Ready {
        /// The day on which the check was passed.
        since: Date,
        /// The last day on which this is good.
        until: Date,
    },
    /// Not yet.
    NotYet {
        /// The day on which the last try ended.
        since: Date,
        /// The first day of a new check.
        from: Date,
    },
    /// Was ready, and that has run out.
    CheckAgain {
        /// The day of the check.
        since: Date,
    },
}

impl Readiness {
    /// All words.
    pub const WORDS: [&'static str; 6] =
        ["ready at the laptop", "second try another day", "not yet", "not checked", "check again", "under way"];

    /// In words, the same on every screen and in every file.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Readiness::Ready { .. } => Readiness::WORDS[0],
            Readiness::SecondTry { .. } => Readiness::WORDS[1],
            Readiness::NotYet { .. } => Readiness::WORDS[2],
            Readiness::NotChecked => Readiness::WORDS[3],
            Readiness::CheckAgain { .. } => Readiness::WORDS[4],
            Readiness::UnderWay { .. } => Readiness::WORDS[5],
        }
    }
}

/// How somebody stands in one skill, with what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct SkillRecord<'a> {
    /// The skill's id.
    pub skill: &'a str,
    /// How somebody stands.
    pub readiness: Readiness,
    /// The check and its tries that this rests on; none where nothing was answered.
    pub basis: Option<(&'a KnownCheck, &'a [Try])>,
}

/// A check that was begun, understood.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownCheck {
    /// Its id.
    pub id: CheckId,
    /// Its terms.
    pub terms: Terms,
    /// How far it is in each of its skills.
    pub progress: Vec<Progress>,
    /// The latest day on which something was answered, if anything was.
    pub day: Option<Date>,
    /// The day on which it began.
    pub began: Date,
    /// How often it was left in the middle and gone on with.
    pub came_back: u32,
    /// Whether it was left in the middle, as far as is known, and not gone on with yet.
    pub left: bool,
    /// The sittings whose day was given by hand, and not the clock's.
    pub days_given: Vec<SessionId>,
    /// The answers that were annulled in time, each with its skill's id.
    pub annulled: Vec<(String, Annulled)>,
    /// Waiting times after it that were shortened.
    pub short_waits: Vec<ShortWait>,
}

impl KnownCheck {
    /// Folds what the store has; none when the terms cannot be read.
    #[must_use]
    pub fn of(stored: &StoredCheck) -> Option<KnownCheck> {
        let (answers, annulled) = all_answers(stored);
        let mut terms = Terms::read(&stored.what.rules)?;
        // What this program does not know it cannot ask, and must not wait for.
        terms.skills.retain(|one| one.skill().is_some());
        let given = stored.sittings.iter().filter(|sitting| sitting.day_given);
        let days_given: Vec<SessionId> = given.map(|sitting| sitting.session).collect();
        let mut check = KnownCheck {
            id: stored.id,
            terms,
            progress: Vec::new(),
            day: answers.iter().map(|answer| answer.day).max(),
            began: stored.what.day,
            came_back: 0,
            left: false,
            days_given,
            annulled: Vec::new(),
            short_waits: stored.short_waits.clone(),
        };
        // A sitting was left in the middle where something could still have been asked on its day.
        for (at, sitting) in stored.sittings.iter().enumerate() {
            check.came_back += u32::from(check.left);
            let so_far = stored.sittings.get(..=at).unwrap_or_default();
            let sat = |answer: &CheckAnswer| so_far.iter().any(|one| one.session == answer.session);
            check.progress = check.fold(&answers, &annulled, sat).into_iter().map(|(progress, _)| progress).collect();
            let left = check.next(sitting.day).any(|(_, next)| matches!(next, Next::Ask(_)));
            check.left = left;
        }
        let folded = check.fold(&answers, &annulled, |_| true);
        // One that was annulled when its try had ended stays in it; one given to the same problem in another window was never in.
        let took = annulled.iter().filter(|one| {
            folded.iter().any(|(progress, places)| {
                let number = places.iter().position(|place| one.is_of(*place));
                let stays = |number| progress.tries().iter().any(|one| one.answers().any(|of| of == number));
                number.is_some_and(|number| !stays(number))
            })
        });
        check.annulled = took.filter_map(|one| Some((answers.get(one.answer)?.skill.clone(), one.clone()))).collect();
        check.progress = folded.into_iter().map(|(progress, _)| progress).collect();
        Some(check)
    }

    /// How far it is in each skill, by those answers that are wanted; and at which places among all answers those are.
    pub(super) fn fold(
        &self,
        answers: &[CheckAnswer],
        annulled: &[Annulled],
        wanted: impl Fn(&CheckAnswer) -> bool,
    ) -> Vec<(Progress, Vec<usize>)> {
        let rules = &self.terms.rules;
        let happened = in_order(answers.iter().map(|answer| answer.code.as_str()), annulled);
        let of_skill = |one: &TermsSkill| {
            let meta = skills::find(&one.id).map(|skill| skill.meta());
            let (mut progress, mut places) = (Progress::default(), Vec::new());
            for happened in &happened {
                match *happened {
                    Happened::Answered(at) => {
                        let ours = answers.get(at).filter(|answer| answer.skill == one.id && wanted(answer));
                        let Some(answer) = ours else { continue };
                        let critical = answer.verdict.mixup();
                        let answered = Answered {
                            day: answer.day,
                            day_given: self.days_given.contains(&answer.session),
                            right: answer.verdict.is_right(),
                            critical: critical.filter(|id| meta.is_some_and(|meta| rules.is_critical(meta, id))),
                        };
                        progress.answer(rules, answered);
                        places.push(at);
                    }
                    Happened::Annulled(at) => {
                        if let Some(number) = places.iter().position(|place| *place == at) {
                            progress.annul(rules, number);
                        }
                    }
                }
            }
            let said = self.short_waits.iter().filter(|wait| wait.skill.as_deref().is_none_or(|of| of == one.id));
            said.for_each(|wait| progress.shorten_wait(wait.from));
            (progress, places)
        };
        self.terms.skills.iter().map(of_skill).collect()
    }

    /// The answers of the tries that are under way: what they were is told to nobody before the end of the try.
    fn untold(&self, stored: &StoredCheck) -> Vec<AttemptId> {
        let open = self.open_answers(stored);
        let code = |id| stored.answers.iter().find(|answer| answer.id == id).map(|answer| answer.code.as_str());
        let codes: HashSet<&str> = open.iter().filter_map(|answer| code(answer.attempt)).collect();
        // What was answered a second time would tell the same.
        stored.answers.iter().filter(|answer| codes.contains(&*answer.code)).map(|answer| answer.id).collect()
    }

    /// Whether nothing more will be asked in it.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.progress.iter().all(|progress| progress.is_over(&self.terms.rules))
    }

    /// What follows in each skill on a day.
    pub fn next(&self, today: Date) -> impl Iterator<Item = (&str, Next)> {
        let rules = &self.terms.rules;
        self.terms.skills.iter().zip(&self.progress).map(move |(one, done)| (one.id.as_str(), done.next(rules, today)))
    }

    /// Whether this check leaves no room for another one of a skill that begins on a day: it is not decided yet then, or what it
    /// says still holds.
    fn binds(&self, done: &Progress, day: Date) -> bool {
        let rules = &self.terms.rules;
        match done.next(rules, day) {
            Next::Ready(since) => day <= later(since, rules.valid_days),
            Next::NotYet(since) => day < done.again_from(rules, since),
            Next::AnotherDay(_) | Next::Ask(_) => true,
        }
    }

    pub(super) fn of_skill(&self, skill: &str, level: Level) -> Option<(&str, &Progress)> {
        let at = self.terms.skills.iter().position(|one| one.id == skill && one.level == level.number())?;
        Some((self.terms.skills.get(at)?.id.as_str(), self.progress.get(at)?))
    }
}

/// All checks of one learner by one standard, the oldest first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// The checks.
    pub checks: Vec<KnownCheck>,
    /// How many more there are that this program cannot read.
    pub unreadable: usize,
}

/// What a learner can do by a standard on a day.
#[derive(Clone, Debug, PartialEq)]
pub enum Begin {
    /// Go on with this check, which is under way.
    GoOn(Box<KnownCheck>),
    /// Begin a check with these terms.
    Anew(Terms),
    /// Nothing today.
    Later {
        /// The first day on which something can be done.
        from: Date,
    },
}

impl Record {
    /// The record among a learner's checks.
    #[must_use]
    pub fn of<'a>(checks: impl IntoIterator<Item = &'a StoredCheck>, standard: &str) -> Record {
        let mut record = Record::default();
        for check in checks.into_iter().filter(|check| check.what.standard == standard) {
            match KnownCheck::of(check) {
                Some(begun) => record.checks.push(begun),
                None => record.unreadable += 1,
            }
        }
        record
    }

    /// How many checks were begun, those that cannot be read included.
    #[must_use]
    pub fn begun_before(&self) -> usize {
        self.checks.len() + self.unreadable
    }

    /// How the learner stands in one skill at a level on a day. What was asked at another level says nothing about this one.
    #[must_use]
    pub fn skill<'a>(&'a self, skill: &'a str, level: Level, today: Date) -> SkillRecord<'a> {
        let Some((skill, check, progress)) = self.deciding(skill, level).0 else {
            return SkillRecord { skill, readiness: Readiness::NotChecked, basis: None };
        };
        let rules = &check.terms.rules;
        // Whether a second try is due is asked of no particular day: it may be made on any later one.
        let readiness = match progress.next(rules, today) {
            Next::Ready(since) => {
                let until = later(since, rules.valid_days);
                if today > until { Readiness::CheckAgain { since } } else { Readiness::Ready { since, until } }
            }
            Next::NotYet(since) => Readiness::NotYet { since, from: progress.again_from(rules, since) },
            Next::AnotherDay(after) => Readiness::SecondTry { after },
            Next::Ask(_) => match progress.tries().last() {
                Some(last) if last.end.is_some() => Readiness::SecondTry { after: last.day },
                Some(last) => Readiness::UnderWay { since: last.began },
                None => Readiness::NotChecked,
            },
        };
        SkillRecord { skill, readiness, basis: Some((check, progress.tries())) }
    }

    /// The latest check of a skill in which something was answered, of those that decide; and those that do not. Of two that were
    /// begun side by side, as on two laptops, the earlier decides, and the later is kept.
    fn deciding<'a>(
        &'a self,
        skill: &str,
        level: Level,
    ) -> (Option<(&'a str, &'a KnownCheck, &'a Progress)>, Vec<&'a KnownCheck>) {
        let (mut latest, mut beside): (Option<(&str, &KnownCheck, &Progress)>, _) = (None, Vec::new());
        for check in &self.checks {
            let Some((id, progress)) = check.of_skill(skill, level).filter(|(_, done)| !done.tries().is_empty()) else {
                continue;
            };
            match latest {
                Some((_, before, done)) if before.binds(done, check.began) => beside.push(check),
                _ => latest = Some((id, check, progress)),
            }
        }
        (latest, beside)
    }

    /// Whether a check decides nothing that is still open in it, since another was begun before it, or since nothing was answered in
    /// it and something in another: on one laptop neither would have been begun.
    fn is_beside(&self, check: &KnownCheck) -> bool {
        let is_empty = |check: &KnownCheck| check.progress.iter().all(|done| done.tries().is_empty());
        if is_empty(check) && self.checks.iter().any(|other| !is_empty(other) && !other.is_over()) {
            return true;
        }
        let mut open =
            check.terms.skills.iter().zip(&check.progress).filter(|(_, done)| !done.is_over(&check.terms.rules));
        open.all(|(one, done)| {
            let Some((_, level)) = one.skill() else { return false };
            let (latest, beside) = self.deciding(&one.id, level);
            let instead = latest.filter(|(_, other, done)| other.id > check.id || other.binds(done, check.began));
            beside.iter().any(|beside| beside.id == check.id) || (done.tries().is_empty() && instead.is_some())
        })
    }

    /// On which days checks were begun beside others in some skill: there they do not decide.
    #[must_use]
    pub fn begun_beside(&self) -> Vec<Date> {
        let is_beside = |check: &&KnownCheck| {
            check.terms.skills.iter().any(|one| {
                let level = one.skill().map(|(_, level)| level);
                level.is_some_and(|level| self.deciding(&one.id, level).1.iter().any(|beside| beside.id == check.id))
            })
        };
        self.checks.iter().filter(is_beside).map(|check| check.began).collect()
    }

    /// The checks in which a skill was begun at a level.
    pub fn begun<'a>(&'a self, skill: &'a str, level: Level) -> impl Iterator<Item = &'a KnownCheck> {
        self.checks
            .iter()
            .filter(move |check| check.of_skill(skill, level).is_some_and(|(_, progress)| !progress.tries().is_empty()))
    }

    /// The check that is not over; the earlier one where two were begun side by side.
    #[must_use]
    pub fn under_way(&self) -> Option<&KnownCheck> {
        self.checks.iter().find(|check| !check.is_over() && !self.is_beside(check))
    }

    /// What can be done on a day: a check under way comes first.
    #[must_use]
    pub fn begin(&self, standard: &Standard, today: Date) -> Begin {
        if let Some(check) = self.under_way() {
            if check.next(today).any(|(_, next)| matches!(next, Next::Ask(_))) {
                return Begin::GoOn(Box::new(check.clone()));
            }
            let waiting = check.next(today).filter_map(|(_, next)| match next {
                Next::AnotherDay(day) => Some(later(day, 1)),
                _ => None,
            });
            return Begin::Later { from: waiting.min().unwrap_or_else(|| later(today, 1)) };
        }
        let mut from: Option<Date> = None;
        let mut wanted = Vec::new();
        for one in &standard.skills {
            let id = one.skill.id;
            let wait = match self.skill(id, one.level, today).readiness {
                Readiness::Ready { until, .. } => Some(later(until, 1)),
                Readiness::NotYet { from, .. } if today < from => Some(from),
                _ => None,
            };
            match wait {
                Some(day) => from = Some(from.map_or(day, |from| from.min(day))),
                None => wanted.push(id),
            }
        }
        match from {
            Some(from) if wanted.is_empty() => Begin::Later { from },
            _ => Begin::Anew(Terms::of(standard, |id| wanted.contains(&id))),
        }
    }
}

/// The answers of all tries that are under way in a learner's checks. Until a try has ended, nothing that is shown may rest
/// on them: what is believed of somebody would tell what they answered.
#[must_use]
pub fn untold(checks: &[StoredCheck]) -> HashSet<AttemptId> {
    checks.iter().filter_map(|stored| Some(KnownCheck::of(stored)?.untold(stored))).flatten().collect()
}

/// So many days later; the end of all days where there are no more.
pub(super) fn later(day: Date, days: u16) -> Date {
    day.checked_add(i64::from(days).days()).unwrap_or(Date::MAX)
}

/// What somebody is told of the rules that their check goes on under.
#[must_use]
pub fn plan_words(rules: &Rules) -> String {
    let plan = &rules.plan;
    let tries = match plan.tries() {
        1 => "one try".to_owned(),
        tries => format!("up to {tries} tries on different days"),
    };
    let critical = if rules.critical.is_empty() { "" } else { ", and a few more where a critical mix-up ends a try" };
    format!(
        "{tries} of at most {} problems a skill; of those who answer {:.0} in 100 right, {:.1} in 100 are found ready by luck; of those who answer {:.0} in 100 right, {:.1} in 100 are missed{critical}",
        plan.bounds().cap(),
        plan.p0() * 100.0,
        plan.alpha() * 100.0,
        plan.p1() * 100.0,
        plan.beta() * 100.0,
    )
}

/// The chance of one evening: how many of those who can do it pass a skill in their first try, and all of so many skills.
#[must_use]
pub fn first_day_words(plan: &ReadinessPlan, skills: usize) -> String {
    let (one, all) = plan.first_day(skills);
    let in_all = if skills > 1 { format!(", and {:.0} in 100 all {skills}", all * 100.0) } else { String::new() };
    let second = if plan.tries() > 1 { ": a second try is nothing unusual" } else { "" };
    format!(
        "on the first day, {:.0} in 100 of those who can do it ({:.0} in 100 right) pass a skill{in_all}{second}",
        one * 100.0,
        plan.p1() * 100.0
    )
}
