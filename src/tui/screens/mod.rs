//! One file for each screen: its state, its messages, its keys, its picture.

pub mod drills;
pub mod end;
pub mod ground;
pub mod help;
pub mod layer;
pub mod page;
pub mod placement;
pub mod practice;
mod practice_entry;
pub mod practice_view;
pub mod showing;
pub mod table;
pub mod table_view;
pub mod who;
