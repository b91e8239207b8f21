//! E1, taking a bearing: the travel arrow at a mark in view, the dial turned until the needle is boxed, the number at the index line.

use super::common::{
    InTenths, NOT_APPLIED, SIGN_FLIPPED, Tenths, WRONG_END, angle, bearing, bearing_of, east_west, figures, offset_of,
    sum, wrap,
};
use super::hands::{
    Angles, CORRECTED_AGAIN, DIAL_LEFT, IRON_SUPPOSED, IRON_UNHEEDED, Lie, READ_AT_NEEDLE, SOUTH_END_BOXED, Stand,
    apart, exercise, shown_steps,
};
use crate::angle::{Bearing, Convergence, Declination, North, True};
use crate::maptable::{Exercise, Fault, InView, MapLines, Sighting, Task, wrong_numbers};
use crate::problem::{
    Answer, Choices, Draw, Fact, FactName, Facts, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupList,
    MixupMeta, NorthLines, Question, SkillMeta, Step, TRUST, TableProblem, Tolerance, Value, Wanted,
};
use beside::Beside;
use std::fmt::Write;

mod beside;
#[cfg(test)]
mod tests;

/// The skill `take-bearing`.
pub(super) struct TakeBearing;

/// How many marks are in view.
const MARKS: usize = 5;
/// A bearing sighted in the field (STP 21-1-SMCT gives 3 to 10 degrees).
const SIGHTED: Tolerance = Tolerance::within(5.0);
/// Answers that can be told apart differ by more than this.
const TOLD_APART: Tenths = 110;

const fn bearing_field(name: &'static str, label: &'static str, north: North) -> Field {
    Field { name, label, kind: FieldKind::Bearing(north), tolerance: SIGHTED }
}
const MAGNETIC: Field = bearing_field("magnetic_bearing", "the magnetic bearing", North::Magnetic);
static ALONE: [Field; 1] = [MAGNETIC];
static AND_TRUE: [Field; 2] =
    [MAGNETIC, bearing_field("true_bearing", "the bearing for the true-north lines", North::True)];
static AND_GRID: [Field; 2] = [MAGNETIC, bearing_field("grid_bearing", "the bearing for the grid lines", North::Grid)];
static AND_TRUST: [Field; 2] = [
    Field { name: "dial", label: "what the dial shows", kind: FieldKind::Dial, tolerance: SIGHTED },
    Field {
        name: "needle",
        label: "whether the needle can be trusted",
        kind: FieldKind::Choice(Choices::Fixed(TRUST)),
        tolerance: Tolerance::EXACT,
    },
];

/// The numbers of one problem.
pub(super) struct TakeBearingItem {
    stand: Stand,
    /// Which of the marks is asked about.
    target: usize,
    /// The north of the map's lines that the bearing is asked for, too; magnetic north where it is not.
    north: North,
    declination: Declination,
    /// Whether the declination stands in the text, where nothing has to be done with it.
    told: bool,
    convergence: Convergence,
    /// What stands near, where that is asked about.
    beside: Option<Beside>,
    /// How far that turns the needle.
    iron: Tenths,
    facing: Bearing<True>,
    dial: Tenths,
}

/// Held a needle for disturbed that nothing turns.
const NEEDLESSLY_DOUBTED: MixupMeta = MixupMeta {
    said: "did not trust a needle that nothing turns",
    mend: "Ask what the thing is made of, and how far its iron reaches: a car to 18 m, a power line to 55 m.",
    ..IRON_SUPPOSED
};

