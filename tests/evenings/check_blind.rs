//! Blind rules against a check of `day-outing`: somebody with good hands, who works by one rule and without the skill, is
//! never found ready in all of it, and in no skill more often than the plan says.
//!
//! What is played are the fields. Where the number on the dial decides (orienting, following), the rule gives the number, and
//! the hands do the rest right; where a bearing is measured, it is measured right, and the rule corrects it.

use super::{Camp, moment, off, standard, texts, today};
use jiff::ToSpan;
use needlewise::angle::North;
use needlewise::drill::Standard;
use needlewise::learner::readiness::{Answered, Next, Progress, TryEnd, clopper_pearson};
use needlewise::problem::{Answer, FieldKind, Problem, Question, Value, Verdict, judge};
use needlewise::session::{Check, Sittings, Terms};

type NumberRule = (&'static str, fn(f64, f64) -> f64);
type ChoiceRule = (&'static str, fn(bool, usize) -> usize);

/// A number by rule, from the one that stands first and the one that stands last in the text.
const NUMBERS: [NumberRule; 7] = [
    ("always add", |first, last| first + last),
    ("always subtract", |first, last| first - last),
    ("copy the first number", |first, _| first),
    ("copy the last number", |_, last| last),
    ("the plain difference", |first, last| (first - last).abs()),
    ("000", |_, _| 0.0),
    ("the other way round", |_, last| 180.0 + last),
];

/// Which of a list's words is chosen; the letter in the text is E or not.
const CHOICES: [ChoiceRule; 7] = [
    ("always the first", |_, _| 0),
    ("always the second", |_, _| 1),
    ("always the third", |_, many| 2 % many),
    ("always the last", |_, many| many - 1),
    ("by the letter", |east, _| usize::from(!east)),
    ("by the letter, turned round", |east, _| usize::from(east)),
    ("the middle", |_, many| many / 2),
];

#[derive(Clone, Copy)]
struct Rule {
    number: NumberRule,
    choice: ChoiceRule,
}

impl std::fmt::Display for Rule {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}, {}", self.number.0, self.choice.0)
    }
}

fn rules() -> impl Iterator<Item = Rule> {
    NUMBERS.into_iter().flat_map(|number| CHOICES.into_iter().map(move |choice| Rule { number, choice }))
}

/// What somebody sees who does not understand: numbers up to 360, and the letter behind the last of them.
struct Text {
    first: f64,
    last: f64,
    east: bool,
}

impl Text {
    /// Of one number alone the first is 0: to add it is to copy it, to subtract it is to take it off 360.
    fn of(prompt: &str) -> Text {
        let parts = prompt.split(|letter: char| !letter.is_ascii_digit() && letter != '.');
        let read = |part: &str| part.trim_matches('.').parse::<f64>().ok();
        let numbers: Vec<f64> = parts.filter_map(read).filter(|number| *number <= 360.0).collect();
        let last = numbers.last().copied().unwrap_or(0.0);
        let first = if numbers.len() > 1 { numbers[0] } else { 0.0 };
        let letter = prompt.rfind(&['E', 'W'][..]).and_then(|at| prompt[at..].chars().next());
        Text { first, last, east: letter == Some('E') }
    }
}

fn near(one: f64, other: f64) -> bool {
    let apart = (one - other).rem_euclid(360.0);
    apart.min(360.0 - apart) <= 2.0
}

impl Rule {
    fn of(&self, first: f64, last: f64) -> f64 {
        (self.number.1)(first, last).rem_euclid(360.0)
    }

    /// Whether the rule gives the right answer.
    fn is_right(&self, problem: &Problem) -> bool {
        let text = Text::of(problem.prompt());
        let right = |at: usize| match problem.answer().values().get(at) {
            Some(Value::Angle(angle)) => Some(angle.degrees()),
            _ => None,
        };
        match problem.skill().id {
            // The number to be set is worked out; what lies ahead follows from it.
            "follow-bearing" => {
                let change = if text.east { -text.last } else { text.last };
                near(self.of(text.first, text.last), text.first + change)
            }
            // Measured right: a rule that leaves the number alone is the procedure.
            "take-bearing" => (0..problem.answer().values().len()).all(|at| {
                let measured = right(at).expect("a bearing");
                let given =
                    if self.number.0 == "copy the first number" { text.last } else { self.of(measured, text.last) };
                near(given, measured)
            }),
            _ if problem.table().is_some() && problem.question().fields()[0].kind == FieldKind::Dial => {
                near(self.of(text.first, text.last), right(0).expect("a number on the dial"))
            }
            _ => {
                let fields = problem.question().fields();
                let typed = fields.iter().map(|field| match field.choices() {
                    Some(words) => {
                        field.typed(Value::Choice((self.choice.1)(text.east, words.len()).min(words.len() - 1)))
                    }
                    None => format!("{}", self.of(text.first, text.last)),
                });
                let typed: Vec<String> = typed.collect();
                let typed: Vec<&str> = typed.iter().map(String::as_str).collect();
                judge(problem, &typed).is_ok_and(|judged| judged.verdict == Verdict::Right)
            }
        }
    }
}

fn day_outing(lines: Option<&[North]>) -> Standard {
    Standard::find(Standard::DEFAULT, None).unwrap().on_lines(lines)
}

/// The lines that a group's maps may have.
const LINES: [Option<&[North]>; 4] = [None, Some(&[North::Magnetic]), Some(&[North::Grid]), Some(&[North::True])];

