-- Version 2: checks, what was seen on the ground. Never edit a released version.

-- One check of one learner: `rules` (JSON) are those it began under, whatever becomes of the standard's file. What was
-- answered stands in the attempts of its sessions; how it stands is a fold over those.
CREATE TABLE checks (
    key INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    learner INTEGER NOT NULL REFERENCES learners (key),
    standard TEXT NOT NULL,
    rules TEXT NOT NULL,
    began_at INTEGER NOT NULL,
    day TEXT NOT NULL
) STRICT;

CREATE INDEX checks_by_learner ON checks (learner);

ALTER TABLE sessions ADD COLUMN check_key INTEGER REFERENCES checks (key);

CREATE INDEX sessions_by_check ON sessions (check_key) WHERE check_key IS NOT NULL;

-- All that a fold of checks reads, so that a whole patrol's page never touches the long rows.
CREATE INDEX attempts_of_checks ON attempts (session, id, skill, verdict, mixup, day) WHERE kind = 'check';

-- What a leader saw somebody do on real ground.
CREATE TABLE seen (
    key INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    learner INTEGER NOT NULL REFERENCES learners (key),
    skill TEXT NOT NULL,
    what TEXT NOT NULL,
    day TEXT NOT NULL,
    seen_by TEXT NOT NULL,
    written_at INTEGER NOT NULL
) STRICT;

CREATE INDEX seen_by_learner ON seen (learner);
