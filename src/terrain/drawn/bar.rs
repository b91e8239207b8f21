//! The scale bar, for the collar under a map.
use crate::scene::{Ink, Label, Line, Point, Priority, Scene};
use crate::terrain::{Map, MapView};

/// Lengths a bar may show, in m.
const LENGTHS_M: [u32; 6] = [2000, 1000, 500, 200, 100, 50];

impl Map {
    /// A scale bar that is right for a view: the longest round length that fits into `width_mm`, two lines of writing high.
    /// Empty where nothing fits.
    #[must_use]
    pub fn scale_bar(&self, view: &MapView, width_mm: f64) -> Scene {
        let text_mm = view.text_mm;
        let mut scene = Scene::new(width_mm, 2.0 * text_mm);
        let mm = |metres: u32| f64::from(metres) / 1000.0 * self.spec().scale.mm_per_km() * view.zoom;
        // The numbers stand under the ends and need room beside them.
        let room = width_mm - 3.0 * text_mm;
        let Some(&metres) = LENGTHS_M.iter().find(|&&metres| mm(metres) > 0.0 && mm(metres) <= room) else {
            return scene;
        };
        let (left, length, y) = ((width_mm - mm(metres)) / 2.0, mm(metres), text_mm * 0.6);
        let at = |share: f64, down: f64| Point::new(left + length * share, y + down);
        scene.add(Line::straight(at(0.0, 0.0), at(1.0, 0.0), Ink::Works));
        scene.add(Line::straight(at(0.0, 0.0), at(0.5, 0.0), Ink::Works).bold());
        for share in [0.0, 0.5, 1.0] {
            scene.add(Line::straight(at(share, -text_mm * 0.4), at(share, 0.0), Ink::Works));
        }
        let end = if metres < 1000 { format!("{metres} m") } else { format!("{} km", metres / 1000) };
        for (share, text) in [(0.0, "0".to_owned()), (1.0, end)] {
            scene.add(Label::new(text, at(share, text_mm * 0.9), Ink::Works).priority(Priority::High));
        }
        scene
    }
}
