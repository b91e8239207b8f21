//! Geometry in words.
use super::shapes::sweep_degrees;
use super::*;
use proptest::prelude::*;

fn degrees(clockwise_from_up: f64) -> Direction {
    Direction::from_degrees_clockwise_from_up(clockwise_from_up)
}

fn close(a: Direction, b: Direction) -> bool {
    (a.dx() - b.dx()).abs() < 1e-9 && (a.dy() - b.dy()).abs() < 1e-9
}

#[test]
fn degrees_run_clockwise_from_up() {
    assert!(close(degrees(0.0), Direction::UP));
    assert!(close(degrees(90.0), Direction::RIGHT));
    assert!(close(degrees(180.0), Direction::DOWN));
    assert!(close(degrees(270.0), Direction::LEFT));
    assert!(close(degrees(-90.0), Direction::LEFT));
    assert!(close(degrees(720.0 + 90.0), Direction::RIGHT));
    // 30° clockwise from up: sine one half to the right (exact trigonometry).
    assert!((degrees(30.0).dx() - 0.5).abs() < 1e-12);
}

#[test]
fn a_direction_that_is_no_number_is_up() {
    for odd in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_eq!(degrees(odd), Direction::UP);
    }
}

#[test]
fn quarter_turns_go_round_the_sheet() {
    assert_eq!(Direction::UP.quarter_clockwise(), Direction::RIGHT);
    assert_eq!(Direction::RIGHT.quarter_clockwise(), Direction::DOWN);
    assert_eq!(Direction::UP.quarter_counterclockwise(), Direction::LEFT);
    assert_eq!(Direction::LEFT.reversed(), Direction::RIGHT);
}

#[test]
fn along_a_direction_is_that_many_millimetres_away() {
    let there = Point::new(10.0, 20.0).along(Direction::UP, 5.0);
    assert_eq!(there, Point::new(10.0, 15.0));
    assert_eq!(Direction::between(Point::new(0.0, 0.0), Point::new(0.0, 7.0)), Some(Direction::DOWN));
    assert_eq!(Direction::between(there, there), None);
    assert_eq!(Direction::between(there, Point::new(f64::NAN, 0.0)), None);
}

#[test]
fn an_arc_from_north_to_east_is_a_quarter_on_the_upper_right() {
    let points = arc(Point::new(0.0, 0.0), 10.0, Direction::UP, Direction::RIGHT);
    let (first, last) = (points[0], points[points.len() - 1]);
    assert!(first.x.abs() < 1e-9 && (first.y + 10.0).abs() < 1e-9);
    assert!((last.x - 10.0).abs() < 1e-9 && last.y.abs() < 1e-9);
    assert!(points.iter().all(|p| p.x > -1e-9 && p.y < 1e-9));
}

#[test]
fn an_arc_the_other_way_is_the_rest_of_the_circle() {
    assert!((sweep_degrees(Direction::UP, Direction::RIGHT) - 90.0).abs() < 1e-9);
    assert!((sweep_degrees(Direction::RIGHT, Direction::UP) - 270.0).abs() < 1e-9);
    assert!(sweep_degrees(Direction::LEFT, Direction::LEFT).abs() < 1e-9);
}

#[test]
fn a_round_shape_that_is_not_finite_has_no_points() {
    assert!(circle(Point::new(f64::NAN, 0.0), 3.0).is_empty());
    assert!(circle(Point::new(0.0, 0.0), f64::INFINITY).is_empty());
    assert!(arc(Point::new(0.0, 0.0), f64::NAN, Direction::UP, Direction::DOWN).is_empty());
}

#[test]
fn the_list_of_inks_is_in_order_of_rank() {
    for (rank, ink) in (0..).zip(Ink::ALL) {
        assert_eq!(ink.rank(), rank);
    }
}

proptest! {
    #[test]
    fn turning_adds_degrees_and_turning_back_undoes_it(a in -720.0..720.0_f64, b in -720.0..720.0_f64) {
        prop_assert!(close(degrees(a).turned_by(degrees(b)), degrees(a + b)));
        prop_assert!(close(degrees(a).turned_by(degrees(b)).turned_by(degrees(b).mirrored()), degrees(a)));
    }

    #[test]
    fn a_direction_always_has_length_one(a in proptest::num::f64::ANY) {
        let direction = degrees(a);
        prop_assert!((direction.dx().hypot(direction.dy()) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_sweep_is_the_difference_of_degrees(a in 0.0..360.0_f64, turn in 0.001..359.999_f64) {
        prop_assert!((sweep_degrees(degrees(a), degrees(a + turn)) - turn).abs() < 1e-6);
    }

    #[test]
    fn a_circle_is_closed_and_every_chord_is_close_to_it(radius in 0.1..500.0_f64) {
        let points = circle(Point::new(3.0, 4.0), radius);
        prop_assert_eq!(points.len() % 4, 1);
        let (first, last) = (points[0], points[points.len() - 1]);
        prop_assert!((first.x - last.x).hypot(first.y - last.y) < 1e-6 * radius);
        for pair in points.windows(2) {
            let middle = Point::new(f64::midpoint(pair[0].x, pair[1].x), f64::midpoint(pair[0].y, pair[1].y));
            let sag = radius - (middle.x - 3.0).hypot(middle.y - 4.0);
            prop_assert!(sag < 0.051, "sag {sag} mm");
        }
    }
}
