//! A second canvas: the same scenes as SVG, in true millimetres. It uses nothing but the public data of a scene, which
//! shows that nothing of a terminal is in it.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

use needlewise::angle::{Angle, Convergence, Declination};
use needlewise::maptable::{Move, Pose, Way};
use needlewise::problem::{Code, Level, realise};
use needlewise::scene::{Direction, Ink, SceneItem, svg};
use needlewise::skills;
use needlewise::terrain::{Detail, LineKind, Map, MapSpec, MapView, Ruled};

fn map(seed: u64) -> Map {
    let spec = MapSpec {
        convergence: Convergence::from_degrees(1.5),
        declination: Declination::from_degrees(-11.0),
        ruled: Ruled { grid: true, true_lines: 1, magnetic_lines: 2, diagram: seed.is_multiple_of(2) },
        ..MapSpec::default()
    };
    Map::generate(seed, &spec)
}

#[test]
fn a_map_is_drawn_as_svg_in_true_millimetres() {
    for seed in 0..40 {
        let map = map(seed);
        let view =
            MapView::around(map.middle(), 120.0, 100.0).turned(Angle::from_degrees(seed as f64 * 9.0)).asking([0]);
        let page = svg(&map.scene(&view), view.text_mm);
        assert!(page.starts_with("<svg") && page.ends_with("</svg>\n"));
        assert!(page.contains("width=\"120mm\" height=\"100mm\""));
        assert!(!page.contains("NaN") && !page.contains("inf"), "seed {seed}");
        assert!(page.contains(&format!(">{}</text>", map.landmarks()[0].name)), "seed {seed}");
        // True to scale: neighbouring grid lines lie 40 mm apart on the page, too.
        let mut northward = map.lines().iter().filter(|line| line.kind == LineKind::Grid);
        if let (Some(one), Some(next)) = (northward.next(), northward.next()) {
            let way = Direction::between(view.point(one.from), view.point(one.to)).unwrap().quarter_clockwise();
            let (a, b) = (view.point(one.from), view.point(next.from));
            let apart = (b.x - a.x) * way.dx() + (b.y - a.y) * way.dy();
            assert!((apart.abs() - 40.0).abs() < 1e-9, "seed {seed}: {apart}");
        }
    }
}

#[test]
fn every_item_of_a_scene_becomes_one_element() {
    for seed in 0..40 {
        let map = map(seed);
        for detail in [Detail::Little, Detail::Full] {
            let view = MapView { detail, ..MapView::whole(&map, 92.0, 80.0) };
            let scene = map.scene(&view);
            let page = svg(&scene, view.text_mm);
            assert_eq!(page.matches("<path").count() + page.matches("<text").count(), scene.items.len());
            let labels = scene.items.iter().filter(|item| matches!(item, SceneItem::Label(_))).count();
            assert_eq!(page.matches("<text").count(), labels);
            // Writing stands upright: nothing on the page is turned.
            assert!(!page.contains("transform"));
        }
    }
}

#[test]
fn nothing_in_a_scene_names_a_cell_or_a_colour() {
    // What a scene is made of, spelled out: a terminal would show itself here.
    let scene = map(3).scene(&MapView::whole(&map(3), 92.0, 80.0));
    let spelled = format!("{scene:?}").to_lowercase();
    for word in ["cell", "col:", "row", "braille", "rgb", "ansi", "\u{1b}", "terminal"] {
        let word_in_names = map(3).landmarks().iter().any(|landmark| landmark.name.to_lowercase().contains(word));
        assert!(word_in_names || !spelled.replace("arrow", "").contains(word), "{word}");
    }
    // No character of the scene's own making is written: only names, numbers and letters.
    let labels =
        scene.items.iter().filter_map(|item| if let SceneItem::Label(label) = item { Some(&label.text) } else { None });
    for text in labels {
        assert!(text.chars().all(|letter| letter.is_ascii_alphanumeric() || letter == ' '), "{text}");
    }
}

