//! The plan as it is kept: written down when it is made or changed, and read when the leader comes back or prints it.

use super::{DueCheck, Evening, Guest, Job, Pair, Slot, Topic};
use crate::game::GAMES;
use crate::problem::SkillMeta;
use crate::report::Report;
use crate::session::Days;
use crate::skills;
use crate::store::{LearnerId, StoredEvening};
use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use std::collections::HashMap;

/// A plan is no longer than this, whatever stands in a file: pieces, people, and minutes of a piece.
const MOST: usize = 200;
const MOST_MINUTES: u32 = 24 * 60;

/// A plan with when it was made or changed last.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptEvening {
    /// The name of the standard that it goes by.
    pub standard: String,
    /// The plan.
    pub evening: Evening,
    /// The piece that is being done.
    pub slot: usize,
    /// When it was kept; none before it was.
    pub kept: Option<KeptWhen>,
}

/// When a plan was kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptWhen {
    /// The leader's day.
    pub day: Date,
    /// The time of day: `18:30`; empty where the day was given by hand, since nobody knows what the clock on the wall showed.
    pub clock: String,
    /// The moment.
    pub at: Timestamp,
}

impl KeptWhen {
    /// This moment.
    #[must_use]
    pub fn at(days: &Days, at: Timestamp) -> KeptWhen {
        let clock = match days {
            Days::Clock(zone) => zone.to_datetime(at).strftime("%H:%M").to_string(),
            Days::Given(_) => String::new(),
        };
        KeptWhen { day: days.of(at), clock, at }
    }
}

/// Why a plan that was kept is not the one to go by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stale {
    /// It is of another day.
    OtherDay,
    /// It goes by another standard.
    OtherStandard,
    /// Somebody in it is not among those of the report: put aside, erased, or of another patrol. How many.
    Missing(usize),
    /// It was written by a program that this one does not understand, or is damaged.
    Unreadable,
}

#[derive(Serialize, Deserialize)]
struct PlanJson {
    guests: Vec<GuestJson>,
    slots: Vec<SlotJson>,
    #[serde(default)]
    slot: usize,
}

#[derive(Serialize, Deserialize)]
struct GuestJson {
    learner: String,
    check_minutes: Option<u32>,
    check_begun: bool,
    not_met: Option<String>,
    has_weak_spots: bool,
}

#[derive(Serialize, Deserialize)]
struct SlotJson {
    minutes: u32,
    jobs: Vec<JobJson>,
}

#[derive(Serialize, Deserialize)]
#[serde(tag = "job", rename_all = "kebab-case")]
enum JobJson {
    Round { skill: Option<String>, members: usize },
    Check,
    Practice,
    Pair { shows: usize, whom: usize, skill: String },
    Worksheet,
    PrintedMap,
    Game { name: String },
}

impl JobJson {
    fn of(job: Job) -> JobJson {
        match job {
            Job::Round(topic) => JobJson::Round {
                skill: topic.map(|topic| topic.skill.id.to_owned()),
                members: topic.map_or(0, |topic| topic.members),
            },
            Job::Check => JobJson::Check,
            Job::Practice => JobJson::Practice,
            Job::Pair(Pair { shows, whom, skill }) => JobJson::Pair { shows, whom, skill: skill.id.to_owned() },
            Job::Sheet => JobJson::Worksheet,
            Job::Map => JobJson::PrintedMap,
            Job::Game(game) => JobJson::Game { name: game.name.to_owned() },
        }
    }

    /// The job; none where this program does not know what it is about.
    fn read(self, guests: usize) -> Option<Job> {
        Some(match self {
            JobJson::Round { skill: None, .. } => Job::Round(None),
            JobJson::Round { skill: Some(id), members } => Job::Round(Some(Topic { skill: skill(&id)?, members })),
            JobJson::Check => Job::Check,
            JobJson::Practice => Job::Practice,
            JobJson::Pair { shows, whom, skill: id } if shows < guests && whom < guests && shows != whom => {
                Job::Pair(Pair { shows, whom, skill: skill(&id)? })
            }
            JobJson::Pair { .. } => return None,
            JobJson::Worksheet => Job::Sheet,
            JobJson::PrintedMap => Job::Map,
            JobJson::Game { name } => Job::Game(GAMES.into_iter().find(|game| game.name == name)?),
        })
    }
}

fn skill(id: &str) -> Option<&'static SkillMeta> {
    skills::find(id).map(|skill| skill.meta())
}

/// A learner as they stand in a kept plan: the digits of the id alone, as the store looks for them.
fn digits(id: LearnerId) -> String {
    id.to_string().replace('-', "")
}

impl KeptEvening {
    /// The plan as the store keeps it from this moment on; `clock` is the time of day.
    #[must_use]
    pub fn stored(&self, when: KeptWhen) -> StoredEvening {
        let guest = |guest: &Guest| GuestJson {
            learner: digits(guest.learner),
            check_minutes: guest.check.map(|check| check.minutes),
            check_begun: guest.check.is_some_and(|check| check.begun),
            not_met: guest.not_met.map(|skill| skill.id.to_owned()),
            has_weak_spots: guest.has_weak_spots,
        };
        let slot = |slot: &Slot| SlotJson {
            minutes: slot.minutes,
            jobs: slot.jobs.iter().copied().map(JobJson::of).collect(),
        };
        let plan = PlanJson {
            guests: self.evening.guests.iter().map(guest).collect(),
            slots: self.evening.slots.iter().map(slot).collect(),
            slot: self.slot,
        };
        StoredEvening {
            kept_at: when.at,
            day: Some(when.day),
            clock: when.clock,
            standard: self.standard.clone(),
            // Texts and numbers alone: this cannot fail.
            plan: serde_json::to_string(&plan).unwrap_or_default(),
        }
    }

