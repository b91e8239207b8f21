//! Writing down what a leader saw somebody do on the ground.

use crate::numbers::round_from;
use crate::problem::SkillMeta;
use crate::session::and_words;
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

/// The fields, in their order.
const WHO: usize = 0;
const SKILL: usize = 1;
const OUTCOME: usize = 2;
const WHAT: usize = 3;
const BY: usize = 4;
/// Members and skills that are shown at once at most, and the lines that stand beside them on the form.
const ROWS: usize = 6;
const OTHER_LINES: usize = 17;

/// The state: a form of five fields.
#[derive(Debug)]
pub struct SeenForm {
    /// The members, each with whether they were seen.
    pub members: Vec<(Learner, bool)>,
    /// The member chosen among them.
    pub member: usize,
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
    /// The field being filled in: 0 who, 1 the skill, 2 how it went, 3 what, 4 by whom.
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
    /// Whether the chosen member was seen, too.
    Member,
    /// How it went.
    Went(SeenOutcome),
    /// A key for a field.
    Type,
    /// Back without writing.
    Back,
}

impl SeenForm {
    /// An empty form for one of these members, to whom others can be added.
    #[must_use]
    pub fn new(members: Vec<Learner>, member: usize, skills: Vec<&'static SkillMeta>) -> SeenForm {
        let members = members.into_iter().enumerate().map(|(at, learner)| (learner, at == member)).collect();
        let (what, by) = (Input::default(), Input::default());
        SeenForm { members, member, skills, chosen: 0, outcome: None, what, by, field: SKILL }
    }

    /// Those who were seen.
    fn seen(&self) -> impl Iterator<Item = &Learner> {
        self.members.iter().filter(|(_, seen)| *seen).map(|(learner, _)| learner)
    }
}

const ENTER: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Enter)], "the next field; at the end, write it down")
        .short("Enter", "next, then write");
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
/// The members are chosen.
const PEOPLE: Table<Msg> = &[
    ENTER,
    CHOOSE,
    Line::new(&[(On::Letter(' '), Msg::Member)], "this member was seen, too, or was not").short("Space", "seen"),
    FIELDS,
    BACK,
];
/// The skill is chosen.
const SKILLS: Table<Msg> = &[ENTER, CHOOSE, FIELDS, BACK];
/// How it went is chosen.
const OUTCOME_KEYS: Table<Msg> = &[
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
    const TABLES: &'static [(&'static str, Table<Msg>)] =
        &[(HEADING, PEOPLE), (HEADING, SKILLS), (HEADING, OUTCOME_KEYS), (HEADING, WORDS)];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        match self.field {
            WHO => PEOPLE,
            SKILL => SKILLS,
            OUTCOME => OUTCOME_KEYS,
            _ => WORDS,
        }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        match msg {
            Msg::Back => return Next::Do(Cmd::Patrol),
            Msg::Went(outcome) => self.outcome = Some(outcome),
            Msg::Member => {
                if let Some((_, seen)) = self.members.get_mut(self.member) {
                    *seen = !*seen;
                }
            }
            Msg::Choose(by) => {
                let step = |at: usize, of: usize| at.saturating_add_signed(by as isize).min(of.saturating_sub(1));
                match self.field {
                    WHO => self.member = step(self.member, self.members.len()),
                    SKILL => self.chosen = step(self.chosen, self.skills.len()),
                    _ => {
                        let other = by > 0 && self.outcome.is_some();
                        self.outcome = Some(if other { SeenOutcome::No } else { SeenOutcome::Yes });
                    }
                }
            }
            Msg::Field(by) => self.field = round_from(self.field, by, BY + 1),
            Msg::Type if self.field == WHAT => paint::edit(&mut self.what, press.key),
            Msg::Type => paint::edit(&mut self.by, press.key),
            Msg::Enter if self.field == WHO && self.seen().next().is_none() => {
                shared.notice = Some("Nobody is chosen: Space says that a member was seen.".to_owned());
            }
            Msg::Enter if self.outcome.is_none() && self.field >= OUTCOME => {
                self.field = OUTCOME;
                shared.notice = Some("Did they do it? Choose yes or no: y or n.".to_owned());
            }
            Msg::Enter if self.field < BY => self.field += 1,
            Msg::Enter if self.by.text().trim().is_empty() => {
                shared.notice = Some("Who saw it? Type a name, then press Enter.".to_owned());
            }
            Msg::Enter => {
                let Some(skill) = self.skills.get(self.chosen) else { return Next::Do(Cmd::Patrol) };
                let seen = |learner: &Learner| Seen {
                    learner: learner.id,
                    skill: skill.id.to_owned(),
                    what: self.what.text().trim().to_owned(),
                    day: shared.day,
                    by: self.by.text().trim().to_owned(),
                    outcome: self.outcome.unwrap_or(SeenOutcome::NotSaid),
                };
                return Next::Do(Cmd::AddSeen(self.seen().map(seen).collect()));
            }
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }

    // All of what is typed here is free text: a question mark is a letter from the first on, but not in the choices.
    fn types_text(&self) -> bool {
        self.field >= WHAT
    }

    fn paste(&mut self, text: &str) {
        match self.field {
            WHAT => self.what.paste(text),
            BY => self.by.paste(text),
            _ => {}
        }
    }
}

fn view(form: &SeenForm, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.title("What did you see on the ground?");
    lines.quiet(&format!("It is written down for {} and stands beside the laptop's result.", shared.day));
    lines.gap();
    let rows = usize::from(area.height).saturating_sub(OTHER_LINES).clamp(2, ROWS);
    let tone = |field| if form.field == field { Tone::Title } else { Tone::Text };
    if form.field == WHO {
        lines.tone(Tone::Title, "Who? Space adds a member or takes one out");
        let first = form.member.saturating_sub(rows - 1);
        for (at, (learner, seen)) in form.members.iter().enumerate().skip(first).take(rows) {
            lines.item(at == form.member, &format!("{} {}", if *seen { "●" } else { "·" }, learner.name));
        }
    } else {
        let names: Vec<&str> = form.seen().map(|learner| learner.name.as_str()).collect();
        lines.text(&format!("Who: {} (Shift-Tab adds others)", and_words(&names)));
    }
    lines.gap();
    lines.tone(tone(SKILL), "Skill");
    // Lists are open where something is chosen in them: the whole form fits the smallest window.
    let (first, rows) =
        if form.field == SKILL { (form.chosen.saturating_sub(rows - 1), rows) } else { (form.chosen, 1) };
    for (at, skill) in form.skills.iter().enumerate().skip(first).take(rows) {
        lines.item(at == form.chosen, skill.title);
    }
    lines.gap();
    lines.tone(tone(OUTCOME), "Did they do it? y or n");
    for (outcome, words) in OUTCOMES {
        lines.item(form.outcome == Some(outcome), words);
    }
    lines.gap();
    lines.tone(tone(WHAT), "What, in your words (may be left empty)");
    let what = lines.field(&form.what, usize::from(FIELD));
    lines.gap();
    lines.tone(tone(BY), "Seen by");
    let by = lines.field(&form.by, usize::from(FIELD));
    painter.lines(lines, area);
    match form.field {
        WHAT => painter.cursor(area, what, &form.what, FIELD),
        BY => painter.cursor(area, by, &form.by, FIELD),
        _ => {}
    }
}
