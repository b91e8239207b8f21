//! What is checked, as it was agreed when the check began.

use crate::drill::Standard;
use crate::learner::readiness::{Next, Rules};
use crate::problem::{Code, Level, Question, Skill, realise};
use crate::skills;
use serde::{Deserialize, Serialize};

/// The terms of a check. They are written down beside it, and it goes on under them whatever becomes of the standard's file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Terms {
    /// The standard's name.
    pub standard: String,
    /// The standard's name on screens.
    pub title: String,
    /// How it is decided.
    pub rules: Rules,
    /// What is asked.
    pub skills: Vec<TermsSkill>,
    /// What its problems are drawn from.
    pub seed: u64,
}

/// One skill of a check.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TermsSkill {
    /// Its id.
    pub id: String,
    /// The number of its level.
    pub level: u8,
}

/// About how long a problem takes: a number question, and work at the map table, in seconds. Common practice, no source.
const SECONDS: (f64, f64) = (40.0, 80.0);

impl Terms {
    /// The terms of a standard, for those of its skills that are wanted; a seed is given as the check begins.
    #[must_use]
    pub fn of(standard: &Standard, wanted: impl Fn(&str) -> bool) -> Terms {
        Terms {
            seed: 0,
            standard: standard.name.clone(),
            title: standard.title.clone(),
            rules: standard.rules.clone(),
            skills: standard
                .skills
                .iter()
                .filter(|one| wanted(one.skill.id))
                .map(|one| TermsSkill { id: one.skill.id.to_owned(), level: one.level.number() })
                .collect(),
        }
    }

    /// As they are written down.
    #[must_use]
    pub fn written(&self) -> String {
        // Numbers are finite and keys are text.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// Reads what was written down; none when it cannot be understood.
    #[must_use]
    pub fn read(text: &str) -> Option<Terms> {
        serde_json::from_str(text).ok()
    }

    /// Whether a standard still says what these terms say, as far as they go.
    #[must_use]
    pub fn agree_with(&self, standard: &Standard) -> bool {
        let asks = |one: &TermsSkill| {
            standard.skills.iter().any(|now| now.skill.id == one.id && now.level.number() == one.level)
        };
        self.rules == standard.rules && self.skills.iter().all(asks)
    }

    /// About how many minutes the tries take that can be made now, for somebody who may or may not be ready.
    #[must_use]
    pub fn minutes<'a>(&self, next: impl Iterator<Item = (&'a str, Next)>) -> u32 {
        let plan = &self.rules.plan;
        let items = f64::midpoint(plan.bounds().outcome(plan.p0()).items, plan.bounds().outcome(plan.p1()).items);
        let seconds: f64 = next
            .filter(|(_, next)| matches!(next, Next::Ask(_)))
            .map(|(id, _)| items * if by_hand(id) { SECONDS.1 } else { SECONDS.0 })
            .sum();
        (seconds / 60.0).ceil() as u32
    }
}

impl TermsSkill {
    /// The skill, if this program knows it.
    #[must_use]
    pub fn skill(&self) -> Option<(&'static dyn Skill, Level)> {
        Some((skills::find(&self.id)?, Level::new(self.level)?))
    }
}

/// Whether a skill is worked at the map table.
fn by_hand(id: &str) -> bool {
    let Some(skill) = skills::find(id) else { return false };
    let code = Code { skill, level: Level::ONE, seed: 0, home: None };
    realise(&code).is_ok_and(|problem| matches!(problem.question(), Question::Table(_)))
}
