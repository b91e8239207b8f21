//! The three norths: the declination diagram, conversions, a declination out of date.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "what a test counts and draws is small"
)]

use super::facts::{Dir, EXACT, Facts, Part, Worked, one};
use super::{Solver, prompts, single};
use needlewise::problem::Question;

/// The three norths of the facts, in the frame of true north; where only the G-M angle is given, in the frame of the grid.
pub struct Norths {
    pub magnetic: Dir,
    pub grid: Dir,
    pub truth: Dir,
}

impl Norths {
    pub fn of(facts: &Facts) -> Norths {
        match (facts.maybe("declination_deg"), facts.maybe("grid_magnetic_deg")) {
            (Some(declination), None) => Norths {
                magnetic: Dir::at(declination),
                grid: Dir::at(facts.maybe("convergence_deg").unwrap_or(0.0)),
                truth: Dir::NORTH,
            },
            (None, Some(angle)) => Norths { magnetic: Dir::at(angle), grid: Dir::NORTH, truth: Dir::NORTH },
            (Some(declination), Some(angle)) => {
                Norths { magnetic: Dir::at(declination), grid: Dir::at(declination).turned(-angle), truth: Dir::NORTH }
            }
            other => panic!("{}: declination and G-M angle are {other:?}", facts.code),
        }
    }

    /// How far clockwise of this north the needle points, as a dial can hold it.
    pub fn needle_from(&self, north: &str) -> f64 {
        on_dial(self.named(north).turn_to(self.magnetic))
    }

    fn named(&self, north: &str) -> Dir {
        match north {
            "magnetic" => self.magnetic,
            "grid" => self.grid,
            "true" => self.truth,
            other => panic!("{other} is no north"),
        }
    }
}

/// Angles are printed to the minute; the nearest whole degree goes on the dial, halves away from zero.
pub fn on_dial(degrees: f64) -> f64 {
    ((degrees * 60.0).round() / 60.0).round()
}

/// The bearing that is given, with its north.
fn given(facts: &Facts) -> (f64, &'static str) {
    let mut found = [("true_bearing_deg", "true"), ("grid_bearing_deg", "grid"), ("magnetic_bearing_deg", "magnetic")]
        .into_iter()
        .filter_map(|(name, north)| Some((facts.maybe(name)?, north)));
    let only = found.next().expect("a bearing is given");
    assert!(found.next().is_none(), "{}: two bearings", facts.code);
    only
}

/// Lay the given bearing off from its north, then count again from the wanted one.
/// Both conversions.
pub const CONVERT: Solver =
    Solver { right: convert, wrong: |id, facts, _| single(convert_wrong(id, facts)), read: prompts::convert };

fn convert(facts: &Facts, question: &Question) -> Worked {
    let norths = Norths::of(facts);
    let (bearing, from) = given(facts);
    let wanted = facts.word("wanted_north");
    assert_ne!(from, wanted, "{}: nothing to convert", facts.code);
    assert_eq!(question.fields()[0].north().map(|north| north.word()), Some(wanted), "{}", facts.code);
    // Seen from the map's north, the needle points to the rounded angle.
    let map = if from == "magnetic" { wanted } else { from };
    let needle = Dir::at(norths.needle_from(map));
    let (given, asked) = if from == "magnetic" { (needle, Dir::NORTH) } else { (Dir::NORTH, needle) };
    one("bearing", Part::Round(given.turned(bearing).from(asked)))
}

fn convert_wrong(id: &str, facts: &Facts) -> Option<Worked> {
    let (bearing, from) = given(facts);
    let declination = facts.maybe("declination_deg");
    let convergence = facts.maybe("convergence_deg");
    let grid = from == "grid" || facts.word("wanted_north") == "grid";
    // The angle that is due, east positive.
    let grid_magnetic = || facts.maybe("grid_magnetic_deg").or_else(|| Some(declination? - convergence?));
    let angle = on_dial(if grid { grid_magnetic()? } else { declination? });
    let with = |angle: f64| if from == "magnetic" { bearing + on_dial(angle) } else { bearing - on_dial(angle) };
    let part = match id {
        "sign-flipped" => Part::Round(with(-angle)),
        "not-applied" => Part::Round(bearing),
        "applied-twice" => Part::Round(with(2.0 * angle)),
        "not-wrapped" => Part::Plain(with(angle)),
        "declination-for-gma" if grid => Part::Round(with(declination?)),
        "gma-for-declination" if !grid => Part::Round(with(grid_magnetic()?)),
        "sizes-added" if grid => Part::Round(with(declination? + convergence?)),
        _ => return None,
    };
    Some(one("bearing", part))
}

