//! The name of the north lines that the work needs, written where the compass does not cover it.
//!
//! Not with the map: its picture is kept from one frame to the next and cannot know where the compass lies, and in two of ten
//! starts the name lay under it.

use super::Picture;
use crate::angle::North;
use crate::maptable::Task;
use crate::maptable::shape::CompassOutline;
use crate::scene::blocks::NorthKind;
use crate::scene::{Direction, Ink, Label, Point, Priority, Scene};
use crate::terrain::{LineKind, Map, MapView, Spot};

/// How far apart the places are that are tried down a line, in mm.
const STEP_MM: f64 = 1.5;

impl Picture<'_> {
    /// The north whose lines the work goes by.
    pub(super) const fn needed(&self) -> Option<North> {
        match self.exercise.task {
            Task::Orient(north) | Task::MapBearing { north, .. } => Some(north),
            Task::OrientedBearing { .. }
            | Task::Take(_)
            | Task::Around(_)
            | Task::Follow { .. }
            | Task::BackSight { .. }
            | Task::SetDial { .. } => None,
        }
    }
}

/// Writes the name at a north end of one of the lines, or else beside a line, as near to that end as the compass leaves it in
/// sight; where the compass covers all of them, on its clear plate.
pub(super) fn draw(north: North, map: &Map, view: &MapView, outline: Option<&CompassOutline>, scene: &mut Scene) {
    let kind = match north {
        North::True => LineKind::True,
        North::Magnetic => LineKind::Magnetic,
        North::Grid => LineKind::Grid,
    };
    let text_mm = view.text_mm;
    let mut best: Option<(f64, Point)> = None;
    for line in map.lines().iter().filter(|line| line.kind == kind) {
        let Some((from, to)) = view.in_sight(line) else { continue };
        let Some(way) = Direction::between(from, to) else { continue };
        for (down, at) in places(to, way, super::distance(from, to), text_mm) {
            if best.is_some_and(|(least, _)| least <= down) {
                break;
            }
            if is_inside(at, text_mm, scene) && !outline.is_some_and(|outline| covers(outline, at, text_mm)) {
                best = Some((down, at));
            }
        }
        best = best.or(Some((f64::INFINITY, to)));
    }
    if let Some((_, at)) = best {
        scene.add(Label::new(north.short(), at, NorthKind::from(north).ink()).strong().priority(Priority::High).near());
    }
}

/// What stands at the upper edge of a map.
pub const TOP: &str = "top";

/// Says at the upper edge of a map that it is the upper edge: on paper the writing says it, which is turned with it, and here all
/// writing stands upright.
pub(super) fn top(map: &Map, view: &MapView, outline: Option<&CompassOutline>, scene: &mut Scene) {
    let (wide, high) = (map.spec().width_mm, map.spec().height_mm);
    let text_mm = view.text_mm;
    let corner = |east: f64| view.point(Spot::new(east, high));
    let Some(along) = Direction::between(corner(0.0), corner(wide)) else { return };
    // Outside of the frame, and as far from it as the writing needs that way.
    let out = text_mm * (1.1 + 0.5 * along.dy().abs());
    let away = along.quarter_clockwise().reversed();
    let shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
    let places = shares.map(|share| corner(wide * share).along(away, out));
    let free =
        |at: &&Point| is_inside(**at, text_mm, scene) && !outline.is_some_and(|outline| covers(outline, **at, text_mm));
    if let Some(at) = places.iter().find(free) {
        scene.add(Label::new(TOP, *at, Ink::Border).near());
    }
}

/// The places of a name: beyond the north end and beside it, then down the line on either side; each with how far down it is.
fn places(tip: Point, way: Direction, length_mm: f64, text_mm: f64) -> impl Iterator<Item = (f64, Point)> {
    let side = way.quarter_clockwise();
    // Clear of the line and of the mark at its end: two letters are as wide as high.
    let aside = text_mm * (0.75 + 0.25 * way.dy().abs());
    let beyond = [(0.0, tip.along(way, text_mm * 1.1))];
    let steps = (0..200_u32).map(|step| f64::from(step) * STEP_MM).take_while(move |mm| *mm < length_mm);
    let beside = steps.flat_map(move |mm| {
        let at = tip.along(way, -mm);
        [(mm, at.along(side, aside)), (mm, at.along(side, -aside))]
    });
    beyond.into_iter().chain(beside)
}

/// Whether a name with its middle here lies wholly in the picture.
fn is_inside(at: Point, text_mm: f64, scene: &Scene) -> bool {
    let within = |at: f64, size: f64| (text_mm * 0.75..=size - text_mm * 0.75).contains(&at);
    within(at.x, scene.width_mm) && within(at.y, scene.height_mm)
}

/// Whether the compass covers any of a name with its middle here.
fn covers(outline: &CompassOutline, at: Point, text_mm: f64) -> bool {
    let [rear, front, _, far_rear] = outline.corners;
    let (length, width) = (super::distance(rear, front), super::distance(rear, far_rear));
    let across = outline.travel.quarter_clockwise();
    // The name as a circle about it: an eye wants some room as well.
    let reach = text_mm * 0.8;
    let (dx, dy) = (at.x - rear.x, at.y - rear.y);
    let along = dx * outline.travel.dx() + dy * outline.travel.dy();
    let aside = dx * across.dx() + dy * across.dy();
    (-reach..=length + reach).contains(&along) && (-reach..=width + reach).contains(&aside)
}
