//! The declination diagram: two or three norths from one foot, with the angles between them.
use super::norths::{self, NorthKind};
use crate::numbers;
use crate::numbers::real;
use crate::scene::{Align, Direction, Ink, Label, Line, Point, Rect, Scene, arc, shapes::sweep_degrees};

/// One prong.
#[derive(Clone, Debug, PartialEq)]
pub struct Prong {
    /// Which north.
    pub kind: NorthKind,
    /// Where it is drawn. Small angles may be drawn wider than they are, as such diagrams on maps do.
    pub direction: Direction,
    /// What stands at its tip: `GN`, `MN`; may be empty.
    pub name: String,
}

/// An angle between two prongs.
#[derive(Clone, Debug, PartialEq)]
pub struct ProngAngle {
    /// The number of one prong in the diagram, from 0.
    pub from: usize,
    /// The number of the other prong.
    pub to: usize,
    /// What is written beside it.
    pub text: String,
}

/// A declination diagram.
#[derive(Clone, Debug, PartialEq)]
pub struct Prongs {
    /// The room it takes.
    pub rect: Rect,
    /// The height of a line of writing in mm.
    pub text_mm: f64,
    /// The prongs, in any order, all pointing more or less up.
    pub prongs: Vec<Prong>,
    /// The angles; one whose prong does not exist is left out.
    pub angles: Vec<ProngAngle>,
}

impl Prongs {
    /// Draws the diagram.
    pub fn draw(&self, scene: &mut Scene) {
        let reach = (self.rect.height - self.text_mm * 2.6).max(self.text_mm);
        let foot = self.foot(reach);
        for prong in &self.prongs {
            norths::draw(scene, foot, (prong.kind, prong.direction, &prong.name), reach, self.text_mm);
        }
        // Narrow angles go up where the prongs are further apart, wide ones down where their labels have more room.
        let mut arcs: Vec<(f64, Direction, Direction, &str)> = self.angles.iter().filter_map(|a| self.arc(a)).collect();
        numbers::arrange(&mut arcs, |a, b| a.0.total_cmp(&b.0));
        let step = 0.38 / real(arcs.len().saturating_sub(1).max(1));
        for (number, (_, from, to, text)) in (0_u32..).zip(arcs) {
            self.draw_angle(scene, foot, reach * (0.74 - step * f64::from(number)), (from, to, text));
        }
    }

    /// The foot stands so that the fan is in the middle.
    fn foot(&self, reach: f64) -> Point {
        let (left, right) = self.spread();
        let middle = self.rect.centre().x - (left + right) / 2.0 * reach;
        Point::new(middle, self.rect.corner.y + self.rect.height - self.text_mm * 0.4)
    }

    /// How far the fan goes to both sides, as parts of its reach.
    fn spread(&self) -> (f64, f64) {
        let sides = || self.prongs.iter().map(|prong| prong.direction.dx());
        (sides().fold(0.0, f64::min), sides().fold(0.0, f64::max))
    }

    /// An angle as the clockwise arc that is shorter: its size, and both ends.
    fn arc<'a>(&self, angle: &'a ProngAngle) -> Option<(f64, Direction, Direction, &'a str)> {
        let (a, b) = (self.prongs.get(angle.from)?.direction, self.prongs.get(angle.to)?.direction);
        let (there, back) = (sweep_degrees(a, b), sweep_degrees(b, a));
        Some(if there <= back { (there, a, b, &angle.text) } else { (back, b, a, &angle.text) })
    }

    /// The arc, and its text on that side of the fan to which it leans.
    fn draw_angle(&self, scene: &mut Scene, foot: Point, radius: f64, (from, to, text): (Direction, Direction, &str)) {
        scene.add(Line::through(arc(foot, radius, from, to), Ink::Text));
        let (left, right) = self.spread();
        // The text stands where its arc ends at the edge of the fan; if that holds for both ends, where the arc leans.
        let at_edge = (from.dx() <= left, to.dx() >= right);
        let leftward = if at_edge.0 == at_edge.1 { from.dx() + to.dx() < 0.0 } else { at_edge.0 };
        let end = foot.along(if leftward { from } else { to }, radius);
        // The prong leans outward over the height of the text.
        let out = radius + self.text_mm * 0.5;
        let (edge, align) = if leftward {
            (foot.x + left * out - self.text_mm * 0.8, Align::Right)
        } else {
            (foot.x + right * out + self.text_mm * 0.8, Align::Left)
        };
        let label = Label::new(text, Point::new(edge, end.y), Ink::Text);
        scene.add(label.align(align));
    }
}
