//! A round for the group: the problem large, then the key, and the leader enters who had what.

use super::group_end::GroupEnd;
use crate::report::initials_of;
use crate::session::{MemberAnswer, Pending, Round, Stored};
use crate::store::Learner;
use crate::tui::big::{ROWS, big, fits, rows_of};
use crate::tui::model::{Model, Screen};
use crate::tui::msg::Cmd;
use crate::tui::paint::{Lines, Painter, cut};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::{KeyCode, KeyEvent};
use jiff::Timestamp;
use ratatui::layout::Rect;
use std::collections::HashMap;

/// How long a round goes on, in minutes.
pub const MINUTES: u32 = 10;
/// The smallest full layout has so many columns and rows for large letters.
const ROOM: (usize, usize) = (78, 18);

/// The state.
#[derive(Debug)]
pub struct RoundScreen {
    /// The round.
    pub round: Round,
    /// Who is in it, in the order of the round's members.
    pub people: Vec<Learner>,
    /// Whether the key is shown.
    pub key: bool,
    /// What each answered, as entered so far.
    pub entered: Vec<MemberAnswer>,
    /// The member whose answer is entered.
    pub chosen: usize,
    /// Right and answered, by member.
    pub tallies: Vec<(u32, u32)>,
    /// Whether it was said that nothing is entered.
    pub sure: bool,
    /// Whether the round ends when what was entered is written down.
    pub ending: bool,
    /// Answers that could not be written, to be tried again.
    pub unsaved: bool,
    /// How far the steps are scrolled.
    pub scroll: Scroll,
}

/// What can happen here.
#[derive(Debug)]
pub enum Msg {
    /// Show the key; or write down and put the next problem.
    Enter(Timestamp),
    /// Another member.
    Choose(i32),
    /// The chosen member answered this.
    Answered(MemberAnswer),
    /// Scroll the steps.
    Scroll(i32),
    /// End the round; what was entered is written down first.
    End(Timestamp),
}

impl RoundScreen {
    /// Begins with the first problem; none when there is nothing to put.
    #[must_use]
    pub fn begin(round: Round, people: Vec<Learner>, now: Timestamp) -> Option<RoundScreen> {
        let tallies = vec![(0, 0); people.len()];
        let mut screen = RoundScreen {
            entered: Vec::new(),
            round,
            people,
            key: false,
            chosen: 0,
            tallies,
            sure: false,
            ending: false,
            unsaved: false,
            scroll: Scroll::default(),
        };
        screen.next(now).then_some(screen)
    }

    fn next(&mut self, now: Timestamp) -> bool {
        self.entered = vec![MemberAnswer::Absent; self.people.len()];
        (self.key, self.chosen, self.sure, self.scroll) = (false, 0, false, Scroll::default());
        self.round.next(now, |prompt| rows_of(prompt, ROOM.0) <= ROOM.1).is_some()
    }

    /// The keys of this screen.
    #[must_use]
    pub fn on_key(&self, key: KeyEvent, at: Timestamp) -> Option<Msg> {
        let mixups = self.round.asked.as_ref().map_or(0, |asked| asked.mixups().len());
        match key.code {
            KeyCode::Enter => Some(Msg::Enter(at)),
            KeyCode::Esc => Some(Msg::End(at)),
            KeyCode::PageDown => Some(Msg::Scroll(5)),
            KeyCode::PageUp => Some(Msg::Scroll(-5)),
            _ if !self.key => None,
            KeyCode::Down => Some(Msg::Choose(1)),
            KeyCode::Up => Some(Msg::Choose(-1)),
            KeyCode::Char('1') => Some(Msg::Answered(MemberAnswer::Right)),
            KeyCode::Char('0') => Some(Msg::Answered(MemberAnswer::Other)),
            KeyCode::Char('-' | ' ') => Some(Msg::Answered(MemberAnswer::Absent)),
            KeyCode::Char(digit @ '2'..='9') => {
                let at = digit.to_digit(10)? as usize - 2;
                (at < mixups).then_some(Msg::Answered(MemberAnswer::Mixup(at)))
            }
            _ => None,
        }
    }
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let Screen::Round(screen) = &mut model.screen else { return Vec::new() };
    match msg {
        Msg::Choose(by) => {
            let last = screen.people.len().saturating_sub(1);
            screen.chosen = screen.chosen.saturating_add_signed(by as isize).min(last);
        }
        Msg::Answered(answer) => {
            if let Some(place) = screen.entered.get_mut(screen.chosen) {
                *place = answer;
            }
            screen.chosen = (screen.chosen + 1).min(screen.people.len().saturating_sub(1));
        }
        Msg::Scroll(by) => screen.scroll.by(by),
        Msg::Enter(_) if !screen.key => screen.key = true,
        Msg::Enter(_) if !screen.sure && screen.entered.iter().all(|answer| *answer == MemberAnswer::Absent) => {
            screen.sure = true;
            model.notice = Some("Nobody's answer is entered yet. Enter once more goes on without.".to_owned());
        }
        Msg::Enter(now) => {
            let answers = screen.round.answers(&screen.entered, now);
            return vec![Cmd::RecordRound(answers, now)];
        }
        Msg::End(now) => {
            let answers = screen.round.answers(&screen.entered, now);
            if answers.is_empty() || screen.ending {
                end(model);
            } else {
                screen.ending = true;
                return vec![Cmd::RecordRound(answers, now)];
            }
        }
    }
    Vec::new()
}

