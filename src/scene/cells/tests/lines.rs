//! Dots: lines, circles, fills, and how they meet.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

use super::*;
use crate::scene::{Area, Dash, Direction, Emphasis, Label, Mark, MarkKind, circle};
use proptest::prelude::*;

#[test]
fn braille_dots_are_numbered_as_in_unicode() {
    // Names from the Unicode character database (Python's `unicodedata.name`):
    // U+2847 BRAILLE PATTERN DOTS-1237 is the left column, U+28B8 DOTS-4568 the right one, U+2809 DOTS-14 the top row.
    for (from, to, symbol) in [
        ((0.0, 0.0), (0.0, 3.0), '\u{2847}'),
        ((1.0, 0.0), (1.0, 3.0), '\u{28B8}'),
        ((0.0, 0.0), (1.0, 0.0), '\u{2809}'),
    ] {
        let mut scene = sheet(2, 2);
        scene.add(line(from, to, Ink::Text));
        assert_eq!(braille(&scene, 2, 2).cell(0, 0).unwrap().symbol, symbol);
    }
}

#[test]
fn a_sloping_line_is_one_dot_thin() {
    let mut scene = sheet(6, 1);
    scene.add(line((0.0, 3.0), (11.0, 0.0), Ink::Text));
    assert_eq!(
        drawn(&braille(&scene, 6, 1)),
        "\
..........##
......####..
..####......
##.........."
    );
}

#[test]
fn a_circle_is_the_same_to_all_sides() {
    let mut scene = sheet(5, 3);
    scene.add(Line::through(circle(scene.centre(), 4.0), Ink::Text));
    // Worked by hand: of the column x the dot nearest to √(16 − x²): 4, 3.87, 3.46, 2.65. The middle is the dot (5, 6).
    assert_eq!(
        drawn(&braille(&scene, 5, 3)),
        "\
..........
..........
....###...
..##...##.
..#.....#.
.#.......#
.#.......#
.#.......#
..#.....#.
..##...##.
....###...
.........."
    );
}

#[test]
fn lines_that_cross_keep_all_their_dots_whatever_the_order() {
    let (flat, steep) = (line((0.0, 1.0), (5.0, 1.0), Ink::Relief), line((2.0, 0.0), (2.0, 3.0), Ink::NeedleNorth));
    let expected = "\
..#...
######
..#...
..#...";
    for pair in [[flat.clone(), steep.clone()], [steep, flat]] {
        let mut scene = sheet(3, 1);
        for line in pair {
            scene.add(line);
        }
        let picture = braille(&scene, 3, 1);
        assert_eq!(drawn(&picture), expected);
        // And the shared cell has the colour of the more important one, the others keep theirs.
        let inks: Vec<Ink> = (0..3).map(|col| picture.cell(col, 0).unwrap().ink).collect();
        assert_eq!(inks, [Ink::Relief, Ink::NeedleNorth, Ink::Relief]);
    }
}

#[test]
fn dashes_run_on_over_the_corners_of_a_line() {
    let points = [(0.0, 0.0), (5.0, 0.0), (11.0, 0.0)].map(|(x, y)| Point::new(x - 1.0, y - 1.0)).to_vec();
    let mut scene = sheet(6, 1);
    scene.add(Line::through(points.clone(), Ink::Text).dash(Dash::Dashed));
    scene.add(Line::through(points.into_iter().map(|p| p.moved(0.0, 2.0)).collect(), Ink::Text).dash(Dash::Dotted));
    assert_eq!(
        drawn(&braille(&scene, 6, 1)),
        "\
####...####.
............
#..#..#..#..
............"
    );
}

#[test]
fn a_bold_line_is_two_dots_thick() {
    let mut scene = sheet(3, 1);
    scene.add(line((0.0, 1.0), (5.0, 1.0), Ink::Text).bold());
    assert_eq!(drawn(&braille(&scene, 3, 1)), "......\n######\n######\n......");
}

