//! D1, orienting by a magnetic-north line: nothing to set and nothing to add; and how far off the map then lies when the
//! line is older than today's declination.
//!
//! The dial shows 000 and the edge lies along the line, so the line ends where the needle points: the map lies off by
//! today's declination less the printed one, clockwise positive.

use super::common::{
    CIRCLE, InTenths, Tenths, WRONG_END, angle, answer, bare_sum, bearing_of, east_west, figures, hardly_differs,
    offset_of, size, wrap,
};
use super::conversion::{draw_offset, home_declination};
use super::dated::Dated;
use super::hands::{ByHand, Levels, Orienting};
use super::norths::{Norths, SIZES_ADDED, convergence_beside, given_alone_words, same_side, sizes_together, whole};
use super::orienting::{self, ArrowToward, TURN_UNTIL_BOXED, lies_words};
use crate::angle::{Bearing, Declination, Magnetic, North, SENSES};
use crate::numbers;
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Figure, FigurePart, Generator, HomeAngles, Level, LineRole, MixupList,
    MixupMeta, OtherWay, Question, SkillMeta, Step, Value, Wanted,
};
use std::fmt::{self, Display, Write};

mod meta;
mod sketch;

pub(super) use meta::{DECLINATION_AS_READING, DIAGRAM_PRONG, DIAL_SET_TO_DECLINATION, WRONG_LINE};
use meta::{MAGNETIC, META, OFF, OFF_THE_OTHER_WAY, OFFERS, Offer, WHOLE_DECLINATION};

/// The skill `orient-magnetic-line`.
pub(super) struct OrientMagneticLine;

/// How far from the needle, in tenths, a line must point that is offered beside the right one.
const CLEARLY_ELSEWHERE: Tenths = 50;

/// The numbers of one problem.
pub(super) struct OrientMagneticLineItem {
    /// Today's declination.
    declination: Declination,
    asked: Asked,
    level: Level,
    on_home: bool,
}