/// The map table on paper: 500 problems, with the edge laid and turned, and in the hand.
#[test]
fn the_map_table_is_drawn_as_svg_with_its_dial_its_letters_and_both_ends_of_the_needle() {
    let mut drawn = 0;
    for id in ["orient-grid", "baseplate-bearing", "oriented-bearing", "take-bearing", "follow-bearing", "back-sight"] {
        let skill = skills::find(id).unwrap();
        for seed in 0..100_u32 {
            let code = Code { skill, level: Level::THREE, seed: seed.into(), home: None };
            let Some(table) = realise(&code).unwrap().table() else { continue };
            let exercise = &table.exercise;
            let mut now = exercise.start;
            if let Some(line) = exercise.lines.all().last() {
                let turn = Angle::from_degrees(f64::from(seed) * 37.0);
                now = now.after_all(&[Move::Edge(line.name, Way::Ahead), Move::TurnBoth(turn)], &exercise.lines);
            }
            let (scene, page) = table.picture(&Pose::at_rest(now, exercise.needle()), true, |picture| {
                let scene = picture.compass_look(116.0, 116.0, 4.0);
                let page = svg(&scene, 4.0) + &svg(&picture.map_look(152.0, 116.0, 4.0), 4.0);
                (scene, page)
            });
            assert!(!page.contains("NaN") && !page.contains("inf"), "{code}");
            for text in ["N", "E", "S", "W", "30", "330"] {
                assert!(page.contains(&format!(">{text}</text>")), "{code}: {text}");
            }
            for letter in table.marks.iter().map(|mark| mark.letter) {
                assert!(page.contains(&format!(">{letter}</text>")), "{code}: {letter}");
            }
            let solid =
                scene.items.iter().any(|item| matches!(item, SceneItem::Area(area) if area.ink == Ink::NeedleNorth));
            let hollow =
                scene.items.iter().any(|item| matches!(item, SceneItem::Line(line) if line.ink == Ink::NeedleSouth));
            assert!(solid && hollow, "{code}: the two ends are told apart by shape");
            drawn += 1;
        }
    }
    assert!(drawn > 400, "only {drawn}");
}

/// The points of the first path that is drawn in this colour and holds so many points.
fn points(page: &str, colour: &str, count: usize) -> Vec<(f64, f64)> {
    let path = page.lines().filter(|line| line.contains(&format!("\"{colour}\""))).find_map(|line| {
        let path = line.strip_prefix("<path d=\"M")?.split('"').next()?.trim_end_matches('Z');
        let points: Vec<(f64, f64)> = path
            .split('L')
            .map(|point| {
                let (x, y) = point.split_once(' ').expect("two numbers");
                (x.parse().expect("a number"), y.parse().expect("a number"))
            })
            .collect();
        (points.len() == count).then_some(points)
    });
    path.unwrap_or_else(|| panic!("no path in {colour} of {count} points"))
}

fn clockwise_from_up(from: (f64, f64), to: (f64, f64)) -> f64 {
    (to.0 - from.0).atan2(from.1 - to.1).to_degrees().rem_euclid(360.0)
}

#[test]
fn needle_and_edge_of_a_written_picture_lie_within_a_tenth_of_a_degree_of_the_model() {
    let skill = skills::find("baseplate-bearing").unwrap();
    for seed in 0..60_u32 {
        let code = Code { skill, level: Level::TWO, seed: seed.into(), home: None };
        let table = realise(&code).unwrap().table().unwrap();
        let turn = Angle::from_degrees(f64::from(seed) * 29.0);
        let moves = [Move::TurnMap(turn), Move::Edge(table.exercise.lines.all().last().unwrap().name, Way::Ahead)];
        let now = table.exercise.start.after_all(&moves, &table.exercise.lines);
        let page = table.picture(&Pose::at_rest(now, table.exercise.needle()), false, |picture| {
            svg(&picture.map_look(110.0, 110.0, 4.0), 4.0)
        });
        let edge = points(&page, "#c2410c", 2);
        let off = |drawn: f64, model: Angle| Angle::from_degrees(drawn) - model;
        let travel = off(clockwise_from_up(edge[0], edge[1]), now.baseplate().angle() - table.up);
        assert!(travel.wrapped_half().abs().degrees() < 0.1, "{code}: the edge is {travel:?} off");
        let [left, north, right] = points(&page, "#b81e1e", 3)[..] else { panic!("a needle") };
        let pivot = (f64::midpoint(left.0, right.0), f64::midpoint(left.1, right.1));
        let needle = off(clockwise_from_up(pivot, north), table.exercise.needle().angle() - table.up);
        assert!(needle.wrapped_half().abs().degrees() < 0.1, "{code}: the needle is {needle:?} off");
    }
}
