//! The tables and keys of the file.

/// A table of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Table {
    /// `[home]`
    Home,
    /// `[map]`
    Map,
    /// `[screen]`
    Screen,
}

impl Table {
    /// All of them, in the order of the file.
    pub const ALL: [Table; 3] = [Table::Home, Table::Map, Table::Screen];

    /// As it is written, without brackets.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Table::Home => "home",
            Table::Map => "map",
            Table::Screen => "screen",
        }
    }

    /// Its keys.
    pub fn keys(self) -> impl Iterator<Item = Key> {
        Key::ALL.into_iter().filter(move |key| key.table() == self)
    }
}

/// A key of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Key {
    /// What the leader calls the ground.
    Name,
    /// Where it is.
    Place,
    /// Its height in metres.
    HeightM,
    /// The north lines of the maps.
    Lines,
    /// The printed declination.
    Declination,
    /// The printed G-M angle.
    GmAngle,
    /// The year of both.
    Year,
    /// The day of both.
    Date,
    /// Their yearly change.
    AnnualChange,
    /// The theme of the screen.
    Theme,
}

impl Key {
    /// All of them, in the order of the file.
    pub const ALL: [Key; 10] = [
        Key::Name,
        Key::Place,
        Key::HeightM,
        Key::Lines,
        Key::Declination,
        Key::GmAngle,
        Key::Year,
        Key::Date,
        Key::AnnualChange,
        Key::Theme,
    ];

    /// The table it stands in.
    #[must_use]
    pub const fn table(self) -> Table {
        match self {
            Key::Name | Key::Place | Key::HeightM | Key::Lines => Table::Home,
            Key::Declination | Key::GmAngle | Key::Year | Key::Date | Key::AnnualChange => Table::Map,
            Key::Theme => Table::Screen,
        }
    }

    /// As it is written.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Key::Name => "name",
            Key::Place => "place",
            Key::HeightM => "height_m",
            Key::Lines => "lines",
            Key::Declination => "declination",
            Key::GmAngle => "gm_angle",
            Key::Year => "year",
            Key::Date => "date",
            Key::AnnualChange => "annual_change",
            Key::Theme => "theme",
        }
    }

    /// What kind of value it wants.
    #[must_use]
    pub const fn wants(self) -> &'static str {
        match self {
            Key::Name | Key::Theme => "a text in quotation marks",
            Key::Place => "a place in quotation marks",
            Key::HeightM => "a bare number of metres",
            Key::Lines => "a list in brackets",
            Key::Declination | Key::GmAngle => "an angle with E or W, in quotation marks",
            Key::Year => "a bare year",
            Key::Date => "a day",
            Key::AnnualChange => "minutes with E or W, in quotation marks",
        }
    }

    /// A line that is right.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Key::Name => "name = \"Hut meadow\"",
            Key::Place => "place = \"47.5, 11.25\"",
            Key::HeightM => "height_m = 900",
            Key::Lines => "lines = [\"magnetic\", \"true\", \"grid\"]",
            Key::Declination => "declination = \"3°30′ W\"",
            Key::GmAngle => "gm_angle = \"2°45′ W\"",
            Key::Year => "year = 2019",
            Key::Date => "date = 2019-07-01",
            Key::AnnualChange => "annual_change = \"9′ E\"",
            Key::Theme => "theme = \"dark\"",
        }
    }
}

/// The known word nearest to a written one, if it is near enough to be meant.
pub(super) fn nearest<'a>(written: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let written: Vec<char> = written.trim().chars().take(40).flat_map(char::to_lowercase).collect();
    known
        .filter_map(|word| {
            let word_chars: Vec<char> = word.chars().collect();
            let steps = steps_between(&written, &word_chars);
            // A third of the letters may be wrong.
            (steps <= written.len().max(word_chars.len()) / 3).then_some((steps, word))
        })
        .min_by_key(|(steps, _)| *steps)
        .map(|(_, word)| word)
}

/// Letters to put in, take out, change, or swap with their neighbour.
fn steps_between(a: &[char], b: &[char]) -> usize {
    let mut above: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for i in 0..a.len() {
        let mut next = vec![i + 1];
        for j in 0..b.len() {
            let changed = row[j] + usize::from(a[i] != b[j]);
            let mut steps = changed.min(row[j + 1] + 1).min(next[j] + 1);
            if i > 0 && j > 0 && a[i] == b[j - 1] && a[i - 1] == b[j] {
                steps = steps.min(above[j - 1] + 1);
            }
            next.push(steps);
        }
        above = std::mem::replace(&mut row, next);
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(written: &str) -> Option<&'static str> {
        nearest(written, Key::ALL.into_iter().map(Key::word))
    }

    #[test]
    fn a_slip_of_the_finger_finds_its_word() {
        assert_eq!(near("plase"), Some("place"));
        assert_eq!(near("Declinaton"), Some("declination"));
        assert_eq!(near("heigth_m"), Some("height_m"));
        assert_eq!(near("gm-angle"), Some("gm_angle"));
    }

    #[test]
    fn nothing_is_suggested_for_what_is_far_from_everything() {
        for far in ["", "cooking", "x", "speed_of_the_river"] {
            assert_eq!(near(far), None, "{far}");
        }
    }

    #[test]
    fn the_steps_are_counted_as_by_hand() {
        let steps = |a: &str, b: &str| steps_between(&a.chars().collect::<Vec<_>>(), &b.chars().collect::<Vec<_>>());
        assert_eq!(steps("", "abc"), 3);
        assert_eq!(steps("abc", ""), 3);
        assert_eq!(steps("north", "north"), 0);
        assert_eq!(steps("compass", "campus"), 3);
        assert_eq!(steps("grid", "gird"), 1);
        assert_eq!(steps("grid", "girds"), 2);
    }

    #[test]
    fn every_table_has_its_keys_and_every_example_is_its_own() {
        assert_eq!(Table::ALL.into_iter().flat_map(Table::keys).collect::<Vec<_>>(), Key::ALL);
        for key in Key::ALL {
            assert!(key.example().starts_with(&format!("{} = ", key.word())));
        }
    }
}
