//! G2, what on the ground leads, tells and stops: handrail, collecting feature, catching feature, attack point (common practice, no
//! source).

mod feature;
mod meta;
mod routes;

use super::amounts::{GOALS, STARTS};
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Field, FieldKind, Figure, Generator, HomeAngles, Level, MixupList, Question,
    SkillMeta, Step, Tolerance, Value, Wanted, capital,
};
use feature::{Feature, Lies, Role};
use meta::META;
use routes::{Route, WAYS};

/// The skill `route-features`.
pub(super) struct RouteFeatures;

/// One problem.
pub(super) struct RouteFeaturesItem {
    /// From the start to the goal, in whole metres.
    leg: i32,
    /// Where the plan lets the way lead, in degrees clockwise from up.
    turned: i32,
    task: Task,
    start: &'static str,
    goal: &'static str,
}

/// What is asked.
enum Task {
    /// What one feature is good for.
    What(Feature),
    /// Which of several is good for this; from the plan alone, or told.
    Which { asked: Role, features: [Feature; 5], told: bool },
    /// The safest of three ways.
    Safest([Route; 3]),
}

static WHAT: [Field; 1] = [Field {
    name: "role",
    label: "what it is on this way",
    kind: FieldKind::Choice(Choices::Fixed(&Role::WORDS)),
    tolerance: Tolerance::EXACT,
}];
static SAFEST: [Field; 1] = [Field {
    name: "way",
    label: "which way you take",
    kind: FieldKind::Choice(Choices::Fixed(&WAYS)),
    tolerance: Tolerance::EXACT,
}];

/// The names of the facts of each feature: what it is, how it runs, where it meets the way, how far it lies aside.
const FEATURE_FACTS: [[&str; 4]; 5] = [
    ["first_feature", "first_runs", "first_from_start_m", "first_aside_m"],
    ["second_feature", "second_runs", "second_from_start_m", "second_aside_m"],
    ["third_feature", "third_runs", "third_from_start_m", "third_aside_m"],
    ["fourth_feature", "fourth_runs", "fourth_from_start_m", "fourth_aside_m"],
    ["fifth_feature", "fifth_runs", "fifth_from_start_m", "fifth_aside_m"],
];

/// Those of each way: what it follows, how long it is, how long its last piece without anything to follow is.
const WAY_FACTS: [[&str; 3]; 3] = [
    ["first_way_follows", "first_way_m", "first_way_last_piece_m"],
    ["second_way_follows", "second_way_m", "second_way_last_piece_m"],
    ["third_way_follows", "third_way_m", "third_way_last_piece_m"],
];

impl Generator for RouteFeatures {
    type Item = RouteFeaturesItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> RouteFeaturesItem {
        let leg = draw.between(12, 24) * 50;
        let task = match level.number() {
            1 => {
                let role = Role::ALL[draw.between(0, 3).unsigned_abs() as usize];
                let name =
                    if role == Role::AttackPoint { draw.pick(&feature::SPOTS) } else { draw.pick(&feature::LINES) };
                Task::What(Feature { name, lies: Lies::of(Some(role), leg, draw) })
            }
            2 | 3 => {
                let asked = Role::ALL[draw.between(0, 3).unsigned_abs() as usize];
                let (mut lines, mut spots) = (feature::LINES, feature::SPOTS);
                draw.shuffle(&mut lines);
                draw.shuffle(&mut spots);
                let names = [lines[0], lines[1], lines[2], spots[0], spots[1]];
                let roles =
                    [Some(Role::Handrail), Some(Role::Collecting), Some(Role::Catching), Some(Role::AttackPoint), None];
                let mut at = 0;
                let mut features = names.map(|name| {
                    let lies = Lies::of(roles[at], leg, draw);
                    at += 1;
                    Feature { name, lies }
                });
                draw.shuffle(&mut features);
                Task::Which { asked, features, told: level == Level::TWO }
            }
            _ => Task::Safest(routes::three(leg, draw)),
        };
        let turned = draw.between(0, 11) * 30 + 15;
        RouteFeaturesItem { leg, turned, task, start: draw.pick(&STARTS), goal: draw.pick(&GOALS) }
    }

