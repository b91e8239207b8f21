//! A8, the card of 32 names: what compass points (A1) asks, with the names that have a "by". Only for groups that want it: it
//! comes where a drill or a standard names it, never by itself.

use super::common::NOT_WRAPPED;
use super::compass_points::meta::{
    BETWEEN_CARDINALS, BY_WRONG_WAY, MIRRORED_EAST_WEST, MIRRORED_NORTH_SOUTH, NEXT_CLOCKWISE, NEXT_COUNTERCLOCKWISE,
    POINT_TOO_FAR, POINT_TOO_SHORT, POINTS_OF_SIXTEEN, STEMS_EXCHANGED, WRONG_STEM,
};
use super::compass_points::{CompassPoints, CompassPointsItem, Given, draw_turn, near, point};
use super::turning::TURNED_OTHER_WAY;
use crate::angle::{Point, PointSet};
use crate::problem::{
    Answer, Draw, Facts, Family, Figure, Generator, HomeAngles, Level, MixupList, NorthLines, Question, SkillMeta, Step,
};

/// The skill `thirty-two-points`.
pub(super) struct ThirtyTwoPoints;

static META: SkillMeta = SkillMeta {
    id: "thirty-two-points",
    mark: "A8",
    family: Family::Dial,
    title: "The card of 32 points",
    can: "Names all 32 points of the compass, and turns by points.",
    levels: [
        "the names next to N, E, S and W, such as N by E",
        "any of the 32 names, such as NE by E",
        "degrees near the border of two names",
        "turns counted in points of 11.25°",
    ],
    prerequisites: &["compass-points"],
    mixups: &[
        MIRRORED_EAST_WEST,
        MIRRORED_NORTH_SOUTH,
        POINT_TOO_FAR,
        POINT_TOO_SHORT,
        NEXT_CLOCKWISE,
        NEXT_COUNTERCLOCKWISE,
        BETWEEN_CARDINALS,
        WRONG_STEM,
        BY_WRONG_WAY,
        STEMS_EXCHANGED,
        TURNED_OTHER_WAY,
        POINTS_OF_SIXTEEN,
        NOT_WRAPPED,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 3,
};

/// The rule is one and the same on both cards; what is drawn differs.
const RULE: CompassPoints = CompassPoints;

impl Generator for ThirtyTwoPoints {
    type Item = CompassPointsItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> CompassPointsItem {
        let wants_degrees = draw.chance(1, 2);
        let mut number = draw.between(0, 31);
        // What is new on the card comes up in two of three.
        if number % 2 == 0 && draw.chance(1, 3) {
            number += 1;
        }
        let point = point(number);
        let (given, wants_degrees) = match level.number() {
            4 => (draw_turn(1, draw.between(2, 7), wants_degrees, draw), wants_degrees),
            // The border lies 5.6° from the name.
            3 => (near(point, draw.between(3, 5) * draw.sign()), false),
            1 => {
                let beside = draw.pick(&[0u32, 8, 16, 24]) + 32;
                let point = Point::new(((beside + if draw.chance(1, 2) { 1 } else { 31 }) % 32) as u8);
                if wants_degrees { (Given::Name(point), true) } else { (near(point, draw.between(-3, 3)), false) }
            }
            _ if wants_degrees => (Given::Name(point), true),
            _ => (near(point, draw.between(-3, 3)), false),
        };
        CompassPointsItem { card: PointSet::ThirtyTwo, given, wants_degrees, level }
    }

    fn question(&self, item: &CompassPointsItem) -> Question {
        RULE.question(item)
    }

    fn answer(&self, item: &CompassPointsItem) -> Answer {
        RULE.answer(item)
    }

    fn mixups(&self, item: &CompassPointsItem, list: &mut MixupList) {
        RULE.mixups(item, list);
    }

    fn right_way(&self, item: &CompassPointsItem) -> String {
        RULE.right_way(item)
    }

    fn facts(&self, item: &CompassPointsItem) -> Facts {
        Generator::facts(&RULE, item)
    }

    fn prompt(&self, item: &CompassPointsItem) -> String {
        RULE.prompt(item)
    }

    fn steps(&self, item: &CompassPointsItem) -> Vec<Step> {
        RULE.steps(item)
    }

    fn hint(&self, item: &CompassPointsItem) -> String {
        RULE.hint(item)
    }

    fn figure(&self, item: &CompassPointsItem) -> Figure {
        RULE.figure(item)
    }

    fn explanation(&self, item: &CompassPointsItem, given: Option<&Answer>) -> Figure {
        RULE.explanation(item, given)
    }
}