    /// The plan that was kept, with the names of the report's members. Behind it why it is not the one to go by today, where it is not;
    /// no plan where it cannot be read or is for people who are not in the report.
    ///
    /// # Errors
    /// [`Stale::Unreadable`], [`Stale::Missing`] and [`Stale::OtherStandard`].
    pub fn read(stored: &StoredEvening, report: &Report) -> Result<(KeptEvening, Option<Stale>), Stale> {
        let (day, guests, slots, slot) = parts(stored).ok_or(Stale::Unreadable)?;
        let names: HashMap<String, (LearnerId, &str)> = report
            .members
            .iter()
            .map(|member| (digits(member.learner.id), (member.learner.id, member.learner.name.as_str())))
            .collect();
        let missing = guests.iter().filter(|guest| !names.contains_key(&guest.learner)).count();
        if missing > 0 {
            return Err(Stale::Missing(missing));
        }
        if stored.standard != report.standard.name {
            return Err(Stale::OtherStandard);
        }
        let guests = guests.into_iter().map(|guest| {
            let (learner, name) = names[&guest.learner];
            Guest {
                learner,
                name: name.to_owned(),
                check: guest.check_minutes.map(|minutes| DueCheck { minutes, begun: guest.check_begun }),
                not_met: guest.not_met.as_deref().and_then(skill),
                has_weak_spots: guest.has_weak_spots,
            }
        });
        let guests: Vec<Guest> = guests.collect();
        // Those who were erased all stand there alike, so this is asked of those who are here.
        if guests.iter().enumerate().any(|(at, one)| guests[..at].iter().any(|it| it.learner == one.learner)) {
            return Err(Stale::Unreadable);
        }
        let kept = KeptWhen { day, clock: stored.clock.clone(), at: stored.kept_at };
        let stale = (day != report.day).then_some(Stale::OtherDay);
        let evening = Evening { guests, slots };
        Ok((KeptEvening { standard: stored.standard.clone(), evening, slot, kept: Some(kept) }, stale))
    }
}

/// Whether what was kept is a plan that this program understands, whoever is in it and of whichever day it is.
#[must_use]
pub fn is_readable(stored: &StoredEvening) -> bool {
    parts(stored).is_some()
}

/// The day, who was there, the pieces and the one that was being done, as far as that is no matter of who is in the records.
fn parts(stored: &StoredEvening) -> Option<(Date, Vec<GuestJson>, Vec<Slot>, usize)> {
    let day = stored.day?;
    let plan: PlanJson = serde_json::from_str(&stored.plan).ok()?;
    let (count, mut from, mut slots) = (plan.guests.len(), 0, Vec::new());
    if !(1..=MOST).contains(&count) || !(1..=MOST).contains(&plan.slots.len()) {
        return None;
    }
    for slot in plan.slots {
        let jobs: Option<Vec<Job>> = slot.jobs.into_iter().map(|job| job.read(count)).collect();
        let jobs = jobs.filter(|jobs| is_sound(jobs, count))?;
        if !(1..=MOST_MINUTES).contains(&slot.minutes) {
            return None;
        }
        slots.push(Slot { from, minutes: slot.minutes, jobs });
        from += slot.minutes;
    }
    let slot = plan.slot.min(slots.len() - 1);
    Some((day, plan.guests, slots, slot))
}

/// Whether what stands in a file is a piece of a plan: one job for each, one at the laptop, pairs of two, all together or none.
fn is_sound(jobs: &[Job], guests: usize) -> bool {
    let together = jobs.iter().filter(|job| job.for_all()).count();
    let pairs = jobs.iter().enumerate().all(|(at, job)| match job {
        Job::Pair(pair) => {
            (at == pair.shows || at == pair.whom)
                && jobs.get(pair.shows) == Some(job)
                && jobs.get(pair.whom) == Some(job)
        }
        _ => true,
    });
    jobs.len() == guests
        && pairs
        && (together == 0 || together == guests)
        && jobs.iter().filter(|job| job.at_laptop()).count() <= 1
}

/// Of which day and which time a plan is: `the plan of 18:30` today, `the plan of 2026-11-25, 18:30` else; without a day no more than
/// that there is one.
#[must_use]
pub fn plan_of_words(day: Option<Date>, clock: &str, today: Date) -> String {
    let Some(day) = day else { return "the plan that was kept".to_owned() };
    match (day == today, clock.is_empty()) {
        (true, true) => "the plan of today".to_owned(),
        (true, false) => format!("the plan of {clock}"),
        (false, true) => format!("the plan of {day}"),
        (false, false) => format!("the plan of {day}, {clock}"),
    }
}

/// Why the plan that was kept is not gone by, as a sentence.
#[must_use]
pub fn stale_words(stored: &StoredEvening, why: &Stale, today: Date) -> String {
    let which = crate::problem::capital(&plan_of_words(stored.day, &stored.clock, today));
    match why {
        Stale::OtherDay => format!("{which} is of another day."),
        Stale::OtherStandard => format!("{which} goes by another standard ({}).", stored.standard),
        Stale::Missing(1) => {
            format!("{which} is not gone by: 1 of those in it is not among the members here any more.")
        }
        Stale::Missing(many) => {
            format!("{which} is not gone by: {many} of those in it are not among the members here any more.")
        }
        Stale::Unreadable => format!("{which} cannot be read by this program."),
    }
}
