//! The reader of a course's file: all faults at once, each with its place.

mod people;

use super::fault::Fault;
use super::{Course, CourseError, FaultKind, GivenLeg, Going, Key, Point, Way};
use crate::angle::{Angle, Declination, GridMagnetic, North, read_bearing};
use crate::config::{
    MapDate, OwnMap, ValueError, read_annual_change, read_day, read_lines, read_printed_angle, read_year,
};
use crate::geomag::Model;
use crate::ground::{Place, geodesic};
use crate::textfile::{FileKey, LONGEST_NAME, Notes, Origin, Slip, Value, read_table, without_mark};
use jiff::civil::{Date, Time};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

const LONGEST_TITLE: usize = 60;
const LONGEST_NOTE: usize = 120;
const MOST_HAZARDS: usize = 10;
const MOST_LEGS: usize = 40;
/// Points that are nearer to each other are one place: nobody takes a bearing there.
const ONE_PLACE_M: f64 = 1.0;
const LONGEST_LEG_M: u32 = 100_000;
const HIGHEST_M: u32 = 9_000;

pub(super) fn read(text: &str, origin: Origin) -> Result<Course, CourseError> {
    if without_mark(text).trim().is_empty() {
        return Err(CourseError::Empty(origin));
    }
    let read = |table: &DeTable<'_>| {
        let mut reader = Reader { notes: Notes::default() };
        (reader.course(table), reader.notes)
    };
    read_table(text, &origin, read).map_err(CourseError::Faults)
}

/// What has a fault, which was told.
#[derive(Clone, Copy, Debug)]
struct Told;

/// Reads on after a fault. What has a fault is `None`.
struct Reader {
    notes: Notes<FaultKind>,
}

impl Reader {
    fn tell(&mut self, kind: impl Into<FaultKind>, span: Range<usize>) {
        self.notes.tell(Fault::at(kind, span));
    }

    fn course(&mut self, table: &DeTable<'_>) -> Option<Course> {
        self.notes.check_keys(table, &Key::TOP, Key::ALL);
        let title =
            self.wanted(table, Key::Title, None).and_then(|value| self.notes.text(Key::Title, value, LONGEST_TITLE));
        let date = self.optional(table, Key::Date, Self::day);
        let printed = self.printed(table);
        if let (Ok(Some(date)), Ok(None)) = (date, printed)
            && !(Model::FIRST..=Model::LAST).contains(&date)
            && let Some(value) = get(table, Key::Date)
        {
            self.tell(FaultKind::Date { date }, value.span());
        }
        let lines = self.optional(table, Key::Lines, Self::lines);
        let back_by = self.optional(table, Key::BackBy, Self::time);
        let call = self.optional(table, Key::Call, |reader, value| reader.notes.text(Key::Call, value, LONGEST_NOTE));
        let way = self.way(table);
        let members = self.members(table);
        let measured = self.measured(table, way.as_ref(), members.as_deref());
        Some(Course {
            title: title?,
            date: date.ok()?,
            printed: printed.ok()?,
            lines: lines.ok()?,
            way: way?,
            back_by: back_by.ok()?,
            call: call.ok()?,
            members: members?,
            measured: measured?,
        })
    }

