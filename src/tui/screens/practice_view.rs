//! The picture of practice: the figure in its neat line with the collar beside or above the question.

use super::practice::{Entry, Fields, PracticeScreen, Stage};
use super::practice_entry::{COLUMNS, Sought, in_columns, picked_word};
use super::table_view::{self, Heading};
use crate::angle::Angle;
use crate::problem::{Choices, DialFigure, Fact, FactName, Field, Figure, Prong, Verdict};
use crate::session::{AFTER_HINT, Asked, Flow, Support, Told, your_turn};
use crate::tui::model::Shared;
use crate::tui::paint::{Lines, Painter, cut, right_word};
use crate::tui::theme::Tone;
use ratatui::layout::Rect;

/// Rows of the collar under a figure, where there is room; a low screen gets the short collar: a dial needs 17 of 24 rows, and
/// a declination diagram in two rows is a blot.
const COLLAR: u16 = 6;
const SHORT_COLLAR: u16 = 2;
/// Screens with fewer rows than this get the short collar.
const LOW: u16 = 30;
/// Cells of a field.
const FIELD: u16 = 16;
/// Rows of a dial's magnified strip, and the free row above it.
const STRIP: u16 = 4;
/// The collar's declination diagram is drawn when there is room for this many columns of text beside it.
const COLLAR_TEXT: u16 = 22;
const COLLAR_PRONGS: u16 = 16;

/// Draws the screen.
pub fn view(screen: &PracticeScreen, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    if matches!(screen.stage, Stage::Handover) {
        handover(screen, shared, painter, area);
        return;
    }
    let Some(asked) = screen.flow.asked() else { return };
    if at_table(screen, asked, shared, painter, area) {
        return;
    }
    let figure = screen.step_figure().unwrap_or_else(|| match (&screen.stage, screen.flow.told()) {
        (Stage::Told, Some(told)) => told.figure.clone(),
        (Stage::Example(_), _) => example_figure(asked),
        _ => turned(&asked.figure, screen.filling().and_then(Fields::dial)),
    });
    // The sheet takes the left; on a narrow screen a bit less than half, so that sums stay on one line.
    // A map is read, and a place is picked on it: it gets a little more.
    let part = match &figure {
        Figure::Map(_) => 54,
        _ if area.width >= 100 => 48,
        _ => 45,
    };
    let sheet_width = u16::try_from(u32::from(area.width) * part / 100).unwrap_or(area.width);
    let sheet = Rect { width: sheet_width, ..area };
    let mut text = Rect { x: area.x + sheet_width + 2, width: area.width - sheet_width - 2, ..area };
    draw_sheet(&figure, asked, screen, shared, painter, sheet);
    let mut lines = Lines::new(shared.theme, text.width);
    let mut field_row = None;
    match (&screen.stage, screen.flow.told()) {
        (Stage::Example(_), _) => example(asked, screen.step, &mut lines),
        (Stage::Told, Some(told)) => verdict(told, asked, screen.step, &mut lines),
        _ => {
            field_row = Some(question(screen, asked, MessageAt::Field, &mut lines));
            // A message that the window would cut off stands above the question instead.
            if screen.message.is_some() && lines.len() + usize::from(STRIP) >= usize::from(text.height) {
                lines = Lines::new(shared.theme, text.width);
                field_row = Some(question(screen, asked, MessageAt::Top, &mut lines));
            }
        }
    }
    if matches!(&figure, Figure::Map(map) if map.protractor.is_some()) && screen.work().is_some() {
        lines.gap();
        lines.quiet("Where the line crosses the scale, seen close:");
    }
    // The strip stands under the question, where the eye goes with the number. A question cannot be read without it; a
    // long explanation can, and takes its place.
    let fits = lines.len() + usize::from(STRIP) < usize::from(text.height);
    let has_strip = match &figure {
        Figure::Dial(dial) => dial.strip,
        Figure::Map(map) => map.protractor.is_some(),
        _ => false,
    };
    if has_strip && (fits || screen.work().is_some()) {
        let most = text.height.saturating_sub(STRIP + 1);
        let under = u16::try_from(lines.len() + 1).unwrap_or(u16::MAX).min(most);
        painter.strip(&figure, Rect { y: text.y + under, height: STRIP.min(text.height - under), ..text });
        text.height = under;
    }
    // The mark that there is more has a row of its own, so that it covers no word.
    let overflows = lines.len() > usize::from(text.height);
    let room = Rect { height: text.height.saturating_sub(u16::from(overflows)), ..text };
    // What the last key was about is brought into sight, the field at the latest.
    if let (Some(sought), Some((row, _))) = (screen.sought.take(), field_row) {
        if sought == Sought::Hint {
            screen.scroll.reveal(lines.len().saturating_sub(1), room.height);
        }
        screen.scroll.reveal(row, room.height);
    }
    let (first, below) = painter.lines_from(lines, room, &screen.scroll);
    if overflows {
        // Where an answer is given, the arrows may be its own; the pages always scroll.
        let keys = if field_row.is_some() { ["PgUp", "PgDn"] } else { ["↑", "↓"] };
        painter.more(text, keys, (first, below));
    }
    if let (Some((row, true)), Some(Entry::Typed(input))) = (field_row, screen.filling().and_then(Fields::entry))
        && row >= first
    {
        painter.cursor(text, row - first, input, FIELD);
    }
}

