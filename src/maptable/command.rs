//! Moves as plain mode takes them: `map clockwise 10`, `dial 343`, `edge P Q`, `done`.

use super::lines::{Leg, LineName, Way};
use super::moves::Move;
use super::table::{Hold, Stands};
use crate::angle::Angle;

/// Why a line is no command. The words go to the learner as they are.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CommandError {
    /// Nothing was typed.
    #[error("type what to do, for instance: map clockwise 10")]
    Empty,
    /// The first word is none that is known.
    #[error(
        "I do not know {0}. Begin with map, compass, both, dial, myself, edge, up, read, bearing, choose, left, right, on, cannot, trust, doubt or done"
    )]
    Unknown(String),
    /// A turn without its sense.
    #[error("say which way: {0} clockwise 10, or {0} counterclockwise 10")]
    NoWay(&'static str),
    /// A turn or a reading without a number, or with what is none.
    #[error("say how many degrees, from 0 to 360, for instance: {0} 10")]
    NoNumber(&'static str),
    /// An edge without a line.
    #[error(
        "say which line: edge P Q, edge magnetic, edge true, edge grid, edge across, edge border or edge prong; behind \
         it back, for the travel arrow the other way"
    )]
    NoLine,
    /// A choice of nothing that is in view.
    #[error("say the number or the name of what you choose, for instance: choose 2")]
    NoChoice,
    /// Something more behind a whole command.
    #[error("I do not understand the end of it: {0}")]
    Rest(String),
}

/// Reads one command, small or capital letters. `landmarks` are the names in view, for `choose`.
///
/// # Errors
/// With words that say what was missing.
pub fn parse_command(text: &str, landmarks: &[&str]) -> Result<Move, CommandError> {
    let text = text.to_lowercase();
    let mut words: Vec<&str> = text.split(|letter: char| letter.is_whitespace() || letter == ',').collect();
    words.retain(|word| !word.is_empty() && *word != "the");
    if words.first() == Some(&"turn") && words.len() > 1 {
        words.remove(0);
    }
    let Some((first, rest)) = words.split_first() else { return Err(CommandError::Empty) };
    match (*first, rest) {
        ("map", rest) => turn(Hold::Map, "map", rest),
        ("compass" | "baseplate", rest) => turn(Hold::Compass, "compass", rest),
        ("both", rest) => turn(Hold::Both, "both", rest),
        ("dial", ["clockwise" | "counterclockwise", ..] | [_, "clockwise" | "counterclockwise", ..]) => {
            turn(Hold::Dial, "dial", rest)
        }
        ("dial", [number]) => degrees(number).map(Move::SetDial).ok_or(CommandError::NoNumber("dial")),
        ("dial", []) => Err(CommandError::NoNumber("dial")),
        ("myself" | "me" | "self", rest) => turn(Hold::Oneself, "myself", rest),
        ("edge", rest) => edge(rest),
        ("up", []) | ("take", ["up"] | ["up", "compass"] | ["compass", "up"]) => Ok(Move::TakeUp),
        ("read", [number]) => degrees(number).map(Move::Read).ok_or(CommandError::NoNumber("read")),
        ("read", []) => Err(CommandError::NoNumber("read")),
        ("bearing", [number]) => degrees(number).map(Move::Bearing).ok_or(CommandError::NoNumber("bearing")),
        ("bearing", []) => Err(CommandError::NoNumber("bearing")),
        ("choose", rest) => choose(rest, landmarks),
        ("left", []) => Ok(Move::Say(Stands::Left)),
        ("right", []) => Ok(Move::Say(Stands::Right)),
        ("on", [] | ["line"]) => Ok(Move::Say(Stands::OnLine)),
        ("cannot", _) => Ok(Move::Say(Stands::CannotTell)),
        ("trust", []) => Ok(Move::Trust(true)),
        ("doubt", []) => Ok(Move::Trust(false)),
        ("done", []) => Ok(Move::Done),
        ("up" | "take" | "left" | "right" | "on" | "trust" | "doubt" | "done" | "read" | "bearing" | "dial", rest) => {
            Err(CommandError::Rest(shown(&rest.join(" "))))
        }
        (unknown, _) => Err(CommandError::Unknown(shown(unknown))),
    }
}

/// A learner's own words, cut to what fits a line.
fn shown(text: &str) -> String {
    text.chars().take(30).collect()
}

fn turn(hold: Hold, name: &'static str, rest: &[&str]) -> Result<Move, CommandError> {
    let (way, number) = match rest {
        [way @ ("clockwise" | "counterclockwise"), number] | [number, way @ ("clockwise" | "counterclockwise")] => {
            (*way, *number)
        }
        [_, _, rest @ ..] if !rest.is_empty() => return Err(CommandError::Rest(shown(&rest.join(" ")))),
        ["clockwise" | "counterclockwise"] => return Err(CommandError::NoNumber(turn_example(hold))),
        _ => return Err(CommandError::NoWay(name)),
    };
    let size = degrees(number).ok_or(CommandError::NoNumber(turn_example(hold)))?;
    Ok(hold.turn(if way == "clockwise" { size } else { -size }))
}

const fn turn_example(hold: Hold) -> &'static str {
    match hold {
        Hold::Map => "map clockwise",
        Hold::Compass => "compass clockwise",
        Hold::Both => "both clockwise",
        Hold::Dial => "dial clockwise",
        Hold::Oneself => "myself clockwise",
    }
}

