//! Writing down what a leader saw somebody do on the ground.

use crate::problem::SkillMeta;
use crate::store::{Learner, Seen, SeenOutcome};
use crate::tui::input::Input;
use crate::tui::model::{Model, Screen};
use crate::tui::msg::Cmd;
use crate::tui::paint::{self, Lines, Painter};
use crate::tui::theme::Tone;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::layout::Rect;

/// Cells of a field.
const FIELD: u16 = 48;

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
#[derive(Debug)]
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
    Type(KeyEvent),
    /// Back without writing.
    Back,
}

impl SeenForm {
    /// An empty form.
    #[must_use]
    pub fn new(learner: Learner, skills: Vec<&'static SkillMeta>) -> SeenForm {
        SeenForm { learner, skills, chosen: 0, outcome: None, what: Input::default(), by: Input::default(), field: 0 }
    }

    /// The keys of this screen.
    #[must_use]
    pub const fn on_key(&self, key: KeyEvent) -> Option<Msg> {
        match (self.field, key.code) {
            (_, KeyCode::Esc) => Some(Msg::Back),
            (_, KeyCode::Enter) => Some(Msg::Enter),
            (_, KeyCode::Tab) => Some(Msg::Field(1)),
            (_, KeyCode::BackTab) => Some(Msg::Field(-1)),
            (0 | 1, KeyCode::Down) => Some(Msg::Choose(1)),
            (0 | 1, KeyCode::Up) => Some(Msg::Choose(-1)),
            (1, KeyCode::Char('y')) => Some(Msg::Went(SeenOutcome::Yes)),
            (1, KeyCode::Char('n')) => Some(Msg::Went(SeenOutcome::No)),
            (0 | 1, _) => None,
            _ => Some(Msg::Type(key)),
        }
    }

    /// Pasted text goes into the field.
    pub fn paste(&mut self, text: &str) {
        match self.field {
            2 => self.what.paste(text),
            3 => self.by.paste(text),
            _ => {}
        }
    }
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let day = model.day;
    let Screen::Seen(form) = &mut model.screen else { return Vec::new() };
    match msg {
        Msg::Back => return vec![Cmd::Patrol],
        Msg::Went(outcome) => form.outcome = Some(outcome),
        Msg::Choose(by) if form.field == 1 => {
            form.outcome = Some(if by > 0 && form.outcome.is_some() { SeenOutcome::No } else { SeenOutcome::Yes });
        }
        Msg::Choose(by) => {
            form.chosen = form.chosen.saturating_add_signed(by as isize).min(form.skills.len().saturating_sub(1));
        }
        Msg::Field(by) => form.field = form.field.wrapping_add_signed(by as isize) % 4,
        Msg::Type(key) if form.field == 2 => paint::edit(&mut form.what, key),
        Msg::Type(key) => paint::edit(&mut form.by, key),
        Msg::Enter if form.outcome.is_none() && form.field > 0 => {
            form.field = 1;
            model.notice = Some("Did they do it? Choose yes or no: y or n.".to_owned());
        }
        Msg::Enter if form.field < 3 => form.field += 1,
        Msg::Enter if form.by.text().trim().is_empty() => {
            model.notice = Some("Who saw it? Type a name, then press Enter.".to_owned());
        }
        Msg::Enter => {
            let Some(skill) = form.skills.get(form.chosen) else { return vec![Cmd::Patrol] };
            return vec![Cmd::AddSeen(Box::new(Seen {
                learner: form.learner.id,
                skill: skill.id.to_owned(),
                what: form.what.text().trim().to_owned(),
                day,
                by: form.by.text().trim().to_owned(),
                outcome: form.outcome.unwrap_or(SeenOutcome::NotSaid),
            }))];
        }
    }
    Vec::new()
}

/// Draws the screen.
pub fn view(form: &SeenForm, model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(model.theme, area.width);
    lines.title(&format!("What did you see {} do on the ground?", form.learner.name));
    lines.quiet(&format!("It is written down for {} and stands beside the laptop's result.", model.day));
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

/// The keys on the bottom line.
pub const KEYS: &[(&str, &str)] =
    &[("Enter", "next field, then write down"), ("↑ ↓", "choose"), ("Tab", "field"), ("Esc", "back")];
