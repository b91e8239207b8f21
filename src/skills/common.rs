//! What several skills share: drawing and printing in whole tenths, wording of sums, mix-ups with one formula in many skills.
//!
//! What counts from a north has that north in its type ([`Bearing`], [`Offset`]), and right answers between norths come from
//! `Bearing::to` alone. Numbers that count from no north (ticks of a dial, sizes of turns, what is drawn at random) and
//! the sums in texts are whole tenths of a degree. Wrong answers leave the types openly: that is what is wrong with them.

use crate::angle::{
    Angle, Bearing, ConversionRule, EastWest, North, NorthKind, Offset, declination_words, write_digits,
};
pub(super) use crate::problem::NOT_WRAPPED;
use crate::problem::{Answer, MixupClass, MixupId, MixupMeta, Value};
use std::fmt::{self, Display, Write};

/// Tenths of a degree.
pub(super) type Tenths = i32;

/// What can be printed in tenths of a degree.
pub(super) trait InTenths: Copy {
    /// Whole tenths of a degree; clockwise and east are positive.
    fn in_tenths(self) -> Tenths;
}

impl InTenths for Tenths {
    fn in_tenths(self) -> Tenths {
        self
    }
}

impl InTenths for Angle {
    fn in_tenths(self) -> Tenths {
        tenths(self)
    }
}

impl<N: NorthKind> InTenths for Bearing<N> {
    fn in_tenths(self) -> Tenths {
        tenths(self.angle())
    }
}

impl<A: NorthKind, B: NorthKind> InTenths for Offset<A, B> {
    fn in_tenths(self) -> Tenths {
        tenths(self.angle())
    }
}

/// A bearing from tenths.
pub(super) fn bearing_of<N: NorthKind>(tenths: Tenths) -> Bearing<N> {
    Bearing::from_angle(angle(tenths))
}

/// An offset between two norths from tenths, east positive.
pub(super) fn offset_of<A: NorthKind, B: NorthKind>(tenths: Tenths) -> Offset<A, B> {
    Offset::from_angle(angle(tenths))
}

/// The full circle in tenths.
pub(super) const CIRCLE: Tenths = 3600;

/// Brought into 0 to 359.9.
pub(super) const fn wrap(tenths: Tenths) -> Tenths {
    tenths.rem_euclid(CIRCLE)
}

/// An angle from tenths.
pub(super) fn angle(tenths: Tenths) -> Angle {
    Angle::from_tenths(tenths)
}

/// Tenths from an angle, rounded.
pub(super) fn tenths(angle: Angle) -> Tenths {
    angle.tenths()
}

/// The wrapped answer to a single field.
pub(super) fn answer(tenths: Tenths) -> Answer {
    Answer::one(Value::Angle(angle(wrap(tenths))))
}

/// The answer to a single field as it stands, not wrapped.
pub(super) fn unwrapped_answer(tenths: Tenths) -> Answer {
    Answer::one(Value::Angle(angle(tenths)))
}

/// Three figures of a number on the circle or off it: `048`, `006.5`, `372`, `−11`.
pub(super) fn figures(number: impl InTenths) -> impl Display {
    fmt::from_fn(move |out| write_figures(out, number.in_tenths()))
}

/// [`figures`], without what a `format!` in a `format!` costs.
pub(super) fn write_figures(out: &mut impl Write, tenths: Tenths) -> fmt::Result {
    if tenths < 0 {
        out.write_str("−")?;
        return write_size(out, tenths);
    }
    write_digits(out, u64::from(tenths.unsigned_abs() / 10), 3)?;
    write_decimal(out, tenths)
}

/// [`size`], likewise.
pub(super) fn write_size(out: &mut impl Write, tenths: Tenths) -> fmt::Result {
    write_digits(out, u64::from(tenths.unsigned_abs() / 10), 1)?;
    write_decimal(out, tenths)
}

/// The size of an angle: `17`, `6.5`.
pub(super) fn size(number: impl InTenths) -> impl Display {
    fmt::from_fn(move |out| write_size(out, number.in_tenths()))
}

/// What stands behind the whole degrees: `.5`, and nothing for no tenths.
fn write_decimal(out: &mut impl Write, tenths: Tenths) -> fmt::Result {
    match tenths.unsigned_abs() as usize % 10 {
        0 => Ok(()),
        tenth => out.write_str([".1", ".2", ".3", ".4", ".5", ".6", ".7", ".8", ".9"][tenth - 1]),
    }
}

