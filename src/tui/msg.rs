//! What can happen ([`Msg`]) and what has to be done outside the model ([`Cmd`]).

use super::model::Offer;
use super::screens::{drills, end, ground, page, placement, practice, who};
use crate::learner::{Beliefs, Placement, SkillBelief};
use crate::session::{GroundCard, HomeGround, Pending};
use crate::store::{Learner, LearnerId, SessionId};
use crossterm::event::{KeyEvent, MouseEvent};
use jiff::Timestamp;

/// Something happened. Moments come with it: the model has no clock.
#[derive(Debug)]
pub enum Msg {
    /// A key was pressed.
    Key(KeyEvent, Timestamp),
    /// The mouse was used.
    Mouse(MouseEvent, Timestamp),
    /// Time went by while something moved.
    Tick(Timestamp),
    /// Text was pasted.
    Paste(String),
    /// On the screen that asks who is there.
    Who(who::Msg),
    /// On the screen that asks a new learner where to begin.
    Placement(placement::Msg),
    /// In practice.
    Practice(practice::Msg),
    /// At the end of a session.
    End(end::Msg),
    /// On a learner's page.
    Page(page::Msg),
    /// On the list of drills.
    Drills(drills::Msg),
    /// On the page of home ground.
    Ground(ground::Msg),
    /// An answer to a [`Cmd`].
    Done(Done),
}

/// What came of a [`Cmd`]. An error is the message for the screen.
#[derive(Debug)]
pub enum Done {
    /// The learners.
    Learners(Result<Vec<Learner>, String>),
    /// A learner's record was opened, and a session with it.
    Opened(Result<Box<Opened>, String>),
    /// A learner's record was opened to be looked at.
    Looked(Result<Box<(Learner, Beliefs)>, String>),
    /// The answer is on the disk, or could not be put there.
    Recorded(Box<Pending>, Result<Option<Vec<SkillBelief>>, String>),
    /// The drills there are, for this learner, and what is wrong with those that cannot be offered.
    Drills(Learner, Vec<Offer>, Option<String>),
    /// Home ground was set.
    GroundSet(Result<Box<GroundCard>, String>),
    /// The theme was written down.
    ThemeSaved(Result<(), String>),
}

/// A learner's record, ready for practice.
#[derive(Debug)]
pub struct Opened {
    /// Who.
    pub learner: Learner,
    /// What is believed of them.
    pub beliefs: Beliefs,
    /// The session in the store.
    pub session: SessionId,
    /// When it began.
    pub began: Timestamp,
    /// Seeds the choice of problems.
    pub seed: u64,
    /// Which of the drills, if one was chosen.
    pub drill: Option<usize>,
}

/// Something to do outside the model.
#[derive(Debug)]
pub enum Cmd {
    /// Leave the program.
    Quit,
    /// List the learners.
    LoadLearners,
    /// Add a learner and open a session.
    AddLearner(String, Placement),
    /// Open a session of a learner, with one of the drills.
    Open(LearnerId, Option<usize>),
    /// Open a learner's record to look at.
    Look(LearnerId),
    /// Find the drills that this learner can be offered on this home ground.
    Drills(Learner, HomeGround),
    /// Put an answer on the disk.
    Record(Box<Pending>),
    /// Set home ground to a place as typed.
    SetGround(String),
    /// Write down the theme.
    SaveTheme(&'static str),
}
