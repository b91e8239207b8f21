//! A course on pages: cards for the members, the plan, the leader's key, and what came out of the measuring.

use super::pieces::{add_together, heads, row};
use crate::course::debrief::{self, Debrief, LEGS_HEAD, legs_table, picture};
use crate::course::{BLANK, CardLine, CardPart, Course, Measured, Member, Route, card, key_parts, plan};
use crate::paper::{Document, Head, Piece, Printed, Sheet, Style};
use crate::problem::TEXT_MM;
use crate::scene::Scene;
use crate::session::SAFETY;

/// How far what is said stands in behind its name, in mm.
const NAME_MM: f64 = 30.0;
/// Between two parts, in mm.
const BETWEEN_MM: f64 = 5.0;
/// Handwriting is larger than print: how high a line is that is filled in.
const WRITTEN_MM: f64 = 8.0;
/// How much wider a place to write is on paper than in a text.
const WIDER: usize = 2;

/// What is printed of a course.
#[derive(Clone, Debug)]
pub struct CoursePages<'a> {
    /// The course.
    pub course: &'a Course,
    /// The course worked out.
    pub route: &'a Route,
    /// For whom there are cards; none stands for anybody.
    pub cards: Vec<Option<&'a Member>>,
    /// Whether cards and the plan beside them have the answers.
    pub answers: bool,
    /// Whether the leader's key is printed, with a plan that has the bearings.
    pub key: bool,
    /// How the points are laid out on the ground, step by step; may be empty.
    pub laying: Vec<String>,
}

/// The cards, each on a page of its own, the plan, and behind them the key.
#[must_use]
pub fn printed_course(pages: &CoursePages<'_>, sheet: Sheet) -> Printed {
    let CoursePages { course, route, .. } = *pages;
    let mut document = Document::new(sheet, format!("{}, course", course.title), SAFETY);
    let right = format!("{}, {}", course.title, route.day);
    let head = |left: &str| Head { left: left.to_owned(), right: right.clone() };
    for member in &pages.cards {
        document.section(head(member.map_or("Card", |member| &member.name)));
        parts(&mut document, sheet, &card(course, route, *member, pages.answers));
    }
    document.section(head("Plan"));
    document.add(drawing(plan(route, &course.title, pages.answers, TEXT_MM), sheet));
    if pages.key {
        document.section(head("Key"));
        parts(&mut document, sheet, &key_parts(course, route));
        if !pages.laying.is_empty() {
            let width_mm = sheet.text_width_mm();
            let steps = (1..).zip(&pages.laying).map(|(number, step): (u32, &String)| {
                Piece::hanging(&number.to_string(), 6.0, step, Style::TEXT, width_mm)
            });
            let title = Piece::line("Laying them", Style::TEXT.strong());
            add_together(&mut document, sheet, 0.8, std::iter::once(title).chain(steps).collect());
        }
        if !pages.answers {
            document.page();
            document.add(drawing(plan(route, &course.title, true, TEXT_MM), sheet));
        }
    }
    document.print()
}

/// What somebody measured, each on a page of its own with the legs walked over the legs meant on the next.
#[must_use]
pub fn printed_debriefs(course: &Course, route: &Route, debriefs: &[(&Measured, Debrief)], sheet: Sheet) -> Printed {
    /// The columns of the legs in mm; the last one takes the rest.
    const COLUMNS: [f64; 4] = [12.0, 22.0, 24.0, 24.0];
    let mut document = Document::new(sheet, format!("{}, what was measured", course.title), SAFETY);
    let width_mm = sheet.text_width_mm();
    let mut columns = COLUMNS.to_vec();
    columns.push(width_mm - COLUMNS.iter().sum::<f64>());
    for (measured, debrief) in debriefs {
        document.section(Head { left: debrief.by.clone(), right: format!("{}, {}", course.title, route.day) });
        let title = format!("What {} measured, {}", debrief.by, debrief.taken.word());
        document.add(Piece::paragraph(&title, Style::TITLE, width_mm));
        document.gap(BETWEEN_MM);
        let mut legs = vec![heads(&columns, &LEGS_HEAD.map(str::to_owned))];
        legs.extend(legs_table(debrief).map(|leg| row(&columns, &leg, Style::SMALL.dark())));
        add_together(&mut document, sheet, 0.8, legs);
        document.gap(BETWEEN_MM);
        for sentence in debrief::words(debrief) {
            document.add(Piece::paragraph(&sentence, Style::TEXT, width_mm));
            document.gap(1.5);
        }
        document.page();
        document.add(drawing(picture(route, measured, debrief, &course.title, TEXT_MM), sheet));
    }
    document.print()
}

/// A plan keeps its own margins, so it stands in the middle of the paper and not of the text.
fn drawing(scene: Scene, sheet: Sheet) -> Piece {
    let aside_mm = (sheet.text_width_mm() - scene.width_mm) / 2.0;
    Piece::blank(0.0).with(aside_mm, 0.0, Piece::figure(scene, TEXT_MM))
}

/// Headings with what stands below them; the first is the title.
fn parts(document: &mut Document, sheet: Sheet, parts: &[CardPart]) {
    let width_mm = sheet.text_width_mm();
    for (number, part) in parts.iter().enumerate() {
        let style = if number == 0 { Style::TITLE } else { Style::TEXT.strong() };
        let mut pieces = vec![Piece::paragraph(&part.heading, style, width_mm)];
        pieces.extend(part.lines.iter().map(|line| said(line, width_mm)));
        add_together(document, sheet, 0.8, pieces);
        document.gap(BETWEEN_MM);
    }
}

/// A line of a part; where something is to be written, it has room for a hand.
fn said(line: &CardLine, width_mm: f64) -> Piece {
    let is_written = line.text.contains(BLANK);
    let text = line.text.replace(BLANK, &BLANK.repeat(WIDER));
    let indent_mm = if line.name.is_empty() { 0.0 } else { NAME_MM };
    let text = Piece::paragraph(&text, Style::TEXT, width_mm - indent_mm);
    let name = Piece::line(line.name, Style { size_mm: Style::TEXT.size_mm, ..Style::SMALL });
    let piece = name.with(indent_mm, 0.0, text);
    let above_mm = if is_written { (WRITTEN_MM - Style::TEXT.leading_mm()).max(0.0) } else { 0.0 };
    Piece::blank(above_mm).above(0.0, piece)
}
