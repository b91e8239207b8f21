//! A newcomer's way: the order in which skills are met in practice without a drill, and where somebody begins on it.
//!
//! The steps are data. A step opens when each skill of the step before has two of its last four answers right. Within the open
//! steps at most three skills at a time are new: met, and not yet right twice. A new skill comes again before long, others in
//! between, and no other begins within the next three problems. Skills that are not in the registry, or may not be asked, are
//! passed over. What was met counts as met, in whatever order that was.
//!
//! Two things here are no part of any source: a skill tried eight times holds up no step any longer, and one that was asked
//! six times on a day goes no longer before others; else whoever cannot do one thing would see nothing else.

use super::beliefs::{Beliefs, Placement};
use super::choose::{Picked, Wanted, gain_at};
use super::constants as c;
use super::reason::Reason;
use super::recent::Recent;
use crate::problem::Level;
use jiff::civil::Date;
use std::fmt;

/// A step of the way.
struct Step {
    /// What it is about, in the middle of a sentence.
    about: &'static str,
    /// Its skills in their order, each up to this level while the step is the last that is open.
    skills: &'static [(&'static str, Level)],
    /// The problem that tells whether somebody who has done this before knows the step.
    probe: (&'static str, Level),
}

/// Skills that stand in no step belong to the last.
const WAY: [Step; 6] = [
    Step {
        about: "the dial and the needle",
        skills: &[("read-dial", Level::TWO), ("set-dial", Level::ONE), ("follow-bearing", Level::ONE)],
        probe: ("set-dial", Level::TWO),
    },
    Step {
        about: "turns and back bearings",
        skills: &[
            ("compass-points", Level::ONE),
            ("turns", Level::TWO),
            ("back-bearing", Level::TWO),
            ("back-sight", Level::ONE),
        ],
        probe: ("back-bearing", Level::TWO),
    },
    Step {
        about: "declination",
        skills: &[("orient-landmarks", Level::TWO), ("diagram", Level::ONE), ("true-magnetic", Level::TWO)],
        probe: ("true-magnetic", Level::TWO),
    },
    Step {
        about: "orienting the map",
        skills: &[("orient-magnetic-line", Level::ONE), ("orient-true-line", Level::TWO)],
        probe: ("orient-true-line", Level::TWO),
    },
    Step {
        about: "bearings off the map",
        skills: &[("baseplate-bearing", Level::TWO), ("oriented-bearing", Level::TWO), ("take-bearing", Level::TWO)],
        probe: ("oriented-bearing", Level::TWO),
    },
    Step {
        about: "grid lines",
        skills: &[("grid-magnetic", Level::FOUR), ("orient-grid", Level::FOUR), ("dated-map", Level::FOUR)],
        probe: ("grid-magnetic", Level::TWO),
    },
];

const LAST: usize = WAY.len() - 1;

/// How many steps there are.
pub(super) const STEPS: usize = WAY.len();

/// The step of a skill, from 0, and its place there.
fn place(skill: &str) -> (usize, usize) {
    let here = |step: &Step| step.skills.iter().position(|(id, _)| *id == skill);
    let found = WAY.iter().enumerate().find_map(|(step, one)| Some((step, here(one)?)));
    found.unwrap_or((LAST, usize::MAX))
}

/// What a step is about.
pub(super) fn about(step: usize) -> &'static str {
    WAY.get(step).map_or("", |step| step.about)
}

/// Where somebody who has done this before begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Found {
    /// The first step that is not known; [`STEPS`] when all are.
    begin: usize,
}

impl fmt::Display for Found {
    /// A sentence.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.begin {
            0 => write!(f, "We begin at the beginning, with {}.", about(0)),
            STEPS => write!(f, "You know the way as far as {}; we go on with what is left.", about(LAST)),
            step => write!(f, "You know {}; we begin with {}.", about(step - 1), about(step)),
        }
    }
}

/// The last step that is open to a learner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OpenStep {
    step: usize,
}

impl fmt::Display for OpenStep {
    /// To stand in a line: `step 2 of 6, turns and back bearings`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "step {} of {STEPS}, {}", self.step + 1, about(self.step))
    }
}

