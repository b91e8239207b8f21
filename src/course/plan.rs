//! The plan of a course, drawn to scale.
//!
//! Up is true north at the start. Each point lies in its true direction and at its true distance from the start, so that
//! lengths and angles are those of the ground, as far as a day's walk reaches: 10 km east of the start the meridians have come
//! together by a tenth of a degree or two.

use super::Route;
use crate::angle::{Angle, Bearing, North, True};
use crate::ground::{Place, geodesic};
use crate::numbers::real;
use crate::scene::{Align, Dash, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene, Side};

/// A paper's worth: what A4 and Letter have room for, in mm.
const WIDTH_MM: f64 = 190.0;
const HEIGHT_MM: f64 = 240.0;
/// The sheet, wide and high, in mm.
pub(super) const PAGE_MM: (f64, f64) = (WIDTH_MM, HEIGHT_MM);
/// What is kept free around the course, in mm: names stand there, and above the title and the norths, below the bar.
const SIDE_MM: f64 = 18.0;
const ABOVE_MM: f64 = 48.0;
const BELOW_MM: f64 = 30.0;
/// How many metres an ordinary plan has to one on paper: round numbers, 1 : 100 at the largest.
const SCALES: [f64; 3] = [1.0, 2.0, 5.0];

/// A plan on its sheet: where places of the ground stand on it.
pub(super) struct Sheet {
    start: Place,
    /// Where the start stands.
    at: Point,
    /// Metres of ground for a metre of paper.
    pub scale: f64,
}

/// East and north of the start, in metres, along the line from there.
fn offset(start: Place, place: Place) -> (f64, f64) {
    let line = geodesic::inverse(start, place);
    let (sin, cos) = line.bearing.angle().radians().sin_cos();
    (line.distance_m * sin, line.distance_m * cos)
}

impl Sheet {
    /// The largest scale of round numbers at which all these places have room, the middle of them in the middle.
    pub fn of(start: Place, places: &[Place]) -> Sheet {
        let all: Vec<(f64, f64)> = places.iter().map(|place| offset(start, *place)).chain([(0.0, 0.0)]).collect();
        let range = |of: &dyn Fn(&(f64, f64)) -> f64| {
            all.iter().map(of).fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)))
        };
        let ((west, east), (south, north)) = (range(&|at| at.0), range(&|at| at.1));
        let per = |metres: f64, mm: f64| metres * 1_000.0 / mm;
        let needed =
            per(east - west, WIDTH_MM - 2.0 * SIDE_MM).max(per(north - south, HEIGHT_MM - ABOVE_MM - BELOW_MM));
        let scale = round_scale(needed);
        let mm = 1_000.0 / scale;
        let middle = Point::new(WIDTH_MM / 2.0, ABOVE_MM + (HEIGHT_MM - ABOVE_MM - BELOW_MM) / 2.0);
        let at = middle.moved(-f64::midpoint(west, east) * mm, f64::midpoint(south, north) * mm);
        Sheet { start, at, scale }
    }

    /// Where a place stands on the sheet.
    pub fn point(&self, place: Place) -> Point {
        let (east, north) = offset(self.start, place);
        self.at.moved(east * 1_000.0 / self.scale, -north * 1_000.0 / self.scale)
    }
}

/// The smallest round scale that is no larger than needed.
fn round_scale(needed: f64) -> f64 {
    let mut power = 100.0;
    loop {
        for step in SCALES {
            if step * power >= needed {
                return step * power;
            }
        }
        // Half the earth is 20,000 km; nothing goes further.
        if power > 1e12 || !needed.is_finite() {
            return power;
        }
        power *= 10.0;
    }
}

/// The plan: points, legs with their numbers, the norths, a scale bar. `answers` writes the bearings to set beside the legs.
/// `text_mm` is the height of a line of writing.
#[must_use]
pub fn plan(route: &Route, title: &str, answers: bool, text_mm: f64) -> Scene {
    let places: Vec<Place> = route.legs.iter().map(|leg| leg.end).collect();
    let sheet = Sheet::of(route.start, &places);
    let mut scene = Scene::new(WIDTH_MM, HEIGHT_MM);
    heading(&mut scene, route, title, &sheet, text_mm);
    for (number, leg) in (1_u32..).zip(&route.legs) {
        let (from, to) = (sheet.point(leg.start), sheet.point(leg.end));
        scene.add(Line::straight(from, to, Ink::RightLine));
        let Some(along) = Direction::between(from, to) else { continue };
        scene.add(
            Mark::new(MarkKind::ArrowHead, to.along(along, -text_mm * 0.6), text_mm, Ink::RightLine).toward(along),
        );
        let text = if answers { format!("{number}: {}", leg.magnetic) } else { format!("{number}") };
        let middle = Point::new(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y));
        let aside = along.quarter_clockwise();
        // Half the width of the text, as far as it stands across the leg.
        let clear = real(text.chars().count()) * text_mm / 4.0 * aside.dx().abs() + text_mm * 0.8;
        scene.add(Label::new(text, middle.along(aside, clear), Ink::RightLine).near());
    }
    names(&mut scene, route, &sheet, text_mm);
    length_bars(&mut scene, &sheet, text_mm);
    scene
}

