//! The tables and keys of the file.

use crate::textfile::{FileKey, Shape};

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
    #[must_use]
    pub const fn keys(self) -> &'static [Key] {
        match self {
            Table::Home => &[Key::Name, Key::Place, Key::HeightM, Key::Lines],
            Table::Map => &[Key::Declination, Key::GmAngle, Key::Year, Key::Date, Key::AnnualChange],
            Table::Screen => &[Key::Theme],
        }
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
    /// The table it stands in.
    #[must_use]
    pub const fn table(self) -> Table {
        match self {
            Key::Name | Key::Place | Key::HeightM | Key::Lines => Table::Home,
            Key::Declination | Key::GmAngle | Key::Year | Key::Date | Key::AnnualChange => Table::Map,
            Key::Theme => Table::Screen,
        }
    }
}

impl FileKey for Key {
    /// In the order of the file.
    const ALL: &'static [Key] = &[
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
    const USUAL: Key = Key::Place;
    const REPEATED: Option<(Key, Key)> = None;

    fn word(self) -> &'static str {
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

    fn wants(self) -> &'static str {
        match self {
            Key::Name | Key::Theme => "text in quotation marks",
            Key::Place => "a place in quotation marks",
            Key::HeightM => "a bare number of metres",
            Key::Lines => "a list of words in quotation marks",
            Key::Declination | Key::GmAngle => "an angle with E or W, in quotation marks",
            Key::Year => "a bare year",
            Key::Date => "a day",
            Key::AnnualChange => "minutes with E or W, in quotation marks",
        }
    }

    fn example(self) -> &'static str {
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

    fn shape(self) -> Shape {
        match self {
            Key::HeightM | Key::Year => Shape::Number,
            Key::Lines => Shape::List,
            Key::Date => Shape::Day,
            _ => Shape::Text,
        }
    }

    fn place(self) -> &'static str {
        match self.table() {
            Table::Home => "below [home]",
            Table::Map => "below [map]",
            Table::Screen => "below [screen]",
        }
    }

    fn moved(self) -> &'static str {
        self.place()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_table_has_its_keys_and_every_example_is_its_own() {
        let listed: Vec<Key> = Table::ALL.into_iter().flat_map(Table::keys).copied().collect();
        assert_eq!(listed, Key::ALL);
        for table in Table::ALL {
            assert!(table.keys().iter().all(|key| key.table() == table));
        }
        for key in Key::ALL {
            assert!(key.example().starts_with(&format!("{} = ", key.word())));
        }
    }
}
