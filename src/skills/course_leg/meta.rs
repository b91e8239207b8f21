//! What is known of the skill before any problem is drawn.

use super::super::common::{NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, WRONG_END};
use super::super::norths::{DECLINATION_FOR_GMA, GMA_ON_TRUE_LINE, SIZES_ADDED};
use super::super::scale_distance::meta::OTHER_SCALE;
use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// The first leg turned round in place of the third.
pub(super) const BACK_OF_FIRST: MixupMeta = MixupMeta {
    id: MixupId("home-on-the-first-leg"),
    class: MixupClass::Method,
    said: "walked home on the back bearing of the first leg",
    mend: "That leads home only from where the first leg ends. From the last mark the way home is a leg of its own.",
};

/// Two legs for three.
pub(super) const HOME_LEG_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("home-leg-left-out"),
    class: MixupClass::Forgotten,
    said: "left out the leg home",
    mend: "A course ends where it began, and the way home is walked, too.",
};

/// A card that closes for a card that is right.
pub(super) const CLOSING_TRUSTED: MixupMeta = MixupMeta {
    id: MixupId("closing-trusted"),
    class: MixupClass::North,
    said: "took the card for right because it closes",
    mend: "A wrong north turns all legs by the same angle, and the course still closes. Work out the numbers, too.",
};

/// A card that does not close for a card that is right.
pub(super) const CHECK_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("check-left-out"),
    class: MixupClass::Forgotten,
    said: "took the card as it stands, although it does not close",
    mend: "Go round the card corner by corner: on the way home the turns make 360.",
};

/// A wrong north expected to open the course.
pub(super) const NORTH_BY_CLOSING: MixupMeta = MixupMeta {
    id: MixupId("north-by-closing"),
    class: MixupClass::Method,
    said: "thought that with a wrong north the course would not close",
    mend: "A wrong north turns the whole course as one piece: each corner stays as it is.",
};

/// One wrong leg taken for a wrong north.
pub(super) const LEG_FOR_NORTH: MixupMeta = MixupMeta {
    id: MixupId("leg-for-north"),
    class: MixupClass::North,
    said: "took one wrong leg for a wrong north",
    mend: "A wrong north is in all legs alike. Where two legs are right, the third was read at its other end.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "course-leg",
    mark: "K1",
    family: Family::Travel,
    title: "A course out and home",
    can: "Sets the legs of a course by the lines the map has, knows how long it is, and checks that it closes.",
    levels: [
        "three legs of round bearings to set, by one angle",
        "any three legs, and how long the course is",
        "across north, by the lines that the map has",
        "somebody's card: does it close, and what is wrong with it",
    ],
    prerequisites: &["back-bearing", "grid-magnetic", "scale-distance"],
    mixups: &[
        SIGN_FLIPPED,
        NOT_APPLIED,
        NOT_WRAPPED,
        WRONG_END,
        BACK_OF_FIRST,
        HOME_LEG_LEFT_OUT,
        OTHER_SCALE,
        DECLINATION_FOR_GMA,
        SIZES_ADDED,
        GMA_ON_TRUE_LINE,
        CLOSING_TRUSTED,
        CHECK_LEFT_OUT,
        NORTH_BY_CLOSING,
        LEG_FOR_NORTH,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 2,
};
