//! The scale of a drawn dial, which reading (A5) and setting (A6) share: its numbers, its ticks, and how both go wrong.

use super::common::{CIRCLE, Tenths, angle, figures, size, wrap};
use crate::angle::Angle;
use crate::problem::{
    DialFigure, Draw, Field, FieldKind, FigurePart, Level, MixupClass, MixupId, MixupMeta, Step, Tolerance,
};
use std::fmt::{self, Display, Write};

/// Counted from the right printed number, but to its other side: `2L − R`, where `L` is the nearest printed number below.
pub(super) const COUNTED_WRONG_WAY: MixupMeta = MixupMeta {
    id: MixupId("counted-wrong-way"),
    class: MixupClass::Scale,
    said: "counted the ticks to the wrong side of the printed number",
    mend: "The numbers grow clockwise round the dial: look at the next number before you count.",
};

/// Ticks of `s` degrees taken for `s'`: who reads so says `L + (R − L) × s' / s`; who sets so stops at
/// `L + (R − L) × s / s'`.
pub(super) const WRONG_TICK_VALUE: MixupMeta = MixupMeta {
    id: MixupId("wrong-tick-value"),
    class: MixupClass::Scale,
    said: "took a tick for another number of degrees",
    mend: "Divide the step between two printed numbers by the spaces between them.",
};

/// Stopped at a printed number beside the index line, the one below or the one above.
pub(super) const STOPPED_AT_NUMBER: MixupMeta = MixupMeta {
    id: MixupId("stopped-at-number"),
    class: MixupClass::Forgotten,
    said: "stopped at a printed number and left out the ticks",
    mend: "A printed number is only where counting begins: go on by ticks to the place itself.",
};

/// Each tick taken for one degree, whatever it is worth: `L + n` for the n-th tick past `L`.
pub(super) const ONE_DEGREE_A_TICK: MixupMeta = MixupMeta {
    id: MixupId("one-degree-a-tick"),
    class: MixupClass::Scale,
    said: "counted each tick as one degree",
    mend: "Divide the step between two printed numbers by the spaces between them: that is one tick.",
};

/// How a dial is printed. All values are in tenths of a degree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Scale {
    /// From one printed number to the next.
    pub numbered: Tenths,
    /// From one tick to the next.
    pub graduation: Tenths,
    /// What somebody takes a tick for who has its value wrong.
    pub believed: Tenths,
}

impl Scale {
    /// A scale with ticks of 10°, 5° or 2° and a number every 20° or 30°.
    pub fn draw(graduation: Tenths, draw: &mut Draw) -> Scale {
        let numbered = draw.pick(&[200, 300]);
        let believed = match graduation {
            20 => draw.pick(&[50, 100]),
            50 => draw.pick(&[20, 100]),
            _ => draw.pick(&[20, 50]),
        };
        Scale { numbered, graduation, believed }
    }

    /// Ticks at a level: as coarse as the level allows.
    pub fn graduation_at(level: Level, draw: &mut Draw) -> Tenths {
        match level.number() {
            1 => 100,
            2 => 50,
            3 => 20,
            _ => draw.pick(&[20, 50]),
        }
    }

    /// Half a graduation, at least one degree. A little less on the coarser scales: there a number halfway between two ticks
    /// would be right whichever of them stands at the index line, and the tick beside a printed number could not be told
    /// from the number.
    pub const fn tolerance(graduation: Tenths) -> Tenths {
        match graduation {
            100 => 40,
            50 => 24,
            ..=20 => 10,
            _ => graduation / 2,
        }
    }

    /// The printed number from which one counts: the nearest below, or the number itself.
    pub const fn printed(&self, number: Tenths) -> Tenths {
        number / self.numbered * self.numbered
    }

    /// What comes out for somebody who counts to the wrong side; none where no tick is to be counted.
    pub const fn counted_wrong_way(&self, number: Tenths) -> Option<Tenths> {
        let printed = self.printed(number);
        if printed == number { None } else { Some(2 * printed - number) }
    }

    /// What somebody reads who has the ticks' value wrong; none where that is too near to tell.
    pub const fn misread(&self, number: Tenths) -> Option<Tenths> {
        let count = number - self.printed(number);
        self.far_from(number, count * self.believed / self.graduation)
    }

    /// What somebody reads who takes each tick for one degree; none where that is too near to tell from the reading or
    /// from the printed number.
    pub const fn read_by_single_degrees(&self, number: Tenths) -> Option<Tenths> {
        let count = number - self.printed(number);
        if self.graduation == 10 { None } else { self.far_from(number, count * 10 / self.graduation) }
    }

