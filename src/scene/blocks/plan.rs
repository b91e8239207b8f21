//! A small plan: ways, waters and places from above, fitted into a rectangle.
use super::norths::{self, NorthKind};
use super::{Direction, Point, clearance};
use crate::numbers::real;
use crate::scene::{Dash, Ink, Label, Line, Mark, MarkKind, Priority, Rect, Scene};

/// A line of a plan, in the plan's own units: `x` to the right, `y` up.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanLine {
    /// Its corners, two at least.
    pub through: Vec<(f64, f64)>,
    /// Its role.
    pub ink: Ink,
    /// How it is broken up.
    pub dash: Dash,
    /// Whether it is a way with a direction: an arrow head stands at its end.
    pub arrow: bool,
    /// What is written at its middle; may be empty.
    pub label: String,
}

/// A spot of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanSpot {
    /// Where.
    pub at: (f64, f64),
    /// Its role.
    pub ink: Ink,
    /// What is written beside it; may be empty.
    pub name: String,
}

/// A plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The room it takes.
    pub rect: Rect,
    /// The height of a line of writing in mm.
    pub text_mm: f64,
    /// The north that is up, drawn in the upper left corner; none for a plan that lies anyhow.
    pub north: Option<(NorthKind, String)>,
    /// Its lines, in drawing order.
    pub lines: Vec<PlanLine>,
    /// Its spots.
    pub spots: Vec<PlanSpot>,
}

impl Plan {
    /// Draws it about the middle of its rectangle. Writing stands beside its line or spot, on the side away from the middle, and is
    /// moved inward where it would stand out of the rectangle.
    pub fn draw(&self, scene: &mut Scene) {
        let Some(place) = self.fit() else { return };
        for line in &self.lines {
            self.draw_line(scene, line, &place);
        }
        for spot in &self.spots {
            let at = place(spot.at);
            scene.add(Mark::new(MarkKind::Spot, at, self.text_mm * 0.7, spot.ink));
            if !spot.name.is_empty() {
                let away = if at.y < self.rect.centre().y { Direction::UP } else { Direction::DOWN };
                self.write(scene, &spot.name, at.along(away, self.text_mm), spot.ink);
            }
        }
        if let Some((kind, name)) = &self.north {
            let foot = self.rect.corner.moved(self.text_mm * 1.2, self.text_mm * 4.6);
            norths::draw(scene, foot, (*kind, Direction::UP, name), self.text_mm * 2.2, self.text_mm);
        }
    }

    fn draw_line(&self, scene: &mut Scene, line: &PlanLine, place: &impl Fn((f64, f64)) -> Point) {
        let points: Vec<Point> = line.through.iter().map(|at| place(*at)).collect();
        let longest = points.windows(2).max_by(|one, other| length(one).total_cmp(&length(other)));
        if let (Some([from, to]), false) = (longest, line.label.is_empty())
            && let Some(along) = Direction::between(*from, *to)
        {
            let middle = Point::new(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y));
            let centre = self.rect.centre();
            let aside = along.quarter_clockwise();
            let out = (middle.x - centre.x) * aside.dx() + (middle.y - centre.y) * aside.dy();
            let away = if out < 0.0 { aside.reversed() } else { aside };
            let beside = middle.along(away, clearance(&line.label, self.text_mm, away) + self.text_mm * 0.4);
            self.write(scene, &line.label, beside, line.ink);
        }
        if let (true, Some([from, to])) = (line.arrow, points.last_chunk::<2>())
            && let Some(toward) = Direction::between(*from, *to)
        {
            scene.add(Mark::new(MarkKind::ArrowHead, *to, self.text_mm * 0.8, line.ink).toward(toward));
        }
        scene.add(Line::through(points, line.ink).dash(line.dash));
    }

    /// A piece of writing about this point, wholly within the rectangle.
    fn write(&self, scene: &mut Scene, text: &str, at: Point, ink: Ink) {
        let half = real(text.chars().count()) * self.text_mm / 4.0;
        let within = |at: f64, low: f64, size: f64, keep: f64| {
            if size <= 2.0 * keep { low + size / 2.0 } else { at.clamp(low + keep, low + size - keep) }
        };
        let Rect { corner, width, height } = self.rect;
        let at = Point::new(within(at.x, corner.x, width, half), within(at.y, corner.y, height, self.text_mm / 2.0));
        scene.add(Label::new(text, at, ink).strong().priority(Priority::High).near());
    }

    /// From the plan's units onto the sheet, as large as it can be with a line of writing round it; none where nothing is to be fitted.
    fn fit(&self) -> Option<impl Fn((f64, f64)) -> Point + use<>> {
        let all = || {
            let lines = self.lines.iter().flat_map(|line| line.through.iter().copied());
            lines.chain(self.spots.iter().map(|spot| spot.at)).filter(|(x, y)| x.is_finite() && y.is_finite())
        };
        let (x, y) = all().next()?;
        let (left, right, low, high) = all().fold((x, x, y, y), |(left, right, low, high), (x, y)| {
            (left.min(x), right.max(x), low.min(y), high.max(y))
        });
        // Beside the lines stand short numbers; names of spots stand above and below.
        let (aside, above) = (self.text_mm * 2.0, self.text_mm * 2.2);
        let per = |size: f64, keep: f64, span: f64| {
            if span > 0.0 { (size - 2.0 * keep).max(self.text_mm) / span } else { f64::INFINITY }
        };
        let scale = per(self.rect.width, aside, right - left).min(per(self.rect.height, above, high - low));
        let scale = if scale.is_finite() { scale } else { 0.0 };
        let (centre, middle) = (self.rect.centre(), (f64::midpoint(left, right), f64::midpoint(low, high)));
        Some(move |(x, y): (f64, f64)| centre.moved((x - middle.0) * scale, (middle.1 - y) * scale))
    }
}

fn length(ends: &[Point]) -> f64 {
    match ends {
        [from, to] => (to.x - from.x).hypot(to.y - from.y),
        _ => 0.0,
    }
}
