//! The picture of the map table: the table on the left, what is asked and how things lie on the right.

use super::layer::Layer;
use super::practice::PracticeScreen;
use super::showing::Showing;
use super::table::{Desk, Phase, holds, picture_of};
use crate::angle::{Angle, Bearing, True};
use crate::maptable::{Place, Table, Task, describe_dial_lines, describe_needle};
use crate::problem::{DialFigure, Figure, TableProblem, Verdict};
use crate::session::{AFTER_HINT, Asked, Support, Told, ToldTable};
use crate::tui::model::Model;
use crate::tui::paint::{Lines, Painter, cut};
use crate::tui::theme::Tone;
use ratatui::layout::Rect;

/// Rows of the magnified strip at the index line.
const STRIP: u16 = 4;

/// Draws the table while it is worked at.
pub fn asking(
    screen: &PracticeScreen,
    desk: &Desk,
    asked: &Asked,
    model: &Model,
    painter: &mut Painter<'_, '_>,
    area: Rect,
) {
    let (sheet, text) = parts(area);
    desk.panel.set(panel(sheet));
    draw_sheet(&desk.problem, &desk.now, desk.needle, &desk.layer, &asked.problem.code().to_string(), painter, sheet);
    let mut lines = Lines::new(model.theme, text.width);
    if let Some(message) = desk.message.as_ref().or(screen.message.as_ref()) {
        lines.tone(Tone::Caution, message);
        lines.gap();
    }
    lines.text(asked.problem.prompt());
    if asked.problem.code().home.is_some() {
        lines.quiet(&format!("Home ground: {}.", model.ground.home.name));
    }
    lines.gap();
    state(desk, &mut lines);
    if let Some(hint) = &asked.hint {
        lines.gap();
        lines.hanging(Tone::Text, "Hint  ", hint);
        lines.quiet(AFTER_HINT);
    } else if let Support::Reminder(mend) = &asked.support {
        lines.gap();
        lines.hanging(Tone::Quiet, "Last time  ", mend);
    }
    if area.height >= 30 && !asked.reason.is_empty() {
        lines.gap();
        lines.quiet(&asked.why());
    }
    with_strip(desk.problem.exercise.graduation, &desk.now, lines, screen, painter, text);
}

/// What is held, how the edge lies, what the dial reads, where the needle is.
fn state(desk: &Desk, lines: &mut Lines) {
    match desk.phase {
        Phase::Looking(chosen) => {
            lines.tone(
                Tone::Title,
                match desk.problem.exercise.task {
                    Task::BackSight { .. } => "As you walk, you stand",
                    _ => "What lies ahead?",
                },
            );
            for (at, choice) in desk.choices().iter().enumerate() {
                lines.item(chosen == Some(at), choice);
            }
            return;
        }
        Phase::Reading => {
            let legs = desk.problem.exercise.legs();
            let leg = legs.get(desk.read).map(|leg| format!("{} to {}", leg.from, leg.to)).unwrap_or_default();
            lines.tone(Tone::Title, &format!("{leg}: what do you read?"));
            lines.field(&desk.input, 8);
            return;
        }
        Phase::Naming => {
            lines.tone(Tone::Title, "And which magnetic bearing is that?");
            lines.field(&desk.input, 8);
            return;
        }
        Phase::Working => {}
    }
    if holds(&desk.problem.exercise.task).len() > 1 {
        lines.hanging(Tone::Key, "turning ", desk.held.words());
    }
    if !desk.input.is_empty() {
        lines.spans(vec![
            (Tone::Text, "dial to ".to_owned()),
            (Tone::Chosen, format!("{}_", desk.input.text())),
            (Tone::Quiet, "  Enter sets".to_owned()),
        ]);
    }
    if desk.problem.map.is_some() {
        lines.hanging(Tone::Text, "edge    ", &desk.edge_words());
    }
    match &desk.problem.exercise.task {
        // Where the map's lines are used the needle plays no part.
        Task::MapBearing { north, .. } => {
            let drawn = desk.problem.exercise.drawn(*north);
            lines.hanging(Tone::Text, "lines   ", &describe_dial_lines(&desk.seen(), drawn));
        }
        _ => lines.hanging(Tone::Text, "needle  ", &describe_needle(&desk.seen())),
    }
    let legs = desk.problem.exercise.legs();
    if legs.len() > 1
        && let Some(leg) = legs.get(desk.read)
    {
        lines.hanging(Tone::Text, "now     ", &format!("{} to {}", leg.from, leg.to));
    }
}