    /// What may be left out.
    fn optional<T>(
        &mut self,
        table: &DeTable<'_>,
        key: Key,
        read: impl FnOnce(&mut Reader, &Value<'_>) -> Option<T>,
    ) -> Result<Option<T>, Told> {
        match get(table, key) {
            Some(value) => read(self, value).map(Some).ok_or(Told),
            None => Ok(None),
        }
    }

    /// A key that must be there; `around` is the table that lacks it, where it is one of several.
    fn wanted<'t, 'i>(
        &mut self,
        table: &'t DeTable<'i>,
        key: Key,
        around: Option<Range<usize>>,
    ) -> Option<&'t Value<'i>> {
        let value = get(table, key);
        if value.is_none() {
            self.notes.tell(Fault { kind: FaultKind::Missing(key), span: around, earlier: None });
        }
        value
    }

    /// What was read at this place, unless it cannot be used.
    fn usable<T, E: Into<ValueError>>(&mut self, key: Key, value: &Value<'_>, read: Result<T, E>) -> Option<T> {
        read.map_err(|error| self.tell(FaultKind::Value { key, error: error.into() }, value.span())).ok()
    }

    fn read_text<T, E: Into<ValueError>>(
        &mut self,
        key: Key,
        value: &Value<'_>,
        read: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        let text = self.notes.string(key, value)?;
        self.usable(key, value, read(text))
    }

    fn day(&mut self, value: &Value<'_>) -> Option<Date> {
        let read = match value.get_ref() {
            DeValue::String(day) => read_day(day),
            DeValue::Datetime(day) => read_day(&day.to_string()),
            _ => return self.notes.wrong_type(Key::Date, value),
        };
        match self.usable(Key::Date, value, read)? {
            MapDate::Day(day) => Some(day),
            MapDate::Year(_) => None,
        }
    }

    /// What the map prints; `None` asks the model.
    fn printed(&mut self, table: &DeTable<'_>) -> Result<Option<OwnMap>, Told> {
        let declination = self.optional(table, Key::Declination, |reader, value| {
            let text = reader.notes.string(Key::Declination, value)?;
            if text.trim().eq_ignore_ascii_case("model") {
                return Some(None);
            }
            reader.usable(Key::Declination, value, read_printed_angle(text)).map(Some)
        });
        let gm_angle = self
            .optional(table, Key::GmAngle, |reader, value| reader.read_text(Key::GmAngle, value, read_printed_angle));
        let year = self.optional(table, Key::Year, |reader, value| {
            let Some(written) = value.get_ref().as_integer() else { return reader.notes.wrong_type(Key::Year, value) };
            let year = i64::from_str_radix(written.as_str(), written.radix()).unwrap_or(i64::MAX);
            reader.usable(Key::Year, value, read_year(year))
        });
        let change = self.optional(table, Key::AnnualChange, |reader, value| {
            reader.read_text(Key::AnnualChange, value, read_annual_change)
        });
        let declination = declination?.flatten();
        let gm_angle = gm_angle?;
        let place = |key: Key| get(table, key).map(Spanned::span);
        if let (Some(_), Some(_), Some(first), Some(second)) =
            (declination, gm_angle, place(Key::Declination), place(Key::GmAngle))
        {
            let (first, second) = if first.start < second.start { (first, second) } else { (second, first) };
            self.notes.tell(Fault::after(FaultKind::TwoAngles, second, first));
            return Err(Told);
        }
        if declination.is_none() && gm_angle.is_none() {
            for key in [Key::Year, Key::AnnualChange] {
                if let Some(span) = place(key) {
                    self.tell(FaultKind::NothingPrinted(key), span);
                }
            }
            return Ok(None);
        }
        Ok(Some(OwnMap {
            declination: declination.map(Declination::from_angle),
            grid_magnetic: gm_angle.map(GridMagnetic::from_angle),
            date: year?,
            annual_change: change?,
        }))
    }

    fn lines(&mut self, value: &Value<'_>) -> Option<Vec<North>> {
        let Some(list) = value.get_ref().as_array() else { return self.notes.wrong_type(Key::Lines, value) };
        let mut names = Vec::with_capacity(list.len());
        for entry in list.iter() {
            names.push(self.notes.string(Key::Lines, entry)?);
        }
        self.usable(Key::Lines, value, read_lines(names))
    }

    /// A time of the day, as it was written.
    fn time(&mut self, value: &Value<'_>) -> Option<String> {
        let written = match value.get_ref() {
            DeValue::String(time) => time.trim().to_owned(),
            DeValue::Datetime(time) => time.to_string(),
            _ => return self.notes.wrong_type(Key::BackBy, value),
        };
        let read = written.parse::<Time>().or_else(|_| Time::strptime("%H:%M", &written));
        match read {
            Ok(time) => Some(time.strftime("%H:%M").to_string()),
            Err(_) => {
                self.tell(FaultKind::Time, value.span());
                None
            }
        }
    }

    /// The tables in double brackets of this key, each with its place; none where there are none.
    fn tables<'t, 'i>(
        &mut self,
        table: &'t DeTable<'i>,
        (key, first): (Key, Key),
        most: usize,
    ) -> Option<Vec<(&'t DeTable<'i>, Range<usize>)>> {
        let Some(value) = get(table, key) else { return Some(Vec::new()) };
        let tables = match value.get_ref() {
            DeValue::Array(tables) => tables,
            DeValue::Table(_) => {
                self.tell(Slip::SingleBrackets { table: key, first }, value.span());
                return None;
            }
            _ => return self.notes.wrong_type(key, value),
        };
        let mut found = Vec::with_capacity(tables.len());
        for value in tables.iter() {
            match value.get_ref().as_table() {
                Some(table) => found.push((table, value.span())),
                None => return self.notes.wrong_type(key, value),
            }
        }
        if let Some((_, span)) = found.get(most) {
            self.tell(FaultKind::TooMany { key, most }, span.clone());
            return None;
        }
        Some(found)
    }

    fn way(&mut self, table: &DeTable<'_>) -> Option<Way> {
        let points = self.tables(table, (Key::Point, Key::Place), MOST_LEGS);
        let legs = self.tables(table, (Key::Leg, Key::Bearing), MOST_LEGS);
        let round = self.optional(table, Key::Round, |reader, value| {
            value.get_ref().as_bool().or_else(|| reader.notes.wrong_type(Key::Round, value))
        });
        let start = self.optional(table, Key::Start, |reader, value| reader.place(Key::Start, value));
        let (points, legs) = (points?, legs?);
        match (points.first(), legs.first()) {
            (None, None) => {
                self.notes.tell(Fault::missing(FaultKind::NoCourse));
                None
            }
            (Some((_, one)), Some((_, other))) => {
                let (first, second) = if one.start < other.start { (one, other) } else { (other, one) };
                self.notes.tell(Fault::after(FaultKind::PointsAndLegs, second.clone(), first.clone()));
                None
            }
            (Some((_, span)), None) => {
                if let Some(start) = get(table, Key::Start) {
                    self.tell(FaultKind::StartAndPoints, start.span());
                }
                if points.len() == 1 {
                    self.tell(FaultKind::OnePoint, span.clone());
                }
                let points = self.points(&points, round.ok().flatten().unwrap_or(false))?;
                (points.len() > 1).then_some(Way::Points { points, round: round.ok()?.unwrap_or(false) })
            }
            (None, Some(_)) => {
                if let Some(round) = get(table, Key::Round) {
                    self.tell(FaultKind::RoundOfLegs, round.span());
                }
                let legs: Vec<Option<GivenLeg>> = legs.into_iter().map(|(leg, span)| self.leg(leg, &span)).collect();
                Some(Way::Legs { legs: legs.into_iter().collect::<Option<_>>()?, start: start.ok()? })
            }
        }
    }

    fn points(&mut self, tables: &[(&DeTable<'_>, Range<usize>)], round: bool) -> Option<Vec<Point>> {
        let mut points: Vec<(Point, Range<usize>)> = Vec::new();
        let mut whole = true;
        for (number, (table, span)) in (1..).zip(tables) {
            self.notes.check_keys(table, &Key::POINT, Key::ALL);
            let name = self.name(table, Key::Name).map(|name| name.unwrap_or_else(|| format!("point {number}")));
            let place = self.wanted(table, Key::Place, Some(span.clone()));
            let at = place.map(Spanned::span);
            let place = place.and_then(|value| self.place(Key::Place, value));
            let onward = self.going(table);
            match (name, place, onward, at) {
                (Ok(name), Some(place), Some(onward), Some(at)) => points.push((Point { name, place, onward }, at)),
                _ => whole = false,
            }
        }
        let ends = points.first().zip(points.last()).filter(|_| round && points.len() > 2);
        let pairs = points.array_windows().map(|[one, other]| (one, other)).chain(ends);
        let same: Vec<Fault> = pairs
            .filter(|((one, _), (other, _))| geodesic::inverse(one.place, other.place).distance_m < ONE_PLACE_M)
            .map(|((one, first), (other, second))| {
                let kind = FaultKind::OnePlace { first: one.name.clone(), second: other.name.clone() };
                Fault::after(kind, second.clone(), first.clone())
            })
            .collect();
        whole &= same.is_empty();
        same.into_iter().for_each(|fault| self.notes.tell(fault));
        whole.then(|| points.into_iter().map(|(point, _)| point).collect())
    }

    fn leg(&mut self, table: &DeTable<'_>, span: &Range<usize>) -> Option<GivenLeg> {
        self.notes.check_keys(table, &Key::LEG, Key::ALL);
        let to = self.name(table, Key::To);
        let bearing = self.wanted(table, Key::Bearing, Some(span.clone())).and_then(|value| self.bearing(value));
        let metres = self.wanted(table, Key::Metres, Some(span.clone()));
        let metres = metres.and_then(|value| self.amount(Key::Metres, value, 1, LONGEST_LEG_M));
        let going = self.going(table);
        let (bearing, north) = bearing?;
        Some(GivenLeg { to: to.ok()?, bearing, north, metres: metres?, going: going? })
    }

    fn going(&mut self, table: &DeTable<'_>) -> Option<Going> {
        let ascent_m =
            self.optional(table, Key::AscentM, |reader, value| reader.amount(Key::AscentM, value, 0, HIGHEST_M));
        let descent_m =
            self.optional(table, Key::DescentM, |reader, value| reader.amount(Key::DescentM, value, 0, HIGHEST_M));
        let hazards = self.optional(table, Key::Hazards, Self::hazards);
        Some(Going { ascent_m: ascent_m.ok()?, descent_m: descent_m.ok()?, hazards: hazards.ok()?.unwrap_or_default() })
    }

    /// A list of texts; one text alone will do.
    fn hazards(&mut self, value: &Value<'_>) -> Option<Vec<String>> {
        let key = Key::Hazards;
        let Some(list) = value.get_ref().as_array() else {
            return if value.get_ref().is_str() {
                self.notes.text(key, value, LONGEST_NOTE).map(|one| vec![one])
            } else {
                self.notes.wrong_type(key, value)
            };
        };
        if list.len() > MOST_HAZARDS {
            self.tell(FaultKind::TooMany { key, most: MOST_HAZARDS }, value.span());
            return None;
        }
        list.iter().map(|entry| self.notes.text(key, entry, LONGEST_NOTE)).collect()
    }

    /// A name that may be left out.
    fn name(&mut self, table: &DeTable<'_>, key: Key) -> Result<Option<String>, Told> {
        self.optional(table, key, |reader, value| reader.notes.text(key, value, LONGEST_NAME))
    }

    fn place(&mut self, key: Key, value: &Value<'_>) -> Option<Place> {
        self.read_text(key, value, Place::read)
    }

    fn amount(&mut self, key: Key, value: &Value<'_>, least: u32, most: u32) -> Option<f64> {
        let number = self.notes.number(key, value)?;
        if (f64::from(least)..=f64::from(most)).contains(&number) {
            return Some(number);
        }
        self.tell(FaultKind::Range { key, least, most }, value.span());
        None
    }

    /// A leg's bearing with its north.
    fn bearing(&mut self, value: &Value<'_>) -> Option<(Angle, North)> {
        let text = self.notes.string(Key::Bearing, value)?;
        let kind = match read_bearing(text) {
            Ok(typed) if !typed.is_on_the_circle() => FaultKind::NotOnCircle,
            Ok(typed) => match typed.north {
                Some(north) => return Some((typed.typed, north)),
                None => FaultKind::NoNorth,
            },
            Err(error) => FaultKind::Bearing { key: Key::Bearing, error },
        };
        self.tell(kind, value.span());
        None
    }
}

fn get<'t, 'i>(table: &'t DeTable<'i>, key: Key) -> Option<&'t Value<'i>> {
    table.get(key.word())
}
