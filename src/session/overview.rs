//! What is known of a learner, as a page: skills by family with their state, weak spots in words with their evidence.

use crate::learner::{Beliefs, NoPattern, Standing, State, Tally, WeakSpot};
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
    /// Skills in which nothing comes right, without a pattern.
    pub without_pattern: Vec<NoPattern>,
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
        Overview {
            families,
            weak: beliefs.weak_spots(),
            without_pattern: beliefs.without_pattern(),
            return_on: beliefs.return_on(),
        }
    }
}

/// A weak spot in words with its evidence: `True and magnetic: you applied the correction the wrong way round (4 of the
/// last 9)`; one that shows in several skills with its name and all of them: `Declination the wrong way, in True and magnetic
/// and Grid and magnetic: …`.
#[must_use]
pub fn weak_spot_words(weak: &WeakSpot) -> String {
    let sure = match weak.standing {
        Standing::Named => "",
        Standing::Suspected => "perhaps ",
    };
    format!("{}: {sure}you {} ({})", weak_spot_where(weak), weak.said(), weak.evidence())
}

/// Where a weak spot shows, as the beginning of a line: a skill's title, or an error's name with all its skills.
fn weak_spot_where(weak: &WeakSpot) -> String {
    let titles: Vec<&str> = weak.places.iter().map(|place| place.skill.title).collect();
    match (titles.as_slice(), weak.common()) {
        ([_, _, ..], Some(common)) => format!("{}, in {}", common.title(), and_words(&titles)),
        _ => and_words(&titles),
    }
}

/// A skill in which nothing comes right, and no mix-up says why: `True and magnetic: 0 of 4, no pattern: begin again with the
/// sketch`.
#[must_use]
pub fn no_pattern_words(lost: &NoPattern) -> String {
    format!("{}: 0 of {}, no pattern: {}", lost.skill.title, lost.wrong, begin_again(lost.skill))
}

/// What helps where nothing comes right.
const fn begin_again(skill: &SkillMeta) -> &'static str {
    match skill.family {
        Family::Norths | Family::Orienting => "begin again with the sketch",
        _ => "begin again with the worked example",
    }
}

/// `A, B and C`.
#[must_use]
pub fn and_words(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
