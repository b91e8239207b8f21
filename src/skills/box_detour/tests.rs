//! The cases of the trade, and what the manuals count.

use super::*;

/// 064, 400 m, a pond after 150; out 80 to the right, 120 along, 80 back.
fn item(asked: Asked) -> BoxDetourItem {
    BoxDetourItem {
        meant: bearing_of(640),
        side: Side::Right,
        leg: 400,
        before: 150,
        out: 80,
        along: 120,
        back: 80,
        asked,
        obstacle: "a pond",
        goal: "the ford",
    }
}

fn listed(item: &BoxDetourItem, meta: &MixupMeta) -> Vec<Answer> {
    let mut list = MixupList::default();
    BoxDetour.mixups(item, &mut list);
    list.listed_for(meta.id).cloned().collect()
}

fn bearings(legs: [f64; 3]) -> Answer {
    legs.into_iter().map(Value::degrees).collect()
}

#[test]
fn out_along_and_back_are_154_064_and_334() {
    // Common practice, no source.
    let item = item(Asked::Bearings);
    assert_eq!(BoxDetour.answer(&item), bearings([154.0, 64.0, 334.0]));
    assert_eq!(listed(&item, &ONE_WAY), [bearings([154.0, 244.0, 334.0])]);
    assert_eq!(listed(&item, &NEVER_BACK), [bearings([154.0, 64.0, 154.0])]);
}

#[test]
fn only_the_leg_along_the_line_is_counted() {
    // Common practice, no source: 130 m are left, and 250 where the parallel leg is forgotten. Whoever counts the legs aside comes to
    // 30 m less than nothing, which nobody can give.
    let item = item(Asked::Left);
    assert_eq!(BoxDetour.answer(&item), amount(130.0));
    assert_eq!(listed(&item, &PARALLEL_LEFT_OUT), [amount(250.0)]);
    assert_eq!(listed(&item, &SIDE_LEGS_COUNTED), []);
    // check_values.csv: CV168 (FM 21-26 ch. 9 and 11): 60 aside, 110 on the bearing, 60 back: 110 are progress, 120 are not.
    let counted = BoxDetourItem { leg: 400, before: 100, out: 60, along: 110, back: 60, ..item };
    assert_eq!(BoxDetour.answer(&counted), amount(190.0));
    assert_eq!(listed(&counted, &SIDE_LEGS_COUNTED), [amount(70.0)]);
}

#[test]
fn a_second_leg_aside_of_sixty_leaves_one_twenty_metres_right_of_the_line() {
    // Common practice, no source.
    let beside = |side: usize, off: f64| Answer::three(Value::Choice(side), Value::Number(off), Value::Number(130.0));
    let short = BoxDetourItem { back: 60, ..item(Asked::Beside) };
    assert_eq!(BoxDetour.answer(&short), beside(Side::Right as usize, 20.0));
    let long = BoxDetourItem { back: 100, ..item(Asked::Beside) };
    assert_eq!(BoxDetour.answer(&long), beside(Side::Left as usize, 20.0));
    assert_eq!(SIDES[Side::Right as usize], "right of the line");
}
