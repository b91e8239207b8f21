//! E4, the back sight: on the way, looking back along the line with the number unchanged and the needle reversed.

use super::amounts::HAZARD;
use super::common::{InTenths, Tenths, angle, bearing, bearing_of, offset_of, wrap};
use super::hands::{
    Angles, DIAL_FOR_SELF, IRON_SUPPOSED, IRON_UNHEEDED, Lie, NOT_REVERSED, OFFSET_UNSEEN, SIDES_SWAPPED, exercise,
    shown_steps,
};
use crate::angle::{Angle, Bearing, Convergence, Declination, Magnetic, North, True};
use crate::maptable::{Doubt, Exercise, MapLines, Stands, Task};
use crate::problem::{
    Answer, Choices, Draw, Fact, FactName, Facts, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupList,
    MixupMeta, NorthLines, Question, STANDS, STANDS_OR_NOT, SkillMeta, Step, TableProblem, Tolerance, Wanted,
};
use std::fmt::Write;

/// The skill `back-sight`.
pub(super) struct BackSight;

static STAND: [Field; 1] = [Field {
    name: "you_stand",
    label: "where you stand",
    kind: FieldKind::Choice(Choices::Fixed(STANDS)),
    tolerance: Tolerance::EXACT,
}];
static STAND_OR_NOT: [Field; 1] = [Field {
    name: "you_stand",
    label: "where you stand",
    kind: FieldKind::Choice(Choices::Fixed(STANDS_OR_NOT)),
    tolerance: Tolerance::EXACT,
}];
/// The places of [`STANDS_OR_NOT`], of which [`STANDS`] are the first.
const LEFT: usize = 0;
const ON_LINE: usize = 1;
const RIGHT: usize = 2;
const CANNOT_TELL: usize = 3;

/// Things of iron, and things of the same look that are none.
const IRON: [&str; 4] = ["a wire fence", "a parked car", "an iron gate", "a steel mast"];
const NO_IRON: [&str; 4] = ["a stone wall", "a birch", "a wooden fence", "a heap of hay"];
/// Marks of a fore sight.
const FORE_MARKS: [&str; 4] = ["pine", "cairn", "gatepost", "boulder"];

