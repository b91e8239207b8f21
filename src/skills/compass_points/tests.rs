#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what a test counts and draws is small")]

use super::super::solver::{check, first, listed, number, problems, word};
use super::super::thirty_two_points::ThirtyTwoPoints;
use super::*;
use crate::problem::{Generator, MixupMeta, Problem, Skill};

fn item(given: Given, wants_degrees: bool) -> CompassPointsItem {
    CompassPointsItem { card: PointSet::ThirtyTwo, given, wants_degrees, level: Level::THREE }
}

fn named(name: &str) -> CompassPointsItem {
    item(Given::Name(Point::read(name).expect("a point")), true)
}

/// A problem that asks for the degrees of this name.
fn drawn(skill: &'static dyn Skill, level: Level, name: &str) -> Problem {
    problems(skill, level, 2000).find(|problem| word(problem, "point") == Some(name)).expect("it comes up")
}

fn listed_degrees(problem: &Problem, mixup: MixupMeta) -> Option<f64> {
    listed(problem, mixup.id.as_str()).map(first)
}

fn degrees(answer: Answer) -> f64 {
    match answer.values() {
        [Value::Angle(angle)] => angle.degrees(),
        other => panic!("{other:?} is no single angle"),
    }
}

#[test]
fn every_name_has_the_degrees_of_the_reference() {
    // CV015–CV027: n × 11.25 (identity); the spacing is CV014, Bowditch, conversion of points.
    for (name, wanted) in [
        ("NNE", 22.5),
        ("NE", 45.0),
        ("NEbE", 56.25),
        ("ESE", 112.5),
        ("SEbE", 123.75),
        ("SEbS", 146.25),
        ("SWbS", 213.75),
        ("SWbW", 236.25),
        ("WSW", 247.5),
        ("WNW", 292.5),
        ("NWbN", 326.25),
        ("NNW", 337.5),
        ("NbW", 348.75),
    ] {
        assert_eq!(degrees(CompassPoints.answer(&named(name))), wanted, "{name}");
    }
}

#[test]
fn every_drawn_direction_lies_nearest_to_its_answer() {
    // The rule of CV028 (encyclopaedia worked example): 75 / 11.25 + 0.5 = 7.17, so the 7th name after N, EbN.
    for (level, seed) in
        [Level::ONE, Level::TWO, Level::THREE].into_iter().flat_map(|level| (0..2000).map(move |seed| (level, seed)))
    {
        let draw = || Draw::new("A1", level.number(), 2, seed);
        for item in [CompassPoints.draw(level, None, &mut draw()), ThirtyTwoPoints.draw(level, None, &mut draw())] {
            let Given::Degrees { degrees, nearest } = item.given else { continue };
            let count = f64::from(item.card.count());
            let place = (f64::from(degrees) / (360.0 / count) + 0.5).floor() % count;
            assert_eq!(f64::from(nearest.number()) * count / 32.0, place, "{degrees}");
        }
    }
    let seventy_five = Point::nearest(Angle::from_degrees(75.0), PointSet::ThirtyTwo);
    assert_eq!(seventy_five.name(), "EbN");
}

#[test]
fn a_learner_may_round_to_whole_degrees() {
    // 056.25, 056 and 22.5 rounded up or down: all within half a degree.
    for (name, typed) in [("NEbE", 56.0), ("NEbE", 56.25), ("NNE", 22.0), ("NNE", 23.0), ("NEbN", 34.0)] {
        let item = named(name);
        let question = CompassPoints.question(&item);
        assert!(question.same(&Answer::one(Value::degrees(typed)), &CompassPoints.answer(&item)), "{name} {typed}");
    }
}

#[test]
fn every_mixup_of_a_name_gives_the_number_of_its_formula() {
    // The formulas: 360 − R, 180 − R, one point off, R ± 33.75. R = 303.75 for NWbW.
    let problem = drawn(&ThirtyTwoPoints, Level::TWO, "NWbW");
    for (mixup, wanted) in [
        (MIRRORED_EAST_WEST, 56.25),
        (MIRRORED_NORTH_SOUTH, 236.25),
        (NEXT_CLOCKWISE, 315.0),
        (NEXT_COUNTERCLOCKWISE, 292.5),
        (WRONG_STEM, 270.0),
        (BY_WRONG_WAY, 326.25),
        (STEMS_EXCHANGED, 281.25),
    ] {
        assert_eq!(listed_degrees(&problem, mixup), Some(wanted), "{}", mixup.id);
    }
}

