//! Drawing the problems of a check: fresh ones, balanced over quarters, wrapping, east and west.

use crate::angle::{Angle, EastWest};
use crate::problem::{Code, Draw, Level, NOT_WRAPPED, Problem, Question, Skill, Value, realise};

/// Seeds have at most six figures, as in practice.
const SEEDS: u32 = 1_000_000;
/// How many problems are looked at for one that is fresh and balances best.
const CANDIDATES: usize = 16;
/// How many are drawn for that at most.
const DRAWN: usize = 128;
/// A smaller declination than this exposes too little to decide on.
const LEAST_DECLINATION: Angle = Angle::from_degrees(8.0);

/// What a problem is like, as far as a try should not be one-sided in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Traits {
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
            quarter: angle.map(|degrees| (degrees / 90.0) as u8),
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

/// A fresh problem that balances those of the same try. It follows from its arguments alone, so that a check which was left
/// or killed goes on with the very problem that was on the screen. `used` are the facts of all problems of the check
/// in this skill; when nothing else is left, one of them comes again.
pub(super) fn draw_problem(
    skill: &'static dyn Skill,
    level: Level,
    seed: u64,
    used: &[String],
    of_this_try: &[Traits],
) -> Option<Problem> {
    let mut draw = Draw::new("check", level.number(), u16::try_from(used.len()).unwrap_or(u16::MAX), seed);
    let mut best: Option<(usize, Problem)> = None;
    let mut fallback = None;
    let mut looked_at = 0;
    for _ in 0..DRAWN {
        let code = Code { skill, level, seed: u64::from(draw.below(SEEDS)), home: None };
        let Ok(problem) = realise(&code) else { continue };
        let fresh = !used.contains(&problem.facts().json());
        let large = problem.facts().correction().is_none_or(|angle| angle.abs() >= LEAST_DECLINATION);
        if !fresh || !large {
            // A fresh one that shows little is better than one that was asked before.
            if fallback.is_none() || fresh {
                fallback = Some(problem);
            }
            continue;
        }
        looked_at += 1;
        let alike = Traits::of(&problem).alike(of_this_try);
        if best.as_ref().is_none_or(|(fewest, _)| alike < *fewest) {
            best = Some((alike, problem));
        }
        if looked_at == CANDIDATES {
            break;
        }
    }
    best.map(|(_, problem)| problem).or(fallback)
}
