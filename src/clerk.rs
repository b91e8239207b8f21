//! The clerk: the only place where a flow meets the file.
//!
//! What lives here: what is done to the store for a flow of [`crate::session`], once for all front ends. It opens a learner's
//! record, begins a practice or a check (or goes on with one), puts an answer on the disk, and hands back what the flow takes
//! in. What does not: what is asked and how it is judged (the flows are pure), how records are kept ([`crate::store`]), and
//! any words.

use crate::drill::Standard;
use crate::learner::readiness::ReadinessPlan;
use crate::learner::{Beliefs, Placement, WeakSpot};
use crate::problem::{Problem, SkillMeta};
use crate::session::{
    Begin, Check, Days, KnownCheck, PATTERN_ATTEMPTS, Pending, Readiness, Record, Sitting, Sittings, Slip, Stored,
    Terms, Unbegun, Which, clock_far_ahead, untold, with_annulled,
};
use crate::skills;
use crate::store::{
    Attempt, AttemptId, AttemptKind, Believed, CheckId, LastPractice, Learner, LearnerId, LessonMark, NewCheck,
    NewSession, Progress, Recorded, SessionId, SheetId, SheetWord, Store, StoreError, StoredCheck,
};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::HashSet;

/// When a front end does something: the learner's day, and the moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Now {
    /// Where the learner's day comes from.
    pub days: Days,
    /// The moment.
    pub at: Timestamp,
}

impl Now {
    /// The learner's day.
    #[must_use]
    pub fn day(&self) -> Date {
        self.days.of(self.at)
    }
}

/// A check that can go on, or why none can today.
#[derive(Debug)]
pub enum Opening {
    /// This one. It may be one that was begun before.
    Check(Box<Check>),
    /// Nothing can be asked before this day.
    Later(Date),
}

/// A learner with what is believed of them. Answers of a try that is under way are not in it: they are told to nobody yet.
///
/// # Errors
/// [`StoreError::NoSuchLearner`], or the store cannot be read.
pub fn learner(store: &mut Store, id: LearnerId) -> Result<(Learner, Beliefs), StoreError> {
    let learner = store.learner(id)?.ok_or(StoreError::NoSuchLearner(id))?;
    let untold = untold(&store.checks(id)?);
    let beliefs = if untold.is_empty() { store.beliefs(id)? } else { store.beliefs_without(id, &untold)?.0 };
    Ok((learner, beliefs))
}

/// The learner of this name, who is added when nobody has it; and whether so.
///
/// # Errors
/// [`StoreError`] when the store cannot be read or written, or the name cannot be one.
pub fn find_or_add(store: &mut Store, name: &str, now: Timestamp) -> Result<(Learner, bool), StoreError> {
    Ok(match store.learner_by_name(name)? {
        Some(known) => (known, false),
        None => (store.add_learner(name, Placement::Fresh, now)?, true),
    })
}

/// The learners of these names, in their order and each once, with whether they were added.
///
/// # Errors
/// As [`find_or_add`]; those before are added all the same.
pub fn find_or_add_all(
    store: &mut Store,
    names: &[String],
    now: Timestamp,
) -> Result<Vec<(Learner, bool)>, StoreError> {
    let mut all: Vec<(Learner, bool)> = Vec::with_capacity(names.len());
    for name in names {
        let one = find_or_add(store, name, now)?;
        // The same name twice is one member.
        if all.iter().all(|(known, _)| known.id != one.0.id) {
            all.push(one);
        }
    }
    Ok(all)
}

/// What a learner has done so far, without the answers of a try that is under way.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn progress(store: &Store, id: LearnerId) -> Result<Progress, StoreError> {
    store.progress(id, &untold(&store.checks(id)?))
}

/// How many past answers can be looked through.
const PAST_ANSWERS: usize = 30;

/// A learner's latest answers, the newest first, without those of a try that is under way.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn past_answers(store: &Store, id: LearnerId) -> Result<Vec<Attempt>, StoreError> {
    store.latest(id, &untold(&store.checks(id)?), PAST_ANSWERS)
}

/// A learner's record with a session begun in it: what a practice, a turn or a round needs of a learner.
#[derive(Debug)]
pub struct Opened {
    /// Who it is.
    pub learner: Learner,
    /// What is believed of them.
    pub beliefs: Beliefs,
    /// The session.
    pub sitting: Sitting,
    /// How it went on the last day of practice.
    pub last_time: Option<LastPractice>,
    /// The weak spots that were named when the learner last practised, and that checks or rounds have ended since: nobody
    /// was told.
    pub ended: Vec<WeakSpot>,
    /// How far the learner has come in the lessons that were begun.
    pub lessons: Vec<LessonMark>,
}

