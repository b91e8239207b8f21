//! The transverse Mercator projection of any ellipsoid, both ways, with convergence and scale.
//!
//! Karney, "Transverse Mercator with an accuracy of a few nanometers", J. Geodesy 85 (2011); equation numbers below
//! are his.

use super::series::{Complex, Series};
use super::{Ellipsoid, Longitude, Place};
use crate::angle::Convergence;
use std::f64::consts::FRAC_PI_2;

/// How far from the central meridian the projection is offered, degrees of longitude: there the series is still good to
/// a micrometre.
const REACH_DEG: f64 = 40.0;

/// The same limit on the plane (η′ of the point 40° out on the equator, atanh sin 40°, is 0.763).
const REACH_ETA: f64 = 0.765;

/// A transverse Mercator projection: an ellipsoid, a scale on the central meridian, an origin and its coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TransverseMercator {
    series: Series,
    ellipsoid: Ellipsoid,
    scale: f64,
    central_meridian: Longitude,
    false_easting_m: f64,
    /// The northing of the equator on the central meridian.
    equator_northing_m: f64,
}

/// A point on the grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnGrid {
    /// Metres east, with the false easting.
    pub easting_m: f64,
    /// Metres north, with the false northing.
    pub northing_m: f64,
    /// How far grid north lies from true north there, east positive.
    pub convergence: Convergence,
    /// Point scale: grid length over length on the ellipsoid.
    pub scale: f64,
}

/// A point brought back from the grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnGround {
    /// Latitude and longitude on the projection's own ellipsoid.
    pub place: Place,
    /// How far grid north lies from true north there, east positive.
    pub convergence: Convergence,
    /// Point scale: grid length over length on the ellipsoid.
    pub scale: f64,
}

/// A point where the projection is not offered.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum ProjectionError {
    /// Too far east or west.
    #[error(
        "this place lies more than 40° of longitude from the grid's central meridian; take the grid of its own zone"
    )]
    TooFar,
    /// Coordinates beyond the ellipsoid, or not numbers.
    #[error("there is no place with these grid coordinates")]
    NoSuchPoint,
}

impl TransverseMercator {
    /// A projection of `ellipsoid` with the scale `scale` on the central meridian, whose `origin` (its longitude is the
    /// central meridian) gets the coordinates `false_easting_m`, `false_northing_m`, metres.
    #[cfg(test)]
    #[must_use]
    pub fn new(
        ellipsoid: Ellipsoid,
        scale: f64,
        origin: Place,
        false_easting_m: f64,
        false_northing_m: f64,
    ) -> TransverseMercator {
        let mut grid = TransverseMercator {
            series: Series::new(ellipsoid),
            ellipsoid,
            scale,
            central_meridian: origin.longitude,
            false_easting_m,
            equator_northing_m: 0.0,
        };
        grid.equator_northing_m = false_northing_m - grid.project(origin.latitude.degrees(), 0.0).northing_m;
        grid
    }

    /// UTM about a central meridian, north: k₀ 0.9996, false easting 500 km (NGA.STND.0037).
    pub(super) const fn utm(central_meridian: Longitude) -> TransverseMercator {
        const WGS84: Series = Series::new(Ellipsoid::WGS84);
        TransverseMercator {
            series: WGS84,
            ellipsoid: Ellipsoid::WGS84,
            scale: 0.9996,
            central_meridian,
            false_easting_m: 500_000.0,
            equator_northing_m: 0.0,
        }
    }

    /// The place on the grid. Good to a micrometre.
    ///
    /// # Errors
    /// [`ProjectionError::TooFar`] beyond 40° from the central meridian.
    pub fn forward(&self, place: Place) -> Result<OnGrid, ProjectionError> {
        let east = place.longitude.degrees_east_of(self.central_meridian);
        if east.abs() > REACH_DEG {
            return Err(ProjectionError::TooFar);
        }
        Ok(self.project(place.latitude.degrees(), east))
    }

    fn project(&self, latitude: f64, east: f64) -> OnGrid {
        let e = self.ellipsoid.eccentricity_squared().sqrt();
        let tau = latitude.to_radians().tan();
        let (sin_east, cos_east) = east.to_radians().sin_cos();
        let tau1 = conformal(tau, e);
        let radius = tau1.hypot(cos_east);
        // eq 10
        let sphere = Complex { re: tau1.atan2(cos_east), im: (sin_east / radius).asinh() };
        let (plane, slope) = self.series.plane_of(sphere);
        // eqs 22 to 26; the derivative's imaginary part is −q′.
        let turn = (tau1 * sin_east).atan2(cos_east * 1.0_f64.hypot(tau1)) - slope.im.atan2(slope.re);
        let metres = self.metres();
        OnGrid {
            easting_m: self.false_easting_m + metres * plane.im,
            northing_m: self.equator_northing_m + metres * plane.re,
            convergence: Convergence::from_degrees(turn.to_degrees()),
            scale: self.scale_at(tau, radius, slope.re.hypot(slope.im)),
        }
    }

