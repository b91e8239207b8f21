//! D3, orienting by grid lines: which number on the dial brings the map right.

use super::common::{
    APPLIED_TWICE, NOT_APPLIED, NOT_WRAPPED, Tenths, WRONG_END, angle, answer, hardly_differs, push_east_west,
    push_figures, push_size, sum, wrap,
};
use super::conversion::{Conversion, home_declination, step_at};
use super::dated::{Dated, NOT_UPDATED};
use super::hands::{
    ARROW_BACK, ByHand, COMPASS_OFF_LINE, DIAL_FOR_MAP, DIAL_UPSIDE_DOWN, Levels, Orienting, SOUTH_END_BOXED,
};
use super::norths::{DECLINATION_FOR_GMA, Norths, SIZES_ADDED};
use super::orient_magnetic_line::{DIAGRAM_PRONG, WRONG_LINE};
use super::orienting::{SIGN_FLIPPED_ON_DIAL, Setting};
use crate::angle::North;
use crate::problem::{
    Answer, Draw, Fact, Family, Figure, Generator, HomeAngles, Level, MixupId, MixupList, NorthLines, Paths, Question,
    SkillMeta, Step,
};

/// The skill `orient-grid`.
pub(super) struct OrientGrid;

/// The numbers of one problem.
pub(super) struct Item {
    setting: Setting,
    level: Level,
    /// From level 3 the G-M angle must be worked out from these.
    norths: Option<Norths>,
    /// Level 4 also gives the G-M angle of an old map, which is of no use.
    old: Option<OldMap>,
    on_home: bool,
}

struct OldMap {
    printed: Tenths,
    year: i32,
    this_year: i32,
}

