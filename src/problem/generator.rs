//! What a skill is made of, and how a code becomes a problem.
//!
//! A skill implements [`Generator`], with its own type for the numbers of one item. Everything else sees [`Skill`], the
//! object-safe face that every generator has for free. Between the two stands the promise that makes mix-ups
//! diagnosable: the right answer and every listed wrong answer lie further apart than twice the tolerance.

use super::TableProblem;
use super::item::Item;
use super::mixup::Told;
use super::{
    Answer, Code, Draw, Facts, Figure, HomeAngles, Level, MixupList, OtherWay, Problem, Question, SkillMeta, Step,
};
use std::sync::Arc;

/// How often an item is drawn again to let it expose its full list of mix-ups.
const REDRAWS: usize = 64;
/// How often an item is drawn again, after that, to let it expose at least one.
const LAST_RESORT: usize = 512;

/// Why a code gives no problem.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ProblemError {
    /// The declination (or G-M angle) in the code is too small to tell right from wrong.
    #[error(
        "with these angles of home ground a right and a wrong way of {0} give nearly the same number; use a code without them"
    )]
    NothingToTellApart(&'static str),
    /// The level reckons with an old map, and a code carries nothing of home ground's past.
    #[error(
        "{0} reckons with old maps at this level, and what the declination of home ground was is in no code; use a code without the angles of home ground"
    )]
    NoHistory(&'static str),
}

/// What a skill is made of: numbers drawn from a level, and everything that follows from the numbers.
///
/// `draw` is the only random part. All other methods are functions of the item.
pub trait Generator: Sync + 'static {
    /// The numbers of one problem.
    type Item: Send + Sync + 'static;

    /// What is known of the skill.
    fn meta(&self) -> &'static SkillMeta;
    /// Whether problems of a level reckon with old maps: on home ground these would have to tell its true history, which no
    /// code carries, so that they are set elsewhere. An invented one contradicted `north` by sign in half of the problems.
    fn reckons_with_old_maps(&self, _level: Level) -> bool {
        false
    }
    /// Whether the angles of this home ground, as problems of this level show them, are too small to be asked about: then
    /// no problem is drawn there.
    fn too_small(&self, _level: Level, _home: HomeAngles) -> bool {
        false
    }
    /// Draws the numbers. `home` is given only to skills whose `on_home` is set.
    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Self::Item;
    /// What is asked.
    fn question(&self, item: &Self::Item) -> Question;
    /// The right answer.
    fn answer(&self, item: &Self::Item) -> Answer;
    /// Answers that are right as well, by another way of working.
    fn other_ways(&self, _item: &Self::Item) -> Vec<OtherWay> {
        Vec::new()
    }
    /// Every mix-up with its answer on these numbers and its way of working, whether or not they collide.
    fn mixups(&self, item: &Self::Item, list: &mut MixupList);
    /// The right way in one line, with its rule, to stand beside a mix-up's: `From map to compass west is added: 048 + 17 =
    /// 065`.
    fn right_way(&self, item: &Self::Item) -> String;
    /// All that a solver needs.
    fn facts(&self, item: &Self::Item) -> Facts;
    /// The text of the question.
    fn prompt(&self, item: &Self::Item) -> String;
    /// The worked solution; its last line ends in the answer.
    fn steps(&self, item: &Self::Item) -> Vec<Step>;

    /// A caution that belongs to the work outdoors; it stands below the steps, where it breaks no line of thought.
    fn caution(&self) -> Option<&'static str> {
        None
    }
    /// A nudge that does not give the answer away.
    fn hint(&self, item: &Self::Item) -> String;
    /// The figure shown with the question.
    fn figure(&self, _item: &Self::Item) -> Figure {
        Figure::None
    }
    /// What lies on the map table; none for a question that is answered by typing or choosing.
    fn table(&self, _item: &Self::Item) -> Option<TableProblem> {
        None
    }
    /// The figure of one worked step (counted from 0), where the work is shown step by step on the map.
    fn step_figure(&self, _item: &Self::Item, _step: usize) -> Option<Figure> {
        None
    }
    /// The figure shown with the verdict: it explains, and carries the learner's own answer where that can be drawn.
    fn explanation(&self, item: &Self::Item, _given: Option<&Answer>) -> Figure {
        self.figure(item)
    }
}

