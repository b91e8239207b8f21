use super::*;
use jiff::civil::date;

const DAY: Date = date(2026, 11, 28);

#[test]
fn every_drawn_line_runs_where_the_model_has_its_declination() {
    let chart = Chart::of(DAY);
    assert_eq!(chart.lines().iter().map(|line| line.east).collect::<Vec<_>>(), [-30, -20, -10, 0, 10, 20, 30]);
    for line in chart.lines() {
        let places = || line.pieces.iter().flatten();
        assert!(places().count() > 20, "{}", line.east);
        for (east, north) in places() {
            let place = Place::from_degrees(*north, *east).unwrap();
            let there = field(place, DAY).unwrap().declination().angle().degrees();
            assert!((there - f64::from(line.east)).abs() < 0.5, "{} at {north}, {east}: {there}", line.east);
        }
    }
}

#[test]
fn the_agonic_line_parts_west_from_east() {
    // From the model itself: over the Atlantic the needle points west, over the eastern Pacific east.
    assert!(words(Place::from_degrees(40.0, -30.0).unwrap(), DAY).contains("west of true north"));
    assert!(words(Place::from_degrees(40.0, -130.0).unwrap(), DAY).contains("east of true north"));
    assert!(
        words(Place::from_degrees(84.0, 140.0).unwrap(), DAY).contains("zone"),
        "near the pole nothing is promised"
    );
    assert!(words(Place::from_degrees(0.0, 0.0).unwrap(), date(2031, 1, 1)).contains("does not know this day"));
}

#[test]
fn land_is_all_of_the_outlines() {
    // 5,123 points in the file that is shipped.
    assert_eq!(land::rings().iter().map(Vec::len).sum::<usize>(), 5_123);
    assert!(land::rings().iter().all(|ring| ring.len() >= 4));
}
