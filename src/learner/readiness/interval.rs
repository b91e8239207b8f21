//! Clopper and Pearson's interval: what a count says about a chance.

/// The interval of Clopper and Pearson (1934) for a chance, when `right` of `of` came out: it covers the true chance with at
/// least this confidence, 0 to 1. From the tails of the binomial, by halving; `(0, 1)` when nothing was counted.
///
/// It holds for a number of cases that was fixed beforehand: not for the answers of a check that stopped early.
#[must_use]
pub fn clopper_pearson(right: u32, of: u32, confidence: f64) -> (f64, f64) {
    let right = right.min(of);
    let tail = (1.0 - confidence.clamp(0.0, 1.0)) / 2.0;
    let low = if right == 0 { 0.0 } else { solve(|p| at_least(right, of, p) < tail) };
    let high = if right == of { 1.0 } else { solve(|p| 1.0 - at_least(right + 1, of, p) > tail) };
    (low, high)
}

/// The chance at which a condition that holds for small chances ceases to.
fn solve(holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// The chance of `right` or more of `of`, each with chance `p` strictly between 0 and 1.
fn at_least(right: u32, of: u32, p: f64) -> f64 {
    let odds = p / (1.0 - p);
    let mut log_term = f64::from(of) * (1.0 - p).ln();
    let mut sum = 0.0;
    for k in 0..=of {
        if k >= right {
            sum += log_term.exp();
        }
        if k < of {
            log_term += (f64::from(of - k) / f64::from(k + 1) * odds).ln();
        }
    }
    sum.min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Inputs from memory, numbers recomputed with scipy (`beta.ppf`).
    #[test]
    fn published_intervals_come_out_as_published() {
        for (right, of, low, high) in [(18, 20, 0.6830, 0.9877), (9, 10, 0.5550, 0.9975), (0, 10, 0.0, 0.3085)] {
            let (found_low, found_high) = clopper_pearson(right, of, 0.95);
            assert!(
                (found_low - low).abs() < 5e-5 && (found_high - high).abs() < 5e-5,
                "{right}/{of}: {found_low} {found_high}"
            );
        }
        assert_eq!(clopper_pearson(0, 0, 0.95), (0.0, 1.0));
    }

    #[test]
    fn turned_round_it_is_the_interval_of_the_wrong_ones() {
        for (right, of) in [(3, 20), (7, 9), (40, 200)] {
            let (low, high) = clopper_pearson(right, of, 0.9);
            let (wrong_low, wrong_high) = clopper_pearson(of - right, of, 0.9);
            assert!((low - (1.0 - wrong_high)).abs() < 1e-9 && (high - (1.0 - wrong_low)).abs() < 1e-9);
        }
    }
}
