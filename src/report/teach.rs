//! What to teach next: the weak spots that most members have, where they show, what they rest on, and who could help.

use super::{Cell, Member};
use crate::drill::Drill;
use crate::learner::{Standing, State, Tally};
use crate::problem::{MixupMeta, SkillMeta};
use crate::session::{LOOKED_AT, Readiness, pattern_words};
use crate::store::{AttemptId, LearnerId, NewAttempt, Store, StoreError};
use std::collections::HashSet;

/// Codes that are given as evidence for one member.
const CODES: usize = 3;
/// Of so many members, the surest, it is looked up where a weak spot shows and what it rests on.
pub(super) const LOOKED_UP: usize = 6;
/// The most weak spots that are listed.
const MOST: usize = 8;

/// A weak spot of the patrol.
#[derive(Clone, Debug, PartialEq)]
pub struct Teach {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The mix-up.
    pub mixup: &'static MixupMeta,
    /// Who has it, the surest first.
    pub members: Vec<TeachMember>,
    /// The drill that addresses it: its name and its title.
    pub drill: Option<(String, String)>,
    /// Members who could show it: sure in practice or found ready, and without this weak spot.
    pub could_show: Vec<String>,
}

/// A member's part in a weak spot.
#[derive(Clone, Debug, PartialEq)]
pub struct TeachMember {
    /// Whose.
    pub learner: LearnerId,
    /// Their name.
    pub name: String,
    /// Suspected or named.
    pub standing: Standing,
    /// How likely it is, 0 to 1.
    pub probability: f64,
    /// How often it happened among the last items that could show it.
    pub evidence: Tally,
    /// Where it shows, if only there: `only when the declination is east`. Looked up for the surest members.
    pub pattern: Option<String>,
    /// The latest problems in which it happened, with their days. Looked up for the surest members.
    pub codes: Vec<String>,
}

/// `untold` are the answers of tries under way, on which nothing may rest.
pub(super) fn gather(store: &Store, members: &[Member], untold: &HashSet<AttemptId>) -> Result<Vec<Teach>, StoreError> {
    let mut found: Vec<Teach> = Vec::new();
    for member in members {
        for weak in &member.weak {
            let part = TeachMember {
                learner: member.learner.id,
                name: member.learner.name.clone(),
                standing: weak.standing,
                probability: weak.probability,
                evidence: weak.evidence,
                pattern: None,
                codes: Vec::new(),
            };
            match found.iter_mut().find(|one| one.skill.id == weak.skill.id && one.mixup.id == weak.mixup.id) {
                Some(teach) => teach.members.push(part),
                None => found.push(Teach {
                    skill: weak.skill,
                    mixup: weak.mixup,
                    members: vec![part],
                    drill: None,
                    could_show: Vec::new(),
                }),
            }
        }
    }
    let weight = |teach: &Teach| teach.members.iter().map(|member| member.probability).sum::<f64>();
    found.sort_by(|one, other| {
        other.members.len().cmp(&one.members.len()).then_with(|| weight(other).total_cmp(&weight(one)))
    });
    found.truncate(MOST);
    for teach in &mut found {
        teach.members.sort_by(|one, other| other.probability.total_cmp(&one.probability));
        teach.drill = drill_for(teach.skill.id);
        teach.could_show = could_show(teach, members);
        for member in teach.members.iter_mut().take(LOOKED_UP) {
            let mut lately = store.attempts(member.learner, teach.skill.id, LOOKED_AT)?;
            lately.retain(|attempt| !untold.contains(&attempt.id));
            member.pattern = pattern_words(teach.skill, teach.mixup, lately.iter().map(|attempt| &attempt.what));
            member.codes = lately
                .iter()
                .filter(|attempt| attempt.what.verdict.mixup() == Some(teach.mixup.id.as_str()))
                .take(CODES)
                .map(|attempt| {
                    let NewAttempt { code, day, given, .. } = &attempt.what;
                    format!("{code} ({day}: {})", given_words(given))
                })
                .collect();
        }
    }
    Ok(found)
}

/// What was answered, from how it is stored: texts in a list, or fields with their values.
fn given_words(given: &str) -> String {
    let word = |value: &serde_json::Value| match value {
        serde_json::Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    match serde_json::from_str(given) {
        Ok(serde_json::Value::Array(texts)) => texts.iter().map(word).collect::<Vec<_>>().join(" "),
        Ok(serde_json::Value::Object(fields)) => fields.values().map(word).collect::<Vec<_>>().join(", "),
        _ => "no answer".to_owned(),
    }
}

/// The drill with the fewest skills that has this one.
fn drill_for(skill: &str) -> Option<(String, String)> {
    Drill::embedded()
        .iter()
        .filter(|drill| drill.skills.iter().any(|one| one.skill.id == skill))
        .min_by_key(|drill| drill.skills.len())
        .map(|drill| (drill.name.clone(), drill.title.clone()))
}

fn could_show(teach: &Teach, members: &[Member]) -> Vec<String> {
    let ready = |cell: &Cell| cell.skill.id == teach.skill.id && matches!(cell.readiness, Readiness::Ready { .. });
    members
        .iter()
        .filter(|member| !teach.members.iter().any(|part| part.learner == member.learner.id))
        .filter(|member| {
            let sure = member
                .practised
                .iter()
                .any(|practised| practised.skill.id == teach.skill.id && practised.state == State::Sure);
            sure || member.cells.iter().any(ready)
        })
        .map(|member| member.learner.name.clone())
        .collect()
}
