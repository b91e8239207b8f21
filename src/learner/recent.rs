//! What was answered just now, in this sitting.

use super::constants as c;
use crate::problem::Level;
use std::borrow::Cow;
use std::collections::VecDeque;

/// The last problems of a sitting.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recent {
    /// Their skills, the latest first, at most [`c::WAY_AGAIN_AFTER`].
    skills: VecDeque<Cow<'static, str>>,
    /// Skills whose last answers in this sitting were wrong.
    wrong: Vec<Wrong>,
}

/// A skill in which nothing came right lately.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Wrong {
    skill: Cow<'static, str>,
    /// How many answers in a row, with or without help.
    in_a_row: u8,
    /// The level of the last of them.
    level: Level,
}

impl Recent {
    /// Notes an answered problem.
    pub fn answered(&mut self, skill: impl Into<Cow<'static, str>>, level: Level, right: bool) {
        let skill = skill.into();
        if right {
            self.wrong.retain(|wrong| wrong.skill != skill);
        } else if let Some(wrong) = self.wrong.iter_mut().find(|wrong| wrong.skill == skill) {
            (wrong.in_a_row, wrong.level) = (wrong.in_a_row.saturating_add(1), level);
        } else {
            self.wrong.push(Wrong { skill: skill.clone(), in_a_row: 1, level });
        }
        self.skills.truncate(c::WAY_AGAIN_AFTER - 1);
        self.skills.push_front(skill);
    }

    /// The skill of the last problem.
    pub(super) fn last(&self) -> Option<&str> {
        self.skills.front().map(AsRef::as_ref)
    }

    /// The skill of the problem before the last.
    pub(super) fn before_last(&self) -> Option<&str> {
        self.skills.get(1).map(AsRef::as_ref)
    }

    /// How many of the last problems are remembered, at most [`c::WAY_AGAIN_AFTER`].
    pub(super) fn len(&self) -> usize {
        self.skills.len()
    }

    /// The skills of the last problems, at most so many, the latest first.
    pub(super) fn lately(&self, most: usize) -> impl Iterator<Item = &str> + Clone {
        self.skills.iter().take(most).map(AsRef::as_ref)
    }

    /// How many problems ago a skill came last, from 0; none when it was not among those remembered.
    pub(super) fn ago(&self, skill: &str) -> Option<usize> {
        self.skills.iter().position(|one| one == skill)
    }

    /// How many answers in a row were wrong in a skill up to now, and the level of the last of them.
    pub(super) fn wrong_in_a_row(&self, skill: &str) -> Option<(u8, Level)> {
        self.wrong.iter().find(|wrong| wrong.skill == skill).map(|wrong| (wrong.in_a_row, wrong.level))
    }
}
