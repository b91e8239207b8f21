use super::*;
use crate::maptable::{Move, judge};

fn drawn(level: Level, seed: u64) -> OrientLandmarksItem {
    OrientLandmarks.draw(level, None, &mut Draw::new("D4", level.number(), 1, seed))
}

/// Q at 40, V at 130, the map 70 off at first, the look toward 200.
fn by_marks() -> OrientLandmarksItem {
    let mut item = drawn(Level::ONE, 1);
    let feature = |name: &str, azimuth| Feature { name: name.to_owned(), azimuth: Bearing::from_degrees(azimuth) };
    item.scene.by = LaidBy::Marks([feature("Fern Tower", 40.0), feature("Grey Hut", 130.0)]);
    OrientLandmarksItem { facing: bearing_of(2000), lies: bearing_of(700), ..item }
}

#[test]
fn each_wrong_way_turns_the_map_by_its_own_angle() {
    let item = by_marks();
    assert_eq!(OrientLandmarks.answer(&item), Answer::degrees(290));
    let mut list = MixupList::default();
    OrientLandmarks.mixups(&item, &mut list);
    let listed = |meta: &MixupMeta| list.listed_for(meta.id).cloned().collect::<Vec<Answer>>();
    assert_eq!(listed(&UPSIDE_DOWN), [Answer::degrees(110)]);
    assert_eq!(listed(&TOP_AHEAD), [Answer::degrees(130)]);
    assert_eq!(listed(&MARKS_SWAPPED), [Answer::degrees(20)], "the mark of Q toward V");
}

#[test]
fn ten_degrees_are_right_and_eleven_are_not() {
    let item = by_marks();
    for (turned, faults) in [(-60.0, vec![]), (-80.0, vec![]), (-59.0, vec![Fault::MapOff]), (0.0, vec![Fault::MapOff])]
    {
        let work = judge(&item.exercise(), &[Move::TurnMap(Angle::from_degrees(turned))]);
        assert_eq!(work.procedure, faults, "turned by {turned}");
        assert_eq!(work.right, faults.is_empty());
    }
}

#[test]
fn what_stands_beside_the_line_is_in_view_on_its_side_and_found_on_the_map() {
    for seed in 0..60 {
        for level in [Level::THREE, Level::FOUR] {
            let item = drawn(level, seed);
            let LaidBy::Line { line, beside } = &item.scene.by else { panic!("another scene") };
            let off = line.azimuth.turn_to(beside.azimuth).abs().degrees();
            assert!((39.0..=141.0).contains(&off), "seed {seed}: {off}");
            let kinds = item.scene.map.landmarks().iter().filter(|it| it.kind.word() == item.scene.kind).count();
            assert!(level < Level::FOUR || kinds == 1, "seed {seed}: {kinds} of them");
        }
    }
}
