//! How moments become days of the learner.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Where the learner's day comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Days {
    /// The clock, in this time zone: a sitting may go on past midnight.
    Clock(TimeZone),
    /// It was given by hand (`--date`), and stays.
    Given(Date),
}

impl Days {
    /// The day of a moment.
    #[must_use]
    pub fn of(&self, at: Timestamp) -> Date {
        match self {
            Days::Clock(zone) => zone.to_datetime(at).date(),
            Days::Given(day) => *day,
        }
    }

    /// Whether it was given by hand.
    #[must_use]
    pub const fn are_given(&self) -> bool {
        matches!(self, Days::Given(_))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn by_the_clock_the_day_changes_at_the_midnight_of_the_zone_and_a_given_one_never() {
        // Kiritimati keeps UTC+14 all the year (time zone database).
        let zone = Days::Clock(TimeZone::fixed(jiff::tz::offset(14)));
        let at = |text: &str| text.parse::<Timestamp>().unwrap();
        assert_eq!(zone.of(at("2026-11-25T09:59:59Z")).to_string(), "2026-11-25");
        assert_eq!(zone.of(at("2026-11-25T10:00:00Z")).to_string(), "2026-11-26");
        let given = Days::Given("2026-06-06".parse().unwrap());
        assert_eq!(given.of(at("2026-11-25T10:00:00Z")).to_string(), "2026-06-06");
    }
}
