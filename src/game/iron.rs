//! Iron in the pocket: all sight one mark, and one of them carries something that turns the needle.

use super::{Game, NEEDLES, Round, card, degrees, player, said, slip};
use crate::angle::{Angle, Bearing, Magnetic};
use crate::numbers;
use crate::problem::Draw;

pub(super) static GAME: Game = Game {
    name: "iron-in-the-pocket",
    title: "Iron in the pocket",
    about: "All sight one mark from one place, and find out who must step aside.",
    players: 4..=12,
    usual: 4,
    deal,
    cautions: &[
        NEEDLES,
        "With real compasses: give one player a small steel knife, closed. No magnet, it would spoil the needle.",
    ],
};

/// What each of them reads, in order.
#[derive(Clone, Debug)]
pub(super) struct Readings(pub Vec<Bearing<Magnetic>>);

impl Readings {
    /// The mean, counted from the first reading, so that north lies in nobody's way.
    pub fn mean(&self) -> Option<Bearing<Magnetic>> {
        let first = self.0.first()?;
        let off: Angle = self.0.iter().fold(Angle::ZERO, |sum, one| sum + first.turn_to(*one));
        let count = f64::from(u16::try_from(self.0.len()).ok()?);
        Some(first.turned((off * (1.0 / count)).rounded_to(degrees(1))))
    }

    /// Who is farthest from the middle one of all, from 0.
    pub fn odd_one(&self) -> Option<usize> {
        let first = self.0.first()?;
        let off: Vec<Angle> = self.0.iter().map(|one| first.turn_to(*one)).collect();
        let mut sorted = off.clone();
        numbers::arrange(&mut sorted, Ord::cmp);
        let middle = sorted[(sorted.len() - 1) / 2];
        (0..off.len()).max_by_key(|at| (off[*at] - middle).abs())
    }

    /// What the others read together, rounded to a degree.
    fn others(&self, odd: usize) -> Option<Bearing<Magnetic>> {
        let others = self.0.iter().enumerate().filter(|(at, _)| *at != odd).map(|(_, one)| *one);
        Readings(others.collect()).mean()
    }

    pub fn round(&self) -> Round {
        let odd = self.odd_one().unwrap_or(0);
        let name = player(odd + 1);
        let shown = |bearing: Option<Bearing<Magnetic>>| bearing.map_or_else(String::new, said);
        let list: Vec<String> = self.0.iter().map(|one| said(*one)).collect();
        Round {
            say: vec![
                "All of you sight the same tower from the same spot, one after the other. Each says the number aloud."
                    .to_owned(),
                "The tower does not move. Say who must step aside, and what the bearing is.".to_owned(),
                "With real compasses, look then what is in the pockets.".to_owned(),
            ],
            cards: (1..).zip(&list).map(|(number, said)| card(number, format!("You read {said}"))).collect(),
            key: vec![
                format!("readings: {}", list.join(", ")),
                format!("{name} is far from the middle of all; the others agree within 3 degrees"),
                format!("without {name} it is {}", shown(self.others(odd))),
            ],
            answer: format!("{name} steps aside; the bearing is about {}", shown(self.others(odd))),
            slips: vec![
                slip(
                    shown(self.mean()),
                    "They took the mean of all: the one wrong number has pulled it over. Leave it out first",
                ),
                slip(
                    // Who is the odd one is no wrong answer.
                    match odd {
                        0 => "the last player",
                        last if last + 1 == self.0.len() => "the first player",
                        _ => "the first or the last player",
                    },
                    "They believed the loudest or the latest. Look which number stands alone",
                ),
            ],
        }
    }
}

fn deal(players: u8, draw: &mut Draw) -> Round {
    let mark: Bearing<Magnetic> = Bearing::from_angle(degrees(draw.between(0, 359)));
    let odd = usize::from(u8::try_from(draw.below(u32::from(players))).unwrap_or(0));
    // Several players pull the mean less, so the iron has to pull more for it to be told.
    let pull = draw.between(10, 14) + i32::from(players);
    let pull = pull * draw.sign();
    let readings = (0..usize::from(players)).map(|at| {
        let wobble = degrees(draw.between(-1, 1));
        if at == odd { mark.turned(degrees(pull)) } else { mark.turned(wobble) }
    });
    Readings(readings.collect()).round()
}
