//! `view(&Model, &mut Frame)`: the title line, the screen's body, the line of keys.

use super::model::{Model, Screen};
use super::paint::{Painter, cut};
use super::screens::{
    check_end, drills, end, ground, group_end, handover, help, page, patrol_view, placement, practice_view, round,
    seen, who,
};
use super::theme::Tone;
use crate::scene::cells::Charset;
use crate::session::Flow;
use ratatui::Frame;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// The smallest full layout.
pub const SMALLEST: (u16, u16) = (80, 24);

/// Draws everything.
pub fn view(model: &Model, frame: &mut Frame<'_>) {
    let mut painter = Painter::new(frame, model.theme, Charset::Braille);
    let area = painter.area();
    painter.ground(area);
    if area.width < SMALLEST.0 || area.height < SMALLEST.1 {
        too_small(&mut painter, area);
        return;
    }
    let title = Rect { height: 1, ..area };
    let keys = Rect { y: area.bottom() - 1, height: 1, ..area };
    let body = Rect { x: area.x + 1, y: area.y + 2, width: area.width - 2, height: area.height - 4 };
    draw_title(model, &mut painter, title);
    let bottom = match &model.screen {
        _ if model.help.is_some() => help::BOTTOM,
        Screen::Who(screen) => who::keys(screen),
        Screen::Placement(_) => placement::KEYS,
        Screen::Practice(screen) => practice_view::keys(screen),
        Screen::End(_) => end::KEYS,
        Screen::Page(_) => page::KEYS,
        Screen::Drills(_) => drills::KEYS,
        Screen::Ground(screen) => ground::keys(screen),
        Screen::Patrol(screen) => patrol_view::keys(screen),
        Screen::Handover(screen) => handover::keys(screen),
        Screen::CheckEnd(screen) => check_end::keys(screen),
        Screen::GroupEnd(_) => group_end::KEYS,
        Screen::Seen(_) => seen::KEYS,
        Screen::Round(screen) => round::keys(screen),
    };
    if let Some(scroll) = &model.help {
        help::view(model, scroll, &mut painter, body);
    } else {
        match &model.screen {
            Screen::Who(screen) => who::view(screen, model, &mut painter, body),
            Screen::Placement(screen) => placement::view(screen, model, &mut painter, body),
            // The sheet of a practice uses the two rows that other screens leave free.
            Screen::Practice(screen) => {
                let body = Rect { y: area.y + 1, height: area.height - 2, ..body };
                practice_view::view(screen, model, &mut painter, body);
            }
            Screen::End(screen) => end::view(screen, model, &mut painter, body),
            Screen::Page(screen) => page::view(screen, model, &mut painter, body),
            Screen::Drills(screen) => drills::view(screen, model, &mut painter, body),
            Screen::Ground(screen) => ground::view(screen, model, &mut painter, body),
            Screen::Patrol(screen) => {
                let body = Rect { y: area.y + 1, height: area.height - 2, ..body };
                patrol_view::view(screen, model, &mut painter, body);
            }
            Screen::Handover(screen) => handover::view(screen, model, &mut painter, body),
            Screen::CheckEnd(screen) => check_end::view(screen, model, &mut painter, body),
            Screen::GroupEnd(screen) => group_end::view(screen, model, &mut painter, body),
            Screen::Seen(screen) => seen::view(screen, model, &mut painter, body),
            Screen::Round(screen) => round::view(screen, model, &mut painter, body),
        }
    }
    if let Some(notice) = &model.notice {
        draw_notice(model, notice, &mut painter, area);
    }
    // A check gives no hints.
    let checked = matches!(&model.screen, Screen::Practice(screen) if matches!(screen.flow, Flow::Check(_)));
    let offered: Vec<(&str, &str)> = bottom.iter().copied().filter(|(_, what)| !checked || *what != "hint").collect();
    draw_keys(&offered, model.help.is_none(), &mut painter, keys);
}

