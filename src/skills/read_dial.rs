//! A5, reading a dial: the number under the index line, whatever else the compass shows.

mod words;

use super::common::{CIRCLE, Tenths, WRONG_END, angle, answer, tenths, wrap};
use super::dial_scale::{COUNTED_WRONG_WAY, ONE_DEGREE_A_TICK, STOPPED_AT_NUMBER, Scale, WRONG_TICK_VALUE};
use crate::angle::Angle;
use crate::problem::{
    Answer, Choices, DialFigure, Draw, Fact, Facts, Family, Field, FieldKind, Figure, Generator, HomeAngles, Level,
    MixupClass, MixupId, MixupList, MixupMeta, NorthLines, Question, SkillMeta, Step, Tolerance, Value, Wanted,
};

/// The skill `read-dial`.
pub(super) struct ReadDial;

/// The numbers of one problem.
pub(super) struct ReadDialItem {
    scale: Scale,
    /// The number at the index line, 0 to 359.9, on a tick.
    reading: Tenths,
    /// The dial number at the needle's north end, 0 to 359.9; 0 when the needle is boxed.
    at_needle: Tenths,
    view: View,
}

/// What makes a level 4 problem harder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum View {
    /// Nothing: as one holds a compass.
    Plain,
    /// Seen from the other side, the index line at the bottom.
    UpsideDown,
    /// With a second scale for slopes inside the dial.
    InnerScale,
    /// Asked as well whether the needle is boxed.
    Boxed,
}

/// The dial's number at the needle's north end instead of the index line.
const READ_AT_NEEDLE: MixupMeta = MixupMeta {
    id: MixupId("read-at-needle"),
    class: MixupClass::Place,
    said: "read the dial at the needle",
    mend: "Look only at the index line: the needle says where north is, not what is set.",
};

/// The number of the slope scale at the index line.
const INNER_SCALE: MixupMeta = MixupMeta {
    id: MixupId("inner-scale"),
    class: MixupClass::Place,
    said: "read the inner scale, the one for slopes",
    mend: "Bearings stand on the outer scale, which goes all the way round to 360.",
};

/// A needle that points elsewhere taken for boxed.
const BOX_NOT_CHECKED: MixupMeta = MixupMeta {
    id: MixupId("box-not-checked"),
    class: MixupClass::Forgotten,
    said: "did not see that the needle lies beside the orienting arrow",
    mend: "Boxed means: the needle's north end lies in the head of the orienting arrow.",
};

/// A needle with its south end in the arrow's head taken for boxed.
const SOUTH_END_BOXED: MixupMeta = MixupMeta {
    id: MixupId("south-end-boxed"),
    class: MixupClass::Reversed,
    said: "took the needle for boxed although its south end lies in the arrow",
    mend: "The north end must lie in the arrow's head; the other way round you walk away from your goal.",
};

