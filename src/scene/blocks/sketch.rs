//! The bearing sketch: which north is further clockwise, and how far a line lies from each.
use super::fit::{Reach, fit};
use super::norths::{self, NorthKind};
use super::{beyond, clearance};
use crate::numbers::real;
use crate::scene::{
    Dash, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Rect, Scene, arc, shapes::sweep_degrees,
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

/// A turn, drawn as an arc with an arrow head.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// The counterclockwise end of the arc.
    pub from: Direction,
    /// The clockwise end of the arc.
    pub to: Direction,
    /// Whether the turn goes counterclockwise: its head is at `from` then.
    pub counterclockwise: bool,
    /// How far out it runs, as part of the sketch's lines, 0 to 1.
    pub reach: f64,
    /// Its role.
    pub ink: Ink,
    /// What is written at it; may be empty.
    pub text: String,
    /// Where that stands.
    pub writing: Writing,
}

/// Where the text of a turn stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Writing {
    /// Outside the arc, at its middle.
    #[default]
    Middle,
    /// Beside one of its ends, outside the turn: for one that is too narrow to write in.
    Beside {
        /// Beside its clockwise end.
        clockwise: bool,
    },
}

impl Turn {
    /// The direction in the middle of the turn.
    fn middle(&self) -> Direction {
        let half = sweep_degrees(self.from, self.to) / 2.0;
        Direction::from_degrees_clockwise_from_up(half).turned_by(self.from)
    }
}

