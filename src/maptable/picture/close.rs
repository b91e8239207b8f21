//! The compass close up: dial, numbers, ticks, index, orienting arrow and needle; nothing of the map.

use super::Picture;
use crate::maptable::shape::direction;
use crate::scene::blocks::{Dial, RingText};
use crate::scene::{Area, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene, circle};

/// Half the plate's width, and how far it reaches behind the dial, in parts of the rim.
const HALF_WIDTH: f64 = 1.13;
/// Room for the index mark outside the rim, in lines of writing.
const ROOM_OUTSIDE: f64 = 1.05;

/// Where the middle of the dial stands, and how large its rim is, in mm.
pub(super) fn measures(width_mm: f64, height_mm: f64, text_mm: f64) -> (Point, f64) {
    let rim = (width_mm.min(height_mm) / 2.0 - text_mm * ROOM_OUTSIDE).max(0.5);
    (Point::new(width_mm / 2.0, height_mm / 2.0), rim)
}

pub(super) fn draw(picture: &Picture<'_>, text_mm: f64, scene: &mut Scene) {
    let (centre, rim) = measures(scene.width_mm, scene.height_mm, text_mm);
    let up = picture.upward();
    let travel = direction(picture.table.baseplate().angle() - up);
    plate(centre, rim, travel, scene);
    scene.add(Area::cover(circle(centre, rim), Ink::Capsule));
    let zero = direction(picture.table.orienting().angle() - up);
    let mut dial = Dial::degrees(centre, rim + text_mm * 1.5, text_mm);
    dial.zero = zero;
    // Numbers as long as there is room for any: the dial is read by them.
    let texts: &[&str] = if dial.has_room_for(12) {
        &RingText::THIRTIES
    } else if dial.has_room_for(6) {
        &RingText::SIXTIES
    } else {
        &RingText::LETTERS
    };
    dial.ring = RingText::evenly(texts, zero);
    dial.draw(scene);
    index(centre, rim, travel, text_mm, scene);
    orienting_arrow(centre, dial.reach(), zero, text_mm, scene);
    needle(centre, dial.reach(), direction(picture.needle.angle() - up), text_mm, scene);
}

/// The plate under the dial; its working edge lies to the left of the travel arrow.
fn plate(centre: Point, rim: f64, travel: Direction, scene: &mut Scene) {
    let side = travel.quarter_clockwise();
    let far = scene.width_mm.hypot(scene.height_mm);
    let at = |along: f64, aside: f64| centre.along(travel, along).along(side, aside);
    let (half, rear) = (rim * HALF_WIDTH, -rim * HALF_WIDTH);
    scene.add(Area::cover(vec![at(rear, -half), at(far, -half), at(far, half), at(rear, half)], Ink::Plate));
    scene.add(Line::through(vec![at(far, half), at(rear, half), at(rear, -half)], Ink::Plate));
    scene.add(Line::straight(at(rear, -half), at(far, -half), Ink::Edge).bold());
}

/// The index line at the foot of the travel arrow: where the dial is read.
fn index(centre: Point, rim: f64, travel: Direction, text_mm: f64, scene: &mut Scene) {
    let inner = centre.along(travel, rim - text_mm * 1.1);
    scene.add(Line::straight(inner, centre.along(travel, rim), Ink::Compass).bold());
    let tip = centre.along(travel, rim + text_mm * ROOM_OUTSIDE);
    scene.add(Mark::new(MarkKind::Triangle, tip, text_mm * 1.25, Ink::Compass).toward(travel));
}

/// The orienting arrow, with a true head: the house that the needle is brought into.
fn orienting_arrow(centre: Point, reach: f64, zero: Direction, text_mm: f64, scene: &mut Scene) {
    let side = zero.quarter_clockwise();
    let half = (text_mm * 1.3).min(reach * 0.36);
    let at = |along: f64, aside: f64| centre.along(zero, along).along(side, aside);
    let (foot, neck, wide) = (-reach * 0.9, reach - half * 1.3, half + text_mm * 0.55);
    for way in [-1.0, 1.0] {
        scene.add(Line::straight(at(foot, way * half), at(neck, way * half), Ink::Orienting));
    }
    let head = vec![at(neck, -half), at(neck, -wide), at(reach, 0.0), at(neck, wide), at(neck, half)];
    scene.add(Line::through(head, Ink::Orienting));
    // A filled tip, so that the arrow is one where the needle lies across it.
    scene.add(Mark::new(MarkKind::Triangle, at(reach, 0.0), text_mm * 0.8, Ink::Orienting).toward(zero));
}

/// The needle, free of what lies under it: north half filled and named, south half hollow.
fn needle(centre: Point, reach: f64, toward: Direction, text_mm: f64, scene: &mut Scene) {
    let reach = reach * 0.95;
    let side = toward.quarter_clockwise();
    let half = (text_mm * 0.55).max(reach * 0.1);
    let diamond = |long: f64, wide: f64| {
        let (left, right) = (centre.along(side, -wide), centre.along(side, wide));
        [left, centre.along(toward, long), right, centre.along(toward, -long)]
    };
    scene.add(Area::cover(diamond(reach + text_mm * 0.3, half + text_mm * 0.45).to_vec(), Ink::Capsule));
    let [left, north, right, south] = diamond(reach, half);
    scene.add(Line::through(vec![left, south, right, left], Ink::NeedleSouth));
    scene.add(Area::solid(vec![left, north, right], Ink::NeedleNorth));
    let letter = Label::new("N", centre.along(toward, reach * 0.42), Ink::NeedleNorth);
    scene.add(letter.strong().priority(Priority::Low));
}