/// What a diagram can print: the name of the angle, its fact, and the heads of its prongs, the first the one it counts from.
pub const PRINTED: [(&str, &str, [&str; 2]); 3] = [
    ("declination", "star_to_mn_printed_deg", ["star", "MN"]),
    ("convergence", "star_to_gn_printed_deg", ["star", "GN"]),
    ("grid_magnetic", "gn_to_mn_printed_deg", ["GN", "MN"]),
];

fn field(wanted: &str) -> &'static str {
    PRINTED.iter().find(|(name, ..)| *name == wanted).unwrap_or_else(|| panic!("wanted {wanted}")).0
}

/// East where the second of two prongs stands clockwise of the first.
fn side([from, to]: [&str; 2], facts: &Facts) -> f64 {
    let mut heads = facts.word("prongs_clockwise").split(", ");
    let first = heads.find(|head| *head == from || *head == to);
    let second = heads.find(|head| *head == from || *head == to);
    assert!(second.is_some(), "{}: {from} and {to} are not both there", facts.code);
    if first == Some(from) { 1.0 } else { -1.0 }
}

/// The three angles with their signs, as far as they are printed.
fn signed(facts: &Facts) -> [Option<f64>; 3] {
    PRINTED.map(|(_, fact, ends)| {
        let size = facts.maybe(fact)?;
        assert!(size >= 0.0, "{}: a diagram prints sizes", facts.code);
        Some(size * side(ends, facts))
    })
}

/// From true north to grid north and on to magnetic north is the declination; so any two angles give the third.
fn third(facts: &Facts, wanted: &str) -> Option<f64> {
    let [declination, convergence, angle] = signed(facts);
    match wanted {
        "declination" => Some(angle? + convergence?),
        "convergence" => Some(declination? - angle?),
        _ => Some(declination? - convergence?),
    }
}

pub fn diagram(facts: &Facts) -> Worked {
    let wanted = field(facts.word("wanted"));
    let printed =
        PRINTED.iter().zip(signed(facts)).find(|((name, ..), _)| *name == wanted).and_then(|(_, angle)| angle);
    let found = third(facts, wanted);
    if let (Some(printed), Some(found)) = (printed, found) {
        assert!((printed - found).abs() < EXACT, "{}: the printed angles contradict each other", facts.code);
    }
    let angle = printed.or(found).unwrap_or_else(|| panic!("{}: not enough is printed", facts.code));
    one(wanted, Part::Plain(angle))
}

pub fn diagram_wrong(id: &str, facts: &Facts) -> Option<Vec<Worked>> {
    let wanted = field(facts.word("wanted"));
    let [declination, convergence, angle] = signed(facts);
    let right = match diagram(facts).remove(0).1 {
        Part::Plain(right) => right,
        other => panic!("{other:?}"),
    };
    let wrong = match (id, wanted) {
        ("east-west-swapped", _) => -right,
        ("measured-drawing", _) => facts.number("drawn_angle_deg") * right.signum(),
        ("declination-for-gma", "grid_magnetic") | ("declination-for-convergence", "convergence") => declination?,
        ("gma-for-declination", "declination") => angle?,
        ("sizes-added", "grid_magnetic") => declination? + convergence?,
        ("sizes-added", "declination") => angle? - convergence?,
        ("sizes-added", "convergence") => declination? + angle?,
        _ => return None,
    };
    let mut all = vec![one(wanted, Part::Plain(wrong))];
    if id == "sizes-added" {
        // The wrong size with the letter that the picture shows.
        all.push(one(wanted, Part::Plain(wrong.abs() * right.signum())));
    }
    Some(all)
}

/// A printed declination with its yearly change, in whole minutes, east positive.
pub struct Dated {
    pub printed: i64,
    /// Years since the sheet was made, where another year stands beside its declination.
    pub since_sheet: Option<i64>,
    pub change: i64,
    pub years: i64,
}

impl Dated {
    pub fn of(facts: &Facts) -> Dated {
        let minutes = |degrees: f64| {
            let minutes = (degrees * 60.0).round();
            assert!((degrees * 60.0 - minutes).abs() < EXACT, "{}: whole minutes are printed", facts.code);
            minutes as i64
        };
        Dated {
            printed: minutes(facts.number("printed_declination_deg")),
            since_sheet: facts.maybe("sheet_year").map(|year| (facts.number("this_year") - year) as i64),
            change: facts.number("annual_change_arcmin") as i64,
            years: (facts.number("this_year") - facts.number("printed_year")) as i64,
        }
    }

