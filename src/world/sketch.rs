//! The two norths at one place, large enough to see the angle between them.

use super::field;
use crate::angle::{Angle, declination_words};
use crate::geomag::Zone;
use crate::ground::Place;
use crate::scene::blocks::{NorthKind, NorthLine, Sketch, Turn, Writing};
use crate::scene::{Direction, Ink, Rect, Scene};
use jiff::civil::Date;

/// How far down the foot stands, as a part of the height: most needles point more or less up.
const FOOT: f64 = 0.76;
/// How far out the arc lies on the north lines.
const ARC: f64 = 0.62;

/// A sketch of this size in mm: true north straight up, magnetic north as the model has it at the place on the day, not
/// enlarged, and the declination at its arc. Where a compass must not be trusted only true north is drawn. `text_mm` is the
/// height of a line of writing.
#[must_use]
pub fn norths(place: Place, day: Date, (width_mm, height_mm): (f64, f64), text_mm: f64) -> Scene {
    let mut scene = Scene::new(width_mm, height_mm);
    let line = |kind, direction, name: &str| NorthLine { kind, direction, name: name.to_owned() };
    let mut lines = vec![line(NorthKind::True, Direction::UP, "TN")];
    let mut turns = Vec::new();
    if let Some(field) = field(place, day).filter(|field| field.zone() != Zone::Blackout) {
        let declination = field.declination().angle().rounded_to(Angle::from_minutes(1.0));
        let needle = Direction::from_degrees_clockwise_from_up(declination.degrees());
        lines.push(line(NorthKind::Magnetic, needle, "MN"));
        let is_east = declination > Angle::ZERO;
        let (from, to) = if is_east { (Direction::UP, needle) } else { (needle, Direction::UP) };
        turns.push(Turn {
            from,
            to,
            counterclockwise: !is_east,
            reach: ARC,
            ink: Ink::MagneticNorth,
            text: declination_words(declination).to_string(),
            writing: Writing::Beside { clockwise: is_east },
        });
    }
    // The sketch draws about the middle of its rectangle, with room around for names: the rectangle is made to fit.
    let foot_mm = height_mm * FOOT;
    let reach = (foot_mm - text_mm * 2.4).min(width_mm * 0.66).max(text_mm);
    let (half_width, half_height) = (reach + text_mm * 4.0, reach + text_mm * 2.1);
    let rect = Rect::new(width_mm / 2.0 - half_width, foot_mm - half_height, half_width * 2.0, half_height * 2.0);
    Sketch { rect, text_mm, norths: lines, lines: Vec::new(), turns }.draw_in_the_middle(&mut scene);
    scene
}
