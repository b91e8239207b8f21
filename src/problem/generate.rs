//! From a code to a problem.
//!
//! A skill implements [`Generator`], with its own type for the numbers of one item. Everything else sees [`Skill`], the
//! object-safe face that every generator has for free. Between the two stands the promise that makes mix-ups
//! diagnosable: the right answer and every listed wrong answer lie further apart than twice the tolerance.

use super::{Answer, Code, Draw, Figure, HomeAngles, Level, MixupId, Question, SkillMeta, TableProblem};
use std::borrow::Cow;

/// How often an item is drawn again to let it expose its full list of mix-ups.
const REDRAWS: usize = 64;
/// How often an item is drawn again, after that, to let it expose at least one.
const LAST_RESORT: usize = 512;
const MOST_MIXUPS: usize = 12;

/// A number or word that a solver needs, named with its unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// The stable name with the unit, e.g. `true_bearing_deg`.
    pub name: &'static str,
    /// Its value.
    pub value: FactValue,
}

/// The value of a [`Fact`].
#[derive(Clone, Debug, PartialEq)]
pub enum FactValue {
    /// A number, in the unit of the name; east and clockwise are positive.
    Number(f64),
    /// A word.
    Word(Cow<'static, str>),
}

impl Fact {
    /// A number.
    #[must_use]
    pub const fn number(name: &'static str, value: f64) -> Fact {
        Fact { name, value: FactValue::Number(value) }
    }

    /// A word.
    #[must_use]
    pub fn word(name: &'static str, value: impl Into<Cow<'static, str>>) -> Fact {
        Fact { name, value: FactValue::Word(value.into()) }
    }
}

/// One line of the worked solution: what is done, and the sum with this problem's numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What is done, e.g. `From map to compass west is added`.
    pub words: Cow<'static, str>,
    /// The sum, e.g. `048 + 17 = 065`; empty when there is none. It is what a faded example leaves blank.
    pub sum: String,
}

impl Step {
    /// A step with a sum.
    #[must_use]
    pub fn new(words: impl Into<Cow<'static, str>>, sum: String) -> Step {
        Step { words: words.into(), sum }
    }

    /// A step without.
    #[must_use]
    pub fn words(words: impl Into<Cow<'static, str>>) -> Step {
        Step { words: words.into(), sum: String::new() }
    }

    /// The whole line.
    #[must_use]
    pub fn line(&self) -> String {
        if self.sum.is_empty() { self.words.clone().into_owned() } else { format!("{}: {}", self.words, self.sum) }
    }
}

/// The learner's own working beside the right one, as the numbers tell it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paths {
    /// What the mix-up does with these numbers, e.g. `048 − 17 = 031`.
    pub yours: String,
    /// What is right, with the rule: `From map to compass west is added: 048 + 17 = 065`.
    pub right: String,
}

/// A wrong answer with one name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mixup {
    /// The mix-up.
    pub id: MixupId,
    /// What it answers here.
    pub answer: Answer,
}

/// The mix-ups of one item, at most twelve, without allocation.
#[derive(Clone, Copy, Debug)]
pub struct MixupList {
    items: [Option<Mixup>; MOST_MIXUPS],
    count: usize,
}

impl Default for MixupList {
    fn default() -> MixupList {
        MixupList::EMPTY
    }
}

impl MixupList {
    const EMPTY: MixupList = MixupList { items: [None; MOST_MIXUPS], count: 0 };

    /// Adds a wrong answer. A generator adds all its formulas; collisions are dealt with here.
    pub fn push(&mut self, id: MixupId, answer: Answer) {
        debug_assert!(self.count < MOST_MIXUPS, "more mix-ups than a list holds");
        if let Some(slot) = self.items.get_mut(self.count) {
            *slot = Some(Mixup { id, answer });
            self.count += 1;
        }
    }

    /// All of them, in the generator's order.
    pub fn iter(&self) -> impl Iterator<Item = &Mixup> {
        self.items[..self.count].iter().flatten()
    }

    /// How many.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.count
    }

    /// Whether there are none.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.count == 0
    }

    fn all_apart(&self, question: &Question, right: &Answer) -> bool {
        self.iter().enumerate().all(|(at, mixup)| {
            question.apart(&mixup.answer, right)
                && self.iter().take(at).all(|other| question.apart(&mixup.answer, &other.answer))
        })
    }

    /// Only those that nothing else could be taken for: where two collide, neither names a cause.
    fn only_apart(&self, question: &Question, right: &Answer) -> MixupList {
        let mut kept = MixupList::EMPTY;
        for (at, mixup) in self.iter().enumerate() {
            let alone = self
                .iter()
                .enumerate()
                .all(|(other_at, other)| other_at == at || question.apart(&mixup.answer, &other.answer));
            if alone && question.apart(&mixup.answer, right) {
                kept.push(mixup.id, mixup.answer);
            }
        }
        kept
    }
}

/// A problem without its words: all that judging needs.
#[derive(Clone, Debug)]
pub struct Outline {
    /// What is asked.
    pub question: Question,
    /// The right answer.
    pub answer: Answer,
    /// The mix-ups this item exposes.
    pub mixups: MixupList,
}

/// One generated question with its answer, worked steps and mix-ups.
#[derive(Clone, Debug)]
pub struct Problem {
    /// What regenerates it.
    pub code: Code,
    /// The text of the question.
    pub prompt: String,
    /// All that a solver needs.
    pub facts: Vec<Fact>,
    /// Question, right answer and mix-ups.
    pub outline: Outline,
    /// The worked solution with these numbers; its last line ends in the answer.
    pub steps: Vec<Step>,
}

