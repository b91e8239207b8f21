//! The picture of the table, as eyes look at it: two looks, each a scene in millimetres.
//!
//! One look takes in the map as a whole ([`Picture::map_look`]): it stays where it lies, and the compass on it is drawn at its true
//! size, with nothing written on it. The other looks at the compass close up ([`Picture::compass_look`]), with nothing of the map under
//! it. Both turn together: what points up in one points up in the other. In the hand without a map, the travel arrow points
//! up, and in place of the map stands what is in view ([`Picture::map_look`] draws that then).

mod around;
mod close;
mod compass;
mod names;
mod panorama;
mod signs;
mod view;

pub use close::INDEX_NAME;
pub use signs::CompassSign;

use super::shape::{CompassOutline, outline_on_sheet, turned_sheet};
use super::{COMPASS, Exercise, Hold, LineName, Table};
use crate::angle::{Angle, Bearing, True};
use crate::scene::blocks::NorthKind;
use crate::scene::{Direction, Ink, Label, Mark, MarkKind, Point, Priority, Rect, Scene, SceneItem};
use crate::terrain::{Detail, Map, MapSign, MapView};

/// What the picture is made of.
#[derive(Clone, Copy, Debug)]
pub struct Picture<'a> {
    /// The exercise: its lines, and what is in view.
    pub exercise: &'a Exercise,
    /// How things are drawn.
    pub table: &'a Table,
    /// How far the compass is drawn from where it lies on the sheet, while it is on its way there; see [`super::Pose`].
    pub aside: Point,
    /// The map; none where the compass is held in the hand and sighted along.
    pub map: Option<&'a Map>,
    /// Marked places: the letter, and which of the map's landmarks it stands at.
    pub marks: &'a [(char, usize)],
    /// Where the needle is drawn; a swinging one is not yet where it will come to rest.
    pub needle: Bearing<True>,
    /// The azimuth that points up in the picture. Without a map it is the travel arrow that does.
    pub up: Angle,
    /// How much of the land is drawn.
    pub detail: Detail,
    /// Whether the work is done: then the land around stands at the rim, and a map that lies off is compared with how it
    /// should lie.
    pub done: bool,
}

/// A marked place as it is drawn: the letter, where it stands, and the mark beside it.
struct Letter {
    letter: char,
    place: Point,
    mark: Mark,
}

/// How much of a turned sheet's diagonal must find room: its corners may reach over the edge of the panel.
const DIAGONAL: f64 = 0.86;

