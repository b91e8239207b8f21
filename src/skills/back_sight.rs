//! E4, the back sight: on the way, looking back along the line with the number unchanged and the needle reversed.

use super::common::{Tenths, angle, bearing, push_bearing, wrap};
use super::hands::{Angles, DIAL_FOR_SELF, Lie, NOT_REVERSED, OFFSET_UNSEEN, SIDES_SWAPPED, exercise, shown_steps};
use crate::angle::{Angle, Bearing, North};
use crate::maptable::{Exercise, MapLines, Task};
use crate::problem::{
    Answer, Draw, Fact, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupId, MixupList, NorthLines, Paths,
    Question, STANDS, SkillMeta, Step, TableProblem, Value,
};

/// The skill `back-sight`.
pub(super) struct BackSight;

static STAND: [Field; 1] =
    [Field { name: "you_stand", label: "where you stand", kind: FieldKind::Choice(STANDS), tolerance: 0.0 }];

/// The numbers of one problem.
pub(super) struct Item {
    walked: Tenths,
    declination: Tenths,
    iron: Tenths,
    /// How far the start lies clockwise of the line back.
    off: Tenths,
    facing: Tenths,
    dial: Tenths,
}

static META: SkillMeta = SkillMeta {
    id: "back-sight",
    mark: "E4",
    family: Family::Field,
    title: "Back sight",
    can: "Looks back along the line with the number unchanged and the needle's south end boxed, and says on which side of it one stands.",
    levels: [
        "well off the line or on it, the number is set",
        "nearer to the line, the number is set",
        "the number must be set first",
        "close to the line, and iron may lie near",
    ],
    prerequisites: &["back-bearing", "follow-bearing"],
    mixups: &[SIDES_SWAPPED, OFFSET_UNSEEN, NOT_REVERSED, DIAL_FOR_SELF],
    lines: NorthLines::Any,
    on_home: false,
    generation: 1,
};

impl Item {
    const fn back(&self) -> Tenths {
        wrap(self.declination + self.iron + self.walked + 1800)
    }

    const fn right(&self) -> usize {
        if self.off == 0 {
            1
        } else if self.off > 0 {
            2
        } else {
            0
        }
    }

    fn exercise(&self) -> Exercise {
        let task = Task::BackSight {
            walked: Bearing::from_angle(angle(self.walked)),
            start_mark: Bearing::from_angle(angle(wrap(self.back() + self.off))),
        };
        let angles =
            Angles { declination: self.declination, printed: self.declination, convergence: 0, iron: self.iron };
        exercise(task, Lie { map: None, arrow: self.facing, dial: self.dial }, angles, MapLines::default())
    }
}

impl Generator for BackSight {
    type Item = Item;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> Item {
        let step = if level == Level::ONE { 100 } else { 10 };
        let walked = draw.between(0, 3590 / step) * step;
        let (low, high) = match level.number() {
            1 => (15, 30),
            2 => (9, 18),
            3 => (7, 15),
            _ => (6, 10),
        };
        let off = if draw.chance(1, 3) { 0 } else { draw.between(low, high) * 10 * draw.sign() };
        let declination = draw.between(3, 25) * 10 * draw.sign();
        let iron = if level == Level::FOUR && draw.chance(1, 2) { draw.between(4, 10) * 10 * draw.sign() } else { 0 };
        let dial = if level < Level::THREE { walked } else { wrap(walked + draw.between(30, 150) * 10 * draw.sign()) };
        // As one has walked: facing ahead, more or less.
        let facing = wrap(declination + walked + draw.between(-40, 40) * 10) / 10 * 10;
        Item { walked, declination, iron, off, facing, dial }
    }

    fn question(&self, _item: &Item) -> Question {
        Question::Table(&STAND)
    }

    fn answer(&self, item: &Item) -> Answer {
        Answer::one(Value::Word(STANDS[item.right()]))
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        if item.off == 0 {
            list.push(OFFSET_UNSEEN.id, Answer::one(Value::Word(STANDS[0])));
            list.push(OFFSET_UNSEEN.id, Answer::one(Value::Word(STANDS[2])));
        } else {
            list.push(SIDES_SWAPPED.id, Answer::one(Value::Word(STANDS[2 - item.right()])));
            list.push(OFFSET_UNSEEN.id, Answer::one(Value::Word(STANDS[1])));
        }
    }

    fn facts(&self, item: &Item) -> Vec<Fact> {
        let number = |name, tenths: Tenths| Fact::number(name, angle(tenths).degrees());
        vec![
            number("walked_magnetic_bearing_deg", item.walked),
            number("declination_deg", item.declination),
            number("iron_turns_needle_deg", item.iron),
            number("start_mark_azimuth_deg", wrap(item.back() + item.off)),
            number("start_facing_deg", item.facing),
            number("start_dial_deg", item.dial),
            Fact::word("wanted", "you_stand"),
        ]
    }

    fn prompt(&self, item: &Item) -> String {
        let mut out = String::with_capacity(240);
        out.push_str("You have been walking on ");
        push_bearing(&mut out, item.walked, North::Magnetic);
        out.push_str(" from a start that you can still see. ");
        if item.dial == item.walked {
            out.push_str("It is still on the dial. ");
        }
        out.push_str("Look back along the line. As you walk, do you stand left of it, on it, or right of it?");
        out
    }

    fn steps(&self, item: &Item) -> Vec<Step> {
        let mut steps = shown_steps(&item.exercise());
        steps.push(Step::new("You stand", STANDS[item.right()].to_owned()));
        steps
    }

    fn hint(&self, _item: &Item) -> String {
        "Leave the number. Turn round until the south end of the needle lies in the arrow's head: then you look back along the line."
            .to_owned()
    }

    fn paths(&self, item: &Item, mixup: MixupId) -> Paths {
        let mut list = MixupList::default();
        self.mixups(item, &mut list);
        let yours = list.iter().find(|listed| listed.id == mixup).map_or("", |listed| match listed.answer.values() {
            [Value::Word(word), ..] => word,
            _ => "",
        });
        Paths {
            yours: format!("you stand {yours}"),
            right: format!(
                "{} on the dial, south end boxed: the start shows that you stand {}",
                bearing(item.walked, North::Magnetic),
                STANDS[item.right()]
            ),
        }
    }

    fn table(&self, item: &Item) -> Option<TableProblem> {
        Some(TableProblem { exercise: item.exercise(), map: None, marks: Vec::new(), up: Angle::ZERO })
    }
}
