//! One member's line of the report.

use crate::drill::Standard;
use crate::learner::readiness::{Rules, Try, TryEnd};
use crate::learner::{Beliefs, NoPattern, State, WeakSpot};
use crate::problem::{Family, Level, SkillMeta, small};
use crate::session::{Changes, Readiness, Record, came_back_words, clock_went_back, taken_back_words};
use crate::store::{Learner, Patrol, Seen, SeenOutcome};
use jiff::civil::Date;

/// How somebody stands in one skill of the standard.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The level the standard asks for.
    pub level: Level,
    /// How they stand.
    pub readiness: Readiness,
    /// The tries that this rests on; empty where nothing was answered, and where a try is under way: of that nothing is
    /// told but since when.
    pub tries: Vec<Try>,
    /// The rules that those tries were made under, and whether they are still those of the standard.
    pub rules: Option<(Rules, bool)>,
    /// What a leader said of the checks that this rests on: answers annulled, waits shortened.
    pub changes: Changes,
    /// What was seen of it on the ground, the latest last.
    pub seen: Vec<Seen>,
    /// In how many checks it was begun, this one included.
    pub begun: u32,
    /// How many wrong *ready* are to be expected of those at most: the sum of their error rates.
    pub wrong_ready_at_most: f64,
}

/// How somebody stands in practice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Practised {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// What practice says.
    pub state: State,
}

/// What comes next for somebody. The report, its first page and the plan of an evening all show this one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NextStep {
    /// A check is under way.
    GoOn,
    /// A second try is due.
    SecondTry,
    /// Something was never checked.
    Check,
    /// Something has run out.
    CheckAgain,
    /// A check would ask this skill, which they have not met: it is practised first.
    Practise(&'static SkillMeta),
    /// A second try, and not before this day.
    SecondTryFrom(Date),
    /// Nothing before this day.
    Wait(Date),
    /// Ready at the laptop for all of it: now on the ground.
    SeeOutside,
    /// Ready at the laptop for all of it, and seen to do it on the ground.
    Nothing,
}

impl NextStep {
    /// In words: no capital, no full stop.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            NextStep::GoOn => "go on with the check".to_owned(),
            NextStep::SecondTry => "second try".to_owned(),
            NextStep::Check => "check".to_owned(),
            NextStep::CheckAgain => "check again".to_owned(),
            NextStep::Practise(skill) => format!("practise {}, then a check", skill.title),
            NextStep::SecondTryFrom(day) => format!("second try from {day}"),
            NextStep::Wait(day) => format!("wait until {day}, then a check"),
            NextStep::SeeOutside => "see it on the ground".to_owned(),
            NextStep::Nothing => "nothing; the leader decides".to_owned(),
        }
    }

    /// Whether it is a check that can be made today.
    #[must_use]
    pub const fn is_check(self) -> bool {
        matches!(self, NextStep::GoOn | NextStep::SecondTry | NextStep::Check | NextStep::CheckAgain)
    }

    /// Whether a check was begun before, which goes on.
    #[must_use]
    pub const fn is_begun(self) -> bool {
        matches!(self, NextStep::GoOn | NextStep::SecondTry)
    }

    /// Who needs the leader first comes first; of those who wait, whose day comes first.
    const fn rank(self) -> (u8, Option<Date>) {
        match self {
            NextStep::GoOn => (0, None),
            NextStep::SecondTry => (1, None),
            NextStep::Check => (2, None),
            NextStep::CheckAgain => (3, None),
            NextStep::Practise(_) => (4, None),
            NextStep::SecondTryFrom(day) | NextStep::Wait(day) => (5, Some(day)),
            NextStep::SeeOutside => (6, None),
            NextStep::Nothing => (7, None),
        }
    }
}

