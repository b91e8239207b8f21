//! Keys, pastes, the mouse and sizes of the window, played to the screens without a terminal.
//!
//! The first bytes choose the store, the skill, the level, the theme and whether things move; then each byte is something that
//! happens (see `happens`).
//!
//! Holds: nothing panics at any size; a screen that is drawn twice is the same; a window that is too small says so; the records
//! are whole afterwards.
#![no_main]

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use libfuzzer_sys::fuzz_target;
use needlewise::config::Ground;
use needlewise::drill::{Drill, Standard};
use needlewise::paper::Sheet;
use needlewise::problem::{Level, Question, Value};
use needlewise::session::{GroundCard, HomeGround, Plan};
use needlewise::skills::SKILLS;
use needlewise::tui::{self, Backstage, Cmd, Hands, Model, Msg, Offer, SMALLEST, Screen, SheetsToPrint, Theme};
use needlewise_fuzz::records::{self, assert_whole, folder, laid, open, place};
use needlewise_fuzz::{Bytes, TODAY, clock, ground, wind_clock};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use std::path::PathBuf;

/// So many things happen at most: what breaks after more breaks after fewer.
const MOST: usize = 160;

/// What lies outside the store, with nothing written anywhere but the copy of the records.
struct Outside {
    copy: PathBuf,
}

impl Backstage for Outside {
    fn set_ground(&mut self, place: &str) -> Result<GroundCard, String> {
        needlewise::config::HomePlace::read(place).map(|_| ground()).map_err(|error| error.to_string())
    }

    fn drills(&mut self, home: &HomeGround) -> (Vec<Offer>, Option<String>) {
        let offer = |drill: &Drill| Offer { about: drill.about.clone(), plan: Plan::of_drill(drill, home.clone()) };
        (Drill::embedded().iter().map(offer).collect(), None)
    }

    fn standards(&mut self) -> (Vec<Standard>, Option<String>) {
        (Standard::embedded().to_vec(), None)
    }

    fn save_theme(&mut self, _theme: &str) -> Result<(), String> {
        Ok(())
    }

    fn print_sheets(&mut self, sheets: &SheetsToPrint) -> Result<String, String> {
        Ok(format!("sheets.pdf: {}", sheets.title))
    }

    fn print_map(&mut self, _seed: u64, _size: Sheet) -> Result<String, String> {
        Err("The disk is full.".to_owned())
    }

    fn backup_file(&mut self) -> PathBuf {
        self.copy.clone()
    }
}

/// Keys beside the letters.
const KEYS: [KeyCode; 20] = [
    KeyCode::Enter,
    KeyCode::Esc,
    KeyCode::Tab,
    KeyCode::BackTab,
    KeyCode::Up,
    KeyCode::Down,
    KeyCode::Left,
    KeyCode::Right,
    KeyCode::PageUp,
    KeyCode::PageDown,
    KeyCode::Home,
    KeyCode::End,
    KeyCode::Backspace,
    KeyCode::Delete,
    KeyCode::F(1),
    KeyCode::F(2),
    KeyCode::Insert,
    KeyCode::Null,
    KeyCode::Char('é'),
    KeyCode::Char('\u{202e}'),
];

const SIZES: [(u16, u16); 12] = [
    (80, 24),
    (120, 36),
    (81, 25),
    (80, 60),
    (200, 24),
    (100, 30),
    (79, 24),
    (80, 23),
    (1, 1),
    (20, 5),
    (250, 80),
    (0, 0),
];

