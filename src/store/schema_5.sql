-- Version 5: check values, and what a merge works out. Never edit a released version.

-- A number over all that a row says (check_value.rs), so that a bit which flips on a disk is found. The function belongs to the
-- program: whoever writes rows with other tools leaves the column empty, and `store verify` names the row.
ALTER TABLE attempts ADD COLUMN check_value INTEGER;
ALTER TABLE sessions ADD COLUMN check_value INTEGER;
ALTER TABLE checks ADD COLUMN check_value INTEGER;
ALTER TABLE seen ADD COLUMN check_value INTEGER;
ALTER TABLE marks ADD COLUMN check_value INTEGER;
ALTER TABLE sheets ADD COLUMN check_value INTEGER;
ALTER TABLE aliases ADD COLUMN check_value INTEGER;

-- Worked out from what all stores say together, anew at each merge, so that the order of merges does not matter. `same_as` is the
-- learner for whom this one is another id of the same person: all records stand under that one then. `given_name` is the name
-- as it was given where `name` has a suffix, since somebody else has the same name.
ALTER TABLE learners ADD COLUMN same_as INTEGER REFERENCES learners (key);
ALTER TABLE learners ADD COLUMN given_name TEXT;

DROP INDEX learners_by_name;
CREATE UNIQUE INDEX learners_by_name ON learners (name_key) WHERE archived = 0 AND same_as IS NULL;
CREATE INDEX learners_same ON learners (same_as) WHERE same_as IS NOT NULL;

-- A problem of a check counts once, whoever runs it twice: so what a fold of checks reads has the code in it, too.
DROP INDEX attempts_of_checks;
CREATE INDEX attempts_of_checks ON attempts (session, id, skill, verdict, mixup, day, code) WHERE kind = 'check';

DROP TRIGGER attempts_never_change;
DROP TRIGGER marks_never_change;
DROP TRIGGER marks_stay;
DROP TRIGGER aliases_never_change;

UPDATE attempts SET check_value = check_value_of('attempts', learner, id, session, at, day, kind, code, skill, level, generation,
    seed, facts, right_answer, given, verdict, mixup, exposed, hinted, explained, took_ms, moves, sheet, entry, help);
UPDATE sessions SET check_value =
    check_value_of('sessions', id, learner, made_in, started_at, day, drill, program, check_key, day_given);
UPDATE checks SET check_value = check_value_of('checks', id, learner, standard, rules, began_at, day);
UPDATE seen SET check_value = check_value_of('seen', id, learner, skill, what, day, seen_by, written_at, outcome);
UPDATE marks SET check_value = check_value_of('marks', id, learner, kind, target, what, skill, reason, marked_at, day);
UPDATE sheets SET check_value = check_value_of('sheets', id, learner, codes, made_at, day);
UPDATE aliases SET check_value = check_value_of('aliases', id, learner, other, same, said_at);

-- What was said never changes. Under which of a person's ids it stands, and as how manieth entry of a sheet, a merge works out.
CREATE TRIGGER attempts_never_change BEFORE UPDATE OF key, id, session, at, day, kind, code, skill, level, generation, seed, facts,
    right_answer, given, verdict, mixup, exposed, hinted, explained, took_ms, moves, sheet, help ON attempts
BEGIN
    SELECT RAISE(ABORT, 'attempts are never changed');
END;

CREATE TRIGGER attempts_keep_their_learner BEFORE UPDATE OF learner ON attempts
WHEN NOT EXISTS (SELECT 1 FROM learners WHERE key = OLD.learner AND same_as = NEW.learner)
BEGIN
    SELECT RAISE(ABORT, 'attempts are never changed');
END;

CREATE TRIGGER marks_never_change BEFORE UPDATE OF key, id, kind, target, what, skill, reason, marked_at, day ON marks
BEGIN
    SELECT RAISE(ABORT, 'marks are never changed');
END;

-- Which of several entries of one problem of a sheet counts is worked out anew at each merge, and so are the marks on the others.
CREATE TRIGGER marks_stay BEFORE DELETE ON marks
WHEN OLD.reason <> 'typed in twice' AND NOT EXISTS (
    SELECT 1 FROM tombstones JOIN learners ON learners.id = tombstones.learner WHERE learners.key = OLD.learner
)
BEGIN
    SELECT RAISE(ABORT, 'marks are never removed, except by erasing the learner');
END;

CREATE TRIGGER aliases_never_change BEFORE UPDATE ON aliases
BEGIN
    SELECT RAISE(ABORT, 'aliases are never changed');
END;
