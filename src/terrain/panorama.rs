//! What is seen from a place of the map: the horizon, and which landmarks stand in view.
//!
//! It follows from the map's own relief, so map and view agree. Whether a landmark is hidden decides what is asked, so it is
//! arithmetic that is exact to the bit; the horizon is only drawn.

use super::landmark::LandmarkKind;
use super::map::Map;
use super::spot::Spot;
use super::trig::sin_cos;
use crate::angle::{Angle, Bearing, True};
use crate::numbers;
use crate::numbers::{real, whole};
use std::sync::OnceLock;

/// How high one's eyes are above the ground, in m.
const EYES_M: f64 = 1.6;
/// How far apart, in mm on the paper, heights are looked at along a line of sight.
const STEP_MM: f64 = 1.0;
/// The ground so near to a landmark, in mm on the paper, belongs to it: a hill does not hide its own top.
const OWN_GROUND_MM: f64 = 1.5;
/// Nearer than this, in mm on the paper, nothing is sighted: one stands at it.
const AT_IT_MM: f64 = 2.0;

impl LandmarkKind {
    /// About how far it stands out of the ground, in m (common practice, no source).
    const fn stands_out_m(self) -> f64 {
        match self {
            LandmarkKind::Tower => 20.0,
            LandmarkKind::Chapel => 12.0,
            LandmarkKind::Farm | LandmarkKind::Ruin => 6.0,
            LandmarkKind::Hut | LandmarkKind::Bridge => 4.0,
            LandmarkKind::Cairn | LandmarkKind::Boulder => 2.5,
            LandmarkKind::Summit | LandmarkKind::Spring => 0.5,
        }
    }
}

/// A landmark that stands in view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sighted {
    /// Its place in [`Map::landmarks`].
    pub landmark: usize,
    /// Where it lies.
    pub azimuth: Bearing<True>,
    /// How far away, in m.
    pub distance_m: f64,
    /// How much its top lies above the eyes for each metre of distance; below them negative.
    pub rise: f64,
}

/// What is seen from a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Panorama {
    sighted: Vec<Sighted>,
    /// The rise of the horizon at each whole degree from true north.
    horizon: Vec<f64>,
}

impl Map {
    /// The landmarks in view from a place, clockwise from north. What a hill hides is left out, and what one stands at.
    #[must_use]
    pub fn sighted(&self, stand: Spot) -> Vec<Sighted> {
        let mut sighted: Vec<Sighted> = (0..self.landmarks().len()).filter_map(|at| self.sight(stand, at)).collect();
        numbers::arrange(&mut sighted, |one, other| one.azimuth.degrees().total_cmp(&other.azimuth.degrees()));
        sighted
    }

    /// Whether a landmark (a place in [`Map::landmarks`]) is in view from a place.
    #[must_use]
    pub fn sees(&self, stand: Spot, landmark: usize) -> bool {
        self.sight(stand, landmark).is_some()
    }

    /// A landmark as it is seen from a place, if it is.
    fn sight(&self, stand: Spot, at: usize) -> Option<Sighted> {
        let landmark = self.landmarks().get(at)?;
        let far_mm = stand.distance_mm(landmark.spot);
        if far_mm < AT_IT_MM {
            return None;
        }
        let eyes_m = self.height_m(stand) + EYES_M;
        let m_per_mm = self.ground_m(stand, landmark.spot) / far_mm;
        let top_m = self.height_m(landmark.spot) + landmark.kind.stands_out_m();
        let rise = (top_m - eyes_m) / (far_mm * m_per_mm);
        let steps = whole::<usize>(((far_mm - OWN_GROUND_MM) / STEP_MM).floor().max(0.0));
        let hidden = (1..=steps).any(|step| {
            let mm = real(step) * STEP_MM;
            let ground_m = self.height_m(stand.toward(landmark.spot, mm / far_mm));
            ground_m - eyes_m > rise * mm * m_per_mm
        });
        let azimuth = self.true_bearing(stand, landmark.spot)?;
        (!hidden).then_some(Sighted { landmark: at, azimuth, distance_m: far_mm * m_per_mm, rise })
    }

    /// All that is seen from a place.
    #[must_use]
    pub fn panorama(&self, stand: Spot) -> Panorama {
        let horizon = (0..360).map(|degrees| self.horizon(stand, Angle::from_degrees(f64::from(degrees)))).collect();
        Panorama { sighted: self.sighted(stand), horizon }
    }

    /// The steepest rise of the ground in a direction, as far as the sheet's diagonal.
    fn horizon(&self, stand: Spot, azimuth: Angle) -> f64 {
        let eyes_m = self.height_m(stand) + EYES_M;
        let way = sin_cos(azimuth);
        let reach_mm = self.spec().width_mm.hypot(self.spec().height_mm);
        let m_per_mm = 1000.0 / self.spec().scale.mm_per_km();
        // Near things are looked at closely; far away a hill is wider than the step.
        let mut mm = STEP_MM;
        let mut steepest = f64::NEG_INFINITY;
        while mm < reach_mm {
            steepest = steepest.max((self.height_m(stand.along(way, mm)) - eyes_m) / (mm * m_per_mm));
            mm *= 1.06;
        }
        steepest
    }
}

