//! A point picked on a map: lines that are drawn through the marks on the bearings that the learner says, and a cross that is moved by
//! keys and mouse.
//!
//! A line is said in figures and drawn as a protractor would; how it lies through the cross is not told, or its figures could be
//! steered to without a look at the map.

use crate::angle::{Bearing, Grid};
use crate::ground::plane::{GridPosition, beside_path_m};
use crate::ground::{GridLeg, GridReference};
use crate::numbers::round_from;
use crate::problem::{Figure, LineRole, MapFigure, MapRay};
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
/// A bearing has so many figures.
const FIGURES: usize = 3;

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
    /// What was typed of the grid bearing of the line through each mark.
    typed: Vec<String>,
    /// The line that figures belong to.
    line: usize,
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
            .field("typed", &self.typed)
            .field("line", &self.line)
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
        let typed = vec![String::new(); figure.marks().count()];
        Cross { figure, at: start, moved: false, large: false, typed, line: 0, panel: Cell::default() }
    }

    /// Takes in a figure of the line's bearing: the third one draws it. Behind a whole one it begins a line that has none, and where all
    /// are drawn the same line anew. Why nothing is drawn, where that has to be said.
    pub fn figure_typed(&mut self, figure: char) -> Option<&'static str> {
        if self.typed.get(self.line).is_some_and(|typed| typed.len() == FIGURES)
            && let Some(empty) = self.typed.iter().position(String::is_empty)
        {
            self.line = empty;
        }
        let typed = self.typed.get_mut(self.line)?;
        if typed.len() == FIGURES {
            typed.clear();
        }
        typed.push(figure);
        let is_whole = typed.len() == FIGURES;
        if is_whole && typed.parse::<u16>().is_ok_and(|degrees| degrees > 360) {
            typed.clear();
            self.draw_lines();
            return Some("A bearing has three figures, 000 to 360.");
        }
        self.draw_lines();
        None
    }

    /// Takes the last figure away, and with it the line.
    pub fn erase(&mut self) {
        if let Some(typed) = self.typed.get_mut(self.line) {
            typed.pop();
        }
        self.draw_lines();
    }

    /// Goes so many lines on, and round at the ends.
    pub fn choose_line(&mut self, by: i32) {
        self.line = round_from(self.line, by, self.typed.len());
    }

    /// Draws each line whose bearing is whole, through its mark from border to border: a bearing and its back bearing are one line.
    fn draw_lines(&mut self) {
        let marks: Vec<GridPosition> = self.figure.marks().map(|(_, at)| at).collect();
        let whole = self.typed.iter().zip(marks).filter(|(typed, _)| typed.len() == FIGURES);
        let rays = whole.filter_map(|(typed, mark)| {
            let toward = Bearing::<Grid>::from_degrees(f64::from(typed.parse::<u16>().ok()?));
            Some(MapRay {
                from: self.border(mark, toward.back()),
                to: self.border(mark, toward),
                role: LineRole::Learner,
            })
        });
        self.figure.rays = rays.collect();
    }

    /// Where a line from a mark comes to the border of the sheet, to a millimetre on paper.
    fn border(&self, mark: GridPosition, bearing: Bearing<Grid>) -> GridPosition {
        let map = &self.figure.map;
        let step = f64::from(map.spec().scale.denominator()) / 1000.0;
        let on_line = (1..).map(|steps| mark.after(GridLeg { distance_m: f64::from(steps) * step, bearing }));
        on_line.take_while(|at| map.holds(map.at_grid_position(*at))).last().unwrap_or(mark)
    }

    /// Moves it by so many steps to grid east and grid north, as far as the sheet goes; `other` takes the other size of step.
    pub fn go(&mut self, (east, north): (i32, i32), other: bool) {
        let small = self.small_m();
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

    /// The line through each mark with what was typed of its grid bearing, `Fern Tower: 12_° G`, and whether figures belong to it. Where the
    /// cross stands on a line that is drawn, that is said: no eye sees two millimetres on a small screen.
    pub fn lines(&self) -> impl Iterator<Item = (String, bool)> {
        let mut drawn = self.figure.rays.iter();
        self.figure.marks().zip(&self.typed).enumerate().map(move |(at, ((name, _), typed))| {
            let ray = if typed.len() == FIGURES { drawn.next() } else { None };
            let beside = |ray: &MapRay| beside_path_m(self.at, &[ray.from, ray.to]);
            let on = if ray.is_some_and(|ray| beside(ray) <= self.small_m()) { ", on it" } else { "" };
            (format!("{name}: {typed:_<FIGURES$}° G{on}"), at == self.line)
        })
    }

    /// A small step, in metres on the ground.
    fn small_m(&self) -> f64 {
        f64::from(self.figure.map.spec().scale.denominator()) / 1000.0 * STEP_MM
    }

    /// How far a small step goes, and a large one, in metres: for the message on what the keys do.
    #[must_use]
    pub fn step_words(&self) -> String {
        let small = self.small_m();
        let (now, other) = if self.large { (small * LARGE, small) } else { (small, small * LARGE) };
        format!("a step is {now:.0} m, with Shift {other:.0} m")
    }
}

/// A position in whole tens of metres, which a reference of eight figures names.
fn tens(at: GridPosition) -> GridPosition {
    let tens = |metres: f64| (metres / 10.0).round() * 10.0;
    GridPosition { easting_m: tens(at.easting_m), northing_m: tens(at.northing_m) }
}
