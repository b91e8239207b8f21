//! Reading exported lines again: into a store of their own first, which is then merged like that of another laptop.

use super::backup::Draft;
use super::described::{As, Described};
use super::error::At;
use super::export::FIRST;
use super::ids::Id;
use super::learners::nanoseconds;
use super::name::Name;
use super::namesakes::WITH_ANOTHER;
use super::open::{connect, fill_draft};
use super::{StoreError, people};
use jiff::Timestamp;
use rusqlite::types::Value;
use rusqlite::{Connection, OpenFlags, TransactionBehavior, params_from_iter};
use serde_json::value::RawValue;
use std::collections::{BTreeMap, HashMap};
use std::io::BufRead;
use std::path::Path;
use uuid::Uuid;

/// Longer than any line that was ever written.
const LONGEST_LINE: usize = 1 << 24;

/// A line, still as it was written.
type Line = BTreeMap<String, Box<RawValue>>;

/// Reads exported lines into a store beside the one at `beside`. `file` is what messages call them.
///
/// # Errors
/// [`StoreError::BadLine`], which says the line and the mend; or there is no room.
pub(super) fn read(lines: &mut dyn BufRead, file: &Path, beside: &Path) -> Result<Draft, StoreError> {
    let draft = Draft::beside(beside).map_err(|why| StoreError::from_creating(why, beside))?;
    fill_draft(&draft.0, Id::new(Timestamp::UNIX_EPOCH)).map_err(|failure| failure.at(beside))?;
    let mut conn = connect(&draft.0, OpenFlags::SQLITE_OPEN_READ_WRITE).at(beside)?;
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(beside)?;
    let mut reader = Reader { inserts: HashMap::new() };
    let mut line = Vec::new();
    for number in 1.. {
        line.clear();
        let bad = |what: String| StoreError::BadLine { path: file.to_owned(), line: number, what };
        let read = std::io::Read::take(&mut *lines, LONGEST_LINE as u64).read_until(b'\n', &mut line);
        if read.map_err(|why| StoreError::CannotOpen { path: file.to_owned(), why: why.to_string() })? == 0 {
            if number == 1 {
                return Err(bad(format!("records begin with the line {FIRST}")));
            }
            break;
        }
        let text = std::str::from_utf8(&line).map_err(|_| bad("it is no text".to_owned()))?.trim();
        if number == 1 {
            if text != FIRST {
                return Err(bad(format!("records begin with the line {FIRST}")));
            }
        } else if !text.is_empty() {
            let parsed: Line =
                serde_json::from_str(text).map_err(|error| bad(format!("it is no object of JSON ({error})")))?;
            reader.take(&tx, &parsed).map_err(bad)?;
        }
    }
    people::work_out(&tx).at(beside)?;
    tx.commit().at(beside)?;
    super::backup::close(conn).at(beside)?;
    Ok(draft)
}

struct Reader {
    /// The statement for each kind.
    inserts: HashMap<&'static str, String>,
}

impl Reader {
    /// Writes one line's record; else what is wrong with it, for people.
    fn take(&mut self, conn: &Connection, line: &Line) -> Result<(), String> {
        let kind: String = line.get("kind").and_then(|kind| serde_json::from_str(kind.get()).ok()).unwrap_or_default();
        if kind == "erased" {
            let (learner, at) = (value("learner", As::AnyId, line)?, value("erased_at", As::Moment, line)?);
            let at = if at == Value::Null { Value::Integer(WITH_ANOTHER) } else { at };
            let sql = "INSERT INTO tombstones (learner, erased_at) VALUES (?1, ?2)";
            return conn.execute(sql, [learner, at]).map(drop).map_err(|error| refused(&error));
        }
        let described = Described::of_kind(&kind)
            .ok_or_else(|| format!("there is no kind {kind:?} of records; a newer program may have written it"))?;
        for name in line.keys().filter(|name| *name != "kind") {
            if !described.columns.iter().any(|(known, ..)| known == name) {
                return Err(format!("a record of kind {kind} has no {name:?}; a newer program may have written it"));
            }
        }
        let mut values = Vec::with_capacity(described.columns.len() + 1);
        for (name, _, what) in described.columns {
            values.push(value(name, *what, line)?);
        }
        if matches!(described.table, "learners" | "patrols") {
            let Some(Value::Text(name)) = values.get(1) else { return Err("\"name\" is missing".to_owned()) };
            let name = Name::read(name).map_err(|error| error.to_string())?;
            values.push(Value::Text(name.key));
        }
        let sql = self.inserts.entry(described.table).or_insert_with(|| insert(described));
        let written = conn
            .prepare_cached(sql)
            .and_then(|mut statement| statement.execute(params_from_iter(values)))
            .map_err(|error| refused(&error))?;
        if written == 0 { Err("what it refers to stands nowhere above it".to_owned()) } else { Ok(()) }
    }
}

