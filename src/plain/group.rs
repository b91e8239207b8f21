//! What turns and rounds have in common as lines.

use super::practice::{Desk, PlainError, store_error};
use super::words::{ground_lines, new_here, plan_line};
use crate::clerk::{self, Now, Opened};
use crate::session::{Days, GROUP_ELSEWHERE, GroundCard, GroupTally, Plan, SAFETY, group_over};
use crate::store::Store;

/// What begins turns or a round.
pub struct Group<'a> {
    /// The open store.
    pub store: Store,
    /// Who takes part, in this order; whoever is not in the store is added.
    pub names: &'a [String],
    /// What is practised.
    pub plan: Plan,
    /// Home ground.
    pub ground: GroundCard,
    /// Where the day comes from.
    pub days: Days,
    /// Seeds the choice of problems.
    pub seed: u64,
}

/// Opens the records of all, and says what begins.
pub(super) fn open(
    group: Group<'_>,
    title: &str,
    desk: &mut Desk<'_>,
) -> Result<(Store, Plan, GroundCard, Vec<Opened>), PlainError> {
    let Group { mut store, names, plan, ground, days, seed } = group;
    desk.say(SAFETY)?;
    let plan = plan.for_group(title);
    let session = Some(title.to_lowercase());
    let learners = clerk::find_or_add_all(&mut store, names, (desk.now)()).map_err(store_error(0))?;
    let mut all: Vec<Opened> = Vec::with_capacity(learners.len());
    for ((learner, is_new), seed) in learners.into_iter().zip(seed..) {
        if is_new {
            desk.say(&new_here(&learner.name))?;
        }
        let now = Now { days: days.clone(), at: (desk.now)() };
        all.push(clerk::open_practice(&mut store, learner.id, now, session.clone(), seed).map_err(store_error(0))?);
    }
    desk.say(&plan_line(&plan))?;
    desk.lines(ground_lines(&ground))?;
    Ok((store, plan, ground, all))
}

/// What the group did, for all to hear.
pub(super) fn group_end(desk: &mut Desk<'_>, title: &str, tally: GroupTally) -> Result<(), PlainError> {
    desk.say("")?;
    desk.say(&group_over(title))?;
    desk.say(&tally.to_string())?;
    desk.say(GROUP_ELSEWHERE)?;
    Ok(desk.out.flush()?)
}
