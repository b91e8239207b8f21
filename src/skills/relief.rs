//! C8, reading the relief: what shape the ground has, where it is steep, which way it falls, and what it hides (common practice, no
//! source).

mod drawn;
mod find;
mod lattice;
mod meta;

use super::common::{InTenths, NOT_APPLIED, SIGN_FLIPPED, bearing, bearing_of, change_words, east_west, sum};
use crate::angle::{Bearing, Declination, Magnetic, North, True};
use crate::problem::{
    Answer, Choices, Draw, Fact, FactName, Facts, Field, FieldKind, Figure, Generator, HomeAngles, Level, MixupList,
    MixupMeta, Question, SkillMeta, Step, Tolerance, Value, Wanted, capital,
};
use find::Task;
use lattice::{Lattice, Node, Shape, WAYS};
use meta::{ALONG_CONTOUR, CLOSER_FLATTER, GAPS_UNCOMPARED, META, SIDES_LEFT_OUT, SPUR_REENTRANT, TOP_SADDLE, UPHILL};

/// The skill `relief`.
pub(super) struct Relief;

/// One problem.
pub(super) struct ReliefItem {
    lattice: &'static Lattice,
    task: Task,
}

/// The letters of the places.
const LETTERS: [&str; 4] = ["A", "B", "C", "D"];

const fn choice(name: &'static str, label: &'static str, words: &'static [&'static str]) -> Field {
    Field { name, label, kind: FieldKind::Choice(Choices::Fixed(words)), tolerance: Tolerance::EXACT }
}

static SHAPE: [Field; 1] = [choice("shape", "what the ground is like at P", &Shape::WORDS)];
static STEEPEST: [Field; 1] = [choice("steepest", "where it is steepest", &["A", "B", "C"])];
static PLACE: [Field; 1] = [choice("place", "where you may stand", &LETTERS)];
static HIDDEN: [Field; 1] = [choice("hidden", "which of them is hidden", &["A", "B", "C"])];

/// The facts of a place: its height and those 100 m to its four sides.
const PLACE_FACTS: [[&str; 5]; 4] = [
    ["a_m", "a_north_m", "a_east_m", "a_south_m", "a_west_m"],
    ["b_m", "b_north_m", "b_east_m", "b_south_m", "b_west_m"],
    ["c_m", "c_north_m", "c_east_m", "c_south_m", "c_west_m"],
    ["d_m", "d_north_m", "d_east_m", "d_south_m", "d_west_m"],
];
/// Those of a place that is looked at from another: the heights on the way, and its own.
const WAY_FACTS: [[&str; 4]; 3] = [
    ["a_quarter_m", "a_half_m", "a_three_quarters_m", "a_m"],
    ["b_quarter_m", "b_half_m", "b_three_quarters_m", "b_m"],
    ["c_quarter_m", "c_half_m", "c_three_quarters_m", "c_m"],
];
/// Those of the ground round one place.
const ROUND_FACTS: [&str; 8] =
    ["north_m", "north_east_m", "east_m", "south_east_m", "south_m", "south_west_m", "west_m", "north_west_m"];

impl Generator for Relief {
    type Item = ReliefItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> ReliefItem {
        find::find(level, draw)
    }

    fn question(&self, item: &ReliefItem) -> Question {
        Question::choose(match item.task {
            Task::Shape { .. } => &SHAPE,
            Task::Steepest { .. } => &STEEPEST,
            Task::Falls { .. } => &PLACE,
            Task::Hidden { .. } => &HIDDEN,
        })
    }

    fn answer(&self, item: &ReliefItem) -> Answer {
        Answer::choice(item.right())
    }

    fn mixups(&self, item: &ReliefItem, list: &mut MixupList) {
        let right = item.right();
        for at in (0..item.choices()).filter(|at| *at != right) {
            if let Some(meta) = item.fault(at) {
                list.push(meta, Answer::choice(at), || item.says(at));
            }
        }
    }

    fn right_way(&self, item: &ReliefItem) -> String {
        let said = item.says(item.right());
        match item.task {
            Task::Falls { declination, .. } => {
                let felt = item.felt(declination);
                format!("From compass to map {}. {said}", sum(felt.in_tenths(), declination.in_tenths()))
            }
            _ => said,
        }
    }

