//! On which side of each feature an item lies: read from its facts, since nothing else of a problem is stored.
//!
//! A fact that is not there leaves the item without that side. `tests/evenings/patterns.rs` holds these readings against the problems of
//! every skill.

use super::{AnsweredItem, Applied, Feature};
use crate::angle::{Angle, Declination, North};
use crate::problem::{FactName, Facts, Level, NOT_WRAPPED, Wanted};

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
pub(super) fn read(items: &[AnsweredItem<'_>]) -> Vec<Reading> {
    let facts: Vec<Facts> = items.iter().map(|item| Facts::read(item.facts)).collect();
    // Where the sum cannot be made from the facts: of a form of problem in which a number can be left unwrapped at all,
    // those pass north that expose it. Where a dial is to be set the number leaves the circle exactly when the letter is
    // east, and the letter says it better.
    let forms: Vec<&Wanted> = items
        .iter()
        .zip(&facts)
        .filter(|(item, _)| exposes_not_wrapped(item))
        .filter_map(|(_, facts)| facts.wanted())
        .filter(|form| **form != Wanted::Dial)
        .collect();
    items.iter().zip(&facts).map(|(item, facts)| reading(item, facts, &forms)).collect()
}

fn exposes_not_wrapped(item: &AnsweredItem<'_>) -> bool {
    item.exposed.iter().any(|id| id == NOT_WRAPPED.id.as_str())
}

fn reading(item: &AnsweredItem<'_>, facts: &Facts, forms: &[&Wanted]) -> Reading {
    let angle = angle(facts);
    let half = in_west_half(facts);
    let by_form = || {
        let form = facts.wanted().filter(|form| half.is_none() && forms.contains(form));
        form.map(|_| exposes_not_wrapped(item))
    };
    let mut reading = Reading { applied: angle.map(|(applied, _)| applied), ..Reading::default() };
    for feature in Feature::ALL {
        reading.sides[feature as usize] = match feature {
            Feature::Letter => angle.map(|(_, east)| east > Angle::ZERO),
            Feature::Way => to_compass(facts),
            Feature::Wrap => passes_north(facts, angle).or_else(by_form),
            Feature::Half => half,
            Feature::Work => (!facts.is_empty()).then(|| facts.angle(&FactName::StartDial).is_some()),
            Feature::Level => Some(item.level >= Level::THREE),
        };
    }
    reading
}

/// The angle between two norths that the work is about, east positive; none where there is none or it is 0.
fn angle(facts: &Facts) -> Option<(Applied, Angle)> {
    let found = if let Some(prongs) = facts.prongs() {
        asked_of_prongs(prongs, facts.wanted()?)
    } else if facts.angle(&FactName::WalkedBearing).is_some() {
        // A back sight is taken by the needle alone; its declination only places the marks.
        None
    } else if let Some(given) = facts.grid_magnetic().filter(|_| by_grid_north(facts) || facts.declination().is_none())
    {
        Some((Applied::GridMagnetic, given.angle()))
    } else if let Some(declination) = facts.declination() {
        match facts.convergence().filter(|_| by_grid_north(facts)) {
            Some(convergence) => Some((Applied::GridMagnetic, declination.then(convergence.inverse()).angle())),
            None => Some((Applied::Declination, declination.angle())),
        }
    } else {
        printed(facts)
    };
    found.filter(|(_, east)| *east != Angle::ZERO)
}

/// Whether the map's north is grid north.
fn by_grid_north(facts: &Facts) -> bool {
    facts.angle(&FactName::GridBearing).is_some()
        || [FactName::WantedNorth, FactName::Line, FactName::North]
            .iter()
            .any(|name| facts.north(name) == Some(North::Grid))
}

/// A declination that is printed and must be brought up to date: where the dial is to be set this year's, else as printed.
fn printed(facts: &Facts) -> Option<(Applied, Angle)> {
    let printed = facts.angle(&FactName::PrintedDeclination)?;
    if facts.wanted() != Some(&Wanted::Dial) {
        return Some((Applied::OldDeclination, printed));
    }
    let years = facts.number(&FactName::ThisYear)? - facts.number(&FactName::PrintedYear)?;
    let change = Angle::from_minutes(years * facts.number(&FactName::AnnualChange)?);
    Some((Applied::Declination, Declination::from_angle(printed + change).angle()))
}

/// Whether a conversion goes to the compass.
fn to_compass(facts: &Facts) -> Option<bool> {
    facts.north(&FactName::WantedNorth).map(|north| north == North::Magnetic)
}

/// Whether the right sum of a conversion leaves the circle.
fn passes_north(facts: &Facts, angle: Option<(Applied, Angle)>) -> Option<bool> {
    let (_, east) = angle?;
    let sum = if to_compass(facts)? {
        facts.angle(&FactName::TrueBearing).or_else(|| facts.angle(&FactName::GridBearing))? - east
    } else {
        facts.angle(&FactName::MagneticBearing)? + east
    };
    Some(sum != sum.wrapped())
}

/// Whether a bearing that is turned back lies in the west half; 180 does, since half a circle more reaches north.
fn in_west_half(facts: &Facts) -> Option<bool> {
    let (degrees, mils) = match facts.wanted()? {
        Wanted::BackBearing => (FactName::Bearing, FactName::BearingMils),
        Wanted::BackBearingOfFirstLeg => (FactName::FirstLegBearing, FactName::FirstLegBearingMils),
        Wanted::BackBearingOfSecondLeg => (FactName::SecondLegBearing, FactName::SecondLegBearingMils),
        _ => return None,
    };
    let half = Angle::from_degrees(180.0);
    let by_mils = || facts.number(&mils).map(|mils| mils >= 3200.0);
    facts.angle(&degrees).map(|bearing| bearing >= half).or_else(by_mils)
}

/// The angle that is asked of a declination diagram, one degree to its side, from its prongs as they stand clockwise.
fn asked_of_prongs(prongs: &[North], wanted: &Wanted) -> Option<(Applied, Angle)> {
    let (applied, from, to) = match wanted {
        Wanted::Declination => (Applied::Declination, North::True, North::Magnetic),
        Wanted::GridMagnetic => (Applied::GridMagnetic, North::Grid, North::Magnetic),
        Wanted::Convergence => (Applied::Convergence, North::True, North::Grid),
        _ => return None,
    };
    let place = |wanted| prongs.iter().position(|prong| *prong == wanted);
    let east = Angle::from_degrees(1.0);
    Some((applied, if place(from)? < place(to)? { east } else { -east }))
}
