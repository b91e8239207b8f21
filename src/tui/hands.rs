//! What is done outside the model: the store, the settings, the clock. Tests do it with a clock of their own.

use super::model::{Model, Offer};
use super::msg::{Cmd, Done, Msg, Opened};
use super::update::update;
use crate::learner::{Beliefs, Placement};
use crate::session::{GroundCard, HomeGround};
use crate::skills;
use crate::store::{Learner, LearnerId, NewSession, Store, StoreError};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::VecDeque;

/// What the program does outside the store, given by the command line.
pub trait Backstage {
    /// Sets home ground to a place as typed, writes it down, and gives back the new card.
    ///
    /// # Errors
    /// The message for the screen.
    fn set_ground(&mut self, place: &str) -> Result<GroundCard, String>;

    /// The drills there are, on this home ground, and what is wrong with those that cannot be offered.
    fn drills(&mut self, home: &HomeGround) -> (Vec<Offer>, Option<String>);

    /// Writes the theme down.
    ///
    /// # Errors
    /// The message for the screen.
    fn save_theme(&mut self, theme: &str) -> Result<(), String>;
}

/// What commands work on.
pub struct Hands<'a> {
    /// The open store.
    pub store: Store,
    /// What lies outside the store.
    pub backstage: &'a mut dyn Backstage,
    /// Seeds the choice of problems; each session takes the next.
    pub seed: u64,
    /// The learner's day.
    pub day: Date,
    /// The clock.
    pub clock: fn() -> Timestamp,
}

impl Hands<'_> {
    /// Does commands, and what follows from them, until nothing is left to do. False when the program is left.
    pub fn settle(&mut self, model: &mut Model, commands: Vec<Cmd>) -> bool {
        let mut waiting = VecDeque::from(commands);
        while let Some(command) = waiting.pop_front() {
            let Some(done) = self.perform(command, model) else { return false };
            waiting.extend(update(model, Msg::Done(done)));
        }
        true
    }

    /// Does one command; none for leaving.
    fn perform(&mut self, command: Cmd, model: &Model) -> Option<Done> {
        let named = |drill| model.plan_of(drill).drill;
        Some(match command {
            Cmd::Quit => return None,
            Cmd::LoadLearners => Done::Learners(learners(&mut self.store).map_err(message)),
            Cmd::AddLearner(name, placement) => {
                Done::Opened(self.add(&name, placement, named(None)).map(Box::new).map_err(message))
            }
            Cmd::Open(learner, drill) => {
                Done::Opened(self.open(learner, drill, named(drill)).map(Box::new).map_err(message))
            }
            Cmd::Drills(learner, home) => {
                let (offers, notice) = self.backstage.drills(&home);
                Done::Drills(learner, offers, notice)
            }
            Cmd::Look(learner) => Done::Looked(self.look(learner).map(Box::new).map_err(message)),
            Cmd::Record(pending) => {
                let recorded = self.store.record(&pending.attempt, &pending.belief);
                Done::Recorded(pending, recorded.map(|recorded| recorded.refolded).map_err(message))
            }
            Cmd::SetGround(place) => Done::GroundSet(self.backstage.set_ground(&place).map(Box::new)),
            Cmd::SaveTheme(theme) => Done::ThemeSaved(self.backstage.save_theme(theme)),
        })
    }

    fn add(&mut self, name: &str, placement: Placement, drill: Option<String>) -> Result<Opened, StoreError> {
        let learner = self.store.add_learner(name, placement, (self.clock)())?;
        self.open(learner.id, None, drill)
    }

    fn open(&mut self, id: LearnerId, drill: Option<usize>, named: Option<String>) -> Result<Opened, StoreError> {
        let (learner, beliefs) = self.look(id)?;
        let began = (self.clock)();
        let session = self.store.start_session(&NewSession {
            learner: id,
            at: began,
            day: self.day,
            drill: named,
            check: None,
            program: env!("CARGO_PKG_VERSION").to_owned(),
        })?;
        self.seed = self.seed.wrapping_add(1);
        Ok(Opened { learner, beliefs, session, began, seed: self.seed, drill })
    }

    fn look(&mut self, id: LearnerId) -> Result<(Learner, Beliefs), StoreError> {
        let learner = self.store.learner(id)?.ok_or(StoreError::NoSuchLearner(id))?;
        let metas: Vec<_> = skills::metas().collect();
        let mut beliefs = Beliefs::new(&metas, learner.placement);
        for belief in self.store.beliefs(id)? {
            beliefs.restore(belief);
        }
        Ok((learner, beliefs))
    }
}

/// The learners, the one who practised last in front.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn learners(store: &mut Store) -> Result<Vec<Learner>, StoreError> {
    let mut learners = store.learners()?;
    let last = store.last_learner()?.map(|learner| learner.id);
    if let Some(at) = learners.iter().position(|learner| Some(learner.id) == last) {
        learners[..=at].rotate_right(1);
    }
    Ok(learners)
}

fn message(error: StoreError) -> String {
    error.to_string()
}
