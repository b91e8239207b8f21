//! A round for the group: one problem for all, answered on paper or on a real compass; then the leader enters who had what.

use super::answering::{Occasion, json, written};
use super::plan::Plan;
use crate::learner::{self, Allowed, Beliefs, Recent, Selection};
use crate::problem::{Code, Draw, Facts, Figure, Level, Mixup, MixupMeta, Problem, Question, Skill, Verdict, realise};
use crate::skills;
use crate::store::{AttemptKind, Believed, LearnerId, NewAttempt, SessionId};
use jiff::Timestamp;
use jiff::civil::Date;

/// Seeds have at most six figures, as in practice.
const SEEDS: u32 = 1_000_000;
/// How many problems are drawn for one that fits.
const DRAWN: u32 = 96;

/// A member of the group.
#[derive(Clone, Debug)]
pub struct RoundMember {
    /// Who.
    pub learner: LearnerId,
    /// Their session in the store.
    pub session: SessionId,
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

/// What a member had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Had {
    /// The right answer.
    Right,
    /// The answer of this mix-up: its place among those of the problem.
    Mixup(usize),
    /// Something else that is wrong.
    Other,
    /// Nothing: was not there, or gave no answer. Nothing is recorded.
    Absent,
}

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
    day: Date,
    began: Timestamp,
    draw: Draw,
    used: Vec<Facts>,
}

impl Round {
    /// Begins; no problem is put yet.
    #[must_use]
    pub fn new(plan: Plan, members: Vec<RoundMember>, day: Date, began: Timestamp, seed: u64) -> Round {
        let draw = Draw::new("round", 0, 0, seed);
        Round { members, asked: None, number: 0, plan, day, began, draw, used: Vec::new() }
    }

    /// Whether the minutes of the plan are over.
    #[must_use]
    pub fn is_over(&self, now: Timestamp) -> bool {
        let minutes = now.duration_since(self.began).as_secs() / 60;
        self.plan.minutes.is_some_and(|most| minutes >= i64::from(most))
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
            let (skill, level, expose) = self.choose(&unfit)?;
            match self.draw(skill, level, expose, &fits) {
                Some(problem) => break problem,
                None => unfit.push(skill.meta().id),
            }
        };
        self.used.push(problem.facts().clone());
        self.number += 1;
        // Whoever had nothing has seen the problem all the same: the next one should be of another skill.
        for member in &mut self.members {
            member.recent.answered(problem.skill().id, true);
        }
        self.asked = Some(RoundProblem { problem, asked_at: now });
        self.asked.as_ref()
    }

    /// The skill that suits the member whose turn it is, but for those that are unfit.
    fn choose(&self, unfit: &[&str]) -> Option<(&'static dyn Skill, Level, Option<&'static MixupMeta>)> {
        let member = self.members.get(self.number % self.members.len().max(1))?;
        let allowed = self.plan.skills.iter().map(|planned| planned.skill.id);
        let selection = Selection {
            skills: allowed
                .filter(|id| is_written(id) && !unfit.contains(id))
                .map(|id| Allowed { skill: id.into(), level: None })
                .collect(),
        };
        let choice = learner::choose(&member.beliefs, &selection, self.day, &member.recent)?;
        Some((skills::find(choice.skill.id)?, choice.level, choice.expose))
    }

    fn draw(
        &mut self,
        skill: &'static dyn Skill,
        level: Level,
        expose: Option<&'static MixupMeta>,
        fits: &impl Fn(&str) -> bool,
    ) -> Option<Problem> {
        let mut fallback = None;
        for tried in 0..DRAWN {
            let seed = u64::from(self.draw.below(SEEDS));
            let Ok(problem) = realise(&Code { skill, level, seed, home: None }) else { continue };
            if !is_plain(&problem) || self.used.contains(problem.facts()) {
                continue;
            }
            let exposes = expose.is_none_or(|wanted| tried > DRAWN / 2 || problem.exposes(wanted.id));
            if exposes && fits(problem.prompt()) {
                return Some(problem);
            }
            fallback = fallback.or(Some(problem));
        }
        fallback
    }

    /// What the members had, as it is recorded, in their order; none for whoever had nothing.
    #[must_use]
    pub fn answers(&self, had: &[Had], now: Timestamp) -> Vec<NewAttempt> {
        let Some(asked) = &self.asked else { return Vec::new() };
        let pairs = self.members.iter().zip(had);
        pairs.filter_map(|(member, had)| asked.answer(member, *had, self.day, now)).collect()
    }

    /// Takes in what is believed of a member whose answer is on the disk.
    pub fn take(&mut self, learner: LearnerId, beliefs: Believed) {
        if let Some(member) = self.members.iter_mut().find(|member| member.learner == learner) {
            beliefs.bring(&mut member.beliefs);
        }
    }
}

/// Whether some question of a skill can be answered in writing without a drawing.
fn is_written(id: &str) -> bool {
    let Some(skill) = skills::find(id) else { return false };
    (0..8).any(|seed| {
        realise(&Code { skill, level: Level::TWO, seed, home: None }).is_ok_and(|problem| is_plain(&problem))
    })
}

/// Whether a question is answered in writing, and its text says all that is needed: a sketch only helps.
fn is_plain(problem: &Problem) -> bool {
    matches!(problem.question(), Question::Typed(_) | Question::Choose(_))
        && matches!(problem.figure(), Figure::None | Figure::Sketch { .. } | Figure::Turn(_))
}

impl RoundProblem {
    /// The mix-ups that can be entered, in their order.
    #[must_use]
    pub fn mixups(&self) -> &[Mixup] {
        self.problem.mixups()
    }

    /// What a member had, as it is recorded; none when nothing is.
    fn answer(&self, member: &RoundMember, had: Had, day: Date, now: Timestamp) -> Option<NewAttempt> {
        let problem = &self.problem;
        let (verdict, given) = match had {
            Had::Absent => return None,
            Had::Right => (Verdict::Right, Some(problem.answer())),
            Had::Mixup(at) => {
                let mixup = self.mixups().get(at)?;
                (Verdict::Mixup(mixup.meta), Some(&mixup.answer))
            }
            Had::Other => (Verdict::Unrecognised(None), None),
        };
        let given = given.map_or_else(|| "{}".to_owned(), |answer| json(&problem.question().answer_json(answer)));
        let RoundMember { learner, session, .. } = *member;
        let occasion = Occasion { learner, session, day, kind: AttemptKind::Round, asked_at: self.asked_at, now };
        Some(written(problem, &occasion, verdict, given))
    }
}
