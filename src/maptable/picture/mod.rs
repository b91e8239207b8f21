//! The picture of the table: map, compass and needle as a scene in millimetres.
//!
//! The dial's centre stays where it is in the picture, and everything turns about it: so the compass is in sight however
//! things lie, and a turn is smooth. In the hand without a map, the travel arrow points up, and above the compass stands what
//! is in view.

mod compass;
mod view;

use super::shape::{CompassOutline, CompassShape, direction, outline_at, outline_on_sheet};
use super::{Exercise, Hold, LineName, Place, Table, Task};
use crate::angle::{Angle, Bearing, True};
use crate::scene::{Direction, Ink, Label, Mark, MarkKind, Point, Priority, Rect, Scene};
use crate::terrain::{Map, MapView, Rim, Spot};

/// What the picture is made of.
#[derive(Clone, Copy, Debug)]
pub struct Picture<'a> {
    /// The exercise: its lines, and what is in view.
    pub exercise: &'a Exercise,
    /// How things lie.
    pub table: &'a Table,
    /// The map; none where the compass is held in the hand and sighted along.
    pub map: Option<&'a Map>,
    /// Marked places: the letter, and which of the map's landmarks it stands at.
    pub marks: &'a [(char, usize)],
    /// Where the needle is drawn; a swinging one is not yet where it will come to rest.
    pub needle: Bearing<True>,
    /// The azimuth that points up in the picture. Without a map it is the travel arrow that does.
    pub up: Angle,
}

/// A marked place as it is drawn: the letter, where it stands, and the mark beside it.
struct Letter {
    letter: char,
    place: Point,
    mark: Mark,
}

/// How large the compass is, in parts of half the picture's shorter side.
const RIM: f64 = 0.715;
const FRONT: f64 = 0.97;
const REAR: f64 = 0.775;
const ASIDE: f64 = 0.785;
/// Lines of writing that what is in view takes above the compass.
const VIEW_LINES: f64 = 3.5;