/// Draws the verdict on the work, with how things lay at the end.
pub fn told(
    screen: &PracticeScreen,
    told: &Told,
    work: &ToldTable,
    asked: &Asked,
    model: &Model,
    painter: &mut Painter<'_, '_>,
    area: Rect,
) {
    let Some(table) = &asked.table else { return };
    let (sheet, text) = parts(area);
    draw_sheet(
        table,
        &work.lay,
        table.exercise.needle(),
        &Layer::default(),
        &asked.problem.code().to_string(),
        painter,
        sheet,
    );
    let mut lines = Lines::new(model.theme, text.width);
    lines.tone(if told.verdict == Verdict::Right { Tone::Right } else { Tone::Wrong }, &told.headline);
    lines.gap();
    for line in &work.lines {
        lines.text(line);
    }
    if let Some(paths) = &told.paths {
        lines.gap();
        lines.hanging(Tone::Wrong, "you     ", &paths.yours);
        lines.hanging(Tone::Right, "right   ", &paths.right);
    }
    for note in told.pattern_sentence().iter().chain(&told.note) {
        lines.gap();
        lines.tone(Tone::Caution, note);
    }
    lines.gap();
    if work.needs_showing {
        lines.tone(Tone::Key, "w: watch it mended, from here on.");
    } else {
        lines.quiet("w: watch it once more.");
    }
    with_strip(table.exercise.graduation, &work.end, lines, screen, painter, text);
}

/// What stands over a showing.
pub struct Heading<'a> {
    /// What it is.
    pub title: &'a str,
    /// The text of the problem.
    pub prompt: &'a str,
    /// Its code.
    pub code: String,
}

/// Draws a step of a showing.
pub fn shown(
    screen: &PracticeScreen,
    showing: &Showing,
    heading: &Heading<'_>,
    model: &Model,
    painter: &mut Painter<'_, '_>,
    area: Rect,
) {
    let (sheet, text) = parts(area);
    let table = showing.table();
    draw_sheet(
        &showing.problem,
        table,
        showing.problem.exercise.needle(),
        &Layer::default(),
        &heading.code,
        painter,
        sheet,
    );
    let mut lines = Lines::new(model.theme, text.width);
    lines.title(heading.title);
    lines.quiet(heading.prompt);
    lines.gap();
    match showing.at.checked_sub(1).and_then(|at| showing.steps.get(at)) {
        Some(step) => {
            lines.tone(Tone::Title, &format!("Step {} of {}", showing.at, showing.steps.len()));
            lines.text(&step.words);
            if showing.at == showing.steps.len() {
                lines.gap();
                lines.quiet("That is all.");
            }
        }
        None => lines.text("So it lies now. Press Enter, and each step is done before your eyes."),
    }
    with_strip(showing.problem.exercise.graduation, table, lines, screen, painter, text);
}

/// The text with the strip under it, where the eye goes with the number.
fn with_strip(
    graduation: Angle,
    table: &Table,
    lines: Lines,
    screen: &PracticeScreen,
    painter: &mut Painter<'_, '_>,
    mut text: Rect,
) {
    let figure = Figure::Dial(DialFigure {
        reading: table.dial(),
        graduation,
        numbered: Angle::from_degrees(10.0),
        index: Angle::ZERO,
        needle: None,
        inner_scale: false,
        strip: true,
        learner: None,
    });
    let fits = lines.len() + usize::from(STRIP) < usize::from(text.height);
    if fits || screen.stage == super::practice::Stage::Asking {
        let foot = Rect { y: text.bottom().saturating_sub(STRIP), height: STRIP.min(text.height), ..text };
        painter.strip(&figure, foot);
        text.height = text.height.saturating_sub(STRIP + 1);
    }
    let overflows = lines.len() > usize::from(text.height);
    let room = Rect { height: text.height.saturating_sub(u16::from(overflows)), ..text };
    let (_, below) = painter.lines_from(lines, room, &screen.scroll);
    if overflows && below > 0 {
        let mark =
            Rect { x: text.right().saturating_sub(17), y: text.bottom().saturating_sub(1), width: 17, height: 1 };
        painter.put(mark, " PgDn more below ", Tone::Chosen);
    }
}

