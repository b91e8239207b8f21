//! `needlewise convert`: a bearing counted from another north, with the sum in words.

mod sum;

use super::args::{ConvertArgs, Format, NorthName};
use super::context::Context;
use super::fault::Fault;
use super::north::Norths;
use super::page::{MAP_WINS, OWN_GROUND, Page};
use crate::angle::{
    Angle, Bearing, Convergence, Declination, Grid, GridMagnetic, Magnetic, North, True, TypedBearing, read_bearing,
    read_declination,
};
use crate::ground::{UTM_REACH, Utm};
use crate::session::invented_words;
use crate::textfile::shown;
use serde::Serialize;
use std::io::Write;

/// Runs the command.
pub(super) fn run(context: &Context, args: ConvertArgs) -> Result<(), Fault> {
    let typed = read_bearing(&args.bearing).map_err(|error| Fault::Input(format!("the bearing: {error}")))?;
    let Some(from) = typed.north else {
        return Err(Fault::Input(
            "which north does this bearing count from? write T, G or M behind it, like 065M for a compass bearing"
                .to_owned(),
        ));
    };
    if !typed.is_on_the_circle() {
        return Err(Fault::Input(
            "there is no such bearing: bearings go from 000 to 360 degrees, or to 6400 mils".to_owned(),
        ));
    }
    let conversion = Conversion::new(context, &args, typed, from)?;
    let mut out = std::io::stdout().lock();
    match args.format {
        Format::Text => out.write_all(conversion.text().as_bytes())?,
        Format::Json => writeln!(out, "{}", conversion.json()?)?,
    }
    Ok(())
}

/// A bearing with the north it counts from and the one it shall count from, and the angles that are known.
struct Conversion {
    bearing: Angle,
    from: North,
    to: North,
    known: Known,
    /// The model's field and place, when they were asked.
    norths: Option<Norths>,
}

/// The angles between the norths, as far as they are known.
#[derive(Clone, Copy, Default)]
struct Known {
    declination: Option<Declination>,
    convergence: Option<Convergence>,
    grid_magnetic: Option<GridMagnetic>,
}

impl Known {
    /// Two of the three give the third.
    fn completed(mut self) -> Known {
        self.grid_magnetic = self.grid_magnetic.or_else(|| Some(self.declination?.then(self.convergence?.inverse())));
        self.declination = self.declination.or_else(|| Some(self.grid_magnetic?.then(self.convergence?)));
        self.convergence = self.convergence.or_else(|| Some(self.grid_magnetic?.inverse().then(self.declination?)));
        self
    }

    /// How far one north lies east of another; `None` when it is not known.
    fn between(self, to: North, from: North) -> Option<Angle> {
        match (to, from) {
            (North::Magnetic, North::True) => self.declination.map(|known| known.angle()),
            (North::Magnetic, North::Grid) => self.grid_magnetic.map(|known| known.angle()),
            (North::Grid, North::True) => self.convergence.map(|known| known.angle()),
            (to, from) if to == from => Some(Angle::ZERO),
            (to, from) => self.between(from, to).map(|angle| -angle),
        }
    }
}

/// The object of `--format json`; the keys are stable.
#[derive(Serialize)]
struct Line {
    bearing_deg: f64,
    from: &'static str,
    to: &'static str,
    result_deg: f64,
    declination_deg: Option<f64>,
    convergence_deg: Option<f64>,
    grid_magnetic_deg: Option<f64>,
}

impl Conversion {
    fn new(context: &Context, args: &ConvertArgs, typed: TypedBearing, from: North) -> Result<Conversion, Fault> {
        let to = match args.to {
            NorthName::Magnetic => North::Magnetic,
            NorthName::True => North::True,
            NorthName::Grid => North::Grid,
        };
        let given = Known {
            declination: given_angle("--declination", args.declination.as_deref())?.map(Declination::from_angle),
            grid_magnetic: given_angle("--gma", args.gma.as_deref())?.map(GridMagnetic::from_angle),
            convergence: None,
        };
        // A place that cannot be read is told even where it is not needed.
        let place = context.place_asked()?;
        let any_given = given.declination.is_some() || given.grid_magnetic.is_some();
        let mut conversion = Conversion { bearing: typed.typed, from, to, known: given.completed(), norths: None };
        if conversion.known.between(to, from).is_some() {
            return Ok(conversion);
        }
        if !any_given {
            let norths = Norths::of(context.whereabouts(args.height)?, context.day)?;
            conversion.known = Known {
                declination: Some(norths.declination()),
                convergence: norths.convergence(),
                grid_magnetic: None,
            };
            conversion.known = conversion.known.completed();
            conversion.norths = Some(norths);
        } else if let Some(place) = place {
            // The place adds the convergence; the model, and with it the day, plays no part.
            let convergence = Utm::from_place(place.place()).ok().map(|utm| utm.convergence());
            conversion.known = Known { convergence, ..given }.completed();
        }
        if conversion.known.between(to, from).is_none() {
            return Err(Fault::Input(missing(from, to, any_given, &given)));
        }
        Ok(conversion)
    }

