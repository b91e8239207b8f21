//! A place of an invented map with marks in view: where one stands when a bearing is taken, or a mark is walked to.

use super::super::common::Tenths;
use super::apart;
use crate::angle::{Bearing, True};
use crate::maptable::InView;
use crate::numbers;
use crate::problem::Draw;
use crate::terrain::{Map, MapSpec, Outlook, Sighted};
use std::sync::Arc;

/// Nearer than this, in m, a mark is no landmark to take a bearing to.
const FAR_ENOUGH_M: f64 = 250.0;
/// So many maps are looked at for a place with marks as far asunder as wished; after each the wish is a degree smaller.
const MAPS: i32 = 60;

/// A landmark of a map that one stands at, and what is seen from there.
pub(in crate::skills) struct Stand {
    /// The place on its map.
    pub outlook: Arc<Outlook>,
    /// The name of the landmark that one stands at.
    pub at: String,
    /// Marks in view, in no order.
    pub marks: Vec<InView>,
}

impl Stand {
    /// A place with so many marks in view, any two of them `asunder` tenths of a degree or more where a map has that.
    pub fn draw(count: usize, asunder: Tenths, draw: &mut Draw) -> Stand {
        let mut best: Option<Stand> = None;
        for tried in 0..MAPS {
            let map = Map::generate(u64::from(draw.below(u32::MAX)), &MapSpec::default());
            let mut stands: Vec<usize> = (0..map.landmarks().len()).collect();
            draw.shuffle(&mut stands);
            for at in stands {
                let marks = in_view(&map, at, count, asunder - tried * 10, draw);
                if marks.len() > best.as_ref().map_or(0, |best| best.marks.len()) {
                    let (spot, name) = (map.landmarks()[at].spot, map.landmarks()[at].name.clone());
                    let full = marks.len() == count;
                    best = Some(Stand { outlook: Arc::new(Outlook::new(map.clone(), spot)), at: name, marks });
                    if full {
                        break;
                    }
                }
            }
            if best.as_ref().is_some_and(|best| best.marks.len() == count) {
                break;
            }
        }
        best.unwrap_or_else(|| {
            let map = Map::generate(0, &MapSpec::default());
            let middle = map.middle();
            Stand { outlook: Arc::new(Outlook::new(map, middle)), at: String::new(), marks: Vec::new() }
        })
    }
}

/// At most `count` of the landmarks in view from another, far enough away and asunder.
fn in_view(map: &Map, at: usize, count: usize, asunder: Tenths, draw: &mut Draw) -> Vec<InView> {
    let stand = map.landmarks()[at].spot;
    // Whether a hill hides something takes long to find out: first it is seen whether there are marks enough at all.
    let mut all: Vec<Tenths> =
        map.landmarks().iter().filter_map(|it| Some(map.true_bearing(stand, it.spot)?.angle().tenths())).collect();
    numbers::arrange(&mut all, Ord::cmp);
    if picked(&all, 0, asunder).len() + 1 < count {
        return Vec::new();
    }
    let mut sighted = map.sighted(stand);
    sighted.retain(|sight| sight.distance_m >= FAR_ENOUGH_M);
    if sighted.len() < count {
        return Vec::new();
    }
    let whole = |sight: &Sighted| Bearing::<True>::from_degrees(sight.azimuth.degrees().round());
    let azimuths: Vec<Tenths> = sighted.iter().map(|sight| whole(sight).angle().tenths()).collect();
    let from = usize::try_from(draw.between(0, i32::MAX)).unwrap_or(0) % sighted.len();
    let mut picked = picked(&azimuths, from, asunder);
    draw.shuffle(&mut picked);
    picked.truncate(count);
    let mark = |at: usize| {
        let sight = &sighted[at];
        let landmark = &map.landmarks()[sight.landmark];
        let (azimuth, distance_m, rise) = (whole(sight), sight.distance_m, sight.rise);
        InView { name: landmark.name.clone(), kind: landmark.kind, azimuth, distance_m, rise }
    };
    picked.into_iter().map(mark).collect()
}

/// Of directions in their order round the circle as many as can be had that lie asunder, beginning with one of them.
fn picked(azimuths: &[Tenths], from: usize, asunder: Tenths) -> Vec<usize> {
    let mut picked: Vec<usize> = Vec::new();
    for at in (from..azimuths.len()).chain(0..from) {
        if picked.iter().all(|other| apart(azimuths[*other], azimuths[at], asunder)) {
            picked.push(at);
        }
    }
    picked
}
