//! Check values: a number beside each record over all that the record says, so that a bit which flips on a disk is found.
//!
//! The number is FNV-1a over the table's name and the columns in their order. Each step of it can be undone, so a record in
//! which one byte is another one never has the same number. The keys that are local to the file are in it, too: a record
//! that is copied into another file gets another number there.

use rusqlite::Connection;
use rusqlite::functions::FunctionFlags;
use rusqlite::types::ValueRef;

/// A table whose records have a check value.
#[derive(Clone, Copy, Debug)]
pub(super) struct Checked {
    pub(super) table: &'static str,
    /// The columns that it goes over, in this order.
    pub(super) columns: &'static str,
}

/// All such tables. What changes in place (names, how far somebody is in a lesson) and what can be worked out (summaries) has
/// none.
pub(super) const CHECKED: [Checked; 8] = [
    Checked {
        table: "attempts",
        columns: "learner, id, session, at, day, kind, code, skill, level, generation, seed, facts, right_answer, given, \
                  verdict, mixup, exposed, hinted, explained, took_ms, moves, sheet, entry, help",
    },
    Checked {
        table: "sessions",
        columns: "id, learner, made_in, started_at, day, drill, program, check_key, day_given",
    },
    Checked { table: "checks", columns: "id, learner, standard, rules, began_at, day" },
    Checked { table: "seen", columns: "id, learner, skill, what, day, seen_by, written_at, outcome" },
    Checked { table: "marks", columns: "id, learner, kind, target, what, skill, reason, marked_at, day" },
    Checked { table: "sheets", columns: "id, learner, codes, made_at, day" },
    Checked { table: "sheet_marks", columns: "id, learner, sheet, what, code, marked_at, day" },
    Checked { table: "aliases", columns: "id, learner, other, same, said_at" },
];

impl Checked {
    /// The table of this name; the first where there is none.
    pub(super) fn named(table: &str) -> Checked {
        CHECKED.into_iter().find(|one| one.table == table).unwrap_or(CHECKED[0])
    }

    /// What the check value of a row should be, in SQL.
    pub(super) fn value(&self) -> String {
        format!("check_value_of('{}', {})", self.table, self.columns)
    }

    /// An `INSERT` of all columns with their check value; `source` is a `SELECT` that gives them under their names.
    pub(super) fn insert(&self, source: &str) -> String {
        let Checked { table, columns } = self;
        format!("INSERT INTO {table} ({columns}, check_value) SELECT {columns}, {} FROM ({source})", self.value())
    }
}

/// FNV-1a of 64 bits.
pub(super) struct Fnv(u64);

impl Fnv {
    pub(super) const fn new() -> Fnv {
        Fnv(0xcbf2_9ce4_8422_2325)
    }

    pub(super) fn take(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x100_0000_01b3);
        }
    }

    /// The number as the file keeps it.
    pub(super) const fn number(&self) -> i64 {
        self.0.cast_signed()
    }
}

/// The check value of a record of a table.
pub(super) fn check_value<'a>(table: &str, values: impl IntoIterator<Item = ValueRef<'a>>) -> i64 {
    let mut hash = Fnv::new();
    let mut take = |bytes: &[u8]| hash.take(bytes);
    take(table.as_bytes());
    for value in values {
        match value {
            ValueRef::Null => take(&[0]),
            ValueRef::Integer(number) => {
                take(&[1]);
                take(&number.to_le_bytes());
            }
            ValueRef::Real(number) => {
                take(&[2]);
                take(&number.to_bits().to_le_bytes());
            }
            ValueRef::Text(text) => {
                take(&[3]);
                take(&(text.len() as u64).to_le_bytes());
                take(text);
            }
            ValueRef::Blob(bytes) => {
                take(&[4]);
                take(&(bytes.len() as u64).to_le_bytes());
                take(bytes);
            }
        }
    }
    hash.number()
}

/// Makes `check_value_of(table, …)` known to a connection.
pub(super) fn make_known(conn: &Connection) -> rusqlite::Result<()> {
    let flags = FunctionFlags::SQLITE_UTF8 | FunctionFlags::SQLITE_DETERMINISTIC | FunctionFlags::SQLITE_DIRECTONLY;
    conn.create_scalar_function("check_value_of", -1, flags, |context| {
        let table: String = context.get(0)?;
        Ok(check_value(&table, (1..context.len()).map(|at| context.get_raw(at))))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_number_is_fnv_1a() {
        // Test vectors of the algorithm's authors: "" and "foobar" (draft-eastlake-fnv, 64 bits).
        assert_eq!(check_value("", []).cast_unsigned(), 0xcbf2_9ce4_8422_2325);
        assert_eq!(check_value("foobar", []).cast_unsigned(), 0x8594_4171_f739_67e8);
    }

    #[test]
    fn what_stands_in_another_column_or_is_of_another_kind_is_something_else() {
        let text = |text: &'static str| ValueRef::Text(text.as_bytes());
        let all = [
            check_value("t", [text("ab"), text("c")]),
            check_value("t", [text("a"), text("bc")]),
            check_value("t", [text("abc")]),
            check_value("t", [ValueRef::Blob(b"abc")]),
            check_value("t", [ValueRef::Null, text("abc")]),
            check_value("t", [ValueRef::Integer(0)]),
            check_value("t", [ValueRef::Null]),
            check_value("u", [ValueRef::Null]),
        ];
        for (at, one) in all.iter().enumerate() {
            assert!(!all[at + 1..].contains(one), "{at}");
        }
    }

    proptest! {
        #[test]
        fn a_bit_that_flips_always_changes_it(bytes in prop::collection::vec(any::<u8>(), 1..300), bit in any::<usize>()) {
            let mut flipped = bytes.clone();
            let bit = bit % (bytes.len() * 8);
            flipped[bit / 8] ^= 1 << (bit % 8);
            prop_assert_ne!(
                check_value("attempts", [ValueRef::Text(&bytes)]),
                check_value("attempts", [ValueRef::Text(&flipped)])
            );
        }
    }
}
