//! The picture of the table: map, compass and needle as a scene in millimetres.
//!
//! The dial's centre stays where it is in the picture, and everything turns about it: so the compass is in sight however
//! things lie, and a turn is smooth. In the hand without a map, the travel arrow points up, and above the compass stands what
//! is in view.

mod compass;
mod view;

use super::shape::{CompassOutline, CompassShape, outline_at, outline_on_sheet};
use super::{Exercise, Hold, LineName, Place, Table, Task};
use crate::angle::{Angle, Bearing, True};
use crate::scene::{Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};
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

/// How large the compass is, in parts of half the picture's shorter side.
const RIM: f64 = 0.70;
const FRONT: f64 = 0.97;
const REAR: f64 = 0.76;
const ASIDE: f64 = 0.77;
/// Lines of writing that what is in view takes above the compass.
const VIEW_LINES: f64 = 5.0;

/// A direction in the picture, so far clockwise of up.
fn direction(from_up: Angle) -> Direction {
    Direction::from_degrees_clockwise_from_up(from_up.wrapped().degrees())
}

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
            let (centre, shape) = self.shape(width_mm, height_mm);
            self.view(map, centre, &shape, width_mm, height_mm, text_mm)
        };
        let mut scene = map.scene(&view);
        self.letters(map, &view, text_mm, &mut scene);
        scene
    }

    /// Adds the compass, unless it was taken up from the map.
    pub fn add_compass(&self, width_mm: f64, height_mm: f64, text_mm: f64, scene: &mut Scene) {
        if self.map.is_some() && self.table.place() == Place::Hand {
            return;
        }
        let (centre, shape) = self.shape(width_mm, height_mm);
        compass::draw(self, &shape, &self.outline(centre, &shape), text_mm, scene);
    }

    /// Height of what is in view above the compass, in mm.
    fn above(&self, height_mm: f64, text_mm: f64) -> f64 {
        let sights = matches!(self.exercise.task, Task::Follow { .. } | Task::BackSight { .. });
        if sights && self.map.is_none() { (VIEW_LINES * text_mm).min(height_mm / 2.5) } else { 0.0 }
    }

    /// Where the dial's centre stands, and how large the compass is.
    fn shape(&self, width_mm: f64, height_mm: f64) -> (Point, CompassShape) {
        let above = self.above(height_mm, height_mm / 18.0);
        let half = (width_mm.min(height_mm - above) / 2.0).max(1.0);
        let shape = CompassShape {
            length_mm: half * (FRONT + REAR),
            width_mm: half * ASIDE * 2.0,
            dial_radius_mm: half * RIM,
            dial_from_rear_mm: half * REAR,
        };
        (Point::new(width_mm / 2.0, above + (height_mm - above) / 2.0), shape)
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

    /// The letters of the marked places, each on the side away from the legs that meet there.
    fn letters(&self, map: &Map, view: &MapView, text_mm: f64, scene: &mut Scene) {
        let spots: Vec<(char, Point)> = self
            .marks
            .iter()
            .filter_map(|(letter, at)| Some((*letter, view.point(map.landmarks().get(*at)?.spot))))
            .collect();
        for (letter, at) in &spots {
            let (mut x, mut y) = (0.0, 0.0);
            for (_, other) in spots.iter().filter(|(other, _)| other != letter) {
                if let Some(toward) = Direction::between(*other, *at) {
                    (x, y) = (x + toward.dx(), y + toward.dy());
                }
            }
            let away = Direction::between(Point::new(0.0, 0.0), Point::new(x, y)).unwrap_or(Direction::UP);
            let place = at.along(away, text_mm * 1.05);
            scene.add(Mark::new(MarkKind::Ring, *at, text_mm * 0.9, Ink::LearnerLine));
            let label = Label::new(letter.to_string(), place, Ink::LearnerLine);
            scene.add(label.strong().priority(Priority::High).near());
        }
    }

    /// What a hand takes hold of at this point of the picture.
    #[must_use]
    pub fn grabbed(&self, point: Point, width_mm: f64, height_mm: f64) -> Hold {
        let (centre, shape) = self.shape(width_mm, height_mm);
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
    pub fn dragged(&self, from: Point, to: Point, width_mm: f64, height_mm: f64) -> Angle {
        let (centre, _) = self.shape(width_mm, height_mm);
        let at = |point: Point| Angle::from_radians((point.x - centre.x).atan2(centre.y - point.y));
        (at(to) - at(from)).wrapped_half()
    }

    /// The edge of the compass in the picture, from its rear to its front end; none in the hand.
    #[must_use]
    pub fn edge(&self, width_mm: f64, height_mm: f64) -> Option<(Point, Point)> {
        let (centre, shape) = self.shape(width_mm, height_mm);
        (self.table.place() != Place::Hand).then(|| self.outline(centre, &shape).edge)
    }

    /// Where a point of the sheet (right and down from its upper left corner, in mm) lies in the picture; none without a
    /// map under the compass.
    #[must_use]
    pub fn on_panel(&self, sheet: Point, width_mm: f64, height_mm: f64, text_mm: f64) -> Option<Point> {
        let map = self.map.filter(|_| self.table.place() != Place::Hand)?;
        let (centre, shape) = self.shape(width_mm, height_mm);
        let view = self.view(map, centre, &shape, width_mm, height_mm, text_mm);
        Some(view.point(Spot::new(sheet.x, map.spec().height_mm - sheet.y)))
    }
}

/// A thin line between two points.
fn thin(from: Point, to: Point, ink: Ink) -> Line {
    Line::straight(from, to, ink)
}

#[cfg(test)]
mod tests;