/// Opens a learner's record and begins a session in it, with the drill that it follows; its problems are chosen from the
/// seed.
///
/// # Errors
/// [`StoreError::NoSuchLearner`], or the store cannot be read or written.
pub fn open_practice(
    store: &mut Store,
    id: LearnerId,
    now: Now,
    drill: Option<String>,
    seed: u64,
) -> Result<Opened, StoreError> {
    let untold = untold(&store.checks(id)?);
    let (learner, beliefs) = learner(store, id)?;
    let since = store.answered_since_practice(id)?;
    let ended = if since.is_subset(&untold) {
        Vec::new()
    } else {
        beliefs.ended_since(&store.beliefs_without(id, &since.union(&untold).copied().collect())?.0)
    };
    let (lessons, last_time) = (store.lessons(id)?, store.last_practice(id)?);
    let session = store.start_session(&new_session(id, &now, drill))?;
    let sitting = Sitting { learner: id, session, days: now.days, began: now.at, seed };
    Ok(Opened { learner, beliefs, sitting, last_time, ended, lessons })
}

/// A session of a learner as it begins.
fn new_session(learner: LearnerId, now: &Now, drill: Option<String>) -> NewSession {
    let program = env!("CARGO_PKG_VERSION").to_owned();
    let (day, day_given, at) = (now.day(), now.days.are_given(), now.at);
    NewSession { learner, at, day, day_given, drill, check: None, program }
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

/// What is asked of the clock before a check is begun or goes on; none where the day is given by hand, or near to the others.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn clock_question(store: &Store, now: &Now) -> Result<Option<String>, StoreError> {
    if now.days.are_given() {
        return Ok(None);
    }
    Ok(clock_far_ahead(store.latest_day_before(now.day())?, now.day()))
}

/// How often a new check is tried to be begun beside other programs that begin one in the very same moment.
const TRIES_TO_BEGIN: usize = 3;

/// Opens the check of a learner by a standard: the one under way, or a new one, whose problems are drawn from the seed. It is
/// begun, and written, unless a trial comes first: then [`begin_check`] does so before the check's own problem is shown.
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
    for _ in 0..TRIES_TO_BEGIN {
        let (record, begin) = check_waiting(store, id, standard, now.day())?;
        let (which, terms, mut sittings) = match begin {
            Begin::Later { from } => return Ok((learner, Opening::Later(from))),
            Begin::GoOn(known) => {
                let came_back = known.came_back + u32::from(known.left);
                let sittings = Sittings { came_back, days_given: known.days_given, annulled: Vec::new() };
                (Which::GoOn(known.id), known.terms, sittings)
            }
            Begin::Anew(terms) => {
                let terms = Terms { seed, ..terms };
                let new = NewCheck {
                    learner: id,
                    at: now.at,
                    day: now.day(),
                    standard: terms.standard.clone(),
                    rules: terms.written(),
                };
                (Which::Anew(new, record.begun_before()), terms, Sittings::default())
            }
        };
        let mut answers = Vec::new();
        if let Which::GoOn(check) = which {
            let counted =
                store.attempts_of_check(check)?.into_iter().map(|attempt| (attempt.id, attempt.what)).collect();
            let annulled = store.annulled_of_check(check)?.into_iter();
            let annulled = annulled.map(|(attempt, said)| (attempt.id, attempt.what, said)).collect();
            (answers, sittings.annulled) = with_annulled(counted, annulled);
        }
        let sitting = Sitting { learner: id, session: SessionId::NONE, days: now.days.clone(), began: now.at, seed: 0 };
        let unbegun = Unbegun { which, sitting: new_session(id, &now, None) };
        let mut check = Check::new(terms, &answers, sitting, sittings).not_begun(unbegun);
        let is_shown_at_once = check.next(now.at).is_some() && check.trial().is_none();
        // Not begun where another program has begun one in this very moment: then that one goes on.
        if !is_shown_at_once || begin_check(store, &mut check, now.at)? {
            return Ok((learner, Opening::Check(Box::new(check))));
        }
    }
    Err(StoreError::Locked { path: store.path().to_owned() })
}

/// Begins a check that was opened, if it is not begun yet: from now on it is in the records. False where another program has
/// begun one meanwhile, which goes on instead.
///
/// # Errors
/// [`StoreError`] when the store cannot be written.
pub fn begin_check(store: &mut Store, check: &mut Check, now: Timestamp) -> Result<bool, StoreError> {
    let Some(unbegun) = check.unbegun().cloned() else { return Ok(true) };
    let session = begin_sitting(store, &unbegun, now)?;
    session.inspect(|session| check.begun(*session));
    Ok(session.is_some())
}

