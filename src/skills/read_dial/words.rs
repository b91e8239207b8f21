//! The texts of the skill: question, worked steps, hint, the two paths.

use super::{
    BOX_NOT_CHECKED, COUNTED_WRONG_WAY, INNER_SCALE, Item, READ_AT_NEEDLE, SOUTH_END_BOXED, View, WRONG_END,
    WRONG_TICK_VALUE,
};
use crate::problem::{MixupId, Paths, Step};
use crate::skills::common::{CIRCLE, push_figures, push_size, push_sum, wrap};

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
    steps.push(Step::words(match item.view {
        View::Plain => "Look only at the index line, not at the needle",
        View::UpsideDown => "The index line is at the bottom of the picture: look there, not at the top",
        View::InnerScale => "Look at the outer scale at the index line: only that one goes round to 360",
        View::Boxed => "Look at the index line first; the needle comes after",
    }));
    let mut line = String::with_capacity(8);
    push_figures(&mut line, item.scale.printed(item.reading));
    steps.push(Step::new("Nearest printed number below", line));
    item.scale.count_steps(item.reading, &mut steps);
    if item.view == View::Boxed {
        let words = match item.at_needle {
            0 => "The needle's north end lies in the head of the orienting arrow",
            at if at == CIRCLE / 2 => "The needle's south end lies in the head of the orienting arrow",
            _ => "The needle's north end lies beside the orienting arrow",
        };
        let mut line = String::with_capacity(16);
        push_figures(&mut line, item.reading);
        line.push_str(", ");
        line.push_str(item.needle_word());
        steps.push(Step::new(words, line));
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

pub(super) fn paths(item: &Item, mixup: MixupId) -> Paths {
    let (scale, reading) = (&item.scale, item.reading);
    let mut yours = String::with_capacity(80);
    match mixup {
        id if id == WRONG_END.id => {
            let change = if reading < CIRCLE / 2 { CIRCLE / 2 } else { -CIRCLE / 2 };
            yours.push_str("at the opposite end: ");
            push_sum(&mut yours, reading, change);
        }
        id if id == READ_AT_NEEDLE.id => {
            yours.push_str("at the needle's north end: ");
            push_figures(&mut yours, item.at_needle);
        }
        id if id == COUNTED_WRONG_WAY.id => scale.push_counted_wrong_way(&mut yours, reading),
        id if id == WRONG_TICK_VALUE.id => scale.push_misread(&mut yours, reading),
        id if id == INNER_SCALE.id => {
            yours.push_str("on the inner scale: ");
            push_size(&mut yours, item.inner());
        }
        id if id == SOUTH_END_BOXED.id || id == BOX_NOT_CHECKED.id => {
            push_figures(&mut yours, reading);
            yours.push_str(", boxed");
        }
        _ => push_figures(&mut yours, wrap(reading)),
    }
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
    Paths { yours, right }
}
