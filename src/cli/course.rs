//! `needlewise course`: the key of a course, its cards, its plan, three pegs in the open, and the debrief.

use super::args::{CourseArgs, Format};
use super::context::Context;
use super::fault::Fault;
use super::page::Page;
use crate::angle::{Bearing, Magnetic, North, read_bearing};
use crate::course::{
    CardPart, Course, CourseError, Member, Route, RouteError, SIDES_M, Site, TEMPLATE, card, key_parts, pegs,
    pegs_file, plan,
};
use crate::numbers::below;
use crate::problem::TEXT_MM;
use crate::textfile::{nearest, shown};
use serde::Serialize;
use std::io::{self, BufWriter, Write};
use std::path::Path;

/// Seeds that nobody gave are smaller than this, short enough to type.
const SEEDS: u64 = 1_000_000;

/// Runs the command.
pub(super) fn run(context: &Context, args: &CourseArgs) -> Result<(), Fault> {
    let pegs_wanted = if args.pegs { Some(first_bearing(context, args)?) } else { None };
    if let Some(file) = &args.new {
        let text = pegs_wanted.map_or_else(|| TEMPLATE.to_owned(), |first| pegs_file(first, args.side));
        write_new(file, &text)?;
        let mut page = Page::default();
        page.paragraph(&format!("Written to {}. Change it, then: needlewise course FILE", file.display()));
        return Ok(io::stdout().lock().write_all(page.0.as_bytes())?);
    }
    let course = match (&args.file, pegs_wanted) {
        (Some(file), _) => Course::load(file)?,
        (None, Some(first)) => pegs(first, args.side),
        (None, None) => {
            return Err(Fault::Input(
                "name a course's file; `needlewise course --new FILE` writes one that explains every line, `needlewise course --pegs` lays out three pegs in the open"
                    .to_owned(),
            ));
        }
    };
    let route = Route::of(&course, &site(context)?)?;
    if let Some(file) = &args.picture {
        super::problem::write_picture(&plan(&route, &course.title, args.answers, TEXT_MM), file)?;
    }
    let mut out = BufWriter::new(io::stdout().lock());
    match args.format {
        Format::Json => json(&mut out, &course, &route)?,
        Format::Text => out.write_all(text(&course, &route, args, pegs_wanted)?.as_bytes())?,
    }
    Ok(out.flush()?)
}

