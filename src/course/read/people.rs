//! Who walks a course, and what they measured.

use super::Reader;
use crate::angle::{Bearing, Magnetic};
use crate::course::fault::Fault;
use crate::course::measured::{entries, is_left_out, one};
use crate::course::{CameOut, FaultKind, Key, Measured, Member, ReadMeasuredError, Taken, Way};
use crate::textfile::{FileKey, LONGEST_NAME, Value, nearest, shown};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

const MOST_MEMBERS: usize = 40;
const MOST_PACES: u32 = 300;

impl Reader {
    pub(super) fn members(&mut self, table: &DeTable<'_>) -> Option<Vec<Member>> {
        let tables = self.tables(table, (Key::Member, Key::Name), MOST_MEMBERS)?;
        let mut members: Vec<(Member, Range<usize>)> = Vec::new();
        let mut whole = true;
        for (table, span) in tables {
            self.notes.check_keys(table, &Key::MEMBER, Key::ALL);
            let name = self.wanted(table, Key::Name, Some(span));
            let at = name.map(Spanned::span);
            let name = name.and_then(|value| self.notes.text(Key::Name, value, LONGEST_NAME));
            let double_paces = self.optional(table, Key::DoublePaces, |reader, value| {
                reader.amount(Key::DoublePaces, value, 1, MOST_PACES)
            });
            let (Some(name), Ok(double_paces), Some(at)) = (name, double_paces, at) else {
                whole = false;
                continue;
            };
            match members.iter().find(|(earlier, _)| earlier.name == name) {
                Some((_, earlier)) => {
                    let earlier = earlier.clone();
                    self.notes.tell(Fault::after(FaultKind::Twice(name), at, earlier));
                    whole = false;
                }
                None => members.push((Member { name, double_paces }, at)),
            }
        }
        whole.then(|| members.into_iter().map(|(member, _)| member).collect())
    }

    pub(super) fn measured(
        &mut self,
        table: &DeTable<'_>,
        way: Option<&Way>,
        members: Option<&[Member]>,
    ) -> Option<Vec<Measured>> {
        let tables = self.tables(table, (Key::Measured, Key::By), MOST_MEMBERS)?;
        let legs = way.map(Way::leg_count);
        let all: Vec<Option<Measured>> =
            tables.into_iter().map(|(table, span)| self.one_measured(table, span, legs, members)).collect();
        all.into_iter().collect()
    }

    fn one_measured(
        &mut self,
        table: &DeTable<'_>,
        span: Range<usize>,
        legs: Option<usize>,
        members: Option<&[Member]>,
    ) -> Option<Measured> {
        self.notes.check_keys(table, &Key::MEASURED, Key::ALL);
        let by = self.wanted(table, Key::By, Some(span.clone())).and_then(|value| self.who(value, members));
        let taken = self.wanted(table, Key::Taken, Some(span.clone())).and_then(|value| self.taken(value));
        let bearings = self.optional(table, Key::Bearings, |reader, value| reader.bearings(value, legs));
        let came_out = self.optional(table, Key::CameOut, |reader, value| reader.came_out(value, legs));
        let (bearings, came_out) = (bearings.ok()?.unwrap_or_default(), came_out.ok()?.unwrap_or_default());
        if bearings.iter().all(Option::is_none) && came_out.iter().all(Option::is_none) {
            self.tell(FaultKind::NothingMeasured, span);
            return None;
        }
        let bearings = if bearings.is_empty() { vec![None; came_out.len()] } else { bearings };
        Some(Measured { by: by?, taken: taken?, bearings, came_out })
    }

    /// Who measured: one of the members, where they are named.
    fn who(&mut self, value: &Value<'_>, members: Option<&[Member]>) -> Option<String> {
        let who = self.notes.text(Key::By, value, LONGEST_NAME)?;
        let Some(members) = members.filter(|members| !members.is_empty()) else { return Some(who) };
        if members.iter().any(|member| member.name == who) {
            return Some(who);
        }
        let names = || members.iter().map(|member| member.name.as_str());
        self.choice(Key::By, value, &who, names().map(str::to_owned).collect(), nearest(&who, names()))
    }

    fn taken(&mut self, value: &Value<'_>) -> Option<Taken> {
        let written = self.notes.string(Key::Taken, value)?.trim();
        if let Some(taken) =
            Taken::ALL.into_iter().find(|taken| taken.word() == written || taken.short_word() == written)
        {
            return Some(taken);
        }
        let words = || Taken::ALL.into_iter().map(Taken::word);
        self.choice(Key::Taken, value, written, words().map(str::to_owned).collect(), nearest(written, words()))
    }

    fn choice<T>(
        &mut self,
        key: Key,
        value: &Value<'_>,
        found: &str,
        choices: Vec<String>,
        meant: Option<&str>,
    ) -> Option<T> {
        let nearest = meant.map(str::to_owned);
        self.tell(FaultKind::Choice { key, found: shown(found), choices, nearest }, value.span());
        None
    }

    fn bearings(&mut self, value: &Value<'_>, legs: Option<usize>) -> Option<Vec<Option<Bearing<Magnetic>>>> {
        let key = Key::Bearings;
        let written: Vec<String> = match value.get_ref() {
            DeValue::String(text) => entries(text).into_iter().map(str::to_owned).collect(),
            DeValue::Array(list) => {
                let mut texts = Vec::with_capacity(list.len());
                for entry in list.iter() {
                    texts.push(match entry.get_ref() {
                        DeValue::String(text) => text.to_string(),
                        DeValue::Integer(number) => number.to_string(),
                        DeValue::Float(number) => number.to_string(),
                        _ => return self.notes.wrong_type(key, value),
                    });
                }
                texts
            }
            _ => return self.notes.wrong_type(key, value),
        };
        let mut bearings = Vec::with_capacity(written.len());
        for (number, entry) in (1..).zip(&written) {
            match one(entry, number) {
                Ok(bearing) => bearings.push(bearing),
                Err(error) => {
                    let kind = match error {
                        ReadMeasuredError::Bearing { error, .. } => FaultKind::Bearing { key, error },
                        ReadMeasuredError::NotMagnetic(_) => FaultKind::NotMagnetic,
                        ReadMeasuredError::NotOnCircle(_) => FaultKind::NotOnCircle,
                    };
                    self.tell(kind, value.span());
                    return None;
                }
            }
        }
        self.as_many(key, value, bearings, legs)
    }

    fn came_out(&mut self, value: &Value<'_>, legs: Option<usize>) -> Option<Vec<Option<CameOut>>> {
        let key = Key::CameOut;
        let Some(list) = value.get_ref().as_array() else { return self.notes.wrong_type(key, value) };
        let mut all = Vec::with_capacity(list.len());
        for entry in list.iter() {
            let text = self.notes.string(key, entry)?;
            if is_left_out(text) {
                all.push(None);
                continue;
            }
            match CameOut::read(text) {
                Ok(out) => all.push(out),
                Err(error) => {
                    self.tell(FaultKind::CameOut(error), entry.span());
                    return None;
                }
            }
        }
        self.as_many(key, value, all, legs)
    }

    /// As many entries as there are legs; where the legs themselves have a fault, any number.
    fn as_many<T>(&mut self, key: Key, value: &Value<'_>, all: Vec<T>, legs: Option<usize>) -> Option<Vec<T>> {
        match legs {
            Some(wanted) if wanted != all.len() => {
                self.tell(FaultKind::Count { key, found: all.len(), wanted }, value.span());
                None
            }
            _ => Some(all),
        }
    }
}
