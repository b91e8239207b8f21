//! D2, orienting by a true-north line: which number on the dial brings the map right.

use super::common::{
    APPLIED_TWICE, InTenths, NOT_APPLIED, NOT_WRAPPED, Tenths, WRONG_END, answer, hardly_differs, offset_of, size, wrap,
};
use super::conversion::{draw_offset, home_declination};
use super::dated::{CHANGE_REVERSED, Dated, NOT_UPDATED, lettered};
use super::hands::{
    ARROW_BACK, ByHand, COMPASS_OFF_LINE, DIAL_FOR_MAP, DIAL_UPSIDE_DOWN, Levels, Orienting, SOUTH_END_BOXED,
};
use super::norths::{convergence_beside, given_alone_words, whole};
use super::orient_magnetic_line::WRONG_LINE;
use super::orienting::{self, ArrowToward, SIGN_FLIPPED_ON_DIAL, Setting};
use crate::angle::{Declination, North, True};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Figure, Generator, HomeAngles, Level, MixupList, NorthLines, Question,
    SkillMeta, Step, Wanted,
};
use std::fmt::Write;

/// The skill `orient-true-line`.
pub(super) struct OrientTrueLine;

/// The numbers of one problem.
pub(super) struct OrientTrueLineItem {
    setting: Setting<True>,
    level: Level,
    /// Level 4 gives the declination as an old map prints it.
    dated: Option<Dated>,
    on_home: bool,
}

static META: SkillMeta = SkillMeta {
    id: "orient-true-line",
    mark: "D2",
    family: Family::Orienting,
    title: "Orient by a true-north line",
    can: "Sets the dial so that the map lies as the land does when compass and true-north line are turned until the needle is boxed.",
    levels: [
        "whole degrees, both norths drawn",
        "any whole degree, no drawing",
        "many of them close to north",
        "the printed declination is out of date",
    ],
    prerequisites: &["true-magnetic", "orient-magnetic-line"],
    mixups: &[
        SIGN_FLIPPED_ON_DIAL,
        NOT_APPLIED,
        WRONG_END,
        NOT_WRAPPED,
        NOT_UPDATED,
        CHANGE_REVERSED,
        APPLIED_TWICE,
        SOUTH_END_BOXED,
        ARROW_BACK,
        DIAL_UPSIDE_DOWN,
        WRONG_LINE,
        DIAL_FOR_MAP,
        COMPASS_OFF_LINE,
    ],
    lines: NorthLines::True,
    on_home: true,
    generation: 4,
};

/// Years and minutes a year whose product is two or three degrees, so that the declination of this year is one that a dial
/// can show and the old one is another.
const CHANGES: [(i32, i32); 4] = [(8, 15), (10, 12), (12, 10), (12, 15)];

impl Generator for OrientTrueLine {
    type Item = OrientTrueLineItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn reckons_with_old_maps(&self, level: Level) -> bool {
        level == Level::FOUR
    }

