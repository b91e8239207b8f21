//! What practice, a check and a round want of the problem that comes next.

use super::draw::{Fit, Wish};
use crate::angle::{Angle, EastWest};
use crate::drill::{DeclinationSide, DrillGround};
use crate::numbers::whole;
use crate::problem::{
    Code, Draw, Facts, Figure, HomeAngles, Level, MixupMeta, NOT_WRAPPED, Problem, Question, Skill, SkillMeta, Value,
    realise,
};
use crate::session::plan::Plan;
use crate::skills;
use std::sync::LazyLock;

/// How many seeds are tried in practice and in a round.
const TRIES: u32 = 96;
/// The most mix-ups of a problem that a round can enter: the digits 2 to 9.
const MIXUPS_ENTERED: usize = 8;
/// Below this declination home ground exposes little, and enters fewer problems.
const SMALL_DECLINATION: Angle = Angle::from_degrees(3.0);
/// A smaller declination than this exposes too little for a check to decide on.
const LEAST_DECLINATION: Angle = Angle::from_degrees(8.0);

/// Whether a problem exposes the mix-up it is aimed at, if it is; after half of the seeds any other will do.
fn exposes(problem: &Problem, expose: Option<&MixupMeta>, tried: u32) -> bool {
    expose.is_none_or(|wanted| tried > TRIES / 2 || problem.exposes(wanted.id))
}

/// How often the needle pointed east and west of the map's north in the problems of a sitting.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::session) struct Sides {
    east: usize,
    west: usize,
}

impl Sides {
    /// Counts a problem that was asked.
    pub fn count(&mut self, facts: &Facts) {
        match facts.needle_side() {
            Some(EastWest::East) => self.east += 1,
            Some(EastWest::West) => self.west += 1,
            None => {}
        }
    }

    /// Whether one more of this side would be more than six in ten: then somebody who knows one letter by heart would be
    /// right too often. The first few may be alike.
    fn would_tip(self, facts: &Facts) -> bool {
        let (mine, other) = match facts.needle_side() {
            Some(EastWest::East) => (self.east + 1, self.west),
            Some(EastWest::West) => (self.west + 1, self.east),
            None => return false,
        };
        mine > 2 && 10 * mine > 6 * (mine + other)
    }
}

/// Practice and turns want a problem that exposes the mix-up it is aimed at, has a declination of the wanted side, tips
/// neither side and is new in this sitting; else any problem of the skill will do.
pub(in crate::session) struct PracticeWish<'a> {
    pub plan: &'a Plan,
    pub expose: Option<&'static MixupMeta>,
    pub used: &'a [Facts],
    pub sides: Sides,
}

impl PracticeWish<'_> {
    /// Where a drill wants one side, or home ground alone, and where a problem is aimed at a weak spot, one side may prevail.
    fn is_exempt(&self) -> bool {
        self.expose.is_some()
            || self.plan.side != DeclinationSide::Both
            || self.plan.ground == DrillGround::Home && self.plan.home.angles.is_some()
    }
}

impl Wish for PracticeWish<'_> {
    const TRIES: u32 = TRIES;

    /// Home ground's angles for one problem in five, so that its letter is not learnt by heart, and for fewer where its
    /// declination is small.
    fn home(&self, draw: &mut Draw) -> Option<HomeAngles> {
        let angles = self.plan.home.angles?;
        let small = angles.declination().angle().abs() < SMALL_DECLINATION;
        match self.plan.ground {
            DrillGround::Home => Some(angles),
            DrillGround::Anywhere => None,
            DrillGround::Mixed => draw.chance(1, if small { 10 } else { 5 }).then_some(angles),
        }
    }

    fn fit(&self, problem: &Problem, tried: u32) -> Fit {
        let facts = problem.facts();
        let even = self.is_exempt() || !self.sides.would_tip(facts);
        let wanted = exposes(problem, self.expose, tried) && self.plan.side.allows(facts);
        if wanted && even && !self.used.contains(facts) { Fit::Wanted(0) } else { Fit::IfNothingElse(0) }
    }
}

/// A round wants a problem that exposes the mix-up it is aimed at and `fits` a large screen, else one that does not; but
/// always one that is new in this round and can be answered from its text alone.
pub(in crate::session) struct RoundWish<'a, F: Fn(&str) -> bool> {
    pub expose: Option<&'static MixupMeta>,
    pub used: &'a [Facts],
    pub fits: F,
}

impl<F: Fn(&str) -> bool> Wish for RoundWish<'_, F> {
    const TRIES: u32 = TRIES;

    fn fit(&self, problem: &Problem, tried: u32) -> Fit {
        // Each mix-up needs a digit of its own, or the leader could not say who had it.
        let told_apart = problem.mixups().len() <= MIXUPS_ENTERED;
        if !is_written(problem) || !told_apart || self.used.contains(problem.facts()) {
            Fit::Never
        } else if exposes(problem, self.expose, tried) && (self.fits)(problem.prompt()) {
            Fit::Wanted(0)
        } else {
            Fit::IfNothingElse(0)
        }
    }
}

