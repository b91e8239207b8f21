//! The end of a session.

use crate::learner::{Beliefs, NoPattern, State, WeakSpot};
use crate::problem::SkillMeta;
use crate::store::{AnswerCount, Help};
use jiff::civil::Date;

/// What happened to one skill in a session.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkillLine {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// Problems answered without help that takes their worth as evidence, as the learner's page counts them.
    pub asked: u32,
    /// Right ones among these.
    pub right: u32,
    /// Problems answered with such help.
    pub helped: u32,
    /// Where the learner stands now.
    pub state: State,
    /// Whether more steps towards *sure* are made than at the start of the session.
    pub surer: bool,
}

/// The end of a session.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// The answers; those after a hint, or with the decision or the answer on the screen, count for nothing and stand apart.
    pub answers: AnswerCount,
    /// Answers that were taken back; they are counted nowhere else.
    pub taken_back: u32,
    /// Skill by skill, in the order they came up.
    pub skills: Vec<SkillLine>,
    /// Weak spots, the likeliest first.
    pub weak: Vec<WeakSpot>,
    /// Skills in which nothing comes right, without a pattern.
    pub without_pattern: Vec<NoPattern>,
    /// The day to return, if anything was met.
    pub return_on: Option<Date>,
}

/// Counts kept during a session.
#[derive(Clone, Debug)]
pub(super) struct Tallies {
    pub answers: AnswerCount,
    /// Skills in which an answer was taken back.
    taken_back: Vec<&'static str>,
    steps_before: Vec<(&'static str, u8)>,
    skills: Vec<Counted>,
}

#[derive(Clone, Debug)]
struct Counted {
    skill: &'static SkillMeta,
    asked: u32,
    right: u32,
    helped: u32,
}

impl Tallies {
    pub fn new(beliefs: &Beliefs) -> Tallies {
        let steps_before = beliefs.iter().map(|(meta, belief)| (meta.id, belief.steps())).collect();
        Tallies { answers: AnswerCount::default(), taken_back: Vec::new(), steps_before, skills: Vec::new() }
    }

    /// Counts an answer.
    pub fn count(&mut self, skill: &'static SkillMeta, right: bool, help: Help) {
        self.answers.count(right, help);
        let at = self.skills.iter().position(|line| line.skill.id == skill.id).unwrap_or_else(|| {
            self.skills.push(Counted { skill, asked: 0, right: 0, helped: 0 });
            self.skills.len() - 1
        });
        let line = &mut self.skills[at];
        if help.is_evidence() {
            line.asked += 1;
            line.right += u32::from(right);
        } else {
            line.helped += 1;
        }
    }

    /// Whether an answer in this skill may be taken back: one may in each sitting.
    pub fn may_take_back(&self, skill: &SkillMeta) -> bool {
        !self.taken_back.contains(&skill.id)
    }

    /// Counts an answer as taken back, in the counts from before it was given; says how many there are now.
    pub fn take_back(&mut self, skill: &'static SkillMeta) -> u32 {
        self.taken_back.push(skill.id);
        self.times_taken_back()
    }

    fn times_taken_back(&self) -> u32 {
        u32::try_from(self.taken_back.len()).unwrap_or(u32::MAX)
    }

    pub fn summary(&self, beliefs: &Beliefs, day: Date) -> Summary {
        let before = |id: &str| self.steps_before.iter().find(|(known, _)| *known == id).map_or(0, |(_, steps)| *steps);
        let skills = self
            .skills
            .iter()
            .filter_map(|&Counted { skill, asked, right, helped }| {
                let belief = beliefs.skill(skill.id)?;
                let surer = right * 2 > asked && belief.steps() > before(skill.id);
                Some(SkillLine { skill, asked, right, helped, state: belief.state(day), surer })
            })
            .collect();
        Summary {
            answers: self.answers,
            taken_back: self.times_taken_back(),
            skills,
            weak: beliefs.weak_spots(),
            without_pattern: beliefs.without_pattern(),
            return_on: beliefs.return_on(),
        }
    }
}
