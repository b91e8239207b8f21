//! Finding bounds: the shortest test, on average of the two chances, within given errors and a cap.
//!
//! For given prices of the two errors the best bounds follow exactly, backward from the cap (a Bayes test). So a grid over
//! prices replaces one over Wald's intercepts; what the grid leaves of the allowed errors is used up by moving single
//! bounds while the test gets shorter.

use super::bounds::Bounds;
use super::flow::Flow;
use super::lemma::out_of_reach;
use super::staircase::{Found, look};

/// How finely prices are tried: each of the two errors costs between these powers of e, in problems.
const LOWEST_LOG_PRICE: f64 = 0.0;
const HIGHEST_LOG_PRICE: f64 = 9.0;
const PRICES: u32 = 64;

/// The most places of the walk that looks for any bounds, for each cut: some milliseconds.
const MOST_PLACES: u32 = 1000;

/// By how much a test must be shorter to be taken instead, in problems; rounding is far less.
const SHORTER: f64 = 1e-9;

/// An error counts as kept up to this much beyond what is allowed.
pub(super) const KEPT_SLACK: f64 = 1e-12;
/// What is proven to be broken is broken by more than this, so that rounding (some 1e-14 here) never proves anything.
pub(super) const PROOF_SLACK: f64 = 2.0 * KEPT_SLACK;

/// What is searched for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Goal {
    pub p0: f64,
    pub p1: f64,
    /// The most of each error in one try.
    pub alpha: f64,
    pub beta: f64,
}

impl Goal {
    /// The mean of the expected lengths at both chances, when the errors are kept.
    pub fn length(&self, bounds: &Bounds) -> Option<f64> {
        let (weak, strong) = (bounds.outcome(self.p0), bounds.outcome(self.p1));
        let kept = weak.ready <= self.alpha + KEPT_SLACK && 1.0 - strong.ready <= self.beta + KEPT_SLACK;
        kept.then_some((weak.items + strong.items) / 2.0)
    }

    /// The shortest bounds found under a cap.
    ///
    /// That there are none is proven, and where bounds are found they are found under every higher cap.
    pub fn search(&self, cap: u8) -> Found {
        let any = match self.any(cap) {
            // What is found with fewer problems is found with more.
            Found::Unknown => (1..cap)
                .rev()
                .map(|fewer| self.any(fewer))
                .find(|found| *found != Found::Unknown)
                .filter(|found| *found != Found::None)
                .unwrap_or(Found::Unknown),
            known => known,
        };
        let Found::Bounds(any) = any else { return any };
        let shortest = self.priced(cap).min_by(|(one, _), (other, _)| one.total_cmp(other));
        match shortest.or_else(|| Some((self.length(&any)?, any))) {
            Some((length, bounds)) => Found::Bounds(self.shortened(length, bounds)),
            None => Found::Unknown,
        }
    }

    /// Any bounds under a cap, with some effort.
    pub fn any(&self, cap: u8) -> Found {
        if out_of_reach(self, cap) {
            return Found::None;
        }
        match look(self, cap, MOST_PLACES) {
            Found::Unknown => {
                let bounds = self.at_the_end(cap).or_else(|| self.priced(cap).next());
                bounds.map_or(Found::Unknown, |(_, bounds)| Found::Bounds(bounds))
            }
            known => known,
        }
    }

    /// The best bounds for each pair of prices, with their length, as far as they keep the errors.
    fn priced(&self, cap: u8) -> impl Iterator<Item = (f64, Bounds)> {
        let price = |step: u32| {
            (LOWEST_LOG_PRICE + (HIGHEST_LOG_PRICE - LOWEST_LOG_PRICE) * f64::from(step) / f64::from(PRICES - 1)).exp()
        };
        let weights = Weights::new(self, cap);
        (0..PRICES * PRICES).filter_map(move |both| {
            let bounds = weights.bayes(price(both / PRICES), price(both % PRICES))?;
            Some((self.length(&bounds)?, bounds))
        })
    }

    /// No early end at all: decides by one cut after the last problem.
    fn at_the_end(&self, cap: u8) -> Option<(f64, Bounds)> {
        (1..=cap).find_map(|cut| {
            let mut ready = vec![None; usize::from(cap)];
            let mut stop = ready.clone();
            (*ready.last_mut()?, *stop.last_mut()?) = (Some(cut), Some(cut - 1));
            let bounds = Bounds::new(ready, stop)?;
            Some((self.length(&bounds)?, bounds))
        })
    }

