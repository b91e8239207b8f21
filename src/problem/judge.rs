//! Judging: right, a named mix-up, or not recognised.

use super::reading::{self, AnswerError, AnswerErrorKind};
use super::{Answer, Field, FieldKind, Figure, MixupMeta, Problem, Question, Slip, Value, Verdict, WRONG_NORTH};
use crate::angle::North;
use crate::numbers::{self, whole};

/// What was found of one answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// The verdict.
    pub verdict: Verdict,
    /// What was understood of the typing.
    pub given: Answer,
    /// The north's letter that was typed in each field; empty where nothing was typed.
    pub norths: Vec<Option<North>>,
    /// Signed `given − right` for each field in its unit, the short way round; none for words and places.
    pub off_by: Vec<Option<f64>>,
}

impl Judgement {
    /// What was understood of the typing, in words: a bearing with the letter that was typed, be it the wrong one.
    #[must_use]
    pub fn words(&self, question: &Question) -> String {
        if self.norths.iter().all(Option::is_none) {
            return question.words(&self.given);
        }
        let as_typed = |(field, typed): (&Field, &Option<North>)| {
            let kind = match (&field.kind, typed) {
                (FieldKind::Bearing(_), Some(north)) => FieldKind::Bearing(*north),
                (FieldKind::Mils(_), Some(north)) => FieldKind::Mils(*north),
                (kind, _) => kind.clone(),
            };
            Field { kind, ..field.clone() }
        };
        let fields: Vec<Field> = question.fields().iter().zip(&self.norths).map(as_typed).collect();
        Question::typed(fields).words(&self.given)
    }
}

/// Judges what was typed into the fields, in the question's order.
///
/// # Errors
/// [`AnswerError`] when a text cannot be read or lies off the circle or off the map; then nothing is judged or recorded.
pub fn judge(problem: &Problem, texts: &[&str]) -> Result<Judgement, AnswerError> {
    let (question, right) = (problem.question(), problem.answer());
    let fields = question.fields();
    let given = reading::read(question, texts)?;

    // A number off the circle is never right, however near; it may be what forgetting to wrap gives.
    let off = off_circle(fields, &given.answer);
    let verdict = if given.wrong_north {
        Verdict::Mixup(&WRONG_NORTH)
    } else if off.is_none() && (question.same(&given.answer, right) || problem.other_way(&given.answer).is_some()) {
        Verdict::Right
    } else if let Some(mixup) = problem.mixups().iter().find(|mixup| question.is_told(&given.answer, &mixup.answer)) {
        Verdict::Mixup(mixup.meta)
    } else if let Some(meta) = nearest_place(problem, &given.answer) {
        Verdict::Mixup(meta)
    } else {
        if let Some(error) = off.or_else(|| off_map(problem, &given.answer)) {
            return Err(error);
        }
        Verdict::Unrecognised(slip(fields, &given.answer, right))
    };
    let beside = problem.other_way(&given.answer).map_or(right, |other| &other.answer);
    let off_by = question.off_by(&given.answer, beside);
    Ok(Judgement { verdict, given: given.answer, norths: given.norths, off_by })
}

fn off_circle(fields: &[Field], given: &Answer) -> Option<AnswerError> {
    fields.iter().zip(given.values()).find_map(|(field, value)| {
        let circle = field.circle()?;
        let number = number(*value)?;
        (!(0.0..=circle).contains(&number)).then(|| AnswerError {
            field: field.label,
            named: fields.len() > 1,
            kind: AnswerErrorKind::OffCircle(format!("{number}").replace('-', "−"), whole(circle)),
        })
    })
}

/// Up to how many times the tolerance a place may lie beside what a wrong way leads to: on a map of a few cells nobody hits a spot, and a
/// slip of one degree where lines cut at a slant leads farther.
const NET: f64 = 3.0;
/// How many times as far away as the nearest one every other wrong way has to lead.
const ALONE: f64 = 1.5;

