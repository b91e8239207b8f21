//! What is in view from a place of a map: the horizon of its relief, and its landmarks where they lie. Heights are drawn larger than
//! they are, as eyes see them; how large a mark is drawn tells how near it is.

use super::Picture;
use super::view::{TO_EITHER_SIDE, travel_arrow};
use crate::angle::{Angle, Bearing, True};
use crate::maptable::{Around, Feature, InView, LaidBy, Sighting};
use crate::numbers;
use crate::numbers::{real, whole};
use crate::scene::{Area, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};
use crate::terrain::{LandmarkKind, Panorama};

/// What is told to the whole degree lies no farther off.
const HALF_A_DEGREE: Angle = Angle::from_degrees(0.6);
/// How much larger heights are drawn than widths.
const HEIGHTENED: f64 = 1.6;
/// A landmark so far away, in m, is drawn as large as a line of writing; nearer ones larger, farther ones smaller.
const AS_WRITING_M: f64 = 900.0;

/// Where heights and directions come to stand in a panel.
struct Panel {
    width_mm: f64,
    mm_per_degree: f64,
    /// The height level with the eyes: room for rows of names above it, and for a compass below.
    level_mm: f64,
    highest_mm: f64,
    lowest_mm: f64,
}

impl Panel {
    fn new((width_mm, height_mm): (f64, f64), text_mm: f64) -> Panel {
        Panel {
            width_mm,
            mm_per_degree: width_mm / (2.0 * TO_EITHER_SIDE),
            level_mm: height_mm * 0.66,
            highest_mm: text_mm * 3.0,
            lowest_mm: height_mm * 0.9,
        }
    }

    fn x(&self, off: f64) -> f64 {
        self.width_mm / 2.0 + off * self.mm_per_degree
    }

    /// Where the middle of a name stands: at the sides shifted inward, or it would have no room and be left out.
    fn name_x(&self, off: f64, name: &str, text_mm: f64) -> f64 {
        // A character is half as wide as it is high.
        let half = real(name.chars().count()) * text_mm / 4.0 + text_mm * 0.25;
        self.x(off).min(self.width_mm - half).max(half)
    }

    fn y(&self, rise: f64) -> f64 {
        let y = self.level_mm - rise.atan().to_degrees() * self.mm_per_degree * HEIGHTENED;
        y.max(self.highest_mm).min(self.lowest_mm)
    }

    /// The horizon to both sides of a heading.
    fn horizon(&self, panorama: &Panorama, heading: Bearing<True>, scene: &mut Scene) {
        let steps: u32 = whole(self.width_mm / 1.5);
        let points = (0..=steps)
            .map(|step| {
                let off = (f64::from(step) / f64::from(steps.max(1)) * 2.0 - 1.0) * TO_EITHER_SIDE;
                let rise = panorama.horizon(Bearing::from_degrees(heading.degrees() + off));
                Point::new(self.x(off), self.y(rise))
            })
            .collect();
        scene.add(Line::through(points, Ink::Relief));
    }

    /// A landmark, if it is in view, with its name in a row of names.
    fn mark(&self, mark: &Seen<'_>, heading: Bearing<True>, (row, text_mm): (f64, f64), scene: &mut Scene) {
        let off = heading.turn_to(mark.azimuth).degrees();
        if off.abs() > TO_EITHER_SIDE {
            return;
        }
        let size = (text_mm * AS_WRITING_M / mark.distance_m).clamp(text_mm * 0.5, text_mm * 1.6);
        let top = Point::new(self.x(off), self.y(mark.rise));
        stands(mark.kind, top, size, scene);
        let name = Point::new(self.name_x(off, mark.name, text_mm), text_mm * row);
        scene.add(Line::straight(name.moved(0.0, text_mm * 0.6), top, Ink::Works));
        scene.add(Label::new(mark.name, name, Ink::Text).strong().priority(Priority::High));
    }
}

/// A landmark as it is seen.
struct Seen<'a> {
    name: &'a str,
    kind: LandmarkKind,
    azimuth: Bearing<True>,
    distance_m: f64,
    rise: f64,
}

/// The row of the name at this place among so many, in lines of writing: neighbours have different ones, whichever way one looks, and
/// of an odd number the last has a row of its own.
fn row(at: usize, of: usize) -> f64 {
    if at + 1 == of && at.is_multiple_of(2) { 2.4 } else { 0.6 + 0.9 * f64::from(at % 2 == 1) }
}

