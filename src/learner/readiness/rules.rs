//! The rules of a check: the plan, and what it says about time and about mix-ups that must not happen.

use super::{Bounds, ReadinessPlan};
use crate::problem::SkillMeta;
use serde::{Deserialize, Serialize};

/// How a check decides. Written beside each check as it begins, so that a check goes on under the rules it began with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct Rules {
    /// The plan.
    pub plan: ReadinessPlan,
    /// For so many days *not yet* stands before a new check: retaking without end would let luck pass in the end.
    pub wait_days: u16,
    /// For so many days *ready* is good.
    pub valid_days: u16,
    /// Mix-ups, by id or by class, of which the same one twice in a try ends that try.
    pub critical: Vec<String>,
}

/// How often the same critical mix-up ends a try.
pub const CRITICAL_TIMES: usize = 2;

impl Rules {
    /// The waiting time of a standard that says nothing else, in days.
    pub const WAIT_DAYS: u16 = 14;
    /// The validity of a standard that says nothing else, in days.
    pub const VALID_DAYS: u16 = 180;
    /// The critical mix-ups of a standard that says nothing else: reversals by 180°, and the declination the wrong way.
    pub const CRITICAL: [&str; 2] = ["reversed", "sign"];

    /// Whether a mix-up of this skill is one that must not happen twice.
    #[must_use]
    pub fn is_critical(&self, skill: &SkillMeta, mixup: &str) -> bool {
        let class = skill.mixup(mixup).map(|meta| meta.class.id());
        self.critical.iter().any(|word| word == mixup || Some(word.as_str()) == class)
    }
}

/// As it is written down.
#[derive(Serialize, Deserialize)]
struct Written {
    p0: f64,
    p1: f64,
    tries: u8,
    ready_at: Vec<Option<u8>>,
    stop_at: Vec<Option<u8>>,
    wait_days: u16,
    valid_days: u16,
    critical: Vec<String>,
}

impl From<Rules> for Written {
    fn from(rules: Rules) -> Written {
        let bounds = rules.plan.bounds();
        Written {
            p0: rules.plan.p0(),
            p1: rules.plan.p1(),
            tries: rules.plan.tries(),
            ready_at: bounds.ready_at().to_vec(),
            stop_at: bounds.stop_at().to_vec(),
            wait_days: rules.wait_days,
            valid_days: rules.valid_days,
            critical: rules.critical,
        }
    }
}

/// Bounds that do not belong together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the bounds of this plan do not belong together")]
pub struct BrokenBounds;

impl TryFrom<Written> for Rules {
    type Error = BrokenBounds;

    fn try_from(written: Written) -> Result<Rules, BrokenBounds> {
        let Written { p0, p1, tries, ready_at, stop_at, wait_days, valid_days, critical } = written;
        let bounds = Bounds::new(ready_at, stop_at).ok_or(BrokenBounds)?;
        Ok(Rules { plan: ReadinessPlan::of_bounds(p0, p1, tries, bounds), wait_days, valid_days, critical })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_are_the_same_when_read_back() {
        let rules = Rules {
            plan: ReadinessPlan::two_tries(),
            wait_days: 14,
            valid_days: 180,
            critical: vec!["reversed".to_owned(), "not-applied".to_owned()],
        };
        let text = serde_json::to_string(&rules).unwrap();
        assert_eq!(serde_json::from_str::<Rules>(&text).unwrap(), rules);
    }

    #[test]
    fn bounds_that_cross_are_not_read() {
        let text =
            r#"{"p0":0.6,"p1":0.9,"tries":1,"ready_at":[0],"stop_at":[1],"wait_days":1,"valid_days":1,"critical":[]}"#;
        assert!(serde_json::from_str::<Rules>(text).is_err());
    }
}
