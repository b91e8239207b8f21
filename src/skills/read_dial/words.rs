//! The texts of the skill: question, worked steps, hint, ways of working.

use super::{NEEDLE_WORDS, ReadDialItem, View};
use crate::problem::{FigurePart, Step};
use crate::skills::common::{CIRCLE, bare_sum, figures, size};

pub(super) fn prompt(item: &ReadDialItem) -> String {
    format!(
        "{} Near the index line there is a number every {}° and {} spaces in between.",
        match item.view {
            View::Plain => "Which number stands at the index line?",
            View::UpsideDown => {
                "This compass is held upside down to you: its index line is at the bottom of the picture. Which number stands there?"
            }
            View::InnerScale => {
                "Inside the dial this compass has a second scale, for slopes. Which number of the dial stands at the index line?"
            }
            View::Boxed => "Which number stands at the index line? And is the needle boxed or not?",
        },
        size(item.scale.numbered),
        size(item.scale.numbered / item.scale.graduation * 10)
    )
}

pub(super) fn steps(item: &ReadDialItem) -> Vec<Step> {
    let mut steps = Vec::with_capacity(5);
    let look = Step::words(match item.view {
        View::Plain => "Look only at the index line, not at the needle",
        View::UpsideDown => "The index line is at the bottom of the picture: look there, not at the top",
        View::InnerScale => "Look at the outer scale at the index line: only that one goes round to 360",
        View::Boxed => "Look at the index line first; the needle comes after",
    });
    steps.push(look.about(FigurePart::Index));
    let line = figures(item.scale.printed(item.reading));
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

pub(super) fn hint(item: &ReadDialItem) -> &'static str {
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
pub(super) fn reading_and_needle(item: &ReadDialItem, needle: usize) -> String {
    format!("{}, {}", figures(item.reading), NEEDLE_WORDS[needle])
}

/// Reading at the end across from the index line.
pub(super) fn at_opposite_end(item: &ReadDialItem) -> String {
    let change = if item.reading < CIRCLE / 2 { CIRCLE / 2 } else { -CIRCLE / 2 };
    format!("at the opposite end: {}", bare_sum(item.reading, change))
}

/// Reading at the needle.
pub(super) fn at_needle(item: &ReadDialItem) -> String {
    format!("at the needle's north end: {}", figures(item.at_needle))
}

/// Reading the slope scale.
pub(super) fn on_inner_scale(item: &ReadDialItem) -> String {
    format!("on the inner scale: {}", size(item.inner()))
}

/// The right way in one line.
pub(super) fn right_way(item: &ReadDialItem) -> String {
    let (scale, reading) = (&item.scale, item.reading);
    let count = match scale.printed(reading) {
        printed if printed == reading => figures(reading).to_string(),
        printed => scale.count_words(printed, reading - printed).to_string(),
    };
    let needle = match item.at_needle {
        _ if item.view != View::Boxed => "",
        0 => ", and the north end lies in the arrow: boxed",
        at if at == CIRCLE / 2 => ", and the south end lies in the arrow: not boxed",
        _ => ", and the north end lies beside the arrow: not boxed",
    };
    format!("At the index line: {count}{needle}")
}
