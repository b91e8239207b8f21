//! B2, true ↔ magnetic: the map's bearing to the compass's and back, by the declination.

use super::common::{
    APPLIED_TWICE, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, hardly_differs, offset_of, push_bearing, push_east_west,
};
use super::conversion::{Conversion, draw_offset, home_declination, step_at};
use super::norths::Norths;
use crate::angle::{Convergence, North, True};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Figure, Generator, HomeAngles, Level, MixupList, NorthLines, Question,
    SkillMeta, Step,
};

/// The skill `true-magnetic`.
pub(super) struct TrueMagnetic;

/// The numbers of one problem.
pub(super) struct Item {
    conversion: Conversion<True>,
    level: Level,
    /// Level 4 tells a story instead of naming the two norths, and adds a number that is not needed.
    story: Option<Story>,
    on_home: bool,
}

struct Story {
    place: &'static str,
    convergence: Convergence,
}

static META: SkillMeta = SkillMeta {
    id: "true-magnetic",
    mark: "B2",
    family: Family::Norths,
    title: "True and magnetic",
    can: "Turns a true bearing from the map into a compass bearing, and back, with east and west declination.",
    levels: [
        "round bearings, both norths drawn",
        "any whole degree",
        "through north, half degrees",
        "decide from a story which way to convert",
    ],
    prerequisites: &["diagram"],
    mixups: &[SIGN_FLIPPED, NOT_APPLIED, APPLIED_TWICE, NOT_WRAPPED],
    lines: NorthLines::Any,
    on_home: true,
    generation: 1,
};

const PLACES: [&str; 8] = [
    "the hut",
    "the summit cairn",
    "the chapel",
    "the weir",
    "the old tower",
    "the saddle",
    "the ford",
    "the lone pine",
];

impl Generator for TrueMagnetic {
    type Item = Item;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn too_small(&self, level: Level, home: HomeAngles) -> bool {
        hardly_differs(Norths::at_home(home, step_at(level)).declination)
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Item {
        let offset = draw_offset(level, home_declination(home), draw);
        let conversion = Conversion::draw(level, offset, draw);
        let story = (level == Level::FOUR)
            .then(|| Story { place: draw.pick(&PLACES), convergence: offset_of(draw.between(2, 8) * 5 * draw.sign()) });
        // Home ground has a convergence of its own.
        let story = match (story, home) {
            (Some(story), Some(home)) => Some(Story { convergence: Norths::at_home(home, 5).convergence, ..story }),
            (story, _) => story,
        };
        Item { conversion, level, story, on_home: home.is_some() }
    }

    fn question(&self, item: &Item) -> Question {
        item.conversion.question()
    }

    fn answer(&self, item: &Item) -> Answer {
        item.conversion.right()
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        item.conversion.mixups(list);
    }

    fn right_way(&self, item: &Item) -> String {
        item.conversion.right_way()
    }

    fn facts(&self, item: &Item) -> Facts {
        let conversion = &item.conversion;
        let mut facts = vec![
            conversion.given_fact(),
            Fact::angle(FactName::Declination, conversion.offset.angle()),
            Fact::north(FactName::WantedNorth, conversion.wanted()),
        ];
        if let Some(story) = &item.story {
            facts.push(Fact::angle(FactName::Convergence, story.convergence.angle()));
        }
        facts.into()
    }

    fn prompt(&self, item: &Item) -> String {
        let conversion = &item.conversion;
        let mut out = String::with_capacity(200);
        out.push_str(if item.on_home { "Declination on home ground is " } else { "Declination is " });
        push_east_west(&mut out, conversion.offset);
        out.push_str(". ");
        match (&item.story, conversion.to_compass()) {
            (None, true) => {
                out.push_str("The map, measured from its true-north lines, says ");
                push_bearing(&mut out, conversion.from(), North::True);
                out.push_str(". What does the compass say?");
            }
            (None, false) => {
                out.push_str("The compass says ");
                push_bearing(&mut out, conversion.from(), North::Magnetic);
                out.push_str(". What is that on the map, from true north?");
            }
            (Some(story), to_compass) => {
                out.push_str("Grid convergence is ");
                push_east_west(&mut out, story.convergence);
                out.push_str(". ");
                if to_compass {
                    out.push_str("Along a true-north line you measured the line to ");
                    out.push_str(story.place);
                    out.push_str(" on the map: ");
                    push_bearing(&mut out, conversion.from(), North::True);
                    out.push_str(". You want to walk it by compass. What do you set on the dial?");
                } else {
                    out.push_str("You sighted ");
                    out.push_str(story.place);
                    out.push_str(" with the compass: ");
                    push_bearing(&mut out, conversion.from(), North::Magnetic);
                    out.push_str(". You want to draw the line on the map from a true-north line. At which bearing?");
                }
            }
        }
        out
    }

    fn steps(&self, item: &Item) -> Vec<Step> {
        let mut steps = Vec::with_capacity(6);
        if item.story.is_some() {
            steps.push(Step::words(if item.conversion.to_compass() {
                "From map to compass, and the map's line is a true-north line: only the declination counts"
            } else {
                "From compass to map, and the map's line is a true-north line: only the declination counts"
            }));
        }
        item.conversion.push_steps(false, &mut steps);
        steps
    }

    fn hint(&self, item: &Item) -> String {
        let side = if item.conversion.offset.angle().degrees() < 0.0 { "counterclockwise" } else { "clockwise" };
        format!(
            "Draw true north straight up and magnetic north {side} of it. From which of the two is the angle bigger?"
        )
    }

    fn figure(&self, item: &Item) -> Figure {
        if item.level == Level::ONE { item.conversion.sketch(None) } else { Figure::None }
    }

    fn explanation(&self, item: &Item, given: Option<&Answer>) -> Figure {
        item.conversion.sketch(given)
    }
}
