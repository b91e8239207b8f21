//! What is seen of the table: each task in each theme, what has to be told apart without colour, the name of the line that is
//! needed, and what the sketch of the norths shows of the learner's own work.

use super::play::Play;
use super::table::{at, boxed, desk, dial, edge, hold, oriented_by, screen, wanted};
use super::{picture, snapshot};
use needlewise::angle::{Angle, North};
use needlewise::maptable::{Hold, LineName, Move, Pose, Table, Task, Way};
use needlewise::problem::{Code, Figure, Level, LineRole, SketchLine, TableProblem, realise};
use needlewise::scene::cells::CellCanvas;
use needlewise::scene::{Dash, Fill, Ink, Line, MarkKind, Point, Scene, SceneItem, Weight};
use needlewise::skills;
use needlewise::tui::Theme;

/// A picture in each theme, at both sizes: those that differ by their colours alone have one text. What an empty cell of a ground is
/// filled with is the ground's colour where there are none.
fn in_each_theme(name: &str, mut play: Play) {
    for (cols, rows) in [(80, 24), (120, 36)] {
        let mut texts: Vec<(Vec<&str>, String)> = Vec::new();
        for theme in Theme::ALL {
            play = play.theme(theme);
            let ground = theme.texture(Ink::Plate).to_string();
            let text = play.text(cols, rows).replace(&ground, " ");
            let text: String = text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n");
            match texts.iter_mut().find(|(_, other)| *other == text) {
                Some((themes, _)) => themes.push(theme.name()),
                None => texts.push((vec![theme.name()], text)),
            }
        }
        let themes: Vec<String> = texts.iter().map(|(themes, _)| themes.join(" ")).collect();
        assert_eq!(themes, ["dark day sun night 16 none"], "{name}: what is told, forms tell");
        let pages: Vec<String> =
            texts.iter().map(|(themes, text)| format!("theme {}\n{text}", themes.join(", "))).collect();
        snapshot("table", &format!("{name}_{cols}x{rows}"), &pages.join("\n"));
    }
}

#[test]
fn each_task_of_the_table_has_its_picture_in_each_theme() {
    for (mark, skill, north) in [
        ("d1", "orient-magnetic-line", North::Magnetic),
        ("d2", "orient-true-line", North::True),
        ("d3", "orient-grid", North::Grid),
    ] {
        in_each_theme(mark, edge(at(skill, 2, oriented_by(north)), LineName::of(north), Way::Ahead));
    }
    for (mark, skill) in [("c4", "baseplate-bearing"), ("c7", "oriented-bearing")] {
        let play = at(skill, 2, |_| true);
        let leg = LineName::Leg(desk(&play).problem.exercise.legs()[0]);
        in_each_theme(mark, edge(play, leg, Way::Ahead));
    }
    for (mark, skill) in [("e2", "follow-bearing"), ("e4", "back-sight")] {
        in_each_theme(mark, at(skill, 2, |_| true));
    }
}

#[test]
fn a_map_beside_how_it_should_lie_has_its_picture_in_each_theme() {
    let play = at("orient-true-line", 2, oriented_by(North::True));
    let number = wanted(&play);
    let play = boxed(edge(dial(play, -number), LineName::True, Way::Ahead), Hold::Both, false);
    in_each_theme("map_left_off", play.keys("<enter>"));
}

#[test]
fn the_status_leads_only_where_turning_is_right() {
    let leads = |play: &Play| [": →", ": ←"].iter().any(|arrow| play.text(80, 24).contains(arrow));
    let play = at("orient-true-line", 1, oriented_by(North::True));
    assert!(!leads(&play), "nothing is set yet:\n{}", play.text(80, 24));
    let number = wanted(&play);
    let play = edge(play, LineName::True, Way::Ahead);
    assert!(!leads(&play), "the dial is not set:\n{}", play.text(80, 24));
    let play = dial(play, number);
    assert_eq!(desk(&play).held, Hold::Both);
    assert!(leads(&play), "now map and compass are turned:\n{}", play.text(80, 24));
    for held in [Hold::Dial, Hold::Compass, Hold::Map] {
        let play = hold(at("orient-true-line", 1, oriented_by(North::True)), Hold::Dial);
        let play = hold(edge(dial(play, number), LineName::True, Way::Ahead), held);
        assert!(!leads(&play), "{held:?}:\n{}", play.text(80, 24));
    }
}

