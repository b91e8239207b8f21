//! C7, bearings by the needle on an oriented map: magnetic at once, with nothing to add and nothing to take off.

use super::common::{Tenths, WRONG_END, angle, figures, push_east_west, push_number, push_size, tenths, wrap};
use super::hands::{
    ARROW_BACK, CORRECTED_AGAIN, LINES_FOR_NEEDLE, MAP_FOR_DIAL, Places, READ_AT_NEEDLE, SOUTH_END_BOXED, Sheet, apart,
    number_id, shown_steps,
};
use crate::angle::{Angle, Bearing, North};
use crate::maptable::{Exercise, Fault, Task, wrong_readings};
use crate::problem::{
    Answer, Draw, Fact, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupId, MixupList, NorthLines, Paths,
    Question, SkillMeta, Step, TableProblem, Value,
};
use crate::terrain::Ruled;

/// The skill `oriented-bearing`.
pub(super) struct OrientedBearing;

/// The numbers of one problem.
pub(super) struct Item {
    places: Places,
    north: North,
    declination: Tenths,
    iron: Tenths,
}

const fn field(name: &'static str, label: &'static str) -> Field {
    Field { name, label, kind: FieldKind::Bearing(North::Magnetic), tolerance: 3.0 }
}
static LEGS: [Field; 3] = [field("p_to_q", "P to Q"), field("q_to_s", "Q to S"), field("s_to_p", "S to P")];

/// Answers that can be told apart differ by more than this.
const TOLD: Tenths = 60;

static META: SkillMeta = SkillMeta {
    id: "oriented-bearing",
    mark: "C7",
    family: Family::Map,
    title: "Bearings on an oriented map, by the needle",
    can: "Takes magnetic bearings off an oriented map with the needle, and corrects nothing afterwards.",
    levels: [
        "one leg, map oriented by a magnetic-north line",
        "two legs, map oriented by a true-north line",
        "three legs, map oriented by grid lines",
        "the map lies a little off: an old line, or iron near",
    ],
    prerequisites: &["set-dial", "orient-magnetic-line"],
    mixups: &[WRONG_END, ARROW_BACK, SOUTH_END_BOXED, LINES_FOR_NEEDLE, READ_AT_NEEDLE, CORRECTED_AGAIN, MAP_FOR_DIAL],
    lines: NorthLines::Any,
    on_home: false,
    generation: 2,
};

impl Item {
    /// What right work reads for a leg.
    fn right(&self, leg: usize) -> Tenths {
        let toward = self.places.toward.get(leg).copied().unwrap_or(0);
        wrap(toward + self.places.lies - self.declination - self.iron)
    }

    /// What right work reads, leg by leg.
    fn readings(&self) -> Vec<Tenths> {
        (0..self.places.legs.len()).map(|leg| self.right(leg)).collect()
    }

    fn exercise(&self) -> Exercise {
        self.places.exercise(self.task(), self.declination, self.iron)
    }

    /// The numbers of somebody who makes the same mistake at each leg, as far as they can be told from the right ones and from
    /// each other; the first keeps its name.
    fn wrong(&self) -> Vec<(MixupId, Vec<Tenths>)> {
        let exercise = self.exercise();
        let legs: Vec<Vec<(Fault, Angle)>> =
            self.places.legs.iter().map(|leg| wrong_readings(&exercise, *leg)).collect();
        let right = self.readings();
        let differ = |one: &[Tenths], other: &[Tenths]| one.iter().zip(other).any(|(a, b)| apart(*a, *b, TOLD));
        let mut told: Vec<(MixupId, Vec<Tenths>)> = Vec::new();
        for (at, (fault, _)) in legs.first().into_iter().flatten().enumerate() {
            let numbers: Vec<Tenths> =
                legs.iter().filter_map(|leg| leg.get(at)).map(|(_, number)| wrap(tenths(*number))).collect();
            if differ(&numbers, &right) && told.iter().all(|(_, other)| differ(&numbers, other)) {
                told.push((number_id(*fault), numbers));
            }
        }
        told
    }

    fn task(&self) -> Task {
        Task::OrientedBearing { legs: self.places.legs.clone(), lies: Bearing::from_angle(angle(self.places.lies)) }
    }

    const fn line_words(&self) -> &'static str {
        match self.north {
            North::True => "a true-north line",
            North::Grid => "a grid line",
            North::Magnetic => "a magnetic-north line",
        }
    }
}

fn answer_of(numbers: &[Tenths]) -> Answer {
    let value = |at: usize| Value::Angle(angle(numbers.get(at).copied().unwrap_or(0)));
    match numbers.len() {
        0 | 1 => Answer::one(value(0)),
        2 => Answer::two(value(0), value(1)),
        _ => Answer::three(value(0), value(1), value(2)),
    }
}

fn figures_of(numbers: &[Tenths]) -> String {
    numbers.iter().map(|number| figures(*number)).collect::<Vec<String>>().join(", ")
}

