//! Games for a group with bearing cards or real compasses: a round, and the leader's card for it.
//!
//! Everything follows from a name, how many play, and a seed: what to say, who gets which card, the key, and what a wrong last
//! number tells about who slipped. It knows no screen and no paper; how a card is printed is the front ends' business.
//!
//! The rules of the games are ours, the sums arithmetic; that ground is walked first, has bounds and a recall signal is common
//! practice.

mod dial;
mod fog;
mod iron;
mod letters;
mod pentagon;
mod sheet;
#[cfg(test)]
mod tests;
mod whisper;

use crate::angle::{Angle, Bearing, NorthKind, three_figures};
use crate::problem::Draw;
use std::fmt::Display;
use std::ops::RangeInclusive;

pub use sheet::{Part, PartLine};

/// A game.
#[derive(Debug)]
pub struct Game {
    /// Its name, kebab-case.
    pub name: &'static str,
    /// Its name on a card.
    pub title: &'static str,
    /// What it is for, one sentence.
    pub about: &'static str,
    /// How many can play in one group, 2 to 30.
    pub players: RangeInclusive<u8>,
    /// How many play where nobody says, within [`Game::players`].
    pub usual: u8,
    deal: fn(u8, &mut Draw) -> Round,
    cautions: &'static [&'static str],
}

/// A game is known by its name.
impl PartialEq for Game {
    fn eq(&self, other: &Game) -> bool {
        self.name == other.name
    }
}

impl Eq for Game {}

/// All games, the easiest first.
pub const GAMES: [&Game; 6] = [&dial::GAME, &whisper::GAME, &letters::GAME, &iron::GAME, &pentagon::GAME, &fog::GAME];

/// Seeds that nobody gave are smaller than this, short enough to type.
pub const SEEDS: u64 = 1_000_000;

/// One round of a game, as its leader holds it in the hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeaderCard {
    /// The game.
    pub game: &'static Game,
    /// How many play.
    pub players: u8,
    /// The seed that deals this round again.
    pub seed: u64,
    /// What is said and done.
    pub round: Round,
}

/// What is dealt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Round {
    /// What the leader says and does, in order.
    pub say: Vec<String>,
    /// Who gets which card.
    pub cards: Vec<Card>,
    /// All numbers, in the order in which they come.
    pub key: Vec<String>,
    /// What the group must come to.
    pub answer: String,
    /// Wrong ends, and what each tells.
    pub slips: Vec<Slip>,
}

/// A card for one player.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// Who gets it: `player 3`.
    pub who: String,
    /// What stands on it.
    pub text: String,
}

/// A wrong end of a game.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    /// What the group says.
    pub end: String,
    /// What that tells.
    pub tells: String,
}

/// What every game needs that leaves the table.
const OUTDOORS: [&str; 4] = [
    "Walk the ground yourself first: no road, water, drop or wire within it.",
    "Show the bounds, and agree on a signal that calls everybody back.",
    "Every player stays in sight of an adult. No child walks alone in the dark or in fog.",
    "If somebody does not know where they are: stop, stay, call.",
];
/// What every game with a needle needs; the distance of a car is that of FM 3-25.26.
const NEEDLES: &str =
    "Two metres between the needles and this laptop, phones, knives, steel tables; eighteen metres from a car.";

impl Game {
    /// The game with this name.
    #[must_use]
    pub fn find(name: &str) -> Option<&'static Game> {
        GAMES.into_iter().find(|game| game.name == name)
    }

    /// A round for so many players; none where there are too few or too many.
    #[must_use]
    pub fn lead(&'static self, players: u8, seed: u64) -> Option<LeaderCard> {
        self.players.contains(&players).then(|| LeaderCard {
            game: self,
            players,
            seed,
            round: (self.deal)(players, &mut Draw::new(self.name, players, 1, seed)),
        })
    }

    /// What the leader sees to.
    pub fn cautions(&self) -> impl Iterator<Item = &'static str> {
        self.cautions.iter().copied().chain(OUTDOORS)
    }
}

fn player(number: usize) -> String {
    format!("player {number}")
}

fn card(number: usize, text: impl Into<String>) -> Card {
    Card { who: player(number), text: text.into() }
}

fn slip(end: impl Display, tells: impl Into<String>) -> Slip {
    Slip { end: end.to_string(), tells: tells.into() }
}

/// `048° T`.
fn said<N: NorthKind>(bearing: Bearing<N>) -> String {
    format!("{}° {}", three_figures(bearing.angle(), 0), N::NORTH.letter())
}

/// Whole degrees.
fn degrees(whole: i32) -> Angle {
    Angle::from_degrees(f64::from(whole))
}

/// So many in words where that reads better: `4th`.
fn ordinal(number: i32) -> String {
    let end = match (number % 10, number % 100) {
        (1, not) if not != 11 => "st",
        (2, not) if not != 12 => "nd",
        (3, not) if not != 13 => "rd",
        _ => "th",
    };
    format!("{number}{end}")
}
