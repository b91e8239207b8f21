//! C1, grid references: four to eight figures, easting first, cut off and never rounded, since a reference names the square that a
//! place lies in (as MGRS does, NGA.STND.0037; the rest is common practice).

mod meta;
mod romer;

use super::amounts::{GOALS, ORIGIN, line, place};
use crate::ground::GridReference;
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, Level, LineRole,
    MapPoint, MixupList, MixupMeta, PlanFigure, PlanKind, Question, SkillMeta, Step, Tolerance, Value, Wanted,
};
use meta::{FAR_CORNER, FAR_LINES, META, NORTHING_FIRST, POSSIBLE, ROUNDED, SQUARE_BEFORE};
use romer::RomerTask;

/// The skill `grid-reference`.
pub(super) struct GridReferenceSkill;

/// The numbers of one problem.
pub(super) struct GridReferenceItem {
    task: Task,
    goal: &'static str,
}

/// What is asked.
enum Task {
    /// The reference of a place that is told.
    Refer { spot: Spot, figures: u8, letters: Option<[char; 2]> },
    /// The reference of a landmark, read off the map with a romer.
    Read(RomerTask),
    /// Which of four references does not lie on the map, whose first lines east and north are these.
    Impossible { east: i32, north: i32, offered: [Spot; 4], wrong: usize },
}

/// A place: the grid lines of its square, and the metres beyond them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Spot {
    east: Along,
    north: Along,
}

impl Spot {
    /// Whether a text tells the way north before the way east: in half of all, and the same for one place every time.
    const fn tells_north_first(self) -> bool {
        (self.east.line + self.north.line) % 2 == 1
    }
}

/// One of its two numbers: the line passed last, and the metres beyond it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Along {
    line: i32,
    beyond: i32,
}

impl Along {
    const fn metres(self) -> i32 {
        self.line * 1000 + self.beyond
    }

    /// The same metres counted from the next line back.
    const fn backwards(self) -> Along {
        Along { line: self.line, beyond: 1000 - self.beyond }
    }

    /// Rounded to what so many figures hold.
    const fn rounded(self, step: i32) -> Along {
        let metres = (self.metres() + step / 2) / step * step;
        Along { line: metres / 1000, beyond: metres % 1000 }
    }

    const fn next(self) -> Along {
        Along { line: self.line + 1, beyond: self.beyond }
    }
}

impl Spot {
    const fn new(east: Along, north: Along) -> Spot {
        Spot { east, north }
    }

    /// The reference of a place; places are drawn so that there is one.
    fn reference(self, figures: u8, letters: Option<[char; 2]>) -> Option<GridReference> {
        GridReference::of_metres(letters, f64::from(self.east.metres()), f64::from(self.north.metres()), figures)
    }
}

/// The letters of large squares.
const LETTERS: [[char; 2]; 4] = [['N', 'B'], ['K', 'V'], ['R', 'G'], ['T', 'M']];

/// A field for so many figures; read off the map one figure to either side is right.
fn field(figures: u8, lettered: bool, read: bool) -> Field {
    let tolerance = if read { Tolerance::within(145.0) } else { Tolerance::EXACT };
    Field {
        name: "reference",
        label: "grid reference",
        kind: FieldKind::GridReference { figures, lettered },
        tolerance,
    }
}

/// How many metres the last figure counts.
const fn step(figures: u8) -> i32 {
    match figures {
        4 => 1000,
        6 => 100,
        _ => 10,
    }
}

