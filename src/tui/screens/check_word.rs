//! The leader's word about a member's check: an answer lost to the keyboard is annulled, a wait is shortened, each with a reason.
//!
//! Other forms were drawn: a screen for each question, and one sentence with gaps. In this one all that is said together stands
//! together, and what it does to the plan's error stands under it before it is done.

use crate::clerk::{LostAnswer, Wait};
use crate::numbers::round_from;
use crate::session::{annulling_words, days_words, sentence, shortening_words};
use crate::store::{AttemptId, CheckId, Learner, LearnerId};
use crate::tui::input::Input;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{self, Lines, Painter};
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use jiff::civil::Date;
use jiff::{Timestamp, ToSpan};
use ratatui::layout::Rect;

/// Cells of the field.
const FIELD: u16 = 60;
/// After so many days a shorter wait may end.
const AFTER: [i64; 4] = [0, 1, 3, 7];
/// Why an answer is annulled; each can stand before "so an answer was annulled".
const LOST: [&str; 3] =
    ["the key was hit by accident", "a key stuck or bounced", "another key was pressed than the one that was meant"];
/// Why a wait is shortened; each can stand before "so the wait ends".
const SOONER: [&str; 3] = [
    "the outing comes before the wait is over",
    "they were ill on the day of the check",
    "they have practised it outdoors since",
];
const OWN_WORDS: &str = "in your words";

/// What the leader says.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    /// An answer counts for nothing.
    Annul(LearnerId, AttemptId, String),
    /// A new check may begin from this day on, after these checks in these skills.
    Shorten(Vec<(CheckId, &'static str)>, Date, String),
}

/// What it is about.
#[derive(Debug)]
enum About {
    /// The answers of tries under way, the newest first, each with how long ago it was given.
    Answers(Vec<(LostAnswer, String)>),
    /// The waiting times.
    Waits(Vec<Wait>),
}

/// A field of the form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Field {
    Which,
    When,
    Why,
    Words,
}

/// The state.
#[derive(Debug)]
pub struct CheckWord {
    learner: Learner,
    about: About,
    which: usize,
    when: usize,
    why: usize,
    words: Input,
    field: Field,
    /// Whether all is said, and it was asked if it is to be done.
    sure: bool,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// The next field, or all is said.
    Enter,
    /// So many fields on.
    Field(i32),
    /// So many choices on.
    Choose(i32),
    /// A key for the field.
    Type,
    /// Do it.
    Yes,
    /// Back without anything said.
    Back,
}

const ENTER: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Enter)], "the next field; at the end it is asked whether to do it")
        .short("Enter", "next, then ask");
const FIELDS: Line<Msg> = Line::new(
    &[(On::Key(KeyCode::Tab), Msg::Field(1)), (On::Key(KeyCode::BackTab), Msg::Field(-1))],
    "the next field, the field before",
)
.short("Tab", "field");
const BACK: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back, with everything as it was").short("Esc", "back");
const HEADING: &str = "The leader's word about a check";
const CHOICES: Table<Msg> = &[
    ENTER,
    Line::new(&[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))], "choose")
        .short("↑ ↓", "choose"),
    FIELDS,
    BACK,
];
const TYPED: Table<Msg> = &[ENTER, FIELDS, BACK, Line::new(&[(On::Text, Msg::Type)], "type the reason")];
const SURE: Table<Msg> = &[
    Line::new(&[(On::Letter('y'), Msg::Yes)], "yes, do it").short("y", "yes, do it"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back), (On::Letter('n'), Msg::Back)], "no, leave everything as it was")
        .short("n", "no"),
];
const NOTHING: Table<Msg> = &[Line::new(
    &[(On::Key(KeyCode::Esc), Msg::Back), (On::Key(KeyCode::Enter), Msg::Back)],
    "back to the leader's page",
)
.short("Esc", "back")];

impl CheckWord {
    /// To annul one of these answers, the newest first.
    #[must_use]
    pub fn annul(learner: Learner, answers: Vec<LostAnswer>, now: Timestamp) -> CheckWord {
        let told = |answer: LostAnswer| {
            let ago = ago_words(answer.at, now);
            (answer, ago)
        };
        CheckWord::about(learner, About::Answers(answers.into_iter().map(told).collect()))
    }

    /// To shorten one of these waiting times, or all of them.
    #[must_use]
    pub fn shorten(learner: Learner, waits: Vec<Wait>, today: Date) -> CheckWord {
        let shorter = |wait: &Wait| days(today).any(|day| wait.can_end_on(day));
        CheckWord::about(learner, About::Waits(waits.into_iter().filter(shorter).collect()))
    }

    fn about(learner: Learner, about: About) -> CheckWord {
        let (which, when, why, words) = (0, 0, 0, Input::default());
        CheckWord { learner, about, which, when, why, words, field: Field::Which, sure: false }
    }

