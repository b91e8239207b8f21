//! Every problem of every skill can be diagnosed: each wrong answer it lists has exactly one name.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

mod home_ground;

use needlewise::angle::{Angle, Convergence, Declination};
use needlewise::maptable::Fault;
use needlewise::problem::{
    Answer, Code, Facts, Field, FieldKind, Figure, FigurePart, HomeAngles, Level, LineRole, Mixup, PlanKind, Problem,
    Question, Skill, TableProblem, Value, Verdict, judge, realise,
};
use needlewise::skills::{SKILLS, read_code};

/// Problems per skill and level.
const PROBLEMS: u64 = 10_000;

fn codes(skill: &'static dyn Skill, level: Level, count: u64) -> impl Iterator<Item = Code> {
    let at_home = home_ground::is_set_there(skill, level);
    (0..count).map(move |seed| {
        let home = (at_home && seed % 4 == 3).then(|| home(seed));
        Code { skill, level, seed, home }
    })
}

/// So many problems of a skill at each level.
fn problems(skill: &'static dyn Skill, each: u64) -> impl Iterator<Item = Problem> {
    let codes = Level::ALL.into_iter().flat_map(move |level| codes(skill, level, each));
    codes.map(|code| realise(&code).unwrap_or_else(|error| panic!("{code}: {error}")))
}

/// Home grounds from all over the inhabited range, east and west, with the small convergences that maps have; none is so
/// small that grid north hides behind true north.
fn home(seed: u64) -> HomeAngles {
    let declination = 4.0 + (seed % 241) as f64 / 10.0;
    let convergence = (0.3 + (seed % 16) as f64 / 10.0) * if seed % 16 < 8 { 1.0 } else { -1.0 };
    let sign = if seed % 8 < 4 { 1.0 } else { -1.0 };
    HomeAngles::new(Declination::from_degrees(sign * declination), Convergence::from_degrees(convergence))
}

fn verdict(problem: &Problem, answer: &Answer) -> Verdict {
    let fields = problem.question().fields().iter().zip(answer.values());
    let typed: Vec<String> = fields.map(|(field, value)| field.typed(*value)).collect();
    let texts: Vec<&str> = typed.iter().map(String::as_str).collect();
    judge(problem, &texts).unwrap_or_else(|error| panic!("{texts:?}: {error}")).verdict
}

/// For how many problems something holds, and what.
type Holds = (u64, fn(&Problem));

/// What holds for so many problems of each skill and level, beginning with the first seed. In one run, since to make a problem takes
/// longer than most that is asked of it.
const HOLDS: [Holds; 7] = [
    (PROBLEMS, every_listed_answer_has_exactly_one_name),
    (1_000, each_listed_answer_has_a_way_of_its_own_beside_the_right_one),
    (500, the_worked_steps_end_in_the_answer),
    (300, its_code_regenerates_it_exactly),
    (200, every_text_is_plain_and_whole),
    (200, a_step_is_only_about_a_part_that_its_figure_has_whatever_was_answered),
    (100, facts_read_back_from_a_record_are_those_that_were_drawn),
];

#[test]
fn every_problem_holds_what_each_name_of_the_list_says() {
    every_skill_holds(0);
}

/// The other half, so that two cores have something to do.
#[test]
fn every_problem_of_every_second_skill_holds_what_each_name_of_the_list_says() {
    every_skill_holds(1);
}

/// Of every second skill from this place on.
fn every_skill_holds(first: usize) {
    for skill in SKILLS.iter().skip(first).step_by(2) {
        for level in Level::ALL {
            for (number, code) in (0..).zip(codes(*skill, level, PROBLEMS)) {
                let problem = realise(&code).unwrap_or_else(|error| panic!("{code}: {error}"));
                HOLDS.iter().filter(|(count, _)| number < *count).for_each(|(_, holds)| holds(&problem));
            }
        }
    }
}

fn every_listed_answer_has_exactly_one_name(problem: &Problem) {
    let (code, question, mixups) = (problem.code(), problem.question(), problem.mixups());
    assert!(!mixups.is_empty(), "{code} exposes nothing");
    assert_eq!(verdict(problem, problem.answer()), Verdict::Right, "{code}");
    for (at, Mixup { meta, answer }) in mixups.iter().enumerate() {
        assert!(question.apart(answer, problem.answer()), "{code}: {} is too near right", meta.id);
        for other in &mixups[..at] {
            assert!(question.apart(answer, &other.answer), "{code}: {} and {}", meta.id, other.meta.id);
        }
        assert_eq!(verdict(problem, answer), Verdict::Mixup(meta), "{code}");
        // Of the same id and with the same words.
        assert!(code.skill.meta().mixups.contains(meta), "{code}: {} is not in the registry", meta.id);
    }
}

/// What a problem can expose: by its answers, and at the map table also by the work itself.
fn exposed_ids(problem: &Problem) -> Vec<&'static str> {
    match problem.question() {
        Question::Table(_) => TableProblem::exposes(problem).iter().map(|id| id.as_str()).collect(),
        _ => problem.mixups().iter().map(|mixup| mixup.meta.id.as_str()).collect(),
    }
}