    fn facts(&self, item: &ReliefItem) -> Facts {
        let metres = |name, metres: i32| Fact::own_number(name, f64::from(metres));
        let mut facts = Vec::new();
        match item.task {
            Task::Shape { place, .. } => {
                let height = item.lattice.height(place);
                facts.push(metres("p_m", height));
                let rises = item.lattice.rises(place).unwrap_or_default();
                facts.extend(ROUND_FACTS.into_iter().zip(rises).map(|(name, rise)| metres(name, height + rise)));
            }
            Task::Hidden { stand, ways } => {
                facts.push(metres("stand_m", item.lattice.height(stand)));
                for (names, way) in WAY_FACTS.iter().zip(ways) {
                    let heights = item.lattice.along(stand, way).unwrap_or_default();
                    facts.extend(names.iter().zip(heights).map(|(name, height)| metres(name, height)));
                }
            }
            Task::Steepest { .. } | Task::Falls { .. } => {
                for (names, place) in PLACE_FACTS.iter().zip(item.places()) {
                    let around = item.lattice.around(place).unwrap_or_default();
                    let heights = std::iter::once(item.lattice.height(place)).chain(around);
                    facts.extend(names.iter().zip(heights).map(|(name, height)| metres(name, height)));
                }
            }
        }
        if let Task::Falls { declination, .. } = item.task {
            facts.push(Fact::angle(FactName::MagneticBearing, item.felt(declination).angle()));
            facts.push(Fact::angle(FactName::Declination, declination.angle()));
        }
        facts.push(Fact::wanted(Wanted::own(match item.task {
            Task::Shape { .. } => "shape_of_ground",
            Task::Steepest { .. } => "steepest_place",
            Task::Falls { .. } => "place_by_fall",
            Task::Hidden { .. } => "hidden_place",
        })));
        facts.into()
    }

    fn prompt(&self, item: &ReliefItem) -> String {
        let drawn = format!("The patch of map has true north up and a contour line every {} m.", item.interval());
        match item.task {
            Task::Shape { .. } => {
                format!("{drawn} What is the ground like at P: a top, a saddle, a spur or a re-entrant?")
            }
            Task::Steepest { .. } => format!(
                "{drawn} You pull a laden cart and want to keep off the steepest ground. At which of the places A, B and C is it steepest?"
            ),
            Task::Falls { declination, .. } => format!(
                "Fog. {drawn} Where you stand the ground falls straight to {} by your compass; declination is {}. At which of the places A to D may you be?",
                bearing(item.felt(declination), North::Magnetic),
                east_west(declination)
            ),
            Task::Hidden { .. } => format!(
                "{drawn} You stand at S, with open ground all round, and look for your friends. Which of the places A, B and C does the ground hide from you?"
            ),
        }
    }

    fn steps(&self, item: &ReliefItem) -> Vec<Step> {
        let mut steps = vec![Step::words(match item.task {
            Task::Shape { .. } => {
                "Each line joins places of one height, so only the numbers tell which side of it is up: read two of them first"
            }
            Task::Steepest { .. } => {
                "From line to line it is always the same height, so where the lines stand close that height comes within few steps"
            }
            Task::Falls { .. } => {
                "Water takes the shortest way from a line to the next lower one, so the ground falls across the lines, at right angles"
            }
            Task::Hidden { .. } => {
                "You see along straight lines, so a place is hidden where ground between stands above the line from your eye to it"
            }
        })];
        if let Task::Falls { declination, .. } = item.task {
            let change = change_words(North::True, declination.in_tenths(), false);
            let words = format!(
                "The compass counts from magnetic north and the patch has true north up, so change first. {change}"
            );
            steps.push(
                Step::new(words, sum(item.felt(declination).in_tenths(), declination.in_tenths()))
                .decides("The compass counts from magnetic north, the patch has true north up: is declination added or taken off?"),
            );
        }
        match item.task {
            Task::Shape { .. } => {
                steps.push(Step::words(item.says_of_sides()).decides("To which sides of P does the ground rise"))
            }
            _ => steps.extend((0..item.choices()).map(|at| Step::words(item.says(at)).decides(item.asks()))),
        }
        steps.push(Step::new(item.why(), item.word(item.right())).answers());
        steps
    }

    fn hint(&self, item: &ReliefItem) -> String {
        match item.task {
            Task::Shape { .. } => "Go round P once, with the heights: to how many sides does the ground rise, and to how many does it fall?",
            Task::Steepest { .. } => "How far is it from one line to the next at each of the three?",
            Task::Falls { .. } => "First bring the compass's bearing to true north. Then, at each place: which side of the lines is down, and which way leads straight across them?",
            Task::Hidden { .. } => "Think of a ruler laid from S to each of them: does the ground under it rise above a straight line from your eye?",
        }
        .to_owned()
    }

    fn figure(&self, item: &ReliefItem) -> Figure {
        item.patch(None, None)
    }

    fn explanation(&self, item: &ReliefItem, given: Option<&Answer>) -> Figure {
        let chosen = given.and_then(|given| if let [Value::Choice(at)] = given.values() { Some(*at) } else { None });
        item.patch(Some(item.right()), chosen)
    }
}

