//! Pages to cut up: a compass of paper whose dial can be set, and bearing cards for games.

use crate::angle::{Angle, three_figures};
use crate::paper::{Document, Head, Piece, Printed, Sheet, Style};
use crate::problem::TEXT_MM;
use crate::scene::{Align, Area, Colour, Direction, Ink, Label, Line, Point, Scene, circle};
use crate::session::SAFETY;

/// The radius of the dial, and of the window in the baseplate that it lies on, in mm.
const DIAL_MM: f64 = 34.0;
/// How wide and how high the baseplate is, in mm.
const PLATE_MM: (f64, f64) = (84.0, 150.0);
/// How far below the upper edge of the plate the middle of the dial lies, in mm.
const MIDDLE_MM: f64 = 95.0;
/// How long the needle is from its middle to a tip, and how wide at its middle, in mm.
const NEEDLE_MM: (f64, f64) = (22.0, 6.0);
/// Cards on a page: side by side, and one below the other.
const CARDS: (u16, u16) = (4, 9);

/// The compass of paper, and 36 bearing cards.
#[must_use]
pub fn printed_cutouts(sheet: Sheet) -> Printed {
    let mut document = Document::new(sheet, "To cut out", SAFETY);
    let head = |left: &str| Head { left: left.to_owned(), right: "to cut out".to_owned() };
    document.section(head("A compass of paper"));
    let width_mm = sheet.text_width_mm();
    let how = "Cut out plate, dial and needle, and pin them together at their middles, the dial on the plate and the needle on the dial. The needle points where you hold it: it shows how a dial is set and a needle boxed, and finds no north.";
    document.add(Piece::paragraph(how, Style::TEXT, width_mm));
    document.gap(4.0);
    let beside = PLATE_MM.0 + 4.0;
    let drawn = |scene: Scene| Piece::figure(scene, TEXT_MM);
    let (dial, plate, needle) = (drawn(dial()), drawn(plate()), drawn(needle()));
    if beside + dial.width_mm <= width_mm {
        let below = dial.height_mm + 6.0;
        let aside = beside + (dial.width_mm - needle.width_mm) / 2.0;
        document.add(plate.with(beside, 0.0, dial).with(aside, below, needle));
    } else {
        document.add(plate.with(beside, 0.0, needle));
        document.gap(4.0);
        document.add(dial);
    }
    document.section(head("Bearing cards"));
    document.add(cards(sheet));
    document.print()
}

fn degrees(number: u16) -> Direction {
    Direction::from_degrees_clockwise_from_up(f64::from(number))
}

/// The dial: a tick every 2°, a number every 20°, the orienting arrow and its lines.
fn dial() -> Scene {
    let side = 2.0 * DIAL_MM + 2.0;
    let mut scene = Scene::new(side, side);
    let centre = scene.centre();
    scene.add(Line::through(circle(centre, DIAL_MM), Ink::Text));
    for number in (0..360).step_by(2) {
        let at = degrees(number);
        let long = if number % 20 == 0 {
            5.0
        } else if number % 10 == 0 {
            4.0
        } else {
            2.5
        };
        let tick = Line::straight(centre.along(at, DIAL_MM - long), centre.along(at, DIAL_MM), Ink::Text);
        scene.add(if number % 20 == 0 { tick.bold() } else { tick });
        let named = match number {
            0 => Some("N".to_owned()),
            90 => Some("E".to_owned()),
            180 => Some("S".to_owned()),
            270 => Some("W".to_owned()),
            number if number % 20 == 0 => Some(number.to_string()),
            _ => None,
        };
        if let Some(text) = named {
            scene.add(Label::new(text, centre.along(at, DIAL_MM - 8.5), Ink::Text).strong());
        }
    }
    // The orienting arrow points to N, its lines run beside it.
    let reach = DIAL_MM - 12.0;
    for aside in [-15.0, -11.0, 11.0, 15.0_f64] {
        let half = (reach * reach - aside * aside).max(0.0).sqrt();
        scene.add(Line::straight(centre.moved(aside, half), centre.moved(aside, -half), Ink::Orienting));
    }
    let outline = [
        (-4.5, reach),
        (-4.5, 8.0 - reach),
        (-8.0, 8.0 - reach),
        (0.0, -reach),
        (8.0, 8.0 - reach),
        (4.5, 8.0 - reach),
        (4.5, reach),
    ];
    scene.add(Line::through(outline.map(|(x, y)| centre.moved(x, y)).to_vec(), Ink::Orienting).bold());
    pin(centre, &mut scene);
    scene
}

