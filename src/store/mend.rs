//! Mending: what can be saved of a damaged store goes into a new file, and the damaged one stays as it is.

use super::backup::{Draft, put};
use super::check_value::Checked;
use super::error::At;
use super::ids::Id;
use super::name::Name;
use super::open::{connect, examine, fill_draft};
use super::salvage::{Found, Row, SHAPES, Salvage};
use super::{Store, StoreError, people};
use crate::problem::SkillMeta;
use jiff::Timestamp;
use rusqlite::types::Value;
use rusqlite::{Connection, ErrorCode, OpenFlags, Params, TransactionBehavior, params, params_from_iter};
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::path::Path;

/// What was saved.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Mended {
    /// How many answers.
    pub answers: u64,
    /// How many answers were found that are not as they were written; they were left out.
    pub damaged: u64,
    /// How many other records (sittings, checks, what was seen, marks) were left out for the same reason.
    pub other_damaged: u64,
    /// By learner.
    pub learners: Vec<MendedLearner>,
}

/// What was saved of a learner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MendedLearner {
    /// The name in the new file.
    pub name: String,
    /// Whether the name is one that was made up, since the learner's own was not found.
    pub name_lost: bool,
    /// How many answers.
    pub saved: u64,
    /// How many answers there were besides, as far as is known.
    pub lost: u64,
}

/// What was found of one kind, by its key.
type Rows = BTreeMap<i64, Row>;

/// All but the answers, which may be too many to hold.
#[derive(Default)]
struct Rest {
    tables: HashMap<&'static str, Rows>,
    tombstones: BTreeMap<Vec<u8>, i64>,
    lessons: Vec<Vec<Value>>,
    /// Of each sitting in which something was answered: whose, when the first, on which day.
    sittings: BTreeMap<i64, (i64, i64, String)>,
    /// The ids of all answers that an index or a whole record names, by learner.
    named: BTreeMap<i64, BTreeSet<Vec<u8>>>,
    /// Who stands for another id of whom, by what followed from what was said.
    same: Vec<(i64, i64)>,
    /// Who has a name that was made up.
    made_up: BTreeSet<i64>,
    mended: Mended,
}

