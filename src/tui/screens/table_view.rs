//! The picture of the map table: what is asked, under it the two looks side by side, and under the compass how things lie.
//!
//! Other divisions of 80x24 were tried: one large map with the dial as an inset, a large dial with the map small beside it, and
//! the words on how things lie under both looks. The compass is round and is read at a few rows less; the map, with a compass
//! lying on it, needs every row there is.

use super::layer::{Layer, Sign};
use super::practice::PracticeScreen;
use super::showing::Showing;
use super::table::{Desk, Phase, holds};
use super::table_looks::{LOOKS, Look, captioned, compass_columns, parts};
use crate::angle::{Angle, North};
use crate::maptable::{Boxed, CompassSign, Pose, Seen, Task, describe_dial_lines, describe_index, describe_needle};
use crate::problem::{DialFigure, Figure, Level, TableMeaning, TableProblem, Verdict};
use crate::session::{AFTER_HINT, Asked, Support, TRIAL, Told, ToldTable};
use crate::terrain::Detail;
use crate::tui::model::Shared;
use crate::tui::paint::{Lines, Painter, cut, right_word};
use crate::tui::theme::Tone;
use crate::words::Word;
use ratatui::layout::Rect;

/// Rows of the magnified strip at the index line.
const STRIP: u16 = 4;
/// The rows under the compass in which stands how things lie: with a map, and where only the compass is in the hand.
const STATE: u16 = 5;
const STATE_IN_HAND: u16 = 4;
/// Rows of what is in view, over the choices.
const IN_VIEW: u16 = 7;
/// Rows from which on the norths always stand under the verdict; how many they get, with their caption, and how few are enough.
const HIGH: u16 = 30;
const SKETCH: u16 = 14;
const LOW_SKETCH: u16 = 9;

/// Draws the table while it is worked at.
pub fn asking(
    screen: &PracticeScreen,
    desk: &Desk,
    asked: &Asked,
    shared: &Shared,
    painter: &mut Painter<'_, '_>,
    area: Rect,
) {
    let mut task = Lines::new(shared.theme, area.width);
    if screen.flow.is_trial() {
        task.tone(Tone::Caution, &[TRIAL, "Esc leaves it."].join(" "));
    }
    task.text(asked.problem.prompt());
    let level = asked.problem.code().level;
    let mut state = Lines::new(shared.theme, compass_columns(area));
    lies(desk, level, painter, &mut state);
    let mut status = Lines::new(shared.theme, area.width);
    said(asked, &mut status);
    if let Some(opening) = &asked.opening {
        status.text(opening);
    }
    if area.height >= 30 && !asked.reason.is_empty() {
        status.quiet(&asked.why());
    }
    // Why the last key did nothing stands in place of the collar, so that nothing moves. How things lie comes before what the map is: a
    // hint must not hide it.
    let rows = task.len() + state.len() + status.len();
    match desk.message.as_ref().or(screen.message.as_ref()) {
        Some(message) => status.tone(Tone::Caution, message),
        None if asked.hint.is_some() && rows >= usize::from(area.height.saturating_sub(LOOKS)) => {}
        None => collar(screen, &desk.problem, asked, shared, &mut status),
    }
    let kept = if desk.problem.map.is_some() { STATE } else { STATE_IN_HAND };
    let parts = parts(area, (&task, &state, &status), kept);
    desk.panels.set(parts.looks);
    painter.lines(task, parts.task);
    painter.lines(state, parts.state);
    painter.lines(status, parts.status);
    let look = Look { problem: &desk.problem, pose: desk.moving.pose(), layer: &desk.layer, done: false };
    look.close_up(parts.compass(), painter);
    match desk.phase {
        Phase::Reading | Phase::Naming => read(desk, level, shared, painter, parts.map()),
        Phase::Looking(chosen) => choose(desk, chosen, &look, shared, painter, parts.map()),
        Phase::Working => look.map(parts.map(), painter),
    }
}

