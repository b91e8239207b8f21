//! The turn from one bearing to another: which way round, and how far.

use super::place;
use crate::angle::North;
use crate::problem::{Answer, Draw, FigurePart, MixupClass, MixupId, MixupList, MixupMeta, Step, Value};
use crate::skills::common::{CIRCLE, Tenths, angle, bare_sum, bearing, figures, size, wrap, wrap_words};
use crate::skills::turning::{FIRST_TURN_LEFT_OUT, START_LEFT_OUT, TURNED_OTHER_WAY, sense_choice, turn_words};
use std::fmt::{self, Display, Write};

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
        list.push(&TURNED_OTHER_WAY, way_and_size(-turn), || leading_turn_words(start, -turn).to_string());
        list.push(&LONG_WAY_ROUND, way_and_size(-long), || {
            let mut out = String::with_capacity(60);
            if self.across() {
                let _ = write!(out, "{}", difference_words(start, to));
            } else {
                let _ = write!(out, "{}", short_way_words(long));
            }
            let _ = write!(out, ", so {}", turn_words(-long));
            out
        });
        if self.across() {
            list.push(&PLAIN_DIFFERENCE, way_and_size(long), || {
                format!("{}, so {}", difference_words(start, to), leading_turn_words(start, long))
            });
        }
        // The turn from north to north is none.
        if to != 0 {
            list.push(&START_LEFT_OUT, way_and_size(to), || format!("{}, as if you faced 000", bare_sum(0, to)));
        }
        if self.first.is_some() {
            let turn = shorter(from, to);
            list.push(&FIRST_TURN_LEFT_OUT, way_and_size(turn), || {
                format!("from {} to {}: {}", figures(from), figures(to), turn_words(turn))
            });
        }
    }

    pub fn prompt(&self, out: &mut String) {
        match self.first {
            None => {
                let _ = write!(
                    out,
                    "You face {} and want to face {}. Turn the short way.",
                    bearing(self.from, North::Magnetic),
                    bearing(self.to, North::Magnetic)
                );
            }
            Some(first) => {
                let (at_first, at_second) = place(self.from);
                let _ = write!(
                    out,
                    "You walk on {}. At {at_first} you turn {}. At {at_second} you turn the short way to {}.",
                    bearing(self.from, North::Magnetic),
                    turn_words(first),
                    bearing(self.to, North::Magnetic)
                );
            }
        }
        let _ = write!(
            out,
            " Which way do you turn{}",
            if self.first.is_some() { " there, and how far?" } else { ", and how far?" }
        );
    }

    pub fn steps(&self, steps: &mut Vec<Step>) {
        if let Some(first) = self.first {
            let line = bare_sum(self.from, first);
            let words =
                if first < 0 { "First turn: counterclockwise takes away" } else { "First turn: clockwise adds" };
            steps.push(Step::new(words, line).decides("First turn: do the numbers grow or shrink?"));
            let off = self.from + first;
            if wrap(off) != off {
                let line = bare_sum(off, wrap(off) - off);
                steps.push(Step::new(wrap_words(off), line));
            }
        }
        let turn = self.turn();
        let line = difference_words(self.start(), self.to);
        let difference = Step::new("Subtract the smaller number from the bigger", line).about(FigurePart::Turn);
        steps.push(if self.across() { difference } else { difference.answers() });
        if self.across() {
            let line = short_way_words(turn);
            let words = "More than 180, so the short way goes through north";
            let short = Step::new(words, line).about(FigurePart::Turn);
            steps.push(short.decides("Is that the short way? If not, how far is it the other way round?"));
        }
        let words = reason_words(self).to_string();
        let line = turn_words(turn);
        let way = Step::new(words, line).about(FigurePart::Turn);
        steps
            .push(way.decides("Going that way, do the numbers grow or shrink? So which way do you turn, and how far?"));
    }

    pub fn right_way(&self) -> String {
        let mut right = format!("{}: {}, ", reason_words(self), difference_words(self.start(), self.to));
        if self.across() {
            let _ = write!(right, "{}, ", short_way_words(self.turn()));
        }
        let _ = write!(right, "so {}", turn_words(self.turn()));
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
fn leading_turn_words(start: Tenths, turn: Tenths) -> impl Display {
    fmt::from_fn(move |out| write!(out, "{}, which leads to {}", turn_words(turn), figures(wrap(start + turn))))
}

/// Appends `350 − 010 = 340`.
fn difference_words(one: Tenths, other: Tenths) -> impl Display {
    fmt::from_fn(move |out| {
        let (low, high) = if one < other { (one, other) } else { (other, one) };
        write!(out, "{} − {} = {}", figures(high), figures(low), size(high - low))
    })
}

/// Appends `360 − 340 = 20` for a turn of 20°.
fn short_way_words(turn: Tenths) -> impl Display {
    fmt::from_fn(move |out| write!(out, "360 − {} = {}", size(CIRCLE - turn.abs()), size(turn)))
}

/// Why it is clockwise or counterclockwise: `From 350 to 010 through north the numbers grow past 360`.
fn reason_words(between: &Between) -> impl Display {
    fmt::from_fn(move |out| {
        write!(
            out,
            "From {} to {}{}",
            figures(between.start()),
            figures(between.to),
            match (between.across(), between.turn() < 0) {
                (true, false) => " through north the numbers grow past 360",
                (true, true) => " through north the numbers shrink past 000",
                (false, false) => " the numbers grow",
                (false, true) => " the numbers shrink",
            }
        )
    })
}
