//! The whisper line: a bearing goes from ear to ear, and each player does one thing to it.

use super::{Game, Round, card, degrees, player, slip};
use crate::angle::{Angle, Bearing, Declination, Magnetic, North, True, declination_words, three_figures};
use crate::numbers;
use crate::problem::Draw;

pub(super) static GAME: Game = Game {
    name: "whisper-line",
    title: "Whisper line",
    about: "A bearing is whispered along a line, and each player does one sum with it.",
    players: 3..=7,
    usual: 5,
    deal,
    cautions: &["No compass is needed: this can be played at the table."],
};

/// What a player does to the number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Task {
    /// So many degrees clockwise; counterclockwise below nothing.
    Turn(i32),
    Back,
    ToMagnetic,
    ToTrue,
}

/// A line of players.
#[derive(Clone, Debug)]
pub(super) struct Whisper {
    pub first: Bearing<True>,
    pub declination: Declination,
    pub tasks: Vec<Task>,
}

/// What is whispered: a number with its letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Said {
    True(Bearing<True>),
    Magnetic(Bearing<Magnetic>),
}

impl Said {
    pub const fn angle(self) -> Angle {
        match self {
            Said::True(bearing) => bearing.angle(),
            Said::Magnetic(bearing) => bearing.angle(),
        }
    }

    const fn north(self) -> North {
        match self {
            Said::True(_) => North::True,
            Said::Magnetic(_) => North::Magnetic,
        }
    }

    fn turned(self, by: Angle) -> Said {
        match self {
            Said::True(bearing) => Said::True(bearing.turned(by)),
            Said::Magnetic(bearing) => Said::Magnetic(bearing.turned(by)),
        }
    }

    fn words(self) -> String {
        format!("{}° {}", three_figures(self.angle(), 0), self.north().letter())
    }
}

impl Task {
    fn does(self, said: Said, declination: Declination) -> Said {
        match (self, said) {
            (Task::Turn(by), said) => said.turned(degrees(by)),
            (Task::Back, said) => said.turned(degrees(180)),
            (Task::ToMagnetic, Said::True(bearing)) => Said::Magnetic(bearing.to(declination)),
            (Task::ToTrue, Said::Magnetic(bearing)) => Said::True(bearing.to(declination.inverse())),
            (Task::ToMagnetic | Task::ToTrue, said) => said,
        }
    }

    /// How far off the end is with this task done wrongly, and what was done; the usual slip first.
    fn slips(self, declination: Declination) -> Vec<(Angle, &'static str)> {
        let size = declination.angle();
        match self {
            Task::Turn(by) => vec![(degrees(-2 * by), "turned the other way"), (degrees(-by), "handed it on unturned")],
            Task::Back => vec![(degrees(180), "handed it on without turning it round")],
            Task::ToMagnetic => {
                vec![(size * 2, "applied the declination the wrong way"), (size, "left the declination out")]
            }
            Task::ToTrue => {
                vec![(size * -2, "applied the declination the wrong way"), (-size, "left the declination out")]
            }
        }
    }

    fn words(self, declination: Declination) -> String {
        let by = declination_words(declination.angle());
        match self {
            Task::Turn(by) if by < 0 => format!("Turn it {}° counterclockwise", -by),
            Task::Turn(by) => format!("Turn it {by}° clockwise"),
            Task::Back => "Make it the back bearing".to_owned(),
            Task::ToMagnetic => format!("Make it magnetic; declination is {by}"),
            Task::ToTrue => format!("Make it true; declination is {by}"),
        }
    }
}

impl Whisper {
    /// The number behind each player.
    pub fn numbers(&self) -> Vec<Said> {
        let mut said = Said::True(self.first);
        self.tasks
            .iter()
            .map(|task| {
                said = task.does(said, self.declination);
                said
            })
            .collect()
    }

    /// The wrong ends: the last number, who slipped (from 1), and how.
    pub fn wrong_ends(&self) -> Vec<(Said, usize, &'static str)> {
        let Some(end) = self.numbers().last().copied() else { return Vec::new() };
        let tasks = (1..).zip(&self.tasks);
        tasks
            .flat_map(|(number, task)| {
                task.slips(self.declination).into_iter().map(move |(off, how)| (end.turned(off), number, how))
            })
            .collect()
    }

    /// Whether each wrong end tells who slipped: none is the right one, and no two are the same.
    pub fn tells(&self) -> bool {
        let mut ends: Vec<Angle> = self.wrong_ends().into_iter().map(|end| end.0.angle()).collect();
        ends.extend(self.numbers().last().map(|end| end.angle()));
        let count = ends.len();
        numbers::arrange(&mut ends, Ord::cmp);
        ends.dedup();
        ends.len() == count
    }

    pub fn round(&self) -> Round {
        let numbers = self.numbers();
        let end = numbers.last().map_or_else(String::new, |end| end.words());
        let start = Said::True(self.first).words();
        let tasks = (1..).zip(&self.tasks);
        Round {
            say: vec![
                "Stand in a line, each with a card. Nobody shows a card or writes.".to_owned(),
                format!(
                    "I whisper {start} to player 1. Do what your card says, whisper the new number with its letter to the next, and keep still."
                ),
                "The last one says the number aloud. Then we look who can explain it.".to_owned(),
            ],
            cards: tasks.map(|(number, task)| card(number, task.words(self.declination))).collect(),
            key: std::iter::once(format!("you whisper {start}"))
                .chain((1..).zip(&numbers).map(|(number, said)| format!("{} says {}", player(number), said.words())))
                .collect(),
            answer: end,
            slips: self
                .wrong_ends()
                .into_iter()
                .map(|(said, number, how)| slip(said.words(), format!("{} {how}", player(number))))
                .collect(),
        }
    }
}

fn deal(players: u8, draw: &mut Draw) -> Round {
    let mut whisper = drawn(players, draw);
    // Most lines tell who slipped at once.
    for _ in 0..200 {
        if whisper.tells() {
            break;
        }
        whisper = drawn(players, draw);
    }
    whisper.round()
}

fn drawn(players: u8, draw: &mut Draw) -> Whisper {
    let turn = |draw: &mut Draw, sign: i32| Task::Turn(sign * draw.between(3, 11) * 10);
    let all =
        [turn(draw, 1), Task::Back, Task::ToMagnetic, turn(draw, -1), Task::ToTrue, turn(draw, 1), turn(draw, -1)];
    let first = Bearing::from_angle(degrees(draw.between(0, 71) * 5));
    let declination = Declination::from_angle(degrees(draw.between(8, 19) * draw.sign()));
    Whisper { first, declination, tasks: all.into_iter().take(usize::from(players)).collect() }
}
