//! From the text of the file to what it says.

use super::fault::{Fault, FaultKind};
use super::key::{Key, Table, nearest};
use super::value::{
    read_annual_change, read_day, read_height, read_line, read_name, read_printed_angle, read_theme, read_year, shown,
};
use super::{Config, HomePlace, MapDate, ValueError};
use crate::angle::{Declination, GridMagnetic, North};
use std::ops::Range;
use toml_edit::{Document, Item, TableLike, TomlError, Value};

/// So many faults are listed at most.
const MOST_FAULTS: usize = 8;

/// Reads the text. All faults are found at once, in the order of the file.
pub(super) fn read(text: &str) -> Result<Config, Vec<Fault>> {
    let document = Document::parse(text).map_err(|error| vec![syntax(text, &error)])?;
    let mut reader = Reader::default();
    for (name, item) in document.as_table().iter() {
        let span = document.as_table().key(name).and_then(|key| key.span()).unwrap_or_default();
        reader.table(name, span, item);
    }
    let mut faults = reader.faults;
    if faults.is_empty() {
        return Ok(reader.config);
    }
    faults.sort_by_key(|fault| fault.span.start);
    if let Some(first_left_out) = faults.get(MOST_FAULTS) {
        let more = Fault { kind: FaultKind::More(faults.len() - MOST_FAULTS), span: first_left_out.span.clone() };
        faults.truncate(MOST_FAULTS);
        faults.push(more);
    }
    Err(faults)
}

#[derive(Default)]
struct Reader {
    config: Config,
    faults: Vec<Fault>,
}

impl Reader {
    fn fault(&mut self, span: Range<usize>, kind: FaultKind) {
        self.faults.push(Fault { kind, span });
    }

    fn table(&mut self, name: &str, span: Range<usize>, item: &Item) {
        let known = Table::ALL.into_iter().find(|table| table.word() == name);
        match (known, item.as_table_like()) {
            (Some(table), Some(entries)) => self.keys(table, entries),
            (Some(table), None) => self.fault(span, FaultKind::NotATable(table)),
            (None, entries) => {
                let misplaced = Key::ALL.into_iter().find(|key| key.word() == name && entries.is_none());
                let kind = misplaced.map(FaultKind::Misplaced).unwrap_or_else(|| FaultKind::UnknownTable {
                    found: shown(name),
                    nearest: nearest(name, Table::ALL.into_iter().map(Table::word)),
                });
                self.fault(span, kind);
            }
        }
    }

    fn keys(&mut self, table: Table, entries: &dyn TableLike) {
        for (name, item) in entries.iter() {
            let span = entries.key(name).and_then(|key| key.span()).unwrap_or_default();
            match Key::ALL.into_iter().find(|key| key.word() == name) {
                Some(key) if key.table() == table => self.value(key, span, item),
                Some(key) => self.fault(span, FaultKind::Misplaced(key)),
                None => {
                    let nearest = nearest(name, table.keys().map(Key::word));
                    self.fault(span, FaultKind::UnknownKey { table, found: shown(name), nearest });
                }
            }
        }
    }

    fn value(&mut self, key: Key, key_span: Range<usize>, item: &Item) {
        let span = item.span().unwrap_or(key_span.clone());
        let Some(value) = item.as_value() else {
            self.fault(span, FaultKind::WrongType { key, found: "a table" });
            return;
        };
        match self.set(key, key_span, value) {
            Ok(()) => {}
            Err(Bad::Type) => self.fault(span, FaultKind::WrongType { key, found: kind_of(value) }),
            Err(Bad::Value(error)) => self.fault(span, FaultKind::Value { key, error }),
            Err(Bad::Line(at, error)) => self.fault(at.unwrap_or(span), FaultKind::Value { key, error }),
        }
    }

