//! What follows from all that is said about people: which ids are one person's, and who needs a suffix to be told from a
//! namesake. Worked out anew from what was said each time, so that it does not matter in which order stores were merged.

use super::check_value::CHECKED;
use super::ids::Id;
use super::lessons::LATER_COUNTS;
use super::name::{LONGEST_NAME, Name};
use rusqlite::{Connection, params};
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// Which ids belong together, by what was said of pairs of them.
#[derive(Debug, Default)]
pub(super) struct Classes {
    /// Each id's next smaller one of the same person.
    smaller: HashMap<Id, Id>,
}

impl Classes {
    /// The smallest id of the same person: records stand under that one.
    pub(super) fn first(&self, mut id: Id) -> Id {
        while let Some(smaller) = self.smaller.get(&id) {
            id = *smaller;
        }
        id
    }

    /// Two ids are one person's.
    pub(super) fn join(&mut self, one: Id, other: Id) {
        let (one, other) = (self.first(one), self.first(other));
        if one != other {
            self.smaller.insert(one.max(other), one.min(other));
        }
    }
}

/// Works everything out and writes it: `same_as`, under which id records stand, and names.
pub(super) fn work_out(conn: &Connection) -> rusqlite::Result<()> {
    join_ids(conn)?;
    name_everybody(conn)?;
    settle_sheets(conn)
}

/// Puts the ids of each person under the smallest of them.
pub(super) fn join_ids(conn: &Connection) -> rusqlite::Result<()> {
    let mut classes = Classes::default();
    let sql = "SELECT one.id, two.id FROM aliases JOIN learners AS one ON one.key = aliases.learner \
               JOIN learners AS two ON two.key = aliases.other WHERE aliases.same = 1";
    let mut statement = conn.prepare(sql)?;
    let pairs: Vec<(Id, Id)> =
        statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<rusqlite::Result<_>>()?;
    for (one, other) in pairs {
        classes.join(one, other);
    }
    let mut statement = conn.prepare("SELECT key, id, same_as FROM learners")?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
    let people: Vec<(i64, Id, Option<i64>)> = rows.collect::<rusqlite::Result<_>>()?;
    let keys: HashMap<Id, i64> = people.iter().map(|(key, id, _)| (*id, *key)).collect();
    let others: Vec<(i64, i64, Option<i64>)> = people
        .iter()
        .filter_map(|(key, id, same_as)| Some((*key, *keys.get(&classes.first(*id))?, *same_as)))
        .filter(|(key, first, _)| key != first)
        .collect();
    for (key, first, same_as) in &others {
        if same_as != &Some(*first) {
            conn.execute("UPDATE learners SET same_as = ?2 WHERE key = ?1", [key, first])?;
        }
    }
    for (key, first, _) in &others {
        move_records(conn, *key, *first)?;
    }
    Ok(())
}

/// Puts all records of one id under another of the same person.
fn move_records(conn: &Connection, from: i64, to: i64) -> rusqlite::Result<()> {
    let mut moved = 0;
    for table in CHECKED.iter().filter(|checked| checked.table != "aliases") {
        let columns: Vec<&str> =
            table.columns.split(", ").map(|column| if column == "learner" { "?2" } else { column }).collect();
        let sql = format!(
            "UPDATE {0} SET learner = ?2, check_value = check_value_of('{0}', {1}) WHERE learner = ?1",
            table.table,
            columns.join(", ")
        );
        moved += conn.prepare_cached(&sql)?.execute([from, to])?;
    }
    let lessons = format!(
        "INSERT INTO lessons (learner, lesson, screen, done, noted_at) \
         SELECT ?2, lesson, screen, done, noted_at FROM lessons AS theirs WHERE learner = ?1 {LATER_COUNTS}"
    );
    moved += conn.execute(&lessons, [from, to])?;
    conn.execute("DELETE FROM lessons WHERE learner = ?1", [from])?;
    conn.execute("DELETE FROM summaries WHERE learner = ?1", [from])?;
    if moved > 0 {
        // With every mark that came over counted: a revision is never behind the marks of its learner.
        let sql = "UPDATE learners SET fold = 0, \
                   revision = revision + 1 + (SELECT revision FROM learners WHERE key = ?1) WHERE key = ?2";
        conn.prepare_cached(sql)?.execute([from, to])?;
    }
    Ok(())
}

