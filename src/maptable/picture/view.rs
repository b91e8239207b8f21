//! What is in view over the compass: a skyline, with the marks to choose from. Where a bearing is followed, marks stand where wrong
//! ways of working look, so no map has them; what is seen from a place of a map is drawn in `panorama`.

use super::{Picture, panorama};
use crate::angle::Bearing;
use crate::maptable::Task;
use crate::numbers;
use crate::numbers::whole;
use crate::scene::{Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};

/// How much of the horizon is in view to either side of the travel arrow, in degrees.
pub(super) const TO_EITHER_SIDE: f64 = 62.0;

pub(super) fn draw(picture: &Picture<'_>, width_mm: f64, height_mm: f64, text_mm: f64, scene: &mut Scene) {
    if let Task::Take(sighting) = &picture.exercise.task {
        panorama::draw(picture, sighting, (width_mm, height_mm), text_mm, scene);
        return;
    }
    let heading = picture.table.baseplate();
    let mm_per_degree = width_mm / (2.0 * TO_EITHER_SIDE);
    let x = |off: f64| width_mm / 2.0 + off * mm_per_degree;
    let foot = height_mm * 0.72;
    let ridge = |azimuth: f64| foot - text_mm * (0.6 + 0.6 * skyline(azimuth));
    let steps: u32 = whole(width_mm / 1.5);
    let points = (0..=steps)
        .map(|step| {
            let off = (f64::from(step) / f64::from(steps.max(1)) * 2.0 - 1.0) * TO_EITHER_SIDE;
            Point::new(x(off), ridge(heading.degrees() + off))
        })
        .collect();
    scene.add(Line::through(points, Ink::Relief));
    travel_arrow(Point::new(x(0.0), foot + text_mm * 0.4), height_mm, text_mm, scene);

    let mut marks: Vec<(&str, f64, f64)> = match &picture.exercise.task {
        Task::Follow { landmarks, .. } => landmarks
            .iter()
            .map(|mark| (bare(&mark.name), heading.turn_to(mark.azimuth).degrees(), mark.azimuth.degrees()))
            .collect(),
        Task::BackSight { start_mark, .. } => {
            vec![("start", heading.turn_to(*start_mark).degrees(), Bearing::degrees(*start_mark))]
        }
        _ => Vec::new(),
    };
    // Neighbours stand in different rows, whichever way one looks.
    numbers::arrange(&mut marks, |one, other| one.2.total_cmp(&other.2));
    for (at, (name, off, azimuth)) in marks.iter().enumerate() {
        if off.abs() > TO_EITHER_SIDE {
            continue;
        }
        let ground = Point::new(x(*off), ridge(*azimuth));
        let row = foot - text_mm * if at % 2 == 0 { 3.2 } else { 4.4 };
        let top = Point::new(x(*off), row + text_mm * 0.6);
        scene.add(Line::straight(top, ground, Ink::Works));
        scene.add(Mark::new(MarkKind::Spot, ground, text_mm * 0.6, Ink::Works));
        let label = Label::new(*name, Point::new(x(*off), row), Ink::Text);
        scene.add(label.strong().priority(Priority::High));
    }
}

/// Where the travel arrow looks: from the foot of the picture up to its tip.
pub(super) fn travel_arrow(tip: Point, height_mm: f64, text_mm: f64, scene: &mut Scene) {
    scene.add(Line::straight(Point::new(tip.x, height_mm), tip, Ink::Compass));
    scene.add(Mark::new(MarkKind::Triangle, tip, text_mm * 1.2, Ink::Compass));
}

/// `hut` for `the hut`.
fn bare(name: &str) -> &str {
    name.strip_prefix("the ").unwrap_or(name)
}

/// The height of a ridge of no particular hills, −1 to 1, the same at 0° and 360°.
fn skyline(azimuth: f64) -> f64 {
    let turn = azimuth.to_radians();
    (0.5 * (3.0 * turn + 0.4).sin() + 0.3 * (7.0 * turn).sin() + 0.2 * (17.0 * turn + 1.1).cos()).clamp(-1.0, 1.0)
}
