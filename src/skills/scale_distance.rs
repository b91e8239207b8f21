//! C2, distance by the scale: from a length on the map to metres outside.
//!
//! On a map of 1:25 000 a millimetre is 25 000 mm, and that is 25 m (arithmetic). On a slope the way on the ground is longer by
//! 1/cos; the shares told here are that, rounded to whole per cent.

pub(super) mod meta;
mod path;
mod plan;

use super::amounts::{GOALS, STARTS, amount, comes_to, hundredths, short};
use crate::angle::Angle;
use crate::problem::{
    Answer, Draw, Fact, Facts, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, LengthUnit, Level,
    LineRole, MixupList, Question, SkillMeta, Step, Tolerance, Wanted,
};
use meta::{
    BAR_END, DIVIDED, META, MULTIPLIED, OTHER_SCALE, PARTS_FROM_END, PIECE_LEFT_OUT, SLOPE_LEFT_OUT, SLOPE_TAKEN_OFF,
    STRAIGHT, TEN_TIMES,
};
use path::PathTask;
use plan::across;
use std::fmt::{self, Display};

/// The skill `scale-distance`.
pub(super) struct ScaleDistance;

/// The numbers of one problem.
pub(super) struct ScaleDistanceItem {
    scale: Scale,
    task: Task,
    level: Level,
    start: &'static str,
    goal: &'static str,
}

/// A map's scale, by the metres that a millimetre stands for: 25 on a map of 1:25 000.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Scale(pub(super) i32);

impl Scale {
    /// Metres outside for tenths of a millimetre on the map.
    pub(super) fn metres(self, tenths: i32) -> f64 {
        f64::from(self.0 * tenths) / 10.0
    }

    /// Millimetres on the map for metres outside.
    pub(super) fn millimetres(self, metres: i32) -> f64 {
        f64::from(metres) / f64::from(self.0)
    }

    /// `340 / 25 = 13.6`: from the ground to the map.
    fn divided(self, metres: i32) -> String {
        format!("{metres} / {} {}", self.0, comes_to(self.millimetres(metres)))
    }

    /// The scale that somebody thinks of who did not look: the most usual one, or the next.
    pub(super) const fn believed(self) -> Scale {
        Scale(if self.0 == 25 { 50 } else { 25 })
    }
}

/// `1:25 000`.
impl Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "1:{} 000", self.0)
    }
}

/// What is measured.
enum Task {
    /// A straight line, in tenths of a millimetre.
    Line { tenths: i32 },
    /// Two marks of a paper edge on the bar: whole kilometres right of its zero, tenths of one left of it.
    Bar { km: i32, parts: i32 },
    /// Three pieces of a bent path and the line straight across, in millimetres; the pieces turn by so many degrees.
    Bends { pieces: [i32; 3], across: i32, turn: i32 },
    /// A line straight up a slope of so many degrees, which makes it longer by so many per cent.
    Slope { tenths: i32, degrees: i32, longer: i32 },
    /// The other way round: how long so many metres outside are on the map.
    OnMap { metres: i32 },
    /// A winding path on a map, measured with a paper edge.
    Path(PathTask),
}

/// Names of one short word, for a plan with bends.
const SHORT_STARTS: [&str; 3] = ["the hut", "the barn", "the camp"];
const SHORT_GOALS: [&str; 3] = ["the ford", "the weir", "the spring"];
const USUAL: [i32; 4] = [10, 20, 25, 50];
const ALL_SCALES: [i32; 6] = [10, 20, 24, 25, 40, 50];
/// Slopes with what they add: 1/cos in whole per cent (arithmetic).
const SLOPES: [(i32, i32); 4] = [(20, 6), (25, 10), (30, 15), (35, 22)];

static GROUND: [Field; 1] = [Field {
    name: "ground",
    label: "how far on the ground, in metres",
    kind: FieldKind::Distance(LengthUnit::Metres),
    tolerance: Tolerance::share(0.02, 0.5),
}];

