//! B5, declination out of date: the printed value, the years since and the yearly change give the value of this year,
//! unless the map is too old for that.

use super::dated::{ArcMinutes, CHANGE_REVERSED, Dated, NOT_UPDATED, arc, change_words, letter, lettered};
use crate::angle::{Angle, EastWest};
use crate::numbers::whole;
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Family, Field, FieldKind, Figure, Generator, HomeAngles, Level, MixupClass,
    MixupId, MixupList, MixupMeta, NorthLines, Question, SkillMeta, Step, Tolerance, Value, Wanted,
};
use std::fmt::Write;

/// The skill `dated-map`.
pub(super) struct DatedMap;

/// The numbers of one problem.
pub(super) struct DatedMapItem {
    dated: Dated,
    /// Level 4: what stands under A, B and C; under D always stands "get a current value", and the text says whether one is
    /// to be had: where one is, getting it is never wrong.
    options: Option<[Offer; 3]>,
}

/// What level 4 offers.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Offer {
    WorkedOut,
    Reversed,
    Printed,
    BySheet,
}

/// Which way the change goes.
#[derive(Clone, Copy)]
enum Turn {
    /// The same way as the declination, so the two are added.
    Same,
    /// Against it, but not so far that the letter changes.
    Against,
    /// Against it and through zero.
    ThroughZero,
}

/// Above this age a printed value is no longer to be trusted (TC 3-25.26, 15 Nov 2013, caution in chapter 6; outside
/// check CV068). Another authority asks for a current figure above 15 years (USGS Education; CV069), so no problem uses
/// an age from 15 to 20.
const OLDEST_USABLE: i32 = 20;

const LETTERS: [&str; 4] = ["A", "B", "C", "D"];
/// Under which of the letters "get a current value" stands.
const CURRENT_VALUE_CHOICE: usize = 3;

const ONE_YEAR_ONLY: MixupMeta = MixupMeta {
    id: MixupId("one-year-only"),
    class: MixupClass::Forgotten,
    said: "let the declination change for one year only",
    mend: "Multiply the yearly change by the years since the map was made.",
};
const ONLY_THE_CHANGE: MixupMeta = MixupMeta {
    id: MixupId("only-the-change"),
    class: MixupClass::Forgotten,
    said: "gave the change alone, without the printed declination",
    mend: "The change is added to the printed declination, or taken from it.",
};
const SHEET_YEAR: MixupMeta = MixupMeta {
    id: MixupId("sheet-year"),
    class: MixupClass::Method,
    said: "counted the years from the sheet and not from its declination",
    mend: "Count from the year that stands beside the declination: the sheet itself may be older or younger.",
};
const MINUTES_AS_DEGREES: MixupMeta = MixupMeta {
    id: MixupId("minutes-as-degrees"),
    class: MixupClass::Minutes,
    said: "took the minutes of the change for whole degrees",
    mend: "The yearly change is printed in minutes: 60 minutes are one degree.",
};
const MINUTES_AS_DECIMALS: MixupMeta = MixupMeta {
    id: MixupId("minutes-as-decimals"),
    class: MixupClass::Minutes,
    said: "counted as if a degree had a hundred minutes",
    mend: "A degree has 60 minutes: 90 minutes are 1°30′, and 7°30′ is seven and a half.",
};
const LETTER_KEPT: MixupMeta = MixupMeta {
    id: MixupId("letter-kept"),
    class: MixupClass::Wrap,
    said: "kept the old letter although the declination passed through zero",
    mend: "When the change is larger than the printed value, what is left lies on the other side.",
};
const OLD_MAP_TRUSTED: MixupMeta = MixupMeta {
    id: MixupId("old-map-trusted"),
    class: MixupClass::Method,
    said: "worked out a value from a map that is too old for it",
    mend: "Above 20 years the printed yearly change no longer holds: get a current value.",
};
const FRESH_MAP_DOUBTED: MixupMeta = MixupMeta {
    id: MixupId("fresh-map-doubted"),
    class: MixupClass::Method,
    said: "asked for a current value although none is to be had and the map is young enough to work it out",
    mend: "Where no current value is to be had, the printed one and its yearly change will do up to 15 years.",
};

