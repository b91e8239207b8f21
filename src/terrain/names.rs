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

/// Names that would come out but are not ours: they turned up when all names were once compared with a gazetteer of the
/// world (980,000 names of places of 500 people and more) and with a list of English words. Sorted.
const NOT_OURS: &[&str] = &[
    "Baldim", "Bandim", "Bandor", "Bargum", "Barrum", "Bazum", "Belmor", "Biskek", "Bizum", "Boldor", "Boldul",
    "Bozod", "Bozul", "Bozum", "Burgul", "Burgum", "Buzim", "Favor", "Ferrum", "Filmor", "Gandul", "Gandum", "Gelmim",
    "Gevim", "Gimmor", "Goldap", "Gorgor", "Gozek", "Gurgum", "Guzor", "Guzul", "Guzum", "Hardim", "Hazor", "Hendek",
    "Hezek", "Horror", "Hummum", "Huvek", "Jardim", "Javor", "Jovim", "Juvim", "Kandor", "Kavul", "Kondor", "Kovor",
    "Kulmim", "Landek", "Largul", "Lazul", "Lindum", "Livor", "Livorn", "Lovek", "Luzim", "Mandor", "Mandul", "Marrum",
    "Mazim", "Mazor", "Mazum", "Mendum", "Minvod", "Minvul", "Mirror", "Mondim", "Morrum", "Mulmul", "Mundul",
    "Murgap", "Murgul", "Navor", "Nazim", "Nazisk", "Nazix", "Novum", "Nurgul", "Perdix", "Pevek", "Pordim", "Pundum",
    "Quardor", "Razor", "Rozek", "Rozum", "Skiffek", "Targum", "Tergum", "Terror", "Thummim", "Tondod", "Tondul",
    "Tundod", "Turgor", "Valdek", "Vendor", "Verdum", "Vezul", "Vilmor", "Vivek", "Vizor", "Voldek", "Weldor",
    "Werdum", "Wirdum", "Yazor", "Yendum", "Yundum", "Zavod",
];

/// Beginnings that would make a rude or ugly name.
const NOT_NICE: &[&str] = &["Bumm", "Jizz", "Lez", "Murd", "Tard", "Turd"];

fn is_ours(name: &str) -> bool {
    NOT_OURS.binary_search(&name).is_err() && !NOT_NICE.iter().any(|start| name.starts_with(start))
}

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
            if is_ours(&name) && !self.given.contains(&name) {
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
            assert!((4..=10).contains(&name.len()), "{name}");
            let lower = name.to_lowercase();
            let hard = lower.split(|c: char| "aeiouy".contains(c)).map(str::len).max();
            assert!(hard <= Some(3), "{name} has too many consonants in a row");
        }
    }

    #[test]
    fn names_that_are_not_ours_are_never_given() {
        assert!(NOT_OURS.is_sorted());
        assert!(
            NOT_OURS.iter().all(|name| every_name().any(|ours| ours == *name)),
            "one of them cannot come out at all"
        );
        assert!(!is_ours("Mirror") && !is_ours("Turdisk") && is_ours("Quildeth"));
        let mut names = Names::new(2);
        assert!((0..3000).all(|_| is_ours(&names.next())));
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
