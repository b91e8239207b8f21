//! Filled shapes beside their slow twin, dot by dot.

use super::super::dots::DotGrid;
use super::super::fill;
use super::super::viewport::Dot;
use super::*;
use proptest::prelude::*;

const COLS: u16 = 12;
const ROWS: u16 = 6;

/// Where the sides of a shape cross a height, from left to right: each side asked, half open.
fn crossed(outline: &[Dot], y: f64) -> Vec<f64> {
    let sides = outline.iter().zip(outline.iter().cycle().skip(1));
    let mut found: Vec<f64> = sides
        .filter(|(one, other)| (one.y <= y) != (other.y <= y))
        .map(|(one, other)| one.x + (y - one.y) / (other.y - one.y) * (other.x - one.x))
        .collect();
    found.sort_by(f64::total_cmp);
    found
}

fn between(crossed: &[f64], is_in: impl Fn(f64, f64) -> bool) -> bool {
    crossed.chunks(2).any(|pair| is_in(pair[0], pair[1]))
}

proptest! {
    #[test]
    fn a_shape_fills_what_the_even_odd_rule_says_wherever_it_lies(
        corners in proptest::collection::vec((-20_i32..45, -20_i32..45, 0.0..1.0_f64), 3..9)
    ) {
        // Every other corner on a dot: there it is easiest to be wrong.
        let corner = |(at, (x, y, part)): (usize, &(i32, i32, f64))| {
            let part = if at % 2 == 0 { 0.0 } else { *part };
            Dot { x: f64::from(*x) + part, y: f64::from(*y) - part }
        };
        let outline: Vec<Dot> = corners.iter().enumerate().map(corner).collect();
        let (mut solid, mut tinted) = (DotGrid::new(COLS, ROWS), DotGrid::new(COLS, ROWS));
        fill::solid(&mut solid, &outline, Ink::Text);
        fill::tint(&mut tinted, &outline, Ink::Woods);
        let bits = [[0x01, 0x02, 0x04, 0x40], [0x08, 0x10, 0x20, 0x80]];
        for row in 0..ROWS {
            for col in 0..COLS {
                let mut mask = 0;
                for (x, column) in (col * 2..).zip(bits) {
                    for (y, bit) in (row * 4..).zip(column) {
                        let (x, crossed) = (f64::from(x), crossed(&outline, f64::from(y)));
                        mask |= if between(&crossed, |from, to| from <= x && x <= to) { bit } else { 0 };
                    }
                }
                prop_assert_eq!(solid.cell(col, row).mask, mask, "column {}, row {}", col, row);
                let (x, crossed) = (f64::from(col) * 2.0 + 0.5, crossed(&outline, f64::from(row) * 4.0 + 1.5));
                let inside = between(&crossed, |from, to| from < x && x <= to);
                prop_assert_eq!(tinted.cell(col, row).tint.is_some(), inside, "column {}, row {}", col, row);
            }
        }
    }
}

#[test]
fn what_nothing_shines_through_is_drawn_by_blocks_and_what_covers_it_rubs_them_out() {
    let corners = |x: f64, y: f64, wide: f64, high: f64| {
        vec![Point::new(x, y), Point::new(x + wide, y), Point::new(x + wide, y + high), Point::new(x, y + high)]
    };
    let mut scene = sheet(4, 2);
    // The dots 2 to 4 across and 1 to 6 down: two columns of cells, and half of the third.
    scene.add(Area::dense(corners(1.0, 0.0, 2.0, 5.0), Ink::NeedleNorth));
    assert_eq!(braille(&scene, 4, 2).text(), " █▌\n █▌");
    assert_eq!(CellCanvas::new(Charset::Ascii).render(&scene, 4, 2).text(), " ##\n ##");
    scene.add(Area::cover(corners(2.0, -1.0, 4.0, 8.0), Ink::Plate));
    assert_eq!(braille(&scene, 4, 2).text(), " ▌\n ▌");
}
