//! Newcomers along their way: real practice on a real store, three evenings of twenty problems. On failure the order is printed.

use jiff::civil::{Date, date};
use jiff::{Timestamp, ToSpan};
use needlewise::clerk::{self, Now};
use needlewise::config::Config;
use needlewise::learner::Placement;
use needlewise::maptable::{Move, showing};
use needlewise::problem::{Draw, FieldKind, Level, Problem, Verdict};
use needlewise::session::{Asked, GroundCard, Plan, Practice, Support};
use needlewise::skills;
use needlewise::store::Store;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::LazyLock;

const EVENINGS: [i64; 3] = [0, 1, 4];
const AN_EVENING: usize = 20;
/// A skill comes again after its first right answer within so many problems.
const AGAIN_WITHIN: usize = 8;

/// What was asked, and whether it was right.
struct Met {
    evening: usize,
    skill: &'static str,
    level: Level,
    right: bool,
    at_table: bool,
    example: bool,
    code: String,
    reason: String,
    opening: Option<String>,
}

impl Met {
    fn has_needle(&self) -> bool {
        self.at_table || ["read-dial", "set-dial", "take-bearing", "follow-bearing", "back-sight"].contains(&self.skill)
    }

    fn has_declination(&self) -> bool {
        let skills =
            ["diagram", "true-magnetic", "grid-magnetic", "dated-map", "orient-magnetic-line", "orient-true-line"];
        skills.contains(&self.skill) || self.skill == "orient-grid"
    }
}

/// A newcomer and what they were asked.
struct Newcomer {
    right_of_100: u32,
    seed: u64,
    met: Vec<Met>,
}

impl fmt::Display for Newcomer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "newcomer of {} %, seed {}:", self.right_of_100, self.seed)?;
        for (number, met) in self.met.iter().enumerate() {
            let mark = if met.right { "right" } else { "WRONG" };
            if let Some(opening) = &met.opening {
                writeln!(f, "    [{opening}]")?;
            }
            let example = if met.example { " (example)" } else { "" };
            writeln!(f, "{:3} {mark} {} {}{example} {}: {}", number + 1, met.skill, met.level, met.code, met.reason)?;
        }
        Ok(())
    }
}

fn moment(day: Date) -> Timestamp {
    jiff::tz::TimeZone::UTC.to_timestamp(day.at(18, 0, 0, 0)).unwrap()
}

fn texts(problem: &Problem, answer: &needlewise::problem::Answer) -> Vec<String> {
    let fields = problem.question().fields().iter().zip(answer.values());
    fields.map(|(field, value)| field.typed(*value)).collect()
}

/// An answer of nobody's: another word, or a number a little off.
fn off(problem: &Problem) -> Vec<String> {
    let texts = texts(problem, problem.answer());
    let other = |(field, text): (&needlewise::problem::Field, &String)| match &field.kind {
        FieldKind::Choice(_) => None,
        _ => {
            let digits: String = text.chars().take_while(char::is_ascii_digit).collect();
            let rest = &text[digits.len()..];
            let number: u32 = digits.parse().ok()?;
            Some(format!("{}{rest}", if number < 300 { number + 7 } else { number - 7 }))
        }
    };
    let fields = problem.question().fields();
    let mut changed: Vec<String> = texts.clone();
    if let Some(at) = fields.iter().zip(&texts).position(|pair| other(pair).is_some()) {
        changed[at] = other((&fields[at], &texts[at])).unwrap();
    }
    changed
}

/// Answers as the benchmark's learners do: who does not know mostly gives the answer of the mix-up held in the skill, if the
/// item shows it, else another mix-up's or something else.
fn answer(
    practice: &Practice,
    right: bool,
    held: &mut BTreeMap<&'static str, Option<usize>>,
    dice: &mut Draw,
) -> Option<needlewise::session::Pending> {
    let asked = practice.asked().unwrap();
    let (problem, now) = (&asked.problem, practice.sitting().began);
    if let Some(table) = &asked.table {
        let steps = showing(&table.exercise, &table.exercise.start);
        let moves: Vec<Move> = steps.into_iter().flat_map(|step| step.moves).collect();
        // Done at once, with nothing laid anywhere.
        return practice.answer_with_moves(if right { &moves } else { &[Move::Done] }, now);
    }
    let meta = problem.skill();
    let count = u32::try_from(meta.mixups.len()).unwrap();
    let own = *held.entry(meta.id).or_insert_with(|| dice.chance(1, 2).then(|| dice.below(count) as usize));
    let own = own.and_then(|own| problem.mixups().iter().find(|mixup| mixup.meta.id == meta.mixups[own].id));
    let any = || problem.mixups().first();
    let texts = match (right, own) {
        (true, _) => texts(problem, problem.answer()),
        (false, Some(own)) if dice.chance(4, 5) => texts(problem, &own.answer),
        (false, _) => match any().filter(|_| dice.chance(1, 2)) {
            Some(mixup) => texts(problem, &mixup.answer),
            None => off(problem),
        },
    };
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    practice.answer(&texts, now).unwrap()
}

