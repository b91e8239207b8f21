//! The worked steps as they fade: with each decision and the answer left out, and with all that follows from what is left out.

use crate::problem::{FieldKind, Problem, Step, Tells, Value};

/// What stands before the answer, where the words of the step would tell it.
const SO: &str = "So the answer is";

/// Numbers that any text on bearings and lengths may have without telling anything of its problem.
const OF_ALL: [f64; 8] = [0.0, 1.0, 60.0, 90.0, 100.0, 180.0, 360.0, 1000.0];

/// The worked steps with each decision and the answer left out. After the first gap no number stands that the question does not
/// give: it would follow from what is to be decided.
pub(super) fn with_blanks(problem: &Problem) -> Vec<Step> {
    let told = numbers(problem.prompt());
    let (mut secret, mut words) = (Vec::new(), Vec::new());
    let fields = problem.question().fields();
    for (field, value) in fields.iter().zip(problem.answer().values()) {
        match (&field.kind, value) {
            (FieldKind::EastWest, Value::Angle(angle)) => {
                secret.push(angle.abs().degrees());
                words.push(if angle.degrees() < 0.0 { "west" } else { "east" }.to_owned());
            }
            (FieldKind::Choice(choices), Value::Choice(at)) => {
                words.push(match choices.get(*at).unwrap_or_default() {
                    "E" => "east".to_owned(),
                    "W" => "west".to_owned(),
                    word => word.to_lowercase(),
                });
            }
            (_, Value::Angle(angle)) => secret.push(angle.abs().degrees()),
            (_, Value::Number(number)) => secret.push(*number),
            (_, Value::Choice(_) | Value::Grid(_) | Value::Point(_) | Value::Blank) => {}
        }
    }
    secret.retain(|number| !told.contains(number));
    blanked(problem.steps(), &Secrets { told, numbers: secret, words })
}

/// What the steps may not tell, and which numbers are known from the question.
#[derive(Debug, Default)]
struct Secrets {
    told: Vec<f64>,
    numbers: Vec<f64>,
    words: Vec<String>,
}

impl Secrets {
    /// Whether a text has a number of the answer.
    fn has_number(&self, text: &str) -> bool {
        numbers(text).iter().any(|number| self.numbers.contains(number))
    }

    /// Whether a text has a word of the answer.
    fn has_word(&self, text: &str) -> bool {
        let spaced = |text: &str| {
            let letters = text.to_lowercase().replace(|letter: char| !letter.is_alphanumeric() && letter != '-', " ");
            format!(" {} ", letters.split_whitespace().collect::<Vec<&str>>().join(" "))
        };
        let text = spaced(text);
        self.words.iter().any(|word| text.contains(&spaced(word)))
    }

    /// Whether a text has a number that the question does not give.
    fn has_new_number(&self, text: &str) -> bool {
        numbers(text).iter().any(|number| !self.told.contains(number) && !OF_ALL.contains(number))
    }
}

/// The steps without those that tell a decision or the answer, and the last one, which ends in it. Where a skill does not say
/// which steps those are, the sum before the last is taken for one, too. Nor is a sum left in which the answer's number stands by
/// chance.
fn blanked(steps: &[Step], secrets: &Secrets) -> Vec<Step> {
    let tells = |step: &Step| matches!(step.tells, Tells::Decision { .. } | Tells::Answer);
    let said = steps.iter().any(tells);
    let mut summed = (0..steps.len()).rev().filter(|at| !steps[*at].sum.is_empty());
    let (last, before) = (summed.next(), summed.next().filter(|_| !said));
    let mut left: Vec<Step> = Vec::with_capacity(steps.len());
    let mut gap = false;
    for (at, step) in steps.iter().enumerate() {
        if tells(step) || [last, before].contains(&Some(at)) || secrets.has_number(&step.sum) {
            gap = true;
            let mut blank = step.blank();
            let asks = matches!(step.tells, Tells::Decision { .. });
            // What is asked in place of a step tells nothing; the words of the answer's own step may.
            if !asks && (secrets.has_word(&blank.words) || secrets.has_number(&blank.words)) {
                blank.words = SO.into();
            }
            // The same for each of several things is asked once.
            if !left.last().is_some_and(|before| before.words == blank.words && asks) {
                left.push(blank);
            }
        } else if !gap {
            left.push(step.clone());
        } else if !secrets.has_word(&step.words) && !secrets.has_new_number(&step.words) {
            let follows = !step.sum.is_empty() && secrets.has_new_number(&step.sum) || secrets.has_word(&step.sum);
            left.push(if follows { step.blank() } else { step.clone() });
        }
    }
    left
}

