//! A small stage for the screens: keys in, picture out, with a real store in a temporary folder and no terminal.
#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what a test counts and draws is small")]

use super::contrast::contrast;
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use jiff::civil::{Date, date};
use jiff::{SignedDuration, Timestamp};
use needlewise::config::Config;
use needlewise::drill::Drill;
use needlewise::drill::Standard;
use needlewise::maptable::Move;
use needlewise::paper::Sheet;
use needlewise::problem::{Level, Question, Value};
use needlewise::session::{GroundCard, HomeGround, Plan};
use needlewise::skills;
use needlewise::store::Store;
use needlewise::tui::{
    self, Backstage, Cmd, Hands, Model, Msg, Offer, ReportToPrint, Screen, SheetsToPrint, Theme, Tone,
};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::style::{Color, Style};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::PathBuf;
use std::sync::atomic::{AtomicI64, Ordering};
use tempfile::TempDir;

/// The day of all plays.
pub const TODAY: Date = date(2026, 11, 25);

/// Settings that are not written anywhere.
#[derive(Default)]
pub struct NoFiles {
    pub themes: Vec<String>,
    /// Where a copy of the records goes.
    pub copy: PathBuf,
}

impl Backstage for NoFiles {
    fn set_ground(&mut self, place: &str) -> Result<GroundCard, String> {
        match place {
            "47.0, -28.0" => {
                let mut card = ground(TODAY);
                card.home.name = "Set in a test".to_owned();
                card.home.invented = false;
                Ok(card)
            }
            _ => Err(format!("{place} is no place.")),
        }
    }

    fn standards(&mut self) -> (Vec<Standard>, Option<String>) {
        (Standard::embedded().to_vec(), None)
    }

    fn drills(&mut self, home: &HomeGround) -> (Vec<Offer>, Option<String>) {
        let offer = |drill: &Drill| Offer { about: drill.about.clone(), plan: Plan::of_drill(drill, home.clone()) };
        (Drill::embedded().iter().map(offer).collect(), None)
    }

    fn save_theme(&mut self, theme: &str) -> Result<(), String> {
        self.themes.push(theme.to_owned());
        Ok(())
    }

    fn print_sheets(&mut self, sheets: &SheetsToPrint) -> Result<String, String> {
        let names: Vec<&str> = sheets.sheets.iter().map(|(learner, _)| learner.name.as_str()).collect();
        Ok(format!("sheets.pdf: {} for {}.", sheets.title, names.join(", ")))
    }

    fn print_map(&mut self, _seed: u64, size: Sheet) -> Result<String, String> {
        Ok(format!("map.pdf: on {size:?}."))
    }

    fn print_report(&mut self, wanted: &ReportToPrint) -> Result<String, String> {
        Ok(format!(
            "{:?}.pdf: {} for {} members.",
            wanted.pages,
            wanted.report.standard.title,
            wanted.report.members.len()
        ))
    }

    fn backup_file(&mut self) -> PathBuf {
        self.copy.clone()
    }
}

/// A clock that goes on by a millisecond each time somebody looks at it, so that "the last learner" is certain.
fn clock() -> Timestamp {
    static LOOKS: AtomicI64 = AtomicI64::new(0);
    let evening: Timestamp = "2026-11-25T18:00:00Z".parse().unwrap();
    evening + SignedDuration::from_millis(LOOKS.fetch_add(1, Ordering::Relaxed))
}

pub fn ground(day: Date) -> GroundCard {
    GroundCard::new(&Config::default(), "config.toml", day)
}

/// A play under way.
pub struct Play {
    pub model: Model,
    pub folder: TempDir,
    day: Date,
    seed: u64,
    pub left: bool,
}

impl Play {
    /// A bare machine.
    pub fn new() -> Play {
        Play::on(TODAY, tempfile::tempdir().unwrap())
    }

    /// A machine whose store lies in this folder, on this day.
    pub fn on(day: Date, folder: TempDir) -> Play {
        let ground = ground(day);
        let plan = Plan::free(ground.home.clone());
        let store = open(&folder);
        let learners = tui::learners(&store).unwrap();
        let mut model = Model::new(learners, ground, plan, Theme::Dark);
        // Pictures show how things lie, not where they are on their way there.
        model.shared.still = true;
        Play { model, folder, day, seed: 1, left: false }
    }

    /// The same store on another day, as if the program had been started anew.
    pub fn restart_on(self, day: Date) -> Play {
        Play::on(day, self.folder)
    }

    /// Only this skill at this level.
    pub fn skill(mut self, id: &'static str, level: u8) -> Play {
        self.model.shared.plan = self.model.shared.plan.with_skills(&[id], Level::new(level));
        self
    }

    /// With all that is seen to move.
    pub fn moving(mut self) -> Play {
        self.model.shared.still = false;
        self
    }

