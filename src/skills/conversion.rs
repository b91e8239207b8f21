//! The arithmetic that true ↔ magnetic (B2) and grid ↔ magnetic (B4) share: one bearing, one offset between the map's
//! north and the compass's, and the way from one to the other.

use super::common::{
    APPLIED_TWICE, CIRCLE, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, Tenths, answer, bearing, in_decimals, push_bearing,
    push_figures, push_sum, rounded, side_word, sum, tenths, unwrapped_answer, wrap, wrap_words,
};
use crate::angle::{Angle, North};
use crate::problem::Draw;
use crate::problem::{
    Answer, Arc, Field, FieldKind, Figure, HomeAngles, Level, LineRole, MixupId, MixupList, NorthLine, Paths, Question,
    SketchLine, Step, Value,
};

/// One conversion between the map's north and magnetic north.
#[derive(Clone, Copy, Debug)]
pub(super) struct Conversion {
    /// The map's north: true or grid.
    pub map: North,
    /// From the map to the compass, or back.
    pub to_compass: bool,
    /// The given bearing, 0 to 359.9.
    pub from: Tenths,
    /// Magnetic north from the map's north, east positive.
    pub offset: Tenths,
}

impl Conversion {
    /// Draws a bearing for an offset: round numbers and no wrap at level 1, no wrap at 2, mostly through north above.
    pub fn draw(level: Level, map: North, offset: Tenths, draw: &mut Draw) -> Conversion {
        let to_compass = draw.chance(1, 2);
        let step = if level == Level::ONE { 100 } else { 10 };
        let through_north = level >= Level::THREE && draw.chance(3, 5);
        // A bearing is drawn again until the sum does what the level asks; the range makes that quick.
        let mut conversion = Conversion { map, to_compass, from: 0, offset };
        for _ in 0..64 {
            conversion.from = if through_north && offset != 0 {
                let inside = draw.between(1, offset.abs() / 10) * 10;
                if conversion.change() > 0 { 3600 - inside } else { inside - 10 }
            } else {
                draw.between(0, 3590 / step) * step
            };
            // At level 1 the line is drawn beside both norths and must be told from them.
            let clear = level > Level::ONE || conversion.clear_of_both_norths();
            if conversion.wraps() == through_north && clear {
                break;
            }
        }
        conversion
    }

    /// What is added to the given bearing.
    pub const fn change(&self) -> Tenths {
        if self.to_compass { -self.offset } else { self.offset }
    }

    /// The north the answer counts from.
    pub const fn wanted(&self) -> North {
        if self.to_compass { North::Magnetic } else { self.map }
    }

    /// The north the given bearing counts from.
    pub const fn given(&self) -> North {
        if self.to_compass { self.map } else { North::Magnetic }
    }

    /// Whether the sum leaves the circle.
    pub const fn wraps(&self) -> bool {
        let off = self.from + self.change();
        wrap(off) != off
    }

    /// Whether the direction lies at least 10° from either north.
    const fn clear_of_both_norths(&self) -> bool {
        const fn clear(number: Tenths) -> bool {
            let number = wrap(number);
            number >= 100 && number <= CIRCLE - 100
        }
        clear(self.from) && clear(self.from + self.change())
    }

    /// The right answer.
    pub fn right(&self) -> Answer {
        answer(self.from + self.change())
    }

    /// The question's fields.
    pub const fn question(&self) -> Question {
        const fn field(north: North, label: &'static str) -> [Field; 1] {
            [Field { name: "bearing", label, kind: FieldKind::Bearing(north), tolerance: 0.5 }]
        }
        static MAGNETIC: [Field; 1] = field(North::Magnetic, "magnetic bearing");
        static TRUE: [Field; 1] = field(North::True, "true bearing");
        static GRID: [Field; 1] = field(North::Grid, "grid bearing");
        Question::Typed(match self.wanted() {
            North::Magnetic => &MAGNETIC,
            North::True => &TRUE,
            North::Grid => &GRID,
        })
    }

    /// The mix-ups that need nothing but the one offset.
    pub fn mixups(&self, list: &mut MixupList) {
        let (from, change) = (self.from, self.change());
        list.push(SIGN_FLIPPED.id, answer(from - change));
        list.push(NOT_APPLIED.id, answer(from));
        list.push(APPLIED_TWICE.id, answer(from + 2 * change));
        if self.wraps() {
            list.push(NOT_WRAPPED.id, unwrapped_answer(from + change));
        }
    }

