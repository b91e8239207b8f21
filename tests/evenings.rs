//! Practice, checks and rounds from their first key to what is in the file, each skill of the land, and what older programs left, in one program.

#[path = "evenings/check.rs"]
mod check;
#[path = "evenings/clock.rs"]
mod clock;
#[path = "evenings/drills.rs"]
mod drills;
#[path = "evenings/judging.rs"]
mod judging;
#[path = "evenings/newcomer.rs"]
mod newcomer;
#[path = "evenings/older_stores.rs"]
mod older_stores;
#[path = "evenings/patterns.rs"]
mod patterns;
#[path = "evenings/plain.rs"]
mod plain;
#[path = "evenings/plain_group.rs"]
mod plain_group;
mod plain_partner;
#[path = "evenings/plans.rs"]
mod plans;
#[path = "evenings/shown_state.rs"]
mod shown_state;
