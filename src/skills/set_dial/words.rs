//! The texts of the skill: question, worked steps, hint, ways of working.

use super::{Set, SetDialItem};
use crate::problem::{FigurePart, Step};
use crate::skills::common::{CIRCLE, figures, size, sum, wrap};
use crate::skills::turning::turn_words;
use std::fmt::Write;

pub(super) fn prompt(item: &SetDialItem) -> String {
    let mut out = String::with_capacity(160);
    match item {
        SetDialItem::Set(set) => {
            let _ = write!(
                out,
                "The dial stands at {}. Turn it until {} stands at the index line.",
                figures(set.start),
                figures(set.wanted)
            );
        }
        SetDialItem::Turn { turning, .. } => {
            let _ = write!(
                out,
                "The dial reads {} at the index line. You turn the dial {}",
                figures(turning.start),
                turn_words(turning.first)
            );
            if turning.second != 0 {
                let _ = write!(out, ", then {}", turn_words(turning.second));
            }
            out.push_str(". What does it read then?");
        }
    }
    out
}

pub(super) fn steps(item: &SetDialItem) -> Vec<Step> {
    let mut steps = Vec::with_capacity(5);
    match item {
        SetDialItem::Set(set) => {
            let past_north = wrap(set.start - set.turn()) != set.start - set.turn();
            // The reason before the rule: how the numbers lie on the dial decides which way it goes.
            let turn = Step::words(match (set.turn() < 0, past_north) {
                (true, false) => {
                    "The number at the index line must grow, and the bigger numbers stand clockwise of it: turn the dial counterclockwise to bring them there"
                }
                (true, true) => {
                    "The number at the index line must grow past 360, and the bigger numbers stand clockwise of it: turn the dial counterclockwise to bring them there"
                }
                (false, false) => {
                    "The number at the index line must shrink, and the smaller numbers stand counterclockwise of it: turn the dial clockwise to bring them there"
                }
                (false, true) => {
                    "The number at the index line must shrink past 000, and the smaller numbers stand counterclockwise of it: turn the dial clockwise to bring them there"
                }
            });
            steps.push(turn.about(FigurePart::Index).decides("Must the number at the index line grow or shrink?"));
            let printed = set.scale.printed(set.wanted);
            let line = figures(printed);
            if printed == set.wanted {
                let words = "It is a printed number: bring it to the index line, not to the needle";
                steps.push(Step::new(words, line).about(FigurePart::Index).answers());
            } else {
                let words = "Bring the nearest printed number below to the index line, not to the needle";
                steps.push(Step::new(words, line).about(FigurePart::Index));
                set.scale.count_steps(set.wanted, &mut steps);
            }
        }
        SetDialItem::Turn { turning, .. } => {
            let stays = Step::words("The index line stays where it is; the numbers pass under it");
            steps.push(stays.about(FigurePart::Index));
            turning.steps(&mut steps);
        }
    }
    steps
}

pub(super) const fn hint(item: &SetDialItem) -> &'static str {
    match item {
        SetDialItem::Set(_) => {
            "Which printed number is the nearest below the wanted one? How many degrees is one tick from there?"
        }
        SetDialItem::Turn { .. } => {
            "Think of the dial under your fingers: when it turns clockwise, do bigger or smaller numbers come to the index line?"
        }
    }
}

/// The number brought to the end across from the index line.
pub(super) fn at_opposite_end(set: &Set) -> String {
    format!(
        "{} at the opposite end, so the index line reads {}",
        figures(set.wanted),
        figures(wrap(set.wanted + CIRCLE / 2))
    )
}

/// The number brought to the needle.
pub(super) fn at_needle(set: &Set) -> String {
    format!(
        "{} at the needle, {} clockwise of the index line: {}",
        figures(set.wanted),
        size(set.needle),
        sum(set.wanted, -set.needle)
    )
}

/// The right way in one line.
pub(super) fn right_way(set: &Set) -> String {
    let (scale, wanted) = (&set.scale, set.wanted);
    let mut right = "At the index line: ".to_owned();
    let printed = scale.printed(wanted);
    if printed == wanted {
        let _ = write!(right, "{}", figures(wanted));
    } else {
        let _ = write!(
            right,
            "{}{}",
            scale.count_words(printed, wanted - printed),
            if (wanted - printed) % scale.graduation == 0 { "" } else { ", between two ticks" }
        );
    }
    right
}
