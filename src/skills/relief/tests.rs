//! The cases of the trade, and that no place in the list is the right one.

use super::*;
use crate::numbers::real;
use crate::problem::{MapPoint, PlanKind};
use meta::{LOW_FOR_HIDDEN, SEEN_FOR_HIDDEN};

fn items(level: Level) -> impl Iterator<Item = ReliefItem> {
    (0..1_500).map(move |seed| Relief.draw(level, None, &mut Draw::new("C8", level.number(), 1, seed)))
}

#[test]
fn ground_that_falls_to_230_m_with_5_e_falls_to_235_t() {
    // Common practice, no source: uphill is 055, along the contour 145 and 325; the sign turned round 225, not applied 230.
    let (felt, declination): (Bearing<Magnetic>, Declination) = (bearing_of(2300), super::super::common::offset_of(50));
    let falls: Bearing<True> = felt.to(declination.inverse());
    assert_eq!(falls, bearing_of(2350));
    let fault = |degrees| find::fault_of_fall(falls, Bearing::from_degrees(degrees), declination).map(|meta| meta.id);
    assert_eq!(fault(55.0), Some(UPHILL.id));
    assert_eq!([fault(145.0), fault(325.0)], [Some(ALONG_CONTOUR.id); 2]);
    assert_eq!(fault(225.0), Some(SIGN_FLIPPED.id));
    assert_eq!(fault(280.0), None);
}

#[test]
fn shapes_are_told_by_the_sides_to_which_the_ground_rises() {
    let of = |up: &[usize]| Shape::of(std::array::from_fn(|at| if up.contains(&at) { 9 } else { -9 }));
    assert_eq!(of(&[]), Some(Shape::Top));
    assert_eq!(of(&[0, 4]), Some(Shape::Saddle));
    assert_eq!([of(&[3]), of(&[7, 0])], [Some(Shape::Spur); 2]);
    assert_eq!(of(&[0, 1, 2, 3, 4, 5]), Some(Shape::Reentrant));
    assert_eq!([of(&[0, 1, 2, 3]), of(&[0, 1, 2, 3, 4, 5, 6, 7])], [None; 2], "a slope, and a hollow");
    assert_eq!(Shape::of([9, 1, -9, -9, -9, -9, -9, -9]), None, "too little to be seen");
}

#[test]
fn no_higher_line_runs_beside_a_top() {
    let mut tops = 0;
    for item in items(Level::ONE) {
        let Task::Shape { place, shape: Shape::Top } = item.task else { continue };
        tops += 1;
        let (at, height) = (Lattice::place(place), item.lattice.height(place));
        // As it is drawn, in a frame of its own.
        let Figure::Plan(plan) = item.patch(None, None) else { panic!("a plan") };
        for line in plan.lines.iter().filter(|line| line.kind == PlanKind::Contour) {
            let near = |point: &MapPoint| (point.east_m - at.east_m).hypot(point.north_m - at.north_m) < 95.0;
            let beside = line.label.parse::<i32>().unwrap() > height && line.through.iter().any(near);
            assert!(!beside, "a line of {} beside a top of {height}", line.label);
        }
    }
    assert!(tops >= 20, "{tops} tops");
}

#[test]
fn a_straight_line_from_the_eye_tells_what_the_ground_hides() {
    // From 402 m to 360 m the line passes 391.5, 381 and 370.5 m.
    assert!((find::straight(400, [0, 0, 0, 360], 1) - 381.0).abs() < 1e-9);
    assert!((find::over(400, [385, 390, 365, 360]) - 9.0).abs() < 1e-9);
    assert!(find::over(400, [370, 350, 340, 360]) < 0.0);
}

#[test]
fn every_wrong_choice_has_a_name_and_each_choice_is_right_as_often_as_another() {
    for level in Level::ALL {
        let (mut all, mut rights) = (0, [0; 4]);
        for item in items(level) {
            let right = item.right();
            rights[right] += 1;
            all += 1;
            for at in (0..item.choices()).filter(|at| *at != right) {
                assert!(item.fault(at).is_some(), "level {level}: {}", item.says(at));
            }
        }
        let choices = if level == Level::ONE || level == Level::THREE { 4 } else { 3 };
        for (at, right) in rights.iter().enumerate().take(choices) {
            let share = real(*right) / f64::from(all);
            assert!((share - 1.0 / real(choices)).abs() < 0.05, "level {level}: {at} in {share}");
        }
    }
}

#[test]
fn what_a_place_is_by_height_alone_does_not_tell_whether_it_is_steepest_or_hidden() {
    for level in [Level::TWO, Level::FOUR] {
        let mut by_height = [0; 3];
        for item in items(level) {
            let places = item.places();
            let right = item.lattice.height(places[item.right()]);
            by_height[places.iter().filter(|place| item.lattice.height(**place) < right).count()] += 1;
        }
        for (rank, count) in by_height.into_iter().enumerate() {
            assert!(real(count) / 1_500.0 < 0.6, "level {level}: rank {rank} in {count}");
        }
    }
}

#[test]
fn the_place_that_fits_falls_to_the_compass_number_with_declination() {
    for item in items(Level::THREE) {
        let Task::Falls { places, right, declination } = item.task else { panic!("a fall") };
        assert_eq!(item.on_map(declination), item.toward(places[right]).in_tenths());
        for (at, place) in places.into_iter().enumerate().filter(|(at, _)| *at != right) {
            let off = item.toward(places[right]).turn_to(item.toward(place)).abs().tenths();
            assert!(off >= 180, "{at}: {off}");
        }
    }
}

#[test]
fn what_is_hidden_stands_behind_higher_ground_and_what_is_seen_does_not() {
    for item in items(Level::FOUR) {
        let right = item.right();
        for at in 0..3 {
            let (stand, heights) = item.sight(at);
            let over = find::over(stand, heights);
            assert!(if at == right { over >= 5.0 } else { over <= -3.0 }, "{at}: {over}");
            let low = item.fault(at).is_some_and(|meta| *meta == LOW_FOR_HIDDEN || *meta == SEEN_FOR_HIDDEN);
            assert!(low);
        }
    }
}

#[test]
fn high_ground_between_alone_does_not_tell_what_is_hidden() {
    let highest_hides = |item: &ReliefItem| {
        let highest = |at| item.sight(at).1.into_iter().take(3).max();
        let most = (0..3).max_by_key(|at| highest(*at));
        most == Some(item.right())
    };
    let told = items(Level::FOUR).filter(highest_hides).count();
    assert!(real(told) / 1_500.0 < 0.6, "in {told} of 1,500");
}

#[test]
fn on_a_small_screen_nearly_each_patch_has_two_heights_from_which_up_and_down_are_told() {
    use crate::scene::cells::CellCanvas;
    let mut without = Vec::new();
    for (level, seed) in Level::ALL.into_iter().flat_map(|level| (0..150).map(move |seed| (level, seed))) {
        let item = Relief.draw(level, None, &mut Draw::new("C8", level.number(), 2, seed));
        let scene = Relief.figure(&item).scene(66.0, 68.0).expect("a patch");
        let text = CellCanvas::default().render(&scene, 33, 17).text();
        let words = text.split(|letter: char| !letter.is_ascii_digit()).filter(|word| word.len() >= 2);
        let heights: std::collections::BTreeSet<&str> = words.collect();
        if heights.len() < 2 {
            without.push(format!("{level} {seed}\n{text}"));
        }
    }
    // Where the lines of a few corners are all there is, the names take the room.
    assert!(33 * without.len() <= 600, "{} of 600: {}", without.len(), without[..without.len().min(3)].join("\n"));
}
