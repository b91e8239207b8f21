//! What the keys of practice mean: messages, and nothing changed yet.

use super::practice::{COLUMNS, Entry, Msg, PracticeScreen, Stage, in_columns};
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use jiff::Timestamp;

impl PracticeScreen {
    /// How many words stand side by side in the choice being made.
    fn words_in_a_row(&self) -> i32 {
        if self.choices().is_some_and(in_columns) { i32::try_from(COLUMNS).unwrap_or(i32::MAX) } else { 1 }
    }

    /// Whether the dial is being turned just now.
    fn turning(&self) -> bool {
        self.stage == Stage::Asking && self.dial().is_some()
    }

    /// The keys of this screen.
    #[must_use]
    pub fn on_key(&self, key: KeyEvent, at: Timestamp) -> Option<Msg> {
        if self.unsaved.is_none() && (self.showing.is_some() || self.desk.is_some()) {
            // The arrows turn things here, or go through a showing.
            match key.code {
                KeyCode::PageDown => return Some(Msg::Scroll(8)),
                KeyCode::PageUp => return Some(Msg::Scroll(-8)),
                _ => {}
            }
            if let Some(showing) = &self.showing {
                return match key.code {
                    KeyCode::Right | KeyCode::Down | KeyCode::Char(' ') => Some(Msg::Show(1)),
                    KeyCode::Left | KeyCode::Up | KeyCode::Backspace => Some(Msg::Show(-1)),
                    KeyCode::Enter if showing.at < showing.steps.len() => Some(Msg::Show(1)),
                    KeyCode::Enter => Some(Msg::Enter(at)),
                    // A showing leads back to the verdict that it explains.
                    KeyCode::Esc if self.stage == Stage::Told => Some(Msg::Watched),
                    KeyCode::Esc => Some(Msg::Leave),
                    _ => None,
                };
            }
            match (self.stage, &self.desk) {
                (Stage::Asking, Some(_)) => return Some(Msg::Table(key, at)),
                (Stage::Told, Some(_)) if key.code == KeyCode::Char('w') => return Some(Msg::Watch),
                _ => {}
            }
        }
        if self.stage == Stage::Handover {
            return match key.code {
                KeyCode::Enter => Some(Msg::Enter(at)),
                KeyCode::Esc => Some(Msg::Leave),
                _ => None,
            };
        }
        let big = key.modifiers.contains(KeyModifiers::SHIFT);
        match key.code {
            KeyCode::Enter => return Some(Msg::Enter(at)),
            KeyCode::Esc => return Some(Msg::Leave),
            KeyCode::PageDown if !self.turning() => return Some(Msg::Scroll(8)),
            KeyCode::PageUp if !self.turning() => return Some(Msg::Scroll(-8)),
            _ => {}
        }
        if self.stage != Stage::Asking || self.unsaved.is_some() {
            return match key.code {
                KeyCode::Down => Some(Msg::Scroll(1)),
                KeyCode::Up => Some(Msg::Scroll(-1)),
                KeyCode::Char(' ') => Some(Msg::Enter(at)),
                _ => None,
            };
        }
        if self.turning() {
            match key.code {
                KeyCode::Right => return Some(Msg::TurnDial(if big { 10 } else { 1 })),
                KeyCode::Left => return Some(Msg::TurnDial(if big { -10 } else { -1 })),
                KeyCode::PageDown | KeyCode::Down => return Some(Msg::TurnDial(10)),
                KeyCode::PageUp | KeyCode::Up => return Some(Msg::TurnDial(-10)),
                _ => {}
            }
        }
        let several = self.entries.len() > 1;
        match (self.entries.get(self.field)?, key.code) {
            (_, KeyCode::Tab) => Some(Msg::NextField),
            (_, KeyCode::BackTab) => Some(Msg::FieldBefore),
            (Entry::Picked(_, letters), KeyCode::Char('h')) if letters.is_empty() => Some(Msg::Hint),
            (Entry::Picked(..), KeyCode::Right | KeyCode::Char(' ')) => Some(Msg::Pick(1)),
            (Entry::Picked(..), KeyCode::Left) => Some(Msg::Pick(-1)),
            (Entry::Picked(..), KeyCode::Down) if !several => Some(Msg::Pick(self.words_in_a_row())),
            (Entry::Picked(..), KeyCode::Up) if !several => Some(Msg::Pick(-self.words_in_a_row())),
            (_, KeyCode::Down) if several => Some(Msg::NextField),
            (_, KeyCode::Up) if several => Some(Msg::FieldBefore),
            // No answer begins with an h, so in an empty field it can ask for the hint.
            (Entry::Typed(input), KeyCode::Char('h')) if input.is_empty() => Some(Msg::Hint),
            (Entry::Typed(input), KeyCode::Down) if input.is_empty() => Some(Msg::Scroll(1)),
            (Entry::Typed(input), KeyCode::Up) if input.is_empty() => Some(Msg::Scroll(-1)),
            (Entry::Dial { .. }, KeyCode::Char('h')) => Some(Msg::Hint),
            _ => Some(Msg::Type(key)),
        }
    }
}
