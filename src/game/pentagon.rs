//! The lazy pentagon: five equal legs with equal turns come home, and a rounded turn does not.

use super::{Game, NEEDLES, Round, card, degrees, said, slip};
use crate::angle::{Angle, Bearing, Magnetic};
use crate::problem::Draw;

pub(super) static GAME: Game = Game {
    name: "lazy-pentagon",
    title: "Lazy pentagon",
    about: "Five equal legs with equal turns come home; who rounds the turn does not.",
    players: 2..=10,
    usual: 5,
    deal,
    cautions: &[NEEDLES],
};

/// How many sides.
const SIDES: u8 = 5;

/// A walk round five sides.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pentagon {
    pub first: Bearing<Magnetic>,
    /// Steps on each side.
    pub steps: i32,
    /// The rounded turn, in whole degrees.
    pub lazy: i32,
}

/// How far from the start somebody ends who walks five sides of so many steps with so large a turn, in steps.
pub(super) fn miss(steps: i32, turn: Angle) -> f64 {
    let legs = (0..i32::from(SIDES)).map(|leg| (turn * leg).radians().sin_cos());
    let (east, north) = legs.fold((0.0, 0.0), |(east, north), (sin, cos)| (east + sin, north + cos));
    f64::from(steps) * f64::hypot(east, north)
}

impl Pentagon {
    /// The turn that comes home.
    pub fn turn() -> Angle {
        degrees(360 / i32::from(SIDES))
    }

    pub fn leg(self, at: i32, turn: Angle) -> Bearing<Magnetic> {
        self.first.turned(turn * at)
    }

    pub fn round(self, players: u8) -> Round {
        let Pentagon { steps, lazy, .. } = self;
        let line =
            |turn: Angle| (0..i32::from(SIDES)).map(|at| said(self.leg(at, turn))).collect::<Vec<_>>().join(", ");
        let leaders = (0..SIDES).map(|leg| (leg, usize::from(leg % players) + 1));
        Round {
            say: vec![
                "Put a stone where you start. You walk five sides of the same length and turn by the same angle each time, always clockwise.".to_owned(),
                format!("The first side is {}, and each has {steps} steps. How large must the turn be, so that you come back to the stone? Work it out before you walk.", said(self.first)),
                "Each side has another leader, who sets the compass; the others count steps and look where they go.".to_owned(),
            ],
            cards: leaders
                .map(|(leg, number)| {
                    let set = if leg == 0 { "set the bearing that is said" } else { "to the bearing before add the turn" };
                    card(number, format!("You lead side {}: {set}", leg + 1))
                })
                .collect(),
            key: vec![
                "once all the way round in five turns: 360 : 5 = 72".to_owned(),
                format!("the sides: {}", line(Pentagon::turn())),
                format!("with turns of {lazy}: {}", line(degrees(lazy))),
            ],
            answer: "72 degrees; you stop on the stone".to_owned(),
            slips: vec![
                slip(
                    format!("{:.1} steps from the stone", miss(steps, degrees(lazy))),
                    format!("They turned by {lazy}: a small error made five times over. Or counted a step or two wrong: look at their numbers"),
                ),
                slip(
                    format!("{:.1} steps from the stone", miss(steps, degrees(108))),
                    "They turned by 108, the corner inside: what you turn by is the corner outside",
                ),
            ],
        }
    }
}

fn deal(players: u8, draw: &mut Draw) -> Round {
    let first = Bearing::from_angle(degrees(draw.between(0, 71) * 5));
    Pentagon { first, steps: draw.between(2, 6) * 5, lazy: draw.pick(&[70, 70, 75, 80]) }.round(players)
}
