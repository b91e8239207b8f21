//! Woods: patches with sparse trees in them.
use super::draw::Draw;
use super::lake::Lake;
use super::spec::MapSpec;
use super::spot::{Spot, inside};
use crate::numbers::whole;

/// Woods: rounded patches on the sheet, as closed outlines (the last corner joins the first).
pub(super) fn patches(seed: u64, sheet: &MapSpec, lake: &Lake) -> Vec<Vec<Spot>> {
    let mut draw = Draw::new("woods", seed);
    let wanted = whole::<usize>((sheet.width_mm * sheet.height_mm / 2200.0).round()).clamp(3, 12);
    let mut patches: Vec<(Spot, f64)> = Vec::new();
    for _ in 0..wanted * 6 {
        let middle = Spot::new(draw.tenths(0.0, sheet.width_mm), draw.tenths(0.0, sheet.height_mm));
        let reach = draw.tenths(8.0, 15.0);
        let apart = patches.iter().all(|&(other, its)| other.distance_mm(middle) >= reach + its);
        if patches.len() < wanted && apart && !lake.holds(middle) {
            patches.push((middle, reach));
        }
    }
    patches
        .into_iter()
        .map(|(middle, reach)| patch(&mut draw, middle, reach, sheet))
        .filter(|one| one.len() > 2)
        .collect()
}

fn patch(draw: &mut Draw, middle: Spot, reach: f64, sheet: &MapSpec) -> Vec<Spot> {
    let corners: Vec<Spot> =
        super::relief::EIGHT.iter().map(|&way| middle.along(way, reach * draw.tenths(0.6, 1.3))).collect();
    rounded(&rounded(&cut_to_sheet(&rounded(&corners, 0.25), sheet), 0.25), 0.25)
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
fn cut_to_sheet(outline: &[Spot], sheet: &MapSpec) -> Vec<Spot> {
    let depths: [&dyn Fn(Spot) -> f64; 4] =
        [&|at| at.east_mm, &|at| at.north_mm, &|at| sheet.width_mm - at.east_mm, &|at| sheet.height_mm - at.north_mm];
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

/// How far apart the trees that stand for woods are, in mm.
const TREES_MM: f64 = 6.0;

/// Sparse places in woods: what tells them without colour.
pub(super) fn trees(sheet: &MapSpec, woods: &[Vec<Spot>], lake: &Lake) -> Vec<Spot> {
    let count = |mm: f64| whole::<u32>(mm / TREES_MM);
    let mut trees = Vec::new();
    for patch in woods {
        let span = |of: fn(&Spot) -> f64| {
            let all = || patch.iter().map(of);
            (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max))
        };
        let (east, north) = (span(|at| at.east_mm), span(|at| at.north_mm));
        for row in 0..count(sheet.height_mm) {
            let north_mm = (f64::from(row) + 0.5) * TREES_MM;
            if !(north.0..=north.1).contains(&north_mm) {
                continue;
            }
            let shift = if row % 2 == 0 { 0.25 } else { 0.75 };
            for col in 0..count(sheet.width_mm) {
                let spot = Spot::new((f64::from(col) + shift) * TREES_MM, north_mm);
                if (east.0..=east.1).contains(&spot.east_mm) && inside(patch, spot) && !lake.holds(spot) {
                    trees.push(spot);
                }
            }
        }
    }
    trees
}
