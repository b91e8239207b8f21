//! A printed declination and its annual change, brought up to date: what B5 asks, and what orienting by a true-north
//! line (D2) needs at level 4. In whole minutes of arc, east positive: maps print minutes, and sums of them stay exact.

use super::norths::sizes_together;
use crate::angle::{Angle, EastWest, declination_words, write_digits, write_minutes};
use crate::numbers::whole;
use crate::problem::{Draw, DriftFigure, Fact, FactName, MixupClass, MixupId, MixupMeta, Needle, Step};
use std::fmt::{self, Display};

/// Minutes of arc, east positive.
pub(super) type ArcMinutes = i32;

/// What a map prints about its declination, and when it is read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Dated {
    /// The printed declination.
    pub printed: ArcMinutes,
    /// Its change in one year.
    pub change: ArcMinutes,
    /// The year the sheet was made, where that is another than the one the declination was printed for.
    pub sheet_year: Option<i32>,
    /// The year it was printed for.
    pub printed_year: i32,
    /// The year it is used in.
    pub this_year: i32,
}

impl Dated {
    /// A year in which a problem plays. Problems know no clock, so it is drawn.
    pub fn draw_year(draw: &mut Draw) -> i32 {
        draw.between(2025, 2031)
    }

    /// Years since printing.
    pub const fn years(&self) -> i32 {
        self.this_year - self.printed_year
    }

    /// The change since printing.
    pub const fn total(&self) -> ArcMinutes {
        self.years() * self.change
    }

    /// The declination of this year.
    pub const fn today(&self) -> ArcMinutes {
        self.printed + self.total()
    }

    /// The change counted the wrong way: backwards, or as growth where it makes the declination smaller.
    pub const fn reversed(&self) -> ArcMinutes {
        self.printed - self.total()
    }

    /// The declination that comes out when the years are counted from the sheet.
    pub fn by_sheet_year(&self) -> Option<ArcMinutes> {
        Some(self.printed + (self.this_year - self.sheet_year?) * self.change)
    }

    /// Whether the letter changes between printing and now.
    pub const fn crosses_zero(&self) -> bool {
        (self.printed < 0) != (self.today() < 0)
    }

    /// Appends `A map made in 2014 gives the declination as 5°30′ W. It changes by 10′ E a year. Suppose it is 2026. `. Home
    /// ground has a calendar of its own, so there the year is only supposed.
    pub fn given_words(&self) -> impl Display {
        fmt::from_fn(move |out| {
            // No sheet knows the declination of a year to come; but an old one that is printed again gets a newer one.
            match self.sheet_year {
                None => write!(out, "A map made in {} gives the declination ", self.printed_year.unsigned_abs())?,
                Some(sheet) => write!(
                    out,
                    "A map made in {}{} gives the declination of {} ",
                    sheet.unsigned_abs(),
                    if sheet < self.printed_year { " and printed again later" } else { "" },
                    self.printed_year.unsigned_abs()
                )?,
            }
            write!(
                out,
                "as {}. It changes by {} a year. Suppose it is {}. ",
                lettered(self.printed),
                change_words(self.change),
                self.this_year.unsigned_abs()
            )
        })
    }

    /// The needle as it is printed, and where the answer may be seen as it is now; drawn in order with true north, not to scale.
    pub fn drift(&self, told: bool) -> DriftFigure {
        let (then, now) = match (told, self.today()) {
            (false, _) | (true, 0) => (25 * self.printed.signum(), 0),
            (true, now) if self.crosses_zero() => (16 * self.printed.signum(), 16 * now.signum()),
            (true, now) => {
                let (near, far) = (13 * now.signum(), 26 * now.signum());
                if self.printed.abs() < now.abs() { (near, far) } else { (far, near) }
            }
        };
        let needle = |year, at: i32, minutes: ArcMinutes| Needle {
            year,
            at: Angle::from_degrees(f64::from(at)),
            declination: lettered(minutes).to_string(),
        };
        DriftFigure {
            printed: needle(self.printed_year, then, self.printed),
            now: told.then(|| (lettered(self.total()).to_string(), needle(self.this_year, now, self.today()))),
        }
    }

    /// All of it as facts.
    pub fn push_facts(&self, facts: &mut Vec<Fact>) {
        facts.push(Fact::angle(FactName::PrintedDeclination, arc(self.printed)));
        facts.push(Fact::number(FactName::AnnualChange, f64::from(self.change)));
        facts.extend(self.sheet_year.map(|year| Fact::own_number("sheet_year", f64::from(year))));
        facts.push(Fact::number(FactName::PrintedYear, f64::from(self.printed_year)));
        facts.push(Fact::number(FactName::ThisYear, f64::from(self.this_year)));
    }

    /// The step that counts the years.
    pub fn years_step(&self) -> Step {
        let line = format_args!(
            "{} − {} = {}",
            self.this_year.unsigned_abs(),
            self.printed_year.unsigned_abs(),
            self.years().unsigned_abs()
        );
        Step::new(
            if self.sheet_year.is_some() {
                "The declination was true in the year beside it, whatever year the sheet was made. Years since then"
            } else {
                "Years since the map was made"
            },
            line,
        )
    }

