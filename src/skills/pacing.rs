//! E5, pacing: how many paces a distance takes, and how far one has come.
//!
//! A single pace is one step, a double pace two: some manuals mean the one by "pace", some the other, so it is always said. Sixty
//! to seventy double paces for 100 m are usual, and those who are not grown up need more (common practice, no source).

mod meta;

use super::amounts::{GOALS, STARTS, amount, comes_to, place, short};
use super::scale_distance::Scale;
use crate::problem::{
    Answer, Draw, Fact, Facts, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, LengthUnit, Level,
    LineRole, MapPoint, MixupList, PlanFigure, PlanKind, PlanLine, Question, SkillMeta, Step, Tolerance, Value, Wanted,
};
use meta::{GROUND_LEFT_OUT, GROUND_TAKEN_OFF, HUNDRED_LOST, META, SINGLE_DOUBLE, UPSIDE_DOWN};

use super::scale_distance::meta::OTHER_SCALE;

/// The skill `pacing`.
pub(super) struct Pacing;

/// The numbers of one problem.
pub(super) struct PacingItem {
    /// In what one counts.
    pace: Pace,
    /// How many of them 100 m take on flat ground.
    count: i32,
    task: Task,
    start: &'static str,
    goal: &'static str,
}

/// What is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Pace {
    /// Every step.
    Single,
    /// Every second step.
    Double,
}

impl Pace {
    const fn word(self) -> &'static str {
        match self {
            Pace::Single => "single",
            Pace::Double => "double",
        }
    }

    /// The factor of somebody who takes one kind for the other: twice as many where double paces are asked.
    const fn mixed_up(self) -> f64 {
        match self {
            Pace::Single => 0.5,
            Pace::Double => 2.0,
        }
    }
}

/// What shortens the steps, in per cent more of them.
#[derive(Clone, Copy, Debug)]
struct Ground {
    said: &'static str,
    share: &'static str,
    percent: i32,
}

/// How much is added (10 to 25 per cent: common practice, no source).
const GROUNDS: [Ground; 3] = [
    Ground { said: "through knee-high heather", share: "a tenth", percent: 10 },
    Ground { said: "through scrub", share: "a fifth", percent: 20 },
    Ground { said: "uphill", share: "a quarter", percent: 25 },
];

/// What to do with the number on the way; how far pacing errs is common practice, no source.
const COUNTED: &str = "Count in hundreds, a pebble into the other pocket at each. Pacing errs by about a tenth, so begin to look about at nine tenths of the count. Is it still not there a tenth beyond the count, stop and look round before you go on";

/// What is asked.
#[derive(Clone, Copy, Debug)]
enum Task {
    /// Paces for a distance in metres.
    ToPaces { distance: i32 },
    /// The distance of so many paces of the other kind or of the same.
    ToMetres { walked: i32, walked_in: Pace },
    /// Paces for a distance over ground that shortens the steps.
    Rough { distance: i32, ground: Ground },
    /// The distance from the map, in tenths of a millimetre, and the paces for it.
    FromMap { scale: Scale, tenths: i32, ground: Ground },
}

static PACES: [Field; 2] = [paces("how many double paces"), paces("how many single paces")];
static METRES: [Field; 1] = [METRES_FIELD];
static FROM_MAP: [[Field; 2]; 2] =
    [[METRES_FIELD, paces("how many double paces")], [METRES_FIELD, paces("how many single paces")]];

const METRES_FIELD: Field = Field {
    name: "ground",
    label: "how far on the ground, in metres",
    kind: FieldKind::Distance(LengthUnit::Metres),
    tolerance: Tolerance::share(0.02, 1.0),
};

const fn paces(label: &'static str) -> Field {
    Field { name: "paces", label, kind: FieldKind::Count, tolerance: Tolerance::share(0.02, 1.0) }
}

/// Rounded to whole paces, halves up; in ten-thousandths, so that nothing is lost before.
const fn rounded(ten_thousandths: i32) -> i32 {
    (ten_thousandths + 5_000) / 10_000
}

