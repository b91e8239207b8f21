//! From an answer to its verdict, and what can be done there: watching how it is done, taking a slip back.

use super::practice::{PracticeScreen, Stage, Work};
use super::showing::Showing;
use crate::learner::Beliefs;
use crate::session::{Pending, Stored};
use crate::tui::page::Next;
use crate::tui::scroll::Scroll;
use jiff::Timestamp;

impl PracticeScreen {
    /// The answer is on the disk: now, and only now, the verdict is shown. Or it is not, and can be tried again.
    pub fn recorded(&mut self, pending: Pending, result: Result<Stored, String>) -> Next {
        match result {
            Ok(stored) => {
                let at = pending.attempt.at;
                self.norths = false;
                if self.flow.confirm(pending, stored).is_some() {
                    (self.stage, self.scroll) = (Stage::Told, Scroll::default());
                } else if !self.next(at) {
                    // A check tells nothing between its problems, and ends when nothing is left to ask.
                    return Next::Go(self.ended(true));
                }
            }
            Err(message) => {
                self.message = Some(format!("{message} Your answer is kept here. Enter tries again."));
                self.stage = match std::mem::replace(&mut self.stage, Stage::Told) {
                    Stage::Asking(work) => Stage::Unsaved(work, Box::new(pending)),
                    other => other,
                };
            }
        }
        Next::Stay
    }

    /// The last answer was taken back: its problem is asked again.
    pub fn taken_back(&mut self, beliefs: Beliefs, now: Timestamp) {
        if let Some(asked) = self.flow.taken_back(beliefs, now) {
            self.stage = Stage::Asking(Work::of(asked, self.still));
            (self.scroll, self.message) = (Scroll::default(), None);
        }
    }

    /// Shows how the work is done: what was right from the beginning; what was not, from where it ended.
    pub(super) fn watch(&mut self) {
        let work = self.flow.told().and_then(|told| told.table.as_ref());
        let table = self.flow.asked().and_then(|asked| asked.table.as_ref());
        if let (Some(work), Some(table)) = (work, table) {
            let from = if work.needs_showing { work.end } else { table.exercise.start };
            self.stage = Stage::Watching(Showing::new(table, from, self.still));
            self.scroll = Scroll::default();
        }
    }
}
