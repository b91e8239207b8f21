//! Which lesson is offered before which problem.

use crate::learner::{Beliefs, Placement};
use crate::lesson::{self, Lesson};
use crate::store::LessonMark;

/// A lesson that is offered, and the screen it goes on at.
#[derive(Clone, Copy, Debug)]
pub struct LessonOffer {
    /// Which one.
    pub lesson: &'static Lesson,
    /// The screen it goes on at, from 0.
    pub screen: usize,
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
