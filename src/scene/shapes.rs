//! Round shapes as points, and the shapes behind the marks: what every canvas shares.
use super::{Direction, Mark, MarkKind, Point, Side};
use std::f64::consts::TAU;

/// How far a chord may stand off the true curve, in mm: well below what an eye or a terminal dot can show.
const SAG_MM: f64 = 0.05;

/// The fewest and most chords a full circle is drawn with.
const CHORDS: std::ops::RangeInclusive<f64> = 12.0..=360.0;

/// How many chords a full circle of this radius needs.
fn chords(radius_mm: f64) -> f64 {
    let sag = SAG_MM / radius_mm.abs().max(SAG_MM);
    (TAU / (2.0 * (1.0 - sag).acos())).ceil().clamp(*CHORDS.start(), *CHORDS.end())
}

/// The points of a full circle, closed (the last point is the first). Empty when anything is not finite.
#[must_use]
pub fn circle(centre: Point, radius_mm: f64) -> Vec<Point> {
    // A multiple of four keeps the circle the same to all four sides.
    let count = (chords(radius_mm) / 4.0).ceil() * 4.0;
    curve(centre, radius_mm, Direction::UP, TAU, count)
}

/// The points of the arc that runs *clockwise* from one direction to the other, as seen from the centre. Equal
/// directions give an arc of no length. Empty when anything is not finite.
#[must_use]
pub fn arc(centre: Point, radius_mm: f64, from: Direction, to: Direction) -> Vec<Point> {
    let sweep = from.radians_clockwise_to(to);
    curve(centre, radius_mm, from, sweep, (chords(radius_mm) * sweep / TAU).ceil().max(1.0))
}

/// How many degrees the clockwise turn from one direction to the other has, 0 up to 360.
///
/// For layout only (is there room for a label?); what is written on a figure is worked out by the caller.
pub(super) fn sweep_degrees(from: Direction, to: Direction) -> f64 {
    from.radians_clockwise_to(to).to_degrees()
}

fn curve(centre: Point, radius_mm: f64, from: Direction, sweep: f64, count: f64) -> Vec<Point> {
    if !centre.is_finite() || !radius_mm.is_finite() {
        return Vec::new();
    }
    // The clamp above keeps `count` within a few hundred.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 360")]
    let steps = count as u32;
    (0..=steps)
        .map(|step| {
            let turn = Direction::from_radians(sweep * f64::from(step) / count);
            centre.along(from.turned_by(turn), radius_mm)
        })
        .collect()
}

/// What a mark is made of: an outline, filled or not, open or closed as the points say.
pub(super) struct MarkShape {
    pub(super) points: Vec<Point>,
    pub(super) filled: bool,
}

/// The shape of a mark in mm, the same for every canvas.
pub(super) fn mark_shape(mark: &Mark) -> MarkShape {
    let (at, size, toward) = (mark.at, mark.size_mm, mark.toward);
    let side = toward.quarter_clockwise();
    let barb = |sign: f64| at.along(toward, -size).along(side, sign * size * 0.5);
    let (points, filled) = match mark.kind {
        MarkKind::Triangle => (vec![at, barb(1.2), barb(-1.2), at], true),
        MarkKind::HalfArrow(Side::Clockwise) => (vec![at, barb(1.0)], false),
        MarkKind::HalfArrow(Side::Counterclockwise) => (vec![at, barb(-1.0)], false),
        MarkKind::ArrowHead => (vec![barb(-1.0), at, barb(1.0)], false),
        MarkKind::Ring => (circle(at, size / 2.0), false),
        MarkKind::Spot => (circle(at, size / 2.0), true),
        MarkKind::Wave => {
            let crest = |step: u32| {
                let part = f64::from(step) / 12.0;
                at.along(side, (part - 0.5) * size).along(toward, (part * TAU).sin() * size * 0.12)
            };
            ((0..=12).map(crest).collect(), false)
        }
        MarkKind::Star => {
            let corner = |step: u32| {
                let turn = Direction::from_radians(TAU * f64::from(step) / 10.0);
                at.along(toward.turned_by(turn), if step.is_multiple_of(2) { size / 2.0 } else { size / 5.0 })
            };
            ((0..=10).map(corner).collect(), true)
        }
    };
    MarkShape { points, filled }
}