/// The numbers of a text.
fn numbers(text: &str) -> Vec<f64> {
    let parts = text.split(|c: char| !c.is_ascii_digit() && c != '.');
    parts.filter_map(|part| part.trim_matches('.').parse().ok()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Code, Level, Question, realise};
    use crate::skills::{self, SKILLS};

    /// Some problems of each skill and level, but for those that are worked at the table, which do not fade.
    fn faded() -> impl Iterator<Item = (Problem, Vec<Step>)> {
        let codes = SKILLS.iter().flat_map(|skill| Level::ALL.map(|level| (*skill, level)));
        let seeded = codes.flat_map(|(skill, level)| (0..200).map(move |seed| Code { skill, level, seed, home: None }));
        seeded
            .map(|code| realise(&code).expect("a problem"))
            .filter(|problem| !matches!(problem.question(), Question::Table(_)))
            .map(|problem| {
                let steps = with_blanks(&problem);
                (problem, steps)
            })
    }

    #[test]
    fn faded_steps_never_show_a_number_of_the_answer() {
        let mut told = Vec::new();
        for (problem, steps) in faded() {
            let known = numbers(problem.prompt());
            for value in problem.answer().values() {
                let number = match value {
                    Value::Angle(angle) => angle.degrees().abs(),
                    Value::Number(number) => *number,
                    _ => continue,
                };
                let tells = |step: &&Step| numbers(&step.sum).contains(&number) && !known.contains(&number);
                if let Some(step) = steps.iter().find(tells) {
                    told.push(format!("{}: {number} in {}", problem.code(), step.line()));
                }
            }
        }
        assert!(told.is_empty(), "{} in all: {:#?}", told.len(), &told[..told.len().min(40)]);
    }

    #[test]
    fn after_a_gap_no_step_tells_the_word_that_is_asked_or_a_number_that_follows_from_the_gap() {
        let mut told = Vec::new();
        for (problem, steps) in faded() {
            let known = numbers(problem.prompt());
            let words: Vec<String> = problem
                .question()
                .fields()
                .iter()
                .zip(problem.answer().values())
                .filter_map(|(field, value)| match (&field.kind, value) {
                    (FieldKind::Choice(choices), Value::Choice(at)) => choices.get(*at).map(|word| format!(" {word} ")),
                    _ => None,
                })
                .collect();
            let from = steps.iter().position(|step| step.sum == "…").unwrap_or(steps.len());
            for step in &steps[from..] {
                let text = format!(" {} ", step.sum);
                let own = |number: &f64| !known.contains(number) && !OF_ALL.contains(number);
                if words.iter().any(|word| text.contains(word.as_str())) || numbers(&step.sum).iter().any(own) {
                    told.push(format!("{}: {}", problem.code(), step.line()));
                }
            }
        }
        assert!(told.is_empty(), "{} in all: {:#?}", told.len(), &told[..told.len().min(40)]);
    }

    /// Each was told on the screen: a saddle by what it is, the side by where one comes out, the true bearings by their sums.
    #[test]
    fn what_was_given_away_is_left_to_the_learner() {
        let lines = |code: &str| {
            let problem = realise(&skills::read_code(code).expect("a code")).expect("a problem");
            with_blanks(&problem).iter().map(Step::line).collect::<Vec<_>>().join("\n")
        };
        let saddle = lines("C8-1-4-v4");
        assert!(!saddle.contains("saddle") && saddle.contains("So the answer is: …"), "{saddle}");
        let side = lines("G1-1-597851-v2");
        assert!(!side.contains("to your right") && side.contains('…'), "{side}");
        let third = lines("E7-3-188268-v3");
        assert!(!third.contains("119, 122, 123"), "{third}");
    }

    #[test]
    fn a_back_bearing_is_faded_down_to_what_is_to_be_decided() {
        // Showed "180 or more: take off 180: 282 − 180 = 102" and left the check blank.
        let code =
            |seed| Code { skill: skills::find("back-bearing").expect("a skill"), level: Level::TWO, seed, home: None };
        let lines: Vec<String> = with_blanks(&realise(&code(1)).expect("a problem")).iter().map(Step::line).collect();
        assert_eq!(
            lines,
            [
                "Half a circle further: add it or take it off? …",
                "Check: the bearing points south-west, so the way back must point north-east; and the two differ by exactly half a circle: …",
                "Write the letter of the north behind it: …"
            ]
        );
    }

    #[test]
    fn where_no_step_says_what_it_tells_the_last_two_sums_are_left_out() {
        let sum = |line: &str| Step::new("A sum", line.to_owned());
        let faded =
            blanked(&[sum("1 + 1 = 2"), sum("2 + 2 = 4"), Step::words("Words"), sum("4 + 4 = 8")], &Secrets::default());
        assert_eq!(faded.iter().map(|step| step.sum.as_str()).collect::<Vec<_>>(), ["1 + 1 = 2", "…", "", "…"]);
    }
}
