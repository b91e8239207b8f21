//! Where writing stands on a plan: nearer to its own line than to any other, on it or beside it.

use crate::numbers::{real, whole};
use crate::scene::blocks::clearance;
use crate::scene::{Align, Direction, Point, Rect};

/// How clear of other lines writing on a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Clear {
    /// Half a line of writing away.
    Well,
    /// None of it is touched.
    Whole,
    /// Another line may run through its ends, but not through its middle.
    Middle,
}

/// How far "well clear" is, and what just does not touch, in lines of writing.
const WELL: f64 = 0.45;
const NOT_TOUCHING: f64 = 0.05;
/// Nearer to one another than this two names look like one, in lines of writing.
const ALONE: f64 = 0.4;
/// Farther away than this nothing disturbs, in lines of writing.
const FAR: f64 = 1.6;
/// At how many places of a line it is tried to write on it.
const PLACES: usize = 40;

/// The lines of a plan as they are drawn, and where writing or a mark stands already.
pub(super) struct Writing<'a> {
    rect: Rect,
    text_mm: f64,
    drawn: &'a [Vec<Point>],
    /// Around each line: what is far from that is far from the line.
    bounds: Vec<Rect>,
    /// Rooms of what a canvas may move by a cell or two.
    kept: Vec<Rect>,
    /// Rooms of what stands where it stands.
    fixed: Vec<Rect>,
}

