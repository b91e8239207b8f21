//! The legs walked over the legs meant.

use super::super::plan::{PAGE_MM, Sheet, heading, length_bars};
use super::{Debrief, came_out_at};
use crate::course::{Measured, Route, Taken};
use crate::ground::{Place, geodesic};
use crate::scene::{Dash, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};

/// Draws to scale where the measured bearings lead. Off the plan: one leg after the other from the start, as they would be walked, each
/// with its own length. Sighted: from each peg, since who sights stands at it. A leg that was not measured goes on as it was meant,
/// dotted. Where somebody looked, a spot shows where the leg came out. `text_mm` is the height of a line of writing.
#[must_use]
pub fn picture(route: &Route, measured: &Measured, debrief: &Debrief, title: &str, text_mm: f64) -> Scene {
    let walked = walked(route, debrief);
    let outs: Vec<Place> = route
        .legs
        .iter()
        .zip(&measured.came_out)
        .filter_map(|(leg, out)| Some(came_out_at(route, leg, (*out)?)))
        .collect();
    let places: Vec<Place> = route
        .legs
        .iter()
        .map(|leg| leg.end)
        .chain(walked.iter().map(|leg| leg.end))
        .chain(outs.iter().copied())
        .collect();
    let sheet = Sheet::of(route.start, &places);
    let mut scene = Scene::new(PAGE_MM.0, PAGE_MM.1);
    heading(&mut scene, route, &format!("{title}: {} over what was meant", debrief.by), &sheet, text_mm);
    let note = "thin lines: meant; thick broken lines: as measured; filled spots: where a leg came out";
    let at = Point::new(PAGE_MM.0 / 2.0, PAGE_MM.1 - 22.0);
    scene.add(Label::new(note, at, Ink::Text));
    for (number, leg) in (1..).zip(&route.legs) {
        let (from, to) = (sheet.point(leg.start), sheet.point(leg.end));
        scene.add(Line::straight(from, to, Ink::RightLine));
        tip(&mut scene, (from, to), Ink::RightLine, text_mm);
        scene.add(Mark::new(MarkKind::Ring, to, text_mm, Ink::RightLine));
        scene.add(Label::new(format!("{number}"), middle(from, to), Ink::RightLine).near());
    }
    for (number, leg) in (1..).zip(&walked) {
        let (from, to) = (sheet.point(leg.start), sheet.point(leg.end));
        let line = Line::straight(from, to, Ink::LearnerLine);
        if leg.measured {
            scene.add(line.bold().dash(Dash::Dashed));
            tip(&mut scene, (from, to), Ink::LearnerLine, text_mm);
            let label = Label::new(format!("{number}"), middle(from, to), Ink::LearnerLine);
            scene.add(label.strong().priority(Priority::High).near());
        } else {
            scene.add(line.dash(Dash::Dotted));
        }
    }
    for out in outs {
        scene.add(Mark::new(MarkKind::Spot, sheet.point(out), text_mm, Ink::LearnerLine));
    }
    length_bars(&mut scene, &sheet, text_mm);
    scene
}

/// A leg as it was measured.
struct Walked {
    start: Place,
    end: Place,
    measured: bool,
}

fn walked(route: &Route, debrief: &Debrief) -> Vec<Walked> {
    let mut at = route.start;
    let mut all = Vec::with_capacity(route.legs.len());
    for (leg, debrief_of_leg) in route.legs.iter().zip(&debrief.legs) {
        let start = if debrief.taken == Taken::Sighted { leg.start } else { at };
        let bearing = debrief_of_leg.measured.unwrap_or(leg.magnetic).to(route.declination.inverse());
        let end = geodesic::direct(start, bearing, leg.distance_m).place;
        all.push(Walked { start, end, measured: debrief_of_leg.measured.is_some() });
        at = end;
    }
    all
}

fn middle(from: Point, to: Point) -> Point {
    Point::new(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y))
}

fn tip(scene: &mut Scene, (from, to): (Point, Point), ink: Ink, text_mm: f64) {
    if let Some(along) = Direction::between(from, to) {
        scene.add(Mark::new(MarkKind::ArrowHead, to, text_mm, ink).toward(along));
    }
}
