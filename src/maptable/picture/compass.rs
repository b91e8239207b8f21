//! The compass as it lies on the map: what shows where it lies, and nothing written.

use super::{Picture, arrow};
use crate::maptable::shape::{CompassOutline, direction};
use crate::scene::{Area, Dash, Direction, Ink, Line, Point, Scene, circle};

/// How far the edge is drawn from the line that it lies along, in mm of the picture.
const BESIDE_MM: f64 = 0.9;

pub(super) fn draw(picture: &Picture<'_>, outline: &CompassOutline, zoom: f64, scene: &mut Scene) {
    // Beside its line and not on it: a line that the edge is laid along stays in sight.
    let inward = outline.travel.quarter_clockwise();
    let [rear, front, far_front, far_rear] = outline.corners;
    let [rear, front] = [rear, front].map(|corner| corner.along(inward, BESIDE_MM));
    let (dial, radius) = (outline.dial, outline.dial_radius_mm);
    scene.add(Area::cover(vec![rear, front, far_front, far_rear], Ink::Plate));
    // In dots: a whole line would be one more of those that are ruled on the map.
    scene.add(Line::through(vec![front, far_front, far_rear, rear], Ink::Plate).dash(Dash::Dotted));
    // The working edge is the one that lies on a line.
    scene.add(Line::straight(rear, front, Ink::Edge).bold());
    arrow(scene, dial.along(outline.travel, radius), outline.tip.along(outline.travel, -0.8), 5.0, Ink::Compass);

    scene.add(Area::cover(circle(dial, radius), Ink::Capsule));
    scene.add(Line::through(circle(dial, radius), Ink::Plate));
    let up = picture.upward();
    let orienting = direction(picture.table.orienting().angle() - up);
    let side = orienting.quarter_clockwise();
    let reach = radius - 1.5;
    // The orienting lines on the floor of the dial run along the map's north lines when it is set by them.
    let aside = (radius * 0.5).max(2.0);
    for off in [-aside, aside] {
        let middle = dial.along(side, off);
        let half = (reach * reach - off * off).max(0.0).sqrt() - 1.0;
        scene.add(Line::straight(middle.along(orienting, -half), middle.along(orienting, half), Ink::Orienting));
    }
    let (left, right) = (dial.along(side, -aside), dial.along(side, aside));
    let half = (reach * reach - aside * aside).max(0.0).sqrt() - 1.0;
    let tip = dial.along(orienting, reach);
    scene.add(Line::through(vec![left.along(orienting, half), tip, right.along(orienting, half)], Ink::Orienting));
    needle(dial, direction(picture.needle.angle() - up), reach, (zoom * 1.6).max(1.2), scene);
}

/// The needle with a gap around it: its north half filled, its south half a line.
fn needle(dial: Point, toward: Direction, reach: f64, half: f64, scene: &mut Scene) {
    let side = toward.quarter_clockwise();
    let (left, right) = (dial.along(side, -half), dial.along(side, half));
    let (north, south) = (dial.along(toward, reach), dial.along(toward, -reach));
    scene.add(Line::straight(dial, south, Ink::NeedleSouth));
    scene.add(Area::solid(vec![left, north, right], Ink::NeedleNorth));
}
