//! Sheets on pages; their keys are in `key_pages`.

use super::{Asked, LearnerSheet, Worksheet, figure, key_pages};
use crate::paper::{Document, Head, Piece, Printed, Sheet, Style};
use crate::problem::{Figure, Problem};
use crate::scene::{Colour, Point};
use crate::session::SAFETY;

/// How far problems are set in behind their numbers, in mm.
pub(super) const INDENT_MM: f64 = 8.0;
/// Between a text and the figure beside it, in mm.
pub(super) const GUTTER_MM: f64 = 6.0;
/// The narrowest column of text beside a figure, in mm.
const COLUMN_MM: f64 = 56.0;
/// How long a line for an answer is, in mm.
const RULE_MM: f64 = 34.0;
/// Between two problems, in mm.
pub(super) const BETWEEN_MM: f64 = 7.0;
/// What stands beside a problem's text: 9 points, which are read by lamplight.
pub(super) const BESIDE: Style = Style { size_mm: 3.2, ..Style::SMALL };

/// How a sheet can be laid out, the roomiest first: how many times larger figures are drawn that are only looked at, and what is between two
/// problems, in mm.
const FITS: [Fit; 6] = [fit(1.0, 7.0), fit(1.0, 5.5), fit(0.92, 5.5), fit(0.86, 5.0), fit(0.8, 4.5), fit(0.75, 4.0)];

/// One of them.
#[derive(Clone, Copy, Debug)]
struct Fit {
    times: f64,
    between_mm: f64,
}

const fn fit(times: f64, between_mm: f64) -> Fit {
    Fit { times, between_mm }
}

/// All sheets, and then the keys.
#[must_use]
pub fn printed(worksheet: &Worksheet, sheet: Sheet) -> Printed {
    let mut document = Document::new(sheet, format!("{}, worksheet", worksheet.title), SAFETY);
    for one in &worksheet.sheets {
        lay_sheet(worksheet, one, sheet, &mut document);
    }
    key_pages::lay(worksheet, sheet, &mut document);
    document.print()
}

fn lay_sheet(worksheet: &Worksheet, one: &LearnerSheet, sheet: Sheet, document: &mut Document) {
    let width_mm = sheet.text_width_mm();
    let left = one.name.clone().unwrap_or_else(|| "Worksheet".to_owned());
    document.section(Head { left, right: worksheet.title.clone() });
    let name = one.name.as_deref().unwrap_or("Name");
    let mut top = Piece::line(name, Style::TITLE);
    if one.name.is_none() {
        let (from, foot) = (top.width_mm + 3.0, top.height_mm * 0.75);
        top = top.rule(Point::new(from, foot), Point::new(from + 60.0, foot), 0.2, Colour::QUIET);
    }
    let foot = top.height_mm * 0.75;
    let day = Piece::line("Date", Style::TEXT);
    let day = day.rule(Point::new(10.0, 4.2), Point::new(44.0, 4.2), 0.2, Colour::QUIET);
    document.add(top.with(width_mm - 44.0, foot - 4.2, day));
    document.gap(1.5);
    document.add(Piece::paragraph(one.how_to(), BESIDE, width_mm));
    document.gap(BETWEEN_MM * 0.7);
    let (pieces, between_mm) = fitted(&one.problems, document.room_mm(), sheet);
    for piece in pieces {
        document.add(piece);
        document.gap(between_mm);
    }
}

/// The problems on as few pages as there are with any of [`FITS`], each whole, and of those in the roomiest. The first page has so much
/// room left.
fn fitted(problems: &[Problem], room_mm: f64, sheet: Sheet) -> (Vec<Piece>, f64) {
    let whole: Vec<Piece> =
        (1..).zip(problems).map(|(number, one)| asked(number, one, sheet.text_width_mm(), 1.0)).collect();
    let laid = |fit: Fit| -> Vec<Piece> {
        let numbered = (1..).zip(problems).zip(&whole);
        numbered
            .map(|((number, problem), piece)| match figure::can_be_smaller(problem) && fit.times < 1.0 {
                true => asked(number, problem, sheet.text_width_mm(), fit.times),
                false => piece.clone(),
            })
            .collect()
    };
    let pages = |pieces: &[Piece], between_mm: f64| {
        let (mut pages, mut left_mm) = (1_usize, room_mm);
        for piece in pieces {
            if piece.height_mm > left_mm {
                (pages, left_mm) = (pages + 1, sheet.text_height_mm());
            }
            left_mm -= piece.height_mm + between_mm;
        }
        pages
    };
    let last = FITS[FITS.len() - 1];
    let closest = laid(last);
    let fewest = pages(&closest, last.between_mm);
    let roomier = FITS[..FITS.len() - 1].iter().map(|fit| (laid(*fit), fit.between_mm));
    roomier
        .into_iter()
        .find(|(pieces, between_mm)| pages(pieces, *between_mm) <= fewest)
        .unwrap_or((closest, last.between_mm))
}

/// A problem: its number, its text and its answer lines, with the figure on the right or below.
fn asked(number: usize, problem: &Problem, width_mm: f64, times: f64) -> Piece {
    let figure = figure::piece(problem, times);
    let beside = figure.as_ref().map(|figure| width_mm - INDENT_MM - GUTTER_MM - figure.width_mm);
    let (column_mm, below) = match beside {
        Some(room_mm) if room_mm >= COLUMN_MM => (room_mm, false),
        Some(_) => (width_mm - INDENT_MM, true),
        None => (width_mm - INDENT_MM, false),
    };
    let asked = Asked::of(problem);
    let mut text = Piece::line(asked.title, Style::TEXT.strong());
    text = text.above(0.6, Piece::paragraph(&asked.prompt, Style::TEXT, column_mm));
    let mut figure = figure;
    if below && let Some(figure) = figure.take() {
        text = text.above(2.0, figure);
    }
    for wanted in &asked.wanted {
        text = text.above(0.0, Piece::answer(&sentence_label(wanted), Style::TEXT, column_mm, RULE_MM));
    }
    for names in &asked.names {
        text = text.above(1.0, Piece::paragraph(&format!("Names: {names}"), BESIDE, column_mm));
    }
    if matches!(problem.figure(), Figure::Map(_)) && problem.question().fields().iter().any(is_point) {
        text = text.above(1.0, Piece::paragraph(MARK_IT, BESIDE, column_mm));
    }
    text = text.above(1.2, Piece::line(asked.code, Style { size_mm: 2.4, ..Style::SMALL }));
    let mut piece = Piece::line(number.to_string(), Style::TEXT.strong()).with(INDENT_MM, 0.0, text);
    if let Some(figure) = figure {
        piece = piece.with(width_mm - figure.width_mm, 0.0, figure);
    }
    piece
}

/// Where a place is asked for, paper takes it as well as numbers.
const MARK_IT: &str = "Draw your lines on the map and mark the place; then give its grid reference.";

const fn is_point(field: &crate::problem::Field) -> bool {
    matches!(field.kind, crate::problem::FieldKind::MapPoint)
}

fn sentence_label(wanted: &str) -> String {
    format!("{}:", crate::problem::capital(wanted))
}

/// A problem as it stands on a sheet, at its largest, and in a key.
#[cfg(test)]
pub(super) fn pieces(problem: &Problem, sheet: Sheet) -> (Piece, Vec<Piece>) {
    (asked(1, problem, sheet.text_width_mm(), 1.0), key_pages::told(1, problem, key_pages::column_mm(sheet)))
}