/// Why a code gives no problem.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ProblemError {
    /// The declination (or G-M angle) in the code is too small to tell right from wrong.
    #[error(
        "with these angles of home ground a right and a wrong way of {0} give nearly the same number; use a code without them"
    )]
    NothingToTellApart(&'static str),
}

/// What a skill is made of: numbers drawn from a level, and everything that follows from the numbers.
///
/// `draw` is the only random part. All other methods are functions of the item.
pub trait Generator: Sync {
    /// The numbers of one problem.
    type Item;

    /// What is known of the skill.
    fn meta(&self) -> &'static SkillMeta;
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
    /// Every mix-up's answer on these numbers, whether or not they collide.
    fn mixups(&self, item: &Self::Item, list: &mut MixupList);
    /// All that a solver needs.
    fn facts(&self, item: &Self::Item) -> Vec<Fact>;
    /// The text of the question.
    fn prompt(&self, item: &Self::Item) -> String;
    /// The worked solution.
    fn steps(&self, item: &Self::Item) -> Vec<Step>;
    /// A nudge that does not give the answer away.
    fn hint(&self, item: &Self::Item) -> String;
    /// The mix-up's working beside the right one.
    fn paths(&self, item: &Self::Item, mixup: MixupId) -> Paths;
    /// The figure shown with the question.
    fn figure(&self, _item: &Self::Item) -> Figure {
        Figure::None
    }
    /// What lies on the map table; none for a question that is answered by typing or choosing.
    fn table(&self, _item: &Self::Item) -> Option<TableProblem> {
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

    /// The problem without its words.
    ///
    /// # Errors
    /// [`ProblemError`] when the home angles in the code leave nothing to tell apart.
    fn outline(&self, code: &Code) -> Result<Outline, ProblemError>;

    /// The whole problem.
    ///
    /// # Errors
    /// As [`Skill::outline`].
    fn problem(&self, code: &Code) -> Result<Problem, ProblemError>;

    /// A nudge that does not give the answer away.
    ///
    /// # Errors
    /// As [`Skill::outline`].
    fn hint(&self, code: &Code) -> Result<String, ProblemError>;

    /// The mix-up's working beside the right one.
    ///
    /// # Errors
    /// As [`Skill::outline`].
    fn paths(&self, code: &Code, mixup: MixupId) -> Result<Paths, ProblemError>;

    /// The figure shown with the question.
    ///
    /// # Errors
    /// As [`Skill::outline`].
    fn figure(&self, code: &Code) -> Result<Figure, ProblemError>;

    /// The figure shown with the verdict.
    ///
    /// # Errors
    /// As [`Skill::outline`].
    fn explanation(&self, code: &Code, given: Option<&Answer>) -> Result<Figure, ProblemError>;

    /// What lies on the map table, where the question is work at it.
    ///
    /// # Errors
    /// As [`Skill::outline`].
    fn table(&self, code: &Code) -> Result<Option<TableProblem>, ProblemError>;
}

impl<G: Generator> Skill for G {
    fn meta(&self) -> &'static SkillMeta {
        Generator::meta(self)
    }

    fn outline(&self, code: &Code) -> Result<Outline, ProblemError> {
        realise(self, code).map(|(_, outline)| outline)
    }

    fn problem(&self, code: &Code) -> Result<Problem, ProblemError> {
        let (item, outline) = realise(self, code)?;
        Ok(Problem {
            code: *code,
            prompt: self.prompt(&item),
            facts: self.facts(&item),
            steps: self.steps(&item),
            outline,
        })
    }

    fn hint(&self, code: &Code) -> Result<String, ProblemError> {
        Ok(Generator::hint(self, &realise(self, code)?.0))
    }

    fn paths(&self, code: &Code, mixup: MixupId) -> Result<Paths, ProblemError> {
        Ok(Generator::paths(self, &realise(self, code)?.0, mixup))
    }

    fn figure(&self, code: &Code) -> Result<Figure, ProblemError> {
        Ok(Generator::figure(self, &realise(self, code)?.0))
    }

    fn explanation(&self, code: &Code, given: Option<&Answer>) -> Result<Figure, ProblemError> {
        Ok(Generator::explanation(self, &realise(self, code)?.0, given))
    }

    fn table(&self, code: &Code) -> Result<Option<TableProblem>, ProblemError> {
        Ok(Generator::table(self, &realise(self, code)?.0))
    }
}

/// Draws until the item exposes its full list; failing that, keeps what it can expose, but never nothing.
fn realise<G: Generator>(generator: &G, code: &Code) -> Result<(G::Item, Outline), ProblemError> {
    let meta = Generator::meta(generator);
    if code.home.is_some_and(|home| generator.too_small(code.level, home)) {
        return Err(ProblemError::NothingToTellApart(meta.id));
    }
    let mut draw = Draw::new(meta.mark, code.level.number(), meta.generation, code.seed);
    for attempt in 0..REDRAWS + LAST_RESORT {
        let item = generator.draw(code.level, code.home, &mut draw);
        let (question, answer) = (generator.question(&item), generator.answer(&item));
        let mut mixups = MixupList::EMPTY;
        generator.mixups(&item, &mut mixups);
        if !mixups.is_empty() && mixups.all_apart(&question, &answer) {
            return Ok((item, Outline { question, answer, mixups }));
        }
        if attempt + 1 >= REDRAWS {
            let mixups = mixups.only_apart(&question, &answer);
            if !mixups.is_empty() {
                return Ok((item, Outline { question, answer, mixups }));
            }
        }
    }
    Err(ProblemError::NothingToTellApart(meta.id))
}