impl Newcomer {
    fn plays(right_of_100: u32, seed: u64, placement: Placement) -> Newcomer {
        let folder = tempfile::tempdir().unwrap();
        let metas: Vec<_> = skills::metas().collect();
        let mut store = Store::open(&folder.path().join("records.sqlite"), &metas).unwrap();
        let first = date(2026, 6, 6);
        let id = store.add_learner("Ilva", placement, moment(first)).unwrap().id;
        let mut dice = Draw::new("newcomer", 0, 0, seed);
        let mut held = BTreeMap::new();
        let mut met = Vec::new();
        for (evening, after) in EVENINGS.into_iter().enumerate() {
            let day = first + after.days();
            let now = Now { days: needlewise::session::Days::Clock(jiff::tz::TimeZone::UTC), at: moment(day) };
            let opened = clerk::open_practice(&mut store, id, now, None, seed + 17 * evening as u64).unwrap();
            let plan = Plan::free(GroundCard::new(&Config::default(), "", day).home)
                .with_end(u32::try_from(AN_EVENING).ok(), None);
            let mut practice = Practice::new(plan, opened.sitting, opened.beliefs).after(opened.last_time);
            while let Some(asked) = practice.next(moment(day)) {
                let Asked { problem, reason, opening, table, support, .. } = asked.clone();
                let right = dice.chance(right_of_100, 100);
                let pending = answer(&practice, right, &mut held, &mut dice).unwrap();
                let stored = clerk::record(&mut store, &pending).unwrap();
                let told = practice.confirm(pending, stored).unwrap();
                met.push(Met {
                    evening,
                    skill: problem.skill().id,
                    level: problem.code().level,
                    right: told.verdict == Verdict::Right,
                    at_table: table.is_some(),
                    example: matches!(support, Support::Example(_)),
                    code: problem.code().to_string(),
                    reason,
                    opening,
                });
            }
        }
        Newcomer { right_of_100, seed, met }
    }

    /// For each problem, whether its skill is new.
    fn begins(&self) -> Vec<bool> {
        let first = |at: usize| self.met[..at].iter().all(|met| met.skill != self.met[at].skill);
        (0..self.met.len()).map(first).collect()
    }
}

/// Practises these skills on a day, each answer by `mixup` (none is right); gives what was told.
fn practises(
    store: &mut Store,
    id: needlewise::store::LearnerId,
    day: Date,
    plan: impl FnOnce(Plan) -> Plan,
    mixup: impl Fn(&Problem) -> Option<&'static str>,
) -> Vec<(Asked, String)> {
    let now = Now { days: needlewise::session::Days::Clock(jiff::tz::TimeZone::UTC), at: moment(day) };
    let opened = clerk::open_practice(store, id, now, None, 3).unwrap();
    let plan = plan(Plan::free(GroundCard::new(&Config::default(), "", day).home));
    let mut practice = Practice::new(plan, opened.sitting, opened.beliefs).after(opened.last_time);
    let mut all = Vec::new();
    while let Some(asked) = practice.next(moment(day)).cloned() {
        let wrong = mixup(&asked.problem)
            .and_then(|id| asked.problem.mixups().iter().find(|mixup| mixup.meta.id.as_str() == id));
        let given = texts(&asked.problem, wrong.map_or(asked.problem.answer(), |mixup| &mixup.answer));
        let given: Vec<&str> = given.iter().map(String::as_str).collect();
        let pending = practice.answer(&given, moment(day)).unwrap().unwrap();
        let stored = clerk::record(store, &pending).unwrap();
        let note = practice.confirm(pending, stored).unwrap().note.clone().unwrap_or_default();
        all.push((asked, note));
    }
    all
}

