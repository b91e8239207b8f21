//! What of a store is whole and what is damaged, told as fully as it can be known.

use super::backup::copy_to_memory;
use super::error::At;
use super::name::Name;
use super::open::{Found, examine, open_to_read_as_it_is};
use super::salvage::{self, Row, Salvage};
use super::{ExportError, Store, StoreError, StoredEvening, schema};
use crate::problem::SkillMeta;
use rusqlite::Connection;
use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::Path;

/// How many sentences of SQLite about the file are kept.
const MOST_SENTENCES: usize = 20;

/// What was found of a store.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Inspection {
    /// The version of its schema; none where that cannot be read.
    pub version: Option<i64>,
    /// How many people.
    pub learners: u64,
    /// How many answers are whole.
    pub answers: u64,
    /// What is wrong with the file's pages, references and ids, in SQLite's words or ours.
    pub file: Vec<String>,
    /// Records that are there and are not as they were written.
    pub damaged: Vec<DamagedRecord>,
    /// Answers that are known to have been there and are not.
    pub lost: Vec<LostAnswer>,
    /// Learners and skills whose summaries are not what the answers say. The answers are the truth.
    pub differences: Vec<(String, String)>,
    /// The plan of an evening that is kept. It can be made anew, so it is no part of what is whole or damaged.
    pub evening: Option<StoredEvening>,
}

/// A record that is not as it was written, with what can still be read of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DamagedRecord {
    /// The table.
    pub table: &'static str,
    /// Its number there.
    pub key: i64,
    /// Whose it is.
    pub learner: Option<String>,
    /// The day that stands in it.
    pub day: String,
    /// The skill that stands in it.
    pub skill: String,
}

/// An answer that an index names and that stands nowhere.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LostAnswer {
    /// Whose it was.
    pub learner: String,
    /// Its number.
    pub key: i64,
    /// The skill that it was of.
    pub skill: String,
}

impl Inspection {
    /// Whether nothing is damaged.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.file.is_empty() && self.damaged.is_empty() && self.lost.is_empty() && self.differences.is_empty()
    }
}

