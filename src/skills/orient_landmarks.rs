//! D4, orienting by landmarks: the map turned until what is on it points at what is in view, without a compass.

use super::common::{InTenths, Tenths, angle, bearing_of, wrap};
use super::hands::{Angles, Lie, apart, exercise, marks_and_lines, mixup, shown_steps};
use crate::angle::{Angle, Bearing, Convergence, Declination, True};
use crate::maptable::{Around, Exercise, Fault, Feature, LaidBy, Leg, MapLines, Task};
use crate::problem::{
    Answer, Draw, Fact, Facts, Family, Field, FieldKind, Generator, HomeAngles, Level, MarkedPlace, MixupClass,
    MixupList, MixupMeta, NorthLines, Question, SkillMeta, Step, TableProblem, Tolerance, Value, Wanted,
};
use crate::terrain::{Landmark, LandmarkKind, Map, MapSpec, Outlook};
use std::sync::Arc;

#[cfg(test)]
mod tests;

/// The skill `orient-landmarks`.
pub(super) struct OrientLandmarks;

static TURNED: [Field; 1] = [Field {
    name: "map_turned",
    label: "how far the map is turned, clockwise",
    kind: FieldKind::Turn,
    tolerance: Tolerance::within(10.0),
}];

/// Laid the map upside down.
const UPSIDE_DOWN: MixupMeta = mixup(Fault::MapUpsideDown, MixupClass::Reversed);
/// Turned the map's top to where one looks.
const TOP_AHEAD: MixupMeta = mixup(Fault::MapTopAhead, MixupClass::Method);
/// Took one mark for the other.
const MARKS_SWAPPED: MixupMeta = mixup(Fault::MarksSwapped, MixupClass::Naming);

/// Two ways of lying that can be told apart differ by more than this: twice what the eye is allowed.
const TOLD_APART: Tenths = 210;
/// Straight features that run past one.
const LINES: [&str; 4] = ["the stone wall", "the track", "the ditch", "the hedge"];

/// Where one stands, and what the map is laid by.
struct Scene {
    map: Map,
    marks: Vec<MarkedPlace>,
    legs: Vec<Leg>,
    by: LaidBy,
    /// The landmark beside a line, by its kind; empty where marks are named.
    kind: &'static str,
    outlook: Arc<Outlook>,
}

/// The numbers of one problem.
pub(super) struct OrientLandmarksItem {
    scene: Scene,
    level: Level,
    facing: Bearing<True>,
    /// How the map lies at first: the azimuth of its true north.
    lies: Bearing<True>,
}

static META: SkillMeta = SkillMeta {
    id: "orient-landmarks",
    mark: "D4",
    family: Family::Orienting,
    title: "Orient by landmarks",
    can: "Turns the map without a compass until the marks on it lie toward what they stand for, and checks a line feature's two ways.",
    levels: [
        "two marks that you know, far apart",
        "two marks that you know, closer together",
        "a line that runs past you, and a named mark beside it",
        "a line that runs past you, and beside it something to be found on the map",
    ],
    prerequisites: &[],
    mixups: &[UPSIDE_DOWN, TOP_AHEAD, MARKS_SWAPPED],
    lines: NorthLines::Any,
    on_home: false,
    generation: 1,
};

/// A mark of a map as a feature.
fn feature(map: &Map, stand: crate::terrain::Spot, landmark: &Landmark) -> Option<Feature> {
    let azimuth = map.true_bearing(stand, landmark.spot)?.degrees().round();
    Some(Feature { name: landmark.name.clone(), azimuth: Bearing::from_degrees(azimuth) })
}

impl Scene {
    /// A place on some map; nearly every map has one.
    fn draw(level: Level, draw: &mut Draw) -> Scene {
        loop {
            let map = Map::generate(u64::from(draw.below(u32::MAX)), &MapSpec::default());
            let found = if level < Level::THREE {
                Scene::by_marks(&map, level, draw)
            } else {
                Scene::by_line(&map, level, draw)
            };
            if let Some(scene) = found {
                return scene;
            }
        }
    }

    /// Where something stands that is to be seen straight ahead, more or less.
    const fn in_view(&self) -> Bearing<True> {
        match &self.by {
            LaidBy::Marks([one, _]) => one.azimuth,
            LaidBy::Line { beside, .. } => beside.azimuth,
        }
    }

    /// The landmarks near the middle of the sheet in random order.
    fn core(map: &Map, draw: &mut Draw) -> Vec<usize> {
        let mut core: Vec<usize> = (0..map.landmarks().len()).filter(|at| map.landmarks()[*at].core).collect();
        draw.shuffle(&mut core);
        core
    }

