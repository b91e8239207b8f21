//! The full-screen program: `Model`, `Msg`, `update`, `view`, and the only runtime that touches a terminal.
//!
//! `update` and `view` are pure: tests play keys and look at the screen without a terminal. All that is impure is a
//! [`Cmd`], done by the runtime, whose outcome comes back as a [`Msg`].

mod big;
mod hands;
mod input;
mod model;
mod msg;
mod paint;
mod runtime;
pub mod screens;
mod scroll;
mod theme;
mod update;
mod view;

pub use hands::{Backstage, Hands, learners};
pub use input::Input;
pub use model::{Model, Offer, Screen};
pub use msg::{Cmd, Done, Looked, Msg};
pub use runtime::{Launch, run};
pub use scroll::Scroll;
pub use theme::{Theme, Tone};
pub use update::update;
pub use view::{SMALLEST, view};
