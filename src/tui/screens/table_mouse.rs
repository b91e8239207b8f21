//! The mouse at the map table: it turns what it grabs, in either look.

use super::table::{Desk, Phase, holds};
use super::table_looks::{Looks, close_up_room, under_caption};
use crate::angle::Angle;
use crate::maptable::{Hold, dragged};
use crate::problem::TEXT_MM;
use crate::scene::Point;
use crossterm::event::{MouseButton, MouseEvent, MouseEventKind};
use jiff::Timestamp;
use ratatui::layout::Rect;

/// What the mouse has taken hold of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grip {
    hold: Hold,
    /// Whether in the look at the compass; else in the look at the map.
    close: bool,
    /// Where it was last, in mm on that look.
    last: Point,
}

impl Desk {
    /// The mouse turns what it grabs, in either look. What it took hold of stays held for the keys, too.
    pub fn mouse(&mut self, event: MouseEvent, at: Timestamp) {
        let Looks { map, compass } = self.panels.get();
        let ahead = self.problem.exercise.around().is_some();
        let panels = [(false, under_caption(map)), (true, close_up_room(compass, ahead))];
        let place = |panel: Rect| {
            Point::new(
                (f64::from(event.column) - f64::from(panel.x) + 0.5) * TEXT_MM / 2.0,
                (f64::from(event.row) - f64::from(panel.y) + 0.5) * TEXT_MM,
            )
        };
        let size = |panel: Rect| (f64::from(panel.width) * TEXT_MM / 2.0, f64::from(panel.height) * TEXT_MM);
        match event.kind {
            MouseEventKind::Down(MouseButton::Left) if self.phase == Phase::Working => {
                let under = |(_, panel): &(bool, Rect)| panel.contains((event.column, event.row).into());
                let Some((close, panel)) = panels.into_iter().find(under) else { return };
                let (point, (width, height)) = (place(panel), size(panel));
                let hold = self.picture(|picture| match close {
                    true => picture.grabbed_close(point, width, height, TEXT_MM),
                    false => picture.grabbed_on_map(point, width, height, TEXT_MM),
                });
                // Map and compass that are held together are turned together, wherever they are grabbed.
                let together = self.held == Hold::Both && matches!(hold, Hold::Map | Hold::Compass);
                let hold = if together { Hold::Both } else { hold };
                if holds(&self.problem.exercise.task).contains(&hold) {
                    self.held = hold;
                    (self.grabbed, self.rest) = (Some(Grip { hold, close, last: point }), 0.0);
                }
            }
            MouseEventKind::Drag(MouseButton::Left) => {
                let Some(grip) = self.grabbed else { return };
                let panel = panels[usize::from(grip.close)].1;
                let (point, (width, height)) = (place(panel), size(panel));
                let turned = dragged(grip.last, point, Point::new(width / 2.0, height / 2.0)).degrees();
                // Heading up, the world turns the other way when one is turned.
                self.rest += if grip.hold == Hold::Oneself { -turned } else { turned };
                self.grabbed = Some(Grip { last: point, ..grip });
                let whole = self.rest.trunc();
                if whole != 0.0 {
                    self.rest -= whole;
                    self.make(grip.hold.turn(Angle::from_degrees(whole)), at);
                    // What the mouse drags stays under it.
                    self.moving.arrive(&self.now);
                }
            }
            MouseEventKind::Up(_) => self.grabbed = None,
            _ => {}
        }
    }
}
