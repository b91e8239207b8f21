//! B4, grid ↔ magnetic: the map's grid bearing to the compass's and back, by the G-M angle.

use super::common::{
    APPLIED_TWICE, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, hardly_differs, push_bearing, push_east_west, sum,
};
use super::conversion::{Conversion, draw_offset, home_declination, step_at};
use super::norths::{DECLINATION_FOR_GMA, Norths, SIZES_ADDED};
use crate::angle::{Grid, GridMagnetic, North, declination_words};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Figure, Generator, HomeAngles, Level, MixupList, NorthLines, Question,
    SkillMeta, Step,
};

/// The skill `grid-magnetic`.
pub(super) struct GridMagneticSkill;

/// The numbers of one problem.
pub(super) struct Item {
    conversion: Conversion<Grid>,
    level: Level,
    /// From level 3 the G-M angle must be worked out from these.
    norths: Option<Norths>,
    /// Level 4 tells a story instead of naming the two norths.
    place: Option<&'static str>,
    on_home: bool,
}

static META: SkillMeta = SkillMeta {
    id: "grid-magnetic",
    mark: "B4",
    family: Family::Norths,
    title: "Grid and magnetic",
    can: "Turns a grid bearing from the map into a compass bearing, and back, by the G-M angle.",
    levels: [
        "round bearings, the G-M angle is given, both norths drawn",
        "any whole degree, the G-M angle is given",
        "through north, from declination and convergence",
        "decide from a story which way to convert",
    ],
    prerequisites: &["true-magnetic"],
    mixups: &[SIGN_FLIPPED, NOT_APPLIED, APPLIED_TWICE, NOT_WRAPPED, DECLINATION_FOR_GMA, SIZES_ADDED],
    lines: NorthLines::Grid,
    on_home: true,
    generation: 1,
};

const PLACES: [&str; 8] = [
    "the mill",
    "the spring",
    "the twin firs",
    "the quarry",
    "the footbridge",
    "the shepherd's hut",
    "the boundary stone",
    "the pass",
];

impl Generator for GridMagneticSkill {
    type Item = Item;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn too_small(&self, level: Level, home: HomeAngles) -> bool {
        hardly_differs(Norths::at_home(home, step_at(level)).grid_magnetic())
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Item {
        let (offset, norths) = if level < Level::THREE {
            let home = home.map(|home| Norths::at_home(home, step_at(level)).grid_magnetic());
            (draw_offset(level, home, draw), None)
        } else {
            let declination = draw_offset(level, home_declination(home), draw);
            let norths = Norths::draw(declination, 5, home, draw);
            (norths.grid_magnetic(), Some(norths))
        };
        let conversion = Conversion::draw(level, offset, draw);
        let place = (level == Level::FOUR).then(|| draw.pick(&PLACES));
        Item { conversion, level, norths, place, on_home: home.is_some() }
    }

    fn question(&self, item: &Item) -> Question {
        item.conversion.question()
    }

    fn answer(&self, item: &Item) -> Answer {
        item.conversion.right()
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        item.conversion.mixups(list);
        if let Some(norths) = item.norths.as_ref().filter(|norths| norths.tells()) {
            let by = |used: GridMagnetic| item.conversion.by(used);
            let way = |used: GridMagnetic| sum(item.conversion.from(), by(used).change());
            list.push(&DECLINATION_FOR_GMA, by(norths.declination_for_gma()).right(), || {
                let declination = declination_words(norths.declination.angle());
                format!("Declination {declination}: {}", way(norths.declination_for_gma()))
            });
            list.push(&SIZES_ADDED, by(norths.added()).right(), || {
                format!("{}: {}", norths.wrong_sum(), way(norths.added()))
            });
        }
    }

    fn right_way(&self, item: &Item) -> String {
        let way = item.conversion.right_way();
        match &item.norths {
            Some(norths) => format!("G-M angle {}. {way}", norths.sum()),
            None => way,
        }
    }

    fn facts(&self, item: &Item) -> Facts {
        let conversion = &item.conversion;
        let mut facts = Vec::with_capacity(4);
        facts.push(conversion.given_fact());
        match &item.norths {
            Some(norths) => norths.push_facts(&mut facts),
            None => facts.push(Fact::angle(FactName::GridMagnetic, conversion.offset.angle())),
        }
        facts.push(Fact::north(FactName::WantedNorth, conversion.wanted()));
        facts.into()
    }

    fn prompt(&self, item: &Item) -> String {
        let conversion = &item.conversion;
        let mut out = String::with_capacity(240);
        match &item.norths {
            Some(norths) => norths.push_given(&mut out, item.on_home),
            None => {
                out.push_str(if item.on_home { "The G-M angle on home ground is " } else { "The G-M angle is " });
                push_east_west(&mut out, conversion.offset);
                out.push_str(". ");
            }
        }
        match (item.place, conversion.to_compass()) {
            (None, true) => {
                out.push_str("The map, measured from its grid lines, says ");
                push_bearing(&mut out, conversion.from(), North::Grid);
                out.push_str(". What does the compass say?");
            }
            (None, false) => {
                out.push_str("The compass says ");
                push_bearing(&mut out, conversion.from(), North::Magnetic);
                out.push_str(". What is that on the map, from grid north?");
            }
            (Some(place), true) => {
                out.push_str("From a grid line you measured the way to ");
                out.push_str(place);
                out.push_str(" on the map: ");
                push_bearing(&mut out, conversion.from(), North::Grid);
                out.push_str(". You want to walk it by compass. What do you set on the dial?");
            }
            (Some(place), false) => {
                out.push_str("You sighted ");
                out.push_str(place);
                out.push_str(" with the compass: ");
                push_bearing(&mut out, conversion.from(), North::Magnetic);
                out.push_str(". You want to draw the line on the map from a grid line. At which bearing?");
            }
        }
        out
    }

    fn steps(&self, item: &Item) -> Vec<Step> {
        let mut steps = Vec::with_capacity(7);
        if item.place.is_some() {
            steps.push(Step::words(if item.conversion.to_compass() {
                "From map to compass, and the map's line is a grid line: the G-M angle counts"
            } else {
                "From compass to map, and the map's line is a grid line: the G-M angle counts"
            }));
        }
        if let Some(norths) = &item.norths {
            norths.push_steps(&mut steps);
        }
        item.conversion.push_steps(item.norths.is_some(), &mut steps);
        steps
    }

    fn hint(&self, item: &Item) -> String {
        if item.norths.is_some() {
            return "Draw true north straight up and the other two norths beside it. How far is it from grid north to magnetic north, and from which of the two is the bearing bigger?".to_owned();
        }
        let side = if item.conversion.offset.angle().degrees() < 0.0 { "counterclockwise" } else { "clockwise" };
        format!(
            "Draw grid north straight up and magnetic north {side} of it. From which of the two is the angle bigger?"
        )
    }

    fn figure(&self, item: &Item) -> Figure {
        if item.level == Level::ONE { item.conversion.sketch(None) } else { Figure::None }
    }

    fn explanation(&self, item: &Item, given: Option<&Answer>) -> Figure {
        item.conversion.sketch(given)
    }
}
