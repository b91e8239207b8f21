//! What several skills share: drawing and printing in whole tenths, wording of sums, mix-ups with one formula in many skills.
//!
//! What counts from a north has that north in its type ([`Bearing`], [`Offset`]), and right answers between norths come from
//! `Bearing::to` alone. Numbers that count from no north (ticks of a dial, sizes of turns, what is drawn at random) and
//! the sums in texts are whole tenths of a degree. Wrong answers leave the types openly: that is what is wrong with them.

use crate::angle::{Angle, Bearing, EastWest, North, NorthKind, Offset, push_declination_words};
pub(super) use crate::problem::NOT_WRAPPED;
use crate::problem::{Answer, MixupClass, MixupId, MixupMeta, Value};

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

/// Appends three figures of a number on the circle or off it: `048`, `006.5`, `372`, `−11`.
pub(super) fn push_figures(out: &mut String, number: impl InTenths) {
    let tenths = number.in_tenths();
    let size = tenths.unsigned_abs();
    if tenths < 0 {
        out.push('−');
        push_number(out, size / 10);
    } else {
        for threshold in [1000, 100] {
            if size < threshold {
                out.push('0');
            }
        }
        push_number(out, size / 10);
    }
    push_tenth(out, size % 10);
}

/// Appends the size of an angle: `17`, `6.5`.
pub(super) fn push_size(out: &mut String, number: impl InTenths) {
    let size = number.in_tenths().unsigned_abs();
    push_number(out, size / 10);
    push_tenth(out, size % 10);
}

fn push_tenth(out: &mut String, tenth: u32) {
    if tenth != 0 {
        out.push('.');
        push_number(out, tenth);
    }
}

/// Appends a whole number.
pub(super) fn push_number(out: &mut String, number: u32) {
    if number >= 10 {
        push_number(out, number / 10);
    }
    out.push(char::from(b'0' + (number % 10) as u8));
}

/// Three figures.
pub(super) fn figures(number: impl InTenths) -> String {
    let mut out = String::with_capacity(8);
    push_figures(&mut out, number);
    out
}

/// Three figures, degree sign and the north's letter: `065° M`.
pub(super) fn bearing(number: impl InTenths, north: North) -> String {
    let mut out = String::with_capacity(12);
    push_bearing(&mut out, number, north);
    out
}

/// Appends three figures, degree sign and the north's letter.
pub(super) fn push_bearing(out: &mut String, number: impl InTenths, north: North) {
    push_figures(out, wrap(number.in_tenths()));
    out.push_str("° ");
    out.push(north.letter());
}

/// Appends an angle with its letter as the map prints it: `17° W`, `6°30′ E`.
pub(super) fn push_east_west(out: &mut String, offset: impl InTenths) {
    push_declination_words(out, angle(offset.in_tenths()));
}

/// Whether an angle between norths, in tenths as it is shown, is so small that right and wrong hardly differ: under 2°.
pub(super) fn hardly_differs(shown: impl InTenths) -> bool {
    shown.in_tenths().abs() < 20
}

/// `east` or `west`.
pub(super) fn side_word(offset: impl InTenths) -> &'static str {
    EastWest::of(angle(offset.in_tenths())).unwrap_or(EastWest::East).word()
}

/// Appends `048 + 17 = 065`: a number on the circle, a signed change, and what comes out, not wrapped.
pub(super) fn push_sum(out: &mut String, from: Tenths, change: Tenths) {
    push_figures(out, from);
    out.push_str(if change < 0 { " − " } else { " + " });
    push_size(out, change);
    out.push_str(" = ");
    push_figures(out, from + change);
}

/// `048 + 17 = 065`, not wrapped.
pub(super) fn bare_sum(from: Tenths, change: Tenths) -> String {
    let mut out = String::with_capacity(24);
    push_sum(&mut out, from, change);
    out
}

/// `048 + 17 = 065`, and where that leaves the circle also how it comes back: `350 + 17 = 367, 367 − 360 = 007`.
pub(super) fn sum(from: Tenths, change: Tenths) -> String {
    let mut out = String::with_capacity(40);
    push_sum(&mut out, from, change);
    let off = from + change;
    if wrap(off) != off {
        out.push_str(", ");
        push_sum(&mut out, off, wrap(off) - off);
    }
    out
}

/// The step that brings a number back onto the circle.
pub(super) const fn wrap_words(off: Tenths) -> &'static str {
    if off < 0 { "Below zero: add 360" } else { "Past north: take off 360" }
}

/// The correction turned round: one formula, whether the learner always adds, always subtracts or swapped E and W.
pub(super) const SIGN_FLIPPED: MixupMeta = MixupMeta {
    id: MixupId("sign-flipped"),
    class: MixupClass::Sign,
    said: "applied the correction the wrong way round",
    mend: "Sketch the two norths: the one further clockwise gives the smaller number.",
};

/// The correction left out.
pub(super) const NOT_APPLIED: MixupMeta = MixupMeta {
    id: MixupId("not-applied"),
    class: MixupClass::Forgotten,
    said: "left the number as it was, without the correction",
    mend: "Between map and compass the angle between the norths always comes in once.",
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
