//! E2, following a bearing: set it, turn oneself until the needle is boxed, and see what lies ahead.

use super::amounts::HAZARD;
use super::common::{
    APPLIED_TWICE, CIRCLE, InTenths, NOT_APPLIED, SIGN_FLIPPED, Tenths, angle, bearing, bearing_of, east_west, figures,
    offset_of, wrap,
};
use super::hands::{
    Angles, CORRECTED_AGAIN, DIAL_FOR_SELF, LOOKED_ALONG_NEEDLE, LOOKED_BACK, Lie, SOUTH_END_BOXED, apart, exercise,
    magnetic, named, shown_steps,
};
use crate::angle::{Bearing, Convergence, Declination, Magnetic, North, True};
use crate::maptable::{Exercise, Fault, Landmark, MapLines, Task, wrong_numbers};
use crate::problem::{
    Answer, Choices, Draw, Fact, FactName, Facts, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupList,
    MixupMeta, NorthLines, Question, SkillMeta, Step, TableProblem, Tolerance, Wanted,
};
use std::fmt::Write;

/// The skill `follow-bearing`.
pub(super) struct FollowBearing;

/// What stands around, in every problem, each time elsewhere.
const MARKS: &[&str] = &["the hut", "the tower", "the chapel", "the cairn", "the lone pine", "the boulder"];
/// Their names as facts.
const AZIMUTHS: [&str; MARKS.len()] = [
    "hut_azimuth_deg",
    "tower_azimuth_deg",
    "chapel_azimuth_deg",
    "cairn_azimuth_deg",
    "lone_pine_azimuth_deg",
    "boulder_azimuth_deg",
];
static AHEAD: [Field; 1] = [Field {
    name: "ahead",
    label: "what lies ahead",
    kind: FieldKind::Choice(Choices::Fixed(MARKS)),
    tolerance: Tolerance::EXACT,
}];

