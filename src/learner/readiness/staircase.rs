//! Any bounds that keep the errors under a cap, or the proof that there are none.
//!
//! Every test by [`Bounds`] with cap n decides each order of answers like one of these, for some final cut c from 1 to n:
//! *ready* at u right, *stop* at v wrong, where u and v begin at 1, grow by 0 or 1 with each problem, and end at c and
//! n + 1 − c at most. For:
//! - a bound that overrules the final cut on the wrong side (*stop* at c right or more, *ready* where c is out of reach)
//!   leaves only places that the cut treats alike, so the cut can be moved beyond it;
//! - then *ready* at c right and *stop* where c is out of reach change nothing;
//! - a place whose two next places are both *ready* (*stop*) may as well be so itself, so u and v never fall;
//! - only places that can be reached count, and the highest of them has u right, the lowest v wrong.
//!
//! So each problem offers two choices at the top and two at the bottom. They are walked through depth first. A branch is
//! left when even the best end of it, priced backward as in a Bayes test, breaks the errors; or when it hardly differs from
//! one that was walked through in vain by a wider margin than the difference can make good.

use super::bounds::Bounds;
use super::search::{Goal, KEPT_SLACK, PROOF_SLACK, Weights};
use crate::numbers;
use std::collections::HashMap;

/// What a look for bounds comes to.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Found {
    /// These keep the errors.
    Bounds(Bounds),
    /// It is proven that none do.
    None,
    /// The work allowed was used up before either was known.
    Unknown,
}

/// Prices of a wrong *ready* in wrong *stops*: so many steps of the likelihood ratio from the one at the cut.
const STEPS: [f64; 9] = [0.0, -0.5, 0.5, -1.0, 1.0, -1.5, 1.5, -2.5, 2.5];
type Prices = [f64; STEPS.len()];

/// How many earlier branches a new one is compared with.
const BRANCHES_COMPARED: usize = 8;

/// Looks for bounds; `work` is the most places of the walk, for each cut.
pub(super) fn look(goal: &Goal, cap: u8, work: u32) -> Found {
    let weights = Weights::new(goal, cap);
    let mut all_walked = true;
    for cut in 1..=usize::from(cap) {
        let (mut walk, start) = Walk::new(goal, &weights, cut, work);
        if walk.over(&start) > PROOF_SLACK {
            continue;
        }
        match walk.on(0, (1, 1), &[1.0], &start) {
            Some(End::Kept) => match walk.bounds().filter(|bounds| goal.length(bounds).is_some()) {
                Some(bounds) => return Found::Bounds(bounds),
                None => all_walked = false,
            },
            Some(End::Broken(_)) => {}
            None => all_walked = false,
        }
    }
    if all_walked { Found::None } else { Found::Unknown }
}

/// Where a branch ends.
#[derive(Clone, Copy)]
enum End {
    Kept,
    /// In all of its ends one of the errors is broken by so much at least.
    Broken(f64),
}

/// What has been decided so far.
#[derive(Clone, Copy)]
struct Spent {
    /// Price by price, what may still be wasted beside the best test at that price.
    slack: Prices,
    /// The chance of a wrong *ready* so far, and of a wrong *stop*.
    ready: f64,
    stop: f64,
}

/// A branch that was walked through in vain.
struct Vain {
    /// Orders of answers that lead to each place on the way, from the lowest.
    here: Box<[f64]>,
    ready: f64,
    stop: f64,
    margin: f64,
}

struct Walk<'a> {
    goal: &'a Goal,
    weights: &'a Weights,
    cap: usize,
    cut: usize,
    prices: Prices,
    /// For `[asked][right]` and each price, what *ready* (*stop*) wastes there per order of answers.
    ready_waste: Vec<Vec<Prices>>,
    stop_waste: Vec<Vec<Prices>>,
    work: u32,
    vain: HashMap<(usize, usize, usize), Vec<Vain>>,
    /// u and v for 1, 2, … asked.
    stairs: Vec<(usize, usize)>,
}

impl<'a> Walk<'a> {
    fn new(goal: &'a Goal, weights: &'a Weights, cut: usize, work: u32) -> (Walk<'a>, Spent) {
        let cap = weights.cap();
        let (of_right, of_wrong) = ((goal.p1 / goal.p0).ln(), ((1.0 - goal.p1) / (1.0 - goal.p0)).ln());
        let number = |count: usize| f64::from(u8::try_from(count).unwrap_or(u8::MAX));
        let at_cut = number(cut) * of_right + number(cap - cut) * of_wrong;
        // Any price proves; it only has to stay a number.
        let prices = STEPS.map(|step| (at_cut + step * (of_right - of_wrong)).clamp(-25.0, 25.0).exp());
        let mut ready_waste: Vec<Vec<Prices>> = (0..=cap).map(|asked| vec![[0.0; STEPS.len()]; asked + 1]).collect();
        let mut stop_waste = ready_waste.clone();
        let mut slack = [0.0; STEPS.len()];
        for (which, price) in prices.iter().enumerate() {
            let mut after: Vec<f64> = Vec::new();
            for asked in (0..=cap).rev() {
                let mut now = Vec::with_capacity(asked + 1);
                for right in 0..=asked {
                    let (weak, stop) = weights.at(asked, right);
                    let ready = price * weak;
                    let best = if right >= cut {
                        ready
                    } else if asked - right > cap - cut {
                        stop
                    } else {
                        ready.min(stop).min(after[right] + after[right + 1])
                    };
                    ready_waste[asked][right][which] = (ready - best).max(0.0);
                    stop_waste[asked][right][which] = (stop - best).max(0.0);
                    now.push(best);
                }
                after = now;
            }
            slack[which] = price * goal.alpha + goal.beta - after[0];
        }
        let stairs = Vec::with_capacity(cap);
        let vain = HashMap::new();
        let walk = Walk { goal, weights, cap, cut, prices, ready_waste, stop_waste, work, vain, stairs };
        (walk, Spent { slack, ready: 0.0, stop: 0.0 })
    }

