//! What comes next: decided here for practice, turns, rounds and checks, and drawn here by one loop.
//!
//! Practice, turns and rounds go by what is believed of a learner ([`by_belief`]), a check asks its skills in turn
//! ([`asked_least`]). What the problem must then be like each flow says in a wish of its own ([`wishes`]); [`draw_problem`]
//! tries seeds until one comes true.

mod draw;
mod wishes;

pub(super) use draw::{draw_problem, draw_seed};
pub(super) use wishes::{CheckWish, PracticeWish, RoundWish, Sides, Traits, is_written_skill};

use super::plan::Plan;
use crate::learner::{self, Beliefs, Fading, Reason, Recent, Selection};
use crate::problem::{Level, MixupMeta, Skill, SkillMeta};
use crate::skills;
use jiff::civil::Date;

/// What comes next, by what is believed of a learner.
#[derive(Clone, Copy)]
pub(super) struct Chosen {
    /// The skill.
    pub skill: &'static dyn Skill,
    /// The level: the learner's own, or the nearest that the plan allows.
    pub level: Level,
    /// The mix-up that the problem should expose, if it is aimed at one.
    pub expose: Option<&'static MixupMeta>,
    /// How much of a worked example goes with it.
    pub fading: Fading,
    /// Why this one.
    pub reason: Reason,
}

/// What comes next for a learner among those skills of a plan that `may` be asked; none when none may.
pub(super) fn by_belief(
    plan: &Plan,
    beliefs: &Beliefs,
    day: Date,
    recent: &Recent,
    may: impl Fn(&SkillMeta) -> bool,
) -> Option<Chosen> {
    let skills = plan.skills.iter().map(|planned| planned.skill).filter(|skill| may(skill));
    let selection = Selection::of(skills.map(|skill| skill.id));
    let choice = learner::choose(beliefs, &selection, day, recent)?;
    let planned = plan.skills.iter().find(|planned| planned.skill.id == choice.skill.id)?;
    Some(Chosen {
        skill: skills::find(choice.skill.id)?,
        level: planned.nearest_level(choice.level),
        expose: choice.expose,
        fading: choice.fading,
        reason: choice.reason,
    })
}

/// What comes next in a check: of the skills that can be asked (their places, and how often each was asked in its try)
/// the one asked least, but not the `last` one while others are left.
pub(super) fn asked_least(waiting: &[(usize, usize)], last: Option<usize>) -> Option<usize> {
    let others = waiting.iter().filter(|(place, _)| waiting.len() == 1 || Some(*place) != last);
    others.min_by_key(|(place, asked)| (*asked, *place)).map(|(place, _)| *place)
}

#[cfg(test)]
mod tests;