    /// Year by year, as the needle goes.
    pub fn now(&self) -> i64 {
        (0..self.years).fold(self.printed, |declination, _| declination + self.change)
    }

    pub fn reversed(&self) -> i64 {
        (0..self.years).fold(self.printed, |declination, _| declination - self.change)
    }
}

/// A signed angle in minutes, in the three fields degrees, minutes, E or W.
fn in_three(minutes: i64) -> Worked {
    let side = if minutes < 0 { "W" } else { "E" };
    vec![
        ("degrees", Part::Plain((minutes.abs() / 60) as f64)),
        ("minutes", Part::Plain((minutes.abs() % 60) as f64)),
        ("side", Part::word(side)),
    ]
}

/// The letter of the option with this value in minutes.
fn option(facts: &Facts, minutes: i64) -> Option<Worked> {
    let mut letters = [("option_a_deg", "A"), ("option_b_deg", "B"), ("option_c_deg", "C")]
        .into_iter()
        .filter(|(name, _)| (facts.number(name) * 60.0 - minutes as f64).abs() < EXACT);
    let (_, letter) = letters.next()?;
    assert!(letters.next().is_none(), "{}: two options are the same", facts.code);
    Some(one("choice", Part::word(letter)))
}

pub fn dated_map(facts: &Facts) -> Worked {
    let dated = Dated::of(facts);
    match facts.word("wanted") {
        "declination" => {
            assert!(dated.years <= 15, "{}: the map is too old to be worked out", facts.code);
            assert!(dated.now().abs() > 5, "{}: too near zero for a letter", facts.code);
            in_three(dated.now())
        }
        "choice" => {
            // 15 years: U.S. Geological Survey; 20 years: TC 3-25.26. Between them two sources disagree.
            assert!(dated.years <= 15 || dated.years > 20, "{}: {} years old", facts.code, dated.years);
            assert_eq!(facts.word("option_d"), "get a current value", "{}", facts.code);
            // Somebody who can get a current value is never wrong to do so: only who cannot is asked for a sum.
            let to_be_had = facts.word("current_value") == "to be had";
            assert_eq!(to_be_had, dated.years > 20, "{}", facts.code);
            if to_be_had {
                one("choice", Part::word("D"))
            } else {
                option(facts, dated.now()).unwrap_or_else(|| panic!("{}: no option is right", facts.code))
            }
        }
        other => panic!("{}: wanted {other}", facts.code),
    }
}

pub fn dated_map_wrong(id: &str, facts: &Facts) -> Option<Worked> {
    let dated = Dated::of(facts);
    if facts.word("wanted") == "choice" {
        return match id {
            "not-updated" => option(facts, dated.printed),
            "change-reversed" => option(facts, dated.reversed()),
            "sheet-year" => option(facts, dated.printed + dated.since_sheet? * dated.change),
            "old-map-trusted" if dated.years > 20 => option(facts, dated.now()),
            "fresh-map-doubted" if dated.years <= 15 => Some(one("choice", Part::word("D"))),
            _ => None,
        };
    }
    let old_side = if dated.printed < 0 { "W" } else { "E" };
    Some(match id {
        "change-reversed" => in_three(dated.reversed()),
        "not-updated" => in_three(dated.printed),
        "only-the-change" => in_three(dated.years * dated.change),
        "sheet-year" => in_three(dated.printed + dated.since_sheet? * dated.change),
        "one-year-only" => in_three(dated.printed + dated.change),
        "minutes-as-degrees" => in_three(dated.printed + 60 * dated.years * dated.change),
        "letter-kept" => {
            let mut worked = in_three(dated.now());
            worked[2].1 = Part::word(old_side);
            worked
        }
        "minutes-as-decimals" => {
            // 7°30′ is 7.30, and a hundred minutes make a degree.
            let hundreds = |minutes: i64| minutes / 60 * 100 + minutes % 60;
            let sum = hundreds(dated.printed) + dated.years * dated.change;
            let side = if sum < 0 { "W" } else { "E" };
            vec![
                ("degrees", Part::Plain((sum.abs() / 100) as f64)),
                ("minutes", Part::Plain((sum.abs() % 100) as f64)),
                ("side", Part::word(side)),
            ]
        }
        _ => return None,
    })
}
