//! A point picked on a map: a cross that is moved by keys and mouse, and what is told of where it stands.

use crate::angle::three_figures;
use crate::ground::GridReference;
use crate::ground::plane::GridPosition;
use crate::problem::{Figure, MapFigure};
use crate::scene::cells::Viewport;
use crate::terrain::Spot;
use crate::tui::paint::millimetres;
use crossterm::event::{MouseButton, MouseEvent, MouseEventKind};
use ratatui::layout::Rect;
use std::cell::Cell;
use std::fmt;

/// A small step of the cross, in mm on the paper of the map; a large one is ten of them.
const STEP_MM: f64 = 0.8;
const LARGE: f64 = 10.0;

/// Where on a map that is drawn in these cells the mouse is pressed or drags; none elsewhere.
pub(super) fn pointed_at(figure: &MapFigure, panel: Rect, event: MouseEvent) -> Option<GridPosition> {
    let pressed =
        matches!(event.kind, MouseEventKind::Down(MouseButton::Left) | MouseEventKind::Drag(MouseButton::Left));
    if !pressed || !panel.contains((event.column, event.row).into()) {
        return None;
    }
    let (width, height) = millimetres(panel);
    let view = Viewport::fit(width, height, panel.width, panel.height);
    let point = view.cell_to_mm(event.column - panel.x, event.row - panel.y);
    figure.position(point, width, height)
}

/// The cross on a map.
#[derive(Clone)]
pub struct Cross {
    /// The map with the cross on it.
    figure: MapFigure,
    at: GridPosition,
    /// Whether it was moved: where it happens to stand is no answer.
    pub moved: bool,
    /// Whether a step without Shift is a large one.
    pub large: bool,
    /// Where the map was drawn last, in cells: the mouse needs it.
    panel: Cell<Rect>,
}

/// Without what drawing left in it.
impl fmt::Debug for Cross {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Cross")
            .field("at", &self.at)
            .field("moved", &self.moved)
            .field("large", &self.large)
            .finish_non_exhaustive()
    }
}

impl Cross {
    /// A cross at the lower edge of a map: in its middle it stood now and then on the very place that is asked for, and a single step was
    /// an answer.
    #[must_use]
    pub fn new(figure: &MapFigure) -> Cross {
        let middle = figure.map.middle();
        let start = tens(figure.map.grid_position(Spot::new(middle.east_mm, figure.map.spec().height_mm * 0.03)));
        let figure = MapFigure { cross: Some(start), ..figure.clone() };
        Cross { figure, at: start, moved: false, large: false, panel: Cell::default() }
    }

    /// Moves it by so many steps to grid east and grid north, as far as the sheet goes; `other` takes the other size of step.
    pub fn go(&mut self, (east, north): (i32, i32), other: bool) {
        let small = f64::from(self.figure.map.spec().scale.denominator()) / 1000.0 * STEP_MM;
        let step = if self.large == other { small } else { small * LARGE };
        let to = GridPosition {
            easting_m: self.at.easting_m + f64::from(east) * step,
            northing_m: self.at.northing_m + f64::from(north) * step,
        };
        self.put(to);
    }

    /// Puts it to a place of the sheet; elsewhere it stays.
    fn put(&mut self, to: GridPosition) {
        if self.figure.map.holds(self.figure.map.at_grid_position(to)) {
            self.at = to;
            self.figure.cross = Some(to);
        }
        self.moved = true;
    }

    /// The map with the cross, drawn in these cells.
    pub fn drawn_in(&self, panel: Rect) -> Figure {
        self.panel.set(panel);
        Figure::Map(Box::new(self.figure.clone()))
    }

    /// A press or drag of the mouse puts it where the pointer is.
    pub fn mouse(&mut self, event: MouseEvent) {
        if let Some(at) = pointed_at(&self.figure, self.panel.get(), event) {
            self.put(tens(at));
        }
    }

    /// What is judged: metres east and north.
    #[must_use]
    pub fn text(&self) -> String {
        format!("{:.0} {:.0}", self.at.easting_m, self.at.northing_m)
    }

    /// Where it stands, as a map reader says it: `grid reference 3680 5760`.
    #[must_use]
    pub fn reference(&self) -> String {
        let reference =
            GridReference::of_metres(None, self.at.easting_m, self.at.northing_m, 8).map(|it| it.to_string());
        let spaced = reference.as_deref().and_then(|figures| figures.split_at_checked(4));
        spaced.map_or_else(|| self.text(), |(east, north)| format!("grid reference {east} {north}"))
    }

    /// How the line lies that runs from each mark through the cross: `line from Fern Tower: 128° G`.
    pub fn edges(&self) -> impl Iterator<Item = String> {
        self.figure.marks().map(|(name, mark)| {
            let bearing = mark.leg_to(self.at).bearing;
            format!("line from {name}: {}° G", three_figures(bearing.angle(), 0))
        })
    }

    /// How far a small step goes, and a large one, in metres: for the message on what the keys do.
    #[must_use]
    pub fn step_words(&self) -> String {
        let small = f64::from(self.figure.map.spec().scale.denominator()) / 1000.0 * STEP_MM;
        let (now, other) = if self.large { (small * LARGE, small) } else { (small, small * LARGE) };
        format!("a step is {now:.0} m, with Shift {other:.0} m")
    }
}

/// A position in whole tens of metres, which a reference of eight figures names.
fn tens(at: GridPosition) -> GridPosition {
    let tens = |metres: f64| (metres / 10.0).round() * 10.0;
    GridPosition { easting_m: tens(at.easting_m), northing_m: tens(at.northing_m) }
}
