//! A sheet to take outdoors: skill by skill and member by member a yes and a no to tick, with a compass in their hands.

use super::pieces::{add_together, heads, row};
use crate::paper::{Document, Head, Piece, Printed, Sheet, Style};
use crate::report::{Cell, Report, seen_short};
use crate::scene::{Colour, Point};
use crate::session::{GROUND_TOO, NO_PERMISSION, SAFETY};

/// The column of names, and the narrowest one of a skill, in mm.
const NAME_MM: f64 = 38.0;
const SKILL_MM: f64 = 23.0;
/// How high a row is, for a pencil, in mm.
const ROW_MM: f64 = 9.0;
/// So many members stand together, under the heads of their skills.
const MEMBERS_TOGETHER: usize = 12;
/// Between two parts, in mm.
const BETWEEN_MM: f64 = 6.0;

/// What is told above the names.
const HOW: &str = "Only what goes without your help shows what somebody can do out here. So each of them does it alone, with compass and map in hand, \
while you look on: tick yes where it went without a word from you. What was seen before stands in its box; a new tick counts in its place.";

/// What is told below them.
const BACK: &str = "Back at the laptop: on the leader's page the key o opens the same boxes in the same order: y, n or Space takes you from box to \
 box. Or type for each column needlewise patrol seen NAME NAME --skill E1 --by YOU --outcome yes. A few words of what was seen help whoever reads it later (--what).";

/// What the leader has walked, and what holds a group together.
const SAFE: &str = "Walk the ground yourself first. Give bounds, a recall signal and a time to be back; an adult stays in view of everybody. Whoever is lost \
stops and stays.";

/// The sheet, for those and the skills of a report. `name` shows somebody.
#[must_use]
pub fn printed_ticks(report: &Report, name: &dyn Fn(&str) -> String, sheet: Sheet) -> Printed {
    let report = &report.clone().by_name();
    let width_mm = sheet.text_width_mm();
    let title = format!("{}: seen on the ground", report.standard.title);
    let mut document = Document::new(sheet, &title, SAFETY);
    document.section(Head { left: report.standard.title.clone(), right: format!("for leaders only, {}", report.day) });
    document.add(Piece::paragraph(&title, Style { size_mm: 5.0, ..Style::TITLE }, width_mm));
    document.gap(2.0);
    document.add(Piece::paragraph(HOW, Style::TEXT, width_mm));
    document.gap(BETWEEN_MM / 2.0);
    let seen_by = "day ____________      seen by ______________________      where ______________________";
    document.add(Piece::paragraph(seen_by, Style::TEXT, width_mm));
    document.gap(BETWEEN_MM);
    if report.members.is_empty() {
        document.add(Piece::paragraph("Nobody is here yet.", Style::TEXT, width_mm));
        document.gap(BETWEEN_MM);
    }
    let many = crate::numbers::whole::<usize>(((width_mm - NAME_MM) / SKILL_MM).floor()).max(1);
    let skills: Vec<usize> = (0..report.standard.skills.len()).collect();
    for block in skills.chunks(many).filter(|_| !report.members.is_empty()) {
        let columns: Vec<f64> = std::iter::once(NAME_MM).chain(block.iter().map(|_| SKILL_MM)).collect();
        let wide: f64 = columns.iter().sum();
        let head = |first: &dyn Fn(usize) -> &'static str| -> Vec<String> {
            std::iter::once("").chain(block.iter().map(|at| first(*at))).map(str::to_owned).collect()
        };
        let titles = head(&|at| report.standard.skills[at].skill.title);
        let marks = head(&|at| report.standard.skills[at].skill.mark);
        // Whoever turns the page finds the heads again.
        for members in report.members.chunks(MEMBERS_TOGETHER) {
            let mut pieces = vec![row(&columns, &titles, Style::SMALL.dark()), heads(&columns, &marks)];
            for member in members {
                let mut line = Piece::paragraph(&name(&member.learner.name), Style::TEXT, NAME_MM - 2.0);
                for (column, cell) in
                    block.iter().enumerate().filter_map(|(column, at)| Some((column, member.cells.get(*at)?)))
                {
                    line = line.with(NAME_MM + crate::numbers::real(column) * SKILL_MM, 0.0, ticks(cell));
                }
                let foot = line.height_mm.max(ROW_MM);
                pieces.push(Piece::blank(foot).with(0.0, 1.0, line).rule(
                    Point::new(0.0, foot + 1.0),
                    Point::new(wide, foot + 1.0),
                    0.1,
                    Colour::QUIET,
                ));
            }
            add_together(&mut document, sheet, 0.6, pieces);
            document.gap(BETWEEN_MM);
        }
    }
    for words in [SAFE, BACK] {
        document.add(Piece::paragraph(words, Style::TEXT, width_mm));
        document.gap(1.5);
    }
    document.add(Piece::paragraph(&format!("{GROUND_TOO} {NO_PERMISSION}"), Style::SMALL.dark(), width_mm));
    document.print()
}

/// What was seen last, and the two boxes.
fn ticks(cell: &Cell) -> Piece {
    let wide = SKILL_MM - 1.0;
    let boxes = Piece::paragraph("□ yes   □ no", Style::TEXT, wide);
    match seen_short(cell) {
        Some(before) => Piece::paragraph(&before, Style::SMALL.dark(), wide).above(0.6, boxes),
        None => boxes,
    }
}
