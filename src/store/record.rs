//! Recording an answer: the attempt and its summary in one transaction, on the disk before the call returns.

use super::error::At;
use super::fold::{Head, Summary, head, last, refold, summaries, written};
use super::ids::Id;
use super::learners::nanoseconds;
use super::{AttemptId, NewAttempt, Store, StoreError};
use crate::learner::{Beliefs, SkillBelief};
use crate::problem::SkillMeta;
use rusqlite::{Connection, OptionalExtension, params};

const INSERT: &str = "INSERT INTO attempts (id, learner, session, at, day, kind, code, skill, level, generation, seed, facts, \
     right_answer, given, verdict, mixup, exposed, hinted, explained, took_ms, moves) \
     VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21)";

/// An answer that is on the disk.
#[derive(Clone, Debug, PartialEq)]
pub struct Recorded {
    /// Its id.
    pub id: AttemptId,
    /// All beliefs of the learner, when the one that was handed in could not stand: another program had recorded answers
    /// of the same learner since they were read. Restore these into the beliefs in use.
    pub refolded: Option<Vec<SkillBelief>>,
}

impl Store {
    /// Records one answer together with what is believed of its skill after it. When this returns, the answer is on the
    /// disk; when it fails, nothing of it is.
    ///
    /// `belief` is what the caller's [`Beliefs`] say after observing [`NewAttempt::evidence`], starting from what
    /// [`Store::beliefs`] gave. If another program has recorded answers of this learner since, that belief lacks them; then
    /// the answer is folded onto what the file knows instead, and the result is handed back.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], [`StoreError::NoSuchSession`], or the file cannot be written.
    pub fn record(&mut self, attempt: &NewAttempt, belief: &SkillBelief) -> Result<Recorded, StoreError> {
        let Store { path, conn, skills, fold, seen, .. } = self;
        let mut gone = StoreError::NoSuchLearner(attempt.learner);
        let recorded = write(conn, |conn| {
            let Some(learner) = head(conn, attempt.learner)? else { return Ok(None) };
            let Some(session) = session(conn, attempt, &learner)? else {
                gone = StoreError::NoSuchSession;
                return Ok(None);
            };
            let last = last(conn, learner.key)?;
            let id = Id::after(last, attempt.at);
            insert(conn, id, &learner, session, attempt)?;
            if learner.fold != *fold {
                let all = refold(conn, &learner, skills, *fold)?.into_values();
                return Ok(Some((id, Some(all.map(|summary| summary.belief).collect()))));
            }
            // The first sees what another program recorded in any skill, the second also a caller whose beliefs are older
            // than its last reading here. A skill this program does not know has no summary.
            let known = skills.iter().any(|skill| skill.id == attempt.skill);
            let up_to_date = seen.get(&attempt.learner).copied().flatten() == last
                && (!known || put(conn, id, &learner, attempt, belief)?);
            let refolded = if up_to_date { None } else { Some(fold_onto(conn, id, &learner, skills, attempt)?) };
            Ok(Some((id, refolded)))
        });
        let (id, refolded) = recorded.at(path)?.ok_or(gone)?;
        seen.insert(attempt.learner, Some(id));
        Ok(Recorded { id: AttemptId(id), refolded })
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
            attempt.verdict,
            attempt.mixup,
            exposed,
            attempt.hinted,
            attempt.explained,
            attempt.took_ms,
            attempt.moves,
        ])
        .map(drop)
}

/// Moves the skill's summary on by one attempt, if the belief is about this skill and counts just one answer more than the
/// summary; says whether it did. It does not when the caller's beliefs are older than its last reading here.
fn put(
    conn: &Connection,
    id: Id,
    learner: &Head,
    attempt: &NewAttempt,
    belief: &SkillBelief,
) -> rusqlite::Result<bool> {
    if belief.id() != attempt.skill {
        return Ok(false);
    }
    let sql = if belief.count() == 1 {
        "INSERT INTO summaries (learner, skill, attempts, last, belief) VALUES (?1, ?2, ?3, ?4, ?5) \
         ON CONFLICT (learner, skill) DO NOTHING"
    } else {
        "UPDATE summaries SET attempts = ?3, last = ?4, belief = ?5 \
         WHERE learner = ?1 AND skill = ?2 AND attempts = ?3 - 1"
    };
    let written = written(belief)?;
    let changed =
        conn.prepare_cached(sql)?.execute(params![learner.key, attempt.skill, belief.count(), id, written])?;
    Ok(changed == 1)
}

/// Folds the attempt onto what the file knows. Ids only grow within a store, so this attempt is the last of the fold, and
/// the summaries are its state just before.
fn fold_onto(
    conn: &Connection,
    id: Id,
    learner: &Head,
    skills: &[&'static SkillMeta],
    attempt: &NewAttempt,
) -> rusqlite::Result<Vec<SkillBelief>> {
    let mut beliefs = Beliefs::new(skills, learner.placement);
    let mut met = summaries(conn, learner.key)?;
    for Summary { belief, .. } in met.values() {
        beliefs.restore(belief.clone());
    }
    let changed = beliefs.observe(&attempt.evidence(&mut Vec::new()));
    if let (Some(_), Some(belief)) = (changed, beliefs.skill(&attempt.skill)) {
        if !put(conn, id, learner, attempt, belief)? {
            // The summary does not agree with itself: only the attempts can tell.
            met = refold(conn, learner, skills, learner.fold)?;
        } else {
            met.insert(attempt.skill.clone(), Summary { attempts: 0, last: id, belief: belief.clone() });
        }
    }
    Ok(met.into_values().map(|summary| summary.belief).collect())
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
        let rows = explained.query_map([None::<i64>; 21], |row| row.get::<_, String>(1)).unwrap();
        let steps: Vec<_> = rows.map(Result::unwrap).collect();
        assert!(steps.contains(&"IdxInsert".to_owned()), "{steps:?}");
        assert!(!steps.contains(&"OpenEphemeral".to_owned()), "{steps:?}");
    }
}
