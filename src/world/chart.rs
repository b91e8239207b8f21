//! Lines of equal declination: where a grid of the model's values passes a whole number.

use super::{FOOT, TOP, field};
use crate::geomag::Zone;
use crate::ground::Place;
use jiff::civil::Date;

/// The step of the grid in degrees, of latitude and of longitude.
const STEP: f64 = 3.0;
/// The lines that are drawn, in degrees east.
const DRAWN: [i32; 7] = [-30, -20, -10, 0, 10, 20, 30];
/// Where neighbours of the grid differ by more, a pole is near: no line is drawn there.
const STEEP: f64 = 60.0;

/// A line of equal declination.
#[derive(Clone, Debug, PartialEq)]
pub struct Isogonic {
    /// The declination on it, degrees east.
    pub east: i32,
    /// Its pieces: longitude and latitude in degrees.
    pub pieces: Vec<Vec<(f64, f64)>>,
}

/// All lines of a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    day: Date,
    lines: Vec<Isogonic>,
}

impl Chart {
    /// The lines of a day; none where the model does not know it.
    #[must_use]
    pub fn of(day: Date) -> Chart {
        let grid = Grid::of(day);
        let lines = DRAWN.iter().map(|&east| Isogonic { east, pieces: joined(grid.crossings(f64::from(east))) });
        Chart { day, lines: lines.collect() }
    }

    /// Its day.
    #[must_use]
    pub const fn day(&self) -> Date {
        self.day
    }

    /// The lines, the westernmost first.
    #[must_use]
    pub fn lines(&self) -> &[Isogonic] {
        &self.lines
    }
}

/// How often the place is sought nearer where a line passes between two neighbours.
const NEARER: u8 = 5;

/// The declination at a place in degrees east; none where a compass must not be trusted.
fn declination(north: f64, east: f64, day: Date) -> Option<f64> {
    let field = field(Place::from_degrees(north, east).ok()?, day)?;
    (field.zone() != Zone::Blackout).then(|| field.declination().angle().degrees())
}

/// Declinations on a grid; none where a compass must not be trusted.
struct Grid {
    day: Date,
    columns: usize,
    rows: usize,
    values: Vec<Option<f64>>,
}

impl Grid {
    fn of(day: Date) -> Grid {
        let count = |span: f64| (0..).take_while(|at| f64::from(*at) * STEP <= span).count();
        let (columns, rows) = (count(360.0), count(TOP - FOOT));
        let at = |index: usize| u32::try_from(index).map_or(0.0, f64::from);
        let value = |row: usize, column: usize| {
            declination(FOOT + at(row) * STEP, (-180.0 + at(column) * STEP).min(180.0), day)
        };
        let values = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
        let values = values.map(|(row, column)| value(row, column)).collect();
        Grid { day, columns, rows, values }
    }

    fn value(&self, row: usize, column: usize) -> Option<f64> {
        self.values.get(row * self.columns + column).copied().flatten()
    }

    /// Where the declination passes this value between two places that lie on different sides of it: the field bends, so
    /// the model is asked again and again, each time nearer.
    fn passes(&self, wanted: f64, mut one: ((f64, f64), f64), mut other: ((f64, f64), f64)) -> (f64, f64) {
        let mut met = one.0;
        for _ in 0..NEARER {
            let part = (one.1 / (one.1 - other.1)).clamp(0.05, 0.95);
            met = (one.0.0 + part * (other.0.0 - one.0.0), one.0.1 + part * (other.0.1 - one.0.1));
            let Some(off) = declination(met.1, met.0, self.day).map(|there| there - wanted) else { break };
            if (off < 0.0) == (one.1 < 0.0) {
                one = (met, off);
            } else {
                other = (met, off);
            }
        }
        met
    }

    /// Short pieces of the line of this value: each crosses one cell from side to side.
    fn crossings(&self, wanted: f64) -> Vec<[(f64, f64); 2]> {
        let mut pieces = Vec::new();
        let at = |index: usize| u32::try_from(index).map_or(0.0, f64::from);
        for row in 0..self.rows.saturating_sub(1) {
            for column in 0..self.columns.saturating_sub(1) {
                let corner = |(up, right): (usize, usize)| {
                    let place = (-180.0 + at(column + right) * STEP, FOOT + at(row + up) * STEP);
                    Some((place, self.value(row + up, column + right)? - wanted))
                };
                let corners: Vec<((f64, f64), f64)> =
                    [(0, 0), (0, 1), (1, 1), (1, 0)].into_iter().filter_map(corner).collect();
                let [a, b, c, d] = corners[..] else { continue };
                let steep = [(a, b), (b, c), (c, d), (d, a)].iter().any(|(one, other)| (one.1 - other.1).abs() > STEEP);
                if steep {
                    continue;
                }
                let between = |one: ((f64, f64), f64), other: ((f64, f64), f64)| {
                    if (one.1 < 0.0) == (other.1 < 0.0) {
                        return None;
                    }
                    Some(self.passes(wanted, one, other))
                };
                let met: Vec<(f64, f64)> =
                    [between(a, b), between(b, c), between(c, d), between(d, a)].into_iter().flatten().collect();
                pieces.extend(met.chunks_exact(2).map(|pair| [pair[0], pair[1]]));
            }
        }
        pieces
    }
}

/// Pieces that share an end, joined to long ones.
fn joined(mut pieces: Vec<[(f64, f64); 2]>) -> Vec<Vec<(f64, f64)>> {
    let near = |one: (f64, f64), other: (f64, f64)| (one.0 - other.0).abs() + (one.1 - other.1).abs() < 1e-6;
    let mut lines = Vec::new();
    while let Some([from, to]) = pieces.pop() {
        let mut line = std::collections::VecDeque::from([from, to]);
        loop {
            let (front, back) = (line[0], line[line.len() - 1]);
            let next = pieces.iter().position(|[one, other]| {
                [(front, *one), (front, *other), (back, *one), (back, *other)].iter().any(|(a, b)| near(*a, *b))
            });
            let Some(next) = next else { break };
            let [one, other] = pieces.swap_remove(next);
            if near(back, one) {
                line.push_back(other);
            } else if near(back, other) {
                line.push_back(one);
            } else if near(front, one) {
                line.push_front(other);
            } else {
                line.push_front(one);
            }
        }
        lines.push(line.into());
    }
    lines
}
