//! Every problem of every skill can be diagnosed: each wrong answer it lists has exactly one name.

use needlewise::angle::{Angle, Convergence, Declination};
use needlewise::problem::{
    Answer, Code, FieldKind, HomeAngles, Level, Outline, Question, Skill, TableProblem, Value, Verdict, judge,
};
use needlewise::skills::{SKILLS, read_code};

/// Problems per skill and level; the number that the design asks for.
const PROBLEMS: u64 = 10_000;

fn codes(skill: &dyn Skill, level: Level, count: u64) -> impl Iterator<Item = Code> {
    let meta = skill.meta();
    (0..count).map(move |seed| {
        let home = (meta.on_home && seed % 4 == 3).then(|| home(seed));
        Code { skill: meta, level, seed, home }
    })
}

/// Home grounds from all over the inhabited range, east and west, with the small convergences that maps have; none is so
/// small that grid north hides behind true north.
fn home(seed: u64) -> HomeAngles {
    let declination = 4.0 + (seed % 241) as f64 / 10.0;
    let convergence = (0.3 + (seed % 16) as f64 / 10.0) * if seed % 16 < 8 { 1.0 } else { -1.0 };
    let sign = if seed % 8 < 4 { 1.0 } else { -1.0 };
    HomeAngles::new(Declination::from_degrees(sign * declination), Convergence::from_degrees(convergence))
}

/// An answer as the fields would be typed.
fn typed(question: &Question, answer: &Answer) -> Vec<String> {
    question
        .fields()
        .iter()
        .zip(answer.values())
        .map(|(field, value)| match (field.kind, value) {
            (FieldKind::EastWest, Value::Angle(angle)) => {
                format!("{}{}", angle.degrees().abs(), if angle.degrees() < 0.0 { "W" } else { "E" })
            }
            (_, Value::Angle(angle)) => angle.degrees().to_string(),
            (_, Value::Number(number)) => number.to_string(),
            (_, Value::Word(word)) => (*word).to_owned(),
        })
        .collect()
}

fn verdict(outline: &Outline, answer: &Answer) -> Verdict {
    let typed = typed(&outline.question, answer);
    let texts: Vec<&str> = typed.iter().map(String::as_str).collect();
    judge(outline, &texts).unwrap_or_else(|error| panic!("{texts:?}: {error}")).verdict
}

#[test]
fn every_listed_answer_of_every_problem_has_exactly_one_name() {
    for skill in SKILLS {
        for level in Level::ALL {
            for code in codes(*skill, level, PROBLEMS) {
                let outline = skill.outline(&code).unwrap_or_else(|error| panic!("{code}: {error}"));
                let question = &outline.question;
                assert!(!outline.mixups.is_empty(), "{code} exposes nothing");
                assert_eq!(verdict(&outline, &outline.answer), Verdict::Right, "{code}");
                for (at, mixup) in outline.mixups.iter().enumerate() {
                    assert!(question.apart(&mixup.answer, &outline.answer), "{code}: {} is too near right", mixup.id);
                    for other in outline.mixups.iter().take(at) {
                        assert!(question.apart(&mixup.answer, &other.answer), "{code}: {} and {}", mixup.id, other.id);
                    }
                    assert_eq!(verdict(&outline, &mixup.answer), Verdict::Mixup(mixup.id), "{code}");
                    assert!(
                        skill.meta().mixup(mixup.id.as_str()).is_some(),
                        "{code}: {} is not in the registry",
                        mixup.id
                    );
                }
            }
        }
    }
}

/// What a problem can expose: by its answers, and at the map table also by the work itself.
fn exposed_ids(skill: &dyn Skill, code: &Code) -> Vec<&'static str> {
    let outline = skill.outline(code).unwrap();
    match outline.question {
        Question::Table(_) => TableProblem::exposes(&outline, skill.meta()).iter().map(|id| id.as_str()).collect(),
        _ => outline.mixups.iter().map(|mixup| mixup.id.as_str()).collect(),
    }
}

#[test]
fn every_mixup_of_the_registry_is_exposed_by_some_problem() {
    for skill in SKILLS {
        for mixup in skill.meta().mixups {
            let exposed = Level::ALL.into_iter().any(|level| {
                codes(*skill, level, 400).any(|code| exposed_ids(*skill, &code).contains(&mixup.id.as_str()))
            });
            assert!(exposed, "{}: nothing exposes {}", skill.meta().id, mixup.id);
        }
    }
}

