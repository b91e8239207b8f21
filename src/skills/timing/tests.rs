//! The rule beside what is printed of it.

use super::*;

fn minutes(halves: i32, task: Task) -> f64 {
    TimingItem { halves, task, start: "the hut", goal: "the weir" }.minutes()
}

#[test]
fn distance_and_climb_give_the_printed_times() {
    // check_values.csv: CV145 to CV148 (12 min/km and 10 min for 100 m).
    for (halves, up, printed) in [(12, 450, 117.0), (16, 300, 126.0), (7, 0, 42.0), (24, 750, 219.0)] {
        assert!((minutes(halves, Task::Climb { up }) - printed).abs() < 1e-9, "{halves} halves, {up} m");
    }
    // CV144: 20 km and 1600 m of climb are 6 h 40 min.
    assert!((minutes(40, Task::Climb { up: 1600 }) - 400.0).abs() < 1e-9);
}

#[test]
fn a_steep_descent_costs_ten_minutes_for_300_m_and_a_patrol_half_as_much_again() {
    // CV149 (Langmuir 1984): 10 min for 300 m on ground steeper than 12°; the half is common practice, no source.
    let adult = minutes(6, Task::Climb { up: 300 }) + 20.0;
    assert!((minutes(6, Task::Patrol { up: 300, steep_down: 600 }) - 1.5 * adult).abs() < 1e-9);
}

#[test]
fn only_the_ways_up_count_where_it_goes_up_and_down() {
    // Common practice, no source.
    assert!((minutes(10, Task::UpAndDown { up: 300, down: 250, up_again: 200 }) - 110.0).abs() < 1e-9);
    assert!((minutes(10, Task::Lines { lines: 20, interval: 25 }) - 110.0).abs() < 1e-9);
}

#[test]
fn the_least_of_a_fit_adult_is_told_with_every_climb() {
    for task in [Task::Climb { up: 300 }, Task::UpAndDown { up: 300, down: 250, up_again: 200 }] {
        let item = TimingItem { halves: 8, task, start: "the hut", goal: "the weir" };
        let steps = Timing.steps(&item).iter().map(Step::line).collect::<Vec<_>>().join(" ");
        assert!(steps.contains("the least, for a fit adult") && steps.contains("half as much again"), "{steps}");
    }
}

#[test]
fn less_than_the_least_is_wrong_and_another_speed_is_told_as_that() {
    // 3.5 km and 300 m up: 42 + 30 = 72. Common practice, no source.
    let item = TimingItem { halves: 7, task: Task::Climb { up: 300 }, start: "the hut", goal: "the weir" };
    let (question, right) = (Timing.question(&item), Timing.answer(&item));
    for (given, is_right) in [(72.0, true), (70.0, true), (69.0, false), (77.0, true), (78.0, false)] {
        assert_eq!(question.same(&amount(given), &right), is_right, "{given}");
    }
    let mut list = MixupList::default();
    Timing.mixups(&item, &mut list);
    let other: Vec<&Answer> = list.listed_for(OTHER_SPEED.id).collect();
    assert_eq!(other, [&amount(65.0), &amount(82.5)], "6 and 4 km an hour");
    for (given, is_told) in [(65.0, true), (66.0, true), (67.0, false)] {
        assert_eq!(question.is_told(&amount(given), &amount(65.0)), is_told, "{given}");
    }
    assert!(question.apart(&amount(65.0), &right) && !question.apart(&amount(69.0), &right));
}
