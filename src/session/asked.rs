//! A problem as it is put to the learner, with the help that goes with it.

use super::fading::with_blanks;
use super::next::draw_seed;
use super::words::{AFTER_TAKING_BACK, taken_back_words};
use crate::learner::Fading;
use crate::problem::{Code, Draw, FactName, Figure, Problem, Question, Step, TableProblem, realise};
use crate::store::Help;
use crate::words::Word;

/// How many seeds are tried for an example that fits the problem.
const EXAMPLE_TRIES: u32 = 64;

/// Help that comes with a problem without being asked for; less and less as the skill grows.
#[derive(Clone, Debug)]
pub enum Support {
    /// A full worked example of another problem, before the question.
    Example(Box<Problem>),
    /// The problem's own steps without the decision and the answer.
    Blanks(Vec<Step>),
    /// What to do instead of the last mistake in this skill.
    Reminder(&'static str),
    /// The bare question.
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
    /// How it went last time and what comes today, or what was found of the learner: a sentence or two, seldom.
    pub opening: Option<String>,
    /// The figure beside the question.
    pub figure: Figure,
    /// What lies on the map table, when the question is work at it.
    pub table: Option<Box<TableProblem>>,
    /// Unasked help.
    pub support: Support,
    /// Words of the trade that this learner meets here for the first time, at most three; none in a check.
    pub words: Vec<&'static Word>,
    /// The hint, once it was asked for.
    pub hint: Option<String>,
    /// Whether it is asked again after an answer that was taken back: the right one was told then.
    pub(super) answer_seen: bool,
}

impl Asked {
    /// The problem with what is shown of it.
    pub(super) fn new(number: u32, problem: Problem, reason: String, support: Support) -> Asked {
        let (figure, table) = (problem.figure(), problem.table().map(Box::new));
        let (opening, words, hint, answer_seen) = (None, Vec::new(), None, false);
        Asked { number, problem, reason, opening, figure, table, support, words, hint, answer_seen }
    }

    /// The same, with words that are told.
    pub(super) fn telling(self, words: Vec<&'static Word>) -> Asked {
        Asked { words, ..self }
    }

    /// The same problem again, after so many answers of the sitting were taken back.
    pub(super) fn again(self, taken_back: u32) -> Asked {
        let opening = [taken_back_words(taken_back).as_str(), AFTER_TAKING_BACK].join(" ");
        Asked { opening: Some(opening), answer_seen: true, ..self }
    }

    /// `Why this one? Not met yet.`
    #[must_use]
    pub fn why(&self) -> String {
        format!("Why this one? {}", super::sentence(&self.reason))
    }

