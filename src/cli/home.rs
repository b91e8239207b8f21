//! `needlewise home`: showing and setting home ground and the own map's numbers.

use super::args::{Format, FormatArgs, HomeArgs, HomeCommand, HomeSetArgs};
use super::context::{Context, Whereabouts};
use super::fault::Fault;
use super::north::Norths;
use super::page::{MAP_WINS, OWN_GROUND, Page, VALUE_COLUMN};
use super::settings::Settings;
use crate::angle::{Angle, Declination, GridMagnetic, North};
use crate::config::{
    Config, ValueError, read_annual_change, read_height, read_lines, read_name, read_printed_angle, read_year,
};
use crate::session::{DayRules, GroundCard, invented_words};
use serde::Serialize;
use std::io::Write;

/// Runs the command.
pub(super) fn run(context: &Context, args: HomeArgs) -> Result<(), Fault> {
    match args.command {
        HomeCommand::Show(args) => show(context, &args),
        HomeCommand::Set(args) => set(context, &args),
    }
}

fn show(context: &Context, args: &FormatArgs) -> Result<(), Fault> {
    if context.at.is_some() {
        return Err(Fault::Input(
            "home show shows the ground that is set; `needlewise north --at PLACE` asks for another place, `needlewise home set --at PLACE` sets one"
                .to_owned(),
        ));
    }
    let settings = context.settings()?;
    let config = settings.load()?;
    let mut out = std::io::stdout().lock();
    match args.format {
        Format::Text => out.write_all(text(context, &config, &settings.card(&config)).as_bytes())?,
        Format::Json => writeln!(out, "{}", super::fault::clean_json(&json(context, &settings, &config)?))?,
    }
    Ok(())
}

fn set(context: &Context, args: &HomeSetArgs) -> Result<(), Fault> {
    let settings = context.settings()?;
    let old = settings.load()?;
    let new = changed(&old, context, args)?;
    if new == old && !gives_anything(context, args) {
        return Err(Fault::Input(
            "nothing was given to set: --at PLACE sets the place, --name, --height and --lines say more about it, --printed-… what your map prints"
                .to_owned(),
        ));
    }
    new.save(settings.path())?;
    let mut page = Page::default();
    page.line(&format!("Written to {}.", settings.words()));
    if let (Some(name), None) = (&new.home.name, &args.name)
        && old.home.place.is_some()
        && old.home.place != new.home.place
    {
        page.paragraph(&format!("It is still called {name}; --name gives it another name."));
    }
    page.line("");
    page.0.push_str(&text(context, &new, &settings.card(&new)));
    Ok(std::io::stdout().lock().write_all(page.0.as_bytes())?)
}

fn gives_anything(context: &Context, args: &HomeSetArgs) -> bool {
    context.at.is_some()
        || args.name.is_some()
        || args.height.is_some()
        || !args.lines.is_empty()
        || args.printed_declination.is_some()
        || args.printed_gma.is_some()
        || args.printed_year.is_some()
        || args.printed_change.is_some()
}

/// The settings with what was given; every value is checked before anything is written.
fn changed(old: &Config, context: &Context, args: &HomeSetArgs) -> Result<Config, Fault> {
    let mut new = old.clone();
    if let Some(place) = context.place_asked()? {
        new.home.place = Some(place);
    }
    if let Some(name) = &args.name {
        new.home.name = Some(read_name(name).map_err(said("--name"))?);
    }
    if let Some(height) = args.height {
        new.home.height_m = Some(read_height(height).map_err(said("--height"))?);
    }
    if !args.lines.is_empty() {
        new.home.lines = Some(read_lines(args.lines.iter().map(String::as_str)).map_err(said("--lines"))?);
    }
    if let Some(text) = &args.printed_declination {
        let angle = unless_none(text, read_printed_angle).map_err(said("--printed-declination"))?;
        new.map.declination = angle.map(Declination::from_angle);
    }
    if let Some(text) = &args.printed_gma {
        let angle = unless_none(text, read_printed_angle).map_err(said("--printed-gma"))?;
        new.map.grid_magnetic = angle.map(GridMagnetic::from_angle);
    }
    if let Some(year) = args.printed_year {
        new.map.date = Some(read_year(i64::from(year)).map_err(said("--printed-year"))?);
    }
    if let Some(text) = &args.printed_change {
        new.map.annual_change = unless_none(text, read_annual_change).map_err(said("--printed-change"))?;
    }
    Ok(new)
}

/// `none` takes a printed number away again.
fn unless_none<T>(text: &str, read: impl Fn(&str) -> Result<T, ValueError>) -> Result<Option<T>, ValueError> {
    if text.trim().eq_ignore_ascii_case("none") { Ok(None) } else { read(text).map(Some) }
}

fn said(option: &'static str) -> impl Fn(ValueError) -> Fault {
    move |error| Fault::Input(format!("{option}: {error}"))
}

