//! First lessons: one idea before its first problem, on a few screens, each with something to move and a figure that
//! answers.
//!
//! A lesson is data: its screens' sentences and their figures ([`Figure`]), and one closing question that is not recorded.
//! A front end shows a screen, turns what the learner turns, and says what the figure says. Everything that is shown is
//! computed, by the same scene, map table and problems as everything else.
//!
//! What does not live here: who has seen which lesson (the store), when one is offered (the session), keys.

mod arm;
mod figure;
mod laying;
mod needle;
mod norths;
mod off_the_line;
mod own_lines;
mod reading_ground;
mod there_and_back;
mod two_norths;
mod where_am_i;

pub use figure::{Figure, Knob};

use crate::ground::Place;
use crate::problem::HomeAngles;
use jiff::civil::Date;
use std::fmt;

/// Where a lesson is given: home ground, whose own numbers it ends with.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// Its angles; none where it has none today.
    pub angles: Option<HomeAngles>,
    /// Where it is.
    pub place: Option<Place>,
    /// The learner's day.
    pub day: Date,
}

/// One screen: what is said, and what is moved.
pub struct Screen {
    /// At most 25 words.
    pub text: &'static str,
    /// Makes the figure as it stands at first.
    pub figure: fn(&Site) -> Box<dyn Figure>,
}

/// The question at the end. It is not recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Question {
    /// What is asked.
    pub text: &'static str,
    /// The answers to choose from.
    pub choices: &'static [&'static str],
    /// The place of the right one.
    pub right: usize,
    /// Why it is right: the reason, in one sentence or two.
    pub why: &'static str,
}

/// A lesson.
pub struct Lesson {
    /// The stable id.
    pub id: &'static str,
    /// Its name on screens, sentence case.
    pub title: &'static str,
    /// The idea in one sentence, for lists.
    pub idea: &'static str,
    /// The ids of the skills before whose first problem it is offered.
    pub before: &'static [&'static str],
    /// Its screens, three to six.
    pub screens: &'static [Screen],
    /// The question at its end.
    pub question: Question,
}

impl fmt::Debug for Lesson {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Lesson").field("id", &self.id).finish_non_exhaustive()
    }
}

impl Lesson {
    /// How many screens it has, the question's included.
    #[must_use]
    pub const fn screen_count(&self) -> usize {
        self.screens.len() + 1
    }

    /// Its sentences: the idea, those of its screens, and the question with its answer; joined by blanks.
    #[must_use]
    pub fn sentences(&self) -> String {
        let screens = self.screens.iter().map(|screen| screen.text);
        let all = [self.idea].into_iter().chain(screens).chain([self.question.text, self.question.why]);
        all.collect::<Vec<_>>().join(" ")
    }

    /// Its number on screens, from 1.
    #[must_use]
    pub fn number(&self) -> usize {
        LESSONS.iter().position(|lesson| lesson.id == self.id).map_or(0, |at| at + 1)
    }
}

/// All lessons, in the order of a newcomer's way.
pub static LESSONS: [&Lesson; 11] = [
    &needle::LESSON,
    &arm::LESSON,
    &there_and_back::LESSON,
    &two_norths::LESSON,
    &norths::LESSON,
    &own_lines::LESSON,
    &laying::LAYING,
    &laying::OFF_THE_MAP,
    &reading_ground::LESSON,
    &where_am_i::LESSON,
    &off_the_line::LESSON,
];

/// The lessons that come before the first problem of this skill.
pub fn before_skill(skill: &str) -> impl Iterator<Item = &'static Lesson> {
    LESSONS.iter().copied().filter(move |lesson| lesson.before.contains(&skill))
}

#[cfg(test)]
mod tests;
