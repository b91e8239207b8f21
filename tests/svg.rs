//! A second canvas: the same scenes as SVG, in true millimetres. It uses nothing but the public data of a scene, which
//! shows that nothing of a terminal is in it.

use needlewise::angle::{Angle, Convergence, Declination};
use needlewise::maptable::{Move, Picture, Way};
use needlewise::problem::{Code, Level, realise};
use needlewise::scene::{
    Align, Area, Dash, Direction, Fill, Ink, Label, Line, Mark, MarkKind, Point, Scene, SceneItem, Side, circle,
};
use needlewise::skills;
use needlewise::terrain::{Detail, LineKind, Map, MapSpec, MapView, Ruled};
use std::fmt::Write;

/// Print colours, by the common convention of topographic maps.
const fn colour(ink: Ink) -> &'static str {
    match ink {
        Ink::Faint => "#bbbbbb",
        Ink::Relief => "#a0622e",
        Ink::Woods => "#3f7d3a",
        Ink::Water | Ink::GridNorth => "#1f5fb4",
        Ink::MagneticNorth | Ink::NeedleNorth => "#b81e1e",
        Ink::LearnerLine => "#8a2a9a",
        Ink::RightLine => "#0a7a4e",
        Ink::Compass => "#b05a00",
        Ink::Sheet | Ink::Capsule => "#ffffff",
        Ink::Orienting => "#0b5f8a",
        Ink::Edge => "#b02a6a",
        Ink::Works | Ink::Border | Ink::Plate | Ink::Text | Ink::TrueNorth | Ink::NeedleSouth => "#222222",
    }
}

/// The scene as an SVG document; `text_mm` is the size of the type.
fn svg(scene: &Scene, text_mm: f64) -> String {
    let (width, height) = (scene.width_mm, scene.height_mm);
    let mut page = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n"
    );
    for item in &scene.items {
        match item {
            SceneItem::Area(area) => paint_area(&mut page, area),
            SceneItem::Line(line) => paint_line(&mut page, line),
            SceneItem::Mark(mark) => paint_mark(&mut page, mark),
            SceneItem::Label(label) => paint_label(&mut page, label, text_mm),
        }
    }
    page.push_str("</svg>\n");
    page
}

fn path(points: &[Point]) -> String {
    let mut path = String::new();
    for (number, point) in points.iter().enumerate() {
        let step = if number == 0 { 'M' } else { 'L' };
        let _ = write!(path, "{step}{:.2} {:.2}", point.x, point.y);
    }
    path
}

fn paint_area(page: &mut String, area: &Area) {
    let opacity = if area.fill == Fill::Solid { 1.0 } else { 0.25 };
    let (path, colour) = (path(&area.outline), colour(area.ink));
    let _ = writeln!(page, "<path d=\"{path}Z\" fill=\"{colour}\" fill-opacity=\"{opacity}\" fill-rule=\"evenodd\"/>");
}

fn paint_line(page: &mut String, line: &Line) {
    let dash = match line.dash {
        Dash::Solid => "none",
        Dash::Dashed => "1.6 1",
        Dash::DashDot => "3 0.8 0.4 0.8",
        Dash::Fine => "0.3 0.3",
        Dash::Dotted => "0.3 0.9",
    };
    let (path, colour, width) = (path(&line.points), colour(line.ink), line.weight.mm());
    let _ = writeln!(
        page,
        "<path d=\"{path}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\" stroke-dasharray=\"{dash}\"/>"
    );
}

/// Marks after their description: tip, direction and size in mm.
fn paint_mark(page: &mut String, mark: &Mark) {
    let (at, size, way) = (mark.at, mark.size_mm, mark.toward);
    let barb = |aside: f64| at.along(way, -size).along(way.quarter_clockwise(), aside * size);
    let (points, filled) = match mark.kind {
        MarkKind::Triangle => (vec![barb(-0.6), at, barb(0.6)], true),
        MarkKind::Star => (star(at, size / 2.0), true),
        MarkKind::HalfArrow(Side::Clockwise) => (vec![at, barb(0.5)], false),
        MarkKind::HalfArrow(Side::Counterclockwise) => (vec![at, barb(-0.5)], false),
        MarkKind::ArrowHead => (vec![barb(-0.5), at, barb(0.5)], false),
        MarkKind::Ring => (circle(at, size / 2.0), false),
        MarkKind::Spot => (circle(at, size / 2.0), true),
    };
    if filled {
        paint_area(page, &Area::solid(points, mark.ink));
    } else {
        paint_line(page, &Line::through(points, mark.ink));
    }
}

fn star(at: Point, reach: f64) -> Vec<Point> {
    let corner = |step: u32| {
        let way = Direction::from_degrees_clockwise_from_up(f64::from(step) * 36.0);
        at.along(way, if step.is_multiple_of(2) { reach } else { reach * 0.4 })
    };
    (0..10).map(corner).collect()
}

fn paint_label(page: &mut String, label: &Label, text_mm: f64) {
    let anchor = match label.align {
        Align::Left => "start",
        Align::Centre => "middle",
        Align::Right => "end",
    };
    let (x, y, colour) = (label.anchor.x, label.anchor.y, colour(label.ink));
    let text = label.text.replace('&', "&amp;").replace('<', "&lt;");
    // A character of this type is about half as wide as a line is high.
    let size = text_mm * 0.8;
    let _ = writeln!(
        page,
        "<text x=\"{x:.2}\" y=\"{y:.2}\" text-anchor=\"{anchor}\" dominant-baseline=\"central\" font-size=\"{size}\" fill=\"{colour}\">{text}</text>"
    );
}

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
    for id in ["orient-grid", "baseplate-bearing", "oriented-bearing", "follow-bearing", "back-sight"] {
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
            let marks: Vec<(char, usize)> = table.marks.iter().map(|mark| (mark.letter, mark.landmark)).collect();
            let needle = exercise.needle();
            let (map, up, detail) = (table.map.as_ref(), table.up, table.detail);
            let picture = Picture { exercise, table: &now, map, marks: &marks, needle, up, detail, done: true };
            let scene = picture.compass_look(116.0, 116.0, 4.0);
            let page = svg(&scene, 4.0) + &svg(&picture.map_look(152.0, 116.0, 4.0), 4.0);
            assert!(!page.contains("NaN") && !page.contains("inf"), "{code}");
            for text in ["N", "E", "S", "W", "30", "330"] {
                assert!(page.contains(&format!(">{text}</text>")), "{code}: {text}");
            }
            for (letter, _) in &marks {
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
