//! Help: every key, how answers are written, the cautions.

use crate::skills;
use crate::tui::model::Model;
use crate::tui::paint::{Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use ratatui::layout::Rect;

const KEYS: &[(&str, &str)] = &[
    ("Enter", "answer, or go on"),
    ("Tab", "next field"),
    ("h", "hint, while the field is empty"),
    ("↑ ↓ PgUp PgDn", "choose, or scroll"),
    ("← →", "choose a word, or turn the dial (→ is clockwise); with Shift by ten"),
    ("Esc", "end the session, or back"),
    ("F2", "next theme: dark, day, sun, night, 16 colours, none"),
    ("? or F1", "this help"),
    ("Ctrl-C", "leave at once; answers with a verdict are safe"),
];

/// At the map table.
const TABLE: &[(&str, &str)] = &[
    ("0–9, Enter", "bring that number to the index line; compass in the hand: the number you read"),
    ("e", "lay the edge along the next line, the way the travel arrow points"),
    ("r", "reverse the compass, end for end"),
    ("Tab", "switch what is turned: dial, compass, map and compass together, map, yourself"),
    ("← → ↑ ↓", "turn it by 1°, by 10°; → and ↓ are clockwise"),
    ("Enter", "done; or take the compass up and read; or look ahead"),
    ("w", "afterwards: watch how it is done, from where you ended"),
    ("PgUp PgDn", "scroll the text"),
    ("mouse", "drag the dial, the compass, the map"),
];

/// On the leader's page.
const LEADER: &[(&str, &str)] = &[
    ("Enter, c", "check the chosen member; check all, one after the other"),
    ("s", "another standard"),
    ("x", "other columns: the standard's skills, families, all skills"),
    ("g", "another patrol, or everybody"),
    ("r", "a round: one problem for all, large, then enter who had what; ten minutes"),
    ("t", "turns: each with a problem of their own, ten minutes"),
    ("o", "write down what was seen on the ground, with yes or no"),
    ("p, n", "the chosen member's page; somebody new"),
    ("m", "the chosen member: another name, put aside, erase"),
    ("i", "initials instead of names, for a screen that others see"),
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

/// Draws the help over the whole body.
pub fn view(model: &Model, scroll: &Scroll, painter: &mut Painter<'_, '_>, area: Rect) {
    painter.clear(area);
    let mut lines = Lines::new(model.theme, area.width);
    lines.title("Keys");
    for (key, what) in KEYS {
        lines.hanging(Tone::Text, &format!("{key:<15}"), what);
    }
    lines.gap();
    lines.title("Writing an answer");
    for line in ANSWERS {
        lines.hanging(Tone::Text, "· ", line);
    }
    lines.gap();
    lines.title("At the map table");
    for (key, what) in TABLE {
        lines.hanging(Tone::Text, &format!("{key:<15}"), what);
    }
    lines.gap();
    lines.title("On the leader's page");
    for (key, what) in LEADER {
        lines.hanging(Tone::Text, &format!("{key:<15}"), what);
    }
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

/// The keys on the bottom line while the help is open.
pub const BOTTOM: &[(&str, &str)] = &[("↑ ↓", "scroll"), ("any other key", "back")];
