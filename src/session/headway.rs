//! Progress that one can feel: where somebody stands on the way, how far it is to a day outing, what was done so far.

use super::next::{next_new, open_step};
use super::overview::and_words;
use super::plan::Plan;
use super::words::taken_back_words;
use crate::angle::North;
use crate::drill::Standard;
use crate::learner::{Beliefs, OpenStep, State};
use crate::numbers::whole;
use crate::problem::{NorthLines, SkillMeta};
use crate::store::{AnswerCount, Progress};
use jiff::civil::Date;

/// Where somebody stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Headway {
    /// The step of a newcomer's way, where that decides.
    pub step: Option<OpenStep>,
    /// What it brings next.
    pub new: Option<&'static SkillMeta>,
    /// How far it is to the standard that most groups use.
    pub outing: Option<Outing>,
    /// What was done so far.
    pub progress: Progress,
}

/// How far it is to a standard, by practice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outing {
    /// The standard's title.
    pub title: String,
    /// How many of its skills are sure at the level that it asks.
    pub sure: usize,
    /// How many skills it has.
    pub of: usize,
}

impl Headway {
    /// Where somebody stands on a day who would practise by this plan.
    #[must_use]
    pub fn new(beliefs: &Beliefs, day: Date, plan: &Plan, progress: Progress) -> Headway {
        let (step, new) = (open_step(plan, beliefs), next_new(plan, beliefs));
        Headway { step, new, outing: outing(beliefs, day, plan), progress }
    }

    /// All of it in sentences, but for how the last sittings went.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        let new = self.new.map(|new| format!(" New next: \"{}\".", new.title)).unwrap_or_default();
        let way = self.step.map(|step| format!("On the way: {step}.{new}"));
        let outing = self.outing.as_ref().map(|Outing { title, sure, of }| {
            format!("Towards \"{title}\": {sure} of its {of} skills sure at the level it asks.")
        });
        way.into_iter().chain(outing).chain([progress_words(&self.progress)]).collect()
    }

    /// How many of 100 were right without help in each of the last sittings, the oldest first.
    #[must_use]
    pub fn shares(&self) -> Vec<u8> {
        let share = |sitting: &AnswerCount| {
            (sitting.alone > 0).then(|| whole((f64::from(sitting.right) / f64::from(sitting.alone) * 100.0).round()))
        };
        self.progress.sittings.iter().filter_map(share).collect()
    }

    /// The same in words; none where nothing was answered without help.
    #[must_use]
    pub fn shares_words(&self) -> Option<String> {
        let shares: Vec<String> = self.shares().iter().map(|share| format!("{share} %")).collect();
        let shown: Vec<&str> = shares.iter().map(String::as_str).collect();
        match shown.len() {
            0 => None,
            1 => Some(format!("Right by yourself in the last sitting: {}.", shares[0])),
            count => Some(format!("Right by yourself in the last {count} sittings: {}.", and_words(&shown))),
        }
    }
}

fn outing(beliefs: &Beliefs, day: Date, plan: &Plan) -> Option<Outing> {
    let north = |lines: &NorthLines| match lines {
        NorthLines::Magnetic => Some(North::Magnetic),
        NorthLines::True => Some(North::True),
        NorthLines::Grid => Some(North::Grid),
        NorthLines::Any => None,
    };
    let norths: Vec<North> = plan.home.lines.iter().filter_map(north).collect();
    // All of them stand there, too, while none are set.
    let lines = (norths.len() < 3).then_some(norths);
    let standard = Standard::embedded().iter().find(|standard| standard.name == Standard::DEFAULT)?;
    let standard = standard.clone().on_lines(lines.as_deref());
    let is_sure = |skill: &SkillMeta, level| {
        beliefs.skill(skill.id).is_some_and(|belief| belief.state(day) == State::Sure && belief.level() >= level)
    };
    let sure = standard.skills.iter().filter(|one| is_sure(one.skill, one.level)).count();
    Some(Outing { title: standard.title, sure, of: standard.skills.len() })
}

/// What was done so far, as a sentence or two: `So far: 3 evenings, 45 problems, 30 right by yourself and 4 of 6 right after help.`
#[must_use]
pub fn progress_words(progress: &Progress) -> String {
    if progress.answers.all() == 0 {
        return "Nothing answered yet.".to_owned();
    }
    let evenings = if progress.days == 1 { "1 evening".to_owned() } else { format!("{} evenings", progress.days) };
    let back = match progress.taken_back {
        0 => String::new(),
        times => format!(" {}", taken_back_words(times)),
    };
    format!("So far: {evenings}, {}.{back}", answers_words(progress.answers))
}

