//! A6, setting the dial: bringing a number to the index line, and knowing what a turn of the dial does to the number.

mod words;

use super::common::{CIRCLE, NOT_WRAPPED, Tenths, WRONG_END, angle, answer, tenths, wrap};
use super::dial_scale::{COUNTED_WRONG_WAY, STOPPED_AT_NUMBER, Scale, WRONG_TICK_VALUE};
use super::turning::{
    ALL_ONE_WAY, FIRST_TURN_LEFT_OUT, SECOND_TURN_LEFT_OUT, START_LEFT_OUT, TURNED_OTHER_WAY, Turned, Turning,
};
use crate::angle::Angle;
use crate::problem::{
    Answer, DialFigure, Draw, Fact, Facts, Family, Field, Figure, Generator, HomeAngles, Level, MixupClass, MixupId,
    MixupList, MixupMeta, NorthLines, Question, SkillMeta, Step, Value, Wanted,
};

/// The skill `set-dial`.
pub(super) struct SetDial;

/// The numbers of one problem.
pub(super) enum SetDialItem {
    /// A number to bring to the index line.
    Set(Set),
    /// What stands at the index line after the dial is turned.
    Turn { turning: Turning, scale: Scale },
}

/// A number to set. All values are in tenths of a degree.
pub(super) struct Set {
    scale: Scale,
    /// The number at the index line before, 0 to 359.9.
    start: Tenths,
    /// The number that is wanted there, 0 to 359.9.
    wanted: Tenths,
    /// Where the needle's north end points, clockwise from the index line; it stays there while the dial turns.
    needle: Tenths,
}

/// The number brought to the needle's north end instead of the index line.
const SET_AT_NEEDLE: MixupMeta = MixupMeta {
    id: MixupId("set-at-needle"),
    class: MixupClass::Place,
    said: "brought the number to the needle",
    mend: "The number belongs at the index line; the needle plays no part while you set the dial.",
};

