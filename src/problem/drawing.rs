//! Figures as scenes: the data of a [`Figure`] composed from the shared drawing blocks.

use super::figure::{
    Arc, DialFigure, DriftFigure, EndsFigure, Figure, LineRole, NorthLine, PlanFigure, PlanKind, Prong, Ray,
    SketchLine, TurnFigure,
};
use crate::angle::{Angle, North, Point as CompassPoint, PointSet};
use crate::numbers::{real, whole};
use crate::scene::blocks::{
    Dial, End, Ends, NorthKind, NorthLine as DrawnNorth, Plan, PlanLine as DrawnWay, PlanSpot, PointRank,
    Prong as DrawnProng, ProngAngle, Prongs, RingText, Rose, RosePoint, Sketch, SketchLine as DrawnLine, Strip,
    StripTick, TickLength, Turn, Writing,
};
use crate::scene::{Align, Dash, Direction, Ink, Label, Line, Point, Priority, Rect, Scene, SceneItem};

/// The height of a line of writing in mm; a terminal cell is that high and half as wide.
pub const TEXT_MM: f64 = 4.0;

const TWENTIES: [&str; 18] = [
    "N", "20", "40", "60", "80", "100", "120", "140", "160", "S", "200", "220", "240", "260", "280", "300", "320",
    "340",
];
/// What stands on a dial with a number every 20° where there is no room for all of them: none that it does not have.
const SOME_TWENTIES: [&str; 12] = ["N", "", "60", "E", "120", "", "S", "", "240", "W", "300", ""];

/// Rows from which on a sketch can spare one.
const ROWS_TO_SPARE: f64 = 20.0;

impl Figure {
    /// The figure as a scene of this size in mm; `None` when there is nothing to draw.
    #[must_use]
    pub fn scene(&self, width_mm: f64, height_mm: f64) -> Option<Scene> {
        let mut scene = Scene::new(width_mm, height_mm);
        let room = Rect::new(0.0, 0.0, width_mm, height_mm);
        match self {
            Figure::None => return None,
            Figure::Map(map) => return Some(map.scene(width_mm, height_mm, TEXT_MM)),
            Figure::Dial(dial) => draw_dial(dial, room, &mut scene),
            Figure::Prongs(prongs) => draw_prongs(prongs, room, &mut scene),
            Figure::Sketch { norths, lines, arcs } => draw_sketch(norths, lines, arcs, room, &mut scene),
            Figure::Turn(turn) => draw_turn(turn, room, &mut scene),
            Figure::Ends(ends) => draw_ends(ends, room, &mut scene),
            Figure::Drift(drift) => draw_drift(drift, room, &mut scene),
            Figure::Plan(plan) => draw_plan(plan, room, &mut scene),
            Figure::Rose { names, marked } => draw_rose(*names, marked, room, &mut scene),
        }
        Some(scene)
    }

    /// The magnified strip of the scale at the index line, as a scene of this size in mm; at least four lines ([`TEXT_MM`]) high:
    /// index mark, scale, numbers. `None`
    /// when the figure has none.
    #[must_use]
    pub fn strip(&self, width_mm: f64, height_mm: f64) -> Option<Scene> {
        if let Figure::Map(map) = self {
            let mut scene = Scene::new(width_mm, height_mm);
            map.protractor?.strip(Rect::new(0.0, 0.0, width_mm, height_mm)).draw(&mut scene);
            mark_strip(&mut scene, "your line", false);
            return Some(scene);
        }
        let Figure::Dial(dial) = self else { return None };
        dial.strip.then(|| {
            let mut scene = Scene::new(width_mm, height_mm);
            draw_strip(dial, Rect::new(0.0, 0.0, width_mm, height_mm), &mut scene);
            let turned = direction(dial.index).dy() > 0.5;
            if turned {
                turn_half(&mut scene);
            }
            mark_strip(&mut scene, "index", turned);
            scene
        })
    }
}

