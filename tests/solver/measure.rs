//! Measuring: lengths on the map, paces and minutes, each worked out from what one unit of it is. Rules without a source are common
//! practice; the times are Naismith's and Langmuir's (check_values.csv CV143, CV149).

use super::Solver;
use super::facts::{Facts, Part, Worked, one};
use super::shown::{Must, Shown};
use needlewise::problem::Question;

pub const SCALE: Solver = Solver { right: scale_right, wrong: scale_wrong, read: scale_read };
pub const PACING: Solver = Solver { right: pacing_right, wrong: pacing_wrong, read: pacing_read };
pub const TIMING: Solver = Solver { right: timing_right, wrong: timing_wrong, read: timing_read };

pub const GRID_REFERENCE: Solver = Solver { right: grid_right, wrong: grid_wrong, read: grid_read };

/// Without the dust of sums of broken numbers, so that halves are rounded as a hand rounds them.
fn clean(number: f64) -> f64 {
    (number * 1e6).round() / 1e6
}

/// What has no end is written to two places.
fn hundredths(number: f64) -> f64 {
    // A half at the end is a half, however it is kept.
    clean(number * 100.0).round() / 100.0
}

/// A map that somebody has in mind who did not look at this one's scale.
fn in_mind(denominator: f64) -> f64 {
    if denominator == 25_000.0 { 50_000.0 } else { 25_000.0 }
}

fn ground(metres: f64) -> Worked {
    one("ground", Part::Plain(metres))
}

/// Millimetres on a map as metres outside.
fn outside(mm: f64, denominator: f64) -> f64 {
    mm / 1000.0 * denominator
}

fn pieces(facts: &Facts) -> [f64; 3] {
    ["first_piece_mm", "second_piece_mm", "third_piece_mm"].map(|name| facts.number(name))
}

/// The length of a drawn path: from corner to corner.
pub fn path_m(facts: &Facts) -> f64 {
    let corners: Vec<[f64; 2]> = corners(facts);
    corners.windows(2).map(|piece| apart(piece[0], piece[1])).sum()
}

fn corners(facts: &Facts) -> Vec<[f64; 2]> {
    let number = |text: &str| text.parse().expect("metres");
    let corner = |text: &str| text.split_once(' ').map(|(east, north)| [number(east), number(north)]);
    facts.word("line_corners").split(", ").map(|text| corner(text).expect("two numbers")).collect()
}

fn apart(one: [f64; 2], other: [f64; 2]) -> f64 {
    ((one[0] - other[0]).powi(2) + (one[1] - other[1]).powi(2)).sqrt()
}

/// Metres outside as millimetres on a map.
fn mm_on_map(metres: f64, denominator: f64) -> f64 {
    metres / denominator * 1000.0
}

/// The metres of a problem, on a map of this scale.
fn metres(facts: &Facts, denominator: f64) -> f64 {
    if let Some(right) = facts.maybe("bar_right_of_zero_m") {
        return right + facts.number("bar_left_of_zero_m");
    }
    let mm = facts.maybe("measured_mm").unwrap_or_else(|| pieces(facts).iter().sum());
    outside(mm, denominator) * (1.0 + facts.maybe("longer_percent").unwrap_or(0.0) / 100.0)
}

fn scale_right(facts: &Facts, _: &Question) -> Worked {
    match facts.word("wanted") {
        "path_length" => return ground(path_m(facts).round()),
        "length_on_map" => {
            let mm = mm_on_map(facts.number("distance_m"), facts.number("scale_denominator"));
            // The answer is written to a tenth of a millimetre, finer than any ruler.
            return one("on_map", Part::Plain((clean(mm) * 10.0).round() / 10.0));
        }
        _ => {}
    }
    let all = metres(facts, facts.maybe("scale_denominator").unwrap_or(0.0));
    ground(if facts.maybe("slope_deg").is_some() { clean(all).round() } else { all })
}

