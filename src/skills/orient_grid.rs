//! D3, orienting by grid lines: which number on the dial brings the map right.

use super::common::{
    APPLIED_TWICE, InTenths, NOT_APPLIED, NOT_WRAPPED, WRONG_END, answer, figures, hardly_differs, offset_of, size,
    wrap,
};
use super::conversion::{draw_offset, home_declination};
use super::dated::{Dated, NOT_UPDATED};
use super::hands::{
    ARROW_BACK, ByHand, COMPASS_OFF_LINE, DIAL_FOR_MAP, DIAL_UPSIDE_DOWN, Levels, Orienting, SOUTH_END_BOXED,
};
use super::norths::{DECLINATION_FOR_GMA, Norths, SIZES_ADDED, convergence_beside, given_alone_words, whole};
use super::orient_magnetic_line::{DIAGRAM_PRONG, WRONG_LINE};
use super::orienting::{self, ArrowToward, SIGN_FLIPPED_ON_DIAL, Setting};
use crate::angle::{Angle, Declination, Grid, GridMagnetic, North, declination_words};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Figure, Generator, HomeAngles, Level, MixupList, NorthLines, Question,
    SkillMeta, Step, Wanted,
};
use std::fmt::Write;

/// The skill `orient-grid`.
pub(super) struct OrientGrid;

/// The numbers of one problem.
pub(super) struct OrientGridItem {
    setting: Setting<Grid>,
    level: Level,
    /// From level 3 the G-M angle must be worked out from these.
    norths: Option<Norths>,
    /// Level 4 also gives the G-M angle of an old map, which is of no use.
    old: Option<OldMap>,
    on_home: bool,
}

struct OldMap {
    printed: GridMagnetic,
    year: i32,
    this_year: i32,
}

static META: SkillMeta = SkillMeta {
    id: "orient-grid",
    mark: "D3",
    family: Family::Orienting,
    title: "Orient by grid lines",
    can: "Sets the dial so that the map lies as the land does when compass and grid line are turned until the needle is boxed.",
    levels: [
        "the G-M angle is given, both norths drawn",
        "the G-M angle is given, any whole degree",
        "declination and convergence are given",
        "the same, and an old G-M angle on the map, which is of no use",
    ],
    prerequisites: &["grid-magnetic", "orient-magnetic-line"],
    mixups: &[
        SIGN_FLIPPED_ON_DIAL,
        NOT_APPLIED,
        WRONG_END,
        NOT_WRAPPED,
        DECLINATION_FOR_GMA,
        SIZES_ADDED,
        NOT_UPDATED,
        APPLIED_TWICE,
        SOUTH_END_BOXED,
        ARROW_BACK,
        DIAL_UPSIDE_DOWN,
        WRONG_LINE,
        DIAGRAM_PRONG,
        DIAL_FOR_MAP,
        COMPASS_OFF_LINE,
    ],
    lines: NorthLines::Grid,
    on_home: true,
    generation: 4,
};

impl Generator for OrientGrid {
    type Item = OrientGridItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn reckons_with_old_maps(&self, level: Level) -> bool {
        level == Level::FOUR
    }

