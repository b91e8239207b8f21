//! Directions as numbers and names, and walking by them.

use super::Word;

const MILS: &str = "FM 3-25.26, para 6-1";

/// The words.
pub(super) const WORDS: &[Word] = &[
    Word::new("bearing", "how far you turn clockwise from north to face a place, from 000 to 359")
        .also(&["azimuth", "heading"])
        .sketch(&[" N", " |   / 060: turned 60 degrees", " |  /  clockwise from north", " | /", " o"]),
    Word::new("back bearing", "the way back: half a circle round, so the number changes by 180")
        .also(&["back azimuth", "reciprocal bearing", "reciprocal"])
        .source("FM 3-25.26, para 6-3")
        .sketch(&["A o ---- 090 ---> o B", "A o <--- 270 ---- o B"]),
    Word::new("clockwise", "the way the hands of a clock go; bearings grow that way"),
    Word::new("counterclockwise", "against the hands of a clock; bearings shrink that way").also(&["anticlockwise"]),
    Word::new("compass point", "a direction with a name, like N, NE or SSW; 8, 16 or 32 stand round the circle")
        .also(&["point of the compass"])
        .forms(&["compass card", "32 points"]),
    Word::new("minute", "a sixtieth of a degree, written ′: 7°30′ is seven degrees and a half")
        .also(&["minute of arc", "arc minute"]),
    Word::new("mil", "a small angle: 6400 go round the circle; seen from 1 km, one is about 1 m wide")
        .also(&["NATO mil"])
        .source(MILS),
    Word::new("leg", "a straight piece of your way, walked on one bearing"),
    Word::new("course", "several legs one after the other, most often out and home again"),
    Word::new("closing check", "follow all legs: a course that leads home closes, whatever north it was set by")
        .also(&["closure"]),
    Word::new("fore sight", "a look ahead along the travel arrow, to find something on your line to walk to"),
    Word::new("back sight", "a look back at your start, to see whether you have drifted from your line")
        .also(&["looking back"])
        .sketch(&["o start", "|", "|    number unchanged,", "x    south end boxed"]),
    Word::new("double pace", "two steps, counted each time the left foot comes down; 60 to 70 of them are 100 m")
        .also(&["stride"]),
    Word::new("single pace", "one step; some books call it a pace, others mean two by that, so it is always said")
        .also(&["pace"])
        .source("TC 3-25.26, para 5-20"),
    Word::new(
        "aiming off",
        "walking beside a goal on purpose, so that you know which way to turn at the stream or path",
    )
    .also(&["deliberate offset"])
    .forms(&["aim off", "aims off"])
    .source("FM 3-25.26, chapter 9"),
    Word::new("offset", "by how many degrees you aim beside the goal; larger than your error"),
    Word::new("handrail", "what runs along your way, so that you can follow it: a stream, a wall, a path"),
    Word::new("collecting feature", "what you cross on your way and tick off, so that you know how far you are"),
    Word::new("catching feature", "what lies across behind your goal, and stops you when you have gone too far")
        .also(&["backstop"]),
    Word::new("attack point", "a spot near your goal that you find for sure; from there the last piece is short"),
    Word::new(
        "detour",
        "a way round something that you cannot cross; by right angles you keep your count and your line",
    )
    .also(&["box detour", "right-angle detour"])
    .sketch(&["     +--120 m--+", " 80 m|         |80 m", "-----+  pond   +-----> 064"]),
    Word::new(
        "steering mark",
        "a thing on your line and nearer than the goal: you walk to it and need not look at the needle",
    )
    .also(&["intermediate mark"]),
    Word::new(
        "Naismith's rule",
        "a fit adult's least time on foot: 12 minutes for a kilometre, and a minute more for every 10 m up",
    ),
    Word::new("leapfrogging", "at night or in cloud two go ahead and are waved onto the line, and the others come up")
        .forms(&["leapfrog"]),
    Word::new("one in sixty", "each degree off leads you a sixtieth of your way aside: 1 m in 60 m")
        .also(&["1-in-60 rule", "1 in 60"]),
];
