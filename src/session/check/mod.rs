//! A check: no feedback, no hints, fresh problems at the standard's level, until the bounds decide skill by skill.
//!
//! The flow is pure, as practice is: `answer` judges and gives back what has to be written down, and only `confirm` takes it
//! in. The next problem follows from the check's seed and the answers so far, so a check that was left or killed goes on
//! with the problem that was on the screen, and leaving never gets anybody another one.

mod annulled;
mod end;
mod record;
mod terms;
mod trial;
mod unbegun;

pub use annulled::{Annulled, Changes, OpenAnswer, WaitChange, annulling_words, shortening_words, with_annulled};
pub use end::{CheckEnd, Missed, SkillEnd, came_back_words};
pub use record::{Begin, KnownCheck, Readiness, Record, SkillRecord, first_day_words, plan_words, untold};
pub use terms::{Terms, TermsSkill};
pub use trial::{TRIAL, TRIAL_OVER};
pub use unbegun::{NOTHING_ASKED, Unbegun, Which};

use super::answering::{Answering, Pending, Sitting};
use super::asked::{Asked, Support};
use super::next::{CheckWish, Traits, asked_least, draw_problem};
use crate::learner::readiness::{Answered, Next, Progress};
use crate::maptable::Move;
use crate::problem::{AnswerError, Draw, Facts, Level, Skill, realise};
use crate::skills;
use crate::store::{AttemptKind, NewAttempt, SessionId};
use annulled::{Happened, counts, in_order, told_annulled};
use jiff::Timestamp;

/// What is known of a check's sittings, the present one included.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sittings {
    /// How often it was left in the middle and gone on with.
    pub came_back: u32,
    /// Those whose day was given by hand, and not the clock's.
    pub days_given: Vec<SessionId>,
    /// Which of its answers were annulled.
    pub annulled: Vec<Annulled>,
}

/// A check under way.
#[derive(Debug)]
pub struct Check {
    terms: Terms,
    sitting: Sitting,
    sittings: Sittings,
    lines: Vec<Line>,
    asked: Option<Asked>,
    /// What is to be written before the first problem is shown.
    unbegun: Option<Box<Unbegun>>,
    /// The trial that comes before the problem being asked, which does not count.
    trial: Option<Asked>,
    /// Whether the table was worked in this check, or a trial is over.
    tried: bool,
    asked_at: Timestamp,
    answered: u32,
    at_most: u32,
    last: Option<usize>,
}

/// One skill of a check under way.
struct Line {
    skill: &'static dyn Skill,
    level: Level,
    progress: Progress,
    /// The facts of every problem answered.
    used: Vec<Facts>,
    /// What the problems of the latest try were like, those of annulled answers, too: the problem that is on the screen stays.
    traits: Vec<Traits>,
    /// The answers of the latest try that were not right.
    missed: Vec<NewAttempt>,
    /// The codes of all its problems.
    codes: Vec<String>,
    /// The codes of all that was answered, in order, over all tries.
    given: Vec<String>,
}

impl Line {
    /// What the problems of the try under way were like; none where the next problem begins one.
    fn this_try(&self) -> &[Traits] {
        match self.progress.tries().last() {
            Some(last) if last.end.is_none() => &self.traits,
            _ => &[],
        }
    }

    /// How many answers of the try under way count.
    fn asked(&self) -> u8 {
        self.progress.tries().last().filter(|last| last.end.is_none()).map_or(0, |last| last.asked)
    }

    /// What its next problem is drawn from: it follows from the check's seed and the answers so far.
    fn draw(&self, seed: u64) -> Draw {
        let mark = self.skill.meta().mark.bytes().fold(0_u64, |sum, byte| (sum << 8) | u64::from(byte));
        let answered = u16::try_from(self.used.len()).unwrap_or(u16::MAX);
        Draw::new("check", self.level.number(), answered, seed ^ mark)
    }
}

impl std::fmt::Debug for Line {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Line").field("skill", &self.skill.meta().id).field("progress", &self.progress).finish()
    }
}