/// What is turned, how the edge lies, what the dial reads, where the needle is: each behind the part as the picture draws it, so
/// that these words are the key to the picture, too.
fn lies(desk: &Desk, level: Level, painter: &Painter<'_, '_>, lines: &mut Lines) {
    if desk.phase != Phase::Working {
        return;
    }
    let (seen, task) = (desk.seen(), &desk.problem.exercise.task);
    if matches!(task, Task::Around(_)) {
        lines.quiet("turning the map; straight ahead of you is up");
        return;
    }
    let mut groups = Vec::new();
    let said = |quiet: &str, tone, text: &str| vec![(Tone::Quiet, quiet.to_owned()), (tone, text.to_owned())];
    let reads = matches!(task, Task::OrientedBearing { .. } | Task::MapBearing { .. } | Task::Take(_));
    if desk.input.is_empty() {
        if holds(task).len() > 1 {
            groups.push(said("turning ", Tone::Key, desk.held.words()));
        }
        // What is to be read stays for the eyes.
        if !reads {
            groups.push(said("index ", Tone::Text, &describe_index(&seen)));
        }
    } else {
        let mut typed = said("dial to ", Tone::Chosen, &format!("{}_", desk.input.text()));
        typed.push((Tone::Quiet, "  Enter sets it".to_owned()));
        groups.push(typed);
    }
    let legs = desk.problem.exercise.legs();
    if let Some(leg) = legs.get(desk.read).filter(|_| legs.len() > 1) {
        groups.push(said("measure ", Tone::Text, &format!("{} to {}", leg.from, leg.to)));
    }
    if let Some(ahead) = desk.problem.exercise.sighting().and_then(|it| it.ahead(desk.now.baseplate())) {
        // Near is not there yet: a few degrees beside the mark are a few degrees in the bearing.
        let off = desk.now.baseplate().turn_to(ahead.azimuth).degrees().abs();
        let points = if off <= 1.0 { "the arrow points at " } else { "the arrow points nearly at " };
        groups.push(said(points, Tone::Text, &ahead.name));
    }
    lines.packed(groups);
    let mut part = |sign: CompassSign, text: &str| {
        lines.behind(painter.sign(Sign::Compass(sign), &desk.layer), Tone::Text, text);
    };
    // Each on a line of its own: where the lines came and went, the looks above would jump.
    if desk.problem.map.is_some() {
        let [edge, arrow] = edge_words(&seen);
        part(CompassSign::Edge, &format!("edge {edge}"));
        // Where the dial is turned along the map's lines, the row is needed for these.
        if !(arrow.is_empty() && matches!(task, Task::MapBearing { .. })) {
            part(CompassSign::TravelArrow, format!("travel arrow {arrow}").trim_end());
        }
    }
    let needle = match task {
        // Where the map's lines are used the needle plays no part.
        Task::MapBearing { north, .. } => {
            let drawn = desk.problem.exercise.drawn(*north);
            part(CompassSign::OrientingArrow, &format!("dial's lines {}", describe_dial_lines(&seen, drawn, *north)));
            return;
        }
        // At first it is told which way; later the eye has to see it.
        _ if level == Level::ONE => needle_and_way(&seen, desk.turns_to_the_needle()),
        _ => format!("needle {}", describe_needle(&seen)),
    };
    match needle.find(TO_ARROW) {
        Some(at) => {
            part(CompassSign::Needle, needle[..at].trim_end());
            part(CompassSign::OrientingArrow, &needle[at..]);
        }
        None => part(CompassSign::Needle, &needle),
    }
}

/// Where the edge lies, and where the travel arrow points, in words; nothing where that is along no line.
fn edge_words(seen: &Seen) -> [String; 2] {
    match (seen.edge, seen.on_map) {
        (Some(edge), _) => {
            // "to" for "toward": the column is narrow.
            let end = edge.line.end_words(edge.way);
            [format!("on {}", edge.line.words()), end.replacen("toward", "to", 1)]
        }
        (None, true) => ["on no line".to_owned(), String::new()],
        (None, false) => ["not on the map".to_owned(), "in your hand".to_owned()],
    }
}

/// Where the words on the needle come to what it is brought into.
const TO_ARROW: &str = "the orienting arrow";

