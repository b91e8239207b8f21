//! The figures of problems as scenes: what stands where, on small screens too.
use super::super::Needle;
use super::*;
use crate::scene::cells::CellCanvas;

fn dial(numbered: f64, index: f64) -> Figure {
    Figure::Dial(DialFigure {
        reading: Angle::from_degrees(92.0),
        graduation: Angle::from_degrees(2.0),
        numbered: Angle::from_degrees(numbered),
        index: Angle::from_degrees(index),
        needle: None,
        inner_scale: false,
        strip: true,
        learner: None,
    })
}

/// The labels of a picture of this many cells, none of them left out by the canvas.
fn ring(numbered: f64, cols: u16, rows: u16) -> Vec<String> {
    let scene = dial(numbered, 0.0).scene(f64::from(cols) * 2.0, f64::from(rows) * 4.0).unwrap_or_default();
    let picture = CellCanvas::default().render(&scene, cols, rows);
    assert!(picture.dropped.is_empty(), "{:?}", picture.dropped);
    let label = |item: &SceneItem| if let SceneItem::Label(label) = item { Some(label.text.clone()) } else { None };
    scene.items.iter().filter_map(label).collect()
}

#[test]
fn a_dial_shows_only_numbers_that_its_scale_has() {
    for (cols, rows) in [(34, 17), (46, 20), (56, 25)] {
        for numbered in [20, 30] {
            let ring = ring(f64::from(numbered), cols, rows);
            let numbers: Vec<i32> = ring.iter().filter_map(|text| text.parse().ok()).collect();
            assert!(numbers.iter().all(|number| number % numbered == 0), "{cols}x{rows}: {ring:?}");
            assert!(numbers.len() >= 4, "{cols}x{rows}: {ring:?}");
        }
    }
    assert_eq!(ring(20.0, 56, 25).len(), 18, "with room there is a number every 20 degrees");
}

#[test]
fn both_ends_of_a_line_and_both_needles_are_told_on_a_small_screen_wherever_they_point() {
    let whole = |figure: &Figure, texts: &[&str]| {
        let scene = figure.scene(66.0, 68.0).unwrap_or_default();
        let picture = CellCanvas::default().render(&scene, 33, 17);
        assert!(picture.dropped.is_empty(), "{:?}\n{}", picture.dropped, picture.text());
        let shown = picture.text();
        assert!(texts.iter().all(|text| shown.contains(text)), "{texts:?}\n{shown}");
    };
    for toward in (0..360).step_by(15) {
        let toward = Angle::from_degrees(f64::from(toward));
        let text = |angle: Angle| format!("{}° M", crate::angle::three_figures(angle.wrapped(), 0));
        let back = toward + Angle::from_degrees(180.0);
        for learner in [None, Some(toward), Some(Angle::ZERO - toward)] {
            let (there, back) = (text(toward), text(back));
            let figure =
                EndsFigure { north: North::Magnetic, toward, there: there.clone(), back: back.clone(), learner };
            whole(&Figure::Ends(figure), &[&there, &back]);
        }
    }
    let needle =
        |year, at, declination: &str| Needle { year, at: Angle::from_degrees(at), declination: declination.to_owned() };
    for (then, now) in
        [(-26.0, -13.0), (-13.0, -26.0), (26.0, 13.0), (13.0, 26.0), (-16.0, 16.0), (16.0, -16.0), (25.0, 0.0)]
    {
        let printed = needle(2014, then, "21°48′ W");
        let now = Some(("1°12′ W".to_owned(), needle(2026, now, "23° W")));
        whole(
            &Figure::Drift(DriftFigure { printed: printed.clone(), now }),
            &["21°48′ W", "1°12′ W", "23° W", "2014", "2026"],
        );
        whole(&Figure::Drift(DriftFigure { printed, now: None }), &["21°48′ W", "2014"]);
    }
}

#[test]
fn the_strip_of_a_compass_held_upside_down_is_upside_down() {
    // By their place: numbers rise to the right and stand at the bottom, or rise to the left and stand at the top.
    let numbers = |index| {
        let mut numbers: Vec<(f64, f64, String)> = Vec::new();
        for item in dial(20.0, index).strip(160.0, 16.0).unwrap_or_default().items {
            if let SceneItem::Label(label) = item
                && label.text.parse::<u16>().is_ok()
            {
                numbers.push((label.anchor.x, label.anchor.y, label.text));
            }
        }
        numbers.sort_by(|one, other| one.0.total_cmp(&other.0));
        (numbers[0].1, numbers.into_iter().map(|(_, _, text)| text).collect::<Vec<_>>())
    };
    assert_eq!(numbers(0.0), (14.0, ["60", "80", "100", "120"].map(str::to_owned).to_vec()));
    assert_eq!(numbers(180.0), (2.0, ["120", "100", "80", "60"].map(str::to_owned).to_vec()));
}
