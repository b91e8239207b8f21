//! The texts of the skill: question, worked steps, hint, ways of working.

use super::{Item, Set};
use crate::problem::{FigurePart, Step};
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
            let turn = Step::words(match (set.turn() < 0, past_north) {
                (true, false) => "The number at the index line must grow: turn the dial counterclockwise",
                (true, true) => "The number at the index line must grow past 360: turn the dial counterclockwise",
                (false, false) => "The number at the index line must shrink: turn the dial clockwise",
                (false, true) => "The number at the index line must shrink past 000: turn the dial clockwise",
            });
            steps.push(turn.about(FigurePart::Index).decides("Must the number at the index line grow or shrink?"));
            let printed = set.scale.printed(set.wanted);
            let mut line = String::with_capacity(8);
            push_figures(&mut line, printed);
            if printed == set.wanted {
                let words = "It is a printed number: bring it to the index line, not to the needle";
                steps.push(Step::new(words, line).about(FigurePart::Index).answers());
            } else {
                let words = "Bring the nearest printed number below to the index line, not to the needle";
                steps.push(Step::new(words, line).about(FigurePart::Index));
                set.scale.count_steps(set.wanted, &mut steps);
            }
        }
        Item::Turn { turning, .. } => {
            let stays = Step::words("The index line stays where it is; the numbers pass under it");
            steps.push(stays.about(FigurePart::Index));
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

/// The number brought to the end across from the index line.
pub(super) fn at_opposite_end(set: &Set) -> String {
    let mut out = String::with_capacity(60);
    push_figures(&mut out, set.wanted);
    out.push_str(" at the opposite end, so the index line reads ");
    push_figures(&mut out, wrap(set.wanted + CIRCLE / 2));
    out
}

/// The number brought to the needle.
pub(super) fn at_needle(set: &Set) -> String {
    let mut out = String::with_capacity(90);
    push_figures(&mut out, set.wanted);
    out.push_str(" at the needle, ");
    push_size(&mut out, set.needle);
    out.push_str(" clockwise of the index line: ");
    out.push_str(&sum(set.wanted, -set.needle));
    out
}

/// The right way in one line.
pub(super) fn right_way(set: &Set) -> String {
    let (scale, wanted) = (&set.scale, set.wanted);
    let mut right = String::with_capacity(80);
    right.push_str("At the index line: ");
    let printed = scale.printed(wanted);
    if printed == wanted {
        push_figures(&mut right, wanted);
    } else {
        scale.push_count(&mut right, printed, wanted - printed);
        right.push_str(if (wanted - printed) % scale.graduation == 0 { "" } else { ", between two ticks" });
    }
    right
}
