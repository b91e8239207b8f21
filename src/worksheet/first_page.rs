//! The first page of the hand-out on one sheet of paper, whoever the members are: what there is no room for stands on the pages behind.

use super::pieces::{heads_in, row};
use crate::paper::{Document, Piece, Sheet, Style};
use crate::report::{
    BEFORE_HEADING, BESIDE_HEADING, FIRST_HEADING, FirstPage, MARKS, PlanTold, Planned, Report, TEACH_HEADING,
    TeachFirst, blocks, called, first_page, skills_words,
};
use crate::scene::Colour;

/// 9 points: no type of this page is smaller, since it is read by lamplight.
const TYPE: Style = Style { size_mm: 3.2, strong: false, colour: Colour::TEXT };
/// The column of names is as wide as the longest of them, within these, in mm; that of a skill takes `not yet-`; what comes next has the
/// rest, and at least so much.
const NAMES_MM: (f64, f64) = (26.0, 46.0);
const SKILL_MM: f64 = 15.0;
const NEXT_MM: f64 = 38.0;
/// The column of a piece of an evening, in mm: it takes `practice`.
const PIECE_MM: f64 = 16.4;
/// How far what belongs to a thing to teach is set in, in mm.
const IN_MM: f64 = 5.0;
/// Between two parts, and between two rows, in mm.
const PART_MM: f64 = 2.8;
const ROW_MM: f64 = 0.5;

/// How much of it is on the page.
#[derive(Clone, Copy)]
struct Share {
    members: usize,
    teach: usize,
    /// Whether of what is to be taught only what goes wrong is told, and with whom.
    brief: bool,
    /// Whether what has to be ready before the evening stands below its plan; it stands behind, too.
    needs: bool,
    /// Whether the page is printed alone, with no page behind it.
    alone: bool,
    /// Whether the table calls members as the sentences do, for want of room for whole names.
    called: bool,
}

impl Share {
    /// Where the rest of something stands.
    const fn elsewhere(self) -> &'static str {
        if self.alone { "stands in the whole report (needlewise report)" } else { "stands on the next page" }
    }

    /// Where the other members stand.
    const fn follow(self) -> &'static str {
        if self.alone { "stand in the whole report (needlewise report)" } else { "follow on the next pages" }
    }
}

/// Puts it on a page: all of it where there is room. Else fewer things to teach, then members by the names that they are called by,
/// then nothing of what has to be ready, and then fewer members, with how many follow.
pub(super) fn lay(
    document: &mut Document,
    sheet: Sheet,
    report: &Report,
    (plan, alone): (&PlanTold, bool),
    name: &dyn Fn(&str) -> String,
) {
    let page = first_page(report, plan, name);
    let (all, teach) = (report.members.len(), page.teach.len());
    // From all that there is to teach down to nothing, and before that one thing in a line.
    let shares = |called: bool| {
        let share = move |teach, brief| Share { members: all, teach, brief, needs: true, alone, called };
        let fewer = (1..=teach).rev().map(move |teach| share(teach, false));
        fewer.chain([share(teach.min(1), true), share(0, true)])
    };
    let bare = Share { members: all, teach: teach.min(1), brief: true, needs: false, alone, called: true };
    let fewer = (1..all).rev().map(|members| Share { members, teach: teach.min(1), brief: false, ..bare });
    let mut drawn = shares(false)
        .chain(shares(true))
        .chain([bare, Share { teach: 0, ..bare }])
        .chain(fewer)
        .map(|share| drawn(&page, share, sheet, report, name));
    let fits = drawn.find(|piece| piece.height_mm <= sheet.text_height_mm());
    document.add(fits.unwrap_or_else(|| Piece::line(&page.title, TYPE)));
}

fn drawn(page: &FirstPage, share: Share, sheet: Sheet, report: &Report, name: &dyn Fn(&str) -> String) -> Piece {
    let width_mm = sheet.text_width_mm();
    let lines =
        |lines: &[String]| Piece::stack(lines.iter().map(|line| Piece::paragraph(line, TYPE, width_mm)), ROW_MM);
    let call = called(report, name);
    let mut first: Vec<Piece> = (1..)
        .zip(&page.first)
        .map(|(number, line)| Piece::hanging(&format!("{number}."), IN_MM, line, TYPE, width_mm))
        .collect();
    first.extend(page.stale.iter().map(|stale| Piece::paragraph(stale, TYPE, width_mm)));
    let mut parts = vec![
        Piece::paragraph(&page.title, Style { size_mm: 4.4, ..Style::TITLE }, width_mm),
        Piece::paragraph(&page.ready.join(" "), TYPE, width_mm),
        if share.called { table(share, sheet, report, &call) } else { table(share, sheet, report, name) },
    ];
    match &page.planned {
        Some(planned) => {
            parts.push(headed(&planned.heading, timetable(planned, share, width_mm)));
            parts.extend((!first.is_empty()).then(|| headed(BESIDE_HEADING, Piece::stack(first, ROW_MM))));
        }
        None => parts.push(headed(FIRST_HEADING, Piece::stack(first, ROW_MM))),
    }
    if share.teach < page.teach.len().min(1) {
        let words = format!("What to teach first {}.", share.elsewhere());
        parts.push(Piece::paragraph(&words, TYPE, width_mm));
    }
    match page.teach.first().filter(|_| share.teach > 0 && share.brief) {
        Some(first) => {
            parts.push(Piece::paragraph(&format!("{TEACH_HEADING}: {}.", first.what), TYPE.strong(), width_mm));
        }
        None if share.teach > 0 => {
            let teach = page.teach.iter().take(share.teach).map(|teach| taught(teach, width_mm));
            parts.push(headed(TEACH_HEADING, Piece::stack(teach, 1.2)));
        }
        None => {}
    }
    parts.push(headed(BEFORE_HEADING, lines(&page.before)));
    Piece::stack(parts, PART_MM)
}

