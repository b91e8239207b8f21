//! C4, a bearing by the compass as a protractor: the map's lines count, and the needle plays no part.

use super::common::{
    InTenths, Tenths, WRONG_END, angle, answer, bearing, bearing_of, east_west, figures, offset_of, tenths, wrap,
};
use super::hands::{
    ARROW_BACK, CORRECTED_AGAIN, DIAL_UPSIDE_DOWN, MAP_FOR_DIAL, NEEDLE_FOR_LINES, Places, QUARTER_TURN,
    READ_AT_NEEDLE, Sheet, apart, named_by_number, shown_steps,
};
use crate::angle::{Declination, North};
use crate::maptable::{Exercise, Task, wrong_numbers};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupList, NorthLines,
    Question, SkillMeta, Step, TableProblem, Tolerance, Wanted,
};
use crate::terrain::Ruled;

/// The skill `baseplate-bearing`.
pub(super) struct BaseplateBearing;

/// The numbers of one problem.
pub(super) struct BaseplateBearingItem {
    places: Places,
    north: North,
    declination: Declination,
}

const fn field(north: North) -> [Field; 1] {
    [Field { name: "bearing", label: "bearing", kind: FieldKind::Bearing(north), tolerance: Tolerance::within(3.0) }]
}
static TRUE: [Field; 1] = field(North::True);
static GRID: [Field; 1] = field(North::Grid);
static MAGNETIC: [Field; 1] = field(North::Magnetic);

/// Answers that can be told apart differ by more than this.
const TOLD_APART: Tenths = 60;

