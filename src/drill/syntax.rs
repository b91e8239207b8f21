//! What the reader of TOML says, in words for somebody who never heard of TOML.
//!
//! The reader's messages speak of literals and keys, and often miss the slip that was made. So its errors only say
//! where to look; what is wrong is read off the line itself.

use super::error::line_of;
use super::fault::shown;
use super::reader::ENOUGH;
use super::{Fault, FaultKind, Key};
use std::ops::Range;
use toml::de::Error;

/// The faults behind the errors, one a line: later ones on the same line follow from the first.
pub(super) fn faults(text: &str, errors: &[Error]) -> Vec<Fault> {
    let mut known: Vec<usize> = Vec::new();
    let mut faults: Vec<Fault> = Vec::new();
    for error in errors.iter().take(ENOUGH) {
        let fault = fault(text, error);
        let line = fault.span.as_ref().map_or(0, |span| line_of(text, span.start));
        if !known.contains(&line) {
            known.push(line);
            faults.push(fault);
        }
    }
    // Single brackets are told for every line that has them; what else they bring about is no fault of its own.
    if faults.iter().any(|fault| fault.kind == FaultKind::SingleBrackets) {
        faults.retain(|fault| !matches!(fault.kind, FaultKind::KeyTwice(_) | FaultKind::SingleBrackets));
        faults.extend(lines(text).filter(|line| line.single_brackets()).map(Line::brackets_fault).take(ENOUGH));
    }
    // A list that does not end swallows what follows.
    if let Some(at) = faults.iter().position(|fault| fault.kind == FaultKind::Bracket) {
        faults.truncate(at + 1);
    }
    faults
}

fn fault(text: &str, error: &Error) -> Fault {
    let said = error.message();
    let span = error.span().unwrap_or(0..0);
    let span = text.floor_char_boundary(span.start)..text.floor_char_boundary(span.end);
    let line = Line::around(text, span.start);
    let written = line.text.trim();
    if line.single_brackets() {
        return line.brackets_fault();
    }
    if said.contains("array") && !said.contains("array table") {
        return list(said, text, span);
    }
    if said.starts_with("duplicate key") {
        return twice(text, span, line);
    }
    if let Some(behind) = written.strip_prefix("[[skill]]") {
        return Fault::at(FaultKind::Behind("[[skill]]"), line.part(behind.trim_start()));
    }
    if written.starts_with("//") || written.starts_with(';') || written.starts_with("--") {
        return Fault::at(FaultKind::Remark, line.part(written));
    }
    match written.split_once('=') {
        Some((key, value)) => value_fault(said, span, line, key.trim(), value.trim()),
        None => {
            let colon = written.split_once(':').is_some_and(|(key, _)| !key.trim().contains(char::is_whitespace));
            let kind = if colon { FaultKind::Colon } else { FaultKind::NoEquals };
            Fault::at(kind, line.part(written))
        }
    }
}