#[test]
fn most_problems_expose_more_than_one_mixup() {
    for skill in SKILLS.iter().filter(|skill| skill.meta().mixups.len() >= 3) {
        for level in Level::ALL {
            let several =
                codes(*skill, level, 400).filter(|code| skill.outline(code).unwrap().mixups.len() >= 2).count();
            assert!(several >= 300, "{} level {level}: only {several} of 400", skill.meta().id);
        }
    }
}

#[test]
fn a_code_regenerates_its_problem_exactly() {
    for skill in SKILLS {
        for level in Level::ALL {
            for code in codes(*skill, level, 300) {
                let again = read_code(&code.to_string()).unwrap_or_else(|error| panic!("{code}: {error}"));
                assert_eq!(again, code);
                let (first, second) = (skill.problem(&code).unwrap(), skill.problem(&again).unwrap());
                assert_eq!(format!("{first:?}"), format!("{second:?}"), "{code}");
            }
        }
    }
}

#[test]
fn the_worked_steps_end_in_the_answer() {
    for skill in SKILLS {
        for level in Level::ALL {
            for code in codes(*skill, level, 500) {
                let problem = skill.problem(&code).unwrap();
                let last = problem.steps.last().unwrap_or_else(|| panic!("{code} has no steps")).line();
                for (field, value) in problem.outline.question.fields().iter().zip(problem.outline.answer.values()) {
                    assert!(ends_in(&last, field.kind, value), "{code}: {last:?} does not end in {value:?}");
                }
            }
        }
    }
}

fn ends_in(line: &str, kind: FieldKind, value: &Value) -> bool {
    let numbers: Vec<f64> = line
        .split(|c: char| !c.is_ascii_digit() && c != '.')
        .filter_map(|part| part.trim_matches('.').parse().ok())
        .collect();
    match value {
        Value::Word(word) => line.contains(word),
        Value::Number(number) => numbers.iter().any(|n| (n - number).abs() < 1e-9),
        Value::Angle(angle) => {
            let size = angle.degrees().abs();
            // 6°30′ is written in two numbers.
            let in_minutes = numbers.windows(2).any(|pair| (pair[0] + pair[1] / 60.0 - size).abs() < 1e-6);
            let letter = match kind {
                FieldKind::EastWest if size > 0.0 => line.contains(if angle.degrees() < 0.0 { " W" } else { " E" }),
                _ => true,
            };
            letter && (in_minutes || numbers.iter().any(|n| (n - size).abs() < 1e-9))
        }
    }
}

#[test]
fn every_text_of_a_problem_is_plain_and_whole() {
    for skill in SKILLS {
        for level in Level::ALL {
            for code in codes(*skill, level, 200) {
                let problem = skill.problem(&code).unwrap();
                let mut texts = vec![problem.prompt.clone(), skill.hint(&code).unwrap()];
                texts.extend(problem.steps.iter().map(|step| step.line()));
                for mixup in problem.outline.mixups.iter() {
                    let paths = skill.paths(&code, mixup.id).unwrap();
                    assert_ne!(paths.yours, paths.right, "{code}: {}", mixup.id);
                    texts.extend([paths.yours, paths.right]);
                }
                for text in texts {
                    assert!(!text.trim().is_empty(), "{code}");
                    assert!(!text.contains("  ") && !text.contains("NaN") && !text.contains('\n'), "{code}: {text:?}");
                    for never in ["mod ", "δ", "μ", "β", "−-", "--"] {
                        assert!(!text.contains(never), "{code}: {text:?}");
                    }
                }
                assert!(!problem.facts.is_empty(), "{code}");
            }
        }
    }
}

#[test]
fn a_home_ground_too_near_zero_is_an_error_and_not_a_loop() {
    let home = HomeAngles::new(Declination::from_angle(Angle::ZERO), Convergence::from_angle(Angle::ZERO));
    for skill in SKILLS.iter().filter(|skill| skill.meta().on_home) {
        for level in Level::ALL {
            let error = skill.outline(&Code { skill: skill.meta(), level, seed: 1, home: Some(home) }).unwrap_err();
            assert!(error.to_string().contains("home ground"), "{error}");
        }
    }
}
