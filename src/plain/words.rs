//! The texts of plain practice, which the command line prints too. Each line is a sentence or a label and a value, so that
//! it makes sense alone when it is heard.

use crate::maptable::Move;
use crate::problem::{Choices, Field, FieldKind, Figure, Step, Tells, Verdict};
use crate::session::{
    GroundCard, Plan, SkillLine, Summary, Told, answers_words, day_words, ground_sentence, invented_for_learner,
    no_pattern_words, sentence, taken_back_words, weak_spot_words,
};
use jiff::civil::Date;

/// Lists of words up to this long are read out with the question.
const SHORT_LIST: usize = 8;

/// What a field asks for, with the wanted north as a full word: `magnetic bearing, in degrees from magnetic north`. No
/// capital, no mark at the end.
#[must_use]
pub fn asks(field: &Field) -> String {
    let label = field.label;
    match &field.kind {
        FieldKind::Bearing(north) => format!("{label}, in degrees from {} north", north.word()),
        FieldKind::Mils(north) if label.ends_with("in mils") => format!("{label} from {} north", north.word()),
        FieldKind::Mils(north) => format!("{label}, in mils from {} north", north.word()),
        FieldKind::Dial => format!("{label}, from 0 to 360"),
        FieldKind::Turn if says(label, "degrees") => label.to_owned(),
        FieldKind::Turn => format!("{label}, in degrees"),
        FieldKind::EastWest => format!("{label}, like 13W"),
        FieldKind::Degrees | FieldKind::Count => format!("{label}, a whole number"),
        FieldKind::Minutes => format!("{label}, from 0 to 59"),
        FieldKind::Distance(unit) if says(label, unit.word()) => label.to_owned(),
        FieldKind::Distance(unit) => format!("{label}, in {}", unit.word()),
        FieldKind::MapLength => format!("{label}, or like 2.5 cm"),
        FieldKind::Time => format!("{label}, in minutes, or like 1 h 15"),
        FieldKind::GridReference { figures, lettered: true } => format!("{label}, two letters and {figures} figures"),
        FieldKind::GridReference { figures, .. } => format!("{label}, {figures} figures"),
        FieldKind::MapPoint => format!("{label}, metres east and metres north, or a grid reference of 8 figures"),
        FieldKind::Choice(words) if words.iter().all(|word| says(label, word)) => label.to_owned(),
        FieldKind::Choice(words) if words.len() <= SHORT_LIST => format!("{label}, one of: {}", words.listed()),
        FieldKind::Choice(words) => format!("{label}, one of {} names", words.len()),
    }
}

/// Whether a label names a word already, as `E or W` does.
fn says(label: &str, word: &str) -> bool {
    label.split([' ', ',']).any(|part| part == word)
}

/// The words of a field too long to be read out each time.
#[must_use]
pub fn long_list(field: &Field) -> Option<String> {
    field.choices().filter(|words| words.len() > SHORT_LIST).map(Choices::listed)
}

/// The figure as a line, if anything is drawn.
#[must_use]
pub fn figure_line(figure: &Figure) -> Option<String> {
    figure.in_words().map(|words| format!("Drawing: {words}"))
}

/// Numbered steps; sums left blank are said to be left out.
#[must_use]
pub fn step_lines(steps: &[Step]) -> Vec<String> {
    steps
        .iter()
        .enumerate()
        .map(|(at, step)| {
            let line = if step.sum == "…" {
                step.line().replace("? …", "? Left to you").replace('…', "left to you")
            } else {
                step.line()
            };
            match step.tells {
                Tells::Caution => format!("{line}."),
                _ => format!("Step {}: {line}.", step.mark(at)),
            }
        })
        .collect()
}

/// A verdict with all that explains it.
#[must_use]
pub fn told_lines(told: &Told) -> Vec<String> {
    let mut lines = vec![told.headline.clone()];
    if let Some(table) = &told.table {
        lines.extend(table.lines.iter().cloned());
    }
    if told.verdict == Verdict::Right {
        lines.push(format!("Answer: {}", told.given));
    } else {
        lines.push(format!("Yours: {}", told.given));
        lines.push(format!("Right: {}", told.right));
    }
    if let Some(paths) = &told.paths {
        lines.push(format!("Your way: {}", paths.yours));
        lines.push(format!("Right way: {}", paths.right));
    }
    lines.extend(told.mend.map(|mend| format!("Next time: {mend}")));
    lines.extend(told.pattern_sentence());
    lines.extend(told.note.clone());
    if told.verdict != Verdict::Right && !matches!(told.figure, Figure::Dial(_)) {
        lines.extend(figure_line(&told.figure));
    }
    match told.table.as_ref().filter(|table| table.needs_showing) {
        // How it is mended, from where the learner's own work ended.
        Some(table) => {
            lines.push("From where you ended it is mended so:".to_owned());
            let steps = table.showing.iter().filter(|step| !step.moves.contains(&Move::Done)).enumerate();
            lines.extend(steps.map(|(number, step)| format!("{}. {}", number + 1, step.words)));
        }
        None => lines.extend(step_lines(&told.steps)),
    }
    lines
}

