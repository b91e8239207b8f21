//! Sheets of paper: which problems stand on whose sheet, and what was typed in of them.

use super::attempt::{COUNTS, RecordedVerdict, day};
use super::check_value::Checked;
use super::error::At;
use super::ids::{Id, SheetId};
use super::learners::nanoseconds;
use super::{AttemptId, LearnerId, Store, StoreError};
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, params};
use std::collections::HashSet;

/// A sheet that was printed for somebody.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Its id.
    pub id: SheetId,
    /// The codes of its problems, in their order.
    pub codes: Vec<String>,
    /// The day on which it was made.
    pub day: Date,
    /// What was typed in, by the place of its problem, without what was taken back.
    pub entered: Vec<(usize, AttemptId, RecordedVerdict)>,
}

impl Sheet {
    /// The problems of which nothing was typed in: their places, from 0.
    pub fn open(&self) -> impl Iterator<Item = usize> {
        (0..self.codes.len()).filter(|at| self.entered.iter().all(|(entered, ..)| entered != at))
    }
}

/// A problem's place on a sheet, as a row of the answers says it: the sheet's key, and how many entries came before.
pub(super) struct Place {
    pub sheet: i64,
    pub entry: i64,
}

/// Somebody's sheets with the same problems in the same order as that one: what was printed on two laptops is one paper.
const THE_SAME: &str = "sheets AS this JOIN sheets ON sheets.learner = this.learner AND sheets.codes = this.codes";

/// Where an answer to a problem of a sheet is to stand; none where it was typed in already, or the sheet is not there.
pub(super) fn place(conn: &Connection, sheet: SheetId, learner: i64, code: &str) -> rusqlite::Result<Option<Place>> {
    let key = "SELECT key FROM sheets WHERE id = ?1 AND learner = ?2";
    let Some(key) = conn.prepare_cached(key)?.query_row(params![sheet.0, learner], |row| row.get(0)).optional()? else {
        return Ok(None);
    };
    let entries = format!(
        "SELECT count(*), coalesce(sum(EXISTS (SELECT 1 FROM marks WHERE marks.target = attempts.id \
         AND marks.kind = 'attempt')), 0) FROM {THE_SAME} JOIN attempts ON attempts.sheet = sheets.key \
         WHERE this.key = ?1 AND attempts.code = ?2"
    );
    let (entries, undone): (i64, i64) =
        conn.prepare_cached(&entries)?.query_row(params![key, code], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok((entries == undone).then_some(Place { sheet: key, entry: entries }))
}

impl Store {
    /// Writes down a sheet for somebody; one with the same problems in the same order is the same sheet, and stays.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be written.
    pub fn add_sheet(
        &mut self,
        learner: LearnerId,
        codes: &[String],
        day: Date,
        now: Timestamp,
    ) -> Result<(), StoreError> {
        let codes = serde_json::Value::from(codes).to_string();
        let sql = Checked::named("sheets").insert(
            "SELECT ?1 AS id, coalesce(same_as, key) AS learner, ?3 AS codes, ?4 AS made_at, ?5 AS day FROM learners \
             WHERE learners.id = ?2 AND NOT EXISTS (SELECT 1 FROM sheets WHERE sheets.learner = coalesce(same_as, learners.key) \
             AND sheets.codes = ?3)",
        );
        let values = params![Id::new(now), learner.0, codes, nanoseconds(now), day.to_string()];
        let written = self.conn.execute(&sql, values).at(&self.path)?;
        if written == 0 && self.learner(learner)?.is_none() {
            return Err(StoreError::NoSuchLearner(learner));
        }
        Ok(())
    }

    /// The sheets of somebody, the latest first. One that was printed on two laptops is there once.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn sheets(&self, learner: LearnerId) -> Result<Vec<Sheet>, StoreError> {
        let sql = "SELECT key, id, codes, day FROM sheets WHERE learner = \
                   (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) ORDER BY made_at DESC, id DESC";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        let rows = statement
            .query_map([learner.0], |row| {
                let codes: String = row.get(2)?;
                Ok((row.get::<_, i64>(0)?, SheetId(row.get(1)?), codes, day(row, 3)?))
            })
            .at(&self.path)?;
        let rows: Vec<_> = rows.collect::<rusqlite::Result<_>>().at(&self.path)?;
        let mut known = HashSet::new();
        rows.into_iter()
            .filter(|(_, _, codes, _)| known.insert(codes.clone()))
            .map(|(key, id, codes, day)| {
                // What cannot be read has no problems; `verify` says so.
                let codes: Vec<String> = serde_json::from_str(&codes).unwrap_or_default();
                let entered = self.entered(key, &codes)?;
                Ok(Sheet { id, codes, day, entered })
            })
            .collect()
    }

    fn entered(&self, sheet: i64, codes: &[String]) -> Result<Vec<(usize, AttemptId, RecordedVerdict)>, StoreError> {
        let sql = format!(
            "SELECT attempts.id, code, verdict, mixup FROM {THE_SAME} JOIN attempts ON attempts.sheet = sheets.key \
             WHERE this.key = ?1 AND {COUNTS} ORDER BY attempts.id"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement
            .query_map([sheet], |row| {
                let code: String = row.get(1)?;
                let at = codes.iter().position(|known| *known == code);
                Ok(at.map(|at| Ok((at, AttemptId(row.get(0)?), RecordedVerdict::read(row, 2, 3)?))))
            })
            .at(&self.path)?;
        let entered = rows.filter_map(|row| row.and_then(Option::transpose).transpose());
        entered.collect::<rusqlite::Result<_>>().at(&self.path)
    }
}
