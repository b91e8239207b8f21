//! A magnified strip of a scale at the index line, for readings finer than the drawn ticks.
use crate::scene::{Ink, Label, Line, Point, Priority, Rect, Scene};

/// How long a tick is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TickLength {
    /// The shortest.
    Fine,
    /// In between.
    Medium,
    /// The longest.
    Long,
}

/// One tick of the strip.
#[derive(Clone, Debug, PartialEq)]
pub struct StripTick {
    /// How far right of the index line it stands, in mm; negative is left. What falls off the strip is left out.
    pub offset_mm: f64,
    /// Its length.
    pub length: TickLength,
    /// What stands under it; empty for nothing.
    pub label: String,
}

/// A level piece of a scale as it runs under the index line, the dial's rim up.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// Where it stands; at least three lines of writing high.
    pub rect: Rect,
    /// The height of a line of writing in mm.
    pub text_mm: f64,
    /// The ticks.
    pub ticks: Vec<StripTick>,
}

impl Strip {
    /// Draws the strip: a free line for a name above, the scale below it with a stroke at its middle, the numbers at the bottom.
    pub fn draw(&self, scene: &mut Scene) {
        let Rect { corner, width, height } = self.rect;
        let (middle, right) = (corner.x + width / 2.0, corner.x + width);
        let rim = corner.y + self.text_mm * 1.1;
        let numbers = corner.y + height - self.text_mm * 0.5;
        let longest = (numbers - self.text_mm * 0.75 - rim).max(self.text_mm * 0.5);
        scene.add(Line::straight(Point::new(corner.x, rim), Point::new(right, rim), Ink::Plate));
        for tick in &self.ticks {
            let x = middle + tick.offset_mm;
            if !(corner.x..=right).contains(&x) {
                continue;
            }
            let (part, priority) = match tick.length {
                TickLength::Fine => (0.4, Priority::Low),
                TickLength::Medium => (0.7, Priority::Normal),
                TickLength::Long => (1.0, Priority::High),
            };
            let foot = Point::new(x, rim + longest * part);
            scene.add(Line::straight(Point::new(x, rim), foot, Ink::Plate));
            if !tick.label.is_empty() {
                let at = Point::new(x, numbers);
                scene.add(Label::new(tick.label.clone(), at, Ink::Text).priority(priority));
            }
        }
        let tip = Point::new(middle, rim + longest);
        scene.add(Line::straight(Point::new(middle, rim), tip, Ink::Compass));
    }
}