/// Answers in words, those after help apart: `20 problems, 12 right`, `20 problems, 12 right by yourself and 2 of 3 right after help`.
#[must_use]
pub fn answers_words(count: AnswerCount) -> String {
    let AnswerCount { right, helped, helped_right, .. } = count;
    let problems = if count.all() == 1 { "problem" } else { "problems" };
    let help = match helped {
        0 => String::new(),
        _ => format!(" by yourself and {helped_right} of {helped} right after help"),
    };
    format!("{} {problems}, {right} right{help}", count.all())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config::Config;
    use crate::learner::{Evidence, Outcome, Placement};
    use crate::problem::Level;
    use crate::session::GroundCard;
    use crate::skills;
    use jiff::civil::date;

    const DAY: Date = date(2026, 11, 25);

    fn count(alone: u32, right: u32) -> AnswerCount {
        AnswerCount { alone, right, helped: 0, helped_right: 0 }
    }

    fn plan() -> Plan {
        Plan::free(GroundCard::new(&Config::default(), "", DAY).home)
    }

    #[test]
    fn a_newcomer_stands_at_the_first_step_with_all_of_the_outing_before_them() {
        let beliefs = Beliefs::new(&skills::metas().collect::<Vec<_>>(), Placement::Fresh);
        let headway = Headway::new(&beliefs, DAY, &plan(), Progress::default());
        let lines = [
            "On the way: step 1 of 6, the dial and the needle. New next: \"Read the dial\".",
            "Towards \"Day outing\": 0 of its 6 skills sure at the level it asks.",
            "Nothing answered yet.",
        ];
        assert_eq!(headway.lines(), lines);
        assert_eq!(headway.shares_words(), None);
        let only = Headway::new(&beliefs, DAY, &plan().with_skills(&["turns"], None), Progress::default());
        assert_eq!(only.step, None, "where skills were asked for, no way decides");
    }

    #[test]
    fn a_skill_of_the_outing_counts_when_it_is_sure_at_the_level_asked() {
        let mut beliefs = Beliefs::new(&skills::metas().collect::<Vec<_>>(), Placement::Fresh);
        let right = |beliefs: &mut Beliefs| {
            let (level, outcome) = (Level::FOUR, Outcome::Right);
            let (at, exposed) = (jiff::Timestamp::UNIX_EPOCH, &[]);
            let skill = "box-detour";
            let given = Evidence { skill, level, day: DAY, outcome, exposed, hinted: false, explained: true, at };
            beliefs.observe(&given).expect("a skill");
        };
        let sure = |beliefs: &Beliefs| outing(beliefs, DAY, &plan()).map(|outing| outing.sure);
        let level = |beliefs: &Beliefs| beliefs.skill("box-detour").unwrap().level();
        let mut seen = Vec::new();
        for _ in 0..12 {
            right(&mut beliefs);
            let is_sure = beliefs.skill("box-detour").unwrap().state(DAY) == State::Sure;
            let wanted = usize::from(is_sure && level(&beliefs) >= Level::new(2).unwrap());
            assert_eq!(sure(&beliefs), Some(wanted));
            seen.push(wanted);
        }
        assert!(seen.contains(&0) && seen.contains(&1), "{seen:?}");
    }

    #[test]
    fn what_was_done_so_far_is_said_with_what_came_after_help_apart() {
        let answers = AnswerCount { alone: 12, right: 9, helped: 3, helped_right: 2 };
        let progress =
            Progress { days: 2, answers, sittings: vec![count(2, 1), count(0, 0), count(8, 8)], taken_back: 2 };
        assert_eq!(
            progress_words(&progress),
            "So far: 2 evenings, 15 problems, 9 right by yourself and 2 of 3 right after help. Taken back: twice."
        );
        assert_eq!(answers_words(count(1, 0)), "1 problem, 0 right");
        let headway = Headway { step: None, new: None, outing: None, progress };
        assert_eq!(headway.shares(), [50, 100]);
        let words = "Right by yourself in the last 2 sittings: 50 % and 100 %.";
        assert_eq!(headway.shares_words().as_deref(), Some(words));
    }
}