    /// `from map (true) to compass (magnetic)`.
    const fn way(&self) -> &'static str {
        match (self.map, self.to_compass) {
            (North::Grid, true) => "from map (grid) to compass (magnetic)",
            (North::Grid, false) => "from compass (magnetic) to map (grid)",
            (_, true) => "from map (true) to compass (magnetic)",
            (_, false) => "from compass (magnetic) to map (true)",
        }
    }

    /// `From map (true) to compass (magnetic), west is added`.
    pub fn rule(&self) -> String {
        let verb = if self.change() < 0 { "is subtracted" } else { "is added" };
        let mut out = String::with_capacity(80);
        out.push('F');
        out.push_str(&self.way()[1..]);
        out.push_str(", ");
        out.push_str(side_word(self.offset));
        out.push(' ');
        out.push_str(verb);
        out
    }

    /// Adds the worked solution; how minutes become decimals only where that was not said before.
    pub fn push_steps(&self, decimals_said: bool, steps: &mut Vec<Step>) {
        let off = self.from + self.change();
        steps.push(Step::words(match (self.map, self.offset < 0) {
            (North::Grid, true) => {
                "Sketch it: magnetic north lies counterclockwise of grid north, so compass numbers are bigger"
            }
            (North::Grid, false) => {
                "Sketch it: magnetic north lies clockwise of grid north, so compass numbers are smaller"
            }
            (_, true) => "Sketch it: magnetic north lies counterclockwise of true north, so compass numbers are bigger",
            (_, false) => "Sketch it: magnetic north lies clockwise of true north, so compass numbers are smaller",
        }));
        if !decimals_said {
            steps.extend(in_decimals(&[self.offset]));
        }
        let mut line = String::with_capacity(24);
        push_sum(&mut line, self.from, self.change());
        steps.push(Step::new(self.rule(), line));
        if self.wraps() {
            let mut line = String::with_capacity(24);
            push_sum(&mut line, off, wrap(off) - off);
            steps.push(Step::new(wrap_words(off), line));
        }
        let mut line = String::with_capacity(10);
        push_bearing(&mut line, off, self.wanted());
        steps.push(Step::new("Write the letter of the north behind it", line));
    }

    /// The path of one of the mix-ups of [`Conversion::mixups`] beside the right one.
    pub fn paths(&self, mixup: MixupId) -> Paths {
        let (from, change) = (self.from, self.change());
        let yours = match mixup {
            id if id == SIGN_FLIPPED.id => sum(from, -change),
            id if id == APPLIED_TWICE.id => {
                let mut line = sum(from, change);
                line.push_str(", then again: ");
                line.push_str(&sum(wrap(from + change), change));
                line
            }
            id if id == NOT_WRAPPED.id => {
                let mut line = String::with_capacity(24);
                push_sum(&mut line, from, change);
                line
            }
            id if id == NOT_APPLIED.id => {
                let mut line = String::with_capacity(24);
                push_figures(&mut line, from);
                line.push_str(", unchanged");
                line
            }
            _ => bearing(from, self.given()),
        };
        let mut right = self.rule();
        right.push_str(": ");
        right.push_str(&sum(from, change));
        Paths { yours, right }
    }

    /// Where magnetic north is drawn, clockwise of the map's north in degrees: enlarged where it is close.
    fn shown(&self) -> f64 {
        f64::from(self.offset.signum() * (self.offset.abs()).clamp(150, 300)) / 10.0
    }

    /// Where a direction is drawn that lies so far clockwise of the map's north, 0 to 360 in degrees. With magnetic north
    /// moved to its drawn place what lies close to the two norths moves along, so that every line stays on its side of both.
    fn drawn(&self, at: f64) -> Angle {
        let (truth, shown) = (f64::from(self.offset.abs()) / 10.0, self.shown().abs());
        // As seen toward magnetic north from the map's north; beyond twice the angle nothing is moved.
        let west = self.offset < 0;
        let along = if west { (360.0 - at) % 360.0 } else { at };
        let reach = (2.0 * truth.max(shown)).min(360.0);
        let moved = match along {
            _ if truth == 0.0 || along >= reach => along,
            _ if along <= truth => along * shown / truth,
            _ => shown + (along - truth) * (reach - shown) / (reach - truth),
        };
        Angle::from_degrees(if west { -moved } else { moved }).wrapped()
    }

    /// The sketch: both norths (their angle enlarged where it is small), the direction, and an arc from each north.
    pub fn sketch(&self, given: Option<&Answer>) -> Figure {
        let map_number = if self.to_compass { self.from } else { wrap(self.from + self.change()) };
        let label = |tenths: Tenths, north: North| bearing(tenths, north);
        let mut lines = vec![SketchLine {
            role: LineRole::Given,
            at: self.drawn(f64::from(map_number) / 10.0),
            label: label(self.from, self.given()),
            arc: Some(Arc::bearing(self.given(), label(self.from, self.given()))),
        }];
        if let Some(given) = given {
            let right = wrap(self.from + self.change());
            lines[0].arc = Some(Arc::bearing(self.wanted(), label(right, self.wanted())));
            if let [Value::Angle(typed)] = given.values() {
                let base = if self.wanted() == North::Magnetic { self.offset } else { 0 };
                lines.push(SketchLine {
                    role: LineRole::Learner,
                    at: self.drawn((f64::from(base) / 10.0 + typed.degrees()).rem_euclid(360.0)),
                    label: "you".to_owned(),
                    arc: None,
                });
            }
        }
        let norths = vec![
            NorthLine { north: self.map, at: Angle::ZERO },
            NorthLine { north: North::Magnetic, at: Angle::from_degrees(self.shown()) },
        ];
        Figure::Sketch { norths, lines }
    }

    /// The offset for a level: from home ground where given, else from the whole inhabited range, east and west alike.
    pub fn draw_offset(level: Level, home: Option<Tenths>, draw: &mut Draw) -> Tenths {
        match home {
            Some(offset) => rounded(offset, step_at(level)),
            None => {
                let size = match level.number() {
                    1 => draw.between(2, 20) * 10,
                    2 => draw.between(3, 28) * 10,
                    _ => draw.between(4, 56) * 5,
                };
                size * draw.sign()
            }
        }
    }
}

