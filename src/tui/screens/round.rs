//! A round for the group: the problem large, then the key, and the leader enters who had what.

use super::group_end::GroupEnd;
use crate::session::{GroupTally, MemberAnswer, PAPER_CARE, Pending, Round, Slip, Stored};
use crate::store::Learner;
use crate::tui::big::{ROWS, big, fits, rows_of};
use crate::tui::keys::{Line, On, Press, Question, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter, cut};
use crate::tui::screens::patrol::Undo;
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use jiff::Timestamp;
use ratatui::layout::Rect;

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
    /// Answers that could not be written, to be tried again.
    pub unsaved: bool,
    /// How far the steps are scrolled.
    pub scroll: Scroll,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Show the key; or write down and put the next problem.
    Enter,
    /// Another member.
    Choose(i32),
    /// The chosen member had what has this digit.
    Had,
    /// The chosen member had nothing.
    Nothing,
    /// Scroll the steps.
    Scroll(i32),
    /// End the round, after a question where something was entered and not written down.
    End,
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
            unsaved: false,
            scroll: Scroll::default(),
        };
        screen.next(now).then_some(screen)
    }

    fn next(&mut self, now: Timestamp) -> bool {
        self.entered = vec![MemberAnswer::Absent; self.people.len()];
        (self.key, self.chosen, self.scroll) = (false, 0, Scroll::default());
        self.round.next(now, |prompt| rows_of(prompt, ROOM.0) <= ROOM.1).is_some()
    }

    /// The chosen member had this; the next one is chosen.
    fn had(&mut self, answer: MemberAnswer) {
        if let Some(place) = self.entered.get_mut(self.chosen) {
            *place = answer;
        }
        self.chosen = (self.chosen + 1).min(self.people.len().saturating_sub(1));
    }

    /// The answers are on the disk, or could not be put there.
    pub fn recorded(
        &mut self,
        written: Vec<(Pending, Stored)>,
        error: Option<String>,
        now: Timestamp,
        shared: &mut Shared,
    ) -> Next {
        let slip = |(pending, stored): &(Pending, Stored)| Slip {
            learner: pending.attempt.learner,
            attempt: stored.recorded.id,
            day: pending.attempt.day,
        };
        let slips: Vec<Slip> = written.iter().map(slip).collect();
        match shared.leader.undo.last_mut() {
            // The rest of what could not be written at once.
            Some(Undo::Round(before)) if self.unsaved => before.extend(slips),
            _ if !slips.is_empty() => shared.leader.undo.push(Undo::Round(slips)),
            _ => {}
        }
        for (pending, stored) in written {
            self.round.confirm(&pending, stored);
            let place = self.people.iter().position(|one| one.id == pending.attempt.learner);
            if let Some(at) = place {
                let right = pending.attempt.verdict.is_right();
                if let Some(tally) = self.tallies.get_mut(at) {
                    *tally = (tally.0 + u32::from(right), tally.1 + 1);
                }
                // What is written is not written again when the rest is tried once more.
                if let Some(entered) = self.entered.get_mut(at) {
                    *entered = MemberAnswer::Absent;
                }
            }
        }
        self.unsaved = error.is_some();
        if let Some(error) = error {
            shared.notice = Some(format!("{error} What you entered is kept here. Enter tries again."));
            return Next::Stay;
        }
        if !self.next(now) { self.end() } else { Next::Stay }
    }

    fn end(&self) -> Next {
        Next::Go(GroupEnd::new("The rounds", GroupTally::of(self.tallies.iter().copied()), self.unsaved).into())
    }
}

const STEPS: Line<Msg> = Line::new(
    &[(On::Key(KeyCode::PageUp), Msg::Scroll(-5)), (On::Key(KeyCode::PageDown), Msg::Scroll(5))],
    "scroll the steps",
);
const END: Line<Msg> = Line::new(
    &[(On::Key(KeyCode::Esc), Msg::End)],
    "end the round; asks where something was entered and not written down",
)
.short("Esc", "end");
/// All work.
const PUT: Table<Msg> =
    &[Line::new(&[(On::Key(KeyCode::Enter), Msg::Enter)], "show the key").short("Enter", "show the key"), END];
