//! What is seen, in words: for plain mode and for those who cannot see the picture.

use super::amount::{LAID_WITHIN, figures, shows, size, turn, turn_to_line, turn_words, within};
use super::lines::on_the_map;
use super::seen::{Boxed, Seen};
use super::sighting::InView;
use super::table::Table;
use super::task::{Exercise, Landmark, Task};
use crate::angle::{Angle, Bearing, North, True};
use crate::numbers;
use std::fmt::Write;

/// What is seen, in sentences: where the compass lies, the number at the index line, and the needle.
#[must_use]
pub fn describe(seen: &Seen) -> String {
    let mut text = match (seen.edge, seen.on_map) {
        (Some(edge), _) => {
            let mut text = format!(
                "The edge lies along {}, the travel arrow {}",
                edge.line.words(),
                edge.line.end_words(edge.way)
            );
            if shows(edge.off) {
                let _ = write!(text, ", {} off it", size(edge.off));
            }
            text
        }
        (None, true) => "The compass lies on the map, its edge on no line".to_owned(),
        (None, false) => "The compass is in your hand".to_owned(),
    };
    let _ = write!(text, ". The dial reads {} at the index line. ", figures(seen.index));
    text.push_str(&needle_words(seen));
    text
}

fn needle_words(seen: &Seen) -> String {
    let off = seen.needle_from_box;
    match seen.boxed {
        Boxed::NorthEnd if shows(off) => {
            format!("The needle is boxed, its north end {} of the middle of the orienting arrow.", turn_words(off))
        }
        Boxed::NorthEnd => "The needle is boxed: its north end lies in the head of the orienting arrow.".to_owned(),
        Boxed::SouthEnd => "The needle's south end lies in the head of the orienting arrow.".to_owned(),
        Boxed::No => format!("The needle points {} of the orienting arrow.", turn_words(off)),
    }
}

/// How the dial's lines lie to the map's lines of this north, which the map draws so far clockwise of its true north
/// ([`Exercise::drawn`]). For the work by the map's lines alone.
#[must_use]
pub fn describe_lines(seen: &Seen, north: North, drawn: Angle) -> String {
    let off = turn(drawn, seen.dial_from_map);
    let lines = on_the_map(north);
    if shows(off) {
        format!("The dial's N points {} of the north of the map's {lines}.", turn_words(off))
    } else {
        format!("The dial's N points along the map's {lines} to their north.")
    }
}

/// The number at the index line, three figures.
#[must_use]
pub fn describe_index(seen: &Seen) -> String {
    figures(seen.index).to_string()
}

/// How near the needle lies to the orienting arrow, as one sees it close up, in a few words. Which of its ends it is, one has to
/// look for oneself.
#[must_use]
pub fn describe_needle(seen: &Seen) -> String {
    let off = turn_to_line(seen.orienting, seen.needle);
    close_up(
        off,
        ["in the orienting arrow: which end?", "with an end beside the orienting arrow,", "not in the orienting arrow"],
    )
}

/// How near the dial's lines run to the map's lines of this north, which the map draws so far clockwise of its true north.
/// Which way round, one has to look for oneself.
#[must_use]
pub fn describe_dial_lines(seen: &Seen, drawn: Angle, by: North) -> String {
    // As for the needle: where that lies to which the dial is turned, so that one turns the way that is said.
    let off = turn_to_line(seen.dial_from_map, drawn);
    // Of several sorts on the map it is said which; in few words, since a column is narrow.
    let lines = if by == North::Grid { "grid lines" } else { by.lines() };
    close_up(
        off,
        [
            &format!("along the {lines}: which way?"),
            &format!("beside the {lines}, which lie"),
            &format!("across the {lines}"),
        ],
    )
}

/// What is laid on each other, what lies side by side with the turn from one to the other, what is far apart.
fn close_up(off: Angle, [laid, beside, apart]: [&str; 3]) -> String {
    if within(off, LAID_WITHIN) {
        laid.to_owned()
    } else if within(off, BESIDE_WITHIN) {
        format!("{beside} {}", turn_words(off))
    } else {
        apart.to_owned()
    }
}

/// What lies no farther apart than this is seen side by side.
const BESIDE_WITHIN: Angle = Angle::from_degrees(12.0);