    fn is_empty(&self) -> bool {
        match &self.about {
            About::Answers(answers) => answers.is_empty(),
            About::Waits(waits) => waits.is_empty(),
        }
    }

    /// The fields, in their order.
    fn fields(&self) -> &'static [Field] {
        let own = self.why == LOST.len();
        match (&self.about, own) {
            (About::Answers(_), false) => &[Field::Which, Field::Why],
            (About::Answers(_), true) => &[Field::Which, Field::Why, Field::Words],
            (About::Waits(_), false) => &[Field::Which, Field::When, Field::Why],
            (About::Waits(_), true) => &[Field::Which, Field::When, Field::Why, Field::Words],
        }
    }

    fn reasons(&self) -> Vec<&'static str> {
        let listed = if matches!(self.about, About::Answers(_)) { LOST } else { SOONER };
        listed.into_iter().chain([OWN_WORDS]).collect()
    }

    fn reason(&self) -> String {
        match self.reasons().get(self.why) {
            Some(listed) if self.why < LOST.len() => (*listed).to_owned(),
            _ => self.words.text().trim().to_owned(),
        }
    }

    /// What can be chosen between, in words.
    fn items(&self) -> Vec<String> {
        match &self.about {
            About::Answers(answers) => answers
                .iter()
                .enumerate()
                .map(|(at, (answer, ago))| {
                    let which = match at {
                        0 => "the last answer".to_owned(),
                        1 => "the one before".to_owned(),
                        at => format!("{at} before the last"),
                    };
                    format!("{which:<18}{ago:<24}{}", answer.skill.title)
                })
                .collect(),
            About::Waits(waits) => {
                let all = (waits.len() > 1).then(|| format!("all {} of these skills", waits.len()));
                let one = |wait: &Wait| format!("{:<40}next from {}", wait.skill.title, wait.from);
                all.into_iter().chain(waits.iter().map(one)).collect()
            }
        }
    }

    /// The waits that are chosen.
    fn chosen_waits(&self) -> &[Wait] {
        match &self.about {
            About::Answers(_) => &[],
            About::Waits(waits) if waits.len() > 1 && self.which == 0 => waits,
            About::Waits(waits) => {
                let at = self.which - usize::from(waits.len() > 1);
                waits.get(at..=at).unwrap_or_default()
            }
        }
    }

    /// The days on which the chosen waits could end.
    fn ends(&self, today: Date) -> Vec<Date> {
        let waits = self.chosen_waits();
        days(today).filter(|day| waits.iter().any(|wait| wait.can_end_on(*day))).collect()
    }

    /// What is said, once all of it is.
    fn said(&self, today: Date) -> Option<Said> {
        let reason = self.reason();
        match &self.about {
            About::Answers(answers) => {
                let (answer, _) = answers.get(self.which)?;
                Some(Said::Annul(self.learner.id, answer.attempt, reason))
            }
            About::Waits(_) => {
                let from = *self.ends(today).get(self.when)?;
                let waits = self.chosen_waits().iter().filter(|wait| wait.can_end_on(from));
                Some(Said::Shorten(waits.map(|wait| (wait.check, wait.skill.id)).collect(), from, reason))
            }
        }
    }

    fn choose(&mut self, by: i32, today: Date) {
        let step = |at: usize, of: usize| at.saturating_add_signed(by as isize).min(of.saturating_sub(1));
        match self.field {
            Field::Which => {
                self.which = step(self.which, self.items().len());
                self.when = self.when.min(self.ends(today).len().saturating_sub(1));
            }
            Field::When => self.when = step(self.when, self.ends(today).len()),
            Field::Why => self.why = step(self.why, self.reasons().len()),
            Field::Words => {}
        }
    }

    fn go(&mut self, by: i32) {
        let fields = self.fields();
        let at = fields.iter().position(|field| *field == self.field).unwrap_or(0);
        self.field = fields.get(round_from(at, by, fields.len())).copied().unwrap_or(Field::Which);
    }
}

/// The days that are offered.
fn days(today: Date) -> impl Iterator<Item = Date> {
    AFTER.into_iter().map(move |after| today.checked_add(after.days()).unwrap_or(Date::MAX))
}

/// How long ago something was: `4 minutes ago`.
fn ago_words(at: Timestamp, now: Timestamp) -> String {
    let minutes = now.duration_since(at).as_mins();
    match minutes {
        ..1 => "less than a minute ago".to_owned(),
        1 => "a minute ago".to_owned(),
        2..=99 => format!("{minutes} minutes ago"),
        100..2880 => format!("{} hours ago", minutes / 60),
        _ => format!("{} days ago", minutes / 1440),
    }
}

