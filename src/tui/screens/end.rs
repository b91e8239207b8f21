//! The end of a session: what became surer, what is weak, when to return.

use crate::learner::State;
use crate::session::{Practice, Summary, answers_words, no_pattern_words, sentence, taken_back_words, weak_spot_words};
use crate::store::Learner;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::{Practise, Shared};
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct EndPage {
    /// Who practised.
    pub learner: Learner,
    /// What happened.
    pub summary: Summary,
    /// What the practice was called.
    pub title: String,
    /// Why it ended, when it ended by itself: no full stop.
    pub ended: Option<String>,
    /// Whether the last answer could not be written.
    pub lost: bool,
    /// How far it is scrolled.
    pub scroll: Scroll,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Practise on.
    Again,
    /// To the learner's page.
    Page,
    /// To the drills.
    Drills,
    /// Scroll.
    Scroll(i32),
    /// Somebody else.
    Who,
    /// Leave.
    Quit,
}

impl EndPage {
    /// The end of a practice. `by_itself` says that nobody broke it off.
    #[must_use]
    pub fn new(learner: Learner, practice: &Practice, by_itself: bool, lost: bool) -> EndPage {
        let plan = practice.plan();
        let ended = match (plan.count, plan.minutes) {
            (Some(count), _) if practice.answered() >= count => Some(format!("All {count} problems are done")),
            (_, Some(1)) => Some("The minute is over".to_owned()),
            (_, Some(minutes)) => Some(format!("The {minutes} minutes are over")),
            _ => None,
        };
        EndPage {
            ended: ended.filter(|_| by_itself),
            lost,
            summary: practice.summary(),
            title: plan.title.clone(),
            learner,
            scroll: Scroll::default(),
        }
    }
}

const KEYS: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Again)], "practise on").short("Enter", "practise on"),
    Line::new(&[(On::Letter('p'), Msg::Page)], "your page").short("p", "your page"),
    Line::new(&[(On::Letter('d'), Msg::Drills)], "the drills").short("d", "drills"),
    Line::new(&[(On::Letter('w'), Msg::Who), (On::Key(KeyCode::Esc), Msg::Who)], "somebody else: the list of names")
        .short("w", "somebody else"),
    Line::new(&[(On::Letter('q'), Msg::Quit)], "leave the program").short("q", "leave"),
    Line::new(&[(On::Key(KeyCode::Up), Msg::Scroll(-1)), (On::Key(KeyCode::Down), Msg::Scroll(1))], "scroll"),
];

impl Page for EndPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("The end of a session", KEYS)];

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, _press: Press, shared: &mut Shared) -> Next {
        let id = self.learner.id;
        match msg {
            Msg::Again => Next::Do(Cmd::Open(id, Practise::Best)),
            Msg::Page => Next::Do(Cmd::Look(id)),
            Msg::Drills => Next::Do(Cmd::Drills(self.learner.clone(), shared.ground.home.clone())),
            Msg::Scroll(by) => {
                self.scroll.by(by);
                Next::Stay
            }
            Msg::Who => Next::Do(Cmd::LoadLearners),
            Msg::Quit => Next::Do(Cmd::Quit),
        }
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        (format!("{} · end of the session", self.learner.name), shared.day.to_string())
    }
}

fn view(page: &EndPage, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let summary = &page.summary;
    let mut lines = Lines::new(shared.theme, area.width);
    if summary.answers.all() == 0 && summary.taken_back == 0 {
        lines.title("Nothing answered this time.");
        lines.gap();
        lines.text("Enter begins a practice; d lists the drills.");
    } else {
        let ended = page.ended.as_ref().map(|ended| format!("{ended}. ")).unwrap_or_default();
        lines.title(&format!("{ended}That was \"{}\", {}.", page.title, page.learner.name));
        let kept = if page.lost { "" } else { " Everything is kept." };
        lines.text(&format!("{}.{kept}", answers_words(summary.answers)));
        if summary.taken_back > 0 {
            lines.quiet(&taken_back_words(summary.taken_back));
        }
        lines.gap();
        for line in &summary.skills {
            // Counted as the learner's page counts: what came after help stands by itself.
            // No longer than what 80 columns leave.
            let more = match (line.helped, line.surer) {
                (0, false) => String::new(),
                (0, true) => "surer than before".to_owned(),
                (helped, false) => format!("+{helped} after help"),
                (helped, true) => format!("surer, +{helped} helped"),
            };
            lines.spans(vec![
                (Tone::Text, format!("{:<33}", crate::tui::paint::cut(line.skill.title, 32))),
                (Tone::Text, format!("{:>2} of {:<4}", line.right, line.asked)),
                (
                    if line.state == State::Sure { Tone::Right } else { Tone::Text },
                    format!("{:<17}", line.state.words()),
                ),
                (Tone::Quiet, more),
            ]);
        }
        lines.gap();
        if summary.weak.is_empty() && summary.without_pattern.is_empty() {
            lines.text("No weak spot stands out.");
        }
        if !summary.weak.is_empty() {
            lines.title("Weak spots");
            for weak in &summary.weak {
                lines.hanging(Tone::Text, "○ ", &weak_spot_words(weak));
                lines.hanging(Tone::Quiet, "  ", weak.mend());
            }
        }
        for lost in &summary.without_pattern {
            lines.hanging(Tone::Text, "○ ", &sentence(&no_pattern_words(lost)));
        }
        lines.gap();
        if let Some(day) = summary.return_on {
            lines.text(&format!("Come back: {}.", crate::tui::paint::day_words(day, shared.day)));
        }
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
