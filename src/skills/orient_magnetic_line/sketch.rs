//! The sketch beside the question or the verdict.

use super::{Asked, OrientMagneticLineItem};
use crate::angle::{Angle, North};
use crate::numbers;
use crate::problem::{Answer, Arc, Figure, LineRole, NorthLine, Ray, SketchLine, Value};
use crate::skills::common::{InTenths, Tenths, angle, size};

impl OrientMagneticLineItem {
    /// True north straight up and the needle; for a dated map also the line of then, with the difference at its arc.
    pub(super) fn sketch(&self, given: Option<&Answer>) -> Figure {
        let printed = if let Asked::Off { printed, .. } = self.asked { printed } else { self.declination };
        let (needle, line) = spread(self.declination.in_tenths(), printed.in_tenths());
        let norths =
            vec![NorthLine { north: North::True, at: Angle::ZERO }, NorthLine { north: North::Magnetic, at: needle }];
        let (mut lines, mut arcs) = (Vec::with_capacity(2), Vec::new());
        if let Asked::Off { printed, year, .. } = self.asked {
            let label = format!("line of {}", year.unsigned_abs());
            let off = format!("{}°", size(self.off(printed)));
            lines.push(SketchLine { role: LineRole::Given, at: line, label });
            if given.is_some() {
                arcs.push(Arc::difference(North::Magnetic, Ray::Line(LineRole::Given), off));
            }
        } else {
            lines.push(SketchLine { role: LineRole::Given, at: needle, label: "the line".to_owned() });
        }
        if let (Asked::Dial(arrow), Some([Value::Angle(typed)])) = (&self.asked, given.map(Answer::values)) {
            // Drawn on the scale of the drawing, where the declination is wider than it is.
            let declination = self.declination.angle().degrees();
            let off = (*typed - angle(arrow.turn())).wrapped_half();
            let near = declination != 0.0 && off.abs().degrees() <= 2.0 * declination.abs();
            let wide = if near { off * (needle.degrees() / declination) } else { off };
            let at = (wide + needle).wrapped();
            lines.push(SketchLine { role: LineRole::Learner, at, label: "you".to_owned() });
        }
        Figure::Sketch { norths, lines, arcs }
    }
}

/// Where the needle and the line of then are drawn: in their right order with true north, straight up, and no two so
/// close that they cannot be told apart.
fn spread(declination: Tenths, printed: Tenths) -> (Angle, Angle) {
    let mut ordered = [0, declination, printed];
    numbers::arrange(&mut ordered, Ord::cmp);
    let place = |wanted: Tenths| {
        let mut at = 0;
        for pair in ordered.windows(2).filter(|pair| pair[0] >= wanted.min(0) && pair[1] <= wanted.max(0)) {
            at += match pair[1] - pair[0] {
                0 => 0,
                gap => (gap * 3 / 2).clamp(100, 300),
            };
        }
        angle(at * wanted.signum())
    };
    (place(declination), place(printed))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sketch_keeps_the_order_and_shows_small_differences() {
        let degrees = |declination, printed| {
            let (needle, line) = spread(declination, printed);
            (needle.degrees(), line.degrees())
        };
        assert_eq!(degrees(280, 265), (40.0, 30.0));
        assert_eq!(degrees(-280, -265), (-40.0, -30.0));
        assert_eq!(degrees(10, -15), (10.0, -10.0));
        assert_eq!(degrees(-40, -90), (-10.0, -20.0));
    }
}