/// One member.
#[derive(Clone, Debug)]
pub struct Member {
    /// Who it is.
    pub learner: Learner,
    /// The patrol's name, if they belong to one.
    pub patrol: Option<String>,
    /// Skill by skill of the standard.
    pub cells: Vec<Cell>,
    /// All skills, as practice has them, family by family.
    pub practised: Vec<Practised>,
    /// Weak spots, the likeliest first.
    pub weak: Vec<WeakSpot>,
    /// Skills in which nothing comes right, without a pattern.
    pub without_pattern: Vec<NoPattern>,
    /// What the leader does next.
    pub next: NextStep,
    /// A day in the record that lies after today: the clock was set back, and the recorded day counts.
    pub clock_went_back_from: Option<Date>,
    /// Since when each check was under way that was left in the middle and gone on with, and how often.
    pub came_back: Vec<(Date, u32)>,
    /// On which days checks were begun beside others, as on two laptops: there the earlier decides.
    pub begun_beside: Vec<Date>,
    /// What was seen on the ground in skills that the standard does not ask, the latest last.
    pub seen_besides: Vec<Seen>,
    /// How many answers in practice were taken back as slips of the keyboard.
    pub taken_back: u32,
    /// How many checks by this standard this program cannot read; what they say is not in the table.
    pub unreadable: usize,
}

impl Member {
    /// What has to be said of the record itself, in sentences.
    #[must_use]
    pub fn cautions(&self, today: Date) -> Vec<String> {
        let clock = self.clock_went_back_from.map(|day| clock_went_back(day, today));
        let unreadable = (self.unreadable > 0).then(|| {
            format!(
                "Checks that this program cannot read, and that count for nothing here: {}. A newer program can.",
                self.unreadable
            )
        });
        let came_back = self.came_back.iter().filter_map(|(began, times)| {
            Some(format!("The check begun on {began}: {}", small(&came_back_words(*times)?)))
        });
        let taken_back = (self.taken_back > 0)
            .then(|| format!("Slips of the keyboard in practice: {}", small(&taken_back_words(self.taken_back))));
        let beside = self.begun_beside.iter().map(|began| {
            format!("A check begun on {began} was begun while an earlier one was under way or still held: the earlier one decides, this one is kept.")
        });
        clock.into_iter().chain(unreadable).chain(came_back).chain(beside).chain(taken_back).collect()
    }
}

/// Which of what was seen of somebody in a skill, the oldest first, counts: the last one that says yes or no, since an entry without
/// either says nothing against one that has it.
pub fn latest_seen<'a>(mut seen: impl DoubleEndedIterator<Item = &'a Seen> + Clone) -> Option<&'a Seen> {
    let said = seen.clone().rev().find(|seen| seen.outcome != SeenOutcome::NotSaid);
    said.or_else(|| seen.next_back())
}

impl Cell {
    /// How it went on the ground when it was seen last, if anybody said.
    #[must_use]
    pub fn seen_outcome(&self) -> Option<SeenOutcome> {
        latest_seen(self.seen.iter()).map(|seen| seen.outcome)
    }

    /// Whether they were seen to do it on the ground when they were seen last.
    #[must_use]
    pub fn is_seen(&self) -> bool {
        self.seen_outcome() == Some(SeenOutcome::Yes)
    }

    /// Whether a check could ask it on a day.
    #[must_use]
    pub fn can_be_asked(&self, day: Date) -> bool {
        match self.readiness {
            Readiness::NotChecked | Readiness::UnderWay { .. } | Readiness::CheckAgain { .. } => true,
            Readiness::SecondTry { after } => after < day,
            Readiness::NotYet { from, .. } => from <= day,
            Readiness::Ready { .. } => false,
        }
    }

    /// Whether a day that it rests on was given by hand, and not the clock's.
    #[must_use]
    pub fn day_given(&self) -> bool {
        self.tries.iter().any(|one| one.day_given)
    }

    /// Whether they are ready in it at the laptop.
    #[must_use]
    pub const fn is_ready(&self) -> bool {
        matches!(self.readiness, Readiness::Ready { .. })
    }

    /// Whether a try ended without *ready*.
    #[must_use]
    pub const fn is_missing(&self) -> bool {
        matches!(self.readiness, Readiness::NotYet { .. } | Readiness::SecondTry { .. })
    }

    /// The mix-up that ended the last try, if one did, in words.
    #[must_use]
    pub fn ended_by(&self) -> Option<&str> {
        let Some(TryEnd::Critical(id)) = &self.tries.last()?.end else { return None };
        Some(self.skill.mixup(id).map_or(id.as_str(), |mixup| mixup.said))
    }

