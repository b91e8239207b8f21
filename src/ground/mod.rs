//! Places on the ellipsoid: geodesics, UTM, MGRS, convergence.
//!
//! What lives here: [`Place`] (latitude and longitude on WGS84, read from any of the usual texts), [`geodesic`]
//! (true bearings and distances), [`TransverseMercator`] (the projection, for any ellipsoid and origin), [`Utm`] (with
//! zone, latitude band, convergence and scale) and [`Mgrs`]. What does not: heights, and anything magnetic
//! ([`crate::geomag`]).
//!
//! Lengths are metres; angles are degrees inside and [`crate::angle`] types at the border. Convergence is positive
//! when grid north lies east of true north.

mod ellipsoid;
pub mod geodesic;
mod place;
mod projection;
mod series;

pub use ellipsoid::{Ellipsoid, EllipsoidError};
pub use place::{Latitude, Longitude, Place, PlaceError};
pub use projection::{OnGrid, OnGround, ProjectionError, TransverseMercator};