/// Marks nearer to each other than this could be taken for one another.
const ASUNDER: Tenths = 150;
/// Why a mark stands where it stands.
#[derive(Clone, Copy)]
enum Way {
    /// Right work looks there.
    Right,
    /// This mix-up looks there.
    Wrong(&'static MixupMeta),
    /// Nobody looks there.
    Nobody,
}

/// The numbers of one problem.
pub(super) struct FollowBearingItem {
    /// The bearing, from `north`.
    given: Tenths,
    north: North,
    declination: Declination,
    /// Whether the declination stands in the text: whoever meets a compass for the first time has not heard of it.
    told: bool,
    convergence: Convergence,
    /// Where each mark stands, and why, in the order of [`MARKS`].
    marks: Vec<(Way, Bearing<True>)>,
    facing: Bearing<True>,
    dial: Tenths,
}

/// A magnetic bearing corrected: of a bearing that is set, not of one that is read.
const NEEDLESSLY_CORRECTED: MixupMeta =
    MixupMeta { mend: Fault::CorrectedAgain.mend_where_followed(), ..CORRECTED_AGAIN };

static META: SkillMeta = SkillMeta {
    id: "follow-bearing",
    mark: "E2",
    family: Family::Field,
    title: "Follow a bearing",
    can: "Sets a bearing, turns with the compass until the needle is boxed, and finds what lies ahead.",
    levels: [
        "a magnetic bearing, the marks far apart",
        "a magnetic bearing, the marks closer together",
        "a true or grid bearing to be changed first",
        "a true or grid bearing, a mark at every wrong way",
    ],
    prerequisites: &["set-dial"],
    mixups: &[
        LOOKED_BACK,
        LOOKED_ALONG_NEEDLE,
        SOUTH_END_BOXED,
        DIAL_FOR_SELF,
        NEEDLESSLY_CORRECTED,
        SIGN_FLIPPED,
        NOT_APPLIED,
        APPLIED_TWICE,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 2,
};

impl FollowBearingItem {
    /// The bearing as it belongs on the dial.
    fn dial_number(&self) -> Bearing<Magnetic> {
        magnetic(self.given, self.north, self.declination, self.convergence)
    }

    /// How far magnetic north lies clockwise of the north that the bearing counts from.
    fn offset(&self) -> Tenths {
        wrap(self.given - self.dial_number().in_tenths() + 1800) - 1800
    }

    fn ahead(&self) -> Bearing<True> {
        self.dial_number().to(self.declination.inverse())
    }

    /// Where the needle points.
    fn needle(&self) -> Bearing<True> {
        Bearing::from_angle(self.declination.angle())
    }

    /// Where each wrong way of working looks: along the wrong end, and where the wrong numbers of the dial lead.
    fn wrong_ways(&self) -> Vec<(&'static MixupMeta, Bearing<True>)> {
        let mut ways = vec![(&LOOKED_BACK, self.ahead().back()), (&LOOKED_ALONG_NEEDLE, self.needle())];
        let led = |number| Bearing::<Magnetic>::from_angle(number).to(self.declination.inverse());
        let numbers = wrong_numbers(&self.exercise()).into_iter();
        ways.extend(numbers.filter_map(|(fault, number)| Some((named(fault, META.mixups)?, led(number)))));
        ways
    }

    /// Puts the marks where right and wrong ways look, as far as they lie asunder, and the rest anywhere.
    fn place(&mut self, most_wrong: usize, asunder: Tenths, draw: &mut Draw) {
        let mut places = Vec::with_capacity(MARKS.len());
        places.push((Way::Right, self.ahead().in_tenths()));
        let asunder_from_all = |places: &[(Way, Tenths)], way: Tenths, asunder: Tenths| {
            places.iter().all(|(_, other)| apart(*other, way, asunder))
        };
        for (meta, way) in self.wrong_ways().into_iter().take(most_wrong) {
            let way = way.in_tenths();
            if asunder_from_all(&places, way, ASUNDER) {
                places.push((Way::Wrong(meta), way));
            }
        }
        let mut asunder = asunder;
        while places.len() < MARKS.len() {
            let way = draw.between(0, 359) * 10;
            if asunder_from_all(&places, way, asunder) {
                places.push((Way::Nobody, way));
            } else if asunder > ASUNDER {
                asunder -= 10;
            }
        }
        draw.shuffle(&mut places);
        self.marks = places.into_iter().map(|(way, azimuth)| (way, bearing_of(azimuth))).collect();
    }

    fn right(&self) -> usize {
        self.marks.iter().position(|(way, _)| matches!(way, Way::Right)).unwrap_or(0)
    }

    fn exercise(&self) -> Exercise {
        let landmarks = MARKS
            .iter()
            .zip(&self.marks)
            .map(|(name, (_, azimuth))| Landmark { name: (*name).into(), azimuth: *azimuth })
            .collect();
        let task = Task::Follow { bearing: angle(self.given), north: self.north, landmarks };
        let FollowBearingItem { declination, convergence, .. } = *self;
        let angles = Angles { declination, printed: declination, convergence, iron: 0 };
        exercise(task, Lie { map: None, arrow: self.facing, dial: self.dial }, angles, MapLines::default())
    }
}

impl Generator for FollowBearing {
    type Item = FollowBearingItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> FollowBearingItem {
        let north = if level < Level::THREE { North::Magnetic } else { draw.pick(&[North::True, North::Grid]) };
        let step = if level == Level::ONE { 100 } else { 10 };
        let given = draw.between(0, (CIRCLE - 10) / step) * step;
        // Often enough the number passes north on its way to the dial; then the needle is near, but never what lies ahead.
        let wraps = level >= Level::THREE && draw.chance(2, 5);
        let declination = draw.between(if wraps { 20 } else { 16 }, 26) * 10 * draw.sign();
        let facing = bearing_of(draw.between(0, 359) * 10);
        let convergence = if north == North::Grid { draw.between(2, 4) * 10 * -declination.signum() } else { 0 };
        let (declination, convergence) = (offset_of(declination), offset_of(convergence));
        let told = level > Level::ONE;
        let marks = Vec::new();
        let mut item = FollowBearingItem { given, north, declination, told, convergence, marks, facing, dial: 0 };
        if wraps {
            // From map to compass: east is taken off a small number, west is added to a large one.
            let offset = item.offset();
            let beyond = draw.between(ASUNDER / 10 + 1, offset.abs() / 10 - 1) * 10;
            item.given = wrap(offset - beyond * offset.signum());
        }
        item.dial = wrap(item.dial_number().in_tenths() + draw.between(30, 150) * 10 * draw.sign());
        // Neither the north end of the needle nor its opposite may be what lies ahead.
        let needle = item.needle();
        let near = !apart(item.ahead(), needle, 2 * ASUNDER) || !apart(item.ahead(), needle.back(), 2 * ASUNDER);
        if near && !wraps {
            item.given = wrap(item.given + 700);
        }
        let (most, asunder) = match level.number() {
            1 => (2, 550),
            2 | 3 => (4, 250),
            _ => (5, 200),
        };
        item.place(most, asunder, draw);
        item
    }

    fn question(&self, _item: &FollowBearingItem) -> Question {
        Question::table(&AHEAD)
    }

    fn answer(&self, item: &FollowBearingItem) -> Answer {
        Answer::choice(item.right())
    }

    fn mixups(&self, item: &FollowBearingItem, list: &mut MixupList) {
        for (at, (way, azimuth)) in item.marks.iter().enumerate() {
            if let Way::Wrong(meta) = way {
                list.push(meta, Answer::choice(at), || {
                    // Looked elsewhere than along the arrow: the number on the dial was right.
                    let looked = [LOOKED_BACK.id, LOOKED_ALONG_NEEDLE.id].contains(&meta.id);
                    if looked {
                        let way =
                            if meta.id == LOOKED_BACK.id { "back along the arrow's tail" } else { "along the needle" };
                        return format!("{} on the dial, but a look {way}: {}", figures(item.dial_number()), MARKS[at]);
                    }
                    format!("{} on the dial leads you to {}", figures(azimuth.to(item.declination)), MARKS[at])
                });
            }
        }
    }

    fn right_way(&self, item: &FollowBearingItem) -> String {
        let magnetic = bearing(item.dial_number(), North::Magnetic);
        format!("{magnetic} on the dial, north end boxed, along the travel arrow: {}", MARKS[item.right()])
    }

    fn facts(&self, item: &FollowBearingItem) -> Facts {
        let mut facts = vec![
            Fact::angle(FactName::Bearing, angle(item.given)),
            Fact::north(FactName::North, item.north),
            Fact::angle(FactName::Declination, item.declination.angle()),
            Fact::angle(FactName::Convergence, item.convergence.angle()),
            Fact::own_angle("start_facing_deg", item.facing.angle()),
            Fact::angle(FactName::StartDial, angle(item.dial)),
        ];
        let azimuths = AZIMUTHS.into_iter().zip(&item.marks);
        facts.extend(azimuths.map(|(name, (_, azimuth))| Fact::own_angle(name, azimuth.angle())));
        facts.push(Fact::wanted(Wanted::own("ahead")));
        Facts::from(facts)
    }

    fn prompt(&self, item: &FollowBearingItem) -> String {
        let mut out = format!("You are to follow {}.", bearing(item.given, item.north));
        match item.north {
            North::Magnetic | North::True if item.told => {
                let _ = write!(out, " Declination is {}.", east_west(item.declination));
            }
            North::Magnetic | North::True => {}
            North::Grid => {
                let gma = item.declination.then(item.convergence.inverse());
                let _ = write!(out, " The G-M angle is {}.", east_west(gma));
            }
        }
        out.push_str(" Set the dial, turn yourself with the compass in your hand, and say what lies ahead.");
        out
    }

    fn steps(&self, item: &FollowBearingItem) -> Vec<Step> {
        let mut steps = shown_steps(&item.exercise());
        steps.push(Step::new("Ahead lies", MARKS[item.right()].to_owned()));
        steps
    }

    fn caution(&self) -> Option<&'static str> {
        Some(HAZARD)
    }

    fn hint(&self, item: &FollowBearingItem) -> String {
        match item.north {
            North::Magnetic => "A magnetic bearing goes on the dial as it is. Then turn your whole body, not the dial.",
            _ => "Change the bearing to magnetic first; that number goes on the dial. Then turn your whole body, not the dial.",
        }
        .to_owned()
    }

    fn table(&self, item: &FollowBearingItem) -> Option<TableProblem> {
        Some(TableProblem::in_hand(item.exercise()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_told_of_a_followed_bearing_are_not_the_reasons_of_orienting() {
        // E2-3-301418: 061° T, 22° W; E2-3-753829: 268° T, 19° E. They told of "360 less the angle" and of magnetic-north lines.
        for (given, declination, dial) in [(610, -220, 830), (2_680, 190, 2_490)] {
            let mut item = FollowBearingItem {
                given,
                north: North::True,
                declination: offset_of(declination),
                told: true,
                convergence: offset_of(0),
                marks: Vec::new(),
                facing: bearing_of(3_430),
                dial: 1_290,
            };
            item.place(5, 200, &mut Draw::new("E2", 3, 2, 1));
            assert_eq!(item.dial_number().in_tenths(), dial);
            let mut told: Vec<String> = FollowBearing.steps(&item).iter().map(Step::line).collect();
            told.extend(META.mixups.iter().flat_map(|mixup| [mixup.said.to_owned(), mixup.mend.to_owned()]));
            told.extend([FollowBearing.hint(&item), FollowBearing.right_way(&item)]);
            let told = told.join("\n");
            assert!(!told.contains("360 less") && !told.contains("-north line"), "{told}");
        }
    }

    #[test]
    fn a_grid_bearing_is_told_with_the_angle_that_the_text_gives() {
        // E2-3-314009: 299° G, the G-M angle 25° E; a report told of the declination, 22° E, which stands nowhere in its text.
        let problem = crate::problem::realise(&crate::skills::read_code("E2-3-314009-v2").unwrap()).unwrap();
        assert!(problem.prompt().contains("299° G. The G-M angle is 25° E"), "{}", problem.prompt());
        assert_eq!(problem.facts().correction(), Some(angle(250)));
    }
}
