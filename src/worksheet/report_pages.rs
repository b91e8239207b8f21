//! A report on pages: the hand-out for a co-leader, and a sheet for the wall.

use super::first_page;
use super::pieces::{add_together, heads, row};
use crate::paper::{Document, Head, Piece, Printed, Sheet, Style};
use crate::report::{
    MARKS, Member, PLAN_HEADING, PlanTold, Planned, Report, TeachDepth, besides_words, blocks, closing_lines,
    member_words, pair_words, seen_words, skills_words, standing_words, teach_parts,
};
use crate::scene::{Colour, Point};
use crate::session::{GROUND_TOO, NO_PERMISSION, SAFETY, sentence};

/// Between two parts, in mm.
const BETWEEN_MM: f64 = 6.0;
/// The column of names, and the narrowest one of a skill, in mm.
const NAME_MM: f64 = 40.0;
const SKILL_MM: f64 = 19.0;
/// How far a blank at the beginning of a line sets it in, in mm.
const BLANK_MM: f64 = 1.4;

/// The hand-out: the first page, complete in itself; behind it the table, what to teach next with what it rests on, and each member.
/// `name` shows somebody.
#[must_use]
pub fn printed_report(report: &Report, plan: &PlanTold, name: &dyn Fn(&str) -> String, sheet: Sheet) -> Printed {
    let width_mm = sheet.text_width_mm();
    let small = Style::SMALL.dark();
    let mut document = begun(report, sheet);
    if report.members.is_empty() {
        document.add(Piece::paragraph("Nobody is here yet.", Style::TEXT, width_mm));
    } else {
        first_page::lay(&mut document, sheet, report, (plan, false), name);
        document.page();
        plan.planned.iter().for_each(|planned| steps(&mut document, sheet, planned));
        matrix(&mut document, sheet, report, name);
        teach(&mut document, sheet, report, name);
    }
    for member in &report.members {
        document.gap(BETWEEN_MM);
        add_together(&mut document, sheet, 0.6, standing(member, report, name, width_mm));
    }
    document.gap(BETWEEN_MM);
    for line in closing_lines(report) {
        document.add(Piece::paragraph(&line, small, width_mm));
        document.gap(1.0);
    }
    document.print()
}

/// Its first page alone.
#[must_use]
pub fn printed_first_page(report: &Report, plan: &PlanTold, name: &dyn Fn(&str) -> String, sheet: Sheet) -> Printed {
    let mut document = begun(report, sheet);
    if report.members.is_empty() {
        document.add(Piece::paragraph("Nobody is here yet.", Style::TEXT, sheet.text_width_mm()));
    } else {
        first_page::lay(&mut document, sheet, report, (plan, true), name);
    }
    document.print()
}

/// The plan of an evening piece by piece, and what has to be ready before.
fn steps(document: &mut Document, sheet: Sheet, planned: &Planned) {
    const COLUMNS: [f64; 2] = [17.0, 16.0];
    let width_mm = sheet.text_width_mm();
    let columns = [COLUMNS[0], COLUMNS[1], width_mm - COLUMNS.iter().sum::<f64>()];
    let mut pieces = vec![Piece::paragraph(PLAN_HEADING, Style { size_mm: 4.4, ..Style::TEXT.strong() }, width_mm)];
    for (time, place, text) in &planned.steps {
        pieces.push(row(&columns, &[time.clone(), (*place).to_owned(), text.clone()], Style::TEXT));
    }
    pieces.extend(planned.needs.iter().map(|need| Piece::paragraph(need, Style::TEXT, width_mm)));
    add_together(document, sheet, 1.0, pieces);
    document.gap(BETWEEN_MM);
}

fn begun(report: &Report, sheet: Sheet) -> Document {
    let title = format!("{}: who is ready, and what to do first", report.standard.title);
    let mut document = Document::new(sheet, title, SAFETY);
    document.section(Head { left: report.standard.title.clone(), right: format!("for leaders only, {}", report.day) });
    document
}

/// The table, in as many blocks as its skills need side by side.
fn matrix(document: &mut Document, sheet: Sheet, report: &Report, name: &dyn Fn(&str) -> String) {
    let width_mm = sheet.text_width_mm();
    let small = Style::SMALL.dark();
    let many = crate::numbers::whole::<usize>(((width_mm - NAME_MM) / SKILL_MM).floor());
    for block in blocks(report, name, many) {
        let columns: Vec<f64> = std::iter::once(NAME_MM).chain(block.heads.iter().map(|_| SKILL_MM)).collect();
        let cells = |first: String, rest: Vec<String>| -> Vec<String> { std::iter::once(first).chain(rest).collect() };
        let mut pieces = vec![heads(&columns, &cells(String::new(), block.heads))];
        pieces.extend(block.rows.into_iter().map(|(name, marks)| row(&columns, &cells(name, marks), small)));
        pieces.push(row(&columns, &cells("ready".to_owned(), block.ready), small.strong()));
        add_together(document, sheet, 1.2, pieces);
        document.gap(BETWEEN_MM * 0.6);
    }
    document.add(Piece::paragraph(&skills_words(report), small, width_mm));
    document.add(Piece::paragraph(MARKS, small, width_mm));
    document.gap(BETWEEN_MM);
}