impl<'a> Writing<'a> {
    pub(super) fn new(rect: Rect, text_mm: f64, drawn: &'a [Vec<Point>]) -> Writing<'a> {
        let bounds = drawn.iter().map(|points| bounds(points)).collect();
        Writing { rect, text_mm, drawn, bounds, kept: Vec::new(), fixed: Vec::new() }
    }

    /// Keeps a room free.
    pub(super) fn keep(&mut self, room: Rect) {
        self.fixed.push(room);
    }

    /// Whether a line runs through a room.
    pub(super) fn is_crossed(&self, room: &Rect) -> bool {
        self.off_lines(room, None, 0.0) <= 0.0
    }

    /// Keeps the place of a spot free.
    pub(super) fn keep_spot(&mut self, at: Point) {
        self.kept.push(self.around(at, ""));
    }

    /// Keeps all places free to which a canvas may move the name of a spot.
    pub(super) fn keep_name(&mut self, at: Point, name: &str) {
        let half = self.text_mm * (1.0 + real(name.chars().count()) / 2.0);
        self.fixed.push(Rect::new(at.x - half, at.y - self.text_mm * 2.0, 2.0 * half, self.text_mm * 4.0));
    }

    /// Keeps as much more free round all that was kept so far as a canvas may move it.
    pub(super) fn keep_what_may_move(&mut self) {
        let (beside, over) = (self.text_mm, self.text_mm * 1.5);
        for Rect { corner, width, height } in &mut self.kept {
            *corner = corner.moved(-beside, -over);
            (*width, *height) = (*width + 2.0 * beside, *height + 2.0 * over);
        }
    }

    /// Where the name of a spot stands: over or under it, as wanted, or else where it hides less of the lines and no other name or spot
    /// is so near that it might be read as theirs.
    pub(super) fn name(&mut self, at: Point, name: &str, wanted: Direction) -> (Point, Align) {
        let (own, text_mm, up) = (self.around(at, ""), self.text_mm, wanted.dy());
        let half = clearance(name, text_mm, Direction::RIGHT);
        let (beside, askew) = (text_mm * 0.8, text_mm * 0.3);
        let places = [
            (0, 0.0, up, Align::Centre),
            (1, 0.0, -up, Align::Centre),
            (2, beside, 0.0, Align::Left),
            (2, -beside, 0.0, Align::Right),
            (3, askew, up, Align::Left),
            (3, -askew, up, Align::Right),
            (4, askew, -up, Align::Left),
            (4, -askew, -up, Align::Right),
        ];
        let middle_of = |anchor: Point, align: Align| match align {
            Align::Left => anchor.moved(half, 0.0),
            Align::Centre => anchor,
            Align::Right => anchor.moved(-half, 0.0),
        };
        let disliked = |(rank, x, y, align): (usize, f64, f64, Align)| {
            let anchor = at.moved(x, y * text_mm);
            let align = if align == Align::Centre { self.align_at(anchor, half) } else { align };
            let middle = middle_of(anchor, align);
            let room = self.around(middle, name);
            // What begins or ends at a point is not moved inward as a whole.
            let room = if align == Align::Centre { self.moved_inward(room) } else { room };
            let mut others = self.kept.iter().chain(&self.fixed).filter(|kept| **kept != own);
            let crowded = others.any(|kept| apart(&room, kept) < text_mm * ALONE);
            let outside = !self.holds(&room);
            (40 * usize::from(outside) + 16 * usize::from(crowded) + self.hidden(&room, at) + rank, (anchor, align))
        };
        let least = places.into_iter().map(disliked).min_by_key(|(dislike, _)| *dislike);
        let (anchor, align) = least.map_or((at, Align::Centre), |(_, place)| place);
        self.fixed.push(self.moved_inward(self.around(middle_of(anchor, align), name)));
        (anchor, align)
    }

    /// How many mm of lines writing in a room would hide, with what runs between it and its spot; 12 at most, where all is hidden alike.
    fn hidden(&self, room: &Rect, spot: Point) -> usize {
        let (left, right) = (room.corner.x.min(spot.x), (room.corner.x + room.width).max(spot.x));
        let beside = room.corner.y <= spot.y && spot.y <= room.corner.y + room.height;
        let room = if beside { Rect::new(left, room.corner.y, right - left, room.height) } else { *room };
        let inside = |at: &Point| apart(&room, &Rect::new(at.x, at.y, 0.0, 0.0)) <= 0.0;
        let met = |(points, bounds): (&Vec<Point>, &Rect)| {
            if apart(&room, bounds) > 0.0 {
                return 0;
            }
            points.windows(2).flat_map(along).filter(inside).take(12).count()
        };
        self.drawn.iter().zip(&self.bounds).map(met).sum::<usize>().min(12)
    }

    /// How writing about a point is aligned. Near a side it begins or ends at the point: moved inward as a whole it would be looked for,
    /// and then placed, beside the wrong spot.
    pub(super) fn align_at(&self, at: Point, half: f64) -> Align {
        let (left, right) = (at.x - self.rect.corner.x, self.rect.corner.x + self.rect.width - at.x);
        match (left < half, right < half) {
            (true, false) if right >= 2.0 * half => Align::Left,
            (false, true) if left >= 2.0 * half => Align::Right,
            _ => Align::Centre,
        }
    }

    /// A room that would stand out at a side, moved in: so is a name that is written there.
    fn moved_inward(&self, room: Rect) -> Rect {
        let least = self.rect.corner.x;
        let most = (least + self.rect.width - room.width).max(least);
        Rect { corner: Point::new(room.corner.x.clamp(least, most), room.corner.y), ..room }
    }

    /// Where something is written at a line: beside a piece of it, near its middle and outward where there is room, and always nearer
    /// to it than to any other line: between two lines nobody knows whose name it is.
    pub(super) fn beside(&mut self, number: usize, text: &str) -> Option<Point> {
        let (text_mm, centre, line) = (self.text_mm, self.rect.centre(), &self.drawn[number]);
        let longest = line.windows(2).map(length).fold(f64::MIN_POSITIVE, f64::max);
        let mut best: Option<(f64, Point)> = None;
        for piece in line.windows(2) {
            let Some(along) = Direction::between(piece[0], piece[1]) else { continue };
            let aside = along.quarter_clockwise();
            let shorter = 1.0 - length(piece) / longest;
            for (rank, share) in (0_u32..).zip([0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92]) {
                let at = piece[0].along(along, length(piece) * share);
                let out = (at.x - centre.x) * aside.dx() + (at.y - centre.y) * aside.dy();
                let outward = if out < 0.0 { aside.reversed() } else { aside };
                for (inward, away) in [(0.0, outward), (0.1, outward.reversed())] {
                    let beside = at.along(away, clearance(text, text_mm, away) + text_mm * 0.4);
                    let room = self.around(beside, text);
                    let outside = if self.holds(&room) { 0.0 } else { 3.0 };
                    let less = outside + 0.5 * shorter + 0.05 * f64::from(rank) + inward;
                    // What cannot become the best any more need not be measured to the end.
                    let least = best.map_or(0.0, |(most, _)| (most + less) * text_mm);
                    let writing = self.off_writing(&room);
                    let crowded = if writing < text_mm * ALONE { 1.0 } else { 0.0 };
                    let free = self.off_lines(&room, Some(number), least).min(writing);
                    let score = free / text_mm - less - crowded;
                    if best.is_none_or(|(most, _)| score > most + 1e-9) {
                        best = Some((score, beside));
                    }
                }
            }
        }
        let (_, beside) = best?;
        self.kept.push(self.around(beside, text));
        Some(beside)
    }

    /// Where something is written on a line: where other lines and writing keep farthest away, and are so clear at least.
    pub(super) fn on(&mut self, number: usize, text: &str, clear: Clear) -> Option<Point> {
        let line = &self.drawn[number];
        let mut least = self.text_mm * if clear == Clear::Well { WELL } else { NOT_TOUCHING };
        let mut best = None;
        for at in line.iter().copied().step_by(line.len() / PLACES + 1) {
            let room = self.around(at, text);
            if !self.holds(&room) {
                continue;
            }
            // Between two pieces of writing a cell stays free, and each may be moved by one.
            let writing = self.off_writing(&room) - self.text_mm * 0.9;
            if writing < least {
                continue;
            }
            let alone = if clear == Clear::Middle { self.around(at, "") } else { room };
            let free = self.off_lines(&alone, Some(number), least).min(writing);
            if free >= least {
                // The next one has to be clearer than this.
                (best, least) = (Some(at), free + 1e-9);
            }
        }
        let on = best?;
        self.kept.push(self.around(on, text));
        Some(on)
    }

    /// How far a room keeps from all lines but one, in mm; [`FAR`] at most. Once it is less than `least`, how much less is not asked.
    fn off_lines(&self, room: &Rect, except: Option<usize>, least: f64) -> f64 {
        let mut free = FAR * self.text_mm;
        for (number, (points, bounds)) in self.drawn.iter().zip(&self.bounds).enumerate() {
            if Some(number) == except || apart(room, bounds) >= free {
                continue;
            }
            for piece in points.windows(2) {
                free = free.min(to_piece(room, piece, free));
                if free < least {
                    return free;
                }
            }
        }
        free
    }

    /// How far a room keeps from what is kept free, in mm; twice [`FAR`] at most.
    fn off_writing(&self, room: &Rect) -> f64 {
        self.kept.iter().chain(&self.fixed).map(|other| apart(room, other)).fold(2.0 * FAR * self.text_mm, f64::min)
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
}

fn length(ends: &[Point]) -> f64 {
    match ends {
        [from, to] => (to.x - from.x).hypot(to.y - from.y),
        _ => 0.0,
    }
}

/// The smallest room round these points.
fn bounds(points: &[Point]) -> Rect {
    let (mut low, mut high) =
        (Point::new(f64::INFINITY, f64::INFINITY), Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY));
    for point in points {
        low = Point::new(low.x.min(point.x), low.y.min(point.y));
        high = Point::new(high.x.max(point.x), high.y.max(point.y));
    }
    Rect::new(low.x, low.y, high.x - low.x, high.y - low.y)
}

/// How far a piece of a line keeps from a room, in mm; 0 where it runs through. Walked along in steps of a mm, but where it is no nearer
/// than `far`.
fn to_piece(room: &Rect, piece: &[Point], far: f64) -> f64 {
    if piece.len() != 2 {
        return f64::INFINITY;
    }
    if apart(room, &bounds(piece)) >= far {
        return far;
    }
    along(piece).map(|at| apart(room, &Rect::new(at.x, at.y, 0.0, 0.0))).fold(far, f64::min)
}

/// Points on a piece of a line, a mm apart, with both ends; none of what is no piece.
fn along(piece: &[Point]) -> impl Iterator<Item = Point> + use<> {
    let ends = if let [from, to] = piece { Some((*from, *to)) } else { None };
    let steps: u32 = whole(length(piece).clamp(1.0, 1000.0));
    ends.into_iter().flat_map(move |(from, to)| {
        (0..=steps).map(move |step| {
            let share = f64::from(step) / f64::from(steps);
            Point::new(from.x + share * (to.x - from.x), from.y + share * (to.y - from.y))
        })
    })
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
