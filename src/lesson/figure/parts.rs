//! The names of the parts of a compass, each with a line to its part.

use crate::maptable::INDEX_NAME;
use crate::scene::{Align, Dash, Fill, Ink, Label, Line, Point, Priority, Scene, SceneItem, Weight};

/// A part of the compass close up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::lesson) enum Part {
    TravelArrow,
    IndexLine,
    Dial,
    OrientingArrow,
    Needle,
}

impl Part {
    /// Its name, as the word list has it.
    const fn name(self) -> &'static str {
        match self {
            Part::TravelArrow => "travel arrow",
            Part::IndexLine => "index line",
            Part::Dial => "dial",
            Part::OrientingArrow => "orienting arrow",
            Part::Needle => "needle, N end",
        }
    }

    /// Where it lies in the look at the compass: found in what is drawn there.
    fn at(self, compass: &Scene) -> Option<Point> {
        compass.items.iter().find_map(|item| match (self, item) {
            // Their tips: the arrow's is its first point, the needle's the second of half a diamond. The index line has a block of the
            // arrow's ink, which has four corners; where there is no room the arrow is written.
            (Part::TravelArrow, SceneItem::Area(area)) => {
                (area.ink == Ink::Compass && area.outline.len() > 4).then(|| area.outline.first().copied())?
            }
            (Part::TravelArrow, SceneItem::Label(label)) => (label.ink == Ink::Compass).then_some(label.anchor),
            (Part::OrientingArrow, SceneItem::Line(line)) => {
                (line.ink == Ink::Orienting).then(|| line.points.last().copied())?
            }
            (Part::IndexLine, SceneItem::Line(line)) => {
                (line.ink == Ink::Compass && line.weight == Weight::Bold).then(|| line.points.first().copied())?
            }
            // Where the rim is nearest to the upper left corner.
            (Part::Dial, SceneItem::Area(area)) if area.ink == Ink::Capsule && area.fill == Fill::Cover => {
                area.outline.iter().copied().min_by(|one, other| (one.x + one.y).total_cmp(&(other.x + other.y)))
            }
            (Part::Needle, SceneItem::Area(area)) => {
                (area.ink == Ink::NeedleNorth).then(|| area.outline.get(1).copied())?
            }
            _ => None,
        })
    }
}

/// The look at the compass at the right of another picture, with names of its parts at the right end of that one, from the top
/// down.
pub(super) fn named(left: Scene, mut compass: Scene, parts: &[Part], text_mm: f64) -> Scene {
    // Named here, or not yet spoken of.
    compass.items.retain(|item| !matches!(item, SceneItem::Label(label) if label.text == INDEX_NAME));
    let before = left.width_mm;
    let found: Vec<(Part, Point)> = parts.iter().filter_map(|part| Some((*part, part.at(&compass)?))).collect();
    let mut scene = left.beside(compass, text_mm);
    let mut row_mm = text_mm * 0.7;
    for (part, at) in found {
        let end = Point::new(before - text_mm * 0.5, row_mm);
        let label = Label::new(part.name(), end, Ink::Text).align(Align::Right);
        scene.add(label.strong().priority(Priority::High));
        let from = end.moved(text_mm * 0.4, 0.0);
        scene.add(Line::straight(from, at.moved(before + text_mm, 0.0), Ink::Text).dash(Dash::Fine));
        row_mm += text_mm * 1.4;
    }
    scene
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::{LESSONS, tests::site};
    use crate::scene::cells::CellCanvas;

    #[test]
    fn parts_are_named_where_they_are_first_spoken_of_and_numbers_stand_on_the_dial() {
        for (screen, names) in [
            (0, &["needle, N end"][..]),
            (1, &["travel arrow", "index line", "dial"]),
            (2, &["orienting arrow", "needle, N end"]),
        ] {
            let mut figure = (LESSONS[0].screens[screen].figure)(&site());
            let reached = figure.reached();
            for step in 0..72 {
                // The inside of the frame at 80x24 and at 120x36.
                for (cols, rows) in [(76_u16, 14_u16), (116, 26)] {
                    let scene = figure.scene(f64::from(cols) * 2.0, f64::from(rows) * 4.0, 4.0);
                    let text = CellCanvas::default().render(&scene, cols, rows).text();
                    for name in names.iter().chain(&["60", "120", "210", "300"]) {
                        assert!(text.contains(name), "screen {screen}, step {step}, {cols}: {name} in\n{text}");
                    }
                }
                figure.turn(0, 5);
            }
            assert_eq!(figure.reached(), reached, "round to where it began");
        }
    }

    #[test]
    fn the_name_of_the_travel_arrow_leads_to_its_tip_or_to_the_arrow_that_is_written_for_it() {
        for (width, height) in [(152.0, 56.0), (232.0, 104.0)] {
            let mut figure = (LESSONS[0].screens[1].figure)(&site());
            for _ in 0..72 {
                let items = figure.scene(width, height, 4.0).items;
                let named = |item: &SceneItem| matches!(item, SceneItem::Label(label) if label.text == "travel arrow");
                let at = items.iter().position(named).expect("it is named");
                let SceneItem::Line(leader) = &items[at + 1] else { panic!("a line to it") };
                let end = leader.points[1];
                let there = |item: &SceneItem| match item {
                    SceneItem::Area(area) => area.outline.len() > 4 && area.outline[0] == end,
                    SceneItem::Label(label) => "↑↗→↘↓↙←↖".contains(&label.text) && label.anchor == end,
                    _ => false,
                };
                assert!(items.iter().any(there), "{width}: {end:?}");
                figure.turn(0, 5);
            }
        }
    }
}