/// A skill as everything but its own file sees it.
pub trait Skill: Sync {
    /// What is known of the skill.
    fn meta(&self) -> &'static SkillMeta;

    /// The problem of a code of this skill. [`realise`] finds the skill by itself.
    ///
    /// # Errors
    /// [`ProblemError`] when the home angles in the code leave nothing to tell apart.
    fn realise(&'static self, code: &Code) -> Result<Problem, ProblemError>;
}

impl std::fmt::Debug for dyn Skill {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.meta().id)
    }
}

/// A skill is known by its mark.
impl PartialEq for dyn Skill {
    fn eq(&self, other: &dyn Skill) -> bool {
        self.meta().mark == other.meta().mark
    }
}

/// Makes the problem of a code, whole: what follows from it (text, figures, steps) can no longer fail.
///
/// # Errors
/// [`ProblemError`] when the home angles in the code leave nothing to tell apart.
pub fn realise(code: &Code) -> Result<Problem, ProblemError> {
    code.skill.realise(code)
}

impl<G: Generator> Skill for G {
    fn meta(&self) -> &'static SkillMeta {
        Generator::meta(self)
    }

    /// Draws until the item exposes its full list; failing that, keeps what it can expose, but never nothing.
    fn realise(&'static self, code: &Code) -> Result<Problem, ProblemError> {
        let meta = Generator::meta(self);
        if code.home.is_some() && self.reckons_with_old_maps(code.level) {
            return Err(ProblemError::NoHistory(meta.id));
        }
        if code.home.is_some_and(|home| self.too_small(code.level, home)) {
            return Err(ProblemError::NothingToTellApart(meta.id));
        }
        let mut draw = Draw::new(meta.mark, code.level.number(), meta.generation, code.seed);
        for attempt in 0..REDRAWS + LAST_RESORT {
            let item = self.draw(code.level, code.home, &mut draw);
            let (question, answer) = (self.question(&item), self.answer(&item));
            let fits = question.fields().len() == answer.values().len();
            assert!(!cfg!(checked) || fits, "{}: a value for each field", meta.id);
            let mut mixups = MixupList::default();
            self.mixups(&item, &mut mixups);
            let other_ways = self.other_ways(&item);
            let Told { places, whole } = mixups.told(&question, &answer, &other_ways);
            // Only the item's own collisions call for another one.
            if !places.is_empty() && (whole || attempt + 1 >= REDRAWS) {
                let item = Arc::new(Drawn { generator: self, item });
                let mixups = mixups.keep(&places);
                return Ok(Problem::new(*code, question, answer, other_ways, (places, mixups), item));
            }
        }
        Err(ProblemError::NothingToTellApart(meta.id))
    }
}

/// An item with the skill that it belongs to.
struct Drawn<G: Generator> {
    generator: &'static G,
    item: G::Item,
}

impl<G: Generator> Item for Drawn<G> {
    fn facts(&self) -> Facts {
        self.generator.facts(&self.item)
    }

    fn prompt(&self) -> String {
        self.generator.prompt(&self.item)
    }

    fn steps(&self) -> Vec<Step> {
        let mut steps = self.generator.steps(&self.item);
        steps.extend(self.generator.caution().map(Step::caution));
        steps
    }

    fn hint(&self) -> String {
        self.generator.hint(&self.item)
    }

    fn way(&self, place: usize) -> Option<String> {
        let mut list = MixupList::wanting(place);
        self.generator.mixups(&self.item, &mut list);
        list.into_way()
    }

    fn right_way(&self) -> String {
        self.generator.right_way(&self.item)
    }

    fn figure(&self) -> Figure {
        self.generator.figure(&self.item)
    }

    fn explanation(&self, given: Option<&Answer>) -> Figure {
        self.generator.explanation(&self.item, given)
    }

    fn step_figure(&self, step: usize) -> Option<Figure> {
        self.generator.step_figure(&self.item, step)
    }

    fn table(&self) -> Option<TableProblem> {
        self.generator.table(&self.item)
    }
}
