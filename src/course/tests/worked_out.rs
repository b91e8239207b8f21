//! Courses against values from outside, and the plan against the numbers.

use super::{GOOD, LEGS, read, route, site};
use crate::angle::{Bearing, North};
use crate::course::{Pegs, Remark, Route, RouteError, plan};
use crate::scene::{Ink, Line, Point, SceneItem, svg};
use std::path::Path;

fn near(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: found {found}, expected {expected}");
}

/// The turn between two directions in degrees, the short way.
fn turn(a: f64, b: f64) -> f64 {
    Bearing::<crate::angle::True>::from_degrees(a).turn_to(Bearing::from_degrees(b)).degrees().abs()
}

fn rows(file: &str) -> Vec<csv::StringRecord> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(file);
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    reader.records().map(Result::unwrap).collect()
}

/// Outside values: pairs.csv (geographiclib, PROJ, geomaglib; its first line says which). Each row is a course of two points.
#[test]
fn bearings_and_lengths_between_points_are_those_of_the_reference_libraries() {
    let rows = rows("pairs.csv");
    assert_eq!(rows.len(), 400);
    for row in rows {
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        let text = format!(
            "title = \"t\"\ndate = 2026-07-01\n[[point]]\nplace = \"{}, {}\"\n[[point]]\nplace = \"{}, {}\"\n",
            &row[1], &row[2], &row[3], &row[4]
        );
        let route = route(&text);
        let leg = &route.legs[0];
        near(&row[0], leg.distance_m, number(5), 5.1e-5);
        near(&row[0], turn(leg.true_bearing.degrees(), number(6)), 0.0, 5.1e-7);
        near(&row[0], turn(leg.grid.unwrap().degrees(), number(14)), 0.0, 5.1e-7);
        // Declinations of the reference are given to 5 decimals.
        near(&row[0], turn(leg.magnetic.degrees(), number(18)), 0.0, 2e-5);
        near(
            &row[0],
            route.grid_magnetic().unwrap().angle().degrees(),
            (number(19) + 180.0).rem_euclid(360.0) - 180.0,
            2e-5,
        );
    }
}

/// Outside values: courses.csv (numpy, on a plane). Legs by grid bearings on the middle line of a zone, where the grid is a plane
/// but for its scale, which all lengths share: 4 mm in 10 km.
#[test]
fn courses_of_legs_close_as_on_the_plane() {
    let rows = rows("courses.csv");
    assert_eq!(rows.len(), 300);
    for row in rows {
        let mut text = "title = \"t\"\ndate = 2026-07-01\nstart = \"45, 9\"\n".to_owned();
        for leg in row[1].split(' ') {
            let (bearing, metres) = leg.split_once(':').unwrap();
            text += &format!("[[leg]]\nbearing = \"{bearing} G\"\nmetres = {metres}\n");
        }
        let route = route(&text);
        let closing = route.closing.unwrap();
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        near(&row[0], closing.distance_m, number(5), 0.02);
        // Two centimetres, seen from the end of the course.
        let sideways = turn(closing.grid.unwrap().degrees(), number(4)).to_radians() * number(5);
        near(&row[0], sideways, 0.0, 0.02);
        near(&row[0], route.total_m, number(6), 1e-6);
        assert!(route.closing_is_an_error);
    }
}

#[test]
fn a_printed_declination_is_brought_to_the_day() {
    // By hand: four years of 9′ E are 36′, and 8° W less 36′ is 7°24′ W.
    let route = route(GOOD);
    assert_eq!(route.declination.to_string(), "7°24′ W");
    assert!(!route.by_model && route.closing.is_none() && route.closing_is_an_error);
    for leg in &route.legs {
        assert_eq!(turn(leg.true_bearing.degrees() + 7.4, leg.magnetic.degrees()), 0.0);
    }
    // 12 min a km and a minute for 10 m up, each leg having its ascent.
    let least = route.total_m * 0.012 + 5.0;
    near("time", route.time.unwrap().least_min, least, 1e-9);
}

#[test]
fn a_printed_g_m_angle_and_the_convergence_make_the_declination() {
    let text = GOOD.replace("declination = \"8 W\"", "gm_angle = \"7 W\"").replace("annual_change = \"9' E\"\n", "");
    let route = route(&text);
    near("G-M angle", route.grid_magnetic().unwrap().angle().degrees(), -7.0, 1e-9);
    assert!(route.remarks.contains(&Remark::AsPrinted), "{:?}", route.remarks);
}

#[test]
fn points_in_two_zones_keep_the_grid_of_the_first_and_that_is_said() {
    let text = "title = \"t\"\ndate = 2026-07-01\n[[point]]\nplace = \"47, 11.99\"\n[[point]]\nplace = \"47, 12.01\"\n";
    let route = route(text);
    let said: Vec<String> = route.remarks.iter().map(ToString::to_string).collect();
    assert!(said.iter().any(|remark| remark.starts_with("The points lie in the zones 32 and 33.")), "{said:?}");
    // Distances and true bearings are those of the ellipsoid; the grid's differ by the convergence at the start.
    let leg = &route.legs[0];
    let by_convergence = leg.true_bearing.degrees() - route.convergence.unwrap().angle().degrees();
    near("grid", turn(leg.grid.unwrap().degrees(), by_convergence), 0.0, 0.001);
}