/// What is seen along the travel arrow, where a bearing is taken.
pub(super) fn draw(picture: &Picture<'_>, sighting: &Sighting, size: (f64, f64), text_mm: f64, scene: &mut Scene) {
    let (heading, panel) = (picture.table.baseplate(), Panel::new(size, text_mm));
    panel.horizon(sighting.outlook.panorama(), heading, scene);
    travel_arrow(Point::new(panel.x(0.0), panel.lowest_mm), size.1, text_mm, scene);
    let mut marks: Vec<&InView> = sighting.marks.iter().collect();
    numbers::arrange(&mut marks, |one, other| one.azimuth.degrees().total_cmp(&other.azimuth.degrees()));
    for (at, mark) in marks.iter().enumerate() {
        let InView { kind, azimuth, distance_m, rise, .. } = **mark;
        let seen = Seen { name: &mark.name, kind, azimuth, distance_m, rise };
        panel.mark(&seen, heading, (row(at, marks.len()), text_mm), scene);
    }
}

/// What is seen straight ahead, where a map is laid by what stands around.
pub(super) fn ahead(around: &Around, size: (f64, f64), text_mm: f64, scene: &mut Scene) {
    let (heading, panel) = (around.facing, Panel::new(size, text_mm));
    let panorama = around.outlook.panorama();
    panel.horizon(panorama, heading, scene);
    let (named, line) = match &around.by {
        LaidBy::Marks(marks) => (marks.to_vec(), None),
        LaidBy::Line { line, beside } => (vec![beside.clone()], Some(line)),
    };
    let landmarks = around.outlook.map().landmarks();
    let seen: Vec<Seen<'_>> = (panorama.sighted().iter())
        .filter_map(|sight| {
            // To the whole degree, as the features are told.
            let near = |feature: &&Feature| feature.azimuth.turn_to(sight.azimuth).abs() <= HALF_A_DEGREE;
            let name = named.iter().find(near)?.name.as_str();
            let kind = landmarks.get(sight.landmark)?.kind;
            Some(Seen { name, kind, azimuth: sight.azimuth, distance_m: sight.distance_m, rise: sight.rise })
        })
        .collect();
    for (at, mark) in seen.iter().enumerate() {
        panel.mark(mark, heading, (row(at, 2), text_mm), scene);
    }
    // Where a line feature runs away from one, on the ground before the horizon.
    for azimuth in line.iter().flat_map(|line| [line.azimuth, line.azimuth.back()]) {
        let off = heading.turn_to(azimuth).degrees();
        if off.abs() <= TO_EITHER_SIDE {
            let far = Point::new(panel.x(off), panel.y(panorama.horizon(azimuth)));
            let near = Point::new(panel.x(off), panel.lowest_mm);
            scene.add(Line::straight(near, far, Ink::Works).bold());
            let name = line.map_or("", |line| line.name.as_str());
            let at = Point::new(panel.name_x(off, name, text_mm), panel.lowest_mm + text_mm * 0.7);
            scene.add(Label::new(name, at, Ink::Text).strong().priority(Priority::High));
        }
    }
}

/// A landmark as it stands against the land, its top here.
fn stands(kind: LandmarkKind, top: Point, size: f64, scene: &mut Scene) {
    let (half, ink) = (size / 2.0, Ink::Works);
    let block = |wide: f64, high: f64| {
        let (left, right) = (top.moved(-wide, 0.0), top.moved(wide, 0.0));
        Area::solid(vec![left, right, right.moved(0.0, high), left.moved(0.0, high)], ink)
    };
    match kind {
        LandmarkKind::Tower => scene.add(block(half * 0.4, size * 1.5)),
        LandmarkKind::Chapel => {
            // A steeple, and the nave beside it.
            let (eaves, floor) = (top.moved(0.0, size * 0.6), top.moved(0.0, size * 1.2));
            let nave = vec![eaves, eaves.moved(half * 1.6, 0.0), floor.moved(half * 1.6, 0.0), floor];
            scene.add(block(half * 0.3, size * 1.2)).add(Area::solid(nave, ink))
        }
        LandmarkKind::Hut | LandmarkKind::Farm | LandmarkKind::Ruin => scene.add(block(half, size * 0.7)),
        LandmarkKind::Cairn | LandmarkKind::Boulder => scene.add(Mark::new(MarkKind::Triangle, top, size * 0.8, ink)),
        LandmarkKind::Summit | LandmarkKind::Spring | LandmarkKind::Bridge => {
            scene.add(Mark::new(MarkKind::Spot, top, size * 0.6, ink))
        }
    };
}