/// The key is shown, and the leader enters who had what.
const KEY: Table<Msg> = &[
    Line::new(
        &[(On::Digit, Msg::Had), (On::Letter('-'), Msg::Nothing), (On::Letter(' '), Msg::Nothing)],
        "what the chosen member had, as listed; - is nothing",
    )
    .short("1–9 0 -", "what they had"),
    Line::new(&[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))], "another member")
        .short("↑ ↓", "member"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Enter)], "write it down, and the next problem")
        .short("Enter", "write down, next"),
    STEPS,
    END,
];

impl Page for RoundScreen {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("A round", PUT), ("A round", KEY)];

    fn keys(&self) -> Table<Msg> {
        if self.key { KEY } else { PUT }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        let now = press.at;
        match msg {
            Msg::Choose(by) => {
                let last = self.people.len().saturating_sub(1);
                self.chosen = self.chosen.saturating_add_signed(by as isize).min(last);
            }
            Msg::Had => {
                let mixups = self.round.asked.as_ref().map_or(0, |asked| asked.mixups().len());
                if let Some(answer) = press.digit().and_then(|digit| MemberAnswer::of_digit(digit, mixups)) {
                    self.had(answer);
                }
            }
            Msg::Nothing => self.had(MemberAnswer::Absent),
            Msg::Scroll(by) => self.scroll.by(by),
            Msg::Enter if !self.key => self.key = true,
            Msg::Enter
                if press.answers != Some(Question::Nothing)
                    && self.entered.iter().all(|answer| *answer == MemberAnswer::Absent) =>
            {
                let words = "Nobody's answer is entered yet. Enter once more goes on without.";
                shared.ask(Question::Nothing, words.to_owned());
            }
            Msg::Enter => return Next::Do(Cmd::RecordRound(self.round.answers(&self.entered, now), now)),
            Msg::End => {
                // Only Enter writes down: what a closed window would lose, leaving loses as well, but after a question.
                if press.answers == Some(Question::Leave) || self.round.answers(&self.entered, now).is_empty() {
                    return self.end();
                }
                let words = "What you entered is not written down. Enter writes it down, Esc once more leaves it out.";
                shared.ask(Question::Leave, words.to_owned());
            }
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }

    fn title(&self, _shared: &Shared) -> (String, String) {
        let title = self.round.asked.as_ref().map_or("", |asked| asked.problem.skill().title);
        (format!("Round {} · {title}", self.round.number), self.round.plan().end_words())
    }
}

fn view(screen: &RoundScreen, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
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
            let mut lines = Lines::new(shared.theme, area.width);
            lines.title(problem.prompt());
            lines.gap();
            lines.quiet("Too long for large letters here: make the terminal's letters larger, often with Ctrl and +.");
            painter.lines(lines, area);
        }
        let below = Rect { y: area.bottom().saturating_sub(1), height: 1, ..area };
        painter.put(below, PAPER_CARE, Tone::Caution);
        return;
    }
    // The key on the left, the members on the right.
    let part = area.width / 2;
    let left = Rect { width: part - 2, ..area };
    let mut lines = Lines::new(shared.theme, left.width);
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
        lines.hanging(Tone::Text, &format!("{}  ", step.mark(number)), &step.line());
    }
    painter.lines_from(lines, left, &screen.scroll);
    let right = Rect { x: area.x + part, width: area.width - part, ..area };
    let mut lines = Lines::new(shared.theme, right.width);
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
        let name = shared.leader.shown(learner);
        lines.item(at == screen.chosen, &format!("{:<16}{had}", cut(&name, 15)));
    }
    painter.lines(lines, right);
}
