//! How far somebody is in the check of one skill: a fold over the answers, in their order.

use super::{CRITICAL_TIMES, Decision, Rules};
use jiff::ToSpan;
use jiff::civil::Date;

/// One answer of a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Answered<'a> {
    /// The learner's day on which it was given.
    pub day: Date,
    /// Whether that day was given by hand, and not the clock's.
    pub day_given: bool,
    /// Whether it was right.
    pub right: bool,
    /// Its mix-up, if that is one that must not happen twice.
    pub critical: Option<&'a str>,
}

/// How a try ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TryEnd {
    /// The bound for *ready* was reached.
    Ready,
    /// Too many wrong.
    Stopped,
    /// The same critical mix-up once too often; its id.
    Critical(String),
}

/// One try.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Try {
    /// How many problems were answered.
    pub asked: u8,
    /// How many of them right.
    pub right: u8,
    /// The latest day on which one was answered: a clock that was set back does not count.
    pub day: Date,
    /// The day on which the first was answered.
    pub began: Date,
    /// Whether any of these days was given by hand, and not the clock's.
    pub day_given: bool,
    /// How it ended, if it has.
    pub end: Option<TryEnd>,
    /// How many of its answers were annulled.
    pub annulled: u8,
    /// Its answers; a place is empty from when its answer is annulled until a fresh problem is answered.
    places: Vec<Option<Given>>,
}

/// One answer of a try.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Given {
    /// How many answers of the skill came before it in the check.
    number: usize,
    right: bool,
    critical: Option<String>,
}

impl Try {
    fn begin(day: Date) -> Try {
        let (places, end) = (Vec::new(), None);
        Try { asked: 0, right: 0, day, began: day, day_given: false, end, annulled: 0, places }
    }

    /// Which answers are in it, counted from 0 over all of the skill in the check.
    pub fn answers(&self) -> impl Iterator<Item = usize> {
        self.places.iter().flatten().map(|given| given.number)
    }

    /// Counts the answers in the order of their places, up to the end of the try. While a place is empty nothing is decided: an
    /// end that came with the annulling would tell what the answer was.
    fn count(&mut self, rules: &Rules) {
        (self.asked, self.right, self.end) = (0, 0, None);
        let waits = self.places.contains(&None);
        let mut before: Vec<&str> = Vec::new();
        for given in self.places.iter().flatten() {
            self.asked = self.asked.saturating_add(1);
            self.right += u8::from(given.right);
            if waits {
                continue;
            }
            before.extend(given.critical.as_deref());
            let same = |id: &&str| before.iter().filter(|one| *one == id).count() >= CRITICAL_TIMES;
            let twice = given.critical.as_deref().filter(same);
            self.end = match rules.plan.bounds().decide(self.asked, self.right) {
                _ if twice.is_some() => twice.map(|id| TryEnd::Critical(id.to_owned())),
                Decision::Ready => Some(TryEnd::Ready),
                Decision::Stop => Some(TryEnd::Stopped),
                Decision::GoOn => None,
            };
            if self.end.is_some() {
                break;
            }
        }
    }
}

/// What follows in the check of one skill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Next {
    /// A problem of this try, counted from 1.
    Ask(u8),
    /// The next try, on a day after this one.
    AnotherDay(Date),
    /// Nothing: ready since this day.
    Ready(Date),
    /// Nothing: not yet, since this day.
    NotYet(Date),
}

/// The tries of one skill in one check.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    tries: Vec<Try>,
    /// How many answers were given, whatever became of them.
    answered: usize,
    /// The first day of a new check, where a leader shortened the waiting time.
    shortened: Option<Date>,
}

impl Progress {
    /// Takes in one more answer: it belongs to the try that is under way, or begins the next. One that was given where nothing
    /// could be asked, as by a second program that does not know of the end, changes nothing.
    pub fn answer(&mut self, rules: &Rules, answered: Answered<'_>) {
        let number = self.answered;
        self.answered += 1;
        if !matches!(self.next(rules, answered.day), Next::Ask(_)) {
            return;
        }
        if self.tries.last().is_none_or(|last| last.end.is_some()) {
            self.tries.push(Try::begin(answered.day));
        }
        let Some(current) = self.tries.last_mut() else { return };
        current.day = current.day.max(answered.day);
        current.day_given |= answered.day_given;
        let given = Some(Given { number, right: answered.right, critical: answered.critical.map(str::to_owned) });
        match current.places.iter_mut().find(|place| place.is_none()) {
            Some(place) => *place = given,
            None => current.places.push(given),
        }
        current.count(rules);
    }

    /// Annuls an answer, counted from 0 over all of the skill in the check: the next one takes its place. An answer of a try that
    /// has ended stays: its result is known, and whoever annuls then chooses.
    pub fn annul(&mut self, rules: &Rules, number: usize) {
        let Some(open) = self.tries.last_mut().filter(|last| last.end.is_none()) else { return };
        let is_it = |place: &&mut Option<Given>| place.as_ref().is_some_and(|given| given.number == number);
        let Some(place) = open.places.iter_mut().find(is_it) else { return };
        *place = None;
        open.annulled = open.annulled.saturating_add(1);
        open.count(rules);
    }

    /// Lets a new check begin on a day, before the waiting time is over; but never on the day of the last try.
    pub fn shorten_wait(&mut self, from: Date) {
        self.shortened = Some(self.shortened.map_or(from, |before| before.min(from)));
    }

    /// The first day of a new check after *not yet* on a day.
    #[must_use]
    pub fn again_from(&self, rules: &Rules, since: Date) -> Date {
        let regular = since.checked_add(i64::from(rules.wait_days).days()).unwrap_or(Date::MAX);
        let next_day = since.tomorrow().unwrap_or(Date::MAX);
        self.shortened.map_or(regular, |from| regular.min(from.max(next_day)))
    }

    /// The tries so far.
    #[must_use]
    pub fn tries(&self) -> &[Try] {
        &self.tries
    }

    /// How many problems were answered, over all tries.
    #[must_use]
    pub fn asked(&self) -> u32 {
        self.tries.iter().map(|one| u32::from(one.asked)).sum()
    }

    /// What follows on a day.
    #[must_use]
    pub fn next(&self, rules: &Rules, today: Date) -> Next {
        let number = u8::try_from(self.tries.len()).unwrap_or(u8::MAX);
        let Some(last) = self.tries.last() else { return Next::Ask(1) };
        // The days of all tries: a second try on an earlier day than the first is a clock that was set back.
        let day = self.tries.iter().map(|one| one.day).max().unwrap_or(last.day);
        match &last.end {
            None => Next::Ask(number),
            Some(TryEnd::Ready) => Next::Ready(day),
            Some(_) if number >= rules.plan.tries() => Next::NotYet(day),
            Some(_) if today <= day => Next::AnotherDay(day),
            Some(_) => Next::Ask(number + 1),
        }
    }

    /// Whether nothing more will be asked in this check.
    #[must_use]
    pub fn is_over(&self, rules: &Rules) -> bool {
        matches!(self.next(rules, Date::MAX), Next::Ready(_) | Next::NotYet(_))
    }
}
