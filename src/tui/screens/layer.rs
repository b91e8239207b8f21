//! What is kept from one picture of the table to the next.
//!
//! Most keys turn the dial or let the needle swing; map and plate then lie as they lay, and drawing them anew would be most of
//! the work. The signs beside the words never change.

use crate::maptable::{CompassSign, Picture};
use crate::problem::TEXT_MM;
use crate::scene::Scene;
use crate::scene::cells::{CellCanvas, CellPicture, Drawn};
use crate::terrain::MapSign;
use crate::tui::paint::Span;
use crate::tui::theme::Theme;
use std::cell::RefCell;

/// The pictures drawn last, of which all but what moves is used again, and the signs.
#[derive(Debug, Default)]
pub struct Layer {
    map: Kept,
    compass: Kept,
    signs: RefCell<Vec<(Theme, Sign, Vec<Span>)>>,
}

/// A small picture in a line of text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// A part of the compass.
    Compass(CompassSign),
    /// A sign of the map.
    Map(MapSign),
}

impl Sign {
    /// The sign, and how many columns wide it is.
    #[must_use]
    pub fn scene(self) -> (Scene, u16) {
        match self {
            Sign::Compass(sign) => (sign.scene(), CompassSign::COLUMNS),
            Sign::Map(sign) => (sign.scene(), sign.columns()),
        }
    }
}

/// What stays of a picture, and what it depends on.
#[derive(Debug, Default)]
struct Kept(RefCell<Option<(Key, Drawn)>>);

/// The room of a picture: so many columns and rows, which show a panel of this size in mm, and what draws them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Columns and rows.
    pub cells: (u16, u16),
    /// Width and height of the panel in mm.
    pub panel_mm: (f64, f64),
    /// The canvas.
    pub canvas: CellCanvas,
}

/// All that the part that stays depends on, for one exercise.
#[derive(Debug, PartialEq)]
struct Key {
    /// How things are turned, in degrees.
    turned: [Option<f64>; 2],
    room: Room,
}

impl Kept {
    /// The picture of what stays, drawn anew where it is another, with what moves on it.
    fn picture(
        &self,
        key: Key,
        stays: impl FnOnce(f64, f64) -> Scene,
        moves: impl FnOnce(f64, f64, &mut Scene),
    ) -> CellPicture {
        let Room { cells, panel_mm: (width_mm, height_mm), canvas } = key.room;
        let mut over = Scene::new(width_mm, height_mm);
        moves(width_mm, height_mm, &mut over);
        let mut slot = self.0.borrow_mut();
        let (key, drawn) = match slot.take().filter(|(kept, _)| *kept == key) {
            Some(kept) => kept,
            None => {
                let drawn = canvas.begin(&stays(width_mm, height_mm), cells.0, cells.1);
                (key, drawn)
            }
        };
        let shown = drawn.finish(&over.items);
        *slot = Some((key, drawn));
        shown
    }
}

impl Layer {
    /// The look at the map.
    pub fn map(&self, picture: &Picture<'_>, room: Room) -> CellPicture {
        // Without a map what is in view turns with the compass in the hand.
        let baseplate = picture.map.is_none().then(|| picture.table.baseplate().degrees());
        let turned = [Some(picture.table.map().degrees()), baseplate];
        self.map.picture(
            Key { turned, room },
            |width_mm, height_mm| picture.map_alone(width_mm, height_mm, TEXT_MM),
            |width_mm, height_mm, scene| picture.add_compass(width_mm, height_mm, TEXT_MM, scene),
        )
    }

    /// The look at the compass close up.
    pub fn compass(&self, picture: &Picture<'_>, room: Room) -> CellPicture {
        let turned = [Some(picture.table.baseplate().degrees()), None];
        self.compass.picture(
            Key { turned, room },
            |width_mm, height_mm| picture.compass_at_rest(width_mm, height_mm, TEXT_MM),
            |_, _, scene| picture.add_turning(TEXT_MM, scene),
        )
    }

    /// A sign, drawn when it is first asked for in this theme.
    pub fn sign(&self, theme: Theme, sign: Sign, draw: impl FnOnce(&Scene, u16) -> Vec<Span>) -> Vec<Span> {
        let mut signs = self.signs.borrow_mut();
        if let Some((.., spans)) = signs.iter().find(|(of, kept, _)| (*of, *kept) == (theme, sign)) {
            return spans.clone();
        }
        let (scene, columns) = sign.scene();
        let spans = draw(&scene, columns);
        signs.push((theme, sign, spans.clone()));
        spans
    }
}
