use super::super::solver::{check, first, number, problems};
use super::*;
use crate::problem::Tolerance;

const SKILL: &SetDial = &SetDial;

#[test]
fn a_solver_gets_every_answer_from_the_facts() {
    for level in Level::ALL {
        for problem in problems(SKILL, level, 3000) {
            let fact = |name| number(&problem, name).unwrap_or_else(|| panic!("{}: no {name}", problem.code()));
            let start = fact("start_reading_deg");
            let right = first(problem.answer());
            if let Some(wanted) = number(&problem, "number_to_set_deg") {
                let every = fact("number_every_deg");
                let below = (wanted / every).floor() * every;
                assert_eq!(right, wanted);
                check(&problem, "wrong-end", 360.0, wanted + 180.0);
                check(&problem, "counted-wrong-way", 360.0, 2.0 * below - wanted);
                check(&problem, "set-at-needle", 360.0, wanted - fact("needle_clockwise_of_index_deg"));
                continue;
            }
            let (one, two) = match number(&problem, "dial_turn_deg") {
                Some(turn) => (turn, 0.0),
                None => (fact("first_dial_turn_deg"), fact("second_dial_turn_deg")),
            };
            // CV048: clockwise subtracts (USGS Education, Method 2 step G).
            let raw = start - one - two;
            assert_eq!(right, raw.rem_euclid(360.0), "{}", problem.code());
            // Off by twice the turn.
            check(&problem, "turned-other-way", 360.0, right + 2.0 * (one + two));
            check(&problem, "start-left-out", 360.0, -one - two);
            check(&problem, "first-turn-left-out", 360.0, start - two);
            check(&problem, "second-turn-left-out", 360.0, start - one);
            check(&problem, "all-one-way", 360.0, start - one + two);
            // Never brought back, or only after the first turn.
            let halfway = (start - one).rem_euclid(360.0) - two;
            for mixup in problem.mixups().iter().filter(|mixup| mixup.meta.id == NOT_WRAPPED.id) {
                let number = first(&mixup.answer);
                assert!(number == raw || number == halfway, "{}: {number}", problem.code());
            }
        }
    }
}

#[test]
fn levels_one_to_three_are_set_by_hand_within_half_a_graduation() {
    for (level, tick) in [(Level::ONE, 5.0), (Level::TWO, 5.0), (Level::THREE, 2.0)] {
        for problem in problems(SKILL, level, 300) {
            let Question::SetDial { fields, start } = problem.question() else { panic!("{} is typed", problem.code()) };
            // At 5° a little less: halfway between two ticks would be right at both, and no dial is set by half degrees.
            let half = if tick == 5.0 { 2.4 } else { 1.0 };
            assert_eq!(fields[0].tolerance, Tolerance::within(half));
            assert_eq!(Some(start.degrees()), number(&problem, "start_reading_deg"), "{}", problem.code());
        }
    }
    for problem in problems(SKILL, Level::FOUR, 300) {
        let Question::Typed(fields) = problem.question() else { panic!("{} is not typed", problem.code()) };
        assert_eq!(fields[0].tolerance, Tolerance::within(1.0));
    }
}

#[test]
fn a_dial_left_as_it_stood_is_neither_right_nor_a_named_mixup() {
    for level in [Level::ONE, Level::TWO, Level::THREE] {
        for problem in problems(SKILL, level, 3000) {
            let start = Answer::one(Value::degrees(number(&problem, "start_reading_deg").expect("a start")));
            let question = problem.question();
            assert!(!question.same(&start, problem.answer()), "{}", problem.code());
            for mixup in problem.mixups() {
                assert!(!question.same(&start, &mixup.answer), "{}: {}", problem.code(), mixup.meta.id);
            }
        }
    }
}

#[test]
fn a_number_at_the_needle_stands_there_by_the_model_of_the_dial() {
    for seed in 0..500 {
        let SetDialItem::Set(set) = SKILL.draw(Level::THREE, None, &mut Draw::new("A6", 3, 1, seed)) else {
            panic!("set")
        };
        let mut left_at = None;
        set.each_wrong(|meta, number, _| left_at = if meta.id == SET_AT_NEEDLE.id { Some(number) } else { left_at });
        let dial = set.scale.figure(left_at.expect("listed"), Angle::ZERO, Some(angle(set.needle)));
        let at_needle = (dial.reading + angle(set.needle) - dial.index).wrapped();
        assert!((at_needle - angle(set.wanted)).wrapped_half().degrees().abs() < 1e-9);
    }
}

#[test]
fn the_question_shows_the_dial_as_it_stands_and_the_verdict_as_it_should() {
    let item = SetDialItem::Set(Set {
        scale: Scale { numbered: 200, graduation: 20, believed: 10 },
        start: 400,
        wanted: 1370,
        needle: 300,
    });
    let reading = |figure: Figure| match figure {
        Figure::Dial(dial) => (dial.reading.degrees(), dial.learner.map(Angle::degrees)),
        other => panic!("{other:?} is no dial"),
    };
    assert_eq!(reading(Generator::figure(SKILL, &item)), (40.0, None));
    let given = Answer::degrees(143);
    assert_eq!(reading(Generator::explanation(SKILL, &item, Some(&given))), (137.0, Some(143.0)));
}

#[test]
fn the_dial_is_turned_the_short_way() {
    let scale = Scale { numbered: 200, graduation: 20, believed: 10 };
    // From 040 to 137 the number grows by 97, so the dial turns counterclockwise (CV048); from 350 to 010 through north.
    for (start, wanted, turn) in [(400, 1370, -970), (1370, 400, 970), (3500, 100, -200), (100, 3500, 200)] {
        assert_eq!(Set { scale, start, wanted, needle: 300 }.turn(), turn, "{start} to {wanted}");
    }
}
