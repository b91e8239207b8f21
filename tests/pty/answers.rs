//! Answers worked out by the library from the code that stands on the screen.
#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what a test counts and draws is small")]

use super::camp::DAY;
use super::output::Output;
use super::term::Term;
use needlewise::angle::Angle;
use needlewise::problem::{Answer, Field, Figure, MapFigure, MixupId, Problem, Question, Value, realise};
use needlewise::skills;
use needlewise::terrain::Spot;

/// The problem whose code stands on the screen.
pub fn problem_on(output: &Output) -> Option<Problem> {
    let text = output.text();
    let code =
        text.split([' ', '\n', '│']).filter(|word| word.contains('-')).find_map(|w| skills::read_code(w).ok())?;
    realise(&code).ok()
}

/// The problem being asked; goes past a worked example first.
pub fn asked(term: &mut Term) -> Problem {
    term.wait_for("an example or a question", |output| shows_example(output) || is_asking(output));
    // At the map table an example is shown step by step.
    for _ in 0..20 {
        if !term.look(shows_example) {
            break;
        }
        term.type_keys("<enter>");
    }
    term.wait_for("a question", is_asking);
    term.look(problem_on).unwrap_or_else(|| panic!("a problem's code:\n{}", term.screen_text()))
}

pub fn shows_example(output: &Output) -> bool {
    // Beside a sheet, or over the two looks of the map table.
    output.text().contains("First, one worked through")
}

/// Whether a question waits for an answer: the bottom line says what Enter does.
pub fn is_asking(output: &Output) -> bool {
    output.text().lines().last().is_some_and(|keys| {
        ["Enter answer", "Enter done", "Enter take up", "Enter look", "Enter read"]
            .iter()
            .any(|asks| keys.contains(asks))
    })
}

/// The verdict on the screen: whether the answer was right.
pub fn verdict(output: &Output) -> Option<bool> {
    let text = output.beside_sheet();
    // After work at the map table it stands beside the map, which has no frame.
    let first = output.text().lines().nth(1).unwrap_or_default().trim_end().to_owned();
    if text.starts_with("Right.") || first.ends_with("  Right.") {
        return Some(true);
    }
    (text.starts_with("Not right") || first.contains("  Not right")).then_some(false)
}

/// Waits for the verdict: an answer is on the disk before it is drawn, and a disk takes its time.
pub fn told(term: &Term) -> Option<bool> {
    term.wait_for("a verdict", |output| verdict(output).is_some());
    term.look(verdict)
}

/// The keys that give an answer, Enter included.
pub fn keys(problem: &Problem, answer: &Answer) -> String {
    if let (Question::SetDial { start, .. }, Some(Value::Angle(wanted))) = (problem.question(), answer.values().first())
    {
        return turn_dial(*start, *wanted);
    }
    if let (Figure::Map(map), Some(Value::Point(to))) = (&problem.figure(), answer.values().first()) {
        return move_cross(map, to.east_m, to.north_m);
    }
    let fields = problem.question().fields();
    fields.iter().zip(answer.values()).map(|(field, value)| format!("{}<enter>", field_keys(field, *value))).collect()
}

/// The keys that turn a dial by tens and ones from one number to another, Enter included. Up and left make the number grow.
fn turn_dial(start: Angle, wanted: Angle) -> String {
    let growth = (wanted - start).wrapped().degrees().round() as usize;
    format!("{}{}<enter>", "<up>".repeat(growth / 10), "<left>".repeat(growth % 10))
}

/// The keys that move the cross from the middle of the lower edge of the map to a place, in metres east and north, Enter included. A step is
/// .8 mm on the map, one with Shift ten of them.
fn move_cross(figure: &MapFigure, east_m: f64, north_m: f64) -> String {
    let begin = Spot::new(figure.map.middle().east_mm, figure.map.spec().height_mm * 0.03);
    let begin = figure.map.grid_position(begin);
    let step = f64::from(figure.map.spec().scale.denominator()) / 1000.0 * 0.8;
    let way = |from_m: f64, to_m: f64, [on, back]: [&str; 2]| {
        let steps = ((to_m - (from_m / 10.0).round() * 10.0) / step).round() as i32;
        let name = if steps < 0 { back } else { on };
        let (large, small) = (steps.unsigned_abs() as usize / 10, steps.unsigned_abs() as usize % 10);
        format!("{}{}", format!("<s-{name}>").repeat(large), format!("<{name}>").repeat(small))
    };
    let east = way(begin.easting_m, east_m, ["right", "left"]);
    let north = way(begin.northing_m, north_m, ["up", "down"]);
    format!("{east}{north}<enter>")
}

/// The keys of the right answer.
pub fn right(problem: &Problem) -> String {
    if let Some(table) = problem.table() {
        return super::at_table::right(&table);
    }
    keys(problem, problem.answer())
}

/// The keys of the answer that a mix-up gives, if this problem exposes it.
pub fn mixed_up(problem: &Problem, mixup: &'static str) -> Option<String> {
    let mixup = problem.mixups().iter().find(|known| known.meta.id == MixupId(mixup))?;
    Some(keys(problem, &mixup.answer))
}

fn field_keys(field: &Field, value: Value) -> String {
    match value {
        Value::Choice(at) => "<right>".repeat(at + 1),
        value => field.typed(value),
    }
}

/// Arguments for practice of one skill on the tests' day.
pub fn practice<'a>(learner: &'a str, skill: &'a str) -> Vec<&'a str> {
    vec!["practice", "--learner", learner, "--skill", skill, "--date", DAY]
}