/// A dial figure as the learner has turned it so far. The needle keeps pointing where it points.
fn turned(figure: &Figure, dial: Option<Angle>) -> Figure {
    match (figure, dial) {
        (Figure::Dial(drawn), Some(reading)) => Figure::Dial(DialFigure { reading, ..drawn.clone() }),
        _ => figure.clone(),
    }
}

/// Between two who take turns nothing of either is on the screen.
fn handover(screen: &PracticeScreen, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.gap();
    lines.title(&your_turn(&screen.learner.name));
    lines.text("Pass the keyboard on. The problem is chosen for you.");
    lines.gap();
    lines.tone(Tone::Key, &format!("Enter: I am {}.", screen.learner.name));
    painter.lines(lines, area);
}

/// Draws the map table, where the question is work at it; false where it is not.
fn at_table(
    screen: &PracticeScreen,
    asked: &Asked,
    shared: &Shared,
    painter: &mut Painter<'_, '_>,
    area: Rect,
) -> bool {
    if let Some(showing) = screen.showing() {
        let heading = match (&asked.support, &screen.stage) {
            (Support::Example(example), Stage::Example(_)) => Heading {
                title: "First, one worked through",
                prompt: example.prompt(),
                code: screen.flow.code_words(example.code()),
            },
            _ => Heading {
                title: "How it is done",
                prompt: asked.problem.prompt(),
                code: screen.flow.code_words(asked.problem.code()),
            },
        };
        table_view::shown(showing, &heading, shared, painter, area);
        return true;
    }
    if let Some(desk) = screen.desk() {
        table_view::asking(screen, desk, asked, shared, painter, area);
        return true;
    }
    match (&screen.stage, screen.flow.told()) {
        (Stage::Told, Some(told)) => match &told.table {
            Some(work) => table_view::told(screen, told, work, asked, shared, painter, area),
            None => return false,
        },
        _ => return false,
    }
    true
}

/// The sheet: figure, neat line and collar, drawn like a map's.
fn draw_sheet(
    figure: &Figure,
    asked: &Asked,
    screen: &PracticeScreen,
    shared: &Shared,
    painter: &mut Painter<'_, '_>,
    area: Rect,
) {
    let collar_rows = if area.height < LOW { SHORT_COLLAR } else { COLLAR };
    if area.height < collar_rows + 6 {
        return;
    }
    painter.neat_line(area);
    let inner = Rect { x: area.x + 1, y: area.y + 1, width: area.width - 2, height: area.height - 2 };
    let figure_room = Rect { height: inner.height - collar_rows - 1, ..inner };
    painter.collar_line(Rect { y: figure_room.bottom(), height: 1, ..area });
    match figure {
        Figure::None => blank_sheet(asked, screen, shared, painter, figure_room),
        // While a place is picked, the cross stands on the map.
        figure => match screen.filling().map(|filling| (filling.cross(), &filling.tool)) {
            Some((Some(cross), _)) => painter.figure(&cross.drawn_in(figure_room), figure_room),
            Some((None, Some(tool))) => painter.figure(&tool.drawn_in(figure_room), figure_room),
            _ => painter.figure(figure, figure_room),
        },
    }
    let collar = Rect { y: figure_room.bottom() + 1, height: collar_rows, ..inner };
    draw_collar(asked, screen, shared, painter, collar);
}

