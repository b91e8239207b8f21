//! A course as JSON: one object a line, the keys are stable.

use crate::angle::Bearing;
use crate::cli::fault::Fault;
use crate::course::debrief::{Debrief, Slip, sureness};
use crate::course::{Course, Member, Route};
use serde::Serialize;
use std::io::Write;

/// The first line of JSON: the whole course.
#[derive(Serialize)]
struct CourseJson<'a> {
    kind: &'static str,
    title: &'a str,
    date: String,
    start_lat_deg: f64,
    start_lon_deg: f64,
    declination_deg: f64,
    declination_from: &'static str,
    convergence_deg: Option<f64>,
    grid_magnetic_deg: Option<f64>,
    lines: Vec<&'static str>,
    legs: usize,
    total_m: f64,
    time_least_min: Option<f64>,
    time_youth_min: Option<f64>,
    back_by: Option<&'a str>,
    call: Option<&'a str>,
    closing_is_error: bool,
    closing_m: f64,
    closing_true_deg: Option<f64>,
    closing_grid_deg: Option<f64>,
    closing_magnetic_deg: Option<f64>,
    remarks: Vec<String>,
}

/// A line for each leg.
#[derive(Serialize)]
struct LegJson<'a> {
    kind: &'static str,
    leg: usize,
    from: &'a str,
    to: &'a str,
    from_lat_deg: f64,
    from_lon_deg: f64,
    to_lat_deg: f64,
    to_lon_deg: f64,
    true_deg: f64,
    grid_deg: Option<f64>,
    magnetic_deg: f64,
    back_magnetic_deg: f64,
    distance_m: f64,
    ascent_m: Option<f64>,
    descent_m: Option<f64>,
    time_least_min: Option<f64>,
    time_youth_min: Option<f64>,
    hazards: &'a [String],
    double_paces: Vec<PacesJson<'a>>,
}

#[derive(Serialize)]
struct PacesJson<'a> {
    name: &'a str,
    double_paces: Option<u32>,
}

/// The key: a line for the course, and one for each leg.
pub(super) fn key(out: &mut impl Write, course: &Course, route: &Route) -> Result<(), Fault> {
    crate::cli::json_line(
        out,
        &CourseJson {
            kind: "course",
            title: &course.title,
            date: route.day.to_string(),
            start_lat_deg: route.start.latitude.degrees(),
            start_lon_deg: route.start.longitude.degrees(),
            declination_deg: route.declination.angle().degrees(),
            declination_from: if route.by_model { "model" } else { "map" },
            convergence_deg: route.convergence.map(|known| known.angle().degrees()),
            grid_magnetic_deg: route.grid_magnetic().map(|known| known.angle().degrees()),
            lines: route.lines.iter().map(|line| line.word()).collect(),
            legs: route.legs.len(),
            total_m: route.total_m,
            time_least_min: route.time.map(|time| time.least_min),
            time_youth_min: route.time.map(|time| time.youth_min),
            back_by: course.back_by.as_deref(),
            call: course.call.as_deref(),
            closing_is_error: route.closing_is_an_error,
            closing_m: route.closing.map_or(0.0, |closing| closing.distance_m),
            closing_true_deg: route.closing.map(|closing| closing.true_bearing.degrees()),
            closing_grid_deg: route.closing.and_then(|closing| closing.grid).map(Bearing::degrees),
            closing_magnetic_deg: route.closing.map(|closing| closing.magnetic.degrees()),
            remarks: route.remarks.iter().map(ToString::to_string).collect(),
        },
    )?;
    for (number, leg) in (1..).zip(&route.legs) {
        let paces = |member: &'_ Member| member.paces(leg.distance_m);
        crate::cli::json_line(
            out,
            &LegJson {
                kind: "leg",
                leg: number,
                from: &leg.from,
                to: &leg.to,
                from_lat_deg: leg.start.latitude.degrees(),
                from_lon_deg: leg.start.longitude.degrees(),
                to_lat_deg: leg.end.latitude.degrees(),
                to_lon_deg: leg.end.longitude.degrees(),
                true_deg: leg.true_bearing.degrees(),
                grid_deg: leg.grid.map(Bearing::degrees),
                magnetic_deg: leg.magnetic.degrees(),
                back_magnetic_deg: leg.magnetic.back().degrees(),
                distance_m: leg.distance_m,
                ascent_m: leg.going.ascent_m,
                descent_m: leg.going.descent_m,
                time_least_min: leg.time.map(|time| time.least_min),
                time_youth_min: leg.time.map(|time| time.youth_min),
                hazards: &leg.going.hazards,
                double_paces: course
                    .members
                    .iter()
                    .map(|member| PacesJson { name: &member.name, double_paces: paces(member) })
                    .collect(),
            },
        )?;
    }
    Ok(())
}

/// A line for each debrief.
#[derive(Serialize)]
struct DebriefJson<'a> {
    kind: &'static str,
    by: &'a str,
    taken: &'static str,
    cause: Option<&'static str>,
    how_sure: &'static str,
    causes: Vec<CauseJson>,
    offset_deg: Option<f64>,
    scatter_rms_deg: Option<f64>,
    legs: Vec<LegDebriefJson>,
}

#[derive(Serialize)]
struct CauseJson {
    cause: &'static str,
    share: f64,
}

#[derive(Serialize)]
struct LegDebriefJson {
    leg: usize,
    key_magnetic_deg: f64,
    measured_deg: Option<f64>,
    off_deg: Option<f64>,
    slip: Option<&'static str>,
    with_leg: Option<usize>,
    came_out_along_deg: Option<f64>,
    came_out_after_m: Option<f64>,
}

/// The debriefs.
pub(super) fn debriefs<'a>(out: &mut impl Write, debriefs: impl Iterator<Item = &'a Debrief>) -> Result<(), Fault> {
    for debrief in debriefs {
        let legs = (1..).zip(&debrief.legs).map(|(number, leg)| LegDebriefJson {
            leg: number,
            key_magnetic_deg: leg.key.degrees(),
            measured_deg: leg.measured.map(Bearing::degrees),
            off_deg: leg.off.map(|off| off.degrees()),
            slip: leg.slip.map(Slip::id),
            with_leg: if let Some(Slip::SwappedWith(other)) = leg.slip { Some(other + 1) } else { None },
            came_out_along_deg: leg.walked.map(|(bearing, _)| bearing.degrees()),
            came_out_after_m: leg.walked.map(|(_, metres)| metres),
        });
        let line = DebriefJson {
            kind: "debrief",
            by: &debrief.by,
            taken: debrief.taken.word(),
            cause: debrief.cause.map(crate::course::debrief::Cause::id),
            how_sure: sureness(debrief),
            causes: debrief
                .causes
                .iter()
                .map(|(cause, share)| CauseJson { cause: cause.id(), share: *share })
                .collect(),
            offset_deg: debrief.offset.map(|offset| offset.degrees()),
            scatter_rms_deg: debrief.scatter.map(|scatter| scatter.degrees()),
            legs: legs.collect(),
        };
        crate::cli::json_line(out, &line)?;
    }
    Ok(())
}