    /// The printed numbers, below and above, at which somebody stops; none where that is too near to tell. In reading the
    /// one below is told only where ticks counted as single degrees end elsewhere.
    pub const fn stopped_at(&self, number: Tenths) -> [Option<Tenths>; 2] {
        let printed = self.printed(number);
        if printed == number {
            return [None, None];
        }
        [self.apart(number, printed), self.apart(number, printed + self.numbered)]
    }

    /// Where somebody sets this number who has the ticks' value wrong; none where that is too near to tell.
    pub const fn misset(&self, number: Tenths) -> Option<Tenths> {
        let count = number - self.printed(number);
        self.far_from(number, count * self.graduation / self.believed)
    }

    /// The printed number and this count, where the tolerance can tell it from the number and from the printed ones beside it.
    const fn far_from(&self, number: Tenths, count: Tenths) -> Option<Tenths> {
        let printed = self.printed(number);
        let other = printed + count;
        let alone = self.apart(other, printed).is_some() && self.apart(other, printed + self.numbered).is_some();
        if alone { self.apart(number, other) } else { None }
    }

    /// The other number, where the tolerance can tell it from the first.
    const fn apart(&self, number: Tenths, other: Tenths) -> Option<Tenths> {
        if (other - number).abs() > 2 * Scale::tolerance(self.graduation) { Some(other) } else { None }
    }

    /// The number at the index line, right within so many degrees.
    pub const fn field(degrees: f64) -> Field {
        let tolerance = Tolerance::within(degrees);
        Field { name: "reading", label: "number at the index line", kind: FieldKind::Dial, tolerance }
    }

