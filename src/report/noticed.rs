//! Mix-ups that were seen lately, where nobody's pattern is sure yet: said as what was seen, and not as a weak spot.

use super::Member;
use super::teach::{Example, Teach};
use crate::learner::CommonError;
use crate::numbers;
use crate::problem::MixupMeta;
use crate::skills;
use crate::store::{AttemptId, LearnerId, Store, StoreError};
use jiff::ToSpan;
use jiff::civil::Date;
use std::collections::HashSet;

/// So many of a member's latest answers are looked at, none of them older than so many days: some evenings.
const ANSWERS: usize = 40;
const DAYS: i64 = 28;
/// The most that is said: what was seen in one or two answers is soon a long list.
const MOST: usize = 3;

/// A mix-up that was seen lately in more than one member, or more than once in one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noticed {
    /// What they do, behind "they".
    pub said: &'static str,
    /// In whom it was seen, by id and name, each once.
    pub members: Vec<(LearnerId, String)>,
    /// How often in all.
    pub times: usize,
    /// The latest time.
    pub latest: Example,
}

impl Noticed {
    /// `Seen in more than one: took the opposite end, 180° away (Ana, Cem). The latest said 013; right 193.` `name` shows somebody.
    #[must_use]
    pub fn words(&self, name: &dyn Fn(&str) -> String) -> String {
        let how = match (self.members.len(), self.times) {
            (2.., _) => "in more than one".to_owned(),
            (_, 2) => "twice with one".to_owned(),
            (_, times) => format!("{times} times with one"),
        };
        let who: Vec<String> = self.members.iter().map(|(_, one)| name(one)).collect();
        format!("Seen {how}: {} ({}). The latest said {}.", self.said, who.join(", "), self.latest.said)
    }
}

/// One error is the same in all skills in which it shows.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Error {
    Common(CommonError),
    Mixup(&'static MixupMeta),
}

impl Error {
    fn of(mixup: &'static MixupMeta) -> Error {
        CommonError::of(mixup).map_or(Error::Mixup(mixup), Error::Common)
    }

    const fn said(self) -> &'static str {
        match self {
            Error::Common(common) => common.said(),
            Error::Mixup(mixup) => mixup.said,
        }
    }
}

/// `untold` are the answers of tries under way, on which nothing may rest; what stands in `teach` is said there.
pub(super) fn gather(
    store: &Store,
    members: &[Member],
    teach: &[Teach],
    untold: &HashSet<AttemptId>,
    day: Date,
) -> Result<Vec<Noticed>, StoreError> {
    let since = day.checked_sub(DAYS.days()).unwrap_or(Date::MIN);
    let is_told = |error: Error| teach.iter().flat_map(|one| &one.places).any(|(_, mixup)| Error::of(mixup) == error);
    let mut found: Vec<(Error, AttemptId, Noticed)> = Vec::new();
    for member in members {
        let learner = &member.learner;
        for attempt in store.latest(learner.id, untold, ANSWERS)? {
            let (id, what) = (attempt.id, attempt.what);
            let mixup = what.verdict.mixup().and_then(|mixup| skills::find(&what.skill)?.meta().mixup(mixup));
            let Some(mixup) = mixup.filter(|_| what.day >= since && what.help.is_evidence()) else { continue };
            let error = Error::of(mixup);
            if is_told(error) {
                continue;
            }
            let who = (learner.id, learner.name.clone());
            match found.iter_mut().find(|(known, ..)| *known == error) {
                None => {
                    let latest = Example::of(what);
                    found.push((error, id, Noticed { said: error.said(), members: vec![who], times: 1, latest }));
                }
                Some((_, latest_id, noticed)) => {
                    noticed.times += 1;
                    if !noticed.members.contains(&who) {
                        noticed.members.push(who);
                    }
                    if id > *latest_id {
                        (*latest_id, noticed.latest) = (id, Example::of(what));
                    }
                }
            }
        }
    }
    let mut said: Vec<Noticed> =
        found.into_iter().map(|(_, _, noticed)| noticed).filter(|noticed| noticed.times > 1).collect();
    numbers::arrange_by_key(&mut said, |noticed| std::cmp::Reverse((noticed.members.len(), noticed.times)));
    said.truncate(MOST);
    for noticed in &mut said {
        numbers::arrange_by_key(&mut noticed.members, |(_, name)| name.to_lowercase());
    }
    Ok(said)
}
