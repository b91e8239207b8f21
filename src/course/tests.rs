//! Courses read, worked out and refused.

mod messages;
mod reading;
mod worked_out;

use super::{Course, CourseError, Route, Site};
use crate::angle::North;
use crate::ground::Place;
use crate::textfile::Origin;
use jiff::civil::{Date, date};

const DAY: Date = date(2026, 7, 1);

/// A course with all that can be said of it.
const GOOD: &str = "\
title = \"Round the tarn\"
date = 2026-11-28
declination = \"8 W\"
year = 2022
annual_change = \"9' E\"
lines = [\"grid\"]
round = true
back_by = \"16:30\"
call = \"the hut, 5550123\"

[[point]]
name = \"Hut\"
place = \"46.8000, -28.6000\"
ascent_m = 40
descent_m = 10
hazards = [\"the pond: keep left of it\"]

[[point]]
name = \"Ford\"
place = \"26T 378400 5184560\"
ascent_m = 10

[[point]]
place = \"26TLS 7865 8408\"
ascent_m = 0

[[member]]
name = \"Ana\"
double_paces = 65

[[member]]
name = \"Bo\"

[[measured]]
by = \"Ana\"
taken = \"sighted\"
bearings = [60, \"160 M\", \"-\"]
came_out = [\"at the peg\", \"12 m, 230 M\", \"-\"]
";

/// A course of legs.
const LEGS: &str = "\
title = \"Pegs\"
start = \"46.8, -28.6\"
[[leg]]
to = \"B\"
bearing = \"040 M\"
metres = 60
[[leg]]
bearing = \"160 M\"
metres = 60.5
";

fn read(text: &str) -> Result<Course, CourseError> {
    Course::read(text, Origin::Embedded("tarn.toml"))
}

fn site() -> Site {
    Site { start: (Place::from_degrees(46.8, -28.6).unwrap(), "home".to_owned()), day: DAY, lines: North::ALL.to_vec() }
}

fn route(text: &str) -> Route {
    Route::of(&read(text).unwrap_or_else(|error| panic!("{}", error.render(false))), &site()).unwrap()
}
