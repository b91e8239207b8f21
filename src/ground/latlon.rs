//! Reading latitude and longitude: decimal or with minutes and seconds, signed or with letters.

use super::{Place, PlaceError};

/// Why a text is no latitude and longitude.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LatLonError {
    /// Something that has no place there.
    #[error("'{0}' does not belong there; write a place like 47.5,11.25 or 47°30′N 11°15′E")]
    Stray(char),
    /// Something like a number that is none.
    #[error("'{0}' is not a number; write a place like 47.5,11.25 or 47°30′N 11°15′E")]
    Number(String),
    /// Only one half, or a half without a number.
    #[error("a place needs both a latitude and a longitude, like 47.5,11.25 or 47°30′N 11°15′E")]
    Incomplete,
    /// It is not clear where the latitude ends.
    #[error("where does the latitude end? put a comma after it, or the letters N or S and E or W")]
    NoBorder,
    /// Several commas.
    #[error("only one comma, between latitude and longitude; decimals take a point: 47.5,11.25")]
    Commas,
    /// More than degrees, minutes and seconds.
    #[error("there are more numbers than degrees, minutes and seconds")]
    TooManyNumbers,
    /// A sign where none can be.
    #[error("a minus sign stands only before the degrees")]
    Sign,
    /// Both a sign and a letter.
    #[error("give either a minus sign or the letter {0}, not both")]
    SignAndLetter(char),
    /// Decimals before the last number.
    #[error("only the last number can have decimals: 47.5° or 47°30.5′, not 47.5°30′")]
    Decimals,
    /// Sixty or more minutes or seconds.
    #[error("{0} is too many: minutes and seconds stay below 60")]
    Sixty(f64),
    /// Two latitudes, or two longitudes, or the longitude first without saying so for both.
    #[error("one of the two needs N or S, the other E or W")]
    Letters,
    /// Out of range.
    #[error(transparent)]
    Range(#[from] PlaceError),
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Token {
    Number {
        value: f64,
        negative: bool,
        signed: bool,
        decimals: bool,
    },
    /// N, S, E or W.
    Letter(char),
    /// ° or ′ or ″ as 0, 1, 2.
    Mark(usize),
    Comma,
}

/// One half: degrees, negative for S and W, and the letter if one was given.
struct Half {
    degrees: f64,
    letter: Option<char>,
}

pub(super) fn read(text: &str) -> Result<Place, LatLonError> {
    let tokens = tokens(text)?;
    let (first, second) = halves(&tokens)?;
    let (first, second) = (half(first)?, half(second)?);
    let is = |half: &Half, letters: [char; 2]| half.letter.is_none_or(|letter| letters.contains(&letter));
    if is(&first, ['N', 'S']) && is(&second, ['E', 'W']) {
        Ok(Place::from_degrees(first.degrees, second.degrees)?)
    } else if first.letter.is_some() && second.letter.is_some() && is(&first, ['E', 'W']) && is(&second, ['N', 'S']) {
        Ok(Place::from_degrees(second.degrees, first.degrees)?)
    } else {
        Err(LatLonError::Letters)
    }
}

fn tokens(text: &str) -> Result<Vec<Token>, LatLonError> {
    let mut tokens = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let mut length = first.len_utf8();
        match first {
            '0'..='9' | '.' | '-' | '+' | '−' | '–' => {
                let signed = !matches!(first, '0'..='9' | '.');
                let sign = if signed { length } else { 0 };
                let unsigned = &rest[sign..];
                let number =
                    unsigned.len() - unsigned.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').len();
                let number = &unsigned[..number];
                if number.is_empty() {
                    return Err(LatLonError::Stray(first));
                }
                let value = number.parse().map_err(|_| LatLonError::Number(number.to_owned()))?;
                length = sign + number.len();
                let negative = signed && first != '+';
                tokens.push(Token::Number { value, negative, signed, decimals: number.contains('.') });
            }
            '°' | 'º' | '˚' => tokens.push(Token::Mark(0)),
            '\'' | '′' | '’' => {
                if rest[length..].starts_with(first) {
                    length *= 2;
                    tokens.push(Token::Mark(2));
                } else {
                    tokens.push(Token::Mark(1));
                }
            }
            '"' | '″' | '”' => tokens.push(Token::Mark(2)),
            ',' | ';' => tokens.push(Token::Comma),
            c if c.is_ascii_alphabetic() => {
                length = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_alphabetic()).len();
                tokens.push(Token::Letter(hemisphere(&rest[..length]).ok_or(LatLonError::Stray(c))?));
            }
            c if c.is_whitespace() => {}
            other => return Err(LatLonError::Stray(other)),
        }
        rest = &rest[length..];
    }
    Ok(tokens)
}

