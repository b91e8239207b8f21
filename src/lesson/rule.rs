//! Which number is bigger and why, and the day's rule: what home ground's declination does to every bearing.

use super::figure::spoken;
use crate::angle::{Angle, Declination, North, degrees_minutes};
use crate::numbers::whole;

/// What follows from the side on which a north lies, seen from the north that is counted from first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Reason {
    /// `to the left`
    pub lies: &'static str,
    /// `(west)`
    pub side: &'static str,
    /// `you count further`
    pub count: &'static str,
    /// `bigger`
    pub number: &'static str,
}

/// The reason where the other north lies so many degrees clockwise; none where both are one.
pub(super) const fn reason(clockwise: i32) -> Option<Reason> {
    match clockwise {
        0 => None,
        ..0 => Some(Reason { lies: "to the left", side: "(west)", count: "you count further", number: "bigger" }),
        _ => Some(Reason { lies: "to the right", side: "(east)", count: "you count less far", number: "smaller" }),
    }
}

/// The rule for lines that show true north, there and back: `Map to compass here: add 9 (8°44′, rounded), since magnetic north
/// lies to the left and you count further. So 048° T is 057° M. Compass to map: take off 9.` The declination is rounded to
/// whole degrees, as a dial is set; `example` is a true bearing in whole degrees, any number.
#[must_use]
pub fn days_rule(declination: Declination, example: i32) -> String {
    let east = whole_degrees(declination.angle());
    let Some(Reason { lies, count, .. }) = reason(east) else {
        return "Map to compass here: nothing to add, since both norths lie together here, to the nearest degree."
            .to_owned();
    };
    let (there, back) = if east < 0 { ("add", "take off") } else { ("take off", "add") };
    let minutes = declination.angle().rounded_to(Angle::from_minutes(1.0)).abs();
    let size = east.abs();
    let rounded = if minutes == Angle::from_degrees(f64::from(size)) {
        String::new()
    } else {
        format!(" ({}, rounded)", degrees_minutes(minutes))
    };
    let (map, compass) = (spoken(example, North::True), spoken(example - east, North::Magnetic));
    format!(
        "Map to compass here: {there} {size}{rounded}, since magnetic north lies {lies} and {count}. So {map} is {compass}. Compass to map: {back} {size}."
    )
}

/// The nearest whole degree.
#[must_use]
pub fn whole_degrees(angle: Angle) -> i32 {
    whole(angle.degrees().round())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_has_its_reason_and_an_example_of_the_day() {
        let rule = |east| days_rule(Declination::from_degrees(east), 48);
        assert_eq!(
            rule(-8.73),
            "Map to compass here: add 9 (8°44′, rounded), since magnetic north lies to the left and you count further. So 048° T is 057° M. Compass to map: take off 9."
        );
        assert_eq!(
            rule(14.0),
            "Map to compass here: take off 14, since magnetic north lies to the right and you count less far. So 048° T is 034° M. Compass to map: add 14."
        );
        assert!(rule(0.3).contains("nothing to add"));
        // Beyond the example's own number the sum comes back onto the circle.
        assert!(rule(60.0).contains("So 048° T is 348° M."));
    }
}