/// Whether a question is answered in writing, and its text says all that is needed: a sketch only helps.
fn is_written(problem: &Problem) -> bool {
    matches!(problem.question(), Question::Typed(_) | Question::Choose(_))
        && match problem.figure() {
            Figure::Dial(_) | Figure::Prongs(_) | Figure::Rose { .. } | Figure::Map(_) => false,
            Figure::Plan(plan) => !plan.says_more,
            Figure::None | Figure::Sketch { .. } | Figure::Turn(_) | Figure::Ends(_) | Figure::Drift(_) => true,
        }
}

/// A printed sheet wants what a practice wants, and a problem that can be answered on paper. One whose like is on a sheet of the same
/// print comes only where a skill has no other, and so does one with more mix-ups than there are digits for.
pub(in crate::session) struct PaperWish<'a> {
    pub practice: PracticeWish<'a>,
}

impl Wish for PaperWish<'_> {
    const TRIES: u32 = TRIES;

    fn home(&self, draw: &mut Draw) -> Option<HomeAngles> {
        self.practice.home(draw)
    }

    fn fit(&self, problem: &Problem, tried: u32) -> Fit {
        let told_apart = problem.mixups().len() <= MIXUPS_ENTERED;
        if !is_for_paper(problem) {
            Fit::Never
        } else if !told_apart {
            Fit::IfNothingElse(2)
        } else if self.practice.used.contains(problem.facts()) {
            Fit::IfNothingElse(1)
        } else {
            self.practice.fit(problem, tried)
        }
    }
}

/// Whether a problem is answered in writing from what can be drawn on paper: no dial to turn, no table, and nothing that is laid and
/// moved on a screen.
fn is_for_paper(problem: &Problem) -> bool {
    matches!(problem.question(), Question::Typed(_) | Question::Choose(_))
        && !matches!(problem.figure(), Figure::Map(map) if map.tool.is_some())
}

/// Whether a skill can be asked in a round: some of its questions are answered in writing, and their text says all.
#[must_use]
pub fn is_written_skill(skill: &SkillMeta) -> bool {
    // Found out once in a program: eight problems are drawn of each skill.
    static WRITTEN: LazyLock<Vec<&'static str>> = LazyLock::new(|| {
        let written = |skill: &&'static dyn Skill| {
            let code = |seed| Code { skill: *skill, level: Level::TWO, seed, home: None };
            (0..8).any(|seed| realise(&code(seed)).is_ok_and(|problem| is_written(&problem)))
        };
        skills::SKILLS.iter().filter(|skill| written(skill)).map(|skill| skill.meta().id).collect()
    });
    WRITTEN.contains(&skill.id)
}

/// A check wants fresh problems that show enough, balanced over quarters, wrapping, east and west; else a fresh one that
/// shows little; and one that was asked before only when nothing else is left.
pub(in crate::session) struct CheckWish<'a> {
    /// The facts of all problems of the check in this skill.
    pub used: &'a [Facts],
    /// What the problems of the same try were like.
    pub this_try: &'a [Traits],
}

impl Wish for CheckWish<'_> {
    const TRIES: u32 = 128;
    const CANDIDATES: u32 = 16;

    fn fit(&self, problem: &Problem, _tried: u32) -> Fit {
        if self.used.contains(problem.facts()) {
            Fit::IfNothingElse(1)
        } else if problem.facts().correction().is_some_and(|angle| angle.abs() < LEAST_DECLINATION) {
            Fit::IfNothingElse(0)
        } else {
            Fit::Wanted(Traits::of(problem).alike(self.this_try))
        }
    }
}

/// What a problem is like, as far as a try should not be one-sided in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::session) struct Traits {
    quarter: Option<u8>,
    side: Option<EastWest>,
    wraps: bool,
    at_table: bool,
}

impl Traits {
    pub fn of(problem: &Problem) -> Traits {
        let angle = problem.answer().values().iter().find_map(|value| match value {
            Value::Angle(angle) => Some(angle.wrapped().degrees()),
            _ => None,
        });
        Traits {
            quarter: angle.map(|degrees| whole(degrees / 90.0)),
            side: problem.facts().correction().and_then(EastWest::of),
            wraps: problem.exposes(NOT_WRAPPED.id),
            at_table: matches!(problem.question(), Question::Table(_)),
        }
    }

    /// How many of these have each of its traits: the fewer, the better it balances them.
    fn alike(self, others: &[Traits]) -> usize {
        others
            .iter()
            .map(|other| {
                usize::from(self.quarter.is_some() && self.quarter == other.quarter)
                    + usize::from(self.side.is_some() && self.side == other.side)
                    + usize::from(self.wraps == other.wraps)
                    + usize::from(self.at_table == other.at_table)
            })
            .sum()
    }
}
