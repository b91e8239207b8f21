//! A small camp for the tests: a folder, a store in it, a learner, and answers one after the other.

use super::check_value::{CHECKED, Checked};
use super::ids::Id;
use super::{
    AttemptId, AttemptKind, Help, LearnerId, NewAttempt, NewSession, Recorded, RecordedVerdict, SessionId, Store,
    StoreError,
};
use crate::learner::{Beliefs, Placement, SkillBelief};
use crate::problem::{Family, Level, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};
use jiff::civil::{Date, date};
use jiff::{Timestamp, ToSpan};
use std::path::PathBuf;

const fn mixup(id: &'static str, class: MixupClass) -> MixupMeta {
    MixupMeta { id: MixupId(id), class, said: "went wrong", mend: "Go right." }
}

const fn skill(id: &'static str, mark: &'static str, mixups: &'static [MixupMeta]) -> SkillMeta {
    SkillMeta {
        id,
        mark,
        family: Family::Dial,
        title: "A skill",
        can: "Can do it.",
        levels: ["one", "two", "three", "four"],
        prerequisites: &[],
        mixups,
        lines: NorthLines::Any,
        on_home: false,
        generation: 1,
    }
}

/// Three skills that share classes of mix-ups, so that what is seen in one weighs on the others before they are met.
pub(super) static SKILLS: [SkillMeta; 3] = [
    skill("turn-back", "X1", &[mixup("wrong-end", MixupClass::Reversed), mixup("not-wrapped", MixupClass::Wrap)]),
    skill(
        "true-north",
        "X2",
        &[
            mixup("sign-flipped", MixupClass::Sign),
            mixup("not-applied", MixupClass::Forgotten),
            mixup("wrong-end", MixupClass::Reversed),
        ],
    ),
    skill(
        "grid-north",
        "X3",
        &[
            mixup("sign-flipped", MixupClass::Sign),
            mixup("twice", MixupClass::Twice),
            mixup("not-wrapped", MixupClass::Wrap),
        ],
    ),
];

pub(super) fn skills() -> Vec<&'static SkillMeta> {
    SKILLS.iter().collect()
}

pub(super) fn noon(day: i64) -> Timestamp {
    "2026-03-01T12:00:00.000000123Z".parse::<Timestamp>().unwrap() + (day * 24).hours()
}

pub(super) fn date_of(day: i64) -> Date {
    date(2026, 3, 1) + day.days()
}

/// One answer in the shortest form: day, skill, and what came out (0 right, 1 otherwise wrong, 2… the mix-ups).
#[derive(Clone, Debug)]
pub(super) struct Answer {
    pub(super) day: i64,
    pub(super) skill: usize,
    pub(super) outcome: usize,
    pub(super) hinted: bool,
    pub(super) explained: bool,
}

impl Answer {
    pub(super) fn right(skill: usize) -> Answer {
        Answer { day: 0, skill, outcome: 0, hinted: false, explained: true }
    }

    pub(super) fn mixed_up(skill: usize) -> Answer {
        Answer { outcome: 2, ..Answer::right(skill) }
    }

    pub(super) fn attempt(&self, learner: LearnerId, session: SessionId) -> NewAttempt {
        let skill = &SKILLS[self.skill];
        let verdict = match self.outcome {
            0 => RecordedVerdict::Right,
            1 => RecordedVerdict::Unrecognised,
            k => RecordedVerdict::Mixup(skill.mixups[(k - 2) % skill.mixups.len()].id.to_string()),
        };
        NewAttempt {
            learner,
            session,
            at: noon(self.day),
            day: date_of(self.day),
            kind: AttemptKind::Practice,
            code: format!("{}-2-{}", skill.mark, u64::MAX),
            skill: skill.id.to_owned(),
            level: Level::TWO,
            generation: 1,
            seed: u64::MAX,
            facts: r#"{"true_bearing_deg":48}"#.to_owned(),
            right: r#"{"bearing":65}"#.to_owned(),
            given: r#"{"bearing":"31"}"#.to_owned(),
            verdict,
            exposed: skill.mixups.iter().map(|mixup| mixup.id.to_string()).collect(),
            help: if self.hinted { Help::Hint } else { Help::Bare },
            explained: self.explained,
            took_ms: Some(4_200),
            moves: None,
        }
    }
}

