//! C2, distance by the scale: from a length on the map to metres outside.
//!
//! On a map of 1:25 000 a millimetre is 25 000 mm, and that is 25 m (arithmetic). On a slope the way on the ground is longer by
//! 1/cos; the shares told here are that, rounded to whole per cent.

pub(super) mod meta;

use super::amounts::{GOALS, STARTS, amount, comes_to, hundredths, short};
use crate::angle::Angle;
use crate::numbers::whole;
use crate::problem::{
    Answer, Draw, Fact, Facts, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, LengthUnit, Level,
    LineRole, MapPoint, MixupList, PlanFigure, PlanKind, PlanLine, PlanPlace, Question, SkillMeta, Step, Tolerance,
    Wanted,
};
use meta::{
    BAR_END, DIVIDED, META, OTHER_SCALE, PARTS_FROM_END, PIECE_LEFT_OUT, SLOPE_LEFT_OUT, SLOPE_TAKEN_OFF, STRAIGHT,
    TEN_TIMES,
};
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
#[derive(Clone, Copy, Debug)]
enum Task {
    /// A straight line, in tenths of a millimetre.
    Line { tenths: i32 },
    /// Two marks of a paper edge on the bar: whole kilometres right of its zero, tenths of one left of it.
    Bar { km: i32, parts: i32 },
    /// Three pieces of a bent path and the line straight across, in millimetres; the pieces turn by so many degrees.
    Bends { pieces: [i32; 3], across: i32, turn: i32 },
    /// A line straight up a slope of so many degrees, which makes it longer by so many per cent.
    Slope { tenths: i32, degrees: i32, longer: i32 },
}

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
            2 => Task::Line { tenths: draw.between(85, 1200) },
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
        ScaleDistanceItem { scale, task, level, start: draw.pick(&STARTS), goal: draw.pick(&GOALS) }
    }

    fn question(&self, _item: &ScaleDistanceItem) -> Question {
        Question::typed(&GROUND)
    }

    fn answer(&self, item: &ScaleDistanceItem) -> Answer {
        amount(item.metres())
    }

    fn mixups(&self, item: &ScaleDistanceItem, list: &mut MixupList) {
        let right = item.metres();
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
        match item.task {
            Task::Bar { km, parts } => {
                format!("Both sides of the zero: {km} × 1000 + {parts} × 100 = {}", short(item.metres()))
            }
            _ => format!("On this map 1 mm is {} m: {}", item.scale.0, item.worked(item.scale)),
        }
    }

    fn facts(&self, item: &ScaleDistanceItem) -> Facts {
        let number = |name, number: i32| Fact::own_number(name, f64::from(number));
        let mut facts = vec![Fact::wanted(Wanted::own("ground_distance"))];
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
        }
    }

    fn steps(&self, item: &ScaleDistanceItem) -> Vec<Step> {
        let way = FigurePart::Line(LineRole::Right);
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
            Task::Bends { pieces: [one, two, three], .. } => {
                let sum = one + two + three;
                steps.push(
                    Step::new("You walk all the pieces, so add them", format_args!("{one} + {two} + {three} = {sum}"))
                        .about(way),
                );
                steps.push(Step::new("So many times the metres of 1 mm", format_args!("{sum} × {k} = {}", sum * k)));
            }
            Task::Line { .. } | Task::Slope { .. } | Task::Bar { .. } => {
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
            Task::Line { .. } => "How many metres is a single millimetre of this map? The scale says how many millimetres it is.",
        }
        .to_owned()
    }

    fn figure(&self, item: &ScaleDistanceItem) -> Figure {
        let drawn = item.level == Level::ONE || matches!(item.task, Task::Bends { .. });
        if drawn { item.plan(false) } else { Figure::None }
    }

    fn explanation(&self, item: &ScaleDistanceItem, _given: Option<&Answer>) -> Figure {
        item.plan(true)
    }
}

/// The line straight across three pieces that turn to and fro, in whole millimetres.
fn across(pieces: [i32; 3], turn: i32) -> i32 {
    let end = corners(pieces, turn)[3];
    whole(end.east_m.hypot(end.north_m).round())
}