    /// The answer field for a number read or set on this scale.
    pub const fn fields(&self) -> &'static [Field] {
        static TENS: [Field; 1] = [Scale::field(4.0)];
        static FIVES: [Field; 1] = [Scale::field(2.4)];
        static TWOS: [Field; 1] = [Scale::field(1.0)];
        match Scale::tolerance(self.graduation) {
            40 => &TENS,
            24 => &FIVES,
            _ => &TWOS,
        }
    }

    /// The dial with this number at the index line.
    pub fn figure(&self, reading: Tenths, index: Angle, needle: Option<Angle>) -> DialFigure {
        DialFigure {
            reading: angle(wrap(reading)),
            graduation: angle(self.graduation),
            numbered: angle(self.numbered),
            index,
            needle,
            inner_scale: false,
            strip: true,
            learner: None,
        }
    }

    /// The value of one tick, and counting from the printed number: the last two steps to any number.
    pub fn count_steps(&self, number: Tenths, steps: &mut Vec<Step>) {
        let printed = self.printed(number);
        if printed == number {
            let line = figures(number);
            let step = Step::new("It is a printed number, so there is nothing to count", line);
            steps.push(step.about(FigurePart::Index).answers());
            return;
        }
        let line = format_args!(
            "{} / {} = {}",
            size(self.numbered),
            size(self.numbered / self.graduation * 10),
            size(self.graduation)
        );
        steps.push(Step::new("One tick is the step between two numbers, divided by the spaces", line));
        let mut words = String::with_capacity(80);
        let mut line = String::with_capacity(28);
        let _ = write!(words, "Count from {}, upward and clockwise", figures(printed));
        if (number - printed) % self.graduation != 0 {
            let _ = write!(words, "{}", self.between_ticks_words(number - printed));
        }
        let _ = write!(line, "{}", self.count_words(printed, number - printed));
        steps.push(Step::new(words, line).about(FigurePart::Index).answers());
    }

    /// Appends `, 3 ticks of 2 and half a tick more`: an odd number of degrees on a scale of 2°.
    fn between_ticks_words(&self, count: Tenths) -> impl Display {
        fmt::from_fn(move |out| {
            match count / self.graduation {
                0 => out.write_str(", half a tick")?,
                ticks => {
                    write!(
                        out,
                        ", {}{}{} and half a tick more",
                        ticks.unsigned_abs(),
                        if ticks == 1 { " tick of " } else { " ticks of " },
                        size(self.graduation)
                    )?;
                }
            }
            Ok(())
        })
    }

    /// Appends `040 + 3 × 2 = 046`, and between two ticks `040 + 3 × 2 + 1 = 047`.
    pub fn count_words(&self, printed: Tenths, count: Tenths) -> impl Display {
        fmt::from_fn(move |out| {
            let sign = if count < 0 { " − " } else { " + " };
            let (ticks, rest) = (count / self.graduation, count % self.graduation);
            write!(out, "{}", figures(printed))?;
            if ticks != 0 {
                write!(out, "{sign}{} × {}", ticks.unsigned_abs(), size(self.graduation))?;
            }
            if rest != 0 {
                write!(out, "{sign}{}", size(rest))?;
            }
            write!(out, " = {}", figures(printed + count))
        })
    }

    /// The way of somebody who counts to the wrong side.
    pub fn way_counted_wrong(&self, number: Tenths) -> String {
        let printed = self.printed(number);
        let count = printed - number;
        // North is 000 when counting up from it and 360 when counting down.
        let from = match printed % CIRCLE {
            0 if count < 0 => CIRCLE,
            from => from,
        };
        self.count_words(from, count).to_string()
    }

    /// The way of somebody who reads with the ticks' value wrong.
    pub fn way_misread(&self, number: Tenths) -> String {
        let believed = Scale { graduation: self.believed, ..*self };
        let printed = self.printed(number);
        believed.count_words(printed, (number - printed) * self.believed / self.graduation).to_string()
    }

    /// The way of somebody who stops at this printed number.
    pub fn way_stopped(at: Tenths) -> String {
        format!("the printed number {}", figures(wrap(at)))
    }

    /// The way of somebody who takes each tick for one degree.
    pub fn way_by_single_degrees(&self, number: Tenths) -> String {
        Scale { believed: 10, ..*self }.way_misread(number)
    }

    /// The way of somebody who sets with the ticks' value wrong: `6 / 5 = 1.2 ticks past 100: 100 + 1.2 × 2 = 102.4`.
    pub fn way_misset(&self, number: Tenths) -> String {
        let printed = self.printed(number);
        let count = number - printed;
        let ticks = count * 10 / self.believed;
        format!(
            "{} / {} = {}{}{}: {} + {} × {} = {}",
            size(count),
            size(self.believed),
            size(ticks),
            if ticks == 10 { " tick past " } else { " ticks past " },
            figures(printed),
            figures(printed),
            size(ticks),
            size(self.graduation),
            figures(printed + count * self.graduation / self.believed)
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_number_is_counted_from_the_nearest_printed_one_below() {
        let scale = Scale { numbered: 200, graduation: 20, believed: 10 };
        for (number, printed) in [(1370, 1200), (1290, 1200), (1300, 1200), (1400, 1400), (3580, 3400), (20, 0)] {
            assert_eq!(scale.printed(number), printed, "{number}");
        }
    }

    #[test]
    fn mixups_of_the_scale_follow_their_formulas() {
        // 2L − R, and L + (R − L) × s' / s, as in the skill map; 46 on a scale of 2° ticks counts from 40.
        let scale = Scale { numbered: 200, graduation: 20, believed: 50 };
        assert_eq!(scale.counted_wrong_way(460), Some(340));
        assert_eq!(scale.misread(460), Some(550));
        assert_eq!(scale.counted_wrong_way(600), None, "on a number there is nothing to count");
        // One tick of 2° taken for 1° is one degree off: nearer than the tolerance can tell.
        assert_eq!(Scale { believed: 10, ..scale }.misread(420), None);
    }

    #[test]
    fn who_sets_by_ticks_taken_for_too_much_stops_short_and_by_ticks_taken_for_too_little_goes_too_far() {
        // 106 with ticks of 2° taken for 5°: 6/5 of a tick past 100, and that is 2.4°. Taken for 1°: six ticks, 12°.
        let scale = Scale { numbered: 200, graduation: 20, believed: 50 };
        assert_eq!(scale.misset(1060), Some(1024));
        assert_eq!(Scale { believed: 10, ..scale }.misset(1060), Some(1120));
        assert_eq!(scale.way_misset(1060), "6 / 5 = 1.2 ticks past 100: 100 + 1.2 × 2 = 102.4");
    }

    #[test]
    fn an_odd_degree_on_a_scale_of_two_is_half_a_tick_more() {
        let scale = Scale { numbered: 200, graduation: 20, believed: 10 };
        let last = |number| {
            let mut steps = Vec::new();
            scale.count_steps(number, &mut steps);
            steps.pop().map(|step| step.line())
        };
        let line = "Count from 100, upward and clockwise, 3 ticks of 2 and half a tick more: 100 + 3 × 2 + 1 = 107";
        assert_eq!(last(1070).as_deref(), Some(line));
        assert_eq!(last(1010).as_deref(), Some("Count from 100, upward and clockwise, half a tick: 100 + 1 = 101"));
    }

    #[test]
    fn counting_through_north_prints_numbers_of_the_dial() {
        let scale = Scale { numbered: 200, graduation: 20, believed: 10 };
        assert_eq!(scale.way_counted_wrong(40), "360 − 2 × 2 = 356");
        assert_eq!(scale.way_counted_wrong(3580), "340 − 9 × 2 = 322");
    }

    proptest! {
        #[test]
        fn the_printed_number_is_less_than_a_step_below(number in 0..3600, numbered in prop::sample::select(vec![200, 300])) {
            let scale = Scale { numbered, graduation: 50, believed: 10 };
            let printed = scale.printed(number);
            prop_assert_eq!(printed % numbered, 0);
            prop_assert!((0..numbered).contains(&(number - printed)));
        }
    }
}
