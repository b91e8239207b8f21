//! What is said of an answer of several parts that no mix-up explains as a whole: which part is wrong, and what happened there.

use crate::angle::{Bearing, Grid, three_figures};
use crate::ground::plane::{GridPosition, beside_path_m};
use crate::problem::{Answer, Field, FieldKind, Figure, Judgement, MixupMeta, Problem, Value, Verdict};

/// `Not right. Wrong is: second leg, what you set; the rest is right. There you did not apply the correction.` None where the answer
/// has but one part, or is no riddle.
pub(super) fn partly(problem: &Problem, judgement: &Judgement) -> Option<String> {
    let Verdict::Unrecognised(slip) = judgement.verdict else { return None };
    if let Some(said) = of_place(problem, &judgement.given) {
        return Some(said);
    }
    let parts = problem.question().parts(&judgement.given, problem.answer());
    let wrong: Vec<&Field> = parts.iter().filter(|(_, right)| !right).map(|(field, _)| *field).collect();
    if parts.len() < 2 || wrong.is_empty() {
        return None;
    }
    let rest = if wrong.len() == parts.len() { "" } else { "; the rest is right" };
    if let Some(off) = all_alike(problem, judgement, &wrong) {
        // What is read at the wrong end is turned half round, and no angle between norths is as large.
        return Some(if (off.abs() - 180.0).abs() < SAME_DEG {
            format!(
                "Not right: each bearing points the opposite way, 180° off{rest}. A bearing runs from where you are to where you go: each was taken at the wrong end of its line."
            )
        } else {
            let more = if off > 0.0 { "large" } else { "small" };
            let by = (off.abs() * 10.0).round() / 10.0;
            format!(
                "Not right: each bearing is {by}° too {more}{rest}. What turns all of them alike is the angle between the norths."
            )
        });
    }
    if rest.is_empty() {
        return None;
    }
    let names = wrong.iter().map(|field| name(field)).collect::<Vec<&str>>().join("; ");
    let there = match (cause(problem, &judgement.given), slip) {
        (Some(mixup), _) => format!(" There you {}.", mixup.said),
        (None, Some(slip)) => format!(" It looks like {}.", slip.words()),
        (None, None) => " The steps show the way.".to_owned(),
    };
    Some(format!("Not right. Wrong is: {names}; the rest is right.{there}"))
}

/// How far a line from a mark may run beside the right one and still be called as it should be.
const AS_IT_SHOULD_DEG: f64 = 1.5;

/// Of a place on a map: how the lines from the marks run to it, beside how they should, or else how far off it lies. `Not right. There
/// the line from Fern Tower runs on 188° G; it should run on 171° G.`
fn of_place(problem: &Problem, given: &Answer) -> Option<String> {
    let Figure::Map(map) = problem.figure() else { return None };
    let ([Value::Point(given)], [Value::Point(right)]) = (given.values(), problem.answer().values()) else {
        return None;
    };
    let (given, right) = (GridPosition::from(*given), GridPosition::from(*right));
    let figures = |bearing: Bearing<Grid>| three_figures(bearing.angle(), 0);
    // A sight that slipped, and is not used, does not lead to the place.
    let told = problem.explanation(None);
    let used = |mark: &GridPosition| {
        let Figure::Map(told) = &told else { return true };
        told.rays.is_empty() || told.rays.iter().any(|ray| ray.from.leg_to(*mark).distance_m < 1.0)
    };
    let off: Vec<String> = map
        .marks()
        .filter(|(_, mark)| used(mark))
        .filter_map(|(name, mark)| {
            let (runs, should) = (mark.leg_to(given).bearing, mark.leg_to(right).bearing);
            let beside = runs.turn_to(should).degrees().abs() > AS_IT_SHOULD_DEG;
            beside.then(|| {
                format!("the line from {name} runs on {}° G; it should run on {}° G", figures(runs), figures(should))
            })
        })
        .collect();
    let tens = |metres: f64| (metres / 10.0).round() * 10.0;
    let beside = map.lines.iter().map(|line| beside_path_m(given, &line.corners)).fold(f64::INFINITY, f64::min);
    let allowed = problem.question().fields().first().map_or(0.0, |field| field.tolerance.absolute);
    // Whoever stands on a path looks for the place on it first: beside it the line from a mark explains nothing.
    if beside.is_finite() && beside > allowed {
        let beside = tens(beside);
        return Some(format!(
            "Not right. You stand on the bold line, and your place lies about {beside} m beside it. Follow the line through the mark to where it meets the bold one."
        ));
    }
    Some(if off.is_empty() {
        let metres = tens(given.leg_to(right).distance_m);
        format!("Not right. The lines run as they should, but your place lies about {metres} m from the right one.")
    } else {
        format!("Not right. There {}.", off.join(", and "))
    })
}