/// What is wrong with the value on a line that has a key and `=`.
fn value_fault(said: &str, span: Range<usize>, line: Line<'_>, key: &str, value: &str) -> Fault {
    let known = [&Key::TOP[..], &Key::SKILL, &Key::STANDARD].iter().find_map(|among| Key::find(key, among));
    let place = line.part(value);
    let Some(first) = value.chars().next().filter(|first| *first != '#') else {
        return Fault::at(FaultKind::NoValue(known), line.part(line.text.trim()));
    };
    let kind = match first {
        '“' | '”' | '„' | '‘' | '’' | '«' | '»' => FaultKind::CurlyQuotes,
        '"' | '\'' => match quoted(value, first) {
            _ if said.contains("escape") || said.contains("unicode") => {
                let from = value.find('\\').unwrap_or_default();
                return Fault::at(FaultKind::Backslash, line.part(value.get(from..=from).unwrap_or(value)));
            }
            None => FaultKind::Unclosed,
            Some(behind) if !behind.is_empty() => return Fault::at(FaultKind::Behind("the text"), line.part(behind)),
            Some(_) => FaultKind::Syntax(first_part(said)),
        },
        '[' if known == Some(Key::Levels) => FaultKind::Comma,
        '[' => FaultKind::Syntax(first_part(said)),
        _ => match known {
            Some(Key::Levels) => FaultKind::WrongType { key: Key::Levels, found: "not in brackets" },
            Some(key @ (Key::P0 | Key::P1 | Key::Alpha | Key::Beta)) => {
                FaultKind::WrongType { key, found: "not written with a 0 before the point" }
            }
            Some(key @ (Key::Cap | Key::Tries | Key::WaitDays | Key::ValidDays)) => {
                FaultKind::WrongType { key, found: "more than the bare number" }
            }
            Some(key @ (Key::Count | Key::Minutes | Key::Level)) => {
                let digit = first.is_ascii_digit();
                FaultKind::WrongType { key, found: if digit { "more than the bare number" } else { "not a number" } }
            }
            Some(_) => FaultKind::Unquoted { key: shown(key), value: shown(value.replace('"', "").trim()) },
            None => return Fault::at(FaultKind::Syntax(first_part(said)), span),
        },
    };
    Fault::at(kind, place)
}

/// What stands behind the closing quotation mark; `None` when there is none.
fn quoted(value: &str, mark: char) -> Option<&str> {
    let inside = &value[mark.len_utf8()..];
    let mut before = ' ';
    for (at, letter) in inside.char_indices() {
        if letter == mark && before != '\\' {
            let behind = inside[at + mark.len_utf8()..].trim();
            return Some(if behind.starts_with('#') { "" } else { behind });
        }
        before = letter;
    }
    None
}

/// A list that does not end, or lacks its comma: the place is where it begins, lines earlier if need be.
fn list(said: &str, text: &str, span: Range<usize>) -> Fault {
    let mut line = Line::around(text, span.start);
    let value = loop {
        match line.text.split_once('=') {
            Some((_, value)) if value.trim_start().starts_with('[') => break value.trim(),
            _ if line.start == 0 => break line.text.trim(),
            _ => line = Line::around(text, line.start - 1),
        }
    };
    let kind = match line.text.trim_start().starts_with(Key::Levels.word()) {
        _ if !value.contains(']') => FaultKind::Bracket,
        true => FaultKind::Comma,
        false => FaultKind::Syntax(first_part(said)),
    };
    Fault::at(kind, line.part(value))
}

/// A key that its table has already, with the nearest earlier line that begins with it.
fn twice(text: &str, span: Range<usize>, line: Line<'_>) -> Fault {
    let key = &text[span.clone()];
    let earlier = lines(&text[..line.start]).filter_map(|line| {
        let written = line.text.trim_start();
        let rest = written.strip_prefix(key)?.trim_start();
        rest.starts_with('=').then(|| line.part(&written[..key.len()]))
    });
    let earlier = earlier.last();
    if earlier.is_none() {
        // Not a key but a table: `[skill]` above `[[skill]]`.
        if let Some(line) = lines(&text[..line.start]).find(|line| line.single_brackets()) {
            return line.brackets_fault();
        }
    }
    Fault { kind: FaultKind::KeyTwice(shown(key)), span: Some(span), earlier }
}

/// The message without what it expected instead.
fn first_part(said: &str) -> String {
    shown(said.split(", expected").next().unwrap_or(said))
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

    /// Whether a skill begins here without both pairs of brackets.
    fn single_brackets(self) -> bool {
        let plain: String = self.text.chars().filter(|letter| !letter.is_whitespace()).collect();
        plain.starts_with('[') && plain.contains("skill") && !plain.starts_with("[[skill]]")
    }

    fn brackets_fault(self) -> Fault {
        Fault::at(FaultKind::SingleBrackets, self.part(self.text.trim()))
    }

    /// The place of a part of this line.
    fn part(self, part: &str) -> Range<usize> {
        let start = self.start + (part.as_ptr().addr()).saturating_sub(self.text.as_ptr().addr());
        start..start + part.len()
    }
}
