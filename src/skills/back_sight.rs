//! E4, the back sight: on the way, looking back along the line with the number unchanged and the needle reversed.

use super::common::{InTenths, Tenths, angle, bearing, bearing_of, offset_of, push_bearing, wrap};
use super::hands::{Angles, DIAL_FOR_SELF, Lie, NOT_REVERSED, OFFSET_UNSEEN, SIDES_SWAPPED, exercise, shown_steps};
use crate::angle::{Angle, Bearing, Convergence, Declination, Magnetic, North, True};
use crate::maptable::{Exercise, MapLines, Task};
use crate::problem::{
    Answer, Choices, Draw, Fact, FactName, Facts, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupList,
    MixupMeta, NorthLines, Question, STANDS, SkillMeta, Step, TableProblem, Tolerance, Wanted,
};

/// The skill `back-sight`.
pub(super) struct BackSight;

static STAND: [Field; 1] = [Field {
    name: "you_stand",
    label: "where you stand",
    kind: FieldKind::Choice(Choices::Fixed(STANDS)),
    tolerance: Tolerance::EXACT,
}];
/// The places of [`STANDS`].
const LEFT: usize = 0;
const ON_LINE: usize = 1;
const RIGHT: usize = 2;

/// The numbers of one problem.
pub(super) struct Item {
    walked: Bearing<Magnetic>,
    declination: Declination,
    iron: Tenths,
    /// How far the start lies clockwise of the line back.
    off: Tenths,
    facing: Bearing<True>,
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
    /// The azimuth of the line back, as the needle shows it.
    fn back(&self) -> Bearing<True> {
        self.walked.to(self.declination.inverse()).turned(angle(self.iron)).back()
    }

    /// Where the start now lies.
    fn start_mark(&self) -> Bearing<True> {
        self.back().turned(angle(self.off))
    }

    const fn right(&self) -> usize {
        match self.off {
            0 => ON_LINE,
            1.. => RIGHT,
            _ => LEFT,
        }
    }

    fn exercise(&self) -> Exercise {
        let task = Task::BackSight { walked: self.walked, start_mark: self.start_mark() };
        let angles = Angles {
            declination: self.declination,
            printed: self.declination,
            convergence: Convergence::from_angle(Angle::ZERO),
            iron: self.iron,
        };
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
        let (walked, declination): (Bearing<Magnetic>, Declination) = (bearing_of(walked), offset_of(declination));
        let facing = walked.to(declination.inverse()).turned(angle(draw.between(-40, 40) * 10));
        Item { walked, declination, iron, off, facing, dial }
    }

    fn question(&self, _item: &Item) -> Question {
        Question::table(&STAND)
    }

    fn answer(&self, item: &Item) -> Answer {
        Answer::choice(item.right())
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        let mut push = |meta: &'static MixupMeta, stands: usize| {
            list.push(meta, Answer::choice(stands), || format!("you stand {}", STANDS[stands]));
        };
        match item.right() {
            ON_LINE => {
                push(&OFFSET_UNSEEN, LEFT);
                push(&OFFSET_UNSEEN, RIGHT);
            }
            side => {
                push(&SIDES_SWAPPED, RIGHT - side);
                push(&OFFSET_UNSEEN, ON_LINE);
            }
        }
    }

    fn right_way(&self, item: &Item) -> String {
        format!(
            "{} on the dial, south end boxed: the start shows that you stand {}",
            bearing(item.walked, North::Magnetic),
            STANDS[item.right()]
        )
    }

    fn facts(&self, item: &Item) -> Facts {
        Facts::from(vec![
            Fact::angle(FactName::WalkedBearing, item.walked.angle()),
            Fact::angle(FactName::Declination, item.declination.angle()),
            Fact::own_angle("iron_turns_needle_deg", angle(item.iron)),
            Fact::own_angle("start_mark_azimuth_deg", item.start_mark().angle()),
            Fact::own_angle("start_facing_deg", item.facing.angle()),
            Fact::angle(FactName::StartDial, angle(item.dial)),
            Fact::wanted(Wanted::own("you_stand")),
        ])
    }

    fn prompt(&self, item: &Item) -> String {
        let mut out = String::with_capacity(240);
        out.push_str("You have been walking on ");
        push_bearing(&mut out, item.walked, North::Magnetic);
        out.push_str(" from a start that you can still see. ");
        if item.dial == item.walked.in_tenths() {
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

    fn table(&self, item: &Item) -> Option<TableProblem> {
        Some(TableProblem { exercise: item.exercise(), map: None, marks: Vec::new(), up: Angle::ZERO })
    }
}
