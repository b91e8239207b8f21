//! The filter: how likely each state is, and the three steps that move it. Numbers only; ids and days live elsewhere.
//!
//! What moves a belief, by name; the first three are here:
//!
//! - **weigh**: an answer makes the states likelier that would give it ([`Chances::weigh`]), and mix-ups are read then
//!   ([`super::belief`]);
//! - **learn**: an explanation turns some of what is not known into knowledge ([`Chances::learn`]);
//! - **forget**: with the days, some of what was known becomes rusty ([`Chances::forget`]);
//! - **half-life**: the first problem of a day tells how well the skill lasted, and so when to come back ([`super::belief`]);
//! - **carry over**: a class of mix-up that was seen in one skill is likelier in a skill not yet met ([`super::beliefs`]);
//! - **hints are no evidence**: an answer after one is recorded and moves nothing ([`super::evidence`]).

use super::constants::{FLOOR, PRIOR_KNOWN, PRIOR_MIXUPS, PRIOR_NOT_YET, Rates, Row};
use crate::numbers::real;

/// The most mix-ups of one skill that are told apart; exposure is kept as one bit each.
pub(super) const MIXUPS_MOST: usize = 64;

/// What was seen, with the mix-up as its place in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Seen {
    Right,
    Mixup(usize),
    Other,
}

/// How likely each state of one skill is; they sum to 1.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Chances {
    /// The learner has the skill.
    pub known: f64,
    /// The learner had it, and could not recall it now.
    pub rusty: f64,
    /// The learner does not have it yet, and works by no named mix-up.
    pub not_yet: f64,
    /// The learner works by this mix-up, in the order of the skill's list.
    pub mixups: Vec<f64>,
}

impl Chances {
    /// Before the first answer: `known` as given, the rest in the proportions of the prior, the mix-ups' part shared
    /// by weight. Without mix-ups, not yet takes their part.
    pub fn prior(known: f64, weights: &[f64]) -> Chances {
        let rest = (1.0 - known) / (1.0 - PRIOR_KNOWN);
        let (not_yet, mixups) = (PRIOR_NOT_YET * rest, PRIOR_MIXUPS * rest);
        let all: f64 = weights.iter().sum();
        if weights.is_empty() {
            return Chances { known, rusty: 0.0, not_yet: not_yet + mixups, mixups: Vec::new() };
        }
        Chances { known, rusty: 0.0, not_yet, mixups: weights.iter().map(|weight| mixups * weight / all).collect() }
    }

    /// What an explanation may still turn into knowledge: not yet and all mix-ups.
    pub fn unlearnt(&self) -> f64 {
        self.not_yet + self.mixups.iter().sum::<f64>()
    }

    /// Weigh: multiplies by how likely the answer is in each state, and normalises. Bit k of `exposed` says that the
    /// item exposes mix-up k.
    pub fn weigh(&mut self, rates: &Rates, exposed: u64, seen: Seen) {
        let seen = match seen {
            Seen::Mixup(k) if k >= self.mixups.len() || !bit(exposed, k) => Seen::Other,
            seen => seen,
        };
        let exposed_count = (0..self.mixups.len()).filter(|&k| bit(exposed, k)).count();
        let likely = |row: &Row| match seen {
            Seen::Right => row.right,
            Seen::Mixup(_) => row.shared / real(exposed_count),
            // An item that exposes nothing cannot show a mix-up: that part of the wrong answers is then among the others.
            Seen::Other if exposed_count == 0 => row.other + row.shared,
            Seen::Other => row.other,
        };
        self.known *= likely(&rates.known);
        self.rusty *= likely(&rates.rusty);
        self.not_yet *= likely(&rates.not_yet);
        for (k, chance) in self.mixups.iter_mut().enumerate() {
            *chance *= if bit(exposed, k) {
                likely(&rates.mixed_up) + if seen == Seen::Mixup(k) { rates.own } else { 0.0 }
            } else {
                likely(&rates.hidden)
            };
        }
        self.normalise();
    }

    /// Learn: the step after an explanation.
    pub fn learn(&mut self, rates: &Rates) {
        self.known += rates.learn * self.unlearnt() + rates.refresh * self.rusty;
        self.rusty *= 1.0 - rates.refresh;
        let spread = rates.spread * (1.0 - rates.learn) * self.unlearnt() / real(self.mixups.len() + 1);
        let keep = (1.0 - rates.learn) * (1.0 - rates.spread);
        self.not_yet = self.not_yet * keep + spread;
        for chance in &mut self.mixups {
            *chance = *chance * keep + spread;
        }
        if self.mixups.iter().any(|&chance| chance < rates.least) {
            for chance in &mut self.mixups {
                *chance = chance.max(rates.least);
            }
            self.normalise();
        }
    }

    /// Forget: of what was known, the part not recalled becomes rusty. `recall` is in 0 to 1.
    pub fn forget(&mut self, recall: f64) {
        let lost = self.known * (1.0 - recall);
        self.known -= lost;
        self.rusty += lost;
    }

    /// Makes the sum 1 and lifts what is (almost) impossible to the floor.
    pub fn normalise(&mut self) {
        let total = self.total();
        if !(total.is_finite() && total > 0.0) {
            // Cannot come from valid chances; the sane answer to nonsense is to know nothing.
            *self = Chances::prior(PRIOR_KNOWN, &vec![1.0; self.mixups.len()]);
            return;
        }
        let least = total * FLOOR;
        for chance in self.all_mut() {
            *chance = chance.max(least);
        }
        let total = self.total();
        for chance in self.all_mut() {
            *chance /= total;
        }
    }

    /// The sum, always added in the same order.
    pub fn total(&self) -> f64 {
        self.known + self.rusty + self.unlearnt()
    }

    fn all_mut(&mut self) -> impl Iterator<Item = &mut f64> {
        [&mut self.known, &mut self.rusty, &mut self.not_yet].into_iter().chain(&mut self.mixups)
    }
}

/// Whether bit `k` is set; places past the last bit are never set.
pub(super) fn bit(bits: u64, k: usize) -> bool {
    k < MIXUPS_MOST && bits >> k & 1 == 1
}
