//! Recording an answer: the attempt and its summary in one transaction, on the disk before the call returns.

use super::error::At;
use super::fold::{Folded, Head, head, last, refold, restored, written};
use super::ids::Id;
use super::learners::nanoseconds;
use super::sheets::{self, Place};
use super::{AttemptId, LearnerId, NewAttempt, SheetId, Store, StoreError};
use crate::learner::{Beliefs, Change, SkillBelief};
use crate::problem::SkillMeta;
use rusqlite::{Connection, OptionalExtension, params};

const INSERT: &str = "INSERT INTO attempts (id, learner, session, at, day, kind, code, skill, level, generation, seed, facts, \
     right_answer, given, verdict, mixup, exposed, hinted, explained, took_ms, moves, help, sheet, entry, check_value) \
     VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21, ?22, ?23, ?24, \
     check_value_of('attempts', ?2, ?1, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21, \
     ?23, ?24, ?22))";

/// An answer that is on the disk.
#[derive(Clone, Debug, PartialEq)]
pub struct Recorded {
    /// Its id.
    pub id: AttemptId,
    /// What it changed in the belief about its skill; none for a skill that this program does not know.
    pub change: Option<Change>,
    /// What is believed of the learner now.
    pub beliefs: Believed,
}

/// What is believed after an answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Believed {
    /// Of its skill; what was believed of the others still stands.
    Skill(Box<SkillBelief>),
    /// Of all skills: with the first answer of a sitting, and whenever something else was written of the learner meanwhile.
    All(Box<Beliefs>),
}

impl Believed {
    /// Brings the beliefs in use up to date. They are those that [`Store::beliefs`] gave, with every answer in them that was
    /// recorded through the same handle since.
    pub fn bring(self, beliefs: &mut Beliefs) {
        match self {
            Believed::Skill(belief) => beliefs.restore(*belief),
            Believed::All(all) => *beliefs = *all,
        }
    }
}

/// A learner's beliefs as of the last answer recorded here, so that the next one needs no reading. One learner's only: at a
/// round's pace reading the summaries costs nothing.
#[derive(Debug)]
pub(super) struct Kept {
    learner: LearnerId,
    last: Id,
    revision: i64,
    beliefs: Beliefs,
}

impl Store {
    /// Records one answer and folds it onto what is believed of its learner. When this returns, the answer and the belief
    /// after it are on the disk; when it fails, nothing of it is. Whatever other programs have recorded or taken back of
    /// this learner is in the beliefs that are handed back.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], [`StoreError::NoSuchSession`], or the file cannot be written.
    pub fn record(&mut self, attempt: &NewAttempt) -> Result<Recorded, StoreError> {
        self.record_on(attempt, None)
    }

    /// Records an answer that stands on a sheet of paper, as [`Store::record`] does.
    ///
    /// # Errors
    /// As [`Store::record`]; [`StoreError::EnteredAlready`] where the problem was typed in before and not taken back.
    pub fn record_on_sheet(&mut self, attempt: &NewAttempt, sheet: SheetId) -> Result<Recorded, StoreError> {
        self.record_on(attempt, Some(sheet))
    }

    fn record_on(&mut self, attempt: &NewAttempt, sheet: Option<SheetId>) -> Result<Recorded, StoreError> {
        let Store { path, conn, skills, fold, kept, .. } = self;
        // Taken out of the handle: if the commit fails they would be ahead of the file.
        let before = kept.take().filter(|kept| kept.learner == attempt.learner);
        let mut gone = StoreError::NoSuchLearner(attempt.learner);
        let recorded = write(conn, |conn| {
            let Some(learner) = head(conn, attempt.learner)? else { return Ok(None) };
            let Some(session) = session(conn, attempt, &learner)? else {
                gone = StoreError::NoSuchSession;
                return Ok(None);
            };
            let place = match sheet {
                None => None,
                Some(sheet) => {
                    let Some(place) = sheets::place(conn, sheet, learner.key, &attempt.code)? else {
                        gone = StoreError::EnteredAlready;
                        return Ok(None);
                    };
                    Some(place)
                }
            };
            let last = last(conn, learner.key)?;
            let id = Id::after(last, attempt.at);
            insert(conn, id, &learner, session, attempt, place.as_ref())?;
            // Another program's answer is seen by the last id, its taking back by the count.
            let current =
                |kept: &Kept| learner.fold == *fold && Some(kept.last) == last && kept.revision == learner.revision;
            let before = before.filter(current).map(|kept| kept.beliefs);
            let After { beliefs, change, all } = fold_onto(conn, id, &learner, skills, *fold, attempt, before)?;
            Ok(Some((Kept { learner: attempt.learner, last: id, revision: learner.revision, beliefs }, change, all)))
        });
        let (now, change, all) = recorded.at(path)?.ok_or(gone)?;
        let beliefs = match now.beliefs.skill(&attempt.skill) {
            Some(belief) if !all => Believed::Skill(Box::new(belief.clone())),
            _ => Believed::All(Box::new(now.beliefs.clone())),
        };
        let id = AttemptId(now.last);
        *kept = Some(now);
        Ok(Recorded { id, change, beliefs })
    }
}

