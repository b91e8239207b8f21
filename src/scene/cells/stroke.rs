//! Lines on the dot grid: without gaps, one dot thin, cut off at the edge.
use super::dots::DotGrid;
use super::viewport::Dot;
use crate::scene::{Dash, Ink, Weight};

/// How far past the edge a line is still followed, in dots, so that where it is cut never shows.
const MARGIN: f64 = 4.0;

/// Draws a line through dots. Segments with an end that is not finite are left out.
pub(super) fn polyline(grid: &mut DotGrid, dots: &[Dot], ink: Ink, weight: Weight, dash: Dash) {
    if grid.cols == 0 || grid.rows == 0 {
        return;
    }
    let mut pen = Pen { grid, ink, bold: weight == Weight::Bold, dash, walked: 0, last: None };
    for pair in dots.windows(2) {
        pen.segment(pair[0], pair[1]);
    }
}

struct Pen<'a> {
    grid: &'a mut DotGrid,
    ink: Ink,
    bold: bool,
    dash: Dash,
    /// Dots walked so far, drawn or not: keeps the dash in step over the joints.
    walked: u32,
    /// The last dot, which the next segment begins with again.
    last: Option<(i32, i32)>,
}

impl Pen<'_> {
    fn segment(&mut self, from: Dot, to: Dot) {
        let Some((a, b)) = clip(from, to, f64::from(self.grid.wide()), f64::from(self.grid.high())) else {
            return;
        };
        // One dot for each step along the longer axis: thin, and never a gap since the other axis moves less.
        if (b.x - a.x).abs() >= (b.y - a.y).abs() {
            walk(a.x, a.y, b.x, b.y, |x, y| self.dot(x, y, false));
        } else {
            walk(a.y, a.x, b.y, b.x, |y, x| self.dot(x, y, true));
        }
    }

    fn dot(&mut self, x: i32, y: i32, steep: bool) {
        if self.last == Some((x, y)) {
            return;
        }
        self.last = Some((x, y));
        let on = match self.dash {
            Dash::Solid => true,
            Dash::Dashed => self.walked % 7 < 4,
            Dash::DashDot => matches!(self.walked % 9, 0..=4 | 7),
            Dash::Sparse => self.walked % 9 < 5,
            Dash::Dotted => self.walked.is_multiple_of(3),
            Dash::Fine => self.walked.is_multiple_of(2),
        };
        self.walked = self.walked.wrapping_add(1);
        if !on {
            return;
        }
        self.grid.plot(x, y, self.ink);
        if self.bold {
            let (x, y) = if steep { (x + 1, y) } else { (x, y + 1) };
            self.grid.plot(x, y, self.ink);
        }
    }
}

/// Steps from `u0` to `u1` by whole numbers and gives the other coordinate for each.
#[expect(clippy::cast_possible_truncation, reason = "clipped to the grid, a few thousand at most")]
fn walk(u0: f64, v0: f64, u1: f64, v1: f64, mut dot: impl FnMut(i32, i32)) {
    let (first, last) = (u0.round() as i32, u1.round() as i32);
    let slope = if u1 == u0 { 0.0 } else { (v1 - v0) / (u1 - u0) };
    let (low, high) = (v0.min(v1), v0.max(v1));
    let step = if last >= first { 1 } else { -1 };
    let mut u = first;
    loop {
        // Whole steps reach up to half a dot past the true ends; the clamp keeps the joints tight.
        let v = (v0 + (f64::from(u) - u0) * slope).clamp(low, high);
        dot(u, v.round() as i32);
        if u == last {
            return;
        }
        u += step;
    }
}

/// The part of a segment that lies on the grid or close around it (after Liang and Barsky).
fn clip(a: Dot, b: Dot, wide: f64, high: f64) -> Option<(Dot, Dot)> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    if !a.is_finite() || !b.is_finite() || !dx.is_finite() || !dy.is_finite() {
        return None;
    }
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let sides = [(-dx, a.x + MARGIN), (dx, wide + MARGIN - a.x), (-dy, a.y + MARGIN), (dy, high + MARGIN - a.y)];
    for (toward, room) in sides {
        if toward == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if toward < 0.0 {
            enter = enter.max(room / toward);
        } else {
            leave = leave.min(room / toward);
        }
    }
    // Where a segment is so long that its share within the grid is lost in rounding, an end may still lie far outside:
    // all ends are held on the grid. Ends that were not cut are kept to the bit.
    let side = |v: f64, size: f64| v.clamp(-2.0 * MARGIN, size + 2.0 * MARGIN);
    let hold = |d: Dot| Dot { x: side(d.x, wide), y: side(d.y, high) };
    let at = |t: f64| Dot { x: a.x + t * dx, y: a.y + t * dy };
    let (from, to) = (if enter > 0.0 { at(enter) } else { a }, if leave < 1.0 { at(leave) } else { b });
    (enter <= leave).then(|| (hold(from), hold(to)))
}
