//! From a broken line to the slip that was made.
//!
//! The reader of TOML speaks of literals and keys, and often misses the slip. So its errors only say where to look; what is
//! wrong is read off the text itself.

use super::faults::{ENOUGH, Fault, Kind, line_of};
use super::shown::shown;
use super::slip::Slip;
use super::{FileKey, Shape};
use std::ops::Range;
use toml::de::Error;

/// The faults behind the errors, one a line: later ones on the same line follow from the first.
pub(super) fn faults<F: Kind>(text: &str, errors: &[Error]) -> Vec<Fault<F>> {
    if errors.is_empty() {
        return Vec::new();
    }
    let lists = lists(text);
    let mut known: Vec<usize> = Vec::new();
    let mut slips: Vec<Found<F::Key>> = Vec::new();
    for error in errors.iter().take(ENOUGH) {
        let found = find(text, &lists, error.span().unwrap_or_default());
        let line = line_of(text, found.span.start);
        if !known.contains(&line) {
            known.push(line);
            slips.push(found);
        }
    }
    // Single brackets are told for every line that has them; what else they bring about is no fault of its own.
    if slips.iter().any(|found| matches!(found.slip, Slip::SingleBrackets { .. })) {
        slips.retain(|found| !matches!(found.slip, Slip::Twice(_) | Slip::SingleBrackets { .. }));
        slips.extend(lines(text).filter_map(Line::single_brackets).take(ENOUGH));
    }
    // A list that does not end swallows what follows.
    if let Some(at) = slips.iter().position(|found| found.slip == Slip::Bracket) {
        slips.truncate(at + 1);
    }
    slips
        .into_iter()
        .map(|Found { slip, span, earlier }| Fault { kind: slip.into(), span: Some(span), earlier })
        .collect()
}

/// A slip and its place.
struct Found<K: FileKey> {
    slip: Slip<K>,
    span: Range<usize>,
    earlier: Option<Range<usize>>,
}

impl<K: FileKey> Found<K> {
    const fn at(slip: Slip<K>, span: Range<usize>) -> Found<K> {
        Found { slip, span, earlier: None }
    }
}

/// The slip where the reader of TOML stumbled.
fn find<K: FileKey>(text: &str, lists: &[List], span: Range<usize>) -> Found<K> {
    let span = text.floor_char_boundary(span.start)..text.floor_char_boundary(span.end.max(span.start));
    let line = Line::around(text, span.start);
    let written = line.text.trim();
    if let Some(found) = line.single_brackets() {
        return found;
    }
    let around = lists.iter().rev().find(|list| list.start <= span.start);
    if let Some(list) = around.filter(|list| list.end.is_none_or(|end| span.start < end)) {
        return list.fault(text);
    }
    if let Some(found) = twice(text, &span, line) {
        return found;
    }
    if written.starts_with('[') {
        let end = if written.starts_with("[[") { "]]" } else { "]" };
        return match written.split_once(end) {
            Some((header, behind)) if !is_nothing(behind) => {
                Found::at(Slip::Behind(shown(&format!("{header}{end}"))), line.part(behind.trim_start()))
            }
            _ => Found::at(Slip::Unreadable, line.part(written)),
        };
    }
    if written.starts_with("//") || written.starts_with(';') || written.starts_with("--") {
        return Found::at(Slip::Remark, line.part(written));
    }
    match written.split_once('=') {
        Some((key, value)) => in_value(span, line, key.trim(), value.trim()),
        None => {
            let key = written.split_once(':').map(|(key, _)| key.trim());
            let key = key.filter(|key| !key.contains(char::is_whitespace));
            let slip = key.map_or(Slip::NoEquals, |key| Slip::Colon(K::find(key, K::ALL)));
            Found::at(slip, line.part(written))
        }
    }
}

/// What is wrong with the value on a line that has a key and `=`.
fn in_value<K: FileKey>(span: Range<usize>, line: Line<'_>, key: &str, value: &str) -> Found<K> {
    let known = K::find(key, K::ALL);
    let place = line.part(value);
    let Some(first) = value.chars().next().filter(|first| *first != '#') else {
        return Found::at(Slip::NoValue(known), line.part(line.text.trim()));
    };
    let wrong = |found| known.map_or(Slip::Unreadable, |key| Slip::WrongType { key, found });
    let slip = match first {
        '“' | '”' | '„' | '‘' | '’' | '«' | '»' => {
            Slip::CurlyQuotes(known.filter(|key| key.shape() == Shape::Text))
        }
        '"' | '\'' => match quoted(value, first) {
            _ if first == '"' && value.contains('\\') && span.start >= place.start => {
                let from = value.find('\\').unwrap_or_default();
                return Found::at(Slip::Backslash, line.part(&value[from..=from]));
            }
            None => Slip::Unclosed,
            Some(behind) if !is_nothing(behind) => {
                return Found::at(Slip::Behind("the text".into()), line.part(behind));
            }
            Some(_) => Slip::Unreadable,
        },
        '[' => match value.rfind(']').map(|end| value[end + 1..].trim_start()) {
            Some(behind) if !is_nothing(behind) => {
                return Found::at(Slip::Behind("the list".into()), line.part(behind));
            }
            _ => Slip::List(known),
        },
        _ => match known.map(FileKey::shape) {
            None if !first.is_alphabetic() => return Found::at(Slip::Unreadable, span),
            None | Some(Shape::Text) => Slip::Unquoted { key: shown(key), value: shown(value.replace('"', "").trim()) },
            Some(Shape::List) => wrong("not in brackets"),
            Some(Shape::Tables) => wrong("not a line of its own"),
            Some(Shape::Day) => wrong("not a day"),
            Some(Shape::Number) if first == '.' => wrong("not written with a 0 before the point"),
            Some(Shape::Number) if first.is_ascii_digit() => wrong("more than the bare number"),
            Some(Shape::Number) => wrong("not a number"),
        },
    };
    Found::at(slip, place)
}