/// `north, east and south`.
fn listed(sides: &[&str]) -> String {
    match sides {
        [before @ .., last] if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => sides.join(""),
    }
}

impl ReliefItem {
    /// The places that have letters, A first.
    fn places(&self) -> Vec<Node> {
        match self.task {
            Task::Shape { place, .. } => vec![place],
            Task::Steepest { places } => places.to_vec(),
            Task::Falls { places, .. } => places.to_vec(),
            Task::Hidden { stand, ways } => {
                ways.iter().filter_map(|(east, north)| self.lattice.from(stand, 4 * east, 4 * north)).collect()
            }
        }
    }

    fn choices(&self) -> usize {
        match self.task {
            Task::Shape { .. } | Task::Falls { .. } => 4,
            Task::Steepest { .. } | Task::Hidden { .. } => 3,
        }
    }

    /// Whether the lines show what is asked: where a side rises or falls by far less than their step, the shape cannot be seen. Of
    /// saddles and re-entrants there are few, and they are told by more than their flattest side.
    fn is_seen_in_lines(&self) -> bool {
        let Task::Shape { place, shape } = self.task else { return true };
        let least = self.lattice.rises(place).unwrap_or_default().map(i32::abs).into_iter().min();
        let parts = if matches!(shape, Shape::Saddle | Shape::Reentrant) { 4 } else { 2 };
        let told = least.is_some_and(|least| parts * least >= self.interval());
        told && (shape != Shape::Top || self.lattice.is_topmost(place, self.interval()))
    }

