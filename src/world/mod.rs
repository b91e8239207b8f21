//! The world with its lines of equal declination, computed from the model: a picture that a place is picked on.
//!
//! Land outlines are data (Natural Earth, public domain); everything magnetic is worked out. Latitude and longitude run
//! straight up and across, so that a cursor moves as keys do.

mod chart;
mod cursor;
mod land;
mod sketch;

pub use chart::{Chart, Isogonic};
pub use cursor::Cursor;
pub use sketch::norths;

use crate::angle::Angle;
use crate::geomag::{Field, Model, Spot, Zone};
use crate::ground::Place;
use crate::scene::{Align, Area, Dash, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};
use jiff::civil::Date;

/// The latitudes that are shown, from the southernmost to the northernmost, in degrees north.
pub const SHOWN: (i32, i32) = (-72, 84);
const TOP: f64 = SHOWN.1 as f64;
const FOOT: f64 = SHOWN.0 as f64;

/// The field at a place on the ground on a day; none outside the model's years.
#[must_use]
pub fn field(place: Place, day: Date) -> Option<Field> {
    let spot = Spot::new(place.latitude.angle(), place.longitude.angle(), 0.0).ok()?;
    Model::wmm2025().field(spot, day).ok()
}

/// Where a place lies in a picture of this size, in mm.
fn point(latitude: f64, longitude: f64, (width_mm, height_mm): (f64, f64)) -> Point {
    Point::new((longitude + 180.0) / 360.0 * width_mm, (TOP - latitude) / (TOP - FOOT) * height_mm)
}

/// The picture: land, lines of equal declination, the cursor with its needle, and home ground.
#[must_use]
pub fn picture(chart: &Chart, cursor: Place, home: Option<Place>, size: (f64, f64), text_mm: f64) -> Scene {
    let mut scene = Scene::new(size.0, size.1);
    for ring in land::rings() {
        let outline: Vec<Point> = ring.iter().map(|(east, north)| point(*north, *east, size)).collect();
        scene.add(Area::tint(outline, Ink::Woods));
    }
    let mut named = Vec::new();
    for line in chart.lines() {
        isogonic(&mut scene, line, size, text_mm, &mut named);
    }
    if let Some(home) = home {
        let at = point(home.latitude.degrees(), home.longitude.degrees(), size);
        scene.add(Mark::new(MarkKind::Ring, at, text_mm * 1.2, Ink::RightLine));
        let label = Label::new("home", at.moved(0.0, text_mm * 1.2), Ink::RightLine);
        scene.add(label.strong().priority(Priority::High).near());
    }
    needle(&mut scene, chart.day(), cursor, size, text_mm);
    // Numbers with W and E beside a map are else taken for longitudes.
    let corner = Point::new(0.0, size.1 - text_mm / 2.0);
    let note = Label::new("numbers on the lines: declination", corner, Ink::Text);
    scene.add(note.align(Align::Left).priority(Priority::Low));
    scene
}

/// One line, with its number where it has room.
fn isogonic(scene: &mut Scene, line: &Isogonic, size: (f64, f64), text_mm: f64, named: &mut Vec<Point>) {
    let (ink, dash) = match line.east {
        0 => (Ink::TrueNorth, Dash::Solid),
        ..0 => (Ink::Water, Dash::Dashed),
        _ => (Ink::Relief, Dash::Dotted),
    };
    for piece in &line.pieces {
        let points: Vec<Point> = piece.iter().map(|(east, north)| point(*north, *east, size)).collect();
        let drawn = Line::through(points.clone(), ink).dash(dash);
        scene.add(if line.east == 0 { drawn.bold() } else { drawn });
        // In the middle of the piece, away from other numbers.
        let far = |at: &Point, other: &Point| (at.x - other.x).hypot(at.y - other.y) > text_mm * 5.0;
        let middle = points.get(points.len() / 2).filter(|_| points.len() > 12);
        if let Some(at) = middle.filter(|at| named.iter().all(|other| far(at, other))) {
            named.push(*at);
            let text = match line.east {
                0 => "0".to_owned(),
                west @ ..0 => format!("{}°W", -west),
                east => format!("{east}°E"),
            };
            scene.add(Label::new(text, *at, ink).near());
        }
    }
}

/// How long the needle at the cursor is, in lines of writing.
const NEEDLE: f64 = 3.4;

/// The needle at the cursor: up is true north.
fn needle(scene: &mut Scene, day: Date, cursor: Place, size: (f64, f64), text_mm: f64) {
    let at = point(cursor.latitude.degrees(), cursor.longitude.degrees(), size);
    let long = text_mm * NEEDLE;
    scene.add(Line::straight(at, at.along(Direction::UP, long), Ink::TrueNorth).dash(Dash::Dotted));
    if let Some(field) = field(cursor, day).filter(|field| field.zone() != Zone::Blackout) {
        let toward = Direction::from_degrees_clockwise_from_up(field.declination().angle().degrees());
        let tip = at.along(toward, long);
        scene.add(Line::straight(at, tip, Ink::NeedleNorth).bold());
        scene.add(Mark::new(MarkKind::Triangle, tip, text_mm * 1.2, Ink::NeedleNorth).toward(toward));
    }
    scene.add(Mark::new(MarkKind::Spot, at, text_mm * 0.9, Ink::LearnerLine));
}

/// What the needle does at a place, as a sentence.
#[must_use]
pub fn words(place: Place, day: Date) -> String {
    let (north, east) = (place.latitude.degrees(), place.longitude.degrees());
    let at = format!("At {}, {}", degrees(north, "north", "south"), degrees(east, "east", "west"));
    let Some(field) = field(place, day) else {
        return format!("{at}: the magnetic model ends before this day, or begins after it.");
    };
    if let Some(caution) = field.zone().caution() {
        return format!("{at}. {caution}");
    }
    let declination = field.declination();
    let size = crate::angle::degrees_minutes(declination.angle().rounded_to(Angle::from_minutes(1.0)).abs());
    match crate::angle::EastWest::of(declination.angle().rounded_to(Angle::from_minutes(1.0))) {
        None => format!("{at}: the needle points to true north."),
        Some(side) => format!("{at}: the needle points {size} {} of true north.", side.word()),
    }
}

/// `47 north`, in whole degrees.
fn degrees(number: f64, positive: &str, negative: &str) -> String {
    format!("{:.0} {}", number.abs(), if number < 0.0 { negative } else { positive })
}

#[cfg(test)]
mod tests;
