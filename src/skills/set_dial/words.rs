//! The texts of the skill: question, worked steps, hint, the two paths.

use super::{COUNTED_WRONG_WAY, Item, SET_AT_NEEDLE, Set, WRONG_END, WRONG_TICK_VALUE};
use crate::problem::{MixupId, Paths, Step};
use crate::skills::common::{CIRCLE, push_figures, push_size, sum, wrap};
use crate::skills::turning::push_turn;

pub(super) fn prompt(item: &Item) -> String {
    let mut out = String::with_capacity(160);
    match item {
        Item::Set(set) => {
            out.push_str("The dial stands at ");
            push_figures(&mut out, set.start);
            out.push_str(". Turn it until ");
            push_figures(&mut out, set.wanted);
            out.push_str(" stands at the index line.");
        }
        Item::Turn { turning, .. } => {
            out.push_str("The dial reads ");
            push_figures(&mut out, turning.start);
            out.push_str(" at the index line. You turn the dial ");
            push_turn(&mut out, turning.first);
            if turning.second != 0 {
                out.push_str(", then ");
                push_turn(&mut out, turning.second);
            }
            out.push_str(". What does it read then?");
        }
    }
    out
}

pub(super) fn steps(item: &Item) -> Vec<Step> {
    let mut steps = Vec::with_capacity(5);
    match item {
        Item::Set(set) => {
            let past_north = wrap(set.start - set.turn()) != set.start - set.turn();
            steps.push(Step::words(match (set.turn() < 0, past_north) {
                (true, false) => "The number at the index line must grow: turn the dial counterclockwise",
                (true, true) => "The number at the index line must grow past 360: turn the dial counterclockwise",
                (false, false) => "The number at the index line must shrink: turn the dial clockwise",
                (false, true) => "The number at the index line must shrink past 000: turn the dial clockwise",
            }));
            let printed = set.scale.printed(set.wanted);
            let mut line = String::with_capacity(8);
            push_figures(&mut line, printed);
            if printed == set.wanted {
                steps.push(Step::new("It is a printed number: bring it to the index line, not to the needle", line));
            } else {
                steps.push(Step::new(
                    "Bring the nearest printed number below to the index line, not to the needle",
                    line,
                ));
                set.scale.count_steps(set.wanted, &mut steps);
            }
        }
        Item::Turn { turning, .. } => {
            steps.push(Step::words("The index line stays where it is; the numbers pass under it"));
            turning.steps(&mut steps);
        }
    }
    steps
}

pub(super) const fn hint(item: &Item) -> &'static str {
    match item {
        Item::Set(_) => {
            "Which printed number is the nearest below the wanted one? How many degrees is one tick from there?"
        }
        Item::Turn { .. } => {
            "Think of the dial under your fingers: when it turns clockwise, do bigger or smaller numbers come to the index line?"
        }
    }
}

pub(super) fn paths(set: &Set, mixup: MixupId) -> Paths {
    let (scale, wanted) = (&set.scale, set.wanted);
    let mut yours = String::with_capacity(80);
    match mixup {
        id if id == WRONG_END.id => {
            push_figures(&mut yours, wanted);
            yours.push_str(" at the opposite end, so the index line reads ");
            push_figures(&mut yours, wrap(wanted + CIRCLE / 2));
        }
        id if id == SET_AT_NEEDLE.id => {
            push_figures(&mut yours, wanted);
            yours.push_str(" at the needle, ");
            push_size(&mut yours, set.needle);
            yours.push_str(" clockwise of the index line: ");
            yours.push_str(&sum(wanted, -set.needle));
        }
        id if id == COUNTED_WRONG_WAY.id => scale.push_counted_wrong_way(&mut yours, wanted),
        id if id == WRONG_TICK_VALUE.id => scale.push_misset(&mut yours, wanted),
        _ => push_figures(&mut yours, set.start),
    }
    let mut right = String::with_capacity(80);
    right.push_str("At the index line: ");
    let printed = scale.printed(wanted);
    if printed == wanted {
        push_figures(&mut right, wanted);
    } else {
        scale.push_count(&mut right, printed, wanted - printed);
        right.push_str(if (wanted - printed) % scale.graduation == 0 { "" } else { ", between two ticks" });
    }
    Paths { yours, right }
}
