//! Practice as lines of text, for screen readers, pipes and terminals that can do little.
//!
//! What lives here: the reader of typed lines, the texts, and the loop that asks, records and tells. What does not: the flow of
//! practice ([`crate::session`]). Nothing is written but text and line ends: no colour, no cursor, no escape sequence. Every
//! question is a line of its own, so that it is heard whole and a pipe can wait for it.

mod asking;
mod check;
mod dial;
mod group;
mod lesson;
mod lines;
mod practice;
mod round;
mod table;
mod turns;
mod word_list;
mod words;

pub use check::{CheckStart, check};
pub use group::Group;
pub use practice::{Desk, PlainError, Start, practise};
pub use round::round;
pub use table::lying;
pub use turns::turns;
pub use words::{asks, figure_line, long_list, step_lines, told_lines};
