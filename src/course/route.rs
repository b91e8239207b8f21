//! The key of a course: each leg's bearings from all three norths, its length and time, and how the whole closes.

use super::{Course, Going, RouteError, Walk, Way};
use crate::angle::{
    Angle, Bearing, Convergence, Declination, Grid, GridMagnetic, Magnetic, North, True, declination_words,
};
use crate::config::OwnMap;
use crate::geomag::{Field, GeomagError, Model, Spot, Zone};
use crate::ground::{self, Place, Utm, geodesic};
use jiff::civil::Date;
use std::fmt;

/// A course worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Route {
    /// The day.
    pub day: Date,
    /// Where the first leg begins.
    pub start: Place,
    /// The declination that all legs are worked out with: that of the start on the day.
    pub declination: Declination,
    /// Whether it is the model's; else it is the map's, brought to the day.
    pub by_model: bool,
    /// Grid north from true north at the start; none where there is no UTM grid.
    pub convergence: Option<Convergence>,
    /// The north lines of the group's map.
    pub lines: Vec<North>,
    /// The legs in order, one at least.
    pub legs: Vec<Leg>,
    /// From where the last leg ends back to the start; none when it ends there.
    pub closing: Option<Closing>,
    /// Whether the course was meant to end where it began, or is given by legs, of which that is asked.
    pub closing_is_an_error: bool,
    /// The length of all legs in metres.
    pub total_m: f64,
    /// The time for all legs; none unless each has its ascent.
    pub time: Option<Walk>,
    /// What the leader must know about these numbers.
    pub remarks: Vec<Remark>,
}

/// A leg worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// Where it begins, in words.
    pub from: String,
    /// Where it leads, in words.
    pub to: String,
    /// Where it begins.
    pub start: Place,
    /// Where it ends.
    pub end: Place,
    /// From true north.
    pub true_bearing: Bearing<True>,
    /// From grid north, in the zone of the start; none where there is no UTM grid.
    pub grid: Option<Bearing<Grid>>,
    /// From magnetic north: what a compass shows.
    pub magnetic: Bearing<Magnetic>,
    /// Its length on the ground in metres.
    pub distance_m: f64,
    /// The north its bearing was given from; none when it was given by its points.
    pub given: Option<North>,
    /// What it is like.
    pub going: Going,
    /// How long it takes; none without its ascent.
    pub time: Option<Walk>,
}

/// The way from the end of a course back to its start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closing {
    /// How far, in metres.
    pub distance_m: f64,
    /// From true north.
    pub true_bearing: Bearing<True>,
    /// From grid north.
    pub grid: Option<Bearing<Grid>>,
    /// From magnetic north.
    pub magnetic: Bearing<Magnetic>,
}

/// What stands in for what a file leaves out.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// Where a course of legs begins that names no start, and where that is, in words.
    pub start: (Place, String),
    /// The day.
    pub day: Date,
    /// The north lines of the maps.
    pub lines: Vec<North>,
}

/// Something that the leader must know about the numbers. `Display` is a sentence or two.
#[derive(Clone, Debug, PartialEq)]
pub enum Remark {
    /// The start was taken from elsewhere.
    StartTaken(String),
    /// The points lie in several zones; grid bearings are those of this one.
    ManyZones {
        /// The zone of the start, which counts.
        counts: ground::Zone,
        /// Another.
        other: ground::Zone,
    },
    /// No UTM grid reaches here.
    NoGrid,
    /// Grid bearings are of the UTM grid.
    UtmOnly,
    /// The declination of the model changes on the way by more than a learner's compass shows.
    Changes {
        /// How far apart the declinations of the start and of another point are.
        apart: Angle,
    },
    /// The needle is weak here.
    Zone(Zone),
    /// What the map prints is not brought to the day.
    AsPrinted,
    /// What the map prints, brought to the day, and what the model says are far apart.
    Apart {
        /// The map's, brought to the day.
        printed: Declination,
        /// The model's.
        model: Declination,
    },
}

