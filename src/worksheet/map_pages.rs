//! An invented map on pages: the map itself, its tasks, and the key.

use super::ground::{LETTERS, Leg, PracticeMap, Spread, by_ruler, middle};
use super::{pieces::table, sentence};
use crate::angle::{Angle, Bearing, Magnetic, North, declination_words, three_figures};
use crate::ground::GridReference;
use crate::paper::{Document, Head, Piece, Printed, Style};
use crate::problem::{Figure, TEXT_MM, capital};
use crate::scene::{Colour, Ink, Label, Point, Priority, Rect, Scene};
use crate::session::{SAFETY, prongs};
use crate::terrain::MapView;

/// How far the letter of a mark stands from it, in mm.
const LETTER_MM: f64 = 7.0;
/// How long the bar is that tells whether the printer printed at full size, in mm.
const BAR_MM: f64 = 100.0;
/// Between two tasks, in mm.
const BETWEEN_MM: f64 = 6.0;
const INDENT_MM: f64 = 8.0;
const RULE_MM: f64 = 26.0;
/// What is said above all.
const CARE: &str = "Lay the map on wood, two metres from this laptop, phones, knives and steel. Measure the bar below the map first: only when it is 100 mm long, the scale is right.";

/// The map, its tasks and its key.
#[must_use]
pub fn printed_map(map: &PracticeMap) -> Printed {
    let title = format!("Map {}", map.wish.seed);
    let mut document = Document::new(map.wish.sheet, title, SAFETY).for_printer(map.wish.bar_mm);
    let right = format!("{}, declination {}, {}", map.wish.spread.scale(), map.wish.declination, map.wish.day);
    let head = |left: String| Head { left, right: right.clone() };
    document.section(head(format!("Map {}", map.wish.seed)));
    let (scene, view) = drawn(map);
    if map.wish.spread == Spread::One {
        document.add(Piece::figure(scene, TEXT_MM).above(1.0, collar(map, &view)));
    } else {
        poster(map, scene, &view, &mut document);
    }
    document.section(head(format!("Tasks for map {}", map.wish.seed)));
    tasks(map, &mut document);
    document.section(head(format!("Key for map {}", map.wish.seed)));
    key(map, &mut document);
    document.print()
}

/// The map as a scene, and how it is looked at.
fn drawn(map: &PracticeMap) -> (Scene, MapView) {
    let (wide, high) = (map.map.spec().width_mm + 2.5 * TEXT_MM, map.map.spec().height_mm + 2.5 * TEXT_MM);
    let mut view = MapView::whole(&map.map, wide, high).asking(map.lost.marks);
    for (from, to) in [(0, 1), (1, 2), (2, 0)] {
        view = view.with_leg(map.marks[from], map.marks[to]);
    }
    let places = letters(&view, map);
    view.keep_clear = places.iter().map(|at| Rect::new(at.x - 3.5, at.y - 3.5, 7.0, 7.0)).collect();
    let mut scene = map.map.scene(&view);
    for (letter, at) in LETTERS.into_iter().zip(places) {
        scene.add(Label::new(letter, at, Ink::LearnerLine).strong().priority(Priority::High));
    }
    (scene, view)
}

/// The map over several sheets, each as large as the map on one, and a sheet with its collar.
fn poster(map: &PracticeMap, scene: Scene, view: &MapView, document: &mut Document) {
    let times = map.wish.spread.times();
    let (wide, high) = (scene.width_mm / f64::from(times), scene.height_mm / f64::from(times));
    for row in 0..times {
        for column in 0..times {
            let corner = Point::new(f64::from(column) * wide, f64::from(row) * high);
            let part = Rect { corner, width: wide, height: high };
            let tile = Piece::enlarged(scene.clone(), TEXT_MM, f64::from(times), part);
            let (right, foot) = (tile.width_mm, tile.height_mm);
            let corners = [(0.0, 0.0), (right, 0.0), (right, foot), (0.0, foot), (0.0, 0.0)];
            let edges = corners.windows(2).map(|pair| (pair[0], pair[1]));
            let tile = edges.fold(tile, |tile, (from, to)| {
                tile.rule(Point::new(from.0, from.1), Point::new(to.0, to.1), 0.1, Colour::QUIET)
            });
            let place = format!(
                "Row {} of {times}, column {} of {times}: cut along the thin line and glue.",
                row + 1,
                column + 1
            );
            document.add(tile.above(1.5, Piece::line(place, Style::SMALL)).above(1.5, bar(map)));
            document.page();
        }
    }
    document.add(collar(map, &MapView { zoom: f64::from(times), ..view.clone() }));
}

