//! Problems for sheets of paper: each learner gets others, as hard as everybody's.
//!
//! Where skills, a drill or a standard are named, all sheets have the same skills at the same levels, in the same order. Where
//! nothing is named, each sheet is what that learner would be asked in practice, as if everything so far had been right.

use super::next::{Chosen, PaperWish, PracticeWish, Sides, by_belief, draw_problem, order};
use super::plan::Plan;
use crate::learner::{Beliefs, Recent};
use crate::problem::{Draw, Facts, Level, MixupMeta, Problem, Skill, SkillMeta};
use crate::skills;
use jiff::civil::Date;

/// Problems on a sheet where nothing else is said: two pages, and some forty minutes.
pub const SHEET_PROBLEMS: u16 = 8;

/// So many skills at most may be missing below one of the leader's standard that goes on a sheet.
const MISSING: usize = 2;

/// The problems without so many: each time the last of the skill that has most, so that no skill goes from the sheet before it must.
fn without(problems: &[Problem], many: usize) -> Vec<Problem> {
    let mut kept = problems.to_vec();
    for _ in 0..many {
        let count = |problem: &Problem| kept.iter().filter(|other| other.skill().id == problem.skill().id).count();
        let most = kept.iter().map(count).max().unwrap_or(0);
        if let Some(last) = kept.iter().rposition(|problem| count(problem) == most) {
            kept.remove(last);
        }
    }
    kept
}

/// What has to be met before a skill and is not known, in the order of meeting it, and at the end the skill itself.
fn lead_to(skill: &'static SkillMeta, is_known: &impl Fn(&str) -> bool, steps: &mut Vec<&'static SkillMeta>) {
    for before in skill.prerequisites.iter().filter(|id| !is_known(id)).filter_map(|id| skills::find(id)) {
        lead_to(before.meta(), is_known, steps);
    }
    if !steps.iter().any(|step| step.id == skill.id) {
        steps.push(skill);
    }
}

/// A skill whose problems cannot be answered on paper at a level.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The level.
    pub level: Level,
}

/// Chooses the problems of all sheets of one print, one sheet after the other.
#[derive(Debug)]
pub struct Sheets {
    plan: Plan,
    count: usize,
    seed: u64,
    /// How many sheets were chosen.
    made: u16,
    used: Vec<Facts>,
    left_out: Vec<LeftOut>,
    /// The skills that the leader's standard asks.
    toward: Vec<&'static SkillMeta>,
}

impl Sheets {
    /// Sheets of so many problems each. The same plan, records and seed give the same sheets.
    #[must_use]
    pub const fn new(plan: Plan, count: usize, seed: u64) -> Sheets {
        Sheets { plan, count, seed, made: 0, used: Vec::new(), left_out: Vec::new(), toward: Vec::new() }
    }

    /// With something of what the leader's standard asks on each sheet that is chosen for its learner, where its first step is near.
    #[must_use]
    pub fn toward(self, skills: impl Iterator<Item = &'static SkillMeta>) -> Sheets {
        Sheets { toward: skills.collect(), ..self }
    }

    /// The skills that could not be put on paper.
    #[must_use]
    pub fn left_out(&self) -> &[LeftOut] {
        &self.left_out
    }

    /// The problems of the next sheet; fewer than wanted where nothing more can be put on paper.
    pub fn next(&mut self, beliefs: &Beliefs, day: Date) -> Vec<Problem> {
        // Sheets differ by their place in the print, so that one more learner shifts nobody's.
        let mut draw = Draw::new("sheet", 0, self.made, self.seed);
        self.made = self.made.wrapping_add(1);
        if self.plan.is_free { self.chosen(beliefs, day, &mut draw) } else { self.alike(&mut draw) }
    }