    fn question(&self, item: &RouteFeaturesItem) -> Question {
        match &item.task {
            Task::What(_) => Question::choose(&WHAT),
            Task::Safest(_) => Question::choose(&SAFEST),
            Task::Which { features, .. } => {
                let names: Vec<String> = features.iter().map(|feature| feature.the()).collect();
                Question::choose(vec![Field {
                    name: "feature",
                    label: "which of them",
                    kind: FieldKind::Choice(Choices::Own(names.into())),
                    tolerance: Tolerance::EXACT,
                }])
            }
        }
    }

    fn answer(&self, item: &RouteFeaturesItem) -> Answer {
        Answer::choice(item.right())
    }

    fn mixups(&self, item: &RouteFeaturesItem, list: &mut MixupList) {
        let right = item.right();
        match &item.task {
            Task::What(feature) => {
                for (at, role) in Role::ALL.into_iter().enumerate().filter(|(at, _)| *at != right) {
                    let meta = Role::confused(Role::ALL[right], Some(role));
                    list.push(meta, Answer::choice(at), || {
                        format!("{} {}; this one {}", capital(role.one()), role.does(), feature.does(item.leg))
                    });
                }
            }
            Task::Which { asked, features, .. } => {
                for (at, feature) in features.iter().enumerate().filter(|(at, _)| *at != right) {
                    let meta = Role::confused(*asked, feature.role(item.leg));
                    list.push(meta, Answer::choice(at), || {
                        format!("{} {}", capital(&feature.the()), feature.does(item.leg))
                    });
                }
            }
            Task::Safest(ways) => {
                for (at, way) in ways.iter().enumerate().filter(|(at, _)| *at != right) {
                    if let Some(meta) = way.fault() {
                        list.push(meta, Answer::choice(at), || format!("{} {}", capital(WAYS[at]), way.does()));
                    }
                }
            }
        }
    }

    fn right_way(&self, item: &RouteFeaturesItem) -> String {
        match &item.task {
            Task::What(feature) => format!("It {}: {}", feature.does(item.leg), Role::ALL[item.right()].one()),
            Task::Which { asked, features, .. } => {
                let feature = &features[item.right()];
                format!("{} {}: {}", capital(&feature.the()), feature.does(item.leg), asked.one())
            }
            Task::Safest(ways) => format!("{} {}", capital(WAYS[item.right()]), ways[item.right()].does()),
        }
    }

    fn facts(&self, item: &RouteFeaturesItem) -> Facts {
        let metres = |name, metres: i32| Fact::own_number(name, f64::from(metres));
        let mut facts = vec![metres("leg_m", item.leg)];
        let mut tell = |features: &[Feature]| {
            for (feature, [name, runs, from, aside]) in features.iter().zip(FEATURE_FACTS) {
                let [at, off] = feature.lies.place();
                facts.extend([
                    Fact::own_word(name, feature.name),
                    Fact::own_word(runs, feature.lies.word()),
                    metres(from, at),
                    metres(aside, off),
                ]);
            }
        };
        match &item.task {
            Task::What(feature) => {
                tell(std::slice::from_ref(feature));
                facts.push(Fact::wanted(Wanted::own("role")));
            }
            Task::Which { asked, features, told } => {
                tell(features);
                facts.push(Fact::own_word("role", asked.word()));
                facts.push(Fact::wanted(Wanted::own(if *told { "feature" } else { "feature_on_plan" })));
            }
            Task::Safest(ways) => {
                for (way, [follows, far, last]) in ways.iter().zip(WAY_FACTS) {
                    let follows = Fact::own_word(follows, way.follows());
                    facts.extend([follows, metres(far, way.metres), metres(last, way.last)]);
                }
                facts.push(Fact::wanted(Wanted::own("safest_way")));
            }
        }
        facts.into()
    }

