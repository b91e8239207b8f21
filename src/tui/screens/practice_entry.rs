//! Filling in the fields of a question, words that are picked, lines that are typed; and leaving it.

use super::practice::{Entry, Fields, Msg, PracticeScreen, Stage};
use crate::numbers::round_from;
use crate::problem::{Choices, Field};
use crate::session::Flow;
use crate::tui::page::Next;
use crate::tui::paint;
use crossterm::event::{KeyCode, KeyEvent};

/// Said before a trial is left.
pub(super) const LEAVES_TRIAL: &str =
    "Enter leaves the trial: the check's own problem comes. Esc once more leaves the check.";
/// Asked before a check is left.
pub(super) const LEAVES_CHECK: &str = "Esc once more leaves the check. It goes on with this very problem another time, and your leader sees that you left.";

impl PracticeScreen {
    /// Ends; but a problem of a check is not left by one key, since leaving is counted.
    pub(super) fn leave(&mut self, asked_before: bool) -> Next {
        if matches!((&self.flow, &self.stage), (Flow::Check(_), Stage::Asking(_))) && !asked_before {
            self.message = Some(LEAVES_CHECK.to_owned());
            return Next::Stay;
        }
        if self.flow.unbegun().is_some() {
            return self.not_begun();
        }
        Next::Go(self.ended(false))
    }
}

/// Goes `by` words on, and round at the ends.
pub(super) fn pick(screen: &mut PracticeScreen, by: i32) {
    let Some(count) = screen.choices().map(Choices::len) else { return };
    if let Some(Entry::Picked(choice, typed)) = screen.filling_mut().and_then(Fields::entry_mut) {
        typed.clear();
        *choice = Some(match (*choice, by < 0) {
            (None, false) => 0,
            (None, true) => count.saturating_sub(1),
            (Some(at), _) => round_from(at, by, count),
        });
    }
}

/// Letters pick the word that they spell or begin, a digit the word with that number; in a line the key is typed.
///
/// Where a number is asked, too, the words have no numbers: a digit belongs to the number while none is typed yet, since impatient
/// fingers type it first, and picks nothing.
pub(super) fn typed(screen: &mut PracticeScreen, key: KeyEvent) {
    if let (KeyCode::Char('0'..='9'), Some(filling)) = (key.code, screen.filling_mut())
        && matches!(filling.entry(), Some(Entry::Picked(..)))
        && let Some(number) =
            filling.entries.iter().position(|entry| matches!(entry, Entry::Typed(input) if input.is_empty()))
    {
        filling.current = number;
    }
    let asks_number =
        screen.filling().is_some_and(|filling| filling.entries.iter().any(|entry| matches!(entry, Entry::Typed(_))));
    let words = screen.choices().cloned();
    let field = screen.filling().and_then(|filling| screen.fields().get(filling.current)).cloned();
    match (screen.filling_mut().and_then(Fields::entry_mut), &words, key.code) {
        (Some(Entry::Picked(choice, _)), Some(_), KeyCode::Backspace | KeyCode::Delete) => {
            *choice = None;
            forget_letters(screen);
        }
        (Some(Entry::Picked(choice, letters)), Some(words), KeyCode::Char(letter)) => {
            if let Some(number) = letter.to_digit(10).map(|digit| digit as usize) {
                if asks_number {
                    screen.message =
                        Some("Here the arrow keys choose, or a first letter. Tab goes to the number.".to_owned());
                } else if (1..=words.len()).contains(&number) {
                    *choice = Some(number - 1);
                }
                return;
            }
            letters.extend(letter.to_lowercase());
            *choice = spelt(words, letters).or_else(|| {
                // The same letter again goes on to the next word that begins with it; another one begins anew.
                let again = letters.chars().all(|typed| letter.to_lowercase().eq([typed]));
                *letters = letter.to_lowercase().collect();
                let next = choice.filter(|_| again).and_then(|at| next_with(words, letters, at));
                next.or_else(|| spelt(words, letters)).or(*choice)
            });
        }
        (Some(Entry::Typed(input)), _, KeyCode::Char(letter))
            if input.is_empty() && field.is_some_and(|field| !field.may_begin_with(letter)) =>
        {
            screen.message = Some("A number is asked for here.".to_owned());
        }
        (Some(Entry::Typed(input)), _, _) => paint::edit(input, key),
        (Some(Entry::Dial { .. }), _, KeyCode::Char(_)) => {
            let turn = "This dial is turned, not typed: ← → by one degree, ↑ ↓ by ten.";
            screen.message = Some(turn.to_owned());
        }
        (Some(Entry::Point(cross)), _, KeyCode::Char(figure)) if figure.is_ascii_digit() => {
            screen.message = cross.figure_typed(figure).map(str::to_owned);
        }
        (Some(Entry::Point(cross)), _, KeyCode::Backspace | KeyCode::Delete) => cross.erase(),
        (Some(Entry::Point(_)), _, KeyCode::Char(_)) => {
            let pick = "Figures draw a line through its mark. The place is picked on the map: move the cross with the arrow keys.";
            screen.message = Some(pick.to_owned());
        }
        _ => {}
    }
}

/// The next word behind a place, and round at the end, that begins with these letters.
fn next_with(words: &Choices, letters: &str, at: usize) -> Option<usize> {
    let count = words.len();
    (1..=count).map(|step| (at + step) % count).find(|place| begins(words.get(*place).unwrap_or_default(), letters))
}

fn forget_letters(screen: &mut PracticeScreen) {
    if let Some(Entry::Picked(_, letters)) = screen.filling_mut().and_then(Fields::entry_mut) {
        letters.clear();
    }
}

/// The word that these letters spell, or else the first that begins with them.
fn spelt(words: &Choices, letters: &str) -> Option<usize> {
    let whole = words.iter().position(|word| word.to_lowercase() == letters);
    whole.or_else(|| words.iter().position(|word| begins(word, letters)))
}

/// Whether a word begins with these letters; an article before it is not typed.
fn begins(word: &str, letters: &str) -> bool {
    let word = word.to_lowercase();
    word.strip_prefix("the ").unwrap_or(&word).starts_with(letters)
}

/// A part of a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sought {
    /// The field that is filled in.
    Field,
    /// The hint.
    Hint,
}

impl PracticeScreen {
    /// Notes what a key is about, where the question is answered in fields.
    pub(super) fn seek(&self, msg: &Msg) {
        let sought = match msg {
            Msg::Enter | Msg::Field(_) | Msg::Pick(_) | Msg::PickRow(_) | Msg::Type => Sought::Field,
            Msg::Hint => Sought::Hint,
            _ => return,
        };
        if self.filling().is_some() {
            self.sought.set(Some(sought));
        }
    }
}

/// Words of a choice side by side.
pub(super) const COLUMNS: usize = 4;

/// Whether a choice stands in columns: many short words, such as compass points.
pub(super) fn in_columns(words: &Choices) -> bool {
    words.len() > COLUMNS && words.iter().all(|word| word.chars().count() <= 6)
}

/// The value of a picked entry, for the view.
pub(super) fn picked_word<'a>(field: &'a Field, entry: &Entry) -> Option<&'a str> {
    if let Entry::Picked(Some(at), _) = entry { field.choices()?.get(*at) } else { None }
}