fn scale_wrong(id: &str, facts: &Facts, question: &Question) -> Option<Vec<Worked>> {
    let Part::Plain(right) = scale_right(facts, question)[0].1 else { return None };
    if facts.word("wanted") == "path_length" {
        let corners = corners(facts);
        let straight = apart(corners[0], *corners.last().expect("a path"));
        return Some(vec![ground(match id {
            "straight-for-bends" => straight.round(),
            "bar-from-its-end" => right + 1000.0,
            "tenths-from-the-end" => right + 1000.0 - 2.0 * (right % 1000.0),
            _ => return None,
        })]);
    }
    if facts.word("wanted") == "length_on_map" {
        let (metres, scale) = (facts.number("distance_m"), facts.number("scale_denominator"));
        let exact = mm_on_map(metres, scale);
        let worked = match id {
            "multiplied-for-the-map" => vec![metres * scale / 1000.0],
            "other-scale" => vec![mm_on_map(metres, in_mind(scale))],
            "mm-for-cm" => vec![exact * 10.0, exact / 10.0],
            _ => return None,
        };
        return Some(worked.into_iter().map(|mm| one("on_map", Part::Plain(hundredths(mm)))).collect());
    }
    let scale = facts.maybe("scale_denominator").unwrap_or(0.0);
    let flat = facts.maybe("measured_mm").map(|mm| outside(mm, scale));
    let share = facts.maybe("longer_percent").map(|percent| percent / 100.0);
    let worked = match id {
        "other-scale" => vec![metres(facts, in_mind(scale))],
        "mm-for-cm" => vec![right * 10.0, right / 10.0],
        "divided-by-the-map" => vec![scale / facts.number("measured_mm")],
        "straight-for-bends" => vec![outside(facts.number("straight_across_mm"), scale)],
        "piece-left-out" => vec![outside(pieces(facts)[0], scale) + outside(pieces(facts)[1], scale)],
        "slope-left-out" => vec![flat?],
        "slope-taken-off" => vec![flat? - flat? * share?],
        "bar-from-its-end" => vec![right + 1000.0],
        // The first tenth from the end lies nine tenths from the zero.
        "tenths-from-the-end" => {
            vec![facts.number("bar_right_of_zero_m") + 1000.0 - facts.number("bar_left_of_zero_m")]
        }
        _ => return None,
    };
    Some(worked.into_iter().map(hundredths).map(ground).collect())
}

fn some(facts: &Facts, name: &str, per: f64, cue: &'static str) -> Option<Must> {
    Some(Must(Shown::Number(clean(facts.maybe(name)? / per)), cue))
}

