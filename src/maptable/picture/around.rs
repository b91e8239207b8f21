//! When the work is done: what one sees around oneself, and how the map should lie.

use super::{Picture, distance};
use crate::angle::{Angle, Bearing, True};
use crate::maptable::Task;
use crate::maptable::shape::direction;
use crate::numbers::real;
use crate::scene::{Dash, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene, arc};
use crate::terrain::{Map, MapView, Spot};

/// How many landmarks stand around, how far apart, and how far from the middle of the sheet.
const MOST_LANDMARKS: usize = 3;
const LEAST_APART: Angle = Angle::from_degrees(50.0);
const FROM_MIDDLE_MM: f64 = 18.0;
/// A map that lies off by less is not drawn twice.
const LEAST_OFF: Angle = Angle::from_degrees(3.0);
/// How much of a side each of its thick ends is.
const CORNER: f64 = 0.16;
/// The same for one that was laid by eye.
const BY_EYE: Angle = Angle::from_degrees(10.0);

impl Picture<'_> {
    /// Whether the map is compared with how it should lie: the work is done and left it off.
    #[must_use]
    pub fn compares(&self) -> bool {
        let off = self.table.map().angle().wrapped_half().abs();
        let least = match self.exercise.task {
            Task::Orient(_) => LEAST_OFF,
            Task::Around(_) => BY_EYE,
            _ => return false,
        };
        self.done && off > least
    }

    /// Whether what stands around is named at the rim: the work is done, and it goes by a map that lies as the land does. One
    /// that serves as a protractor lies anyhow.
    #[must_use]
    pub const fn stands_around(&self) -> bool {
        self.done && !matches!(self.exercise.task, Task::MapBearing { .. })
    }
}

/// How far behind the one arrow the other then stands, in lines of writing.
const BEHIND: f64 = 2.4;
/// Norths that are no farther apart than this have no room for two names and an arc between them.
const CLOSE: Angle = Angle::from_degrees(30.0);

pub(super) fn draw(picture: &Picture<'_>, map: &Map, view: &MapView, scene: &mut Scene) {
    if picture.compares() {
        // What stands around is left out: nothing of it lies where the map points.
        should_lie(map, view, -picture.up, picture.table.map().angle().wrapped_half(), scene);
        return;
    }
    if let Some(around) = picture.exercise.around() {
        // From one's place on the map: on a map that lies right, each mark lies on the way to its name.
        let from = view.point(around.outlook.stand());
        for feature in around.features() {
            at_rim(&feature.name, from, direction(feature.azimuth.angle() - picture.up), view.text_mm, scene);
        }
        return;
    }
    for (name, toward) in landmarks(map).into_iter().filter(|_| picture.stands_around()) {
        at_rim(name, scene.centre(), direction(toward.angle() - picture.up), view.text_mm, scene);
    }
}

/// The border of the map as it should lie, north marked on both, and how far the map has to be turned.
///
/// Turned by half a circle, both borders are one: only the norths tell that the map is upside down.
fn should_lie(map: &Map, view: &MapView, turn: Angle, off: Angle, scene: &mut Scene) {
    let right = MapView { turn, ..view.clone() };
    let (wide, high) = (map.spec().width_mm, map.spec().height_mm);
    let corners = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high), (0.0, 0.0)];
    let place = |view: &MapView, (east, north): (f64, f64)| view.point(Spot::new(east, north));
    sheet_as_it_should_lie(corners.map(|corner| place(&right, corner)), scene);
    let (middle, top) = ((wide / 2.0, high / 2.0), (wide / 2.0, high));
    let centre = place(view, middle);
    let ends = [(view, "map's N", Ink::LearnerLine), (&right, "N should be here", Ink::RightLine)];
    let mut toward = [Direction::UP; 2];
    let close = off.abs() < CLOSE;
    for (at, (view, name, ink)) in ends.into_iter().enumerate() {
        let tip = place(view, top);
        let Some(north) = Direction::between(centre, tip) else { return };
        toward[at] = north;
        let text_mm = view.text_mm;
        // One behind the other where the heads would run into each other.
        let tip = if close && ink == Ink::LearnerLine { tip.along(north, -text_mm * BEHIND) } else { tip };
        // As it lies: a thick stem with a filled head. As it should: a thin one with an open head.
        let stem = Line::straight(tip.along(north, -text_mm * 2.2), tip, ink);
        let (stem, head) =
            if ink == Ink::RightLine { (stem, MarkKind::ArrowHead) } else { (stem.bold(), MarkKind::Triangle) };
        scene.add(stem);
        scene.add(Mark::new(head, tip, text_mm * 1.4, ink).toward(north));
        // Side by side there is room for the angle only beside the name that stands outside of both tips.
        let (name, beyond) = if close && ink == Ink::RightLine {
            (format!("{name}, {}°", off.abs().degrees().round()), text_mm * 1.1)
        } else {
            (name.to_owned(), -text_mm * 2.9)
        };
        let wide = real(name.chars().count()) * text_mm / 4.0 + text_mm * 0.3;
        let at = inside(tip.along(north, beyond), wide, text_mm, scene);
        scene.add(Label::new(name, at, ink).strong().priority(Priority::High).near());
    }
    if close {
        return;
    }
    turn_back(centre, toward, off, view.text_mm, scene);
}

