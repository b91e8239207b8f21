//! Plans: what is asked of a check, what it then really does.

use super::bounds::Bounds;
use super::search::Goal;
use super::staircase::Found;

/// The most problems of a try that can be planned.
const MOST_PROBLEMS: u8 = 60;

/// What a plan is asked to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish {
    /// The chance of a right answer of somebody who is not ready.
    pub p0: f64,
    /// The chance of a right answer of somebody who is.
    pub p1: f64,
    /// The most chance that somebody with `p0` is found ready, over all tries.
    pub alpha: f64,
    /// The most chance that somebody with `p1` is not, over all tries.
    pub beta: f64,
    /// The most problems of one try, 1 to 60.
    pub cap: u8,
    /// How many tries there are at most, on different days, 1 to 3.
    pub tries: u8,
}

impl Default for Wish {
    /// .60 against .90, .05 each, one try of 20 problems at most.
    fn default() -> Wish {
        Wish { p0: 0.6, p1: 0.9, alpha: 0.05, beta: 0.05, cap: 20, tries: 1 }
    }
}

impl Wish {
    /// Wishes near this one for which a plan is found with as many problems, each with one thing changed as little as will do: another
    /// number of tries, more error, chances further apart.
    #[must_use]
    pub fn near(&self) -> Vec<Wish> {
        let can_be = |wish: &Wish| {
            let sound = wish.p0 > 0.0 && wish.p0 < wish.p1 && wish.p1 < 1.0;
            sound && matches!(wish.goal().any(wish.cap), Found::Bounds(_))
        };
        let steps =
            |from: f64, by: f64| (1..=9).map(move |step| ((from + by * f64::from(step)) * 100.0).round() / 100.0);
        let more = self.alpha.max(self.beta);
        let mut tries = (1..=3).filter(|tries| *tries != self.tries).map(|tries| Wish { tries, ..*self });
        let errors = [0.06, 0.08, 0.1, 0.15, 0.2].into_iter().filter(|error| *error > more);
        let errors = errors.map(|error| Wish { alpha: error, beta: error, ..*self });
        let above = steps(self.p1, 0.02).filter(|p1| *p1 < 0.995).map(|p1| Wish { p1, ..*self });
        let below = steps(self.p0, -0.05).filter(|p0| *p0 > 0.005).map(|p0| Wish { p0, ..*self });
        let found = [
            tries.find(can_be),
            errors.into_iter().find(can_be),
            above.into_iter().find(can_be),
            below.into_iter().find(can_be),
        ];
        found.into_iter().flatten().collect()
    }

    /// What is asked of one try: passing in any of the tries by luck, and failing in all of them in spite of readiness.
    fn goal(&self) -> Goal {
        let each = 1.0 / f64::from(self.tries);
        Goal { p0: self.p0, p1: self.p1, alpha: 1.0 - (1.0 - self.alpha).powf(each), beta: self.beta.powf(each) }
    }
}

/// Why there is no such plan.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PlanError {
    /// The chances are not 0 < p0 < p1 < 1.
    #[error("p0 must be less than p1, both between 0 and 1; here p0 is {p0} and p1 is {p1}")]
    Chances {
        /// As asked.
        p0: f64,
        /// As asked.
        p1: f64,
    },
    /// An error rate is not between 0 and .5.
    #[error("{name} must be more than 0 and less than 0.5; here it is {value}")]
    Rate {
        /// `alpha` or `beta`.
        name: &'static str,
        /// As asked.
        value: f64,
    },
    /// The cap is not 1 to 60.
    #[error("a try has 1 to 60 problems; here the cap is {0}")]
    Cap(u8),
    /// The tries are not 1 to 3.
    #[error("there are 1 to 3 tries; here {0}")]
    Tries(u8),
    /// The errors cannot be kept within the cap; that is proven.
    #[error("{cap} problems are too few for these error rates; {}", match .enough {
        Some(enough) => format!("{enough} would do"),
        None if *cap == MOST_PROBLEMS => format!("more there cannot be: {APART}"),
        None => format!("{MOST_PROBLEMS} would not do either: {APART}"),
    })]
    TooFew {
        /// As asked.
        cap: u8,
        /// The smallest cap for which a plan is found. Whether a smaller one exists is not always known: of 532 usual wishes
        /// this was proven the smallest for 427, at most 3 too many for the others. With `None` it is proven that none up
        /// to 60 will do.
        enough: Option<u8>,
    },
    /// No plan is found within the cap, or none up to 60, but it is not proven that there is none.
    #[error("no plan with {cap} problems at most was found for these error rates; {}", match .enough {
        Some(enough) => format!("{enough} would do"),
        None if *cap == MOST_PROBLEMS => format!("more there cannot be: {APART}"),
        None => format!("nor one with {MOST_PROBLEMS}: {APART}"),
    })]
    NotFound {
        /// As asked.
        cap: u8,
        /// The smallest cap for which a plan is found.
        enough: Option<u8>,
    },
}

/// What helps where no number of problems will do.
const APART: &str = "let p0 and p1 lie further apart, or allow more error";