/// Where the letters of the marks stand: away from the middle of the three.
fn letters(view: &MapView, map: &PracticeMap) -> [Point; 3] {
    let spots = map.marks.map(|mark| map.map.landmarks()[mark].spot);
    let away = view.point(middle(spots));
    spots.map(|spot| {
        let at = view.point(spot);
        let (x, y) = (at.x - away.x, at.y - away.y);
        let far = x.hypot(y).max(1.0);
        at.moved(x / far * LETTER_MM, y / far * LETTER_MM)
    })
}

fn collar(map: &PracticeMap, view: &MapView) -> Piece {
    let width_mm = map.wish.sheet.text_width_mm();
    let small = Style::SMALL.dark();
    let column_mm = width_mm - 44.0 - 6.0;
    let norths = Figure::Prongs(prongs(Some(map.wish.declination), Some(map.wish.convergence)));
    let diagram = norths.scene(44.0, 36.0).unwrap_or_else(|| Scene::new(44.0, 36.0));
    let lines: Vec<&str> = map.wish.lines.iter().map(|north| north.lines()).collect();
    // A poster shows what one sheet shows, only larger.
    let interval_m = map.map.contour_interval_m(&MapView { zoom: 1.0, ..view.clone() });
    let about = format!(
        "{}, contour lines every {} m. Lines on this map: {}; its side borders run to true north.",
        map.wish.spread.scale(),
        interval_m,
        lines.join(", ")
    );
    let mut text = Piece::line(format!("Invented ground, map {}", map.wish.seed), Style::TEXT.strong());
    text = text.above(0.5, Piece::paragraph(&about, small, column_mm));
    text = text.above(0.5, Piece::paragraph(&norths_words(map), small, column_mm));
    text = text.above(0.5, Piece::paragraph(&map.wish.source, small, column_mm));
    let scale = map.map.scale_bar(view, column_mm);
    let left = text.above(1.0, Piece::figure(scale, TEXT_MM));
    let left = left.with(column_mm + 6.0, 0.0, Piece::figure(diagram, TEXT_MM));
    left.above(1.5, bar(map))
}

/// `Declination 9°36′ W, grid convergence 1°10′ W, G-M angle 8°26′ W.`
fn norths_words(map: &PracticeMap) -> String {
    format!(
        "Declination {}, grid convergence {}, G-M angle {}. The diagram is not to scale.",
        map.wish.declination,
        map.wish.convergence,
        declination_words(map.grid_magnetic().angle())
    )
}

/// The bar that tells whether the printer kept the size.
fn bar(map: &PracticeMap) -> Piece {
    const SAID: &str = "100 mm: measure it. If it is not, print at 100 %, without fitting to the page; or print this map again with --bar and the mm you measured.";
    let room_mm = map.wish.sheet.text_width_mm() - BAR_MM - 5.0;
    let mut bar = Piece::blank(3.0).with(BAR_MM + 5.0, 0.0, Piece::paragraph(SAID, Style::SMALL, room_mm));
    bar = bar.rule(Point::new(0.0, 4.0), Point::new(BAR_MM, 4.0), 0.4, Colour::TEXT);
    for number in 0..=10_u8 {
        let (x, high) = (f64::from(number) * BAR_MM / 10.0, if number % 5 == 0 { 2.0 } else { 1.0 });
        bar = bar.rule(Point::new(x, 4.0 - high), Point::new(x, 4.0), 0.2, Colour::TEXT);
    }
    bar
}

/// A task: its number, what it is called, what is to be done, and where the answers go.
fn task(number: usize, title: &str, text: &str, answers: &[String], width_mm: f64) -> Piece {
    let column_mm = width_mm - INDENT_MM;
    let mut body = Piece::line(title, Style::TEXT.strong());
    body = body.above(0.6, Piece::paragraph(text, Style::TEXT, column_mm));
    // Short answers stand two in a row.
    let half_mm = (column_mm - 6.0) / 2.0;
    let short = |label: &String| Style::TEXT.width_mm(label) + RULE_MM + 3.0 <= half_mm;
    let mut rest = answers;
    while let [first, more @ ..] = rest {
        let one = |label: &String, room_mm: f64| Piece::answer(label, Style::TEXT, room_mm, RULE_MM);
        body = match more {
            [second, after @ ..] if short(first) && short(second) => {
                rest = after;
                body.above(0.0, one(first, half_mm).with(half_mm + 6.0, 0.0, one(second, half_mm)))
            }
            _ => {
                rest = more;
                body.above(0.0, one(first, column_mm))
            }
        };
    }
    Piece::line(number.to_string(), Style::TEXT.strong()).with(INDENT_MM, 0.0, body)
}

