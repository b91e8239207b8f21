//! Every number of the learner model, with its meaning and where the idea comes from.
//!
//! The ideas are published; the figures are this project's own, set by hand and confirmed by `benches/learners.rs`.
//!
//! - A hidden state per skill, filtered answer by answer, with slips and guesses: A. T. Corbett, J. R. Anderson,
//!   "Knowledge tracing: Modeling the acquisition of procedural knowledge", 1995.
//! - One state per named wrong procedure: J. S. Brown, R. R. Burton, "Diagnostic models for procedural bugs in basic
//!   mathematical skills", 1978.
//! - A half-life that grows with success and shrinks with failure: B. Settles, B. Meeder, "A trainable spaced
//!   repetition model for language learning", 2016.
//! - Coming back after a gap that grows with how long the skill is to last: N. J. Cepeda et al., "Spacing effects in
//!   learning: A temporal ridgeline of optimal retention", 2008.
//! - Mixing skills instead of massing one: D. Rohrer, K. Taylor, "The shuffling of mathematics problems improves
//!   learning", 2007.
//! - Worked examples that fade: A. Renkl, R. K. Atkinson, "Structuring the transition from example study to problem
//!   solving in cognitive skill acquisition", 2003.

/// The version of the model. A summary folded under another version must be rebuilt from the attempts.
pub const MODEL: u32 = 4;

/// How likely each kind of answer is in one state. The three sum to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// A right answer.
    pub right: f64,
    /// The answer of some exposed mix-up, shared evenly among the exposed ones.
    pub shared: f64,
    /// Any other wrong answer.
    pub other: f64,
}

/// The figures of the filter (after Corbett & Anderson 1995, Brown & Burton 1978).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rates {
    /// Answers of a learner who knows the skill: slips are rare.
    pub known: Row,
    /// Answers of a learner who knew it once and is rusty.
    pub rusty: Row,
    /// Answers of a learner who does not have it yet: mostly guesses and wrong ways.
    pub not_yet: Row,
    /// Answers of a learner with a mix-up that the item exposes, beside the mix-up's own answer.
    pub mixed_up: Row,
    /// The mix-up's own answer, on top of its share of `mixed_up`.
    pub own: f64,
    /// Answers of a learner with a mix-up that the item does not expose: the wrong way gives the right answer.
    pub hidden: Row,
    /// What an explanation moves to known: this share of not yet and of each mix-up.
    pub learn: f64,
    /// What an explanation moves from rusty to known.
    pub refresh: f64,
    /// After an explanation this share of not yet and mix-ups is spread evenly over them: a mind may change its error.
    pub spread: f64,
    /// After an explanation no mix-up stays less likely than this: who has known a skill for long can still fall into
    /// a mix-up, and must not have to repeat it as often as it was once avoided. In a simulation with four mix-ups, 5 to
    /// 40 problems known and then one mix-up, naming it took 15 answers (median) without this and 3 with it, with as many
    /// named weak spots true.
    pub least: f64,
}

/// The rates in use.
pub const RATES: Rates = Rates {
    known: Row { right: 0.92, shared: 0.04, other: 0.04 },
    rusty: Row { right: 0.35, shared: 0.325, other: 0.325 },
    not_yet: Row { right: 0.15, shared: 0.4675, other: 0.3825 },
    mixed_up: Row { right: 0.07, shared: 0.06, other: 0.07 },
    own: 0.80,
    hidden: Row { right: 0.87, shared: 0.065, other: 0.065 },
    learn: 0.20,
    refresh: 0.60,
    spread: 0.01,
    least: 0.001,
};

/// A state never becomes quite impossible, so that no run of answers, however long, can freeze a belief.
pub const FLOOR: f64 = 1e-12;

/// Before the first problem: known.
pub const PRIOR_KNOWN: f64 = 0.20;
/// Before the first problem: not yet.
pub const PRIOR_NOT_YET: f64 = 0.30;
/// Before the first problem: all mix-ups together, shared evenly but for what is carried over from other skills.
pub const PRIOR_MIXUPS: f64 = 0.50;
/// Before the first problem, for a learner who has done this before: known. The rest keeps its proportions.
pub const PRIOR_KNOWN_DONE_BEFORE: f64 = 0.50;
/// Carry over: a mix-up's share of the prior is weighed by 1 + this × (highest probability of its class so far).
pub const CLASS_WEIGHT: f64 = 3.0;

/// A mix-up this likely is a suspected weak spot.
pub const SUSPECTED_FROM: f64 = 0.60;
/// A mix-up this likely is a named weak spot. Chosen by `benches/learners.rs` so that at least 95 % of the named ones are
/// true in whatever order problems come: .90 gave 93.5 to 95.4 %, .93 gave 94.9 to 96.2 %, this 95.5 to 96.6 %.
pub const NAMED_FROM: f64 = 0.94;
/// A named weak spot that reads below this is cleared; so is one that was worked off.
pub const CLEARED_BELOW: f64 = 0.50;

/// An error common to many skills, before anything is known: its odds against errors of all sorts.
pub const COMMON_PRIOR_ODDS: f64 = 0.05;
/// It takes answers in so many skills at least, …
pub const COMMON_SKILLS: usize = 2;
/// … and to be named so many answers in all.
pub const COMMON_NAMED_TIMES: usize = 4;
/// The most that one skill can say against it (log of the odds).
pub const COMMON_AGAINST_MOST: f64 = -1.5;
/// So many wrong answers in a row, with no weak spot to explain them, are told as such.
pub const NO_PATTERN_FROM: usize = 4;

