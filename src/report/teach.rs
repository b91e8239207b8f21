//! What to teach next: the weak spots that most members have, where they show, what they rest on, and who could help.

use super::{Cell, Member};
use crate::angle::{North, declination_words, three_figures};
use crate::drill::Drill;
use crate::learner::{CommonError, Standing, State, Tally, WeakSpot};
use crate::numbers;
use crate::problem::{FactName, Facts, MixupMeta, SkillMeta};
use crate::session::{PATTERN_ATTEMPTS, Readiness, answered_words, pattern_words};
use crate::skills;
use crate::store::{AttemptId, LearnerId, NewAttempt, Store, StoreError};
use jiff::civil::Date;
use std::collections::HashSet;

/// Codes that are given as evidence for one member.
const CODES_A_MEMBER: usize = 3;
/// Of so many members, the surest, it is looked up where a weak spot shows and what it rests on.
pub(super) const MEMBERS_LOOKED_UP: usize = 6;
/// The most weak spots that are listed.
const MOST_WEAK_SPOTS: usize = 8;

/// A weak spot of the patrol: one error, in all the skills in which it shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Teach {
    /// The error that it is in many skills, if it is one of those.
    pub common: Option<CommonError>,
    /// The skills and the mix-up in each: those of most members first, at least one.
    pub places: Vec<(&'static SkillMeta, &'static MixupMeta)>,
    /// Who has it, the surest first.
    pub members: Vec<TeachMember>,
    /// The drill that addresses it: its name and its title.
    pub drill: Option<(String, String)>,
    /// Members who could show it: sure in practice or found ready, and without any weak spot there.
    pub could_show: Vec<(LearnerId, String)>,
}

impl Teach {
    /// What they do, behind "you" or their number, and what to do instead.
    #[must_use]
    pub fn words(&self) -> (&'static str, &'static str) {
        let first = self.places.first().map_or(("", ""), |(_, mixup)| (mixup.said, mixup.mend));
        match self.common {
            Some(common) if self.places.len() > 1 => (common.said(), first.1),
            _ => first,
        }
    }

    /// Who of those who are there shows whom. Each shows one, so that nobody is crowded; in the next turn, counted from 0, they show
    /// others.
    pub fn pairs(&self, turn: usize, is_here: impl Fn(LearnerId) -> bool) -> Vec<(&(LearnerId, String), &TeachMember)> {
        let shows = self.could_show.iter().filter(|(id, _)| is_here(*id));
        let mut whom: Vec<&TeachMember> = self.members.iter().filter(|part| is_here(part.learner)).collect();
        let turned = turn.checked_rem(whom.len()).unwrap_or(0);
        whom.rotate_left(turned);
        shows.zip(whom).collect()
    }

    fn is_about(&self, spot: &WeakSpot) -> bool {
        match (self.common, spot.common()) {
            (Some(ours), Some(theirs)) => ours == theirs,
            (None, None) => {
                let at = |skill: &SkillMeta, mixup: &MixupMeta| (skill.id, mixup.id);
                let ours = self.places.first().map(|(skill, mixup)| at(skill, mixup));
                ours == spot.places.first().map(|place| at(place.skill, place.mixup))
            }
            _ => false,
        }
    }
}

/// A member's part in a weak spot.
#[derive(Clone, Debug, PartialEq)]
pub struct TeachMember {
    /// The member.
    pub learner: LearnerId,
    /// Their name.
    pub name: String,
    /// The skills in which it shows with them.
    pub skills: Vec<&'static SkillMeta>,
    /// Suspected or named.
    pub standing: Standing,
    /// How likely it is, 0 to 1.
    pub probability: f64,
    /// How often it happened among the last items that could show it.
    pub evidence: Tally,
    /// Where it shows in its skill, if only there: `only when the declination is east`. Looked up for the surest members.
    pub pattern: Option<String>,
    /// The latest problems in which it happened. Looked up for the surest members.
    pub examples: Vec<Example>,
}

/// A problem in which it happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Example {
    /// The problem's code.
    pub code: String,
    /// The learner's day.
    pub day: Date,
    /// What was answered, as it is recorded.
    pub given: String,
    /// The same for people, with what it was for and what is right: `040° M for 048 T, 8° W; right 056° M`.
    pub said: String,
}

/// `untold` are the answers of tries under way, on which nothing may rest.
pub(super) fn gather(store: &Store, members: &[Member], untold: &HashSet<AttemptId>) -> Result<Vec<Teach>, StoreError> {
    let mut found: Vec<Teach> = Vec::new();
    for member in members {
        for weak in &member.weak {
            let part = TeachMember {
                learner: member.learner.id,
                name: member.learner.name.clone(),
                skills: weak.places.iter().map(|place| place.skill).collect(),
                standing: weak.standing,
                probability: weak.probability,
                evidence: weak.evidence(),
                pattern: None,
                examples: Vec::new(),
            };
            let at = found.iter().position(|teach| teach.is_about(weak)).unwrap_or_else(|| {
                let (common, places) = (weak.common(), Vec::new());
                found.push(Teach { common, places, members: Vec::new(), drill: None, could_show: Vec::new() });
                found.len() - 1
            });
            let teach = &mut found[at];
            teach.members.push(part);
            for place in &weak.places {
                if !teach.places.iter().any(|(skill, _)| skill.id == place.skill.id) {
                    teach.places.push((place.skill, place.mixup));
                }
            }
        }
    }
    let weight = |teach: &Teach| teach.members.iter().map(|member| member.probability).sum::<f64>();
    numbers::arrange(&mut found, |one, other| {
        other.members.len().cmp(&one.members.len()).then_with(|| weight(other).total_cmp(&weight(one)))
    });
    found.truncate(MOST_WEAK_SPOTS);
    for teach in &mut found {
        let Teach { places, members: parts, .. } = teach;
        let having =
            |skill: &SkillMeta| parts.iter().filter(|part| part.skills.iter().any(|one| one.id == skill.id)).count();
        numbers::arrange_by_key(places, |(skill, _)| std::cmp::Reverse(having(skill)));
        numbers::arrange(parts, |one, other| other.probability.total_cmp(&one.probability));
        teach.drill = drill_for(&teach.places);
        teach.could_show = could_show(teach, members);
        for member in teach.members.iter_mut().take(MEMBERS_LOOKED_UP) {
            look_up(store, &teach.places, untold, member)?;
        }
    }
    Ok(found)
}

