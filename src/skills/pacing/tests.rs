//! Printed counts, and the cases of the trade.

use super::*;

const UPHILL: Ground = GROUNDS[2];

fn item(count: i32, task: Task) -> PacingItem {
    PacingItem { pace: Pace::Double, count, task, start: "the hut", goal: "the weir" }
}

fn listed(item: &PacingItem, meta: &crate::problem::MixupMeta) -> Vec<Answer> {
    let mut list = MixupList::default();
    Pacing.mixups(item, &mut list);
    list.listed_for(meta.id).cloned().collect()
}

#[test]
fn sixty_four_double_paces_for_a_hundred_metres_are_224_for_350() {
    // check_values.csv: CV140 (arithmetic).
    assert_eq!(Pacing.answer(&item(64, Task::ToPaces { distance: 350 })), whole_paces(224));
}

#[test]
fn each_mixup_of_340_metres_has_its_number() {
    // Common practice, no source: 340 m at 62 double paces.
    let item = item(62, Task::ToPaces { distance: 340 });
    assert_eq!(Pacing.answer(&item), whole_paces(211));
    assert_eq!(listed(&item, &SINGLE_DOUBLE), [whole_paces(422)]);
    assert_eq!(listed(&item, &UPSIDE_DOWN), [whole_paces(548)]);
    assert_eq!(listed(&item, &HUNDRED_LOST), [whole_paces(149)]);
}

#[test]
fn uphill_a_quarter_is_added_and_paces_are_judged_beside_their_own_distance() {
    // Common practice, no source: 13.6 mm at 1:25 000 are 340 m, and 264 double paces uphill.
    let item = item(62, Task::FromMap { scale: Scale(25), tenths: 136, ground: UPHILL });
    let both = |metres: f64, paces: f64| Answer::two(Value::Number(metres), Value::Number(paces));
    assert_eq!(Pacing.answer(&item), both(340.0, 264.0));
    // The wrong scale with the right count for it, and the right metres with the wrong kind of pace.
    assert_eq!(listed(&item, &OTHER_SCALE), [both(680.0, 527.0)]);
    assert_eq!(listed(&item, &SINGLE_DOUBLE), [both(340.0, 527.0)]);
    assert_eq!(listed(&item, &GROUND_LEFT_OUT), [both(340.0, 211.0)]);
    assert!(Pacing.question(&item).apart(&both(680.0, 527.0), &both(340.0, 527.0)));
}

#[test]
fn paces_of_the_other_kind_are_brought_into_the_own_first() {
    let item = item(62, Task::ToMetres { walked: 434, walked_in: Pace::Single });
    assert_eq!(Pacing.answer(&item), amount(350.0));
    assert_eq!(listed(&item, &SINGLE_DOUBLE), [amount(700.0)], "all of them taken for double paces");
    let same = PacingItem { pace: Pace::Single, count: 124, ..item };
    assert_eq!(Pacing.answer(&same), amount(350.0));
}
