//! On which side of each feature an item lies: read from its facts, since nothing else of a problem is stored.
//!
//! The names of facts are for ever, as codes are: stored attempts hold them. A fact that is not there leaves the item
//! without that side. `tests/patterns.rs` holds these readings against the problems of every skill.

use super::{Applied, Feature, Item};
use crate::angle::{Angle, EastWest};
use crate::problem::Level;
use serde_json::{Map, Value};

/// The mix-up that only items expose whose right sum leaves the circle.
const NOT_WRAPPED: &str = "not-wrapped";

/// The answers asked for at a dial that is to be set; there the number leaves the circle exactly when the letter is east,
/// and the letter says it better.
const DIAL: &str = "dial";

/// What one item's facts say.
#[derive(Clone, Debug, Default)]
pub(super) struct Reading {
    /// For each of [`Feature::ALL`]: whether the item lies on the first side, if it has a side.
    sides: [Option<bool>; Feature::ALL.len()],
    /// The angle whose letter is meant.
    pub applied: Option<Applied>,
}

impl Reading {
    /// Whether the item lies on the feature's first side; none where it has no side.
    pub fn first_side(&self, feature: Feature) -> Option<bool> {
        self.sides.get(feature as usize).copied().flatten()
    }
}

/// Reads all items of a skill.
pub(super) fn read(items: &[Item<'_>]) -> Vec<Reading> {
    let facts: Vec<Facts> = items.iter().map(|item| Facts::parse(item.facts)).collect();
    // Where the sum cannot be made from the facts: of a form of problem in which a number can be left unwrapped at all,
    // those pass north that expose it.
    let mut forms: Vec<&str> = items
        .iter()
        .zip(&facts)
        .filter(|(item, _)| exposes_not_wrapped(item))
        .filter_map(|(_, facts)| facts.word("wanted"))
        .filter(|form| *form != DIAL)
        .collect();
    forms.sort_unstable();
    forms.dedup();
    items.iter().zip(&facts).map(|(item, facts)| reading(item, facts, &forms)).collect()
}

fn exposes_not_wrapped(item: &Item<'_>) -> bool {
    item.exposed.iter().any(|id| id == NOT_WRAPPED)
}

fn reading(item: &Item<'_>, facts: &Facts, forms: &[&str]) -> Reading {
    let angle = facts.angle();
    let half = facts.in_west_half();
    let by_form = || {
        let form = facts.word("wanted").filter(|form| half.is_none() && forms.contains(form));
        form.map(|_| exposes_not_wrapped(item))
    };
    let mut reading = Reading { applied: angle.map(|(applied, _)| applied), ..Reading::default() };
    for feature in Feature::ALL {
        reading.sides[feature as usize] = match feature {
            Feature::Letter => angle.map(|(_, angle)| EastWest::of(angle) == Some(EastWest::East)),
            Feature::Way => facts.to_compass(),
            Feature::Wrap => facts.passes_north(angle).or_else(by_form),
            Feature::Half => half,
            Feature::Work => (!facts.0.is_empty()).then(|| facts.0.contains_key("start_dial_deg")),
            Feature::Level => Some(item.level >= Level::THREE),
        };
    }
    reading
}

/// The facts of a problem.
struct Facts(Map<String, Value>);

impl Facts {
    /// None at all where the text is no object.
    fn parse(text: &str) -> Facts {
        Facts(serde_json::from_str(text).unwrap_or_default())
    }

    fn number(&self, name: &str) -> Option<f64> {
        self.0.get(name).and_then(Value::as_f64)
    }

    fn word(&self, name: &str) -> Option<&str> {
        self.0.get(name).and_then(Value::as_str)
    }

    /// A fact in degrees.
    fn degrees(&self, name: &str) -> Option<Angle> {
        self.number(name).map(Angle::from_degrees)
    }

    /// The angle between two norths that the work is about, east positive; none where there is none or it is 0.
    fn angle(&self) -> Option<(Applied, Angle)> {
        let found = if let Some(prongs) = self.word("prongs_clockwise") {
            asked_of_prongs(prongs, self.word("wanted")?)
        } else if self.number("walked_magnetic_bearing_deg").is_some() {
            // A back sight is taken by the needle alone; its declination only places the marks.
            None
        } else if let Some(given) = self.degrees("grid_magnetic_deg") {
            Some((Applied::GridMagnetic, given))
        } else if let Some(declination) = self.degrees("declination_deg") {
            match self.degrees("convergence_deg").filter(|_| self.by_grid_north()) {
                Some(convergence) => Some((Applied::GridMagnetic, declination - convergence)),
                None => Some((Applied::Declination, declination)),
            }
        } else {
            self.printed()
        };
        found.filter(|(_, angle)| *angle != Angle::ZERO)
    }

    /// Whether the map's north is grid north.
    fn by_grid_north(&self) -> bool {
        self.number("grid_bearing_deg").is_some()
            || ["wanted_north", "line", "north"].iter().any(|name| self.word(name) == Some("grid"))
    }

    /// A declination that is printed and must be brought up to date: where the dial is to be set this year's, else as printed.
    fn printed(&self) -> Option<(Applied, Angle)> {
        let printed = self.degrees("printed_declination_deg")?;
        if self.word("wanted") != Some(DIAL) {
            return Some((Applied::OldDeclination, printed));
        }
        let years = self.number("this_year")? - self.number("printed_year")?;
        let change = Angle::from_minutes(self.number("annual_change_arcmin")?);
        Some((Applied::Declination, printed + change * years))
    }

    /// Whether a conversion goes to the compass.
    fn to_compass(&self) -> Option<bool> {
        self.word("wanted_north").map(|north| north == "magnetic")
    }

    /// Whether the right sum of a conversion leaves the circle.
    fn passes_north(&self, angle: Option<(Applied, Angle)>) -> Option<bool> {
        let (_, angle) = angle?;
        let sum = if self.to_compass()? {
            self.degrees("true_bearing_deg").or_else(|| self.degrees("grid_bearing_deg"))? - angle
        } else {
            self.degrees("magnetic_bearing_deg")? + angle
        };
        Some(sum != sum.wrapped())
    }

    /// Whether a bearing that is turned back lies in the west half; 180 does, since half a circle more reaches north.
    fn in_west_half(&self) -> Option<bool> {
        let names = match self.word("wanted")? {
            "back_bearing" => ["bearing_deg", "bearing_mil"],
            "back_bearing_of_first_leg" => ["first_leg_bearing_deg", "first_leg_bearing_mil"],
            "back_bearing_of_second_leg" => ["second_leg_bearing_deg", "second_leg_bearing_mil"],
            _ => return None,
        };
        let [degrees, mils] = names.map(|name| self.number(name));
        degrees.map(|degrees| degrees >= 180.0).or(mils.map(|mils| mils >= 3200.0))
    }
}

/// The angle that is asked of a declination diagram, ±1°, from the heads of its prongs as they stand clockwise.
fn asked_of_prongs(prongs: &str, wanted: &str) -> Option<(Applied, Angle)> {
    let (applied, from, to) = match wanted {
        "declination" => (Applied::Declination, "star", "MN"),
        "grid_magnetic" => (Applied::GridMagnetic, "GN", "MN"),
        "convergence" => (Applied::Convergence, "star", "GN"),
        _ => return None,
    };
    let place = |wanted| prongs.split(", ").position(|head| head == wanted);
    let east = Angle::from_degrees(1.0);
    Some((applied, if place(from)? < place(to)? { east } else { -east }))
}
