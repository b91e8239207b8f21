//! The cases of the trade.

use super::*;

fn listed(item: &CompassFaultsItem, meta: &crate::problem::MixupMeta) -> Vec<Answer> {
    let mut list = MixupList::default();
    CompassFaults.mixups(item, &mut list);
    list.listed_for(meta.id).cloned().collect()
}

fn item(task: Task) -> CompassFaultsItem {
    CompassFaultsItem { task, line: LINES[0] }
}

#[test]
fn of_128_130_141_and_129_the_third_steps_aside_and_the_mean_132_is_the_mixup() {
    // Common practice, no source.
    let names = ["Ilva", "Tarn", "Mossa", "Bren"];
    let item = item(Task::Four { readings: [1280, 1300, 1410, 1290], names, odd: 2 });
    assert_eq!(CompassFaults.answer(&item), four(2, 1290));
    assert_eq!(listed(&item, &MEAN_OF_ALL), [four(2, 1320)]);
    assert_eq!(listed(&item, &OTHER_END), [four(0, 1300)], "128 away: 129, 130 and 141 are left");
    // Across north the same.
    let readings = [3590, 10, 120, 0];
    assert_eq!((middle(readings, 2), mean(readings)), (0, 30));
    // The steps put them in their order before they take the middle one.
    assert_eq!(in_order([1280, 1300, 1410, 1290], 2), [1280, 1290, 1300]);
    assert_eq!(in_order(readings, 2), [3590, 0, 10]);
}

#[test]
fn up_to_three_degrees_a_compass_may_go_along() {
    // FM 3-25.26: more than 3° beside a known line is rejected.
    for (off, verdict) in [(-3, 0), (3, 0), (4, 1), (-9, 1)] {
        let task = Task::Known { line: bearing_of(700), declination: offset_of(-80), off };
        assert_eq!(
            CompassFaults.answer(&item(task)),
            Answer::two(Value::degrees(f64::from(off.abs())), Value::Choice(verdict)),
            "{off}"
        );
    }
    // 070° T is 078° M at 8° W; with 082 shown the compass is 4° off, not 12 and not 20.
    let item = item(Task::Known { line: bearing_of(700), declination: offset_of(-80), off: 4 });
    assert_eq!(listed(&item, &NOT_APPLIED), [known(120)]);
    assert_eq!(listed(&item, &SIGN_FLIPPED), [known(200)]);
}

#[test]
fn a_reversed_needle_is_turned_back_and_a_slipped_dial_set_off() {
    // Common practice, no source.
    let read = |shown, mark| item(Task::Reading { line: bearing_of(700), shown, mark });
    assert_eq!(CompassFaults.answer(&read(2500, 1280)), super::super::common::answer(3080));
    assert_eq!(CompassFaults.answer(&read(780, 1280)), super::super::common::answer(1200));
    assert_eq!(listed(&read(780, 1280), &ERROR_ADDED), [super::super::common::answer(1360)]);
    assert_eq!(listed(&read(2500, 1280), &ERROR_ADDED), [], "half a circle has no wrong way");
}

#[test]
fn a_car_wants_18_metres_and_a_high_voltage_line_55() {
    // FM 3-25.26.
    let away = |near, metres| CompassFaults.answer(&item(Task::Iron { near, metres }));
    assert_eq!(away(Iron::PowerLine, 20), amount(35.0));
    assert_eq!(away(Iron::Car, 5), amount(13.0));
}

#[test]
fn every_fault_comes_up_as_often_as_another() {
    let drawn = (0..3_000).map(|seed| Shown::draw(700, &mut Draw::new("E7", 1, 1, seed)).fault as usize);
    let mut times = [0; 6];
    drawn.for_each(|fault| times[fault] += 1);
    assert!(times.iter().all(|times| (400..=600).contains(times)), "{times:?}");
}