impl Page for CheckWord {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] =
        &[(HEADING, CHOICES), (HEADING, TYPED), (HEADING, SURE), (HEADING, NOTHING)];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        match self.field {
            _ if self.is_empty() => NOTHING,
            _ if self.sure => SURE,
            Field::Words => TYPED,
            _ => CHOICES,
        }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        let last = self.fields().last() == Some(&self.field);
        match msg {
            Msg::Back if self.sure => self.sure = false,
            Msg::Back => return Next::Do(Cmd::Patrol),
            Msg::Choose(by) => self.choose(by, shared.day),
            Msg::Field(by) => self.go(by),
            Msg::Type => paint::edit(&mut self.words, press.key),
            Msg::Enter if self.field == Field::Words && self.reason().is_empty() => {
                shared.notice = Some("Say why: the report gives the reason.".to_owned());
            }
            Msg::Enter if last => self.sure = true,
            Msg::Enter => self.go(1),
            Msg::Yes => return Next::maybe(self.said(shared.day).map(Cmd::Say)),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        (format!("{} · the leader's word", shown(self, shared)), shared.day.to_string())
    }

    // What is typed is free text: a question mark is a letter of it.
    fn types_text(&self) -> bool {
        self.field == Field::Words && !self.sure
    }

    fn paste(&mut self, text: &str) {
        if self.field == Field::Words && !self.sure {
            self.words.paste(text);
        }
    }
}

/// A list that is open where something is chosen in it, and otherwise its chosen line alone: so the form fits the smallest window.
fn list(lines: &mut Lines, heading: &str, items: &[String], chosen: usize, open: bool) {
    lines.tone(if open { Tone::Title } else { Tone::Text }, heading);
    for (at, item) in items.iter().enumerate() {
        if open || at == chosen {
            lines.item(at == chosen, item);
        }
    }
}

/// The member by name, or by initials where others look on.
fn shown(form: &CheckWord, shared: &Shared) -> String {
    shared.leader.shown(&form.learner)
}

fn view(form: &CheckWord, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    let name = shown(form, shared);
    let of_answers = matches!(form.about, About::Answers(_));
    if form.is_empty() {
        lines.title(&name);
        lines.gap();
        lines.text(if of_answers {
            "There is no answer here that could be annulled. Only one of a try that is under way can be: of others the result is known, and whoever knows it would choose."
        } else {
            "Nobody has to wait here: after not yet there is a waiting time, and only that can be shortened."
        });
        painter.lines(lines, area);
        return;
    }
    let open = |field| form.field == field && !form.sure;
    if of_answers {
        lines.title(&format!("{name}: which answer was lost to the keyboard?"));
        lines.quiet("It is not shown whether it was right: nobody is told before the try has ended.");
    } else {
        lines.title(&format!("{name}: which wait is too long?"));
        lines.quiet("After not yet one waits, since whoever tries again and again passes by luck in the end.");
    }
    lines.gap();
    let which = if of_answers { "Answer" } else { "Skill" };
    list(&mut lines, which, &form.items(), form.which, open(Field::Which));
    lines.gap();
    if !of_answers {
        let day = |day: &Date| format!("{day}, {}", days_words(*day, shared.day));
        let ends: Vec<String> = form.ends(shared.day).iter().map(day).collect();
        list(&mut lines, "A new check may begin on", &ends, form.when, open(Field::When));
        lines.gap();
    }
    let reasons: Vec<String> = form.reasons().into_iter().map(str::to_owned).collect();
    list(&mut lines, "Why? The report gives the reason", &reasons, form.why, open(Field::Why));
    let row = form.fields().contains(&Field::Words).then(|| lines.field(&form.words, usize::from(FIELD)));
    lines.gap();
    match &form.about {
        About::Answers(answers) => {
            lines.text("A fresh problem of the same skill and level takes its place. This cannot be taken back.");
            if let Some((answer, _)) = answers.get(form.which) {
                lines.tone(Tone::Caution, &annulling_words(&answer.plan, &answer.tries));
            }
        }
        About::Waits(_) => {
            if let Some(wait) = form.chosen_waits().first() {
                lines.tone(Tone::Caution, &shortening_words(&wait.plan));
            }
        }
    }
    if form.sure {
        lines.gap();
        let done = match &form.about {
            About::Answers(_) => "this answer is annulled",
            About::Waits(_) if form.chosen_waits().len() > 1 => "these waits are shortened",
            About::Waits(_) => "this wait is shortened",
        };
        lines.tone(Tone::Key, &sentence(&format!("{}, so {done}: y", form.reason())));
    }
    painter.lines(lines, area);
    if let (Some(row), true) = (row, open(Field::Words)) {
        painter.cursor(area, row, &form.words, FIELD);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_long_ago_is_said_in_the_unit_that_fits() {
        let now = Timestamp::UNIX_EPOCH;
        let ago = |minutes: i64| ago_words(now - minutes.minutes(), now);
        assert_eq!(ago(0), "less than a minute ago");
        assert_eq!(ago(-5), "less than a minute ago", "a clock that was set back");
        assert_eq!(ago(1), "a minute ago");
        assert_eq!(ago(4), "4 minutes ago");
        assert_eq!(ago(150), "2 hours ago");
        assert_eq!(ago(3 * 1440), "3 days ago");
    }
}