impl Picture<'_> {
    /// The scene on a panel of this size; `text_mm` is the height of a line of writing.
    #[must_use]
    pub fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = self.under_compass(width_mm, height_mm, text_mm);
        self.add_compass(width_mm, height_mm, text_mm, &mut scene);
        scene
    }

    /// All that lies under the compass: it stays the same while only dial and needle turn.
    #[must_use]
    pub fn under_compass(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let Some(map) = self.map else {
            let mut scene = Scene::new(width_mm, height_mm);
            let above = self.above(height_mm, text_mm);
            if above > 0.0 {
                view::draw(self, width_mm, above, text_mm, &mut scene);
            }
            return scene;
        };
        let view = if self.table.place() == Place::Hand {
            let view = self.asking(map, MapView::whole(map, width_mm, height_mm));
            let diagonal = map.spec().width_mm.hypot(map.spec().height_mm);
            let zoom = (width_mm.min(height_mm) / diagonal).max(view.zoom * 0.72);
            MapView { zoom, text_mm, ..view.turned(self.table.map().angle() - self.up) }
        } else {
            let (centre, shape) = self.shape(width_mm, height_mm, text_mm);
            self.view(map, centre, &shape, width_mm, height_mm, text_mm)
        };
        let letters = self.letters(map, &view, text_mm);
        let clear = |letter: &Letter| {
            let (wide, high) = (text_mm * 1.5, text_mm);
            Rect::new(letter.place.x - wide / 2.0, letter.place.y - high / 2.0, wide, high)
        };
        let view = MapView { keep_clear: letters.iter().map(clear).collect(), ..view };
        let mut scene = map.scene(&view);
        for Letter { letter, place, mark } in letters {
            scene.add(mark);
            let label = Label::new(letter.to_string(), place, Ink::LearnerLine);
            scene.add(label.strong().priority(Priority::High).near());
        }
        scene
    }

    /// Adds the compass, unless it was taken up from the map.
    pub fn add_compass(&self, width_mm: f64, height_mm: f64, text_mm: f64, scene: &mut Scene) {
        if self.map.is_some() && self.table.place() == Place::Hand {
            return;
        }
        let (centre, shape) = self.shape(width_mm, height_mm, text_mm);
        compass::draw(self, &shape, &self.outline(centre, &shape), text_mm, scene);
    }

    /// Height of what is in view above the compass, in mm; nothing over a map.
    fn above(&self, height_mm: f64, text_mm: f64) -> f64 {
        let sights = matches!(self.exercise.task, Task::Follow { .. } | Task::BackSight { .. });
        if sights && self.map.is_none() { (VIEW_LINES * text_mm).min(height_mm / 2.5) } else { 0.0 }
    }

    /// Where the dial's centre stands, and how large the compass is.
    fn shape(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> (Point, CompassShape) {
        if self.map.is_none() {
            // The travel arrow stays up: all the height is the dial's, but for the arrow above it.
            let above = self.above(height_mm, text_mm);
            let (arrow, rear) = (text_mm * 1.5, text_mm * 0.25);
            let rim = ((height_mm - above - arrow - rear) / 2.0).min(width_mm * 0.4).max(0.5);
            let shape = CompassShape {
                length_mm: 2.0 * rim + arrow + rear,
                width_mm: rim * 2.0 * ASIDE / RIM,
                dial_radius_mm: rim,
                dial_from_rear_mm: rim + rear,
            };
            return (Point::new(width_mm / 2.0, height_mm - rear - rim), shape);
        }
        let half = (width_mm.min(height_mm) / 2.0).max(1.0);
        let shape = CompassShape {
            length_mm: half * (FRONT + REAR),
            width_mm: half * ASIDE * 2.0,
            dial_radius_mm: half * RIM,
            dial_from_rear_mm: half * REAR,
        };
        (Point::new(width_mm / 2.0, height_mm / 2.0), shape)
    }

    /// The azimuth that points up.
    fn upward(&self) -> Angle {
        if self.map.is_none() { self.table.baseplate().angle() } else { self.up }
    }

    /// The compass in the picture, its dial centred there.
    fn outline(&self, centre: Point, shape: &CompassShape) -> CompassOutline {
        let from_up = self.table.baseplate().angle() - self.upward();
        let travel = direction(from_up);
        let across = travel.quarter_clockwise();
        let middle =
            centre.along(travel, shape.length_mm / 2.0 - shape.dial_from_rear_mm).along(across, -shape.width_mm / 2.0);
        outline_at(shape, middle, from_up)
    }

    /// How the map is looked at with the compass on it: the place of the paper under the dial's centre stays there.
    fn view(
        &self,
        map: &Map,
        centre: Point,
        shape: &CompassShape,
        width_mm: f64,
        height_mm: f64,
        text_mm: f64,
    ) -> MapView {
        let spec = map.spec();
        let middle = Point::new(spec.width_mm / 2.0, spec.height_mm / 2.0);
        let zoom = (height_mm / 72.0).clamp(1.0, 1.6);
        // The paper is shown larger than it is, the compass is drawn for the panel.
        let on_paper = CompassShape {
            length_mm: shape.length_mm / zoom,
            width_mm: shape.width_mm / zoom,
            dial_radius_mm: shape.dial_radius_mm / zoom,
            dial_from_rear_mm: shape.dial_from_rear_mm / zoom,
        };
        let dial =
            outline_on_sheet(&on_paper, self.table, &self.exercise.lines, middle).map_or(middle, |lies| lies.dial);
        let pivot = Spot::new(dial.x, spec.height_mm - dial.y);
        let view = self.asking(map, MapView::around(pivot, width_mm, height_mm));
        let view = view.turned(self.table.map().angle() - self.up);
        let rim = Rim { centre, radius_mm: shape.dial_radius_mm + text_mm * 0.3, writing_mm: 0.0 };
        MapView { at: centre, zoom, text_mm, ..view }.under(rim)
    }

    fn asking(&self, map: &Map, view: MapView) -> MapView {
        let place = |letter: char| self.marks.iter().find(|(other, _)| *other == letter).map(|(_, at)| *at);
        let mut view = view.asking(self.marks.iter().map(|(_, at)| *at).filter(|at| *at < map.landmarks().len()));
        for line in self.exercise.lines.all() {
            if let LineName::Leg(leg) = line.name
                && let (Some(from), Some(to)) = (place(leg.from.letter()), place(leg.to.letter()))
            {
                view = view.with_leg(from, to);
            }
        }
        view
    }

    /// The letters of the marked places, each on the side away from the legs that meet there. A place that lies outside of
    /// the picture is pointed at from its edge.
    fn letters(&self, map: &Map, view: &MapView, text_mm: f64) -> Vec<Letter> {
        let spots: Vec<(char, Point)> = self
            .marks
            .iter()
            .filter_map(|(letter, at)| Some((*letter, view.point(map.landmarks().get(*at)?.spot))))
            .collect();
        let middle = Point::new(view.width_mm / 2.0, view.height_mm / 2.0);
        // A letter wholly within the picture.
        let inside = |at: Point| {
            let side = |at: f64, length: f64| at.min(length - text_mm * 0.6).max(text_mm * 0.6);
            Point::new(side(at.x, view.width_mm), side(at.y, view.height_mm))
        };
        let letter = |(letter, at): &(char, Point)| {
            if let (Some(edge), Some(toward)) = (edge_toward(*at, middle, text_mm), Direction::between(middle, *at)) {
                let mark = Mark::new(MarkKind::Triangle, edge, text_mm, Ink::LearnerLine).toward(toward);
                return Letter { letter: *letter, place: inside(edge.along(toward, -text_mm * 1.3)), mark };
            }
            let (mut x, mut y) = (0.0, 0.0);
            for (_, other) in spots.iter().filter(|(other, _)| other != letter) {
                if let Some(toward) = Direction::between(*other, *at) {
                    (x, y) = (x + toward.dx(), y + toward.dy());
                }
            }
            let away = Direction::between(Point::default(), Point::new(x, y)).unwrap_or(Direction::UP);
            let mark = Mark::new(MarkKind::Ring, *at, text_mm * 0.9, Ink::LearnerLine);
            Letter { letter: *letter, place: inside(at.along(away, text_mm * 1.05)), mark }
        };
        spots.iter().map(letter).collect()
    }

    /// What a hand takes hold of at this point of the picture.
    #[must_use]
    pub fn grabbed(&self, point: Point, width_mm: f64, height_mm: f64, text_mm: f64) -> Hold {
        let (centre, shape) = self.shape(width_mm, height_mm, text_mm);
        let in_hand = self.map.is_some() && self.table.place() == Place::Hand;
        if in_hand {
            return Hold::Map;
        }
        if (point.x - centre.x).hypot(point.y - centre.y) <= shape.dial_radius_mm {
            return Hold::Dial;
        }
        let outline = self.outline(centre, &shape);
        let across = outline.travel.quarter_clockwise();
        let (dx, dy) = (point.x - outline.edge.0.x, point.y - outline.edge.0.y);
        let along = dx * outline.travel.dx() + dy * outline.travel.dy();
        let aside = dx * across.dx() + dy * across.dy();
        let on_plate = (0.0..=shape.length_mm).contains(&along) && (0.0..=shape.width_mm).contains(&aside);
        match (self.map.is_some(), on_plate) {
            (false, _) => Hold::Oneself,
            (true, true) => Hold::Compass,
            (true, false) => Hold::Map,
        }
    }

    /// How far a drag from one point to another turns about the dial's centre, clockwise positive.
    #[must_use]
    pub fn dragged(&self, from: Point, to: Point, width_mm: f64, height_mm: f64, text_mm: f64) -> Angle {
        let (centre, _) = self.shape(width_mm, height_mm, text_mm);
        let at = |point: Point| Angle::from_radians((point.x - centre.x).atan2(centre.y - point.y));
        // A point that is no place turns nothing.
        if ![from.x, from.y, to.x, to.y].into_iter().all(f64::is_finite) {
            return Angle::ZERO;
        }
        (at(to) - at(from)).wrapped_half()
    }
}

/// Where the way from the middle of a picture to a place leaves it, if the place lies outside.
fn edge_toward(at: Point, middle: Point, text_mm: f64) -> Option<Point> {
    let (x, y) = (at.x - middle.x, at.y - middle.y);
    let room = |half: f64, off: f64| (half - text_mm * 0.4).max(0.0) / off.abs();
    let part = room(middle.x, x).min(room(middle.y, y));
    (part < 1.0).then(|| Point::new(middle.x + x * part, middle.y + y * part))
}

#[cfg(test)]
mod tests;
