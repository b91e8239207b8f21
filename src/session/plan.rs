//! What a practice is made of: which skills, on which ground, how long.

use super::group::GROUP_MINUTES;
use crate::drill::{DeclinationSide, Drill, DrillGround, DrillSkill, Standard, StandardSkill};
use crate::ground::Place;
use crate::problem::{HomeAngles, Level, NorthLines, SkillMeta};
use crate::skills;
use jiff::Timestamp;

/// Home ground as a practice needs it.
#[derive(Clone, Debug, PartialEq)]
pub struct HomeGround {
    /// What the leader calls it.
    pub name: String,
    /// Its declination today and its convergence; none where the model gives none (date or place outside it).
    pub angles: Option<HomeAngles>,
    /// Where it is.
    pub place: Place,
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

/// What a practice is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// What the screen calls it.
    pub title: String,
    /// The name of the drill it follows, as it is recorded with the session.
    pub drill: Option<String>,
    /// Whether a newcomer's way decides what comes next: nobody has asked for a drill or for skills.
    pub is_free: bool,
    /// The skills, in the order of teaching.
    pub skills: Vec<DrillSkill>,
    /// Ends after so many problems.
    pub count: Option<u32>,
    /// Ends at the first pause after so many minutes.
    pub minutes: Option<u32>,
    /// Where problems are set.
    pub ground: DrillGround,
    /// Which declinations are wanted.
    pub side: DeclinationSide,
    /// Home ground.
    pub home: HomeGround,
}

impl Plan {
    /// Free practice: every skill that suits the leader's maps, the learner's own levels, no end but the learner's.
    #[must_use]
    pub fn free(home: HomeGround) -> Plan {
        let skills = skills::metas()
            .filter(|skill| skills::is_common(skill) && home.suits(skill))
            .map(|skill| DrillSkill { skill, levels: None })
            .collect();
        Plan {
            title: "Practice".to_owned(),
            drill: None,
            is_free: true,
            skills,
            count: None,
            minutes: None,
            ground: DrillGround::Mixed,
            side: DeclinationSide::Both,
            home,
        }
    }

    /// The plan of a drill.
    #[must_use]
    pub fn of_drill(drill: &Drill, home: HomeGround) -> Plan {
        Plan {
            title: drill.title.clone(),
            drill: Some(drill.name.clone()),
            is_free: false,
            skills: drill.skills.clone(),
            count: drill.pace.count.map(u32::from),
            minutes: drill.pace.minutes.map(u32::from),
            ground: drill.ground,
            side: drill.declination,
            home,
        }
    }

    /// A plan of the skills of a standard, each at the standard's level.
    #[must_use]
    pub fn of_standard(standard: &Standard, home: HomeGround) -> Plan {
        let skill = |one: &StandardSkill| DrillSkill { skill: one.skill, levels: Some((one.level, one.level)) };
        let (title, skills) = (standard.title.clone(), standard.skills.iter().map(skill).collect());
        Plan { title, is_free: false, skills, ..Plan::free(home) }
    }

    /// The same plan with only these skills, in the order of teaching, and at this level. A skill the plan has already keeps
    /// its own levels where none is given.
    #[must_use]
    pub fn with_skills(mut self, ids: &[&'static str], level: Option<Level>) -> Plan {
        let levels = level.map(|level| (level, level));
        self.is_free &= ids.is_empty() && level.is_none();
        if !ids.is_empty() {
            let own = |id| self.skills.iter().find(|planned| planned.skill.id == id).and_then(|planned| planned.levels);
            self.skills = skills::metas()
                .filter(|skill| ids.contains(&skill.id))
                .map(|skill| DrillSkill { skill, levels: own(skill.id) })
                .collect();
        }
        for planned in &mut self.skills {
            planned.levels = levels.or(planned.levels);
        }
        self
    }

    /// The same plan with another end, if one is given: then the plan's own end counts no longer.
    #[must_use]
    pub fn with_end(mut self, count: Option<u32>, minutes: Option<u32>) -> Plan {
        if count.is_some() || minutes.is_some() {
            (self.count, self.minutes) = (count, minutes);
        }
        self
    }

    /// When it ends: `12 problems`, `10 minutes`, `as long as you like`.
    #[must_use]
    pub fn end_words(&self) -> String {
        let counted = |count: u32, one: &str, more: &str| format!("{count} {}", if count == 1 { one } else { more });
        let problems = self.count.map(|count| counted(count, "problem", "problems"));
        let minutes = self.minutes.map(|count| counted(count, "minute", "minutes"));
        match (problems, minutes) {
            (Some(problems), Some(minutes)) => format!("{problems}, or {minutes} at most"),
            (Some(one), None) | (None, Some(one)) => one,
            (None, None) => "as long as you like".to_owned(),
        }
    }

    /// The same plan for a group, under this title; it ends after [`GROUP_MINUTES`] where it has no end of its own.
    #[must_use]
    pub fn for_group(self, title: &str) -> Plan {
        let minutes = if self.count.is_none() { self.minutes.or(Some(GROUP_MINUTES)) } else { self.minutes };
        Plan { title: title.to_owned(), minutes, ..self }
    }

    /// Whether the plan's minutes are over for what began then.
    #[must_use]
    pub fn time_is_up(&self, began: Timestamp, now: Timestamp) -> bool {
        let minutes = now.duration_since(began).as_secs() / 60;
        self.minutes.is_some_and(|most| minutes >= i64::from(most))
    }
}
