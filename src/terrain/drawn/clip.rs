//! What stays outside the rim of the compass.
use crate::scene::{Direction, Point, circle};

/// A round hole in the drawing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hole {
    pub(super) centre: Point,
    pub(super) radius_mm: f64,
}

impl Hole {
    pub(super) fn holds(&self, point: Point) -> bool {
        let (x, y) = (point.x - self.centre.x, point.y - self.centre.y);
        x * x + y * y < self.radius_mm * self.radius_mm
    }

    /// Where a stretch enters and leaves the hole, as shares of it; `None` when it keeps out.
    fn span(&self, a: Point, b: Point) -> Option<(f64, f64)> {
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let (px, py) = (a.x - self.centre.x, a.y - self.centre.y);
        let (qa, qb, qc) = (dx * dx + dy * dy, px * dx + py * dy, px * px + py * py - self.radius_mm * self.radius_mm);
        let root = qb * qb - qa * qc;
        // Also for what is not a number.
        if qa.is_nan() || qa <= 0.0 || root.is_nan() || root <= 0.0 {
            return None;
        }
        let (enter, leave) = ((-qb - root.sqrt()) / qa, (-qb + root.sqrt()) / qa);
        (enter < 1.0 && leave > 0.0).then(|| (enter.max(0.0), leave.min(1.0)))
    }

    /// The pieces of a line that lie outside.
    pub(super) fn outside(&self, line: &[Point]) -> Vec<Vec<Point>> {
        let mut pieces = Vec::new();
        let mut piece: Vec<Point> = line.first().filter(|&&first| !self.holds(first)).copied().into_iter().collect();
        for pair in line.windows(2) {
            let at = |share: f64| {
                Point::new(pair[0].x + share * (pair[1].x - pair[0].x), pair[0].y + share * (pair[1].y - pair[0].y))
            };
            match self.span(pair[0], pair[1]) {
                None => piece.push(pair[1]),
                Some((enter, leave)) => {
                    if enter > 0.0 {
                        piece.push(at(enter));
                    }
                    if piece.len() > 1 {
                        pieces.push(std::mem::take(&mut piece));
                    }
                    piece.clear();
                    if leave < 1.0 {
                        piece.extend([at(leave), pair[1]]);
                    }
                }
            }
        }
        if piece.len() > 1 {
            pieces.push(piece);
        }
        pieces
    }

    /// A filled shape without the hole, as one outline under the even-odd rule.
    ///
    /// Corners inside are moved outward onto the rim: outside nothing changes, and how often the shape goes around the
    /// middle does not change either, so that the whole hole is now as its middle was. Where that is inside, the rim is
    /// added once more, joined by a seam without width.
    pub(super) fn cut_out(&self, outline: &[Point]) -> Vec<Point> {
        let fine = self.with_crossings(outline);
        let mut cut: Vec<Point> = fine
            .into_iter()
            .map(|point| match Direction::between(self.centre, point) {
                Some(way) if self.holds(point) => self.centre.along(way, self.radius_mm),
                _ => point,
            })
            .collect();
        if let (true, Some(&first)) = (encloses(outline, self.centre), cut.first()) {
            cut.push(first);
            cut.extend(circle(self.centre, self.radius_mm));
        }
        cut
    }

    /// The outline with its crossings of the rim as corners, and steps short enough to follow the rim once moved there.
    fn with_crossings(&self, outline: &[Point]) -> Vec<Point> {
        let mut fine = Vec::with_capacity(outline.len() + 16);
        for (&a, &b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
            fine.push(a);
            let Some((enter, leave)) = self.span(a, b) else { continue };
            for step in 0..=8 {
                let share = enter + (leave - enter) * f64::from(step) / 8.0;
                if share > 0.0 && share < 1.0 {
                    fine.push(Point::new(a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)));
                }
            }
        }
        fine
    }
}

fn encloses(outline: &[Point], point: Point) -> bool {
    let pairs = outline.iter().zip(outline.iter().cycle().skip(1));
    let crossed = pairs.filter(|(a, b)| {
        (a.y <= point.y) != (b.y <= point.y) && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossed.count() % 2 == 1
}
