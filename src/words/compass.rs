//! The parts of the compass, and what can be wrong with it.

use super::Word;

/// The words.
pub(super) const WORDS: &[Word] = &[
    Word::new("index line", "the mark where the dial is read; the number at it is your bearing")
        .also(&["index mark", "index pointer"])
        .forms(&["index"])
        .sketch(&["70   80   90", "|''''|''''|", "     ^ index line: 080"]),
    Word::new("needle", "a small magnet: however you turn, its north end finds magnetic north")
        .also(&["magnetic needle", "compass needle"]),
    Word::new("north end", "the end of the needle that points to magnetic north; it is often red")
        .also(&["red end", "north-seeking end"]),
    Word::new("boxed", "the needle's north end lies in the orienting arrow, so you look along your number")
        .also(&["red in the shed"])
        .forms(&["box the needle", "box"])
        .marks(&["in the head of the orienting arrow"])
        .sketch(&[
            " boxed     not boxed",
            "  /^\\        /\\  ^",
            " | N |      |  |N",
            " | | |      |  /",
            " | S |      | S|",
        ]),
    Word::new("orienting arrow", "the arrow on the dial's floor; the needle's north end is brought into it")
        .also(&["gate", "shed"]),
    Word::new("travel arrow", "the arrow on the baseplate: it points where you are going")
        .also(&["direction-of-travel arrow"]),
    Word::new("edge", "the long side of the baseplate; it is laid on the map like a ruler")
        .also(&["long edge", "side of the baseplate"]),
    Word::new("orienting lines", "thin lines on the dial's floor, to be laid along lines of the map")
        .also(&["dial's lines", "meridian lines"])
        .forms(&["its lines"])
        .sketch(&["  / N \\", " | |^| |   in the middle the arrow,", " | ||| |   beside it the lines", "  \\   /"]),
    Word::new("dial", "the ring with 0 to 360; you turn it until your number is at the index line").also(&[
        "bezel",
        "housing",
        "capsule",
        "azimuth ring",
    ]),
    Word::new("baseplate", "the clear plate under the dial; you see the map through it and use its side as a ruler")
        .sketch(&[
            "+-----^-----+  travel arrow",
            "|     |     |  index line",
            "|   / N \\   |  dial",
            "|   \\   /   |",
            "+-----------+  its sides: the edges",
        ]),
    Word::new("tick", "a small line on the dial; you count them, since few numbers are printed").also(&["graduation"]),
    Word::new("inner scale", "a second scale inside the dial, for slopes; a bearing is never read there")
        .also(&["clinometer", "clinometer scale", "slope scale"])
        .forms(&["second scale"]),
    Word::new("iron", "pulls the needle off north, and so do magnets and phones: step away and look once more")
        .also(&["local attraction", "deviation"])
        .source("FM 3-25.26: keep 18 m from a vehicle, 55 m from high-tension lines"),
    Word::new(
        "known line",
        "a wall, a lane, a jetty whose bearing you know for sure; it shows what a compass is worth",
    )
    .source("FM 3-25.26: reject a compass that is more than 3 degrees off"),
];