fn draw_title(model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let (left, right) = match &model.screen {
        Screen::Practice(screen) => {
            let skill = screen.flow.asked().map_or("", |asked| asked.problem.skill().title);
            let skill = if skill.is_empty() { String::new() } else { format!(" · {skill}") };
            let left = format!(" {} · {}{skill}", screen.learner.name, screen.flow.title());
            (left, format!("{} ", screen.flow.how_far()))
        }
        Screen::Page(screen) => (format!(" {}", screen.learner.name), format!("{} ", model.day)),
        Screen::End(screen) => (format!(" {} · end of the session", screen.learner.name), format!("{} ", model.day)),
        Screen::CheckEnd(screen) => (format!(" {} · end of the check", screen.learner.name), format!("{} ", model.day)),
        Screen::Patrol(screen) => {
            let shown = model.leader.patrol.and_then(|id| screen.patrols.iter().find(|patrol| patrol.id == id));
            let who = shown.map_or("everybody", |patrol| patrol.name.as_str());
            (format!(" {} · {who}", screen.report.standard.title), format!("{} ", model.day))
        }
        Screen::Who(_)
        | Screen::Placement(_)
        | Screen::Drills(_)
        | Screen::Ground(_)
        | Screen::Handover(_)
        | Screen::GroupEnd(_)
        | Screen::Seen(_) => (" needlewise".to_owned(), format!("{} ", model.day)),
        Screen::Round(screen) => {
            let title = screen.round.asked.as_ref().map_or("", |asked| asked.problem.skill().title);
            (format!(" Round {} · {title}", screen.round.number), "ten minutes ".to_owned())
        }
    };
    let room = usize::from(area.width).saturating_sub(right.width() + 1);
    painter.put(area, &cut(&left, room), Tone::Quiet);
    let width = u16::try_from(right.width()).unwrap_or(0).min(area.width);
    painter.put(Rect { x: area.right() - width, width, ..area }, &right, Tone::Quiet);
}

fn draw_notice(model: &Model, notice: &str, painter: &mut Painter<'_, '_>, area: Rect) {
    let width = area.width.saturating_sub(2);
    let mut lines = super::paint::Lines::new(model.theme, width);
    lines.tone(Tone::Caution, notice);
    let height = u16::try_from(lines.len()).unwrap_or(1).min(4);
    let room = Rect { x: area.x + 1, y: area.bottom() - 1 - height, width, height };
    painter.clear(room);
    painter.lines(lines, room);
}

fn draw_keys(keys: &[(&str, &str)], with_help: bool, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut left = Rect { x: area.x + 1, width: area.width.saturating_sub(2), ..area };
    let help: &[(&str, &str)] = if with_help { &[("?", "help")] } else { &[] };
    for (key, what) in keys.iter().chain(help) {
        let needed = u16::try_from(key.width() + what.width() + 3).unwrap_or(u16::MAX);
        if needed > left.width + 2 {
            break;
        }
        for (text, tone) in [(*key, Tone::Key), (" ", Tone::Text), (*what, Tone::Text), ("  ", Tone::Text)] {
            painter.put(left, text, tone);
            let used = u16::try_from(text.width()).unwrap_or(0).min(left.width);
            left.x += used;
            left.width -= used;
        }
    }
}

fn too_small(painter: &mut Painter<'_, '_>, area: Rect) {
    let (now, needed) = (format!("{}x{}", area.width, area.height), format!("{}x{}", SMALLEST.0, SMALLEST.1));
    // 20 columns and 5 rows are enough for all of it.
    let lines = if area.width < 42 {
        [
            format!("This window: {now}"),
            format!("Needed: {needed}"),
            "Make it larger,".to_owned(),
            "or use --plain.".to_owned(),
            "Ctrl-C leaves.".to_owned(),
        ]
    } else {
        [
            format!("This window is {now}."),
            format!("needlewise needs {needed}."),
            "Make it larger, or run".to_owned(),
            "needlewise practice --plain --learner NAME".to_owned(),
            "Ctrl-C leaves.".to_owned(),
        ]
    };
    for (y, line) in (area.y..area.bottom()).zip(lines) {
        painter.put(Rect { y, height: 1, ..area }, &line, Tone::Text);
    }
}
