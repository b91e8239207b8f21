//! Paper: sheets are printed, and typed in when they come back.

use super::{Hands, message};
use crate::clerk;
use crate::numbers;
use crate::paper;
use crate::problem::Problem;
use crate::report::{PlanTold, Report};
use crate::session::{Entry, LeftOut, MemberAnswer, Plan, SHEET_PROBLEMS, Sheets, Sitting, Slip, entered_words};
use crate::store::{AttemptId, Learner, LearnerId, Sheet, SheetId, SheetWord, StoreError};
use crate::tui::model::Model;

/// Seeds of a print are smaller than this, short enough to type.
pub(super) const SEEDS: u64 = 1_000_000;

/// Which problems stand on sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetsOf {
    /// What is next for each, weak spots first.
    Next,
    /// The skills of the chosen standard, for all alike.
    Standard,
}

/// Which pages are made of a report.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReportPages {
    /// A yes and a no for each member in each skill, to tick outdoors.
    Ticks,
    /// The sheet for the wall, which shames nobody.
    Wall,
    /// All of it, for whoever takes over.
    HandOut,
}

/// A report to be printed.
#[derive(Clone, Debug)]
pub struct ReportToPrint {
    /// What it says.
    pub report: Report,
    /// What is told of the plan of an evening beside it.
    pub plan: PlanTold,
    /// Which pages are made of it.
    pub pages: ReportPages,
    /// Whether initials stand for the names.
    pub initials: bool,
    /// The paper.
    pub size: paper::Sheet,
}

/// Sheets to be printed.
#[derive(Debug)]
pub struct SheetsToPrint {
    /// What they are about.
    pub title: String,
    /// The seed that makes them again, as long as the records are the same.
    pub seed: u64,
    /// Whose each is, with its problems.
    pub sheets: Vec<(Learner, Vec<Problem>)>,
    /// What could not be put on paper.
    pub left_out: Vec<LeftOut>,
    /// The paper.
    pub size: paper::Sheet,
}

/// What was typed of one problem of a sheet.
#[derive(Debug)]
pub struct Score {
    /// Whose sheet.
    pub learner: LearnerId,
    /// The sheet.
    pub sheet: SheetId,
    /// The problem.
    pub problem: Problem,
    /// What stands there; none where only something is taken back, also that nobody worked it.
    pub entry: Option<Entry>,
    /// What was typed in of it before, as a slip.
    pub mistyped: Option<AttemptId>,
    /// The session in which this sheet is typed in, once it was begun.
    pub sitting: Option<Sitting>,
}

/// What came of it.
#[derive(Debug)]
pub struct Scored {
    /// The sheet as it is now.
    pub sheet: Sheet,
    /// The session in which it is typed in, if one was begun.
    pub sitting: Option<Sitting>,
    /// What was written down, in words; or why nothing was.
    pub said: Result<String, String>,
}

