//! Finding one's place: lines from marks as vectors, crossed by solving for how far along each one goes (common practice, no
//! source).

use super::Solver;
use super::facts::{Dir, Facts, Part, Worked, one};
use super::shown::{Must, Shown};

pub const ON_LINE: Solver =
    Solver { right: |facts, _| on_line(facts), wrong: |id, facts, _| on_line_wrong(id, facts), read: on_line_read };
pub const PROTRACTOR: Solver = Solver {
    right: |facts, _| measured(facts),
    wrong: |id, facts, _| measured_wrong(id, facts),
    read: |_, _| Vec::new(),
};
pub const TWO_MARKS: Solver = Solver {
    right: |facts, _| two_marks(facts),
    wrong: |id, facts, _| two_marks_wrong(id, facts),
    read: two_marks_read,
};

/// A place: metres east and north.
type At = (f64, f64);

fn place(at: At) -> Worked {
    one("place", Part::Place(at.0, at.1))
}

fn metres(from: At, to: At) -> f64 {
    (to.0 - from.0).hypot(to.1 - from.1)
}

/// How far along each of two lines they cross: from `a` by its direction, from `b` by its own; none where they are parallel.
fn along(a: At, by: Dir, b: At, other: Dir) -> Option<(f64, f64)> {
    let determinant = by.north * other.east - by.east * other.north;
    let (east, north) = (b.0 - a.0, b.1 - a.1);
    (determinant.abs() > 1e-9).then(|| {
        ((north * other.east - east * other.north) / determinant, (north * by.east - east * by.north) / determinant)
    })
}

fn at(from: At, by: Dir, far: f64) -> At {
    (from.0 + by.east * far, from.1 + by.north * far)
}

/// From the mark back to the eye: the needle's north stands so far clockwise of grid north.
fn back(facts: &Facts, bearing: &str) -> Dir {
    Dir::at(facts.number(bearing)).turned(gma(facts)).back()
}

fn gma(facts: &Facts) -> f64 {
    facts.number("grid_magnetic_deg")
}

fn mark(facts: &Facts) -> At {
    (facts.number("mark_easting_m"), facts.number("mark_northing_m"))
}

/// Every place ahead of the mark where a line in this direction meets a path.
fn met(facts: &Facts, by: Dir) -> Vec<At> {
    let lines = ["line_corners", "second_line_corners"].into_iter().filter(|name| facts.all.contains_key(*name));
    let mut met = Vec::new();
    for line in lines {
        let corner = |text: &str| -> At {
            let (east, north) = text.trim().split_once(' ').unwrap_or_else(|| panic!("{}: {text}", facts.code));
            (east.parse().expect("metres"), north.parse().expect("metres"))
        };
        let before = met.len();
        let corners: Vec<At> = facts.word(line).split(',').map(corner).collect();
        for (from, to) in corners.iter().zip(&corners[1..]) {
            let length = metres(*from, *to);
            let piece = Dir { east: (to.0 - from.0) / length, north: (to.1 - from.1) / length };
            if let Some((far, on)) = along(mark(facts), by, *from, piece)
                && far > 0.0
                && (-1e-6..=length + 1e-6).contains(&on)
            {
                // A line through a corner meets both pieces in one place.
                let here = at(mark(facts), by, far);
                if met[before..].iter().all(|other| metres(*other, here) > 1.0) {
                    met.push(here);
                }
            }
        }
    }
    met
}

fn on_line(facts: &Facts) -> Worked {
    let met = met(facts, back(facts, "magnetic_bearing_deg"));
    let chosen = match facts.maybe("judged_m") {
        None => {
            assert_eq!(met.len(), 1, "{}: {met:?}", facts.code);
            met[0]
        }
        Some(judged) => {
            let off = |at: &At| (metres(mark(facts), *at) - judged).abs();
            let mut by_distance = met;
            by_distance.sort_by(|one, other| off(one).total_cmp(&off(other)));
            assert!(off(&by_distance[0]) <= 50.5 && off(&by_distance[1]) > 200.0, "{}: {by_distance:?}", facts.code);
            by_distance[0]
        }
    };
    place(chosen)
}

fn on_line_wrong(id: &str, facts: &Facts) -> Option<Vec<Worked>> {
    let right = back(facts, "magnetic_bearing_deg");
    let by = match id {
        "not-applied" => right.turned(-gma(facts)),
        "sign-flipped" => right.turned(-2.0 * gma(facts)),
        "applied-twice" => right.turned(gma(facts)),
        "not-reversed" => right.back(),
        "other-crossing" => right,
        _ => return None,
    };
    Some(met(facts, by).into_iter().map(place).collect())
}

