//! From the report to the plan.

use super::{DueCheck, EVENING_MINUTES, Evening, Guest, Job, Pair, Slot, Topic};
use crate::game::GAMES;
use crate::learner::readiness::Next;
use crate::report::{Cell, Member, NextStep, Report};
use crate::session::{Terms, is_written_skill};
use crate::store::LearnerId;

/// A round and a game have so many minutes each, and with fewer than this in all there is none.
const TOGETHER: u32 = 10;
const ROUND_FROM: u32 = 40;
const GAME_FROM: u32 = 60;
/// How long somebody practises at the laptop.
const PRACTICE: u32 = 10;
/// Less than this is no practice of its own.
const SHORTEST: u32 = 6;
/// After so many minutes those without the laptop do something else.
const LONGEST: u32 = 20;

impl Guest {
    /// What a member's line of the report says of an evening.
    fn of(member: &Member, report: &Report) -> Guest {
        let open: Vec<&Cell> = member.cells.iter().filter(|cell| cell.can_be_asked(report.day)).collect();
        // The report decides what comes next for somebody: the plan must not name anything else.
        let not_met = match member.next {
            NextStep::Practise(skill) => Some(skill),
            _ => None,
        };
        let check = member.next.is_check().then(|| {
            let terms = Terms::of(&report.standard, |id| open.iter().any(|cell| cell.skill.id == id));
            let minutes = terms.minutes(open.iter().map(|cell| (cell.skill.id, Next::Ask(1))));
            DueCheck { minutes, begun: member.next.is_begun() }
        });
        Guest {
            learner: member.learner.id,
            name: member.learner.name.clone(),
            check,
            not_met,
            has_weak_spots: !member.weak.is_empty() || !member.without_pattern.is_empty(),
        }
    }
}

/// Who of the guests could show whom what: the pairs of the report first, then those of later turns.
fn pairs(report: &Report, guests: &[Guest]) -> Vec<Pair> {
    let place = |id: LearnerId| guests.iter().position(|guest| guest.learner == id);
    let mut pairs = Vec::new();
    for turn in 0..guests.len() {
        for teach in &report.teach {
            let Some((skill, _)) = teach.places.first() else { continue };
            let here = teach.pairs(turn, |id| place(id).is_some()).into_iter();
            pairs.extend(here.filter_map(|((shows, _), whom)| {
                Some(Pair { shows: place(*shows)?, whom: place(whom.learner)?, skill })
            }));
        }
    }
    pairs
}

/// What a round for all could be about: the weak spots of those who are there, the commonest first.
#[must_use]
pub fn round_topics(report: &Report, is_here: impl Fn(LearnerId) -> bool) -> Vec<Topic> {
    let topics = report.teach.iter().filter_map(|teach| {
        let members = teach.members.iter().filter(|part| is_here(part.learner)).count();
        // A round puts a problem in words and large letters: what is done by hand is shown by somebody.
        let (skill, _) = teach.places.iter().find(|(skill, _)| is_written_skill(skill))?;
        (members > 0).then_some(Topic { skill, members })
    });
    let mut topics: Vec<Topic> = topics.collect();
    crate::numbers::arrange_by_key(&mut topics, |topic| std::cmp::Reverse(topic.members));
    let mut known = Vec::new();
    topics.retain(|topic| {
        let is_new = !known.contains(&topic.skill.id);
        known.push(topic.skill.id);
        is_new
    });
    topics
}

impl Evening {
    /// Plans so many minutes ([`EVENING_MINUTES`]) for those of the report who are there; none where nobody is.
    #[must_use]
    pub fn plan(report: &Report, minutes: u32, is_here: impl Fn(LearnerId) -> bool) -> Option<Evening> {
        let members = report.members.iter().filter(|member| is_here(member.learner.id));
        let guests: Vec<Guest> = members.map(|member| Guest::of(member, report)).collect();
        let pairs = pairs(report, &guests);
        let topic = round_topics(report, is_here).first().copied();
        // Those who need it alike begin at another one each day, so that it is not always the same who goes without.
        let first = usize::from(report.day.day_of_year().unsigned_abs());
        Evening::of(guests, &pairs, topic, minutes, first)
    }

    /// The same from what is known of the guests; of those who need the laptop alike the one at place `first` comes first, counted round.
    pub(super) fn of(
        guests: Vec<Guest>,
        pairs: &[Pair],
        topic: Option<Topic>,
        minutes: u32,
        first: usize,
    ) -> Option<Evening> {
        if guests.is_empty() {
            return None;
        }
        let minutes = minutes.clamp(*EVENING_MINUTES.start(), *EVENING_MINUTES.end());
        let (round, game) = (guests.len() > 1 && minutes >= ROUND_FROM, guests.len() > 2 && minutes >= GAME_FROM);
        let together = |wanted: bool| if wanted { TOGETHER } else { 0 };
        let mut turns = laptop(&guests, minutes - together(round) - together(game), first);
        taught_first(&guests, pairs, &mut turns);
        let mut deal = Deal {
            guests: guests.len(),
            pairs,
            shown: Vec::new(),
            sheets: vec![0; guests.len()],
            maps: vec![0; guests.len()],
        };
        let mut slots = Vec::new();
        if round {
            slots.push((TOGETHER, vec![Job::Round(topic); guests.len()]));
        }
        for Turn { who, job, minutes } in turns {
            // Nobody sits over one sheet for longer than this.
            let parts = minutes.div_ceil(LONGEST).max(1);
            for part in 0..parts {
                let minutes = minutes / parts + u32::from(part < minutes % parts);
                slots.push((minutes, deal.jobs(who, job, minutes)));
            }
        }
        if game {
            let fits = |players: usize| {
                GAMES
                    .into_iter()
                    .find(|game| u8::try_from(players).is_ok_and(|players| game.players.contains(&players)))
            };
            let last = fits(guests.len()).map_or(Job::Round(topic), Job::Game);
            slots.push((TOGETHER, vec![last; guests.len()]));
        }
        let mut from = 0;
        let timed = slots.into_iter().map(|(minutes, jobs)| {
            let slot = Slot { from, minutes, jobs };
            from += minutes;
            slot
        });
        Some(Evening { slots: timed.collect(), guests })
    }
}