/// To how many tenths the angles of home ground are rounded: half degrees come at level 3.
pub(super) fn step_at(level: Level) -> Tenths {
    if level >= Level::THREE { 5 } else { 10 }
}

/// The home declination in tenths.
pub(super) fn home_declination(home: Option<HomeAngles>) -> Option<Tenths> {
    home.map(|home| tenths(home.declination().angle()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_line_between_the_two_norths_is_drawn_between_them() {
        // B2-1-258 and the like: 2 E is drawn as 15 E, and 010 T, which is 008 M, has to stay clockwise of MN.
        let conversion = |offset, from| Conversion { map: North::True, to_compass: true, from, offset };
        assert!(conversion(20, 100).drawn(10.0).degrees() > 15.0);
        assert_eq!(conversion(20, 100).drawn(1.0).degrees(), 7.5);
        assert_eq!(conversion(-20, 3590).drawn(359.0).degrees(), 352.5);
        assert_eq!(conversion(-20, 3590).drawn(90.0).degrees(), 90.0);
    }

    proptest! {
        #[test]
        fn every_line_stays_on_its_side_of_both_norths(offset in -590_i32..=590, size in 1_i32..1200, clockwise: bool) {
            // A line that lies so far from magnetic north; farther out, and beyond 60° of declination, sides mean little.
            let beside = if clockwise { size } else { -size };
            let at = wrap(offset + beside);
            let conversion = Conversion { map: North::True, to_compass: true, from: at, offset };
            let drawn = conversion.drawn(f64::from(at) / 10.0).degrees();
            let side = |degrees: f64| Angle::from_degrees(degrees).wrapped_half().degrees();
            prop_assert!(side(drawn - conversion.shown()) * f64::from(beside) > 0.0);
            let from_map = side(f64::from(at) / 10.0);
            if at != 0 && from_map.abs() < 120.0 {
                prop_assert!(side(drawn) * from_map > 0.0);
            }
        }

        #[test]
        fn the_right_answer_is_drawn_on_the_given_line(offset in -300..=300, from in 0..3600, to_compass: bool) {
            let conversion = Conversion { map: North::Grid, to_compass, from, offset };
            let Figure::Sketch { lines, .. } = conversion.sketch(Some(&conversion.right())) else { panic!("a sketch") };
            prop_assert!((lines[0].at - lines[1].at).wrapped_half().degrees().abs() < 1e-6);
        }
    }
}