/// Three figures, degree sign and the north's letter: `065° M`.
pub(super) fn bearing(number: impl InTenths, north: North) -> impl Display {
    fmt::from_fn(move |out| {
        write_figures(out, wrap(number.in_tenths()))?;
        out.write_str("° ")?;
        out.write_char(north.letter())
    })
}

/// An angle with its letter as the map prints it: `17° W`, `6°30′ E`.
pub(super) fn east_west(offset: impl InTenths) -> impl Display {
    declination_words(angle(offset.in_tenths()))
}

/// Whether an angle between norths, in tenths as it is shown, is so small that right and wrong hardly differ: under 2°.
pub(super) fn hardly_differs(shown: impl InTenths) -> bool {
    shown.in_tenths().abs() < 20
}

/// `east` or `west`.
pub(super) fn side_word(offset: impl InTenths) -> &'static str {
    EastWest::of(angle(offset.in_tenths())).unwrap_or(EastWest::East).word()
}

/// `048 + 17 = 065`: a number on the circle, a signed change, and what comes out, not wrapped.
pub(super) fn bare_sum(from: Tenths, change: Tenths) -> impl Display {
    fmt::from_fn(move |out| write_bare_sum(out, from, change))
}

fn write_bare_sum(out: &mut impl Write, from: Tenths, change: Tenths) -> fmt::Result {
    write_figures(out, from)?;
    out.write_str(if change < 0 { " − " } else { " + " })?;
    write_size(out, change)?;
    out.write_str(" = ")?;
    write_figures(out, from + change)
}

/// `048 + 17 = 065`, and where that leaves the circle also how it comes back: `350 + 17 = 367, 367 − 360 = 007`.
pub(super) fn sum(from: Tenths, change: Tenths) -> impl Display {
    let off = from + change;
    fmt::from_fn(move |out| {
        write_bare_sum(out, from, change)?;
        if wrap(off) == off {
            return Ok(());
        }
        out.write_str(", ")?;
        write_bare_sum(out, off, wrap(off) - off)
    })
}

/// The step that brings a number back onto the circle.
pub(super) const fn wrap_words(off: Tenths) -> &'static str {
    if off < 0 {
        "Once round is 360 and leads to the same direction. Below zero: add 360"
    } else {
        "Once round is 360 and leads to the same direction. Past north: take off 360"
    }
}

/// The correction turned round: one formula, whether the learner always adds, always subtracts or swapped E and W.
pub(super) const SIGN_FLIPPED: MixupMeta = MixupMeta {
    id: MixupId("sign-flipped"),
    class: MixupClass::Sign,
    said: "applied the correction the wrong way round",
    mend: "Sketch the two norths: from the one further clockwise you count less far, so its number is smaller.",
};

/// The correction left out.
pub(super) const NOT_APPLIED: MixupMeta = MixupMeta {
    id: MixupId("not-applied"),
    class: MixupClass::Forgotten,
    said: "left the number as it was, without the correction",
    mend: "Map and compass count from different norths, so the angle between them comes in each time, once.",
};

/// The correction made twice.
pub(super) const APPLIED_TWICE: MixupMeta = MixupMeta {
    id: MixupId("applied-twice"),
    class: MixupClass::Twice,
    said: "applied the correction twice",
    mend: "Correct once, then stop.",
};

/// The opposite direction.
pub(super) const WRONG_END: MixupMeta = MixupMeta {
    id: MixupId("wrong-end"),
    class: MixupClass::Reversed,
    said: "took the opposite end, 180° away",
    mend: "Check which quarter it must lie in before trusting a number.",
};

/// Why and how a bearing changes between a map's lines of this north and the compass, the reason first: `Magnetic north lies
/// counterclockwise of true north, so the compass counts further: from map to compass, west is added`. `between` is how far magnetic
/// north lies clockwise of that north.
pub(super) fn change_words(lines: North, between: Tenths, to_compass: bool) -> String {
    let (from, to, east, way) = match to_compass {
        true => (lines, North::Magnetic, between, "map to compass"),
        false => (North::Magnetic, lines, -between, "compass to map"),
    };
    let rule = ConversionRule { from, to, east: angle(east) };
    // Room for it and for what a step says behind it.
    let mut out = String::with_capacity(192);
    // Writing to a `String` never fails.
    let _ = match rule.reason() {
        Some(reason) => write!(out, "{reason}: from {way}, {} is {}", side_word(between), rule.done()),
        None => write!(out, "Both norths lie together here: from {way}, nothing changes"),
    };
    out
}
