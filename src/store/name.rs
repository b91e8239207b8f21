//! Names of learners: what is accepted, and when two names are the same.

use crate::textfile::is_invisible;
use unicode_width::UnicodeWidthChar;

pub use crate::textfile::LONGEST_NAME;
/// Marks that may sit on one letter.
const MOST_MARKS: usize = 4;

/// The names in a text in which commas stand between them: a comma is in nobody's name.
pub fn names_in(text: &str) -> impl Iterator<Item = &str> {
    text.split(',').map(str::trim).filter(|name| !name.is_empty())
}

/// Why a name was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NameError {
    /// Nothing but blanks.
    #[error("a name needs at least one character")]
    Empty,
    /// More than [`LONGEST_NAME`] characters.
    #[error("that name has {0} characters; {LONGEST_NAME} is the most")]
    TooLong(usize),
    /// A control character, for example the start of a terminal's escape sequence.
    #[error("that name holds a control character (U+{:04X}); type it with letters only", *.0 as u32)]
    Control(char),
    /// A character that cannot be seen or that turns the direction of writing.
    #[error("that name holds an invisible character (U+{:04X}); type it with letters only", *.0 as u32)]
    Invisible(char),
    /// A mark that sits on no letter, or too many on one.
    #[error("that name holds accents that belong to no letter; type it again")]
    Marks,
    /// No letter and no digit.
    #[error("a name needs at least one letter or digit")]
    NoLetter,
}

/// A name that may be stored and shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Name {
    /// As shown: trimmed, blanks single, the usual accents composed with their letters.
    pub(super) shown: String,
    /// Equal for two names that differ only in case.
    pub(super) key: String,
}

impl Name {
    /// Reads a name as typed.
    pub(super) fn read(typed: &str) -> Result<Name, NameError> {
        let mut shown = String::new();
        let mut marks = 0;
        for c in typed.trim().chars() {
            if c.is_control() {
                return Err(NameError::Control(c));
            }
            // Two names must not look the same and differ, and a name must not turn the line it stands in.
            if is_invisible(c) || matches!(c, '\u{2800}' | char::REPLACEMENT_CHARACTER) {
                return Err(NameError::Invisible(c));
            }
            if c.is_whitespace() {
                marks = MOST_MARKS;
                if !shown.ends_with(' ') {
                    shown.push(' ');
                }
            } else if let Some(composed) = shown.chars().next_back().and_then(|base| compose(base, c)) {
                shown.pop();
                shown.push(composed);
            } else if c.width() == Some(0) {
                marks += 1;
                if shown.is_empty() || marks > MOST_MARKS {
                    return Err(NameError::Marks);
                }
                shown.push(c);
            } else {
                marks = 0;
                shown.push(c);
            }
        }
        let length = shown.chars().count();
        if length == 0 {
            return Err(NameError::Empty);
        }
        if length > LONGEST_NAME {
            return Err(NameError::TooLong(length));
        }
        if !shown.chars().any(char::is_alphanumeric) {
            return Err(NameError::NoLetter);
        }
        let key = key(&shown);
        Ok(Name { shown, key })
    }
}

/// Upper and then lower case, so that ß is ss and the last sigma of a word is a sigma.
fn key(shown: &str) -> String {
    shown.to_uppercase().to_lowercase()
}

/// Letters with the accents that European keyboards type in two strokes; the same pairs stand in the Unicode
/// decompositions. Other scripts stay as typed.
const COMPOSED: &[(char, &str)] = &[
    ('\u{300}', "AÀEÈIÌOÒUÙaàeèiìoòuùNǸnǹWẀwẁYỲyỳ"),
    ('\u{301}', "AÁEÉIÍOÓUÚYÝaáeéiíoóuúyýCĆcćLĹlĺNŃnńRŔrŕSŚsśZŹzź"),
    ('\u{302}', "AÂEÊIÎOÔUÛaâeêiîoôuûCĈcĉGĜgĝHĤhĥJĴjĵSŜsŝWŴwŵYŶyŷ"),
    ('\u{303}', "AÃNÑOÕaãnñoõIĨiĩUŨuũ"),
    ('\u{304}', "AĀaāEĒeēIĪiīOŌoōUŪuū"),
    ('\u{306}', "AĂaăEĔeĕGĞgğIĬiĭOŎoŏUŬuŭ"),
    ('\u{307}', "CĊcċEĖeėGĠgġIİZŻzż"),
    ('\u{308}', "AÄEËIÏOÖUÜaäeëiïoöuüyÿYŸ"),
    ('\u{30A}', "AÅaåUŮuů"),
    ('\u{30B}', "OŐoőUŰuű"),
    ('\u{30C}', "CČcčDĎdďEĚeěNŇnňRŘrřSŠsšTŤtťZŽzž"),
    ('\u{327}', "CÇcçGĢKĶkķLĻlļNŅnņRŖrŗSŞsşTŢtţ"),
    ('\u{328}', "AĄaąEĘeęIĮiįUŲuų"),
];

