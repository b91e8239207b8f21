//! A belief as it is written down: compact, checked when read, every float as text so that it comes back to the last bit
//! (JSON readers may round a number).

use super::belief::{Logged, MixupRecord, SkillBelief};
use super::constants as c;
use super::filter::{Chances, MIXUPS_MOST, Seen};
use crate::problem::Level;
use jiff::civil::Date;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;
use std::str::FromStr;

/// Why a written-down belief cannot be one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BeliefError {
    /// The probabilities are not numbers from 0 to 1 that sum to 1.
    #[error("the probabilities do not sum to 1")]
    Chances,
    /// A reading or a peak is not a number from 0 to 1.
    #[error("a mix-up's reading is not between 0 and 1")]
    Reading,
    /// A mix-up occurs twice, or there are more than can be told apart.
    #[error("the mix-ups are not a list of different ids")]
    Mixups,
    /// The half-life is not a number from 3 to 120 days.
    #[error("the half-life is not between 3 and 120 days")]
    HalfLife,
    /// The level is not 1 to 4.
    #[error("the level is not 1 to 4")]
    Level,
    /// The last answers name a mix-up that is not in the list, or there are too many of them.
    #[error("the last answers do not fit the mix-ups")]
    Log,
    /// A skill that was met has no day, or one not met has.
    #[error("the days do not fit the count of answers")]
    Days,
}

/// A value written as text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Text<T>(T);

impl<T: fmt::Debug> Serialize for Text<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // Debug is the shortest text that reads back exactly for f64, and the ISO form for Date.
        serializer.collect_str(&format_args!("{:?}", self.0))
    }
}

impl<'de, T: FromStr> Deserialize<'de> for Text<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor<T>(PhantomData<T>);
        impl<T: FromStr> de::Visitor<'_> for Visitor<T> {
            type Value = Text<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number or a day, as text")
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<Text<T>, E> {
                text.parse().map(Text).map_err(|_| E::invalid_value(de::Unexpected::Str(text), &self))
            }
        }
        deserializer.deserialize_str(Visitor(PhantomData))
    }
}

/// A mix-up as written: id, chance, last reading, peak, day named.
type StoredMixup = (String, Text<f64>, Text<f64>, Text<f64>, Option<Text<Date>>);

/// The written form. Mix-ups in the log are places in `mixups`; −1 stands for right, −2 for otherwise wrong.
#[derive(Serialize, Deserialize)]
pub(super) struct Stored {
    skill: String,
    /// Known, rusty, not yet.
    states: [Text<f64>; 3],
    mixups: Vec<StoredMixup>,
    half_life: Text<f64>,
    first_day: Option<Text<Date>>,
    last_day: Option<Text<Date>>,
    practised: Option<Text<Date>>,
    count: u32,
    on_last_day: u32,
    level: u8,
    right_run: u8,
    wrong_run: u8,
    /// Day, what was seen, exposed mix-ups as bits.
    log: Vec<(Text<Date>, i8, u64)>,
}

impl From<SkillBelief> for Stored {
    fn from(belief: SkillBelief) -> Stored {
        let chances = belief.chances;
        Stored {
            skill: belief.skill.into_owned(),
            states: [Text(chances.known), Text(chances.rusty), Text(chances.not_yet)],
            mixups: belief
                .mixups
                .into_iter()
                .zip(chances.mixups)
                .map(|(mixup, chance)| {
                    let MixupRecord { id, reading, peak, named } = mixup;
                    (id.into_owned(), Text(chance), Text(reading), Text(peak), named.map(Text))
                })
                .collect(),
            half_life: Text(belief.half_life),
            first_day: belief.first_day.map(Text),
            last_day: belief.last_day.map(Text),
            practised: belief.practised.map(Text),
            count: belief.count,
            on_last_day: belief.on_last_day,
            level: belief.level.number(),
            right_run: belief.right_run,
            wrong_run: belief.wrong_run,
            log: belief.log.iter().map(|logged| (Text(logged.day), number(logged.seen), logged.exposed)).collect(),
        }
    }
}

impl TryFrom<Stored> for SkillBelief {
    type Error = BeliefError;

    fn try_from(stored: Stored) -> Result<SkillBelief, BeliefError> {
        let [known, rusty, not_yet] = stored.states.map(|text| text.0);
        let count = stored.mixups.len();
        if count > MIXUPS_MOST {
            return Err(BeliefError::Mixups);
        }
        let mut chances = Chances { known, rusty, not_yet, mixups: Vec::with_capacity(count) };
        let mut mixups: Vec<MixupRecord> = Vec::with_capacity(count);
        for (id, chance, reading, peak, named) in stored.mixups {
            if mixups.iter().any(|mixup| mixup.id == id) {
                return Err(BeliefError::Mixups);
            }
            if !is_share(reading.0) || !is_share(peak.0) {
                return Err(BeliefError::Reading);
            }
            chances.mixups.push(chance.0);
            let named = named.map(|text| text.0);
            mixups.push(MixupRecord { id: Cow::Owned(id), reading: reading.0, peak: peak.0, named });
        }
        let all = [known, rusty, not_yet];
        if !all.iter().chain(&chances.mixups).all(|&chance| is_share(chance)) || (chances.total() - 1.0).abs() > 1e-6 {
            return Err(BeliefError::Chances);
        }
        let half_life = stored.half_life.0;
        if !(c::HALF_LIFE_LEAST..=c::HALF_LIFE_MOST).contains(&half_life) {
            return Err(BeliefError::HalfLife);
        }
        let (first_day, last_day) = (stored.first_day.map(|text| text.0), stored.last_day.map(|text| text.0));
        if (stored.count > 0) != last_day.is_some() || first_day.is_some() != last_day.is_some() {
            return Err(BeliefError::Days);
        }
        if stored.log.len() > c::LOG_LENGTH {
            return Err(BeliefError::Log);
        }
        let logged = |(day, seen, exposed): (Text<Date>, i8, u64)| {
            Some(Logged { day: day.0, seen: seen_from(seen, count)?, exposed })
        };
        Ok(SkillBelief {
            skill: Cow::Owned(stored.skill),
            chances,
            mixups,
            half_life,
            first_day,
            last_day,
            practised: stored.practised.map(|text| text.0),
            count: stored.count,
            on_last_day: stored.on_last_day,
            level: Level::new(stored.level).ok_or(BeliefError::Level)?,
            right_run: stored.right_run,
            wrong_run: stored.wrong_run,
            log: stored.log.into_iter().map(logged).collect::<Option<_>>().ok_or(BeliefError::Log)?,
        })
    }
}

/// A number from 0 to 1, with room for rounding; not NaN.
fn is_share(value: f64) -> bool {
    (0.0..=1.0 + 1e-9).contains(&value)
}

fn number(seen: Seen) -> i8 {
    match seen {
        Seen::Right => -1,
        Seen::Other => -2,
        // Below 64 by construction.
        Seen::Mixup(k) => i8::try_from(k).unwrap_or(-2),
    }
}

fn seen_from(number: i8, mixups: usize) -> Option<Seen> {
    match number {
        -1 => Some(Seen::Right),
        -2 => Some(Seen::Other),
        number => usize::try_from(number).ok().filter(|&k| k < mixups).map(Seen::Mixup),
    }
}
