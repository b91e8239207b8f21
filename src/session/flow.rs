//! What a screen asks problems from: a practice or a check.

use super::answering::{Pending, Sitting, Slip, Stored};
use super::asked::Asked;
use super::check::{Check, Unbegun};
use super::lessons::LessonOffer;
use super::practice::Practice;
use super::told::Told;
use crate::learner::Beliefs;
use crate::maptable::Move;
use crate::problem::{AnswerError, Code};
use crate::store::{LessonMark, SessionId};
use jiff::Timestamp;

/// A practice or a check: both ask, judge and take in; only a practice tells at once what was right, and gives hints.
#[derive(Debug)]
pub enum Flow {
    /// Practice.
    Practice(Box<Practice>),
    /// A check.
    Check(Box<Check>),
}

impl Flow {
    /// Asks the next problem; none when it is over.
    pub fn next(&mut self, now: Timestamp) -> Option<&Asked> {
        match self {
            Flow::Practice(practice) => practice.next(now),
            Flow::Check(check) => {
                check.next(now)?;
                self.asked()
            }
        }
    }

    /// The problem being asked (or, in practice, just answered); the trial, while one comes before it.
    #[must_use]
    pub const fn asked(&self) -> Option<&Asked> {
        match self {
            Flow::Practice(practice) => practice.asked(),
            Flow::Check(check) => match check.trial() {
                None => check.asked(),
                trial => trial,
            },
        }
    }

    /// Whether it is a trial at the map table, which does not count.
    #[must_use]
    pub const fn is_trial(&self) -> bool {
        matches!(self, Flow::Check(check) if check.trial().is_some())
    }

    /// What has to be written before the first problem of a check is shown.
    #[must_use]
    pub fn unbegun(&self) -> Option<&Unbegun> {
        match self {
            Flow::Practice(_) => None,
            Flow::Check(check) => check.unbegun(),
        }
    }

    /// Takes in that a check is begun, with this sitting.
    pub fn begun(&mut self, session: SessionId) {
        if let Flow::Check(check) = self {
            check.begun(session);
        }
    }

    /// The trial is over, done or left.
    pub fn trial_over(&mut self, now: Timestamp) {
        if let Flow::Check(check) = self {
            check.trial_over(now);
        }
    }

    /// The verdict on it; never in a check.
    #[must_use]
    pub const fn told(&self) -> Option<&Told> {
        match self {
            Flow::Practice(practice) => practice.told(),
            Flow::Check(_) => None,
        }
    }

    /// A hint; none in a check.
    pub fn hint(&mut self) -> Option<&str> {
        match self {
            Flow::Practice(practice) => practice.hint(),
            Flow::Check(_) => None,
        }
    }

    /// The last answer, if it can be taken back; never in a check.
    #[must_use]
    pub fn slip(&self) -> Option<Slip> {
        match self {
            Flow::Practice(practice) => practice.slip(),
            Flow::Check(_) => None,
        }
    }

    /// Takes in that it was taken back in the store, and asks its problem again.
    pub fn taken_back(&mut self, beliefs: Beliefs, now: Timestamp) -> Option<&Asked> {
        match self {
            Flow::Practice(practice) => practice.taken_back(beliefs, now),
            Flow::Check(_) => None,
        }
    }

    /// The lesson that comes before the problem being asked; none in a check.
    #[must_use]
    pub const fn lesson(&self) -> Option<LessonOffer> {
        match self {
            Flow::Practice(practice) => practice.lesson(),
            Flow::Check(_) => None,
        }
    }

    /// Takes in how far the learner came in it: it is offered no more, and the word for the record waits.
    pub fn note_lesson(&mut self, mark: LessonMark, now: Timestamp) {
        if let Flow::Practice(practice) = self {
            practice.note_lesson(mark, now);
        }
    }

    /// Takes in that a lesson lay over the problem being asked until now: its time begins anew.
    pub const fn lesson_closed(&mut self, now: Timestamp) {
        if let Flow::Practice(practice) = self {
            practice.lesson_closed(now);
        }
    }

    /// That word, once.
    pub const fn take_lesson_mark(&mut self) -> Option<LessonMark> {
        match self {
            Flow::Practice(practice) => practice.take_lesson_mark(),
            Flow::Check(_) => None,
        }
    }

    /// Judges an answer, without taking it in yet. `None` when nothing is being asked, or only for trying.
    ///
    /// # Errors
    /// [`AnswerError`] when it cannot be read; the question stays and nothing is recorded.
    pub fn answer(&self, texts: &[&str], now: Timestamp) -> Result<Option<Pending>, AnswerError> {
        match self {
            _ if self.is_trial() => Ok(None),
            Flow::Practice(practice) => practice.answer(texts, now),
            Flow::Check(check) => check.answer(texts, now),
        }
    }

    /// Judges work at the map table, without taking it in yet.
    #[must_use]
    pub fn answer_with_moves(&self, moves: &[Move], now: Timestamp) -> Option<Pending> {
        match self {
            _ if self.is_trial() => None,
            Flow::Practice(practice) => practice.answer_with_moves(moves, now),
            Flow::Check(check) => check.answer_with_moves(moves, now),
        }
    }

    /// Takes in an answer that is safely stored; gives the verdict out where one is told.
    pub fn confirm(&mut self, pending: Pending, stored: Stored) -> Option<&Told> {
        match self {
            Flow::Practice(practice) => practice.confirm(pending, stored),
            Flow::Check(check) => {
                check.confirm(&pending);
                None
            }
        }
    }

    /// How many problems were answered in this sitting.
    #[must_use]
    pub const fn answered(&self) -> u32 {
        match self {
            Flow::Practice(practice) => practice.answered(),
            Flow::Check(check) => check.answered(),
        }
    }

    /// What it is called on screens.
    #[must_use]
    pub fn title(&self) -> &str {
        match self {
            Flow::Practice(practice) => &practice.plan().title,
            Flow::Check(check) => &check.terms().title,
        }
    }

    /// Who sits, when.
    #[must_use]
    pub const fn sitting(&self) -> &Sitting {
        match self {
            Flow::Practice(practice) => practice.sitting(),
            Flow::Check(check) => check.sitting(),
        }
    }

    /// The code of a problem, as it stands on the screen. In a check it is kept back until the try has ended: with it a second
    /// terminal would tell the solution.
    #[must_use]
    pub fn code_words(&self, code: &Code) -> String {
        match self {
            Flow::Practice(_) => format!("code {code}"),
            Flow::Check(_) if self.is_trial() => "a trial".to_owned(),
            Flow::Check(_) => "code at the end".to_owned(),
        }
    }

    /// How far it is: `problem 3 of 10`; in a check what is left, which says nothing of right and wrong.
    #[must_use]
    pub fn how_far(&self) -> String {
        let number = self.answered() + u32::from(self.told().is_none());
        match self {
            Flow::Practice(practice) => match practice.plan().count {
                Some(count) => format!("problem {} of {count}", number.max(1)),
                None => format!("problem {}", number.max(1)),
            },
            Flow::Check(_) if self.is_trial() => "a trial: it does not count".to_owned(),
            Flow::Check(check) => {
                // Neither skills nor minutes left: either would tell that a skill has just been decided, and so how.
                format!("problem {number} of {} at most", check.at_most())
            }
        }
    }
}
