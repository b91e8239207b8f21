//! Help: every key, how answers are written, the cautions.

use crate::skills;
use crate::tui::keys::{self, Line, Listed, On, Table};
use crate::tui::model::{Model, Screen};
use crate::tui::paint::{Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crate::tui::update::EVERYWHERE;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The keys of the help itself: by how many lines each scrolls. Any other key leads back.
pub const KEYS: Table<i32> = &[
    Line::new(
        &[
            (On::Key(KeyCode::Up), -1),
            (On::Key(KeyCode::Down), 1),
            (On::Key(KeyCode::PageUp), -10),
            (On::Key(KeyCode::PageDown), 10),
        ],
        "scroll the help",
    )
    .short("↑ ↓", "scroll"),
    Line::new(&[], "").short("any other key", "back"),
];

const ANSWERS: &[&str] = &[
    "A bearing: 59, 059, 059°, 59.5 or N59E. 0 and 360 are the same. You may add the letter of the north: 065M.",
    "Declination: 13W, 13.5E or 13°30' W. The letter must be there.",
    "A word: arrow keys, its first letter or its number.",
];

const CAUTIONS: &[&str] = &[
    "A practice aid: not a way to find your way, not for emergencies, and no replacement for a leader who teaches you outdoors.",
    "The map in your hand wins: its printed norths, date and scale count more than anything shown here. Local rules win, too.",
    "Keep a compass away from iron, phones, magnets and this laptop (two metres).",
    "Declination comes from the World Magnetic Model 2025 (2025 to 2029): it leaves out local rock, iron and power lines.",
    "Never follow a bearing over a cliff edge, into water, onto ice, a railway or a road: go round and come back to the line.",
    "Names and answers stay on this computer.",
];

/// Draws the help over the whole body: the keys that mean something just now, those of every screen, and all others.
pub fn view(model: &Model, scroll: &Scroll, painter: &mut Painter<'_, '_>, area: Rect) {
    painter.clear(area);
    let mut lines = Lines::new(model.shared.theme, area.width);
    let here = model.screen.keys();
    let everywhere = keys::listed(EVERYWHERE, |_| true);
    section("Keys", here.iter().chain(&everywhere), &mut lines);
    lines.title("Writing an answer");
    for line in ANSWERS {
        lines.hanging(Tone::Text, "· ", line);
    }
    lines.gap();
    let tables = Screen::tables();
    let mut headings: Vec<&str> = tables.iter().map(|state| state.heading).collect();
    headings.dedup();
    for heading in headings {
        let states = tables.iter().filter(|state| state.heading == heading);
        section(heading, states.flat_map(|state| &state.lines), &mut lines);
    }
    lines.text("At the map table the mouse works, too: drag the dial, the compass or the map.");
    lines.gap();
    lines.title("Care");
    for line in CAUTIONS {
        lines.hanging(Tone::Caution, "· ", line);
    }
    lines.gap();
    lines.title("What there is to practise");
    for skill in skills::metas() {
        lines.hanging(Tone::Text, &format!("{:<3} ", skill.mark), &format!("{}. {}", skill.title, skill.can));
    }
    painter.lines_from(lines, area, scroll);
}

/// Keys under a heading.
fn section<'a>(heading: &str, keys: impl IntoIterator<Item = &'a Listed>, lines: &mut Lines) {
    lines.title(heading);
    for line in keys::together(keys) {
        lines.hanging(Tone::Text, &format!("{:<15} ", keys::names(&line.keys)), line.help);
    }
    lines.gap();
}
