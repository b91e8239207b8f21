//! The turn from one bearing to another: which way round, and how far.

use super::place;
use crate::angle::North;
use crate::problem::{Answer, Draw, FigurePart, MixupClass, MixupId, MixupList, MixupMeta, Step, Value};
use crate::skills::common::{CIRCLE, Tenths, angle, push_bearing, push_figures, push_size, push_sum, wrap, wrap_words};
use crate::skills::turning::{FIRST_TURN_LEFT_OUT, START_LEFT_OUT, TURNED_OTHER_WAY, push_turn, sense_choice};

/// The longer way: the right turn's other side, in the other sense.
pub(super) const LONG_WAY_ROUND: MixupMeta = MixupMeta {
    id: MixupId("long-way-round"),
    class: MixupClass::Wrap,
    said: "went the long way round",
    mend: "More than 180 is the long way: take it from 360 and turn the other way.",
};

/// The numbers subtracted although the turn goes through north; the sense is right.
pub(super) const PLAIN_DIFFERENCE: MixupMeta = MixupMeta {
    id: MixupId("plain-difference"),
    class: MixupClass::Wrap,
    said: "only subtracted the two numbers, although the turn goes through north",
    mend: "Through north, count up to 360 and on from 000.",
};

/// Two bearings, and in a chain a turn made before the one asked for.
#[derive(Clone, Copy, Debug)]
pub(in crate::skills) struct Between {
    /// The bearing at the start, 0 to 359.9.
    pub from: Tenths,
    /// The bearing at the end, 0 to 359.9.
    pub to: Tenths,
    /// A turn made first, clockwise positive.
    pub first: Option<Tenths>,
}

impl Between {
    pub fn draw_chain(draw: &mut Draw) -> Between {
        let first = draw.between(20, 150) * 10 * draw.sign();
        let mut turn = draw.between(20, 160) * 10 * draw.sign();
        // Half a circle from the start has no short way, and back at the start there is nothing to turn, for somebody who
        // leaves out the first turn.
        while (first + turn) % (CIRCLE / 2) == 0 {
            turn = draw.between(20, 160) * 10 * draw.sign();
        }
        // The turn that is asked for goes through north in one of two.
        let across = draw.chance(1, 2);
        let mut between = Between { from: 0, to: 0, first: Some(first) };
        for _ in 0..64 {
            let from = draw.between(0, 359) * 10;
            between = Between { from, to: wrap(from + first + turn), ..between };
            if between.across() == across {
                break;
            }
        }
        between
    }

    /// The bearing from which the turn is asked for.
    pub const fn start(&self) -> Tenths {
        match self.first {
            Some(first) => wrap(self.from + first),
            None => self.from,
        }
    }

    /// The shorter turn, clockwise positive.
    pub const fn turn(&self) -> Tenths {
        shorter(self.start(), self.to)
    }

    /// Whether the shorter turn goes through north.
    const fn across(&self) -> bool {
        let end = self.start() + self.turn();
        wrap(end) != end
    }

    pub fn right(&self) -> Answer {
        way_and_size(self.turn())
    }

    pub fn mixups(&self, list: &mut MixupList) {
        let (from, to, start, turn) = (self.from, self.to, self.start(), self.turn());
        let long = (CIRCLE - turn.abs()) * turn.signum();
        list.push(&TURNED_OTHER_WAY, way_and_size(-turn), || {
            let mut out = String::with_capacity(60);
            push_leading_turn(&mut out, start, -turn);
            out
        });
        list.push(&LONG_WAY_ROUND, way_and_size(-long), || {
            let mut out = String::with_capacity(60);
            if self.across() {
                push_difference(&mut out, start, to);
            } else {
                push_short_way(&mut out, long);
            }
            out.push_str(", so ");
            push_turn(&mut out, -long);
            out
        });
        if self.across() {
            list.push(&PLAIN_DIFFERENCE, way_and_size(long), || {
                let mut out = String::with_capacity(60);
                push_difference(&mut out, start, to);
                out.push_str(", so ");
                push_leading_turn(&mut out, start, long);
                out
            });
        }
        // The turn from north to north is none.
        if to != 0 {
            list.push(&START_LEFT_OUT, way_and_size(to), || {
                let mut out = String::with_capacity(60);
                push_sum(&mut out, 0, to);
                out.push_str(", as if you faced 000");
                out
            });
        }
        if self.first.is_some() {
            let turn = shorter(from, to);
            list.push(&FIRST_TURN_LEFT_OUT, way_and_size(turn), || {
                let mut out = String::with_capacity(60);
                out.push_str("from ");
                push_figures(&mut out, from);
                out.push_str(" to ");
                push_figures(&mut out, to);
                out.push_str(": ");
                push_turn(&mut out, turn);
                out
            });
        }
    }

