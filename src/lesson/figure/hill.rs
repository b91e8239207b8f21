//! A hill as a teacher draws it: a steep side, a gentle side, a spur and a re-entrant; its contour lines from above, and the ground
//! cut open from the side.
//!
//! The shapes of invented maps are as mild as those outside, and no patch of them has all four at once. So this hill is a formula,
//! and all that is shown and told of it is worked out from that one.

use crate::angle::Angle;
use crate::numbers::whole;
use crate::problem::MapPoint;
use crate::scene::{Align, Dash, Direction, Ink, Label, Line, Point, Priority, Scene};

/// From contour line to contour line, in m; the lowest one and the highest one that are drawn.
pub(in crate::lesson) const STEP_M: i32 = 5;
pub(in crate::lesson) const LOWEST_M: i32 = 295;
pub(in crate::lesson) const HIGHEST_M: i32 = 325;

/// The top, in m, and how far down its foot lies.
const TOP_M: f64 = 328.0;
const FOOT_M: f64 = 30.0;
/// How much ground is seen under the lowest line where the hill is cut, in m.
const UNDER_M: f64 = 3.75;
/// How far out the foot lies where nothing bends it, in m.
const REACH_M: f64 = 300.0;
/// What is drawn, in m from the top.
const WEST_M: f64 = -430.0;
const EAST_M: f64 = 370.0;
const SOUTH_M: f64 = -300.0;
const NORTH_M: f64 = 220.0;
/// How many corners a contour line has.
const CORNERS: i32 = 180;

/// A place on the hill, in m from its top.
pub(in crate::lesson) const fn spot(east_m: f64, north_m: f64) -> MapPoint {
    MapPoint { east_m, north_m }
}

/// The place so far from another in a direction clockwise of north.
pub(in crate::lesson) fn away(from: MapPoint, toward: Angle, metres: f64) -> MapPoint {
    let way = Direction::from_degrees_clockwise_from_up(toward.degrees());
    spot(from.east_m + way.dx() * metres, from.north_m - way.dy() * metres)
}

/// How far out the foot of the hill lies in a direction: far at the spur and on the gentle side, near in the re-entrant and on the
/// steep side.
fn reach_m(toward: Angle) -> f64 {
    let near = |middle: f64, wide: f64| {
        let off = (toward - Angle::from_degrees(middle)).wrapped_half().degrees() / wide;
        (-off * off).exp()
    };
    let bends = 1.0 + 0.9 * near(228.0, 13.0) - 0.55 * near(168.0, 22.0);
    REACH_M * bends * (1.0 - 0.38 * near(75.0, 50.0)) * (1.0 + 0.32 * near(290.0, 48.0))
}

/// The height of a place, in m: round at the top, steepest half-way down.
pub(in crate::lesson) fn height_m(at: MapPoint) -> f64 {
    let toward = Angle::from_degrees(at.east_m.atan2(at.north_m).to_degrees());
    let out = at.east_m.hypot(at.north_m) / reach_m(toward);
    TOP_M - FOOT_M * 1.5 * out * out / (out * out + 0.5)
}

/// The place on the contour line of a height in a direction from the top.
pub(in crate::lesson) fn on_contour(height: i32, toward: Angle) -> MapPoint {
    let down = ((TOP_M - f64::from(height)) / FOOT_M).clamp(0.0, 1.49);
    away(spot(0.0, 0.0), toward, (0.5 * down / (1.5 - down)).sqrt() * reach_m(toward))
}

/// How many of the eight sides around a place are higher than it.
pub(in crate::lesson) fn higher_sides(at: MapPoint, metres: f64) -> usize {
    let here = height_m(at);
    (0..8).filter(|eighth| height_m(away(at, Angle::from_degrees(f64::from(*eighth) * 45.0), metres)) > here).count()
}

/// The place on the cut through the top, from west to east, so many tens of metres from its west end.
pub(in crate::lesson) fn on_cut(tens: i32) -> MapPoint {
    spot(WEST_M + f64::from(tens) * 10.0, 0.0)
}

/// The east end of the cut, in tens of metres from its west end.
pub(in crate::lesson) const CUT_TENS: i32 = 80;

/// How much the ground rises over the next stretch eastward and the last one together, in whole metres.
pub(in crate::lesson) fn rise_over(tens: i32, half_tens: i32) -> i32 {
    whole((height_m(on_cut(tens + half_tens)) - height_m(on_cut(tens - half_tens))).round())
}

/// How the hill lies on a panel: the map at the left, the cut beside it.
#[derive(Clone, Copy, Debug)]
pub(in crate::lesson) struct Lie {
    zoom: f64,
    left_mm: f64,
    top_mm: f64,
    text_mm: f64,
    side_mm: f64,
    foot_mm: f64,
    mm_per_m: f64,
}

