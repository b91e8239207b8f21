//! A round for the group: one problem for all, answered on paper or on a real compass; then the leader enters who had what.

use super::answering::{Answering, Pending, Sitting, Stored, json};
use super::next::{Chosen, RoundWish, by_belief, draw_problem, is_written_skill};
use super::plan::Plan;
use crate::learner::{Beliefs, Order, Recent};
use crate::problem::{Draw, Facts, Level, Mixup, Problem, SkillMeta, Verdict};
use crate::skills;
use crate::store::{AttemptKind, Help};
use jiff::Timestamp;

/// A member of the group.
#[derive(Clone, Debug)]
pub struct RoundMember {
    /// Who, in which stored session.
    pub sitting: Sitting,
    /// What is believed of them.
    pub beliefs: Beliefs,
    /// What they were asked last.
    pub recent: Recent,
}

/// The problem of a round.
#[derive(Clone, Debug)]
pub struct RoundProblem {
    /// The problem.
    pub problem: Problem,
    /// When it was put.
    pub asked_at: Timestamp,
}

/// What a member answered, as the leader enters it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MemberAnswer {
    /// The right answer.
    Right,
    /// The answer of this mix-up: its place among those of the problem.
    Mixup(usize),
    /// Something else that is wrong.
    Other,
    /// Nothing: was not there, or gave no answer. Nothing is recorded.
    Absent,
}

impl MemberAnswer {
    /// What a digit stands for as the key lists it: 1 right, 2 and more the mix-ups, 0 something else; none where nothing has this
    /// digit.
    #[must_use]
    pub fn of_digit(digit: usize, mixups: usize) -> Option<MemberAnswer> {
        match digit {
            0 => Some(MemberAnswer::Other),
            1 => Some(MemberAnswer::Right),
            digit => Some(digit - 2).filter(|at| *at < mixups).map(MemberAnswer::Mixup),
        }
    }
}

/// Said with every problem of a round.
pub const PAPER_CARE: &str = "Each on paper, or on a real compass two metres away from this laptop.";

/// A round under way.
#[derive(Debug)]
pub struct Round {
    /// The members.
    pub members: Vec<RoundMember>,
    /// The problem for all.
    pub asked: Option<RoundProblem>,
    /// How many problems were put, this one included.
    pub number: usize,
    plan: Plan,
    began: Timestamp,
    draw: Draw,
    used: Vec<Facts>,
}

impl Round {
    /// Begins; no problem is put yet.
    #[must_use]
    pub fn new(plan: Plan, members: Vec<RoundMember>, began: Timestamp, seed: u64) -> Round {
        let draw = Draw::new("round", 0, 0, seed);
        Round { members, asked: None, number: 0, plan, began, draw, used: Vec::new() }
    }

    /// What it is made of, and when it ends.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Whether the plan's count or minutes are used up.
    #[must_use]
    pub fn is_over(&self, now: Timestamp) -> bool {
        self.plan.count.is_some_and(|count| self.number >= count as usize) || self.plan.time_is_up(self.began, now)
    }

    /// Puts a problem for all: chosen for one member after the other, a question that is answered with a number or a word
    /// and needs no drawing, whose text `fits` a large screen; when none fits, one whose text does not. None when the
    /// round is over.
    pub fn next(&mut self, now: Timestamp, fits: impl Fn(&str) -> bool) -> Option<&RoundProblem> {
        self.asked = None;
        if self.is_over(now) {
            return None;
        }
        // A skill whose problems at this level all need a drawing gives way to the next best.
        let mut unfit: Vec<&'static str> = Vec::new();
        let problem = loop {
            let Some(chosen) = self.choose(&unfit, now) else { break self.at_another_level(&unfit, &fits)? };
            let wish = RoundWish { expose: chosen.expose, used: &self.used, fits: &fits };
            match draw_problem(chosen.skill, chosen.level, &wish, &mut self.draw) {
                Some(problem) => break problem,
                None => unfit.push(chosen.skill.meta().id),
            }
        };
        self.used.push(problem.facts().clone());
        self.number += 1;
        // Whoever had nothing has seen the problem all the same: the next one should be of another skill.
        for member in &mut self.members {
            member.recent.answered(problem.skill().id, problem.code().level, true);
        }
        self.asked = Some(RoundProblem { problem, asked_at: now });
        self.asked.as_ref()
    }

    /// A problem of the first of these skills that has one at another level than the members' own.
    fn at_another_level(&mut self, unfit: &[&str], fits: &impl Fn(&str) -> bool) -> Option<Problem> {
        let wish = RoundWish { expose: None, used: &self.used, fits };
        let levels = || [Level::TWO, Level::THREE, Level::FOUR].into_iter();
        let asked = unfit.iter().filter_map(|id| skills::find(id));
        let mut all = asked.flat_map(|skill| levels().map(move |level| (skill, level)));
        all.find_map(|(skill, level)| draw_problem(skill, level, &wish, &mut self.draw))
    }

    /// What suits the member whose turn it is, but for the skills that are unfit.
    fn choose(&self, unfit: &[&str], now: Timestamp) -> Option<Chosen> {
        let RoundMember { sitting, beliefs, recent } = self.members.get(self.number % self.members.len().max(1))?;
        let may = |skill: &SkillMeta| is_written_skill(skill) && !unfit.contains(&skill.id);
        by_belief(&self.plan, Order::Gain, beliefs, sitting.days.of(now), recent, may)
    }

    /// What the members answered, judged and not yet written down, in their order; none for whoever had nothing.
    #[must_use]
    pub fn answers(&self, entered: &[MemberAnswer], now: Timestamp) -> Vec<Pending> {
        let Some(asked) = &self.asked else { return Vec::new() };
        let pairs = self.members.iter().zip(entered);
        pairs.filter_map(|(member, answer)| asked.answer(&member.sitting, *answer, now)).collect()
    }

    /// Takes in a member's answer that is now safely stored.
    pub fn confirm(&mut self, pending: &Pending, stored: Stored) {
        let learner = pending.attempt.learner;
        if let Some(member) = self.members.iter_mut().find(|member| member.sitting.learner == learner) {
            stored.recorded.beliefs.bring(&mut member.beliefs);
        }
    }
}

impl RoundProblem {
    /// The mix-ups that can be entered, in their order.
    #[must_use]
    pub fn mixups(&self) -> &[Mixup] {
        self.problem.mixups()
    }

    /// What a member answered, judged; none when nothing is to be recorded.
    fn answer(&self, sitting: &Sitting, answer: MemberAnswer, now: Timestamp) -> Option<Pending> {
        let problem = &self.problem;
        let (verdict, given) = match answer {
            MemberAnswer::Absent => return None,
            MemberAnswer::Right => (Verdict::Right, Some(problem.answer())),
            MemberAnswer::Mixup(at) => {
                let mixup = self.mixups().get(at)?;
                (Verdict::Mixup(mixup.meta), Some(&mixup.answer))
            }
            MemberAnswer::Other => (Verdict::Unrecognised(None), None),
        };
        let given = given.map_or_else(|| "{}".to_owned(), |answer| json(&problem.question().answer_json(answer)));
        let (asked_at, kind, help) = (self.asked_at, AttemptKind::Round, Help::Bare);
        let answering = Answering { problem, table: None, asked_at, sitting, kind, help };
        Some(answering.entered(verdict, given, now))
    }
}
