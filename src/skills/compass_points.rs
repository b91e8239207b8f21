//! A1, compass points: from a point's name to its degrees, from degrees to the nearest name, and turns in points.
//!
//! Everything is counted in points of 11.25°, as whole numbers clockwise from north; 32 make the circle.

mod meta;
mod words;

use crate::angle::{Angle, Point, PointSet};
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Field, FieldKind, Figure, Generator, HomeAngles, Level, LineRole, MixupList,
    Question, SketchLine, SkillMeta, Step, Tolerance, Value, Wanted,
};
use meta::{
    BETWEEN_CARDINALS, BY_WRONG_WAY, META, MIRRORED_EAST_WEST, MIRRORED_NORTH_SOUTH, POINT_TOO_FAR, POINT_TOO_SHORT,
    POINTS_OF_SIXTEEN, STEMS_EXCHANGED, WRONG_STEM,
};

use super::common::{NOT_WRAPPED, figures};
use super::turning::TURNED_OTHER_WAY;

/// The skill `compass-points`.
pub(super) struct CompassPoints;

/// The numbers of one problem.
pub(super) struct Item {
    card: PointSet,
    given: Given,
    /// Degrees are asked for; otherwise a name.
    wants_degrees: bool,
    level: Level,
}

/// What the question gives.
#[derive(Clone, Copy)]
enum Given {
    /// A point of the card.
    Name(Point),
    /// Whole degrees, clearly nearest to one point of the card.
    Degrees { degrees: i32, nearest: Point },
    /// A start and so many points from there, clockwise positive; as a story about the wind or not.
    Turn { start: Point, by: i32, wind: bool },
}

impl Item {
    /// The right point's number; beyond 0 to 31 for a turn that goes through north.
    fn right(&self) -> i32 {
        match self.given {
            Given::Name(point) => i32::from(point.number()),
            Given::Degrees { nearest, .. } => i32::from(nearest.number()),
            Given::Turn { start, by, .. } => i32::from(start.number()) + by,
        }
    }

    /// From one point of the card to the next.
    fn step(&self) -> i32 {
        32 / i32::from(self.card.count())
    }

    /// The middle of the quarter for a name of three letters, which is not "between" its first and last letter.
    fn wrong_between(&self) -> Option<i32> {
        let right = self.right().rem_euclid(32);
        (right % 4 == 2 && !matches!(self.given, Given::Turn { .. })).then_some(right / 8 * 8 + 4)
    }

    fn answer_at(&self, number: i32) -> Answer {
        if self.wants_degrees {
            Answer::one(Value::degrees(f64::from(number.rem_euclid(32)) * 11.25))
        } else {
            Answer::choice((number.rem_euclid(32) / self.step()) as usize)
        }
    }
}

/// The point with this number, of any size or sign.
fn point(number: i32) -> Point {
    Point::new(number.rem_euclid(32) as u8)
}

/// A name with "by": one point from its stem toward the name behind the "by".
struct ByName {
    stem: i32,
    /// +1 when that lies clockwise.
    toward: i32,
}

impl ByName {
    fn of(number: i32) -> Option<ByName> {
        match number.rem_euclid(4) {
            1 => Some(ByName { stem: number - 1, toward: 1 }),
            3 => Some(ByName { stem: number + 1, toward: -1 }),
            _ => None,
        }
    }
}

/// The names of a card, clockwise from north.
const fn names<const COUNT: usize>() -> [&'static str; COUNT] {
    let mut names = [""; COUNT];
    let mut at = 0;
    while at < COUNT {
        names[at] = Point::new((at * (32 / COUNT)) as u8).name();
        at += 1;
    }
    names
}

const EIGHT: &[&str] = &names::<8>();
const SIXTEEN: &[&str] = &names::<16>();
const THIRTY_TWO: &[&str] = &names::<32>();

impl Generator for CompassPoints {
    type Item = Item;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> Item {
        let wants_degrees = draw.chance(1, 2);
        let card = match level.number() {
            1 => PointSet::Eight,
            2 => PointSet::Sixteen,
            _ => PointSet::ThirtyTwo,
        };
        if level == Level::FOUR {
            let start = Point::new(draw.below(16) as u8 * 2);
            let given = Given::Turn { start, by: draw.between(2, 7) * draw.sign(), wind: draw.chance(1, 2) };
            return Item { card, given, wants_degrees, level };
        }
        let step = 32 / u32::from(card.count());
        let mut number = draw.below(u32::from(card.count())) * step;
        // What is new on the card comes up in two of three.
        let new = |number: u32| level == Level::ONE || !(number / step).is_multiple_of(2);
        if !new(number) && draw.chance(1, 3) {
            number += step;
        }
        let given = if wants_degrees {
            Given::Name(Point::new(number as u8))
        } else {
            // Well inside half the spacing, so that the nearest name is never in doubt.
            let off = match level.number() {
                1 => draw.between(-3, 3) * 5,
                2 => draw.between(-7, 7),
                _ => draw.between(-3, 3),
            };
            let degrees = (f64::from(number) * 11.25).round() as i32 + off;
            Given::Degrees { degrees: degrees.rem_euclid(360), nearest: Point::new(number as u8) }
        };
        Item { card, given, wants_degrees, level }
    }

