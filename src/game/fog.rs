//! The lantern in the fog: one goes ahead with a light as far as it is seen, and is put right before the next hop.

use super::{Game, NEEDLES, Round, card, degrees, said, slip};
use crate::angle::{Bearing, Magnetic};
use crate::numbers::whole;
use crate::problem::Draw;

pub(super) static GAME: Game = Game {
    name: "lantern-in-the-fog",
    title: "Lantern in the fog",
    about: "A light goes ahead in short hops and is brought onto the line before each next one.",
    players: 3..=8,
    usual: 4,
    deal,
    cautions: &[NEEDLES, "Play it by daylight: the fog is only told. In real fog or dark a group stays together."],
};

/// Hops on one bearing.
#[derive(Clone, Debug)]
pub(super) struct Hops {
    pub line: Bearing<Magnetic>,
    /// How far one hop is, in whole metres.
    pub metres: i32,
    /// On what the lantern is seen at each hop.
    pub seen: Vec<Bearing<Magnetic>>,
}

impl Hops {
    /// How far right of the line the lantern stands after each hop, in metres, if it was on the line before: a sixtieth of the hop for
    /// each degree, as the players reckon.
    pub fn right_of_line(&self) -> Vec<f64> {
        self.seen.iter().map(|seen| f64::from(self.metres) / 60.0 * self.line.turn_to(*seen).degrees()).collect()
    }

    /// How far right of the line it ends if nobody puts it right, in metres.
    pub fn left_alone(&self) -> f64 {
        self.right_of_line().iter().sum()
    }

    pub fn round(&self) -> Round {
        let aside = self.right_of_line();
        let moves: Vec<String> = aside.iter().map(|right| move_words(*right)).collect();
        let hops = || (1..).zip(self.seen.iter().zip(&moves));
        let other: Vec<String> = aside.iter().map(|right| move_words(-right)).collect();
        Round {
            say: vec![
                format!(
                    "You walk on {} in a fog that hides everything beyond {} metres. One goes ahead with the lantern until it is hardly seen, one stays with the compass, the others keep between them, in sight of both.",
                    said(self.line),
                    self.metres
                ),
                format!(
                    "The compass sights the lantern and says the number. All say: which way must it move, right or left, and how far? One degree is a sixtieth of the way, and that is {:.2} m in {} m.",
                    f64::from(self.metres) / 60.0,
                    self.metres
                ),
                "Only when it stands right do the others come up to it, and the next hop begins.".to_owned(),
            ],
            cards: hops()
                .map(|(number, (seen, _))| {
                    card(number, format!("Hop {number}: you see the lantern at {}", said(*seen)))
                })
                .collect(),
            key: hops().map(|(number, (seen, moved))| format!("hop {number}: {}, so {moved}", said(*seen))).collect(),
            answer: moves.join("; "),
            slips: vec![
                slip(
                    other.join("; "),
                    "They moved it the wrong way: a number too small lies to the left, so the lantern goes right",
                ),
                slip(
                    format!("{} at the end", place_words(self.left_alone())),
                    "Nobody put the lantern right: each hop began where the one before had ended",
                ),
            ],
        }
    }
}

/// `right 0.5 m`, where the lantern stands so far left of the line; `stay`.
fn move_words(right: f64) -> String {
    match tenths(right) {
        0 => "stay".to_owned(),
        tenths => format!("{} {:.1} m", if tenths > 0 { "left" } else { "right" }, shown(tenths)),
    }
}

fn place_words(right: f64) -> String {
    match tenths(right) {
        0 => "hardly beside the line".to_owned(),
        tenths => format!("{:.1} m {} of the line", shown(tenths), if tenths > 0 { "right" } else { "left" }),
    }
}

/// Whole tenths of a metre.
fn tenths(metres: f64) -> i32 {
    whole((metres * 10.0).round())
}

/// How far that is, in metres.
fn shown(tenths: i32) -> f64 {
    f64::from(tenths.abs()) / 10.0
}

fn deal(players: u8, draw: &mut Draw) -> Round {
    let line: Bearing<Magnetic> = Bearing::from_angle(degrees(draw.between(0, 359)));
    let metres = draw.between(3, 6) * 5;
    let mut off: Vec<i32> = (0..players).map(|_| draw.between(1, 4) * draw.sign()).collect();
    // One hop is right, so that "stay" is an answer; the first is not, or nobody would be asked to move.
    let stays = 1 + usize::try_from(draw.below(u32::from(players) - 1)).unwrap_or(0);
    if let Some(hop) = off.get_mut(stays) {
        *hop = 0;
    }
    // What is left alone must end beside the line.
    if off.iter().sum::<i32>() == 0 {
        off[0] += off[0].signum();
    }
    let seen = off.into_iter().map(|off| line.turned(degrees(off))).collect();
    Hops { line, metres, seen }.round()
}