/// Whether nothing stands there, or a remark.
fn is_nothing(behind: &str) -> bool {
    matches!(behind.trim_start().chars().next(), None | Some('#'))
}

/// What stands behind the closing quotation mark; `None` when there is none.
fn quoted(value: &str, mark: char) -> Option<&str> {
    let inside = &value[mark.len_utf8()..];
    let mut before = ' ';
    for (at, letter) in inside.char_indices() {
        if letter == mark && before != '\\' {
            return Some(inside[at + mark.len_utf8()..].trim());
        }
        before = letter;
    }
    None
}

/// A key that its table has already, with the nearest earlier line that begins with it; or a table that stands there
/// already.
fn twice<K: FileKey>(text: &str, span: &Range<usize>, line: Line<'_>) -> Option<Found<K>> {
    let written = line.text.trim();
    let stumbled = &text[span.clone()];
    let (key, header) = match written.strip_prefix('[') {
        Some(inside) => (inside.trim_start_matches('[').split(']').next()?.trim(), true),
        None => (written.split_once('=')?.0.trim(), false),
    };
    if stumbled.is_empty() || key.rsplit('.').next()?.trim() != stumbled {
        return None;
    }
    let earlier = lines(&text[..line.start]).filter_map(|line| {
        let written = line.text.trim_start();
        let written = if header { written.strip_prefix('[')?.trim_start_matches('[').trim_start() } else { written };
        let rest = written.strip_prefix(key)?.trim_start();
        rest.starts_with(if header { ']' } else { '=' }).then(|| line.part(&written[..key.len()]))
    });
    let earlier = earlier.last();
    if earlier.is_none() || header {
        // Not a key but a table: `[skill]` above `[[skill]]`.
        if let Some(found) = lines(&text[..line.start]).find_map(Line::single_brackets) {
            return Some(found);
        }
    }
    Some(Found { slip: Slip::Twice(shown(key)), span: span.clone(), earlier })
}

/// A value that is a list, perhaps over several lines.
struct List {
    /// Where it begins.
    start: usize,
    /// Behind its last bracket; `None` when it does not end.
    end: Option<usize>,
}

impl List {
    fn fault<K: FileKey>(&self, text: &str) -> Found<K> {
        let line = Line::around(text, self.start);
        let (key, value) = line.text.split_once('=').unwrap_or(("", line.text));
        let slip = if self.end.is_none() { Slip::Bracket } else { Slip::List(K::find(key.trim(), K::ALL)) };
        Found::at(slip, line.part(value.trim()))
    }
}

/// The lists of a text, found by their brackets. Brackets within texts and remarks do not count.
fn lists(text: &str) -> Vec<List> {
    let mut lists: Vec<List> = Vec::new();
    let mut depth = 0_usize;
    for line in lines(text) {
        let mut inside = line.text;
        if depth == 0 {
            let Some((_, value)) = line.text.split_once('=').filter(|(_, value)| value.trim_start().starts_with('['))
            else {
                continue;
            };
            inside = value.trim_start();
            lists.push(List { start: line.part(inside).start, end: None });
        }
        let mut quote = None;
        let from = line.part(inside).start;
        for (at, letter) in inside.char_indices() {
            match (letter, quote) {
                ('"' | '\'', None) => quote = Some(letter),
                (_, Some(mark)) if letter == mark => quote = None,
                ('#', None) => break,
                ('[', None) => depth += 1,
                (']', None) => {
                    depth -= 1;
                    if depth == 0 {
                        if let Some(list) = lists.last_mut() {
                            list.end = Some(from + at + 1);
                        }
                        break;
                    }
                }
                _ => {}
            }
        }
    }
    lists
}

fn lines(text: &str) -> impl Iterator<Item = Line<'_>> {
    let mut start = 0;
    text.split_inclusive('\n').map(move |whole| {
        let line = Line { start, text: whole.trim_end_matches(['\n', '\r']) };
        start += whole.len();
        line
    })
}

/// A line of the text, without its end.
#[derive(Clone, Copy)]
struct Line<'t> {
    start: usize,
    text: &'t str,
}

impl<'t> Line<'t> {
    fn around(text: &'t str, byte: usize) -> Line<'t> {
        let start = text[..byte].rfind('\n').map_or(0, |at| at + 1);
        let end = text[start..].find('\n').map_or(text.len(), |at| start + at);
        Line { start, text: text[start..end].trim_end_matches('\r') }
    }

    /// The slip where a table that comes several times begins without both pairs of brackets.
    fn single_brackets<K: FileKey>(self) -> Option<Found<K>> {
        let (table, first) = K::REPEATED?;
        let plain: String = self.text.chars().filter(|letter| !letter.is_whitespace()).collect();
        let inside = plain.strip_prefix('[')?;
        let right = inside
            .strip_prefix('[')
            .is_some_and(|inside| inside.strip_prefix(table.word()).is_some_and(|behind| behind.starts_with("]]")));
        (plain.contains(table.word()) && !right)
            .then(|| Found::at(Slip::SingleBrackets { table, first }, self.part(self.text.trim())))
    }

    /// The place of a part of this line.
    fn part(self, part: &str) -> Range<usize> {
        let start = self.start + (part.as_ptr().addr()).saturating_sub(self.text.as_ptr().addr());
        start..start + part.len()
    }
}
