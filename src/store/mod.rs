//! The records: SQLite, append-only attempts.