    /// By how much one of the errors is broken at least, whatever follows; not above 0 when that is not known.
    fn over(&self, spent: &Spent) -> f64 {
        let errors = (spent.ready - self.goal.alpha).max(spent.stop - self.goal.beta);
        // A weighted mean of the two is never more than the larger.
        let priced = spent.slack.iter().zip(&self.prices).map(|(slack, price)| -slack / (1.0 + price));
        priced.fold(errors, f64::max)
    }

    /// Goes on from here: `here` are the orders that lead to each place on the way, from the lowest. `None` when the work
    /// is used up.
    fn on(&mut self, asked: usize, (ready, wrong): (usize, usize), here: &[f64], spent: &Spent) -> Option<End> {
        if here.is_empty() {
            let over = (spent.ready - self.goal.alpha).max(spent.stop - self.goal.beta);
            return Some(if over <= KEPT_SLACK { End::Kept } else { End::Broken(over) });
        }
        let lowest = asked + 1 - wrong;
        if let Some(margin) = self.known(asked, (ready, wrong), here, spent) {
            return Some(End::Broken(margin));
        }
        self.work = self.work.checked_sub(1)?;
        let before = self.work;
        let mut next = vec![0.0; here.len() + 1];
        for (at, orders) in here.iter().enumerate() {
            next[at] += orders;
            next[at + 1] += orders;
        }
        let mut margin = f64::INFINITY;
        let mut ways = Vec::with_capacity(4);
        for (is_ready, is_stop) in [(false, false), (false, true), (true, false), (true, true)] {
            // At the cut and where it is out of reach there is no choice.
            if (!is_ready && ready == self.cut) || (!is_stop && wrong == self.cap + 1 - self.cut) {
                continue;
            }
            let mut then = *spent;
            if is_ready {
                let orders = next[here.len()];
                then.ready += orders * self.weights.at(asked + 1, ready).0;
                waste(&mut then.slack, orders, &self.ready_waste[asked + 1][ready]);
            }
            if is_stop {
                then.stop += next[0] * self.weights.at(asked + 1, lowest).1;
                waste(&mut then.slack, next[0], &self.stop_waste[asked + 1][lowest]);
            }
            let over = self.over(&then);
            if over > PROOF_SLACK {
                margin = margin.min(over);
            } else {
                ways.push((over, is_ready, is_stop, then));
            }
        }
        // What wastes least first.
        numbers::arrange(&mut ways, |one, other| one.0.total_cmp(&other.0));
        for (_, is_ready, is_stop, then) in ways {
            let stairs = (ready + usize::from(!is_ready), wrong + usize::from(!is_stop));
            let left = &next[usize::from(is_stop)..next.len() - usize::from(is_ready)];
            self.stairs.push(stairs);
            match self.on(asked + 1, stairs, left, &then)? {
                End::Kept => return Some(End::Kept),
                End::Broken(by) => margin = margin.min(by),
            }
            self.stairs.pop();
        }
        // Small branches are walked again as fast as they are compared.
        if before - self.work > 4 && margin > PROOF_SLACK {
            let one = Vain { here: here.into(), ready: spent.ready, stop: spent.stop, margin };
            self.vain.entry((asked, ready, wrong)).or_default().push(one);
        }
        Some(End::Broken(margin))
    }

    /// The margin by which this is in vain, when an earlier branch shows it.
    ///
    /// The same further bounds give errors here and there that differ by what was decided before and by the orders that are
    /// missing here, each of which may have been decided wrongly there.
    fn known(&self, asked: usize, (ready, wrong): (usize, usize), here: &[f64], spent: &Spent) -> Option<f64> {
        let earlier = self.vain.get(&(asked, ready, wrong))?;
        earlier.iter().rev().take(BRANCHES_COMPARED).find_map(|one| {
            let (mut less_ready, mut less_stop) = (one.ready - spent.ready, one.stop - spent.stop);
            for (at, (there, here)) in one.here.iter().zip(here).enumerate() {
                let (weak, strong) = self.weights.at(asked, asked + 1 - wrong + at);
                let missing = (there - here).max(0.0);
                less_ready += missing * weak;
                less_stop += missing * strong;
            }
            let margin = one.margin - less_ready.max(less_stop).max(0.0);
            (margin > PROOF_SLACK).then_some(margin)
        })
    }

    /// The bounds of the stairs walked.
    fn bounds(&self) -> Option<Bounds> {
        let number = |count: usize| u8::try_from(count).ok();
        let (mut ready_at, mut stop_at) = (Vec::new(), Vec::new());
        for (at, (ready, wrong)) in self.stairs.iter().enumerate() {
            let asked = at + 1;
            ready_at.push(Some(*ready).filter(|ready| *ready <= asked).and_then(number));
            stop_at.push(asked.checked_sub(*wrong).and_then(number));
        }
        Bounds::new(ready_at, stop_at)
    }
}

fn waste(slack: &mut Prices, orders: f64, per_order: &Prices) {
    for (slack, waste) in slack.iter_mut().zip(per_order) {
        *slack -= orders * waste;
    }
}
