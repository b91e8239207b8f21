//! The figures as pictures, and that they stay whole wherever they turn.
use super::*;
use crate::scene::cells::{CellCanvas, CellPicture, Charset, Viewport};
use crate::scene::{Dash, Ink, Rect, Scene, SceneItem};
use proptest::prelude::*;

fn degrees(clockwise_from_up: f64) -> Direction {
    Direction::from_degrees_clockwise_from_up(clockwise_from_up)
}

/// A sheet in the shape of a picture, the whole of it, and the height of writing on it.
fn sheet(cols: u16, rows: u16) -> (Scene, Rect, f64) {
    let (width, height) = (f64::from(cols) * 2.0, f64::from(rows) * 4.0);
    let text_mm = Viewport::fit(width, height, cols, rows).text_mm();
    (Scene::new(width, height), Rect::new(0.0, 0.0, width, height), text_mm)
}

fn picture(scene: &Scene, cols: u16, rows: u16) -> CellPicture {
    CellCanvas::default().render(scene, cols, rows)
}

/// The picture, with a frame so that its size shows, and the labels that found no place.
fn framed(picture: &CellPicture) -> String {
    let edge = format!("+{}+", "-".repeat(usize::from(picture.cols())));
    let rows = picture.lines().map(|cells| format!("|{}|", cells.iter().map(|cell| cell.symbol).collect::<String>()));
    let dropped = picture.dropped.iter().map(|label| format!("dropped: {}", label.text));
    let all: Vec<String> =
        std::iter::once(edge.clone()).chain(rows).chain(std::iter::once(edge)).chain(dropped).collect();
    all.join("\n")
}

fn snapshot(name: &str, text: &str) {
    insta::with_settings!({
        snapshot_path => concat!(env!("CARGO_MANIFEST_DIR"), "/snapshots/scenes"),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(name, text) });
}

const RING: [&str; 12] = ["N", "030", "060", "E", "120", "150", "S", "210", "240", "W", "300", "330"];

/// A dial set to a reading at an index line that points up, with the needle off by some degrees.
fn dial((cols, rows): (u16, u16), reading: f64, travel: f64, needle: f64) -> Scene {
    let (mut scene, rect, text_mm) = sheet(cols, rows);
    let zero = degrees(travel - reading);
    let dial = Dial {
        zero,
        ring: RingText::evenly(&RING, zero),
        index: Some(degrees(travel)),
        travel: Some(degrees(travel)),
        orienting: Some(zero),
        needle: Some(degrees(needle)),
        ..Dial::degrees(rect.centre(), rect.height / 2.0, text_mm)
    };
    dial.draw(&mut scene);
    scene
}

#[test]
fn the_dial_boxed_and_turned_at_two_sizes() {
    for (name, size, reading, travel, needle) in [
        ("dial_46x20_boxed", (46, 20), 0.0, 0.0, 0.0),
        ("dial_46x20_turned", (46, 20), 48.0, 0.0, -17.0),
        ("dial_46x20_held_aslant", (46, 20), 45.0, 65.0, 63.0),
        ("dial_100x30_turned", (100, 30), 48.0, 0.0, -17.0),
    ] {
        let scene = dial(size, reading, travel, needle);
        snapshot(name, &framed(&picture(&scene, size.0, size.1)));
    }
}

#[test]
fn the_dial_in_ascii_tells_the_needles_halves_apart() {
    let scene = dial((46, 20), 0.0, 0.0, 0.0);
    snapshot("dial_46x20_ascii", &framed(&CellCanvas::new(Charset::Ascii).render(&scene, 46, 20)));
}

