//! Moves as a short text, so that an attempt is stored with them: `m+10 c-35 b+1 d343 eP>Q`.
//!
//! One word for each move: `m` map, `c` compass, `b` both, `t` dial, `s` oneself, each with a signed turn in degrees,
//! clockwise positive; `d` a number on the dial; `e` the edge on a line (`eP>Q`, or `eM`, `eT`, `eG`, `eA`, `eB`, `eD` for
//! the north lines, `<` behind for the other way along); `u` compass up; `r` a number read; `n` the magnetic bearing that it means; `k` a landmark, counted from
//! 1; `wl`, `wo`, `wr` left of the line, on it, right of it, `wn` not to be told; `y+` the needle trusted, `y-` not; `h` with a letter what is held; `.` done.

use super::amount::tenth;
use super::lines::{Leg, LineName, Way};
use super::moves::Move;
use super::table::{Hold, Stands};
use crate::angle::Angle;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// Moves in the order they were made.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Moves(pub Vec<Move>);

/// Why a text is no list of moves.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("move {number} is not one that I know: {word}")]
pub struct NotationError {
    /// Which word, counted from 1.
    pub number: usize,
    /// The word.
    pub word: String,
}

/// Turns larger than ten circles are not written by anybody's hand.
const LARGEST: f64 = 3600.0;

const fn hold_letter(hold: Hold) -> char {
    match hold {
        Hold::Map => 'm',
        Hold::Compass => 'c',
        Hold::Both => 'b',
        Hold::Dial => 't',
        Hold::Oneself => 's',
    }
}

const fn line_letter(line: LineName) -> Option<char> {
    match line {
        LineName::Magnetic => Some('M'),
        LineName::True => Some('T'),
        LineName::Grid => Some('G'),
        LineName::Across => Some('A'),
        LineName::Border => Some('B'),
        LineName::Prong => Some('D'),
        LineName::Leg(_) => None,
    }
}

/// A turn with its sign, in degrees, to a tenth.
struct Signed(Angle);

impl fmt::Display for Signed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:+}", tenth(self.0).degrees())
    }
}

/// The word of one move.
impl fmt::Display for Move {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Move::Hold(hold) => write!(f, "h{}", hold_letter(hold)),
            Move::TurnMap(by) => write!(f, "m{}", Signed(by)),
            Move::TurnCompass(by) => write!(f, "c{}", Signed(by)),
            Move::TurnBoth(by) => write!(f, "b{}", Signed(by)),
            Move::TurnDial(by) => write!(f, "t{}", Signed(by)),
            Move::TurnSelf(by) => write!(f, "s{}", Signed(by)),
            Move::SetDial(number) => write!(f, "d{}", tenth(number).wrapped().degrees()),
            Move::Read(number) => write!(f, "r{}", tenth(number).degrees()),
            Move::Bearing(number) => write!(f, "n{}", tenth(number).degrees()),
            Move::Edge(LineName::Leg(leg), way) => {
                write!(f, "e{}{}{}", leg.from, if way == Way::Ahead { '>' } else { '<' }, leg.to)
            }
            Move::Edge(line, way) => {
                write!(f, "e{}", line_letter(line).unwrap_or('?'))?;
                if way == Way::Back { f.write_str("<") } else { Ok(()) }
            }
            Move::TakeUp => f.write_str("u"),
            Move::Choose(number) => write!(f, "k{}", u16::from(number) + 1),
            Move::Say(Stands::Left) => f.write_str("wl"),
            Move::Say(Stands::OnLine) => f.write_str("wo"),
            Move::Say(Stands::Right) => f.write_str("wr"),
            Move::Say(Stands::CannotTell) => f.write_str("wn"),
            Move::Trust(trusts) => f.write_str(if trusts { "y+" } else { "y-" }),
            Move::Done => f.write_str("."),
        }
    }
}

/// The words of all moves with a space between them.
impl fmt::Display for Moves {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, made) in self.0.iter().enumerate() {
            if index > 0 {
                f.write_str(" ")?;
            }
            write!(f, "{made}")?;
        }
        Ok(())
    }
}

fn number(text: &str) -> Option<Angle> {
    // Plain decimals only: the standard reader also takes "inf", "nan" and exponents.
    let plain = text.chars().all(|letter| letter.is_ascii_digit() || matches!(letter, '+' | '-' | '.'));
    let value: f64 = text.parse().ok().filter(|value: &f64| plain && value.abs() <= LARGEST)?;
    Some(tenth(Angle::from_degrees(value)))
}

fn signed(text: &str) -> Option<Angle> {
    text.starts_with(['+', '-']).then(|| number(text)).flatten()
}

fn unsigned(text: &str) -> Option<Angle> {
    text.starts_with(|letter: char| letter.is_ascii_digit()).then(|| number(text)).flatten()
}

fn edge(text: &str) -> Option<Move> {
    let letters: Vec<char> = text.chars().collect();
    let north = |letter| LineName::NORTHS.into_iter().find(|line| line_letter(*line) == Some(letter));
    match letters[..] {
        [line] => Some(Move::Edge(north(line)?, Way::Ahead)),
        [line, '<'] => Some(Move::Edge(north(line)?, Way::Back)),
        [from, '>', to] => Some(Move::Edge(LineName::Leg(Leg::new(from, to)?), Way::Ahead)),
        [from, '<', to] => Some(Move::Edge(LineName::Leg(Leg::new(from, to)?), Way::Back)),
        _ => None,
    }
}

fn word(text: &str) -> Option<Move> {
    let mut letters = text.chars();
    let first = letters.next()?;
    let rest = letters.as_str();
    match first {
        'h' => Hold::ALL.into_iter().find(|hold| rest == hold_letter(*hold).to_string()).map(Move::Hold),
        'm' => signed(rest).map(Move::TurnMap),
        'c' => signed(rest).map(Move::TurnCompass),
        'b' => signed(rest).map(Move::TurnBoth),
        't' => signed(rest).map(Move::TurnDial),
        's' => signed(rest).map(Move::TurnSelf),
        'd' => unsigned(rest).map(|number| Move::SetDial(number.wrapped())),
        'r' => number(rest).map(Move::Read),
        'n' => number(rest).map(Move::Bearing),
        'e' => edge(rest),
        'k' => rest.parse::<u16>().ok()?.checked_sub(1)?.try_into().ok().map(Move::Choose),
        _ => match text {
            "u" => Some(Move::TakeUp),
            "wl" => Some(Move::Say(Stands::Left)),
            "wo" => Some(Move::Say(Stands::OnLine)),
            "wr" => Some(Move::Say(Stands::Right)),
            "wn" => Some(Move::Say(Stands::CannotTell)),
            "y+" => Some(Move::Trust(true)),
            "y-" => Some(Move::Trust(false)),
            "." => Some(Move::Done),
            _ => None,
        },
    }
}

impl FromStr for Moves {
    type Err = NotationError;

    fn from_str(text: &str) -> Result<Moves, NotationError> {
        let words = text.split_whitespace().enumerate();
        let moves = words.map(|(index, text)| {
            word(text).ok_or_else(|| NotationError { number: index + 1, word: text.chars().take(20).collect() })
        });
        moves.collect::<Result<Vec<Move>, NotationError>>().map(Moves)
    }
}

impl Serialize for Moves {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Moves {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Moves, D::Error> {
        String::deserialize(deserializer)?.parse().map_err(serde::de::Error::custom)
    }
}
