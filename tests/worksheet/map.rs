//! The printed map under a ruler and a protractor: what its key says is what its lines are, within a tenth of a millimetre and of a
//! degree.

use crate::house::House;
use crate::printed::{Line, Page, pages};
use std::fs;

const TEXT: [u8; 3] = [0x22; 3];
const GRID: [u8; 3] = [0x1f, 0x5f, 0xb4];
const MAGNETIC: [u8; 3] = [0xb8, 0x1e, 0x1e];

/// A printed map with what its key says.
struct Sheet {
    map: Page,
    tasks: String,
    key: String,
}

/// A leg as the key tells it.
#[derive(Debug)]
struct Leg {
    by_true: f64,
    by_grid: f64,
    magnetic: f64,
    back: f64,
    paper_mm: f64,
    ground_m: f64,
}

fn sheet(words: &[&str]) -> Sheet {
    let house = House::new();
    let answer = house.run(&[&["map", "--date", "2026-11-25", "--output", "map.pdf"], words].concat());
    assert_eq!((answer.code, answer.err.as_str()), (0, ""), "{words:?}");
    let mut pages = pages(&fs::read(house.home().join("map.pdf")).unwrap()).into_iter();
    let map = pages.next().unwrap();
    let tasks = pages.next().unwrap().text();
    let key = pages.map(|page| page.text()).collect::<Vec<_>>().join(" ");
    Sheet { map, tasks, key }
}

/// The numbers behind these words, up to as many as wanted.
fn numbers(text: &str, behind: &str, count: usize) -> Vec<f64> {
    let (_, rest) = text.split_once(behind).unwrap_or_else(|| panic!("no {behind} in {text}"));
    let plain: String = rest.chars().map(|c| if c.is_ascii_digit() || c == '.' { c } else { ' ' }).collect();
    plain.split_whitespace().filter_map(|part| part.trim_matches('.').parse().ok()).take(count).collect()
}

/// A signed angle as it is printed: `9°36′ W`, east positive.
fn angle(text: &str, behind: &str) -> f64 {
    let (_, rest) = text.split_once(behind).unwrap();
    let (printed, _) = rest.split_once([',', '.']).unwrap();
    let parts: Vec<f64> = printed.split(|c: char| !c.is_ascii_digit()).filter_map(|part| part.parse().ok()).collect();
    let size = parts[0] + parts.get(1).unwrap_or(&0.0) / 60.0;
    if printed.ends_with('W') { -size } else { size }
}

impl Sheet {
    fn legs(&self) -> [Leg; 3] {
        let (_, table) = self.key.split_once("back, magnetic").unwrap();
        ["P to Q", "Q to V", "V to P"].map(|name| {
            let [by_true, by_grid, magnetic, back, paper_mm, ground_m] = numbers(table, name, 6)[..] else { panic!() };
            Leg { by_true, by_grid, magnetic, back, paper_mm, ground_m }
        })
    }

    fn lines(&self, colour: [u8; 3], dash: &[f64]) -> Vec<&Line> {
        let same = |line: &&Line| {
            line.is_straight()
                && line.colour == colour
                && line.dash.len() == dash.len()
                && line.dash.iter().zip(dash).all(|(one, other)| (one - other).abs() < 1e-6)
        };
        self.map.lines.iter().filter(same).collect()
    }

    /// The one way that lines of a kind run, northward, in degrees clockwise from the map's side borders.
    fn way(&self, colour: [u8; 3], dash: &[f64]) -> f64 {
        let north = |line: &&&Line| (line.degrees() + 45.0).rem_euclid(360.0) < 90.0 && line.length() > 12.0;
        let lines = self.lines(colour, dash);
        let ways: Vec<f64> = lines.iter().filter(north).map(|line| signed(line.degrees())).collect();
        assert!(ways.len() >= 3, "{ways:?}");
        assert!(ways.iter().all(|way| (way - ways[0]).abs() < 0.02), "parallel: {ways:?}");
        ways[0]
    }
}

fn signed(degrees: f64) -> f64 {
    (degrees + 180.0).rem_euclid(360.0) - 180.0
}

fn near(one: f64, other: f64, within: f64) -> bool {
    signed(one - other).abs() <= within
}

