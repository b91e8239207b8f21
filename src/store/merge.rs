//! Merging: the records of another laptop come in beside those that are here.
//!
//! What was recorded is a set: records with the ids that are here already stay, the others come in. What changes in place (names,
//! patrols, who is put aside, how far somebody is in a lesson, the plan of an evening) is the later of the two. What follows from all of it (whose ids
//! are one person's, who needs a number behind the name, which entry of a sheet counts, beliefs) is worked out anew. So it does
//! not matter in which order stores are merged, nor how often.

use super::backup::{Draft, copy};
use super::check_value::Checked;
use super::described::{As, DESCRIBED, Described};
use super::error::At;
use super::evenings;
use super::ids::Id;
use super::learners::{erase_rows, nanoseconds, wipe};
use super::lessons::LATER_COUNTS;
use super::namesakes::{Known, WITH_ANOTHER, aliases, aliases_of, tombstones};
use super::open::{connect, open_to_read_as_it_is};
use super::people::{self, Classes, TYPED_IN_TWICE};
use super::{Learner, LearnerId, Store, StoreError, import, schema};
use jiff::Timestamp;
use rusqlite::{Connection, OpenFlags, OptionalExtension, Transaction, TransactionBehavior, params};
use std::collections::BTreeSet;
use std::fs;
use std::io::BufRead;
use std::path::{Path, PathBuf};

/// The records of another laptop, copied and looked through; the file they come from is not touched.
#[derive(Debug)]
pub struct Incoming {
    draft: Draft,
    /// The file they come from.
    pub path: PathBuf,
    /// The people in it who are not put aside.
    pub people: Vec<Learner>,
    /// What follows for who is who.
    pub(super) known: Known,
}

/// What was said of two learners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Said {
    /// One.
    pub one: LearnerId,
    /// The other.
    pub other: LearnerId,
    /// Whether they are the same person.
    pub same: bool,
}

/// What came in, or would.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Brought {
    /// People who were not here.
    pub people: u64,
    /// Answers.
    pub answers: u64,
    /// Sittings.
    pub sittings: u64,
    /// Checks.
    pub checks: u64,
    /// Entries of what was seen on the ground.
    pub seen: u64,
    /// Marks on records.
    pub marks: u64,
    /// Sheets.
    pub sheets: u64,
    /// People who were here and are erased now, since they were erased there.
    pub erased: u64,
    /// People whose name has a number behind it now, to tell them from a namesake.
    pub numbered: Vec<String>,
}

impl Store {
    /// Gets the records of another laptop ready to come in.
    ///
    /// # Errors
    /// [`StoreError`]: the file is none of ours, damaged, of a newer program, or the store itself.
    pub fn incoming(&self, file: &Path) -> Result<Incoming, StoreError> {
        let file = super::absolute(file);
        self.not_itself(&file)?;
        let source = open_to_read_as_it_is(&file).map_err(StoreError::of_file)?;
        let draft = Draft::beside(&self.path).map_err(|why| StoreError::from_creating(why, &self.path))?;
        copy(&source, &draft.0).map_err(|error| StoreError::from_sqlite(error, &self.path))?;
        self.looked_through(draft, file)
    }

    /// Gets exported lines ready to come in. `file` is what messages call them.
    ///
    /// # Errors
    /// [`StoreError::BadLine`], or there is no room beside the store.
    pub fn incoming_lines(&self, lines: &mut dyn BufRead, file: &Path) -> Result<Incoming, StoreError> {
        let draft = import::read(lines, file, &self.path)?;
        self.looked_through(draft, file.to_owned())
    }