#[test]
fn every_mixup_of_the_registry_is_exposed_by_some_problem() {
    for skill in SKILLS {
        let problems: Vec<Problem> = problems(*skill, 400).collect();
        for mixup in skill.meta().mixups {
            let exposed = problems.iter().any(|problem| exposed_ids(problem).contains(&mixup.id.as_str()));
            assert!(exposed, "{}: nothing exposes {}", skill.meta().id, mixup.id);
            // By an answer, unless it is one that shows in the work at the table alone.
            let in_the_work = |fault: &Fault| fault.id() == mixup.id.as_str() && fault.shows_in_the_work();
            let listed = problems.iter().any(|problem| problem.exposes(mixup.id));
            assert!(listed || Fault::ALL.iter().any(in_the_work), "{}: no problem lists {}", skill.meta().id, mixup.id);
        }
    }
}

#[test]
fn most_problems_expose_more_than_one_mixup() {
    for skill in SKILLS.iter().filter(|skill| skill.meta().mixups.len() >= 3) {
        for level in Level::ALL {
            let several = codes(*skill, level, 400).filter(|code| realise(code).unwrap().mixups().len() >= 2).count();
            assert!(several >= 300, "{} level {level}: only {several} of 400", skill.meta().id);
        }
    }
}

/// All that a problem says, asked for here and now.
fn told(problem: &Problem) -> String {
    let paths: Vec<_> =
        problem.mixups().iter().map(|mixup| (mixup, problem.paths(mixup.meta.id, &mixup.answer))).collect();
    let json = serde_json::to_string(&problem.json()).expect("JSON");
    let figures = (problem.figure(), problem.explanation(None));
    format!("{json} {} {paths:?} {figures:?} {:?}", problem.hint(), problem.table())
}

fn its_code_regenerates_it_exactly(problem: &Problem) {
    let code = problem.code();
    let again = read_code(&code.to_string()).unwrap_or_else(|error| panic!("{code}: {error}"));
    assert_eq!(again, *code);
    let again = realise(&again).unwrap();
    assert_eq!((problem.question(), problem.answer()), (again.question(), again.answer()), "{code}");
    assert_eq!(problem.mixups(), again.mixups(), "{code}");
    assert_eq!(told(problem), told(&again), "{code}");
}

fn the_worked_steps_end_in_the_answer(problem: &Problem) {
    let code = problem.code();
    // A caution stands below the steps.
    let lines = problem.step_lines();
    let last = lines.iter().rfind(|line| !line.starts_with("Take care: "));
    let last = last.unwrap_or_else(|| panic!("{code} has no steps")).clone();
    for (field, value) in problem.question().fields().iter().zip(problem.answer().values()) {
        assert!(ends_in(&last, field, *value), "{code}: {last:?} does not end in {value:?}");
    }
}

fn ends_in(line: &str, field: &Field, value: Value) -> bool {
    let numbers: Vec<f64> = line
        .split(|c: char| !c.is_ascii_digit() && c != '.')
        .filter_map(|part| part.trim_matches('.').parse().ok())
        .collect();
    match value {
        Value::Choice(_) => line.contains(&field.typed(value)),
        Value::Number(number) => numbers.iter().any(|n| (n - number).abs() < 1e-9),
        Value::Angle(angle) => {
            let size = angle.degrees().abs();
            // 6°30′ is written in two numbers.
            let in_minutes = numbers.windows(2).any(|pair| (pair[0] + pair[1] / 60.0 - size).abs() < 1e-6);
            let letter = match field.kind {
                FieldKind::EastWest if size > 0.0 => line.contains(if angle.degrees() < 0.0 { " W" } else { " E" }),
                _ => true,
            };
            letter && (in_minutes || numbers.iter().any(|n| (n - size).abs() < 1e-9))
        }
        Value::Grid(_) | Value::Point(_) => line.contains(&field.words(value)),
        Value::Blank => false,
    }
}

fn every_text_is_plain_and_whole(problem: &Problem) {
    let code = problem.code();
    let mut texts = vec![problem.prompt().to_owned(), problem.hint()];
    texts.extend(problem.step_lines());
    for mixup in problem.mixups() {
        let paths = problem.paths(mixup.meta.id, &mixup.answer).unwrap();
        assert_ne!(paths.yours, paths.right, "{code}: {}", mixup.meta.id);
        texts.extend([paths.yours, paths.right]);
    }
    for text in texts {
        assert!(!text.trim().is_empty(), "{code}");
        assert!(!text.contains("  ") && !text.contains("NaN") && !text.contains('\n'), "{code}: {text:?}");
        assert!(!has_modulo(&text), "{code}: {text:?}");
        for never in ["δ", "μ", "β", "−-", "--"] {
            assert!(!text.contains(never), "{code}: {text:?}");
        }
    }
    assert!(!problem.facts().is_empty(), "{code}");
}