#[test]
fn a_hint_leaves_the_dial_its_numbers() {
    for skill in ["orient-true-line", "baseplate-bearing", "oriented-bearing"] {
        let play = at(skill, 2, |_| true);
        let before = play.text(80, 24);
        let text = play.keys("h").text(80, 24);
        assert!(text.contains("Hint"), "{text}");
        for number in ["60", "120", "240", "300"] {
            assert!(text.contains(number), "{skill}: no {number}\n{text}");
        }
        // Nor does it hide how things lie: every line of it is there still.
        let column = 44;
        let right = |line: &str| line.chars().skip(column).collect::<String>().trim().to_owned();
        let lines = before.lines().skip_while(|line| !right(line).starts_with("turning "));
        let state: Vec<String> = lines.take_while(|line| !line.contains("code ")).map(right).collect();
        let state: Vec<&String> = state.iter().filter(|line| !line.is_empty()).collect();
        assert!(state.len() >= 3, "{skill}: {state:?}\n{before}");
        assert!(state.iter().all(|line| text.contains(line.as_str())), "{skill}: {state:?}\n{text}");
    }
}

#[test]
fn a_map_that_serves_as_a_protractor_is_not_set_among_the_land() {
    let play = at("baseplate-bearing", 2, |_| true);
    let leg = LineName::Leg(desk(&play).problem.exercise.legs()[0]);
    let text = edge(play, leg, Way::Ahead).keys("<enter>111<enter>").text(80, 24);
    assert!(text.contains("as it lay") && !text.contains("what stands around you"), "{text}");
}

#[test]
fn right_work_is_checked_by_marks_only_where_marks_are_drawn() {
    for (level, marked) in [(1, false), (2, true)] {
        let play = at("orient-true-line", level, oriented_by(North::True));
        let number = wanted(&play);
        let play = boxed(edge(dial(play, number), LineName::True, Way::Ahead), Hold::Both, false).keys("<enter>");
        let text = play.text(80, 24);
        assert!(text.contains("Right."), "{text}");
        assert_eq!(text.contains("Check it as you would outdoors"), marked, "level {level}\n{text}");
    }
}

/// Both looks at a table.
fn looks(table: &TableProblem, lies: Table, done: bool) -> [Scene; 2] {
    table.picture(&Pose::at_rest(lies, table.exercise.needle()), done, |picture| {
        [picture.map_look(84.0, 60.0, 4.0), picture.compass_look(70.0, 60.0, 4.0)]
    })
}

/// How something is drawn, without its colour.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Shape {
    Line(Weight, Dash),
    /// One of two lines side by side.
    Double(Weight, Dash),
    Area(Fill, Form),
    Mark(MarkKind),
}

/// What an area is like.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Form {
    /// With more corners than four, as an arrow has.
    Arrow,
    /// Longer than a line of writing is high, five times and more.
    Band,
    Block,
}

fn form(outline: &[Point]) -> Form {
    let long = outline.iter().flat_map(|one| outline.iter().map(|other| (one.x - other.x).hypot(one.y - other.y)));
    match outline.len() {
        5.. => Form::Arrow,
        _ if long.fold(0.0, f64::max) > 20.0 => Form::Band,
        _ => Form::Block,
    }
}

