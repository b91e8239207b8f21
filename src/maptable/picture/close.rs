//! The compass close up: dial, numbers, ticks, index, orienting arrow and needle; nothing of the map.

use super::Picture;
use crate::maptable::shape::direction;
use crate::scene::blocks::{Dial, RingText};
use crate::scene::{Area, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};

/// Half the plate's width, and how far it reaches behind the dial, in parts of the rim.
const HALF_WIDTH: f64 = 1.13;
/// Room for the index mark outside the rim, in lines of writing.
const ROOM_OUTSIDE: f64 = 1.15;

/// What is written beside the index line.
pub const INDEX_NAME: &str = "index";

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
    let zero = direction(picture.table.orienting().angle() - up);
    let mut dial = Dial::degrees(centre, rim + text_mm * 1.5, text_mm);
    (dial.zero, dial.index, dial.orienting) = (zero, Some(travel), Some(zero));
    dial.needle = Some(direction(picture.needle.angle() - up));
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
    beside_index(centre, rim, travel, text_mm, scene);
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

/// The name of the index line, and apart from the line the foot of the travel arrow.
fn beside_index(centre: Point, rim: f64, travel: Direction, text_mm: f64, scene: &mut Scene) {
    let side = travel.quarter_clockwise();
    let at = |along: f64, aside: f64| centre.along(travel, along).along(side, aside);
    let tip = at(rim + text_mm * ROOM_OUTSIDE, 0.0);
    scene.add(Mark::new(MarkKind::Triangle, tip, text_mm * 0.9, Ink::Compass).toward(travel));
    for way in [1.0, -1.0] {
        let place = at(rim + text_mm * 0.75, way * text_mm * (0.8 + 1.3 * travel.dy().abs()));
        if (0.0..=scene.width_mm).contains(&place.x) {
            scene.add(Label::new(INDEX_NAME, place, Ink::Text).priority(Priority::Low));
            break;
        }
    }
}