    fn looked_through(&self, draft: Draft, path: PathBuf) -> Result<Incoming, StoreError> {
        let mut conn = connect(&draft.0, OpenFlags::SQLITE_OPEN_READ_WRITE).at(&path)?;
        schema::migrate(&mut conn, schema::STEPS).at(&path)?;
        let mut theirs = Store::over(draft.0.clone(), conn, false, &self.skills);
        // What is damaged must not come in among what is whole.
        theirs.verify().map_err(|error| match error {
            StoreError::Corrupt { detail, .. } => StoreError::FileDamaged { path: path.clone(), detail },
            other => other,
        })?;
        let people = theirs.learners()?;
        let known = Known::of(&theirs.conn).at(&path)?;
        super::backup::close(theirs.conn).at(&path)?;
        Ok(Incoming { draft, path, people, known })
    }

    /// Brings records in, in one step: all of them or none. Where `keep` is not set, nothing is kept, nobody has to wait, and what
    /// would have come in is told.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be written; then nothing came in.
    pub fn bring_in(
        &mut self,
        incoming: &Incoming,
        said: &[Said],
        now: Timestamp,
        keep: bool,
    ) -> Result<Brought, StoreError> {
        let Store { path, conn, kept, .. } = self;
        if !keep {
            // In a copy: whoever looks and thinks it over must not keep others from recording.
            let draft = Draft::beside(path).map_err(|why| StoreError::from_creating(why, path))?;
            copy(conn, &draft.0).at(path)?;
            let mut copy = connect(&draft.0, OpenFlags::SQLITE_OPEN_READ_WRITE).at(path)?;
            copy.pragma_update(None, "synchronous", "OFF").at(path)?;
            return bring_into(&mut copy, incoming, said, now).at(path);
        }
        conn.pragma_update(None, "secure_delete", true).at(path)?;
        let brought = bring_into(conn, incoming, said, now).at(path);
        *kept = None;
        let _ = conn.execute_batch("PRAGMA secure_delete = 0;");
        let brought = brought?;
        if brought.erased > 0 {
            wipe(conn);
        }
        Ok(brought)
    }

