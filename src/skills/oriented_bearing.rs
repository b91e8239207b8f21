//! C7, bearings by the needle on an oriented map: magnetic at once, with nothing to add and nothing to take off, where the
//! map lies right.

use super::common::{InTenths, Tenths, WRONG_END, angle, bearing_of, east_west, figures, offset_of, tenths, wrap};
use super::hands::{
    ARROW_BACK, CORRECTED_AGAIN, LIE_OTHER_WAY, LIE_UNSEEN, LINES_FOR_NEEDLE, MAP_FOR_DIAL, Places, READ_AT_NEEDLE,
    SOUTH_END_BOXED, Sheet, apart, named_by_number, shown_steps,
};
use crate::angle::{Angle, Bearing, Declination, Magnetic, North, True};
use crate::maptable::{Exercise, Fault, Task, wrong_readings};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupList, MixupMeta,
    NorthLines, OtherWay, Question, SkillMeta, Step, TableProblem, Tolerance, Value, Wanted,
};
use crate::terrain::Ruled;
use std::fmt::Write;

/// The skill `oriented-bearing`.
pub(super) struct OrientedBearing;

/// The numbers of one problem.
pub(super) struct OrientedBearingItem {
    places: Places,
    north: North,
    declination: Declination,
    iron: Tenths,
    /// Whether the map may lie off, so that the bearing is asked beside the reading.
    lies_off: bool,
}

const fn field(name: &'static str, label: &'static str, kind: FieldKind) -> Field {
    Field { name, label, kind, tolerance: Tolerance::within(3.0) }
}
const fn bearing_field(name: &'static str, label: &'static str) -> Field {
    field(name, label, FieldKind::Bearing(North::Magnetic))
}
static LEGS: [Field; 3] =
    [bearing_field("p_to_q", "P to Q"), bearing_field("q_to_v", "Q to V"), bearing_field("v_to_p", "V to P")];
/// Where the map may lie off: what the dial shows, and what it means.
static SHOWN_AND_MEANT: [Field; 2] = [
    field("dial", "P to Q, what the dial shows", FieldKind::Dial),
    bearing_field("p_to_q", "P to Q, the magnetic bearing"),
];

/// Answers that can be told apart differ by more than this.
const TOLD_APART: Tenths = 60;

