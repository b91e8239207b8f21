//! Marked places P, Q and V on an invented map, and what the two skills that measure between them share.

use super::super::common::{InTenths, Tenths, angle, bearing_of, wrap};
use super::{Angles, Lie, Sheet, apart, exercise, marks_and_lines};
use crate::angle::{Bearing, Declination, True};
use crate::maptable::{Exercise, Leg, LineName, Task, showing};
use crate::problem::{Draw, MarkedPlace, Step, TableProblem};
use crate::terrain::Map;
use std::fmt::{self, Display};

/// The letters of the marked places.
/// No S: that stands on the dial.
const LETTERS: [char; 3] = ['P', 'Q', 'V'];
/// How far apart marked places lie, in mm on paper.
const APART_MM: std::ops::RangeInclusive<f64> = 22.0..=66.0;
/// How far the direction of a leg must be from each north line, either way, so that an edge can tell them apart.
const CLEAR: Tenths = 100;
/// How far edge and dial must be at the beginning from where right work brings them first, either way.
const BEGINS_APART: Tenths = 200;

/// A map with marked places on the table.
pub(in crate::skills) struct Places {
    /// The map.
    pub map: Map,
    /// What it carries.
    pub sheet: Sheet,
    /// The places.
    pub marks: Vec<MarkedPlace>,
    /// The legs between them, in the order in which they are asked.
    pub legs: Vec<Leg>,
    /// Their directions from the map's true north.
    pub toward: Vec<Bearing<True>>,
    /// How the map lies: the azimuth of its true north.
    pub lies: Bearing<True>,
    /// The azimuth of the travel arrow at first.
    pub arrow: Bearing<True>,
    /// The number on the dial at first.
    pub dial: Tenths,
    /// The azimuth that points up in the picture.
    pub up: Bearing<True>,
}

impl Places {
    /// Draws a map with `legs` legs, one to three: P to Q, Q to V, V to P.
    pub fn draw(sheet: Sheet, legs: usize, lies: Bearing<True>, draw: &mut Draw) -> Places {
        let map = sheet.map();
        let marks = marked(&map, &sheet, legs, draw);
        let legs: Vec<Leg> = (0..legs)
            .filter_map(|at| Leg::new(LETTERS[at % LETTERS.len()], LETTERS[(at + 1) % LETTERS.len()]))
            .collect();
        let lines = marks_and_lines(&map, &[], &marks, &legs);
        let toward: Vec<Bearing<True>> =
            legs.iter().map(|leg| lines.toward(LineName::Leg(*leg)).unwrap_or(bearing_of(0))).collect();
        let arrow = bearing_of(draw.between(0, 359) * 10);
        // Nothing begins as it should end: an edge that lies nearly along the first leg, either way, is turned away from it.
        let first = toward.first().map_or(lies, |toward| lies.turned(toward.angle()));
        let nearly = !apart(arrow, first, BEGINS_APART) || !apart(arrow, first.back(), BEGINS_APART);
        let arrow = if nearly { arrow.turned(angle(600)) } else { arrow };
        Places {
            map,
            sheet,
            marks,
            legs,
            toward,
            lies,
            arrow,
            dial: draw.between(0, 359) * 10,
            up: bearing_of(draw.between(0, 359) * 10),
        }
    }

    /// Turns the dial away from the number that right work ends with, and from its opposite, where it begins near one of
    /// them.
    pub fn begin_away_from(&mut self, right: Tenths) {
        let nearly = |number: Tenths| !apart(self.dial, number, BEGINS_APART);
        if nearly(right) || nearly(right + 1800) {
            self.dial = wrap(self.dial + 600);
        }
    }

    /// `P is Hollow Oak, Q is Fern Tower.`
    pub fn names_words(&self) -> impl Display {
        fmt::from_fn(move |out| {
            for (at, mark) in self.marks.iter().enumerate() {
                let comma = if at == 0 { "" } else { ", " };
                let name = self.map.landmarks().get(mark.landmark).map_or("a mark", |landmark| landmark.name.as_str());
                write!(out, "{comma}{} is {name}", mark.letter)?;
            }
            out.write_str(". ")
        })
    }

    /// The direction of the first leg from the map's true north.
    pub fn first_toward(&self) -> Bearing<True> {
        self.toward.first().copied().unwrap_or(bearing_of(0))
    }

    /// The exercise on this map.
    pub fn exercise(&self, task: Task, declination: Declination, iron: Tenths) -> Exercise {
        let lines = marks_and_lines(&self.map, &self.sheet.directions(), &self.marks, &self.legs);
        let Sheet { printed, convergence, .. } = self.sheet;
        let lie = Lie { map: Some(self.lies), arrow: self.arrow, dial: self.dial };
        exercise(task, lie, Angles { declination, printed, convergence, iron }, lines)
    }

    /// The same as it lies on the table.
    pub fn table(&self, exercise: Exercise) -> TableProblem {
        TableProblem::on_map(exercise, self.map.clone(), self.marks.clone(), self.up.angle())
    }
}

/// The steps of the showing from the start; "Done." at the end is left to the caller's last step.
pub(in crate::skills) fn shown_steps(exercise: &Exercise) -> Vec<Step> {
    let mut shown = showing(exercise, &exercise.start);
    shown.pop();
    shown.into_iter().map(|step| Step::words(without_full_stop(step.words))).collect()
}

/// Steps of all skills end without one.
fn without_full_stop(mut words: String) -> String {
    words.truncate(words.trim_end_matches('.').len());
    words
}

/// Places far enough apart whose legs run clear of the norths' lines; should a map have none, the best that it has.
fn marked(map: &Map, sheet: &Sheet, legs: usize, draw: &mut Draw) -> Vec<MarkedPlace> {
    let wanted = if legs == 1 { 2 } else { 3 };
    let core: Vec<usize> =
        map.landmarks().iter().enumerate().filter(|(_, landmark)| landmark.core).map(|(at, _)| at).collect();
    let mut best: (i32, Vec<usize>) = (i32::MIN, Vec::new());
    for _ in 0..24 {
        let mut chosen = core.clone();
        draw.shuffle(&mut chosen);
        chosen.truncate(wanted);
        if chosen.len() < wanted {
            break;
        }
        let pairs = if wanted == 2 { vec![(0, 1)] } else { vec![(0, 1), (1, 2), (2, 0)] };
        let faults: i32 = pairs
            .into_iter()
            .map(|(from, to)| {
                let spot = |at: usize| map.landmarks()[chosen[at]].spot;
                let far = APART_MM.contains(&spot(from).distance_mm(spot(to)));
                let toward = map.true_bearing(spot(from), spot(to)).map_or(0, |bearing| bearing.in_tenths());
                let clear = sheet.directions().into_iter().all(|(_, line)| {
                    let off = wrap(toward - line.in_tenths() + 900) % 1800 - 900;
                    off.abs() > CLEAR
                });
                i32::from(!far) + i32::from(!clear)
            })
            .sum();
        if -faults > best.0 {
            best = (-faults, chosen);
        }
        if faults == 0 {
            break;
        }
    }
    LETTERS.iter().zip(best.1).map(|(letter, landmark)| MarkedPlace { letter: *letter, landmark }).collect()
}
