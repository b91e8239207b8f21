//! The day's rule: what the angle between a map's lines and the needle does to every bearing, with its reason and an example.

use super::{Angle, Bearing, Magnetic, North, degrees_minutes, three_figures};
use crate::numbers::whole;

/// What follows from the side on which a north lies, seen from the north that is counted from first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CountReason {
    /// `to the left`
    pub lies: &'static str,
    /// `(west)`
    pub side: &'static str,
    /// `you count further`
    pub count: &'static str,
    /// `bigger`
    pub number: &'static str,
}

impl CountReason {
    /// The reason where the other north lies so many degrees clockwise; none where both are one.
    #[must_use]
    pub const fn of(clockwise: i32) -> Option<CountReason> {
        match clockwise {
            0 => None,
            ..0 => {
                Some(CountReason { lies: "to the left", side: "(west)", count: "you count further", number: "bigger" })
            }
            _ => Some(CountReason {
                lies: "to the right",
                side: "(east)",
                count: "you count less far",
                number: "smaller",
            }),
        }
    }
}

/// The nearest whole degree.
#[must_use]
pub fn whole_degrees(angle: Angle) -> i32 {
    whole(angle.degrees().round())
}

/// The rule for lines that show this north, there and back: `Magnetic north lies to the left here, so you count further:
/// map to compass, add 9 (8°44′, rounded). So 048° T is 057° M. Compass to map, take off 9.` `east` says how far magnetic north
/// lies east of that north; it is rounded to whole degrees, as a dial is set. `example` is a bearing off the map in whole degrees,
/// any number. For magnetic lines there is nothing to add, whatever `east` says.
#[must_use]
pub fn days_rule(lines: North, east: Angle, example: i32) -> String {
    if lines == North::Magnetic {
        return "These lines show magnetic north, as the needle does: map to compass, nothing to add.".to_owned();
    }
    let rounded = whole_degrees(east);
    let Some(CountReason { lies, count, .. }) = CountReason::of(rounded) else {
        return "Both norths lie together here, to the nearest degree: map to compass, nothing to add.".to_owned();
    };
    let (there, back) = if rounded < 0 { ("add", "take off") } else { ("take off", "add") };
    let minutes = east.rounded_to(Angle::from_whole_minutes(1)).abs();
    let size = rounded.abs();
    let exactly = if minutes == Angle::from_degrees(f64::from(size)) {
        String::new()
    } else {
        format!(" ({}, rounded)", degrees_minutes(minutes))
    };
    let map = three_figures(Angle::from_degrees(f64::from(example)), 0);
    let compass = Bearing::<Magnetic>::from_degrees(f64::from(example - rounded));
    let letter = lines.letter();
    format!(
        "Magnetic north lies {lies} here, so {count}: map to compass, {there} {size}{exactly}. So {map}° {letter} is {compass}. Compass to map, {back} {size}."
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_has_its_reason_and_an_example_of_the_day() {
        let rule = |east| days_rule(North::True, Angle::from_degrees(east), 48);
        assert_eq!(
            rule(-8.73),
            "Magnetic north lies to the left here, so you count further: map to compass, add 9 (8°44′, rounded). So 048° T is 057° M. Compass to map, take off 9."
        );
        assert_eq!(
            rule(14.0),
            "Magnetic north lies to the right here, so you count less far: map to compass, take off 14. So 048° T is 034° M. Compass to map, add 14."
        );
        assert!(rule(0.3).contains("nothing to add"));
        // Beyond the example's own number the sum comes back onto the circle.
        assert!(rule(60.0).contains("So 048° T is 348° M."));
    }

    #[test]
    fn grid_lines_have_the_same_rule_with_their_letter_and_magnetic_lines_have_nothing_to_add() {
        assert!(days_rule(North::Grid, Angle::from_degrees(-7.6), 48).contains("add 8 (7°36′, rounded)"));
        assert!(days_rule(North::Grid, Angle::from_degrees(-7.6), 48).contains("So 048° G is 056° M."));
        assert!(days_rule(North::Magnetic, Angle::from_degrees(-7.6), 48).contains("nothing to add"));
    }
}