/// Whether a straight line has another one of its ink beside it, near enough to be one with it and far enough to be seen.
fn has_twin(line: &Line, scene: &Scene) -> bool {
    let [from, to] = line.points[..] else { return false };
    let long = (to.x - from.x).hypot(to.y - from.y);
    let off = |at: Point| ((at.x - from.x) * (to.y - from.y) - (at.y - from.y) * (to.x - from.x)) / long;
    let beside = |other: &Line| match other.points[..] {
        [one, two] if other.ink == line.ink => {
            [one, two].iter().all(|at| (1.5..3.5).contains(&off(*at).abs())) && (off(one) - off(two)).abs() < 0.1
        }
        _ => false,
    };
    scene.items.iter().any(|item| matches!(item, SceneItem::Line(other) if beside(other)))
}

/// All shapes that are drawn with this ink in one look.
fn shapes(scene: &Scene, ink: Ink) -> Vec<Shape> {
    let shape = |item: &SceneItem| match item {
        SceneItem::Line(line) if has_twin(line, scene) => {
            (line.ink == ink).then_some(Shape::Double(line.weight, line.dash))
        }
        SceneItem::Line(line) => (line.ink == ink).then_some(Shape::Line(line.weight, line.dash)),
        SceneItem::Area(area) => (area.ink == ink).then_some(Shape::Area(area.fill, form(&area.outline))),
        SceneItem::Mark(mark) => (mark.ink == ink).then_some(Shape::Mark(mark.kind)),
        SceneItem::Label(_) => None,
    };
    scene.items.iter().filter_map(shape).collect()
}

/// What meets at the table and must be told apart in every theme.
const APART: [(Ink, Ink); 26] = [
    (Ink::Edge, Ink::TrueNorth),
    (Ink::Edge, Ink::MagneticNorth),
    (Ink::Edge, Ink::GridNorth),
    (Ink::Edge, Ink::Border),
    (Ink::Edge, Ink::Compass),
    (Ink::TrueNorth, Ink::MagneticNorth),
    (Ink::GridNorth, Ink::MagneticNorth),
    (Ink::TrueNorth, Ink::Border),
    (Ink::TrueNorth, Ink::GridNorth),
    (Ink::TrueNorth, Ink::Plate),
    (Ink::GridNorth, Ink::Border),
    (Ink::GridNorth, Ink::Plate),
    (Ink::MagneticNorth, Ink::Border),
    (Ink::MagneticNorth, Ink::Plate),
    (Ink::Border, Ink::Plate),
    (Ink::Border, Ink::Relief),
    (Ink::GridNorth, Ink::Relief),
    // Contours, streams and paths cross all over a detailed map.
    (Ink::Relief, Ink::Water),
    (Ink::Relief, Ink::Works),
    (Ink::Works, Ink::Water),
    (Ink::Works, Ink::GridNorth),
    (Ink::NeedleNorth, Ink::NeedleSouth),
    (Ink::Orienting, Ink::NeedleNorth),
    (Ink::Relief, Ink::Edge),
    // The sheet as it should lie over the sheet as it lies, and the norths of both.
    (Ink::RightLine, Ink::Border),
    (Ink::RightLine, Ink::LearnerLine),
];

