//! What is observed of a learner, and what an observation changed.

use crate::problem::{Level, MixupMeta};
use jiff::{Timestamp, civil::Date};

/// The verdict of one answer, as far as the model needs it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome<'a> {
    /// Within tolerance.
    Right,
    /// The answer of the mix-up with this id. An id the skill does not have counts as [`Outcome::Other`].
    Mixup(&'a str),
    /// Wrong otherwise: unrecognised, another north's letter, a slip of arithmetic.
    Other,
}

/// One judged answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Evidence<'a> {
    /// The skill's id.
    pub skill: &'a str,
    /// The problem's level.
    pub level: Level,
    /// The learner's day. A day before the last one (a clock set back) counts as no time passed.
    pub day: Date,
    /// The verdict.
    pub outcome: Outcome<'a>,
    /// Ids of the mix-ups whose answers the item told apart. Unknown ids are passed over.
    pub exposed: &'a [&'a str],
    /// A hint was given before the answer: recorded, but no evidence.
    pub hinted: bool,
    /// The explanation was shown after the answer: the learning step.
    pub explained: bool,
    /// When it was answered. The model does not use it; the store orders attempts by it before they are folded.
    pub at: Timestamp,
}

/// What one observation changed. At most one mix-up of a skill can be suspected, named or cleared at a time, since two
/// cannot both be more likely than not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// A mix-up that has just become a suspected weak spot.
    pub suspected: Option<&'static MixupMeta>,
    /// A mix-up that has just become a named weak spot.
    pub named: Option<&'static MixupMeta>,
    /// A named weak spot that has just been cleared.
    pub cleared: Option<&'static MixupMeta>,
    /// The level to practise at before.
    pub level_before: Level,
    /// The level to practise at from now on.
    pub level: Level,
    /// How likely the skill was known before, 0 to 1, as read after the answer before.
    pub known_before: f64,
    /// How likely the skill is known now, 0 to 1.
    pub known: f64,
}
