//! The straight lines of a map: borders, grid, true-north and magnetic-north lines, and the prongs of the diagram.
use super::grid::{self, GridFrame};
use super::landmark::Landmark;
use super::spec::MapSpec;
use super::spot::Spot;
use crate::angle::{Angle, North};

/// What a line of the map is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineKind {
    /// The west or east border of the sheet, a true-north line.
    Border,
    /// The south or north border, square to true north.
    CrossBorder,
    /// A ruled true-north line.
    True,
    /// A ruled magnetic-north line, after the printed declination.
    Magnetic,
    /// A grid line along grid north.
    Grid,
    /// A grid line along grid east.
    CrossGrid,
    /// A prong of the printed declination diagram. It is not drawn to scale: its direction is *not* that of its north.
    Prong(North),
}

impl LineKind {
    /// Whether it is one of the lines ruled across the map along a north.
    #[must_use]
    pub const fn is_ruled(self) -> bool {
        matches!(self, LineKind::True | LineKind::Magnetic | LineKind::Grid)
    }

    /// The north along which it runs, to the degree and better; none for cross lines and for the diagram.
    #[must_use]
    pub const fn north(self) -> Option<North> {
        match self {
            LineKind::Border | LineKind::True => Some(North::True),
            LineKind::Magnetic => Some(North::Magnetic),
            LineKind::Grid => Some(North::Grid),
            LineKind::CrossBorder | LineKind::CrossGrid | LineKind::Prong(_) => None,
        }
    }
}

/// A straight line of the map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MapLine {
    /// What it is.
    pub kind: LineKind,
    /// The way from `from` to `to`, clockwise from the map's true north; between −180 and 180 degrees.
    pub direction: Angle,
    /// Its southern (for cross lines western) end on the sheet.
    pub from: Spot,
    /// Its other end.
    pub to: Spot,
    /// For grid lines the number in the margin, two figures: kilometres.
    pub number: Option<u32>,
}

impl MapLine {
    /// Its length on paper in mm.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        self.from.distance_mm(self.to)
    }
}

/// Lines shorter than this are not ruled, in mm.
const SHORTEST_MM: f64 = 12.0;

/// How far apart ruled lines of one family are, in mm.
const RULED_MM: f64 = 26.0;

/// All lines of the map: borders first, then true, grid, magnetic, diagram.
pub(super) fn all(
    spec: &MapSpec,
    frame: &GridFrame,
    landmarks: &[Landmark],
    (foot, prongs): (Option<Spot>, &[(North, Angle)]),
) -> Vec<MapLine> {
    let (width, height) = (spec.width_mm, spec.height_mm);
    let straight = |kind, degrees: f64, from, to| MapLine {
        kind,
        direction: Angle::from_degrees(degrees),
        from,
        to,
        number: None,
    };
    let (south_west, south_east) = (Spot::new(0.0, 0.0), Spot::new(width, 0.0));
    let (north_west, north_east) = (Spot::new(0.0, height), Spot::new(width, height));
    let mut lines = vec![
        straight(LineKind::Border, 0.0, south_west, north_west),
        straight(LineKind::Border, 0.0, south_east, north_east),
        straight(LineKind::CrossBorder, 90.0, south_west, south_east),
        straight(LineKind::CrossBorder, 90.0, north_west, north_east),
    ];
    ruled(spec, LineKind::True, Angle::ZERO, spec.ruled.true_lines, landmarks, &mut lines);
    if spec.ruled.grid {
        let lean = spec.convergence.angle();
        for (kind, northward) in [(LineKind::Grid, true), (LineKind::CrossGrid, false)] {
            let direction = if northward { lean } else { lean + Angle::from_degrees(90.0) };
            lines.extend(frame.lines(northward).filter_map(|(spot, way, km)| {
                let (from, to) = across_sheet(spec, spot, way)?;
                let number = u32::try_from(km.rem_euclid(100)).ok();
                Some(MapLine { kind, direction, from, to, number })
            }));
        }
    }
    let declination = spec.declination.angle();
    ruled(spec, LineKind::Magnetic, declination, spec.ruled.magnetic_lines, landmarks, &mut lines);
    if let Some(foot) = foot {
        lines.extend(prongs.iter().map(|&(north, direction)| MapLine {
            kind: LineKind::Prong(north),
            direction,
            from: foot,
            to: foot.along(grid::way(direction), DIAGRAM_MM),
            number: None,
        }));
    }
    lines
}