/// The points with their names, each once.
fn names(scene: &mut Scene, route: &Route, sheet: &Sheet, text_mm: f64) {
    let first = route.legs.first().map(|leg| (leg.from.as_str(), leg.start));
    let all = first.into_iter().chain(route.legs.iter().map(|leg| (leg.to.as_str(), leg.end)));
    let mut written: Vec<Point> = Vec::new();
    for (name, place) in all {
        let at = sheet.point(place);
        scene.add(Mark::new(MarkKind::Ring, at, text_mm, Ink::Text));
        if written.iter().any(|other| (other.x - at.x).hypot(other.y - at.y) < text_mm) {
            continue;
        }
        written.push(at);
        let above = if at.y < sheet.at.y { -1.0 } else { 1.0 };
        // A long name stays on the sheet; half of it is as wide as in `plan`.
        let half = (real(name.chars().count()) * text_mm / 4.0).min(WIDTH_MM / 2.0);
        let beside = Point::new(at.x.clamp(half, WIDTH_MM - half), at.y + above * text_mm * 1.3);
        let label = Label::new(name, beside, Ink::Text);
        scene.add(label.strong().priority(Priority::High).near());
    }
}

/// Title, scale, and the norths from one foot in their true directions.
pub(super) fn heading(scene: &mut Scene, route: &Route, title: &str, sheet: &Sheet, text_mm: f64) {
    let mut line = |text: String, row: f64| {
        let label = Label::new(text, Point::new(SIDE_MM, 6.0 + row * text_mm * 1.2), Ink::Text).align(Align::Left);
        scene.add(if row == 0.0 { label.strong() } else { label });
    };
    line(title.to_owned(), 0.0);
    line(format!("1 : {}, up is true north. {}", sheet.scale, route.day), 1.0);
    line(route.norths_words(), 2.0);
    line("A practice aid, not for navigation: the map in your hand and local rules win.".to_owned(), 3.0);
    let foot = Point::new(WIDTH_MM - SIDE_MM, ABOVE_MM - 2.0);
    let mut norths = vec![(North::True, Bearing::<True>::from_angle(Angle::ZERO))];
    norths.extend(route.convergence.map(|east| (North::Grid, Bearing::from_angle(east.angle()))));
    norths.push((North::Magnetic, Bearing::from_angle(route.declination.angle())));
    for (north, bearing) in norths {
        let toward = Direction::from_degrees_clockwise_from_up(bearing.degrees());
        // Of three lengths, since norths that lie close together would have their names on each other.
        let (ink, dash, reach) = match north {
            North::True => (Ink::TrueNorth, Dash::Solid, 30.0),
            North::Grid => (Ink::GridNorth, Dash::Fine, 17.0),
            North::Magnetic => (Ink::MagneticNorth, Dash::DashDot, 24.0),
        };
        let tip = foot.along(toward, reach);
        scene.add(Line::straight(foot, tip, ink).dash(dash));
        let mark = match north {
            North::True => Some(MarkKind::Star),
            North::Grid => None,
            North::Magnetic if toward.dx() < 0.0 => Some(MarkKind::HalfArrow(Side::Counterclockwise)),
            North::Magnetic => Some(MarkKind::HalfArrow(Side::Clockwise)),
        };
        if let Some(kind) = mark {
            scene.add(Mark::new(kind, tip, text_mm * 0.9, ink).toward(toward));
        }
        let aside = if toward.dx() < 0.0 { -1.5 } else { 1.5 } * text_mm;
        let at = if north == North::True { tip.moved(0.0, -text_mm) } else { tip.moved(aside, 0.0) };
        let label = Label::new(north.short(), at, ink);
        scene.add(label.strong().priority(Priority::High).near());
    }
}

/// A bar of a round length, about a third of the sheet, and a bar of 100 mm to check the printer by.
pub(super) fn length_bars(scene: &mut Scene, sheet: &Sheet, text_mm: f64) {
    let longest_m = WIDTH_MM / 3.0 * sheet.scale / 1_000.0;
    let mut metres = 1.0;
    for step in SCALES {
        let power = 10_f64.powf((longest_m / step).log10().floor());
        if step * power > metres && step * power <= longest_m {
            metres = step * power;
        }
    }
    let left = Point::new(SIDE_MM, HEIGHT_MM - 14.0);
    let name = if metres < 1_000.0 { format!("{metres} m") } else { format!("{} km", metres / 1_000.0) };
    bar(scene, left, metres * 1_000.0 / sheet.scale, &name, text_mm);
    let note = "100 mm: measure it, to check the printer";
    bar(scene, Point::new(WIDTH_MM - SIDE_MM - 100.0, HEIGHT_MM - 14.0), 100.0, note, text_mm);
}

fn bar(scene: &mut Scene, left: Point, mm: f64, text: &str, text_mm: f64) {
    let right = left.moved(mm, 0.0);
    scene.add(Line::straight(left, right, Ink::Text).bold());
    for end in [left, right] {
        scene.add(Line::straight(end.moved(0.0, -1.5), end.moved(0.0, 1.5), Ink::Text));
    }
    let middle = Point::new(f64::midpoint(left.x, right.x), left.y + text_mm * 1.2);
    scene.add(Label::new(text, middle, Ink::Text));
}