static META: SkillMeta = SkillMeta {
    id: "set-dial",
    mark: "A6",
    family: Family::Dial,
    title: "Set the dial",
    can: "Brings a bearing to the index line, and says what a turn of the dial does to the number there.",
    levels: [
        "printed numbers",
        "ticks of 5°",
        "any whole degree, ticks of 2°",
        "what the dial reads after one turn or two",
    ],
    prerequisites: &["read-dial"],
    mixups: &[
        WRONG_END,
        SET_AT_NEEDLE,
        COUNTED_WRONG_WAY,
        WRONG_TICK_VALUE,
        STOPPED_AT_NUMBER,
        TURNED_OTHER_WAY,
        START_LEFT_OUT,
        FIRST_TURN_LEFT_OUT,
        SECOND_TURN_LEFT_OUT,
        ALL_ONE_WAY,
        NOT_WRAPPED,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 3,
};

impl Set {
    fn draw(level: Level, draw: &mut Draw) -> Set {
        let graduation = if level >= Level::THREE { 20 } else { 50 };
        let scale = Scale::draw(graduation, draw);
        let wanted = match level.number() {
            1 => draw.between(0, CIRCLE / scale.numbered - 1) * scale.numbered,
            2 => draw.between(0, CIRCLE / 50 - 1) * 50,
            _ => draw.between(0, CIRCLE / 10 - 1) * 10,
        };
        let needle = wrap(draw.between(2, 16) * 100 * draw.sign());
        let mut set = Set { scale, start: 0, wanted, needle };
        // A dial left as it stood must not look like a setting that has a name.
        for _ in 0..16 {
            set.start = draw.between(0, CIRCLE / graduation - 1) * graduation;
            let near = |number: Tenths| wrap(set.start - number + 100) <= 200;
            let mut named = near(wanted);
            set.each_wrong(|_, number, _| named |= near(number));
            if !named {
                break;
            }
        }
        set
    }

    /// Tells each mix-up, where it leaves the dial (not wrapped), and its way.
    fn each_wrong(&self, mut tell: impl FnMut(&'static MixupMeta, Tenths, &dyn Fn() -> String)) {
        let (scale, wanted) = (&self.scale, self.wanted);
        tell(&WRONG_END, wanted + CIRCLE / 2, &|| words::at_opposite_end(self));
        tell(&SET_AT_NEEDLE, wanted - self.needle, &|| words::at_needle(self));
        if let Some(number) = scale.counted_wrong_way(wanted) {
            tell(&COUNTED_WRONG_WAY, number, &|| scale.way_counted_wrong(wanted));
        }
        if let Some(number) = scale.misset(wanted) {
            tell(&WRONG_TICK_VALUE, number, &|| scale.way_misset(wanted));
        }
        for number in scale.stopped_at(wanted).into_iter().flatten() {
            tell(&STOPPED_AT_NUMBER, number, &|| Scale::way_stopped(number));
        }
    }

    /// The shorter turn of the dial that brings the number to the index line, clockwise positive.
    const fn turn(&self) -> Tenths {
        let change = wrap(self.wanted - self.start);
        if change > CIRCLE / 2 { CIRCLE - change } else { -change }
    }
}

impl SetDialItem {
    /// The dial as the question shows it.
    fn dial(&self) -> DialFigure {
        match self {
            SetDialItem::Set(set) => set.scale.figure(set.start, Angle::ZERO, Some(angle(set.needle))),
            SetDialItem::Turn { turning, scale } => scale.figure(turning.start, Angle::ZERO, None),
        }
    }
}

impl Generator for SetDial {
    type Item = SetDialItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> SetDialItem {
        if level < Level::FOUR {
            return SetDialItem::Set(Set::draw(level, draw));
        }
        let scale = Scale::draw(20, draw);
        let first = draw.between(5, 150) * 10 * draw.sign();
        let second = match draw.below(4) {
            0 | 1 => 0,
            2 => -first.signum() * draw.between(5, 150) * 10,
            _ => draw.between(5, 150) * 10 * draw.sign(),
        };
        let mut turning = Turning { turned: Turned::Dial, start: 0, first, second };
        turning.draw_start(20, draw);
        SetDialItem::Turn { turning, scale }
    }

    fn question(&self, item: &SetDialItem) -> Question {
        static AFTER: [Field; 1] = [Scale::field(1.0)];
        match item {
            SetDialItem::Set(set) => Question::SetDial { fields: set.scale.fields().into(), start: angle(set.start) },
            // Typed, because a dial that can be turned would give the answer away.
            SetDialItem::Turn { .. } => Question::typed(&AFTER),
        }
    }

    fn answer(&self, item: &SetDialItem) -> Answer {
        match item {
            SetDialItem::Set(set) => answer(set.wanted),
            SetDialItem::Turn { turning, .. } => turning.right(),
        }
    }

    fn mixups(&self, item: &SetDialItem, list: &mut MixupList) {
        match item {
            SetDialItem::Set(set) => set.each_wrong(|meta, number, way| list.push(meta, answer(number), way)),
            SetDialItem::Turn { turning, .. } => turning.mixups(list),
        }
    }

    fn facts(&self, item: &SetDialItem) -> Facts {
        let start = |tenths| Fact::own_angle("start_reading_deg", angle(tenths));
        let mut facts = Vec::with_capacity(6);
        match item {
            SetDialItem::Set(set) => {
                let spaces = set.scale.numbered / set.scale.graduation;
                facts.push(Fact::own_angle("number_to_set_deg", angle(set.wanted)));
                facts.push(start(set.start));
                facts.push(Fact::own_angle("number_every_deg", angle(set.scale.numbered)));
                facts.push(Fact::own_number("spaces_between_numbers", f64::from(spaces)));
                facts.push(Fact::own_angle("needle_clockwise_of_index_deg", angle(set.needle)));
                facts.push(Fact::wanted(Wanted::own("dial_set_at_index")));
            }
            SetDialItem::Turn { turning, .. } => {
                facts.push(start(turning.start));
                if turning.second == 0 {
                    facts.push(Fact::own_angle("dial_turn_deg", angle(turning.first)));
                } else {
                    facts.push(Fact::own_angle("first_dial_turn_deg", angle(turning.first)));
                    facts.push(Fact::own_angle("second_dial_turn_deg", angle(turning.second)));
                }
                facts.push(Fact::wanted(Wanted::own("reading_after_turning")));
            }
        }
        Facts::from(facts)
    }

    fn prompt(&self, item: &SetDialItem) -> String {
        words::prompt(item)
    }

    fn steps(&self, item: &SetDialItem) -> Vec<Step> {
        words::steps(item)
    }

    fn hint(&self, item: &SetDialItem) -> String {
        words::hint(item).to_owned()
    }

    fn right_way(&self, item: &SetDialItem) -> String {
        match item {
            SetDialItem::Set(set) => words::right_way(set),
            SetDialItem::Turn { turning, .. } => turning.right_way(),
        }
    }

    fn figure(&self, item: &SetDialItem) -> Figure {
        Figure::Dial(item.dial())
    }

    fn explanation(&self, item: &SetDialItem, given: Option<&Answer>) -> Figure {
        let mut dial = item.dial();
        dial.reading = match item {
            SetDialItem::Set(set) => angle(set.wanted),
            SetDialItem::Turn { turning, .. } => angle(wrap(turning.raw())),
        };
        if let Some([Value::Angle(typed)]) = given.map(Answer::values) {
            dial.learner = Some(angle(wrap(tenths(*typed))));
        }
        Figure::Dial(dial)
    }
}

#[cfg(test)]
mod tests;