/// Half a degree: more than this apart is pointed out, as for the map of home ground.
const POINTED_OUT: Angle = Angle::from_minutes(30.0);
/// Nearer than this the end of a course is its start.
const CLOSED_M: f64 = 0.5;

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Remark::StartTaken(from) => {
                write!(f, "The file names no start, so the legs begin at {from}: true and magnetic go by that place.")
            }
            Remark::ManyZones { counts, other } => write!(
                f,
                "The points lie in the zones {counts} and {other}. Distances, true and magnetic bearings hold all the same; all grid bearings are those of zone {counts}, where the course starts, and another sheet's grid lines stand otherwise."
            ),
            Remark::NoGrid => {
                write!(f, "There are no grid bearings: UTM reaches from {} only.", ground::UTM_REACH)
            }
            Remark::UtmOnly => f.write_str(
                "Grid bearings are those of the UTM grid. A map with a national grid has its own: take its G-M angle from the margin and write it into the file as gm_angle.",
            ),
            Remark::Changes { apart } => write!(
                f,
                "The declination changes by {} on the way; all legs are worked out with that of the start.",
                crate::angle::degrees_minutes(*apart)
            ),
            Remark::Zone(zone) => f.write_str(zone.caution().unwrap_or_default()),
            Remark::AsPrinted => f.write_str(
                "The map's number is used as printed: without its year and annual_change it cannot be brought to the day.",
            ),
            Remark::Apart { printed, model } => write!(
                f,
                "The map's declination for this day is {printed}, the model's {model}: more than half a degree apart. The map in the hand is used; look whether its numbers are copied right."
            ),
        }
    }
}

impl Route {
    /// Works a course out.
    ///
    /// # Errors
    /// [`RouteError`] when the model has no answer, or something counts from a grid that there is not.
    pub fn of(course: &Course, site: &Site) -> Result<Route, RouteError> {
        let day = course.date.unwrap_or(site.day);
        let mut remarks = Vec::new();
        let start = match &course.way {
            Way::Points { points, .. } => points.first().map_or(site.start.0, |point| point.place),
            Way::Legs { start: Some(start), .. } => *start,
            Way::Legs { start: None, .. } => {
                remarks.push(Remark::StartTaken(site.start.1.clone()));
                site.start.0
            }
        };
        let grid = Utm::from_place(start).ok();
        let convergence = grid.map(|utm| utm.convergence());
        let declination = declination(course.printed.as_ref(), (start, convergence), day, &mut remarks)?;
        let norths = Norths { declination, grid };
        let legs = norths.legs(course, start)?;
        let end = legs.last().map_or(start, |leg| leg.end);
        let lines = course.lines.clone().unwrap_or_else(|| site.lines.clone());
        if course.printed.is_none() {
            remarks.extend(changes(&legs, declination, day));
        }
        remarks.extend(norths.remarks(&legs, &lines));
        Ok(Route {
            day,
            start,
            declination,
            by_model: course.printed.is_none(),
            convergence,
            lines,
            closing: norths.closing(end, start),
            closing_is_an_error: matches!(course.way, Way::Legs { .. } | Way::Points { round: true, .. }),
            total_m: legs.iter().map(|leg| leg.distance_m).sum(),
            time: legs.iter().map(|leg| leg.time).reduce(|one, other| Some(one?.and(other?))).flatten(),
            legs,
            remarks,
        })
    }

    /// The G-M angle at the start; none where there is no grid.
    #[must_use]
    pub fn grid_magnetic(&self) -> Option<GridMagnetic> {
        self.convergence.map(|convergence| self.declination.then(convergence.inverse()))
    }
}

/// Where bearings count from on this course.
struct Norths {
    declination: Declination,
    /// The start on its grid.
    grid: Option<Utm>,
}

impl Norths {
    fn legs(&self, course: &Course, start: Place) -> Result<Vec<Leg>, RouteError> {
        match &course.way {
            Way::Points { points, round } => {
                let home = points.first().filter(|_| *round);
                let goals = points.iter().skip(1).chain(home);
                Ok(points
                    .iter()
                    .zip(goals)
                    .map(|(from, to)| {
                        let line = geodesic::inverse(from.place, to.place);
                        let ends = ((from.name.clone(), from.place), (to.name.clone(), to.place));
                        self.leg(ends, (line.bearing, line.distance_m), None, from.onward.clone())
                    })
                    .collect())
            }
            Way::Legs { legs, .. } => {
                // A course that ends where it began names its first peg where it comes back to it.
                let again = legs.last().and_then(|leg| leg.to.as_deref()?.strip_suffix(" again"));
                let mut at = (again.unwrap_or("the start").to_owned(), start);
                let mut all = Vec::with_capacity(legs.len());
                for (number, leg) in (1..).zip(legs) {
                    let bearing = self.true_bearing(leg.bearing, leg.north, at.1)?;
                    let arrival = geodesic::direct(at.1, bearing, leg.metres).place;
                    let to = (leg.to.clone().unwrap_or_else(|| format!("peg {number}")), arrival);
                    let ends = (at, to.clone());
                    all.push(self.leg(ends, (bearing, leg.metres), Some(leg.north), leg.going.clone()));
                    at = to;
                }
                Ok(all)
            }
        }
    }