/// Plays a check to its end, both tries of it, without a file: the flow is pure. In how many skills it ends ready.
fn played(camp: &Camp, standard: &Standard, seed: u64, right: impl Fn(&Problem) -> bool) -> usize {
    let (_, check) = camp.sit(standard, today()).expect("a check");
    let sitting = check.sitting().clone();
    let terms = Terms { seed, ..check.terms().clone() };
    let mut answers = Vec::new();
    let mut ready = 0;
    for day in [today(), today() + 1.day()] {
        let sitting = needlewise::session::Sitting {
            days: needlewise::session::Days::Given(day),
            began: moment(day),
            ..sitting.clone()
        };
        let mut check = Check::new(terms.clone(), &answers, sitting, Sittings::default());
        while let Some(asked) = check.next(moment(day)) {
            let problem = asked.problem.clone();
            let given = if right(&problem) { texts(&problem, problem.answer()) } else { wrong(&problem) };
            let given: Vec<&str> = given.iter().map(String::as_str).collect();
            let pending = check.answer(&given, moment(day)).unwrap().expect("judged");
            assert_eq!(pending.attempt.verdict.is_right(), right(&problem), "{}", problem.code());
            answers.push(pending.attempt.clone());
            check.confirm(&pending);
        }
        ready = check.end().lines.iter().filter(|line| matches!(line.next, Next::Ready(_))).count();
    }
    ready
}

/// A wrong answer, of which no mix-up is made more of than that it is wrong.
fn wrong(problem: &Problem) -> Vec<String> {
    let values: Vec<Value> = problem.answer().values().to_vec();
    match problem.question() {
        Question::Table(fields) if fields[0].choices().is_some() => {
            let Value::Choice(at) = values[0] else { panic!("a choice") };
            let other = Value::Choice(usize::from(at == 0));
            texts(problem, &Answer::from_iter(std::iter::once(other).chain(values.into_iter().skip(1))))
        }
        _ => off(problem),
    }
}

#[test]
fn a_check_of_day_outing_played_by_each_blind_rule_never_ends_ready() {
    let camp = Camp::new();
    for (at, lines) in LINES.into_iter().enumerate() {
        let standard = day_outing(lines);
        // Somebody who can do it is found ready: the players below lack only the skill.
        assert_eq!(played(&camp, &standard, 1, |_| true), standard.skills.len());
        // Every rule for numbers and every rule for choices is played; with one seed more where no lines are set.
        for at_rule in 0..NUMBERS.len().max(CHOICES.len()) {
            let rule = Rule { number: NUMBERS[at_rule], choice: CHOICES[at_rule] };
            for seed in 0..if at == 0 { 3 } else { 1 } {
                let ready = played(&camp, &standard, seed, |problem| rule.is_right(problem));
                assert!(ready < standard.skills.len(), "{rule}, seed {seed}: ready in all of {}", standard.title);
            }
        }
    }
}

/// Tries that each rule is played through, for each skill.
const TRIES: u32 = 30;

#[test]
fn in_no_skill_of_a_standard_is_a_blind_rule_found_ready_more_often_than_the_plan_says() {
    let camp = Camp::new();
    let mut seen: Vec<(String, u8)> = Vec::new();
    for standard in LINES.into_iter().map(day_outing) {
        let alpha = standard.rules.plan.bounds().outcome(standard.rules.plan.p0()).ready;
        for one in &standard.skills {
            let known = (one.skill.id.to_owned(), one.level.number());
            if seen.contains(&known) {
                continue;
            }
            seen.push(known);
            let tries: Vec<Vec<Problem>> =
                (0..TRIES).map(|seed| asked(&camp, one.skill.id, one.level.number(), seed.into())).collect();
            for rule in rules() {
                let ends_ready = |problems: &&Vec<Problem>| {
                    let answers = problems.iter().map(|problem| Answered {
                        day: today(),
                        day_given: false,
                        right: rule.is_right(problem),
                        critical: None,
                    });
                    let mut progress = Progress::default();
                    answers.for_each(|answered| progress.answer(&standard.rules, answered));
                    progress.tries()[0].end == Some(TryEnd::Ready)
                };
                let ready = u32::try_from(tries.iter().filter(ends_ready).count()).unwrap();
                let (least, _) = clopper_pearson(ready, TRIES, 0.999);
                assert!(least <= alpha, "{} {}: {rule} is ready in {ready} of {TRIES} tries", one.skill.id, one.level);
            }
        }
    }
    assert_eq!(seen.len(), 8, "{seen:?}");
}

/// The problems of one long try. Which they are follows from the seed and from how many were answered, not from what was.
fn asked(camp: &Camp, skill: &str, level: u8, seed: u64) -> Vec<Problem> {
    let long = standard(&format!(
        "name = \"long-{skill}-{level}\"\ntitle = \"Long\"\ncritical = []\nready = [[19, 19]]\nstop = [[1, 19, 19]]\n\
         [[skill]]\nid = \"{skill}\"\nlevel = {level}\n"
    ));
    let (_, check) = camp.sit(&long, today()).expect("a check");
    let terms = Terms { seed, ..check.terms().clone() };
    let mut check = Check::new(terms, &[], check.sitting().clone(), Sittings::default());
    let mut problems = Vec::new();
    while let Some(asked) = check.next(moment(today())) {
        let problem = asked.problem.clone();
        let given = texts(&problem, problem.answer());
        let given: Vec<&str> = given.iter().map(String::as_str).collect();
        let pending = check.answer(&given, moment(today())).unwrap().expect("judged");
        check.confirm(&pending);
        problems.push(problem);
    }
    assert_eq!(problems.len(), 19, "{skill}");
    problems
}
