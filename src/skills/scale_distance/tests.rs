//! Printed examples, and the cases of the trade.

use super::plan::corners;
use super::*;

fn item(scale: i32, task: Task) -> ScaleDistanceItem {
    ScaleDistanceItem { scale: Scale(scale), task, level: Level::TWO, start: "the hut", goal: "the weir" }
}

fn metres(scale: i32, tenths: i32) -> Answer {
    ScaleDistance.answer(&item(scale, Task::Line { tenths }))
}

#[test]
fn a_length_on_the_map_gives_the_metres_of_the_manuals() {
    // check_values.csv: CV129 (FM 21-26 ch. 5), CV130 to CV133 (arithmetic).
    for (scale, tenths, ground) in
        [(50, 440, 2200.0), (25, 400, 1000.0), (50, 200, 1000.0), (25, 360, 900.0), (50, 730, 3650.0)]
    {
        assert_eq!(metres(scale, tenths), amount(ground), "{tenths} tenths at 1:{scale} 000");
    }
    // CV134 (arithmetic): 4.1667 cm at 1:24 000 are 1000 m; 41.7 mm are as near as tenths come.
    let question = ScaleDistance.question(&item(24, Task::Line { tenths: 417 }));
    assert!(question.same(&metres(24, 417), &amount(1000.0)));
}

#[test]
fn thirteen_and_a_half_millimetres_are_340_m_and_the_other_scale_makes_it_680() {
    // Common practice, no source.
    let item = item(25, Task::Line { tenths: 136 });
    assert_eq!(ScaleDistance.answer(&item), amount(340.0));
    let mut list = MixupList::default();
    ScaleDistance.mixups(&item, &mut list);
    assert_eq!(list.listed_for(OTHER_SCALE.id).collect::<Vec<_>>(), [&amount(680.0)]);
    assert_eq!(list.listed_for(TEN_TIMES.id).collect::<Vec<_>>(), [&amount(3400.0), &amount(34.0)]);
}

#[test]
fn what_a_slope_adds_is_told_as_near_as_the_answer_is_judged() {
    // CV156 (500 / cos 20): 532.1 m.
    let question = ScaleDistance.question(&item(25, Task::Line { tenths: 200 }));
    let up = |degrees, longer| item(25, Task::Slope { tenths: 200, degrees, longer });
    assert!(question.same(&amount(532.1), &ScaleDistance.answer(&up(20, 6))));
    for (degrees, longer) in SLOPES {
        let exact = 500.0 / f64::from(degrees).to_radians().cos();
        assert!(question.same(&amount(exact), &ScaleDistance.answer(&up(degrees, longer))), "{degrees}°: {exact}");
    }
}

#[test]
fn the_bar_is_read_from_its_zero_to_both_sides() {
    // Common practice, no source.
    let item = item(25, Task::Bar { km: 3, parts: 4 });
    assert_eq!(ScaleDistance.answer(&item), amount(3400.0));
    let mut list = MixupList::default();
    ScaleDistance.mixups(&item, &mut list);
    assert_eq!(list.listed_for(BAR_END.id).collect::<Vec<_>>(), [&amount(4400.0)]);
    assert_eq!(list.listed_for(PARTS_FROM_END.id).collect::<Vec<_>>(), [&amount(3600.0)]);
}

#[test]
fn a_bent_path_is_drawn_as_long_as_it_is_told() {
    for (pieces, turn) in [([20, 30, 25], 40), ([12, 40, 33], 55)] {
        let [start, _, _, end] = corners(pieces, turn);
        assert!((start.distance_m(end) - f64::from(across(pieces, turn))).abs() <= 0.5);
        assert!(f64::from(across(pieces, turn)) < 0.85 * f64::from(pieces.iter().sum::<i32>()), "plainly shorter");
    }
}

#[test]
fn from_the_ground_to_the_map_is_the_way_back() {
    // check_values.csv: CV130 to CV133 (arithmetic), read from the right: 1000 m at 1:25 000 are 40 mm.
    for (scale, metres, mm) in [(25, 1000, 40.0), (50, 1000, 20.0), (25, 900, 36.0), (50, 3650, 73.0)] {
        assert_eq!(ScaleDistance.answer(&item(scale, Task::OnMap { metres })), amount(mm));
    }
    let item = item(25, Task::OnMap { metres: 340 });
    let mut list = MixupList::default();
    ScaleDistance.mixups(&item, &mut list);
    assert_eq!(list.listed_for(MULTIPLIED.id).collect::<Vec<_>>(), [&amount(8500.0)]);
    assert_eq!(list.listed_for(OTHER_SCALE.id).collect::<Vec<_>>(), [&amount(6.8)]);
}

#[test]
fn a_path_winds_so_that_straight_across_is_plainly_shorter_and_the_bar_is_long_enough() {
    let mut paths = 0;
    for seed in 0..40 {
        let item = ScaleDistance.draw(Level::THREE, None, &mut Draw::new("C2", 3, META.generation, seed));
        let Task::Path(path) = &item.task else { continue };
        paths += 1;
        assert!((900.0..=2900.0).contains(&path.metres()), "seed {seed}: {}", path.metres());
        let mut list = MixupList::default();
        path.mixups(&mut list);
        let straight = list.listed_for(STRAIGHT.id).next().expect("always listed");
        let [crate::problem::Value::Number(straight)] = straight.values() else { panic!("{straight:?}") };
        assert!(*straight < 0.77 * path.metres(), "seed {seed}: {straight} of {}", path.metres());
        let steps = ScaleDistance.steps(&item).len();
        assert!((0..steps).all(|step| ScaleDistance.step_figure(&item, step).is_some()));
    }
    assert!(paths > 10, "{paths}");
}
