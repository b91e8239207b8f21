//! The map under the compass, kept from one picture to the next.
//!
//! Most keys turn the dial or let the needle swing; the map then lies as it lay, and drawing it anew would be most of the work.

use crate::maptable::{Picture, Table};
use crate::problem::TEXT_MM;
use crate::scene::Scene;
use crate::scene::cells::{CellCanvas, CellPicture, Drawn};
use std::cell::RefCell;

/// The picture drawn last; all but the compass in it is used again while the map lies as it lay.
#[derive(Debug, Default)]
pub struct Layer(RefCell<Option<Kept>>);

#[derive(Debug)]
struct Kept {
    key: Key,
    drawn: Drawn,
}

/// All that the map's part of a picture depends on, for one exercise.
#[derive(Debug, PartialEq)]
struct Key {
    map: f64,
    /// Without a map what is in view turns with the compass in the hand.
    baseplate: Option<f64>,
    width_mm: f64,
    height_mm: f64,
    cells: (u16, u16),
    canvas: CellCanvas,
}

impl Layer {
    /// The picture of a table in so many columns and rows, which show a panel of this size in mm.
    pub fn picture(
        &self,
        picture: &Picture<'_>,
        canvas: CellCanvas,
        cells: (u16, u16),
        (width_mm, height_mm): (f64, f64),
    ) -> CellPicture {
        let table: &Table = picture.table;
        let baseplate = picture.map.is_none().then(|| table.baseplate().degrees());
        let key = Key { map: table.map().degrees(), baseplate, width_mm, height_mm, cells, canvas };
        let mut slot = self.0.borrow_mut();
        let kept = match slot.take().filter(|kept| kept.key == key) {
            Some(kept) => kept,
            None => {
                let scene = picture.map_alone(width_mm, height_mm, TEXT_MM);
                Kept { key, drawn: canvas.begin(&scene, cells.0, cells.1) }
            }
        };
        let mut compass = Scene::new(width_mm, height_mm);
        picture.add_compass(width_mm, height_mm, TEXT_MM, &mut compass);
        let shown = kept.drawn.finish(&compass.items);
        *slot = Some(kept);
        shown
    }
}
