//! Fits a figure of rays with texts at their ends into a rectangle.
use crate::scene::{Direction, Point, Rect};

/// Something that must stay inside, seen from the middle of the figure: a box around a point in a direction.
pub(super) struct Reach {
    pub(super) direction: Direction,
    /// How far out it lies, as part of the figure's reach.
    pub(super) part: f64,
    /// How much further out it lies, in mm.
    pub(super) beyond_mm: f64,
    /// Half the width of the box in mm.
    pub(super) half_width_mm: f64,
    /// Half the height of the box in mm.
    pub(super) half_height_mm: f64,
}

/// How far the figure goes left, right, up and down from its middle, in mm.
struct Extent {
    left: f64,
    right: f64,
    up: f64,
    down: f64,
}

fn extent(parts: &[Reach], reach: f64) -> Extent {
    let mut all = Extent { left: 0.0, right: 0.0, up: 0.0, down: 0.0 };
    for part in parts {
        let out = part.part * reach + part.beyond_mm;
        let (x, y) = (part.direction.dx() * out, part.direction.dy() * out);
        all.left = all.left.max(part.half_width_mm - x);
        all.right = all.right.max(part.half_width_mm + x);
        all.up = all.up.max(part.half_height_mm - y);
        all.down = all.down.max(part.half_height_mm + y);
    }
    all
}

/// The middle and the largest reach in mm with which all parts stay inside the rectangle, the figure centred. At least
/// `least_mm`, even if that does not fit.
pub(super) fn fit(rect: Rect, parts: &[Reach], least_mm: f64) -> (Point, f64) {
    let fits = |reach: f64| {
        let all = extent(parts, reach);
        all.left + all.right <= rect.width && all.up + all.down <= rect.height
    };
    // Halving is plenty: 20 steps bring a metre down to a thousandth of a millimetre.
    let (mut low, mut high) = (least_mm, (rect.width + rect.height).max(least_mm));
    for _ in 0..20 {
        let middle = f64::midpoint(low, high);
        if fits(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    let all = extent(parts, low);
    let spare = |size: f64, before: f64, after: f64| before + (size - before - after) / 2.0;
    (rect.corner.moved(spare(rect.width, all.left, all.right), spare(rect.height, all.up, all.down)), low)
}