/// Without a figure the sheet says what the skill is for.
fn blank_sheet(asked: &Asked, screen: &PracticeScreen, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let (skill, level) = (asked.problem.skill(), asked.problem.code().level);
    let room = Rect {
        x: area.x + 1,
        y: area.y + 1,
        width: area.width.saturating_sub(2),
        height: area.height.saturating_sub(2),
    };
    let mut lines = Lines::new(shared.theme, room.width);
    lines.quiet(skill.family.title());
    lines.title(skill.title);
    lines.gap();
    lines.text(skill.can);
    lines.gap();
    lines.quiet(&format!("Level {}: {}.", level, skill.levels[usize::from(level.number()) - 1]));
    if screen.work().is_some() && skill.on_home {
        lines.gap();
        lines.quiet("A sketch on paper helps: draw north straight up, then the other line.");
    }
    painter.lines(lines, room);
}

/// Place, date, declination today with its diagram, problem code.
fn draw_collar(asked: &Asked, screen: &PracticeScreen, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let ground = &shared.ground;
    // An example has its own code.
    let problem = match &asked.support {
        Support::Example(example) if matches!(screen.stage, Stage::Example(_)) => example,
        _ => &asked.problem,
    };
    let code = problem.code();
    // A drawn map has norths of its own, and so has a text that tells an angle between two.
    let told = |fact: &Fact| {
        matches!(fact.name, FactName::Declination | FactName::PrintedDeclination | FactName::GridMagnetic)
    };
    let own_norths = code.meta().on_home || matches!(asked.figure, Figure::Map(_)) || problem.facts().iter().any(told);
    let elsewhere = own_norths && code.home.is_none();
    // Home ground's numbers would only confuse a problem that is set elsewhere, or that no north plays a part in, and give a diagram
    // of home ground away.
    let numbers = code.home.is_some() && !matches!(asked.figure, Figure::Prongs(_));
    let tall = area.height >= COLLAR;
    let mut text = Rect { x: area.x + 1, width: area.width.saturating_sub(2), ..area };
    if numbers && tall && area.width >= COLLAR_TEXT + COLLAR_PRONGS && ground.prongs.len() >= 2 {
        let place = Rect { x: area.right() - COLLAR_PRONGS, width: COLLAR_PRONGS - 1, ..area };
        let bare = ground.prongs.iter().map(|prong| Prong { printed: None, ..prong.clone() }).collect();
        painter.figure(&Figure::Prongs(bare), place);
        text.width = text.width.saturating_sub(COLLAR_PRONGS);
    }
    let width = usize::from(text.width);
    let mut lines = Lines::new(shared.theme, text.width);
    match elsewhere {
        true => lines.spans(vec![(Tone::Text, cut("a made-up place", width))]),
        false => lines.spans(vec![(Tone::Text, cut(&ground.home.name, width))]),
    }
    if tall {
        lines.quiet(&ground.day.to_string());
        if numbers {
            lines.quiet(&format!("declination today {}", ground.declination));
            for (what, value) in [("grid convergence", &ground.convergence), ("G-M angle", &ground.grid_magnetic)] {
                if let Some(value) = value {
                    lines.quiet(&format!("{what} {value}"));
                }
            }
        }
    }
    match screen.flow {
        Flow::Practice(_) => lines.spans(vec![(Tone::Quiet, "code ".to_owned()), (Tone::Text, code.to_string())]),
        Flow::Check(_) => lines.quiet(&screen.flow.code_words(code)),
    }
    painter.lines(lines, text);
}

