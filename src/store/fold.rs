//! Beliefs as a fold over attempts: the summaries, and how they are folded anew.

use super::attempt::{COUNTS, broken, day, exposed, level, outcome, text};
use super::check_value::Fnv;
use super::error::At;
use super::ids::Id;
use super::learners::{moment, placement_of};
use super::{AttemptId, Help, LearnerId, Store, StoreError};
use crate::learner::{Beliefs, Change, Evidence, MODEL, Placement, SkillBelief};
use crate::problem::SkillMeta;
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};
use std::collections::{BTreeMap, HashSet};

/// Says by which model and which registry beliefs are folded: FNV-1a over the model's version and all that the fold reads
/// of a skill. Summaries with another number are folded anew when they are next read. Never 0, which the file may use
/// for "fold anew in any case".
pub(super) fn fingerprint(skills: &[&'static SkillMeta]) -> i64 {
    let mut hash = Fnv::new();
    let mut take = |part: &str| {
        hash.take(part.as_bytes());
        hash.take(&[0]);
    };
    take(&MODEL.to_string());
    for skill in skills {
        take(skill.id);
        for mixup in skill.mixups {
            take(mixup.id.as_str());
            take(mixup.class.id());
        }
        take("");
    }
    hash.number() | 1
}

/// What the file knows of a learner before their attempts.
#[derive(Clone, Copy, Debug)]
pub(super) struct Head {
    pub(super) key: i64,
    pub(super) placement: Placement,
    pub(super) fold: i64,
    /// How often their past was changed.
    pub(super) revision: i64,
}

pub(super) fn head(conn: &Connection, learner: LearnerId) -> rusqlite::Result<Option<Head>> {
    // Another id of the same person stands for that one.
    let sql = "SELECT key, placement, fold, revision FROM learners \
               WHERE key = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1)";
    conn.prepare_cached(sql)?
        .query_row([learner.0], |row| {
            let placement = placement_of(text(row, 1)?);
            Ok(Head { key: row.get(0)?, placement, fold: row.get(2)?, revision: row.get(3)? })
        })
        .optional()
}

/// The present end of a learner's fold in one skill.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Summary {
    pub(super) attempts: i64,
    pub(super) last: Id,
    pub(super) belief: SkillBelief,
}

/// A learner's summaries as they stand in the file, by skill.
pub(super) fn summaries(conn: &Connection, learner_key: i64) -> rusqlite::Result<BTreeMap<String, Summary>> {
    let mut statement =
        conn.prepare_cached("SELECT skill, attempts, last, belief FROM summaries WHERE learner = ?1")?;
    let rows = statement.query_map([learner_key], |row| {
        let belief = serde_json::from_str(text(row, 3)?).map_err(|error| broken(3, error))?;
        Ok((row.get(0)?, Summary { attempts: row.get(1)?, last: row.get(2)?, belief }))
    })?;
    rows.collect()
}

/// The id of a learner's last attempt.
pub(super) fn last(conn: &Connection, learner_key: i64) -> rusqlite::Result<Option<Id>> {
    // Not max(id), which goes through all of them.
    conn.prepare_cached("SELECT id FROM attempts WHERE learner = ?1 ORDER BY id DESC LIMIT 1")?
        .query_row([learner_key], |row| row.get(0))
        .optional()
}