#[test]
fn nne_taken_for_the_middle_between_north_and_east_has_its_own_name() {
    let problem = drawn(&CompassPoints, Level::TWO, "NNE");
    assert_eq!(listed_degrees(&problem, BETWEEN_CARDINALS), Some(45.0), "NE");
    assert_eq!(listed_degrees(&problem, NEXT_CLOCKWISE), None, "the same point goes by one name");
    assert_eq!(listed_degrees(&problem, NEXT_COUNTERCLOCKWISE), Some(0.0), "N");
}

#[test]
fn a_turn_gone_wrong_ends_where_its_formula_says() {
    let mut unwrapped = 0;
    let both = [&CompassPoints as &'static dyn Skill, &ThirtyTwoPoints];
    for problem in both.into_iter().flat_map(|skill| problems(skill, Level::FOUR, 2000)) {
        let step = number(&problem, "degrees_per_point").expect("a point's size");
        assert_eq!(step, 360.0 / number(&problem, "names_on_card").expect("a card"));
        let start = Point::read(word(&problem, "start_point").expect("a start")).expect("a point").angle().degrees();
        let turn = number(&problem, "turn_points").expect("a turn") * step;
        if word(&problem, "wanted") == Some("point") {
            let place = |degrees: f64| Answer::choice((degrees.rem_euclid(360.0) / step) as usize);
            assert_eq!(*problem.answer(), place(start + turn), "{}", problem.code());
            let other_way = listed(&problem, "turned-other-way");
            assert!(other_way.is_none_or(|answer| *answer == place(start - turn)), "{}", problem.code());
            continue;
        }
        assert_eq!(first(problem.answer()), (start + turn).rem_euclid(360.0), "{}", problem.code());
        check(&problem, "turned-other-way", 360.0, start - turn);
        check(&problem, "points-of-sixteen", 360.0, start + 2.0 * turn);
        check(&problem, "points-of-eight", 360.0, start + 2.0 * turn);
        check(&problem, "point-too-far", 360.0, start + turn + step.copysign(turn));
        if let Some(raw) = listed_degrees(&problem, NOT_WRAPPED) {
            assert_eq!(raw, start + turn, "{}", problem.code());
            unwrapped += 1;
        }
    }
    assert!(unwrapped > 100, "{unwrapped}");
}

#[test]
fn three_points_clockwise_of_north_east_is_east_by_north() {
    let start = Point::read("NE").expect("a point");
    let turned = item(Given::Turn { start, by: 3, wind: false }, false);
    assert_eq!(CompassPoints.answer(&turned), Answer::choice(7));
    assert_eq!(THIRTY_TWO[7], "EbN");
    let back = item(Given::Turn { start, by: -5, wind: true }, true);
    assert_eq!(degrees(CompassPoints.answer(&back)), 348.75);
}

#[test]
fn a_wind_from_west_north_west_blows_to_east_south_east() {
    // Identity: 292.5 − 180 = 112.5.
    let from = Point::read("WNW").expect("a point");
    let wind = CompassPointsItem {
        card: PointSet::Sixteen,
        given: Given::Wind(from),
        wants_degrees: true,
        level: Level::THREE,
    };
    assert_eq!(degrees(CompassPoints.answer(&wind)), 112.5);
    let named = CompassPointsItem { wants_degrees: false, ..wind };
    assert_eq!(CompassPoints.answer(&named), Answer::choice(5));
    assert_eq!(SIXTEEN[5], "ESE");
    assert!(CompassPoints.steps(&named).last().is_some_and(|step| step.line() == "The name there: ESE"));
}

#[test]
fn points_print_as_degrees_with_three_figures() {
    for (points, wanted) in [(0, "000"), (1, "011.25"), (6, "067.5"), (33, "371.25"), (-1, "−11.25"), (-3, "−33.75")]
    {
        assert_eq!(words::degrees_of(points).to_string(), wanted);
    }
}

#[test]
fn the_figure_of_a_question_marks_no_answer() {
    for seed in 0..200 {
        let item = CompassPoints.draw(Level::ONE, None, &mut Draw::new("A1", 1, 1, seed));
        assert_eq!(CompassPoints.figure(&item), Figure::Rose { names: 8, marked: vec![] });
    }
}
