//! The picture of what is written down of the ground: the boxes as on the printed sheet, the chosen one in words, three fields.

use super::seen::{Field, SeenForm};
use crate::report::{Cell, latest_seen, seen_words};
use crate::session::sentence;
use crate::store::SeenOutcome;
use crate::tui::model::Shared;
use crate::tui::paint::{Lines, Painter, cut, cut_left};
use crate::tui::theme::Tone;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Cells of a member's name, of the narrowest column and of the widest one.
const NAME: usize = 15;
const LEAST: usize = 6;
const MOST: usize = 18;
/// From so many cells on a column has room for words beside the mark.
const WORDS: usize = 10;
/// Lines beside the members: the last one is free for what is said.
const OTHER_LINES: u16 = 13;
/// Cells of a field, and of what stands before it.
const FIELD: u16 = 60;
const LABEL: u16 = 13;

/// Draws the screen.
pub fn view(form: &SeenForm, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.title("What did you see on the ground?");
    lines.quiet("Yes is only what went without your help. + and − were seen before.");
    lines.gap();
    boxes(form, shared, area, &mut lines);
    lines.gap();
    let rows =
        [(Field::Day, "Seen on", &form.on), (Field::What, "What, where", &form.what), (Field::By, "Seen by", &form.by)];
    let mut typed = None;
    for (field, label, input) in rows {
        let chosen = form.field == field;
        if chosen {
            typed = Some((lines.len(), input));
        }
        let (tone, shown) = (if chosen { Tone::Title } else { Tone::Text }, cut_left(input.text(), usize::from(FIELD)));
        let blank = " ".repeat(usize::from(FIELD).saturating_sub(shown.width()));
        let label = (tone, format!("{label:<0$}", usize::from(LABEL)));
        lines.spans(vec![label, (Tone::Key, "› ".to_owned()), (Tone::Field, format!("{shown}{blank}"))]);
    }
    painter.lines(lines, area);
    if let Some((row, input)) = typed {
        let field = Rect { x: area.x + LABEL, width: area.width.saturating_sub(LABEL), ..area };
        painter.cursor(field, row, input, FIELD);
    }
}

/// The boxes, as many as there is room for, and the chosen one in words.
fn boxes(form: &SeenForm, shared: &Shared, area: Rect, lines: &mut Lines) {
    let (report, name) = (&form.report, form.report.shown_as(shared.leader.initials));
    let rows = usize::from(area.height.saturating_sub(OTHER_LINES)).max(2);
    form.window.set(rows);
    let room = usize::from(area.width).saturating_sub(2 + NAME);
    let wide = (room / report.standard.skills.len().max(1)).clamp(LEAST, MOST);
    let columns = (room / wide).max(1);
    let from = form.skill.saturating_sub(columns - 1);
    let shown = || report.standard.skills.iter().enumerate().skip(from).take(columns);
    let mut heads = vec![(Tone::Quiet, format!("  {:<NAME$}", ""))];
    for (at, one) in shown() {
        let words =
            if wide >= WORDS { format!("{} {}", one.skill.mark, one.skill.title) } else { one.skill.mark.to_owned() };
        let tone = if at == form.skill { Tone::Title } else { Tone::Quiet };
        heads.push((tone, format!(" {:<1$}", cut(&words, wide - 2), wide - 1)));
    }
    lines.spans(heads);
    let first = form.member.saturating_sub(rows - 1);
    for (row, (member, ticks)) in report.members.iter().zip(&form.ticks).enumerate().skip(first).take(rows) {
        let chosen = row == form.member;
        let (mark, tone) = if chosen { ("▸ ", Tone::Chosen) } else { ("  ", Tone::Text) };
        let mut spans = vec![(tone, format!("{mark}{:<NAME$}", cut(&name(&member.learner.name), NAME - 1)))];
        for (at, _) in shown() {
            let (words, tone) = content(ticks.get(at).copied().flatten(), member.cells.get(at));
            let here = chosen && at == form.skill && form.field == Field::Boxes;
            let (words, tone) = if here { (format!("[{words}]"), Tone::Chosen) } else { (format!(" {words} "), tone) };
            spans.push((tone, words.clone()));
            spans.push((Tone::Text, " ".repeat(wide.saturating_sub(words.chars().count()))));
        }
        lines.spans(spans);
    }
    let (Some(member), Some(one)) = (report.members.get(form.member), report.standard.skills.get(form.skill)) else {
        return;
    };
    let before = member.cells.get(form.skill).and_then(|cell| latest_seen(cell.seen.iter()));
    lines.gap();
    let (members, skills) = (report.members.len(), report.standard.skills.len());
    // Where not all is in sight, it is said how much there is.
    let place = |shown: usize, at: usize, of: usize, what: &str| {
        if shown < of { format!(" ({what}{} of {of})", at + 1) } else { String::new() }
    };
    let (whose, which) = (place(rows, form.member, members, ""), place(columns, form.skill, skills, "skill "));
    lines.text(&format!("{}{whose}: {} {}{which}", name(&member.learner.name), one.skill.mark, one.skill.title));
    lines.quiet(&sentence(&before.map_or_else(|| "not seen on the ground before".to_owned(), seen_words)));
}

/// What stands in a box: what is ticked now, or quietly what was seen before.
fn content(tick: Option<SeenOutcome>, cell: Option<&Cell>) -> (&'static str, Tone) {
    match (tick, cell.and_then(Cell::seen_outcome)) {
        (Some(tick), _) => (tick.word(), Tone::Title),
        (None, Some(SeenOutcome::Yes)) => ("+", Tone::Quiet),
        (None, Some(SeenOutcome::No)) => ("−", Tone::Quiet),
        (None, Some(SeenOutcome::NotSaid)) => ("?", Tone::Quiet),
        (None, None) => ("·", Tone::Quiet),
    }
}