/// A bearing sketch. It is drawn as large as its rectangle allows.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    /// The room it takes.
    pub rect: Rect,
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
    /// Draws the sketch as large as fits, its foot wherever that leads.
    pub fn draw(&self, scene: &mut Scene) {
        let (centre, reach) = fit(self.rect, &self.parts(), self.text_mm);
        self.draw_about(scene, centre, reach);
    }

    /// Draws it about the middle of its rectangle, whatever points where: so that nothing jumps while it is moved.
    pub fn draw_in_the_middle(&self, scene: &mut Scene) {
        // Room for a name and a symbol beyond the tips, all round.
        let room = (self.rect.height / 2.0 - self.text_mm * 2.1).min(self.rect.width / 2.0 - self.text_mm * 4.0);
        self.draw_about(scene, self.rect.centre(), room.max(self.text_mm));
    }

    fn draw_about(&self, scene: &mut Scene, centre: Point, reach: f64) {
        for north in &self.norths {
            norths::draw(scene, centre, (north.kind, north.direction, &north.name), reach, self.text_mm);
        }
        for line in &self.lines {
            self.draw_line(scene, line, centre, reach);
        }
        for turn in &self.turns {
            self.draw_turn(scene, turn, centre, reach);
        }
        scene.add(Mark::new(MarkKind::Spot, centre, self.text_mm * 0.5, Ink::Text));
    }

    /// All that must stay inside the rectangle.
    fn parts(&self) -> Vec<Reach> {
        let text = |text: &str, direction: Direction, part: f64, beyond_mm: f64| Reach {
            direction,
            part,
            beyond_mm,
            half_width_mm: (real(text.chars().count()) / 4.0 + 0.25) * self.text_mm,
            half_height_mm: self.text_mm * 0.5,
        };
        let clear = |name: &str, direction: Direction| clearance(name, self.text_mm, direction) + self.text_mm * 0.35;
        let norths = self.norths.iter().map(|north| {
            let offset = north.kind.name_offset(north.direction, &north.name, self.text_mm);
            text(&north.name, north.direction, 1.0, offset)
        });
        let lines = self.lines.iter().map(|l| text(&l.name, l.direction, 1.0, clear(&l.name, l.direction)));
        // A turn reaches furthest where it passes a side of the sheet; and its text stands at its middle.
        let turns = self.turns.iter().flat_map(|turn| {
            let sweep = sweep_degrees(turn.from, turn.to);
            let sides = [Direction::UP, Direction::RIGHT, Direction::DOWN, Direction::LEFT].into_iter();
            let passed = sides.filter(move |&side| sweep_degrees(turn.from, side) <= sweep);
            let middle = turn.middle();
            let writing = match turn.writing {
                Writing::Middle => text(&turn.text, middle, turn.reach, clear(&turn.text, middle)),
                Writing::Beside { clockwise } => {
                    // All of the text lies on one side of its end.
                    let beside = text(&turn.text, if clockwise { turn.to } else { turn.from }, turn.reach, 0.0);
                    Reach { half_width_mm: 2.0 * beside.half_width_mm + self.text_mm * 0.5, ..beside }
                }
            };
            passed.map(move |side| text("", side, turn.reach, 0.0)).chain([writing])
        });
        norths.chain(lines).chain(turns).collect()
    }

    fn draw_line(&self, scene: &mut Scene, line: &SketchLine, centre: Point, reach: f64) {
        let tip = centre.along(line.direction, reach);
        scene.add(Line::straight(centre, tip, line.ink).dash(line.dash));
        scene.add(Mark::new(MarkKind::ArrowHead, tip, self.text_mm, line.ink).toward(line.direction));
        if !line.name.is_empty() {
            let at = beyond(tip, line.direction, &line.name, self.text_mm);
            let at = self.beside_norths(at, &line.name, centre, reach);
            scene.add(Label::new(line.name.clone(), at, line.ink).strong().priority(Priority::High).near());
        }
    }

    /// Where the name of a line stands, moved aside from the name of a north that it would be written over: on paper nothing else does.
    fn beside_norths(&self, at: Point, name: &str, centre: Point, reach: f64) -> Point {
        let half = |text: &str| clearance(text, self.text_mm, Direction::RIGHT);
        let inside = |at: &Point| {
            (at.x - half(name) >= self.rect.corner.x) && (at.x + half(name) <= self.rect.corner.x + self.rect.width)
        };
        let mut at = at;
        for north in self.norths.iter().filter(|north| !north.name.is_empty()) {
            let offset = north.kind.name_offset(north.direction, &north.name, self.text_mm);
            let other = centre.along(north.direction, reach + offset);
            let apart = half(name) + half(&north.name) + self.text_mm * 0.3;
            // A little: what stands right over it a canvas of cells puts elsewhere, and further off it would be another line's.
            let by_a_little = 0.6 * apart..apart;
            if by_a_little.contains(&(at.x - other.x).abs()) && (at.y - other.y).abs() < self.text_mm {
                let aside = if at.x < other.x { -apart } else { apart };
                at = Some(Point::new(other.x + aside, at.y)).filter(inside).unwrap_or(at);
            }
        }
        at
    }

    fn draw_turn(&self, scene: &mut Scene, turn: &Turn, centre: Point, reach: f64) {
        let radius = reach * turn.reach;
        scene.add(Line::through(arc(centre, radius, turn.from, turn.to), turn.ink));
        // An arrow head only where the arc is longer than the head.
        let head = self.text_mm * 0.8;
        if sweep_degrees(turn.from, turn.to).to_radians() * radius > head * 2.0 {
            let end = if turn.counterclockwise { turn.from } else { turn.to };
            let at = centre.along(end, radius);
            // The head follows the chord of its own length, not the tangent: it sits on the curve.
            let back = Direction::from_degrees_clockwise_from_up((head / radius / 2.0).to_degrees());
            let toward = if turn.counterclockwise {
                end.turned_by(back).quarter_counterclockwise()
            } else {
                end.turned_by(back.mirrored()).quarter_clockwise()
            };
            scene.add(Mark::new(MarkKind::ArrowHead, at, head, turn.ink).toward(toward));
        }
        if turn.text.is_empty() {
            return;
        }
        let at = match turn.writing {
            Writing::Middle => {
                let middle = turn.middle();
                beyond(centre.along(middle, radius), middle, &turn.text, self.text_mm)
            }
            Writing::Beside { clockwise } => {
                let (end, aside) = if clockwise {
                    (turn.to, turn.to.quarter_clockwise())
                } else {
                    (turn.from, turn.from.quarter_counterclockwise())
                };
                beyond(centre.along(end, radius), aside, &turn.text, self.text_mm)
            }
        };
        scene.add(Label::new(turn.text.clone(), at, turn.ink).near());
    }
}