static META: SkillMeta = SkillMeta {
    id: "dated-map",
    mark: "B5",
    family: Family::Norths,
    title: "Declination out of date",
    can: "Brings the printed declination of a map up to this year, and knows when the map is too old for that.",
    levels: [
        "the change mostly goes the same way as the declination",
        "the change mostly goes against the declination",
        "all of these, often through zero, and the sheet is of another year",
        "choose a value, or see that the map is too old",
    ],
    prerequisites: &["diagram"],
    mixups: &[
        CHANGE_REVERSED,
        NOT_UPDATED,
        ONE_YEAR_ONLY,
        ONLY_THE_CHANGE,
        SHEET_YEAR,
        MINUTES_AS_DEGREES,
        MINUTES_AS_DECIMALS,
        LETTER_KEPT,
        OLD_MAP_TRUSTED,
        FRESH_MAP_DOUBTED,
    ],
    lines: NorthLines::Any,
    // On home ground every item would have the same answer: the declination of home ground.
    on_home: false,
    generation: 3,
};

static TYPED: [Field; 3] = [
    Field { name: "degrees", label: "degrees", kind: FieldKind::Degrees, tolerance: Tolerance::EXACT },
    Field { name: "minutes", label: "minutes", kind: FieldKind::Minutes, tolerance: Tolerance::within(5.0) },
    Field {
        name: "side",
        label: "E or W",
        kind: FieldKind::Choice(Choices::Fixed(&["E", "W"])),
        tolerance: Tolerance::EXACT,
    },
];
static CHOICE: [Field; 1] = [Field {
    name: "choice",
    label: "A, B, C or D",
    kind: FieldKind::Choice(Choices::Fixed(&LETTERS)),
    tolerance: Tolerance::EXACT,
}];

impl Generator for DatedMap {
    type Item = DatedMapItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> DatedMapItem {
        let this_year = Dated::draw_year(draw);
        let choose = level == Level::FOUR;
        let too_old = choose && draw.chance(3, 10);
        // Where a level is about one rule, the others come in, too; at level 3 none of them is right in most problems.
        let (same, against) = match level.number() {
            1 => (70, 30),
            2 => (25, 60),
            _ => (42, 15),
        };
        let turn = match draw.below(100) {
            at if at < same => Turn::Same,
            at if at < same + against => Turn::Against,
            _ => Turn::ThroughZero,
        };
        let (years, size) = match turn {
            _ if too_old => (draw.between(21, 40), draw.between(5, 15)),
            Turn::ThroughZero => (draw.between(7, 14), draw.between(10, 15)),
            _ if level == Level::ONE => (draw.between(4, 14), draw.pick(&[5, 6, 10, 12, 15])),
            _ => (draw.between(4, 14), draw.between(5, 15)),
        };
        let side = draw.sign();
        let total = years * size;
        let printed = match turn {
            Turn::Same => draw.between(60, 1500),
            Turn::Against => -draw.between(total + 60, 1500),
            Turn::ThroughZero => -drawn_clear(draw, total, size),
        };
        // The answer lies so near a half degree that setting that is right, too: no hand compass shows minutes.
        let near_half = whole::<ArcMinutes>((f64::from(printed + total) / 30.0).round()) * 30;
        let beside = if level == Level::ONE { 0 } else { draw.between(-5, 5) };
        let printed = side * (near_half + beside - total);
        let printed_year = this_year - years;
        let sheet_year = (level >= Level::THREE).then(|| printed_year + drawn_sheet(draw, printed, years, side * size));
        let mut options = [Offer::Reversed, Offer::Printed, Offer::BySheet];
        draw.shuffle(&mut options);
        options[2] = Offer::WorkedOut;
        draw.shuffle(&mut options);
        DatedMapItem {
            dated: Dated { printed, change: side * size, sheet_year, printed_year, this_year },
            options: choose.then_some(options),
        }
    }

