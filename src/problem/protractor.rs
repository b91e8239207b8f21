//! A protractor laid on a map: its circle, its scales, and the piece of scale that a line crosses, seen close.

use super::TEXT_MM;
use crate::angle::{Bearing, Grid};
use crate::ground::plane::GridPosition;
use crate::numbers::whole;
use crate::scene::blocks::{Dial, RingText, Strip, StripTick, TickLength};
use crate::scene::{Direction, Ink, Line, Point, Rect, Scene};

/// A protractor with its zero along the map's grid lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Protractor {
    /// Where its middle lies.
    pub at: GridPosition,
    /// Which way the line runs that is measured.
    pub toward: Bearing<Grid>,
    /// Whether it is a half circle, laid on the side of the line: each of its marks has two numbers, 180 apart.
    pub half: bool,
}

/// The smallest graduation of the scale seen close, and how often a number stands there, in degrees.
const GRADUATION: i32 = 2;
const NUMBERED: i32 = 20;

impl Protractor {
    /// Draws it about this point; `zero` is where grid north lies on the panel.
    pub(super) fn draw(&self, centre: Point, radius_mm: f64, zero: Direction, scene: &mut Scene) {
        let mut dial = Dial::degrees(centre, radius_mm + TEXT_MM * 1.5, TEXT_MM);
        dial.zero = zero;
        if !self.half {
            let numbers: &[&str] = if dial.has_room_for(12) {
                &["0", "30", "60", "90", "120", "150", "180", "210", "240", "270", "300", "330"]
            } else {
                &["0", "90", "180", "270"]
            };
            dial.ring = RingText::evenly(numbers, zero);
            dial.draw(scene);
            return;
        }
        // The half on the side of the line: its straight edge lies along the grid line.
        let first = if self.on_the_right() { 0 } else { 180 };
        let at = |degrees: i32| Direction::from_degrees_clockwise_from_up(f64::from(degrees)).turned_by(zero);
        let rim = |degrees: i32, share: f64| centre.along(at(degrees), radius_mm * share);
        let mut outline: Vec<Point> = (0..=60).map(|step| rim(first + step * 3, 1.0)).collect();
        outline.extend(outline.first().copied());
        scene.add(Line::through(outline, Ink::Plate));
        for step in 1..18 {
            let long = step % 3 == 0;
            let degrees = first + step * 10;
            scene.add(Line::straight(rim(degrees, if long { 0.86 } else { 0.93 }), rim(degrees, 1.0), Ink::Plate));
        }
        dial.ring = (1..6)
            .map(|step| {
                let text = (step * 30).to_string();
                RingText { direction: at(first + step * 30), text, main: false }
            })
            .collect();
        dial.ticks = crate::scene::blocks::Ticks::default();
        let mut numbers = Scene::new(scene.width_mm, scene.height_mm);
        dial.draw(&mut numbers);
        // Only its numbers: the rim of a whole dial is none of it.
        scene.items.extend(numbers.items.into_iter().filter(|item| matches!(item, crate::scene::SceneItem::Label(_))));
    }

    const fn on_the_right(&self) -> bool {
        self.toward.degrees() < 180.0
    }

    /// The scale where the line crosses it, numbers rising to the right.
    pub(super) fn strip(&self, rect: Rect) -> Strip {
        let reading = self.toward.degrees();
        let half = f64::from(NUMBERED) * 1.6;
        let first: i32 = whole(((reading - half) / f64::from(GRADUATION)).ceil());
        let last: i32 = whole(((reading + half) / f64::from(GRADUATION)).floor());
        let ticks = (first..=last).map(|tick| {
            let degrees = tick * GRADUATION;
            let (labelled, medium) = (degrees % NUMBERED == 0, degrees % (NUMBERED / 2) == 0);
            StripTick {
                offset_mm: (f64::from(degrees) - reading) * rect.width / (2.0 * half),
                length: if labelled {
                    TickLength::Long
                } else if medium {
                    TickLength::Medium
                } else {
                    TickLength::Fine
                },
                label: if labelled { self.number(degrees) } else { String::new() },
            }
        });
        Strip { rect, text_mm: TEXT_MM, ticks: ticks.collect() }
    }

    /// What stands at a mark: `40`, on a half circle `40/220`.
    fn number(&self, degrees: i32) -> String {
        match degrees.rem_euclid(360) {
            whole if !self.half => whole.to_string(),
            whole => format!("{}/{}", whole % 180, whole % 180 + 180),
        }
    }

    /// Where the line crosses the scale, in words, without the number itself: `between 120 and 140, 4 ticks past 120`.
    pub(super) fn in_words(&self) -> String {
        let below: i32 = whole((self.toward.degrees() / f64::from(NUMBERED)).floor() * f64::from(NUMBERED));
        let ticks = (self.toward.degrees() - f64::from(below)) / f64::from(GRADUATION);
        let kind = if self.half { "half-circle protractor with two scales" } else { "protractor of a whole circle" };
        let side = match (self.half, self.on_the_right()) {
            (false, _) => "",
            (true, true) => " It covers the half to the east of the grid line.",
            (true, false) => " It covers the half to the west of the grid line.",
        };
        let past = match (ticks * 2.0).round() / 2.0 {
            0.0 => format!("at {}", self.number(below)),
            ticks => {
                let word = if ticks <= 1.0 { "tick" } else { "ticks" };
                let (low, high) = (self.number(below), self.number(below + NUMBERED));
                format!("between {low} and {high}, {ticks} {word} past {low}")
            }
        };
        format!(" A {kind} lies with its middle on A and its zero along a grid line.{side} The line crosses it {past}.")
    }
}