#[test]
fn what_meets_at_the_table_is_told_apart_in_every_theme() {
    // All that is ruled, with the work in hand; and the map left off, beside how it should lie.
    let ruled = ["orient-magnetic-line", "orient-true-line", "orient-grid"];
    let mut scenes = Vec::new();
    for (skill, seed) in ruled.into_iter().flat_map(|skill| (0..40).map(move |seed| (skill, seed))) {
        let code = Code { skill: skills::find(skill).unwrap(), level: Level::THREE, seed, home: None };
        let Some(table) = realise(&code).unwrap().table() else { continue };
        let lies = table.exercise.start;
        scenes.extend([looks(&table, lies, false), looks(&table, lies, true)].concat());
    }
    for (one, other) in APART {
        let mut met = 0;
        for scene in &scenes {
            let (of_one, of_other) = (shapes(scene, one), shapes(scene, other));
            if of_one.is_empty() || of_other.is_empty() {
                continue;
            }
            met += 1;
            // Each has a line that the other has not, or one of them has an end mark of its own.
            let own = |of: &[Shape], beside: &[Shape]| of.iter().any(|shape| !beside.contains(shape));
            let marked = |of: &[Shape], beside: &[Shape]| {
                of.iter().any(|shape| matches!(shape, Shape::Mark(_)) && !beside.contains(shape))
            };
            assert!(
                own(&of_one, &of_other) && own(&of_other, &of_one)
                    || marked(&of_one, &of_other)
                    || marked(&of_other, &of_one),
                "{one:?} {of_one:?} and {other:?} {of_other:?} look the same without colour"
            );
        }
        assert!(met >= 10, "{one:?} and {other:?} met in {met} pictures");
        for theme in [Theme::Dark, Theme::Day, Theme::Sixteen] {
            // A true-north line is black as a border is, and has its star.
            let starred = (one, other) == (Ink::TrueNorth, Ink::Border);
            assert!(starred || theme.ink(one).fg != theme.ink(other).fg, "{theme:?}: {one:?} and {other:?}");
        }
    }
}

#[test]
fn the_name_of_the_needed_line_is_in_sight_wherever_the_compass_lies() {
    let mut looked = 0;
    for (skill, level) in [
        ("orient-magnetic-line", Level::ONE),
        ("orient-magnetic-line", Level::TWO),
        ("orient-magnetic-line", Level::FOUR),
        ("orient-true-line", Level::TWO),
        ("orient-grid", Level::THREE),
        ("baseplate-bearing", Level::TWO),
    ] {
        for seed in 0..60 {
            let code = Code { skill: skills::find(skill).unwrap(), level, seed, home: None };
            let Some(table) = realise(&code).unwrap().table() else { continue };
            let (north, name) = match table.exercise.task {
                Task::Orient(north) | Task::MapBearing { north, .. } => match north {
                    North::True => (north, "TN"),
                    North::Grid => (north, "GN"),
                    North::Magnetic => (north, "MN"),
                },
                _ => panic!("{code} needs no line"),
            };
            let laid = |way| table.exercise.start.after(Move::Edge(LineName::of(north), way), &table.exercise.lines);
            for lies in [Ok(table.exercise.start), laid(Way::Ahead), laid(Way::Back)] {
                let lies = lies.unwrap();
                let scene = table.picture(&Pose::at_rest(lies, table.exercise.needle()), false, |picture| {
                    picture.map_look(84.0, 60.0, 4.0)
                });
                let cells = CellCanvas::default().render(&scene, 42, 15);
                assert!(cells.text().contains(name), "{code}: no {name}\n{}", cells.text());
                looked += 1;
            }
        }
    }
    assert!(looked > 600, "{looked} pictures");
}

/// The learner's line in the sketch of a verdict, with what stands over the sketch.
fn yours(play: &Play) -> (Option<SketchLine>, &'static str) {
    let meaning = &screen(play).flow.told().unwrap().table.as_ref().unwrap().meaning;
    let Figure::Sketch { lines, .. } = &meaning.figure else { panic!("no sketch") };
    (lines.iter().find(|line| line.role == LineRole::Learner).cloned(), meaning.caption)
}

const ITS_LINE: &str = "you: so the map's line came to point";

