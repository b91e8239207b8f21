//! `needlewise north`: what the model and the grid say about a place on a day.

use super::args::{Format, NorthArgs};
use super::context::{Context, Whereabouts};
use super::fault::Fault;
use super::page::{MAP_WINS, OWN_GROUND, Page};
use crate::angle::{Angle, Convergence, Declination, EastWest, GridMagnetic, degrees_minutes};
use crate::geomag::{Field, Model, Spot, Zone};
use crate::ground::{Mgrs, Precision, UTM_REACH, Utm};
use crate::problem::TEXT_MM;
use crate::session::{change_words, invented_words};
use crate::world::{self, Chart};
use jiff::civil::Date;
use serde::Serialize;
use std::io::Write;

/// Which grid the two angles of grid north are of.
const OTHER_GRIDS: &str = "Grid convergence and G-M angle are those of the UTM grid. A map with another grid, such as a national one, has its own: take them from its margin.";

/// Runs the command.
pub(super) fn run(context: &Context, args: NorthArgs) -> Result<(), Fault> {
    let norths = Norths::of(context.whereabouts(args.height)?, context.day)?;
    if let Some(file) = &args.picture {
        let home = norths.at.place;
        let scene = world::picture(&Chart::of(norths.day), home, None, (280.0, 150.0), TEXT_MM);
        super::problem::write_picture(&scene, file)?;
    }
    let mut out = std::io::stdout().lock();
    match args.format {
        Format::Text => out.write_all(norths.text().as_bytes())?,
        Format::Json => writeln!(out, "{}", norths.json()?)?,
    }
    Ok(())
}

/// The norths of a place on a day.
pub(super) struct Norths {
    /// The place, with its height.
    pub at: Whereabouts,
    /// The day.
    pub day: Date,
    /// The model's field.
    pub field: Field,
    /// None outside 80° S to 84° N.
    pub utm: Option<Utm>,
}

/// The object of `--format json`; the keys are stable.
#[derive(Serialize)]
struct Line {
    lat_deg: f64,
    lon_deg: f64,
    height_m: f64,
    date: String,
    model: &'static str,
    declination_deg: f64,
    annual_change_deg: f64,
    uncertainty_deg: f64,
    inclination_deg: f64,
    horizontal_nt: f64,
    zone: &'static str,
    convergence_deg: Option<f64>,
    grid_magnetic_deg: Option<f64>,
    utm: Option<String>,
    mgrs: Option<String>,
}

impl Norths {
    /// Asks the model. Height or date outside it are bad input.
    pub fn of(at: Whereabouts, day: Date) -> Result<Norths, Fault> {
        let (latitude, longitude) = (at.place.latitude.angle(), at.place.longitude.angle());
        let spot = Spot::new(latitude, longitude, at.height_m).map_err(Fault::input)?;
        let field = Model::wmm2025().field(spot, day).map_err(Fault::input)?;
        Ok(Norths { utm: Utm::from_place(at.place).ok(), at, day, field })
    }

    /// The declination.
    pub fn declination(&self) -> Declination {
        self.field.declination()
    }

    /// The convergence.
    pub fn convergence(&self) -> Option<Convergence> {
        self.utm.map(|utm| utm.convergence())
    }

    /// The G-M angle.
    pub fn grid_magnetic(&self) -> Option<GridMagnetic> {
        self.convergence().map(|convergence| self.declination().then(convergence.inverse()))
    }

    /// The MGRS text, to the metre.
    pub fn mgrs(&self) -> Option<String> {
        Mgrs::from_place(self.at.place, Precision::M1).ok().map(|mgrs| mgrs.to_string())
    }

    fn json(&self) -> Result<String, Fault> {
        let line = Line {
            lat_deg: self.at.place.latitude.degrees(),
            lon_deg: self.at.place.longitude.degrees(),
            height_m: self.at.height_m,
            date: self.day.to_string(),
            model: Model::NAME,
            declination_deg: self.declination().angle().degrees(),
            annual_change_deg: self.field.annual_change().angle().degrees(),
            uncertainty_deg: self.field.uncertainty().degrees(),
            inclination_deg: self.field.inclination().degrees(),
            horizontal_nt: self.field.horizontal_nt(),
            zone: self.field.zone().word(),
            convergence_deg: self.convergence().map(|known| known.angle().degrees()),
            grid_magnetic_deg: self.grid_magnetic().map(|known| known.angle().degrees()),
            utm: self.utm.map(|utm| utm.to_string()),
            mgrs: self.mgrs(),
        };
        serde_json::to_string(&line).map_err(|error| Fault::Could(error.to_string()))
    }

    fn text(&self) -> String {
        let mut page = Page::default();
        if let Some((name, _)) = &self.at.home {
            page.line(name);
        }
        page.line(&format!("{}, height {} m, on {}", self.at.place, self.at.height_m, self.day));
        page.line("");
        if let Some(caution) = self.field.zone().caution() {
            page.paragraph(caution);
            page.line("");
        }
        let declination = self.declination();
        page.row("Declination", &declination.to_string(), &lies(declination.angle(), "magnetic north", "true north"));
        page.row("Changes by", &change_words(self.field.annual_change()), "");
        page.row(
            "May be out by",
            &degrees_minutes(self.field.uncertainty()).to_string(),
            "the model's own usual error",
        );
        if let (Some(convergence), Some(grid_magnetic)) = (self.convergence(), self.grid_magnetic()) {
            page.row(
                "Grid convergence",
                &convergence.to_string(),
                &lies(convergence.angle(), "grid north", "true north"),
            );
            let words = lies(grid_magnetic.angle(), "magnetic north", "grid north");
            page.row("G-M angle", &grid_magnetic.to_string(), &words);
        }
        let dip = self.field.inclination();
        page.row("Inclination", &degrees_minutes(dip).to_string(), dip_words(dip));
        let horizontal = format!("{:.0} nT", self.field.horizontal_nt());
        page.row("Horizontal field", &horizontal, zone_words(self.field.zone()));
        match self.utm {
            Some(utm) => {
                page.row("UTM", &utm.to_string(), "");
                page.row("MGRS", &self.mgrs().unwrap_or_default(), "");
            }
            None => page.row("Grid", "none", &format!("UTM and MGRS reach from {UTM_REACH} only")),
        }
        page.line("");
        if self.utm.is_some() {
            page.paragraph(OTHER_GRIDS);
        }
        if self.at.home.as_ref().is_some_and(|(_, invented)| *invented) {
            page.paragraph(&invented_words(OWN_GROUND));
        }
        page.paragraph(&format!(
            "{} It is {}, made for dates from {} to {}.",
            Model::LEAVES_OUT,
            Model::NAME,
            Model::FIRST,
            Model::LAST
        ));
        page.paragraph(MAP_WINS);
        page.0
    }
}

/// `magnetic north lies west of true north`.
fn lies(angle: Angle, north: &str, from: &str) -> String {
    match EastWest::of(angle.rounded_to(Angle::from_minutes(1.0))) {
        Some(side) => format!("{north} lies {} of {from}", side.word()),
        None => format!("{north} and {from} lie in one line"),
    }
}

fn dip_words(dip: Angle) -> &'static str {
    if dip.degrees() >= 0.0 { "the needle's north end is pulled down" } else { "the needle's south end is pulled down" }
}

const fn zone_words(zone: Zone) -> &'static str {
    match zone {
        Zone::Normal => "normal: strong enough for a compass",
        Zone::Caution => "caution zone: expect large errors",
        Zone::Blackout => "blackout zone: do not trust a compass",
    }
}