/// Where the needle stands, with the way to turn what is held, as an arrow, where that is what brings the needle into its place.
fn needle_and_way(seen: &Seen, turns: bool) -> String {
    let off = seen.needle_from_box.degrees().round();
    match seen.boxed {
        Boxed::NorthEnd => "needle in the orienting arrow: boxed".to_owned(),
        Boxed::SouthEnd => "needle with its south end in the orienting arrow".to_owned(),
        Boxed::No => {
            let (sense, arrow) = if off > 0.0 { ("clockwise", "→") } else { ("counterclockwise", "←") };
            let way = if turns { format!(": {arrow}") } else { String::new() };
            format!("needle {}° {sense} of the orienting arrow{way}", off.abs())
        }
    }
}

/// The hint; what was told last time.
fn said(asked: &Asked, lines: &mut Lines) {
    if let Some(hint) = &asked.hint {
        lines.hanging(Tone::Text, "Hint  ", &format!("{hint} {AFTER_HINT}"));
    } else if let Support::Reminder(mend) = &asked.support {
        lines.hanging(Tone::Quiet, "Last time  ", mend);
    }
}

/// Where the problem is set, what the map is, and the code.
fn collar(screen: &PracticeScreen, table: &TableProblem, asked: &Asked, shared: &Shared, lines: &mut Lines) {
    let map = table.map.as_ref().map_or_else(
        || "in your hand, the travel arrow up".to_owned(),
        |map| {
            let spec = map.spec();
            format!("invented map, 1:{} 000", spec.scale.denominator() / 1000)
        },
    );
    let code = screen.flow.code_words(asked.problem.code());
    let place = if asked.problem.code().home.is_some() { shared.ground.home.name.as_str() } else { "" };
    let left = [map.as_str(), place].iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(" · ");
    lines.quiet(&with_code(&left, &code, lines.width()));
}

/// A line of so many cells with the code at its end.
fn with_code(left: &str, code: &str, width: usize) -> String {
    let left = cut(left, width.saturating_sub(code.chars().count() + 1));
    let blank = width.saturating_sub(left.chars().count() + code.chars().count());
    format!("{left}{}{code}", " ".repeat(blank))
}

/// The number is read: the compass is in the hand, and beside it stands the scale at the index, magnified.
fn read(desk: &Desk, level: Level, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.gap();
    match desk.phase {
        Phase::Naming => {
            let north = desk.problem.exercise.second_north().unwrap_or(North::Magnetic);
            lines.tone(Tone::Title, &format!("And which {} bearing is that?", north.word()));
        }
        _ if desk.problem.exercise.sighting().is_some() => lines.tone(Tone::Title, "What do you read at the index?"),
        _ => {
            let legs = desk.problem.exercise.legs();
            let leg = legs.get(desk.read).map(|leg| format!("{} to {}", leg.from, leg.to)).unwrap_or_default();
            lines.tone(Tone::Title, &format!("{leg}: what do you read at the index?"));
        }
    }
    lines.field(&desk.input, 8);
    lines.gap();
    // From level 3 on only the numbers that stand on the dial help to count its ticks.
    let numbered = if level >= Level::THREE { 30.0 } else { 10.0 };
    lines.quiet(&format!("at the index, magnified; a tick is {}°:", desk.problem.exercise.graduation.degrees()));
    let under = u16::try_from(lines.len() + 1).unwrap_or(u16::MAX).min(area.height.saturating_sub(STRIP));
    painter.lines(lines, area);
    let strip = DialFigure {
        reading: desk.now.dial(),
        graduation: desk.problem.exercise.graduation,
        numbered: Angle::from_degrees(numbered),
        index: Angle::ZERO,
        needle: None,
        inner_scale: false,
        strip: true,
        learner: None,
    };
    let room = Rect { y: area.y + under, height: STRIP.min(area.height), width: area.width.min(44), ..area };
    painter.strip(&Figure::Dial(strip), room);
}

