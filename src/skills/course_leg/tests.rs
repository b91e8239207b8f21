//! The case of the trade: 070, 190 and 310 by the grid, 600 m each, a G-M angle of 8° W (arithmetic; common practice, no source).

use super::super::scale_distance::Scale;
use super::*;
use crate::angle::GridMagnetic;

fn item(task: Task) -> CourseLegItem {
    let course = Course { first: 700, turns: [1200; 3], mm: [24; 3], scale: Scale(25) };
    let lines = Lines::Grid(GridMagnetic::from_degrees(-8.0));
    CourseLegItem { course, lines, norths: None, task, marks: ["the camp", "the ford", "the weir"] }
}

fn bearings(legs: [f64; 3]) -> Answer {
    legs.into_iter().map(Value::degrees).collect()
}

fn listed_for(item: &CourseLegItem, meta: &MixupMeta) -> Vec<Answer> {
    let mut list = MixupList::default();
    CourseLeg.mixups(item, &mut list);
    list.listed_for(meta.id).cloned().collect()
}

/// How far from home the course of a card ends, in metres.
fn open(slip: Slip) -> f64 {
    let item = item(Task::Card(slip));
    let change = item.lines.change();
    let [.., end] = item.course.walked(item.card(slip).map(|set| wrap(set - change)));
    end.easting_m.hypot(end.northing_m)
}

#[test]
fn the_legs_are_set_to_078_198_and_318_and_the_course_is_1800_m_long() {
    let item = item(Task::Set);
    assert_eq!(CourseLeg.answer(&item), bearings([78.0, 198.0, 318.0]));
    assert_eq!(listed_for(&item, &SIGN_FLIPPED), [bearings([62.0, 182.0, 302.0])]);
    assert_eq!(listed_for(&item, &WRONG_END)[1], bearings([78.0, 18.0, 318.0]));
    assert_eq!(item.course.metres(), 1800.0);
}

#[test]
fn the_closing_check_finds_a_wrong_leg_and_never_a_wrong_north() {
    for slip in [Slip::None, Slip::Flipped, Slip::Unturned] {
        assert!(open(slip) < 1e-6, "{slip:?} ends {} m off", open(slip));
    }
    for leg in 0..3 {
        assert!((open(Slip::Reversed(leg)) - 1200.0).abs() < 1e-6, "twice the leg");
    }
    let corners = |slip| {
        let item = item(Task::Card(slip));
        corners_words(item.course.corners(item.card(slip))).to_string()
    };
    assert_eq!(corners(Slip::Flipped), "120 + 120 + 120 = 360");
    assert_eq!(corners(Slip::Reversed(1)), "120 − 60 − 60 = 0");
}

#[test]
fn a_card_with_the_sign_wrong_closes_and_is_wrong_in_all_legs() {
    let judged = |slip| CourseLeg.answer(&item(Task::Card(slip)));
    let about = |closes, wrong| Answer::three(Value::Choice(closes), Value::Choice(wrong), Value::degrees(198.0));
    assert_eq!(item(Task::Set).card(Slip::Flipped), [620, 1820, 3020]);
    assert_eq!(judged(Slip::Flipped), about(0, 4));
    assert_eq!(item(Task::Set).card(Slip::Reversed(1)), [780, 180, 3180]);
    assert_eq!(judged(Slip::Reversed(1)), about(1, 2));
    assert_eq!(judged(Slip::None), about(0, 0));
    assert_eq!((CLOSES[1], WRONG[2]), ("it does not close", "the second leg"));
}

#[test]
fn every_course_that_is_drawn_comes_home_but_for_the_rounding_of_its_millimetres() {
    for level in Level::ALL {
        for seed in 0..500 {
            let course = Bearings::draw(level, &mut Draw::new("K1", level.number(), 1, seed)).measured();
            let [.., end] = course.walked(course.legs());
            let open = end.easting_m.hypot(end.northing_m);
            assert!(open <= 1.6 * f64::from(course.scale.0), "{course:?} ends {open} m off");
            assert_eq!(course.corners(course.legs()).iter().sum::<Tenths>(), CIRCLE, "{course:?}");
        }
    }
}