/// How long the prongs of a diagram on the sheet are, in mm.
pub(super) const DIAGRAM_MM: f64 = 12.0;

/// Where the prongs of the diagram meet: aside of the middle, so near that they and their letters are in sight at any turn,
/// and clear of the landmarks that are where they are, if they can be. `None` when no diagram is asked for.
pub(super) fn diagram_foot(spec: &MapSpec, landmarks: &[Landmark]) -> Option<Spot> {
    if !spec.ruled.diagram {
        return None;
    }
    let middle = Spot::new(spec.width_mm / 2.0, spec.height_mm / 2.0);
    let feet = [25.0, -25.0, 18.0, -18.0, 30.0, -30.0, 10.0, -10.0].into_iter().flat_map(|east| {
        [-18.0, 3.0, -8.0, -24.0, 9.0].map(|north| Spot::new(middle.east_mm + east, middle.north_mm + north))
    });
    let met = |foot: &Spot| landmarks.iter().filter(|landmark| in_diagram(*foot, landmark.spot)).count();
    feet.min_by_key(met)
}

/// Whether a place is kept free for the diagram with its foot there.
pub(super) fn in_diagram(foot: Spot, spot: Spot) -> bool {
    let (east, north) = foot.to(spot);
    (-13.0..=13.0).contains(&east) && (-6.0..=21.0).contains(&north)
}

/// A family of ruled lines, moved aside as a whole until it runs clear of the landmarks as far as may be.
fn ruled(
    spec: &MapSpec,
    kind: LineKind,
    direction: Angle,
    count: u8,
    landmarks: &[Landmark],
    lines: &mut Vec<MapLine>,
) {
    let (east, north) = grid::way(direction);
    let aside = (north, -east);
    let middle = Spot::new(spec.width_mm / 2.0, spec.height_mm / 2.0);
    let place = |number: u8, shift: f64| {
        middle.along(aside, (f64::from(number) - (f64::from(count) - 1.0) / 2.0) * RULED_MM + shift)
    };
    let clearance = |shift: f64| {
        (0..count)
            .flat_map(|number| {
                landmarks.iter().map(move |landmark| {
                    let (dx, dy) = place(number, shift).to(landmark.spot);
                    (dx * aside.0 + dy * aside.1).abs()
                })
            })
            .fold(f64::INFINITY, f64::min)
            // More than this is of no use; the least shift wins then.
            .min(4.0)
    };
    let shift = (0..=16)
        .map(|step: i32| f64::from((step + 1) / 2 * if step % 2 == 0 { 1 } else { -1 }))
        .fold((0.0, f64::NEG_INFINITY), |best, shift| {
            let clear = clearance(shift);
            if clear > best.1 { (shift, clear) } else { best }
        })
        .0;
    lines.extend((0..count).filter_map(|number| {
        let (from, to) = across_sheet(spec, place(number, shift), (east, north))?;
        Some(MapLine { kind, direction: direction.wrapped_half(), from, to, number: None })
    }));
}

/// The part of a line through a place that lies on the sheet, from its foot along its way.
fn across_sheet(spec: &MapSpec, spot: Spot, way: (f64, f64)) -> Option<(Spot, Spot)> {
    let (mut enter, mut leave) = (f64::NEG_INFINITY, f64::INFINITY);
    for (at, step, side) in [(spot.east_mm, way.0, spec.width_mm), (spot.north_mm, way.1, spec.height_mm)] {
        if step == 0.0 {
            if !(0.0..=side).contains(&at) {
                return None;
            }
            continue;
        }
        let (a, b) = (-at / step, (side - at) / step);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    (leave - enter >= SHORTEST_MM).then(|| (spot.along(way, enter), spot.along(way, leave)))
}
