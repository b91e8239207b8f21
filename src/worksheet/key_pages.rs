//! Keys on pages: in two columns, since they are text. A problem is whole on its page, but may go on in the second column.

use super::layout::{BESIDE, BETWEEN_MM, GUTTER_MM};
use super::{LearnerSheet, MARKING, Told, Worksheet, sentence};
use crate::paper::{Document, Head, Piece, Sheet, Style};
use crate::problem::Problem;
use crate::scene::{Colour, Point};

/// How far wrong answers and steps are set in, and the digit of an answer from the answer, in mm.
const INDENT_MM: f64 = 6.0;
const DIGIT_MM: f64 = 4.5;
/// Between two problems, and between two lines of one, in mm.
const PROBLEMS_MM: f64 = 3.2;
const LINES_MM: f64 = 0.5;

/// How wide a column is, in mm.
pub(super) fn column_mm(sheet: Sheet) -> f64 {
    (sheet.text_width_mm() - GUTTER_MM) / 2.0
}

/// The keys of all sheets, one behind the other, from a page of their own on: with a page for each, the end of every key left most of one
/// empty. Whose it is stands above each, and again where it goes on.
pub(super) fn lay(worksheet: &Worksheet, sheet: Sheet, document: &mut Document) {
    let width_mm = sheet.text_width_mm();
    let left = match worksheet.sheets.as_slice() {
        [one] => format!("Key: {}", whose(one)),
        _ => "Keys".to_owned(),
    };
    document.section(Head { left, right: format!("{}, seed {}", worksheet.title, worksheet.seed) });
    document.add(Piece::paragraph(MARKING, BESIDE, width_mm));
    if let Some(left_out) = worksheet.left_out_words() {
        document.gap(LINES_MM);
        document.add(Piece::paragraph(&left_out, BESIDE, width_mm));
    }
    document.gap(BETWEEN_MM * 0.6);
    let mut page: Vec<Vec<Piece>> = Vec::new();
    for one in &worksheet.sheets {
        for (number, problem) in (1..).zip(&one.problems) {
            let lines = told(number, problem, column_mm(sheet));
            let name = headed(&format!("Key: {}", whose(one)), sheet, lines.clone());
            page.push(if number == 1 { name } else { lines.clone() });
            if page.len() > 1 && columns(&page, document.room_mm()).is_none() {
                page.pop();
                put(document, &page, sheet);
                document.page();
                let again = if number == 1 { String::new() } else { format!(", from {number} on") };
                page = vec![headed(&format!("Key: {}{again}", whose(one)), sheet, lines)];
            }
        }
    }
    put(document, &page, sheet);
}

fn whose(one: &LearnerSheet) -> &str {
    one.name.as_deref().unwrap_or("the worksheet")
}

/// A problem with whose key it is above it.
fn headed(name: &str, sheet: Sheet, mut lines: Vec<Piece>) -> Vec<Piece> {
    let name = Piece::paragraph(name, Style { size_mm: 4.6, ..Style::TITLE }, column_mm(sheet));
    if let Some(first) = lines.first_mut() {
        *first = name.above(1.0, std::mem::take(first));
    }
    lines
}

/// Puts these problems on the page.
fn put(document: &mut Document, page: &[Vec<Piece>], sheet: Sheet) {
    match columns(page, document.room_mm()) {
        Some([left, right]) => document.add(left.with(column_mm(sheet) + GUTTER_MM, 0.0, right)),
        // A problem that no page has room for goes on as it fits.
        None => page.iter().flatten().for_each(|line| {
            document.add(line.clone());
            document.gap(LINES_MM);
        }),
    }
}

/// These problems in two columns of this height: each whole in its column, where there is room for that; none where there is no room at
/// all.
fn columns(problems: &[Vec<Piece>], high_mm: f64) -> Option<[Piece; 2]> {
    let whole: Vec<Vec<Piece>> =
        problems.iter().map(|lines| vec![Piece::stack(lines.iter().cloned(), LINES_MM)]).collect();
    flowed(&whole, high_mm).or_else(|| flowed(problems, high_mm))
}

fn flowed(problems: &[Vec<Piece>], high_mm: f64) -> Option<[Piece; 2]> {
    let mut columns = [Piece::default(), Piece::default()];
    let mut at = 0;
    for lines in problems {
        for (number, line) in lines.iter().enumerate() {
            let is_empty = |column: &Piece| column.height_mm <= 0.0;
            let gap_mm = |column: &Piece| match (is_empty(column), number) {
                (true, _) => 0.0,
                (false, 0) => PROBLEMS_MM,
                (false, _) => LINES_MM,
            };
            if columns[at].height_mm + gap_mm(&columns[at]) + line.height_mm > high_mm {
                at += 1;
            }
            let column = columns.get_mut(at)?;
            if line.height_mm > high_mm {
                return None;
            }
            let gap_mm = gap_mm(column);
            *column = std::mem::take(column).above(gap_mm, line.clone());
        }
    }
    Some(columns)
}

/// A problem in the key, line by line: its answer with the code and the first wrong answer, the other wrong answers with their digits,
/// the worked steps.
pub(super) fn told(number: usize, problem: &Problem, width_mm: f64) -> Vec<Piece> {
    let told = Told::of(problem);
    let dark = BESIDE.dark();
    let set_in = |piece: Piece| Piece::blank(0.0).with(INDENT_MM, 0.0, piece);
    let room_mm = width_mm - INDENT_MM;
    let answer = match &told.tolerance {
        Some(near) => format!("{}   ({near})", told.answer),
        None => told.answer.clone(),
    };
    let answer = Piece::hanging("1", DIGIT_MM, &answer, Style::TEXT.strong(), room_mm);
    // Behind the answer where there is room, and else below it.
    let style = Style { size_mm: 2.4, ..Style::SMALL };
    let answer = match answer.width_mm + style.width_mm(&told.code) + 3.0 <= room_mm {
        true => answer.with(room_mm, 0.4, Piece::ending(told.code, style)),
        false => answer.above(0.0, Piece::line(told.code, style)),
    };
    let number = Piece::line(number.to_string(), Style::TEXT.strong());
    let head = Piece::blank(1.4).above(0.0, number.with(INDENT_MM, 0.0, answer));
    let head = head.rule(Point::new(0.0, 0.0), Point::new(width_mm, 0.0), 0.1, Colour::QUIET);
    let wrong = told.wrong.iter().map(|wrong| {
        let text = format!("{}: {}", wrong.answer, sentence(wrong.said));
        set_in(Piece::hanging(&wrong.digit.to_string(), DIGIT_MM, &text, dark, room_mm))
    });
    let steps = told.steps.iter().map(|step| set_in(Piece::paragraph(step, dark, room_mm)));
    let mut lines: Vec<Piece> = vec![head];
    lines.extend(wrong.chain(steps));
    // A head at the foot of a column would stand alone.
    if lines.len() > 1 {
        let second = lines.remove(1);
        lines[0] = std::mem::take(&mut lines[0]).above(LINES_MM, second);
    }
    lines
}
