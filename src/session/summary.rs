//! The end of a session.

use crate::learner::{Beliefs, State, WeakSpot};
use crate::problem::SkillMeta;
use jiff::civil::Date;

/// What happened to one skill in a session.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkillLine {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// Problems answered.
    pub asked: u32,
    /// Right ones.
    pub right: u32,
    /// Where the learner stands now.
    pub state: State,
    /// Whether it is known better than at the start of the session.
    pub surer: bool,
}

/// The end of a session.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// Problems answered.
    pub answered: u32,
    /// Right ones.
    pub right: u32,
    /// Answers after a hint.
    pub hinted: u32,
    /// Skill by skill, in the order they came up.
    pub skills: Vec<SkillLine>,
    /// Weak spots, the likeliest first.
    pub weak: Vec<WeakSpot>,
    /// The day to return, if anything was met.
    pub return_on: Option<Date>,
}

/// Counts kept during a session.
#[derive(Clone, Debug)]
pub(super) struct Tallies {
    pub answered: u32,
    right: u32,
    hinted: u32,
    known_before: Vec<(&'static str, f64)>,
    skills: Vec<(&'static SkillMeta, u32, u32)>,
}

impl Tallies {
    pub fn new(beliefs: &Beliefs) -> Tallies {
        let known_before = beliefs.iter().map(|(meta, belief)| (meta.id, belief.known())).collect();
        Tallies { answered: 0, right: 0, hinted: 0, known_before, skills: Vec::new() }
    }

    pub fn count(&mut self, skill: &'static SkillMeta, right: bool, hinted: bool) {
        self.answered += 1;
        self.right += u32::from(right);
        self.hinted += u32::from(hinted);
        if !self.skills.iter().any(|(known, _, _)| known.id == skill.id) {
            self.skills.push((skill, 0, 0));
        }
        if let Some(line) = self.skills.iter_mut().find(|(known, _, _)| known.id == skill.id) {
            line.1 += 1;
            line.2 += u32::from(right);
        }
    }

    pub fn summary(&self, beliefs: &Beliefs, day: Date) -> Summary {
        let before =
            |id: &str| self.known_before.iter().find(|(known, _)| *known == id).map_or(0.0, |(_, known)| *known);
        let skills = self
            .skills
            .iter()
            .filter_map(|(skill, asked, right)| {
                let belief = beliefs.skill(skill.id)?;
                let surer = *right * 2 > *asked && belief.known() > before(skill.id) + 0.05;
                Some(SkillLine { skill, asked: *asked, right: *right, state: belief.state(day), surer })
            })
            .collect();
        Summary {
            answered: self.answered,
            right: self.right,
            hinted: self.hinted,
            skills,
            weak: beliefs.weak_spots(),
            return_on: beliefs.return_on(),
        }
    }
}
