//! A7, back bearings: the same line seen from its other end, in degrees or in mils.

mod words;

use super::common::{CIRCLE, NOT_WRAPPED, angle};
use crate::angle::{Angle, Mils, North};
use crate::problem::{
    Answer, Draw, EndsFigure, Fact, FactName, Facts, Family, Field, FieldKind, Figure, Generator, HomeAngles, Level,
    MixupClass, MixupId, MixupList, MixupMeta, NorthLines, Question, SkillMeta, Step, Tolerance, Value, Wanted,
};

/// The skill `back-bearing`.
pub(super) struct BackBearing;

/// The numbers of one problem.
pub(super) struct BackBearingItem {
    unit: Unit,
    north: North,
    /// The bearing to reverse, in the unit.
    bearing: i32,
    story: Story,
}

/// The unit of a bearing, and how it is counted here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unit {
    /// Counted in tenths of a degree.
    Degrees,
    /// Counted in whole mils, 6400 to the circle.
    Mils,
}

/// What level 4 tells; the other levels just ask.
#[derive(Clone, Copy, Debug)]
enum Story {
    None,
    /// Back along the way.
    Return(Way),
    /// The bearing to a landmark, to be drawn on the map from the landmark.
    Landmark(&'static str),
    /// Two legs, of which one is to be walked back.
    Legs {
        way: Way,
        /// The bearing of the leg that is not asked for, in the unit.
        other: i32,
        /// The leg walked back is the last one of the way out.
        last: bool,
    },
}

/// Places on a way, start first.
type Way = [&'static str; 3];

/// The bearing given back as it was.
pub(super) const NOT_REVERSED: MixupMeta = MixupMeta {
    id: MixupId("not-reversed"),
    class: MixupClass::Forgotten,
    said: "kept the bearing as it was",
    mend: "Looking back along a line, you face the opposite way: half a circle further.",
};

/// The bearing taken from the full circle: `360 − b`.
const COUNTED_OTHER_WAY: MixupMeta = MixupMeta {
    id: MixupId("counted-other-way"),
    class: MixupClass::Mirrored,
    said: "took the bearing from the full circle, as if counting from north the other way round",
    mend: "Back is half a circle away: add or take off half, never subtract from the whole.",
};

/// A quarter turn instead of half a turn.
const QUARTER_TURN: MixupMeta = MixupMeta {
    id: MixupId("quarter-turn"),
    class: MixupClass::Scale,
    said: "turned by a quarter of the circle instead of half",
    mend: "Back is half a circle: 180 degrees, or 3200 mils.",
};

/// Two hundred added and the twenty not taken off again, or the other way round.
const STOPPED_AT_200: MixupMeta = MixupMeta {
    id: MixupId("stopped-at-200"),
    class: MixupClass::Forgotten,
    said: "went on by 200 instead of 180",
    mend: "Add 200 and take off 20, or take off 200 and add 20: only both together make half a circle.",
};

/// 180, half a circle of degrees, on a bearing in mils.
const DEGREES_ON_MILS: MixupMeta = MixupMeta {
    id: MixupId("degrees-on-mils"),
    class: MixupClass::Scale,
    said: "went on by 180, which is half a circle in degrees",
    mend: "A circle has 6400 mils, so half of it is 3200.",
};

/// The other leg of the way reversed.
const WRONG_LEG: MixupMeta = MixupMeta {
    id: MixupId("wrong-leg"),
    class: MixupClass::Method,
    said: "reversed the other leg of the way",
    mend: "Sketch the way with its places; the way back takes the legs in reverse order.",
};

static META: SkillMeta = SkillMeta {
    id: "back-bearing",
    mark: "A7",
    family: Family::Dial,
    title: "Back bearings",
    can: "Gives the bearing that leads back along a line.",
    levels: [
        "round bearings",
        "any whole degree",
        "near 180 and 360",
        "use it to return, or to draw from a landmark; a few in mils",
    ],
    prerequisites: &["turns"],
    mixups: &[NOT_REVERSED, COUNTED_OTHER_WAY, QUARTER_TURN, STOPPED_AT_200, DEGREES_ON_MILS, WRONG_LEG, NOT_WRAPPED],
    lines: NorthLines::Any,
    on_home: false,
    generation: 2,
};

const WAYS: [Way; 6] = [
    ["the hut", "the weir", "the chapel"],
    ["the camp", "the ford", "the cairn"],
    ["the barn", "the gate", "the lone pine"],
    ["the bridge", "the spring", "the saddle"],
    ["the jetty", "the old tower", "the quarry"],
    ["the shelter", "the signpost", "the tarn"],
];

const LANDMARKS: [&str; 6] =
    ["the chapel", "the old tower", "the summit cairn", "the lone pine", "the mast", "the mill"];

impl Unit {
    /// The full circle.
    const fn circle(self) -> i32 {
        match self {
            Unit::Degrees => CIRCLE,
            Unit::Mils => 6400,
        }
    }

    const fn half(self) -> i32 {
        self.circle() / 2
    }

    const fn wrap(self, number: i32) -> i32 {
        number.rem_euclid(self.circle())
    }

    /// The value as an answer holds it, not wrapped.
    fn value(self, number: i32) -> Value {
        match self {
            Unit::Degrees => Value::Angle(angle(number)),
            Unit::Mils => Value::Number(f64::from(number)),
        }
    }

    /// The direction of a number in this unit.
    fn direction(self, number: i32) -> Angle {
        match self {
            Unit::Degrees => angle(number),
            Unit::Mils => Mils::new(f64::from(number)).angle(),
        }
    }
}

impl BackBearingItem {
    /// What is added to reverse the bearing.
    const fn change(&self) -> i32 {
        if self.bearing < self.unit.half() { self.unit.half() } else { -self.unit.half() }
    }

    const fn back(&self) -> i32 {
        self.bearing + self.change()
    }

    /// What comes out of adding where one must take off and the reverse; none where that is 360, which is right.
    const fn not_wrapped(&self) -> Option<i32> {
        let off = self.bearing - self.change();
        if off == self.unit.circle() { None } else { Some(off) }
    }
}

impl BackBearingItem {
    /// The line with its bearing at either end.
    fn ends(&self, back: String, learner: Option<Angle>) -> EndsFigure {
        let there = words::bearing(self, self.bearing).to_string();
        EndsFigure { north: self.north, toward: self.unit.direction(self.bearing), there, back, learner }
    }
}

impl Generator for BackBearing {
    type Item = BackBearingItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> BackBearingItem {
        let mut north = draw.pick(&North::ALL);
        let unit = if level == Level::FOUR && draw.chance(1, 4) { Unit::Mils } else { Unit::Degrees };
        let any = |draw: &mut Draw| match unit {
            Unit::Degrees => draw.between(0, 359) * 10,
            Unit::Mils => draw.between(0, 319) * 20,
        };
        let bearing = match (level.number(), unit) {
            (1, _) => draw.between(0, 35) * 100,
            (3, _) => {
                let edge = draw.pick(&[0, 1800]);
                unit.wrap(edge + draw.between(-19, 19) * 10)
            }
            _ => any(draw),
        };
        // Two legs in one of two: there it must be seen which bearing is the one to reverse.
        let story = match draw.below(4) {
            _ if level < Level::FOUR => Story::None,
            0 => Story::Return(draw.pick(&WAYS)),
            1 => Story::Landmark(draw.pick(&LANDMARKS)),
            _ => {
                let step = if unit == Unit::Mils { 200 } else { 100 };
                let other = unit.wrap(bearing + draw.sign() * step * draw.between(3, 12));
                Story::Legs { way: draw.pick(&WAYS), other, last: draw.chance(1, 2) }
            }
        };
        // One walks by the compass and draws on the map: a story's north must fit what is done.
        match story {
            Story::None => {}
            Story::Return(_) | Story::Legs { .. } => north = North::Magnetic,
            Story::Landmark(_) => north = draw.pick(&[North::True, North::Grid]),
        }
        BackBearingItem { unit, north, bearing, story }
    }

    fn question(&self, item: &BackBearingItem) -> Question {
        const fn degrees(north: North, label: &'static str) -> [Field; 1] {
            let kind = FieldKind::Bearing(north);
            [Field { name: "back_bearing", label, kind, tolerance: Tolerance::within(0.5) }]
        }
        const fn mils(north: North, label: &'static str) -> [Field; 1] {
            let kind = FieldKind::Mils(north);
            [Field { name: "back_bearing", label, kind, tolerance: Tolerance::within(1.0) }]
        }
        static TRUE: [Field; 1] = degrees(North::True, "true back bearing");
        static GRID: [Field; 1] = degrees(North::Grid, "grid back bearing");
        static MAGNETIC: [Field; 1] = degrees(North::Magnetic, "magnetic back bearing");
        static TRUE_MILS: [Field; 1] = mils(North::True, "true back bearing, in mils");
        static GRID_MILS: [Field; 1] = mils(North::Grid, "grid back bearing, in mils");
        static MAGNETIC_MILS: [Field; 1] = mils(North::Magnetic, "magnetic back bearing, in mils");
        Question::typed(match (item.unit, item.north) {
            (Unit::Degrees, North::True) => &TRUE,
            (Unit::Degrees, North::Grid) => &GRID,
            (Unit::Degrees, North::Magnetic) => &MAGNETIC,
            (Unit::Mils, North::True) => &TRUE_MILS,
            (Unit::Mils, North::Grid) => &GRID_MILS,
            (Unit::Mils, North::Magnetic) => &MAGNETIC_MILS,
        })
    }

    fn answer(&self, item: &BackBearingItem) -> Answer {
        Answer::one(item.unit.value(item.back()))
    }

    fn mixups(&self, item: &BackBearingItem, list: &mut MixupList) {
        let (unit, bearing) = (item.unit, item.bearing);
        let quarter = unit.circle() / 4;
        let wrapped = |number: i32| Answer::one(unit.value(unit.wrap(number)));
        list.push(&NOT_REVERSED, wrapped(bearing), || words::unchanged(item));
        // At 0 and 180 it changes nothing, at 90 and 270 it is right.
        if bearing % quarter != 0 {
            list.push(&COUNTED_OTHER_WAY, wrapped(-bearing), || words::from_full_circle(item));
        }
        for quarter in [quarter, -quarter] {
            list.push(&QUARTER_TURN, wrapped(bearing + quarter), || words::sum(unit, bearing, quarter));
        }
        match unit {
            Unit::Degrees => {
                let change = 2000 * item.change().signum();
                list.push(&STOPPED_AT_200, wrapped(bearing + change), || words::sum(unit, bearing, change));
            }
            Unit::Mils => {
                for change in [180, -180] {
                    list.push(&DEGREES_ON_MILS, wrapped(bearing + change), || words::sum(unit, bearing, change));
                }
            }
        }
        if let Story::Legs { other, .. } = item.story {
            list.push(&WRONG_LEG, wrapped(other + unit.half()), || words::other_leg(unit, other));
        }
        if let Some(off) = item.not_wrapped() {
            list.push(&NOT_WRAPPED, Answer::one(unit.value(off)), || words::bare_sum(unit, bearing, -item.change()));
        }
    }

    fn facts(&self, item: &BackBearingItem) -> Facts {
        let fact = |in_degrees, in_mils, number| match item.unit {
            Unit::Degrees => Fact::angle(in_degrees, angle(number)),
            Unit::Mils => Fact::number(in_mils, f64::from(number)),
        };
        let mut facts = Vec::with_capacity(4);
        let wanted = match item.story {
            Story::Legs { other, last, .. } => {
                let (first, second) = if last { (other, item.bearing) } else { (item.bearing, other) };
                facts.push(fact(FactName::FirstLegBearing, FactName::FirstLegBearingMils, first));
                facts.push(fact(FactName::SecondLegBearing, FactName::SecondLegBearingMils, second));
                if last { Wanted::BackBearingOfSecondLeg } else { Wanted::BackBearingOfFirstLeg }
            }
            Story::None | Story::Return(_) | Story::Landmark(_) => {
                facts.push(fact(FactName::Bearing, FactName::BearingMils, item.bearing));
                Wanted::BackBearing
            }
        };
        facts.push(Fact::north(FactName::North, item.north));
        facts.push(Fact::wanted(wanted));
        Facts::from(facts)
    }

    fn prompt(&self, item: &BackBearingItem) -> String {
        words::prompt(item)
    }

    fn steps(&self, item: &BackBearingItem) -> Vec<Step> {
        words::steps(item)
    }

    fn hint(&self, item: &BackBearingItem) -> String {
        words::hint(item).to_owned()
    }

    fn right_way(&self, item: &BackBearingItem) -> String {
        words::right_way(item)
    }

    fn figure(&self, item: &BackBearingItem) -> Figure {
        match item.story {
            Story::None => Figure::Ends(item.ends(format!("? {}", item.north.letter()), None)),
            // Which leg is walked back, and from where one looks, is asked too.
            Story::Return(_) | Story::Landmark(_) | Story::Legs { .. } => Figure::None,
        }
    }

    fn explanation(&self, item: &BackBearingItem, given: Option<&Answer>) -> Figure {
        let learner = match given.map(Answer::values) {
            Some([Value::Angle(angle)]) => Some(*angle),
            Some([Value::Number(mils)]) => Some(Mils::new(*mils).angle()),
            _ => None,
        };
        Figure::Ends(item.ends(words::bearing(item, item.back()).to_string(), learner.map(Angle::wrapped)))
    }
}

#[cfg(test)]
mod tests;