/// What the place tells of iron.
#[derive(Clone, Copy)]
enum Beside {
    /// None is near, and it is said.
    Nothing,
    /// Something else, and what the needle did some steps off.
    NoIron(&'static str, StepsBack),
    /// Iron is near: this piece.
    Iron(&'static str),
    /// The very mark that the fore sight was taken to.
    ForeMark(&'static str),
}

/// Whether the needle was looked at ten steps back. Neither a thing nor these words alone say whether anything can be told:
/// one has to know what iron does, and what this trial shows.
#[derive(Clone, Copy, PartialEq, Eq)]
enum StepsBack {
    /// Nothing is said of it.
    NotTried,
    /// It pointed the same way.
    Same,
    /// It pointed so many degrees another way: something turns it here.
    Another(i32),
}

/// The numbers of one problem.
pub(super) struct BackSightItem {
    walked: Bearing<Magnetic>,
    declination: Declination,
    iron: Tenths,
    beside: Beside,
    /// How far the start lies clockwise of the line back, as an undisturbed needle shows it.
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
        "close to the line, and iron may lie near: then it cannot be told",
    ],
    prerequisites: &["back-bearing", "follow-bearing"],
    mixups: &[SIDES_SWAPPED, OFFSET_UNSEEN, IRON_UNHEEDED, IRON_SUPPOSED, NOT_REVERSED, DIAL_FOR_SELF],
    lines: NorthLines::Any,
    on_home: false,
    generation: 3,
};

impl BackSightItem {
    /// The azimuth of the line back; the start was left by an undisturbed needle.
    fn back(&self) -> Bearing<True> {
        self.walked.to(self.declination.inverse()).back()
    }

    const fn doubt(&self) -> Doubt {
        match self.beside {
            Beside::Nothing => Doubt::NotAsked,
            Beside::Iron(_) => Doubt::Iron,
            Beside::ForeMark(_) if self.iron != 0 => Doubt::AtMark,
            Beside::NoIron(_, StepsBack::Another(_)) => Doubt::Unseen,
            Beside::NoIron(..) | Beside::ForeMark(_) => Doubt::Unfounded,
        }
    }

    /// Where the start now lies.
    fn start_mark(&self) -> Bearing<True> {
        self.back().turned(angle(self.off))
    }

    const fn right(&self) -> usize {
        match self.off {
            _ if self.doubt().holds() => CANNOT_TELL,
            0 => ON_LINE,
            1.. => RIGHT,
            _ => LEFT,
        }
    }

    /// What to do about it; nothing where one stands on the line, or cannot tell.
    const fn back_to_line(&self) -> Option<&'static str> {
        match self.right() {
            LEFT => Some(
                "To come back onto it, move to your left while you look back, until the start lies on the travel arrow; then turn about and walk on",
            ),
            RIGHT => Some(
                "To come back onto it, move to your right while you look back, until the start lies on the travel arrow; then turn about and walk on",
            ),
            _ => None,
        }
    }

    fn exercise(&self) -> Exercise {
        let task = Task::BackSight { walked: self.walked, start_mark: self.start_mark(), doubt: self.doubt() };
        let angles = Angles {
            declination: self.declination,
            printed: self.declination,
            convergence: Convergence::from_angle(Angle::ZERO),
            iron: self.iron,
        };
        exercise(task, Lie { map: None, arrow: self.facing, dial: self.dial }, angles, MapLines::default())
    }
}

/// What somebody chooses.
fn choice(stands: usize) -> Stands {
    match stands {
        LEFT => Stands::Left,
        ON_LINE => Stands::OnLine,
        RIGHT => Stands::Right,
        _ => Stands::CannotTell,
    }
}

impl Generator for BackSight {
    type Item = BackSightItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> BackSightItem {
        let step = if level == Level::ONE { 100 } else { 10 };
        let walked = draw.between(0, 3590 / step) * step;
        let (low, high) = match level.number() {
            1 => (15, 30),
            2 => (9, 18),
            3 => (7, 15),
            _ => (6, 10),
        };
        let aside = draw.between(low, high) * 10 * draw.sign();
        let maybe_aside = if draw.chance(1, 3) { 0 } else { aside };
        let declination = draw.between(3, 25) * 10 * draw.sign();
        let turned = draw.between(6, 12) * 10 * draw.sign();
        let steps_back = if draw.chance(1, 2) { StepsBack::NotTried } else { StepsBack::Same };
        // None of the four choices is right much more often than another.
        let (beside, off, iron) = match (level.number(), draw.below(20)) {
            (1..=3, _) => (Beside::Nothing, maybe_aside, 0),
            (_, 0..=1) => (Beside::Iron(draw.pick(&IRON)), maybe_aside, turned),
            (_, 2..=3) => {
                let another = StepsBack::Another(turned.abs() / 10);
                (Beside::NoIron(draw.pick(&NO_IRON), another), maybe_aside, turned)
            }
            (_, 4..=5) => (Beside::ForeMark(draw.pick(&FORE_MARKS)), 0, turned),
            (_, 6..=7) => (Beside::ForeMark(draw.pick(&FORE_MARKS)), 0, 0),
            (_, 8..=10) => (Beside::NoIron(draw.pick(&NO_IRON), steps_back), 0, 0),
            _ => (Beside::NoIron(draw.pick(&NO_IRON), steps_back), aside, 0),
        };
        let dial = if level < Level::THREE { walked } else { wrap(walked + draw.between(30, 150) * 10 * draw.sign()) };
        // As one has walked: facing ahead, more or less.
        let (walked, declination): (Bearing<Magnetic>, Declination) = (bearing_of(walked), offset_of(declination));
        let facing = walked.to(declination.inverse()).turned(angle(draw.between(-40, 40) * 10));
        BackSightItem { walked, declination, iron, beside, off, facing, dial }
    }

    fn question(&self, item: &BackSightItem) -> Question {
        Question::table(if item.doubt() == Doubt::NotAsked { &STAND } else { &STAND_OR_NOT })
    }

    fn answer(&self, item: &BackSightItem) -> Answer {
        Answer::choice(item.right())
    }

    fn mixups(&self, item: &BackSightItem, list: &mut MixupList) {
        let mut push = |meta: &'static MixupMeta, stands: usize| {
            list.push(meta, Answer::choice(stands), || choice(stands).place().to_owned());
        };
        match item.right() {
            CANNOT_TELL => {
                push(&IRON_UNHEEDED, LEFT);
                push(&IRON_UNHEEDED, ON_LINE);
                push(&IRON_UNHEEDED, RIGHT);
            }
            ON_LINE => {
                push(&OFFSET_UNSEEN, LEFT);
                push(&OFFSET_UNSEEN, RIGHT);
            }
            side => {
                push(&SIDES_SWAPPED, RIGHT - side);
                push(&OFFSET_UNSEEN, ON_LINE);
            }
        }
        if item.doubt() == Doubt::Unfounded {
            push(&IRON_SUPPOSED, CANNOT_TELL);
        }
    }

    fn right_way(&self, item: &BackSightItem) -> String {
        let walked = bearing(item.walked, North::Magnetic);
        let shown = match item.right() {
            CANNOT_TELL => "but iron may turn the needle at one of the two ends, so",
            _ => "the start shows that",
        };
        format!("{walked} on the dial, south end boxed: {shown} {}", choice(item.right()).sentence())
    }

