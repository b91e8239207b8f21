//! What an answer was found to be.

use super::MixupMeta;

/// A slip of arithmetic or typing; it says nothing about the rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slip {
    /// Off by exactly ten.
    Ten,
    /// Off by exactly a hundred.
    Hundred,
    /// Two neighbouring digits exchanged.
    DigitsExchanged,
    /// What a sum lies below zero taken for the number itself.
    MinusLost,
}

impl Slip {
    /// In words, after "looks like": no full stop.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Slip::Ten => "a slip of exactly ten in the sum",
            Slip::Hundred => "a slip of exactly a hundred in the sum",
            Slip::DigitsExchanged => "two digits that changed places",
            Slip::MinusLost => "a minus that got lost: so far below zero is so far back from 360",
        }
    }
}

/// The judging of one answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Within tolerance.
    Right,
    /// Exactly what one named mix-up gives.
    Mixup(&'static MixupMeta),
    /// Wrong, and no listed mix-up gives it.
    Unrecognised(Option<Slip>),
}

impl Verdict {
    /// The stable id.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Verdict::Right => "right",
            Verdict::Mixup(_) => "mix-up",
            Verdict::Unrecognised(_) => "unrecognised",
        }
    }

    /// The mix-up, if one was named.
    #[must_use]
    pub const fn mixup(self) -> Option<&'static MixupMeta> {
        match self {
            Verdict::Mixup(mixup) => Some(mixup),
            Verdict::Right | Verdict::Unrecognised(_) => None,
        }
    }
}
