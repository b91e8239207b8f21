//! From an answer to its verdict, and what can be done there: watching how it is done, taking a slip back.

use super::practice::{Others, PracticeScreen, Stage, Work};
use super::showing::Showing;
use crate::learner::Beliefs;
use crate::numbers::round_from;
use crate::problem::{Figure, Problem};
use crate::session::{ANSWERED_ELSEWHERE, Pending, Stored, Support, TRIAL_OVER, sentence};
use crate::tui::page::Next;
use crate::tui::scroll::Scroll;
use jiff::Timestamp;

impl PracticeScreen {
    /// Passes the keyboard on to the one who waits longest; whether there is such a one.
    pub(super) fn pass_on(&mut self) -> bool {
        let Others::Turns(waiting) = &mut self.others else { return false };
        let Some((learner, flow)) = waiting.pop_front() else { return false };
        let before = (std::mem::replace(&mut self.learner, learner), std::mem::replace(&mut self.flow, flow));
        waiting.push_back(before);
        (self.message, self.stage) = (None, Stage::Handover);
        true
    }

    /// The answer is on the disk: now, and only now, the verdict is shown. Or it is not, and can be tried again.
    pub fn recorded(&mut self, pending: Pending, result: Result<Stored, String>) -> Next {
        match result {
            Ok(stored) => {
                let at = pending.attempt.at;
                self.norths = false;
                let twice = stored.twice.then(|| ANSWERED_ELSEWHERE.to_owned());
                if self.flow.confirm(pending, stored).is_some() {
                    (self.stage, self.scroll, self.step) = (Stage::Told, Scroll::default(), None);
                } else if !self.next(at) {
                    // A check tells nothing between its problems, and ends when nothing is left to ask.
                    return Next::Go(self.ended(true));
                }
                if twice.is_some() {
                    self.message = twice;
                }
            }
            Err(message) => {
                self.message = Some(format!("{} Your answer is kept here. Enter tries again.", sentence(&message)));
                self.stage = match std::mem::replace(&mut self.stage, Stage::Told) {
                    Stage::Asking(work) => Stage::Unsaved(work, Box::new(pending)),
                    other => other,
                };
            }
        }
        Next::Stay
    }

    /// The trial is over, done or left: now the problem is asked that it came before.
    pub(super) fn trial_over(&mut self, now: Timestamp) {
        self.flow.trial_over(now);
        if let Some(asked) = self.flow.asked() {
            self.stage = Stage::Asking(Work::of(asked, self.still));
        }
        (self.scroll, self.message) = (Scroll::default(), Some(TRIAL_OVER.to_owned()));
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

    /// The problem whose worked steps are on the screen.
    fn worked(&self) -> Option<&Problem> {
        let asked = self.flow.asked()?;
        match (&self.stage, &asked.support) {
            (Stage::Example(None), Support::Example(example)) => Some(example),
            (Stage::Told, _) => Some(&asked.problem),
            _ => None,
        }
    }

    /// Whether the worked steps can be gone through on the map.
    pub(super) fn has_steps(&self) -> bool {
        self.worked().is_some_and(|problem| problem.step_figure(0).is_some())
    }

    /// The map as it lies in the step that is shown.
    pub(super) fn step_figure(&self) -> Option<Figure> {
        self.worked()?.step_figure(self.step?)
    }

    /// Goes so many steps on; before the first one and after the last one all is shown at once.
    pub(super) fn go_step(&mut self, by: i32) {
        let Some(problem) = self.worked().filter(|problem| problem.step_figure(0).is_some()) else { return };
        let count = problem.steps().len();
        // All at once takes a place of its own in the ring.
        let at = self.step.map_or(count, |step| step);
        self.step = Some(round_from(at, by, count + 1)).filter(|at| *at < count);
        self.scroll = Scroll::default();
    }
}
