-- Version 7: the plan of an evening. Never edit a released version.

-- The latest plan that a leader made or changed by hand, so that it can be followed and printed after the program was left: one row.
-- No evidence of anything, so it changes in place; of two laptops the plan that was kept later counts. `plan` is JSON (evening/kept.rs);
-- people stand in it by the bare digits of their ids, so that who is erased is found and taken out of it. `clock` is the time of day at which
-- it was kept, as the clock on the wall showed it; empty where the day was given by hand.
CREATE TABLE evenings (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    kept_at INTEGER NOT NULL,
    day TEXT NOT NULL,
    clock TEXT NOT NULL,
    standard TEXT NOT NULL,
    plan TEXT NOT NULL
) STRICT;
