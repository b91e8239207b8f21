//! What is in view from a place of a map: the horizon of its relief, and its landmarks where they lie. Heights are drawn larger than
//! they are, as eyes see them; how large a mark is drawn tells how near it is.

use super::Picture;
use super::view::{TO_EITHER_SIDE, travel_arrow};
use crate::angle::Bearing;
use crate::maptable::{InView, Sighting};
use crate::numbers::whole;
use crate::scene::{Area, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};
use crate::terrain::LandmarkKind;

/// How much larger heights are drawn than widths.
const HEIGHTENED: f64 = 1.6;
/// A landmark so far away, in m, is drawn as large as a line of writing; nearer ones larger, farther ones smaller.
const AS_WRITING_M: f64 = 900.0;

pub(super) fn draw(
    picture: &Picture<'_>,
    sighting: &Sighting,
    (width_mm, height_mm): (f64, f64),
    text_mm: f64,
    scene: &mut Scene,
) {
    let heading = picture.table.baseplate();
    let panorama = sighting.outlook.panorama();
    let mm_per_degree = width_mm / (2.0 * TO_EITHER_SIDE);
    let x = |off: f64| width_mm / 2.0 + off * mm_per_degree;
    // Level with the eyes; room for two rows of names above and for the compass below.
    let level = height_mm * 0.66;
    let (highest, lowest) = (text_mm * 3.0, height_mm * 0.9);
    let y = |rise: f64| (level - rise.atan().to_degrees() * mm_per_degree * HEIGHTENED).max(highest).min(lowest);
    let steps: u32 = whole(width_mm / 1.5);
    let points = (0..=steps)
        .map(|step| {
            let off = (f64::from(step) / f64::from(steps.max(1)) * 2.0 - 1.0) * TO_EITHER_SIDE;
            Point::new(x(off), y(panorama.horizon(Bearing::from_degrees(heading.degrees() + off))))
        })
        .collect();
    scene.add(Line::through(points, Ink::Relief));
    travel_arrow(Point::new(x(0.0), lowest), height_mm, text_mm, scene);
    let mut marks: Vec<&InView> = sighting.marks.iter().collect();
    marks.sort_by(|one, other| one.azimuth.degrees().total_cmp(&other.azimuth.degrees()));
    for (at, mark) in marks.iter().enumerate() {
        let off = heading.turn_to(mark.azimuth).degrees();
        if off.abs() > TO_EITHER_SIDE {
            continue;
        }
        let size = (text_mm * AS_WRITING_M / mark.distance_m).clamp(text_mm * 0.5, text_mm * 1.6);
        let top = Point::new(x(off), y(mark.rise));
        stands(mark.kind, top, size, scene);
        // Neighbours have their names in different rows, whichever way one looks: of an odd number the last has a row of its own.
        let row = if at + 1 == marks.len() && at.is_multiple_of(2) { 2.4 } else { 0.6 + 0.9 * f64::from(at % 2 == 1) };
        let name = Point::new(x(off), text_mm * row);
        scene.add(Line::straight(name.moved(0.0, text_mm * 0.6), top, Ink::Works));
        scene.add(Label::new(mark.name.as_str(), name, Ink::Text).strong().priority(Priority::High));
    }
}

/// A landmark as it stands against the land, its top here.
fn stands(kind: LandmarkKind, top: Point, size: f64, scene: &mut Scene) {
    let (half, ink) = (size / 2.0, Ink::Works);
    let block = |wide: f64, high: f64| {
        let (left, right) = (top.moved(-wide, 0.0), top.moved(wide, 0.0));
        Area::solid(vec![left, right, right.moved(0.0, high), left.moved(0.0, high)], ink)
    };
    match kind {
        LandmarkKind::Tower => scene.add(block(half * 0.4, size * 1.5)),
        LandmarkKind::Chapel => {
            // A steeple, and the nave beside it.
            let (eaves, floor) = (top.moved(0.0, size * 0.6), top.moved(0.0, size * 1.2));
            let nave = vec![eaves, eaves.moved(half * 1.6, 0.0), floor.moved(half * 1.6, 0.0), floor];
            scene.add(block(half * 0.3, size * 1.2)).add(Area::solid(nave, ink))
        }
        LandmarkKind::Hut | LandmarkKind::Farm | LandmarkKind::Ruin => scene.add(block(half, size * 0.7)),
        LandmarkKind::Cairn | LandmarkKind::Boulder => scene.add(Mark::new(MarkKind::Triangle, top, size * 0.8, ink)),
        LandmarkKind::Summit | LandmarkKind::Spring | LandmarkKind::Bridge => {
            scene.add(Mark::new(MarkKind::Spot, top, size * 0.6, ink))
        }
    };
}
