//! A dial turned by words: `20 clockwise`, then `set`.

use crate::angle::{Angle, read_number, sense};
use crate::problem::{DialFigure, Figure, Question};

/// The dial of a question that asks to set one, as it stands before.
pub(super) fn to_turn(question: &Question, figure: &Figure) -> Option<DialFigure> {
    match (question, figure) {
        (Question::SetDial { .. }, Figure::Dial(dial)) => Some(dial.clone()),
        _ => None,
    }
}

/// Turns the dial clockwise; its numbers pass under the index line, and the needle stays where it points.
pub(super) fn turn(dial: &mut DialFigure, clockwise: Angle) {
    // Turning the dial clockwise lowers the reading.
    dial.reading = (dial.reading - clockwise).wrapped();
}

/// Reads a turn, clockwise positive: a number of degrees and a way, in either order, perhaps behind the word `turn`.
pub(super) fn read_turn(text: &str) -> Option<Angle> {
    let text = text.to_lowercase();
    let text = text.strip_prefix("turn ").unwrap_or(&text).trim();
    let (first, last) = (text.split_whitespace().next()?, text.split_whitespace().last()?);
    let (sign, size) = match (way(first), way(last)) {
        (Some(sign), None) => (sign, text.strip_prefix(first)?),
        (None, Some(sign)) => (sign, text.strip_suffix(last)?),
        _ => return None,
    };
    let size = read_number(size, &["°", "deg", "degree", "degrees"]).ok()?;
    (0.0..=360.0).contains(&size).then(|| Angle::from_degrees(sign * size))
}

/// A turn as it is read out: `20 clockwise`.
pub(super) fn turn_in_words(clockwise: Angle) -> String {
    format!("{} {}", clockwise.degrees().abs(), sense(clockwise))
}

fn way(word: &str) -> Option<f64> {
    match word {
        "clockwise" | "cw" => Some(1.0),
        "counterclockwise" | "ccw" => Some(-1.0),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_is_a_number_and_a_way() {
        let degrees = |text| read_turn(text).map(Angle::degrees);
        for text in ["20 clockwise", "turn 20 clockwise", "Clockwise 20", "20° CW", "cw 20 degrees"] {
            assert_eq!(degrees(text), Some(20.0), "{text}");
        }
        assert_eq!(degrees("7.5 counterclockwise"), Some(-7.5));
        for text in ["", "20", "clockwise", "20 left", "-20 clockwise", "400 cw", "turn", "cw 20 ccw", "20 20 cw"] {
            assert_eq!(degrees(text), None, "{text}");
        }
    }

    #[test]
    fn a_turn_is_read_out_as_it_can_be_typed() {
        for text in ["20 clockwise", "7.5 counterclockwise"] {
            assert_eq!(read_turn(text).map(turn_in_words).as_deref(), Some(text));
        }
    }

    #[test]
    fn turning_the_dial_clockwise_lowers_the_number_at_the_index_line() {
        let mut dial = DialFigure {
            reading: Angle::from_degrees(10.0),
            graduation: Angle::from_degrees(2.0),
            numbered: Angle::from_degrees(20.0),
            index: Angle::ZERO,
            needle: None,
            inner_scale: false,
            strip: true,
            learner: None,
        };
        turn(&mut dial, Angle::from_degrees(30.0));
        assert_eq!(dial.reading.degrees(), 340.0);
        turn(&mut dial, Angle::from_degrees(-30.0));
        assert_eq!(dial.reading.degrees(), 10.0);
    }
}
