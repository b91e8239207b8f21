//! What every front end does with the store: opening a record, beginning a practice or a check, writing an answer down.
//!
//! The flow itself is pure and lives in [`crate::session`]; here it meets the file.

use crate::drill::Standard;
use crate::learner::Beliefs;
use crate::problem::{MixupMeta, SkillMeta};
use crate::session::{Begin, Check, Pending, Record, Sitting, Stored, Terms, pattern_words};
use crate::store::{CheckId, Learner, LearnerId, NewCheck, NewSession, SessionId, Store, StoreError, StoredCheck};
use jiff::Timestamp;
use jiff::civil::Date;

/// The latest answers of a skill that a pattern is looked for in.
const LATELY: u32 = 60;

/// When a front end does something: the learner's day, and the moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Now {
    /// The learner's day.
    pub day: Date,
    /// Whether that day was given, and not the clock's.
    pub day_given: bool,
    /// The moment.
    pub at: Timestamp,
}

/// A check that can go on, or why none can today.
#[derive(Debug)]
pub enum Opening {
    /// This one. It may be one that was begun before.
    Check(Box<Check>),
    /// Nothing can be asked before this day.
    Later(Date),
}

/// A learner with what is believed of them.
///
/// # Errors
/// [`StoreError::NoSuchLearner`], or the store cannot be read.
pub fn learner(store: &mut Store, id: LearnerId) -> Result<(Learner, Beliefs), StoreError> {
    let learner = store.learner(id)?.ok_or(StoreError::NoSuchLearner(id))?;
    let beliefs = store.beliefs(id)?;
    Ok((learner, beliefs))
}

/// Why a name cannot be taken by somebody new: somebody of that name is put aside, and two records of one person help nobody.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn put_aside(store: &Store, name: &str) -> Result<Option<String>, StoreError> {
    let wanted = name.trim().to_lowercase();
    let aside = store.archived_learners()?.into_iter().find(|learner| learner.name.to_lowercase() == wanted);
    Ok(aside.map(|known| {
        format!(
            "{0} was put aside, with all records: needlewise patrol archive \"{0}\" --back takes them back. For somebody else, add a letter of the last name.",
            known.name
        )
    }))
}

/// Where a mix-up shows that shows only there.
#[derive(Clone, Debug, PartialEq)]
pub struct Where {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The mix-up.
    pub mixup: &'static MixupMeta,
    /// `only when the declination is east (5 of 6; 0 of 7 when it is west)`.
    pub words: String,
}

/// Where mix-ups show, if only there, by the latest answers of each skill that was met.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn wheres(store: &Store, learner: LearnerId, beliefs: &Beliefs) -> Result<Vec<Where>, StoreError> {
    let mut all = Vec::new();
    for (skill, _) in beliefs.iter().filter(|(_, belief)| belief.count() > 0) {
        let lately = store.attempts(learner, skill.id, LATELY)?;
        for mixup in skill.mixups {
            let words = pattern_words(skill, mixup, lately.iter().map(|attempt| &attempt.what));
            all.extend(words.map(|words| Where { skill, mixup, words }));
        }
    }
    Ok(all)
}

/// Begins a session of practice, with the drill that it follows.
///
/// # Errors
/// [`StoreError`] when the store cannot be written.
pub fn begin_session(
    store: &mut Store,
    learner: LearnerId,
    now: Now,
    drill: Option<String>,
) -> Result<SessionId, StoreError> {
    session(store, learner, now, drill, None)
}

fn session(
    store: &mut Store,
    learner: LearnerId,
    now: Now,
    drill: Option<String>,
    check: Option<CheckId>,
) -> Result<SessionId, StoreError> {
    let program = env!("CARGO_PKG_VERSION").to_owned();
    let Now { day, day_given, at } = now;
    store.start_session(&NewSession { learner, at, day, day_given, drill, check, program })
}

/// What a check of this learner by this standard would be today, without beginning it.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn check_waiting(
    store: &Store,
    learner: LearnerId,
    standard: &Standard,
    day: Date,
) -> Result<(Record, Begin), StoreError> {
    let checks: Vec<StoredCheck> = store.checks(learner)?;
    let record = Record::of(&checks, &standard.name);
    let begin = record.begin(standard, day);
    Ok((record, begin))
}

/// Opens the check of a learner by a standard: the one under way, or a new one, whose problems are drawn from the seed.
///
/// # Errors
/// [`StoreError`] when the store cannot be read or written.
pub fn open_check(
    store: &mut Store,
    id: LearnerId,
    standard: &Standard,
    now: Now,
    seed: u64,
) -> Result<(Learner, Opening), StoreError> {
    let learner = store.learner(id)?.ok_or(StoreError::NoSuchLearner(id))?;
    let (record, begin) = check_waiting(store, id, standard, now.day)?;
    let (check, terms): (CheckId, Terms) = match begin {
        Begin::Later { from } => return Ok((learner, Opening::Later(from))),
        Begin::GoOn(check) => {
            let known = record.checks.into_iter().find(|known| known.id == check);
            match known {
                Some(known) => (check, known.terms),
                None => return Ok((learner, Opening::Later(now.day))),
            }
        }
        Begin::Anew(terms) => {
            let terms = Terms { seed, ..terms };
            let new = NewCheck {
                learner: id,
                at: now.at,
                day: now.day,
                standard: terms.standard.clone(),
                rules: terms.written(),
            };
            match store.start_check(&new, record.begun_before())? {
                Some(check) => (check, terms),
                // Another program has begun one in this very moment: that one goes on.
                None => return open_check(store, id, standard, now, seed),
            }
        }
    };
    let session = session(store, id, now, None, Some(check))?;
    let answers: Vec<_> = store.attempts_of_check(check)?.into_iter().map(|attempt| attempt.what).collect();
    let sitting = Sitting { learner: id, session, day: now.day, began: now.at, seed: 0 };
    Ok((learner, Opening::Check(Box::new(Check::new(terms, &answers, sitting)))))
}

/// Puts a judged answer on the disk. When this returns, it is there; when it fails, nothing of it is.
///
/// # Errors
/// [`StoreError`] when the store cannot be written.
pub fn record(store: &mut Store, pending: &Pending) -> Result<Stored, StoreError> {
    let attempt = &pending.attempt;
    let recorded = store.record(attempt)?;
    // Where a mix-up shows can only be seen beside what was answered before.
    let lately = if attempt.explained && attempt.verdict.mixup().is_some() {
        // The answer is on the disk: that nothing more can be read now must not make it be written twice.
        store.attempts(attempt.learner, &attempt.skill, LATELY).unwrap_or_default()
    } else {
        Vec::new()
    };
    Ok(Stored { recorded, lately: lately.into_iter().map(|attempt| attempt.what).collect() })
}