/// The bearing to the second peg: as asked, or drawn by the seed.
fn first_bearing(context: &Context, args: &CourseArgs) -> Result<Bearing<Magnetic>, Fault> {
    if !SIDES_M.contains(&args.side) {
        let (least, most) = (SIDES_M.start(), SIDES_M.end());
        return Err(Fault::Input(format!("--side {}: three pegs stand {least} to {most} metres apart", args.side)));
    }
    let Some(text) = &args.first else {
        let seed = args.seed.unwrap_or_else(|| context.seed() % SEEDS);
        // A seed is a small number: its bits are spread before they are drawn from.
        let bits = (seed.wrapping_add(1)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        return Ok(Bearing::from_degrees(f64::from(below(bits, 360))));
    };
    let typed = read_bearing(text).map_err(|error| Fault::Input(format!("--first: {error}")))?;
    if typed.north.is_some_and(|north| north != North::Magnetic) || !typed.is_on_the_circle() {
        return Err(Fault::Input("--first is what is set on the dial: 000 to 360, M or no letter".to_owned()));
    }
    Ok(Bearing::from_angle(typed.typed))
}

/// What stands in for what a file leaves out: the place of `--at` or home ground, the day, the maps' lines.
fn site(context: &Context) -> Result<Site, Fault> {
    let whereabouts = context.whereabouts(None)?;
    let words = match &whereabouts.home {
        Some((name, true)) => format!("{name} (set your own with `needlewise home set --at PLACE`, or write start)"),
        Some((name, false)) => format!("home ground, {name}"),
        None => format!("the place of --at, {}", whereabouts.place),
    };
    // Without a home folder there are no settings, and a map may have any line.
    let lines = match context.settings() {
        Ok(settings) => settings.load()?.ground().lines,
        Err(_) => North::ALL.to_vec(),
    };
    Ok(Site { start: (whereabouts.place, words), day: context.day, lines })
}

/// Writes a file that is not there yet.
fn write_new(file: &Path, text: &str) -> Result<(), Fault> {
    let name = file.display();
    let made = std::fs::File::create_new(file).and_then(|mut out| out.write_all(text.as_bytes()));
    made.map_err(|error| match error.kind() {
        io::ErrorKind::AlreadyExists => Fault::Could(format!("{name} is there already; name another file")),
        _ => Fault::Could(format!("{name} cannot be written: {error}")),
    })
}

fn text(course: &Course, route: &Route, args: &CourseArgs, pegs: Option<Bearing<Magnetic>>) -> Result<String, Fault> {
    let mut page = Page::default();
    if let Some(name) = &args.card {
        parts(&mut page, &card(course, route, Some(member(course, name)?), args.answers));
    } else if args.cards {
        let members = course.members.iter().map(Some);
        let nobody = course.members.is_empty().then_some(None);
        for (number, member) in members.chain(nobody).enumerate() {
            if number > 0 {
                page.line("");
                page.line(&"-".repeat(80));
            }
            parts(&mut page, &card(course, route, member, args.answers));
        }
    } else {
        parts(&mut page, &key_parts(course, route));
        if let Some(first) = pegs {
            laying(&mut page, first, args.side);
        }
    }
    Ok(page.0)
}

/// One of the members, or whom the name may mean.
fn member<'a>(course: &'a Course, name: &str) -> Result<&'a Member, Fault> {
    if let Some(member) = course.members.iter().find(|member| member.name == name) {
        return Ok(member);
    }
    let names = || course.members.iter().map(|member| member.name.as_str());
    let meant = nearest(name, names()).map(|name| format!("did you mean {name}? ")).unwrap_or_default();
    let listed = if course.members.is_empty() {
        "the file names no members: add a line [[member]] and below it name = \"…\"".to_owned()
    } else {
        format!("the members are {}", names().collect::<Vec<_>>().join(", "))
    };
    Err(Fault::Input(format!("nobody called {} is in this course; {meant}{listed}", shown(name))))
}

fn parts(page: &mut Page, parts: &[CardPart]) {
    for (number, part) in parts.iter().enumerate() {
        if number > 0 {
            page.line("");
        }
        page.line(&part.heading);
        for line in &part.lines {
            if line.name.is_empty() {
                page.hanging("", 2, &line.text);
            } else {
                page.hanging(&format!("  {}", line.name), 18, &line.text);
            }
        }
    }
}

/// How three pegs are laid.
fn laying(page: &mut Page, first: Bearing<Magnetic>, side: u32) {
    page.line("");
    page.line("Laying them");
    let second = first.turned(crate::angle::Angle::from_degrees(120.0));
    let third = second.turned(crate::angle::Angle::from_degrees(120.0));
    let steps = [
        "Choose flat open ground without wire, water or drops, and walk it. Phones, knives and this laptop stay two metres away, a car eighteen."
            .to_owned(),
        format!("Put peg A, the start, where you stand. Sight {first} from it, measure {side} m with a tape or your own double paces, and put peg B there."),
        format!("From B sight {second}, measure {side} m: peg C."),
        format!("Check: from C peg A must lie on {third}, {side} m away. Within three degrees and three metres the pegs are good; else move C."),
        "Look back from each peg: the bearing back differs by 180 from the one there. If it does not by more than three degrees, iron is near one of the two.".to_owned(),
        "At each peg one turns 120 to the right, and three times 120 is a full circle: whoever sets a wrong north still closes, so let them sight back, too.".to_owned(),
    ];
    for (number, step) in (1..).zip(steps) {
        page.hanging(&format!("  {number}"), 5, &step);
    }
    page.line("");
    page.paragraph(&format!(
        "The same pegs again: needlewise course --pegs --side {side} --first {}. As a file, to which members and what they measured are added: the same with --new FILE.",
        crate::angle::three_figures(first.angle(), 0)
    ));
}

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

fn json(out: &mut impl Write, course: &Course, route: &Route) -> Result<(), Fault> {
    super::json_line(
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
        super::json_line(
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

impl From<CourseError> for Fault {
    fn from(error: CourseError) -> Fault {
        Fault::Shown(error.render(false))
    }
}

impl From<RouteError> for Fault {
    fn from(error: RouteError) -> Fault {
        Fault::input(error)
    }
}