#[test]
fn a_solid_area_is_filled_to_its_edge_and_a_tint_leaves_no_dots() {
    let square =
        |size: f64| vec![Point::new(0.0, 0.0), Point::new(size, 0.0), Point::new(size, size), Point::new(0.0, size)];
    let mut scene = sheet(4, 2);
    scene.add(Area::tint(square(6.0), Ink::Woods)).add(Area::solid(square(2.0), Ink::NeedleNorth));
    let picture = braille(&scene, 4, 2);
    assert_eq!(
        drawn(&picture),
        "\
........
.###....
.###....
.###....
........
........
........
........"
    );
    let tinted: Vec<Option<Ink>> = (0..4).map(|col| picture.cell(col, 0).unwrap().area).collect();
    assert_eq!(tinted, [None, Some(Ink::Woods), Some(Ink::Woods), Some(Ink::Woods)]);
    assert_eq!(picture.cell(0, 0).unwrap().emphasis, Emphasis::Plain);
}

#[test]
fn a_triangle_mark_has_its_tip_where_it_points() {
    let mut scene = sheet(5, 2);
    let tip = Point::new(scene.centre().x, 5.0);
    scene.add(Mark::new(MarkKind::Triangle, tip, 4.0, Ink::Compass).toward(Direction::DOWN));
    assert_eq!(
        drawn(&braille(&scene, 5, 2)),
        "\
..........
..........
...#####..
....###...
....###...
.....#....
.....#....
.........."
    );
}

#[test]
fn without_braille_lines_are_strokes_and_solid_shapes_are_hatched() {
    let mut scene = sheet(7, 3);
    scene.add(line((1.0, 5.0), (13.0, 5.0), Ink::Text)).add(line((6.0, 0.0), (6.0, 11.0), Ink::Text));
    scene.add(Area::solid(
        [(9.0, 0.0), (12.0, 0.0), (12.0, 2.0), (9.0, 2.0)].map(|(x, y)| Point::new(x, y)).to_vec(),
        Ink::Text,
    ));
    let picture = CellCanvas::new(Charset::Ascii).render(&scene, 7, 3);
    assert_eq!(picture.text(), "   | ##\n---+---\n   |");
}

/// Whether all dots hang together, corner to corner.
fn connected(dots: &[(i32, i32)]) -> bool {
    let mut left: std::collections::HashSet<_> = dots.iter().copied().collect();
    let mut queue: Vec<_> = dots.first().copied().into_iter().collect();
    while let Some((x, y)) = queue.pop() {
        if left.remove(&(x, y)) {
            queue.extend((-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (x + dx, y + dy))));
        }
    }
    left.is_empty()
}

