//! The schema and how an older store is brought up to it.

use rusqlite::{Connection, TransactionBehavior};

/// Marks an SQLite file as ours (header, offset 68): "ndlw" in ASCII.
pub(super) const APPLICATION_ID: i32 = 0x6e64_6c77;

/// The steps from nothing to the current schema; step n brings version n to n + 1.
pub(super) const STEPS: &[&str] = &[
    include_str!("schema_1.sql"),
    include_str!("schema_2.sql"),
    include_str!("schema_3.sql"),
    include_str!("schema_4.sql"),
    include_str!("schema_5.sql"),
    include_str!("schema_6.sql"),
    include_str!("schema_7.sql"),
];

/// The version this program writes and the highest it knows.
#[expect(clippy::cast_possible_wrap, reason = "a handful of steps")]
pub(super) const VERSION: i64 = STEPS.len() as i64;

/// The schema version of an open file.
pub(super) fn version(conn: &Connection) -> rusqlite::Result<i64> {
    conn.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// Runs the steps that are missing, all of them in one transaction: either the file has the new schema or nothing
/// happened. Two programs may do this at once: the version is read again after the write lock is held.
pub(super) fn migrate(conn: &mut Connection, steps: &[&str]) -> rusqlite::Result<()> {
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let from = usize::try_from(version(&tx)?).unwrap_or(0);
    for (version, sql) in (1_i64..).zip(steps).skip(from) {
        tx.execute_batch(sql)?;
        tx.pragma_update(None, "user_version", version)?;
    }
    if from == 0 {
        tx.pragma_update(None, "application_id", APPLICATION_ID)?;
    }
    tx.commit()
}

/// An empty store in memory, as this program makes them.
pub(super) fn in_memory() -> rusqlite::Result<Connection> {
    let mut conn = Connection::open_in_memory()?;
    super::check_value::make_known(&conn)?;
    migrate(&mut conn, STEPS)?;
    Ok(conn)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn nothing() -> Connection {
        let conn = Connection::open_in_memory().unwrap();
        crate::store::check_value::make_known(&conn).unwrap();
        conn
    }

    fn tables(conn: &Connection) -> Vec<String> {
        let mut statement = conn.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name").unwrap();
        statement.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect()
    }

    #[test]
    fn version_zero_becomes_the_current_schema() {
        let mut conn = nothing();
        assert_eq!(version(&conn).unwrap(), 0);
        migrate(&mut conn, STEPS).unwrap();
        assert_eq!(version(&conn).unwrap(), VERSION);
        let id: i32 = conn.pragma_query_value(None, "application_id", |row| row.get(0)).unwrap();
        assert_eq!(&id.to_be_bytes(), b"ndlw");
        assert_eq!(
            tables(&conn),
            [
                "aliases",
                "attempts",
                "checks",
                "evenings",
                "learners",
                "lessons",
                "marks",
                "patrols",
                "seen",
                "sessions",
                "sheet_marks",
                "sheets",
                "summaries",
                "this_store",
                "tombstones"
            ]
        );
    }

    #[test]
    fn every_table_is_strict() {
        let mut conn = nothing();
        migrate(&mut conn, STEPS).unwrap();
        let loose: i64 = conn
            .query_row("SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND strict = 0 AND name NOT LIKE 'sqlite_%'", [], |row| row.get(0))
            .unwrap();
        assert_eq!(loose, 0);
    }

    #[test]
    fn migrating_twice_changes_nothing() {
        let mut conn = nothing();
        migrate(&mut conn, STEPS).unwrap();
        let before: i64 = conn.pragma_query_value(None, "schema_version", |row| row.get(0)).unwrap();
        migrate(&mut conn, STEPS).unwrap();
        let after: i64 = conn.pragma_query_value(None, "schema_version", |row| row.get(0)).unwrap();
        assert_eq!(before, after);
    }

    #[test]
    fn a_later_step_keeps_what_was_recorded() {
        let mut conn = nothing();
        migrate(&mut conn, STEPS).unwrap();
        conn.execute("INSERT INTO tombstones VALUES (zeroblob(16), 5)", []).unwrap();
        let mut steps = STEPS.to_vec();
        steps.push("CREATE TABLE later (a INTEGER) STRICT;");
        migrate(&mut conn, &steps).unwrap();
        assert_eq!(version(&conn).unwrap(), VERSION + 1);
        let kept: i64 = conn.query_row("SELECT erased_at FROM tombstones", [], |row| row.get(0)).unwrap();
        assert_eq!(kept, 5);
    }

    #[test]
    fn a_step_that_fails_leaves_the_old_schema_whole() {
        let mut conn = nothing();
        migrate(&mut conn, STEPS).unwrap();
        let before = tables(&conn);
        let mut steps = STEPS.to_vec();
        steps.push("CREATE TABLE first_half (a INTEGER) STRICT; CREATE TABLE attempts (a INTEGER) STRICT;");
        assert!(migrate(&mut conn, &steps).is_err());
        assert_eq!(version(&conn).unwrap(), VERSION);
        assert_eq!(tables(&conn), before);
    }
}
