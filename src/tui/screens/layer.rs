//! The map under the compass, kept from one picture to the next.
//!
//! Most keys turn the dial or let the needle swing; the map then lies as it lay, and drawing it anew would be most of the work.

use crate::maptable::{Picture, Place, Table};
use crate::problem::TEXT_MM;
use crate::scene::Scene;
use std::cell::RefCell;

/// The picture drawn last; all but the compass in it is used again while the map lies as it lay.
#[derive(Debug, Default)]
pub struct Layer(RefCell<Option<Kept>>);

#[derive(Debug)]
struct Kept {
    key: Key,
    scene: Scene,
    /// How many things of the scene are the map's.
    of_map: usize,
}

/// All that the map's part of a picture depends on, for one exercise.
#[derive(Debug, PartialEq)]
struct Key {
    map: f64,
    baseplate: f64,
    place: Place,
    width_mm: f64,
    height_mm: f64,
}

impl Layer {
    /// Shows the picture of a table on a panel of this size.
    pub fn show(&self, picture: &Picture<'_>, width_mm: f64, height_mm: f64, show: impl FnOnce(&Scene)) {
        let table: &Table = picture.table;
        let (map, baseplate) = (table.map().degrees(), table.baseplate().degrees());
        let key = Key { map, baseplate, place: table.place(), width_mm, height_mm };
        let mut slot = self.0.borrow_mut();
        let mut kept = match slot.take().filter(|kept| kept.key == key) {
            Some(mut kept) => {
                kept.scene.items.truncate(kept.of_map);
                kept
            }
            None => {
                let scene = picture.under_compass(width_mm, height_mm, TEXT_MM);
                Kept { key, of_map: scene.items.len(), scene }
            }
        };
        picture.add_compass(width_mm, height_mm, TEXT_MM, &mut kept.scene);
        show(&kept.scene);
        *slot = Some(kept);
    }
}
