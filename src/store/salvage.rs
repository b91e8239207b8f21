//! What can be told of a store whose pages are torn: each record that is whole, wherever in the file it lies.

use super::check_value::{CHECKED, Checked, check_value};
use super::pages::Pages;
use super::schema;
use rusqlite::types::{Value, ValueRef};
use std::io;

/// What the records of a table look like.
#[derive(Debug)]
pub(super) struct Shape {
    pub(super) table: &'static str,
    /// All columns, as the newest version has them.
    pub(super) columns: &'static str,
    /// What each of them holds: `k` the key, which stands elsewhere; `i` a number, `n` or none; `s` a text, `t` or none; `b` an
    /// id.
    kinds: &'static str,
    /// How many of them the oldest version wrote.
    least: usize,
}

pub(super) const SHAPES: [Shape; 10] = [
    Shape {
        table: "attempts",
        columns: "key, learner, id, session, at, day, kind, code, skill, level, generation, seed, facts, right_answer, given, \
                  verdict, mixup, exposed, hinted, explained, took_ms, moves, sheet, entry, help, check_value",
        kinds: "kibiissssiiisssstsiintnnnn",
        least: 22,
    },
    Shape {
        table: "sessions",
        columns: "key, id, learner, made_in, started_at, day, drill, program, check_key, day_given, check_value",
        kinds: "kbibistsnin",
        least: 8,
    },
    Shape {
        table: "checks",
        columns: "key, id, learner, standard, rules, began_at, day, check_value",
        kinds: "kbissisn",
        least: 7,
    },
    Shape {
        table: "seen",
        columns: "key, id, learner, skill, what, day, seen_by, written_at, outcome, check_value",
        kinds: "kbissssisn",
        least: 8,
    },
    Shape {
        table: "marks",
        columns: "key, id, learner, kind, target, what, skill, reason, marked_at, day, check_value",
        kinds: "kbisbstsisn",
        least: 10,
    },
    Shape {
        table: "sheets",
        columns: "key, id, learner, codes, made_at, day, check_value",
        kinds: "kbisisn",
        least: 6,
    },
    Shape {
        table: "sheet_marks",
        columns: "key, id, learner, sheet, what, code, marked_at, day, check_value",
        kinds: "kbiistisn",
        least: 9,
    },
    Shape {
        table: "aliases",
        columns: "key, id, learner, other, same, said_at, check_value",
        kinds: "kbiiiin",
        least: 6,
    },
    Shape {
        table: "learners",
        columns: "key, id, patrol, name, name_key, placement, created_at, changed_at, archived, fold, revision, same_as, given_name",
        kinds: "kbnsssiiiiint",
        least: 10,
    },
    Shape {
        table: "patrols",
        columns: "key, id, name, name_key, created_at, changed_at, archived",
        kinds: "kbssiii",
        least: 7,
    },
];

impl Shape {
    /// Where a column stands.
    pub(super) fn place(&self, column: &str) -> usize {
        self.columns.split(", ").position(|one| one == column).unwrap_or(0)
    }

    fn is_like(&self, values: &[Value]) -> bool {
        let holds = |(kind, value): (u8, &Value)| match (kind, value) {
            (b'k' | b'n' | b't', Value::Null) | (b'i' | b'n', Value::Integer(_)) | (b's' | b't', Value::Text(_)) => {
                true
            }
            (b'b', Value::Blob(id)) => id.len() == 16,
            _ => false,
        };
        (self.least..=self.kinds.len()).contains(&values.len()) && self.kinds.bytes().zip(values).all(holds)
    }

    /// What stands in the columns that older versions did not have.
    fn filled_up(&self, mut values: Vec<Value>) -> Vec<Value> {
        let columns = self.columns.split(", ").skip(values.len());
        values.extend(columns.map(|column| match (self.table, column) {
            ("seen", "outcome") => Value::Text("not-said".to_owned()),
            ("sessions", "day_given") | ("learners", "revision") => Value::Integer(0),
            _ => Value::Null,
        }));
        values
    }

    /// Whether the check value is the right one; none where the table or the record has none.
    fn is_checked(&self, values: &[Value]) -> Option<bool> {
        let checked = CHECKED.iter().find(|one| one.table == self.table)?;
        let Some(Value::Integer(written)) = values.get(self.place("check_value")) else { return None };
        let parts = checked
            .columns
            .split(", ")
            .map(|column| values.get(self.place(column)).map_or(ValueRef::Null, ValueRef::from));
        Some(check_value(self.table, parts) == *written)
    }
}

/// A record of a table.
#[derive(Debug)]
pub(super) struct Row {
    pub(super) shape: &'static Shape,
    pub(super) key: i64,
    /// By the shape's columns; what an older version did not write is filled up.
    pub(super) values: Vec<Value>,
    /// Whether it is as it was written, as far as can be known.
    pub(super) whole: bool,
}

impl Row {
    pub(super) fn number(&self, column: &str) -> Option<i64> {
        match self.values.get(self.shape.place(column)) {
            Some(Value::Integer(number)) => Some(*number),
            _ => None,
        }
    }