    fn question(&self, item: &Item) -> Question {
        // Half a degree, so that 056 and 056.25 are both right for NE by E.
        static DEGREES: [Field; 1] =
            [Field { name: "degrees", label: "degrees", kind: FieldKind::Dial, tolerance: Tolerance::within(0.5) }];
        const fn field(names: &'static [&'static str]) -> [Field; 1] {
            let kind = FieldKind::Choice(Choices::Fixed(names));
            [Field { name: "point", label: "compass point", kind, tolerance: Tolerance::EXACT }]
        }
        static OF_EIGHT: [Field; 1] = field(EIGHT);
        static OF_SIXTEEN: [Field; 1] = field(SIXTEEN);
        static OF_THIRTY_TWO: [Field; 1] = field(THIRTY_TWO);
        if item.wants_degrees {
            return Question::typed(&DEGREES);
        }
        Question::choose(match item.card {
            PointSet::Eight => &OF_EIGHT,
            PointSet::Sixteen => &OF_SIXTEEN,
            PointSet::ThirtyTwo => &OF_THIRTY_TWO,
        })
    }

    fn answer(&self, item: &Item) -> Answer {
        item.answer_at(item.right())
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        let raw = item.right();
        let right = raw.rem_euclid(32);
        let mut named = |meta, number| list.push(meta, item.answer_at(number), || words::point_way(item, number));
        if right % 16 != 0 {
            named(&MIRRORED_EAST_WEST, 32 - right);
        }
        if right % 16 != 8 {
            named(&MIRRORED_NORTH_SOUTH, 16 - right);
        }
        // One point of the card; in a turn one point of 11.25° further in the sense of the turn.
        let step = if let Given::Turn { by, .. } = item.given { by.signum() } else { item.step() };
        let between = item.wrong_between();
        for (meta, number) in [(&POINT_TOO_FAR, right + step), (&POINT_TOO_SHORT, right - step)] {
            // The neighbour that is the middle of the quarter goes by that name alone.
            if between.is_none_or(|between| (number - between).rem_euclid(32) != 0) {
                named(meta, number);
            }
        }
        if let Some(between) = between {
            list.push(&BETWEEN_CARDINALS, item.answer_at(between), || words::between_way(item, between));
        }
        match (item.given, ByName::of(right)) {
            (Given::Turn { start, by, .. }, _) => {
                let from = i32::from(start.number());
                let other_way = || words::turned(item, from, -by);
                list.push(&TURNED_OTHER_WAY, item.answer_at(from - by), other_way);
                let of_sixteen = || words::points_of_sixteen(item, from, by);
                list.push(&POINTS_OF_SIXTEEN, item.answer_at(from + 2 * by), of_sixteen);
                // 360 itself stands on the dial.
                if item.wants_degrees && raw != right && raw != 32 {
                    let unwrapped = Answer::one(Value::degrees(f64::from(raw) * 11.25));
                    list.push(&NOT_WRAPPED, unwrapped, || words::points_sum(from, by));
                }
            }
            (_, Some(ByName { stem, toward })) => {
                let mut summed = |meta, from: i32, change: i32| {
                    list.push(meta, item.answer_at(from + change), || words::sum_way(item, from, change));
                };
                summed(&WRONG_STEM, stem, 4 * toward);
                summed(&BY_WRONG_WAY, stem, -toward);
                summed(&STEMS_EXCHANGED, stem + 4 * toward, -toward);
            }
            (_, None) => {}
        }
    }

    fn facts(&self, item: &Item) -> Facts {
        let mut facts = Vec::with_capacity(5);
        match item.given {
            Given::Name(point) => facts.push(Fact::own_word("point", point.name())),
            Given::Degrees { degrees, .. } => {
                facts.push(Fact::own_angle("direction_deg", Angle::from_degrees(f64::from(degrees))));
            }
            Given::Turn { start, by, .. } => {
                facts.push(Fact::own_word("start_point", start.name()));
                facts.push(Fact::own_number("turn_points", f64::from(by)));
                facts.push(Fact::own_number("degrees_per_point", 11.25));
            }
        }
        facts.push(Fact::own_number("names_on_card", f64::from(item.card.count())));
        facts.push(Fact::wanted(Wanted::own(match item.given {
            _ if item.wants_degrees => "degrees",
            Given::Turn { .. } => "point",
            Given::Name(_) | Given::Degrees { .. } => "nearest_point",
        })));
        Facts::from(facts)
    }

    fn prompt(&self, item: &Item) -> String {
        words::prompt(item)
    }

    fn steps(&self, item: &Item) -> Vec<Step> {
        words::steps(item)
    }

    fn hint(&self, item: &Item) -> String {
        words::hint(item).to_owned()
    }

    fn right_way(&self, item: &Item) -> String {
        words::right_way(item)
    }

    fn figure(&self, item: &Item) -> Figure {
        if item.level == Level::ONE {
            Figure::Rose { names: item.card.count(), marked: Vec::new() }
        } else {
            Figure::None
        }
    }

    fn explanation(&self, item: &Item, given: Option<&Answer>) -> Figure {
        let line = |role, at: Angle, label: String| SketchLine { role, at: at.wrapped(), label, arc: None };
        let mut marked = Vec::with_capacity(3);
        match item.given {
            Given::Name(_) => {}
            Given::Degrees { degrees, .. } => {
                let at = Angle::from_degrees(f64::from(degrees));
                marked.push(line(LineRole::Given, at, figures(degrees * 10)));
            }
            Given::Turn { start, .. } => marked.push(line(LineRole::Given, start.angle(), start.name().to_owned())),
        }
        let right = point(item.right());
        let mut label = String::with_capacity(12);
        label.push_str(right.name());
        label.push(' ');
        words::push_degrees(&mut label, i32::from(right.number()));
        marked.push(line(LineRole::Right, right.angle(), label));
        let yours = match given.map(Answer::values) {
            Some([Value::Angle(angle)]) => Some(*angle),
            Some([Value::Choice(at)]) => item.card.points().nth(*at).map(Point::angle),
            _ => None,
        };
        if let Some(at) = yours {
            marked.push(line(LineRole::Learner, at, "you".to_owned()));
        }
        Figure::Rose { names: item.card.count(), marked }
    }
}

#[cfg(test)]
mod tests;