const GRID_DASH: [f64; 2] = [0.9, 1.5];
const MAGNETIC_DASH: [f64; 4] = [3.0, 0.8, 0.4, 0.8];

#[test]
fn a_protractor_on_the_map_reads_what_the_key_says_from_all_three_norths() {
    for seed in ["1", "2", "3", "4821"] {
        for paper in ["a4", "letter"] {
            let sheet = sheet(&["--lines", "magnetic,grid,true", "--seed", seed, "--paper", paper]);
            let (grid, magnetic) = (sheet.way(GRID, &GRID_DASH), sheet.way(MAGNETIC, &MAGNETIC_DASH));
            let (declination, convergence) =
                (angle(&sheet.key, "Declination "), angle(&sheet.key, "grid convergence "));
            assert!(near(magnetic, declination, 0.1), "{magnetic} {declination}");
            assert!(near(grid, convergence, 0.1), "{grid} {convergence}");
            // The lines themselves stand at the G-M angle to each other.
            assert!(near(magnetic - grid, angle(&sheet.key, "G-M angle "), 0.1));
            for leg in sheet.legs() {
                // The drawn leg keeps clear of both its marks by as much as every line does.
                let drawn: Vec<&Line> = sheet
                    .lines(TEXT, &[])
                    .into_iter()
                    .filter(|line| {
                        near(line.degrees(), leg.by_true, 0.1) && (line.length() - leg.paper_mm + 7.6).abs() < 0.1
                    })
                    .collect();
                assert_eq!(drawn.len(), 1, "{leg:?}");
                let way = drawn[0].degrees();
                assert!(near(way - grid, leg.by_grid, 0.1), "{leg:?}");
                assert!(near(way - magnetic, leg.magnetic, 0.1), "{leg:?}");
                assert!(near(leg.magnetic + 180.0, leg.back, 0.01), "{leg:?}");
                // 1:25 000, told to 5 m.
                assert!((leg.paper_mm * 25.0 - leg.ground_m).abs() <= 2.5 + 1.25, "{leg:?}");
            }
        }
    }
}

#[test]
fn a_bar_of_100_mm_tells_whether_the_printer_kept_the_size_and_grid_lines_lie_40_mm_apart() {
    let sheet = sheet(&["--lines", "grid", "--seed", "7"]);
    let bar: Vec<&Line> =
        sheet.map.lines.iter().filter(|line| (line.width - 0.4).abs() < 1e-6 && line.is_straight()).collect();
    assert_eq!(bar.len(), 1);
    assert!((bar[0].length() - 100.0).abs() < 0.1 && near(bar[0].degrees(), 90.0, 0.1));
    assert!(sheet.map.text().contains("100 mm: measure it"));
    let way = sheet.way(GRID, &GRID_DASH).to_radians();
    // How far each northward line lies east of a point, square to it.
    let mut east: Vec<f64> = sheet
        .lines(GRID, &GRID_DASH)
        .iter()
        .filter(|line| near(line.degrees(), way.to_degrees(), 0.1))
        .map(|line| line.points[0].0 * way.cos() + line.points[0].1 * way.sin())
        .collect();
    east.sort_by(f64::total_cmp);
    assert!(east.len() >= 3 && east.windows(2).all(|pair| (pair[1] - pair[0] - 40.0).abs() < 0.1), "{east:?}");
}