impl Generator for GridReferenceSkill {
    type Item = GridReferenceItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> GridReferenceItem {
        let goal = draw.pick(&GOALS);
        if level == Level::TWO && draw.chance(1, 2) {
            return GridReferenceItem { task: Task::Read(RomerTask::draw(draw)), goal };
        }
        let figures = match level.number() {
            1 => 4,
            3 => 8,
            _ => 6,
        };
        let lines = [draw.between(11, 88), draw.between(11, 88)];
        if level == Level::FOUR && draw.chance(1, 2) {
            return GridReferenceItem { task: impossible(draw), goal };
        }
        let beyond = |draw: &mut Draw, up: bool| match figures {
            // What is left over would be rounded up, so that rounding shows.
            4 if up => draw.between(51, 99) * 10,
            4 => draw.between(5, 49) * 10,
            6 if up => draw.between(0, 8) * 100 + draw.between(6, 9) * 10,
            6 => draw.between(0, 9) * 100 + draw.between(1, 9) * 10,
            _ if up => draw.between(10, 97) * 10 + draw.between(6, 9),
            _ => draw.between(10, 98) * 10 + draw.between(1, 9),
        };
        let up = draw.chance(1, 2);
        let mut spot = Spot {
            east: Along { line: lines[0], beyond: beyond(draw, up) },
            north: Along { line: lines[1], beyond: beyond(draw, !up) },
        };
        if level == Level::FOUR {
            // On a grid line, in one of the two.
            if draw.chance(1, 2) { spot.east.beyond = 0 } else { spot.north.beyond = 0 }
        }
        let letters = (level == Level::THREE && draw.chance(1, 2)).then(|| draw.pick(&LETTERS));
        GridReferenceItem { task: Task::Refer { spot, figures, letters }, goal }
    }

    fn question(&self, item: &GridReferenceItem) -> Question {
        match &item.task {
            Task::Refer { figures, letters, .. } => Question::typed(vec![field(*figures, letters.is_some(), false)]),
            Task::Read(_) => Question::typed(vec![field(6, false, true)]),
            Task::Impossible { offered, .. } => {
                let words: Vec<String> = offered.iter().map(|spot| printed(*spot, 6, None)).collect();
                Question::choose(vec![Field {
                    name: "impossible",
                    label: "which one cannot be right",
                    kind: FieldKind::Choice(Choices::Own(words.into())),
                    tolerance: Tolerance::EXACT,
                }])
            }
        }
    }

    fn answer(&self, item: &GridReferenceItem) -> Answer {
        match &item.task {
            Task::Refer { spot, figures, letters } => answer(*spot, *figures, *letters),
            Task::Read(map) => answer(map.spot, 6, None),
            Task::Impossible { wrong, .. } => Answer::choice(*wrong),
        }
    }