impl Check {
    /// Begins or goes on; `answers` are those that the store has of this check, in order. No problem is asked yet.
    #[must_use]
    pub fn new(terms: Terms, answers: &[NewAttempt], sitting: Sitting, sittings: Sittings) -> Check {
        let lines = terms
            .skills
            .iter()
            .filter_map(|one| {
                let (skill, level) = one.skill()?;
                let progress = Progress::default();
                let (used, traits, missed) = (Vec::new(), Vec::new(), Vec::new());
                let (codes, given) = (Vec::new(), Vec::new());
                Some(Line { skill, level, progress, used, traits, missed, codes, given })
            })
            .collect();
        let asked_at = sitting.began;
        let (asked, answered, at_most, last) = (None, 0, 0, None);
        let tried = answers.iter().any(|attempt| attempt.moves.is_some());
        let (unbegun, trial) = (None, None);
        let mut check =
            Check { terms, sitting, sittings, lines, asked, unbegun, trial, tried, asked_at, answered, at_most, last };
        // Where it was open in two windows the first answer to a problem counts.
        for happened in in_order(answers.iter().map(|attempt| attempt.code.as_str()), &check.sittings.annulled) {
            match happened {
                Happened::Answered(at) => {
                    let Some(attempt) = answers.get(at) else { continue };
                    let problem = skills::read_code(&attempt.code).ok().and_then(|code| realise(&code).ok());
                    let traits = problem.as_ref().map(Traits::of);
                    check.take(attempt, traits);
                }
                Happened::Annulled(at) => {
                    let took = answers.get(at).is_some_and(|attempt| check.annul(attempt));
                    if !took {
                        check.sittings.annulled.retain(|one| !one.is_of(at));
                    }
                }
            }
        }
        let cap = u32::from(check.terms.rules.plan.bounds().cap());
        let left = |line: &Line| cap.saturating_sub(u32::from(line.asked()));
        check.at_most = check.lines.iter().filter(|line| check.is_asked(line)).map(left).sum();
        check
    }

    /// Takes in an answer that is on the disk.
    fn take(&mut self, attempt: &NewAttempt, traits: Option<Traits>) {
        let Some(at) = self.lines.iter().position(|line| line.skill.meta().id == attempt.skill) else { return };
        let Some(line) = self.lines.get_mut(at) else { return };
        if line.progress.tries().last().is_some_and(|last| last.end.is_some()) {
            // A new try: what is balanced and what is explained are its own problems.
            line.traits.clear();
            line.missed.clear();
            line.codes.clear();
        }
        let rules = &self.terms.rules;
        let right = attempt.verdict.is_right();
        let critical = attempt.verdict.mixup().filter(|id| rules.is_critical(line.skill.meta(), id));
        let day_given = self.sittings.days_given.contains(&attempt.session);
        line.progress.answer(rules, Answered { day: attempt.day, day_given, right, critical });
        line.used.push(Facts::read(&attempt.facts));
        line.given.push(attempt.code.clone());
        line.traits.extend(traits);
        line.codes.push(attempt.code.clone());
        if !right {
            line.missed.push(attempt.clone());
        }
        self.last = Some(at);
    }

    /// Takes in that an answer was annulled: it counts for nothing, and its problem does not come again.
    /// Not when its try had ended; whether so.
    fn annul(&mut self, attempt: &NewAttempt) -> bool {
        let Some(line) = self.lines.iter_mut().find(|line| line.skill.meta().id == attempt.skill) else { return false };
        let Some(number) = line.given.iter().position(|code| *code == attempt.code) else { return false };
        let open =
            |progress: &Progress| progress.tries().last().is_some_and(|last| last.answers().any(|at| at == number));
        let before = open(&line.progress);
        line.progress.annul(&self.terms.rules, number);
        if !before || open(&line.progress) {
            return false;
        }
        line.missed.retain(|missed| missed.code != attempt.code);
        line.codes.retain(|code| *code != attempt.code);
        true
    }

    /// The terms it goes on under.
    #[must_use]
    pub const fn terms(&self) -> &Terms {
        &self.terms
    }

    /// Who is checked, when.
    #[must_use]
    pub const fn sitting(&self) -> &Sitting {
        &self.sitting
    }

    /// The problem being asked.
    #[must_use]
    pub const fn asked(&self) -> Option<&Asked> {
        self.asked.as_ref()
    }

    /// How many problems were answered in this sitting.
    #[must_use]
    pub const fn answered(&self) -> u32 {
        self.answered
    }

    /// How many skills can be asked today, and in how many of all nothing is left to ask. Says nothing of right and wrong.
    #[must_use]
    pub fn skills_left(&self) -> (usize, usize) {
        let left = self.lines.iter().filter(|line| self.is_asked(line)).count();
        (left, self.lines.len())
    }

    /// How many problems this sitting can have at most, as it began.
    #[must_use]
    pub const fn at_most(&self) -> u32 {
        self.at_most
    }