fn scale_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    if let Some(slope) = facts.maybe("slope_deg") {
        // The share belongs to the slope: from above one sees its cosine.
        let exact = 100.0 / slope.to_radians().cos() - 100.0;
        assert!((exact - facts.number("longer_percent")).abs() <= 0.5, "{}: {exact}", facts.code);
        assert!(prompt.contains("straight up a slope"), "{}: {prompt}", facts.code);
    }
    if facts.maybe("third_piece_mm").is_some() {
        let all: f64 = pieces(facts).iter().sum();
        assert!(facts.number("straight_across_mm") < all, "{}: a bent path is longer", facts.code);
    }
    let scale = |cue| facts.maybe("scale_denominator").map(|scale| Must(Shown::Scale(scale), cue));
    [
        scale(""),
        some(facts, "distance_m", 1.0, "walk"),
        some(facts, "measured_mm", 1.0, ""),
        some(facts, "first_piece_mm", 1.0, "pieces are"),
        some(facts, "second_piece_mm", 1.0, "mm,"),
        some(facts, "third_piece_mm", 1.0, "and"),
        some(facts, "straight_across_mm", 1.0, "straight across"),
        facts.maybe("slope_deg").map(|slope| Must(Shown::Size(slope), "slope of")),
        some(facts, "longer_percent", 1.0, "so steep"),
        some(facts, "bar_right_of_zero_m", 1000.0, "line for"),
        some(facts, "bar_left_of_zero_m", 100.0, "short line"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The length of one pace in metres.
fn pace_m(facts: &Facts) -> f64 {
    100.0 / facts.number("count_per_hundred_paces")
}

/// How many paces of a length go into a way.
fn count(way: f64, pace: f64) -> f64 {
    clean(way / pace).round()
}

/// Twice for one who asks for double paces and gets single ones.
fn other_kind(kind: &str) -> f64 {
    if kind == "double" { 2.0 } else { 0.5 }
}

/// The paces walked, in the kind that the count for 100 m is in.
fn own_paces(facts: &Facts) -> f64 {
    let walked = facts.number("walked_paces");
    match (facts.word("walked_in"), facts.word("pace")) {
        ("single", "double") => walked / 2.0,
        ("double", "single") => walked + walked,
        _ => walked,
    }
}

/// The paces for a way, beside the metres where both are asked.
fn paces(facts: &Facts, metres: f64, number: f64) -> Worked {
    let paces = ("paces", Part::Plain(number));
    match facts.word("wanted") {
        "distance_and_paces" => vec![("ground", Part::Plain(metres)), paces],
        _ => vec![paces],
    }
}

fn way(facts: &Facts) -> f64 {
    facts.maybe("distance_m").unwrap_or_else(|| outside(facts.number("measured_mm"), facts.number("scale_denominator")))
}

/// How much longer the way is in paces than on flat ground.
fn stretched(facts: &Facts) -> f64 {
    1.0 + facts.maybe("more_percent").unwrap_or(0.0) / 100.0
}

fn pacing_right(facts: &Facts, _: &Question) -> Worked {
    if facts.word("wanted") == "distance" {
        return ground(own_paces(facts) * pace_m(facts));
    }
    paces(facts, way(facts), count(way(facts) * stretched(facts), pace_m(facts)))
}

fn pacing_wrong(id: &str, facts: &Facts, _: &Question) -> Option<Vec<Worked>> {
    let (pace, kind) = (pace_m(facts), facts.word("pace"));
    if facts.word("wanted") == "distance" {
        let (walked, right) = (facts.number("walked_paces"), own_paces(facts) * pace);
        let worked = match id {
            // What was counted in the other kind is not brought over, or what was not is.
            "single-for-double" if facts.word("walked_in") == kind => right / other_kind(kind),
            "single-for-double" => walked * pace,
            "count-upside-down" => own_paces(facts) / pace,
            "hundred-lost" => right - 100.0,
            _ => return None,
        };
        return Some(vec![ground(worked)]);
    }
    let (way, more) = (way(facts), stretched(facts));
    let worked = match id {
        "single-for-double" => paces(facts, way, count(way * more * other_kind(kind), pace)),
        "count-upside-down" => paces(facts, way, clean(way * more * pace).round()),
        "hundred-lost" => paces(facts, way, count((way - 100.0) * more, pace)),
        "ground-left-out" => paces(facts, way, count(way, pace)),
        "ground-taken-off" => paces(facts, way, count(way * (2.0 - more), pace)),
        "other-scale" => {
            let other = outside(facts.number("measured_mm"), in_mind(facts.number("scale_denominator")));
            paces(facts, other, count(other * more, pace))
        }
        _ => return None,
    };
    Some(vec![worked])
}

fn pacing_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let said = |words: &str| assert!(prompt.contains(words), "{}: no {words:?} in {prompt}", facts.code);
    let counted = facts.number("count_per_hundred_paces");
    said(&format!("{counted} {} paces for 100 m", facts.word("pace")));
    if let Some(walked) = facts.maybe("walked_paces") {
        said(&format!("counted {walked} {} paces", facts.word("walked_in")));
    }
    if let Some(more) = facts.maybe("more_percent") {
        said(
            ["a tenth more", "a fifth more", "a quarter more"]
                [[10.0, 20.0, 25.0].iter().position(|it| *it == more).unwrap()],
        );
    }
    [
        Some(Must(Shown::Number(counted), "count")),
        Some(Must(Shown::Number(100.0), "paces for")),
        some(facts, "distance_m", 1.0, "it is"),
        some(facts, "walked_paces", 1.0, "counted"),
        some(facts, "measured_mm", 1.0, "measure"),
        facts.maybe("scale_denominator").map(|scale| Must(Shown::Scale(scale), "map of")),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Minutes for the level way, for all climbs, and for what is steep on the way down.
fn parts(facts: &Facts) -> [f64; 3] {
    let level = facts.number("distance_m") / 5000.0 * 60.0;
    let lines = facts.maybe("contour_lines").map(|lines| lines * facts.number("contour_interval_m"));
    let up: f64 = [lines, facts.maybe("up_m"), facts.maybe("up_again_m")].into_iter().flatten().sum();
    [level, up / 600.0 * 60.0, facts.maybe("steep_down_m").unwrap_or(0.0) * 10.0 / 300.0]
}

fn timing_right(facts: &Facts, _: &Question) -> Worked {
    let [level, climb, steep] = parts(facts);
    minutes(match facts.word("wanted") {
        "walking_time" => facts.number("distance_m") / 1000.0 / facts.number("speed_km_per_h") * 60.0,
        "patrol_time" => (level + climb + steep) * 1.5,
        _ => level + climb,
    })
}

fn minutes(minutes: f64) -> Worked {
    one("time", Part::Plain(minutes))
}

fn timing_wrong(id: &str, facts: &Facts, _: &Question) -> Option<Vec<Worked>> {
    let [level, climb, steep] = parts(facts);
    let patrol = if facts.word("wanted") == "patrol_time" { 1.5 } else { 1.0 };
    let ups = || facts.number("up_m") + facts.number("up_again_m");
    if id == "other-speed" {
        // 6 km/h and 4 km/h.
        let km = facts.number("distance_m") / 1000.0;
        return Some([6.0, 4.0].map(|speed| minutes(hundredths(km * 60.0 / speed + climb))).to_vec());
    }
    if id == "hundred-minutes" {
        // All of it counted in hundreds, or the hundredths of the last hour read as minutes.
        let hours = facts.number("distance_m") / 1000.0 / facts.number("speed_km_per_h");
        let told = hours.trunc() * 60.0 + (hours.fract() * 100.0).round();
        return Some([hours * 100.0, told].map(|worked| minutes(hundredths(worked))).to_vec());
    }
    let worked = match id {
        "speed-multiplied" => facts.number("distance_m") / 1000.0 * facts.number("speed_km_per_h"),
        "climb-left-out" => (level + steep) * patrol,
        "minute-a-metre" => level + climb * 10.0,
        "lines-for-tens" => level + facts.number("contour_lines"),
        "net-height" => level + (ups() - facts.number("down_m")) / 10.0,
        "descent-added" => level + (ups() + facts.number("down_m")) / 10.0,
        "steep-left-out" => (level + climb) * patrol,
        "steep-taken-off" => (level + climb - steep) * patrol,
        "patrol-left-out" => level + climb + steep,
        "only-half" => (level + climb + steep) / 2.0,
        _ => return None,
    };
    Some(vec![minutes(hundredths(worked))])
}

fn timing_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let wanted = match facts.word("wanted") {
        "walking_time" => "How long do you walk?",
        "patrol_time" => "you add half as much again to Naismith's rule. How long do you walk by it, without rests?",
        _ => "How long does a fit adult need at least",
    };
    assert!(prompt.contains(wanted), "{}: {prompt}", facts.code);
    [
        some(facts, "distance_m", 1000.0, if facts.word("wanted") == "walking_time" { "it is" } else { "" }),
        some(facts, "speed_km_per_h", 1.0, "walk"),
        some(facts, "up_m", 1.0, ""),
        some(facts, "down_m", 1.0, "drops"),
        some(facts, "up_again_m", 1.0, "climbs"),
        some(facts, "steep_down_m", 1.0, "then"),
        some(facts, "contour_lines", 1.0, "cross"),
        some(facts, "contour_interval_m", 1.0, "each"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// One half of a reference: the figures of the metres from the corner of the large square, the last ones left away.
fn half(metres: f64, figures: usize) -> String {
    format!("{metres:05}")[..figures / 2].to_owned()
}

fn letters(facts: &Facts) -> String {
    let letters = facts.all.get("square_letters").and_then(serde_json::Value::as_str);
    letters.map_or_else(String::new, |letters| format!("{letters} "))
}

/// A reference of so many figures, by metres from the large square's corner.
fn reference(facts: &Facts, east: f64, north: f64) -> Worked {
    let figures = facts.number("figures").round();
    let figures = [4, 6, 8].into_iter().find(|it| f64::from(*it) == figures).expect("4, 6 or 8");
    let figures = usize::try_from(figures).expect("few");
    one("reference", Part::word(format!("{}{}{}", letters(facts), half(east, figures), half(north, figures))))
}

/// Metres east and north from the large square's corner.
fn corner(facts: &Facts) -> [f64; 2] {
    [("east_line", "east_of_line_m"), ("north_line", "north_of_line_m")]
        .map(|(line, beyond)| facts.number(line) * 1000.0 + facts.number(beyond))
}

const OFFERED: [&str; 4] = ["first_reference", "second_reference", "third_reference", "fourth_reference"];

/// Whether a reference of six figures begins, in each half, with a line of the map.
fn on_map(facts: &Facts, reference: &str) -> bool {
    let begins = |half: &str, first: &str| {
        let line: f64 = half[..2].parse().expect("figures");
        (0.0..10.0).contains(&(line - facts.number(first)))
    };
    begins(&reference[..3], "first_east_line") && begins(&reference[3..], "first_north_line")
}

fn offered(facts: &Facts, possible: bool) -> Vec<Worked> {
    let all = OFFERED.into_iter().map(|name| facts.word(name)).filter(|it| on_map(facts, it) == possible);
    all.map(|it| one("impossible", Part::word(it))).collect()
}

fn grid_right(facts: &Facts, _: &Question) -> Worked {
    if facts.word("wanted") == "impossible_reference" {
        let mut off = offered(facts, false);
        assert_eq!(off.len(), 1, "{}: {off:?}", facts.code);
        return off.remove(0);
    }
    let [east, north] = corner(facts);
    reference(facts, east, north)
}

fn grid_wrong(id: &str, facts: &Facts, _: &Question) -> Option<Vec<Worked>> {
    if id == "possible-reference" {
        return Some(offered(facts, true));
    }
    let [east, north] = corner(facts);
    // What the last figure counts.
    let step = 10_f64.powf(5.0 - facts.number("figures") / 2.0);
    let round = |metres: f64| (metres / step + 0.5).floor() * step;
    let far = |metres: f64| {
        let line = (metres / 1000.0).floor() * 1000.0;
        line + 1000.0 - (metres - line)
    };
    // One square back where a place lies on its line, with the far edge of that square.
    let before = |metres: f64| if metres % 1000.0 == 0.0 { metres - 50.0 } else { metres };
    Some(vec![match id {
        "northing-first" => reference(facts, north, east),
        "rounded-up" => reference(facts, round(east), round(north)),
        "far-corner" => reference(facts, east + 1000.0, north + 1000.0),
        "from-the-far-lines" => reference(facts, far(east), far(north)),
        "square-before-the-line" => reference(facts, before(east), before(north)),
        _ => return None,
    }])
}

fn grid_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let number = |number: f64, cue| Must(Shown::Number(number), cue);
    let fact = |name: &str| facts.number(name);
    if facts.word("wanted") == "impossible_reference" {
        let (east, north) = (fact("first_east_line"), fact("first_north_line"));
        let mut musts = vec![number(east, "from grid line"), number(east + 10.0, "to")];
        musts.extend([number(north, "from"), number(north + 10.0, "to")]);
        musts.extend(OFFERED.map(|name| number(facts.word(name).parse().expect("figures"), "")));
        return musts;
    }
    let figures =
        ["four", "six", "eight"][[4.0, 6.0, 8.0].iter().position(|it| *it == fact("figures")).expect("figures")];
    assert!(prompt.ends_with(&format!("with {figures} figures?")), "{}: {prompt}", facts.code);
    // What is read off the map stands nowhere in the text.
    if facts.word("wanted") == "reference_by_romer" {
        return Vec::new();
    }
    if facts.all.contains_key("square_letters") {
        assert!(prompt.contains(&format!("large square {}", letters(facts).trim_end())), "{}: {prompt}", facts.code);
    }
    let mut musts = Vec::new();
    for (line, beyond, way) in
        [("east_line", "east_of_line_m", ">m east of"), ("north_line", "north_of_line_m", ">m north of")]
    {
        if fact(beyond) > 0.0 {
            musts.push(number(fact(beyond), way));
        }
        musts.push(number(fact(line), "grid line"));
    }
    musts
}
