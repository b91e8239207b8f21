//! Bearings and the offsets between norths.

use super::Angle;
use std::fmt;
use std::hash::Hash;
use std::marker::PhantomData;

/// True (geographic) north, as a type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum True {}
/// Grid north of the map's grid, as a type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Grid {}
/// Magnetic north, where an undisturbed needle points, as a type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Magnetic {}

/// The three norths as a value, for screens, files and JSON only; calculations use the types.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum North {
    /// True (geographic) north.
    True,
    /// Grid north.
    Grid,
    /// Magnetic north.
    Magnetic,
}

impl North {
    /// All three.
    pub const ALL: [North; 3] = [North::True, North::Grid, North::Magnetic];

    /// The letter written behind a bearing: T, G or M.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            North::True => 'T',
            North::Grid => 'G',
            North::Magnetic => 'M',
        }
    }

    /// The full word: true, grid or magnetic.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            North::True => "true",
            North::Grid => "grid",
            North::Magnetic => "magnetic",
        }
    }
}

mod sealed {
    pub trait Sealed {}
    impl Sealed for super::True {}
    impl Sealed for super::Grid {}
    impl Sealed for super::Magnetic {}
}

/// A north that a [`Bearing`] can count from.
pub trait NorthKind: sealed::Sealed + Copy + fmt::Debug + Ord + Hash + 'static {
    /// The same north as a value.
    const NORTH: North;
}

impl NorthKind for True {
    const NORTH: North = North::True;
}
impl NorthKind for Grid {
    const NORTH: North = North::Grid;
}
impl NorthKind for Magnetic {
    const NORTH: North = North::Magnetic;
}

/// A bearing: degrees clockwise from north `N`, always 0 ≤ b < 360, exact as [`Angle`] is.
///
/// Bearings have no order, since a circle has none; to sort them by their number, use [`Bearing::angle`].
///
/// A true bearing cannot be turned by an offset between other norths:
///
/// ```
/// use needlewise::angle::{Angle, Bearing, Declination, GridMagnetic, Magnetic, True};
/// let declination = Declination::from_degrees(12.0);
/// let compass: Bearing<Magnetic> = Bearing::<True>::from_degrees(5.0).to(declination);
/// assert_eq!(compass.to_string(), "353° M");
/// ```
///
/// ```compile_fail
/// use needlewise::angle::{Angle, Bearing, Declination, GridMagnetic, Magnetic, True};
/// let grid_magnetic = GridMagnetic::from_degrees(12.0);
/// let compass: Bearing<Magnetic> = Bearing::<True>::from_degrees(5.0).to(grid_magnetic);
/// assert_eq!(compass.to_string(), "353° M");
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Bearing<N: NorthKind> {
    clockwise: Angle,
    north: PhantomData<fn() -> N>,
}

impl<N: NorthKind> Bearing<N> {
    /// A bearing from degrees; any finite number is wrapped into 0 ≤ b < 360.
    #[must_use]
    pub const fn from_degrees(degrees: f64) -> Self {
        Self::from_angle(Angle::from_degrees(degrees))
    }

    /// The bearing that lies `angle` clockwise of north.
    #[must_use]
    pub const fn from_angle(angle: Angle) -> Self {
        Bearing { clockwise: angle.wrapped(), north: PhantomData }
    }

    /// Degrees clockwise from north, 0 ≤ b < 360.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.clockwise.degrees()
    }

    /// The same as a plain angle, 0 ≤ angle < 360 degrees.
    #[must_use]
    pub const fn angle(self) -> Angle {
        self.clockwise
    }

    /// The north it counts from.
    #[must_use]
    pub const fn north(self) -> North {
        N::NORTH
    }

    /// The back bearing: the same line seen from its other end, 180° away.
    #[must_use]
    pub fn back(self) -> Self {
        self.turned(const { Angle::from_degrees(180.0) })
    }

    /// Turned clockwise by a signed angle.
    #[must_use]
    pub fn turned(self, clockwise: Angle) -> Self {
        Self::from_angle(self.clockwise + clockwise)
    }

    /// The shorter turn from this bearing to the other: −180 ≤ turn < 180 degrees, clockwise positive.
    #[must_use]
    pub fn turn_to(self, other: Self) -> Angle {
        (other.clockwise - self.clockwise).wrapped_half()
    }

    /// The same direction counted from another north: `bearing − offset`, where the offset says how far that other
    /// north lies clockwise of this one. With a [`Declination`], true to magnetic.
    #[must_use]
    pub fn to<M: NorthKind>(self, offset: Offset<M, N>) -> Bearing<M> {
        Bearing::from_angle(self.clockwise - offset.east)
    }
}

impl<N: NorthKind> fmt::Debug for Bearing<N> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}° {}", self.degrees(), N::NORTH.letter())
    }
}

/// Three figures, degree sign and the north's letter: `065° M`. A precision gives decimals: `{:.1}` prints `065.5° M`.
impl<N: NorthKind> fmt::Display for Bearing<N> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let decimals = f.precision().unwrap_or(0);
        super::print::write_three_figures(f, self.angle(), decimals)?;
        write!(f, "° {}", N::NORTH.letter())
    }
}