    /// A day in the record that lies after today: the clock was set back, and the recorded day counts.
    #[must_use]
    pub fn later_day(&self) -> Option<jiff::civil::Date> {
        let days = self.lines.iter().flat_map(|line| line.progress.tries()).map(|one| one.day);
        days.max().filter(|day| *day > self.sitting.first_day())
    }

    /// About how many minutes are left today.
    #[must_use]
    pub fn minutes_left(&self) -> u32 {
        let today = self.sitting.first_day();
        self.terms
            .minutes(self.lines.iter().map(|line| (line.skill.meta().id, line.progress.next(&self.terms.rules, today))))
    }

    fn is_asked(&self, line: &Line) -> bool {
        matches!(line.progress.next(&self.terms.rules, self.sitting.first_day()), Next::Ask(_))
    }

    /// Asks the next problem; none when nothing is left to ask today.
    pub fn next(&mut self, now: Timestamp) -> Option<&Asked> {
        (self.asked, self.trial) = (None, None);
        let places = self.lines.iter().enumerate().filter(|(_, line)| self.is_asked(line));
        let waiting: Vec<_> = places.map(|(place, line)| (place, usize::from(line.asked()))).collect();
        let line = self.lines.get(asked_least(&waiting, self.last)?)?;
        let wish = CheckWish { used: &line.used, this_try: line.this_try() };
        let problem = draw_problem(line.skill, line.level, &wish, &mut line.draw(self.terms.seed))?;
        if !self.tried && problem.table().is_some() {
            self.trial = trial::before(&problem, line, self.terms.seed);
        }
        self.asked_at = now;
        self.asked = Some(Asked::new(self.answered + 1, problem, String::new(), Support::Bare));
        self.asked.as_ref()
    }

    fn answering(&self) -> Option<Answering<'_>> {
        if self.unbegun.is_some() {
            return None;
        }
        Some(Answering::of(self.asked.as_ref()?, self.asked_at, &self.sitting, AttemptKind::Check))
    }

    /// Judges an answer, without taking it in yet. `None` when nothing is being asked.
    ///
    /// # Errors
    /// [`AnswerError`] when it cannot be read; the question stays and nothing is recorded.
    pub fn answer(&self, texts: &[&str], now: Timestamp) -> Result<Option<Pending>, AnswerError> {
        self.answering().map(|answering| answering.typed(texts, now)).transpose()
    }

    /// Judges work at the map table, without taking it in yet.
    #[must_use]
    pub fn answer_with_moves(&self, moves: &[Move], now: Timestamp) -> Option<Pending> {
        self.answering()?.worked(moves, now)
    }

    /// Takes in an answer that is now safely stored. Whether it was right is not said.
    pub fn confirm(&mut self, pending: &Pending) {
        let traits = self.asked.as_ref().map(|asked| Traits::of(&asked.problem));
        self.take(&pending.attempt, traits);
        self.answered += 1;
        self.tried |= pending.attempt.moves.is_some();
        self.asked = None;
    }

    /// Where it stands, with every wrong answer of the tries that ended.
    #[must_use]
    pub fn end(&self) -> CheckEnd {
        CheckEnd {
            title: self.terms.title.clone(),
            lines: self.lines.iter().map(|line| self.skill_end(line)).collect(),
            came_back: self.sittings.came_back,
            left: self.skills_left().0,
            annulled: told_annulled(
                &self.terms.rules.plan,
                &self.lines.iter().map(|line| counts(line.progress.tries())).collect::<Vec<_>>(),
                &self.sittings.annulled,
            ),
        }
    }

    fn skill_end(&self, line: &Line) -> SkillEnd {
        let tries = line.progress.tries();
        let open = tries.last().filter(|last| last.end.is_none());
        let over = !tries.is_empty() && open.is_none();
        let missed = if over { line.missed.iter().filter_map(Missed::of).collect() } else { Vec::new() };
        SkillEnd {
            skill: line.skill.meta(),
            level: line.level,
            next: line.progress.next(&self.terms.rules, self.sitting.first_day()),
            tries: tries.iter().filter(|one| one.end.is_some()).cloned().collect(),
            under_way_since: open.map(|open| open.began),
            wait_days: self.terms.rules.wait_days,
            valid_days: self.terms.rules.valid_days,
            missed,
            codes: if over { line.codes.clone() } else { Vec::new() },
        }
    }
}