impl Generator for OrientedBearing {
    type Item = Item;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> Item {
        let (north, legs) = match level.number() {
            1 => (North::Magnetic, 1),
            2 => (North::True, 2),
            3 => (North::Grid, 3),
            _ => (draw.pick(&[North::Magnetic, North::True]), 1),
        };
        let declination = draw.between(8, 25) * 10 * draw.sign();
        let convergence = draw.between(2, 4) * 10 * draw.sign();
        // At level 4 the line is old, or iron turns needle and map alike.
        let old = level == Level::FOUR && north == North::Magnetic;
        let printed = if old { declination + draw.between(4, 7) * 10 * draw.sign() } else { declination };
        let iron = if level == Level::FOUR && !old { draw.between(5, 15) * 10 * draw.sign() } else { 0 };
        let ruled = Ruled {
            grid: north == North::Grid,
            true_lines: if north == North::True { 3 } else { 0 },
            magnetic_lines: if north == North::Magnetic { 3 } else { 0 },
            diagram: false,
        };
        let year = if old { 2026 - draw.between(18, 35) } else { 2026 };
        let sheet = Sheet { seed: draw.below(1 << 20), printed, convergence, year, ruled };
        let lies = if old { declination - printed } else { iron };
        let mut item = Item { places: Places::draw(sheet, legs, wrap(lies), draw), north, declination, iron };
        item.places.begin_away_from(item.right(0));
        item
    }

    fn question(&self, item: &Item) -> Question {
        Question::Table(LEGS.get(..item.places.legs.len()).unwrap_or(&LEGS))
    }

    fn answer(&self, item: &Item) -> Answer {
        answer_of(&item.readings())
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        for (id, numbers) in item.wrong() {
            list.push(id, answer_of(&numbers));
        }
    }

    fn facts(&self, item: &Item) -> Vec<Fact> {
        let number = |name, tenths: Tenths| Fact::number(name, angle(tenths).degrees());
        let names = ["p_to_q_from_true_north_deg", "q_to_s_from_true_north_deg", "s_to_p_from_true_north_deg"];
        let mut facts: Vec<Fact> =
            names.iter().zip(&item.places.toward).map(|(name, toward)| number(name, *toward)).collect();
        facts.extend([
            number("declination_deg", item.declination),
            number("printed_declination_deg", item.places.sheet.printed),
            number("convergence_deg", item.places.sheet.convergence),
            number("iron_turns_needle_deg", item.iron),
            number("start_map_deg", item.places.lies),
            number("start_travel_arrow_deg", item.places.arrow),
            number("start_dial_deg", item.places.dial),
            Fact::word("line", item.north.word()),
            Fact::word("wanted", "bearings_by_the_needle"),
        ]);
        facts
    }

    fn prompt(&self, item: &Item) -> String {
        let mut out = String::with_capacity(340);
        item.places.push_names(&mut out);
        out.push_str("The map has been oriented by ");
        out.push_str(item.line_words());
        if item.places.sheet.printed != item.declination {
            out.push_str(" of ");
            push_number(&mut out, item.places.sheet.year.unsigned_abs());
            out.push_str(", drawn for ");
            push_east_west(&mut out, item.places.sheet.printed);
        }
        out.push_str(". Declination is ");
        push_east_west(&mut out, item.declination);
        out.push_str(" today. Take the magnetic bearing ");
        for (at, leg) in item.places.legs.iter().enumerate() {
            out.push_str(if at == 0 { "from " } else { ", then from " });
            out.push(leg.from.letter());
            out.push_str(" to ");
            out.push(leg.to.letter());
        }
        out.push_str(" with the needle. Leave the map as it lies.");
        out
    }

    fn steps(&self, item: &Item) -> Vec<Step> {
        let mut steps = shown_steps(&item.exercise());
        // Needle and map turned by the same iron leave the bearings right.
        let off = wrap(item.places.lies - item.iron + 1800) - 1800;
        if off != 0 {
            let mut words = String::with_capacity(90);
            words.push_str("The map lies ");
            push_size(&mut words, off);
            words.push_str("° off, so each bearing comes out ");
            push_size(&mut words, off);
            words.push_str(if off < 0 {
                "° too small, though the work is right"
            } else {
                "° too large, though the work is right"
            });
            steps.push(Step::words(words));
        }
        let last = if item.places.legs.len() == 1 { "The magnetic bearing" } else { "The magnetic bearings" };
        steps.push(Step::new(last, figures_of(&item.readings())));
        steps
    }

    fn hint(&self, _item: &Item) -> String {
        "The map stays as it lies. Edge along the leg, travel arrow the way you would go; then turn only the dial, until the needle is boxed."
            .to_owned()
    }

    fn paths(&self, item: &Item, mixup: MixupId) -> Paths {
        let wrong = item.wrong();
        let numbers = wrong.iter().find(|(id, _)| *id == mixup).map_or(Vec::new(), |(_, numbers)| numbers.clone());
        Paths {
            yours: figures_of(&numbers),
            right: format!(
                "edge along the leg, arrow ahead, dial turned until the north end is boxed: {}",
                figures_of(&item.readings())
            ),
        }
    }

    fn table(&self, item: &Item) -> Option<TableProblem> {
        Some(item.places.table(item.exercise()))
    }
}