/// Whole paces as an answer.
fn whole_paces(number: i32) -> Answer {
    amount(f64::from(number))
}

impl Generator for Pacing {
    type Item = PacingItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> PacingItem {
        let pace = if draw.chance(1, 2) { Pace::Double } else { Pace::Single };
        let double = draw.between(56, 74);
        let count = match pace {
            Pace::Double => double,
            Pace::Single => 2 * double + draw.between(-1, 1),
        };
        let (start, goal) = (draw.pick(&STARTS), draw.pick(&GOALS));
        let distance = draw.between(4, 18) * 50;
        let (task, count) = match level.number() {
            1 => (Task::ToPaces { distance }, count),
            2 => {
                // Even counts and half hundreds give whole paces and whole metres.
                let double = double / 2 * 2;
                let per_hundred = |pace| if pace == Pace::Double { double } else { 2 * double };
                let walked_in = if draw.chance(1, 2) { Pace::Double } else { Pace::Single };
                let walked = per_hundred(walked_in) * distance / 100;
                (Task::ToMetres { walked, walked_in }, per_hundred(pace))
            }
            3 => (Task::Rough { distance: distance + draw.between(0, 4) * 10, ground: draw.pick(&GROUNDS) }, count),
            _ => {
                let scale = Scale(draw.pick(&[10, 25, 50]));
                let tenths = draw.between(2000 / scale.0, 8000 / scale.0);
                (Task::FromMap { scale, tenths, ground: draw.pick(&GROUNDS) }, count)
            }
        };
        PacingItem { pace, count, task, start, goal }
    }

    fn question(&self, item: &PacingItem) -> Question {
        match (item.task, item.pace) {
            (Task::ToMetres { .. }, _) => Question::typed(&METRES),
            (Task::FromMap { .. }, Pace::Double) => Question::typed(&FROM_MAP[0]),
            (Task::FromMap { .. }, Pace::Single) => Question::typed(&FROM_MAP[1]),
            (_, Pace::Double) => Question::typed(&PACES[..1]),
            (_, Pace::Single) => Question::typed(&PACES[1..]),
        }
    }

    fn answer(&self, item: &PacingItem) -> Answer {
        match item.task {
            Task::ToPaces { .. } | Task::Rough { .. } => whole_paces(item.paces()),
            Task::ToMetres { .. } => amount(item.metres()),
            Task::FromMap { .. } => Answer::two(Value::Number(item.metres()), Value::Number(f64::from(item.paces()))),
        }
    }

