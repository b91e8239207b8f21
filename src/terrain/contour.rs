//! Contour lines over the mesh of heights.
use super::relief::Mesh;
use super::spot::Spot;
use crate::numbers;
use crate::numbers::whole;

/// A contour line.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// Metres above the sea.
    pub height_m: i32,
    /// Its course, the higher ground always on the same hand. Closed (the last place is the first) or from border to
    /// border of the sheet.
    pub line: Vec<Spot>,
}

impl Contour {
    /// Whether it closes on the sheet.
    #[cfg(test)]
    #[must_use]
    pub fn is_closed(&self) -> bool {
        self.line.len() > 2 && self.line.first() == self.line.last()
    }
}

/// No edge.
const NONE: u32 = u32::MAX;

/// Traces the lines of one height through the mesh. Heights exactly on the line count as above it.
pub(super) struct Tracer<'a> {
    mesh: &'a Mesh,
    heights: &'a [f64],
    /// For each edge of the mesh the next edge along the line. Edges are numbered 2·crossing + (0 eastward, 1 northward).
    next: Vec<u32>,
    /// Whether a line runs into the edge from within.
    entered: Vec<bool>,
    /// Edges that have a next one.
    starts: Vec<u32>,
}

impl<'a> Tracer<'a> {
    pub(super) fn new(mesh: &'a Mesh, heights: &'a [f64]) -> Tracer<'a> {
        let edges = heights.len() * 2;
        Tracer { mesh, heights, next: vec![NONE; edges], entered: vec![false; edges], starts: Vec::new() }
    }

    /// All lines at the heights that are multiples of `step_m`.
    pub(super) fn all(mut self, step_m: i32) -> Vec<Contour> {
        // How many steps high each crossing is: a cell whose corners agree has no line.
        let bands: Vec<i32> = self.heights.iter().map(|height| whole((height / f64::from(step_m)).floor())).collect();
        let cols = self.mesh.cols;
        let mut cut: Vec<(i32, usize)> = Vec::with_capacity(bands.len());
        for row in 0..self.mesh.rows - 1 {
            for at in row * cols..row * cols + cols - 1 {
                let corners = [bands[at], bands[at + 1], bands[at + cols], bands[at + cols + 1]];
                let low = corners[0].min(corners[1]).min(corners[2].min(corners[3]));
                let high = corners[0].max(corners[1]).max(corners[2].max(corners[3]));
                cut.extend((low + 1..=high).map(|band| (band, at)));
            }
        }
        // Within a height the order of the cells stays: lines always come out in the same order.
        numbers::arrange_by_key(&mut cut, |&(band, _)| band);
        let mut lines = Vec::new();
        for level in cut.chunk_by(|a, b| a.0 == b.0) {
            self.level(level[0].0 * step_m, level, &bands, &mut lines);
        }
        lines
    }

    /// The lines of one height, through its cells.
    fn level(&mut self, height_m: i32, cells: &[(i32, usize)], bands: &[i32], lines: &mut Vec<Contour>) {
        let level = f64::from(height_m);
        let cols = self.mesh.cols;
        for &(band, at) in cells {
            let above = |at: usize| usize::from(bands[at] >= band);
            let case = above(at) | above(at + 1) << 1 | above(at + cols + 1) << 2 | above(at + cols) << 3;
            self.cell(at, case, level);
        }
        // First those that begin at the border, then what is left: closed ones.
        for only_open in [true, false] {
            for start in 0..self.starts.len() {
                let start = self.starts[start];
                if self.next[start as usize] != NONE && !(only_open && self.entered[start as usize]) {
                    lines.push(Contour { height_m, line: self.follow(start, level) });
                }
            }
        }
        for &start in &self.starts {
            self.entered[start as usize] = false;
        }
        self.starts.clear();
    }

    /// Links the edges of one cell; corners are counted from the south-west, counterclockwise.
    fn cell(&mut self, at: usize, case: usize, level: f64) {
        let cols = self.mesh.cols;
        let edge = [2 * at, 2 * (at + 1) + 1, 2 * (at + cols), 2 * at + 1];
        let number = |edge: usize| u32::try_from(edge).unwrap_or(NONE);
        // A cell with two high and two low corners across: its middle says which pair is joined.
        let middle = || {
            let corners = [at, at + 1, at + cols, at + cols + 1].map(|at| self.heights[at]);
            corners.iter().sum::<f64>() / 4.0 >= level
        };
        let links: &[(usize, usize)] = match case {
            1 => &[(0, 3)],
            2 => &[(1, 0)],
            3 => &[(1, 3)],
            4 => &[(2, 1)],
            6 => &[(2, 0)],
            7 => &[(2, 3)],
            8 => &[(3, 2)],
            9 => &[(0, 2)],
            11 => &[(1, 2)],
            12 => &[(3, 1)],
            13 => &[(0, 1)],
            14 => &[(3, 0)],
            5 if middle() => &[(0, 1), (2, 3)],
            5 => &[(0, 3), (2, 1)],
            0 | 15 => &[],
            _ if middle() => &[(3, 0), (1, 2)],
            _ => &[(1, 0), (3, 2)],
        };
        for &(from, to) in links {
            self.next[edge[from]] = number(edge[to]);
            self.entered[edge[to]] = true;
            self.starts.push(number(edge[from]));
        }
    }

    fn follow(&mut self, start: u32, level: f64) -> Vec<Spot> {
        let mut line = vec![self.on_edge(start, level)];
        let mut edge = start;
        loop {
            let next = std::mem::replace(&mut self.next[edge as usize], NONE);
            if next == NONE {
                // Run off the sheet: the last edge was entered and is not left.
                self.entered[edge as usize] = false;
                return line;
            }
            line.push(self.on_edge(next, level));
            edge = next;
            if edge == start {
                return line;
            }
        }
    }

    fn on_edge(&self, edge: u32, level: f64) -> Spot {
        let from = edge as usize / 2;
        let to = if edge.is_multiple_of(2) { from + 1 } else { from + self.mesh.cols };
        let (low, high) = (self.heights[from], self.heights[to]);
        self.mesh.spot(from).toward(self.mesh.spot(to), (level - low) / (high - low))
    }
}
