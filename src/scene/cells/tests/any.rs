//! Whatever a scene holds and whatever the size: a picture of that size, and never a panic.
use super::*;
use crate::scene::{
    Align, Area, Dash, Direction, Emphasis, Fill, Freedom, Label, Mark, MarkKind, Priority, SceneItem, Side, Weight,
};
use proptest::prelude::*;

fn coordinate() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => -20.0..120.0_f64,
        1 => proptest::num::f64::ANY,
        1 => proptest::sample::select(vec![f64::NAN, f64::INFINITY, f64::MAX, f64::MIN, -1e300, 1e300, 0.0, -0.0]),
    ]
}

fn point() -> impl Strategy<Value = Point> {
    (coordinate(), coordinate()).prop_map(|(x, y)| Point::new(x, y))
}

fn ink() -> impl Strategy<Value = Ink> {
    proptest::sample::select(Ink::ALL.to_vec())
}

fn item() -> impl Strategy<Value = SceneItem> {
    let points = || proptest::collection::vec(point(), 0..8);
    let dash = proptest::sample::select(vec![Dash::Solid, Dash::Dashed, Dash::DashDot, Dash::Dotted, Dash::Fine]);
    let weight = proptest::sample::select(vec![Weight::Thin, Weight::Bold]);
    let kind = proptest::sample::select(vec![
        MarkKind::Triangle,
        MarkKind::Star,
        MarkKind::HalfArrow(Side::Clockwise),
        MarkKind::HalfArrow(Side::Counterclockwise),
        MarkKind::ArrowHead,
        MarkKind::Ring,
        MarkKind::Spot,
        MarkKind::Wave,
    ]);
    let align = proptest::sample::select(vec![Align::Left, Align::Centre, Align::Right]);
    prop_oneof![
        (points(), ink(), weight, dash)
            .prop_map(|(points, ink, weight, dash)| Line { points, ink, weight, dash }.into()),
        (points(), ink(), proptest::sample::select(vec![Fill::Solid, Fill::Dense, Fill::Tint, Fill::Cover]))
            .prop_map(|(outline, ink, fill)| { Area { outline, ink, fill }.into() }),
        (kind, point(), coordinate(), coordinate(), ink()).prop_map(|(kind, at, degrees, size_mm, ink)| {
            Mark { kind, at, toward: Direction::from_degrees_clockwise_from_up(degrees), size_mm, ink }.into()
        }),
        (".{0,12}", point(), align, ink(), any::<bool>()).prop_map(|(text, anchor, align, ink, near)| {
            let freedom = if near { Freedom::Near } else { Freedom::Fixed };
            let (emphasis, priority) = (Emphasis::Plain, Priority::Normal);
            Label { text, anchor, align, ink, emphasis, priority, freedom }.into()
        }),
    ]
}

proptest! {
    #[test]
    fn any_scene_at_any_size_gives_a_picture_of_that_size(
        items in proptest::collection::vec(item(), 0..12),
        size in (coordinate(), coordinate()),
        cols in 0..50_u16,
        rows in 0..30_u16,
    ) {
        let scene = Scene { width_mm: size.0, height_mm: size.1, items };
        for charset in [Charset::Braille, Charset::Ascii] {
            let picture = CellCanvas::new(charset).render(&scene, cols, rows);
            prop_assert_eq!((picture.cols(), picture.rows()), (cols, rows));
            prop_assert_eq!(picture.lines().map(<[Cell]>::len).sum::<usize>(), usize::from(cols) * usize::from(rows));
            for cell in picture.lines().flatten() {
                let wide = unicode_width::UnicodeWidthChar::width(cell.symbol);
                prop_assert_eq!(wide, Some(1), "{:?}", cell.symbol);
                prop_assert!(charset == Charset::Braille || cell.symbol.is_ascii());
            }
        }
    }
}

#[test]
fn a_scene_on_no_cells_or_one_is_a_picture_too() {
    let mut scene = Scene::new(80.0, 80.0);
    scene.add(Line::straight(Point::new(0.0, 0.0), Point::new(80.0, 80.0), Ink::Text));
    for (cols, rows) in [(0, 0), (0, 5), (5, 0), (1, 1), (1, 40), (200, 1)] {
        let picture = braille(&scene, cols, rows);
        assert_eq!((picture.cols(), picture.rows()), (cols, rows));
        assert!(picture.cell(cols, rows).is_none());
    }
}

#[test]
fn an_enormous_wish_is_cut_down() {
    let picture = braille(&Scene::new(10.0, 10.0), u16::MAX, u16::MAX);
    assert_eq!((picture.cols(), picture.rows()), (LIMIT, LIMIT));
}

#[test]
fn a_cell_knows_its_place_on_the_sheet() {
    // 20 x 10 cells are 40 x 40 dots; the sheet of 38 x 38 mm has a millimetre for each dot.
    let view = Viewport::fit(38.0, 38.0, 20, 10);
    assert!((view.text_mm() - 4.0).abs() < 1e-9);
    let place = view.cell_to_mm(10, 5);
    assert!((place.x - 19.5).abs() < 1e-9 && (place.y - 20.5).abs() < 1e-9, "{place:?}");
}

#[test]
fn a_line_far_longer_than_the_sheet_is_followed_only_where_it_shows() {
    // In such numbers the share within the sheet is lost in rounding; walked in full, this would take years.
    let far = [(5.0, -1e300), (5.0, 1e38), (5.0, -1e20), (5.0, 1e300)].map(|(x, y)| Point::new(x, y));
    let mut scene = sheet(6, 3);
    scene.add(Line::through(far.to_vec(), Ink::Text));
    let dots = dots(&braille(&scene, 6, 3));
    assert!(dots.iter().all(|&(x, _)| x == 6) && dots.len() <= 12, "{dots:?}");
}
