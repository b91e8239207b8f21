//! The compass as it lies on the map: what shows where it lies, and nothing written.

use super::Picture;
use crate::maptable::shape::{CompassOutline, direction};
use crate::scene::{Area, Direction, Ink, Line, Mark, MarkKind, Point, Scene, circle};

/// How far the edge is drawn from the line that it lies along, in mm of the picture.
const BESIDE_MM: f64 = 0.9;

pub(super) fn draw(picture: &Picture<'_>, outline: &CompassOutline, zoom: f64, scene: &mut Scene) {
    // Beside its line and not on it: a line that the edge is laid along stays in sight.
    let inward = outline.travel.quarter_clockwise();
    let [rear, front, far_front, far_rear] = outline.corners;
    let [rear, front] = [rear, front].map(|corner| corner.along(inward, BESIDE_MM));
    let (dial, radius) = (outline.dial, outline.dial_radius_mm);
    scene.add(Area::cover(vec![rear, front, far_front, far_rear], Ink::Plate));
    // Round at the corners: a line with square ones would be one more border.
    let round = 5.0 * zoom;
    let back = |corner: Point, way: f64| corner.along(outline.travel, way * round);
    let aside = |corner: Point, way: f64| corner.along(inward, way * round);
    let rim =
        vec![front, aside(far_front, -1.0), back(far_front, -1.0), back(far_rear, 1.0), aside(far_rear, -1.0), rear];
    scene.add(Line::through(rim, Ink::Plate));
    // The working edge is the one that lies on a line.
    scene.add(Line::straight(rear, front, Ink::Edge).bold());
    let tip = outline.tip.along(outline.travel, -1.2);
    // A thick stem, or it is one more path that ends in a mark.
    scene.add(Line::straight(dial.along(outline.travel, radius + 1.2), tip, Ink::Compass).bold());
    scene.add(Mark::new(MarkKind::Triangle, tip, (zoom * 9.0).max(6.5), Ink::Compass).toward(outline.travel));

    scene.add(Area::cover(circle(dial, radius), Ink::Capsule));
    scene.add(Line::through(circle(dial, radius), Ink::Plate));
    let up = picture.upward();
    let orienting = direction(picture.table.orienting().angle() - up);
    let side = orienting.quarter_clockwise();
    let at = |along: f64, aside: f64| dial.along(orienting, along * radius).along(side, aside * radius);
    // The orienting lines on the floor of the dial run along the map's north lines when it is set by them; the filled head
    // says which of their ends is north. Lines, head and needle keep apart, or without colour they are one.
    for off in [-0.62, 0.62] {
        scene.add(Line::straight(at(-0.7, off), at(0.7, off), Ink::Orienting));
    }
    scene.add(Area::solid(vec![at(0.6, -0.4), at(0.98, 0.0), at(0.6, 0.4)], Ink::Orienting));
    needle(dial, direction(picture.needle.angle() - up), radius * 0.6, zoom, scene);
}

/// The needle with a gap around it: its north half filled, its south half a line.
fn needle(dial: Point, toward: Direction, reach: f64, zoom: f64, scene: &mut Scene) {
    let side = toward.quarter_clockwise();
    let half = (zoom * 1.8).max(1.2);
    let diamond = |long: f64, wide: f64| {
        [dial.along(side, -wide), dial.along(toward, long), dial.along(side, wide), dial.along(toward, -long)]
    };
    scene.add(Area::cover(diamond(reach + 0.8, half + 0.8).to_vec(), Ink::Capsule));
    let [left, north, right, south] = diamond(reach, half);
    scene.add(Line::straight(dial, south, Ink::NeedleSouth));
    scene.add(Area::solid(vec![left, north, right], Ink::NeedleNorth));
    // The pivot, which no arrow that is drawn has.
    scene.add(Mark::new(MarkKind::Spot, dial, half, Ink::NeedleNorth));
}
