//! The words of the trade that stand on the screen with a problem: those told because they are met for the first time, and all
//! that can be looked up beside it.

use super::asked::{Asked, Support};
use crate::learner::Beliefs;
use crate::problem::{Problem, Question};
use crate::words::{self, Word};
use std::fmt::Write;

/// The most words told with one problem: more would be read by nobody.
const MOST: usize = 3;

/// The words to be told with the first problem of a skill: those that it brings, that no skill met before has brought, and that
/// stand in the example or else in the problem. None once the skill was met.
pub(super) fn first_words(problem: &Problem, support: &Support, beliefs: &Beliefs) -> Vec<&'static Word> {
    let met = |id: &str| beliefs.skill(id).is_some_and(|belief| belief.count() > 0);
    let skill = problem.skill();
    if met(skill.id) {
        return Vec::new();
    }
    let text = match support {
        Support::Example(example) => with_steps(example),
        // The steps are read after the answer, and the words with them.
        _ => with_steps(problem),
    };
    let fresh = words::first_in(skill.id).filter(|word| !word.skills().any(met) && word.stands_in(&text));
    fresh.take(MOST).collect()
}

/// A problem with its worked solution.
fn with_steps(problem: &Problem) -> String {
    let mut text = question(problem);
    for step in problem.steps() {
        let _ = write!(text, " {}.", step.line());
    }
    text
}

/// What is seen of a problem before it is answered: its skill's name, the question, what is drawn, and the labels of its fields.
fn question(problem: &Problem) -> String {
    let mut text = format!("{}. {}", problem.skill().title, problem.prompt());
    if let Some(figure) = problem.figure().in_words() {
        let _ = write!(text, " {figure}");
    }
    // The fields of work at the table are for the record: nobody fills them in.
    if !matches!(problem.question(), Question::Table(_)) {
        for field in problem.question().fields() {
            let _ = write!(text, " {}.", field.label);
            for choice in field.choices().into_iter().flat_map(|choices| choices.iter()) {
                let _ = write!(text, " {choice}.");
            }
        }
    }
    text
}

impl Asked {
    /// The words that stand in what is seen before the answer, with those told first in front. The worked solution is left out:
    /// which words it needs would tell the way.
    #[must_use]
    pub fn words_in_view(&self) -> Vec<&'static Word> {
        let mut text = question(&self.problem);
        if let Support::Example(example) = &self.support {
            text.push_str(&question(example));
        }
        let mut all = self.words.clone();
        all.extend(words::standing_in(&text).into_iter().filter(|word| !self.words.contains(word)));
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learner::{Evidence, Outcome, Placement};
    use crate::problem::{Code, Level, realise};
    use crate::skills::{self, SKILLS};
    use jiff::civil::date;

    fn beliefs() -> Beliefs {
        Beliefs::new(&skills::metas().collect::<Vec<_>>(), Placement::Fresh)
    }

    fn problem(skill: &str, level: Level, seed: u64) -> Problem {
        let skill = skills::find(skill).expect("a skill");
        realise(&Code { skill, level, seed, home: None }).expect("a problem")
    }

    fn told(skill: &str, beliefs: &Beliefs) -> Vec<&'static str> {
        let words = first_words(&problem(skill, Level::ONE, 1), &Support::Bare, beliefs);
        words.into_iter().map(|word| word.word).collect()
    }

    fn answered(beliefs: &mut Beliefs, skill: &'static str) {
        let evidence = Evidence {
            skill,
            day: date(2026, 11, 25),
            level: Level::ONE,
            outcome: Outcome::Other,
            exposed: &[],
            hinted: false,
            explained: true,
            at: jiff::Timestamp::UNIX_EPOCH,
        };
        beliefs.observe(&evidence).expect("a skill");
    }

    #[test]
    fn the_words_of_a_skill_are_told_until_it_was_answered_once_and_never_again() {
        let mut beliefs = beliefs();
        assert_eq!(told("read-dial", &beliefs), ["index line", "tick", "needle"]);
        answered(&mut beliefs, "read-dial");
        assert!(told("read-dial", &beliefs).is_empty());
    }

    #[test]
    fn what_another_skill_has_brought_is_not_told_again() {
        let mut beliefs = beliefs();
        assert_eq!(told("set-dial", &beliefs), ["dial", "index line", "tick"]);
        answered(&mut beliefs, "read-dial");
        assert_eq!(told("set-dial", &beliefs), ["dial"]);
    }

    #[test]
    fn only_words_that_stand_in_the_example_are_told_where_there_is_one() {
        let asks = |level, wanted: &str| {
            let mut all = (0..200).map(|seed| problem("diagram", level, seed));
            all.find(|problem| problem.prompt().contains(wanted)).expect("a problem that asks for it")
        };
        let declination = asks(Level::ONE, "What is the declination");
        let three_prongs = Support::Example(Box::new(asks(Level::THREE, "What is the G-M angle")));
        let names = |support: &Support| {
            first_words(&declination, support, &beliefs()).into_iter().map(|word| word.word).collect::<Vec<_>>()
        };
        assert_eq!(names(&Support::Bare), ["declination", "MN", "TN"]);
        assert_eq!(names(&three_prongs), ["declination", "G-M angle", "MN"]);
    }

    #[test]
    fn every_word_that_a_skill_brings_stands_in_some_problem_of_it() {
        for skill in SKILLS {
            let texts: Vec<String> = Level::ALL
                .iter()
                .flat_map(|level| (0..12).map(|seed| with_steps(&problem(skill.meta().id, *level, seed))))
                .collect();
            for word in words::first_in(skill.meta().id) {
                assert!(texts.iter().any(|text| word.stands_in(text)), "{}: {}", skill.meta().id, word.word);
            }
        }
    }

    #[test]
    fn a_newcomer_is_told_something_with_the_first_problem_of_each_skill() {
        for skill in SKILLS {
            for seed in 0..12 {
                let words = first_words(&problem(skill.meta().id, Level::ONE, seed), &Support::Bare, &beliefs());
                assert!((1..=MOST).contains(&words.len()), "{} {seed}: {words:?}", skill.meta().id);
            }
        }
    }

    #[test]
    fn what_can_be_looked_up_beside_a_question_does_not_tell_the_way() {
        let asked = Asked::new(1, problem("turns", Level::THREE, 11), String::new(), Support::Bare);
        let here: Vec<&str> = asked.words_in_view().iter().map(|word| word.word).collect();
        assert_eq!(here, ["letter of the north", "M", "bearing", "clockwise"]);
        let words = vec![words::look_up("clockwise").unwrap()];
        let here: Vec<&str> = asked.telling(words).words_in_view().iter().map(|word| word.word).collect();
        assert_eq!(
            here,
            ["clockwise", "letter of the north", "M", "bearing"],
            "what is told stands in front, and once"
        );
    }
}
