//! What finding one's place by bearings shares: the sheet, positions in whole metres, the sums from the compass's bearing to the
//! line that is drawn, and the figure.

use super::common::{InTenths, Tenths, bare_sum, bearing, change_words, east_west, figures, offset_of, sum, wrap};
use crate::angle::{Bearing, Grid, GridMagnetic, Magnetic, North};
use crate::ground::GridReference;
use crate::ground::plane::GridPosition;
use crate::problem::{
    Answer, Draw, Field, FieldKind, Level, LineRole, MapFigure, MapPlace, MapPoint, MapRay, Step, Tolerance, Value,
};
use crate::terrain::{Map, MapSpec, Ruled, Scale, Spot};
use std::fmt::{self, Display};
use std::sync::Arc;

/// The sheet of these problems in mm: as much wider than high as the screen's room for it.
const SHEET_MM: (f64, f64) = (90.0, 70.0);
/// How far from the border one stands at least, in mm.
const MARGIN_MM: f64 = 4.0;
/// How far off a mark is sighted, in mm on paper: nearer nothing is exposed, farther no line is drawn well.
pub(super) const SIGHTED_MM: std::ops::RangeInclusive<f64> = 16.0..=58.0;

static AT_25: [Field; 1] = [place(50.0)];
static AT_50: [Field; 1] = [place(100.0)];

/// A point on the map, within so many metres.
pub(super) const fn place(within_m: f64) -> Field {
    Field { name: "place", label: "where you stand", kind: FieldKind::MapPoint, tolerance: Tolerance::within(within_m) }
}

/// The field of a map's scale: 2 mm on paper.
pub(super) const fn field(scale: Scale) -> &'static [Field; 1] {
    match scale {
        Scale::OneTo25000 => &AT_25,
        Scale::OneTo50000 => &AT_50,
    }
}

/// How many metres on the ground are right beside the exact place.
pub(super) const fn tolerance_m(scale: Scale) -> f64 {
    field(scale)[0].tolerance.absolute
}

/// Whether no place is within so many metres of both.
fn is_apart(one: GridPosition, other: GridPosition, within_m: f64) -> bool {
    one.leg_to(other).distance_m > 2.0 * within_m + 1.0
}

/// A map on which somebody looks for the own place, and its G-M angle.
#[derive(Clone, Debug)]
pub(super) struct Ground {
    /// The map.
    pub map: Arc<Map>,
    /// How far magnetic north lies clockwise of the map's grid north, whole degrees.
    pub gma: GridMagnetic,
}

impl Ground {
    /// A map at 1:25 000, from level 3 on half of the time at 1:50 000, with a G-M angle of so many degrees at most.
    pub fn draw(level: Level, most: i32, draw: &mut Draw) -> Ground {
        let scale = if level >= Level::THREE && draw.chance(1, 2) { Scale::OneTo50000 } else { Scale::OneTo25000 };
        let gma: GridMagnetic = offset_of(draw.between(most / 2, most) * 10 * draw.sign());
        let convergence = offset_of(draw.between(0, 3) * 10 * draw.sign());
        let spec = MapSpec {
            width_mm: SHEET_MM.0,
            height_mm: SHEET_MM.1,
            scale,
            convergence,
            declination: gma.then(convergence),
            ruled: Ruled::default(),
            ..MapSpec::default()
        };
        let seed = u64::from(draw.below(u32::MAX));
        Ground { map: Arc::new(Map::generate(seed, &spec)), gma }
    }

    /// The scale of the map.
    pub fn scale(&self) -> Scale {
        self.map.spec().scale
    }

    /// Where a landmark stands, in whole metres.
    pub fn mark(&self, landmark: usize) -> GridPosition {
        let spot = self.map.landmarks().get(landmark).map_or(self.map.middle(), |landmark| landmark.spot);
        whole_metres(self.map.grid_position(spot))
    }

    /// A landmark's name.
    pub fn name(&self, landmark: usize) -> &str {
        self.map.landmarks().get(landmark).map_or("the mark", |landmark| landmark.name.as_str())
    }

    /// What was sighted: `the chapel High Kirk: 312° M`.
    pub fn sighted_words(&self, landmark: usize, sighted: Bearing<Magnetic>) -> String {
        let kind = self.map.landmarks().get(landmark).map_or("mark", |landmark| landmark.kind.word());
        format!("the {kind} {}: {}", self.name(landmark), bearing(sighted, North::Magnetic))
    }

    /// Whether changing a bearing of the compass for the map's lines leads past north.
    pub fn is_past_north(&self, sighted: Bearing<Magnetic>) -> bool {
        !(0..3600).contains(&(sighted.in_tenths() + self.gma.in_tenths()))
    }

    /// A place on the paper.
    pub fn spot(&self, at: GridPosition) -> Spot {
        self.map.at_grid_position(at)
    }

    /// Whether a place can be picked: it lies on the sheet.
    pub fn holds(&self, at: GridPosition) -> bool {
        self.map.holds(self.spot(at))
    }

    /// Whether somebody can stand there: on dry land of the sheet, and not at its very border.
    pub fn holds_well(&self, at: GridPosition) -> bool {
        let (spot, spec) = (self.spot(at), self.map.spec());
        (MARGIN_MM..=spec.width_mm - MARGIN_MM).contains(&spot.east_mm)
            && (MARGIN_MM..=spec.height_mm - MARGIN_MM).contains(&spot.north_mm)
            && !self.map.is_in_lake(spot)
    }

