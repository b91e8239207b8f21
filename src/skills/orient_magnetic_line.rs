//! D1, orienting by a magnetic-north line: nothing to set and nothing to add; and how far off the map then lies when the
//! line is older than today's declination.
//!
//! The dial shows 000 and the edge lies along the line, so the line ends where the needle points: the map lies off by
//! today's declination less the printed one, clockwise positive.

use super::common::{
    InTenths, Tenths, WRONG_END, angle, answer, figures, hardly_differs, in_decimals, offset_of, push_east_west,
    push_number, push_size, wrap,
};
use super::conversion::{draw_offset, home_declination, step_at};
use super::dated::Dated;
use super::hands::{ByHand, Levels, Orienting};
use super::norths::{Norths, SIZES_ADDED, push_together, same_side};
use super::orienting::{self, TURN_UNTIL_BOXED, push_lies};
use crate::angle::{Declination, North};
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Figure, FigurePart, Generator, HomeAngles, Level, LineRole, MixupList,
    MixupMeta, Question, SkillMeta, Step, Value, Wanted,
};

mod meta;
mod sketch;

pub(super) use meta::{DECLINATION_AS_READING, DIAGRAM_PRONG, DIAL_SET_TO_DECLINATION, WRONG_LINE};
use meta::{MAGNETIC, META, OFF, OFF_THE_OTHER_WAY, OFFERS, Offer, WAYS, WHOLE_DECLINATION};

/// The skill `orient-magnetic-line`.
pub(super) struct OrientMagneticLine;

/// How far from the needle, in tenths, a line must point that is offered beside the right one.
const CLEARLY_ELSEWHERE: Tenths = 50;

/// The numbers of one problem.
pub(super) struct Item {
    /// Today's declination.
    declination: Declination,
    asked: Asked,
    level: Level,
    on_home: bool,
}

enum Asked {
    /// Which number must stand on the dial.
    Dial,
    /// Along which of the map's lines the edge is laid, with 000 on the dial.
    Line(&'static Offer),
    /// How far off a dated map lies.
    Off {
        printed: Declination,
        year: i32,
        this_year: i32,
        /// Level 4: where the magnetic prong of the diagram beside the line is drawn.
        prong: Option<Tenths>,
    },
}

impl Generator for OrientMagneticLine {
    type Item = Item;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn too_small(&self, level: Level, home: HomeAngles) -> bool {
        hardly_differs(Norths::at_home(home, step_at(level)).declination)
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Item {
        let on_home = home.is_some();
        let drawn: Declination = draw_offset(level, home_declination(home), draw);
        let mut declination = drawn.in_tenths();
        if level == Level::ONE {
            let mut asked = Asked::Dial;
            if draw.chance(1, 2) {
                let offer = &OFFERS[draw.below(OFFERS.len() as u32) as usize];
                if home.is_none() {
                    declination = draw.between(CLEARLY_ELSEWHERE / 10, 20) * 10 * draw.sign();
                }
                // A line that points nearly where the needle points would do as well.
                let grid = home.filter(|_| offer.other == North::Grid);
                let grid = grid.map_or(declination, |home| Norths::at_home(home, 10).grid_magnetic().in_tenths());
                if declination.abs().min(grid.abs()) >= CLEARLY_ELSEWHERE {
                    asked = Asked::Line(offer);
                }
            }
            return Item { declination: offset_of(declination), asked, level, on_home };
        }
        let step = if level == Level::TWO { 10 } else { 5 };
        let mut off = draw.between(if step == 10 { 2 } else { 3 }, 50 / step) * step * draw.sign();
        if level == Level::THREE && !on_home && draw.chance(1, 2) {
            // The printed and today's declination on either side of zero.
            declination = draw.between(1, off.abs() / step - 1) * step * off.signum();
        } else if same_side(off, declination) && off.abs() >= declination.abs() {
            off = -off;
        }
        // Enlarged, as prongs are drawn, and on the right side.
        let prong = (level == Level::FOUR).then(|| {
            let side = if declination - off < 0 { -1 } else { 1 };
            side * ((declination - off).abs() / 50 * 50 + draw.pick(&[100, 150, 200]))
        });
        let this_year = Dated::draw_year(draw);
        let year = this_year - draw.between(20, 40);
        let asked = Asked::Off { printed: offset_of(declination - off), year, this_year, prong };
        Item { declination: offset_of(declination), asked, level, on_home }
    }

    fn question(&self, item: &Item) -> Question {
        match item.asked {
            Asked::Dial => orienting::question(),
            Asked::Line(offer) => Question::choose(&offer.fields),
            Asked::Off { .. } => Question::typed(&OFF),
        }
    }

    fn answer(&self, item: &Item) -> Answer {
        match item.asked {
            Asked::Dial => answer(0),
            Asked::Line(offer) => Answer::choice(offer.magnetic()),
            Asked::Off { printed, .. } => turned(item.off(printed)),
        }
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        let declination = item.declination.in_tenths();
        match item.asked {
            Asked::Dial => {
                let lies = |dial: Tenths| {
                    let mut way = figures(wrap(dial));
                    way.push_str(" on the dial");
                    push_lies(&mut way, dial);
                    way
                };
                list.push(&DIAL_SET_TO_DECLINATION, answer(-declination), || lies(-declination));
                list.push(&DECLINATION_AS_READING, answer(declination), || lies(declination));
                list.push(&WRONG_END, answer(1800), || "180 on the dial. The map lies upside down".to_owned());
            }
            Asked::Line(offer) => {
                list.push(&WRONG_LINE, Answer::choice(offer.other_line()), || {
                    if offer.other == North::Grid {
                        return "000 along a grid line: the map ends off by the G-M angle".to_owned();
                    }
                    let mut way = String::with_capacity(72);
                    way.push_str("000 along a true-north line");
                    push_lies(&mut way, declination);
                    way
                });
                list.push(&DIAGRAM_PRONG, Answer::choice(offer.prong()), || {
                    "The prong of the diagram is drawn too wide or too narrow, and the map ends off by as much"
                        .to_owned()
                });
            }
            Asked::Off { printed, prong, .. } => {
                let then = printed.in_tenths();
                let mut push = |meta: &'static MixupMeta, off: Tenths, push_sum: &dyn Fn(&mut String)| {
                    // A map that is not off is not off either way.
                    if off != 0 {
                        list.push(meta, turned(off), || {
                            let mut way = String::with_capacity(60);
                            push_sum(&mut way);
                            way.push_str(": ");
                            push_turned(&mut way, off);
                            way
                        });
                    }
                };
                push(&OFF_THE_OTHER_WAY, then - declination, &|way| push_together(way, declination, -then));
                push(&WHOLE_DECLINATION, declination, &|way| way.push_str("the whole declination"));
                push(&SIZES_ADDED, declination + then, &|way| push_together(way, declination, then));
                if let Some(prong) = prong {
                    push(&DIAGRAM_PRONG, declination - prong, &|way| push_together(way, declination, -prong));
                }
            }
        }
    }

