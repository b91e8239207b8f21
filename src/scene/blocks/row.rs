//! The sheet of a sign: one row of cells, as high as a line of writing.
use crate::scene::{Area, Ink, Point, Scene};

/// A sheet for one row of cells, so many dots wide, with its ground, and where a dot of it is, counted from the upper left one.
///
/// A canvas gives a dot away on each axis, so the sheet is that much smaller than the row, and a millimetre of it is a dot.
#[must_use]
pub fn one_row(dots: f64, ground: Ink) -> (Scene, fn(f64, f64) -> Point) {
    let mut scene = Scene::new(dots - 2.0, 2.0);
    let at: fn(f64, f64) -> Point = |x, y| Point::new(x - 1.0, y - 1.0);
    // Beyond the ends: the first and the last cell have the ground, too.
    let (right, below) = (dots + 2.0, 6.0);
    scene.add(Area::cover(vec![at(-2.0, -2.0), at(right, -2.0), at(right, below), at(-2.0, below)], ground));
    (scene, at)
}