    /// Moves single bounds, and pairs of them, as long as that makes the test shorter within the errors.
    fn shortened(&self, mut length: f64, mut bounds: Bounds) -> Bounds {
        loop {
            let mut better = None;
            let mut take = |candidate: Bounds, length: &mut f64| {
                if let Some(shorter) = self.length(&candidate).filter(|shorter| *shorter < *length - SHORTER) {
                    *length = shorter;
                    better = Some(candidate);
                }
            };
            for one in moves(&bounds).into_iter().filter_map(|change| moved(&bounds, change)) {
                let (weak, strong) = (Flow::of(&one, self.p0), Flow::of(&one, self.p1));
                take(one.clone(), &mut length);
                for (at, ready, stop) in moves(&one) {
                    // Nearly all come to nothing, and that is seen at once; only the others are gone through.
                    let (weak, strong) = (weak.with(at + 1, ready, stop), strong.with(at + 1, ready, stop));
                    let kept = weak.ready <= self.alpha + SHORTER && 1.0 - strong.ready <= self.beta + SHORTER;
                    if kept && f64::midpoint(weak.items, strong.items) < length - SHORTER / 2.0 {
                        moved(&one, (at, ready, stop)).into_iter().for_each(|both| take(both, &mut length));
                    }
                }
            }
            match better {
                Some(found) => bounds = found,
                None => return bounds,
            }
        }
    }
}

/// The chance of each single order of answers.
pub(super) struct Weights {
    /// For `[asked][right]`, with p0 and with p1.
    both: Vec<Vec<(f64, f64)>>,
}

impl Weights {
    /// Up to a cap.
    pub fn new(goal: &Goal, cap: u8) -> Weights {
        let row = |asked: u8| {
            (0..=asked)
                .map(|right| {
                    let (right, wrong) = (i32::from(right), i32::from(asked - right));
                    let chance = |p: f64| p.powi(right) * (1.0 - p).powi(wrong);
                    (chance(goal.p0), chance(goal.p1))
                })
                .collect()
        };
        Weights { both: (0..=cap).map(row).collect() }
    }

    /// The most problems.
    pub fn cap(&self) -> usize {
        self.both.len() - 1
    }

    /// With p0 and with p1.
    pub fn at(&self, asked: usize, right: usize) -> (f64, f64) {
        self.both[asked][right]
    }

    /// The best bounds when a wrong *ready* and a wrong *stop* cost so many problems each.
    fn bayes(&self, wrong_ready: f64, wrong_stop: f64) -> Option<Bounds> {
        let cap = self.cap();
        // What is still to be paid from each place on, per path that leads there.
        let mut after = vec![0.0; cap + 2];
        let (mut ready_at, mut stop_at) = (vec![None; cap], vec![None; cap]);
        for asked in (0..=cap).rev() {
            let mut now = vec![0.0; asked + 1];
            for right in 0..=asked {
                let (weak, strong) = self.at(asked, right);
                let (ready, stop) = (wrong_ready * weak, wrong_stop * strong);
                let go_on = if asked == cap {
                    f64::INFINITY
                } else {
                    f64::midpoint(weak, strong) + after[right] + after[right + 1]
                };
                now[right] = ready.min(stop).min(go_on);
                let Some(at) = asked.checked_sub(1) else { continue };
                let number = u8::try_from(right).ok()?;
                if ready <= stop && ready <= go_on {
                    ready_at[at] = ready_at[at].or(Some(number));
                } else if stop < ready && stop <= go_on {
                    stop_at[at] = Some(number);
                }
            }
            after = now;
            after.push(0.0);
        }
        Bounds::new(ready_at, stop_at)
    }
}

/// The bounds of a place as they are to be: the place, counted from 0, *ready* and *stop* there.
type Change = (usize, Option<u8>, Option<u8>);

/// Every way to move one of the bounds by one.
pub(super) fn moves(bounds: &Bounds) -> Vec<Change> {
    let mut all = Vec::with_capacity(bounds.ready_at().len() * 4);
    let last = bounds.ready_at().len() - 1;
    for (at, (ready, stop)) in bounds.ready_at().iter().copied().zip(bounds.stop_at().iter().copied()).enumerate() {
        let asked = u8::try_from(at + 1).unwrap_or(u8::MAX);
        let mut push = |ready: Option<u8>, stop: Option<u8>| all.push((at, ready, stop));
        if at == last {
            // The last problem decides in any case: only the cut moves.
            if let (Some(ready), Some(stop)) = (ready, stop) {
                push(Some(ready + 1), Some(stop + 1));
                if let Some(lower) = stop.checked_sub(1) {
                    push(Some(ready - 1), Some(lower));
                }
            }
            continue;
        }
        push(ready.map_or(Some(asked), |ready| ready.checked_sub(1)), stop);
        push(ready.and_then(|ready| (ready < asked).then_some(ready + 1)), stop);
        push(ready, stop.map_or(Some(0), |stop| Some(stop + 1)));
        push(ready, stop.and_then(|stop| stop.checked_sub(1)));
    }
    all
}

/// The bounds with this change; none where they do not belong together any more.
pub(super) fn moved(bounds: &Bounds, (at, ready, stop): Change) -> Option<Bounds> {
    let (mut ready_at, mut stop_at) = (bounds.ready_at().to_vec(), bounds.stop_at().to_vec());
    (ready_at[at], stop_at[at]) = (ready, stop);
    Bounds::new(ready_at, stop_at)
}
