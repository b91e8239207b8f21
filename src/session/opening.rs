//! The sentence that opens a sitting on a later day: how it went last time, and what comes today.

use super::next::Chosen;
use super::plan::Plan;
use crate::learner::Reason;
use crate::problem::SkillMeta;
use crate::store::LastPractice;
use jiff::civil::Date;

/// `Last time: 12 of 20 right, 3 days ago. Today: an easy one, then your weak spot in "True and magnetic", then something new:
/// "Turns".` None when the last time was today.
pub(super) fn opening_words(
    last: LastPractice,
    today: Date,
    plan: &Plan,
    chosen: &Chosen,
    new: Option<&SkillMeta>,
) -> Option<String> {
    let ago = match last.day.duration_until(today).as_hours() / 24 {
        ..=0 => return None,
        1 => "yesterday".to_owned(),
        days => format!("{days} days ago"),
    };
    let spot = |skill: &SkillMeta| format!("your weak spot in \"{}\"", skill.title);
    let mut parts = match chosen.reason {
        Reason::EasyFirst { skill, .. } => vec!["an easy one".to_owned(), spot(skill)],
        Reason::PrerequisiteOf { skill, .. } => vec!["a step towards it".to_owned(), spot(skill)],
        Reason::WeakSpot { .. } | Reason::WasWeakSpot { .. } => vec![spot(chosen.skill.meta())],
        _ => Vec::new(),
    };
    match new {
        Some(skill) => parts.push(format!("something new, \"{}\"", skill.title)),
        None if plan.is_free => parts.push("what is worth repeating".to_owned()),
        None if plan.drill.is_some() => parts.push(format!("\"{}\"", plan.title)),
        None => {}
    }
    let today = if parts.is_empty() { String::new() } else { format!(" Today: {}.", parts.join(", then ")) };
    Some(format!("Last time: {} of {} right, {ago}.{today}", last.right, last.answered))
}
