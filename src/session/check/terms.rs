//! What is checked, as it was agreed when the check began.

use crate::drill::Standard;
use crate::learner::readiness::{Next, Rules};
use crate::numbers::{real, whole};
use crate::problem::{Code, FieldKind, Level, Question, Skill, realise};
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

/// About how long a question in numbers takes, in seconds. Common practice, no source.
const SECONDS_A_QUESTION: f64 = 40.0;
/// About how long work at the map table takes, in seconds. Common practice, no source.
const SECONDS_AT_TABLE: f64 = 80.0;
/// How many problems the mean time is taken over.
const SAMPLED: u32 = 8;

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
            .filter_map(|(id, _)| self.skills.iter().find(|one| one.id == id))
            .map(|one| items * one.seconds())
            .sum();
        whole((seconds / 60.0).ceil())
    }
}

impl TermsSkill {
    /// The skill, if this program knows it.
    #[must_use]
    pub fn skill(&self) -> Option<(&'static dyn Skill, Level)> {
        Some((skills::find(&self.id)?, Level::new(self.level)?))
    }

    /// About how many seconds a problem takes, on average over a few: some skills ask for a number or for the hands. Three
    /// bearings in one problem take the time of three problems.
    fn seconds(&self) -> f64 {
        let Some((skill, level)) = self.skill() else { return SECONDS_A_QUESTION };
        let of_seed = |seed: u64| {
            let Ok(problem) = realise(&Code { skill, level, seed, home: None }) else { return SECONDS_A_QUESTION };
            let fields = problem.question().fields();
            let bearings = fields.iter().filter(|field| matches!(field.kind, FieldKind::Bearing(_))).count().max(1);
            let each =
                if matches!(problem.question(), Question::Table(_)) { SECONDS_AT_TABLE } else { SECONDS_A_QUESTION };
            each * real(bearings)
        };
        (0..SAMPLED).map(u64::from).map(of_seed).sum::<f64>() / f64::from(SAMPLED)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learner::readiness::ReadinessPlan;

    fn seconds(id: &str, level: u8) -> f64 {
        TermsSkill { id: id.to_owned(), level }.seconds()
    }

    #[test]
    fn a_problem_of_three_bearings_takes_the_time_of_three() {
        assert_eq!([1, 2, 3].map(|level| seconds("oriented-bearing", level)), [80.0, 160.0, 240.0]);
        // A reading and a bearing of one leg are one piece of work.
        assert_eq!(seconds("oriented-bearing", 4), 80.0);
        assert_eq!((seconds("true-magnetic", 3), seconds("back-sight", 2)), (40.0, 80.0));
        let mixed = seconds("orient-true-line", 2);
        assert!(mixed > 40.0 && mixed < 80.0, "now a number, now the hands: {mixed}");
    }

    #[test]
    fn the_minutes_of_a_check_grow_with_the_bearings() {
        let rules = Rules { plan: ReadinessPlan::two_tries(), wait_days: 14, valid_days: 180, critical: Vec::new() };
        let minutes = |level: u8| {
            let skills = vec![TermsSkill { id: "oriented-bearing".to_owned(), level }];
            let (standard, title) = ("one".to_owned(), "One".to_owned());
            let terms = Terms { standard, title, rules: rules.clone(), skills, seed: 0 };
            terms.minutes([("oriented-bearing", Next::Ask(1))].into_iter())
        };
        // By hand: about 9.7 problems a try on average of both, 80 seconds for each bearing.
        let items = f64::midpoint(rules.plan.bounds().outcome(0.6).items, rules.plan.bounds().outcome(0.9).items);
        assert_eq!(minutes(1), whole::<u32>((items * 80.0 / 60.0).ceil()));
        assert_eq!(minutes(3), whole::<u32>((items * 240.0 / 60.0).ceil()));
    }
}
