//! What a screen is: the one trait that each implements.

use super::keys::{Press, Table};
use super::model::{Screen, Shared};
use super::msg::Cmd;
use super::paint::Painter;
use crossterm::event::MouseEvent;
use jiff::Timestamp;
use ratatui::layout::Rect;
use std::fmt::Debug;

/// What follows a key.
#[derive(Debug)]
pub enum Next {
    /// This screen stays.
    Stay,
    /// Something has to be done outside the model; what comes of it may bring another screen.
    Do(Cmd),
    /// Another screen.
    Go(Screen),
    /// Another screen, with this one waiting behind it.
    Aside(Screen),
    /// Back to the screen that waits behind.
    Back,
    /// The same, and something to do.
    BackAnd(Cmd),
}

impl Next {
    /// Does this, if there is something to do.
    #[must_use]
    pub fn maybe(command: Option<Cmd>) -> Next {
        command.map_or(Next::Stay, Next::Do)
    }
}

/// A screen: its state is `Self`, its keys mean messages, messages change the state, and the state has a picture.
pub trait Page: Debug {
    /// What can happen here. Messages stand in constant tables, so they hold nothing of the moment: that is in [`Press`].
    type Msg: Copy + 'static;

    /// Every table that [`keys`](Page::keys) can give, under the heading that it has in the help.
    const TABLES: &'static [(&'static str, Table<Self::Msg>)];

    /// Whether the picture takes the two rows, too, that are left free between title, body and keys elsewhere.
    const TALL: bool = false;

    /// The keys in the present state.
    fn keys(&self) -> Table<Self::Msg>;

    /// Takes in what a key means.
    fn update(&mut self, msg: Self::Msg, press: Press, shared: &mut Shared) -> Next;

    /// Draws the picture.
    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect);

    /// The title line, left and right.
    fn title(&self, shared: &Shared) -> (String, String) {
        ("needlewise".to_owned(), shared.day.to_string())
    }

    /// Whether keys with this message stand on the bottom line just now.
    fn offers(&self, _msg: Self::Msg) -> bool {
        true
    }

    /// Whether a line of free text is being typed, where a question mark is a letter. No name begins with one, so in an
    /// empty field it asks for help.
    fn types_text(&self) -> bool {
        false
    }

    /// Takes in pasted text.
    fn paste(&mut self, _text: &str) {}

    /// Whether there is something that the mouse could turn.
    fn wants_mouse(&self) -> bool {
        false
    }

    /// Takes in the mouse.
    fn mouse(&mut self, _event: MouseEvent, _at: Timestamp) {}

    /// Whether something moves by itself just now.
    fn moves_by_itself(&self) -> bool {
        false
    }

    /// Takes in that time went by.
    fn tick(&mut self, _now: Timestamp) {}
}