#[test]
fn the_sketch_shows_where_the_line_came_to_point_by_a_reversal() {
    let right = || at("orient-true-line", 2, oriented_by(North::True));
    let number = wanted(&right());
    let laid = |way| edge(dial(right(), number), LineName::True, way);
    for (name, play) in [
        ("table_norths_south_end", boxed(laid(Way::Ahead), Hold::Both, true)),
        ("table_norths_arrow_back", boxed(laid(Way::Back), Hold::Both, false)),
    ] {
        let play = play.keys("<enter>");
        assert!(!play.text(80, 24).contains("more below"), "it fits:\n{}", play.text(80, 24));
        let (line, caption) = yours(&play);
        let line = line.expect("a line of the learner's own");
        assert!(line.at.wrapped_half().abs() >= Angle::from_degrees(178.0), "{name}: {:?}", line.at);
        assert_eq!((line.label.as_str(), caption), ("you", ITS_LINE), "{name}");
        let play = play.keys("n");
        assert!(play.text(80, 24).contains(ITS_LINE) && play.text(80, 24).contains("you"), "{}", play.text(80, 24));
        picture(name, &play);
    }
    // Two that cancel bring the line to point right, and that is said.
    let both = boxed(laid(Way::Back), Hold::Both, true).keys("<enter>");
    assert_eq!(yours(&both), (None, "two mistakes cancel: the line points right"));
    assert!(both.keys("n").text(80, 24).contains("two mistakes cancel: the line points right"));
    // Right work has nothing of its own to show.
    let play = boxed(laid(Way::Ahead), Hold::Both, false).keys("<enter>");
    assert_eq!(yours(&play), (None, "why: the norths, and the line"));
}

#[test]
fn the_sketch_shows_where_the_line_came_to_point_by_another_line_or_by_none() {
    let grid = |desk: &needlewise::tui::screens::table::Desk| {
        let lines = &desk.problem.exercise.lines;
        oriented_by(North::True)(desk) && lines.toward(LineName::Magnetic).is_some()
    };
    let play = at("orient-true-line", 2, grid);
    let (number, printed) = (wanted(&play), desk(&play).problem.exercise.printed.angle());
    let play = boxed(edge(dial(play, number), LineName::Magnetic, Way::Ahead), Hold::Both, false).keys("<enter>");
    let (line, caption) = yours(&play);
    // The magnetic line came to lie where the true one belongs, and that lies off by as much.
    let at_the_side = line.expect("a line of the learner's own").at.wrapped_half().degrees();
    assert!(at_the_side * printed.wrapped_half().degrees() < 0.0, "{at_the_side}° and the line of {printed:?}");
    assert_eq!(caption, ITS_LINE);
    picture("table_norths_other_line", &play.keys("n"));
    // Off the line by the compass alone: the map was not turned, and its line points where it pointed.
    let play = at("orient-true-line", 2, oriented_by(North::True));
    let (number, lay) = (wanted(&play), desk(&play).now.map().angle().wrapped_half());
    let play = boxed(edge(dial(play, number), LineName::True, Way::Ahead), Hold::Compass, false).keys("<enter>");
    let (line, caption) = yours(&play);
    let side = line.expect("a line of the learner's own").at.wrapped_half().degrees();
    assert!(side * lay.degrees() > 0.0 && caption == ITS_LINE, "{side}° and a map at {lay:?}: {caption}");
}

#[test]
fn the_sketch_shows_a_magnetic_line_and_a_number_that_was_read() {
    let play = at("orient-magnetic-line", 2, oriented_by(North::Magnetic));
    let play = boxed(edge(dial(play, 0.0), LineName::Magnetic, Way::Ahead), Hold::Both, true).keys("<enter>");
    assert_eq!(yours(&play).0.expect("a line").label, "you");
    assert_eq!(yours(&play).1, ITS_LINE);
    let play = at("oriented-bearing", 1, |desk| desk.problem.exercise.legs().len() == 1);
    let leg = LineName::Leg(desk(&play).problem.exercise.legs()[0]);
    let play = boxed(edge(play, leg, Way::Back), Hold::Dial, false);
    let number = desk(&play).now.dial().degrees().round();
    let play = play.keys(&format!("<enter>{number}<enter>"));
    assert_eq!(yours(&play).0.expect("a line").label, format!("you ({number:03})"));
    // Followed with the south end: the way that was gone.
    let play = at("follow-bearing", 2, |_| true);
    let number = wanted(&play);
    let play = boxed(dial(play, number), Hold::Oneself, true).keys("<enter>1<enter>");
    let at_the_end = yours(&play).0;
    assert!(at_the_end.is_some(), "{}", play.text(80, 24));
}
