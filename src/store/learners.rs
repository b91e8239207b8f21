//! The people of the store.

use super::error::At;
use super::ids::Id;
use super::name::Name;
use super::patrols::{found_or_made, put_into};
use super::{LearnerId, Store, StoreError};
use crate::learner::Placement;
use rusqlite::{Connection, OptionalExtension, Row, TransactionBehavior, params};

/// A learner as the store knows them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Learner {
    /// Their id, the same in every store that they were merged into.
    pub id: LearnerId,
    /// Their name as shown: 1 to 40 characters, nothing that could speak to the terminal.
    pub name: String,
    /// Whether they had done this before when they began.
    pub placement: Placement,
    /// When they were added.
    pub created_at: jiff::Timestamp,
    /// Put aside: not offered any more, records kept.
    pub archived: bool,
}

/// What erasing a learner did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Erased {
    /// How many attempts went.
    pub attempts: u64,
    /// Whether also the remains in unused parts of the file were wiped; otherwise the records are gone all the same, and
    /// the next erasing wipes again. Wiping needs about as much free disk as the store is large.
    pub wiped: bool,
}

const COLUMNS: &str = "id, name, placement, created_at, archived";

impl Store {
    /// The learners who are not archived, by name.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn learners(&self) -> Result<Vec<Learner>, StoreError> {
        self.learners_where("archived = 0 AND same_as IS NULL")
    }

    /// The learners who are archived, by name.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn archived_learners(&self) -> Result<Vec<Learner>, StoreError> {
        self.learners_where("archived = 1 AND same_as IS NULL")
    }

    /// The first learner of this name who is archived; case does not matter, nor do blanks around it.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn archived_learner_by_name(&self, name: &str) -> Result<Option<Learner>, StoreError> {
        let wanted = name.trim().to_lowercase();
        Ok(self.archived_learners()?.into_iter().find(|learner| learner.name.to_lowercase() == wanted))
    }

    fn learners_where(&self, condition: &str) -> Result<Vec<Learner>, StoreError> {
        let sql = format!("SELECT {COLUMNS} FROM learners WHERE {condition} ORDER BY name_key, id");
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement.query_map([], read).at(&self.path)?;
        rows.collect::<rusqlite::Result<_>>().at(&self.path)
    }

    /// The learner with this id.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn learner(&self, id: LearnerId) -> Result<Option<Learner>, StoreError> {
        let sql = format!("SELECT {COLUMNS} FROM learners WHERE id = ?1");
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        statement.query_row([id.0], read).optional().at(&self.path)
    }

    /// The learner of this name who is not archived; case does not matter, nor do blanks around it.
    ///
    /// # Errors
    /// [`StoreError::Name`] for a name that no learner can have, or when the file cannot be read.
    pub fn learner_by_name(&self, name: &str) -> Result<Option<Learner>, StoreError> {
        let name = Name::read(name)?;
        live_by_key(&self.conn, &name.key).at(&self.path)
    }

    /// The newest day before this one on which anybody sat down here.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn latest_day_before(&self, day: jiff::civil::Date) -> Result<Option<jiff::civil::Date>, StoreError> {
        let sql = "SELECT day FROM sessions WHERE day < ?1 ORDER BY day DESC LIMIT 1";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        statement.query_row([day.to_string()], |row| super::attempt::day(row, 0)).optional().at(&self.path)
    }

    /// The learner, not archived, who began the latest session.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn last_learner(&self) -> Result<Option<Learner>, StoreError> {
        let mut statement = self
            .conn
            .prepare_cached(
                "SELECT learners.id, name, placement, created_at, archived FROM sessions \
                 JOIN learners ON learners.key = sessions.learner WHERE archived = 0 ORDER BY sessions.id DESC LIMIT 1",
            )
            .at(&self.path)?;
        statement.query_row([], read).optional().at(&self.path)
    }

    /// Adds a learner.
    ///
    /// # Errors
    /// [`StoreError::Name`], saying what is wrong with the name; [`StoreError::NameInUse`]; or the file cannot be written.
    pub fn add_learner(
        &mut self,
        name: &str,
        placement: Placement,
        now: jiff::Timestamp,
    ) -> Result<Learner, StoreError> {
        let name = Name::read(name)?;
        let Store { path, conn, fold, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let learner = added(&tx, name, (placement, *fold), now, path)?;
        tx.commit().at(path)?;
        Ok(learner)
    }

    /// Adds several learners who are new to all this, into a patrol where one is named, which is made where there is none: all of that or
    /// nothing.
    ///
    /// # Errors
    /// As for adding one.
    pub fn add_learners(
        &mut self,
        names: &[&str],
        patrol: Option<&str>,
        now: jiff::Timestamp,
    ) -> Result<Vec<Learner>, StoreError> {
        let patrol = patrol.map(Name::read).transpose()?;
        let Store { path, conn, fold, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let patrol = patrol.map(|name| found_or_made(&tx, &name, now)).transpose().at(path)?;
        let mut learners = Vec::with_capacity(names.len());
        for name in names {
            let learner = added(&tx, Name::read(name)?, (Placement::Fresh, *fold), now, path)?;
            if patrol.is_some() {
                put_into(&tx, learner.id, patrol, now).at(path)?;
            }
            learners.push(learner);
        }
        tx.commit().at(path)?;
        Ok(learners)
    }

    /// Gives a learner another name.
    ///
    /// # Errors
    /// As for adding; [`StoreError::NoSuchLearner`].
    pub fn rename_learner(&mut self, id: LearnerId, name: &str, now: jiff::Timestamp) -> Result<(), StoreError> {
        let name = Name::read(name)?;
        let Store { path, conn, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        name_is_free(&tx, &name, Some(id), path)?;
        let changed = tx
            .execute(
                "UPDATE learners SET name = ?2, name_key = ?3, given_name = NULL, changed_at = ?4 WHERE id = ?1",
                params![id.0, name.shown, name.key, nanoseconds(now)],
            )
            .at(path)?;
        if changed == 0 {
            return Err(StoreError::NoSuchLearner(id));
        }
        tx.commit().at(path)
    }

    /// Puts a learner aside, or takes them back; their records stay either way.
    ///
    /// # Errors
    /// [`StoreError::NameInUse`], when somebody else took the name meanwhile; [`StoreError::NoSuchLearner`].
    pub fn archive_learner(&mut self, id: LearnerId, archived: bool, now: jiff::Timestamp) -> Result<(), StoreError> {
        let learner = self.learner(id)?.ok_or(StoreError::NoSuchLearner(id))?;
        let name = Name::read(&learner.name)?;
        let Store { path, conn, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        if !archived {
            name_is_free(&tx, &name, Some(id), path)?;
        }
        tx.execute(
            "UPDATE learners SET archived = ?2, changed_at = ?3, name_key = ?4 WHERE id = ?1",
            params![id.0, archived, nanoseconds(now), name.key],
        )
        .at(path)?;
        tx.commit().at(path)
    }

    /// Removes a learner and every record of them for good, under all ids that are the same person's. What stays of each is a
    /// tombstone, the bare id, so that a merge does not bring them back.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be written; then nothing was removed.
    pub fn erase_learner(&mut self, id: LearnerId, now: jiff::Timestamp) -> Result<Erased, StoreError> {
        let Store { path, conn, kept, .. } = self;
        // What is removed is written over with zeros in the same transaction.
        conn.pragma_update(None, "secure_delete", true).at(path)?;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let person = same_person(&tx, id).at(path)?;
        if person.is_empty() {
            return Err(StoreError::NoSuchLearner(id));
        }
        for (_, id) in &person {
            tx.execute("INSERT INTO tombstones (learner, erased_at) VALUES (?1, ?2)", params![id, nanoseconds(now)])
                .at(path)?;
        }
        let attempts = erase_rows(&tx, &person).at(path)?;
        tx.commit().at(path)?;
        *kept = None;
        Ok(Erased { attempts, wiped: wipe(conn) })
    }
}

/// Removes the rows of learners who have their tombstones already; how many answers went.
pub(super) fn erase_rows(conn: &Connection, person: &[(i64, Id)]) -> rusqlite::Result<u64> {
    // What refers to something goes before it, of all ids: an answer under one may stand on a sheet of another.
    let mut attempts = 0;
    for (key, _) in person {
        attempts += conn.execute("DELETE FROM attempts WHERE learner = ?1", [key])?;
    }
    for rest in [
        "DELETE FROM summaries WHERE learner = ?1",
        "DELETE FROM lessons WHERE learner = ?1",
        "DELETE FROM marks WHERE learner = ?1",
        "DELETE FROM sheet_marks WHERE learner = ?1",
        "DELETE FROM sheets WHERE learner = ?1",
        "DELETE FROM seen WHERE learner = ?1",
        "DELETE FROM sessions WHERE learner = ?1",
        "DELETE FROM checks WHERE learner = ?1",
        "DELETE FROM aliases WHERE learner = ?1 OR other = ?1",
        "UPDATE learners SET same_as = NULL, archived = 1 WHERE key = ?1",
        "DELETE FROM learners WHERE key = ?1",
    ] {
        for (key, _) in person {
            conn.execute(rest, [key])?;
        }
    }
    super::evenings::erase_from(conn)?;
    Ok(attempts as u64)
}

/// Deleted rows linger in unused bytes of the file and in the log until both are written anew: whether they were.
pub(super) fn wipe(conn: &Connection) -> bool {
    // Whether the log could be cut off is told in a row, not as an error: another program may still read it.
    let cut_off = |conn: &Connection| conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get::<_, i64>(0));
    conn.execute_batch("VACUUM").is_ok() && cut_off(conn).is_ok_and(|busy| busy == 0)
}

/// A learner's row, and those of all other ids that are the same person's.
fn same_person(conn: &Connection, id: LearnerId) -> rusqlite::Result<Vec<(i64, Id)>> {
    let mut statement = conn.prepare_cached(
        "WITH RECURSIVE person (key) AS ( \
             SELECT key FROM learners WHERE id = ?1 \
             UNION SELECT CASE aliases.learner WHEN person.key THEN aliases.other ELSE aliases.learner END \
             FROM person JOIN aliases ON person.key = aliases.learner OR person.key = aliases.other WHERE same = 1 \
         ) SELECT learners.key, learners.id FROM person JOIN learners ON learners.key = person.key",
    )?;
    let rows = statement.query_map([id.0], |row| Ok((row.get(0)?, row.get(1)?)))?;
    rows.collect()
}

fn live_by_key(conn: &Connection, key: &str) -> rusqlite::Result<Option<Learner>> {
    let sql = format!("SELECT {COLUMNS} FROM learners WHERE name_key = ?1 AND archived = 0 AND same_as IS NULL");
    conn.prepare_cached(&sql)?.query_row([key], read).optional()
}

/// Adds a learner whose name is free.
fn added(
    conn: &Connection,
    name: Name,
    (placement, fold): (Placement, i64),
    now: jiff::Timestamp,
    path: &std::path::Path,
) -> Result<Learner, StoreError> {
    name_is_free(conn, &name, None, path)?;
    let id = LearnerId(Id::new(now));
    conn.execute(
        "INSERT INTO learners (id, name, name_key, placement, created_at, changed_at, fold) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?5, ?6)",
        params![id.0, name.shown, name.key, placement_word(placement), nanoseconds(now), fold],
    )
    .at(path)?;
    Ok(Learner { id, name: name.shown, placement, created_at: moment(nanoseconds(now)), archived: false })
}

fn name_is_free(
    conn: &Connection,
    name: &Name,
    but_for: Option<LearnerId>,
    path: &std::path::Path,
) -> Result<(), StoreError> {
    match live_by_key(conn, &name.key).at(path)? {
        Some(other) if Some(other.id) != but_for => Err(StoreError::NameInUse { name: other.name }),
        _ => Ok(()),
    }
}

fn read(row: &Row<'_>) -> rusqlite::Result<Learner> {
    let placement: String = row.get(2)?;
    Ok(Learner {
        id: LearnerId(row.get(0)?),
        name: row.get(1)?,
        placement: placement_of(&placement),
        created_at: moment(row.get(3)?),
        archived: row.get(4)?,
    })
}

const DONE_BEFORE: &str = "done-before";

fn placement_word(placement: Placement) -> &'static str {
    match placement {
        Placement::Fresh => "fresh",
        Placement::DoneBefore => DONE_BEFORE,
    }
}

/// The table's own check leaves no third word.
pub(super) fn placement_of(word: &str) -> Placement {
    if word == DONE_BEFORE { Placement::DoneBefore } else { Placement::Fresh }
}

/// Nanoseconds since 1970 as the file keeps them; years outside 1678–2261 become the nearest it can keep.
pub(super) fn nanoseconds(at: jiff::Timestamp) -> i64 {
    let nanos = at.as_nanosecond();
    i64::try_from(nanos).unwrap_or(if nanos < 0 { i64::MIN } else { i64::MAX })
}

/// The moment of so many nanoseconds since 1970.
pub(super) fn moment(nanos: i64) -> jiff::Timestamp {
    jiff::Timestamp::from_nanosecond(i128::from(nanos)).unwrap_or(jiff::Timestamp::UNIX_EPOCH)
}
