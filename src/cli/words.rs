//! `needlewise words`: the words of the trade.

use super::args::{Format, WordsArgs};
use super::fault::Fault;
use super::page::Page;
use crate::words::{self, TOPICS, Word, look_up};
use serde::Serialize;
use std::io::{self, BufWriter, Write};

/// Where the lines of the list begin: behind the longest word.
const LINE_COLUMN: usize = 24;

/// A word as `words --format json` prints it.
#[derive(Serialize)]
struct WordJson {
    word: &'static str,
    other_names: &'static [&'static str],
    line: &'static str,
    /// Null where it is common practice.
    source: Option<&'static str>,
    skills: Vec<&'static str>,
    sketch: &'static [&'static str],
}

impl WordJson {
    fn new(word: &'static Word) -> WordJson {
        WordJson {
            word: word.word,
            other_names: word.others,
            line: word.line,
            source: word.source,
            skills: word.skills().collect(),
            sketch: word.sketch,
        }
    }
}

/// Runs the command.
pub(super) fn run(args: &WordsArgs) -> Result<(), Fault> {
    // What is a word of its own in the shell need not be put in quotation marks: `words index line`.
    let wanted = args.word.join(" ");
    let one = if args.word.is_empty() { None } else { Some(look_up(&wanted).map_err(unknown)?) };
    let mut out = BufWriter::new(io::stdout().lock());
    match (args.format, one) {
        (Format::Json, Some(word)) => super::json_line(&mut out, &WordJson::new(word))?,
        (Format::Json, None) => words::all().try_for_each(|word| super::json_line(&mut out, &WordJson::new(word)))?,
        (Format::Text, Some(word)) => out.write_all(entry(word).as_bytes())?,
        (Format::Text, None) => out.write_all(list().as_bytes())?,
    }
    Ok(out.flush()?)
}

fn unknown(error: words::UnknownWord) -> Fault {
    Fault::Input(format!("{error} `needlewise words` lists them all"))
}

/// All words with their lines, topic by topic.
fn list() -> String {
    let mut page = Page::default();
    for (at, topic) in TOPICS.iter().enumerate() {
        if at > 0 {
            page.line("");
        }
        page.line(topic.title);
        for word in topic.words {
            page.hanging(&format!("  {}", word.word), LINE_COLUMN, word.line);
        }
    }
    page.line("");
    page.paragraph("needlewise words WORD tells other names, the source and, where one helps, shows a sketch.");
    page.0
}

/// One word with all that is known of it.
fn entry(word: &'static Word) -> String {
    let mut page = Page::default();
    page.paragraph(&word.sentence());
    if let Some(names) = word.also_called() {
        page.paragraph(&names);
    }
    page.paragraph(&word.source_sentence());
    let skills: Vec<&str> = word.skills().collect();
    if !skills.is_empty() {
        page.paragraph(&format!("Needed for: {}.", skills.join(", ")));
    }
    if !word.sketch.is_empty() {
        page.line("");
        for row in word.sketch {
            page.line(&format!("    {row}"));
        }
    }
    page.0
}