/// A program that has the store open: its handle and its own beliefs about the one learner.
pub(super) struct Program {
    pub(super) store: Store,
    pub(super) learner: LearnerId,
    pub(super) session: SessionId,
    pub(super) beliefs: Beliefs,
}

impl Program {
    pub(super) fn new(mut store: Store, learner: LearnerId) -> Program {
        let session = store.start_session(&session_of(learner)).unwrap();
        let beliefs = store.beliefs(learner).unwrap();
        Program { store, learner, session, beliefs }
    }

    /// What a program does when it opens a profile.
    pub(super) fn read_again(&mut self) {
        self.beliefs = self.store.beliefs(self.learner).unwrap();
    }

    /// Records, and takes over what the store hands back.
    pub(super) fn answer(&mut self, answer: &Answer) -> Result<Recorded, StoreError> {
        let recorded = self.store.record(&answer.attempt(self.learner, self.session))?;
        recorded.beliefs.clone().bring(&mut self.beliefs);
        Ok(recorded)
    }

    /// Puts a mark on an answer, as no part of the program does.
    pub(super) fn mark(&mut self, attempt: AttemptId, what: &str) {
        mark(&self.store, self.learner, "attempt", attempt.0, what);
    }

    /// What it believes of the skills that were met.
    pub(super) fn met(&self) -> Vec<SkillBelief> {
        met(&self.beliefs)
    }
}

/// The beliefs about skills that were met.
pub(super) fn met(beliefs: &Beliefs) -> Vec<SkillBelief> {
    beliefs.iter().map(|(_, belief)| belief.clone()).filter(|belief| belief.count() > 0).collect()
}

/// Puts a mark on a record.
pub(super) fn mark(store: &Store, learner: LearnerId, kind: &str, target: Id, what: &str) {
    let sql = Checked::named("marks").insert(
        "SELECT ?1 AS id, key AS learner, ?3 AS kind, ?4 AS target, ?5 AS what, NULL AS skill, 'a key too many' AS reason, \
         0 AS marked_at, '2026-03-01' AS day FROM learners WHERE id = ?2",
    );
    let written = store.conn.execute(&sql, rusqlite::params![Id::new(noon(0)), learner.0, kind, target, what]).unwrap();
    assert_eq!(written, 1);
}

pub(super) fn session_of(learner: LearnerId) -> NewSession {
    NewSession {
        learner,
        at: noon(0),
        day: date_of(0),
        day_given: false,
        drill: None,
        check: None,
        program: "0.1.0".to_owned(),
    }
}

/// A folder with a store in it.
pub(super) struct Camp {
    folder: tempfile::TempDir,
}

impl Camp {
    pub(super) fn new() -> Camp {
        Camp { folder: tempfile::tempdir().unwrap() }
    }

    pub(super) fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(super) fn path(&self) -> PathBuf {
        self.file("records/needlewise.db")
    }

    pub(super) fn open(&self) -> Store {
        Store::open(&self.path(), &skills()).unwrap()
    }

    /// The store opened by a program, with a learner added where there is none.
    pub(super) fn program(&self) -> Program {
        let mut store = self.open();
        let learner = match store.learners().unwrap().first() {
            Some(learner) => learner.id,
            None => store.add_learner("Ilva", Placement::Fresh, noon(0)).unwrap().id,
        };
        Program::new(store, learner)
    }
}

/// Gives all records their check values, as if the program had written them.
pub(super) fn give_check_values(store: &Store) {
    for checked in CHECKED.iter().filter(|checked| checked.table != "aliases") {
        let sql = format!("UPDATE {} SET check_value = {}", checked.table, checked.value());
        store.conn.execute(&sql, []).unwrap();
    }
}
