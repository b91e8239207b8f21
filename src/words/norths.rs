//! The three norths, the angles between them and what they come from.

use super::Word;

const MODEL: &str = "World Magnetic Model 2025";
const ZONES: &str = "World Magnetic Model 2025, technical report";

/// The words.
pub(super) const WORDS: &[Word] = &[
    Word::new("true north", "the way to the North Pole; it never moves, so maps are drawn by it")
        .also(&["geographic north"]),
    Word::new("magnetic north", "where the needle points: it obeys the earth's magnetism, not the Pole")
        .also(&["compass north"]),
    Word::new("grid north", "the way grid lines run up a map; nearly true north, but not quite"),
    Word::new("letter of the north", "T, M or G behind a number tells which north it counts from")
        .also(&["north's letter"])
        .marks(&["° T", "° M", "° G"]),
    Word::new("T", "behind a number: counted from true north, as on the side border of many maps")
        .also(&["true bearing", "degrees true"]),
    Word::new("M", "behind a number: counted from magnetic north, so it goes on the dial as it is")
        .also(&["magnetic bearing", "degrees magnetic"]),
    Word::new("G", "behind a number: counted from grid north, so from the lines of the map's grid")
        .also(&["grid bearing", "degrees grid"]),
    Word::new("declination", "the angle from true north to magnetic north; each place has its own")
        .also(&["variation", "magnetic declination", "magnetic variation"])
        .source(MODEL)
        .sketch(&["TN", " *  MN   from the star to MN:", " | /     the declination,", " |/      here east"]),
    Word::new(
        "E or W",
        "the side of an angle between norths: E lies clockwise, to the right of north; W the other way",
    )
    .also(&["E", "W", "easterly", "westerly"])
    .forms(&["east", "west"])
    .source("USGS Education: east where magnetic north lies east of true north"),
    Word::new("convergence", "the angle from true north to grid north: grid lines miss the Pole")
        .also(&["grid convergence"])
        .source("signs as in GeographicLib and PROJ; some manuals turn them round")
        .sketch(&["TN", " *  GN   from the star to GN:", " | /     the convergence,", " |/      here east"]),
    Word::new("G-M angle", "the angle from grid north to magnetic north, all in one step")
        .also(&["grid-magnetic angle", "GMA"])
        .source("TC 3-25.26, para 6-14")
        .sketch(&["MN   GN", "  \\  |   from GN to MN:", "   \\ |   the G-M angle,", "    \\|   here west"]),
    Word::new("diagram", "three prongs in the map's margin, one for each north; believe its numbers, not its drawing")
        .also(&["declination diagram", "north diagram"])
        .source("TC 3-25.26, para 6-10")
        .sketch(&["MN  *  GN", "  \\ | /    * is true north", "   \\|/"]),
    Word::new("prong", "one line of the diagram; it points to one of the three norths"),
    Word::new("TN", "true north in a diagram; many maps draw a star there").forms(&["the star", "star"]),
    Word::new("MN", "magnetic north in a diagram; many maps draw half an arrowhead there"),
    Word::new("GN", "grid north in a diagram: the prong with these letters"),
    Word::new("annual change", "how far the declination moves in a year: the earth's magnetism drifts")
        .also(&["yearly change", "secular variation"])
        .forms(&["changes by"])
        .source(MODEL),
    Word::new("current value", "today's declination, asked for anew, since the needle has moved")
        .source("USGS Education: get one when the map's value is over 15 years old"),
    Word::new("isogonic line", "joins all places that have the same declination, so that a world map can show it")
        .also(&["isogone", "line of equal declination"]),
    Word::new("agonic line", "joins all places without declination: there the needle points to the Pole itself")
        .also(&["line of no declination"]),
    Word::new(
        "World Magnetic Model",
        "sums made from measured magnetism; they tell the declination anywhere, but know no iron near you",
    )
    .also(&["WMM"])
    .source("World Magnetic Model 2025, from 2025 to 2029"),
    Word::new("caution zone", "where the earth pulls the needle sideways only weakly: expect large errors")
        .source(ZONES),
    Word::new(
        "blackout zone",
        "round the magnetic poles, where the earth pulls the needle down: trust no compass there",
    )
    .source(ZONES),
];
