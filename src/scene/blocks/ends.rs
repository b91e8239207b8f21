//! One line seen from both its ends: the norths run side by side, and half a circle lies between the two bearings.
use super::clearance;
use super::norths::{self, NorthKind};
use crate::numbers::real;
use crate::scene::{Align, Dash, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Rect, Scene, arc};

/// What is written at one end.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// Who or what is there; may be empty.
    pub name: String,
    /// The bearing from there to the other end.
    pub number: String,
}

/// A line with a north line at either end.
#[derive(Clone, Debug, PartialEq)]
pub struct Ends {
    /// The room it takes.
    pub rect: Rect,
    /// The height of a line of writing in mm.
    pub text_mm: f64,
    /// The north at both ends: its kind and its name, which may be empty.
    pub north: (NorthKind, String),
    /// Where the line points from its first end.
    pub toward: Direction,
    /// The first end and the other one.
    pub ends: [End; 2],
    /// The role of the line.
    pub ink: Ink,
    /// A direction that was answered, drawn from the other end.
    pub learner: Option<Direction>,
}

impl Ends {
    /// Draws it about the middle of its rectangle.
    pub fn draw(&self, scene: &mut Scene) {
        let Ends { rect, text_mm, toward, .. } = *self;
        // Room for a north line, a number and a name at either end, whichever way the line runs.
        let longest = self.ends.iter().map(|end| end.number.chars().count().max(end.name.chars().count())).max();
        let aside = (2.2 + real(longest.unwrap_or(0)) / 2.0) * text_mm;
        let reach = toward.reach_within(rect.width / 2.0 - aside, rect.height / 2.0 - text_mm * 3.6).max(text_mm);
        let (first, other) = (rect.centre().along(toward, -reach), rect.centre().along(toward, reach));
        scene.add(Line::straight(first, other, self.ink));
        if let Some(answered) = self.learner {
            let tip = other.along(answered, text_mm * 2.2);
            scene.add(Line::straight(other, tip, Ink::LearnerLine).dash(Dash::Dashed));
            let at = tip.along(answered, clearance("you", text_mm, answered));
            scene.add(Label::new("you", at, Ink::LearnerLine).strong().near());
        }
        let [one, there] = &self.ends;
        for (at, toward, end, learner) in [(first, toward, one, None), (other, toward.reversed(), there, self.learner)]
        {
            self.draw_end(scene, at, toward, end, learner);
        }
    }

    /// A spot with its north line, and the turn from there to the other end.
    fn draw_end(&self, scene: &mut Scene, at: Point, toward: Direction, end: &End, learner: Option<Direction>) {
        let text_mm = self.text_mm;
        let (kind, name) = &self.north;
        norths::draw(scene, at, (*kind, Direction::UP, name), text_mm * 2.2, text_mm);
        scene.add(Line::through(arc(at, text_mm * 1.5, Direction::UP, toward), kind.ink()));
        scene.add(Mark::new(MarkKind::Spot, at, text_mm * 0.8, self.ink));
        // Number and name stand on the side away from the other end.
        let (side, align) = if toward.dx() > 0.0 { (-1.0, Align::Right) } else { (1.0, Align::Left) };
        // And out of the way of what the learner answered, or the right number stands at the learner's line.
        let down = match learner.filter(|line| line.dx() * side > 0.25) {
            Some(line) if line.dy() > 0.0 => -1.2,
            Some(_) => 1.5,
            None => 0.3,
        };
        let beside = at.moved(side * text_mm * 1.9, text_mm * down);
        let number = Label::new(end.number.clone(), beside, Ink::Text);
        scene.add(number.align(align).strong().priority(Priority::High).near());
        if !end.name.is_empty() {
            scene.add(Label::new(end.name.clone(), beside.moved(0.0, text_mm), self.ink).align(align).near());
        }
    }
}
