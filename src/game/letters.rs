//! The letter thief: three cards tell one direction, and one of them carries a letter that is not its own.

use super::{Card, Game, Round, card, degrees, player, said, slip};
use crate::angle::{Bearing, Convergence, Declination, Grid, Magnetic, North, True, declination_words};
use crate::problem::Draw;

pub(super) static GAME: Game = Game {
    name: "letter-thief",
    title: "Letter thief",
    about: "Three cards name one direction by three norths, and one of them lies.",
    players: 3..=30,
    usual: 3,
    deal,
    cautions: &["No compass is needed: this can be played at the table."],
};

/// One direction by three norths, and whose card has the number of another one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Theft {
    pub line: Bearing<True>,
    pub declination: Declination,
    pub convergence: Convergence,
    /// Whose card is wrong.
    pub thief: North,
    /// Whose number stands on it.
    pub from: North,
}

impl Theft {
    fn by(self, north: North) -> String {
        let (grid, magnetic) = self.others();
        match north {
            North::True => said(self.line),
            North::Grid => said(grid),
            North::Magnetic => said(magnetic),
        }
    }

    pub fn others(self) -> (Bearing<Grid>, Bearing<Magnetic>) {
        (self.line.to(self.convergence), self.line.to(self.declination))
    }

    /// What stands on the card of a north.
    pub fn shown(self, north: North) -> String {
        if north != self.thief {
            return self.by(north);
        }
        // The number of another north, with this one's letter.
        let number: String = self.by(self.from).chars().take_while(|sign| *sign != ' ').collect();
        format!("{number} {}", north.letter())
    }

    fn wrong(self, first: usize) -> String {
        player(first + North::ALL.iter().position(|north| *north == self.thief).unwrap_or(0))
    }
}

fn deal(players: u8, draw: &mut Draw) -> Round {
    let thefts: Vec<Theft> = (0..players / 3).map(|_| drawn(draw)).collect();
    let mut round = round(&thefts);
    let left_over: Vec<String> = (players / 3 * 3 + 1..=players).map(|player| player.to_string()).collect();
    match left_over.as_slice() {
        [] => {}
        [one] => round.say.push(format!("Player {one} has no card, joins a group and checks its sketch.")),
        several => {
            round
                .say
                .push(format!("Players {} have no card, join a group and check its sketch.", several.join(" and ")));
        }
    }
    round
}

pub(super) fn round(thefts: &[Theft]) -> Round {
    let firsts = || thefts.iter().zip((1..).step_by(3));
    let cards: Vec<Card> = firsts()
        .flat_map(|(theft, first)| {
            North::ALL.into_iter().zip(first..).map(|(north, number)| card(number, theft.shown(north)))
        })
        .collect();
    let key = firsts().map(|(theft, first)| {
        let [t, g, m] = [North::True, North::Grid, North::Magnetic].map(|north| theft.by(north));
        format!(
            "players {first} to {}: declination {}, convergence {}; the direction is {t}, {g}, {m}",
            first + 2,
            declination_words(theft.declination.angle()),
            declination_words(theft.convergence.angle())
        )
    });
    let told: Vec<String> = firsts()
        .map(|(theft, first)| {
            format!(
                "Group of player {first}: declination is {}, convergence is {}.",
                declination_words(theft.declination.angle()),
                declination_words(theft.convergence.angle())
            )
        })
        .collect();
    let answers: Vec<String> = firsts()
        .map(|(theft, first)| {
            format!("{} has {}, and it is {}", theft.wrong(first), theft.shown(theft.thief), theft.by(theft.thief))
        })
        .collect();
    Round {
        say: [
            vec![
                "Three of you hold one direction, each by another north. Somebody has changed one card: its number belongs to another letter.".to_owned(),
                "Lay the cards side by side, sketch the three norths, and say whose card lies and what should stand there.".to_owned(),
            ],
            told,
        ]
        .concat(),
        cards,
        key: key.collect(),
        answer: answers.join("; "),
        slips: vec![
            slip("the true card, where it is right", "They put the declination or the convergence on the wrong side"),
            slip("the magnetic card, where it is right", "They took east for west, or forgot the declination"),
            slip("the grid card, where it is right", "They took the convergence for nothing, or the wrong way round"),
        ],
    }
}

fn drawn(draw: &mut Draw) -> Theft {
    let side = draw.sign();
    let declination = degrees(draw.between(8, 20) * side);
    let convergence = degrees(draw.between(2, 4) * draw.sign());
    let (thief, from) = draw.pick(&[
        (North::True, North::Magnetic),
        (North::Grid, North::Magnetic),
        (North::Magnetic, North::True),
        (North::Magnetic, North::Grid),
    ]);
    Theft {
        line: Bearing::from_angle(degrees(draw.between(0, 359))),
        declination: Declination::from_angle(declination),
        convergence: Convergence::from_angle(convergence),
        thief,
        from,
    }
}
