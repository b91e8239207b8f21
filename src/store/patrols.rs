//! Patrols: groups of learners. Somebody belongs to one at most.

use super::error::At;
use super::ids::Id;
use super::learners::nanoseconds;
use super::name::Name;
use super::{LearnerId, PatrolId, Store, StoreError};
use jiff::Timestamp;
use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};

/// A patrol that is not archived.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Patrol {
    /// Its id.
    pub id: PatrolId,
    /// Its name as shown, as for learners.
    pub name: String,
    /// The members who are not archived, by name.
    pub members: Vec<LearnerId>,
}

impl Store {
    /// The patrols that are not archived, by name.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn patrols(&self) -> Result<Vec<Patrol>, StoreError> {
        let sql = "SELECT patrols.id, patrols.name, learners.id FROM patrols \
                   LEFT JOIN learners ON learners.patrol = patrols.key AND learners.archived = 0 AND same_as IS NULL \
                   WHERE patrols.archived = 0 ORDER BY patrols.name_key, patrols.id, learners.name_key";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        let rows = statement
            .query_map([], |row| {
                Ok((PatrolId(row.get(0)?), row.get::<_, String>(1)?, row.get::<_, Option<Id>>(2)?.map(LearnerId)))
            })
            .at(&self.path)?;
        let mut patrols: Vec<Patrol> = Vec::new();
        for row in rows {
            let (id, name, member) = row.at(&self.path)?;
            match patrols.last_mut().filter(|patrol| patrol.id == id) {
                Some(patrol) => patrol.members.extend(member),
                None => patrols.push(Patrol { id, name, members: member.into_iter().collect() }),
            }
        }
        Ok(patrols)
    }

    /// The patrol of this name, which is made where there is none; case does not matter.
    ///
    /// # Errors
    /// [`StoreError::Name`], or the file cannot be written.
    pub fn patrol_named(&mut self, name: &str, now: Timestamp) -> Result<PatrolId, StoreError> {
        let name = Name::read(name)?;
        let Store { path, conn, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let id = found_or_made(&tx, &name, now).at(path)?;
        tx.commit().at(path)?;
        Ok(id)
    }

    /// Puts a learner into a patrol, or into none.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be written.
    pub fn join_patrol(
        &mut self,
        learner: LearnerId,
        patrol: Option<PatrolId>,
        now: Timestamp,
    ) -> Result<(), StoreError> {
        let changed = put_into(&self.conn, learner, patrol, now).at(&self.path)?;
        if changed == 0 { Err(StoreError::NoSuchLearner(learner)) } else { Ok(()) }
    }
}

/// The patrol of this name; one that is made with it where there is none.
pub(super) fn found_or_made(conn: &Connection, name: &Name, now: Timestamp) -> rusqlite::Result<PatrolId> {
    let sql = "SELECT id FROM patrols WHERE name_key = ?1 AND archived = 0";
    if let Some(id) = conn.query_row(sql, [&name.key], |row| row.get(0)).optional()? {
        return Ok(PatrolId(id));
    }
    let id = Id::new(now);
    conn.execute(
        "INSERT INTO patrols (id, name, name_key, created_at, changed_at) VALUES (?1, ?2, ?3, ?4, ?4)",
        params![id, name.shown, name.key, nanoseconds(now)],
    )?;
    Ok(PatrolId(id))
}

/// How many learners were put there: one, or none of that id.
pub(super) fn put_into(
    conn: &Connection,
    learner: LearnerId,
    patrol: Option<PatrolId>,
    now: Timestamp,
) -> rusqlite::Result<usize> {
    let sql = "UPDATE learners SET patrol = (SELECT key FROM patrols WHERE id = ?2), changed_at = ?3 WHERE id = ?1";
    let values = params![learner.0, patrol.map(|patrol| patrol.0), nanoseconds(now)];
    conn.prepare_cached(sql)?.execute(values)
}
