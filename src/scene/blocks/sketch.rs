//! The bearing sketch: which north is further clockwise, and how far a line lies from each.
use super::norths::{self, NorthKind};
use super::{beyond, clearance};
use crate::scene::{
    Dash, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene, Weight, arc, sweep_degrees,
};

/// A north line of the sketch.
#[derive(Clone, Debug, PartialEq)]
pub struct NorthLine {
    /// Which north.
    pub kind: NorthKind,
    /// Where it points.
    pub direction: Direction,
    /// Its name at the tip; may be empty.
    pub name: String,
}

/// A direction line of the sketch.
#[derive(Clone, Debug, PartialEq)]
pub struct SketchLine {
    /// Where it points.
    pub direction: Direction,
    /// Its role: [`Ink::RightLine`], [`Ink::LearnerLine`], or another.
    pub ink: Ink,
    /// How it is broken up, so that two lines differ without colour.
    pub dash: Dash,
    /// What stands at its tip; may be empty.
    pub name: String,
}

/// A clockwise turn, drawn as an arc with an arrow head.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// Where it begins.
    pub from: Direction,
    /// Where it ends, clockwise from there.
    pub to: Direction,
    /// How far out it runs, as part of the sketch's lines, 0 to 1.
    pub reach: f64,
    /// Its role.
    pub ink: Ink,
    /// What is written at it; may be empty.
    pub text: String,
}

/// A bearing sketch.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    /// Where one stands.
    pub centre: Point,
    /// The radius of the whole figure in mm, names included.
    pub radius_mm: f64,
    /// The height of a line of writing in mm.
    pub text_mm: f64,
    /// One or more norths.
    pub norths: Vec<NorthLine>,
    /// The lines.
    pub lines: Vec<SketchLine>,
    /// The turns between them.
    pub turns: Vec<Turn>,
}

impl Sketch {
    /// Draws the sketch.
    pub fn draw(&self, scene: &mut Scene) {
        let reach = (self.radius_mm - self.text_mm * 2.6).max(self.text_mm);
        for north in &self.norths {
            norths::draw(scene, self.centre, (north.kind, north.direction, &north.name), reach, self.text_mm);
        }
        for line in &self.lines {
            self.draw_line(scene, line);
        }
        for turn in &self.turns {
            self.draw_turn(scene, turn, reach);
        }
        scene.add(Mark::new(MarkKind::Spot, self.centre, self.text_mm * 0.7, Ink::Text));
    }

    fn draw_line(&self, scene: &mut Scene, line: &SketchLine) {
        let room = clearance(&line.name, self.text_mm, line.direction) * 2.0 + self.text_mm * 0.6;
        let tip = self.centre.along(line.direction, (self.radius_mm - room).max(self.text_mm));
        scene.add(Line { weight: Weight::Thin, ..Line::straight(self.centre, tip, line.ink).dash(line.dash) });
        scene.add(Mark::new(MarkKind::ArrowHead, tip, self.text_mm, line.ink).toward(line.direction));
        if !line.name.is_empty() {
            let at = beyond(tip, line.direction, &line.name, self.text_mm);
            scene.add(Label::new(line.name.clone(), at, line.ink).strong().priority(Priority::High).near());
        }
    }

    fn draw_turn(&self, scene: &mut Scene, turn: &Turn, reach: f64) {
        let radius = reach * turn.reach;
        let sweep = sweep_degrees(turn.from, turn.to);
        scene.add(Line::through(arc(self.centre, radius, turn.from, turn.to), turn.ink));
        // An arrow head only where the arc is longer than the head.
        let head = self.text_mm * 0.8;
        if sweep.to_radians() * radius > head * 2.0 {
            let at = self.centre.along(turn.to, radius);
            // The head follows the chord of its own length, not the tangent: it sits on the curve.
            let back = Direction::from_degrees_clockwise_from_up((head / radius / 2.0).to_degrees());
            let toward = turn.to.turned_by(back.mirrored()).quarter_clockwise();
            scene.add(Mark::new(MarkKind::ArrowHead, at, head, turn.ink).toward(toward));
        }
        if !turn.text.is_empty() {
            let half = Direction::from_degrees_clockwise_from_up(sweep / 2.0).turned_by(turn.from);
            let at = beyond(self.centre.along(half, radius), half, &turn.text, self.text_mm);
            scene.add(Label::new(turn.text.clone(), at, turn.ink).near());
        }
    }
}
