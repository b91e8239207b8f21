-- Version 1 of the store. Never edit a released version: add the next file and its line in schema.rs.
--
-- Ids are UUIDs of version 7 (16 bytes, ordered by time), so that stores of two laptops can be merged. The integer keys
-- are local to one file and keep the attempts small. `at` columns are nanoseconds since 1970 UTC; `day` is the learner's
-- own day, YYYY-MM-DD.

CREATE TABLE this_store (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    id BLOB NOT NULL CHECK (length(id) = 16)
) STRICT;

CREATE TABLE patrols (
    key INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    name TEXT NOT NULL,
    name_key TEXT NOT NULL,
    created_at INTEGER NOT NULL,
    changed_at INTEGER NOT NULL,
    archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;

CREATE UNIQUE INDEX patrols_by_name ON patrols (name_key) WHERE archived = 0;

-- `fold` says by which model and registry the learner's summaries were folded; anything else than the program's own
-- number makes it fold them again from the attempts.
CREATE TABLE learners (
    key INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    patrol INTEGER REFERENCES patrols (key),
    name TEXT NOT NULL,
    name_key TEXT NOT NULL,
    placement TEXT NOT NULL CHECK (placement IN ('fresh', 'done-before')),
    created_at INTEGER NOT NULL,
    changed_at INTEGER NOT NULL,
    archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1)),
    fold INTEGER NOT NULL
) STRICT;

CREATE UNIQUE INDEX learners_by_name ON learners (name_key) WHERE archived = 0;
CREATE INDEX learners_by_patrol ON learners (patrol) WHERE patrol IS NOT NULL;

-- Erased learners: nothing is left of them but this, so that a merge does not bring them back.
CREATE TABLE tombstones (
    learner BLOB PRIMARY KEY CHECK (length(learner) = 16),
    erased_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE sessions (
    key INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    learner INTEGER NOT NULL REFERENCES learners (key),
    made_in BLOB NOT NULL CHECK (length(made_in) = 16),
    started_at INTEGER NOT NULL,
    day TEXT NOT NULL,
    drill TEXT,
    program TEXT NOT NULL
) STRICT;

CREATE INDEX sessions_by_learner ON sessions (learner);

-- A commit waits for every page it touches, so there is one index, which also gives the order of the fold, and `session` has
-- no foreign key: it is looked up as it is written. The checks say OR since a longer IN builds a table at each insert. With a rowid, since rows this long are appended to a tree without one
-- at the cost of three leaves each time.
CREATE TABLE attempts (
    key INTEGER PRIMARY KEY,
    learner INTEGER NOT NULL REFERENCES learners (key),
    id BLOB NOT NULL CHECK (length(id) = 16),
    session INTEGER NOT NULL,
    at INTEGER NOT NULL,
    day TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind = 'practice' OR kind = 'check' OR kind = 'worksheet' OR kind = 'round'),
    code TEXT NOT NULL,
    skill TEXT NOT NULL,
    level INTEGER NOT NULL CHECK (level BETWEEN 1 AND 4),
    generation INTEGER NOT NULL,
    seed INTEGER NOT NULL,
    facts TEXT NOT NULL,
    right_answer TEXT NOT NULL,
    given TEXT NOT NULL,
    verdict TEXT NOT NULL CHECK (verdict = 'right' OR verdict = 'mix-up' OR verdict = 'unrecognised'),
    mixup TEXT CHECK ((mixup IS NOT NULL) = (verdict = 'mix-up')),
    exposed TEXT NOT NULL,
    hinted INTEGER NOT NULL CHECK (hinted IN (0, 1)),
    explained INTEGER NOT NULL CHECK (explained IN (0, 1)),
    took_ms INTEGER CHECK (took_ms >= 0),
    moves TEXT
) STRICT;

CREATE UNIQUE INDEX attempts_in_order ON attempts (learner, id, skill);

-- The present end of the fold over a learner's attempts of one skill: how many, the last one, and the belief.
-- With a rowid, since a belief is too long for the leaf of a table without.
CREATE TABLE summaries (
    key INTEGER PRIMARY KEY,
    learner INTEGER NOT NULL REFERENCES learners (key),
    skill TEXT NOT NULL,
    attempts INTEGER NOT NULL CHECK (attempts > 0),
    last BLOB NOT NULL CHECK (length(last) = 16),
    belief TEXT NOT NULL
) STRICT;

CREATE UNIQUE INDEX summaries_by_skill ON summaries (learner, skill);

CREATE TRIGGER attempts_never_change BEFORE UPDATE ON attempts
BEGIN
    SELECT RAISE(ABORT, 'attempts are never changed');
END;

-- An attempt goes only with its learner, whose tombstone is set first.
CREATE TRIGGER attempts_stay BEFORE DELETE ON attempts
WHEN NOT EXISTS (
    SELECT 1 FROM tombstones JOIN learners ON learners.id = tombstones.learner WHERE learners.key = OLD.learner
)
BEGIN
    SELECT RAISE(ABORT, 'attempts are never removed, except by erasing the learner');
END;

CREATE TRIGGER tombstones_stay BEFORE DELETE ON tombstones
BEGIN
    SELECT RAISE(ABORT, 'tombstones stay');
END;

CREATE TRIGGER erased_learners_stay_erased BEFORE INSERT ON learners
WHEN EXISTS (SELECT 1 FROM tombstones WHERE tombstones.learner = NEW.id)
BEGIN
    SELECT RAISE(ABORT, 'this learner was erased');
END;
