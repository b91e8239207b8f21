//! The picture of the patrol's page: the table, the chosen member in words, what to teach next.

use super::page_view::shape as practice_shape;
use super::patrol::{Columns, KeptFor, PatrolPage};
use crate::learner::State;
use crate::problem::Family;
use crate::report::{Cell, Member, NextStep, TeachDepth, cell_words, seen_words, teach_parts, wrong_ready_words};
use crate::session::{GROUND_TOO, NO_PERMISSION, Readiness, first_day_words, plan_words, sentence};
use crate::store::SeenOutcome;
use crate::tui::model::Shared;
use crate::tui::paint::{Lines, Painter, cut};
use crate::tui::theme::Tone;
use ratatui::layout::Rect;

/// Cells of a member's name.
const NAME: usize = 13;
/// Cells of what comes next, at the end of a row.
const NEXT: usize = 12;
/// The widest column, and the narrowest that has room for words beside the shapes.
const WIDEST: usize = 14;
const WORDS: usize = 10;
/// Rows under the table that are kept for the chosen member and what to teach, where there are more members than fit.
const BELOW: usize = 10;
/// Rows of members at least.
const LEAST: usize = 4;

/// A readiness as shape and short word, told apart without colour.
#[must_use]
pub const fn short(readiness: Readiness) -> (&'static str, &'static str, Tone) {
    match readiness {
        Readiness::Ready { .. } => ("●", "ready", Tone::Right),
        Readiness::SecondTry { .. } => ("◐", "2nd try", Tone::Text),
        Readiness::NotYet { .. } => ("○", "not yet", Tone::Text),
        Readiness::CheckAgain { .. } => ("◌", "again", Tone::Text),
        Readiness::UnderWay { .. } => ("…", "begun", Tone::Text),
        Readiness::NotChecked => ("·", "", Tone::Quiet),
    }
}

/// Draws the screen.
pub fn view(page: &PatrolPage, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let report = &page.report;
    let name = report.shown_as(shared.leader.initials);
    let mut table = Lines::new(shared.theme, area.width);
    if let Some(manage) = &page.manage {
        super::manage::view(manage, shared, painter, area);
        return;
    }
    if let Some(input) = &page.name {
        table.title("Who is new?");
        let row = table.field(input, 36);
        table.gap();
        table.quiet("Answers are kept under this name, on this computer only. A first name is enough. Several names: a comma between them.");
        painter.lines(table, area);
        painter.cursor(area, row, input, 36);
        return;
    }
    if report.members.is_empty() {
        table.title("Nobody is here yet.");
        table.text("n adds somebody. Whoever practises or is checked on this computer stands here, too.");
        painter.lines(table, area);
        return;
    }
    // As many rows as the window has: what is said of one member can be scrolled, and a list is to be seen whole.
    let rows = usize::from(area.height).saturating_sub(BELOW).max(LEAST);
    page.window.set(rows);
    let first = page.chosen.saturating_sub(rows - 1);
    let width = usize::from(area.width);
    header(page, width, &mut table);
    for (at, member) in report.members.iter().enumerate().skip(first).take(rows) {
        row(member, &name(&member.learner.name), at == page.chosen, page.columns, width, &mut table);
    }
    totals(page, width, &mut table);
    match &page.find {
        Some(find) => table.tone(Tone::Chosen, &format!("Name: {}_", find.text())),
        None => {
            if report.members.len() > rows {
                table.quiet(&format!(
                    "{} of {}: PgUp, PgDn, and / looks for a name",
                    page.chosen + 1,
                    report.members.len()
                ));
            }
            legend(page.columns, &mut table);
        }
    }
    let height = u16::try_from(table.len()).unwrap_or(area.height).min(area.height);
    painter.lines(table, Rect { height, ..area });
    let under = Rect { y: area.y + height + 1, height: area.height.saturating_sub(height + 1), ..area };
    let mut lines = Lines::new(shared.theme, area.width);
    if let Some(member) = report.members.get(page.chosen) {
        detail(page, member, &name(&member.learner.name), &mut lines);
    }
    let made_for = KeptFor { width: area.width, theme: shared.theme.name(), initials: shared.leader.initials };
    let mut kept = page.kept.borrow_mut();
    if kept.as_ref().is_none_or(|(known, _)| *known != made_for) {
        *kept = Some((made_for, below(page, shared, area.width, &name)));
    }
    if let Some((_, below)) = &*kept {
        lines.append(below);
    }
    let overflows = lines.len() > usize::from(under.height);
    let room = Rect { height: under.height.saturating_sub(u16::from(overflows)), ..under };
    let (_, more) = painter.lines_from(lines, room, &page.scroll);
    if overflows && more > 0 {
        painter.more_below(under, "Space");
    }
}