    /// The steps from the years to this year's value.
    pub fn push_change_steps(&self, steps: &mut Vec<Step>) {
        let line = self.total_words();
        steps.push(Step::new("Change in that time", line));

        let with = (self.printed < 0) == (self.change < 0);
        let line = sizes_together(arc(self.printed), arc(self.total()));
        let sum = Step::new(
            match (with, self.printed < 0) {
                (true, true) => "The needle moves further west, so add",
                (true, false) => "The needle moves further east, so add",
                (false, true) => {
                    "The needle lies west and moves east, back toward true north, so take the smaller from the larger"
                }
                (false, false) => {
                    "The needle lies east and moves west, back toward true north, so take the smaller from the larger"
                }
            },
            line,
        );
        steps.push(
            sum.decides("Do they go the same way or against each other: add, or take the smaller from the larger?"),
        );

        if self.today() == 0 {
            // Nothing is left, so no letter either.
            return;
        }
        let line = in_full_words(self.today());
        let letter = Step::new(
            match (with, self.crosses_zero(), self.printed < 0) {
                (_, true, _) => {
                    "The change was the larger one and took the needle past true north, so the letter changes"
                }
                (true, false, true) => "Both are west, so west",
                (true, false, false) => "Both are east, so east",
                (false, false, _) => {
                    "It does not come as far as true north, so the letter stays: that of the larger one"
                }
            },
            line,
        );
        steps.push(letter.decides("Which letter stands behind it?"));
    }

    /// The last step: what one sets in place of the sum; none where the sum is what one sets.
    pub fn set_step(&self) -> Option<Step> {
        let half = whole::<ArcMinutes>((f64::from(self.today()) / 30.0).round()) * 30;
        if half == self.today() {
            return None;
        }
        let words = format!(
            "In the field no hand compass shows minutes: there one sets the nearest half degree, {}, in place of",
            lettered(half)
        );
        let line = in_full_words(self.today());
        Some(Step::new(words, line))
    }

    /// Appends `12 × 10′ = 120′ = 2° E`.
    pub fn total_words(&self) -> impl Display {
        fmt::from_fn(move |out| {
            let (change, total) = (self.change.unsigned_abs(), self.total().unsigned_abs());
            write!(out, "{} × {change}′ = {total}′", self.years().unsigned_abs())?;
            if total >= 60 {
                out.write_str(" = ")?;
                write_minutes(out, total.into())?;
            }
            out.write_str(letter_words(self.total()))
        })
    }

    /// Appends `5°30′ W and 2° E make 3°30′ W`.
    pub fn made_words(&self, change: ArcMinutes) -> impl Display {
        fmt::from_fn(move |out| {
            write!(out, "{} and {} make {}", lettered(self.printed), lettered(change), lettered(self.printed + change))
        })
    }
}

/// Appends `5°30′ W`.
pub(super) fn lettered(minutes: ArcMinutes) -> impl Display {
    declination_words(arc(minutes))
}

/// Degrees and minutes, the minutes also where there are none: `5°30′ W`, `12°00′ E`.
fn in_full_words(minutes: ArcMinutes) -> impl Display {
    fmt::from_fn(move |out| {
        write_minutes(out, minutes.unsigned_abs().into())?;
        out.write_str(if minutes % 60 == 0 { "00′" } else { "" })?;
        out.write_str(letter_words(minutes))
    })
}

/// The size in minutes with its letter: `10′ E`.
pub(super) fn change_words(minutes: ArcMinutes) -> impl Display {
    fmt::from_fn(move |out| {
        write_digits(out, minutes.unsigned_abs().into(), 1)?;
        out.write_str("′")?;
        out.write_str(letter_words(minutes))
    })
}

const fn letter_words(minutes: ArcMinutes) -> &'static str {
    match letter(minutes) {
        EastWest::East => " E",
        EastWest::West => " W",
    }
}

/// East or west; nothing counts as east.
pub(super) const fn letter(minutes: ArcMinutes) -> EastWest {
    if minutes < 0 { EastWest::West } else { EastWest::East }
}

/// As an angle.
pub(super) fn arc(minutes: ArcMinutes) -> Angle {
    Angle::from_whole_minutes(minutes)
}

/// The printed value used as it is, years later.
pub(super) const NOT_UPDATED: MixupMeta = MixupMeta {
    id: MixupId("not-updated"),
    class: MixupClass::Forgotten,
    said: "used the old printed value as it stands",
    mend: "Look at the year of the map, and bring the value up to date first.",
};

/// The change counted backwards, or as growth where it makes the declination smaller.
pub(super) const CHANGE_REVERSED: MixupMeta = MixupMeta {
    id: MixupId("change-reversed"),
    class: MixupClass::Sign,
    said: "let the yearly change go the wrong way",
    mend: "Same letter: the declination grows. Other letter: it shrinks.",
};

