//! C7, bearings by the needle on an oriented map: magnetic at once, with nothing to add and nothing to take off.

use super::common::{
    InTenths, Tenths, WRONG_END, angle, bearing_of, figures, offset_of, push_east_west, push_number, push_size, tenths,
    wrap,
};
use super::hands::{
    ARROW_BACK, CORRECTED_AGAIN, LINES_FOR_NEEDLE, MAP_FOR_DIAL, Places, READ_AT_NEEDLE, SOUTH_END_BOXED, Sheet, apart,
    named_by_number, shown_steps,
};
use crate::angle::{Angle, Bearing, Declination, Magnetic, North, True};
use crate::maptable::{Exercise, Fault, Task, wrong_readings};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupList, NorthLines,
    Question, SkillMeta, Step, TableProblem, Tolerance, Value, Wanted,
};
use crate::terrain::Ruled;

/// The skill `oriented-bearing`.
pub(super) struct OrientedBearing;

/// The numbers of one problem.
pub(super) struct Item {
    places: Places,
    north: North,
    declination: Declination,
    iron: Tenths,
}

const fn field(name: &'static str, label: &'static str) -> Field {
    Field { name, label, kind: FieldKind::Bearing(North::Magnetic), tolerance: Tolerance::within(3.0) }
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
    /// What right work reads for a leg that runs in this direction on the map: iron turns the needle, and the reading with it.
    fn reading(&self, toward: Bearing<True>) -> Bearing<Magnetic> {
        let on_ground = toward.turned(self.places.lies.angle());
        on_ground.to(self.declination).turned(-angle(self.iron))
    }

    /// What right work reads, leg by leg.
    fn readings(&self) -> Vec<Tenths> {
        self.places.toward.iter().map(|toward| self.reading(*toward).in_tenths()).collect()
    }

    fn exercise(&self) -> Exercise {
        self.places.exercise(self.task(), self.declination, self.iron)
    }

    fn task(&self) -> Task {
        Task::OrientedBearing { legs: self.places.legs.clone(), lies: self.places.lies }
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
    numbers.iter().map(|number| Value::Angle(angle(*number))).collect()
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
        let convergence = offset_of(draw.between(2, 4) * 10 * draw.sign());
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
        let lies = bearing_of(if old { declination - printed } else { iron });
        let (declination, printed) = (offset_of(declination), offset_of(printed));
        let sheet = Sheet { seed: draw.below(1 << 20), printed, convergence, year, ruled };
        let mut item = Item { places: Places::draw(sheet, legs, lies, draw), north, declination, iron };
        item.places.begin_away_from(item.reading(item.places.first_toward()).in_tenths());
        item
    }

    fn question(&self, item: &Item) -> Question {
        Question::table(LEGS.get(..item.places.legs.len()).unwrap_or(&LEGS))
    }

    fn answer(&self, item: &Item) -> Answer {
        answer_of(&item.readings())
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        let exercise = item.exercise();
        let legs: Vec<Vec<(Fault, Angle)>> =
            item.places.legs.iter().map(|leg| wrong_readings(&exercise, *leg)).collect();
        let differ = |one: &[Tenths], other: &[Tenths]| one.iter().zip(other).any(|(a, b)| apart(*a, *b, TOLD));
        // Of somebody who makes the same mistake at each leg, as far as the numbers can be told from the right ones and from
        // each other; the first keeps its name.
        let mut told = vec![item.readings()];
        for (at, (fault, _)) in legs.first().into_iter().flatten().enumerate() {
            let numbers: Vec<Tenths> =
                legs.iter().filter_map(|leg| leg.get(at)).map(|(_, number)| wrap(tenths(*number))).collect();
            if let Some(meta) = named_by_number(*fault, META.mixups)
                && told.iter().all(|other| differ(&numbers, other))
            {
                list.push(meta, answer_of(&numbers), || figures_of(&numbers));
                told.push(numbers);
            }
        }
    }

    fn right_way(&self, item: &Item) -> String {
        format!(
            "edge along the leg, arrow ahead, dial turned until the north end is boxed: {}",
            figures_of(&item.readings())
        )
    }

    fn facts(&self, item: &Item) -> Facts {
        let names = ["p_to_q_from_true_north_deg", "q_to_s_from_true_north_deg", "s_to_p_from_true_north_deg"];
        let Places { sheet, toward, lies, arrow, dial, .. } = &item.places;
        let mut facts: Vec<Fact> =
            names.iter().zip(toward).map(|(name, toward)| Fact::own_angle(name, toward.angle())).collect();
        facts.extend([
            Fact::angle(FactName::Declination, item.declination.angle()),
            Fact::angle(FactName::PrintedDeclination, sheet.printed.angle()),
            Fact::angle(FactName::Convergence, sheet.convergence.angle()),
            Fact::own_angle("iron_turns_needle_deg", angle(item.iron)),
            Fact::own_angle("start_map_deg", lies.angle()),
            Fact::own_angle("start_travel_arrow_deg", arrow.angle()),
            Fact::angle(FactName::StartDial, angle(*dial)),
            Fact::north(FactName::Line, item.north),
            Fact::wanted(Wanted::own("bearings_by_the_needle")),
        ]);
        Facts::from(facts)
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
        let off = item.places.lies.turned(-angle(item.iron)).angle().wrapped_half().in_tenths();
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

    fn table(&self, item: &Item) -> Option<TableProblem> {
        Some(item.places.table(item.exercise()))
    }
}
