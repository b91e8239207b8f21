//! The trial: before the first problem of a check at the map table another one comes that does not count, so that nobody loses a
//! check to keys that were never tried.
//!
//! It is nowhere recorded and nothing is told of it, right or wrong: it is there for the hands. It comes once a check, whoever is checked: what
//! somebody has done at another laptop, or half a year ago, nobody knows here, and a key leaves it.

use super::{Check, Line};
use crate::problem::{Draw, Facts, Problem};
use crate::session::asked::{Asked, Support};
use crate::session::next::{Fit, Wish, draw_problem};
use jiff::Timestamp;

/// Said above a trial.
pub const TRIAL: &str = "This one is for trying the keys; it does not count.";

/// Said behind it.
pub const TRIAL_OVER: &str = "That was the trial. From here on it counts.";

/// What a trial must be like: at the table, and none of the check's problems.
struct TrialWish<'a> {
    used: &'a [Facts],
    comes: &'a Facts,
}

impl Wish for TrialWish<'_> {
    const TRIES: u32 = 64;

    fn fit(&self, problem: &Problem, _tried: u32) -> Fit {
        if problem.table().is_none() || problem.facts() == self.comes {
            Fit::Never
        } else if self.used.contains(problem.facts()) {
            Fit::IfNothingElse(0)
        } else {
            Fit::Wanted(0)
        }
    }
}

/// The trial before a problem at the table; none where the skill has no other one.
pub(super) fn before(problem: &Problem, line: &Line, seed: u64) -> Option<Asked> {
    let wish = TrialWish { used: &line.used, comes: problem.facts() };
    // Of its own draw: the check's problems do not depend on it.
    let mut draw = Draw::new("trial", line.level.number(), 0, seed);
    let trial = draw_problem(line.skill, line.level, &wish, &mut draw)?;
    Some(Asked::new(0, trial, String::new(), Support::Bare))
}

impl Check {
    /// The trial that comes before the problem being asked.
    #[must_use]
    pub const fn trial(&self) -> Option<&Asked> {
        self.trial.as_ref()
    }

    /// The trial is over, done or left: now the problem is asked. The time for it begins here.
    pub fn trial_over(&mut self, now: Timestamp) {
        if self.trial.take().is_some() {
            (self.tried, self.asked_at) = (true, now);
        }
    }
}