fn from_to(leg: &Leg) -> String {
    format!("{} to {}", leg.letters[0], leg.letters[1])
}

fn named(map: &PracticeMap, mark: usize) -> String {
    let landmark = &map.map.landmarks()[mark];
    format!("the {} {}", landmark.kind.word(), landmark.name)
}

fn tasks(map: &PracticeMap, document: &mut Document) {
    let width_mm = map.wish.sheet.text_width_mm();
    document.add(Piece::line("With map and compass", Style::TITLE));
    document.gap(1.0);
    document.add(Piece::paragraph(CARE, Style::SMALL, width_mm));
    document.gap(BETWEEN_MM * 0.7);
    let mut number = 0;
    let mut add = |title: &str, text: &str, answers: &[String]| {
        number += 1;
        document.add(task(number, title, text, answers, width_mm));
        document.gap(BETWEEN_MM);
    };
    let lines = &map.wish.lines;
    let orient: Vec<String> = lines.iter().map(|north| format!("Dial, by the {}:", north.lines())).collect();
    add(
        "Orient the map",
        "Set the dial, lay the edge along a line of the map with the travel arrow toward the map's north, and turn map and compass as one until the needle is boxed. Which number must the dial show?",
        &orient,
    );
    let by_needle: Vec<String> = map.legs.iter().map(|leg| format!("{}, magnetic:", from_to(leg))).collect();
    add(
        "Bearings by the needle",
        "The map stays oriented and does not move. Lay the edge from the first mark to the second, the travel arrow toward the second, turn the dial until the needle is boxed, and read.",
        &by_needle,
    );
    let by_lines: Vec<String> = lines
        .iter()
        .flat_map(|north| map.legs.iter().map(move |leg| format!("{}, {}:", from_to(leg), north.word())))
        .collect();
    add(
        "Bearings by the map's lines",
        "Now the map may lie anywhere, and the needle plays no part. Lay the edge along the leg, turn the dial until its lines run along the map's lines, the dial's N toward the map's north, and read.",
        &by_lines,
    );
    let [one, two] = map.lost.marks.map(|mark| named(map, mark));
    let read = map.lost.read.map(|bearing| bearing.to_string());
    let mut found = vec!["From the west border, mm:".to_owned(), "From the south border, mm:".to_owned()];
    if lines.contains(&North::Grid) {
        found.push("Grid reference of 8 figures:".to_owned());
    }
    let text = format!(
        "You stand somewhere on this map. Your compass reads {} toward {one} and {} toward {two}. Draw both lines and mark where you are.",
        read[0], read[1]
    );
    add("Where am I?", &text, &found);
    let detour = map.detour;
    let side = if detour.right { "right" } else { "left" };
    let text = format!(
        "You walk from P to Q. After {} m a bog lies across your way. You go round it on the {side}, square to your line: {} m aside, {} m along, and back to the line. What do you set for each side, and how far is it then to Q?",
        detour.before_m, detour.aside_m, detour.along_m
    );
    let sides = ["Aside:", "Along:", "Back to the line:", "Left to Q, in metres:"].map(str::to_owned);
    add("Round a bog", &text, &sides);
}

fn key(map: &PracticeMap, document: &mut Document) {
    let width_mm = map.wish.sheet.text_width_mm();
    let small = Style::SMALL.dark();
    let mut say = |title: &str, pieces: Vec<Piece>| {
        let head = Piece::line(title, Style::TEXT.strong());
        document.add(head.above(0.8, Piece::stack(pieces, 0.8)));
        document.gap(BETWEEN_MM);
    };
    let text = |words: &str| Piece::paragraph(words, small, width_mm);
    say(
        &format!("Key for map {}", map.wish.seed),
        vec![
            text(
                "By the paper, to a tenth of a degree. With a real compass three degrees are as near as hand and edge come; the line of a bearing may pass a mark by 2 mm.",
            ),
            text(&norths_words(map)),
        ],
    );
    say("1  Orient the map: the dial", vec![orienting(map)]);
    say("2 and 3  The legs", vec![legs(map)]);
    say(
        "What a mix-up reads where the compass is set from the map",
        vec![
            mixups(map),
            text("Right is the magnetic bearing. Wrong end: the travel arrow or the needle the other way round."),
        ],
    );
    let (east, north) = by_ruler(map.lost.at, map.wish.spread);
    let mut place = format!("{east} mm from the west border, {north} mm from the south border");
    let position = map.lost.position;
    let reference = GridReference::of_metres(None, position.easting_m, position.northing_m, 8);
    if let Some(reference) = reference.filter(|_| map.wish.lines.contains(&North::Grid)) {
        let figures = reference.to_string();
        let (east, north) = figures.split_at(figures.len() / 2);
        place = format!("{place}; grid reference {east} {north}");
    }
    let lines: Vec<String> = map
        .lost
        .marks
        .into_iter()
        .zip(map.lost.read)
        .map(|(mark, read)| {
            let back = read.back();
            format!(
                "Toward {} the compass reads {read}, so one stands on the line that comes back from it on {back}.",
                named(map, mark)
            )
        })
        .collect();
    say("4  Where am I?", vec![text(&sentence(&place)), text(&lines.join(" "))]);
    let sides = map.detour.sides(map.legs[0].magnetic).map(|side| format!("{side:.1}"));
    let left = (map.detour.left_m(map.legs[0].ground_m) / 5.0).round() * 5.0;
    let words = format!(
        "Aside {}, along {}, back {}; then {left} m are left to Q. Only what runs along the line brings one nearer.",
        sides[0], sides[1], sides[2]
    );
    say("5  Round a bog", vec![text(&words)]);
}

