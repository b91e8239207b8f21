//! One problem, whole.

use super::{Answer, Code, Facts, Figure, Mixup, MixupId, Question, SkillMeta, Step, TableProblem};
use crate::scene::Scene;
use crate::terrain::Detail;
use smallvec::SmallVec;
use std::sync::{Arc, OnceLock};

/// A number that differs by less is the learner's own, printed in whole degrees.
const OWN_NUMBER_DEG: f64 = 0.5;

/// What a drawn item tells of itself; every generator's items do.
pub(super) trait Item: Send + Sync {
    fn facts(&self) -> Facts;
    fn prompt(&self) -> String;
    fn steps(&self) -> Vec<Step>;
    fn hint(&self) -> String;
    /// The way of the mix-up that the generator adds at this place.
    fn way(&self, place: usize) -> Option<String>;
    fn right_way(&self) -> String;
    fn figure(&self) -> Figure;
    fn explanation(&self, given: Option<&Answer>) -> Figure;
    fn step_figure(&self, step: usize) -> Option<Figure>;
    fn table(&self) -> Option<TableProblem>;
}

/// The learner's own working beside the right one, as the numbers tell it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paths {
    /// What the mix-up does with these numbers, e.g. `048 − 17 = 031`.
    pub yours: String,
    /// What is right, with the rule: `From map to compass west is added: 048 + 17 = 065`.
    pub right: String,
}

/// An answer that is right by another way of working than the one that is taught.
#[derive(Clone, Debug, PartialEq)]
pub struct OtherWay {
    /// The answer.
    pub answer: Answer,
    /// What was done, with its subject: `you held the needle beside the arrow`.
    pub said: &'static str,
    /// Whether it comes out better than the way that is taught.
    pub better: bool,
}

impl OtherWay {
    /// The verdict in a sentence: `Right, in another way: you held the needle beside the arrow.`
    #[must_use]
    pub fn headline(&self) -> String {
        format!("Right, {}: {}.", if self.better { "and better still" } else { "in another way" }, self.said)
    }
}

/// One generated question with its answer, worked steps and mix-ups.
///
/// [`realise`](super::realise) makes it once; it holds its item, so that nothing about it can fail any more. Texts are made when they
/// are first asked for.
#[derive(Clone)]
pub struct Problem {
    code: Code,
    question: Question,
    answer: Answer,
    other_ways: Vec<OtherWay>,
    mixups: Vec<Mixup>,
    /// The place of each mix-up in its generator's list.
    places: SmallVec<[usize; 8]>,
    item: Arc<dyn Item>,
    facts: OnceLock<Facts>,
    prompt: OnceLock<String>,
    steps: OnceLock<Vec<Step>>,
}

impl std::fmt::Debug for Problem {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Problem").field("code", &self.code.to_string()).field("answer", &self.answer).finish()
    }
}

impl Problem {
    pub(super) fn new(
        code: Code,
        question: Question,
        answer: Answer,
        other_ways: Vec<OtherWay>,
        (places, mixups): (SmallVec<[usize; 8]>, Vec<Mixup>),
        item: Arc<dyn Item>,
    ) -> Problem {
        Problem {
            code,
            question,
            answer,
            other_ways,
            mixups,
            places,
            item,
            facts: OnceLock::new(),
            prompt: OnceLock::new(),
            steps: OnceLock::new(),
        }
    }

    /// What regenerates it.
    #[must_use]
    pub const fn code(&self) -> &Code {
        &self.code
    }

    /// What is known of its skill.
    #[must_use]
    pub fn skill(&self) -> &'static SkillMeta {
        self.code.skill.meta()
    }

    /// What is asked.
    #[must_use]
    pub const fn question(&self) -> &Question {
        &self.question
    }

    /// The right answer.
    #[must_use]
    pub const fn answer(&self) -> &Answer {
        &self.answer
    }

    /// The other way of working that gives this answer, right as well; none for the answer of the way that is taught.
    #[must_use]
    pub fn other_way(&self, given: &Answer) -> Option<&OtherWay> {
        let own = self.question.same(given, &self.answer);
        self.other_ways.iter().find(|other| !own && self.question.same(given, &other.answer))
    }

    /// The mix-ups this item exposes, in the skill's order.
    #[must_use]
    pub fn mixups(&self) -> &[Mixup] {
        &self.mixups
    }

    /// Whether it exposes a mix-up.
    #[must_use]
    pub fn exposes(&self, id: MixupId) -> bool {
        self.mixups.iter().any(|mixup| mixup.meta.id == id)
    }

    /// All that a solver needs.
    #[must_use]
    pub fn facts(&self) -> &Facts {
        self.facts.get_or_init(|| self.item.facts())
    }

    /// The text of the question.
    #[must_use]
    pub fn prompt(&self) -> &str {
        self.prompt.get_or_init(|| self.item.prompt())
    }

    /// The worked solution with these numbers; its last line ends in the answer.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        self.steps.get_or_init(|| self.item.steps())
    }

    /// A nudge that does not give the answer away.
    #[must_use]
    pub fn hint(&self) -> String {
        self.item.hint()
    }

    /// What is right, with the rule.
    #[must_use]
    pub fn right_way(&self) -> String {
        self.item.right_way()
    }

    /// The mix-up's working beside the right one. Of a mix-up with several answers the way of the one that was given; none
    /// where what was given is none of them: hands can make one mistake in many ways, and their numbers are their own. At the
    /// table a way is told of its own number alone, to half a degree.
    #[must_use]
    pub fn paths(&self, id: MixupId, given: &Answer) -> Option<Paths> {
        let listed = || (0..self.mixups.len()).filter(|at| self.mixups[*at].meta.id == id);
        let at_table = matches!(self.question, Question::Table(_));
        let own = |at: &usize| {
            let answer = &self.mixups[*at].answer;
            let near = |off: &Option<f64>| off.is_none_or(|off| off.abs() <= OWN_NUMBER_DEG);
            self.question.same(given, answer) && (!at_table || self.question.off_by(given, answer).iter().all(near))
        };
        let at = listed().find(own)?;
        Some(Paths { yours: self.item.way(self.places[at])?, right: self.right_way() })
    }

    /// The figure shown with the question.
    #[must_use]
    pub fn figure(&self) -> Figure {
        self.item.figure()
    }

    /// The figure shown with the verdict, with what was answered where that can be drawn.
    #[must_use]
    pub fn explanation(&self, given: Option<&Answer>) -> Figure {
        self.item.explanation(given)
    }

    /// The figure of a worked step (counted from 0), where the work is shown step by step.
    #[must_use]
    pub fn step_figure(&self, step: usize) -> Option<Figure> {
        self.item.step_figure(step).filter(|_| step < self.steps().len())
    }

    /// What is drawn of it on a page with these sides in mm: the map table with what lies on it, or its figure; none where it is told
    /// in words alone.
    #[must_use]
    pub fn scene(&self, width_mm: f64, height_mm: f64) -> Option<Scene> {
        match self.table() {
            Some(table) => Some(table.scene()),
            None => self.figure().scene(width_mm, height_mm),
        }
    }

    /// What lies on the map table, where the question is work at it.
    #[must_use]
    pub fn table(&self) -> Option<TableProblem> {
        let detail = match self.code.level.number() {
            1 => Detail::Little,
            2 => Detail::Some,
            _ => Detail::Full,
        };
        Some(TableProblem { detail, ..self.item.table()? })
    }

    /// The worked steps as lines.
    #[must_use]
    pub fn step_lines(&self) -> Vec<String> {
        self.steps().iter().map(Step::line).collect()
    }
}
