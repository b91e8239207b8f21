//! The map, its lines, and the ground it shows.

use super::Word;

const UTM: &str = "NGA.STND.0037";

/// The words.
pub(super) const WORDS: &[Word] = &[
    Word::new("orient the map", "turn it until its north points north, so that it lies like the land")
        .also(&["set the map", "orientate the map"])
        .forms(&["orient", "oriented", "orienting the map"]),
    Word::new("magnetic-north line", "a line on the map that runs where the needle points")
        .also(&["magnetic line", "magnetic meridian"]),
    Word::new("true-north line", "a line on the map that runs to the Pole, as many side borders do")
        .also(&["meridian", "line of longitude"]),
    Word::new("grid line", "one of the lines that cover a map with squares; those up it run to grid north")
        .forms(&["north-south grid line"]),
    Word::new("map border", "the frame of the map; look whether its sides run to true north before you trust them")
        .also(&["neat line"])
        .forms(&["border"]),
    Word::new("sheet", "one map as it was printed; its margin tells the year, the scale and the norths")
        .also(&["map sheet"]),
    Word::new("dated map", "one whose printed declination has grown old, since the needle has moved on")
        .also(&["old map"])
        .source("TC 3-25.26, chapter 6: not to be relied on after 20 years"),
    Word::new("map scale", "1:25 000 says that 1 cm on the map is 25 000 cm outside, and that is 250 m")
        .also(&["representative fraction"]),
    Word::new("scale bar", "a drawn line in the margin with the kilometres of this map; its zero is not at its end")
        .also(&["bar scale", "graphic scale"])
        .sketch(&["|+++++++++|---------|---------|", "1 km      0         1         2 km"]),
    Word::new("contour line", "joins all places of one height; walk along it and you go neither up nor down")
        .also(&["contour", "height line"]),
    Word::new(
        "protractor",
        "a clear disc with degrees, laid on the map to measure an angle; a compass can do its work",
    ),
    Word::new("landmark", "something you see outside and find on the map, too: a tower, a bridge, a lone pine"),
    Word::new("fix", "your place on the map, found by lines that cross there").also(&["position fix"]),
    Word::new(
        "cut angle",
        "the angle at which two lines meet; near a quarter circle a small slip moves their meeting little",
    )
    .forms(&["cut"]),
    Word::new("resection", "finding your place by lines drawn back from two or three marks that you sight").sketch(&[
        "tower o       o chapel",
        "       \\     /",
        "        \\   /",
        "         \\ /",
        "          x you",
    ]),
    Word::new("saddle", "the low place between two tops, where a path often goes over").also(&["col"]),
    Word::new("spur", "a ridge that runs down from a hill like a finger"),
    Word::new("re-entrant", "low ground that runs up into a hill between two spurs, often with a brook"),
    Word::new("grid reference", "names a square of the map: first its lines to the east, then those to the north")
        .also(&["map reference"])
        .sketch(&["59 +----+", "   |  x |   x lies in 3458,", "58 +----+   six figures 347582", "   34   35"]),
    Word::new(
        "romer",
        "a corner with tenths of a square on its edges; its corner on a place, it tells how far the grid lines are",
    )
    .also(&["roamer", "coordinate scale"])
    .sketch(&["  | line 34", "7-6-5-4-3-2-1-+", "              1-", "              2-"]),
    Word::new("paper edge", "the straight edge of a sheet; ticked and turned at each bend it measures a winding path"),
    Word::new("easting", "the first half of a grid reference: how far east, along the bottom of the map"),
    Word::new("northing", "the second half of a grid reference: how far north, up the side of the map"),
    Word::new("home ground", "where your group goes out; problems use its declination, since you will need that one"),
    Word::new("UTM", "tells any place by two numbers in metres, east and north, within one of 60 strips of the globe")
        .also(&["Universal Transverse Mercator"])
        .source(UTM),
    Word::new("MGRS", "tells any place by letters for a square and figures within it, so that it can be said by radio")
        .also(&["Military Grid Reference System"])
        .source(UTM),
];