/// Names what the scale of a strip runs under, with an arrow right over it: a stroke alone is one more tick.
fn mark_strip(scene: &mut Scene, name: &str, from_below: bool) {
    let (arrow, row_mm) = if from_below { ('▲', scene.height_mm - TEXT_MM / 2.0) } else { ('▼', TEXT_MM / 2.0) };
    let label = Label::new(format!("{name} {arrow}"), Point::new(scene.width_mm / 2.0, row_mm), Ink::Compass);
    scene.add(label.align(Align::Right).strong().priority(Priority::High));
    let caption = Label::new("enlarged", Point::new(0.0, row_mm), Ink::Text);
    scene.add(caption.align(Align::Left).priority(Priority::Low));
}

fn direction(angle: Angle) -> Direction {
    Direction::from_degrees_clockwise_from_up(angle.degrees())
}

const fn look(role: LineRole) -> (Ink, Dash) {
    match role {
        LineRole::Given => (Ink::Text, Dash::Solid),
        LineRole::Right => (Ink::RightLine, Dash::Solid),
        LineRole::Learner => (Ink::LearnerLine, Dash::Dashed),
    }
}

fn draw_dial(figure: &DialFigure, room: Rect, scene: &mut Scene) {
    let mut dial = Dial::degrees(room.centre(), (room.width.min(room.height) / 2.0).max(1.0), TEXT_MM);
    dial.zero = direction(figure.index - figure.reading);
    let twenties = (figure.numbered.degrees() - 20.0).abs() < 0.5;
    let names: &[&str] = match twenties {
        true if dial.has_room_for(18) => &TWENTIES,
        true if dial.has_room_for(12) => &SOME_TWENTIES,
        false if dial.has_room_for(12) => &RingText::THIRTIES,
        _ => &RingText::LETTERS,
    };
    dial.ring = RingText::evenly(names, dial.zero);
    dial.ring.retain(|text| !text.text.is_empty());
    if twenties && dial.ticks.long == 12 {
        // The long ticks stand at the numbers.
        dial.ticks.long = 18;
    }
    if figure.inner_scale {
        // The scale of a clinometer: 0 at the dial's 90 and 270, 90 at its 0 and 180.
        for number in 0..12 {
            let on_dial = f64::from(number) * 30.0;
            let at = direction(figure.index - figure.reading + Angle::from_degrees(on_dial));
            let shown = (90.0 - on_dial % 180.0).abs().round();
            let place = dial.centre.along(at, dial.rim() * 0.42);
            scene.add(Label::new(format!("{shown}"), place, Ink::Faint).priority(Priority::Low));
        }
    }
    dial.index = Some(direction(figure.index));
    dial.travel = Some(direction(figure.index));
    dial.orienting = Some(dial.zero);
    dial.needle = figure.needle.map(direction);
    dial.draw(scene);
    if let Some(answered) = figure.learner {
        // A ray of the learner's ink from the rim inward, where the answered number stands on the dial.
        let at = direction(figure.index + answered - figure.reading);
        let (outer, inner) = (dial.centre.along(at, dial.rim()), dial.centre.along(at, dial.rim() * 0.8));
        scene.add(Line::straight(inner, outer, Ink::LearnerLine).bold());
        scene.add(Label::new("you", dial.centre.along(at, dial.rim() * 0.68), Ink::LearnerLine).strong().near());
    }
}

