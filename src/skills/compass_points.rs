//! A1, compass points: from a point's name to its degrees, from degrees to the nearest name, opposite directions, and turns in
//! points. A8 asks the same of the card of 32 names.
//!
//! Everything is counted in points of 11.25°, as whole numbers clockwise from north; 32 make the circle.

pub(super) mod meta;
mod words;

use crate::angle::{Angle, Point, PointSet};
use crate::numbers::whole;
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Field, FieldKind, Figure, Generator, HomeAngles, Level, LineRole, MixupList,
    MixupMeta, Question, SketchLine, SkillMeta, Step, Tolerance, Value, Wanted,
};
use meta::{
    BETWEEN_CARDINALS, BY_WRONG_WAY, META, MIRRORED_EAST_WEST, MIRRORED_NORTH_SOUTH, NEXT_CLOCKWISE,
    NEXT_COUNTERCLOCKWISE, POINT_TOO_FAR, POINT_TOO_SHORT, POINTS_OF_EIGHT, POINTS_OF_SIXTEEN, STEMS_EXCHANGED,
    WIND_FROM, WRONG_STEM,
};

use super::common::{NOT_WRAPPED, figures};
use super::turning::TURNED_OTHER_WAY;

/// The skill `compass-points`.
pub(super) struct CompassPoints;

/// The numbers of one problem.
pub(super) struct CompassPointsItem {
    pub(super) card: PointSet,
    pub(super) given: Given,
    /// Degrees are asked for; otherwise a name.
    pub(super) wants_degrees: bool,
    pub(super) level: Level,
}

/// What the question gives.
#[derive(Clone, Copy)]
pub(super) enum Given {
    /// A point of the card.
    Name(Point),
    /// Whole degrees, clearly nearest to one point of the card.
    Degrees { degrees: i32, nearest: Point },
    /// Where the wind blows from; where it blows to is asked.
    Wind(Point),
    /// A start and so many points from there, clockwise positive; as a story about the wind or not.
    Turn { start: Point, by: i32, wind: bool },
}

/// Where a mix-up leads, in points clockwise from north.
#[derive(Clone, Copy)]
enum Wrong {
    /// To this point, of any size or sign.
    At(i32),
    /// To this number as it stands, in degrees off the dial.
    Unwrapped(i32),
}

