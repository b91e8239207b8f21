//! From what shall be said to the text of the file: other lines, remarks and their order stay as they are.

use super::Config;
use super::key::Key;
use super::read::read;
use super::value::{read_printed_angle, write_annual_change, write_printed_angle};
use super::{MapDate, own_map::OwnMap};
use crate::angle::{Angle, NorthKind, Offset};
use crate::numbers::whole;
use crate::textfile::{FileKey, Origin};
use std::ops::Range;
use toml_edit::{Array, Document, DocumentMut, Item, Value};

/// What is written where there is no file yet: every key, explained, as remarks.
pub(super) const TEMPLATE: &str = include_str!("template.toml");

/// The text changed so that it says `wanted`. It must say `old` now. `None` when it cannot be changed without harm.
pub(super) fn rewritten(text: &str, old: &Config, wanted: &Config) -> Option<String> {
    let changed: Vec<(Key, Option<Value>)> = Key::ALL
        .iter()
        .copied()
        .map(|key| (key, value_of(wanted, key)))
        .filter(|(key, value)| !same(&value_of(old, *key), value))
        .collect();
    // What must go goes first: a year and a day must never stand beside each other.
    let (gone, new): (Vec<_>, Vec<_>) = changed.into_iter().partition(|(_, value)| value.is_none());
    let mut out = text.to_owned();
    for (key, value) in gone.into_iter().chain(new) {
        let tries = [by_line(&out, key, value.as_ref()), by_document(&out, key, value)];
        // The reader has the last word on whether a change did what it should and nothing else.
        out = tries.into_iter().flatten().find(|text| says(text, key, wanted))?;
    }
    (config_of(&out).as_ref() == Some(wanted)).then_some(out)
}

fn says(text: &str, key: Key, wanted: &Config) -> bool {
    config_of(text).is_some_and(|config| same(&value_of(&config, key), &value_of(wanted, key)))
}

/// What a text says that was just made, if it can be read.
fn config_of(text: &str) -> Option<Config> {
    read(text, &Origin::Embedded("config.toml")).ok()
}

fn same(a: &Option<Value>, b: &Option<Value>) -> bool {
    a.as_ref().map(Value::to_string) == b.as_ref().map(Value::to_string)
}

/// The value a key has, as it is written.
fn value_of(config: &Config, key: Key) -> Option<Value> {
    let Config { home, map, screen } = config;
    let OwnMap { declination, grid_magnetic, date, annual_change } = map;
    match key {
        Key::Name => home.name.as_deref().map(Value::from),
        Key::Place => home.place.as_ref().map(|place| Value::from(place.text())),
        Key::HeightM => home.height_m.map(metres),
        Key::Lines => home.lines.as_ref().map(|lines| lines.iter().map(|line| line.word()).collect::<Array>().into()),
        Key::Declination => declination.map(printed),
        Key::GmAngle => grid_magnetic.map(printed),
        Key::AnnualChange => annual_change.map(|change| write_annual_change(change).into()),
        Key::Year => match date {
            Some(MapDate::Year(year)) => Some(i64::from(*year).into()),
            _ => None,
        },
        Key::Date => match date {
            Some(MapDate::Day(day)) => day.to_string().parse().ok(),
            _ => None,
        },
        Key::Theme => screen.theme.map(Value::from),
    }
}

fn printed<A: NorthKind, B: NorthKind>(offset: Offset<A, B>) -> Value {
    let read_back = |text: &str| read_printed_angle(text).map(Offset::<A, B>::from_angle);
    let angle: Angle = offset.angle();
    write_printed_angle(angle, |text| read_back(text) == Ok(offset)).into()
}

fn metres(height: f64) -> Value {
    // Heights lie within a million metres, so a whole one fits.
    if height.fract() == 0.0 { Value::from(whole::<i64>(height)) } else { Value::from(height) }
}

/// Changes a line in place: the value alone, or a new line behind its remark, or the line made a remark.
fn by_line(text: &str, key: Key, value: Option<&Value>) -> Option<String> {
    let document = Document::parse(text).ok()?;
    let entry = document.as_table().get(key.table().word()).and_then(|item| item.get(key.word()));
    match (entry, value) {
        (Some(entry), Some(value)) => Some(spliced(text, entry.span()?, value.to_string().trim())),
        (Some(entry), None) => Some(as_remark(text, entry.span()?)),
        (None, Some(value)) => {
            let at = behind_remark(text, key)?;
            let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
            let before = if text[..at].ends_with('\n') { "" } else { end };
            Some(spliced(text, at..at, &format!("{before}{} = {}{end}", key.word(), value.to_string().trim())))
        }
        (None, None) => None,
    }
}

fn spliced(text: &str, span: Range<usize>, with: &str) -> String {
    let mut out = text.to_owned();
    out.replace_range(span, with);
    out
}

/// The lines of a value, each with # before it.
fn as_remark(text: &str, span: Range<usize>) -> String {
    let first = text[..span.start].rfind('\n').map_or(0, |at| at + 1);
    let mut out = text[..first].to_owned();
    let last = text[span.end..].find('\n').map_or(text.len(), |at| span.end + at);
    for line in text[first..last].split_inclusive('\n') {
        out.push_str("# ");
        out.push_str(line);
    }
    out.push_str(&text[last..]);
    out
}

/// Behind the remark that shows a key, such as `# place = "47.5, 11.25"`, in the part of its table.
fn behind_remark(text: &str, key: Key) -> Option<usize> {
    let (mut at, mut inside) = (0, false);
    for line in text.split_inclusive('\n') {
        at += line.len();
        let line = line.trim();
        if let Some(header) = line.strip_prefix('[') {
            inside = header.strip_prefix(key.table().word()).is_some_and(|rest| rest.trim_start().starts_with(']'));
        }
        let shown = line.strip_prefix('#').and_then(|line| line.trim_start().strip_prefix(key.word()));
        if inside && shown.is_some_and(|rest| rest.trim_start().starts_with('=')) {
            return Some(at);
        }
    }
    None
}

/// Changes the document as a tree; what the reader of TOML keeps of its layout stays.
fn by_document(text: &str, key: Key, value: Option<Value>) -> Option<String> {
    let mut document: DocumentMut = text.parse().ok()?;
    let table = document.entry(key.table().word()).or_insert_with(toml_edit::table);
    let entries = table.as_table_like_mut()?;
    match value {
        Some(value) => entries.insert(key.word(), Item::Value(value)),
        None => entries.remove(key.word()),
    };
    Some(document.to_string())
}

/// Whether the template shows a key, for a test that holds it against the keys.
#[cfg(test)]
pub(super) fn template_shows(key: Key) -> bool {
    behind_remark(TEMPLATE, key).is_some()
}