fn name(field: &Field) -> &'static str {
    if field.kind == FieldKind::Minutes { "degrees and minutes" } else { field.label }
}

/// The one mix-up that explains each part that is wrong.
fn cause(problem: &Problem, given: &Answer) -> Option<&'static MixupMeta> {
    let question = problem.question();
    let right = question.parts(given, problem.answer());
    let mut left: Vec<&'static MixupMeta> = problem.mixups().iter().map(|mixup| mixup.meta).collect();
    for part in (0..right.len()).filter(|part| !right[*part].1) {
        left.retain(|meta| {
            let mut own = problem.mixups().iter().filter(|mixup| mixup.meta.id == meta.id);
            own.any(|mixup| question.parts(given, &mixup.answer).get(part).is_some_and(|(_, told)| *told))
        });
    }
    let first = *left.first()?;
    left.iter().all(|other| other.id == first.id).then_some(first)
}

/// What numbers are kept to, in degrees.
const SAME_DEG: f64 = 1e-6;

/// By how many degrees all bearings are off, where they are off alike and so are right but for something that turns them all.
fn all_alike(problem: &Problem, judgement: &Judgement, wrong: &[&Field]) -> Option<f64> {
    let is_bearing = |field: &Field| matches!(field.kind, FieldKind::Bearing(_));
    let fields = problem.question().fields();
    let offs: Vec<f64> = fields
        .iter()
        .zip(&judgement.off_by)
        .filter(|(field, _)| is_bearing(field))
        .filter_map(|(_, off)| *off)
        .collect();
    let off = *offs.first()?;
    let all_of_them = wrong.iter().all(|field| is_bearing(field)) && wrong.len() == offs.len() && offs.len() > 1;
    // The two ways half round are one.
    let same = |other: &f64| (other - off).rem_euclid(360.0).min((off - other).rem_euclid(360.0)) < SAME_DEG;
    (all_of_them && offs.iter().all(same)).then_some(off)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Level, judge, realise};
    use crate::skills::read_code;

    /// What is said of these answers to a course of three legs.
    fn said(texts: [&str; 3]) -> Option<String> {
        let problem = realise(&read_code(COURSE).unwrap()).unwrap();
        partly(&problem, &judge(&problem, &texts).unwrap())
    }

    const COURSE: &str = "K1-1-7-v2";

    #[test]
    fn one_leg_left_as_the_map_has_it_is_told_with_what_happened_there() {
        let wrong = "Not right. Wrong is: second leg, what you set; the rest is right.";
        let left = format!("{wrong} There you left the number as it was, without the correction.");
        assert_eq!(said(["146", "270", "036"]), Some(left));
        assert_eq!(
            said(["146", "266", "036"]),
            Some(format!("{wrong} It looks like a slip of exactly ten in the sum."))
        );
        assert_eq!(said(["146", "273", "036"]), Some(format!("{wrong} The steps show the way.")));
    }

    #[test]
    fn two_legs_with_one_cause_are_told_as_that() {
        let wrong = "Not right. Wrong is: first leg, what you set; second leg, what you set; the rest is right.";
        let ends = format!("{wrong} There you took the opposite end, 180° away.");
        assert_eq!(said(["326", "076", "036"]), Some(ends));
        assert_eq!(
            said(["326", "270", "036"]),
            Some(format!("{wrong} The steps show the way.")),
            "two causes are not one"
        );
    }

    #[test]
    fn what_turns_all_legs_alike_is_told_with_how_far() {
        let alike = "What turns all of them alike is the angle between the norths.";
        assert_eq!(said(["148", "258", "038"]), Some(format!("Not right: each bearing is 2° too large. {alike}")));
        let ends = "each bearing points the opposite way, 180° off. A bearing runs from where you are to where you go";
        assert!(said(["326", "076", "216"]).unwrap().contains(ends), "{:?}", said(["326", "076", "216"]));
        assert_eq!(said(["145", "255", "035"]), Some(format!("Not right: each bearing is 1° too small. {alike}")));
        assert_eq!(said(["148", "258", "039"]), None, "each has its own");
    }

    #[test]
    fn what_turns_all_bearings_alike_is_told_beside_a_right_length() {
        let problem = realise(&read_code("K1-3-7-v2").unwrap()).unwrap();
        let said = |texts: [&str; 4]| partly(&problem, &judge(&problem, &texts).unwrap());
        let alike = "each bearing is 2° too large; the rest is right. What turns all of them alike is";
        assert_eq!(
            said(["011", "151", "250", "830"]),
            Some(format!("Not right: {alike} the angle between the norths."))
        );
        let otherwise = said(["011", "151", "250", "1000"]).unwrap_or_default();
        assert!(!otherwise.contains("What turns all of them"), "{otherwise}");
    }

    #[test]
    fn of_a_place_it_is_told_how_the_lines_from_the_marks_run_to_it() {
        let skill = crate::skills::find("fix-on-line").unwrap();
        let (mut lines, mut places, mut beside) = (0, 0, 0);
        for (level, seed) in
            [Level::ONE, Level::FOUR].into_iter().flat_map(|level| (0..40).map(move |seed| (level, seed)))
        {
            let problem = realise(&crate::problem::Code { skill, level, seed, home: None }).unwrap();
            let [Value::Point(right)] = problem.answer().values() else { panic!("a place") };
            let Figure::Map(map) = problem.figure() else { panic!("a map") };
            // Beside the path, and in eight places of each of its pieces.
            let off = [(400.0, 0.0), (0.0, -300.0)].map(|(east, north)| (right.east_m + east, right.north_m + north));
            let pieces = map.lines.iter().flat_map(|line| line.corners.array_windows());
            let on = pieces.flat_map(|[from, to]| {
                (0..8).map(move |eighth| {
                    let share = f64::from(eighth) / 8.0;
                    let along = |from: f64, to: f64| from + share * (to - from);
                    (along(from.easting_m, to.easting_m), along(from.northing_m, to.northing_m))
                })
            });
            for (east, north) in off.into_iter().chain(on) {
                let Ok(judged) = judge(&problem, &[&format!("{east:.0} {north:.0}")]) else { continue };
                let Some(said) = partly(&problem, &judged) else { continue };
                lines += usize::from(
                    said.contains("Not right. There the line from ") && said.contains("° G; it should run on "),
                );
                places += usize::from(said.contains("The lines run as they should, but your place lies about "));
                beside += usize::from(said.contains("You stand on the bold line, and your place lies about "));
            }
        }
        assert!(lines > 500 && places > 0 && beside > 80, "{lines} {places} {beside}");
    }

    #[test]
    fn of_a_sight_that_slipped_and_is_not_used_nothing_is_told() {
        // F2-4-363916 told of two marks that their lines "should run on" 037 and 040, where the sums of their sights give 035 and 042.
        let skill = crate::skills::find("resection").unwrap();
        let mut unused = 0;
        for seed in 0..24 {
            let code = crate::problem::Code { skill, level: Level::FOUR, seed, home: None };
            let problem = realise(&code).unwrap();
            let [Value::Point(right)] = problem.answer().values() else { panic!("a place") };
            let text = format!("{} {}", right.east_m + 400.0, right.north_m - 300.0);
            let Ok(judged) = judge(&problem, &[&text]) else { continue };
            let (Some(said), Figure::Map(map), Figure::Map(told)) =
                (partly(&problem, &judged), problem.figure(), problem.explanation(None))
            else {
                continue;
            };
            let ends: Vec<GridPosition> = told.rays.iter().map(|ray| ray.from).collect();
            for (name, at) in map.marks() {
                let is_used = ends.iter().any(|end| end.leg_to(at).distance_m < 1.0);
                unused += usize::from(!is_used);
                assert!(is_used || !said.contains(&format!("from {name} ")), "{said}");
            }
        }
        assert!(unused > 10, "{unused}");
    }

    #[test]
    fn a_mix_up_that_explains_all_of_it_and_a_right_answer_are_told_by_others() {
        assert_eq!(said(["020", "120", "240"]), None);
        assert_eq!(said(["014", "114", "234"]), None);
    }
}