    fn right_way(&self, item: &Item) -> String {
        match item.asked {
            Asked::Dial => "The line already points to magnetic north: 000 on the dial".to_owned(),
            Asked::Line(_) => "000 along the magnetic-north line: the map lies right".to_owned(),
            Asked::Off { printed, .. } => {
                let mut right = String::with_capacity(140);
                right.push_str(item.rule(printed));
                right.push_str(": ");
                right.push_str(&item.difference(printed));
                push_lies(&mut right, item.off(printed));
                right
            }
        }
    }

    fn facts(&self, item: &Item) -> Facts {
        let mut facts = Vec::with_capacity(7);
        facts.push(Fact::angle(FactName::Declination, item.declination.angle()));
        match item.asked {
            Asked::Dial => {
                facts.push(Fact::north(FactName::Line, North::Magnetic));
                facts.push(Fact::wanted(Wanted::Dial));
            }
            Asked::Line(offer) => {
                facts.push(Fact::own_word("other_line", offer.other.word()));
                facts.push(Fact::own_angle("dial_deg", angle(0)));
                facts.push(Fact::wanted(Wanted::own("line")));
            }
            Asked::Off { printed, year, this_year, prong } => {
                facts.push(Fact::north(FactName::Line, North::Magnetic));
                facts.push(Fact::angle(FactName::PrintedDeclination, printed.angle()));
                facts.push(Fact::number(FactName::PrintedYear, f64::from(year)));
                facts.push(Fact::number(FactName::ThisYear, f64::from(this_year)));
                if let Some(prong) = prong {
                    facts.push(Fact::own_angle("prong_drawn_deg", angle(prong)));
                }
                facts.push(Fact::wanted(Wanted::own("map_off")));
            }
        }
        facts.into()
    }

