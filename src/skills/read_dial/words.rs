//! The texts of the skill: question, worked steps, hint, ways of working.

use super::{Item, NEEDLE_WORDS, View};
use crate::problem::{FigurePart, Step};
use crate::skills::common::{CIRCLE, push_figures, push_size, push_sum};

pub(super) fn prompt(item: &Item) -> String {
    let mut out = String::with_capacity(220);
    out.push_str(match item.view {
        View::Plain => "Which number stands at the index line?",
        View::UpsideDown => {
            "This compass is held upside down to you: its index line is at the bottom of the picture. Which number stands there?"
        },
        View::InnerScale => {
            "Inside the dial this compass has a second scale, for slopes. Which number of the dial stands at the index line?"
        }
        View::Boxed => "Which number stands at the index line? And is the needle boxed or not?",
    });
    out.push_str(" The scale has a number every ");
    push_size(&mut out, item.scale.numbered);
    out.push_str("° and ");
    push_size(&mut out, item.scale.numbered / item.scale.graduation * 10);
    out.push_str(" spaces from one number to the next.");
    out
}

pub(super) fn steps(item: &Item) -> Vec<Step> {
    let mut steps = Vec::with_capacity(5);
    let look = Step::words(match item.view {
        View::Plain => "Look only at the index line, not at the needle",
        View::UpsideDown => "The index line is at the bottom of the picture: look there, not at the top",
        View::InnerScale => "Look at the outer scale at the index line: only that one goes round to 360",
        View::Boxed => "Look at the index line first; the needle comes after",
    });
    steps.push(look.about(FigurePart::Index));
    let mut line = String::with_capacity(8);
    push_figures(&mut line, item.scale.printed(item.reading));
    let below = Step::new("Nearest printed number below", line);
    steps.push(if item.scale.printed(item.reading) == item.reading { below.answers() } else { below });
    item.scale.count_steps(item.reading, &mut steps);
    if item.view == View::Boxed {
        let words = match item.at_needle {
            0 => "The needle's north end lies in the head of the orienting arrow",
            at if at == CIRCLE / 2 => "The needle's south end lies in the head of the orienting arrow",
            _ => "The needle's north end lies beside the orienting arrow",
        };
        let needle = Step::new(words, reading_and_needle(item, item.needle())).about(FigurePart::Needle);
        steps.push(needle.decides("Which end of the needle lies in the head of the orienting arrow, if any?"));
    }
    steps
}

pub(super) fn hint(item: &Item) -> &'static str {
    match item.view {
        View::Plain => {
            "Find the nearest printed number below: the last one before the index line, going clockwise. How many degrees is one tick?"
        }
        View::UpsideDown => "Find the index line in the picture first. The numbers still grow clockwise.",
        View::InnerScale => "One of the two scales goes only up to 90. That one measures slopes.",
        View::Boxed => "Boxed means: the needle's north end lies in the head of the orienting arrow, at the dial's N.",
    }
}

/// `137, boxed`: the right reading and a choice for the needle.
pub(super) fn reading_and_needle(item: &Item, needle: usize) -> String {
    let mut out = String::with_capacity(16);
    push_figures(&mut out, item.reading);
    out.push_str(", ");
    out.push_str(NEEDLE_WORDS[needle]);
    out
}

/// Reading at the end across from the index line.
pub(super) fn at_opposite_end(item: &Item) -> String {
    let change = if item.reading < CIRCLE / 2 { CIRCLE / 2 } else { -CIRCLE / 2 };
    let mut out = String::with_capacity(48);
    out.push_str("at the opposite end: ");
    push_sum(&mut out, item.reading, change);
    out
}

/// Reading at the needle.
pub(super) fn at_needle(item: &Item) -> String {
    let mut out = String::with_capacity(32);
    out.push_str("at the needle's north end: ");
    push_figures(&mut out, item.at_needle);
    out
}

/// Reading the slope scale.
pub(super) fn on_inner_scale(item: &Item) -> String {
    let mut out = String::with_capacity(24);
    out.push_str("on the inner scale: ");
    push_size(&mut out, item.inner());
    out
}

/// The right way in one line.
pub(super) fn right_way(item: &Item) -> String {
    let (scale, reading) = (&item.scale, item.reading);
    let mut right = String::with_capacity(120);
    right.push_str("At the index line: ");
    let printed = scale.printed(reading);
    if printed == reading {
        push_figures(&mut right, reading);
    } else {
        scale.push_count(&mut right, printed, reading - printed);
    }
    if item.view == View::Boxed {
        right.push_str(match item.at_needle {
            0 => ", and the north end lies in the arrow: boxed",
            at if at == CIRCLE / 2 => ", and the south end lies in the arrow: not boxed",
            _ => ", and the north end lies beside the arrow: not boxed",
        });
    }
    right
}
