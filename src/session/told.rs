//! What a learner is told after an answer.

use super::partly::partly;
use crate::maptable::{ShownStep, Table, showing};
use crate::problem::{
    AnswerErrorKind, Field, FieldKind, Figure, Judgement, Paths, Problem, Step, TableMeaning, TableProblem,
    TableVerdict, Value, Verdict, capital,
};

/// The verdict in words, with all that explains it.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// The verdict.
    pub verdict: Verdict,
    /// What the learner answered, as the trade writes it.
    pub given: String,
    /// The right answer, as the trade writes it.
    pub right: String,
    /// The first line: `Right.`, `Not right: you applied the correction the wrong way round.`
    pub headline: String,
    /// The learner's own path beside the right one, when a mix-up is named.
    pub paths: Option<Paths>,
    /// What to do next time, when a mix-up is named.
    pub mend: Option<&'static str>,
    /// The worked solution.
    pub steps: Vec<Step>,
    /// The figure that shows why.
    pub figure: Figure,
    /// What is said of work at the map table, and how things lay at its end.
    pub table: Option<Box<ToldTable>>,
    /// What this answer did to the record: a weak spot named, or gone.
    pub note: Option<String>,
    /// Where the mix-up shows, if only there: `only when the declination is east (5 of 6; 0 of 7 when it is west)`.
    pub pattern: Option<String>,
}

/// What is told of work at the map table.
#[derive(Clone, Debug, PartialEq)]
pub struct ToldTable {
    /// Each fault with its mending, what came out, and what that means where right work does not bring the ideal.
    pub lines: Vec<String>,
    /// How things lay at the end.
    pub end: Table,
    /// How they lay when the compass was last on the map: what the verdict shows.
    pub lay: Table,
    /// The sketch of the norths that shows what it means, with where the learner's own line came to point.
    pub meaning: TableMeaning,
    /// The right work from there to the end, step by step.
    pub showing: Vec<ShownStep>,
    /// Whether there is something to mend.
    pub needs_showing: bool,
}

impl Told {
    /// Puts a judgement into words.
    #[must_use]
    pub fn new(problem: &Problem, judgement: &Judgement) -> Told {
        let question = problem.question();
        let mixup = judgement.verdict.mixup();
        let figure = problem.explanation(Some(&judgement.given));
        Told {
            verdict: judgement.verdict,
            given: judgement.words(question),
            right: question.words(problem.answer()),
            headline: match problem.other_way(&judgement.given) {
                Some(other) if judgement.verdict == Verdict::Right => other.headline(),
                _ => near(problem, judgement)
                    .or_else(|| partly(problem, judgement))
                    .unwrap_or_else(|| headline(judgement.verdict)),
            },
            paths: mixup.and_then(|mixup| problem.paths(mixup.id, &judgement.given)),
            mend: mixup.map(|mixup| mixup.mend),
            steps: problem.steps().to_vec(),
            figure: if judgement.verdict == Verdict::Right { figure.without_learner() } else { figure },
            table: None,
            note: None,
            pattern: None,
        }
    }

    /// Where the mix-up shows, as a sentence.
    #[must_use]
    pub fn pattern_sentence(&self) -> Option<String> {
        self.pattern.as_ref().map(|pattern| format!("With you it comes {pattern}."))
    }

    /// Puts the judging of work at the map table into words.
    #[must_use]
    pub fn of_table(problem: &Problem, table: &TableProblem, verdict: &TableVerdict) -> Told {
        let told = Told::new(problem, &verdict.judgement);
        let work = &verdict.work;
        let in_another_way = told.verdict == Verdict::Right && problem.other_way(&verdict.judgement.given).is_some();
        // How a map lies that is turned by sight is no number that anybody gave.
        let by_sight = table.exercise.around().is_some();
        let near = (work.right && !by_sight).then(|| near(problem, &verdict.judgement)).flatten();
        let of_work = || near.unwrap_or_else(|| work.headline(&table.exercise.task).to_owned());
        // Of one mistake the learner's own numbers stand beside the right ones; of several each tells its own.
        let paths = (!work.right && work.procedure.len() <= 1)
            .then(|| Paths { yours: work.did.clone(), right: problem.right_way() });
        Told {
            headline: if in_another_way { told.headline.clone() } else { of_work() },
            // The faults, each with its mending, stand among the lines.
            mend: None,
            paths,
            table: Some(Box::new(ToldTable {
                lines: work.lines(),
                end: verdict.end,
                lay: verdict.lay,
                meaning: table.meaning(verdict),
                showing: showing(&table.exercise, &verdict.end),
                needs_showing: !work.right,
            })),
            ..told
        }
    }
}

fn headline(verdict: Verdict) -> String {
    match verdict {
        Verdict::Right => "Right.".to_owned(),
        Verdict::Mixup(mixup) => format!("Not right: you {}.", mixup.said),
        Verdict::Unrecognised(Some(slip)) => format!("Not right. It looks like {}.", slip.words()),
        Verdict::Unrecognised(None) => "Not right. The steps show the way.".to_owned(),
    }
}

/// Less off is a matter of how numbers are kept, in any unit.
const EXACT: f64 = 1e-6;

