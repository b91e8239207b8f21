#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what a test counts and draws is small")]

use super::*;
use crate::angle::{Convergence, Declination, North};
use crate::maptable::{Leg, MapLine, MapLines, Move, Task, Way};
use crate::scene::SceneItem;
use crate::scene::blocks::RingText;
use crate::scene::cells::{Cell, CellCanvas};
use crate::terrain::MapSpec;
use proptest::prelude::*;

/// The look at the map and that at the compass, at 80x24 and at 120x36, with the cells of each.
const MAPS: [(f64, f64, u16, u16); 2] = [(84.0, 60.0, 42, 15), (122.0, 112.0, 61, 28)];
const COMPASSES: [(f64, f64, u16, u16); 2] = [(70.0, 60.0, 35, 15), (112.0, 112.0, 56, 28)];

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
        aside: Point::default(),
        marks: &[('P', 0), ('Q', 1)],
        needle: exercise.needle(),
        up: Angle::from_degrees(up),
        detail: Detail::Full,
        done: false,
    })
}

fn off_line(point: Point, from: Point, to: Point) -> f64 {
    ((to.x - from.x) * (point.y - from.y) - (to.y - from.y) * (point.x - from.x)).abs()
        / (to.x - from.x).hypot(to.y - from.y)
}

#[test]
fn the_upper_edge_of_a_map_says_so_outside_of_the_sheet_however_it_lies() {
    let (map, mut said) = (map(), 0);
    let exercise = exercise(&map);
    for turn in (0..360).step_by(15) {
        let laid = [Move::TurnMap(Angle::from_degrees(f64::from(turn)))];
        let table = exercise.start.after_all(&laid, &exercise.lines);
        for (width, height, ..) in MAPS {
            with(&table, &exercise, &map, 0.0, |picture| {
                let scene = picture.map_look(width, height, 4.0);
                let top = scene.items.iter().find_map(|item| match item {
                    SceneItem::Label(label) if label.text == super::names::TOP => Some(label.anchor),
                    _ => None,
                });
                // Now and then there is no room for it.
                let Some(top) = top else { return };
                said += 1;
                let spot = picture.view(&map, width, height, 4.0).spot(top);
                let (wide, high) = (map.spec().width_mm, map.spec().height_mm);
                assert!(spot.north_mm > high && (0.0..wide).contains(&spot.east_mm), "turned {turn}: {spot:?}");
            });
        }
    }
    assert!(said >= 40, "{said} of 48");
}

proptest! {
    #[test]
    fn the_edge_lies_exactly_on_its_line_however_everything_is_turned(turn in 0.0..360.0_f64, up in 0.0..360.0_f64, back: bool) {
        let map = map();
        let exercise = exercise(&map);
        let way = if back { Way::Back } else { Way::Ahead };
        let laid = [Move::TurnMap(Angle::from_degrees(turn)), Move::Edge(exercise.lines.all()[0].name, way)];
        let table = exercise.start.after_all(&laid, &exercise.lines);
        for (width, height, ..) in MAPS {
            with(&table, &exercise, &map, up, |picture| {
                let (outline, _) = picture.lying(width, height, 4.0).unwrap();
                let view = picture.view(&map, width, height, 4.0);
                let place = |at: usize| view.point(map.landmarks()[at].spot);
                assert!(off_line(outline.edge.0, place(0), place(1)) < 1e-6);
                assert!(off_line(outline.edge.1, place(0), place(1)) < 1e-6);
            });
        }
    }

    #[test]
    fn the_map_stays_where_it_lies_whatever_is_done_with_the_compass(turn in 0.0..360.0_f64, dial in 0.0..360.0_f64) {
        let map = map();
        let exercise = exercise(&map);
        let leg = exercise.lines.all()[0].name;
        let moves = [
            Move::TurnCompass(Angle::from_degrees(turn)),
            Move::SetDial(Angle::from_degrees(dial)),
            Move::Edge(leg, Way::Ahead),
            Move::TakeUp,
        ];
        let alone = |table: &Table| with(table, &exercise, &map, 30.0, |picture| picture.map_alone(84.0, 60.0, 4.0));
        let before = alone(&exercise.start);
        for count in 1..=moves.len() {
            assert_eq!(alone(&exercise.start.after_all(&moves[..count], &exercise.lines)), before);
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
            let (cols, rows) = ((width / 2.0) as u16, (height / 4.0) as u16);
            for scene in [picture.map_look(width, height, 4.0), picture.compass_look(width, height, 4.0)] {
                let cells = CellCanvas::default().render(&scene, cols, rows);
                assert_eq!((cells.cols(), cells.rows()), (cols, rows));
            }
            let held = picture.grabbed_on_map(Point::new(turn, up), width, height, 4.0);
            assert!(held == Hold::Map || !hand, "only the map can be grabbed while the compass is in the hand");
            let close = picture.grabbed_close(Point::new(turn, up), width, height, 4.0);
            assert!(matches!(close, Hold::Dial | Hold::Compass));
        });
    }
}