    fn mixups(&self, item: &GridReferenceItem, list: &mut MixupList) {
        match &item.task {
            Task::Read(RomerTask { spot, .. }) | Task::Refer { spot, .. } => {
                let (figures, letters) = item.kind();
                let (spot, read) = (*spot, matches!(item.task, Task::Read(_)));
                let mut push = |meta: &'static MixupMeta, wrong: Spot, how: &str| {
                    list.push(meta, answer(wrong, figures, letters), || {
                        format!("{how}: {}", printed(wrong, figures, letters))
                    });
                };
                let Spot { east, north } = spot;
                push(&NORTHING_FIRST, Spot::new(north, east), "First north, then east");
                push(&FAR_CORNER, Spot::new(east.next(), north.next()), "By the upper right corner");
                let on_line = east.beyond == 0 || north.beyond == 0;
                if figures > 4 && !on_line {
                    push(
                        &FAR_LINES,
                        Spot::new(east.backwards(), north.backwards()),
                        "Counted from the right and the upper line",
                    );
                }
                if !read && !on_line {
                    let step = step(figures);
                    push(&ROUNDED, Spot::new(east.rounded(step), north.rounded(step)), "Rounded");
                }
                if on_line {
                    let before = |along: Along| {
                        if along.beyond == 0 { Along { line: along.line - 1, beyond: 950 } } else { along }
                    };
                    push(&SQUARE_BEFORE, Spot::new(before(east), before(north)), "In the square before the line");
                }
            }
            Task::Impossible { offered, wrong, .. } => {
                for (at, spot) in offered.iter().enumerate().filter(|(at, _)| at != wrong) {
                    list.push(&POSSIBLE, Answer::choice(at), || {
                        format!(
                            "{}: square {} east, {} north, on the map",
                            printed(*spot, 6, None),
                            spot.east.line,
                            spot.north.line
                        )
                    });
                }
            }
        }
    }

    fn right_way(&self, item: &GridReferenceItem) -> String {
        match &item.task {
            Task::Read(RomerTask { spot, .. }) | Task::Refer { spot, .. } => {
                let (figures, letters) = item.kind();
                format!("East first, then north, each by the lines passed: {}", printed(*spot, figures, letters))
            }
            Task::Impossible { offered, wrong, .. } => {
                let spot = offered[*wrong];
                format!(
                    "{}: square {} east, {} north, off the map",
                    printed(spot, 6, None),
                    spot.east.line,
                    spot.north.line
                )
            }
        }
    }

    fn facts(&self, item: &GridReferenceItem) -> Facts {
        let number = |name, number: i32| Fact::own_number(name, f64::from(number));
        match &item.task {
            Task::Read(RomerTask { spot, .. }) | Task::Refer { spot, .. } => {
                let (figures, letters) = item.kind();
                let wanted = if matches!(item.task, Task::Read(_)) { "reference_by_romer" } else { "grid_reference" };
                let mut facts = vec![
                    number("east_line", spot.east.line),
                    number("east_of_line_m", spot.east.beyond),
                    number("north_line", spot.north.line),
                    number("north_of_line_m", spot.north.beyond),
                    number("figures", i32::from(figures)),
                    Fact::wanted(Wanted::own(wanted)),
                ];
                facts.extend(
                    letters.map(|letters| Fact::own_word("square_letters", letters.iter().collect::<String>())),
                );
                facts.into()
            }
            Task::Impossible { east, north, offered, .. } => {
                let names = ["first_reference", "second_reference", "third_reference", "fourth_reference"];
                let mut facts = vec![number("first_east_line", *east), number("first_north_line", *north)];
                facts.extend(
                    names.into_iter().zip(offered).map(|(name, spot)| Fact::own_word(name, printed(*spot, 6, None))),
                );
                facts.push(Fact::wanted(Wanted::own("impossible_reference")));
                facts.into()
            }
        }
    }

    fn prompt(&self, item: &GridReferenceItem) -> String {
        let goal = item.goal;
        match &item.task {
            Task::Read(map) => map.prompt(),
            Task::Refer { spot, figures, letters } => {
                let along = |along: Along, way: &str, runs: &str| match along.beyond {
                    0 => format!("exactly on the {runs} grid line {}", along.line),
                    beyond => format!("{beyond} m {way} of grid line {}", along.line),
                };
                let square = letters.map_or_else(String::new, |[a, b]| format!(", in the large square {a}{b}"));
                let (east, north) = (along(spot.east, "east", "north-south"), along(spot.north, "north", "east-west"));
                // Told east first every time, the figures could be written down in the order in which one reads them.
                let (one, other) = if spot.tells_north_first() { (north, east) } else { (east, north) };
                format!(
                    "You tell the others where to meet you: {goal} lies {one} and {other}{square}. Which grid reference do you give, with {} figures?",
                    count(*figures)
                )
            }
            Task::Impossible { east, north, offered, .. } => {
                let [one, two, three, four] = offered.map(|spot| printed(spot, 6, None));
                format!(
                    "Your map reaches from grid line {east} to {} east, and from {north} to {} north. By radio you are told {one}, {two}, {three} and {four}. One of them cannot be right. Which?",
                    east + 10,
                    north + 10
                )
            }
        }
    }

    fn steps(&self, item: &GridReferenceItem) -> Vec<Step> {
        match &item.task {
            Task::Read(map) => map.steps(),
            Task::Refer { spot, figures, letters } => {
                let whole = printed(*spot, *figures, *letters);
                let bare = printed(*spot, *figures, None);
                let (east, north) = bare.split_at(usize::from(*figures / 2));
                let way = FigurePart::Line(LineRole::Right);
                let about = |along: Along, toward: &str| match (*figures, along.beyond) {
                    (4, beyond) => format!("Line {}, and {beyond} m on: still the same square", along.line),
                    (_, 0) => format!("Just on line {}: reached, and nothing beyond it", along.line),
                    (6, beyond) => {
                        format!("Line {}, and {beyond} m to the {toward}, of which whole hundreds count", along.line)
                    }
                    (_, beyond) => {
                        format!("Line {}, and {beyond} m to the {toward}, of which whole tens count", along.line)
                    }
                };
                // `7 × 100 + 80 = 780, so 347`.
                let parts = |along: Along, half: &str| match (*figures, along.beyond) {
                    (4, _) | (_, 0) => half.to_owned(),
                    (figures, beyond) => {
                        let step = step(figures);
                        format!("{} × {step} + {} = {beyond}, so {half}", beyond / step, beyond % step)
                    }
                };
                vec![
                    Step::words(
                        "A reference names a square and no point, by its corner in the south-west: so only lines that you have passed are counted, and nothing is rounded",
                    ),
                    Step::new(about(spot.east, "east"), parts(spot.east, east))
                        .about(way)
                        .decides(match figures {
                            4 => "Along first: which line have you passed last",
                            _ => "Along first: which line have you passed, and how many parts beyond it",
                        }),
                    Step::new(about(spot.north, "north"), parts(spot.north, north))
                        .about(way)
                        .decides(match figures {
                            4 => "Then up: which line have you passed last",
                            _ => "Then up: which line have you passed, and how many parts beyond it",
                        }),
                    Step::new(
                        match letters {
                            // Common practice: without its letters a reference comes again every 100 km.
                            Some(_) => "East before north, in one number, behind the letters of the large square: the numbers alone come again every 100 km",
                            None => "East before north, in one number",
                        },
                        whole,
                    )
                    .answers(),
                ]
            }
            Task::Impossible { east, north, offered, wrong } => {
                let mut steps = vec![Step::words(format!(
                    "The first half counts to the east and must begin with {east} to {}; the second counts to the north, {north} to {}",
                    east + 9,
                    north + 9
                ))];
                steps.extend(offered.iter().map(|spot| {
                    Step::words(format!(
                        "{}: {} east, {} north",
                        printed(*spot, 6, None),
                        spot.east.line,
                        spot.north.line
                    ))
                }));
                let on = |first: &i32, along: Along| (*first..first + 10).contains(&along.line);
                let Spot { east: right, north: up } = offered[*wrong];
                let why = match (on(east, right), on(north, up)) {
                    (false, true) => "Off the map to the side, since its first half is no line of the map",
                    (true, false) => "Off the map above or below, since its second half is no line of the map",
                    _ => "Off the map, as if northing and easting were exchanged",
                };
                steps.push(Step::new(why, printed(offered[*wrong], 6, None)).answers());
                steps
            }
        }
    }

    fn hint(&self, item: &GridReferenceItem) -> String {
        match item.task {
            Task::Read(_) => "First the romer's corner on A, its edges along the grid lines. Then along its upper edge: which of its numbers has the grid line passed? And then up its right edge.",
            Task::Refer { .. } => "Go along the bottom of the map first, then up. Which line do you pass last on each way, and how many whole parts beyond it?",
            Task::Impossible { .. } => "Take the first two figures of each half: which square is that, and does the map have it?",
        }
        .to_owned()
    }

    fn figure(&self, item: &GridReferenceItem) -> Figure {
        if let Task::Read(map) = &item.task { map.figure(false) } else { Figure::None }
    }

    fn explanation(&self, item: &GridReferenceItem, given: Option<&Answer>) -> Figure {
        if let Task::Read(map) = &item.task { map.explained(given) } else { item.plan() }
    }

    fn step_figure(&self, item: &GridReferenceItem, step: usize) -> Option<Figure> {
        if let Task::Read(map) = &item.task { Some(map.step(step)) } else { None }
    }
}