static META: SkillMeta = SkillMeta {
    id: "oriented-bearing",
    mark: "C7",
    family: Family::Map,
    title: "Bearings on an oriented map, by the needle",
    can: "Takes magnetic bearings off an oriented map with the needle, and corrects only for a map that lies off.",
    levels: [
        "one leg, map oriented by a magnetic-north line",
        "two legs, map oriented by a true-north line",
        "three legs, map oriented by grid lines",
        "the map may lie off, by an old line or beside iron: what the dial shows, and the magnetic bearing",
    ],
    prerequisites: &["set-dial", "orient-magnetic-line"],
    mixups: &[
        WRONG_END,
        ARROW_BACK,
        SOUTH_END_BOXED,
        LINES_FOR_NEEDLE,
        READ_AT_NEEDLE,
        LIE_UNSEEN,
        LIE_OTHER_WAY,
        CORRECTED_AGAIN,
        MAP_FOR_DIAL,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 4,
};

impl OrientedBearingItem {
    /// What right work reads for a leg that runs in this direction on the map: iron turns the needle, and the reading with it.
    fn reading(&self, toward: Bearing<True>) -> Bearing<Magnetic> {
        let on_ground = toward.turned(self.places.lies.angle());
        on_ground.to(self.declination).turned(-angle(self.iron))
    }

    /// What right work reads, leg by leg.
    fn readings(&self) -> Vec<Tenths> {
        self.places.toward.iter().map(|toward| self.reading(*toward).in_tenths()).collect()
    }

    /// What right work answers: the readings, leg by leg; where the map may lie off the reading and what it means.
    fn right(&self) -> Vec<Tenths> {
        let readings = self.readings();
        if !self.lies_off { readings } else { readings.into_iter().chain([self.bearing()]).collect() }
    }

    /// The magnetic bearing of the first leg.
    fn bearing(&self) -> Tenths {
        self.places.first_toward().to(self.declination).in_tenths()
    }

    /// What somebody answers who allows for the lie before the dial is read: the map turned right, or the needle held beside
    /// the arrow. The magnetic bearing is never wrong.
    fn allowed_by_hand(&self) -> Option<Vec<Tenths>> {
        let bearing = self.bearing();
        let differs = self.readings().first().is_some_and(|read| apart(*read, bearing, 0));
        (self.lies_off && differs).then(|| vec![bearing, bearing])
    }

    /// The wrong answers where the map may lie off: what the dial then shows, and what is taken for the bearing.
    fn wrong_where_it_lies_off(&self) -> Vec<(&'static MixupMeta, [Tenths; 2])> {
        let (bearing, toward) = (self.bearing(), self.places.first_toward().in_tenths());
        let read = self.readings().first().copied().unwrap_or(bearing);
        let lie = read - bearing;
        let declination = self.declination.in_tenths();
        vec![
            (&WRONG_END, [read + 1800, bearing + 1800]),
            (&LINES_FOR_NEEDLE, [toward, toward]),
            (&LINES_FOR_NEEDLE, [read, toward]),
            (&READ_AT_NEEDLE, [0, 0]),
            (&READ_AT_NEEDLE, [0, -lie]),
            (&LIE_UNSEEN, [read, read]),
            (&LIE_OTHER_WAY, [read, read + lie]),
            (&CORRECTED_AGAIN, [read, read + declination]),
            (&CORRECTED_AGAIN, [read, read - declination]),
            (&CORRECTED_AGAIN, [read, bearing + declination]),
            (&CORRECTED_AGAIN, [read, bearing - declination]),
        ]
    }

    fn exercise(&self) -> Exercise {
        self.places.exercise(self.task(), self.declination, self.iron)
    }

    fn task(&self) -> Task {
        Task::OrientedBearing { legs: self.places.legs.clone(), lies: self.places.lies, bearing_asked: self.lies_off }
    }

    const fn line_words(&self) -> &'static str {
        match self.north {
            // Said shortly: these maps have no east-west lines to tell it from.
            North::Grid => "grid line",
            North::True | North::Magnetic => self.north.line(),
        }
    }
}

fn answer_of(numbers: &[Tenths]) -> Answer {
    numbers.iter().map(|number| Value::Angle(angle(*number))).collect()
}

fn figures_of(numbers: &[Tenths]) -> String {
    numbers.iter().map(|number| figures(*number).to_string()).collect::<Vec<String>>().join(", ")
}

impl Generator for OrientedBearing {
    type Item = OrientedBearingItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> OrientedBearingItem {
        let (north, legs) = match level.number() {
            1 => (North::Magnetic, 1),
            2 => (North::True, 2),
            3 => (North::Grid, 3),
            // Beside iron both answers are the same number: too often, and one could copy it.
            _ => (draw.pick(&[North::Magnetic, North::Magnetic, North::True]), 1),
        };
        let declination = draw.between(8, 25) * 10 * draw.sign();
        let convergence = offset_of(draw.between(2, 4) * 10 * draw.sign());
        // At level 4 the line is old, or iron turns needle and map alike. Less than 7° could not be told from a slip of the hand.
        let old = level == Level::FOUR && north == North::Magnetic;
        let printed = if old { declination + draw.between(7, 9) * 10 * draw.sign() } else { declination };
        let iron = if level == Level::FOUR && !old { draw.between(5, 15) * 10 * draw.sign() } else { 0 };
        let ruled = Ruled {
            grid: north == North::Grid,
            true_lines: if north == North::True { 3 } else { 0 },
            magnetic_lines: if north == North::Magnetic { 3 } else { 0 },
            diagram: false,
        };
        // At most 15' a year.
        let year = if old { 2026 - draw.between(36, 48) } else { 2026 };
        let lies = bearing_of(if old { declination - printed } else { iron });
        let (declination, printed) = (offset_of(declination), offset_of(printed));
        let sheet = Sheet { seed: draw.below(1 << 20), printed, convergence, year, ruled };
        let mut item = OrientedBearingItem {
            places: Places::draw(sheet, legs, lies, draw),
            north,
            declination,
            iron,
            lies_off: level == Level::FOUR,
        };
        item.places.begin_away_from(item.reading(item.places.first_toward()).in_tenths());
        item
    }