/// What the summaries in the file say of a learner.
pub(super) fn restored(conn: &Connection, learner: &Head, skills: &[&'static SkillMeta]) -> rusqlite::Result<Beliefs> {
    let mut beliefs = Beliefs::new(skills, learner.placement);
    for summary in summaries(conn, learner.key)?.into_values() {
        beliefs.restore(summary.belief);
    }
    Ok(beliefs)
}

/// A fold over all attempts of a learner that count.
#[derive(Debug)]
pub(super) struct Folded {
    pub(super) beliefs: Beliefs,
    /// What the last of them changed; none when it is of a skill that this program does not know.
    pub(super) change: Option<Change>,
    /// By skill, how many there are, and the last.
    ends: BTreeMap<String, (i64, Id)>,
}

impl Folded {
    /// The summaries as they should stand in the file.
    pub(super) fn summaries(self) -> BTreeMap<String, Summary> {
        let Folded { beliefs, ends, .. } = self;
        let summary = |(skill, (attempts, last)): (String, _)| {
            let belief = beliefs.skill(&skill)?.clone();
            Some((skill, Summary { attempts, last, belief }))
        };
        ends.into_iter().filter_map(summary).collect()
    }
}

/// Folds the attempts of a learner that were not taken back, in the order of their ids.
pub(super) fn fold(conn: &Connection, learner: &Head, skills: &[&'static SkillMeta]) -> rusqlite::Result<Folded> {
    fold_wanted(conn, learner, skills, |_| true)
}

/// The same over those of them that are wanted.
fn fold_wanted(
    conn: &Connection,
    learner: &Head,
    skills: &[&'static SkillMeta],
    wanted: impl Fn(Id) -> bool,
) -> rusqlite::Result<Folded> {
    let mut folded = Folded { beliefs: Beliefs::new(skills, learner.placement), change: None, ends: BTreeMap::new() };
    let mut statement = conn.prepare_cached(&format!(
        "SELECT id, skill, level, day, verdict, mixup, exposed, help, hinted, explained, at FROM attempts \
         WHERE learner = ?1 AND {COUNTS} ORDER BY id"
    ))?;
    let mut rows = statement.query([learner.key])?;
    while let Some(row) = rows.next()? {
        let id = row.get(0)?;
        if !wanted(id) {
            continue;
        }
        let skill = text(row, 1)?;
        let exposed = exposed(row, 6)?;
        let exposed: Vec<&str> = exposed.iter().map(String::as_str).collect();
        folded.change = folded.beliefs.observe(&Evidence {
            skill,
            level: level(row, 2)?,
            day: day(row, 3)?,
            outcome: outcome(row, 4, 5)?,
            exposed: &exposed,
            hinted: !Help::read(row, 7, 8)?.is_evidence(),
            explained: row.get(9)?,
            at: moment(row.get(10)?),
        });
        // A skill that this program does not know keeps its attempts, and has no belief until a program knows it.
        if folded.change.is_none() {
            continue;
        }
        match folded.ends.get_mut(skill) {
            Some(end) => *end = (end.0 + 1, id),
            None => drop(folded.ends.insert(skill.to_owned(), (1, id))),
        }
    }
    Ok(folded)
}

/// Folds a learner anew and puts the result into the file.
pub(super) fn refold(
    conn: &Connection,
    learner: &Head,
    skills: &[&'static SkillMeta],
    fold_number: i64,
) -> rusqlite::Result<Folded> {
    let folded = fold(conn, learner, skills)?;
    conn.prepare_cached("DELETE FROM summaries WHERE learner = ?1")?.execute([learner.key])?;
    let mut insert = conn
        .prepare_cached("INSERT INTO summaries (learner, skill, attempts, last, belief) VALUES (?1, ?2, ?3, ?4, ?5)")?;
    for (skill, (attempts, last)) in &folded.ends {
        if let Some(belief) = folded.beliefs.skill(skill) {
            insert.execute(params![learner.key, skill, attempts, last, written(belief)?])?;
        }
    }
    conn.prepare_cached("UPDATE learners SET fold = ?2 WHERE key = ?1")?.execute([learner.key, fold_number])?;
    Ok(folded)
}

/// A belief as the file keeps it.
pub(super) fn written(belief: &SkillBelief) -> rusqlite::Result<String> {
    serde_json::to_string(belief).map_err(|error| rusqlite::Error::ToSqlConversionFailure(error.into()))
}

impl Store {
    /// What is believed of a learner. Read from the summaries, so it takes the same time however long the record is.
    /// Summaries of another model or registry are folded anew first, and so are those of somebody whose answer was taken
    /// back.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be read (or, when folding anew, written).
    pub fn beliefs(&mut self, learner: LearnerId) -> Result<Beliefs, StoreError> {
        let Store { path, conn, read_only, skills, fold: ours, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Deferred).at(path)?;
        let at = head(&tx, learner).at(path)?.ok_or(StoreError::NoSuchLearner(learner))?;
        let found = match at.fold {
            fold if fold == *ours => Some(restored(&tx, &at, skills).at(path)?),
            _ if *read_only => Some(fold(&tx, &at, skills).at(path)?.beliefs),
            _ => None,
        };
        tx.commit().at(path)?;
        if let Some(beliefs) = found {
            return Ok(beliefs);
        }
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let at = head(&tx, learner).at(path)?.ok_or(StoreError::NoSuchLearner(learner))?;
        let folded = refold(&tx, &at, skills, *ours).at(path)?;
        tx.commit().at(path)?;
        Ok(folded.beliefs)
    }

    /// What would be believed of a learner without some of the answers, and what the last of the others changed. Folded
    /// from all attempts, so it takes the longer the longer the record is.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be read.
    pub fn beliefs_without(
        &self,
        learner: LearnerId,
        left_out: &HashSet<AttemptId>,
    ) -> Result<(Beliefs, Option<Change>), StoreError> {
        let at = head(&self.conn, learner).at(&self.path)?.ok_or(StoreError::NoSuchLearner(learner))?;
        let wanted = |id| !left_out.contains(&AttemptId(id));
        let folded = fold_wanted(&self.conn, &at, &self.skills, wanted).at(&self.path)?;
        Ok((folded.beliefs, folded.change))
    }

    /// The day of a learner's last answer.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn last_day(&self, learner: LearnerId) -> Result<Option<Date>, StoreError> {
        let sql = "SELECT day FROM attempts WHERE learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) \
                   ORDER BY id DESC LIMIT 1";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        statement.query_row([learner.0], |row| day(row, 0)).optional().at(&self.path)
    }

    /// Folds all attempts of all learners anew and replaces the summaries.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read or written; learners already done stay done.
    pub fn rebuild(&mut self) -> Result<(), StoreError> {
        let ids: Vec<LearnerId> = {
            let mut statement = self.conn.prepare_cached("SELECT id FROM learners").at(&self.path)?;
            let rows = statement.query_map([], |row| row.get(0).map(LearnerId)).at(&self.path)?;
            rows.collect::<rusqlite::Result<_>>().at(&self.path)?
        };
        let Store { path, conn, skills, fold, .. } = self;
        for id in ids {
            let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
            // Erased by another program meanwhile: nothing to do.
            if let Some(learner) = head(&tx, id).at(path)? {
                refold(&tx, &learner, skills, *fold).at(path)?;
            }
            tx.commit().at(path)?;
        }
        Ok(())
    }
}
