//! Facts: what a solver needs to know of a problem, typed.
//!
//! What lives here: every fact that some other part of the program understands, its type, and its name at the border (JSON and
//! records). Names are for ever, as codes are: stored attempts hold them. A fact that only the skill itself and a solver
//! understand is the skill's own, [`FactName::Own`].

use crate::angle::{Angle, Convergence, Declination, EastWest, GridMagnetic, North};
use serde::ser::{Serialize, SerializeMap, Serializer};
use std::borrow::Cow;

/// An enum of names that several parts of the program understand, with their texts at the border, and a skill's own beside
/// them. One list, so that no name can be forgotten in reading or writing.
macro_rules! names {
    ($(#[$about:meta])* $name:ident { $($(#[$doc:meta])* $variant:ident = $id:literal,)* } $(#[$own:meta])* own) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq, Eq)]
        pub enum $name {
            $($(#[$doc])* $variant,)*
            $(#[$own])*
            Own(Cow<'static, str>),
        }

        impl $name {
            /// The name at the border.
            #[must_use]
            pub fn id(&self) -> &str {
                match self {
                    $($name::$variant => $id,)*
                    $name::Own(id) => id,
                }
            }

            fn read(id: &str) -> $name {
                match id {
                    $($id => $name::$variant,)*
                    id => $name::Own(id.to_owned().into()),
                }
            }

            #[cfg(test)]
            const SHARED: &[$name] = &[$($name::$variant),*];
        }
    };
}

names! {
/// What a fact is about.
FactName {
    /// The declination, east positive.
    Declination = "declination_deg",
    /// The declination that a map prints, east positive.
    PrintedDeclination = "printed_declination_deg",
    /// The grid-magnetic angle, east positive.
    GridMagnetic = "grid_magnetic_deg",
    /// The grid-magnetic angle that a map prints, east positive.
    PrintedGridMagnetic = "printed_grid_magnetic_deg",
    /// The convergence, east positive.
    Convergence = "convergence_deg",
    /// A bearing that is given, from true north.
    TrueBearing = "true_bearing_deg",
    /// A bearing that is given, from grid north.
    GridBearing = "grid_bearing_deg",
    /// A bearing that is given, from magnetic north.
    MagneticBearing = "magnetic_bearing_deg",
    /// A bearing whose north is [`FactName::North`].
    Bearing = "bearing_deg",
    /// The same, of the first of two legs.
    FirstLegBearing = "first_leg_bearing_deg",
    /// The same, of the second.
    SecondLegBearing = "second_leg_bearing_deg",
    /// As [`FactName::Bearing`], in mils.
    BearingMils = "bearing_mil",
    /// As [`FactName::FirstLegBearing`], in mils.
    FirstLegBearingMils = "first_leg_bearing_mil",
    /// As [`FactName::SecondLegBearing`], in mils.
    SecondLegBearingMils = "second_leg_bearing_mil",
    /// The magnetic bearing that was walked.
    WalkedBearing = "walked_magnetic_bearing_deg",
    /// The yearly change of the declination in minutes of arc, east positive.
    AnnualChange = "annual_change_arcmin",
    /// The year of the printed declination.
    PrintedYear = "printed_year",
    /// The year in which the problem is set.
    ThisYear = "this_year",
    /// The number on the dial before the hands begin.
    StartDial = "start_dial_deg",
    /// The north that the answer counts from.
    WantedNorth = "wanted_north",
    /// The north of the line that is used.
    Line = "line",
    /// The north that bearings count from.
    North = "north",
    /// The prongs of a declination diagram, clockwise.
    Prongs = "prongs_clockwise",
    /// What is asked.
    Wanted = "wanted",
}
/// A fact of one skill, by its name at the border, snake_case with its unit.
own
}

names! {
/// What is asked, as far as other parts of the program tell it apart.
Wanted {
    /// A number to set on the dial.
    Dial = "dial",
    /// The declination.
    Declination = "declination",
    /// The grid-magnetic angle.
    GridMagnetic = "grid_magnetic",
    /// The convergence.
    Convergence = "convergence",
    /// The back bearing.
    BackBearing = "back_bearing",
    /// The back bearing of the first of two legs.
    BackBearingOfFirstLeg = "back_bearing_of_first_leg",
    /// The back bearing of the second.
    BackBearingOfSecondLeg = "back_bearing_of_second_leg",
}
/// Something that only its skill understands, by its name at the border.
own
}

impl Wanted {
    /// A skill's own.
    #[must_use]
    pub const fn own(id: &'static str) -> Wanted {
        Wanted::Own(Cow::Borrowed(id))
    }
}

/// The value of a fact.
#[derive(Clone, Debug, PartialEq)]
pub enum FactValue {
    /// An angle; clockwise or east positive; degrees at the border.
    Angle(Angle),
    /// A number in the unit of the name.
    Number(f64),
    /// A north.
    North(North),
    /// Norths, clockwise.
    Norths(Vec<North>),
    /// What is asked.
    Wanted(Wanted),
    /// Another word.
    Word(Cow<'static, str>),
}

/// Something that a solver needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// What it is about.
    pub name: FactName,
    /// Its value.
    pub value: FactValue,
}

impl Fact {
    /// An angle.
    #[must_use]
    pub const fn angle(name: FactName, angle: Angle) -> Fact {
        Fact { name, value: FactValue::Angle(angle) }
    }

    /// A number in the unit of the name.
    #[must_use]
    pub const fn number(name: FactName, number: f64) -> Fact {
        Fact { name, value: FactValue::Number(number) }
    }

    /// A north.
    #[must_use]
    pub const fn north(name: FactName, north: North) -> Fact {
        Fact { name, value: FactValue::North(north) }
    }

    /// What is asked.
    #[must_use]
    pub const fn wanted(wanted: Wanted) -> Fact {
        Fact { name: FactName::Wanted, value: FactValue::Wanted(wanted) }
    }

    /// An angle that only the skill understands; the name ends in `_deg`.
    #[must_use]
    pub const fn own_angle(name: &'static str, angle: Angle) -> Fact {
        Fact::angle(FactName::Own(Cow::Borrowed(name)), angle)
    }

    /// A number that only the skill understands, named with its unit.
    #[must_use]
    pub const fn own_number(name: &'static str, number: f64) -> Fact {
        Fact::number(FactName::Own(Cow::Borrowed(name)), number)
    }

    /// A word that only the skill understands.
    #[must_use]
    pub fn own_word(name: &'static str, word: impl Into<Cow<'static, str>>) -> Fact {
        Fact { name: FactName::Own(Cow::Borrowed(name)), value: FactValue::Word(word.into()) }
    }
}

/// All that a solver needs of one problem.
#[derive(Clone, Debug, Default)]
pub struct Facts(Vec<Fact>);

/// In whatever order they stand: a record does not keep it.
impl PartialEq for Facts {
    fn eq(&self, other: &Facts) -> bool {
        self.0.len() == other.0.len() && self.0.iter().all(|fact| other.get(&fact.name) == Some(&fact.value))
    }
}

impl From<Vec<Fact>> for Facts {
    fn from(facts: Vec<Fact>) -> Facts {
        Facts(facts)
    }
}

impl Facts {
    /// Reads what a record holds. None at all where the text is no object; a value of another type than its name's is left
    /// out, as if it were not there.
    #[must_use]
    pub fn read(text: &str) -> Facts {
        let object: serde_json::Map<String, serde_json::Value> = serde_json::from_str(text).unwrap_or_default();
        let facts = object.iter().filter_map(|(name, value)| {
            let name = FactName::read(name);
            let value = value_of(&name, value)?;
            Some(Fact { name, value })
        });
        Facts(facts.collect())
    }

    /// All of them, in the skill's order.
    pub fn iter(&self) -> impl Iterator<Item = &Fact> {
        self.0.iter()
    }

    /// Whether there are none.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// As a JSON object.
    #[must_use]
    pub fn json(&self) -> String {
        // Numbers are finite and names are text, so this cannot fail; an empty text would only lose a convenience copy.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// The value of a fact, if the problem has it.
    #[must_use]
    pub fn get(&self, name: &FactName) -> Option<&FactValue> {
        self.0.iter().find(|fact| fact.name == *name).map(|fact| &fact.value)
    }

    /// A fact that is an angle.
    #[must_use]
    pub fn angle(&self, name: &FactName) -> Option<Angle> {
        if let Some(FactValue::Angle(angle)) = self.get(name) { Some(*angle) } else { None }
    }

    /// A fact that is a number.
    #[must_use]
    pub fn number(&self, name: &FactName) -> Option<f64> {
        if let Some(FactValue::Number(number)) = self.get(name) { Some(*number) } else { None }
    }

    /// A fact that is a north.
    #[must_use]
    pub fn north(&self, name: &FactName) -> Option<North> {
        if let Some(FactValue::North(north)) = self.get(name) { Some(*north) } else { None }
    }

    /// What is asked.
    #[must_use]
    pub fn wanted(&self) -> Option<&Wanted> {
        if let Some(FactValue::Wanted(wanted)) = self.get(&FactName::Wanted) { Some(wanted) } else { None }
    }

    /// The prongs of its diagram, clockwise.
    #[must_use]
    pub fn prongs(&self) -> Option<&[North]> {
        if let Some(FactValue::Norths(prongs)) = self.get(&FactName::Prongs) { Some(prongs) } else { None }
    }

    /// The declination.
    #[must_use]
    pub fn declination(&self) -> Option<Declination> {
        self.angle(&FactName::Declination).map(Declination::from_angle)
    }

    /// The convergence.
    #[must_use]
    pub fn convergence(&self) -> Option<Convergence> {
        self.angle(&FactName::Convergence).map(Convergence::from_angle)
    }

    /// The grid-magnetic angle, where it is given as one number.
    #[must_use]
    pub fn grid_magnetic(&self) -> Option<GridMagnetic> {
        self.angle(&FactName::GridMagnetic).map(GridMagnetic::from_angle)
    }

    /// How far the needle points beside the map's north, east positive: where the map's line is a grid line the G-M angle, given
    /// or worked out; else the declination.
    #[must_use]
    pub fn correction(&self) -> Option<Angle> {
        let is_grid = |name| self.north(&name) == Some(North::Grid);
        let by_grid = [FactName::WantedNorth, FactName::Line, FactName::North].into_iter().any(is_grid)
            || self.angle(&FactName::GridBearing).is_some();
        let declination = self.declination();
        let worked_out = || Some(declination?.then(self.convergence()?.inverse())).filter(|_| by_grid);
        let given = self.grid_magnetic().filter(|_| by_grid || declination.is_none());
        given.or_else(worked_out).map(|gma| gma.angle()).or_else(|| declination.map(|angle| angle.angle()))
    }

    /// On which side of the map's north the needle points, by the first angle that says so; none where nothing says so or it
    /// points along it.
    #[must_use]
    pub fn needle_side(&self) -> Option<EastWest> {
        let sided = [FactName::PrintedDeclination, FactName::PrintedGridMagnetic];
        match self.correction().or_else(|| sided.iter().find_map(|name| self.angle(name))) {
            Some(angle) => EastWest::of(angle),
            // A diagram has no signed angle that decides: its prongs stand clockwise.
            None => {
                let place = |north| self.prongs()?.iter().position(|prong| *prong == north);
                let (needle, north) = (place(North::Magnetic)?, place(North::True).or_else(|| place(North::Grid))?);
                Some(if needle < north { EastWest::West } else { EastWest::East })
            }
        }
    }
}

/// What stands at the head of a prong, at the border.
const fn prong_id(north: North) -> &'static str {
    match north {
        North::True => "star",
        North::Grid | North::Magnetic => north.short(),
    }
}

fn value_of(name: &FactName, value: &serde_json::Value) -> Option<FactValue> {
    let north = |word: &str| North::ALL.into_iter().find(|north| north.word() == word);
    Some(match name {
        FactName::WantedNorth | FactName::Line | FactName::North => FactValue::North(north(value.as_str()?)?),
        FactName::Prongs => {
            let prong = |id| North::ALL.into_iter().find(|north| prong_id(*north) == id);
            FactValue::Norths(value.as_str()?.split(", ").map(prong).collect::<Option<_>>()?)
        }
        FactName::Wanted => FactValue::Wanted(Wanted::read(value.as_str()?)),
        FactName::AnnualChange
        | FactName::PrintedYear
        | FactName::ThisYear
        | FactName::BearingMils
        | FactName::FirstLegBearingMils
        | FactName::SecondLegBearingMils => FactValue::Number(value.as_f64()?),
        FactName::Own(name) => match value {
            serde_json::Value::Number(number) if name.ends_with("_deg") => {
                FactValue::Angle(Angle::from_degrees(number.as_f64()?))
            }
            serde_json::Value::Number(number) => FactValue::Number(number.as_f64()?),
            value => FactValue::Word(value.as_str()?.to_owned().into()),
        },
        _ => FactValue::Angle(Angle::from_degrees(value.as_f64()?)),
    })
}

/// An object: name → number or word.
impl Serialize for Facts {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for fact in &self.0 {
            let name = fact.name.id();
            match &fact.value {
                FactValue::Angle(angle) => map.serialize_entry(name, &angle.degrees())?,
                FactValue::Number(number) => map.serialize_entry(name, number)?,
                FactValue::North(north) => map.serialize_entry(name, north.word())?,
                FactValue::Norths(norths) => {
                    let ids: Vec<&str> = norths.iter().map(|north| prong_id(*north)).collect();
                    map.serialize_entry(name, &ids.join(", "))?;
                }
                FactValue::Wanted(wanted) => map.serialize_entry(name, wanted.id())?,
                FactValue::Word(word) => map.serialize_entry(name, word)?,
            }
        }
        map.end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn facts() -> Facts {
        Facts::from(vec![
            Fact::angle(FactName::Declination, Angle::from_degrees(-12.5)),
            Fact::number(FactName::ThisYear, 2031.0),
            Fact::north(FactName::WantedNorth, North::Magnetic),
            Fact { name: FactName::Prongs, value: FactValue::Norths(vec![North::Magnetic, North::True, North::Grid]) },
            Fact::wanted(Wanted::BackBearing),
            Fact::own_number("paces", 62.0),
            Fact::own_angle("off_deg", Angle::from_degrees(9.7)),
        ])
    }

    #[test]
    fn what_is_written_into_a_record_reads_back_typed() {
        let json = facts().json();
        assert_eq!(
            json,
            r#"{"declination_deg":-12.5,"this_year":2031.0,"wanted_north":"magnetic","prongs_clockwise":"MN, star, GN","wanted":"back_bearing","paces":62.0,"off_deg":9.7}"#
        );
        let read = Facts::read(&json);
        assert_eq!(read, facts());
    }

    #[test]
    fn a_value_of_another_type_is_as_if_it_were_not_there() {
        let read = Facts::read(r#"{"declination_deg":"twelve","wanted_north":"south","prongs_clockwise":"MN, moon"}"#);
        assert_eq!(read, Facts::default());
        assert_eq!(Facts::read("[1]"), Facts::default());
        assert_eq!(Facts::read("{"), Facts::default());
    }

    #[test]
    fn the_needle_points_to_the_side_that_an_angle_or_else_the_diagram_says() {
        assert_eq!(facts().needle_side(), Some(EastWest::West));
        let of = |text| Facts::read(text).needle_side();
        assert_eq!(of(r#"{"grid_magnetic_deg":-2,"declination_deg":3}"#), Some(EastWest::East));
        assert_eq!(of(r#"{"declination_deg":0}"#), None);
        assert_eq!(of(r#"{"prongs_clockwise":"GN, MN"}"#), Some(EastWest::East));
        assert_eq!(of(r#"{"prongs_clockwise":"GN, star"}"#), None);
    }

    #[test]
    fn every_shared_name_has_an_id_of_its_own() {
        for (at, name) in FactName::SHARED.iter().enumerate() {
            assert_eq!(FactName::read(name.id()), *name);
            assert!(FactName::SHARED[..at].iter().all(|other| other.id() != name.id()), "{}", name.id());
        }
        assert!(Wanted::SHARED.iter().all(|wanted| Wanted::read(wanted.id()) == *wanted));
    }
}