/// The scale at the index line, numbers rising to the right as on a dial with the index line at its top.
fn draw_strip(figure: &DialFigure, rect: Rect, scene: &mut Scene) {
    let (graduation, numbered) = (figure.graduation.degrees().max(0.1), figure.numbered.degrees().max(1.0));
    // Numbered marks on either side of the index, so that there is one to count from and one to count to; where there is no room
    // for more with ticks far enough apart to be counted, not more.
    let countable = rect.width / 2.0 / (TEXT_MM * 0.75) * graduation;
    let half = (numbered * 1.6).min(countable).max(numbered);
    let mm_per_degree = rect.width / (2.0 * half);
    let reading = figure.reading.degrees();
    let first: i32 = whole(((reading - half) / graduation).ceil());
    let last = whole(((reading + half) / graduation).floor());
    let is_multiple = |degrees: f64, of: f64| (degrees / of - (degrees / of).round()).abs() < 1e-6;
    let ticks = (first..=last)
        .map(|number| {
            let degrees = f64::from(number) * graduation;
            let labelled = is_multiple(degrees, numbered);
            StripTick {
                offset_mm: (degrees - reading) * mm_per_degree,
                length: if labelled {
                    TickLength::Long
                } else if is_multiple(degrees, if graduation < 10.0 { 10.0 } else { numbered / 2.0 }) {
                    TickLength::Medium
                } else {
                    TickLength::Fine
                },
                label: if labelled {
                    format!("{}", Angle::from_degrees(degrees).wrapped().degrees().round())
                } else {
                    String::new()
                },
            }
        })
        .collect();
    Strip { rect, text_mm: TEXT_MM, ticks }.draw(scene);
}

/// Turns everything on a sheet half round its middle, as a compass held upside down shows it; writing stays upright.
fn turn_half(scene: &mut Scene) {
    let (width, height) = (scene.width_mm, scene.height_mm);
    let across = |point: Point| Point::new(width - point.x, height - point.y);
    for item in &mut scene.items {
        match item {
            SceneItem::Line(line) => line.points.iter_mut().for_each(|point| *point = across(*point)),
            SceneItem::Area(area) => area.outline.iter_mut().for_each(|point| *point = across(*point)),
            SceneItem::Label(label) => label.anchor = across(label.anchor),
            SceneItem::Mark(mark) => {
                mark.at = across(mark.at);
                mark.toward = mark.toward.reversed();
            }
        }
    }
}

fn draw_prongs(prongs: &[Prong], room: Rect, scene: &mut Scene) {
    let place = |north: North| prongs.iter().position(|prong| prong.north == north);
    let angles = prongs
        .iter()
        .enumerate()
        .filter_map(|(at, prong)| {
            let (other, text) = prong.printed.as_ref()?;
            Some(ProngAngle { from: place(*other)?, to: at, text: text.clone() })
        })
        .collect();
    let drawn = prongs
        .iter()
        .map(|prong| DrawnProng {
            kind: prong.north.into(),
            direction: direction(prong.drawn),
            name: prong.north.short().to_owned(),
        })
        .collect();
    Prongs { rect: room, text_mm: TEXT_MM, prongs: drawn, angles }.draw(scene);
}

fn draw_sketch(norths: &[NorthLine], lines: &[SketchLine], arcs: &[Arc], whole: Rect, scene: &mut Scene) {
    // Small angles are drawn larger than they are, and nobody should measure them. Said where a row can be spared for it.
    let enlarged = norths.len() > 1 && whole.height >= TEXT_MM * ROWS_TO_SPARE;
    let room = Rect { height: whole.height - if enlarged { TEXT_MM } else { 0.0 }, ..whole };
    let at = |ray: Ray| match ray {
        Ray::North(north) => norths.iter().find(|line| line.north == north).map(|line| line.at),
        Ray::Line(role) => lines.iter().find(|line| line.role == role).map(|line| line.at),
    };
    // Two bearings of one line run far apart, so that what stands between the norths has room between them.
    let bearings = arcs.iter().filter(|arc| !arc.shorter).count();
    let mut reaches = if bearings > 1 { [0.86, 0.4] } else { [0.45; 2] }.into_iter();
    let turns = arcs
        .iter()
        .filter_map(|arc| {
            let (start, end) = (at(Ray::North(arc.from))?, at(arc.to)?);
            let reach = match arc.to {
                Ray::North(_) => 0.63,
                Ray::Line(_) if arc.shorter => 0.45,
                Ray::Line(_) => reaches.next().unwrap_or(0.6),
            };
            let back = arc.shorter && (end - start).wrapped_half().degrees() < 0.0;
            let (from, to) = if back { (end, start) } else { (start, end) };
            let (ink, writing) = match arc.to {
                // The angle between two norths: written on the side of their fan that lies away from the line.
                Ray::North(_) => (Ink::Text, Writing::Beside { clockwise: away(from, to, lines) }),
                Ray::Line(LineRole::Given) => (NorthKind::from(arc.from).ink(), Writing::Middle),
                Ray::Line(role) => (look(role).0, Writing::Middle),
            };
            let (from, to) = (direction(from), direction(to));
            Some(Turn { from, to, counterclockwise: back, reach, ink, text: arc.text.clone(), writing })
        })
        .collect();
    let sketch = Sketch {
        rect: room,
        text_mm: TEXT_MM,
        norths: norths
            .iter()
            .map(|line| DrawnNorth {
                kind: line.north.into(),
                direction: direction(line.at),
                name: line.north.short().to_owned(),
            })
            .collect(),
        lines: lines
            .iter()
            .map(|line| {
                let (ink, dash) = look(line.role);
                DrawnLine { direction: direction(line.at), ink, dash, name: line.label.clone() }
            })
            .collect(),
        turns,
    };
    sketch.draw(scene);
    if enlarged {
        let corner = Point::new(whole.width, whole.height - TEXT_MM / 2.0);
        scene.add(Label::new("not to scale", corner, Ink::Text).align(Align::Right).priority(Priority::Low));
    }
}

