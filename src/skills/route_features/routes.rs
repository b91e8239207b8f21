//! Three ways to one goal, of which one is safe, leads, and has a short last piece.

use super::meta::{BLIND_END, HAZARD_TAKEN, SHORTEST};
use crate::problem::{Draw, MixupMeta};

/// The words for the three.
pub(super) const WAYS: [&str; 3] = ["the first way", "the second way", "the third way"];

/// A way; whole metres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Route {
    kind: Kind,
    pub(super) metres: i32,
    /// The last piece, on which nothing leads.
    pub(super) last: i32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// Along this, to a spot near the goal.
    Guided(&'static str, &'static str),
    /// Nothing leads.
    Straight(&'static str),
    /// Along something dangerous, to a spot near the goal.
    Hazard(&'static str, &'static str),
    /// Along this, to a spot from which nothing leads for long.
    BlindEnd(&'static str, &'static str),
}

/// What leads, to where: the safe way and the one with a long last piece take theirs from here, so that no name tells them apart.
const GUIDES: [(&str, &str); 6] = [
    ("the stream", "the bridge"),
    ("the long wall", "its corner"),
    ("the forest road", "the sawmill"),
    ("the farm track", "the gate"),
    ("the old fence", "its end"),
    ("the power line", "the last pole"),
];
const OPEN: [&str; 3] = ["over the open moor", "through the wood without paths", "over the wide heath"];
const DANGERS: [(&str, &str); 3] =
    [("the edge of the cliff", "the cairn"), ("the railway", "the signal"), ("the brim of the quarry", "the crane")];

impl Route {
    /// What is wrong with it; nothing with the safe one.
    pub(super) const fn fault(self) -> Option<&'static MixupMeta> {
        match self.kind {
            Kind::Guided(..) => None,
            Kind::Straight(_) => Some(&SHORTEST),
            Kind::Hazard(..) => Some(&HAZARD_TAKEN),
            Kind::BlindEnd(..) => Some(&BLIND_END),
        }
    }

    /// What it follows; nothing in open ground.
    pub(super) const fn follows(self) -> &'static str {
        match self.kind {
            Kind::Guided(along, _) | Kind::Hazard(along, _) | Kind::BlindEnd(along, _) => along,
            Kind::Straight(_) => "nothing",
        }
    }

    /// In a sentence, without its full stop.
    pub(super) fn sentence(self, goal: &str) -> String {
        let Route { metres, last, .. } = self;
        match self.kind {
            Kind::Guided(along, to) | Kind::Hazard(along, to) | Kind::BlindEnd(along, to) => {
                format!("{metres} m along {along} as far as {to}, then {last} m on a bearing to {goal}")
            }
            Kind::Straight(over) => format!("{metres} m on a bearing, straight {over}"),
        }
    }

    /// How long it is in all, `1330 + 130 = 1460 m in all`; none where it is one piece.
    pub(super) fn whole(self) -> Option<String> {
        let Route { metres, last, .. } = self;
        let pieces = !matches!(self.kind, Kind::Straight(_));
        pieces.then(|| format!("{metres} + {last} = {} m in all", metres + last))
    }

    /// What is to be said of it, after its name.
    pub(super) fn does(self) -> String {
        let last = self.last;
        match self.kind {
            Kind::Guided(along, _) => format!("follows {along}, and only the last {last} m need a bearing"),
            Kind::Straight(_) => "has nothing to go by from beginning to end".to_owned(),
            Kind::Hazard(along, _) => format!("leads along {along}, and a step aside there may kill you"),
            Kind::BlindEnd(along, _) => format!("follows {along}, but then {last} m have nothing to go by"),
        }
    }
}

/// The safe way and two of the three others, in any order.
pub(super) fn three(leg: i32, draw: &mut Draw) -> [Route; 3] {
    let longer = |draw: &mut Draw, low: i32, high: i32| leg * draw.between(low, high) / 1000 * 10;
    let mut guides = GUIDES;
    draw.shuffle(&mut guides);
    let [(along, to), (blind_along, blind_to), ..] = guides;
    let (danger_along, danger_to) = draw.pick(&DANGERS);
    let safe = Route { kind: Kind::Guided(along, to), metres: longer(draw, 105, 140), last: draw.between(6, 15) * 10 };
    let straight = Route { kind: Kind::Straight(draw.pick(&OPEN)), metres: leg, last: leg };
    let danger = Route {
        kind: Kind::Hazard(danger_along, danger_to),
        metres: longer(draw, 101, 130),
        last: draw.between(4, 15) * 10,
    };
    let blind = Route {
        kind: Kind::BlindEnd(blind_along, blind_to),
        metres: longer(draw, 80, 150),
        last: draw.between(40, 60) * 10,
    };
    // Something dangerous is nearly always there, or the shortest last piece would be right most of the time.
    let others = match draw.below(10) {
        0 => [straight, blind],
        1..5 => [straight, danger],
        _ => [danger, blind],
    };
    let mut ways = [safe, others[0], others[1]];
    draw.shuffle(&mut ways);
    ways
}
