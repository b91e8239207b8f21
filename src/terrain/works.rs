//! Paths between what people built, bridges where they cross streams, and woods.
use super::draw::Draw;
use super::landmark::{APART_MM, Landmark, LandmarkKind, Sites, is_free};
use super::spot::{Spot, crossing, nearest_on, squared_to_line, unit};

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
            let steps = (length / STEP_MM).ceil().clamp(2.0, 100.0) as u32;
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
                    let Some((spot, _)) = crossing(leg[0], leg[1], flow[0], flow[1]) else { continue };
                    let Some(way) = unit(leg[0].to(leg[1])) else { continue };
                    let inner = (8.0..=sites.width_mm - 8.0).contains(&spot.east_mm)
                        && (8.0..=sites.height_mm - 8.0).contains(&spot.north_mm);
                    if inner && !sites.water.lake.holds(spot) && is_free(landmarks, spot, APART_MM) && found.len() < 2 {
                        landmarks.push(sites.landmark(LandmarkKind::Bridge, spot));
                        found.push(Crossing { spot: spot.tenths(), way });
                    }
                }
            }
        }
    }
    found
}

/// Woods: rounded patches on the sheet, as closed outlines (the last corner joins the first).
pub(super) fn woods(seed: u64, sites: &Sites) -> Vec<Vec<Spot>> {
    let mut draw = Draw::new("woods", seed);
    let wanted = ((sites.width_mm * sites.height_mm / 2200.0).round() as usize).clamp(3, 12);
    let mut patches: Vec<(Spot, f64)> = Vec::new();
    for _ in 0..wanted * 6 {
        let middle = Spot::new(draw.tenths(0.0, sites.width_mm), draw.tenths(0.0, sites.height_mm));
        let reach = draw.tenths(8.0, 15.0);
        let apart = patches.iter().all(|&(other, its)| other.distance_mm(middle) >= reach + its);
        if patches.len() < wanted && apart && !sites.water.lake.holds(middle) {
            patches.push((middle, reach));
        }
    }
    patches
        .into_iter()
        .map(|(middle, reach)| patch(&mut draw, middle, reach, sites))
        .filter(|one| one.len() > 2)
        .collect()
}

fn patch(draw: &mut Draw, middle: Spot, reach: f64, sites: &Sites) -> Vec<Spot> {
    let corners: Vec<Spot> =
        super::relief::EIGHT.iter().map(|&way| middle.along(way, reach * draw.tenths(0.6, 1.3))).collect();
    rounded(&rounded(&cut_to_sheet(&rounded(&corners, 0.25), sites), 0.25), 0.25)
}

/// Each corner of a closed outline cut off at a share of the sides. What lies on the border stays on it.
fn rounded(corners: &[Spot], share: f64) -> Vec<Spot> {
    corners
        .iter()
        .zip(corners.iter().cycle().skip(1))
        .flat_map(|(&a, &b)| [a.toward(b, share), a.toward(b, 1.0 - share)])
        .collect()
}

/// A closed outline cut to the sheet, side by side (after Sutherland and Hodgman).
fn cut_to_sheet(outline: &[Spot], sites: &Sites) -> Vec<Spot> {
    let depths: [&dyn Fn(Spot) -> f64; 4] =
        [&|at| at.east_mm, &|at| at.north_mm, &|at| sites.width_mm - at.east_mm, &|at| sites.height_mm - at.north_mm];
    depths.iter().fold(outline.to_vec(), |outline, depth| {
        let mut kept = Vec::with_capacity(outline.len() + 4);
        for (&a, &b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
            let (from, to) = (depth(a), depth(b));
            if from >= 0.0 {
                kept.push(a);
            }
            if (from >= 0.0) != (to >= 0.0) {
                kept.push(a.toward(b, from / (from - to)));
            }
        }
        kept
    })
}

/// Whether a place lies within a distance of any stretch of the paths, in mm.
pub(super) fn near_paths(paths: &[Path], spot: Spot, mm: f64) -> bool {
    paths.iter().any(|path| path.windows(2).any(|leg| nearest_on(leg[0], leg[1], spot).1 < mm * mm))
}
