//! The words of the trade while a question waits: all of them, or one. Nothing is recorded by it.

use super::practice::Desk;
use crate::session::Flow;
use crate::words::{TOPICS, Word, look_up};
use std::io;

/// What `words` does, where commands are listed.
pub(super) const WORDS_COMMAND: &str =
    "words: what each word means, those of this question first. words boxed: only that one.";

/// Said in a check: what a word means is part of what is checked.
const CLOSED: &str = "The word list is closed in a check, as the hints are.";

/// What is wanted of the word list, empty for all of it; none where the line is another one.
pub(super) fn words_command(text: &str) -> Option<&str> {
    let (command, wanted) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    ["words", "word"].iter().any(|known| command.eq_ignore_ascii_case(known)).then(|| wanted.trim())
}

/// The words met for the first time, a line each.
pub(super) fn first_word_lines(words: &[&'static Word]) -> Vec<String> {
    words.iter().map(|word| word.sentence()).collect()
}

impl Desk<'_> {
    /// Answers `words` and `words WORD`. Sketches are left out: they make no sense when they are heard.
    pub(super) fn word_list(&mut self, flow: &Flow, text: &str) -> io::Result<()> {
        let Flow::Practice(practice) = flow else { return self.say(CLOSED) };
        let here = practice.asked().map_or_else(Vec::new, |asked| asked.words_in_view());
        self.words("In this question:", &here, text)
    }

    /// The same; those that stand here come first, under a heading.
    pub(super) fn words(&mut self, heading: &str, here: &[&'static Word], text: &str) -> io::Result<()> {
        match words_command(text).unwrap_or_default() {
            "" => {
                if !here.is_empty() {
                    self.say(heading)?;
                    self.lines(first_word_lines(here))?;
                }
                for topic in &TOPICS {
                    self.say(&format!("{}:", topic.title))?;
                    for word in topic.words.iter().filter(|word| !here.contains(word)) {
                        self.say(&word.sentence())?;
                    }
                }
                Ok(())
            }
            wanted => match look_up(wanted) {
                Ok(word) => {
                    self.say(&word.sentence())?;
                    self.lines(word.also_called().into_iter().collect())?;
                    self.say(&word.source_sentence())
                }
                Err(unknown) => self.say(&format!("{unknown} words lists them all.")),
            },
        }
    }
}