/// Where the pin goes through.
fn pin(at: Point, scene: &mut Scene) {
    scene.add(Line::straight(at.moved(-2.0, 0.0), at.moved(2.0, 0.0), Ink::Text));
    scene.add(Line::straight(at.moved(0.0, -2.0), at.moved(0.0, 2.0), Ink::Text));
}

/// The baseplate with the index line and the travel arrow.
fn plate() -> Scene {
    let (wide, high) = PLATE_MM;
    let mut scene = Scene::new(wide, high);
    let corners = [(0.2, 0.2), (wide - 0.2, 0.2), (wide - 0.2, high - 0.2), (0.2, high - 0.2), (0.2, 0.2)];
    scene.add(Line::through(corners.map(|(x, y)| Point::new(x, y)).to_vec(), Ink::Text));
    let middle = Point::new(wide / 2.0, MIDDLE_MM);
    scene.add(Line::through(circle(middle, DIAL_MM), Ink::Faint));
    let rim = MIDDLE_MM - DIAL_MM;
    scene.add(Line::straight(Point::new(middle.x, rim), Point::new(middle.x, 14.0), Ink::Compass).bold());
    let head = [(0.0, 4.0), (-6.0, 16.0), (6.0, 16.0)];
    scene.add(Area::solid(head.map(|(x, y)| Point::new(middle.x + x, y)).to_vec(), Ink::Compass));
    let label = |text: &str, y: f64| Label::new(text, Point::new(middle.x + 4.0, y), Ink::Text).align(Align::Left);
    scene.add(label("travel arrow", 24.0));
    scene.add(label("index line", rim - 5.0));
    pin(middle, &mut scene);
    scene
}

/// The needle: its north half filled, its south half an outline.
fn needle() -> Scene {
    let (long, wide) = NEEDLE_MM;
    let mut scene = Scene::new(wide + 3.0, 2.0 * long + 2.0);
    let middle = scene.centre();
    let half =
        |way: f64| vec![middle.moved(-wide / 2.0, 0.0), middle.moved(0.0, way * long), middle.moved(wide / 2.0, 0.0)];
    scene.add(Area::dense(half(-1.0), Ink::NeedleNorth));
    let mut south = half(1.0);
    south.extend(south.first().copied());
    scene.add(Line::through(south, Ink::NeedleSouth));
    scene
}

/// Cards with the bearings of every 10°.
fn cards(sheet: Sheet) -> Piece {
    let (across, down) = CARDS;
    let (wide, high) =
        (sheet.text_width_mm() / f64::from(across), (sheet.text_height_mm() - 2.0).min(252.0) / f64::from(down));
    let style = Style { size_mm: 11.0, strong: true, colour: Colour::TEXT };
    let mut page = Piece::blank(0.0);
    for number in 0..across * down {
        let (left, top) = (f64::from(number % across) * wide, f64::from(number / across) * high);
        let text = format!("{}°", three_figures(Angle::from_degrees(f64::from(number) * 10.0), 0));
        let text = Piece::line(text, style);
        let (x, y) = (left + (wide - text.width_mm) / 2.0, top + (high - text.height_mm) / 2.0);
        page = page.with(x, y, text);
    }
    for column in 0..=across {
        let x = f64::from(column) * wide;
        page = page.rule(Point::new(x, 0.0), Point::new(x, high * f64::from(down)), 0.15, Colour::QUIET);
    }
    for row in 0..=down {
        let y = f64::from(row) * high;
        page = page.rule(Point::new(0.0, y), Point::new(wide * f64::from(across), y), 0.15, Colour::QUIET);
    }
    page
}
