use super::*;
use crate::angle::{Convergence, Declination, North};
use crate::maptable::{Leg, MapLine, MapLines, Move, Way};
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
                let (rear, front) = picture.edge(width, height).unwrap();
                let place = |at: usize| {
                    let spot = map.landmarks()[at].spot;
                    let sheet = Point::new(spot.east_mm, map.spec().height_mm - spot.north_mm);
                    picture.on_panel(sheet, width, height, 4.0).unwrap()
                };
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
            let held = picture.grabbed(Point::new(turn, up), width, height);
            assert!(held == Hold::Map || !hand, "only the map can be grabbed while the compass is in the hand");
        });
    }
}

#[test]
fn the_letters_of_the_dial_are_in_sight_at_each_turn_and_both_sizes() {
    let map = map();
    let exercise = exercise(&map);
    for turn in (0..360).step_by(3) {
        let moves = [
            Move::SetDial(Angle::from_degrees(f64::from(turn))),
            Move::TurnBoth(Angle::from_degrees(f64::from(turn * 7))),
        ];
        let table = exercise.start.after_all(&moves, &exercise.lines);
        for (width, height, cols, rows) in PANELS {
            let picture = with(&table, &exercise, &map, 30.0, |picture| {
                CellCanvas::default().render(&picture.scene(width, height, 4.0), cols, rows)
            });
            let lost: Vec<&str> = picture
                .dropped
                .iter()
                .map(|dropped| dropped.text.as_str())
                .filter(|text| ["N", "E", "S", "W", "P", "Q"].contains(text))
                .collect();
            // A marked place may lie outside of the picture; its letter is then out of it, too.
            let letters = lost.iter().filter(|text| !["P", "Q"].contains(*text)).count();
            assert_eq!(letters, 0, "at {turn}, {cols} by {rows}: {lost:?}");
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
        let held = |x, y| picture.grabbed(Point::new(x, y), width, height);
        assert_eq!(held(48.0, 36.0), Hold::Dial);
        assert_eq!(held(48.0, 3.0), Hold::Compass, "the travel arrow stands on the plate");
        assert_eq!(held(4.0, 36.0), Hold::Map);
        let turned = picture.dragged(Point::new(48.0, 10.0), Point::new(74.0, 36.0), width, height);
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