    fn facts(&self, item: &BackSightItem) -> Facts {
        Facts::from(vec![
            Fact::angle(FactName::WalkedBearing, item.walked.angle()),
            Fact::angle(FactName::Declination, item.declination.angle()),
            Fact::own_angle("iron_turns_needle_deg", angle(item.iron)),
            Fact::own_word(
                "place",
                match item.beside {
                    Beside::NoIron(_, StepsBack::Another(_)) => "needle_differs_ten_steps_back",
                    Beside::Nothing | Beside::NoIron(..) => "no_iron",
                    Beside::Iron(_) => "iron",
                    Beside::ForeMark(_) => "fore_mark",
                },
            ),
            Fact::own_angle("start_mark_azimuth_deg", item.start_mark().angle()),
            Fact::own_angle("start_facing_deg", item.facing.angle()),
            Fact::angle(FactName::StartDial, angle(item.dial)),
            Fact::wanted(Wanted::own("you_stand")),
        ])
    }

    fn prompt(&self, item: &BackSightItem) -> String {
        let mut out = format!(
            "You have been walking on {} from a start that you can still see. ",
            bearing(item.walked, North::Magnetic)
        );
        if item.dial == item.walked.in_tenths() {
            out.push_str("That bearing is still set on the dial. ");
        }
        match item.beside {
            Beside::Nothing => out.push_str("No iron is near. "),
            Beside::Iron(thing) => {
                let _ = write!(out, "You stand beside {thing}. ");
            }
            Beside::NoIron(thing, steps_back) => {
                let _ = write!(out, "You stand beside {thing}");
                let _ = match steps_back {
                    StepsBack::NotTried => write!(out, ". "),
                    StepsBack::Same => write!(out, ", and ten steps back the needle pointed the same way. "),
                    StepsBack::Another(degrees) => {
                        write!(out, ", and ten steps back the needle pointed {degrees}° another way. ")
                    }
                };
            }
            Beside::ForeMark(mark) => {
                let _ = write!(out, "You have come to the very {mark} that you took the fore sight to. ");
            }
        }
        let _ = write!(
            out,
            "Look back along the line. As you walk, do you stand left of it, on it, or right of it{}",
            if item.doubt() == Doubt::NotAsked { "?" } else { ", or can that not be told here?" }
        );
        out
    }

    fn steps(&self, item: &BackSightItem) -> Vec<Step> {
        let mut steps = shown_steps(&item.exercise());
        // Where it cannot be told the showing has said so with its reason.
        if item.right() != CANNOT_TELL {
            steps.extend(item.back_to_line().map(Step::words));
            steps.push(Step::new("You stand", STANDS_OR_NOT[item.right()].to_owned()).answers());
        }
        steps
    }

    fn caution(&self) -> Option<&'static str> {
        Some(HAZARD)
    }

    fn hint(&self, _item: &BackSightItem) -> String {
        "Leave the number. Turn round until the south end of the needle lies in the arrow's head: then you look back along the line."
            .to_owned()
    }

    fn table(&self, item: &BackSightItem) -> Option<TableProblem> {
        Some(TableProblem::in_hand(item.exercise()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::real;

    const SEEDS: u64 = 2_000;

    #[test]
    fn no_choice_is_right_much_more_often_than_another() {
        for level in Level::ALL {
            let choices = if level == Level::FOUR { 4 } else { 3 };
            let rights: Vec<usize> = (0..SEEDS)
                .map(|seed| BackSight.draw(level, None, &mut Draw::new("E4", level.number(), 3, seed)).right())
                .collect();
            for choice in 0..choices {
                let share = real(rights.iter().filter(|right| **right == choice).count()) / real(rights.len());
                assert!(share > 0.1 && share <= 1.0 / real(choices) + 0.1, "level {level}: {choice} in {share}");
            }
        }
    }

    #[test]
    fn a_line_walked_undisturbed_is_never_called_left_beside_iron() {
        // E4-4-104: 071 walked, declination 5° E, iron 7° counterclockwise, the start at 256: on the line, by a needle
        // that nothing turns.
        let item = BackSightItem {
            walked: bearing_of(710),
            declination: offset_of(50),
            iron: -70,
            beside: Beside::Iron("a wire fence"),
            off: 0,
            facing: bearing_of(1040),
            dial: 3120,
        };
        assert_eq!(item.start_mark(), bearing_of(2560));
        assert_eq!(BackSight.answer(&item), Answer::choice(CANNOT_TELL));
        let said = |step: &Step| step.line().contains("cannot be told here");
        assert_eq!(BackSight.steps(&item).iter().filter(|step| said(step)).count(), 1, "said once");
        let prompt = BackSight.prompt(&item);
        assert!(prompt.contains("You stand beside a wire fence.") && prompt.contains("can that not be told here?"));
        let odd = BackSightItem { beside: Beside::NoIron("a birch", StepsBack::Another(7)), ..item };
        assert_eq!(BackSight.answer(&odd), Answer::choice(CANNOT_TELL), "something turns it that is not seen");
        let clear = BackSightItem { iron: 0, beside: Beside::NoIron("a birch", StepsBack::NotTried), ..item };
        assert_eq!(BackSight.answer(&clear), Answer::choice(ON_LINE));
    }
}
