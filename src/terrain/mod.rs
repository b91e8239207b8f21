//! Invented maps, from a seed alone.
//!
//! A [`Map`] has ground with hills, a valley and a lake, streams that run downhill, woods, paths, landmarks with names of
//! our own, a grid and the north lines its [`MapSpec`] asks for. Places on the paper are [`Spot`]s, in millimetres from
//! the south-west corner; the east and west borders are true-north lines. [`Map::scene`] draws it as seen in a
//! [`MapView`]: turned, moved, reduced under the compass.
//!
//! The same seed and spec give the same map on every machine: only whole random numbers and arithmetic that is exact to
//! the bit decide what stands where.
//!
//! What does not live here: compass and dial, needle, today's declination, questions.

mod contour;
mod diagram;
mod draw;
mod drawn;
mod grid;
mod lake;
mod landmark;
mod lines;
mod map;
mod names;
mod panorama;
mod relief;
mod spec;
mod spot;
mod stream;
mod trig;
mod view;
mod water;
mod ways;
mod woods;
mod works;

#[cfg(test)]
mod tests;

pub use contour::Contour;
pub use diagram::Diagram;
pub use drawn::MapSign;
pub use landmark::{Landmark, LandmarkKind};
pub use lines::{LineKind, MapLine};
pub use map::Map;
pub use panorama::{Outlook, Panorama, Sighted};
pub use spec::{MapSpec, Ruled, Scale};
pub use spot::Spot;
pub use view::{Detail, MapView};
pub use ways::{Way, WayKind};
