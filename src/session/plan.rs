//! What a practice is made of: which skills, on which ground, how long.

use crate::problem::{HomeAngles, Level, NorthLines, SkillMeta};
use crate::skills;

/// Where problems with a declination are set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum GroundChoice {
    /// On home ground, where the skill allows it.
    Home,
    /// Anywhere in the inhabited range, never on home ground.
    Anywhere,
    /// Both in turn, so that nobody learns one sign by heart.
    #[default]
    Mixed,
}

/// Which declinations are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum SideChoice {
    /// West only.
    West,
    /// East only.
    East,
    /// Both.
    #[default]
    Both,
}

/// Home ground as a practice needs it.
#[derive(Clone, Debug, PartialEq)]
pub struct HomeGround {
    /// What the leader calls it.
    pub name: String,
    /// Its declination today and its convergence; none where the model gives none (date or place outside it).
    pub angles: Option<HomeAngles>,
    /// Whether it is the invented ground that stands in until one is set.
    pub invented: bool,
    /// The north lines the leader's maps have; skills for other lines are left out of free practice.
    pub lines: Vec<NorthLines>,
}

impl HomeGround {
    /// Whether a skill makes sense with this leader's maps.
    #[must_use]
    pub fn suits(&self, skill: &SkillMeta) -> bool {
        skill.lines == NorthLines::Any || self.lines.contains(&skill.lines)
    }
}

/// One skill of a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlannedSkill {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// Lowest and highest level, when the plan sets them; otherwise the learner's own.
    pub levels: Option<(Level, Level)>,
}

/// What a practice is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// What the screen calls it.
    pub title: String,
    /// The skills, in the order of teaching.
    pub skills: Vec<PlannedSkill>,
    /// Ends after so many problems.
    pub count: Option<u32>,
    /// Ends at the first pause after so many minutes.
    pub minutes: Option<u32>,
    /// Where problems are set.
    pub ground: GroundChoice,
    /// Which declinations are wanted.
    pub side: SideChoice,
    /// Home ground.
    pub home: HomeGround,
    /// Whether somebody asked for just these skills (a drill or an option), as against free practice.
    pub asked_for: bool,
}

impl Plan {
    /// Free practice: every skill that suits the leader's maps, the learner's own levels, no end but the learner's.
    #[must_use]
    pub fn free(home: HomeGround) -> Plan {
        let skills = skills::metas()
            .filter(|skill| home.suits(skill))
            .map(|skill| PlannedSkill { skill, levels: None })
            .collect();
        Plan {
            title: "Practice".to_owned(),
            skills,
            count: None,
            minutes: None,
            ground: GroundChoice::Mixed,
            side: SideChoice::Both,
            home,
            asked_for: false,
        }
    }

    /// The same plan with only these skills (all levels set alike), in the order of teaching.
    #[must_use]
    pub fn with_skills(mut self, ids: &[&'static str], level: Option<Level>) -> Plan {
        let levels = level.map(|level| (level, level));
        if ids.is_empty() {
            for planned in &mut self.skills {
                planned.levels = levels.or(planned.levels);
            }
        } else {
            self.skills = skills::metas()
                .filter(|skill| ids.contains(&skill.id))
                .map(|skill| PlannedSkill { skill, levels })
                .collect();
        }
        self.asked_for |= !ids.is_empty() || level.is_some();
        self
    }
}