impl Lie {
    /// On a panel of this size, with room for the cut or for the map alone.
    pub fn new((width_mm, height_mm): (f64, f64), text_mm: f64, with_cut: bool) -> Lie {
        let (wide, high) = (EAST_M - WEST_M, NORTH_M - SOUTH_M);
        let room = if with_cut { (width_mm - 4.0 * text_mm) / 2.0 } else { width_mm };
        let zoom = (height_mm / high).min(room / wide);
        let foot_mm = height_mm - text_mm * 1.6;
        Lie {
            zoom,
            left_mm: if with_cut { 0.0 } else { (width_mm - wide * zoom) / 2.0 },
            top_mm: (height_mm - high * zoom) / 2.0,
            text_mm,
            side_mm: wide * zoom + 4.0 * text_mm,
            foot_mm,
            mm_per_m: (foot_mm - text_mm) / (TOP_M - f64::from(LOWEST_M) + UNDER_M),
        }
    }

    /// A place on the map.
    pub fn point(&self, at: MapPoint) -> Point {
        Point::new(self.left_mm + (at.east_m - WEST_M) * self.zoom, self.top_mm + (NORTH_M - at.north_m) * self.zoom)
    }

    /// A place of the cut, at a height.
    pub fn side(&self, at: MapPoint, height: f64) -> Point {
        let up = (height - f64::from(LOWEST_M) + UNDER_M) * self.mm_per_m;
        Point::new(self.side_mm + (at.east_m - WEST_M) * self.zoom, (self.foot_mm - up).min(self.foot_mm))
    }

    /// The contour line of a height, as far as it lies on the map.
    pub fn contour(&self, height: i32) -> Vec<Vec<Point>> {
        let corners: Vec<MapPoint> = (0..=CORNERS)
            .map(|corner| on_contour(height, Angle::from_degrees(f64::from(corner * (360 / CORNERS)))))
            .collect();
        let inside =
            |at: &MapPoint| (WEST_M..=EAST_M).contains(&at.east_m) && (SOUTH_M..=NORTH_M).contains(&at.north_m);
        let pieces = corners.split(|at| !inside(at)).filter(|piece| piece.len() >= 2);
        pieces.map(|piece| piece.iter().map(|at| self.point(*at)).collect()).collect()
    }

    /// The contour lines up to a height, and the numbers of every other one, like rungs up the gentle side.
    pub fn draw_map(&self, up_to: i32, scene: &mut Scene) {
        for height in heights(up_to) {
            for piece in self.contour(height) {
                scene.add(Line::through(piece, Ink::Relief));
            }
            if (height - LOWEST_M) % (2 * STEP_M) == 0 {
                let at = self.point(on_contour(height, Angle::from_degrees(305.0)));
                scene.add(Label::new(height.to_string(), at, Ink::Relief).priority(Priority::Low));
            }
        }
    }

    /// The cut, where it runs on the map, and the heights of the contour lines up to one.
    pub fn draw_cut(&self, up_to: i32, scene: &mut Scene) {
        let (west, east) = (on_cut(0), on_cut(CUT_TENS));
        scene.add(Line::straight(self.point(west), self.point(east), Ink::Text).dash(Dash::Fine));
        for height in heights(up_to) {
            let [from, to] = [west, east].map(|end| self.side(end, f64::from(height)));
            scene.add(Line::straight(from, to, Ink::Relief).dash(Dash::Fine));
            if (height - LOWEST_M) % (2 * STEP_M) == 0 {
                let at = from.moved(-self.text_mm * 0.3, 0.0);
                scene.add(Label::new(height.to_string(), at, Ink::Relief).align(Align::Right).priority(Priority::Low));
            }
        }
        let ground = (0..=CUT_TENS).map(|tens| self.side(on_cut(tens), height_m(on_cut(tens)))).collect();
        scene.add(Line::through(ground, Ink::Text).bold());
        let middle = f64::midpoint(self.side(west, 0.0).x, self.side(east, 0.0).x);
        let note = "cut open, heights drawn larger";
        let below = Point::new(middle, self.foot_mm + self.text_mm * 0.9);
        scene.add(Label::new(note, below, Ink::Text).priority(Priority::Low));
    }
}

/// The heights of the contour lines up to one.
fn heights(up_to: i32) -> impl Iterator<Item = i32> {
    (0..=(HIGHEST_M - LOWEST_M) / STEP_M).map(|step| LOWEST_M + step * STEP_M).filter(move |height| *height <= up_to)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_of_a_contour_line_has_its_height() {
        for height in heights(HIGHEST_M) {
            for step in 0..72 {
                let at = on_contour(height, Angle::from_degrees(f64::from(step) * 5.0));
                assert!((height_m(at) - f64::from(height)).abs() < 1e-6, "{height} m, step {step}");
            }
        }
    }

    #[test]
    fn the_hill_has_a_spur_a_re_entrant_a_steep_and_a_gentle_side() {
        let sides = |toward: f64| higher_sides(on_contour(305, Angle::from_degrees(toward)), 60.0);
        assert!(sides(228.0) <= 2 && sides(168.0) >= 6 && (3..=4).contains(&sides(0.0)));
        let steepest = |mut tens: std::ops::Range<i32>| {
            let start = rise_over(tens.start, 5).abs();
            tens.try_fold(start, |most, at| Some(most.max(rise_over(at, 5).abs()))).unwrap_or(start)
        };
        assert!(steepest(43..75) * 2 > steepest(5..43) * 3);
    }
}
