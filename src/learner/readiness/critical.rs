//! What the rule about critical mix-ups does to a plan: simulated, since it depends on which mix-ups somebody makes.

use super::{Answered, Next, Progress, Rules, clopper_pearson};
use crate::problem::Draw;
use jiff::civil::{Date, date};

/// Checks that are simulated.
const SIMULATED_CHECKS: u32 = 20_000;
const FIRST_DAY: Date = date(2026, 1, 1);

/// How many of the simulated checks ended without *ready*.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Missed {
    /// Not found ready.
    pub missed: u32,
    /// Of so many.
    pub of: u32,
    /// The 95 % interval of the chance.
    pub interval: (f64, f64),
}

impl Rules {
    /// Simulates checks of somebody who answers right with chance `p`, and of whose wrong answers this share, 0 to 1, is one
    /// and the same critical mix-up. The same figures come out each time.
    #[must_use]
    pub fn missed_with_critical(&self, p: f64, share: f64) -> Missed {
        let mut draw = Draw::new("critical", 0, 0, 1);
        #[expect(clippy::cast_precision_loss, reason = "an f64 holds 53 bits")]
        let mut chance = |p: f64| (draw.raw() >> 11) as f64 / (1_u64 << 53) as f64 <= p;
        let mut missed = 0;
        for _ in 0..SIMULATED_CHECKS {
            let mut progress = Progress::default();
            let mut day = FIRST_DAY;
            let ready = loop {
                match progress.next(self, day) {
                    Next::Ask(_) => {
                        let right = chance(p);
                        let critical = (!right && chance(share)).then_some("critical");
                        progress.answer(self, Answered { day, day_given: false, right, critical });
                    }
                    Next::AnotherDay(_) => day = day.tomorrow().unwrap_or(Date::MAX),
                    Next::Ready(_) => break true,
                    Next::NotYet(_) => break false,
                }
            };
            missed += u32::from(!ready);
        }
        Missed { missed, of: SIMULATED_CHECKS, interval: clopper_pearson(missed, SIMULATED_CHECKS, 0.95) }
    }
}

#[cfg(test)]
mod tests {
    use super::super::ReadinessPlan;
    use super::*;

    fn rules() -> Rules {
        let critical = Rules::CRITICAL.map(str::to_owned).to_vec();
        Rules { plan: ReadinessPlan::two_tries(), wait_days: 14, valid_days: 180, critical }
    }

    #[test]
    fn without_critical_mix_ups_the_simulation_agrees_with_the_exact_rate() {
        let simulated = rules().missed_with_critical(0.9, 0.0);
        let exact = rules().plan.beta();
        assert!(simulated.interval.0 <= exact && exact <= simulated.interval.1, "{exact} beside {simulated:?}");
    }

    #[test]
    fn the_rule_can_only_make_it_harder_to_be_found_ready() {
        let rules = rules();
        let [none, third, all] = [0.0, 1.0 / 3.0, 1.0].map(|share| rules.missed_with_critical(0.9, share).missed);
        assert!(none <= third && third <= all, "{none} {third} {all}");
        let strict = rules.missed_with_critical(0.6, 1.0);
        assert!(f64::from(strict.of - strict.missed) / f64::from(strict.of) < rules.plan.alpha());
    }
}
