//! What no test can do: the bound of Neyman and Pearson.

use super::search::{Goal, PROOF_SLACK};

/// Whether no test of so many problems keeps the errors, whatever it looks at and however it draws lots.
///
/// By the lemma the most power at an error comes from accepting the most right answers first, with lots at the last number
/// taken. The lots must stay: a test without them may lie between two cuts that accept whole numbers of orders, so whole
/// numbers alone would exclude too much. Source: Neyman and Pearson 1933 (attribution from memory).
pub(super) fn out_of_reach(goal: &Goal, cap: u8) -> bool {
    let (mut orders, mut allowed, mut power) = (1.0, goal.alpha + PROOF_SLACK, 0.0);
    for right in (0..=cap).rev() {
        let chance = |p: f64| orders * p.powi(i32::from(right)) * (1.0 - p).powi(i32::from(cap - right));
        let (weak, strong) = (chance(goal.p0), chance(goal.p1));
        if weak > allowed {
            power += strong * allowed / weak;
            break;
        }
        allowed -= weak;
        power += strong;
        orders *= f64::from(right) / f64::from(cap - right + 1);
    }
    1.0 - power > goal.beta + PROOF_SLACK
}
