//! E2, following a bearing: set it, turn oneself until the needle is boxed, and see what lies ahead.

use super::common::{
    APPLIED_TWICE, CIRCLE, NOT_APPLIED, SIGN_FLIPPED, Tenths, angle, bearing, figures, push_bearing, push_east_west,
    tenths, wrap,
};
use super::hands::{
    Angles, CORRECTED_AGAIN, DIAL_FOR_SELF, LOOKED_ALONG_NEEDLE, LOOKED_BACK, Lie, SOUTH_END_BOXED, apart, exercise,
    shown_steps,
};
use crate::angle::{Angle, Bearing, North};
use crate::maptable::{Exercise, Landmark, MapLines, Task, wrong_numbers};
use crate::problem::{
    Answer, Draw, Fact, Family, Field, FieldKind, Generator, HomeAngles, Level, MixupId, MixupList, NorthLines, Paths,
    Question, SkillMeta, Step, TableProblem, Value,
};

/// The skill `follow-bearing`.
pub(super) struct FollowBearing;

/// What stands around, in every problem, each time elsewhere.
const MARKS: &[&str] = &["the hut", "the tower", "the chapel", "the cairn", "the lone pine", "the boulder"];
static AHEAD: [Field; 1] =
    [Field { name: "ahead", label: "what lies ahead", kind: FieldKind::Choice(MARKS), tolerance: 0.0 }];

/// Marks nearer to each other than this could be taken for one another.
const ASUNDER: Tenths = 150;
/// Whence the azimuths of the marks come, apart from the right one and those of the mix-ups.
const PLAIN: MixupId = MixupId("");

/// The numbers of one problem.
pub(super) struct Item {
    given: Tenths,
    north: North,
    declination: Tenths,
    convergence: Tenths,
    /// Where the marks stand, and which way of working leads to each.
    azimuths: [Tenths; 6],
    ways: [Option<MixupId>; 6],
    facing: Tenths,
    dial: Tenths,
}

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
        CORRECTED_AGAIN,
        SIGN_FLIPPED,
        NOT_APPLIED,
        APPLIED_TWICE,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 1,
};

impl Item {
    const fn offset(&self) -> Tenths {
        match self.north {
            North::True => self.declination,
            North::Grid => self.declination - self.convergence,
            North::Magnetic => 0,
        }
    }

    const fn dial_number(&self) -> Tenths {
        wrap(self.given - self.offset())
    }

    const fn ahead(&self) -> Tenths {
        wrap(self.declination + self.dial_number())
    }

    /// Where each wrong way of working looks: along the wrong end, and where the wrong numbers of the dial lead.
    fn wrong_ways(&self) -> Vec<(MixupId, Tenths)> {
        let mut ways = vec![(LOOKED_BACK.id, self.ahead() + 1800), (LOOKED_ALONG_NEEDLE.id, self.declination)];
        let numbers = wrong_numbers(&self.exercise()).into_iter().map(|(fault, number)| (MixupId(fault.id()), number));
        ways.extend(
            numbers
                .filter(|(id, _)| META.mixups.iter().any(|mixup| mixup.id == *id))
                .map(|(id, number)| (id, self.declination + tenths(number))),
        );
        ways
    }

    /// Puts the marks where right and wrong ways look, as far as they lie asunder, and the rest anywhere.
    fn place(&mut self, most_wrong: usize, asunder: Tenths, draw: &mut Draw) {
        let mut places: Vec<(Option<MixupId>, Tenths)> = vec![(None, self.ahead())];
        for (id, way) in self.wrong_ways().into_iter().take(most_wrong) {
            if places.iter().all(|(_, other)| apart(*other, way, ASUNDER)) {
                places.push((Some(id), wrap(way)));
            }
        }
        let mut asunder = asunder;
        while places.len() < MARKS.len() {
            let way = draw.between(0, 359) * 10;
            if places.iter().all(|(_, other)| apart(*other, way, asunder)) {
                places.push((Some(PLAIN), way));
            } else if asunder > ASUNDER {
                asunder -= 10;
            }
        }
        draw.shuffle(&mut places);
        for (slot, (way, azimuth)) in places.into_iter().take(MARKS.len()).enumerate() {
            (self.azimuths[slot], self.ways[slot]) = (azimuth, way);
        }
    }

    fn right(&self) -> &'static str {
        let at = self.ways.iter().position(Option::is_none).unwrap_or(0);
        MARKS[at]
    }

    fn exercise(&self) -> Exercise {
        let landmarks = MARKS
            .iter()
            .zip(self.azimuths)
            .map(|(name, azimuth)| Landmark { name: (*name).to_owned(), azimuth: Bearing::from_angle(angle(azimuth)) })
            .collect();
        let task = Task::Follow { bearing: angle(self.given), north: self.north, landmarks };
        let Item { declination, convergence, .. } = *self;
        let angles = Angles { declination, printed: declination, convergence, iron: 0 };
        exercise(task, Lie { map: None, arrow: self.facing, dial: self.dial }, angles, MapLines::default())
    }
}

