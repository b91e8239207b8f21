//! Weak spots: what the learner's record makes likely.

use super::belief::Tally;
use crate::problem::{MixupMeta, SkillMeta};
use jiff::civil::Date;

/// How far a weak spot is established.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// Likely enough to look into.
    Suspected,
    /// Likely enough to say, and not since below one half.
    Named,
}

/// A mix-up of a skill that the learner's record makes likely.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeakSpot {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The mix-up.
    pub mixup: &'static MixupMeta,
    /// Suspected or named.
    pub standing: Standing,
    /// How likely it was after the last answer, before the explanation, 0 to 1.
    pub probability: f64,
    /// The day it was named, if it is.
    pub named_on: Option<Date>,
    /// How often its answer was given, among the last items that exposed it.
    pub evidence: Tally,
}
