//! The compass close up: dial, numbers, ticks, index, orienting arrow and needle; nothing of the map.

use super::Picture;
use super::compass::{travel_arrow, working_edge};
use crate::maptable::shape::direction;
use crate::scene::blocks::{Dial, RingText};
use crate::scene::{Area, Direction, Ink, Label, Line, Point, Priority, Scene};

/// Half the plate's width, and how far it reaches behind the dial, in parts of the rim.
const HALF_WIDTH: f64 = 1.13;
/// Room for the index mark outside the rim, in lines of writing; on a picture of few lines the dial needs it more.
const ROOM_OUTSIDE: f64 = 1.15;
const LITTLE_OUTSIDE: f64 = 0.8;
const FEW_LINES: f64 = 16.0;

/// How far beyond the rim the travel arrow reaches where there is room, and how long it must be, in lines of writing.
const LONGEST: f64 = 3.8;
const SHORTEST: f64 = 1.7;

/// An arrow as it is written, for each eighth of a circle clockwise from up.
const ARROWS: [&str; 8] = ["↑", "↗", "→", "↘", "↓", "↙", "←", "↖"];

/// What is written beside the index line.
pub const INDEX_NAME: &str = "index";

/// Where the middle of the dial stands, and how large its rim is, in mm.
pub(super) fn measures(width_mm: f64, height_mm: f64, text_mm: f64) -> (Point, f64) {
    let side = width_mm.min(height_mm);
    let rim = (side / 2.0 - outside(side, text_mm)).max(0.5);
    (Point::new(width_mm / 2.0, height_mm / 2.0), rim)
}

/// The room outside the rim in mm.
fn outside(side_mm: f64, text_mm: f64) -> f64 {
    text_mm * if side_mm < text_mm * FEW_LINES { LITTLE_OUTSIDE } else { ROOM_OUTSIDE }
}

/// What stays while only the dial is turned and the needle swings: the plate, and the floor of the dial.
pub(super) fn at_rest(picture: &Picture<'_>, text_mm: f64, scene: &mut Scene) {
    let (centre, rim) = measures(scene.width_mm, scene.height_mm, text_mm);
    plate(centre, rim, direction(picture.table.baseplate().angle() - picture.upward()), scene);
    bare_dial(centre, rim, text_mm).draw_floor(scene);
}

/// What lies on it: ticks, numbers, orienting arrow, needle, index line, travel arrow.
pub(super) fn turning(picture: &Picture<'_>, text_mm: f64, scene: &mut Scene) {
    let (centre, rim) = measures(scene.width_mm, scene.height_mm, text_mm);
    let up = picture.upward();
    let travel = direction(picture.table.baseplate().angle() - up);
    let zero = direction(picture.table.orienting().angle() - up);
    let mut dial = bare_dial(centre, rim, text_mm);
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
    dial.draw_over_floor(scene);
    beside_index(centre, rim, travel, text_mm, scene);
}

fn bare_dial(centre: Point, rim: f64, text_mm: f64) -> Dial {
    Dial::degrees(centre, rim + text_mm * 1.5, text_mm)
}

/// The plate under the dial; its working edge lies to the left of the travel arrow.
fn plate(centre: Point, rim: f64, travel: Direction, scene: &mut Scene) {
    let side = travel.quarter_clockwise();
    let far = scene.width_mm.hypot(scene.height_mm);
    let at = |along: f64, aside: f64| centre.along(travel, along).along(side, aside);
    let (half, rear) = (rim * HALF_WIDTH, -rim * HALF_WIDTH);
    scene.add(Area::cover(vec![at(rear, -half), at(far, -half), at(far, half), at(rear, half)], Ink::Plate));
    scene.add(Line::through(vec![at(far, half), at(rear, half), at(rear, -half)], Ink::Plate));
    scene.add(working_edge([at(rear, -half), at(far, -half)], side));
    scene.add(Line::straight(at(rear, -half), at(far, -half), Ink::Edge).bold());
}

/// The name of the index line, and apart from the line the travel arrow, as long as there is room for it.
fn beside_index(centre: Point, rim: f64, travel: Direction, text_mm: f64, scene: &mut Scene) {
    let side = travel.quarter_clockwise();
    let at = |along: f64, aside: f64| centre.along(travel, along).along(side, aside);
    let foot = rim + text_mm * 0.85;
    let tip = to_border(centre, travel, scene).min(rim + text_mm * LONGEST);
    if tip - foot > text_mm * SHORTEST {
        scene.add(travel_arrow(at(foot, 0.0), at(tip, 0.0), travel, text_mm * 1.35));
    } else {
        // Where there is no room for an arrow that is seen to be one, a small one as it is written says where it points.
        let eighth = crate::numbers::whole::<usize>(
            (travel.dx().atan2(-travel.dy()).to_degrees().rem_euclid(360.0) / 45.0).round(),
        ) % 8;
        let written = Label::new(ARROWS[eighth], at(rim + text_mm * 0.75, 0.0), Ink::Compass);
        scene.add(written.strong().priority(Priority::High));
    }
    // On the one side, on the other where that lies outside of the picture, and wholly within it.
    let half = text_mm * 0.25 * crate::numbers::real(INDEX_NAME.len());
    let aside = half * travel.dy().abs() + text_mm * (0.5 * travel.dx().abs() + 0.6);
    let beside = [1.0, -1.0].map(|way| at(rim + text_mm * 0.75, way * aside));
    let over = |place: &Point| (scene.width_mm / 2.0 - place.x).abs() - scene.width_mm / 2.0;
    let [one, other] = beside;
    let place = if over(&one) > 0.0 && over(&other) < over(&one) { other } else { one };
    let within = |at: f64, half: f64, length: f64| at.min(length - half).max(half);
    let place = Point::new(within(place.x, half, scene.width_mm), within(place.y, text_mm * 0.5, scene.height_mm));
    scene.add(Label::new(INDEX_NAME, place, Ink::Text).priority(Priority::Low).near());
}

/// How far it is from a place to the border of the picture.
fn to_border(from: Point, toward: Direction, scene: &Scene) -> f64 {
    let room = |at: f64, step: f64, end: f64| if step > 0.0 { (end - at) / step } else { -at / step };
    let across = room(from.x, toward.dx(), scene.width_mm);
    let down = room(from.y, toward.dy(), scene.height_mm);
    // Along an axis the other one divides by zero, and there is no end that way.
    [across, down].into_iter().filter(|mm| mm.is_finite()).fold(f64::INFINITY, f64::min)
}
