//! People of one name of whom nobody has said yet whether they are one person.

use super::error::At;
use super::ids::Id;
use super::name::Name;
use super::people::Classes;
use super::{Incoming, Learner, Said, Store, StoreError};
use rusqlite::Connection;
use std::collections::{BTreeMap, BTreeSet};

/// Two people of one name under different ids. Where both are here the first has the smaller id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Namesakes {
    /// One.
    pub one: Learner,
    /// The other.
    pub other: Learner,
    /// Which of the files that come in the other is in; none where both are here.
    pub file: Option<usize>,
}

/// What a store knows of who is who.
#[derive(Debug)]
pub(super) struct Known {
    /// What was said of pairs.
    said: Vec<(Id, Id, bool)>,
    erased: BTreeSet<Id>,
    /// The name of everybody as it was given, put aside or not: its key.
    given: BTreeMap<Id, String>,
}

impl Known {
    pub(super) fn of(conn: &Connection) -> rusqlite::Result<Known> {
        let mut statement = conn.prepare("SELECT id, coalesce(given_name, name) FROM learners")?;
        let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get::<_, String>(1)?)))?;
        let key = |name: String| Name::read(&name).map_or(name, |name| name.key);
        let given = rows.map(|row| row.map(|(id, name)| (id, key(name)))).collect::<rusqlite::Result<_>>()?;
        Ok(Known { said: aliases(conn)?, erased: tombstones(conn)?.into_keys().collect(), given })
    }
}

impl Store {
    /// The people of one name, here and in the files that come in, of whom nobody has said whether they are one person. `said` is
    /// what was said just now.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn namesakes(&self, incoming: &[Incoming], said: &[Said]) -> Result<Vec<Namesakes>, StoreError> {
        let here = Known::of(&self.conn).at(&self.path)?;
        let (mut same, mut apart) = (Classes::default(), Vec::new());
        let all = || std::iter::once(&here).chain(incoming.iter().map(|one| &one.known));
        let now = said.iter().map(|said| (said.one.0, said.other.0, said.same));
        for (one, other, is_same) in all().flat_map(|known| known.said.iter().copied()).chain(now) {
            if is_same { same.join(one, other) } else { apart.push((one, other)) }
        }
        let apart: BTreeSet<(Id, Id)> = apart
            .iter()
            .map(|(one, other)| (same.first(*one), same.first(*other)))
            .flat_map(|(one, other)| [(one, other), (other, one)])
            .collect();
        let erased: BTreeSet<Id> = all().flat_map(|known| known.erased.iter().map(|id| same.first(*id))).collect();
        let mut ours = self.learners()?;
        crate::numbers::arrange_by_key(&mut ours, |learner| learner.id);
        let files = incoming.iter().enumerate().flat_map(|(at, file)| {
            // Who is put aside here is no stranger there.
            let strangers = file.people.iter().filter(|learner| !here.given.contains_key(&learner.id.0));
            strangers.map(move |learner| (learner, &file.known, Some(at)))
        });
        let (mut people, mut met) = (Vec::new(), BTreeSet::new());
        for (learner, known, file) in ours.iter().map(|learner| (learner, &here, None)).chain(files) {
            let first = same.first(learner.id.0);
            if let Some(given) = known.given.get(&learner.id.0)
                && !erased.contains(&first)
                && met.insert(first)
            {
                people.push((learner, given, file));
            }
        }
        let mut found = Vec::new();
        for (at, (other, given, file)) in people.iter().enumerate() {
            for (one, ..) in people[..at].iter().filter(|(_, name, _)| name == given) {
                if !apart.contains(&(same.first(one.id.0), same.first(other.id.0))) {
                    found.push(Namesakes { one: (*one).clone(), other: (*other).clone(), file: *file });
                }
            }
        }
        Ok(found)
    }
}

/// What was said of pairs of learners.
pub(super) fn aliases(conn: &Connection) -> rusqlite::Result<Vec<(Id, Id, bool)>> {
    aliases_of(conn, "main")
}

/// The same in a store that is attached under a name.
pub(super) fn aliases_of(conn: &Connection, schema: &str) -> rusqlite::Result<Vec<(Id, Id, bool)>> {
    let sql = format!(
        "SELECT one.id, two.id, same FROM {schema}.aliases AS said JOIN {schema}.learners AS one ON one.key = said.learner \
         JOIN {schema}.learners AS two ON two.key = said.other"
    );
    let mut statement = conn.prepare(&sql)?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
    rows.collect()
}

/// The moment of whoever was erased only since they are the same person as somebody erased: none of its own. Whatever moment they
/// took over, it would hang on the order in which laptops learn of the three things; this one gives way to every real one.
pub(super) const WITH_ANOTHER: i64 = i64::MAX;

/// Who was erased, and when.
pub(super) fn tombstones(conn: &Connection) -> rusqlite::Result<BTreeMap<Id, i64>> {
    let mut statement = conn.prepare("SELECT learner, erased_at FROM tombstones")?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    rows.collect()
}
