//! Somebody's card for the course, and what may be wrong with it.

use super::super::common::{
    CIRCLE, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, Tenths, angle, bare_sum, figures, size, sum, wrap,
};
use super::meta::{CHECK_LEFT_OUT, CLOSING_TRUSTED, LEG_FOR_NORTH, NORTH_BY_CLOSING};
use super::{CourseLegItem, ORDER};
use crate::problem::{Answer, Draw, MixupList, MixupMeta, Step, Value};

/// What the card's writer did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Slip {
    /// Nothing wrong.
    None,
    /// The angle applied the wrong way.
    Flipped,
    /// The map's numbers as they are.
    Unturned,
    /// One leg read at its other end, counted from 0.
    Reversed(usize),
}

/// The words for whether a course closes.
pub(super) const CLOSES: [&str; 2] = ["it closes", "it does not close"];
/// The words for what is wrong.
pub(super) const WRONG: [&str; 5] =
    ["nothing", "the first leg", "the second leg", "the third leg", "all legs by the same angle"];
/// The place of the north among them.
const NORTH: usize = 4;

impl Slip {
    /// In half of the cards one leg is wrong, in seven of twenty the north.
    pub fn draw(draw: &mut Draw) -> Slip {
        match draw.below(20) {
            0..3 => Slip::None,
            3..7 => Slip::Flipped,
            7..10 => Slip::Unturned,
            _ => Slip::Reversed(draw.pick(&[0, 1, 2])),
        }
    }

    /// Whether a course with it comes home.
    pub const fn closes(self) -> bool {
        !matches!(self, Slip::Reversed(_))
    }

    /// What is wrong, as a place in [`WRONG`].
    const fn wrong(self) -> usize {
        match self {
            Slip::None => 0,
            Slip::Reversed(leg) => leg + 1,
            Slip::Flipped | Slip::Unturned => NORTH,
        }
    }
}

impl CourseLegItem {
    /// What stands on the card.
    pub(super) fn card(&self, slip: Slip) -> [Tenths; 3] {
        let (set, change) = (self.set(), self.lines.change());
        match slip {
            Slip::None => set,
            Slip::Flipped => self.course.legs().map(|leg| wrap(leg - change)),
            Slip::Unturned => self.course.legs(),
            Slip::Reversed(wrong) => {
                let mut card = set;
                card[wrong] = wrap(card[wrong] + CIRCLE / 2);
                card
            }
        }
    }

    /// What is right about the card.
    pub(super) fn about_card(&self, slip: Slip) -> Answer {
        about(slip.closes(), slip.wrong(), self.set()[1])
    }

    pub(super) fn card_mixups(&self, slip: Slip, list: &mut MixupList) {
        let (set, card) = (self.set()[1], self.card(slip));
        let (leg, change, closes) = (self.course.legs()[1], self.lines.change(), slip.closes());
        let as_it_stands: Option<&'static MixupMeta> = match slip {
            Slip::None => None,
            Slip::Reversed(_) => Some(&CHECK_LEFT_OUT),
            Slip::Flipped | Slip::Unturned => Some(&CLOSING_TRUSTED),
        };
        if let Some(meta) = as_it_stands {
            list.push(meta, about(true, 0, card[1]), || format!("{}, from the card", figures(card[1])));
        }
        match slip {
            Slip::None => {}
            Slip::Reversed(_) => list.push(&LEG_FOR_NORTH, about(false, NORTH, set), || "all legs by the same angle"),
            Slip::Flipped | Slip::Unturned => {
                list.push(&NORTH_BY_CLOSING, about(false, NORTH, set), || "it does not close");
            }
        }
        // Whose own numbers are those of the card finds nothing wrong with it, which has a name already.
        if slip != Slip::Flipped {
            list.push(&SIGN_FLIPPED, about(closes, NORTH, wrap(leg - change)), || sum(leg, -change));
        }
        if slip != Slip::Unturned {
            list.push(&NOT_APPLIED, about(closes, NORTH, leg), || format!("{}, unchanged", figures(leg)));
        }
        if leg + change != set {
            list.push(&NOT_WRAPPED, about(closes, slip.wrong(), leg + change), || bare_sum(leg, change));
        }
    }

    /// From the turns at the card's corners to what is wrong with it.
    pub(super) fn push_card_steps(&self, slip: Slip, steps: &mut Vec<Step>) {
        let (set, card) = (self.set(), self.card(slip));
        let corners =
            self.corner_step(card, [", and each turn to the other side is taken off", ", as the card has them"]);
        steps.push(corners.decides("What do the turns at the corners of the card make together"));
        let found = if slip.closes() {
            "So the card closes. But a wrong north turns the whole course as one piece, and that closes as well: compare the card with your own numbers"
        } else {
            "So the card does not close, and a leg is wrong. Compare the card with your own numbers"
        };
        steps.push(Step::words(found).decides("Does it close, and what can the closing check not see"));
        let compared = match slip {
            Slip::None => Step::words("All three are the same, so nothing is wrong with the card"),
            Slip::Flipped | Slip::Unturned => {
                let off = angle(card[0] - set[0]).wrapped_half().tenths();
                let (more, less) = if off < 0 { ("less", set[0]) } else { ("more", set[0]) };
                Step::new(
                    format!("Each leg has {}° {more} than it should, so the north is wrong. The first leg", size(off)),
                    sum(less, off),
                )
            }
            Slip::Reversed(leg) => Step::new(
                format!("Two legs are right. The {} leg was read at its other end", ORDER[leg]),
                sum(set[leg], if set[leg] < CIRCLE / 2 { CIRCLE / 2 } else { -CIRCLE / 2 }),
            ),
        };
        steps.push(compared.decides("Are all three off by the same angle, or is one of them off by itself"));
        let [closes, wrong] = [CLOSES[usize::from(!slip.closes())], WRONG[slip.wrong()]];
        steps.push(
            Step::new("The card, what is wrong, and the second leg", format!("{closes}; {wrong}; {}", figures(set[1])))
                .answers(),
        );
    }
}

fn about(closes: bool, wrong: usize, second: Tenths) -> Answer {
    Answer::three(Value::Choice(usize::from(!closes)), Value::Choice(wrong), Value::Angle(angle(second)))
}