    /// The place with these grid coordinates, metres. Good to a micrometre.
    ///
    /// # Errors
    /// [`ProjectionError`] too far from the central meridian, beyond a pole, or when the coordinates are not numbers.
    pub fn inverse(&self, easting_m: f64, northing_m: f64) -> Result<OnGround, ProjectionError> {
        let metres = self.metres();
        let plane = Complex {
            re: (northing_m - self.equator_northing_m) / metres,
            im: (easting_m - self.false_easting_m) / metres,
        };
        if !(plane.re.is_finite() && plane.im.is_finite()) {
            return Err(ProjectionError::NoSuchPoint);
        }
        if plane.im.abs() > REACH_ETA {
            return Err(ProjectionError::TooFar);
        }
        // A hair beyond the pole is rounding, not a mistake.
        if plane.re.abs() > FRAC_PI_2 + 1e-12 {
            return Err(ProjectionError::NoSuchPoint);
        }
        let (sphere, slope) = self.series.sphere_of(plane);
        let e = self.ellipsoid.eccentricity_squared().sqrt();
        let (sinh, cos) = (sphere.im.sinh(), sphere.re.cos());
        let inverse_radius = sinh.hypot(cos);
        // eq 18
        let tau = geographic(sphere.re.sin() / inverse_radius, e);
        let east = sinh.atan2(cos).to_degrees();
        // eqs 27 to 31; the derivative is that of the inverse, so its argument has the other sign.
        let turn = (sphere.re.tan() * sphere.im.tanh()).atan() + slope.im.atan2(slope.re);
        Ok(OnGround {
            place: Place::new(
                Place::clamped(tau.atan().to_degrees(), 0.0).latitude,
                self.central_meridian.moved_east(east),
            ),
            convergence: Convergence::from_degrees(turn.to_degrees()),
            scale: self.scale_at(tau, 1.0 / inverse_radius, 1.0 / slope.re.hypot(slope.im)),
        })
    }

    /// Metres on the grid for one unit of ζ.
    fn metres(&self) -> f64 {
        self.scale * self.ellipsoid.equatorial_radius_m() * self.series.rectifying
    }

    /// eq 25
    fn scale_at(&self, tau: f64, radius: f64, stretch: f64) -> f64 {
        let secant = 1.0_f64.hypot(tau);
        let sine = tau / secant;
        let onto_sphere = (1.0 - self.ellipsoid.eccentricity_squared() * sine * sine).sqrt() * secant / radius;
        self.scale * self.series.rectifying * onto_sphere * stretch
    }
}

/// τ′ of τ: the tangent of the conformal latitude (eqs 7 to 9).
fn conformal(tau: f64, e: f64) -> f64 {
    let secant = 1.0_f64.hypot(tau);
    let sigma = (e * (e * tau / secant).atanh()).sinh();
    tau * 1.0_f64.hypot(sigma) - sigma * secant
}

/// τ of τ′ by Newton's method (eqs 19 to 21): two or three steps.
fn geographic(tau1: f64, e: f64) -> f64 {
    // The start is exact at the poles and good everywhere; beyond this size the steps would only add noise.
    let near_pole = tau1 * (e * e.atanh()).exp();
    if near_pole.abs() > 1e9 {
        return near_pole;
    }
    let e2m = 1.0 - e * e;
    let mut tau = tau1 / e2m;
    if tau.abs() > 70.0 {
        tau = near_pole;
    }
    for _ in 0..6 {
        let guess = conformal(tau, e);
        let step = (tau1 - guess) / 1.0_f64.hypot(guess) * (1.0 + e2m * tau * tau) / (e2m * 1.0_f64.hypot(tau));
        tau += step;
        if step.abs() <= 1e-16 * tau.abs().max(1.0) {
            break;
        }
    }
    tau
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid() -> TransverseMercator {
        TransverseMercator::utm(Longitude::PRIME)
    }

    #[test]
    fn the_poles_come_back_from_the_grid() {
        for latitude in [90.0, -90.0] {
            let there = grid().forward(Place::from_degrees(latitude, 30.0).unwrap()).unwrap();
            assert!((there.easting_m - 500_000.0).abs() < 1e-6);
            assert!((there.convergence.angle().degrees() - 30.0 * latitude.signum()).abs() < 1e-9);
            let back = grid().inverse(500_000.0, there.northing_m).unwrap();
            assert!((back.place.latitude.degrees() - latitude).abs() < 1e-12, "{back:?}");
        }
    }

    #[test]
    fn places_out_of_reach_are_refused_not_guessed() {
        let too_far = Place::from_degrees(10.0, 40.001).unwrap();
        assert_eq!(grid().forward(too_far), Err(ProjectionError::TooFar));
        assert_eq!(grid().inverse(9e6, 0.0), Err(ProjectionError::TooFar));
        assert_eq!(grid().inverse(5e5, 1.1e7), Err(ProjectionError::NoSuchPoint));
        assert_eq!(grid().inverse(f64::NAN, 0.0), Err(ProjectionError::NoSuchPoint));
        assert_eq!(grid().inverse(5e5, f64::INFINITY), Err(ProjectionError::NoSuchPoint));
    }

    #[test]
    fn the_limit_itself_can_be_used_both_ways() {
        let there = grid().forward(Place::from_degrees(0.0, 40.0).unwrap()).unwrap();
        let back = grid().inverse(there.easting_m, there.northing_m).unwrap();
        assert!((back.place.longitude.degrees() - 40.0).abs() < 1e-11, "{back:?}");
        assert!((back.scale - there.scale).abs() < 1e-11);
    }

    #[test]
    fn tangents_come_back_at_every_latitude() {
        let e = Ellipsoid::WGS84.eccentricity_squared().sqrt();
        for tenths in -900..=900 {
            let latitude = f64::from(tenths) / 10.0;
            let tau = latitude.to_radians().tan();
            let back = geographic(conformal(tau, e), e).atan().to_degrees();
            assert!((back - latitude).abs() < 3e-14, "{latitude} came back as {back}");
        }
    }
}