#[test]
fn the_second_evening_says_how_it_went_begins_with_an_easy_one_and_keeps_its_promise() {
    let folder = tempfile::tempdir().unwrap();
    let metas: Vec<_> = skills::metas().collect();
    let mut store = Store::open(&folder.path().join("records.sqlite"), &metas).unwrap();
    let (first, later) = (date(2026, 6, 6), date(2026, 6, 9));
    let id = store.add_learner("Ilva", Placement::Fresh, moment(first)).unwrap().id;
    let two = |plan: Plan| plan.with_skills(&["back-bearing", "true-magnetic"], None).with_end(Some(12), None);
    let flips = |problem: &Problem| (problem.skill().id == "true-magnetic").then_some("sign-flipped");
    let evening = practises(&mut store, id, first, two, flips);
    assert!(evening.iter().all(|(asked, _)| asked.opening.is_none()), "there was no last time");
    let promised = "This is a weak spot now. The next evening comes to it";
    assert!(
        evening.iter().any(|(_, note)| note.starts_with(promised)),
        "{:?}",
        evening.iter().map(|(_, note)| note).collect::<Vec<_>>()
    );
    let right = store.last_practice(id).unwrap().unwrap().right;
    assert!((1..12).contains(&right));

    let evening = practises(&mut store, id, later, |plan| plan.with_end(Some(2), None), |_| None);
    let skills: Vec<&str> = evening.iter().map(|(asked, _)| asked.problem.skill().id).collect();
    assert_eq!(skills, ["back-bearing", "true-magnetic"]);
    assert_eq!(
        evening[0].0.opening.as_deref().unwrap(),
        format!(
            "Last time: {right} of 12 right, 3 days ago. Today: an easy one, then your weak spot in \"True and magnetic\", \
             then something new, \"Read the dial\"."
        )
    );
    assert!(evening[0].0.reason.starts_with("an easy one first"), "{}", evening[0].0.reason);
    assert!(
        evening[1].0.opening.is_none() && evening[1].0.reason.starts_with("your weak spot"),
        "{}",
        evening[1].0.reason
    );
    assert!(
        practises(&mut store, id, later, |plan| plan.with_end(Some(1), None), |_| None)[0].0.opening.is_none(),
        "told once a day"
    );
}

#[test]
fn who_has_done_this_before_is_told_what_eight_problems_found() {
    for (right_of_100, sentence) in [
        (100, "You know the way as far as grid lines; we go on with what is left."),
        (0, "We begin at the beginning, with the dial and the needle."),
    ] {
        let newcomer = Newcomer::plays(right_of_100, 5, Placement::DoneBefore);
        let placing = newcomer.met.iter().take_while(|met| met.reason == "to see what you know already").count();
        assert!((4..=8).contains(&placing), "{newcomer}");
        assert_eq!((newcomer.met[0].skill, newcomer.met[0].level), ("true-magnetic", Level::TWO));
        assert!(newcomer.met[..placing].iter().all(|met| !met.example), "{newcomer}");
        assert_eq!(newcomer.met[placing].opening.as_deref(), Some(sentence), "{newcomer}");
    }
}

static NEWCOMERS: LazyLock<Vec<Newcomer>> = LazyLock::new(|| {
    let shares = [90, 70, 50];
    shares.iter().flat_map(|share| (1..=4).map(|seed| Newcomer::plays(*share, seed, Placement::Fresh))).collect()
});

#[test]
fn no_more_than_one_of_four_problems_is_of_a_new_skill() {
    for newcomer in &*NEWCOMERS {
        let new = newcomer.begins();
        assert!(new.windows(4).all(|four| four.iter().filter(|new| **new).count() <= 1), "{newcomer}");
    }
}

#[test]
fn no_skill_is_left_after_one_right_answer() {
    for newcomer in &*NEWCOMERS {
        for (at, _) in newcomer.met.iter().enumerate().filter(|(at, met)| {
            met.right && newcomer.met[..*at].iter().all(|before| before.skill != met.skill || !before.right)
        }) {
            let skill = newcomer.met[at].skill;
            let rest = &newcomer.met[at + 1..];
            let again = rest.iter().position(|later| later.skill == skill).unwrap_or(usize::MAX);
            assert!(again < AGAIN_WITHIN || rest.len() < AGAIN_WITHIN, "{skill} at {}: {newcomer}", at + 1);
        }
    }
}

#[test]
fn declination_is_met_at_least_eight_times_in_sixty_problems() {
    for newcomer in &*NEWCOMERS {
        let times = newcomer.met.iter().filter(|met| met.has_declination()).count();
        assert!(times >= 8, "{times} times: {newcomer}");
    }
}

#[test]
fn on_the_first_evening_a_needle_is_in_the_hand_in_a_third_of_the_problems() {
    for newcomer in &*NEWCOMERS {
        let times = newcomer.met[..AN_EVENING].iter().filter(|met| met.has_needle()).count();
        assert!(3 * times >= AN_EVENING, "{times} of {AN_EVENING}: {newcomer}");
    }
}

#[test]
fn after_two_wrong_answers_in_a_row_the_skill_comes_easier_and_with_its_idea() {
    for newcomer in &*NEWCOMERS {
        let mut lost: BTreeMap<&str, (usize, Level)> = BTreeMap::new();
        for (at, met) in newcomer.met.iter().enumerate() {
            if at > 0 && newcomer.met[at - 1].evening != met.evening {
                lost.clear();
            }
            if let Some((times, level)) = lost.get(met.skill).filter(|(times, _)| *times >= 2) {
                let easier = met.level <= level.easier() && met.reason.starts_with("two did not come right");
                assert!(easier && met.example, "{times} wrong before {}: {newcomer}", at + 1);
            }
            match met.right {
                true => lost.remove(met.skill),
                false => lost.insert(met.skill, (lost.get(met.skill).map_or(1, |lost| lost.0 + 1), met.level)),
            };
        }
    }
}
