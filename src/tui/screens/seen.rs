//! Writing down what a leader saw somebody do on the ground.

use crate::numbers::round_from;
use crate::problem::SkillMeta;
use crate::store::{Learner, Seen, SeenOutcome};
use crate::tui::input::Input;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{self, Lines, Painter};
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// Cells of a field.
const FIELD: u16 = 48;

/// The heading of its keys in the help.
const HEADING: &str = "What was seen on the ground";

/// How it went, as the form offers it.
const OUTCOMES: [(SeenOutcome, &str); 2] = [(SeenOutcome::Yes, "yes, without help"), (SeenOutcome::No, "no, not yet")];

/// The state: a form of four fields.
#[derive(Debug)]
pub struct SeenForm {
    /// Who was seen.
    pub learner: Learner,
    /// The skills to choose from.
    pub skills: Vec<&'static SkillMeta>,
    /// The chosen one.
    pub chosen: usize,
    /// How it went, once that is chosen.
    pub outcome: Option<SeenOutcome>,
    /// What was seen.
    pub what: Input,
    /// By whom.
    pub by: Input,
    /// The field being filled in: 0 the skill, 1 how it went, 2 what, 3 by whom.
    pub field: usize,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// The next field, or all is written.
    Enter,
    /// The next or the previous field.
    Field(i32),
    /// Another skill, or how it went.
    Choose(i32),
    /// How it went.
    Went(SeenOutcome),
    /// A key for a field.
    Type,
    /// Back without writing.
    Back,
}

impl SeenForm {
    /// An empty form.
    #[must_use]
    pub fn new(learner: Learner, skills: Vec<&'static SkillMeta>) -> SeenForm {
        SeenForm { learner, skills, chosen: 0, outcome: None, what: Input::default(), by: Input::default(), field: 0 }
    }
}

const ENTER: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Enter)], "the next field; at the end, write it down")
        .short("Enter", "next field, then write down");
const CHOOSE: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))], "choose")
        .short("↑ ↓", "choose");
const FIELDS: Line<Msg> = Line::new(
    &[(On::Key(KeyCode::Tab), Msg::Field(1)), (On::Key(KeyCode::BackTab), Msg::Field(-1))],
    "the next field, the field before",
)
.short("Tab", "field");
const BACK: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back without writing it down").short("Esc", "back");
/// The skill is chosen.
const SKILL: Table<Msg> = &[ENTER, CHOOSE, FIELDS, BACK];
/// How it went is chosen.
const OUTCOME: Table<Msg> = &[
    ENTER,
    CHOOSE,
    FIELDS,
    BACK,
    Line::new(
        &[(On::Letter('y'), Msg::Went(SeenOutcome::Yes)), (On::Letter('n'), Msg::Went(SeenOutcome::No))],
        "yes, they did it; no, not yet",
    ),
];
/// Words are typed.
const WORDS: Table<Msg> = &[ENTER, FIELDS, BACK, Line::new(&[(On::Text, Msg::Type)], "type")];

impl Page for SeenForm {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[(HEADING, SKILL), (HEADING, OUTCOME), (HEADING, WORDS)];

    fn keys(&self) -> Table<Msg> {
        match self.field {
            0 => SKILL,
            1 => OUTCOME,
            _ => WORDS,
        }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        match msg {
            Msg::Back => return Next::Do(Cmd::Patrol),
            Msg::Went(outcome) => self.outcome = Some(outcome),
            Msg::Choose(by) if self.field == 1 => {
                self.outcome = Some(if by > 0 && self.outcome.is_some() { SeenOutcome::No } else { SeenOutcome::Yes });
            }
            Msg::Choose(by) => {
                self.chosen = self.chosen.saturating_add_signed(by as isize).min(self.skills.len().saturating_sub(1));
            }
            Msg::Field(by) => self.field = round_from(self.field, by, 4),
            Msg::Type if self.field == 2 => paint::edit(&mut self.what, press.key),
            Msg::Type => paint::edit(&mut self.by, press.key),
            Msg::Enter if self.outcome.is_none() && self.field > 0 => {
                self.field = 1;
                shared.notice = Some("Did they do it? Choose yes or no: y or n.".to_owned());
            }
            Msg::Enter if self.field < 3 => self.field += 1,
            Msg::Enter if self.by.text().trim().is_empty() => {
                shared.notice = Some("Who saw it? Type a name, then press Enter.".to_owned());
            }
            Msg::Enter => {
                let Some(skill) = self.skills.get(self.chosen) else { return Next::Do(Cmd::Patrol) };
                return Next::Do(Cmd::AddSeen(Box::new(Seen {
                    learner: self.learner.id,
                    skill: skill.id.to_owned(),
                    what: self.what.text().trim().to_owned(),
                    day: shared.day,
                    by: self.by.text().trim().to_owned(),
                    outcome: self.outcome.unwrap_or(SeenOutcome::NotSaid),
                })));
            }
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }

    // All of what is typed here is free text: a question mark is a letter from the first on, but not in the choices.
    fn types_text(&self) -> bool {
        self.field > 1
    }

    fn paste(&mut self, text: &str) {
        match self.field {
            2 => self.what.paste(text),
            3 => self.by.paste(text),
            _ => {}
        }
    }
}

fn view(form: &SeenForm, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.title(&format!("What did you see {} do on the ground?", form.learner.name));
    lines.quiet(&format!("It is written down for {} and stands beside the laptop's result.", shared.day));
    lines.gap();
    let tone = |field| if form.field == field { Tone::Title } else { Tone::Text };
    lines.tone(tone(0), "Skill");
    for (at, skill) in form.skills.iter().enumerate() {
        lines.item(at == form.chosen, skill.title);
    }
    lines.gap();
    lines.tone(tone(1), "Did they do it? y or n");
    for (outcome, words) in OUTCOMES {
        lines.item(form.outcome == Some(outcome), words);
    }
    lines.gap();
    lines.tone(tone(2), "What, in your words (may be left empty)");
    let what = lines.field(&form.what, usize::from(FIELD));
    lines.gap();
    lines.tone(tone(3), "Seen by");
    let by = lines.field(&form.by, usize::from(FIELD));
    painter.lines(lines, area);
    match form.field {
        2 => painter.cursor(area, what, &form.what, FIELD),
        3 => painter.cursor(area, by, &form.by, FIELD),
        _ => {}
    }
}
