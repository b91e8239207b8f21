//! Which lesson is offered before which problem, and what front ends say and note while one is given.

use super::plan::HomeGround;
use crate::learner::{Beliefs, Placement};
use crate::lesson::{self, Lesson, Question, Site};
use crate::store::LessonMark;
use jiff::civil::Date;

/// A lesson that is offered, and the screen it goes on at.
#[derive(Clone, Copy, Debug)]
pub struct LessonOffer {
    /// Which one.
    pub lesson: &'static Lesson,
    /// The screen it goes on at, from 0.
    pub screen: usize,
}

impl HomeGround {
    /// Where a lesson is given that somebody takes here on this day.
    #[must_use]
    pub fn site(&self, day: Date) -> Site {
        Site { angles: self.angles, place: Some(self.place), day }
    }
}

/// How far somebody came: left at a screen, from 0, to go on there; or done, to begin anew.
#[must_use]
pub fn lesson_mark(lesson: &Lesson, screen: usize, done: bool) -> LessonMark {
    let screen = if done { 0 } else { u32::try_from(screen).unwrap_or(0) };
    LessonMark { lesson: lesson.id.to_owned(), screen, done }
}

/// What is said to a choice at the end of a lesson.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LessonVerdict {
    /// Whether it is the right one.
    pub right: bool,
    /// `Yes.` or `Not that one.`
    pub word: &'static str,
    /// `It is: 110° M.`, for one that is not right.
    pub instead: Option<String>,
    /// Why.
    pub why: &'static str,
}

impl LessonVerdict {
    /// For the choice at this place, from 0.
    #[must_use]
    pub fn of(question: &Question, chosen: usize) -> LessonVerdict {
        let right = chosen == question.right;
        let instead = question.choices.get(question.right).filter(|_| !right);
        LessonVerdict {
            right,
            word: if right { "Yes." } else { "Not that one." },
            instead: instead.map(|answer| format!("It is: {answer}.")),
            why: question.why,
        }
    }
}

/// What a practice knows of the lessons.
#[derive(Clone, Debug, Default)]
pub(super) struct Lessons {
    offered: bool,
    marks: Vec<LessonMark>,
}

impl Lessons {
    /// Lessons are offered to whoever begins anew; whoever has done this before opens them from the own page.
    pub fn new(offered: bool, placement: Placement, marks: Vec<LessonMark>) -> Lessons {
        Lessons { offered: offered && placement == Placement::Fresh, marks }
    }

    /// The lesson before the first problem of this skill, if there is one that was neither ended, nor skipped, nor offered
    /// in this session, and if none of its skills was met before: no older record gets a lesson forced on it.
    pub fn due(&mut self, skill: &str, beliefs: &Beliefs) -> Option<LessonOffer> {
        if !self.offered {
            return None;
        }
        let met = |id: &&str| beliefs.skill(id).is_some_and(|belief| belief.count() > 0);
        let lesson = lesson::before_skill(skill).find(|lesson| {
            !lesson.before.iter().any(met) && !self.marks.iter().any(|mark| mark.lesson == lesson.id && mark.done)
        })?;
        let screen = self.marks.iter().find(|mark| mark.lesson == lesson.id).map_or(0, |mark| mark.screen);
        self.marks.retain(|mark| mark.lesson != lesson.id);
        self.marks.push(LessonMark { lesson: lesson.id.to_owned(), screen, done: true });
        Some(LessonOffer { lesson, screen: usize::try_from(screen).unwrap_or(0).min(lesson.screen_count() - 1) })
    }
}