    fn question(&self, item: &OrientedBearingItem) -> Question {
        if item.lies_off {
            return Question::table(&SHOWN_AND_MEANT);
        }
        Question::table(LEGS.get(..item.places.legs.len()).unwrap_or(&LEGS))
    }

    fn answer(&self, item: &OrientedBearingItem) -> Answer {
        answer_of(&item.right())
    }

    fn other_ways(&self, item: &OrientedBearingItem) -> Vec<OtherWay> {
        let allowed = item.allowed_by_hand();
        let said = "you allowed for the map's lie at once, so that the dial's number is the magnetic bearing";
        allowed.map(|numbers| OtherWay { answer: answer_of(&numbers), said, better: false }).into_iter().collect()
    }

    fn mixups(&self, item: &OrientedBearingItem, list: &mut MixupList) {
        let differ = |one: &[Tenths], other: &[Tenths]| one.iter().zip(other).any(|(a, b)| apart(*a, *b, TOLD_APART));
        let mut told = vec![item.right()];
        if item.lies_off {
            // As below; one mix-up may have several answers.
            told.extend(item.allowed_by_hand());
            for (meta, numbers) in item.wrong_where_it_lies_off() {
                let numbers = numbers.map(wrap);
                if told.iter().all(|other| differ(&numbers, other)) {
                    list.push(meta, answer_of(&numbers), || {
                        format!("{} on the dial, {} for the bearing", figures(numbers[0]), figures(numbers[1]))
                    });
                    told.push(numbers.to_vec());
                }
            }
            return;
        }
        let exercise = item.exercise();
        let legs: Vec<Vec<(Fault, Angle)>> =
            item.places.legs.iter().map(|leg| wrong_readings(&exercise, *leg)).collect();
        // Of somebody who makes the same mistake at each leg, as far as the numbers can be told from the right ones and from
        // each other; the first keeps its name.
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

    fn right_way(&self, item: &OrientedBearingItem) -> String {
        let mut way = "edge along the leg, arrow ahead, dial turned until the north end is boxed: ".to_owned();
        way.push_str(&figures_of(&item.readings()));
        if item.lies_off {
            let _ = write!(way, "; the magnetic bearing is {}", figures(item.bearing()));
        }
        way
    }

    fn facts(&self, item: &OrientedBearingItem) -> Facts {
        let names = ["p_to_q_from_true_north_deg", "q_to_v_from_true_north_deg", "v_to_p_from_true_north_deg"];
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
            Fact::wanted(Wanted::own(if item.lies_off {
                "reading_and_magnetic_bearing"
            } else {
                "bearings_by_the_needle"
            })),
        ]);
        Facts::from(facts)
    }

    fn prompt(&self, item: &OrientedBearingItem) -> String {
        let mut out = format!("{}The map has been oriented by a {}", item.places.names_words(), item.line_words());
        if item.places.sheet.printed != item.declination {
            let _ = write!(
                out,
                " of {}, drawn for {}",
                item.places.sheet.year.unsigned_abs(),
                east_west(item.places.sheet.printed)
            );
        }
        let _ = write!(
            out,
            ". Declination is {}{}",
            east_west(item.declination),
            if item.lies_off { " today. Take the bearing " } else { " today. Take the magnetic bearing " }
        );
        for (at, leg) in item.places.legs.iter().enumerate() {
            let _ = write!(
                out,
                "{}{} to {}",
                if at == 0 { "from " } else { ", then from " },
                leg.from.letter(),
                leg.to.letter()
            );
        }
        out.push_str(" with the needle. Leave the map as it lies.");
        if item.lies_off {
            out.push_str(" What does the dial show, and which is the magnetic bearing?");
        }
        out
    }

    fn steps(&self, item: &OrientedBearingItem) -> Vec<Step> {
        let mut steps = shown_steps(&item.exercise());
        if item.lies_off {
            let mut words = figures_of(&item.readings());
            let _ = write!(words, " on the dial, and the magnetic bearing is {}", figures(item.bearing()));
            steps.push(Step::new("At the end", words));
            return steps;
        }
        let last = if item.places.legs.len() == 1 { "The magnetic bearing" } else { "The magnetic bearings" };
        steps.push(Step::new(last, figures_of(&item.readings())));
        steps
    }

    fn hint(&self, item: &OrientedBearingItem) -> String {
        if item.lies_off {
            return "Edge along the leg, travel arrow the way you would go; turn only the dial, until the needle is boxed. Then ask: does the line by which the map was oriented point where the needle points today?".to_owned();
        }
        "The map stays as it lies. Edge along the leg, travel arrow the way you would go; then turn only the dial, until the needle is boxed."
            .to_owned()
    }

    fn table(&self, item: &OrientedBearingItem) -> Option<TableProblem> {
        Some(item.places.table(item.exercise()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Code, Verdict, judge, realise};

    fn problems(level: Level) -> impl Iterator<Item = crate::problem::Problem> {
        (0..600).map(move |seed| realise(&Code { skill: &OrientedBearing, level, seed, home: None }).unwrap())
    }

    #[test]
    fn the_dials_number_is_not_copied_and_the_magnetic_bearing_is_never_wrong() {
        // C7-4-102 called the magnetic bearing 034 wrong and 041, which is off by 7°, right.
        let (mut copied, mut all) = (0, 0);
        for problem in problems(Level::FOUR) {
            let [Value::Angle(shown), Value::Angle(bearing)] = problem.answer().values() else { panic!("two numbers") };
            let (shown, bearing) = (shown.degrees().to_string(), bearing.degrees().to_string());
            let verdict = |dial: &str, said: &str| judge(&problem, &[dial, said]).unwrap().verdict;
            assert_eq!(verdict(&shown, &bearing), Verdict::Right, "{}", problem.code());
            assert_eq!(verdict(&bearing, &bearing), Verdict::Right, "{}", problem.code());
            all += 1;
            copied += usize::from(verdict(&shown, &shown) == Verdict::Right);
        }
        assert!(copied * 10 <= all * 6, "copying the dial is right in {copied} of {all}");
        assert!(copied > 0, "beside iron nothing is to be allowed for");
    }

    #[test]
    fn each_answer_of_a_mixup_is_told_by_its_own_number() {
        // C7-1-115493: 248 was typed and told as "you 282", another answer of a mix-up with two.
        let mut corrected = 0;
        for problem in problems(Level::ONE) {
            for mixup in problem.mixups() {
                let paths = problem.paths(mixup.meta.id, &mixup.answer).unwrap();
                let Some(Value::Angle(number)) = mixup.answer.values().first() else { panic!("a number") };
                assert_eq!(paths.yours, figures(number.in_tenths()).to_string(), "{}", problem.code());
                corrected += usize::from(mixup.meta.id == CORRECTED_AGAIN.id);
            }
        }
        assert!(corrected > 400, "many problems have one answer at least: {corrected}");
    }

    #[test]
    fn the_wrong_lines_of_a_grid_map_are_its_grid_lines() {
        // C7-3-3: grid lines drawn 4° from true north, and the mix-up counted from true north.
        let mut seen = 0;
        for problem in problems(Level::THREE).take(200) {
            let Some(wrong) = problem.mixups().iter().find(|mixup| mixup.meta.id == LINES_FOR_NEEDLE.id) else {
                continue;
            };
            seen += 1;
            let fact =
                |name: &str| problem.facts().iter().find(|fact| fact.name.id() == name).map(|fact| fact.value.clone());
            let angle = |name: &str| match fact(name) {
                Some(crate::problem::FactValue::Angle(angle)) => angle,
                other => panic!("{name}: {other:?}"),
            };
            let by_grid = (angle("p_to_q_from_true_north_deg") - angle("convergence_deg")).wrapped();
            assert_eq!(wrong.answer.values()[0], Value::Angle(by_grid), "{}", problem.code());
        }
        assert!(seen > 50, "{seen}");
    }
}