    /// At one landmark, with two others in view.
    fn by_marks(map: &Map, level: Level, draw: &mut Draw) -> Option<Scene> {
        let (least, most) = if level == Level::ONE { (600, 1500) } else { (300, 600) };
        let core = Scene::core(map, draw);
        let (stand, one, other) = core.iter().find_map(|stand| {
            let sighted = map.sighted(map.landmarks()[*stand].spot);
            let seen: Vec<usize> =
                core.iter().copied().filter(|at| sighted.iter().any(|sight| sight.landmark == *at)).collect();
            let toward = |at: usize| map.true_bearing(map.landmarks()[*stand].spot, map.landmarks()[at].spot);
            seen.iter().find_map(|one| {
                let other = seen.iter().find(|other| {
                    toward(*one)
                        .zip(toward(**other))
                        .is_some_and(|(one, other)| (least..=most).contains(&one.turn_to(other).abs().tenths()))
                })?;
                Some((*stand, *one, *other))
            })
        })?;
        let spot = map.landmarks()[stand].spot;
        let marks = [feature(map, spot, &map.landmarks()[one])?, feature(map, spot, &map.landmarks()[other])?];
        let place = |letter, landmark| MarkedPlace { letter, landmark };
        Some(Scene {
            marks: vec![place('P', stand), place('Q', one), place('V', other)],
            legs: Vec::new(),
            by: LaidBy::Marks(marks),
            kind: "",
            outlook: Arc::new(Outlook::new(map.clone(), spot)),
            map: map.clone(),
        })
    }

    /// Half way along a straight line between two landmarks, with a third in view well beside it.
    fn by_line(map: &Map, level: Level, draw: &mut Draw) -> Option<Scene> {
        let core = Scene::core(map, draw);
        let spot = |at: usize| map.landmarks()[at].spot;
        let alone = |at: usize| map.landmarks().iter().filter(|it| it.kind == map.landmarks()[at].kind).count() == 1;
        // What is told by its kind alone is the only one of its kind on the map, and stands out of the ground.
        let found = |at: usize| {
            let small = matches!(map.landmarks()[at].kind, LandmarkKind::Spring | LandmarkKind::Bridge);
            level < Level::FOUR || (alone(at) && !small)
        };
        let pairs = core.iter().enumerate().flat_map(|(at, from)| core[at + 1..].iter().map(|to| (*from, *to)));
        let (from, to, stand, along, beside) =
            pairs.filter(|(from, to)| spot(*from).distance_mm(spot(*to)) >= 22.0).find_map(|(from, to)| {
                let stand = spot(from).toward(spot(to), 0.5);
                let along = map.true_bearing(stand, spot(to))?;
                let beside = map.sighted(stand).into_iter().find(|sight| {
                    let off = along.turn_to(sight.azimuth).abs().tenths();
                    map.landmarks()[sight.landmark].core && (400..=1400).contains(&off) && found(sight.landmark)
                })?;
                Some((from, to, stand, along, beside))
            })?;
        let landmark = &map.landmarks()[beside.landmark];
        let kind = landmark.kind.word();
        let mut mark = feature(map, stand, landmark)?;
        let place = |letter, landmark| MarkedPlace { letter, landmark };
        let mut marks = vec![place('P', from), place('Q', to)];
        if level < Level::FOUR {
            marks.push(place('V', beside.landmark));
        } else {
            mark.name = format!("the {kind}");
        }
        let line =
            Feature { name: draw.pick(&LINES).to_owned(), azimuth: Bearing::from_degrees(along.degrees().round()) };
        Some(Scene {
            marks,
            legs: Leg::new('P', 'Q').into_iter().collect(),
            by: LaidBy::Line { line, beside: mark },
            kind,
            outlook: Arc::new(Outlook::new(map.clone(), stand)),
            map: map.clone(),
        })
    }
}

impl OrientLandmarksItem {
    fn around(&self) -> Around {
        let stand = if matches!(self.scene.by, LaidBy::Marks(_)) { "P" } else { "your place on the line" };
        Around { outlook: self.scene.outlook.clone(), stand, facing: self.facing, by: self.scene.by.clone() }
    }

    /// How far the map is turned when it comes to lie so far off.
    fn turned(&self, off: Tenths) -> Answer {
        Answer::one(Value::Angle(angle(wrap(off - self.lies.in_tenths()))))
    }

    /// Where each wrong way of working leaves the map.
    fn wrong(&self) -> Vec<(&'static MixupMeta, Tenths)> {
        let mut list = vec![(&UPSIDE_DOWN, 1800), (&TOP_AHEAD, self.facing.in_tenths())];
        if let LaidBy::Marks([one, other]) = &self.scene.by {
            list.push((&MARKS_SWAPPED, one.azimuth.turn_to(other.azimuth).tenths()));
        }
        list
    }

    fn exercise(&self) -> Exercise {
        let nothing = Angle::ZERO;
        let declination = Declination::from_angle(nothing);
        let angles =
            Angles { declination, printed: declination, convergence: Convergence::from_angle(nothing), iron: 0 };
        let lines = if self.scene.legs.is_empty() {
            MapLines::default()
        } else {
            marks_and_lines(&self.scene.map, &[], &self.scene.marks, &self.scene.legs)
        };
        let lie = Lie { map: None, arrow: self.facing, dial: 0 };
        let mut exercise = exercise(Task::Around(self.around()), lie, angles, lines);
        exercise.start = crate::maptable::Table::new(self.lies, self.facing, nothing);
        exercise
    }
}

