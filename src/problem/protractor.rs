//! A protractor laid on a map: its circle, its scales, and the piece of scale that a line crosses, seen close.

use super::TEXT_MM;
use crate::angle::{Bearing, Grid};
use crate::ground::plane::GridPosition;
use crate::numbers::whole;
use crate::scene::blocks::{Dial, RingText, Strip, StripTick, TickLength};
use crate::scene::{Dash, Direction, Ink, Label, Line, Point, Priority, Rect, Scene};

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
            self.rule(centre, radius_mm, zero, scene);
            return;
        }
        // The half on the side of the line: its straight edge lies along the grid line.
        let first = self.first();
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
        // Two scales, as on the tool: 0 to 180 within its rim, 180 to 360 outside.
        for step in 0..=6 {
            // Those at the ends stand beside the straight edge.
            let inward = match step {
                0 => 9,
                6 => -9,
                _ => 0,
            };
            let direction = at(first + step * 30 + inward);
            // A number is wider than high.
            let outside = radius_mm + TEXT_MM * (0.7 + 0.5 * direction.dx().abs());
            for (number, from_centre) in [(step * 30, radius_mm - TEXT_MM * 1.7), (step * 30 + 180, outside)] {
                let label = Label::new(number.to_string(), centre.along(direction, from_centre), Ink::Text);
                scene.add(label.priority(Priority::High));
            }
        }
        self.rule(centre, radius_mm, zero, scene);
    }

    /// The grid line through its middle, which the tool would hide: that it lies along one can be seen.
    fn rule(&self, centre: Point, radius_mm: f64, zero: Direction, scene: &mut Scene) {
        // It goes on a little beyond the tool, where the number at the zero leaves room.
        let reach = radius_mm * if self.half { 0.98 } else { 1.15 };
        let end = |share: f64| centre.along(zero, reach * share);
        scene.add(Line::straight(end(-1.0), end(1.0), Ink::GridNorth).dash(Dash::Sparse));
    }

    const fn on_the_right(&self) -> bool {
        self.toward.degrees() < 180.0
    }

    /// The scale where the line crosses it, numbers rising to the right.
    pub(super) fn strip(&self, rect: Rect) -> Strip {
        let reading = self.toward.degrees();
        let half = f64::from(NUMBERED) * 1.6;
        // A half circle ends at its straight edge.
        let (least, most) = if self.half { (self.first(), self.first() + 180) } else { (-360, 720) };
        let first: i32 = whole(((reading - half) / f64::from(GRADUATION)).ceil());
        let last: i32 = whole(((reading + half) / f64::from(GRADUATION)).floor());
        let (first, last) = (first.max(least / GRADUATION), last.min(most / GRADUATION));
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

    /// Where its scale begins: laid to the west, its zero lies toward grid south.
    const fn first(&self) -> i32 {
        if self.on_the_right() { 0 } else { 180 }
    }

    /// What stands at a mark: `40`, on a half circle `40/220`, at its ends `0/180` and `180/360`.
    fn number(&self, degrees: i32) -> String {
        if !self.half {
            return degrees.rem_euclid(360).to_string();
        }
        let low = degrees - self.first();
        format!("{low}/{}", low + 180)
    }

    /// Where the line crosses the scale, in words, without the number itself: `between 120 and 140, 4 ticks past 120; 10 spaces lie between two
    /// numbers`.
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
                let spaces = NUMBERED / GRADUATION;
                format!("between {low} and {high}, {ticks} {word} past {low}; {spaces} spaces lie between two numbers")
            }
        };
        format!(" A {kind} lies with its middle on A and its zero along a grid line.{side} The line crosses it {past}.")
    }
}
