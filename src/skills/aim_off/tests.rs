//! The cases of the trade, and what the manuals count.

use super::*;
use crate::numbers::real;

/// A bridge 800 m away on 010, an error of 5°, aimed off to the left by 3° more.
fn item(level: Level) -> AimOffItem {
    AimOffItem { straight: bearing_of(100), distance: 800, error: 5, margin: 3, aimed: 0, level, spot: SPOTS[0] }
}

fn listed(item: &AimOffItem, meta: &MixupMeta) -> Vec<Answer> {
    let mut list = MixupList::default();
    AimOff.mixups(item, &mut list);
    list.listed_for(meta.id).cloned().collect()
}

fn both(aim: f64, then: usize) -> Answer {
    Answer::two(Value::degrees(aim), Value::Choice(then))
}

#[test]
fn eight_degrees_left_of_010_is_002_and_the_bridge_then_lies_right() {
    // Common practice, no source.
    let item = item(Level::THREE);
    assert_eq!(AimOff.answer(&item), both(2.0, 1));
    assert_eq!(listed(&item, &NO_OFFSET), [both(10.0, 0), both(10.0, 1)]);
    assert_eq!(listed(&item, &TOO_SMALL), [both(5.0, 1)]);
    let wide = AimOffItem { error: 6, margin: 2, ..item };
    assert_eq!(listed(&wide, &TOO_SMALL), [both(4.0, 1), both(8.0, 1)]);
    assert_eq!(listed(&item, &WRONG_TURN), [both(2.0, 0)]);
    assert_eq!(listed(&item, &OTHER_SIDE), [both(18.0, 0), both(18.0, 1)]);
    let across = AimOffItem { straight: bearing_of(40), ..item };
    assert_eq!(AimOff.answer(&across), both(356.0, 1));
    assert_eq!(listed(&across, &NOT_WRAPPED), [both(-4.0, 1)]);
}

#[test]
fn the_farthest_place_by_the_rule_is_that_of_the_tangent() {
    // Common practice, no source: the bridge lies 42 to 185 m on (800 tan 3°, 800 tan 13°). CV167: 900 m and 6° are 94.6 m, by the
    // rule 90; CV166: about 180 m for 10° and 1000 m.
    let item = item(Level::FOUR);
    assert_eq!(item.farthest(item.offset()), 173);
    let near = |rule: f64, exact: f64| (exact - rule).abs() <= 0.1 * rule;
    assert!(near(173.3, 184.7) && near(90.0, 94.6) && near(166.7, 176.0));
    for (error, margin) in (3..=6).flat_map(|error| (2..=4).map(move |margin| (error, margin))) {
        let item = AimOffItem { error, margin, distance: 600, ..self::item(Level::FOUR) };
        let exact = 600.0 * f64::from(2 * error + margin).to_radians().tan();
        assert!(near(f64::from(item.farthest(item.offset())), exact), "{error}° and {margin}°: {exact}");
    }
}

#[test]
fn one_comes_out_on_the_side_aimed_to_whatever_the_error() {
    for (error, margin) in (3..=6).flat_map(|error| (2..=4).map(move |margin| (error, margin))) {
        let item = AimOffItem { error, margin, ..item(Level::THREE) };
        // Off to the right by the whole error, one still walks left of the bridge; with what is too small one does not.
        let worst = |aim: Tenths| (angle(aim) - item.straight.angle()).wrapped_half().degrees() + f64::from(error);
        assert!(worst(item.aim(item.offset())) < -1.0 && worst(item.aim(error - 1)) > 0.0);
    }
}

/// Else whoever takes the first side that is named, or the last, would need no thought.
#[test]
fn the_good_side_of_the_ground_is_named_first_as_often_as_last() {
    let first = (0..2_000).filter(|seed| {
        let item = AimOff.draw(Level::FOUR, None, &mut Draw::new("G1", 4, 1, *seed));
        let prompt = AimOff.prompt(&item);
        prompt.find(item.spot.good).unwrap() < prompt.find(item.spot.bad).unwrap()
    });
    let share = real(first.count()) / 2_000.0;
    assert!((0.45..=0.55).contains(&share), "{share}");
}

#[test]
fn both_sides_are_aimed_to_about_as_often() {
    let items: Vec<AimOffItem> =
        (0..2_000).map(|seed| AimOff.draw(Level::FOUR, None, &mut Draw::new("G1", 4, 1, seed))).collect();
    let left = real(items.iter().filter(|item| item.aimed == 0).count()) / real(items.len());
    assert!((0.45..=0.55).contains(&left), "{left}");
}
