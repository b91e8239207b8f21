//! `view(&Model, &mut Frame)`: the title line, the screen's body, the line of keys.

use super::keys::{self, Listed};
use super::model::Model;
use super::paint::{Painter, cut};
use super::screens::help;
use super::theme::{Theme, Tone};
use super::update::EVERYWHERE;
use crate::scene::cells::Charset;
use ratatui::Frame;
use ratatui::layout::{Rect, Size};
use unicode_width::UnicodeWidthStr;

/// The smallest full layout.
pub const SMALLEST: (u16, u16) = (80, 24);

/// Whether a window shows nothing but that it is too small.
#[must_use]
pub const fn is_too_small(size: Size) -> bool {
    size.width < SMALLEST.0 || size.height < SMALLEST.1
}

/// Draws everything. What is drawn depends on the model alone; a few cells in it remember what drawing found out: how far
/// a text can be scrolled, where the looks at the table lie for the mouse, dots that are used again.
pub fn view(model: &Model, frame: &mut Frame<'_>) {
    let mut painter = Painter::new(frame, model.shared.theme, Charset::Braille);
    let area = painter.area();
    painter.ground(area);
    if is_too_small(area.as_size()) {
        too_small(&mut painter, area);
        return;
    }
    let title = Rect { height: 1, ..area };
    let keys_row = Rect { y: area.bottom() - 1, height: 1, ..area };
    let body = Rect { x: area.x + 1, y: area.y + 2, width: area.width - 2, height: area.height - 4 };
    draw_title(model, &mut painter, title);
    if let Some(help) = &model.help {
        help::view(model, help, &mut painter, body);
        draw_keys(&help.keys(&model.screen), &mut painter, keys_row);
    } else {
        let tall = Rect { y: area.y + 1, height: area.height - 2, ..body };
        model.screen.view(&model.shared, &mut painter, body, tall);
        let everywhere = keys::listed(EVERYWHERE, |_| true);
        draw_keys(model.screen.keys().iter().chain(&everywhere), &mut painter, keys_row);
    }
    if let Some(notice) = &model.shared.notice {
        draw_notice(model.shared.theme, notice, &mut painter, area);
    }
}

fn draw_title(model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let (left, right) = model.screen.title(&model.shared);
    let (left, right) = (format!(" {left}"), format!("{right} "));
    let room = usize::from(area.width).saturating_sub(right.width() + 1);
    painter.put(area, &cut(&left, room), Tone::Quiet);
    let width = u16::try_from(right.width()).unwrap_or(0).min(area.width);
    painter.put(Rect { x: area.right() - width, width, ..area }, &right, Tone::Quiet);
}

fn draw_notice(theme: Theme, notice: &str, painter: &mut Painter<'_, '_>, area: Rect) {
    let width = area.width.saturating_sub(2);
    let mut lines = super::paint::Lines::new(theme, width);
    lines.tone(Tone::Caution, notice);
    let height = u16::try_from(lines.len()).unwrap_or(1).min(4);
    let room = Rect { x: area.x + 1, y: area.bottom() - 1 - height, width, height };
    painter.clear(room);
    painter.lines(lines, room);
}

fn draw_keys<'a>(keys: impl IntoIterator<Item = &'a Listed>, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut left = Rect { x: area.x + 1, width: area.width.saturating_sub(2), ..area };
    for (key, what) in keys.into_iter().filter_map(|line| line.bottom) {
        let needed = u16::try_from(key.width() + what.width() + 3).unwrap_or(u16::MAX);
        if needed > left.width + 2 {
            break;
        }
        for (text, tone) in [(key, Tone::Key), (" ", Tone::Text), (what, Tone::Text), ("  ", Tone::Text)] {
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
