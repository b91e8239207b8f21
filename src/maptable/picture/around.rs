//! When the work is done: what one sees around oneself, and how the map should lie.

use super::Picture;
use crate::angle::{Angle, Bearing, True};
use crate::maptable::Task;
use crate::maptable::shape::direction;
use crate::numbers::real;
use crate::scene::{Dash, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};
use crate::terrain::{Map, MapView, Spot};

/// How many landmarks stand around, how far apart, and how far from the middle of the sheet.
const MOST_LANDMARKS: usize = 3;
const LEAST_APART: Angle = Angle::from_degrees(50.0);
const FROM_MIDDLE_MM: f64 = 18.0;
/// A map that lies off by less is not drawn twice.
const LEAST_OFF: Angle = Angle::from_degrees(3.0);

pub(super) fn draw(picture: &Picture<'_>, map: &Map, view: &MapView, scene: &mut Scene) {
    let off = picture.table.map().angle().wrapped_half();
    if matches!(picture.exercise.task, Task::Orient(_)) && off.abs() > LEAST_OFF {
        should_lie(map, view, -picture.up, scene);
    }
    for (name, toward) in landmarks(map) {
        at_rim(name, direction(toward.angle() - picture.up), view.text_mm, scene);
    }
}

/// The border of the map as it should lie, with an arrow to its north.
fn should_lie(map: &Map, view: &MapView, turn: Angle, scene: &mut Scene) {
    let right = MapView { turn, ..view.clone() };
    let (wide, high) = (map.spec().width_mm, map.spec().height_mm);
    let corners = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high), (0.0, 0.0)];
    let place = |(east, north): (f64, f64)| right.point(Spot::new(east, north));
    scene.add(Line::through(corners.map(place).to_vec(), Ink::RightLine).dash(Dash::Dashed));
    let (middle, top) = (place((wide / 2.0, high / 2.0)), place((wide / 2.0, high)));
    if let Some(toward) = Direction::between(middle, top) {
        scene.add(Mark::new(MarkKind::Triangle, top, view.text_mm, Ink::RightLine).toward(toward));
        let label = Label::new("should lie so", top.along(toward, -view.text_mm * 1.6), Ink::RightLine);
        scene.add(label.strong().priority(Priority::High).near());
    }
}

/// Landmarks in different directions from the middle of the map: over an oriented map each lies where its mark is.
fn landmarks(map: &Map) -> Vec<(&str, Bearing<True>)> {
    let mut chosen: Vec<(&str, Bearing<True>)> = Vec::new();
    for landmark in map.landmarks() {
        let Some(toward) = map.true_bearing(map.middle(), landmark.spot) else { continue };
        let far = map.middle().distance_mm(landmark.spot) >= FROM_MIDDLE_MM;
        if far && chosen.iter().all(|(_, other)| other.turn_to(toward).abs() >= LEAST_APART) {
            chosen.push((&landmark.name, toward));
        }
    }
    chosen.truncate(MOST_LANDMARKS);
    chosen
}

/// A name at the edge of the picture, with a mark that points out of it.
fn at_rim(name: &str, toward: Direction, text_mm: f64, scene: &mut Scene) {
    let (half_wide, half_high) = (scene.width_mm / 2.0, scene.height_mm / 2.0);
    let room = |half: f64, part: f64| if part == 0.0 { f64::INFINITY } else { half / part.abs() };
    let reach = room(half_wide - text_mm * 0.3, toward.dx()).min(room(half_high - text_mm * 0.3, toward.dy()));
    let tip = scene.centre().along(toward, reach);
    scene.add(Mark::new(MarkKind::Triangle, tip, text_mm * 0.9, Ink::Text).toward(toward));
    let wide = real(name.chars().count()) * text_mm / 4.0 + text_mm * 0.6;
    let inside = |at: f64, half: f64, size: f64| at.min(size - half).max(half);
    let beside = tip.along(toward, -text_mm * 1.3);
    let at = Point::new(inside(beside.x, wide, scene.width_mm), inside(beside.y, text_mm * 0.6, scene.height_mm));
    scene.add(Label::new(name, at, Ink::Text).strong().priority(Priority::High).near());
}
