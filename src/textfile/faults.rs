//! Faults with their places, and how they are shown.

use super::notes::Notes;
use super::slip::Slip;
use super::syntax;
use super::{FileKey, Origin, without_mark};
use crate::numbers;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet, normalize_untrusted_str};
use std::fmt;
use std::ops::Range;
use toml::de::DeTable;

/// More than these are not shown: they would push the first ones off the screen.
const MOST_FAULTS: usize = 6;
/// After so many faults no more are noted, lest a large file of nonsense take long.
pub(super) const ENOUGH: usize = 100;

/// What can be wrong in one sort of file: the [`Slip`]s that all share, and its own. `Display` is one line.
pub trait Kind: fmt::Display + From<Slip<Self::Key>> {
    /// The keys of such a file.
    type Key: FileKey;

    /// The slip, unless this is a fault of the file's own.
    fn slip(&self) -> Option<&Slip<Self::Key>>;
    /// What stands under the marked place; empty when the first line says it all.
    fn label(&self) -> String;
    /// What to do about it, one or two short sentences.
    fn help(&self) -> String;

    /// What stands under the earlier place.
    fn earlier_label(&self) -> &'static str {
        "the first is here"
    }

    /// The keys that this says are missing, any one of which would do.
    fn missing(&self) -> Vec<Self::Key> {
        Vec::new()
    }
}

/// One fault and its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault<F> {
    /// What is wrong.
    pub kind: F,
    /// Where in the text, in bytes; `None` for what is missing altogether.
    pub span: Option<Range<usize>>,
    /// An earlier place that the fault has to do with.
    pub earlier: Option<Range<usize>>,
}

impl<F> Fault<F> {
    /// A fault at a place.
    pub fn at(kind: impl Into<F>, span: Range<usize>) -> Fault<F> {
        Fault { kind: kind.into(), span: Some(span), earlier: None }
    }

    /// A fault that has no place.
    pub fn missing(kind: impl Into<F>) -> Fault<F> {
        Fault { kind: kind.into(), span: None, earlier: None }
    }

    /// A fault that an earlier place has to do with.
    pub fn after(kind: impl Into<F>, span: Range<usize>, earlier: Range<usize>) -> Fault<F> {
        Fault { kind: kind.into(), span: Some(span), earlier: Some(earlier) }
    }
}

/// The faults of one file, at least one, in the order of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Faults<F> {
    /// Where the text was read.
    pub origin: Origin,
    /// The text.
    pub text: String,
    /// What is wrong with it.
    pub faults: Vec<Fault<F>>,
}

/// Reads a text as a table, and what the table says by `read`, which gives what it noted beside it.
///
/// # Errors
/// [`Faults`] with all that is wrong.
pub fn read_table<F: Kind, T>(
    text: &str,
    origin: &Origin,
    read: impl FnOnce(&DeTable<'_>) -> (Option<T>, Notes<F>),
) -> Result<T, Faults<F>> {
    let text = without_mark(text);
    let (table, errors) = DeTable::parse_recoverable(text);
    let (read, notes) = read(table.get_ref());
    let faults = in_order(text, syntax::faults(text, &errors), notes.faults);
    match read {
        Some(read) if faults.is_empty() => Ok(read),
        _ => Err(Faults { origin: origin.clone(), text: text.to_owned(), faults }),
    }
}

/// Broken lines and faults in what could be read, in the order of the file, without those that follow from another.
fn in_order<F: Kind>(text: &str, broken: Vec<Fault<F>>, mut own: Vec<Fault<F>>) -> Vec<Fault<F>> {
    let line = |fault: &Fault<F>| fault.span.as_ref().map(|span| line_of(text, span.start));
    // A key misspelt or in the wrong place is not missing as well.
    let meant: Vec<F::Key> = own.iter().filter_map(|fault| fault.kind.slip()?.meant()).collect();
    own.retain(|fault| !fault.kind.missing().iter().any(|key| meant.contains(key)));
    if !broken.is_empty() {
        // What could not be read is not missing, and a broken line is one fault, not two.
        let lines: Vec<Option<usize>> = broken.iter().map(line).collect();
        let brackets = broken.iter().any(|fault| matches!(fault.kind.slip(), Some(Slip::SingleBrackets { .. })));
        let swallowed = broken.iter().find(|fault| fault.kind.slip() == Some(&Slip::Bracket)).and_then(line);
        own.retain(|fault| match fault.kind.slip() {
            _ if !fault.kind.missing().is_empty() => false,
            Some(Slip::Misplaced(_) | Slip::SingleBrackets { .. }) if brackets => false,
            _ => !lines.contains(&line(fault)) && swallowed.is_none_or(|at| line(fault) < Some(at)),
        });
    }
    let mut all = broken;
    all.append(&mut own);
    numbers::arrange_by_key(&mut all, |fault| fault.span.as_ref().map_or(usize::MAX, |span| span.start));
    if all.len() > MOST_FAULTS {
        all.truncate(MOST_FAULTS - 1);
        all.push(Fault::missing(Slip::More));
    }
    all
}

impl<F: Kind> fmt::Display for Faults<F> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.origin)?;
        if let Some(fault) = self.faults.first() {
            if let Some(span) = &fault.span {
                write!(f, ", line {}", line_of(&self.text, span.start))?;
            }
            write!(f, ": {}", fault.kind)?;
        }
        match self.faults.len() {
            0 | 1 => Ok(()),
            2 => write!(f, " (and one more fault)"),
            more => write!(f, " (and {} more faults)", more - 1),
        }
    }
}

impl<F: Kind> Faults<F> {
    /// The message for people: for each fault what is wrong, the lines of the file with the place marked, and what to do.
    #[must_use]
    pub fn render(&self, renderer: &Renderer) -> String {
        let rendered: Vec<String> = self.faults.iter().map(|fault| renderer.render(&[self.group(fault)])).collect();
        rendered.join("\n\n")
    }

    fn group<'a>(&'a self, fault: &'a Fault<F>) -> Group<'a> {
        let help = Level::HELP.message(normalize_untrusted_str(&fault.kind.help()));
        let title = Level::ERROR.primary_title(fault.kind.to_string());
        let path = self.origin.file();
        let Some(span) = &fault.span else {
            return title.element(annotate_snippets::Origin::path(path)).element(help);
        };
        let label = fault.kind.label();
        let mut mark = AnnotationKind::Primary.span(self.inside(span));
        if !label.is_empty() {
            mark = mark.label(label);
        }
        let mut snippet = Snippet::source(self.text.as_str()).path(path).annotation(mark);
        if let Some(earlier) = &fault.earlier {
            snippet = snippet
                .annotation(AnnotationKind::Context.span(self.inside(earlier)).label(fault.kind.earlier_label()));
        }
        title.element(snippet).element(help)
    }

    /// The span within the text and on its letters' borders, whatever the reader of TOML said; one line only, so that
    /// a mark never runs down the margin.
    fn inside(&self, span: &Range<usize>) -> Range<usize> {
        let start = self.text.floor_char_boundary(span.start);
        let end = self.text.floor_char_boundary(span.end.max(start));
        let marked = &self.text[start..end];
        let line = marked.find(['\n', '\r']).map_or(end, |at| start + at);
        start..line
    }
}

/// The line a byte stands in, counted from 1.
pub(super) fn line_of(text: &str, byte: usize) -> usize {
    text.as_bytes().iter().take(byte).filter(|byte| **byte == b'\n').count() + 1
}