/// Says that a learner's past was changed.
pub(super) fn fold_anew(conn: &Connection, key: i64) -> rusqlite::Result<()> {
    conn.prepare_cached("UPDATE learners SET fold = 0, revision = revision + 1 WHERE key = ?1")?.execute([key])?;
    Ok(())
}

/// Somebody who is here.
struct Named {
    key: i64,
    given: Name,
    now: String,
}

/// Of those who are here and have one name the first keeps it, and the others get the first number that is free.
fn name_everybody(conn: &Connection) -> rusqlite::Result<()> {
    name_as_given(conn)?;
    let sql = "SELECT key, coalesce(given_name, name), name, name_key FROM learners \
               WHERE archived = 0 AND same_as IS NULL ORDER BY id";
    let mut statement = conn.prepare(sql)?;
    let mut rows = statement.query([])?;
    let (mut people, mut keys): (Vec<Named>, HashMap<i64, String>) = Default::default();
    while let Some(row) = rows.next()? {
        let given: String = row.get(1)?;
        // Only another program could have written what is no name.
        let given = Name::read(&given).or_else(|_| Name::read("Somebody"));
        let Ok(given) = given else { continue };
        people.push(Named { key: row.get(0)?, given, now: row.get(2)? });
        keys.insert(row.get(0)?, row.get(3)?);
    }
    let mut firsts: BTreeMap<&str, i64> = BTreeMap::new();
    for one in &people {
        firsts.entry(&one.given.key).or_insert(one.key);
    }
    let mut taken: BTreeSet<String> = firsts.keys().map(|key| (*key).to_owned()).collect();
    let mut wanted: Vec<(i64, Name, Option<&str>)> = Vec::new();
    for one in &people {
        if firsts.get(one.given.key.as_str()) == Some(&one.key) {
            wanted.push((one.key, one.given.clone(), None));
            continue;
        }
        let numbered = (2..).map(|number| with_number(&one.given.shown, number));
        let name = numbered.flatten().find(|name| !taken.contains(&name.key));
        if let Some(name) = name {
            taken.insert(name.key.clone());
            wanted.push((one.key, name, Some(&one.given.shown)));
        }
    }
    let is_new = |(key, name, _): &&(i64, Name, Option<&str>)| {
        keys.get(key) != Some(&name.key) || people.iter().any(|one| one.key == *key && one.now != name.shown)
    };
    let changed: Vec<_> = wanted.iter().filter(is_new).collect();
    // Out of each other's way first: two may swap their names.
    for (key, ..) in &changed {
        conn.execute("UPDATE learners SET name_key = 'changing ' || hex(id) WHERE key = ?1", [key])?;
    }
    for (key, name, given) in changed {
        conn.execute(
            "UPDATE learners SET name = ?2, name_key = ?3, given_name = ?4 WHERE key = ?1",
            params![key, name.shown, name.key, given],
        )?;
    }
    Ok(())
}

/// Who is put aside, or is another id of somebody, is in nobody's way: they have the name as it was given, and its key.
fn name_as_given(conn: &Connection) -> rusqlite::Result<()> {
    let sql = "SELECT key, coalesce(given_name, name), name_key, given_name IS NOT NULL FROM learners \
               WHERE archived = 1 OR same_as IS NOT NULL";
    let mut statement = conn.prepare(sql)?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?)))?;
    let people: Vec<(i64, String, String, bool)> = rows.collect::<rusqlite::Result<_>>()?;
    for (key, given, kept, is_changed) in people {
        let name_key = Name::read(&given).map_or_else(|_| given.to_lowercase(), |name| name.key);
        if is_changed || name_key != kept {
            let sql = "UPDATE learners SET name = ?2, name_key = ?3, given_name = NULL WHERE key = ?1";
            conn.execute(sql, params![key, given, name_key])?;
        }
    }
    Ok(())
}

