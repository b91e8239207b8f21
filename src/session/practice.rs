//! Practice: problem after problem, each chosen for this learner, with feedback after each answer.
//!
//! The flow is pure. `answer` judges and gives back what has to be written down; only when the front end has it safely in
//! the store does `confirm` take over the beliefs that the store hands back, and give the verdict out. So nobody sees a
//! verdict that a power cut could take back.

use super::answering::{Answering, Judged, Pending, Sitting, Slip, Stored};
use super::asked::{Asked, Support, support};
use super::first_words::first_words;
use super::lessons::{LessonOffer, Lessons};
use super::next::{Chosen, PracticeWish, Sides, draw_problem, found, in_practice, next_new};
use super::opening::opening_words;
use super::pattern::pattern_words;
use super::plan::Plan;
use super::summary::{Summary, Tallies};
use super::told::Told;
use super::words::ended_words;
use crate::learner::{Beliefs, Change, Placement, Reason, Recent, Standing, WeakSpot};
use crate::maptable::Move;
use crate::problem::{AnswerError, Draw, Facts, Level, SkillMeta, Verdict};
use crate::store::{AttemptKind, LastPractice, LessonMark};
use jiff::Timestamp;
use jiff::civil::Date;

/// How many problems of this session are kept so that they do not come again.
const MOST_REMEMBERED: usize = 400;

/// A practice under way.
#[derive(Debug)]
pub struct Practice {
    plan: Plan,
    sitting: Sitting,
    beliefs: Beliefs,
    recent: Recent,
    draw: Draw,
    asked: Option<Asked>,
    asked_at: Timestamp,
    /// The learner's day, as of the last problem: a sitting may go on past midnight.
    today: Date,
    told: Option<Told>,
    used: Vec<Facts>,
    sides: Sides,
    examples_shown: Vec<(&'static str, Level)>,
    reminder: Option<(&'static str, &'static str)>,
    lessons: Lessons,
    lesson: Option<LessonOffer>,
    lesson_mark: Option<LessonMark>,
    tallies: Tallies,
    /// How it went last time, until it was told.
    last_time: Option<LastPractice>,
    /// Whether the last problem was to find out where the learner begins.
    placing: bool,
    /// The last answer, while it can be taken back.
    last: Option<Box<Last>>,
    /// A problem that was shown and not answered when the one before it was taken back.
    waiting: Option<Box<(Asked, Option<LessonOffer>)>>,
}

/// A wrong answer, and how the sitting stood before it.
#[derive(Debug)]
struct Last {
    slip: Slip,
    asked: Asked,
    tallies: Tallies,
    recent: Recent,
    reminder: Option<(&'static str, &'static str)>,
}

impl Practice {
    /// Begins; no problem is asked yet.
    #[must_use]
    pub fn new(plan: Plan, sitting: Sitting, beliefs: Beliefs) -> Practice {
        let draw = Draw::new("practice", 0, 0, sitting.seed);
        let asked_at = sitting.began;
        Practice {
            plan,
            tallies: Tallies::new(&beliefs),
            beliefs,
            today: sitting.first_day(),
            sitting,
            recent: Recent::default(),
            draw,
            asked: None,
            asked_at,
            told: None,
            used: Vec::new(),
            sides: Sides::default(),
            examples_shown: Vec::new(),
            reminder: None,
            lessons: Lessons::default(),
            lesson: None,
            lesson_mark: None,
            last_time: None,
            placing: false,
            last: None,
            waiting: None,
        }
    }

    /// The same, with lessons offered on the way as far as the learner has not come yet.
    #[must_use]
    pub fn with_lessons(self, placement: Placement, marks: Vec<LessonMark>) -> Practice {
        Practice { lessons: Lessons::new(self.plan.is_free, placement, marks), ..self }
    }

    /// The lesson that comes before the problem being asked.
    #[must_use]
    pub const fn lesson(&self) -> Option<LessonOffer> {
        self.lesson
    }

    /// Takes in how far the learner came in it.
    pub(super) fn note_lesson(&mut self, mark: LessonMark, now: Timestamp) {
        (self.lesson, self.lesson_mark) = (None, Some(mark));
        self.lesson_closed(now);
    }

    /// The word for the record, once.
    pub(super) const fn take_lesson_mark(&mut self) -> Option<LessonMark> {
        self.lesson_mark.take()
    }

    /// Back from a lesson to the problem being asked: only from now on does its time count.
    pub(super) const fn lesson_closed(&mut self, now: Timestamp) {
        self.asked_at = now;
    }

    /// The lesson that comes before the problem being asked; it is offered once.
    pub const fn take_lesson(&mut self) -> Option<LessonOffer> {
        self.lesson.take()
    }

    /// The same, with how it went last time, which the first problem tells.
    #[must_use]
    pub fn after(self, last_time: Option<LastPractice>) -> Practice {
        Practice { last_time, ..self }
    }