    fn prompt(&self, item: &Item) -> String {
        let mut out = String::with_capacity(460);
        match item.asked {
            Asked::Dial => {
                out.push_str("Across your map runs a magnetic-north line, drawn for today's declination. ");
                item.push_declination(&mut out);
                out.push_str("You lay the edge of the compass along that line, travel arrow");
                out.push_str(TURN_UNTIL_BOXED);
            }
            Asked::Line(offer) => {
                out.push_str("Your map shows ");
                out.push_str(if offer.other == North::Grid { "grid lines" } else { "true-north lines" });
                out.push_str(
                    ", a declination diagram, and a magnetic-north line right across it, drawn for today's declination. ",
                );
                item.push_declination(&mut out);
                out.push_str(
                    "The dial stands at 000. Along which of them do you lay the edge of the compass, travel arrow toward the top of the map, to orient the map?",
                );
            }
            Asked::Off { printed, year, this_year, prong } => {
                out.push_str(if item.on_home { "On a map of home ground made in " } else { "On a map made in " });
                push_number(&mut out, year.unsigned_abs());
                out.push_str(" a magnetic-north line is drawn for a declination of ");
                push_east_west(&mut out, printed);
                out.push_str(". ");
                if let Some(prong) = prong {
                    out.push_str("In the diagram beside it the prong of magnetic north stands ");
                    push_size(&mut out, prong);
                    out.push_str("° ");
                    out.push_str(way(prong));
                    out.push_str(" of the star. ");
                }
                out.push_str("Suppose it is ");
                push_number(&mut out, this_year.unsigned_abs());
                out.push_str(if item.on_home { " and declination is " } else { ". Declination today is " });
                push_east_west(&mut out, item.declination);
                out.push_str(
                    ". You orient the map by the drawn line, with 000 on the dial and the travel arrow toward the top of the map, and make no mistake. How many degrees is the map turned from where it should lie, and which way?",
                );
            }
        }
        out
    }

    fn steps(&self, item: &Item) -> Vec<Step> {
        let mut steps = Vec::with_capacity(6);
        match item.asked {
            Asked::Dial => {
                let line = Step::words("A magnetic-north line points where the needle points");
                steps.push(line.about(FigurePart::Line(LineRole::Given)));
                steps.push(Step::words("So nothing is added or subtracted, whatever the declination is"));
                steps.push(Step::new("On the dial", figures(0)));
            }
            Asked::Line(offer) => {
                let needle = Step::words("With 000 on the dial the edge must point where the needle points");
                steps.push(needle.about(FigurePart::North(North::Magnetic)));
                steps.push(if offer.other == North::Grid {
                    Step::words("Grid lines point to grid north: they need another number on the dial")
                } else {
                    Step::words("True-north lines point to true north: they need another number on the dial")
                        .about(FigurePart::North(North::True))
                });
                steps.push(Step::words("The prongs of a diagram are not drawn to scale"));
                let left = Step::new("That leaves one", MAGNETIC.to_owned());
                steps.push(left.about(FigurePart::Line(LineRole::Given)));
            }
            Asked::Off { printed, prong, .. } => {
                if prong.is_some() {
                    steps.push(Step::words(
                        "The diagram is not to scale and you did not use it: its prong does not matter",
                    ));
                }
                let line = Step::words(
                    "The line shows where the needle pointed then; today the needle takes line and map with it",
                );
                steps.push(line.about(FigurePart::Line(LineRole::Given)));
                steps.extend(in_decimals(&[item.declination.in_tenths(), printed.in_tenths()]));
                let difference = Step::new(item.rule(printed), item.difference(printed));
                steps.push(difference.about(FigurePart::Line(LineRole::Given)));
                let off = item.off(printed);
                let mut sum = String::with_capacity(24);
                push_turned(&mut sum, off);
                let turns = if off < 0 {
                    "The needle now points further counterclockwise than the line did, and the map turns with it"
                } else {
                    "The needle now points further clockwise than the line did, and the map turns with it"
                };
                steps.push(Step::new(turns, sum).about(FigurePart::North(North::Magnetic)));
            }
        }
        steps
    }

    fn hint(&self, item: &Item) -> String {
        match item.asked {
            Asked::Dial | Asked::Line(_) => "Where does a magnetic-north line point, and where does the needle point?",
            Asked::Off { .. } => {
                "Draw true north, the needle of then and the needle of today. How far has the needle moved, and which way?"
            }
        }
        .to_owned()
    }

    fn figure(&self, item: &Item) -> Figure {
        if item.level == Level::ONE { item.sketch(None) } else { Figure::None }
    }

