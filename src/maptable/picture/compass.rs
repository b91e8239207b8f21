//! The compass as it lies on the map: what shows where it lies, and nothing written.

use super::Picture;
use crate::maptable::shape::{CompassOutline, direction};
use crate::scene::blocks::{Needle, OrientingArrow};
use crate::scene::{Area, Direction, Ink, Line, Point, Scene, circle};

/// How far the edge is drawn from the line that it lies along, in mm of the picture.
const BESIDE_MM: f64 = 1.5;
/// How wide the band along the working edge is, in mm of the picture.
const EDGE_MM: f64 = 1.4;

pub(super) fn draw(picture: &Picture<'_>, outline: &CompassOutline, zoom: f64, scene: &mut Scene) {
    // Beside its line and not on it: a line that the edge is laid along stays in sight.
    let inward = outline.travel.quarter_clockwise();
    let [rear, front, far_front, far_rear] = outline.corners;
    let [under_rear, under_front] = [rear, front].map(|corner| corner.along(inward, BESIDE_MM / 2.0));
    let [rear, front] = [rear, front].map(|corner| corner.along(inward, BESIDE_MM));
    let (dial, radius) = (outline.dial, outline.dial_radius_mm);
    // The plate's ground reaches out from under the edge, so that the whole of the edge lies on it.
    scene.add(Area::cover(vec![under_rear, under_front, far_front, far_rear], Ink::Plate));
    // Round at the corners: a line with square ones would be one more border.
    let round = 5.0 * zoom;
    let back = |corner: Point, way: f64| corner.along(outline.travel, way * round);
    let aside = |corner: Point, way: f64| corner.along(inward, way * round);
    let rim =
        vec![front, aside(far_front, -1.0), back(far_front, -1.0), back(far_rear, 1.0), aside(far_rear, -1.0), rear];
    scene.add(Line::through(rim, Ink::Plate));
    // The working edge is the one that lies on a line.
    scene.add(working_edge([rear, front], inward));
    scene.add(Line::straight(rear, front, Ink::Edge).bold());
    let (foot, tip) = (radius + 1.6, outline.tip.along(outline.travel, -1.2));
    scene.add(travel_arrow(dial.along(outline.travel, foot), tip, outline.travel, (zoom * 10.0).max(7.0)));

    scene.add(Area::cover(circle(dial, radius), Ink::Capsule));
    scene.add(Line::through(circle(dial, radius), Ink::Plate));
    let up = picture.upward();
    let orienting = direction(picture.table.orienting().angle() - up);
    // Its lines run along the map's north lines when the dial is set by them, and its head says which of their ends is north.
    OrientingArrow { reach: radius * 0.92, foot: radius * 0.75, half: radius * 0.34, wide: radius * 0.7, body: false }
        .draw(scene, dial, orienting);
    Needle { reach: radius * 0.74, half: (zoom * 1.8).max(1.5), gaps: (0.8, 0.8), hollow: false, leaf: false }.draw(
        scene,
        dial,
        direction(picture.needle.angle() - up),
    );
}

/// The travel arrow from its foot to its tip, its head so long. Nothing shines through it: of the arrows it is the one on the plate,
/// and without colour its dots would be taken for the plate's own. It has a thick stem: a head alone, slanted, is a lump.
pub(super) fn travel_arrow(foot: Point, tip: Point, toward: Direction, head_mm: f64) -> Area {
    let side = toward.quarter_clockwise();
    let (wide, stem) = (head_mm, head_mm * 0.17);
    let at = |back: f64, aside: f64| tip.along(toward, -back).along(side, aside);
    let end = |aside: f64| foot.along(side, aside);
    let outline =
        vec![tip, at(head_mm, wide), at(head_mm, stem), end(stem), end(-stem), at(head_mm, -stem), at(head_mm, -wide)];
    Area::dense(outline, Ink::Compass)
}

/// What makes the working edge the one of four that is seen first: a band along it, on the plate.
pub(super) fn working_edge([rear, front]: [Point; 2], inward: Direction) -> Area {
    let [inner_rear, inner_front] = [rear, front].map(|corner| corner.along(inward, EDGE_MM));
    Area::dense(vec![rear, front, inner_front, inner_rear], Ink::Edge)
}