/// Somebody's time at the laptop.
struct Turn {
    who: usize,
    job: Job,
    minutes: u32,
}

/// The laptop's minutes, dealt: open checks first, those begun before the others, as far as they fit; then practice until the time is
/// used up.
fn laptop(guests: &[Guest], minutes: u32, first: usize) -> Vec<Turn> {
    let (mut turns, mut left): (Vec<Turn>, u32) = (Vec::new(), minutes);
    let due = |wanted: bool| {
        let checks = guests.iter().enumerate().filter_map(|(who, guest)| Some((who, guest.check?)));
        checks.filter(move |(_, check)| check.begun == wanted)
    };
    for (who, check) in due(true).chain(due(false)) {
        let minutes = check.minutes.max(1);
        if minutes <= left {
            turns.push(Turn { who, job: Job::Check, minutes });
            left -= minutes;
        }
    }
    // Whoever has not met what will be asked comes first, then weak spots, then the rest; who was checked comes last.
    let mut order: Vec<usize> = (0..guests.len()).collect();
    order.rotate_left(first % guests.len());
    crate::numbers::arrange_by_key(&mut order, |who| {
        let guest = &guests[*who];
        (turns.iter().any(|turn| turn.who == *who), guest.not_met.is_none(), !guest.has_weak_spots)
    });
    for who in order.into_iter().cycle() {
        if left < SHORTEST && !(turns.is_empty() && left > 0) {
            break;
        }
        let minutes = if left < PRACTICE + SHORTEST { left } else { PRACTICE };
        turns.push(Turn { who, job: Job::Practice, minutes });
        left -= minutes;
    }
    if let Some(last) = turns.last_mut() {
        last.minutes += left;
    }
    turns
}

/// Whoever has a weak spot is shown it by somebody before the check, as far as others use the laptop meanwhile: checks of the others
/// come first, and with none of them the practice of somebody who shows them nothing.
fn taught_first(guests: &[Guest], pairs: &[Pair], turns: &mut [Turn]) {
    let is_checked = |turn: &Turn| turn.job == Job::Check;
    let is_weak = |turn: &Turn| {
        let guest = &guests[turn.who];
        is_checked(turn) && guest.has_weak_spots && guest.check.is_some_and(|check| !check.begun)
    };
    let checks = turns.iter().take_while(|turn| is_checked(turn)).count();
    crate::numbers::arrange_by_key(&mut turns[..checks], is_weak);
    let Some(weak) = turns.first().filter(|turn| is_weak(turn)).map(|turn| turn.who) else { return };
    let shows = |who: usize| pairs.iter().any(|pair| (pair.shows, pair.whom) == (who, weak));
    let others = |turn: &Turn| !is_checked(turn) && turn.who != weak && !shows(turn.who);
    if let Some(at) = turns.iter().position(others) {
        // All that stood before it moves back a place.
        turns[..=at].rotate_right(1);
    }
}

/// What those do who are not at the laptop.
struct Deal<'a> {
    guests: usize,
    pairs: &'a [Pair],
    /// Pairs that had their turn.
    shown: Vec<Pair>,
    /// Minutes that each had at sheets and at maps so far.
    sheets: Vec<u32>,
    maps: Vec<u32>,
}

impl Deal<'_> {
    fn jobs(&mut self, at_laptop: usize, job: Job, minutes: u32) -> Vec<Job> {
        let mut jobs: Vec<Option<Job>> = vec![None; self.guests];
        jobs[at_laptop] = Some(job);
        for pair in self.pairs {
            let again = self.shown.iter().any(|one| (one.shows, one.whom) == (pair.shows, pair.whom));
            let free = jobs[pair.shows].is_none() && jobs[pair.whom].is_none();
            if free && !again && pair.shows != pair.whom {
                (jobs[pair.shows], jobs[pair.whom]) = (Some(Job::Pair(*pair)), Some(Job::Pair(*pair)));
                self.shown.push(*pair);
            }
        }
        let mut deal = |who: usize| {
            let (sheets, maps) = (&mut self.sheets[who], &mut self.maps[who]);
            // Half of them begin with the sheet and half with the map, so that few maps and compasses go round.
            let sheet = if sheets == maps { who.is_multiple_of(2) } else { *sheets < *maps };
            *(if sheet { sheets } else { maps }) += minutes;
            if sheet { Job::Sheet } else { Job::Map }
        };
        jobs.into_iter().enumerate().map(|(who, job)| job.unwrap_or_else(|| deal(who))).collect()
    }
}
