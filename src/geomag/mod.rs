//! The World Magnetic Model 2025: the earth's magnetic field, declination and its annual change for a place and a date.
//!
//! What lives here: [`Model`] (the coefficients and their validity), [`Spot`] and [`Field`] (what goes in and comes out),
//! [`Zone`] (how far a compass can be trusted). What does not: reading places and grids ([`crate::ground`]), and what a
//! printed map says about its declination.
//!
//! Signs: north, east and down are positive; declination and its change are positive toward the east. Heights are metres
//! above the WGS84 ellipsoid, fields are nT, changes are per year.

mod coefficients;
mod error;
mod field;
mod model;
mod spot;
mod sum;
mod zone;

#[cfg(test)]
mod properties;
#[cfg(test)]
mod reference;
#[cfg(test)]
mod twin;

pub use error::GeomagError;
pub use field::{AnnualChange, Field};
pub use model::{Model, decimal_year};
pub use spot::Spot;
pub use zone::Zone;