fn head(asked: &Asked, lines: &mut Lines) {
    if let Some(opening) = &asked.opening {
        lines.text(opening);
    }
    if !asked.reason.is_empty() {
        lines.quiet(&asked.why());
        lines.gap();
    }
}

/// An example shows the figure that explains it.
fn example_figure(asked: &Asked) -> Figure {
    let Support::Example(example) = &asked.support else { return Figure::None };
    example.explanation(None)
}

fn example(asked: &Asked, step: Option<usize>, lines: &mut Lines) {
    let Support::Example(example) = &asked.support else { return };
    if step.is_some() {
        lines.title("First, one worked through");
        lines.gap();
        return steps(example.steps(), step, lines);
    }
    head(asked, lines);
    lines.title("First, one worked through");
    lines.gap();
    lines.text(example.prompt());
    lines.gap();
    if !asked.words.is_empty() {
        first_words(asked, lines);
        lines.gap();
    }
    steps(example.steps(), None, lines);
    lines.gap();
    lines.tone(Tone::Key, "Enter: now one for you.");
}

/// Where it is said why an answer was not taken.
#[derive(Clone, Copy, PartialEq, Eq)]
enum MessageAt {
    Top,
    Field,
}

/// The question; gives back the line of the field and whether it takes typing.
fn question(screen: &PracticeScreen, asked: &Asked, at: MessageAt, lines: &mut Lines) -> (usize, bool) {
    match (&screen.message, at) {
        (Some(message), MessageAt::Top) => {
            lines.tone(Tone::Caution, message);
            lines.gap();
        }
        _ => head(asked, lines),
    }
    lines.text(asked.problem.prompt());
    lines.gap();
    let mut place = (0, false);
    let (entries, current) = screen.filling().map_or((&[][..], 0), |filling| (&filling.entries, filling.current));
    for (index, (field, entry)) in screen.fields().iter().zip(entries).enumerate() {
        let current = index == current;
        if index > 0 {
            lines.gap();
        }
        let row = entry_line(field, entry, current, screen, lines);
        if current {
            place = (row, matches!(entry, Entry::Typed(_)));
        }
    }
    if let (Some(message), MessageAt::Field) = (&screen.message, at) {
        lines.gap();
        lines.tone(Tone::Caution, message);
    }
    if let Some(hint) = &asked.hint {
        lines.gap();
        lines.hanging(Tone::Text, "Hint  ", hint);
        lines.quiet(AFTER_HINT);
    } else {
        match &asked.support {
            Support::Blanks(blanks) => {
                lines.gap();
                lines.quiet("The way, with gaps for you:");
                steps(blanks, None, lines);
            }
            Support::Reminder(mend) => {
                lines.gap();
                lines.hanging(Tone::Quiet, "Last time  ", mend);
            }
            Support::Example(_) | Support::Bare => {}
        }
    }
    // An example has told them already.
    if !asked.words.is_empty() && !matches!(asked.support, Support::Example(_)) {
        lines.gap();
        first_words(asked, lines);
    }
    place
}

/// The words that are met here for the first time.
fn first_words(asked: &Asked, lines: &mut Lines) {
    for word in &asked.words {
        lines.hanging(Tone::Quiet, "· ", &word.sentence());
    }
}