/// The ends of three pieces that turn to and fro, in millimetres from their beginning.
fn corners(pieces: [i32; 3], turn: i32) -> [MapPoint; 4] {
    let (up, along) = f64::from(turn).to_radians().sin_cos();
    let mut at = MapPoint { east_m: 0.0, north_m: 0.0 };
    let mut next = |length: i32, sign: f64| {
        let length = f64::from(length);
        at = MapPoint { east_m: at.east_m + along * length, north_m: at.north_m + sign * up * length };
        at
    };
    [next(0, 1.0), next(pieces[0], 1.0), next(pieces[1], -1.0), next(pieces[2], 1.0)]
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
        }
    }

    /// `13.6 × 25 = 340`: what is measured, as if the ground were flat.
    fn on_map(&self, scale: Scale) -> String {
        let tenths = match self.task {
            Task::Line { tenths } | Task::Slope { tenths, .. } => tenths,
            Task::Bends { pieces, .. } => pieces.iter().sum::<i32>() * 10,
            Task::Bar { .. } => 0,
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

    /// What is measured, and in an explanation what it is outside.
    fn plan(&self, told: bool) -> Figure {
        let at = |east_m, north_m| MapPoint { east_m, north_m };
        let role = if told { LineRole::Right } else { LineRole::Given };
        let line = |from, to, label| PlanLine { kind: PlanKind::Way(role), through: vec![from, to], label };
        let outside = |of: String, metres: f64| if told { format!("{of}: {} m", short(metres)) } else { of };
        let (mut lines, end) = match self.task {
            Task::Line { tenths } | Task::Slope { tenths, .. } => {
                let end = if matches!(self.task, Task::Slope { .. }) { at(3.0, 1.5) } else { at(3.0, 0.6) };
                (vec![line(at(0.0, 0.0), end, outside(format!("{} mm", mm(tenths)), self.metres()))], end)
            }
            Task::Bar { km, parts } => {
                let (left, right) = (f64::from(-parts) / 10.0, f64::from(km));
                let tick = |x: f64, label: String| PlanLine {
                    kind: PlanKind::Grid,
                    through: vec![at(x, 0.0), at(x, 0.3)],
                    label,
                };
                let mut lines = vec![PlanLine {
                    kind: PlanKind::Grid,
                    through: vec![at(-1.0, 0.0), at(right, 0.0)],
                    label: String::new(),
                }];
                lines.extend((-1..=km).map(|x| tick(f64::from(x), String::new())));
                lines.push(tick(0.0, "0".to_owned()));
                lines.push(tick(right, format!("{km} km")));
                let far = at(right, 0.8);
                lines.push(line(at(left, 0.8), far, outside(format!("{km} km and {parts} tenths"), self.metres())));
                return plan(lines, Vec::new(), self.words(told));
            }
            Task::Bends { pieces, .. } => {
                let corners = corners(pieces, self.bend());
                let piece = |at: usize| line(corners[at], corners[at + 1], format!("{} mm", pieces[at]));
                (vec![piece(0), piece(1), piece(2)], corners[3])
            }
        };
        if let Task::Bends { across, .. } = self.task {
            let label = format!("{across} mm");
            lines.push(PlanLine { kind: PlanKind::Thought, through: vec![at(0.0, 0.0), end], label });
        }
        let place = |at, name: &str| PlanPlace { at, role: LineRole::Given, name: name.to_owned() };
        plan(lines, vec![place(at(0.0, 0.0), self.start), place(end, self.goal)], self.words(told))
    }

    const fn bend(&self) -> i32 {
        if let Task::Bends { turn, .. } = self.task { turn } else { 0 }
    }

    fn words(&self, told: bool) -> String {
        let (start, goal) = (self.start, self.goal);
        let drawn = match self.task {
            Task::Line { tenths } => format!("A line from {start} to {goal}, {} mm on the map", mm(tenths)),
            Task::Slope { tenths, .. } => format!("A line up from {start} to {goal}, {} mm on the map", mm(tenths)),
            Task::Bar { km, parts } => {
                format!("A paper edge on a scale bar, from tenth {parts} left of the zero to {km} km")
            }
            Task::Bends { pieces: [one, two, three], across, .. } => format!(
                "A way with two bends from {start} to {goal}: {one} mm, {two} mm and {three} mm; straight across {across} mm"
            ),
        };
        if told { format!("{drawn}. Outside it is {} m.", short(self.metres())) } else { format!("{drawn}.") }
    }
}

fn plan(lines: Vec<PlanLine>, places: Vec<PlanPlace>, words: String) -> Figure {
    Figure::Plan(PlanFigure { north: None, lines, places, words, says_more: false })
}

#[cfg(test)]
mod tests;
