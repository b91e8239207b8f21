//! What a reader notes while it goes on, so that one run shows all faults.

use super::FileKey;
use super::faults::{ENOUGH, Fault, Kind};
use super::shown::{shown, unshowable};
use super::slip::Slip;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeInteger, DeTable, DeValue};

/// A value and its place.
pub type Value<'i> = Spanned<DeValue<'i>>;

/// The faults of one file, in the order in which they were found. What has a fault is `None`.
#[derive(Debug)]
pub struct Notes<F> {
    pub(super) faults: Vec<Fault<F>>,
}

impl<F> Default for Notes<F> {
    fn default() -> Notes<F> {
        Notes { faults: Vec::new() }
    }
}

impl<F: Kind> Notes<F> {
    /// Notes a fault.
    pub fn tell(&mut self, fault: Fault<F>) {
        if self.faults.len() < ENOUGH {
            self.faults.push(fault);
        }
    }

    /// Notes a slip for each key of a table that is not among those that may stand there; some may stand `elsewhere`.
    pub fn check_keys(&mut self, table: &DeTable<'_>, may_stand: &'static [F::Key], elsewhere: &[F::Key]) {
        for key in table.keys() {
            self.check_key(key.get_ref(), key.span(), may_stand, elsewhere);
        }
    }

    /// Notes a slip unless a written key is among those that may stand there; some may stand `elsewhere`.
    pub fn check_key(&mut self, word: &str, span: Range<usize>, may_stand: &'static [F::Key], elsewhere: &[F::Key]) {
        if F::Key::find(word, may_stand).is_some() {
            return;
        }
        let slip = match F::Key::find(word, elsewhere) {
            Some(misplaced) => Slip::Misplaced(misplaced),
            None => Slip::UnknownKey { key: shown(word), may_stand, nearest: F::Key::nearest(word, may_stand) },
        };
        self.tell(Fault::at(slip, span));
    }

    /// A text that can be shown, of `most` letters at most, without blanks around it.
    pub fn text(&mut self, key: F::Key, value: &Value<'_>, most: usize) -> Option<String> {
        let text = self.string(key, value)?.trim();
        let slip = if text.is_empty() {
            Slip::Blank(key)
        } else if text.chars().nth(most).is_some() {
            Slip::TooLong { key, most }
        } else if text.chars().any(unshowable) {
            Slip::Control(key)
        } else {
            return Some(text.to_owned());
        };
        self.tell(Fault::at(slip, value.span()));
        None
    }

    /// Any text.
    pub fn string<'v>(&mut self, key: F::Key, value: &'v Value<'_>) -> Option<&'v str> {
        value.get_ref().as_str().or_else(|| self.wrong_type(key, value))
    }

    /// A number, with or without a point.
    pub fn number(&mut self, key: F::Key, value: &Value<'_>) -> Option<f64> {
        let written = value.get_ref();
        let read = match (written.as_float(), written.as_integer()) {
            (Some(float), _) => float.as_str().parse().ok(),
            (_, Some(integer)) if integer.radix() == 10 => integer.as_str().parse().ok(),
            (_, Some(integer)) => i32::from_str_radix(integer.as_str(), integer.radix()).ok().map(f64::from),
            _ => None,
        };
        read.or_else(|| self.wrong_type(key, value))
    }

    /// Notes that a value is of another kind than its key wants.
    pub fn wrong_type<T>(&mut self, key: F::Key, value: &Value<'_>) -> Option<T> {
        let found = match value.get_ref() {
            DeValue::String(_) => "text",
            DeValue::Integer(_) => "a number",
            DeValue::Float(_) => "a number with a point",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date or a time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        self.tell(Fault::at(Slip::WrongType { key, found }, value.span()));
        None
    }
}

/// A whole number that is neither negative nor large.
#[must_use]
pub fn whole(written: &DeInteger<'_>) -> Option<u16> {
    u16::from_str_radix(written.as_str(), written.radix()).ok()
}
