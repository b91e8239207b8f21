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
    /// The paper of a map: a ground.
    Sheet,
    /// The floor of a compass under its needle: a ground.
    Capsule,
    /// Heights: contour lines.
    Relief,
    /// Woods.
    Woods,
    /// Water.
    Water,
    /// Roads, paths, buildings, and all else that people made.
    Works,
    /// The border of a map.
    Border,
    /// The quiet parts of the compass: rim, ticks, baseplate.
    Plate,
    /// What is written, and lines of the same weight.
    Text,
    /// Where one goes: index line and travel arrow.
    Compass,
    /// The orienting arrow, which the needle is brought into.
    Orienting,
    /// Grid north and the grid lines.
    GridNorth,
    /// True north and the meridians.
    TrueNorth,
    /// Magnetic north.
    MagneticNorth,
    /// The working edge of the baseplate, which is laid along a line.
    Edge,
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
    pub const ALL: [Ink; 20] = [
        Ink::Faint,
        Ink::Sheet,
        Ink::Capsule,
        Ink::Relief,
        Ink::Woods,
        Ink::Water,
        Ink::Works,
        Ink::Border,
        Ink::Plate,
        Ink::Text,
        Ink::Compass,
        Ink::Orienting,
        Ink::GridNorth,
        Ink::TrueNorth,
        Ink::MagneticNorth,
        Ink::Edge,
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
    /// Long strokes with a dot between them.
    DashDot,
    /// Strokes with gaps nearly as wide as they are.
    Sparse,
    /// Single dots.
    Dotted,
    /// Every other dot: a line that stays in the background and still runs on.
    Fine,
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