fn answer(spot: Spot, figures: u8, letters: Option<[char; 2]>) -> Answer {
    Answer::one(spot.reference(figures, letters).map_or(Value::Blank, Value::Grid))
}

fn printed(spot: Spot, figures: u8, letters: Option<[char; 2]>) -> String {
    spot.reference(figures, letters).map_or_else(String::new, |reference| reference.to_string())
}

const fn count(figures: u8) -> &'static str {
    match figures {
        4 => "four",
        6 => "six",
        _ => "eight",
    }
}

/// Four references of one map, of which one lies off it: northing and easting exchanged, or one of them a little past the border.
fn impossible(draw: &mut Draw) -> Task {
    // Not from one ten to the next, or the first figure alone would tell; and so far apart that the exchanged one lies off the map.
    let (low, apart) = (draw.between(14, 48), draw.between(15, 35));
    let (east, north) = if draw.chance(1, 2) { (low, low + apart) } else { (low + apart, low) };
    let mut along = |line: i32| Along { line: line + draw.between(0, 9), beyond: draw.between(0, 9) * 100 };
    let mut offered = [0; 4].map(|_| Spot { east: along(east), north: along(north) });
    let wrong = draw.between(0, 3).unsigned_abs() as usize;
    let Spot { east: right, north: up } = offered[wrong];
    let past = |first: i32, along: Along, draw: &mut Draw| {
        let by = draw.between(1, 3);
        Along { line: if draw.chance(1, 2) { first - by } else { first + 9 + by }, ..along }
    };
    offered[wrong] = match draw.below(4) {
        0 => Spot { east: past(east, right, draw), north: up },
        1 => Spot { east: right, north: past(north, up, draw) },
        _ => Spot { east: up, north: right },
    };
    Task::Impossible { east, north, offered, wrong }
}

