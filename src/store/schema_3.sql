-- Version 3: marks, degrees of help, worksheets, outcomes seen on the ground, days given by hand, one person under
-- several ids. Never edit a released version.

-- What was said of a record afterwards; the record itself stays. `target` is the id of an attempt, of an entry of what
-- was seen, or of a check, all of the same learner. `undone` and `annulled` make an attempt or an entry count for nothing; `shortened` lets a
-- new check begin from `day` on, in `skill`, or in all skills of that check where none is named.
CREATE TABLE marks (
    key INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    learner INTEGER NOT NULL REFERENCES learners (key),
    kind TEXT NOT NULL CHECK (kind IN ('attempt', 'seen', 'check')),
    target BLOB NOT NULL CHECK (length(target) = 16),
    what TEXT NOT NULL CHECK (what IN ('undone', 'annulled', 'shortened')),
    skill TEXT,
    reason TEXT NOT NULL,
    marked_at INTEGER NOT NULL,
    day TEXT NOT NULL,
    CHECK ((what = 'shortened') = (kind = 'check')),
    CHECK (skill IS NULL OR what = 'shortened')
) STRICT;

CREATE INDEX marks_by_target ON marks (target);
CREATE INDEX marks_by_learner ON marks (learner);

-- How often a learner's past was changed other than by one more attempt at its end: a mark, or older attempts that a
-- merge brings. Whoever keeps their beliefs in memory sees by it that they must be folded anew, also when another program
-- has done so in the file meanwhile.
ALTER TABLE learners ADD COLUMN revision INTEGER NOT NULL DEFAULT 0;

CREATE TRIGGER marks_have_a_target BEFORE INSERT ON marks
WHEN NOT CASE NEW.kind
    WHEN 'attempt' THEN EXISTS (SELECT 1 FROM attempts WHERE learner = NEW.learner AND id = NEW.target)
    WHEN 'seen' THEN EXISTS (SELECT 1 FROM seen WHERE learner = NEW.learner AND id = NEW.target)
    ELSE EXISTS (SELECT 1 FROM checks WHERE learner = NEW.learner AND id = NEW.target)
END
BEGIN
    SELECT RAISE(ABORT, 'a mark needs what it marks');
END;

CREATE TRIGGER marks_fold_anew AFTER INSERT ON marks WHEN NEW.kind = 'attempt'
BEGIN
    UPDATE learners SET fold = 0, revision = revision + 1 WHERE key = NEW.learner;
END;

CREATE TRIGGER marks_never_change BEFORE UPDATE ON marks
BEGIN
    SELECT RAISE(ABORT, 'marks are never changed');
END;

CREATE TRIGGER marks_stay BEFORE DELETE ON marks
WHEN NOT EXISTS (
    SELECT 1 FROM tombstones JOIN learners ON learners.id = tombstones.learner WHERE learners.key = OLD.learner
)
BEGIN
    SELECT RAISE(ABORT, 'marks are never removed, except by erasing the learner');
END;

-- A sheet of problems on paper; `codes` is a JSON list.
CREATE TABLE sheets (
    key INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    learner INTEGER NOT NULL REFERENCES learners (key),
    codes TEXT NOT NULL,
    made_at INTEGER NOT NULL,
    day TEXT NOT NULL
) STRICT;

CREATE INDEX sheets_by_learner ON sheets (learner);

-- The sheet that an answer was written on. A problem of a sheet counts once: `entry` is 0, or how many entries of the same
-- problem were undone before this one, so that what was mistyped can be typed again. Of two laptops on which one sheet
-- was typed in, the earlier entry stays; a merge gives the later one the next number and marks it undone.
ALTER TABLE attempts ADD COLUMN sheet INTEGER REFERENCES sheets (key) CHECK (sheet IS NULL OR kind = 'worksheet');
ALTER TABLE attempts ADD COLUMN entry INTEGER CHECK ((entry IS NULL) = (sheet IS NULL) AND (entry IS NULL OR entry >= 0));

CREATE UNIQUE INDEX attempts_once_a_sheet ON attempts (sheet, code, entry) WHERE sheet IS NOT NULL;

-- How much help was on the screen: 0 none, 1 another problem's example or a reminder, 2 the problem's own steps with
-- blanks, 3 a hint, 4 the decision, 5 the answer. NULL in rows of versions 1 and 2, where `hinted` alone says 0 or 3;
-- `hinted` goes on being written, for whoever reads the file with other tools: no evidence from a hint on.
ALTER TABLE attempts ADD COLUMN help INTEGER CHECK (help IS NULL OR (help >= 0 AND help <= 5 AND hinted = (help >= 3)));

-- How it went, by the leader who saw it. What was written before nobody was asked.
ALTER TABLE seen ADD COLUMN outcome TEXT NOT NULL DEFAULT 'not-said'
    CHECK (outcome = 'yes' OR outcome = 'no' OR outcome = 'not-said');

-- Whether the session's day was given (--date) and not the clock's; unknown, and so 0, before version 3.
ALTER TABLE sessions ADD COLUMN day_given INTEGER NOT NULL DEFAULT 0 CHECK (day_given = 0 OR day_given = 1);

-- What was said of two learners when stores were merged: one person (`other` stands for `learner`), or not. Where both were
-- said, they are one. Erasing one erases all who are the same.
CREATE TABLE aliases (
    key INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    learner INTEGER NOT NULL REFERENCES learners (key),
    other INTEGER NOT NULL REFERENCES learners (key),
    same INTEGER NOT NULL CHECK (same IN (0, 1)),
    said_at INTEGER NOT NULL,
    CHECK (learner <> other)
) STRICT;

CREATE INDEX aliases_by_learner ON aliases (learner);
CREATE INDEX aliases_by_other ON aliases (other);

CREATE TRIGGER aliases_never_change BEFORE UPDATE ON aliases
BEGIN
    SELECT RAISE(ABORT, 'aliases are never changed');
END;

CREATE TRIGGER aliases_stay BEFORE DELETE ON aliases
WHEN NOT EXISTS (
    SELECT 1 FROM tombstones JOIN learners ON learners.id = tombstones.learner
    WHERE learners.key = OLD.learner OR learners.key = OLD.other
)
BEGIN
    SELECT RAISE(ABORT, 'aliases are never removed, except by erasing the learner');
END;