fn compose(base: char, mark: char) -> Option<char> {
    let (_, pairs) = COMPOSED.iter().find(|(known, _)| *known == mark)?;
    let mut letters = pairs.chars();
    while let (Some(plain), Some(composed)) = (letters.next(), letters.next()) {
        if plain == base {
            return Some(composed);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn shown(typed: &str) -> Result<String, NameError> {
        Name::read(typed).map(|name| name.shown)
    }

    #[test]
    fn a_name_is_trimmed_and_its_blanks_are_single() {
        assert_eq!(shown("  Ilva   of\u{A0}the\u{3000}Ford "), Ok("Ilva of the Ford".to_owned()));
    }

    #[test]
    fn a_name_without_a_letter_is_refused() {
        assert_eq!(shown(" \t "), Err(NameError::Empty));
        assert_eq!(shown(""), Err(NameError::Empty));
        assert_eq!(shown("--"), Err(NameError::NoLetter));
    }

    #[test]
    fn forty_characters_are_the_most() {
        assert!(shown(&"ö".repeat(40)).is_ok());
        assert_eq!(shown(&"ö".repeat(41)), Err(NameError::TooLong(41)));
    }

    #[test]
    fn control_characters_and_escape_sequences_are_refused() {
        assert_eq!(shown("Il\u{1b}[31mva"), Err(NameError::Control('\u{1b}')));
        assert_eq!(shown("Il\nva"), Err(NameError::Control('\n')));
        assert_eq!(shown("Ilva\u{9b}2J"), Err(NameError::Control('\u{9b}')));
        assert_eq!(shown("Il\0va"), Err(NameError::Control('\0')));
    }

    #[test]
    fn characters_that_turn_the_writing_or_cannot_be_seen_are_refused() {
        for c in ['\u{202E}', '\u{2066}', '\u{200F}', '\u{061C}', '\u{200B}', '\u{FEFF}', '\u{E0041}', '\u{2028}'] {
            assert_eq!(shown(&format!("Il{c}va")), Err(NameError::Invisible(c)));
        }
    }

    #[test]
    fn an_accent_typed_in_two_strokes_is_the_same_letter() {
        assert_eq!(Name::read("Zoe\u{308} A\u{30A}s"), Name::read("Zoë Ås"));
        assert_eq!(Name::read("ZOE\u{308}").unwrap().key, Name::read("zoë").unwrap().key);
    }

    #[test]
    fn marks_need_a_letter_and_do_not_pile_up() {
        assert_eq!(shown("\u{301}a"), Err(NameError::Marks));
        assert_eq!(shown("a \u{301}b"), Err(NameError::Marks));
        assert_eq!(shown(&format!("a{}", "\u{335}".repeat(5))), Err(NameError::Marks));
        assert!(shown("สมชาย กี่").is_ok(), "vowel and tone on one letter");
    }

    #[test]
    fn case_does_not_tell_names_apart() {
        for (one, other) in [("Ilva", "iLVA"), ("Öde", "öDE"), ("Weiß", "WEISS"), ("Νίκος", "ΝΊΚΟΣ")] {
            assert_eq!(Name::read(one).unwrap().key, Name::read(other).unwrap().key);
        }
    }

    proptest! {
        #[test]
        fn whatever_is_accepted_is_accepted_again_unchanged(typed in "\\PC{0,50}") {
            if let Ok(name) = Name::read(&typed) {
                prop_assert_eq!(Name::read(&name.shown), Ok(name));
            }
        }
    }
}
