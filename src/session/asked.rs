//! A problem as it is put to the learner, with the help that goes with it.

use super::next::draw_seed;
use crate::learner::Fading;
use crate::problem::{Code, Draw, Figure, Problem, Question, Step, TableProblem, realise};
use crate::store::Help;

/// How many seeds are tried for an example that is not the problem itself.
const EXAMPLE_TRIES: u32 = 16;

/// Help that comes with a problem without being asked for; less and less as the skill grows.
#[derive(Clone, Debug)]
pub enum Support {
    /// A full worked example of another problem, before the question.
    Example(Box<Problem>),
    /// The problem's own steps with the last sums left blank.
    Blanks(Vec<Step>),
    /// What to do instead of the last mistake in this skill.
    Reminder(&'static str),
    /// None.
    Bare,
}

/// A problem as it is put to the learner.
#[derive(Clone)]
pub struct Asked {
    /// Its number in this session, from 1.
    pub number: u32,
    /// The problem.
    pub problem: Problem,
    /// Why this one: no capital, no full stop.
    pub reason: String,
    /// The figure beside the question.
    pub figure: Figure,
    /// What lies on the map table, when the question is work at it.
    pub table: Option<Box<TableProblem>>,
    /// Unasked help.
    pub support: Support,
    /// The hint, once it was asked for.
    pub hint: Option<String>,
}

impl Asked {
    /// The problem with what is shown of it.
    pub(super) fn new(number: u32, problem: Problem, reason: String, support: Support) -> Asked {
        let (figure, table) = (problem.figure(), problem.table().map(Box::new));
        Asked { number, problem, reason, figure, table, support, hint: None }
    }

    /// `Why this one? Not met yet.`
    #[must_use]
    pub fn why(&self) -> String {
        format!("Why this one? {}", super::sentence(&self.reason))
    }

    /// The most help that is on the screen with it.
    pub(super) const fn help(&self) -> Help {
        match &self.support {
            _ if self.hint.is_some() => Help::Hint,
            Support::Blanks(_) => Help::Blanks,
            Support::Example(_) | Support::Reminder(_) => Help::Example,
            Support::Bare => Help::Bare,
        }
    }
}

impl std::fmt::Debug for Asked {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Asked").field("code", &self.problem.code().to_string()).field("reason", &self.reason).finish()
    }
}

/// The help that goes with a problem.
pub(super) fn support(
    problem: &Problem,
    fading: Fading,
    example_shown: bool,
    reminder: Option<&'static str>,
    draw: &mut Draw,
) -> Support {
    match fading {
        Fading::Example if !example_shown => {
            // Another problem than the one asked, which small level 1 skills do draw again.
            let another = (0..EXAMPLE_TRIES).find_map(|_| {
                let code = Code { seed: draw_seed(draw), ..*problem.code() };
                realise(&code).ok().filter(|example| example.facts() != problem.facts())
            });
            another.map_or(Support::Bare, |example| Support::Example(Box::new(example)))
        }
        // At the map table each step is a turn of the hand: with its size told, nothing would be left to do.
        Fading::Example | Fading::Blanks if matches!(problem.question(), Question::Table(_)) => Support::Bare,
        Fading::Example | Fading::Blanks => Support::Blanks(with_blanks(problem.steps())),
        Fading::HintAfterError => reminder.map_or(Support::Bare, Support::Reminder),
        Fading::Bare => Support::Bare,
    }
}

/// The steps with the sums of the last two left out.
fn with_blanks(steps: &[Step]) -> Vec<Step> {
    let summed: Vec<usize> =
        steps.iter().enumerate().filter(|(_, step)| !step.sum.is_empty()).map(|(at, _)| at).collect();
    let blank = &summed[summed.len().saturating_sub(2)..];
    steps
        .iter()
        .enumerate()
        .map(|(at, step)| if blank.contains(&at) { Step { sum: "…".to_owned(), ..step.clone() } } else { step.clone() })
        .collect()
}