/// Half-life of a new skill, days (Settles & Meeder 2016).
pub const HALF_LIFE_FIRST: f64 = 6.0;
/// Shortest half-life, days.
pub const HALF_LIFE_LEAST: f64 = 3.0;
/// Longest half-life, days.
pub const HALF_LIFE_MOST: f64 = 120.0;
/// Half-life, right: h · (1 + this · (1 − r) · b), b the steps made of those to *sure*, at most 1; the longer the gap survived, the more it tells (Cepeda 2008).
pub const HALF_LIFE_GROWS: f64 = 2.5;
/// Half-life, wrong: h · (1 − this · (1 − b)).
pub const HALF_LIFE_SHRINKS: f64 = 0.4;

/// With so many steps, one for each right answer, a skill is *sure*, until its half-life has passed; then it is *worth
/// repeating*.
pub const STEPS_SURE: u8 = 4;
/// More steps than these are not counted, so that two wrong answers always tell; one of somebody sure for long is a slip.
pub const STEPS_MOST: u8 = 7;
/// What a wrong answer takes: about what it weighs against a right one between somebody who knows (.92 right) and
/// somebody who is right half the time, ln(.5/.08) to ln(.92/.5).
pub const STEPS_BACK: u8 = 3;
/// After so many days away, one first half-life, …
pub const STEPS_AWAY_DAYS: i64 = 6;
/// … so many steps are left at most: one right answer shows that it lasted.
pub const STEPS_AFTER_AWAY: u8 = 3;
/// A mix-up's answer owes so many right answers to items that expose it, …
pub const OWED_BY_MIXUP: u8 = 2;
/// … at most so many in all, …
pub const OWED_MOST: u8 = 4;
/// … and from so many on the mix-up stands: nothing is *sure* beside it.
pub const OWED_STANDS: u8 = 3;

/// Choice: weight of what would be recalled again of a skill sure once and not met today.
pub const REPEAT_WEIGHT: f64 = 0.4;
/// Choice: a skill counts this much more for each skill that builds on it and is not yet solid.
pub const DEPENDENT_WEIGHT: f64 = 0.15;
/// Choice: a dependent skill below this is not yet solid.
pub const DEPENDENT_BELOW: f64 = 0.8;
/// How much a rusty prerequisite carries, compared with a known one.
pub const RUSTY_CARRIES: f64 = 0.7;
/// Choice: prerequisites carry nothing at this strength…
pub const READY_FROM: f64 = 0.2;
/// …and all at this much more.
pub const READY_SPAN: f64 = 0.6;
/// Choice: what remains of the gain when prerequisites carry nothing.
pub const READY_LEAST: f64 = 0.15;
/// Choice: the same skill as last (Rohrer & Taylor 2007).
pub const SAME_AS_LAST: f64 = 0.35;
/// Choice: the same skill as last when that answer was wrong: one more try at once helps, a third time it does not.
pub const SAME_AFTER_WRONG: f64 = 1.3;
/// Choice: a skill just wrong comes again at once only if met fewer times today than this.
pub const SAME_AFTER_WRONG_MOST: u32 = 3;
/// Choice: the skill before last (Rohrer & Taylor 2007).
pub const BEFORE_LAST: f64 = 0.7;
/// Opening of a new day: a weak spot's weakest prerequisite comes first if it is below this.
pub const OPENING_PREREQUISITE_BELOW: f64 = 0.6;

/// Way: a new skill begins at most every so many problems.
pub const WAY_NEW_EVERY: usize = 4;
/// Way: so many skills at a time are new at most.
pub const WAY_NEW_AT_A_TIME: usize = 3;
/// Way: a skill with so many right answers among those kept is new no longer, …
pub const WAY_RIGHT: usize = 2;
/// … and with as many of its last so many it lets the next step open.
pub const WAY_RIGHT_OF: usize = 4;
/// Way: a new skill comes again when it was not among the last so many problems.
pub const WAY_AGAIN_AFTER: usize = 4;
/// Way: the gain of a new skill counts so much more.
pub const WAY_NEW_WEIGHT: f64 = 2.0;
/// Way: a skill asked so often holds up no step any longer.
pub const WAY_HOLDS_UP_MOST: u32 = 8;
/// Way: a new skill asked so often on one day goes no longer before others on that day.
pub const WAY_IN_A_DAY: u32 = 6;
/// Placing: so many answers at most, …
pub const PLACING_MOST: u32 = 8;
/// … and a step is decided by so many of one kind.
pub const PLACING_SAME: usize = 2;

/// Fading (Renkl & Atkinson 2003): a full worked example first below this…
pub const EXAMPLE_BELOW: f64 = 0.4;
/// …an example with two blanks below this…
pub const BLANKS_BELOW: f64 = 0.7;
/// …a hint after an error below this; else the bare problem.
pub const HINT_BELOW: f64 = 0.9;

/// One level harder when known is at least this…
pub const HARDER_FROM: f64 = 0.85;
/// …and this many in a row were right at the level.
pub const HARDER_AFTER: u8 = 3;
/// One level easier after this many in a row wrong at the level.
pub const EASIER_AFTER: u8 = 2;

/// How many answers are kept per skill for words such as "4 of the last 9".
pub const LOG_LENGTH: usize = 12;
