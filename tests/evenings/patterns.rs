//! Patterns of mix-ups over real problems: drawn, answered by a simulated learner, judged, and read from what is recorded.

use needlewise::learner::patterns::{AnsweredItem, Applied, Pattern, Side, patterns};
use needlewise::problem::{Code, Level, Problem, Question, Skill, TableProblem, Value, Verdict, judge, realise};
use needlewise::skills::{self, SKILLS};

/// What is recorded of an answer, as far as patterns need it.
struct Recorded {
    level: Level,
    facts: String,
    exposed: Vec<String>,
    mixup: Option<String>,
}

/// The problem answered with this mix-up, or rightly where it is not to be or does not show it.
fn answered(problem: &Problem, mixup: Option<&str>) -> Recorded {
    let wrong = mixup.and_then(|id| problem.mixups().iter().find(|listed| listed.meta.id.as_str() == id));
    let answer = wrong.map_or(problem.answer(), |wrong| &wrong.answer);
    let fields = problem.question().fields().iter().zip(answer.values());
    let texts: Vec<String> = fields.map(|(field, value)| field.typed(*value)).collect();
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    let verdict = judge(problem, &texts).unwrap().verdict;
    assert_eq!(verdict.mixup(), wrong.map(|wrong| wrong.meta), "{}", problem.code());
    assert_eq!(verdict == Verdict::Right, wrong.is_none(), "{}", problem.code());
    let exposed = match problem.question() {
        Question::Table(_) => TableProblem::exposes(problem),
        _ => problem.mixups().iter().map(|mixup| mixup.meta.id).collect(),
    };
    Recorded {
        level: problem.code().level,
        facts: problem.facts().json(),
        exposed: exposed.iter().map(|id| id.as_str().to_owned()).collect(),
        mixup: verdict.mixup().map(|mixup| mixup.id.as_str().to_owned()),
    }
}

fn problems(skill: &'static dyn Skill, count: u64) -> impl Iterator<Item = Problem> {
    (0..count).map(move |seed| {
        let level = Level::ALL[(seed % 4) as usize];
        realise(&Code { skill, level, seed: 7000 + seed, home: None }).unwrap()
    })
}

fn found(skill: &'static dyn Skill, records: &[Recorded]) -> Vec<Pattern> {
    let items: Vec<AnsweredItem<'_>> = records
        .iter()
        .map(|record| AnsweredItem {
            level: record.level,
            facts: &record.facts,
            exposed: &record.exposed,
            mixup: record.mixup.as_deref(),
            hinted: false,
        })
        .collect();
    patterns(skill.meta(), &items)
}

/// Forty problems of a skill, answered with the mix-up wherever the problem is such a one: what is said.
fn said(id: &str, mixup: &str, falls: impl Fn(&Problem) -> bool) -> Vec<(&'static str, Side)> {
    let skill = skills::find(id).unwrap();
    let records: Vec<Recorded> =
        problems(skill, 40).map(|problem| answered(&problem, falls(&problem).then_some(mixup))).collect();
    found(skill, &records).iter().map(|pattern| (pattern.mixup.id.as_str(), pattern.side)).collect()
}

/// The letter printed behind the angle that is named last before it.
fn letter_after(name: &'static str, letter: char) -> impl Fn(&Problem) -> bool {
    move |problem| {
        // A first followed bearing names no angle.
        let Some((_, after)) = problem.prompt().split_once(name) else {
            assert_eq!(problem.code().level, Level::ONE, "{}", problem.prompt());
            return false;
        };
        after.find(['E', 'W']).is_some_and(|at| after[at..].starts_with(letter))
    }
}

/// The worked solution brings the number back onto the circle.
fn passes_north(problem: &Problem) -> bool {
    problem.step_lines().iter().any(|line| line.contains("Below zero") || line.contains("Past north"))
}

#[test]
fn a_sign_wrong_only_for_one_letter_is_said_of_true_and_magnetic() {
    // At level 4 the line may be a grid line, so it is the letter of whichever angle counts.
    let falls = |problem: &Problem| problem.step_lines().iter().any(|line| line.contains(", east is "));
    assert_eq!(said("true-magnetic", "sign-flipped", falls), [("sign-flipped", Side::East(Applied::Several))]);
    let falls = |problem: &Problem| problem.step_lines().iter().any(|line| line.contains(", west is "));
    assert_eq!(said("true-magnetic", "not-applied", falls), [("not-applied", Side::West(Applied::Several))]);
}

#[test]
fn a_sign_wrong_only_in_one_direction_is_said_of_true_and_magnetic() {
    let to_map = |problem: &Problem| problem.question().fields()[0].label == "true bearing";
    assert_eq!(said("true-magnetic", "sign-flipped", to_map), [("sign-flipped", Side::ToMap)]);
    let to_compass = |problem: &Problem| problem.question().fields()[0].label == "magnetic bearing";
    assert_eq!(said("true-magnetic", "applied-twice", to_compass), [("applied-twice", Side::ToCompass)]);
}

