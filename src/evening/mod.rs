//! A leader's evening: who does what in which minutes, with one laptop for all.
//!
//! What lives here: making the plan from what the records say, changing it by hand, and its words. What does not: reading the
//! records ([`crate::report`]), and any screen. Pure: the same report gives the same plan.
//!
//! One laptop serves one member at a time, so its minutes are dealt first: checks that are open, as far as they fit, then
//! practice for whoever needs it most. Everybody else works without it: somebody who can shows somebody who cannot yet, with a
//! worksheet, or with a printed map and a real compass. So at every minute everybody has something to do.

mod change;
mod kept;
mod make;
mod page;
mod words;

pub use kept::{KeptEvening, KeptWhen, Stale, is_readable, plan_of_words, stale_words};
pub use make::round_topics;
pub use page::plan_told;
pub use words::{EveningLine, check_minutes, evening_chances, evening_lines, evening_needs};

use crate::game::Game;
use crate::problem::SkillMeta;
use crate::store::LearnerId;
use std::ops::RangeInclusive;

/// How many minutes can be planned.
pub const EVENING_MINUTES: RangeInclusive<u32> = 15..=240;
/// How many are planned where nothing was said.
pub const USUAL_MINUTES: u32 = 90;

/// Somebody who is there.
#[derive(Clone, Debug, PartialEq)]
pub struct Guest {
    /// Who.
    pub learner: LearnerId,
    /// Their name.
    pub name: String,
    /// The check that can be made with them today; none before they have met every skill that it would ask.
    pub check: Option<DueCheck>,
    /// A skill that they have not met and that a check would ask.
    pub not_met: Option<&'static SkillMeta>,
    /// Whether practice has found weak spots, or nothing comes right somewhere.
    pub has_weak_spots: bool,
}

/// A check that can be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DueCheck {
    /// About how many minutes it takes.
    pub minutes: u32,
    /// Whether it was begun already.
    pub begun: bool,
}

/// Somebody shows somebody else.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pair {
    /// Who shows: their place among the guests.
    pub shows: usize,
    /// Whom.
    pub whom: usize,
    /// What.
    pub skill: &'static SkillMeta,
}

/// The topic of a round for all, and how many it helps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Topic {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// How many of those who are there have a weak spot in it.
    pub members: usize,
}

/// What somebody does for some minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Job {
    /// In a round for all.
    Round(Option<Topic>),
    /// Is checked, at the laptop.
    Check,
    /// Practises at the laptop.
    Practice,
    /// Shows somebody, or is shown.
    Pair(Pair),
    /// Works at a worksheet.
    Sheet,
    /// Lays a real compass on a printed map.
    Map,
    /// Plays a game with all.
    Game(&'static Game),
}

impl Job {
    /// Whether it needs the laptop for one member alone.
    #[must_use]
    pub const fn at_laptop(self) -> bool {
        matches!(self, Job::Check | Job::Practice)
    }

    /// A name for files, for the guest at this place.
    #[must_use]
    pub fn id(self, at: usize) -> &'static str {
        match self {
            Job::Round(_) => "round",
            Job::Check => "check",
            Job::Practice => "practice",
            Job::Pair(pair) if pair.shows == at => "shows",
            Job::Pair(_) => "is-shown",
            Job::Sheet => "worksheet",
            Job::Map => "printed-map",
            Job::Game(_) => "game",
        }
    }

    /// Whether all do it together.
    #[must_use]
    pub const fn for_all(self) -> bool {
        matches!(self, Job::Round(_) | Job::Game(_))
    }
}

/// A piece of the evening in which nobody changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Slot {
    /// The minute it begins at, counted from 0.
    pub from: u32,
    /// How many minutes it takes.
    pub minutes: u32,
    /// What each of the guests does, in their order.
    pub jobs: Vec<Job>,
}

impl Slot {
    /// From which to which minute: `10–35`.
    #[must_use]
    pub fn time(&self) -> String {
        format!("{}–{}", self.from, self.from + self.minutes)
    }
}

/// A plan for an evening.
#[derive(Clone, Debug, PartialEq)]
pub struct Evening {
    /// Who is there.
    pub guests: Vec<Guest>,
    /// Its pieces, one after the other; together they are all its minutes.
    pub slots: Vec<Slot>,
}

impl Evening {
    /// Those whose check could be made and is not in it: places among the guests.
    fn unchecked(&self) -> impl Iterator<Item = usize> {
        let due = self.guests.iter().enumerate().filter(|(_, guest)| guest.check.is_some());
        due.map(|(at, _)| at).filter(|at| !self.does(*at, |job| job == Job::Check))
    }

    /// Those who do not come to the laptop: places among the guests.
    fn without_laptop(&self) -> impl Iterator<Item = usize> {
        (0..self.guests.len()).filter(|at| !self.does(*at, Job::at_laptop))
    }

    /// Whether a guest has such a job somewhere in it.
    fn does(&self, guest: usize, is_wanted: impl Fn(Job) -> bool) -> bool {
        self.slots.iter().any(|slot| slot.jobs.get(guest).is_some_and(|job| is_wanted(*job)))
    }

    /// How many minutes it has.
    #[must_use]
    pub fn minutes(&self) -> u32 {
        self.slots.iter().map(|slot| slot.minutes).sum()
    }
}

#[cfg(test)]
mod tests;