    /// Remembers what was said of people who are here, and puts the records of one person together.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be written; then nothing was changed.
    pub fn say(&mut self, said: &[Said], now: Timestamp) -> Result<(), StoreError> {
        let Store { path, conn, kept, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        remember(&tx, said, now).and_then(|()| people::work_out(&tx)).at(path)?;
        tx.commit().at(path)?;
        *kept = None;
        Ok(())
    }

    /// Refuses the store's own file.
    pub(super) fn not_itself(&self, other: &Path) -> Result<(), StoreError> {
        let same = match (fs::canonicalize(&self.path), fs::canonicalize(other)) {
            (Ok(ours), Ok(theirs)) => ours == theirs,
            _ => self.path == *other,
        };
        if same { Err(StoreError::TheStoreItself { path: other.to_owned() }) } else { Ok(()) }
    }
}

/// Brings records into an open store.
fn bring_into(conn: &mut Connection, incoming: &Incoming, said: &[Said], now: Timestamp) -> rusqlite::Result<Brought> {
    conn.pragma_update(None, "temp_store", "memory")?;
    conn.execute("ATTACH ?1 AS theirs", [incoming.draft.0.to_string_lossy().into_owned()])?;
    let brought = conn.transaction_with_behavior(TransactionBehavior::Immediate).and_then(|tx| {
        let brought = bring(&tx, said, now)?;
        tx.commit()?;
        Ok(brought)
    });
    let _ = conn.execute_batch("DETACH theirs; DROP TABLE IF EXISTS temp.came;");
    brought
}

fn bring(tx: &Transaction<'_>, said: &[Said], now: Timestamp) -> rusqlite::Result<Brought> {
    let names = |conn: &Connection| -> rusqlite::Result<BTreeSet<String>> {
        let mut statement = conn.prepare("SELECT name FROM learners WHERE given_name IS NOT NULL")?;
        statement.query_map([], |row| row.get(0))?.collect()
    };
    let numbered_before = names(tx)?;
    let last: i64 = tx.query_row("SELECT coalesce(max(key), 0) FROM attempts", [], |row| row.get(0))?;
    let mut brought = Brought { erased: bring_erased(tx, said)?, ..Brought::default() };
    bring_patrols(tx)?;
    brought.people = bring_learners(tx)?;
    tx.execute_batch(
        "CREATE TEMP TABLE came (tab TEXT NOT NULL, theirs INTEGER NOT NULL, ours INTEGER NOT NULL, PRIMARY KEY (tab, theirs)) \
         WITHOUT ROWID",
    )?;
    came(tx, "learners", "m.key")?;
    for described in DESCRIBED.iter().filter(|described| described.table == "aliases") {
        bring_rows(tx, described)?;
    }
    remember(tx, said, now)?;
    people::join_ids(tx)?;
    // From here on records come to the id under which a person's records stand.
    tx.execute("DELETE FROM temp.came", [])?;
    came(tx, "learners", "coalesce(m.same_as, m.key)")?;
    for described in &DESCRIBED {
        let count = match described.table {
            "patrols" | "learners" | "aliases" => continue,
            "lessons" => bring_lessons(tx)?,
            "evenings" => bring_evening(tx)?,
            _ => bring_rows(tx, described)?,
        };
        match described.table {
            "checks" => brought.checks = count,
            "sheets" => brought.sheets = count,
            "sessions" => brought.sittings = count,
            "attempts" => brought.answers = count,
            "seen" => brought.seen = count,
            "marks" | "sheet_marks" => brought.marks += count,
            _ => {}
        }
        if matches!(described.table, "checks" | "sheets" | "sessions") {
            came(tx, described.table, "m.key")?;
        }
    }
    tx.execute(
        "UPDATE learners SET fold = 0, revision = revision + 1 \
         WHERE key IN (SELECT DISTINCT learner FROM attempts WHERE key > ?1)",
        [last],
    )?;
    people::work_out(tx)?;
    brought.numbered = names(tx)?.difference(&numbered_before).cloned().collect();
    Ok(brought)
}

/// Erases whoever was erased there, under all ids, and remembers it; how many people went here.
fn bring_erased(tx: &Transaction<'_>, said: &[Said]) -> rusqlite::Result<u64> {
    tx.execute(
        "INSERT INTO tombstones (learner, erased_at) SELECT learner, erased_at FROM theirs.tombstones WHERE true \
         ON CONFLICT (learner) DO UPDATE SET erased_at = min(erased_at, excluded.erased_at)",
        [],
    )?;
    let mut classes = Classes::default();
    let mut ids = BTreeSet::new();
    let pairs = aliases(tx)?.into_iter().chain(aliases_of(tx, "theirs")?);
    let pairs = pairs.chain(said.iter().map(|said| (said.one.0, said.other.0, said.same)));
    for (one, other, _) in pairs.filter(|(.., same)| *same) {
        classes.join(one, other);
        ids.extend([one, other]);
    }
    let erased: BTreeSet<Id> = tombstones(tx)?.into_keys().map(|id| classes.first(id)).collect();
    for id in ids.into_iter().filter(|id| erased.contains(&classes.first(*id))) {
        let sql = "INSERT OR IGNORE INTO tombstones (learner, erased_at) VALUES (?1, ?2)";
        tx.execute(sql, params![id, WITH_ANOTHER])?;
    }
    let mut statement = tx.prepare(
        "SELECT key, id FROM learners WHERE EXISTS (SELECT 1 FROM tombstones WHERE tombstones.learner = learners.id)",
    )?;
    let gone: Vec<(i64, Id)> =
        statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<rusqlite::Result<_>>()?;
    let people = tx.query_row(
        "SELECT count(*) FROM learners WHERE same_as IS NULL \
         AND EXISTS (SELECT 1 FROM tombstones WHERE tombstones.learner = learners.id)",
        [],
        |row| row.get::<_, i64>(0),
    )?;
    erase_rows(tx, &gone)?;
    Ok(people.unsigned_abs())
}

/// Patrols of one name are one patrol: the smaller id stands for both.
fn bring_patrols(tx: &Transaction<'_>) -> rusqlite::Result<()> {
    let mut statement =
        tx.prepare("SELECT id, name, name_key, created_at, changed_at, archived FROM theirs.patrols ORDER BY id")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (id, name, key): (Id, String, String) = (row.get(0)?, row.get(1)?, row.get(2)?);
        let (created, changed, archived): (i64, i64, bool) = (row.get(3)?, row.get(4)?, row.get(5)?);
        let ours: Option<(i64, Id)> = tx
            .query_row("SELECT key, id FROM patrols WHERE name_key = ?1 OR id = ?2", params![key, id], |row| {
                Ok((row.get(0)?, row.get(1)?))
            })
            .optional()?;
        match ours {
            None => {
                let sql = "INSERT INTO patrols (id, name, name_key, created_at, changed_at, archived) \
                           VALUES (?1, ?2, ?3, ?4, ?5, ?6)";
                tx.execute(sql, params![id, name, key, created, changed, archived])?;
            }
            Some((ours, known)) if id < known => {
                let sql = "UPDATE patrols SET id = ?2, name = ?3, created_at = min(created_at, ?4), \
                           changed_at = max(changed_at, ?5) WHERE key = ?1";
                tx.execute(sql, params![ours, id, name, created, changed])?;
            }
            Some((ours, _)) => {
                let sql = "UPDATE patrols SET created_at = min(created_at, ?2), changed_at = max(changed_at, ?3) WHERE key = ?1";
                tx.execute(sql, params![ours, created, changed])?;
            }
        }
    }
    Ok(())
}