    fn prompt(&self, item: &RouteFeaturesItem) -> String {
        let RouteFeaturesItem { leg, start, goal, .. } = item;
        match &item.task {
            Task::What(feature) => format!(
                "You go from {start} to {goal}, {leg} m in a straight line. {} Is it a handrail, a collecting feature, a catching feature or an attack point?",
                feature.sentence(*leg, goal)
            ),
            Task::Which { asked, features, told: true } => {
                let told: Vec<String> = features.iter().map(|feature| feature.sentence(*leg, goal)).collect();
                format!(
                    "You go from {start} to {goal}, {leg} m in a straight line. {} Which of these is your {}?",
                    told.join(" "),
                    asked.word()
                )
            }
            Task::Which { asked, .. } => format!(
                "The plan shows your straight way of {leg} m from {start} to {goal}, and what lies round it. Which of these is your {}?",
                asked.word()
            ),
            Task::Safest(ways) => {
                let [one, two, three] = ways.map(|way| way.sentence(goal));
                format!(
                    "Clouds come down, and you lead a patrol from {start} to {goal}, {leg} m away. The first way: {one}. The second way: {two}. The third way: {three}. Which way do you take?"
                )
            }
        }
    }

    fn steps(&self, item: &RouteFeaturesItem) -> Vec<Step> {
        match &item.task {
            Task::What(feature) => {
                let role = Role::ALL[item.right()];
                vec![
                    Step::words(
                        "What you can see without the compass checks the compass, so look on the map what your way runs along and what it crosses",
                    ),
                    Step::new("How does it lie to your way", format!("it {}", feature.does(item.leg)))
                        .decides("Does it run along your way or across it, before the goal or behind"),
                    Step::new(role.reason(), role.one().to_owned()).answers(),
                ]
            }
            Task::Which { asked, features, .. } => {
                let mut steps = vec![
                    Step::new(format!("What {} does for you", asked.one()), format!("it {}", asked.does()))
                        .decides("What does such a feature do for you"),
                ];
                steps.extend(
                    features
                        .iter()
                        .map(|feature| Step::words(format!("{} {}", capital(&feature.the()), feature.does(item.leg))))
                        .map(|step| step.decides("And how does each of them lie to your way")),
                );
                steps.push(Step::new("The one that fits", features[item.right()].the()).answers());
                steps
            }
            Task::Safest(ways) => {
                let mut steps = vec![Step::words(
                    "In cloud you see a few steps far, so rule out what is dangerous, then look which way leads you to within a short last piece",
                )];
                steps.extend(ways.iter().zip(WAYS).map(|(way, name)| {
                    let words = format!("{} {}", capital(name), way.does());
                    match way.whole() {
                        Some(whole) => Step::new(words, whole),
                        None => Step::words(words),
                    }
                }));
                steps.push(Step::new("Safe, led, and short at its end", WAYS[item.right()].to_owned()).answers());
                steps
            }
        }
    }

    fn hint(&self, item: &RouteFeaturesItem) -> String {
        match &item.task {
            Task::What(_) => "Two things decide: does it run along your way or across it, and does it lie before the goal or behind? One of the four is a spot and no line.".to_owned(),
            Task::Which { asked, .. } => format!("Say first what {} does: it {}.", asked.one(), asked.does()),
            Task::Safest(_) => "Which way would hurt somebody who strays by ten metres? Of those that are left, how long is the piece on which nothing leads you?".to_owned(),
        }
    }

    fn figure(&self, item: &RouteFeaturesItem) -> Figure {
        item.plan(None, None)
    }

    fn explanation(&self, item: &RouteFeaturesItem, given: Option<&Answer>) -> Figure {
        let chosen = given.and_then(|given| if let [Value::Choice(at)] = given.values() { Some(*at) } else { None });
        item.plan(Some(item.right()), chosen)
    }
}

impl RouteFeaturesItem {
    /// The right choice.
    fn right(&self) -> usize {
        let found = match &self.task {
            Task::What(feature) => Role::ALL.iter().position(|role| feature.role(self.leg) == Some(*role)),
            Task::Which { asked, features, .. } => {
                features.iter().position(|feature| feature.role(self.leg) == Some(*asked))
            }
            Task::Safest(ways) => ways.iter().position(|way| way.fault().is_none()),
        };
        found.unwrap_or(0)
    }

    fn plan(&self, right: Option<usize>, chosen: Option<usize>) -> Figure {
        match &self.task {
            Task::What(feature) => {
                let right = right.map(|_| 0);
                feature::plan(self, std::slice::from_ref(feature), (right, None), false)
            }
            Task::Which { features, told, .. } => feature::plan(self, features, (right, chosen), !told),
            Task::Safest(_) => Figure::None,
        }
    }
}

#[cfg(test)]
mod tests;
