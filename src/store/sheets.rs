//! Sheets of paper: which problems stand on whose sheet, what was typed in of them, and what was said of a sheet.

use super::attempt::{COUNTS, RecordedVerdict, day};
use super::check_value::Checked;
use super::error::At;
use super::ids::{Id, SheetId};
use super::learners::nanoseconds;
use super::{AttemptId, LearnerId, Store, StoreError};
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};
use std::collections::{BTreeSet, HashSet};

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
    /// The places of the problems that nobody worked on it, in their order, without those that were typed in.
    pub not_done: Vec<usize>,
    /// Whether it was put away: it will not come back.
    pub put_away: bool,
}

/// What can be said of a sheet that was printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SheetWord {
    /// It will not come back.
    PutAway,
    /// It may come back, after all.
    TakenOut,
    /// Nobody worked the problem with this code on it.
    NotDone(String),
    /// That was said by a slip: the problem is open.
    Open(String),
}

impl SheetWord {
    /// How it stands in the file, and about which problem it is.
    fn parts(&self) -> (&'static str, Option<&str>) {
        match self {
            SheetWord::PutAway => ("put-away", None),
            SheetWord::TakenOut => ("taken-out", None),
            SheetWord::NotDone(code) => ("not-done", Some(code)),
            SheetWord::Open(code) => ("open", Some(code)),
        }
    }
}

impl Sheet {
    /// The problems of which nothing was typed in, not even that nobody worked them: their places, from 0.
    pub fn open(&self) -> impl Iterator<Item = usize> {
        let is_open =
            |at: &usize| !self.not_done.contains(at) && self.entered.iter().all(|(entered, ..)| entered != at);
        (0..self.codes.len()).filter(is_open)
    }

    /// Whether something may still be typed in of it: it was not put away, and has open problems.
    #[must_use]
    pub fn is_awaited(&self) -> bool {
        !self.put_away && self.open().next().is_some()
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
                let (put_away, mut not_done) = self.said_of_sheet(key, &codes)?;
                not_done.retain(|at| entered.iter().all(|(typed, ..)| typed != at));
                Ok(Sheet { id, codes, day, entered, not_done, put_away })
            })
            .collect()
    }

    /// Writes down what is said of a sheet. What was said before stays in the file; the later word counts.
    ///
    /// # Errors
    /// [`StoreError::NoSuchSheet`], or the file cannot be written; then nothing was said.
    pub fn say_of_sheet(
        &mut self,
        sheet: SheetId,
        word: &SheetWord,
        day: Date,
        now: Timestamp,
    ) -> Result<(), StoreError> {
        let Store { path, conn, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        // Behind all that was said before of the same learner's sheets, whatever the clock says.
        let last = "SELECT max(sheet_marks.id) FROM sheets JOIN sheet_marks ON sheet_marks.learner = sheets.learner \
                    WHERE sheets.id = ?1";
        let last: Option<Id> = tx.query_row(last, [sheet.0], |row| row.get(0)).at(path)?;
        let sql = Checked::named("sheet_marks").insert(
            "SELECT ?1 AS id, learner, key AS sheet, ?3 AS what, ?4 AS code, ?5 AS marked_at, ?6 AS day FROM sheets \
             WHERE id = ?2 AND (?4 IS NULL OR EXISTS (SELECT 1 FROM json_each(codes) WHERE json_each.value = ?4))",
        );
        let (what, code) = word.parts();
        let values = params![Id::apart_after(last, now), sheet.0, what, code, nanoseconds(now), day.to_string()];
        if tx.execute(&sql, values).at(path)? == 0 {
            return Err(StoreError::NoSuchSheet);
        }
        tx.commit().at(path)
    }

    /// Whether a sheet was put away, and which of its problems nobody worked, by the last word about each.
    fn said_of_sheet(&self, sheet: i64, codes: &[String]) -> Result<(bool, Vec<usize>), StoreError> {
        let sql = format!(
            "SELECT what, code FROM {THE_SAME} JOIN sheet_marks ON sheet_marks.sheet = sheets.key WHERE this.key = ?1 \
             ORDER BY sheet_marks.id"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let mut rows = statement.query([sheet]).at(&self.path)?;
        let (mut put_away, mut not_done) = (false, BTreeSet::new());
        while let Some(row) = rows.next().at(&self.path)? {
            let (what, code): (String, Option<String>) = (row.get(0).at(&self.path)?, row.get(1).at(&self.path)?);
            let place = codes.iter().position(|known| Some(known) == code.as_ref());
            match (what.as_str(), place) {
                ("put-away", _) => put_away = true,
                ("taken-out", _) => put_away = false,
                ("not-done", Some(at)) => drop(not_done.insert(at)),
                ("open", Some(at)) => drop(not_done.remove(&at)),
                // The table's own check leaves no other word.
                _ => {}
            }
        }
        Ok((put_away, not_done.into_iter().collect()))
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
