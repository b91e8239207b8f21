//! Plane geometry on a map's grid: legs, fixes from two bearings, and lines that a bearing meets.
//!
//! Lengths are metres of the grid. Where the sheet is as small as a day's walk, grid and ground differ by less than one part in a
//! thousand.

use super::utm::GridLeg;
use crate::angle::{Angle, Bearing, Grid};
use crate::numbers;

/// A place by a map's grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GridPosition {
    /// Metres east of the grid's origin.
    pub easting_m: f64,
    /// Metres north of the grid's origin.
    pub northing_m: f64,
}

/// Where two bearings cross.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fix {
    /// The place.
    pub at: GridPosition,
    /// The angle between the two lines, above 0 and up to 90°.
    pub cut: Angle,
}

/// Lines that cut at a smaller angle are parallel for anybody with a pencil.
const LEAST_CUT: f64 = 1e-6;

impl GridPosition {
    /// The straight line to another position. For the same position the bearing is 000 and means nothing.
    #[must_use]
    pub fn leg_to(self, other: GridPosition) -> GridLeg {
        let (east, north) = (other.easting_m - self.easting_m, other.northing_m - self.northing_m);
        GridLeg { distance_m: east.hypot(north), bearing: Bearing::from_degrees(east.atan2(north).to_degrees()) }
    }

    /// Where a leg from here leads.
    #[must_use]
    pub fn after(self, leg: GridLeg) -> GridPosition {
        let (east, north) = steps(leg.bearing);
        GridPosition {
            easting_m: self.easting_m + east * leg.distance_m,
            northing_m: self.northing_m + north * leg.distance_m,
        }
    }

    /// How far it lies along a bearing from another position, and how far to the right of that line; both in metres.
    fn along_and_right(self, from: GridPosition, bearing: Bearing<Grid>) -> (f64, f64) {
        let (e, n) = (self.easting_m - from.easting_m, self.northing_m - from.northing_m);
        let (east, north) = steps(bearing);
        (e * east + n * north, e * north - n * east)
    }
}

/// Metres east and north of one metre along a bearing.
fn steps(bearing: Bearing<Grid>) -> (f64, f64) {
    let (sin, cos) = bearing.degrees().to_radians().sin_cos();
    (sin, cos)
}

/// Where the line through one position on a bearing crosses that through another, ahead or behind; none where they are parallel.
/// A bearing and its back bearing draw the same line: so this is also where one stands who sees both positions on these bearings.
#[must_use]
pub fn intersection(one: (GridPosition, Bearing<Grid>), other: (GridPosition, Bearing<Grid>)) -> Option<Fix> {
    let turn = one.1.turn_to(other.1);
    let sine = turn.degrees().to_radians().sin();
    if sine.abs() < LEAST_CUT {
        return None;
    }
    // The other position lies so far to the right of the first line; along its own line one comes nearer by the sine.
    let (_, right) = other.0.along_and_right(one.0, one.1);
    let at = other.0.after(GridLeg { bearing: other.1, distance_m: -right / sine });
    let cut = Angle::from_degrees(sine.abs().min(1.0).asin().to_degrees());
    Some(Fix { at, cut })
}

/// How far a place lies from the nearest point of a path, in metres; infinite for a path of fewer than two corners.
#[must_use]
pub fn beside_path_m(at: GridPosition, path: &[GridPosition]) -> f64 {
    let from = |[one, other]: &[GridPosition; 2]| {
        let (east, north) = (other.easting_m - one.easting_m, other.northing_m - one.northing_m);
        let (right, up) = (at.easting_m - one.easting_m, at.northing_m - one.northing_m);
        let squared = east * east + north * north;
        // The foot of the plumb line, where it falls on the piece, else the nearer end.
        let share = if squared > 0.0 { ((right * east + up * north) / squared).clamp(0.0, 1.0) } else { 0.0 };
        (right - share * east).hypot(up - share * north)
    };
    path.array_windows().map(from).fold(f64::INFINITY, f64::min)
}