/// The refusal of a cap; `proven` when there is no plan, not only none found.
///
/// Caps are tried one by one: what is *found* within some effort need not grow with the cap, though what *exists* does.
fn refusal(cap: u8, proven: bool, goal: &Goal) -> PlanError {
    let enough = (cap + 1..=MOST_PROBLEMS).find(|more| matches!(goal.any(*more), Found::Bounds(_)));
    if proven && (enough.is_some() || goal.any(MOST_PROBLEMS) == Found::None) {
        PlanError::TooFew { cap, enough }
    } else {
        PlanError::NotFound { cap, enough }
    }
}

/// How readiness in one skill is decided.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadinessPlan {
    p0: f64,
    p1: f64,
    tries: u8,
    bounds: Bounds,
}

impl ReadinessPlan {
    /// The plan of the default standard: two tries of 3 to 19 problems. Its bounds are data, its figures are computed.
    #[cfg(test)]
    #[must_use]
    pub fn two_tries() -> ReadinessPlan {
        let cap = 19_u8;
        // Ready: 9 of 9, 12 of 13, 16 at 18 or 19. Stop, from the 3rd problem on: 2 wrong by 8, 3 at 9 and 10, 4 later.
        let ready = (1..=cap)
            .map(|asked| match asked {
                9 => Some(9),
                13 => Some(12),
                18 | 19 => Some(16),
                _ => None,
            })
            .collect();
        let stop = (1..=cap)
            .map(|asked| match asked {
                0..=2 => None,
                3..=8 => Some(asked - 2),
                9..=10 => Some(asked - 3),
                _ => Some(asked - 4),
            })
            .collect();
        ReadinessPlan { p0: 0.6, p1: 0.9, tries: 2, bounds: Bounds::known(ready, stop) }
    }

    /// Plans for a wish.
    ///
    /// # Errors
    /// [`PlanError`]; where the cap is too small, with the smallest found that would do.
    pub fn for_wish(wish: &Wish) -> Result<ReadinessPlan, PlanError> {
        let Wish { p0, p1, alpha, beta, cap, tries } = *wish;
        if !(p0 > 0.0 && p0 < p1 && p1 < 1.0) {
            return Err(PlanError::Chances { p0, p1 });
        }
        for (name, value) in [("alpha", alpha), ("beta", beta)] {
            if !(value > 0.0 && value < 0.5) {
                return Err(PlanError::Rate { name, value });
            }
        }
        if !(1..=MOST_PROBLEMS).contains(&cap) {
            return Err(PlanError::Cap(cap));
        }
        if !(1..=3).contains(&tries) {
            return Err(PlanError::Tries(tries));
        }
        let goal = wish.goal();
        match goal.search(cap) {
            Found::Bounds(bounds) => Ok(ReadinessPlan { p0, p1, tries, bounds }),
            Found::None => Err(refusal(cap, true, &goal)),
            Found::Unknown => Err(refusal(cap, false, &goal)),
        }
    }

    /// A plan of these bounds.
    #[must_use]
    pub const fn of_bounds(p0: f64, p1: f64, tries: u8, bounds: Bounds) -> ReadinessPlan {
        ReadinessPlan { p0, p1, tries, bounds }
    }

    /// The chance of a right answer of somebody who is not ready.
    #[must_use]
    pub const fn p0(&self) -> f64 {
        self.p0
    }

    /// The chance of a right answer of somebody who is ready.
    #[must_use]
    pub const fn p1(&self) -> f64 {
        self.p1
    }

    /// How many tries there are at most.
    #[must_use]
    pub const fn tries(&self) -> u8 {
        self.tries
    }

    /// The bounds of each try.
    #[must_use]
    pub const fn bounds(&self) -> &Bounds {
        &self.bounds
    }

    /// The chance that somebody with `p0` is found ready, over all tries.
    #[must_use]
    pub fn alpha(&self) -> f64 {
        self.bounds.outcome_of_tries(self.p0, self.tries).ready
    }

    /// The same where so many wrong answers of each try were annulled, the first try first; none in those that are not named.
    #[must_use]
    pub fn alpha_with_annulled(&self, annulled: &[u8]) -> f64 {
        let of_try = |at| annulled.get(usize::from(at)).copied().unwrap_or(0);
        let missed = |at| 1.0 - self.bounds.ready_with_annulled(self.p0, of_try(at));
        1.0 - (0..self.tries).map(missed).product::<f64>()
    }

    /// The chance that somebody with `p1` is not found ready, over all tries.
    #[must_use]
    pub fn beta(&self) -> f64 {
        1.0 - self.bounds.outcome_of_tries(self.p1, self.tries).ready
    }

    /// The chance that somebody with `p1` is found ready in one skill in their first try, and so on the first day; and in so
    /// many skills, each decided by itself. Critical mix-ups make it a little less.
    #[must_use]
    pub fn first_day(&self, skills: usize) -> (f64, f64) {
        let one = self.bounds.outcome(self.p1).ready;
        (one, one.powi(i32::try_from(skills).unwrap_or(i32::MAX)))
    }

    /// How many problems are asked on average, over all tries, of somebody with this chance of a right answer.
    #[must_use]
    pub fn expected_items(&self, chance: f64) -> f64 {
        self.bounds.outcome_of_tries(chance, self.tries).items
    }
}