/// How far north `A` lies clockwise (east) of north `B`: −180 ≤ offset < 180 degrees, east positive.
///
/// Their order runs from west to east. Offsets compose: the grid-magnetic angle is the declination followed by the inverse of the convergence.
///
/// ```
/// use needlewise::angle::{Angle, Convergence, Declination, GridMagnetic};
/// let declination = Declination::from_degrees(-2.0);
/// let convergence = Convergence::from_degrees(-2.5);
/// let grid_magnetic: GridMagnetic = declination.then(convergence.inverse());
/// assert_eq!(grid_magnetic.angle().degrees(), 0.5); // east
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Offset<A: NorthKind, B: NorthKind> {
    east: Angle,
    norths: PhantomData<fn() -> (A, B)>,
}

/// Declination D: magnetic north from true north, east positive.
pub type Declination = Offset<Magnetic, True>;
/// Grid convergence g: grid north from true north, east positive (the sign of the usual projection libraries).
pub type Convergence = Offset<Grid, True>;
/// Grid-magnetic angle, D − g: magnetic north from grid north, east positive.
pub type GridMagnetic = Offset<Magnetic, Grid>;

impl<A: NorthKind, B: NorthKind> Offset<A, B> {
    /// An offset from a signed angle, east positive.
    #[must_use]
    pub const fn from_angle(east: Angle) -> Self {
        Offset { east: east.wrapped_half(), norths: PhantomData }
    }

    /// An offset from signed degrees, east positive.
    #[must_use]
    pub const fn from_degrees(east: f64) -> Self {
        Self::from_angle(Angle::from_degrees(east))
    }

    /// The signed angle, east positive, −180 ≤ angle < 180 degrees.
    #[must_use]
    pub const fn angle(self) -> Angle {
        self.east
    }

    /// The same relation looked at from the other north.
    #[must_use]
    pub fn inverse(self) -> Offset<B, A> {
        Offset::from_angle(-self.east)
    }

    /// `A` from `B` followed by `B` from `C` gives `A` from `C`.
    #[must_use]
    pub fn then<C: NorthKind>(self, next: Offset<B, C>) -> Offset<A, C> {
        Offset::from_angle(self.east + next.east)
    }
}

impl<A: NorthKind, B: NorthKind> fmt::Debug for Offset<A, B> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?} from {:?} {}°", A::NORTH, B::NORTH, self.east.degrees())
    }
}