/// Runs `work` in a transaction that holds the write lock from its beginning; what fails leaves nothing. As a
/// `Transaction` would, but with statements prepared once.
fn write<T>(conn: &Connection, work: impl FnOnce(&Connection) -> rusqlite::Result<T>) -> rusqlite::Result<T> {
    conn.prepare_cached("BEGIN IMMEDIATE")?.execute([])?;
    let done = work(conn).and_then(|value| conn.prepare_cached("COMMIT")?.execute([]).map(|_| value));
    if done.is_err() && !conn.is_autocommit() {
        // The first error says what went wrong; SQLite takes back the rest when the connection closes at the latest.
        let _ = conn.execute_batch("ROLLBACK");
    }
    done
}

fn session(conn: &Connection, attempt: &NewAttempt, learner: &Head) -> rusqlite::Result<Option<i64>> {
    conn.prepare_cached("SELECT key FROM sessions WHERE id = ?1 AND learner = ?2")?
        .query_row(params![attempt.session.0, learner.key], |row| row.get(0))
        .optional()
}

/// Adds the attempt's row.
pub(super) fn insert(
    conn: &Connection,
    id: Id,
    learner: &Head,
    session: i64,
    attempt: &NewAttempt,
    place: Option<&Place>,
) -> rusqlite::Result<()> {
    let exposed = serde_json::to_string(&attempt.exposed)
        .map_err(|error| rusqlite::Error::ToSqlConversionFailure(error.into()))?;
    conn.prepare_cached(INSERT)?
        .execute(params![
            id,
            learner.key,
            session,
            nanoseconds(attempt.at),
            attempt.day.to_string(),
            attempt.kind,
            attempt.code,
            attempt.skill,
            attempt.level.number(),
            attempt.generation,
            attempt.seed.cast_signed(),
            attempt.facts,
            attempt.right,
            attempt.given,
            attempt.verdict.word(),
            attempt.verdict.mixup(),
            exposed,
            !attempt.help.is_evidence(),
            attempt.explained,
            attempt.took_ms,
            attempt.moves,
            attempt.help,
            place.map(|place| place.sheet),
            place.map(|place| place.entry),
        ])
        .map(drop)
}

/// What is believed after an attempt.
struct After {
    beliefs: Beliefs,
    change: Option<Change>,
    /// Whether more than the attempt's skill may be new to whoever had the beliefs that were kept.
    all: bool,
}

/// Folds the attempt onto the beliefs before it: those kept here, or those that the file knows. Ids only grow within a
/// store, so this attempt is the last of the fold, and the summaries are its state just before.
fn fold_onto(
    conn: &Connection,
    id: Id,
    learner: &Head,
    skills: &[&'static SkillMeta],
    fold_number: i64,
    attempt: &NewAttempt,
    before: Option<Beliefs>,
) -> rusqlite::Result<After> {
    if learner.fold == fold_number {
        let all = before.is_none();
        let mut beliefs = before.map_or_else(|| restored(conn, learner, skills), Ok)?;
        let change = beliefs.observe(&attempt.evidence(&mut Vec::new()));
        let fits = match beliefs.skill(&attempt.skill) {
            Some(belief) => put(conn, id, learner, belief)?,
            // A skill that this program does not know has no summary.
            None => true,
        };
        if fits {
            return Ok(After { beliefs, change, all });
        }
        // The summary does not agree with itself: only the attempts can tell.
    }
    let Folded { beliefs, change, .. } = refold(conn, learner, skills, fold_number)?;
    Ok(After { beliefs, change, all: true })
}

/// Moves the summary of the belief's skill on by one attempt; says whether it was at the one before.
fn put(conn: &Connection, id: Id, learner: &Head, belief: &SkillBelief) -> rusqlite::Result<bool> {
    let sql = if belief.count() == 1 {
        "INSERT INTO summaries (learner, skill, attempts, last, belief) VALUES (?1, ?2, ?3, ?4, ?5) \
         ON CONFLICT (learner, skill) DO NOTHING"
    } else {
        "UPDATE summaries SET attempts = ?3, last = ?4, belief = ?5 \
         WHERE learner = ?1 AND skill = ?2 AND attempts = ?3 - 1"
    };
    let values = params![learner.key, belief.id(), belief.count(), id, written(belief)?];
    Ok(conn.prepare_cached(sql)?.execute(values)? == 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::testing::Camp;

    #[test]
    fn an_attempt_is_inserted_without_a_table_built_for_it() {
        // What a check such as `kind IN ('a', 'b', 'c')` would do, at several times the cost of the insert.
        let store = Camp::new().open();
        let mut explained = store.conn.prepare(&format!("EXPLAIN {INSERT}")).unwrap();
        let rows = explained.query_map([None::<i64>; 24], |row| row.get::<_, String>(1)).unwrap();
        let steps: Vec<_> = rows.map(Result::unwrap).collect();
        assert!(steps.contains(&"IdxInsert".to_owned()), "{steps:?}");
        assert!(!steps.contains(&"OpenEphemeral".to_owned()), "{steps:?}");
    }
}
