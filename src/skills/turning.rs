//! The arithmetic that turning oneself (A3) and turning the dial (A6) share: a number on the circle, one or two turns,
//! and the number afterwards.

use super::common::{CIRCLE, NOT_WRAPPED, Tenths, answer, bare_sum, figures, size, unwrapped_answer, wrap, wrap_words};
use crate::angle::SENSES;
use crate::problem::{Answer, Draw, FigurePart, MixupClass, MixupId, MixupList, MixupMeta, Step};
use std::fmt::{self, Display, Write};

/// What turns; it decides whether the number grows when it turns clockwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Turned {
    /// Somebody who faces a bearing: clockwise adds.
    Body,
    /// The dial under its index line: clockwise takes away.
    Dial,
}

/// A number and the turns made from it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Turning {
    /// What turns.
    pub turned: Turned,
    /// The number at the start, 0 to 359.9.
    pub start: Tenths,
    /// The first turn, clockwise positive.
    pub first: Tenths,
    /// The second, 0 when there is none.
    pub second: Tenths,
}

/// The turn or turns made the other way round.
pub(super) const TURNED_OTHER_WAY: MixupMeta = MixupMeta {
    id: MixupId("turned-other-way"),
    class: MixupClass::Sign,
    said: "turned the other way round",
    mend: "Clockwise goes N, E, S, W. Check which way the numbers grow before you add.",
};

/// The turn counted from north: the number at the start left out.
pub(super) const START_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("start-left-out"),
    class: MixupClass::Forgotten,
    said: "counted from 000 and left out the number at the start",
    mend: "A turn begins where you stand, not at north.",
};

/// Only the second of two turns made.
pub(super) const FIRST_TURN_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("first-turn-left-out"),
    class: MixupClass::Forgotten,
    said: "left out the first turn",
    mend: "Write down the number after each turn, and go on from there.",
};

/// Only the first of two turns made.
pub(super) const SECOND_TURN_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("second-turn-left-out"),
    class: MixupClass::Forgotten,
    said: "left out the second turn",
    mend: "Write down the number after each turn, and go on until the last.",
};

/// Two turns in different senses made both in the sense of the first.
pub(super) const ALL_ONE_WAY: MixupMeta = MixupMeta {
    id: MixupId("all-one-way"),
    class: MixupClass::Sign,
    said: "made both turns the same way round",
    mend: "Decide for each turn anew: does the number grow or shrink?",
};

/// The place of a turn's sense in [`SENSES`].
pub(super) const fn sense_choice(turn: Tenths) -> usize {
    (turn < 0) as usize
}

/// `clockwise` or `counterclockwise`.
pub(super) const fn sense(turn: Tenths) -> &'static str {
    SENSES[sense_choice(turn)]
}

/// Appends `30° clockwise`.
pub(super) fn turn_words(turn: Tenths) -> impl Display {
    fmt::from_fn(move |out| write!(out, "{}° {}", size(turn), sense(turn)))
}

impl Turning {
    /// What a turn adds to the number.
    const fn change(&self, turn: Tenths) -> Tenths {
        match self.turned {
            Turned::Body => turn,
            Turned::Dial => -turn,
        }
    }

    const fn changes(&self) -> (Tenths, Tenths) {
        (self.change(self.first), self.change(self.second))
    }

    /// The number afterwards, not wrapped.
    pub const fn raw(&self) -> Tenths {
        let (first, second) = self.changes();
        self.start + first + second
    }

    /// Whether the sum leaves the circle. 360 itself stands on the dial.
    pub const fn wraps(&self) -> bool {
        let raw = self.raw();
        leaves_circle(raw)
    }

    /// Draws the number at the start, a multiple of this step. In one of two the sum leaves the circle: whoever never brings
    /// it back is right only in the others.
    pub fn draw_start(&mut self, step: Tenths, draw: &mut Draw) {
        let leaving = draw.chance(1, 2);
        for _ in 0..64 {
            self.start = draw.between(0, CIRCLE / step - 1) * step;
            if self.wraps() == leaving {
                return;
            }
        }
    }

    /// The right answer.
    pub fn right(&self) -> Answer {
        answer(self.raw())
    }