    fn too_small(&self, _level: Level, home: HomeAngles) -> bool {
        hardly_differs(Norths::at_home(home).on_dial())
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> OrientGridItem {
        let (offset, norths) = if level < Level::THREE {
            (draw_offset(level, home.map(HomeAngles::grid_magnetic), draw), None)
        } else {
            let norths = Norths::draw(home, draw);
            (norths.on_dial(), Some(norths))
        };
        let old = (level == Level::FOUR).then(|| {
            let this_year = Dated::draw_year(draw);
            // On the side away from the declination, so that the two cannot be taken for each other.
            let away = match norths.map_or(0, |norths| norths.convergence.in_tenths().signum()) {
                0 => draw.sign(),
                side => -side,
            };
            OldMap {
                printed: offset_of(offset.in_tenths() + draw.between(2, 4) * 10 * away),
                year: this_year - draw.between(18, 30),
                this_year,
            }
        });
        let arrow = ArrowToward::draw(draw);
        OrientGridItem { setting: Setting { offset, arrow }, level, norths, old, on_home: home.is_some() }
    }

    fn question(&self, _item: &OrientGridItem) -> Question {
        orienting::question()
    }

    fn answer(&self, item: &OrientGridItem) -> Answer {
        item.setting.right()
    }

    fn mixups(&self, item: &OrientGridItem, list: &mut MixupList) {
        item.setting.mixups(list);
        let on_dial = |used: GridMagnetic| item.setting.by(used.in_tenths());
        let way = |used: GridMagnetic| item.setting.way_by(used.in_tenths());
        if let Some(norths) = &item.norths {
            if let Some(used) = norths.declination_for_gma() {
                list.push(&DECLINATION_FOR_GMA, answer(on_dial(used)), || {
                    format!("Declination {}{}", declination_words(norths.declination.angle()), way(used))
                });
            }
            if let Some(used) = norths.added() {
                list.push(&SIZES_ADDED, answer(on_dial(used)), || norths.wrong_sum() + &way(used));
            }
        }
        if let Some(old) = &item.old {
            list.push(&NOT_UPDATED, answer(on_dial(old.printed)), || {
                format!("Old G-M angle {}{}", declination_words(old.printed.angle()), way(old.printed))
            });
        }
    }

    fn right_way(&self, item: &OrientGridItem) -> String {
        let way = item.setting.right_way();
        match &item.norths {
            Some(norths) => format!("G-M angle {}. {way}", norths.sum()),
            None => way,
        }
    }

    fn facts(&self, item: &OrientGridItem) -> Facts {
        let mut facts = Vec::with_capacity(8);
        match &item.norths {
            Some(norths) => norths.push_facts(&mut facts),
            None => facts.push(Fact::angle(FactName::GridMagnetic, item.setting.offset.angle())),
        }
        if let Some(old) = &item.old {
            facts.push(Fact::angle(FactName::PrintedGridMagnetic, old.printed.angle()));
            facts.push(Fact::number(FactName::PrintedYear, f64::from(old.year)));
            facts.push(Fact::number(FactName::ThisYear, f64::from(old.this_year)));
        }
        facts.push(Fact::north(FactName::Line, North::Grid));
        facts.push(item.setting.arrow.fact());
        facts.push(Fact::wanted(Wanted::Dial));
        facts.into()
    }

    fn prompt(&self, item: &OrientGridItem) -> String {
        let mut out = "Your map has only grid lines. ".to_owned();
        if let Some(old) = &item.old {
            let _ = write!(
                out,
                "In {} its G-M angle was printed as {}. Suppose it is {}. ",
                old.year.unsigned_abs(),
                declination_words(old.printed.angle()),
                old.this_year.unsigned_abs()
            );
        }
        match &item.norths {
            Some(norths) if item.old.is_some() => {
                let _ = write!(
                    out,
                    "Declination today is {}, and grid convergence is {}. ",
                    declination_words(norths.declination.angle()),
                    declination_words(norths.convergence.angle())
                );
            }
            Some(norths) => {
                let _ = write!(out, "{}", norths.given_words(item.on_home));
            }
            None => {
                let _ = write!(out, "{}. ", given_alone_words("The G-M angle", item.setting.offset, item.on_home));
            }
        }
        let _ = write!(out, "{}", item.setting.asked_words());
        out
    }

    fn steps(&self, item: &OrientGridItem) -> Vec<Step> {
        let mut steps = Vec::with_capacity(8);
        if item.old.is_some() {
            steps.push(Step::words(
                "The printed G-M angle is old. Work with the declination of today; the convergence of a map never changes",
            ));
        }
        if let Some(norths) = &item.norths {
            norths.push_steps(&mut steps);
        }
        item.setting.push_steps(&mut steps);
        if let Some(norths) = item.norths.as_ref().filter(|norths| norths.convergence.angle() != Angle::ZERO) {
            let dial = wrap(item.setting.by(whole(norths.declination).in_tenths()));
            let mut words = format!("By the declination alone, {}, the map would lie ", figures(dial));
            let _ = write!(words, "{}° off", size(item.setting.off(dial)));
            steps.push(Step::words(words));
        }
        steps.push(item.setting.last_step());
        steps
    }

    fn hint(&self, item: &OrientGridItem) -> String {
        item.setting.hint(if item.norths.is_some() {
            "First the angle from grid north to magnetic north. Then ask: seen from the needle, on which side does the grid line lie?"
        } else {
            "Draw grid north and the needle. Seen from the needle, on which side does the grid line lie, and how far?"
        })
    }

    fn figure(&self, item: &OrientGridItem) -> Figure {
        if item.level == Level::ONE { item.setting.sketch(None) } else { Figure::None }
    }

    fn explanation(&self, item: &OrientGridItem, given: Option<&Answer>) -> Figure {
        item.setting.sketch(Some(given.unwrap_or(&item.setting.right())))
    }
}

impl ByHand for OrientGrid {
    fn by_hand(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Orienting {
        let declination: Declination = draw_offset(level.min(Level::TWO), home_declination(home), draw);
        let mut norths = Norths { declination, convergence: convergence_beside(home, draw) };
        if hardly_differs(norths.grid_magnetic()) {
            // A G-M angle of nothing is not worth setting a dial for.
            norths.convergence = offset_of(-norths.convergence.in_tenths());
        }
        if let Some(home) = home {
            // Only the G-M angle is given, so it is the one that is rounded.
            norths.declination = whole(home.grid_magnetic()).then(norths.convergence);
        }
        let given = Levels {
            gma_given: level < Level::THREE || home.is_some(),
            diagram: level == Level::FOUR,
            ..Levels::usual(level, norths.declination, norths.convergence, home)
        };
        Orienting::draw(North::Grid, given, draw)
    }
}