/// Where it shows with a member, if only there, and the latest problems in which it happened.
fn look_up(
    store: &Store,
    places: &[(&'static SkillMeta, &'static MixupMeta)],
    untold: &HashSet<AttemptId>,
    member: &mut TeachMember,
) -> Result<(), StoreError> {
    let mut seen = Vec::new();
    for (skill, mixup) in places.iter().filter(|(skill, _)| member.skills.iter().any(|one| one.id == skill.id)) {
        let mut lately = store.attempts(member.learner, skill.id, PATTERN_ATTEMPTS)?;
        lately.retain(|attempt| !untold.contains(&attempt.id));
        if member.skills.len() == 1 {
            member.pattern = pattern_words(skill, mixup, lately.iter().map(|attempt| &attempt.what));
        }
        let ours = lately.into_iter().filter(|attempt| attempt.what.verdict.mixup() == Some(mixup.id.as_str()));
        seen.extend(ours.take(CODES_A_MEMBER));
    }
    // The latest first, of all skills together.
    numbers::arrange_by_key(&mut seen, |attempt| std::cmp::Reverse(attempt.id));
    member.examples = seen.into_iter().take(CODES_A_MEMBER).map(|attempt| Example::of(attempt.what)).collect();
    Ok(())
}

impl Example {
    pub(super) fn of(what: NewAttempt) -> Example {
        let (given, said) = (given_words(&what.given), said_words(&what));
        Example { code: what.code, day: what.day, given, said }
    }
}

/// What was answered to what, and what is right: `040° M for 048 T, 8° W; right 056° M`.
fn said_words(what: &NewAttempt) -> String {
    let facts = Facts::read(&what.facts);
    let bearing =
        |name: FactName, north: North| Some(format!("{} {}", three_figures(facts.angle(&name)?, 0), north.letter()));
    let given = [
        (FactName::TrueBearing, North::True),
        (FactName::GridBearing, North::Grid),
        (FactName::MagneticBearing, North::Magnetic),
    ]
    .into_iter()
    .find_map(|(name, north)| bearing(name, north))
    .or_else(|| bearing(FactName::Bearing, facts.north(&FactName::North)?));
    let angle = facts.correction().map(|angle| declination_words(angle).to_string());
    let of: Vec<String> = given.into_iter().chain(angle).collect();
    let of = if of.is_empty() { String::new() } else { format!(" for {}", of.join(", ")) };
    // Of a problem that this program cannot make any more only the record is left.
    let (given, right) = answered_words(what).unwrap_or_else(|| (given_words(&what.given), given_words(&what.right)));
    format!("{given}{of}; right {right}")
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

/// The drill that has most of these skills, and of those the one with the fewest others.
fn drill_for(places: &[(&'static SkillMeta, &'static MixupMeta)]) -> Option<(String, String)> {
    let has = |drill: &Drill| {
        let ours = |id: &str| places.iter().any(|(skill, _)| skill.id == id);
        drill.skills.iter().filter(|one| ours(one.skill.id)).count()
    };
    Drill::embedded()
        .iter()
        .filter(|drill| has(drill) > 0)
        // What is asked only where somebody names it is no help for a beginner.
        .filter(|drill| drill.skills.iter().all(|one| skills::is_common(one.skill)))
        .min_by_key(|drill| (std::cmp::Reverse(has(drill)), drill.skills.len()))
        .map(|drill| (drill.name.clone(), drill.title.clone()))
}

/// Who is sure of one of the skills in practice, or was found ready in it, and has no weak spot in any of them: nobody shows
/// what goes wrong with them.
fn could_show(teach: &Teach, members: &[Member]) -> Vec<(LearnerId, String)> {
    let about = |id: &str| teach.places.iter().any(|(skill, _)| skill.id == id);
    let can = |member: &&Member| {
        let sure = member.practised.iter().any(|one| about(one.skill.id) && one.state == State::Sure);
        let ready = |cell: &Cell| about(cell.skill.id) && matches!(cell.readiness, Readiness::Ready { .. });
        sure || member.cells.iter().any(ready)
    };
    let weak = |member: &&Member| {
        member.weak.iter().any(|spot| spot.places.iter().any(|place| about(place.skill.id)))
            || member.without_pattern.iter().any(|lost| about(lost.skill.id))
    };
    let shows = members.iter().filter(can).filter(|member| !weak(member));
    shows.map(|member| (member.learner.id, member.learner.name.clone())).collect()
}
