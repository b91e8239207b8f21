//! What the program believes of a learner, and which problem comes next.
//!
//! Pure: no clock, no store. A belief is a fold over the learner's answers ([`Beliefs::observe`]), so the stored attempts
//! are the truth and every summary can be rebuilt from them. Per skill it holds how likely the learner knows it, is rusty,
//! does not have it yet, or works by one of its named mix-ups; from that come the weak spots, the level, how much of a
//! worked example to show, when to return, and the next problem ([`choose`]).
//!
//! [`patterns`] says where a mix-up happens: with one letter, in one direction, past north. It reads answered items and leaves
//! the belief alone.
//!
//! [`readiness`] stands for itself: a check is decided by its plan alone and never looks at practice.
//!
//! What does not live here: words longer than a line.

mod belief;
mod beliefs;
mod choose;
pub mod constants;
mod evidence;
mod filter;
mod opening;
pub mod patterns;
mod pooled;
pub mod readiness;
mod reason;
mod recent;
mod shown;
mod stored;
#[cfg(test)]
mod tests;
mod way;
mod weak_spot;

pub use belief::{Fading, SkillBelief, State, Tally};
pub use beliefs::{Beliefs, Placement};
pub use choose::{Allowed, Choice, Gain, Order, Selection, choose, found, gain, next_new, open_step};
pub use constants::MODEL;
pub use evidence::{Change, Evidence, Outcome};
pub use pooled::CommonError;
pub use reason::Reason;
pub use recent::Recent;
pub use stored::BeliefError;
pub use way::{Found, OpenStep};
pub use weak_spot::{NoPattern, Standing, WeakPlace, WeakSpot};
