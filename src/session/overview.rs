//! What is known of a learner, as a page: skills by family with their state, weak spots in words with their evidence.

use crate::learner::{Beliefs, Standing, State, Tally, WeakSpot};
use crate::problem::{Family, Level, SkillMeta};
use jiff::civil::Date;

/// One skill of the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverviewSkill {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// Where the learner stands.
    pub state: State,
    /// The level to practise at.
    pub level: Level,
    /// Right answers among the last ones.
    pub lately: Tally,
    /// When to return, if it was met.
    pub due: Option<Date>,
}

/// One family of the page.
#[derive(Clone, Debug, PartialEq)]
pub struct OverviewFamily {
    /// The family.
    pub family: Family,
    /// Its skills, in the order of teaching.
    pub skills: Vec<OverviewSkill>,
}

/// What is known of a learner.
#[derive(Clone, Debug, PartialEq)]
pub struct Overview {
    /// Families that have skills, in the order of teaching.
    pub families: Vec<OverviewFamily>,
    /// Weak spots, the likeliest first.
    pub weak: Vec<WeakSpot>,
    /// The first day on which something is due.
    pub return_on: Option<Date>,
}

impl Overview {
    /// The page for a day.
    #[must_use]
    pub fn new(beliefs: &Beliefs, day: Date) -> Overview {
        let families = Family::ALL
            .into_iter()
            .map(|family| OverviewFamily {
                family,
                skills: beliefs
                    .iter()
                    .filter(|(meta, _)| meta.family == family)
                    .map(|(skill, belief)| OverviewSkill {
                        skill,
                        state: belief.state(day),
                        level: belief.level(),
                        lately: belief.right_lately(),
                        due: belief.due(),
                    })
                    .collect(),
            })
            .filter(|family| !family.skills.is_empty())
            .collect();
        Overview { families, weak: beliefs.weak_spots(), return_on: beliefs.return_on() }
    }
}

/// A weak spot in words with its evidence: `True and magnetic: you applied the correction the wrong way round (4 of the
/// last 9)`.
#[must_use]
pub fn weak_spot_words(weak: &WeakSpot) -> String {
    let sure = match weak.standing {
        Standing::Named => "",
        Standing::Suspected => "perhaps ",
    };
    format!("{}: {sure}you {} ({})", weak.skill.title, weak.mixup.said, weak.evidence)
}
