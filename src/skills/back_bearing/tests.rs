use super::super::solver::{check, first, listed, number, problems, word};
use super::*;
use proptest::prelude::*;

const SKILL: &BackBearing = &BackBearing;

fn item(unit: Unit, bearing: i32) -> BackBearingItem {
    BackBearingItem { unit, north: North::Grid, bearing, story: Story::None }
}

#[test]
fn back_bearings_are_those_of_the_reference() {
    // CV031 (FM 21-26 and FM 3-25.26, para 6-3a): 180 gives 0 or 360; CV032–CV037: b + 180 on the circle (identity).
    for (bearing, back) in [(1800, 0), (0, 1800), (10, 1810), (1790, 3590), (1810, 10), (2700, 900), (3595, 1795)] {
        assert_eq!(item(Unit::Degrees, bearing).back(), back, "{bearing}");
    }
    // CV001 (the same manuals, para 6-1b): 6400 mils to the circle, so half of it is 3200 (CV008).
    assert_eq!(item(Unit::Mils, 1600).back(), 4800);
    assert_eq!(item(Unit::Mils, 3200).back(), 0);
}

#[test]
fn the_back_bearing_of_180_may_be_typed_as_360() {
    // CV031: 0 or 360, both accepted.
    let south = item(Unit::Degrees, 1800);
    let question = SKILL.question(&south);
    assert!(question.same(&Answer::degrees(360), &SKILL.answer(&south)));
    assert_eq!(south.not_wrapped(), None);
}

#[test]
fn a_solver_gets_every_answer_from_the_facts() {
    let mut stories = [0; 2];
    for level in Level::ALL {
        for problem in problems(SKILL, level, 3000) {
            let leg = match word(&problem, "wanted").expect("what is wanted") {
                "back_bearing" => "",
                "back_bearing_of_first_leg" => "first_leg_",
                "back_bearing_of_second_leg" => "second_leg_",
                other => panic!("{other}"),
            };
            let other_leg = if leg == "first_leg_" { "second_leg_" } else { "first_leg_" };
            let in_unit = |leg: &str, unit| number(&problem, &format!("{leg}bearing_{unit}"));
            let (unit, circle) = if in_unit(leg, "mil").is_some() { ("mil", 6400.0) } else { ("deg", 360.0) };
            assert!(unit == "deg" || level == Level::FOUR, "{}: mils come at level 4", problem.code());
            stories[usize::from(unit == "mil")] += usize::from(level == Level::FOUR);
            let bearing = in_unit(leg, unit).expect("a bearing");
            let right = (bearing + circle / 2.0).rem_euclid(circle);
            assert_eq!(first(problem.answer()), right, "{}", problem.code());
            assert_eq!(problem.question().fields()[0].north().map(North::word), word(&problem, "north"));

            check(&problem, "not-reversed", circle, bearing);
            check(&problem, "counted-other-way", circle, circle - bearing);
            for mixup in problem.mixups() {
                let off = (first(&mixup.answer) - bearing).rem_euclid(circle);
                match mixup.meta.id.as_str() {
                    "quarter-turn" => assert!(off == circle / 4.0 || off == circle * 0.75, "{}", problem.code()),
                    "degrees-on-mils" => assert!(off == 180.0 || off == 6220.0, "{}", problem.code()),
                    _ => {}
                }
            }
            let two_hundred = if bearing < 180.0 { 200.0 } else { -200.0 };
            check(&problem, "stopped-at-200", circle, bearing + two_hundred);
            if let Some(other) = in_unit(other_leg, unit) {
                check(&problem, "wrong-leg", circle, other + circle / 2.0);
            }
            if let Some(typed) = listed(&problem, "not-wrapped") {
                let off = if bearing < circle / 2.0 { bearing - circle / 2.0 } else { bearing + circle / 2.0 };
                assert_eq!(first(typed), off, "{}", problem.code());
            }
        }
    }
    assert!(stories.iter().all(|count| *count > 300), "{stories:?}");
}

#[test]
fn level_three_lies_near_180_and_360() {
    for problem in problems(SKILL, Level::THREE, 1000) {
        let off = number(&problem, "bearing_deg").expect("degrees") % 180.0;
        assert!(off.min(180.0 - off) <= 20.0, "{}", problem.code());
    }
}

#[test]
fn mils_print_without_padding_and_degrees_with_three_figures() {
    let printed = |unit, number| words::bearing(&item(unit, number), number).to_string();
    assert_eq!(printed(Unit::Degrees, 650), "065° G");
    assert_eq!(printed(Unit::Mils, 650), "650 mils G");
}

proptest! {
    #[test]
    fn a_bearing_reversed_twice_is_itself(degrees in 0..3600, mils in 0..6400) {
        for (unit, bearing) in [(Unit::Degrees, degrees), (Unit::Mils, mils)] {
            let back = item(unit, bearing).back();
            prop_assert_eq!(item(unit, back).back(), bearing);
            prop_assert_eq!((back - bearing).abs(), unit.half());
            prop_assert!((0..unit.circle()).contains(&back));
        }
    }
}
