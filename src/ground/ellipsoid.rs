//! The figure of the earth.

/// An ellipsoid of revolution, a little flattened at the poles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ellipsoid {
    equatorial_radius_m: f64,
    flattening: f64,
}

/// Why an [`Ellipsoid`] cannot be.
#[cfg(test)]
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum EllipsoidError {
    /// The radius is not a positive number.
    #[error("an ellipsoid's equatorial radius is a positive number of metres, not {0}")]
    Radius(f64),
    /// The flattening is far from the earth's, where the series are no longer good.
    #[error("an ellipsoid's flattening lies between 0 and 1/100, not {0}")]
    Flattening(f64),
}

impl Ellipsoid {
    /// WGS84, the ellipsoid of GPS and of every [`super::Place`]: a = 6378137 m, f = 1/298.257223563 (NGA.STND.0036).
    pub const WGS84: Ellipsoid = Ellipsoid { equatorial_radius_m: 6_378_137.0, flattening: 1.0 / 298.257_223_563 };

    /// From the equatorial radius in metres and the flattening f = (a − b) / a.
    ///
    /// # Errors
    /// [`EllipsoidError`] unless the radius is positive and 0 ≤ f ≤ 0.01.
    #[cfg(test)]
    pub fn new(equatorial_radius_m: f64, flattening: f64) -> Result<Ellipsoid, EllipsoidError> {
        if !(equatorial_radius_m.is_finite() && equatorial_radius_m > 0.0) {
            return Err(EllipsoidError::Radius(equatorial_radius_m));
        }
        if !(0.0..=0.01).contains(&flattening) {
            return Err(EllipsoidError::Flattening(flattening));
        }
        Ok(Ellipsoid { equatorial_radius_m, flattening })
    }

    /// The equatorial radius a, metres.
    #[must_use]
    pub const fn equatorial_radius_m(self) -> f64 {
        self.equatorial_radius_m
    }

    /// The flattening f = (a − b) / a.
    #[cfg(test)]
    #[must_use]
    pub const fn flattening(self) -> f64 {
        self.flattening
    }

    /// The third flattening n = (a − b) / (a + b), in which Krüger's series run.
    #[must_use]
    pub const fn third_flattening(self) -> f64 {
        self.flattening / (2.0 - self.flattening)
    }

    /// The square of the first eccentricity, e² = f (2 − f).
    #[must_use]
    pub const fn eccentricity_squared(self) -> f64 {
        self.flattening * (2.0 - self.flattening)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_radius_or_flattening_that_is_no_earth_is_refused() {
        assert_eq!(Ellipsoid::new(-1.0, 0.003), Err(EllipsoidError::Radius(-1.0)));
        assert!(matches!(Ellipsoid::new(f64::NAN, 0.003), Err(EllipsoidError::Radius(_))));
        assert_eq!(Ellipsoid::new(6.4e6, 0.5), Err(EllipsoidError::Flattening(0.5)));
    }
}