    fn explanation(&self, item: &Item, given: Option<&Answer>) -> Figure {
        item.sketch(given)
    }
}

impl ByHand for OrientMagneticLine {
    fn by_hand(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Orienting {
        let declination: Declination = draw_offset(level, home_declination(home), draw);
        let convergence = Norths::draw(declination, 10, home, draw).convergence;
        // From level 3 the line is as old as the map.
        let old = if level >= Level::THREE { draw.between(3, 7) * 10 * draw.sign() } else { 0 };
        let given = Levels {
            printed: offset_of(declination.in_tenths() + old),
            diagram: level == Level::FOUR,
            ..Levels::usual(level, declination, convergence, home)
        };
        Orienting::draw(North::Magnetic, given, draw)
    }
}

impl Item {
    fn push_declination(&self, out: &mut String) {
        out.push_str(if self.on_home { "Declination on home ground is " } else { "Declination is " });
        push_east_west(out, self.declination);
        out.push_str(". ");
    }

    /// How far the map lies off, clockwise positive: as far as today's needle points from that of then.
    fn off(&self, printed: Declination) -> Tenths {
        self.declination.then(printed.inverse()).in_tenths()
    }

    /// `12 − 9 = 3`.
    fn difference(&self, printed: Declination) -> String {
        let mut line = String::with_capacity(20);
        push_together(&mut line, self.declination.in_tenths(), printed.inverse().in_tenths());
        line
    }

    /// Whether to add or to subtract.
    fn rule(&self, printed: Declination) -> &'static str {
        if same_side(self.declination.in_tenths(), printed.in_tenths()) {
            "Only the difference counts. Both on the same side of true north, so subtract"
        } else {
            "Only the difference counts. On opposite sides of true north, so add"
        }
    }
}

/// The answer: how far, and which way.
fn turned(off: Tenths) -> Answer {
    Answer::two(Value::Angle(angle(off.abs())), Value::Choice(place_of(off)))
}

/// Where the way of a turn stands among the ways.
fn place_of(off: Tenths) -> usize {
    usize::from(off < 0)
}

fn way(off: Tenths) -> &'static str {
    WAYS[place_of(off)]
}

/// Appends `3° off, turned clockwise`.
fn push_turned(out: &mut String, off: Tenths) {
    push_size(out, off);
    out.push_str("° off, turned ");
    out.push_str(way(off));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Code, realise};

    fn dated(printed: Tenths, declination: Tenths) -> Item {
        let asked = Asked::Off { printed: offset_of(printed), year: 1993, this_year: 2013, prong: None };
        Item { declination: offset_of(declination), asked, level: Level::TWO, on_home: false }
    }

    #[test]
    fn a_dated_map_ends_off_by_todays_declination_less_the_printed_one() {
        // Outside checks CV070, CV071 (TC 3-25.26, 15 Nov 2013, p. 6-1, seen): 1993 to 2013, 23 E to 18 E, and 2 W to 4 W.
        assert_eq!(OrientMagneticLine.answer(&dated(230, 180)), turned(-50));
        assert_eq!(OrientMagneticLine.answer(&dated(-20, -40)), turned(-20));
    }

    #[test]
    fn the_dial_stands_at_zero_for_a_magnetic_line_whatever_the_declination() {
        // Outside check CV065 (definition).
        for declination in [-280, -5, 140] {
            let declination = offset_of(declination);
            let item = Item { declination, asked: Asked::Dial, level: Level::ONE, on_home: false };
            assert_eq!(OrientMagneticLine.answer(&item), answer(0));
        }
    }

    #[test]
    fn a_needle_further_clockwise_turns_the_map_clockwise() {
        // The model of the map table: β = map + printed and β = today, so map = today − printed.
        let steps = OrientMagneticLine.steps(&dated(-120, -90));
        assert_eq!(steps.last().map(|step| step.sum.as_str()), Some("3° off, turned clockwise"));
        let right = OrientMagneticLine.right_way(&dated(-120, -90));
        assert!(right.ends_with("12 − 9 = 3. The map lies 3° off, turned clockwise"), "{right}");
    }

    #[test]
    fn west_added_to_west_turns_the_map_counterclockwise_by_both() {
        let found = (0..200).find_map(|seed| {
            let code = Code { skill: &OrientMagneticLine, level: Level::TWO, seed, home: None };
            let problem = realise(&code).ok().filter(|problem| problem.exposes(SIZES_ADDED.id))?;
            let size = |name| problem.facts().angle(&name).map(|angle| -angle.degrees()).filter(|size| *size > 0.0);
            let (today, then) = (size(FactName::Declination)?, size(FactName::PrintedDeclination)?);
            let added = problem.mixups().iter().find(|mixup| mixup.meta.id == SIZES_ADDED.id)?;
            Some((today.max(then), today.min(then), problem.paths(SIZES_ADDED.id, &added.answer)?.yours))
        });
        let (large, small, way) = found.expect("some problem has both declinations west");
        let both = large + small;
        assert_eq!(way, format!("{large} + {small} = {both}: {both}° off, turned counterclockwise"));
    }
}
