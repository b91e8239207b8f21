//! Lines that keep clear of marks.
use crate::scene::Point;

/// A round clearing in the drawing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hole {
    pub(super) centre: Point,
    pub(super) radius_mm: f64,
}

/// No line of the ground has longer steps than twice this on the panel at any zoom in use; longer ones are not cut.
const LONGEST_STEP_MM: f64 = 6.0;

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

    /// Whether a line may come into the hole; false only when it surely keeps out.
    pub(super) fn touches(&self, line: &[Point]) -> bool {
        let reach = self.radius_mm + LONGEST_STEP_MM;
        line.iter().any(|at| {
            let (x, y) = (at.x - self.centre.x, at.y - self.centre.y);
            x * x + y * y < reach * reach
        })
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
}