/// Along a winding path, with a hand that ticks a paper edge.
static PATH: [Field; 1] = [Field {
    name: "ground",
    label: "how far on the path, in metres",
    kind: FieldKind::Distance(LengthUnit::Metres),
    // A wrong way is told to who reads its own length, to half of a tenth of the bar.
    tolerance: Tolerance::share(0.1, 0.5).told_within(60.0),
}];
static ON_MAP: [Field; 1] = [Field {
    name: "on_map",
    label: "how long on the map, in millimetres",
    kind: FieldKind::MapLength,
    tolerance: Tolerance::share(0.02, 0.25),
}];

/// `13.6`: millimetres from tenths.
fn mm(tenths: i32) -> impl Display {
    super::common::size(tenths)
}

impl Generator for ScaleDistance {
    type Item = ScaleDistanceItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> ScaleDistanceItem {
        let scales: &[i32] = if level == Level::ONE { &USUAL } else { &ALL_SCALES };
        let mut scale = Scale(draw.pick(scales));
        let task = match level.number() {
            1 => Task::Line { tenths: draw.between(12, 120) * 10 },
            2 if draw.chance(1, 3) => Task::Bar { km: draw.between(1, 4), parts: draw.pick(&[1, 2, 3, 4, 6, 7, 8, 9]) },
            2 if draw.chance(1, 2) => Task::OnMap { metres: draw.between(30, 290.min(20 * scale.0)) * 10 },
            // No edge is read more finely than to half a millimetre.
            2 => Task::Line { tenths: draw.between(17, 240) * 5 },
            3 if draw.chance(1, 2) => Task::Path(PathTask::draw(draw)),
            3 => {
                let turn = draw.pick(&[40, 45, 50, 55]);
                let pieces = [draw.between(12, 40), draw.between(12, 40), draw.between(12, 40)];
                Task::Bends { pieces, across: across(pieces, turn), turn }
            }
            _ => {
                // No long way leads straight up so steep a slope.
                scale = Scale(draw.pick(&[10, 20, 24, 25]));
                let (degrees, longer) = draw.pick(&SLOPES);
                Task::Slope { tenths: draw.between(1500 / scale.0, 6000 / scale.0), degrees, longer }
            }
        };
        let (starts, goals): (&[&str], &[&str]) = match task {
            // Beside the corners of a bent line a long name finds no room.
            Task::Bends { .. } => (&SHORT_STARTS, &SHORT_GOALS),
            _ => (&STARTS, &GOALS),
        };
        ScaleDistanceItem { scale, task, level, start: draw.pick(starts), goal: draw.pick(goals) }
    }

    fn question(&self, item: &ScaleDistanceItem) -> Question {
        Question::typed(match item.task {
            Task::OnMap { .. } => &ON_MAP,
            Task::Path(_) => &PATH,
            _ => &GROUND,
        })
    }

    fn answer(&self, item: &ScaleDistanceItem) -> Answer {
        match item.task {
            // In tenths, as the last step writes it: finer than any ruler.
            Task::OnMap { metres } => amount((item.scale.millimetres(metres) * 10.0).round() / 10.0),
            _ => amount(item.metres()),
        }
    }