    fn set(&mut self, key: Key, key_span: Range<usize>, value: &Value) -> Result<(), Bad> {
        let text = || value.as_str().ok_or(Bad::Type);
        let Config { home, map, screen } = &mut self.config;
        match key {
            Key::Name => home.name = Some(read_name(text()?)?),
            Key::Place => home.place = Some(HomePlace::read(text()?).map_err(ValueError::from)?),
            Key::HeightM => home.height_m = Some(read_height(number(value).ok_or(Bad::Type)?)?),
            Key::Lines => home.lines = Some(lines(value)?),
            Key::Declination => map.declination = Some(Declination::from_angle(read_printed_angle(text()?)?)),
            Key::GmAngle => map.grid_magnetic = Some(GridMagnetic::from_angle(read_printed_angle(text()?)?)),
            Key::AnnualChange => map.annual_change = Some(read_annual_change(text()?)?),
            Key::Year => {
                let year = read_year(value.as_integer().ok_or(Bad::Type)?)?;
                self.date(key_span, year);
            }
            Key::Date => {
                let day = match (value, value.as_datetime()) {
                    (Value::String(text), _) => text.value().clone(),
                    (_, Some(day)) => day.to_string(),
                    _ => return Err(Bad::Type),
                };
                let day = read_day(&day)?;
                self.date(key_span, day);
            }
            // `theme = 16` is an easy slip and can mean nothing else.
            Key::Theme => {
                let number = value.as_integer().map(|number| number.to_string());
                screen.theme = Some(read_theme(number.as_deref().or(value.as_str()).ok_or(Bad::Type)?)?);
            }
        }
        Ok(())
    }

    fn date(&mut self, key_span: Range<usize>, date: MapDate) {
        if self.config.map.date.replace(date).is_some() {
            self.fault(key_span, FaultKind::YearAndDate);
        }
    }
}

/// Why a value was not taken.
enum Bad {
    Type,
    Value(ValueError),
    /// One entry of a list.
    Line(Option<Range<usize>>, ValueError),
}

impl From<ValueError> for Bad {
    fn from(error: ValueError) -> Bad {
        Bad::Value(error)
    }
}

fn number(value: &Value) -> Option<f64> {
    // A whole number of metres within the range is exact as a float.
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64))
}

fn lines(value: &Value) -> Result<Vec<North>, Bad> {
    let list = value.as_array().ok_or(Bad::Type)?;
    let mut names = Vec::with_capacity(list.len());
    for entry in list {
        let name = entry.as_str().ok_or(Bad::Type)?;
        read_line(name).map_err(|error| Bad::Line(entry.span(), error))?;
        names.push(name);
    }
    Ok(super::value::read_lines(names)?)
}

const fn kind_of(value: &Value) -> &'static str {
    match value {
        Value::String(_) => "a text",
        Value::Integer(_) | Value::Float(_) => "a number",
        Value::Boolean(_) => "true or false",
        Value::Datetime(_) => "a day or a time",
        Value::Array(_) => "a list with something else in it",
        Value::InlineTable(_) => "a table",
    }
}

/// The reader of TOML only says where to look; the commonest slips are read off the line itself.
fn syntax(text: &str, error: &TomlError) -> Fault {
    let span = error.span().unwrap_or_default();
    let (start, end) = (text.floor_char_boundary(span.start), text.floor_char_boundary(span.end));
    let line_start = text[..start].rfind('\n').map_or(0, |at| at + 1);
    let line = text[line_start..].lines().next().unwrap_or_default();
    let said = error.message().split(", expected").next().unwrap_or_default();
    if said.starts_with("duplicate key") {
        return Fault { kind: FaultKind::Twice, span: start..end.max(start) };
    }
    let fallback = Fault { kind: FaultKind::Syntax(shown(said)), span: start..end.max(start) };
    let Some((key, value)) = line.split_once('=') else { return fallback };
    let at = line_start + key.len() + 1 + (value.len() - value.trim_start().len());
    let value = value.trim();
    let bare = key.trim().chars().all(|c| c.is_ascii_alphanumeric() || c == '_');
    let kind = match value.chars().next() {
        Some('“' | '”' | '„' | '‘' | '’' | '«' | '»') => FaultKind::CurlyQuotes,
        Some(first) if bare && (first.is_alphanumeric() || first == '-') && !value.contains(['"', '\'', '#']) => {
            FaultKind::Unquoted { key: shown(key.trim()), value: shown(value) }
        }
        Some(mark @ ('"' | '\'')) if !value[1..].contains(mark) => FaultKind::Unclosed,
        _ => return fallback,
    };
    Fault { kind, span: at..at + value.len() }
}
