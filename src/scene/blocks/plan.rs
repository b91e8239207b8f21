//! A small plan: ways, waters and places from above, fitted into a rectangle.

mod writing;

use super::norths::{self, NorthKind};
use super::{Direction, Point, clearance};
use crate::numbers::real;
use crate::scene::{Align, Dash, Ink, Label, Line, Mark, MarkKind, Priority, Rect, Scene};
use writing::{Clear, Writing};

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
    /// What is written at it; may be empty.
    pub label: String,
    /// Whether that stands on the line, as heights do, where nothing else is near; it is left out where there is no such place.
    /// Else it stands beside the line.
    pub on_line: bool,
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
    /// Its norths, each with its direction and name, drawn side by side in a free corner, the upper left one before others; none for a
    /// plan that lies anyhow.
    pub norths: Vec<(NorthKind, Direction, String)>,
    /// Its lines, in drawing order.
    pub lines: Vec<PlanLine>,
    /// Its spots.
    pub spots: Vec<PlanSpot>,
}

/// How much room a north takes across, in lines of writing.
const NORTH_WIDTH: f64 = 2.4;
/// How many texts are written on lines at most, and how few are too few: from one height nobody tells up from down.
const MOST: usize = 6;
const FEWEST: usize = 2;

impl Plan {
    /// Draws it about the middle of its rectangle. Writing stands beside its line or spot, on the side away from the middle, and is
    /// moved inward where it would stand out of the rectangle.
    pub fn draw(&self, scene: &mut Scene) {
        let Some(place) = self.fit() else { return };
        for line in &self.lines {
            self.draw_line(scene, line, &place);
        }
        let drawn: Vec<Vec<Point>> =
            self.lines.iter().map(|line| line.through.iter().map(|at| place(*at)).collect()).collect();
        let mut writing = Writing::new(self.rect, self.text_mm, &drawn);
        let corner = self.corner(&writing);
        if !self.norths.is_empty() {
            writing.keep(corner);
        }
        for spot in &self.spots {
            let at = place(spot.at);
            scene.add(Mark::new(MarkKind::Spot, at, self.text_mm * 0.7, spot.ink));
            writing.keep_spot(at);
        }
        // A name belongs to one spot, and what is written at a line may stand anywhere along it: names choose first.
        for spot in self.spots.iter().filter(|spot| !spot.name.is_empty()) {
            let at = place(spot.at);
            let away = if at.y < self.rect.centre().y { Direction::UP } else { Direction::DOWN };
            let (anchor, align) = writing.name(at, &spot.name, away);
            self.write(scene, &spot.name, (anchor, align), spot.ink);
        }
        for (at, line) in self.labelled(false) {
            if let Some(beside) = writing.beside(at, &line.label) {
                let half = clearance(&line.label, self.text_mm, Direction::RIGHT);
                self.write(scene, &line.label, (beside, writing.align_at(beside, half)), line.ink);
            }
        }
        // What stands on a line cannot be moved: it keeps away from wherever a name may come to stand, and from the north.
        writing.keep_what_may_move();
        for spot in self.spots.iter().filter(|spot| !spot.name.is_empty()) {
            writing.keep_name(place(spot.at), &spot.name);
        }
        // Each text once, on the first line that has a clear place for it; where too few find one, closer to the neighbours.
        let mut written: Vec<&str> = Vec::new();
        for (clear, enough) in [(Clear::Well, MOST), (Clear::Whole, FEWEST), (Clear::Middle, FEWEST)] {
            for (at, line) in self.labelled(true) {
                if written.len() >= enough || written.contains(&line.label.as_str()) {
                    continue;
                }
                if let Some(on) = writing.on(at, &line.label, clear) {
                    scene.add(Label::new(line.label.clone(), on, line.ink));
                    written.push(&line.label);
                }
            }
        }
        let feet = (0_u32..).map(|at| self.text_mm * (1.2 + NORTH_WIDTH * f64::from(at)));
        for ((kind, direction, name), across) in self.norths.iter().zip(feet) {
            let foot = corner.corner.moved(across, self.text_mm * 4.6);
            norths::draw(scene, foot, (*kind, *direction, name), self.text_mm * 2.2, self.text_mm);
        }
    }

    /// The corner for the norths: the first through which no line runs.
    fn corner(&self, writing: &Writing) -> Rect {
        // The last of several may lean outward.
        let lean = if self.norths.len() > 1 { 1.4 } else { 0.0 };
        let width = self.text_mm * (NORTH_WIDTH * real(self.norths.len().max(1)) + lean);
        let first = Rect { width, height: self.text_mm * 5.0, ..self.rect };
        let (right, down) = (self.rect.width - first.width, self.rect.height - first.height);
        let corners = [(0.0, 0.0), (right, 0.0), (0.0, down), (right, down)];
        let mut corners = corners.into_iter().map(|(x, y)| Rect { corner: first.corner.moved(x, y), ..first });
        corners.find(|corner| !writing.is_crossed(corner)).unwrap_or(first)
    }

    fn draw_line(&self, scene: &mut Scene, line: &PlanLine, place: &impl Fn((f64, f64)) -> Point) {
        let points: Vec<Point> = line.through.iter().map(|at| place(*at)).collect();
        if let (true, Some([from, to])) = (line.arrow, points.last_chunk::<2>())
            && let Some(toward) = Direction::between(*from, *to)
        {
            scene.add(Mark::new(MarkKind::ArrowHead, *to, self.text_mm * 0.8, line.ink).toward(toward));
        }
        scene.add(Line::through(points, line.ink).dash(line.dash));
    }

    /// The lines at which something is written, with their numbers: on them, or beside them.
    fn labelled(&self, on_line: bool) -> impl Iterator<Item = (usize, &PlanLine)> {
        self.lines.iter().enumerate().filter(move |(_, line)| line.on_line == on_line && !line.label.is_empty())
    }

    /// A piece of writing about this point, or beginning or ending there, wholly within the rectangle.
    fn write(&self, scene: &mut Scene, text: &str, (at, align): (Point, Align), ink: Ink) {
        let half = real(text.chars().count()) * self.text_mm / 4.0;
        let Rect { corner, width, height } = self.rect;
        let within = |at: f64, low: f64, size: f64, keep: f64| {
            if size <= 2.0 * keep { low + size / 2.0 } else { at.clamp(low + keep, low + size - keep) }
        };
        let beside = if align == Align::Centre { half } else { 0.0 };
        let at = Point::new(within(at.x, corner.x, width, beside), within(at.y, corner.y, height, self.text_mm / 2.0));
        scene.add(Label::new(text, at, ink).align(align).strong().priority(Priority::High).near());
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