/// Said to somebody whose name is nobody's yet.
pub(super) fn new_here(name: &str) -> String {
    format!("{name} is new here: a record was begun, on this computer only.")
}

/// What a practice is and when it ends.
pub(super) fn plan_line(plan: &Plan) -> String {
    format!("{}: {}.", plan.title, plan.end_words())
}

/// Home ground, with what must be said about it.
pub(super) fn ground_lines(ground: &GroundCard) -> Vec<String> {
    let mut lines = Vec::new();
    lines.push(ground_sentence(ground));
    if ground.home.invented {
        lines.push(invented_for_learner("needlewise home set"));
    }
    lines.extend(ground.cautions.iter().cloned());
    lines
}

/// The end of a session: what became surer, what is weak, when to return.
pub(super) fn summary_lines(summary: &Summary, title: &str, name: &str, today: Date) -> Vec<String> {
    if summary.answers.all() == 0 && summary.taken_back == 0 {
        return vec![format!("Nothing was answered, so nothing was recorded. Until next time, {name}.")];
    }
    let mut lines = vec![
        format!("That was {}, {name}.", title.to_lowercase()),
        format!("{}. Everything is kept.", answers_words(summary.answers)),
    ];
    lines.extend((summary.taken_back > 0).then(|| taken_back_words(summary.taken_back)));
    for line in &summary.skills {
        let surer = if line.surer { ", surer than before" } else { "" };
        lines.push(format!("{}: {}, {}{surer}.", line.skill.title, counted(line), line.state.words()));
    }
    if summary.weak.is_empty() && summary.without_pattern.is_empty() {
        lines.push("No weak spot stands out.".to_owned());
    }
    for weak in &summary.weak {
        lines.push(format!("Weak spot: {}. {}", weak_spot_words(weak), weak.mend()));
    }
    lines.extend(summary.without_pattern.iter().map(|lost| sentence(&no_pattern_words(lost))));
    lines.extend(summary.return_on.map(|day| format!("Come back: {}.", day_words(day, today))));
    lines
}

/// What was right of a skill, as the learner's page counts it, and what counts for nothing: `1 of 3 right, 1 more after help`.
fn counted(line: &SkillLine) -> String {
    match line {
        SkillLine { asked: 0, helped, .. } => format!("{helped} after help"),
        SkillLine { asked, right, helped: 0, .. } => format!("{right} of {asked} right"),
        SkillLine { asked, right, helped, .. } => format!("{right} of {asked} right, {helped} more after help"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::North;
    use crate::problem::Tolerance;

    fn field(label: &'static str, kind: FieldKind) -> Field {
        Field { name: "x", label, kind, tolerance: Tolerance::within(0.5) }
    }

    #[test]
    fn the_wanted_north_stands_as_a_full_word() {
        let bearing = field("back bearing", FieldKind::Bearing(North::Grid));
        assert_eq!(asks(&bearing), "back bearing, in degrees from grid north");
    }

    #[test]
    fn short_lists_are_read_out_and_long_ones_on_request() {
        const NAMES: &[&str] = &["a", "b", "c", "d", "e", "f", "g", "h", "i"];
        assert_eq!(asks(&field("E or W", FieldKind::Choice(Choices::Fixed(&["E", "W"])))), "E or W");
        let needle = field("needle", FieldKind::Choice(Choices::Fixed(&["boxed", "not boxed"])));
        assert_eq!(asks(&needle), "needle, one of: boxed, not boxed");
        assert_eq!(long_list(&needle), None);
        let long = field("point", FieldKind::Choice(Choices::Fixed(NAMES)));
        assert_eq!(asks(&long), "point, one of 9 names");
        assert_eq!(long_list(&long).as_deref(), Some("a, b, c, d, e, f, g, h, i"));
    }

    #[test]
    fn a_sum_left_blank_is_said() {
        let steps =
            [Step::words("Look"), Step::new("Add", "…".to_owned()), Step::new("Take off", "3 − 1 = 2".to_owned())];
        assert_eq!(step_lines(&steps), ["Step 1: Look.", "Step 2: Add: left to you.", "Step 3: Take off: 3 − 1 = 2."]);
    }
}
