//! B4, grid ↔ magnetic: the map's grid bearing to the compass's and back, by the G-M angle.

use super::common::{APPLIED_TWICE, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, hardly_differs, offset_of};
use super::conversion::draw_offset;
use super::map_line::{MapLine, STORY_HINT};
use super::norths::{DECLINATION_FOR_GMA, GMA_ON_TRUE_LINE, Norths, SIZES_ADDED, given_alone_words, tells, whole};
use crate::angle::{GridMagnetic, declination_words};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Figure, Generator, HomeAngles, Level, MixupList, NorthLines, Question,
    SkillMeta, Step,
};

/// The skill `grid-magnetic`.
pub(super) struct GridMagneticSkill;

/// The numbers of one problem.
pub(super) struct GridMagneticItem {
    line: MapLine,
    /// From level 3 the G-M angle must be worked out from these.
    norths: Option<Norths>,
    /// Level 4 tells a story instead of naming the two norths, and the map's line may be a true-north line.
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
        "decide from a story which way to convert, and by which angle",
    ],
    prerequisites: &["true-magnetic"],
    mixups: &[
        SIGN_FLIPPED,
        NOT_APPLIED,
        APPLIED_TWICE,
        NOT_WRAPPED,
        DECLINATION_FOR_GMA,
        SIZES_ADDED,
        GMA_ON_TRUE_LINE,
    ],
    lines: NorthLines::Grid,
    on_home: true,
    generation: 2,
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
    type Item = GridMagneticItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn too_small(&self, _level: Level, home: HomeAngles) -> bool {
        hardly_differs(Norths::at_home(home).on_dial())
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> GridMagneticItem {
        let on_home = home.is_some();
        if level < Level::THREE {
            let grid_magnetic = draw_offset(level, home.map(HomeAngles::grid_magnetic), draw);
            let line = MapLine::from_grid(level, grid_magnetic, draw);
            return GridMagneticItem { line, norths: None, place: None, on_home };
        }
        let mut norths = Norths::draw(home, draw);
        let place = (level == Level::FOUR).then(|| draw.pick(&PLACES));
        let by_true_line = place.is_some() && draw.chance(2, 5);
        if by_true_line && home.is_none() {
            // Large enough for a bearing from a true-north line.
            norths.declination = offset_of(draw.between(4, 28) * draw.sign() * 10);
        }
        let line = if by_true_line && !hardly_differs(whole(norths.declination)) {
            MapLine::from_true(level, whole(norths.declination), draw)
        } else {
            MapLine::from_grid(level, norths.on_dial(), draw)
        };
        GridMagneticItem { line, norths: Some(norths), place, on_home }
    }

    fn question(&self, item: &GridMagneticItem) -> Question {
        item.line.question()
    }

    fn answer(&self, item: &GridMagneticItem) -> Answer {
        item.line.right()
    }

    fn mixups(&self, item: &GridMagneticItem, list: &mut MixupList) {
        item.line.mixups(list);
        let Some(norths) = &item.norths else { return };
        if item.line.is_grid() {
            if let Some(used) = norths.declination_for_gma() {
                let words = || format!("Declination {}", declination_words(norths.declination.angle()));
                item.line.push_used(list, &DECLINATION_FOR_GMA, used.angle(), words);
            }
            if let Some(used) = norths.added() {
                item.line.push_used(list, &SIZES_ADDED, used.angle(), || norths.wrong_sum());
            }
        } else if tells(norths.on_dial().angle(), item.line.angle()) {
            let words = || format!("G-M angle {}", norths.sum());
            item.line.push_used(list, &GMA_ON_TRUE_LINE, norths.on_dial().angle(), words);
        }
    }

    fn right_way(&self, item: &GridMagneticItem) -> String {
        let way = item.line.right_way();
        match &item.norths {
            Some(norths) if item.line.is_grid() => format!("G-M angle {}. {way}", norths.sum()),
            _ => way,
        }
    }

    fn facts(&self, item: &GridMagneticItem) -> Facts {
        let mut facts = Vec::with_capacity(4);
        facts.push(item.line.given_fact());
        match &item.norths {
            Some(norths) => norths.push_facts(&mut facts),
            None => facts.push(Fact::angle(FactName::GridMagnetic, item.line.angle())),
        }
        facts.push(Fact::north(FactName::WantedNorth, item.line.wanted()));
        facts.into()
    }

    fn prompt(&self, item: &GridMagneticItem) -> String {
        let given = match &item.norths {
            Some(norths) => norths.given_words(item.on_home).to_string(),
            None => {
                let angle = GridMagnetic::from_angle(item.line.angle());
                format!("{}. ", given_alone_words("The G-M angle", angle, item.on_home))
            }
        };
        match item.place {
            None => format!("{given}{}", item.line.plain_words()),
            Some(place) => format!("{given}{}", item.line.story_words(place)),
        }
    }

    fn steps(&self, item: &GridMagneticItem) -> Vec<Step> {
        let mut steps = Vec::with_capacity(8);
        if item.place.is_some() {
            steps.push(item.line.which_counts());
        }
        match &item.norths {
            Some(norths) if item.line.is_grid() => norths.push_steps(&mut steps),
            Some(norths) => steps.extend(norths.rounded_declination()),
            None => {}
        }
        item.line.push_steps(&mut steps);
        steps
    }

    fn hint(&self, item: &GridMagneticItem) -> String {
        if item.place.is_some() {
            return STORY_HINT.to_owned();
        }
        if item.norths.is_some() {
            return "Draw true north straight up and the other two norths beside it. How far is it from grid north to magnetic north, and from which of the two is the bearing bigger?".to_owned();
        }
        item.line.hint()
    }

    fn figure(&self, item: &GridMagneticItem) -> Figure {
        item.line.asked(item.norths.is_none())
    }

    fn explanation(&self, item: &GridMagneticItem, given: Option<&Answer>) -> Figure {
        item.line.told(given)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn home_ground_subtracts_what_it_prints_and_rounds_once() {
        // At 33.9 S, 18.4 E `north` says 28°15′ W; B4 said 29°.
        let home = HomeAngles::new(
            crate::angle::Declination::from_angle(crate::angle::Angle::from_minutes(-1_608.0)),
            crate::angle::Convergence::from_angle(crate::angle::Angle::from_minutes(87.0)),
        );
        let mut draw = Draw::new("B4", 3, 2, 1);
        let item = GridMagneticSkill.draw(Level::THREE, Some(home), &mut draw);
        assert!(
            GridMagneticSkill
                .prompt(&item)
                .starts_with("Declination on home ground is 26°48′ W and grid convergence is 1°27′ E. ")
        );
        let steps: Vec<String> = GridMagneticSkill.steps(&item).iter().map(Step::line).collect();
        assert!(
            steps[0].ends_with("so add; the needle's side stays: 26°48′ + 1°27′ = 28°15′, so 28°15′ W"),
            "{steps:?}"
        );
        assert_eq!(steps[1], "Nobody can set minutes on a dial, so round to the nearest degree: 28° W");
        let item = GridMagneticSkill.draw(Level::TWO, Some(home), &mut draw);
        assert!(GridMagneticSkill.prompt(&item).starts_with("The G-M angle on home ground, rounded, is 28° W. "));
    }

    #[test]
    fn a_small_convergence_of_home_ground_is_subtracted_and_none_is_told_as_none() {
        // B4-3-467192-3.9E-0.1E: "4 + 0 = 4, same side, so subtract".
        let first = |convergence| {
            let home = HomeAngles::new(
                crate::angle::Declination::from_degrees(3.9),
                crate::angle::Convergence::from_degrees(convergence),
            );
            let item = GridMagneticSkill.draw(Level::THREE, Some(home), &mut Draw::new("B4", 3, 2, 1));
            GridMagneticSkill.steps(&item)[0].line()
        };
        assert!(first(0.1).ends_with(
            "same side of true north, so subtract; the needle lies further out, so its side stays: 3°54′ − 0°06′ = 3°48′, so 3°48′ E"
        ));
        assert!(
            first(0.0).ends_with("Grid north is true north here, so it is the declination itself: 3°54′, so 3°54′ E")
        );
    }
}
