//! A1, compass points: from a point's name to its degrees, from degrees to the nearest name, and turns in points.
//!
//! Everything is counted in points of 11.25°, as whole numbers clockwise from north; 32 make the circle.

mod meta;
mod words;

use crate::angle::{Angle, Point, PointSet};
use crate::problem::{
    Answer, Draw, Fact, Field, FieldKind, Figure, Generator, HomeAngles, Level, LineRole, MixupId, MixupList, Paths,
    Question, SketchLine, SkillMeta, Step, Value,
};
use meta::{
    BETWEEN_CARDINALS, BY_WRONG_WAY, META, MIRRORED_EAST_WEST, MIRRORED_NORTH_SOUTH, POINT_TOO_FAR, POINT_TOO_SHORT,
    POINTS_OF_SIXTEEN, STEMS_EXCHANGED, WRONG_STEM,
};

use super::common::NOT_WRAPPED;
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

    /// The number that a mix-up ends at, where it gives another one than the right way.
    fn wrong(&self, mixup: MixupId) -> Option<i32> {
        let raw = self.right();
        let right = raw.rem_euclid(32);
        let turn = match self.given {
            Given::Turn { start, by, .. } => Some((i32::from(start.number()), by)),
            Given::Name(_) | Given::Degrees { .. } => None,
        };
        // One point of the card; in a turn one point of 11.25° further in the sense of the turn.
        let step = match turn {
            Some((_, by)) => by.signum(),
            None => 32 / i32::from(self.card.count()),
        };
        let by_name = ByName::of(right).filter(|_| turn.is_none());
        let neighbour = |number: i32| {
            let between = self.wrong_between();
            (between.is_none_or(|between| (number - between).rem_euclid(32) != 0)).then_some(number)
        };
        match mixup {
            id if id == MIRRORED_EAST_WEST.id => (right % 16 != 0).then_some(32 - right),
            id if id == MIRRORED_NORTH_SOUTH.id => (right % 16 != 8).then_some(16 - right),
            id if id == POINT_TOO_FAR.id => neighbour(right + step),
            id if id == POINT_TOO_SHORT.id => neighbour(right - step),
            id if id == BETWEEN_CARDINALS.id => self.wrong_between(),
            id if id == WRONG_STEM.id => by_name.map(|by| right + 3 * by.toward),
            id if id == BY_WRONG_WAY.id => by_name.map(|by| right - 2 * by.toward),
            id if id == STEMS_EXCHANGED.id => by_name.map(|by| right + 2 * by.toward),
            id if id == TURNED_OTHER_WAY.id => turn.map(|(start, by)| start - by),
            id if id == POINTS_OF_SIXTEEN.id => turn.map(|(start, by)| start + 2 * by),
            // 360 itself stands on the dial.
            id if id == NOT_WRAPPED.id => (self.wants_degrees && raw != right && raw != 32).then_some(raw),
            _ => None,
        }
    }

    /// The middle of the quarter for a name of three letters, which is not "between" its first and last letter. Where
    /// a neighbour on the card is the same point, it goes by this name alone.
    fn wrong_between(&self) -> Option<i32> {
        let right = self.right().rem_euclid(32);
        (right % 4 == 2 && !matches!(self.given, Given::Turn { .. })).then_some(right / 8 * 8 + 4)
    }

    fn answer_at(&self, number: i32) -> Answer {
        if self.wants_degrees {
            Answer::one(Value::degrees(f64::from(number.rem_euclid(32)) * 11.25))
        } else {
            Answer::one(Value::Word(point(number).name()))
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
            [Field { name: "degrees", label: "degrees", kind: FieldKind::Dial, tolerance: 0.5 }];
        const fn field(names: &'static [&'static str]) -> [Field; 1] {
            [Field { name: "point", label: "compass point", kind: FieldKind::Choice(names), tolerance: 0.0 }]
        }
        static OF_EIGHT: [Field; 1] = field(EIGHT);
        static OF_SIXTEEN: [Field; 1] = field(SIXTEEN);
        static OF_THIRTY_TWO: [Field; 1] = field(THIRTY_TWO);
        if item.wants_degrees {
            return Question::Typed(&DEGREES);
        }
        Question::Choose(match item.card {
            PointSet::Eight => &OF_EIGHT,
            PointSet::Sixteen => &OF_SIXTEEN,
            PointSet::ThirtyTwo => &OF_THIRTY_TWO,
        })
    }

    fn answer(&self, item: &Item) -> Answer {
        item.answer_at(item.right())
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        for mixup in META.mixups {
            if let Some(number) = item.wrong(mixup.id) {
                list.push(
                    mixup.id,
                    if mixup.id == NOT_WRAPPED.id {
                        Answer::one(Value::degrees(f64::from(number) * 11.25))
                    } else {
                        item.answer_at(number)
                    },
                );
            }
        }
    }

    fn facts(&self, item: &Item) -> Vec<Fact> {
        let mut facts = Vec::with_capacity(5);
        match item.given {
            Given::Name(point) => facts.push(Fact::word("point", point.name())),
            Given::Degrees { degrees, .. } => facts.push(Fact::number("direction_deg", f64::from(degrees))),
            Given::Turn { start, by, .. } => {
                facts.push(Fact::word("start_point", start.name()));
                facts.push(Fact::number("turn_points", f64::from(by)));
                facts.push(Fact::number("degrees_per_point", 11.25));
            }
        }
        facts.push(Fact::number("names_on_card", f64::from(item.card.count())));
        let wanted = match item.given {
            _ if item.wants_degrees => "degrees",
            Given::Turn { .. } => "point",
            Given::Name(_) | Given::Degrees { .. } => "nearest_point",
        };
        facts.push(Fact::word("wanted", wanted));
        facts
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

    fn paths(&self, item: &Item, mixup: MixupId) -> Paths {
        words::paths(item, mixup)
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
                marked.push(line(LineRole::Given, at, super::common::figures(degrees * 10)));
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
            Some([Value::Word(name)]) => Point::read(name).map(Point::angle),
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
