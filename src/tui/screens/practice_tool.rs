//! What a learner lays on the map of a question and reads off: a romer that is moved, a paper edge that is ticked along a path.

use super::practice::Msg;
use super::practice_keys::{ANSWER, END, HINT, LINES, PAGES, SPACE, TYPE, key};
use super::practice_point::pointed_at;
use crate::ground::plane::GridPosition;
use crate::problem::{Figure, MapFigure, MapTool};
use crate::tui::keys::{Line, On, Table};
use crossterm::event::{KeyCode, MouseEvent};
use ratatui::layout::Rect;
use std::cell::Cell;
use std::fmt;

/// A small step of the romer, and a large one: a tenth of the square. In metres.
const STEP_M: f64 = 20.0;
const LARGE_M: f64 = 100.0;
/// A step of the hand along a path, in mm on the paper of the map.
const ALONG_MM: f64 = 1.0;

/// What can be done with it.
#[derive(Clone, Copy, Debug)]
pub enum ToolAct {
    /// Lay it on the map, or take it away.
    Lay,
    /// Move the romer by so many steps to the east and to the north.
    Move(i32, i32),
    /// Large steps of the romer, or small ones again.
    Stride,
    /// So many steps along the path.
    Along(i32),
    /// Tick the paper edge, and turn it.
    Tick,
    /// Hold the paper edge against the scale bar, or lay it back.
    Hold,
}

/// The headings in the help.
pub(super) const ROMER: &str = "With a romer";
pub(super) const EDGE: &str = "With a paper edge";

const LAY_ROMER: Line<Msg> = Line::new(
    &[(On::Letter('r'), Msg::Tool(ToolAct::Lay))],
    "lay the romer on the map, or take it away; or click where its corner belongs",
);
/// No romer is laid.
pub(super) const NO_ROMER: Table<Msg> = &[LAY_ROMER.short("r", "lay the romer"), ANSWER, HINT, END, LINES, PAGES, TYPE];
/// A romer lies on the map.
pub(super) const ROMER_LAID: Table<Msg> = &[
    Line::new(
        &[
            key(KeyCode::Left, Msg::Tool(ToolAct::Move(-1, 0))),
            key(KeyCode::Right, Msg::Tool(ToolAct::Move(1, 0))),
            key(KeyCode::Up, Msg::Tool(ToolAct::Move(0, 1))),
            key(KeyCode::Down, Msg::Tool(ToolAct::Move(0, -1))),
        ],
        "move the romer by a small step, with Shift by a tenth of the square",
    )
    .short("←→↑↓", "move"),
    Line::new(&[(On::Letter('s'), Msg::Tool(ToolAct::Stride))], "large steps of the romer, or small ones again")
        .short("s", "step"),
    LAY_ROMER.short("r", "take away"),
    ANSWER,
    HINT,
    END,
    PAGES,
    TYPE,
];

const LAY_EDGE: Line<Msg> = Line::new(
    &[(On::Letter('e'), Msg::Tool(ToolAct::Lay))],
    "lay the paper edge on the path with its end at A, or take it away",
);
const HOLD: Line<Msg> = Line::new(
    &[(On::Letter('b'), Msg::Tool(ToolAct::Hold))],
    "hold the paper edge against the scale bar; or lay it back on the path",
);
/// No paper edge is laid.
pub(super) const NO_EDGE: Table<Msg> =
    &[LAY_EDGE.short("e", "lay the paper edge"), ANSWER, HINT, END, LINES, PAGES, TYPE];
/// A paper edge lies along the path.
pub(super) const EDGE_LAID: Table<Msg> = &[
    Line::new(
        &[
            key(KeyCode::Left, Msg::Tool(ToolAct::Along(-1))),
            key(KeyCode::Right, Msg::Tool(ToolAct::Along(1))),
            key(KeyCode::Down, Msg::Tool(ToolAct::Along(-5))),
            key(KeyCode::Up, Msg::Tool(ToolAct::Along(5))),
        ],
        "along the path by a millimetre on the map, ↑ ↓ by five; back over a tick takes it away",
    )
    .short("← →", "along"),
    Line::new(&[(SPACE, Msg::Tool(ToolAct::Tick))], "tick the paper edge, and turn it along the path")
        .short("Space", "tick"),
    HOLD.short("b", "to the bar"),
    LAY_EDGE,
    ANSWER,
    HINT,
    END,
    PAGES,
    TYPE,
];
/// The paper edge is held against the scale bar.
pub(super) const EDGE_HELD: Table<Msg> =
    &[HOLD.short("b", "back on the path"), LAY_EDGE, ANSWER, HINT, END, LINES, PAGES, TYPE];

/// What is laid on the map of a question.
#[derive(Clone)]
pub struct Tool {
    /// The map with it.
    figure: MapFigure,
    /// Whether a step without Shift is a large one.
    large: bool,
    /// Where the map was drawn last, in cells: the mouse needs it.
    panel: Cell<Rect>,
}

/// Without what drawing left in it.
impl fmt::Debug for Tool {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Tool").field("tool", &self.figure.tool).field("large", &self.large).finish_non_exhaustive()
    }
}

impl Tool {
    /// The tool of a map, where it has one; nothing is laid yet.
    #[must_use]
    pub fn of(figure: &MapFigure) -> Option<Tool> {
        figure.tool.is_some().then(|| Tool { figure: figure.clone(), large: false, panel: Cell::default() })
    }