impl Panorama {
    /// The landmarks in view, clockwise from north.
    #[must_use]
    pub fn sighted(&self) -> &[Sighted] {
        &self.sighted
    }

    /// How much the horizon in a direction lies above the eyes for each metre of distance; below them negative.
    #[must_use]
    pub fn horizon(&self, azimuth: Bearing<True>) -> f64 {
        let at = azimuth.degrees();
        let (below, share) = (at.floor(), at.fract());
        let rise = |degrees: f64| self.horizon.get(whole::<usize>(degrees) % 360).copied().unwrap_or(0.0);
        rise(below) * (1.0 - share) + rise(below + 1.0) * share
    }
}

/// A place of a map with what is seen from it. The horizon, of which most who look at a problem see nothing, is worked out when
/// it is first drawn.
#[derive(Clone, Debug)]
pub struct Outlook {
    map: Map,
    stand: Spot,
    panorama: OnceLock<Panorama>,
}

/// Two outlooks are the same when they are from the same place of the same map.
impl PartialEq for Outlook {
    fn eq(&self, other: &Outlook) -> bool {
        self.map == other.map && self.stand == other.stand
    }
}

impl Outlook {
    /// What is seen from a place of a map.
    #[must_use]
    pub const fn new(map: Map, stand: Spot) -> Outlook {
        Outlook { map, stand, panorama: OnceLock::new() }
    }

    /// The map.
    #[must_use]
    pub const fn map(&self) -> &Map {
        &self.map
    }

    /// Where on it one stands.
    #[must_use]
    pub const fn stand(&self) -> Spot {
        self.stand
    }

    /// All that is seen.
    #[must_use]
    pub fn panorama(&self) -> &Panorama {
        self.panorama.get_or_init(|| self.map.panorama(self.stand))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terrain::MapSpec;

    fn maps() -> impl Iterator<Item = Map> {
        (0..40).map(|seed| Map::generate(seed, &MapSpec::default()))
    }

    #[test]
    fn a_summit_sees_more_than_the_valley() {
        let mut counts = [0, 0];
        for map in maps() {
            let summits = map.landmarks().iter().filter(|one| one.kind == LandmarkKind::Summit);
            let highest = summits.max_by_key(|one| one.height_m).expect("a summit");
            let (shore, _) = map.lake();
            counts[0] += map.sighted(highest.spot).len();
            counts[1] += map.sighted(shore[0]).len();
        }
        assert!(counts[0] > counts[1], "{counts:?}");
    }

    #[test]
    fn what_is_sighted_lies_where_the_map_says_and_not_below_ground_in_between() {
        let mut seen = 0;
        for map in maps() {
            let stand = map.middle();
            for sighted in map.sighted(stand) {
                let landmark = &map.landmarks()[sighted.landmark];
                assert_eq!(map.true_bearing(stand, landmark.spot), Some(sighted.azimuth));
                assert!((map.ground_m(stand, landmark.spot) - sighted.distance_m).abs() < 1e-6);
                // Looked at four times as closely: what peeps over by a hair aside, the ground stays below the line of sight.
                let eyes = map.height_m(stand) + EYES_M;
                let far = stand.distance_mm(landmark.spot);
                let over = |mm: f64| {
                    let ground = map.height_m(stand.toward(landmark.spot, mm / far));
                    ground - eyes - sighted.rise * sighted.distance_m * mm / far
                };
                let worst =
                    (1..200).map(f64::from).map(|part| over(part / 200.0 * (far - OWN_GROUND_MM))).fold(0.0, f64::max);
                assert!(worst < 3.0, "{worst} m");
                seen += 1;
            }
        }
        assert!(seen > 100, "{seen}");
    }

    #[test]
    fn some_landmarks_are_hidden_and_those_in_view_stand_not_far_below_the_horizon() {
        let (mut all, mut seen) = (0, 0);
        for map in maps() {
            let panorama = map.panorama(map.middle());
            all += map.landmarks().len();
            seen += panorama.sighted().len();
            for sighted in panorama.sighted() {
                assert!(sighted.rise.is_finite() && panorama.horizon(sighted.azimuth).is_finite());
            }
            assert!(panorama.sighted().is_sorted_by(|one, other| one.azimuth.degrees() <= other.azimuth.degrees()));
        }
        assert!(seen * 10 < all * 9 && seen * 4 > all, "{seen} of {all}");
    }

    #[test]
    fn the_horizon_closes_at_north() {
        let panorama = maps().next().expect("a map").panorama(Spot::new(60.0, 60.0));
        let at = |degrees| panorama.horizon(Bearing::from_degrees(degrees));
        assert!((at(359.999) - at(0.0)).abs() < 1e-3);
    }
}
