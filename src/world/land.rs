//! The outlines of land.

use std::sync::OnceLock;

/// Ring, longitude and latitude in degrees, line by line; the first line says where they are from.
const OUTLINES: &str = include_str!("coast.csv");

/// The outlines, each a closed ring of longitude and latitude in degrees.
pub(super) fn rings() -> &'static [Vec<(f64, f64)>] {
    static RINGS: OnceLock<Vec<Vec<(f64, f64)>>> = OnceLock::new();
    RINGS.get_or_init(|| {
        let mut rings: Vec<Vec<(f64, f64)>> = Vec::new();
        for line in OUTLINES.lines().skip(2) {
            let mut parts = line.split(',');
            let ring = parts.next().and_then(|ring| ring.parse::<usize>().ok());
            let (east, north) = (parts.next().and_then(number), parts.next().and_then(number));
            if let (Some(ring), Some(east), Some(north)) = (ring, east, north) {
                if ring >= rings.len() {
                    rings.push(Vec::new());
                }
                if let Some(last) = rings.last_mut() {
                    last.push((east, north));
                }
            }
        }
        rings
    })
}

fn number(text: &str) -> Option<f64> {
    text.trim().parse().ok()
}