/// What is seen is chosen, with the view over the choices.
fn choose(
    desk: &Desk,
    chosen: Option<usize>,
    look: &Look<'_>,
    shared: &Shared,
    painter: &mut Painter<'_, '_>,
    area: Rect,
) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.tone(
        Tone::Title,
        match desk.problem.exercise.task {
            Task::BackSight { .. } => "As you walk, you stand",
            Task::Take(_) => "And can the needle be trusted here?",
            _ => "What lies ahead?",
        },
    );
    for (at, choice) in desk.choices().iter().enumerate() {
        lines.item(chosen == Some(at), &format!("{} {choice}", at + 1));
    }
    let below = u16::try_from(lines.len()).unwrap_or(u16::MAX).min(area.height);
    let view = area.height.saturating_sub(below).max(IN_VIEW.min(area.height));
    look.map(Rect { height: view, ..area }, painter);
    painter.lines(lines, Rect { y: area.y + view, height: area.height - view, ..area });
}

/// Draws the verdict on the work, with how things lay at the end.
pub fn told(
    screen: &PracticeScreen,
    told: &Told,
    work: &ToldTable,
    asked: &Asked,
    shared: &Shared,
    painter: &mut Painter<'_, '_>,
    area: Rect,
) {
    let Some(table) = &asked.table else { return };
    let half = area.width * 11 / 20;
    let sheet = Rect { width: half, ..area };
    let text = Rect { x: area.x + half + 2, width: area.width.saturating_sub(half + 2), ..area };
    let layer = Layer::default();
    let pose = Pose::at_rest(work.lay, table.exercise.needle());
    let look = Look { problem: table, pose: &pose, layer: &layer, done: true };
    let room = Rect { height: sheet.height.saturating_sub(1), ..sheet };
    if screen.norths && work.meaning.figure != Figure::None {
        let room = captioned(work.meaning.caption, room, painter);
        painter.figure(&work.meaning.figure, room);
    } else {
        look.map(room, painter);
    }
    let code = screen.flow.code_words(asked.problem.code());
    painter.put(Rect { y: sheet.bottom().saturating_sub(1), height: 1, ..sheet }, &code, Tone::Quiet);
    let mut lines = Lines::new(shared.theme, text.width);
    lines.tone(if told.verdict == Verdict::Right { Tone::Right } else { Tone::Wrong }, &told.headline);
    lines.gap();
    for line in &work.lines {
        lines.text(line);
    }
    if let Some(paths) = &told.paths {
        lines.hanging(Tone::Wrong, "you     ", &paths.yours);
        lines.hanging(Tone::Right, right_word(&[&paths.right, &paths.yours]), &paths.right);
    }
    for note in told.pattern_sentence().iter().chain(&told.note) {
        lines.gap();
        lines.tone(Tone::Caution, note);
    }
    // Only where marks are drawn and the names stand around, there is something to check it by.
    let marked = table.detail != Detail::Little && !look.compares();
    if told.verdict == Verdict::Right && marked && matches!(table.exercise.task, Task::Orient(_)) {
        lines.gap();
        lines.text("Check it as you would outdoors: look from the middle of the map over each mark, and there its name stands.");
    }
    lines.gap();
    if work.needs_showing {
        lines.tone(Tone::Key, "w: watch it mended, from here on.");
    } else {
        lines.quiet("w: watch it once more.");
    }
    let text = beside(&work.meaning, &lines, text, painter);
    let overflows = lines.len() > usize::from(text.height);
    let room = Rect { height: text.height.saturating_sub(u16::from(overflows)), ..text };
    let (_, below) = painter.lines_from(lines, room, &screen.scroll);
    if overflows && below > 0 {
        painter.more_below(text, "PgDn");
    }
}

/// Draws the sketch under the text of a verdict, where both have room; what is left for the text.
fn beside(meaning: &TableMeaning, lines: &Lines, area: Rect, painter: &mut Painter<'_, '_>) -> Rect {
    let used = u16::try_from(lines.len() + 1).unwrap_or(u16::MAX);
    // A high window always has it: there, the text leaves room enough.
    let least = if area.height >= HIGH { SKETCH } else { LOW_SKETCH };
    let rows = area.height.saturating_sub(used).min(SKETCH);
    let rows = if area.height >= HIGH { rows.max(least) } else { rows };
    if meaning.figure == Figure::None || rows < least {
        return area;
    }
    let top = area.bottom() - rows;
    let room = captioned(meaning.caption, Rect { y: top, height: rows, ..area }, painter);
    painter.figure(&meaning.figure, room);
    Rect { height: area.height - rows, ..area }
}

