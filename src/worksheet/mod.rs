//! Sheets to print: problems for each learner, and a key for the leader on pages of its own; maps, courses and reports on paper.
//!
//! What lives here: what stands on a sheet and on its key as data, and how it is laid out on pages. What does not: what a course
//! ([`crate::course`]) and a report ([`crate::report`]) say, which problems are chosen ([`crate::session`]), how pages become a file ([`crate::paper`]), and the lines of text (the command line).

mod course_pages;
mod cutouts;
mod figure;
mod first_page;
mod ground;
mod key_pages;
mod layout;
mod map_pages;
mod pieces;
mod report_pages;
#[cfg(test)]
mod tests;
mod tick_pages;

pub use course_pages::{CoursePages, printed_course, printed_debriefs};
pub use cutouts::printed_cutouts;
pub use ground::{MapWish, PracticeMap, Spread};
pub use layout::printed;
pub use map_pages::printed_map;
pub use report_pages::{printed_first_page, printed_report, printed_wall};
pub use tick_pages::printed_ticks;

use crate::plain::{asks, long_list, step_lines};
use crate::problem::{Field, FieldKind, Problem, Tolerance, Value, capital};
use crate::session::LeftOut;

/// All sheets of one print.
#[derive(Clone, Debug)]
pub struct Worksheet {
    /// What they are about: `Practice`, or the title of a drill or a standard.
    pub title: String,
    /// The seed that they were chosen by.
    pub seed: u64,
    /// One for each learner.
    pub sheets: Vec<LearnerSheet>,
    /// What could not be put on paper.
    pub left_out: Vec<LeftOut>,
}

/// The sheet of one learner.
#[derive(Clone, Debug)]
pub struct LearnerSheet {
    /// Whose it is; none for whoever takes it.
    pub name: Option<String>,
    /// Its problems; they are numbered from 1.
    pub problems: Vec<Problem>,
}

/// A problem as a sheet asks it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// Its skill.
    pub title: &'static str,
    /// The text of the question.
    pub prompt: String,
    /// What is wanted, field by field: `magnetic bearing, in degrees from magnetic north`.
    pub wanted: Vec<String>,
    /// Lists of words that are too long to stand in what is wanted.
    pub names: Vec<String>,
    /// What regenerates it.
    pub code: String,
}

/// A problem as the key tells it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// What regenerates it.
    pub code: String,
    /// The right answer.
    pub answer: String,
    /// How near one must come, if not exactly: `within 1°`.
    pub tolerance: Option<String>,
    /// The known wrong answers with their digits.
    pub wrong: Vec<Wrong>,
    /// The worked steps, each a sentence.
    pub steps: Vec<String>,
}

/// A known wrong answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrong {
    /// What is written beside it, 2 or more.
    pub digit: usize,
    /// The answer.
    pub answer: String,
    /// What was done, with its subject: `you added where …`.
    pub said: &'static str,
}

/// How a leader marks a sheet.
pub const MARKING: &str = "To mark a sheet, write a number beside each answer: 1 is right, 2 and more are the wrong answers listed here, 0 is anything else, and a dash is not done.";

/// What a learner is told above the first problem.
const LETTERS: &str =
    "Write the letter of its north behind each bearing: T true, G grid, M magnetic. Show your working beside it.";
const WORKING: &str = "Show your working beside it.";

impl LearnerSheet {
    /// What is told above the first problem: of letters only where a bearing with its north is asked.
    #[must_use]
    pub fn how_to(&self) -> &'static str {
        let with_letter = |field: &Field| matches!(field.kind, FieldKind::Bearing(_) | FieldKind::Mils(_));
        let asked = self.problems.iter().any(|problem| problem.question().fields().iter().any(with_letter));
        if asked { LETTERS } else { WORKING }
    }
}

impl Asked {
    /// What stands on the sheet.
    #[must_use]
    pub fn of(problem: &Problem) -> Asked {
        let fields = problem.question().fields();
        Asked {
            title: problem.skill().title,
            prompt: problem.prompt().to_owned(),
            wanted: fields.iter().map(asks).collect(),
            names: fields.iter().filter_map(long_list).collect(),
            code: problem.code().to_string(),
        }
    }
}

impl Told {
    /// What stands in the key.
    #[must_use]
    pub fn of(problem: &Problem) -> Told {
        let question = problem.question();
        let wrong = (2..).zip(problem.mixups()).map(|(digit, mixup)| Wrong {
            digit,
            answer: question.words(&mixup.answer),
            said: mixup.meta.said,
        });
        Told {
            code: problem.code().to_string(),
            answer: question.words(problem.answer()),
            tolerance: tolerances(question.fields(), problem.answer().values()),
            wrong: wrong.collect(),
            steps: step_lines(problem.steps()),
        }
    }
}

impl Worksheet {
    /// What could not be put on paper, as a sentence.
    #[must_use]
    pub fn left_out_words(&self) -> Option<String> {
        if self.left_out.is_empty() {
            return None;
        }
        let skills: Vec<String> =
            self.left_out.iter().map(|one| format!("{} (level {})", one.skill.id, one.level)).collect();
        Some(format!("Left out, since these are answered by hand on the screen: {}.", skills.join(", ")))
    }
}

/// How near an answer must come: once where several fields say the same. Their units tell them apart.
fn tolerances(fields: &[Field], values: &[Value]) -> Option<String> {
    let mut told: Vec<String> = Vec::new();
    for near in fields.iter().zip(values).filter_map(|(field, value)| tolerance(field, *value)) {
        if !told.contains(&near) {
            told.push(near);
        }
    }
    (!told.is_empty()).then(|| format!("within {}", told.join(", ")))
}

/// How near a value must come in its unit; none where only the value itself is right.
fn tolerance(field: &Field, value: Value) -> Option<String> {
    let Tolerance { below, .. } = field.tolerance;
    let near = field.tolerance.beside(value);
    if near <= 0.0 {
        return None;
    }
    let unit = match field.kind {
        FieldKind::Bearing(_) | FieldKind::Dial | FieldKind::Turn | FieldKind::EastWest | FieldKind::Degrees => "°",
        FieldKind::Minutes => "′",
        FieldKind::Mils(_) => " mils",
        FieldKind::Distance(_) | FieldKind::GridReference { .. } | FieldKind::MapPoint => " m",
        FieldKind::MapLength => " mm",
        FieldKind::Time => " min",
        FieldKind::Count => "",
        FieldKind::Choice(_) => return None,
    };
    let plain = |number: f64| (number * 10.0).round() / 10.0;
    let less = if below < near { format!(" ({}{unit} below)", plain(below)) } else { String::new() };
    Some(format!("{}{unit}{less}", plain(near)))
}

/// A sentence that begins with a capital and ends with a full stop.
pub(super) fn sentence(text: &str) -> String {
    let text = capital(text);
    if text.ends_with(['.', '?', '!']) { text } else { format!("{text}.") }
}