    /// All mix-ups of turning.
    pub fn mixups(&self, list: &mut MixupList) {
        let (start, (first, second)) = (self.start, self.changes());
        let mut turned = |meta, from, changes: [Tenths; 2]| {
            list.push(meta, answer(from + changes[0] + changes[1]), || running(from, changes, true));
        };
        turned(&TURNED_OTHER_WAY, start, [-first, -second]);
        let other_way = start - first - second;
        turned(&START_LEFT_OUT, 0, [first, second]);
        if second != 0 {
            turned(&FIRST_TURN_LEFT_OUT, start, [second, 0]);
            turned(&SECOND_TURN_LEFT_OUT, start, [first, 0]);
        }
        if first * second < 0 {
            turned(&ALL_ONE_WAY, start, [first, -second]);
        }
        if leaves_circle(other_way) {
            let way = || running(start, [-first, -second], false);
            list.push(&TURNED_OTHER_WAY, unwrapped_answer(other_way), way);
        }
        if self.wraps() {
            list.push(&NOT_WRAPPED, unwrapped_answer(self.raw()), || running(start, [first, second], false));
        }
        // Brought back after the first turn, but not after the second.
        let between = wrap(start + first);
        let halfway = between + second;
        if leaves_circle(halfway) && halfway != self.raw() {
            list.push(&NOT_WRAPPED, unwrapped_answer(halfway), || {
                let mut out = running(start, [first, 0], true);
                let _ = write!(out, ", {}", bare_sum(between, second));
                out
            });
        }
    }

    /// `Clockwise adds`; `Clockwise turns the dial's numbers down at the index`.
    const fn rule(&self, turn: Tenths) -> &'static str {
        match (self.turned, turn < 0) {
            (Turned::Body, false) => "Clockwise adds",
            (Turned::Body, true) => "Counterclockwise takes away",
            (Turned::Dial, false) => "Turning the dial clockwise lowers the number at the index",
            (Turned::Dial, true) => "Turning the dial counterclockwise raises the number at the index",
        }
    }

    /// The same with its reason before it.
    const fn reasoned(&self, turn: Tenths) -> &'static str {
        match (self.turned, turn < 0) {
            (Turned::Body, false) => "Bearings are counted clockwise, so clockwise adds",
            (Turned::Body, true) => "Bearings are counted clockwise, so counterclockwise takes away",
            (Turned::Dial, false) => {
                "The numbers rise clockwise round the dial, so turned clockwise it brings smaller ones to the index"
            }
            (Turned::Dial, true) => {
                "The numbers rise clockwise round the dial, so turned counterclockwise it brings larger ones to the index"
            }
        }
    }

    /// What the explaining figure shows of the sums: the arc of somebody's turn, the number at a dial's index line.
    const fn part(&self) -> FigurePart {
        match self.turned {
            Turned::Body => FigurePart::Turn,
            Turned::Dial => FigurePart::Index,
        }
    }

    /// The sums, one step each.
    pub fn steps(&self, steps: &mut Vec<Step>) {
        let mut at = self.start;
        for turn in [self.first, self.second] {
            if turn != 0 {
                let line = bare_sum(at, self.change(turn));
                let step = Step::new(self.reasoned(turn), line).about(self.part());
                steps.push(step.decides(match self.turned {
                    Turned::Body => "Turning that way, do the numbers grow or shrink?",
                    Turned::Dial => "Turning the dial that way, does the number at the index grow or shrink?",
                }));
                at += self.change(turn);
            }
        }
        while wrap(at) != at {
            let line = bare_sum(at, once_round(at));
            let step = Step::new(wrap_words(at), line).about(self.part());
            steps.push(step.decides("Is the number on the dial, from 000 to 359? If not, bring it back"));
            at += once_round(at);
        }
    }

    /// The right way in one line, with its rule.
    pub fn right_way(&self) -> String {
        let (first, second) = self.changes();
        let mut right = self.rule(self.first).to_string();
        if self.second != 0 && (self.first < 0) != (self.second < 0) {
            right.push_str(match self.turned {
                Turned::Body if self.second < 0 => ", counterclockwise takes away",
                Turned::Body => ", clockwise adds",
                Turned::Dial if self.second < 0 => ", counterclockwise raises it",
                Turned::Dial => ", clockwise lowers it",
            });
        }
        let _ = write!(right, ": {}", running(self.start, [first, second], true));
        right
    }
}

