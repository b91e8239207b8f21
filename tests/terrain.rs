//! Invented maps as they are seen: everything a question asks about is on the picture, and nothing hides it.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "what a test counts and draws is small"
)]

use needlewise::angle::{Angle, Convergence, Declination, North};
use needlewise::scene::cells::{CellCanvas, CellPicture, Viewport};
use needlewise::scene::{Label, Point, Scene, SceneItem};
use needlewise::terrain::{LineKind, Map, MapLine, MapSpec, MapView, Ruled, Spot};

/// The panels of an 80x24 and of a 120x36 screen, in cells.
const PANELS: [(u16, u16); 2] = [(46, 20), (72, 30)];

/// How much of a line must be in sight for its number or letters to be wanted, in mm: a corner cut off by the panel's edge
/// needs none.
const WANTED_MM: f64 = 24.0;

/// How many maps are looked at.
const MAPS: u64 = 1200;

fn map(seed: u64) -> Map {
    let spec = MapSpec {
        convergence: Convergence::from_degrees((seed % 13) as f64 * 0.5 - 3.0),
        declination: Declination::from_degrees((seed % 59) as f64 - 29.0),
        ruled: Ruled {
            grid: seed % 4 != 3,
            true_lines: (seed % 3) as u8,
            magnetic_lines: (seed / 3 % 4) as u8,
            diagram: seed.is_multiple_of(5),
        },
        ..MapSpec::default()
    };
    Map::generate(seed, &spec)
}

/// The whole sheet, not turned for every third seed; three landmarks are asked for.
fn view(map: &Map, (cols, rows): (u16, u16)) -> MapView {
    let seed = map.seed();
    let core: Vec<usize> = (0..map.landmarks().len()).filter(|&number| map.landmarks()[number].core).collect();
    let asked = (0..3).map(|step| core[(seed as usize + step * 2) % core.len()]);
    let view = MapView::whole(map, f64::from(cols) * 2.0, f64::from(rows) * 4.0).asking(asked);
    if seed.is_multiple_of(3) { view } else { view.turned(Angle::from_degrees((seed * 37 % 360) as f64)) }
}

fn labels(scene: &Scene) -> impl Iterator<Item = &Label> {
    scene.items.iter().filter_map(|item| if let SceneItem::Label(label) = item { Some(label) } else { None })
}

fn written(scene: &Scene, text: &str) -> usize {
    labels(scene).filter(|label| label.text == text).count()
}

/// How much of a line is in sight, clear of the edge, in mm.
fn in_sight_mm(view: &MapView, line: &MapLine) -> f64 {
    let (from, to) = (view.point(line.from), view.point(line.to));
    let step = |share: f64| Point::new(from.x + share * (to.x - from.x), from.y + share * (to.y - from.y));
    let inside =
        |at: &Point| (3.0..=view.width_mm - 3.0).contains(&at.x) && (3.0..=view.height_mm - 3.0).contains(&at.y);
    let count = (0..1000).map(|part| step(f64::from(part) / 1000.0)).filter(inside).count();
    (to.x - from.x).hypot(to.y - from.y) * count as f64 / 1000.0
}

/// Cells with writing and where they are, in mm: middle, half width, half height.
fn writing(picture: &CellPicture, scene: &Scene) -> Vec<(char, Point, f64)> {
    let port = Viewport::fit(scene.width_mm, scene.height_mm, picture.cols(), picture.rows());
    let all = (0..picture.rows()).flat_map(|row| (0..picture.cols()).map(move |col| (col, row)));
    all.filter_map(|(col, row)| {
        let symbol = picture.cell(col, row)?.symbol;
        let is_letter = symbol != ' ' && !('\u{2800}'..='\u{28ff}').contains(&symbol);
        is_letter.then(|| (symbol, port.cell_to_mm(col, row), port.text_mm() / 2.0))
    })
    .collect()
}

fn assert_clear_of_marks(map: &Map, view: &MapView, scene: &Scene, picture: &CellPicture) {
    let writing = writing(picture, scene);
    let named = map
        .landmarks()
        .iter()
        .enumerate()
        .filter(|(number, landmark)| view.asked.contains(number) || written(scene, &landmark.name) > 0);
    for (_, landmark) in named {
        let at = view.point(landmark.spot);
        for &(symbol, cell, half) in &writing {
            let (x, y) = ((cell.x - at.x).abs() - half / 2.0, (cell.y - at.y).abs() - half);
            assert!(
                x.max(y) > 1.0,
                "seed {}: {symbol} on the mark of {}\n{}",
                map.seed(),
                landmark.name,
                picture.text()
            );
        }
    }
}

