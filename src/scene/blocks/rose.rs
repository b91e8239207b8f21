//! A rose of compass points with one of them marked.
use super::beyond;
use crate::scene::{Area, Direction, Ink, Label, Line, Point, Priority, Scene, circle};

/// How important a point of the rose is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PointRank {
    /// N, E, S, W: the longest rays.
    Main,
    /// NE, SE, SW, NW: shorter rays.
    Between,
    /// All finer points: ticks.
    Fine,
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
    /// Whether it is the one to look at.
    pub marked: bool,
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
    /// The role of the marked point.
    pub mark_ink: Ink,
}

impl Rose {
    /// Draws the rose.
    pub fn draw(&self, scene: &mut Scene) {
        let reach = (self.radius_mm - self.text_mm * 2.0).max(self.text_mm);
        scene.add(Line::through(circle(self.centre, reach * 0.5), Ink::Faint));
        for point in &self.points {
            self.draw_point(scene, point, reach);
        }
    }

    fn draw_point(&self, scene: &mut Scene, point: &RosePoint, reach: f64) {
        let ink = if point.marked { self.mark_ink } else { Ink::Plate };
        let (length, waist) = match point.rank {
            PointRank::Main => (1.0, 0.2),
            PointRank::Between => (0.72, 0.16),
            PointRank::Fine => (0.58, 0.0),
        };
        let tip = self.centre.along(point.direction, reach * length);
        if waist > 0.0 {
            let eighth = Direction::from_degrees_clockwise_from_up(45.0);
            let clockwise = self.centre.along(point.direction.turned_by(eighth), reach * waist);
            let counter = self.centre.along(point.direction.turned_by(eighth.mirrored()), reach * waist);
            scene.add(Line::through(vec![counter, tip, clockwise, self.centre, tip], ink));
            // One half in the shade, as engraved roses have it; both halves on the marked ray.
            scene.add(Area::solid(vec![self.centre, tip, clockwise], ink));
            if point.marked {
                scene.add(Area::solid(vec![self.centre, tip, counter], ink));
            }
        } else {
            let from = if point.marked { 0.0 } else { reach * 0.5 };
            scene.add(Line::straight(self.centre.along(point.direction, from), tip, ink));
        }
        if point.name.is_empty() {
            return;
        }
        let at = beyond(self.centre.along(point.direction, reach * length), point.direction, &point.name, self.text_mm);
        let label = Label::new(point.name.clone(), at, if point.marked { self.mark_ink } else { Ink::Text });
        scene.add(match (point.marked, point.rank) {
            (true, _) => label.strong().priority(Priority::High),
            (_, PointRank::Main) => label.strong(),
            (_, PointRank::Between) => label,
            (_, PointRank::Fine) => label.priority(Priority::Low),
        });
    }
}