    fn mixups(&self, item: &PacingItem, list: &mut MixupList) {
        let PacingItem { count, pace, .. } = *item;
        if let Task::ToMetres { walked, walked_in } = item.task {
            let right = item.metres();
            if walked_in == pace {
                let mixed = right / walked_in.mixed_up();
                let (taken, by) = if pace == Pace::Double { ("single", "/ 2") } else { ("double", "× 2") };
                list.push(&SINGLE_DOUBLE, amount(mixed), || {
                    format!("Taken for {taken} paces: {walked} {by} / {count} × 100 = {}", short(mixed))
                });
            } else {
                let mixed = right * pace.mixed_up();
                list.push(&SINGLE_DOUBLE, amount(mixed), || format!("{walked} / {count} × 100 = {}", short(mixed)));
            }
            let upside = f64::from(item.in_own(walked, walked_in) * count) / 100.0;
            list.push(&UPSIDE_DOWN, amount(upside), || {
                format!("{} × {count} / 100 {}", item.in_own(walked, walked_in), comes_to(upside))
            });
            list.push(&HUNDRED_LOST, amount(right - 100.0), || {
                format!("{} − 100 = {}", short(right), short(right - 100.0))
            });
            return;
        }
        let metres = item.metres();
        // Beside the paces the metres, where both are asked.
        let both = |metres: f64, paces: i32| match item.task {
            Task::FromMap { .. } => Answer::two(Value::Number(metres), Value::Number(f64::from(paces))),
            _ => whole_paces(paces),
        };
        let percent = item.ground().map_or(0, |ground| ground.percent);
        let (right, flat) = (item.paces(), item.by(metres, 0));
        let mixed = item.mixed_up();
        list.push(&SINGLE_DOUBLE, both(metres, mixed), || {
            let way = if pace == Pace::Double { "2 × about" } else { "half of about" };
            format!("{way} {right}: counted in the other kind of pace, about {mixed}")
        });
        let upside = item.upside_down();
        list.push(&UPSIDE_DOWN, both(metres, upside), || {
            let more = if percent == 0 { "" } else { ", and the ground added" };
            format!("{} × 100 / {count}{more}: about {upside}", short(metres))
        });
        list.push(&HUNDRED_LOST, both(metres, item.by(metres - 100.0, percent)), || {
            format!("Paces for {} m only", short(metres - 100.0))
        });
        if let Some(ground) = item.ground() {
            list.push(&GROUND_LEFT_OUT, both(metres, flat), || item.on_flat(metres));
            let off = item.by(metres, -ground.percent);
            list.push(&GROUND_TAKEN_OFF, both(metres, off), || {
                format!("{}, and {} of it taken off: about {off}", item.on_flat(metres), ground.share)
            });
        }
        if let Task::FromMap { scale, tenths, .. } = item.task {
            let other = scale.believed();
            let far = other.metres(tenths);
            list.push(&OTHER_SCALE, both(far, item.by(far, percent)), || {
                format!("As on a map of {other}: {} × {} = {}", super::common::size(tenths), other.0, short(far))
            });
        }
    }

    fn right_way(&self, item: &PacingItem) -> String {
        match item.task {
            Task::ToPaces { .. } => {
                format!("Your count once for each 100 m: {}", item.on_flat(item.metres()))
            }
            Task::ToMetres { walked, walked_in } => {
                let own = item.in_own(walked, walked_in);
                format!(
                    "In {} paces you walked {own}: {own} / {} × 100 = {}",
                    item.pace.word(),
                    item.count,
                    short(item.metres())
                )
            }
            Task::Rough { ground, .. } | Task::FromMap { ground, .. } => {
                format!("{}, and {} more: about {}", item.on_flat(item.metres()), ground.share, item.paces())
            }
        }
    }

    fn facts(&self, item: &PacingItem) -> Facts {
        let number = |name, number: i32| Fact::own_number(name, f64::from(number));
        let mut facts = vec![Fact::own_word("pace", item.pace.word()), number("count_per_hundred_paces", item.count)];
        match item.task {
            Task::ToPaces { distance } => {
                facts.extend([number("distance_m", distance), Fact::wanted(Wanted::own("paces"))]);
            }
            Task::ToMetres { walked, walked_in } => facts.extend([
                number("walked_paces", walked),
                Fact::own_word("walked_in", walked_in.word()),
                Fact::wanted(Wanted::own("distance")),
            ]),
            Task::Rough { distance, ground } => facts.extend([
                number("distance_m", distance),
                number("more_percent", ground.percent),
                Fact::wanted(Wanted::own("paces_on_rough_ground")),
            ]),
            Task::FromMap { scale, tenths, ground } => facts.extend([
                number("scale_denominator", scale.0 * 1000),
                Fact::own_number("measured_mm", f64::from(tenths) / 10.0),
                number("more_percent", ground.percent),
                Fact::wanted(Wanted::own("distance_and_paces")),
            ]),
        }
        facts.into()
    }