impl Generator for OrientLandmarks {
    type Item = OrientLandmarksItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> OrientLandmarksItem {
        let scene = Scene::draw(level, draw);
        let mut item = OrientLandmarksItem { scene, level, facing: bearing_of(0), lies: bearing_of(0) };
        // One looks where the top of the map, laid ahead, lies otherwise than by any other way of working; and the map begins
        // near none of them.
        for _ in 0..200 {
            item.facing = item.scene.in_view().turned(angle(draw.between(-45, 45) * 10));
            let lies: Vec<Tenths> = item.wrong().into_iter().map(|(_, off)| off).chain([0]).collect();
            let all_apart = |at: usize| lies[at + 1..].iter().all(|other| apart(lies[at], *other, TOLD_APART));
            item.lies = bearing_of(draw.between(0, 359) * 10);
            if (0..lies.len()).all(all_apart) && lies.iter().all(|off| apart(item.lies, *off, 250)) {
                break;
            }
        }
        item
    }

    fn question(&self, _item: &OrientLandmarksItem) -> Question {
        Question::table(&TURNED)
    }

    fn answer(&self, item: &OrientLandmarksItem) -> Answer {
        item.turned(0)
    }

    fn mixups(&self, item: &OrientLandmarksItem, list: &mut MixupList) {
        for (meta, off) in item.wrong() {
            list.push(meta, item.turned(off), || match &item.scene.by {
                LaidBy::Marks([one, other]) if meta.id == MARKS_SWAPPED.id => {
                    format!("the mark of {} toward {}", one.name, other.name)
                }
                _ if meta.id == TOP_AHEAD.id => "the top of the map straight ahead".to_owned(),
                _ => "everything half a circle off".to_owned(),
            });
        }
    }

    fn right_way(&self, item: &OrientLandmarksItem) -> String {
        match &item.scene.by {
            LaidBy::Marks([one, other]) => {
                format!("seen from P, the marks of {} and {} lie toward what they stand for", one.name, other.name)
            }
            LaidBy::Line { line, beside } => {
                format!("{} runs as on the ground, and {} lies on the same side of it", line.name, beside.name)
            }
        }
    }

    fn facts(&self, item: &OrientLandmarksItem) -> Facts {
        let mut facts = vec![
            Fact::own_angle("start_map_deg", item.lies.angle()),
            Fact::own_angle("facing_deg", item.facing.angle()),
        ];
        match &item.scene.by {
            LaidBy::Marks([one, other]) => {
                facts.push(Fact::own_angle("q_azimuth_deg", one.azimuth.angle()));
                facts.push(Fact::own_angle("v_azimuth_deg", other.azimuth.angle()));
            }
            LaidBy::Line { line, beside } => {
                facts.push(Fact::own_angle("line_azimuth_deg", line.azimuth.angle()));
                facts.push(Fact::own_angle("beside_azimuth_deg", beside.azimuth.angle()));
            }
        }
        facts.push(Fact::wanted(Wanted::own("map_laid")));
        Facts::from(facts)
    }

    fn prompt(&self, item: &OrientLandmarksItem) -> String {
        match &item.scene.by {
            LaidBy::Marks([one, other]) => format!(
                "Your compass is in the rucksack, but you know the place: you stand at P. In view are {}, Q on the map, and {}, V. \
                 Turn the map until it lies as the ground does.",
                one.name, other.name
            ),
            LaidBy::Line { line, beside } if item.level < Level::FOUR => format!(
                "You have lost count of your steps along {}, which runs straight from P to Q: you stand about half way. Beside it \
                 you see {}, V on the map. Turn the map until it lies as the ground does.",
                line.name, beside.name
            ),
            LaidBy::Line { line, .. } => format!(
                "You have lost count of your steps along {}, which runs straight from P to Q: you stand about half way. Beside it \
                 you see a {}; find it on the map. Turn the map until it lies as the ground does.",
                line.name, item.scene.kind
            ),
        }
    }

    fn steps(&self, item: &OrientLandmarksItem) -> Vec<Step> {
        let mut steps = shown_steps(&item.exercise());
        let turned = angle(wrap(-item.lies.in_tenths()));
        steps.push(Step::new("So the map is turned clockwise by", format!("{}°", turned.degrees())));
        steps
    }

    fn hint(&self, item: &OrientLandmarksItem) -> String {
        match &item.scene.by {
            LaidBy::Marks(_) => "Lay a finger from P over Q: it should point at what Q stands for. Then look whether V agrees.",
            LaidBy::Line { .. } => {
                "First turn the map until the line on it runs as on the ground. Two ways do that: look what stands beside it."
            }
        }
        .to_owned()
    }

    fn table(&self, item: &OrientLandmarksItem) -> Option<TableProblem> {
        let (map, marks) = (item.scene.map.clone(), item.scene.marks.clone());
        Some(TableProblem::on_map(item.exercise(), map, marks, item.facing.angle()))
    }
}