/// What is wrong with a record that the store's own rules refuse, without the words of SQL.
fn refused(error: &rusqlite::Error) -> String {
    let said = error.to_string();
    let about = said.rsplit(": ").next().unwrap_or_default();
    let column = about.rsplit('.').next().unwrap_or_default();
    if said.contains("UNIQUE") {
        format!("another line has the same {column}")
    } else if said.contains("NOT NULL") {
        format!("{column:?} is missing, or it refers to what stands nowhere above it")
    } else {
        format!("no program writes such a record ({about})")
    }
}

/// Reads a value of a line as the file keeps it.
fn value(name: &str, what: As, line: &Line) -> Result<Value, String> {
    let raw = line.get(name).ok_or_else(|| format!("{name:?} is missing"))?.get();
    if raw == "null" {
        return Ok(Value::Null);
    }
    let odd = |wanted: &str| format!("{name:?} is no {wanted}");
    let text = || serde_json::from_str::<String>(raw).map_err(|_| odd("text"));
    match what {
        As::Id | As::Of(_) | As::AnyId => {
            let id = Uuid::parse_str(&text()?).map_err(|_| odd("id"))?;
            Ok(Value::Blob(id.as_bytes().to_vec()))
        }
        As::Moment => {
            let at: Timestamp = text()?.parse().map_err(|_| odd("moment such as 2026-03-01T12:00:00Z"))?;
            Ok(Value::Integer(nanoseconds(at)))
        }
        As::Text => text().map(Value::Text),
        As::Number => serde_json::from_str(raw).map(Value::Integer).map_err(|_| odd("whole number")),
        As::Unsigned => serde_json::from_str(raw)
            .map(|number: u64| Value::Integer(number.cast_signed()))
            .map_err(|_| odd("whole number")),
        As::Flag => {
            serde_json::from_str(raw).map(|yes: bool| Value::Integer(i64::from(yes))).map_err(|_| odd("true or false"))
        }
        As::Json if raw.starts_with('"') => text().map(Value::Text),
        As::Json => Ok(Value::Text(raw.to_owned())),
    }
}

/// The statement that writes a record: `?1` and on are the columns as described, and behind them the key of a name.
fn insert(described: &Described) -> String {
    let mut columns = Vec::new();
    for (number, (_, column, what)) in (1..).zip(described.columns) {
        columns.push(match what {
            As::Of("learners") => format!("(SELECT key FROM learners WHERE id = ?{number}) AS {column}"),
            As::Of(table) => format!("(SELECT key FROM {table} WHERE id = ?{number}) AS {column}"),
            _ => format!("?{number} AS {column}"),
        });
    }
    let key = described.columns.len() + 1;
    match described.table {
        "patrols" => format!(
            "INSERT INTO patrols (id, name, created_at, changed_at, archived, name_key) VALUES (?1, ?2, ?3, ?4, ?5, ?{key})"
        ),
        // Namesakes are told apart when everything is there.
        "learners" => format!(
            "INSERT INTO learners (id, name, given_name, patrol, placement, created_at, changed_at, archived, name_key, fold) \
             SELECT ?1, ?2, ?2, (SELECT key FROM patrols WHERE id = ?3), ?4, ?5, ?6, ?7, hex(?1) || ?{key}, 0"
        ),
        // A learner, a sitting or a check that stands nowhere is told, and not taken for none.
        _ => {
            let given = (1..).zip(described.columns).filter_map(|(number, (_, _, what))| match what {
                As::Of(table) => {
                    Some(format!("(?{number} IS NULL OR EXISTS (SELECT 1 FROM {table} WHERE id = ?{number}))"))
                }
                _ => None,
            });
            let given: Vec<String> = std::iter::once("true".to_owned()).chain(given).collect();
            described.insert(&format!("SELECT {} WHERE {}", columns.join(", "), given.join(" AND ")))
        }
    }
}