    fn question(&self, item: &DatedMapItem) -> Question {
        if item.options.is_some() { Question::choose(&CHOICE) } else { Question::typed(&TYPED) }
    }

    fn answer(&self, item: &DatedMapItem) -> Answer {
        match item.options {
            None => lettered_answer(item.dated.today()),
            Some(_) if item.too_old() => Answer::choice(CURRENT_VALUE_CHOICE),
            Some(_) => Answer::choice(item.place(Offer::WorkedOut)),
        }
    }

    fn mixups(&self, item: &DatedMapItem, list: &mut MixupList) {
        let dated = &item.dated;
        let made = |change: ArcMinutes| dated.made_words(change).to_string();
        let as_printed = || format!("{}, as printed", lettered(dated.printed));
        if item.options.is_some() {
            if item.offers(Offer::Reversed) {
                list.push(&CHANGE_REVERSED, Answer::choice(item.place(Offer::Reversed)), || made(-dated.total()));
            }
            if item.offers(Offer::Printed) {
                list.push(&NOT_UPDATED, Answer::choice(item.place(Offer::Printed)), as_printed);
            }
            if item.offers(Offer::BySheet) {
                list.push(&SHEET_YEAR, Answer::choice(item.place(Offer::BySheet)), || item.by_sheet_words());
            }
            if item.too_old() {
                list.push(&OLD_MAP_TRUSTED, Answer::choice(item.place(Offer::WorkedOut)), || made(dated.total()));
            } else {
                list.push(&FRESH_MAP_DOUBTED, Answer::choice(CURRENT_VALUE_CHOICE), || {
                    "Get a current value".to_owned()
                });
            }
            return;
        }
        // So close to zero the letter would be a matter of chance.
        let far_from_zero = |minutes: ArcMinutes| (minutes.abs() > 10).then(|| lettered_answer(minutes));
        if let Some(reversed) = far_from_zero(dated.reversed()) {
            list.push(&CHANGE_REVERSED, reversed, || made(-dated.total()));
        }
        if let Some(printed) = far_from_zero(dated.printed) {
            list.push(&NOT_UPDATED, printed, as_printed);
        }
        if let Some(by_degrees) = far_from_zero(dated.printed + 60 * dated.total()) {
            list.push(&MINUTES_AS_DEGREES, by_degrees, || {
                format!("{} taken as degrees: {}", change_words(dated.total()), dated.made_words(60 * dated.total()))
            });
        }
        // A smaller change of one year lies too near the printed value to be told from it.
        if dated.change.abs() > 10 {
            list.push(&ONE_YEAR_ONLY, lettered_answer(dated.printed + dated.change), || made(dated.change));
        }
        if let Some(change) = far_from_zero(dated.total()) {
            list.push(&ONLY_THE_CHANGE, change, || format!("{}, and no more", dated.total_words()));
        }
        if let Some(by_sheet) = dated.by_sheet_year().and_then(far_from_zero) {
            list.push(&SHEET_YEAR, by_sheet, || item.by_sheet_words());
        }
        if let Some(minutes) = item.by_hundreds() {
            list.push(&MINUTES_AS_DECIMALS, lettered_answer(minutes), || hundreds_sum(dated));
        }
        if dated.crosses_zero() {
            list.push(&LETTER_KEPT, lettered_answer(-dated.today()), || {
                format!("The old letter again: {}", lettered(-dated.today()))
            });
        }
    }

    fn right_way(&self, item: &DatedMapItem) -> String {
        let mut right = String::with_capacity(110);
        if item.options.is_some() {
            let _ = write!(
                right,
                "{}{}",
                item.dated.years_step().sum,
                if item.too_old() {
                    " years, more than 20, and a current value is to be had: get it"
                } else {
                    " years is young enough, and no current value is to be had. "
                }
            );
        }
        if !item.too_old() {
            let _ = write!(right, "{}. {}", item.dated.total_words(), item.dated.made_words(item.dated.total()));
        }
        right
    }

