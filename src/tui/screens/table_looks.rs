//! The two looks of the map table: where they stand, their captions, and the key to the signs of the map.

use super::layer::{Layer, Sign};
use crate::maptable::Pose;
use crate::problem::TableProblem;
use crate::terrain::MapSign;
use crate::tui::paint::{Lines, Painter, cut};
use crate::tui::theme::Tone;
use ratatui::layout::Rect;

/// The fewest rows the two looks get: with fewer, the dial loses its numbers.
pub(super) const LOOKS: u16 = 11;
/// What stands in the corner of the compass close up.
const CLOSE_UP: &str = "close up";
/// What stands over the map before the key to its signs.
const MAP: &str = "the map";
/// Columns of the gap between the looks.
const GAP: u16 = 1;
/// Columns between the signs of a key.
const BETWEEN: u16 = 2;

/// Where things stand on the screen: the task on top, under it the two looks side by side, how things lie under the compass,
/// and what is said under all of it.
pub(super) struct Parts {
    pub(super) task: Rect,
    pub(super) looks: Looks,
    pub(super) state: Rect,
    pub(super) status: Rect,
}

/// Where the two looks stand, their captions included.
#[derive(Clone, Copy, Debug, Default)]
pub struct Looks {
    /// The look at the map, or at what is in view.
    pub map: Rect,
    /// The look at the compass close up.
    pub compass: Rect,
}

impl Parts {
    pub(super) const fn map(&self) -> Rect {
        self.looks.map
    }

    pub(super) const fn compass(&self) -> Rect {
        self.looks.compass
    }
}

/// How many columns the compass and the words under it have: the map takes the rest.
pub(super) const fn compass_columns(area: Rect) -> u16 {
    area.width * 9 / 20
}

/// Divides the screen; so many rows are kept for the state, if there is any: where words came and went, the dial would jump.
pub(super) fn parts(area: Rect, (task, state, status): (&Lines, &Lines, &Lines), kept: u16) -> Parts {
    let rows = |lines: &Lines| u16::try_from(lines.len()).unwrap_or(u16::MAX);
    let most = area.height.saturating_sub(LOOKS);
    let above = rows(task).min(most);
    let below = rows(status).min(most.saturating_sub(above));
    let kept = if state.is_empty() { 0 } else { rows(state).max(kept) };
    let under = kept.min(most.saturating_sub(above + below));
    let looks = Rect { y: area.y + above, height: area.height - above - below, ..area };
    let wide = compass_columns(area);
    let map = Rect { width: area.width.saturating_sub(wide + GAP), ..looks };
    let beside = Rect { x: map.right() + GAP, width: wide, ..looks };
    let compass = Rect { height: looks.height - under, ..beside };
    Parts {
        task: Rect { height: above, ..area },
        looks: Looks { map, compass },
        state: Rect { y: compass.bottom(), height: under, ..beside },
        status: Rect { y: looks.bottom(), height: below, ..area },
    }
}

/// What a look is drawn from.
pub(super) struct Look<'a> {
    pub(super) problem: &'a TableProblem,
    pub(super) pose: &'a Pose,
    pub(super) layer: &'a Layer,
    /// Whether the work is done and told.
    pub(super) done: bool,
}

impl Look<'_> {
    /// The map with the compass on it, or what is in view, under its caption.
    pub(super) fn map(&self, area: Rect, painter: &mut Painter<'_, '_>) {
        let caption = match &self.problem.map {
            None => "what you see, looking along the arrow",
            Some(_) if self.compares() => "as it lay; thick corners: as it should lie",
            Some(_) if self.done && !self.stands_around() => "as it lay",
            Some(_) if self.done => "as it lay, and what stands around you",
            Some(_) if self.problem.exercise.around().is_some() => "the map, and what stands around you",
            Some(_) => MAP,
        };
        let room = captioned(caption, area, painter);
        if caption == MAP {
            let after = u16::try_from(MAP.len()).unwrap_or(0).min(area.width);
            self.key(
                Rect { x: area.x + after, width: area.width - after, height: area.height.min(1), ..area },
                painter,
            );
        }
        self.problem.picture(self.pose, self.done, |picture| painter.picture(picture, self.layer, room));
    }

    /// The key to the signs of the map, in one row: with whole names where they fit, with short ones, or with fewer signs.
    fn key(&self, row: Rect, painter: &mut Painter<'_, '_>) {
        let signs = self.problem.picture(self.pose, self.done, |picture| picture.map_signs());
        let width = |name: fn(MapSign) -> &'static str| {
            let columns = |sign: &MapSign| usize::from(BETWEEN + sign.columns() + 1) + name(*sign).len();
            signs.iter().map(columns).sum::<usize>()
        };
        let name = if width(MapSign::name) <= usize::from(row.width) { MapSign::name } else { MapSign::short_name };
        let mut left = row;
        for sign in signs {
            let needs = BETWEEN + sign.columns() + 1 + u16::try_from(name(sign).len()).unwrap_or(u16::MAX);
            if needs > left.width {
                break;
            }
            let drawn = painter.sign(Sign::Map(sign), self.layer);
            left.x += BETWEEN;
            painter.spans(&drawn, left);
            let at = left.x + sign.columns() + 1;
            painter.put(Rect { x: at, width: row.right() - at, ..row }, name(sign), Tone::Quiet);
            (left.x, left.width) = (left.x - BETWEEN + needs, left.width - needs);
        }
    }

    pub(super) fn compares(&self) -> bool {
        self.problem.picture(self.pose, self.done, |picture| picture.compares())
    }

    fn stands_around(&self) -> bool {
        self.problem.picture(self.pose, self.done, |picture| picture.stands_around())
    }

    /// The compass close up, its caption in the corner that a round thing leaves free: each row counts for what is in it.
    pub(super) fn close_up(&self, area: Rect, painter: &mut Painter<'_, '_>) {
        let ahead = self.problem.exercise.around().is_some();
        let room = close_up_room(area, ahead);
        self.problem.picture(self.pose, self.done, |picture| painter.close_up(picture, self.layer, room));
        captioned(if ahead { "what you see, straight ahead" } else { CLOSE_UP }, area, painter);
    }
}

/// Writes the caption; what is left under it.
pub(super) fn captioned(caption: &str, area: Rect, painter: &mut Painter<'_, '_>) -> Rect {
    painter.put(Rect { height: 1.min(area.height), ..area }, &cut(caption, usize::from(area.width)), Tone::Quiet);
    under_caption(area)
}

/// The part of the second look that its picture takes: the compass all of it, what lies ahead what is under its caption.
#[must_use]
pub const fn close_up_room(area: Rect, ahead: bool) -> Rect {
    if ahead { under_caption(area) } else { area }
}

/// The part of a look that is under its caption.
#[must_use]
pub const fn under_caption(area: Rect) -> Rect {
    Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area }
}
