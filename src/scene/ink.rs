//! What a line is, instead of what colour it has.

/// The role of what is drawn. A theme gives each role its colour; the scene never does.
///
/// The order is the order of importance, lowest first: where several roles meet in one terminal cell, which can show
/// one colour only, the cell takes the colour of the highest ([`Ink::rank`]), while the dots of all of them stay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
pub enum Ink {
    /// Helping lines that must stay in the background.
    Faint,
    /// Heights: contour lines.
    Relief,
    /// Woods.
    Woods,
    /// Water.
    Water,
    /// Roads, paths, buildings, and all else that people made.
    Works,
    /// The quiet parts of the compass: rim, ticks, edge of the baseplate.
    Plate,
    /// What is written, and lines of the same weight.
    Text,
    /// The parts of the compass that one looks at: index line, travel arrow, orienting arrow.
    Compass,
    /// Grid north and the grid lines.
    GridNorth,
    /// True north and the meridians.
    TrueNorth,
    /// Magnetic north.
    MagneticNorth,
    /// The south half of the needle.
    NeedleSouth,
    /// The north half of the needle.
    NeedleNorth,
    /// What the learner answered or drew.
    LearnerLine,
    /// What is right.
    RightLine,
}

impl Ink {
    /// Every role, lowest first.
    #[cfg(test)]
    pub const ALL: [Ink; 15] = [
        Ink::Faint,
        Ink::Relief,
        Ink::Woods,
        Ink::Water,
        Ink::Works,
        Ink::Plate,
        Ink::Text,
        Ink::Compass,
        Ink::GridNorth,
        Ink::TrueNorth,
        Ink::MagneticNorth,
        Ink::NeedleSouth,
        Ink::NeedleNorth,
        Ink::LearnerLine,
        Ink::RightLine,
    ];

    /// Importance, 0 lowest: which role colours a cell that several share.
    #[must_use]
    pub const fn rank(self) -> u8 {
        self as u8
    }
}

/// How thick a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Weight {
    /// 0.25 mm: the thinnest line a canvas can show.
    #[default]
    Thin,
    /// 0.7 mm: clearly thicker than [`Weight::Thin`].
    Bold,
}

impl Weight {
    /// The width in mm, for canvases that can draw true widths.
    #[must_use]
    pub const fn mm(self) -> f64 {
        match self {
            Weight::Thin => 0.25,
            Weight::Bold => 0.7,
        }
    }
}

/// How a line is broken up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Dash {
    /// Unbroken.
    #[default]
    Solid,
    /// Strokes with gaps.
    Dashed,
    /// Single dots.
    Dotted,
}

/// How loud a label is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Emphasis {
    /// As the rest.
    #[default]
    Plain,
    /// Bold where the canvas can.
    Strong,
    /// Held back where the canvas can.
    Quiet,
}