impl GridReferenceItem {
    /// How many figures are asked for, and the letters of the large square where the map has them.
    fn kind(&self) -> (u8, Option<[char; 2]>) {
        if let Task::Refer { figures, letters, .. } = self.task { (figures, letters) } else { (6, None) }
    }

    /// The square with its tenths, and the way along and up.
    fn plan(&self) -> Figure {
        let Task::Refer { spot, figures, .. } = self.task else { return Figure::None };
        let at = |east: i32, north: i32| MapPoint { east_m: f64::from(east), north_m: f64::from(north) };
        let grid = |through: Vec<MapPoint>, label: String| line(PlanKind::Grid, through, label);
        let mut lines = Vec::new();
        for far in [0, 1000] {
            lines.push(grid(vec![at(far, 0), at(far, 1000)], String::new()));
            lines.push(grid(vec![at(0, far), at(1000, far)], String::new()));
            lines.push(grid(vec![at(far, -60), at(far, -140)], format!("{}", spot.east.line + far / 1000)));
            lines.push(grid(vec![at(-140, far), at(-60, far)], format!("{}", spot.north.line + far / 1000)));
        }
        for tenth in (100..1000).step_by(100) {
            lines.push(grid(vec![at(tenth, 0), at(tenth, 40)], String::new()));
            lines.push(grid(vec![at(0, tenth), at(40, tenth)], String::new()));
        }
        let (east, north) = (spot.east.beyond, spot.north.beyond);
        let way = PlanKind::Way(LineRole::Right);
        lines.push(line(way, vec![ORIGIN, at(east, 0)], "along"));
        lines.push(line(way, vec![at(east, 0), at(east, north)], "up"));
        let goal = self.goal;
        let words = format!(
            "A square of the map, between grid lines {} and {} east, {} and {} north. {} lies between tenths {} and {} of it to the east, {} and {} to the north. Along first, then up: {}.",
            spot.east.line,
            spot.east.line + 1,
            spot.north.line,
            spot.north.line + 1,
            crate::problem::capital(goal),
            east / 100,
            east / 100 + 1,
            north / 100,
            north / 100 + 1,
            printed(spot, figures, None)
        );
        let places = vec![place(at(east, north), goal)];
        Figure::Plan(PlanFigure { north: None, needle: None, lines, places, words, says_more: false })
    }
}

#[cfg(test)]
mod tests;
