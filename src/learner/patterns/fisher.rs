//! Fisher's exact test of a table of two by two.

use super::Tally;
use crate::numbers::real;

/// Tables as likely as the one seen may come out a little more likely by rounding; the reach of R's `fisher.test`.
const ROUNDING: f64 = 1e-7;

/// Two-sided p, 0 to 1: how likely, were the two rates the same, a table with these margins would be that is as unlikely as
/// this one or more so (R. A. Fisher, "The logic of inductive inference", 1935; two-sided as in R). 1 where a margin is 0.
/// `times` must not exceed `of`.
pub(super) fn fisher(one: Tally, other: Tally) -> f64 {
    let all = one.of + other.of;
    let times = one.times + other.times;
    let ln = ln_factorials(all);
    let ln_ways = |of: usize, times: usize| ln[of] - ln[times] - ln[of - times];
    let chance = |here: usize| (ln_ways(one.of, here) + ln_ways(other.of, times - here) - ln_ways(all, times)).exp();
    let seen = chance(one.times) * (1.0 + ROUNDING);
    let possible = times.saturating_sub(other.of)..=times.min(one.of);
    possible.map(chance).filter(|chance| *chance <= seen).sum::<f64>().min(1.0)
}

/// ln 0!, ln 1!, … ln `most`!
fn ln_factorials(most: usize) -> Vec<f64> {
    let mut sum = 0.0;
    let mut ln = Vec::with_capacity(most + 1);
    ln.push(sum);
    for number in 1..=most {
        sum += real(number).ln();
        ln.push(sum);
    }
    ln
}