#[cfg(test)]
mod tests {
    use super::*;

    fn today(printed: ArcMinutes, change: ArcMinutes, years: i32) -> ArcMinutes {
        Dated { printed, change, sheet_year: None, printed_year: 2000, this_year: 2000 + years }.today()
    }

    #[test]
    fn a_printed_value_moves_by_the_years_times_the_change() {
        // Outside checks CV078 to CV081 (identity: D + n × change with E positive).
        assert_eq!(today(-330, 10, 9), -240, "CV078: 5 30 W, 10' E, 9 years: 4 00 W");
        assert_eq!(today(-70, 12, 10), 50, "CV079: 1 10 W, 12' E, 10 years: 0 50 E");
        assert_eq!(today(840, -6, 10), 780, "CV080: 14 00 E, 6' W, 10 years: 13 00 E");
        assert_eq!(today(-810, -3, 20), -870, "CV081: 13 30 W, 3' W, 20 years: 14 30 W");
    }

    #[test]
    fn published_notes_on_maps_come_out_as_their_publisher_says() {
        // Outside checks CV072, CV073 (Ordnance Survey, "Grid North, Magnetic North and True North", seen; later years
        // by arithmetic) and CV077 (Ordnance Survey blog example, 2015 statement, seen). These are G-M angles; the
        // arithmetic is the same.
        assert_eq!(today(0, 11, 12), 132, "CV072: 0 00 W, 11' E, 2014 to 2026: 2 12 E");
        assert_eq!(today(-198, 10, 6), -138, "CV073: 3 18 W, 10' E, 2014 to 2020: 2 18 W");
        assert_eq!(today(-198, 10, 20), 2, "CV073: the same in 2034: 0 02 E");
        assert_eq!(today(-180, 12, 11), -48, "CV077: 3.0 W, 0.2 E a year, 2015 to 2026: 0.8 W");
    }

    #[test]
    fn two_printed_values_twenty_years_apart_agree_with_the_change_between_them() {
        // Outside checks CV070, CV071 (TC 3-25.26, 15 Nov 2013, p. 6-1, seen): 23 E to 18 E and 2 W to 4 W in 20 years,
        // that is 15' W and 6' W a year.
        assert_eq!(today(23 * 60, -15, 20), 18 * 60);
        assert_eq!(today(-2 * 60, -6, 20), -4 * 60);
    }

    #[test]
    fn a_declination_that_has_come_to_nothing_has_no_letter() {
        // "The letter changes: 0°00′ E" was said of 2° W after 12 years of 10′ E.
        let dated = Dated { printed: -120, change: 10, sheet_year: None, printed_year: 2014, this_year: 2026 };
        let mut steps = Vec::new();
        dated.push_change_steps(&mut steps);
        assert!(steps.iter().all(|step| !step.line().contains("0°00′")), "{steps:?}");
        assert!(steps[1].line().ends_with("2° − 2° = 0°"), "{steps:?}");
    }

    #[test]
    fn the_needle_is_drawn_on_its_side_of_true_north_and_moves_the_way_it_did() {
        for (printed, change) in [(-330, 10), (-330, -10), (330, 10), (330, -10), (-70, 12), (70, -12)] {
            let dated = Dated { printed, change, sheet_year: None, printed_year: 2016, this_year: 2026 };
            let drift = dated.drift(true);
            let (then, (_, now)) = (drift.printed.at.degrees(), drift.now.expect("the needle of now"));
            assert!(then * f64::from(printed) > 0.0, "{printed} {change}: {then}");
            assert!(now.at.degrees() * f64::from(dated.today()) > 0.0, "{printed} {change}: {now:?}");
            assert!((now.at.degrees() - then) * f64::from(change) > 0.0, "{printed} {change}: {then} {now:?}");
            assert_eq!(dated.drift(false).now, None, "where it is now is asked");
        }
    }

    #[test]
    fn the_steps_name_the_letter_that_changed() {
        let dated = Dated { printed: -70, change: 12, sheet_year: None, printed_year: 2016, this_year: 2026 };
        let mut steps = vec![dated.years_step()];
        dated.push_change_steps(&mut steps);
        steps.extend(dated.set_step());
        let lines: Vec<String> = steps.iter().map(Step::line).collect();
        assert_eq!(
            lines,
            [
                "Years since the map was made: 2026 − 2016 = 10",
                "Change in that time: 10 × 12′ = 120′ = 2° E",
                "The needle lies west and moves east, back toward true north, so take the smaller from the larger: 2° − 1°10′ = 0°50′",
                "The change was the larger one and took the needle past true north, so the letter changes: 0°50′ E",
                "In the field no hand compass shows minutes: there one sets the nearest half degree, 1° E, in place of: 0°50′ E",
            ]
        );
        // "One sets 17° E. By the sum it is: 17°00′ E" gave one number twice.
        assert_eq!(Dated { printed: 900, ..dated }.today(), 17 * 60);
        assert_eq!(Dated { printed: 900, ..dated }.set_step(), None);
    }
}