/// The outline of a sheet in dots with its corners thick: beside the double border of the sheet as it lies it is another line
/// without colour, too.
fn sheet_as_it_should_lie(corners: [Point; 5], scene: &mut Scene) {
    scene.add(Line::through(corners.to_vec(), Ink::RightLine).dash(Dash::Dotted));
    for pair in corners.windows(2) {
        let Some(along) = Direction::between(pair[0], pair[1]) else { continue };
        let arm = distance(pair[0], pair[1]) * CORNER;
        scene.add(Line::straight(pair[0], pair[0].along(along, arm), Ink::RightLine).bold());
        scene.add(Line::straight(pair[1], pair[1].along(along, -arm), Ink::RightLine).bold());
    }
}

/// The arc along which the map has to go, with its angle.
fn turn_back(centre: Point, [map, right]: [Direction; 2], off: Angle, text_mm: f64, scene: &mut Scene) {
    let radius = scene.width_mm.min(scene.height_mm) * 0.27;
    let (from, to) = if off > Angle::ZERO { (right, map) } else { (map, right) };
    scene.add(Line::through(arc(centre, radius, from, to), Ink::RightLine).bold());
    // The head follows the chord of its own length.
    let head = text_mm * 1.2;
    let back = direction(Angle::from_radians(head / radius / 2.0));
    let along = if off > Angle::ZERO {
        right.turned_by(back).quarter_counterclockwise()
    } else {
        right.turned_by(back.mirrored()).quarter_clockwise()
    };
    scene.add(Mark::new(MarkKind::ArrowHead, centre.along(right, radius), head, Ink::RightLine).toward(along));
    let half = map.turned_by(direction(-off / 2.0));
    let text = format!("{}°", off.abs().degrees().round());
    let at = centre.along(half, radius + text_mm * 1.1);
    scene.add(Label::new(text, at, Ink::RightLine).strong().priority(Priority::High).near());
}

/// The place for a label so wide to either side that it lies wholly in the picture.
fn inside(at: Point, half_wide: f64, text_mm: f64, scene: &Scene) -> Point {
    let within = |at: f64, half: f64, size: f64| at.min(size - half).max(half);
    Point::new(within(at.x, half_wide, scene.width_mm), within(at.y, text_mm * 0.6, scene.height_mm))
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

/// A name at the edge of the picture, with a mark that points out of it, where one looks from a place in it.
fn at_rim(name: &str, from: Point, toward: Direction, text_mm: f64, scene: &mut Scene) {
    let margin = text_mm * 0.3;
    let room = |at: f64, size: f64, part: f64| match part {
        0.0 => f64::INFINITY,
        part if part > 0.0 => (size - margin - at).max(0.0) / part,
        part => (at - margin).max(0.0) / -part,
    };
    let reach = room(from.x, scene.width_mm, toward.dx()).min(room(from.y, scene.height_mm, toward.dy()));
    let tip = from.along(toward, reach);
    scene.add(Mark::new(MarkKind::Triangle, tip, text_mm * 0.9, Ink::Text).toward(toward));
    let wide = real(name.chars().count()) * text_mm / 4.0 + text_mm * 0.6;
    let at = inside(tip.along(toward, -text_mm * 1.3), wide, text_mm, scene);
    scene.add(Label::new(name, at, Ink::Text).strong().priority(Priority::High).near());
}
