//! How map, baseplate and dial lie at one moment.

use super::lines::{LineName, MapLines};
use crate::angle::{Angle, Bearing, Declination, True};

/// What the needle obeys at this place today.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    /// Today's declination.
    pub declination: Declination,
    /// How far iron near the table turns the needle, clockwise positive; usually nothing.
    pub iron: Angle,
}

impl Site {
    /// Where the needle's north end points: declination and iron together.
    #[must_use]
    pub fn needle(&self) -> Bearing<True> {
        Bearing::from_angle(self.declination.angle() + self.iron)
    }
}

/// Where the compass is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// In the hand, off the map.
    Hand,
    /// On the map, on no line; near the line it last lay on, if it did.
    Free(Option<LineName>),
    /// Its edge laid on this line, exactly or within 3°.
    Along(LineName),
}

/// What is being turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Hold {
    /// The map alone.
    #[default]
    Map,
    /// The baseplate alone, its dial with it.
    Compass,
    /// Map and compass as one.
    Both,
    /// The dial on its baseplate.
    Dial,
    /// Oneself, the compass in the hand.
    Oneself,
}

impl Hold {
    /// All of them.
    pub const ALL: [Hold; 5] = [Hold::Map, Hold::Compass, Hold::Both, Hold::Dial, Hold::Oneself];

    /// In words: `the map`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Hold::Map => "the map",
            Hold::Compass => "the compass",
            Hold::Both => "map and compass",
            Hold::Dial => "the dial",
            Hold::Oneself => "yourself",
        }
    }
}

/// Where one stands to the line one walks, looking the way one walks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stands {
    /// Left of it.
    Left,
    /// On it.
    OnLine,
    /// Right of it.
    Right,
    /// It cannot be told: iron may turn the needle.
    CannotTell,
}

impl Stands {
    /// In words: `left of the line`, `cannot be told here: step away and look again`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Stands::Left => "left of the line",
            Stands::OnLine => "on the line",
            Stands::Right => "right of the line",
            Stands::CannotTell => "cannot be told here: step away and look again",
        }
    }

    /// As a place in a sentence, where a side must not be taken for a judgement: `to the right of the line`.
    #[must_use]
    pub const fn place(self) -> &'static str {
        match self {
            Stands::Left => "to the left of the line",
            Stands::Right => "to the right of the line",
            other => other.words(),
        }
    }

    /// As the end of a sentence: `you stand to the left of the line`.
    #[must_use]
    pub fn sentence(self) -> String {
        match self {
            Stands::CannotTell => format!("where you stand {}", self.place()),
            other => format!("you stand {}", other.place()),
        }
    }
}

/// What was chosen by looking.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Chosen {
    /// The landmark with this number, counted from 0.
    Landmark(u8),
    /// Where one stands to the line.
    Stands(Stands),
    /// Whether the needle is trusted.
    Trusts(bool),
}

/// How everything lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Table {
    pub(super) map: Bearing<True>,
    pub(super) baseplate: Bearing<True>,
    pub(super) place: Place,
    pub(super) dial: Angle,
    pub(super) hold: Hold,
    pub(super) chosen: Option<Chosen>,
}

impl Table {
    /// A map whose true north stands at this azimuth, a compass in the hand whose travel arrow points to that azimuth,
    /// and the number at its index line.
    #[must_use]
    pub fn new(map: Bearing<True>, baseplate: Bearing<True>, dial: Angle) -> Table {
        Table { map, baseplate, place: Place::Hand, dial: dial.wrapped(), hold: Hold::default(), chosen: None }
    }

    /// The same with the compass lying somewhere on the map, on no line.
    #[must_use]
    pub fn on_map(self) -> Table {
        Table { place: Place::Free(None), ..self }
    }

    /// The azimuth of the map's true north (μ).
    #[must_use]
    pub const fn map(&self) -> Bearing<True> {
        self.map
    }

    /// The azimuth of the travel arrow (β).
    #[must_use]
    pub const fn baseplate(&self) -> Bearing<True> {
        self.baseplate
    }

    /// Where the compass is.
    #[must_use]
    pub const fn place(&self) -> Place {
        self.place
    }

    /// The number at the index line (R), 0 to 360.
    #[must_use]
    pub const fn dial(&self) -> Angle {
        self.dial
    }

    /// What is being turned.
    #[must_use]
    pub const fn hold(&self) -> Hold {
        self.hold
    }

    /// What was chosen by looking, if anything.
    #[must_use]
    pub const fn chosen(&self) -> Option<Chosen> {
        self.chosen
    }

    /// The azimuth of the orienting arrow, which is the dial's N: β − R.
    #[must_use]
    pub fn orienting(&self) -> Bearing<True> {
        self.baseplate.turned(-self.dial)
    }

    /// The travel arrow counted from the map's true north: the bearing of the edge as the map shows it.
    #[must_use]
    pub fn arrow_on_map(&self) -> Bearing<True> {
        self.baseplate.turned(-self.map.angle())
    }

    /// Whether the compass lies on the map.
    #[must_use]
    pub const fn is_on_map(&self) -> bool {
        !matches!(self.place, Place::Hand)
    }

    /// How the edge lies to the lines of the map; see [`super::MapLines::only_near`].
    pub(super) fn lying(&self, lines: &MapLines) -> Option<super::Lying> {
        match self.place {
            Place::Hand => None,
            Place::Along(name) => lines.lying(name, self.arrow_on_map()),
            Place::Free(_) => lines.only_near(self.arrow_on_map()),
        }
    }
}
