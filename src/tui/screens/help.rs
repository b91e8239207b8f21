//! Help: every key, how answers are written, the cautions; and the words of the trade.

use crate::session::Flow;
use crate::skills;
use crate::tui::keys::{self, Line, Listed, On, Table};
use crate::tui::model::{Model, Screen};
use crate::tui::paint::{Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crate::tui::update::EVERYWHERE;
use crate::words::{TOPICS, Word};
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::layout::Rect;

/// What a key of the help does.
#[derive(Clone, Copy, Debug)]
enum Turn {
    /// Scrolls by so many lines.
    Scroll(i32),
    /// From the keys to the words of the trade, and from these to the keys.
    Over,
}

const SCROLL: Line<Turn> = Line::new(
    &[
        (On::Key(KeyCode::Up), Turn::Scroll(-1)),
        (On::Key(KeyCode::Down), Turn::Scroll(1)),
        (On::Key(KeyCode::PageUp), Turn::Scroll(-10)),
        (On::Key(KeyCode::PageDown), Turn::Scroll(10)),
    ],
    "scroll the help",
)
.short("↑ ↓", "scroll");
const BACK: Line<Turn> = Line::new(&[], "").short("any other key", "back");

/// The keys of each page of the help. Any other key leads back.
const KEYS: Table<Turn> = &[
    SCROLL,
    Line::new(&[(On::Letter('w'), Turn::Over)], "what the words mean").short("w", "what the words mean"),
    BACK,
];
const KEYS_OF_WORDS: Table<Turn> =
    &[SCROLL, Line::new(&[(On::Letter('w'), Turn::Over)], "the keys").short("w", "keys"), BACK];
/// In a check the words are closed, as the hints are.
const KEYS_IN_CHECK: Table<Turn> = &[SCROLL, BACK];

/// Where the lines of the word list begin: behind the longest word.
const LINE_COLUMN: usize = 21;

/// The help over a screen.
#[derive(Debug, Default)]
pub struct Help {
    scroll: Scroll,
    /// Whether it is opened at the words.
    words: bool,
}

impl Help {
    /// Takes in a key; whether the help stays open.
    pub fn press(&mut self, key: KeyEvent, screen: &Screen) -> bool {
        match keys::meaning(self.table(screen), key) {
            Some(Turn::Scroll(by)) => self.scroll.by(by),
            Some(Turn::Over) => *self = Help { scroll: Scroll::default(), words: !self.words },
            None => return false,
        }
        true
    }

    /// Its keys, for the bottom line.
    #[must_use]
    pub fn keys(&self, screen: &Screen) -> Vec<Listed> {
        keys::listed(self.table(screen), |_| true)
    }

    fn table(&self, screen: &Screen) -> Table<Turn> {
        match screen {
            Screen::Practice(practice) if matches!(practice.flow, Flow::Check(_)) => KEYS_IN_CHECK,
            _ if self.words => KEYS_OF_WORDS,
            _ => KEYS,
        }
    }
}

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
pub fn view(model: &Model, help: &Help, painter: &mut Painter<'_, '_>, area: Rect) {
    painter.clear(area);
    let mut lines = Lines::new(model.shared.theme, area.width);
    if help.words {
        word_list(model, &mut lines)
    } else {
        key_list(model, &mut lines)
    }
    painter.lines_from(lines, area, &help.scroll);
}

/// The words of the trade: those of the present problem or lesson first, with other names and sketches, then all others.
fn word_list(model: &Model, lines: &mut Lines) {
    let (title, here) = match &model.screen {
        Screen::Practice(practice) => {
            let asked = practice.flow.asked();
            ("The words of this problem", asked.map_or_else(Vec::new, |asked| asked.words_in_view()))
        }
        Screen::Lesson(lesson) => ("The words of this lesson", lesson.words()),
        _ => ("", Vec::new()),
    };
    if !here.is_empty() {
        lines.title(title);
        for word in &here {
            one_word(word, lines);
            for row in word.sketch {
                lines.tone(Tone::Text, &format!("{:LINE_COLUMN$}{row}", ""));
            }
        }
        lines.gap();
    }
    for topic in &TOPICS {
        lines.title(topic.title);
        for word in topic.words.iter().filter(|word| !here.contains(word)) {
            one_word(word, lines);
        }
        lines.gap();
    }
    lines.quiet("needlewise words WORD, typed where the program is started, tells each word's source, too.");
}

/// A word with its line, under it its other names.
fn one_word(word: &Word, lines: &mut Lines) {
    lines.hanging(Tone::Text, &format!("{:LINE_COLUMN$}", word.word), word.line);
    if let Some(names) = word.also_called() {
        lines.hanging(Tone::Quiet, &" ".repeat(LINE_COLUMN), &names);
    }
}

/// The keys that mean something just now, those of every screen, and all others.
fn key_list(model: &Model, lines: &mut Lines) {
    let here = model.screen.keys();
    let everywhere = keys::listed(EVERYWHERE, |_| true);
    section("Keys", here.iter().chain(&everywhere), lines);
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
        section(heading, states.flat_map(|state| &state.lines), lines);
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
}

/// Keys under a heading.
fn section<'a>(heading: &str, keys: impl IntoIterator<Item = &'a Listed>, lines: &mut Lines) {
    lines.title(heading);
    for line in keys::together(keys) {
        lines.hanging(Tone::Text, &format!("{:<15} ", keys::names(&line.keys)), line.help);
    }
    lines.gap();
}