    pub fn theme(mut self, theme: Theme) -> Play {
        self.model.shared.theme = theme;
        self
    }

    /// Seeds the choice of problems.
    pub fn seed(mut self, seed: u64) -> Play {
        self.seed = seed;
        self
    }

    fn settle(&mut self, commands: Vec<Cmd>) {
        let mut files = NoFiles { copy: self.copy(), ..NoFiles::default() };
        let mut hands =
            Hands { store: open(&self.folder), backstage: &mut files, seed: self.seed, day: self.day, clock };
        self.left |= !hands.settle(&mut self.model, commands);
    }

    /// Where a copy of the records goes.
    pub fn copy(&self) -> PathBuf {
        self.folder.path().join("copy.sqlite")
    }

    /// Presses keys; names stand in angle brackets.
    pub fn keys(mut self, keys: &str) -> Play {
        self.press(keys);
        self
    }

    pub fn press(&mut self, keys: &str) {
        let mut rest = keys;
        while let Some(first) = rest.chars().next() {
            let (code, used) = match rest.strip_prefix('<').and_then(|named| named.split_once('>')) {
                Some((name, _)) => (named_key(name), name.len() + 2),
                None => ((KeyCode::Char(first), KeyModifiers::NONE), first.len_utf8()),
            };
            rest = &rest[used..];
            let commands = tui::update(&mut self.model, Msg::Key(KeyEvent::new(code.0, code.1), clock()));
            self.settle(commands);
        }
    }

    /// Answers the question being asked with the right answer, or with that of a mix-up (`first`: the first listed).
    pub fn answer(mut self, mixup: Option<&str>) -> Play {
        self.give(mixup);
        self
    }

    /// The same.
    pub fn give(&mut self, mixup: Option<&str>) {
        let Screen::Practice(screen) = &self.model.screen else { panic!("nothing is being asked") };
        let problem = &screen.flow.asked().unwrap().problem;
        let wrong = |id| problem.mixups().iter().find(|mixup| id == "first" || mixup.meta.id.as_str() == id);
        let answer = match mixup {
            None => problem.answer(),
            Some(id) => &wrong(id).expect("the item exposes it").answer,
        };
        if let (Question::SetDial { start, .. }, [Value::Angle(wanted)]) = (problem.question(), answer.values()) {
            // Up and left make the number grow.
            let growth = (*wanted - *start).wrapped().degrees().round() as usize;
            self.press(&("<up>".repeat(growth / 10) + &"<left>".repeat(growth % 10) + "<enter>"));
            return;
        }
        if let ([Value::Point(wanted)], Some(cross)) = (answer.values(), screen.filling().and_then(|it| it.cross())) {
            // A small step is 20 m on a map at 1:25 000, 40 m at 1:50 000: the nearest place is near enough.
            let text = cross.text();
            let (east, north) = text.split_once(' ').expect("two numbers");
            let step = if cross.step_words().starts_with("a step is 20 m") { 20.0 } else { 40.0 };
            let steps = |from: &str, to: f64| ((to - from.parse::<f64>().expect("metres")) / step).round();
            let way =
                |steps: f64, more: &str, less: &str| if steps < 0.0 { less } else { more }.repeat(steps.abs() as usize);
            let keys = way(steps(east, wanted.east_m), "<right>", "<left>")
                + &way(steps(north, wanted.north_m), "<up>", "<down>")
                + "<enter>";
            self.press(&keys);
            return;
        }
        let fields = problem.question().fields().iter().zip(answer.values());
        // Words are chosen with the arrows: several may begin with one letter.
        let texts: Vec<String> = fields
            .map(|(field, value)| match value {
                Value::Choice(at) => "<right>".repeat(at + 1),
                value => field.typed(*value),
            })
            .collect();
        for text in texts {
            self.press(&text);
            self.press("<enter>");
        }
    }

    /// Works at the map table by these moves, and is done.
    pub fn at_table(&mut self, moves: &[Move]) {
        let Screen::Practice(screen) = &self.model.screen else { panic!("nothing is being asked") };
        let pending = screen.flow.answer_with_moves(moves, clock()).expect("work at the table");
        self.settle(vec![Cmd::Record(Box::new(pending))]);
    }

    /// Presses keys and stays.
    pub fn also(&mut self, keys: &str) -> &Play {
        self.press(keys);
        self
    }

    /// The store of this machine.
    pub fn store(&self) -> Store {
        open(&self.folder)
    }

    /// What the clock of the plays shows, a moment after the last key.
    pub fn now(&self) -> Timestamp {
        clock()
    }

    /// The picture at a size.
    pub fn buffer(&self, cols: u16, rows: u16) -> Buffer {
        let mut terminal = Terminal::new(TestBackend::new(cols, rows)).unwrap();
        terminal.draw(|frame| tui::view(&self.model, frame)).unwrap();
        terminal.backend().buffer().clone()
    }