    fn prompt(&self, item: &PacingItem) -> String {
        let PacingItem { count, start, goal, .. } = item;
        let pace = item.pace.word();
        match item.task {
            Task::ToPaces { distance } => format!(
                "It is dusk, and from {start} to {goal} you will not see where you are. On the map it is {distance} m. On flat ground you count {count} {pace} paces for 100 m. After how many {pace} paces are you at {goal}, as near as pacing says?"
            ),
            Task::ToMetres { walked, walked_in } => format!(
                "You count {count} {pace} paces for 100 m. From {start} to {goal} you have counted {walked} {} paces. How far have you come?",
                walked_in.word()
            ),
            Task::Rough { distance, ground } => format!(
                "From {start} to {goal} it is {distance} m, {} all the way. On flat ground you count {count} {pace} paces for 100 m; here you need {} more. How many {pace} paces do you count to {goal}?",
                ground.said, ground.share
            ),
            Task::FromMap { scale, tenths, ground } => format!(
                "On a map of {scale} you measure {} mm from {start} to {goal}. The way leads {}, where you need {} more paces than on flat ground; there you count {count} {pace} paces for 100 m. How far is it, and how many {pace} paces do you count?",
                super::common::size(tenths),
                ground.said,
                ground.share
            ),
        }
    }

    fn steps(&self, item: &PacingItem) -> Vec<Step> {
        let (count, pace) = (item.count, item.pace.word());
        let way = FigurePart::Line(LineRole::Right);
        let mut steps = vec![Step::words(
            "Your own steps are a measure that you always have with you: you have counted once how many of them 100 m are",
        )];
        if let Task::ToMetres { walked, walked_in } = item.task {
            let own = item.in_own(walked, walked_in);
            if walked_in != item.pace {
                let (words, sum) = match walked_in {
                    Pace::Single => ("A double pace is two single ones, so halve", format!("{walked} / 2 = {own}")),
                    Pace::Double => ("A double pace is two single ones, so double", format!("{walked} × 2 = {own}")),
                };
                steps.push(Step::new(words, sum).decides("How many paces is that in the kind of your own count"));
            }
            let hundreds = f64::from(own) / f64::from(count);
            steps.push(
                Step::new(
                    "Divide by your own count, to see how often it goes into the way",
                    format_args!("{own} / {count} = {hundreds}"),
                )
                .about(way),
            );
            steps.push(
                Step::new(
                    "Each time it goes in is 100 m",
                    format_args!("{hundreds} × 100 = {} m", short(item.metres())),
                )
                .answers(),
            );
            return steps;
        }
        let metres = item.metres();
        if let Task::FromMap { scale, tenths, .. } = item.task {
            let sum = format!("{} × {} = {}", super::common::size(tenths), scale.0, short(metres));
            steps.push(
                Step::new(format!("On a map of {scale} each millimetre is {} m", scale.0), sum)
                    .decides("How far is it, by the scale of this map"),
            );
        }
        steps.push(
            Step::new(
                "Count the hundreds of metres, and take your own count once for each of them",
                item.on_flat(metres),
            )
            .about(way),
        );
        if let Some(ground) = item.ground() {
            let flat = metres * f64::from(count) / 100.0;
            let more = flat * f64::from(100 + ground.percent) / 100.0;
            steps.push(
                Step::new(
                    format!("Here your steps are shorter, so you need more of them: add {}", ground.share),
                    format_args!("about {} and {}, together {}", short(flat), short(more - flat), short(more)),
                )
                .decides("Do you need more paces here, or fewer"),
            );
        }
        let paces = item.paces();
        let last = match item.task {
            Task::FromMap { .. } => format!("{} m, about {paces} {pace} paces", short(metres)),
            _ => format!("about {paces} {pace} paces"),
        };
        steps.push(Step::words(COUNTED));
        let is_whole = item.ground().is_none() && (metres * f64::from(count) / 100.0).fract() == 0.0;
        let words = if is_whole { "In paces" } else { "Nobody counts parts of a pace, so say it in whole paces" };
        steps.push(Step::new(words, last).answers());
        steps
    }

    fn hint(&self, item: &PacingItem) -> String {
        match item.task {
            Task::ToPaces { .. } => "How many hundreds of metres is it? Each of them takes your count once.",
            Task::ToMetres { .. } => "In which kind of pace is each number? Then: how often does your count for 100 m go into what you walked?",
            Task::Rough { .. } => "First as on flat ground. Then think of your steps here: longer or shorter?",
            Task::FromMap { .. } => "One thing after the other: metres from the map, paces on flat ground, then what the ground adds.",
        }
        .to_owned()
    }

