//! What comes next: decided here for practice, turns, rounds and checks, and drawn here by one loop.
//!
//! Practice, turns and rounds go by what is believed of a learner ([`by_belief`]; without a drill along a newcomer's way), a check asks its skills in turn
//! ([`asked_least`]). What the problem must then be like each flow says in a wish of its own ([`wishes`]); [`draw_problem`]
//! tries seeds until one comes true.

mod draw;
mod wishes;

pub(super) use draw::{Fit, Wish, draw_problem, draw_seed};
pub use wishes::is_written_skill;
pub(super) use wishes::{CheckWish, PaperWish, PracticeWish, RoundWish, Sides, Traits};

use super::plan::Plan;
use crate::learner::{self, Beliefs, Fading, Found, OpenStep, Order, Reason, Recent, Selection};
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

/// The skills of a plan that `may` be asked.
fn selection(plan: &Plan, order: Order, may: impl Fn(&SkillMeta) -> bool) -> Selection {
    let skills = plan.skills.iter().map(|planned| planned.skill).filter(|skill| may(skill));
    Selection { order, ..Selection::of(skills.map(|skill| skill.id)) }
}

/// What decides in a practice or a turn.
pub(super) const fn order(plan: &Plan) -> Order {
    if plan.is_free { Order::Way } else { Order::Gain }
}

/// What comes next in practice.
pub(super) fn in_practice(plan: &Plan, beliefs: &Beliefs, day: Date, recent: &Recent) -> Option<Chosen> {
    by_belief(plan, order(plan), beliefs, day, recent, |_| true)
}

/// What was found of a learner who has done this before, when it is found.
pub(super) fn found(plan: &Plan, beliefs: &Beliefs) -> Option<Found> {
    learner::found(beliefs, &selection(plan, order(plan), |_| true))
}

/// The next new skill of a practice, where a newcomer's way decides.
pub(super) fn next_new(plan: &Plan, beliefs: &Beliefs) -> Option<&'static SkillMeta> {
    let selection = selection(plan, order(plan), |_| true);
    learner::next_new(beliefs, &selection).filter(|_| plan.is_free)
}

/// The step of the way that is open, where it decides.
pub(super) fn open_step(plan: &Plan, beliefs: &Beliefs) -> Option<OpenStep> {
    plan.is_free.then(|| learner::open_step(beliefs, &selection(plan, order(plan), |_| true)))
}

/// What comes next for a learner among those skills of a plan that `may` be asked; none when none may.
pub(super) fn by_belief(
    plan: &Plan,
    order: Order,
    beliefs: &Beliefs,
    day: Date,
    recent: &Recent,
    may: impl Fn(&SkillMeta) -> bool,
) -> Option<Chosen> {
    let selection = selection(plan, order, may);
    let choice = learner::choose(beliefs, &selection, day, recent)?;
    let planned = plan.skills.iter().find(|planned| planned.skill.id == choice.skill.id)?;
    let level = planned.nearest_level(choice.level);
    let reason = match choice.reason {
        // Where the plan has no easier level, none is promised.
        Reason::TwoWrong { easier } => Reason::TwoWrong { easier: easier && level <= choice.level },
        reason => reason,
    };
    let (expose, fading) = (choice.expose, choice.fading);
    Some(Chosen { skill: skills::find(choice.skill.id)?, level, expose, fading, reason })
}

/// What comes next in a check: of the skills that can be asked (their places, and how often each was asked in its try)
/// the one asked least, but not the `last` one while others are left.
pub(super) fn asked_least(waiting: &[(usize, usize)], last: Option<usize>) -> Option<usize> {
    let others = waiting.iter().filter(|(place, _)| waiting.len() == 1 || Some(*place) != last);
    others.min_by_key(|(place, asked)| (*asked, *place)).map(|(place, _)| *place)
}

#[cfg(test)]
mod tests;
