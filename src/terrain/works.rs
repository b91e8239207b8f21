//! Paths between what people built, and bridges where they cross streams.
use super::draw::Draw;
use super::landmark::{APART_MM, Landmark, LandmarkKind, Sites, is_free};
use super::spot::{Spot, crossing, squared_to_line, unit};
use crate::numbers::whole;

/// A path over the sheet.
pub(super) type Path = Vec<Spot>;

const STEP_MM: f64 = 2.5;

/// The paths: each built place is joined to the nearest one before it, and two paths leave the sheet.
pub(super) fn paths(seed: u64, sites: &Sites, landmarks: &[Landmark]) -> Vec<Path> {
    let mut draw = Draw::new("paths", seed);
    let built: Vec<Spot> = landmarks
        .iter()
        .filter(|at| {
            matches!(
                at.kind,
                LandmarkKind::Hut
                    | LandmarkKind::Chapel
                    | LandmarkKind::Farm
                    | LandmarkKind::Tower
                    | LandmarkKind::Ruin
            )
        })
        .map(|at| at.spot)
        .collect();
    let mut paths = Vec::new();
    for (number, &here) in built.iter().enumerate() {
        let nearest = built[..number].iter().copied().min_by(|a, b| a.squared_mm(here).total_cmp(&b.squared_mm(here)));
        if let Some(there) = nearest {
            paths.extend(path(&mut draw, sites, landmarks, here, there));
        }
    }
    for (from, west) in built
        .first()
        .zip(built.last())
        .map_or([None, None], |(a, b)| [Some((a, true)), Some((b, false))])
        .into_iter()
        .flatten()
    {
        let north_mm = draw.tenths(10.0, sites.height_mm - 10.0);
        let side = if west { 0.0 } else { sites.width_mm };
        paths.extend(path(&mut draw, sites, landmarks, *from, Spot::new(side, north_mm)));
    }
    paths
}

/// A bent path from place to place that keeps out of the lake; of several tries the one that runs into least.
fn path(draw: &mut Draw, sites: &Sites, landmarks: &[Landmark], from: Spot, to: Spot) -> Option<Path> {
    let length = from.distance_mm(to);
    let (dx, dy) = unit(from.to(to))?;
    let first = draw.tenths(0.08, 0.2) * draw.sign();
    [first, -first, 2.2 * first, -2.2 * first]
        .into_iter()
        .map(|bend| {
            let bow = from.toward(to, 0.5).along((dy, -dx), bend * length);
            let steps: u32 = whole((length / STEP_MM).ceil().clamp(2.0, 100.0));
            let line: Path = (0..=steps)
                .map(|step| {
                    let share = f64::from(step) / f64::from(steps);
                    from.toward(bow, share).toward(bow.toward(to, share), share)
                })
                .collect();
            line
        })
        .filter(|line| {
            line.iter().all(|&at| {
                (0.0..=sites.width_mm).contains(&at.east_mm)
                    && (0.0..=sites.height_mm).contains(&at.north_mm)
                    && !sites.water.lake.holds(at)
            })
        })
        .find(|line| {
            landmarks
                .iter()
                .all(|other| other.spot == from || other.spot == to || squared_to_line(line, other.spot) >= 3.5 * 3.5)
        })
}

/// A place where a path crosses a stream, with the way the path takes there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Crossing {
    pub(super) spot: Spot,
    pub(super) way: (f64, f64),
}

/// Bridges: where a path crosses a stream and there is room for a mark. They join the landmarks; their ways are given back.
pub(super) fn bridges(sites: &Sites, paths: &[Path], landmarks: &mut Vec<Landmark>) -> Vec<Crossing> {
    let mut found = Vec::new();
    for path in paths {
        for stream in &sites.water.streams {
            for leg in path.windows(2) {
                for flow in stream.line.windows(2) {
                    // Most stretches are far apart; no leg and no step is longer than this.
                    let (east, north) = flow[0].to(leg[0]);
                    if east.abs() > 12.0 || north.abs() > 12.0 {
                        continue;
                    }
                    let Some((spot, _)) = crossing(leg[0], leg[1], flow[0], flow[1]) else { continue };
                    let Some(way) = unit(leg[0].to(leg[1])) else { continue };
                    let inner = (8.0..=sites.width_mm - 8.0).contains(&spot.east_mm)
                        && (8.0..=sites.height_mm - 8.0).contains(&spot.north_mm);
                    let dry = !sites.water.lake.holds(spot) && !sites.is_diagram(spot);
                    if inner && dry && is_free(landmarks, spot, APART_MM) && found.len() < 2 {
                        landmarks.push(sites.landmark(LandmarkKind::Bridge, spot));
                        found.push(Crossing { spot: spot.tenths(), way });
                    }
                }
            }
        }
    }
    found
}