    fn mixups(&self, item: &ScaleDistanceItem, list: &mut MixupList) {
        let right = item.metres();
        match &item.task {
            Task::Path(path) => return path.mixups(list),
            Task::OnMap { metres } => return item.on_map_mixups(*metres, list),
            _ => {}
        }
        match item.task {
            Task::Bar { km, parts } => {
                list.push(&BAR_END, amount(right + 1000.0), || {
                    format!("{} × 1000 + {parts} × 100 = {}", km + 1, (km + 1) * 1000 + parts * 100)
                });
                let other = 10 - parts;
                list.push(&PARTS_FROM_END, amount(f64::from(km * 1000 + other * 100)), || {
                    format!("{km} × 1000 + {other} × 100 = {}", km * 1000 + other * 100)
                });
                return;
            }
            Task::Bends { pieces, across, .. } => {
                let scale = item.scale;
                let way = |millimetres: i32| format!("{millimetres} × {} = {}", scale.0, millimetres * scale.0);
                list.push(&STRAIGHT, amount(scale.metres(across * 10)), || way(across));
                let two = pieces[0] + pieces[1];
                list.push(&PIECE_LEFT_OUT, amount(scale.metres(two * 10)), || way(two));
            }
            Task::Slope { tenths, longer, .. } => {
                let flat = item.scale.metres(tenths);
                let off = flat * f64::from(100 - longer) / 100.0;
                list.push(&SLOPE_LEFT_OUT, amount(flat), || item.on_map(item.scale));
                list.push(&SLOPE_TAKEN_OFF, amount(hundredths(off)), || item.with_share(flat, -longer));
            }
            Task::Line { tenths } => {
                let divided = f64::from(item.scale.0 * 10_000) / f64::from(tenths);
                list.push(&DIVIDED, amount(hundredths(divided)), || {
                    format!("{} / {} {}", item.scale.0 * 1000, mm(tenths), comes_to(divided))
                });
            }
            Task::OnMap { .. } | Task::Path(_) => {}
        }
        let believed = item.scale.believed();
        list.push(&OTHER_SCALE, amount(hundredths(item.by(believed))), || {
            format!("As on a map of {believed}: {}", item.worked(believed))
        });
        for (wrong, said) in [(right * 10.0, "Ten times as much"), (right / 10.0, "A tenth")] {
            list.push(&TEN_TIMES, amount(hundredths(wrong)), || format!("{said}: {} m", short(wrong)));
        }
    }

    fn right_way(&self, item: &ScaleDistanceItem) -> String {
        match &item.task {
            Task::Path(path) => return path.right_way(),
            Task::OnMap { metres } => {
                return format!("On this map 1 mm is {} m: {}", item.scale.0, item.scale.divided(*metres));
            }
            _ => {}
        }
        match item.task {
            Task::Bar { km, parts } => {
                format!("Both sides of the zero: {km} × 1000 + {parts} × 100 = {}", short(item.metres()))
            }
            _ => format!("On this map 1 mm is {} m: {}", item.scale.0, item.worked(item.scale)),
        }
    }

    fn facts(&self, item: &ScaleDistanceItem) -> Facts {
        let number = |name, number: i32| Fact::own_number(name, f64::from(number));
        if let Task::Path(path) = &item.task {
            return path.facts();
        }
        let wanted = if let Task::OnMap { .. } = item.task { "length_on_map" } else { "ground_distance" };
        let mut facts = vec![Fact::wanted(Wanted::own(wanted))];
        if !matches!(item.task, Task::Bar { .. }) {
            facts.push(number("scale_denominator", item.scale.0 * 1000));
        }
        match item.task {
            Task::Line { tenths } => facts.push(Fact::own_number("measured_mm", f64::from(tenths) / 10.0)),
            Task::Bar { km, parts } => {
                facts.extend([number("bar_right_of_zero_m", km * 1000), number("bar_left_of_zero_m", parts * 100)]);
            }
            Task::Bends { pieces: [one, two, three], across, .. } => facts.extend([
                number("first_piece_mm", one),
                number("second_piece_mm", two),
                number("third_piece_mm", three),
                number("straight_across_mm", across),
            ]),
            Task::Slope { tenths, degrees, longer } => facts.extend([
                Fact::own_number("measured_mm", f64::from(tenths) / 10.0),
                Fact::own_angle("slope_deg", Angle::from_degrees(f64::from(degrees))),
                number("longer_percent", longer),
            ]),
            Task::OnMap { metres } => facts.push(number("distance_m", metres)),
            Task::Path(_) => {}
        }
        facts.into()
    }

