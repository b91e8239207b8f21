//! B2, true ↔ magnetic: the map's bearing to the compass's and back, by the declination.

use super::common::{APPLIED_TWICE, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, hardly_differs, offset_of};
use super::conversion::{draw_offset, home_declination};
use super::map_line::{MapLine, STORY_HINT};
use super::norths::{DECLINATION_FOR_GMA, GMA_ON_TRUE_LINE, Norths, given_alone_words, tells, whole};
use crate::angle::{Declination, GridMagnetic, declination_words};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Figure, Generator, HomeAngles, Level, MixupList, NorthLines, Question,
    SkillMeta, Step,
};
use std::fmt::Write;

/// The skill `true-magnetic`.
pub(super) struct TrueMagnetic;

/// The numbers of one problem.
pub(super) struct TrueMagneticItem {
    line: MapLine,
    /// Level 4 tells a story instead of naming the two norths, and gives two angles of which one counts.
    story: Option<Story>,
    on_home: bool,
}

struct Story {
    place: &'static str,
    declination: Declination,
    grid_magnetic: GridMagnetic,
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
        "through north",
        "decide from a story which way to convert, and by which of two angles",
    ],
    prerequisites: &["diagram"],
    mixups: &[SIGN_FLIPPED, NOT_APPLIED, APPLIED_TWICE, NOT_WRAPPED, GMA_ON_TRUE_LINE, DECLINATION_FOR_GMA],
    lines: NorthLines::Any,
    on_home: true,
    generation: 2,
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
    type Item = TrueMagneticItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn too_small(&self, _level: Level, home: HomeAngles) -> bool {
        hardly_differs(whole(home.declination()))
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> TrueMagneticItem {
        let on_home = home.is_some();
        if level < Level::FOUR {
            let declination = draw_offset(level, home_declination(home), draw);
            return TrueMagneticItem { line: MapLine::from_true(level, declination, draw), story: None, on_home };
        }
        let norths = home.map_or_else(|| two_angles(draw), Norths::at_home);
        let (declination, grid_magnetic) = (whole(norths.declination), norths.on_dial());
        let line = if draw.chance(1, 2) && !hardly_differs(grid_magnetic) {
            MapLine::from_grid(level, grid_magnetic, draw)
        } else {
            MapLine::from_true(level, declination, draw)
        };
        TrueMagneticItem { line, story: Some(Story { place: draw.pick(&PLACES), declination, grid_magnetic }), on_home }
    }

    fn question(&self, item: &TrueMagneticItem) -> Question {
        item.line.question()
    }

    fn answer(&self, item: &TrueMagneticItem) -> Answer {
        item.line.right()
    }

    fn mixups(&self, item: &TrueMagneticItem, list: &mut MixupList) {
        item.line.mixups(list);
        let Some(story) = &item.story else { return };
        let (declination, grid_magnetic) = (story.declination.angle(), story.grid_magnetic.angle());
        if !tells(declination, grid_magnetic) || !tells(grid_magnetic, declination) {
            return;
        }
        if item.line.is_grid() {
            item.line.push_used(list, &DECLINATION_FOR_GMA, declination, || {
                format!("Declination {}", declination_words(declination))
            });
        } else {
            item.line.push_used(list, &GMA_ON_TRUE_LINE, grid_magnetic, || {
                format!("G-M angle {}", declination_words(grid_magnetic))
            });
        }
    }

    fn right_way(&self, item: &TrueMagneticItem) -> String {
        item.line.right_way()
    }

    fn facts(&self, item: &TrueMagneticItem) -> Facts {
        let mut facts = vec![item.line.given_fact()];
        match &item.story {
            Some(story) => {
                facts.push(Fact::angle(FactName::Declination, story.declination.angle()));
                facts.push(Fact::angle(FactName::GridMagnetic, story.grid_magnetic.angle()));
            }
            None => facts.push(Fact::angle(FactName::Declination, item.line.angle())),
        }
        facts.push(Fact::north(FactName::WantedNorth, item.line.wanted()));
        facts.into()
    }

    fn prompt(&self, item: &TrueMagneticItem) -> String {
        let mut out = String::with_capacity(240);
        let Some(story) = &item.story else {
            let _ = write!(
                out,
                "{}. {}",
                given_alone_words("Declination", Declination::from_angle(item.line.angle()), item.on_home),
                item.line.plain_words()
            );
            return out;
        };
        let _ = write!(
            out,
            "{}, and the G-M angle is {}. {}",
            given_alone_words("Declination", story.declination, item.on_home),
            declination_words(story.grid_magnetic.angle()),
            item.line.story_words(story.place)
        );
        out
    }

    fn steps(&self, item: &TrueMagneticItem) -> Vec<Step> {
        let mut steps = Vec::with_capacity(6);
        if item.story.is_some() {
            steps.push(item.line.which_counts());
        }
        item.line.push_steps(&mut steps);
        steps
    }

    fn hint(&self, item: &TrueMagneticItem) -> String {
        if item.story.is_some() { STORY_HINT.to_owned() } else { item.line.hint() }
    }

    fn figure(&self, item: &TrueMagneticItem) -> Figure {
        item.line.asked(item.story.is_none())
    }

    fn explanation(&self, item: &TrueMagneticItem, given: Option<&Answer>) -> Figure {
        item.line.told(given)
    }
}

/// A declination and a convergence that make a G-M angle which can be told from none and from the declination.
fn two_angles(draw: &mut Draw) -> Norths {
    let (declination, convergence) = (draw.between(4, 28) * draw.sign(), draw.between(2, 5) * draw.sign());
    let close = (declination - convergence).abs() < 2;
    let convergence = if close { -convergence } else { convergence };
    Norths { declination: offset_of(declination * 10), convergence: offset_of(convergence * 10) }
}
