//! Who is there? On a bare machine only a name is asked for.

use crate::session::{GroundCard, ground_sentence, invented_for_learner};
use crate::store::{LONGEST_NAME, Learner};
use crate::tui::input::Input;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::{Practise, Shared};
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{self, Painter};
use crate::tui::screens::ground::GroundPage;
use crate::tui::screens::placement::Placing;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state: a list of learners, and a line for a new name.
#[derive(Clone, Debug, Default)]
pub struct Who {
    /// The learners, the last one first.
    pub learners: Vec<Learner>,
    /// The chosen one.
    pub chosen: usize,
    /// The new name being typed; none while the list is used.
    pub name: Option<Input>,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// One up.
    Up,
    /// One down.
    Down,
    /// The chosen learner practises.
    Practise,
    /// Choose a drill for the chosen learner.
    Drills,
    /// Look at the chosen learner's page.
    Page,
    /// Look at home ground.
    Ground,
    /// The patrol: who is ready.
    Patrol,
    /// Somebody new.
    New,
    /// A key for the name.
    Type,
    /// The name is typed.
    Named,
    /// Back to the list.
    Back,
    /// Leave.
    Quit,
}

impl Who {
    /// With these learners, in the given order.
    #[must_use]
    pub fn new(learners: Vec<Learner>) -> Who {
        let name = learners.is_empty().then(Input::default);
        Who { learners, chosen: 0, name }
    }

    /// The name is typed.
    fn named(&mut self, shared: &mut Shared) -> Next {
        let name = self.name.as_ref().map(|name| name.text().trim().to_owned()).unwrap_or_default();
        let known = self.learners.iter().find(|learner| learner.name.to_lowercase() == name.to_lowercase());
        shared.notice = Some(match known {
            _ if name.chars().count() > LONGEST_NAME => {
                format!("That name is too long: {LONGEST_NAME} letters at most.")
            }
            _ if name.is_empty() => "Type a name first, then press Enter.".to_owned(),
            Some(known) => format!(
                "{} is here already. If that is you, press Esc and choose the name; if not, add a letter of your last name.",
                known.name
            ),
            None => return Next::Go(Placing { name, from: std::mem::take(self) }.into()),
        });
        Next::Stay
    }
}

/// Cells of the field for a name.
const NAME: u16 = 36;
/// The sheet beside the text: a compass as it lies on home ground.
const SHEET: (u16, u16) = (34, 20);

/// A list of names.
const LIST: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Practise)], "the chosen learner practises").short("Enter", "practise"),
    Line::new(&[(On::Key(KeyCode::Up), Msg::Up), (On::Key(KeyCode::Down), Msg::Down)], "choose").short("↑ ↓", "choose"),
    Line::new(&[(On::Letter('n'), Msg::New)], "somebody new").short("n", "new"),
    Line::new(&[(On::Letter('d'), Msg::Drills)], "the drills").short("d", "drills"),
    Line::new(&[(On::Letter('p'), Msg::Page)], "the chosen learner's page").short("p", "page"),
    Line::new(&[(On::Letter('g'), Msg::Ground)], "home ground"),
    Line::new(&[(On::Letter('l'), Msg::Patrol)], "the leader's page").short("l", "leader"),
    Line::new(&[(On::Letter('q'), Msg::Quit), (On::Key(KeyCode::Esc), Msg::Quit)], "leave the program")
        .short("q", "leave"),
];
const NAMED: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Named)], "go on with this name").short("Enter", "go on");
const TYPE: Line<Msg> = Line::new(&[(On::Text, Msg::Type)], "type the name");
/// The first name of all; a leader who begins with the patrol has none to type.
const FIRST: Table<Msg> = &[
    NAMED,
    TYPE,
    Line::new(&[(On::Key(KeyCode::Tab), Msg::Patrol)], "the leader's page").short("Tab", "leader: the patrol"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Quit)], "leave the program").short("Esc", "leave"),
];
/// One more name.
const NEW: Table<Msg> = &[
    NAMED,
    TYPE,
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back to the list").short("Esc", "back to the list"),
];