/// What stands over a showing.
pub struct Heading<'a> {
    /// What it is.
    pub title: &'a str,
    /// The text of the problem.
    pub prompt: &'a str,
    /// Its code, as it is shown.
    pub code: String,
}

/// Draws a step of a showing.
pub fn shown(showing: &Showing, heading: &Heading<'_>, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut task = Lines::new(shared.theme, area.width);
    task.quiet(&with_code(heading.title, &heading.code, task.width()));
    task.text(heading.prompt);
    let words = |at: usize, painter: &Painter<'_, '_>| {
        let mut lines = Lines::new(shared.theme, area.width);
        if let Some(word) = showing.words.get(at) {
            let count = format!("Word {} of {}  ", at + 1, showing.words.len());
            match sign_of(word) {
                Some(sign) => {
                    let mut lead = vec![(count, shared.theme.tone(Tone::Title))];
                    lead.extend(painter.sign(Sign::Compass(sign), &showing.layer));
                    lines.behind(lead, Tone::Text, &word.sentence());
                }
                None => lines.hanging(Tone::Title, &count, &word.sentence()),
            }
        }
        lines
    };
    let said = |at: usize| {
        let mut lines = Lines::new(shared.theme, area.width);
        match at.checked_sub(1).and_then(|at| showing.steps.get(at)) {
            Some(step) => {
                let count = format!("Step {at} of {}  ", showing.steps.len());
                lines.hanging(Tone::Title, &count, &step.words);
                if at == showing.steps.len() {
                    lines.quiet("That is all.");
                }
            }
            None => lines.text("So it lies now. Press Enter, and each step is done before your eyes."),
        }
        lines
    };
    let mut status = if showing.word().is_some() { words(showing.read, painter) } else { said(showing.at) };
    // All get the rows of the longest: the looks stay where they are, and only what moves is drawn anew.
    let steps = (1..=showing.steps.len()).map(|at| said(at).len());
    let longest = steps.chain((0..showing.words.len()).map(|at| words(at, painter).len())).max().unwrap_or_default();
    (status.len()..longest).for_each(|_| status.gap());
    let mut state = Lines::new(shared.theme, compass_columns(area));
    // What lies ahead of a map that is turned by sight has no compass in it.
    if showing.problem.exercise.around().is_none() {
        key_to_compass(&showing.layer, painter, &mut state);
    }
    let parts = parts(area, (&task, &state, &status), 0);
    painter.lines(task, parts.task);
    painter.lines(state, parts.state);
    painter.lines(status, parts.status);
    let (pose, layer) = (showing.moving.pose(), &showing.layer);
    let look = Look { problem: &showing.problem, pose, layer, done: false };
    look.map(parts.map(), painter);
    look.close_up(parts.compass(), painter);
}

/// The part of the compass that a word names.
fn sign_of(word: &Word) -> Option<CompassSign> {
    match word.word {
        "needle" => Some(CompassSign::Needle),
        "orienting arrow" => Some(CompassSign::OrientingArrow),
        "edge" => Some(CompassSign::Edge),
        "travel arrow" => Some(CompassSign::TravelArrow),
        _ => None,
    }
}

/// The parts of the compass as the picture draws them, with their names.
fn key_to_compass(layer: &Layer, painter: &Painter<'_, '_>, lines: &mut Lines) {
    let rows = [
        [(CompassSign::Needle, "needle"), (CompassSign::OrientingArrow, "orienting arrow")],
        [(CompassSign::Edge, "edge  "), (CompassSign::TravelArrow, "travel arrow")],
    ];
    for row in rows {
        lines.signs(row.map(|(sign, name)| (painter.sign(Sign::Compass(sign), layer), name)));
    }
}