static META: SkillMeta = SkillMeta {
    id: "read-dial",
    mark: "A5",
    family: Family::Dial,
    title: "Read the dial",
    can: "Reads the number at the index line of a dial, and sees whether the needle is boxed.",
    levels: [
        "ticks of 10°",
        "ticks of 5°",
        "ticks of 2°",
        "upside down, with a second scale, or with a needle that may not be boxed",
    ],
    prerequisites: &[],
    mixups: &[
        WRONG_END,
        READ_AT_NEEDLE,
        COUNTED_WRONG_WAY,
        WRONG_TICK_VALUE,
        ONE_DEGREE_A_TICK,
        STOPPED_AT_NUMBER,
        INNER_SCALE,
        BOX_NOT_CHECKED,
        SOUTH_END_BOXED,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 3,
};

const NEEDLE_WORDS: [&str; 2] = ["boxed", "not boxed"];
/// The place of `boxed` among these.
const BOXED: usize = 0;
const NOT_BOXED: usize = 1;

impl ReadDialItem {
    const fn is_boxed(&self) -> bool {
        self.at_needle == 0
    }

    /// The right choice for the needle.
    const fn needle(&self) -> usize {
        if self.is_boxed() { BOXED } else { NOT_BOXED }
    }

    /// A reading, with the right word for the needle where that is asked too.
    fn answer_with(&self, reading: Tenths) -> Answer {
        match self.view {
            View::Boxed => Answer::two(Value::Angle(angle(wrap(reading))), Value::Choice(self.needle())),
            View::Plain | View::UpsideDown | View::InnerScale => answer(reading),
        }
    }

    /// The number of the slope scale at the index line: 0 at the dial's 90 and 270, 90 at its 0 and 180 (common
    /// practice, no source).
    const fn inner(&self) -> Tenths {
        (self.reading % (CIRCLE / 2) - 900).abs()
    }

    fn index(&self) -> Angle {
        if self.view == View::UpsideDown { Angle::from_degrees(180.0) } else { Angle::ZERO }
    }

    fn dial(&self) -> DialFigure {
        // The number at picture direction φ is reading + (φ − index): turned round, that is where the needle points.
        let needle = (self.index() + angle(self.at_needle - self.reading)).wrapped();
        let mut figure = self.scale.figure(self.reading, self.index(), Some(needle));
        figure.inner_scale = self.view == View::InnerScale;
        figure
    }
}

impl Generator for ReadDial {
    type Item = ReadDialItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> ReadDialItem {
        let view = if level == Level::FOUR {
            draw.pick(&[View::UpsideDown, View::InnerScale, View::Boxed])
        } else {
            View::Plain
        };
        let graduation = Scale::graduation_at(level, draw);
        let scale = Scale::draw(graduation, draw);
        let mut reading = draw.between(0, CIRCLE / graduation - 1) * graduation;
        // On a printed number there is nothing to count: that comes up only now and then, but on a coarse scale, where hardly
        // anything else is left, often enough that one tick further is no rule.
        let moved = if graduation == 100 { draw.chance(1, 4) } else { draw.chance(2, 3) };
        if reading % scale.numbered == 0 && moved {
            reading += graduation;
        }
        let elsewhere = draw.between(2, 16) * 100 * draw.sign();
        // Where it is asked, the needle is boxed in one of two.
        let at_needle = match (view, draw.below(4)) {
            (View::Boxed, 0 | 1) => 0,
            (View::Boxed, 2) => CIRCLE / 2,
            (View::Boxed, _) => wrap(elsewhere),
            (_, 0) => 0,
            _ => wrap(elsewhere),
        };
        ReadDialItem { scale, reading, at_needle, view }
    }

    fn question(&self, item: &ReadDialItem) -> Question {
        const fn with_needle(degrees: f64) -> [Field; 2] {
            let kind = FieldKind::Choice(Choices::Fixed(&NEEDLE_WORDS));
            [Scale::field(degrees), Field { name: "needle", label: "needle", kind, tolerance: Tolerance::EXACT }]
        }
        static FIVES: [Field; 2] = with_needle(2.4);
        static TWOS: [Field; 2] = with_needle(1.0);
        let fields: &'static [Field] = match (item.view, item.scale.graduation) {
            (View::Boxed, 50) => &FIVES,
            (View::Boxed, _) => &TWOS,
            _ => item.scale.fields(),
        };
        Question::typed(fields)
    }

    fn answer(&self, item: &ReadDialItem) -> Answer {
        item.answer_with(item.reading)
    }

    fn mixups(&self, item: &ReadDialItem, list: &mut MixupList) {
        let (scale, reading) = (&item.scale, item.reading);
        list.push(&WRONG_END, item.answer_with(reading + CIRCLE / 2), || words::at_opposite_end(item));
        // A needle at the index line shows the reading itself.
        if item.at_needle != reading {
            list.push(&READ_AT_NEEDLE, item.answer_with(item.at_needle), || words::at_needle(item));
        }
        if let Some(number) = scale.counted_wrong_way(reading) {
            list.push(&COUNTED_WRONG_WAY, item.answer_with(number), || scale.way_counted_wrong(reading));
        }
        if let Some(number) = scale.misread(reading) {
            list.push(&WRONG_TICK_VALUE, item.answer_with(number), || scale.way_misread(reading));
        }
        let by_degrees = scale.read_by_single_degrees(reading);
        if let Some(number) = by_degrees {
            list.push(&ONE_DEGREE_A_TICK, item.answer_with(number), || scale.way_by_single_degrees(reading));
        }
        // Where single degrees end too near the number below to be told from it, neither is named.
        let [below, above] = scale.stopped_at(reading);
        for number in [below.filter(|_| by_degrees.is_some()), above].into_iter().flatten() {
            list.push(&STOPPED_AT_NUMBER, item.answer_with(number), || Scale::way_stopped(number));
        }
        if item.view == View::InnerScale {
            list.push(&INNER_SCALE, answer(item.inner()), || words::on_inner_scale(item));
        }
        if item.view == View::Boxed && !item.is_boxed() {
            let meta = if item.at_needle == CIRCLE / 2 { &SOUTH_END_BOXED } else { &BOX_NOT_CHECKED };
            let boxed = Answer::two(Value::Angle(angle(reading)), Value::Choice(BOXED));
            list.push(meta, boxed, || words::reading_and_needle(item, BOXED));
        }
    }

    fn facts(&self, item: &ReadDialItem) -> Facts {
        let (scale, below) = (&item.scale, item.scale.printed(item.reading));
        let mut facts = Vec::with_capacity(8);
        facts.push(Fact::own_angle("number_below_index_deg", angle(below)));
        facts.push(Fact::own_number("ticks_above_number", f64::from((item.reading - below) / scale.graduation)));
        facts.push(Fact::own_angle("number_every_deg", angle(scale.numbered)));
        facts.push(Fact::own_number("spaces_between_numbers", f64::from(scale.numbered / scale.graduation)));
        facts.push(Fact::own_angle("needle_north_end_at_deg", angle(item.at_needle)));
        facts.push(Fact::own_angle("index_in_picture_deg", item.index()));
        if item.view == View::InnerScale {
            facts.push(Fact::own_angle("inner_scale_at_index_deg", angle(item.inner())));
        }
        facts.push(Fact::wanted(Wanted::own(if item.view == View::Boxed {
            "number_at_index_and_whether_boxed"
        } else {
            "number_at_index"
        })));
        Facts::from(facts)
    }

    fn prompt(&self, item: &ReadDialItem) -> String {
        words::prompt(item)
    }

    fn steps(&self, item: &ReadDialItem) -> Vec<Step> {
        words::steps(item)
    }

    fn hint(&self, item: &ReadDialItem) -> String {
        words::hint(item).to_owned()
    }

    fn right_way(&self, item: &ReadDialItem) -> String {
        words::right_way(item)
    }

    fn figure(&self, item: &ReadDialItem) -> Figure {
        Figure::Dial(item.dial())
    }

    fn explanation(&self, item: &ReadDialItem, given: Option<&Answer>) -> Figure {
        let mut dial = item.dial();
        if let Some([Value::Angle(typed), ..]) = given.map(Answer::values) {
            dial.learner = Some(angle(wrap(tenths(*typed))));
        }
        Figure::Dial(dial)
    }
}

#[cfg(test)]
mod tests;