fn degrees(angle: Angle, north: North) -> String {
    format!("{}° {}", three_figures(angle, 1), north.letter())
}

fn dial(angle: Angle) -> String {
    three_figures(angle, 1).to_string()
}

fn orienting(map: &PracticeMap) -> Piece {
    let head = ["Lines", "right", "correction forgotten", "the wrong way", "south end boxed"].map(str::to_owned);
    let rows: Vec<Vec<String>> = map
        .wish
        .lines
        .iter()
        .map(|north| {
            let right = map.orienting(*north);
            let (forgotten, other) = match north {
                North::Magnetic => ("nothing to correct".to_owned(), String::new()),
                North::True | North::Grid => (dial(Angle::ZERO), dial((-right).wrapped())),
            };
            vec![capital(north.lines()), dial(right), forgotten, other, "the map lies upside down".to_owned()]
        })
        .collect();
    table(&[42.0, 20.0, 38.0, 30.0, 40.0], &head, &rows)
}

fn legs(map: &PracticeMap) -> Piece {
    let head = ["Leg", "true", "grid", "magnetic", "back, magnetic", "paper", "ground"].map(str::to_owned);
    let rows: Vec<Vec<String>> = map
        .legs
        .iter()
        .map(|leg| {
            vec![
                from_to(leg),
                degrees(leg.by_true.angle(), North::True),
                degrees(leg.by_grid.angle(), North::Grid),
                degrees(leg.magnetic.angle(), North::Magnetic),
                degrees(leg.magnetic.back().angle(), North::Magnetic),
                format!("{:.1} mm", leg.paper_mm),
                format!("{:.0} m", (leg.ground_m / 5.0).round() * 5.0),
            ]
        })
        .collect();
    table(&[20.0, 24.0, 24.0, 24.0, 30.0, 22.0, 22.0], &head, &rows)
}

/// What comes of each mix-up, for the lines that this map has.
fn mixups(map: &PracticeMap) -> Piece {
    let mut head = vec!["Leg".to_owned(), "right".to_owned(), "wrong end".to_owned()];
    let mut columns = vec![16.0, 18.0, 18.0];
    for north in &map.wish.lines {
        let ways: &[&str] = match north {
            North::Magnetic => &["magnetic lines, corrected though they need none"],
            North::True => &["true lines, forgotten", "the wrong way", "twice"],
            North::Grid => &["grid lines, forgotten", "the wrong way", "twice"],
        };
        head.extend(ways.iter().map(|way| capital(way)));
        columns.extend(ways.iter().map(|_| if ways.len() == 1 { 26.0 } else { 16.0 }));
    }
    let rows: Vec<Vec<String>> = map
        .legs
        .iter()
        .map(|leg| {
            let mut row = vec![from_to(leg)];
            row.extend(read_wrongly(map, leg).into_iter().map(|read| degrees(read.angle(), North::Magnetic)));
            row
        })
        .collect();
    table(&columns, &head, &rows)
}

/// The right magnetic bearing, its opposite, and what is set on the compass by each wrong correction, lines after lines.
fn read_wrongly(map: &PracticeMap, leg: &Leg) -> Vec<Bearing<Magnetic>> {
    let mut read = vec![leg.magnetic, leg.magnetic.back()];
    for north in &map.wish.lines {
        let past = map.correction(*north);
        let off = |turns: i32| Bearing::from_angle((leg.by(*north) + past * turns).wrapped());
        match north {
            North::Magnetic => {
                read.push(Bearing::from_angle((leg.magnetic.angle() - map.correction(North::True)).wrapped()))
            }
            North::True | North::Grid => read.extend([off(0), off(1), off(-2)]),
        }
    }
    read
}