    /// The most help that is on the screen with it.
    pub(super) const fn help(&self) -> Help {
        match &self.support {
            _ if self.answer_seen => Help::Answer,
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
            example(problem, draw_seed(draw)).map_or(Support::Bare, |example| Support::Example(Box::new(example)))
        }
        // At the map table each step is a turn of the hand: with its size told, nothing would be left to do.
        Fading::Example | Fading::Blanks if matches!(problem.question(), Question::Table(_)) => Support::Bare,
        Fading::Example | Fading::Blanks => Support::Blanks(with_blanks(problem)),
        Fading::HintAfterError => reminder.map_or(Support::Bare, Support::Reminder),
        Fading::Bare => Support::Bare,
    }
}

/// An example that fits a problem: another one of the same kind (a number, a choice, by hand) with another answer, with the needle
/// on the same side and in the same direction where one is found.
fn example(problem: &Problem, seed: u64) -> Option<Problem> {
    let mut draw = Draw::new("example", 0, 0, seed);
    let mut best: Option<(usize, Problem)> = None;
    for tried in 0..EXAMPLE_TRIES {
        let seed = if tried == 0 { seed } else { draw_seed(&mut draw) };
        // Home ground may have no other problem that fits.
        let home = problem.code().home.filter(|_| tried < EXAMPLE_TRIES / 2);
        let Ok(other) = realise(&Code { seed, home, ..*problem.code() }) else { continue };
        let Some(unlike) = unlike(&other, problem) else { continue };
        if best.as_ref().is_none_or(|(least, _)| unlike < *least) {
            best = Some((unlike, other));
        }
        if unlike == 0 {
            break;
        }
    }
    best.map(|(_, example)| example)
}

/// In how much an example is unlike the problem; none where it does not fit at all.
fn unlike(example: &Problem, problem: &Problem) -> Option<usize> {
    let answer = |one: &Problem| one.question().words(one.answer());
    let (kind, other_kind) = (problem.question().kind(), example.question().kind());
    // Small skills at level 1 do draw the same problem again.
    let same_answer = answer(example) == answer(problem);
    let at_table = matches!(problem.question(), Question::Table(_));
    if example.facts() == problem.facts() || same_answer && !at_table {
        return None;
    }
    let (one, other) = (problem.facts(), example.facts());
    let norths = [FactName::WantedNorth, FactName::Line, FactName::North];
    let bearings = [FactName::TrueBearing, FactName::GridBearing, FactName::MagneticBearing, FactName::AnnualChange];
    let unlike = [
        // Where all of a kind have one answer, another kind has to do.
        16 * usize::from(kind != other_kind),
        // Work by hand may end in the same way whatever lies there; what is shown is the work.
        8 * usize::from(same_answer),
        // The side counts most: it decides between adding and taking off.
        2 * usize::from(one.needle_side() != other.needle_side()),
        2 * usize::from(one.wanted() != other.wanted()),
        norths.iter().filter(|name| one.north(name) != other.north(name)).count(),
        bearings.iter().filter(|name| one.angle(name).is_some() != other.angle(name).is_some()).count(),
        usize::from(problem.question().fields().len() != example.question().fields().len()),
    ];
    Some(unlike.iter().sum())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::{Convergence, Declination};
    use crate::drill::Drill;
    use crate::problem::{HomeAngles, Level};
    use crate::skills;
    use crate::skills::SKILLS;

    /// A problem and the example that fits it, for some seeds of every skill and level.
    fn with_examples(mut each: impl FnMut(&Problem, &Problem)) -> (usize, Vec<String>) {
        let (mut found, mut without) = (0, Vec::new());
        for (skill, level) in SKILLS.iter().flat_map(|skill| Level::ALL.map(|level| (skill, level))) {
            for seed in 0..6 {
                let problem = realise(&Code { skill: *skill, level, seed, home: None }).expect("a problem");
                if let Some(example) = example(&problem, seed + 900) {
                    each(&problem, &example);
                    found += 1;
                } else {
                    without.push(problem.code().to_string());
                }
            }
        }
        (found, without)
    }

    #[test]
    fn an_example_is_of_the_kind_of_its_problem_and_never_has_its_answer() {
        let (_, without) = with_examples(|problem, example| {
            let (one, other) = (problem.question(), example.question());
            assert_eq!(one.kind(), other.kind(), "{} before {}", example.code(), problem.code());
            let same = one.words(problem.answer()) == other.words(example.answer());
            assert!(!same || matches!(one, Question::Table(_)), "{} before {}", example.code(), problem.code());
        });
        assert!(without.is_empty(), "{without:?}");
    }

    #[test]
    fn on_home_ground_each_problem_has_an_example_too() {
        let home = Some(HomeAngles::new(Declination::from_degrees(9.0), Convergence::from_degrees(1.0)));
        for skill in SKILLS.iter().filter(|skill| skill.meta().on_home) {
            let mut made = 0;
            for (level, seed) in Level::ALL.into_iter().flat_map(|level| (0..12).map(move |seed| (level, seed))) {
                // Old maps have no history at home.
                let Ok(problem) = realise(&Code { skill: *skill, level, seed, home }) else { continue };
                made += 1;
                assert!(example(&problem, seed + 900).is_some(), "{}", problem.code());
            }
            assert!(made >= 12, "{}: {made}", skill.meta().id);
        }
    }

    #[test]
    fn where_a_drill_keeps_to_one_side_its_examples_do() {
        let drill = Drill::embedded().iter().find(|drill| drill.name == "declination-west").expect("a drill");
        let mut west = 0;
        for (planned, seed) in drill.skills.iter().flat_map(|planned| (0..40).map(move |seed| (planned, seed))) {
            let (skill, level) = (skills::find(planned.skill.id).expect("a skill"), planned.nearest_level(Level::FOUR));
            let problem = realise(&Code { skill, level, seed, home: None }).expect("a problem");
            if drill.declination.allows(problem.facts()) {
                let example = example(&problem, seed + 900).expect("an example");
                assert!(drill.declination.allows(example.facts()), "{} before {}", example.code(), problem.code());
                west += 1;
            }
        }
        assert!(west > 20, "{west}");
    }

    #[test]
    fn an_example_has_the_needle_on_the_side_of_its_problem_and_goes_its_way() {
        let mut other = Vec::new();
        let (found, _) = with_examples(|problem, example| {
            let way = |one: &Problem| {
                let facts = one.facts();
                (facts.needle_side(), facts.wanted().cloned(), facts.north(&FactName::WantedNorth))
            };
            if way(problem) != way(example) {
                other.push(format!("{} before {}", example.code(), problem.code()));
            }
        });
        // Where the side is nearly the answer, the other side has to do.
        assert!(20 * other.len() < found, "{} of {found}: {other:?}", other.len());
    }
}