    /// Whether two places are so far apart that none is within tolerance of both.
    pub fn apart(&self, one: GridPosition, other: GridPosition) -> bool {
        is_apart(one, other, tolerance_m(self.scale()))
    }

    /// Whether all of these are so far from each other that none is within so many metres of two of them.
    pub fn all_apart(places: &[GridPosition], within_m: f64) -> bool {
        let apart = |one: &GridPosition, other: &GridPosition| is_apart(*one, *other, within_m);
        places.iter().enumerate().all(|(at, one)| places[at + 1..].iter().all(|other| apart(one, other)))
    }

    /// Whether a mark is sighted from a place: neither too near nor too far, and no hill between.
    pub fn sees(&self, stand: GridPosition, landmark: usize) -> bool {
        let Some(mark) = self.map.landmarks().get(landmark) else { return false };
        SIGHTED_MM.contains(&self.spot(stand).distance_mm(mark.spot)) && self.map.sees(self.spot(stand), landmark)
    }

    /// The line from a mark back to whoever sighted it, by the map's grid lines.
    pub fn back(&self, sighted: Bearing<Magnetic>) -> Bearing<Grid> {
        sighted.to(self.gma.inverse()).back()
    }

    /// The map with these landmarks standing out.
    pub fn figure(&self, marked: Vec<usize>) -> MapFigure {
        MapFigure::new(Arc::clone(&self.map), marked)
    }

    /// What a degree of slip does to a place at this distance where lines cut at this angle, in whole tens of metres.
    pub fn slip_m(distance_m: f64, cut_deg: f64) -> f64 {
        let sine = |degrees: f64| degrees.to_radians().sin();
        (distance_m * sine(1.0) / sine(cut_deg) / 10.0).round() * 10.0
    }

    /// `The G-M angle is 4° W. `
    pub fn gma_words(&self) -> impl Display {
        let gma = self.gma;
        fmt::from_fn(move |out| write!(out, "The G-M angle is {}.", east_west(gma)))
    }

    /// The step from the compass's bearing to the map's: why, and which way.
    pub fn to_grid_step(&self, sighted: &[Bearing<Magnetic>]) -> Step {
        let change = change_words(North::Grid, self.gma.in_tenths(), false);
        let words = format!(
            "The needle counts from magnetic north, the map's lines from grid north, so change before you draw. {change}"
        );
        Step::new(words, joined(sighted.iter().map(|bearing| sum(bearing.in_tenths(), self.gma.in_tenths()))))
            .decides("The needle counts from magnetic north, the map's lines from grid north: is the G-M angle added or taken off?")
    }
}

/// Several sums in one line.
pub(super) fn joined(parts: impl Iterator<Item = impl Display>) -> String {
    parts.map(|part| part.to_string()).collect::<Vec<String>>().join("; ")
}

/// A position as it is told: in whole metres.
pub(super) fn whole_metres(at: GridPosition) -> GridPosition {
    GridPosition { easting_m: at.easting_m.round(), northing_m: at.northing_m.round() }
}

/// A place as the answer.
pub(super) fn answer(at: GridPosition) -> Answer {
    Answer::one(Value::Point(MapPoint::from(whole_metres(at))))
}

/// `308 − 180 = 128`.
pub(super) fn half_circle(from: impl InTenths) -> impl Display {
    let from: Tenths = wrap(from.in_tenths());
    bare_sum(from, if from < 1800 { 1800 } else { -1800 })
}

/// A place in words, as its field says it: `36804 m east, 57600 m north`.
pub(super) fn place_words(at: GridPosition) -> String {
    AT_25[0].words(Value::Point(MapPoint::from(whole_metres(at))))
}

/// The same with the grid reference first, as a map reader says it: `grid reference 3680 5760, which is …`.
pub(super) fn reference_words(at: GridPosition) -> String {
    let reference = GridReference::of_metres(None, at.easting_m.round(), at.northing_m.round(), 8);
    let figures = reference.map_or_else(String::new, |reference| reference.to_string());
    match figures.split_at_checked(4) {
        Some((east, north)) => format!("grid reference {east} {north}, which is {}", place_words(at)),
        None => place_words(at),
    }
}

/// A line drawn from a mark on a bearing, in a mix-up's words: `drawn on 132° G`.
pub(super) fn drawn_words(back: Bearing<Grid>) -> String {
    format!("{}° G", figures(back))
}

/// A line from a mark through a place and a little beyond.
pub(super) fn ray(from: GridPosition, through: GridPosition, role: LineRole) -> MapRay {
    const BEYOND: f64 = 0.12;
    let beyond = |from: f64, to: f64| to + (to - from) * BEYOND;
    let to = GridPosition {
        easting_m: beyond(from.easting_m, through.easting_m),
        northing_m: beyond(from.northing_m, through.northing_m),
    };
    MapRay { from, to, role }
}

/// The place of the answer on the figure with lines from its marks, and the learner's own with lines from those that it was found by.
pub(super) fn tell(
    figure: &mut MapFigure,
    marks: &[GridPosition],
    right: GridPosition,
    given: Option<&Answer>,
    theirs: &[GridPosition],
) {
    figure.rays = marks.iter().map(|mark| ray(*mark, right, LineRole::Right)).collect();
    figure.places.push(MapPlace { at: right, role: LineRole::Right, label: "here".to_owned() });
    if let Some([Value::Point(point)]) = given.map(Answer::values) {
        let at = GridPosition::from(*point);
        figure.rays.extend(theirs.iter().map(|mark| MapRay { from: *mark, to: at, role: LineRole::Learner }));
        figure.places.push(MapPlace { at, role: LineRole::Learner, label: "you".to_owned() });
    }
}