/// What lies in view, from the travel arrow on: the landmarks to choose from, or the mark at the start. None where
/// nothing is sighted.
#[must_use]
pub fn describe_view(exercise: &Exercise, table: &Table) -> Option<String> {
    let lies = |name: &str, azimuth: Bearing<True>| {
        let off = table.baseplate().turn_to(azimuth);
        if shows(off) {
            format!("{name} lies {} of the travel arrow", turn_words(off))
        } else {
            format!("{name} lies on the travel arrow")
        }
    };
    if let Task::Around(around) = &exercise.task {
        return Some(around.describe(table.map()));
    }
    let mut seen = match &exercise.task {
        Task::Follow { landmarks, .. } => {
            let mut all: Vec<&Landmark> = landmarks.iter().collect();
            let clockwise = |mark: &Landmark| table.baseplate().turn_to(mark.azimuth).wrapped().degrees();
            numbers::arrange(&mut all, |one, other| clockwise(one).total_cmp(&clockwise(other)));
            all.iter().map(|mark| lies(&mark.name, mark.azimuth)).collect::<Vec<String>>().join("; ")
        }
        Task::Take(sighting) => {
            let mut all: Vec<&InView> = sighting.marks.iter().collect();
            let clockwise = |mark: &InView| table.baseplate().turn_to(mark.azimuth).wrapped().degrees();
            numbers::arrange(&mut all, |one, other| clockwise(one).total_cmp(&clockwise(other)));
            all.iter().map(|mark| lies(&mark.name, mark.azimuth)).collect::<Vec<String>>().join("; ")
        }
        Task::BackSight { start_mark, .. } => lies("the start", *start_mark),
        Task::Orient(_)
        | Task::OrientedBearing { .. }
        | Task::MapBearing { .. }
        | Task::Around(_)
        | Task::SetDial { .. } => return None,
    };
    if let Some(first) = seen.get(..1).map(str::to_uppercase) {
        seen.replace_range(..1, &first);
    }
    seen.push('.');
    Some(seen)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::{Convergence, Declination};
    use crate::maptable::{LineName, MapLines, Move, Site, Way, see};

    fn told(moves: &[Move]) -> String {
        let (declination, convergence) = (Declination::from_degrees(-17.0), Convergence::from_degrees(10.0));
        let lines = MapLines::norths(declination, convergence);
        let start = Table::new(Bearing::from_degrees(18.0), Bearing::from_degrees(90.0), Angle::ZERO).on_map();
        let table = moves.iter().fold(start, |now, made| now.after(*made, &lines).unwrap());
        describe(&see(&table, &Site { declination, iron: Angle::ZERO }, &lines))
    }

    #[test]
    fn the_needle_is_told_from_the_orienting_arrow() {
        let edge = Move::Edge(LineName::True, Way::Ahead);
        assert_eq!(
            told(&[edge]),
            "The edge lies along the true-north line, the travel arrow toward its north end. The dial reads 000 at the \
             index line. The needle points 35° counterclockwise of the orienting arrow."
        );
        assert_eq!(
            told(&[edge, Move::TurnBoth(Angle::from_degrees(-35.0)), Move::TakeUp]),
            "The compass is in your hand. The dial reads 000 at the index line. The needle is boxed: its north end lies \
             in the head of the orienting arrow."
        );
        assert_eq!(
            told(&[Move::SetDial(Angle::from_degrees(287.0))]),
            "The compass lies on the map, its edge on no line. The dial reads 287 at the index line. The needle's south \
             end lies in the head of the orienting arrow."
        );
    }

    #[test]
    fn an_edge_a_little_off_says_so() {
        let text = told(&[Move::Edge(LineName::Grid, Way::Back), Move::TurnCompass(Angle::from_degrees(1.5))]);
        assert!(text.starts_with(
            "The edge lies along a north-south grid line, the travel arrow toward its south end, 1.5° off it."
        ));
    }

    #[test]
    fn lines_that_lie_beside_each_other_are_told_in_words_that_read() {
        let lines = MapLines::default();
        let site = Site { declination: Declination::from_degrees(0.0), iron: Angle::ZERO };
        let table = Table::new(Bearing::from_degrees(0.0), Bearing::from_degrees(0.0), Angle::ZERO);
        let told = |drawn, by| describe_dial_lines(&see(&table, &site, &lines), Angle::from_degrees(drawn), by);
        assert_eq!(told(-6.0, North::True), "beside the true-north lines, which lie 6° counterclockwise");
        assert_eq!(told(1.0, North::Grid), "along the grid lines: which way?");
        assert_eq!(told(60.0, North::Magnetic), "across the magnetic-north lines");
    }

    #[test]
    fn how_near_the_needle_is_never_tells_which_end_it_is() {
        let lines = MapLines::default();
        let site = Site { declination: Declination::from_degrees(0.0), iron: Angle::ZERO };
        let near = |azimuth: f64| {
            let table = Table::new(Bearing::from_degrees(0.0), Bearing::from_degrees(azimuth), Angle::ZERO);
            describe_needle(&see(&table, &site, &lines))
        };
        for half in [0.0, 180.0] {
            assert_eq!(near(half + 2.0), "in the orienting arrow: which end?");
            assert_eq!(near(half - 3.0), "with an end beside the orienting arrow, 3° clockwise");
            assert_eq!(near(half + 12.0), "with an end beside the orienting arrow, 12° counterclockwise");
            assert_eq!(near(half + 12.1), "not in the orienting arrow");
        }
    }
}