    fn facts(&self, item: &DatedMapItem) -> Facts {
        let mut facts = Vec::with_capacity(8);
        item.dated.push_facts(&mut facts);
        if let Some(options) = &item.options {
            for (name, offer) in ["option_a_deg", "option_b_deg", "option_c_deg"].into_iter().zip(options) {
                facts.push(Fact::own_angle(name, arc(item.offered(*offer))));
            }
            facts.push(Fact::own_word("option_d", "get a current value"));
            facts.push(Fact::own_word("current_value", if item.too_old() { "to be had" } else { "not to be had" }));
            facts.push(Fact::wanted(Wanted::own("choice")));
        } else {
            facts.push(Fact::wanted(Wanted::Declination));
        }
        facts.into()
    }

    fn prompt(&self, item: &DatedMapItem) -> String {
        let mut out = String::with_capacity(320);
        let _ = write!(out, "{}", item.dated.given_words());
        match &item.options {
            None => out.push_str("What is the declination now, in degrees and minutes, east or west?"),
            Some(options) => {
                let _ = write!(
                    out,
                    "{}Which declination do you work with? ",
                    if item.too_old() {
                        "At the ranger's hut a current value is to be had. "
                    } else {
                        "No current value is to be had. "
                    }
                );
                for (letter, offer) in LETTERS.into_iter().zip(options) {
                    let _ = write!(out, "{letter}: {}. ", lettered(item.offered(*offer)));
                }
                let _ = write!(out, "{}: none of these, I get a current value.", LETTERS[CURRENT_VALUE_CHOICE]);
            }
        }
        out
    }

    fn steps(&self, item: &DatedMapItem) -> Vec<Step> {
        let mut steps = Vec::with_capacity(6);
        steps.push(item.dated.years_step());
        if item.options.is_none() {
            item.dated.push_change_steps(&mut steps);
            steps.extend(item.dated.set_step());
            return steps;
        }
        if item.too_old() {
            steps.push(Step::words(
                "More than 20 years: for so long the needle does not keep to the printed change, so no sum can be trusted",
            ));
            steps.push(Step::new("Get a current value", LETTERS[CURRENT_VALUE_CHOICE].to_owned()));
        } else {
            steps.push(Step::words("That is young enough to work it out, and no current value is to be had"));
            item.dated.push_change_steps(&mut steps);
            steps.push(Step::new("This stands under", LETTERS[item.place(Offer::WorkedOut)].to_owned()));
        }
        steps
    }

    fn hint(&self, item: &DatedMapItem) -> String {
        if item.options.is_some() {
            "Before any sum, look at the age of the map."
        } else {
            "Count the years. Then ask: does the change push the needle further to the printed side, or back from it?"
        }
        .to_owned()
    }

    fn figure(&self, item: &DatedMapItem) -> Figure {
        Figure::Drift(item.dated.drift(false))
    }

    fn explanation(&self, item: &DatedMapItem, _given: Option<&Answer>) -> Figure {
        // From too old a map nobody knows where the needle is now.
        Figure::Drift(item.dated.drift(!item.too_old()))
    }
}

impl DatedMapItem {
    const fn too_old(&self) -> bool {
        self.dated.years() > OLDEST_USABLE
    }

    fn offered(&self, offer: Offer) -> ArcMinutes {
        match offer {
            Offer::WorkedOut => self.dated.today(),
            Offer::Reversed => self.dated.reversed(),
            Offer::Printed => self.dated.printed,
            Offer::BySheet => self.dated.by_sheet_year().unwrap_or(self.dated.printed),
        }
    }

    fn offers(&self, offer: Offer) -> bool {
        self.options.iter().flatten().any(|at| *at == offer)
    }

    /// `Counted from 2009: 5°30′ W and 3° E make 2°30′ W`.
    fn by_sheet_words(&self) -> String {
        format!(
            "Counted from {}: {}",
            self.dated.sheet_year.unwrap_or(self.dated.printed_year).unsigned_abs(),
            self.dated.made_words(self.offered(Offer::BySheet) - self.dated.printed)
        )
    }

    /// Under which of the letters an offer stands.
    fn place(&self, offer: Offer) -> usize {
        self.options.iter().flatten().position(|at| *at == offer).unwrap_or(CURRENT_VALUE_CHOICE)
    }