/// What stands under the chosen member: what to teach next, and how sure the table is.
fn below(page: &PatrolPage, shared: &Shared, width: u16, name: &dyn Fn(&str) -> String) -> Lines {
    let report = &page.report;
    let mut lines = Lines::new(shared.theme, width);
    lines.gap();
    for (depth, text) in teach_parts(report, name) {
        let indent = depth.indent().get(2..).unwrap_or_default();
        match depth {
            TeachDepth::Heading => lines.title(&text),
            TeachDepth::Item | TeachDepth::Remark => lines.hanging(Tone::Text, indent, &text),
            TeachDepth::Detail | TeachDepth::Evidence => lines.hanging(Tone::Quiet, indent, &text),
        }
    }
    lines.gap();
    lines.quiet(&format!("{GROUND_TOO} {NO_PERMISSION}"));
    if report.day_given {
        lines.quiet(&format!("{} is a day given by hand (--date), not the clock's.", report.day));
    }
    lines.quiet(&sentence(&plan_words(&report.standard.rules)));
    lines.quiet(&sentence(&first_day_words(&report.standard.rules.plan, report.standard.skills.len())));
    if report.begun > 0 {
        lines.quiet(&wrong_ready_words(report));
    }
    lines
}

/// Cells of a column of the standard: with words where there is room, with the shapes alone where there are many skills.
fn wide(skills: usize, width: usize) -> usize {
    (width.saturating_sub(2 + NAME + NEXT) / skills.max(1)).clamp(3, WIDEST)
}

/// Cells of the families' columns: each has room for its name and its numbers, and what is left is shared out.
fn families_wide(families: &[Family], width: usize) -> Vec<usize> {
    const NUMBERS: usize = 7;
    let least = |family: &Family| family.id().chars().count().max(NUMBERS) + 1;
    let spare = width.saturating_sub(2 + NAME + families.iter().map(least).sum::<usize>());
    let more = spare / families.len().max(1);
    families.iter().map(|family| (least(family) + more).min(WIDEST)).collect()
}

/// What comes next, short.
fn next_short(next: NextStep) -> String {
    match next {
        NextStep::GoOn => "go on".to_owned(),
        NextStep::SecondTry => "2nd try".to_owned(),
        NextStep::Check => "check".to_owned(),
        NextStep::CheckAgain => "check again".to_owned(),
        NextStep::Practise(_) => "practise".to_owned(),
        NextStep::SecondTryFrom(day) | NextStep::Wait(day) => day.to_string(),
        NextStep::SeeOutside => "see outside".to_owned(),
        NextStep::Nothing => "–".to_owned(),
    }
}

fn header(page: &PatrolPage, width: usize, lines: &mut Lines) {
    let mut spans = vec![(Tone::Quiet, format!("  {:<NAME$}", ""))];
    match page.columns {
        Columns::Standard => {
            let width = wide(page.report.standard.skills.len(), width);
            for one in &page.report.standard.skills {
                // The mark stands in the lines below, beside the title.
                let title = format!("{} {}", one.skill.mark, one.skill.title);
                let words = if width >= WORDS { title.as_str() } else { one.skill.mark };
                spans.push((Tone::Quiet, format!("{:<width$}", cut(words, width - 1))));
            }
            spans.push((Tone::Quiet, "next".to_owned()));
        }
        Columns::Families => {
            let families = families(page);
            for (family, width) in families.iter().zip(families_wide(&families, width)) {
                spans.push((Tone::Quiet, format!("{:<width$}", cut(family.id(), width - 1))));
            }
        }
        Columns::Skills => {
            if let Some(member) = page.report.members.first() {
                let mut before = None;
                for practised in &member.practised {
                    let family = practised.skill.family;
                    let gap = if before.is_some_and(|before| before != family) { " " } else { "" };
                    before = Some(family);
                    spans.push((Tone::Quiet, format!("{gap}{:<3}", practised.skill.mark)));
                }
            }
        }
    }
    lines.spans(spans);
}

fn families(page: &PatrolPage) -> Vec<Family> {
    let practised = page.report.members.first().map(|member| member.practised.as_slice()).unwrap_or_default();
    Family::ALL.into_iter().filter(|family| practised.iter().any(|one| one.skill.family == *family)).collect()
}