/// Looks at everything in a store, however damaged it is. Writes nothing. Says meanwhile how many pages were gone through, of how
/// many, where it comes to that.
///
/// # Errors
/// [`StoreError`]: the file cannot be read, is none of ours, or of a newer program.
pub fn inspect(
    path: &Path,
    skills: &[&'static SkillMeta],
    progress: &mut dyn FnMut(u32, u32),
) -> Result<Inspection, StoreError> {
    let path = super::absolute(path);
    let unreadable = |why: io::Error| StoreError::CannotOpen { path: path.clone(), why: why.to_string() };
    let mut found = Inspection::default();
    let conn = match examine(&path).and_then(|what| if let Found::Nothing = what { nothing(&path) } else { Ok(()) }) {
        Ok(()) => match open_to_read_as_it_is(&path) {
            Err(StoreError::Corrupt { detail, .. }) => {
                found.file.push(detail);
                None
            }
            other => Some(other?),
        },
        Err(other @ StoreError::NotAStore { .. }) => {
            if !Salvage::open(&path).and_then(|mut salvage| salvage.is_ours()).map_err(unreadable)? {
                return Err(other);
            }
            found.file.push("the first page is not that of a store".to_owned());
            None
        }
        Err(StoreError::Corrupt { detail, .. }) => {
            found.file.push(detail);
            None
        }
        Err(other) => return Err(other),
    };
    if let Some(conn) = conn {
        found.version = schema::version(&conn).ok();
        found.file.extend(sentences(&conn));
        if found.file.is_empty() {
            found.whole_file(conn, &path, skills);
        }
    }
    if !found.file.is_empty() {
        let mut salvage = Salvage::open(&path).map_err(unreadable)?;
        found.page_by_page(&mut salvage, progress).map_err(unreadable)?;
    }
    Ok(found)
}

fn nothing(path: &Path) -> Result<(), StoreError> {
    Err(StoreError::CannotOpen { path: path.to_owned(), why: "there is no such file".to_owned() })
}

/// What SQLite says of the file's pages and trees.
fn sentences(conn: &Connection) -> Vec<String> {
    let all = || {
        let mut statement = conn.prepare("PRAGMA integrity_check(100)")?;
        let rows = statement.query_map([], |row| row.get::<_, String>(0))?;
        rows.collect::<rusqlite::Result<Vec<String>>>()
    };
    let mut said = all().unwrap_or_else(|error| vec![error.to_string()]);
    said.retain(|sentence| sentence != "ok");
    // SQLite says several of them in one row.
    let mut lines: Vec<String> = said.iter().flat_map(|sentence| sentence.lines()).map(str::to_owned).collect();
    lines.retain(|line| !line.starts_with("*** in database"));
    if lines.is_empty() {
        lines.clone_from(&said);
    }
    lines.truncate(MOST_SENTENCES);
    lines
}

impl Inspection {
    /// The pages are in order: what stands on them is held against itself.
    fn whole_file(&mut self, conn: Connection, path: &Path, skills: &[&'static SkillMeta]) {
        let looked = || -> Result<_, StoreError> {
            // An older store is brought up to date in memory, so that the same can be asked of it.
            let is_older = schema::version(&conn).at(path)? < schema::VERSION;
            let conn = if is_older { copy_to_memory(&conn).at(path)? } else { conn };
            let mut store = Store::over(path.to_owned(), conn, true, skills);
            let verified = store.verify()?;
            // Its records may have no check values: then what cannot be told any more is found by telling it.
            if is_older && let Err(ExportError::Store(error)) = store.export(None, &mut io::sink()) {
                return Err(error);
            }
            let glance = store.glance()?;
            let name = |id| Ok::<_, StoreError>(store.learner(id)?.map_or_else(String::new, |learner| learner.name));
            let differences: Result<Vec<_>, StoreError> =
                verified.differences.iter().map(|one| Ok((name(one.learner)?, one.skill.clone()))).collect();
            Ok((glance, differences?, store.evening()?))
        };
        match looked() {
            Ok((glance, differences, evening)) => {
                self.evening = evening;
                (self.learners, self.answers, self.differences) = (glance.learners, glance.answers, differences);
            }
            Err(StoreError::Corrupt { detail, .. }) => self.file.push(detail),
            Err(other) => self.file.push(other.to_string()),
        }
    }

    /// Goes through the pages themselves and names what is not whole.
    fn page_by_page(&mut self, salvage: &mut Salvage, progress: &mut dyn FnMut(u32, u32)) -> io::Result<()> {
        let mut names: BTreeMap<i64, String> = BTreeMap::new();
        let mut named: BTreeMap<Vec<u8>, (i64, i64, String)> = BTreeMap::new();
        let mut whole: BTreeSet<Vec<u8>> = BTreeSet::new();
        let mut damaged: Vec<Row> = Vec::new();
        salvage.each(progress, |found| match found {
            salvage::Found::Row(row) if row.shape.table == "learners" => {
                let name = Name::read(row.text("name")).map_or_else(|_| String::new(), |name| name.shown);
                names.entry(row.key).or_insert(name);
            }
            salvage::Found::Row(row) if !row.whole => damaged.push(row),
            salvage::Found::Row(row) if row.shape.table == "attempts" => {
                if let Some(id) = row.id() {
                    whole.insert(id.to_vec());
                }
            }
            salvage::Found::Answer { learner, id, skill, key } => drop(named.insert(id, (learner, key, skill))),
            _ => {}
        })?;
        let name = |key: i64| names.get(&key).filter(|name| !name.is_empty()).cloned();
        self.learners = names.len() as u64;
        self.answers = whole.len() as u64;
        let mut known: BTreeSet<i64> = BTreeSet::new();
        for row in damaged {
            if row.shape.table == "attempts" {
                known.insert(row.key);
            }
            let learner = row.number("learner").and_then(name);
            let (day, skill) = (row.text("day").to_owned(), row.text("skill").to_owned());
            self.damaged.push(DamagedRecord { table: row.shape.table, key: row.key, learner, day, skill });
        }
        for (_, (learner, key, skill)) in named.into_iter().filter(|(id, _)| !whole.contains(id)) {
            if !known.contains(&key) {
                let learner = name(learner).unwrap_or_else(|| format!("learner {learner}"));
                self.lost.push(LostAnswer { learner, key, skill });
            }
        }
        crate::numbers::arrange(&mut self.lost, Ord::cmp);
        Ok(())
    }
}
