//! Recording an answer: the attempt and its summary in one transaction, on the disk before the call returns.

use super::error::At;
use super::fold::{Head, Summary, head, last, refold, summaries, written};
use super::ids::Id;
use super::learners::nanoseconds;
use super::{AttemptId, NewAttempt, Store, StoreError};
use crate::learner::{Beliefs, SkillBelief};
use crate::problem::SkillMeta;
use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};

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
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let learner = head(&tx, attempt.learner).at(path)?.ok_or(StoreError::NoSuchLearner(attempt.learner))?;
        let session = session(&tx, attempt, &learner).at(path)?.ok_or(StoreError::NoSuchSession)?;
        let last = last(&tx, learner.key).at(path)?;
        let id = Id::after(last, attempt.at);
        insert(&tx, id, &learner, session, attempt).at(path)?;
        let known = skills.iter().any(|skill| skill.id == attempt.skill);
        // The first condition sees answers in any skill, the second also a caller whose beliefs are older than its last
        // reading here.
        let up_to_date = seen.get(&attempt.learner).copied().flatten() == last
            && (!known || takes_in_all(&tx, &learner, attempt, belief).at(path)?);
        let refolded = if learner.fold != *fold {
            Some(refold(&tx, &learner, skills, *fold).at(path)?.into_values().map(|summary| summary.belief).collect())
        } else if !up_to_date {
            Some(fold_onto(&tx, id, &learner, skills, attempt).at(path)?)
        } else {
            if known {
                put(&tx, id, &learner, attempt, belief).at(path)?;
            }
            None
        };
        tx.commit().at(path)?;
        // A skill this program does not know has no summary, and so does not count as seen.
        seen.insert(attempt.learner, if known { Some(id) } else { last });
        Ok(Recorded { id: AttemptId(id), refolded })
    }
}

fn session(conn: &Connection, attempt: &NewAttempt, learner: &Head) -> rusqlite::Result<Option<i64>> {
    conn.prepare_cached("SELECT key FROM sessions WHERE id = ?1 AND learner = ?2")?
        .query_row(params![attempt.session.0, learner.key], |row| row.get(0))
        .optional()
}

/// Whether the belief is about this skill and counts one answer more than the file.
fn takes_in_all(
    conn: &Connection,
    learner: &Head,
    attempt: &NewAttempt,
    belief: &SkillBelief,
) -> rusqlite::Result<bool> {
    let before: Option<i64> = conn
        .prepare_cached("SELECT attempts FROM summaries WHERE learner = ?1 AND skill = ?2")?
        .query_row(params![learner.key, attempt.skill], |row| row.get(0))
        .optional()?;
    Ok(belief.id() == attempt.skill && i64::from(belief.count()) == before.unwrap_or(0) + 1)
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
    conn.prepare_cached(
        "INSERT INTO attempts (id, learner, session, at, day, kind, code, skill, level, generation, seed, facts, \
         right_answer, given, verdict, mixup, exposed, hinted, explained, took_ms, moves) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21)",
    )?
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

/// Moves the skill's summary on by one attempt.
fn put(conn: &Connection, id: Id, learner: &Head, attempt: &NewAttempt, belief: &SkillBelief) -> rusqlite::Result<()> {
    conn.prepare_cached(
        "INSERT INTO summaries (learner, skill, attempts, last, day, belief) VALUES (?1, ?2, 1, ?3, ?4, ?5) \
         ON CONFLICT (learner, skill) DO UPDATE \
         SET attempts = attempts + 1, last = excluded.last, day = excluded.day, belief = excluded.belief",
    )?
    .execute(params![learner.key, attempt.skill, id, attempt.day.to_string(), written(belief)?])
    .map(drop)
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
        put(conn, id, learner, attempt, belief)?;
        let now = Summary { attempts: 0, last: id, day: attempt.day, belief: belief.clone() };
        met.insert(attempt.skill.clone(), now);
    }
    Ok(met.into_values().map(|summary| summary.belief).collect())
}