#[test]
fn a_sign_wrong_only_past_north_is_said_of_true_and_grid() {
    for id in ["true-magnetic", "grid-magnetic"] {
        assert_eq!(said(id, "sign-flipped", passes_north), [("sign-flipped", Side::PastNorth)], "{id}");
    }
}

#[test]
fn a_sign_wrong_only_at_higher_levels_is_said_of_grid_and_magnetic() {
    let falls = |problem: &Problem| problem.code().level >= Level::THREE;
    assert_eq!(said("grid-magnetic", "sign-flipped", falls), [("sign-flipped", Side::HigherLevels)]);
}

#[test]
fn from_either_line_the_letter_is_that_of_the_angle_that_counts() {
    // Worked out from the steps, which say the angle that is applied: "…, east is taken off".
    let falls = |problem: &Problem| problem.step_lines().iter().any(|line| line.contains(", west is "));
    assert_eq!(said("grid-magnetic", "sign-flipped", falls), [("sign-flipped", Side::West(Applied::Several))]);
}

#[test]
fn orienting_knows_the_letter_and_the_work_by_hand() {
    let east = |problem: &Problem| matches!(problem.answer().values()[0], Value::Angle(dial) if dial.degrees() > 180.0);
    for (id, applied) in [("orient-true-line", Applied::Declination), ("orient-grid", Applied::GridMagnetic)] {
        assert_eq!(said(id, "sign-flipped", east), [("sign-flipped", Side::East(applied))], "{id}");
        let by_hand = |problem: &Problem| matches!(problem.question(), Question::Table(_));
        assert_eq!(said(id, "sign-flipped", by_hand), [("sign-flipped", Side::ByHand)], "{id}");
    }
}

#[test]
fn back_bearings_have_halves_and_old_maps_the_printed_letter() {
    let west_half = |problem: &Problem| problem.step_lines().iter().any(|line| line.contains(" or more: take off "));
    assert_eq!(said("back-bearing", "not-reversed", west_half), [("not-reversed", Side::WestHalf)]);
    let east = letter_after("gives the declination ", 'E');
    assert_eq!(said("dated-map", "not-updated", east), [("not-updated", Side::East(Applied::OldDeclination))]);
}

#[test]
fn turns_that_pass_north_are_known_by_what_they_could_leave_unwrapped() {
    assert_eq!(said("turns", "turned-other-way", passes_north), [("turned-other-way", Side::PastNorth)]);
}

#[test]
fn who_falls_everywhere_or_nowhere_has_no_pattern_in_any_skill() {
    let mut everywhere = 0;
    for skill in SKILLS {
        for mixup in skill.meta().mixups {
            let id = mixup.id.as_str();
            let records: Vec<Recorded> = problems(*skill, 40).map(|problem| answered(&problem, Some(id))).collect();
            // Work at the table can show mix-ups that no answer does; only answers are given here.
            let fell_everywhere = |record: &Recorded| {
                record.mixup.as_deref() == Some(id) || !record.exposed.iter().any(|exposed| exposed == id)
            };
            if records.iter().all(fell_everywhere) {
                everywhere += 1;
                assert!(found(*skill, &records).is_empty(), "{} {id}", skill.meta().id);
            }
        }
        let records: Vec<Recorded> = problems(*skill, 40).map(|problem| answered(&problem, None)).collect();
        assert!(found(*skill, &records).is_empty(), "{}", skill.meta().id);
    }
    assert!(everywhere > 100, "most mix-ups can be fallen into everywhere: {everywhere}");
}

/// All of 2,000 problems that are such fall, and no other: so they must be all that lies on the side.
fn holds_exactly(id: &str, side: Side, falls: impl Fn(&Problem) -> bool) {
    let skill = skills::find(id).unwrap();
    let records: Vec<Recorded> =
        problems(skill, 2000).map(|problem| answered(&problem, falls(&problem).then_some("sign-flipped"))).collect();
    let [pattern] = found(skill, &records)[..] else { panic!("{id} {side:?}") };
    let fell = records.iter().filter(|record| record.mixup.is_some()).count();
    assert_eq!((pattern.side, pattern.elsewhere.times), (side, 0), "{id}");
    assert_eq!((pattern.here.times, pattern.here.of), (fell, fell), "{id} {side:?}");
}

#[test]
fn the_sides_of_conversions_are_those_of_the_worked_solution() {
    let says =
        |words: &'static str| move |problem: &Problem| problem.step_lines().iter().any(|line| line.contains(words));
    for id in ["true-magnetic", "grid-magnetic"] {
        holds_exactly(id, Side::East(Applied::Several), says(", east is "));
        holds_exactly(id, Side::ToMap, says("rom compass ("));
        holds_exactly(id, Side::PastNorth, passes_north);
    }
}

#[test]
fn the_letter_of_following_a_bearing_is_that_of_the_angle_it_names() {
    let east = letter_after(" is ", 'E');
    holds_exactly("follow-bearing", Side::East(Applied::Several), east);
}
