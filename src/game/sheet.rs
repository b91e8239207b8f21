//! A leader's card as it is read, part by part: what a page and a screen lay out, each in its own way.

use super::{Card, LeaderCard};

/// A part of a card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its heading.
    pub heading: &'static str,
    /// Its lines.
    pub lines: Vec<PartLine>,
}

/// A line of a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartLine {
    /// What stands before it: `1`, `player 3`, or nothing.
    pub mark: String,
    /// How many letters before it the line leaves free.
    pub column: usize,
    /// What it says.
    pub text: String,
}

/// Where a text begins behind a player.
const PLAYER_COLUMN: usize = 14;

fn line(mark: impl Into<String>, column: usize, text: impl Into<String>) -> PartLine {
    PartLine { mark: mark.into(), column, text: text.into() }
}

impl LeaderCard {
    /// Its title.
    #[must_use]
    pub fn title(&self) -> String {
        format!("{}: the leader's card, {} players", self.game.title, self.players)
    }

    /// What stands on it, in order.
    #[must_use]
    pub fn parts(&self) -> Vec<Part> {
        let round = &self.round;
        let part = |heading, lines| Part { heading, lines };
        let mut key: Vec<PartLine> = round.key.iter().map(|text| line("", 2, text)).collect();
        key.push(line("so", 5, format!("{}.", round.answer)));
        let card = |Card { who, text }: &Card| line(who, PLAYER_COLUMN, text);
        let said = (1..).zip(&round.say).map(|(number, text): (i32, &String)| line(number.to_string(), 4, text));
        let slips = round.slips.iter().map(|slip| line("", 2, format!("{}: {}.", slip.end, slip.tells)));
        vec![
            part("Before you begin", self.game.cautions().map(|caution| line("-", 4, caution)).collect()),
            part("Say", said.collect()),
            part("Cards", round.cards.iter().map(card).collect()),
            part("Key, for you alone", key),
            part("If it ends otherwise", slips.collect()),
        ]
    }

    /// The command that prints this round again.
    #[must_use]
    pub fn command(&self) -> String {
        format!("needlewise game {} --players {} --seed {}", self.game.name, self.players, self.seed)
    }
}
