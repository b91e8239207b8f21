//! A check that was opened and is not begun: nothing of it is in the records until its first problem is shown.
//!
//! Whoever opens one by mistake, or leaves in the trial, has been asked nothing, and nothing is counted. What was shown and left
//! counts, as ever, or leaving would get somebody another problem.

use super::Check;
use crate::store::{CheckId, NewCheck, NewSession, SessionId};

/// Said where a check was left before anything was asked.
pub const NOTHING_ASKED: &str =
    "None of the check's own problems was shown: nothing was begun, and nothing is written.";

/// Which check it will be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Which {
    /// A new one, if so many by the same standard were begun before.
    Anew(NewCheck, usize),
    /// One that is under way.
    GoOn(CheckId),
}

/// What is written when it begins.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unbegun {
    /// Which check.
    pub which: Which,
    /// The sitting; of a new check it does not name it yet.
    pub sitting: NewSession,
}

impl Check {
    /// The same, not begun: nothing can be answered in it.
    #[must_use]
    pub fn not_begun(mut self, unbegun: Unbegun) -> Check {
        self.unbegun = Some(Box::new(unbegun));
        self
    }

    /// What has to be written before its problem is shown; none once that is done.
    #[must_use]
    pub fn unbegun(&self) -> Option<&Unbegun> {
        self.unbegun.as_deref()
    }

    /// Takes in that it is begun, with this sitting.
    pub fn begun(&mut self, session: SessionId) {
        if self.unbegun.take().is_some() {
            self.sitting.session = session;
            self.sittings.days_given.extend(self.sitting.days.are_given().then_some(session));
        }
    }
}