/// One letter for the role of each cell, to see which part of the figure has which colour.
fn roles(picture: &CellPicture) -> String {
    let letter = |ink: Ink| match ink {
        Ink::Plate => 'p',
        Ink::Compass => 'c',
        Ink::NeedleNorth => 'N',
        Ink::NeedleSouth => 's',
        Ink::Text => 't',
        _ => '?',
    };
    let row = |cells: &[crate::scene::cells::Cell]| {
        let row: String = cells.iter().map(|c| if c.symbol == ' ' { ' ' } else { letter(c.ink) }).collect();
        row.trim_end().to_owned()
    };
    picture.lines().map(row).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_parts_of_the_dial_have_their_roles() {
    snapshot("dial_46x20_roles", &roles(&picture(&dial((46, 20), 48.0, 0.0, -17.0), 46, 20)));
}

#[test]
fn no_number_of_the_dial_is_ever_lost_wherever_it_turns() {
    for size in [(46, 20), (60, 24), (100, 30)] {
        for turn in 0..360 {
            let scene = dial(size, f64::from(turn), 0.0, -17.0);
            let picture = picture(&scene, size.0, size.1);
            assert_eq!(picture.dropped, [], "at {turn}");
            let text = picture.text();
            assert!(RING.iter().all(|number| text.contains(number)), "at {turn}:\n{text}");
        }
    }
}

#[test]
fn a_dial_that_says_it_has_room_for_its_numbers_shows_them_all() {
    let numbers: Vec<String> = (0..36).map(|ten| format!("{:03}", ten * 10)).collect();
    let numbers: Vec<&str> = numbers.iter().map(String::as_str).collect();
    let mut had_room = 0;
    for rows in 20..60 {
        let (scene, rect, text_mm) = sheet(rows * 2, rows);
        let dial = Dial::degrees(rect.centre(), rect.height / 2.0, text_mm);
        assert!(dial.has_room_for(12));
        if !dial.has_room_for(36) {
            continue;
        }
        had_room += 1;
        for turn in 0..36 {
            let zero = degrees(f64::from(turn) * 0.7);
            let mut scene = scene.clone();
            Dial { zero, ring: RingText::evenly(&numbers, zero), ..dial.clone() }.draw(&mut scene);
            let picture = picture(&scene, rows * 2, rows);
            assert_eq!(picture.dropped, [], "{rows} rows, turned by {turn}");
        }
    }
    assert!(had_room > 10, "only {had_room} sizes had room");
}

#[test]
fn a_larger_dial_has_finer_ticks() {
    let ticks = |rows: u16| {
        let (_, rect, text_mm) = sheet(rows * 2, rows);
        Dial::degrees(rect.centre(), rect.height / 2.0, text_mm).ticks
    };
    assert_eq!(ticks(20), Ticks { fine: 0, medium: 36, long: 12 });
    assert_eq!(ticks(30), Ticks { fine: 72, medium: 36, long: 12 });
    assert_eq!(ticks(70), Ticks { fine: 180, medium: 72, long: 36 });
}

/// A strip around 047 with a tick each degree.
fn strip(cols: u16, rows: u16, degree_mm: f64) -> Scene {
    let (mut scene, rect, text_mm) = sheet(cols, rows);
    let tick = |degree: i32| StripTick {
        offset_mm: f64::from(degree - 47) * degree_mm,
        length: match degree {
            d if d % 10 == 0 => TickLength::Long,
            d if d % 5 == 0 => TickLength::Medium,
            _ => TickLength::Fine,
        },
        label: if degree % 5 == 0 { format!("{degree:03}") } else { String::new() },
    };
    Strip { rect, text_mm, ticks: (20..80).map(tick).collect() }.draw(&mut scene);
    scene
}

#[test]
fn the_strip_at_two_sizes() {
    snapshot("strip_40x4", &framed(&picture(&strip(40, 4, 6.0), 40, 4)));
    snapshot("strip_24x3", &framed(&picture(&strip(24, 3, 4.0), 24, 3)));
}

/// A diagram of three norths with all three angles.
fn prongs((cols, rows): (u16, u16), magnetic: f64, grid: f64) -> Scene {
    let (mut scene, rect, text_mm) = sheet(cols, rows);
    let letter = |degrees: f64| if degrees < 0.0 { 'W' } else { 'E' };
    let prong = |kind, at, name: &str| Prong { kind, direction: degrees(at), name: name.into() };
    Prongs {
        rect,
        text_mm,
        prongs: vec![
            prong(NorthKind::True, 0.0, ""),
            prong(NorthKind::Magnetic, magnetic, "MN"),
            prong(NorthKind::Grid, grid, "GN"),
        ],
        angles: vec![
            ProngAngle { from: 0, to: 1, text: format!("13°41′ {}", letter(magnetic)) },
            ProngAngle { from: 0, to: 2, text: format!("1°32′ {}", letter(grid)) },
            // 13°41′ and 1°32′ together, or one less the other when both lie on the same side.
            ProngAngle {
                from: 1, to: 2, text: if magnetic * grid < 0.0 { "G-M 15°13′" } else { "G-M 12°09′" }.into()
            },
        ],
    }
    .draw(&mut scene);
    scene
}

#[test]
fn the_declination_diagram_at_two_sizes() {
    snapshot("prongs_30x12_west", &framed(&picture(&prongs((30, 12), -22.0, 12.0), 30, 12)));
    snapshot("prongs_30x12_both_west", &framed(&picture(&prongs((30, 12), -22.0, -10.0), 30, 12)));
    snapshot("prongs_44x18_east", &framed(&picture(&prongs((44, 18), 24.0, 10.0), 44, 18)));
}

#[test]
fn the_declination_diagram_with_two_norths() {
    let (mut scene, rect, text_mm) = sheet(30, 12);
    let prong = |kind, at, name: &str| Prong { kind, direction: degrees(at), name: name.into() };
    Prongs {
        rect,
        text_mm,
        prongs: vec![prong(NorthKind::True, 0.0, ""), prong(NorthKind::Magnetic, 20.0, "MN")],
        // The second angle names a prong that does not exist.
        angles: vec![
            ProngAngle { from: 0, to: 1, text: "13°41′ E".into() },
            ProngAngle { from: 0, to: 7, text: "nowhere".into() },
        ],
    }
    .draw(&mut scene);
    snapshot("prongs_30x12_two", &framed(&picture(&scene, 30, 12)));
}

#[test]
fn no_label_of_the_declination_diagram_is_lost_on_30_by_12_cells() {
    for magnetic in -30..=30 {
        for grid in -15..=15 {
            // Drawn apart, as the caller must; the figure is not to scale.
            if i32::abs(magnetic - grid) < 8 || i32::abs(magnetic) < 8 || i32::abs(grid) < 8 {
                continue;
            }
            let picture = picture(&prongs((30, 12), f64::from(magnetic), f64::from(grid)), 30, 12);
            assert_eq!(picture.dropped, [], "{magnetic} {grid}\n{}", picture.text());
        }
    }
}

/// The right line and the learner's, and the bearing from both norths.
fn sketch((cols, rows): (u16, u16), magnetic: f64, right: f64, learner: f64) -> Scene {
    let (mut scene, rect, text_mm) = sheet(cols, rows);
    let north = |kind, at, name: &str| NorthLine { kind, direction: degrees(at), name: name.into() };
    let line = |at, ink, dash, name: &str| SketchLine { direction: degrees(at), ink, dash, name: name.into() };
    let turn = |from, reach, ink, text: String| Turn {
        from: degrees(from),
        to: degrees(right),
        counterclockwise: false,
        reach,
        ink,
        text,
        writing: Writing::Middle,
    };
    Sketch {
        rect,
        text_mm,
        norths: vec![north(NorthKind::True, 0.0, "T"), north(NorthKind::Magnetic, magnetic, "M")],
        lines: vec![
            line(right, Ink::RightLine, Dash::Solid, "right"),
            line(learner, Ink::LearnerLine, Dash::Dashed, "you"),
        ],
        turns: vec![
            turn(0.0, 0.5, Ink::TrueNorth, format!("{right:03}°")),
            turn(magnetic, 0.78, Ink::MagneticNorth, format!("{:03}°", right - magnetic)),
        ],
    }
    .draw(&mut scene);
    scene
}

#[test]
fn the_bearing_sketch_at_two_sizes() {
    snapshot("sketch_40x18_west", &framed(&picture(&sketch((40, 18), -20.0, 48.0, 28.0), 40, 18)));
    snapshot("sketch_40x18_far_round", &framed(&picture(&sketch((40, 18), -20.0, 310.0, 276.0), 40, 18)));
    snapshot("sketch_60x26_east", &framed(&picture(&sketch((60, 26), 25.0, 128.0, 160.0), 60, 26)));
}

/// A rose of this many points with one marked.
fn rose((cols, rows): (u16, u16), count: u32, marked: u32) -> Scene {
    const NAMES: [&str; 16] =
        ["N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"];
    let (mut scene, rect, text_mm) = sheet(cols, rows);
    let point = |number: u32| {
        let (part, finest) = (number * 32 / count, number * 32 / count % 2 == 1);
        RosePoint {
            direction: degrees(f64::from(number) * 360.0 / f64::from(count)),
            name: match (finest, number == marked) {
                (false, _) => NAMES[part as usize / 2].into(),
                (true, true) => "NEbN".into(),
                (true, false) => String::new(),
            },
            rank: match part {
                p if p % 8 == 0 => PointRank::Main,
                p if p % 4 == 0 => PointRank::Between,
                p if p % 2 == 0 => PointRank::Fine,
                _ => PointRank::Finest,
            },
            mark: (number == marked).then_some(Ink::Compass),
        }
    };
    let points = (0..count).map(point).collect();
    Rose { centre: rect.centre(), radius_mm: rect.height / 2.0, text_mm, points }.draw(&mut scene);
    scene
}

#[test]
fn the_rose_at_two_sizes() {
    snapshot("rose_36x16_eight", &framed(&picture(&rose((36, 16), 8, 1), 36, 16)));
    snapshot("rose_56x26_sixteen", &framed(&picture(&rose((56, 26), 16, 3), 56, 26)));
    snapshot("rose_56x26_thirty_two", &framed(&picture(&rose((56, 26), 32, 3), 56, 26)));
}

proptest! {
    #[test]
    fn no_figure_panics_at_any_size_or_direction(
        cols in 0..60_u16, rows in 0..30_u16, a in proptest::num::f64::ANY, b in -400.0..400.0_f64, c in -400.0..400.0_f64
    ) {
        let size = (cols, rows);
        for scene in [dial(size, a, b, c), prongs(size, b, a), sketch(size, b, c, a), strip(cols, rows, a), rose(size, 32, 5)] {
            let picture = picture(&scene, cols, rows);
            prop_assert_eq!((picture.cols(), picture.rows()), size);
        }
    }
}

/// A wall beside a way and a hedge across it had their names between the two, and read with care they were exchanged.
#[test]
fn what_is_written_at_a_line_of_a_plan_stands_nearer_to_it_than_to_any_other() {
    use super::{Plan, PlanLine};
    use crate::scene::{Line, SceneItem};
    let text_mm = 4.0;
    for (lean, off) in (0..12_u32).flat_map(|lean| [7.0, 9.0, 12.0].map(|off| (lean, off))) {
        let along = Direction::from_degrees_clockwise_from_up(f64::from(lean) * 30.0 + 7.0);
        let aside = along.quarter_clockwise();
        let at = |up: f64, side: f64| {
            let place = Point::default().along(along, up).along(aside, side);
            (place.x, -place.y)
        };
        let line = |through: Vec<(f64, f64)>, ink: Ink, label: &str| PlanLine {
            through,
            ink,
            dash: Dash::Solid,
            arrow: false,
            label: label.to_owned(),
            on_line: false,
        };
        let lines = vec![
            line(vec![at(-25.0, 0.0), at(25.0, 0.0)], Ink::Text, ""),
            line(vec![at(-22.0, off), at(24.0, off)], Ink::Works, "drystone"),
            line(vec![at(8.0, -14.0), at(8.0, 18.0)], Ink::Water, "hedge"),
        ];
        let rect = Rect::new(0.0, 0.0, 66.0, 68.0);
        let mut scene = Scene::new(66.0, 68.0);
        Plan { rect, text_mm, norths: Vec::new(), lines, spots: Vec::new() }.draw(&mut scene);
        let drawn: Vec<&Line> = scene
            .items
            .iter()
            .filter_map(|item| if let SceneItem::Line(line) = item { Some(line) } else { None })
            .collect();
        for (ink, text) in [(Ink::Works, "drystone"), (Ink::Water, "hedge")] {
            let label = scene.items.iter().find_map(|item| match item {
                SceneItem::Label(label) if label.text == text => Some(label),
                _ => None,
            });
            let label = label.expect("a name");
            let half = real(text.len()) * text_mm / 4.0;
            // How far the writing keeps from a line, walked along.
            let off = |line: &Line| {
                let (from, to) = (line.points[0], line.points[1]);
                (0..=200_u32)
                    .map(|step| f64::from(step) / 200.0)
                    .map(|share| {
                        let (x, y) = (from.x + share * (to.x - from.x), from.y + share * (to.y - from.y));
                        let beside = ((x - label.anchor.x).abs() - half).max(0.0);
                        beside.hypot(((y - label.anchor.y).abs() - text_mm / 2.0).max(0.0))
                    })
                    .fold(f64::INFINITY, f64::min)
            };
            let own = drawn.iter().filter(|line| line.ink == ink).map(|line| off(line)).fold(f64::INFINITY, f64::min);
            let other = drawn.iter().filter(|line| line.ink != ink).map(|line| off(line)).fold(f64::INFINITY, f64::min);
            assert!(own + text_mm * 0.3 < other, "{lean}: {text} {own:.1} {other:.1}");
        }
    }
}

#[test]
fn the_name_of_a_line_close_to_north_is_not_written_half_over_the_name_of_the_north() {
    // On paper nothing else moves it: 020° M was written over MN.
    let mut beside = 0;
    for (width, height) in [(34.0, 30.0), (40.0, 34.0), (50.0, 45.0), (80.0, 70.0)] {
        for direction in (4..50).chain(310..356).map(|at| degrees(f64::from(at))) {
            let mut scene = Scene::new(width, height);
            Sketch {
                rect: Rect::new(0.0, 0.0, width, height),
                text_mm: 4.0,
                norths: vec![NorthLine { kind: NorthKind::Magnetic, direction: Direction::UP, name: "MN".to_owned() }],
                lines: vec![SketchLine { direction, ink: Ink::Text, dash: Dash::Solid, name: "020° M".to_owned() }],
                turns: Vec::new(),
            }
            .draw(&mut scene);
            let at = |text: &str| {
                let written = |item: &SceneItem| match item {
                    SceneItem::Label(label) if label.text == text => Some(label.anchor),
                    _ => None,
                };
                scene.items.iter().find_map(written).expect("written")
            };
            let (north, line) = (at("MN"), at("020° M"));
            let (across, up) = ((north.x - line.x).abs(), (north.y - line.y).abs());
            // Two and six letters of half a line each; right over one another they are moved by a canvas of cells alone.
            assert!(up >= 4.0 || !(5.6..8.0).contains(&across), "{direction:?} in {width}: {north:?} {line:?}");
            beside += u32::from(up < 4.0 && across >= 8.0);
        }
    }
    assert!(beside > 20, "{beside}");
}
