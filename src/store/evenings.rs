//! The plan of an evening, as it was kept last.

use super::error::At;
use super::learners::{moment, nanoseconds};
use super::{Store, StoreError};
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};

/// A plan as it is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoredEvening {
    /// When it was kept.
    pub kept_at: Timestamp,
    /// On which day of the leader's; none where what stands there is no day, so that the plan is not one to go by.
    pub day: Option<Date>,
    /// At what time of day, as the clock on the wall showed it: `18:30`.
    pub clock: String,
    /// The name of the standard that it goes by.
    pub standard: String,
    /// Who is there and who does what, as JSON; the store does not look into it, but for the ids of people.
    pub plan: String,
}

/// Of two plans the one that was kept later counts; of two of one moment the same one on every laptop. Behind an `INSERT` of rows.
pub(super) const LATER_COUNTS: &str = "ON CONFLICT (one) DO UPDATE SET kept_at = excluded.kept_at, day = excluded.day, \
    clock = excluded.clock, standard = excluded.standard, plan = excluded.plan \
    WHERE (excluded.kept_at, excluded.plan) > (kept_at, plan)";

impl Store {
    /// Keeps a plan in the place of the one that was kept before, whatever the clock says.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be written; then the one before stays.
    pub fn keep_evening(&mut self, evening: &StoredEvening) -> Result<(), StoreError> {
        self.keep_evening_unless(evening, |_| false).map(drop)
    }

    /// Keeps a plan, unless the one that was kept before `stays`: that one then. Looked at and written in one step, so that of two
    /// programs that keep one at once the second meets the plan of the first.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be written; then the one before stays.
    pub fn keep_evening_unless(
        &mut self,
        evening: &StoredEvening,
        stays: impl FnOnce(&StoredEvening) -> bool,
    ) -> Result<Option<StoredEvening>, StoreError> {
        let Store { path, conn, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        if let Some(before) = latest(&tx).at(path)?.filter(stays) {
            return Ok(Some(before));
        }
        let sql =
            "INSERT OR REPLACE INTO evenings (one, kept_at, day, clock, standard, plan) VALUES (1, ?1, ?2, ?3, ?4, ?5)";
        let StoredEvening { kept_at, day, clock, standard, plan } = evening;
        let day = day.map_or_else(String::new, |day| day.to_string());
        tx.execute(sql, params![nanoseconds(*kept_at), day, clock, standard, plan]).at(path)?;
        tx.commit().at(path)?;
        Ok(None)
    }

    /// The plan that was kept last. Another id of a person stands in it as the one under which their records stand.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn evening(&self) -> Result<Option<StoredEvening>, StoreError> {
        latest(&self.conn).at(&self.path)
    }
}

fn latest(conn: &Connection) -> rusqlite::Result<Option<StoredEvening>> {
    // The row is no evidence of anything: whatever cannot be read in it makes it a plan that cannot, and no damaged store.
    let text = |row: &rusqlite::Row<'_>, column| {
        row.get_ref(column).map(|value| value.as_str().map_or_else(|_| String::new(), str::to_owned))
    };
    let read = |row: &rusqlite::Row<'_>| {
        Ok(StoredEvening {
            kept_at: moment(row.get(0)?),
            day: text(row, 1)?.parse().ok(),
            clock: text(row, 2)?,
            standard: text(row, 3)?,
            plan: text(row, 4)?,
        })
    };
    let sql = "SELECT kept_at, day, clock, standard, plan FROM evenings";
    let Some(mut found) = conn.prepare_cached(sql)?.query_row([], read).optional()? else { return Ok(None) };
    let sql = "SELECT lower(hex(other.id)), lower(hex(one.id)) FROM learners AS other \
               JOIN learners AS one ON one.key = other.same_as";
    let mut statement = conn.prepare_cached(sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (other, one): (String, String) = (row.get(0)?, row.get(1)?);
        found.plan = found.plan.replace(&other, &one);
    }
    Ok(Some(found))
}

/// Takes whoever has a tombstone out of the plan. The plan stays, so that it does not matter in which order plans and tombstones come
/// from other laptops; whoever reads it finds that somebody is missing.
pub(super) fn erase_from(conn: &Connection) -> rusqlite::Result<()> {
    let sql = "SELECT lower(hex(learner)) FROM tombstones, evenings WHERE instr(plan, lower(hex(learner))) > 0";
    let mut statement = conn.prepare_cached(sql)?;
    let erased: Vec<String> = statement.query_map([], |row| row.get(0))?.collect::<rusqlite::Result<_>>()?;
    for digits in erased {
        conn.execute("UPDATE evenings SET plan = replace(plan, ?1, ?2)", params![digits, "0".repeat(digits.len())])?;
    }
    Ok(())
}
