//! Why a problem was chosen.

use super::way::{STEPS, about};
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
    /// The day opens with one easy problem; then comes what was promised.
    EasyFirst {
        /// The skill with the weak spot.
        skill: &'static SkillMeta,
        /// The weak spot.
        mixup: &'static MixupMeta,
    },
    /// Two answers or more in a row were wrong in this skill.
    TwoWrong {
        /// Whether there was an easier level to go back to.
        easier: bool,
    },
    /// To find out where somebody who has done this before begins.
    Placing,
    /// Never met.
    NotMetYet,
    /// Never met, and the next on a newcomer's way.
    OnTheWay {
        /// Its step, from 0.
        step: usize,
    },
    /// Met on a newcomer's way, and not yet right twice.
    StillNew,
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

    /// Whether it was promised on an earlier day.
    pub(super) const fn is_promised(&self) -> bool {
        matches!(self, Reason::EasyFirst { .. } | Reason::WasWeakSpot { .. } | Reason::PrerequisiteOf { .. })
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
            Reason::EasyFirst { skill, .. } => {
                write!(f, "an easy one first, then your weak spot in \"{}\"", skill.title)
            }
            Reason::TwoWrong { easier: true } => f.write_str("two did not come right, so an easier one"),
            Reason::TwoWrong { easier: false } => f.write_str("two did not come right, so the example once more"),
            Reason::Placing => f.write_str("to see what you know already"),
            Reason::NotMetYet => f.write_str("not met yet"),
            Reason::OnTheWay { step } => write!(f, "new: step {} of {STEPS}, {}", step + 1, about(*step)),
            Reason::StillNew => f.write_str("still new, until two have come right"),
            Reason::WorthRepeating { days: 1 } => f.write_str("worth repeating after 1 day"),
            Reason::WorthRepeating { days } => write!(f, "worth repeating after {days} days"),
            Reason::Practising => f.write_str("still being learnt"),
            Reason::AskedByDrill => f.write_str("asked by the drill"),
        }
    }
}
