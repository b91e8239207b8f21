//! Places on the sheet of paper.

/// A place on the paper of a map: millimetres east and north of the sheet's south-west corner, along its borders.
///
/// The east and west borders are true-north lines, so `north_mm` counts along true north.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Spot {
    /// Millimetres east of the west border.
    pub east_mm: f64,
    /// Millimetres north of the south border.
    pub north_mm: f64,
}

impl Spot {
    /// The place `east_mm` east and `north_mm` north of the south-west corner.
    #[must_use]
    pub const fn new(east_mm: f64, north_mm: f64) -> Spot {
        Spot { east_mm, north_mm }
    }

    /// How far apart two places are on the paper, in mm.
    #[must_use]
    pub fn distance_mm(self, other: Spot) -> f64 {
        self.squared_mm(other).sqrt()
    }

    pub(super) fn squared_mm(self, other: Spot) -> f64 {
        let (dx, dy) = (other.east_mm - self.east_mm, other.north_mm - self.north_mm);
        dx * dx + dy * dy
    }

    /// Moved by `mm` along a vector of the paper.
    pub(super) fn along(self, (east, north): (f64, f64), mm: f64) -> Spot {
        Spot { east_mm: self.east_mm + east * mm, north_mm: self.north_mm + north * mm }
    }

    /// The vector to another place.
    pub(super) fn to(self, other: Spot) -> (f64, f64) {
        (other.east_mm - self.east_mm, other.north_mm - self.north_mm)
    }

    /// The place a share of the way to another one, 0 here, 1 there.
    #[must_use]
    pub fn toward(self, other: Spot, share: f64) -> Spot {
        self.along(self.to(other), share)
    }

    /// Rounded to tenths of a millimetre.
    pub(super) fn tenths(self) -> Spot {
        Spot { east_mm: (self.east_mm * 10.0).round() / 10.0, north_mm: (self.north_mm * 10.0).round() / 10.0 }
    }
}

/// The point of a stretch that lies nearest to `spot`: share of the way, and squared distance.
pub(super) fn nearest_on(a: Spot, b: Spot, spot: Spot) -> (f64, f64) {
    let ((dx, dy), (px, py)) = (a.to(b), a.to(spot));
    let length = dx * dx + dy * dy;
    let share = if length > 0.0 { ((px * dx + py * dy) / length).clamp(0.0, 1.0) } else { 0.0 };
    let (ox, oy) = (px - share * dx, py - share * dy);
    (share, ox * ox + oy * oy)
}

/// The squared distance from a place to a line through places; infinite when there is none.
pub(super) fn squared_to_line(line: &[Spot], spot: Spot) -> f64 {
    line.windows(2).map(|pair| nearest_on(pair[0], pair[1], spot).1).fold(f64::INFINITY, f64::min)
}

/// Whether a place is inside a closed outline (even-odd).
pub(super) fn inside(outline: &[Spot], spot: Spot) -> bool {
    let mut inside = false;
    let Some(mut before) = outline.last() else { return false };
    for here in outline {
        if (before.north_mm <= spot.north_mm) != (here.north_mm <= spot.north_mm) {
            let share = (spot.north_mm - before.north_mm) / (here.north_mm - before.north_mm);
            if spot.east_mm < before.east_mm + share * (here.east_mm - before.east_mm) {
                inside = !inside;
            }
        }
        before = here;
    }
    inside
}

/// Where two stretches cross, if they do: the place and the share of the way along the first.
pub(super) fn crossing(a: Spot, b: Spot, c: Spot, d: Spot) -> Option<(Spot, f64)> {
    let ((rx, ry), (sx, sy), (qx, qy)) = (a.to(b), c.to(d), a.to(c));
    let cross = rx * sy - ry * sx;
    if cross == 0.0 {
        return None;
    }
    let (t, u) = ((qx * sy - qy * sx) / cross, (qx * ry - qy * rx) / cross);
    ((0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u)).then(|| (a.toward(b, t), t))
}

/// A vector at length 1; `None` for no vector at all. Only arithmetic that is exact to the bit on every machine.
pub(super) fn unit((x, y): (f64, f64)) -> Option<(f64, f64)> {
    let length = (x * x + y * y).sqrt();
    (length > 0.0).then(|| (x / length, y / length))
}
