//! What can be wrong with a place or a date, in words for people.

use super::{Model, Spot};
use crate::angle::Angle;
use jiff::civil::Date;
use thiserror::Error;

/// Why the magnetic model gives no answer.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum GeomagError {
    /// The date lies outside the years the model is made for.
    #[error(
        "{date} is outside the dates the magnetic model is made for, {} to {}. {}",
        Model::FIRST,
        Model::LAST,
        INSTEAD
    )]
    Date {
        /// The date asked for.
        date: Date,
    },
    /// The decimal year lies outside the years the model is made for.
    #[error(
        "The year {year} is outside the dates the magnetic model is made for, {} to {}. {}",
        Model::FIRST,
        Model::LAST,
        INSTEAD
    )]
    Year {
        /// The decimal year asked for.
        year: f64,
    },
    /// The latitude lies beyond a pole.
    #[error("There is no latitude of {} degrees. Latitudes go from -90 (south pole) to 90 (north pole).", .latitude.degrees())]
    Latitude {
        /// The latitude asked for.
        latitude: Angle,
    },
    /// The longitude is more than half a turn.
    #[error("A longitude of {} degrees is too large. Longitudes go from -180 (west) to 180 (east).", .longitude.degrees())]
    Longitude {
        /// The longitude asked for.
        longitude: Angle,
    },
    /// The height lies outside the shell the model is made for.
    #[error(
        "The magnetic model does not reach a height of {height_m} metres. It is made for heights from {} to {} metres above the ellipsoid.",
        Spot::LOWEST_M,
        Spot::HIGHEST_M
    )]
    Height {
        /// The height asked for, in metres above the ellipsoid.
        height_m: f64,
    },
}

const INSTEAD: &str = "Choose a date in that time, or work with the declination printed on the map.";