fn hemisphere(word: &str) -> Option<char> {
    [('N', "north"), ('S', "south"), ('E', "east"), ('W', "west")]
        .into_iter()
        .find(|(_, name)| word.eq_ignore_ascii_case(name) || word.eq_ignore_ascii_case(&name[..1]))
        .map(|(letter, _)| letter)
}

/// Where the first half ends: at the comma; else at the letters; else at the second degree sign or number.
fn halves(tokens: &[Token]) -> Result<(&[Token], &[Token]), LatLonError> {
    let positions = |wanted: fn(&Token) -> bool| {
        tokens.iter().enumerate().filter(move |(_, token)| wanted(token)).map(|(index, _)| index)
    };
    let mut commas = positions(|token| matches!(token, Token::Comma));
    if let Some(comma) = commas.next() {
        return if commas.next().is_some() {
            Err(LatLonError::Commas)
        } else {
            Ok((&tokens[..comma], &tokens[comma + 1..]))
        };
    }
    let mut letters = positions(|token| matches!(token, Token::Letter(_)));
    if let Some(letter) = letters.next() {
        let border = if letter == 0 { letters.next().ok_or(LatLonError::NoBorder)? } else { letter + 1 };
        return Ok(tokens.split_at(border));
    }
    let mut degrees = positions(|token| matches!(token, Token::Mark(0)));
    if let Some(second) = degrees.nth(1) {
        return Ok(tokens.split_at(second.saturating_sub(1)));
    }
    let mut numbers = positions(|token| matches!(token, Token::Number { .. }));
    match (numbers.next(), numbers.next(), numbers.next()) {
        (_, Some(second), None) => Ok(tokens.split_at(second)),
        (_, None, _) => Err(LatLonError::Incomplete),
        _ => Err(LatLonError::NoBorder),
    }
}