impl Generator for FollowBearing {
    type Item = Item;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> Item {
        let north = if level < Level::THREE { North::Magnetic } else { draw.pick(&[North::True, North::Grid]) };
        let step = if level == Level::ONE { 100 } else { 10 };
        let mut item = Item {
            given: draw.between(0, (CIRCLE - 10) / step) * step,
            north,
            declination: draw.between(16, 26) * 10 * draw.sign(),
            convergence: 0,
            azimuths: [0; 6],
            ways: [None; 6],
            facing: draw.between(0, 359) * 10,
            dial: 0,
        };
        if north == North::Grid {
            item.convergence = draw.between(2, 4) * 10 * -item.declination.signum();
        }
        item.dial = wrap(item.dial_number() + draw.between(30, 150) * 10 * draw.sign()) / 10 * 10;
        // Neither the north end of the needle nor its opposite may be what lies ahead.
        if !apart(item.ahead(), item.declination, 2 * ASUNDER)
            || !apart(item.ahead(), item.declination + 1800, 2 * ASUNDER)
        {
            item.given = wrap(item.given + 700);
        }
        let (most, asunder) = match level.number() {
            1 => (2, 550),
            2 => (4, 250),
            3 => (4, 250),
            _ => (5, 200),
        };
        item.place(most, asunder, draw);
        item
    }

    fn question(&self, _item: &Item) -> Question {
        Question::Table(&AHEAD)
    }

    fn answer(&self, item: &Item) -> Answer {
        Answer::one(Value::Word(item.right()))
    }

    fn mixups(&self, item: &Item, list: &mut MixupList) {
        for (way, mark) in item.ways.iter().zip(MARKS) {
            if let Some(id) = way.filter(|id| *id != PLAIN) {
                list.push(id, Answer::one(Value::Word(mark)));
            }
        }
    }

    fn facts(&self, item: &Item) -> Vec<Fact> {
        let number = |name, tenths: Tenths| Fact::number(name, angle(tenths).degrees());
        let names = [
            "hut_azimuth_deg",
            "tower_azimuth_deg",
            "chapel_azimuth_deg",
            "cairn_azimuth_deg",
            "lone_pine_azimuth_deg",
            "boulder_azimuth_deg",
        ];
        let mut facts = vec![
            number("bearing_deg", item.given),
            Fact::word("north", item.north.word()),
            number("declination_deg", item.declination),
            number("convergence_deg", item.convergence),
            number("start_facing_deg", item.facing),
            number("start_dial_deg", item.dial),
        ];
        facts.extend(names.into_iter().zip(item.azimuths).map(|(name, azimuth)| number(name, azimuth)));
        facts.push(Fact::word("wanted", "ahead"));
        facts
    }

    fn prompt(&self, item: &Item) -> String {
        let mut out = String::with_capacity(220);
        out.push_str("You are to follow ");
        push_bearing(&mut out, item.given, item.north);
        out.push_str(". ");
        match item.north {
            North::Magnetic | North::True => {
                out.push_str("Declination is ");
                push_east_west(&mut out, item.declination);
            }
            North::Grid => {
                out.push_str("The G-M angle is ");
                push_east_west(&mut out, item.offset());
            }
        }
        out.push_str(". Set the dial, turn yourself with the compass in your hand, and say what lies ahead.");
        out
    }

    fn steps(&self, item: &Item) -> Vec<Step> {
        let mut steps = shown_steps(&item.exercise());
        steps.push(Step::new("Ahead lies", item.right().to_owned()));
        steps
    }

    fn hint(&self, item: &Item) -> String {
        match item.north {
            North::Magnetic => "A magnetic bearing goes on the dial as it is. Then turn your whole body, not the dial.",
            _ => "Change the bearing to magnetic first; that number goes on the dial. Then turn your whole body, not the dial.",
        }
        .to_owned()
    }

    fn paths(&self, item: &Item, mixup: MixupId) -> Paths {
        let at = item.ways.iter().position(|way| *way == Some(mixup));
        let (mark, azimuth) = at.map_or(("", item.ahead()), |at| (MARKS[at], item.azimuths[at]));
        let magnetic = bearing(item.dial_number(), North::Magnetic);
        // Looked elsewhere than along the arrow: the number on the dial was right.
        let looked = [LOOKED_BACK.id, LOOKED_ALONG_NEEDLE.id].contains(&mixup);
        let yours = figures(if looked { item.dial_number() } else { wrap(azimuth - item.declination) });
        Paths {
            yours: format!("{yours} on the dial leads you to {mark}"),
            right: format!("{magnetic} on the dial, north end boxed, along the travel arrow: {}", item.right()),
        }
    }

    fn table(&self, item: &Item) -> Option<TableProblem> {
        Some(TableProblem { exercise: item.exercise(), map: None, marks: Vec::new(), up: Angle::ZERO })
    }
}