    /// The plan.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Who practises, when.
    #[must_use]
    pub const fn sitting(&self) -> &Sitting {
        &self.sitting
    }

    /// What is believed of the learner.
    #[must_use]
    pub const fn beliefs(&self) -> &Beliefs {
        &self.beliefs
    }

    /// The problem being asked (or just answered).
    #[must_use]
    pub const fn asked(&self) -> Option<&Asked> {
        self.asked.as_ref()
    }

    /// The verdict on it, once it is safely stored.
    #[must_use]
    pub const fn told(&self) -> Option<&Told> {
        self.told.as_ref()
    }

    /// How many problems were answered.
    #[must_use]
    pub const fn answered(&self) -> u32 {
        self.tallies.answers.all()
    }

    /// Whether the plan's count or minutes are used up.
    #[must_use]
    pub fn is_over(&self, now: Timestamp) -> bool {
        self.plan.count.is_some_and(|count| self.tallies.answers.all() >= count)
            || self.plan.time_is_up(self.sitting.began, now)
    }

    /// Asks the next problem; `None` when the practice is over.
    pub fn next(&mut self, now: Timestamp) -> Option<&Asked> {
        self.asked = None;
        self.told = None;
        if self.is_over(now) {
            return None;
        }
        if let Some(waiting) = self.waiting.take() {
            (self.lesson, self.asked_at) = (waiting.1, now);
            self.asked = Some(waiting.0);
            return self.asked.as_ref();
        }
        self.today = self.sitting.days.of(now);
        let chosen = in_practice(&self.plan, &self.beliefs, self.today, &self.recent)?;
        let wish = PracticeWish { plan: &self.plan, expose: chosen.expose, used: &self.used, sides: self.sides };
        let problem = draw_problem(chosen.skill, chosen.level, &wish, &mut self.draw)?;

        self.lesson = self.lessons.due(problem.skill().id, &self.beliefs);
        let key = (problem.skill().id, chosen.level);
        // After two wrong answers the idea is shown again.
        let again = matches!(chosen.reason, Reason::TwoWrong { .. });
        let example_shown = !again && self.examples_shown.contains(&key);
        let reminder = self.reminder.filter(|(skill, _)| *skill == key.0).map(|(_, mend)| mend);
        let support = support(&problem, chosen.fading, example_shown, reminder, &mut self.draw);
        if matches!(support, Support::Example(_)) {
            self.examples_shown.push(key);
        }
        if self.used.len() < MOST_REMEMBERED {
            self.used.push(problem.facts().clone());
        }
        self.sides.count(problem.facts());
        self.asked_at = now;
        let number = self.tallies.answers.all() + 1;
        let (words, opening) = (first_words(&problem, &support, &self.beliefs), self.opening(&chosen));
        let asked = Asked::new(number, problem, reason_words(chosen.reason, &self.plan), support);
        self.asked = Some(Asked { opening, ..asked.telling(words) });
        self.asked.as_ref()
    }

    /// What is told before a problem: once how it went last time, and once what was found of the learner.
    fn opening(&mut self, chosen: &Chosen) -> Option<String> {
        let was_placing = std::mem::replace(&mut self.placing, chosen.reason == Reason::Placing);
        if was_placing && !self.placing {
            return found(&self.plan, &self.beliefs).map(|found| found.to_string());
        }
        let last = self.last_time.take()?;
        opening_words(last, self.today, &self.plan, chosen, next_new(&self.plan, &self.beliefs))
    }

    /// Gives the hint; the answer that follows is recorded and explained, but is no evidence.
    pub fn hint(&mut self) -> Option<&str> {
        if self.told.is_some() {
            return None;
        }
        let asked = self.asked.as_mut()?;
        if asked.hint.is_none() {
            asked.hint = Some(asked.problem.hint());
        }
        asked.hint.as_deref()
    }

    /// Judges an answer to the problem being asked, without taking it in yet. `None` when none is being asked.
    ///
    /// # Errors
    /// [`AnswerError`] when it cannot be read; the question stays and nothing is recorded.
    pub fn answer(&self, texts: &[&str], now: Timestamp) -> Result<Option<Pending>, AnswerError> {
        self.answering().map(|answering| answering.typed(texts, now)).transpose()
    }

    /// Judges work at the map table, without taking it in yet. `None` when no such problem is being asked.
    #[must_use]
    pub fn answer_with_moves(&self, moves: &[Move], now: Timestamp) -> Option<Pending> {
        self.answering()?.worked(moves, now)
    }

    /// The problem being asked, until it is told what it was.
    fn answering(&self) -> Option<Answering<'_>> {
        let (Some(asked), None) = (&self.asked, &self.told) else { return None };
        Some(Answering::of(asked, self.asked_at, &self.sitting, AttemptKind::Practice))
    }

