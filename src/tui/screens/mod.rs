//! One file for each screen: its state, its messages, its keys, its picture.

pub mod drills;
pub mod end;
pub mod ground;
pub mod help;
pub mod page;
pub mod placement;
pub mod practice;
pub mod practice_view;
pub mod table;
pub mod table_view;
pub mod who;
