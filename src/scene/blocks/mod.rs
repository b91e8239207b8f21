//! Figures that several screens share, each drawn into a scene from a plain struct of parameters.
//!
//! They know directions, lengths in mm and texts, never a bearing or what it means. All take `text_mm`, the height of a
//! line of writing on the canvas that will show them ([`Viewport::text_mm`](super::cells::Viewport::text_mm), or the
//! type size on paper), and leave room for it; a character counts as half as wide as high.
mod dial;
mod ends;
mod fit;
mod norths;
mod plan;
mod prongs;
mod rose;
mod row;
mod sketch;
mod strip;

pub use dial::{Dial, Needle, OrientingArrow, RingText, Ticks};
pub use ends::{End, Ends};
pub use norths::NorthKind;
pub use plan::{Plan, PlanLine, PlanSpot};
pub use prongs::{Prong, ProngAngle, Prongs};
pub use rose::{PointRank, Rose, RosePoint};
pub use row::one_row;
pub use sketch::{NorthLine, Sketch, SketchLine, Turn, Writing};
pub use strip::{Strip, StripTick, TickLength};

use super::{Direction, Point};
use crate::numbers::real;

/// How far the middle of a text stands from a point so that the text just keeps clear of it, in a direction, in mm.
fn clearance(text: &str, text_mm: f64, direction: Direction) -> f64 {
    let half_width = real(text.chars().count()) * text_mm / 4.0;
    half_width * direction.dx().abs() + text_mm / 2.0 * direction.dy().abs()
}

/// Where the middle of a text stands when it lies beyond `tip`, seen in `direction`.
fn beyond(tip: Point, direction: Direction, text: &str, text_mm: f64) -> Point {
    tip.along(direction, clearance(text, text_mm, direction) + text_mm * 0.45)
}

#[cfg(test)]
mod tests;