fn half(tokens: &[Token]) -> Result<Half, LatLonError> {
    let (mut letter, mut negative, mut signed) = (None, false, false);
    let mut parts = [0.0; 3];
    let mut count = 0;
    // Whether another number may follow: not after one with decimals.
    let mut open = true;
    let mut marked = 0;
    for (index, token) in tokens.iter().enumerate() {
        match *token {
            Token::Letter(found) if letter.is_none() && (index == 0 || index + 1 == tokens.len()) => {
                letter = Some(found)
            }
            Token::Letter(_) => return Err(LatLonError::Letters),
            Token::Number { value, negative: minus, signed: sign, decimals } => {
                if count == 3 {
                    return Err(LatLonError::TooManyNumbers);
                }
                if !open {
                    return Err(LatLonError::Decimals);
                }
                if count == 0 {
                    (negative, signed) = (minus, sign);
                } else if sign {
                    return Err(LatLonError::Sign);
                } else if value >= 60.0 {
                    return Err(LatLonError::Sixty(value));
                }
                open = !decimals;
                parts[count] = value;
                count += 1;
            }
            // Each sign stands behind its own number, and once.
            Token::Mark(which) if which + 1 == count && marked < count => marked = count,
            Token::Mark(which) => return Err(LatLonError::Stray(['°', '′', '″'][which])),
            Token::Comma => return Err(LatLonError::Commas),
        }
    }
    if count == 0 {
        return Err(LatLonError::Incomplete);
    }
    if let (true, Some(letter)) = (signed, letter) {
        return Err(LatLonError::SignAndLetter(letter));
    }
    let size = parts[0] + (parts[1] + parts[2] / 60.0) / 60.0;
    let negative = negative || matches!(letter, Some('S' | 'W'));
    Ok(Half { degrees: if negative { -size } else { size }, letter })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn signed(text: &str) -> Result<(f64, f64), String> {
        let place = read(text).map_err(|error| error.to_string())?;
        Ok((place.latitude.degrees(), place.longitude.degrees()))
    }

    #[test]
    fn decimal_degrees_are_read_with_signs_or_letters() {
        for text in [
            "-33.9,18.4",
            "-33.9, 18.4",
            "−33.9 18.4",
            "33.9S 18.4E",
            "33.9° S, 18.4° e",
            "S 33.9 E 18.4",
            "18.4E 33.9S",
            "33.9 south 18.4 east",
            "33.9S,18.4",
        ] {
            assert_eq!(signed(text), Ok((-33.9, 18.4)), "{text}");
        }
        assert_eq!(signed("47.5N 11.25E"), Ok((47.5, 11.25)));
        assert_eq!(signed("0,-0"), Ok((0.0, 0.0)));
        assert_eq!(signed("90,-180"), Ok((90.0, -180.0)));
    }

    #[test]
    fn minutes_and_seconds_are_read_with_marks_or_blanks() {
        let expected = Ok((47.0 + (30.0 + 15.0 / 60.0) / 60.0, 11.25));
        for text in [
            "47°30′15″N 11°15′E",
            "47 30 15 N, 11 15 0 E",
            "47°30'15\" 11°15'",
            "47°30'15''N 11°15'0''E",
            "N 47 30 15 E 11 15",
            "47 30 15, 11 15",
            "47°30.25′N 11°15.0′E",
            "47 30 15N 11.25E",
        ] {
            assert_eq!(signed(text), expected, "{text}");
        }
    }

    #[test]
    fn half_a_degree_south_keeps_its_sign() {
        assert_eq!(signed("-0°30′, -0°15′"), Ok((-0.5, -0.25)));
        assert_eq!(signed("0°30′S 0°15′W"), Ok((-0.5, -0.25)));
    }

    #[test]
    fn every_mistake_is_named_with_its_cure() {
        for (text, message) in [
            ("91,0", "91 is not a latitude: latitudes run from 90 south (-90) to 90 north"),
            ("0,181", "181 is not a longitude: longitudes run from 180 west (-180) to 180 east"),
            ("90°00′01″N 0°E", "90.00027777777778 is not a latitude: latitudes run from 90 south (-90) to 90 north"),
            ("47.5", "a place needs both a latitude and a longitude, like 47.5,11.25 or 47°30′N 11°15′E"),
            ("47.5,", "a place needs both a latitude and a longitude, like 47.5,11.25 or 47°30′N 11°15′E"),
            ("47.5N", "a place needs both a latitude and a longitude, like 47.5,11.25 or 47°30′N 11°15′E"),
            ("47,5,11,25", "only one comma, between latitude and longitude; decimals take a point: 47.5,11.25"),
            ("47 30 11 15", "where does the latitude end? put a comma after it, or the letters N or S and E or W"),
            ("47.5N 11.25N", "one of the two needs N or S, the other E or W"),
            ("11.25E, 47.5", "one of the two needs N or S, the other E or W"),
            ("-47.5S 11.25E", "give either a minus sign or the letter S, not both"),
            ("47.5°30′N 11°E", "only the last number can have decimals: 47.5° or 47°30.5′, not 47.5°30′"),
            ("47°60′N 11°E", "60 is too many: minutes and seconds stay below 60"),
            ("47 -30 N 11 E", "a minus sign stands only before the degrees"),
            ("47 30 15 10 N, 11 E", "there are more numbers than degrees, minutes and seconds"),
            ("47′N 11°E", "'′' does not belong there; write a place like 47.5,11.25 or 47°30′N 11°15′E"),
            ("47°°N 11°E", "'°' does not belong there; write a place like 47.5,11.25 or 47°30′N 11°15′E"),
            ("47.5.1,11", "'47.5.1' is not a number; write a place like 47.5,11.25 or 47°30′N 11°15′E"),
            ("here", "'h' does not belong there; write a place like 47.5,11.25 or 47°30′N 11°15′E"),
        ] {
            assert_eq!(signed(text), Err(message.to_owned()), "{text}");
        }
    }
}
