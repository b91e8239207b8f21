//! Sheets and keys on pages.

use super::{Asked, LearnerSheet, MARKING, Told, Worksheet, figure, sentence};
use crate::paper::{Document, Head, Piece, Printed, Sheet, Style};
use crate::problem::{Figure, Problem};
use crate::scene::{Colour, Point};
use crate::session::SAFETY;

/// How far problems are set in behind their numbers, in mm.
const INDENT_MM: f64 = 8.0;
/// Between a text and the figure beside it, in mm.
const GUTTER_MM: f64 = 6.0;
/// The narrowest column of text beside a figure, in mm.
const COLUMN_MM: f64 = 56.0;
/// How long a line for an answer is, in mm.
const RULE_MM: f64 = 34.0;
/// Between two problems, in mm.
const BETWEEN_MM: f64 = 7.0;

/// All sheets, and then the keys.
#[must_use]
pub fn printed(worksheet: &Worksheet, sheet: Sheet) -> Printed {
    let mut document = Document::new(sheet, format!("{}, worksheet", worksheet.title), SAFETY);
    for one in &worksheet.sheets {
        lay_sheet(worksheet, one, sheet, &mut document);
    }
    for one in &worksheet.sheets {
        lay_key(worksheet, one, sheet, &mut document);
    }
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
    document.add(Piece::paragraph(one.how_to(), Style::SMALL, width_mm));
    document.gap(BETWEEN_MM * 0.7);
    for (number, problem) in (1..).zip(&one.problems) {
        document.add(asked(number, problem, width_mm));
        document.gap(BETWEEN_MM);
    }
}

/// A problem: its number, its text and its answer lines, with the figure on the right or below.
fn asked(number: usize, problem: &Problem, width_mm: f64) -> Piece {
    let figure = figure::piece(problem);
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
        text = text.above(1.0, Piece::paragraph(&format!("Names: {names}"), Style::SMALL, column_mm));
    }
    if matches!(problem.figure(), Figure::Map(_)) && problem.question().fields().iter().any(is_point) {
        text = text.above(1.0, Piece::paragraph(MARK_IT, Style::SMALL, column_mm));
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

fn lay_key(worksheet: &Worksheet, one: &LearnerSheet, sheet: Sheet, document: &mut Document) {
    let width_mm = sheet.text_width_mm();
    let whose = one.name.as_deref().unwrap_or("the worksheet");
    let head = Head { left: format!("Key: {whose}"), right: format!("{}, seed {}", worksheet.title, worksheet.seed) };
    document.section(head);
    document.add(Piece::line(format!("Key: {whose}"), Style::TITLE));
    document.gap(1.0);
    document.add(Piece::paragraph(MARKING, Style::SMALL, width_mm));
    if let Some(left_out) = worksheet.left_out_words() {
        document.add(Piece::paragraph(&left_out, Style::SMALL, width_mm));
    }
    document.gap(BETWEEN_MM * 0.6);
    for (number, problem) in (1..).zip(&one.problems) {
        document.add(told(number, problem, width_mm));
        document.gap(BETWEEN_MM * 0.6);
    }
}

/// A problem in the key: code and answer, then the wrong answers with their digits beside the worked steps.
fn told(number: usize, problem: &Problem, width_mm: f64) -> Piece {
    const DIGIT_MM: f64 = 5.0;
    let told = Told::of(problem);
    let small = Style::SMALL.dark();
    let column_mm = (width_mm - INDENT_MM - GUTTER_MM) / 2.0;
    let answer = match &told.tolerance {
        Some(near) => format!("{}   ({near})", told.answer),
        None => told.answer.clone(),
    };
    let answer = Piece::hanging("1", DIGIT_MM, &answer, Style::TEXT.strong(), width_mm - INDENT_MM - 40.0);
    let code = Piece::ending(told.code, Style { size_mm: 2.4, ..Style::SMALL });
    let head = answer.with(width_mm - INDENT_MM, 0.0, code);
    let wrong = told.wrong.iter().map(|wrong| {
        let text = format!("{}: {}", wrong.answer, sentence(wrong.said));
        Piece::hanging(&wrong.digit.to_string(), DIGIT_MM, &text, small, column_mm)
    });
    let steps = told.steps.iter().map(|step| Piece::paragraph(step, small, column_mm));
    let columns = Piece::stack(wrong, 0.6).with(column_mm + GUTTER_MM, 0.0, Piece::stack(steps, 0.6));
    let body = head.above(0.8, columns);
    let number = Piece::line(number.to_string(), Style::TEXT.strong());
    let piece = Piece::blank(1.6).above(0.0, number.with(INDENT_MM, 0.0, body));
    piece.rule(Point::new(0.0, 0.0), Point::new(width_mm, 0.0), 0.1, Colour::QUIET)
}

/// A problem as it stands on a sheet and in a key.
#[cfg(test)]
pub(super) fn pieces(problem: &Problem, sheet: Sheet) -> (Piece, Piece) {
    (asked(1, problem, sheet.text_width_mm()), told(1, problem, sheet.text_width_mm()))
}
