//! The World Magnetic Model 2025: place and date in, field out.

use super::coefficients::{EPOCH, TABLES, Tables};
use super::sum::{At, Vector, field_and_change};
use super::{Field, GeomagError, Spot};
use jiff::civil::{Date, date};

/// WGS84 equatorial radius in metres (defining constant).
const EQUATOR_M: f64 = 6_378_137.0;
/// WGS84 flattening (defining constant).
const FLATTENING: f64 = 1.0 / 298.257_223_563;
/// First eccentricity, squared.
const ECCENTRICITY_SQUARE: f64 = FLATTENING * (2.0 - FLATTENING);
/// The model's reference radius in metres (WMM technical report).
const REFERENCE_M: f64 = 6_371_200.0;

static WMM2025: Model = Model { tables: TABLES };

/// A magnetic model of the earth's core field: coefficients and the dates they are made for.
pub struct Model {
    tables: Tables,
}

impl Model {
    /// The name of the model.
    pub const NAME: &'static str = "WMM2025";
    /// First date the model is made for.
    pub const FIRST: Date = date(2025, 1, 1);
    /// Last date the model is made for.
    pub const LAST: Date = date(2030, 1, 1);
    /// What the model cannot know, in words to show with its numbers.
    pub const LEAVES_OUT: &'static str =
        "Declination comes from a model: it leaves out local rock, iron, power lines and magnetic storms.";

    /// The World Magnetic Model 2025. Nothing is read or worked out to get it.
    #[must_use]
    pub fn wmm2025() -> &'static Model {
        &WMM2025
    }

    /// The field at a place on a date.
    ///
    /// ```
    /// use needlewise::angle::Angle;
    /// use needlewise::geomag::{Model, Spot, Zone};
    /// # fn main() -> Result<(), needlewise::geomag::GeomagError> {
    /// let spot = Spot::new(Angle::from_degrees(80.0), Angle::from_degrees(0.0), 0.0)?;
    /// let field = Model::wmm2025().field(spot, jiff::civil::date(2025, 1, 1))?;
    /// assert_eq!(format!("{:.2}", field.declination().angle().degrees()), "1.28");
    /// assert_eq!(field.zone(), Zone::Normal);
    /// # Ok(())
    /// # }
    /// ```
    ///
    /// # Errors
    ///
    /// [`GeomagError::Date`] when the date is before [`Model::FIRST`] or after [`Model::LAST`].
    pub fn field(&self, spot: Spot, date: Date) -> Result<Field, GeomagError> {
        if (Model::FIRST..=Model::LAST).contains(&date) {
            Ok(self.evaluate(spot, decimal_year(date)))
        } else {
            Err(GeomagError::Date { date })
        }
    }

    /// The field at a place in a decimal year, as in the tables of the model's makers: 2025.0 to 2030.0, both included.
    ///
    /// # Errors
    ///
    /// [`GeomagError::Year`] when the year lies outside (or is not a number).
    #[cfg(test)]
    pub fn field_in_year(&self, spot: Spot, year: f64) -> Result<Field, GeomagError> {
        if (decimal_year(Model::FIRST)..=decimal_year(Model::LAST)).contains(&year) {
            Ok(self.evaluate(spot, year))
        } else {
            Err(GeomagError::Year { year })
        }
    }

    fn evaluate(&self, spot: Spot, year: f64) -> Field {
        let (sine, cosine) = spot.latitude().radians().sin_cos();
        let (east_sine, east_cosine) = spot.longitude().radians().sin_cos();
        // Radius of curvature across the meridian, then distance from the axis and from the plane of the equator.
        // (Root times reciprocal instead of one over the root, twice: the two can be worked out at the same time.)
        let narrowing = 1.0 - ECCENTRICITY_SQUARE * sine * sine;
        let across = narrowing.sqrt() * (EQUATOR_M / narrowing);
        let from_axis = (across + spot.height_m()) * cosine;
        let from_equator = (across * (1.0 - ECCENTRICITY_SQUARE) + spot.height_m()) * sine;
        let distance_square = from_axis * from_axis + from_equator * from_equator;
        let per_metre = distance_square.sqrt() * (1.0 / distance_square);
        let at = At {
            radius: REFERENCE_M * per_metre,
            cosine: from_equator * per_metre,
            sine: from_axis * per_metre,
            east_cosine,
            east_sine,
        };
        let (epoch, change) = field_and_change(&self.tables, at);
        // Geocentric and geodetic latitude differ by a small turn about the east axis.
        let turn_cosine = at.sine * cosine + at.cosine * sine;
        let turn_sine = at.cosine * cosine - at.sine * sine;
        let upright = |vector: Vector| Vector {
            north: vector.north * turn_cosine - vector.down * turn_sine,
            east: vector.east,
            down: vector.north * turn_sine + vector.down * turn_cosine,
        };
        let (epoch, change) = (upright(epoch), upright(change));
        let years = year - EPOCH;
        let now = Vector {
            north: epoch.north + years * change.north,
            east: epoch.east + years * change.east,
            down: epoch.down + years * change.down,
        };
        Field::new(now, change)
    }
}

/// A date as a decimal year: year + (day of the year − 1) / (days in the year), so that 1 January is the whole number.
#[must_use]
pub fn decimal_year(date: Date) -> f64 {
    f64::from(date.year()) + f64::from(date.day_of_year() - 1) / f64::from(date.days_in_year())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::Angle;

    fn spot() -> Spot {
        Spot::new(Angle::from_degrees(47.0), Angle::from_degrees(11.0), 900.0).unwrap()
    }

    #[test]
    fn the_first_and_the_last_date_are_included_and_their_neighbours_are_not() {
        let model = Model::wmm2025();
        assert!(model.field(spot(), date(2025, 1, 1)).is_ok());
        assert!(model.field(spot(), date(2030, 1, 1)).is_ok());
        for outside in [date(2024, 12, 31), date(2030, 1, 2), Date::MIN, Date::MAX] {
            assert_eq!(model.field(spot(), outside), Err(GeomagError::Date { date: outside }));
        }
    }

    #[test]
    fn a_date_outside_is_told_which_dates_work_and_what_to_do() {
        let error = Model::wmm2025().field(spot(), date(2031, 6, 1)).unwrap_err();
        assert_eq!(
            error.to_string(),
            "2031-06-01 is outside the dates the magnetic model is made for, 2025-01-01 to 2030-01-01. Choose a date in \
             that time, or work with the declination printed on the map."
        );
    }

    #[test]
    fn a_decimal_year_outside_is_refused_too() {
        let model = Model::wmm2025();
        assert!(model.field_in_year(spot(), 2025.0).is_ok() && model.field_in_year(spot(), 2030.0).is_ok());
        for outside in [2024.9999, 2030.0001, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(model.field_in_year(spot(), outside), Err(GeomagError::Year { year: outside }));
        }
        assert!(matches!(model.field_in_year(spot(), f64::NAN), Err(GeomagError::Year { .. })));
    }

    #[test]
    fn a_leap_year_is_a_day_longer() {
        assert_eq!(decimal_year(date(2027, 12, 31)), 2027.0 + 364.0 / 365.0);
        assert_eq!(decimal_year(date(2028, 12, 31)), 2028.0 + 365.0 / 366.0);
        assert_eq!(decimal_year(date(2028, 3, 1)), 2028.0 + 60.0 / 366.0);
        assert_eq!(decimal_year(date(2030, 1, 1)), 2030.0);
    }
}