fn text(context: &Context, config: &Config, card: &GroundCard) -> String {
    let ground = config.ground();
    let mut page = Page::default();
    page.line(&ground.name);
    page.row("Place", &card.place, "");
    page.row("Height", &format!("{} m", ground.height_m), "");
    let lines = match &config.home.lines {
        Some(_) => line_words(&ground.lines),
        None => "not set, so any (set them with --lines magnetic)".to_owned(),
    };
    page.row("Lines on the maps", &lines, "");
    page.row(&format!("On {}", card.day), "", "");
    page.row("  Declination", &card.declination, "");
    for (name, value) in [
        ("  Changes by", &card.change),
        ("  Grid convergence", &card.convergence),
        ("  G-M angle", &card.grid_magnetic),
    ] {
        if let Some(value) = value {
            page.row(name, value, "");
        }
    }
    page.row("File", &card.file, "");
    if let Ok(records) = context.store_path() {
        let note = if records.exists() { "" } else { " (nothing yet)" };
        page.row("Records", &format!("{}{note}", super::fault::clean(&records.display().to_string())), "");
    }
    page.line("");
    let rules = DayRules::new(config, context.day);
    for rule in &rules.rules {
        let lines = rule.lines.word();
        page.hanging(&format!("{}{} lines", lines[..1].to_uppercase(), &lines[1..]), VALUE_COLUMN, &rule.words);
    }
    page.line("");
    for line in card.cautions.iter().chain(&card.own_map).chain(&rules.which) {
        page.paragraph(line);
    }
    if ground.invented {
        page.paragraph(&invented_words(OWN_GROUND));
    }
    page.paragraph(MAP_WINS);
    page.0
}

fn line_words(lines: &[North]) -> String {
    lines.iter().map(|line| line.word()).collect::<Vec<_>>().join(", ")
}

/// The object of `home show --format json`; the keys are stable. Angles of the day are null where the model or the grid
/// does not reach; what is added from map to compass is null for lines that the maps lack; printed numbers are null where the map has none.
#[derive(Serialize)]
struct Line {
    name: String,
    invented: bool,
    place: Option<String>,
    lat_deg: f64,
    lon_deg: f64,
    height_m: f64,
    lines: Vec<&'static str>,
    date: String,
    declination_deg: Option<f64>,
    annual_change_deg: Option<f64>,
    zone: Option<&'static str>,
    convergence_deg: Option<f64>,
    grid_magnetic_deg: Option<f64>,
    map_to_compass_true_deg: Option<i32>,
    map_to_compass_grid_deg: Option<i32>,
    utm: Option<String>,
    mgrs: Option<String>,
    printed_declination_deg: Option<f64>,
    printed_grid_magnetic_deg: Option<f64>,
    printed_date: Option<String>,
    printed_annual_change_deg: Option<f64>,
    file: String,
    file_exists: bool,
    records: Option<String>,
}

fn json(context: &Context, settings: &Settings, config: &Config) -> Result<String, Fault> {
    let ground = config.ground();
    let at = Whereabouts { place: ground.place, height_m: ground.height_m, home: None };
    // The grid is there whatever the day is; the model is not.
    let utm = crate::ground::Utm::from_place(ground.place).ok();
    let norths = Norths::of(at, context.day).ok();
    let degrees = |angle: Angle| angle.degrees();
    let rules = DayRules::new(config, context.day).rules;
    let add = |lines: North| rules.iter().find(|rule| rule.lines == lines).map(|rule| rule.add_deg);
    let line = Line {
        name: ground.name,
        invented: ground.invented,
        place: config.home.place.as_ref().map(|place| place.text().to_owned()),
        lat_deg: ground.place.latitude.degrees(),
        lon_deg: ground.place.longitude.degrees(),
        height_m: ground.height_m,
        lines: ground.lines.iter().map(|line| line.word()).collect(),
        date: context.day.to_string(),
        declination_deg: norths.as_ref().map(|norths| degrees(norths.declination().angle())),
        annual_change_deg: norths.as_ref().map(|norths| degrees(norths.field.annual_change().angle())),
        zone: norths.as_ref().map(|norths| norths.field.zone().word()),
        convergence_deg: utm.map(|utm| degrees(utm.convergence().angle())),
        grid_magnetic_deg: norths.as_ref().and_then(Norths::grid_magnetic).map(|known| degrees(known.angle())),
        map_to_compass_true_deg: add(North::True),
        map_to_compass_grid_deg: add(North::Grid),
        utm: utm.map(|utm| utm.to_string()),
        mgrs: crate::ground::Mgrs::from_place(ground.place, crate::ground::Precision::M1)
            .ok()
            .map(|mgrs| mgrs.to_string()),
        printed_declination_deg: config.map.declination.map(|known| degrees(known.angle())),
        printed_grid_magnetic_deg: config.map.grid_magnetic.map(|known| degrees(known.angle())),
        printed_date: config.map.date.map(|date| date.to_string()),
        printed_annual_change_deg: config.map.annual_change.map(|known| degrees(known.angle())),
        file: settings.path().display().to_string(),
        file_exists: settings.path().exists(),
        records: context.store_path().ok().map(|records| records.display().to_string()),
    };
    serde_json::to_string(&line).map_err(|error| Fault::Could(error.to_string()))
}
