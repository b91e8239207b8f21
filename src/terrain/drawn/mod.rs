//! The map as a scene: layers from the ground up, marks, and writing that is placed before it is drawn.
mod bar;
mod clip;
mod layers;
mod marks;
mod planner;
mod signs;
mod writing;

pub use signs::MapSign;

use super::map::Map;
use super::view::{Detail, MapView};
use crate::scene::Scene;

impl Map {
    /// Every how many metres a contour line is drawn in this view; what the collar states. Every fifth is an index contour
    /// with its number, as far as there is room.
    #[must_use]
    pub fn contour_interval_m(&self, view: &MapView) -> u32 {
        match (view.detail, view.zoom) {
            (Detail::Full, zoom) if zoom >= FINE_ZOOM => 10,
            (Detail::Full, zoom) if zoom >= COARSE_ZOOM => 20,
            (Detail::Little, zoom) if zoom < COARSE_ZOOM => 100,
            _ => 50,
        }
    }

    /// The map as seen in a view, a scene of the panel's size in mm. Nothing in a view can make this fail; where its
    /// numbers are not finite, little or nothing is drawn.
    #[must_use]
    pub fn scene(&self, view: &MapView) -> Scene {
        let mut scene = Scene::new(view.width_mm, view.height_mm);
        let mut layers = layers::Layers::new(self, view);
        layers.ground(&mut scene);
        layers.work(&mut scene);
        writing::write(self, view, &layers, &mut scene);
        scene
    }
}

/// From this zoom on there is room for contour lines of every ten metres.
const FINE_ZOOM: f64 = 1.25;

/// Below this zoom lines of every twenty metres run together.
const COARSE_ZOOM: f64 = 0.9;
