//! The one loop that draws problems until one suits.

use crate::problem::{Code, Draw, HomeAngles, Level, Problem, Skill, realise};

/// Seeds have at most six figures, so that a code is short enough to type.
const SEEDS: u32 = 1_000_000;

/// How well a drawn problem suits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::session) enum Fit {
    /// Wanted: the less, the better. With 0 the search is over.
    Wanted(usize),
    /// Taken only if nothing comes that is wanted: the less, the better.
    IfNothingElse(usize),
    /// Not taken, whatever else comes.
    Never,
}

/// What a flow wants of the problem that it draws.
pub(in crate::session) trait Wish {
    /// How many seeds are tried.
    const TRIES: u32;
    /// Among how many wanted problems the best is taken.
    const CANDIDATES: u32 = 1;

    /// Home ground's angles, for a problem that is to be set there.
    fn home(&self, _draw: &mut Draw) -> Option<HomeAngles> {
        None
    }

    /// How well a problem suits that came after `tried` others.
    fn fit(&self, problem: &Problem, tried: u32) -> Fit;
}

/// A seed for a problem.
pub(in crate::session) fn draw_seed(draw: &mut Draw) -> u64 {
    u64::from(draw.below(SEEDS))
}

/// Draws the problem that suits a wish best; none when none suits at all. It follows from its arguments alone.
pub(in crate::session) fn draw_problem<W: Wish>(
    skill: &'static dyn Skill,
    level: Level,
    wish: &W,
    draw: &mut Draw,
) -> Option<Problem> {
    let mut wanted: Option<(usize, Problem)> = None;
    let mut otherwise: Option<(usize, Problem)> = None;
    let mut candidates = 0;
    for tried in 0..W::TRIES {
        let seed = draw_seed(draw);
        let home = wish.home(draw).filter(|_| skill.meta().on_home);
        let Some(problem) = made(Code { skill, level, seed, home }) else { continue };
        let (best, cost) = match wish.fit(&problem, tried) {
            Fit::Wanted(cost) => {
                candidates += 1;
                (&mut wanted, cost)
            }
            Fit::IfNothingElse(cost) => (&mut otherwise, cost),
            Fit::Never => continue,
        };
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            *best = Some((cost, problem));
        }
        if candidates == W::CANDIDATES || wanted.as_ref().is_some_and(|(cost, _)| *cost == 0) {
            break;
        }
    }
    wanted.or(otherwise).map(|(_, problem)| problem)
}

/// The problem of a code: where home ground makes none, elsewhere.
fn made(code: Code) -> Option<Problem> {
    let here = realise(&code).ok();
    here.or_else(|| code.home.and_then(|_| realise(&Code { home: None, ..code }).ok()))
}
