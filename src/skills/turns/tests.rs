use super::super::solver::{check, first, listed, number, problems};
use super::*;
use crate::problem::Problem;
use proptest::prelude::*;

/// A turn that is listed for a mix-up, in degrees, clockwise positive.
fn turn_listed(problem: &Problem, id: &str) -> Option<f64> {
    listed(problem, id).map(|answer| match answer.values() {
        [Value::Choice(way), Value::Angle(size)] => {
            size.degrees() * if SENSES[*way] == "clockwise" { 1.0 } else { -1.0 }
        }
        other => panic!("{other:?} is no turn"),
    })
}

#[test]
fn from_350_to_010_is_20_degrees_clockwise() {
    // The example of the skill map's level 3; identity: 10 + 360 − 350.
    let between = Between { from: 3500, to: 100, first: None };
    assert_eq!(between.right(), Answer::two(Value::Choice(0), Value::degrees(20.0)));
    let wanted =
        "From 350 to 010 through north the numbers grow past 360: 350 − 010 = 340, 360 − 340 = 20, so 20° clockwise";
    assert_eq!(between.right_way(), wanted);
}

#[test]
fn a_solver_gets_every_answer_from_the_facts() {
    for level in Level::ALL {
        for problem in problems(&Turns, level, 3000) {
            let start = number(&problem, "start_magnetic_bearing_deg").expect("a start");
            let turn = number(&problem, "turn_deg");
            let (one, two) = (number(&problem, "first_turn_deg"), number(&problem, "second_turn_deg"));
            let Some(end) = number(&problem, "end_magnetic_bearing_deg") else {
                let sum = turn.unwrap_or(0.0) + one.unwrap_or(0.0) + two.unwrap_or(0.0);
                assert_eq!(first(problem.answer()), (start + sum).rem_euclid(360.0), "{}", problem.code());
                check(&problem, "turned-other-way", 360.0, start - sum);
                check(&problem, "start-left-out", 360.0, sum);
                if let (Some(one), Some(two)) = (one, two) {
                    check(&problem, "first-turn-left-out", 360.0, start + two);
                    check(&problem, "second-turn-left-out", 360.0, start + one);
                    check(&problem, "all-one-way", 360.0, start + one - two);
                }
                // Never brought back, or only after the first turn.
                let halfway = (start + one.unwrap_or(0.0)).rem_euclid(360.0) + two.unwrap_or(0.0);
                for mixup in problem.mixups().iter().filter(|mixup| mixup.meta.id == NOT_WRAPPED.id) {
                    let number = first(&mixup.answer);
                    assert!(number == start + sum || number == halfway, "{}: {number}", problem.code());
                }
                continue;
            };
            let shorter = |from: f64| {
                let turn = (end - from).rem_euclid(360.0);
                if turn > 180.0 { turn - 360.0 } else { turn }
            };
            let from = (start + one.unwrap_or(0.0)).rem_euclid(360.0);
            let turn = shorter(from);
            let wanted = Answer::two(Value::Choice(usize::from(turn < 0.0)), Value::degrees(turn.abs()));
            assert_eq!(*problem.answer(), wanted, "{}", problem.code());
            let long = (360.0 - turn.abs()) * turn.signum();
            for (id, wanted) in [
                ("turned-other-way", -turn),
                ("long-way-round", -long),
                ("plain-difference", long),
                ("start-left-out", end),
                ("first-turn-left-out", shorter(start)),
            ] {
                let given = turn_listed(&problem, id).unwrap_or(wanted);
                assert_eq!(given, wanted, "{}: {id}", problem.code());
            }
            // Subtracting is right where the turn does not go through north.
            let across = !(0.0..360.0).contains(&(from + turn));
            assert!(across || listed(&problem, "plain-difference").is_none(), "{}", problem.code());
        }
    }
}

#[test]
fn more_turns_cross_north_from_level_to_level_and_never_all() {
    for (level, low, high) in [(Level::ONE, 80, 170), (Level::TWO, 120, 220), (Level::THREE, 200, 300)] {
        let crossing = problems(&Turns, level, 500)
            .filter(|problem| listed(problem, "plain-difference").is_some() || listed(problem, "not-wrapped").is_some())
            .count();
        assert!((low..=high).contains(&crossing), "level {level}: {crossing} of 500");
    }
}

#[test]
fn the_figure_of_a_question_does_not_show_the_answer() {
    for seed in 0..200 {
        match Generator::figure(&Turns, &Turns.draw(Level::ONE, None, &mut Draw::new("A3", 1, 1, seed))) {
            Figure::Turn(figure) => assert_eq!((figure.turn, figure.learner), (None, None)),
            Figure::Sketch { lines, .. } => assert!(lines.iter().all(|line| line.role == LineRole::Given)),
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn the_explanation_draws_the_learners_turn_beside_the_right_one() {
    let item = TurnsItem::Size { between: Between { from: 3500, to: 100, first: None }, level: Level::THREE };
    let given = Answer::two(Value::Choice(1), Value::degrees(340.0));
    let Figure::Turn(figure) = Generator::explanation(&Turns, &item, Some(&given)) else { panic!("a turn") };
    assert_eq!(figure.turn.map(Angle::degrees), Some(20.0));
    assert_eq!(figure.learner.map(Angle::degrees), Some(-340.0));
}

proptest! {
    #[test]
    fn the_shorter_turn_leads_from_the_start_to_the_end(from in 0..3600, to in 0..3600) {
        let between = Between { from, to, first: None };
        prop_assert_eq!(wrap(from + between.turn()), to);
        prop_assert!(between.turn().abs() <= CIRCLE / 2);
    }
}
