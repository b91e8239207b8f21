//! One file for each screen: its state, its messages, its table of keys, its picture.

pub mod check_end;
pub mod drills;
pub mod end;
pub mod ground;
pub mod group_end;
pub mod handover;
pub mod help;
pub mod layer;
pub mod lesson;
pub mod lessons;
pub mod manage;
pub mod page;
pub mod patrol;
pub mod patrol_view;
pub mod placement;
pub mod practice;
mod practice_entry;
mod practice_keys;
pub mod practice_view;
pub mod round;
pub mod seen;
pub mod showing;
pub mod table;
pub mod table_keys;
mod table_mouse;
pub mod table_view;
pub mod who;