/// What of these texts found no place in the cells.
fn lost(scene: &Scene, (_, _, cols, rows): (f64, f64, u16, u16), wanted: &[&str]) -> Vec<String> {
    let cells = CellCanvas::default().render(scene, cols, rows);
    cells.dropped.into_iter().map(|label| label.text).filter(|text| wanted.contains(&text.as_str())).collect()
}

#[test]
fn every_number_of_the_dial_is_in_sight_however_it_is_turned() {
    let map = map();
    let exercise = exercise(&map);
    for turn in (0..360).step_by(2) {
        let moves = [
            Move::SetDial(Angle::from_degrees(f64::from(turn * 5))),
            Move::TurnBoth(Angle::from_degrees(f64::from(turn))),
        ];
        let table = exercise.start.after_all(&moves, &exercise.lines);
        for panel in COMPASSES {
            let scene = with(&table, &exercise, &map, 30.0, |picture| picture.compass_look(panel.0, panel.1, 4.0));
            let lost = lost(&scene, panel, &RingText::THIRTIES);
            assert!(lost.is_empty(), "turned by {turn}, {panel:?}: {lost:?}");
            let drawn = |name: &str| {
                scene.items.iter().any(|item| matches!(item, SceneItem::Label(label) if label.text == name))
            };
            assert!(RingText::THIRTIES.iter().all(|name| drawn(name)), "{panel:?}");
        }
    }
}

#[test]
fn the_index_has_its_name_wherever_it_stands() {
    let map = map();
    let exercise = exercise(&map);
    for panel in COMPASSES.into_iter().chain([(72.0, 52.0, 36, 13)]) {
        let mut nameless = Vec::new();
        for turn in 0..360 {
            let moves = [
                Move::SetDial(Angle::from_degrees(f64::from(turn * 7))),
                Move::TurnBoth(Angle::from_degrees(f64::from(turn))),
            ];
            let table = exercise.start.after_all(&moves, &exercise.lines);
            let scene = with(&table, &exercise, &map, 30.0, |picture| picture.compass_look(panel.0, panel.1, 4.0));
            let drawn =
                scene.items.iter().any(|item| matches!(item, SceneItem::Label(label) if label.text == INDEX_NAME));
            if !drawn || !lost(&scene, panel, &[INDEX_NAME]).is_empty() {
                nameless.push(turn);
            }
        }
        assert!(nameless.is_empty(), "{panel:?}: {} of 360: {nameless:?}", nameless.len());
    }
}

#[test]
fn both_letters_are_in_sight_wherever_the_compass_lies() {
    for seed in 0..40 {
        let map = Map::generate(seed, &MapSpec::default());
        let exercise = exercise(&map);
        let leg = exercise.lines.all()[0].name;
        for turn in (0..360).step_by(30) {
            let turned = Move::TurnBoth(Angle::from_degrees(f64::from(turn)));
            let free = exercise.start.after(turned, &exercise.lines).unwrap();
            let laid = free.after(Move::Edge(leg, Way::Back), &exercise.lines).unwrap();
            for (table, panel) in [(free, MAPS[0]), (laid, MAPS[0]), (free, MAPS[1]), (laid, MAPS[1])] {
                let scene = with(&table, &exercise, &map, 30.0, |picture| picture.map_look(panel.0, panel.1, 4.0));
                let lost = lost(&scene, panel, &["P", "Q"]);
                assert!(lost.is_empty(), "map {seed}, turned by {turn}, {panel:?}: {lost:?}");
            }
        }
    }
}