    fn leg(
        &self,
        ((from, start), (to, end)): ((String, Place), (String, Place)),
        (true_bearing, distance_m): (Bearing<True>, f64),
        given: Option<North>,
        going: Going,
    ) -> Leg {
        let time = going.ascent_m.map(|ascent| Walk::of(distance_m, ascent, going.descent_m.unwrap_or(0.0)));
        Leg {
            from,
            to,
            start,
            end,
            true_bearing,
            grid: self.bearing_on_grid(start, end),
            magnetic: true_bearing.to(self.declination),
            distance_m,
            given,
            going,
            time,
        }
    }

    fn true_bearing(&self, bearing: Angle, north: North, at: Place) -> Result<Bearing<True>, RouteError> {
        Ok(match north {
            North::True => Bearing::from_angle(bearing),
            North::Magnetic => Bearing::<Magnetic>::from_angle(bearing).to(self.declination.inverse()),
            North::Grid => {
                let here = self.on_grid(at).ok_or(RouteError::NoGrid)?;
                Bearing::<Grid>::from_angle(bearing).to(here.convergence().inverse())
            }
        })
    }

    /// A place on the grid of the start.
    fn on_grid(&self, place: Place) -> Option<Utm> {
        Utm::in_zone(place, self.grid?.zone()).ok()
    }

    fn bearing_on_grid(&self, from: Place, to: Place) -> Option<Bearing<Grid>> {
        let leg = self.on_grid(from)?.grid_leg_to(&self.on_grid(to)?).ok()?;
        Some(leg.bearing)
    }

    fn closing(&self, end: Place, start: Place) -> Option<Closing> {
        let home = geodesic::inverse(end, start);
        (home.distance_m >= CLOSED_M).then(|| Closing {
            distance_m: home.distance_m,
            true_bearing: home.bearing,
            grid: self.bearing_on_grid(end, start),
            magnetic: home.bearing.to(self.declination),
        })
    }

    fn remarks(&self, legs: &[Leg], lines: &[North]) -> Vec<Remark> {
        let Some(grid) = self.grid else { return vec![Remark::NoGrid] };
        let others = legs.iter().filter_map(|leg| Utm::from_place(leg.end).ok()).map(|utm| utm.zone());
        let other = others.into_iter().find(|zone| *zone != grid.zone());
        let zones = other.map(|other| Remark::ManyZones { counts: grid.zone(), other });
        let utm = lines.contains(&North::Grid).then_some(Remark::UtmOnly);
        zones.into_iter().chain(utm).collect()
    }
}

/// The declination at the start on the day.
fn declination(
    printed: Option<&OwnMap>,
    (start, convergence): (Place, Option<Convergence>),
    day: Date,
    remarks: &mut Vec<Remark>,
) -> Result<Declination, RouteError> {
    let field = field(start, day);
    if let Ok(field) = &field
        && field.zone() != Zone::Normal
    {
        remarks.push(Remark::Zone(field.zone()));
    }
    let Some(map) = printed else { return Ok(field.map_err(RouteError::Model)?.declination()) };
    if map.change_until(day).is_none() {
        remarks.push(Remark::AsPrinted);
    }
    let printed = match (map.declination_on(day), map.grid_magnetic_on(day)) {
        (Some(declination), _) => declination,
        (None, Some(grid_magnetic)) => grid_magnetic.then(convergence.ok_or(RouteError::NoGrid)?),
        // The reader gives one of the two.
        (None, None) => Declination::from_angle(Angle::ZERO),
    };
    if let Ok(model) = field.map(|field| field.declination())
        && (printed.angle() - model.angle()).wrapped_half().abs() > POINTED_OUT
    {
        remarks.push(Remark::Apart { printed, model });
    }
    Ok(printed)
}

fn field(place: Place, day: Date) -> Result<Field, GeomagError> {
    Model::wmm2025().field(Spot::new(place.latitude.angle(), place.longitude.angle(), 0.0)?, day)
}

/// How far the model's declination changes on the way, where that is worth a word.
fn changes(legs: &[Leg], start: Declination, day: Date) -> Option<Remark> {
    let other = |leg: &Leg| field(leg.end, day).ok().map(|field| field.declination());
    let apart = |other: Declination| (other.angle() - start.angle()).wrapped_half().abs();
    let apart = legs.iter().filter_map(other).map(apart).max()?;
    (apart > POINTED_OUT).then_some(Remark::Changes { apart })
}

impl Route {
    /// The angles of the day in words: `declination 8°45′ W (model), G-M angle 7°35′ W`.
    #[must_use]
    pub fn norths_words(&self) -> String {
        let source = match self.by_model {
            true => Model::NAME,
            false if self.remarks.contains(&Remark::AsPrinted) => "as the map prints it",
            false => "as the map prints it, brought to this day",
        };
        let gma = self.grid_magnetic().map(|angle| format!(", G-M angle {}", declination_words(angle.angle())));
        format!("declination {} ({source}){}", self.declination, gma.unwrap_or_default())
    }
}
