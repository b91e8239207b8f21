//! The tables that travel between stores, described once: how a column is called outside the file, and what it refers to.

use super::check_value::{CHECKED, Checked};

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum As {
    /// A record's own id.
    Id,
    /// A record of this table: its local key here, its id outside.
    Of(&'static str),
    /// An id of a record in one of several tables.
    AnyId,
    /// A moment in nanoseconds.
    Moment,
    /// A text.
    Text,
    /// A number.
    Number,
    /// A number without a sign that the file keeps as one with a sign.
    Unsigned,
    /// Yes or no.
    Flag,
    /// JSON, as a text in the file.
    Json,
}

/// A column: its name outside, its name in the file, and what stands in it.
pub(super) type Column = (&'static str, &'static str, As);

/// A table that travels.
#[derive(Debug)]
pub(super) struct Described {
    /// What one record of it is called outside.
    pub(super) kind: &'static str,
    pub(super) table: &'static str,
    pub(super) columns: &'static [Column],
}

/// The tables, each behind those that it refers to.
pub(super) const DESCRIBED: [Described; 12] = [
    Described {
        kind: "patrol",
        table: "patrols",
        columns: &[
            ("id", "id", As::Id),
            ("name", "name", As::Text),
            ("created_at", "created_at", As::Moment),
            ("changed_at", "changed_at", As::Moment),
            ("archived", "archived", As::Flag),
        ],
    },
    Described {
        kind: "learner",
        table: "learners",
        columns: &[
            ("id", "id", As::Id),
            ("name", "coalesce(given_name, name)", As::Text),
            ("patrol", "patrol", As::Of("patrols")),
            ("placement", "placement", As::Text),
            ("created_at", "created_at", As::Moment),
            ("changed_at", "changed_at", As::Moment),
            ("archived", "archived", As::Flag),
        ],
    },
    Described {
        kind: "alias",
        table: "aliases",
        columns: &[
            ("id", "id", As::Id),
            ("learner", "learner", As::Of("learners")),
            ("other", "other", As::Of("learners")),
            ("same", "same", As::Flag),
            ("said_at", "said_at", As::Moment),
        ],
    },
    Described {
        kind: "check",
        table: "checks",
        columns: &[
            ("id", "id", As::Id),
            ("learner", "learner", As::Of("learners")),
            ("standard", "standard", As::Text),
            ("rules", "rules", As::Json),
            ("began_at", "began_at", As::Moment),
            ("day", "day", As::Text),
        ],
    },
    Described {
        kind: "sheet",
        table: "sheets",
        columns: &[
            ("id", "id", As::Id),
            ("learner", "learner", As::Of("learners")),
            ("codes", "codes", As::Json),
            ("made_at", "made_at", As::Moment),
            ("day", "day", As::Text),
        ],
    },
    Described {
        kind: "sitting",
        table: "sessions",
        columns: &[
            ("id", "id", As::Id),
            ("learner", "learner", As::Of("learners")),
            ("made_in", "made_in", As::AnyId),
            ("started_at", "started_at", As::Moment),
            ("day", "day", As::Text),
            ("day_given", "day_given", As::Flag),
            ("drill", "drill", As::Text),
            ("program", "program", As::Text),
            ("check", "check_key", As::Of("checks")),
        ],
    },
    Described {
        kind: "answer",
        table: "attempts",
        columns: &[
            ("id", "id", As::Id),
            ("learner", "learner", As::Of("learners")),
            ("sitting", "session", As::Of("sessions")),
            ("at", "at", As::Moment),
            ("day", "day", As::Text),
            ("given_in", "kind", As::Text),
            ("code", "code", As::Text),
            ("skill", "skill", As::Text),
            ("level", "level", As::Number),
            ("generation", "generation", As::Number),
            ("seed", "seed", As::Unsigned),
            ("facts", "facts", As::Json),
            ("right_answer", "right_answer", As::Json),
            ("given", "given", As::Json),
            ("verdict", "verdict", As::Text),
            ("mixup", "mixup", As::Text),
            ("exposed", "exposed", As::Json),
            ("help", "help", As::Number),
            ("hinted", "hinted", As::Flag),
            ("explained", "explained", As::Flag),
            ("took_ms", "took_ms", As::Number),
            ("moves", "moves", As::Json),
            ("sheet", "sheet", As::Of("sheets")),
            ("entry", "entry", As::Number),
        ],
    },
    Described {
        kind: "seen",
        table: "seen",
        columns: &[
            ("id", "id", As::Id),
            ("learner", "learner", As::Of("learners")),
            ("skill", "skill", As::Text),
            ("what", "what", As::Text),
            ("day", "day", As::Text),
            ("seen_by", "seen_by", As::Text),
            ("written_at", "written_at", As::Moment),
            ("outcome", "outcome", As::Text),
        ],
    },
    Described {
        kind: "mark",
        table: "marks",
        columns: &[
            ("id", "id", As::Id),
            ("learner", "learner", As::Of("learners")),
            ("on", "kind", As::Text),
            ("target", "target", As::AnyId),
            ("what", "what", As::Text),
            ("skill", "skill", As::Text),
            ("reason", "reason", As::Text),
            ("marked_at", "marked_at", As::Moment),
            ("day", "day", As::Text),
        ],
    },
    Described {
        kind: "sheet-mark",
        table: "sheet_marks",
        columns: &[
            ("id", "id", As::Id),
            ("learner", "learner", As::Of("learners")),
            ("sheet", "sheet", As::Of("sheets")),
            ("what", "what", As::Text),
            ("code", "code", As::Text),
            ("marked_at", "marked_at", As::Moment),
            ("day", "day", As::Text),
        ],
    },
    Described {
        kind: "lesson",
        table: "lessons",
        columns: &[
            ("learner", "learner", As::Of("learners")),
            ("lesson", "lesson", As::Text),
            ("screen", "screen", As::Number),
            ("done", "done", As::Flag),
            ("noted_at", "noted_at", As::Moment),
        ],
    },
    Described {
        kind: "evening",
        table: "evenings",
        columns: &[
            ("kept_at", "kept_at", As::Moment),
            ("day", "day", As::Text),
            ("clock", "clock", As::Text),
            ("standard", "standard", As::Text),
            ("plan", "plan", As::Json),
        ],
    },
];

impl Described {
    /// The table whose records are called so outside.
    pub(super) fn of_kind(kind: &str) -> Option<&'static Described> {
        DESCRIBED.iter().find(|one| one.kind == kind)
    }

    /// Whether each record has a check value.
    pub(super) fn is_checked(&self) -> bool {
        CHECKED.iter().any(|one| one.table == self.table)
    }

    /// An `INSERT` into the table, with check values where it has them, of what a `SELECT` gives under the columns' names.
    pub(super) fn insert(&self, source: &str) -> String {
        if self.is_checked() {
            return Checked::named(self.table).insert(source);
        }
        let columns: Vec<&str> = self.columns.iter().map(|(_, column, _)| *column).collect();
        let columns = columns.join(", ");
        format!("INSERT INTO {} ({columns}) SELECT {columns} FROM ({source})", self.table)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_column_with_a_check_value_travels() {
        for checked in CHECKED {
            let described = DESCRIBED.iter().find(|one| one.table == checked.table).unwrap();
            let mut travels: Vec<&str> = described.columns.iter().map(|(_, column, _)| *column).collect();
            let mut wanted: Vec<&str> = checked.columns.split(", ").collect();
            travels.sort_unstable();
            wanted.sort_unstable();
            assert_eq!(travels, wanted, "{}", checked.table);
        }
    }
}