#[test]
fn every_name_and_number_that_is_asked_for_finds_its_place() {
    for map in (0..MAPS).map(map) {
        for (cols, rows) in PANELS {
            let view = view(&map, (cols, rows));
            let scene = map.scene(&view);
            let picture = CellCanvas::default().render(&scene, cols, rows);
            let text = picture.text();
            let seed = map.seed();
            assert!(picture.dropped.is_empty(), "seed {seed}: {:?}\n{text}", picture.dropped);
            for &number in &view.asked {
                let name = &map.landmarks()[number].name;
                assert_eq!(text.matches(name.as_str()).count(), 1, "seed {seed}: {name}\n{text}");
            }
            for line in map.lines().iter().filter(|line| in_sight_mm(&view, line) >= WANTED_MM) {
                let Some(number) = line.number else { continue };
                assert!(written(&scene, &format!("{number:02}")) >= 1, "seed {seed}: {line:?}\n{text}");
            }
            for (letters, kinds) in [
                ("TN", [LineKind::True, LineKind::True]),
                ("GN", [LineKind::Grid, LineKind::Prong(North::Grid)]),
                ("MN", [LineKind::Magnetic, LineKind::Prong(North::Magnetic)]),
            ] {
                let is_shown = |kind| {
                    let mut lines = map.lines().iter().filter(|line| line.kind == kind);
                    // The prongs of a diagram are short.
                    let wanted_mm = if matches!(kind, LineKind::Prong(_)) { 9.0 } else { WANTED_MM };
                    lines.any(|line| in_sight_mm(&view, line) >= wanted_mm)
                };
                let wanted = kinds.into_iter().filter(|&kind| is_shown(kind)).count().min(if kinds[0] == kinds[1] {
                    1
                } else {
                    2
                });
                assert!(written(&scene, letters) >= wanted, "seed {seed}: {letters}\n{text}");
            }
            assert_clear_of_marks(&map, &view, &scene, &picture);
        }
    }
}

#[test]
fn index_contours_are_numbered_where_there_is_room() {
    let (mut with, mut shown) = (0, 0);
    for map in (0..300).map(map) {
        let view = view(&map, PANELS[1]);
        let index_m = 5 * map.contour_interval_m(&view) as i32;
        let index: Vec<i32> = map.contours().iter().map(|line| line.height_m).filter(|m| m % index_m == 0).collect();
        let scene = map.scene(&view);
        shown += u32::from(!index.is_empty());
        with += u32::from(index.iter().any(|height| written(&scene, &height.to_string()) > 0));
    }
    assert!(shown >= 280 && with * 10 >= shown * 9, "{with} of {shown}");
}

#[test]
fn a_larger_panel_shows_more_names() {
    let named = |map: &Map, panel| {
        let scene = map.scene(&view(map, panel));
        map.landmarks().iter().filter(|landmark| written(&scene, &landmark.name) > 0).count()
    };
    let (small, large) = (0..200)
        .map(map)
        .fold((0, 0), |(small, large), map| (small + named(&map, PANELS[0]), large + named(&map, PANELS[1])));
    assert!(large * 10 > small * 12, "{small} and {large}");
}

#[test]
fn writing_stays_upright_and_marks_follow_when_the_sheet_is_turned() {
    let map = map(4);
    let view = MapView::whole(&map, 92.0, 80.0);
    let turned = view.clone().turned(Angle::from_degrees(90.0));
    let (from, to) = (Spot::new(40.0, 40.0), Spot::new(40.0, 50.0));
    let (a, b) = (turned.point(from), turned.point(to));
    // True north of a sheet turned a quarter clockwise lies to the right.
    assert!(b.x > a.x && (b.y - a.y).abs() < 1e-9);
    assert_eq!(view.turn, Angle::ZERO);
}

#[test]
fn the_scale_bar_is_as_long_as_its_length_on_the_map() {
    let map = map(1);
    for (zoom, width, length, text) in
        [(1.0, 60.0, 40.0, "1 km"), (1.0, 44.0, 20.0, "500 m"), (0.5, 60.0, 40.0, "2 km"), (2.0, 60.0, 40.0, "500 m")]
    {
        let view = MapView { zoom, ..MapView::around(map.middle(), 92.0, 80.0) };
        let bar = map.scale_bar(&view, width);
        let ends: Vec<f64> = labels(&bar).map(|label| label.anchor.x).collect();
        assert!((ends[1] - ends[0] - length).abs() < 1e-9, "{ends:?}");
        assert_eq!(written(&bar, text), 1);
        let (cols, rows) = ((width / 2.0) as u16, 2);
        assert!(CellCanvas::default().render(&bar, cols, rows).dropped.is_empty());
    }
    assert!(map.scale_bar(&MapView::around(map.middle(), 92.0, 80.0), 3.0).items.is_empty());
}
