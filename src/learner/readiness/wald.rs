//! Wald's bounds of a sequential test without cap: two parallel lines over the number asked.

/// Two lines over the number asked: decide above `above + slope · asked` right, or below `below + slope · asked`.
///
/// Source: Wald 1947, *Sequential Analysis* (attribution from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wald {
    /// The intercept of the upper line, positive.
    pub above: f64,
    /// The intercept of the lower line, negative.
    pub below: f64,
    /// The slope of both.
    pub slope: f64,
}

impl Wald {
    /// For the chances `p0` < `p1` and the errors `alpha` (taking p0 for p1) and `beta` (the other way).
    #[must_use]
    pub fn new(p0: f64, p1: f64, alpha: f64, beta: f64) -> Wald {
        let right = (p1 / p0).ln();
        let wrong = ((1.0 - p0) / (1.0 - p1)).ln();
        let both = right + wrong;
        Wald {
            above: ((1.0 - beta) / alpha).ln() / both,
            below: (beta / (1.0 - alpha)).ln() / both,
            slope: wrong / both,
        }
    }
}
