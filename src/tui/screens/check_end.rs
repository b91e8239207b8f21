//! The end of somebody's check: how each skill stands, and every wrong answer explained.

use super::handover::{Handover, Queued};
use crate::learner::readiness::Next as Asked;
use crate::session::{CheckEnd, Missed};
use crate::store::Learner;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter, cut, right_word};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct CheckEndPage {
    /// Who was checked.
    pub learner: Learner,
    /// How it stands.
    pub end: CheckEnd,
    /// Who comes after.
    pub rest: Vec<Queued>,
    /// Whether the last answer could not be written.
    pub lost: bool,
    /// How far it is scrolled.
    pub scroll: Scroll,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// The next one, or the patrol.
    Next,
    /// Scroll.
    Scroll(i32),
    /// To the patrol.
    Patrol,
}

impl CheckEndPage {
    /// The page.
    #[must_use]
    pub fn new(learner: Learner, end: CheckEnd, rest: Vec<Queued>, lost: bool) -> CheckEndPage {
        CheckEndPage { learner, end, rest, lost, scroll: Scroll::default() }
    }
}

const SCROLL: Line<Msg> = Line::new(
    &[
        (On::Key(KeyCode::Up), Msg::Scroll(-1)),
        (On::Key(KeyCode::Down), Msg::Scroll(1)),
        (On::Key(KeyCode::PageUp), Msg::Scroll(-10)),
        (On::Key(KeyCode::PageDown), Msg::Scroll(10)),
    ],
    "scroll",
)
.short("↑ ↓ PgDn", "scroll");
/// Somebody comes after.
const PASS_ON: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Next)], "pass the keyboard on").short("Enter", "pass the keyboard on"),
    SCROLL,
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Patrol)], "to the patrol").short("Esc", "to the patrol"),
];
/// Nobody does.
const LAST: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Next), (On::Key(KeyCode::Esc), Msg::Patrol)], "to the patrol")
        .short("Enter", "to the patrol"),
    SCROLL,
];

impl Page for CheckEndPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] =
        &[("The end of a check", PASS_ON), ("The end of a check", LAST)];

    fn keys(&self) -> Table<Msg> {
        if self.rest.is_empty() { LAST } else { PASS_ON }
    }

    fn update(&mut self, msg: Msg, _press: Press, _shared: &mut Shared) -> Next {
        match msg {
            Msg::Scroll(by) => self.scroll.by(by),
            Msg::Next if !self.rest.is_empty() => {
                return Next::Go(Handover { queue: std::mem::take(&mut self.rest) }.into());
            }
            Msg::Next | Msg::Patrol => return Next::Do(Cmd::Patrol),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        (format!("{} · end of the check", self.learner.name), shared.day.to_string())
    }
}

/// The shape that stands for what follows.
const fn shape(next: Asked) -> (&'static str, Tone) {
    match next {
        Asked::Ready(_) => ("●", Tone::Right),
        Asked::AnotherDay(_) => ("◐", Tone::Text),
        Asked::NotYet(_) => ("○", Tone::Text),
        Asked::Ask(_) => ("…", Tone::Quiet),
    }
}

fn view(page: &CheckEndPage, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.title(&format!("{}: {}.", page.learner.name, page.end.title));
    if page.end.left > 0 {
        lines.text("Left in the middle. Everything answered is kept, and it goes on with the same problem.");
        lines.quiet("A key was hit by accident? Your leader can annul that answer: m, then k, on the leader's page.");
    }
    for remark in page.end.remarks() {
        lines.quiet(&remark);
    }
    lines.gap();
    for line in &page.end.lines {
        let (shape, tone) = shape(line.next);
        lines.spans(vec![
            (tone, format!("{shape} ")),
            (Tone::Text, format!("{:<34}", cut(line.skill.title, 33))),
            (tone, line.words()),
        ]);
        let count = line.count();
        if !count.is_empty() {
            lines.hanging(Tone::Quiet, "  ", &format!("level {}, {count}", line.level));
        }
        if let Some(why) = line.critical() {
            lines.hanging(Tone::Caution, "  ", &why);
        }
    }
    let to_do: Vec<&str> = page
        .end
        .lines
        .iter()
        .filter(|line| matches!(line.next, Asked::NotYet(_) | Asked::AnotherDay(_)))
        .map(|line| line.skill.title)
        .collect();
    if !to_do.is_empty() {
        lines.gap();
        lines.text(&format!(
            "Not yet is not never: everybody gets there with practice. What to practise: {}.",
            to_do.join("; ")
        ));
    }
    let missed: Vec<&Missed> = page.end.lines.iter().flat_map(|line| &line.missed).collect();
    lines.gap();
    match missed.len() {
        0 => lines.quiet("Nothing to explain."),
        1 => lines.title("One answer was not right:"),
        count => lines.title(&format!("{count} answers were not right:")),
    }
    for missed in missed {
        lines.gap();
        explained(missed, Tone::Wrong, &mut lines);
    }
    let codes = page.end.lines.iter().filter(|line| !line.codes.is_empty());
    for (at, line) in codes.enumerate() {
        if at == 0 {
            lines.gap();
            lines.quiet("All problems of these tries, by code: needlewise problem CODE --solution");
        }
        lines.hanging(Tone::Quiet, "  ", &line.codes.join(", "));
    }
    if page.lost {
        lines.gap();
        lines.tone(
            Tone::Caution,
            "Your last answer could not be written down and is lost. What came before it is kept.",
        );
    }
    painter.lines_from(lines, area, &page.scroll);
}

/// One answer: what was asked, what was given, what is right and why; the verdict in this tone.
pub(super) fn explained(missed: &Missed, tone: Tone, lines: &mut Lines) {
    let told = &missed.told;
    lines.quiet(&missed.prompt);
    lines.tone(tone, &told.headline);
    lines.answers(&told.given, &told.right);
    if let Some(table) = &told.table {
        for line in &table.lines {
            lines.text(line);
        }
    }
    if let Some(paths) = &told.paths {
        lines.hanging(Tone::Wrong, "you     ", &paths.yours);
        lines.hanging(Tone::Right, right_word(&[&paths.right, &paths.yours]), &paths.right);
    }
    if let Some(mend) = told.mend {
        lines.hanging(Tone::Text, "so      ", mend);
    }
    for (number, step) in told.steps.iter().enumerate() {
        lines.hanging(Tone::Text, &format!("{}  ", step.mark(number)), &step.line());
    }
    lines.quiet(&format!("code {}", missed.code));
}
