//! The human dial: the group is the ring of a compass.

use super::{Card, Game, Round, card, degrees, ordinal, said, slip};
use crate::angle::{Bearing, Magnetic};
use crate::problem::Draw;

pub(super) static GAME: Game = Game {
    name: "human-dial",
    title: "Human dial",
    about: "The group stands in a ring as the numbers of a dial, and finds who faces a bearing.",
    players: 6..=18,
    usual: 12,
    deal,
    cautions: &["No compass is needed. With one, hold it two metres from the laptop and from iron."],
};

/// Rings whose places are whole degrees apart.
const RINGS: [u8; 7] = [18, 15, 12, 10, 9, 8, 6];

/// A ring, its first bearing, and how many places on the wanted one stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ring {
    pub people: i32,
    pub first: Bearing<Magnetic>,
    pub places: i32,
}

impl Ring {
    /// Degrees from one to the next.
    pub const fn apart(self) -> i32 {
        360 / self.people
    }

    /// What somebody faces who stands so many places clockwise.
    pub fn faces(self, places: i32) -> Bearing<Magnetic> {
        self.first.turned(degrees(places * self.apart()))
    }

    pub fn round(self) -> Round {
        let Ring { people, places, .. } = self;
        let wanted = said(self.faces(places));
        let cards: Vec<Card> = (0..people)
            .zip(1..)
            .map(|(place, number)| {
                let text = if place == 0 { format!("You face {}", said(self.first)) } else { "No number".to_owned() };
                card(number, text)
            })
            .collect();
        let ring = (0..people).map(|place| format!("player {} faces {}", place + 1, said(self.faces(place))));
        Round {
            say: vec![
                format!(
                    "{people} of you stand in a ring, shoulder to shoulder, and face outward: you are a dial. Who is left over calls."
                ),
                format!(
                    "Player 1 faces {}. Numbers grow clockwise, as the clock on the wall goes seen from above.",
                    said(self.first)
                ),
                format!("Who faces {wanted}? Nobody turns. Count, then raise one hand all together."),
            ],
            cards,
            key: std::iter::once(format!(
                "360 : {people} = {}, so from one to the next it is {} degrees",
                self.apart(),
                self.apart()
            ))
            .chain(ring)
            .collect(),
            answer: format!("the {} after player 1, clockwise: player {}", ordinal(places), places + 1),
            slips: vec![
                slip(
                    format!("player {}", people - places + 1),
                    "They counted counterclockwise. Who faces outward has the clockwise side at the right hand",
                ),
                slip(format!("player {places}"), "They counted the one where they began as the first"),
            ],
        }
    }
}

fn deal(players: u8, draw: &mut Draw) -> Round {
    let people = i32::from(RINGS.into_iter().find(|ring| *ring <= players).unwrap_or(6));
    let first = Bearing::from_angle(degrees(draw.between(0, 35) * 10));
    // Neither next to the first nor opposite, where both ways round are alike.
    let mut places = draw.between(2, people - 2);
    if 2 * places == people {
        places -= 1;
    }
    Ring { people, first, places: places.max(2) }.round()
}
