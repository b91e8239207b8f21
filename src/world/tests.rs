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
    assert!(words(Place::from_degrees(0.0, 0.0).unwrap(), date(2031, 1, 1)).contains("the magnetic model ends before"));
}

#[test]
fn the_sketch_of_a_place_has_its_norths_as_the_model_has_them() {
    use crate::scene::SceneItem;
    let drawn = |north, east, day| norths(Place::from_degrees(north, east).unwrap(), day, (48.0, 52.0), 4.0);
    let texts = |scene: &Scene| {
        let text = |item: &SceneItem| match item {
            SceneItem::Label(label) => Some(label.text.clone()),
            _ => None,
        };
        scene.items.iter().filter_map(text).collect::<Vec<_>>()
    };
    // Of the tip of the north line with this role, which way it lies from the foot, in degrees clockwise of up.
    let leans = |scene: &Scene, ink: Ink| {
        let line = scene.items.iter().find_map(|item| match item {
            SceneItem::Line(line) if line.ink == ink && line.points.len() == 2 => Some(line),
            _ => None,
        })?;
        let (foot, tip) = (line.points[0], line.points[1]);
        Some((tip.x - foot.x).atan2(foot.y - tip.y).to_degrees())
    };
    for (north, east) in [(46.8, -28.6), (40.0, -130.0), (-35.0, 20.0)] {
        let scene = drawn(north, east, DAY);
        let model = field(Place::from_degrees(north, east).unwrap(), DAY).unwrap().declination().angle();
        assert!((leans(&scene, Ink::MagneticNorth).unwrap() - model.degrees()).abs() < 0.02);
        assert_eq!(leans(&scene, Ink::TrueNorth), Some(0.0));
        let written = crate::angle::declination_words(model.rounded_to(Angle::from_minutes(1.0))).to_string();
        assert_eq!(texts(&scene), ["TN", "MN", &written]);
    }
    assert_eq!(texts(&drawn(84.0, 140.0, DAY)), ["TN"], "where a compass must not be trusted");
    assert_eq!(texts(&drawn(46.8, -28.6, date(2031, 1, 1))), ["TN"], "nor beyond the model's years");
}

#[test]
fn land_is_all_of_the_outlines() {
    // 5,123 points in the file that is shipped.
    assert_eq!(land::rings().iter().map(Vec::len).sum::<usize>(), 5_123);
    assert!(land::rings().iter().all(|ring| ring.len() >= 4));
}