/// Who does what when: a row for each, a column for each piece of the evening. What there is no room for stands on the next page, where the
/// plan is told piece by piece.
fn timetable(planned: &Planned, share: Share, width_mm: f64) -> Piece {
    let members = share.members;
    let shown = planned.rows.iter().map(|(name, _)| TYPE.width_mm(name) + 2.1);
    let name_mm = shown.fold(NAMES_MM.0, f64::max).min(NAMES_MM.1);
    let room = crate::numbers::whole::<usize>(((width_mm - name_mm) / PIECE_MM).floor());
    let pieces = planned.times.len().min(room);
    let columns: Vec<f64> = std::iter::once(name_mm).chain(std::iter::repeat_n(PIECE_MM, pieces)).collect();
    let cells = |first: &str, rest: &[String]| -> Vec<String> {
        std::iter::once(first.to_owned()).chain(rest.iter().cloned()).collect()
    };
    let mut rows = vec![heads_in(&columns, &cells("minutes", &planned.times), TYPE.strong())];
    rows.extend(planned.rows.iter().take(members).map(|(name, words)| row(&columns, &cells(name, words), TYPE)));
    if pieces < planned.times.len() || members < planned.rows.len() {
        let words = format!("The rest of the plan {}, piece by piece.", share.elsewhere());
        rows.push(Piece::paragraph(&words, TYPE, width_mm));
    }
    rows.extend(planned.notes.iter().map(|note| Piece::paragraph(note, TYPE, width_mm)));
    // One after the other, for the room.
    if share.needs && !planned.needs.is_empty() {
        rows.push(Piece::paragraph(&planned.needs.join(" "), TYPE, width_mm));
    }
    Piece::stack(rows, ROW_MM)
}

fn headed(heading: &str, part: Piece) -> Piece {
    Piece::line(heading, Style { size_mm: 3.8, ..TYPE.strong() }).above(ROW_MM, part)
}

fn taught(teach: &TeachFirst, width_mm: f64) -> Piece {
    let more = format!("{} {}", teach.how, teach.evidence);
    let what = Piece::paragraph(&teach.what, TYPE.strong(), width_mm);
    match more.trim() {
        "" => what,
        more => what.above(0.0, Piece::blank(0.0).with(IN_MM, 0.0, Piece::paragraph(more, TYPE, width_mm - IN_MM))),
    }
}

/// The first members, how they stand skill by skill, and what comes next for each. Where there are more skills than stand side by side, what
/// comes next stands below the last of them.
fn table(share: Share, sheet: Sheet, report: &Report, name: &dyn Fn(&str) -> String) -> Piece {
    let members = share.members;
    let width_mm = sheet.text_width_mm();
    let shown = report.members.iter().map(|member| TYPE.width_mm(&name(&member.learner.name)) + 2.1);
    let name_mm = shown.fold(NAMES_MM.0, f64::max).min(NAMES_MM.1);
    let many = crate::numbers::whole::<usize>(((width_mm - name_mm - NEXT_MM) / SKILL_MM).floor());
    let all = blocks(report, name, many);
    let last = all.len().saturating_sub(1);
    let mut pieces = Vec::new();
    for (at, block) in all.into_iter().enumerate() {
        let skills = block.heads.len();
        let mut columns: Vec<f64> = std::iter::once(name_mm).chain(std::iter::repeat_n(SKILL_MM, skills)).collect();
        let mut head: Vec<String> = std::iter::once(String::new()).chain(block.heads).collect();
        if at == last {
            columns.push(width_mm - columns.iter().sum::<f64>());
            head.push("next".to_owned());
        }
        pieces.push(heads_in(&columns, &head, TYPE.strong()));
        for ((name, cells), member) in block.rows.into_iter().zip(&report.members).take(members) {
            let mut cells: Vec<String> = std::iter::once(name).chain(cells).collect();
            cells.push(member.next_in_table());
            pieces.push(row(&columns, &cells, TYPE));
        }
        let ready: Vec<String> = std::iter::once("ready".to_owned()).chain(block.ready).collect();
        pieces.push(row(&columns, &ready, TYPE.strong()));
    }
    let follow = report.members.len().saturating_sub(members);
    if follow > 0 {
        let words = format!("{follow} more of {} {}.", report.members.len(), share.follow());
        pieces.push(Piece::line(words, TYPE.strong()));
    }
    pieces.push(Piece::paragraph(&skills_words(report), TYPE, width_mm));
    pieces.push(Piece::paragraph(MARKS, TYPE, width_mm));
    Piece::stack(pieces, ROW_MM)
}