    /// The word of a choice.
    fn word(&self, at: usize) -> &'static str {
        if matches!(self.task, Task::Shape { .. }) { Shape::WORDS[at] } else { LETTERS[at] }
    }

    /// How steep it is at a place: metres of height over 200 m.
    fn steep(&self, place: Node) -> f64 {
        self.lattice.fall(place).map_or(0.0, |fall| fall.metres)
    }

    /// Which way the ground falls at a place.
    fn toward(&self, place: Node) -> Bearing<True> {
        self.lattice.fall(place).map_or(bearing_of(0), |fall| fall.toward)
    }

    /// What the compass shows of the fall at the right place.
    fn felt(&self, declination: Declination) -> Bearing<Magnetic> {
        let right = self.places().get(self.right()).map_or(bearing_of(0), |place| self.toward(*place));
        right.to(declination)
    }

    /// The heights on the way from the stand to a place, and there; where it stands above the straight line most.
    fn sight(&self, at: usize) -> (i32, [i32; 4]) {
        let Task::Hidden { stand, ways } = self.task else { return (0, [0; 4]) };
        (self.lattice.height(stand), self.lattice.along(stand, ways[at]).unwrap_or_default())
    }

    fn right(&self) -> usize {
        let most = |value: &dyn Fn(usize) -> f64| {
            (0..self.choices()).max_by(|one, other| value(*one).total_cmp(&value(*other))).unwrap_or(0)
        };
        match self.task {
            Task::Shape { shape, .. } => shape as usize,
            Task::Steepest { places } => most(&|at| self.steep(places[at])),
            Task::Falls { right, .. } => right,
            Task::Hidden { .. } => most(&|at| {
                let (stand, heights) = self.sight(at);
                find::over(stand, heights)
            }),
        }
    }

    /// What somebody did who chose this.
    fn fault(&self, at: usize) -> Option<&'static MixupMeta> {
        let right = self.right();
        match self.task {
            Task::Shape { shape, .. } => {
                let bends = |shape| matches!(shape, Shape::Spur | Shape::Reentrant);
                Some(match (bends(shape), bends(Shape::ALL[at])) {
                    (true, true) => &SPUR_REENTRANT,
                    (false, false) => &TOP_SADDLE,
                    _ => &SIDES_LEFT_OUT,
                })
            }
            Task::Steepest { places } => {
                let flattest = places.iter().all(|other| self.steep(*other) >= self.steep(places[at]));
                Some(if flattest { &CLOSER_FLATTER } else { &GAPS_UNCOMPARED })
            }
            Task::Falls { places, declination, .. } => {
                find::fault_of_fall(self.toward(places[right]), self.toward(places[at]), declination)
            }
            Task::Hidden { .. } => Some(find::fault_of_sight(self.sight(at).1[3], self.sight(right).1[3])),
        }
    }

    /// What is to be said of a choice.
    fn says(&self, at: usize) -> String {
        let letter = LETTERS[at];
        match self.task {
            Task::Shape { .. } => {
                let does = match Shape::ALL[at] {
                    Shape::Top => "from a top the ground falls to all sides",
                    Shape::Saddle => "from a saddle it rises to two sides and falls to the two between",
                    Shape::Spur => "on a spur it rises to one side and falls to all others",
                    Shape::Reentrant => "in a re-entrant it falls to one side and rises to all others",
                };
                if at == self.right() { format!("{}; {does}", self.says_of_sides()) } else { capital(does) }
            }
            Task::Steepest { places } => {
                format!(
                    "At {letter}, straight down the slope, there are about {} m of height on 200 m",
                    self.steep(places[at]).round()
                )
            }
            Task::Falls { places, declination, .. } => {
                let falls = self.toward(places[at]);
                let right = self.toward(places[self.right()]);
                let does = match find::fault_of_fall(right, falls, declination) {
                    Some(fault) if *fault == UPHILL => ", and where you stand it rises that way",
                    Some(fault) if *fault == ALONG_CONTOUR => ", and the way down that you felt runs along its lines",
                    Some(fault) if *fault == SIGN_FLIPPED => ", which fits a sum with the wrong sign",
                    Some(fault) if *fault == NOT_APPLIED => ", which fits the compass's number as it is",
                    _ => "",
                };
                format!(
                    "At {letter}, square across the lines to the lower one, the ground falls to about {}{does}",
                    bearing(falls, North::True)
                )
            }
            Task::Hidden { .. } => {
                let (stand, heights) = self.sight(at);
                let worst = |quarter: &usize| f64::from(heights[*quarter]) - find::straight(stand, heights, *quarter);
                let quarter = (0..3).max_by(|one, other| worst(one).total_cmp(&worst(other))).unwrap_or(1);
                let place = ["a quarter of the way", "half-way", "three quarters of the way"][quarter];
                let line = find::straight(stand, heights, quarter).round();
                let word = if worst(&quarter) > 0.0 { "above it" } else { "below it" };
                format!(
                    "Toward {letter} the straight line is at about {line} m {place}, and the ground there at {} m, {word}",
                    heights[quarter]
                )
            }
        }
    }

    /// `P lies between the lines of 540 and 550. Toward the higher one, to the north, the ground rises; to all other sides it falls`.
    fn says_of_sides(&self) -> String {
        let Task::Shape { place, shape } = self.task else { return String::new() };
        let rises = self.lattice.rises(place).unwrap_or_default();
        let up: Vec<&str> = WAYS.iter().zip(rises).filter(|(_, rise)| *rise > 0).map(|(way, _)| way.2).collect();
        let down: Vec<&str> = WAYS.iter().zip(rises).filter(|(_, rise)| *rise < 0).map(|(way, _)| way.2).collect();
        let (height, step) = (self.lattice.height(place), self.interval());
        let below = height.div_euclid(step) * step;
        let lies = if below == height {
            format!("P lies on the line of {height}")
        } else if shape == Shape::Top {
            // No line of the next height is there.
            format!("P lies within the line of {below}")
        } else {
            format!("P lies between the lines of {below} and {}", below + step)
        };
        if up.is_empty() {
            format!("{lies}. Wherever you go from it, the lower line comes next: the ground falls to all sides")
        } else if up.len() <= down.len() {
            format!(
                "{lies}. Toward a higher line, to the {}, the ground rises; to all other sides it falls",
                listed(&up)
            )
        } else {
            format!(
                "{lies}. Toward a lower line, to the {}, the ground falls; to all other sides it rises",
                listed(&down)
            )
        }
    }

    const fn asks(&self) -> &'static str {
        match self.task {
            Task::Shape { .. } => "To which sides of P does the ground rise",
            Task::Steepest { .. } => "How close do the lines stand at each place",
            Task::Falls { .. } => "Which way does the ground fall at each place",
            Task::Hidden { .. } => "Does the ground between stand above the straight line",
        }
    }

    fn why(&self) -> &'static str {
        match self.task {
            Task::Shape { .. } => match Shape::ALL[self.right() % Shape::ALL.len()] {
                Shape::Top => "What falls to all sides is a top",
                Shape::Saddle => "What rises on two sides that face each other and falls between them is a saddle",
                Shape::Spur => "High ground that reaches out and falls to all its other sides is a spur",
                Shape::Reentrant => "A hollow that runs down one way between higher ground is a re-entrant",
            },
            Task::Steepest { .. } => "Most height on the same ground",
            Task::Falls { .. } => "The place whose fall fits",
            Task::Hidden { .. } => "The ground between hides",
        }
    }

    /// The number that the felt fall has on the map.
    #[cfg(test)]
    fn on_map(&self, declination: Declination) -> i32 {
        super::common::wrap(self.felt(declination).in_tenths() + declination.in_tenths())
    }
}

#[cfg(test)]
mod tests;
