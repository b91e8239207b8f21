//! `needlewise check --plan`: the bounds of a readiness plan and what they do, exactly.

use super::args::{CheckArgs, Format};
use super::context::{Context, PLANNING};
use super::fault::Fault;
use super::patience::with_word;
use crate::drill::Standard;
use crate::learner::readiness::{PlanError, ReadinessPlan, Rules, Wish};
use crate::session::{first_day_words, sentence};
use serde::Serialize;
use std::io::{self, BufWriter, Write};

/// A plan as JSON: error rates and expected problems over all tries, the bounds for 1, 2, … asked in one of them.
#[derive(Serialize)]
struct PlanJson<'a> {
    p0: f64,
    p1: f64,
    alpha: f64,
    beta: f64,
    tries: u8,
    cap: u8,
    ready_at: &'a [Option<u8>],
    stop_at: &'a [Option<u8>],
    expected_items_p0: f64,
    expected_items_p1: f64,
    /// Of those with p1: found ready in one skill in the first try.
    ready_first_day_p1: f64,
    /// The skills of the standard, and of those with p1 all of them on the first day; null without a standard.
    skills: Option<usize>,
    ready_first_day_all_p1: Option<f64>,
}

/// Runs the command.
pub(super) fn run(context: &Context, args: CheckArgs) -> Result<(), Fault> {
    if let (Some(learner), false) = (&args.learner, args.plan) {
        let standard = context.standard(args.standard.as_deref())?;
        return super::practice::check(context, learner, standard, args.plain);
    }
    let (plan, of_standard) = plan(context, &args)?;
    let skills = of_standard.as_ref().map(|(_, skills)| *skills);
    let mut out = BufWriter::new(io::stdout().lock());
    match args.format {
        Format::Json => super::json_line(&mut out, &json(&plan, skills))?,
        Format::Text => {
            let critical = of_standard.as_ref().and_then(|(rules, _)| critical_line(rules));
            for line in lines(&plan, skills).into_iter().chain(critical) {
                writeln!(out, "{line}")?;
            }
        }
    }
    Ok(out.flush()?)
}

/// The plan of a standard, or one for the figures given; what is not given is .60 against .90, .05 each, one try of 20.
fn plan(context: &Context, args: &CheckArgs) -> Result<(ReadinessPlan, Option<(Rules, usize)>), Fault> {
    let CheckArgs { p0, p1, alpha, beta, cap, tries, .. } = *args;
    if p0.or(p1).or(alpha).or(beta).is_none() && cap.or(tries).is_none() {
        let Standard { rules, skills, .. } = context.standard(args.standard.as_deref())?;
        return Ok((rules.plan.clone(), Some((rules, skills.len()))));
    }
    let usual = Wish::default();
    let wish = Wish {
        p0: p0.unwrap_or(usual.p0),
        p1: p1.unwrap_or(usual.p1),
        alpha: alpha.unwrap_or(usual.alpha),
        beta: beta.unwrap_or(usual.beta),
        cap: cap.unwrap_or(usual.cap),
        tries: tries.unwrap_or(usual.tries),
    };
    match with_word(PLANNING, || ReadinessPlan::for_wish(&wish)) {
        Ok(plan) => Ok((plan, None)),
        Err(why @ (PlanError::TooFew { .. } | PlanError::NotFound { .. })) => {
            let near = with_word(PLANNING, || near_words(&wish));
            Err(Fault::Input(format!("{why}{}", near.unwrap_or_default())))
        }
        Err(why) => Err(Fault::input(why)),
    }
}

/// Which other numbers would do with as many problems, as they are typed.
fn near_words(wish: &Wish) -> Option<String> {
    let changed = |other: Wish| {
        let mut words = Vec::new();
        if other.tries != wish.tries {
            words.push(format!("--tries {}", other.tries));
        }
        for (name, now, then) in [
            ("alpha", wish.alpha, other.alpha),
            ("beta", wish.beta, other.beta),
            ("p1", wish.p1, other.p1),
            ("p0", wish.p0, other.p0),
        ] {
            if now.total_cmp(&then).is_ne() {
                words.push(format!("--{name} {then}"));
            }
        }
        words.join(" ")
    };
    let near: Vec<String> = wish.near().into_iter().map(changed).collect();
    let problems = if wish.cap == 1 { "1 problem".to_owned() } else { format!("{} problems", wish.cap) };
    (!near.is_empty()).then(|| format!(". With {problems} at most, one of these would do: {}", near.join("; ")))
}