static META: SkillMeta = SkillMeta {
    id: "orient-grid",
    mark: "D3",
    family: Family::Orienting,
    title: "Orient by grid lines",
    can: "Sets the dial so that the map lies right when compass and grid line are turned until the needle is boxed.",
    levels: [
        "the G-M angle is given, both norths drawn",
        "the G-M angle is given, any whole degree",
        "declination and convergence are given",
        "half degrees, and an old G-M angle on the map",
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
    generation: 2,
};

impl Generator for OrientGrid {
    type Item = Item;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn too_small(&self, level: Level, home: HomeAngles) -> bool {
        hardly_differs(Norths::at_home(home, step_at(level)).grid_magnetic())
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Item {
        // On home ground always to half a degree: a convergence is small, and a whole degree often hides it.
        let step = if level == Level::FOUR || home.is_some() { 5 } else { 10 };
        let (offset, norths) = if level < Level::THREE {
            let home = home.map(|home| Norths::at_home(home, step_at(level)).grid_magnetic());
            (Conversion::draw_offset(level, home, draw), None)
        } else {
            let drawn = if step == 10 { Level::TWO } else { level };
            let declination = Conversion::draw_offset(drawn, home_declination(home), draw);
            let norths = Norths::draw(declination, step, home, draw);
            (norths.grid_magnetic(), Some(norths))
        };
        let old = (level == Level::FOUR).then(|| {
            let this_year = Dated::draw_year(draw);
            // On the side away from the declination, so that the two cannot be taken for each other.
            let away = match norths.map_or(0, |norths| norths.convergence.signum()) {
                0 => draw.sign(),
                side => -side,
            };
            OldMap {
                printed: offset + draw.between(3, 8) * 5 * away,
                year: this_year - draw.between(18, 30),
                this_year,
            }
        });
        Item { setting: Setting { line: North::Grid, offset }, level, norths, old, on_home: home.is_some() }
    }

    fn question(&self, _item: &Item) -> Question {
        Setting::question()
    }

    fn answer(&self, item: &Item) -> Answer {
        item.setting.right()
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        item.setting.mixups(list);
        if let Some(norths) = item.norths.as_ref().filter(|norths| norths.tells()) {
            list.push(DECLINATION_FOR_GMA.id, answer(-norths.declination));
            list.push(SIZES_ADDED.id, answer(-norths.added()));
        }
        if let Some(old) = &item.old {
            list.push(NOT_UPDATED.id, answer(-old.printed));
        }
    }

    fn facts(&self, item: &Item) -> Vec<Fact> {
        let mut facts = Vec::with_capacity(7);
        match &item.norths {
            Some(norths) => norths.push_facts(&mut facts),
            None => facts.push(Fact::number("grid_magnetic_deg", angle(item.setting.offset).degrees())),
        }
        if let Some(old) = &item.old {
            facts.push(Fact::number("printed_grid_magnetic_deg", angle(old.printed).degrees()));
            facts.push(Fact::number("printed_year", f64::from(old.year)));
            facts.push(Fact::number("this_year", f64::from(old.this_year)));
        }
        facts.push(Fact::word("line", North::Grid.word()));
        facts.push(Fact::word("wanted", "dial"));
        facts
    }

    fn prompt(&self, item: &Item) -> String {
        let mut out = String::with_capacity(340);
        out.push_str("Your map has only grid lines. ");
        if let Some(old) = &item.old {
            out.push_str("In ");
            super::common::push_number(&mut out, old.year.unsigned_abs());
            out.push_str(" its G-M angle was printed as ");
            push_east_west(&mut out, old.printed);
            out.push_str(". Suppose it is ");
            super::common::push_number(&mut out, old.this_year.unsigned_abs());
            out.push_str(". ");
        }
        match &item.norths {
            Some(norths) if item.old.is_some() => {
                out.push_str(if item.on_home {
                    "Declination on home ground is then "
                } else {
                    "Declination today is "
                });
                push_east_west(&mut out, norths.declination);
                out.push_str(", and grid convergence is ");
                push_east_west(&mut out, norths.convergence);
                out.push_str(". ");
            }
            Some(norths) => norths.push_given(&mut out, item.on_home),
            None => {
                out.push_str(if item.on_home { "The G-M angle on home ground is " } else { "The G-M angle is " });
                push_east_west(&mut out, item.setting.offset);
                out.push_str(". ");
            }
        }
        item.setting.push_asked(&mut out);
        out
    }

    fn steps(&self, item: &Item) -> Vec<Step> {
        let mut steps = Vec::with_capacity(8);
        if item.old.is_some() {
            steps.push(Step::words(
                "The printed G-M angle is old. Work with the declination of today; the convergence of a map never changes",
            ));
        }
        if let Some(norths) = &item.norths {
            norths.push_steps(&mut steps);
        }
        item.setting.push_steps(item.norths.is_some(), &mut steps);
        if let Some(norths) = item.norths.as_ref().filter(|norths| norths.convergence != 0) {
            let dial = wrap(-norths.declination);
            let mut words = String::with_capacity(80);
            words.push_str("By the declination alone, ");
            push_figures(&mut words, dial);
            words.push_str(", the map would lie ");
            push_size(&mut words, item.setting.off(dial));
            words.push_str("° off");
            steps.push(Step::words(words));
        }
        steps.push(item.setting.last_step());
        steps
    }

    fn hint(&self, item: &Item) -> String {
        if item.norths.is_some() {
            "First the angle from grid north to magnetic north. Then ask: seen from the needle, on which side does the grid line lie?"
        } else {
            "Draw grid north and the needle. Seen from the needle, on which side does the grid line lie, and how far?"
        }
        .to_owned()
    }

    fn paths(&self, item: &Item, mixup: MixupId) -> Paths {
        let mut yours = String::with_capacity(110);
        let offset = match (mixup, &item.norths, &item.old) {
            (id, Some(norths), _) if id == DECLINATION_FOR_GMA.id => {
                yours.push_str("Declination ");
                push_east_west(&mut yours, norths.declination);
                norths.declination
            }
            (id, Some(norths), _) if id == SIZES_ADDED.id => {
                yours.push_str(&norths.wrong_sum());
                norths.added()
            }
            (id, _, Some(old)) if id == NOT_UPDATED.id => {
                yours.push_str("Old G-M angle ");
                push_east_west(&mut yours, old.printed);
                old.printed
            }
            _ => return item.setting.paths(mixup),
        };
        yours.push_str(": ");
        yours.push_str(&sum(0, -offset));
        item.setting.push_lies(&mut yours, -offset);
        let mut right = String::with_capacity(110);
        if let Some(norths) = &item.norths {
            right.push_str("G-M angle ");
            right.push_str(&norths.sum());
            right.push_str(". ");
        }
        right.push_str(&item.setting.right_path());
        Paths { yours, right }
    }

    fn figure(&self, item: &Item) -> Figure {
        if item.level == Level::ONE { item.setting.sketch(None) } else { Figure::None }
    }

    fn explanation(&self, item: &Item, given: Option<&Answer>) -> Figure {
        item.setting.sketch(Some(given.unwrap_or(&item.setting.right())))
    }
}
impl ByHand for OrientGrid {
    fn by_hand(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Orienting {
        let step = if level == Level::FOUR || home.is_some() { 5 } else { 10 };
        let drawn = if step == 10 { level.min(Level::TWO) } else { level };
        let declination = Conversion::draw_offset(drawn, home_declination(home), draw);
        let norths = Norths::draw(declination, step, home, draw);
        let given = Levels {
            gma_given: level < Level::THREE,
            diagram: level == Level::FOUR,
            ..Levels::usual(level, norths.declination, norths.convergence, home)
        };
        Orienting::draw(North::Grid, given, draw)
    }
}