/// The answers are on the disk, or could not be put there.
pub fn recorded(model: &mut Model, written: Vec<(Pending, Stored)>, error: Option<String>, now: Timestamp) -> Vec<Cmd> {
    let Screen::Round(screen) = &mut model.screen else { return Vec::new() };
    for (pending, stored) in written {
        screen.round.confirm(&pending, stored);
        let place = screen.people.iter().position(|one| one.id == pending.attempt.learner);
        if let Some(at) = place {
            let right = pending.attempt.verdict.is_right();
            if let Some(tally) = screen.tallies.get_mut(at) {
                *tally = (tally.0 + u32::from(right), tally.1 + 1);
            }
            // What is written is not written again when the rest is tried once more.
            if let Some(entered) = screen.entered.get_mut(at) {
                *entered = MemberAnswer::Absent;
            }
        }
    }
    screen.unsaved = error.is_some();
    if let Some(error) = error {
        model.notice = Some(format!("{error} What you entered is kept here. Enter tries again."));
        return Vec::new();
    }
    if screen.ending || !screen.next(now) {
        end(model);
    }
    Vec::new()
}

fn end(model: &mut Model) {
    let Screen::Round(screen) = &model.screen else { return };
    let page = GroupEnd::new("The rounds", screen.tallies.iter().copied(), screen.unsaved);
    model.screen = Screen::GroupEnd(Box::new(page));
}

/// Draws the screen.
pub fn view(screen: &RoundScreen, model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let Some(asked) = &screen.round.asked else { return };
    let problem = &asked.problem;
    if !screen.key {
        let large = big(problem.prompt(), usize::from(area.width));
        let room = usize::from(area.height).saturating_sub(2);
        if large.len() <= room {
            for (y, row) in (area.y..).zip(&large) {
                painter.put(Rect { y, height: 1, ..area }, row, Tone::Text);
            }
        } else {
            let mut lines = Lines::new(model.theme, area.width);
            lines.title(problem.prompt());
            lines.gap();
            lines.quiet("Too long for large letters here: make the terminal's letters larger, often with Ctrl and +.");
            painter.lines(lines, area);
        }
        let below = Rect { y: area.bottom().saturating_sub(1), height: 1, ..area };
        let care = "Each on paper, or on a real compass two metres away from this laptop.";
        painter.put(below, care, Tone::Caution);
        return;
    }
    // The key on the left, the members on the right.
    let part = area.width / 2;
    let left = Rect { width: part - 2, ..area };
    let mut lines = Lines::new(model.theme, left.width);
    let answer = problem.question().words(problem.answer());
    if fits(&answer, usize::from(left.width)) {
        for row in big(&answer, usize::from(left.width)).iter().take(2 * ROWS) {
            lines.spans(vec![(Tone::Right, row.clone())]);
        }
    } else {
        lines.tone(Tone::Right, &answer);
    }
    lines.gap();
    lines.quiet(problem.prompt());
    lines.gap();
    for (number, step) in problem.steps().iter().enumerate() {
        lines.hanging(Tone::Text, &format!("{}  ", number + 1), &step.line());
    }
    painter.lines_from(lines, left, &screen.scroll);
    let right = Rect { x: area.x + part, width: area.width - part, ..area };
    let mut lines = Lines::new(model.theme, right.width);
    lines.title("Who had what?");
    lines.hanging(Tone::Right, "1 ", &format!("right: {}", problem.question().words(problem.answer())));
    for (at, mixup) in asked.mixups().iter().enumerate() {
        let said = mixup.meta.said;
        let words = problem.question().words(&mixup.answer);
        lines.hanging(
            Tone::Text,
            &format!("{} ", at + 2),
            &cut(&format!("{words}: {said}"), usize::from(right.width) - 3),
        );
    }
    lines.hanging(Tone::Text, "0 ", "something else");
    lines.hanging(Tone::Text, "- ", "nothing (not recorded)");
    lines.gap();
    let names = screen.people.iter().map(|one| one.name.as_str());
    let short = if model.leader.initials { initials_of(names) } else { HashMap::new() };
    let room = usize::from(right.height).saturating_sub(lines.len()).max(3);
    let first = screen.chosen.saturating_sub(room - 1);
    for (at, learner) in screen.people.iter().enumerate().skip(first).take(room) {
        let had = match screen.entered.get(at) {
            Some(MemberAnswer::Right) => "1 right".to_owned(),
            Some(MemberAnswer::Mixup(place)) => {
                let words = asked.mixups().get(*place).map(|mixup| problem.question().words(&mixup.answer));
                format!("{} {}", place + 2, words.unwrap_or_default())
            }
            Some(MemberAnswer::Other) => "0 something else".to_owned(),
            Some(MemberAnswer::Absent) | None => "–".to_owned(),
        };
        let name = short.get(&learner.name).unwrap_or(&learner.name);
        lines.item(at == screen.chosen, &format!("{:<16}{had}", cut(name, 15)));
    }
    painter.lines(lines, right);
}

/// The keys on the bottom line.
#[must_use]
pub const fn keys(screen: &RoundScreen) -> &'static [(&'static str, &'static str)] {
    if screen.key {
        &[("1–9 0 -", "what they had"), ("↑ ↓", "member"), ("Enter", "write down, next"), ("Esc", "end")]
    } else {
        &[("Enter", "show the key"), ("Esc", "end")]
    }
}