/// The wrong way that leads nearest to a place which is neither right nor just where any of them leads.
fn nearest_place(problem: &Problem, given: &Answer) -> Option<&'static MixupMeta> {
    let question = problem.question();
    let ([field], [place], [right]) = (question.fields(), given.values(), problem.answer().values()) else {
        return None;
    };
    if field.kind != FieldKind::MapPoint {
        return None;
    }
    let off =
        |answer: &Answer| answer.values().first().map_or(f64::INFINITY, |value| field.difference(*place, *value).abs());
    let mut all: Vec<(f64, &'static MixupMeta)> =
        problem.mixups().iter().map(|mixup| (off(&mixup.answer), mixup.meta)).collect();
    numbers::arrange(&mut all, |one, other| one.0.total_cmp(&other.0));
    let (nearest, meta) = *all.first()?;
    let net = NET * field.tolerance.beside(*right);
    let alone = all.iter().all(|(off, other)| other.id == meta.id || *off > ALONE * nearest);
    (nearest <= net && nearest * ALONE < field.difference(*place, *right).abs() && alone).then_some(meta)
}

/// A point that lies off the problem's map; one that a mix-up gives was told as that before.
fn off_map(problem: &Problem, given: &Answer) -> Option<AnswerError> {
    let fields = problem.question().fields();
    fields.iter().zip(given.values()).find_map(|(field, value)| {
        let (FieldKind::MapPoint, Value::Point(point)) = (&field.kind, value) else { return None };
        let Figure::Map(figure) = problem.figure() else { return None };
        let on_map = figure.map.holds(figure.map.at_grid_position((*point).into()));
        (!on_map).then_some(AnswerError { field: field.label, named: fields.len() > 1, kind: AnswerErrorKind::OffMap })
    })
}

fn number(value: Value) -> Option<f64> {
    match value {
        Value::Angle(angle) => Some(angle.degrees()),
        Value::Number(number) => Some(number),
        Value::Choice(_) | Value::Grid(_) | Value::Point(_) | Value::Blank => None,
    }
}

/// A slip is named only where a single number is wrong, and only when exactly one kind of slip explains it.
fn slip(fields: &[Field], given: &Answer, right: &Answer) -> Option<Slip> {
    let values = given.values().iter().zip(right.values());
    let mut wrong = fields
        .iter()
        .zip(values)
        .filter(|(field, (given, right))| !field.near(field.difference(**given, **right), **right));
    let (Some((field, (given, right))), None) = (wrong.next(), wrong.next()) else { return None };
    // A number read off a scale comes from no sum.
    field.circle().filter(|_| {
        matches!(field.kind, FieldKind::Bearing(_) | FieldKind::Mils(_)) || field.tolerance.absolute <= 0.5
    })?;
    let off = field.difference(*given, *right).abs();
    // A number little short of the full circle comes from a sum below zero, and there the minus is lost before the tens are.
    if let (Some(given), Some(right), Some(circle)) = (number(*given), number(*right), field.circle())
        && right > circle * 5.0 / 6.0
        && (given + right - circle).abs() < 1e-9
    {
        return Some(Slip::MinusLost);
    }
    let is = |size: f64| (off - size).abs() < 1e-9;
    // Off by quarter circles: whatever happened there was with directions and not with digits.
    let circle = field.circle()?;
    if off > 1e-9 && (off * 4.0 / circle).fract().abs() < 1e-9 {
        return None;
    }
    let fits = [
        is(10.0).then_some(Slip::Ten),
        is(100.0).then_some(Slip::Hundred),
        digits_exchanged(number(*given)?, number(*right)?).then_some(Slip::DigitsExchanged),
    ];
    let mut found = fits.into_iter().flatten();
    match (found.next(), found.next()) {
        (Some(slip), None) => Some(slip),
        _ => None,
    }
}

