//! Names of places, of our own making.
//!
//! A name is onset, vowel, middle, vowel, ending. The syllables are invented and belong to no language in particular; a
//! test goes through every name that can come out.
use super::draw::Draw;

const ONSETS: [&str; 20] =
    ["B", "Dr", "F", "G", "H", "J", "K", "L", "M", "N", "P", "Qu", "R", "Sk", "T", "V", "W", "Y", "Z", "Th"];
const VOWELS: [&str; 5] = ["a", "e", "i", "o", "u"];
const MIDDLES: [&str; 14] = ["lv", "nd", "rr", "sk", "mm", "zz", "ld", "nv", "rg", "ff", "lm", "rd", "v", "z"];
const ENDINGS: [&str; 12] = ["ek", "im", "od", "ul", "orn", "eth", "ix", "um", "ap", "ost", "isk", "or"];

/// The longest name, in letters.
pub(super) const LONGEST: usize = 10;

/// Gives out names that never repeat on a map and begin with different letters as long as there are letters.
pub(super) struct Names {
    draw: Draw,
    onsets: Vec<&'static str>,
    given: Vec<String>,
}

impl Names {
    pub(super) fn new(seed: u64) -> Names {
        Names { draw: Draw::new("names", seed), onsets: Vec::new(), given: Vec::new() }
    }

    pub(super) fn next(&mut self) -> String {
        if self.onsets.is_empty() {
            self.onsets = ONSETS.to_vec();
            self.draw.shuffle(&mut self.onsets);
        }
        let onset = self.onsets.pop().unwrap_or("B");
        loop {
            let mut pick = |parts: &[&'static str]| parts[self.draw.below(parts.len() as u32) as usize];
            let name = format!("{onset}{}{}{}", pick(&VOWELS), pick(&MIDDLES), pick(&ENDINGS));
            if !self.given.contains(&name) {
                self.given.push(name.clone());
                return name;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn every_name() -> impl Iterator<Item = String> {
        ONSETS.iter().flat_map(|onset| {
            VOWELS.iter().flat_map(move |vowel| {
                MIDDLES
                    .iter()
                    .flat_map(move |middle| ENDINGS.iter().map(move |ending| format!("{onset}{vowel}{middle}{ending}")))
            })
        })
    }

    #[test]
    fn every_name_is_short_and_can_be_spoken() {
        for name in every_name() {
            assert!((4..=LONGEST).contains(&name.len()), "{name}");
            let lower = name.to_lowercase();
            let hard = lower.split(|c: char| "aeiouy".contains(c)).map(str::len).max();
            assert!(hard <= Some(3), "{name} has too many consonants in a row");
        }
    }

    #[test]
    fn names_never_repeat_however_many_are_asked_for() {
        let mut names = Names::new(5);
        let mut given: Vec<String> = (0..300).map(|_| names.next()).collect();
        given.sort_unstable();
        given.dedup();
        assert_eq!(given.len(), 300);
    }

    #[test]
    fn the_first_names_of_a_map_begin_with_different_syllables() {
        let mut names = Names::new(8);
        let mut starts: Vec<String> = (0..18).map(|_| names.next()[..2].to_owned()).collect();
        starts.sort_unstable();
        starts.dedup();
        assert!(starts.len() >= 17, "{starts:?}");
    }
}
