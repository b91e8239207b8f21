//! What the reader of TOML says, in words for somebody who never heard of TOML.
//!
//! The reader's messages speak of literals and keys, and often miss the slip that was made. So its errors only say
//! where to look; what is wrong is read off the line itself.

use super::error::line_of;
use super::fault::shown;
use super::{Fault, FaultKind, Key};
use std::ops::Range;
use toml::de::Error;

/// The faults behind the errors, one a line: later ones on the same line follow from the first.
pub(super) fn faults(text: &str, errors: &[Error]) -> Vec<Fault> {
    let mut faults: Vec<Fault> = Vec::new();
    for error in errors {
        let fault = fault(text, error);
        let line = |fault: &Fault| fault.span.as_ref().map(|span| line_of(text, span.start));
        if !faults.iter().any(|known| line(known) == line(&fault)) {
            faults.push(fault);
        }
    }
    // Two `[skill]` are one key twice, and so is all that stands below the second.
    if faults.iter().any(|fault| fault.kind == FaultKind::SingleBrackets) {
        faults.retain(|fault| !matches!(fault.kind, FaultKind::KeyTwice(_)));
    }
    faults
}

fn fault(text: &str, error: &Error) -> Fault {
    let said = error.message();
    let span = error.span().unwrap_or(0..0);
    let span = text.floor_char_boundary(span.start)..text.floor_char_boundary(span.end);
    let line = Line::around(text, span.start);
    let written = line.text.trim();
    if written.starts_with('[') && written.contains("skill") && !written.starts_with("[[skill]]") {
        return Fault::at(FaultKind::SingleBrackets, line.part(written));
    }
    if said.contains("array") && !said.contains("array table") {
        return list(text, span);
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
    let known = Key::find(key, &Key::TOP).or_else(|| Key::find(key, &Key::SKILL));
    let place = line.part(value);
    let Some(first) = value.chars().next().filter(|first| *first != '#') else {
        return Fault::at(FaultKind::NoValue(known), line.part(line.text.trim()));
    };
    let kind = match first {
        '“' | '”' | '„' | '‘' | '’' | '«' | '»' => FaultKind::CurlyQuotes,
        '"' | '\'' => match quoted(value, first) {
            _ if said.contains("escape") || said.contains("unicode") => FaultKind::Backslash,
            None => FaultKind::Unclosed,
            Some(behind) if !behind.is_empty() => return Fault::at(FaultKind::Behind("the text"), line.part(behind)),
            Some(_) => FaultKind::Syntax(first_part(said)),
        },
        '[' if known == Some(Key::Levels) => FaultKind::Comma,
        '[' => FaultKind::Syntax(first_part(said)),
        _ => match known {
            Some(Key::Levels) => FaultKind::WrongType { key: Key::Levels, found: "not in brackets" },
            Some(key @ (Key::Count | Key::Minutes | Key::Level)) => {
                let digit = first.is_ascii_digit();
                FaultKind::WrongType { key, found: if digit { "more than the bare number" } else { "not a number" } }
            }
            _ if first.is_alphabetic() || first.is_ascii_digit() => {
                FaultKind::Unquoted { key: shown(key), value: shown(value.trim_matches('"')) }
            }
            _ => return Fault::at(FaultKind::Syntax(first_part(said)), span),
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
fn list(text: &str, span: Range<usize>) -> Fault {
    let mut line = Line::around(text, span.start);
    let value = loop {
        match line.text.split_once('=') {
            Some((_, value)) if value.trim_start().starts_with('[') => break value.trim(),
            _ if line.start == 0 => break line.text.trim(),
            _ => line = Line::around(text, line.start - 1),
        }
    };
    let kind = if value.contains(']') { FaultKind::Comma } else { FaultKind::Bracket };
    Fault::at(kind, line.part(value))
}

/// A key that its table has already, with the nearest earlier line that begins with it.
fn twice(text: &str, span: Range<usize>, line: Line<'_>) -> Fault {
    let key = &text[span.clone()];
    let mut at = 0;
    let mut earlier = None;
    for before in text[..line.start].split_inclusive('\n') {
        let word = before.trim_start();
        if word.strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with('=')) {
            let start = at + (before.len() - word.len());
            earlier = Some(start..start + key.len());
        }
        at += before.len();
    }
    Fault { kind: FaultKind::KeyTwice(shown(key)), span: Some(span), earlier }
}

/// The message without what it expected instead.
fn first_part(said: &str) -> String {
    shown(said.split(", expected").next().unwrap_or(said))
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

    /// The place of a part of this line.
    fn part(self, part: &str) -> Range<usize> {
        let start = self.start + (part.as_ptr().addr()).saturating_sub(self.text.as_ptr().addr());
        start..start + part.len()
    }
}