/// The search for it: problems of few skills, the middle one first, until in each that was tried two answers were right or two
/// were wrong, or eight were given. It is a function of what is believed, so that it goes on after a break.
struct Search {
    begin: usize,
    /// The problem that comes next.
    probe: Option<(usize, Level)>,
    asked: u32,
}

impl Search {
    fn of(beliefs: &Beliefs, wanted: &Wanted) -> Search {
        let probes = WAY.iter().enumerate().filter_map(|(step, one)| {
            let at = beliefs.find(one.probe.0).filter(|&at| wanted.allows(at))?;
            Some((step, at, one.probe.1))
        });
        let probes: Vec<(usize, usize, Level)> = probes.collect();
        let (mut low, mut high, mut probe, mut asked) = (0, probes.len(), None, 0);
        while low < high {
            let middle = (low + high - 1) / 2;
            let (_, at, level) = probes[middle];
            // Only what decided counts: somebody who drilled one of these skills for a month has answered it often.
            let (first, took) = beliefs.entries[at].belief.first_to(c::PLACING_SAME);
            asked += took;
            match first {
                Some(true) => low = middle + 1,
                Some(false) => high = middle,
                None => {
                    probe = (asked < c::PLACING_MOST).then_some((at, level));
                    break;
                }
            }
        }
        // What was not decided is not known.
        let begin = low.checked_sub(1).map_or(0, |known| probes[known].0 + 1);
        Search { begin, probe, asked }
    }
}

/// Where a learner stands on the way.
pub(super) struct Way<'a> {
    beliefs: &'a Beliefs,
    wanted: &'a Wanted,
    /// The first step that is not taken for known.
    begin: usize,
    /// The last step that is open.
    open: usize,
    probe: Option<(usize, Level)>,
}