fn digits_exchanged(given: f64, right: f64) -> bool {
    if given.fract() != 0.0
        || right.fract() != 0.0
        || !(0.0..1000.0).contains(&given)
        || !(0.0..1000.0).contains(&right)
    {
        return false;
    }
    let figures = |number: f64| {
        let number: u32 = whole(number);
        [number / 100, number / 10 % 10, number % 10]
    };
    let (given, [a, b, c]) = (figures(given), figures(right));
    given == [b, a, c] && a != b || given == [a, c, b] && b != c
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Code, Level, realise};
    use crate::skills;

    fn problems(name: &str, level: Level) -> impl Iterator<Item = Problem> {
        let skill = skills::find(name).expect("a skill");
        (0..200).filter_map(move |seed| realise(&Code { skill, level, seed, home: None }).ok())
    }

    /// Where a place lies, east and north, in m.
    fn place(answer: &Answer) -> (f64, f64) {
        let [Value::Point(at)] = answer.values() else { panic!("a place") };
        (at.east_m, at.north_m)
    }

    fn judged_at(problem: &Problem, (east, north): (f64, f64)) -> Option<Verdict> {
        judge(problem, &[&format!("{east:.0} {north:.0}")]).ok().map(|judged| judged.verdict)
    }

    fn apart((east, north): (f64, f64), (other_east, other_north): (f64, f64)) -> f64 {
        (east - other_east).hypot(north - other_north)
    }

    #[test]
    fn a_place_beside_one_wrong_way_is_told_as_that_and_never_as_one_farther_off() {
        let (mut told, mut all) = (0, 0);
        for problem in problems("resection", Level::TWO) {
            let tolerance_m = problem.question().fields()[0].tolerance.beside(problem.answer().values()[0]);
            for wrong in problem.mixups() {
                let at = place(&wrong.answer);
                // Too far for what is just where a wrong way leads, and still near it.
                let beside = (at.0 + 2.0 * tolerance_m, at.1);
                let Some(verdict) = judged_at(&problem, beside) else { continue };
                all += 1;
                if let Verdict::Mixup(meta) = verdict {
                    told += 1;
                    let off = |id| {
                        let own = problem.mixups().iter().filter(|mixup| (mixup.meta.id == meta.id) == id);
                        own.map(|mixup| apart(place(&mixup.answer), beside)).fold(f64::INFINITY, f64::min)
                    };
                    assert!(off(true) <= off(false) + 1.0, "{}: {}", problem.code(), meta.id.as_str());
                }
            }
        }
        assert!(told > all / 2 && all > 200, "{told} of {all}");
    }

    #[test]
    fn a_place_as_near_to_the_right_one_as_to_a_wrong_one_is_told_as_none() {
        let mut none = 0;
        for problem in problems("resection", Level::TWO) {
            let right = place(problem.answer());
            for wrong in problem.mixups() {
                let at = place(&wrong.answer);
                let half = (f64::midpoint(at.0, right.0), f64::midpoint(at.1, right.1));
                if let Some(Verdict::Mixup(meta)) = judged_at(&problem, half) {
                    assert_ne!(meta.id, wrong.meta.id, "{}", problem.code());
                } else {
                    none += 1;
                }
            }
        }
        assert!(none > 100, "{none}");
    }

    #[test]
    fn a_minus_lost_below_zero_is_a_slip_only_just_below_the_full_circle() {
        let (mut lost, mut above) = (0, 0);
        for problem in problems("true-magnetic", Level::TWO) {
            let [Value::Angle(right)] = problem.answer().values() else { continue };
            let right = right.degrees();
            if right.fract() != 0.0 {
                continue;
            }
            let mirrored = format!("{:03}", (360.0 - right) % 360.0);
            let Ok(judged) = judge(&problem, &[&mirrored]) else { continue };
            match judged.verdict {
                Verdict::Unrecognised(slip) if right > 300.0 => {
                    assert_eq!(slip, Some(Slip::MinusLost), "{}: {mirrored} for {right}", problem.code());
                    lost += 1;
                }
                Verdict::Unrecognised(slip) => {
                    assert_ne!(slip, Some(Slip::MinusLost), "{}: {mirrored} for {right}", problem.code());
                    above += 1;
                }
                _ => (),
            }
        }
        assert!(lost > 0 && above > 20, "{lost} {above}");
    }
}