fn row(member: &Member, name: &str, chosen: bool, columns: Columns, width: usize, lines: &mut Lines) {
    let mark = if chosen { "▸ " } else { "  " };
    let tone = if chosen { Tone::Chosen } else { Tone::Text };
    let mut spans = vec![(tone, format!("{mark}{:<NAME$}", cut(name, NAME - 1)))];
    match columns {
        Columns::Standard => {
            let width = wide(member.cells.len(), width);
            for cell in &member.cells {
                let (shape, word, tone) = short(cell.readiness);
                let seen = match cell.seen_outcome() {
                    None => "",
                    Some(SeenOutcome::Yes) => "+",
                    Some(SeenOutcome::No) => "−",
                    Some(SeenOutcome::NotSaid) => "?",
                };
                let words = if width >= WORDS { format!("{shape}{seen} {word}") } else { format!("{shape}{seen}") };
                spans.push((tone, format!("{:<width$}", cut(&words, width))));
            }
            spans.push((Tone::Text, cut(&next_short(member.next), NEXT)));
        }
        Columns::Families => {
            let mut families: Vec<(Family, usize, usize)> = Vec::new();
            for practised in &member.practised {
                let family = practised.skill.family;
                if families.last().is_none_or(|(last, _, _)| *last != family) {
                    families.push((family, 0, 0));
                }
                if let Some(last) = families.last_mut() {
                    last.1 += usize::from(practised.state == State::Sure);
                    last.2 += 1;
                }
            }
            let wide = families_wide(&families.iter().map(|(family, ..)| *family).collect::<Vec<_>>(), width);
            for ((_, sure, of), width) in families.into_iter().zip(wide) {
                spans.push((Tone::Text, format!("{:<width$}", format!("{sure} of {of}"))));
            }
        }
        Columns::Skills => {
            let mut before = None;
            for practised in &member.practised {
                let family = practised.skill.family;
                let gap = if before.is_some_and(|before| before != family) { " " } else { "" };
                before = Some(family);
                let tone = if practised.state == State::Sure { Tone::Right } else { Tone::Text };
                spans.push((tone, format!("{gap}{:<3}", practice_shape(practised.state))));
            }
        }
    }
    lines.spans(spans);
}

/// How many are ready, skill by skill.
fn totals(page: &PatrolPage, width: usize, lines: &mut Lines) {
    if page.columns != Columns::Standard || page.report.members.len() < 2 {
        return;
    }
    let members = &page.report.members;
    let mut spans = vec![(Tone::Quiet, format!("  {:<NAME$}", "ready"))];
    let width = wide(page.report.standard.skills.len(), width);
    for at in 0..page.report.standard.skills.len() {
        let is_ready = |member: &&Member| {
            member.cells.get(at).is_some_and(|cell| matches!(cell.readiness, Readiness::Ready { .. }))
        };
        let (ready, all) = (members.iter().filter(is_ready).count(), members.len());
        let (words, short) = (format!("{ready} of {all}"), ready.to_string());
        let words = if words.chars().count() < width { words } else { short };
        spans.push((Tone::Quiet, format!("{words:<width$}")));
    }
    lines.spans(spans);
}

fn legend(columns: Columns, lines: &mut Lines) {
    lines.quiet(match columns {
        Columns::Standard => "● ready  ◐ 2nd try  ○ not yet  ◌ again  … begun  · none  outside: + yes  − no",
        Columns::Families => "In practice: how many skills of each family are sure. x opens them.",
        Columns::Skills => "In practice: ● sure  ◑ worth repeating  ◔ learning  · not met",
    });
}

fn detail(page: &PatrolPage, member: &Member, name: &str, lines: &mut Lines) {
    lines.title(&format!(
        "{name}: ready at the laptop in {0} of {2}, seen outside in {1}. Next: {3}.",
        member.ready(),
        member.seen(),
        member.cells.len(),
        member.next_words()
    ));
    for caution in member.cautions(page.report.day) {
        lines.tone(Tone::Caution, &caution);
    }
    for cell in &member.cells {
        let (shape, _, tone) = short(cell.readiness);
        lines.hanging(
            tone,
            &format!("{shape} "),
            &format!("{} {}, level {}: {}", cell.skill.mark, cell.skill.title, cell.level, words(cell)),
        );
    }
}

/// What stands in a cell and what was seen of it outside.
fn words(cell: &Cell) -> String {
    let mut words = cell_words(cell);
    if let Some(seen) = cell.seen.last() {
        words.push_str(&format!("; {}", seen_words(seen)));
    }
    words
}
