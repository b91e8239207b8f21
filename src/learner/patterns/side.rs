//! What splits items in two, and how each side is said.

/// What splits items in two. An item may have no side of a feature; then it does not count for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Feature {
    /// East or west of the angle that is applied.
    Letter,
    /// From map to compass, or back.
    Way,
    /// Whether the right sum leaves the circle.
    Wrap,
    /// Which half of the dial a bearing lies in that is turned back: in the west half, half a circle more passes north.
    Half,
    /// By hand at the map table, or a number.
    Work,
    /// Levels 3 and 4, or 1 and 2.
    Level,
}

impl Feature {
    /// The more telling first: of two that tell the same the first is said.
    pub const ALL: [Feature; 6] =
        [Feature::Letter, Feature::Way, Feature::Wrap, Feature::Half, Feature::Work, Feature::Level];

    /// Its first and its other side, as far as they are ever said.
    pub(super) const fn sides(self, applied: Applied) -> [Option<Side>; 2] {
        match self {
            Feature::Letter => [Some(Side::East(applied)), Some(Side::West(applied))],
            Feature::Way => [Some(Side::ToCompass), Some(Side::ToMap)],
            Feature::Wrap => [Some(Side::PastNorth), None],
            Feature::Half => [Some(Side::WestHalf), Some(Side::EastHalf)],
            Feature::Work => [Some(Side::ByHand), Some(Side::Number)],
            Feature::Level => [Some(Side::HigherLevels), None],
        }
    }
}

/// The angle whose letter is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Applied {
    /// The declination.
    Declination,
    /// The declination that an old map gives.
    OldDeclination,
    /// The G-M angle.
    GridMagnetic,
    /// The convergence.
    Convergence,
    /// Now this one, now that.
    Several,
}

impl Applied {
    /// What all of these are together.
    pub(super) fn of_all(mut each: impl Iterator<Item = Applied>) -> Applied {
        match each.next() {
            Some(first) if each.all(|applied| applied == first) => first,
            _ => Applied::Several,
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Applied::Declination => "the declination",
            Applied::OldDeclination => "the old declination",
            Applied::GridMagnetic => "the G-M angle",
            Applied::Convergence => "the convergence",
            Applied::Several => "the angle",
        }
    }
}

/// A side of a feature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// The angle lies east.
    East(Applied),
    /// The angle lies west.
    West(Applied),
    /// The map's bearing is given, the compass's asked.
    ToCompass,
    /// The compass's bearing is given, the map's asked.
    ToMap,
    /// The right sum leaves the circle.
    PastNorth,
    /// The bearing lies from 180 to 360.
    WestHalf,
    /// The bearing lies from 0 to 180.
    EastHalf,
    /// Worked at the map table.
    ByHand,
    /// Answered without the map table.
    Number,
    /// Levels 3 and 4.
    HigherLevels,
}

impl Side {
    /// To follow "only": `when the declination is east`.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Side::East(applied) => format!("when {} is east", applied.words()),
            Side::West(applied) => format!("when {} is west", applied.words()),
            Side::ToCompass => "from map to compass".to_owned(),
            Side::ToMap => "from compass to map".to_owned(),
            Side::PastNorth => "when the number passes north".to_owned(),
            Side::WestHalf => "in the west half of the dial".to_owned(),
            Side::EastHalf => "in the east half of the dial".to_owned(),
            Side::ByHand => "by hand at the map table".to_owned(),
            Side::Number => "without the map table".to_owned(),
            Side::HigherLevels => "at levels 3 and 4".to_owned(),
        }
    }

    /// The other side, said after this one: `when it is west`.
    #[must_use]
    pub const fn other_words(self) -> &'static str {
        match self {
            Side::East(_) => "when it is west",
            Side::West(_) => "when it is east",
            Side::ToCompass => "from compass to map",
            Side::ToMap => "from map to compass",
            Side::PastNorth => "when it does not",
            Side::WestHalf => "in the east half",
            Side::EastHalf => "in the west half",
            Side::ByHand => "without it",
            Side::Number => "at the table",
            Side::HigherLevels => "at levels 1 and 2",
        }
    }
}
