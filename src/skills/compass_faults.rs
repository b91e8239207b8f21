//! E7, is the compass right? A known line before each trip, and what its number says; more than 3° is too much, and the distances
//! of iron are those of the manual (FM 3-25.26: 18 m from a vehicle, 55 m from a high-tension line). The signs of each fault are
//! common practice, no source.

mod compare;
mod fault;
mod meta;

use super::amounts::amount;
use super::common::{
    InTenths, NOT_APPLIED, SIGN_FLIPPED, Tenths, angle, bearing, bearing_of, east_west, figures, offset_of, size, sum,
    wrap,
};
use crate::angle::{Bearing, Declination, Magnetic, North, True};
use crate::problem::{
    Answer, Choices, Draw, Fact, FactName, Facts, Field, FieldKind, Figure, Generator, HomeAngles, LengthUnit, Level,
    MixupList, Question, SkillMeta, Step, Tolerance, Value, Wanted,
};
use compare::{error, four, in_order, known, mean, middle, other_end, shown_of, undone, verdict};
use fault::{FAULTS, Fault, Shown};
use meta::{ERROR_ADDED, ERROR_LEFT_IN, FEW_STEPS, LIMIT, MEAN_OF_ALL, META, OTHER_END, OTHER_IRON, WHOLE_DISTANCE};

/// The skill `compass-faults`.
pub(super) struct CompassFaults;

/// The numbers of one problem.
pub(super) struct CompassFaultsItem {
    task: Task,
    line: &'static str,
}

