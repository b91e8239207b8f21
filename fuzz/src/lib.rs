//! What the targets share: reading an input piece by piece, a clock, a store to begin from, and what must hold of each store
//! and each text for people.

pub mod records;

use jiff::civil::{Date, date};
use jiff::{SignedDuration, Timestamp};
use needlewise::config::Config;
use needlewise::problem::SkillMeta;
use needlewise::session::GroundCard;
use needlewise::skills;
use needlewise::textfile::unshowable;
use std::sync::atomic::{AtomicI64, Ordering};

/// The day of all that is played.
pub const TODAY: Date = date(2026, 11, 25);

/// How often somebody looked at the clock.
static LOOKS: AtomicI64 = AtomicI64::new(0);

/// A clock that goes on by some seconds each time somebody looks at it.
pub fn clock() -> Timestamp {
    moment(LOOKS.fetch_add(1, Ordering::Relaxed))
}

/// Sets the clock back to the beginning of the evening: an input must do the same whatever came before it.
pub fn wind_clock() {
    LOOKS.store(0, Ordering::Relaxed);
}

/// The moment at which the clock was looked at so many times.
pub fn moment(looks: i64) -> Timestamp {
    let evening: Timestamp = "2026-11-25T18:00:00Z".parse().expect("a moment");
    evening + SignedDuration::from_secs(7 * looks)
}

/// All skills there are.
pub fn metas() -> Vec<&'static SkillMeta> {
    skills::metas().collect()
}

/// Home ground of somebody who has set nothing.
pub fn ground() -> GroundCard {
    GroundCard::new(&Config::default(), "settings.toml", TODAY)
}

/// An input, read piece by piece. At its end there are only zeros.
pub struct Bytes<'a>(pub &'a [u8]);

impl<'a> Bytes<'a> {
    /// Whether nothing is left.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The next byte.
    pub fn byte(&mut self) -> u8 {
        let Some((first, rest)) = self.0.split_first() else { return 0 };
        self.0 = rest;
        *first
    }

    /// A number below `below`, of the next byte.
    pub fn below(&mut self, below: usize) -> usize {
        usize::from(self.byte()) % below.max(1)
    }

    /// A number of three bytes.
    pub fn number(&mut self) -> usize {
        (0..3).fold(0, |number, _| number << 8 | usize::from(self.byte()))
    }

    /// The text up to the end of the line, or so many bytes at most.
    pub fn line(&mut self, most: usize) -> String {
        let end = self.0.iter().take(most).position(|byte| *byte == b'\n');
        let (line, rest) = self.0.split_at(end.unwrap_or(most.min(self.0.len())));
        self.0 = if end.is_some() { &rest[1..] } else { rest };
        String::from_utf8_lossy(line).into_owned()
    }

    /// All that is left, as text.
    pub fn text(self) -> String {
        String::from_utf8_lossy(self.0).into_owned()
    }
}

/// What is said to people holds nothing that a terminal would obey or not show.
#[track_caller]
pub fn assert_showable(text: &str) {
    let odd = text.chars().find(|sign| *sign != '\n' && unshowable(*sign));
    assert!(odd.is_none(), "{odd:?} in {text:?}");
}

/// An error says something. It may repeat what was typed or what lay in a file: the command line and the screens take out what
/// a terminal would obey.
#[track_caller]
pub fn assert_said(error: &dyn std::error::Error) {
    assert!(!error.to_string().trim().is_empty());
}
