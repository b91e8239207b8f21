//! No right answer without the skill: simple strategies that need no understanding are played through every skill and level, and
//! none of them may be right too often.
//!
//! A strategy does the same in every problem of one kind (a person sees whether a number or a choice is asked, and what is
//! given): it copies a number of the text or the figure, adds or subtracts two of them, brings the sum back onto the dial or not,
//! takes it from the circle, writes the letter that stands in the text, always the same number, always the same choice, the
//! longest one, the one in the text. A dial to turn is only turned, and work at the map table goes through the commands of the table.
//!
//! At levels 3 and 4, and at any level that a standard asks, none may be right in more than 60 % of the problems of a kind, and
//! none that chooses one of several in more than chance and ten points; at the other levels in 80 %. A rule that *is* the procedure is
//! listed with its reason in `listed.rs`.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

#[path = "blind/hands.rs"]
mod hands;
#[path = "blind/listed.rs"]
mod listed;
#[path = "blind/typed.rs"]
mod typed;

use needlewise::drill::Standard;
use needlewise::problem::{Code, Level, Problem, Question, Skill, realise};
use needlewise::skills::SKILLS;
use std::collections::{BTreeMap, BTreeSet};

/// Problems per skill and level.
const PROBLEMS: usize = 2_000;
/// A kind of question that comes up more seldom than this among them shows nothing.
const SEEN: usize = 60;

/// How often a strategy was right, and how often a blind guess would be.
struct Played {
    strategy: String,
    right: usize,
    /// Of how many problems.
    of: usize,
    /// The chance of a guess: that of one among the choices; nothing where a number is asked.
    chance: f64,
}

impl Played {
    fn share(&self) -> f64 {
        self.right as f64 / self.of as f64
    }

    /// The most that it may be right.
    fn most(&self, strict: bool) -> f64 {
        match (strict, self.chance) {
            (false, _) => 0.8,
            (true, chance) if chance > 0.0 => (chance + 0.1).min(0.6),
            (true, _) => 0.6,
        }
    }
}

fn problems(skill: &'static dyn Skill, level: Level) -> Vec<Problem> {
    drawn(skill, level, 0).take(PROBLEMS).collect()
}

/// From this seed on.
fn drawn(skill: &'static dyn Skill, level: Level, first: u64) -> impl Iterator<Item = Problem> {
    (first..).map(move |seed| realise(&Code { skill, level, seed, home: None }).expect("a problem"))
}

/// The levels that some standard of the program asks of a skill.
fn asked_by_a_standard(id: &str) -> Vec<Level> {
    let all = Standard::embedded().iter().flat_map(|standard| &standard.skills);
    all.filter(|one| one.skill.id == id).map(|one| one.level).collect()
}

/// What kind of problem this is to somebody who reads it: how it is answered, what is asked and what is given.
fn kind(problem: &Problem) -> String {
    let question = problem.question();
    let fields: Vec<&str> = question.fields().iter().map(|field| field.name).collect();
    let facts: Vec<&str> = problem.facts().iter().map(|fact| fact.name.id()).collect();
    let wanted = problem.facts().wanted().map_or("", |wanted| wanted.id());
    let wanted = wanted.to_owned();
    format!("{} {} {wanted} from {}", question.kind(), fields.join("+"), facts.join("+"))
}

/// Problems of one skill and level by their kind.
fn by_kind(problems: &[Problem]) -> BTreeMap<String, Vec<&Problem>> {
    let mut kinds: BTreeMap<String, Vec<&Problem>> = BTreeMap::new();
    for problem in problems {
        kinds.entry(kind(problem)).or_default().push(problem);
    }
    kinds
}

/// Drawing takes longest, so what is drawn is seen by both sentences.
fn both_sentences_hold(id: &str) {
    let skill = SKILLS.iter().copied().find(|skill| skill.meta().id == id).expect("a skill");
    let mut failed = Vec::new();
    for level in Level::ALL {
        let problems = problems(skill, level);
        no_blind_rule_will_do(id, level, &problems, &mut failed);
        many_problems_differ(skill, level, &problems, &mut failed);
    }
    assert!(failed.is_empty(), "{id}:\n{}", failed.join("\n"));
}

fn no_blind_rule_will_do(id: &str, level: Level, problems: &[Problem], failed: &mut Vec<String>) {
    let strict = level >= Level::THREE || asked_by_a_standard(id).contains(&level);
    for (kind, problems) in by_kind(problems).into_iter().filter(|(_, problems)| problems.len() >= SEEN) {
        let by_hand = matches!(problems[0].question(), Question::Table(_));
        let played = if by_hand { hands::play(&problems) } else { typed::play(&problems) };
        for one in played {
            // Chance itself varies: two points are three times its spread among 2,000, and what comes up seldomer varies more.
            let spread = 1.5 * (0.25 / one.of as f64).sqrt();
            let listed = listed::PROCEDURES.iter().any(|it| it.is(id, level, &one.strategy));
            if !listed && one.share() > one.most(strict) + spread {
                let share = 100.0 * one.share();
                failed.push(format!("level {level}: {} is right in {share:.0} % of {} ({kind})", one.strategy, one.of));
            }
        }
    }
}

