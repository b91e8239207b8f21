//! Holding the summaries against the attempts, and the file against itself.

use super::check_value::{CHECKED, Checked};
use super::error::At;
use super::fold::{fold, head, summaries};
use super::{LearnerId, Store, StoreError, schema};
use rusqlite::{Connection, TransactionBehavior};
use std::collections::BTreeSet;

/// What a verification found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Verified {
    /// How many learners were looked at.
    pub learners: u64,
    /// How many attempts were folded; those that were taken back and those of skills unknown here are not.
    pub attempts: u64,
    /// Learners whose summaries belong to another version of the model or the registry; they are folded anew when they are
    /// next read, so there is nothing to compare.
    pub outdated: u64,
    /// Summaries that are not what the attempts say. [`Store::rebuild`] mends them: the attempts are the truth.
    pub differences: Vec<Difference>,
}

/// A summary that is not what the attempts say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// Whose summary it is.
    pub learner: LearnerId,
    /// Of which skill.
    pub skill: String,
}

impl Store {
    /// Checks every page and reference of the file, folds all attempts anew and compares the result with the summaries.
    /// Writes nothing.
    ///
    /// # Errors
    /// [`StoreError::Corrupt`] when the file itself is damaged.
    pub fn verify(&mut self) -> Result<Verified, StoreError> {
        let Store { path, conn, skills, fold: ours, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Deferred).at(path)?;
        if let Some(detail) = damage(&tx).at(path)? {
            return Err(StoreError::Corrupt { path: path.clone(), detail });
        }
        let ids: Vec<LearnerId> = {
            let mut statement = tx.prepare("SELECT id FROM learners ORDER BY key").at(path)?;
            let rows = statement.query_map([], |row| row.get(0).map(LearnerId)).at(path)?;
            rows.collect::<rusqlite::Result<_>>().at(path)?
        };
        let mut verified = Verified::default();
        for id in ids {
            let Some(learner) = head(&tx, id).at(path)? else { continue };
            verified.learners += 1;
            let mut wanted = fold(&tx, &learner, skills).at(path)?.summaries();
            verified.attempts += wanted.values().map(|summary| summary.attempts.unsigned_abs()).sum::<u64>();
            if learner.fold != *ours {
                verified.outdated += 1;
                continue;
            }
            for (skill, kept) in summaries(&tx, learner.key).at(path)? {
                if wanted.remove(&skill).is_none_or(|wanted| wanted != kept) {
                    verified.differences.push(Difference { learner: id, skill });
                }
            }
            verified.differences.extend(wanted.into_keys().map(|skill| Difference { learner: id, skill }));
        }
        tx.commit().at(path)?;
        Ok(verified)
    }
}

/// The first thing that is wrong with the file, in SQLite's words or ours.
fn damage(conn: &Connection) -> rusqlite::Result<Option<String>> {
    let said: String = conn.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
    if said != "ok" {
        return Ok(Some(said));
    }
    if schema::version(conn)? == schema::VERSION {
        let ours = described(&schema::in_memory()?)?;
        if let Some((name, _)) = described(conn)?.difference(&ours).chain(ours.difference(&described(conn)?)).next() {
            return Ok(Some(format!("what {name} should hold is not described as it was")));
        }
    }
    let mut references = conn.prepare("PRAGMA foreign_key_check")?;
    if let Some(row) = references.query([])?.next()? {
        let table: String = row.get(0)?;
        return Ok(Some(format!("a row of {table} belongs to nothing")));
    }
    for checked in CHECKED {
        let Checked { table, .. } = checked;
        let sql = format!("SELECT EXISTS (SELECT 1 FROM {table} WHERE check_value IS NOT {})", checked.value());
        if conn.query_row(&sql, [], |row| row.get(0))? {
            return Ok(Some(format!("a record of {table} is not as it was written")));
        }
    }
    for (lost, what) in LOST {
        if conn.query_row(&format!("SELECT EXISTS ({lost})"), [], |row| row.get(0))? {
            return Ok(Some((*what).to_owned()));
        }
    }
    Ok(None)
}

/// How the tables, indices and triggers are described. A bit that flips there could let anything in.
fn described(conn: &Connection) -> rusqlite::Result<BTreeSet<(String, Option<String>)>> {
    let mut statement = conn.prepare("SELECT name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_%'")?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    rows.collect()
}

/// What no foreign key can see: a query for what should not be there, and what it is then.
const LOST: &[(&str, &str)] = &[
    (
        "SELECT 1 FROM attempts LEFT JOIN sessions ON sessions.key = attempts.session \
         WHERE sessions.key IS NULL OR sessions.learner <> attempts.learner",
        "an attempt belongs to no session",
    ),
    (
        "SELECT 1 FROM attempts JOIN sheets ON sheets.key = attempts.sheet WHERE sheets.learner <> attempts.learner",
        "an attempt stands on a sheet of somebody else",
    ),
    (
        "SELECT 1 FROM attempts JOIN sheets ON sheets.key = attempts.sheet \
         WHERE NOT EXISTS (SELECT 1 FROM json_each(sheets.codes) WHERE json_each.value = attempts.code)",
        "an attempt stands on a sheet that has no such problem",
    ),
    (
        "SELECT 1 FROM sheet_marks JOIN sheets ON sheets.key = sheet_marks.sheet \
         WHERE sheets.learner <> sheet_marks.learner OR (code IS NOT NULL \
         AND NOT EXISTS (SELECT 1 FROM json_each(sheets.codes) WHERE json_each.value = code))",
        "a word about a sheet is about none of the same learner with such a problem",
    ),
    (
        "SELECT 1 FROM learners WHERE revision < \
         (SELECT count(*) FROM marks WHERE marks.learner = learners.key AND marks.kind = 'attempt')",
        "a mark was set past the learner's summaries",
    ),
    (
        "SELECT 1 FROM marks WHERE NOT CASE kind \
         WHEN 'attempt' THEN EXISTS (SELECT 1 FROM attempts WHERE attempts.learner = marks.learner AND attempts.id = target) \
         WHEN 'seen' THEN EXISTS (SELECT 1 FROM seen WHERE seen.learner = marks.learner AND seen.id = target) \
         ELSE EXISTS (SELECT 1 FROM checks WHERE checks.learner = marks.learner AND checks.id = target) END",
        "a mark belongs to nothing",
    ),
];
