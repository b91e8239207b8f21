//! A skill that asks for a number in half of its problems and for the hands in the others.

use super::Orienting;
use crate::problem::{
    Answer, Draw, Facts, Figure, Generator, HomeAngles, Level, MixupList, OtherWay, Question, SkillMeta, Step,
    TableProblem,
};

/// A skill whose work can also be done by hand.
pub(in crate::skills) trait ByHand: Generator {
    /// Draws a problem by hand.
    fn by_hand(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Orienting;
}

/// Half the problems of a skill as numbers, half by hand.
pub(in crate::skills) struct NumberOrHand<G>(pub G);

/// The numbers of one problem.
pub(in crate::skills) enum Either<N> {
    /// A number is asked.
    Number(N),
    /// The hands are asked.
    Hand(Box<Orienting>),
}

impl<G: ByHand> Generator for NumberOrHand<G> {
    type Item = Either<G::Item>;

    fn meta(&self) -> &'static SkillMeta {
        Generator::meta(&self.0)
    }

    fn reckons_with_old_maps(&self, level: Level) -> bool {
        self.0.reckons_with_old_maps(level)
    }

    fn too_small(&self, level: Level, home: HomeAngles) -> bool {
        self.0.too_small(level, home)
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Self::Item {
        let number = self.0.draw(level, home, draw);
        if draw.chance(1, 2) {
            Either::Hand(Box::new(self.0.by_hand(level, home, draw)))
        } else {
            Either::Number(number)
        }
    }

    fn question(&self, item: &Self::Item) -> Question {
        match item {
            Either::Number(item) => self.0.question(item),
            Either::Hand(_) => Orienting::question(),
        }
    }

    fn answer(&self, item: &Self::Item) -> Answer {
        match item {
            Either::Number(item) => self.0.answer(item),
            Either::Hand(hand) => hand.answer(),
        }
    }

    fn other_ways(&self, item: &Self::Item) -> Vec<OtherWay> {
        match item {
            Either::Number(item) => self.0.other_ways(item),
            Either::Hand(hand) => hand.other_ways(),
        }
    }

    fn mixups(&self, item: &Self::Item, list: &mut MixupList) {
        match item {
            Either::Number(item) => self.0.mixups(item, list),
            Either::Hand(hand) => hand.mixups(Generator::meta(&self.0).mixups, list),
        }
    }

    fn right_way(&self, item: &Self::Item) -> String {
        match item {
            Either::Number(item) => self.0.right_way(item),
            Either::Hand(hand) => hand.right_way(),
        }
    }

    fn facts(&self, item: &Self::Item) -> Facts {
        match item {
            Either::Number(item) => self.0.facts(item),
            Either::Hand(hand) => hand.facts(),
        }
    }

    fn prompt(&self, item: &Self::Item) -> String {
        match item {
            Either::Number(item) => self.0.prompt(item),
            Either::Hand(hand) => hand.prompt(),
        }
    }

    fn steps(&self, item: &Self::Item) -> Vec<Step> {
        match item {
            Either::Number(item) => self.0.steps(item),
            Either::Hand(hand) => hand.steps(),
        }
    }

    fn hint(&self, item: &Self::Item) -> String {
        match item {
            Either::Number(item) => self.0.hint(item),
            Either::Hand(hand) => hand.hint(),
        }
    }

    fn figure(&self, item: &Self::Item) -> Figure {
        match item {
            Either::Number(item) => self.0.figure(item),
            Either::Hand(_) => Figure::None,
        }
    }

    fn table(&self, item: &Self::Item) -> Option<TableProblem> {
        match item {
            Either::Number(_) => None,
            Either::Hand(hand) => Some(hand.table()),
        }
    }

    fn explanation(&self, item: &Self::Item, given: Option<&Answer>) -> Figure {
        match item {
            Either::Number(item) => self.0.explanation(item, given),
            Either::Hand(_) => Figure::None,
        }
    }
}
