//! What moving the bounds at one place does to a test, without walking through the whole test anew.

use super::bounds::Bounds;
use super::exact::Outcome;
use crate::numbers::real;

/// How somebody with a given chance of a right answer goes through a test.
pub(super) struct Flow {
    /// For `[asked][right]`, the chance to come there, before it is decided there.
    coming: Vec<Vec<f64>>,
    /// For each number asked, the chance to have been found ready earlier, and the problems asked on average up to it.
    before: Vec<Outcome>,
    /// For `[asked][right]`, what becomes of somebody who goes on from there.
    onward: Vec<Vec<Outcome>>,
}

const NOTHING: Outcome = Outcome { ready: 0.0, items: 0.0 };

impl Flow {
    /// Through a test by these bounds, with this chance of a right answer, 0 to 1.
    pub fn of(bounds: &Bounds, chance: f64) -> Flow {
        let cap = bounds.ready_at().len();
        let mut coming = vec![vec![1.0]];
        let mut before = vec![NOTHING];
        let mut sum = NOTHING;
        let mut going_on = vec![1.0];
        for asked in 1..=cap {
            sum.items += going_on.iter().sum::<f64>();
            before.push(sum);
            let mut here = vec![0.0; asked + 1];
            for (right, from) in going_on.iter().enumerate() {
                here[right] += from * (1.0 - chance);
                here[right + 1] += from * chance;
            }
            going_on = here.clone();
            let sides = sides(bounds, asked);
            for (right, at) in going_on.iter_mut().enumerate() {
                if real(right) >= sides.0 {
                    sum.ready += std::mem::take(at);
                } else if real(right) <= sides.1 {
                    *at = 0.0;
                }
            }
            coming.push(here);
        }
        let mut onward = vec![Vec::new(); cap + 1];
        onward[cap] = vec![NOTHING; cap + 1];
        for asked in (0..cap).rev() {
            let (ready, stop) = sides(bounds, asked + 1);
            let next = |right: usize| {
                if real(right) >= ready {
                    Outcome { ready: 1.0, items: 0.0 }
                } else if real(right) <= stop {
                    NOTHING
                } else {
                    onward[asked + 1][right]
                }
            };
            let from = |right: usize| {
                let (wrong, right) = (next(right), next(right + 1));
                Outcome {
                    ready: (1.0 - chance) * wrong.ready + chance * right.ready,
                    items: 1.0 + (1.0 - chance) * wrong.items + chance * right.items,
                }
            };
            onward[asked] = (0..=asked).map(from).collect();
        }
        Flow { coming, before, onward }
    }

    /// The outcome when the bounds after `asked` problems, 1 up to the cap, are these instead.
    pub fn with(&self, asked: usize, ready: Option<u8>, stop: Option<u8>) -> Outcome {
        let (ready, stop) = (ready.map_or(f64::INFINITY, f64::from), stop.map_or(f64::NEG_INFINITY, f64::from));
        let mut all = self.before[asked];
        for (right, (here, onward)) in self.coming[asked].iter().zip(&self.onward[asked]).enumerate() {
            if real(right) >= ready {
                all.ready += here;
            } else if real(right) > stop {
                all.ready += here * onward.ready;
                all.items += here * onward.items;
            }
        }
        all
    }
}

/// *Ready* from so many right on, *stop* up to so many, after so many problems.
fn sides(bounds: &Bounds, asked: usize) -> (f64, f64) {
    let at = asked - 1;
    let (ready, stop) = (bounds.ready_at()[at], bounds.stop_at()[at]);
    (ready.map_or(f64::INFINITY, f64::from), stop.map_or(f64::NEG_INFINITY, f64::from))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learner::readiness::ReadinessPlan;
    use crate::learner::readiness::search::{moved, moves};

    #[test]
    fn what_a_moved_bound_does_is_what_the_whole_test_with_it_does() {
        let plan = ReadinessPlan::two_tries();
        let mut compared = 0;
        for one in moves(plan.bounds()).into_iter().filter_map(|change| moved(plan.bounds(), change)) {
            for chance in [0.05, 0.6, 0.9, 1.0] {
                let flow = Flow::of(&one, chance);
                for (at, ready, stop) in moves(&one) {
                    let Some(bounds) = moved(&one, (at, ready, stop)) else { continue };
                    let (quick, exact) = (flow.with(at + 1, ready, stop), bounds.outcome(chance));
                    let near = |one: f64, other: f64| (one - other).abs() < 1e-12;
                    assert!(near(quick.ready, exact.ready) && near(quick.items, exact.items), "{quick:?} {exact:?}");
                    compared += 1;
                }
            }
        }
        assert!(compared > 5_000, "{compared}");
    }
}