impl Hands<'_> {
    /// The sheets of these that were not put away, with whose each is: by name, and of one learner the newest first. Typing in moves
    /// nothing, or the next entry would go into the sheet that came up under the hand.
    pub(super) fn sheets(&self, ids: &[LearnerId]) -> Result<Vec<(Learner, Sheet)>, StoreError> {
        let mut all = Vec::new();
        for id in ids {
            let Some(learner) = self.store.learner(*id)? else { continue };
            let listed = self.store.sheets(*id)?.into_iter().filter(|sheet| !sheet.put_away);
            all.extend(listed.map(|sheet| (learner.clone(), sheet)));
        }
        numbers::arrange_by_key(&mut all, |(learner, _)| (learner.name.to_lowercase(), learner.id));
        Ok(all)
    }

    /// Writes down what is said of a sheet.
    pub(super) fn say_of_sheet(&mut self, sheet: SheetId, word: &SheetWord) -> Result<(), StoreError> {
        let now = self.now();
        clerk::say_of_sheet(&mut self.store, sheet, word, &now)
    }

    /// Prints a sheet for each of these and writes down whose has which problems; what is said of it.
    pub(super) fn print_sheets(
        &mut self,
        ids: &[LearnerId],
        of: SheetsOf,
        size: paper::Sheet,
        model: &Model,
    ) -> Result<String, String> {
        let shared = &model.shared;
        let plan = match (of, shared.leader.standard()) {
            (SheetsOf::Standard, Some(standard)) => Plan::of_standard(standard, shared.ground.home.clone()),
            _ => shared.plan.clone(),
        };
        self.seed = self.seed.wrapping_add(1);
        let (title, seed) = (plan.title.clone(), self.seed % SEEDS);
        let toward = shared.leader.standard().into_iter().flat_map(|standard| &standard.skills).map(|one| one.skill);
        let mut sheets = Sheets::new(plan, usize::from(SHEET_PROBLEMS), seed).toward(toward);
        let mut printed = Vec::with_capacity(ids.len());
        for id in ids {
            let (learner, beliefs) = clerk::learner(&mut self.store, *id).map_err(message)?;
            printed.push((learner, sheets.next(&beliefs, self.day)));
        }
        let left_out = sheets.left_out().to_vec();
        let to_print = SheetsToPrint { title, seed, sheets: printed, left_out, size };
        let (said, now) = (self.backstage.print_sheets(&to_print)?, self.now());
        for (learner, problems) in &to_print.sheets {
            clerk::remember_sheet(&mut self.store, learner.id, problems, &now).map_err(|error| {
                format!("{said} But whose they are could not be written down, so they cannot be typed in: {error}")
            })?;
        }
        Ok(said)
    }

    /// Writes down what was typed of a problem, in the place of what was typed before.
    pub(super) fn score(&mut self, score: Score) -> Result<Scored, String> {
        let Score { learner, sheet, .. } = score;
        let mut sitting = score.sitting.clone();
        let said = self.scored(score, &mut sitting);
        let sheets = self.store.sheets(learner).map_err(message)?;
        let sheet =
            sheets.into_iter().find(|one| one.id == sheet).ok_or("This sheet is not in the records any more.")?;
        Ok(Scored { sheet, sitting, said })
    }

    fn scored(&mut self, score: Score, sitting: &mut Option<Sitting>) -> Result<String, String> {
        let now = self.now();
        let code = score.problem.code().to_string();
        let pending = match &score.entry {
            Some(Entry::Marked(MemberAnswer::Absent)) | None => None,
            Some(entry) => {
                let sitting = match sitting {
                    Some(sitting) => sitting,
                    None => {
                        let drill = Some("worksheet".to_owned());
                        let opened = clerk::open_practice(&mut self.store, score.learner, now.clone(), drill, 0);
                        sitting.insert(opened.map_err(message)?.sitting)
                    }
                };
                // Judged before anything is taken back, so that what cannot be read loses nothing.
                entry.judged(&score.problem, sitting, now.at).map_err(|error| error.to_string())?
            }
        };
        if let Some(attempt) = score.mistyped {
            let slip = Slip { learner: score.learner, attempt, day: self.day };
            clerk::take_back(&mut self.store, slip, now.at).map_err(message)?;
        }
        match pending {
            Some(pending) => {
                clerk::record_on_sheet(&mut self.store, &pending, score.sheet).map_err(message)?;
                Ok(entered_words(&score.problem, &pending.attempt.verdict))
            }
            None if score.entry.is_some() => {
                self.say_of_sheet(score.sheet, &SheetWord::NotDone(code)).map_err(message)?;
                Ok("not done".to_owned())
            }
            None => {
                // What was said before it was typed in does not come up again.
                clerk::reopen(&mut self.store, score.learner, score.sheet, &code, &now).map_err(message)?;
                Ok("taken back".to_owned())
            }
        }
    }
}