enum Asked {
    /// Which number must stand on the dial, by the way that the travel arrow points along the line.
    Dial(ArrowToward),
    /// Along which of the map's lines the edge is laid, with 000 on the dial.
    Line(&'static Offer),
    /// How far off the map lies when this number was left on the dial: here 000 is not the answer.
    Left(Bearing<Magnetic>),
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
    type Item = OrientMagneticLineItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn reckons_with_old_maps(&self, level: Level) -> bool {
        level > Level::ONE
    }

    fn too_small(&self, _level: Level, home: HomeAngles) -> bool {
        hardly_differs(whole(home.declination()))
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> OrientMagneticLineItem {
        let on_home = home.is_some();
        let drawn: Declination = draw_offset(level, home_declination(home), draw);
        let mut declination = drawn.in_tenths();
        if level == Level::ONE {
            // Toward the bottom it is not 000.
            let mut asked = Asked::Dial(if draw.chance(1, 2) { ArrowToward::Bottom } else { ArrowToward::Top });
            if draw.chance(1, 3) {
                let turned = draw.between(25, 155) * 10;
                asked = Asked::Left(bearing_of(turned * draw.sign()));
            } else if draw.chance(1, 2) {
                let offer = &OFFERS[numbers::place(draw.raw(), OFFERS.len())];
                if home.is_none() {
                    declination = draw.between(CLEARLY_ELSEWHERE / 10, 20) * 10 * draw.sign();
                }
                // A line that points nearly where the needle points would do as well.
                let grid = home.filter(|_| offer.other == North::Grid);
                let grid = grid.map_or(declination, |home| Norths::at_home(home).on_dial().in_tenths());
                if declination.abs().min(grid.abs()) >= CLEARLY_ELSEWHERE {
                    asked = Asked::Line(offer);
                }
            }
            return OrientMagneticLineItem { declination: offset_of(declination), asked, level, on_home };
        }
        // The difference counts: it is the sum of both where the needle has gone through true north. Subtracting the sizes
        // must not be right in most problems.
        let through_true = draw.chance(21, 50);
        let off = if through_true {
            let off = draw.between(4, 9) * 10 * draw.sign();
            declination = draw.between(2, off.abs() / 10 - 2) * 10 * off.signum();
            off
        } else {
            let off = draw.between(2, 5) * 10 * draw.sign();
            let stays = (declination - off) * declination > 0;
            if stays { off } else { -off }
        };
        // Enlarged, as prongs are drawn, and on the right side.
        let prong = (level == Level::FOUR).then(|| {
            let side = if declination - off < 0 { -1 } else { 1 };
            side * ((declination - off).abs() / 50 * 50 + draw.pick(&[100, 150, 200]))
        });
        let this_year = Dated::draw_year(draw);
        // No faster than needles go: 15′ a year.
        let year = this_year - draw.between(20.max(off.abs() / 10 * 4), 40);
        let asked = Asked::Off { printed: offset_of(declination - off), year, this_year, prong };
        OrientMagneticLineItem { declination: offset_of(declination), asked, level, on_home }
    }

    fn question(&self, item: &OrientMagneticLineItem) -> Question {
        match item.asked {
            Asked::Dial(_) => orienting::question(),
            Asked::Line(offer) => Question::choose(&offer.fields),
            Asked::Off { .. } | Asked::Left(_) => Question::typed(&OFF),
        }
    }

    fn answer(&self, item: &OrientMagneticLineItem) -> Answer {
        match item.asked {
            Asked::Dial(arrow) => answer(arrow.turn()),
            Asked::Line(offer) => Answer::choice(offer.magnetic()),
            Asked::Off { printed, .. } => turned(item.off(printed)),
            Asked::Left(dial) => turned(lies(dial)),
        }
    }

    fn other_ways(&self, item: &OrientMagneticLineItem) -> Vec<OtherWay> {
        let off = match item.asked {
            Asked::Dial(_) | Asked::Line(_) => return Vec::new(),
            Asked::Off { printed, .. } => item.off(printed),
            Asked::Left(dial) => lies(dial),
        };
        // Round the other way a map comes to lie just as it does by the shorter one.
        let answer = Answer::two(Value::Angle(angle(3600 - off.abs())), Value::Choice(1 - place_of(off)));
        vec![OtherWay { answer, said: "you went round the longer way", better: false }]
    }

    fn mixups(&self, item: &OrientMagneticLineItem, list: &mut MixupList) {
        let declination = item.declination.in_tenths();
        match item.asked {
            Asked::Dial(arrow) => {
                let along = arrow.turn();
                let on_dial = |off: Tenths| format!("{} on the dial{}", figures(wrap(along + off)), lies_words(off));
                list.push(&DIAL_SET_TO_DECLINATION, answer(along - declination), || on_dial(-declination));
                list.push(&DECLINATION_AS_READING, answer(along + declination), || on_dial(declination));
                list.push(&WRONG_END, answer(along + 1800), || {
                    format!("{} on the dial. The map lies upside down", figures(wrap(along + 1800)))
                });
            }
            Asked::Line(offer) => {
                list.push(&WRONG_LINE, Answer::choice(offer.other_line()), || {
                    if offer.other == North::Grid {
                        return "000 along a grid line: the map ends off by the G-M angle".to_owned();
                    }
                    format!("000 along a true-north line{}", lies_words(declination))
                });
                list.push(&DIAGRAM_PRONG, Answer::choice(offer.prong()), || {
                    "The prong of the diagram is drawn too wide or too narrow, and the map ends off by as much"
                        .to_owned()
                });
            }
            Asked::Left(dial) => {
                let way = |off: Tenths| turned_words(off).to_string();
                list.push(&OFF_THE_OTHER_WAY, turned(-lies(dial)), || way(-lies(dial)));
                list.push(&WHOLE_DECLINATION, turned(declination), || {
                    format!("the whole declination: {}", way(declination))
                });
            }
            Asked::Off { printed, prong, .. } => {
                let then = printed.in_tenths();
                let mut push = |meta: &'static MixupMeta, off: Tenths, sum: &dyn Display| {
                    // A map that is not off is not off either way.
                    if off != 0 {
                        list.push(meta, turned(off), || format!("{sum}: {}", turned_words(off)));
                    }
                };
                push(&OFF_THE_OTHER_WAY, then - declination, &sizes_together(angle(declination), angle(-then)));
                push(&WHOLE_DECLINATION, declination, &"the whole declination");
                push(&SIZES_ADDED, declination + then, &sizes_together(angle(declination), angle(then)));
                if let Some(prong) = prong {
                    push(&DIAGRAM_PRONG, declination - prong, &sizes_together(angle(declination), angle(-prong)));
                }
            }
        }
    }

    fn right_way(&self, item: &OrientMagneticLineItem) -> String {
        match item.asked {
            Asked::Dial(ArrowToward::Top) => "The line already points to magnetic north: 000 on the dial".to_owned(),
            Asked::Dial(ArrowToward::Bottom) => {
                "The line points to magnetic north, and the travel arrow the other way along it: 180 on the dial"
                    .to_owned()
            }
            Asked::Line(_) => "000 along the magnetic-north line: the map lies as it should".to_owned(),
            Asked::Left(dial) => {
                let mut right = format!("{} where 000 belongs", figures(dial));
                let _ = write!(right, "{}", lies_words(lies(dial)));
                right
            }
            Asked::Off { printed, .. } => {
                format!("{}: {}{}", item.rule(printed), item.difference(printed), lies_words(item.off(printed)))
            }
        }
    }

    fn facts(&self, item: &OrientMagneticLineItem) -> Facts {
        let mut facts = Vec::with_capacity(7);
        facts.push(Fact::angle(FactName::Declination, item.declination.angle()));
        match item.asked {
            Asked::Dial(arrow) => {
                facts.push(Fact::north(FactName::Line, North::Magnetic));
                facts.push(arrow.fact());
                facts.push(Fact::wanted(Wanted::Dial));
            }
            Asked::Left(dial) => {
                facts.push(Fact::north(FactName::Line, North::Magnetic));
                facts.push(Fact::own_angle("dial_deg", dial.angle()));
                facts.push(Fact::wanted(Wanted::own("map_off")));
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

    fn prompt(&self, item: &OrientMagneticLineItem) -> String {
        let mut out = String::with_capacity(460);
        match item.asked {
            Asked::Dial(arrow) => {
                let _ = write!(
                    out,
                    "Across your map runs a magnetic-north line, drawn for today's declination. {}You lay the edge of the compass along that line{}{}",
                    item.declination_words(),
                    arrow.words(),
                    TURN_UNTIL_BOXED
                );
            }
            Asked::Left(dial) => {
                let _ = write!(
                    out,
                    "Across your map runs a magnetic-north line, drawn for today's declination. {}The dial still stands at {}, and you forget to turn it. You lay the edge of the compass along that line, travel arrow toward the top of the map, and turn map and compass together until the needle is boxed. How many degrees is the map turned from where it should lie, and which way?",
                    item.declination_words(),
                    figures(dial)
                );
            }
            Asked::Line(offer) => {
                let _ = write!(
                    out,
                    "Your map shows {}, in its margin the magnetic prong of the diagram, and right across it a magnetic-north line, drawn for today's declination. {}The dial stands at 000. Along which of them do you lay the edge of the compass, travel arrow toward the top of the map, to orient the map?",
                    if offer.other == North::Grid { "grid lines" } else { "true-north lines" },
                    item.declination_words()
                );
            }
            Asked::Off { printed, year, this_year, prong } => {
                let _ = write!(
                    out,
                    "On a map made in {} a magnetic-north line is drawn for a declination of {}. ",
                    year.unsigned_abs(),
                    east_west(printed)
                );
                if let Some(prong) = prong {
                    let _ = write!(
                        out,
                        "In the diagram beside it the prong of magnetic north stands {}° {} of the star. ",
                        size(prong),
                        way(prong)
                    );
                }
                let _ = write!(
                    out,
                    "Suppose it is {}. Declination today is {}. You orient the map by the drawn line, with 000 on the dial and the travel arrow toward the top of the map, and make no mistake. How many degrees is the map turned from where it should lie, and which way?",
                    this_year.unsigned_abs(),
                    east_west(item.declination)
                );
            }
        }
        out
    }

    fn steps(&self, item: &OrientMagneticLineItem) -> Vec<Step> {
        let mut steps = Vec::with_capacity(6);
        match item.asked {
            Asked::Dial(arrow) => {
                let line = Step::words("A magnetic-north line points where the needle points");
                steps.push(line.about(FigurePart::Line(LineRole::Given)));
                steps.push(Step::words("So nothing is added and nothing taken off, whatever the declination is"));
                if arrow == ArrowToward::Bottom {
                    steps.push(Step::words(
                        "The dial counts for the travel arrow, and that points down the map, along the line's other end: so count from 180",
                    ));
                }
                steps.push(Step::new("On the dial", figures(arrow.turn())));
            }
            Asked::Left(dial) => {
                let line = Step::words("A magnetic-north line needs 000, whatever the declination is");
                steps.push(line.about(FigurePart::Line(LineRole::Given)));
                let off = lies(dial);
                let mut sum = String::with_capacity(24);
                if off < 0 {
                    steps.push(Step::new(
                        "The number is too small by what is missing to 360",
                        bare_sum(CIRCLE, -dial.in_tenths()),
                    ));
                } else {
                    steps.push(Step::new("The number is too large by all of it", figures(dial)));
                }
                let _ = write!(sum, "{}", turned_words(off));
                steps.push(Step::new(
                    if off < 0 {
                        "A larger number turns edge and map clockwise, a smaller one counterclockwise, so counterclockwise"
                    } else {
                        "A larger number turns edge and map clockwise, so clockwise"
                    },
                    sum,
                ));
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
                let difference = Step::new(item.rule(printed), item.difference(printed));
                steps.push(difference.about(FigurePart::Line(LineRole::Given)));
                let off = item.off(printed);
                let sum = turned_words(off).to_string();
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

    fn hint(&self, item: &OrientMagneticLineItem) -> String {
        match item.asked {
            Asked::Dial(ArrowToward::Bottom) => {
                "Where does a magnetic-north line point, where does the needle point, and which way along the line does the travel arrow point?"
            }
            Asked::Dial(ArrowToward::Top) | Asked::Line(_) => "Where does a magnetic-north line point, and where does the needle point?",
            Asked::Left(_) => {
                "Which number belongs on the dial for a magnetic-north line? How far is yours from it, and which way does a larger number turn the edge?"
            }
            Asked::Off { .. } => {
                "Draw true north, the needle of then and the needle of today. How far has the needle moved, and which way?"
            }
        }
        .to_owned()
    }

    fn figure(&self, item: &OrientMagneticLineItem) -> Figure {
        match (&item.asked, item.sketch(None)) {
            _ if item.level > Level::ONE => Figure::None,
            // Which line lies along magnetic north is what is asked.
            (Asked::Line(_), Figure::Sketch { norths, .. }) => {
                Figure::Sketch { norths, lines: Vec::new(), arcs: Vec::new() }
            }
            (_, sketch) => sketch,
        }
    }

    fn explanation(&self, item: &OrientMagneticLineItem, given: Option<&Answer>) -> Figure {
        item.sketch(given)
    }
}

impl ByHand for OrientMagneticLine {
    fn by_hand(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Orienting {
        let declination: Declination = draw_offset(level, home_declination(home), draw);
        let convergence = convergence_beside(home, draw);
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

impl OrientMagneticLineItem {
    fn declination_words(&self) -> impl Display {
        fmt::from_fn(move |out| write!(out, "{}. ", given_alone_words("Declination", self.declination, self.on_home)))
    }

    /// How far the map lies off, clockwise positive: as far as today's needle points from that of then.
    fn off(&self, printed: Declination) -> Tenths {
        self.declination.then(printed.inverse()).in_tenths()
    }

    /// `12 − 9 = 3`.
    fn difference(&self, printed: Declination) -> String {
        sizes_together(self.declination.angle(), printed.inverse().angle()).to_string()
    }

    /// Whether to add or to subtract.
    fn rule(&self, printed: Declination) -> &'static str {
        if same_side(self.declination.angle(), printed.angle()) {
            "Only the difference counts. Both on the same side of true north, so subtract"
        } else {
            "Only the difference counts. On opposite sides of true north, so add"
        }
    }
}

/// How the map lies with this number on the dial and the edge along a magnetic-north line, clockwise positive.
fn lies(dial: Bearing<Magnetic>) -> Tenths {
    dial.angle().wrapped_half().in_tenths()
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
    SENSES[place_of(off)]
}

/// Appends `3° off, turned clockwise`.
fn turned_words(off: Tenths) -> impl Display {
    fmt::from_fn(move |out| write!(out, "{}° off, turned {}", size(off), way(off)))
}

#[cfg(test)]
mod tests;