/// Where the ray from a position on a bearing meets a path of straight pieces, the nearest first. Behind the position it meets
/// nothing.
#[must_use]
pub fn crossings(from: GridPosition, bearing: Bearing<Grid>, path: &[GridPosition]) -> Vec<GridPosition> {
    let mut met: Vec<f64> = path
        .array_windows()
        .filter_map(|[start, end]| {
            let ((a0, r0), (a1, r1)) = (start.along_and_right(from, bearing), end.along_and_right(from, bearing));
            // The end of a piece is the start of the next: it counts once.
            let crosses = (r0 <= 0.0) != (r1 <= 0.0);
            let along = a0 + (a1 - a0) * r0 / (r0 - r1);
            (crosses && along > 0.0).then_some(along)
        })
        .collect();
    numbers::arrange(&mut met, f64::total_cmp);
    met.into_iter().map(|distance_m| from.after(GridLeg { bearing, distance_m })).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(easting_m: f64, northing_m: f64) -> GridPosition {
        GridPosition { easting_m, northing_m }
    }

    fn bearing(degrees: f64) -> Bearing<Grid> {
        Bearing::from_degrees(degrees)
    }

    #[test]
    fn beside_a_path_the_nearest_piece_or_corner_counts() {
        let at = |easting_m, northing_m| GridPosition { easting_m, northing_m };
        let path = [at(0.0, 0.0), at(100.0, 0.0), at(100.0, 100.0)];
        // By arithmetic: straight across, past an end, and inside the bend.
        for (place, metres) in
            [(at(50.0, 30.0), 30.0), (at(-30.0, -40.0), 50.0), (at(90.0, 20.0), 10.0), (at(100.0, 60.0), 0.0)]
        {
            assert!((beside_path_m(place, &path) - metres).abs() < 1e-9, "{place:?}");
        }
        assert_eq!(beside_path_m(at(0.0, 0.0), &path[..1]), f64::INFINITY);
    }

    #[test]
    fn a_track_is_met_where_the_back_bearing_from_the_chapel_says() {
        // Arithmetic: 1 800·tan 52° = 2 304 m east of the chapel's easting.
        let track = [at(33_000.0, 57_600.0), at(38_000.0, 57_600.0)];
        let met = crossings(at(34_500.0, 59_400.0), bearing(128.0), &track);
        assert_eq!(met.iter().map(|at| at.easting_m.round()).collect::<Vec<_>>(), [36_804.0]);
        assert!(crossings(at(34_500.0, 59_400.0), bearing(308.0), &track).is_empty(), "the wrong way: no track");
    }

    #[test]
    fn a_bent_path_is_met_twice_and_at_a_bend_once() {
        let path = [at(0.0, 0.0), at(100.0, 100.0), at(200.0, 0.0)];
        let met = crossings(at(-50.0, 50.0), bearing(90.0), &path);
        assert_eq!(met.iter().map(|at| at.easting_m.round()).collect::<Vec<_>>(), [50.0, 150.0]);
        let met = crossings(at(100.0, -50.0), bearing(0.0), &path);
        assert_eq!(met.len(), 1);
    }

    #[test]
    fn parallel_bearings_give_no_fix() {
        assert_eq!(intersection((at(0.0, 0.0), bearing(40.0)), (at(500.0, 0.0), bearing(220.0))), None);
        assert_eq!(intersection((at(0.0, 0.0), bearing(40.0)), (at(500.0, 0.0), bearing(40.0))), None);
    }

    proptest! {
        #[test]
        fn whoever_sights_two_marks_from_a_place_finds_the_place(
            e in -9e3..9e3_f64, n in -9e3..9e3_f64, (e1, n1) in (-9e3..9e3_f64, -9e3..9e3_f64), (e2, n2) in (-9e3..9e3_f64, -9e3..9e3_f64),
        ) {
            let (stand, one, other) = (at(e, n), at(e1, n1), at(e2, n2));
            let (first, second) = (stand.leg_to(one), stand.leg_to(other));
            let cut = first.bearing.turn_to(second.bearing).degrees().abs();
            prop_assume!(first.distance_m > 10.0 && second.distance_m > 10.0 && (1.0..179.0).contains(&cut));
            let fix = intersection((one, first.bearing), (other, second.bearing)).unwrap();
            prop_assert!(fix.at.leg_to(stand).distance_m < 1e-3, "{fix:?}");
            prop_assert!((fix.cut.degrees() - cut.min(180.0 - cut)).abs() < 1e-6);
            // Not reversing a bearing draws the same line.
            let ahead = |leg: GridLeg| bearing(leg.bearing.degrees() + 180.0);
            let same = intersection((one, ahead(first)), (other, ahead(second))).unwrap();
            prop_assert!(same.at.leg_to(fix.at).distance_m < 1e-3);
        }
    }
}
