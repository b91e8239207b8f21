//! What is shown of a skill: counts over the last answers that never fall by a right answer in place of a wrong one.
//!
//! P(known) cannot be that: an explanation after a wrong answer teaches, and a wrong answer clears the mix-ups that it
//! did not show. So what is shown counts steps. Each answer moves a count by a map that keeps the order (a higher count
//! stays at least as high), and for one and the same item a right answer moves it at least as high as any wrong one; so a
//! history with a right answer more ends at least as high, wherever it stands. Days and items only choose the map.

use super::belief::Logged;
use super::constants as c;
use super::filter::{Seen, bit};

/// How many steps a learner has made with a skill by the answers that are kept, 0 to [`c::STEPS_MOST`].
pub(super) fn steps<'a>(log: impl IntoIterator<Item = &'a Logged>) -> u8 {
    let (mut steps, mut before) = (0_u8, None);
    for logged in log {
        let away = before.map_or(0, |before| logged.day.duration_since(before).as_hours() / 24);
        before = Some(logged.day);
        if away >= c::STEPS_AWAY_DAYS {
            steps = steps.min(c::STEPS_AFTER_AWAY);
        }
        steps = match logged.seen {
            Seen::Right => (steps + 1).min(c::STEPS_MOST),
            _ => steps.saturating_sub(c::STEPS_BACK),
        };
    }
    steps
}

/// Whether a mix-up has not been worked off: its answer came twice, without enough right answers since to items that expose
/// it. Other wrong answers say nothing about it.
pub(super) fn stands<'a>(log: impl IntoIterator<Item = &'a Logged>, mixup: usize) -> bool {
    let mut owed = 0_u8;
    for logged in log.into_iter().filter(|logged| bit(logged.exposed, mixup)) {
        match logged.seen {
            Seen::Right => owed = owed.saturating_sub(1),
            Seen::Mixup(k) if k == mixup => owed = (owed + c::OWED_BY_MIXUP).min(c::OWED_MOST),
            _ => {}
        }
    }
    owed >= c::OWED_STANDS
}