    /// Takes in an answer that is now safely stored, and gives out its verdict.
    pub fn confirm(&mut self, pending: Pending, stored: Stored) -> Option<&Told> {
        let asked = self.asked.as_ref()?;
        let mut told = match (&pending.judged, &asked.table) {
            (Judged::Table(verdict), Some(table)) => Told::of_table(&asked.problem, table, verdict),
            (Judged::Answer(judgement), _) => Told::new(&asked.problem, judgement),
            // Nothing else comes from a practice.
            _ => return None,
        };
        let verdict = pending.judged.verdict();
        let mixup = verdict.mixup();
        told.pattern = mixup.and_then(|mixup| pattern_words(asked.problem.skill(), mixup, stored.lately.iter()));
        let right = verdict == Verdict::Right;
        let skill = asked.problem.skill();
        let slip = Slip { learner: self.sitting.learner, attempt: stored.recorded.id, day: pending.attempt.day };
        self.last = (!right && self.tallies.may_take_back(skill)).then(|| {
            let (tallies, recent, reminder) = (self.tallies.clone(), self.recent.clone(), self.reminder);
            Box::new(Last { slip, asked: asked.clone(), tallies, recent, reminder })
        });
        let before = named(&self.beliefs);
        stored.recorded.beliefs.bring(&mut self.beliefs);
        told.note = notes(stored.recorded.change.as_ref(), &before, &self.beliefs, skill, right);
        self.recent.answered(skill.id, asked.problem.code().level, right);
        self.reminder = told.mend.map(|mend| (skill.id, mend));
        self.tallies.count(skill, right, asked.help());
        self.told = Some(told);
        self.told.as_ref()
    }

    /// The last answer, if it can be taken back: a wrong one, once in each skill and sitting.
    #[must_use]
    pub fn slip(&self) -> Option<Slip> {
        self.last.as_ref().map(|last| last.slip)
    }

    /// Takes in that the last answer was taken back in the store, with what is believed without it: its problem is asked again. A
    /// problem that was shown since waits.
    pub fn taken_back(&mut self, beliefs: Beliefs, now: Timestamp) -> Option<&Asked> {
        let Last { asked, mut tallies, recent, reminder, .. } = *self.last.take()?;
        if self.told.take().is_none() {
            self.waiting = self.asked.take().map(|asked| Box::new((asked, self.lesson.take())));
        }
        let times = tallies.take_back(asked.problem.skill());
        (self.beliefs, self.tallies, self.recent, self.reminder) = (beliefs, tallies, recent, reminder);
        self.asked_at = now;
        self.asked = Some(asked.again(times));
        self.asked.as_ref()
    }

    /// The end of the session: what became surer, what is weak, when to return.
    #[must_use]
    pub fn summary(&self) -> Summary {
        self.tallies.summary(&self.beliefs, self.today)
    }
}

fn reason_words(reason: Reason, plan: &Plan) -> String {
    match reason {
        // Skills can be named without any drill.
        Reason::AskedByDrill if plan.drill.is_none() => "asked for".to_owned(),
        reason => reason.words(),
    }
}

/// The errors that are weak spots over several skills.
fn named(beliefs: &Beliefs) -> Vec<WeakSpot> {
    let spots = beliefs.weak_spots().into_iter();
    spots.filter(|spot| spot.standing == Standing::Named && spot.places.len() > 1).collect()
}

/// What an answer did to the record, in sentences: a weak spot named, or gone, in its skill or over several.
fn notes(
    change: Option<&Change>,
    before: &[WeakSpot],
    beliefs: &Beliefs,
    skill: &'static SkillMeta,
    right: bool,
) -> Option<String> {
    let now = named(beliefs);
    let promise = if beliefs.has_easy_beside(skill) {
        "The next evening comes to it after one easy problem."
    } else {
        // Something else may come right before this evening is over.
        "The next evening comes to it first, or after one easy problem."
    };
    let without = |spots: &[WeakSpot], spot: &WeakSpot| spots.iter().all(|other| other.common() != spot.common());
    let mut notes = Vec::new();
    if let Some(spot) = now.iter().find(|spot| without(before, spot)) {
        notes.push(format!("This is one weak spot in {} skills now. {promise}", spot.places.len()));
    } else if change.is_some_and(|change| change.named.is_some()) {
        notes.push(format!("This is a weak spot now. {promise}"));
    }
    if let Some(spot) = before.iter().find(|spot| without(&now, spot)) {
        notes.push(ended_words(spot));
    } else if let Some(mixup) = change.and_then(|change| change.cleared) {
        notes.push(format!("No longer a weak spot, since it has not come back: you {}.", mixup.said));
    }
    // Of an older error nothing is said behind a right answer: it would seem to be this one's.
    if notes.is_empty() && !right && change.is_some_and(|change| change.suspected.is_some()) {
        notes.push("Perhaps a weak spot. More problems will tell.".to_owned());
    }
    (!notes.is_empty()).then(|| notes.join(" "))
}

#[cfg(test)]
mod tests;