impl Picture<'_> {
    /// The map as a whole with the compass on it, on a panel of this size; `text_mm` is the height of a line of writing.
    #[must_use]
    pub fn map_look(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = self.map_alone(width_mm, height_mm, text_mm);
        self.add_compass(width_mm, height_mm, text_mm, &mut scene);
        scene
    }

    /// The map without the compass: it stays the same while only the compass is moved. Without a map, what is in view.
    #[must_use]
    pub fn map_alone(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let Some(map) = self.map else {
            let mut scene = Scene::new(width_mm, height_mm);
            view::draw(self, width_mm, height_mm, text_mm, &mut scene);
            return scene;
        };
        let view = self.asking(map, self.view(map, width_mm, height_mm, text_mm));
        let letters = self.letters(map, &view, text_mm);
        let clear = |letter: &Letter| {
            let (wide, high) = (text_mm * 1.5, text_mm);
            Rect::new(letter.place.x - wide / 2.0, letter.place.y - high / 2.0, wide, high)
        };
        let mut scene = map.scene(&MapView { keep_clear: letters.iter().map(clear).collect(), ..view });
        if self.compares() {
            self.leave_needed_lines(&mut scene);
        }
        scene
    }

    /// Takes all ruled lines but those that the work goes by off the sheet: beside two outlines they are a thicket.
    fn leave_needed_lines(&self, scene: &mut Scene) {
        let needed = self.needed().map(|north| NorthKind::from(north).ink());
        let ruled = |ink: Ink| matches!(ink, Ink::TrueNorth | Ink::GridNorth | Ink::MagneticNorth);
        scene.items.retain(|item| {
            let ink = match item {
                SceneItem::Line(line) => line.ink,
                SceneItem::Area(area) => area.ink,
                SceneItem::Label(label) => label.ink,
                SceneItem::Mark(mark) => mark.ink,
            };
            !ruled(ink) || Some(ink) == needed
        });
    }

    /// Lays the compass on the map, unless it was taken up from it. The letters of the marked places and the name of the line that
    /// the work needs stay in sight.
    pub fn add_compass(&self, width_mm: f64, height_mm: f64, text_mm: f64, scene: &mut Scene) {
        let Some(map) = self.map else { return };
        let lying = self.lying(width_mm, height_mm, text_mm);
        if let Some((outline, zoom)) = &lying {
            compass::draw(self, outline, *zoom, scene);
        }
        let view = self.asking(map, self.view(map, width_mm, height_mm, text_mm));
        // What a map is laid by stands around it from the beginning.
        if self.done || self.exercise.around().is_some() {
            around::draw(self, map, &view, scene);
        }
        names::top(map, &view, lying.as_ref().map(|(outline, _)| outline), scene);
        if let Some(north) = self.needed() {
            names::draw(north, map, &view, lying.as_ref().map(|(outline, _)| outline), scene);
        }
        for Letter { letter, place, mark } in self.letters(map, &view, text_mm) {
            // A ring on the dial would be taken for a part of it: there the letter is enough.
            let on_dial = |(outline, _): &(CompassOutline, f64)| {
                mark.kind == MarkKind::Ring && distance(outline.dial, mark.at) < outline.dial_radius_mm
            };
            if !lying.as_ref().is_some_and(on_dial) {
                scene.add(mark);
            }
            let label = Label::new(letter.to_string(), place, Ink::LearnerLine);
            scene.add(label.strong().priority(Priority::High).near());
        }
    }

    /// The compass close up, on a panel of this size.
    #[must_use]
    pub fn compass_look(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = self.compass_at_rest(width_mm, height_mm, text_mm);
        self.add_turning(text_mm, &mut scene);
        scene
    }

    /// What stays of that look while only the dial is turned and the needle swings.
    #[must_use]
    pub fn compass_at_rest(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = Scene::new(width_mm, height_mm);
        if self.exercise.around().is_none() {
            close::at_rest(self, text_mm, &mut scene);
        }
        scene
    }

    /// Adds what turns to a look at the compass of this size; without a compass what lies ahead.
    pub fn add_turning(&self, text_mm: f64, scene: &mut Scene) {
        match self.exercise.around() {
            Some(around) => panorama::ahead(around, (scene.width_mm, scene.height_mm), text_mm, scene),
            None => close::turning(self, text_mm, scene),
        }
    }

    /// The signs for a key to the map; none where no map lies there, and where the ruled lines are left out for a comparison.
    #[must_use]
    pub fn map_signs(&self) -> Vec<MapSign> {
        self.map.filter(|_| !self.compares()).map_or_else(Vec::new, |map| map.signs(self.detail))
    }

    /// The azimuth that points up.
    fn upward(&self) -> Angle {
        if self.map.is_none() { self.table.baseplate().angle() } else { self.up }
    }

    /// How the map is looked at: whole, about its middle, which stays in the middle of the panel.
    fn view(&self, map: &Map, width_mm: f64, height_mm: f64, text_mm: f64) -> MapView {
        let spec = map.spec();
        let diagonal = spec.width_mm.hypot(spec.height_mm) * DIAGONAL;
        let zoom = (width_mm / diagonal).min(height_mm / diagonal);
        // Compared with how it should lie, it is the sheet that counts, and not the land on it.
        let detail = if self.compares() { Detail::Little } else { self.detail };
        let view = MapView {
            zoom,
            text_mm,
            detail,
            unnamed: self.needed(),
            lines_first: true,
            ..MapView::around(map.middle(), width_mm, height_mm)
        };
        view.turned(self.table.map().angle() - self.up)
    }

    /// The compass as it lies in the look at the map, and how much the paper is shown larger than it is.
    fn lying(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Option<(CompassOutline, f64)> {
        let map = self.map?;
        let (spec, lines) = (map.spec(), &self.exercise.lines);
        let middle = Point::new(spec.width_mm / 2.0, spec.height_mm / 2.0);
        let elsewhere = || self.exercise.rests_at(spec.width_mm, spec.height_mm);
        let on_sheet = outline_on_sheet(&COMPASS, self.table, lines, elsewhere)?;
        let zoom = self.view(map, width_mm, height_mm, text_mm).zoom;
        let centre = Point::new(width_mm / 2.0, height_mm / 2.0);
        let place = |point: Point| {
            let point = point.moved(self.aside.x, self.aside.y);
            let turned = turned_sheet(point, middle, self.table, lines, self.up);
            centre.moved((turned.x - middle.x) * zoom, (turned.y - middle.y) * zoom)
        };
        let dial_radius_mm = on_sheet.dial_radius_mm * zoom;
        Some((CompassOutline { dial_radius_mm, ..on_sheet.placed(place) }, zoom))
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

    /// What a hand takes hold of at this point of the look at the map.
    #[must_use]
    pub fn grabbed_on_map(&self, point: Point, width_mm: f64, height_mm: f64, text_mm: f64) -> Hold {
        if self.map.is_none() {
            return Hold::Oneself;
        }
        let Some((outline, _)) = self.lying(width_mm, height_mm, text_mm) else { return Hold::Map };
        let [rear, front, _, far_rear] = outline.corners;
        let (length, width) = (distance(rear, front), distance(rear, far_rear));
        if distance(point, outline.dial) <= outline.dial_radius_mm {
            return Hold::Dial;
        }
        let across = outline.travel.quarter_clockwise();
        let (dx, dy) = (point.x - rear.x, point.y - rear.y);
        let along = dx * outline.travel.dx() + dy * outline.travel.dy();
        let aside = dx * across.dx() + dy * across.dy();
        let on_plate = (0.0..=length).contains(&along) && (0.0..=width).contains(&aside);
        if on_plate { Hold::Compass } else { Hold::Map }
    }

    /// What a hand takes hold of at this point of the look at the compass.
    #[must_use]
    pub fn grabbed_close(&self, point: Point, width_mm: f64, height_mm: f64, text_mm: f64) -> Hold {
        if self.exercise.around().is_some() {
            return Hold::Map;
        }
        let (centre, rim) = close::measures(width_mm, height_mm, text_mm);
        match (distance(point, centre) <= rim, self.map.is_some()) {
            (true, _) => Hold::Dial,
            (false, true) => Hold::Compass,
            (false, false) => Hold::Oneself,
        }
    }
}

/// How far a drag from one point to another turns about the middle of a panel, clockwise positive. A point that is no place turns
/// nothing.
#[must_use]
pub fn dragged(from: Point, to: Point, about: Point) -> Angle {
    let at = |point: Point| Angle::from_radians((point.x - about.x).atan2(about.y - point.y));
    if ![from.x, from.y, to.x, to.y].into_iter().all(f64::is_finite) {
        return Angle::ZERO;
    }
    (at(to) - at(from)).wrapped_half()
}

fn distance(from: Point, to: Point) -> f64 {
    (to.x - from.x).hypot(to.y - from.y)
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
