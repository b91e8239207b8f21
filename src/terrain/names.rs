//! Names of places, of our own making.
//!
//! Two kinds, as on real maps: plain words for what stands there (`Old Mill`, `Low Ford`), and invented names of onset, vowel,
//! middle, vowel, ending. The syllables belong to no language in particular and can be said aloud; a test goes through
//! every name that can come out.
use super::draw::Draw;
use super::landmark::LandmarkKind;

const ONSETS: [&str; 16] = ["B", "Dr", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "T", "V", "W", "Y"];
const VOWELS: [&str; 5] = ["a", "e", "i", "o", "u"];
const MIDDLES: [&str; 10] = ["nd", "rr", "sk", "mm", "ld", "rg", "ff", "lm", "rd", "v"];
const ENDINGS: [&str; 8] = ["ek", "im", "od", "eth", "um", "ap", "ost", "isk"];

/// What maps call a place before the word for it.
const OLD: [&str; 14] =
    ["Old", "High", "Low", "Long", "Far", "Grey", "Cold", "Dry", "Fern", "Moss", "Birch", "Alder", "Otter", "Hazel"];
/// The most letters of a name, the space counted: what fits beside a mark.
const LONGEST: usize = 10;

/// The words for what stands there, as maps have them.
const fn words(kind: LandmarkKind) -> &'static [&'static str] {
    match kind {
        LandmarkKind::Summit => &["Knoll", "Spur", "Top", "Edge"],
        LandmarkKind::Hut => &["Hut", "Lodge", "Nook"],
        LandmarkKind::Chapel => &["Chapel", "Kirk"],
        LandmarkKind::Tower => &["Tower", "Beacon"],
        LandmarkKind::Cairn => &["Cairn", "Rigg"],
        LandmarkKind::Ruin => &["Mill", "Hall", "Kiln"],
        LandmarkKind::Farm => &["Farm", "Croft", "Fold"],
        LandmarkKind::Boulder => &["Stone", "Rock"],
        LandmarkKind::Spring => &["Well", "Head"],
        LandmarkKind::Bridge => &["Ford", "Weir", "Bridge"],
    }
}

/// Names that would come out but are not ours: they turned up when all names were once compared with a gazetteer of the
/// world (980,000 names of places of 500 people and more) and with a list of English words. Sorted.
const NOT_OURS: &[&str] = &[
    "Baldim", "Bandim", "Bargum", "Barrum", "Biskek", "Burgum", "Ferrum", "Gandum", "Gelmim", "Gevim", "Goldap",
    "Gurgum", "Hardim", "Hendek", "Hummum", "Huvek", "Jardim", "Jovim", "Juvim", "Kulmim", "Landek", "Lindum", "Lovek",
    "Marrum", "Mendum", "Mondim", "Morrum", "Murgap", "Novum", "Pevek", "Pordim", "Pundum", "Targum", "Tergum",
    "Tondod", "Tundod", "Valdek", "Verdum", "Vivek", "Voldek", "Werdum", "Wirdum", "Yendum", "Yundum",
];