proptest! {
    #[test]
    fn a_line_has_no_gap_one_dot_for_each_step_and_stays_on_the_true_line(
        a in (0.0..59.0_f64, 0.0..59.0_f64), b in (0.0..59.0_f64, 0.0..59.0_f64)
    ) {
        let mut scene = sheet(30, 15);
        scene.add(line(a, b, Ink::Text));
        let dots = dots(&braille(&scene, 30, 15));
        prop_assert!(connected(&dots));
        let steps = (a.0.round() - b.0.round()).abs().max((a.1.round() - b.1.round()).abs());
        prop_assert!((dots.len() as f64 - steps - 1.0).abs() <= 1.0, "{} dots for {steps} steps", dots.len());
        // The slow twin: distance of each dot from the segment.
        let (ux, uy) = (b.0 - a.0, b.1 - a.1);
        let length = ux.hypot(uy).max(1e-9);
        for (x, y) in dots {
            let off = ((f64::from(x) - a.0) * uy - (f64::from(y) - a.1) * ux).abs() / length;
            prop_assert!(off < 0.75, "a dot {off} beside the line");
        }
    }

    #[test]
    fn a_line_through_many_points_has_no_gap(points in proptest::collection::vec((0.0..58.0_f64, 0.0..58.0_f64), 2..12)) {
        let mut scene = sheet(30, 15);
        scene.add(Line::through(points.into_iter().map(|(x, y)| Point::new(x, y)).collect(), Ink::Text));
        prop_assert!(connected(&dots(&braille(&scene, 30, 15))));
    }

    #[test]
    fn what_is_cut_off_at_the_edge_is_what_a_larger_sheet_shows_there(
        a in (-80.0..80.0_f64, -80.0..80.0_f64), b in (-80.0..80.0_f64, -80.0..80.0_f64)
    ) {
        // The same dots per millimetre on a window of 10 x 5 cells and on a sheet three times as large around it.
        let middle = |cols: u16, rows: u16| (f64::from(cols), f64::from(rows) * 2.0);
        let around = |cols: u16, rows: u16| {
            let (x, y) = middle(cols, rows);
            let mut scene = sheet(cols, rows);
            scene.add(line((a.0 + x, a.1 + y), (b.0 + x, b.1 + y), Ink::Text));
            let relative = |dot: (i32, i32)| (dot.0 - i32::from(cols), dot.1 - i32::from(rows) * 2);
            dots(&braille(&scene, cols, rows)).into_iter().map(relative).collect::<std::collections::HashSet<_>>()
        };
        let inside = |&(x, y): &(i32, i32)| (-10..10).contains(&x) && (-10..10).contains(&y);
        let large: std::collections::HashSet<_> = around(30, 15).into_iter().filter(inside).collect();
        prop_assert_eq!(around(10, 5), large);
    }

    #[test]
    fn a_circle_has_no_gap_and_keeps_its_radius(radius in 1.0..28.0_f64) {
        let mut scene = sheet(30, 15);
        scene.add(Line::through(circle(scene.centre(), radius), Ink::Text));
        let dots = dots(&braille(&scene, 30, 15));
        prop_assert!(connected(&dots));
        for (x, y) in dots {
            let off = (f64::from(x - 30).hypot(f64::from(y - 30)) - radius).abs();
            prop_assert!(off < 0.85, "a dot {off} off the circle");
        }
    }

    #[test]
    fn more_lines_never_take_dots_away(
        lines in proptest::collection::vec(((0.0..38.0_f64, 0.0..38.0_f64), (0.0..38.0_f64, 0.0..38.0_f64)), 1..8)
    ) {
        let mut scene = sheet(20, 10);
        let mut before = Vec::new();
        for (a, b) in lines {
            scene.add(line(a, b, Ink::Text));
            let now = dots(&braille(&scene, 20, 10));
            prop_assert!(before.iter().all(|dot| now.contains(dot)));
            before = now;
        }
    }
}

#[test]
fn what_is_laid_on_a_picture_hides_lines_and_writing_and_has_its_own_ground() {
    let mut scene = sheet(10, 3);
    scene.add(line((0.0, 6.0), (19.0, 6.0), Ink::Relief));
    scene.add(Label::new("under", Point::new(9.0, 1.0), Ink::Text));
    let corners = [(5.0, -1.0), (14.0, -1.0), (14.0, 10.0), (5.0, 10.0)].map(|(x, y)| Point::new(x, y)).to_vec();
    scene.add(Area::cover(corners, Ink::Plate));
    scene.add(Label::new("on", Point::new(9.0, 5.0), Ink::Text));
    let picture = braille(&scene, 10, 3);
    assert!(dots(&picture).iter().all(|&(x, _)| !(6..=15).contains(&x)), "the line ends where the plate begins");
    assert!(dots(&picture).contains(&(2, 6)) && dots(&picture).contains(&(18, 6)), "and goes on behind it");
    assert_eq!(picture.dropped.iter().map(|label| label.reason).collect::<Vec<_>>(), [DropReason::Covered]);
    assert!(picture.text().contains("on"));
    assert_eq!(picture.cell(5, 0).unwrap().area, Some(Ink::Plate));
    assert_eq!(picture.cell(0, 0).unwrap().area, None);
}