/// Worked by hand: a printer that makes 100 mm 97 mm long needs 100 / .97 = 103.09 mm in the file.
#[test]
fn a_map_for_a_printer_that_shrinks_is_drawn_larger_about_the_middle_and_its_bearings_stay() {
    let measured = |words: &[&str]| {
        let map = sheet(&[&["--lines", "grid", "--seed", "7"], words].concat()).map;
        let long = |colour: [u8; 3], least: f64, most: f64| -> Vec<Line> {
            let fits = |line: &&Line| line.is_straight() && line.colour == colour;
            let lines = map.lines.iter().filter(fits).filter(|line| (least..most).contains(&line.length()));
            lines.cloned().collect()
        };
        let bar: Vec<f64> =
            long(TEXT, 90.0, 111.0).iter().filter(|line| near(line.degrees(), 90.0, 0.1)).map(Line::length).collect();
        (bar, long(GRID, 60.0, 400.0).iter().map(Line::degrees).collect::<Vec<f64>>())
    };
    let (whole, ways) = measured(&[]);
    assert!(whole.len() == 1 && (whole[0] - 100.0).abs() < 0.1 && ways.len() >= 6, "{whole:?} {ways:?}");
    for (typed, mm) in [("97", 100.0 / 0.97), ("103,5", 100.0 / 1.035), ("100mm", 100.0)] {
        let (bar, same) = measured(&["--bar", typed]);
        assert!(bar.len() == 1 && (bar[0] - mm).abs() < 0.1, "{typed}: {bar:?}");
        assert!(
            same.len() == ways.len() && ways.iter().zip(&same).all(|(one, other)| near(*one, *other, 0.05)),
            "{typed}"
        );
    }
    for wrong in ["80", "9.7", "wide", "NaN", "inf", ""] {
        let house = House::new();
        let said = house.refused(&["map", "--output", "m.pdf", "--bar", wrong]);
        assert!(said.contains("--bar") && said.contains("90 to 110 mm"), "{wrong}: {said}");
        assert!(!house.home().join("m.pdf").exists());
    }
}

#[test]
fn only_the_lines_asked_for_are_on_the_map_and_asked_about() {
    for (lines, grid, magnetic) in [("magnetic", 0, 4), ("true", 0, 0)] {
        let sheet = sheet(&["--lines", lines, "--seed", "11"]);
        assert_eq!(sheet.lines(GRID, &GRID_DASH).len(), grid);
        assert_eq!(sheet.lines(MAGNETIC, &MAGNETIC_DASH).len(), magnetic);
        assert!(sheet.tasks.contains(&format!("P to Q, {lines}:")) && !sheet.tasks.contains("grid"), "{}", sheet.tasks);
    }
}

/// M = T − D and M = G − (D − g), worked out again from what is printed.
#[test]
fn the_key_tells_what_each_mix_up_of_the_declination_reads() {
    for declination in ["13°30'W", "17E"] {
        let sheet = sheet(&["--lines", "true,grid,magnetic", "--seed", "5", "--declination", declination]);
        let past_true = angle(&sheet.key, "Declination ");
        let past_grid = angle(&sheet.key, "G-M angle ");
        let (_, table) = sheet.key.split_once("where the compass is set from the map").unwrap();
        for (name, leg) in ["P to Q", "Q to V", "V to P"].into_iter().zip(sheet.legs()) {
            let read = numbers(table, name, 9);
            let (by_true, by_grid, right) = (leg.by_true, leg.by_grid, leg.by_true - past_true);
            let wanted = [
                right,
                right + 180.0,
                right - past_true,
                by_true,
                by_true + past_true,
                by_true - 2.0 * past_true,
                by_grid,
                by_grid + past_grid,
                by_grid - 2.0 * past_grid,
            ];
            assert!(read.iter().zip(wanted).all(|(read, wanted)| near(*read, wanted, 0.16)), "{read:?} {wanted:?}");
        }
        // Dial values for orienting: 0, −D, −(D − g).
        let dial = |lines: &str| numbers(&sheet.key, lines, 1)[0];
        assert!(near(dial("Magnetic-north lines"), 0.0, 0.01));
        assert!(near(dial("True-north lines"), -past_true, 0.06));
        assert!(near(dial("North-south grid lines"), -past_grid, 0.06));
    }
}

#[test]
fn without_a_declination_for_the_day_one_is_asked_for() {
    let house = House::new();
    let refused = house.run(&["map", "--date", "2044-05-01", "--output", "map.pdf"]);
    assert_eq!((refused.code, refused.out.as_str()), (1, ""));
    assert!(refused.err.contains("--declination") && refused.err.contains("2044-05-01 is outside"), "{}", refused.err);
    let given = house.run(&["map", "--date", "2044-05-01", "--declination", "3W", "--output", "map.pdf"]);
    assert_eq!((given.code, given.err.as_str()), (0, ""));
    assert!(given.out.contains("given by hand"), "{}", given.out);
}
