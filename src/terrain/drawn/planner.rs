//! Where writing may stand: never on a mark, never on other writing, whole on the panel.
//!
//! A canvas of cells moves writing to its own rows and columns: by less than a cell across and less than a line up or
//! down. All tests here allow for that, so that what is free in millimetres is free on any canvas with this text height.
use crate::numbers::real;
use crate::scene::{Align, Emphasis, Freedom, Ink, Label, Point, Priority, Rect, Scene};
use crate::terrain::view::{MapView, TEXT_MM};

/// An upright box on the panel, in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Span {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Span {
    pub(super) fn around(at: Point, mm: f64) -> Span {
        Span { left: at.x - mm, right: at.x + mm, top: at.y - mm, bottom: at.y + mm }
    }

    fn meets(&self, other: &Span) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }

    fn holds(&self, at: Point) -> bool {
        (self.left..=self.right).contains(&at.x) && (self.top..=self.bottom).contains(&at.y)
    }
}

impl From<Rect> for Span {
    fn from(rect: Rect) -> Span {
        let (left, top) = (rect.corner.x, rect.corner.y);
        Span { left, right: left + rect.width, top, bottom: top + rect.height }
    }
}

/// A piece of writing that wants a place.
pub(super) struct Wish<'a> {
    pub(super) text: &'a str,
    pub(super) ink: Ink,
    pub(super) emphasis: Emphasis,
    pub(super) priority: Priority,
}

/// A place that is tried: where the writing is anchored, how, and how much that is disliked.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub(super) at: Point,
    pub(super) align: Align,
    pub(super) dislike: u32,
}

pub(super) struct Planner {
    line_mm: f64,
    panel: Span,
    /// Marks, and what the view keeps clear.
    marks: Vec<Span>,
    /// Writing as it stands.
    written: Vec<Span>,
    /// Places that writing should rather not hide.
    clutter: Vec<Point>,
}

impl Planner {
    pub(super) fn new(view: &MapView) -> Planner {
        // A canvas may make its lines a little higher than asked, to come out even.
        let line_mm = if view.text_mm.is_finite() { view.text_mm.clamp(0.5, 100.0) * 1.06 } else { TEXT_MM };
        let panel = Span { left: 0.8, right: view.width_mm - 0.8, top: 0.8, bottom: view.height_mm - 0.8 };
        let marks = view.keep_clear.iter().map(|&rect| rect.into()).collect();
        Planner { line_mm, panel, marks, written: Vec::new(), clutter: Vec::new() }
    }

    /// Height of a line of writing as it is planned, in mm.
    pub(super) const fn line_mm(&self) -> f64 {
        self.line_mm
    }

    pub(super) fn keep_mark(&mut self, at: Point, reach_mm: f64) {
        self.marks.push(Span::around(at, reach_mm));
    }

    /// A mark that a canvas of cells shows as a character.
    pub(super) fn keep_symbol(&mut self, at: Point) {
        self.marks.push(Span::around(at, self.line_mm / 2.0));
        let span = self.span("*", &Place { at, align: Align::Centre, dislike: 0 });
        self.written.push(span);
    }

    pub(super) fn avoid(&mut self, points: impl IntoIterator<Item = Point>) {
        self.clutter.extend(points);
    }

    /// The box of writing at a place, without allowance.
    fn span(&self, text: &str, place: &Place) -> Span {
        let width = real(text.chars().count()) * self.line_mm / 2.0;
        let left = match place.align {
            Align::Left => place.at.x,
            Align::Centre => place.at.x - width / 2.0,
            Align::Right => place.at.x - width,
        };
        let (top, bottom) = (place.at.y - self.line_mm / 2.0, place.at.y + self.line_mm / 2.0);
        Span { left, right: left + width, top, bottom }
    }

    fn is_free(&self, span: &Span) -> bool {
        let (cell, half) = (self.line_mm / 2.0, self.line_mm / 2.0);
        let moved =
            Span { left: span.left - cell, right: span.right + cell, top: span.top - half, bottom: span.bottom + half };
        // Between two pieces of writing a cell stays free, and each may be moved by one.
        let wide = Span { left: span.left - 2.5 * cell, right: span.right + 2.5 * cell, ..*span };
        let on_panel = span.left >= self.panel.left
            && span.right <= self.panel.right
            && span.top + half >= self.panel.top
            && span.bottom - half <= self.panel.bottom;
        on_panel
            && !self.marks.iter().any(|mark| mark.meets(&moved))
            && !self.written.iter().any(|other| other.meets(&wide))
    }

    /// Looks for the best place, writes there and says where; `None` when no place is free.
    pub(super) fn write(
        &mut self,
        wish: &Wish,
        places: impl IntoIterator<Item = Place>,
        scene: &mut Scene,
    ) -> Option<Point> {
        let mut best: Option<(u32, Place, Span)> = None;
        for place in places {
            if best.as_ref().is_some_and(|(least, ..)| *least <= place.dislike) {
                continue;
            }
            let span = self.span(wish.text, &place);
            if self.is_free(&span) {
                let cost = place.dislike + self.clutter.iter().map(|&at| u32::from(span.holds(at))).sum::<u32>();
                if best.as_ref().is_none_or(|(least, ..)| cost < *least) {
                    best = Some((cost, place, span));
                }
            }
        }
        let (_, place, span) = best?;
        self.written.push(span);
        scene.add(Label {
            text: wish.text.to_owned(),
            anchor: place.at,
            align: place.align,
            ink: wish.ink,
            emphasis: wish.emphasis,
            priority: wish.priority,
            freedom: Freedom::Fixed,
        });
        Some(place.at)
    }
}