/// Degrees and minutes with the letter, never signed: `13°41′ W`; `0°` has no letter.
impl<A: NorthKind, B: NorthKind> fmt::Display for Offset<A, B> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        super::print::write_declination_words(f, self.angle())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::read_bearing;
    use crate::angle::reference::assert_states;

    #[test]
    fn back_bearings_lie_half_a_circle_away() {
        // Source: FM 21-26 (7 May 1993) / FM 3-25.26 (Jul 2001) para 6-3a; the rest is (b + 180) mod 360.
        assert_states("CV031", "180 deg", "0 or 360, both accepted");
        for north in ["0", "360"] {
            let typed = Bearing::<Grid>::from_angle(read_bearing(north).unwrap().typed);
            assert_eq!(Bearing::<Grid>::from_degrees(180.0).back(), typed);
        }
        for (id, given, expected, bearing, back) in [
            ("CV032", "0 deg", "180 deg", 0.0, 180.0),
            ("CV033", "1 deg", "181 deg", 1.0, 181.0),
            ("CV034", "179 deg", "359 deg", 179.0, 359.0),
            ("CV035", "181 deg", "1 deg", 181.0, 1.0),
            ("CV036", "270 deg", "90 deg", 270.0, 90.0),
            ("CV037", "359.5 deg", "179.5 deg", 359.5, 179.5),
        ] {
            assert_states(id, given, expected);
            assert_eq!(Bearing::<Grid>::from_degrees(bearing).back().degrees(), back, "{id}");
        }
    }

    #[test]
    fn an_easterly_grid_magnetic_angle_is_added_from_magnetic_to_grid() {
        // Source: TC 3-25.26 (15 Nov 2013) para 6-14.
        assert_states(
            "CV046",
            "easterly G-M, magnetic -> grid",
            "add; grid -> magnetic subtract; westerly the opposite",
        );
        let magnetic = Bearing::<Magnetic>::from_degrees(100.0);
        let grid = Bearing::<Grid>::from_degrees(100.0);
        let east = GridMagnetic::from_degrees(6.0);
        let west = GridMagnetic::from_degrees(-6.0);
        assert_eq!(magnetic.to(east.inverse()).degrees(), 106.0);
        assert_eq!(grid.to(east).degrees(), 94.0);
        assert_eq!(magnetic.to(west.inverse()).degrees(), 94.0);
        assert_eq!(grid.to(west).degrees(), 106.0);
    }

    #[test]
    fn from_map_to_compass_east_is_subtracted_and_west_is_added() {
        // Source: USGS Education, compass with a USGS topographic map, Methods 1 and 2.
        assert_states(
            "CV047",
            "USGS: declination positive when magnetic north is EAST of true; map(true)->compass: subtract positive, add the \
             size of negative",
            "rule",
        );
        let map = Bearing::<True>::from_degrees(100.0);
        assert_eq!(map.to(Declination::from_degrees(7.0)).degrees(), 93.0);
        assert_eq!(map.to(Declination::from_degrees(-7.0)).degrees(), 107.0);
    }

    #[test]
    fn a_clockwise_turn_of_the_dial_makes_its_number_smaller() {
        // Source: USGS Education, Method 2 step G. The dial turns under a fixed index line, so the number at the index
        // counts the other way round than a bearing that turns.
        assert_states("CV048", "turn the dial CLOCKWISE to subtract, counter-clockwise to add", "rule");
        let at_index = Bearing::<Magnetic>::from_degrees(5.0);
        let clockwise = Angle::from_degrees(12.0);
        assert_eq!(at_index.turned(-clockwise).degrees(), 353.0);
    }

    #[test]
    fn true_bearings_become_compass_bearings() {
        // Source: M = (T - D) mod 360.
        for (id, given, expected, map, east, compass) in [
            ("CV049", "true 100, D 12 E", "magnetic 88", 100.0, 12.0, 88.0),
            ("CV050", "true 5, D 12 E", "magnetic 353", 5.0, 12.0, 353.0),
            ("CV051", "true 350, D 15 W", "magnetic 5", 350.0, -15.0, 5.0),
            ("CV052", "true 0, D 10 W", "magnetic 10", 0.0, -10.0, 10.0),
            ("CV053", "true 359, D 0.5 W", "magnetic 359.5", 359.0, -0.5, 359.5),
            ("CV054", "true 90, D 0 E", "magnetic 90", 90.0, 0.0, 90.0),
            ("CV055", "true 10, D 20.23 E", "magnetic 349.77", 10.0, 20.23, 349.77),
            ("CV056", "true 8, D 26.7 W", "magnetic 34.7", 8.0, -26.7, 34.7),
        ] {
            assert_states(id, given, expected);
            let answer = Bearing::<True>::from_degrees(map).to(Declination::from_degrees(east));
            assert_eq!(answer, Bearing::from_degrees(compass), "{id}");
        }
    }

    #[test]
    fn compass_bearings_become_true_bearings() {
        // Source: T = (M + D) mod 360.
        for (id, given, expected, compass, east, map) in [
            ("CV057", "magnetic 352, D 12 E", "true 4", 352.0, 12.0, 4.0),
            ("CV058", "magnetic 5, D 10 W", "true 355", 5.0, -10.0, 355.0),
            ("CV059", "magnetic 358, D 14 E", "true 12", 358.0, 14.0, 12.0),
            ("CV060", "magnetic 180, D 26.5 W", "true 153.5", 180.0, -26.5, 153.5),
        ] {
            assert_states(id, given, expected);
            let answer = Bearing::<Magnetic>::from_degrees(compass).to(Declination::from_degrees(east).inverse());
            assert_eq!(answer, Bearing::from_degrees(map), "{id}");
        }
    }

    #[test]
    fn norths_have_a_letter_and_a_word_that_begins_with_it() {
        for north in North::ALL {
            assert!(north.word().to_uppercase().starts_with(north.letter()));
        }
        assert_eq!(Bearing::<Grid>::from_degrees(1.0).north(), North::Grid);
    }

    #[test]
    fn an_offset_prints_with_its_side() {
        assert_eq!(Declination::from_angle(Angle::from_minutes(-821.0)).to_string(), "13°41′ W");
        assert_eq!(Declination::from_degrees(-0.5).to_string(), "0°30′ W");
        assert_eq!(Convergence::from_degrees(0.0).to_string(), "0°");
    }

    #[test]
    fn east_declination_makes_the_compass_number_smaller() {
        // USGS Education, compass with a topographic map: map (true) to compass, subtract a positive (east) declination.
        let compass = Bearing::<True>::from_degrees(100.0).to(Declination::from_degrees(12.0));
        assert_eq!(compass.degrees(), 88.0);
    }

    #[test]
    fn a_bearing_reversed_twice_is_itself() {
        for degrees in 0..720 {
            let bearing = Bearing::<Grid>::from_degrees(f64::from(degrees) / 2.0);
            assert_eq!(bearing.back().back(), bearing);
        }
    }

    #[test]
    fn zero_and_360_are_one_bearing() {
        assert_eq!(Bearing::<True>::from_degrees(360.0), Bearing::from_degrees(0.0));
        assert_eq!(Bearing::<True>::from_degrees(-1e-17).to_string(), "000° T");
        assert_eq!(Bearing::<True>::from_degrees(359.999_999_9).to_string(), "000° T");
        assert_eq!(format!("{:.1}", Bearing::<Magnetic>::from_degrees(359.97)), "000.0° M");
    }

    #[test]
    fn the_turn_between_bearings_goes_the_short_way_through_north() {
        let turn = Bearing::<True>::from_degrees(350.0).turn_to(Bearing::from_degrees(10.0));
        assert_eq!(turn.degrees(), 20.0);
    }
}