    fn prompt(&self, item: &ScaleDistanceItem) -> String {
        let ScaleDistanceItem { scale, start, goal, .. } = item;
        match item.task {
            Task::Line { tenths } => format!(
                "The map scale is {scale}. You lay the edge of your compass from {start} to {goal} and read {} mm. How far is it on the ground?",
                mm(tenths)
            ),
            Task::Bar { km, parts } => format!(
                "You mark {start} and {goal} on the edge of a paper, and lay the paper on the scale bar of the map. One mark comes to the line for {km} km, right of the zero. The other mark comes to short line {parts}, counted from the zero to the left, where one kilometre is cut into tenths. How far is it on the ground?"
            ),
            Task::Bends { pieces: [one, two, three], across, .. } => format!(
                "The path from {start} to {goal} has two bends. You turn a paper edge along it on a map of {scale}: the pieces are {one} mm, {two} mm and {three} mm. Straight across you measure {across} mm. How far do you walk on the path?"
            ),
            Task::Slope { tenths, degrees, longer } => format!(
                "On a map of {scale} you measure {} mm from {start} to {goal}, straight up a slope of {degrees}°. So steep a way is {longer} per cent longer than the map shows it. How far do you walk?",
                mm(tenths)
            ),
            Task::OnMap { metres } => format!(
                "You want to walk {metres} m from {start} toward {goal} and then stop. The map scale is {scale}. How many millimetres is that on the map?"
            ),
            Task::Path(ref path) => path.prompt(start, goal),
        }
    }

    fn steps(&self, item: &ScaleDistanceItem) -> Vec<Step> {
        let way = FigurePart::Line(LineRole::Right);
        if let Task::Path(path) = &item.task {
            return path.steps();
        }
        let mut steps = Vec::with_capacity(4);
        if let Task::Bar { km, parts } = item.task {
            steps.push(Step::words("The zero of the bar stands one kilometre in from its left end: whole kilometres are read to its right, tenths to its left"));
            steps.push(Step::new("Right of the zero", format_args!("{km} × 1000 = {}", km * 1000)).about(way));
            steps.push(
                Step::new("Left of it each short line is 100 m more", format_args!("{parts} × 100 = {}", parts * 100))
                    .decides("How far does the left side reach"),
            );
            let right = short(item.metres());
            steps.push(Step::new("Both sides", format_args!("{} + {} = {right} m", km * 1000, parts * 100)).answers());
            return steps;
        }
        let k = item.scale.0;
        let scale = item.scale;
        steps.push(
            Step::new(
                format!("A map of {scale} shows everything {k} 000 times smaller, so 1 mm on it is {k} 000 mm outside"),
                format_args!("{k} m"),
            )
            .decides("How many metres is 1 mm of this map"),
        );
        match item.task {
            Task::OnMap { metres } => {
                steps.push(
                    Step::new(
                        "How often do the metres of 1 mm go into the way? So many millimetres it is",
                        scale.divided(metres),
                    )
                    .about(way)
                    .decides("Multiply or divide: will the number of millimetres be smaller than that of metres"),
                );
                steps.push(Step::new("On the map", format_args!("{} mm", short(scale.millimetres(metres)))).answers());
                return steps;
            }
            Task::Bends { pieces: [one, two, three], .. } => {
                let sum = one + two + three;
                steps.push(
                    Step::new("You walk all the pieces, so add them", format_args!("{one} + {two} + {three} = {sum}"))
                        .about(way)
                        .decides("Which lengths do you walk? Put them together"),
                );
                steps.push(Step::new("So many times the metres of 1 mm", format_args!("{sum} × {k} = {}", sum * k)));
            }
            Task::Line { .. } | Task::Slope { .. } | Task::Bar { .. } | Task::Path(_) => {
                steps.push(Step::new("So many times the metres of 1 mm", item.on_map(scale)).about(way));
            }
        }
        if let Task::Slope { tenths, longer, .. } = item.task {
            steps.push(
                Step::new(
                    "The map looks straight down, and from there a steep way looks short: add what it hides",
                    item.with_share(scale.metres(tenths), longer),
                )
                .decides("Is the way longer or shorter than on the map"),
            );
        }
        let last = if matches!(item.task, Task::Slope { .. }) { "In whole metres" } else { "In metres" };
        steps.push(Step::new(last, format_args!("{} m", short(item.metres()))).answers());
        steps
    }