    pub fn prompt(&self, out: &mut String) {
        match self.first {
            None => {
                out.push_str("You face ");
                push_bearing(out, self.from, North::Magnetic);
                out.push_str(" and want to face ");
                push_bearing(out, self.to, North::Magnetic);
                out.push_str(". Turn the short way.");
            }
            Some(first) => {
                let (at_first, at_second) = place(self.from);
                out.push_str("You walk on ");
                push_bearing(out, self.from, North::Magnetic);
                out.push_str(". At ");
                out.push_str(at_first);
                out.push_str(" you turn ");
                push_turn(out, first);
                out.push_str(". At ");
                out.push_str(at_second);
                out.push_str(" you turn the short way to ");
                push_bearing(out, self.to, North::Magnetic);
                out.push('.');
            }
        }
        out.push_str(" Which way do you turn");
        out.push_str(if self.first.is_some() { " there, and how far?" } else { ", and how far?" });
    }

    pub fn steps(&self, steps: &mut Vec<Step>) {
        if let Some(first) = self.first {
            let mut line = String::with_capacity(24);
            push_sum(&mut line, self.from, first);
            let words =
                if first < 0 { "First turn: counterclockwise takes away" } else { "First turn: clockwise adds" };
            steps.push(Step::new(words, line).decides("First turn: do the numbers grow or shrink?"));
            let off = self.from + first;
            if wrap(off) != off {
                let mut line = String::with_capacity(24);
                push_sum(&mut line, off, wrap(off) - off);
                steps.push(Step::new(wrap_words(off), line));
            }
        }
        let turn = self.turn();
        let mut line = String::with_capacity(24);
        push_difference(&mut line, self.start(), self.to);
        let difference = Step::new("Subtract the smaller number from the bigger", line).about(FigurePart::Turn);
        steps.push(if self.across() { difference } else { difference.answers() });
        if self.across() {
            let mut line = String::with_capacity(24);
            push_short_way(&mut line, turn);
            let words = "More than 180, so the short way goes through north";
            let short = Step::new(words, line).about(FigurePart::Turn);
            steps.push(short.decides("Is that the short way? If not, how far is it the other way round?"));
        }
        let mut words = String::with_capacity(64);
        push_reason(&mut words, self);
        let mut line = String::with_capacity(24);
        push_turn(&mut line, turn);
        let way = Step::new(words, line).about(FigurePart::Turn);
        steps
            .push(way.decides("Going that way, do the numbers grow or shrink? So which way do you turn, and how far?"));
    }

    pub fn right_way(&self) -> String {
        let mut right = String::with_capacity(120);
        push_reason(&mut right, self);
        right.push_str(": ");
        push_difference(&mut right, self.start(), self.to);
        right.push_str(", ");
        if self.across() {
            push_short_way(&mut right, self.turn());
            right.push_str(", ");
        }
        right.push_str("so ");
        push_turn(&mut right, self.turn());
        right
    }
}

/// The shorter turn from one bearing to another, clockwise positive.
const fn shorter(from: Tenths, to: Tenths) -> Tenths {
    let turn = wrap(to - from);
    if turn > CIRCLE / 2 { turn - CIRCLE } else { turn }
}

fn way_and_size(turn: Tenths) -> Answer {
    Answer::two(Value::Choice(sense_choice(turn)), Value::Angle(angle(turn.abs())))
}

/// Appends `20° counterclockwise, which leads to 330`.
fn push_leading_turn(out: &mut String, start: Tenths, turn: Tenths) {
    push_turn(out, turn);
    out.push_str(", which leads to ");
    push_figures(out, wrap(start + turn));
}

/// Appends `350 − 010 = 340`.
fn push_difference(out: &mut String, one: Tenths, other: Tenths) {
    let (low, high) = if one < other { (one, other) } else { (other, one) };
    push_figures(out, high);
    out.push_str(" − ");
    push_figures(out, low);
    out.push_str(" = ");
    push_size(out, high - low);
}

/// Appends `360 − 340 = 20` for a turn of 20°.
fn push_short_way(out: &mut String, turn: Tenths) {
    out.push_str("360 − ");
    push_size(out, CIRCLE - turn.abs());
    out.push_str(" = ");
    push_size(out, turn);
}

/// Appends why it is clockwise or counterclockwise: `From 350 to 010 through north the numbers grow past 360`.
fn push_reason(out: &mut String, between: &Between) {
    out.push_str("From ");
    push_figures(out, between.start());
    out.push_str(" to ");
    push_figures(out, between.to);
    out.push_str(match (between.across(), between.turn() < 0) {
        (true, false) => " through north the numbers grow past 360",
        (true, true) => " through north the numbers shrink past 000",
        (false, false) => " the numbers grow",
        (false, true) => " the numbers shrink",
    });
}