    pub(super) fn text(&self, column: &str) -> &str {
        match self.values.get(self.shape.place(column)) {
            Some(Value::Text(text)) => text,
            _ => "",
        }
    }

    pub(super) fn id(&self) -> Option<&[u8]> {
        match self.values.get(self.shape.place("id")) {
            Some(Value::Blob(id)) => Some(id),
            _ => None,
        }
    }
}

/// Something that was found.
#[derive(Debug)]
pub(super) enum Found {
    /// A record of a table.
    Row(Row),
    /// That there is an answer of a learner: an index names it.
    Answer { learner: i64, id: Vec<u8>, skill: String, key: i64 },
    /// Somebody was erased: the id, and when.
    Tombstone(Vec<u8>, i64),
    /// How far somebody is in a lesson: the row as it stands.
    Lesson(Vec<Value>),
}

/// A file gone through page by page.
#[derive(Debug)]
pub(super) struct Salvage {
    pages: Pages,
    /// Whether records without a right check value are damaged: in older stores none has one.
    needs_checks: bool,
}

impl Salvage {
    /// Opens a file.
    pub(super) fn open(path: &std::path::Path) -> io::Result<Salvage> {
        let mut pages = Pages::open(path)?;
        let header = pages.read(1)?;
        let version = header.starts_with(b"SQLite format 3\0").then(|| header.get(60..64)).flatten();
        let version = version.and_then(|bytes| bytes.try_into().ok()).map(u32::from_be_bytes).map(i64::from);
        let known = version.filter(|version| (1..=schema::VERSION).contains(version));
        let mut salvage = Salvage { pages, needs_checks: known.is_none_or(|version| version >= 5) };
        if known.is_none() {
            // The page that says it is torn: where not one record has a check value, there never were any.
            salvage.needs_checks =
                salvage.any(|row| row.whole && CHECKED.iter().any(|one| one.table == row.shape.table))?;
        }
        Ok(salvage)
    }

    /// Whether a row is like this somewhere.
    fn any(&mut self, wanted: impl Fn(&Row) -> bool) -> io::Result<bool> {
        let mut seen = false;
        self.each(&mut |_, _| {}, |found| {
            if let Found::Row(row) = found {
                seen |= wanted(&row);
            }
        })?;
        Ok(seen)
    }

    /// Whether there is anything of a store in the file.
    pub(super) fn is_ours(&mut self) -> io::Result<bool> {
        self.needs_checks = true;
        self.any(|row| row.whole && row.shape.table != "patrols")
    }

    /// Hands over everything that is found, what is in use before what is not; says meanwhile how many of them are done, of how many.
    pub(super) fn each(&mut self, progress: &mut dyn FnMut(u32, u32), mut each: impl FnMut(Found)) -> io::Result<()> {
        let needs_checks = self.needs_checks;
        let (count, unused) = (self.pages.count(), self.pages.unused()?);
        // What lies on unused pages is old, so it comes last.
        let in_use = (1..=count).filter(|number| !unused.contains(number));
        let in_order = in_use.chain((1..=count).filter(|number| unused.contains(number)));
        for (done, number) in (1..=count).zip(in_order) {
            self.pages.records(number, |key, values| {
                if let Some(found) = understood(key, values, needs_checks) {
                    each(found);
                }
            })?;
            progress(done, count);
        }
        Ok(())
    }
}

/// Moments are nanoseconds and keys are small: what an index of ids holds is no tombstone.
const EARLIEST_MOMENT: i64 = 1_000_000_000_000_000;

fn understood(key: Option<i64>, mut values: Vec<Value>, needs_checks: bool) -> Option<Found> {
    let Some(key) = key else {
        return match values.as_mut_slice() {
            [Value::Blob(id), Value::Integer(at)] if id.len() == 16 && *at > EARLIEST_MOMENT => {
                Some(Found::Tombstone(std::mem::take(id), *at))
            }
            [Value::Integer(learner), Value::Blob(id), Value::Text(skill), Value::Integer(key)] if id.len() == 16 => {
                let (id, skill) = (std::mem::take(id), std::mem::take(skill));
                Some(Found::Answer { learner: *learner, id, skill, key: *key })
            }
            [Value::Integer(_), Value::Text(_), Value::Integer(_), Value::Integer(_), Value::Integer(_)] => {
                Some(Found::Lesson(values))
            }
            _ => None,
        };
    };
    let mut like = SHAPES.iter().filter(|shape| shape.is_like(&values));
    let first = like.next()?;
    // Of two tables of one form the check value tells which.
    let shape =
        std::iter::once(first).chain(like).find(|shape| shape.is_checked(&values) == Some(true)).unwrap_or(first);
    let whole = match shape.is_checked(&values) {
        Some(right) => right,
        None => {
            (!needs_checks || !CHECKED.iter().any(|one: &Checked| one.table == shape.table))
                && values.iter().all(is_text_whole)
        }
    };
    Some(Found::Row(Row { shape, key, values: shape.filled_up(values), whole }))
}

/// Whether a text is one: where its bytes were not, a sign stands in their place.
fn is_text_whole(value: &Value) -> bool {
    !matches!(value, Value::Text(text) if text.contains(char::REPLACEMENT_CHARACTER))
}
