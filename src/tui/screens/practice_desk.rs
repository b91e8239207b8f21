//! Work at the map table: what a key does there, and the trial that comes before a check's own problem.

use super::practice::{Others, PracticeScreen};
use super::practice_entry::LEAVES_TRIAL;
use super::table::{Act, After};
use crate::session::{NOTHING_ASKED, sentence};
use crate::store::{LearnerId, SessionId};
use crate::tui::keys::Press;
use crate::tui::msg::Cmd;
use crate::tui::page::Next;
use crate::tui::scroll::Scroll;
use jiff::Timestamp;

impl PracticeScreen {
    pub(super) fn at_table(&mut self, act: Act, press: Press, asked_to_leave: bool) -> Next {
        let trial = self.flow.is_trial();
        let Some(desk) = self.desk_mut() else { return Next::Stay };
        let asked_to_leave = asked_to_leave || (trial && desk.leaving);
        if trial && asked_to_leave && matches!(act, Act::Enter) {
            return self.end_trial(press.at);
        }
        match desk.update(act, press) {
            After::Stay if trial && desk.leaving => {
                desk.message = Some(LEAVES_TRIAL.to_owned());
                self.scroll = Scroll::default();
            }
            // What is said stands on top.
            After::Stay if desk.message.is_some() => self.scroll = Scroll::default(),
            After::Stay => {}
            After::Hint => {
                self.flow.hint();
            }
            After::Leave if trial && !asked_to_leave => {
                (self.scroll, self.message) = (Scroll::default(), Some(LEAVES_TRIAL.to_owned()));
            }
            After::Judge if trial => return self.end_trial(press.at),
            // Work that was begun asked already.
            After::Leave => {
                let asked = asked_to_leave || !desk.moves.is_empty();
                return self.leave(asked);
            }
            After::Judge => {
                let moves = desk.moves.clone();
                let pending = self.flow.answer_with_moves(&moves, press.at);
                return Next::maybe(pending.map(|pending| Cmd::Record(Box::new(pending))));
            }
        }
        Next::Stay
    }

    /// The trial is done, or left for the check's own problem: before that is shown, the check begins.
    fn end_trial(&mut self, now: Timestamp) -> Next {
        match self.flow.unbegun() {
            Some(unbegun) => Next::Do(Cmd::BeginCheck(Box::new(unbegun.clone()), now)),
            None => {
                self.trial_over(now);
                Next::Stay
            }
        }
    }

    /// Takes in that the check is begun, or why it is not.
    pub fn begun(&mut self, begun: Result<Option<SessionId>, String>, now: Timestamp) -> Next {
        match begun {
            Ok(Some(session)) => {
                self.flow.begun(session);
                self.trial_over(now);
                Next::Stay
            }
            // Another program was faster: what waits is looked up anew.
            Ok(None) => self.called_again(),
            Err(error) => {
                self.message = Some(format!("{} Nothing was begun; Enter in the trial tries again.", sentence(&error)));
                Next::Stay
            }
        }
    }

    /// Left before anything was asked: nothing is written. Those who wait are called as before.
    pub(super) fn not_begun(&mut self) -> Next {
        match &self.others {
            Others::Queue(rest) if !rest.is_empty() => self.called_again(),
            _ => Next::Do(Cmd::PatrolAfter(NOTHING_ASKED)),
        }
    }

    /// Whose turn it is, looked up anew.
    fn called_again(&self) -> Next {
        let rest = match &self.others {
            Others::Queue(rest) => rest.as_slice(),
            Others::Turns(_) | Others::None => &[],
        };
        let ids = std::iter::once(self.learner.id).chain(rest.iter().map(|queued| queued.learner.id));
        Next::Do(Cmd::Queue(ids.collect::<Vec<LearnerId>>()))
    }
}