/// The sheet takes the left, the text the rest.
fn parts(area: Rect) -> (Rect, Rect) {
    let width = u16::try_from(u32::from(area.width) * 62 / 100).unwrap_or(area.width);
    let sheet = Rect { width, ..area };
    (sheet, Rect { x: area.x + width + 1, width: area.width.saturating_sub(width + 1), ..area })
}

/// Where on the sheet the picture stands: within the neat line, over a collar of one row.
fn panel(sheet: Rect) -> Rect {
    Rect {
        x: sheet.x + 1,
        y: sheet.y + 1,
        width: sheet.width.saturating_sub(2),
        height: sheet.height.saturating_sub(4),
    }
}

fn draw_sheet(
    problem: &TableProblem,
    table: &Table,
    needle: Bearing<True>,
    layer: &Layer,
    code: &str,
    painter: &mut Painter<'_, '_>,
    area: Rect,
) {
    if area.height < 10 {
        return;
    }
    painter.neat_line(area);
    let room = panel(area);
    painter.collar_line(Rect { y: room.bottom(), height: 1, ..area });
    picture_of(problem, table, needle, |picture| painter.picture(picture, layer, room));
    let collar = Rect { x: area.x + 2, y: room.bottom() + 1, width: area.width.saturating_sub(4), height: 1 };
    let (short, more) = match &problem.map {
        None => ("in your hand", ", the travel arrow up".to_owned()),
        Some(map) => {
            let spec = map.spec();
            ("invented map", format!(", 1:{} 000, {}", spec.scale.denominator() / 1000, spec.year))
        }
    };
    let code = format!("code {code}");
    let width = usize::from(collar.width).saturating_sub(code.chars().count() + 1);
    let more = if short.len() + more.len() <= width { more.as_str() } else { "" };
    painter.put(collar, &cut(&format!("{short}{more}"), width), Tone::Quiet);
    let at = collar.right().saturating_sub(u16::try_from(code.chars().count()).unwrap_or(0));
    painter.put(Rect { x: at, width: collar.right().saturating_sub(at), ..collar }, &code, Tone::Quiet);
}

/// The keys on the bottom line while the table is worked at.
#[must_use]
pub fn keys(desk: &Desk) -> &'static [(&'static str, &'static str)] {
    match (desk.phase, &desk.problem.exercise.task) {
        (Phase::Looking(_), _) => {
            &[("↑ ↓", "choose"), ("Enter", "answer"), ("Tab", "back to the compass"), ("Esc", "end")]
        }
        (Phase::Reading, _) => {
            &[("0–9", "type what you read"), ("Enter", "say it"), ("e", "lay it back"), ("h", "hint"), ("Esc", "end")]
        }
        (Phase::Naming, _) => {
            &[("0–9", "type the magnetic bearing"), ("Enter", "say it"), ("h", "hint"), ("Esc", "end")]
        }
        _ if !desk.input.is_empty() => &[("0–9", "number"), ("Enter", "set the dial"), ("⌫", "rub out")],
        (_, Task::Follow { .. } | Task::BackSight { .. }) => &[
            ("Tab", "switch"),
            ("←→↑↓", "turn"),
            ("0–9", "set dial"),
            ("Enter", "look"),
            ("h", "hint"),
            ("Esc", "end"),
        ],
        (_, Task::OrientedBearing { .. } | Task::MapBearing { .. }) if desk.now.place() != Place::Hand => &[
            ("e", "edge"),
            ("r", "reverse"),
            ("Tab", "switch"),
            ("←→↑↓", "turn"),
            ("0–9", "dial"),
            ("Enter", "read"),
            ("h", "hint"),
        ],
        _ => &[
            ("0–9", "dial"),
            ("e", "edge"),
            ("r", "reverse"),
            ("Tab", "switch"),
            ("←→↑↓", "turn"),
            ("Enter", "done"),
            ("h", "hint"),
        ],
    }
}
