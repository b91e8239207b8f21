-- Version 6: what was said of a sheet of paper. Never edit a released version.

-- What was said of a sheet; the sheet itself stays. `put-away`: it will not come back; `taken-out`: it may, after all. `not-done`:
-- nobody worked the problem with this code on it; `open`: that was a slip. Of a sheet, and of each problem on it, the word with the
-- latest id counts, so that the order of merges does not matter. What was typed in of a problem goes before any such word.
CREATE TABLE sheet_marks (
    key INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    learner INTEGER NOT NULL REFERENCES learners (key),
    sheet INTEGER NOT NULL REFERENCES sheets (key),
    what TEXT NOT NULL CHECK (what IN ('put-away', 'taken-out', 'not-done', 'open')),
    code TEXT,
    marked_at INTEGER NOT NULL,
    day TEXT NOT NULL,
    check_value INTEGER,
    CHECK ((code IS NULL) = (what = 'put-away' OR what = 'taken-out'))
) STRICT;

CREATE INDEX sheet_marks_by_sheet ON sheet_marks (sheet);
CREATE INDEX sheet_marks_by_learner ON sheet_marks (learner);

CREATE TRIGGER sheet_marks_never_change BEFORE UPDATE OF key, id, sheet, what, code, marked_at, day ON sheet_marks
BEGIN
    SELECT RAISE(ABORT, 'marks are never changed');
END;

CREATE TRIGGER sheet_marks_stay BEFORE DELETE ON sheet_marks
WHEN NOT EXISTS (
    SELECT 1 FROM tombstones JOIN learners ON learners.id = tombstones.learner WHERE learners.key = OLD.learner
)
BEGIN
    SELECT RAISE(ABORT, 'marks are never removed, except by erasing the learner');
END;