/// Whether the clockwise side of an arc has more room than the other one, with these lines beside it.
fn away(from: Angle, to: Angle, lines: &[SketchLine]) -> bool {
    let room = |beside: &dyn Fn(&SketchLine) -> Angle| {
        lines.iter().map(|line| beside(line).wrapped().degrees()).fold(360.0, f64::min)
    };
    room(&|line| line.at - to) > room(&|line| from - line.at)
}

fn draw_turn(figure: &TurnFigure, room: Rect, scene: &mut Scene) {
    let name = |angle: Angle| format!("{}° {}", crate::angle::three_figures(angle, 0), figure.north.letter());
    let line =
        |angle: Angle, ink: Ink, dash: Dash| DrawnLine { direction: direction(angle), ink, dash, name: name(angle) };
    let arc = |turn: Angle, reach: f64, role: LineRole, text: String| {
        // Arcs are drawn clockwise; a counterclockwise turn runs the other way, from its end.
        let (start, end) = (figure.from, figure.from + turn);
        let (from, to) = if turn.degrees() < 0.0 { (end, start) } else { (start, end) };
        Turn {
            from: direction(from),
            to: direction(to),
            counterclockwise: turn.degrees() < 0.0,
            reach,
            ink: look(role).0,
            text,
            writing: Writing::Middle,
        }
    };
    let right = figure.turn.map(|turn| arc(turn, 0.5, LineRole::Right, format!("{}°", turn.abs().degrees())));
    let learner = figure.learner.map(|turn| arc(turn, 0.75, LineRole::Learner, "you".to_owned()));
    let turns = right.into_iter().chain(learner).collect();
    let sketch = Sketch {
        rect: room,
        text_mm: TEXT_MM,
        norths: vec![DrawnNorth {
            kind: figure.north.into(),
            direction: Direction::UP,
            name: figure.north.short().to_owned(),
        }],
        lines: vec![line(figure.from, Ink::Text, Dash::Solid), line(figure.to, Ink::Compass, Dash::Solid)],
        turns,
    };
    sketch.draw(scene);
}

fn draw_ends(figure: &EndsFigure, room: Rect, scene: &mut Scene) {
    let end = |number: &str| End { name: String::new(), number: number.to_owned() };
    // The star says enough.
    let name = if figure.north == North::True { "" } else { figure.north.short() };
    let ends = Ends {
        rect: room,
        text_mm: TEXT_MM,
        north: (figure.north.into(), name.to_owned()),
        toward: direction(figure.toward),
        ends: [end(&figure.there), end(&figure.back)],
        ink: Ink::Compass,
        learner: figure.learner.map(direction),
    };
    ends.draw(scene);
}

