//! Readiness: how many right answers out of how many make somebody ready, with stated error.
//!
//! A try asks one problem after the other and is decided by bounds on (asked, right). All figures are exact: probabilities
//! run over the lattice of (asked, right), nothing is simulated. Several tries on different days are counted together,
//! since whoever may try twice has two chances to pass by luck.

mod bounds;
mod critical;
mod exact;
mod flow;
mod interval;
mod lemma;
mod plan;
mod progress;
mod rules;
mod search;
mod staircase;
#[cfg(test)]
mod wald;

#[cfg(test)]
mod tests;

pub use bounds::{Bounds, Decision};
pub use critical::Missed;
pub use exact::Outcome;
pub use interval::clopper_pearson;
pub use plan::{PlanError, ReadinessPlan, Wish};
pub use progress::{Answered, Next, Progress, Try, TryEnd};
pub use rules::{BrokenBounds, CRITICAL_TIMES, Rules};
#[cfg(test)]
pub use wald::Wald;
