//! From the text of the file to what it says.

use super::fault::FaultKind;
use super::key::{Key, Table};
use super::value::{
    read_annual_change, read_day, read_height, read_line, read_lines, read_printed_angle, read_theme, read_year,
};
use super::{Config, Faults, Home, HomePlace, MapDate, ValueError};
use crate::angle::{Declination, GridMagnetic};
use crate::textfile::{Fault, FileKey, Notes, Origin, Value, nearest, read_table, shown};
use std::ops::Range;
use toml::de::{DeTable, DeValue};

/// Reads the text. All faults are found at once, in the order of the file.
pub(super) fn read(text: &str, origin: &Origin) -> Result<Config, Faults> {
    read_table(text, origin, |table| {
        let mut reader = Reader::default();
        for (name, value) in table {
            reader.table(name.get_ref(), name.span(), value);
        }
        (Some(reader.config), reader.notes)
    })
}

#[derive(Default)]
struct Reader {
    config: Config,
    notes: Notes<FaultKind>,
}

impl Reader {
    fn table(&mut self, name: &str, span: Range<usize>, value: &Value<'_>) {
        let known = Table::ALL.into_iter().find(|table| table.word() == name);
        let entries = value.get_ref().as_table();
        let kind = match (known, entries) {
            (Some(table), Some(entries)) => return self.keys(table, entries),
            (Some(table), None) => FaultKind::NotATable(table),
            (None, None) if Key::find(name, Key::ALL).is_some() => {
                return self.notes.check_key(name, span, &[], Key::ALL);
            }
            (None, _) => FaultKind::UnknownTable {
                found: shown(name),
                nearest: nearest(name, Table::ALL.into_iter().map(Table::word)),
            },
        };
        self.notes.tell(Fault::at(kind, span));
    }

    fn keys(&mut self, table: Table, entries: &DeTable<'_>) {
        self.notes.check_keys(entries, table.keys(), Key::ALL);
        for key in table.keys() {
            if let Some(value) = entries.get(key.word()) {
                self.value(*key, value);
            }
        }
        let place = |key: Key| entries.get_key_value(key.word()).map(|(key, _)| key.span());
        if let (Some(year), Some(date)) = (place(Key::Year), place(Key::Date)) {
            let (first, second) = if year.start < date.start { (year, date) } else { (date, year) };
            self.notes.tell(Fault::after(FaultKind::YearAndDate, second, first));
        }
    }

    /// Takes a value over; what cannot be used is noted.
    fn value(&mut self, key: Key, value: &Value<'_>) -> Option<()> {
        match key {
            Key::Name => self.config.home.name = Some(self.notes.text(key, value, Home::LONGEST_NAME)?),
            Key::Place => self.config.home.place = Some(self.read(key, value, HomePlace::read)?),
            Key::HeightM => {
                let height = self.notes.number(key, value)?;
                self.config.home.height_m = Some(self.usable(key, value, read_height(height))?);
            }
            Key::Lines => {
                let names = self.names(key, value)?;
                self.config.home.lines = Some(self.usable(key, value, read_lines(names))?);
            }
            Key::Declination => {
                self.config.map.declination =
                    Some(Declination::from_angle(self.read(key, value, read_printed_angle)?));
            }
            Key::GmAngle => {
                self.config.map.grid_magnetic =
                    Some(GridMagnetic::from_angle(self.read(key, value, read_printed_angle)?));
            }
            Key::AnnualChange => self.config.map.annual_change = Some(self.read(key, value, read_annual_change)?),
            Key::Year | Key::Date => self.config.map.date = Some(self.date(key, value)?),
            Key::Theme => {
                // `theme = 16` is an easy slip and can mean nothing else.
                let number = value.get_ref().as_integer().map(ToString::to_string);
                let name = match &number {
                    Some(number) => number.as_str(),
                    None => self.notes.string(key, value)?,
                };
                self.config.screen.theme = Some(self.usable(key, value, read_theme(name))?);
            }
        }
        Some(())
    }

    /// What a text means.
    fn read<T, E: Into<ValueError>>(
        &mut self,
        key: Key,
        value: &Value<'_>,
        read: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        let text = self.notes.string(key, value)?;
        self.usable(key, value, read(text))
    }

    /// What was read at this place, unless it cannot be used.
    fn usable<T, E: Into<ValueError>>(&mut self, key: Key, value: &Value<'_>, read: Result<T, E>) -> Option<T> {
        read.map_err(|error| self.notes.tell(Fault::at(FaultKind::Value { key, error: error.into() }, value.span())))
            .ok()
    }

    /// The words of a list, each the name of a line.
    fn names<'v>(&mut self, key: Key, value: &'v Value<'_>) -> Option<Vec<&'v str>> {
        let Some(list) = value.get_ref().as_array() else { return self.notes.wrong_type(key, value) };
        let mut names = Vec::with_capacity(list.len());
        for entry in list.iter() {
            let name = self.notes.string(key, entry)?;
            self.usable(key, entry, read_line(name))?;
            names.push(name);
        }
        Some(names)
    }

    fn date(&mut self, key: Key, value: &Value<'_>) -> Option<MapDate> {
        let read = match (value.get_ref(), key) {
            (DeValue::Integer(year), Key::Year) => {
                let Ok(year) = i64::from_str_radix(year.as_str(), year.radix()) else {
                    return self.notes.wrong_type(key, value);
                };
                read_year(year)
            }
            (DeValue::String(day), Key::Date) => read_day(day),
            (DeValue::Datetime(day), Key::Date) => read_day(&day.to_string()),
            _ => return self.notes.wrong_type(key, value),
        };
        self.usable(key, value, read)
    }
}
