//! The compass: plate, edge, travel arrow, dial with its lines, needle.

use super::Picture;
use crate::maptable::shape::{CompassOutline, CompassShape, direction};
use crate::scene::blocks::{Dial, RingText};
use crate::scene::{Dash, Ink, Line, Mark, MarkKind, Scene};

pub(super) fn draw(
    picture: &Picture<'_>,
    shape: &CompassShape,
    outline: &CompassOutline,
    text_mm: f64,
    scene: &mut Scene,
) {
    let [rear, front, far_front, far_rear] = outline.corners;
    scene.add(Line::through(vec![front, far_front, far_rear, rear], Ink::Plate));
    // The working edge is the one that lies on a line.
    scene.add(Line::straight(rear, front, Ink::Compass).bold());

    let up = picture.upward();
    // The dial block counts room for a travel arrow outside its rim; here the plate carries the arrow.
    let mut dial = Dial::degrees(outline.dial, shape.dial_radius_mm + text_mm * 1.5, text_mm);
    dial.zero = direction(picture.table.orienting().angle() - up);
    dial.ring =
        RingText::evenly(if dial.has_room_for(12) { &RingText::THIRTIES } else { &RingText::LETTERS }, dial.zero);
    dial.index = Some(outline.travel);
    dial.orienting = Some(dial.zero);
    dial.needle = Some(direction(picture.needle.angle() - up));

    // North-south lines on the dial's floor, on either side of the orienting arrow.
    let reach = shape.dial_radius_mm - text_mm * 3.4;
    let side = dial.zero.quarter_clockwise();
    for aside in [-0.62, 0.62] {
        let middle = outline.dial.along(side, reach * aside);
        let half = reach * 0.72;
        let line = Line::straight(middle.along(dial.zero, -half), middle.along(dial.zero, half), Ink::Faint);
        scene.add(line.dash(Dash::Dotted));
    }
    dial.draw(scene);

    let from = outline.dial.along(outline.travel, shape.dial_radius_mm + text_mm * 0.4);
    scene.add(Line::straight(from, outline.tip, Ink::Compass));
    scene.add(Mark::new(MarkKind::Triangle, outline.tip, text_mm * 1.5, Ink::Compass).toward(outline.travel));
}
