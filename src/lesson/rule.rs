//! The day's rule: what home ground's declination does to every bearing, in one sentence with its reason and an example.

use super::figure::spoken;
use crate::angle::{Angle, Declination, North};
use crate::numbers::whole;

/// The rule for lines that show true north: `Map to compass here: add 9, since magnetic north lies to the left. So 048° T is
/// 057° M.` The declination is rounded to whole degrees, as a dial is set; `example` is a true bearing in whole degrees.
#[must_use]
pub fn days_rule(declination: Declination, example: i32) -> String {
    let west = whole_degrees(-declination.angle());
    let sum = spoken(example + west, North::Magnetic);
    let example = spoken(example, North::True);
    match west {
        0 => "Map to compass here: nothing to add, since magnetic north and true north lie together, to a degree."
            .to_owned(),
        1.. => format!(
            "Map to compass here: add {west}, since magnetic north lies to the left and you count further. So {example} is {sum}."
        ),
        _ => format!(
            "Map to compass here: take off {}, since magnetic north lies to the right and you count less far. So {example} is {sum}.",
            -west
        ),
    }
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
            "Map to compass here: add 9, since magnetic north lies to the left and you count further. So 048° T is 057° M."
        );
        assert_eq!(
            rule(14.4),
            "Map to compass here: take off 14, since magnetic north lies to the right and you count less far. So 048° T is 034° M."
        );
        assert!(rule(0.3).contains("nothing to add"));
        // Beyond the example's own number the sum comes back onto the circle.
        assert!(rule(60.0).ends_with("So 048° T is 348° M."));
    }
}
