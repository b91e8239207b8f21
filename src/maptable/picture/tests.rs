use super::*;
use crate::angle::{Convergence, Declination, North};
use crate::maptable::{Leg, MapLine, MapLines, Move, Way};
use crate::scene::Item;
use crate::scene::blocks::RingText;
use crate::scene::cells::{Cell, CellCanvas};
use crate::terrain::MapSpec;
use proptest::prelude::*;

const PANELS: [(f64, f64, u16, u16); 2] = [(96.0, 72.0, 48, 18), (152.0, 116.0, 76, 29)];

fn map() -> Map {
    Map::generate(11, &MapSpec::default())
}

fn exercise(map: &Map) -> Exercise {
    let spot = |at: usize| {
        let spot = map.landmarks()[at].spot;
        Point::new(spot.east_mm, map.spec().height_mm - spot.north_mm)
    };
    let leg = LineName::Leg(Leg::new('P', 'Q').unwrap());
    let line = MapLine::between(leg, spot(0), spot(1), Angle::ZERO).unwrap();
    Exercise {
        task: Task::Orient(North::True),
        start: Table::new(Bearing::from_degrees(40.0), Bearing::from_degrees(100.0), Angle::ZERO).on_map(),
        declination: Declination::from_degrees(-17.0),
        printed: Declination::from_degrees(-17.0),
        convergence: Convergence::from_degrees(0.0),
        iron: Angle::ZERO,
        graduation: Angle::from_degrees(2.0),
        lines: MapLines::new(vec![line], Angle::ZERO).unwrap(),
    }
}