impl Page for Who {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] =
        &[("The list of names", LIST), ("The list of names", FIRST), ("The list of names", NEW)];

    fn keys(&self) -> Table<Msg> {
        match (&self.name, self.learners.is_empty()) {
            (Some(_), true) => FIRST,
            (Some(_), false) => NEW,
            (None, _) => LIST,
        }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        let chosen = self.learners.get(self.chosen);
        match msg {
            Msg::Up => self.chosen = self.chosen.saturating_sub(1),
            Msg::Down => self.chosen = (self.chosen + 1).min(self.learners.len().saturating_sub(1)),
            Msg::Practise => return Next::maybe(chosen.map(|one| Cmd::Open(one.id, Practise::Best))),
            Msg::Page => return Next::maybe(chosen.map(|one| Cmd::Look(one.id))),
            Msg::Drills => {
                return Next::maybe(chosen.map(|one| Cmd::Drills(one.clone(), shared.ground.home.clone())));
            }
            Msg::Ground => return Next::Go(GroundPage::default().into()),
            Msg::Patrol => return Next::Do(Cmd::Patrol),
            Msg::New => self.name = Some(Input::default()),
            Msg::Type => {
                if let Some(name) = &mut self.name {
                    paint::edit(name, press.key);
                }
            }
            Msg::Named => return self.named(shared),
            Msg::Back => self.name = None,
            Msg::Quit => return Next::Do(Cmd::Quit),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }

    fn types_text(&self) -> bool {
        self.name.as_ref().is_some_and(|name| !name.is_empty())
    }

    fn paste(&mut self, text: &str) {
        if let Some(name) = &mut self.name {
            name.paste(text);
        }
    }
}

fn view(who: &Who, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let sheet = Rect {
        x: area.right().saturating_sub(SHEET.0),
        width: SHEET.0.min(area.width),
        height: SHEET.1.min(area.height),
        ..area
    };
    painter.neat_line(sheet);
    let inner = Rect {
        x: sheet.x + 1,
        y: sheet.y + 1,
        width: sheet.width.saturating_sub(2),
        height: sheet.height.saturating_sub(4),
    };
    painter.figure(&paint::compass(&shared.ground), inner);
    painter.collar_line(Rect { y: inner.bottom(), height: 1, ..sheet });
    let collar = Rect { x: inner.x + 1, y: inner.bottom() + 1, width: inner.width.saturating_sub(2), height: 1 };
    painter.put(
        collar,
        &paint::cut(&format!("declination {}", shared.ground.declination), usize::from(collar.width)),
        Tone::Quiet,
    );

    let area = Rect { width: area.width.saturating_sub(SHEET.0 + 2), ..area };
    let mut lines = paint::Lines::new(shared.theme, area.width);
    lines.title("needlewise");
    lines.text("Bearings and declination with a paper map and a baseplate compass.");
    lines.gap();
    match &who.name {
        Some(name) => {
            lines.tone(
                Tone::Title,
                if who.learners.is_empty() { "What is your name?" } else { "What is the new name?" },
            );
            let row = lines.field(name, usize::from(NAME));
            lines.gap();
            lines.quiet("Your answers are kept under this name, on this computer only. A first name is enough.");
            lines.gap();
            ground(&mut lines, &shared.ground);
            if shared.ground.home.invented {
                lines.quiet(&invented_for_learner("g on the list of names"));
            }
            lines.gap();
            lines.tone(Tone::Caution, paint::SAFETY);
            painter.lines(lines, area);
            painter.cursor(area, row, name, NAME);
        }
        None => {
            lines.tone(Tone::Title, "Who is there?");
            let top = lines.len();
            // The names take what the rest leaves them: a caution is never cut.
            let mut rest = paint::Lines::new(shared.theme, area.width);
            rest.gap();
            ground(&mut rest, &shared.ground);
            rest.quiet("g shows and sets home ground.");
            rest.tone(Tone::Caution, paint::SAFETY);
            let left = usize::from(area.height).saturating_sub(top + rest.len());
            let counted = usize::from(who.learners.len() > left);
            let room = left.saturating_sub(counted).max(3);
            let first = who.chosen.saturating_sub(room - 1);
            for (at, learner) in who.learners.iter().enumerate().skip(first).take(room) {
                lines.item(at == who.chosen, &learner.name);
            }
            if who.learners.len() > room {
                lines.quiet(&format!("{} of {}", who.chosen + 1, who.learners.len()));
            }
            lines.append(&rest);
            painter.lines(lines, area);
        }
    }
}

/// Where problems are set, with what must be said about it.
fn ground(lines: &mut paint::Lines, ground: &GroundCard) {
    lines.quiet(&ground_sentence(ground));
    for caution in &ground.cautions {
        lines.tone(Tone::Caution, caution);
    }
}