/// What is asked.
enum Task {
    /// What is wrong.
    Name(Shown),
    /// How far the compass is off a line whose bearing the map gives from true north.
    Known { line: Bearing<True>, declination: Declination, off: i32 },
    /// Four sight one mark; one of them stands far off.
    Four { readings: [Tenths; 4], names: [&'static str; 4], odd: usize },
    /// A mark sighted with a compass whose fault a known line shows.
    Reading { line: Bearing<Magnetic>, shown: Tenths, mark: Tenths },
    /// Iron this many metres away.
    Iron { near: Iron, metres: i32 },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Iron {
    Car,
    PowerLine,
}

impl Iron {
    /// How far one keeps away, in metres (FM 3-25.26).
    const fn distance(self) -> i32 {
        match self {
            Iron::Car => 18,
            Iron::PowerLine => 55,
        }
    }

    const fn other(self) -> Iron {
        match self {
            Iron::Car => Iron::PowerLine,
            Iron::PowerLine => Iron::Car,
        }
    }

    const fn word(self) -> &'static str {
        match self {
            Iron::Car => "a parked car",
            Iron::PowerLine => "a high-voltage line",
        }
    }
}

/// So many degrees beside a known line are still good enough (FM 3-25.26).
const LIMIT_DEG: i32 = 3;
const VERDICTS: [&str; 2] = ["take it along", "put it aside"];
const LINES: [&str; 5] = ["the wall by the camp", "the straight lane", "the jetty", "the edge of the field", "the dam"];
const NAMES: [&str; 6] = ["Ilva", "Tarn", "Mossa", "Bren", "Odo", "Selle"];

static NAME: [Field; 1] = [Field {
    name: "fault",
    label: "what is wrong",
    kind: FieldKind::Choice(Choices::Fixed(&FAULTS)),
    tolerance: Tolerance::EXACT,
}];
static KNOWN: [Field; 2] = [
    Field { name: "off", label: "how many degrees it is off", kind: FieldKind::Turn, tolerance: Tolerance::EXACT },
    Field {
        name: "verdict",
        label: "what you do with it",
        kind: FieldKind::Choice(Choices::Fixed(&VERDICTS)),
        tolerance: Tolerance::EXACT,
    },
];
static READING: [Field; 1] = [reading(Tolerance::EXACT)];
static AWAY: [Field; 1] = [Field {
    name: "away",
    label: "how much further at the least, in metres",
    kind: FieldKind::Distance(LengthUnit::Metres),
    tolerance: Tolerance::EXACT,
}];

const fn reading(tolerance: Tolerance) -> Field {
    Field { name: "mark", label: "the bearing of the mark", kind: FieldKind::Bearing(North::Magnetic), tolerance }
}

impl Generator for CompassFaults {
    type Item = CompassFaultsItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> CompassFaultsItem {
        let known = draw.between(0, 359) * 10;
        let task = match level.number() {
            1 => Task::Name(Shown::draw(known, draw)),
            2 => {
                let off = if draw.chance(1, 2) { draw.between(1, LIMIT_DEG) } else { draw.between(LIMIT_DEG + 1, 9) };
                let declination = draw.between(10, 22) * 10 * draw.sign();
                Task::Known { line: bearing_of(known), declination: offset_of(declination), off: off * draw.sign() }
            }
            3 => {
                let odd = draw.between(0, 3).unsigned_abs() as usize;
                // Two agree, one is doubtful and still within a hand's 3°, and one is more off than any hand.
                let doubtful = 3 * draw.sign();
                let far = draw.between(8, 12) * draw.sign();
                let mut near = [0, draw.sign(), doubtful];
                draw.shuffle(&mut near);
                let mut others = near.into_iter();
                let beside = [0, 1, 2, 3].map(|at| if at == odd { far } else { others.next().unwrap_or(0) });
                let mut names = NAMES;
                draw.shuffle(&mut names);
                let names = [names[0], names[1], names[2], names[3]];
                Task::Four { readings: beside.map(|off| wrap(known + off * 10)), names, odd }
            }
            _ if draw.chance(1, 4) => {
                let near = if draw.chance(1, 3) { Iron::Car } else { Iron::PowerLine };
                let most = if near == Iron::Car { 15 } else { 50 };
                Task::Iron { near, metres: draw.between(4, most) }
            }
            _ => {
                let off = if draw.chance(1, 4) { 1800 } else { draw.between(5, 20) * 10 * draw.sign() };
                let mark = draw.between(0, 359) * 10;
                Task::Reading { line: bearing_of(known), shown: wrap(known + off), mark }
            }
        };
        CompassFaultsItem { task, line: draw.pick(&LINES) }
    }

    fn question(&self, item: &CompassFaultsItem) -> Question {
        match &item.task {
            Task::Name(_) => Question::choose(&NAME),
            Task::Known { .. } => Question::typed(&KNOWN),
            Task::Four { names, .. } => Question::typed(vec![
                Field {
                    name: "aside",
                    label: "who steps aside",
                    kind: FieldKind::Choice(Choices::Own(names.map(str::to_owned).to_vec().into())),
                    tolerance: Tolerance::EXACT,
                },
                reading(Tolerance::within(1.0).told_within(0.4)),
            ]),
            Task::Reading { .. } => Question::typed(&READING),
            Task::Iron { .. } => Question::typed(&AWAY),
        }
    }

    fn answer(&self, item: &CompassFaultsItem) -> Answer {
        match item.task {
            Task::Name(ref shown) => Answer::choice(shown.fault as usize),
            Task::Known { off, .. } => known(off.abs() * 10),
            Task::Four { readings, odd, .. } => four(odd, middle(readings, odd)),
            Task::Reading { line, shown, mark } => super::common::answer(mark - error(line, shown)),
            Task::Iron { near, metres } => amount(f64::from(near.distance() - metres)),
        }
    }

    fn mixups(&self, item: &CompassFaultsItem, list: &mut MixupList) {
        match item.task {
            Task::Name(ref shown) => {
                for fault in Fault::ALL.into_iter().filter(|fault| *fault != shown.fault) {
                    list.push(shown.fault.taken_for(fault), Answer::choice(fault as usize), || {
                        format!("{}: {}", FAULTS[fault as usize], fault.sign())
                    });
                }
            }
            Task::Known { line, declination, off } => {
                let (magnetic, shown) = (line.to(declination), shown_of(line, declination, off));
                let beside = |expected: Tenths| angle(shown - expected).wrapped_half().abs().tenths();
                let flipped: Bearing<Magnetic> = line.to(Declination::from_angle(-declination.angle()));
                for (meta, expected) in [(&NOT_APPLIED, line.in_tenths()), (&SIGN_FLIPPED, flipped.in_tenths())] {
                    list.push(meta, known(beside(expected)), || {
                        format!(
                            "{} expected, {} shown: {}° off",
                            figures(expected),
                            figures(shown),
                            size(beside(expected))
                        )
                    });
                }
                let right = off.abs() * 10;
                let wrong = usize::from(right <= LIMIT_DEG * 10);
                list.push(&LIMIT, Answer::two(Value::Angle(angle(right)), Value::Choice(wrong)), || {
                    format!("{} expected, {} shown, and {}", figures(magnetic), figures(shown), VERDICTS[wrong])
                });
            }
            Task::Four { readings, odd, names } => {
                let all = mean(readings);
                list.push(&MEAN_OF_ALL, four(odd, all), || format!("The mean of all four is {}", figures(all)));
                let other = other_end(readings, odd);
                let kept = middle(readings, other);
                list.push(&OTHER_END, four(other, kept), || {
                    format!("{} away, and the middle of the others is {}", names[other], figures(kept))
                });
            }
            Task::Reading { line, shown, mark } => {
                let off = error(line, shown);
                list.push(&ERROR_LEFT_IN, super::common::answer(mark), || figures(mark).to_string());
                // Half a circle added or taken off is the same.
                if off != 1800 {
                    list.push(&ERROR_ADDED, super::common::answer(mark + off), || sum(mark, off).to_string());
                    list.push(&super::common::WRONG_END, super::common::answer(mark + 1800), || {
                        sum(mark, if mark < 1800 { 1800 } else { -1800 }).to_string()
                    });
                }
            }
            Task::Iron { near, metres } => {
                let distance = near.distance();
                list.push(&WHOLE_DISTANCE, amount(f64::from(distance)), || format!("{distance} m"));
                let other = near.other().distance() - metres;
                if other > 0 {
                    list.push(&OTHER_IRON, amount(f64::from(other)), || {
                        format!("{} − {metres} = {other}", near.other().distance())
                    });
                }
                list.push(&FEW_STEPS, amount(2.0), || "2 m");
            }
        }
    }

    fn right_way(&self, item: &CompassFaultsItem) -> String {
        match item.task {
            Task::Name(ref shown) => format!("{}: {}", FAULTS[shown.fault as usize], shown.fault.sign()),
            Task::Known { line, declination, off } => {
                let magnetic: Bearing<Magnetic> = line.to(declination);
                let shown = shown_of(line, declination, off);
                format!(
                    "{} expected by the compass, {} shown: {}° off, {}",
                    figures(magnetic),
                    figures(shown),
                    off.abs(),
                    verdict(off)
                )
            }
            Task::Four { readings, odd, names } => {
                format!(
                    "{} lies far from all the others; their middle is {}",
                    names[odd],
                    figures(middle(readings, odd))
                )
            }
            Task::Reading { line, shown, mark } => {
                let off = error(line, shown);
                format!("Undo what it does to the known line: {}", sum(mark, undone(mark, off)))
            }
            Task::Iron { near, metres } => {
                let distance = near.distance();
                format!("{distance} m in all, so {distance} − {metres} = {}", distance - metres)
            }
        }
    }

    fn facts(&self, item: &CompassFaultsItem) -> Facts {
        let degrees = |name, tenths: Tenths| Fact::own_angle(name, angle(tenths));
        let mut facts = match item.task {
            Task::Name(ref shown) => shown.facts(),
            Task::Known { line, declination, off } => vec![
                Fact::angle(FactName::TrueBearing, line.angle()),
                Fact::angle(FactName::Declination, declination.angle()),
                degrees("shown_magnetic_bearing_deg", shown_of(line, declination, off)),
                Fact::wanted(Wanted::own("off_known_line")),
            ],
            Task::Four { readings, names, .. } => {
                let who = ["first_name", "second_name", "third_name", "fourth_name"];
                let read = ["first_reading_deg", "second_reading_deg", "third_reading_deg", "fourth_reading_deg"];
                let told = who.into_iter().zip(names).map(|(fact, name)| Fact::own_word(fact, name));
                let told = told.chain(read.into_iter().zip(readings).map(|(fact, reading)| degrees(fact, reading)));
                told.chain([Fact::wanted(Wanted::own("who_steps_aside"))]).collect()
            }
            Task::Reading { line, shown, mark } => vec![
                degrees("known_line_deg", line.in_tenths()),
                degrees("known_line_shown_deg", shown),
                degrees("mark_shown_deg", mark),
                Fact::wanted(Wanted::own("bearing_of_mark")),
            ],
            Task::Iron { near, metres } => vec![
                Fact::own_word("iron", near.word()),
                Fact::own_number("iron_at_m", f64::from(metres)),
                Fact::wanted(Wanted::own("way_from_iron")),
            ],
        };
        facts.shrink_to_fit();
        facts.into()
    }

    fn prompt(&self, item: &CompassFaultsItem) -> String {
        let known = item.line;
        let m = |tenths: Tenths| bearing(tenths, North::Magnetic);
        match item.task {
            Task::Name(ref shown) => format!(
                "Before a trip you try the compass on a known line, {known}, which runs on {} the way you look along it. {} What is wrong?",
                m(shown.known),
                shown.seen()
            ),
            Task::Known { line, declination, off } => format!(
                "Before a trip you check a compass along {known}. By the map it runs on {} the way you look along it; the declination is {}. The compass shows {} there. By how many degrees is it off, and may it go with you? Up to 3° may be the hand.",
                bearing(line, North::True),
                east_west(declination),
                m(shown_of(line, declination, off))
            ),
            Task::Four { readings, names, .. } => {
                let [a, b, c, d] = names;
                let [one, two, three, four] = readings.map(m);
                format!(
                    "Four of you stand some metres apart, since compasses pull each other, and sight the same far tower. {a} reads {one}, {b} {two}, {c} {three} and {d} {four}. Who steps aside and looks for iron in a pocket, and which bearing do you note?"
                )
            }
            Task::Reading { line, shown, mark } => format!(
                "On the way you notice that something is wrong: along {known}, which runs on {} the way you look along it, your compass shows {}. It is the same at every place and whichever way you face, and you have no other one with you. A far tower reads {} on it. What is the bearing of the tower?",
                bearing(line, North::Magnetic),
                m(shown),
                m(mark)
            ),
            Task::Iron { near, metres } => format!(
                "You want to take a bearing. You stand {metres} m from {}. How much further away from it must you go first, at the least?",
                near.word()
            ),
        }
    }

    fn steps(&self, item: &CompassFaultsItem) -> Vec<Step> {
        let before = Step::words(
            "A needle points to whatever magnet is near, so check the compass on a known line before each trip, and take a second one along",
        );
        match item.task {
            Task::Name(ref shown) => std::iter::once(before).chain(shown.steps()).collect(),
            Task::Known { line, declination, off } => {
                let magnetic: Bearing<Magnetic> = line.to(declination);
                let shown = shown_of(line, declination, off);
                let change = -declination.in_tenths();
                vec![
                    before,
                    Step::new(
                        "What the compass should show: the map's bearing, brought to magnetic",
                        sum(line.in_tenths(), change),
                    )
                    .decides("What should the compass show along this line"),
                    Step::new(
                        "What it shows beside that",
                        format_args!("{} and {}: {}° apart", figures(magnetic), figures(shown), off.abs()),
                    ),
                    Step::new(
                        "Up to 3° may be the hand that holds it; more is the compass",
                        format_args!("{}° off: {}", off.abs(), verdict(off)),
                    )
                    .answers(),
                ]
            }
            Task::Four { readings, odd, names } => {
                let others: Vec<String> =
                    in_order(readings, odd).into_iter().map(|reading| figures(reading).to_string()).collect();
                vec![
                    Step::words(
                        "Compasses pull each other, so stand some metres apart. The tower is far away, so all must read nearly the same; a knife or a phone in a pocket turns one needle and not the others",
                    ),
                    Step::new(
                        "Nobody holds a compass better than to 2 or 3 degrees, so up to 3° beside the middle is the hand. One number lies further off",
                        format_args!("{} with {}", names[odd], figures(readings[odd])),
                    )
                    .decides("Whose number lies far from all the others"),
                    Step::new(
                        "A wrong number must not pull the result to its side: leave it out, put the others in their order, and take the one in the middle",
                        others.join(", "),
                    )
                    .decides("What pulls a mean to its side? And what stands in the middle of what is left"),
                    Step::new("So", format_args!("{} steps aside; {}° M", names[odd], figures(middle(readings, odd))))
                        .answers(),
                ]
            }
            Task::Reading { line, shown, mark } => {
                let off = error(line, shown);
                let does = if off == 1800 {
                    "half a circle too much: the needle is reversed".to_owned()
                } else {
                    format!("{}° too {}: the dial has slipped", size(off), if off > 0 { "much" } else { "little" })
                };
                vec![
                    Step::words(
                        "A fault of the compass itself does the same to every number, so what is known tells what to do with the unknown",
                    ),
                    Step::new(
                        "What it does to the known line",
                        format_args!("{} in place of {}, {does}", figures(shown), figures(line)),
                    )
                    .decides("What does the compass do to the known line"),
                    Step::new("Undo that for the tower", sum(mark, undone(mark, off))),
                    Step::new(
                        "The bearing, good enough to get back by, and then the compass is put aside",
                        format_args!("{}", bearing(mark - off, North::Magnetic)),
                    )
                    .answers(),
                ]
            }
            Task::Iron { near, metres } => {
                let distance = near.distance();
                vec![
                    Step::words("Iron and strong currents turn a needle, and what is large does so from far away"),
                    Step::new(
                        format!("By experience, what {} does to a needle is gone from", near.word()),
                        format_args!("{distance} m"),
                    )
                    .decides("How far must you be from it in all"),
                    Step::new(
                        "You stand some of it away already",
                        format_args!("{distance} − {metres} = {} m", distance - metres),
                    )
                    .answers(),
                ]
            }
        }
    }

    fn hint(&self, item: &CompassFaultsItem) -> String {
        match item.task {
            Task::Name(_) => "Compare what it shows with what it should show. Do two tries at one place agree? And is it off by the same amount along the other line?",
            Task::Known { .. } => "The line is told from true north, the compass counts from magnetic north. What should it show there?",
            Task::Four { .. } => "Three of them agree to a hand's 3 degrees. The wrong number may not count for anything.",
            Task::Reading { .. } => "What does this compass do to the line that you know? It does the same to the tower.",
            Task::Iron { .. } => "A car wants 18 m and a high-voltage line 55 m. How much of that do you have already?",
        }
        .to_owned()
    }

    fn explanation(&self, item: &CompassFaultsItem, _given: Option<&Answer>) -> Figure {
        item.rays()
    }
}

#[cfg(test)]
mod tests;
