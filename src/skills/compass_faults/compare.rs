//! Numbers that are held against each other: what a compass shows beside what it should, and four readings of one mark.

use super::super::amounts::{ORIGIN, line, place, step_to};
use super::super::common::{InTenths, Tenths, angle, figures, wrap};
use super::{CompassFaultsItem, LIMIT_DEG, Task, VERDICTS};
use crate::angle::{Angle, Bearing, Declination, Magnetic, North, True};
use crate::numbers;
use crate::problem::{Answer, Figure, LineRole, PlanFigure, PlanKind, PlanLine, Value};

/// What the compass shows along a line, if it is so many degrees off.
pub(super) fn shown_of(line: Bearing<True>, declination: Declination, off: i32) -> Tenths {
    let magnetic: Bearing<Magnetic> = line.to(declination);
    wrap(magnetic.in_tenths() + off * 10)
}

pub(super) const fn verdict(off: i32) -> &'static str {
    VERDICTS[(off.abs() > LIMIT_DEG) as usize]
}

/// So many tenths off, and what follows from that number.
pub(super) fn known(off: Tenths) -> Answer {
    Answer::two(Value::Angle(angle(off)), Value::Choice(usize::from(off > LIMIT_DEG * 10)))
}

pub(super) fn four(odd: usize, bearing: Tenths) -> Answer {
    Answer::two(Value::Choice(odd), Value::Angle(angle(wrap(bearing))))
}

/// How much too much the compass shows, −179 to 180 degrees.
pub(super) fn error(line: Bearing<Magnetic>, shown: Tenths) -> Tenths {
    let off = angle(shown - line.in_tenths()).wrapped_half().tenths();
    if off == -1800 { 1800 } else { off }
}

/// The change that undoes an error: half a circle is added or taken off, whichever stays on the dial.
pub(super) const fn undone(mark: Tenths, off: Tenths) -> Tenths {
    if off == 1800 && mark < 1800 { 1800 } else { -off }
}

/// The readings beside the first, so that none of them crosses north.
fn beside(readings: [Tenths; 4]) -> [Tenths; 4] {
    readings.map(|reading| angle(reading - readings[0]).wrapped_half().tenths())
}

/// Those that are left without one in their order, clockwise: 359 comes before 001.
pub(super) fn in_order(readings: [Tenths; 4], without: usize) -> Vec<Tenths> {
    let beside = beside(readings);
    let mut left: Vec<Tenths> = (0..4).filter(|at| *at != without).map(|at| beside[at]).collect();
    numbers::arrange(&mut left, Ord::cmp);
    left.into_iter().map(|beside| wrap(readings[0] + beside)).collect()
}

/// The middle one of them.
pub(super) fn middle(readings: [Tenths; 4], without: usize) -> Tenths {
    in_order(readings, without)[1]
}

/// The mean of all, in whole degrees.
pub(super) fn mean(readings: [Tenths; 4]) -> Tenths {
    let tenths: Tenths = beside(readings).iter().sum();
    let degrees = (tenths + 20).div_euclid(40);
    wrap(readings[0] + degrees * 10)
}

/// Of those that agree, the one at the other end from the odd one.
pub(super) fn other_end(readings: [Tenths; 4], odd: usize) -> usize {
    let beside = beside(readings);
    let others = (0..4).filter(|at| *at != odd);
    others.max_by_key(|at| (beside[*at] - beside[odd]).abs()).unwrap_or(0)
}

impl CompassFaultsItem {
    /// Lines of sight from one point, where numbers are compared.
    pub(super) fn rays(&self) -> Figure {
        let ray = |toward: Tenths, kind: PlanKind, label: String| {
            line(kind, vec![ORIGIN, step_to(ORIGIN, angle(toward), 100.0)], label)
        };
        let (known, should) = (PlanKind::Way(LineRole::Right), "should");
        let (lines, words) = match self.task {
            Task::Four { readings, names, odd } => {
                let rays = (0..4).map(|at| {
                    let kind = if at == odd { PlanKind::Thought } else { known };
                    ray(readings[at], kind, if at == odd { names[at].to_owned() } else { String::new() })
                });
                (
                    rays.collect(),
                    format!("Four lines to one tower: three close together, that of {} aside.", names[odd]),
                )
            }
            Task::Known { line, declination, off } => {
                let magnetic: Bearing<Magnetic> = line.to(declination);
                let shown = shown_of(line, declination, off);
                pair(ray, magnetic.in_tenths(), shown, should)
            }
            Task::Reading { line, shown, .. } => pair(ray, line.in_tenths(), shown, should),
            Task::Name(_) | Task::Iron { .. } => return Figure::None,
        };
        let places = vec![place(ORIGIN, "you")];
        Figure::Plan(PlanFigure { north: Some(North::Magnetic), needle: None, lines, places, words, says_more: false })
    }
}

/// What a compass should show along a line, and what it shows.
fn pair(
    ray: impl Fn(Tenths, PlanKind, String) -> PlanLine,
    right: Tenths,
    shown: Tenths,
    should: &str,
) -> (Vec<PlanLine>, String) {
    let lines = vec![
        ray(right, PlanKind::Way(LineRole::Right), format!("{should} {}", figures(right))),
        ray(shown, PlanKind::Thought, format!("shows {}", figures(shown))),
    ];
    let off: Angle = angle(shown - right).wrapped_half();
    let way = crate::angle::sense(off);
    let words = format!(
        "Along the line the compass should show {} and shows {}, which is {way} of it.",
        figures(right),
        figures(shown)
    );
    (lines, words)
}
