//! The rule, and where it stands beside the tangent.

use super::*;

fn right(task: Task) -> Answer {
    let item = OneInSixtyItem { meant: bearing_of(600), side: Side::Right, task, level: Level::TWO, place: "the hut" };
    OneInSixty.answer(&item)
}

#[test]
fn one_degree_is_one_metre_in_sixty() {
    // Common practice, no source: the rule itself.
    assert_eq!(right(Task::Offset { distance: 60, off: 1 }), metres(1.0));
    assert_eq!(right(Task::Offset { distance: 900, off: 4 }), metres(60.0));
    assert_eq!(right(Task::Error { distance: 900, offset: 60 }), size(4.0));
    // 30 m off after 600 m, 900 m to go: 3 back and 2 more.
    assert_eq!(right(Task::Closing { walked: 600, offset: 30, left: 900 }), closing(1, 5.0));
}

#[test]
fn the_tangents_number_is_right_as_well() {
    for off in 2..=10 {
        for distance in [240, 600, 2400] {
            let rule = f64::from(distance * off) / 60.0;
            let exact = f64::from(distance) * f64::from(off).to_radians().tan();
            assert!((exact - rule).abs() <= NEAR * rule, "{off}° over {distance} m: {rule} and {exact}");
            let back = (rule / f64::from(distance)).atan().to_degrees();
            assert!((back - f64::from(off)).abs() <= f64::max(NEAR * f64::from(off), 0.5), "{off}: {back}");
        }
    }
}

#[test]
fn who_stands_right_of_the_line_turns_counterclockwise() {
    for (side, way) in [(Side::Left, "clockwise"), (Side::Right, "counterclockwise")] {
        assert_eq!(SENSES[side.back()], way);
    }
}