static META: SkillMeta = SkillMeta {
    id: "take-bearing",
    mark: "E1",
    family: Family::Field,
    title: "Take a bearing",
    can: "Points the travel arrow at a mark, turns the dial until the needle is boxed, and reads the bearing at the index line.",
    levels: [
        "the marks far apart, the dial at 000",
        "the marks closer together, the dial anywhere; declination is told and not needed",
        "the bearing for the map's lines, too",
        "something stands near: can the needle be trusted?",
    ],
    prerequisites: &["read-dial"],
    mixups: &[
        WRONG_END,
        SOUTH_END_BOXED,
        READ_AT_NEEDLE,
        DIAL_LEFT,
        CORRECTED_AGAIN,
        SIGN_FLIPPED,
        NOT_APPLIED,
        IRON_UNHEEDED,
        NEEDLESSLY_DOUBTED,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 1,
};

impl TakeBearingItem {
    fn mark(&self) -> Option<&InView> {
        self.stand.marks.get(self.target)
    }

    fn name(&self) -> &str {
        self.mark().map_or("the mark", |mark| &mark.name)
    }

    /// What right work reads.
    fn reading(&self) -> Tenths {
        let azimuth = self.mark().map_or(Bearing::from_degrees(0.0), |mark| mark.azimuth);
        azimuth.to(self.declination).turned(-angle(self.iron)).in_tenths()
    }

    /// How far magnetic north lies clockwise of the north of the map's lines.
    fn between(&self) -> Tenths {
        match self.north {
            North::True => self.declination.in_tenths(),
            North::Grid => self.declination.then(self.convergence.inverse()).in_tenths(),
            North::Magnetic => 0,
        }
    }

    /// What is answered by somebody who reads this number and does the rest rightly.
    fn answer_for(&self, read: Tenths) -> Answer {
        self.answer_with(read, read + self.between())
    }

    /// What is answered by somebody who reads this number, and reckons with that one for the map's lines.
    fn answer_with(&self, read: Tenths, second: Tenths) -> Answer {
        let read = Value::Angle(angle(wrap(read)));
        match (&self.beside, self.north) {
            (Some(beside), _) => Answer::two(read, Value::Choice(usize::from(!beside.trust.holds))),
            (None, North::Magnetic) => Answer::one(read),
            (None, _) => Answer::two(read, Value::Angle(angle(wrap(second)))),
        }
    }

    /// Whether each way of reading gives a number of its own.
    fn tells_apart(&self) -> bool {
        let mut numbers = vec![self.reading()];
        let wrong = wrong_numbers(&self.exercise()).into_iter().map(|(_, number)| number.in_tenths());
        numbers.extend(wrong);
        if self.told {
            let off = self.declination.in_tenths();
            numbers.extend([self.reading() + off, self.reading() - off]);
        }
        numbers
            .iter()
            .enumerate()
            .all(|(at, one)| numbers[at + 1..].iter().all(|other| apart(*one, *other, TOLD_APART)))
    }

    fn exercise(&self) -> Exercise {
        let TakeBearingItem { declination, convergence, iron, .. } = *self;
        let task = Task::Take(Sighting {
            outlook: self.stand.outlook.clone(),
            marks: self.stand.marks.clone(),
            target: self.target,
            north: self.north,
            trust: self.beside.map(|beside| beside.trust),
        });
        let angles = Angles { declination, printed: declination, convergence, iron };
        exercise(task, Lie { map: None, arrow: self.facing, dial: self.dial }, angles, MapLines::default())
    }
}

impl Generator for TakeBearing {
    type Item = TakeBearingItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> TakeBearingItem {
        let stand = Stand::draw(MARKS, if level == Level::ONE { 280 } else { 180 }, draw);
        let north = if level == Level::THREE { draw.pick(&[North::True, North::Grid]) } else { North::Magnetic };
        let declination = draw.between(12, 26) * 10 * draw.sign();
        // The G-M angle stays as large as that, or right and wrong would hardly differ.
        let convergence = if north == North::Grid { draw.between(2, 4) * 10 * -declination.signum() } else { 0 };
        let beside = (level == Level::FOUR).then(|| Beside::draw(draw));
        let iron = beside.map_or(0, |beside| beside.turns(draw));
        let mut item = TakeBearingItem {
            target: 0,
            north,
            declination: offset_of(declination),
            told: level == Level::TWO,
            convergence: offset_of(convergence),
            beside,
            iron,
            facing: bearing_of(0),
            dial: 0,
            stand,
        };
        // Of the marks one is asked about whose wrong numbers differ; should none be such, the problem is drawn again.
        let mut order: Vec<usize> = (0..item.stand.marks.len()).collect();
        draw.shuffle(&mut order);
        for target in order {
            item.target = target;
            item.dial = if level == Level::ONE { 0 } else { draw.between(0, 359) * 10 };
            if item.tells_apart() {
                break;
            }
        }
        // One faces another mark at first, or no mark at all, and neither end of the needle lies in the arrow.
        let azimuth = item.mark().map_or(0, |mark| mark.azimuth.in_tenths());
        item.facing = bearing_of(azimuth + draw.between(30, 150) * 10 * draw.sign());
        let box_at = item.declination.in_tenths() + iron + item.dial;
        if !apart(item.facing, box_at, 200) || !apart(item.facing, box_at + 1800, 200) {
            item.facing = item.facing.turned(angle(450));
        }
        item
    }

    fn question(&self, item: &TakeBearingItem) -> Question {
        let fields: &'static [Field] = match (&item.beside, item.north) {
            (Some(_), _) => &AND_TRUST,
            (None, North::Magnetic) => &ALONE,
            (None, North::True) => &AND_TRUE,
            (None, North::Grid) => &AND_GRID,
        };
        Question::table(fields)
    }

    fn answer(&self, item: &TakeBearingItem) -> Answer {
        item.answer_for(item.reading())
    }

    fn mixups(&self, item: &TakeBearingItem, list: &mut MixupList) {
        let right = item.reading();
        for (fault, number) in wrong_numbers(&item.exercise()) {
            let number = number.in_tenths();
            let (meta, way): (&'static MixupMeta, &str) = match fault {
                Fault::ReadOpposite => (&WRONG_END, "the other end"),
                Fault::DialLeft => (&DIAL_LEFT, "the dial as it stood"),
                _ => (&READ_AT_NEEDLE, "the number at the needle"),
            };
            list.push(meta, item.answer_for(number), || format!("{way}: {}", figures(number)));
        }
        if item.told {
            for change in [item.declination.in_tenths(), -item.declination.in_tenths()] {
                list.push(&CORRECTED_AGAIN, item.answer_for(right + change), || sum(right, change));
            }
        }
        if item.north != North::Magnetic {
            let between = item.between();
            list.push(&SIGN_FLIPPED, item.answer_with(right, right - between), || sum(right, -between));
            list.push(&NOT_APPLIED, item.answer_with(right, right), || figures(right));
        }
        if let Some(beside) = item.beside {
            let meta = if beside.trust.holds { &NEEDLESSLY_DOUBTED } else { &IRON_UNHEEDED };
            let read = Value::Angle(angle(right));
            let said = usize::from(beside.trust.holds);
            list.push(meta, Answer::two(read, Value::Choice(said)), || TRUST[said]);
        }
    }

    fn right_way(&self, item: &TakeBearingItem) -> String {
        let read = format!("arrow at {}, north end boxed: {}", item.name(), figures(item.reading()));
        match (&item.beside, item.north) {
            (Some(beside), _) => format!("{read} on the dial, and {}", TRUST[usize::from(!beside.trust.holds)]),
            (None, North::Magnetic) => format!("{read}° M"),
            (None, north) => {
                format!("{read}° M; for the map {} {}", sum(item.reading(), item.between()), north.letter())
            }
        }
    }

    fn facts(&self, item: &TakeBearingItem) -> Facts {
        let azimuth = item.mark().map_or(0, |mark| mark.azimuth.in_tenths());
        let mut facts = vec![
            Fact::own_angle("mark_azimuth_deg", angle(azimuth)),
            Fact::angle(FactName::Declination, item.declination.angle()),
            Fact::angle(FactName::Convergence, item.convergence.angle()),
            Fact::own_angle("iron_turns_needle_deg", angle(item.iron)),
            Fact::north(FactName::North, item.north),
            Fact::own_angle("start_facing_deg", item.facing.angle()),
            Fact::angle(FactName::StartDial, angle(item.dial)),
        ];
        facts.extend(item.beside.iter().flat_map(Beside::facts));
        facts.push(Fact::wanted(Wanted::own("bearing_taken")));
        Facts::from(facts)
    }

    fn prompt(&self, item: &TakeBearingItem) -> String {
        let name = item.name();
        let kind = item.mark().map_or("mark", |mark| mark.kind.word());
        let mut out = format!("You stand at {} and see the {kind} {name}. ", item.stand.at);
        let _ = match (&item.beside, item.north) {
            (Some(beside), _) => write!(
                out,
                "{beside} Take the bearing of {name}: say what the dial shows, and whether the needle can be trusted here."
            ),
            (None, North::Magnetic) if item.told => {
                write!(out, "Declination is {}. Take the magnetic bearing of {name}.", east_west(item.declination))
            }
            (None, North::Magnetic) => write!(
                out,
                "Which way does it lie? Take its magnetic bearing: turn yourself until the travel arrow points at it, then turn the dial until the \
                 needle is boxed, and read at the index line."
            ),
            (None, north) => {
                let angle = if north == North::Grid { "The G-M angle" } else { "Declination" };
                write!(
                    out,
                    "{angle} is {}. Take the bearing of {name}: say what you read, and what it is for the map's {}.",
                    east_west(item.between()),
                    north.lines()
                )
            }
        };
        out
    }

    fn steps(&self, item: &TakeBearingItem) -> Vec<Step> {
        let mut steps = shown_steps(&item.exercise());
        let end = match (&item.beside, item.north) {
            (Some(beside), _) => {
                let end = format!("{}, and {}", figures(item.reading()), TRUST[usize::from(!beside.trust.holds)]);
                steps.push(Step::new("So you say", end));
                return steps;
            }
            (None, North::Magnetic) => bearing(item.reading(), North::Magnetic).to_string(),
            (None, north) => {
                let (read, second) = (item.reading(), item.reading() + item.between());
                format!("{}, on the map {}", bearing(read, North::Magnetic), bearing(second, north))
            }
        };
        steps.push(Step::new(format!("So {} lies at", item.name()), end));
        steps
    }

    fn hint(&self, item: &TakeBearingItem) -> String {
        match (&item.beside, item.north) {
            (Some(_), _) => {
                "First yourself, then the dial. And ask what the thing near you is made of, and how far its iron reaches: a car \
                 to 18 m, a power line to 55 m."
            }
            (None, North::Magnetic) => {
                "Two turns: first yourself, until the travel arrow points at the mark; then only the dial, until the needle is boxed."
            }
            _ => "The dial counts from the needle. Sketch both norths: from which of them is the way round to the mark longer?",
        }
        .to_owned()
    }

    fn table(&self, item: &TakeBearingItem) -> Option<TableProblem> {
        Some(TableProblem::in_hand(item.exercise()))
    }
}