    fn too_small(&self, _level: Level, home: HomeAngles) -> bool {
        hardly_differs(whole(home.declination()))
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> OrientTrueLineItem {
        let mut offset: Declination = draw_offset(level, home_declination(home), draw);
        if level == Level::THREE && home.is_none() && draw.chance(1, 3) {
            offset = offset_of(draw.between(2, 4) * 10 * draw.sign());
        }
        let dated = (level == Level::FOUR).then(|| {
            let (years, size) = draw.pick(&CHANGES);
            let change = size * draw.sign();
            let this_year = Dated::draw_year(draw);
            let printed = |change: i32| offset.in_tenths() * 6 - years * change;
            // A map that prints no declination at all has no letter to print either.
            let change = if printed(change) == 0 { -change } else { change };
            Dated { printed: printed(change), change, sheet_year: None, printed_year: this_year - years, this_year }
        });
        let arrow = ArrowToward::draw(draw);
        OrientTrueLineItem { setting: Setting { offset, arrow }, level, dated, on_home: home.is_some() }
    }

    fn question(&self, _item: &OrientTrueLineItem) -> Question {
        orienting::question()
    }

    fn answer(&self, item: &OrientTrueLineItem) -> Answer {
        item.setting.right()
    }

    fn mixups(&self, item: &OrientTrueLineItem, list: &mut MixupList) {
        item.setting.mixups(list);
        let Some(dated) = &item.dated else { return };
        let on_dial = |minutes: i32| item.setting.by(in_tenths(minutes));
        let way = |minutes: i32| item.setting.way_by(in_tenths(minutes));
        list.push(&NOT_UPDATED, answer(on_dial(dated.printed)), || {
            let out = lettered(dated.printed).to_string();
            out + " as printed on the map" + &way(dated.printed)
        });
        list.push(&CHANGE_REVERSED, answer(on_dial(dated.reversed())), || {
            let out = dated.made_words(-dated.total()).to_string();
            out + &way(dated.reversed())
        });
    }

    fn right_way(&self, item: &OrientTrueLineItem) -> String {
        let mut out = String::with_capacity(110);
        if let Some(dated) = &item.dated {
            let _ = write!(out, "{}. ", dated.made_words(dated.total()));
        }
        out + &item.setting.right_way()
    }

    fn facts(&self, item: &OrientTrueLineItem) -> Facts {
        let mut facts = Vec::with_capacity(7);
        match &item.dated {
            Some(dated) => dated.push_facts(&mut facts),
            None => facts.push(Fact::angle(FactName::Declination, item.setting.offset.angle())),
        }
        facts.push(Fact::north(FactName::Line, North::True));
        facts.push(item.setting.arrow.fact());
        facts.push(Fact::wanted(Wanted::Dial));
        facts.into()
    }

    fn prompt(&self, item: &OrientTrueLineItem) -> String {
        let mut out = String::with_capacity(320);
        match &item.dated {
            Some(dated) => {
                let _ = write!(out, "{}The map has true-north lines. ", dated.given_words());
            }
            None => {
                let _ = write!(
                    out,
                    "Your map has true-north lines. {}. ",
                    given_alone_words("Declination", item.setting.offset, item.on_home)
                );
            }
        }
        let _ = write!(out, "{}", item.setting.asked_words());
        out
    }

    fn steps(&self, item: &OrientTrueLineItem) -> Vec<Step> {
        let mut steps = Vec::with_capacity(10);
        if let Some(dated) = &item.dated {
            steps.push(dated.years_step());
            dated.push_change_steps(&mut steps);
        }
        item.setting.push_steps(&mut steps);
        if let Some(dated) = &item.dated {
            let printed = item.setting.by(in_tenths(dated.printed));
            let words =
                format!("By the old printed value the map would lie {}° off", size(item.setting.off(wrap(printed))));
            steps.push(Step::words(words));
        }
        steps.push(item.setting.last_step());
        steps
    }

    fn hint(&self, item: &OrientTrueLineItem) -> String {
        item.setting.hint(if item.dated.is_some() {
            "First bring the declination up to date. Then ask: seen from the needle, on which side does true north lie?"
        } else {
            "Draw true north and the needle. Seen from the needle, on which side does true north lie, and how far?"
        })
    }

    fn figure(&self, item: &OrientTrueLineItem) -> Figure {
        if item.level == Level::ONE { item.setting.sketch(None) } else { Figure::None }
    }

    fn explanation(&self, item: &OrientTrueLineItem, given: Option<&Answer>) -> Figure {
        item.setting.sketch(Some(given.unwrap_or(&item.setting.right())))
    }
}

impl ByHand for OrientTrueLine {
    fn by_hand(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Orienting {
        let declination: Declination = draw_offset(level, home_declination(home), draw);
        let convergence = convergence_beside(home, draw);
        let old = if level == Level::FOUR { draw.between(3, 7) * 10 * draw.sign() } else { 0 };
        let printed = offset_of(declination.in_tenths() + old);
        let given = Levels { printed, ..Levels::usual(level, declination, convergence, home) };
        Orienting::draw(North::True, given, draw)
    }
}

/// Minutes of arc in tenths of a degree; exact for the whole degrees drawn here.
const fn in_tenths(minutes: i32) -> Tenths {
    minutes / 6
}
