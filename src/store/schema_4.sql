-- Version 4: how far somebody has come in the first lessons. Never edit a released version.

-- One row for each learner and lesson: the screen that was on last, from 0, and whether the lesson was ended or skipped. No
-- evidence of anything, so it changes in place; of two laptops the later word counts.
CREATE TABLE lessons (
    learner INTEGER NOT NULL REFERENCES learners (key),
    lesson TEXT NOT NULL,
    screen INTEGER NOT NULL CHECK (screen >= 0),
    done INTEGER NOT NULL CHECK (done = 0 OR done = 1),
    noted_at INTEGER NOT NULL,
    PRIMARY KEY (learner, lesson)
) STRICT, WITHOUT ROWID;