/// What is said of a right answer that is not the exact one: what it is, and how far off still counts. `Right. Exactly it is
/// 085; here up to 2° off counts.`
fn near(problem: &Problem, judgement: &Judgement) -> Option<String> {
    let question = problem.question();
    let values = problem.answer().values();
    let fields = question.fields().iter().zip(values).zip(&judgement.off_by);
    if let ([Value::Grid(given), ..], [Value::Grid(right), ..]) = (judgement.given.values(), values)
        && judgement.verdict == Verdict::Right
        && given.to_string() != right.to_string()
        && given.distance_m(*right).is_none_or(|metres| metres > 0.0)
    {
        let exactly = question.words(problem.answer());
        return Some(format!(
            "Right. Exactly it is {exactly}; read off a map, one more or less in a last figure counts."
        ));
    }
    let is_off = |off: &Option<f64>| off.is_some_and(|off| off.abs() > EXACT);
    let ((field, right), _) =
        fields.filter(|_| judgement.verdict == Verdict::Right).find(|((_, _), off)| is_off(off))?;
    let unit = match field.unit() {
        "deg" => "°",
        "arcmin" => "′",
        "mil" => " mils",
        "m" => " m",
        "mm" => " mm",
        "min" => " minutes",
        _ => "",
    };
    // A share of the right answer can be any number: told to a tenth, and where it is many, to a whole one, and never more than
    // counts. Less than a degree may be a few minutes.
    let exact = field.tolerance.beside(*right);
    let (exact, unit) = if unit == "°" && exact < 0.3 { (60.0 * exact, "′") } else { (exact, unit) };
    let allowed = if exact < 10.0 { (exact * 10.0 + 1e-6).floor() / 10.0 } else { (exact + 1e-6).floor() };
    let exactly = question.words(problem.answer());
    let point =
        judgement.given.values().first().and_then(|given| as_decimals(field, *given, *right)).unwrap_or_default();
    let below = field.tolerance.below;
    let counts = if below < allowed {
        format!("{below}{unit} less and {allowed}{unit} more count")
    } else {
        format!("{allowed}{unit} off counts")
    };
    Some(format!("Right. Exactly it is {exactly}; here up to {counts}.{point}"))
}

/// What to say of minutes that were written behind a point, which is near enough where half a degree counts: `8.44W` for 8°44′ W.
fn as_decimals(field: &Field, given: Value, right: Value) -> Option<String> {
    let (FieldKind::EastWest, Value::Angle(given), Value::Angle(right)) = (&field.kind, given, right) else {
        return None;
    };
    let (given, right) = (given.degrees().abs(), right.degrees().abs());
    let minutes = (right.fract() * 60.0).round();
    let written = right.floor() + minutes / 100.0;
    (minutes > 0.0 && (given - written).abs() < 0.001)
        .then(|| format!(" Minutes are sixtieths: behind a point it is {right:.2}, not {written:.2}."))
}

/// A message for an answer that could not be judged; the question stays.
#[must_use]
pub fn not_judged(kind: &AnswerErrorKind) -> String {
    format!("{} Nothing was recorded.", sentence(&kind.to_string()))
}

/// A text as a sentence: with a capital at the front and a full stop behind.
#[must_use]
pub fn sentence(text: &str) -> String {
    if text.is_empty() { String::new() } else { format!("{}.", capital(text)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{judge, realise};
    use crate::skills::read_code;

    fn headline(code: &str, texts: &[&str]) -> String {
        let problem = realise(&read_code(code).unwrap()).unwrap();
        Told::new(&problem, &judge(&problem, texts).unwrap()).headline
    }

    #[test]
    fn minutes_written_behind_a_point_are_told_to_be_sixtieths() {
        let code = "B1-1-3-v4-8.73W-2.15E";
        let near = "Right. Exactly it is 8°44′ W; here up to 0.5° off counts.";
        assert_eq!(
            headline(code, &["8.44W"]),
            format!("{near} Minutes are sixtieths: behind a point it is 8.73, not 8.44.")
        );
        assert_eq!(headline(code, &["8.5W"]), near);
        assert_eq!(headline(code, &["8°44'W"]), "Right.");
    }

    #[test]
    fn an_answer_that_is_right_within_tolerance_is_told_the_exact_one_and_how_far_off_counts() {
        assert_eq!(headline("B2-2-38469-v2", &["066"]), "Right.");
        assert_eq!(headline("B2-2-38469-v2", &["066.4"]), "Right. Exactly it is 066° M; here up to 0.5° off counts.");
        assert!(headline("B2-2-38469-v2", &["067"]).starts_with("Not right."));
        let near = "Right. Exactly it is 16°30′ E; here up to 5′ off counts.";
        assert_eq!(headline("B5-1-214247-v3", &["16", "33", "E"]), near);
        assert_eq!(headline("B5-1-214247-v3", &["16", "30", "E"]), "Right.");
        let metres = headline("G5-1-3-v3", &["51"]);
        assert!(
            metres.starts_with("Right. Exactly it is 50 m; here up to ") && metres.ends_with(" m off counts."),
            "{metres}"
        );
    }
}