/// People come in with the later word about each; how many were not here.
fn bring_learners(tx: &Transaction<'_>) -> rusqlite::Result<u64> {
    let columns = "id, coalesce(given_name, name), changed_at, archived, \
                   (SELECT name_key FROM {0}.patrols WHERE patrols.key = l.patrol), placement, created_at";
    let of = |schema: &str| format!("SELECT {} FROM {schema}.learners AS l", columns.replace("{0}", schema));
    let mut statement = tx.prepare(&format!(
        "{} WHERE NOT EXISTS (SELECT 1 FROM main.tombstones WHERE tombstones.learner = l.id) ORDER BY id",
        of("theirs")
    ))?;
    type Word = (i64, bool, String, Option<String>);
    let word = |row: &rusqlite::Row<'_>| -> rusqlite::Result<Word> {
        Ok((row.get(2)?, row.get(3)?, row.get(1)?, row.get(4)?))
    };
    let mut rows = statement.query([])?;
    let mut came = 0;
    while let Some(row) = rows.next()? {
        let (id, theirs) = (row.get::<_, Id>(0)?, word(row)?);
        let ours = tx.query_row(&format!("{} WHERE id = ?1", of("main")), [id], word).optional()?;
        if ours.is_none() {
            came += 1;
            // The name comes when everybody is here: until then it stands where nobody's can.
            tx.execute(
                "INSERT INTO learners (id, name, name_key, placement, created_at, changed_at, fold) \
                 VALUES (?1, '', 'coming ' || hex(?1), ?2, ?3, 0, 0)",
                params![id, row.get::<_, String>(5)?, row.get::<_, i64>(6)?],
            )?;
        }
        if ours.is_none_or(|ours| theirs > ours) {
            let (changed, archived, name, patrol) = theirs;
            tx.execute(
                "UPDATE learners SET name = ?2, given_name = ?2, name_key = 'coming ' || hex(id), changed_at = ?3, archived = ?4, \
                 patrol = (SELECT key FROM patrols WHERE name_key = ?5) WHERE id = ?1",
                params![id, name, changed, archived, patrol],
            )?;
        }
    }
    Ok(came)
}

/// Notes under which keys the records of a table stand here that stand there under others.
fn came(tx: &Transaction<'_>, table: &str, ours: &str) -> rusqlite::Result<()> {
    let sql = format!(
        "INSERT INTO temp.came (tab, theirs, ours) SELECT '{table}', t.key, {ours} \
         FROM theirs.{table} AS t JOIN main.{table} AS m ON m.id = t.id"
    );
    tx.execute(&sql, []).map(drop)
}