    /// The sum with a hundred minutes to a degree; none where that ends in more than 59 minutes, which nobody can write, or
    /// where no degree is carried, so that it gives the right answer.
    const fn by_hundreds(&self) -> Option<ArcMinutes> {
        let sum = hundreds(self.dated.printed) + self.dated.total();
        let (degrees, minutes) = (sum.abs() / 100, sum.abs() % 100);
        let counted = sum.signum() * (degrees * 60 + minutes);
        let right = (counted - self.dated.today()).abs() <= TOO_NEAR;
        if minutes > 59 || sum.abs() <= 10 || right { None } else { Some(counted) }
    }
}

/// Two answers that are no farther apart than this could be taken for each other: twice the tolerance.
const TOO_NEAR: ArcMinutes = 10;

/// How often a number is drawn again whose mix-ups would meet.
const TRIES: u32 = 16;

/// The size of a printed declination that a change goes through zero of, so that the old letter kept gives neither what is
/// printed nor the value of one year later. `size` is the yearly change.
fn drawn_clear(draw: &mut Draw, total: ArcMinutes, size: ArcMinutes) -> ArcMinutes {
    let mut printed = 0;
    for _ in 0..TRIES {
        printed = draw.between(30, total - 40);
        // The answer still moves to the next half degree.
        let apart = 2 * printed - total;
        if apart.abs() > TOO_NEAR + 30 && (apart - size).abs() > TOO_NEAR + 30 {
            break;
        }
    }
    printed
}

/// How many years after its declination a sheet was made, before it if negative, so that counting from the sheet gives none of the
/// other mix-ups' answers.
fn drawn_sheet(draw: &mut Draw, printed: ArcMinutes, years: i32, change: ArcMinutes) -> i32 {
    // A degree carried or borrowed at a hundred minutes makes 40 minutes.
    const CARRIED: ArcMinutes = 40;
    let mut sheet = 0;
    for _ in 0..TRIES {
        let apart = draw.between(3, 6);
        sheet = if draw.chance(1, 2) && apart < years { apart } else { -apart };
        let (off, total) = ((sheet * change).abs(), (years - sheet) * change);
        let all = years * change;
        let others = [0, change, all - printed, -all - 2 * printed];
        if off > TOO_NEAR
            && (off - CARRIED).abs() > TOO_NEAR
            && others.iter().all(|other| (total - other).abs() > TOO_NEAR)
        {
            break;
        }
    }
    sheet
}

/// 7°30′ as 730 hundredths, with the sign.
const fn hundreds(minutes: ArcMinutes) -> i32 {
    minutes.signum() * (minutes.abs() / 60 * 100 + minutes.abs() % 60)
}

/// `5.30 + 0.90 = 6.20`.
fn hundreds_sum(dated: &Dated) -> String {
    let push = |out: &mut String, hundredths: i32| {
        let _ = write!(
            out,
            "{}.{}{}",
            hundredths.unsigned_abs() / 100,
            hundredths.unsigned_abs() / 10 % 10,
            hundredths.unsigned_abs() % 10
        );
    };
    let mut out = String::with_capacity(24);
    let (one, other) = (hundreds(dated.printed), dated.total());
    let (large, small) = if one.abs() < other.abs() { (other, one) } else { (one, other) };
    push(&mut out, large);
    out.push_str(if (large < 0) == (small < 0) { " + " } else { " − " });
    push(&mut out, small);
    out.push_str(" = ");
    push(&mut out, one + other);
    out
}

/// The answer in degrees, minutes and letter.
fn lettered_answer(minutes: ArcMinutes) -> Answer {
    let side = match letter(minutes) {
        EastWest::East => 0,
        EastWest::West => 1,
    };
    let size = minutes.abs();
    Answer::three(
        Value::Angle(Angle::from_tenths(size / 60 * 10)),
        Value::Number(f64::from(size % 60)),
        Value::Choice(side),
    )
}

#[cfg(test)]
mod tests;