fn many_problems_differ(skill: &'static dyn Skill, level: Level, problems: &[Problem], failed: &mut Vec<String>) {
    let id = skill.meta().id;
    let least = listed::ONE_NUMBER.iter().find(|(skill, at, ..)| *skill == id && level.number() == *at);
    let least = least.map_or(500, |(_, _, least, _)| *least);
    for by_hand in [false, true] {
        // Where half is work at the table, each half counts by itself. A kind that does not come is not waited for.
        let kind = |problem: &Problem| matches!(problem.question(), Question::Table(_)) == by_hand;
        let told = |problem: &Problem| problem.facts().json();
        let mut facts: Vec<String> = problems.iter().filter(|problem| kind(problem)).map(told).collect();
        if (1..PROBLEMS).contains(&facts.len()) {
            let more = drawn(skill, level, PROBLEMS as u64).take(2 * PROBLEMS).filter(kind);
            facts.extend(more.take(PROBLEMS - facts.len()).map(|problem| told(&problem)));
        }
        let different: BTreeSet<&String> = facts.iter().collect();
        if !facts.is_empty() && different.len() < if by_hand { 500 } else { least } {
            let hands = if by_hand { " by hand" } else { "" };
            failed.push(format!("level {level}{hands}: {} different problems, {least} wanted", different.len()));
        }
    }
}

/// The same sentences for every skill, a test for each skill so that they run beside each other.
macro_rules! for_skills {
    ($($module:ident: $id:literal;)*) => {
        const TRIED: &[&str] = &[$($id),*];

        $(mod $module {
            #[test]
            fn no_blind_rule_is_right_in_most_problems_and_hardly_any_comes_twice_in_an_evening() {
                super::both_sentences_hold($id);
            }
        })*
    };
}

for_skills! {
    compass_points: "compass-points";
    turns: "turns";
    read_dial: "read-dial";
    set_dial: "set-dial";
    back_bearing: "back-bearing";
    grid_reference: "grid-reference";
    scale_distance: "scale-distance";
    protractor_bearing: "protractor-bearing";
    baseplate_bearing: "baseplate-bearing";
    diagram: "diagram";
    true_magnetic: "true-magnetic";
    grid_magnetic: "grid-magnetic";
    dated_map: "dated-map";
    relief: "relief";
    orient_landmarks: "orient-landmarks";
    orient_magnetic_line: "orient-magnetic-line";
    orient_true_line: "orient-true-line";
    orient_grid: "orient-grid";
    oriented_bearing: "oriented-bearing";
    take_bearing: "take-bearing";
    follow_bearing: "follow-bearing";
    walk_bearing: "walk-bearing";
    back_sight: "back-sight";
    pacing: "pacing";
    timing: "timing";
    compass_faults: "compass-faults";
    fix_on_line: "fix-on-line";
    resection: "resection";
    one_in_sixty: "one-in-sixty";
    aim_off: "aim-off";
    route_features: "route-features";
    box_detour: "box-detour";
    course_leg: "course-leg";
    thirty_two_points: "thirty-two-points";
}

#[test]
fn every_skill_of_the_registry_is_tried() {
    let ids: Vec<&str> = SKILLS.iter().map(|skill| skill.meta().id).collect();
    assert_eq!(ids, TRIED);
}

#[test]
fn every_rule_that_is_listed_names_a_skill_and_says_why() {
    for listed in listed::PROCEDURES {
        assert!(TRIED.contains(&listed.skill) && listed.why.len() > 20, "{}: {}", listed.skill, listed.why);
    }
    for (skill, _, least, why) in listed::ONE_NUMBER {
        assert!(TRIED.contains(skill) && (60..500).contains(least) && why.len() > 20, "{skill}: {why}");
    }
}

#[test]
fn the_strategies_find_a_rule_that_always_works() {
    // Typing what the text says into a dial that is to be turned: right, if typing were taken there.
    let set = SKILLS.iter().copied().find(|skill| skill.meta().id == "set-dial").expect("a skill");
    let problems = problems(set, Level::ONE);
    let all: Vec<&Problem> = problems.iter().collect();
    let best = typed::typing(&all).into_iter().map(|played| played.right).max();
    assert_eq!(best, Some(all.len()));
    // The whole procedure of the hands at the table.
    let follow = SKILLS.iter().copied().find(|skill| skill.meta().id == "follow-bearing").expect("a skill");
    let problems = self::problems(follow, Level::ONE);
    let best = hands::play(&problems.iter().collect::<Vec<_>>()).into_iter().map(|played| played.right).max();
    assert_eq!(best, Some(problems.len()));
}