/// Saves what can be saved of the damaged store at `path` into a new store at `to`. `now` is the day of what has to be made
/// up. Says meanwhile how far it is, in pages and of how many.
///
/// # Errors
/// [`StoreError::InTheWay`], where there is something at `to`; the files cannot be read or written.
pub fn mend(
    path: &Path,
    to: &Path,
    skills: &[&'static SkillMeta],
    now: Timestamp,
    progress: &mut dyn FnMut(u32, u32),
) -> Result<Mended, StoreError> {
    let (path, to) = (super::absolute(path), super::absolute(to));
    if std::fs::symlink_metadata(&to).is_ok() {
        return Err(StoreError::InTheWay { path: to });
    }
    let unreadable = |why: std::io::Error| StoreError::CannotOpen { path: path.clone(), why: why.to_string() };
    let mut salvage = Salvage::open(&path).map_err(unreadable)?;
    if let Err(other) = examine(&path)
        && !salvage.is_ours().map_err(unreadable)?
    {
        return Err(other);
    }
    let mut rest = Rest::default();
    salvage.each(&mut |done, all| progress(done, 2 * all), |found| rest.take(found)).map_err(unreadable)?;
    let draft = Draft::beside(&to).map_err(|why| StoreError::from_copying(why, &to))?;
    fill_draft(&draft.0, Id::new(now)).map_err(|failure| failure.at(&to))?;
    let mut conn = connect(&draft.0, OpenFlags::SQLITE_OPEN_READ_WRITE).at(&to)?;
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(&to)?;
    rest.write_before(&tx, now).at(&to)?;
    let insert = inserting("attempts");
    let mut failed = None;
    salvage
        .each(&mut |done, all| progress(all + done, 2 * all), |found| {
            if let Found::Row(row) = found
                && row.shape.table == "attempts"
                && row.whole
                && failed.is_none()
            {
                failed = rest.write_answer(&tx, &insert, row).err();
            }
        })
        .map_err(unreadable)?;
    failed.map_or(Ok(()), Err).at(&to)?;
    rest.write_after(&tx).at(&to)?;
    people::work_out(&tx).at(&to)?;
    tx.commit().at(&to)?;
    let mended = rest.told(&conn).at(&to)?;
    let mut store = Store::over(draft.0.clone(), conn, false, skills);
    store.rebuild()?;
    super::backup::close(store.conn).at(&to)?;
    put(&draft.0, &to, false)?;
    Ok(mended)
}

/// An `INSERT` of a row with its key, whose check value is worked out.
fn inserting(table: &str) -> String {
    let Checked { table, columns } = Checked::named(table);
    let named: Vec<String> =
        columns.split(", ").zip(2..).map(|(column, number)| format!("?{number} AS {column}")).collect();
    format!(
        "INSERT OR IGNORE INTO {table} (key, {columns}, check_value) SELECT key, {columns}, {} FROM (SELECT ?1 AS key, {})",
        Checked::named(table).value(),
        named.join(", ")
    )
}

/// The values of a row for [`inserting`].
fn values(row: &Row) -> Vec<Value> {
    let columns = Checked::named(row.shape.table).columns.split(", ");
    let of = |column| row.values.get(row.shape.place(column)).cloned().unwrap_or(Value::Null);
    std::iter::once(Value::Integer(row.key)).chain(columns.map(of)).collect()
}

/// Sets a column.
fn set(row: &mut Row, column: &str, value: Value) {
    let place = row.shape.place(column);
    if let Some(old) = row.values.get_mut(place) {
        *old = value;
    }
}

impl Rest {
    fn take(&mut self, found: Found) {
        match found {
            Found::Row(row) if row.shape.table == "attempts" => {
                let (Some(learner), Some(id)) = (row.number("learner"), row.id()) else { return };
                if !row.whole {
                    self.mended.damaged += 1;
                    return;
                }
                self.named.entry(learner).or_default().insert(id.to_vec());
                let (at, day) = (row.number("at").unwrap_or(0), row.text("day").to_owned());
                let first =
                    self.sittings.entry(row.number("session").unwrap_or(0)).or_insert((learner, at, day.clone()));
                if at < first.1 {
                    *first = (learner, at, day);
                }
            }
            Found::Row(row) if !row.whole => self.mended.other_damaged += 1,
            Found::Row(row) => {
                self.tables.entry(row.shape.table).or_default().entry(row.key).or_insert(row);
            }
            Found::Answer { learner, id, .. } => drop(self.named.entry(learner).or_default().insert(id)),
            Found::Tombstone(id, at) => drop(self.tombstones.insert(id, at)),
            Found::Lesson(row) => self.lessons.push(row),
        }
    }

    fn rows(&mut self, table: &'static str) -> Rows {
        self.tables.remove(table).unwrap_or_default()
    }

    /// Writes everything that answers refer to.
    fn write_before(&mut self, conn: &Connection, now: Timestamp) -> rusqlite::Result<()> {
        for (id, at) in &self.tombstones {
            conn.execute("INSERT OR IGNORE INTO tombstones (learner, erased_at) VALUES (?1, ?2)", params![id, at])?;
        }
        for row in self.rows("patrols").into_values() {
            conn.execute(
                "INSERT OR IGNORE INTO patrols (key, id, name, name_key, created_at, changed_at, archived) \
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
                params_from_iter(std::iter::once(Value::Integer(row.key)).chain(row.values.iter().skip(1).cloned())),
            )?;
        }
        self.write_learners(conn, now)?;
        self.write_who_is_who(conn, now)?;
        for table in ["checks", "sheets", "sessions"] {
            let insert = inserting(table);
            for mut row in self.rows(table).into_values() {
                if let Some(check) = row.number("check_key").filter(|_| table == "sessions")
                    && !is_there(conn, "checks", check)?
                {
                    set(&mut row, "check_key", Value::Null);
                }
                put_under_first(conn, &mut row)?;
                offer(conn, &insert, params_from_iter(values(&row)))?;
            }
        }
        // Sittings that were lost, made up from what was answered in them.
        let insert = inserting("sessions");
        for (key, (learner, at, day)) in &self.sittings {
            let id = Id::new(super::learners::moment(*at));
            let store: Id = conn.query_row("SELECT id FROM this_store", [], |row| row.get(0))?;
            conn.prepare_cached(&insert)?.execute(params![
                key,
                id,
                first_of(conn, *learner)?,
                store,
                at,
                day,
                None::<String>,
                "mended",
                None::<i64>,
                0
            ])?;
        }
        Ok(())
    }

    /// Writes the learners, and makes one up for each whose records are there and whose own row is not.
    fn write_learners(&mut self, conn: &Connection, now: Timestamp) -> rusqlite::Result<()> {
        let insert = "INSERT OR IGNORE INTO learners (key, id, patrol, name, name_key, placement, created_at, changed_at, \
                      archived, fold, revision, given_name) VALUES (?1, ?2, (SELECT key FROM patrols WHERE key = ?3), ?4, ?5, \
                      ?6, ?7, ?8, ?9, 0, ?10, ?11)";
        for row in self.rows("learners").into_values() {
            if let Some(same) = row.number("same_as") {
                self.same.push((row.key, same));
            }
            // A name that is none any more cannot be shown; the learner stays.
            let Ok(name) = Name::read(row.text("name")) else { continue };
            let given = Name::read(row.text("given_name")).map_or(name.shown, |given| given.shown);
            let of = |column: &str| row.values.get(row.shape.place(column)).cloned().unwrap_or(Value::Null);
            // Two ids of one person may have one name. Who needs a number behind it is worked out when everybody is there.
            let values = params![
                row.key,
                of("id"),
                of("patrol"),
                given,
                format!("mending {}", row.key),
                of("placement"),
                of("created_at"),
                of("changed_at"),
                of("archived"),
                of("revision"),
                given,
            ];
            offer(conn, insert, values)?;
        }
        let of_rows = self.tables.values().flat_map(BTreeMap::values).filter_map(|row| row.number("learner"));
        let of_lessons = self.lessons.iter().filter_map(|row| match row.first() {
            Some(Value::Integer(learner)) => Some(*learner),
            _ => None,
        });
        let with_answers = self.sittings.values().map(|(learner, ..)| *learner);
        let wanted: BTreeSet<i64> = of_rows.chain(of_lessons).chain(with_answers).collect();
        let mut number = 0;
        for key in wanted {
            while !is_there(conn, "learners", key)? {
                number += 1;
                let name = format!("Found {number}");
                let at = super::learners::nanoseconds(now);
                let values = params![
                    key,
                    Id::new(now),
                    None::<i64>,
                    name,
                    format!("mending {key}"),
                    "fresh",
                    at,
                    at,
                    0,
                    0,
                    name
                ];
                conn.prepare_cached(insert)?.execute(values)?;
                self.made_up.insert(key);
            }
        }
        Ok(())
    }

    /// Writes what was said of whom, and puts each person's ids under one. Where only what followed from it is left, it is said anew.
    fn write_who_is_who(&mut self, conn: &Connection, now: Timestamp) -> rusqlite::Result<()> {
        let insert = inserting("aliases");
        for row in self.rows("aliases").into_values() {
            // What was said of somebody who is lost goes with them.
            if offer(conn, &insert, params_from_iter(values(&row)))? == 0 {
                self.mended.other_damaged += 1;
            }
        }
        people::join_ids(conn)?;
        let again = Checked::named("aliases").insert(
            "SELECT ?1 AS id, ?2 AS learner, ?3 AS other, 1 AS same, ?4 AS said_at WHERE ?2 <> ?3 \
             AND EXISTS (SELECT 1 FROM learners WHERE key = ?2) AND EXISTS (SELECT 1 FROM learners WHERE key = ?3)",
        );
        for (key, same) in &self.same {
            if first_of(conn, *key)? != first_of(conn, *same)? {
                offer(conn, &again, params![Id::new(now), same, key, super::learners::nanoseconds(now)])?;
            }
        }
        people::join_ids(conn)
    }

    fn write_answer(&mut self, conn: &Connection, insert: &str, mut row: Row) -> rusqlite::Result<()> {
        if let Some(sheet) = row.number("sheet")
            && !is_there(conn, "sheets", sheet)?
        {
            set(&mut row, "sheet", Value::Null);
            set(&mut row, "entry", Value::Null);
        }
        put_under_first(conn, &mut row)?;
        let written = offer(conn, insert, params_from_iter(values(&row)))?;
        self.mended.answers += written as u64;
        Ok(())
    }

    /// Writes what refers to answers and to people.
    fn write_after(&mut self, conn: &Connection) -> rusqlite::Result<()> {
        for table in ["seen", "marks", "sheet_marks"] {
            let insert = inserting(table);
            for mut row in self.rows(table).into_values() {
                put_under_first(conn, &mut row)?;
                // A mark whose record is lost goes with it.
                if offer(conn, &insert, params_from_iter(values(&row)))? == 0 {
                    self.mended.other_damaged += 1;
                }
            }
        }
        let insert =
            "INSERT OR IGNORE INTO lessons (learner, lesson, screen, done, noted_at) VALUES (?1, ?2, ?3, ?4, ?5)";
        for row in &self.lessons {
            if let Some(Value::Integer(learner)) = row.first()
                && is_there(conn, "learners", *learner)?
            {
                conn.prepare_cached(insert)?.execute(params_from_iter(row))?;
            }
        }
        Ok(())
    }

    /// What became of each learner's answers.
    fn told(mut self, conn: &Connection) -> rusqlite::Result<Mended> {
        let mut named: BTreeMap<i64, BTreeSet<Vec<u8>>> = BTreeMap::new();
        for (learner, ids) in std::mem::take(&mut self.named) {
            named.entry(first_of(conn, learner)?).or_default().extend(ids);
        }
        let mut statement =
            conn.prepare("SELECT key, name FROM learners WHERE same_as IS NULL ORDER BY name_key, id")?;
        let people: Vec<(i64, String)> =
            statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<rusqlite::Result<_>>()?;
        for (key, name) in people {
            let count = "SELECT count(*) FROM attempts WHERE learner = ?1";
            let saved = conn.query_row(count, [key], |row| row.get::<_, i64>(0))?.unsigned_abs();
            let named = named.get(&key).map_or(0, |ids| ids.len() as u64);
            let (name_lost, lost) = (self.made_up.contains(&key), named.saturating_sub(saved));
            self.mended.learners.push(MendedLearner { name, name_lost, saved, lost });
        }
        Ok(self.mended)
    }
}

/// Writes a row, unless the file's own rules refuse it; how many were written.
fn offer(conn: &Connection, insert: &str, values: impl Params) -> rusqlite::Result<usize> {
    match conn.prepare_cached(insert)?.execute(values) {
        Err(error) if error.sqlite_error_code() == Some(ErrorCode::ConstraintViolation) => Ok(0),
        other => other,
    }
}

/// The id of the same person under which records stand.
fn first_of(conn: &Connection, learner: i64) -> rusqlite::Result<i64> {
    let sql = "SELECT coalesce((SELECT same_as FROM learners WHERE key = ?1), ?1)";
    conn.prepare_cached(sql)?.query_row([learner], |row| row.get(0))
}

/// Puts a row there. On a page that is not in use any more it may still stand as it stood before its person was known by two ids.
fn put_under_first(conn: &Connection, row: &mut Row) -> rusqlite::Result<()> {
    if let Some(learner) = row.number("learner") {
        set(row, "learner", Value::Integer(first_of(conn, learner)?));
    }
    Ok(())
}

fn is_there(conn: &Connection, table: &str, key: i64) -> rusqlite::Result<bool> {
    assert!(!cfg!(checked) || SHAPES.iter().any(|shape| shape.table == table), "{table} is one of ours");
    conn.prepare_cached(&format!("SELECT EXISTS (SELECT 1 FROM {table} WHERE key = ?1)"))?
        .query_row([key], |row| row.get(0))
}