    fn result(&self) -> Angle {
        let east = self.known.between(self.to, self.from).unwrap_or(Angle::ZERO);
        (self.bearing - east).wrapped()
    }

    fn json(&self) -> Result<String, Fault> {
        let Known { declination, convergence, grid_magnetic } = self.known;
        let line = Line {
            bearing_deg: tidy(self.bearing.wrapped()),
            from: self.from.word(),
            to: self.to.word(),
            result_deg: tidy(self.result()),
            declination_deg: declination.map(|known| tidy(known.angle())),
            convergence_deg: convergence.map(|known| tidy(known.angle())),
            grid_magnetic_deg: grid_magnetic.map(|known| tidy(known.angle())),
        };
        serde_json::to_string(&line).map_err(|error| Fault::Could(error.to_string()))
    }

    fn text(&self) -> String {
        let mut page = Page::default();
        let east = self.known.between(self.to, self.from).unwrap_or(Angle::ZERO);
        let sum = sum::Sum::new(self.bearing, east);
        if self.from == self.to {
            let given = printed(self.bearing, self.from, sum.decimals());
            page.line(&format!("{given} counts from {} north already.", self.to.word()));
            return page.0;
        }
        page.line(&format!(
            "{} is {}.",
            printed(self.bearing, self.from, sum.decimals()),
            printed(sum.result(), self.to, sum.decimals())
        ));
        page.line(&sum.words(self.from, self.to));
        page.line("");
        self.source(&mut page);
        page.0
    }

    /// Which angle was used and where it comes from.
    fn source(&self, page: &mut Page) {
        let (name, angle) = match (self.from, self.to) {
            (North::True, North::Magnetic) | (North::Magnetic, North::True) => {
                ("Declination", self.known.declination.map(|known| known.to_string()))
            }
            (North::Grid, North::Magnetic) | (North::Magnetic, North::Grid) => {
                ("G-M angle", self.known.grid_magnetic.map(|known| known.to_string()))
            }
            _ => ("Grid convergence", self.known.convergence.map(|known| known.to_string())),
        };
        let angle = angle.unwrap_or_default();
        let Some(norths) = &self.norths else {
            page.line(&format!("{name} {angle}, from what was given."));
            return;
        };
        let place = match &norths.at.home {
            Some((name, _)) => name.clone(),
            None => norths.at.place.to_string(),
        };
        page.line(&format!("{name} {angle} at {place}, on {}.", norths.day));
        if let Some(caution) = norths.field.zone().caution() {
            page.paragraph(caution);
        }
        if norths.at.home.as_ref().is_some_and(|(_, invented)| *invented) {
            page.paragraph(&invented_words(OWN_GROUND));
        }
        page.paragraph(MAP_WINS);
    }
}

/// Degrees to nine decimals, more than any model knows. 359.999 999 999 9 is 0.
fn tidy(angle: Angle) -> f64 {
    let rounded = angle.rounded_to(Angle::from_degrees(1e-9));
    if rounded >= Angle::from_degrees(360.0) { 0.0 } else { rounded.degrees() }
}

/// A bearing with its north's letter.
fn printed(angle: Angle, north: North, decimals: usize) -> String {
    match north {
        North::True => format!("{:.decimals$}", Bearing::<True>::from_angle(angle)),
        North::Grid => format!("{:.decimals$}", Bearing::<Grid>::from_angle(angle)),
        North::Magnetic => format!("{:.decimals$}", Bearing::<Magnetic>::from_angle(angle)),
    }
}

/// An angle of the command line. It says its side by a letter or, for scripts, by a sign (east positive).
pub(super) fn given_angle(option: &str, text: Option<&str>) -> Result<Option<Angle>, Fault> {
    let Some(text) = text else { return Ok(None) };
    let read = read_declination(text).map_err(|error| {
        Fault::Input(format!("{option} {}: write an angle with its side, like 17W or 3.5E ({error})", shown(text)))
    })?;
    let signed = text.trim_start().starts_with(['+', '-', '−']);
    if read.lettered || signed || read.angle == Angle::ZERO {
        Ok(Some(read.angle))
    } else {
        Err(Fault::Input(format!("{option}: the side is missing: write E or W behind it, like 17W")))
    }
}

/// What is missing for a conversion, and how to give it.
fn missing(from: North, to: North, any_given: bool, given: &Known) -> String {
    let way = format!("from {} to {} north", from.word(), to.word());
    if !any_given {
        return format!(
            "there is no UTM grid at this place (it reaches from {UTM_REACH}), so no way {way}; give both --declination and --gma if your map has another grid"
        );
    }
    let (wanted, option) = match (from, to) {
        (North::True, North::Magnetic) | (North::Magnetic, North::True) => ("the declination", "--declination"),
        (North::Grid, North::Magnetic) | (North::Magnetic, North::Grid) => ("the G-M angle", "--gma"),
        _ => ("the convergence", if given.declination.is_some() { "--gma" } else { "--declination" }),
    };
    format!("{way} {wanted} is needed, and it does not follow from what was given; add {option}, or a place with --at")
}