/// Writes down that a check is begun, or goes on; its sitting, or none where another program has begun one meanwhile.
///
/// # Errors
/// [`StoreError`] when the store cannot be written.
pub fn begin_sitting(store: &mut Store, unbegun: &Unbegun, now: Timestamp) -> Result<Option<SessionId>, StoreError> {
    let check = match &unbegun.which {
        Which::GoOn(check) => Some(*check),
        Which::Anew(new, before) => store.start_check(&NewCheck { at: now, ..new.clone() }, *before)?,
    };
    let Some(check) = check else { return Ok(None) };
    store.start_session(&NewSession { at: now, check: Some(check), ..unbegun.sitting.clone() }).map(Some)
}

/// Puts a judged answer on the disk. When this returns, it is there; when it fails, nothing of it is.
///
/// # Errors
/// [`StoreError`] when the store cannot be written.
pub fn record(store: &mut Store, pending: &Pending) -> Result<Stored, StoreError> {
    let attempt = &pending.attempt;
    let mut recorded = store.record(attempt)?;
    // The answer is on the disk: that nothing more can be read now must not make it be written twice.
    let untold = match attempt.kind {
        AttemptKind::Check => HashSet::new(),
        _ => store.checks(attempt.learner).map(|checks| untold(&checks)).unwrap_or_default(),
    };
    if !untold.is_empty()
        && let Ok((beliefs, change)) = store.beliefs_without(attempt.learner, &untold)
    {
        recorded = Recorded { change, beliefs: Believed::All(Box::new(beliefs)), ..recorded };
    }
    // Where a mix-up shows can only be seen beside what was answered before; it is told in practice.
    let lately = if attempt.kind == AttemptKind::Practice && attempt.verdict.mixup().is_some() {
        store.attempts(attempt.learner, &attempt.skill, PATTERN_ATTEMPTS).unwrap_or_default()
    } else {
        Vec::new()
    };
    let lately = lately.into_iter().filter(|attempt| !untold.contains(&attempt.id)).map(|attempt| attempt.what);
    let twice =
        attempt.kind == AttemptKind::Check && store.answered_twice(attempt.session, &attempt.code).unwrap_or_default();
    Ok(Stored { recorded, lately: lately.collect(), twice })
}

/// Puts the answers of a round on the disk, one after the other, up to the first that cannot be; gives back those that are there,
/// with what the store says of each, and why it went no further.
pub fn record_round(store: &mut Store, answers: Vec<Pending>) -> (Vec<(Pending, Stored)>, Option<StoreError>) {
    let mut written = Vec::with_capacity(answers.len());
    for pending in answers {
        match record(store, &pending) {
            Ok(stored) => written.push((pending, stored)),
            // Erased by another program meanwhile: there is nobody to write it for.
            Err(StoreError::NoSuchLearner(_)) => {}
            Err(refused) => return (written, Some(refused)),
        }
    }
    (written, None)
}

/// Puts an answer that stands on a sheet of paper on the disk.
///
/// # Errors
/// [`StoreError::EnteredAlready`], or the store cannot be written.
pub fn record_on_sheet(store: &mut Store, pending: &Pending, sheet: SheetId) -> Result<Recorded, StoreError> {
    store.record_on_sheet(&pending.attempt, sheet)
}

/// Writes down whose sheet has which problems, so that what comes back on paper can be typed in.
///
/// # Errors
/// [`StoreError`] when the store cannot be written.
pub fn remember_sheet(
    store: &mut Store,
    learner: LearnerId,
    problems: &[Problem],
    now: &Now,
) -> Result<(), StoreError> {
    let codes: Vec<String> = problems.iter().map(|problem| problem.code().to_string()).collect();
    store.add_sheet(learner, &codes, now.day(), now.at)
}

/// Writes down what is said of a sheet: that it will not come back, that nobody worked a problem, or that this was a slip.
///
/// # Errors
/// [`StoreError::NoSuchSheet`], or the store cannot be written.
pub fn say_of_sheet(store: &mut Store, sheet: SheetId, word: &SheetWord, now: &Now) -> Result<(), StoreError> {
    store.say_of_sheet(sheet, word, now.day(), now.at)
}

/// Takes back that nobody worked a problem of a learner's sheet, where that was said.
///
/// # Errors
/// [`StoreError`] when the store cannot be read or written.
pub fn reopen(store: &mut Store, learner: LearnerId, sheet: SheetId, code: &str, now: &Now) -> Result<(), StoreError> {
    let sheets = store.sheets(learner)?;
    let of_it = sheets.iter().find(|one| one.id == sheet);
    let mut not_done = of_it.into_iter().flat_map(|one| one.not_done.iter().filter_map(|at| one.codes.get(*at)));
    if not_done.any(|known| known == code) {
        return say_of_sheet(store, sheet, &SheetWord::Open(code.to_owned()), now);
    }
    Ok(())
}