fn with<T>(table: &Table, exercise: &Exercise, map: &Map, up: f64, look: impl FnOnce(&Picture<'_>) -> T) -> T {
    look(&Picture {
        exercise,
        table,
        map: Some(map),
        marks: &[('P', 0), ('Q', 1)],
        needle: exercise.needle(),
        up: Angle::from_degrees(up),
    })
}

fn off_line(point: Point, from: Point, to: Point) -> f64 {
    ((to.x - from.x) * (point.y - from.y) - (to.y - from.y) * (point.x - from.x)).abs()
        / (to.x - from.x).hypot(to.y - from.y)
}

proptest! {
    #[test]
    fn the_edge_lies_exactly_on_its_line_however_everything_is_turned(turn in 0.0..360.0_f64, up in 0.0..360.0_f64, back: bool) {
        let map = map();
        let exercise = exercise(&map);
        let way = if back { Way::Back } else { Way::Ahead };
        let laid = [Move::TurnMap(Angle::from_degrees(turn)), Move::Edge(exercise.lines.all()[0].name, way)];
        let table = exercise.start.after_all(&laid, &exercise.lines);
        for (width, height, ..) in PANELS {
            with(&table, &exercise, &map, up, |picture| {
                let (centre, shape) = picture.shape(width, height, 4.0);
                let (rear, front) = picture.outline(centre, &shape).edge;
                let view = picture.view(&map, centre, &shape, width, height, 4.0);
                let place = |at: usize| view.point(map.landmarks()[at].spot);
                assert!(off_line(rear, place(0), place(1)) < 1e-6);
                assert!(off_line(front, place(0), place(1)) < 1e-6);
            });
        }
    }

    #[test]
    fn no_picture_fails_whatever_its_size_and_its_angles(
        width in 0.0..400.0_f64, height in 0.0..300.0_f64, turn in -720.0..720.0_f64, up in -720.0..720.0_f64, hand: bool
    ) {
        let map = map();
        let exercise = exercise(&map);
        let mut table = exercise.start.after(Move::TurnBoth(Angle::from_degrees(turn)), &exercise.lines).unwrap();
        if hand {
            table = table.after(Move::TakeUp, &exercise.lines).unwrap();
        }
        with(&table, &exercise, &map, up, |picture| {
            let scene = picture.scene(width, height, 4.0);
            let (cols, rows) = ((width / 2.0) as u16, (height / 4.0) as u16);
            let cells = CellCanvas::default().render(&scene, cols, rows);
            assert_eq!((cells.cols(), cells.rows()), (cols, rows));
            let held = picture.grabbed(Point::new(turn, up), width, height, 4.0);
            assert!(held == Hold::Map || !hand, "only the map can be grabbed while the compass is in the hand");
        });
    }
}

/// What of these texts found no place in the cells.
fn lost(picture: &Picture<'_>, (width, height, cols, rows): (f64, f64, u16, u16), wanted: &[&str]) -> Vec<String> {
    let cells = CellCanvas::default().render(&picture.scene(width, height, 4.0), cols, rows);
    cells.dropped.into_iter().map(|label| label.text).filter(|text| wanted.contains(&text.as_str())).collect()
}

#[test]
fn every_number_of_the_dial_and_both_letters_are_in_sight_when_the_edge_lies_on_a_leg() {
    let mut wanted = RingText::THIRTIES.to_vec();
    wanted.extend(["P", "Q"]);
    for seed in 0..12 {
        let map = Map::generate(seed, &MapSpec::default());
        let exercise = exercise(&map);
        let leg = exercise.lines.all()[0].name;
        for turn in (0..360).step_by(12) {
            let moves = [
                Move::SetDial(Angle::from_degrees(f64::from(turn * 5))),
                Move::Edge(leg, if turn % 24 == 0 { Way::Ahead } else { Way::Back }),
                Move::TurnBoth(Angle::from_degrees(f64::from(turn))),
            ];
            let table = exercise.start.after_all(&moves, &exercise.lines);
            for panel in PANELS {
                let lost = with(&table, &exercise, &map, 30.0, |picture| lost(picture, panel, &wanted));
                assert!(lost.is_empty(), "map {seed}, turned by {turn}, {panel:?}: {lost:?}");
            }
        }
    }
}

#[test]
fn both_letters_are_in_sight_wherever_the_compass_lies() {
    for seed in 0..40 {
        let map = Map::generate(seed, &MapSpec::default());
        let exercise = exercise(&map);
        for turn in (0..360).step_by(30) {
            let turned = Move::TurnBoth(Angle::from_degrees(f64::from(turn)));
            let table = exercise.start.after(turned, &exercise.lines).unwrap();
            for panel in PANELS {
                let lost = with(&table, &exercise, &map, 30.0, |picture| lost(picture, panel, &["P", "Q"]));
                assert!(lost.is_empty(), "map {seed}, turned by {turn}, {panel:?}: {lost:?}");
            }
        }
    }
}

#[test]
fn a_compass_in_the_hand_has_all_its_numbers_at_both_sizes() {
    let exercise = Exercise {
        task: Task::BackSight {
            walked: Bearing::from_degrees(40.0),
            start_mark: Bearing::from_degrees(200.0),
            doubt: crate::maptable::Doubt::NotAsked,
        },
        lines: MapLines::default(),
        ..exercise(&map())
    };
    for dial in (0..360).step_by(2) {
        let dial = Angle::from_degrees(f64::from(dial));
        let table = Table::new(Bearing::from_degrees(0.0), Bearing::from_degrees(190.0), dial);
        let needle = exercise.needle();
        let picture = Picture { exercise: &exercise, table: &table, map: None, marks: &[], needle, up: Angle::ZERO };
        for panel in PANELS {
            let mut wanted = RingText::THIRTIES.to_vec();
            wanted.push("start");
            let lost = lost(&picture, panel, &wanted);
            assert!(lost.is_empty(), "{dial:?} {panel:?}: {lost:?}");
            let scene = picture.scene(panel.0, panel.1, 4.0);
            let drawn =
                |name: &str| scene.items.iter().any(|item| matches!(item, Item::Label(label) if label.text == name));
            assert!(wanted.iter().all(|name| drawn(name)), "{panel:?}");
        }
    }
}

#[test]
fn a_hand_takes_hold_of_what_lies_under_it() {
    let map = map();
    let exercise = exercise(&map);
    let table = Table::new(Bearing::from_degrees(0.0), Bearing::from_degrees(30.0), Angle::ZERO).on_map();
    with(&table, &exercise, &map, 30.0, |picture| {
        let (width, height) = (96.0, 72.0);
        let held = |x, y| picture.grabbed(Point::new(x, y), width, height, 4.0);
        assert_eq!(held(48.0, 36.0), Hold::Dial);
        assert_eq!(held(48.0, 3.0), Hold::Compass, "the travel arrow stands on the plate");
        assert_eq!(held(4.0, 36.0), Hold::Map);
        let turned = picture.dragged(Point::new(48.0, 10.0), Point::new(74.0, 36.0), width, height, 4.0);
        assert!((turned.degrees() - 90.0).abs() < 1e-9);
    });
}

#[test]
fn what_lies_ahead_stands_over_the_travel_arrow() {
    let exercise = Exercise {
        task: Task::Follow {
            bearing: Angle::from_degrees(60.0),
            north: North::Magnetic,
            landmarks: vec![super::super::Landmark { name: "the hut".into(), azimuth: Bearing::from_degrees(43.0) }],
        },
        lines: MapLines::default(),
        ..exercise(&map())
    };
    let table = Table::new(Bearing::from_degrees(0.0), Bearing::from_degrees(43.0), Angle::from_degrees(60.0));
    let picture = Picture {
        exercise: &exercise,
        table: &table,
        map: None,
        marks: &[],
        needle: exercise.needle(),
        up: Angle::ZERO,
    };
    let cells = CellCanvas::default().render(&picture.scene(96.0, 72.0, 4.0), 48, 18);
    let row: String = cells.lines().next().unwrap().iter().map(|cell: &Cell| cell.symbol).collect();
    let at = row.chars().position(|letter| letter == 'h').expect("the hut is in view");
    assert!((22..=25).contains(&at), "{row:?}");
}