#[test]
fn what_lies_under_the_compass_is_hidden_by_it() {
    let map = map();
    let exercise = exercise(&map);
    with(&exercise.start, &exercise, &map, 30.0, |picture| {
        let (width, height, cols, rows) = MAPS[1];
        let cells = CellCanvas::default().render(&picture.map_look(width, height, 4.0), cols, rows);
        let land = [Ink::Relief, Ink::Woods, Ink::Water, Ink::Works];
        let covered = |cell: &&Cell| cell.symbol != ' ' && matches!(cell.area, Some(Ink::Plate | Ink::Capsule));
        let under: Vec<&Cell> = cells.lines().flatten().filter(covered).collect();
        assert!(under.len() > 100, "{} cells of compass", under.len());
        // Where the outline of the plate runs through a cell, a dot beside it may be land.
        assert!(under.iter().filter(|cell| land.contains(&cell.ink)).count() * 20 < under.len());
        let sheet = cells.lines().flatten().filter(|cell| cell.area == Some(Ink::Sheet)).count();
        assert!(sheet > 200, "{sheet} cells of paper");
    });
}

#[test]
fn a_hand_takes_hold_of_what_lies_under_it() {
    let map = map();
    let exercise = exercise(&map);
    let table = Table::new(Bearing::from_degrees(0.0), Bearing::from_degrees(30.0), Angle::ZERO).on_map();
    with(&table, &exercise, &map, 30.0, |picture| {
        let (width, height) = (112.0, 112.0);
        let (outline, _) = picture.lying(width, height, 4.0).unwrap();
        let held = |point| picture.grabbed_on_map(point, width, height, 4.0);
        assert_eq!(held(outline.dial), Hold::Dial);
        assert_eq!(
            held(outline.tip.along(outline.travel, -2.0)),
            Hold::Compass,
            "the travel arrow stands on the plate"
        );
        assert_eq!(held(outline.tip.along(outline.travel, 4.0)), Hold::Map);
        let close = |x, y| picture.grabbed_close(Point::new(x, y), width, height, 4.0);
        assert_eq!((close(56.0, 56.0), close(56.0, 1.0)), (Hold::Dial, Hold::Compass));
        let turned = dragged(Point::new(48.0, 10.0), Point::new(74.0, 36.0), Point::new(48.0, 36.0));
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
        aside: Point::default(),
        marks: &[],
        needle: exercise.needle(),
        up: Angle::ZERO,
        detail: Detail::Full,
        done: false,
    };
    let cells = CellCanvas::default().render(&picture.map_look(96.0, 72.0, 4.0), 48, 18);
    let rows = cells.lines().map(|row| row.iter().map(|cell: &Cell| cell.symbol).collect::<String>());
    let at = rows.filter_map(|row| row.chars().position(|letter| letter == 'h')).next().expect("the hut is in view");
    assert!((22..=25).contains(&at), "column {at}");
}

/// The verdict's look at a map that was left so far off, its cells at 80x24.
fn left_off(map: &Map, exercise: &Exercise, off: f64, up: f64) -> Scene {
    let table = Table::new(Bearing::from_degrees(off), Bearing::from_degrees(off), Angle::ZERO).on_map();
    let picture = Picture {
        exercise,
        table: &table,
        map: Some(map),
        aside: Point::default(),
        marks: &[],
        needle: exercise.needle(),
        up: Angle::from_degrees(up),
        detail: Detail::Little,
        done: true,
    };
    picture.map_look(MAPS[0].0, MAPS[0].1, 4.0)
}

#[test]
fn a_map_left_off_is_told_by_its_norths_and_their_angle_however_near_they_lie() {
    let map = map();
    let exercise = exercise(&map);
    for up in (0..360).step_by(40) {
        for off in [4, 9, 15, 22, 29, 30, 31, 45, 90, 150, 180] {
            for off in [f64::from(off), f64::from(-off)] {
                let scene = left_off(&map, &exercise, off, f64::from(up));
                let text = CellCanvas::default().render(&scene, MAPS[0].2, MAPS[0].3).text();
                let angle = format!("{}°", off.abs());
                // Side by side an arc would not have room: the angle stands behind the name.
                let close = off.abs() < 30.0;
                let one = format!("N should be here, {angle}");
                let told: &[&str] = if close { &["map's N", &one] } else { &["map's N", "N should be here", &angle] };
                for told in told {
                    assert!(text.contains(told), "{off}° off, {up} up: {told}\n{text}");
                }
            }
        }
    }
    // A map that lies right, or nearly, is not drawn twice.
    let lies = CellCanvas::default().render(&left_off(&map, &exercise, 2.0, 0.0), MAPS[0].2, MAPS[0].3);
    assert!(!lies.text().contains("should be here"));
}