/// A field: its label with the wanted north as a full word, and what is in it.
fn entry_line(field: &Field, entry: &Entry, current: bool, screen: &PracticeScreen, lines: &mut Lines) -> usize {
    match entry {
        // The dial itself is the field, read by its scale.
        Entry::Dial { .. } => {
            lines.tone(Tone::Title, "Turn the dial, then press Enter.");
            if matches!(screen.flow, Flow::Practice(_)) {
                lines.quiet("Clockwise makes the number at the index line smaller.");
            }
            lines.len() - 1
        }
        Entry::Point(cross) => {
            let drawn =
                if cross.lines().count() == 1 { "the line through the mark" } else { "lines through the marks" };
            lines.tone(Tone::Title, &format!("Draw {drawn}, then move the cross."));
            for (line, chosen) in cross.lines() {
                lines.item(chosen, &line);
            }
            lines.tone(Tone::Text, &cross.reference());
            lines.quiet(&cross.step_words());
            lines.len() - 1
        }
        Entry::Typed(input) => {
            let label = match field.north() {
                Some(north) if !field.label.contains(north.word()) => {
                    format!("{} ({})", field.label, north.word())
                }
                _ => field.label.to_owned(),
            };
            lines.tone(if current { Tone::Title } else { Tone::Text }, &label);
            let row = lines.field(input, usize::from(FIELD));
            if let Some(tool) = screen.filling().and_then(|filling| filling.tool.as_ref()) {
                lines.gap();
                lines.quiet(&tool.words());
            }
            row
        }
        Entry::Picked(..) => {
            lines.tone(if current { Tone::Title } else { Tone::Text }, field.label);
            let chosen = picked_word(field, entry);
            let Some(words) = field.choices() else { return lines.len() };
            if in_columns(words) {
                word_table(words, chosen, lines);
            } else {
                // The number chooses, too; a letter in a picture needs none beside it.
                // Beside a field for numbers a digit belongs there.
                let digits_choose = screen.fields().iter().all(|field| field.choices().is_some());
                let numbered = digits_choose && words.len() < 10 && words.iter().any(|word| word.chars().count() > 2);
                for (at, word) in words.iter().enumerate() {
                    let number = if numbered { format!("{} ", at + 1) } else { String::new() };
                    lines.item(chosen == Some(word), &format!("{number}{word}"));
                }
            }
            lines.len() - 1
        }
    }
}

/// Short words (compass points) stand in columns.
fn word_table(words: &Choices, chosen: Option<&str>, lines: &mut Lines) {
    let words: Vec<&str> = words.iter().collect();
    let widest = words.iter().map(|word| word.chars().count()).max().unwrap_or(1) + 3;
    for row in words.chunks(COLUMNS) {
        let spans = row
            .iter()
            .flat_map(|word| {
                let (mark, tone) = if chosen == Some(*word) { ("▸", Tone::Chosen) } else { (" ", Tone::Text) };
                let blank = widest.saturating_sub(word.chars().count());
                [(tone, format!("{mark}{word}")), (Tone::Text, " ".repeat(blank))]
            })
            .collect();
        lines.spans(spans);
    }
}

fn verdict(told: &Told, asked: &Asked, step: Option<usize>, lines: &mut Lines) {
    let tone = if told.verdict == Verdict::Right { Tone::Right } else { Tone::Wrong };
    lines.tone(tone, &told.headline);
    if told.verdict == Verdict::Right {
        lines.hanging(Tone::Text, "answer  ", &told.given);
        if told.given != told.right {
            lines.hanging(Tone::Quiet, "exact   ", &told.right);
        }
    } else {
        lines.answers(&told.given, &told.right);
    }
    lines.gap();
    if step.is_some() {
        return steps(&told.steps, step, lines);
    }
    if let Some(paths) = &told.paths {
        lines.hanging(Tone::Wrong, "you     ", &paths.yours);
        lines.hanging(Tone::Right, right_word(&[&paths.right, &paths.yours]), &paths.right);
        if let Some(mend) = told.mend {
            lines.hanging(Tone::Text, "so      ", mend);
        }
        lines.gap();
    } else if let Some(mend) = told.mend {
        lines.hanging(Tone::Text, "so      ", mend);
        lines.gap();
    }
    for note in told.pattern_sentence().iter().chain(&told.note) {
        lines.tone(Tone::Caution, note);
        lines.gap();
    }
    steps(&told.steps, None, lines);
    lines.gap();
    lines.quiet(asked.problem.prompt());
}

/// The worked steps; up to the one that the map shows, where it shows one.
fn steps(steps: &[crate::problem::Step], shown: Option<usize>, lines: &mut Lines) {
    let until = shown.map_or(steps.len(), |shown| shown + 1);
    for (number, step) in steps.iter().take(until).enumerate() {
        let tone = if shown.is_some_and(|shown| number < shown) { Tone::Quiet } else { Tone::Text };
        lines.hanging(tone, &format!("{}  ", step.mark(number)), &step.line());
    }
}
