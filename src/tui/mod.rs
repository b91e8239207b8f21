//! The full-screen program: `Model`, `Msg`, `update`, `view`, and the only runtime that touches a terminal.
//!
//! `update` and `view` touch neither terminal, file nor clock: tests play keys and look at the screen without any. What
//! has to be done outside is a [`Cmd`], done by the runtime, whose outcome comes back as a [`Msg`]. Each screen is a
//! [`Page`](page::Page); the list of them is in `model.rs`.

mod big;
mod hands;
mod input;
pub mod keys;
mod model;
mod msg;
pub mod page;
mod paint;
pub mod pen;
mod runtime;
pub mod screens;
mod scroll;
mod theme;
mod update;
mod view;
mod wrap;

pub use hands::{Backstage, Hands, ReportPages, ReportToPrint, SheetsToPrint, learners};
pub use input::Input;
pub use model::{Model, Offer, Practise, Screen, Shared};
pub use msg::{Cmd, Done, Looked, Msg};
pub use runtime::{Launch, run};
pub use scroll::Scroll;
pub use theme::{Theme, Tone};
pub use update::{EVERYWHERE, update};
pub use view::{SMALLEST, view};
