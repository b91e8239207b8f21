//! A rose of compass points with one of them marked.
use super::beyond;
use crate::scene::{Area, Direction, Ink, Label, Line, Point, Priority, Scene};

/// How important a point of the rose is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PointRank {
    /// N, E, S, W: the longest rays.
    Main,
    /// NE, SE, SW, NW: shorter rays.
    Between,
    /// NNE, ENE, …: short strokes.
    Fine,
    /// NbE, NEbN, …: dots.
    Finest,
}

/// One point of the rose.
#[derive(Clone, Debug, PartialEq)]
pub struct RosePoint {
    /// Where it points.
    pub direction: Direction,
    /// Its name; may be empty.
    pub name: String,
    /// How it is drawn.
    pub rank: PointRank,
    /// The role it is drawn in when it is one to look at; its ray is solid, to be seen without colour.
    pub mark: Option<Ink>,
}

/// A rose of compass points.
#[derive(Clone, Debug, PartialEq)]
pub struct Rose {
    /// Its middle.
    pub centre: Point,
    /// The radius of the whole figure in mm, names included.
    pub radius_mm: f64,
    /// The height of a line of writing in mm.
    pub text_mm: f64,
    /// The points.
    pub points: Vec<RosePoint>,
}

impl Rose {
    /// Draws the rose: a star of open rays. The marked ray alone is solid, to be seen without colour.
    pub fn draw(&self, scene: &mut Scene) {
        let reach = (self.radius_mm - self.text_mm * 2.0).max(self.text_mm);
        for point in &self.points {
            self.draw_point(scene, point, reach);
        }
    }

    fn draw_point(&self, scene: &mut Scene, point: &RosePoint, reach: f64) {
        let ink = point.mark.unwrap_or(Ink::Plate);
        let length = match point.rank {
            PointRank::Main => 1.0,
            PointRank::Between => 0.7,
            PointRank::Fine => 0.55,
            PointRank::Finest => 0.5,
        };
        let tip = self.centre.along(point.direction, reach * length);
        if matches!(point.rank, PointRank::Fine | PointRank::Finest) {
            let start = match (point.mark.is_some(), point.rank) {
                (true, _) => 0.0,
                (false, PointRank::Fine) => 0.4,
                (false, _) => 0.5,
            };
            let from = self.centre.along(point.direction, reach * start);
            let line = Line::straight(from, tip, ink);
            scene.add(if point.mark.is_some() { line.bold() } else { line });
        } else {
            // Neighbouring rays meet in the notches halfway between them.
            let sixteenth = Direction::from_degrees_clockwise_from_up(22.5);
            let notch = |turn: Direction| self.centre.along(point.direction.turned_by(turn), reach * 0.22);
            let (clockwise, counter) = (notch(sixteenth), notch(sixteenth.mirrored()));
            if point.mark.is_some() {
                scene.add(Area::solid(vec![counter, tip, clockwise, self.centre], ink));
            } else {
                scene.add(Line::through(vec![counter, tip, clockwise], ink));
            }
        }
        if point.name.is_empty() {
            return;
        }
        let at = beyond(tip, point.direction, &point.name, self.text_mm);
        let label = Label::new(point.name.clone(), at, point.mark.unwrap_or(Ink::Text));
        scene.add(match (point.mark.is_some(), point.rank) {
            (true, _) => label.strong().priority(Priority::High),
            (_, PointRank::Main) => label.strong(),
            (_, PointRank::Between) => label,
            (_, PointRank::Fine | PointRank::Finest) => label.priority(Priority::Low),
        });
    }
}