/// A name with a number behind it, not longer than a name may be.
fn with_number(name: &str, number: u32) -> Option<Name> {
    let end = format!(" {number}");
    let room = LONGEST_NAME.saturating_sub(end.chars().count());
    let start: String = name.chars().take(room).collect();
    Name::read(&format!("{}{end}", start.trim_end())).ok()
}

/// Why an entry of a sheet was marked here; `marks_stay` in the schema names it, too.
pub(super) const TYPED_IN_TWICE: &str = "typed in twice";

/// Of all entries of one problem of a sheet that nobody took back, the earliest counts. They are numbered in the order of their
/// ids. A sheet that was printed on two laptops is one: somebody's sheets with the same problems in the same order.
fn settle_sheets(conn: &Connection) -> rusqlite::Result<()> {
    let touched = "SELECT DISTINCT learner FROM marks WHERE reason = ?1";
    let mut statement = conn.prepare(touched)?;
    let before: BTreeSet<i64> =
        statement.query_map([TYPED_IN_TWICE], |row| row.get(0))?.collect::<rusqlite::Result<_>>()?;
    conn.execute("DELETE FROM marks WHERE reason = ?1", [TYPED_IN_TWICE])?;
    let mut statement = conn.prepare(
        "SELECT attempts.key, codes, code, entry, attempts.learner, attempts.id, at, attempts.day, \
         EXISTS (SELECT 1 FROM marks WHERE marks.target = attempts.id AND marks.kind = 'attempt') \
         FROM attempts JOIN sheets ON sheets.key = attempts.sheet ORDER BY attempts.learner, codes, code, attempts.id",
    )?;
    let mut rows = statement.query([])?;
    let mut group: Option<(i64, String, String)> = None;
    let (mut number, mut counts) = (0_i64, false);
    let (mut renumbered, mut twice) = (Vec::new(), Vec::new());
    while let Some(row) = rows.next()? {
        let this = Some((row.get(4)?, row.get(1)?, row.get(2)?));
        if group != this {
            (group, number, counts) = (this, 0, false);
        }
        if row.get::<_, i64>(3)? != number {
            renumbered.push((row.get::<_, i64>(0)?, number));
        }
        number += 1;
        if row.get::<_, bool>(8)? {
            continue;
        }
        if counts {
            twice.push((row.get::<_, i64>(4)?, row.get::<_, Id>(5)?, row.get::<_, i64>(6)?, row.get::<_, String>(7)?));
        }
        counts = true;
    }
    drop(rows);
    drop(statement);
    let attempts = super::check_value::Checked::named("attempts");
    let columns: Vec<&str> =
        attempts.columns.split(", ").map(|column| if column == "entry" { "?2" } else { column }).collect();
    let sql = format!(
        "UPDATE attempts SET entry = ?2, check_value = check_value_of('attempts', {}) WHERE key = ?1",
        columns.join(", ")
    );
    // Out of each other's way first, and out of that of entries which have just come in.
    for (key, number) in &renumbered {
        conn.prepare_cached(&sql)?.execute([*key, number + (1 << 40)])?;
    }
    for (key, number) in &renumbered {
        conn.prepare_cached(&sql)?.execute([*key, *number])?;
    }
    let insert = super::check_value::Checked::named("marks").insert(
        "SELECT ?1 AS id, ?2 AS learner, 'attempt' AS kind, ?3 AS target, 'undone' AS what, NULL AS skill, ?4 AS reason, \
         ?5 AS marked_at, ?6 AS day",
    );
    let mut after = before;
    for (learner, id, at, day) in twice {
        conn.prepare_cached(&insert)?.execute(params![id.of_mark(), learner, id, TYPED_IN_TWICE, at, day])?;
        after.insert(learner);
    }
    after.into_iter().try_for_each(|learner| fold_anew(conn, learner))
}
