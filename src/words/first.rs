//! The words that each skill brings: told once, when the skill is met for the first time.

use super::{Word, all};

/// For each skill the words that it brings, the most needed first. A word that an earlier skill has brought is not told again, so
/// no skill names more than it is likely to show; the letters T, M and G are told as one.
pub(super) const FIRST: &[(&str, &[&str])] = &[
    ("compass-points", &["compass point", "clockwise"]),
    ("turns", &["bearing", "letter of the north", "clockwise", "counterclockwise"]),
    ("read-dial", &["index line", "tick", "needle"]),
    ("set-dial", &["dial", "index line", "tick"]),
    ("back-bearing", &["back bearing", "letter of the north"]),
    ("grid-reference", &["grid reference", "grid line", "easting", "northing"]),
    ("scale-distance", &["map scale", "scale bar"]),
    ("protractor-bearing", &["protractor", "grid line"]),
    ("baseplate-bearing", &["edge", "orienting lines", "travel arrow"]),
    ("diagram", &["declination", "G-M angle", "convergence", "MN", "TN", "GN"]),
    ("true-magnetic", &["declination", "magnetic north", "true north", "letter of the north"]),
    ("grid-magnetic", &["G-M angle", "grid north", "convergence", "letter of the north"]),
    ("dated-map", &["declination", "annual change", "minute", "current value"]),
    ("relief", &["contour line", "spur", "re-entrant", "saddle", "declination"]),
    ("orient-landmarks", &["orient the map"]),
    ("orient-magnetic-line", &["orient the map", "magnetic-north line", "boxed"]),
    ("orient-true-line", &["orient the map", "true-north line", "boxed"]),
    ("orient-grid", &["orient the map", "grid line", "boxed", "G-M angle"]),
    ("oriented-bearing", &["orient the map", "orienting arrow", "edge"]),
    ("take-bearing", &["travel arrow", "boxed", "index line"]),
    ("follow-bearing", &["letter of the north", "declination", "orienting arrow"]),
    ("walk-bearing", &["steering mark", "boxed", "leapfrogging"]),
    ("back-sight", &["back sight", "orienting arrow", "travel arrow"]),
    ("pacing", &["double pace", "single pace"]),
    ("timing", &["leg", "Naismith's rule", "contour line", "saddle"]),
    ("compass-faults", &["known line", "needle"]),
    ("fix-on-line", &["grid reference", "cut angle"]),
    ("resection", &["cut angle", "G-M angle"]),
    ("one-in-sixty", &["one in sixty"]),
    ("aim-off", &["aiming off", "offset"]),
    ("route-features", &["handrail", "collecting feature", "catching feature", "attack point"]),
    ("box-detour", &["detour", "leg"]),
    ("course-leg", &["course", "leg"]),
    ("thirty-two-points", &["compass point"]),
];

/// The words that a skill brings, the most needed first; none for a skill that is not known.
pub fn first_in(skill: &str) -> impl Iterator<Item = &'static Word> {
    let brings = FIRST.iter().find(|(id, _)| *id == skill).map_or(&[][..], |(_, brings)| *brings);
    brings.iter().filter_map(|name| all().find(|word| word.word == *name))
}