    fn hint(&self, item: &ScaleDistanceItem) -> String {
        match item.task {
            Task::Bar { .. } => "Where on the bar does the zero stand? What lies left of it is more than nothing, too.",
            Task::Bends { .. } => "Which of the lengths do your feet walk? Then: how many metres is 1 mm of this map?",
            Task::Slope { .. } => {
                "First as if the ground were flat: how many metres is 1 mm of this map? Then think of a ladder against a wall, seen from above."
            }
            Task::OnMap { .. } => "How many metres is a single millimetre of this map? Then: how many of those make up the way?",
            Task::Path(_) => path::HINT,
            Task::Line { .. } => "How many metres is a single millimetre of this map? The scale says how many millimetres it is.",
        }
        .to_owned()
    }

    fn figure(&self, item: &ScaleDistanceItem) -> Figure {
        if let Task::Path(path) = &item.task {
            return path.figure();
        }
        let drawn = item.level == Level::ONE || matches!(item.task, Task::Bends { .. });
        if drawn { item.plan(false) } else { Figure::None }
    }

    fn explanation(&self, item: &ScaleDistanceItem, _given: Option<&Answer>) -> Figure {
        if let Task::Path(path) = &item.task { path.explained() } else { item.plan(true) }
    }

    fn step_figure(&self, item: &ScaleDistanceItem, step: usize) -> Option<Figure> {
        if let Task::Path(path) = &item.task { Some(path.step(step)) } else { None }
    }
}

impl ScaleDistanceItem {
    /// The right answer; what a slope adds is no more exact than a metre.
    fn metres(&self) -> f64 {
        let exact = self.by(self.scale);
        if let Task::Slope { .. } = self.task { ((exact * 1e3).round() / 1e3).round() } else { exact }
    }

    /// The metres outside by a scale.
    fn by(&self, scale: Scale) -> f64 {
        match self.task {
            Task::Line { tenths } => scale.metres(tenths),
            Task::Bar { km, parts } => f64::from(km * 1000 + parts * 100),
            Task::Bends { pieces, .. } => scale.metres(pieces.iter().sum::<i32>() * 10),
            Task::Slope { tenths, longer, .. } => scale.metres(tenths) * f64::from(100 + longer) / 100.0,
            Task::OnMap { metres } => f64::from(metres),
            Task::Path(ref path) => path.metres(),
        }
    }

    /// The wrong ways from the ground to the map.
    fn on_map_mixups(&self, metres: i32, list: &mut MixupList) {
        let right = self.scale.millimetres(metres);
        list.push(&MULTIPLIED, amount(f64::from(metres * self.scale.0)), || {
            format!("{metres} × {} = {}", self.scale.0, metres * self.scale.0)
        });
        let believed = self.scale.believed();
        list.push(&OTHER_SCALE, amount(hundredths(believed.millimetres(metres))), || {
            format!("As on a map of {believed}: {}", believed.divided(metres))
        });
        for (wrong, said) in [(right * 10.0, "Ten times as much"), (right / 10.0, "A tenth")] {
            list.push(&TEN_TIMES, amount(hundredths(wrong)), || format!("{said}: {} mm", short(wrong)));
        }
    }

    /// `13.6 × 25 = 340`: what is measured, as if the ground were flat.
    fn on_map(&self, scale: Scale) -> String {
        let tenths = match self.task {
            Task::Line { tenths } | Task::Slope { tenths, .. } => tenths,
            Task::Bends { pieces, .. } => pieces.iter().sum::<i32>() * 10,
            Task::Bar { .. } | Task::OnMap { .. } | Task::Path(_) => 0,
        };
        format!("{} × {} = {}", mm(tenths), scale.0, short(scale.metres(tenths)))
    }

    /// `500 × 106 / 100 = 530`: longer or, where the share is less than nothing, shorter.
    fn with_share(&self, flat: f64, percent: i32) -> String {
        let percent = 100 + percent;
        format!("{} × {percent} / 100 {}", short(flat), comes_to(flat * f64::from(percent) / 100.0))
    }

    /// The whole sum by a scale.
    fn worked(&self, scale: Scale) -> String {
        match self.task {
            Task::Slope { tenths, longer, .. } => {
                format!("{}, {}", self.on_map(scale), self.with_share(scale.metres(tenths), longer))
            }
            _ => self.on_map(scale),
        }
    }
}

#[cfg(test)]
mod tests;