/// Brings the rows of a table in that are not here; how many. Those of people who are erased stay out.
fn bring_rows(tx: &Transaction<'_>, described: &Described) -> rusqlite::Result<u64> {
    let table = described.table;
    let mut columns = Vec::new();
    let mut needs = String::new();
    for (_, column, what) in described.columns {
        columns.push(match what {
            As::Of(of) => {
                let ours = format!("(SELECT ours FROM temp.came WHERE tab = '{of}' AND theirs = t.{column})");
                if *of == "learners" {
                    needs.push_str(&format!(" AND {ours} IS NOT NULL"));
                }
                format!("{ours} AS {column}")
            }
            // Entries of a sheet are numbered anew; until then they must be in nobody's way.
            _ if (table, *column) == ("attempts", "entry") => {
                "CASE WHEN t.entry IS NOT NULL THEN 4294967296 + t.key END AS entry".to_owned()
            }
            _ => format!("t.{column} AS {column}"),
        });
    }
    let here = if table == "attempts" {
        let learner = "(SELECT ours FROM temp.came WHERE tab = 'learners' AND theirs = t.learner)";
        format!("SELECT 1 FROM main.attempts AS m WHERE m.learner = {learner} AND m.id = t.id")
    } else {
        format!("SELECT 1 FROM main.{table} AS m WHERE m.id = t.id")
    };
    let but = if table == "marks" { format!(" AND t.reason <> '{TYPED_IN_TWICE}'") } else { String::new() };
    let source = format!(
        "SELECT {} FROM theirs.{table} AS t WHERE NOT EXISTS ({here}){needs}{but} ORDER BY t.id",
        columns.join(", ")
    );
    Ok(tx
        .execute(&described.insert(&source).replacen(&format!("INTO {table}"), &format!("INTO main.{table}"), 1), [])?
        as u64)
}

/// Of each lesson the later word counts, and what was done stays done.
fn bring_lessons(tx: &Transaction<'_>) -> rusqlite::Result<u64> {
    let sql = format!(
        "INSERT INTO main.lessons (learner, lesson, screen, done, noted_at) \
         SELECT c.ours, t.lesson, t.screen, t.done, t.noted_at FROM theirs.lessons AS t \
         JOIN temp.came AS c ON c.tab = 'learners' AND c.theirs = t.learner WHERE true {LATER_COUNTS}"
    );
    Ok(tx.execute(&sql, [])? as u64)
}

/// Of the plans of an evening the one that was kept later counts. Whoever is erased here is taken out of it.
fn bring_evening(tx: &Transaction<'_>) -> rusqlite::Result<u64> {
    let sql = format!(
        "INSERT INTO main.evenings (one, kept_at, day, clock, standard, plan) \
         SELECT 1, kept_at, day, clock, standard, plan FROM theirs.evenings WHERE true {}",
        evenings::LATER_COUNTS
    );
    let came = tx.execute(&sql, [])?;
    evenings::erase_from(tx)?;
    Ok(came as u64)
}

/// Remembers what was said, unless it was said before.
fn remember(tx: &Transaction<'_>, said: &[Said], now: Timestamp) -> rusqlite::Result<()> {
    let insert = Checked::named("aliases").insert(
        "SELECT ?1 AS id, one.key AS learner, two.key AS other, ?4 AS same, ?5 AS said_at \
         FROM learners AS one, learners AS two WHERE one.id = ?2 AND two.id = ?3 AND one.key <> two.key \
         AND NOT EXISTS (SELECT 1 FROM aliases AS a WHERE a.same = ?4 \
         AND ((a.learner = one.key AND a.other = two.key) OR (a.learner = two.key AND a.other = one.key)))",
    );
    for Said { one, other, same } in said {
        tx.execute(&insert, params![Id::new(now), one.0, other.0, same, nanoseconds(now)])?;
    }
    Ok(())
}
