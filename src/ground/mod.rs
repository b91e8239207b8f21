//! Places on the ellipsoid: geodesics, UTM, MGRS, convergence.
//!
//! What lives here: [`Place`] (latitude and longitude on WGS84, read from any of the usual texts), [`geodesic`]
//! (true bearings and distances), [`TransverseMercator`] (the projection, for any ellipsoid and origin), [`Utm`] (with
//! zone, latitude band, convergence and scale), [`Mgrs`], and [`plane`] (legs and fixes on a map's grid). What does not: heights, and anything magnetic
//! ([`crate::geomag`]).
//!
//! Lengths are metres; angles are degrees inside and [`crate::angle`] types at the border. Convergence is positive
//! when grid north lies east of true north.

mod ellipsoid;
pub mod geodesic;
mod grid_reference;
mod latlon;
mod mgrs;
mod mgrs_read;
mod place;
pub mod plane;
mod projection;
mod read;
#[cfg(test)]
mod reference;
mod series;
mod utm;
mod utm_read;
mod zone;

pub use ellipsoid::Ellipsoid;
#[cfg(test)]
pub use ellipsoid::EllipsoidError;
pub use grid_reference::{GridReference, GridReferenceError};
pub use latlon::LatLonError;
pub use mgrs::{Mgrs, Precision};
pub use mgrs_read::MgrsError;
pub use place::{Latitude, Longitude, Place, PlaceError};
pub use projection::{OnGrid, OnGround, ProjectionError, TransverseMercator};
pub use read::{ReadPlaceError, TEXT_LIMIT};
pub use utm::{GridLeg, NotOneZone, UTM_REACH, Utm, UtmError};
pub use utm_read::ReadUtmError;
pub use zone::{Band, GridZoneError, Hemisphere, Zone};