impl CompassPointsItem {
    /// The right point's number; beyond 0 to 31 for a turn that goes through north.
    fn right(&self) -> i32 {
        match self.given {
            Given::Name(point) => i32::from(point.number()),
            Given::Degrees { nearest, .. } => i32::from(nearest.number()),
            Given::Wind(from) => (i32::from(from.number()) + 16) % 32,
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

    /// Tells each mix-up, where it leads, and its way.
    fn each_wrong(&self, mut tell: impl FnMut(&'static MixupMeta, Wrong, &dyn Fn() -> String)) {
        let raw = self.right();
        let right = raw.rem_euclid(32);
        let mut named = |meta, number| tell(meta, Wrong::At(number), &|| words::point_way(self, number));
        if right % 16 != 0 {
            named(&MIRRORED_EAST_WEST, 32 - right);
        }
        if right % 16 != 8 {
            named(&MIRRORED_NORTH_SOUTH, 16 - right);
        }
        // After a turn the neighbours are a miscount, in the sense of the turn; else they are names beside the right one.
        let step = self.step();
        let neighbours = match self.given {
            Given::Turn { by, .. } => [(&POINT_TOO_FAR, by.signum() * step), (&POINT_TOO_SHORT, -by.signum() * step)],
            _ => [(&NEXT_CLOCKWISE, step), (&NEXT_COUNTERCLOCKWISE, -step)],
        };
        let between = self.wrong_between();
        for (meta, aside) in neighbours {
            let number = right + aside;
            // The neighbour that is the middle of the quarter goes by that name alone.
            if between.is_none_or(|between| (number - between).rem_euclid(32) != 0) {
                named(meta, number);
            }
        }
        if let Some(between) = between {
            tell(&BETWEEN_CARDINALS, Wrong::At(between), &|| words::between_way(self, between));
        }
        match (self.given, ByName::of(right)) {
            (Given::Turn { start, by, .. }, _) => {
                let from = i32::from(start.number());
                tell(&TURNED_OTHER_WAY, Wrong::At(from - by), &|| words::turned(self, from, -by));
                let doubled = if self.step() == 1 { &POINTS_OF_SIXTEEN } else { &POINTS_OF_EIGHT };
                tell(doubled, Wrong::At(from + 2 * by), &|| words::points_doubled(self, from, by));
                // 360 itself stands on the dial.
                if self.wants_degrees && raw != right && raw != 32 {
                    tell(&NOT_WRAPPED, Wrong::Unwrapped(raw), &|| words::points_sum(from, by).to_string());
                }
            }
            (_, Some(ByName { stem, toward })) => {
                let mut summed = |meta, from: i32, change: i32| {
                    tell(meta, Wrong::At(from + change), &|| words::sum_way(self, from, change));
                };
                summed(&WRONG_STEM, stem, 4 * toward);
                summed(&BY_WRONG_WAY, stem, -toward);
                summed(&STEMS_EXCHANGED, stem + 4 * toward, -toward);
            }
            (Given::Wind(from), None) => {
                let from = i32::from(from.number());
                tell(&WIND_FROM, Wrong::At(from), &|| words::point_way(self, from));
            }
            (Given::Name(_) | Given::Degrees { .. }, None) => {}
        }
    }

    fn answer_at(&self, number: i32) -> Answer {
        if self.wants_degrees {
            Answer::one(Value::degrees(f64::from(number.rem_euclid(32)) * 11.25))
        } else {
            Answer::choice(usize::from(point(number).number() / (32 / self.card.count())))
        }
    }
}

/// Whole degrees so far from a point.
pub(super) fn near(nearest: Point, off: i32) -> Given {
    let degrees = whole::<i32>((f64::from(nearest.number()) * 11.25).round()) + off;
    Given::Degrees { degrees: degrees.rem_euclid(360), nearest }
}

/// A turn of so many steps of a card, each so many points of 11.25° wide. Where degrees are asked it goes through north in one
/// of two: whoever never comes back onto the circle is right only in the others.
pub(super) fn draw_turn(step: i32, steps: i32, wants_degrees: bool, draw: &mut Draw) -> Given {
    let (by, wind, across) = (step * steps * draw.sign(), draw.chance(1, 2), draw.chance(1, 2));
    let mut start = Point::new(0);
    for _ in 0..64 {
        start = point(2 * draw.between(0, 15));
        let end = i32::from(start.number()) + by;
        if !wants_degrees || (0..=32).contains(&end) != across {
            break;
        }
    }
    Given::Turn { start, by, wind }
}

/// The point with this number, of any size or sign.
pub(super) fn point(number: i32) -> Point {
    Point::new(u8::try_from(number.rem_euclid(32)).unwrap_or(0))
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
    let mut number = 0;
    while number < 32 {
        if (number as usize * COUNT).is_multiple_of(32) {
            names[number as usize * COUNT / 32] = Point::new(number).name();
        }
        number += 1;
    }
    names
}

const EIGHT: &[&str] = &names::<8>();
const SIXTEEN: &[&str] = &names::<16>();
const THIRTY_TWO: &[&str] = &names::<32>();

impl Generator for CompassPoints {
    type Item = CompassPointsItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> CompassPointsItem {
        let wants_degrees = draw.chance(1, 2);
        let card = if level == Level::ONE { PointSet::Eight } else { PointSet::Sixteen };
        let (count, step) = (i32::from(card.count()), 32 / i32::from(card.count()));
        let mut number = draw.between(0, count - 1) * step;
        // What is new on the card comes up in two of three.
        if level != Level::ONE && number / step % 2 == 0 && draw.chance(1, 3) {
            number += step;
        }
        let point = point(number);
        let (given, wants_degrees) = match level.number() {
            4 => (draw_turn(2, draw.between(2, 5), wants_degrees, draw), wants_degrees),
            3 if draw.chance(1, 2) => (Given::Wind(point), wants_degrees),
            // The border lies 11.25° from the name.
            3 => (near(point, draw.between(7, 10) * draw.sign()), false),
            _ if wants_degrees => (Given::Name(point), true),
            // Well inside half the spacing, so that the nearest name is never in doubt.
            1 => (near(point, draw.between(-3, 3) * 5), false),
            _ => (near(point, draw.between(-7, 7)), false),
        };
        CompassPointsItem { card, given, wants_degrees, level }
    }

    fn question(&self, item: &CompassPointsItem) -> Question {
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

    fn answer(&self, item: &CompassPointsItem) -> Answer {
        item.answer_at(item.right())
    }

    fn mixups(&self, item: &CompassPointsItem, list: &mut MixupList) {
        // On the card of 32 some formulas meet whatever is drawn: beside north the mirrored name is the one of the wrong "by". What
        // meets names no cause and is not listed; to draw again would not help.
        let mut times = [0_u8; 32];
        let place = |number: i32| number.rem_euclid(32) as usize;
        if item.card == PointSet::ThirtyTwo {
            times[place(item.right())] += 1;
            item.each_wrong(|_, wrong, _| {
                if let Wrong::At(number) = wrong {
                    times[place(number)] += 1;
                }
            });
        }
        item.each_wrong(|meta, wrong, way| match wrong {
            Wrong::At(number) if times[place(number)] > 1 => {}
            Wrong::At(number) => list.push(meta, item.answer_at(number), way),
            Wrong::Unwrapped(number) => list.push(meta, Answer::one(Value::degrees(f64::from(number) * 11.25)), way),
        });
    }

    fn facts(&self, item: &CompassPointsItem) -> Facts {
        let mut facts = Vec::with_capacity(5);
        match item.given {
            Given::Name(point) => facts.push(Fact::own_word("point", point.name())),
            Given::Degrees { degrees, .. } => {
                facts.push(Fact::own_angle("direction_deg", Angle::from_degrees(f64::from(degrees))));
            }
            Given::Wind(from) => facts.push(Fact::own_word("wind_from_point", from.name())),
            Given::Turn { start, by, .. } => {
                facts.push(Fact::own_word("start_point", start.name()));
                facts.push(Fact::own_number("turn_points", f64::from(by / item.step())));
                facts.push(Fact::own_number("degrees_per_point", f64::from(item.step()) * 11.25));
            }
        }
        facts.push(Fact::own_number("names_on_card", f64::from(item.card.count())));
        facts.push(Fact::wanted(Wanted::own(match item.given {
            _ if item.wants_degrees => "degrees",
            Given::Turn { .. } | Given::Wind(_) => "point",
            Given::Name(_) | Given::Degrees { .. } => "nearest_point",
        })));
        Facts::from(facts)
    }

    fn prompt(&self, item: &CompassPointsItem) -> String {
        words::prompt(item)
    }

    fn steps(&self, item: &CompassPointsItem) -> Vec<Step> {
        words::steps(item)
    }

    fn hint(&self, item: &CompassPointsItem) -> String {
        words::hint(item).to_owned()
    }

    fn right_way(&self, item: &CompassPointsItem) -> String {
        words::right_way(item)
    }

    fn figure(&self, item: &CompassPointsItem) -> Figure {
        if item.level == Level::ONE {
            Figure::Rose { names: item.card.count(), marked: Vec::new() }
        } else {
            Figure::None
        }
    }

    fn explanation(&self, item: &CompassPointsItem, given: Option<&Answer>) -> Figure {
        let line = |role, at: Angle, label: String| SketchLine { role, at: at.wrapped(), label };
        let mut marked = Vec::with_capacity(3);
        match item.given {
            Given::Name(_) => {}
            Given::Degrees { degrees, .. } => {
                let at = Angle::from_degrees(f64::from(degrees));
                marked.push(line(LineRole::Given, at, figures(degrees * 10).to_string()));
            }
            Given::Wind(from) => marked.push(line(LineRole::Given, from.angle(), from.name().to_owned())),
            Given::Turn { start, .. } => marked.push(line(LineRole::Given, start.angle(), start.name().to_owned())),
        }
        let right = point(item.right());
        let label = format!("{} {}", right.name(), words::degrees_of(i32::from(right.number())));
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