fn draw_drift(figure: &DriftFigure, room: Rect, scene: &mut Scene) {
    let now = figure.now.as_ref();
    let needles = std::iter::once(&figure.printed).chain(now.map(|(_, needle)| needle));
    let star = DrawnProng { kind: NorthKind::True, direction: Direction::UP, name: North::True.short().to_owned() };
    let mut prongs = vec![star];
    let mut angles = Vec::with_capacity(3);
    for needle in needles {
        angles.push(ProngAngle { from: 0, to: prongs.len(), text: needle.declination.clone() });
        let name = needle.year.to_string();
        prongs.push(DrawnProng { kind: NorthKind::Magnetic, direction: direction(needle.at), name });
    }
    angles.extend(now.map(|(change, _)| ProngAngle { from: 1, to: 2, text: change.clone() }));
    Prongs { rect: room, text_mm: TEXT_MM, prongs, angles }.draw(scene);
}

fn draw_plan(figure: &PlanFigure, room: Rect, scene: &mut Scene) {
    let lines = figure.lines.iter().map(|line| {
        let (ink, dash) = match line.kind {
            PlanKind::Way(role) => look(role),
            PlanKind::Thought => (Ink::Text, Dash::Dotted),
            PlanKind::Water => (Ink::Water, Dash::Solid),
            PlanKind::Works => (Ink::Works, Dash::Solid),
            PlanKind::Grid => (Ink::GridNorth, Dash::Solid),
            PlanKind::Contour => (Ink::Relief, Dash::Solid),
        };
        DrawnWay {
            through: line.through.iter().map(|at| (at.east_m, at.north_m)).collect(),
            ink,
            dash,
            arrow: matches!(line.kind, PlanKind::Way(_)),
            label: line.label.clone(),
            on_line: line.kind == PlanKind::Contour,
        }
    });
    let spots = figure.places.iter().map(|place| PlanSpot {
        at: (place.at.east_m, place.at.north_m),
        ink: look(place.role).0,
        name: place.name.clone(),
    });
    let up = figure.north.map(|north| (NorthKind::from(north), Direction::UP, north.short().to_owned()));
    let magnetic = North::Magnetic;
    let needle = figure.needle.map(|at| (magnetic.into(), direction(at), magnetic.short().to_owned()));
    let norths = up.into_iter().chain(needle).collect();
    Plan { rect: room, text_mm: TEXT_MM, norths, lines: lines.collect(), spots: spots.collect() }.draw(scene);
}

fn draw_rose(names: u8, marked: &[SketchLine], room: Rect, scene: &mut Scene) {
    let centre = room.centre();
    let set = match names {
        8 => PointSet::Eight,
        16 => PointSet::Sixteen,
        _ => PointSet::ThirtyTwo,
    };
    let near = |a: Angle, b: Angle| (a - b).wrapped_half().abs().degrees() < 1.0;
    // Long labels at the sides need more room than the rose leaves by itself.
    let longest = real(marked.iter().map(|mark| mark.label.chars().count()).max().unwrap_or(0).max(3));
    let across = room.width / 2.0 - (longest - 3.0) * TEXT_MM / 2.0;
    let mut points: Vec<RosePoint> = set
        .points()
        .filter(|point| !marked.iter().any(|mark| near(mark.at, point.angle())))
        .map(|point| RosePoint {
            direction: direction(point.angle()),
            // Only the names that everybody builds on are always written.
            name: if point.number() % 4 == 0 { point.name().to_owned() } else { String::new() },
            rank: rank(point),
            mark: None,
        })
        .collect();
    points.extend(marked.iter().map(|mark| RosePoint {
        direction: direction(mark.at),
        name: mark.label.clone(),
        rank: PointRank::Main,
        mark: Some(look(mark.role).0),
    }));
    Rose { centre, radius_mm: across.min(room.height / 2.0).max(1.0), text_mm: TEXT_MM, points }.draw(scene);
}

const fn rank(point: CompassPoint) -> PointRank {
    match point.number() % 8 {
        0 => PointRank::Main,
        4 => PointRank::Between,
        2 | 6 => PointRank::Fine,
        _ => PointRank::Finest,
    }
}

#[cfg(test)]
mod tests;
