//! The letters of printed pages: Noto Sans, cut to what is written when the program is built (`build.rs`).

/// A font cut to some letters. Lengths are in thousandths of the size of the type.
pub(super) struct Cut {
    /// Its name in the file.
    pub name: &'static str,
    /// The font, deflated.
    pub file: &'static [u8],
    /// How long it is when inflated, in bytes.
    pub length: i32,
    /// Its letters in their order: code point, glyph, how far it goes.
    glyphs: &'static [(u16, u16, u16)],
    /// The box around all letters: left, bottom, right, top.
    pub bounds: [i16; 4],
    /// How far letters reach up.
    pub ascent: i16,
    /// How far they reach down, negative.
    pub descent: i16,
    /// How high capital letters are.
    pub cap_height: i16,
}

include!(concat!(env!("OUT_DIR"), "/font.rs"));

/// All cuts: regular, bold, and the letters of other tongues.
pub(super) static CUTS: [&Cut; 3] = [&REGULAR, &BOLD, &MORE];
/// The cut with the letters of other tongues: for both weights.
const OTHER: usize = 2;

/// What stands for a letter that the font does not have.
pub(super) const REPLACEMENT: char = '□';

/// A letter as it is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Glyph {
    /// The place of its cut in [`CUTS`].
    pub cut: usize,
    /// Its number in the cut.
    pub id: u16,
    /// How far it goes, in thousandths of the size.
    advance: u16,
}

impl Cut {
    fn find(&self, letter: char) -> Option<(u16, u16)> {
        let code = u16::try_from(u32::from(letter)).ok()?;
        let at = self.glyphs.binary_search_by_key(&code, |&(code, ..)| code).ok()?;
        let (_, id, advance) = self.glyphs[at];
        Some((id, advance))
    }

    /// Each letter with its glyph and how far it goes; a glyph may stand for several letters.
    pub fn letters(&self) -> impl Iterator<Item = (char, u16, u16)> {
        self.glyphs.iter().filter_map(|&(code, id, advance)| Some((char::from_u32(u32::from(code))?, id, advance)))
    }
}

/// The glyph of a letter; none when the font does not have it.
fn known(letter: char, strong: bool) -> Option<Glyph> {
    [usize::from(strong), OTHER].into_iter().find_map(|cut| {
        let (id, advance) = CUTS[cut].find(letter)?;
        Some(Glyph { cut, id, advance })
    })
}

/// Whether the font has a letter.
pub(super) fn has(letter: char) -> bool {
    known(letter, false).is_some()
}

/// The glyph of a letter, or that of [`REPLACEMENT`].
pub(super) fn glyph(letter: char, strong: bool) -> Glyph {
    known(letter, strong).or_else(|| known(REPLACEMENT, strong)).unwrap_or(Glyph { cut: 0, id: 0, advance: 600 })
}

/// How wide a text is, in mm, in type of this size.
pub(super) fn width_mm(text: &str, strong: bool, size_mm: f64) -> f64 {
    let advance: u32 = text.chars().map(|letter| u32::from(glyph(letter, strong).advance)).sum();
    f64::from(advance) / 1000.0 * size_mm
}

/// Half the height of a capital letter in type of this size, in mm: how far the middle of a line stands above its foot.
pub(super) fn half_capital_mm(size_mm: f64) -> f64 {
    f64::from(REGULAR.cap_height) / 2000.0 * size_mm
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_of_the_trade_has_a_letter_of_its_own_in_both_weights() {
        for letter in ('!'..='~').chain("°′″·→←↑↓–—…×±½¼¾≥≤□○−√ÄÖÜäöüßéèñçøåÆ".chars())
        {
            for strong in [false, true] {
                let found = known(letter, strong).unwrap_or_else(|| panic!("{letter} is missing"));
                assert_eq!(found.cut, usize::from(strong), "{letter}");
                assert!(found.id > 0 && found.advance > 100, "{letter}");
            }
        }
    }

    #[test]
    fn names_of_other_tongues_are_written_and_what_is_missing_is_replaced() {
        assert!("Łukasz Ősz Ştefan Ελένη Ольга Ґ".chars().all(has));
        assert!(!has('中') && !has('\u{7}'));
        assert_eq!(glyph('中', true), glyph(REPLACEMENT, true));
    }

    #[test]
    fn a_text_is_as_wide_as_its_letters() {
        // Digits of this font are all as wide, 572 thousandths.
        assert!((width_mm("065", false, 10.0) - 17.16).abs() < 1e-9);
        assert!((width_mm("ab", false, 4.0) - width_mm("a", false, 4.0) - width_mm("b", false, 4.0)).abs() < 1e-12);
        assert!(width_mm("W", true, 4.0) > width_mm("W", false, 4.0));
    }
}