fn on_line_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let two = facts.all.contains_key("second_line_corners");
    assert_eq!(prompt.contains("one of the two bold"), two, "{}: {prompt}", facts.code);
    let mut must = vec![
        Must(Shown::Bearing(facts.number("magnetic_bearing_deg"), 'M'), "sight"),
        Must(Shown::East(gma(facts)), "g-m angle"),
    ];
    must.extend(facts.maybe("judged_m").map(|judged| Must(Shown::Number(judged), "judge")));
    must
}

const SIGHTS: [&str; 4] = ["first", "second", "third", "fourth"];

/// A mark, and the line from it back to the eye.
type Sight = (At, Dir);

fn sights(facts: &Facts) -> Vec<Sight> {
    let there = SIGHTS.into_iter().filter(|name| facts.all.contains_key(&format!("{name}_easting_m")));
    there
        .map(|name| {
            let mark = (facts.number(&format!("{name}_easting_m")), facts.number(&format!("{name}_northing_m")));
            (mark, back(facts, &format!("{name}_magnetic_bearing_deg")))
        })
        .collect()
}

/// The two sights whose lines cut nearest to a right angle, and those that cut at the smallest angle.
fn by_cut(facts: &Facts) -> [(Sight, Sight); 2] {
    let all = sights(facts);
    let mut pairs: Vec<(f64, (Sight, Sight))> = Vec::new();
    for (at, one) in all.iter().enumerate() {
        for other in &all[at + 1..] {
            pairs.push((one.1.nearness(other.1).abs(), (*one, *other)));
        }
    }
    pairs.sort_by(|one, other| one.0.total_cmp(&other.0));
    [pairs[0].1, pairs[pairs.len() - 1].1]
}

fn cross(one: Sight, other: Sight) -> Option<At> {
    along(one.0, one.1, other.0, other.1).map(|(far, _)| at(one.0, one.1, far))
}

fn two_marks(facts: &Facts) -> Worked {
    let [(one, other), _] = by_cut(facts);
    place(cross(one, other).unwrap_or_else(|| panic!("{}: parallel", facts.code)))
}

fn two_marks_wrong(id: &str, facts: &Facts) -> Option<Vec<Worked>> {
    let [(one, other), poor] = by_cut(facts);
    let turned = |sight: Sight, by: f64| (sight.0, sight.1.turned(by));
    let both = |by: f64| vec![cross(turned(one, by), turned(other, by))];
    let gma = gma(facts);
    let places = match id {
        "not-applied" => both(-gma),
        "sign-flipped" => both(-2.0 * gma),
        "applied-twice" => both(gma),
        "one-corrected" => vec![cross(turned(one, -gma), other), cross(one, turned(other, -gma))],
        "marks-swapped" => vec![cross((one.0, other.1), (other.0, one.1))],
        "poor-cut" => vec![cross(poor.0, poor.1)],
        _ => return None,
    };
    Some(places.into_iter().flatten().map(place).collect())
}

fn two_marks_read(facts: &Facts, _: &str) -> Vec<Must> {
    let bearings = SIGHTS.into_iter().filter_map(|name| facts.maybe(&format!("{name}_magnetic_bearing_deg")));
    let mut must: Vec<Must> = bearings.map(|bearing| Must(Shown::Bearing(bearing, 'M'), "the ")).collect();
    must.push(Must(Shown::East(gma(facts)), "g-m angle"));
    must
}

/// The grid bearing from A to B to the nearest degree, by the steps east and north.
fn grid_bearing(facts: &Facts) -> f64 {
    let (east, north) = (
        facts.number("to_easting_m") - facts.number("from_easting_m"),
        facts.number("to_northing_m") - facts.number("from_northing_m"),
    );
    let length = east.hypot(north);
    Dir { east: east / length, north: north / length }.degrees().round()
}

fn bearing(degrees: f64) -> Worked {
    one("bearing", Part::Round(degrees))
}

fn measured(facts: &Facts) -> Worked {
    bearing(grid_bearing(facts))
}

fn measured_wrong(id: &str, facts: &Facts) -> Option<Vec<Worked>> {
    let right = grid_bearing(facts);
    let below = (right.round() / 20.0).floor() * 20.0;
    let wrong = match id {
        "wrong-end" => right + 180.0,
        "mirrored-east-west" => 360.0 - right,
        "mirrored-north-south" => 180.0 - right,
        "from-east" => 90.0 - right,
        // From the number below, of which one stands every 20°, with ticks of 2°.
        "one-degree-a-tick" => below + (right.round() - below) / 2.0,
        "counted-wrong-way" => {
            return Some([below, below + 20.0].map(|from| bearing(2.0 * from - right.round())).to_vec());
        }
        _ => return None,
    };
    Some(vec![bearing(wrong)])
}