static META: SkillMeta = SkillMeta {
    id: "baseplate-bearing",
    mark: "C4",
    family: Family::Map,
    title: "Bearing off the map, compass as protractor",
    can: "Takes a bearing between two places with the baseplate alone, by the map's lines, whichever way the map lies.",
    levels: [
        "true-north lines, the map lies nearly upright",
        "grid lines, the map lies at any angle",
        "more than one kind of line on the map",
        "any of the lines, and a number that must not be corrected",
    ],
    prerequisites: &["set-dial"],
    mixups: &[
        WRONG_END,
        ARROW_BACK,
        DIAL_UPSIDE_DOWN,
        NEEDLE_FOR_LINES,
        READ_AT_NEEDLE,
        QUARTER_TURN,
        CORRECTED_AGAIN,
        MAP_FOR_DIAL,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 3,
};

impl BaseplateBearingItem {
    /// The bearing that the lines show: as they are drawn, whatever the declination is today.
    fn right(&self) -> Tenths {
        let (toward, sheet) = (self.places.first_toward(), &self.places.sheet);
        match self.north {
            North::True => toward.in_tenths(),
            North::Grid => toward.to(sheet.convergence).in_tenths(),
            North::Magnetic => toward.to(sheet.printed).in_tenths(),
        }
    }

    fn exercise(&self) -> Option<Exercise> {
        Some(self.places.exercise(self.task()?, self.declination, 0))
    }

    fn task(&self) -> Option<Task> {
        Some(Task::MapBearing { leg: *self.places.legs.first()?, north: self.north })
    }
}

impl Generator for BaseplateBearing {
    type Item = BaseplateBearingItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> BaseplateBearingItem {
        let north = match level.number() {
            1 => North::True,
            2 => North::Grid,
            3 => draw.pick(&[North::True, North::Grid]),
            _ => draw.pick(&North::ALL),
        };
        let declination = offset_of(draw.between(8, 25) * 10 * draw.sign());
        // So far from true north that the number by other lines than those named cannot pass for the right one.
        let convergence = offset_of(if level == Level::ONE { 0 } else { draw.between(4, 5) * 10 * draw.sign() });
        let many = level >= Level::THREE;
        let ruled = Ruled {
            grid: many || north == North::Grid,
            true_lines: if north == North::True { 3 } else { 0 },
            magnetic_lines: if many || north == North::Magnetic { 3 } else { 0 },
            diagram: false,
        };
        let sheet = Sheet { seed: draw.below(1 << 20), printed: declination, convergence, year: 2026, ruled };
        let lies = if level == Level::ONE { draw.between(15, 30) * draw.sign() } else { draw.between(20, 340) } * 10;
        let mut item =
            BaseplateBearingItem { places: Places::draw(sheet, 1, bearing_of(lies), draw), north, declination };
        item.places.begin_away_from(item.right());
        item
    }

    fn question(&self, item: &BaseplateBearingItem) -> Question {
        Question::table(match item.north {
            North::True => &TRUE,
            North::Grid => &GRID,
            North::Magnetic => &MAGNETIC,
        })
    }

    fn answer(&self, item: &BaseplateBearingItem) -> Answer {
        answer(item.right())
    }

    fn mixups(&self, item: &BaseplateBearingItem, list: &mut MixupList) {
        // Only those that can be told from the right one and from each other; the first keeps its name.
        let mut told = vec![item.right()];
        for (fault, number) in item.exercise().map(|exercise| wrong_numbers(&exercise)).unwrap_or_default() {
            let number = wrap(tenths(number));
            if let Some(meta) = named_by_number(fault, META.mixups)
                && told.iter().all(|other| apart(number, *other, TOLD_APART))
            {
                list.push(meta, answer(number), || figures(number));
                told.push(number);
            }
        }
    }

    fn right_way(&self, item: &BaseplateBearingItem) -> String {
        format!(
            "edge from P to Q, the dial's lines along the {}, its N to the map's north: {}",
            item.north.lines(),
            bearing(item.right(), item.north)
        )
    }

    fn facts(&self, item: &BaseplateBearingItem) -> Facts {
        let Places { sheet, lies, arrow, dial, .. } = &item.places;
        Facts::from(vec![
            Fact::own_angle("leg_from_true_north_deg", item.places.first_toward().angle()),
            Fact::angle(FactName::Convergence, sheet.convergence.angle()),
            Fact::angle(FactName::PrintedDeclination, sheet.printed.angle()),
            Fact::angle(FactName::Declination, item.declination.angle()),
            Fact::own_angle("start_map_deg", lies.angle()),
            Fact::own_angle("start_travel_arrow_deg", arrow.angle()),
            Fact::angle(FactName::StartDial, angle(*dial)),
            Fact::north(FactName::Line, item.north),
            Fact::wanted(Wanted::own("bearing_by_the_lines")),
        ])
    }

    fn prompt(&self, item: &BaseplateBearingItem) -> String {
        format!(
            "{}Take the bearing from P to Q with the compass as a protractor, by the map's {}. Declination is {}. Which {} bearing do you read?",
            item.places.names_words(),
            item.north.lines(),
            east_west(item.declination),
            item.north.word()
        )
    }

    fn steps(&self, item: &BaseplateBearingItem) -> Vec<Step> {
        let mut steps = item.exercise().map(|exercise| shown_steps(&exercise)).unwrap_or_default();
        steps.push(Step::new("The bearing from P to Q", bearing(item.right(), item.north)));
        steps
    }

    fn hint(&self, _item: &BaseplateBearingItem) -> String {
        "Edge from P to Q, travel arrow toward Q. Then forget the needle: turn the dial until its lines run along the map's lines."
            .to_owned()
    }

    fn table(&self, item: &BaseplateBearingItem) -> Option<TableProblem> {
        Some(item.places.table(item.exercise()?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Code, realise};

    #[test]
    fn a_number_by_the_border_is_never_right_for_the_grid() {
        for seed in 0..300 {
            let problem = realise(&Code { skill: &BaseplateBearing, level: Level::TWO, seed, home: None }).unwrap();
            let item = BaseplateBearing.draw(Level::TWO, None, &mut Draw::new("C4", 2, META.generation, seed));
            let by_border = answer(item.places.first_toward().in_tenths());
            assert!(!problem.question().same(&by_border, problem.answer()), "{}", problem.code());
        }
    }

    #[test]
    fn no_marked_place_is_named_like_a_land_of_a_famous_book() {
        // C4-3-2154 and C4-4-1398 led to places that everybody knows from a book.
        let mut plain = 0;
        for level in [Level::THREE, Level::FOUR] {
            for seed in 0..300 {
                let problem = realise(&Code { skill: &BaseplateBearing, level, seed, home: None }).unwrap();
                let names = problem.prompt().split(". ").next().unwrap_or_default();
                assert!(!names.contains("dor"), "{}: {names}", problem.code());
                plain +=
                    usize::from(["Mill", "Ford", "Farm", "Tower", "Spur", "Weir"].iter().any(|it| names.contains(it)));
            }
        }
        assert!(plain > 60, "real maps have plain words, too: {plain} of 600");
    }
}