fn json(plan: &ReadinessPlan, skills: Option<usize>) -> PlanJson<'_> {
    PlanJson {
        p0: plan.p0(),
        p1: plan.p1(),
        alpha: plan.alpha(),
        beta: plan.beta(),
        tries: plan.tries(),
        cap: plan.bounds().cap(),
        ready_at: plan.bounds().ready_at(),
        stop_at: plan.bounds().stop_at(),
        expected_items_p0: plan.expected_items(plan.p0()),
        expected_items_p1: plan.expected_items(plan.p1()),
        ready_first_day_p1: plan.first_day(1).0,
        skills,
        ready_first_day_all_p1: skills.map(|skills| plan.first_day(skills).1),
    }
}

fn lines(plan: &ReadinessPlan, skills: Option<usize>) -> Vec<String> {
    let bounds = plan.bounds();
    let percent = |share: f64| format!("{:.2} in 100", share * 100.0);
    let tries = match plan.tries() {
        1 => "One try".to_owned(),
        tries => format!("Up to {tries} tries, each on another day"),
    };
    let mut lines = vec![format!("{tries}, {} problems at most in each.", bounds.cap()), String::new()];
    lines.push("asked   ready at   stop at".to_owned());
    for (asked, (ready, stop)) in (1..=bounds.cap()).zip(bounds.ready_at().iter().zip(bounds.stop_at())) {
        let or_more = ready.map_or("–".to_owned(), |right| right.to_string());
        let or_fewer = stop.map_or("–".to_owned(), |right| right.to_string());
        lines.push(format!("{asked:>5}   {or_more:>8}   {or_fewer:>7}"));
    }
    lines.extend([
        String::new(),
        "Ready at so many right or more; the try stops at so many right or fewer.".to_owned(),
        format!(
            "Who answers {:.0} in 100 right is found ready in {} cases, after {:.1} problems on average.",
            plan.p0() * 100.0,
            percent(plan.alpha()),
            plan.expected_items(plan.p0())
        ),
        format!(
            "Who answers {:.0} in 100 right is not found ready in {} cases, after {:.1} problems on average.",
            plan.p1() * 100.0,
            percent(plan.beta()),
            plan.expected_items(plan.p1())
        ),
        sentence(&first_day_words(plan, skills.unwrap_or(1))),
    ]);
    lines
}

/// What the rule about critical mix-ups adds, from simulation.
fn critical_line(rules: &Rules) -> Option<String> {
    if rules.critical.is_empty() {
        return None;
    }
    let missed = rules.missed_with_critical(rules.plan.p1(), CRITICAL_SHARE);
    let in_100 = |share: f64| share * 100.0;
    Some(format!(
        "Critical mix-ups ({}): the same one twice ends a try. Where it is a third of the wrong answers, {:.1} in 100 of those who are ready are missed (95 % between {:.1} and {:.1}, from {} simulated checks).",
        rules.critical.join(", "),
        in_100(f64::from(missed.missed) / f64::from(missed.of)),
        in_100(missed.interval.0),
        in_100(missed.interval.1),
        missed.of
    ))
}

/// The share of the wrong answers that one critical mix-up is taken to have.
const CRITICAL_SHARE: f64 = 1.0 / 3.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_default_plan_is_told_in_words() {
        let lines = lines(&ReadinessPlan::two_tries(), Some(5));
        assert_eq!(lines[0], "Up to 2 tries, each on another day, 19 problems at most in each.");
        assert!(lines.contains(&"    9          9         6".to_owned()), "{lines:?}");
        assert!(
            lines.contains(
                &"Who answers 60 in 100 right is found ready in 4.99 in 100 cases, after 10.8 problems on average."
                    .to_owned()
            )
        );
        let evening = "On the first day, 78 in 100 of those who can do it (90 in 100 right) pass a skill, and 29 in 100 all 5: a second try is nothing unusual.";
        assert_eq!(lines.last().unwrap(), evening);
    }

    #[test]
    fn json_has_bounds_for_each_number_asked() {
        let plan = ReadinessPlan::two_tries();
        let value = serde_json::to_value(json(&plan, Some(5))).unwrap();
        assert_eq!(value["cap"], 19);
        assert_eq!(value["ready_at"].as_array().unwrap().len(), 19);
        assert_eq!((&value["ready_at"][8], &value["ready_at"][0]), (&9.into(), &serde_json::Value::Null));
        assert_eq!(value["stop_at"][2], 1);
        assert!((value["ready_first_day_p1"].as_f64().unwrap() - 0.77836).abs() < 1e-5);
        assert!((value["ready_first_day_all_p1"].as_f64().unwrap() - 0.28570).abs() < 1e-5);
        let bare = serde_json::to_value(json(&plan, None)).unwrap();
        assert_eq!(
            (&bare["skills"], &bare["ready_first_day_all_p1"]),
            (&serde_json::Value::Null, &serde_json::Value::Null)
        );
    }
}