/// Takes an answer back as a slip of the keyboard; gives back what is believed without it, to whoever sits before it.
///
/// # Errors
/// [`StoreError`] when the store cannot be written: then nothing was taken back.
pub fn take_back(store: &mut Store, slip: Slip, now: Timestamp) -> Result<Beliefs, StoreError> {
    let beliefs = store.take_back(slip.learner, slip.attempt, slip.day, now)?;
    // It is done: that nothing more can be read now must not make it be tried again.
    let untold = store.checks(slip.learner).map(|checks| untold(&checks)).unwrap_or_default();
    if untold.is_empty() {
        return Ok(beliefs);
    }
    Ok(store.beliefs_without(slip.learner, &untold).map_or(beliefs, |(told, _)| told))
}

/// How many answers of tries under way can be chosen from to be annulled: whoever lost one to the keyboard says so soon.
const OPEN_ANSWERS: usize = 5;

/// An answer of a try under way that a leader may annul. What it was is told to nobody.
#[derive(Clone, Debug, PartialEq)]
pub struct LostAnswer {
    /// The answer.
    pub attempt: AttemptId,
    /// The skill.
    pub skill: &'static SkillMeta,
    /// When it was given.
    pub at: Timestamp,
    /// The plan of its check.
    pub plan: ReadinessPlan,
    /// How many answers of that check were annulled in the skill, try by try.
    pub tries: Vec<u8>,
}

/// The latest answers of a learner's tries under way, the newest first.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn lost_answers(store: &Store, id: LearnerId) -> Result<Vec<LostAnswer>, StoreError> {
    let mut all = Vec::new();
    for stored in store.checks(id)? {
        let Some(known) = KnownCheck::of(&stored) else { continue };
        let open = known.open_answers(&stored);
        if open.is_empty() {
            continue;
        }
        let attempts = store.attempts_of_check(stored.id)?;
        for one in open {
            let attempt = attempts.iter().find(|attempt| attempt.id == one.attempt);
            let (Some(attempt), Some(skill)) = (attempt, skills::find(&one.skill)) else { continue };
            let (at, plan) = (attempt.what.at, known.terms.rules.plan.clone());
            all.push(LostAnswer { attempt: one.attempt, skill: skill.meta(), at, plan, tries: one.tries });
        }
    }
    all.sort_by_key(|answer| std::cmp::Reverse(answer.attempt));
    all.truncate(OPEN_ANSWERS);
    Ok(all)
}

/// Annuls an answer of a try under way by the leader's word: it counts for nothing, and a fresh problem takes its place.
///
/// # Errors
/// [`StoreError::NotAnnulled`] where its try has ended meanwhile: its result is known, and whoever annuls then chooses; or the
/// store cannot be read or written.
pub fn annul(store: &mut Store, id: LearnerId, answer: AttemptId, reason: &str, now: &Now) -> Result<(), StoreError> {
    if !untold(&store.checks(id)?).contains(&answer) {
        return Err(StoreError::NotAnnulled);
    }
    store.annul(id, answer, reason, now.day(), now.at)
}

/// A waiting time after *not yet* that can be shortened.
#[derive(Clone, Debug, PartialEq)]
pub struct Wait {
    /// The check that ended so.
    pub check: CheckId,
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The day of *not yet*.
    pub since: Date,
    /// The first day of a new check, as things stand.
    pub from: Date,
    /// The plan of the check.
    pub plan: ReadinessPlan,
}

impl Wait {
    /// Whether a new check on this day would come sooner; never on the day of the last one.
    #[must_use]
    pub fn can_end_on(&self, day: Date) -> bool {
        day > self.since && day < self.from
    }
}

/// The waiting times of a learner by a standard, skill by skill.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn waits(store: &Store, id: LearnerId, standard: &Standard, day: Date) -> Result<Vec<Wait>, StoreError> {
    let record = Record::of(&store.checks(id)?, &standard.name);
    let of_skill = |one: &crate::drill::StandardSkill| {
        let found = record.skill(one.skill.id, one.level, day);
        let (Readiness::NotYet { since, from }, Some((check, _))) = (found.readiness, found.basis) else { return None };
        let plan = check.terms.rules.plan.clone();
        (day < from).then_some(Wait { check: check.id, skill: one.skill, since, from, plan })
    };
    Ok(standard.skills.iter().filter_map(of_skill).collect())
}