/// What a byte stands for: itself as a letter, one of `KEYS`, with Shift or Control, the right answer, a size, the mouse, a paste, time.
fn happens(byte: u8, bytes: &mut Bytes<'_>, size: &mut (u16, u16), model: &Model) -> Vec<Msg> {
    let key = |code, modifiers| Msg::Key(KeyEvent::new(code, modifiers), clock());
    match byte {
        b'\n' => vec![key(KeyCode::Enter, KeyModifiers::NONE)],
        b' '..=b'~' => vec![key(KeyCode::Char(char::from(byte)), KeyModifiers::NONE)],
        128..=147 => vec![key(KEYS[usize::from(byte - 128)], KeyModifiers::NONE)],
        148..=167 => vec![key(KEYS[usize::from(byte - 148)], KeyModifiers::SHIFT)],
        168..=171 => vec![key(KeyCode::Char(char::from(b'a' + (byte - 168))), KeyModifiers::CONTROL)],
        172..=187 => right_answer(model).into_iter().map(|code| key(code, KeyModifiers::NONE)).collect(),
        188..=199 => {
            *size = SIZES[usize::from(byte - 188)];
            Vec::new()
        }
        200..=219 => {
            let button = if byte < 215 { MouseButton::Left } else { MouseButton::Right };
            let kind = match byte % 5 {
                0 | 1 => MouseEventKind::Down(button),
                2 | 3 => MouseEventKind::Drag(button),
                _ => MouseEventKind::Up(button),
            };
            let (column, row) = (u16::from(bytes.byte()), u16::from(bytes.byte()));
            vec![Msg::Mouse(MouseEvent { kind, column, row, modifiers: KeyModifiers::NONE }, clock())]
        }
        220..=229 => vec![Msg::Paste(bytes.line(100))],
        230..=239 => vec![Msg::Tick(clock())],
        _ => vec![key(KeyCode::Enter, KeyModifiers::NONE)],
    }
}

/// The keys that answer what is asked, where that is typed or chosen: else nothing behind a right answer would be come to.
fn right_answer(model: &Model) -> Vec<KeyCode> {
    let Screen::Practice(screen) = &model.screen else { return Vec::new() };
    let Some(asked) = screen.flow.asked() else { return Vec::new() };
    let (question, answer) = (asked.problem.question(), asked.problem.answer());
    if !matches!(question, Question::Typed(_) | Question::Choose(_)) {
        return Vec::new();
    }
    let keys = |(field, value): (&needlewise::problem::Field, &Value)| match value {
        Value::Choice(at) => vec![KeyCode::Right; at + 1],
        value => field.typed(*value).chars().map(KeyCode::Char).collect(),
    };
    let fields = question.fields().iter().zip(answer.values());
    fields.flat_map(|field| keys(field).into_iter().chain([KeyCode::Enter])).collect()
}

fn drawn(model: &Model, (columns, rows): (u16, u16)) -> Buffer {
    let mut terminal = Terminal::new(TestBackend::new(columns, rows)).expect("a screen");
    terminal.draw(|frame| tui::view(model, frame)).expect("drawn");
    terminal.backend().buffer().clone()
}

fn looks_right(model: &Model, size: (u16, u16)) -> Buffer {
    let once = drawn(model, size);
    let too_small = size.0 < SMALLEST.0 || size.1 < SMALLEST.1;
    if too_small && size.0 >= 20 && size.1 >= 5 {
        let glyphs: String = once.content.iter().map(|cell| cell.symbol()).collect();
        assert!(glyphs.contains("This window"), "{glyphs:?}");
    }
    once
}

fuzz_target!(|input: &[u8]| {
    wind_clock();
    let mut bytes = Bytes(input);
    let here = if bytes.below(4) == 0 { folder() } else { laid(records::ours()) };
    let path = place(&here);
    let card = ground();
    assert_eq!(card.home.name, Ground::INVENTED_NAME);
    let mut plan = Plan::free(card.home.clone());
    let (skill, level) = (bytes.below(2 * SKILLS.len()), bytes.below(5));
    if let Some(skill) = SKILLS.get(skill) {
        plan = plan.with_skills(&[skill.meta().id], Level::new(u8::try_from(level).unwrap_or(0)));
    }
    let theme = Theme::ALL[bytes.below(Theme::ALL.len())];
    let store = open(&path);
    let mut model = Model::new(tui::learners(&store).expect("learners"), card, plan, theme);
    model.shared.still = bytes.below(4) != 0;
    let mut outside = Outside { copy: here.path().join("copy.sqlite") };
    let seed = u64::from(bytes.byte());
    let mut hands = Hands { store, backstage: &mut outside, seed, day: TODAY, clock };
    let mut size = (80, 24);
    'played: for _ in 0..MOST {
        if bytes.is_empty() {
            break;
        }
        let byte = bytes.byte();
        for msg in happens(byte, &mut bytes, &mut size, &model) {
            let commands: Vec<Cmd> = tui::update(&mut model, msg);
            if !hands.settle(&mut model, commands) {
                break 'played;
            }
        }
        looks_right(&model, size);
        hands.store.pause(matches!(model.screen, Screen::Practice(_) | Screen::Round(_)));
    }
    drop(hands);
    assert!(looks_right(&model, size) == drawn(&model, size), "what is drawn depends on the model alone");
    assert_whole(&path);
});