    /// The glyphs at a size.
    pub fn text(&self, cols: u16, rows: u16) -> String {
        glyphs(&self.buffer(cols, rows))
    }
}

fn open(folder: &TempDir) -> Store {
    let metas: Vec<_> = skills::metas().collect();
    Store::open(&folder.path().join("records.sqlite"), &metas).unwrap()
}

fn named_key(name: &str) -> (KeyCode, KeyModifiers) {
    let plain = |code| (code, KeyModifiers::NONE);
    match name {
        "enter" => plain(KeyCode::Enter),
        "esc" => plain(KeyCode::Esc),
        "tab" => plain(KeyCode::Tab),
        "s-tab" => plain(KeyCode::BackTab),
        "up" => plain(KeyCode::Up),
        "down" => plain(KeyCode::Down),
        "left" => plain(KeyCode::Left),
        "right" => plain(KeyCode::Right),
        "pgdn" => plain(KeyCode::PageDown),
        "pgup" => plain(KeyCode::PageUp),
        "home" => plain(KeyCode::Home),
        "end" => plain(KeyCode::End),
        "bs" => plain(KeyCode::Backspace),
        "f1" => plain(KeyCode::F(1)),
        "f2" => plain(KeyCode::F(2)),
        "f9" => plain(KeyCode::F(9)),
        "s-left" => (KeyCode::Left, KeyModifiers::SHIFT),
        "s-right" => (KeyCode::Right, KeyModifiers::SHIFT),
        "s-up" => (KeyCode::Up, KeyModifiers::SHIFT),
        "s-down" => (KeyCode::Down, KeyModifiers::SHIFT),
        "c-c" => (KeyCode::Char('c'), KeyModifiers::CONTROL),
        other => panic!("unknown key {other}"),
    }
}

pub fn glyphs(buffer: &Buffer) -> String {
    let mut out = String::new();
    for y in 0..buffer.area.height {
        let line: String = (0..buffer.area.width).map(|x| buffer[(x, y)].symbol()).collect();
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

/// The picture with its styles: under each row of the screen a row of letters, one for each style but the running text's;
/// then what the letters are.
pub fn styles(play: &Play) -> String {
    let buffer = play.buffer(80, 24);
    let text = play.model.shared.theme.tone(Tone::Text);
    let mut letters: BTreeMap<String, char> = BTreeMap::new();
    let mut dump = String::new();
    for y in 0..buffer.area.height {
        let (mut glyphs, mut below) = (String::new(), String::new());
        for x in 0..buffer.area.width {
            let cell = &buffer[(x, y)];
            let next = char::from(b'a' + u8::try_from(letters.len()).unwrap());
            let style = told(cell.style());
            glyphs += cell.symbol();
            below.push(if style == told(text) { ' ' } else { *letters.entry(style).or_insert(next) });
        }
        writeln!(dump, "{}", glyphs.trim_end()).unwrap();
        if !below.trim().is_empty() {
            writeln!(dump, "{}", below.trim_end()).unwrap();
        }
    }
    let mut legend: Vec<(char, String)> = letters.into_iter().map(|(style, letter)| (letter, style)).collect();
    legend.sort_unstable();
    writeln!(dump, "\n   {}", told(text)).unwrap();
    for (letter, style) in legend {
        writeln!(dump, "{letter}  {style}").unwrap();
    }
    dump
}

/// A style in words.
fn told(style: Style) -> String {
    let color = |color| match color {
        Some(Color::Rgb(r, g, b)) => format!("#{r:02x}{g:02x}{b:02x}"),
        None | Some(Color::Reset) => "own".to_owned(),
        Some(other) => format!("{other:?}"),
    };
    let words = format!("{:?}", style.add_modifier).to_lowercase();
    format!(
        "{} on {}{}",
        color(style.fg),
        color(style.bg),
        if words == "none" { String::new() } else { format!(", {words}") }
    )
}

/// What is written on a screen can be read: text by the contrast that a theme promises, where it names its colours. Braille
/// is drawing, whose parts are tried where the themes are.
pub fn assert_readable(play: &Play, least: f64) {
    let buffer = play.buffer(80, 24);
    for cell in &buffer.content {
        let (Color::Rgb(r, g, b), Color::Rgb(back_r, back_g, back_b)) = (cell.fg, cell.bg) else { continue };
        if cell.symbol().chars().all(char::is_alphanumeric) {
            let contrast = contrast((r, g, b), (back_r, back_g, back_b));
            assert!(
                contrast >= least,
                "{:?}: {:?}, {}: {contrast:.2}",
                play.model.shared.theme,
                cell.symbol(),
                told(cell.style())
            );
        }
    }
}
