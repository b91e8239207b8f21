//! Drawing as data in millimetres, and the canvases that show it.
//!
//! A [`Scene`] says *what* is drawn: lines, areas, labels and marks, each with a role ([`Ink`]) instead of a colour. It
//! knows nothing of terminals, pixels or paper. A canvas shows a scene: [`cells::CellCanvas`] gives a grid of characters
//! as plain data, which the front ends paint in their theme; [`svg`] gives a picture, and whatever is a [`Paper`] can be printed on. [`blocks`] holds the figures that several screens share.
//!
//! Millimetres run right (`x`) and down (`y`) from the upper left corner. Degrees come in at one place only,
//! [`Direction::from_degrees_clockwise_from_up`]; everything else works with unit vectors.
//!
//! ```
//! use needlewise::scene::cells::CellCanvas;
//! use needlewise::scene::{Ink, Label, Line, Point, Scene};
//!
//! let mut scene = Scene::new(20.0, 10.0);
//! scene.add(Line::straight(Point::new(0.0, 5.0), Point::new(20.0, 5.0), Ink::Faint));
//! scene.add(Label::new("065", scene.centre(), Ink::Text).strong());
//! let picture = CellCanvas::default().render(&scene, 11, 3);
//! assert_eq!(picture.text(), "\n⠠⠤⠤⠤065⠤⠤⠤⠤\n");
//! ```
//!
//! What does not live here: the colours of screens, key handling, bearings with their north, and what a figure means.

pub mod blocks;
pub mod cells;
mod clip;
mod geometry;
mod ink;
mod items;
mod print;
mod shapes;
mod svg;

pub use geometry::{Direction, Point, Rect};
pub use ink::{Dash, Emphasis, Ink, Weight};
pub use items::{Align, Area, Fill, Freedom, Label, Line, Mark, MarkKind, Priority, Scene, SceneItem, Side};
pub use print::{Colour, Paper, Writing, print};
pub use shapes::{arc, circle};
pub use svg::svg;

#[cfg(test)]
mod tests;