impl<'a> Way<'a> {
    pub fn of(beliefs: &'a Beliefs, wanted: &'a Wanted) -> Way<'a> {
        let (begin, probe) = match beliefs.placement() {
            Placement::Fresh => (0, None),
            Placement::DoneBefore => {
                let search = Search::of(beliefs, wanted);
                (search.begin, search.probe)
            }
        };
        let mut way = Way { beliefs, wanted, begin, open: begin.min(LAST), probe };
        let came_right = wanted.places().filter(|&at| way.right(at) >= c::WAY_RIGHT).map(|at| way.step(at));
        way.open = came_right.fold(way.open, usize::max);
        while way.open < LAST && wanted.places().filter(|&at| way.step(at) == way.open).all(|at| way.holds(at)) {
            way.open += 1;
        }
        way
    }

    /// What was found of somebody who has done this before, when the search is over.
    pub fn found(beliefs: &Beliefs, wanted: &Wanted) -> Option<Found> {
        let search = Some(Search::of(beliefs, wanted)).filter(|_| beliefs.placement() == Placement::DoneBefore)?;
        (search.asked > 0 && search.probe.is_none()).then_some(Found { begin: search.begin })
    }

    /// The last step that is open.
    pub const fn open_step(&self) -> OpenStep {
        OpenStep { step: self.open }
    }

    /// The step of a skill, from 0.
    fn step(&self, at: usize) -> usize {
        place(self.beliefs.entries[at].meta.id).0
    }

    fn right(&self, at: usize) -> usize {
        self.beliefs.entries[at].belief.right_lately().times
    }

    /// Whether the step after this skill's may open, as far as it goes by this skill.
    fn holds(&self, at: usize) -> bool {
        let belief = &self.beliefs.entries[at].belief;
        belief.right_of_last(c::WAY_RIGHT_OF) >= c::WAY_RIGHT || belief.count() >= c::WAY_HOLDS_UP_MOST
    }

    /// Whether a skill is new: met, and not yet right twice.
    pub fn is_new(&self, at: usize, day: Date) -> bool {
        let belief = &self.beliefs.entries[at].belief;
        belief.count() > 0 && self.right(at) < c::WAY_RIGHT && belief.count_on(day) < c::WAY_IN_A_DAY
    }

    /// The level of a skill: the learner's own, but not far beyond what its step has taught. One that was reached elsewhere (in
    /// a drill, or before there was a way) stays.
    pub fn level(&self, at: usize) -> Level {
        let own = self.beliefs.entries[at].belief.level();
        let (step, index) = place(self.beliefs.entries[at].meta.id);
        let of_step = WAY[step].skills.get(index).map_or(Level::FOUR, |(_, level)| *level);
        let most = match self.open {
            LAST => Level::FOUR,
            open if open > step => of_step.max(Level::TWO),
            _ => of_step,
        };
        let reached = own > most.harder() && self.beliefs.placement() == Placement::Fresh;
        if reached { own } else { own.min(most) }
    }

    /// The next skill that was not met, of the steps that are open: first of those that are not taken for known.
    pub fn next_new(&self) -> Option<usize> {
        let key = |&at: &usize| {
            let (step, index) = place(self.beliefs.entries[at].meta.id);
            (step < self.begin.min(LAST), step, index, at)
        };
        let unmet = self.wanted.places().filter(|&at| self.beliefs.entries[at].belief.count() == 0);
        unmet.filter(|&at| self.step(at) <= self.open).min_by_key(key)
    }

    /// Whether a new skill may begin: none has just begun, and few are new. The very first may.
    fn may_begin(&self, met: bool, day: Date, recent: &Recent) -> bool {
        let lately = recent.lately(c::WAY_NEW_EVERY - 1);
        let began = |skill: &str| {
            let times = lately.clone().filter(|one| *one == skill).count();
            self.beliefs.skill(skill).is_some_and(|belief| belief.count() as usize <= times)
        };
        let new = self.wanted.places().filter(|&at| self.is_new(at, day)).count();
        let time_for_it = recent.len() >= c::WAY_NEW_EVERY - 1 && !lately.clone().any(began);
        !met || time_for_it && new < c::WAY_NEW_AT_A_TIME
    }

    /// What comes next; none when nothing may.
    pub fn pick(&self, day: Date, recent: &Recent) -> Option<Picked> {
        if let Some((at, level)) = self.probe {
            return Some(Picked::new(at, Reason::Placing).at_level(level));
        }
        let belief = |at: usize| &self.beliefs.entries[at].belief;
        let id = |at: usize| self.beliefs.entries[at].meta.id;
        let met: Vec<usize> = self.wanted.places().filter(|&at| belief(at).count() > 0).collect();
        let last = recent.last().and_then(|last| met.iter().copied().find(|&at| id(at) == last));
        // What has just gone wrong a second time is put right before anything else comes.
        if let Some(last) =
            last.filter(|&at| recent.wrong_in_a_row(id(at)).is_some_and(|(times, _)| times == c::EASIER_AFTER))
        {
            return Some(Picked::new(last, Reason::Practising));
        }
        let due = met.iter().copied().filter(|&at| self.is_new(at, day) && recent.ago(id(at)).is_none());
        if let Some(at) = due.min_by_key(|&at| belief(at).last_day()) {
            return Some(Picked::new(at, self.reason(at, day, recent)));
        }
        if let Some(at) = self.next_new().filter(|_| self.may_begin(!met.is_empty(), day, recent)) {
            return Some(Picked::new(at, Reason::OnTheWay { step: self.step(at) }));
        }
        let weight = |at: usize| {
            let gain = gain_at(self.beliefs, at, day, recent).total();
            if self.is_new(at, day) { c::WAY_NEW_WEIGHT * gain } else { gain }
        };
        let others = met.iter().copied().filter(|&at| met.len() == 1 || Some(at) != last);
        let best = others.map(|at| (at, weight(at))).reduce(|best, one| if one.1 > best.1 { one } else { best });
        best.map(|(at, _)| Picked::new(at, self.reason(at, day, recent)))
    }

    fn reason(&self, at: usize, day: Date, recent: &Recent) -> Reason {
        let gain = gain_at(self.beliefs, at, day, recent);
        match super::choose::reason(&self.beliefs.entries[at], &gain, day, false) {
            Reason::Practising if self.is_new(at, day) => Reason::StillNew,
            reason => reason,
        }
    }
}
