//! Why a problem was chosen.

use super::weak_spot::Standing;
use crate::problem::{MixupMeta, SkillMeta};
use std::fmt;

/// Why a problem was chosen; shown with every problem.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// The skill has a weak spot.
    WeakSpot {
        /// The mix-up to work on.
        mixup: &'static MixupMeta,
        /// Named, or only suspected.
        standing: Standing,
    },
    /// The skill had a weak spot that a check has shown to be over: it was announced, so it is asked, and its end is said.
    WasWeakSpot {
        /// The mix-up.
        mixup: &'static MixupMeta,
    },
    /// A skill with a named weak spot builds on this one, and this one is weak itself.
    PrerequisiteOf {
        /// The skill with the weak spot, which comes next.
        skill: &'static SkillMeta,
        /// The weak spot.
        mixup: &'static MixupMeta,
    },
    /// Never met.
    NotMetYet,
    /// Known or rusty, and some days have passed.
    WorthRepeating {
        /// Days since it was last met, at least 1.
        days: u32,
    },
    /// On the way.
    Practising,
    /// The drill allows nothing else.
    AskedByDrill,
}

impl Reason {
    /// In words, to stand in a line of the screen: no capital, no full stop.
    #[must_use]
    pub fn words(&self) -> String {
        self.to_string()
    }
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Reason::WeakSpot { mixup, standing: Standing::Named } => write!(f, "your weak spot: you {}", mixup.said),
            Reason::WeakSpot { mixup, standing: Standing::Suspected } => {
                write!(f, "perhaps a weak spot, you {}", mixup.said)
            }
            Reason::WasWeakSpot { mixup } => write!(f, "whether it is over: you {}", mixup.said),
            Reason::PrerequisiteOf { skill, .. } => {
                write!(f, "a step towards your weak spot in \"{}\"", skill.title)
            }
            Reason::NotMetYet => f.write_str("not met yet"),
            Reason::WorthRepeating { days: 1 } => f.write_str("worth repeating after 1 day"),
            Reason::WorthRepeating { days } => write!(f, "worth repeating after {days} days"),
            Reason::Practising => f.write_str("still being learnt"),
            Reason::AskedByDrill => f.write_str("asked by the drill"),
        }
    }
}
