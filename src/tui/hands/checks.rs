//! Checks: who waits for one, how it is opened, and the leader's word about it.

use super::Hands;
use crate::clerk::{self, Opening};
use crate::drill::Standard;
use crate::learner::State;
use crate::learner::readiness::Next;
use crate::problem::SkillMeta;
use crate::session::{Begin, Record};
use crate::store::{Learner, LearnerId, StoreError};
use crate::tui::model::Model;
use crate::tui::screens::check_word::{CheckWord, Said};
use crate::tui::screens::handover::{Queued, Waiting};

impl Hands<'_> {
    pub(super) fn lost_answers(&self, id: LearnerId) -> Result<CheckWord, StoreError> {
        let learner = self.store.learner(id)?.ok_or(StoreError::NoSuchLearner(id))?;
        Ok(CheckWord::annul(learner, clerk::lost_answers(&self.store, id)?, (self.clock)()))
    }

    pub(super) fn waits(&self, id: LearnerId, model: &Model) -> Result<CheckWord, StoreError> {
        let learner = self.store.learner(id)?.ok_or(StoreError::NoSuchLearner(id))?;
        let waits = match model.shared.leader.standard() {
            Some(standard) => clerk::waits(&self.store, id, standard, self.day)?,
            None => Vec::new(),
        };
        Ok(CheckWord::shorten(learner, waits, self.day))
    }

    /// Writes the leader's word down; gives back what was done.
    pub(super) fn say(&mut self, said: &Said) -> Result<String, StoreError> {
        let now = self.now();
        match said {
            Said::Annul(id, answer, reason) => {
                clerk::annul(&mut self.store, *id, *answer, reason, &now)?;
                Ok("Annulled: when the check goes on, a fresh problem takes its place.".to_owned())
            }
            Said::Shorten(waits, from, reason) => {
                self.store.shorten_wait(waits, *from, reason, now.at)?;
                Ok(format!("A new check may begin from {from} on."))
            }
        }
    }

    /// What waits for each of these.
    pub(super) fn queue(&mut self, ids: &[LearnerId], model: &Model) -> Result<Vec<Queued>, StoreError> {
        let Some(standard) = model.shared.leader.standard() else { return Ok(Vec::new()) };
        let day = self.day;
        let mut queue = Vec::with_capacity(ids.len());
        let clock_question = clerk::clock_question(&self.store, &self.now())?;
        for id in ids {
            let learner = self.store.learner(*id)?.ok_or(StoreError::NoSuchLearner(*id))?;
            let (record, begin) = clerk::check_waiting(&self.store, *id, standard, day)?;
            let open = record.under_way();
            let waiting = match &begin {
                Begin::Later { from } => Waiting::Later(*from),
                Begin::GoOn(_) => Waiting::GoOn(open.map_or(0, |check| check.terms.minutes(check.next(day)))),
                Begin::Anew(terms) => {
                    let all = terms.skills.iter().map(|one| (one.id.as_str(), Next::Ask(1)));
                    Waiting::Anew(terms.minutes(all))
                }
            };
            // Nobody is called for nothing, unless alone.
            if ids.len() > 1 && matches!(waiting, Waiting::Later(_)) {
                continue;
            }
            let not_met = match &begin {
                Begin::Anew(terms) => {
                    let beliefs = self.store.beliefs(*id)?;
                    let skills = terms.skills.iter().filter_map(|one| Some(one.skill()?.0.meta()));
                    let is_new = |skill: &&'static SkillMeta| {
                        let known = beliefs.iter().find(|(one, _)| one.id == skill.id);
                        known.is_none_or(|(_, belief)| belief.state(day) == State::NotMet)
                    };
                    skills.filter(is_new).collect()
                }
                Begin::GoOn(_) | Begin::Later { .. } => Vec::new(),
            };
            queue.push(Queued {
                not_met,
                waiting,
                clock_question: clock_question.clone(),
                own_rules: open.is_some_and(|check| !check.terms.agree_with(standard)),
                clock_went_back_from: record
                    .checks
                    .iter()
                    .filter_map(|check| check.day)
                    .max()
                    .filter(|latest| *latest > day),
                learner,
            });
        }
        Ok(queue)
    }

    pub(super) fn open_check(&mut self, id: LearnerId, model: &Model) -> Result<(Learner, Opening), StoreError> {
        let now = self.now();
        let standard = model.shared.leader.standard().or(Standard::embedded().first());
        let standard = standard.ok_or(StoreError::NoSuchLearner(id))?;
        self.seed = self.seed.wrapping_add(1);
        clerk::open_check(&mut self.store, id, standard, now, self.seed)
    }

    /// That the latest check is under way by another standard than the chosen one, in words; none where it is over, or by this one.
    pub(super) fn under_way_elsewhere(
        &self,
        standards: &[Standard],
        chosen: usize,
    ) -> Result<Option<String>, StoreError> {
        let all = self.store.all_checks()?;
        let Some(latest) = all.iter().max_by_key(|check| check.what.at) else { return Ok(None) };
        let place = standards.iter().position(|one| one.name == latest.what.standard);
        let Some(other) = place.filter(|at| *at != chosen).and_then(|at| standards.get(at)) else { return Ok(None) };
        let theirs = all.iter().filter(|check| check.what.learner == latest.what.learner);
        let goes_on = Record::of(theirs, &other.name).under_way().is_some();
        Ok(goes_on.then(|| format!("A check by {} is under way; s changes the standard.", other.title)))
    }
}
