//! A small plan: ways, waters and places from above, fitted into a rectangle.
use super::norths::{self, NorthKind};
use super::{Direction, Point, clearance};
use crate::numbers::{real, whole};
use crate::scene::{Align, Dash, Ink, Label, Line, Mark, MarkKind, Priority, Rect, Scene};

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
    /// The north that is up, drawn in the upper left corner; none for a plan that lies anyhow.
    pub north: Option<(NorthKind, String)>,
    /// Its lines, in drawing order.
    pub lines: Vec<PlanLine>,
    /// Its spots.
    pub spots: Vec<PlanSpot>,
}

/// How far writing on a line keeps from other lines, in lines of writing.
const CLEAR: f64 = 0.45;
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
        // A name belongs to one spot, and what is written at a line may stand anywhere along it: names choose first.
        for spot in &self.spots {
            let at = place(spot.at);
            scene.add(Mark::new(MarkKind::Spot, at, self.text_mm * 0.7, spot.ink));
            if !spot.name.is_empty() {
                let away = if at.y < self.rect.centre().y { Direction::UP } else { Direction::DOWN };
                let free = |side: Direction| {
                    let room = self.around(at.along(side, self.text_mm), &spot.name);
                    let pieces = drawn.iter().flat_map(|points| points.windows(2)).map(|piece| to_line(&room, piece));
                    let (top, bottom) = (room.corner.y - self.rect.corner.y, room.corner.y + room.height);
                    let inside = top >= 0.0 && bottom <= self.rect.corner.y + self.rect.height;
                    if inside { pieces.fold(self.text_mm, f64::min) } else { 0.0 }
                };
                // The other side, where a line runs through the name on this one.
                let other = away.reversed();
                let away = if free(away) <= 0.0 && free(other) > 0.0 { other } else { away };
                self.write(scene, &spot.name, at.along(away, self.text_mm), spot.ink);
            }
        }
        let mut kept: Vec<Rect> = self.spots.iter().map(|spot| self.around(place(spot.at), "")).collect();
        let labelled = |on_line: bool| {
            let lines = self.lines.iter().enumerate();
            lines.filter(move |(_, line)| line.on_line == on_line && !line.label.is_empty())
        };
        for (at, line) in labelled(false) {
            if let Some(beside) = self.beside_line(at, &drawn, &kept) {
                kept.push(self.around(beside, &line.label));
                self.write(scene, &line.label, beside, line.ink);
            }
        }
        // What stands on a line cannot be moved: it keeps away from wherever a name may come to stand, and from the north.
        let (beside, over) = (self.text_mm, self.text_mm * 1.5);
        for room in &mut kept {
            *room = Rect::new(
                room.corner.x - beside,
                room.corner.y - over,
                room.width + 2.0 * beside,
                room.height + 2.0 * over,
            );
        }
        kept.extend(self.spots.iter().filter(|spot| !spot.name.is_empty()).map(|spot| {
            let (at, half) = (place(spot.at), self.text_mm * (1.0 + real(spot.name.chars().count()) / 2.0));
            Rect::new(at.x - half, at.y - self.text_mm * 2.0, 2.0 * half, self.text_mm * 4.0)
        }));
        if self.north.is_some() {
            kept.push(Rect { width: self.text_mm * 2.4, height: self.text_mm * 5.0, ..self.rect });
        }
        // Each text once, on the first line that has a clear place for it; where too few find one, closer to the neighbours.
        let mut written: Vec<&str> = Vec::new();
        for (clear, whole, enough) in [(CLEAR, true, MOST), (0.05, true, FEWEST), (0.05, false, FEWEST)] {
            for (at, line) in labelled(true) {
                if written.len() >= enough || written.contains(&line.label.as_str()) {
                    continue;
                }
                if let Some(on) = self.on_line(at, (clear * self.text_mm, whole), &drawn, &kept) {
                    kept.push(self.around(on, &line.label));
                    scene.add(Label::new(line.label.clone(), on, line.ink));
                    written.push(&line.label);
                }
            }
        }
        if let Some((kind, name)) = &self.north {
            let foot = self.rect.corner.moved(self.text_mm * 1.2, self.text_mm * 4.6);
            norths::draw(scene, foot, (*kind, Direction::UP, name), self.text_mm * 2.2, self.text_mm);
        }
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

    /// Where something is written at a line: beside a piece of it, near its middle and outward where there is room, and always nearer
    /// to it than to any other line: between two lines nobody knows whose name it is.
    fn beside_line(&self, number: usize, drawn: &[Vec<Point>], kept: &[Rect]) -> Option<Point> {
        let (text, text_mm, centre) = (&self.lines[number].label, self.text_mm, self.rect.centre());
        let longest = drawn[number].windows(2).map(length).fold(0.0, f64::max);
        let mut best: Option<(f64, Point)> = None;
        for piece in drawn[number].windows(2) {
            let Some(along) = Direction::between(piece[0], piece[1]) else { continue };
            let aside = along.quarter_clockwise();
            for (rank, share) in (0_u32..).zip([0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92]) {
                let at = piece[0].along(along, length(piece) * share);
                let out = (at.x - centre.x) * aside.dx() + (at.y - centre.y) * aside.dy();
                let outward = if out < 0.0 { aside.reversed() } else { aside };
                for (other_side, away) in [outward, outward.reversed()].into_iter().enumerate() {
                    let beside = at.along(away, clearance(text, text_mm, away) + text_mm * 0.4);
                    let room = self.around(beside, text);
                    let others = drawn.iter().enumerate().filter(|(other, _)| *other != number);
                    let lines = others.flat_map(|(_, points)| points.windows(2)).map(|piece| to_line(&room, piece));
                    let writing = kept.iter().map(|other| apart(&room, other));
                    let free = lines.chain(writing).fold(f64::INFINITY, f64::min).min(1.6 * text_mm) / text_mm;
                    let inside = if self.holds(&room) { 0.0 } else { 3.0 };
                    let shorter = 1.0 - length(piece) / longest.max(f64::MIN_POSITIVE);
                    let score = free - inside - 0.5 * shorter - 0.05 * f64::from(rank) - 0.1 * real(other_side);
                    if best.is_none_or(|(most, _)| score > most + 1e-9) {
                        best = Some((score, beside));
                    }
                }
            }
        }
        best.map(|(_, beside)| beside)
    }

    /// Where something is written on a line: where other lines and writing keep farthest away, and so far at least, in mm.
    /// Where that need not be for the whole of it, another line may run through its ends, but not through its middle.
    fn on_line(
        &self,
        number: usize,
        (clear, whole): (f64, bool),
        drawn: &[Vec<Point>],
        kept: &[Rect],
    ) -> Option<Point> {
        let mut best: Option<(f64, Point)> = None;
        for at in drawn[number].iter().copied() {
            let room = self.around(at, &self.lines[number].label);
            if !self.holds(&room) {
                continue;
            }
            let others = drawn.iter().enumerate().filter(|(other, _)| *other != number);
            let alone = if whole { room } else { self.around(at, "") };
            let lines = others.flat_map(|(_, points)| points.windows(2)).map(|piece| to_line(&alone, piece));
            // Between two pieces of writing a cell stays free, and each may be moved by one.
            let writing = kept.iter().map(|other| apart(&room, other) - self.text_mm * 0.9);
            let free = lines.chain(writing).fold(f64::INFINITY, f64::min);
            if free >= clear && best.is_none_or(|(most, _)| free > most) {
                best = Some((free, at));
            }
        }
        best.map(|(_, at)| at)
    }

    /// The room of a piece of writing about a point; of none that of a spot.
    fn around(&self, at: Point, text: &str) -> Rect {
        let wide = (real(text.chars().count()) * self.text_mm / 2.0).max(self.text_mm);
        Rect::new(at.x - wide / 2.0, at.y - self.text_mm / 2.0, wide, self.text_mm)
    }

    fn holds(&self, room: &Rect) -> bool {
        let Rect { corner, width, height } = self.rect;
        room.corner.x >= corner.x
            && room.corner.y >= corner.y
            && room.corner.x + room.width <= corner.x + width
            && room.corner.y + room.height <= corner.y + height
    }

    /// A piece of writing about this point, wholly within the rectangle. Near a side it begins or ends at the point: moved inward as a
    /// whole it would be looked for, and then placed, beside the wrong spot.
    fn write(&self, scene: &mut Scene, text: &str, at: Point, ink: Ink) {
        let half = real(text.chars().count()) * self.text_mm / 4.0;
        let Rect { corner, width, height } = self.rect;
        let (left, right) = (at.x - corner.x, corner.x + width - at.x);
        let align = match (left < half, right < half) {
            (true, false) if right >= 2.0 * half => Align::Left,
            (false, true) if left >= 2.0 * half => Align::Right,
            _ => Align::Centre,
        };
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

fn length(ends: &[Point]) -> f64 {
    match ends {
        [from, to] => (to.x - from.x).hypot(to.y - from.y),
        _ => 0.0,
    }
}

/// How far a piece of a line keeps from a room, in mm; 0 where it runs through. Walked along, in steps of a mm.
fn to_line(room: &Rect, piece: &[Point]) -> f64 {
    let [from, to] = piece else { return f64::INFINITY };
    let steps: u32 = whole(length(piece).clamp(1.0, 1000.0));
    let at = |step: u32| {
        let share = f64::from(step) / f64::from(steps);
        Point::new(from.x + share * (to.x - from.x), from.y + share * (to.y - from.y))
    };
    (0..=steps).map(|step| apart(room, &Rect::new(at(step).x, at(step).y, 0.0, 0.0))).fold(f64::INFINITY, f64::min)
}

/// How far two rooms are apart, in mm.
fn apart(one: &Rect, other: &Rect) -> f64 {
    let gap = |low: f64, size: f64, other_low: f64, other_size: f64| {
        (other_low - low - size).max(low - other_low - other_size).max(0.0)
    };
    gap(one.corner.x, one.width, other.corner.x, other.width).hypot(gap(
        one.corner.y,
        one.height,
        other.corner.y,
        other.height,
    ))
}