#[test]
fn beyond_the_grid_there_are_no_grid_bearings_and_legs_cannot_count_from_it() {
    let text = "title = \"t\"\ndate = 2026-07-01\n[[point]]\nplace = \"85, 10\"\n[[point]]\nplace = \"85, 10.1\"\n";
    let there = route(text);
    assert_eq!((there.legs[0].grid, there.convergence), (None, None));
    assert!(there.remarks.contains(&Remark::NoGrid));
    let text = "title = \"t\"\ndate = 2026-07-01\nstart = \"85, 10\"\n[[leg]]\nbearing = \"070 G\"\nmetres = 100\n";
    assert_eq!(Route::of(&read(text).unwrap(), &site()), Err(RouteError::NoGrid));
}

#[test]
fn legs_that_do_not_close_say_how_far_and_where_the_start_lies() {
    let route = route(LEGS);
    let closing = route.closing.unwrap();
    // By hand: 60 m and 60.5 m with 120° between them leave 60 m and a little, on 280 M.
    near("closing", closing.distance_m, 60.25, 0.3);
    near("closing", turn(closing.magnetic.degrees(), 280.0), 0.0, 1.0);
}

#[test]
fn three_pegs_close_by_themselves() {
    for first in [0.0, 40.0, 359.0] {
        let route = Route::of(&Pegs { first: Bearing::from_degrees(first), side_m: 60 }.course(), &site()).unwrap();
        assert_eq!(route.closing, None);
        let bearings: Vec<f64> = route.legs.iter().map(|leg| leg.magnetic.degrees()).collect();
        for (number, bearing) in (0..).zip(bearings) {
            near("peg", turn(bearing, first + 120.0 * f64::from(number)), 0.0, 1e-9);
        }
    }
}

/// The lines of a plan that are drawn in this ink, from and to.
fn lines(items: &[SceneItem], ink: Ink) -> Vec<(Point, Point)> {
    let straight = |line: &Line| Some((*line.points.first()?, *line.points.last()?));
    let of_ink = items.iter().filter_map(|item| if let SceneItem::Line(line) = item { Some(line) } else { None });
    of_ink.filter(|line| line.ink == ink).filter_map(straight).collect()
}

fn length_and_direction((from, to): (Point, Point)) -> (f64, f64) {
    let (right, up) = (to.x - from.x, from.y - to.y);
    (right.hypot(up), right.atan2(up).to_degrees())
}

#[test]
fn the_plan_is_true_to_scale_in_lengths_and_angles() {
    let route = route(GOOD);
    let scene = plan(&route, "Round the tarn", true, 4.0);
    // 1 : 5 000 is the largest round scale at which 470 by 390 m have room on the sheet.
    let page = svg(&scene, 4.0);
    let scale: f64 = page.split("1 : ").nth(1).and_then(|rest| rest.split(',').next()).unwrap().parse().unwrap();
    let drawn = lines(&scene.items, Ink::RightLine);
    assert_eq!(drawn.len(), route.legs.len());
    for (leg, line) in route.legs.iter().zip(drawn) {
        let (mm, degrees) = length_and_direction(line);
        near("length", mm, leg.distance_m * 1_000.0 / scale, 0.1);
        near("direction", turn(degrees, leg.true_bearing.degrees()), 0.0, 0.1);
        // The page itself has the same numbers.
        let ((from, to), path) = (line, "M");
        let written = format!("{path}{:.3} {:.3}L{:.3} {:.3}", from.x, from.y, to.x, to.y);
        assert!(page.contains(&written), "{written}");
    }
    let north = |ink| length_and_direction(lines(&scene.items, ink)[0]).1;
    near("true", north(Ink::TrueNorth), 0.0, 1e-9);
    near("grid", north(Ink::GridNorth), route.convergence.unwrap().angle().degrees(), 0.1);
    near("magnetic", north(Ink::MagneticNorth), route.declination.angle().degrees(), 0.1);
    // The bars: the one for the printer is 100 mm, the other as long as it says.
    let bars: Vec<f64> = lines(&scene.items, Ink::Text).into_iter().map(|line| length_and_direction(line).0).collect();
    assert!(bars.iter().any(|mm| (mm - 100.0).abs() < 1e-9), "{bars:?}");
    let said = page.split('>').find_map(|text| text.strip_suffix(" m</text")).unwrap();
    let metres: f64 = said.parse().unwrap();
    assert!(bars.iter().any(|mm| (mm - metres * 1_000.0 / scale).abs() < 0.1), "{bars:?}, {metres} m");
}

#[test]
fn lines_that_the_course_does_not_name_are_those_of_the_site() {
    assert_eq!(route(GOOD).lines, [North::Grid]);
    assert_eq!(route(LEGS).lines, North::ALL);
}