/// What to teach next: each item stays together.
fn teach(document: &mut Document, sheet: Sheet, report: &Report, name: &dyn Fn(&str) -> String) {
    let width_mm = sheet.text_width_mm();
    let (mut items, mut is_heading_alone): (Vec<Vec<Piece>>, bool) = (Vec::new(), false);
    for (depth, text) in teach_parts(report, name) {
        let style = match depth {
            TeachDepth::Heading => Style { size_mm: 4.4, ..Style::TEXT.strong() },
            TeachDepth::Item => Style::TEXT.strong(),
            TeachDepth::Remark | TeachDepth::Detail => Style::TEXT,
            TeachDepth::Evidence => Style::SMALL.dark(),
        };
        let indent_mm = crate::numbers::real(depth.indent().len().saturating_sub(2)) * BLANK_MM;
        let piece = Piece::blank(0.0).with(indent_mm, 0.0, Piece::paragraph(&text, style, width_mm - indent_mm));
        // The heading stays with the first item.
        let begins = matches!(depth, TeachDepth::Item | TeachDepth::Remark);
        match items.last_mut() {
            Some(item) if !begins || is_heading_alone => item.push(piece),
            _ => items.push(vec![piece]),
        }
        is_heading_alone = depth == TeachDepth::Heading;
    }
    for item in items {
        add_together(document, sheet, 0.6, item);
        document.gap(2.5);
    }
}

/// A member, line by line.
fn standing(member: &Member, report: &Report, name: &dyn Fn(&str) -> String, width_mm: f64) -> Vec<Piece> {
    const COLUMNS: [f64; 3] = [8.0, 48.0, 13.0];
    let small = Style::SMALL.dark();
    let rest_mm = width_mm - COLUMNS.iter().sum::<f64>();
    let columns = [COLUMNS[0], COLUMNS[1], COLUMNS[2], rest_mm];
    let head = Piece::paragraph(&member_words(member, name), Style::TEXT.strong(), width_mm);
    let top = Point::new(0.0, 0.0);
    let head = Piece::blank(1.6).above(0.0, head).rule(top, Point::new(width_mm, 0.0), 0.1, Colour::QUIET);
    let mut pieces = vec![head];
    let ready_for = sentence(&member.ready_for(&report.standard.title));
    pieces.push(Piece::paragraph(&ready_for, Style::TEXT, width_mm));
    pieces.extend(member.cautions(report.day).iter().map(|caution| Piece::paragraph(caution, small, width_mm)));
    for cell in &member.cells {
        let cells = [
            cell.skill.mark.to_owned(),
            cell.skill.title.to_owned(),
            format!("level {}", cell.level),
            standing_words(member, cell),
        ];
        pieces.push(row(&columns, &cells, small));
        pieces.extend(cell.seen.iter().map(|seen| {
            let text = Piece::paragraph(&seen_words(seen), small, width_mm - COLUMNS[0]);
            Piece::blank(0.0).with(COLUMNS[0], 0.0, text)
        }));
    }
    pieces.extend(besides_words(member).into_iter().map(|besides| Piece::paragraph(&besides, small, width_mm)));
    pieces
}

/// A sheet for the wall: skill by skill who is ready or was seen to do it, and who shows whom. Whoever is neither is not on it,
/// unless somebody shows them, and of no error anything is said. `name` shows somebody.
#[must_use]
pub fn printed_wall(report: &Report, name: &dyn Fn(&str) -> String, sheet: Sheet) -> Printed {
    let width_mm = sheet.text_width_mm();
    let text = Style { size_mm: 5.0, ..Style::TEXT };
    let small = Style { size_mm: 3.2, ..Style::TEXT };
    let mut document = Document::new(sheet, format!("{}: who is ready", report.standard.title), SAFETY);
    document.section(Head { left: report.standard.title.clone(), right: report.day.to_string() });
    document.add(Piece::paragraph(&report.standard.title, Style { size_mm: 9.0, ..Style::TITLE }, width_mm));
    document.gap(2.0);
    document.add(Piece::paragraph(WALL_HOW, small, width_mm));
    document.gap(BETWEEN_MM);
    for (at, one) in report.standard.skills.iter().enumerate() {
        let names: Vec<String> = report
            .members
            .iter()
            .filter_map(|member| {
                let cell = member.cells.get(at)?;
                let mark = match (cell.is_ready(), cell.is_seen()) {
                    (true, true) => " +",
                    (true, false) => "",
                    (false, true) => " (+)",
                    (false, false) => return None,
                };
                Some(format!("{}{mark}", name(&member.learner.name)))
            })
            .collect();
        let mut pieces = vec![Piece::paragraph(one.skill.title, text.strong(), width_mm)];
        pieces.extend((!names.is_empty()).then(|| Piece::paragraph(&names.join(",  "), text, width_mm)));
        // The next ones are written in by hand.
        let line = Piece::blank(9.0).rule(Point::new(0.0, 8.0), Point::new(width_mm, 8.0), 0.15, Colour::QUIET);
        pieces.push(line);
        add_together(&mut document, sheet, 0.6, pieces);
        document.gap(2.0);
    }
    let pairs = pair_words(report, name);
    if !pairs.is_empty() {
        document.gap(BETWEEN_MM);
        let mut pieces = vec![Piece::line("Who shows whom", Style { size_mm: 6.0, ..text.strong() })];
        pieces.extend(pairs.iter().map(|pair| Piece::paragraph(pair, text, width_mm)));
        add_together(&mut document, sheet, 1.5, pieces);
    }
    document.gap(BETWEEN_MM);
    document.add(Piece::paragraph(&format!("{GROUND_TOO} {NO_PERMISSION}"), small, width_mm));
    document.print()
}

/// What is told above the wall's names.
const WALL_HOW: &str = "Ready at the laptop, skill by skill; + was seen to do it on the ground as well, (+) on the ground alone. New names are written on the lines by hand.";
