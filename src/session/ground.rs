//! Home ground as screens show it, and as a practice needs it.

mod diagram;
mod own_map;
mod rules;
#[cfg(test)]
mod tests;

pub use diagram::prongs;
pub use rules::{DayRule, DayRules};

use super::plan::HomeGround;
use crate::angle::{Angle, Convergence, Declination, EastWest, North, minutes_words};
use crate::config::{Config, Ground};
use crate::geomag::{AnnualChange, Field, GeomagError, Model, Spot, Zone};
use crate::ground::{UTM_REACH, Utm};
use crate::problem::{HomeAngles, NorthLines, Prong};
use jiff::civil::Date;

/// Home ground on one day, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundCard {
    /// For the choice of problems.
    pub home: HomeGround,
    /// The day.
    pub day: Date,
    /// Where it is: UTM where there is one, latitude and longitude.
    pub place: String,
    /// The declination today, e.g. `9°36′ W`; what stands in for it when the model gives none.
    pub declination: String,
    /// The yearly change, e.g. `9′ east a year`.
    pub change: Option<String>,
    /// The convergence, e.g. `1°10′ W`.
    pub convergence: Option<String>,
    /// The G-M angle, e.g. `8°26′ W`.
    pub grid_magnetic: Option<String>,
    /// The declination diagram.
    pub prongs: Vec<Prong>,
    /// The magnetic zone, when a compass must not be trusted here; the model's limits, when the date lies outside.
    pub cautions: Vec<String>,
    /// What the leader's own map says, compared with today.
    pub own_map: Vec<String>,
    /// The file that holds it, and whether it exists.
    pub file: String,
}

/// The norths of a place on a day, from whatever source there is.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Norths {
    /// The model's field; none for a date outside it.
    field: Option<Field>,
    /// The model's declination, or the one printed on the own map brought to the day.
    declination: Option<Declination>,
    /// None outside UTM.
    convergence: Option<Convergence>,
}

impl GroundCard {
    /// The card for a day. `file` says in words which file holds the settings, as [`GroundCard::file`] shows it.
    ///
    /// The declination is the model's; for a date outside the model it is the one printed on the leader's map, brought
    /// to the day. Where neither gives one, or there is no UTM grid, or the compass cannot be trusted at all, there are no
    /// [`HomeGround::angles`] and problems take theirs from anywhere; a caution says so.
    #[must_use]
    pub fn new(config: &Config, file: &str, day: Date) -> GroundCard {
        let ground = config.ground();
        let norths = Norths::of(config, &ground, day);
        let angles = norths.angles();
        let utm = Utm::from_place(ground.place).ok();
        let place = format!("{:.4}", ground.place);
        let offset = |offset: Angle| crate::angle::declination_words(offset).to_string();
        GroundCard {
            day,
            place: utm.map_or_else(|| place.clone(), |utm| format!("{utm} ({place})")),
            declination: norths.declination.map_or_else(|| "not known".to_owned(), |known| known.to_string()),
            change: norths.change(config).map(change_words),
            convergence: norths.convergence.map(|known| known.to_string()),
            grid_magnetic: norths
                .declination
                .zip(norths.convergence)
                .map(|(declination, convergence)| offset(declination.then(convergence.inverse()).angle())),
            prongs: diagram::prongs(norths.declination, norths.convergence),
            cautions: norths.cautions(config, &ground, day),
            own_map: own_map::lines(config, norths, day),
            file: file.to_owned(),
            home: HomeGround {
                name: ground.name,
                angles,
                place: ground.place,
                invented: ground.invented,
                lines: ground.lines.into_iter().map(lines_of).collect(),
            },
        }
    }
}

impl Norths {
    fn of(config: &Config, ground: &Ground, day: Date) -> Norths {
        let convergence = Utm::from_place(ground.place).ok().map(|utm| utm.convergence());
        let field = field(ground, day).ok();
        // The own map is of the leader's ground, not of the invented island.
        let printed = || if ground.invented { None } else { own_map::declination(&config.map, convergence, day) };
        Norths { field, declination: field.map(|field| field.declination()).or_else(printed), convergence }
    }

    fn change(&self, config: &Config) -> Option<AnnualChange> {
        match self.field {
            Some(field) => Some(field.annual_change()),
            None => self.declination.and(config.map.annual_change),
        }
    }

    fn zone(&self) -> Zone {
        self.field.map_or(Zone::Normal, |field| field.zone())
    }

    /// For problems on home ground. Where a compass must not be trusted, no problem pretends that it can be.
    fn angles(&self) -> Option<HomeAngles> {
        let (declination, convergence) = self.declination.zip(self.convergence)?;
        (self.zone() != Zone::Blackout).then(|| HomeAngles::new(declination, convergence))
    }

    fn cautions(&self, config: &Config, ground: &Ground, day: Date) -> Vec<String> {
        let mut cautions = Vec::new();
        cautions.extend(self.zone().caution().map(str::to_owned));
        if self.field.is_none() {
            let outside = format!(
                "The magnetic model is made for the dates {} to {}, and {day} is outside.",
                Model::FIRST,
                Model::LAST
            );
            cautions.push(match self.declination {
                Some(declination) if config.map.change_until(day).is_some() => {
                    format!("{outside} Practice goes on with the declination printed on your map, brought to this day: {declination}.")
                }
                Some(declination) => {
                    format!("{outside} Practice goes on with the declination printed on your map: {declination}.")
                }
                None if ground.invented => {
                    format!("{outside} Practice goes on with invented declinations.")
                }
                None => format!(
                    "{outside} Practice goes on with invented declinations. To practise with your own, set the one printed on your map."
                ),
            });
        }
        if self.convergence.is_none() {
            cautions.push(format!(
                "There is no UTM grid here: it reaches from {UTM_REACH}. So there is no grid north to tell, and problems take their declinations from elsewhere."
            ));
        } else if self.zone() == Zone::Blackout {
            cautions.push("Problems take their declinations from elsewhere.".to_owned());
        }
        cautions
    }
}

/// The field on the ground.
fn field(ground: &Ground, day: Date) -> Result<Field, GeomagError> {
    let spot = Spot::new(ground.place.latitude.angle(), ground.place.longitude.angle(), ground.height_m)?;
    Model::wmm2025().field(spot, day)
}

const fn lines_of(north: North) -> NorthLines {
    match north {
        North::Magnetic => NorthLines::Magnetic,
        North::True => NorthLines::True,
        North::Grid => NorthLines::Grid,
    }
}

/// A yearly change in words, whole minutes: `9′ east a year`.
#[must_use]
pub fn change_words(change: AnnualChange) -> String {
    let minutes = change.angle().rounded_to(Angle::from_minutes(1.0));
    let size = minutes_words(minutes);
    EastWest::of(minutes).map_or_else(|| format!("{size} a year"), |side| format!("{size} {} a year", side.word()))
}