    fn explanation(&self, item: &PacingItem, _given: Option<&Answer>) -> Figure {
        item.strip()
    }
}

impl PacingItem {
    /// What shortens the steps, if anything does.
    const fn ground(&self) -> Option<Ground> {
        match self.task {
            Task::Rough { ground, .. } | Task::FromMap { ground, .. } => Some(ground),
            Task::ToPaces { .. } | Task::ToMetres { .. } => None,
        }
    }

    /// Paces of a kind in the kind of the own count; they are even where they are halved.
    fn in_own(&self, walked: i32, walked_in: Pace) -> i32 {
        match (walked_in, self.pace) {
            (Pace::Single, Pace::Double) => walked / 2,
            (Pace::Double, Pace::Single) => walked * 2,
            _ => walked,
        }
    }

    /// The way in metres.
    fn metres(&self) -> f64 {
        match self.task {
            Task::ToPaces { distance } | Task::Rough { distance, .. } => f64::from(distance),
            Task::ToMetres { walked, walked_in } => {
                f64::from(self.in_own(walked, walked_in) * 100) / f64::from(self.count)
            }
            Task::FromMap { scale, tenths, .. } => scale.metres(tenths),
        }
    }

    /// Whole paces for so many metres where the ground adds so many per cent.
    fn by(&self, metres: f64, percent: i32) -> i32 {
        // Tenths of a metre, so that the sum is one of whole numbers.
        let tenths: i32 = crate::numbers::whole((metres * 10.0).round());
        rounded(tenths * self.count * (100 + percent) / 10)
    }

    /// The right number of paces.
    fn paces(&self) -> i32 {
        self.by(self.metres(), self.ground().map_or(0, |ground| ground.percent))
    }

    /// The right number in the other kind of pace.
    fn mixed_up(&self) -> i32 {
        let exact = self.metres() * f64::from(self.count * (100 + self.ground().map_or(0, |ground| ground.percent)));
        crate::numbers::whole((exact * self.pace.mixed_up() / 10_000.0).round())
    }

    /// `100 × d / count`, with what the ground adds.
    fn upside_down(&self) -> i32 {
        let percent = self.ground().map_or(0, |ground| ground.percent);
        crate::numbers::whole((self.metres() * f64::from(100 + percent) / f64::from(self.count)).round())
    }

    /// `340 / 100 × 62 = 210.8`.
    fn on_flat(&self, metres: f64) -> String {
        let flat = metres * f64::from(self.count) / 100.0;
        format!("{} / 100 × {} {}", short(metres), self.count, comes_to(flat))
    }

    /// The way with a mark at every hundred metres.
    fn strip(&self) -> Figure {
        let metres = self.metres();
        let at = |east_m, north_m| MapPoint { east_m, north_m };
        let paces = match self.task {
            Task::ToMetres { walked, walked_in } => format!("{walked} {} paces", walked_in.word()),
            _ => format!("{} {} paces", self.paces(), self.pace.word()),
        };
        let label = format!("{} m, {paces}", short(metres));
        let way = PlanKind::Way(LineRole::Right);
        let mut lines = vec![PlanLine { kind: way, through: vec![at(0.0, 0.0), at(metres, 0.0)], label }];
        let height = metres / 16.0;
        let hundreds: i32 = crate::numbers::whole((metres / 100.0).floor());
        lines.extend((0..=hundreds).map(|hundred| {
            let east = f64::from(hundred) * 100.0;
            PlanLine { kind: PlanKind::Works, through: vec![at(east, -height), at(east, height)], label: String::new() }
        }));
        let words = format!(
            "The way from {} to {}, {} m, with a mark at every hundred metres: {paces}.",
            self.start,
            self.goal,
            short(metres)
        );
        let places = vec![place(at(0.0, 0.0), self.start), place(at(metres, 0.0), self.goal)];
        Figure::Plan(PlanFigure { north: None, needle: None, lines, places, words, says_more: false })
    }
}

#[cfg(test)]
mod tests;
