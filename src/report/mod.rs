//! The leader's report as data: who is ready for what, and what to teach next, each claim with what it rests on; and where
//! a learner's mix-ups show.
//!
//! What lives here: gathering it from the store, the order, and its forms as text, JSON, CSV and HTML. What does not: how a check
//! is decided ([`crate::session`], [`crate::learner::readiness`]) and any screen.

mod csv;
mod first_page;
mod html;
mod initials;
mod json;
mod matrix;
mod member;
mod noticed;
mod patterns;
mod teach;
mod text;

pub use csv::csv;
pub use first_page::{
    BEFORE_HEADING, BEFORE_SETTING_OUT, BESIDE_HEADING, FIRST_HEADING, FirstPage, PLAN_HEADING, PlanTold, Planned,
    TEACH_HEADING, TeachFirst, called, first_page, pair_words,
};
pub use html::html;
pub use initials::Initials;
pub use json::json;
pub use matrix::{Block, MARKS, blocks, short, skills_words};
pub use member::{Cell, Member, NextStep, Practised, latest_seen};
pub use noticed::Noticed;
pub use patterns::{MixupPattern, mixup_patterns};
pub use teach::{Example, Teach, TeachMember};
pub use text::{
    TeachDepth, besides_words, cell_words, closing_lines, member_words, seen_short, seen_words, standing_words,
    teach_lines, teach_parts, text, text_first_page, wrong_ready_words,
};

use crate::drill::Standard;
use crate::numbers;
use crate::session::{Record, untold};
use crate::store::{LearnerId, Store, StoreError, StoredCheck};
use jiff::civil::Date;
use std::collections::{HashMap, HashSet};

/// How a patrol stands by a standard on a day.
#[derive(Clone, Debug)]
pub struct Report {
    /// The day.
    pub day: Date,
    /// Whether that day was given by hand, and not the clock's.
    pub day_given: bool,
    /// The standard.
    pub standard: Standard,
    /// The members, those first who need the leader first.
    pub members: Vec<Member>,
    /// How people are shown where others look on.
    pub initials: Initials,
    /// What to teach next, the commonest first.
    pub teach: Vec<Teach>,
    /// Mix-ups that were seen lately and are no weak spot yet, those of most members first.
    pub noticed: Vec<Noticed>,
    /// What is done from map to compass on this ground today, in sentences; empty where nobody said it.
    pub day_rules: Vec<String>,
    /// How many wrong *ready* are to be expected at most in all: one check's error rate for each that was begun, as if nobody
    /// could do it.
    pub wrong_ready_at_most: f64,
    /// How many checks of a skill were begun, whatever became of them: whoever is still to be decided counts, too, since
    /// otherwise the lucky ones would be counted alone.
    pub begun: u32,
}

impl Report {
    /// How to show somebody: by name, or by initials where others look on.
    pub fn shown_as(&self, hide: bool) -> impl Fn(&str) -> String {
        let short = |member: &Member| (member.learner.name.clone(), self.initials.show(&member.learner));
        let short: HashMap<String, String> = self.members.iter().filter(|_| hide).map(short).collect();
        move |name| {
            short.get(name).cloned().unwrap_or_else(|| if hide { initials::letters(name) } else { name.to_owned() })
        }
    }

    /// The same with its members by name: an order that stays whatever somebody did meanwhile, for a sheet that is ticked today
    /// and typed in on another day.
    #[must_use]
    pub fn by_name(mut self) -> Report {
        numbers::arrange_by_key(&mut self.members, |member| member.learner.name.to_lowercase());
        self
    }

    /// How many members are ready in the skill at a place of the standard.
    #[must_use]
    pub fn ready_in(&self, at: usize) -> usize {
        self.members.iter().filter(|member| member.cells.get(at).is_some_and(Cell::is_ready)).count()
    }

    /// Gathers it for one learner, for a patrol, or for all who are not archived.
    ///
    /// # Errors
    /// [`StoreError`] when the store cannot be read.
    pub fn gather(
        store: &mut Store,
        standard: &Standard,
        (day, day_given): (Date, bool),
        wanted: &dyn Fn(LearnerId) -> bool,
    ) -> Result<Report, StoreError> {
        let learners: Vec<_> = store.learners()?.into_iter().filter(|learner| wanted(learner.id)).collect();
        let mut checks: HashMap<LearnerId, Vec<StoredCheck>> = HashMap::new();
        for check in store.all_checks()? {
            checks.entry(check.what.learner).or_default().push(check);
        }
        let seen = store.seen()?;
        let patrols = store.patrols()?;
        let mut members = Vec::with_capacity(learners.len());
        let mut all_untold = HashSet::new();
        for learner in learners {
            let checks = checks.get(&learner.id).map(Vec::as_slice).unwrap_or_default();
            let record = Record::of(checks, &standard.name);
            let untold = untold(checks);
            let beliefs = match untold.is_empty() {
                true => store.beliefs(learner.id)?,
                false => store.beliefs_without(learner.id, &untold)?.0,
            };
            all_untold.extend(untold);
            let patrol = patrols.iter().find(|patrol| patrol.members.contains(&learner.id));
            let ours: Vec<_> = seen.iter().filter(|seen| seen.learner == learner.id).cloned().collect();
            let taken_back = store.taken_back(learner.id)?;
            let member = Member::new(learner, patrol, &record, &beliefs, ours, standard, day);
            members.push(Member { taken_back, ..member });
        }
        numbers::arrange_by_key(&mut members, Member::order);
        let teach = teach::gather(store, &members, &all_untold)?;
        let noticed = noticed::gather(store, &members, &teach, &all_untold, day)?;
        let cells = || members.iter().flat_map(|member| &member.cells);
        Ok(Report {
            day,
            day_given,
            standard: standard.clone(),
            // The sum of nothing has the sign of less than nothing, and would be told with it.
            wrong_ready_at_most: cells().map(|cell| cell.wrong_ready_at_most).sum::<f64>() + 0.0,
            begun: cells().map(|cell| cell.begun).sum(),
            teach,
            noticed,
            day_rules: Vec::new(),
            initials: Initials::of(store)?,
            members,
        })
    }
}
