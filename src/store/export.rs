//! Records as lines of JSON, for a parent who asks and for other programs; read again they are the same records.
//!
//! The first line is `{"kind":"needlewise-records","format":1}`. Each other line is one record: `kind` says which (`patrol`,
//! `learner`, `alias`, `check`, `sheet`, `sitting`, `answer`, `seen`, `mark`, `sheet-mark`, `lesson`, `evening`, `erased`), and its other names are
//! those of `DESCRIBED`. Records come behind those that they refer to, each kind by its ids. Ids are UUIDs, moments
//! are in UTC with nanoseconds, days are the learner's own, what is not known is null, and what is JSON in the file
//! (facts, answers, moves) stands there as JSON. Numbers of seeds go to 2^64.

use super::described::{As, DESCRIBED, Described};
use super::error::At;
use super::ids::Id;
use super::learners::moment;
use super::namesakes::WITH_ANOTHER;
use super::{LearnerId, Store, StoreError};
use crate::textfile::unshowable;
use rusqlite::types::ValueRef;
use rusqlite::{Connection, Row};
use std::fmt::Write as _;
use std::io::{self, Write};

/// The first line.
pub(super) const FIRST: &str = r#"{"kind":"needlewise-records","format":1}"#;

/// What can go wrong while records are written out.
#[derive(Debug, thiserror::Error)]
pub enum ExportError {
    /// The store cannot be read.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// What is written to cannot be written.
    #[error(transparent)]
    Write(#[from] io::Error),
}

impl Store {
    /// Writes all records, or those of one learner, as lines of JSON.
    ///
    /// # Errors
    /// [`ExportError`].
    pub fn export(&mut self, learner: Option<LearnerId>, out: &mut dyn Write) -> Result<(), ExportError> {
        let Store { path, conn, .. } = self;
        // All of one moment, whoever writes meanwhile.
        let tx = conn.transaction().at(path)?;
        writeln!(out, "{FIRST}")?;
        let mut line = String::new();
        for described in &DESCRIBED {
            let sql = select(described, learner.is_some());
            let mut statement = tx.prepare(&sql).at(path)?;
            let mut rows = match learner {
                Some(learner) => statement.query([learner.0]).at(path)?,
                None => statement.query([]).at(path)?,
            };
            while let Some(row) = rows.next().at(path)? {
                line.clear();
                write_line(described, row, &mut line).at(path)?;
                writeln!(out, "{line}")?;
            }
        }
        if learner.is_none() {
            erased(&tx, out, path)?;
        }
        tx.commit().at(path)?;
        Ok(())
    }
}

/// What stands in a row of the answers for a spreadsheet.
const CSV_HEADER: [&str; 14] = [
    "learner",
    "patrol",
    "day",
    "at",
    "given_in",
    "skill",
    "level",
    "code",
    "given",
    "right_answer",
    "verdict",
    "mixup",
    "help",
    "counts",
];

impl Store {
    /// Writes all answers, or those of one learner, as a table for a spreadsheet: a row each, in the order they were given.
    /// `help` counts from 0, none, to 5, the answer; `counts` is no for what was taken back. A text that a spreadsheet would take
    /// for a formula stands behind an apostrophe.
    ///
    /// # Errors
    /// [`ExportError`].
    pub fn export_csv(&mut self, learner: Option<LearnerId>, out: &mut dyn Write) -> Result<(), ExportError> {
        let Store { path, conn, .. } = self;
        let wanted = if learner.is_some() { format!("WHERE own.learner IN {PERSON}") } else { String::new() };
        let sql = format!(
            "SELECT learners.name, (SELECT name FROM patrols WHERE key = learners.patrol), own.day, own.at, own.kind, skill, level, \
             code, given, right_answer, verdict, mixup, coalesce(help, 3 * hinted), NOT EXISTS (SELECT 1 FROM marks \
             WHERE marks.target = own.id AND marks.kind = 'attempt') \
             FROM attempts AS own JOIN learners ON learners.key = own.learner {wanted} ORDER BY own.id"
        );
        let mut statement = conn.prepare(&sql).at(path)?;
        let mut rows = match learner {
            Some(learner) => statement.query([learner.0]).at(path)?,
            None => statement.query([]).at(path)?,
        };
        let failed = |error: csv::Error| ExportError::Write(error.into());
        let mut table = csv::Writer::from_writer(out);
        table.write_record(CSV_HEADER).map_err(failed)?;
        while let Some(row) = rows.next().at(path)? {
            let cells: rusqlite::Result<Vec<String>> = (0..CSV_HEADER.len()).map(|at| cell(row, at)).collect();
            table.write_record(cells.at(path)?).map_err(failed)?;
        }
        Ok(table.flush()?)
    }
}

/// A cell of the table.
fn cell(row: &Row<'_>, at: usize) -> rusqlite::Result<String> {
    Ok(match (CSV_HEADER.get(at).copied(), row.get_ref(at)?) {
        (_, ValueRef::Null) => String::new(),
        (Some("at"), _) => moment(row.get(at)?).to_string(),
        (Some("counts"), _) => if row.get(at)? { "yes" } else { "no" }.to_owned(),
        (_, ValueRef::Integer(number)) => number.to_string(),
        _ => {
            let text: String = super::attempt::text(row, at)?.chars().filter(|c| !unshowable(*c)).collect();
            if text.starts_with(['=', '+', '-', '@']) { format!("'{text}") } else { text }
        }
    })
}

/// Nothing is left of them but that they were erased, and when; `null` where they went with another of the same person.
fn erased(conn: &Connection, out: &mut dyn Write, path: &std::path::Path) -> Result<(), ExportError> {
    let mut statement = conn.prepare("SELECT learner, erased_at FROM tombstones ORDER BY learner").at(path)?;
    let mut rows = statement.query([]).at(path)?;
    while let Some(row) = rows.next().at(path)? {
        let (learner, at): (Id, i64) = (row.get(0).at(path)?, row.get(1).at(path)?);
        let at = if at == WITH_ANOTHER { "null".to_owned() } else { format!("\"{}\"", moment(at)) };
        writeln!(out, r#"{{"kind":"erased","learner":"{}","erased_at":{at}}}"#, learner.0)?;
    }
    Ok(())
}

/// All ids of the person with the id `?1`.
const PERSON: &str = "(SELECT one.key FROM learners AS one JOIN learners AS two ON two.id = ?1 \
                      WHERE coalesce(one.same_as, one.key) = coalesce(two.same_as, two.key))";

fn select(described: &Described, of_one: bool) -> String {
    let mut columns = Vec::new();
    for (_, column, what) in described.columns {
        columns.push(match what {
            As::Of(table) => format!("(SELECT id FROM {table} WHERE key = own.{column})"),
            _ => (*column).to_owned(),
        });
    }
    let wanted = match (of_one, described.table) {
        (false, _) => String::new(),
        (true, "patrols") => format!("WHERE key IN (SELECT patrol FROM learners WHERE key IN {PERSON})"),
        (true, "learners") => format!("WHERE key IN {PERSON}"),
        // It is about all who are there, and not one learner's.
        (true, "evenings") => "WHERE ?1 IS NULL".to_owned(),
        (true, "aliases") => format!("WHERE learner IN {PERSON} AND other IN {PERSON}"),
        (true, _) => format!("WHERE learner IN {PERSON}"),
    };
    let order = if matches!(described.table, "lessons" | "evenings") { "1, 2" } else { "own.id" };
    format!("SELECT {} FROM {} AS own {wanted} ORDER BY {order}", columns.join(", "), described.table)
}

fn write_line(described: &Described, row: &Row<'_>, line: &mut String) -> rusqlite::Result<()> {
    let _ = write!(line, r#"{{"kind":"{}""#, described.kind);
    for (at, (name, _, what)) in described.columns.iter().enumerate() {
        let _ = write!(line, r#","{name}":"#);
        match (what, row.get_ref(at)?) {
            (_, ValueRef::Null) => line.push_str("null"),
            (As::Id | As::Of(_) | As::AnyId, _) => {
                let _ = write!(line, "\"{}\"", row.get::<_, Id>(at)?.0);
            }
            (As::Moment, _) => {
                let _ = write!(line, "\"{}\"", moment(row.get(at)?));
            }
            (As::Number, _) => {
                let _ = write!(line, "{}", row.get::<_, i64>(at)?);
            }
            (As::Unsigned, _) => {
                let _ = write!(line, "{}", row.get::<_, i64>(at)?.cast_unsigned());
            }
            (As::Flag, _) => line.push_str(if row.get(at)? { "true" } else { "false" }),
            (As::Json, _) => {
                let text = super::attempt::text(row, at)?;
                if is_plain_json(text) { line.push_str(text) } else { quoted(text, line) }
            }
            (As::Text, _) => quoted(super::attempt::text(row, at)?, line),
        }
    }
    line.push('}');
    Ok(())
}

/// Whether a text is a list or an object that can stand in a line as it is, and comes back from it as it is. Whatever else
/// stands there is written as a text.
fn is_plain_json(text: &str) -> bool {
    text.starts_with(['{', '['])
        && text.ends_with(['}', ']'])
        && !text.contains(unshowable)
        && serde_json::from_str::<serde::de::IgnoredAny>(text).is_ok()
}

/// A text as JSON writes it, with everything that cannot be seen written by its number.
fn quoted(text: &str, line: &mut String) {
    line.push('"');
    for c in text.chars() {
        match c {
            '"' | '\\' => line.extend(['\\', c]),
            '\n' => line.push_str("\\n"),
            '\t' => line.push_str("\\t"),
            c if unshowable(c) => {
                let mut units = [0; 2];
                for unit in c.encode_utf16(&mut units) {
                    let _ = write!(line, "\\u{unit:04x}");
                }
            }
            c => line.push(c),
        }
    }
    line.push('"');
}