/// Degrees from 0 to 360, with or without the sign of degrees, to a tenth.
fn degrees(text: &str) -> Option<Angle> {
    let digits = text.strip_suffix('°').unwrap_or(text);
    let plain = digits.starts_with(|letter: char| letter.is_ascii_digit())
        && digits.chars().all(|letter| letter.is_ascii_digit() || letter == '.');
    let value: f64 = digits.parse().ok().filter(|value| plain && (0.0..=360.0).contains(value))?;
    Some(super::amount::tenth(Angle::from_degrees(value)))
}

fn edge(rest: &[&str]) -> Result<Move, CommandError> {
    let (line, way) = match rest.split_last() {
        Some((&("back" | "south"), line)) => (line, Way::Back),
        _ => (rest, Way::Ahead),
    };
    let name = match line {
        ["magnetic"] => LineName::Magnetic,
        ["true"] => LineName::True,
        ["grid"] => LineName::Grid,
        ["across"] => LineName::Across,
        ["border"] => LineName::Border,
        ["prong"] => LineName::Prong,
        [from, to] | [from, "to", to] => leg(from, to).ok_or(CommandError::NoLine)?,
        [both] => both.split_once(['-', '–', '>']).and_then(|(from, to)| leg(from, to)).ok_or(CommandError::NoLine)?,
        _ => return Err(CommandError::NoLine),
    };
    Ok(Move::Edge(name, way))
}

fn leg(from: &str, to: &str) -> Option<LineName> {
    let letter = |text: &str| {
        let mut letters = text.chars();
        letters.next().filter(|_| letters.next().is_none())
    };
    Leg::new(letter(from)?, letter(to)?).map(LineName::Leg)
}

fn choose(rest: &[&str], landmarks: &[&str]) -> Result<Move, CommandError> {
    let asked = rest.join(" ");
    let named = landmarks.iter().position(|name| {
        let name = name.to_lowercase();
        !asked.is_empty() && (name == asked || name.strip_prefix("the ") == Some(asked.as_str()))
    });
    let numbered = asked.parse::<usize>().ok().filter(|number| (1..=landmarks.len()).contains(number));
    let index = named.or(numbered.map(|number| number - 1)).ok_or(CommandError::NoChoice)?;
    u8::try_from(index).map(Move::Choose).map_err(|_| CommandError::NoChoice)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(text: &str) -> Result<Move, CommandError> {
        parse_command(text, &["the Hollow Oak", "the hut"])
    }

    fn angle(degrees: f64) -> Angle {
        Angle::from_degrees(degrees)
    }

    #[test]
    fn the_commands_of_the_table_are_understood() {
        for (text, made) in [
            ("map clockwise 10", Move::TurnMap(angle(10.0))),
            ("compass counterclockwise 1", Move::TurnCompass(angle(-1.0))),
            ("Turn the both 5° clockwise", Move::TurnBoth(angle(5.0))),
            ("dial 343", Move::SetDial(angle(343.0))),
            ("dial clockwise 10.5", Move::TurnDial(angle(10.5))),
            ("myself counterclockwise 90", Move::TurnSelf(angle(-90.0))),
            ("edge magnetic", Move::Edge(LineName::Magnetic, Way::Ahead)),
            ("edge grid back", Move::Edge(LineName::Grid, Way::Back)),
            ("up", Move::TakeUp),
            ("take the compass up", Move::TakeUp),
            ("read 065", Move::Read(angle(65.0))),
            ("choose 2", Move::Choose(1)),
            ("choose the hollow oak", Move::Choose(0)),
            ("on the line", Move::Say(Stands::OnLine)),
            ("right", Move::Say(Stands::Right)),
            ("trust", Move::Trust(true)),
            ("doubt", Move::Trust(false)),
            ("DONE", Move::Done),
        ] {
            assert_eq!(read(text), Ok(made), "{text}");
        }
        let leg = Ok(Move::Edge(LineName::Leg(Leg::new('P', 'Q').unwrap()), Way::Ahead));
        for text in ["edge P Q", "edge p to q", "edge P-Q", "edge p–q"] {
            assert_eq!(read(text), leg, "{text}");
        }
    }

    #[test]
    fn what_is_missing_is_said_in_words() {
        for (text, words) in [
            ("", "type what to do, for instance: map clockwise 10"),
            ("map 10", "say which way: map clockwise 10, or map counterclockwise 10"),
            ("map clockwise", "say how many degrees, from 0 to 360, for instance: map clockwise 10"),
            ("map clockwise ten", "say how many degrees, from 0 to 360, for instance: map clockwise 10"),
            ("dial 400", "say how many degrees, from 0 to 360, for instance: dial 10"),
            ("choose 3", "say the number or the name of what you choose, for instance: choose 2"),
            ("done now", "I do not understand the end of it: now"),
            ("map clockwise 10 please", "I do not understand the end of it: please"),
        ] {
            assert_eq!(read(text).unwrap_err().to_string(), words, "{text}");
        }
        assert_eq!(read("edge P P"), Err(CommandError::NoLine));
        assert_eq!(read("edge"), Err(CommandError::NoLine));
        assert_eq!(read("needle 10"), Err(CommandError::Unknown("needle".to_owned())));
    }

    proptest! {
        #[test]
        fn nothing_that_is_typed_panics(text in ".{0,60}") {
            let _ = read(&text);
        }
    }
}