/// Whether a text has the word of a sum that no learner knows, whatever stands beside it: `(mod 360)`. Invented places may be called
/// Fermod, or Mod.
fn has_modulo(text: &str) -> bool {
    text.split(|letter: char| !letter.is_alphanumeric()).any(|word| word == "mod")
}

#[test]
fn the_word_of_a_sum_is_found_beside_signs_and_not_in_a_name() {
    for sum in ["(048 − 60) mod 360", "−12 (mod 360)", "take it mod\u{a0}360", "so many, mod."] {
        assert!(has_modulo(sum), "{sum}");
    }
    for name in ["from Fermod to Mod Moor", "a moderate slope", "The map is modern."] {
        assert!(!has_modulo(name), "{name}");
    }
}

fn each_listed_answer_has_a_way_of_its_own_beside_the_right_one(problem: &Problem) {
    let code = problem.code();
    let mut before: Vec<(&Mixup, String)> = Vec::new();
    for mixup in problem.mixups() {
        let id = mixup.meta.id;
        let paths = problem.paths(id, &mixup.answer).unwrap_or_else(|| panic!("{code}: no way of {id}"));
        assert!(!paths.yours.is_empty() && !paths.right.is_empty(), "{code}: {id} {paths:?}");
        for (other, yours) in before.iter().filter(|(other, _)| other.meta.id == id) {
            assert_ne!(*yours, paths.yours, "{code}: {id} by {:?} and {:?}", other.answer, mixup.answer);
        }
        before.push((mixup, paths.yours));
    }
}

/// Whether a figure has a part that a step can be about.
fn has(figure: &Figure, part: FigurePart) -> bool {
    match (figure, part) {
        (Figure::Dial(_), FigurePart::Index) => true,
        (Figure::Dial(dial), FigurePart::Needle) => dial.needle.is_some(),
        (Figure::Prongs(prongs), FigurePart::North(north)) => prongs.iter().any(|prong| prong.north == north),
        (Figure::Sketch { norths, .. }, FigurePart::North(north)) => norths.iter().any(|line| line.north == north),
        (Figure::Prongs(_) | Figure::Sketch { .. }, FigurePart::Between(one, other)) => {
            one != other && has(figure, FigurePart::North(one)) && has(figure, FigurePart::North(other))
        }
        (Figure::Sketch { lines, .. }, FigurePart::Line(role)) => lines.iter().any(|line| line.role == role),
        (Figure::Ends(ends), FigurePart::North(north)) => ends.north == north,
        (Figure::Ends(_), FigurePart::Line(role)) => role != LineRole::Learner,
        (Figure::Plan(plan), FigurePart::North(north)) => plan.north == Some(north),
        (Figure::Plan(plan), FigurePart::Line(role)) => plan.lines.iter().any(|line| line.kind == PlanKind::Way(role)),
        (Figure::Turn(turn), FigurePart::North(north)) => turn.north == north,
        (Figure::Turn(turn), FigurePart::Turn) => turn.turn.is_some(),
        (Figure::Map(map), FigurePart::Line(role)) => map.rays.iter().any(|ray| ray.role == role),
        (Figure::Rose { marked, .. }, FigurePart::Point(role)) => marked.iter().any(|mark| mark.role == role),
        _ => false,
    }
}

fn a_step_is_only_about_a_part_that_its_figure_has_whatever_was_answered(problem: &Problem) {
    let given = problem.mixups().iter().map(|mixup| Some(&mixup.answer));
    let figures: Vec<Figure> =
        given.chain([None, Some(problem.answer())]).map(|given| problem.explanation(given)).collect();
    for step in problem.steps() {
        let Some(part) = step.part else { continue };
        for figure in figures.iter().flat_map(|figure| [figure.clone(), figure.clone().without_learner()]) {
            assert!(has(&figure, part), "{}: {:?} lies not in {figure:?}", problem.code(), step);
        }
    }
}

#[test]
fn many_steps_are_about_a_part_of_a_figure() {
    let about = |problem: Problem| problem.steps().iter().filter(|step| step.part.is_some()).count();
    let all: usize = SKILLS.iter().flat_map(|skill| problems(*skill, 20)).map(about).sum();
    assert!(all > 1_000, "only {all} steps are about a part of a figure");
}

#[test]
fn a_home_ground_too_near_zero_is_an_error_and_not_a_loop() {
    let home = HomeAngles::new(Declination::from_angle(Angle::ZERO), Convergence::from_angle(Angle::ZERO));
    for skill in SKILLS.iter().filter(|skill| skill.meta().on_home) {
        for level in Level::ALL {
            let error = realise(&Code { skill: *skill, level, seed: 1, home: Some(home) }).unwrap_err();
            assert!(error.to_string().contains("home ground"), "{error}");
        }
    }
}

/// Facts come back from a record as they were drawn; a check knows by them which problems it has asked.
fn facts_read_back_from_a_record_are_those_that_were_drawn(problem: &Problem) {
    assert_eq!(Facts::read(&problem.facts().json()), *problem.facts(), "{}", problem.code());
}