    /// Right answers and answers of the last try.
    #[must_use]
    pub fn count(&self) -> Option<(u8, u8)> {
        self.tries.last().map(|last| (last.right, last.asked))
    }
}

impl Member {
    pub(super) fn new(
        learner: Learner,
        patrol: Option<&Patrol>,
        record: &Record,
        beliefs: &Beliefs,
        seen: Vec<Seen>,
        standard: &Standard,
        day: Date,
    ) -> Member {
        let is_asked = |seen: &Seen| standard.skills.iter().any(|one| one.skill.id == seen.skill);
        let cells: Vec<Cell> = standard
            .skills
            .iter()
            .map(|one| {
                let found = record.skill(one.skill.id, one.level, day);
                let (tries, rules) = match found.basis {
                    Some((check, tries)) => {
                        let open = matches!(found.readiness, Readiness::UnderWay { .. });
                        let told = if open { Vec::new() } else { tries.to_vec() };
                        (told, Some((check.terms.rules.clone(), check.terms.rules == standard.rules)))
                    }
                    None => (Vec::new(), None),
                };
                Cell {
                    skill: one.skill,
                    level: one.level,
                    readiness: found.readiness,
                    tries,
                    rules,
                    begun: u32::try_from(record.begun(one.skill.id, one.level).count()).unwrap_or(u32::MAX),
                    wrong_ready_at_most: record.wrong_ready_at_most(one.skill.id, one.level),
                    changes: record.changes(one.skill.id, one.level),
                    seen: seen.iter().filter(|seen| seen.skill == one.skill.id).cloned().collect(),
                }
            })
            .collect();
        let latest = record.checks.iter().filter_map(|check| check.day).max();
        let practised = by_family(beliefs, day);
        Member {
            patrol: patrol.map(|patrol| patrol.name.clone()),
            next: next_step(&cells, &practised, record, day),
            cells,
            practised,
            weak: beliefs.weak_spots(),
            without_pattern: beliefs.without_pattern(),
            unreadable: record.unreadable,
            begun_beside: record.begun_beside(),
            seen_besides: seen.iter().filter(|seen| !is_asked(seen)).cloned().collect(),
            taken_back: 0,
            came_back: record
                .checks
                .iter()
                .filter(|check| check.came_back > 0)
                .map(|check| (check.began, check.came_back))
                .collect(),
            clock_went_back_from: latest.filter(|latest| *latest > day),
            learner,
        }
    }

    /// Who needs the leader first comes first; then by name.
    pub(super) fn order(&self) -> ((u8, Option<Date>), String) {
        (self.next.rank(), self.learner.name.to_lowercase())
    }