/// Beginnings that would make a rude or ugly name, or the name of somebody.
const NOT_NICE: &[&str] = &["Bumm", "Gand", "Kurd", "Merd", "Murd", "Nerd", "Tard", "Turd"];

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

    /// A name for a landmark of this kind: a plain one for every third, else an invented one.
    pub(super) fn of(&mut self, kind: LandmarkKind) -> String {
        if self.draw.chance(1, 3) {
            // On a map that has used up most of them an invented name comes instead.
            for _ in 0..8 {
                let (first, words) = (self.pick(&OLD), words(kind));
                let name = format!("{first} {}", self.pick(words));
                if name.len() <= LONGEST && self.is_new(&name) {
                    self.given.push(name.clone());
                    return name;
                }
            }
        }
        self.next()
    }

    /// An invented name.
    pub(super) fn next(&mut self) -> String {
        if self.onsets.is_empty() {
            self.onsets = ONSETS.to_vec();
            self.draw.shuffle(&mut self.onsets);
        }
        let onset = self.onsets.pop().unwrap_or("B");
        loop {
            let (vowel, middle) = (self.pick(&VOWELS), self.pick(&MIDDLES));
            let name = format!("{onset}{vowel}{middle}{}", self.pick(&ENDINGS));
            if is_ours(&name) && self.is_new(&name) {
                self.given.push(name.clone());
                return name;
            }
        }
    }

    fn pick(&mut self, parts: &[&'static str]) -> &'static str {
        self.draw.pick(parts)
    }

    /// Whether no other place has this name, or one with the same first word.
    fn is_new(&self, name: &str) -> bool {
        let first = |name: &str| name.split(' ').next().map(str::to_owned);
        self.given.iter().all(|given| first(given) != first(name))
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

    /// Names of famous countries, towns and peoples, real and told of, that syllables like ours could make.
    const KNOWN: [&str; 24] = [
        "Arnor", "Berlin", "Condor", "Devon", "Dorset", "Essex", "Gondor", "Harad", "Kent", "Kerry", "London",
        "Mordor", "Morgul", "Moria", "Narnia", "Norfolk", "Rohan", "Surrey", "Sussex", "Verdun", "Vilnius", "Wessex",
        "Kandor", "Yukon",
    ];

    fn kinds_words() -> impl Iterator<Item = &'static str> {
        LandmarkKind::ALL.into_iter().flat_map(|kind| words(kind).iter().copied())
    }

    #[test]
    fn every_name_is_short_and_can_be_said_aloud() {
        for name in every_name() {
            assert!((4..=LONGEST).contains(&name.len()), "{name}");
            let lower = name.to_lowercase();
            let hard = lower.split(|c: char| "aeiouy".contains(c)).map(str::len).max();
            assert!(hard <= Some(2), "{name} has three consonants in a row");
        }
    }

    #[test]
    fn names_of_famous_places_are_never_given() {
        for name in every_name() {
            let known = KNOWN.iter().find(|known| name.to_lowercase().contains(&known.to_lowercase()));
            assert_eq!(known, None, "{name}");
            // C4-3-2154 and C4-4-1398 had a Mordor and a Gondor: no name of ours has an end like theirs.
            assert!(!name.contains("dor"), "{name}");
        }
    }

    #[test]
    fn maps_have_plain_words_beside_invented_names() {
        for word in ["Chapel", "Spur", "Weir", "Mill", "Ford"] {
            assert!(kinds_words().any(|known| known == word), "{word}");
        }
        let mut names = Names::new(3);
        let given: Vec<String> = (0..300).map(|at| names.of(LandmarkKind::ALL[at % 10])).take(12).collect();
        let plain = given.iter().filter(|name| name.contains(' ')).count();
        assert!((2..=8).contains(&plain), "{given:?}");
        for kind in LandmarkKind::ALL {
            let fits = OLD.iter().flat_map(|old| words(kind).iter().map(move |word| old.len() + 1 + word.len()));
            assert!(fits.filter(|length| *length <= LONGEST).count() >= 5, "{kind:?}");
        }
    }

    #[test]
    fn names_that_are_not_ours_are_never_given() {
        assert!(NOT_OURS.is_sorted());
        assert!(
            NOT_OURS.iter().all(|name| every_name().any(|ours| ours == *name)),
            "one of them cannot come out at all"
        );
        assert!(!is_ours("Turdisk") && is_ours("Holdeth"));
        assert!(NOT_NICE.iter().all(|start| every_name().any(|name| name.starts_with(start))), "one cannot come out");
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
        let mut starts: Vec<String> = (0..16).map(|_| names.next()[..2].to_owned()).collect();
        starts.sort_unstable();
        starts.dedup();
        assert!(starts.len() >= 16, "{starts:?}");
    }
}