    /// What this learner would be asked, no skill more than its share.
    fn chosen(&mut self, beliefs: &Beliefs, day: Date, draw: &mut Draw) -> Vec<Problem> {
        let (mut problems, mut sides, mut recent) = (Vec::new(), Sides::default(), Recent::default());
        let mut unfit: Vec<&'static str> = Vec::new();
        let mut most = self.count.div_ceil(3).max(2);
        while problems.len() < self.count {
            let asked = |id: &str| problems.iter().filter(|problem: &&Problem| problem.skill().id == id).count();
            let may = |skill: &SkillMeta| !unfit.contains(&skill.id) && asked(skill.id) < most;
            let Some(Chosen { skill, level, expose, .. }) =
                by_belief(&self.plan, order(&self.plan), beliefs, day, &recent, may)
            else {
                // Few skills are open to a newcomer: they are asked more often.
                if most >= self.count {
                    break;
                }
                most = self.count;
                continue;
            };
            let id = skill.meta().id;
            match self.draw(skill, level, expose, sides, draw) {
                Some(problem) => {
                    sides.count(problem.facts());
                    recent.answered(id, level, true);
                    problems.push(problem);
                }
                None => unfit.push(id),
            }
        }
        self.first_step(&mut problems, beliefs, sides, draw);
        problems
    }

    /// Puts a skill of the leader's standard on a sheet that has none, at its first level, in the place of problems of skills that have several.
    ///
    /// A newcomer's way begins with the dial and with turns, so the sheet of somebody new said nothing of the day that the leader
    /// prepares. What has to be met before that skill and was not stands above it on the sheet; where that is more than [`MISSING`]
    /// skills, its first step is not near, and another of the standard's is looked for.
    fn first_step(&mut self, problems: &mut Vec<Problem>, beliefs: &Beliefs, sides: Sides, draw: &mut Draw) {
        if problems.iter().any(|problem| self.toward.iter().any(|skill| skill.id == problem.skill().id)) {
            return;
        }
        for goal in self.toward.clone() {
            for room in 1..=(MISSING + 1).min(problems.len() / 2) {
                let kept = without(problems, room);
                let is_known = |id: &str| {
                    kept.iter().any(|problem| problem.skill().id == id)
                        || beliefs.skill(id).is_some_and(|belief| belief.count() > 0)
                };
                let mut steps = Vec::new();
                lead_to(goal, &is_known, &mut steps);
                if steps.len() > room {
                    continue;
                }
                let drawn: Option<Vec<Problem>> = steps
                    .iter()
                    .map(|skill| self.draw(skills::find(skill.id)?, Level::ONE, None, sides, draw))
                    .collect();
                if let Some(drawn) = drawn {
                    *problems = kept;
                    problems.extend(drawn);
                    return;
                }
                break;
            }
        }
    }

    /// The plan's skills in turn.
    fn alike(&mut self, draw: &mut Draw) -> Vec<Problem> {
        let (mut problems, mut sides) = (Vec::new(), Sides::default());
        let mut skills: Vec<(&'static dyn Skill, Level)> = self
            .plan
            .skills
            .iter()
            .filter_map(|planned| Some((skills::find(planned.skill.id)?, planned.nearest_level(Level::TWO))))
            // What one sheet could not have, no other one is searched for.
            .filter(|(skill, level)| !self.left_out.contains(&LeftOut { skill: skill.meta(), level: *level }))
            .collect();
        while problems.len() < self.count && !skills.is_empty() {
            let wanted = self.count - problems.len();
            for (skill, level) in skills.clone().into_iter().take(wanted) {
                match self.draw(skill, level, None, sides, draw) {
                    Some(problem) => {
                        sides.count(problem.facts());
                        problems.push(problem);
                    }
                    None => {
                        skills.retain(|(other, _)| other.meta().id != skill.meta().id);
                        self.left_out.push(LeftOut { skill: skill.meta(), level });
                    }
                }
            }
        }
        // In the order of teaching, so that those of one skill stand together.
        let place = |problem: &Problem| self.plan.skills.iter().position(|one| one.skill.id == problem.skill().id);
        crate::numbers::arrange_by_key(&mut problems, place);
        problems
    }

    fn draw(
        &mut self,
        skill: &'static dyn Skill,
        level: Level,
        expose: Option<&'static MixupMeta>,
        sides: Sides,
        draw: &mut Draw,
    ) -> Option<Problem> {
        let practice = PracticeWish { plan: &self.plan, expose, used: &self.used, sides };
        let problem = draw_problem(skill, level, &PaperWish { practice }, draw)?;
        self.used.push(problem.facts().clone());
        Some(problem)
    }
}

#[cfg(test)]
mod tests;