/// Whether a sum lies off the circle. 360 itself stands on the dial.
const fn leaves_circle(sum: Tenths) -> bool {
    wrap(sum) != sum && sum != CIRCLE
}

/// The full circle that brings a number nearer to the dial.
const fn once_round(off: Tenths) -> Tenths {
    if off < 0 { CIRCLE } else { -CIRCLE }
}

/// `350 + 30 = 380, 380 − 360 = 020`: one sum after the other, and the way back onto the circle if wanted.
fn running(from: Tenths, changes: [Tenths; 2], to_circle: bool) -> String {
    let mut out = String::with_capacity(60);
    let mut at = from;
    for change in changes {
        if change != 0 {
            let _ = write!(out, "{}{}", if out.is_empty() { "" } else { ", " }, bare_sum(at, change));
            at += change;
        }
    }
    if out.is_empty() {
        let _ = write!(out, "{}", figures(at));
    }
    while to_circle && wrap(at) != at {
        let _ = write!(out, ", {}", bare_sum(at, once_round(at)));
        at += once_round(at);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Value;

    fn after(turned: Turned, start: i32, turns: [i32; 2]) -> f64 {
        let turning = Turning { turned, start: start * 10, first: turns[0] * 10, second: turns[1] * 10 };
        let right = turning.right();
        let [Value::Angle(angle)] = right.values() else { panic!("one angle") };
        angle.degrees()
    }

    #[test]
    fn turning_the_dial_clockwise_lowers_the_number_at_the_index() {
        // CV048: turn the dial clockwise to subtract, counterclockwise to add (USGS Education, Method 2 step G).
        assert_eq!(after(Turned::Dial, 40, [25, 0]), 15.0);
        assert_eq!(after(Turned::Dial, 40, [-25, 0]), 65.0);
        assert_eq!(after(Turned::Dial, 10, [25, -5]), 350.0);
    }

    /// All that is listed for not wrapping, in degrees, with the way to it.
    fn not_wrapped(turning: &Turning) -> Vec<f64> {
        let mut list = MixupList::default();
        turning.mixups(&mut list);
        list.listed_for(NOT_WRAPPED.id)
            .map(|answer| match answer.values() {
                [Value::Angle(angle)] => angle.degrees(),
                other => panic!("{other:?} is no angle"),
            })
            .collect()
    }

    fn of(turned: Turned, [start, first, second]: [i32; 3]) -> Turning {
        Turning { turned, start: start * 10, first: first * 10, second: second * 10 }
    }

    #[test]
    fn who_brings_back_only_the_first_sum_has_a_name() {
        // A6-4-110: −89 for 271; A3-4-46: 446 for 086.
        assert_eq!(not_wrapped(&of(Turned::Dial, [338, -50, 117])), [-89.0]);
        assert_eq!(not_wrapped(&of(Turned::Body, [49, -55, 92])), [446.0]);
    }

    #[test]
    fn each_time_round_is_taken_off_by_itself() {
        // A3-4-1943: three quarters of a turn and 118 more from 344 M; it said "732 − 720 = 012".
        let mut steps = Vec::new();
        let turning = of(Turned::Body, [344, 270, 118]);
        turning.steps(&mut steps);
        let sums: Vec<&str> = steps.iter().map(|step| step.sum.as_str()).collect();
        assert_eq!(sums, ["344 + 270 = 614", "614 + 118 = 732", "732 − 360 = 372", "372 − 360 = 012"]);
        assert_eq!(
            turning.right_way(),
            "Clockwise adds: 344 + 270 = 614, 614 + 118 = 732, 732 − 360 = 372, 372 − 360 = 012"
        );
    }

    #[test]
    fn somebody_who_turns_clockwise_faces_a_bigger_number() {
        assert_eq!(after(Turned::Body, 350, [20, 0]), 10.0);
        assert_eq!(after(Turned::Body, 350, [90, -100]), 340.0);
    }
}
