//! From millimetres to dots and back.
use crate::scene::Point;

/// A place on the dot grid; whole numbers are the middles of dots.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Dot {
    pub(super) x: f64,
    pub(super) y: f64,
}

impl Dot {
    pub(super) fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

/// How a sheet lies on a grid of cells: as large as fits, in the middle.
///
/// The middle of the sheet is the middle of a dot, so that a figure drawn around it comes out the same to both sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Viewport {
    dots_per_mm: f64,
    middle_mm: Point,
    middle_dot: Dot,
}

impl Viewport {
    /// The view of a sheet of this size, in mm, on `cols` by `rows` cells.
    #[must_use]
    pub fn fit(width_mm: f64, height_mm: f64, cols: u16, rows: u16) -> Viewport {
        let (wide, high) = (f64::from(cols) * 2.0, f64::from(rows) * 4.0);
        let usable = |mm: f64| if mm.is_finite() && mm > 0.0 { mm } else { 1.0 };
        let (width, height) = (usable(width_mm), usable(height_mm));
        // One dot is given away on each axis: an even number of dots has none in its middle.
        let dots_per_mm = ((wide - 2.0) / width).min((high - 2.0) / height).max(f64::MIN_POSITIVE);
        Viewport {
            dots_per_mm,
            middle_mm: Point::new(width / 2.0, height / 2.0),
            middle_dot: Dot { x: (wide / 2.0).floor(), y: (high / 2.0).floor() },
        }
    }

    /// The height of one line of writing in mm on this view; a character is half as wide.
    ///
    /// The figures in [`blocks`](crate::scene::blocks) take it as `text_mm` and leave that much room.
    #[must_use]
    pub fn text_mm(&self) -> f64 {
        4.0 / self.dots_per_mm
    }

    /// The place on the sheet under the middle of a cell, in mm; for a pointing device.
    #[must_use]
    pub fn cell_to_mm(&self, col: u16, row: u16) -> Point {
        let (x, y) = (f64::from(col) * 2.0 + 0.5, f64::from(row) * 4.0 + 1.5);
        Point {
            x: self.middle_mm.x + (x - self.middle_dot.x) / self.dots_per_mm,
            y: self.middle_mm.y + (y - self.middle_dot.y) / self.dots_per_mm,
        }
    }

    /// Where a place on the sheet comes to lie on the dots. Rounded to whole dots *away from the middle* when it lies
    /// exactly between two, so that both sides round alike.
    pub(super) fn dot(&self, point: Point) -> Dot {
        let side = |mm: f64, middle_mm: f64, middle: f64| {
            let off = (mm - middle_mm) * self.dots_per_mm;
            // Pushes exact ties outward; far below what shows.
            middle + off + off.signum() * 1e-7
        };
        Dot {
            x: side(point.x, self.middle_mm.x, self.middle_dot.x),
            y: side(point.y, self.middle_mm.y, self.middle_dot.y),
        }
    }
}
