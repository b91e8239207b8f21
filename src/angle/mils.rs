//! NATO mils: 6400 to the circle.
use super::{Angle, PARTS_PER_MIL};
use std::fmt;

/// An angle in NATO mils (6400 to the full circle), signed, as exact as an [`Angle`].
///
/// ```
/// use needlewise::angle::{Angle, Mils};
/// assert_eq!(Mils::new(1600.0).angle(), Angle::from_degrees(90.0));
/// assert_eq!(Mils::new(800.0).to_string(), "800 mils");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mils(Angle);

impl Mils {
    /// Mils from a number of mils; whole and tenth mils are held exactly. The number should be finite; a NaN or infinity
    /// becomes 0 (and trips a debug assertion).
    #[must_use]
    pub const fn new(mils: f64) -> Mils {
        Mils(Angle::from_units(mils, PARTS_PER_MIL))
    }

    /// From an angle.
    #[cfg(test)]
    #[must_use]
    pub const fn from_angle(angle: Angle) -> Mils {
        Mils(angle)
    }

    /// The number of mils.
    #[must_use]
    pub const fn mils(self) -> f64 {
        self.0.in_units(PARTS_PER_MIL)
    }

    /// As an angle.
    #[must_use]
    pub const fn angle(self) -> Angle {
        self.0
    }

    /// Rounded to whole mils, halves away from zero.
    #[must_use]
    pub const fn rounded(self) -> Mils {
        Mils(self.0.rounded_to(Angle(PARTS_PER_MIL)))
    }

    /// The same direction within a full circle: 0 ≤ mils < 6400.
    #[must_use]
    pub const fn wrapped(self) -> Mils {
        Mils(self.0.wrapped())
    }
}

/// The size, never signed: `1600 mils`. A precision gives decimals.
impl fmt::Display for Mils {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        super::print::write_plain(f, self.0, PARTS_PER_MIL, f.precision().unwrap_or(0))?;
        f.write_str(" mils")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::reference::assert_states;

    fn mils(degrees: f64) -> Mils {
        Mils(Angle::from_degrees(degrees))
    }

    #[test]
    fn the_circle_has_6400_mils() {
        // Source: FM 21-26 (7 May 1993) / FM 3-25.26 (Jul 2001) para 6-1b.
        assert_states("CV001", "full circle in mils", "6400");
        assert_eq!(mils(360.0), Mils::new(6400.0));
        assert_states("CV002", "mils per degree", "17.78");
        assert!((mils(1.0).mils() - 17.78).abs() <= 0.005);
    }

    #[test]
    fn a_degree_is_60_minutes() {
        // Source: the same, para 6-1a.
        assert_states("CV004", "1 degree in minutes of arc", "60");
        assert_eq!(Angle::from_degrees(1.0).minutes(), 60.0);
        assert_eq!(Angle::from_minutes(60.0).degrees(), 1.0);
    }

    #[test]
    fn degrees_become_mils() {
        // Source: arithmetic, 6400/360.
        for (id, given, expected, degrees, want) in [
            ("CV005", "22.5 deg -> mils", "400", 22.5, "400 mils"),
            ("CV006", "45 deg -> mils", "800", 45.0, "800 mils"),
            ("CV007", "90 deg -> mils", "1600", 90.0, "1600 mils"),
            ("CV008", "180 deg -> mils", "3200", 180.0, "3200 mils"),
            ("CV009", "270 deg -> mils", "4800", 270.0, "4800 mils"),
            ("CV010", "1 deg -> mils", "17.7778", 1.0, "18 mils"),
            ("CV011", "123 deg -> mils", "2186.67", 123.0, "2187 mils"),
        ] {
            assert_states(id, given, expected);
            assert_eq!(mils(degrees).to_string(), want, "{id}");
            assert!((mils(degrees).mils() - expected.parse::<f64>().unwrap()).abs() < 0.005, "{id}");
        }
    }

    #[test]
    fn mils_become_degrees() {
        // Source: arithmetic, 360/6400.
        for (id, given, expected, mils) in
            [("CV012", "3200 mils -> deg", "180", 3200.0), ("CV013", "1000 mils -> deg", "56.25", 1000.0)]
        {
            assert_states(id, given, expected);
            assert_eq!(Mils::new(mils).angle().degrees(), expected.parse::<f64>().unwrap(), "{id}");
        }
    }

    #[test]
    fn mils_wrap_at_the_full_circle() {
        assert_eq!(Mils::new(6400.0).wrapped().mils(), 0.0);
        assert_eq!(Mils::new(-100.0).wrapped().mils(), 6300.0);
        assert_eq!(Mils::new(-1e-17).wrapped().mils(), 0.0);
        assert_eq!(Mils::new(-0.0), Mils::new(0.0));
    }

    #[test]
    fn mils_print_rounded_or_with_decimals() {
        assert_eq!(format!("{:.1}", mils(1.0)), "17.8 mils");
        assert_eq!(Mils::new(-12.5).to_string(), "13 mils");
        assert_eq!(Mils::new(17.5).rounded(), Mils::new(18.0));
    }
}