    /// What can be practised while a check has to wait, or beside what is seen on the ground: where practice found a weak spot, or
    /// what the last check left open. None where the next step is itself something to do at the laptop.
    #[must_use]
    pub fn meanwhile(&self) -> Option<&'static SkillMeta> {
        if !matches!(self.next, NextStep::SecondTryFrom(_) | NextStep::Wait(_)) {
            return None;
        }
        let weak = self.weak.iter().flat_map(|spot| &spot.places).map(|place| place.skill);
        let lost = self.without_pattern.iter().map(|lost| lost.skill);
        let open = self.cells.iter().filter(|cell| cell.is_missing()).map(|cell| cell.skill);
        weak.chain(lost).chain(open).next()
    }

    /// What comes next, and what can be practised until then: no capital, no full stop.
    #[must_use]
    pub fn next_words(&self) -> String {
        let meanwhile = self.meanwhile().map(|skill| format!("; until then practise {}", skill.title));
        format!("{}{}", self.next.words(), meanwhile.unwrap_or_default())
    }

    /// The same for a table of the standard's skills, which explains their marks: the one that is to be practised is called by its mark.
    #[must_use]
    pub fn next_in_table(&self) -> String {
        match self.next {
            NextStep::Practise(skill) => format!("practise {}, then a check", skill.mark),
            _ => self.next_words(),
        }
    }

    /// In how many skills of the standard they were seen to do it on the ground when they were seen last.
    #[must_use]
    pub fn seen(&self) -> usize {
        self.cells.iter().filter(|cell| cell.is_seen()).count()
    }

    /// In how many skills of the standard they are ready at the laptop.
    #[must_use]
    pub fn ready(&self) -> usize {
        self.cells.iter().filter(|cell| cell.is_ready()).count()
    }

    /// What laptop and ground say together: `ready for Day outing, at the laptop and on the ground`, or what is still open where, by
    /// the marks of the skills. Whoever was never checked is not called unready.
    #[must_use]
    pub fn ready_for(&self, title: &str) -> String {
        let marks = |missing: &dyn Fn(&Cell) -> bool| {
            let cells: Vec<&Cell> = self.cells.iter().filter(|cell| missing(cell)).collect();
            let all = cells.len() == self.cells.len() && cells.len() > 1;
            let some = || cells.iter().map(|cell| cell.skill.mark).collect::<Vec<_>>().join(", ");
            (!cells.is_empty()).then(|| if all { format!("all {}", cells.len()) } else { some() })
        };
        match (marks(&|cell| !cell.is_ready()), marks(&|cell| !cell.is_seen())) {
            (None, None) => format!("ready for {title}, at the laptop and on the ground"),
            (None, Some(ground)) => {
                format!("ready for {title} at the laptop; still to be seen on the ground: {ground}")
            }
            (Some(laptop), None) => format!("for {title} still open at the laptop: {laptop}"),
            (Some(laptop), Some(ground)) => {
                format!("for {title} still open at the laptop: {laptop}; on the ground: {ground}")
            }
        }
    }
}

/// All skills family by family, in the order of teaching within each.
fn by_family(beliefs: &Beliefs, day: Date) -> Vec<Practised> {
    let of = |family| {
        let ours = beliefs.iter().filter(move |(skill, _)| skill.family == family);
        ours.map(|(skill, belief)| Practised { skill, state: belief.state(day) })
    };
    Family::ALL.into_iter().flat_map(of).collect()
}

/// The one place that decides what comes next for somebody.
fn next_step(cells: &[Cell], practised: &[Practised], record: &Record, day: Date) -> NextStep {
    use crate::learner::readiness::Next;
    let has = |wanted: fn(&Readiness) -> bool| cells.iter().any(|cell| wanted(&cell.readiness));
    let open = record.under_way();
    let askable = open.is_some_and(|check| check.next(day).any(|(_, next)| matches!(next, Next::Ask(_))));
    if askable {
        let begun = has(|one| matches!(one, Readiness::UnderWay { .. }));
        let second = has(|one| matches!(one, Readiness::SecondTry { .. }));
        return if second && !begun { NextStep::SecondTry } else { NextStep::GoOn };
    }
    if let Some(check) = open {
        let after = check.next(day).filter_map(|(_, next)| match next {
            Next::AnotherDay(after) => after.tomorrow().ok(),
            _ => None,
        });
        return NextStep::SecondTryFrom(after.min().unwrap_or(day));
    }
    // Nobody is checked before having met what is asked.
    let is_met = |cell: &&Cell| {
        let state = practised.iter().find(|one| one.skill.id == cell.skill.id).map(|one| one.state);
        state.is_some_and(|state| state != State::NotMet)
    };
    let not_met = cells.iter().filter(|cell| cell.can_be_asked(day)).find(|cell| !is_met(cell));
    let check = |step: NextStep| not_met.map_or(step, |cell| NextStep::Practise(cell.skill));
    if has(|one| matches!(one, Readiness::NotChecked)) {
        return check(NextStep::Check);
    }
    if has(|one| matches!(one, Readiness::CheckAgain { .. })) {
        return check(NextStep::CheckAgain);
    }
    let waiting = cells.iter().filter_map(|cell| match cell.readiness {
        Readiness::NotYet { from, .. } => Some(from),
        _ => None,
    });
    match waiting.min() {
        Some(from) if from <= day => check(NextStep::Check),
        Some(from) => NextStep::Wait(from),
        None if cells.iter().all(|cell| cell.seen_outcome() == Some(SeenOutcome::Yes)) => NextStep::Nothing,
        None => NextStep::SeeOutside,
    }
}