    /// What it is, and how it lies.
    #[must_use]
    pub const fn lies(&self) -> Option<&MapTool> {
        self.figure.tool.as_ref()
    }

    /// The keys in the present state.
    pub(super) const fn keys(&self) -> Table<Msg> {
        match &self.figure.tool {
            Some(MapTool::PaperEdge(edge)) if edge.held => EDGE_HELD,
            Some(MapTool::PaperEdge(edge)) if edge.at.is_some() => EDGE_LAID,
            Some(MapTool::PaperEdge(_)) => NO_EDGE,
            Some(MapTool::Romer(romer)) if romer.corner.is_some() => ROMER_LAID,
            Some(MapTool::Romer(_)) | None => NO_ROMER,
        }
    }

    /// Takes in what a key means; why nothing follows from it, where that has to be said.
    pub(super) fn act(&mut self, act: ToolAct, shift: bool) -> Option<&'static str> {
        let along = ALONG_MM * f64::from(self.figure.map.spec().scale.denominator()) / 1000.0;
        let step = if self.large == shift { STEP_M } else { LARGE_M };
        match (&mut self.figure.tool, act) {
            (Some(MapTool::Romer(romer)), ToolAct::Lay) => {
                // In the middle of the square: it is moved from there.
                let middle = GridPosition {
                    easting_m: romer.square.easting_m + 500.0,
                    northing_m: romer.square.northing_m + 500.0,
                };
                romer.corner = if romer.corner.is_some() { None } else { Some(middle) };
            }
            (Some(MapTool::Romer(_)), ToolAct::Move(east, north)) => self.move_romer((east, north), step),
            (_, ToolAct::Stride) => self.large = !self.large,
            (Some(MapTool::PaperEdge(edge)), ToolAct::Lay) => edge.lay(),
            (Some(MapTool::PaperEdge(edge)), ToolAct::Along(by)) => edge.go(f64::from(by) * along),
            (Some(MapTool::PaperEdge(edge)), ToolAct::Tick) => {
                let before = edge.count();
                edge.tick();
                if edge.count() == before {
                    return Some("Go along the path first, with →: there is a tick here already.");
                }
            }
            (Some(MapTool::PaperEdge(edge)), ToolAct::Hold) => {
                if edge.ticks.is_empty() {
                    return Some("Tick the edge first: → along the path, then Space.");
                }
                edge.held = !edge.held;
            }
            _ => {}
        }
        None
    }

    fn move_romer(&mut self, (east, north): (i32, i32), step: f64) {
        if let Some(MapTool::Romer(romer)) = &self.figure.tool
            && let Some(corner) = romer.corner
        {
            self.put(GridPosition {
                easting_m: corner.easting_m + f64::from(east) * step,
                northing_m: corner.northing_m + f64::from(north) * step,
            });
        }
    }

    /// Puts the romer's corner to a place of its square; elsewhere it would cover nothing that is asked for.
    fn put(&mut self, to: GridPosition) {
        if let Some(MapTool::Romer(romer)) = &mut self.figure.tool {
            let within = |metres: f64, from: f64| metres.clamp(from, from + 1000.0);
            romer.corner = Some(GridPosition {
                easting_m: within(to.easting_m, romer.square.easting_m),
                northing_m: within(to.northing_m, romer.square.northing_m),
            });
        }
    }

    /// The map with it, drawn in these cells.
    pub(super) fn drawn_in(&self, panel: Rect) -> Figure {
        self.panel.set(panel);
        Figure::Map(Box::new(self.figure.clone()))
    }

    /// Whether the mouse can move it.
    pub(super) const fn wants_mouse(&self) -> bool {
        matches!(self.figure.tool, Some(MapTool::Romer(_)))
    }

    /// A press or drag of the mouse puts the romer's corner where the pointer is.
    pub(super) fn mouse(&mut self, event: MouseEvent) {
        if let Some(at) = pointed_at(&self.figure, self.panel.get(), event) {
            self.put(at);
        }
    }

    /// What lies on the map and what comes next, beside the field.
    pub(super) fn words(&self) -> String {
        match &self.figure.tool {
            Some(MapTool::Romer(romer)) if romer.corner.is_none() => "r lays the romer on the map.".to_owned(),
            Some(MapTool::Romer(_)) => {
                let (now, other) = if self.large { (LARGE_M, STEP_M) } else { (STEP_M, LARGE_M) };
                format!("Its corner belongs on A. A step is {now:.0} m, with Shift {other:.0} m.")
            }
            Some(MapTool::PaperEdge(edge)) if edge.held && !edge.is_whole() => {
                "The edge is held against the scale bar, but its last tick is not at B yet: b lays it back.".to_owned()
            }
            Some(MapTool::PaperEdge(edge)) if edge.held => "The edge is held against the scale bar.".to_owned(),
            Some(MapTool::PaperEdge(edge)) if edge.at.is_some() => match edge.count() {
                1 => "One tick, at A. Space ticks where the edge is to turn.".to_owned(),
                ticks => format!("{ticks} ticks. The last one belongs at B."),
            },
            Some(MapTool::PaperEdge(_)) => "e lays the paper edge on the path.".to_owned(),
            None => String::new(),
        }
    }
}
