//! The leader's own map beside the model.

use super::{Norths, change_words};
use crate::angle::{Angle, Convergence, Declination, declination_words, degrees_minutes};
use crate::config::{Config, OwnMap};
use jiff::civil::Date;
use std::fmt::Write;

/// Half a degree: more than this apart is pointed out.
pub(super) const POINTED_OUT: Angle = Angle::from_minutes(30.0);
/// From this age on a current value is wanted (over 15 years: USGS), and from this on the diagram may be unreliable
/// (over 20 years: TC 3-25.26).
pub(super) const OLD_YEARS: f64 = 15.0;
const VERY_OLD_YEARS: f64 = 20.0;

/// The own map's declination on a day: the printed one, or the printed G-M angle and the convergence together.
pub(super) fn declination(map: &OwnMap, convergence: Option<Convergence>, day: Date) -> Option<Declination> {
    map.declination_on(day).or_else(|| Some(map.grid_magnetic_on(day)?.then(convergence?)))
}

/// What the map prints, what that is today, how it compares.
pub(super) fn lines(config: &Config, norths: Norths, day: Date) -> Vec<String> {
    let map = &config.map;
    let mut lines = Vec::new();
    if map.is_blank() {
        return lines;
    }
    let model = norths.field.map(|field| field.declination());
    let grid_magnetic = model.zip(norths.convergence).map(|(model, convergence)| model.then(convergence.inverse()));
    let here = config.home.place.is_some();
    for (what, printed, today, model) in [
        (
            "declination",
            map.declination.map(|printed| printed.angle()),
            map.declination_on(day).map(|today| today.angle()),
            model.map(|model| model.angle()),
        ),
        (
            "G-M angle",
            map.grid_magnetic.map(|printed| printed.angle()),
            map.grid_magnetic_on(day).map(|today| today.angle()),
            grid_magnetic.map(|model| model.angle()),
        ),
    ] {
        let Some((printed, today)) = printed.zip(today) else { continue };
        lines.push(printed_words(map, what, printed, today, day));
        if let Some(model) = model.filter(|_| here) {
            lines.push(compared(map, what, today, model, day));
        }
    }
    if !here {
        lines.push("Set the place of your ground, too: then your map is compared with the magnetic model.".to_owned());
    }
    lines.extend(age(map, day));
    lines
}

/// `Your map prints a declination of 3°30′ W for 2019, changing 9′ east a year: 2°27′ W on 2026-11-25.`
fn printed_words(map: &OwnMap, what: &str, printed: Angle, today: Angle, day: Date) -> String {
    let mut line = format!("Your map prints a {what} of {}", declination_words(printed));
    if let Some(date) = map.date {
        let _ = write!(line, " for {date}");
    }
    if let Some(change) = map.annual_change {
        let _ = write!(line, ", changing {}", change_words(change));
    }
    if map.change_until(day).is_some() {
        let _ = write!(line, ": {} on {day}", declination_words(today));
    }
    line.push('.');
    line
}

fn compared(map: &OwnMap, what: &str, today: Angle, model: Angle, day: Date) -> String {
    let apart = (today - model).wrapped_half().abs();
    let model = declination_words(model);
    let size = degrees_minutes(apart);
    if apart <= POINTED_OUT {
        return format!("The model's {what} on {day} is {model}. They agree within half a degree ({size}).");
    }
    let printed = map.date.map_or_else(|| "the map has no date".to_owned(), |date| format!("the map is of {date}"));
    format!(
        "The model's {what} on {day} is {model}: {size} apart, more than half a degree ({printed}). Look whether the map's numbers are copied right, and check your compass against a known line before you trust either."
    )
}

/// How old its numbers are, in years; none without their date.
pub(super) fn age_years(map: &OwnMap, day: Date) -> Option<f64> {
    Some(map.date?.years_to(day))
}

fn age(map: &OwnMap, day: Date) -> Option<String> {
    let years = age_years(map, day)?;
    let whole = years.floor();
    if years > VERY_OLD_YEARS {
        Some(format!(
            "The map's numbers are {whole} years old. A diagram over 20 years old may be unreliable: get a current value."
        ))
    } else if years > OLD_YEARS {
        Some(format!("The map's numbers are {whole} years old: get a current value."))
    } else {
        None
    }
}
