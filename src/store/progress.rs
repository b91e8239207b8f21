//! How much a learner has done so far: evenings, problems, and how the last sittings went.

use super::attempt::{COUNTS, RecordedVerdict, day};
use super::error::At;
use super::{AttemptId, Help, LearnerId, Store, StoreError};
use jiff::civil::Date;
use std::collections::{BTreeSet, HashSet};

/// Of how many sittings each is told by itself.
const SITTINGS: usize = 12;

/// Answers counted by whether they came without help that takes their worth as evidence.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct AnswerCount {
    /// Without such help.
    pub alone: u32,
    /// Right ones among these.
    pub right: u32,
    /// With such help.
    pub helped: u32,
    /// Right ones among these.
    pub helped_right: u32,
}

impl AnswerCount {
    /// Counts an answer.
    pub fn count(&mut self, right: bool, help: Help) {
        if help.is_evidence() {
            self.alone += 1;
            self.right += u32::from(right);
        } else {
            self.helped += 1;
            self.helped_right += u32::from(right);
        }
    }

    /// All of them.
    #[must_use]
    pub const fn all(self) -> u32 {
        self.alone + self.helped
    }
}

/// What a learner has done so far, without what was taken back.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// On how many days something was answered.
    pub days: u32,
    /// The answers.
    pub answers: AnswerCount,
    /// The last sittings with an answer in them, at most twelve, the oldest first.
    pub sittings: Vec<AnswerCount>,
    /// How many answers were taken back.
    pub taken_back: u32,
}

impl Store {
    /// What a learner has done so far, without the `untold` answers of tries under way. Goes once through the learner's answers.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn progress(&self, learner: LearnerId, untold: &HashSet<AttemptId>) -> Result<Progress, StoreError> {
        let sql = format!(
            "SELECT id, session, day, verdict, mixup, help, hinted FROM attempts \
             WHERE learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) AND {COUNTS} ORDER BY id"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement.query_map([learner.0], |row| {
            let right = RecordedVerdict::read(row, 3, 4)?.is_right();
            Ok((AttemptId(row.get(0)?), row.get::<_, i64>(1)?, day(row, 2)?, right, Help::read(row, 5, 6)?))
        });
        let mut progress = Progress { taken_back: self.taken_back(learner)?, ..Progress::default() };
        let (mut days, mut sittings): (BTreeSet<Date>, Vec<(i64, AnswerCount)>) = Default::default();
        for row in rows.at(&self.path)? {
            let (id, session, day, right, help) = row.at(&self.path)?;
            if untold.contains(&id) {
                continue;
            }
            days.insert(day);
            progress.answers.count(right, help);
            // Two programs at once may take turns within a few answers.
            match sittings.iter_mut().rev().take(SITTINGS).find(|(key, _)| *key == session) {
                Some((_, sitting)) => sitting.count(right, help),
                None => {
                    let mut sitting = AnswerCount::default();
                    sitting.count(right, help);
                    sittings.push((session, sitting));
                }
            }
        }
        progress.days = u32::try_from(days.len()).unwrap_or(u32::MAX);
        let first = sittings.len().saturating_sub(SITTINGS);
        progress.sittings = sittings.drain(first..).map(|(_, sitting)| sitting).collect();
        Ok(progress)
    }
}
