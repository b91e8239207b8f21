//! What is known of the skill, its mix-ups, and the fields that its three kinds of question have.

use crate::angle::{North, SENSES};
use crate::problem::{
    Choices, Family, Field, FieldKind, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta, Tolerance,
};
use crate::skills::common::WRONG_END;
use crate::skills::hands::{ARROW_BACK, COMPASS_OFF_LINE, DIAL_FOR_MAP, DIAL_UPSIDE_DOWN, SOUTH_END_BOXED};
use crate::skills::norths::SIZES_ADDED;

/// Which lines are offered, in which order.
pub(super) struct Offer {
    /// The lines that are no magnetic-north lines.
    pub other: North,
    /// Where in the choice the magnetic-north line stands; behind it the other line and the prong, round the end.
    magnetic: usize,
    /// The choice.
    pub fields: [Field; 1],
}

pub(super) const MAGNETIC: &str = North::Magnetic.line();
const PRONG: &str = "prong of the diagram";
const TRUE: &str = North::True.line();
const GRID: &str = "grid line";

const fn offer(other: North, magnetic: usize, words: &'static [&'static str; 3]) -> Offer {
    let kind = FieldKind::Choice(Choices::Fixed(words));
    let fields = [Field { name: "line", label: "line of the map", kind, tolerance: Tolerance::EXACT }];
    Offer { other, magnetic, fields }
}

pub(super) static OFFERS: [Offer; 6] = [
    offer(North::True, 0, &[MAGNETIC, TRUE, PRONG]),
    offer(North::True, 1, &[PRONG, MAGNETIC, TRUE]),
    offer(North::True, 2, &[TRUE, PRONG, MAGNETIC]),
    offer(North::Grid, 0, &[MAGNETIC, GRID, PRONG]),
    offer(North::Grid, 1, &[PRONG, MAGNETIC, GRID]),
    offer(North::Grid, 2, &[GRID, PRONG, MAGNETIC]),
];

pub(super) static OFF: [Field; 2] = [
    Field { name: "turn", label: "degrees off", kind: FieldKind::Turn, tolerance: Tolerance::within(0.5) },
    Field {
        name: "way",
        label: "turned which way",
        kind: FieldKind::Choice(Choices::Fixed(&SENSES)),
        tolerance: Tolerance::EXACT,
    },
];

pub(in crate::skills) const DIAL_SET_TO_DECLINATION: MixupMeta = MixupMeta {
    id: MixupId("dial-set-to-declination"),
    class: MixupClass::Method,
    said: "set the dial as for a true-north line",
    mend: "A magnetic-north line already points where the needle points: nothing is added and nothing taken off.",
};
pub(in crate::skills) const DECLINATION_AS_READING: MixupMeta = MixupMeta {
    id: MixupId("declination-as-reading"),
    class: MixupClass::Method,
    said: "put the declination on the dial, and for a true-north line it would be the wrong way round",
    mend: "A magnetic-north line already points where the needle points: nothing is added and nothing taken off.",
};
pub(in crate::skills) const WRONG_LINE: MixupMeta = MixupMeta {
    id: MixupId("wrong-line"),
    class: MixupClass::North,
    said: "chose a line that does not point where the needle points",
    mend: "With 000 on the dial only a magnetic-north line brings the map right.",
};
pub(in crate::skills) const DIAGRAM_PRONG: MixupMeta = MixupMeta {
    id: MixupId("diagram-prong"),
    class: MixupClass::Method,
    said: "used the prong of the diagram as if it were drawn to scale",
    mend: "The diagram is a sketch: only a line drawn for the purpose may be used.",
};
pub(super) const OFF_THE_OTHER_WAY: MixupMeta = MixupMeta {
    id: MixupId("off-the-other-way"),
    class: MixupClass::Sign,
    said: "let the map lie off to the other side",
    mend: "The map turns with needle and dial: a needle further clockwise, or a larger number, turns it clockwise.",
};
pub(super) const WHOLE_DECLINATION: MixupMeta = MixupMeta {
    id: MixupId("whole-declination"),
    class: MixupClass::North,
    said: "took the whole declination for the error",
    mend: "The line already has a declination in it: only what has changed since, or was left on the dial, turns the map.",
};
pub(super) static META: SkillMeta = SkillMeta {
    id: "orient-magnetic-line",
    mark: "D1",
    family: Family::Orienting,
    title: "Orient by a magnetic-north line",
    can: "Orients the map by a magnetic-north line with 000 on the dial, and says how far off a dated map then lies.",
    levels: [
        "which number, which line, or how far off by a number that was left",
        "how far off a dated map lies",
        "how far off, with the map more often than not through true north",
        "beside the line stands a diagram that is not to scale",
    ],
    prerequisites: &["set-dial"],
    mixups: &[
        DIAL_SET_TO_DECLINATION,
        DECLINATION_AS_READING,
        WRONG_END,
        WRONG_LINE,
        DIAGRAM_PRONG,
        OFF_THE_OTHER_WAY,
        WHOLE_DECLINATION,
        SIZES_ADDED,
        SOUTH_END_BOXED,
        ARROW_BACK,
        DIAL_UPSIDE_DOWN,
        DIAL_FOR_MAP,
        COMPASS_OFF_LINE,
    ],
    lines: NorthLines::Magnetic,
    on_home: true,
    generation: 4,
};

impl Offer {
    /// Where the magnetic-north line stands in the choice.
    pub const fn magnetic(&self) -> usize {
        self.magnetic
    }

    /// Where the line stands that is no magnetic-north line.
    pub const fn other_line(&self) -> usize {
        (self.magnetic + 1) % 3
    }

    /// Where the prong of the diagram stands.
    pub const fn prong(&self) -> usize {
        (self.magnetic + 2) % 3
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_stands_where_the_offer_says() {
        for offer in &OFFERS {
            let word = |at| offer.fields[0].choices().and_then(|words| words.get(at));
            assert_eq!(word(offer.magnetic()), Some(MAGNETIC));
            assert_eq!(word(offer.other_line()), Some(if offer.other == North::Grid { GRID } else { TRUE }));
            assert_eq!(word(offer.prong()), Some(PRONG));
        }
    }
}
